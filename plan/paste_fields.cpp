// SPDX-License-Identifier: MIT
// What sellers usually mean is common practice, no source.
#include "plan/paste_fields.h"

#include <iterator>

namespace ww::plan::paste {

namespace {

using S = Sense;
using figure::Kind;
constexpr Counted plain = Counted::no;
constexpr Sureness likely = Sureness::likely, ask = Sureness::ask, sure = Sureness::sure;

constexpr Senses shape = S::shaft | S::key | S::bolt_circle | S::pilot | S::bolts | S::dropout |
                         S::bore | S::hole | S::pitch | S::bar | S::vehicle | S::thickness |
                         S::radius;
constexpr Senses places = S::at_battery | S::at_phase | S::charging | S::discharging | S::input |
                          S::output | S::coil | S::contacts | S::balance | S::trip | S::at_rest |
                          S::low_cut | S::high_cut | S::cut_off | S::full | S::supply | S::signal |
                          S::withstand | S::short_circuit;
constexpr Senses high = S::peak | S::brief;
constexpr Senses steady = S::rated | S::continuous;
constexpr Senses ends_of_cell = S::cut_off | S::low_cut | S::full | S::high_cut;

// clang-format off
constexpr Meaning rows[] = {
  // --- motor ---
  {"motor", Kind::power, plain, "power_continuous", S::continuous, {}, high | S::input | S::per, sure, "continuous power"},
  {"motor", Kind::power, plain, "power_continuous", S::rated, {}, high | S::max | S::input | S::continuous, sure, "rated power, which the trade takes for continuous"},
  {"motor", Kind::power, plain, "power_peak", {}, high, steady | S::input, sure, "peak power"},
  {"motor", Kind::power, plain, "power_peak", S::max, {}, steady | high | S::input, sure, "the largest power, which the trade calls peak"},
  {"motor", Kind::power, plain, "power_continuous,power_peak", {}, {}, {}, ask, "the text does not say whether this power is continuous or peak"},
  {"motor", Kind::voltage, plain, "no_load_voltage", {}, S::voltage | S::rated, S::max | S::min | S::withstand | S::supply | S::ac | S::signal | S::low_cut | S::high_cut | S::operating | S::input | S::no_load, likely, "the voltage the seller rates it at"},
  {"motor", Kind::voltage, plain, "no_load_voltage", {}, {}, qualities | S::voltage | S::withstand | S::supply | S::ac | S::signal | S::low_cut | S::high_cut | S::operating | S::input | S::complement, likely, "a bare voltage of a motor is the one it is rated at"},
  {"motor", Kind::voltage, plain, "voltage_max", S::max, {}, S::withstand | S::supply | S::ac | S::rated | S::no_load, sure, "the highest voltage"},
  {"motor", Kind::voltage, plain, "..voltage_max", {}, {}, S::withstand | S::supply | S::ac | S::signal, likely, "the upper end of its voltage range"},
  {"motor", Kind::voltage, plain, "sensor_supply", S::supply, {}, S::max, likely, "supply of the sensor"},
  {"motor", Kind::voltage, plain, "", S::withstand, {}, {}, sure, "a test voltage of the insulation"},
  {"motor", Kind::voltage, plain, "", S::ac, {}, {}, sure, "an AC voltage"},
  {"motor", Kind::voltage, plain, "no_load_voltage,voltage_max", {}, {}, {}, ask, "the text does not say which voltage this is"},
  {"motor", Kind::current, plain, "no_load_current", S::no_load, {}, S::at_phase, sure, "no-load current"},
  {"motor", Kind::current, plain, "current_peak", S::at_phase, S::peak | S::max | S::brief, steady, sure, "the largest phase current"},
  {"motor", Kind::current, plain, "current_continuous", S::at_phase, steady, high | S::max, sure, "continuous phase current"},
  {"motor", Kind::current, plain, "current_peak", S::at_phase | S::peak, {}, steady, sure, "the largest phase current"},
  {"motor", Kind::current, plain, "", S::at_battery, {}, {}, sure, "a battery current: the motor's fields are phase currents; limit it at the controller"},
  {"motor", Kind::current, plain, "current_continuous,current_peak", {}, {}, {}, ask, "the text does not say whether this current flows in the battery cable or in a motor cable, or whether it is continuous or short"},
  {"motor", Kind::rotation, plain, "rated_speed", {}, steady, S::max | high | S::no_load, sure, "speed at the rated power"},
  {"motor", Kind::rotation, plain, "speed_max", {}, S::max | S::peak, steady | S::no_load, sure, "highest speed"},
  {"motor", Kind::rotation, plain, "", S::no_load, {}, {}, sure, "a no-load speed: over its voltage it gives the speed constant"},
  {"motor", Kind::rotation, plain, "rated_speed,speed_max", {}, {}, {}, ask, "the text does not say whether this speed is rated or the highest"},
  {"motor", Kind::torque, plain, "torque_peak", {}, S::max | S::peak | S::brief, steady, sure, "peak torque"},
  {"motor", Kind::torque, plain, "", {}, steady, {}, sure, "rated torque: it follows from continuous power and rated speed"},
  {"motor", Kind::torque, plain, "torque_peak", {}, {}, {}, ask, "the text does not say whether this torque is rated or peak"},
  {"motor", Kind::motor_constant, plain, "speed_constant", {}, {}, {}, sure, "speed per volt"},
  {"motor", Kind::torque_constant, plain, "torque_constant", {}, {}, {}, sure, "torque per amp"},
  {"motor", Kind::resistance, plain, "resistance", {}, {}, S::withstand, likely, "winding resistance"},
  {"motor", Kind::resistance, plain, "", S::withstand, {}, {}, sure, "resistance of the insulation"},
  {"motor", Kind::inductance, plain, "inductance", S::line_line, {}, {}, sure, "inductance between two leads"},
  {"motor", Kind::inductance, plain, "inductance", {}, {}, S::line_line, ask, "the text does not say whether this is between two leads or of one phase; between two leads is twice a phase"},
  {"motor", Kind::mass, plain, "mass", S::mass, {}, S::gross | S::per | S::complement, sure, "its mass"},
  {"motor", Kind::length, plain, "shaft_diameter", S::shaft | S::diameter, {}, S::length | S::with_shaft | S::key | S::dropout, sure, "shaft diameter"},
  {"motor", Kind::length, plain, "shaft_diameter", S::shaft, {}, S::length | S::with_shaft | S::without_shaft | S::key | S::dropout | S::diameter | S::bolts | S::outer | S::width, likely, "a shaft's bare measure is its diameter"},
  {"motor", Kind::length, plain, "shaft_length", S::shaft | S::length, {}, S::with_shaft | S::without_shaft | S::diameter | S::key, sure, "free shaft length"},
  {"motor", Kind::length, plain, "length", S::without_shaft, {}, S::with_shaft | S::diameter | S::shaft | S::width | S::height, sure, "length without shaft"},
  {"motor", Kind::length, plain, "", S::with_shaft, {}, S::without_shaft | S::diameter, sure, "a length over the shaft: the field wants the can without it"},
  {"motor", Kind::length, plain, "length,length_with_terminals", S::length, {}, S::with_shaft | S::without_shaft | S::shaft | S::key | S::diameter | S::dropout, ask, "the text does not say whether this length includes shaft, terminals or encoder cover"},
  {"motor", Kind::length, plain, "diameter", S::diameter, {}, shape | S::length | S::complement, sure, "can diameter"},
  {"motor", Kind::length, plain, "bolt_circle", S::bolt_circle, {}, {}, sure, "bolt circle"},
  {"motor", Kind::length, plain, "pilot_diameter", S::pilot, {}, S::length | S::height, sure, "pilot diameter"},
  {"motor", Kind::length, plain, "key_length", S::key | S::length, {}, {}, sure, "key length"},
  {"motor", Kind::length, plain, "key_width", S::key, {}, S::length, likely, "a key's bare measure is its width"},
  {"motor", Kind::length, plain, "dropout_width", S::dropout, {}, S::length, sure, "width between dropouts"},
  {"motor", Kind::length, plain, "axle_flats", S::flats, {}, {}, sure, "axle flats"},
  {"motor", Kind::length, plain, "", S::vehicle, {}, {}, sure, "a wheel's size"},
  {"motor", Kind::ratio, plain, "efficiency", S::efficiency, {}, {}, sure, "efficiency, at its best point"},
  {"motor", Kind::ratio, Counted::pole_pairs, "pole_pairs", {}, {}, {}, sure, "pole pairs"},
  {"motor", Kind::ratio, Counted::teeth, "spline_teeth", {}, {}, {}, likely, "teeth of a motor are its spline's"},
  {"motor", Kind::time, plain, "peak_time", {}, {}, S::warranty | S::delivery | S::returns | S::continuous | S::rated | S::withstand, likely, "how long the peak may last"},
  {"motor", Kind::temperature, plain, "winding_temperature_max", S::winding, {}, S::min, likely, "temperature limit of the winding"},
  {"motor", Kind::force, plain, "bearing_load_max", S::radius, {}, {}, likely, "radial load"},
  // --- controller ---
  {"controller", Kind::voltage, plain, "voltage_min..voltage_max", {}, {}, S::withstand | S::supply | S::signal | S::low_cut | S::high_cut | S::output, sure, "its operating range"},
  {"controller", Kind::voltage, plain, "voltage_max", S::max, {}, S::absolute | S::rated | S::supply | S::withstand | S::low_cut | S::high_cut | S::signal | S::output, likely, "the highest voltage; ask whether operating or absolute"},
  {"controller", Kind::voltage, plain, "voltage_min", S::min, {}, S::absolute | S::rated | S::supply | S::low_cut | S::high_cut, likely, "the lowest voltage"},
  {"controller", Kind::voltage, plain, "voltage_absolute", S::absolute, {}, S::supply | S::min, likely, "the absolute limit"},
  {"controller", Kind::voltage, plain, "supply_5V", S::supply, {}, S::max | S::min, likely, "supply it gives"},
  {"controller", Kind::voltage, plain, "", S::low_cut, {}, {}, sure, "a setting that cuts at low voltage, not a limit of the part"},
  {"controller", Kind::voltage, plain, "", S::high_cut, {}, {}, sure, "a setting that cuts at high voltage, not a limit of the part"},
  {"controller", Kind::voltage, plain, "", S::signal, {}, {}, sure, "a signal's voltage"},
  {"controller", Kind::voltage, plain, "voltage_max", {}, {}, {}, ask, "a voltage class is not the highest voltage it stands: a full pack is some 15 % above its class"},
  {"controller", Kind::current, plain, "current_battery_continuous", S::at_battery, steady, high | S::max | S::at_phase, sure, "continuous battery current"},
  {"controller", Kind::current, plain, "current_battery_continuous", S::at_battery | S::continuous, {}, high | S::at_phase, sure, "continuous battery current"},
  {"controller", Kind::current, plain, "current_battery", S::at_battery, S::max | S::peak | S::brief, steady | S::at_phase, sure, "battery current, short time"},
  {"controller", Kind::current, plain, "current_battery,current_battery_continuous", S::at_battery, {}, S::max | high | steady | S::at_phase, ask, "the text does not say whether this battery current is continuous or short"},
  {"controller", Kind::current, plain, "current_phase_continuous", S::at_phase, steady, high | S::max | S::at_battery, sure, "continuous phase current"},
  {"controller", Kind::current, plain, "current_phase_continuous", S::at_phase | S::continuous, {}, high | S::at_battery, sure, "continuous phase current"},
  {"controller", Kind::current, plain, "current_phase", S::at_phase, S::max | S::peak | S::brief, steady | S::at_battery, sure, "phase current, short time"},
  {"controller", Kind::current, plain, "current_phase,current_phase_continuous", S::at_phase, {}, S::max | high | steady | S::at_battery, ask, "the text does not say whether this phase current is continuous or short"},
  {"controller", Kind::current, plain, "contactor_drive_current", S::contactor, {}, {}, likely, "current of its contactor output"},
  {"controller", Kind::current, plain, "", S::at_rest, {}, {}, sure, "current at rest"},
  {"controller", Kind::current, plain, "current_battery,current_battery_continuous,current_phase,current_phase_continuous", {}, {}, {}, ask, "the text does not say whether this current flows in the battery cable or in a motor cable, or for how long"},
  {"controller", Kind::capacitance, plain, "capacitance", {}, {}, {}, likely, "input capacitance"},
  {"controller", Kind::frequency, plain, "frequency_max", S::max, {}, {}, likely, "highest electrical frequency"},
  {"controller", Kind::inductance, plain, "inductance_min", S::min, {}, {}, likely, "lowest motor inductance"},
  {"controller", Kind::ratio, plain, "efficiency", S::efficiency, {}, {}, sure, "efficiency, at its best point"},
  {"controller", Kind::mass, plain, "mass", S::mass, {}, S::gross | S::complement, sure, "its mass"},
  {"controller", Kind::time, plain, "burst_time", {}, {}, S::warranty | S::delivery | S::returns | S::continuous | S::rated, likely, "how long the short time is"},
  {"controller", Kind::power, plain, "", {}, {}, {}, sure, "a controller's power is its voltage times its battery current; used to tell which current is meant"},
  // --- cell, module, pack ---
  {"cell", Kind::voltage, plain, "voltage_nominal", S::rated, {}, S::max | S::min | ends_of_cell | S::charging | S::discharging, sure, "nominal voltage"},
  {"cell", Kind::voltage, plain, "voltage_max", {}, S::max | S::full | S::high_cut, S::rated | S::min | S::discharging | S::low_cut, sure, "full voltage"},
  {"cell", Kind::voltage, plain, "voltage_max", S::charging, {}, S::rated | S::min | S::discharging | S::low_cut | S::balance, sure, "charge voltage"},
  {"cell", Kind::voltage, plain, "voltage_min", {}, S::min | S::low_cut, S::rated | S::max | S::charging | S::full, sure, "empty voltage"},
  {"cell", Kind::voltage, plain, "voltage_min", S::cut_off, {}, S::rated | S::max | S::charging | S::full | S::high_cut, sure, "cut-off voltage"},
  {"cell", Kind::voltage, plain, "voltage_min", S::discharging, {}, S::rated | S::max | S::charging | S::full, likely, "discharge voltage"},
  {"cell", Kind::voltage, plain, "voltage_min..voltage_max", {}, {}, S::balance, likely, "its voltage range"},
  {"cell", Kind::voltage, plain, "voltage_nominal", {}, {}, qualities | ends_of_cell | S::charging | S::discharging | S::balance | S::complement | S::input, likely, "a bare voltage of a battery is the nominal one"},
  {"cell", Kind::voltage, plain, "voltage_nominal,voltage_max,voltage_min", {}, {}, {}, ask, "the text does not say which voltage this is"},
  {"cell", Kind::charge, plain, "capacity", {}, {}, S::usable | S::min | S::complement, sure, "capacity"},
  {"cell", Kind::charge, plain, "capacity", S::min, {}, S::usable, ask, "the least capacity beside a typical one"},
  {"cell", Kind::charge, plain, "", S::usable, {}, {}, sure, "a usable capacity is smaller than the cell's"},
  {"cell", Kind::current, plain, "current_continuous", S::continuous, {}, high | S::charging | S::trip | S::balance, sure, "continuous discharge current"},
  {"cell", Kind::current, plain, "current_continuous", S::rated, {}, high | S::charging | S::trip | S::max | S::continuous | S::balance, likely, "rated discharge current, taken for continuous"},
  {"cell", Kind::current, plain, "current_pulse", {}, high, S::charging | S::trip | steady | S::balance, sure, "pulse discharge current"},
  {"cell", Kind::current, plain, "charge_continuous", S::charging, steady | S::max, high | S::discharging, likely, "charge current"},
  {"cell", Kind::current, plain, "charge_pulse", S::charging, high, S::discharging | steady, likely, "pulse charge current"},
  {"cell", Kind::current, plain, "charge_continuous", S::charging, {}, high | S::discharging | steady | S::max, ask, "the text does not say whether this charge current is a recommendation or the limit"},
  {"cell", Kind::current, plain, "", S::trip, {}, {}, sure, "a setting of the BMS"},
  {"cell", Kind::current, plain, "", S::balance, {}, {}, sure, "a figure of the BMS"},
  {"cell", Kind::current, plain, "current_continuous,current_pulse", {}, {}, {}, ask, "the text does not say whether this current is continuous or short"},
  {"cell", Kind::resistance, plain, "resistance", {}, {}, S::withstand, likely, "internal resistance; listings give the value at 1 kHz, which is lower than what the ride sees"},
  {"cell", Kind::mass, plain, "mass", S::mass, {}, S::gross | S::complement, sure, "its mass"},
  {"cell", Kind::ratio, Counted::cycles, "cycle_life", {}, {}, {}, likely, "cycle life; ask to which capacity"},
  {"cell", Kind::ratio, plain, "health", S::health, {}, {}, sure, "remaining capacity"},
  {"cell", Kind::ratio, plain, "cycle_life", S::cycles, {}, {}, likely, "cycle life; ask to which capacity"},
  {"cell", Kind::temperature, plain, "charge_temperature_min..charge_temperature_max", S::charging, {}, S::discharging | S::storage, sure, "temperatures for charging"},
  {"cell", Kind::temperature, plain, "discharge_temperature_min..discharge_temperature_max", S::discharging, {}, S::charging | S::storage, sure, "temperatures for discharging"},
  {"cell", Kind::time, plain, "pulse_time", {}, {}, S::warranty | S::delivery | S::returns | S::continuous | S::rated | S::charging | S::trip | S::cycles, likely, "how long the pulse may last"},
  {"cell", Kind::pressure, plain, "compression", {}, {}, {}, likely, "pressure on its faces"},
  {"cell", Kind::energy, plain, "", {}, {}, {}, sure, "energy is voltage times capacity; used to check the two"},
  // --- BMS ---
  {"bms", Kind::current, plain, "current_continuous", {}, steady, S::charging | S::trip | S::balance | S::at_rest | high | S::short_circuit, sure, "continuous current"},
  {"bms", Kind::current, plain, "current_continuous", {}, {}, qualities | S::charging | S::trip | S::balance | S::at_rest | S::short_circuit | S::complement, likely, "a BMS is named by its continuous discharge current"},
  {"bms", Kind::current, plain, "current_trip", S::trip, {}, S::charging | S::short_circuit, sure, "it trips above this current"},
  {"bms", Kind::current, plain, "current_charge", S::charging, {}, S::trip | S::balance | S::discharging, sure, "current of the charge path"},
  {"bms", Kind::current, plain, "balance_current", S::balance, {}, {}, sure, "balance current"},
  {"bms", Kind::current, plain, "drain", S::at_rest, {}, {}, sure, "current at rest"},
  {"bms", Kind::current, plain, "", S::short_circuit, {}, {}, sure, "short-circuit protection"},
  {"bms", Kind::current, plain, "current_trip", {}, {}, {}, ask, "a peak current is no trip current: ask at what current it opens, and after how long"},
  {"bms", Kind::resistance, plain, "resistance", {}, {}, {}, likely, "resistance of its switches"},
  {"bms", Kind::mass, plain, "mass", S::mass, {}, S::gross, sure, "its mass"},
  {"bms", Kind::time, plain, "trip_delay", S::trip, {}, S::warranty | S::short_circuit, likely, "delay before it trips"},
  {"bms", Kind::voltage, plain, "", {}, {}, {}, sure, "a voltage class or a setting; the number of cells in series decides"},
  // --- charger ---
  {"charger", Kind::voltage, plain, "voltage", {}, S::charging | S::output | S::cut_off | S::full | S::max, S::input | S::ac | S::complement | S::rated | S::min, likely, "output voltage"},
  {"charger", Kind::voltage, plain, "voltage_in", {}, S::input | S::ac, S::output | S::dc, sure, "mains voltage"},
  {"charger", Kind::voltage, plain, "..", {}, S::input | S::ac, S::output, sure, "it takes a range of mains voltages; the field wants the one of your socket"},
  {"charger", Kind::voltage, plain, "voltage", {}, {}, {}, ask, "a charger's voltage class is not its end voltage: 72 V may be 82, 84, 87.6 or 88.2 V at the output"},
  {"charger", Kind::current, plain, "current", {}, {}, S::input | S::ac | S::no_load | S::complement, sure, "output current"},
  {"charger", Kind::current, plain, "current_in", {}, S::input | S::ac, S::output | S::charging, sure, "input current"},
  {"charger", Kind::power, plain, "power_in", S::input, {}, S::output, sure, "input power"},
  {"charger", Kind::power, plain, "", {}, {}, S::input, sure, "the field wants the input power; output power is voltage times current"},
  {"charger", Kind::ratio, plain, "efficiency", S::efficiency, {}, {}, sure, "efficiency, at its best point"},
  {"charger", Kind::mass, plain, "mass", S::mass, {}, S::gross, sure, "its mass"},
  {"charger", Kind::temperature, plain, "..temperature_max", S::operating, {}, S::storage, likely, "warmest air it works in"},
  // --- DC-DC ---
  {"dcdc", Kind::voltage, plain, "voltage_in_min..voltage_in_max", {}, {}, S::output, sure, "input range"},
  {"dcdc", Kind::voltage, plain, "voltage_out", S::output, {}, S::input, sure, "output voltage"},
  {"dcdc", Kind::voltage, plain, "voltage_in_max", S::input | S::max, {}, S::output, sure, "highest input voltage"},
  {"dcdc", Kind::voltage, plain, "voltage_in_min", S::input | S::min, {}, S::output, sure, "lowest input voltage"},
  {"dcdc", Kind::voltage, plain, "voltage_in_max", {}, {}, S::output, ask, "an input voltage class is no limit: a full pack is some 15 % above its class"},
  {"dcdc", Kind::current, plain, "current_out", {}, {}, S::input | S::no_load | S::at_rest | high | S::trip | S::short_circuit, sure, "output current"},
  {"dcdc", Kind::current, plain, "idle_current", {}, S::no_load | S::at_rest, {}, sure, "current at no load"},
  {"dcdc", Kind::current, plain, "", S::input, {}, {}, sure, "input current follows from the output"},
  {"dcdc", Kind::current, plain, "current_out", {}, high, {}, ask, "a peak output current is not what it gives all day"},
  {"dcdc", Kind::ratio, plain, "efficiency", S::efficiency, {}, {}, sure, "efficiency, at its best point"},
  {"dcdc", Kind::mass, plain, "mass", S::mass, {}, S::gross, sure, "its mass"},
  {"dcdc", Kind::power, plain, "", {}, {}, {}, sure, "output power is voltage times current"},
  // --- contactor ---
  {"contactor", Kind::voltage, plain, "coil_voltage", S::coil, {}, S::contacts | S::max | S::min, sure, "coil voltage"},
  {"contactor", Kind::voltage, plain, "coil_voltage_min..coil_voltage_max", S::coil, {}, {}, sure, "coil range"},
  {"contactor", Kind::voltage, plain, "..voltage_max", S::contacts, {}, S::coil | S::ac, sure, "highest voltage of the contacts"},
  {"contactor", Kind::voltage, plain, "voltage_max", S::contacts, {}, S::coil | S::ac, likely, "voltage of the contacts"},
  {"contactor", Kind::voltage, plain, "voltage_max", S::max, {}, S::coil | S::ac | S::withstand, likely, "highest voltage"},
  {"contactor", Kind::voltage, plain, "", S::withstand, {}, {}, sure, "a test voltage of the insulation"},
  {"contactor", Kind::voltage, plain, "coil_voltage,voltage_max", {}, {}, {}, ask, "the text does not say whether this is the coil's voltage or the contacts'"},
  {"contactor", Kind::current, plain, "current_carry", {}, steady | S::carrying, S::breaking | S::coil | high, sure, "current it carries"},
  {"contactor", Kind::current, plain, "current_carry", {}, {}, qualities | S::breaking | S::coil | S::at_rest | S::complement | S::output, likely, "a contactor is named by the current it carries"},
  {"contactor", Kind::current, plain, "current_break", S::breaking, {}, S::coil, likely, "current it breaks once"},
  {"contactor", Kind::current, plain, "hold_current", S::coil, {}, S::breaking | high | S::max, ask, "the text does not say whether this coil current is at pull-in or for holding"},
  {"contactor", Kind::current, plain, "current_carry,current_break,current_make", {}, {}, {}, ask, "the text does not say whether it carries, makes or breaks this current"},
  {"contactor", Kind::resistance, plain, "resistance", S::contacts, {}, S::coil | S::withstand, sure, "contact resistance"},
  {"contactor", Kind::mass, plain, "mass", S::mass, {}, S::gross, sure, "its mass"},
  // --- fuse, disconnect ---
  {"fuse", Kind::current, plain, "current", {}, {}, S::breaking | S::complement | S::max, sure, "rating"},
  {"fuse", Kind::current, plain, "interrupt", S::breaking, {}, {}, sure, "current it interrupts"},
  {"fuse", Kind::voltage, plain, "voltage_dc", S::dc, {}, S::ac, sure, "DC voltage rating"},
  {"fuse", Kind::voltage, plain, "", S::ac, {}, S::dc, sure, "an AC rating does not carry over to DC"},
  {"fuse", Kind::voltage, plain, "voltage_dc", {}, {}, {}, ask, "the text does not say whether this is a DC or an AC rating; the DC one is often half"},
  {"fuse", Kind::current_squared_time, plain, "clearing_i2t", {}, {}, {}, ask, "the text does not say whether this is to melt or to clear"},
  {"disconnect", Kind::current, plain, "current", {}, {}, high | S::breaking | S::max | S::complement, sure, "current it carries"},
  {"disconnect", Kind::current, plain, "current_break", S::breaking, {}, {}, sure, "current it breaks"},
  {"disconnect", Kind::current, plain, "current,current_break", {}, {}, {}, ask, "the text does not say whether it carries this current for long"},
  {"disconnect", Kind::voltage, plain, "voltage", {}, {}, S::ac | S::complement, sure, "its DC voltage"},
  {"disconnect", Kind::voltage, plain, "..voltage", {}, {}, S::ac, likely, "the upper end of its voltage range"},
  // --- driveline ---
  {"chain", Kind::ratio, Counted::links, "links", {}, {}, {}, sure, "links"},
  {"chain", Kind::force, plain, "tensile", {}, {}, {}, sure, "breaking load"},
  {"chain", Kind::mass_per_length, plain, "mass", {}, {}, {}, sure, "mass per metre"},
  {"chain", Kind::length, plain, "pitch", S::pitch, {}, {}, sure, "pitch"},
  {"chain", Kind::length, plain, "roller", S::diameter, {}, S::outer, likely, "roller diameter"},
  {"chain", Kind::length, plain, "inner_width", S::width, {}, S::outer, likely, "inner width"},
  {"sprocket", Kind::ratio, Counted::teeth, "teeth", {}, {}, {}, sure, "teeth"},
  {"sprocket", Kind::length, plain, "bore", S::bore, {}, {}, sure, "bore"},
  {"sprocket", Kind::length, plain, "key_width", S::key, {}, {}, likely, "keyway width"},
  {"sprocket", Kind::length, plain, "bolt_circle", S::bolt_circle, {}, {}, sure, "bolt circle"},
  {"sprocket", Kind::length, plain, "pitch", S::pitch, {}, {}, sure, "pitch"},
  {"sprocket", Kind::length, plain, "tooth_width", S::teeth, S::width | S::thickness, {}, sure, "tooth width"},
  {"sprocket", Kind::length, plain, "bolt", S::bolts, {}, S::bolt_circle, likely, "bolt size"},
  {"sprocket", Kind::mass, plain, "mass", S::mass, {}, S::gross, sure, "its mass"},
  // --- wires and small parts ---
  {"cable", Kind::area, plain, "section", {}, {}, {}, sure, "copper section"},
  {"cable", Kind::length, plain, "outer_diameter", S::diameter, {}, S::radius, sure, "outer diameter"},
  {"cable", Kind::length, plain, "bend_radius", S::radius, {}, {}, ask, "the tightest bend is the one you lay"},
  {"cable", Kind::length, plain, "length", {}, {}, S::diameter | S::radius | S::outer | S::thickness, likely, "length in all"},
  {"cable", Kind::temperature, plain, "temperature_max", {}, {}, S::min, likely, "insulation stands"},
  {"cable", Kind::temperature, plain, "..temperature_max", {}, {}, {}, likely, "insulation stands"},
  {"lug", Kind::area, plain, "section", {}, {}, {}, sure, "barrel made for"},
  {"lug", Kind::length, plain, "hole", S::hole, {}, {}, sure, "hole"},
  {"throttle", Kind::voltage, plain, "voltage_rest..voltage_full", {}, {}, S::supply | S::input, likely, "signal at rest and at full twist"},
  {"throttle", Kind::voltage, plain, "supply", {}, {}, S::signal | S::output, likely, "a bare voltage of a throttle is its supply"},
  {"throttle", Kind::length, plain, "bar_diameter", S::bar, {}, S::length, likely, "bar it fits"},
  {"throttle", Kind::length, plain, "length", S::length, {}, {}, sure, "length on the bar"},
  {"display", Kind::voltage, plain, "supply_min..supply_max", {}, {}, {}, likely, "supply range"},
  {"display", Kind::current, plain, "shunt_current", {}, {}, {}, likely, "current of its shunt"},
  // --- every part ---
  {"", Kind::length, plain, "length", S::length, {}, shape | S::diameter | S::with_shaft | S::gross, sure, "outside length"},
  {"", Kind::length, plain, "width", S::width, {}, shape | S::gross, sure, "outside width"},
  {"", Kind::length, plain, "height", S::height, {}, shape | S::gross, sure, "outside height"},
  {"", Kind::length, plain, "width", S::thickness, {}, S::gross, likely, "thickness, entered as width"},
  {"", Kind::mass, plain, "mass", {}, {}, qualities | S::gross | S::per | S::complement | S::mass, likely, "the only mass of a part is its own"},
  {"", Kind::mass, plain, "", S::gross, {}, {}, sure, "mass with packing"},
  {"", Kind::time, plain, "lead_time", S::delivery, {}, S::returns | S::warranty, sure, "time to delivery"},
  {"", Kind::time, plain, "return_window", S::returns, {}, S::delivery | S::warranty, sure, "time for sending it back"},
  {"", Kind::time, plain, "", S::warranty, {}, {}, sure, "warranty"},
  {"", Kind::current, plain, "", S::complement, {}, {}, sure, "it speaks of what the part is for"},
  {"", Kind::voltage, plain, "", S::complement, {}, {}, sure, "it speaks of what the part is for"},
  {"", Kind::temperature, plain, "", {}, {}, {}, sure, "no field asks for this temperature"},
  {"", Kind::temperature, plain, "..", {}, {}, {}, sure, "no field asks for this range"},
};

constexpr PartWord parts[] = {
  {S::motor, "motor", "motor", 1}, {S::battery, "cell", "pack", 2}, {S::module, "cell", "module", 2}, {S::cell, "cell", "cell", 2},
  {S::controller, "controller", "controller", 3}, {S::chain, "chain", "chain", 3}, {S::bms, "bms", "bms", 4}, {S::charger, "charger", "charger", 5}, {S::dcdc, "dcdc", "dcdc", 4},
  {S::contactor, "contactor", "contactor", 4}, {S::fuse, "fuse", "fuse", 4}, {S::sprocket, "sprocket", "sprocket", 5}, {S::throttle, "throttle", "throttle", 4}, {S::display, "display", "display", 0},
  {S::cable, "cable", "cable", 3}, {S::lug, "lug", "lug", 5}, {S::disconnect, "disconnect", "disconnect", 5}, {S::tyre, "tyre", "tyre", 3}, {S::belt, "belt", "belt", 3},
};

constexpr Saying said[] = {
  {"motor", "type", "pm_hub", "hub|hub motor|hub-motor|nabenmotor|radnabenmotor|moteur roue|moteur-roue|motor de buje|naafmotor|轮毂电机|轮毂"},
  {"motor", "type", "pm_axial", "axial flux|axial-flux|pancake|scheibenlaufer|scheibenmotor|flux axial|flujo axial|flusso assiale|盘式"},
  {"motor", "type", "induction", "induction motor|ac induction|asynchron|asynchrone|asincrono|induktionsmotor|asynchronmotor|异步"},
  {"motor", "type", "brushed_series", "series wound|series-wound|series motor|reihenschluss"},
  {"motor", "type", "pm_radial", "mid drive|mid-drive|middrive|mittelmotor|inrunner|pmsm|synchronmotor|brushless|bldc|bürstenlos|burstenlos|sin escobas|permanent magnet|pm motor", Sureness::likely},
  {"motor", "cooling", "liquid", "liquid cool|liquid-cool|water cool|water-cool|wassergekuhlt|flussigkeitsgekuhlt|flussigkuhlung|wasserkuhlung|refroidissement : liquide|refroidissement liquide|refroidissement: liquide|liquide|refrigeracion liquida|raffreddamento a liquido|raffreddato a liquido|水冷|液冷|vloeistofgekoeld|watergekoeld|chlodzenie ciecza|chlodzony ciecza"},
  {"motor", "cooling", "air", "air cool|air-cool|luftgekuhlt|luftkuhlung|refroidissement par air|refroidissement a air|refrigeracion por aire|refrigerado por aire|raffreddamento ad aria|raffreddato ad aria|风冷|luchtgekoeld|chlodzenie powietrzem|chlodzony powietrzem"},
  {"motor", "cooling", "oil", "oil cool|oil-cool|olgekuhlt|油冷"},
  {"motor", "sensor", "sin_cos", "sin/cos|sin-cos|sincos|sin cos|sine/cosine|sine cosine|正余弦"},
  {"motor", "sensor", "resolver", "resolver|旋变|旋转变压器"},
  {"motor", "sensor", "hall", "hall|hallgeber|hallsensor|霍尔"},
  {"motor", "sensor", "encoder", "encoder|codeur|inkrementalgeber|drehgeber|编码器"},
  {"motor", "temperature_sensor", "yes", "temperature sensor|temp sensor|thermal sensor|temperatursensor|temperaturfuhler|ntc|thermistor|sonde de temperature|sensor de temperatura|温度传感器"},
  {"motor", "shaft", "keyed", "keyed shaft|keyway shaft|shaft with key|mit passfeder"},
  {"motor", "shaft", "splined", "splined shaft|spline shaft|splined|spline|keilwelle|arbre cannele|花键"},
  {"controller", "sensors", "hall", "hall|hallgeber|hallsensor|霍尔"},
  {"controller", "sensors", "encoder", "encoder|codeur|编码器"},
  {"controller", "sensors", "sin_cos", "sin/cos|sin-cos|sincos|sin cos"},
  {"controller", "sensors", "resolver", "resolver|旋变"},
  {"controller", "regen", "yes", "regen|rekuperation|regenerative|recuperacion|recuperation|recupero"},
  {"controller", "field_weakening", "yes", "field weakening|field-weakening|feldschwachung|flux weakening|弱磁"},
  {"cell", "chemistry", "lfp", "lifepo4|lifepo|lfp|lithium iron|lithium-eisen|磷酸铁锂"},
  {"cell", "chemistry", "nmc", "nmc|ncm|三元"},
  {"cell", "chemistry", "nca", "nca"},
  {"cell", "chemistry", "lto", "lto|titanate|titanat|钛酸锂"},
  {"cell", "chemistry", "sodium", "sodium|natrium-ion|na-ion|钠"},
  {"cell", "chemistry", "lead", "lead acid|lead-acid|agm|blei"},
  {"cell", "format", "prismatic", "prismatic|prismatisch|prismatique|prismatica|prismatico|pryzmatyczn|方形"},
  {"cell", "format", "pouch", "pouch|软包"},
  {"cell", "format", "cylindrical", "cylindrical|18650|21700|26650|32700|32650|4680|46800|rundzelle|zylindrisch|cylindryczn|圆柱"},
  {"cell", "salvage", "yes", "salvage|used|second hand|second-hand|gebraucht|occasion|usado|usato|uzywan|tweedehands|拆机"},
  {"bms", "port", "common", "common port|common-port|同口|gleicher anschluss"},
  {"bms", "port", "separate", "separate port|separate-port|split port|分口|getrennte ladung|getrennter anschluss"},
  {"bms", "chemistries", "lfp", "lifepo4|lifepo|lfp|磷酸铁锂"},
  {"bms", "chemistries", "nmc", "nmc|ncm|三元"},
  {"bms", "chemistries", "lto", "lto"},
  {"dcdc", "isolated", "yes", "isolated|galvanisch getrennt|potentialgetrennt|isole|aislado|isolato|geisoleerd|izolowan|隔离"},
  {"charger", "isolated", "yes", "galvanically isolated|isolated output|galvanisch getrennt"},
  {"contactor", "economiser", "yes", "economizer|economiser|sparschaltung"},
  {"contactor", "auxiliary_contact", "yes", "auxiliary contact|aux contact|hilfskontakt|contact auxiliaire"},
  {"chain", "sealed", "yes", "o-ring|o ring|x-ring|x ring|oring|xring|z-ring|sealed|joint torique|joints toriques"},
  {"sprocket", "material", "aluminium", "aluminium|aluminum|alu|7075|alluminio|aluminio"},
  {"sprocket", "material", "steel", "steel|stahl|acier|acero|acciaio|staal|stal"},
  {"cable", "orange", "yes", "orange|naranja|arancione|oranje"},
  {"cable", "fine_strand", "yes", "fine strand|fine-strand|fine stranded|finely stranded|feindrahtig|feinstdrahtig|extra flexible|highly flexible"},
  {"lug", "metal", "copper", "copper|kupfer|cuivre|cobre|rame|koper"},
  {"lug", "metal", "aluminium", "aluminium|aluminum"},
  {"disconnect", "load_break", "yes", "opened under load|break under load|load break|unter last schaltbar|can be opened under load"},
  {"throttle", "type", "hall", "hall|霍尔"},
  {"throttle", "type", "resistive", "resistive|potentiometer|0-5k|poti"},
};

constexpr SellerWording wordings[] = {
  {"motor.power_continuous", "What power does the motor give at the shaft for an hour without overheating (S1, or a 30-minute rating), and at which speed and voltage?"},
  {"motor.power_peak", "What is the peak power at the shaft, and for how many seconds?"},
  {"motor.peak_time", "For how many seconds may the peak power be used: 10, 30, 60 or 300?"},
  {"motor.speed_constant", "How many rpm does it turn per volt without load, and is that volt measured at the battery (DC), or between two motor cables as peak or as rms?"},
  {"motor.torque_constant", "How many Nm does it give per amp, and is that amp the current in one motor cable as peak, as rms, or the battery's?"},
  {"motor.current_peak", "What is the largest current in one of the three motor cables (not in the battery cable), is it peak or rms, and for how many seconds?"},
  {"motor.current_continuous", "What current may flow all the time in one of the three motor cables (not in the battery cable), and is it peak or rms?"},
  {"motor.resistance", "What is the winding resistance between two of the three motor cables, cold?"},
  {"motor.resistance_between", "Is the resistance measured between two motor cables, or is it the value of one phase?"},
  {"motor.inductance", "What is the inductance between two of the three motor cables?"},
  {"motor.voltage_max", "What is the highest battery voltage, fully charged, that the motor may be run at?"},
  {"motor.no_load_voltage", "At which voltage were the rated speed and power measured?"},
  {"motor.length", "How long is the housing from the mounting face to the rear cover, without shaft and without cable outlet? And over everything that sticks out?"},
  {"motor.length_with_terminals", "How long is it from the mounting face over everything that sticks out at the rear (cover, encoder, cable outlet)?"},
  {"motor.diameter", "What is the largest diameter of the housing, with its ribs?"},
  {"motor.shaft_diameter", "What is the shaft's diameter in mm, and the width of its key?"},
  {"motor.sensor", "Which position sensor is inside: hall, sin/cos, resolver or encoder? From what voltage is it fed?"},
  {"motor.pole_pairs", "How many pole pairs (magnet poles divided by two) has the rotor?"},
  {"motor.mass", "What does the bare motor weigh, without package and mounting plate?"},
  {"motor.torque_peak", "What is the peak torque at the shaft, and at which current?"},
  {"motor.speed_max", "What is the highest speed the rotor may turn, whatever the voltage?"},
  {"motor.rated_speed", "At which speed is the continuous power given?"},
  {"motor.shaft", "How does the shaft end: with a key, a spline, a flange, or is it a wheel? Which sizes?"},
  {"motor.type", "What kind of motor is it: permanent magnets (radial, axial or hub), induction, or brushed?"},
  {"controller.voltage_max", "What is the highest battery voltage, fully charged, at which the controller may work? I mean the operating limit, not the class and not the voltage that destroys it."},
  {"controller.voltage_min", "What is the lowest battery voltage at which it still works?"},
  {"controller.voltage_absolute", "Which voltage at the battery terminals destroys it?"},
  {"controller.current_battery", "What is the largest current in the battery cable (not in the motor cables), and for how many seconds?"},
  {"controller.current_battery_continuous", "What current in the battery cable can it carry all the time, and at which temperature of its base?"},
  {"controller.current_phase", "What is the largest current in one of the three motor cables, is it peak or rms, and for how many seconds?"},
  {"controller.current_phase_continuous", "What current can flow all the time in one of the three motor cables, and is it peak or rms?"},
  {"controller.capacitance", "What is the capacitance at the battery terminals, in uF?"},
  {"controller.regen", "Can it brake with the motor (regenerative braking), and can that be switched off?"},
  {"controller.drives", "Which motors does it drive: permanent magnet (PMSM/BLDC), induction, or brushed?"},
  {"controller.sensors", "Which position sensors does it read: hall, sin/cos, resolver, encoder?"},
  {"controller.regen_fold_back", "Does it reduce regenerative braking by itself when the battery voltage gets too high?"},
  {"controller.software_included", "Are the setting software and its cable included, and do they work for a private buyer?"},
  {"controller.pinout_in_hand", "Please send the pin list of the connectors."},
  {"cell.chemistry", "What is the chemistry: LFP, NMC, NCA or another? Please send the maker's data sheet."},
  {"cell.voltage_max", "What is the highest charge voltage of the whole unit?"},
  {"cell.voltage_nominal", "What is the nominal voltage of the whole unit, and how many cells are in series?"},
  {"cell.voltage_min", "To what voltage may the whole unit be discharged?"},
  {"cell.capacity", "What is the capacity in Ah, at which discharge current, and down to what voltage?"},
  {"cell.current_continuous", "What discharge current may flow all the time, limited by the cells or by the BMS?"},
  {"cell.current_pulse", "What is the largest discharge current, and for how many seconds?"},
  {"cell.charge_continuous", "What is the highest allowed charge current, and in which temperature range?"},
  {"cell.resistance", "What is the internal resistance as DC value (10 s pulse, 25 C), not at 1 kHz?"},
  {"cell.series_inside", "How many cells are in series inside?"},
  {"cell.mass", "What does one unit weigh?"},
  {"cell.terminal", "How is it connected: welded tabs, or studs of which thread (M4 to M12)?"},
  {"cell.charge_temperature_min", "What is the lowest temperature at which it may be charged?"},
  {"cell.compression", "Does the maker ask for pressure on the cell's faces, and how much?"},
  {"cell.transport_papers", "Do you supply the transport test summary (UN 38.3)?"},
  {"bms.series_max", "For how many cells in series is this board: exactly how many, or from how many to how many?"},
  {"bms.current_continuous", "What discharge current can it carry all the time, and with what cooling?"},
  {"bms.current_trip", "At what current does it open, and after how many seconds?"},
  {"bms.current_charge", "What current may flow backwards (charging and braking) through it?"},
  {"bms.drain", "What current does it draw from the pack at rest?"},
  {"bms.chemistries", "For which chemistry are its limits set, and can they be changed?"},
  {"charger.voltage", "What exact voltage does the charger give at the end of charging, measured at its output without load: 82.0, 84.0, 87.6 V or another?"},
  {"charger.current", "What is the output current?"},
  {"charger.isolated", "Is the DC output galvanically isolated from the mains?"},
  {"charger.current_in", "What current does it draw from the mains at full load?"},
  {"charger.power_in", "What power does it draw from the mains at full load?"},
  {"dcdc.voltage_in_max", "What is the highest input voltage it may see all the time?"},
  {"dcdc.voltage_in_min", "What is the lowest input voltage at which it still gives full current?"},
  {"dcdc.voltage_out", "What is the output voltage under load?"},
  {"dcdc.current_out", "What output current can it give all the time?"},
  {"dcdc.isolated", "Is the output galvanically isolated from the input?"},
  {"dcdc.idle_current", "What current does it draw from the pack with no load?"},
  {"contactor.coil_voltage", "What voltage does the coil need, and from what to what voltage may it be fed?"},
  {"contactor.current_carry", "What current do the contacts carry all the time, and with which cable section?"},
  {"contactor.voltage_max", "What is the highest DC voltage (not AC) the contacts may break?"},
  {"contactor.current_break", "What DC current can it break, at which voltage, and how many times?"},
  {"contactor.economiser", "Is there an economiser inside the coil?"},
  {"contactor.polarised", "Are the main contacts polarised (marked plus and minus)?"},
  {"fuse.voltage_dc", "What is the DC voltage rating (not the AC one)?"},
  {"fuse.interrupt", "What current can it interrupt on DC?"},
  {"fuse.current", "What is its current rating?"},
  {"fuse.melt_time_5x", "Please send its time-current curve: how long does it take to melt at five times its rating?"},
  {"chain.designation", "Which size is stamped on the plates: 420, 428, 520, 525 or 530?"},
  {"chain.tensile", "What is its breaking load in kN?"},
  {"sprocket_front.teeth", "How many teeth has it?"},
  {"sprocket_front.pitch", "For which chain size is it cut: 420, 428, 520, 525 or 530?"},
};
// clang-format on

}  // namespace

const std::vector<Meaning>& meanings() {
  static const std::vector<Meaning> all(std::begin(rows), std::end(rows));
  return all;
}
const std::vector<PartWord>& part_words() {
  static const std::vector<PartWord> all(std::begin(parts), std::end(parts));
  return all;
}

Senses neutral_parts(std::string_view shelf) {
  if (shelf == "motor") return S::battery | S::cable;
  if (shelf == "controller") return S::battery | S::motor | S::cable;
  if (shelf == "cell") return S::battery | S::module | S::cell;
  if (shelf == "bms") return S::battery | S::module | S::cell;
  if (shelf == "charger") return S::battery | S::module | S::cell | S::cable;
  if (shelf == "dcdc" || shelf == "fuse" || shelf == "display") return S::battery | S::cable;
  if (shelf == "contactor" || shelf == "disconnect") return S::battery | S::motor | S::cable;
  if (shelf == "cable") return S::battery | S::motor;
  if (shelf == "lug") return S::cable | S::battery;
  if (shelf == "sprocket") return S::chain | S::motor;
  if (shelf == "chain") return S::sprocket;
  return {};
}

const std::vector<Saying>& sayings() {
  static const std::vector<Saying> all(std::begin(said), std::end(said));
  return all;
}
const std::vector<SellerWording>& seller_wordings() {
  static const std::vector<SellerWording> all(std::begin(wordings), std::end(wordings));
  return all;
}

}  // namespace ww::plan::paste
