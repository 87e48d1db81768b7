// SPDX-License-Identifier: MIT
// Charts of the demos: all can be drawn or say why not; what they show agrees with the answers.
#include "views/plots.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <sstream>

#include "plan/dream.h"
#include "plan/parts_list.h"
#include "tests/support/drawings.h"
#include "tests/support/world.h"

namespace ww::views {
namespace {

using support::demo;

const std::vector<std::string> demos{"beginner", "commuter", "dream",    "reference",
                                     "road",     "trail",    "two-parts"};

/// One demo, ridden and checked once.
struct World {
  build::Build build;
  ride::Ride ride;
  std::vector<fit::Finding> findings;
  plan::PartsList list;
  Subject subject(figure::System units = figure::System::metric) const {
    return {.build = &build, .ride = &ride, .units = units, .findings = &findings, .list = &list};
  }
};
const World& world(const std::string& name) {
  static std::map<std::string, World> all;
  const auto [at, fresh] = all.try_emplace(name);
  World& w = at->second;
  if (fresh) {
    const auto own = demo(name);
    w.build = plan::sketch(own, support::library()).build;
    w.ride = ride::ride(w.build, support::cycles(), {.draws = 64, .pushes = false});
    w.findings =
        fit::check(own, w.ride, support::library(), support::cycles(), {.ways_out = false});
    w.list = plan::parts_list(w.build, support::library(), {});
  }
  return w;
}

TEST(Charts, EveryOneOfEveryDemo) {
  for (const auto& name : demos) {
    for (const ChartEntry& entry : chart_list()) {
      for (const auto units : {figure::System::metric, figure::System::imperial}) {
        const auto chart = entry.make(world(name).subject(units));
        const std::string of = name + " " + std::string(entry.key);
        EXPECT_EQ(chart.key, entry.key);
        EXPECT_FALSE(chart.title.empty()) << of;
        EXPECT_NE(chart.missing.empty(), chart.says.empty())
            << of << ": " << chart.says << chart.missing;
        if (entry.needs_ride && world(name).ride.possible && name != "trail" &&
            name != "two-parts" && entry.key != "hill-heat") {
          EXPECT_EQ(chart.missing, "") << of;
        }
        for (const double width : {390.0, 760.0, 1200.0}) {
          const auto drawing = draw::drawing_of(chart, {.width_px = width});
          support::check_svg(drawing, of);
          EXPECT_EQ(support::overlap_in(drawing), "") << of << " at " << width;
          EXPECT_EQ(support::off_the_sheet(drawing), "") << of << " at " << width;
        }
        const auto table = draw::table_of(chart);
        EXPECT_EQ(table.rows.empty(), !chart.missing.empty()) << of;
        for (const auto& row : table.rows) EXPECT_EQ(row.size(), table.heads.size()) << of;
        const std::string csv = draw::csv_of(chart);
        EXPECT_EQ(csv, draw::csv_of(entry.make(world(name).subject(units)))) << of;
        EXPECT_FALSE(support::not_a_number(csv)) << of;
      }
    }
  }
}

TEST(Charts, WithoutARideTheMissingPartsAreNamed) {
  const build::Build empty;
  const auto ride = ride::ride(empty, support::cycles(), {.draws = 0});
  for (const ChartEntry& entry : chart_list()) {
    const auto chart = entry.make({.build = &empty, .ride = &ride});
    EXPECT_FALSE(chart.missing.empty()) << entry.key;
    if (entry.needs_ride) {
      EXPECT_NE(chart.missing.find("motor"), std::string::npos) << chart.missing;
    }
    support::check_svg(draw::drawing_of(chart), std::string(entry.key));
    EXPECT_EQ(draw::csv_of(chart), "");
  }
}

draw::Curve curve_of(const draw::Chart& chart, const std::string& label) {
  for (const auto& curve : std::get<draw::Plot>(chart.body).curves) {
    if (curve.label.find(label) != std::string::npos) return curve;
  }
  throw std::logic_error("no curve " + label);
}
double at_x(const draw::Curve& curve, double x) {
  for (std::size_t i = 0; i + 1 < curve.points.size(); ++i) {
    const auto a = curve.points[i], b = curve.points[i + 1];
    if (a.x <= x && x <= b.x) return a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x);
  }
  return std::nan("");
}

TEST(Chances, PassThroughTheTenthsThatTheListAndTheCalendarName) {
  for (const char* name : {"commuter", "beginner", "dream"}) {
    const auto& w = world(name);
    const auto money = curve_of(money_chart(w.subject()), "chance");
    EXPECT_NEAR(at_x(money, double(w.list.total_low) / 100), 10, 0.1) << name;
    EXPECT_NEAR(at_x(money, double(w.list.total) / 100), 50, 0.1) << name;
    EXPECT_NEAR(at_x(money, double(w.list.total_high) / 100), 90, 0.1) << name;
    const auto months = curve_of(months_chart(w.subject()), "chance");
    const auto calendar = plan::calendar(w.build);
    EXPECT_NEAR(at_x(months, calendar.months_low), 10, 0.2) << name;
    EXPECT_NEAR(at_x(months, calendar.months_usual), 50, 0.2) << name;
    EXPECT_NEAR(at_x(months, calendar.months_high), 90, 0.2) << name;
    for (const auto* curve : {&money, &months}) {
      for (std::size_t i = 1; i < curve->points.size(); ++i) {
        EXPECT_LT(curve->points[i - 1].x, curve->points[i].x) << name;
        EXPECT_LT(curve->points[i - 1].y, curve->points[i].y) << name;
      }
    }
  }
}

TEST(Chances, WhatIsThereIsHeldAgainstTheMiddle) {
  auto w = world("commuter");
  const double middle = double(w.list.total) / 100;
  build::set_number(w.build, build::id_of("wishes.budget"), middle);
  EXPECT_NE(money_chart(w.subject()).says.find("is enough: about 50 in 100"), std::string::npos);
  build::set_number(w.build, build::id_of("wishes.budget"), middle / 3);
  EXPECT_NE(money_chart(w.subject()).says.find("less than 1 in 100"), std::string::npos);
}

TEST(Thrust, CrossesTheRoadLoadAtTheTopSpeed) {
  for (const char* name : {"commuter", "road", "beginner", "dream", "reference"}) {
    const auto& w = world(name);
    const auto chart = thrust_chart(w.subject());
    const double top = w.ride.nominal[ride::Answer::speed_top] * 3.6;
    const auto thrust = curve_of(chart, "thrust");
    const auto road = curve_of(chart, "road load");
    EXPECT_GT(at_x(thrust, 0.97 * top), at_x(road, 0.97 * top)) << name;
    EXPECT_LT(at_x(thrust, 1.03 * top), at_x(road, 1.03 * top)) << name;
    const auto& marker = std::get<draw::Plot>(chart.body).markers.at(0);
    EXPECT_NEAR(marker.at.x, top, 1e-9);
    EXPECT_NEAR(marker.at.y, at_x(road, top), 0.01 * marker.at.y) << name;
    // The stretches cover the curve from end to end without a gap.
    const auto& s = thrust.stretches;
    ASSERT_FALSE(s.empty());
    EXPECT_DOUBLE_EQ(s.front().from, thrust.points.front().x);
    EXPECT_DOUBLE_EQ(s.back().to, thrust.points.back().x);
    for (std::size_t i = 0; i + 1 < s.size(); ++i) {
      EXPECT_DOUBLE_EQ(s[i].to, s[i + 1].from);
      EXPECT_NE(s[i].label, s[i + 1].label);
    }
  }
}

TEST(Gearing, MoreTeethPullHarderAndEndSooner) {
  const auto chart = gearing_chart(world("commuter").subject());
  const auto few = curve_of(chart, "15 to 51"), now = curve_of(chart, "15 to 57"),
             many = curve_of(chart, "15 to 63");
  EXPECT_LT(at_x(few, 20), at_x(now, 20));
  EXPECT_LT(at_x(now, 20), at_x(many, 20));
  // Phase current governs there: thrust goes with the ratio.
  EXPECT_NEAR(at_x(many, 20) / at_x(now, 20), 63.0 / 57, 0.01);
  EXPECT_LT(many.points.back().x, now.points.back().x);
  EXPECT_FALSE(gearing_chart(world("trail").subject()).missing.empty());
}

TEST(MotorMap, IsEfficientWhereItMayBeAndEmptyBeyondTheEdge) {
  const auto chart = motor_map_chart(world("commuter").subject());
  const auto& field = std::get<draw::Field>(chart.body);
  ASSERT_EQ(field.values.size(), field.xs.size() * field.ys.size());
  const auto& edge = field.outlines.at(0);
  int inside = 0;
  for (std::size_t iy = 0; iy < field.ys.size(); ++iy) {
    for (std::size_t ix = 0; ix < field.xs.size(); ++ix) {
      const double value = field.values[iy * field.xs.size() + ix];
      const double most = at_x(edge, field.xs[ix]);
      if (field.ys[iy] > 1.01 * most) {
        EXPECT_TRUE(std::isnan(value));
      }
      if (field.ys[iy] < 0.99 * most) {
        EXPECT_GT(value, 0);
        EXPECT_LT(value, 100);
        ++inside;
      }
    }
  }
  EXPECT_GT(inside, 60);
}

TEST(Acceleration, PassesThroughTheAnswers) {
  for (const char* name : {"commuter", "road", "reference"}) {
    const auto& w = world(name);
    const auto curve = curve_of(acceleration_chart(w.subject()), "speed");
    EXPECT_NEAR(at_x(curve, w.ride.nominal[ride::Answer::time_0_50]), 50, 0.5) << name;
  }
}

TEST(Distance, MeetsTheAnswerAtTheSpeedToHold) {
  for (const char* name : {"commuter", "road", "reference"}) {
    const auto& w = world(name);
    const auto curve = curve_of(distance_chart(w.subject()), "usual day");
    const double hold =
        w.build.wishes.hold_speed.known() ? w.build.wishes.hold_speed.value * 3.6 : 90;
    const auto& band = w.ride.band(ride::Answer::range_hold_reserve);
    EXPECT_NEAR(at_x(curve, hold), band.p50 / 1000, 0.03 * band.p50 / 1000) << name;
    for (const auto& s : curve.band) {
      EXPECT_LE(s.low, at_x(curve, s.x) + 1e-9);
      EXPECT_GE(s.high, at_x(curve, s.x) - 1e-9);
    }
  }
}

TEST(Sag, FallsWithCurrentAndCold) {
  const auto chart = sag_chart(world("commuter").subject());
  const auto& curves = std::get<draw::Plot>(chart.body).curves;
  ASSERT_EQ(curves.size(), 4U);
  for (const auto& curve : curves) {
    for (std::size_t i = 0; i + 1 < curve.points.size(); ++i)
      EXPECT_GT(curve.points[i].y, curve.points[i + 1].y);
  }
  for (std::size_t i = 1; i < curves[0].points.size(); ++i) {
    EXPECT_GT(curves[0].points[i].y, curves[2].points[i].y);  // warm over cold
    EXPECT_GT(curves[1].points[i].y, curves[3].points[i].y);
    EXPECT_GT(curves[0].points[i].y, curves[1].points[i].y);  // half over a tenth
  }
}

TEST(Voltages, ThePackRunsFromEmptyToFull) {
  const auto& w = world("commuter");
  const auto chart = voltage_windows_chart(w.subject());
  const auto& bars = std::get<draw::Bars>(chart.body).bars;
  EXPECT_DOUBLE_EQ(bars.at(0).from, w.build.pack->series * w.build.cell->voltage_min.value);
  EXPECT_DOUBLE_EQ(bars.at(0).to, w.build.pack->series * w.build.cell->voltage_max.value);
  EXPECT_GT(bars.size(), 10U);
}

TEST(Currents, AreWhatThePartsStand) {
  const auto& w = world("commuter");
  const auto chart = currents_chart(w.subject());
  const auto fuse = curve_of(chart, "fuse");
  // The listed melting times, read off the curve.
  for (const auto& [times, time] : {std::pair{2.0, w.build.fuse->melt_time_2x.value},
                                    {10.0, w.build.fuse->melt_time_10x.value}}) {
    double nearest = 1e9, found = 0;
    for (const auto& p : fuse.points) {
      if (std::abs(p.x - times * w.build.fuse->current.value) > nearest) continue;
      nearest = std::abs(p.x - times * w.build.fuse->current.value);
      found = p.y;
    }
    EXPECT_NEAR(found, time, 0.35 * time) << times;
  }
  const auto cells = curve_of(chart, "cells");
  EXPECT_DOUBLE_EQ(cells.points.front().x,
                   w.build.cell->current_pulse.value * w.build.pack->parallel);
  EXPECT_DOUBLE_EQ(cells.points.back().x,
                   w.build.cell->current_continuous.value * w.build.pack->parallel);
}

TEST(PartByPart, ShowsTheWorstBetweenTwo) {
  const auto& w = world("beginner");
  const auto chart = part_by_part_chart(w.subject());
  const auto& m = std::get<draw::Matrix>(chart.body);
  std::map<std::string, int> words;
  for (const auto& cell : m.cells) ++words[cell.word];
  EXPECT_GT(words["clash"], 5);
  // Each clash of a rule between two parts on the sheet has its cell.
  for (const auto& finding : w.findings) {
    if (finding.verdict != fit::Verdict::clash || finding.rule->between.size() != 2) continue;
    bool found = false;
    for (const auto& cell : m.cells) {
      std::vector<std::string> pair;
      for (const auto& key : cell.tag.keys) {
        if (key.name == "part" || key.name == "other") pair.push_back(key.value);
      }
      for (const auto a : finding.rule->between) {
        for (const auto b : finding.rule->between)
          found |= pair == std::vector<std::string>{std::string(a), std::string(b)} &&
                   cell.word == "clash";
      }
    }
    EXPECT_TRUE(found) << finding.rule->id;
  }
}

TEST(Charts, AreFoundByName) {
  EXPECT_EQ(find_chart("thrust"), &chart_list()[0]);
  EXPECT_EQ(find_chart("no-such"), nullptr);
}

}  // namespace
}  // namespace ww::views
