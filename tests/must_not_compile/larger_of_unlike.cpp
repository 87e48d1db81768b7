// SPDX-License-Identifier: MIT
// The larger of a speed and a time has no meaning; of two speeds it has.
// Message: unlike_dimensions
#include "tests/dims/units.h"

namespace ww {
#ifndef WRONG
constexpr Dim speed = max(metre_per_second, metre / second);
#else
constexpr Dim speed = max(metre_per_second, second);
#endif
}  // namespace ww
