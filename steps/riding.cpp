// SPDX-License-Identifier: MIT
// First rides: limits tried one by one, and every joint looked at again after 1, 5, 20 and 100 km.
// Windows are common practice, no source, unless said.
#include <algorithm>
#include <cmath>

#include "steps/power.h"

namespace ww::steps {

namespace {

using figure::Kind;
using When = Branch::When;
using ride::Answer;

/// What is looked at after so many kilometres; each with its own caution.
struct Recheck {
  int km;
  const char *marks, *heat, *spread;
};
constexpr Recheck rechecks[] = {
    {1,
     "Key off, ten volts on the meter, then hands: today's joints have never carried current "
     "before.",
     "Do not touch to feel: a loose lug burns skin before it smells.",
     "A cell that dips alone on the first kilometre is a joint or a bad cell: no second "
     "kilometre."},
    {5, "A bolt that moved once moves again: new washer, new mark, and look at its neighbour.",
     "Brake and motor are hot too now: point the thermometer, do not reach over the disc.",
     "Read it at rest: a spread read while riding is sag, not charge."},
    {20, "Chain and sprocket bolts count: with the motor's torque a loose one leaves at speed.",
     "After a hard run the hottest joint peaks a minute after you stop: wait for it.",
     "If it has grown since the last look, the poorest cell is sinking: find out before charging "
     "full."},
    {100, "Vibration has had its say: cable clamps, pack straps, axle and brake bolts as well.",
     "Compare like with like: one joint warmer than its twin is the one that will burn.",
     "Keep this figure: next year's is held against it."}};

void limits(Draft& d) {
  const auto& sheet = d.numbers();
  d.add({.id = "ride-ready",
         .title = "Before the first metre",
         .doing =
             "Private ground, helmet and gear on, spotter who can stop you, water and "
             "extinguisher, a tow planned. Current limits at a fifth to a third. Brakes tried by "
             "pushing. Chain guard on.",
         .meter = Meter::eye,
         .caution =
             "On the road the law begins: papers, insurance, an inspector where your country "
             "wants one. Until they are there, private ground only.",
         .tick = true,
         .needs = {"phase-limit", "plug-interlock", "charge-spread"}});
  std::string before = "ride-ready";
  for (const auto& [share, id, words] :
       {std::tuple{0.2, "battery-limit-20", "The battery limit at a fifth"},
        std::tuple{0.5, "battery-limit-50", "The battery limit at a half"},
        std::tuple{1.0, "battery-limit-100", "The battery limit as it will stay"}}) {
    Expect e = d.around(
        [s = share](const Numbers& n) { return s * n("limits.battery_current"); },
        shown(share, Kind::share) + " of " + shown(sheet("limits.battery_current"), Kind::current),
        Meter::clamp);
    if (e.missing.empty()) {
      e.low = 0.95 * e.value;
      e.high = 1.05 * e.value;
      e.bounds = "5 %: " + std::string(practice);
    }
    d.add({.id = id,
           .title = words,
           .doing = "Limit typed in, straight and empty track, throttle full until the amps stand "
                    "still. Note the plateau from display or log.",
           .meter = Meter::display,
           .caution =
               share < 0.3   ? "First pull: both feet near the ground, ready to close the grip."
               : share < 0.8 ? "It pulls harder than the last time: lean forward before you twist."
                             : "Full thrust may lift the front wheel or spin the rear one: dry, "
                               "straight, nobody beside the track.",
           .kind = Kind::current,
           .expect = e,
           .needs = {before},
           .tree = {{When::low, "phase limit reached first, sag to the soft cut, throttle's end",
                     "another limit holds it"},
                    {When::high, "the display's shunt against a clamp",
                     "the display is wrong, or the limit counts phase amps"},
                    {When::any, "smooth when slow, cuts when strong: the smallest cell then",
                     "cell dip, monitor's trip, contactor's coil supply"}}});
    before = id;
    if (share < 0.3) {
      Expect drop = Draft::at_most(0.015, "15 mV at 50 A: " + std::string(practice));
      drop.value = 50 * sheet("contactor.resistance");
      drop.sum = "50 A x " + shown(sheet("contactor.resistance"), Kind::resistance);
      d.add_if(sheet.has("contactor"),
               {.id = "contact-drop",
                .title = "Volts lost over the closed contactor",
                .doing = "Meter in millivolts over its two studs, leads taped on, at 50 A (wheel "
                         "against the brake, or a slow pull with the meter filming).",
                .meter = Meter::volts,
                .caution = "If it opens under load the meter sees the whole pack: set it to its "
                           "highest range but for the reading.",
                .kind = Kind::voltage,
                .expect = drop,
                .needs = {before},
                .tree = {{When::high, "lug to stud and stud to stud apart",
                          "loose lug, or pitted contacts: a weld is next"}}});
    }
  }
  const double cut = sheet("limits.soft_cut");
  d.add(
      {.id = "low-volts-fade",
       .title = "Low volts fade, they do not cut",
       .doing = "Set the soft cut for this test 2 V under what the pack shows now; ride gently "
                "until it bites. Yes: the pull fades smoothly.",
       .meter = Meter::display,
       .caution = "A cut instead of a fade in a bend lays the bike down: straight, slow, upright.",
       .tick = true,
       .needs = {"battery-limit-50"},
       .tree = {
           {When::any, "monitor trips first", "raise the controller's cut above the monitor's"}}});
  Expect typed = d.around([](const Numbers& n) { return n("limits.soft_cut"); },
                          "as it stands on the sheet: " + volts(cut), Meter::display);
  const double monitor =
      sheet("limits.bms_cell_min") * sheet("pack.series") * sheet.or_else("cell.series_inside", 1);
  if (typed.missing.empty()) {
    typed.low = cut - 0.1;
    typed.high = cut + 0.1;
    typed.bounds = "as the menu rounds it";
    if (monitor >= cut) {
      typed.low = 1;
      typed.high = 0;
      typed.bounds = "no reading passes: the monitor opens at " + volts(monitor) +
                     ", above the controller's fade";
    }
  }
  d.add({.id = "soft-cut-typed",
         .title = "The soft cut as it will stay",
         .doing = "Typed in and read back; `settings` shows the whole row of cuts. Save the file "
                  "with today's date.",
         .meter = Meter::display,
         .caution = "The order is what counts: the controller fades before the monitor opens, or "
                    "the bike goes dead in traffic.",
         .kind = Kind::voltage,
         .expect = typed,
         .needs = {"low-volts-fade"},
         .tree = {{When::any, "`wattwright settings`, first ladder",
                   "what must stand above what, and by how much"}}});
}

void braking(Draft& d) {
  const auto& sheet = d.numbers();
  const bool on =
      sheet.yes("limits.regen") && !sheet.is("motor.type", build::MotorType::brushed_series);
  Expect top = Draft::at_most(sheet("limits.regen_voltage_max"),
                              "the fade's own setting, and half a volt for the meter");
  top.value = sheet("limits.regen_voltage_max");
  top.sum = "limits.regen_voltage_max";
  top.high += 0.5;
  if (std::isnan(top.value)) top.missing.push_back(build::id_of("limits.regen_voltage_max"));
  if (d.full_V() < top.high) {
    top.high = d.full_V();
    top.bounds = "the full cells' own voltage";
  }
  Expect amps =
      d.around([](const Numbers& n) { return n("limits.regen_current"); },
               "as set: " + shown(sheet("limits.regen_current"), Kind::current), Meter::clamp);
  amps.low = 0.5;
  if (amps.missing.empty()) amps.high = 1.05 * amps.value;
  amps.bounds = "some, and not above the setting by more than 5 %: " + std::string(practice);
  d.add_if(on,
           {.id = "regen-current",
            .title = "Motor braking: how strong",
            .doing = "At 80 % charge, from 50 km/h, grip closed: note the largest current back "
                     "into the pack, without its sign.",
            .meter = Meter::display,
            .caution = "In the wet or leaning this locks the rear wheel like a foot on the pedal: "
                       "dry, straight, weak setting first.",
            .kind = Kind::current,
            .expect = amps,
            .needs = {"battery-limit-50"},
            .tree = {{When::low, "monitor's charge gate, regen switched on, speed above its least",
                      "one of them holds it back"},
                     {When::high, "the limit: battery or phase amps",
                      "set the battery's braking limit"}}});
  d.add_if(on,
           {.id = "regen-fade",
            .title = "Motor braking fades on a full pack",
            .doing = "At 90 % charge, long and gentle braking: note the highest pack volts seen.",
            .meter = Meter::display,
            .caution = "Never try this at full charge: a monitor that opens under braking leaves "
                       "the controller alone with the motor, and it dies.",
            .kind = Kind::voltage,
            .expect = top,
            .needs = {"regen-current"},
            .tree = {{When::high, "taper's start, cable and pack resistance",
                      "start it lower, brake weaker"}}});
}

void on_the_road(Draft& d) {
  const auto& sheet = d.numbers();
  const bool on = d.has("regen-fade");
  for (const double kmh : {30.0, 50.0}) {
    const double v = kmh / 3.6;
    Expect e = Draft::at_most(v * v / (2 * 5.5), "5.5 m/s2: " + std::string(practice));
    e.sum = "(" + shown(v, Kind::speed) + ")^2 / (2 x 5.5 m/s2)";
    d.add(
        {.id = kmh < 40 ? "stop-30" : "stop-50",
         .title = "Stopping from " + shown(v, Kind::speed),
         .doing =
             "Both brakes, dry and level, from the mark where the brakes begin. Longest of three.",
         .meter = Meter::tape,
         .caution =
             kmh < 40
                 ? "New pads do not bite until they have been bedded: thirty slow stops first."
                 : "The bike's weight sits elsewhere now: the rear may lift or lock sooner than "
                   "you remember.",
         .kind = Kind::length,
         .expect = e,
         .needs = {kmh < 40 ? "battery-limit-20" : "stop-30"},
         .tree = {{When::high, "pads, bleeding, tyre age", "no faster riding until it stops"}}});
  }
  std::string before = "stop-50";
  for (const Recheck& r : rechecks) {
    const std::string after = "after-" + std::to_string(r.km) + "-km";
    const std::string km = std::to_string(r.km) + " km";
    d.add(
        {.id = after + "-marks",
         .title = "After " + km + ": every mark, strap and chain",
         .doing = "Torque marks in line on every joint and mount, chain slack, no smell, no new "
                  "noise, cables where they were.",
         .meter = Meter::eye,
         .caution = r.marks,
         .tick = true,
         .needs = {before},
         .tree = {
             {When::any, "the one that moved",
              "undo, clean, tighten, mark; ride the same distance again"},
             {When::any, "it cut out on bumps, or with the bars at one angle",
              "a loose plug: key on, wheel up, move bars and loom slowly and watch the display"}}});
    d.add({.id = after + "-heat",
           .title = "After " + km + ": the warmest joint",
           .doing =
               "Infrared thermometer on every lug, fuse and contactor stud (a dab of matt paint "
               "or tape on bare metal): hottest less the air.",
           .meter = Meter::thermometer,
           .caution = r.heat,
           .kind = Kind::temperature_rise,
           .expect = Draft::at_most(
               30, "30 K over the air, like joints within 5 K: " + std::string(practice)),
           .needs = {after + "-marks"},
           .tree = {{When::high, "the same joint's twin",
                     "one alone: its crimp or its face. Both: the cable is thin"}}});
    d.add_if(sheet.has("bms"),
             {.id = after + "-spread",
              .title = "After " + km + ": the cells",
              .doing = "After half an hour at rest, largest less smallest cell.",
              .meter = Meter::display,
              .caution = r.spread,
              .kind = Kind::voltage,
              .expect = Draft::at_most(0.050, "50 mV at rest: " + std::string(practice)),
              .needs = {after + "-marks"},
              .tree = {{When::high, "always the same cell",
                        "it ends your rides: its joint first, then the cell"}}});
    before = after + "-heat";
  }
  const auto chain = sheet.is("gearing.drive", build::FinalDrive::chain);
  Expect slack =
      d.around([](const Numbers& n) { return n("gearing.chain_slack"); },
               "as set: " + shown(sheet("gearing.chain_slack"), Kind::length), Meter::tape);
  if (slack.missing.empty()) {
    slack.low = 0.8 * slack.value;
    slack.high = 1.3 * slack.value;
    slack.bounds = "a fifth tighter to a third looser: " + std::string(practice);
  }
  d.add_if(chain && sheet.known("gearing.chain_slack"),
           {.id = "chain-slack",
            .title = "Chain slack after 20 km",
            .doing = "Rider seated, at mid-span, up and down together.",
            .meter = Meter::tape,
            .caution = "Key out before a finger comes near: a nudge of the throttle takes it off.",
            .kind = Kind::length,
            .expect = slack,
            .needs = {"after-20-km-marks"},
            .tree = {{When::high, "both adjusters alike, motor mount moved",
                      "a new chain settles once; a motor that creeps needs its jack screw"},
                     {When::low, "suspension at full travel",
                      "too tight it eats the shaft's bearing"}}});
  Expect loop = d.around(
      [](const Numbers& n) {
        return n("pack.series") *
                   (n("cell.resistance") / n("pack.parallel") + n("pack.link_resistance")) +
               n("pack.loop_resistance");
      },
      shown(sheet("pack.series"), Kind::ratio) + " x (" +
          shown(sheet("cell.resistance"), Kind::resistance) + " / " +
          shown(sheet("pack.parallel"), Kind::ratio) + " + " +
          shown(sheet("pack.link_resistance"), Kind::resistance) + ") + " +
          shown(sheet("pack.loop_resistance"), Kind::resistance),
      Meter::milliohms);
  if (loop.missing.empty()) {
    loop.low = std::max(loop.low, 0.85 * loop.value);
    loop.high = std::min(loop.high, 1.15 * loop.value);
    loop.bounds += ", within 15 %: " + std::string(practice);
  }
  d.add({.id = "loop-resistance",
         .title = "Resistance of pack and loop, by two currents",
         .doing =
             "Steady pull of ten seconds, then another one stronger by 100 A or so: volts lost "
             "at the controller over amps added. Cells near 25 degC.",
         .meter = Meter::display,
         .caution = "Two steady pulls need a long straight or a roller: eyes on the road, the log "
                    "does the reading.",
         .kind = Kind::resistance,
         .expect = loop,
         .needs = {"battery-limit-100", "after-20-km-heat"},
         .tree =
             {{When::high, "each cell's dip in the same log",
               "one dips more: its joint or the cell. All alike: cold cells, or a bad cable joint"},
              {When::low, "the two moments: was the current steady",
               "too short a pull reads only the quick half"}},
         .learns = "cell.resistance"});
  for (const auto& [kmh, answer, id] : {std::tuple{50, Answer::consumption_50, "eats-50"},
                                        std::tuple{70, Answer::consumption_70, "eats-70"},
                                        std::tuple{90, Answer::consumption_90, "eats-90"}}) {
    const double value = d.ride().possible ? d.ride().nominal[answer] : std::nan("");
    const auto& band = d.ride().band(answer);
    Expect e;
    e.value = value;
    e.low = std::min(0.85 * value, band.p10);
    e.high = std::max(1.15 * value, band.p90);
    e.sum = "the road model's answer; `ride` shows what it rests on";
    e.bounds = "15 %, or as far as the sheet's figures leave it open: " + std::string(practice);
    const bool can = d.ride().possible && std::isfinite(value);
    d.add_if(
        can,
        {.id = id,
         .title = "What it eats at " + std::to_string(kmh) + " km/h",
         .doing = "Level, no wind, there and back over a measured kilometre or more, from "
                  "the pack's own watt-hours.",
         .meter = Meter::display,
         .caution = kmh < 60 ? "Other traffic does not know that you are measuring."
                    : kmh < 80
                        ? "Only where it is lawful and the papers are there; hold the speed by "
                          "feel, not by staring."
                        : "Near the bike's end the motor heats: watch its temperature, and stop "
                          "before its limit.",
         .kind = Kind::consumption,
         .expect = e,
         .needs = {"after-20-km-heat"},
         .tree = {{When::high, "wind, tyre pressure, dragging brake",
                   "then drag area and rolling resistance: a coast-down tells them"},
                  {When::low, "the meter's watt-hours against the charger's",
                   "the shunt reads low: calibrate it first"}}});
  }
  d.add({.id = "wet-isolation",
         .title = "Isolation again, wet",
         .doing = "Ten minutes of light rain from a hose, no jet. Then as in 'isolation with a "
                  "resistor', worked out in ohms: that is the reading.",
         .meter = Meter::volts,
         .caution = "Wet hands and wet metal: gloves dry, disconnect open while you clip the "
                    "resistor on.",
         .kind = Kind::resistance,
         .expect = Draft::at_least(1e6, "1 Mohm: " + std::string(practice)),
         .needs = {"after-5-km-heat"},
         .tree = {{When::low, "dry one box at a time with a hair-dryer until it rises",
                   "its gland, its lid, its connector"}},
         .learns = "wiring.isolation_resistance"});
  std::vector<std::string> last{"after-100-km-heat", "loop-resistance", "wet-isolation",
                                "soft-cut-typed", "battery-limit-100"};
  if (on) last.emplace_back("regen-fade");
  if (d.has("after-100-km-spread")) last.emplace_back("after-100-km-spread");
  if (d.has("contact-drop")) last.emplace_back("contact-drop");
  d.add({.id = "signed-off",
         .title = "Sheet printed, dated, signed, in the binder",
         .doing =
             "This log, the circuit as built, settings file, photographs, receipts. Two names: "
             "who measured, who watched.",
         .meter = Meter::hand,
         .caution = "What was measured was measured on one day: it says nothing of next spring. An "
                    "inspector or insurer may want a competent person's name besides yours.",
         .tick = true,
         .needs = last});
}

}  // namespace

void ride_steps(Draft& d) {
  d.stage(Stage::ride);
  limits(d);
  braking(d);
  on_the_road(d);
}

}  // namespace ww::steps
