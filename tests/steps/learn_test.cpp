// SPDX-License-Identifier: MIT
// What readings teach: only what passed, by the sum that is shown, and what it moves.
#include "steps/learn.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "tests/steps/bench.h"

namespace ww::steps {
namespace {

const Learnt* of(const Lesson& lesson, const std::string& path) {
  const auto at = std::find_if(lesson.learnt.begin(), lesson.learnt.end(),
                               [&](const Learnt& l) { return l.path == path; });
  return at == lesson.learnt.end() ? nullptr : &*at;
}

struct Bench {
  Build build = support::demo("commuter");
  ride::Ride ride;
  Bench() {
    std::mt19937 random(1);
    measure_cells(build, random);
    ride = plain_ride(build);
    walked(build, ride);
  }
  Lesson lesson() const { return lesson_of(build, protocol(build, ride)); }
};

TEST(Learn, TakesWhatPassed) {
  Bench b;
  log(b.build, "free-speed", "4300 rpm");
  const Lesson lesson = b.lesson();
  const Learnt* k = of(lesson, "motor.speed_constant");
  ASSERT_NE(k, nullptr);
  EXPECT_EQ(k->from, "free-speed");
  EXPECT_EQ(k->figure.evidence, figure::Evidence::measured);
  EXPECT_EQ(k->figure.date, "2026-11-28");
  // By hand: 4300 rpm at the pack's volts, 95 % of them usable.
  const double volts = protocol(b.build, b.ride).step("pack-voltage")->reading()->value;
  const double rpm = std::numbers::pi / 30;
  EXPECT_NEAR(k->figure.value, 4300 * rpm / (0.95 * volts), 1e-6);
  const Learnt* cell = of(lesson, "cell.resistance");
  ASSERT_NE(cell, nullptr);
  EXPECT_EQ(cell->from, "loop-resistance");  // later than the cells alone
  const double loop = protocol(b.build, b.ride).step("loop-resistance")->reading()->value;
  EXPECT_NEAR(24 * (cell->figure.value + 0.12e-3) + 3.6e-3, loop, 1e-9);
  for (const Learnt& l : lesson.learnt) {
    const auto& info = *build::schema()[build::id_of(l.path)].info;
    EXPECT_GE(l.figure.value, info.low) << l.path;
    EXPECT_LE(l.figure.value, info.high) << l.path;
    EXPECT_FALSE(l.sum.empty()) << l.path;
  }
  EXPECT_GE(lesson.learnt.size(), 12U);
}

TEST(Learn, TakesNothingFromAReadingThatDidNotPass) {
  Bench b;
  const double before = of(b.lesson(), "controller.capacitance")->figure.value;
  log(b.build, "precharge-time", "20 s");
  const Lesson lesson = b.lesson();
  EXPECT_GT(before, 0);
  EXPECT_EQ(of(lesson, "controller.capacitance"), nullptr);
  EXPECT_EQ(of(lesson, "motor.no_load_current"), nullptr);  // it comes after: stopped
  EXPECT_NE(of(lesson, "motor.resistance"), nullptr);       // that does not
  const auto left = std::find_if(lesson.left.begin(), lesson.left.end(),
                                 [](const NotLearnt& l) { return l.from == "precharge-time"; });
  ASSERT_NE(left, lesson.left.end());
  EXPECT_NE(left->why.find("outside"), std::string::npos);
}

TEST(Learn, WhatIsTaughtComesBackFromTheSheet) {
  Bench b;
  const Lesson lesson = b.lesson();
  const Build taught_build = taught(b.build, lesson.learnt);
  const std::string text = build::write_sheet(taught_build, support::library());
  const auto again = build::read_sheet({"again", text}, support::library());
  ASSERT_TRUE(again.errors.empty()) << describe(again.errors[0]);
  EXPECT_EQ(build::write_sheet(again.build, support::library()), text);
  const auto a = ride::nominal_values(taught_build, ride::soft_figures(taught_build));
  const auto c = ride::nominal_values(again.build, ride::soft_figures(again.build));
  for (const Learnt& l : lesson.learnt) {
    const auto id = static_cast<std::size_t>(build::id_of(l.path));
    EXPECT_NEAR(a.at[id], l.figure.value, 1e-9 * std::abs(l.figure.value)) << l.path;
    EXPECT_NEAR(c.at[id], a.at[id], 1e-12 * std::abs(a.at[id])) << l.path;
  }
  // Taught once, there is nothing new to learn from the same readings.
  const Lesson twice = lesson_of(taught_build, protocol(taught_build, b.ride));
  for (const Learnt& l : twice.learnt) {
    const Learnt* first = of(lesson, l.path);
    if (first != nullptr && l.path != "controller.capacitance") {
      EXPECT_NEAR(l.figure.value, first->figure.value, 1e-6 * std::abs(l.figure.value)) << l.path;
    }
  }
}

TEST(Learn, SaysWhatMovedAndWhy) {
  Bench b;
  std::vector<Learnt> learnt;
  build::Figure drag;
  drag.value = 0.9 * 0.55;
  drag.evidence = figure::Evidence::measured;
  build::Figure rest;
  rest.value = 0.85;
  rest.evidence = figure::Evidence::measured;
  learnt.push_back({"throttle.voltage_rest", rest, "throttle-rest", "as read", 0.8});
  learnt.push_back({"donor.drag_area", drag, "by hand", "as read", 0.5});
  const auto moved = moves(b.build, learnt, plain_ride);
  ASSERT_FALSE(moved.empty());
  for (const Move& m : moved) {
    EXPECT_EQ(m.cause, 1) << info_of(m.answer).key;  // the grip moves nothing on the road
    EXPECT_NEAR(m.cause_share, 1, 1e-6) << info_of(m.answer).key;
  }
  EXPECT_TRUE(moves(b.build, {learnt[0]}, plain_ride).empty());
}

}  // namespace
}  // namespace ww::steps
