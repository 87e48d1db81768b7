// SPDX-License-Identifier: MIT
// From a build to its answers with their spreads: what the rest of the program asks.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "ride/answers.h"
#include "ride/course.h"
#include "ride/ridden.h"
#include "ride/values.h"

namespace ww::ride {

/// Runs task(0) .. task(count - 1) in any order, perhaps at once. Comes from above: this floor has
/// no threads.
using Runner = std::function<void(int count, const std::function<void(int)>& task)>;
void run_in_turn(int count, const std::function<void(int)>& task);

/// p10, p50, p90 of one answer.
struct Band {
  double p10, p50, p90;
};

/// How far one figure moves one answer.
struct Push {
  Id id;
  Source source;
  double at_p10, at_p90;  ///< the answer with this figure at its p10 and p90
  double share;           ///< of all figures' squared pushes together
};

/// Everything the ride says about one build.
struct Ride {
  bool possible = false;
  std::vector<std::string> parts_missing;  ///< slots without which no ride can be computed
  std::vector<Id> missing;                 ///< figures without a prior that stand in the way
  std::vector<Id> assumed;                 ///< figures taken from a prior
  std::vector<Id> read;                    ///< every figure the answers rest on
  AnswerSet asked = {};                    ///< the others may stay unknown
  Answers<double> nominal;
  std::array<Band, answer_count> bands{};
  std::array<std::vector<Push>, answer_count> pushes;  ///< largest first

  const Band& band(Answer a) const { return bands[static_cast<std::size_t>(a)]; }
};

struct RideOptions {
  int draws = 256;  ///< a power of two; 0: nominal only, bands collapse onto it
  std::uint32_t seed = 1;
  bool pushes = true;
  AnswerSet wanted = every_answer;  ///< what else is there comes unasked; a distance costs most
  std::size_t widest_kernel = 8;
};

/// Valid: any build; where a ride cannot be computed, possible is false and what is missing is
/// named.
Ride ride(const Build& build, const Cycles& cycles, const RideOptions& options = {},
          const Runner& runner = run_in_turn);

/// A build to be ridden, laid out.
struct Candidate {
  const Build* build;
  const NominalValues* nominal;
};
/// The nominal answers of several builds at once, without spreads: each as ride() without draws
/// gives it, to 1e-9. Builds of one kind of motor share the lanes of a kernel: eight cost little
/// more than one. What is in `ridden` is not ridden again, and what is ridden is noted there; two
/// builds that come to the same bike are one. Valid: as ride().
std::vector<Ride> nominal_rides(const std::vector<Candidate>& candidates, const Cycles& cycles,
                                AnswerSet wanted, Ridden& ridden, std::size_t widest_kernel = 8);
std::vector<Ride> nominal_rides(const std::vector<Candidate>& candidates, const Cycles& cycles,
                                AnswerSet wanted, std::size_t widest_kernel = 8);

}  // namespace ww::ride
