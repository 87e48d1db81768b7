// SPDX-License-Identifier: MIT
// Field tables of what drives the bike: motor, controller, cell, pack and what guards and feeds
// them.
#include "build/declare.h"

namespace ww::build {

using namespace declare;

namespace {
const Options sensors{"unknown",
                      {"none", "no position sensor"},
                      {"hall", "three Hall sensors"},
                      {"sin_cos", "sine-cosine encoder"},
                      "resolver",
                      {"encoder", "counting encoder"}};
const Options throttles{"unknown",
                        {"hall", "Hall sensor"},
                        {"hall_dual", "two Hall sensors"},
                        {"resistive", "resistor"},
                        {"bus", "data bus"}};
const Options chemistries{
    "unknown",      {"lfp", "LFP"}, {"nmc", "NMC"},           {"nca", "NCA"},
    {"lco", "LCO"}, {"lto", "LTO"}, {"sodium", "sodium-ion"}, {"lead", "lead-acid"}};
const Options metals{"unknown", "copper", "aluminium", "nickel", "brass"};
const Options studs{
    "unknown",    {"weld", "welded joint"}, {"m4", "M4"},  {"m5", "M5"}, {"m6", "M6"},
    {"m8", "M8"}, {"m10", "M10"},           {"m12", "M12"}};
}  // namespace

const Table& motor_fields() {
  static const Table table = [] {
    using S = Motor;
    Fields<S> t(70);
    purchase(t);
    t.choice<M(type), "kind of motor", {"unknown", {"pm_hub", "permanent-magnet hub motor"}, {"pm_radial", "permanent-magnet motor, radial flux"}, {"pm_axial", "permanent-magnet motor, axial flux"}, {"induction", "induction motor"}, {"brushed_pm", "brushed motor with magnets"}, {"brushed_series", "brushed motor, series wound"}});
    t.choice<M(cooling), "cooling", {"unknown", "air", "liquid", "oil"});
    t.figure<M(voltage_max), "highest battery voltage it is made for", Kind::voltage, 20, 900).how(ask);
    t.figure<M(speed_constant), "no-load speed per volt", Kind::motor_constant, 2 * rpm, 400 * rpm).how("spin it with a drill at a known speed, read the volts between two leads; ask which voltage the figure means");
    t.figure<M(torque_constant), "torque per amp", Kind::torque_constant, 0.01, 6).how("brake it on a lever and a scale at a known current; ask which current the figure means");
    t.figure<M(resistance), "winding resistance", Kind::resistance, 0.1 * mohm, 3).how("four-wire milliohm meter between two leads, cold");
    t.choice<M(resistance_between), "resistance is measured", {"unknown", {"line_line", "between two leads"}, {"phase", "from lead to star point"}});
    t.figure<M(inductance), "inductance between two leads", Kind::inductance, 1 * uH, 20e-3).how("LCR meter at 1 kHz between two leads, rotor turned slowly: the mean");
    t.figure<M(saliency), "inductance ratio q to d", Kind::ratio, 0.8, 6).prior(1.0, 0.0, "surface magnets assumed: common practice, no source").how("LCR meter between two leads: largest over smallest while the rotor turns");
    t.count<M(pole_pairs), "pole pairs", 1, 60).how("count the steps of one turn by hand with two leads shorted, or the sensor's periods");
    t.figure<M(no_load_current), "no-load current from the battery", Kind::current, 0.05, 60).how("run it free at a steady voltage, clamp meter in the battery lead");
    t.figure<M(no_load_voltage), "at that battery voltage", Kind::voltage, 6, 900).how("meter at the controller while it runs free");
    t.figure<M(power_continuous), "continuous power", Kind::power, 200, 150 * kW).how("the certificate or data sheet: 30-minute or S1 rating, not the label");
    t.figure<M(power_peak), "peak power", Kind::power, 300, 400 * kW).trait(Trait::peak_power).how("data sheet, with its seconds");
    t.figure<M(peak_time), "for so long", Kind::time, 1, hour).how("ask: 10 s, 30 s, 60 s or 5 min");
    t.figure<M(torque_peak), "peak torque", Kind::torque, 1, 1200).how(ask);
    t.figure<M(current_peak), "peak phase current", Kind::phase_current, 5, 3000).how("data sheet; ask whether peak, rms or DC-equivalent");
    t.figure<M(current_continuous), "continuous phase current", Kind::phase_current, 3, 2000).how("data sheet; ask whether peak, rms or DC-equivalent");
    t.figure<M(efficiency), "best efficiency", Kind::share, 0.5, 0.99).how("data sheet: it is one point");
    t.figure<M(rated_speed), "speed at the continuous power", Kind::rotation, 50 * rpm, 20000 * rpm).how(ask);
    t.figure<M(speed_max), "highest speed", Kind::rotation, 100 * rpm, 25000 * rpm).how(ask);
    t.figure<M(rotor_resistance), "rotor resistance, seen from a phase", Kind::resistance, 0.1 * mohm, 3).how(ask);
    t.figure<M(magnetising_inductance), "magnetising inductance of a phase", Kind::inductance, 10 * uH, 0.2).how(ask);
    t.figure<M(leakage_inductance), "leakage inductance of a phase", Kind::inductance, 1 * uH, 0.05).how(ask);
    t.figure<M(field_saturation_current), "current where the field saturates", Kind::current, 5, 2000).how(ask);
    t.figure<M(reduction), "reduction inside the housing", Kind::ratio, 1, 20).prior(1, 0, "none unless the seller says so: common practice, no source").how("turn the output once by hand, count the rotor's turns");
    t.figure<M(mass), "mass", Kind::mass, 0.5, 120).trait(Trait::mass_listed).how("bathroom scale");
    t.figure<M(diameter), "can diameter, largest", Kind::length, 50 * mm, 500 * mm).how("caliper or tape over the can and its ribs");
    t.figure<M(length), "can length without shaft", Kind::length, 30 * mm, 600 * mm).how("caliper from mount face to rear cover");
    t.figure<M(length_with_terminals), "length with terminals and encoder cover", Kind::length, 30 * mm, 700 * mm).how("caliper from mount face over everything that sticks out");
    t.figure<M(terminal_bend), "room the cables need beyond the terminals", Kind::length, 0, 200 * mm).prior(75 * mm, 15 * mm, "60 to 90 mm for 35 mm2 cable, straight: common practice, no source").how("bend the real cable with its lug, tape");
    t.choice<M(shaft), "shaft end", {"unknown", {"keyed", "shaft with key"}, {"splined", "splined shaft"}, "flange", {"wheel", "the wheel itself"}});
    t.figure<M(shaft_diameter), "shaft diameter", Kind::length, 6 * mm, 80 * mm).how("micrometer at three places");
    t.figure<M(shaft_length), "free shaft length", Kind::length, 5 * mm, 150 * mm).how("caliper from shoulder to end");
    t.figure<M(key_width), "key width", Kind::length, 2 * mm, 20 * mm).how("caliper in the keyway");
    t.figure<M(key_length), "key length", Kind::length, 5 * mm, 120 * mm).how("caliper");
    t.figure<M(bearing_load_max), "radial load the shaft may carry", Kind::force, 100, 50000).how(ask);
    t.count<M(spline_teeth), "spline teeth", 4, 60).how("count");
    t.figure<M(pilot_diameter), "pilot diameter", Kind::length, 20 * mm, 400 * mm).how("caliper");
    t.figure<M(bolt_circle), "mount bolt circle", Kind::length, 20 * mm, 450 * mm).how("caliper; for an odd number of holes the distance of neighbours / sin(180 deg / holes)");
    t.figure<M(bolt), "mount bolt size", Kind::length, 4 * mm, 16 * mm).how("thread gauge");
    t.figure<M(thread_depth), "thread depth in the face", Kind::length, 4 * mm, 60 * mm).how("depth gauge: the usable thread, not the hole");
    t.count<M(bolts), "mount bolts", 2, 24).how("count");
    t.figure<M(dropout_width), "width it needs between dropouts", Kind::length, 80 * mm, 400 * mm).how("caliper over the axle's shoulders");
    t.figure<M(axle_flats), "axle flats", Kind::length, 6 * mm, 30 * mm).how("caliper across the flats");
    t.choice<M(sensor), "position sensor", sensors).how(ask);
    t.figure<M(sensor_supply), "sensor supply", Kind::voltage, 3, 15).how(ask);
    t.answer<M(temperature_sensor), "winding temperature sensor");
    t.answer<M(shaft_measured), "the shaft in the hand has been measured");
    t.answer<M(certificate), "certificate of continuous power");
    t.figure<M(winding_temperature_max), "winding temperature limit", Kind::temperature, celsius(80), celsius(220)).prior(celsius(130), 10, "class B to F insulation, hot spot: IEC 60034-1, as tabulated").how(ask);
    t.count<M(ingress), "protection, second digit of its IP code", 0, 9).how(ask);
    return t.done();
  }();
  return table;
}

