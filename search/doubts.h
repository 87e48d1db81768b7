// SPDX-License-Identifier: MIT
// What is chosen rests on figures that are not known to the last digit, and the best bike by the
// figures as they stand is often the one that just scrapes past a wish. So a pool of good bikes,
// some with room to spare, is held against each other on draws of everything that is not known:
// which is best on the mean, how likely each option is the right one, which figure is worth
// measuring before anything is bought.
#pragma once

#include <string>
#include <vector>

#include "search/choosing.h"

namespace ww::search {

struct DoubtOptions {
  ride::Runner runner = ride::run_in_turn;
  int draws = 256;
  std::size_t most_bikes = 128;  ///< held against each other
  std::size_t list_length = 5;
  int groups = 8;  ///< of draws that a measurement would tell apart
  std::uint32_t seed = 1;
  std::size_t widest_kernel = 8;
};

/// One figure that may be measured before deciding.
struct Measuring {
  Id id;
  std::string part;  ///< the library id of the part it belongs to; empty: of every bike here
  double value;      ///< in money's worth, what luck alone would show taken off
  std::vector<Index> between;  ///< the bikes it decides between: best where it is low, ..., high
};

/// An option of a decision under the spreads.
struct OptionChance {
  std::uint8_t option;
  Index record;        ///< the best with it, on the mean
  double loss;         ///< of that one against the best of all, on the mean, in money's worth
  double share_right;  ///< of the draws: a bike with it is the best of all
};
struct DecisionChance {
  Axis axis;
  std::vector<OptionChance> options;  ///< best first; what no bike of the pool has is not there
};

/// A bike of the short list under the spreads.
struct Holding {
  Index record;
  /// Of the draws: nothing clashes that did not as listed, small repairs aside.
  double share_holds;
  /// Rules it then falls to, in which share of the draws, most first.
  std::vector<std::pair<std::size_t, double>> falls;
  /// Likewise: small repairs whose neglect can hurt. They are not in share_holds.
  std::vector<std::pair<std::size_t, double>> small_but_hurt;
};

struct Doubts {
  std::size_t bikes = 0, unknowns = 0;
  int draws = 0;
  double value_of_knowing_all = 0;        ///< in money's worth: no measuring is worth more together
  std::vector<DecisionChance> decisions;  ///< the costliest first
  std::vector<Measuring> measuring;  ///< the most valuable first; what luck explains is left out
  std::vector<Holding> list;         ///< a few that differ, the best on the mean first
};

/// Holds the pool against each other on the same draws of all spreads, each bike ridden and judged
/// anew. The pool: the short list, and the best bikes of every option, by the figures as they stand
/// and again of those that meet every wish with 5, 10 and 20 % to spare; then what differs from the
/// best of these in one choice. Worth is that of the
/// choosing, less what it typically costs to put right each rule that is broken, a wish missed
/// among them (the middle of Rule::ignoring); no bike can cost more than its money. Prices and
/// waits stay as listed, limits as they were set.
/// Valid: a choosing that is not loose; else nothing comes back.
Doubts doubts(const Choosing& chosen, const DoubtOptions& options = {});

}  // namespace ww::search
