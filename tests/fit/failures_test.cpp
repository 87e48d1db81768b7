// SPDX-License-Identifier: MIT
// The failures of room wiring point at checks: each must be one.
#include "wiring/failures.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "fit/engine.h"
#include "tests/support/world.h"

namespace ww::fit {
namespace {

TEST(Failures, NameChecksThatThereAre) {
  const build::Build build = support::demo("commuter");
  const auto circuit = wiring::circuit(build);
  wiring::Readings sheet(build);
  int named = 0;
  for (const auto& failure : wiring::failures(sheet, circuit, wiring::size(build, circuit, {}))) {
    for (const auto& guard : failure.guards) {
      if (guard.rule.empty()) continue;
      const auto& rules = rule_book().rules();
      EXPECT_TRUE(std::any_of(rules.begin(), rules.end(),
                              [&](const Rule& r) { return r.id == guard.rule; }))
          << failure.id << ": " << guard.rule;
      ++named;
    }
  }
  EXPECT_GT(named, 20);
}

}  // namespace
}  // namespace ww::fit
