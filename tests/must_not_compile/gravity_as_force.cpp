// SPDX-License-Identifier: MIT
// Standard gravity is no force; times a mass it is one.
// Message: unlike_dimensions
#include "tests/dims/units.h"

namespace ww {
#ifndef WRONG
constexpr Dim force = newton + kilogram * model::standard_gravity<Dim>();
#else
constexpr Dim force = newton + model::standard_gravity<Dim>();
#endif
}  // namespace ww
