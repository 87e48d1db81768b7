// SPDX-License-Identifier: MIT
// Field tables of how the wires run: the loom, and single wires where the builder departs from what
// is derived; of the log of what was done, and of cells measured one by one.
#include "build/declare.h"

namespace ww::build {

using namespace declare;

namespace {
constexpr std::string_view string_path = "string along the real path, bars at full lock, plus 10 %";
constexpr std::string_view usual = "a bike of usual size: common practice, no source";
}  // namespace

const Table& loom_fields() {
  static const Table table = [] {
    using S = Loom;
    Fields<S> t(24);
    t.figure<M(pack_to_charger), "pack to charger", Kind::length, 0.05, 10).prior(0.8, 0.3, usual).how(string_path);
    t.figure<M(charger_to_inlet), "charger to its inlet", Kind::length, 0.02, 10).prior(0.6, 0.3, usual).how(string_path);
    t.figure<M(pack_to_converter), "pack to the 12 V converter", Kind::length, 0.05, 10).prior(0.6, 0.25, usual).how(string_path);
    t.figure<M(converter_to_fuse_box), "converter to the 12 V fuse box", Kind::length, 0.02, 10).prior(0.5, 0.2, usual).how(string_path);
    t.figure<M(pack_to_monitor), "pack to the cell monitor", Kind::length, 0.02, 5).prior(0.4, 0.2, usual).how(string_path);
    t.figure<M(fuse_box_to_bars), "fuse box to the bars", Kind::length, 0.1, 10).prior(1.2, 0.25, usual).how(string_path);
    t.figure<M(fuse_box_to_head), "fuse box to the head lamp", Kind::length, 0.1, 10).prior(1.4, 0.25, usual).how(string_path);
    t.figure<M(fuse_box_to_tail), "fuse box to the rear lamp", Kind::length, 0.1, 10).prior(1.1, 0.25, usual).how(string_path);
    t.figure<M(fuse_box_to_stand), "fuse box to the side stand", Kind::length, 0.1, 10).prior(0.9, 0.25, usual).how(string_path);
    t.figure<M(fuse_box_to_contactor), "fuse box to the contactor's coil", Kind::length, 0.05, 10).prior(0.6, 0.25, usual).how(string_path);
    t.figure<M(controller_to_bars), "controller to the bars", Kind::length, 0.1, 10).prior(1.3, 0.25, usual).how(string_path);
    t.figure<M(bars_to_head), "bars to the head lamp", Kind::length, 0.05, 3).prior(0.4, 0.15, usual).how(string_path);
    t.figure<M(jumper_length), "short leads between fuse, disconnect and contactor", Kind::length, 0.02, 2).prior(0.15, 0.05, "side by side on one board: common practice, no source").how("tape over the real lead");
    t.choice<M(sleeve), "battery and phase cables lie in", {"unknown", {"none", "nothing: open air"}, {"braid", "braided sleeve"}, {"conduit", "corrugated tube"}}).how("look");
    t.choice<M(key_path), "the key switches the controller", {"unknown", {"relay", "through a relay of 12 V"}, {"pack_voltage", "with pack voltage at the lock"}});
    t.count<M(loaded_wires), "wires under load in one bundle of the loom", 1, 100).how("count those that carry current at the same time");
    t.figure<M(section_min), "thinnest wire laid in the loom", Kind::area, 0.2 * mm2, 10 * mm2).prior(0.75 * mm2, 0, "thinner wire breaks first on a bike: common practice, no source").decided();
    t.figure<M(insulation_temperature), "insulation of the loom's wires stands", Kind::temperature, celsius(60), celsius(250)).prior(celsius(85), 0, "ordinary vehicle wire is made for 85 to 105 C: from memory").how("printed on the reel");
    t.figure<M(drop_share_max), "most of its volts a 12 V wire may lose, there and back", Kind::share, 0.005, 0.2).prior(0.03, 0, "3 % for critical circuits: ABYC E-11").decided();
    return t.done();
  }();
  return table;
}

const Table& own_wire_fields() {
  static const Table table = [] {
    using S = OwnWire;
    Fields<S> t(16);
    t.text<M(label), "its label, as the wire list says: T3").decided();
    t.figure<M(length), "length", Kind::length, 0.01, 50).how(string_path);
    t.figure<M(section), "copper section", Kind::area, 0.1 * mm2, 300 * mm2).how("printed on the jacket");
    t.text<M(colour), "colour").decided();
    t.text<M(route), "where it runs").decided();
    t.answer<M(laid), "in its place, both ends made").how("only once both ends are crimped, bolted and marked");
    t.text<M(lug_from), "lug at its first end, as taken").decided();
    t.text<M(lug_to), "lug at its other end, as taken").decided();
    t.figure<M(torque), "its bolts were tightened to", Kind::torque, 0.1, 100).how("torque wrench, then a paint mark across bolt and lug");
    t.text<M(date), "day it was laid").decided();
    t.text<M(photo), "file of its photograph").decided();
    t.text<M(note), "note").decided();
    return t.done();
  }();
  return table;
}

const Table& log_entry_fields() {
  static const Table table = [] {
    using S = LogEntry;
    Fields<S> t(6);
    t.text<M(step), "step, as `wattwright steps` names it").decided();
    t.text<M(reading), "what was read, with its unit; or yes, or no").decided();
    t.text<M(instrument), "what it was read with").decided();
    t.text<M(date), "day").decided();
    t.text<M(photo), "file of the photograph").decided();
    t.text<M(note), "note").decided();
    return t.done();
  }();
  return table;
}

const Table& measured_unit_fields() {
  static const Table table = [] {
    using S = MeasuredUnit;
    Fields<S> t(8);
    t.text<M(name), "what is written on it: C07").decided();
    t.figure<M(voltage), "voltage as it came", Kind::voltage, 0, 300).how("meter, at rest for a day");
    t.figure<M(voltage_later), "voltage two weeks later", Kind::voltage, 0, 300).how("the same meter, nothing connected in between");
    t.figure<M(capacity), "capacity", Kind::charge, 0.1 * Ah, 500 * Ah).trait(Trait::capacity).how("discharge at 0.2 to 0.3 C to the empty voltage, log amp-hours");
    t.figure<M(resistance), "DC resistance, 10 s, 25 C", Kind::resistance, 0.05 * mohm, 1).trait(Trait::internal_resistance).how("two steady currents 10 s apart: volts lost over amps added");
    t.count<M(group), "built into group", 1, 200);
    t.text<M(date), "day").decided();
    t.text<M(note), "note").decided();
    return t.done();
  }();
  return table;
}

}  // namespace ww::build
