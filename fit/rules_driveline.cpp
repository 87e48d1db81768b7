// SPDX-License-Identifier: MIT
// Chain and sprockets: what runs on what, how long, how tight, what is in the way. Shafts, belts
// and what else turns stand in rules_driveline_2.cpp. Invariants:
// 1. "front" is the sprocket on the motor's output, "rear" the one on the wheel.
// 2. A length that is compared to tenths of a millimetre is held to a practice margin, not to its
//    spread: whoever cuts metal measures first.
#include "fit/rules_driveline.h"
#include "fit/rule_terms.h"

#include <algorithm>
#include <cmath>

#include "build/designation.h"
#include "model/chain.h"
#include "model/key.h"
#include "model/sprocket.h"

namespace ww::fit {

namespace {

using build::FinalDrive;
using figure::Kind;

constexpr double micrometre = 1e-6;

/// Front teeth, rear teeth and pitch of a rule's first three inputs.
model::ChainTeeth<double> teeth_of(const In& in) {
  return {.pitch_m = in[2], .front = in[0], .rear = in[1]};
}

// ---- facts ------------------------------------------------------------------------------------

/// Rear teeth over front teeth; 1 where the drive has none. In: drive, front, rear.
double teeth_share(const In& in) {
  const bool no_teeth =
      in.is(0, FinalDrive::hub) || in.is(0, FinalDrive::shaft) || in.is(0, FinalDrive::belt);
  return no_teeth ? 1 : in[2] / in[1];
}
double belt_share(const In& in) {
  return in.is(0, FinalDrive::belt) ? in[2] / in[1] : 1;
}
double shaft_share(const In& in) {
  return in.is(0, FinalDrive::shaft) ? in[1] : 1;
}

/// The even number of links whose centre distance is nearest to the one measured. In: teeth, pitch,
/// centre distance.
double even_links(const In& in) {
  const auto z = teeth_of(in);
  const double length = model::chain_length_pitches(z, in[3]);
  if (std::isnan(length)) return nan;
  const int below = model::even_links_below(length), above = model::even_links_above(length);
  const double short_by = in[3] - model::chain_centre_m<double>(z, below);
  const double long_by = model::chain_centre_m<double>(z, above) - in[3];
  return short_by < long_by ? below : above;
}

/// Mid-span play that the swingarm's travel alone makes, in the best case: sprocket, pivot and axle
/// in line at mid-travel. In: teeth, pitch, motor ahead and above of the pivot, swingarm, travel.
double play_over_travel_m(const In& in) {
  const double half_angle = std::asin(0.5 * in[6] / in[5]);
  const model::ChainRun<double> run{.sprocket_x_m = std::hypot(in[3], in[4]),
                                    .sprocket_z_m = 0,
                                    .swingarm_length_m = in[5],
                                    .teeth = teeth_of(in)};
  const auto travel = model::chain_travel<double>(
      run, {.angle_extended_rad = -half_angle, .angle_compressed_rad = half_angle});
  const auto circles = model::pitch_circles(run.teeth, model::centre_at_angle_m(run, 0.0));
  return model::midspan_play_m(model::free_span_m(circles),
                               travel.path_tight_m - travel.path_slack_m);
}

double root_diameter_m(const In& in) {
  return model::root_diameter_m<double>(
      {.pitch_m = in[1], .roller_diameter_m = in[2], .teeth = in[0]});
}

/// Measures of the parallel key of a width: the nearest in DIN 6885-1 or ANSI B17.1; square where
/// none is near.
struct KeySize {
  double width_m;
  double height_m;
  double depth_shaft_m;
};
KeySize key_of_width(double width_m) {
  constexpr KeySize sizes[] = {{5 * mm, 5 * mm, 3 * mm},
                               {6 * mm, 6 * mm, 3.5 * mm},
                               {8 * mm, 7 * mm, 4 * mm},
                               {10 * mm, 8 * mm, 5 * mm},
                               {4.7625 * mm, 4.7625 * mm, 2.38125 * mm},
                               {6.35 * mm, 6.35 * mm, 3.175 * mm},
                               {7.9375 * mm, 7.9375 * mm, 3.96875 * mm}};
  KeySize best{width_m, width_m, 0.5 * width_m};
  double nearest = 0.15 * mm;
  for (const KeySize& size : sizes) {
    const double away = std::fabs(size.width_m - width_m);
    if (away < nearest) {
      best = size;
      nearest = away;
    }
  }
  return best;
}

/// Pressure on the key's side in the hub. In: torque, shaft, key width, key length, reduction, hub.
double key_pressure_Pa(const In& in) {
  const KeySize key = key_of_width(in[2]);
  const model::KeyJoint<double> joint{.torque_Nm = in[0] * in[4],
                                      .shaft_diameter_m = in[1],
                                      .width_m = in[2],
                                      .height_m = key.height_m,
                                      .length_m = std::min(in[3], in.or_else(5, in[3]))};
  return model::key_pressure_hub_Pa(joint, key.depth_shaft_m);
}

/// Teeth of the front pulley inside the belt. In: pitch, teeth, centre distance.
double belt_teeth_engaged(const In& in) {
  const model::TwoCircles<double> pulleys{.diameter_front_m = in[0] * in[1] / model::pi,
                                          .diameter_rear_m = in[0] * in[2] / model::pi,
                                          .centre_m = in[3]};
  return model::teeth_engaged(in[1], model::wrap_front_rad(pulleys));
}

// ---- chain on sprocket ------------------------------------------------------------------------

/// The words and fields of one of the two sprockets.
struct End {
  std::string_view slot, pitch, tooth_width, roller;
  std::string_view id_pitch, id_width, id_narrow, id_roller;
  std::string_view title_pitch, title_width, title_narrow, title_roller;
};
constexpr End front_end{"sprocket_front",
                        "sprocket_front.pitch",
                        "sprocket_front.tooth_width",
                        "sprocket_front.roller",
                        "chain-pitch-front",
                        "chain-width-front",
                        "chain-wander-front",
                        "chain-roller-front",
                        "pitch of the chain against that of the front sprocket",
                        "tooth width of the front sprocket against the chain's inner width",
                        "tooth of the front sprocket too narrow for the chain",
                        "roller of the chain in the tooth gap of the front sprocket"};
constexpr End rear_end{"sprocket_rear",
                       "sprocket_rear.pitch",
                       "sprocket_rear.tooth_width",
                       "sprocket_rear.roller",
                       "chain-pitch-rear",
                       "chain-width-rear",
                       "chain-wander-rear",
                       "chain-roller-rear",
                       "pitch of the chain against that of the rear sprocket",
                       "tooth width of the rear sprocket against the chain's inner width",
                       "tooth of the rear sprocket too narrow for the chain",
                       "roller of the chain in the tooth gap of the rear sprocket"};

/// Fits where the roller seats as ISO 606 makes seats; tight where it is a little small in it.
Outcome roller_seats(const In& in) {
  const auto room = model::chain_on_tooth<double>(
      {.pitch_m = nan, .roller_diameter_m = in[0], .inner_width_m = nan},
      {.pitch_m = nan, .roller_diameter_m = in[1], .tooth_width_m = nan});
  if (room.seat_room_m < -micrometre || room.roller_room_m < -micrometre)
    return judged(Verdict::clash);
  return should(std::fabs(in[1] - in[0]) <= 0.05 * mm + micrometre);
}

std::vector<Rule> chain_on_sprocket(const End& end) {
  return {
      {.id = end.id_pitch,
       .codes = "K01",
       .title = end.title_pitch,
       .between = {"chain", end.slot},
       .needs = {"chain.pitch", end.pitch},
       .judge =
           [](const In& in) {
             return at_most(std::fabs(in[0] - in[1]), 0.1 * mm).kept_to(0.05 * mm);
           },
       .kind = Kind::length,
       .fits = "The chain's pitch is {0}, the sprocket's {1}.",
       .tight = "The chain's pitch is {0}, the sprocket's {1}: {have} apart. Measure both again "
                "over many links; a worn chain is longer.",
       .clash = "The chain's pitch is {0}, the sprocket's {1}: it jams within a turn.",
       .can_hurt = true,
       .ignoring = {"A jammed drive, a sprocket bought twice.", 60, 200, 2},
       .levers = {end.slot, "chain"},
       .blocks = Blocks::buying,
       .source = "ISO 606; the limits of 0.05 and 0.1 mm: common practice, no source"},
      {.id = end.id_width,
       .codes = "K02",
       .title = end.title_width,
       .between = {"chain", end.slot},
       .needs = {"chain.inner_width", end.tooth_width},
       .judge =
           [](const In& in) { return at_most(in[1], in[0]).kept_to(0.95 * in[0] + micrometre); },
       .kind = Kind::length,
       .fits = "The tooth is {have} wide; the chain has {limit} between its plates.",
       .tight = "The tooth is {have} wide; the chain has {limit} between its plates, which wants a "
                "tooth of {practice} at most. Have it faced.",
       .clash = "The tooth is {have} wide and does not enter the chain, which has {limit} between "
                "its plates. Have it faced to {practice}.",
       .ignoring = {"Side wear and a hot chain, or it does not go on at all.", 30, 150, 2},
       .levers = {end.slot, "chain"},
       .blocks = Blocks::buying,
       .source = "ISO 606:2015 clause 5.6"},
      {.id = end.id_narrow,
       .codes = "K02",
       .title = end.title_narrow,
       .between = {"chain", end.slot},
       .needs = {"chain.inner_width", end.tooth_width},
       .applies = [](const In& in) { return !(in[1] > in[0]); },
       .judge =
           [](const In& in) {
             return at_least(in[1], 0.8 * in[0]).kept_to(0.9 * in[0] - micrometre);
           },
       .kind = Kind::length,
       .fits = "The tooth is {have} wide: it guides a chain with {0} between its plates.",
       .tight = "The tooth is {have} wide; a chain with {0} between its plates wants {practice} or "
                "more, else it wanders from side to side.",
       .clash = "The tooth is {have} wide; a chain with {0} between its plates wants {practice} or "
                "more. It wanders and can jump off.",
       .can_hurt = true,
       .ignoring = {"A thrown chain.", 60, 350, 2},
       .levers = {end.slot, "chain"},
       .blocks = Blocks::buying},
      {.id = end.id_roller,
       .codes = "K03",
       .title = end.title_roller,
       .between = {"chain", end.slot},
       .needs = {"chain.roller", end.roller},
       .judge = roller_seats,
       .fits = "The chain's roller of {0} seats in a gap cut for {1}.",
       .tight = "The chain's roller of {0} is a little off a gap cut for {1}: it runs, and wears "
                "both sooner.",
       .clash =
           "The chain's roller of {0} does not seat in a gap cut for {1}: too large it rides up "
           "the teeth, too small it rattles in them.",
       .can_hurt = true,
       .ignoring = {"The chain rides up and jumps.", 60, 200, 2},
       .levers = {end.slot, "chain"},
       .blocks = Blocks::buying,
       .source = "ISO 606:2015 clause 5.4; 0.1 mm below it: common practice, no source"},
  };
}

std::vector<Rule> teeth_and_pull_rules() {
  return {
      {.id = "front-teeth",
       .codes = "K04",
       .title = "teeth of the front sprocket",
       .between = {"chain"},
       .needs = {"gearing.front_teeth"},
       .options = {"fact.chain_unevenness"},
       .judge = [](const In& in) { return at_least(in[0], 13).kept_to(15); },
       .fits = "The front sprocket has {have} teeth; 15 or more run smoothly.",
       .tight =
           "The front sprocket has {have} teeth: the chain's speed swings by {1} at every tooth. "
           "15 or more run smoother and last longer.",
       .clash =
           "The front sprocket has {have} teeth: with less than 13 the chain's speed swings by "
           "{1} at every tooth, and sprocket and chain wear fast.",
       .ignoring = {"Noise, and a sprocket worn out early.", 80, 250, 2},
       .levers = {"gearing.front_teeth"},
       .blocks = Blocks::buying,
       .source = "a chain maker's selection guide: 15 and more, never below 13"},
      {.id = "chain-ratio",
       .codes = "K04",
       .title = "ratio of the chain stage",
       .between = {"chain"},
       .needs = {"gearing.front_teeth", "gearing.rear_teeth"},
       .judge = [](const In& in) { return at_most(in[1] / in[0], 7).kept_to(6); },
       .fits = "{1} over {0} teeth is a ratio of {have}.",
       .tight = "{1} over {0} teeth is a ratio of {have}: above 6 a second stage is usual.",
       .clash = "{1} over {0} teeth is a ratio of {have}: one chain does not do more than {limit}. "
                "It needs a second stage.",
       .ignoring = {"A small sprocket that wears out, a large one that fits nowhere.", 80, 350, 3},
       .levers = {"gearing.front_teeth", "gearing.rear_teeth"},
       .blocks = Blocks::buying,
       .source = "a chain maker's guide: 7 at most; 6: common practice, no source"},
      {.id = "chain-tension",
       .codes = "K05",
       .title = "largest chain pull against the chain's breaking load",
       .between = {"chain", "motor"},
       .needs = {"fact.chain_pull", "chain.tensile"},
       .judge = [](const In& in) { return at_most(in[0], in[1] / 7).kept_to(in[1] / 10); },
       .kind = Kind::force,
       .fits = "The chain is pulled with {have} at most; a tenth of its breaking load of {1} is "
               "{practice}.",
       .tight =
           "The chain is pulled with {have} at most: more than a tenth of its breaking load of "
           "{1}. It will wear fast.",
       .clash =
           "The chain is pulled with {have}; a seventh of its breaking load of {1} is {limit}.",
       .can_hurt = true,
       .ignoring = {"A stretched chain, then a broken one at the foot.", 60, 200, 1},
       .levers = {"chain", "limits.phase_current"},
       .blocks = Blocks::buying,
       .source = "static factor 7 to 15 of machine-design texts; Bhandari ex. 14.7 gives 12"},
      {.id = "rear-sprocket-clearance",
       .codes = "K06",
       .title = "rear sprocket with chain against swingarm and tyre",
       .between = {"donor", "chain"},
       .needs = {"fact.rear_sprocket_radius", "donor.swingarm_to_sprocket"},
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(in[1] - 8 * mm); },
       .kind = Kind::length,
       .fits = "Sprocket and chain reach {have} from the axle; {limit} are free: {spare} to spare.",
       .tight = "Sprocket and chain reach {have} from the axle; {limit} are free, less than the "
                "usual 8 mm of air.",
       .clash = "Sprocket and chain reach {have} from the axle, but only {limit} are free: it saws "
                "into the swingarm.",
       .can_hurt = true,
       .ignoring = {"A sawn swingarm, a thrown chain.", 80, 350, 2},
       .levers = {"gearing.rear_teeth"},
       .blocks = Blocks::buying},
      {.id = "rear-sprocket-guard",
       .codes = "K06",
       .title = "rear sprocket with chain against the guard",
       .between = {"donor", "chain"},
       .needs = {"fact.rear_sprocket_radius", "donor.guard_to_sprocket"},
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(in[1] - 5 * mm); },
       .kind = Kind::length,
       .fits = "Sprocket and chain reach {have} from the axle; the guard leaves {limit}.",
       .tight =
           "Sprocket and chain reach {have} from the axle; the guard leaves {limit}, less than "
           "the usual 5 mm of air.",
       .clash = "Sprocket and chain reach {have} from the axle, but the guard leaves only {limit}. "
                "Move the guard; never ride without one.",
       .can_hurt = true,
       .ignoring = {"The chain strikes the guard; without one it takes a trouser leg.", 20, 150, 1},
       .levers = {"gearing.rear_teeth"},
       .blocks = Blocks::riding},
      {.id = "rear-sprocket-rim",
       .codes = "K06",
       .title = "rear sprocket with chain against the rim",
       .between = {"chain", "tyre_rear"},
       .needs = {"fact.rear_sprocket_radius", "fact.rim_radius"},
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(in[1] - 10 * mm); },
       .kind = Kind::length,
       .fits =
           "Sprocket and chain reach {have} from the axle, the rim {limit}: the tyre keeps them "
           "off the ground.",
       .tight = "Sprocket and chain reach {have} from the axle, the rim {limit}: kerbs and a flat "
                "tyre come close to the chain.",
       .clash =
           "Sprocket and chain reach {have} from the axle, beyond the rim at {limit}: kerbs and "
           "a flat tyre put the chain on the ground.",
       .can_hurt = true,
       .ignoring = {"A chain torn off by a kerb.", 60, 200, 1},
       .levers = {"gearing.rear_teeth"},
       .blocks = Blocks::buying},
      {.id = "front-teeth-agree",
       .codes = "",
       .title = "teeth of the front sprocket in hand against the gearing",
       .between = {"sprocket_front"},
       .needs = {"sprocket_front.teeth", "gearing.front_teeth"},
       .judge = [](const In& in) { return should(in[0] == in[1]); },
       .fits = "The front sprocket has {0} teeth, as the gearing says.",
       .tight = "The front sprocket on the list has {0} teeth, the gearing is worked out for {1}.",
       .ignoring = {"Speed and pull come out other than worked out.", 15, 140, 2},
       .levers = {"sprocket_front"},
       .blocks = Blocks::buying,
       .never = "clash",
       .never_why = "two notes that differ are not yet a misfit"},
      {.id = "rear-teeth-agree",
       .codes = "",
       .title = "teeth of the rear sprocket in hand against the gearing",
       .between = {"sprocket_rear"},
       .needs = {"sprocket_rear.teeth", "gearing.rear_teeth"},
       .judge = [](const In& in) { return should(in[0] == in[1]); },
       .fits = "The rear sprocket has {0} teeth, as the gearing says.",
       .tight = "The rear sprocket on the list has {0} teeth, the gearing is worked out for {1}.",
       .ignoring = {"Speed and pull come out other than worked out.", 30, 150, 2},
       .levers = {"sprocket_rear"},
       .blocks = Blocks::buying,
       .never = "clash",
       .never_why = "two notes that differ are not yet a misfit"},
  };
}

