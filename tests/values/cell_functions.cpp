// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>
#include <map>

#include "model/cell.h"
#include "model/lco_cell.h"
#include "model/tremblay.h"
#include "tests/values/registry.h"

namespace {

using namespace ww::model;
using namespace ww::values;

CellSource<double> source_of(const Given& g) {
  return {.emf_V = g("emf_V"), .resistance_ohm = g("resistance_ohm")};
}

CellResistance<double> resistance_of(const Given& g) {
  return {.middle_25C_ohm = g("middle_ohm"),
          .empty_factor = g.or_else("empty_factor", resistance_end_factor),
          .full_factor = g.or_else("full_factor", resistance_end_factor)};
}

/// The discharge of the published LCO cell, stepped with the exact pair steps, elements taken at
/// the middle of each step. Ends at 3.0 V or at the last state of charge of the fit.
struct Discharge {
  double end_s = NAN, end_soc = NAN, end_V = NAN, energy_Wh = 0;
  std::map<long, double> voltage_V;  // at whole seconds
};

double lco_voltage_V(double soc, double quick_V, double slow_V, double current_A) {
  return lco_ocv_V(soc) - lco_series_ohm(soc) * current_A - quick_V - slow_V;
}

/// One exact step of both pairs, the elements taken at the middle of the step.
struct Polarised {
  double quick_V = 0, slow_V = 0;
};
Polarised polarised_after(const Polarised& p, double current_A, double soc_middle, double step_s) {
  return {rc_voltage_next_V(rc_step(lco_quick_pair(soc_middle), step_s), p.quick_V, current_A),
          rc_voltage_next_V(rc_step(lco_slow_pair(soc_middle), step_s), p.slow_V, current_A)};
}

Discharge lco_discharge(double current_A) {
  constexpr long steps_per_s = 20;
  constexpr double floor_V = 3.0;
  constexpr double floor_soc = 0.02;
  const double soc_per_s = current_A / lco_cell_charge_C;
  const double last_s = (1 - floor_soc) / soc_per_s;
  Discharge d;
  Polarised p;
  double t = 0;
  double v = lco_voltage_V(1, 0, 0, current_A);
  for (long i = 1; t < last_s; ++i) {
    const double t_next = std::min(static_cast<double>(i) / steps_per_s, last_s);
    const double middle = 1 - soc_per_s * (t + t_next) / 2;
    p = polarised_after(p, current_A, middle, t_next - t);
    const double s_next = std::max(1 - soc_per_s * t_next, floor_soc);
    const double v_next = lco_voltage_V(s_next, p.quick_V, p.slow_V, current_A);
    const double part = v_next < floor_V ? (v - floor_V) / (v - v_next) : 1;
    d.end_s = t + part * (t_next - t);
    d.end_soc = 1 - soc_per_s * d.end_s;
    d.end_V = v + part * (v_next - v);
    d.energy_Wh += (v + d.end_V) / 2 * current_A * (d.end_s - t) / 3600;
    if (part < 1) break;
    if (i % steps_per_s == 0) d.voltage_V[i / steps_per_s] = v_next;
    t = t_next;
    v = v_next;
  }
  return d;
}

const Discharge& discharge_of(const Given& g) {
  static std::map<double, Discharge> done;
  const double current_A = g("current_A");
  const auto at = done.find(current_A);
  return at != done.end() ? at->second : done[current_A] = lco_discharge(current_A);
}

const Topic circuit(
    "model/cell.h",
    {{"current_at_power_A",
      [](const Given& g) { return current_at_power_A(source_of(g), g("power_W")); }},
     {"voltage_at_power_V",
      [](const Given& g) {
        const auto source = source_of(g);
        return terminal_voltage_V(source, current_at_power_A(source, g("power_W")));
      }},
     {"loss_at_power_W",
      [](const Given& g) {
        const auto source = source_of(g);
        const double I = current_at_power_A(source, g("power_W"));
        return cell_heat_W<double>({.current_A = I,
                                    .overpotential_V = source.emf_V - terminal_voltage_V(source, I),
                                    .temperature_K = 298.15,
                                    .entropy_V_per_K = 0});
      }},
     {"power_max_W", [](const Given& g) { return power_max_W(source_of(g), g("floor_V")); }},
     {"source_efficiency",
      [](const Given& g) { return source_efficiency(source_of(g), g("power_W")); }},
     {"pulse_voltage_V",
      [](const Given& g) {
        const TheveninCell<double> cell{
            .source = source_of(g),
            .pairs = {{{.resistance_ohm = g("pair1_ohm"), .capacitance_F = g("pair1_F")},
                       {.resistance_ohm = g("pair2_ohm"), .capacitance_F = g("pair2_F")}}}};
        return pulse_voltage_V(cell, g("current_A"), g("time_s"));
      }},
     {"resistance_temperature_factor",
      [](const Given& g) {
        return resistance_temperature_factor(g("activation_J_per_mol"),
                                             g("temperature_C") + 273.15);
      }},
     {"resistance_ohm",
      [](const Given& g) {
        return resistance_ohm(resistance_of(g), g("temperature_factor"), g("soc"));
      }},
     {"cell_heat_W",
      [](const Given& g) {
        return cell_heat_W<double>({.current_A = g("current_A"),
                                    .overpotential_V = g("overpotential_V"),
                                    .temperature_K = g("temperature_K"),
                                    .entropy_V_per_K = g("entropy_V_per_K")});
      }},
     {"charge_current_limit_A",
      [](const Given& g) {
        return charge_current_limit_A(source_of(g), g("voltage_max_V"), g("accepted_A"));
      }},
     {"entropy_nmc_V_per_K", [](const Given& g) { return entropy_nmc_V_per_K(g("soc")); }}});

const Topic lco("model/lco_cell.h",
                {{"lco_series_ohm", [](const Given& g) { return lco_series_ohm(g("soc")); }},
                 {"lco_quick_time_s",
                  [](const Given& g) {
                    const auto pair = lco_quick_pair(g("soc"));
                    return pair.resistance_ohm * pair.capacitance_F;
                  }},
                 {"lco_slow_time_s",
                  [](const Given& g) {
                    const auto pair = lco_slow_pair(g("soc"));
                    return pair.resistance_ohm * pair.capacitance_F;
                  }},
                 {"lco_discharge_V",
                  [](const Given& g) {
                    return discharge_of(g).voltage_V.at(static_cast<long>(g("time_s")));
                  }},
                 {"lco_discharge_end_s", [](const Given& g) { return discharge_of(g).end_s; }},
                 {"lco_discharge_end_soc", [](const Given& g) { return discharge_of(g).end_soc; }},
                 {"lco_discharge_end_V", [](const Given& g) { return discharge_of(g).end_V; }},
                 {"lco_discharge_Wh", [](const Given& g) { return discharge_of(g).energy_Wh; }}});

const Topic tremblay("model/tremblay.h", {{"tremblay_discharge_V", [](const Given& g) {
                                             const double I = g("current_A");
                                             return tremblay_discharge_V<double>(
                                                 tremblay_lfp_cell<double>(),
                                                 {.removed = g("removed_Ah") / 2.3,
                                                  .current_A = I,
                                                  .current_filtered_A = I});
                                           }}});

}  // namespace
