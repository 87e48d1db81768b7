// SPDX-License-Identifier: MIT
// Throttle and brake levers against the controller, what the papers allow, and whether a motor's
// and a controller's listing can be believed. The rest of the drive stands in rules_drive.cpp.
#include <cmath>

#include "fit/rule_terms.h"
#include "fit/rules_drive.h"
#include "model/motor_constants.h"

namespace ww::fit {

namespace {

using build::Licence;
using build::MotorType;
using build::ThrottleType;
using figure::Kind;

/// Continuous power that a licence tier allows.
double licence_power_W(double licence) {
  if (licence == static_cast<double>(Licence::moped_4kW)) return 4000;
  return licence == static_cast<double>(Licence::light_11kW) ? 11000 : 35000;
}
/// Power over mass that the two middle tiers allow.
double licence_kW_per_kg(double licence) {
  return licence == static_cast<double>(Licence::light_11kW) ? 0.1 : 0.2;
}

/// The family of motors as controllers list it: pm, induction, brushed.
int motor_family(double type) {
  if (type == static_cast<double>(MotorType::induction)) return 2;
  return type < static_cast<double>(MotorType::induction) ? 1 : 3;
}

/// Whether its constants multiply to one: not where the field is not made by magnets.
bool has_constants(const In& in, int type) {
  return !in.is(type, MotorType::induction) && !in.is(type, MotorType::brushed_series);
}

Outcome throttle_type_fits(const In& in) {
  if (in.holds(1, static_cast<int>(in[0]))) return judged(Verdict::fits);
  const bool one_track_works =
      in.is(0, ThrottleType::hall_dual) && in.holds(1, static_cast<int>(ThrottleType::hall));
  return judged(one_track_works ? Verdict::tight : Verdict::clash);
}

Outcome logic_fuse_fits(const In& in) {
  if (!(in[0] > 0)) return judged(Verdict::clash);
  return should(in[0] >= 1 && in[0] <= 5);
}

Outcome braking_fits(const In& in) {
  if (!in.yes(1) || in.is(0, MotorType::brushed_series)) return judged(Verdict::clash);
  return should(!in.is(0, MotorType::brushed_pm));
}

/// In: product; speed constant, torque constant, type, how many of the two say no word. Where none
/// is said, a product that another reading explains is a doubt, not a contradiction.
Outcome constants_fit(const In& in) {
  const bool other_reading = in[4] > 0 && model::unit_mix(in[0], 1, 0.05).plausible > 0;
  if (std::fabs(in[0] - 1) > 0.12 && other_reading) return judged(Verdict::tight);
  return at_most(std::fabs(in[0] - 1), 0.12).kept_to(0.05);
}

std::vector<Rule> throttle_rules() {
  return {
      {.id = "throttle-type",
       .codes = "E88",
       .title = "kind of throttle against what the controller reads",
       .between = {"throttle", "controller"},
       .needs = {"throttle.type", "controller.throttles"},
       .judge = throttle_type_fits,
       .fits = "Kind of throttle: {0}; the controller reads: {1}.",
       .tight = "The throttle has two tracks, the controller reads one of them: it works, without "
                "the check of one track against the other.",
       .clash = "Kind of throttle: {0}; the controller reads: {1}. It would be dead, or full on.",
       .can_hurt = true,
       .ignoring = {"A throttle bought twice, or a bike that runs off on the stand.", 10, 120, 2},
       .levers = {"throttle", "controller"},
       .blocks = Blocks::buying},
      {.id = "throttle-supply",
       .codes = "E90",
       .title = "supply of the throttle against what the controller gives",
       .between = {"throttle", "controller"},
       .needs = {"throttle.supply", "controller.supply_5V"},
       .options = {"throttle.type"},
       .applies =
           [](const In& in) {
             return !in.is(2, ThrottleType::resistive) && !in.is(2, ThrottleType::bus);
           },
       .judge =
           [](const In& in) {
             return at_most(std::fabs(in[1] - in[0]) / in[0], 0.10).kept_to(0.05);
           },
       .fits =
           "The throttle wants {0}, the controller gives {1}. Feed it from the controller only, "
           "and join its ground there only.",
       .tight = "The throttle wants {0}, the controller gives {1}: more than a twentieth apart. "
                "Measure its rest and full signal with that supply.",
       .clash = "The throttle wants {0}, the controller gives {1}: too little and it stays dead, "
                "too much and it burns, perhaps full on.",
       .ignoring = {"A burnt sensor in the grip.", 10, 90, 1},
       .levers = {"throttle", "controller"},
       .blocks = Blocks::energising},
      {.id = "throttle-rest-below-start",
       .codes = "E89",
       .title = "signal of the grip at rest against where the throttle starts",
       .between = {"throttle"},
       .needs = {"throttle.voltage_rest", "limits.throttle_start"},
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(in[1] - 0.15); },
       .kind = Kind::voltage,
       .fits = "At rest the grip gives {have}; the throttle starts at {limit}.",
       .tight = "At rest the grip gives {have}; the throttle starts at {limit}. Usual practice "
                "keeps 0.15 V between them: a warm or worn grip drifts.",
       .clash =
           "At rest the grip gives {have}, but the throttle starts at {limit}: the motor pulls "
           "with the grip let go. Rear wheel off the ground until this is set.",
       .can_hurt = true,
       .ignoring = {"The bike runs off by itself.", 0, 2000, 1},
       .levers = {"limits.throttle_start"},
       .blocks = Blocks::energising},
      {.id = "throttle-full-below-fault",
       .codes = "E89",
       .title = "signal of the grip at full twist against where the controller sees a fault",
       .between = {"throttle"},
       .needs = {"throttle.voltage_full", "limits.throttle_fault"},
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(in[1] - 0.15); },
       .kind = Kind::voltage,
       .fits = "At full twist the grip gives {have}; the controller sees a fault above {limit}.",
       .tight = "At full twist the grip gives {have}; the controller sees a fault above {limit}. "
                "Usual practice keeps 0.15 V between them.",
       .clash =
           "At full twist the grip gives {have}, above the {limit} where the controller sees a "
           "fault: power stops when you overtake.",
       .can_hurt = true,
       .ignoring = {"Power stops at full twist, in traffic.", 0, 100, 1},
       .levers = {"limits.throttle_fault", "throttle"},
       .blocks = Blocks::riding},
      {.id = "throttle-full-reached",
       .codes = "E89",
       .title = "signal of the grip at full twist against the setting for full power",
       .between = {"throttle"},
       .needs = {"throttle.voltage_full", "limits.throttle_full"},
       .judge = [](const In& in) { return should(in[0] >= in[1]); },
       .fits = "At full twist the grip gives {0}; full power is set at {1}.",
       .tight = "At full twist the grip gives {0}, but full power is set at {1}: you never get all "
                "of it.",
       .ignoring = {"Part of the power is never used.", 0, 0, 0},
       .levers = {"limits.throttle_full"},
       .never = "clash",
       .never_why = "it only costs power"},
      {.id = "throttle-open-wire",
       .codes = "E89",
       .title = "what the drive does when a throttle wire breaks",
       .between = {"throttle"},
       .needs = {"throttle.fail_tested"},
       .judge = [](const In& in) { return must(in.yes(0)); },
       .fits = "Each throttle wire was pulled once: no torque.",
       .clash =
           "Not yet tested: pull each throttle wire once, and short it once; there must be no "
           "torque. Rear wheel off the ground on a stand that cannot tip, nobody in its plane, "
           "contactor open or the current limit at its lowest.",
       .can_hurt = true,
       .ignoring = {"A chafed wire means full torque.", 0, 2000, 1},
       .blocks = Blocks::riding,
       .never = "tight",
       .never_why = "tested or not tested"},
      {.id = "throttle-at-rest-to-start",
       .codes = "E91",
       .title = "whether the controller refuses to start with the throttle open",
       .between = {"controller"},
       .needs = {"controller.zero_throttle_check"},
       .judge = [](const In& in) { return must(in.yes(0)); },
       .fits = "The controller refuses to start while the throttle is open.",
       .clash = "The controller starts with the throttle open: a grip that hangs makes it leap at "
                "key-on. Fit an interlock that asks for the throttle at rest.",
       .can_hurt = true,
       .ignoring = {"The bike leaps when the key is turned.", 0, 1000, 1},
       .levers = {"controller"},
       .blocks = Blocks::energising,
       .never = "tight",
       .never_why = "it checks or it does not"},
      {.id = "throttle-return",
       .codes = "E92",
       .title = "return of the grip",
       .between = {"throttle"},
       .needs = {"throttle.springs_back"},
       .judge = [](const In& in) { return must(in.yes(0)); },
       .fits = "The grip snaps back at both steering locks, with gloves, wet.",
       .clash = "The grip does not snap back everywhere: free it at both steering locks, with "
                "gloves on, wet, before anything else.",
       .can_hurt = true,
       .ignoring = {"It keeps pulling into the bend.", 0, 2000, 1},
       .levers = {"throttle"},
       .blocks = Blocks::riding,
       .never = "tight",
       .never_why = "it snaps back or it does not"},
      {.id = "throttle-bar",
       .codes = "E92",
       .title = "bar the throttle fits against the handlebar",
       .between = {"throttle", "donor"},
       .needs = {"throttle.bar_diameter", "donor.bar_diameter"},
       .judge =
           [](const In& in) {
             return at_most(std::fabs(in[0] - in[1]), 0.5 * mm).kept_to(0.2 * mm);
           },
       .kind = Kind::length,
       .fits = "The throttle is made for a bar of {0}; the bar has {1}.",
       .tight = "The throttle is made for a bar of {0}; the bar has {1}: {have} apart. It needs a "
                "shim or a light pass with emery cloth.",
       .clash = "The throttle is made for a bar of {0}; the bar has {1}. It does not go on, or it "
                "turns on the bar.",
       .can_hurt = true,
       .ignoring = {"A grip that slips or binds.", 10, 90, 1},
       .levers = {"throttle"},
       .blocks = Blocks::buying},
      {.id = "throttle-length",
       .codes = "E92",
       .title = "length of the throttle against the free length of the bar",
       .between = {"throttle", "donor"},
       .needs = {"throttle.length", "donor.bar_free_length"},
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(in[1] - 3 * mm); },
       .kind = Kind::length,
       .fits = "The throttle takes {have} of the bar; {limit} are free.",
       .tight =
           "The throttle takes {have} of the bar; {limit} are free: with less than 3 mm of air "
           "it rubs on the switch block and hangs.",
       .clash = "The throttle takes {have} of the bar; only {limit} are free.",
       .ignoring = {"Switches moved or another grip.", 10, 120, 1},
       .levers = {"throttle"},
       .blocks = Blocks::buying},
      {.id = "brake-levers-cut-drive",
       .codes = "E93",
       .title = "brake levers at the controller",
       .between = {"controller"},
       .needs = {"wiring.brake_switches"},
       .options = {"controller.brake_input"},
       .judge = [](const In& in) { return should(in.yes(0) && (!in.has(1) || in.yes(1))); },
       .fits = "Both brake levers reach the controller. Check that it reads their switches the "
               "right way round, and the stop lamp with them.",
       .tight =
           "Both brake levers reach the controller: {0}; it has an input for them: {1}. Braking "
           "does not take away the pull of a hanging grip, and motor braking cannot be had "
           "from the lever.",
       .can_hurt = true,
       .ignoring = {"A hanging grip pulls against the brakes.", 10, 60, 1},
       .blocks = Blocks::riding,
       .never = "clash",
       .never_why = "the brakes still hold the bike"},
      {.id = "logic-supply-fuse",
       .codes = "E87",
       .title = "fuse in the controller's logic supply",
       .between = {"controller"},
       .needs = {"controller.logic_fuse"},
       .judge = logic_fuse_fits,
       .fits = "The logic supply has a fuse of {0}. It must be one for DC at the full pack's "
               "voltage.",
       .tight =
           "The logic supply has a fuse of {0}; usual are 1 to 5 A. A larger one does not guard "
           "the thin wires of the key loom, a smaller one blows at key-on.",
       .clash = "The logic supply has no fuse: a chafed key wire carries whatever the pack gives. "
                "Fit a DC fuse of 1 to 5 A at the tap.",
       .can_hurt = true,
       .ignoring = {"A fire in the key loom.", 10, 3000, 2},
       .blocks = Blocks::energising},
      {.id = "key-switch-voltage",
       .codes = "E87",
       .title = "the key switch against the full pack",
       .between = {"controller", "pack"},
       .needs = {"wiring.key_switch_voltage", "fact.pack_voltage_full"},
       .judge = [](const In& in) { return at_least(in[0], in[1]).kept_to(in[1]); },
       .kind = Kind::voltage,
       .fits = "The key switch is made for {0} DC; the full pack has {1}.",
       .clash =
           "The key switch is made for {0} DC only; the full pack has {1}. A lock made for 12 V "
           "arcs inside and sticks: let it switch a relay or an input made for that voltage, and "
           "enter what switches the pack's side.",
       .can_hurt = true,
       .ignoring = {"A key that no longer switches off; a fire in the key loom.", 10, 3000, 1},
       .blocks = Blocks::energising,
       .never = "tight",
       .never_why = "a rating is kept or it is not"},
  };
}

