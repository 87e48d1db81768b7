// SPDX-License-Identifier: MIT
// A choice may not be between a force and a power; between two forces it may.
// Message: unlike_dimensions
#include "tests/dims/units.h"

namespace ww {
#ifndef WRONG
constexpr Dim thrust = select(metre < metre * Dim(2), newton, watt / metre_per_second);
#else
constexpr Dim thrust = select(metre < metre * Dim(2), newton, watt);
#endif
}  // namespace ww