const Table& controller_fields() {
  static const Table table = [] {
    using S = Controller;
    Fields<S> t(60);
    purchase(t);
    box(t, 600 * mm);
    t.set<M(drives), "kinds of motor it drives", {"unknown", {"pm", "permanent-magnet"}, "induction", "brushed"});
    t.set<M(sensors), "position sensors it reads", sensors);
    t.set<M(throttles), "throttles it reads", throttles);
    t.figure<M(voltage_min), "lowest operating voltage", Kind::voltage, 10, 500).how("data sheet: operating, not absolute");
    t.figure<M(voltage_max), "highest operating voltage", Kind::voltage, 20, 900).how("data sheet: operating, not absolute");
    t.figure<M(voltage_absolute), "voltage that destroys it", Kind::voltage, 20, 1000).how(ask);
    t.figure<M(current_battery), "battery current, short time", Kind::current, 5, 1500).how("data sheet; ask for its seconds");
    t.figure<M(current_battery_continuous), "battery current, continuous", Kind::current, 3, 1000).how("data sheet; ask at which base temperature");
    t.figure<M(current_phase), "phase current, short time", Kind::phase_current, 5, 2500).how("data sheet; ask whether peak, rms or DC-equivalent");
    t.figure<M(current_phase_continuous), "phase current, continuous", Kind::phase_current, 3, 1500).how("data sheet; ask whether peak, rms or DC-equivalent");
    t.figure<M(burst_time), "short time means", Kind::time, 1, 600).how(ask);
    t.figure<M(capacitance), "input capacitance", Kind::capacitance, 20e-6, 0.1).how("charge through a known resistor, time to 63 %");
    t.figure<M(frequency_max), "highest electrical frequency", Kind::frequency, 100, 5000).prior(1000, 300, "500 to 1500 Hz: common practice, no source").how(ask);
    t.figure<M(inductance_min), "lowest motor inductance it can run", Kind::inductance, 1 * uH, 1e-3).how(ask);
    t.figure<M(idle_power), "idle power", Kind::power, 0, 50).prior(5, 2, "2 to 8 W: common practice, no source").how("clamp meter at standstill, key on");
    t.figure<M(efficiency), "efficiency at full power", Kind::share, 0.8, 0.995).prior(0.96, 0.01, "94 to 97 %: common practice, no source").how(ask);
    t.figure<M(modulation), "share of the voltage circle it can use", Kind::share, 0.7, 1.1).prior(0.95, 0.02, "3 to 7 % kept in reserve: from memory").how("no-load speed with the load known");
    t.answer<M(field_weakening), "can weaken the field");
    t.answer<M(regen), "can brake the motor");
    t.answer<M(regen_fold_back), "reduces braking by itself at high voltage");
    t.answer<M(software_included), "setting software and cable included");
    t.answer<M(pinout_in_hand), "pin list in hand");
    t.answer<M(temperature_input), "reads a motor temperature sensor");
    t.answer<M(drives_contactor), "drives the contactor itself");
    t.answer<M(zero_throttle_check), "refuses to start with the throttle open");
    t.answer<M(brake_input), "has a brake switch input");
    t.figure<M(contactor_drive_current), "current its contactor output carries", Kind::current, 0.05, 10).how(ask);
    t.figure<M(logic_fuse), "fuse in its logic supply", Kind::current, 0, 20).how("the fuse's label; 0 where there is none");
    t.figure<M(supply_5V), "supply it gives to throttle and sensor", Kind::voltage, 3, 15).how("meter at the throttle plug");
    t.figure<M(derate_start), "base temperature where it starts to reduce", Kind::temperature, celsius(40), celsius(120)).prior(celsius(80), 5, "70 to 85 C: common practice, no source").how(ask);
    t.figure<M(derate_end), "base temperature where nothing is left", Kind::temperature, celsius(60), celsius(140)).prior(celsius(100), 4, "95 to 100 C: from memory").how(ask);
    t.figure<M(thermal_resistance), "base to air, as mounted", Kind::thermal_resistance, 0.005, 5).prior(0.16, 0.06, "250 cm2 of finned plate in moving air per 100 A: common practice, no source").how("ride 15 minutes, IR thermometer on the base");
    t.figure<M(cable_space), "room its cables need at the terminal face", Kind::length, 0, 250 * mm).prior(75 * mm, 15 * mm, "60 to 90 mm for 35 mm2 cable: common practice, no source").how("bend the real cable with its lug, tape");
    t.figure<M(mass), "mass", Kind::mass, 0.1, 40).how("kitchen scale");
    t.count<M(ingress), "protection, second digit of its IP code", 0, 9).how(ask);
    return t.done();
  }();
  return table;
}