std::vector<Rule> control_on_paper_rules() {
  return {
      {.id = "motor-kind-at-controller",
       .codes = "",
       .title = "kind of motor against what the controller drives",
       .between = {"motor", "controller"},
       .needs = {"motor.type", "controller.drives"},
       .judge = [](const In& in) { return must(in.holds(1, motor_family(in[0]))); },
       .fits = "Kind of motor: {0}; the controller drives: {1}.",
       .clash = "Kind of motor: {0}; the controller drives: {1}. They cannot work together.",
       .ignoring = {"One of the two is sold again at a loss.", 100, 500, 4},
       .levers = {"controller", "motor"},
       .blocks = Blocks::buying,
       .never = "tight",
       .never_why = "it drives that kind or it does not"},
      {.id = "motor-braking-possible",
       .codes = "",
       .title = "braking by motor: switched on, and possible",
       .between = {"motor", "controller"},
       .needs = {"motor.type", "controller.regen"},
       .options = {"limits.regen"},
       .applies = [](const In& in) { return in.yes(2); },
       .judge = braking_fits,
       .fits = "Braking by motor is switched on; motor and controller can do it.",
       .tight =
           "Braking by motor is switched on. A brushed motor with magnets can do it, but "
           "braking wears the brushes and wants their angle set for both directions of current.",
       .clash = "Braking by motor is switched on, but the motor is '{0}' and the controller can "
                "brake: {1}. A series motor, or a controller without it, does not brake.",
       .can_hurt = true,
       .ignoring = {"Braking you count on is not there.", 0, 300, 1},
       .levers = {"limits.regen=no", "controller"},
       .blocks = Blocks::riding},
      {.id = "field-weakening-possible",
       .codes = "",
       .title = "field weakening: switched on, and possible",
       .between = {"controller"},
       .needs = {"controller.field_weakening"},
       .options = {"limits.field_weakening"},
       .applies = [](const In& in) { return in.yes(1); },
       .judge = [](const In& in) { return must(in.yes(0)); },
       .fits = "Field weakening is switched on and the controller can do it.",
       .clash = "Field weakening is switched on, but the controller cannot do it: the speed above "
                "what the voltage gives is not there.",
       .ignoring = {"Top speed is lower than hoped for.", 0, 300, 1},
       .levers = {"limits.field_weakening=no", "controller"},
       .never = "tight",
       .never_why = "it can or it cannot"},
      {.id = "controller-pin-list",
       .codes = "",
       .title = "pin list of the controller in hand",
       .between = {"controller"},
       .needs = {"controller.pinout_in_hand"},
       .judge = [](const In& in) { return must(in.yes(0)); },
       .fits = "The controller's pin list is in hand.",
       .clash = "No pin list: ask for it before you pay. Guessed wires kill controllers.",
       .ignoring = {"Weeks of asking, or a dead controller.", 0, 600, 3},
       .blocks = Blocks::buying,
       .never = "tight",
       .never_why = "in hand or not in hand"},
      {.id = "controller-software",
       .codes = "",
       .title = "setting software and cable of the controller",
       .between = {"controller"},
       .needs = {"controller.software_included"},
       .judge = [](const In& in) { return should(in.yes(0)); },
       .fits = "Setting software and cable come with the controller. Try them on your computer "
               "while it can still be sent back.",
       .tight = "Setting software or cable do not come with the controller: ask for the price, the "
                "computer it runs on, and who may change which setting.",
       .ignoring = {"A controller whose limits nobody can set.", 20, 200, 3},
       .levers = {"controller"},
       .blocks = Blocks::buying,
       .never = "clash",
       .never_why = "it can be bought, or the seller sets it"},
  };
}

