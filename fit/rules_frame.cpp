// SPDX-License-Identifier: MIT
// The motor in the frame: its disc and length in the bay, what bolts it down, what the frame bears.
// The box, the gaps and the hub motor stand in rules_frame_2.cpp. Invariants:
// 1. x runs forward and z up from the swingarm pivot; the chain is on the left, as on most bikes.
// 2. A length is never taken from a prior: whoever cuts metal measures first.
#include "fit/rules_frame.h"
#include "fit/rule_terms.h"

#include <algorithm>
#include <cmath>

#include "model/bolt.h"

namespace ww::fit {

namespace {

using build::Frame;
using build::ShopMetal;
using figure::Kind;

/// Friction between clamped, degreased metal faces.
constexpr double clamped_friction = 0.15;

/// The coarse thread nearest to a diameter (ISO 261).
model::BoltThread<double> coarse_thread(double diameter_m) {
  constexpr model::BoltThread<double> threads[] = {
      {4 * mm, 0.7 * mm},  {5 * mm, 0.8 * mm},   {6 * mm, 1 * mm},  {8 * mm, 1.25 * mm},
      {10 * mm, 1.5 * mm}, {12 * mm, 1.75 * mm}, {14 * mm, 2 * mm}, {16 * mm, 2 * mm}};
  return *std::min_element(
      std::begin(threads), std::end(threads), [&](const auto& a, const auto& b) {
        return std::fabs(a.diameter_m - diameter_m) < std::fabs(b.diameter_m - diameter_m);
      });
}

/// Proof and yield stress as shares of the tensile strength: class 8.8, or 10.9 and above.
double proof_share(double tensile_Pa) {
  return tensile_Pa < 1000e6 ? 0.725 : 0.81;
}
double yield_share(double tensile_Pa) {
  return tensile_Pa < 1000e6 ? 0.8 : 0.9;
}

std::vector<Fact> motor_mount_facts() {
  return {
      {.id = "motor_reach_far",
       .label = "the motor with bent cables reaches to the right of the centre plane",
       .kind = Kind::length,
       .needs = {"motor.length_with_terminals", "motor.terminal_bend", "donor.chainline",
                 "fact.sprocket_from_face"},
       .compute = [](const In& in) { return in[0] + in[1] - (in[2] - in[3]); },
       .formula = "length with terminals + cable bend - (chainline - teeth from the motor's face); "
                  "chain on the left"},
      {.id = "mount_slip",
       .label = "pull at which the motor's mount slips",
       .kind = Kind::force,
       .needs = {"layout.mount_bolts", "layout.mount_preload"},
       .compute =
           [](const In& in) {
             return model::slip_load_N<double>(
                 {.bolts = in[0], .preload_N = in[1], .friction = clamped_friction, .faces = 1});
           },
       .formula = "bolts x preload x 0.15, one face"},
      {.id = "mount_proof_load",
       .label = "proof load of one mount bolt",
       .kind = Kind::force,
       .needs = {"motor.bolt", "layout.mount_bolts_grade"},
       .compute =
           [](const In& in) {
             return model::proof_load_N(coarse_thread(in[0]), proof_share(in[1]) * in[1]);
           },
       .formula =
           "stress area of the coarse thread x 0.725 (from 10.9 on 0.81) x tensile strength"},
      {.id = "mount_assembly_preload",
       .label = "preload that tightening may leave in one mount bolt",
       .kind = Kind::force,
       .needs = {"motor.bolt", "layout.mount_bolts_grade"},
       .compute =
           [](const In& in) {
             return model::assembly_preload_N(coarse_thread(in[0]), yield_share(in[1]) * in[1],
                                              0.12);
           },
       .formula = "tension and torsion together at nine tenths of the yield strength, thread "
                  "friction 0.12"},
  };
}

// ---- motor in the bay -------------------------------------------------------------------------

std::vector<Rule> motor_in_bay_rules() {
  return {
      {.id = "motor-disc-in-bay",
       .codes = "K23",
       .title = "the motor's can, seen from the side, in the bay",
       .between = {"motor", "donor"},
       .needs = {"motor.diameter", "donor.bay_length", "donor.bay_height"},
       .options = {"motor.type"},
       .applies = [](const In& in) { return in_frame(in, 3); },
       .judge =
           [](const In& in) {
             const double room = std::min(in[1], in[2]);
             return at_most(in[0], room).kept_to(room - 20 * mm);
           },
       .kind = Kind::length,
       .fits = "The can measures {have}; the bay's smaller side has {limit}.",
       .tight =
           "The can measures {have}; the bay's smaller side has {limit}, which leaves less than "
           "10 mm on each side. A frame moves under load.",
       .clash = "The can measures {have}; the bay has only {limit} between its rails.",
       .ignoring = {"A motor that does not go in: sold at a loss.", 300, 1500, 8},
       .levers = {"motor"},
       .blocks = Blocks::buying},
      {.id = "motor-gap",
       .codes = "K23",
       .title = "smallest gap round the motor's can in the mock-up",
       .between = {"motor"},
       .needs = {"layout.motor_gap"},
       .options = {"motor.type"},
       .applies = [](const In& in) { return in_frame(in, 1); },
       .judge = [](const In& in) { return at_least(in[0], 3 * mm).kept_to(10 * mm); },
       .kind = Kind::length,
       .fits = "{have} remain round the can.",
       .tight = "{have} remain round the can; {practice} are usual, for air, cables and a hand.",
       .clash = "{have} remain round the can: the frame and the mount move by that under load.",
       .ignoring = {"The can rubs on the frame.", 50, 600, 4},
       .levers = {"motor"},
       .blocks = Blocks::buying},
      {.id = "motor-length-across",
       .codes = "K24",
       .title = "the motor, seen from above, from the chainline to the right cover or heel",
       .between = {"motor", "donor"},
       .needs = {"fact.motor_reach_far", "donor.side_right"},
       .options = {"motor.type"},
       .applies = [](const In& in) { return in_frame(in, 2); },
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(in[1] - 10 * mm); },
       .kind = Kind::length,
       .fits =
           "With its sprocket on the chainline the motor and its cables end {have} right of the "
           "centre plane; there is room for {limit}.",
       .tight =
           "With its sprocket on the chainline the motor and its cables end {have} right of the "
           "centre plane; heel or cover begins at {limit}.",
       .clash =
           "With its sprocket on the chainline the motor and its cables end {have} right of the "
           "centre plane; heel or cover begins at {limit}. Lugs bent by 90 degrees save most of "
           "the cable's bend; sliding the motor takes the sprocket off the chainline.",
       .ignoring = {"A motor that sticks out into the leg, or a sprocket out of line.", 60, 1500,
                    6},
       .levers = {"motor.terminal_bend", "motor"},
       .blocks = Blocks::buying},
      {.id = "parts-width-left",
       .codes = "K24",
       .title = "how far parts reach to the left",
       .between = {"donor"},
       .needs = {"layout.side_left_used", "donor.side_left"},
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(in[1] - 10 * mm); },
       .kind = Kind::length,
       .fits = "The parts reach {have} to the left; there is room for {limit}.",
       .tight = "The parts reach {have} to the left of {limit}: less than 10 mm to heel or cover.",
       .clash = "The parts reach {have} to the left; heel or cover begins at {limit}.",
       .can_hurt = true,
       .ignoring = {"A cover that does not close, a heel on a live box.", 30, 400, 3},
       .levers = {"layout.side_left_used"},
       .blocks = Blocks::buying},
      {.id = "parts-width-right",
       .codes = "K24",
       .title = "how far parts reach to the right",
       .between = {"donor"},
       .needs = {"layout.side_right_used", "donor.side_right"},
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(in[1] - 10 * mm); },
       .kind = Kind::length,
       .fits = "The parts reach {have} to the right; there is room for {limit}.",
       .tight = "The parts reach {have} to the right of {limit}: less than 10 mm to heel or cover.",
       .clash = "The parts reach {have} to the right; heel or cover begins at {limit}.",
       .can_hurt = true,
       .ignoring = {"A cover that does not close, a heel on a live box.", 30, 400, 3},
       .levers = {"layout.side_right_used"},
       .blocks = Blocks::buying},
  };
}