const Table& cell_fields() {
  static const Table table = [] {
    using S = Cell;
    Fields<S> t(60);
    purchase(t);
    box(t, 800 * mm);
    t.choice<M(chemistry), "chemistry", chemistries).how("the maker's data sheet; the shrink's colour says nothing");
    t.choice<M(format), "form", {"unknown", "cylindrical", "pouch", "prismatic", "module"});
    t.count<M(series_inside), "cells in series inside", 1, 60).how("count; a single cell is 1");
    t.count<M(parallel_inside), "cells in parallel inside", 1, 200).how("count; a single cell is 1");
    t.figure<M(voltage_max), "full voltage", Kind::voltage, 1.5, 300).how("data sheet: the highest charge voltage, of the whole unit");
    t.figure<M(voltage_nominal), "nominal voltage", Kind::voltage, 1.2, 280).how("data sheet");
    t.figure<M(voltage_min), "empty voltage", Kind::voltage, 1, 250).how("data sheet: the lowest discharge voltage, of the whole unit");
    t.figure<M(capacity), "capacity", Kind::charge, 0.5 * Ah, 500 * Ah).trait(Trait::capacity).how("discharge at 0.2 to 0.3 C to the empty voltage, log amp-hours");
    t.figure<M(current_continuous), "continuous discharge current", Kind::current, 0.5, 2000).how("data sheet, at the temperature you expect");
    t.figure<M(current_pulse), "pulse discharge current", Kind::current, 0.5, 4000).how("data sheet, with its seconds");
    t.figure<M(pulse_time), "for so long", Kind::time, 0.5, 600).how("data sheet");
    t.figure<M(charge_continuous), "continuous charge current", Kind::current, 0.1, 1500).how("data sheet, at the temperature you charge at");
    t.figure<M(charge_pulse), "pulse charge current (braking)", Kind::current, 0.1, 3000).how("data sheet, with its seconds");
    t.figure<M(resistance), "DC resistance, 10 s, 25 C", Kind::resistance, 0.05 * mohm, 1).trait(Trait::internal_resistance).how("two steady currents 10 s apart: volts lost over amps added; a 1 kHz meter reads too low");
    t.figure<M(mass), "mass", Kind::mass, 0.01, 60).how("kitchen scale");
    t.figure<M(charge_temperature_min), "coldest charge", Kind::temperature, celsius(-40), celsius(25)).how("data sheet");
    t.figure<M(charge_temperature_max), "warmest charge", Kind::temperature, celsius(30), celsius(80)).how("data sheet");
    t.figure<M(discharge_temperature_min), "coldest discharge", Kind::temperature, celsius(-60), celsius(10)).how("data sheet");
    t.figure<M(discharge_temperature_max), "warmest discharge", Kind::temperature, celsius(40), celsius(90)).how("data sheet");
    t.figure<M(compression), "pressure it wants on its faces", Kind::pressure, 0, 2e6).how("data sheet; 0 where none is asked for");
    t.figure<M(growth), "growth in thickness over life", Kind::share, 0, 0.15).prior(0.02, 0.008, "1 to 3 %: common practice, no source").how("data sheet");
    t.choice<M(terminal), "terminal", studs);
    t.choice<M(terminal_metal), "terminal metal", metals);
    t.figure<M(terminal_torque), "terminal torque", Kind::torque, 0, 60).how("data sheet");
    t.figure<M(cycle_life), "cycles to 80 %", Kind::ratio, 50, 30000).how("data sheet; at 0.5 C and 25 C");
    t.figure<M(health), "share of the new capacity it still has", Kind::share, 0.3, 1.05).prior(1, 0, "new cells: common practice, no source").how("capacity test of every used module");
    t.answer<M(salvage), "used or salvaged");
    t.answer<M(transport_papers), "transport test summary supplied");
    t.answer<M(tested), "capacity and resistance tested on arrival");
    return t.done();
  }();
  return table;
}