std::vector<Rule> paper_rules() {
  return {
      {.id = "licence-power",
       .codes = "L02",
       .title = "continuous power against the licence",
       .between = {"motor"},
       .needs = {"wishes.licence", "motor.power_continuous"},
       .applies = [](const In& in) { return !in.is(0, Licence::full); },
       .judge =
           [](const In& in) {
             return at_most(in[1], licence_power_W(in[0])).kept_to(licence_power_W(in[0]));
           },
       .kind = Kind::power,
       .fits =
           "The motor's continuous power is {have}; the licence allows {limit}. The certificate "
           "counts, not the label.",
       .clash = "The motor's continuous power is {have}; the licence allows only {limit}. Ask your "
                "authority which figure counts.",
       .ignoring = {"Riding without a licence and without cover.", 200, 2000, 4},
       .levers = {"motor"},
       .blocks = Blocks::buying,
       .source = "Directive 2006/126/EC article 4 and Regulation (EU) 168/2013: from memory; other "
                 "countries differ",
       .never = "tight",
       .never_why = "the law's line has no middle; how well the power is known stands in "
                    "power-certificate"},
      {.id = "licence-power-to-mass",
       .codes = "L02",
       .title = "continuous power over mass against the licence",
       .between = {"motor"},
       .needs = {"wishes.licence", "motor.power_continuous", "ride.mass"},
       .applies =
           [](const In& in) { return !in.is(0, Licence::full) && !in.is(0, Licence::moped_4kW); },
       .judge =
           [](const In& in) { return at_most(in[1] / in[2] / 1000, licence_kW_per_kg(in[0])); },
       .fits = "{1} for {2} make {have} kW/kg; the licence allows {limit}.",
       .tight = "{1} for {2} make {have} kW/kg; the licence allows {limit}, but the spread of the "
                "figures reaches beyond.",
       .clash = "{1} for {2} make {have} kW/kg; the licence allows only {limit}.",
       .ignoring = {"Riding without a licence and without cover.", 200, 2000, 4},
       .levers = {"motor"},
       .blocks = Blocks::buying,
       .source = "Directive 2006/126/EC article 4: from memory; other countries differ"},
      {.id = "licence-speed",
       .codes = "L02",
       .title = "speed limit set against the moped class",
       .between = {"motor"},
       .needs = {"limits.speed_max"},
       .options = {"wishes.licence"},
       .applies = [](const In& in) { return in.is(1, Licence::moped_4kW); },
       .judge = [](const In& in) { return at_most(in[0], 45 / 3.6).kept_to(45 / 3.6); },
       .kind = Kind::speed,
       .fits = "The controller stops at {have}; the moped class ends at {limit}.",
       .clash = "The controller stops at {have}; the moped class ends at {limit}.",
       .ignoring = {"Riding without a licence and without cover.", 200, 2000, 4},
       .levers = {"limits.speed_max"},
       .blocks = Blocks::riding,
       .source = "Regulation (EU) 168/2013, class L1e-B: from memory; other countries differ",
       .never = "tight",
       .never_why = "the law's line has no middle"},
      {.id = "power-certificate",
       .codes = "L02",
       .title = "certificate of the continuous power",
       .between = {"motor"},
       .needs = {"motor.certificate"},
       .options = {"wishes.licence"},
       .applies = [](const In& in) { return !in.is(1, Licence::full); },
       .judge = [](const In& in) { return should(in.yes(0)); },
       .fits = "There is a certificate of the continuous power.",
       .tight =
           "There is no certificate of the continuous power: ask the seller for a test report, "
           "and the authority what it takes instead.",
       .ignoring = {"The bike is put into a higher class, or not registered.", 200, 1500, 8},
       .levers = {"motor"},
       .blocks = Blocks::buying,
       .never = "clash",
       .never_why = "what the authority takes instead is its own affair"},
      {.id = "power-against-original",
       .codes = "L11",
       .title = "continuous power against that of the engine",
       .between = {"motor", "donor"},
       .needs = {"motor.power_continuous", "donor.power_original"},
       .judge = [](const In& in) { return should(in[0] <= 1.2 * in[1]); },
       .fits = "The motor's continuous power is {0}, the engine's was {1}.",
       .tight =
           "The motor's continuous power is {0}, the engine's was {1}: more than a fifth above. "
           "Some places then want an engineer's report.",
       .ignoring = {"An engineer's report, after the build.", 300, 1500, 6},
       .levers = {"motor"},
       .blocks = Blocks::buying,
       .source = "Australia's national code of practice for light vehicles, as reported",
       .never = "clash",
       .never_why = "a rule of some places only"},
  };
}

