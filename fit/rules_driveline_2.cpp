// SPDX-License-Identifier: MIT
// What turns besides the chain: shaft, key and hubs, top speed by gearing, belt, shaft drive, kept
// gearbox, cables beside moving parts. The chain stands in rules_driveline.cpp.
#include <array>
#include <cmath>

#include "fit/rule_terms.h"
#include "fit/rules_driveline.h"
#include "model/sprocket.h"

namespace ww::fit {

namespace {

using build::FinalDrive;
using build::MotorType;
using build::ShaftForm;
using figure::Kind;

constexpr double inch = 25.4e-3;
/// Lets a diameter given in millimetres be the inch size it stands for.
constexpr double hair = 1 + 1e-9;

/// Whether a round shaft with a key drives the sprocket; an unknown form is taken to.
bool keyed(const In& in, int form) {
  return !in.is(form, ShaftForm::splined) && !in.is(form, ShaftForm::flange) &&
         !in.is(form, ShaftForm::wheel);
}

/// Shafts over one diameter up to and including another have this key.
struct KeyRange {
  double over_m, to_m, width_m;
};

/// Whether a key of this width is the usual one for the shaft, by DIN 6885-1 or by ANSI B17.1.
bool usual_key(double shaft_m, double width_m) {
  constexpr std::array<KeyRange, 7> ranges{{{12 * mm, 17 * mm, 5 * mm},
                                            {17 * mm, 22 * mm, 6 * mm},
                                            {22 * mm, 30 * mm, 8 * mm},
                                            {30 * mm, 38 * mm, 10 * mm},
                                            {9 * inch / 16, 7 * inch / 8, 3 * inch / 16},
                                            {7 * inch / 8, 5 * inch / 4, inch / 4},
                                            {5 * inch / 4, 11 * inch / 8, 5 * inch / 16}}};
  for (const KeyRange& range : ranges) {
    const bool shaft = shaft_m > range.over_m * hair && shaft_m <= range.to_m * hair;
    if (shaft && std::fabs(width_m - range.width_m) <= 0.1 * mm) return true;
  }
  return false;
}

Outcome runs_true(const In& in) {
  const double limit = model::run_out_radial_limit_m(in[1]);
  return at_most(in[0], 2 * limit).kept_to(limit);
}

/// Motor speed at the wanted speed against what the voltage gives under load.
Outcome voltage_reaches(const In& in) {
  return at_most(in[0], 0.93 * in[1]).kept_to(0.85 * in[1]);
}

std::vector<Rule> key_and_bore_rules() {
  return {
      {.id = "front-bore-enters",
       .codes = "K15",
       .title = "bore of the front sprocket over the motor's shaft",
       .between = {"motor", "sprocket_front"},
       .needs = {"sprocket_front.bore", "motor.shaft_diameter"},
       .options = {"motor.shaft"},
       .applies = [](const In& in) { return keyed(in, 2); },
       .judge = [](const In& in) { return at_least(in[0] - in[1], -0.015 * mm).kept_to(0); },
       .kind = Kind::length,
       .fits = "The bore has {0}, the shaft {1}: it slides on.",
       .tight = "The bore has {0}, the shaft {1}: it goes on only warm and with a press, and off "
                "only with a puller.",
       .clash = "The bore has {0}, the shaft {1}: it does not go on.",
       .ignoring = {"A bore opened by a shop, or another sprocket.", 45, 200, 3},
       .levers = {"sprocket_front"},
       .blocks = Blocks::buying,
       .source = "ISO 286: H7 bore on h6 or k6 shaft, from memory"},
      {.id = "front-bore-loose",
       .codes = "K15",
       .title = "play of the front sprocket on the motor's shaft",
       .between = {"motor", "sprocket_front"},
       .needs = {"sprocket_front.bore", "motor.shaft_diameter"},
       .options = {"motor.shaft"},
       .applies = [](const In& in) { return keyed(in, 2) && !(in[0] - in[1] < -0.015 * mm); },
       .judge = [](const In& in) { return at_most(in[0] - in[1], 0.05 * mm).kept_to(0.02 * mm); },
       .kind = Kind::length,
       .fits = "The bore has {0}, the shaft {1}: it sits without play.",
       .tight =
           "The bore has {0}, the shaft {1}: {have} of play, more than the usual 0.02 mm for a "
           "drive with shocks.",
       .clash = "The bore has {0}, the shaft {1}: {have} of play. It frets and wobbles. Inch and "
                "metric shafts differ by less than you see: 22.0 and 22.2, 25.0 and 25.4 mm.",
       .ignoring = {"A fretted shaft: the motor's, not the sprocket's.", 45, 800, 4},
       .levers = {"sprocket_front"},
       .blocks = Blocks::buying,
       .source = "ISO 286: H7 bore on h6 or k6 shaft, from memory"},
      {.id = "motor-shaft-measured",
       .codes = "K15",
       .title = "the shaft in the hand, measured before a sprocket is made for it",
       .between = {"motor"},
       .needs = {"motor.shaft_measured"},
       .options = {"motor.shaft"},
       .applies = [](const In& in) { return !in.is(1, ShaftForm::wheel); },
       .judge = [](const In& in) { return should(in.yes(0)); },
       .fits = "The shaft in the hand has been measured.",
       .tight = "The shaft in the hand has not been measured: order nothing that goes on it yet. "
                "Micrometer at three places, key, shoulder, end thread.",
       .ignoring = {"A sprocket made for a drawing, not for the shaft.", 100, 350, 4},
       .levers = {"motor.shaft_measured=yes"},
       .blocks = Blocks::buying,
       .never = "clash",
       .never_why = "the drawing may be right"},
      {.id = "key-width-in-hub",
       .codes = "K16",
       .title = "key against the keyway of the front sprocket",
       .between = {"motor", "sprocket_front"},
       .needs = {"motor.key_width", "sprocket_front.key_width"},
       .options = {"motor.shaft"},
       .applies = [](const In& in) { return keyed(in, 2); },
       .judge =
           [](const In& in) {
             return at_most(std::fabs(in[0] - in[1]), 0.1 * mm).kept_to(0.05 * mm);
           },
       .kind = Kind::length,
       .fits = "The key is {0} wide, the keyway {1}.",
       .tight = "The key is {0} wide, the keyway {1}: {have} apart. Pull and braking hammer that "
                "play wider.",
       .clash = "The key is {0} wide, the keyway {1}: {have} apart.",
       .can_hurt = true,
       .ignoring = {"A hammered keyway, then a sheared key.", 45, 350, 4},
       .levers = {"sprocket_front"},
       .blocks = Blocks::buying,
       .source = "DIN 6885-1, ISO 773, ANSI B17.1; the limits: common practice, no source"},
      {.id = "key-usual-for-shaft",
       .codes = "K16",
       .title = "key width against the usual one for the shaft",
       .between = {"motor"},
       .needs = {"motor.shaft_diameter", "motor.key_width"},
       .options = {"motor.shaft"},
       .applies = [](const In& in) { return keyed(in, 2); },
       .judge = [](const In& in) { return should(usual_key(in[0], in[1])); },
       .fits = "A key of {1} is usual for a shaft of {0}.",
       .tight =
           "A key of {1} is not usual for a shaft of {0}: measure again. If it is so, the shop "
           "needs a special broach, which can cost more than the sprocket.",
       .ignoring = {"A broach bought for one keyway.", 60, 200, 2},
       .blocks = Blocks::buying,
       .source = "DIN 6885-1, ISO 773, ANSI B17.1",
       .never = "clash",
       .never_why = "an unusual key can be cut"},
      {.id = "key-pressure",
       .codes = "K17",
       .title = "pressure on the key's side",
       .between = {"motor"},
       .needs = {"fact.key_pressure"},
       .options = {"motor.shaft", "fact.torque_peak"},
       .applies = [](const In& in) { return keyed(in, 1); },
       .judge = [](const In& in) { return at_most(in[0], 100e6).kept_to(80e6); },
       .kind = Kind::pressure,
       .fits = "At {2} the key's side is pressed with {have} in the hub; {practice} is the usual "
               "most where pull reverses.",
       .tight = "At {2} the key's side is pressed with {have} in the hub; {practice} is the usual "
                "most where pull reverses, {limit} where it does not. A longer key, a tight keyway "
                "and a clamping hub help.",
       .clash = "At {2} the key's side is pressed with {have} in the hub; {limit} is the most. It "
                "needs a longer key and hub, a thicker shaft, or less torque.",
       .can_hurt = true,
       .ignoring = {"A sheared key and a ruined shaft.", 100, 900, 5},
       .levers = {"motor.key_length", "limits.phase_current", "motor"},
       .blocks = Blocks::buying,
       .source =
           "force over the side in the hub, DIN 6885-1 sizes (Mott; Shigley); 80 and 100 MPa: "
           "common practice, no source"},
      {.id = "spline-teeth",
       .codes = "K18",
       .title = "spline of the front sprocket against the motor's shaft",
       .between = {"motor", "sprocket_front"},
       .needs = {"motor.spline_teeth", "sprocket_front.spline_teeth"},
       .options = {"motor.shaft"},
       .applies = [](const In& in) { return in.is(2, ShaftForm::splined); },
       .judge = [](const In& in) { return must(in[0] == in[1]); },
       .fits = "Shaft and sprocket have {0} spline teeth. The count alone does not prove it: "
               "compare both diameters, or try it on.",
       .clash = "The shaft has {0} spline teeth, the sprocket {1}.",
       .ignoring = {"A sprocket that does not go on.", 12, 120, 3},
       .levers = {"sprocket_front", "motor"},
       .blocks = Blocks::buying,
       .never = "tight",
       .never_why = "counts are equal or not"},
      {.id = "hub-on-shaft",
       .codes = "K19",
       .title = "how much of the sprocket's hub sits on the shaft",
       .between = {"motor", "sprocket_front"},
       .needs = {"fact.hub_engaged", "motor.shaft_diameter"},
       .options = {"motor.shaft"},
       .applies = [](const In& in) { return keyed(in, 2); },
       .judge = [](const In& in) { return at_least(in[0], 0.8 * in[1]).kept_to(1.2 * in[1]); },
       .kind = Kind::length,
       .fits =
           "The hub sits on {have} of the shaft of {1}. Hold its end with a bolt and washer or a "
           "locked nut, against a shoulder.",
       .tight = "The hub sits on {have} of the shaft of {1}; {practice} is usual, else it rocks.",
       .clash =
           "The hub sits on only {have} of the shaft of {1}; less than {limit} rocks loose and "
           "walks off.",
       .can_hurt = true,
       .ignoring = {"The sprocket walks off the shaft.", 60, 400, 3},
       .levers = {"sprocket_front"},
       .blocks = Blocks::buying},
      {.id = "chain-pull-on-bearing",
       .codes = "K20",
       .title = "chain pull against what the motor's shaft may carry",
       .between = {"motor", "chain"},
       .needs = {"fact.chain_pull", "motor.bearing_load_max"},
       .judge = [](const In& in) { return at_most(in[0], in[1]); },
       .kind = Kind::force,
       .fits = "The chain pulls with {have} at most; the motor's shaft may carry {limit}.",
       .tight = "The chain pulls with {have} at most; the motor's shaft may carry {limit}, but the "
                "spread of the figures reaches beyond.",
       .clash = "The chain pulls with {have}; the motor's shaft may carry only {limit}. A larger "
                "front sprocket pulls less; an outer bearing takes it off the motor.",
       .ignoring = {"A motor bearing that fails early.", 50, 400, 4},
       .levers = {"gearing.front_teeth", "limits.phase_current", "motor"},
       .blocks = Blocks::buying},
      {.id = "front-sprocket-overhang",
       .codes = "K20",
       .title = "front sprocket from the motor's face",
       .between = {"motor"},
       .needs = {"fact.sprocket_from_face"},
       .options = {"gearing.drive"},
       .applies =
           [](const In& in) { return !in.is(1, FinalDrive::hub) && !in.is(1, FinalDrive::shaft); },
       .judge = [](const In& in) { return at_most(in[0], 40 * mm).kept_to(25 * mm); },
       .kind = Kind::length,
       .fits = "The sprocket's teeth stand {have} from the motor's face.",
       .tight = "The sprocket's teeth stand {have} from the motor's face; {practice} is the usual "
                "most unless the maker says otherwise: the pull bends the shaft.",
       .clash =
           "The sprocket's teeth stand {have} from the motor's face: beyond {limit} it needs a "
           "bearing on the outside.",
       .ignoring = {"A bent shaft or a motor bearing that fails early.", 50, 600, 4},
       .levers = {"sprocket_front", "layout.motor_face_to_chainline"},
       .blocks = Blocks::buying},
      {.id = "front-run-out",
       .codes = "K21",
       .title = "run-out of the front sprocket",
       .between = {"sprocket_front"},
       .needs = {"sprocket_front.run_out", "fact.front_root"},
       .judge = runs_true,
       .kind = Kind::length,
       .fits = "The front sprocket runs out by {have}; {practice} is allowed.",
       .tight =
           "The front sprocket runs out by {have}; {practice} is allowed. The chain goes tight "
           "and slack once a turn.",
       .clash = "The front sprocket runs out by {have}; {practice} is allowed. Off-centre bores "
                "throw chains.",
       .can_hurt = true,
       .ignoring = {"A thrown chain, a broken bearing.", 45, 300, 3},
       .levers = {"sprocket_front"},
       .blocks = Blocks::riding,
       .source = "ISO 606:2015 clause 5.5: from memory; twice as much is a clash: common practice"},
      {.id = "rear-run-out",
       .codes = "K21",
       .title = "run-out of the rear sprocket",
       .between = {"sprocket_rear"},
       .needs = {"sprocket_rear.run_out", "fact.rear_root"},
       .judge = runs_true,
       .kind = Kind::length,
       .fits = "The rear sprocket runs out by {have}; {practice} is allowed.",
       .tight = "The rear sprocket runs out by {have}; {practice} is allowed. The chain goes tight "
                "and slack once a turn.",
       .clash =
           "The rear sprocket runs out by {have}; {practice} is allowed. Look for a bent hub or "
           "loose bolts.",
       .can_hurt = true,
       .ignoring = {"A thrown chain, a worn hub.", 45, 300, 3},
       .levers = {"sprocket_rear"},
       .blocks = Blocks::riding,
       .source = "ISO 606:2015 clause 5.5: from memory; twice as much is a clash: common practice"},
      {.id = "motor-shaft-suits-drive",
       .codes = "",
       .title = "the motor's shaft against the kind of final drive",
       .between = {"motor"},
       .needs = {"motor.shaft", "gearing.drive"},
       .judge =
           [](const In& in) {
             return must(in.is(0, ShaftForm::wheel) == in.is(1, FinalDrive::hub));
           },
       .fits = "The motor's shaft is '{0}', the final drive '{1}'.",
       .clash = "The motor's shaft is '{0}', the final drive '{1}': a wheel motor drives only its "
                "own wheel, and any other motor cannot sit in one.",
       .ignoring = {"A motor bought for another kind of bike.", 200, 900, 6},
       .levers = {"motor"},
       .blocks = Blocks::buying,
       .never = "tight",
       .never_why = "one kind or the other"},
  };
}

std::vector<Rule> hub_rules() {
  return {
      {.id = "rear-bolt-circle",
       .codes = "K09",
       .title = "bolt circle of the rear sprocket against the hub",
       .between = {"sprocket_rear", "donor"},
       .needs = {"sprocket_rear.bolt_circle", "donor.hub_bolt_circle"},
       .judge =
           [](const In& in) {
             return at_most(std::fabs(in[0] - in[1]), 0.3 * mm).kept_to(0.1 * mm);
           },
       .kind = Kind::length,
       .fits = "The sprocket's bolts stand on {0}, the hub's on {1}.",
       .tight = "The sprocket's bolts stand on {0}, the hub's on {1}: {have} apart. Measure both "
                "again; a tenth is all there should be.",
       .clash = "The sprocket's bolts stand on {0}, the hub's on {1}: {have} apart.",
       .can_hurt = true,
       .ignoring = {"A sprocket that does not fit, or bolts that shear.", 45, 150, 3},
       .levers = {"sprocket_rear"},
       .blocks = Blocks::buying},
      {.id = "rear-bolt-count",
       .codes = "K09",
       .title = "bolts of the rear sprocket against the hub",
       .between = {"sprocket_rear", "donor"},
       .needs = {"sprocket_rear.bolts", "donor.hub_bolts"},
       .judge = [](const In& in) { return must(in[0] == in[1]); },
       .fits = "Sprocket and hub have {0} bolts.",
       .clash = "The sprocket has {0} bolts, the hub {1}.",
       .ignoring = {"A sprocket that does not fit.", 45, 150, 3},
       .levers = {"sprocket_rear"},
       .blocks = Blocks::buying,
       .never = "tight",
       .never_why = "counts are equal or not"},
      {.id = "rear-bolt-size",
       .codes = "K09",
       .title = "bolt size of the rear sprocket against the hub",
       .between = {"sprocket_rear", "donor"},
       .needs = {"sprocket_rear.bolt", "donor.hub_bolt"},
       .judge =
           [](const In& in) { return at_most(std::fabs(in[0] - in[1]), 1 * mm).kept_to(0.5 * mm); },
       .kind = Kind::length,
       .fits = "The sprocket is drilled for {0}, the hub has bolts of {1}.",
       .tight = "The sprocket is drilled for {0}, the hub has bolts of {1}: {have} apart. Measure "
                "the thread again, not the hole.",
       .clash =
           "The sprocket is drilled for {0}, the hub has bolts of {1}: drill it, or sleeve it; "
           "a loose bolt shears.",
       .can_hurt = true,
       .ignoring = {"Sheared bolts, a sprocket adrift.", 45, 300, 3},
       .levers = {"sprocket_rear"},
       .blocks = Blocks::buying},
      {.id = "rear-bore-enters",
       .codes = "K09",
       .title = "centre bore of the rear sprocket over the hub",
       .between = {"sprocket_rear", "donor"},
       .needs = {"sprocket_rear.centre_bore", "donor.hub_bore"},
       .judge = [](const In& in) { return at_least(in[0] - in[1], -0.05 * mm).kept_to(0); },
       .kind = Kind::length,
       .fits = "The sprocket's centre bore has {0}, the hub {1}: it goes over.",
       .tight = "The sprocket's centre bore has {0}, the hub {1}: it wants a press or a scraper.",
       .clash = "The sprocket's centre bore has {0}, the hub {1}: it does not go over.",
       .ignoring = {"A bore opened by a shop.", 30, 100, 2},
       .levers = {"sprocket_rear"},
       .blocks = Blocks::buying},
      {.id = "rear-bore-centres",
       .codes = "K09",
       .title = "whether the hub centres the rear sprocket",
       .between = {"sprocket_rear", "donor"},
       .needs = {"sprocket_rear.centre_bore", "donor.hub_bore"},
       .applies = [](const In& in) { return !(in[0] - in[1] < -0.05 * mm); },
       .judge = [](const In& in) { return at_most(in[0] - in[1], 0.3 * mm).kept_to(0.1 * mm); },
       .kind = Kind::length,
       .fits = "The sprocket's centre bore has {0}, the hub {1}: it is centred.",
       .tight = "The sprocket's centre bore has {0}, the hub {1}: {have} of play, more than the "
                "usual 0.1 mm. It runs out by as much.",
       .clash = "The sprocket's centre bore has {0}, the hub {1}: {have} of play. The bolts alone "
                "carry it and shear; it wants a ring.",
       .can_hurt = true,
       .ignoring = {"Sheared bolts, a thrown chain.", 45, 300, 3},
       .levers = {"sprocket_rear"},
       .blocks = Blocks::buying},
      {.id = "cush-drive-kept",
       .codes = "",
       .title = "rubber cush drive in the rear hub",
       .between = {"donor"},
       .needs = {"donor.cush_drive"},
       .options = {"gearing.drive"},
       .applies =
           [](const In& in) { return !in.is(1, FinalDrive::hub) && !in.is(1, FinalDrive::shaft); },
       .judge = [](const In& in) { return should(in.yes(0)); },
       .fits = "The hub has a rubber cush drive: keep it, with new rubbers.",
       .tight = "The hub has no rubber cush drive: pull and braking reverse through chain, key and "
                "teeth without give. Set soft ramps.",
       .ignoring = {"A hammered key, a chain worn early.", 10, 200, 2},
       .never = "clash",
       .never_why = "many bikes have none"},
  };
}

std::vector<Rule> speed_rules() {
  return {
      {.id = "gearing-for-top-speed",
       .codes = "K07",
       .title = "motor speed at the top speed wanted against what the voltage gives",
       .between = {"motor", "pack", "cell"},
       .needs = {"fact.motor_speed_wish", "fact.motor_speed_nominal"},
       .options = {"gearing.drive", "limits.field_weakening", "motor.type"},
       .applies =
           [](const In& in) {
             return !in.is(2, FinalDrive::shaft) && !in.yes(3) && !in.is(4, MotorType::induction) &&
                    !in.is(4, MotorType::brushed_series);
           },
       .judge = voltage_reaches,
       .kind = Kind::rotation,
       .fits =
           "The top speed you want takes {have} at the motor; at half charge and under load the "
           "voltage gives {practice}.",
       .tight =
           "The top speed you want takes {have} at the motor; at half charge and under load the "
           "voltage gives about {practice}, with little load {limit}. You reach it on a full "
           "pack only, or with the wind.",
       .clash = "The top speed you want takes {have} at the motor; the voltage gives {limit} at "
                "most. Fewer teeth behind, more in front, or more cells in series.",
       .ignoring = {"Another round of sprockets and chain.", 80, 250, 2},
       .levers = {"gearing.rear_teeth", "gearing.front_teeth", "pack.series", "motor"},
       .blocks = Blocks::buying,
       .source = "speed constant times loaded voltage, 0.90 to 0.93 of it usable: common practice, "
                 "no source"},
      {.id = "shaft-drive-ratio",
       .codes = "K55",
       .title = "fixed ratio of the shaft drive against the top speed wanted",
       .between = {"donor", "motor", "pack", "cell"},
       .needs = {"fact.motor_speed_wish", "fact.motor_speed_nominal"},
       .options = {"gearing.drive", "donor.shaft_ratio"},
       .applies = [](const In& in) { return in.is(2, FinalDrive::shaft); },
       .judge = voltage_reaches,
       .kind = Kind::rotation,
       .fits =
           "With the shaft drive's fixed ratio of {3} the top speed you want takes {have} at the "
           "motor; at half charge and under load the voltage gives {practice}. The coupling "
           "wants some rubber in it.",
       .tight = "With the shaft drive's fixed ratio of {3} the top speed you want takes {have} at "
                "the motor; at half charge and under load the voltage gives about {practice}, with "
                "little load {limit}.",
       .clash = "With the shaft drive's fixed ratio of {3} the top speed you want takes {have} at "
                "the motor; the voltage gives {limit} at most, and the ratio cannot be changed.",
       .ignoring = {"A drive that can never be geared right.", 200, 1200, 6},
       .levers = {"pack.series", "motor"},
       .blocks = Blocks::buying,
       .source = "speed constant times loaded voltage, 0.90 to 0.93 of it usable: common practice, "
                 "no source"},
      {.id = "kept-gearbox-speed",
       .codes = "K54",
       .title = "motor speed against what the kept gearbox may turn",
       .between = {"donor", "motor"},
       .needs = {"fact.motor_speed_most", "donor.gearbox_speed_max"},
       .options = {"donor.kept_gearbox", "motor.reduction"},
       .applies = [](const In& in) { return in.yes(2); },
       .judge = [](const In& in) { return at_most(in[0] / in[3], in[1]).kept_to(0.95 * in[1]); },
       .kind = Kind::rotation,
       .fits = "The motor turns the gearbox up to {have}; it was made for {limit}. Look at its "
               "turning direction, oil and shaft seal too.",
       .tight = "The motor turns the gearbox up to {have}; it was made for {limit}, and usual "
                "practice stays below {practice}.",
       .clash = "The motor turns the gearbox up to {have}; it was made for only {limit}.",
       .can_hurt = true,
       .ignoring = {"A destroyed gearbox.", 150, 800, 5},
       .levers = {"pack.series", "motor"},
       .blocks = Blocks::buying},
      {.id = "speedometer-recalibrated",
       .codes = "K53",
       .title = "speedometer after the change of drive",
       .between = {"donor"},
       .needs = {"wiring.speed_sensor_recalibrated"},
       .judge = [](const In& in) { return should(in.yes(0)); },
       .fits = "The speed signal was moved to the wheel or recalibrated.",
       .tight = "The speed signal was not moved or recalibrated: a speedometer driven by the old "
                "sprocket or gearbox now lies. Compare it over a measured kilometre.",
       .ignoring = {"A failed inspection, a fine.", 0, 150, 2},
       .blocks = Blocks::riding,
       .never = "clash",
       .never_why = "the bike rides; whether it may is the inspector's to say"},
  };
}

std::vector<Rule> belt_and_cable_rules() {
  return {
      {.id = "belt-teeth-engaged",
       .codes = "K76",
       .title = "teeth of the front pulley inside the belt",
       .between = {"belt"},
       .needs = {"fact.belt_teeth_engaged"},
       .judge = [](const In& in) { return at_least(in[0], 6); },
       .fits = "The belt holds {have} teeth of the front pulley; {limit} is the least. Set its "
               "tension by the note it gives.",
       .tight = "The belt holds {have} teeth of the front pulley; {limit} is the least, and the "
                "spread of the figures reaches below.",
       .clash = "The belt holds only {have} teeth of the front pulley; {limit} is the least: it "
                "jumps.",
       .can_hurt = true,
       .ignoring = {"A jumping belt with its teeth shorn.", 150, 400, 3},
       .levers = {"belt.front_teeth", "belt"},
       .blocks = Blocks::buying},
      {.id = "belt-power",
       .codes = "K76",
       .title = "power the belt carries against the most that comes",
       .between = {"belt"},
       .needs = {"belt.power", "ride.power_shaft_peak"},
       .judge = [](const In& in) { return at_least(in[0], in[1]).kept_to(1.3 * in[1]); },
       .kind = Kind::power,
       .fits = "The belt carries {have}; {limit} comes at most.",
       .tight = "The belt carries {have}; {limit} comes at most. Usual practice keeps a third in "
                "hand, {practice}, for shocks.",
       .clash = "The belt carries {have}, but {limit} comes: it needs to be wider.",
       .can_hurt = true,
       .ignoring = {"A torn belt.", 150, 400, 3},
       .levers = {"belt"},
       .blocks = Blocks::buying,
       .source = "service factor 1.3 for some shock, as for chain"},
      {.id = "belt-teeth-agree",
       .codes = "K76",
       .title = "teeth of the belt's pulleys against the gearing",
       .between = {"belt"},
       .needs = {"belt.front_teeth", "belt.rear_teeth", "gearing.front_teeth",
                 "gearing.rear_teeth"},
       .judge = [](const In& in) { return should(in[0] == in[2] && in[1] == in[3]); },
       .fits = "The pulleys have {0} and {1} teeth, as the gearing says.",
       .tight = "The pulleys on the list have {0} and {1} teeth, the gearing says {2} and {3}.",
       .ignoring = {"Speed and pull come out other than worked out.", 50, 200, 2},
       .levers = {"belt"},
       .blocks = Blocks::buying,
       .never = "clash",
       .never_why = "two notes that differ are not yet a misfit"},
      {.id = "cables-from-moving-parts",
       .codes = "K50",
       .title = "cables from chain, wheel and disc",
       .between = {},
       .needs = {"layout.cable_moving_gap"},
       .judge = [](const In& in) { return at_least(in[0], 5 * mm).kept_to(20 * mm); },
       .kind = Kind::length,
       .fits =
           "Cables keep {have} from chain, wheel and disc over the whole travel. Clip them every "
           "150 to 200 mm.",
       .tight = "Cables keep {have} from chain, wheel and disc; {practice} are usual, with a clip "
                "every 150 to 200 mm.",
       .clash = "Cables come within {have} of chain, wheel or disc: they chafe through, and behind "
                "them is the whole pack.",
       .can_hurt = true,
       .ignoring = {"A chafed pack cable: a fire on the road.", 20, 3000, 2},
       .levers = {"layout.cable_moving_gap"},
       .blocks = Blocks::riding},
  };
}

void append(std::vector<Rule>& to, std::vector<Rule> more) {
  for (Rule& rule : more) to.push_back(std::move(rule));
}

}  // namespace

std::vector<Rule> shaft_rules() {
  std::vector<Rule> rules = key_and_bore_rules();
  append(rules, hub_rules());
  return rules;
}

std::vector<Rule> other_drive_rules() {
  std::vector<Rule> rules = speed_rules();
  append(rules, belt_and_cable_rules());
  return rules;
}

}  // namespace ww::fit