/// Clash below 10 or above 60 mm, tight outside 25 to 40 mm.
Outcome slack_fits(const In& in) {
  if (in[0] < 10 * mm || in[0] > 60 * mm) return judged(Verdict::clash);
  return should(in[0] >= 25 * mm && in[0] <= 40 * mm);
}

/// The most usual slack and the slack at which chains jump, or somewhat more than the donor had.
Outcome play_fits(const In& in) {
  const double original = in.or_else(1, 0);
  return at_most(in[0], std::max(60 * mm, 1.5 * original))
      .kept_to(std::max(40 * mm, 1.1 * original));
}

std::vector<Rule> chain_run_rules() {
  return {
      {.id = "chain-alignment",
       .codes = "K10",
       .title = "how far the sprockets stand out of line",
       .between = {"chain"},
       .needs = {"gearing.chainline_error", "gearing.centre_distance"},
       .judge = [](const In& in) { return at_most(in[0], in[1] / 250).kept_to(in[1] / 500); },
       .kind = Kind::length,
       .fits = "The sprockets stand {have} out of line over {1}; up to {practice} is usual.",
       .tight = "The sprockets stand {have} out of line over {1}; up to {practice} is usual. The "
                "chain wears on one side.",
       .clash = "The sprockets stand {have} out of line over {1}; up to {practice} is usual. The "
                "chain can climb off.",
       .can_hurt = true,
       .ignoring = {"A worn or thrown chain.", 60, 350, 2},
       .levers = {"gearing.chainline_error"},
       .blocks = Blocks::riding},
      {.id = "front-sprocket-offset",
       .codes = "K10",
       .title = "teeth of the front sprocket from the motor's face: sprocket against layout",
       .between = {"sprocket_front"},
       .needs = {"sprocket_front.shaft_offset", "layout.motor_face_to_chainline"},
       .judge =
           [](const In& in) { return at_most(std::fabs(in[0] - in[1]), 2 * mm).kept_to(1 * mm); },
       .kind = Kind::length,
       .fits = "The sprocket's teeth stand {0} from the motor's face; the layout has them at {1}.",
       .tight = "The sprocket's teeth stand {0} from the motor's face; the layout has them at {1}: "
                "{have} apart, a shim's worth.",
       .clash = "The sprocket's teeth stand {0} from the motor's face; the layout has them at {1}: "
                "{have} apart. The motor moves sideways by as much, or the chain runs crooked.",
       .ignoring = {"Motor plates drilled again.", 60, 350, 3},
       .levers = {"sprocket_front"},
       .blocks = Blocks::buying},
      {.id = "front-wrap",
       .codes = "K11",
       .title = "how far the chain wraps round the front sprocket",
       .between = {"chain"},
       .needs = {"fact.front_wrap"},
       .judge = [](const In& in) { return at_least(in[0], 120 * degree).kept_to(135 * degree); },
       .kind = Kind::angle,
       .fits = "The chain wraps {have} round the front sprocket; {limit} is the least.",
       .tight = "The chain wraps {have} round the front sprocket; {limit} is the least, and a worn "
                "chain needs more.",
       .clash = "The chain wraps only {have} round the front sprocket; {limit} is the least. Under "
                "load it jumps.",
       .can_hurt = true,
       .ignoring = {"A jumping chain.", 60, 250, 2},
       .levers = {"gearing.rear_teeth", "gearing.front_teeth"},
       .blocks = Blocks::buying,
       .source = "Machinery's Handbook: 120 deg at least"},
      {.id = "chain-play-over-travel",
       .codes = "K12",
       .title = "front sprocket from the swingarm pivot: play that the travel alone makes",
       .between = {"donor", "chain"},
       .needs = {"fact.chain_play_over_travel"},
       .options = {"fact.chain_play_original"},
       .judge = play_fits,
       .kind = Kind::length,
       .fits = "At best the swingarm's travel changes the chain's play by {have}; with the engine "
               "it was {1}.",
       .tight = "Even at best the swingarm's travel changes the chain's play by {have}; up to "
                "{practice} is usual. Bring the front sprocket nearer to the pivot.",
       .clash =
           "Even at best the swingarm's travel changes the chain's play by {have}; beyond "
           "{limit} it is tight at one end or jumps at the other. The front sprocket must come "
           "nearer to the pivot.",
       .can_hurt = true,
       .ignoring = {"A tight chain breaks the motor's bearing, a slack one jumps.", 100, 500, 3},
       .levers = {"layout.motor_x"},
       .blocks = Blocks::buying,
       .source = "plane geometry; 40 and 60 mm, or what the donor had: from memory"},
      {.id = "chain-links-even",
       .codes = "K13",
       .title = "number of links",
       .between = {"chain"},
       .needs = {"chain.links"},
       .judge = [](const In& in) { return should(std::fmod(in[0], 2) == 0); },
       .fits = "The chain has {0} links.",
       .tight =
           "The chain has {0} links: an odd number needs an offset link, which costs a quarter "
           "to a third of its strength.",
       .can_hurt = true,
       .ignoring = {"The offset link is the one that breaks.", 20, 100, 1},
       .levers = {"chain.links"},
       .source = "makers' guides; the share from memory",
       .never = "clash",
       .never_why = "it runs, weaker"},
      {.id = "chain-length",
       .codes = "K13",
       .title = "where the axle stands in its adjuster with this number of links",
       .between = {"chain"},
       .needs = {"gearing.centre_distance", "fact.chain_centre", "gearing.adjuster_range"},
       .options = {"fact.chain_links"},
       .judge =
           [](const In& in) {
             return at_most(std::fabs(in[1] - in[0]), in[2] / 2).kept_to(in[2] / 6);
           },
       .kind = Kind::length,
       .fits = "{3} links want a centre distance of {1}: {have} from the adjuster's middle.",
       .tight =
           "{3} links want a centre distance of {1}: {have} from the adjuster's middle, outside "
           "its middle third. Little is left for wear.",
       .clash = "{3} links want a centre distance of {1}: {have} from the adjuster's middle, which "
                "reaches {limit} each way. One tooth more or less moves it.",
       .ignoring = {"A chain too short, or one that cannot be tightened.", 20, 140, 1},
       .levers = {"gearing.rear_teeth", "gearing.front_teeth"},
       .blocks = Blocks::buying,
       .source = "Bhandari, Design of Machine Elements, chapter 14; Machinery's Handbook"},
      {.id = "adjuster-range",
       .codes = "K13",
       .title = "range of the adjuster",
       .between = {"chain"},
       .needs = {"gearing.adjuster_range", "chain.pitch"},
       .judge = [](const In& in) { return should(in[0] >= 1.5 * in[1]); },
       .fits = "The adjuster has {0}; one and a half pitches of {1} are the least.",
       .tight = "The adjuster has {0}: less than one and a half pitches of {1}. Not every even "
                "number of links finds a place, and wear uses it up.",
       .ignoring = {"A chain thrown away half worn.", 20, 140, 1},
       .source = "Machinery's Handbook: 1.5 pitches at least",
       .never = "clash",
       .never_why = "a given chain may still find its place"},
      {.id = "chain-slack",
       .codes = "K13",
       .title = "slack of the chain as set",
       .between = {"chain"},
       .needs = {"gearing.chain_slack"},
       .judge = slack_fits,
       .fits = "The chain has {0} of play at mid-span, rider seated, at its tightest spot.",
       .tight =
           "The chain has {0} of play at mid-span; 25 to 40 mm is usual. Set it at the tightest "
           "spot with sprocket, pivot and axle in line.",
       .clash = "The chain has {0} of play at mid-span; 25 to 40 mm is usual. Too tight it breaks "
                "the motor's bearing, too slack it jumps off.",
       .can_hurt = true,
       .ignoring = {"A broken bearing, or a thrown chain.", 60, 400, 2},
       .levers = {"gearing.chain_slack"},
       .blocks = Blocks::riding,
       .source = "workshop manuals: from memory"},
      {.id = "chain-tyre-gap",
       .codes = "K14",
       .title = "chain from the tyre",
       .between = {"chain"},
       .needs = {"gearing.tyre_gap"},
       .judge = [](const In& in) { return at_least(in[0], 4 * mm).kept_to(8 * mm); },
       .kind = Kind::length,
       .fits = "Between chain and tyre are {have} at full load.",
       .tight = "Between chain and tyre are {have} at full load; {practice} are usual, because the "
                "tyre grows with speed and the chain whips.",
       .clash = "Between chain and tyre are only {have} at full load: it cuts the tyre.",
       .can_hurt = true,
       .ignoring = {"A cut tyre.", 100, 300, 2},
       .levers = {"gearing.tyre_gap"},
       .blocks = Blocks::riding},
      {.id = "chain-guard-gap",
       .codes = "K06",
       .title = "chain from its guard",
       .between = {"chain"},
       .needs = {"gearing.guard_gap"},
       .judge = [](const In& in) { return at_least(in[0], 2 * mm).kept_to(5 * mm); },
       .kind = Kind::length,
       .fits = "Between chain and guard are {have}.",
       .tight = "Between chain and guard are {have}; {practice} are usual.",
       .clash = "Between chain and guard are only {have}: it saws into the guard.",
       .ignoring = {"A sawn guard, noise.", 10, 60, 1},
       .levers = {"gearing.guard_gap"},
       .blocks = Blocks::riding},
  };
}

}  // namespace