// ---- bolts, plate -----------------------------------------------------------------------------

std::vector<Rule> motor_bolt_rules() {
  return {
      {.id = "mount-thread-depth",
       .codes = "K27",
       .title = "thread in the motor's face against the bolt's size",
       .between = {"motor"},
       .needs = {"motor.thread_depth", "motor.bolt"},
       .options = {"motor.type"},
       .applies = [](const In& in) { return in_frame(in, 2); },
       .judge = [](const In& in) { return at_least(in[0], 1.2 * in[1]).kept_to(1.5 * in[1]); },
       .kind = Kind::length,
       .fits = "The face has {have} of thread for a bolt of {1}.",
       .tight = "The face has {have} of thread for a bolt of {1}; aluminium wants one and a half "
                "diameters, {practice}. Choose the bolt's length so that every turn is used.",
       .clash =
           "The face has only {have} of thread for a bolt of {1}; below {limit} it pulls out of "
           "aluminium.",
       .can_hurt = true,
       .ignoring = {"A thread torn out of the motor's face.", 80, 600, 3},
       .levers = {"motor"},
       .blocks = Blocks::buying},
      {.id = "mount-bolt-count",
       .codes = "K27",
       .title = "bolts that hold the motor against the holes in its face",
       .between = {"motor"},
       .needs = {"layout.mount_bolts", "motor.bolts"},
       .options = {"motor.type"},
       .applies = [](const In& in) { return in_frame(in, 2); },
       .judge =
           [](const In& in) {
             if (in[0] > in[1]) return judged(Verdict::clash);
             return should(in[0] == in[1]);
           },
       .fits = "All {1} holes are used.",
       .tight = "{0} of {1} holes are used: the maker meant all of them to carry.",
       .clash =
           "The plan has {0} bolts, the motor's face {1} holes: the plate is drawn for another "
           "motor.",
       .ignoring = {"A plate cut twice.", 80, 300, 3},
       .levers = {"layout.mount_bolts"},
       .blocks = Blocks::buying},
      {.id = "mount-pattern-plausible",
       .codes = "K27",
       .title = "pilot and bolt circle of the motor's face against each other",
       .between = {"motor"},
       .needs = {"motor.bolt_circle", "motor.bolt", "motor.pilot_diameter"},
       .options = {"motor.type"},
       .applies = [](const In& in) { return in_frame(in, 3); },
       .judge =
           [](const In& in) {
             const double inner = in[0] - in[1];
             return at_least(inner, in[2]).kept_to(in[2] + 3 * mm);
           },
       .kind = Kind::length,
       .fits = "Between the holes there are {have}; the pilot has {2}.",
       .tight = "Between the holes there are {have} for a pilot of {2}: hardly any metal between. "
                "Measure both again.",
       .clash =
           "Holes of {1} on a circle of {0} would cut into the pilot of {2}: one of the three is "
           "read wrong. Measure the part in the hand.",
       .ignoring = {"A plate cut to a wrong bolt circle.", 80, 300, 3},
       .levers = {"motor"},
       .blocks = Blocks::buying},
      {.id = "mount-slip",
       .codes = "K28",
       .title = "what the mount holds by friction against the chain's pull",
       .between = {"motor"},
       .needs = {"fact.mount_slip", "fact.chain_pull"},
       .options = {"motor.type"},
       .applies = [](const In& in) { return in_frame(in, 2); },
       .judge = [](const In& in) { return at_least(in[0], in[1]).kept_to(2 * in[1]); },
       .kind = Kind::force,
       .fits = "The bolts hold {have} by friction; the chain pulls with {1}, one way and, braking, "
               "the other.",
       .tight = "The bolts hold {have} by friction; the chain pulls with {1}, and twice that is "
                "usual, since preload is lost to paint, dirt and shaking.",
       .clash = "The bolts hold only {have} by friction and the chain pulls with {1}: the motor "
                "creeps towards the wheel.",
       .can_hurt = true,
       .ignoring = {"A slack chain that jumps or comes off.", 30, 500, 2},
       .levers = {"layout.mount_preload", "layout.mount_bolts", "limits.phase_current"},
       .blocks = Blocks::riding,
       .source = "machine-design texts (Coulomb friction); the 0.15 and the factor of two: common "
                 "practice, no source"},
      {.id = "mount-bolt-preload",
       .codes = "K28",
       .title = "preload of a mount bolt against what the bolt bears",
       .between = {"motor"},
       .needs = {"layout.mount_preload", "fact.mount_proof_load", "fact.mount_assembly_preload"},
       .options = {"motor.type"},
       .applies = [](const In& in) { return in_frame(in, 3); },
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(std::min(in[1], in[2])); },
       .kind = Kind::force,
       .fits = "Each bolt is tightened to {have}; it may have {practice}.",
       .tight = "Each bolt is tightened to {have}; with the twist of the wrench it may have "
                "{practice}.",
       .clash = "Each bolt is tightened to {have}; its proof load is {limit}.",
       .can_hurt = true,
       .ignoring = {"A stretched bolt that loses its preload.", 10, 400, 1},
       .levers = {"layout.mount_preload", "layout.mount_bolts_grade"},
       .blocks = Blocks::riding,
       .source = "ISO 898-1 (stress area); VDI 2230 (assembly preload); shares of the tensile "
                 "strength from memory"},
      {.id = "mount-bolt-grade",
       .codes = "K74",
       .title = "strength of the bolts that hold the motor",
       .between = {"motor"},
       .needs = {"layout.mount_bolts_grade"},
       .options = {"motor.type"},
       .applies = [](const In& in) { return in_frame(in, 1); },
       .judge = [](const In& in) { return at_least(in[0], 690e6).kept_to(790e6); },
       .kind = Kind::pressure,
       .fits = "The bolts have {have}: 8.8 or better.",
       .tight = "The bolts have {have}, as stainless ones do: less than 8.8, and they gall.",
       .clash = "The bolts have only {have}; motors are held by 8.8 or better (800 MPa).",
       .can_hurt = true,
       .ignoring = {"A sheared bolt under full pull.", 5, 500, 1},
       .levers = {"layout.mount_bolts_grade"},
       .blocks = Blocks::riding},
      {.id = "mount-both-ways",
       .codes = "K32",
       .title = "the mount holds torque both ways",
       .between = {"motor"},
       .needs = {"layout.reaction_both_ways"},
       .options = {"fact.regen_on", "motor.type"},
       .applies = [](const In& in) { return in_frame(in, 2); },
       .judge =
           [](const In& in) {
             if (in.yes(0)) return judged(Verdict::fits);
             return judged(in[1] > 0 ? Verdict::clash : Verdict::tight);
           },
       .fits = "The mount holds torque in both directions.",
       .tight = "The mount holds torque in one direction only; rolling back and chain snatch pull "
                "the other way.",
       .clash = "The motor brakes too, and the mount holds torque in one direction only: it works "
                "loose.",
       .can_hurt = true,
       .ignoring = {"A loose mount, a chain that comes off.", 30, 400, 2},
       .levers = {"layout.reaction_both_ways=yes", "limits.regen=no"},
       .blocks = Blocks::riding},
      {.id = "mount-creep-stop",
       .codes = "K28",
       .title = "a screw that keeps the motor from creeping in its slots",
       .between = {"motor"},
       .needs = {"layout.jack_screw"},
       .options = {"motor.type"},
       .applies = [](const In& in) { return in_frame(in, 1); },
       .judge = [](const In& in) { return should(in.yes(0)); },
       .fits = "A screw stops the motor from creeping.",
       .tight = "Nothing but friction keeps the motor where it is. A screw against it costs little "
                "and sets the chain's slack as well.",
       .ignoring = {"Slack that comes back every hundred kilometres.", 10, 60, 1},
       .levers = {"layout.jack_screw=yes"},
       .never = "clash",
       .never_why = "friction alone can hold, which another rule works out"},
  };
}

