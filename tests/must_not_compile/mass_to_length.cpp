// SPDX-License-Identifier: MIT
// A mass may not be added to a length; a length may.
// Message: unlike_dimensions
#include "tests/dims/units.h"

namespace ww {
#ifndef WRONG
constexpr Dim wheelbase = metre + metre * Dim(0.4);
#else
constexpr Dim wheelbase = metre + kilogram;
#endif
}  // namespace ww
