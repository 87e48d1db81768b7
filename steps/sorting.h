// SPDX-License-Identifier: MIT
// Cells or modules as they came, sorted into groups that match.
// What is sought, in this order: the group with the least charge has the most (it ends every ride);
// the group with the most has the least; the conductances of the groups lie closest together.
// Method: the cells of most charge are kept as far as the groups need them; dealt out from the
// largest to the poorest group that has room; then cells are exchanged, between two groups or with
// a spare, as long as that is better; from several starts. Not proved best: how far off it can be
// at most stands beside it (weakest group against the mean of the kept cells). Invariants:
// 1. Every cell is in one group, or spare, or turned away with a reason.
// 2. A cell that is built in already (`group`) stays there.
// 3. The same entries give the same groups, whatever their order in the sheet: ties go by name.
// Checked by: tests/steps/sorting_test.cpp against every possible grouping of small lots.
#pragma once

#include <string>
#include <vector>

#include "build/nouns.h"

namespace ww::steps {

struct SortedGroup {
  std::vector<int> units;  ///< of build.units, largest charge first
  double charge_C, conductance_S;
  double least_V, most_V;
};

struct TurnedAway {
  int unit;
  std::string why;
};

struct Sorted {
  int series = 0, parallel = 0;  ///< groups, and cells in each; 0: not known
  int complete = 0;              ///< cells with voltage, capacity and resistance
  std::vector<SortedGroup> groups;
  std::vector<int> spares;
  std::vector<TurnedAway> turned_away;
  bool possible = false;  ///< enough cells for all groups
  std::string lacks;      ///< what is missing; empty where possible
  double weakest_C = 0, strongest_C = 0, mean_C = 0;
  /// How much more charge the weakest group could have at the very most, as a share.
  double bound_share = 0;
};

/// Valid: any build. Limits of turning away: common practice, no source (sorting.cpp).
Sorted sort_units(const build::Build& build);

/// The core of it: `charge` and `conductance` a cell, `fixed` its group or -1, into `series` groups
/// of `parallel`. Gives each cell's group, -1 for a spare. Valid: at least series x parallel cells,
/// no group fixed with more than `parallel`.
struct Lot {
  std::vector<double> charge_C, conductance_S;
  std::vector<int> fixed;
  int series, parallel;
};
std::vector<int> grouped(const Lot& lot);

/// What is compared, smaller is better from first to last.
struct Merit {
  double weakest_C, strongest_C, conductance_spread_S;
  bool better_than(const Merit& other) const;
};
Merit merit_of(const Lot& lot, const std::vector<int>& group);

}  // namespace ww::steps