const Table& pack_fields() {
  static const Table table = [] {
    using S = Pack;
    Fields<S> t(50);
    box(t, 1200 * mm);
    t.count<M(series), "units in series", 1, 200).how("count them; multiply by what is in series inside a unit").decided();
    t.count<M(parallel), "units in parallel", 1, 200).how("count").decided();
    t.count<M(strings), "separately joined strings", 1, 10).how("count").decided();
    t.count<M(spares), "spare units bought", 0, 500).decided();
    t.count<M(boxes), "boxes it is split into", 1, 10).decided();
    t.count<M(probes), "temperature probes", 0, 64);
    t.figure<M(link_resistance), "resistance of one link between groups", Kind::resistance, 0, 5 * mohm).prior(0.15 * mohm, 0.05 * mohm, "bolted bar or short jumper: common practice, no source").how("four-wire meter over one joint, or millivolts at 50 A");
    t.figure<M(loop_resistance), "resistance outside the pack: cables, contactor, fuse", Kind::resistance, 0, 50 * mohm).prior(4 * mohm, 1.5 * mohm, "5 to 8 m of 35 mm2 cable, contactor and fuse: common practice, no source").how("two steady currents on the road: volts lost over amps added, less the pack's own");
    t.figure<M(overhead), "finished mass over cell mass", Kind::ratio, 1.02, 2.2).prior(1.32, 0.08, "1.25 to 1.45: common practice, no source").how("weigh the finished pack");
    t.figure<M(mass), "mass of the finished pack", Kind::mass, 2, 300).how("scale, in pieces");
    t.figure<M(wall), "wall, lid and clamps together, per direction", Kind::length, 0, 80 * mm).prior(16 * mm, 5 * mm, "common practice, no source").how("from the box drawing");
    t.figure<M(heater_power), "heater power", Kind::power, 0, 2000).how("its label; 0 where there is none");
    t.figure<M(busbar_width), "busbar width", Kind::length, 3 * mm, 80 * mm).how("caliper");
    t.figure<M(busbar_thickness), "busbar thickness", Kind::length, 0.1 * mm, 20 * mm).how("caliper");
    t.choice<M(busbar_metal), "busbar metal", {"unknown", "copper", "aluminium"}).how("a file's scratch: red copper, or silver through and through and light");
    t.figure<M(terminal_clearance), "room over the terminals", Kind::length, 0, 150 * mm).how("mock-up with lugs and covers");
    t.figure<M(creepage), "shortest distance between live parts of different voltage", Kind::length, 0, 100 * mm).how("caliper along the surface");
    t.answer<M(compressed), "cells held under pressure plates");
    t.answer<M(joint_compound), "joint compound on every bolted joint");
    t.answer<M(flexible_links), "links can give as cells grow");
    t.answer<M(vent), "vent or membrane away from the rider");
    t.answer<M(drain), "drain at the lowest point");
    t.answer<M(cells_supported), "no cell hangs on its terminals");
    t.answer<M(string_fuses), "each string has its own fuse");
    t.answer<M(plugs_keyed), "plugs cannot be mated in the wrong order");
    t.answer<M(mid_disconnect), "can be split in the middle for work");
    t.figure<M(string_voltage_difference), "voltage between strings before joining", Kind::voltage, 0, 100).how("meter, string against string");
    t.figure<M(string_resistance_difference), "resistance difference between strings", Kind::share, 0, 2).how("two steady currents on each string");
    t.figure<M(capacity_imbalance), "difference of charge between groups", Kind::charge, 0, 100 * Ah).how("charge the lowest group alone until it meets the rest, log amp-hours");
    t.figure<M(restraint_force), "force the pack's mounts hold", Kind::force, 0, 500e3).how("straps and bolts: area times allowed stress, or an engineer");
    t.figure<M(x), "centre of the pack ahead of the swingarm pivot", Kind::length, -800 * mm, 1200 * mm).how("tape on the mock-up");
    t.figure<M(z), "centre of the pack above the swingarm pivot", Kind::length, -400 * mm, 800 * mm).how("tape on the mock-up");
    return t.done();
  }();
  return table;
}

