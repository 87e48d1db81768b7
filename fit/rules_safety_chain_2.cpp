// SPDX-License-Identifier: MIT
// Safety chain, fuse, cables and lugs: what protects, what carries, what joins.
#include <algorithm>
#include <cmath>
#include <limits>

#include "fit/rules_safety_chain.h"
#include "wiring/stud.h"

namespace ww::fit::safety_chain {

using figure::Kind;

namespace {

std::vector<Rule> fuse_rating_rules() {
  return {
      {.id = "fuse-dc-voltage",
       .codes = "E50",
       .title = "the fuse's DC rating against the full pack",
       .between = {"fuse", "pack", "cell"},
       .needs = {"fuse.voltage_dc", "fact.pack_voltage_full"},
       .judge = [](const In& in) { return at_least(in[0], in[1]).kept_to(1.05 * in[1]); },
       .kind = Kind::voltage,
       .fits = "The fuse is made for {have} DC; the full pack has {limit}: {spare} to spare.",
       .tight = "The fuse is made for {have} DC; the full pack has {limit}. Braking lifts it by up "
                "to a twentieth, so {practice} is wanted.",
       .clash = "The fuse is made for {have} DC only; the full pack has {limit}. It melts, but the "
                "arc inside goes on burning. (An AC figure on its label does not count.)",
       .can_hurt = true,
       .ignoring = {"The one time it must act, the fuse burns on and bursts.", 30, 8000, 2},
       .levers = {"fuse"},
       .blocks = Blocks::buying,
       .source = "UL 248-2 clause 5.2"},
      {.id = "fuse-interrupt",
       .codes = "E51",
       .title = "what the fuse can interrupt against the pack's strongest short",
       .between = {"fuse", "pack", "cell"},
       .needs = {"fuse.interrupt", "fact.short_circuit_highest"},
       .judge = [](const In& in) { return at_least(in[0], in[1]).kept_to(1.5 * in[1]); },
       .kind = Kind::current,
       .fits = "A short at the pack's terminals gives at most {limit}; the fuse interrupts {have}.",
       .tight = "A short at the pack's terminals gives about {limit}; the fuse interrupts {have}. "
                "Warm cells give more in the first instant: {practice} is usual.",
       .clash = "A short at the pack's terminals gives about {limit}; the fuse interrupts only "
                "{have}: it would burst instead of clearing.",
       .can_hurt = true,
       .ignoring = {"The fuse explodes beside the pack and the short goes on.", 20, 8000, 2},
       .levers = {"fuse"},
       .blocks = Blocks::buying,
       .source = "UL 248-2 clause 5.5 for the ratings; the factor 1.5 is common practice, no "
                 "source"},
      {.id = "fuse-lasting-current",
       .codes = "E52",
       .title = "the current that lasts against the fuse's rating in its warm box",
       .between = {"fuse", "pack"},
       .needs = {"fact.battery_current_lasting", "fact.fuse_rating_warm", "fuse.current"},
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(in[1] / 1.25); },
       .kind = Kind::current,
       .fits = "The lasting current is {have}; of the fuse's {2} some {limit} are left on the "
               "hottest day, and four fifths of that are {practice}.",
       .tight = "The lasting current is {have}; of the fuse's {2} some {limit} are left on the "
                "hottest day. "
                "Above {practice} its element ages and it blows one day for no reason.",
       .clash = "The lasting current is {have}, but of the fuse's {2} only {limit} are left on the "
                "hottest "
                "day: it will blow on an ordinary ride.",
       .can_hurt = true,
       .ignoring = {"A roadside stop with a blown main fuse.", 20, 120, 1},
       .levers = {"fuse"},
       .blocks = Blocks::nothing,
       .source = "NEC 215.3: rating at least 125 % of the continuous current"},
      {.id = "fuse-pull",
       .codes = "E53",
       .title = "the largest battery current against the fuse's melting curve",
       .between = {"fuse", "controller"},
       .needs = {"fact.battery_current_peak", "fact.fuse_pull_current"},
       .judge = [](const In& in) { return at_most(in[0], 0.9 * in[1]).kept_to(0.5 * in[1]); },
       .kind = Kind::current,
       .fits = "A long pull takes {have}; {1} held as long would melt the fuse: less than half.",
       .tight = "A long pull takes {have}; {1} held as long would melt the fuse. Above half of it, "
                "{practice}, every pull ages the element a little.",
       .clash = "A long pull takes {have}; {1} held as long melts the fuse, and curves are only "
                "true to a tenth: it blows while you overtake.",
       .can_hurt = true,
       .ignoring = {"The drive stops in the middle of an overtaking.", 20, 120, 1},
       .levers = {"fuse", "limits.battery_current"},
       .blocks = Blocks::nothing},
      {.id = "fuse-distance",
       .codes = "E55",
       .title = "how far the main fuse sits from the pack's terminal",
       .between = {"fuse", "pack"},
       .needs = {"wiring.fuse_distance"},
       .judge = [](const In& in) { return at_most(in[0], 0.3).kept_to(0.2); },
       .kind = Kind::length,
       .fits = "The fuse sits {have} from the terminal: little cable is without protection.",
       .tight = "The fuse sits {have} from the terminal; {practice} is better, {limit} the most. "
                "What lies before it is protected by nothing.",
       .clash = "The fuse sits {have} from the terminal; {limit} is the most. The cable before it "
                "is live and unprotected if a crash pinches it.",
       .can_hurt = true,
       .ignoring = {"A pinched cable burns beside the pack and nothing stops it.", 10, 5000, 1},
       .levers = {"wiring.fuse_distance"},
       .blocks = Blocks::energising},
      {.id = "second-fuse",
       .codes = "E55",
       .title = "a fuse between the boxes of a pack",
       .between = {"fuse", "pack"},
       .needs = {"wiring.second_fuse"},
       .options = {"pack.boxes"},
       .applies = [](const In& in) { return in[1] > 1; },
       .judge = must_yes,
       .fits = "The cable between the boxes has its own fuse.",
       .clash = "The pack sits in {1} boxes and no fuse sits between them: a short of the cable "
                "that joins them meets only part of the pack and the main fuse never sees it.",
       .can_hurt = true,
       .ignoring = {"A pinched cable burns between the boxes and nothing stops it.", 20, 5000, 1},
       .levers = {"wiring.second_fuse=yes"},
       .blocks = Blocks::energising,
       .never = "tight",
       .never_why = "it has one or it has none"},
      {.id = "branch-fuses",
       .codes = "E57",
       .title = "a fuse in every other tap of the pack",
       .between = {"pack"},
       .needs = {"wiring.branch_fuses"},
       .judge = must_yes,
       .fits = "Every other tap of the pack has its own fuse.",
       .clash = "A tap of the pack has no fuse of its own: charger, heater, voltmeter or monitor "
                "supply. A thin wire then carries thousands of amps and the main fuse never "
                "notices.",
       .can_hurt = true,
       .ignoring = {"A thin wire burns through the loom.", 10, 4000, 2},
       .levers = {"wiring.branch_fuses=yes"},
       .blocks = Blocks::energising,
       .never = "tight",
       .never_why = yes_or_no},
      {.id = "sense-lead-fuses",
       .codes = "E57",
       .title = "a fuse or resistor in every sense lead, at the cell",
       .between = {"pack", "bms"},
       .needs = {"wiring.sense_fuses"},
       .judge = must_yes,
       .fits = "Every sense lead is fused or has a resistor at the cell.",
       .clash = "Sense leads run without fuse or resistor: one pinched against its neighbour burns "
                "the whole loom inside the pack.",
       .can_hurt = true,
       .ignoring = {"A pinched sense lead starts a fire inside the pack.", 20, 6000, 3},
       .levers = {"wiring.sense_fuses=yes"},
       .blocks = Blocks::energising,
       .never = "tight",
       .never_why = yes_or_no},
  };
}

std::vector<Rule> fuse_protects_rules() {
  return {
      {.id = "fuse-cable-overload",
       .codes = "E54",
       .title = "the fuse's rating against what the cable carries for long",
       .between = {"fuse", "cable_main"},
       .needs = {"fuse.current", "fact.main_cable_current_alone"},
       .options = {"cable_main.bundled"},
       .judge = [](const In& in) { return at_most(in[0], 1.25 * in[1]).kept_to(in[1] * in[2]); },
       .kind = Kind::current,
       .fits = "The fuse is rated {have}; the cable as laid carries {practice} for ever.",
       .tight =
           "The fuse is rated {have}; the cable as laid carries {practice} for ever. Against an "
           "overload in between only the controller's limit protects it.",
       .clash =
           "The fuse is rated {have}, but the cable, even alone in free air, carries only {1}; "
           "a quarter more, {limit}, is the most a fuse may be.",
       .can_hurt = true,
       .ignoring = {"The cable is the fuse: its insulation melts first.", 30, 4000, 2},
       .levers = {"cable_main", "fuse"},
       .blocks = Blocks::energising,
       .source = "heat balance of the cable (Churchill and Chu 1975); NEC 240.4 for the principle, "
                 "from memory"},
      {.id = "fuse-cable-short",
       .codes = "E54",
       .title = "what the fuse lets through against what the cable survives",
       .between = {"fuse", "cable_main"},
       .needs = {"fuse.clearing_i2t", "fact.main_cable_withstand"},
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(0.8 * in[1]); },
       .kind = Kind::current_squared_time,
       .fits = "Clearing a short the fuse lets {have} through; the cable survives {limit}.",
       .tight = "Clearing a short the fuse lets {have} through; the cable survives {limit}. Fuse "
                "curves are true to a tenth in current, so stay below {practice}.",
       .clash =
           "Clearing a short the fuse lets {have} through; the cable survives only {limit}: it "
           "burns before the fuse has cleared.",
       .can_hurt = true,
       .ignoring = {"The cable burns along its whole length in a second.", 30, 5000, 2},
       .levers = {"cable_main", "fuse"},
       .blocks = Blocks::energising,
       .source = "IEC 60364-4-43: I2t <= (k S)^2"},
      {.id = "weakest-short-clears",
       .codes = "E56",
       .title = "whether a cold, empty pack still blows the fuse before the cable burns",
       .between = {"fuse", "cable_main", "pack", "cell"},
       .needs = {"fact.fuse_time_weakest", "fact.cable_time_weakest", "fact.short_circuit_weakest"},
       .judge =
           [](const In& in) {
             const double limit_s = std::min(in[1], 5.0);
             return at_most(in[0], limit_s).kept_to(std::min(limit_s, 1.0));
           },
       .kind = Kind::time,
       .fits = "Empty, on the coldest day, a short far from the pack gives {2}: the fuse clears it "
               "in {have}, the cable survives {1}.",
       .tight =
           "Empty, on the coldest day, a short far from the pack gives only {2}: the fuse needs "
           "{have} to clear it. Within {practice} is wanted.",
       .clash =
           "Empty, on the coldest day, a short far from the pack gives only {2}: the fuse needs "
           "{have}, the cable survives {1}, and 5 s is the most. The fault smoulders.",
       .can_hurt = true,
       .ignoring = {"A smouldering fault that the fuse does not see.", 20, 5000, 2},
       .levers = {"fuse", "cable_main"},
       .blocks = Blocks::energising,
       .source = "IEC 60364-4-43 (adiabatic, up to 5 s); cell resistance by the Arrhenius law; "
                 "clearing within 1 s is common practice, no source"},
      {.id = "contactor-survives-fuse",
       .codes = "E59",
       .title = "what the fuse lets through against what the closed contactor withstands",
       .between = {"fuse", "contactor"},
       .needs = {"fuse.clearing_i2t", "contactor.withstand"},
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(0.8 * in[1]); },
       .kind = Kind::current_squared_time,
       .fits = "Clearing a short the fuse lets {have} through; the contactor withstands {limit}.",
       .tight = "Clearing a short the fuse lets {have} through; the contactor withstands {limit}. "
                "Fuse curves are true to a tenth in current, so stay below {practice}.",
       .clash = "Clearing a short the fuse lets {have} through; the contactor withstands only "
                "{limit}: its contacts weld before the fuse has cleared.",
       .ignoring = {"After the short the contactor is welded and must be replaced.", 60, 250, 2},
       .levers = {"fuse", "contactor"},
       .blocks = Blocks::nothing},
  };
}

