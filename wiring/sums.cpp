// SPDX-License-Identifier: MIT
#include "wiring/sums.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "figure/units.h"
#include "model/contactor.h"
#include "model/converter.h"
#include "model/fuse.h"
#include "model/precharge.h"
#include "model/short_circuit.h"
#include "wiring/conductor.h"
#include "wiring/currents.h"
#include "wiring/fuses.h"

namespace ww::wiring {

namespace {

using figure::Kind;
constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
/// A pair of cables side by side, per metre of pair: common practice, no source.
constexpr double inductance_Hpm = 0.8e-6;

std::string shown(double value, Kind kind) {
  return std::isnan(value) ? "?" : figure::print(value, kind);
}

PackSource pack_source(Readings& s, std::string_view volts, double cell_K) {
  return {.voltage_unit_V = s.need(volts),
          .series = s.need("pack.series"),
          .parallel = s.need("pack.parallel"),
          .resistance_unit_ohm = s.need("cell.resistance"),
          .link_ohm = s.ask("pack.link_resistance"),
          .outside_ohm = s.ask("pack.loop_resistance"),
          .cell_K = cell_K,
          .activation_kJpmol = s.ask("assumed.cell_activation")};
}

void say_what_if(StartSums& out, double peak_power_W) {
  out.if_relay_sticks =
      "The controller's side stays live with the key off, through the resistor, at full voltage. A "
      "short there then makes " +
      shown(out.stuck_W, Kind::power) + " of heat in a resistor made for " +
      shown(peak_power_W, Kind::power) + " until its fuse or the resistor gives way.";
  out.if_load_hangs = "Half an ampere on the bus holds it " +
                      shown(out.drop_per_half_ampere_V, Kind::voltage) +
                      " below the pack for ever: the contactor never closes, or a timer closes it "
                      "into the rush.";
  out.if_open =
      "An open resistor or a blown fuse leaves the bus empty: a timer alone then closes "
      "the contactor into " +
      shown(out.closing_empty_A, Kind::current) + ". Let what closes it look at the bus voltage.";
  out.caution =
      "The resistor makes the controller's side live without the contactor's click. After "
      "switching "
      "off wait, measure below 10 V, then touch. A contactor closed by hand onto an empty bus "
      "arcs and welds.";
}

}  // namespace

StartSums start_sums(Readings& s) {
  StartSums out{};
  out.voltage_V = s.need("pack.series") * s.need("cell.voltage_max");
  out.resistance_ohm = s.need("precharge.resistance");
  out.capacitance_F = s.need("controller.capacitance");
  out.load_A = s.or_else("wiring.bus_load_at_precharge", 0);
  const model::Precharge<double> p{out.voltage_V, out.resistance_ohm, out.capacitance_F,
                                   out.load_A};
  out.constant_s = model::precharge_constant_s(p);
  out.time_95_s = model::precharge_time_s(p, 0.95);
  out.timer_s = s.need("precharge.time");
  out.timer_least_s = 1.2 * out.time_95_s;
  out.final_V = model::precharge_final_V(p);
  out.bus_V = model::precharge_voltage_V(p, out.timer_s);
  const PackSource full = pack_source(s, "cell.voltage_max", 298.15);
  const double loop_ohm = pack_ohm(full) + full.outside_ohm;
  out.closing_A = model::contactor_make_A<double>({out.voltage_V, out.bus_V, loop_ohm});
  out.closing_empty_A = model::contactor_make_A<double>({out.voltage_V, 0, loop_ohm});
  out.first_A = model::precharge_current_A(p, 0.0);
  out.first_W = model::precharge_power_W(p, 0.0);
  out.energy_J = model::capacitor_energy_J(out.capacitance_F, out.voltage_V);
  out.stuck_W = out.first_W;
  out.stuck_J = out.stuck_W * s.ask("precharge.time_out");
  out.drop_per_half_ampere_V = 0.5 * out.resistance_ohm;
  out.bleed_s = s.ask("wiring.bleed_time");
  say_what_if(out, s.ask("precharge.power"));
  return out;
}

SupplySums supply_sums(Readings& s, const Circuit& circuit, const Sizing& sizing) {
  SupplySums out{};
  out.loads = loads_12V(s);
  out.riding_W = riding_12V_W(s);
  out.converter_A = s.need("dcdc.current_out");
  out.converter_W = out.converter_A * s.need("dcdc.voltage_out");
  out.worst_A = worst_12V_A(s);
  out.buffer_A = s.ask("buffer.current_max");
  out.hold_s = model::buffer_hold_s<double>({.charge_C = s.ask("buffer.capacity"),
                                             .share_usable = 0.5,
                                             .voltage_V = s.ask("buffer.voltage")},
                                            out.riding_W);
  out.supply_V = supply_under_load_V(supply_V(s), out.worst_A, out.converter_A, s.has("buffer"));
  double loss = 0;
  for (const SizedWire& wire : sizing.wires) {
    const Carries carries = circuit.wires[static_cast<std::size_t>(wire.wire)].carries;
    const bool common = carries == (s.has("buffer") ? Carries::buffer : Carries::converter_out);
    if (common) loss += wire.resistance_ohm * out.worst_A;
    if (carries == Carries::loop) loss += wire.drop_V;
  }
  out.loss_V = loss;
  out.coil_V = out.supply_V - loss;
  out.pull_in_V = s.ask("contactor.pull_in_voltage");
  return out;
}

ContactorSums contactor_sums(Readings& s, const Circuit& circuit, const Sizing& sizing) {
  ContactorSums out{};
  const Wire* into = circuit.wire("T3");
  const SizedWire* wire =
      into == nullptr ? nullptr : sizing.wire(static_cast<int>(into - circuit.wires.data()));
  out.carry_A =
      contactor_carry_A(s.need("contactor.current_carry"), s.ask("contactor.cable_section_assumed"),
                        wire == nullptr ? unknown : wire->section_m2);
  out.rms_A = wire == nullptr ? unknown : wire->duty.rms_A;
  out.make_A = s.need("contactor.current_make");
  out.closing_A = start_sums(s).closing_A;
  out.break_A = s.need("contactor.current_break");
  out.fault_A = strongest_short_A(pack_source(s, "cell.voltage_max", 298.15));
  out.withstand_A2s = s.need("contactor.withstand");
  out.through_A2s = s.need("fuse.clearing_i2t");
  const SupplySums supply = supply_sums(s, circuit, sizing);
  out.coil_V = supply.coil_V;
  out.pull_in_V = supply.pull_in_V;
  out.heat_W =
      model::contactor_heat_W(s.ask("contactor.resistance"), out.rms_A,
                              s.ask("contactor.coil_voltage") * s.ask("contactor.hold_current"));
  return out;
}

std::vector<Fault> faults(Readings& s, const Circuit& circuit, const Sizing& sizing) {
  const double loop_m = s.need("wiring.loop_length");
  const double phase_m = s.need("wiring.phase_length");
  double phase_ohm = unknown;
  for (const SizedWire& wire : sizing.wires) {
    if (circuit.wires[static_cast<std::size_t>(wire.wire)].label == "P1")
      phase_ohm = wire.resistance_ohm;
  }
  const FusePoints curve =
      fuse_points(s.need("fuse.current"), {.at_2x_s = s.ask("fuse.melt_time_2x"),
                                           .at_3x_s = s.ask("fuse.melt_time_3x"),
                                           .at_5x_s = s.ask("fuse.melt_time_5x"),
                                           .at_10x_s = s.ask("fuse.melt_time_10x")});
  const double section_m2 = s.need("cable_main.section");
  const double k = cable_k(s.ask("cable_main.temperature_max"));
  struct Where {
    const char* text;
    double share_outside, extra_ohm, length_m;
    bool fuse;
  };
  const Where places[] = {{"before the main fuse", 0, 0, 0.1, false},
                          {"behind the main fuse", 0.2, 0, 0.3, true},
                          {"at the controller", 1, 0, loop_m / 2, true},
                          {"of two motor leads", 1, 2 * phase_ohm, loop_m / 2 + phase_m, true}};
  struct State {
    const char *text, *volts;
    double cell_K;
  };
  const State states[] = {{"full and warm", "cell.voltage_max", s.ask("surroundings.hottest")},
                          {"empty and cold", "cell.voltage_min", s.ask("surroundings.coldest")}};
  std::vector<Fault> out;
  for (const Where& where : places) {
    for (const State& state : states) {
      PackSource pack = pack_source(s, state.volts, state.cell_K);
      pack.outside_ohm = where.share_outside * pack.outside_ohm + where.extra_ohm;
      Fault f{where.text,
              state.text,
              pack_ohm(pack) + pack.outside_ohm,
              inductance_Hpm * where.length_m,
              loop_short_A(pack),
              unknown,
              unknown,
              where.fuse,
              false};
      f.cable_s = model::adiabatic_time_s(k, section_m2, f.current_A);
      if (where.fuse) {
        const auto& last = curve.back();
        const double steady_s = model::fuse_melting_time_s<double>(curve, f.current_A);
        const double melting_A2s = last.current_A * last.current_A * last.time_s;
        f.melts_s = f.current_A > last.current_A
                        ? model::fault_time_s<double>({f.current_A, f.inductance_H / f.loop_ohm},
                                                      melting_A2s)
                        : steady_s;
        f.cleared = f.melts_s < std::min(f.cable_s, 5.0);
      }
      out.push_back(f);
    }
  }
  return out;
}

}  // namespace ww::wiring
