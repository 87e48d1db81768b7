// SPDX-License-Identifier: MIT
// First power-up with the pack out: looked over, measured through, 12 V, interlocks, motor and grip
// by hand, a bench supply. Windows are common practice, no source, unless said.
#include <algorithm>
#include <cmath>
#include <tuple>
#include <utility>

#include "steps/power.h"

namespace ww::steps {

namespace {

using build::Sensor;
using figure::Kind;
using When = Branch::When;

// ---- nothing powered
// ---------------------------------------------------------------------------

void look_over(Draft& d) {
  d.add({.id = "look-over",
         .title = "Look over everything with the pack out",
         .doing = "Pack out of the bike, or both its leads off and covered. Torque marks in line, "
                  "sleeves on every lug, no chafe at bars, swingarm and frame "
                  "edges, swarf vacuumed, chain guard on, tyres and brakes fit to turn.",
         .meter = Meter::eye,
         .caution = "Hands go between chain, wheel and frame here: key out, pack apart, and nobody "
                    "else at the bike.",
         .tick = true,
         .tree = {{When::any, "the joint whose mark is out", "undo it, clean it, tighten it anew"}},
         .live = pack_out()});
}

void through_and_to_frame(Draft& d) {
  std::vector<std::string> all;
  for (const auto& sized : d.sizing().wires) {
    const auto& wire = d.circuit().wires[static_cast<std::size_t>(sized.wire)];
    if (wire.carries != wiring::Carries::traction && wire.carries != wiring::Carries::phase)
      continue;
    const double ohm = sized.resistance_ohm;
    Expect e =
        Draft::at_most(0.2, "0.2 ohm on a common meter, leads included: " + std::string(practice));
    e.sum = "the cable itself has " + shown(ohm, Kind::resistance) +
            "; a milliohm meter shows that and less than 1 mohm for its lugs";
    all.push_back("through-" + wire.label);
    d.add({.id = all.back(),
           .title = wire.label + " from end to end",
           .doing = "Ohms from its lug for " + d.circuit().end_text(wire.from) +
                    " to its lug for " + d.circuit().end_text(wire.to) +
                    ", one of them off its stud. Bend the cable while you look.",
           .meter = Meter::ohms,
           .caution = wire.label +
                      ": an ohmmeter on a live lead is destroyed, and its probe with it: volts "
                      "first, ohms after.",
           .kind = Kind::resistance,
           .expect = e,
           .needs = {"look-over"},
           .tree = {{When::high, "the lug: does the strand show at its barrel's window",
                     "open or loose crimp, or the wrong stud"},
                    {When::high, "the leads shorted together read the same",
                     "you measured the meter's own leads"}},
           .live = pack_out()});
  }
  std::vector<std::string> needs = all.empty() ? std::vector<std::string>{"look-over"} : all;
  const double limit_ohm = 500 * d.full_V();
  d.add({.id = "wiring-to-frame",
         .title = "The pack-side wiring apart from the frame",
         .doing =
             "Pack, controller, converter, charger and display unplugged. Insulation tester at "
             "250 to 500 V from the bundled pack-side leads to bare frame, ten seconds.",
         .meter = Meter::insulation,
         .caution = "The tester's volts kill electronics: none may hang on the lead, nor the cell "
                    "monitor. Discharge the loom before you touch it.",
         .kind = Kind::resistance,
         .expect =
             [&] {
               Expect e = Draft::at_least(1e6, "1 Mohm: " + std::string(practice));
               e.sum = "the rule's floor is 500 ohm for each of " + volts(d.full_V()) + ": " +
                       shown(limit_ohm, Kind::resistance) + " (UN R136); new wiring has far more";
               return e;
             }(),
         .needs = needs,
         .tree = {{When::low, "half the loom unplugged, then the other half",
                   "halve it until one lead is left"},
                  {When::low, "that lead's chafe points, screws through it, water in its gland",
                   "mend, dry, test again"}},
         .live = pack_out()});
  for (const auto& [id, label, there] :
       {std::tuple{"bond-box", "pack box", true}, std::tuple{"bond-motor", "motor case", true},
        std::tuple{"bond-controller", "controller case", true},
        std::tuple{"bond-charger", "charger case", d.numbers().has("charger")}}) {
    d.add_if(
        there,
        {.id = id,
         .title = std::string("Frame to ") + label,
         .doing = std::string("Drive 0.2 A or more from bare frame to the ") + label +
                  ", measure the volts across, divide.",
         .meter = Meter::milliohms,
         .caution = std::string("Without this bond a fault waits on the ") + label +
                    " until a hand completes it. Not through paint, not through a hinge.",
         .kind = Kind::resistance,
         .expect = Draft::at_most(0.1, "0.1 ohm at 0.2 A or more: UN R100, R136"),
         .needs = {"look-over"},
         .tree = {{When::high, "under the lug", "paint or anodising: bare metal, grease after"}},
         .live = pack_out()});
  }
}

// ---- 12 V alone
// --------------------------------------------------------------------------------

void twelve_volts(Draft& d) {
  const auto& sheet = d.numbers();
  d.add({.id = "supply-idle",
         .title = "12 V side alone, everything off",
         .doing =
             "Bench supply of 13.2 V, limit 3 A, in place of converter and buffer. Key on, all "
             "loads off.",
         .meter = Meter::clamp,
         .caution = "No shock here, but a ring across a battery post welds: supply with a limit, "
                    "buffer still out.",
         .kind = Kind::current,
         .expect = Draft::at_most(0.2, "0.2 A: " + std::string(practice)),
         .needs = {"wiring-to-frame"},
         .tree = {{When::high, "fuses out one by one until it falls",
                   "that branch has a short or a load left on"},
                  {When::high, "a relay that pulls in with the key off",
                   "wrong pin: lamp relay's coil"}},
         .live = "12 V from the bench supply only."});
  Expect lamps = d.around(
      [](const Numbers& n) {
        return (n("donor.load_headlight") + n("donor.load_rear_lamps") +
                n.or_else("donor.load_other", 0)) /
               12;
      },
      "(" + shown(sheet("donor.load_headlight"), Kind::power) + " + " +
          shown(sheet("donor.load_rear_lamps"), Kind::power) + " + " +
          shown(sheet.or_else("donor.load_other", 0), Kind::power) + ") / 12 V",
      Meter::clamp);
  if (lamps.missing.empty()) {
    lamps.low = 0.8 * lamps.value;
    lamps.high = 1.2 * lamps.value;
    lamps.bounds = "a fifth either way: " + std::string(practice);
  }
  d.add(
      {.id = "supply-lamps",
       .title = "12 V side with its lamps",
       .doing = "Head lamp, rear lamp and what is always on; no brake, horn or indicators. Raise "
                "the limit to what is expected. Then try brake, horn and indicators one by one.",
       .meter = Meter::clamp,
       .caution = "A filament lamp glows hot enough to burn, and thin wire on a wide-open supply "
                  "smokes: limit just above what is expected.",
       .kind = Kind::current,
       .expect = lamps,
       .needs = {"supply-idle"},
       .tree = {{When::low, "each lamp lit, each bulb's label", "a dark one: its fuse, its return"},
                {When::high, "two lamps on one switch, filament where LED was entered",
                 "wrong branch, or the sheet's watts are not these lamps'"}},
       .live = "12 V from the bench supply only."});
}

void interlocks(Draft& d) {
  Expect closed =
      Draft::between(12.0, 13.4, "supply less the loop's own loss: " + std::string(practice));
  closed.value = 12.8;
  closed.sum = "13.2 V less what key, switches and plugs lose";
  d.add({.id = "loop-closed",
         .title = "Interlock loop: every switch closed",
         .doing = "Contactor's coil plug off. Key on, stand up, kill switch on, lid on, no charge "
                  "plug. Meter at the coil plug.",
         .meter = Meter::volts,
         .caution = "The coil stays unplugged until every switch has been proved: a contactor that "
                    "closes by surprise makes the bus live.",
         .kind = Kind::voltage,
         .expect = closed,
         .needs = {"supply-lamps"},
         .tree = {{When::low, "volts after each switch in turn",
                   "the first one without is the one that does not close"},
                  {When::high, "the supply itself", "it is set above 13.2 V"}},
         .live = "12 V from the bench supply only."});
  std::string before = "loop-closed";
  std::vector<std::string> switches{"key"};
  for (const char* id : {"kill", "stand_switch", "tilt", "inlet_switch", "lid"}) {
    if (d.circuit().device(id) != nullptr) switches.emplace_back(id);
  }
  for (const auto& id : switches) {
    const auto* device = d.circuit().device(id);
    const std::string label = device == nullptr ? id : device->label;
    d.add({.id = "loop-" + id,
           .title = "Interlock loop: only the " + label + " open",
           .doing = "All others closed. Meter at the coil plug. Then close it again and see the "
                    "volts come back.",
           .meter = Meter::volts,
           .caution = "If the " + label +
                      " does not open the loop, nothing on the bike will when it is needed: do not "
                      "bridge it to get on.",
           .kind = Kind::voltage,
           .expect = Draft::between(-0.5, 0.5, "nothing left: " + std::string(practice)),
           .needs = {"loop-closed"},
           .tree = {{When::any, "the " + label + " on the ohmmeter, out of the loop",
                     "closed for ever: wrong contact (make for break), or bridged"},
                    {When::any, "volts before and after it",
                     "a second way feeds the coil: find the wire past it"}},
           .live = "12 V from the bench supply only."});
    before = "loop-" + id;
  }
  const auto& sheet = d.numbers();
  std::vector<std::string> proved;
  proved.reserve(switches.size());
  for (const auto& id : switches) proved.push_back("loop-" + id);
  Expect pull =
      d.around([](const Numbers& n) { return n("contactor.pull_in_voltage"); },
               "as its sheet says: " + volts(sheet("contactor.pull_in_voltage")), Meter::volts);
  pull.low = 0;
  d.add_if(
      sheet.has("contactor"),
      {.id = "coil-pull-in",
       .title = "The contactor pulls in",
       .doing = "Coil on the bench supply alone, turned up slowly from 0 V. Note where it "
                "clicks: once, crisp.",
       .meter = Meter::volts,
       .caution = "Its main terminals are bare and go live later: nothing on them now, fingers "
                  "out of its arc vents.",
       .kind = Kind::voltage,
       .expect = pull,
       .needs = proved,
       .tree = {{When::high, "a coil with an economiser wants its full volts at once",
                 "switch the full voltage on instead of turning it up"},
                {When::any, "no click: the coil's polarity, its diode",
                 "turned round: the diode shorts the supply"},
                {When::any, "it chatters", "the supply's limit is too low for the pull-in surge"}},
       .live = "The coil's supply only; the contactor's main terminals are empty."});
  d.add_if(sheet.has("contactor"),
           {.id = "coil-hold",
            .title = "The contactor's hold current",
            .doing = "A second after it has closed, at its normal coil voltage.",
            .meter = Meter::clamp,
            .caution = "A coil that draws its pull-in current for ever burns out on the road, and "
                       "drive goes with it.",
            .kind = Kind::current,
            .expect = d.around(
                [](const Numbers& n) { return n("contactor.hold_current"); },
                "as its sheet says: " + shown(sheet("contactor.hold_current"), Kind::current),
                Meter::clamp),
            .needs = {"coil-pull-in"},
            .tree = {{When::high, "the economiser",
                      "it does not step down: wrong terminals, or none is built in"},
                     {When::low, "whether it really holds: tap its case",
                      "too little to hold on a bump"}},
            .live = "The coil's supply only; the contactor's main terminals are empty.",
            .learns = "contactor.hold_current"});
}

// ---- motor and controls, unpowered
// -------------------------------------------------------------

void motor_cold(Draft& d) {
  const auto& sheet = d.numbers();
  const bool phase =
      sheet.is("motor.resistance_between", build::ResistanceBetween::phase) && !brushed(d);
  const Formula between = [phase](const Numbers& n) {
    return (phase ? 2 : 1) * n("motor.resistance");
  };
  const std::string sum = (phase ? "twice one phase of " : "as the sheet says: ") +
                          shown(sheet("motor.resistance"), Kind::resistance);
  const std::vector<std::pair<std::string, std::string>> pairs =
      brushed(d) ? std::vector<std::pair<std::string, std::string>>{{"armature", "M+ to M-"}}
                 : std::vector<std::pair<std::string, std::string>>{
                       {"phase-uv", "U to V"}, {"phase-vw", "V to W"}, {"phase-wu", "W to U"}};
  std::string before = "through-P1";
  for (const auto& [id, label] : pairs) {
    Expect e = d.around(between, sum, Meter::milliohms);
    const double first = id == "phase-uv" || brushed(d) ? std::nan("") : d.passed("phase-uv");
    if (!std::isnan(first)) {
      e = Draft::between(0.95 * first, 1.05 * first,
                         "within 5 % of U to V: " + std::string(practice));
      e.value = first;
      e.sum = "as U to V was read";
    }
    d.add({.id = id,
           .title = "Winding, " + label,
           .doing = "Controller's leads off. Four-wire, motor cold, rotor still.",
           .meter = Meter::milliohms,
           .caution = "Winding " + label +
                      ": a wheel that turns puts volts on bare motor leads: wheel chocked, leads "
                      "apart.",
           .kind = Kind::resistance,
           .expect = e,
           .needs = {before},
           .tree = {{When::high, "the same between the motor's own studs",
                     "there it is right: the lead's lug is bad"},
                    {When::high, "the sheet: between two leads, or one phase",
                     "a factor of two: set motor.resistance_between"},
                    {When::low, "all pairs alike",
                     "a shorted turn makes one pair low and warm: no power on it"}},
           .live = pack_out(),
           .learns = id == "phase-uv" || brushed(d) ? "motor.resistance" : ""});
    before = id;
  }
  d.add_if(
      !series_wound(d) && !sheet.is("motor.type", build::MotorType::induction),
      {.id = "drill-test",
       .title = "The motor constant, by a drill",
       .doing = "Turn the shaft with a drill at a speed you have measured (tape mark and "
                "tachometer), volts between two leads. Reading: rpm over volts; of an AC "
                "meter's volts take 1.41 times as much first.",
       .meter = Meter::drill,
       .caution = "At the drill's speed the bare leads bite and a slipping chuck throws the "
                  "key: leads taped but for the probes, motor clamped.",
       .kind = Kind::motor_constant,
       .expect = d.around(
           [](const Numbers& n) { return n("motor.speed_constant"); },
           "as the sheet says: " + shown(sheet("motor.speed_constant"), Kind::motor_constant),
           Meter::drill),
       .needs = {before},
       .tree = {{When::any, "rms or peak: a factor of 1.41",
                 "the seller's figure means the other one: say so on the sheet"},
                {When::any, "the other pairs of leads",
                 "all three alike: the motor is not what was sold, what you read is the figure"}},
       .live = pack_out(),
       .learns = "motor.speed_constant"});
  d.add({.id = "motor-to-case",
         .title = "Windings apart from the motor's case",
         .doing = "Insulation tester, 500 V, any motor lead to the case; controller's leads off.",
         .meter = Meter::insulation,
         .caution = "The winding keeps the tester's charge: short it to the case before you lift "
                    "the leads.",
         .kind = Kind::resistance,
         .expect = Draft::at_least(10e6, "10 Mohm: " + std::string(practice)),
         .needs = {before},
         .tree = {{When::low, "damp: warm it dry and test again",
                   "still low: the winding touches, back to the seller"},
                  {When::low, "terminal studs and their insulators",
                   "a cracked insulator, carbon, a strand"}},
         .live = pack_out()});
}

void sensor_by_hand(Draft& d) {
  const auto& sheet = d.numbers();
  const bool hall = sheet.is("motor.sensor", Sensor::hall);
  const bool wave = sheet.is("motor.sensor", Sensor::sin_cos);
  const double pairs = sheet("motor.pole_pairs");
  Expect changes = Draft::between(6 * pairs, 6 * pairs, "neither more nor fewer");
  changes.value = 6 * pairs;
  changes.sum = "6 states x " + whole(std::isnan(pairs) ? 0 : pairs) + " pole pairs";
  if (std::isnan(pairs)) changes.missing.push_back(build::id_of("motor.pole_pairs"));
  d.add_if(
      hall,
      {.id = "hall-states",
       .title = "The three Hall sensors, by hand",
       .doing = "Sensor on its own " + volts(sheet("motor.sensor_supply")) +
                " supply, the wheel turned slowly. Count different patterns of high and "
                "low; never all high, never all low.",
       .meter = Meter::volts,
       .caution = "12 V on a 5 V sensor ends it: measure the supply before the plug goes "
                  "in. Fingers clear of chain and sprocket while you turn.",
       .kind = Kind::ratio,
       .expect =
           [] {
             Expect e = Draft::between(6, 6, "sensors 120 degrees apart");
             e.value = 6;
             e.sum = "8 patterns less all high and all low";
             return e;
           }(),
       .needs = {"supply-lamps"},
       .tree = {{When::any, "which wire never changes",
                 "dead sensor, open wire, or no pull-up: 5 kohm to the supply"},
                {When::any, "all high or all low seen", "60 degree sensors, or one that sticks"}},
       .live = "The sensor's 5 V only."});
  d.add_if(hall,
           {.id = "hall-changes",
            .title = "Hall changes in one turn of the motor",
            .doing = "Mark the shaft, count changes of pattern over one whole turn.",
            .meter = Meter::eye,
            .caution = "Turning by the chain pinches: turn at the wheel, or at the shaft with "
                       "the chain off.",
            .kind = Kind::ratio,
            .expect = changes,
            .needs = {"hall-states"},
            .tree = {{When::any, "count three turns and divide",
                      "miscounted, or motor.pole_pairs is not this motor's"}},
            .live = "The sensor's 5 V only."});
  for (const char* end : {"low", "high"}) {
    const bool low = std::string_view(end) == "low";
    d.add_if(wave,
             {.id = std::string("wave-") + end,
              .title = std::string("Sine and cosine, ") + end + "est volts",
              .doing = std::string("Turn slowly, note the ") + end +
                       "est either signal reaches; both must reach nearly the same.",
              .meter = Meter::volts,
              .caution = low ? "A probe that slips between pins shorts supply to signal: use the "
                               "plug's back, one pin at a time."
                             : "Turn by hand only: spun by a drill the motor's leads bite.",
              .kind = Kind::voltage,
              .expect = low ? Draft::between(0.4, 1.2, "0.5 V nominal: " + std::string(practice))
                            : Draft::between(3.8, 4.6, "4.5 V nominal: " + std::string(practice)),
              .needs = {low ? "supply-lamps" : "wave-low"},
              .tree = {{When::any, "supply and ground at the sensor's plug",
                        "a flat or shifted wave: bad ground, magnet off centre"}},
              .live = "The sensor's 5 V only."});
  }
  const bool other = !hall && !wave && !sheet.is("motor.sensor", Sensor::none) && !brushed(d);
  d.add_if(other, {.id = "sensor-counts",
                   .title = "The position sensor follows the shaft",
                   .doing = "Controller's logic alone on the bench, display on the angle: it runs "
                            "from 0 to 360 degrees once per pole pair, forward when the wheel goes "
                            "forward.",
                   .meter = Meter::display,
                   .caution = "Motor leads stay off: with a wrong angle the controller may pull.",
                   .tick = true,
                   .needs = {"supply-lamps"},
                   .live = "The sensor's supply only."});
}

void throttle(Draft& d) {
  const auto& sheet = d.numbers();
  const bool there = sheet.has("throttle");
  const bool bus = sheet.is("throttle.type", build::ThrottleType::bus);
  const Window rest{0.2, 1.6, "what controllers take for a grip at rest"};
  d.add_if(there && !bus,
           {.id = "throttle-rest",
            .title = "Throttle at rest",
            .doing = "Grip on its " + volts(sheet.or_else("throttle.supply", 5)) +
                     " supply, signal to ground, grip released. Twenty times, bars at both "
                     "locks: note the one that is farthest off.",
            .meter = Meter::volts,
            .caution = "Motor leads stay off, or the contactor open: what reads as rest today "
                       "may read as go tomorrow.",
            .kind = Kind::voltage,
            .expect = d.around([](const Numbers& n) { return n("throttle.voltage_rest"); },
                               "as the sheet says: " + volts(sheet("throttle.voltage_rest")),
                               Meter::volts, rest),
            .needs = {"supply-lamps"},
            .tree = {{When::low, "ground and supply at the plug",
                      "an open ground reads near supply, an open supply near nothing"},
                     {When::high, "the spring, the cable, the sleeve's end",
                      "it does not come home: this grip is not ridden"}},
            .live = "The controller's 5 V only.",
            .learns = "throttle.voltage_rest"});
  d.add_if(there && !bus,
           {.id = "throttle-full",
            .title = "Throttle at full twist",
            .doing = "Slowly from rest to the stop: the volts rise without a jump. Note the end.",
            .meter = Meter::volts,
            .caution = "Above the fault voltage typed in, the controller stops; below the full "
                       "voltage typed in, full is never reached. Type what is measured, not "
                       "what is hoped.",
            .kind = Kind::voltage,
            .expect = d.around([](const Numbers& n) { return n("throttle.voltage_full"); },
                               "as the sheet says: " + volts(sheet("throttle.voltage_full")),
                               Meter::volts),
            .needs = {"throttle-rest"},
            .tree = {{When::any, "supply volts at the same moment",
                      "the signal follows its supply: 4.7 V in place of 5 V shifts both ends"}},
            .live = "The controller's 5 V only.",
            .learns = "throttle.voltage_full"});
  d.add({.id = "throttle-wires",
         .title = "Each throttle wire pulled in turn",
         .doing = "With the controller awake and the contactor open: pull supply, ground, signal, "
                  "one at a time. Each must give a fault and no torque asked. Yes: all did.",
         .meter = Meter::display,
         .caution = "A broken wire that reads as full throttle throws you off: a grip that fails "
                    "this is not ridden, whatever else works.",
         .tick = true,
         .needs = {"throttle-full"},
         .tree = {{When::any, "fault voltages in the controller",
                   "set them 0.3 V outside rest and full"}},
         .live = "12 V and the controller's 5 V; the pack is out."});
  d.add({.id = "brake-switches",
         .title = "Both brake switches",
         .doing = "Lever, then pedal: stop lamp lights and the controller's display sees it, each "
                  "alone, each within the first centimetre.",
         .meter = Meter::display,
         .caution =
             "Who follows you sees only this lamp: with motor braking it has to light before "
             "the lever does anything.",
         .tick = true,
         .needs = {"supply-lamps"},
         .tree = {{When::any, "lamp lights, display does not",
                   "the input is the other way round: invert it"}},
         .live = "12 V and the controller's 5 V; the pack is out."});
}

void coolant(Draft& d) {
  d.add_if(
      d.numbers().is("motor.cooling", build::Cooling::liquid),
      {.id = "coolant",
       .title = "Coolant in, bled, pump heard",
       .doing = "Fill, run the pump from the bench supply, tilt the bike until no more bubbles "
                "come, look at every hose end. Yes: level steady, no drop.",
       .meter = Meter::eye,
       .caution = "A drop on an open connector is a leak to the frame later: lids on, plugs "
                  "mated, before the first litre goes in.",
       .tick = true,
       .needs = {"supply-lamps"},
       .tree = {{When::any, "the highest point of the loop",
                 "air stays there: a bleed screw, or the header tank higher"}},
       .live = "12 V from the bench supply only."});
}

// ---- bench supply in place of the pack
// ---------------------------------------------------------

void bench_first(Draft& d) {
  const auto& sheet = d.numbers();
  const double least = sheet.or_else("controller.voltage_min", 30);
  const double most = std::min(60.0, sheet.or_else("controller.voltage_max", 60));
  const double at_V = std::clamp(std::max(least * 1.1, 30.0), 0.0, most);
  const double idle = sheet("controller.idle_power") / at_V;
  Expect e = Draft::at_most(
      std::max(0.060, 1.5 * idle),
      "60 mA, or half as much again as its own idle power: " + std::string(practice));
  e.value = idle;
  e.sum = shown(sheet("controller.idle_power"), Kind::power) + " / " + volts(at_V);
  d.add(
      {.id = "bench-feed",
       .title = "A bench supply in place of the pack",
       .doing =
           "Supply of " + volts(at_V) +
           ", limit 0.5 A, at the pack's two leads, + to + (measure its sign first). The bus "
           "charges, then the current falls. Converter and charger fuses out. Note what stays.",
       .meter = Meter::milliamps,
       .caution = "Turned round it destroys the controller as surely as the pack does: sign on the "
                  "meter, said aloud. Not above " +
                  volts(sheet("controller.voltage_max")) + ".",
       .kind = Kind::current,
       .expect = e,
       .needs = {"coil-hold", "motor-to-case", "throttle-wires", "bond-controller"},
       .tree = {{When::high, "at the limit for ever",
                 "a short on the bus: measure it with the supply off"},
                {When::high, "converter, display, charger fuses really out",
                 "one of them is the load"},
                {When::low, "nothing at all: fuse, disconnect, polarity",
                 "a wake-up lead is not on, or the supply is below its least"}},
       .live = bench_fed()});
}

}  // namespace

void cold_steps(Draft& d) {
  look_over(d);
  through_and_to_frame(d);
  twelve_volts(d);
  interlocks(d);
  motor_cold(d);
  sensor_by_hand(d);
  throttle(d);
  coolant(d);
  bench_first(d);
}

}  // namespace ww::steps