/// The two cables have the same rules under their own names.
struct CableSide {
  std::string_view slot, heat, insulation, orange, strand, bend;  // ids
  std::string_view heat_codes, current, temperature, temperature_max, is_orange, is_fine,
      bend_radius,
      outer_diameter;  // needs
  std::string_view what, limit_lever;
};

Rule cable_heat_rule(const CableSide& c) {
  return {.id = c.heat,
          .codes = c.heat_codes,
          .title = c.what,
          .between = {c.slot},
          .needs = {c.temperature, c.temperature_max, c.current},
          .options = {"surroundings.hottest"},
          .judge =
              [](const In& in) {
                const double air_K = in[3] + under_cover_K;
                // 0.85 of the current makes about 0.72 of the rise.
                return at_most(in[0], in[1]).kept_to(air_K + 0.72 * (in[1] - air_K));
              },
          .kind = Kind::temperature,
          .fits =
              "At {2} for long on the hottest day the copper reaches {have}; the insulation "
              "stands {limit}.",
          .tight =
              "At {2} for long on the hottest day the copper reaches {have}; the insulation "
              "stands {limit}. The sum reads up to 15 % more current than published tables, "
              "so stay below {practice}.",
          .clash =
              "At {2} for long on the hottest day the copper reaches {have}; the insulation "
              "stands only {limit}: it softens and the strands come through.",
          .can_hurt = true,
          .ignoring = {"Softened insulation, a short to the frame, a hot smell on a long ride.", 60,
                       800, 2},
          .levers = {c.slot, c.limit_lever},
          .blocks = Blocks::energising,
          .source =
              "heat balance: Churchill and Chu 1975, Stefan-Boltzmann law; margin against NEC "
              "310.17 free-air tables"};
}

