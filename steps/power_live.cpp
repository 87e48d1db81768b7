// SPDX-License-Identifier: MIT
// First power-up with the pack: its first volt, leaks, pre-charge, contactor, converter, first
// spin. Windows are common practice, no source, unless said.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "steps/power.h"

namespace ww::steps {

namespace {

using build::Sensor;
using figure::Kind;
using When = Branch::When;

// ---- the pack joined
// ---------------------------------------------------------------------------

void pack_joined(Draft& d) {
  const auto& sheet = d.numbers();
  // Each block was measured from its own most negative stud.
  double top = d.order().block_ends.empty() ? std::nan("") : 0;
  const int inside = static_cast<int>(sheet.or_else("cell.series_inside", 1));
  for (const int end : d.order().block_ends) top += d.passed("tap-" + std::to_string(end * inside));
  Expect e;
  if (!std::isnan(top)) {
    const double slack = std::max(0.5, 0.005 * top);
    e = Draft::between(top - slack, top + slack, "half a volt or 0.5 %: " + std::string(practice));
    e.value = top;
    e.sum = "the sense leads at the ends of the parts as measured, added";
  } else {
    const double low = sheet("pack.series") * sheet("cell.voltage_min");
    const double high = sheet("pack.series") * sheet("cell.voltage_max");
    e = Draft::between(low, high, "empty to full");
    e.value = sheet("pack.series") * sheet("cell.voltage_nominal");
    if (d.sorted().possible) {
      double sum = 0;
      for (const auto& g : d.sorted().groups) {
        double group = 0;
        for (const int i : g.units)
          group += d.build().units[static_cast<std::size_t>(i)].voltage.value;
        sum += group / static_cast<double>(g.units.size());
      }
      e = Draft::between(sum - std::max(0.5, 0.005 * sum), sum + std::max(0.5, 0.005 * sum),
                         "half a volt or 0.5 %: " + std::string(practice));
      e.value = sum;
      e.sum = "the groups as measured, added";
    } else {
      e.sum = whole(std::isnan(sheet("pack.series")) ? 0 : sheet("pack.series")) + " x " +
              volts(sheet("cell.voltage_nominal"));
    }
    for (const char* path : {"pack.series", "cell.voltage_min", "cell.voltage_max"}) {
      if (!sheet.known(path)) e.missing.push_back(build::id_of(path));
    }
  }
  d.add(
      {.id = "pack-voltage",
       .title = "The pack's voltage and sign behind main fuse and disconnect",
       .doing = "Battery cables off the controller and covered. Fuse in, disconnect closed, meter "
                "on the two cable ends, red on the orange one marked +. The sign counts: write it.",
       .meter = Meter::volts,
       .caution = "From this moment the pack can deliver thousands of amps wherever its leads "
                  "meet: second person at the disconnect, covers on, no load on, nothing loose on "
                  "the bench.",
       .kind = Kind::voltage,
       .expect = e,
       .needs = {"pack-closed", "bench-feed"},
       .tree = {{When::low, "a minus sign: STOP",
                 "reversed. It destroys the controller: open the disconnect, swap, begin anew"},
                {When::low, "half of it, or nothing",
                 "a link, a fuse or the disconnect is open; volts to each side of it tell which"},
                {When::high, "the meter, on a known cell", "a tired meter battery reads high"}},
       .live = joined_off(d)});
  const double pack_V = d.passed("pack-voltage");
  Expect half = Draft::at_most(std::isnan(pack_V) ? std::nan("") : pack_V / 2,
                               "half the pack and falling: floating");
  half.sum = "half of " + volts(pack_V);
  for (const char* pole : {"plus", "minus"}) {
    const bool plus = std::string_view(pole) == "plus";
    d.add({.id = std::string("leak-") + pole,
           .title = std::string("Pack ") + pole + " to frame, the meter alone",
           .doing = std::string("Meter in volts from pack ") + pole +
                    " to bare frame. It should fall while you watch. Note what stays after ten "
                    "seconds, without its sign.",
           .meter = Meter::volts,
           .caution =
               plus ? "If this stays high, minus is on the frame: then plus and frame together "
                      "are the whole pack. Touch neither with the other hand on the bike."
                    : "If this stays high, plus is on the frame: the whole bike is then a "
                      "terminal. One hand, the other behind your back.",
           .kind = Kind::voltage,
           .expect = half,
           .needs = {"pack-voltage"},
           .tree =
               {{When::high, "display, charger, converter unplugged one by one",
                 "the one after which it falls leaks: a converter that is not isolated does this"},
                {When::high, "the cell monitor's signal ground",
                 "tied to the frame on the far side: isolate it"}},
           .live = joined_off(d)});
  }
  const double larger = std::max(d.passed("leak-plus"), d.passed("leak-minus"));
  const double r0 = isolation_resistor_ohm(d.full_V());
  Expect inserted;
  if (!std::isnan(larger) && !std::isnan(pack_V)) {
    const double wanted = 1e6;
    inserted = Draft::at_most(
        1 / (1 / std::max(larger, 0.1) + wanted / (r0 * pack_V)),
        "1 Mohm: " + std::string(practice) + "; the rule's floor is 500 ohm per volt (UN R136)");
    inserted.sum = "1 / (1/" + volts(std::max(larger, 0.1)) + " + 1 Mohm / (" +
                   shown(r0, Kind::resistance) + " x " + volts(pack_V) + "))";
  } else {
    inserted = Draft::at_most(std::nan(""), "from the readings before");
  }
  d.add({.id = "isolation",
         .title = "Isolation with a resistor",
         .doing = "A resistor of " + shown(r0, Kind::resistance) +
                  " between frame and the pole that read higher, meter across it. Note the volts. "
                  "Isolation = resistor x pack volts x (1/these - 1/those without it).",
         .meter = Meter::volts,
         .caution = "The resistor's legs are the pack: clip it on with the disconnect open, close, "
                    "read, open, take it off.",
         .kind = Kind::voltage,
         .expect = inserted,
         .needs = {"leak-plus", "leak-minus"},
         .tree = {{When::high, "work out the ohms: below 500 a volt?",
                   "below the floor: it is not switched on again until the leak is found"},
                  {When::high, "above the floor but below 1 Mohm",
                   "legal, but something is wet, dirty or not isolated: find it"}},
         .live = joined_off(d),
         .learns = "wiring.isolation_resistance"});
}

void precharge(Draft& d) {
  const auto& sheet = d.numbers();
  const auto& s = d.start();
  const double pack_V = d.passed("pack-voltage");
  const double of_V = std::isnan(pack_V) ? s.voltage_V : pack_V;
  const bool there = sheet.has("precharge") || sheet.known("precharge.resistance");
  if (!there) {
    d.drop("precharge-time", {"isolation"});
    d.drop("precharge-end", {"isolation"});
  } else {
    Expect time = d.around(
        [](const Numbers& n) {
          return 3 * n("precharge.resistance") * n("controller.capacitance");
        },
        "3 x " + shown(s.resistance_ohm, Kind::resistance) + " x " +
            shown(s.capacitance_F, Kind::capacitance),
        Meter::stopwatch);
    if (time.missing.empty()) {
      time.low = std::max(0.0, std::max(time.low, 0.7 * time.value - 0.3));
      time.high = std::min(time.high, 1.3 * time.value + 0.3);
      time.bounds += ", within 30 %: " + std::string(practice);
    }
    d.add(
        {.id = "precharge-time",
         .title = "Pre-charge by hand: how fast the bus fills",
         .doing = "Battery cables on the controller, disconnect open for it. Contactor's coil "
                  "plug off. Close the disconnect, key on, start the watch; stop it when the bus "
                  "reaches " +
                  volts(0.95 * of_V) + " (95 %).",
         .meter = Meter::stopwatch,
         .caution = "The first time the controller meets the pack. " +
                    shown(s.first_W, Kind::power) +
                    " go into the resistor for a moment: hand off it, and off the disconnect only "
                    "to open it.",
         .kind = Kind::time,
         .expect = time,
         .needs = {"isolation"},
         .tree = {{When::high, "where the bus ends",
                   "below 95 %: a load hangs on it, see the next step"},
                  {When::low, "resistor's value, capacitance on the sheet",
                   "wrong resistor, or a smaller controller than thought"},
                  {When::any, "no rise at all: pre-charge fuse, relay, polarity; short on the bus",
                   "measure the bus in ohms with all open"}},
         .live = precharging(d),
         .learns = "controller.capacitance"});
    Expect end =
        Draft::between(0.95 * of_V, of_V + 0.5, "95 % of the pack: " + std::string(practice));
    end.value = of_V - sheet.or_else("wiring.bus_load_at_precharge", 0) * s.resistance_ohm;
    end.sum =
        volts(of_V) + " less what the bus draws x " + shown(s.resistance_ohm, Kind::resistance);
    d.add({.id = "precharge-end",
           .title = "Pre-charge by hand: where the bus ends",
           .doing = "Half a minute on, meter at the controller's terminals.",
           .meter = Meter::volts,
           .caution =
               "If it hangs below, do not close the contactor over the rest: that spark pits "
               "or welds it.",
           .kind = Kind::voltage,
           .expect = end,
           .needs = {"precharge-time"},
           .tree = {{When::low, "converter, display, heater fuses out one by one",
                     "what lets it rise was the load: feed it from before the contactor"},
                    {When::low, "volts over the resistor / its ohms",
                     "the amps that the load draws"}},
           .live = precharging(d)});
  }
  d.add({.id = "closing-gap",
         .title = "The contactor closes on a full bus",
         .doing = "Coil plug on, key on, meter over the contactor's two studs: note what is left "
                  "between them at the click. " +
                  (there ? "The timer on the sheet: " + shown(s.timer_s, Kind::time) + "."
                         : std::string("There is no pre-charge on the sheet.")),
         .meter = Meter::volts,
         .caution = "Face away from the contactor at the first click, visor on; " +
                    shown(s.closing_A, Kind::current) +
                    " are expected to jump, with an empty bus " +
                    shown(s.closing_empty_A, Kind::current) + ".",
         .kind = Kind::voltage,
         .expect =
             [&] {
               Expect e = Draft::at_most(0.05 * of_V, "5 % of the pack: " + std::string(practice));
               e.value =
                   s.voltage_V > 0 ? (s.voltage_V - s.bus_V) / s.voltage_V * of_V : std::nan("");
               e.sum = "5 % of " + volts(of_V);
               return e;
             }(),
         .needs = {"precharge-end"},
         .tree =
             {{When::high, "the timer against the fill time above", "longer timer, or less ohms"},
              {When::any, "click, then it drops: 12 V at the coil in that moment",
               "buffer flat, economiser starting anew, monitor's enable gone, pre-charge time-out"},
              {When::any, "no click: fuse, key, each interlock, coil polarity",
               "the loop's volts say where"}},
         .live = all_on(d)});
  const bool high = d.dangerous();
  d.add({.id = "bus-decay",
         .title = "Key off: how fast the bus falls",
         .doing = std::string("Key off, watch running, meter on the bus. Stop at ") +
                  (high ? "60 V" : "10 V") + ". Then wait for 10 V.",
         .meter = Meter::stopwatch,
         .caution = "Off is not dead: nobody touches behind the contactor before the meter shows "
                    "less than 10 V, today and ever after.",
         .kind = Kind::time,
         .expect = Draft::at_most(60, "60 s: " + std::string(practice)),
         .needs = {"closing-gap"},
         .tree = {{When::high, "it does not fall at all",
                   "contacts welded, or the pre-charge relay sticks: open the disconnect"},
                  {When::high, "it falls slowly", "no bleed resistor: fit one"}},
         .live = "Behind the contactor: the bus, until it has fallen.",
         .learns = "wiring.bleed_time"});
}

void converter(Draft& d) {
  const auto& sheet = d.numbers();
  const bool there = sheet.has("dcdc");
  d.add_if(
      there,
      {.id = "converter-idle",
       .title = "12 V converter, nothing on",
       .doing = "Its fuse in, key on, lamps off, buffer out. Meter at its output.",
       .meter = Meter::volts,
       .caution = "Its input side is the pack: only the output is for fingers, and only "
                  "once it reads 14 V.",
       .kind = Kind::voltage,
       .expect = d.around([](const Numbers& n) { return n("dcdc.voltage_out"); },
                          "as its sheet says: " + volts(sheet("dcdc.voltage_out")), Meter::volts,
                          {12.8, 14.6, "12.8 to 14.6 V, what 12 V parts take"}),
       .needs = {"bus-decay"},
       .tree = {{When::low, "its enable wire, its input volts", "asleep, or fed below its least"},
                {When::high, "nothing on 12 V until it is right",
                 "it boils the buffer and burns the lamps"}},
       .live = all_on(d),
       .learns = "dcdc.voltage_out"});
  d.add_if(there,
           {.id = "converter-loaded",
            .title = "12 V converter, everything on",
            .doing = "High beam, brake, indicators, horn; contactor closed. Ten minutes, then "
                     "read.",
            .meter = Meter::volts,
            .caution = "Feel its case with the back of the hand: too hot to keep it there means "
                       "it dies on the first night ride.",
            .kind = Kind::voltage,
            .expect = Draft::between(13.0, 14.6, "13.0 V under load: " + std::string(practice)),
            .needs = {"converter-idle"},
            .tree = {{When::low, "sum of the loads against its amps",
                      "too small, or its leads lose the volts"},
                     {When::low, "display or relay resets at the click",
                      "the coil's surge pulls 12 V down: buffer flat or too far away"}},
            .live = all_on(d)});
  const Formula input = [](const Numbers& n) {
    return (n("donor.load_headlight") + n("donor.load_rear_lamps") +
            n.or_else("donor.load_other", 0) +
            n.or_else("contactor.hold_current", 0) * n.or_else("contactor.coil_voltage", 12)) /
           (n("pack.series") * n("cell.voltage_nominal") * n("dcdc.efficiency"));
  };
  Expect in = d.around(input,
                       "(lamps and other loads + coil) / (" +
                           volts(sheet("pack.series") * sheet("cell.voltage_nominal")) + " x " +
                           shown(sheet("dcdc.efficiency"), Kind::share) + ")",
                       Meter::clamp);
  in.low = std::max(0.0, in.low);
  d.add_if(there,
           {.id = "converter-input",
            .title = "12 V converter, what it takes from the pack",
            .doing = "Head lamp, rear lamp and what is always on, contactor closed. Clamp on "
                     "its plus lead.",
            .meter = Meter::clamp,
            .caution = "The clamp goes round an insulated lead; its jaw is metal: keep it off "
                       "bare studs.",
            .kind = Kind::current,
            .expect = in,
            .needs = {"converter-loaded"},
            .tree = {{When::high, "the same with the lamps off",
                      "idle current: the converter itself, or a second load behind its fuse"}},
            .live = all_on(d)});
  Expect drain = d.around(
      [](const Numbers& n) {
        return 0.1 * n("cell.capacity") * n("pack.parallel") / (30 * 86400.0);
      },
      "10 % of the pack's charge / 30 days", Meter::milliamps);
  drain.low = 0;
  drain.high = drain.value;
  if (drain.missing.empty()) drain.value = std::nan("");  // a bound, not what to expect
  drain.bounds = "a tenth of the charge a month: " + std::string(practice);
  d.add({.id = "key-off-drain",
         .title = "What the pack loses with the key off",
         .doing =
             "Disconnect open, milliammeter across it (bridged while the bus settles), key off "
             "for a minute.",
         .meter = Meter::milliamps,
         .caution = "The meter is now in the pack's path: key on, and its fuse is a flash in your "
                    "hand. Tape over the key.",
         .kind = Kind::current,
         .expect = drain,
         .needs = {"converter-input", "bus-decay"},
         .tree = {{When::high, "fuses out one by one: display, converter, charger's sense",
                   "that one drinks: put it behind the key"},
                  {When::high, "the cell monitor alone", "its own drain: a storage switch"}},
         .live = joined_off(d),
         .learns = "wiring.key_off_current"});
}

// ---- first spin
// --------------------------------------------------------------------------------

double free_speed(const Numbers& n, double volts_V) {
  return n("motor.speed_constant") * n("controller.modulation") * volts_V;
}

std::vector<Branch> spin_tree(bool brushes) {
  if (brushes)
    return {{When::high, "brushes, bearing, chain", "it drags before it spins"},
            {When::any, "wrong way round", "swap the field or the armature, never both"}};
  return {{When::high, "growls and heats: phase order",
           "sensors fixed, try the six phase orders; then swap two sensor wires and try six again. "
           "Twelve at most"},
          {When::any, "starts only from some positions", "one dead sensor or its wire"},
          {When::any, "smooth but backwards",
           "swap any two phases and learn the angle anew, or set reverse"},
          {When::any, "fault at key-on", "grip above its start: zero first; missing 5 V"},
          {When::any, "it pulls unevenly",
           "throttle wire beside the motor leads, its shield grounded at both ends"}};
}

void spin(Draft& d) {
  const auto& sheet = d.numbers();
  const bool loaded_only = series_wound(d);
  const double pack_V = d.passed("pack-voltage");
  const double at_V =
      std::isnan(pack_V) ? sheet("pack.series") * sheet("cell.voltage_nominal") : pack_V;
  d.add({.id = "spin-ready",
         .title = "The bike held, the wheel free, the way out clear",
         .doing =
             "Rear wheel off the ground on a stand that cannot tip, strapped; chain off, or its "
             "guard on. Phase and battery current set to a tenth. A 20 A fuse or a lamp in the "
             "pack's lead. Second person at the disconnect.",
         .meter = Meter::eye,
         .caution = "Nobody in the plane of the wheel, no loose trouser leg near the sprocket. A "
                    "wheel that runs keeps running when the current is off.",
         .tick = true,
         .needs = {"key-off-drain", "brake-switches", "motor-to-case", "hall-changes", "wave-high",
                   "sensor-counts", "coolant"},
         .live = joined_off(d)});
  Expect free =
      d.around([](const Numbers& n) { return n("motor.no_load_current"); },
               "as the sheet says: " + shown(sheet("motor.no_load_current"), Kind::current) +
                   " at " + volts(sheet("motor.no_load_voltage")),
               Meter::clamp);
  free.low = 0;
  free.value = std::nan("");  // of full speed; slow running takes less
  free.high = std::min(8.0, std::isnan(free.high) ? 8.0 : free.high);
  if (!free.missing.empty()) {
    free.missing.clear();
    free.high = 8;
    free.sum = "2 to 4 A is usual";
  }
  free.bounds = "slow running takes less; above 8 A something is wrong: " + std::string(practice);
  d.add({.id = "first-spin",
         .title = "First spin",
         .doing =
             "A breath of throttle, under two seconds. It starts from any position, runs smooth, "
             "forward. Note the pack's amps while it runs slowly.",
         .meter = Meter::clamp,
         .caution =
             "Tries shorter than two seconds: a wrong pairing heats the winding in ten. Growl, "
             "jerk or smell: off, and feel the motor.",
         .kind = Kind::current,
         .expect = free,
         .needs = {"spin-ready"},
         .tree = spin_tree(brushed(d)),
         .live = all_on(d)});
  const bool angle = !brushed(d) && !sheet.is("motor.sensor", Sensor::none);
  d.add_if(
      angle,
      {.id = "angle",
       .title = "The angle, learnt three times",
       .doing = "As the controller's maker says, three runs. Note the largest difference "
                "of the offsets.",
       .meter = Meter::display,
       .caution = "It turns the wheel by itself, without the throttle: everybody behind "
                  "the line before the key is pressed.",
       .kind = Kind::angle,
       .expect = Draft::at_most(2 * std::numbers::pi / 180, "2 degrees: " + std::string(practice)),
       .needs = {"first-spin"},
       .tree = {{When::high, "magnet, sensor disc, its screw", "it slips on the shaft"},
                {When::high, "chain on during learning", "load pulls the offset: chain off"}},
       .live = all_on(d)});
  const std::string before = angle ? "angle" : "first-spin";
  Expect speed =
      d.around([&](const Numbers& n) { return free_speed(n, at_V); },
               shown(sheet("motor.speed_constant"), Kind::motor_constant) + " x " + volts(at_V) +
                   " x " + shown(sheet("controller.modulation"), Kind::share) + " usable",
               Meter::display);
  if (speed.missing.empty()) {
    speed.low = std::max(speed.low, 0.95 * speed.value);
    speed.high = std::min(speed.high, 1.05 * speed.value);
    speed.bounds += ", within 5 %: " + std::string(practice);
    const auto& g = d.build().gearing;
    const double wheel_m = sheet("tyre_rear.circumference");
    const double ratio = g.front_teeth > 0 ? double(g.rear_teeth) / g.front_teeth : std::nan("");
    if (!std::isnan(wheel_m * ratio))
      speed.sum += "; in the air that is " +
                   shown(speed.value / (2 * std::numbers::pi) / ratio * wheel_m, Kind::speed) +
                   " on the speedometer";
  }
  d.add_if(
      !loaded_only,
      {.id = "free-speed",
       .title = "Speed in the air at full throttle",
       .doing = "Field weakening and speed limit off, current still at a tenth. Slowly to full, "
                "read the motor's speed once it is steady, and the pack's volts.",
       .meter = Meter::display,
       .caution = "The fastest this wheel will ever turn, on a stand: strap checked again, tyre "
                  "free of stones, out in seconds.",
       .kind = Kind::rotation,
       .expect = speed,
       .needs = {before},
       .tree = {{When::low, "speed limit, throttle's full voltage, current limit",
                 "a setting holds it, not the motor"},
                {When::low, "the sheet's rpm per volt",
                 "another convention, or another motor: what you read is the figure"},
                {When::high, "field weakening", "still on"},
                {When::high, "controller.modulation on the sheet",
                 "it uses more of the voltage than was assumed: what you read tells it"}},
       .live = all_on(d),
       .learns = "motor.speed_constant"});
  d.add_if(angle && !loaded_only,
           {.id = "both-ways",
            .title = "The same speed backwards",
            .doing = "Reverse, same throttle. Note the difference as a share.",
            .meter = Meter::display,
            .caution = "Backwards a sprocket nut may undo itself: look at it before and after.",
            .kind = Kind::share,
            .expect = Draft::at_most(0.02, "2 %: " + std::string(practice)),
            .needs = {"free-speed"},
            .tree = {{When::high, "the angle's offset", "it is off: learn it anew"}},
            .live = all_on(d)});
  Expect amps = d.around(
      [&](const Numbers& n) {
        return n("motor.no_load_current") *
               std::max(1.0, at_V / n.or_else("motor.no_load_voltage", at_V));
      },
      shown(sheet("motor.no_load_current"), Kind::current) + " at " +
          volts(sheet("motor.no_load_voltage")) + ", as its sheet says",
      Meter::clamp, {0, 8, "8 A, beyond which something drags"});
  d.add_if(
      !loaded_only,
      {.id = "free-amps",
       .title = "What it takes in the air",
       .doing = "At the same full speed: pack amps after a minute of running in, in short goes.",
       .meter = Meter::clamp,
       .caution = "A bearing that sings or a chain that climbs shows here first: hand on the "
                  "disconnect, not near the sprocket.",
       .kind = Kind::current,
       .expect = amps,
       .needs = {"free-speed"},
       .tree = {{When::high, "chain off", "falls: chain too tight or out of line"},
                {When::high, "still high with the chain off",
                 "angle offset, bearing, brake dragging"}},
       .live = all_on(d),
       .learns = "motor.no_load_current"});
  const double phase_A = sheet("limits.phase_current");
  Expect tenth = d.around(
      [](const Numbers& n) { return 0.25 * n("limits.phase_current"); },
      "a quarter of " + shown(phase_A, Kind::phase_current) + " (peak of the sine)", Meter::clamp);
  if (tenth.missing.empty()) {
    tenth.low = 0.9 * tenth.value;
    tenth.high = 1.1 * tenth.value;
    tenth.bounds = "10 %: " + std::string(practice);
  }
  d.add({.id = "phase-limit",
         .title = "The phase current limit holds",
         .doing = "Limit set to a quarter. Wheel against the brake, gently, two seconds; read the "
                  "motor current, as the peak of the sine (clamp's rms x 1.41).",
         .meter = Meter::clamp,
         .caution = "The brake disc heats in seconds and the stand is pushed forward: rear brake "
                    "only, bike strapped.",
         .kind = Kind::phase_current,
         .expect = tenth,
         .needs = {loaded_only ? before : "free-amps"},
         .tree = {{When::any, "peak, rms or six-step in the controller's menu",
                   "a factor of 1.41 or 1.15"},
                  {When::high, "pack amps at the same moment",
                   "pack amps are much smaller at low speed: that is as it should be"}},
         .live = all_on(d)});
}

}  // namespace

void live_steps(Draft& d) {
  pack_joined(d);
  precharge(d);
  converter(d);
  spin(d);
}

}  // namespace ww::steps
