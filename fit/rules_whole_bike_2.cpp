// SPDX-License-Identifier: MIT
// Mass and where it is, tyres, springs, brakes, stand. Invariants:
// 1. Wheel loads are those of the bike standing level; what the pack and the motor add is placed by
//    their measured distance from the pivot, everything else that was added sits where the pack is.
// 2. A rider puts 35 % of his weight on the front wheel, passenger and luggage none: common
//    practice, no source; a scale under each wheel is better.
#include <algorithm>
#include <cmath>

#include "build/nouns.h"
#include "fit/rule_terms.h"
#include "fit/rules_whole_bike.h"
#include "model/brake.h"
#include "model/spring.h"
#include "model/tyre.h"

namespace ww::fit {

namespace {

using build::FinalDrive;
using build::MotorType;
using figure::Kind;

constexpr double year = 365.25 * 86400;
constexpr double gravity = model::standard_gravity<double>();
constexpr double rider_front_share = 0.35;

/// In: motor ahead of the pivot, swingarm, motor's type, final drive.
double motor_ahead_of_axle_m(const In& in) {
  if (in.is(2, MotorType::pm_hub) || in.is(3, FinalDrive::hub)) return 0;
  return in[0] + in[1];
}

/// In: front and rear load stripped, bike, pack ahead of the pivot, swingarm, motor, motor ahead of
/// the axle, wheelbase.
double front_unladen_kg(const In& in) {
  const double with_pack = in[2] - in[0] - in[1] - in[5];
  return in[0] + (with_pack * (in[3] + in[4]) + in[5] * in[6]) / in[7];
}

/// In: front without rider, laden, bike, passenger, luggage.
double front_laden_kg(const In& in) {
  const double rider = in[1] - in[2] - in.or_else(3, 0) - in.or_else(4, 0);
  return in[0] + rider_front_share * rider;
}

/// In: wet mass, bike, laden, top speed as it was, top speed now.
double stop_ratio(const In& in) {
  const double load = in[2] - in[1];
  return model::stop_energy_ratio<double>({.mass_old_kg = in[0] + load,
                                           .mass_new_kg = in[2],
                                           .speed_old_mps = in[3],
                                           .speed_new_mps = in[4]});
}

/// At 40 km/h, as in town. In: braking current, nominal voltage, laden, largest pull of the motor.
double regen_deceleration_mps2(const In& in) {
  constexpr double speed = 40 / 3.6, motor_and_controller = 0.85;
  const double force = in[0] * in[1] / motor_and_controller / speed;
  return std::min(force, in.or_else(3, force)) / in[2];
}

double speed_letter_mps(const std::optional<build::Tyre>& tyre) {
  return tyre && tyre->speed_letter.size() == 1 ? model::speed_symbol_mps(tyre->speed_letter[0])
                                                : nan;
}

/// Sag of about 29 % of the travel; in[0] sag, in[1] travel.
Outcome sag_usual(const In& in) {
  return at_most(std::fabs(model::sag_share(in[0], in[1]) - 0.29), 0.1).kept_to(0.04);
}

/// The fitted rate against the wanted one, either way; in[0] fitted, in[1] wanted.
Outcome rate_suits(const In& in) {
  return at_most(std::fabs(in[1] / in[0] - 1), 0.3).kept_to(0.08);
}

}  // namespace

std::vector<Fact> weight_facts() {
  return {
      {.id = "motor_ahead_of_axle",
       .label = "motor ahead of the rear axle",
       .kind = Kind::length,
       .needs = {},
       .options = {"layout.motor_x", "donor.swingarm_length", "motor.type", "gearing.drive"},
       .compute = motor_ahead_of_axle_m,
       .formula = "ahead of the pivot + swingarm; none in a hub"},
      {.id = "front_unladen",
       .label = "front wheel load without rider",
       .kind = Kind::mass,
       .needs = {"donor.load_front", "donor.load_rear", "ride.mass", "pack.x",
                 "donor.swingarm_length", "motor.mass", "fact.motor_ahead_of_axle",
                 "donor.wheelbase"},
       .compute = front_unladen_kg,
       .formula = "stripped front load + ((what was added less the motor) x pack ahead of the rear "
                  "axle + motor x motor ahead of it) / wheelbase"},
      {.id = "front_share",
       .label = "share of the weight on the front wheel without rider",
       .kind = Kind::share,
       .needs = {"fact.front_unladen", "ride.mass"},
       .compute = [](const In& in) { return in[0] / in[1]; },
       .formula = "front load / mass"},
      {.id = "front_laden",
       .label = "front wheel load with rider and load",
       .kind = Kind::mass,
       .needs = {"fact.front_unladen", "ride.mass_laden", "ride.mass"},
       .options = {"rider.passenger_mass", "rider.luggage_mass"},
       .compute = front_laden_kg,
       .formula = "front load + 0.35 x rider; passenger and luggage weigh on the rear wheel"},
      {.id = "rear_laden",
       .label = "rear wheel load with rider and load",
       .kind = Kind::mass,
       .needs = {"ride.mass_laden", "fact.front_laden"},
       .compute = [](const In& in) { return in[0] - in[1]; },
       .formula = "laden mass - front load"},
      {.id = "tyre_front_load",
       .label = "load the front tyre's index allows",
       .kind = Kind::mass,
       .needs = {"tyre_front.load_index"},
       .compute = [](const In& in) { return model::load_index_kg(static_cast<int>(in[0])); },
       .formula = "ETRTO load index"},
      {.id = "tyre_rear_load",
       .label = "load the rear tyre's index allows",
       .kind = Kind::mass,
       .needs = {"tyre_rear.load_index"},
       .compute = [](const In& in) { return model::load_index_kg(static_cast<int>(in[0])); },
       .formula = "ETRTO load index"},
      {.id = "tyre_front_speed",
       .label = "speed the front tyre's letter allows",
       .kind = Kind::speed,
       .needs = {},
       .from_build = [](const Build& b) { return speed_letter_mps(b.tyre_front); },
       .formula = "ETRTO speed symbol"},
      {.id = "spring_front_fitted",
       .label = "front spring rate as fitted now, one leg",
       .kind = Kind::stiffness,
       .needs = {"donor.spring_front"},
       .options = {"layout.spring_front"},
       .compute = [](const In& in) { return in.or_else(1, in[0]); },
       .formula = "the new spring's; else the donor's own"},
      {.id = "spring_rear_fitted",
       .label = "rear wheel rate as fitted now",
       .kind = Kind::stiffness,
       .needs = {"donor.spring_rear"},
       .options = {"layout.spring_rear"},
       .compute = [](const In& in) { return in.or_else(1, in[0]); },
       .formula = "with the new spring; else the donor's own"},
      {.id = "spring_front_wanted",
       .label = "front spring rate that keeps the sag, one leg",
       .kind = Kind::stiffness,
       .needs = {"donor.spring_front", "donor.sprung_front", "fact.front_unladen", "donor.mass_wet",
                 "donor.original_front_share"},
       .compute =
           [](const In& in) {
             return model::spring_rate_scaled_Npm<double>(in[0], in[1],
                                                          in[1] + in[2] - in[3] * in[4]);
           },
       .formula =
           "donor's rate x new / old sprung load; new = old + front load now - front share x "
           "wet mass"},
      {.id = "spring_rear_wanted",
       .label = "rear wheel rate that keeps the sag",
       .kind = Kind::stiffness,
       .needs = {"donor.spring_rear", "donor.sprung_rear", "fact.front_unladen", "donor.mass_wet",
                 "donor.original_front_share", "ride.mass"},
       .compute =
           [](const In& in) {
             const double rear_now = in[5] - in[2], rear_was = (1 - in[4]) * in[3];
             return model::spring_rate_scaled_Npm<double>(in[0], in[1],
                                                          in[1] + rear_now - rear_was);
           },
       .formula =
           "donor's rate x new / old sprung load; new = old + rear load now - rear share x wet "
           "mass"},
      {.id = "stop_ratio",
       .label = "energy of a stop from top speed, now over as it was",
       .kind = Kind::share,
       .needs = {"donor.mass_wet", "ride.mass", "ride.mass_laden", "donor.top_speed_original",
                 "ride.speed_top"},
       .compute = stop_ratio,
       .formula = "laden mass x top speed squared, now / as it was"},
      {.id = "regen_deceleration",
       .label = "slowing by the motor at 40 km/h",
       .kind = Kind::acceleration,
       .needs = {"limits.regen_current", "fact.pack_voltage_nominal", "ride.mass_laden"},
       .options = {"fact.pull_peak"},
       .compute = regen_deceleration_mps2,
       .formula =
           "braking current x nominal voltage / 0.85 / 40 km/h, not more than the motor's peak "
           "pull, / laden mass"},
  };
}

std::vector<Rule> weight_rules() {
  return {
      {.id = "gross-mass",
       .codes = "K60,L04",
       .title = "laden mass against the plate",
       .between = {"donor"},
       .needs = {"ride.mass_laden", "donor.gross_mass"},
       .judge = [](const In& in) { return at_most(in[0], in[1]); },
       .kind = Kind::mass,
       .fits = "With rider and load it weighs {have}; the plate allows {limit}.",
       .tight = "With rider and load it weighs about {have}; the plate allows {limit}. Only a "
                "weighbridge tells.",
       .clash = "With rider and load it weighs {have}; the plate allows {limit}.",
       .ignoring = {"A failed inspection, no cover.", 100, 3000, 8},
       .levers = {"rider.luggage_mass", "rider.passenger_mass", "pack.parallel", "cell"},
       .blocks = Blocks::buying,
       .source = "sum of the parts"},
      {.id = "mass-growth",
       .codes = "",
       .title = "mass without rider against the donor's wet mass",
       .between = {"donor"},
       .needs = {"ride.mass", "donor.mass_wet"},
       .judge = [](const In& in) { return at_most(in[0], 1.3 * in[1]).kept_to(1.1 * in[1]); },
       .kind = Kind::mass,
       .fits = "It weighs {have}; the donor weighed {1}.",
       .tight =
           "It weighs {have}; the donor weighed {1}. More than a tenth heavier: count on springs, "
           "tyres and brake pads.",
       .clash = "It weighs {have}; the donor weighed {1}. Nearly a third heavier: frame and brakes "
                "were not made for it.",
       .ignoring = {"Springs, tyres and brakes after the money is gone.", 300, 900, 3},
       .levers = {"pack.parallel", "cell", "motor"},
       .blocks = Blocks::buying},
      {.id = "axle-front",
       .codes = "K61",
       .title = "front wheel load against the axle's plate",
       .between = {"donor"},
       .needs = {"fact.front_laden", "donor.axle_front_max"},
       .judge = [](const In& in) { return at_most(in[0], in[1]); },
       .kind = Kind::mass,
       .fits = "The front wheel bears {have}; its axle may {limit}.",
       .tight = "The front wheel bears about {have}; its axle may {limit}. Weigh it.",
       .clash = "The front wheel bears {have}; its axle may only {limit}.",
       .can_hurt = true,
       .ignoring = {"A failed inspection, bent parts.", 100, 1500, 4},
       .levers = {"pack.x", "pack.parallel"},
       .blocks = Blocks::riding,
       .source = "moments about the rear contact"},
      {.id = "axle-rear",
       .codes = "K61",
       .title = "rear wheel load against the axle's plate",
       .between = {"donor"},
       .needs = {"fact.rear_laden", "donor.axle_rear_max"},
       .judge = [](const In& in) { return at_most(in[0], in[1]); },
       .kind = Kind::mass,
       .fits = "The rear wheel bears {have}; its axle may {limit}.",
       .tight = "The rear wheel bears about {have}; its axle may {limit}. Weigh it.",
       .clash = "The rear wheel bears {have}; its axle may only {limit}.",
       .can_hurt = true,
       .ignoring = {"A failed inspection, bent parts.", 100, 1500, 4},
       .levers = {"pack.x", "rider.luggage_mass", "pack.parallel"},
       .blocks = Blocks::riding,
       .source = "moments about the rear contact"},
      {.id = "tyre-load-front",
       .codes = "K61",
       .title = "front wheel load against the tyre's load index",
       .between = {"tyre_front"},
       .needs = {"fact.front_laden", "fact.tyre_front_load"},
       .judge = [](const In& in) { return at_most(in[0], in[1]); },
       .kind = Kind::mass,
       .fits = "The front tyre bears {have}; its index allows {limit} at full pressure.",
       .tight = "The front tyre bears about {have}; its index allows {limit} at full pressure.",
       .clash = "The front tyre bears {have}; its index allows only {limit}.",
       .can_hurt = true,
       .ignoring = {"A tyre that overheats and bursts.", 100, 300, 1},
       .levers = {"tyre_front", "pack.x"},
       .blocks = Blocks::riding,
       .source = "ETRTO load index"},
      {.id = "tyre-load-rear",
       .codes = "K61",
       .title = "rear wheel load against the tyre's load index",
       .between = {"tyre_rear"},
       .needs = {"fact.rear_laden", "fact.tyre_rear_load"},
       .judge = [](const In& in) { return at_most(in[0], in[1]); },
       .kind = Kind::mass,
       .fits = "The rear tyre bears {have}; its index allows {limit} at full pressure.",
       .tight = "The rear tyre bears about {have}; its index allows {limit} at full pressure.",
       .clash = "The rear tyre bears {have}; its index allows only {limit}.",
       .can_hurt = true,
       .ignoring = {"A tyre that overheats and bursts.", 100, 300, 1},
       .levers = {"tyre_rear", "pack.x"},
       .blocks = Blocks::riding,
       .source = "ETRTO load index"},
      {.id = "front-share-kept",
       .codes = "K62",
       .title = "share of the weight on the front wheel, now and as it was",
       .between = {"donor"},
       .needs = {"fact.front_share", "donor.original_front_share"},
       .judge = [](const In& in) { return at_most(std::fabs(in[0] - in[1]), 0.06).kept_to(0.03); },
       .kind = Kind::share,
       .fits = "The front wheel bears {0} of the weight; it was {1}.",
       .tight =
           "The front wheel bears {0} of the weight; it was {1}. More than three points apart: "
           "it steers differently.",
       .clash = "The front wheel bears {0} of the weight; it was {1}. Move the pack.",
       .can_hurt = true,
       .ignoring = {"Light steering that weaves, or a heavy front.", 0, 600, 3},
       .levers = {"pack.x", "layout.motor_x"}},
      {.id = "front-share-least",
       .codes = "K62",
       .title = "least weight on the front wheel",
       .between = {"donor"},
       .needs = {"fact.front_share"},
       .judge = [](const In& in) { return at_least(in[0], 0.4).kept_to(0.45); },
       .kind = Kind::share,
       .fits = "The front wheel bears {have} of the weight without rider.",
       .tight = "The front wheel bears {have} of the weight without rider; below {practice} the "
                "steering gets light.",
       .clash = "The front wheel bears only {have} of the weight without rider: it lifts under "
                "torque and weaves at speed.",
       .can_hurt = true,
       .ignoring = {"Light steering at speed.", 0, 600, 3},
       .levers = {"pack.x", "layout.motor_x"},
       .blocks = Blocks::riding},
      {.id = "front-wheel-lift",
       .codes = "K63",
       .title = "largest thrust against the one that lifts the front wheel",
       .between = {"motor", "controller"},
       .needs = {"ride.thrust_standstill", "ride.thrust_lift"},
       .judge = [](const In& in) { return at_most(in[0], in[1]); },
       .kind = Kind::force,
       .fits = "Full throttle pushes with {have}; the front wheel lifts at {limit}.",
       .tight = "Full throttle pushes with {have}; the front wheel lifts at about {limit}.",
       .clash = "Full throttle pushes with {have}; the front wheel lifts at {limit}. Soften the "
                "throttle or limit the phase current for the first rides.",
       .can_hurt = true,
       .ignoring = {"A fall backwards at the first full twist.", 0, 3000, 4},
       .levers = {"limits.phase_current", "gearing.rear_teeth"},
       .blocks = Blocks::riding,
       .source = "Cossalter, Motorcycle Dynamics, chapter 3"},
      {.id = "lateral-balance",
       .codes = "K64",
       .title = "centre of gravity off the centre plane",
       .between = {"donor"},
       .needs = {"layout.lateral_offset"},
       .judge = [](const In& in) { return at_most(in[0], 20 * mm).kept_to(10 * mm); },
       .kind = Kind::length,
       .fits = "The centre of gravity is {have} off the centre plane.",
       .tight = "The centre of gravity is {have} off the centre plane; {practice} are usual.",
       .clash =
           "The centre of gravity is {have} off the centre plane: the bike pulls to one side and "
           "falls off its stand.",
       .can_hurt = true,
       .ignoring = {"A bike that pulls, or lies on its pack.", 0, 1000, 3},
       .levers = {"layout.lateral_offset"},
       .blocks = Blocks::riding},
  };
}

namespace {

std::vector<Rule> tyre_rules() {
  return {
      {.id = "tyre-speed-front",
       .codes = "K71",
       .title = "top speed against the front tyre's letter",
       .between = {"tyre_front"},
       .needs = {"ride.speed_top", "fact.tyre_front_speed"},
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(in[1] / 1.1); },
       .kind = Kind::speed,
       .fits = "It does {have}; the front tyre's letter allows {limit}.",
       .tight =
           "It does {have} on the flat, more downhill; the front tyre's letter allows {limit}.",
       .clash = "It does {have}; the front tyre's letter allows only {limit}.",
       .can_hurt = true,
       .ignoring = {"A tyre that fails at speed; a failed inspection.", 80, 200, 1},
       .levers = {"tyre_front", "limits.speed_max"},
       .blocks = Blocks::riding,
       .source = "ETRTO speed symbol; a tenth for descents: common practice, no source"},
      {.id = "tyre-speed-rear",
       .codes = "K71",
       .title = "top speed against the rear tyre's letter",
       .between = {"tyre_rear"},
       .needs = {"ride.speed_top", "fact.tyre_rear_speed"},
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(in[1] / 1.1); },
       .kind = Kind::speed,
       .fits = "It does {have}; the rear tyre's letter allows {limit}.",
       .tight = "It does {have} on the flat, more downhill; the rear tyre's letter allows {limit}.",
       .clash = "It does {have}; the rear tyre's letter allows only {limit}.",
       .can_hurt = true,
       .ignoring = {"A tyre that fails at speed; a failed inspection.", 80, 250, 1},
       .levers = {"tyre_rear", "limits.speed_max"},
       .blocks = Blocks::riding,
       .source = "ETRTO speed symbol; a tenth for descents: common practice, no source"},
      {.id = "tyre-age-front",
       .codes = "K72",
       .title = "age of the front tyre",
       .between = {"tyre_front"},
       .needs = {"tyre_front.age"},
       .judge = [](const In& in) { return at_most(in[0], 10 * year).kept_to(6 * year); },
       .kind = Kind::time,
       .fits = "The front tyre is {have} old.",
       .tight = "The front tyre is {have} old; beyond {practice} its rubber is hard.",
       .clash = "The front tyre is {have} old: it lets go in the wet however deep its tread is.",
       .can_hurt = true,
       .ignoring = {"A fall in the wet.", 80, 200, 1},
       .levers = {"tyre_front"},
       .blocks = Blocks::riding},
      {.id = "tyre-age-rear",
       .codes = "K72",
       .title = "age of the rear tyre",
       .between = {"tyre_rear"},
       .needs = {"tyre_rear.age"},
       .judge = [](const In& in) { return at_most(in[0], 10 * year).kept_to(5 * year); },
       .kind = Kind::time,
       .fits = "The rear tyre is {have} old.",
       .tight = "The rear tyre is {have} old; beyond {practice} its rubber is hard.",
       .clash = "The rear tyre is {have} old: it lets go in the wet however deep its tread is.",
       .can_hurt = true,
       .ignoring = {"A fall in the wet.", 80, 250, 1},
       .levers = {"tyre_rear"},
       .blocks = Blocks::riding},
  };
}