Rule cable_insulation_rule(const CableSide& c) {
  return {.id = c.insulation,
          .codes = "E62",
          .title = "the temperature class of the cable's insulation",
          .between = {c.slot},
          .needs = {c.temperature_max},
          .judge = [](const In& in) { return at_least(in[0], 273.15 + 70).kept_to(273.15 + 90); },
          .kind = Kind::temperature,
          .fits = "The insulation stands {have}; {practice} is wanted beside motor and controller.",
          .tight =
              "The insulation stands {have}; {practice} is wanted beside motor and controller. "
              "Keep it away from both.",
          .clash =
              "The insulation stands only {have}; on a vehicle even the weakest stands "
              "{limit}.",
          .can_hurt = true,
          .ignoring = {"It hardens and cracks within a summer.", 40, 150, 1},
          .levers = {c.slot},
          .blocks = Blocks::nothing};
}

Rule cable_orange_rule(const CableSide& c) {
  return {.id = c.orange,
          .codes = "E62",
          .title = "orange jacket above 60 V",
          .between = {c.slot},
          .needs = {c.is_orange},
          .options = {"fact.pack_voltage_full"},
          .applies = [](const In& in) { return !(in[1] <= dangerous_V); },
          .judge = must_yes,
          .fits = "The cable is orange, as voltages over 60 V ask for.",
          .clash =
              "The cable is not orange: whoever opens or cuts the bike cannot see what can "
              "kill. An orange sleeve over its whole length does as well.",
          .can_hurt = true,
          .ignoring = {"Refused at the inspection; a rescuer cuts into it.", 15, 120, 2},
          .levers = {c.slot},
          .blocks = Blocks::riding,
          .source = "UN R100 clause 5.1.1.5.3",
          .never = "tight",
          .never_why = yes_or_no};
}