std::vector<Rule> plate_rules() {
  return {
      {.id = "plate-thickness",
       .codes = "K29",
       .title = "thickness of the motor plate",
       .between = {"motor"},
       .needs = {"layout.plate_thickness", "layout.plate_material"},
       .options = {"motor.type"},
       .applies = [](const In& in) { return in_frame(in, 2); },
       .judge =
           [](const In& in) {
             const bool steel = in.is(1, ShopMetal::steel);
             return at_least(in[0], (steel ? 3.9 : 5.9) * mm).kept_to((steel ? 5.9 : 7.9) * mm);
           },
       .kind = Kind::length,
       .fits = "The plate is {1}, {have} thick.",
       .tight =
           "The plate is {1}, {have} thick: thinner than the usual 8 mm in aluminium or 6 mm in "
           "steel. It needs the motor's far end supported.",
       .clash = "The plate is {1}, only {have} thick: it bends and pulls the chain out of line.",
       .can_hurt = true,
       .ignoring = {"A thrown chain, a cracked plate.", 80, 400, 3},
       .levers = {"layout.plate_thickness", "layout.plate_material=steel"},
       .blocks = Blocks::buying},
      {.id = "plate-deflection",
       .codes = "K29",
       .title = "how far the motor plate gives at the largest pull",
       .between = {"motor"},
       .needs = {"layout.plate_deflection"},
       .options = {"motor.type"},
       .applies = [](const In& in) { return in_frame(in, 1); },
       .judge = [](const In& in) { return at_most(in[0], 1 * mm).kept_to(0.3 * mm); },
       .kind = Kind::length,
       .fits = "The plate gives by {have}.",
       .tight =
           "The plate gives by {have}; {practice} are usual. Support the far end or add a rib.",
       .clash = "The plate gives by {have}: the sprocket leaves the chainline under torque.",
       .can_hurt = true,
       .ignoring = {"Fast wear, a thrown chain.", 60, 300, 2},
       .levers = {"layout.plate_thickness", "layout.far_end_support=yes"},
       .blocks = Blocks::riding},
      {.id = "motor-far-end",
       .codes = "K29",
       .title = "support of the motor's far end",
       .between = {"motor"},
       .needs = {"layout.far_end_support", "motor.mass"},
       .options = {"motor.type"},
       .applies = [](const In& in) { return in_frame(in, 2); },
       .judge =
           [](const In& in) {
             return in.yes(0) ? judged(Verdict::fits) : at_most(in[1], 25).kept_to(8);
           },
       .kind = Kind::mass,
       .fits = "Far end supported: {0}; the motor has {1}.",
       .tight = "A motor of {1} hangs on its face alone; above {practice} the far end wants a "
                "support.",
       .clash = "A motor of {1} hangs on its face alone: the plate works in bending at every bump "
                "and cracks.",
       .can_hurt = true,
       .ignoring = {"A cracked plate or torn threads.", 60, 500, 3},
       .levers = {"layout.far_end_support=yes", "motor"},
       .blocks = Blocks::riding},
  };
}