const Table& bms_fields() {
  static const Table table = [] {
    using S = Bms;
    Fields<S> t(36);
    purchase(t);
    box(t, 500 * mm);
    t.choice<M(type), "kind", {"unknown", {"fet_board", "board with power switches"}, {"monitor", "monitor that commands a contactor"}, {"alarm_only", "alarm only"}});
    t.count<M(series_min), "fewest cells in series", 1, 200).how(ask);
    t.count<M(series_max), "most cells in series", 1, 200).how(ask);
    t.set<M(chemistries), "chemistries", chemistries);
    t.answer<M(adjustable), "cell limits can be set");
    t.figure<M(current_continuous), "continuous current", Kind::current, 1, 2000).how("data sheet; ask on which cold plate");
    t.figure<M(current_trip), "trips above", Kind::current, 1, 4000).how("data sheet or its settings");
    t.figure<M(trip_delay), "after", Kind::time, 0, 60).prior(1, 0.4, "0.5 to 1.5 s: common practice, no source").how("data sheet or its settings");
    t.figure<M(current_charge), "current its charge path carries", Kind::current, 0.5, 1000).how(ask);
    t.figure<M(balance_current), "balance current", Kind::current, 0, 20).how(ask);
    t.figure<M(drain), "current it draws at rest", Kind::current, 0, 0.5).how("meter in series, key off, a minute");
    t.figure<M(voltage_max), "voltage its switches stand", Kind::voltage, 10, 1000).how(ask);
    t.figure<M(resistance), "resistance of its switches", Kind::resistance, 0, 20 * mohm).prior(1.5 * mohm, 0.5 * mohm, "power boards of 100 to 300 A: common practice, no source").how("millivolts across it at a known current");
    t.choice<M(port), "charge and discharge share the port", {"unknown", {"common", "common port"}, {"separate", "separate ports"}});
    t.count<M(probes), "temperature probes", 0, 64).how("count");
    t.answer<M(output), "its output suits what it switches").how("pin table: open drain or 12 V, current, polarity");
    t.answer<M(output_isolated), "its output is isolated, or shares one reference on purpose");
    t.answer<M(warns_controller), "tells the controller before it opens");
    t.figure<M(output_current), "current its output carries", Kind::current, 0, 20).how(ask);
    t.figure<M(mass), "mass", Kind::mass, 0.02, 10).how("kitchen scale");
    return t.done();
  }();
  return table;
}

