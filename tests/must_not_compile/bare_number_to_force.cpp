// SPDX-License-Identifier: MIT
// A bare number may not be added to a force; a bare zero may, and a bare factor.
// Message: unlike_dimensions
#include "tests/dims/units.h"

namespace ww {
#ifndef WRONG
constexpr Dim force = newton * Dim(2) + Dim(0);
#else
constexpr Dim force = newton + Dim(2);
#endif
}  // namespace ww
