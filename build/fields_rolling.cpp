// SPDX-License-Identifier: MIT
// Field tables of driveline, wheels, controls, settings, layout, wiring and money.
#include "build/declare.h"

namespace ww::build {

using namespace declare;

const Table& gearing_fields() {
  static const Table table = [] {
    using S = Gearing;
    Fields<S> t(16);
    t.choice<M(drive), "final drive", {"unknown", "chain", "belt", {"hub", "motor in the hub"}, {"shaft", "shaft drive"}}).decided();
    t.count<M(front_teeth), "front teeth", 9, 40).how("count").decided();
    t.count<M(rear_teeth), "rear teeth", 15, 120).how("count").decided();
    t.figure<M(primary_ratio), "ratio of a stage before the chain", Kind::ratio, 0.5, 12).prior(1, 0, "none: common practice, no source").how("teeth over teeth");
    t.figure<M(centre_distance), "front to rear sprocket centre", Kind::length, 200 * mm, 1000 * mm).how("tape between the shaft centres, adjuster in the middle");
    t.figure<M(adjuster_range), "range of the adjuster", Kind::length, 0, 120 * mm).how("tape along the slot");
    t.figure<M(chain_slack), "chain slack at mid-span", Kind::length, 0, 120 * mm).how("ruler, rider seated, at the tightest spot");
    t.figure<M(efficiency), "efficiency at full load", Kind::share, 0.8, 1).prior(0.97, 0.01, "96 to 99 % below 75 mph, Burgess and Lodge 2004");
    t.figure<M(chainline_error), "sprockets out of line by", Kind::length, 0, 50 * mm).how("straight-edge or laser line along both sprockets");
    t.figure<M(guard_gap), "chain to guard", Kind::length, 0, 100 * mm).how("caliper at the nearest point");
    t.figure<M(tyre_gap), "chain to tyre, at full load", Kind::length, 0, 150 * mm).how("caliper at the nearest point, tyre warm");
    return t.done();
  }();
  return table;
}

const Table& chain_fields() {
  static const Table table = [] {
    using S = Chain;
    Fields<S> t(18);
    purchase(t);
    t.text<M(designation), "size, as stamped").how("stamped on the link plates");
    t.figure<M(pitch), "pitch", Kind::length, 5 * mm, 30 * mm).how("twenty links over twenty");
    t.figure<M(roller), "roller diameter", Kind::length, 3 * mm, 20 * mm).how("caliper");
    t.figure<M(inner_width), "inner width", Kind::length, 2 * mm, 25 * mm).how("caliper between the inner plates");
    t.figure<M(tensile), "breaking load", Kind::force, 2000, 200e3).how("data sheet; the standard's table could not be read, so ask");
    t.figure<M(mass), "mass per metre", Kind::mass_per_length, 0.1, 6).how("weigh it over its length");
    t.figure<M(price_per_link), "price per link", Kind::money, 0, 50);
    t.answer<M(sealed), "sealed with rings");
    t.count<M(links), "links", 20, 300).how("count");
    return t.done();
  }();
  return table;
}

const Table& sprocket_fields() {
  static const Table table = [] {
    using S = Sprocket;
    Fields<S> t(26);
    purchase(t);
    t.count<M(teeth), "teeth", 9, 120).how("count");
    t.figure<M(pitch), "pitch it is cut for", Kind::length, 5 * mm, 30 * mm).how("stamped, or the chain laid on it");
    t.figure<M(roller), "roller it is cut for", Kind::length, 3 * mm, 20 * mm).how("a drill shank of the roller's diameter laid in a tooth gap");
    t.figure<M(tooth_width), "tooth width", Kind::length, 1.5 * mm, 25 * mm).how("caliper");
    t.figure<M(mass), "mass", Kind::mass, 0.05, 10).how("kitchen scale");
    t.figure<M(bore), "bore", Kind::length, 6 * mm, 80 * mm).how("internal micrometer or a plug");
    t.figure<M(key_width), "keyway width", Kind::length, 2 * mm, 20 * mm).how("caliper or the key itself");
    t.figure<M(hub_length), "hub length on the shaft", Kind::length, 3 * mm, 120 * mm).how("caliper");
    t.figure<M(shaft_offset), "tooth centre from the motor's face", Kind::length, 0, 200 * mm).how("depth gauge");
    t.count<M(spline_teeth), "spline teeth", 4, 60).how("count");
    t.figure<M(bolt_circle), "bolt circle", Kind::length, 30 * mm, 250 * mm).how("caliper");
    t.figure<M(bolt), "bolt size", Kind::length, 4 * mm, 14 * mm).how("caliper");
    t.figure<M(centre_bore), "centre bore", Kind::length, 15 * mm, 200 * mm).how("caliper");
    t.figure<M(run_out), "run-out at the teeth", Kind::length, 0, 5 * mm).how("dial indicator, one turn");
    t.count<M(bolts), "bolts", 3, 12).how("count");
    t.choice<M(material), "material", {"unknown", "steel", "aluminium"});
    return t.done();
  }();
  return table;
}