const Table& charger_fields() {
  static const Table table = [] {
    using S = Charger;
    Fields<S> t(36);
    purchase(t);
    box(t, 600 * mm);
    t.figure<M(voltage), "end voltage", Kind::voltage, 10, 500).how("meter on its output with no load, before it ever meets the pack");
    t.figure<M(voltage_tolerance), "end voltage is held within", Kind::voltage, 0, 10).prior(0.4, 0.1, "0.5 %: common practice, no source").how(ask);
    t.figure<M(current), "output current", Kind::current, 0.5, 300).how(ask);
    t.figure<M(power_in), "input power", Kind::power, 50, 25000).how("its label");
    t.figure<M(voltage_in), "input voltage", Kind::voltage, 85, 450).how("its label");
    t.figure<M(current_in), "input current", Kind::current, 0.5, 63).how("its label, or a clamp meter");
    t.figure<M(efficiency), "efficiency", Kind::share, 0.7, 0.99).prior(0.92, 0.015, "90 to 94 %: common practice, no source").how(ask);
    t.figure<M(temperature_max), "warmest air it works in", Kind::temperature, celsius(25), celsius(80)).how(ask);
    t.figure<M(mass), "mass", Kind::mass, 0.2, 30).how("kitchen scale");
    t.answer<M(adjustable), "end voltage can be set");
    t.answer<M(isolated), "output isolated from the mains");
    t.answer<M(earthed), "case and frame earthed while plugged in");
    t.answer<M(enable_input), "can be stopped by the cell monitor");
    t.answer<M(pilot), "speaks the public post's pilot signal");
    t.answer<M(pins_dead), "pins dead when unplugged");
    t.answer<M(residual_type_known), "its residual-current device type is known and fitted").how("the charger's manual; an electrician fits it");
    t.count<M(ingress), "protection, second digit of its IP code", 0, 9).how(ask);
    return t.done();
  }();
  return table;
}