// ---- what the frame bears ---------------------------------------------------------------------

std::vector<Rule> frame_bears_rules() {
  return {
      {.id = "original-mounts",
       .codes = "K30",
       .title = "what carries the motor: the engine's own mounts or others",
       .between = {"donor", "motor"},
       .needs = {"layout.original_mounts", "donor.frame"},
       .judge =
           [](const In& in) {
             if (in.yes(0)) return judged(Verdict::fits);
             const bool thin =
                 in.is(1, Frame::stressed_engine) || in.is(1, Frame::twin_spar_aluminium);
             return judged(thin ? Verdict::clash : Verdict::tight);
           },
       .fits = "The motor bolts to the engine's own mounts.",
       .tight =
           "The motor does not use the engine's own mounts: the frame was not made for loads "
           "elsewhere, and an inspector asks for a sketch. Clamp on lugs, never holes in tubes.",
       .clash =
           "The motor does not use the engine's own mounts, and this frame ({1}) bears load at "
           "those only.",
       .can_hurt = true,
       .ignoring = {"A cracked frame, a failed inspection.", 200, 2500, 8},
       .levers = {"layout.original_mounts=yes"},
       .blocks = Blocks::buying},
      {.id = "welding-on-frame",
       .codes = "K30",
       .title = "welding on this kind of frame",
       .between = {"donor"},
       .needs = {"layout.welding_on_frame", "donor.frame"},
       .judge =
           [](const In& in) {
             if (!in.yes(0)) return judged(Verdict::fits);
             return judged(in.is(1, Frame::twin_spar_aluminium) ? Verdict::clash : Verdict::tight);
           },
       .fits = "Nothing is welded to the frame.",
       .tight =
           "Something is welded to the frame ({1}). Ask the authority first, and leave it to a "
           "licensed welder; in some places the frame then counts as a new one.",
       .clash = "Something is welded to an aluminium frame: the heat softens it and castings crack "
                "beside the seam. Bolt instead.",
       .can_hurt = true,
       .ignoring = {"A cracked frame; the bike's identity lost.", 200, 2500, 10},
       .levers = {"layout.welding_on_frame=no"},
       .blocks = Blocks::riding},
      {.id = "bracing-for-engine",
       .codes = "K31",
       .title = "what takes the engine's place as part of the frame",
       .between = {"donor"},
       .needs = {"donor.frame", "layout.bracing"},
       .applies =
           [](const In& in) {
             return !in.has(0) || in.is(0, Frame::stressed_engine) ||
                    in.is(0, Frame::twin_spar_aluminium);
           },
       .judge =
           [](const In& in) {
             if (in.yes(1)) return judged(Verdict::fits);
             return judged(in.is(0, Frame::stressed_engine) ? Verdict::clash : Verdict::tight);
           },
       .fits = "Bracing takes the engine's place between its mounts. Let an engineer look at it.",
       .tight = "On an aluminium frame the engine often carries too; without bracing the bike may "
                "weave. Ask an engineer.",
       .clash =
           "The engine was part of this frame and nothing takes its place: the frame bends and "
           "cracks.",
       .can_hurt = true,
       .ignoring = {"Weave at speed, a frame that breaks.", 150, 1500, 6},
       .levers = {"layout.bracing=yes"},
       .blocks = Blocks::riding},
      {.id = "mount-holes-known",
       .codes = "K30",
       .title = "how exactly the frame's mount holes are known",
       .between = {"donor"},
       .needs = {"donor.mount_holes_measured"},
       .judge = [](const In& in) { return at_most(in[0], 1 * mm).kept_to(0.3 * mm); },
       .kind = Kind::length,
       .fits = "The holes are known to {have}.",
       .tight = "The holes are known to {have}: cut a plate in wood or card first, or leave slots.",
       .clash = "The holes are known to {have} only: a plate cut to that does not go on.",
       .ignoring = {"A plate cut twice.", 80, 300, 3},
       .levers = {"donor.mount_holes_measured"},
       .blocks = Blocks::buying},
      {.id = "chain-wear-range",
       .codes = "K33",
       .title = "what the adjuster has left for a chain that wears",
       .between = {"chain"},
       .needs = {"gearing.adjuster_range", "fact.chain_links", "chain.pitch"},
       .judge =
           [](const In& in) {
             const double moved = 0.5 * 0.02 * in[1] * in[2];
             return at_least(in[0], 0.5 * moved).kept_to(moved);
           },
       .kind = Kind::length,
       .fits = "The adjuster has {have}; a chain worn by 2 % takes {practice}.",
       .tight = "The adjuster has {have}; a chain worn by 2 % takes {practice}. It is thrown away "
                "earlier, or the motor has slots too.",
       .clash = "The adjuster has only {have}: it is used up before the chain has worn by 1 %.",
       .ignoring = {"A slack chain nothing can tension.", 40, 140, 1},
       .levers = {"gearing.adjuster_range"},
       .blocks = Blocks::nothing,
       .source = "two halves of the chain share the growth; 2 %: common practice, no source"},
  };
}

void append(std::vector<Rule>& to, std::vector<Rule> more) {
  for (Rule& rule : more) to.push_back(std::move(rule));
}

}  // namespace

std::vector<Fact> frame_facts() {
  std::vector<Fact> facts = motor_mount_facts();
  for (Fact& fact : box_facts()) facts.push_back(std::move(fact));
  return facts;
}

std::vector<Rule> frame_rules() {
  std::vector<Rule> rules = motor_in_bay_rules();
  append(rules, motor_bolt_rules());
  append(rules, plate_rules());
  append(rules, frame_bears_rules());
  append(rules, box_rules());
  append(rules, gap_rules());
  append(rules, place_rules());
  return rules;
}

}  // namespace ww::fit