const Table& belt_fields() {
  static const Table table = [] {
    using S = Belt;
    Fields<S> t(14);
    purchase(t);
    t.figure<M(pitch), "pitch", Kind::length, 3 * mm, 20 * mm).how("its label");
    t.figure<M(width), "width", Kind::length, 5 * mm, 100 * mm).how("its label");
    t.figure<M(power), "power it carries at this speed", Kind::power, 100, 200 * kW).how(ask);
    t.count<M(front_teeth), "front pulley teeth", 12, 80).how("count");
    t.count<M(rear_teeth), "rear pulley teeth", 20, 200).how("count");
    return t.done();
  }();
  return table;
}

const Table& tyre_fields() {
  static const Table table = [] {
    using S = Tyre;
    Fields<S> t(16);
    purchase(t);
    t.text<M(size), "size, as on the sidewall").how("sidewall: width/height-rim");
    t.count<M(load_index), "load index", 20, 100).how("sidewall");
    t.text<M(speed_letter), "speed letter").how("sidewall, the letter after the load index");
    t.figure<M(circumference), "rolling circumference", Kind::length, 1.0, 2.6).how("chalk mark, three turns with the rider seated, divide by three");
    t.figure<M(age), "age by its date code", Kind::time, 0, 40 * year).how("four digits on the sidewall: week and year");
    t.figure<M(pressure), "pressure", Kind::pressure, 80 * kPa, 450 * kPa).how("gauge, cold");
    t.figure<M(mass), "mass", Kind::mass, 1, 20).how("bathroom scale");
    return t.done();
  }();
  return table;
}

const Table& throttle_fields() {
  static const Table table = [] {
    using S = Throttle;
    Fields<S> t(18);
    purchase(t);
    t.choice<M(type), "kind", {"unknown", {"hall", "Hall sensor"}, {"hall_dual", "two Hall sensors"}, {"resistive", "resistor"}, {"bus", "data bus"}});
    t.figure<M(supply), "supply", Kind::voltage, 3, 15).how(ask);
    t.figure<M(voltage_rest), "signal at rest", Kind::voltage, 0, 5).how("meter with its real supply, contactor open");
    t.figure<M(voltage_full), "signal at full twist", Kind::voltage, 0.5, 12).how("meter with its real supply, contactor open");
    t.figure<M(bar_diameter), "bar it fits", Kind::length, 15 * mm, 40 * mm).how("caliper");
    t.figure<M(length), "length on the bar", Kind::length, 40 * mm, 250 * mm).how("tape");
    t.answer<M(springs_back), "snaps back at both steering locks, gloves on, wet");
    t.answer<M(fail_tested), "each wire pulled once: no torque").how("rear wheel off the ground, contactor open or current limit lowest");
    return t.done();
  }();
  return table;
}

const Table& display_fields() {
  static const Table table = [] {
    using S = Display;
    Fields<S> t(18);
    purchase(t);
    t.figure<M(supply_min), "lowest supply", Kind::voltage, 3, 400).how(ask);
    t.figure<M(supply_max), "highest supply", Kind::voltage, 5, 600).how(ask);
    t.figure<M(shunt_current), "shunt rating", Kind::current, 10, 2000).how("stamped on the shunt");
    t.answer<M(isolated), "isolated from the pack");
    t.answer<M(counts_charge), "counts amp-hours");
    t.answer<M(fused), "its pack lead is fused");
    t.choice<M(side), "shunt sits on the", {"unknown", {"low", "minus side"}, {"high", "plus side"}});
    return t.done();
  }();
  return table;
}

