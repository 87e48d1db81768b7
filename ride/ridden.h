// SPDX-License-Identifier: MIT
// Answers of bikes that were ridden without spreads, to be had again: many a change of a sheet (a
// fuse, a display) leaves the ride as it was, and many changes come to one bike.
// Invariants:
// 1. Two bikes are the same where every number of theirs has the same bits.
// 2. What comes out was put in: nothing is computed here.
#pragma once

#include <string>
#include <unordered_map>

#include "ride/answers.h"
#include "ride/lane_group.h"

namespace ww::ride {

/// Whether these are the same bike.
bool same_bits(const BikeNumbers& a, const BikeNumbers& b);

class Ridden {
 public:
  /// The answers of this bike where all that are wanted are known, else null; those not wanted may
  /// be NaN. Valid until the next note().
  const Answers<double>* find(const BikeNumbers& bike, AnswerSet wanted) const;
  /// These answers of the bike are known, and stay with what was known before.
  void note(const BikeNumbers& bike, const Answers<double>& answers, AnswerSet known);

 private:
  struct Entry {
    Answers<double> answers;
    AnswerSet known;
  };
  std::unordered_map<std::string, Entry> entries_;  ///< by the bike's bits
};

}  // namespace ww::ride
