// SPDX-License-Identifier: MIT
// What must carry, make, break and protect: the numbers behind it, and what the parts list lacks.
// The rules themselves stand in rules_safety_chain_2.cpp to _4.cpp.
// Invariants:
// 1. Cable temperatures come from the heat balance, not from a table; air is under_cover_K warmer
//    than the hottest day.
// 2. Figures of wiring that nobody has measured before first power (links, loop, bundling) may come
//    from their priors as options; the strongest short leaves them out, so that it is an upper
//    bound.
#include "fit/rules_safety_chain.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "fit/engine.h"
#include "model/ampacity.h"
#include "model/contactor.h"
#include "model/converter.h"
#include "model/fuse.h"
#include "model/isolation.h"
#include "model/precharge.h"
#include "model/short_circuit.h"
#include "model/wire.h"
#include "wiring/conductor.h"
#include "wiring/currents.h"

namespace ww::fit {

using figure::Kind;
using namespace safety_chain;

namespace {

constexpr double room_K = 298.15;

double has_slot(const Build& build, std::string_view key) {
  return build::slot_present(build, *build::schema().slot(key)) ? 1 : 0;
}

// ---- cables -----------------------------------------------------------------------------------

/// From needs that follow each other: section, resistance, outer diameter, bundled, hottest day.
wiring::CableFigures cable_figures(const In& in, int first) {
  return {.section_m2 = in[first],
          .resistance_ohmpm = in[first + 1],
          .outer_diameter_m = in[first + 2],
          .bundled = in[first + 3],
          .hottest_K = in[first + 4]};
}

// ---- fuse -------------------------------------------------------------------------------------

/// The curve from rating and the four melting times, which follow each other in the needs.
wiring::FusePoints fuse_points(const In& in, int first) {
  return wiring::fuse_points(in[first], {.at_2x_s = in[first + 1],
                                         .at_3x_s = in[first + 2],
                                         .at_5x_s = in[first + 3],
                                         .at_10x_s = in[first + 4]});
}

/// Current that melts the fuse in a time.
double fuse_melts_at(const In& in, double time_s) {
  const wiring::FusePoints points = fuse_points(in, 0);
  return model::fuse_melting_current_A<double>(points, time_s);
}

// ---- pre-charge -------------------------------------------------------------------------------

/// Needs in the order full voltage, resistor, capacitance, load on the bus (may be unknown: none).
model::Precharge<double> precharge_of(const In& in) {
  return {.voltage_V = in[0],
          .resistance_ohm = in[1],
          .capacitance_F = in[2],
          .current_load_A = in.or_else(3, 0)};
}

// ---- facts ------------------------------------------------------------------------------------

std::vector<Fact> current_facts() {
  return {
      {.id = "has_cable_main",
       .label = "battery cable is on the list",
       .kind = Kind::ratio,
       .needs = {},
       .from_build = [](const Build& b) { return has_slot(b, "cable_main"); }},
      {.id = "has_cable_phase",
       .label = "phase cable is on the list",
       .kind = Kind::ratio,
       .needs = {},
       .from_build = [](const Build& b) { return has_slot(b, "cable_phase"); }},
      {.id = "has_lug",
       .label = "lugs are on the list",
       .kind = Kind::ratio,
       .needs = {},
       .from_build = [](const Build& b) { return has_slot(b, "lug"); }},
      {.id = "battery_current_lasting",
       .label = "battery current that lasts (rms of the worst ten minutes)",
       .kind = Kind::current,
       .needs = {"ride.current_rms", "fact.pack_voltage_nominal"},
       .options = {"ride.power_hold"},
       .compute = [](const In& in) { return wiring::lasting_battery_A(in[0], in[2], in[1]); },
       .formula = "the larger of the rms in town and the shaft power at the speed to hold / (0.86 "
                  "x nominal voltage); 0.96 for the controller x 0.9 for the motor"},
      {.id = "short_circuit_highest",
       .label = "strongest short at the pack's terminals",
       .kind = Kind::current,
       .needs = {"cell.voltage_max", "pack.parallel", "cell.resistance"},
       .compute =
           [](const In& in) {
             return wiring::strongest_short_A({.voltage_unit_V = in[0],
                                               .series = 1,
                                               .parallel = in[1],
                                               .resistance_unit_ohm = in[2],
                                               .link_ohm = 0,
                                               .outside_ohm = 0});
           },
       .formula = "full voltage of a unit x parallel / its resistance; links and cables left out, "
                  "they only lower it"},
      {.id = "short_circuit_weakest",
       .label = "weakest short: empty, coldest day, through all cables",
       .kind = Kind::current,
       .needs = {"fact.pack_voltage_empty", "pack.series", "pack.parallel", "cell.resistance"},
       .options = {"pack.link_resistance", "pack.loop_resistance", "surroundings.coldest",
                   "assumed.cell_activation"},
       .compute =
           [](const In& in) {
             return wiring::loop_short_A({.voltage_unit_V = in[0] / in[1],
                                          .series = in[1],
                                          .parallel = in[2],
                                          .resistance_unit_ohm = in[3],
                                          .link_ohm = in[4],
                                          .outside_ohm = in[5],
                                          .cell_K = in[6],
                                          .activation_kJpmol = in[7]});
           },
       .formula = "empty voltage / (cells at their cold resistance + links + cables, contactor and "
                  "fuse)"},
  };
}

std::vector<Fact> cable_facts() {
  return {
      {.id = "main_cable_temperature",
       .label = "battery cable at the lasting current, hottest day",
       .kind = Kind::temperature,
       .needs = {"fact.battery_current_lasting", "cable_main.section"},
       .options = {"cable_main.resistance", "cable_main.outer_diameter", "cable_main.bundled",
                   "surroundings.hottest"},
       .compute =
           [](const In& in) { return wiring::cable_temperature_K(cable_figures(in, 1), in[0]); },
       .formula =
           "heat balance: current^2 x resistance when warm = what the surface gives to still "
           "air 10 C above the hottest day; current / its share when bundled"},
      {.id = "phase_cable_temperature",
       .label = "phase cable at the phase current of the speed to hold, hottest day",
       .kind = Kind::temperature,
       .needs = {"ride.current_phase_rms", "cable_phase.section"},
       .options = {"cable_phase.resistance", "cable_phase.outer_diameter", "cable_phase.bundled",
                   "surroundings.hottest"},
       .compute =
           [](const In& in) { return wiring::cable_temperature_K(cable_figures(in, 1), in[0]); },
       .formula = "heat balance, as for the battery cable"},
      {.id = "main_cable_current_alone",
       .label = "current that brings the battery cable, lying alone, to its insulation's limit",
       .kind = Kind::current,
       .needs = {"cable_main.section", "cable_main.temperature_max"},
       .options = {"cable_main.resistance", "cable_main.outer_diameter", "surroundings.hottest"},
       .compute =
           [](const In& in) {
             return wiring::cable_current_A({.section_m2 = in[0],
                                             .resistance_ohmpm = in[2],
                                             .outer_diameter_m = in[3],
                                             .bundled = 1,
                                             .hottest_K = in[4]},
                                            in[1]);
           },
       .formula = "heat balance, as for its temperature"},
      {.id = "contactor_carry_cabled",
       .label = "what the contactor carries with this cable",
       .kind = Kind::current,
       .needs = {"contactor.current_carry", "contactor.cable_section_assumed",
                 "cable_main.section"},
       .compute = [](const In& in) { return wiring::contactor_carry_A(in[0], in[1], in[2]); },
       .formula = "its rating x (section / the section it assumes)^0.65, never more than its "
                  "rating"},
      {.id = "main_cable_withstand",
       .label = "short circuit the battery cable survives",
       .kind = Kind::current_squared_time,
       .needs = {"cable_main.section", "cable_main.temperature_max"},
       .compute = [](const In& in) { return wiring::cable_withstand_A2s(in[0], in[1]); },
       .formula = "(k x section)^2, from the insulation's limit to 160 C (PVC) or 250 C"},
      {.id = "main_cable_drop",
       .label = "voltage lost in the battery cables at the largest current",
       .kind = Kind::voltage,
       .needs = {"fact.battery_current_peak", "wiring.loop_length", "cable_main.section"},
       .options = {"cable_main.resistance"},
       .compute =
           [](const In& in) {
             return model::wire_drop_V<double>(
                 {.resistance_ohmpm = wiring::cable_ohmpm(in[2], in[3]),
                  .length_m = in[1],
                  .current_A = in[0]});
           },
       .formula = "current x resistance per metre x length there and back"},
  };
}

std::vector<Fact> fuse_facts() {
  return {
      {.id = "fuse_rating_warm",
       .label = "what is left of the fuse's rating in its warm box",
       .kind = Kind::current,
       .needs = {"fuse.current"},
       .options = {"surroundings.hottest"},
       .compute =
           [](const In& in) {
             return model::fuse_derated_A<double>({.current_A = in[0],
                                                   .temperature_rated_K = room_K,
                                                   .temperature_limit_K = 273.15 + 150},
                                                  in[1] + under_cover_K);
           },
       .formula = "rating x root of (150 C - box) / (150 C - 25 C), box 10 C above the hottest "
                  "day; the 150 C from memory"},
      {.id = "fuse_pull_current",
       .label = "current that would melt the fuse during one long pull",
       .kind = Kind::current,
       .needs = {"fuse.current", "fuse.melt_time_2x", "fuse.melt_time_3x", "fuse.melt_time_5x",
                 "fuse.melt_time_10x"},
       .options = {"controller.burst_time"},
       .compute = [](const In& in) { return fuse_melts_at(in, in.or_else(5, 30)); },
       .formula = "read from the fuse's curve at the controller's short time, else at 30 s"},
      {.id = "fuse_slow_current",
       .label = "current that the fuse needs a second to clear",
       .kind = Kind::current,
       .needs = {"fuse.current", "fuse.melt_time_2x", "fuse.melt_time_3x", "fuse.melt_time_5x",
                 "fuse.melt_time_10x"},
       .compute = [](const In& in) { return fuse_melts_at(in, 1); },
       .formula = "read from the fuse's curve at 1 s"},
      {.id = "fuse_time_weakest",
       .label = "time the fuse needs for the weakest short",
       .kind = Kind::time,
       .needs = {"fuse.current", "fuse.melt_time_2x", "fuse.melt_time_3x", "fuse.melt_time_5x",
                 "fuse.melt_time_10x", "fact.short_circuit_weakest"},
       .compute =
           [](const In& in) {
             const wiring::FusePoints points = fuse_points(in, 0);
             return std::min(model::fuse_melting_time_s<double>(points, in[5]), 3600.0);
           },
       .formula = "read from the fuse's curve; an hour stands for never"},
      {.id = "cable_time_weakest",
       .label = "time the battery cable survives the weakest short",
       .kind = Kind::time,
       .needs = {"cable_main.section", "cable_main.temperature_max", "fact.short_circuit_weakest"},
       .compute =
           [](const In& in) {
             return model::adiabatic_time_s(wiring::cable_k(in[1]), in[0], in[2]);
           },
       .formula = "(k x section / current)^2"},
  };
}

std::vector<Fact> precharge_facts() {
  return {
      {.id = "precharge_time_95",
       .label = "time until the bus holds 95 % of the pack's voltage",
       .kind = Kind::time,
       .needs = {"fact.pack_voltage_full", "precharge.resistance", "controller.capacitance"},
       .options = {"wiring.bus_load_at_precharge"},
       .compute =
           [](const In& in) {
             model::Precharge<double> p = precharge_of(in);
             if (model::precharge_final_V(p) < 0.95 * p.voltage_V) p.current_load_A = 0;
             return model::precharge_time_s(p, 0.95);
           },
       .formula = "3 x resistor x capacitance; longer where something draws from the bus"},
      {.id = "precharge_bus_final",
       .label = "voltage the bus ends at while it charges up",
       .kind = Kind::voltage,
       .needs = {"fact.pack_voltage_full", "precharge.resistance", "wiring.bus_load_at_precharge"},
       .compute =
           [](const In& in) {
             return model::precharge_final_V<double>({.voltage_V = in[0],
                                                      .resistance_ohm = in[1],
                                                      .capacitance_F = 0,
                                                      .current_load_A = in[2]});
           },
       .formula = "full voltage - current drawn x resistor"},
      {.id = "precharge_energy",
       .label = "heat in the pre-charge resistor, one start",
       .kind = Kind::energy,
       .needs = {"fact.pack_voltage_full", "controller.capacitance"},
       .compute = [](const In& in) { return model::capacitor_energy_J(in[1], in[0]); },
       .formula = "capacitance x full voltage^2 / 2, whatever the resistor"},
      {.id = "precharge_energy_stuck",
       .label = "heat in the pre-charge resistor until it gives up on a shorted bus",
       .kind = Kind::energy,
       .needs = {"fact.pack_voltage_full", "precharge.resistance", "precharge.time_out"},
       .compute = [](const In& in) { return in[0] * in[0] / in[1] * in[2]; },
       .formula = "full voltage^2 / resistor x time-out"},
      {.id = "closing_current",
       .label = "rush of current when the contactor closes",
       .kind = Kind::current,
       .needs = {"fact.pack_voltage_full", "precharge.resistance", "controller.capacitance",
                 "precharge.time", "pack.series", "pack.parallel", "cell.resistance"},
       .options = {"wiring.bus_load_at_precharge", "pack.link_resistance", "pack.loop_resistance"},
       .compute =
           [](const In& in) {
             const model::Precharge<double> p{.voltage_V = in[0],
                                              .resistance_ohm = in[1],
                                              .capacitance_F = in[2],
                                              .current_load_A = in.or_else(7, 0)};
             return model::contactor_make_A<double>(
                 {.voltage_pack_V = in[0],
                  .voltage_bus_V = model::precharge_voltage_V(p, in[3]),
                  .resistance_loop_ohm = in[4] * (in[6] / in[5] + in[8]) + in[9]});
           },
       .formula = "(full voltage - bus voltage at that moment) / (cells + links + cables)"},
  };
}

/// Head, rear, indicators, horn, other: in the order of the needs, from `first` on.
std::array<model::AuxiliaryLoad<double>, 5> lamp_loads(const In& in, int first) {
  return {{{in[first], 1},
           {in[first + 1], 1},
           {in[first + 2], 0.5},
           {in[first + 3], 0},
           {in[first + 4], 1}}};
}

std::vector<Fact> supply_facts() {
  return {
      {.id = "load_12V_riding",
       .label = "12 V load while riding at night",
       .kind = Kind::power,
       .needs = {"donor.load_headlight", "donor.load_rear_lamps", "donor.load_indicators",
                 "donor.load_horn", "donor.load_other"},
       .options = {"fact.has_buffer", "contactor.coil_voltage", "contactor.hold_current"},
       .compute =
           [](const In& in) {
             auto loads = lamp_loads(in, 0);
             if (in[5] < 0.5) loads[3].share = 1;
             const bool coil_on_12V = in.has(6) && in.has(7) && in[6] < 30;
             return model::auxiliary_power_W<double>(loads) + (coil_on_12V ? in[6] * in[7] : 0);
           },
       .formula =
           "head + rear lamps + half the indicators + other + the contactor's coil; the horn "
           "only where no buffer battery feeds it"},
      {.id = "current_12V_worst",
       .label = "12 V current with everything on and the contactor pulling in",
       .kind = Kind::current,
       .needs = {"donor.load_headlight", "donor.load_rear_lamps", "donor.load_indicators",
                 "donor.load_horn", "donor.load_other", "buffer.voltage",
                 "contactor.pull_in_current"},
       .compute =
           [](const In& in) { return (in[0] + in[1] + in[2] + in[3] + in[4]) / in[5] + in[6]; },
       .formula = "all loads at once / voltage + pull-in current"},
      {.id = "buffer_hold",
       .label = "how long the buffer battery alone keeps lamps and contactor on",
       .kind = Kind::time,
       .needs = {"buffer.capacity", "buffer.voltage", "fact.load_12V_riding"},
       .compute =
           [](const In& in) {
             return model::buffer_hold_s<double>(
                 {.charge_C = in[0], .share_usable = 0.5, .voltage_V = in[1]}, in[2]);
           },
       .formula = "half its charge x voltage / load; the other half for cold and age"},
      {.id = "charger_mains_current",
       .label = "current the charger takes from the outlet",
       .kind = Kind::current,
       .needs = {},
       .options = {"charger.current_in", "charger.power_in", "surroundings.outlet_voltage"},
       .compute = [](const In& in) { return in.or_else(0, in[1] / in[2]); },
       .formula = "as stated; else input power / outlet voltage"},
      {.id = "isolation_per_volt",
       .label = "isolation per volt of the full pack, in ohm",
       .kind = Kind::ratio,
       .needs = {"wiring.isolation_resistance", "fact.pack_voltage_full"},
       .compute = [](const In& in) { return model::isolation_ohm_per_volt(in[0], in[1]); },
       .formula = "isolation / full voltage"},
  };
}

// ---- what the list lacks ----------------------------------------------------------------------

constexpr std::string_view on_the_list = "a part is on the list or it is not";

Outcome must_be_there(const In& in) {
  return must(in[0] > 0.5);
}

std::vector<Rule> completeness_rules() {
  return {
      {.id = "missing-contactor",
       .codes = "",
       .title = "a contactor on the parts list",
       .between = {"pack", "controller"},
       .needs = {"fact.has_contactor"},
       .judge = must_be_there,
       .fits = "A contactor is on the list.",
       .clash = "No contactor is on the list: nothing could open the pack's circuit when a power "
                "stage fails. A key switch cannot break that current.",
       .can_hurt = true,
       .ignoring = {"A shorted power stage puts the pack across the motor and nothing opens it.",
                    140, 1500, 2},
       .levers = {"+contactor"},
       .blocks = Blocks::energising,
       .never = "tight,unmeasured",
       .never_why = on_the_list},
      {.id = "missing-fuse",
       .codes = "",
       .title = "a main fuse on the parts list",
       .between = {"pack"},
       .needs = {"fact.has_fuse"},
       .judge = must_be_there,
       .fits = "A main fuse is on the list.",
       .clash = "No main fuse is on the list: a dropped spanner or a chafed cable then draws "
                "thousands of amps until something melts, and nothing else can stop it.",
       .can_hurt = true,
       .ignoring = {"The cable becomes the fuse, beside the cells.", 100, 8000, 8},
       .levers = {"+fuse"},
       .blocks = Blocks::energising,
       .never = "tight,unmeasured",
       .never_why = on_the_list},
      {.id = "missing-precharge",
       .codes = "",
       .title = "a pre-charge on the parts list",
       .between = {"pack", "controller"},
       .needs = {"fact.has_precharge"},
       .judge = must_be_there,
       .fits = "A pre-charge is on the list.",
       .clash = "No pre-charge is on the list: the contactor would close on empty capacitors and "
                "make hundreds to thousands of amps, which weld it or burn its contacts.",
       .can_hurt = true,
       .ignoring = {"A welded contactor: the bike stays live with the key off.", 80, 400, 2},
       .levers = {"+precharge"},
       .blocks = Blocks::energising,
       .never = "tight,unmeasured",
       .never_why = on_the_list},
      {.id = "missing-disconnect",
       .codes = "E103",
       .title = "a service disconnect on the parts list",
       .between = {"pack"},
       .needs = {"fact.has_disconnect"},
       .options = {"fact.pack_voltage_full"},
       .judge =
           [](const In& in) {
             if (in[0] > 0.5) return judged(Verdict::fits);
             return judged(in[1] <= dangerous_V ? Verdict::tight : Verdict::clash);
           },
       .fits = "A service disconnect is on the list.",
       .tight =
           "No service disconnect is on the list. Up to 60 V the main fuse can be the place to "
           "open the pack, but a link opened by hand is quicker and can be seen to be open.",
       .clash = "No service disconnect is on the list: above 60 V nobody should work on the bike "
                "before the pack has been opened by hand, where it can be seen and locked out.",
       .can_hurt = true,
       .ignoring = {"Every repair is made on a live pack; some inspectors refuse the bike.", 60,
                    400, 2},
       .levers = {"+disconnect"},
       .blocks = Blocks::energising,
       .never = "unmeasured",
       .never_why = on_the_list},
      {.id = "missing-converter",
       .codes = "",
       .title = "a 12 V converter on the parts list",
       .between = {"pack"},
       .needs = {"fact.has_dcdc"},
       .judge = must_be_there,
       .fits = "A 12 V converter is on the list.",
       .clash =
           "No converter is on the list: lamps, horn, indicators and a 12 V coil would live on "
           "a small battery until it is flat, on the road at night.",
       .can_hurt = true,
       .ignoring = {"Lamps and contactor drop out together when the small battery is flat.", 60,
                    350, 2},
       .levers = {"+dcdc"},
       .blocks = Blocks::riding,
       .never = "tight,unmeasured",
       .never_why = on_the_list},
      {.id = "missing-buffer",
       .codes = "",
       .title = "a 12 V buffer battery beside the converter",
       .between = {"dcdc"},
       .needs = {"fact.has_buffer"},
       .judge = [](const In& in) { return should(in[0] > 0.5); },
       .fits = "A 12 V buffer battery is on the list.",
       .tight = "No buffer battery is on the list: when the converter stops, lamps and contactor "
                "stop in the same moment. A small one of 4 to 8 Ah carries them to the roadside.",
       .can_hurt = true,
       .ignoring = {"Dark and without drive at speed when one part fails.", 25, 350, 1},
       .levers = {"+buffer"},
       .blocks = Blocks::riding,
       .never = "clash,unmeasured",
       .never_why = "bikes run without one; it is on the list or it is not"},
      {.id = "missing-main-cable",
       .codes = "",
       .title = "battery cable on the parts list",
       .between = {"pack", "controller"},
       .needs = {"fact.has_cable_main"},
       .judge = must_be_there,
       .fits = "Battery cable is on the list.",
       .clash =
           "No battery cable is on the list: fuse, contactor rating and lugs all depend on its "
           "section.",
       .ignoring = {"A week lost, or a cable from the drawer that is too thin.", 40, 150, 1},
       .levers = {"+cable_main"},
       .blocks = Blocks::energising,
       .never = "tight,unmeasured",
       .never_why = on_the_list},
      {.id = "missing-phase-cable",
       .codes = "",
       .title = "phase cable on the parts list",
       .between = {"motor", "controller", "pack"},
       .needs = {"fact.has_cable_phase"},
       .options = {"motor.type"},
       // A hub motor brings its leads along.
       .applies = [](const In& in) { return !in.is(1, build::MotorType::pm_hub); },
       .judge = must_be_there,
       .fits = "Phase cable is on the list.",
       .clash =
           "No phase cable is on the list: the leads between controller and motor carry two to "
           "three times the battery's current when pulling away.",
       .ignoring = {"A week lost, or leads that are too thin.", 20, 120, 1},
       .levers = {"+cable_phase"},
       .blocks = Blocks::energising,
       .never = "tight,unmeasured",
       .never_why = on_the_list},
      {.id = "missing-lugs",
       .codes = "",
       .title = "lugs for the cable on the parts list",
       .between = {"cable_main"},
       .needs = {"fact.has_lug"},
       .judge = must_be_there,
       .fits = "Lugs are on the list.",
       .clash = "No lugs are on the list. Twenty to thirty are needed; buy them after the studs "
                "have been measured, a fifth more than counted.",
       .ignoring = {"Lugs are bought twice, in the wrong hole first.", 20, 80, 1},
       .levers = {"+lug"},
       .blocks = Blocks::energising,
       .never = "tight,unmeasured",
       .never_why = on_the_list},
  };
}

}  // namespace

std::vector<Fact> safety_chain_facts() {
  std::vector<Fact> facts = current_facts();
  append(facts, cable_facts());
  append(facts, fuse_facts());
  append(facts, precharge_facts());
  append(facts, supply_facts());
  append(facts, circuit_facts());
  return facts;
}

std::vector<Rule> safety_chain_rules() {
  std::vector<Rule> rules = completeness_rules();
  append(rules, fuse_and_cable_rules());
  append(rules, switching_rules());
  append(rules, charger_and_converter_rules());
  append(rules, wiring_rules());
  append(rules, circuit_rules());
  return rules;
}

}  // namespace ww::fit