const Table& limits_fields() {
  static const Table table = [] {
    using S = Limits;
    Fields<S> t(30);
    t.figure<M(battery_current), "battery current limit", Kind::current, 5, 1500).how("the controller's setting");
    t.figure<M(phase_current), "phase current limit", Kind::phase_current, 5, 3000).how("the controller's setting; ask whether peak, rms or DC-equivalent");
    t.figure<M(regen_current), "battery current limit while braking", Kind::current, 0, 600).how("the controller's setting");
    t.figure<M(cold_battery_current), "battery current limit in the cold", Kind::current, 5, 1500).how("the controller's setting");
    t.figure<M(soft_cut), "starts to reduce below", Kind::voltage, 8, 800).how("the controller's setting");
    t.figure<M(hard_cut), "stops below", Kind::voltage, 8, 800).how("the controller's setting");
    t.figure<M(regen_voltage_max), "braking fades above", Kind::voltage, 10, 900).how("the controller's setting");
    t.figure<M(bms_cell_max), "cell monitor opens above", Kind::voltage, 1.5, 5).how("its settings");
    t.figure<M(bms_cell_min), "cell monitor opens below", Kind::voltage, 0.5, 4).how("its settings");
    t.figure<M(bms_trip), "cell monitor opens above this current", Kind::current, 5, 4000).how("its settings");
    t.figure<M(charge_voltage), "charger set to", Kind::voltage, 10, 900).how("meter on its output with no load; a reading is marked as measured");
    t.figure<M(throttle_start), "throttle starts at", Kind::voltage, 0, 5).how("the controller's setting");
    t.figure<M(throttle_full), "throttle is full at", Kind::voltage, 0.5, 12).how("the controller's setting");
    t.figure<M(throttle_fault), "throttle faults above", Kind::voltage, 0.5, 15).how("the controller's setting");
    t.figure<M(throttle_ramp), "ramp from none to full torque", Kind::time, 0, 5).prior(0.35, 0.1, "200 to 500 ms: from memory").how("the controller's setting");
    t.figure<M(throttle_exponent), "torque grows with grip angle to the power of", Kind::ratio, 0.3, 4).prior(1.3, 0.3, "1 to 2: from memory").how("the controller's setting");
    t.figure<M(speed_max), "speed limit", Kind::speed, 5 * km_h, 300 * km_h).how("the controller's setting");
    t.figure<M(regen_start_speed), "braking by motor ends below", Kind::speed, 0, 60 * km_h).how("the controller's setting");
    t.answer<M(field_weakening), "field weakening switched on");
    t.answer<M(regen), "braking by motor switched on");
    t.answer<M(cold_limit), "current is reduced in the cold");
    t.answer<M(saved), "settings saved with a date before each change");
    return t.all_decided();
  }();
  return table;
}

