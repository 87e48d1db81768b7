// SPDX-License-Identifier: MIT
// A torque may not be added to a force; a torque over a radius may.
// Message: unlike_dimensions
#include "tests/dims/units.h"

namespace ww {
#ifndef WRONG
constexpr Dim force = newton * Dim(3) + newton_metre / (metre * Dim(0.3));
static_assert(same_powers(force.powers, unit_N));
#else
constexpr Dim force = newton * Dim(3) + newton_metre;
#endif
}  // namespace ww
