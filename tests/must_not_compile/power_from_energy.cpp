// SPDX-License-Identifier: MIT
// An energy may not be taken from a power; an energy over a time may.
// Message: unlike_dimensions
#include "tests/dims/units.h"

namespace ww {
#ifndef WRONG
constexpr Dim left = watt - joule / second;
#else
constexpr Dim left = watt - joule;
#endif
}  // namespace ww
