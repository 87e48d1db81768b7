// SPDX-License-Identifier: MIT
// Constants that carry a unit. A plain number ignores the unit; the dimension-carrying number of
// the tests keeps it, so that a kernel with a physical constant inside is held to its dimensions as
// well.
#pragma once

#include "base/num.h"

namespace ww::model {

/// Powers of the SI base units: force is {.kg = 1, .m = 1, .s = -2}.
struct Unit {
  int kg = 0, m = 0, s = 0, A = 0, K = 0;
};

/// The value, in SI coherent units, as a number of type R. R::constant(value, unit) is used where R
/// has one.
template <class R>
constexpr R constant(double value, [[maybe_unused]] Unit unit) {
  if constexpr (requires { R::constant(value, unit); }) {
    return R::constant(value, unit);
  } else {
    return num<R>(value);
  }
}

/// Standard gravity, 9.80665 m/s2 by definition (ISO 80000-3).
template <class R>
constexpr R standard_gravity() {
  return constant<R>(9.80665, {.m = 1, .s = -2});
}

/// The temperature of 0 degrees Celsius in K, by definition.
template <class R>
constexpr R zero_celsius() {
  return constant<R>(273.15, {.K = 1});
}

/// One millimetre and one inch: for rules that a standard states in these units.
template <class R>
constexpr R millimetre() {
  return constant<R>(1e-3, {.m = 1});
}
template <class R>
constexpr R inch() {
  return constant<R>(25.4e-3, {.m = 1});
}

/// One bar and one kilometre an hour in SI, for the same reason.
template <class R>
constexpr R bar() {
  return constant<R>(1e5, {.kg = 1, .m = -1, .s = -2});
}
template <class R>
constexpr R kilometre_per_hour() {
  return constant<R>(1 / 3.6, {.m = 1, .s = -1});
}

inline constexpr double pi = 3.14159265358979323846;

/// One turn a minute as an angular speed (the radian has no dimension).
template <class R>
constexpr R turn_per_minute() {
  return constant<R>(2 * pi / 60, {.s = -1});
}

}  // namespace ww::model