std::vector<Rule> spring_rules() {
  return {
      {.id = "spring-rate-front",
       .codes = "K65",
       .title = "front springs against the new sprung load",
       .between = {"donor"},
       .needs = {"fact.spring_front_fitted", "fact.spring_front_wanted"},
       .judge = rate_suits,
       .kind = Kind::share,
       .fits = "Fitted {0} a leg; the new load wants {1}.",
       .tight =
           "Fitted {0} a leg; the new load wants {1}: {have} off. Preload hides it at rest only.",
       .clash =
           "Fitted {0} a leg; the new load wants {1}: {have} off. It bottoms, or does not move, "
           "and the geometry with it.",
       .ignoring = {"Bottoming under braking.", 90, 300, 2},
       .levers = {"layout.spring_front:=fact.spring_front_wanted", "pack.x"},
       .source = "F = k x; the limits: common practice, no source"},
      {.id = "spring-rate-rear",
       .codes = "K65",
       .title = "rear spring against the new sprung load",
       .between = {"donor"},
       .needs = {"fact.spring_rear_fitted", "fact.spring_rear_wanted"},
       .judge = rate_suits,
       .kind = Kind::share,
       .fits = "Fitted {0} at the wheel; the new load wants {1}.",
       .tight =
           "Fitted {0} at the wheel; the new load wants {1}: {have} off. A step of preload helps "
           "a little.",
       .clash = "Fitted {0} at the wheel; the new load wants {1}: {have} off. Another spring.",
       .ignoring = {"Bottoming; parts that strike at full bump.", 90, 500, 2},
       .levers = {"layout.spring_rear:=fact.spring_rear_wanted", "pack.x"},
       .source = "F = k x; the limits: common practice, no source"},
      {.id = "sag-front",
       .codes = "K66",
       .title = "front sag with rider, as a share of the travel",
       .between = {"donor"},
       .needs = {"donor.sag_rider_front", "donor.travel_front"},
       .judge = sag_usual,
       .kind = Kind::share,
       .fits = "With the rider it sinks {0} of {1}: between a quarter and a third.",
       .tight = "With the rider it sinks {0} of {1}; a quarter to a third is usual. Preload first.",
       .clash =
           "With the rider it sinks {0} of {1}; a quarter to a third is usual, and preload does "
           "not reach that far: another spring rate.",
       .ignoring = {"Bottoming, or a wheel that leaves the road.", 0, 300, 1},
       .levers = {"donor.sag_rider_front"}},
      {.id = "sag-rear",
       .codes = "K66",
       .title = "rear sag with rider, as a share of the travel",
       .between = {"donor"},
       .needs = {"donor.sag_rider_rear", "donor.travel_rear"},
       .judge = sag_usual,
       .kind = Kind::share,
       .fits = "With the rider it sinks {0} of {1}: between a quarter and a third.",
       .tight = "With the rider it sinks {0} of {1}; a quarter to a third is usual. Preload first.",
       .clash =
           "With the rider it sinks {0} of {1}; a quarter to a third is usual, and preload does "
           "not reach that far: another spring rate.",
       .ignoring = {"Bottoming, or a wheel that leaves the road.", 0, 500, 1},
       .levers = {"donor.sag_rider_rear"}},
      {.id = "preload-rear",
       .codes = "K66",
       .title = "rear preload",
       .between = {"donor"},
       .needs = {"donor.preload_rear"},
       .judge = [](const In& in) { return should(in[0] >= 9.9 * mm && in[0] <= 35.1 * mm); },
       .fits = "Preload is {0}: within 10 to 35 mm.",
       .tight = "Preload is {0}; outside 10 to 35 mm the spring's rate is wrong for the load.",
       .ignoring = {"A harsh or a wallowing rear end.", 0, 150, 1},
       .levers = {"donor.preload_rear"},
       .never = "clash",
       .never_why = "it only says that the rate is wrong, which another rule judges"},
      {.id = "ride-height",
       .codes = "K75",
       .title = "ride height against the original",
       .between = {"donor"},
       .needs = {"layout.ride_height_change"},
       .judge = [](const In& in) { return at_most(std::fabs(in[0]), 25 * mm).kept_to(10 * mm); },
       .kind = Kind::length,
       .fits = "Ride height changed by {have}.",
       .tight =
           "Ride height changed by {have}; within {practice} rake and trail stay as they were.",
       .clash = "Ride height changed by {have}: rake and trail are not the maker's any more.",
       .can_hurt = true,
       .ignoring = {"A front that shakes, or does not turn.", 0, 500, 2},
       .levers = {"layout.ride_height_change"}},
  };
}