Rule cable_strand_rule(const CableSide& c) {
  return {.id = c.strand,
          .codes = "E62",
          .title = "fine strands in a cable that shakes",
          .between = {c.slot},
          .needs = {c.is_fine},
          .judge = should_yes,
          .fits = "The cable has fine strands.",
          .tight =
              "The cable has coarse strands: they break one by one at the lug where it shakes, "
              "and it cannot be bent as tightly.",
          .can_hurt = true,
          .ignoring = {"Broken strands at the lug, heat, a failure on the road.", 40, 150, 1},
          .levers = {c.slot},
          .blocks = Blocks::nothing,
          .never = "clash",
          .never_why = "it carries the current all the same, for a while"};
}

Rule cable_bend_rule(const CableSide& c) {
  return {.id = c.bend,
          .codes = "E69",
          .title = "the cable's tightest bend against its thickness",
          .between = {c.slot},
          .needs = {c.bend_radius, c.outer_diameter},
          .judge = [](const In& in) { return at_least(in[0], 4 * in[1]); },
          .kind = Kind::length,
          .fits =
              "The tightest bend is {have}; four times the thickness is {limit}. Where it moves "
              "with suspension or steering it needs ten times.",
          .tight =
              "The tightest bend is {have}; four times the thickness is {limit}: within what "
              "can be measured. Where it moves it needs ten times.",
          .clash =
              "The tightest bend is {have}; four times the thickness is {limit}: the inner "
              "strands buckle and the insulation thins on the outside.",
          .ignoring = {"Broken strands inside a jacket that looks sound.", 20, 120, 1},
          .levers = {c.bend_radius},
          .blocks = Blocks::nothing};
}

