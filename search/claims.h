// SPDX-License-Identifier: MIT
// What a seller or a forum says of a bike ("8 kW, 100 km/h, 150 km on 3 kWh") taken apart: what
// would have to be true for it, and in how many of the bikes of its class that is.
#pragma once

#include <limits>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "build/nouns.h"
#include "figure/units.h"

namespace ww::search {

/// SI; NaN where nothing is said of it.
struct Claim {
  static constexpr double unsaid = std::numeric_limits<double>::quiet_NaN();
  double power_W = unsaid, speed_mps = unsaid, distance_m = unsaid, energy_J = unsaid,
         mass_kg = unsaid;
};

/// Reads every figure in a text that has a unit of power, speed, distance, energy or mass; of two
/// of a kind the larger, as claims go. Errors: "no-claim" where there is none, or one alone that is
/// neither a power nor an energy.
Result<Claim> read_claim(std::string_view text);

/// One thing that would have to be true.
struct ClaimTerm {
  std::string says;         ///< the part of the claim
  std::string would_need;   ///< in numbers, with the span of the class
  double share_of_bikes;    ///< of draws of the class's spreads in which it is true
  std::string then_rather;  ///< what those figures do give
};

/// "believable", "a stretch", "not to be believed": more than half, a tenth, less.
std::string_view plausibility(double share_of_bikes);

/// Each term that two of the claim's figures make, against the bike on the sheet: its class, its
/// drag, its rider; what the sheet lacks is the class's. 512 draws, the same every time.
/// Valid: a claim as read_claim gives it.
/// Source: road load of model/road.h; from pack to wheel 72 to 86 % and usable 80 to 95 % of the
/// label's energy (p10 to p90, from memory). Checked by: tests/search/claims_test.cpp.
std::vector<ClaimTerm> take_apart(const Claim& claim, const build::Build& build,
                                  figure::System units);

}  // namespace ww::search
