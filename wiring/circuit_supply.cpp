// SPDX-License-Identifier: MIT
// What is fed from 12 V: converter, fuse box, loads, interlock loop; and the signals.
#include "wiring/draft.h"

#include <cmath>

namespace ww::wiring {

std::string_view minus_node(Draft& draft);

namespace {

using build::DcdcPlace;
using build::KeyPath;
using build::ThrottleType;

struct Step {
  const char *label, *from, *to, *fuse, *why;
  const char* colour = "";
};

void wires(Draft& draft, Carries carries, std::initializer_list<Step> steps) {
  for (const Step& s : steps) {
    draft.wire({.label = s.label,
                .from = s.from,
                .to = s.to,
                .carries = carries,
                .fuse = s.fuse,
                .why = s.why,
                .colour = s.colour});
  }
}

constexpr const char* live = "red";
constexpr const char* keyed = "blue";
constexpr const char* minus = "black";

void draw_key_supply(Draft& draft) {
  const bool at_lock = draft.sheet().is("loom.key_path", KeyPath::pack_voltage);
  draft.device("logic_fuse", "key supply fuse", Place::power_board,
               draft.sheet().ask("controller.logic_fuse") == 0  ? Presence::lacking
               : draft.sheet().ask("controller.logic_fuse") > 0 ? Presence::on_list
                                                                : Presence::assumed,
               "the controller's logic hangs on the pack through thin wires");
  draft.device("key", "key switch", Place::bars, Presence::assumed, "switches the bike on");
  draft.bar("contactor.in", "logic_fuse.in");
  if (at_lock) {
    wires(draft, Carries::logic,
          {{"D4", "logic_fuse.out", "key.in2", "logic_fuse", "pack voltage up to the lock"},
           {"D5", "key.out2", "controller.KEY", "logic_fuse", "wakes the controller"}});
    return;
  }
  draft.device(
      "key_relay", "key relay", Place::power_board,
      draft.sheet().is("loom.key_path", KeyPath::relay) ? Presence::on_list : Presence::assumed,
      "keeps the pack's voltage away from the bars; its contact must break it");
  wires(draft, Carries::logic,
        {{"D4", "logic_fuse.out", "key_relay.in", "logic_fuse", "to the key relay"},
         {"D5", "key_relay.out", "controller.KEY", "logic_fuse", "wakes the controller"}});
}

/// A display made for the full pack's voltage is fed from it, another from 12 V.
bool display_on_pack(Draft& draft) {
  return draft.sheet().ask("display.supply_max") >= draft.full_V() &&
         draft.sheet().ask("display.supply_min") > 15;
}

/// The interlock switches, in the order of the loop. `question` says whether it is in.
struct Interlock {
  const char *id, *label, *question, *why;
  Place place;
};
constexpr Interlock interlocks[] = {
    {"kill", "kill switch", "wiring.kill_opens_coil", "the rider's way to stop, whatever fails",
     Place::bars},
    {"stand_switch", "side-stand switch", "wiring.stand_switch", "no ride-off with the stand out",
     Place::stand},
    {"tilt", "tilt switch", "wiring.tilt_switch", "switches off once the bike lies on its side",
     Place::fuse_box},
    {"inlet_switch", "inlet switch", "wiring.inlet_interlock", "no ride-off while plugged in",
     Place::charger},
    {"lid", "lid switch", "wiring.lid_switch", "an opened box is dead behind the contactor",
     Place::pack_box}};

/// Whether the monitor's output takes part in the loop.
bool monitor_in_loop(Draft& draft) {
  return draft.has("bms") && draft.sheet().ask("bms.output_current") > 0;
}

}  // namespace

void draw_converter(Draft& draft) {
  draft.part("dcdc", "12 V converter", Place::converter,
             "feeds lamps and contactor coil from the pack");
  draft.fuse("dcdc_fuse", "converter fuse", Place::power_board,
             "the converter's thin leads hang on the pack", "wiring.dcdc_fuse");
  const auto place = draft.choice<DcdcPlace>("wiring.dcdc_place");
  const bool behind = place == DcdcPlace::behind_contactor;
  draft.bar(behind ? "contactor.out" : "contactor.in", "dcdc_fuse.in");
  if (place == DcdcPlace::before_contactor_switched || place == DcdcPlace::unknown) {
    draft.device("dcdc_switch", "converter switch", Place::power_board,
                 place == DcdcPlace::unknown ? Presence::assumed : Presence::on_list,
                 "a converter that stays on empties the pack in storage; its contact must break "
                 "the pack's voltage");
    wires(draft, Carries::converter_in,
          {{"D1", "dcdc_fuse.out", "dcdc_switch.in", "dcdc_fuse", "to the converter's switch"},
           {"D2", "dcdc_switch.out", "dcdc.in+", "dcdc_fuse", "feeds the converter"}});
  } else {
    wires(draft, Carries::converter_in,
          {{"D2", "dcdc_fuse.out", "dcdc.in+", "dcdc_fuse", "feeds the converter"}});
  }
  draft.wire({.label = "D3",
              .from = "dcdc.in-",
              .to = minus_node(draft),
              .carries = Carries::converter_in,
              .fuse = "dcdc_fuse",
              .why = "converter current back"});
  draw_key_supply(draft);
  if (draft.sheet().ask("pack.heater_power") > 0) {
    draft.device("heater", "pack heater", Place::pack_box, Presence::on_list,
                 "warms the cells before they are charged");
    draft.fuse("heater_fuse", "heater fuse", Place::power_board,
               "a heater needs its own fuse and its own thermal cut-out", "wiring.branch_fuses");
    draft.bar("contactor.in", "heater_fuse.in");
    wires(draft, Carries::heater,
          {{"D6", "heater_fuse.out", "heater.+", "heater_fuse", "heater current"}});
    draft.wire({.label = "D7",
                .from = "heater.-",
                .to = minus_node(draft),
                .carries = Carries::heater,
                .fuse = "heater_fuse",
                .why = "heater current back"});
  }
}

void draw_supply(Draft& draft) {
  draft.device("fuse_box", "fuse box", Place::fuse_box, Presence::assumed,
               "one fuse a branch: a fault takes one lamp, not all");
  draft.device("minus_point", "minus point", Place::fuse_box, Presence::assumed,
               "every 12 V return ends here, none in the frame");
  draft.part("buffer", "buffer", Place::fuse_box,
             "lamps and coil live on when the converter fails");
  draft.fuse("buffer_fuse", "buffer fuse", Place::fuse_box,
             "the buffer feeds every short of the 12 V side");
  wires(draft, Carries::converter_out,
        {{"L1", "dcdc.out+", "fuse_box.bus", "buffer_fuse", "12 V to the fuse box", live},
         {"L2", "dcdc.out-", "minus_point.bar", "buffer_fuse", "12 V back", minus}});
  draft.wire({.label = "L3",
              .from = "buffer.+",
              .to = "buffer_fuse.in",
              .carries = Carries::buffer,
              .before = "buffer_fuse",
              .why = "as short as it can be: it has no fuse",
              .colour = live});
  wires(draft, Carries::buffer,
        {{"L4", "buffer_fuse.out", "fuse_box.bus", "buffer_fuse", "buffer to the fuse box", live},
         {"L5", "buffer.-", "minus_point.bar", "buffer_fuse", "buffer's minus", minus}});
  draft.device("lamp_relay", "lamp relay", Place::fuse_box, Presence::assumed,
               "spares the lock the lamps' current");
  struct Branch {
    const char *id, *label, *why;
    bool keyed;
  };
  for (const Branch& b :
       {Branch{"fuse_head", "head lamp",
               "head lamp alone: the one that must not go out with another", true},
        {"fuse_tail", "rear lamp", "rear lamps", true},
        {"fuse_indicators", "indicator", "indicators", true},
        {"fuse_horn", "horn", "horn, live without the key's relay", false},
        {"fuse_other", "other loads", "display, sockets, grips", true},
        {"fuse_loop", "loop", "the coil's own branch: no lamp may open the contactor", false}}) {
    draft.fuse(b.id, std::string(b.label) + " fuse", Place::fuse_box, b.why);
    draft.bar(b.keyed ? "fuse_box.keyed" : "fuse_box.bus", std::string(b.id) + ".in");
  }
  draft.bar("fuse_box.bus", "lamp_relay.in");
  draft.bar("lamp_relay.out", "fuse_box.keyed");
  draft.device("head", "head lamp", Place::head, Presence::on_list, "to see and be seen");
  draft.device("light_switch", "dip switch", Place::bars, Presence::on_list, "low and high beam");
  wires(
      draft, Carries::head_lamp,
      {{"L10", "fuse_head.out", "light_switch.in", "fuse_head", "head lamp, to the switch", keyed},
       {"L11", "light_switch.out", "head.+", "fuse_head", "head lamp", keyed},
       {"L12", "head.-", "minus_point.bar", "fuse_head", "head lamp back", minus}});
  draft.device("tail", "rear lamp", Place::tail, Presence::on_list, "to be seen");
  draft.device("brake_front", "front brake switch", Place::bars,
               draft.answered("wiring.brake_switches"), "stop lamp; tells the controller");
  draft.device("brake_rear", "rear brake switch", Place::stand,
               draft.answered("wiring.brake_switches"), "stop lamp; tells the controller");
  wires(draft, Carries::rear_lamp,
        {{"L20", "fuse_tail.out", "tail.+", "fuse_tail", "rear lamp", keyed},
         {"L21", "tail.-", "minus_point.bar", "fuse_tail", "rear and stop lamp back", minus}});
  wires(draft, Carries::stop_lamp,
        {{"L22", "fuse_tail.out", "brake_front.in", "fuse_tail", "stop lamp, front lever", keyed},
         {"L23", "brake_front.out", "tail.stop", "fuse_tail", "stop lamp", keyed},
         {"L24", "fuse_tail.out", "brake_rear.in", "fuse_tail", "stop lamp, pedal", keyed},
         {"L25", "brake_rear.out", "tail.stop", "fuse_tail", "stop lamp", keyed}});
  draft.device("indicators", "indicators", Place::tail, Presence::on_list, "to say where you turn");
  draft.device("flasher", "flasher", Place::fuse_box, Presence::on_list,
               "an electronic one: a thermal one needs the load of filament bulbs");
  draft.device("indicator_switch", "indicator switch", Place::bars, Presence::on_list,
               "left and right");
  wires(draft, Carries::indicators,
        {{"L30", "fuse_indicators.out", "flasher.in", "fuse_indicators", "indicator", keyed},
         {"L31", "flasher.out", "indicator_switch.in", "fuse_indicators",
          "indicators, to the switch", keyed},
         {"L32", "indicator_switch.out", "indicators.+", "fuse_indicators", "indicator", keyed},
         {"L33", "indicators.-", "minus_point.bar", "fuse_indicators", "indicators back", minus}});
  draft.device("horn", "horn", Place::head, Presence::on_list, "wanted by law");
  draft.device("horn_button", "horn button", Place::bars, Presence::on_list, "sounds the horn");
  wires(draft, Carries::horn,
        {{"L40", "fuse_horn.out", "horn_button.in", "fuse_horn", "horn, to the button", live},
         {"L41", "horn_button.out", "horn.+", "fuse_horn", "horn", live},
         {"L42", "horn.-", "minus_point.bar", "fuse_horn", "horn back", minus}});
  draft.device("others", "other loads", Place::bars, Presence::on_list, "what else hangs on 12 V");
  wires(draft, Carries::other_load,
        {{"L50", "fuse_other.out", "others.+", "fuse_other", "display and other loads", keyed},
         {"L51", "others.-", "minus_point.bar", "fuse_other", "display and other loads back",
          minus}});
  draft.wire({.label = "E3",
              .from = "minus_point.bar",
              .to = "frame.earth",
              .carries = Carries::bond,
              .why = "ties the 12 V side to the frame at one point; never the pack's minus"});
  draft.wire(
      {.label = "E4",
       .from = "frame.earth",
       .to = "controller.case",
       .carries = Carries::bond,
       .why = "controller, motor and boxes of metal at the frame's potential: below 0.1 ohm"});
  draft.wire({.label = "E5",
              .from = "frame.earth",
              .to = "pack.case",
              .carries = Carries::bond,
              .why = "a metal pack box at the frame's potential"});
}

void draw_interlocks(Draft& draft) {
  auto& sheet = draft.sheet();
  draft.wire({.label = "K1",
              .from = "fuse_loop.out",
              .to = "key.in",
              .carries = Carries::loop,
              .fuse = "fuse_loop",
              .why = "interlock loop, from its fuse to the key"});
  std::string last = "key.out";
  int number = 1;
  const auto next = [&](const std::string& to, std::string_view why) {
    draft.wire({.label = "K" + std::to_string(number),
                .from = last,
                .to = to,
                .carries = Carries::loop,
                .fuse = "fuse_loop",
                .why = why});
  };
  for (const Interlock& lock : interlocks) {
    ++number;
    if (sheet.no(lock.question)) continue;
    draft.device(lock.id, lock.label, lock.place, draft.answered(lock.question), lock.why);
    next(std::string(lock.id) + ".in", "interlock loop: any open contact opens the coil");
    last = std::string(lock.id) + ".out";
  }
  number = 7;
  if (monitor_in_loop(draft)) {
    next("bms.in", "the cell monitor opens the contactor when a cell leaves its limits");
    last = "bms.out";
  }
  number = 8;
  next("contactor.coil+", "end of the interlock loop: the coil's plus");
  const bool driven = sheet.yes("controller.drives_contactor");
  if (!driven)
    draft.device("starter", "start sequencer", Place::power_board, Presence::assumed,
                 "pre-charge first, then the coil: a timer, or the monitor, since the controller "
                 "does not do it");
  draft.wire({.label = "K9",
              .from = "contactor.coil-",
              .to = driven ? "controller.COIL" : "starter.COIL",
              .carries = Carries::loop,
              .fuse = "fuse_loop",
              .why = driven ? "the controller pulls the coil in once the bus is full"
                            : "the sequencer pulls the coil in once the bus is full"});
  if (!driven) {
    wires(draft, Carries::signal,
          {{"K18", "contactor.coil+", "starter.+", "fuse_loop", "feeds the sequencer", "yellow"}});
    wires(draft, Carries::loop,
          {{"K19", "starter.-", "minus_point.bar", "fuse_loop", "coil current back", minus}});
  }
  draft.wire({.label = "K10",
              .from = "contactor.coil+",
              .to = "precharge_relay.coil+",
              .carries = Carries::signal,
              .fuse = "fuse_loop",
              .why = "no pre-charge past an open interlock",
              .colour = "yellow"});
  draft.wire({.label = "K11",
              .from = "precharge_relay.coil-",
              .to = driven ? "controller.PRE" : "starter.PRE",
              .carries = Carries::signal,
              .fuse = "fuse_loop",
              .why = "starts the pre-charge",
              .colour = "yellow"});
  draft.wire({.label = "K12",
              .from = "key.out",
              .to = "lamp_relay.coil+",
              .carries = Carries::signal,
              .fuse = "fuse_loop",
              .why = "lamps with the key",
              .colour = "blue"});
  draft.wire({.label = "K13",
              .from = "lamp_relay.coil-",
              .to = "minus_point.bar",
              .carries = Carries::signal,
              .fuse = "fuse_loop",
              .why = "lamp relay back",
              .colour = "black"});
  if (draft.has("key_relay")) {
    draft.wire({.label = "K14",
                .from = draft.has("kill") ? "kill.out" : "key.out",
                .to = "key_relay.coil+",
                .carries = Carries::signal,
                .fuse = "fuse_loop",
                .why = "wakes the controller; the kill switch takes its supply as well",
                .colour = "blue"});
    draft.wire({.label = "K15",
                .from = "key_relay.coil-",
                .to = "minus_point.bar",
                .carries = Carries::signal,
                .fuse = "fuse_loop",
                .why = "key relay back",
                .colour = "black"});
  }
  if (!sheet.no("wiring.kill_disables_controller") && draft.has("kill")) {
    draft.wire({.label = "K16",
                .from = "controller.enable",
                .to = "kill.in2",
                .carries = Carries::signal,
                .why = "second way to stop: the kill switch also takes the controller's enable"});
    draft.wire({.label = "K17",
                .from = "kill.out2",
                .to = "controller.signal ground",
                .carries = Carries::signal,
                .why = "enable back to the controller, not to the frame"});
  }
}

namespace {

int throttle_cores(ThrottleType type) {
  switch (type) {
    case ThrottleType::hall_dual:
      return 6;
    case ThrottleType::bus:
      return 4;
    default:
      return 3;
  }
}

int sensor_cores(build::Sensor sensor) {
  switch (sensor) {
    case build::Sensor::none:
      return 0;
    case build::Sensor::sin_cos:
      return 4;
    case build::Sensor::resolver:
    case build::Sensor::encoder:
      return 6;
    default:
      return 5;
  }
}

}  // namespace

void draw_signals(Draft& draft) {
  auto& sheet = draft.sheet();
  const std::string_view far = "100 mm from battery and motor leads, crossing them at right angles";
  draft.part("throttle", "throttle", Place::bars, "asks for torque");
  draft.wire({.label = "S1",
              .from = "throttle.lead",
              .to = "controller.throttle",
              .carries = Carries::signal,
              .why = "supply, signal and ground from the controller alone; its shield at the "
                     "controller's end only",
              .route = far,
              .cores = throttle_cores(draft.choice<ThrottleType>("throttle.type"))});
  if (const int cores = sensor_cores(draft.choice<build::Sensor>("motor.sensor")); cores > 0)
    draft.wire({.label = "S2",
                .from = "motor.sensor",
                .to = "controller.sensor",
                .carries = Carries::signal,
                .why = "rotor position",
                .route = far,
                .cores = cores});
  if (!sheet.no("motor.temperature_sensor"))
    draft.wire({.label = "S3",
                .from = "motor.temperature",
                .to = "controller.temperature",
                .carries = Carries::signal,
                .why = "winding temperature: without it nothing reduces the current in time",
                .cores = 2});
  if (!sheet.no("wiring.brake_switches"))
    draft.wire({.label = "S4",
                .from = "brake_front.signal",
                .to = "controller.brake",
                .carries = Carries::signal,
                .why = "either brake takes the torque away",
                .cores = 2});
  if (!sheet.no("wiring.regen_stop_lamp") && !sheet.no("limits.regen")) {
    draft.device("stop_relay", "stop-lamp relay", Place::fuse_box,
                 draft.answered("wiring.regen_stop_lamp"),
                 "motor braking slows like a brake: who follows must see it");
    draft.wire({.label = "S5",
                .from = "controller.stop lamp",
                .to = "stop_relay.coil",
                .carries = Carries::signal,
                .why = "motor braking lights the stop lamp",
                .cores = 2});
    draft.wire({.label = "L26",
                .from = "fuse_tail.out",
                .to = "stop_relay.in",
                .carries = Carries::stop_lamp,
                .fuse = "fuse_tail",
                .why = "stop lamp, motor braking",
                .colour = "blue"});
    draft.wire({.label = "L27",
                .from = "stop_relay.out",
                .to = "tail.stop",
                .carries = Carries::stop_lamp,
                .fuse = "fuse_tail",
                .why = "stop lamp, motor braking",
                .colour = "blue"});
  }
  if (sheet.yes("bms.warns_controller"))
    draft.wire({.label = "S6",
                .from = "bms.warning",
                .to = "controller.reduce",
                .carries = Carries::signal,
                .why = "the controller fades before the monitor opens",
                .cores = 2});
  if (!sheet.no("charger.enable_input"))
    draft.wire({.label = "S7",
                .from = "bms.charge enable",
                .to = "charger.enable",
                .carries = Carries::signal,
                .why = "the first full cell ends the charge, not the sum of all",
                .cores = 2});
  if (sheet.has("display") && display_on_pack(draft)) {
    draft.device("display", "display", Place::bars, Presence::on_list, "tells charge and speed");
    draft.fuse("display_fuse", "display fuse", Place::power_board,
               "a display on the pack's voltage is one more tap of it", "wiring.branch_fuses");
    draft.bar("contactor.out", "display_fuse.in");
    draft.wire({.label = "D8",
                .from = "display_fuse.out",
                .to = "display.+",
                .carries = Carries::display,
                .fuse = "display_fuse",
                .why = "feeds the display"});
    draft.wire({.label = "D9",
                .from = "display.-",
                .to = minus_node(draft),
                .carries = Carries::display,
                .fuse = "display_fuse",
                .why = "display back"});
  }
  if (draft.has("shunt"))
    draft.wire({.label = "S8",
                .from = "shunt.sense",
                .to = "others.shunt",
                .carries = Carries::signal,
                .why =
                    "millivolts of the shunt to the display; at pack potential, so insulated for "
                    "it and fused",
                .route = far,
                .cores = 2});
}

}  // namespace ww::wiring
