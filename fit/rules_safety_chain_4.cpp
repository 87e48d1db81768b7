// SPDX-License-Identifier: MIT
// Safety chain, the mains and 12 V sides, isolation, wiring habits and interlocks.
#include <algorithm>

#include "fit/rules_safety_chain.h"
#include "model/converter.h"

namespace ww::fit::safety_chain {

using build::Answer;
using build::DcdcPlace;
using figure::Kind;

namespace {

// ---- charger ----------------------------------------------------------------------------------

/// Needs: mains current, breaker; options: what an electrician allows, temperature sensing, volts.
Outcome outlet_outcome(const In& in) {
  const double hours_A = in[1] / 1.25;
  const double limit_A = std::min(hours_A, in.or_else(2, hours_A));
  const bool household = in[1] <= 20 && !(in[4] < 160);
  if (!household || in.yes(3) || in.has(2)) return at_most(in[0], limit_A).kept_to(limit_A);
  return at_most(in[0], limit_A).kept_to(std::min(limit_A, 10.0));
}

std::vector<Rule> charger_rules() {
  return {
      {.id = "outlet-circuit",
       .codes = "E26",
       .title = "the charger's mains current against the outlet's circuit",
       .between = {"charger"},
       .needs = {"fact.charger_mains_current", "surroundings.outlet_breaker"},
       .options = {"surroundings.outlet_use", "surroundings.outlet_temperature_sensed",
                   "surroundings.outlet_voltage"},
       .judge = outlet_outcome,
       .kind = Kind::current,
       .fits = "The charger takes {have}; the circuit of {1} gives {limit} for hours.",
       .tight = "The charger takes {have}; the circuit of {1} gives {limit} for hours, but a "
                "household socket without temperature sensing should not carry more than "
                "{practice} day after day.",
       .clash = "The charger takes {have}; the circuit of {1} gives only {limit} for hours: the "
                "breaker trips, or the socket melts first. Ask an electrician.",
       .can_hurt = true,
       .ignoring = {"A melted socket; a house fire in the night.", 20, 20000, 2},
       .levers = {"charger", "surroundings.outlet_temperature_sensed=yes"},
       .blocks = Blocks::buying,
       .source =
           "NEC 210.20: 125 % of a load of three hours and more; the 10 A are common practice, "
           "no source"},
      {.id = "charger-isolated",
       .codes = "E27",
       .title = "the charger's output isolated from the mains",
       .between = {"charger"},
       .needs = {"charger.isolated"},
       .judge = must_yes,
       .fits = "The charger's output is isolated from the mains.",
       .clash = "The charger's output is not isolated from the mains: plugged in, the whole pack "
                "stands on the mains, and one touch kills.",
       .can_hurt = true,
       .ignoring = {"An electric shock from the mains through the frame.", 150, 600, 3},
       .levers = {"charger"},
       .blocks = Blocks::buying,
       .never = "tight",
       .never_why = yes_or_no},
      {.id = "charger-earth",
       .codes = "E27",
       .title = "case and frame earthed while plugged in",
       .between = {"charger"},
       .needs = {"charger.earthed"},
       .judge = must_yes,
       .fits = "Case and frame are earthed while plugged in.",
       .clash = "Case and frame are not earthed while plugged in: a fault inside the charger puts "
                "the mains on the bike. Below 0.1 ohm from the plug's earth pin to the frame is "
                "wanted.",
       .can_hurt = true,
       .ignoring = {"Touching the bike on a wet floor kills.", 10, 100, 1},
       .levers = {"charger.earthed=yes"},
       .blocks = Blocks::energising,
       .never = "tight",
       .never_why = yes_or_no},
      {.id = "charger-pins",
       .codes = "E28",
       .title = "pins of the charging port when nothing is plugged in",
       .between = {"charger"},
       .needs = {"charger.pins_dead"},
       .judge = must_yes,
       .fits = "The port's pins are dead when unplugged.",
       .clash = "The port's pins are live when unplugged: a key chain or a wet finger bridges the "
                "pack. A relay or a diode behind them, and shrouded pins.",
       .can_hurt = true,
       .ignoring = {"An arc at the port, burns.", 15, 300, 1},
       .levers = {"charger.pins_dead=yes"},
       .blocks = Blocks::energising,
       .never = "tight",
       .never_why = yes_or_no},
      {.id = "drive-off-lock",
       .codes = "E29,E102",
       .title = "driving off while plugged in",
       .between = {"charger"},
       .needs = {"wiring.inlet_interlock"},
       .judge = must_yes,
       .fits = "It cannot be driven off while plugged in.",
       .clash = "It can be driven off while plugged in: a torn cable with live ends.",
       .can_hurt = true,
       .ignoring = {"A torn inlet and a live cable on the ground.", 10, 300, 1},
       .levers = {"wiring.inlet_interlock=yes"},
       .blocks = Blocks::riding,
       .source = "UN R100 and R136 clause 5.3: from memory",
       .never = "tight",
       .never_why = yes_or_no},
      {.id = "charger-pilot",
       .codes = "E30",
       .title = "the pilot signal of public posts",
       .between = {"charger"},
       .needs = {"charger.pilot"},
       .judge = should_yes,
       .fits = "The charger speaks the public post's pilot signal and obeys the amps it offers.",
       .tight = "The charger does not speak the pilot signal: a public post will not start. Where "
                "you only charge at home that is no loss.",
       .ignoring = {"Public posts stay dead.", 5, 150, 1},
       .levers = {"charger"},
       .blocks = Blocks::nothing,
       .never = "clash",
       .never_why = "nobody has to charge in public"},
      {.id = "residual-current-device",
       .codes = "E31",
       .title = "the residual-current device that the charger asks for",
       .between = {"charger"},
       .needs = {"charger.residual_type_known"},
       .judge = should_yes,
       .fits = "The type the charger asks for is known and fitted.",
       .tight = "The type of residual-current device the charger asks for is not known or not "
                "fitted: direct current from a faulty charger blinds the common type. An "
                "electrician fits the right one.",
       .can_hurt = true,
       .ignoring = {"The protection of the whole circuit is blind.", 60, 300, 2},
       .levers = {"charger.residual_type_known=yes"},
       .blocks = Blocks::nothing,
       .never = "clash",
       .never_why = "what is fitted may be right; nobody has looked"},
      {.id = "charger-water-and-air",
       .codes = "E32",
       .title = "the charger against water, and its cooling air",
       .between = {"charger"},
       .needs = {"charger.ingress", "layout.charger_airflow"},
       .judge =
           [](const In& in) {
             const bool tight_case = in[0] >= 5, air = in.yes(1);
             if (tight_case && air) return judged(Verdict::fits);
             return judged(tight_case || air ? Verdict::tight : Verdict::clash);
           },
       .fits = "Protected to second digit {0}, and it has air in and out.",
       .tight =
           "Second digit of its IP code: {0}; air in and out: {1}. Below 5 it belongs in a dry "
           "box with an exhaust; without air it slows down.",
       .clash = "Second digit of its IP code: {0}; air in and out: {1}. It is neither dry nor cool "
                "where it sits.",
       .can_hurt = true,
       .ignoring = {"It slows down, then lets water in.", 0, 350, 2},
       .levers = {"layout.charger_airflow=yes", "charger"},
       .blocks = Blocks::nothing},
      {.id = "charger-air-temperature",
       .codes = "E32",
       .title = "the hottest day against the charger's warmest air",
       .between = {"charger"},
       .needs = {"surroundings.hottest", "charger.temperature_max"},
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(in[1] - 10); },
       .kind = Kind::temperature,
       .fits = "The hottest day has {have}; the charger works in air up to {limit}.",
       .tight = "The hottest day has {have}; the charger works in air up to {limit}, and under a "
                "cover it is ten degrees warmer: it will slow down.",
       .clash = "The hottest day has {have}; the charger works in air only up to {limit}.",
       .ignoring = {"Charging stops on a summer's day.", 0, 200, 1},
       .levers = {"charger"},
       .blocks = Blocks::nothing},
  };
}

// ---- converter and 12 V side ------------------------------------------------------------------

std::vector<Rule> converter_rules() {
  return {
      {.id = "converter-input-low",
       .codes = "E33",
       .title = "the lowest bus voltage against the converter's input",
       .between = {"dcdc", "pack", "cell"},
       .needs = {"fact.pack_voltage_empty", "dcdc.voltage_in_min"},
       .options = {"limits.hard_cut"},
       .judge =
           [](const In& in) {
             return at_least(std::min(in[0], in.or_else(2, in[0])), in[1]).kept_to(1.05 * in[1]);
           },
       .kind = Kind::voltage,
       .fits = "The bus falls to {have} at the lowest; the converter works from {limit}.",
       .tight =
           "The bus falls to {have} at the lowest; the converter works from {limit}: sag under "
           "full power reaches below.",
       .clash =
           "The bus falls to {have}; the converter works only from {limit}: lamps and contactor "
           "go out while you still ride.",
       .can_hurt = true,
       .ignoring = {"Dark and without drive at low charge.", 60, 350, 2},
       .levers = {"dcdc", "limits.hard_cut"},
       .blocks = Blocks::buying},
      {.id = "converter-input-high",
       .codes = "E33",
       .title = "the highest bus voltage against the converter's input",
       .between = {"dcdc", "pack", "cell"},
       .needs = {"fact.pack_voltage_full", "dcdc.voltage_in_max"},
       .options = {"limits.regen_voltage_max"},
       .judge =
           [](const In& in) {
             return at_most(std::max(in[0], in.or_else(2, in[0])), in[1]).kept_to(in[1] / 1.05);
           },
       .kind = Kind::voltage,
       .fits = "The bus reaches {have}; the converter stands {limit}.",
       .tight =
           "The bus reaches {have}; the converter stands {limit}. A twentieth is kept free, so "
           "stay below {practice}.",
       .clash = "The bus reaches {have}; the converter stands only {limit}: it dies at the first "
                "full charge.",
       .can_hurt = true,
       .ignoring = {"The converter dies at full charge, and the lamps with it.", 60, 350, 2},
       .levers = {"dcdc"},
       .blocks = Blocks::buying},
      {.id = "converter-power",
       .codes = "E34",
       .title = "the converter's power against the load at night",
       .between = {"dcdc", "donor"},
       .needs = {"dcdc.voltage_out", "dcdc.current_out", "fact.load_12V_riding"},
       .judge = [](const In& in) { return at_least(in[0] * in[1], in[2]).kept_to(1.3 * in[2]); },
       .kind = Kind::power,
       .fits = "Riding at night takes {limit}; the converter gives {have}.",
       .tight =
           "Riding at night takes {limit}; the converter gives {have}, and usual practice keeps "
           "three tenths more, {practice}.",
       .clash = "Riding at night takes {limit}; the converter gives only {have}: the small battery "
                "empties while you ride.",
       .can_hurt = true,
       .ignoring = {"The lamps fade on a night ride; a second converter.", 100, 450, 2},
       .levers = {"dcdc", "donor.load_headlight", "donor.load_other"},
       .blocks = Blocks::buying},
      {.id = "converter-isolated",
       .codes = "E35",
       .title = "the converter's output isolated from the pack",
       .between = {"dcdc"},
       .needs = {"dcdc.isolated"},
       .judge = must_yes,
       .fits = "The converter's output is isolated from the pack.",
       .clash =
           "The converter is not isolated: the frame becomes the pack's minus, and one touch of "
           "any plus closes the circuit through you.",
       .can_hurt = true,
       .ignoring = {"A shock at the first second fault; no isolation to measure.", 45, 180, 2},
       .levers = {"dcdc"},
       .blocks = Blocks::buying,
       .never = "tight",
       .never_why = yes_or_no},
      {.id = "converter-place",
       .codes = "E36",
       .title = "where the converter is fed from",
       .between = {"dcdc"},
       .needs = {"wiring.dcdc_place", "fact.has_buffer"},
       .judge =
           [](const In& in) {
             if (in.is(0, DcdcPlace::before_contactor)) return judged(Verdict::clash);
             const bool behind = in.is(0, DcdcPlace::behind_contactor);
             return should(!behind || in[1] > 0.5);
           },
       .fits = "The converter is switched off with the bike, and the lamps do not depend on the "
               "contactor alone.",
       .tight = "The converter sits behind the contactor and there is no buffer battery: when the "
                "contactor opens, lamps and horn stop with it.",
       .clash =
           "The converter sits before the contactor without a switch of its own: it draws from "
           "the pack for as long as the bike stands.",
       .can_hurt = true,
       .ignoring = {"A pack found empty in spring; dark when the contactor opens.", 10, 2000, 2},
       .levers = {"wiring.dcdc_place=before_contactor_switched", "+buffer"},
       .blocks = Blocks::nothing},
      {.id = "converter-storage-drain",
       .codes = "E36",
       .title = "what an unswitched converter takes from the pack while the bike stands",
       .between = {"dcdc", "pack", "cell"},
       .needs = {"dcdc.idle_current", "fact.pack_capacity", "wiring.dcdc_place"},
       .options = {"surroundings.storage_time"},
       .applies = [](const In& in) { return in.is(2, DcdcPlace::before_contactor); },
       .judge =
           [](const In& in) { return at_most(in[0] * in[3], 0.5 * in[1]).kept_to(0.1 * in[1]); },
       .kind = Kind::charge,
       .fits = "Standing for {3} the converter takes {have} of {1}.",
       .tight = "Standing for {3} the converter takes {have} of {1}: more than a tenth.",
       .clash = "Standing for {3} the converter takes {have} of {1}: more than half, and what is "
                "left may be below the cells' lowest voltage.",
       .ignoring = {"Cells found dead in spring.", 10, 2000, 4},
       .levers = {"wiring.dcdc_place=before_contactor_switched", "dcdc"},
       .blocks = Blocks::nothing,
       .source = "charge balance"},
      {.id = "converter-back-drain",
       .codes = "E37",
       .title = "what the idle converter takes from the buffer battery",
       .between = {"dcdc", "buffer"},
       .needs = {"dcdc.back_drain", "buffer.capacity"},
       .options = {"surroundings.storage_time"},
       .judge =
           [](const In& in) {
             const double standing_s = in[2], fortnight_s = 14 * 86400.0;
             const auto allowed_A = [&](double time_s) {
               return model::drain_allowed_A(in[1], 0.5, time_s);
             };
             return at_most(in[0], allowed_A(std::min(standing_s, fortnight_s)))
                 .kept_to(allowed_A(standing_s));
           },
       .kind = Kind::current,
       .fits =
           "Switched off, the converter takes {have} from the buffer battery of {1}: half of it "
           "is still there after {2}.",
       .tight = "Switched off, the converter takes {have} from the buffer battery of {1}: good for "
                "two weeks, not for {2}. A relay cuts it off.",
       .clash =
           "Switched off, the converter takes {have} from the buffer battery of {1}; "
           "more than {limit} takes half of it within two weeks, and the bike will not wake. Put a "
           "relay in that lead.",
       .ignoring = {"A flat buffer battery: the contactor cannot close.", 5, 90, 1},
       .levers = {"dcdc", "buffer"},
       .blocks = Blocks::nothing,
       .source = "charge balance"},
      {.id = "converter-fuse",
       .codes = "E39",
       .title = "the converter's own fuse at the pack's tap",
       .between = {"dcdc"},
       .needs = {"wiring.dcdc_fuse"},
       .judge = must_yes,
       .fits = "The converter has its own DC fuse at the tap. Its wire must carry more than that "
               "fuse.",
       .clash = "The converter has no fuse of its own at the tap: its thin wire burns long before "
                "the main fuse notices. It must be rated for the full pack, DC.",
       .can_hurt = true,
       .ignoring = {"A thin wire burns through the loom.", 5, 4000, 1},
       .levers = {"wiring.dcdc_fuse=yes"},
       .blocks = Blocks::energising,
       .never = "tight",
       .never_why = yes_or_no},
      {.id = "lamps-on-buffer",
       .codes = "E106",
       .title = "how long lamps and contactor live when the converter fails",
       .between = {"buffer", "donor"},
       .needs = {"fact.buffer_hold"},
       .judge = [](const In& in) { return at_least(in[0], 300).kept_to(1200); },
       .kind = Kind::time,
       .fits = "When the converter fails, half the buffer battery keeps lamps and contactor on for "
               "{have}.",
       .tight =
           "When the converter fails, half the buffer battery keeps lamps and contactor on for "
           "{have}; {practice} bring you off a motorway.",
       .clash =
           "When the converter fails, half the buffer battery keeps lamps and contactor on for "
           "only {have}; {limit} is the least to leave the road.",
       .can_hurt = true,
       .ignoring = {"Dark and without drive in the fast lane.", 25, 90, 1},
       .levers = {"buffer", "donor.load_headlight"},
       .blocks = Blocks::riding,
       .source = "charge balance; the times are common practice, no source"},
      {.id = "horn-with-contactor-open",
       .codes = "E106",
       .title = "horn and lamps with the contactor open",
       .between = {"contactor"},
       .needs = {"wiring.horn_on_buffer"},
       .judge = must_yes,
       .fits = "Horn and lamps work with the contactor open.",
       .clash =
           "Horn and lamps go out when the contactor opens: a bike that has stopped in the road "
           "at night cannot be seen, and it fails the inspection.",
       .can_hurt = true,
       .ignoring = {"Invisible after a fault; refused at the inspection.", 10, 150, 2},
       .levers = {"wiring.horn_on_buffer=yes"},
       .blocks = Blocks::riding,
       .never = "tight",
       .never_why = yes_or_no},
  };
}

// ---- isolation and wiring ---------------------------------------------------------------------

std::vector<Rule> isolation_rules() {
  return {
      {.id = "isolation-to-frame",
       .codes = "E94",
       .title = "isolation between the pack's circuit and the frame",
       .between = {"pack", "cell"},
       .needs = {"wiring.isolation_resistance", "fact.pack_voltage_full",
                 "fact.isolation_per_volt"},
       .applies = [](const In& in) { return !(in[1] <= dangerous_V); },
       .judge =
           [](const In& in) {
             const double limit_ohm = 500 * in[1];
             return at_least(in[0], limit_ohm).kept_to(std::max(limit_ohm, 1e6));
           },
       .kind = Kind::resistance,
       .fits = "Isolation to the frame is {have}, {2} ohm for each volt; 500 are asked for.",
       .tight = "Isolation to the frame is {have}, {2} ohm for each volt: allowed, but a new build "
                "shows more than {practice}. Find the damp or the chafed spot.",
       .clash = "Isolation to the frame is {have}, {2} ohm for each volt; 500 are asked for, "
                "{limit}. The next fault is a shock or a short through the frame.",
       .can_hurt = true,
       .ignoring = {"A second fault makes the frame live.", 0, 1500, 2},
       .blocks = Blocks::energising,
       .source = "UN R100 clause 5.1.3.2"},
      {.id = "enclosure-bond",
       .codes = "E95",
       .title = "frame to metal enclosures",
       .between = {"pack"},
       .needs = {"wiring.bond_resistance"},
       .options = {"fact.pack_voltage_full"},
       .applies = [](const In& in) { return !(in[1] <= dangerous_V); },
       .judge = [](const In& in) { return at_most(in[0], 0.1); },
       .kind = Kind::resistance,
       .fits = "Frame to enclosures: {have}; below {limit} at 0.2 A or more is asked for.",
       .tight = "Frame to enclosures: {have}; below {limit} is asked for: within what the meter is "
                "good for. Paint under a lug does that.",
       .clash =
           "Frame to enclosures: {have}; below {limit} is asked for. After a fault inside, the "
           "case is live against the frame.",
       .can_hurt = true,
       .ignoring = {"A case that is live after a fault.", 5, 60, 1},
       .blocks = Blocks::energising,
       .source = "UN R100 clause 5.1.2.2"},
      {.id = "signal-separation",
       .codes = "E96",
       .title = "signal wires beside power cables",
       .between = {"controller"},
       .needs = {"wiring.signal_separation"},
       .judge = [](const In& in) { return at_least(in[0], 0.02).kept_to(0.1); },
       .kind = Kind::length,
       .fits = "Signal wires keep {have} from power cables; {practice} is wanted.",
       .tight = "Signal wires keep only {have} from power cables; {practice} is wanted. Cross at "
                "right angles, shield with one end to ground.",
       .clash = "Signal wires run {have} beside power cables, as if in one loom: the throttle "
                "picks up what the motor does.",
       .can_hurt = true,
       .ignoring = {"A throttle that twitches, sensor faults that come and go.", 10, 150, 2},
       .levers = {"wiring.signal_separation"},
       .blocks = Blocks::riding},
      {.id = "cables-side-by-side",
       .codes = "E97",
       .title = "battery plus and minus side by side",
       .between = {"pack", "controller"},
       .needs = {"wiring.twisted_pair"},
       .judge = should_yes,
       .fits = "Battery plus and minus run side by side.",
       .tight =
           "Battery plus and minus run apart: the loop between them works as an aerial and adds "
           "spikes to the controller's voltage. Short and together, phase leads as well.",
       .ignoring = {"Interference, and a power stage worn by spikes.", 0, 600, 2},
       .levers = {"wiring.twisted_pair=yes"},
       .blocks = Blocks::nothing,
       .never = "clash",
       .never_why = "it runs, only worse"},
      {.id = "signal-grounds",
       .codes = "E98",
       .title = "what the signal grounds are joined to",
       .between = {"controller"},
       .needs = {"wiring.common_reference_checked"},
       .judge = should_yes,
       .fits = "Signal grounds are isolated, or joined at one point on purpose.",
       .tight = "Nobody has checked what the signal grounds of controller, monitor, display and "
                "computer are joined to: a loop through the frame or a laptop kills ports.",
       .ignoring = {"A dead port on controller or laptop.", 0, 700, 3},
       .levers = {"wiring.common_reference_checked=yes"},
       .blocks = Blocks::nothing,
       .never = "clash",
       .never_why = "it may be right; nobody has looked"},
      {.id = "display-lead",
       .codes = "E99,E57",
       .title = "the display's lead from the pack",
       .between = {"display"},
       .needs = {"display.fused", "display.isolated"},
       .judge =
           [](const In& in) {
             if (!in.yes(0)) return judged(Verdict::clash);
             return should(in.yes(1));
           },
       .fits = "The display's pack lead is fused and the display is isolated.",
       .tight = "The display is not isolated from the pack: its lead is fused, but no metal of it "
                "may be touched, and its ground must not meet the frame.",
       .clash =
           "The display's lead from the pack has no fuse: pinched at the steering head it burns "
           "in the rider's hands.",
       .can_hurt = true,
       .ignoring = {"A shock or a burning wire at the handlebar.", 5, 500, 1},
       .levers = {"display.fused=yes", "display"},
       .blocks = Blocks::energising},
      {.id = "shunt-rating",
       .codes = "E100",
       .title = "the display's shunt against the largest battery current",
       .between = {"display", "controller"},
       .needs = {"display.shunt_current", "fact.battery_current_peak"},
       .options = {"display.counts_charge"},
       .applies = [](const In& in) { return !in.is(2, Answer::no); },
       .judge = [](const In& in) { return at_least(in[0], in[1]).kept_to(1.2 * in[1]); },
       .kind = Kind::current,
       .fits = "The shunt is rated {have}; the drive takes {limit} at most. Check that the meter "
               "accepts the side it sits on.",
       .tight = "The shunt is rated {have}; the drive takes {limit} at most, and a fifth more, "
                "{practice}, is usual: warm, it counts wrong.",
       .clash = "The shunt is rated only {have}; the drive takes {limit}: it overheats and the "
                "charge shown is wrong.",
       .can_hurt = true,
       .ignoring = {"A wrong charge gauge; a scorched shunt.", 20, 90, 1},
       .levers = {"display", "limits.battery_current"},
       .blocks = Blocks::nothing},
  };
}

std::vector<Rule> interlock_rules() {
  return {
      {.id = "kill-switch",
       .codes = "E101",
       .title = "two ways by which the kill switch stops the bike",
       .between = {"controller"},
       .needs = {"wiring.kill_opens_coil", "wiring.kill_disables_controller"},
       .judge = [](const In& in) { return must(in.yes(0) && in.yes(1)); },
       .fits = "The kill switch opens the coil and disables the controller.",
       .clash =
           "The kill switch opens the coil: {0}; disables the controller: {1}. Both are needed, "
           "so that one welded contact or one failed controller cannot keep the torque on.",
       .can_hurt = true,
       .ignoring = {"A bike that pulls on and cannot be stopped.", 8, 20000, 1},
       .levers = {"wiring.kill_opens_coil=yes", "wiring.kill_disables_controller=yes"},
       .blocks = Blocks::energising,
       .never = "tight",
       .never_why = "with one way only, a single fault keeps the torque on"},
      {.id = "stand-and-tilt",
       .codes = "E102",
       .title = "stand and tilt switches in the loop",
       .between = {"controller"},
       .needs = {"wiring.stand_switch", "wiring.tilt_switch"},
       .judge =
           [](const In& in) {
             if (!in.yes(0)) return judged(Verdict::clash);
             return should(in.yes(1));
           },
       .fits = "Side stand and tilt switch are in the loop: either open, no torque.",
       .tight =
           "There is no tilt switch in the loop: a bike on its side goes on turning its wheel.",
       .clash =
           "The side stand is not in the loop: the bike drives off with the stand down, and it "
           "makes no sound that would warn you.",
       .can_hurt = true,
       .ignoring = {"A fall in the first bend.", 10, 3000, 1},
       .levers = {"wiring.stand_switch=yes", "wiring.tilt_switch=yes"},
       .blocks = Blocks::riding},
      {.id = "lid-switch",
       .codes = "E102",
       .title = "opening the lid opens the coil",
       .between = {"pack"},
       .needs = {"wiring.lid_switch"},
       .options = {"fact.pack_voltage_full"},
       .applies = [](const In& in) { return !(in[1] <= dangerous_V); },
       .judge = should_yes,
       .fits = "Opening the lid opens the coil. The pack itself stays live.",
       .tight = "Opening the lid does not open the coil: whoever lifts it meets a live bus as well "
                "as a live pack.",
       .can_hurt = true,
       .ignoring = {"A shock to whoever opens the box without knowing.", 8, 60, 1},
       .levers = {"wiring.lid_switch=yes"},
       .blocks = Blocks::nothing,
       .never = "clash",
       .never_why = "the disconnect and a label do the same for who knows"},
      {.id = "regen-stop-lamp",
       .codes = "E105",
       .title = "the stop lamp while the motor brakes",
       .between = {"controller"},
       .needs = {"wiring.regen_stop_lamp", "limits.regen"},
       .applies = [](const In& in) { return !in.is(1, Answer::no); },
       .judge = must_yes,
       .fits = "Braking by motor lights the stop lamp.",
       .clash = "Braking by motor does not light the stop lamp: above about 1.3 m/s2 it must, from "
                "0.7 m/s2 it may.",
       .can_hurt = true,
       .ignoring = {"Hit from behind; refused at the inspection.", 10, 3000, 2},
       .levers = {"wiring.regen_stop_lamp=yes", "limits.regen=no"},
       .blocks = Blocks::riding,
       .source = "the bands of UN R13-H, made for cars: from memory",
       .never = "tight",
       .never_why = yes_or_no},
  };
}

}  // namespace

std::vector<Rule> charger_and_converter_rules() {
  std::vector<Rule> rules = charger_rules();
  append(rules, converter_rules());
  return rules;
}

std::vector<Rule> wiring_rules() {
  std::vector<Rule> rules = isolation_rules();
  append(rules, interlock_rules());
  return rules;
}

}  // namespace ww::fit::safety_chain
