// SPDX-License-Identifier: MIT
// What to measure next: every figure that an unmeasured finding or a locked purchase waits for,
// with how to take it.
#pragma once

#include <string>
#include <vector>

#include "fit/engine.h"
#include "plan/parts_list.h"

namespace ww::plan {

struct Measurement {
  Id id;
  bool question;                ///< to be decided or answered, nothing to take with an instrument
  bool assumed;                 ///< a prior stands in for it
  double distance_swing_m = 0;  ///< how far it moves the distance, p10 to p90; 0 where it does not
  std::vector<std::string> findings;          ///< rules that wait for it
  std::vector<std::string> purchases;         ///< parts that stay locked
  fit::Blocks blocks = fit::Blocks::nothing;  ///< the earliest step a waiting rule blocks
};

/// Most urgent first: what locks a purchase, then what blocks a step, then what moves the answers
/// most.
std::vector<Measurement> measuring_list(const Build& build, const ride::Ride& ride,
                                        const std::vector<fit::Finding>& findings,
                                        const PartsList& parts);

}  // namespace ww::plan