const Table& layout_fields() {
  static const Table table = [] {
    using S = Layout;
    Fields<S> t(60);
    t.answer<M(mocked_up), "mocked up at real size with cables, tank on, rider seated").how("rigid foam or wood for motor and cells; turn the bars, compress the suspension");
    t.figure<M(motor_x), "motor shaft ahead of the pivot", Kind::length, -500 * mm, 600 * mm).how("tape on the mock-up");
    t.figure<M(motor_z), "motor shaft above the pivot", Kind::length, -300 * mm, 400 * mm).how("tape on the mock-up");
    t.figure<M(motor_face_to_chainline), "sprocket's tooth centre outside the motor face", Kind::length, 0, 200 * mm).how("caliper on the motor with the sprocket on");
    t.figure<M(sprocket_overhang), "sprocket centre from the nearer bearing", Kind::length, 0, 200 * mm).how("motor drawing");
    t.figure<M(motor_gap), "smallest gap round the motor can", Kind::length, -100 * mm, 300 * mm).how("cardboard strips on the mock-up");
    t.figure<M(motor_swingarm_gap), "motor to swingarm over its whole travel", Kind::length, -100 * mm, 300 * mm).how("spring out, cycle with a jack, cardboard");
    t.figure<M(rear_wheel_gap), "motor or box to rear tyre and shock at full bump", Kind::length, -100 * mm, 400 * mm).how("spring out, jack to full bump, caliper");
    t.figure<M(front_wheel_gap), "box to front wheel and mudguard at full bump", Kind::length, -150 * mm, 400 * mm).how("fork springs out or strapped down, tape");
    t.figure<M(steering_gap), "smallest gap to fork, bars and cables at both locks", Kind::length, -150 * mm, 400 * mm).how("turn lock to lock, caliper at the nearest point");
    t.figure<M(stand_gap), "side stand to box, stowed and out", Kind::length, -50 * mm, 300 * mm).how("caliper, over the whole travel");
    t.figure<M(heel_gap), "heels and pedals to parts", Kind::length, -50 * mm, 300 * mm).how("rider seated, caliper");
    t.figure<M(ground_clearance), "ground clearance with the parts, laden", Kind::length, 0, 500 * mm).how("tape under the lowest part, rider seated");
    t.figure<M(lean_angle), "lean angle with the parts", Kind::angle, 5 * deg, 65 * deg).how("string from the tyre's edge to the lowest part, angle gauge");
    t.figure<M(knee_width), "width between the knees with the parts", Kind::length, 100 * mm, 700 * mm).how("rider seated, calipers across the knees");
    t.figure<M(side_left_used), "parts reach to the left of the centre plane", Kind::length, 0, 500 * mm).how("tape on the mock-up");
    t.figure<M(side_right_used), "parts reach to the right of the centre plane", Kind::length, 0, 500 * mm).how("tape on the mock-up");
    t.figure<M(lateral_offset), "centre of gravity off the centre plane", Kind::length, 0, 200 * mm).how("both wheels on a plank on two scales, bike upright");
    t.figure<M(tank_gap), "box to tank cover", Kind::length, -100 * mm, 300 * mm).how("modelling clay between them, tank on");
    t.figure<M(plate_thickness), "motor plate thickness", Kind::length, 2 * mm, 40 * mm).how("caliper");
    t.figure<M(plate_deflection), "motor plate gives at peak pull", Kind::length, 0, 10 * mm).how("dial indicator, pull with a lever");
    t.figure<M(mount_preload), "preload of one mount bolt", Kind::force, 500, 100e3).how("torque table of the bolt");
    t.figure<M(mount_bolts_grade), "bolt strength (tensile)", Kind::pressure, 300e6, 1400e6).how("stamped on the head: 8.8 is 800 MPa");
    t.count<M(mount_bolts), "bolts that hold the motor", 2, 24).how("count");
    t.choice<M(plate_material), "metal of the motor plate", {"unknown", "steel", "aluminium"});
    t.answer<M(far_end_support), "the motor's far end is supported");
    t.answer<M(reaction_both_ways), "the mount holds torque both ways");
    t.answer<M(original_mounts), "bolts to the original engine mounts");
    t.answer<M(welding_on_frame), "something is welded to the frame");
    t.answer<M(bracing), "bracing replaces the engine as a stressed member");
    t.answer<M(torque_arms), "torque arms on both sides");
    t.answer<M(jack_screw), "a screw holds the motor against creeping in its slots");
    t.answer<M(locking), "thread lock or wedge washers on motor, sprocket and pack bolts");
    t.answer<M(chain_guard), "chain guard fitted");
    t.figure<M(controller_plate_area), "cooling plate under the controller", Kind::area, 0, 1).how("length times width");
    t.figure<M(cable_moving_gap), "cables to chain, wheel and disc", Kind::length, 0, 300 * mm).how("caliper at the nearest point over the travel");
    t.figure<M(pack_lift_mass), "heaviest piece of the pack", Kind::mass, 1, 200).how("scale");
    t.figure<M(ride_height_change), "ride height changed by", Kind::length, -200 * mm, 200 * mm).how("tape at both ends, before and after");
    t.figure<M(spring_front), "rate of the new front spring, one leg", Kind::stiffness, 2000, 30000).how("its marking, or compress it on a scale: kg per mm; leave out while the donor's own is in");
    t.figure<M(spring_rear), "rear wheel rate with the new spring", Kind::stiffness, 3000, 80000).how("load the tail and measure the drop; leave out while the donor's own is in");
    t.figure<M(radiator_area), "radiator face area", Kind::area, 0, 1).how("length times width");
    t.figure<M(coolant_flow), "coolant flow", Kind::volume_flow, 0, 1e-3).how("pump into a bucket for a minute");
    t.answer<M(controller_dry), "controller dry, connectors down, base flat");
    t.answer<M(charger_airflow), "charger has air in and out");
    return t.done();
  }();
  return table;
}