std::vector<Fact> driveline_facts() {
  return {
      {.id = "teeth_share",
       .label = "rear over front teeth of the chain stage; 1 without a chain",
       .kind = Kind::ratio,
       .needs = {},
       .options = {"gearing.drive", "gearing.front_teeth", "gearing.rear_teeth"},
       .compute = teeth_share,
       .formula = "rear teeth / front teeth"},
      {.id = "belt_share",
       .label = "rear over front teeth of the belt; 1 without a belt",
       .kind = Kind::ratio,
       .needs = {},
       .options = {"gearing.drive", "belt.front_teeth", "belt.rear_teeth"},
       .compute = belt_share,
       .formula = "rear pulley teeth / front pulley teeth"},
      {.id = "shaft_share",
       .label = "ratio of the shaft drive; 1 without a shaft",
       .kind = Kind::ratio,
       .needs = {},
       .options = {"gearing.drive", "donor.shaft_ratio"},
       .compute = shaft_share,
       .formula = "as found in the donor"},
      {.id = "drive_ratio",
       .label = "turns of the motor's rotor per wheel turn",
       .kind = Kind::ratio,
       .needs = {"fact.teeth_share", "fact.belt_share", "fact.shaft_share"},
       .options = {"gearing.primary_ratio", "motor.reduction"},
       .compute = [](const In& in) { return in[0] * in[1] * in[2] * in[3] * in[4]; },
       .formula = "chain, belt or shaft stage x any stage before x reduction in the motor"},
      {.id = "motor_speed_wish",
       .label = "motor speed at the top speed wanted",
       .kind = Kind::rotation,
       .needs = {"wishes.top_speed", "fact.wheel_circumference", "fact.drive_ratio"},
       .compute = [](const In& in) { return in[0] / in[1] * 2 * model::pi * in[2]; },
       .formula = "top speed wanted / circumference x motor turns per wheel turn"},
      {.id = "motor_speed_nominal",
       .label = "motor speed on the nominal voltage without load",
       .kind = Kind::rotation,
       .needs = {"motor.speed_constant", "fact.pack_voltage_nominal"},
       .compute = [](const In& in) { return in[0] * in[1]; },
       .formula = "speed constant x nominal voltage"},
      {.id = "rear_sprocket_radius",
       .label = "outside radius of the rear sprocket with its chain",
       .kind = Kind::length,
       .needs = {"gearing.rear_teeth", "chain.pitch", "chain.roller"},
       .options = {"sprocket_rear.pitch"},
       .compute =
           [](const In& in) {
             // A sprocket cut for another pitch than the chain's has its own size.
             return 0.5 *
                    (model::pitch_diameter_m(std::max(in[1], in.or_else(3, in[1])), in[0]) + in[2]);
           },
       .formula =
           "half of (pitch diameter + roller), with the sprocket's pitch where it is the larger"},
      {.id = "rim_radius",
       .label = "radius of the rear rim by the tyre's marking",
       .kind = Kind::length,
       .needs = {},
       .from_build =
           [](const Build& b) {
             const double rim =
                 build::read_tyre_marking(b.tyre_rear ? b.tyre_rear->size : "").rim_m;
             return rim > 0 ? 0.5 * rim : nan;
           },
       .formula = "rim code x 25.4 mm / 2"},
      {.id = "chain_unevenness",
       .label = "how much the chain's speed swings at every tooth",
       .kind = Kind::share,
       .needs = {"gearing.front_teeth"},
       .compute = [](const In& in) { return model::speed_variation_of_mean(in[0]); },
       .formula = "(3.1416 / teeth) x (1/sin - 1/tan) of 180 deg / teeth"},
      {.id = "front_wrap",
       .label = "wrap of the chain round the front sprocket",
       .kind = Kind::angle,
       .needs = {"gearing.front_teeth", "gearing.rear_teeth", "chain.pitch",
                 "gearing.centre_distance"},
       .compute =
           [](const In& in) {
             return model::wrap_front_rad(model::pitch_circles(teeth_of(in), in[3]));
           },
       .formula = "180 deg - 2 asin((rear - front pitch diameter) / (2 x centre distance))"},
      {.id = "chain_play_over_travel",
       .label = "play at mid-span that the swingarm's travel makes, in the best case",
       .kind = Kind::length,
       .needs = {"gearing.front_teeth", "gearing.rear_teeth", "chain.pitch", "layout.motor_x",
                 "layout.motor_z", "donor.swingarm_length", "donor.travel_rear"},
       .compute = play_over_travel_m,
       .formula = "from the chain's path with sprocket, pivot and axle in line at mid-travel"},
      {.id = "chain_play_original",
       .label = "the same with the front sprocket where the engine had it",
       .kind = Kind::length,
       .needs = {"gearing.front_teeth", "gearing.rear_teeth", "chain.pitch", "donor.sprocket_x",
                 "donor.sprocket_z", "donor.swingarm_length", "donor.travel_rear"},
       .compute = play_over_travel_m,
       .formula = "from the chain's path with sprocket, pivot and axle in line at mid-travel"},
      {.id = "chain_links_even",
       .label = "even number of links that comes nearest",
       .kind = Kind::ratio,
       .needs = {"gearing.front_teeth", "gearing.rear_teeth", "chain.pitch",
                 "gearing.centre_distance"},
       .compute = even_links,
       .formula = "2C + (z1+z2)/2 + ((z2-z1)/6.283)^2/C, C = centre / pitch; to the nearest even"},
      {.id = "chain_links",
       .label = "links of the chain",
       .kind = Kind::ratio,
       .needs = {},
       .options = {"chain.links", "fact.chain_links_even"},
       .compute = [](const In& in) { return in.or_else(0, in[1]); },
       .formula = "as bought; else the even number that comes nearest"},
      {.id = "chain_centre",
       .label = "centre distance that the links want",
       .kind = Kind::length,
       .needs = {"gearing.front_teeth", "gearing.rear_teeth", "chain.pitch", "fact.chain_links"},
       .compute = [](const In& in) { return model::chain_centre_m(teeth_of(in), in[3]); },
       .formula = "pitch/4 x (k + sqrt(k^2 - 8 ((z2-z1)/6.283)^2)), k = links - (z1+z2)/2"},
      {.id = "front_root",
       .label = "root diameter of the front sprocket",
       .kind = Kind::length,
       .needs = {"gearing.front_teeth", "chain.pitch", "chain.roller"},
       .compute = root_diameter_m,
       .formula = "pitch diameter - roller"},
      {.id = "rear_root",
       .label = "root diameter of the rear sprocket",
       .kind = Kind::length,
       .needs = {"gearing.rear_teeth", "chain.pitch", "chain.roller"},
       .compute = root_diameter_m,
       .formula = "pitch diameter - roller"},
      {.id = "key_pressure",
       .label = "pressure on the key's side in the hub",
       .kind = Kind::pressure,
       .needs = {"fact.torque_peak", "motor.shaft_diameter", "motor.key_width", "motor.key_length"},
       .options = {"motor.reduction", "sprocket_front.hub_length"},
       .compute = key_pressure_Pa,
       .formula = "2 x torque / (shaft x (key height - depth in the shaft) x bearing length)"},
      {.id = "hub_engaged",
       .label = "length of the sprocket's hub on the shaft",
       .kind = Kind::length,
       .needs = {"sprocket_front.hub_length"},
       .options = {"motor.shaft_length"},
       .compute = [](const In& in) { return std::min(in[0], in.or_else(1, in[0])); },
       .formula = "the shorter of hub and free shaft"},
      {.id = "sprocket_from_face",
       .label = "teeth of the front sprocket from the motor's face",
       .kind = Kind::length,
       .needs = {},
       .options = {"layout.motor_face_to_chainline", "sprocket_front.shaft_offset"},
       .compute = [](const In& in) { return in.or_else(0, in[1]); },
       .formula = "as laid out; else the sprocket's own"},
      {.id = "belt_teeth_engaged",
       .label = "teeth of the front pulley inside the belt",
       .kind = Kind::ratio,
       .needs = {"belt.pitch", "belt.front_teeth", "belt.rear_teeth", "gearing.centre_distance"},
       .compute = belt_teeth_engaged,
       .formula = "front teeth x wrap / 360 deg"},
  };
}

std::vector<Rule> driveline_rules() {
  std::vector<Rule> rules = chain_on_sprocket(front_end);
  const auto append = [&rules](std::vector<Rule> more) {
    for (Rule& rule : more) rules.push_back(std::move(rule));
  };
  append(chain_on_sprocket(rear_end));
  append(teeth_and_pull_rules());
  append(chain_run_rules());
  append(shaft_rules());
  append(other_drive_rules());
  return rules;
}

}  // namespace ww::fit