const Table& dcdc_fields() {
  static const Table table = [] {
    using S = Dcdc;
    Fields<S> t(24);
    purchase(t);
    box(t, 500 * mm);
    t.figure<M(voltage_in_min), "lowest input voltage", Kind::voltage, 8, 500).how(ask);
    t.figure<M(voltage_in_max), "highest input voltage", Kind::voltage, 20, 900).how(ask);
    t.figure<M(voltage_out), "output voltage", Kind::voltage, 11, 15).how("meter");
    t.figure<M(current_out), "output current", Kind::current, 0.5, 200).how(ask);
    t.figure<M(efficiency), "efficiency", Kind::share, 0.6, 0.98).prior(0.88, 0.03, "common practice, no source").how(ask);
    t.figure<M(idle_current), "current it draws from the pack at no load", Kind::current, 0, 0.5).how("meter in series at the pack, loads off");
    t.figure<M(back_drain), "current it takes from the 12 V side when off", Kind::current, 0, 5).how("meter in series at the 12 V side, pack side off");
    t.figure<M(mass), "mass", Kind::mass, 0.05, 20).how("kitchen scale");
    t.answer<M(isolated), "output isolated from the pack").how("meter between the two minus leads: over 1 Mohm");
    t.answer<M(enable_input), "can be switched off by a wire");
    return t.done();
  }();
  return table;
}

const Table& buffer_fields() {
  static const Table table = [] {
    using S = Buffer;
    Fields<S> t(12);
    purchase(t);
    t.figure<M(capacity), "capacity", Kind::charge, 0.5 * Ah, 60 * Ah).how("its label");
    t.figure<M(voltage), "voltage", Kind::voltage, 10, 15).how("meter at rest");
    t.figure<M(current_max), "current it gives", Kind::current, 1, 1000).how("its label");
    t.figure<M(mass), "mass", Kind::mass, 0.1, 20).how("kitchen scale");
    return t.done();
  }();
  return table;
}

const Table& contactor_fields() {
  static const Table table = [] {
    using S = Contactor;
    Fields<S> t(36);
    purchase(t);
    box(t, 300 * mm);
    t.figure<M(coil_voltage), "coil voltage", Kind::voltage, 5, 150).how("its label");
    t.figure<M(coil_voltage_min), "lowest coil voltage", Kind::voltage, 3, 150).how(ask);
    t.figure<M(coil_voltage_max), "highest coil voltage", Kind::voltage, 5, 200).how(ask);
    t.figure<M(pull_in_voltage), "pulls in at", Kind::voltage, 2, 120).how("bench supply turned up slowly");
    t.figure<M(pull_in_current), "pull-in current", Kind::current, 0.02, 20).how("data sheet; with an economiser it is a short surge");
    t.figure<M(hold_current), "hold current", Kind::current, 0.01, 10).how("clamp meter after a second");
    t.figure<M(current_carry), "carries", Kind::current, 5, 2000).how("data sheet, with the cable it assumes");
    t.figure<M(current_break), "breaks once at its voltage", Kind::current, 5, 5000).how("data sheet's curve at your full voltage");
    t.figure<M(voltage_max), "highest DC voltage it breaks", Kind::voltage, 12, 1500).how("data sheet: DC, not AC");
    t.figure<M(current_make), "makes without welding", Kind::current, 5, 5000).how(ask);
    t.figure<M(cable_section_assumed), "cable its rating assumes", Kind::area, 1 * mm2, 300 * mm2).how("small print of the data sheet");
    t.figure<M(withstand), "short-time withstand", Kind::current_squared_time, 1e3, 1e9).how(ask);
    t.figure<M(resistance), "contact resistance", Kind::resistance, 0.01 * mohm, 5 * mohm).prior(0.3 * mohm, 0.1 * mohm, "common practice, no source").how("millivolts across it at 50 A");
    t.figure<M(mass), "mass", Kind::mass, 0.05, 10).how("kitchen scale");
    t.answer<M(polarised), "polarised");
    t.answer<M(economiser), "has an economiser inside");
    t.answer<M(auxiliary_contact), "has an auxiliary contact");
    t.choice<M(stud), "stud", studs);
    return t.done();
  }();
  return table;
}

const Table& precharge_fields() {
  static const Table table = [] {
    using S = Precharge;
    Fields<S> t(16);
    purchase(t);
    t.figure<M(resistance), "resistor", Kind::resistance, 1, 20000).how("meter");
    t.figure<M(power), "resistor's power rating", Kind::power, 0.25, 500).how("its label");
    t.figure<M(pulse_energy), "energy it stands in one pulse", Kind::energy, 0.1, 5000).how(ask);
    t.figure<M(time), "time before the contactor closes", Kind::time, 0.05, 120).how("the timer's or the controller's setting");
    t.figure<M(relay_voltage), "DC voltage its relay breaks", Kind::voltage, 5, 1500).how("the relay's label: DC, not AC");
    t.figure<M(relay_current), "current its relay carries", Kind::current, 0.1, 100).how("the relay's label");
    t.figure<M(time_out), "gives up after", Kind::time, 0.1, 600).how("the timer's or the controller's setting");
    return t.done();
  }();
  return table;
}