const Table& wiring_fields() {
  static const Table table = [] {
    using S = Wiring;
    Fields<S> t(50);
    t.figure<M(fuse_distance), "main fuse from the pack's terminal", Kind::length, 0, 5).how("tape along the cable");
    t.figure<M(isolation_resistance), "isolation, pack to frame", Kind::resistance, 0, 1e10).how("two-voltmeter method with an inserted resistor; never an insulation tester with electronics connected");
    t.figure<M(bond_resistance), "frame to enclosures", Kind::resistance, 0, 100).how("four-wire, 0.2 A or more");
    t.figure<M(signal_separation), "signal wires from power cables", Kind::length, 0, 1).how("tape at the nearest parallel run");
    t.figure<M(key_off_current), "current from the pack with the key off", Kind::current, 0, 5).how("meter in series at the service link, everything off");
    t.figure<M(loop_length), "battery cable, there and back", Kind::length, 0.1, 30).prior(3.0, 0.8, "5 to 8 m in all with the phases: common practice, no source").how("string along the real path");
    t.figure<M(phase_length), "phase cable, one lead", Kind::length, 0.05, 10).prior(0.7, 0.2, "common practice, no source").how("string along the real path");
    t.figure<M(bus_load_at_precharge), "current taken from the bus while it charges up", Kind::current, 0, 20).how("clamp meter: converter, lamps, charger sense");
    t.figure<M(bleed_time), "bus below 60 V after key off", Kind::time, 0, 3600).how("meter on the bus and a watch");
    t.figure<M(key_switch_voltage), "DC voltage the key switch is rated for", Kind::voltage, 3, 1500).how("stamped on it; a bare ignition lock is made for 12 V");
    t.choice<M(coil_clamp), "coil clamp", {"unknown", {"none", "no clamp"}, {"diode", "plain diode"}, {"zener", "diode and Zener diode"}, {"internal", "inside the contactor"}});
    t.choice<M(dcdc_place), "converter is fed", {"unknown", {"behind_contactor", "behind the contactor"}, {"before_contactor_switched", "before the contactor, through a switch"}, {"before_contactor", "before the contactor, always on"}});
    t.answer<M(dcdc_fuse), "converter has its own DC fuse at the tap");
    t.answer<M(sense_fuses), "every sense lead is fused or has a resistor at the cell");
    t.answer<M(branch_fuses), "every other tap of the pack is fused");
    t.answer<M(second_fuse), "a pack in two boxes has a second fuse between them");
    t.answer<M(kill_opens_coil), "kill switch opens the coil");
    t.answer<M(kill_disables_controller), "kill switch disables the controller too");
    t.answer<M(stand_switch), "side-stand switch in the loop");
    t.answer<M(tilt_switch), "tilt switch in the loop");
    t.answer<M(inlet_interlock), "cannot drive off while plugged in");
    t.answer<M(lid_switch), "opening the lid opens the coil");
    t.answer<M(taps_checked), "every sense tap measured in order before plugging").how("meter from most-negative: each step up by one cell, sign included");
    t.answer<M(twisted_pair), "battery plus and minus run side by side");
    t.answer<M(torque_zero_before_open), "torque goes to zero before the contactor opens");
    t.answer<M(precharge_before_close), "pre-charge, then contactor, then enable");
    t.answer<M(regen_stop_lamp), "braking by motor lights the stop lamp");
    t.answer<M(brake_switches), "both brake levers reach the controller");
    t.answer<M(horn_on_buffer), "horn and lamps work with the contactor open");
    t.answer<M(weld_detection), "a welded contactor would be noticed");
    t.answer<M(common_reference_checked), "signal grounds isolated, or joined at one point on purpose");
    t.answer<M(load_connectors_rated), "no plug is opened under load unless rated for it");
    t.answer<M(labels), "warning labels on every enclosure over 60 V");
    t.answer<M(contactor_axis_across), "contactor's axis lies across the shocks");
    t.answer<M(phase_order_found), "phase and sensor order found at low current");
    t.answer<M(speed_sensor_recalibrated), "speed signal moved or recalibrated");
    return t.done();
  }();
  return table;
}