std::vector<Rule> brake_rules() {
  return {
      {.id = "stop-energy",
       .codes = "K69",
       .title = "energy of a stop from top speed, now and as it was",
       .between = {"donor"},
       .needs = {"fact.stop_ratio", "ride.mass_laden", "ride.speed_top"},
       .judge = [](const In& in) { return at_most(in[0], 1.3).kept_to(1.1); },
       .kind = Kind::share,
       .fits = "A stop of {1} from {2} takes {have} of what the brakes had to swallow before.",
       .tight = "A stop of {1} from {2} takes {have} of what the brakes had to swallow before: new "
                "fluid, pads and hoses at least. Braking by motor fails with a full or cold pack.",
       .clash =
           "A stop of {1} from {2} takes {have} of what the brakes had to swallow before: bigger "
           "brakes, or a speed limit.",
       .can_hurt = true,
       .ignoring = {"Brakes that fade, long stops.", 60, 600, 2},
       .levers = {"limits.speed_max", "pack.parallel"},
       .blocks = Blocks::riding,
       .source = "kinetic energy; a tenth more: common practice, no source"},
      {.id = "regen-slowing",
       .codes = "K70",
       .title = "slowing by the motor on a closed throttle",
       .between = {"controller", "pack", "cell"},
       .needs = {"fact.regen_deceleration"},
       .options = {"fact.regen_on"},
       .applies = [](const In& in) { return in[1] > 0; },
       .judge = [](const In& in) { return at_most(in[0], 0.2 * gravity).kept_to(0.15 * gravity); },
       .kind = Kind::acceleration,
       .fits = "At 40 km/h the motor slows the bike by {have}, by the rear wheel alone.",
       .tight = "At 40 km/h the motor slows the bike by {have}, by the rear wheel alone; beyond "
                "{practice} it is felt in wet bends.",
       .clash =
           "At 40 km/h the motor slows the bike by {have}, by the rear wheel alone: in the wet "
           "it slides.",
       .can_hurt = true,
       .ignoring = {"A rear wheel that slides in a wet bend.", 0, 3000, 2},
       .levers = {"limits.regen_current", "limits.regen=no"},
       .blocks = Blocks::riding},
      {.id = "throttle-ramp",
       .codes = "K70",
       .title = "how fast torque comes and goes",
       .between = {"controller"},
       .needs = {"limits.throttle_ramp"},
       .judge = [](const In& in) { return at_least(in[0], 0.1).kept_to(0.3 - 1e-9); },
       .kind = Kind::time,
       .fits = "Torque takes {have} to come and go.",
       .tight =
           "Torque takes {have} to come and go; {practice} are usual, for the rear wheel's grip "
           "and the chain's sake.",
       .clash = "Torque comes and goes within {have}: a twitch of the hand breaks the rear wheel "
                "loose.",
       .can_hurt = true,
       .ignoring = {"A fall at the first corner.", 0, 3000, 2},
       .levers = {"limits.throttle_ramp"},
       .blocks = Blocks::riding},
      {.id = "stand-lean",
       .codes = "K73",
       .title = "lean on the side stand",
       .between = {"donor"},
       .needs = {"donor.stand_angle"},
       .judge = [](const In& in) { return at_least(in[0], 6 * degree).kept_to(9 * degree); },
       .kind = Kind::angle,
       .fits = "It leans {have} on its stand: ground that slopes by 3 deg leaves 6 deg.",
       .tight =
           "It leans {have} on its stand: on ground that slopes by 3 deg it is less than 6 deg "
           "from upright. There is no gear to hold it either.",
       .clash = "It leans only {have} on its stand: a push or sloping ground tips it over.",
       .can_hurt = true,
       .ignoring = {"A bike that falls on its pack.", 50, 3000, 2},
       .levers = {"donor.stand_angle"}},
      {.id = "fastenings-locked",
       .codes = "K77",
       .title = "locking of motor, sprocket and pack bolts",
       .between = {"motor"},
       .needs = {"layout.locking"},
       .judge = [](const In& in) { return must(in.yes(0)); },
       .fits = "Motor, sprocket and pack bolts are locked and marked.",
       .clash =
           "Motor, sprocket and pack bolts are not locked: they work loose, and the first sign is "
           "a part on the road.",
       .can_hurt = true,
       .ignoring = {"A lost bolt, a thrown chain.", 10, 1500, 1},
       .levers = {"layout.locking=yes"},
       .blocks = Blocks::riding,
       .never = "tight",
       .never_why = "they are locked or they are not"},
  };
}

}  // namespace

std::vector<Rule> running_gear_rules() {
  std::vector<Rule> rules = tyre_rules();
  for (Rule& rule : spring_rules()) rules.push_back(std::move(rule));
  for (Rule& rule : brake_rules()) rules.push_back(std::move(rule));
  return rules;
}

}  // namespace ww::fit
