// SPDX-License-Identifier: MIT
// Cells into groups: against every possible grouping of small lots; what holds of any lot.
#include "steps/sorting.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>
#include <random>
#include <set>

#include "tests/steps/bench.h"

namespace ww::steps {
namespace {

Lot random_lot(std::mt19937& random, int series, int parallel, int spares) {
  std::normal_distribution<double> charge(360000, 15000), ohm(1e-3, 5e-5);
  Lot lot{{}, {}, {}, series, parallel};
  for (int i = 0; i < series * parallel + spares; ++i) {
    lot.charge_C.push_back(charge(random));
    lot.conductance_S.push_back(1 / ohm(random));
    lot.fixed.push_back(-1);
  }
  return lot;
}

/// Tries every grouping: each cell in turn to every group with room, or to the spares.
void try_all(const Lot& lot, std::size_t at, std::vector<int>& group, std::vector<int>& room,
             int spares, bool& any, Merit& best) {
  if (at == group.size()) {
    const Merit merit = merit_of(lot, group);
    if (!any || merit.better_than(best)) best = merit;
    any = true;
    return;
  }
  for (std::size_t g = 0; g < room.size(); ++g) {
    if (room[g] == 0 || (lot.fixed[at] >= 0 && lot.fixed[at] != static_cast<int>(g))) continue;
    --room[g];
    group[at] = static_cast<int>(g);
    try_all(lot, at + 1, group, room, spares, any, best);
    ++room[g];
    // An empty group is as good as the next: groups are alike until one is fixed.
    if (room[g] == lot.parallel && lot.fixed[at] < 0 &&
        std::all_of(lot.fixed.begin(), lot.fixed.end(), [](int f) { return f < 0; }))
      break;
  }
  if (spares > 0 && lot.fixed[at] < 0) {
    group[at] = -1;
    try_all(lot, at + 1, group, room, spares - 1, any, best);
  }
}

Merit best_of_all(const Lot& lot) {
  std::vector<int> group(lot.charge_C.size(), -1),
      room(static_cast<std::size_t>(lot.series), lot.parallel);
  const int spares = static_cast<int>(group.size()) - lot.series * lot.parallel;
  bool any = false;
  Merit best{};
  try_all(lot, 0, group, room, spares, any, best);
  return best;
}

TEST(Sorting, ComesCloseToTheBestOfAll) {
  std::mt19937 random(1);
  const std::tuple<int, int, int> shapes[] = {{2, 2, 0}, {3, 2, 0}, {2, 3, 1}, {4, 2, 0},
                                              {3, 3, 0}, {2, 4, 1}, {5, 1, 2}, {2, 5, 0}};
  int exact = 0, all = 0;
  double worst = 0;
  for (const auto& [series, parallel, spares] : shapes) {
    for (int i = 0; i < 12; ++i) {
      Lot lot = random_lot(random, series, parallel, spares);
      if (i % 3 == 2) lot.fixed[random() % lot.fixed.size()] = static_cast<int>(random()) & 1;
      const Merit best = best_of_all(lot), got = merit_of(lot, grouped(lot));
      EXPECT_FALSE(got.better_than(best));  // else the brute force is wrong
      const double short_of = 1 - got.weakest_C / best.weakest_C;
      worst = std::max(worst, short_of);
      exact += !best.better_than(got);
      ++all;
    }
  }
  // Measured: the very best in all 96 lots. It is not proved, so one in twenty may miss it, and the
  // weakest group then by no more than a tenth of a per cent.
  EXPECT_GE(exact, all * 19 / 20) << exact << " of " << all;
  EXPECT_LT(worst, 0.001);
}

TEST(Sorting, EveryCellIsInOnePlace) {
  std::mt19937 random(2);
  for (int i = 0; i < 40; ++i) {
    Build build = support::random_build(random);
    build.pack->series = 2 + static_cast<int>(random() % 12);
    build.pack->parallel = 1 + static_cast<int>(random() % 5);
    measure_cells(build, random, 0.03);
    for (int k = 0; k < 3; ++k) build.units[random() % build.units.size()].capacity.value *= 0.7;
    if (i % 2 == 0) build.units[0].group = 1 + static_cast<int>(random() % build.pack->series);
    const Sorted s = sort_units(build);
    std::multiset<int> seen(s.spares.begin(), s.spares.end());
    for (const auto& away : s.turned_away) {
      seen.insert(away.unit);
      EXPECT_FALSE(away.why.empty());
    }
    if (!s.possible) {
      EXPECT_FALSE(s.lacks.empty());
      continue;
    }
    for (const auto& g : s.groups) {
      EXPECT_EQ(static_cast<int>(g.units.size()), build.pack->parallel);
      seen.insert(g.units.begin(), g.units.end());
    }
    for (std::size_t u = 0; u < build.units.size(); ++u)
      EXPECT_EQ(seen.count(static_cast<int>(u)), 1U);
    EXPECT_LE(s.weakest_C, s.mean_C * (1 + 1e-12));
    if (build.units[0].group > 0) {
      const auto& group = s.groups[static_cast<std::size_t>(build.units[0].group - 1)].units;
      EXPECT_EQ(std::count(group.begin(), group.end(), 0), 1);
    }
  }
}

TEST(Sorting, TheOrderInTheSheetDoesNotMatter) {
  std::mt19937 random(3);
  Build build = support::demo("reference");
  build.pack->series = 6;
  build.pack->parallel = 3;
  measure_cells(build, random, 0.03);
  const auto named = [](const Build& b) {
    const Sorted s = sort_units(b);
    std::vector<std::set<std::string>> out;
    for (const auto& g : s.groups) {
      out.emplace_back();
      for (const int i : g.units) out.back().insert(b.units[static_cast<std::size_t>(i)].name);
    }
    return out;
  };
  const auto first = named(build);
  std::shuffle(build.units.begin(), build.units.end(), random);
  EXPECT_EQ(named(build), first);
}

TEST(Sorting, APoorACostlyAndADrainingCellAreTurnedAway) {
  std::mt19937 random(4);
  Build build = support::demo("commuter");
  measure_cells(build, random);
  build.units[0].capacity.value *= 0.8;
  EXPECT_EQ(sort_units(build).turned_away.size(), 1U);
  build.units[1].resistance.value *= 1.6;
  build.units[2].voltage_later.value = build.units[2].voltage.value - 0.05;
  const Sorted s = sort_units(build);
  EXPECT_EQ(s.turned_away.size(), 3U);
  EXPECT_FALSE(s.possible);  // one spare, three gone
  EXPECT_NE(s.lacks.find("24 are needed"), std::string::npos) << s.lacks;
}

}  // namespace
}  // namespace ww::steps
