// SPDX-License-Identifier: MIT
// The hunt against every combination made on its own, judged rule by rule and ridden alone.
#include <gtest/gtest.h>

#include <map>
#include <thread>

#include "fit/desk.h"
#include "ride/lane_group.h"
#include "search/choosing.h"
#include "tests/search/small.h"

namespace ww::search {
namespace {

using support::cycles;
using support::library;

/// As many threads as asked for, each taking the next task.
ride::Runner workers(int count) {
  return [count](int tasks, const std::function<void(int)>& task) {
    std::atomic<int> next{0};
    std::vector<std::thread> threads;
    for (int i = 0; i < count; ++i)
      threads.emplace_back([&] {
        for (int t = next++; t < tasks; t = next++) task(t);
      });
    for (auto& thread : threads) thread.join();
  };
}

/// A build put together part by part, by the sheet's own means.
Build made(const Space& space, const At& at) {
  Build b = space.base;
  const auto option = [&](Axis axis) -> const Option& {
    return space.of(axis)[at[index_of(axis)]];
  };
  for (const Axis axis : {Axis::motor, Axis::controller, Axis::cell, Axis::chain})
    build::put_part(b, *build::schema().slot(word(axis)), *option(axis).part);
  b.pack->series = option(Axis::series).number;
  b.pack->parallel = option(Axis::parallel).number;
  const bool hub =
      b.motor->type == build::MotorType::pm_hub || b.motor->shaft == build::ShaftForm::wheel;
  b.gearing.drive = hub ? build::FinalDrive::hub : build::FinalDrive::chain;
  b.gearing.front_teeth = hub ? build::unknown_count : option(Axis::front_teeth).number;
  b.gearing.rear_teeth = hub ? build::unknown_count : option(Axis::rear_teeth).number;
  if (hub) b.chain.reset();
  const double cells = b.cell->current_pulse.known() ? b.cell->current_pulse.value
                                                     : b.cell->current_continuous.value;
  // As nominal numbers, since a seller's figure is corrected and amps have conventions.
  const auto values = ride::nominal_values(b, ride::soft_figures(b));
  const auto number = [&](const char* path) {
    return values.at[static_cast<std::size_t>(build::id_of(path))];
  };
  const double pulse =
      std::isnan(number("cell.current_pulse")) ? cells : number("cell.current_pulse");
  if (pulse * b.pack->parallel < number("controller.current_battery"))
    b.limits.battery_current.value = std::floor(pulse * b.pack->parallel / 5) * 5;
  if (number("motor.current_peak") < number("controller.current_phase")) {
    b.limits.phase_current.value = std::floor(number("motor.current_peak") / 5) * 5;
    b.limits.phase_current.convention = figure::Convention::peak;
  }
  return b;
}

/// The first rule that clashes and needs no ride and no derived part and reads an open axis.
std::string clash_alone(const Layout& layout, const Build& build) {
  const ride::Ride no_ride{};
  const fit::Numbers numbers(build);
  const fit::Desk desk(build, numbers, no_ride);
  for (std::size_t rule = 0; rule < fit::rule_book().rules().size(); ++rule) {
    const Reads& reads = layout.reads(rule);
    if (reads.ride || reads.supports != 0 || reads.axes == 0) continue;
    if (desk.clashes(rule)) return std::string(fit::rule_book().rules()[rule].id);
  }
  return {};
}

/// The first rule of core parts that clashes once the bike has been ridden, wishes left aside;
/// "unrideable" where a figure is missing.
std::string clash_riding(const Ground& ground, const Build& build) {
  ride::RideOptions how;
  how.draws = 0;
  how.pushes = false;
  const auto ride = ride::ride(build, cycles(), how);
  if (!ride.possible) return "unrideable";
  const fit::Numbers numbers(build);
  const fit::Desk desk(build, numbers, ride);
  for (std::size_t rule = 0; rule < fit::rule_book().rules().size(); ++rule) {
    const Reads& reads = ground.layout().reads(rule);
    const std::string id(fit::rule_book().rules()[rule].id);
    if (!reads.ride || reads.supports != 0 || id.rfind("wish-", 0) == 0 ||
        fit::rule_book().rules()[rule].blocks == fit::Blocks::nothing)
      continue;
    if (desk.clashes(rule)) return id;
  }
  return {};
}

/// Every set of places; a motor in the wheel once for all gearings.
std::vector<At> all_places(const Space& space, const Layout& layout) {
  std::vector<At> out{At{}};
  for (std::size_t a = 0; a < axis_count; ++a) {
    std::vector<At> next;
    for (const At& at : out) {
      const bool still = a > 0 && !layout.geared(at[0]) && ((1U << a) & gearing_axes) != 0;
      for (std::size_t o = 0; o < (still ? 1 : space.options[a].size()); ++o) {
        At more = at;
        more[a] = static_cast<std::uint8_t>(o);
        next.push_back(more);
      }
    }
    out = std::move(next);
  }
  return out;
}

class Hunts : public testing::TestWithParam<int> {
 protected:
  Hunts()
      : s(small(GetParam())),
        ground(space_of(donor_of(s.donor), library(), s.ask), library(), goods(), cycles()) {}
  Small s;
  Ground ground;
};

TEST_P(Hunts, FindsExactlyWhatFitsAndRidesItAsARideOfTheBuildDoes) {
  HuntOptions options;
  options.strict = false;
  const Hunted hunted = hunt(ground, {}, options);
  std::map<At, const Record*> found;
  for (const Record& record : hunted.records) found[record.at] = &record;
  EXPECT_EQ(found.size(), hunted.records.size());

  const ride::Course course = hunt_course(cycles());
  const ride::Kernel scalar = ride::choose_kernel(1);
  std::size_t fitting = 0, ridden = 0, pulled = 0;
  for (const At& at : all_places(ground.space(), ground.layout())) {
    const Build b = made(ground.space(), at);
    if (const std::string rule = clash_alone(ground.layout(), b); !rule.empty()) {
      EXPECT_EQ(found.count(at), 0U) << rule << ", motor " << b.motor->part << ", controller "
                                     << b.controller->part << ", cell " << b.cell->part;
      continue;
    }
    ++fitting;
    const auto it = found.find(at);
    if (it == found.end()) {
      // By a rule that reads its ride, its chain's among them, or unrideable.
      if (++pulled % 7 == 0) {
        EXPECT_NE(clash_riding(ground, b), "") << b.motor->part;
      }
      continue;
    }
    if (++ridden % 7 != 0) continue;  // one in seven ridden alone: a ride a millisecond
    const Build whole = ground.build_of(at, it->second->picks);
    const auto values = ride::nominal_values(whole, ride::soft_figures(whole));
    ride::LaneGroup lane(whole.motor->type);
    lane.add(ride::bike_numbers(whole, values));
    lane.ride(course, scalar);
    const auto near = [&](Quantity q, ride::Answer answer) {
      const double alone = lane.answer(answer, 0);
      const auto hunted_value = double(it->second->numbers[index_of(q)]);
      if (std::isfinite(alone) || std::isfinite(hunted_value)) {
        EXPECT_NEAR(hunted_value, alone, 1e-6 * std::fabs(alone)) << info_of(q).word;
      }
    };
    near(Quantity::distance, ride::Answer::range_mixed_reserve);
    near(Quantity::punch, ride::Answer::time_0_50);
    near(Quantity::time_0_100, ride::Answer::time_0_100);
    near(Quantity::top_speed, ride::Answer::speed_top);
    near(Quantity::hold_speed, ride::Answer::speed_hold_hour);
    near(Quantity::mass, ride::Answer::mass);
    near(Quantity::hill_grade, ride::Answer::grade_at_hill_speed);
    // The parts of the build are those of its places.
    EXPECT_EQ(whole.motor->part, b.motor->part);
    EXPECT_EQ(whole.pack->series * 100 + whole.pack->parallel,
              b.pack->series * 100 + b.pack->parallel);
    EXPECT_EQ(whole.gearing.rear_teeth, b.gearing.rear_teeth);
    // Only early rules are judged in the hunt; none of them may clash on what it kept.
    if (ridden % 35 == 0) {
      const std::string rule = clash_riding(ground, whole);
      const auto early = ride_rules(ground.layout(), Reading::early);
      const auto* known = rule.empty() ? nullptr : fit::rule_book().find(rule);
      const auto index =
          known == nullptr ? 0 : static_cast<std::size_t>(known - fit::rule_book().rules().data());
      EXPECT_TRUE(known == nullptr || std::find(early.begin(), early.end(), index) == early.end())
          << rule;
    }
    EXPECT_EQ(whole.limits.battery_current.value == whole.limits.battery_current.value,
              b.limits.battery_current.value == b.limits.battery_current.value);
  }
  EXPECT_GT(fitting, 20U) << "too few to mean anything";
  EXPECT_EQ(double(fitting), hunted.tally.fitting);
  EXPECT_EQ(double(pulled),
            hunted.tally.pulled_by_chain + hunted.tally.unrideable + hunted.tally.fell_riding);
}

TEST_P(Hunts, WhatFellAndWhatFitsIsEverything) {
  HuntOptions options;
  options.strict = false;
  const Hunted hunted = hunt(ground, {}, options);
  double sum = hunted.tally.fitting - hunted.tally.fell_riding;
  for (const double fell : hunted.tally.by_rule) sum += fell;
  EXPECT_EQ(sum, ground.layout().combinations());
}

TEST_P(Hunts, AMustLeavesOutWhatMissesItAndNothingElse) {
  HuntOptions loose;
  loose.strict = false;
  const Wishes wishes = wishes_of(ground.space().base);
  ASSERT_FALSE(wishes.musts.empty());
  const Hunted all = hunt(ground, wishes, loose);
  const Hunted kept = hunt(ground, wishes, {});
  std::vector<At> expected, got;
  for (const Record& record : all.records) {
    if (std::all_of(wishes.musts.begin(), wishes.musts.end(), [&](const Must& must) {
          return met(must, record.numbers[index_of(must.quantity)]);
        }))
      expected.push_back(record.at);
  }
  for (const Record& record : kept.records) got.push_back(record.at);
  EXPECT_EQ(got, expected);
}

// Where too much fits to be kept, what gives way least is the same as if all had been.
TEST_P(Hunts, TheNearestAloneGiveWayAsAllDo) {
  HuntOptions loose;
  loose.strict = false;
  // Nobody meets these, and each pulls another way.
  Wishes wishes;
  wishes.musts = {{Quantity::money, 100},
                  {Quantity::mass, 50},
                  {Quantity::top_speed, 90},
                  {Quantity::distance, 2e6}};
  const Hunted all = hunt(ground, wishes, loose);
  loose.nearest = true;
  loose.runner = workers(2);
  const Hunted nearest = hunt(ground, wishes, loose);
  EXPECT_LE(nearest.tally.through, all.tally.through);
  EXPECT_LT(nearest.records.size(), all.records.size());
  const auto of_all = relaxations(all.records, wishes.musts);
  const auto of_nearest = relaxations(nearest.records, wishes.musts);
  ASSERT_FALSE(of_all.empty());
  ASSERT_EQ(of_nearest.size(), of_all.size());
  for (std::size_t i = 0; i < of_all.size(); ++i) {
    EXPECT_EQ(of_nearest[i].missed, of_all[i].missed);
    EXPECT_EQ(nearest.records[of_nearest[i].record].at, all.records[of_all[i].record].at);
  }
}

// One wish let go, the others kept: the least it must give is that of all that fits.
TEST_P(Hunts, OneWishLetGoGivesNoMoreThanItMust) {
  HuntOptions options;
  options.strict = false;
  Wishes wishes;
  wishes.musts = {{Quantity::money, 100}, {Quantity::top_speed, 5}, {Quantity::distance, 1000}};
  const Hunted all = hunt(ground, wishes, options);
  HuntOptions one;
  one.may_miss = 1;
  one.nearest = true;
  one.runner = workers(2);
  const Hunted found = hunt(ground, wishes, one);
  double least = std::numeric_limits<double>::infinity();
  for (const Relaxation& relaxation : relaxations(all.records, wishes.musts)) {
    if (relaxation.steps.size() == 1 && relaxation.steps[0].must == 0)
      least = relaxation.steps[0].value;
  }
  ASSERT_TRUE(std::isfinite(least));
  const auto of_found = relaxations(found.records, wishes.musts);
  ASSERT_EQ(of_found.size(), 1U);
  EXPECT_EQ(of_found[0].steps.size(), 1U);
  EXPECT_EQ(of_found[0].steps[0].value, least);
}

TEST_P(Hunts, TheSameForOneTwoAndSevenWorkers) {
  HuntOptions options;
  options.strict = false;
  const Hunted one = hunt(ground, {}, options);
  for (const int count : {2, 7}) {
    options.runner = workers(count);
    const Hunted more = hunt(ground, {}, options);
    ASSERT_EQ(more.records.size(), one.records.size());
    for (std::size_t i = 0; i < one.records.size(); ++i) {
      ASSERT_EQ(more.records[i].at, one.records[i].at);
      ASSERT_EQ(more.records[i].picks, one.records[i].picks);
      for (std::size_t q = 0; q < quantity_count; ++q) {
        const float a = one.records[i].numbers[q], b = more.records[i].numbers[q];
        ASSERT_TRUE(a == b || (std::isnan(a) && std::isnan(b)));
      }
    }
    EXPECT_EQ(more.tally.by_rule, one.tally.by_rule);
    EXPECT_EQ(more.tally.fitting, one.tally.fitting);
  }
}

INSTANTIATE_TEST_SUITE_P(ThreeLibraries, Hunts, testing::Values(0, 1, 2));

// Two motors of some 10 kW for a licence that ends below: the licence is named, and with another
// licence just as much fits as the search says.
TEST(Locks, NameWhatIsInTheWayAndHowMuchWouldFit) {
  Ask ask = everything_open();
  only(ask, "motor", {"harrowmere-hornbeam", "vessendahl-medlar"});
  only(ask, "controller", {"harrowmere-weir"});
  only(ask, "cell", {"mossvane-chert-105"});
  ask.series = {22, 24};
  ask.parallel = {1, 1};
  ask.rear_teeth = {54, 60};
  Build build = support::demo("commuter");
  const Shop shop{library(), goods(), cycles()};
  build.wishes.licence = build::Licence::moped_4kW;
  const Choosing shut = choose(build, shop, ask, wishes_of(build), {});
  EXPECT_EQ(shut.hunted.tally.fitting, 0);
  ASSERT_EQ(shut.locks.size(), 1U);
  ASSERT_EQ(shut.locks[0].rules.size(), 1U);
  EXPECT_EQ(fit::rule_book().rules()[shut.locks[0].rules[0]].id, "licence-power");
  build.wishes.licence = build::Licence::full;
  const Choosing open = choose(build, shop, ask, wishes_of(build), {});
  EXPECT_GT(open.hunted.tally.fitting, 0);
  EXPECT_EQ(open.hunted.tally.fitting, shut.locks[0].fitting);
  EXPECT_TRUE(open.locks.empty());
}

TEST(Hunt, StopsWhenToldAndSaysSo) {
  const Small s = small(0);
  const Ground ground(space_of(donor_of(s.donor), library(), s.ask), library(), goods(), cycles());
  HuntOptions options;
  int asked = 0;
  options.watch = [&](const Progress& progress) {
    EXPECT_EQ(progress.tasks_done, static_cast<std::size_t>(++asked));
    return asked < 3;
  };
  const Hunted hunted = hunt(ground, {}, options);
  EXPECT_EQ(asked, 3);
  EXPECT_TRUE(hunted.tally.stopped);
}

TEST(Hunt, ARegearedBikeIsTheBikeMadeWithThoseTeeth) {
  Build b = support::demo("commuter");
  const auto before = ride::nominal_values(b, ride::soft_figures(b));
  auto bike = ride::bike_numbers(b, before);
  b.gearing.front_teeth += 2;
  b.gearing.rear_teeth -= 5;
  const auto after = ride::nominal_values(b, ride::soft_figures(b));
  ride::regear(bike, b, after);
  EXPECT_EQ(bike.at, ride::bike_numbers(b, after).at);
}

TEST(Hunt, OwnPartsComeFirst) {
  Ask ask = everything_open();
  ask.own = {"motor/harrowmere-hornbeam"};
  const Space first = space_of(donor_of("commuter"), library(), ask);
  ASSERT_EQ(first.of(Axis::motor).size(), 1U);
  EXPECT_TRUE(first.of(Axis::motor)[0].own);
  ask.own_first = false;
  EXPECT_GT(space_of(donor_of("commuter"), library(), ask).of(Axis::motor).size(), 20U);
}

TEST(Hunt, WhatIsHereStays) {
  const Build b = support::demo("commuter");
  const std::uint32_t open = open_by_sheet(b);
  EXPECT_EQ(open & bit(Axis::motor), 0U);
  Build thought = b;
  thought.motor->state = build::State::thinking;
  EXPECT_NE(open_by_sheet(thought) & bit(Axis::motor), 0U);
  Ask ask;
  ask.open = open_by_sheet(thought);
  const Space space = space_of(thought, library(), ask);
  EXPECT_FALSE(space.base.motor.has_value());
  EXPECT_TRUE(space.base.controller.has_value());
  EXPECT_EQ(space.base.limits.battery_current.value, b.limits.battery_current.value);
}

}  // namespace
}  // namespace ww::search
