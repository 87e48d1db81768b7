// SPDX-License-Identifier: MIT
// Safety chain, what switches: contactor and its coil, pre-charge, service disconnect.
#include <algorithm>

#include "fit/rules_safety_chain.h"

namespace ww::fit::safety_chain {

using build::CoilClamp;
using figure::Kind;

namespace {

/// Coils above it are fed by the pack, those below by the 12 V side.
constexpr double pack_coil_V = 30;

bool coil_on_12V(double coil_V) {
  return !(coil_V > pack_coil_V);  // also where it is not known: the finding then asks for it
}

std::vector<Rule> coil_rules() {
  return {
      {.id = "coil-supply-high",
       .codes = "E40",
       .title = "the converter's output against the coil's highest voltage",
       .between = {"contactor", "dcdc"},
       .needs = {"dcdc.voltage_out", "contactor.coil_voltage_max", "contactor.coil_voltage"},
       .applies = [](const In& in) { return coil_on_12V(in[2]); },
       .judge = [](const In& in) { return at_most(in[0], in[1]); },
       .kind = Kind::voltage,
       .fits = "The converter gives {have}; the coil stands {limit}.",
       .tight = "The converter gives {have}; the coil stands {limit}: within what the figures are "
                "good for. Measure the converter's output.",
       .clash = "The converter gives {have}; the coil stands only {limit}: it overheats and burns "
                "out.",
       .ignoring = {"A burnt coil on a long ride.", 60, 250, 2},
       .levers = {"contactor", "dcdc"},
       .blocks = Blocks::buying},
      {.id = "coil-supply-low",
       .codes = "E40",
       .title = "the 12 V side against the coil's lowest voltage",
       .between = {"contactor", "dcdc"},
       .needs = {"dcdc.voltage_out", "contactor.coil_voltage_min", "contactor.coil_voltage"},
       .options = {"buffer.voltage"},
       .applies = [](const In& in) { return coil_on_12V(in[2]); },
       .judge = [](const In& in) { return at_least(std::min(in[0], in.or_else(3, in[0])), in[1]); },
       .kind = Kind::voltage,
       .fits = "The 12 V side has at least {have}; the coil needs {limit}.",
       .tight =
           "The 12 V side has at least {have}; the coil needs {limit}: within what the figures "
           "are good for.",
       .clash = "The 12 V side has only {have}; the coil of {2} needs {limit}: it will not pull "
                "in, or drop out.",
       .can_hurt = true,
       .ignoring = {"The contactor does not close, or chatters until it welds.", 60, 250, 2},
       .levers = {"contactor", "dcdc"},
       .blocks = Blocks::buying},
      {.id = "coil-on-pack",
       .codes = "E40",
       .title = "a coil fed by the pack, from empty to full",
       .between = {"contactor", "pack", "cell"},
       .needs = {"contactor.coil_voltage_min", "contactor.coil_voltage_max",
                 "fact.pack_voltage_empty", "fact.pack_voltage_full", "contactor.coil_voltage"},
       .applies = [](const In& in) { return in[4] > pack_coil_V; },
       .judge =
           [](const In& in) {
             const double spare = std::min(in[2] / in[0], in[1] / in[3]);
             if (spare < 1) return judged(Verdict::clash);
             return judged(spare < 1.03 ? Verdict::tight : Verdict::fits);
           },
       .fits = "The coil works from {0} to {1}; the pack has {2} empty and {3} full.",
       .tight = "The coil works from {0} to {1}; the pack has {2} empty and {3} full: almost "
                "nothing to spare for sag or for braking.",
       .clash = "The coil works from {0} to {1}; the pack has {2} empty and {3} full. A 12 V coil "
                "on the converter avoids this.",
       .ignoring = {"No pull-in with little charge, a burnt coil when full.", 60, 250, 2},
       .levers = {"contactor"},
       .blocks = Blocks::buying},
      {.id = "coil-on-buffer-alone",
       .codes = "E38",
       .title = "the buffer battery against the voltage at which the contactor pulls in",
       .between = {"contactor", "buffer"},
       .needs = {"buffer.voltage", "contactor.pull_in_voltage"},
       .options = {"contactor.coil_voltage"},
       .applies = [](const In& in) { return coil_on_12V(in[2]); },
       .judge = [](const In& in) { return at_least(in[0], in[1]).kept_to(in[1] + 2); },
       .kind = Kind::voltage,
       .fits = "The buffer battery rests at {have}; the contactor pulls in at {limit}.",
       .tight =
           "The buffer battery rests at {have}; the contactor pulls in at {limit}. Lamps, horn "
           "and thin wires take up to 2 V of that.",
       .clash = "The buffer battery rests at {have}; the contactor pulls in only at {limit}: with "
                "the converter off it cannot close.",
       .can_hurt = true,
       .ignoring = {"The contactor drops out at speed when horn and lamps load the 12 V side.", 25,
                    200, 1},
       .levers = {"buffer", "contactor"},
       .blocks = Blocks::riding},
      {.id = "buffer-current",
       .codes = "E38",
       .title = "what the buffer battery gives against everything at once",
       .between = {"contactor", "buffer", "donor"},
       .needs = {"buffer.current_max", "fact.current_12V_worst"},
       .judge = [](const In& in) { return at_least(in[0], in[1]).kept_to(1.5 * in[1]); },
       .kind = Kind::current,
       .fits = "Lamps, horn and a pulling coil take {limit} at once; the buffer battery gives "
               "{have}.",
       .tight = "Lamps, horn and a pulling coil take {limit} at once; the buffer battery gives "
                "{have}. Cold and old it gives less: {practice} is wanted.",
       .clash =
           "Lamps, horn and a pulling coil take {limit} at once; the buffer battery gives only "
           "{have}: the contactor drops out.",
       .can_hurt = true,
       .ignoring = {"The contactor drops out when the horn sounds.", 25, 90, 1},
       .levers = {"buffer"},
       .blocks = Blocks::riding},
      {.id = "coil-driver",
       .codes = "E46,E110",
       .title = "the coil's pull-in current against the controller's output",
       .between = {"contactor", "controller"},
       .needs = {"contactor.pull_in_current", "controller.contactor_drive_current",
                 "controller.drives_contactor"},
       .applies = [](const In& in) { return !in.is(2, build::Answer::no); },
       .judge = [](const In& in) { return at_most(in[0], in[1]); },
       .kind = Kind::current,
       .fits = "The coil takes {have} to pull in; the controller's output carries {limit}.",
       .tight = "The coil takes {have} to pull in; the controller's output carries {limit}: within "
                "what the figures are good for.",
       .clash = "The coil takes {have} to pull in; the controller's output carries only {limit}. "
                "Put a relay between them, or take a coil that wants less.",
       .ignoring = {"A burnt output inside the controller.", 15, 900, 4},
       .levers = {"contactor", "controller"},
       .blocks = Blocks::energising},
      {.id = "coil-clamp",
       .codes = "E45",
       .title = "what takes the coil's kick when it is switched off",
       .between = {"contactor"},
       .needs = {"wiring.coil_clamp", "contactor.economiser"},
       .judge =
           [](const In& in) {
             const bool outside = in.is(0, CoilClamp::diode) || in.is(0, CoilClamp::zener);
             if (in.yes(1)) return must(!outside);
             if (in.is(0, CoilClamp::none)) return judged(Verdict::clash);
             return should(!in.is(0, CoilClamp::diode));
           },
       .fits = "Coil clamp: {0}, economiser inside: {1}. That lets the contactor open quickly.",
       .tight = "A plain diode across the coil lets its current die slowly: the contacts part "
                "slowly and burn longer. A zener with a diode is quicker.",
       .clash = "Coil clamp: {0}, economiser inside: {1}. Without a clamp the kick kills what "
                "switches the coil; a clamp outside kills an economiser inside.",
       .can_hurt = true,
       .ignoring = {"Slow opening, welded contacts, or a dead economiser.", 5, 250, 1},
       .levers = {"wiring.coil_clamp=zener", "wiring.coil_clamp=internal"},
       .blocks = Blocks::nothing},
  };
}

std::vector<Rule> contactor_rules() {
  return {
      {.id = "contactor-carry",
       .codes = "E41",
       .title = "the current that lasts against what the contactor carries",
       .between = {"contactor", "pack"},
       .needs = {"contactor.current_carry", "fact.battery_current_lasting"},
       .judge = [](const In& in) { return at_least(in[0], in[1]).kept_to(1.25 * in[1]); },
       .kind = Kind::current,
       .fits = "The contactor carries {have}; the lasting current is {limit}.",
       .tight = "The contactor carries {have}; the lasting current is {limit}, and usual practice "
                "wants a "
                "quarter more, {practice}.",
       .clash = "The contactor carries {have}; the lasting current is {limit}: its terminals get "
                "too hot to "
                "touch and its contacts weld.",
       .can_hurt = true,
       .ignoring = {"Hot terminals, then a contactor that no longer opens.", 60, 300, 2},
       .levers = {"contactor"},
       .blocks = Blocks::buying},
      {.id = "contactor-cable-section",
       .codes = "E41",
       .title = "what the contactor carries with your cable, thinner than its rating assumes",
       .between = {"contactor", "cable_main", "pack"},
       .needs = {"fact.contactor_carry_cabled", "fact.battery_current_lasting",
                 "contactor.current_carry", "contactor.cable_section_assumed",
                 "cable_main.section"},
       .judge = [](const In& in) { return at_least(in[0], in[1]).kept_to(1.25 * in[1]); },
       .kind = Kind::current,
       .fits = "The contactor's {2} assume cable of {3}, which cools it; with your {4} count on "
               "{have}. The lasting current is {limit}.",
       .tight = "The contactor's {2} assume cable of {3}, which cools it; with your {4} count on "
                "{have}. The lasting current is {limit}, and usual practice wants a quarter more, "
                "{practice}.",
       .clash = "The contactor's {2} assume cable of {3}, which cools it; with your {4} count on "
                "{have} only. The lasting current is {limit}.",
       .can_hurt = true,
       .ignoring = {"Hot terminals at currents the label allows.", 30, 250, 2},
       .levers = {"cable_main", "contactor"},
       .blocks = Blocks::nothing,
       .source = "NEC 310.17: currents grow with section to the power of 0.65; that a contactor "
                 "follows its cable is common practice, no source"},
      {.id = "contactor-break-voltage",
       .codes = "E42",
       .title = "the DC voltage the contactor breaks against the full pack",
       .between = {"contactor", "pack", "cell"},
       .needs = {"contactor.voltage_max", "fact.pack_voltage_full"},
       .judge = [](const In& in) { return at_least(in[0], in[1]).kept_to(1.05 * in[1]); },
       .kind = Kind::voltage,
       .fits = "The contactor breaks up to {have} DC; the full pack has {limit}.",
       .tight = "The contactor breaks up to {have} DC; the full pack has {limit}. Braking lifts it "
                "by up to a twentieth, so {practice} is wanted.",
       .clash = "The contactor breaks only up to {have} DC; the full pack has {limit}. Direct "
                "current has no zero: the arc stays and burns through.",
       .can_hurt = true,
       .ignoring = {"The arc burns through the contactor and nothing else opens.", 60, 5000, 2},
       .levers = {"contactor"},
       .blocks = Blocks::buying,
       .source = "UL 248-2 clause 5.2 states it for fuses; for contactors common practice, no "
                 "source"},
      {.id = "contactor-break-current",
       .codes = "E42",
       .title = "what the contactor breaks against what it may have to open",
       .between = {"contactor", "controller"},
       .needs = {"contactor.current_break", "fact.battery_current_peak"},
       .options = {"fact.fuse_slow_current"},
       .judge =
           [](const In& in) {
             const Outcome o = at_least(in[0], in[1]);
             return in.has(2) ? o.kept_to(std::max(in[1], in[2])) : o;
           },
       .kind = Kind::current,
       .fits = "The contactor breaks {have}; the drive takes {limit} at most, and the fuse clears "
               "within a second from {2} on.",
       .tight = "The contactor breaks {have}; the drive takes {limit} at most. But below {2} the "
                "fuse needs more than a second, and a fault in between is one nobody breaks in "
                "time.",
       .clash = "The contactor breaks only {have}; the drive takes {limit}: pressing the kill "
                "switch under full power draws an arc that stays.",
       .can_hurt = true,
       .ignoring = {"The kill switch does not stop the bike when it matters.", 60, 5000, 2},
       .levers = {"contactor", "limits.battery_current"},
       .blocks = Blocks::buying},
      {.id = "contactor-polarity",
       .codes = "E43",
       .title = "a polarised contactor and braking by motor",
       .between = {"contactor", "controller"},
       .needs = {"contactor.polarised", "limits.regen"},
       .options = {"wiring.torque_zero_before_open"},
       .judge =
           [](const In& in) {
             if (!in.yes(0) || !in.yes(1)) return judged(Verdict::fits);
             return judged(in.yes(2) ? Verdict::tight : Verdict::clash);
           },
       .fits = "Polarised: {0}, braking by motor: {1}. A polarised one goes with + to the pack.",
       .tight = "The contactor is polarised and the motor brakes: its current then runs backwards. "
                "It is opened only after the torque is gone, so it must never be opened by hand "
                "while braking. + goes to the pack.",
       .clash =
           "The contactor is polarised and the motor brakes: its current then runs backwards, "
           "and opened like that it pulls the arc inwards. That the torque goes to zero before "
           "it opens is not said.",
       .can_hurt = true,
       .ignoring = {"The contactor burns out the first time it opens while braking.", 60, 900, 2},
       .levers = {"contactor", "wiring.torque_zero_before_open=yes"},
       .blocks = Blocks::energising},
      {.id = "closing-current",
       .codes = "E44",
       .title = "the rush of current when the contactor closes against what it makes",
       .between = {"contactor", "precharge", "controller", "pack", "cell"},
       .needs = {"fact.closing_current", "contactor.current_make", "precharge.time"},
       .judge = [](const In& in) { return at_most(in[0], in[1]); },
       .kind = Kind::current,
       .fits = "Closing after {2} of pre-charge lets {have} rush in; the contactor makes {limit} "
               "without "
               "welding.",
       .tight = "Closing after {2} of pre-charge lets {have} rush in; the contactor makes {limit} "
                "without "
                "welding: within what the figures are good for. Wait longer.",
       .clash =
           "Closing after {2} of pre-charge lets {have} rush in; the contactor makes only {limit} "
           "without welding.",
       .can_hurt = true,
       .ignoring = {"Pitted, then welded contacts: the bike is live with the key off.", 60, 300, 2},
       .levers = {"precharge.time", "precharge", "contactor"},
       .blocks = Blocks::energising,
       .source = "series RC circuit and Ohm's law"},
      {.id = "weld-noticed",
       .codes = "E47",
       .title = "whether a welded contactor would be noticed",
       .between = {"contactor"},
       .needs = {"wiring.weld_detection"},
       .options = {"contactor.auxiliary_contact"},
       .judge = should_yes,
       .fits = "A welded contactor would be noticed.",
       .tight =
           "A welded contactor would not be noticed: the bike stays live with the key off. Use "
           "its auxiliary contact (it has one: {1}), or look whether the bus falls below "
           "60 V within ten seconds of key off.",
       .can_hurt = true,
       .ignoring = {"Somebody works on a bike that is live although the key is off.", 0, 60, 1},
       .levers = {"wiring.weld_detection=yes"},
       .blocks = Blocks::energising,
       .never = "clash",
       .never_why = "measuring the bus every time does the same"},
      {.id = "contactor-axis",
       .codes = "E48",
       .title = "the contactor's axis against the shocks of the road",
       .between = {"contactor"},
       .needs = {"wiring.contactor_axis_across"},
       .judge = should_yes,
       .fits = "The contactor's axis lies across the shocks.",
       .tight = "The contactor's axis lies along the shocks: on bumps it can chatter or drop out. "
                "Turn it by a quarter.",
       .can_hurt = true,
       .ignoring = {"Drive drops out on bumps, contacts burn.", 0, 150, 1},
       .levers = {"wiring.contactor_axis_across=yes"},
       .blocks = Blocks::nothing,
       .never = "clash",
       .never_why = "many contactors stand it"},
      {.id = "start-order",
       .codes = "E49",
       .title = "the order at key on",
       .between = {"contactor", "precharge"},
       .needs = {"wiring.precharge_before_close"},
       .judge = must_yes,
       .fits = "First pre-charge, then contactor, then enable.",
       .clash =
           "The order at key on is not pre-charge, contactor, enable: the contactor then makes "
           "the whole rush, every time.",
       .can_hurt = true,
       .ignoring = {"Welded contacts within weeks.", 0, 250, 1},
       .levers = {"wiring.precharge_before_close=yes"},
       .blocks = Blocks::energising,
       .never = "tight",
       .never_why = yes_or_no},
      {.id = "off-order",
       .codes = "E49,E104",
       .title = "the order at key off",
       .between = {"contactor", "controller"},
       .needs = {"wiring.torque_zero_before_open"},
       .judge = should_yes,
       .fits = "The torque goes to zero before the contactor opens.",
       .tight = "The contactor opens while current flows: it wears, and when the motor is braking "
                "the voltage spikes into the controller.",
       .ignoring = {"Worn contacts; a spike that kills the power stage.", 0, 900, 3},
       .levers = {"wiring.torque_zero_before_open=yes"},
       .blocks = Blocks::nothing,
       .never = "clash",
       .never_why = "in an emergency it must open under current anyway"},
  };
}

std::vector<Rule> precharge_rules() {
  return {
      {.id = "precharge-timer",
       .codes = "E71,E44",
       .title = "the pre-charge time against the time to 95 % of the pack's voltage",
       .between = {"precharge", "controller", "pack", "cell"},
       .needs = {"precharge.time", "fact.precharge_time_95", "precharge.resistance",
                 "controller.capacitance"},
       .judge = [](const In& in) { return at_least(in[0], in[1]).kept_to(1.2 * in[1]); },
       .kind = Kind::time,
       .fits = "Through {2} the {3} reach 95 % in {limit}; the contactor waits {have}.",
       .tight = "Through {2} the {3} reach 95 % in {limit}; the contactor waits {have}. Capacitors "
                "are true "
                "to a fifth, so {practice} is wanted.",
       .clash = "Through {2} the {3} reach 95 % in {limit}, but the contactor waits only {have}.",
       .can_hurt = true,
       .ignoring = {"Pitted, then welded contacts.", 0, 250, 1},
       .levers = {"precharge.time", "precharge.resistance", "precharge"},
       .blocks = Blocks::energising,
       .source = "series RC circuit"},
      {.id = "precharge-pulse",
       .codes = "E72",
       .title = "the heat of one start against what the resistor stands",
       .between = {"precharge", "controller", "pack", "cell"},
       .needs = {"fact.precharge_energy", "precharge.pulse_energy"},
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(0.5 * in[1]); },
       .kind = Kind::energy,
       .fits = "One start puts {have} into the resistor; it stands {limit} in one pulse.",
       .tight = "One start puts {have} into the resistor; it stands {limit} in one pulse. Two key "
                "turns in a row are too much.",
       .clash = "One start puts {have} into the resistor; it stands only {limit} in one pulse.",
       .can_hurt = true,
       .ignoring = {"The resistor opens and the contactor closes on empty capacitors.", 5, 300, 1},
       .levers = {"precharge"},
       .blocks = Blocks::energising,
       .source = "energy of a capacitor, C V^2 / 2"},
      {.id = "precharge-time-out",
       .codes = "E72",
       .title = "the heat of a start on a shorted bus against what the resistor stands",
       .between = {"precharge", "pack", "cell"},
       .needs = {"fact.precharge_energy_stuck", "precharge.pulse_energy", "precharge.time_out",
                 "precharge.power"},
       .judge =
           [](const In& in) {
             const double limit_J = std::max(in[1], in[3] * in[2]);
             return at_most(in[0], limit_J).kept_to(0.8 * limit_J);
           },
       .kind = Kind::energy,
       .fits = "On a shorted bus the resistor takes {have} until it gives up after {2}; it stands "
               "{limit}.",
       .tight = "On a shorted bus the resistor takes {have} until it gives up after {2}; it stands "
                "{limit}, and is glowing by then.",
       .clash = "On a shorted bus the resistor takes {have} until it gives up after {2}; it stands "
                "only {limit}. Give up sooner, fuse it, or take a larger one.",
       .can_hurt = true,
       .ignoring = {"The resistor burns, and what lies beside it.", 5, 2000, 1},
       .levers = {"precharge.time_out", "precharge"},
       .blocks = Blocks::energising,
       .source = "Joule's law"},
      {.id = "precharge-bus-load",
       .codes = "E73",
       .title = "what draws from the bus while it charges up",
       .between = {"precharge", "pack", "cell"},
       .needs = {"fact.precharge_bus_final", "fact.pack_voltage_full",
                 "wiring.bus_load_at_precharge", "precharge.resistance"},
       .judge = [](const In& in) { return at_least(in[0], 0.95 * in[1]).kept_to(0.98 * in[1]); },
       .kind = Kind::voltage,
       .fits = "{2} drawn through {3} leave {have} on the bus; 95 % of the pack is {limit}.",
       .tight = "{2} drawn through {3} leave {have} on the bus: it reaches 95 %, {limit}, but "
                "slowly. Switch the converter on after the contactor.",
       .clash = "{2} drawn through {3} leave {have} on the bus for ever: it never reaches 95 %, "
                "{limit}. Take converter, lamps and charger sense off the bus until the contactor "
                "has closed.",
       .can_hurt = true,
       .ignoring = {"The contactor never closes, or closes into the rush.", 0, 250, 2},
       .levers = {"wiring.bus_load_at_precharge", "precharge.resistance"},
       .blocks = Blocks::energising,
       .source = "Ohm's law"},
      {.id = "bus-discharge",
       .codes = "E74",
       .title = "how long the bus stays above 60 V after key off",
       .between = {"controller", "pack"},
       .needs = {"wiring.bleed_time"},
       .options = {"fact.pack_voltage_full"},
       .applies = [](const In& in) { return !(in[1] <= dangerous_V); },
       .judge = [](const In& in) { return at_most(in[0], 60).kept_to(5); },
       .kind = Kind::time,
       .fits = "The bus is below 60 V {have} after key off. Measure before touching all the same.",
       .tight =
           "The bus is below 60 V only after {have} with the key off; {practice} is better. Wait, "
           "measure, then touch.",
       .clash = "The bus is still above 60 V a minute after key off ({have}): a bleed resistor is "
                "missing, or the contactor is welded.",
       .can_hurt = true,
       .ignoring = {"A shock from the capacitors, hours later.", 5, 60, 1},
       .levers = {"wiring.bleed_time"},
       .blocks = Blocks::energising},
      {.id = "precharge-relay-voltage",
       .codes = "E75",
       .title = "the DC voltage of the pre-charge relay against the full pack",
       .between = {"precharge", "pack", "cell"},
       .needs = {"precharge.relay_voltage", "fact.pack_voltage_full"},
       .judge = [](const In& in) { return at_least(in[0], in[1]); },
       .kind = Kind::voltage,
       .fits = "The pre-charge relay breaks {have} DC; the full pack has {limit}.",
       .tight = "The pre-charge relay breaks {have} DC; the full pack has {limit}: within what the "
                "figures are good for.",
       .clash = "The pre-charge relay breaks only {have} DC; the full pack has {limit}: its arc "
                "welds it, and the bus is always live.",
       .can_hurt = true,
       .ignoring = {"A welded relay: the bus is live with the key off.", 6, 60, 1},
       .levers = {"precharge"},
       .blocks = Blocks::buying},
      {.id = "precharge-relay-current",
       .codes = "E75",
       .title = "the first current through the resistor against its relay",
       .between = {"precharge", "pack", "cell"},
       .needs = {"precharge.relay_current", "fact.pack_voltage_full", "precharge.resistance"},
       .judge = [](const In& in) { return at_least(in[0], in[1] / in[2]); },
       .kind = Kind::current,
       .fits = "The relay carries {have}; the full pack drives {limit} through {2} at first.",
       .tight =
           "The relay carries {have}; the full pack drives {limit} through {2} at first: within "
           "what the figures are good for.",
       .clash = "The relay carries only {have}; the full pack drives {limit} through {2} at first.",
       .can_hurt = true,
       .ignoring = {"A welded relay: the bus is live with the key off.", 6, 60, 1},
       .levers = {"precharge.resistance", "precharge"},
       .blocks = Blocks::buying,
       .source = "Ohm's law"},
  };
}

std::vector<Rule> disconnect_rules() {
  return {
      {.id = "disconnect-voltage",
       .codes = "E103",
       .title = "the service disconnect's DC voltage against the full pack",
       .between = {"disconnect", "pack", "cell"},
       .needs = {"disconnect.voltage", "fact.pack_voltage_full"},
       .judge = [](const In& in) { return at_least(in[0], in[1]); },
       .kind = Kind::voltage,
       .fits = "The disconnect is made for {have} DC; the full pack has {limit}.",
       .tight = "The disconnect is made for {have} DC; the full pack has {limit}: within what the "
                "figures are good for.",
       .clash = "The disconnect is made for {have} DC only; the full pack has {limit}.",
       .can_hurt = true,
       .ignoring = {"An arc in the hand that pulls it.", 25, 500, 1},
       .levers = {"disconnect"},
       .blocks = Blocks::buying},
      {.id = "disconnect-current",
       .codes = "E103",
       .title = "the current that lasts against what the disconnect carries",
       .between = {"disconnect", "pack"},
       .needs = {"disconnect.current", "fact.battery_current_lasting"},
       .judge = [](const In& in) { return at_least(in[0], in[1]).kept_to(1.25 * in[1]); },
       .kind = Kind::current,
       .fits = "The disconnect carries {have}; the lasting current is {limit}.",
       .tight = "The disconnect carries {have}; the lasting current is {limit}, and usual practice "
                "wants a "
                "quarter more, {practice}.",
       .clash = "The disconnect carries only {have}; the lasting current is {limit}: it melts.",
       .can_hurt = true,
       .ignoring = {"A melted link, hot as a stove plate under the seat.", 25, 150, 1},
       .levers = {"disconnect"},
       .blocks = Blocks::buying},
      {.id = "disconnect-under-load",
       .codes = "E103",
       .title = "whether the disconnect may be opened while current flows",
       .between = {"disconnect", "controller"},
       .needs = {"disconnect.load_break", "disconnect.current_break", "fact.battery_current_peak"},
       .judge =
           [](const In& in) {
             if (!in.yes(0)) return judged(Verdict::tight);
             return must(in[1] >= in[2]);
           },
       .fits = "It may be opened under load and breaks {1}; the drive takes {2} at most.",
       .tight =
           "It must not be opened under load: key off and current zero first. Write that on it.",
       .clash = "It is said to break load, but breaks only {1}; the drive takes {2}.",
       .can_hurt = true,
       .ignoring = {"An arc in the hand that pulls it.", 20, 500, 1},
       .levers = {"disconnect"},
       .blocks = Blocks::nothing},
      {.id = "disconnect-in-reach",
       .codes = "E103",
       .title = "a disconnect that a hand finds",
       .between = {"disconnect"},
       .needs = {"disconnect.by_hand_in_reach"},
       .judge = should_yes,
       .fits = "The disconnect is opened by hand, in reach and labelled.",
       .tight =
           "The disconnect is hidden, needs a tool or has no label: a rescuer will not find it. "
           "Some codes ask for one in reach.",
       .can_hurt = true,
       .ignoring = {"Refused at the inspection in some places; a rescuer does not find it.", 5, 150,
                    2},
       .levers = {"disconnect.by_hand_in_reach=yes"},
       .blocks = Blocks::nothing,
       .never = "clash",
       .never_why = "only some codes ask for it; ask the inspector"},
  };
}

}  // namespace

std::vector<Rule> switching_rules() {
  std::vector<Rule> rules = coil_rules();
  append(rules, contactor_rules());
  append(rules, precharge_rules());
  append(rules, disconnect_rules());
  return rules;
}

}  // namespace ww::fit::safety_chain
