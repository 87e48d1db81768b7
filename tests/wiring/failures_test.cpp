// SPDX-License-Identifier: MIT
// Single failures: their numbers by hand, guards that follow the answers, cautions that differ.
#include "wiring/failures.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <set>

#include "tests/support/world.h"

namespace ww::wiring {
namespace {

using build::Build;
using support::demo;

std::vector<Failure> of(const Build& build) {
  ride::RideOptions plain;
  plain.draws = 0;
  const auto ride = ride::ride(build, support::cycles(), plain);
  const Circuit c = circuit(build);
  const Sizing sizing = size(build, c, ride);
  Readings sheet(build);
  return failures(sheet, c, sizing);
}

const Failure& named(const std::vector<Failure>& all, std::string_view id) {
  for (const Failure& f : all) {
    if (f.id == id) return f;
  }
  ADD_FAILURE() << id;
  return all.front();
}

const Guard& guard(const Failure& f, std::string_view path, std::string_view rule) {
  for (const Guard& g : f.guards) {
    if (g.path == path && g.rule == rule) return g;
  }
  ADD_FAILURE() << f.id << " " << path;
  return f.guards.front();
}

TEST(Failures, NumbersAreTheSumsBesideThem) {
  Build build = demo("commuter");
  const auto all = of(build);
  const double full = 24 * 3.65;
  // 4 Mohm at each pole: 87.6 V / (4 Mohm + 2 kohm); one pole on the frame: 87.6 mA through 1 kohm.
  const Failure& touch = named(all, "isolation-and-touch");
  EXPECT_NEAR(touch.sums[0].value, full / (4e6 + 2000), 1e-9);
  EXPECT_NEAR(touch.sums[1].value, full / 1000, 1e-9);
  EXPECT_NEAR(touch.sums[2].value, 500 * full, 1e-6);
  const Failure& regen = named(all, "monitor-opens-while-braking");
  Readings sheet(build);
  const double end =
      sheet.or_else("controller.voltage_absolute", sheet.ask("controller.voltage_max"));
  EXPECT_NEAR(regen.sums[0].value, sheet.ask("controller.capacitance") * (end - full) / 30, 1e-12);
  EXPECT_LT(regen.sums[0].value, 0.01);  // milliseconds: no rider is quick enough
  build.limits.regen = build::Answer::no;
  EXPECT_TRUE(std::isinf(named(of(build), "monitor-opens-while-braking").sums[0].value));
}

TEST(Failures, GuardsFollowTheAnswers) {
  Build build = demo("commuter");
  const auto standing = [&](const char* failure, const char* path, const char* rule) {
    return guard(named(of(build), failure), path, rule).standing;
  };
  const auto weld = [&] {
    return standing("contactor-stuck", "wiring.weld_detection", "weld-noticed");
  };
  EXPECT_EQ(weld(), Guard::Standing::there);
  build.wiring.weld_detection = build::Answer::no;
  EXPECT_EQ(weld(), Guard::Standing::lacking);
  build.wiring.weld_detection = build::Answer::unknown;
  EXPECT_EQ(weld(), Guard::Standing::unanswered);
  EXPECT_EQ(standing("supply-lost", "buffer.capacity", "missing-buffer"), Guard::Standing::there);
  build.buffer.reset();
  EXPECT_EQ(standing("supply-lost", "buffer.capacity", "missing-buffer"), Guard::Standing::lacking);
  EXPECT_EQ(named(of(build), "supply-lost").sums[0].value, 0);
  build.wiring.isolation_resistance.value = 20e3;
  EXPECT_EQ(standing("isolation-and-touch", "wiring.isolation_resistance", "isolation-to-frame"),
            Guard::Standing::lacking);
}

TEST(Failures, WordsAndPathsHoldOnAnyBuild) {
  std::mt19937 random(3);
  for (int i = 0; i < 15; ++i) {
    const Build build = i == 0   ? Build{}
                        : i == 1 ? demo("beginner")
                                 : support::random_build(random);
    std::set<std::string> cautions;
    for (const Failure& f : of(build)) {
      EXPECT_TRUE(cautions.insert(f.caution).second) << f.id;
      EXPECT_FALSE(f.guards.empty());
      for (const Guard& g : f.guards) EXPECT_GE(build::schema().find(g.path), 0) << g.path;
      for (const std::string& text : {f.happens, f.noticed, f.caution})
        EXPECT_EQ(text.find("safe"), std::string::npos) << f.id;
    }
    EXPECT_EQ(cautions.size(), 5U);
  }
}

}  // namespace
}  // namespace ww::wiring
