// SPDX-License-Identifier: MIT
// The order in which settings must act: what is suggested keeps it, what breaks it is seen.
#include "wiring/settings.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "tests/support/world.h"

namespace ww::wiring {
namespace {

using build::Build;
using support::demo;

/// Types in whatever is suggested.
Build as_suggested(Build build) {
  for (const Ladder& ladder : ladders(build)) {
    for (const Rung& rung : ladder.rungs) {
      if (rung.path.empty() || std::isnan(rung.typed_suggested)) continue;
      build::set_number(build, build::id_of(rung.path), rung.typed_suggested);
      auto* figure = build::figure_at(build, build::id_of(rung.path));
      if (ladder.kind == figure::Kind::phase_current) figure->convention = figure::Convention::peak;
    }
  }
  return build;
}

const Rung& rung_of(const std::vector<Ladder>& all, std::string_view path, std::size_t ladder) {
  for (const Rung& rung : all[ladder].rungs) {
    if (rung.path == path) return rung;
  }
  ADD_FAILURE() << path;
  return all[0].rungs[0];
}

void expect_in_order(const Build& build) {
  for (const Ladder& ladder : ladders(build)) {
    for (const Rung& rung : ladder.rungs) {
      EXPECT_NE(rung.standing, Standing::wrong) << ladder.title << ": " << rung.label;
      EXPECT_NE(rung.standing, Standing::close) << ladder.title << ": " << rung.label;
    }
  }
}

TEST(Settings, WhatIsSuggestedIsInOrder) {
  for (const char* name : {"commuter", "trail", "road", "reference"}) {
    SCOPED_TRACE(name);
    Build build = demo(name);
    build.limits = {};
    // Twice: some suggestions follow from others once these are typed.
    expect_in_order(as_suggested(as_suggested(build)));
  }
}

TEST(Settings, WhatIsSuggestedIsInOrderOnBuildsThrownTogether) {
  std::mt19937 random(7);
  for (int i = 0; i < 100; ++i) {
    SCOPED_TRACE(i);
    Build build = support::random_build(random);
    build::put_part(build, *build::schema().slot("fuse"), support::pick("fuse", random));
    build::put_part(build, *build::schema().slot("throttle"), support::pick("throttle", random));
    build.limits = {};
    // A controller that the full pack is too much for is the checks' matter, no setting mends it.
    build.controller->voltage_max.value = 1.2 * build.pack->series * build.cell->voltage_max.value;
    expect_in_order(as_suggested(as_suggested(build)));
  }
}

TEST(Settings, AMonitorThatComesFirstIsSeen) {
  Build build = as_suggested(demo("commuter"));
  build.limits.bms_cell_min.value = 1.1 * build.limits.hard_cut.value / build.pack->series;
  auto all = ladders(build);
  EXPECT_EQ(rung_of(all, "limits.bms_cell_min", 0).standing, Standing::wrong);
  EXPECT_FALSE(all[0].holds());
  build.limits.bms_cell_min.value = 0.99 * build.limits.hard_cut.value / build.pack->series;
  all = ladders(build);
  EXPECT_EQ(rung_of(all, "limits.bms_cell_min", 0).standing, Standing::close);
}

TEST(Settings, WhatIsNotSetIsNotInOrder) {
  Build build = demo("commuter");
  build.limits = {};
  for (const Ladder& ladder : ladders(build)) {
    for (const Rung& rung : ladder.rungs) {
      if (rung.path.empty()) continue;
      EXPECT_TRUE(std::isnan(rung.value)) << rung.label;
      EXPECT_EQ(rung.standing, Standing::unknown) << rung.label;
      EXPECT_FALSE(rung.why.empty());
    }
  }
}

TEST(Settings, TheBatteryCurrentIsTheLeastOfWhatCarriesIt) {
  Build build = demo("commuter");
  build.cell->current_pulse.value = 120;
  const auto all = ladders(build);
  EXPECT_NEAR(rung_of(all, "limits.battery_current", 3).suggested, 120 * build.pack->parallel,
              1e-9);
}

}  // namespace
}  // namespace ww::wiring
