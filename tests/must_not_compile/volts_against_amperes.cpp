// SPDX-License-Identifier: MIT
// Volts may not be compared with amperes; with amperes times ohms they may.
// Message: unlike_dimensions
#include "tests/dims/units.h"

namespace ww {
#ifndef WRONG
constexpr bool sags = volt * Dim(90) < ampere * Dim(300) * (ohm * Dim(0.4));
#else
constexpr bool sags = volt * Dim(90) < ampere * Dim(300);
#endif
}  // namespace ww
