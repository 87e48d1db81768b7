// SPDX-License-Identifier: MIT
// Numbers derived from fields that rules of several families share.
#include "build/designation.h"
#include "fit/engine.h"
#include "model/chain.h"
#include "model/sprocket.h"
#include "model/tyre.h"

namespace ww::fit {

namespace {

using figure::Kind;

double has_slot(const Build& build, std::string_view key) {
  return build::slot_present(build, *build::schema().slot(key)) ? 1 : 0;
}

}  // namespace

std::vector<Fact> common_facts() {
  return {
      {.id = "cells_in_series",
       .label = "cells in series",
       .kind = Kind::ratio,
       .needs = {"pack.series"},
       .options = {"cell.series_inside"},
       .compute = [](const In& in) { return in[0] * in.or_else(1, 1); },
       .formula = "units in series x cells in series inside a unit"},
      {.id = "pack_voltage_full",
       .label = "pack voltage, full",
       .kind = Kind::voltage,
       .needs = {"pack.series", "cell.voltage_max"},
       .compute = [](const In& in) { return in[0] * in[1]; },
       .formula = "units in series x full voltage of a unit"},
      {.id = "pack_voltage_nominal",
       .label = "pack voltage, nominal",
       .kind = Kind::voltage,
       .needs = {"pack.series", "cell.voltage_nominal"},
       .compute = [](const In& in) { return in[0] * in[1]; },
       .formula = "units in series x nominal voltage of a unit"},
      {.id = "pack_voltage_empty",
       .label = "pack voltage, empty",
       .kind = Kind::voltage,
       .needs = {"pack.series", "cell.voltage_min"},
       .compute = [](const In& in) { return in[0] * in[1]; },
       .formula = "units in series x empty voltage of a unit"},
      {.id = "pack_resistance",
       .label = "resistance of the pack",
       .kind = Kind::resistance,
       .needs = {"pack.series", "pack.parallel", "cell.resistance", "pack.link_resistance"},
       .compute = [](const In& in) { return in[0] * (in[2] / in[1] + in[3]); },
       .formula = "series x (unit resistance / parallel + link)"},
      {.id = "loop_resistance",
       .label = "resistance of the whole loop",
       .kind = Kind::resistance,
       .needs = {"fact.pack_resistance", "pack.loop_resistance"},
       .compute = [](const In& in) { return in[0] + in[1]; },
       .formula = "pack + cables, contactor and fuse"},
      {.id = "short_circuit_current",
       .label = "short-circuit current at the pack's terminals, full",
       .kind = Kind::current,
       .needs = {"fact.pack_voltage_full", "fact.pack_resistance"},
       .compute = [](const In& in) { return in[0] / in[1]; },
       .formula = "full voltage / pack resistance"},
      {.id = "pack_capacity",
       .label = "pack capacity",
       .kind = Kind::charge,
       .needs = {"cell.capacity", "pack.parallel"},
       .compute = [](const In& in) { return in[0] * in[1]; },
       .formula = "unit capacity x parallel"},
      {.id = "battery_current_peak",
       .label = "largest battery current the drive may take",
       .kind = Kind::current,
       .needs = {},
       .options = {"controller.current_battery", "limits.battery_current"},
       .compute =
           [](const In& in) {
             return in.has(0) && in.has(1) ? std::min(in[0], in[1]) : (in.has(1) ? in[1] : in[0]);
           },
       .formula = "the smaller of the controller's battery current and what is set"},
      {.id = "phase_current_peak",
       .label = "largest phase current (sine peak)",
       .kind = Kind::phase_current,
       .needs = {},
       .options = {"controller.current_phase", "limits.phase_current"},
       .compute =
           [](const In& in) {
             return in.has(0) && in.has(1) ? std::min(in[0], in[1]) : (in.has(1) ? in[1] : in[0]);
           },
       .formula = "the smaller of the controller's phase current and what is set"},
      {.id = "ratio",
       .label = "motor turns per wheel turn",
       .kind = Kind::ratio,
       .needs = {"gearing.front_teeth", "gearing.rear_teeth"},
       .options = {"gearing.primary_ratio", "motor.reduction"},
       .compute = [](const In& in) { return in[1] / in[0] * in.or_else(2, 1) * in.or_else(3, 1); },
       .formula = "rear teeth / front teeth x any stage before"},
      {.id = "wheel_circumference",
       .label = "rolling circumference of the rear wheel",
       .kind = Kind::length,
       .needs = {},
       .options = {"tyre_rear.circumference", "fact.tyre_rear_diameter"},
       .compute = [](const In& in) { return in.has(0) ? in[0] : in[1] * 0.97 * model::pi; },
       .formula = "as measured; else 0.97 x pi x diameter by the marking"},
      {.id = "tyre_rear_diameter",
       .label = "rear tyre diameter by its marking",
       .kind = Kind::length,
       .needs = {},
       .options = {"tyre_rear.size"},
       .from_build =
           [](const Build& b) {
             const auto t = build::read_tyre_marking(b.tyre_rear ? b.tyre_rear->size : "");
             return t.width_m > 0
                        ? model::tyre_diameter_m<double>(
                              {.width_m = t.width_m, .aspect = t.aspect, .rim_m = t.rim_m})
                        : std::numeric_limits<double>::quiet_NaN();
           },
       .formula = "rim + 2 x width x height share"},
      {.id = "tyre_rear_speed",
       .label = "speed the rear tyre's letter allows",
       .kind = Kind::speed,
       .needs = {},
       .options = {"tyre_rear.speed_letter"},
       .from_build =
           [](const Build& b) {
             return b.tyre_rear && b.tyre_rear->speed_letter.size() == 1
                        ? model::speed_symbol_mps(b.tyre_rear->speed_letter[0])
                        : std::numeric_limits<double>::quiet_NaN();
           },
       .formula = "ETRTO speed symbol"},
      {.id = "torque_peak",
       .label = "peak torque of the motor in this build",
       .kind = Kind::torque,
       .needs = {},
       .options = {"ride.torque_standstill", "motor.torque_peak"},
       .compute = [](const In& in) { return in.has(0) ? in[0] : in[1]; },
       .formula = "torque from standstill within all current limits; else the data sheet's"},
      {.id = "front_pitch_radius",
       .label = "pitch radius of the front sprocket",
       .kind = Kind::length,
       .needs = {"gearing.front_teeth", "chain.pitch"},
       .compute = [](const In& in) { return 0.5 * model::pitch_diameter_m(in[1], in[0]); },
       .formula = "pitch / (2 sin(180 deg / teeth))"},
      {.id = "chain_pull",
       .label = "largest pull in the chain",
       .kind = Kind::force,
       .needs = {"fact.torque_peak", "fact.front_pitch_radius"},
       .options = {"motor.reduction"},
       .compute = [](const In& in) { return in[0] * in.or_else(2, 1) / in[1]; },
       .formula = "peak torque / pitch radius of the front sprocket"},
      {.id = "mass_bike",
       .label = "mass without rider",
       .kind = Kind::mass,
       .needs = {"ride.mass"},
       .compute = [](const In& in) { return in[0]; },
       .formula = "chassis + parts + pack + sundries"},
      {.id = "has_contactor",
       .label = "a contactor is on the list",
       .kind = Kind::ratio,
       .needs = {},
       .from_build = [](const Build& b) { return has_slot(b, "contactor"); }},
      {.id = "has_precharge",
       .label = "a pre-charge is on the list",
       .kind = Kind::ratio,
       .needs = {},
       .from_build = [](const Build& b) { return has_slot(b, "precharge"); }},
      {.id = "has_fuse",
       .label = "a main fuse is on the list",
       .kind = Kind::ratio,
       .needs = {},
       .from_build = [](const Build& b) { return has_slot(b, "fuse"); }},
      {.id = "has_bms",
       .label = "a cell monitor is on the list",
       .kind = Kind::ratio,
       .needs = {},
       .from_build = [](const Build& b) { return has_slot(b, "bms"); }},
      {.id = "has_dcdc",
       .label = "a 12 V converter is on the list",
       .kind = Kind::ratio,
       .needs = {},
       .from_build = [](const Build& b) { return has_slot(b, "dcdc"); }},
      {.id = "has_charger",
       .label = "a charger is on the list",
       .kind = Kind::ratio,
       .needs = {},
       .from_build = [](const Build& b) { return has_slot(b, "charger"); }},
      {.id = "has_disconnect",
       .label = "a service disconnect is on the list",
       .kind = Kind::ratio,
       .needs = {},
       .from_build = [](const Build& b) { return has_slot(b, "disconnect"); }},
      {.id = "has_buffer",
       .label = "a 12 V buffer battery is on the list",
       .kind = Kind::ratio,
       .needs = {},
       .from_build = [](const Build& b) { return has_slot(b, "buffer"); }},
      {.id = "has_throttle",
       .label = "a throttle is on the list",
       .kind = Kind::ratio,
       .needs = {},
       .from_build = [](const Build& b) { return has_slot(b, "throttle"); }},
      {.id = "has_display",
       .label = "a display is on the list",
       .kind = Kind::ratio,
       .needs = {},
       .from_build = [](const Build& b) { return has_slot(b, "display"); }},
  };
}

}  // namespace ww::fit