const Table& money_fields() {
  static const Table table = [] {
    using S = Money;
    Fields<S> t(10);
    t.figure<M(contingency), "contingency on parts", Kind::share, 0, 2).prior(0.2, 0.05, "20 %: common practice, no source");
    t.figure<M(machining), "machining, laser, welding", Kind::money, 0, 1e5).prior(450, 300, "common practice, no source");
    t.figure<M(papers), "papers, inspection, weighbridge, insurance", Kind::money, 0, 1e5).prior(300, 220, "common practice, no source");
    t.figure<M(paint), "paint, seat, covers", Kind::money, 0, 1e5).prior(200, 150, "common practice, no source");
    t.figure<M(wear_parts), "wear parts of the donor", Kind::money, 0, 1e5).prior(450, 260, "common practice, no source");
    t.figure<M(duty_share), "freight, duty, tax on a listed price", Kind::share, 0, 1).prior(0.15, 0.1, "20 to 35 % where imported: common practice, no source");
    t.figure<M(electricity_price), "price of a kilowatt-hour", Kind::money, 0, 5).prior(0.3, 0.1, "common practice, no source");
    return t.all_decided();
  }();
  return table;
}

const Table& assumed_fields() {
  static const Table table = [] {
    using S = Assumed;
    Fields<S> t(20);
    t.figure<M(grip), "grip of the rear tyre, dry", Kind::ratio, 0.1, 1.6).prior(0.9, 0.12, "sport tyres peak at 1.2 dry, TRL PPR496; ordinary use less: from memory");
    t.figure<M(sundries_mass), "brackets, bolts, wires, covers", Kind::mass, 0, 40).prior(9, 3, "common practice, no source").how("weigh the finished bike");
    t.figure<M(auxiliary_power), "lights and electronics while riding", Kind::power, 0, 600).prior(60, 20, "LED lamps and a controller's idle power: common practice, no source").how("clamp meter in the converter's pack lead, lights on");
    t.figure<M(rating_air_speed), "air speed at which the maker rated the motor", Kind::speed, 1, 60).prior(12, 6, "makers rarely say: from memory");
    t.figure<M(winding_mass_share), "share of the motor's mass that heats with the winding", Kind::share, 0.05, 0.5).prior(0.17, 0.04, "from memory");
    t.figure<M(winding_path_share), "share of the winding's rise over air that lies between winding and case", Kind::share, 0.1, 0.9).prior(0.4, 0.1, "from memory");
    t.figure<M(no_load_loss_share), "no-load loss as share of continuous power, where none is listed", Kind::share, 0.003, 0.15).prior(0.025, 0.01, "from memory");
    t.figure<M(drag_constant_share), "share of the no-load torque that does not grow with speed", Kind::share, 0.1, 0.9).prior(0.5, 0.12, "range 30 to 70 %: from memory");
    t.figure<M(reactance_share), "inductance times peak current over flux, where none is listed", Kind::ratio, 0.05, 2).prior(0.35, 0.15, "from memory");
    t.figure<M(cell_slow_share), "share of the 10 s resistance that is slow", Kind::share, 0, 0.6).prior(0.2, 0.08, "from memory");
    t.figure<M(cell_slow_time), "time constant of the slow part", Kind::time, 2, 200).prior(15, 5, "from memory");
    t.figure<M(cell_activation), "growth of cell resistance in the cold, kJ per mol", Kind::ratio, 5, 45).prior(22, 4, "20 to 30 kJ/mol for the whole DC resistance: from memory");
    t.figure<M(capacity_cold_loss), "capacity lost per kelvin below 25 C, besides what resistance does", Kind::share, 0, 0.02).prior(0.003, 0.001, "0.2 to 0.4 % per kelvin: from memory");
    t.figure<M(tyre_rolling_share), "rolling over free radius of a tyre", Kind::share, 0.9, 1).prior(0.97, 0.008, "3.05 times the diameter, as ETRTO rates radial car tyres: from memory");
    t.figure<M(usable_to), "charge left at the practical end of a ride", Kind::share, 0, 0.3).prior(0.03, 0.01, "the voltage knee: common practice, no source");
    t.figure<M(reserve), "charge kept in reserve", Kind::share, 0, 0.5).prior(0.15, 0, "15 % kept: common practice, no source").decided();
    t.figure<M(fade_share), "lost to ageing that the ride must still allow for", Kind::share, 0, 0.5).prior(0, 0, "a new pack");
    return t.done();
  }();
  return table;
}

}  // namespace ww::build
