// SPDX-License-Identifier: MIT
#include "model/ageing.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "model/ocv_tables.h"

namespace ww::model {
namespace {

constexpr double none = std::numeric_limits<double>::quiet_NaN();
constexpr double room_K = 298.15;
constexpr double day_s = 86400;

bool within(double x, double low, double high) {
  return x >= low && x <= high;
}
/// The temperatures the fits are trusted over: -20 to 60 C.
bool mild(double temperature_K) {
  return within(temperature_K, 253.15, 333.15);
}
double cube(double x) {
  return x * x * x;
}

/// Naumann's exp[-(E/R)(1/T - 1/298.15)] with the paper's own gas constant.
double naumann_warmth(double activation_J_per_mol, double temperature_K) {
  return std::exp(-activation_J_per_mol / 8.3144598 * (1 / temperature_K - 1 / room_K));
}

/// The window of state of charge that the usual ride sweeps.
struct Swing {
  double top;
  double bottom;
};
Swing swing(const AgeingUse& use) {
  const double top = std::max(use.soc_storage, use.depth);
  return {top, top - use.depth};
}

/// The mean voltage of the ride's window; at no depth the voltage itself.
double mean_voltage_V(const OcvRamps<double>& curve, const AgeingUse& use) {
  const Swing s = swing(use);
  return s.top - s.bottom > 1e-9 ? ocv_mean_V(curve, s.bottom, s.top) : ocv_V(curve, s.top);
}

struct Histories {
  PowerLawHistory calendar;
  PowerLawHistory cycle;
  double resistance_rise = 0;             // of laws linear in time or throughput
  PowerLawHistory calendar_resistance{};  // of laws that are not
};

Ageing result(const Histories& h) {
  const double calendar = history_loss(h.calendar);
  const double cycle = history_loss(h.cycle);
  const double rise = std::max(0.0, h.resistance_rise + history_loss(h.calendar_resistance));
  const double left = 1 - calendar - cycle;
  return {.calendar_loss = calendar,
          .cycle_loss = cycle,
          .capacity_left = std::isnan(left) ? none : std::max(0.0, left),
          .resistance_factor = std::isnan(h.resistance_rise) ? none : 1 + rise};
}

Ageing aged_lfp(std::span<const AgeingUse> phases) {
  Histories h{.calendar = {.exponent = 0.5},
              .cycle = {.exponent = 0.5},
              .calendar_resistance = {.exponent = 1}};
  for (const auto& use : phases) {
    h.calendar = carried_on(h.calendar, naumann_calendar_rate(use.soc_storage, use.temperature_K),
                            use.duration_s);
    h.cycle = carried_on(h.cycle, naumann_cycle_rate(use.rate_per_h, use.depth), use.full_cycles);
    h.resistance_rise +=
        naumann_calendar_resistance_rate(use.soc_storage, use.temperature_K) * use.duration_s +
        naumann_cycle_resistance_rate(use.rate_per_h, use.depth) * use.full_cycles;
  }
  return result(h);
}

Ageing aged_nmc(std::span<const AgeingUse> phases) {
  const auto curve = ocv_ramps(ocv_points(OcvCurve::nmc111));
  Histories h{.calendar = {.exponent = 0.75},
              .cycle = {.exponent = 0.5},
              .calendar_resistance = {.exponent = 0.75}};
  for (const auto& use : phases) {
    const double stored_V = ocv_V(curve, use.soc_storage);
    const double mean_V = mean_voltage_V(curve, use);
    const double days = use.duration_s / day_s;
    const double throughput_Ah = use.full_cycles * 2 * schmalstieg_cell_Ah;
    h.calendar =
        carried_on(h.calendar, schmalstieg_calendar_rate(stored_V, use.temperature_K), days);
    h.cycle = carried_on(h.cycle, schmalstieg_cycle_rate(mean_V, use.depth), throughput_Ah);
    h.calendar_resistance =
        carried_on(h.calendar_resistance,
                   schmalstieg_calendar_resistance_rate(stored_V, use.temperature_K), days);
    h.resistance_rise += schmalstieg_cycle_resistance_rate(mean_V, use.depth) * throughput_Ah;
  }
  return result(h);
}

Ageing aged_nca(std::span<const AgeingUse> phases) {
  Histories h{.calendar = {.exponent = 0.512},
              .cycle = {.exponent = 0.699},
              .resistance_rise = none,
              .calendar_resistance = {.exponent = 1}};
  for (const auto& use : phases) {
    h.calendar = carried_on(h.calendar, nca_calendar_rate(use.soc_storage, use.temperature_K),
                            use.duration_s / day_s);
    h.cycle = carried_on(h.cycle, nca_cycle_rate(use.depth), use.full_cycles);
  }
  return result(h);
}

Ageing aged_lto(std::span<const AgeingUse> phases) {
  Histories h{.calendar = {.exponent = 1},
              .cycle = {.exponent = 0.526},
              .resistance_rise = none,
              .calendar_resistance = {.exponent = 1}};
  for (const auto& use : phases) {
    h.cycle = carried_on(h.cycle, lto_cycle_rate(use.rate_per_h, use.depth, use.temperature_K),
                         use.full_cycles);
  }
  return result(h);
}

/// A use that no fit can speak of.
bool sensible(const AgeingUse& use) {
  return use.duration_s >= 0 && use.full_cycles >= 0 && within(use.depth, 0, 1) &&
         within(use.soc_storage, 0, 1) && mild(use.temperature_K);
}

}  // namespace

PowerLawHistory carried_on(PowerLawHistory history, double rate, double use) {
  history.sum += std::pow(rate, 1 / history.exponent) * use;
  return history;
}

double history_loss(const PowerLawHistory& history) {
  return std::pow(history.sum, history.exponent);
}

double wang_prefactor(double rate_per_h) {
  const double c = rate_per_h;
  if (!within(c, 0.5, 10)) return none;
  return ((-47.836 * c + 1214.955) * c - 9418.914) * c + 36041.6979;
}

double wang_rate(double rate_per_h, double temperature_K) {
  constexpr double gas_constant_paper = 8.314;
  if (!within(temperature_K, 273, 333.15)) return none;
  return wang_prefactor(rate_per_h) *
         std::exp(-(31700 - 370.3 * rate_per_h) / (gas_constant_paper * temperature_K));
}

double wang_loss(const WangUse& use) {
  const double reference_Ah = 2 * use.discharged_C / use.charge_C;
  return wang_rate(use.rate_per_h, use.temperature_K) / 100 * std::pow(reference_Ah, 0.55);
}

double wang_charge_until_C(const WangUse& use, double loss) {
  const double k = wang_rate(use.rate_per_h, use.temperature_K) / 100;
  const double reference_Ah = std::pow(loss / k, 1 / 0.55);
  return reference_Ah * use.charge_C / 2;
}

double naumann_calendar_rate(double soc, double temperature_K) {
  if (!within(soc, 0, 1) || !mild(temperature_K)) return none;
  return 1.2571e-5 * naumann_warmth(17126, temperature_K) * (2.8575 * cube(soc - 0.5) + 0.60225);
}

double naumann_calendar_resistance_rate(double soc, double temperature_K) {
  if (!within(soc, 0, 1) || !mild(temperature_K)) return none;
  const double off = soc - 0.5;
  return 3.4194e-10 * naumann_warmth(71827, temperature_K) * (1.5604 - 3.3903 * off * off);
}

double naumann_cycle_rate(double rate_per_h, double depth) {
  if (!within(depth, 0, 1) || !(rate_per_h > 0) || rate_per_h > 2) return none;
  return (0.0630 * rate_per_h + 0.0971) * (4.0253 * cube(depth - 0.6) + 1.0923) / 100;
}

double naumann_cycle_resistance_rate(double rate_per_h, double depth) {
  if (!within(depth, 0, 1) || !(rate_per_h > 0) || rate_per_h > 2) return none;
  const double slope = std::max(0.0, 0.0021 - 0.0020 * rate_per_h);
  return slope * (6.8477 * cube(depth - 0.5) + 0.91882) / 100;
}

double schmalstieg_calendar_rate(double voltage_V, double temperature_K) {
  if (!within(voltage_V, 3.149, 4.2) || !mild(temperature_K)) return none;
  return (7.543 * voltage_V - 23.75) * 1e6 * std::exp(-6976 / temperature_K);
}

double schmalstieg_calendar_resistance_rate(double voltage_V, double temperature_K) {
  if (!within(voltage_V, 3.097, 4.2) || !mild(temperature_K)) return none;
  return (5.270 * voltage_V - 16.32) * 1e5 * std::exp(-5986 / temperature_K);
}

double schmalstieg_cycle_rate(double voltage_mean_V, double depth) {
  if (!within(voltage_mean_V, 3.0, 4.2) || !within(depth, 0, 1)) return none;
  const double off = voltage_mean_V - 3.667;
  return 7.348e-3 * off * off + 7.6e-4 + 4.081e-3 * depth;
}

double schmalstieg_cycle_resistance_rate(double voltage_mean_V, double depth) {
  if (!within(voltage_mean_V, 3.0, 4.2) || !within(depth, 0, 1)) return none;
  const double off = voltage_mean_V - 3.725;
  return 2.153e-4 * off * off - 1.521e-5 + 2.798e-4 * depth;
}

double nca_calendar_rate(double soc, double temperature_K) {
  if (!within(soc, 0, 1) || !mild(temperature_K)) return none;
  return 75.4 * std::exp(-3340 / temperature_K) * std::exp(353 * soc / temperature_K);
}

double nca_cycle_rate(double depth) {
  if (!within(depth, 0, 1)) return none;
  return 2 * (1.86e-6 + 1.77e-4 * depth);
}

double lto_cycle_rate(double rate_per_h, double depth, double temperature_K) {
  if (!within(depth, 0, 1) || !(rate_per_h > 0) || rate_per_h > 10 || !mild(temperature_K)) {
    return none;
  }
  const double warmth = std::exp(-8.33 * 318.15 / temperature_K);
  return (1.29 + 7.83e-5 * rate_per_h + 4.02 * cube(depth)) * warmth;
}

double full_cycles(double distance_m, double consumption_Jpm, double energy_full_J) {
  return distance_m * consumption_Jpm / energy_full_J;
}

Ageing aged(Chemistry chemistry, std::span<const AgeingUse> phases) {
  constexpr Ageing no_model{none, none, none, none};
  if (!std::all_of(phases.begin(), phases.end(), sensible)) return no_model;
  switch (chemistry) {
    case Chemistry::lfp:
      return aged_lfp(phases);
    case Chemistry::nmc:
      return aged_nmc(phases);
    case Chemistry::nca:
      return aged_nca(phases);
    case Chemistry::lto:
      return aged_lto(phases);
    case Chemistry::lco:
    case Chemistry::sodium:
    case Chemistry::lead:
    case Chemistry::unknown:
      break;
  }
  return no_model;
}

double capacity_left(Chemistry chemistry, const AgeingUse& use) {
  return aged(chemistry, std::span(&use, 1)).capacity_left;
}

std::string_view ageing_source(Chemistry chemistry) {
  switch (chemistry) {
    case Chemistry::lfp:
      return "Naumann et al. 2018 and 2020, one 3 Ah cell";
    case Chemistry::nmc:
      return "Schmalstieg et al. 2014, one 2.05 Ah cell";
    case Chemistry::nca:
      return "NREL fit of Keil and Preger data, one 18650 cell";
    case Chemistry::lto:
      return "fit of Bank 2020, one 10 Ah cell, cycling only";
    case Chemistry::lco:
    case Chemistry::sodium:
    case Chemistry::lead:
    case Chemistry::unknown:
      break;
  }
  return "no published model here";
}

}  // namespace ww::model
