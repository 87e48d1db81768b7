// SPDX-License-Identifier: MIT
// A half-empty sheet answers: what is missing for a ride is sketched from the library, so that a
// first answer stands on the page. Nothing sketched enters the builder's sheet.
#pragma once

#include <string>
#include <vector>

#include "build/library.h"
#include "build/nouns.h"
#include "ride/ride.h"

namespace ww::plan {

using build::Build;

/// A build completed for a ride, and what was put into it.
struct Sketch {
  Build build;
  std::vector<std::string>
      put_in;  ///< "motor: harrowmere-hornbeam, 10 kW"; empty where nothing was missing
};

/// Completes motor, controller, cells, pack, gearing and tyre where they are missing and a speed or
/// distance is wished for. A sheet without wishes comes back as it is. The choice: the cheapest
/// motor that holds the speed, the cheapest controller that drives it, the lightest pack among
/// those that cost at most half more than the cheapest, a ratio that leaves some 15 % of speed
/// above the wish. A specification to shop for, no product: the library is invented.
Sketch sketch(const Build& build, const build::Library& library);

/// One blunt sentence on what the wish costs; empty where there is none to say. `own` is the sheet
/// as it was written, `completed` what was ridden.
std::string blunt_sentence(const Build& own, const Build& completed, const ride::Ride& ride,
                           figure::System units);

/// Hours and months to a finished bike, p10 to p90: common practice, no source.
struct Calendar {
  double hours_low, hours_usual, hours_high;
  double months_low, months_usual, months_high;
};
Calendar calendar(const Build& build);

}  // namespace ww::plan