std::vector<Rule> cable_rules() {
  constexpr CableSide battery{.slot = "cable_main",
                              .heat = "main-cable-heat",
                              .insulation = "main-cable-insulation",
                              .orange = "main-cable-orange",
                              .strand = "main-cable-strand",
                              .bend = "main-cable-bend",
                              .heat_codes = "E60",
                              .current = "fact.battery_current_lasting",
                              .temperature = "fact.main_cable_temperature",
                              .temperature_max = "cable_main.temperature_max",
                              .is_orange = "cable_main.orange",
                              .is_fine = "cable_main.fine_strand",
                              .bend_radius = "cable_main.bend_radius",
                              .outer_diameter = "cable_main.outer_diameter",
                              .what = "the battery cable's temperature at the current that lasts",
                              .limit_lever = "limits.battery_current"};
  constexpr CableSide phase{.slot = "cable_phase",
                            .heat = "phase-cable-heat",
                            .insulation = "phase-cable-insulation",
                            .orange = "phase-cable-orange",
                            .strand = "phase-cable-strand",
                            .bend = "phase-cable-bend",
                            .heat_codes = "E68",
                            .current = "ride.current_phase_rms",
                            .temperature = "fact.phase_cable_temperature",
                            .temperature_max = "cable_phase.temperature_max",
                            .is_orange = "cable_phase.orange",
                            .is_fine = "cable_phase.fine_strand",
                            .bend_radius = "cable_phase.bend_radius",
                            .outer_diameter = "cable_phase.outer_diameter",
                            .what = "the phase cable's temperature at the speed to hold",
                            .limit_lever = "limits.phase_current"};
  std::vector<Rule> rules;
  for (const CableSide& side : {battery, phase}) {
    rules.push_back(cable_heat_rule(side));
    rules.push_back(cable_insulation_rule(side));
    rules.push_back(cable_orange_rule(side));
    rules.push_back(cable_strand_rule(side));
    rules.push_back(cable_bend_rule(side));
  }
  rules.push_back(
      {.id = "main-cable-drop",
       .codes = "E61",
       .title = "voltage lost in the battery cables",
       .between = {"cable_main", "pack", "cell"},
       .needs = {"fact.main_cable_drop", "fact.pack_voltage_nominal", "wiring.loop_length",
                 "fact.battery_current_peak"},
       .judge = [](const In& in) { return at_most(in[0], 0.03 * in[1]).kept_to(0.02 * in[1]); },
       .kind = Kind::voltage,
       .fits = "{3} through {2} of cable lose {have}; 2 % of the pack's voltage is {practice}.",
       .tight = "{3} through {2} of cable lose {have}: more than 2 % of the pack's voltage, "
                "{practice}. It becomes heat in the cable.",
       .clash = "{3} through {2} of cable lose {have}: more than 3 % of the pack's voltage, "
                "{limit}. Shorten the way or take a thicker cable.",
       .ignoring = {"Lost power and range, warm cables.", 20, 80, 1},
       .levers = {"cable_main", "wiring.loop_length"},
       .blocks = Blocks::nothing,
       .source = "ABYC E-11: 3 % for critical circuits; 2 % is common practice, no source"});
  return rules;
}

/// Hole over stud: 0.3 to 0.5 mm is usual, the next stud size is 1 mm or more away. A stud that
/// other lugs of the section are there for is served.
Outcome lug_on_stud(const In& in) {
  if (in.holds(2, static_cast<int>(in[1]))) return judged(Verdict::fits);
  const double play_m = in[0] - wiring::stud_m(static_cast<build::Stud>(in[1]));
  if (play_m < 0.05e-3 || play_m > 0.95e-3) return judged(Verdict::clash);
  return judged(play_m < 0.15e-3 || play_m > 0.65e-3 ? Verdict::tight : Verdict::fits);
}

bool has_stud(const In& in) {
  return !in.is(1, build::Stud::weld);
}

Rule lug_hole_rule(std::string_view id, std::string_view slot, std::string_view stud,
                   std::string_view also) {
  return {
      .id = id,
      .codes = "E63",
      .title = "the lug's hole on this stud",
      .between = {"lug", slot},
      .needs = {"lug.hole", stud},
      .options = {"lug.holes"},
      .applies = has_stud,
      .judge = lug_on_stud,
      .fits = "For the {1} stud there is a lug with the right hole.",
      .tight =
          "The lug's hole of {0} is not the usual 0.3 to 0.5 mm over the {1} stud: it "
          "sticks on the thread, or bears on too little of its face.",
      .clash =
          "The lugs on the sheet have a hole of {0}, which does not suit the {1} stud: this joint "
          "needs lugs of the same section with another hole. Buy them, then name the stud under "
          "lug.holes. Never drill one open, never use a large hole on a small stud.",
      .can_hurt = true,
      .ignoring = {"A joint that heats and works loose, or a week for the right lugs.", 10, 120, 1},
      .levers = {also, "lug"},
      .blocks = Blocks::buying};
}