std::vector<Rule> listing_rules() {
  return {
      {.id = "phase-current-words",
       .codes = "",
       .title = "phase currents: peak, rms or DC-equivalent",
       .between = {"motor", "controller"},
       .needs = {"controller.current_phase", "motor.current_peak", "fact.phase_words_unsaid"},
       .judge = [](const In& in) { return should(in[2] == 0); },
       .fits = "Every phase current on the sheet says what it counts.",
       .tight = "Phase currents that do not say whether they are peak, rms or DC-equivalent: {2}. "
                "The same number means up to 41 % more or less current. Read as DC-equivalent for "
                "now. Ask, then write it behind the figure.",
       .ignoring = {"A motor with a third less pull than paid for, or a burnt one.", 100, 800, 4},
       .blocks = Blocks::buying,
       .source = "rms to peak is 1.414, DC-equivalent to peak 2/sqrt(3)",
       .never = "clash",
       .never_why = "an unsaid word is a doubt, not a misfit"},
      {.id = "motor-constant-words",
       .codes = "",
       .title = "motor constants: per which volt, per which amp",
       .between = {"motor"},
       .needs = {"motor.speed_constant", "motor.torque_constant", "fact.constant_words_unsaid"},
       .judge = [](const In& in) { return should(in[2] == 0); },
       .fits = "Speed and torque constant say which volts and amps they count.",
       .tight = "Of speed and torque constant {2} do not say which volts or amps they count; they "
                "are read per DC volt and per DC-equivalent amp. Ask, or measure: spin the motor "
                "with a drill.",
       .ignoring = {"Top speed and pull come out a third wrong.", 80, 800, 4},
       .blocks = Blocks::buying,
       .source = "rms to peak is 1.414, DC-equivalent to peak 2/sqrt(3)",
       .never = "clash",
       .never_why = "an unsaid word is a doubt, not a misfit"},
      {.id = "motor-constants-agree",
       .codes = "",
       .title = "speed constant against torque constant",
       .between = {"motor"},
       .needs = {"fact.constants_product"},
       .options = {"motor.speed_constant", "motor.torque_constant", "motor.type",
                   "fact.constant_words_unsaid"},
       .applies = [](const In& in) { return has_constants(in, 3); },
       .judge = constants_fit,
       .fits = "Speed constant times torque constant makes {0}; it must be 1.",
       .tight =
           "Speed constant times torque constant, read per DC volt and amp, makes {0}; it must "
           "be 1. Near 0.87 the torque is per sine-peak amp, near 1.22 per rms amp; near 1.41 "
           "the speed is per rms volt. Otherwise one of the two is rounded. Ask, or measure "
           "one of them.",
       .clash =
           "Speed constant times torque constant makes {0}; it must be 1. One of the two counts "
           "other volts or amps than the sheet says, or is wrong. Near 0.87 the torque is per "
           "sine-peak amp, near 1.22 per rms amp; near 1.41 the speed is per rms volt. Ask, or "
           "measure one of them.",
       .ignoring = {"Top speed or pull comes out a third wrong.", 80, 800, 4},
       .blocks = Blocks::buying,
       .source = "energy: volts times amps in is torque times speed out, 9.549 rpm Nm/(V A)"},
      {.id = "peak-torque-agrees",
       .codes = "",
       .title = "listed peak torque against torque constant and peak current",
       .between = {"motor"},
       .needs = {"fact.peak_torque_share"},
       .options = {"motor.torque_peak", "motor.torque_constant", "motor.current_peak"},
       .judge = [](const In& in) { return at_most(std::fabs(in[0] - 1), 0.25).kept_to(0.10); },
       .fits = "The listed peak torque of {1} is {0} times what {2} and {3} make.",
       .tight =
           "The listed peak torque of {1} is {0} times what {2} and {3} (sine peak) make. A little "
           "below 1 iron saturates; above 1 a figure is off.",
       .clash =
           "The listed peak torque of {1} is {0} times what {2} and {3} (sine peak) make: one of "
           "the three counts other amps, or is made up.",
       .ignoring = {"A motor with a third less pull than paid for.", 80, 800, 4},
       .blocks = Blocks::buying,
       .source = "torque is torque constant times current; saturation takes a little at the peak"},
      {.id = "peak-power-has-time",
       .codes = "",
       .title = "how long the peak power lasts",
       .between = {"motor"},
       .needs = {"motor.power_peak", "motor.peak_time"},
       .judge = [](const In& in) { return at_least(in[1], 10).kept_to(30); },
       .kind = Kind::time,
       .fits = "The peak power is for {have}.",
       .tight = "The peak power is for {have} only; overtaking takes half a minute.",
       .clash = "The peak power is for {have} only: a number for the label.",
       .ignoring = {"Power fades while you overtake.", 0, 300, 1},
       .levers = {"motor"}},
      {.id = "peak-power-believable",
       .codes = "",
       .title = "peak power over continuous power",
       .between = {"motor"},
       .needs = {"motor.power_peak", "motor.power_continuous"},
       .judge = [](const In& in) { return at_most(in[0] / in[1], 5).kept_to(3.5); },
       .fits = "Peak power is {have} times the continuous power; two to three and a half times is "
               "usual.",
       .tight = "Peak power is {have} times the continuous power; more than three and a half times "
                "is unusual. Ask for the seconds and the winding's temperature.",
       .clash = "Peak power is {have} times the continuous power: no motor of this kind does that "
                "for half a minute.",
       .ignoring = {"A motor that is half of its label.", 200, 800, 4},
       .levers = {"motor"},
       .blocks = Blocks::buying},
      {.id = "continuous-power-believable",
       .codes = "",
       .title = "continuous power for the motor's mass",
       .between = {"motor"},
       .needs = {"fact.continuous_kW_per_kg", "fact.usual_kW_per_kg"},
       .judge = [](const In& in) { return at_most(in[0], 1.5 * in[1]).kept_to(in[1]); },
       .fits = "The listed continuous power makes {have} kW a kilogram; motors of this kind are "
               "known for up to {practice}.",
       .tight = "The listed continuous power makes {have} kW a kilogram; motors of this kind are "
                "known for up to {practice}. Ask for the test: which cooling, how long.",
       .clash = "The listed continuous power makes {have} kW a kilogram; motors of this kind are "
                "known for up to {practice}. It is a peak, or the mass is wrong.",
       .ignoring = {"The motor cooks at what it was bought for.", 300, 1200, 6},
       .levers = {"motor"},
       .blocks = Blocks::buying},
      {.id = "peak-power-from-battery",
       .codes = "",
       .title = "what the battery lets through against the motor's peak power",
       .between = {"motor", "controller", "pack"},
       .needs = {"ride.power_shaft_peak", "motor.power_peak"},
       .judge = [](const In& in) { return should(in[0] >= 0.9 * in[1]); },
       .fits = "The motor's peak power, as far as its listing can be believed, is {1}; pack and "
               "controller let it give {0}.",
       .tight = "The motor's peak power, as far as its listing can be believed, is {1}; pack and "
                "controller let it give {0}. No label tells you this: the motor is larger than "
                "needed, or a limit is lower.",
       .ignoring = {"Money in a motor that is never used.", 100, 600, 0},
       .levers = {"limits.battery_current", "controller", "pack.parallel"},
       .blocks = Blocks::buying,
       .never = "clash",
       .never_why = "a motor larger than its battery works"},
  };
}

void append(std::vector<Rule>& to, std::vector<Rule> more) {
  for (Rule& rule : more) to.push_back(std::move(rule));
}

}  // namespace

std::vector<Rule> control_rules() {
  std::vector<Rule> rules = throttle_rules();
  append(rules, control_on_paper_rules());
  return rules;
}

std::vector<Rule> label_rules() {
  std::vector<Rule> rules = paper_rules();
  append(rules, listing_rules());
  return rules;
}

}  // namespace ww::fit