const Table& fuse_fields() {
  static const Table table = [] {
    using S = Fuse;
    Fields<S> t(24);
    purchase(t);
    t.figure<M(current), "rating", Kind::current, 1, 2000).how("its label");
    t.figure<M(voltage_dc), "DC voltage rating", Kind::voltage, 12, 1500).how("its label: the DC figure; an AC figure does not carry over");
    t.figure<M(interrupt), "interrupts up to", Kind::current, 100, 300e3).how("its label or data sheet, on DC");
    t.figure<M(melt_time_2x), "melts at twice its rating in", Kind::time, 0.01, 3600).how("data sheet's curve");
    t.figure<M(melt_time_3x), "melts at three times its rating in", Kind::time, 1e-3, 600).how("data sheet's curve");
    t.figure<M(melt_time_5x), "melts at five times its rating in", Kind::time, 1e-3, 100).how("data sheet's curve");
    t.figure<M(melt_time_10x), "melts at ten times its rating in", Kind::time, 1e-4, 10).how("data sheet's curve");
    t.figure<M(clearing_i2t), "lets through when it clears", Kind::current_squared_time, 10, 1e8).how("data sheet, at your voltage");
    t.choice<M(stud), "stud", studs);
    return t.done();
  }();
  return table;
}

const Table& disconnect_fields() {
  static const Table table = [] {
    using S = Disconnect;
    Fields<S> t(16);
    purchase(t);
    t.figure<M(current), "carries", Kind::current, 5, 2000).how("its label");
    t.figure<M(voltage), "DC voltage", Kind::voltage, 12, 1500).how("its label");
    t.figure<M(current_break), "breaks", Kind::current, 0, 5000).how("data sheet; 0 where it must not be opened under load");
    t.answer<M(load_break), "may be opened under load");
    t.answer<M(by_hand_in_reach), "opened by hand, in reach, labelled");
    t.choice<M(stud), "stud", studs);
    return t.done();
  }();
  return table;
}

const Table& cable_fields() {
  static const Table table = [] {
    using S = Cable;
    Fields<S> t(24);
    purchase(t);
    t.figure<M(section), "copper section", Kind::area, 0.3 * mm2, 300 * mm2).how("printed on the jacket");
    t.figure<M(resistance), "resistance per metre", Kind::resistance_per_length, 1e-5, 0.1).how("data sheet; the standard's maximum for its size is used where none is given");
    t.figure<M(temperature_max), "insulation stands", Kind::temperature, celsius(50), celsius(260)).how("printed on the jacket");
    t.figure<M(outer_diameter), "outer diameter", Kind::length, 1 * mm, 40 * mm).how("caliper");
    t.figure<M(length), "length in all", Kind::length, 0.1, 50).how("string along the real path, plus 10 %");
    t.figure<M(bundled), "share of its free-air current when bundled or sleeved", Kind::share, 0.3, 1).prior(0.7, 0.08, "in a sleeve with others: common practice, no source").how("count what shares its sleeve");
    t.figure<M(mass), "mass per metre", Kind::mass_per_length, 0.005, 5).how("weigh a metre");
    t.answer<M(orange), "orange jacket");
    t.answer<M(fine_strand), "fine strand");
    t.figure<M(bend_radius), "tightest bend as laid", Kind::length, 1 * mm, 500 * mm).how("coin or disc held in the bend");
    return t.done();
  }();
  return table;
}

const Table& lug_fields() {
  static const Table table = [] {
    using S = Lug;
    Fields<S> t(12);
    purchase(t);
    t.figure<M(section), "barrel made for", Kind::area, 0.3 * mm2, 300 * mm2).how("stamped on it");
    t.figure<M(hole), "hole", Kind::length, 3 * mm, 20 * mm).how("caliper");
    t.set<M(holes), "other studs that lugs of this section are there for", studs);
    t.choice<M(metal), "metal", metals);
    t.figure<M(crimp_die), "die section", Kind::area, 0.3 * mm2, 300 * mm2).how("stamped on the die");
    return t.done();
  }();
  return table;
}

}  // namespace ww::build