std::vector<Rule> joint_rules() {
  return {
      lug_hole_rule("lug-on-contactor", "contactor", "contactor.stud", "lug.holes+=contactor.stud"),
      lug_hole_rule("lug-on-fuse", "fuse", "fuse.stud", "lug.holes+=fuse.stud"),
      lug_hole_rule("lug-on-disconnect", "disconnect", "disconnect.stud",
                    "lug.holes+=disconnect.stud"),
      {.id = "lug-barrel",
       .codes = "E63",
       .title = "the lug's barrel and the battery cable's section",
       .between = {"lug", "cable_main"},
       .needs = {"lug.section", "cable_main.section"},
       .judge =
           [](const In& in) {
             const double share = in[1] / in[0];
             if (share < 0.88 || share > 1.03) return judged(Verdict::clash);
             return judged(share < 0.97 ? Verdict::tight : Verdict::fits);
           },
       .fits = "The lug is made for {0}, the cable has {1}.",
       .tight = "The lug is made for {0}, the cable has {1}: a little loose. Inch sizes in metric "
                "barrels do that; ask the lug's maker which die closes it.",
       .clash =
           "The lug is made for {0}, the cable has {1}: the strands do not go in, or the crimp "
           "stays hollow.",
       .can_hurt = true,
       .ignoring = {"A crimp that pulls out by hand or heats until it does.", 15, 200, 1},
       .levers = {"lug"},
       .blocks = Blocks::buying},
      {.id = "crimp-die",
       .codes = "E64",
       .title = "the crimping die and the lug",
       .between = {"lug"},
       .needs = {"lug.crimp_die", "lug.section"},
       .judge = [](const In& in) { return must(std::fabs(in[0] - in[1]) < 0.03 * in[1]); },
       .fits = "Die and lug are both for {1}. Pull every crimp: 40 kg by hand for 35 mm2.",
       .clash = "The die is for {0}, the lug for {1}: too wide leaves the crimp hollow, too narrow "
                "cuts strands.",
       .can_hurt = true,
       .ignoring = {"A cold crimp: heat, then a failure under load.", 15, 200, 1},
       .levers = {"lug"},
       .blocks = Blocks::energising,
       .never = "tight",
       .never_why = "dies come in the lug's steps"},
      {.id = "plugs-under-load",
       .codes = "E65",
       .title = "plugs that may be pulled while current flows",
       .between = {"pack"},
       .needs = {"wiring.load_connectors_rated"},
       .judge = must_yes,
       .fits = "No plug is opened under load unless it is rated for it.",
       .clash = "A plug in the pack's circuit may be pulled under load without being rated for it: "
                "the arc does not go out by itself and burns the hand that holds it.",
       .can_hurt = true,
       .ignoring = {"A burnt hand and a burnt plug.", 20, 500, 1},
       .levers = {"wiring.load_connectors_rated=yes"},
       .blocks = Blocks::energising,
       .never = "tight",
       .never_why = yes_or_no},
      {.id = "live-part-distance",
       .codes = "E70",
       .title = "distance along the surface between live parts",
       .between = {"pack", "cell"},
       .needs = {"pack.creepage", "fact.pack_voltage_full"},
       .judge =
           [](const In& in) {
             const double clean_m = 5e-5 * in[1];
             return at_least(in[0], clean_m).kept_to(std::max(clean_m, 8e-3));
           },
       .kind = Kind::length,
       .fits = "Live parts are {have} apart along the surface; {limit} would do clean and dry, "
               "{practice} where dirt may reach.",
       .tight =
           "Live parts are {have} apart along the surface: enough clean and dry, but {practice} "
           "is wanted where dust and damp may reach.",
       .clash = "Live parts are only {have} apart along the surface; {limit} is the least at {1}, "
                "clean and dry.",
       .can_hurt = true,
       .ignoring = {"Damp dust starts to conduct and burns a track.", 10, 1500, 1},
       .levers = {"pack.creepage"},
       .blocks = Blocks::energising},
  };
}

}  // namespace

std::vector<Rule> fuse_and_cable_rules() {
  std::vector<Rule> rules = fuse_rating_rules();
  append(rules, fuse_protects_rules());
  append(rules, cable_rules());
  append(rules, joint_rules());
  return rules;
}

}  // namespace ww::fit::safety_chain
