// SPDX-License-Identifier: MIT
// The bike as a whole: wishes against what it will do, papers, money, people. Mass, tyres, springs
// and brakes stand in rules_whole_bike_2.cpp. Invariants:
// 1. A wish is met where the ride's low end (p10) meets it, likely where its middle does: no margin
//    of practice is added, the spread decides.
// 2. Nothing here says that the bike may be ridden: papers are the authority's to judge.
#include "fit/rules_whole_bike.h"
#include "fit/rule_terms.h"

#include <cmath>

namespace ww::fit {

namespace {

using build::Cooling;
using build::State;
using figure::Kind;

constexpr double day = 86400;
constexpr double litre_per_minute = 1e-3 / 60;

// ---- wishes -----------------------------------------------------------------------------------

std::vector<Fact> wish_facts() {
  return {
      {.id = "energy_for_ride",
       .label = "energy that the longest ride takes, reserve kept",
       .kind = Kind::energy,
       .needs = {"wishes.ride_distance", "ride.consumption_mixed"},
       .options = {"assumed.reserve"},
       .compute = [](const In& in) { return in[0] * in[1] / (1 - in.or_else(2, 0.15)); },
       .formula = "distance x consumption in mixed riding / (1 - reserve)"},
      {.id = "charge_time",
       .label = "time for a full charge",
       .kind = Kind::time,
       .needs = {"fact.pack_capacity", "charger.current"},
       .compute = [](const In& in) { return in[0] / in[1] + 0.4 * hour; },
       .formula = "capacity / charger's current + 0.4 h for the slow end"},
      {.id = "pack_share",
       .label = "mass of the pack over the donor's wet mass",
       .kind = Kind::share,
       .needs = {"fact.pack_mass_finished", "donor.mass_wet"},
       .compute = [](const In& in) { return in[0] / in[1]; },
       .formula = "pack / wet mass as it came"},
  };
}

std::vector<Rule> speed_wish_rules() {
  return {
      {.id = "wish-hold-speed",
       .codes = "T01",
       .title = "the speed to hold against what the motor holds for an hour",
       .between = {"motor", "controller", "pack"},
       .needs = {"ride.speed_hold_hour", "wishes.hold_speed"},
       .judge = [](const In& in) { return at_least(in[0], in[1]); },
       .kind = Kind::speed,
       .fits = "You want to hold {limit}; the drive holds {have} for an hour.",
       .tight =
           "You want to hold {limit}; the drive holds {have} for an hour, but the spread of the "
           "figures reaches below.",
       .clash = "You want to hold {limit}; the drive holds only {have} for an hour before the "
                "winding is too hot or the voltage runs out.",
       .ignoring = {"The motor reduces its power after ten to twenty minutes, or cooks.", 300, 1200,
                    6},
       .levers = {"gearing.rear_teeth", "motor"},
       .blocks = Blocks::buying,
       .source = "two-node thermal model from the listed ratings; see docs/trust.md",
       .on_assumptions = true},
      {.id = "wish-hold-in-wind",
       .codes = "",
       .title = "the speed to hold against a headwind of 20 km/h",
       .between = {"motor", "controller", "pack"},
       .needs = {"ride.speed_top_headwind", "wishes.hold_speed"},
       .judge = [](const In& in) { return at_least(in[0], in[1]); },
       .kind = Kind::speed,
       .fits = "Into a wind of 20 km/h the bike still does {have}; you want to hold {limit}.",
       .tight =
           "Into a wind of 20 km/h the bike does {have}, if the figures hold; you want to hold "
           "{limit}.",
       .clash = "Into a wind of 20 km/h the bike does only {have}; you want to hold {limit}.",
       .ignoring = {"Lorries behind you on a windy day.", 0, 1200, 4},
       .levers = {"gearing.rear_teeth", "limits.battery_current", "motor"},
       .source = "pull at the wheel against road load"},
      {.id = "wish-top-speed",
       .codes = "",
       .title = "the top speed wanted against the one there is",
       .between = {"motor", "controller", "pack"},
       .needs = {"ride.speed_top", "wishes.top_speed"},
       .judge = [](const In& in) { return at_least(in[0], in[1]); },
       .kind = Kind::speed,
       .fits = "You want {limit}; on the flat at half charge it does {have}.",
       .tight =
           "You want {limit}; on the flat at half charge it does {have}, but the spread of the "
           "figures reaches below.",
       .clash = "You want {limit}; on the flat at half charge it does only {have}.",
       .ignoring = {"Sprockets, then a bigger pack, bought twice.", 60, 1500, 6},
       .levers = {"gearing.rear_teeth", "gearing.front_teeth", "limits.battery_current", "motor"},
       .blocks = Blocks::buying,
       .source = "pull at the wheel against road load"},
      {.id = "wish-0-100",
       .codes = "",
       .title = "the time from 0 to 100 km/h",
       .between = {"motor", "controller", "pack"},
       .needs = {"ride.time_0_100", "wishes.time_0_100"},
       .applies = [](const In& in) { return in.has(1); },
       .judge = [](const In& in) { return at_most(in[0], in[1]); },
       .kind = Kind::time,
       .fits = "You want 100 km/h within {limit}; it takes {have}.",
       .tight = "You want 100 km/h within {limit}; it takes {have}, but the spread of the figures "
                "reaches beyond.",
       .clash = "You want 100 km/h within {limit}; it takes {have}.",
       .ignoring = {"A bike slower than hoped for.", 0, 1500, 6},
       .levers = {"limits.battery_current", "limits.phase_current", "gearing.rear_teeth", "motor"},
       .source = "pull at the wheel against mass and road load"},
      {.id = "wish-hill",
       .codes = "",
       .title = "the hill at the speed wanted",
       .between = {"motor", "controller", "pack"},
       .needs = {"ride.grade_at_hill_speed", "wishes.hill_grade", "wishes.hill_speed"},
       .judge = [](const In& in) { return at_least(in[0], in[1]); },
       .kind = Kind::share,
       .fits = "At {2} it climbs a grade of {have}; your hill has {limit}.",
       .tight = "At {2} it climbs a grade of {have}; your hill has {limit}, and the spread of the "
                "figures reaches below.",
       .clash = "At {2} it climbs a grade of only {have}; your hill has {limit}.",
       .ignoring = {"A crawl up the hill, with a hot motor.", 60, 1500, 6},
       .levers = {"gearing.rear_teeth", "limits.phase_current", "limits.battery_current", "motor"},
       .blocks = Blocks::buying,
       .source = "pull at the wheel against road load and grade"},
  };
}

std::vector<Rule> range_wish_rules() {
  return {
      {.id = "wish-ride",
       .codes = "",
       .title = "the longest ride against the distance in mixed riding, reserve kept",
       .between = {"pack", "cell"},
       .needs = {"ride.range_mixed_reserve", "wishes.ride_distance"},
       .judge = [](const In& in) { return at_least(in[0], in[1]); },
       .kind = Kind::length,
       .fits = "You want {limit} between plugs; it does {have} with the reserve kept, and even the "
               "low end of the spread is enough.",
       .tight = "You want {limit} between plugs; it likely does {have} with the reserve kept, but "
                "the low end of the spread is short.",
       .clash = "You want {limit} between plugs; it does only {have} with the reserve kept.",
       .ignoring = {"Pushing, or a second pack.", 1500, 3000, 8},
       .levers = {"pack.parallel", "cell", "wishes.hold_speed"},
       .blocks = Blocks::buying,
       .source = "energy of the pack over consumption in mixed riding"},
      {.id = "wish-ride-cold",
       .codes = "",
       .title = "the longest ride on the coldest day",
       .between = {"pack", "cell"},
       .needs = {"ride.range_cold_reserve", "wishes.ride_distance"},
       .judge = [](const In& in) { return at_least(in[0], in[1]); },
       .kind = Kind::length,
       .fits = "On the coldest day it does {have} with the reserve kept; you want {limit}.",
       .tight = "On the coldest day it likely does {have} with the reserve kept; you want {limit}.",
       .clash = "On the coldest day it does only {have} with the reserve kept; you want {limit}. "
                "Slower in winter, a plug at the other end, or more cells.",
       .ignoring = {"Stranded on the first frosty morning.", 0, 3000, 1},
       .levers = {"pack.parallel", "cell"},
       .source = "energy of the cold pack over consumption in mixed riding"},
      {.id = "pack-energy-for-ride",
       .codes = "",
       .title = "energy in the pack against what the longest ride takes",
       .between = {"pack", "cell"},
       .needs = {"ride.energy_pack", "fact.energy_for_ride"},
       .judge = [](const In& in) { return at_least(in[0], in[1]); },
       .kind = Kind::energy,
       .fits = "The ride takes {limit} with the reserve kept; the pack has {have}.",
       .tight = "The ride takes {limit} with the reserve kept; the pack has {have}, and the spread "
                "reaches below.",
       .clash = "The ride takes {limit} with the reserve kept; the pack has {have}: {spare} are "
                "missing.",
       .ignoring = {"Pushing, or a second pack.", 1500, 3000, 8},
       .levers = {"pack.parallel", "cell", "wishes.ride_distance"},
       .blocks = Blocks::buying,
       .source = "distance times consumption"},
      {.id = "wish-charge-time",
       .codes = "",
       .title = "time for a full charge",
       .between = {"pack", "cell", "charger"},
       .needs = {"fact.charge_time", "wishes.charge_time"},
       .judge = [](const In& in) { return at_most(in[0], in[1]); },
       .kind = Kind::time,
       .fits = "You want it full within {limit}; it takes {have}.",
       .tight = "You want it full within {limit}; it takes about {have}.",
       .clash = "You want it full within {limit}; it takes {have}.",
       .ignoring = {"A charger bought twice.", 150, 700, 3},
       .levers = {"charger.current", "charger"},
       .blocks = Blocks::buying,
       .source = "amp-hours over amps; 0.4 h for the slow end: common practice, no source"},
      {.id = "wish-mass",
       .codes = "",
       .title = "the heaviest it may get",
       .between = {"donor"},
       .needs = {"ride.mass", "wishes.mass_max"},
       .judge = [](const In& in) { return at_most(in[0], in[1]); },
       .kind = Kind::mass,
       .fits = "You want {limit} at most; it weighs {have}.",
       .tight = "You want {limit} at most; it weighs about {have}.",
       .clash = "You want {limit} at most; it weighs {have}.",
       .ignoring = {"A bike too heavy to push about.", 0, 1500, 4},
       .levers = {"pack.parallel", "cell", "motor"},
       .blocks = Blocks::buying,
       .source = "sum of the parts"},
      {.id = "pack-mass-share",
       .codes = "",
       .title = "mass of the pack against the bike it goes into",
       .between = {"pack", "donor"},
       .needs = {"fact.pack_share", "fact.pack_mass_finished", "donor.mass_wet"},
       .judge = [](const In& in) { return at_most(in[0], 0.45).kept_to(0.3); },
       .kind = Kind::share,
       .fits =
           "The pack weighs {1}, {have} of the {2} the donor had; {practice} are usual at most.",
       .tight = "The pack weighs {1}, {have} of the {2} the donor had; beyond {practice} springs, "
                "tyres and handling need work.",
       .clash = "The pack weighs {1}, {have} of the {2} the donor had: too much for its frame, "
                "springs and brakes. A bigger donor, or less distance.",
       .ignoring = {"Springs, tyres and brakes after the money is gone.", 300, 2500, 6},
       .levers = {"pack.parallel", "cell"},
       .blocks = Blocks::buying},
  };
}

// ---- papers -----------------------------------------------------------------------------------

std::vector<Rule> paper_rules() {
  return {
      {.id = "papers-clear",
       .codes = "L01",
       .title = "papers of the donor",
       .between = {"donor"},
       .needs = {"donor.title_clear"},
       .judge = [](const In& in) { return must(in.yes(0)); },
       .fits = "Papers are clear and in the seller's name.",
       .clash =
           "Papers are not clear: what is built on this frame may never be registered. Compare "
           "the frame number and settle it before paying.",
       .ignoring = {"The whole build.", 500, 8000, 52},
       .levers = {"donor.title_clear=yes"},
       .blocks = Blocks::buying,
       .never = "tight",
       .never_why = "papers are clear or they are not"},
      {.id = "frame-uncut",
       .codes = "L01",
       .title = "the frame as the maker made it",
       .between = {"donor"},
       .needs = {"donor.frame_cut"},
       .judge = [](const In& in) { return must(!in.yes(0)); },
       .fits = "The frame is neither cut nor welded on.",
       .clash =
           "The frame was cut or welded on: in many places it loses its identity, and the bike "
           "counts as newly built. Ask the authority in writing.",
       .ignoring = {"A full inspection as a new vehicle, or none at all.", 300, 5000, 26},
       .levers = {"donor.frame_cut=no"},
       .blocks = Blocks::riding,
       .never = "tight",
       .never_why = "it was cut or it was not"},
      {.id = "inspector-asked",
       .codes = "L03,L07",
       .title = "the inspector's answer in writing",
       .between = {"donor"},
       .needs = {"donor.inspector_asked"},
       .judge = [](const In& in) { return must(in.yes(0)); },
       .fits = "The inspector was asked; his answer is there in writing.",
       .clash =
           "The inspector was not asked. Class, seats, noise, interference and what he wants to "
           "see differ from place to place: ask for his own list before turning a wrench.",
       .ignoring = {"A bike that is never registered; impounded on the road.", 300, 8000, 26},
       .levers = {"donor.inspector_asked=yes"},
       .blocks = Blocks::riding,
       .never = "tight",
       .never_why = "he was asked or he was not"},
      {.id = "insurer-asked",
       .codes = "L12",
       .title = "the insurer's answer in writing",
       .between = {"donor"},
       .needs = {"donor.insurer_asked"},
       .judge = [](const In& in) { return must(in.yes(0)); },
       .fits = "The insurer knows of the conversion; his answer is there in writing.",
       .clash = "The insurer does not know of the conversion: cover may be void from the first "
                "metre. Letters, photos and receipts.",
       .ignoring = {"No cover after an accident.", 100, 100000, 4},
       .levers = {"donor.insurer_asked=yes"},
       .blocks = Blocks::riding,
       .never = "tight",
       .never_why = "he was asked or he was not"},
      {.id = "charging-allowed",
       .codes = "L13",
       .title = "charging and keeping a pack where the bike stands",
       .between = {"pack"},
       .needs = {"surroundings.charging_allowed"},
       .judge = [](const In& in) { return should(in.yes(0)); },
       .fits = "Landlord and insurer allow charging there.",
       .tight = "Landlord or insurer have not allowed charging there: ask in writing before the "
                "first charge.",
       .ignoring = {"No cover for the house; a charger that has to go.", 0, 100000, 4},
       .levers = {"surroundings.charging_allowed=yes"},
       .never = "clash",
       .never_why = "another place to charge can be found"},
      {.id = "warning-labels",
       .codes = "L06",
       .title = "warning labels where more than 60 V are inside",
       .between = {"pack", "cell"},
       .needs = {"wiring.labels", "fact.pack_voltage_full"},
       .applies = [](const In& in) { return !(in[1] <= 60); },
       .judge = [](const In& in) { return must(in.yes(0)); },
       .fits = "Every enclosure with more than 60 V inside is labelled; the pack has {1}.",
       .clash =
           "The pack has {1} and its enclosures carry no warning labels: whoever helps after a "
           "fall does not know what is inside.",
       .can_hurt = true,
       .ignoring = {"A failed inspection; a helper who is hurt.", 10, 100, 1},
       .levers = {"wiring.labels=yes"},
       .blocks = Blocks::energising,
       .source = "UN R100 5.1.1.5",
       .never = "tight",
       .never_why = "they are there or they are not"},
  };
}

// ---- order of things, people, money -----------------------------------------------------------

/// A bought part that may be sent back for a while.
struct Returned {
  std::string_view id, slot, title, window, state;
};

Rule return_rule(const Returned& r) {
  return {.id = r.id,
          .codes = "O03",
          .title = r.title,
          .between = {r.slot},
          .needs = {r.window},
          .options = {r.state},
          .applies = [](const In& in) { return !in.is(1, State::here); },
          .judge = [](const In& in) { return at_least(in[0], 7 * day).kept_to(14 * day); },
          .kind = Kind::time,
          .fits = "It may be sent back within {have}: enough to test it on the bench.",
          .tight =
              "It may be sent back within {have}: test it on the bench in the week it comes. "
              "Cut cables and opened cases are never taken back.",
          .clash =
              "It may be sent back within only {have}: nothing that cannot be tested in that "
              "time.",
          .ignoring = {"A dead part that is yours.", 100, 1500, 6},
          .levers = {r.slot},
          .blocks = Blocks::nothing};
}

std::vector<Rule> order_rules() {
  return {
      {.id = "motor-after-mock-up",
       .codes = "O01",
       .title = "motor ordered only after the mock-up",
       .between = {"motor"},
       .needs = {"layout.mocked_up"},
       .options = {"motor.state"},
       .applies = [](const In& in) { return !in.is(1, State::ordered) && !in.is(1, State::here); },
       .judge = [](const In& in) { return must(in.yes(0)); },
       .fits = "Mocked up at real size: the motor may be ordered as far as the room goes.",
       .clash = "Not mocked up yet. A block of foam or wood with the motor's measures, sprocket on "
                "the chainline, cables bent: a day's work before the dearest part but one.",
       .ignoring = {"A motor that sits further out than imagined: sold at a loss.", 300, 1500, 12},
       .levers = {"layout.mocked_up=yes"},
       .blocks = Blocks::buying,
       .never = "tight",
       .never_why = "it was mocked up or it was not"},
      return_rule({.id = "motor-returns",
                   .slot = "motor",
                   .title = "time to send the motor back",
                   .window = "motor.return_window",
                   .state = "motor.state"}),
      return_rule({.id = "controller-returns",
                   .slot = "controller",
                   .title = "time to send the controller back",
                   .window = "controller.return_window",
                   .state = "controller.state"}),
      {.id = "contingency",
       .codes = "O07",
       .title = "money kept for what is not on the list",
       .between = {},
       .needs = {"money.contingency"},
       .judge = [](const In& in) { return at_least(in[0], 0.1 - 1e-9).kept_to(0.2 - 1e-9); },
       .kind = Kind::share,
       .fits = "{have} on top of the parts is kept.",
       .tight = "{have} on top of the parts is kept; {practice} are usual, and twice the time.",
       .clash =
           "Only {have} on top of the parts is kept: lugs, glands, bolts and freight alone are "
           "10 to 20 %.",
       .ignoring = {"A build that stops for want of money.", 200, 1500, 12},
       .levers = {"money.contingency"}},
      {.id = "second-person",
       .codes = "O09",
       .title = "a second person for lifting, first power and first ride",
       .between = {},
       .needs = {"surroundings.two_people"},
       .judge = [](const In& in) { return must(in.yes(0)); },
       .fits = "A second person is there: one works, one watches and holds the disconnect.",
       .clash = "Nobody else is there. Engine out, pack in, first power, first spin and first ride "
                "are for two: one works, one watches and holds the disconnect.",
       .can_hurt = true,
       .ignoring = {"An injury with nobody to help.", 0, 100000, 12},
       .levers = {"surroundings.two_people=yes"},
       .blocks = Blocks::energising,
       .never = "tight",
       .never_why = "somebody is there or not"},
      {.id = "settings-saved",
       .codes = "O11",
       .title = "settings saved before each change",
       .between = {"controller"},
       .needs = {"limits.saved"},
       .judge = [](const In& in) { return should(in.yes(0)); },
       .fits = "Settings are saved with a date before each change.",
       .tight = "Settings are not saved: one wrong tap, and days of trying are gone.",
       .ignoring = {"A lost tune.", 0, 50, 1},
       .levers = {"limits.saved=yes"},
       .never = "clash",
       .never_why = "they can be found again"},
      {.id = "coolant-flow",
       .codes = "T04",
       .title = "flow in the cooling loop",
       .between = {"motor"},
       .needs = {"layout.coolant_flow"},
       .options = {"motor.cooling"},
       .applies = [](const In& in) { return in.is(1, Cooling::liquid); },
       .judge =
           [](const In& in) {
             return at_least(in[0], 2 * litre_per_minute).kept_to(4 * litre_per_minute);
           },
       .kind = Kind::volume_flow,
       .fits = "The loop moves {have}.",
       .tight = "The loop moves {have}; {practice} and more are usual. Look for air locks.",
       .clash = "The loop moves only {have}: the coolant boils in the motor.",
       .ignoring = {"A cooked winding.", 50, 1500, 4},
       .levers = {"layout.coolant_flow"},
       .blocks = Blocks::riding},
  };
}

void append(std::vector<Rule>& to, std::vector<Rule> more) {
  for (Rule& rule : more) to.push_back(std::move(rule));
}

}  // namespace

std::vector<Fact> whole_bike_facts() {
  std::vector<Fact> facts = wish_facts();
  for (Fact& fact : weight_facts()) facts.push_back(std::move(fact));
  return facts;
}

std::vector<Rule> whole_bike_rules() {
  std::vector<Rule> rules = speed_wish_rules();
  append(rules, range_wish_rules());
  append(rules, weight_rules());
  append(rules, running_gear_rules());
  append(rules, paper_rules());
  append(rules, order_rules());
  return rules;
}

}  // namespace ww::fit
