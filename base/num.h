// SPDX-License-Identifier: MIT
// The number concept of the models: one template source serves double, a SIMD batch and a dual
// number. Invariants:
// 1. A model uses + - * / and the free functions named here, unqualified, so that ADL finds the
// batch's own.
// 2. A branch that may differ per lane is `select`; `if` is allowed only on `any(...)`/`all(...)`
// as a short cut
//    that does not change the result of a lane.
// 3. A literal is num<R>(0.5).
#pragma once

#include <cmath>
#include <limits>
#include <type_traits>

namespace ww {

/// The literal x as a number of type R.
template <class R>
constexpr R num(double x) {
  return R(x);
}

// The operations of the concept for plain double. A batch or a dual brings its own, found by ADL.
constexpr double select(bool mask, double yes, double no) {
  return mask ? yes : no;
}
constexpr double min(double a, double b) {
  return b < a ? b : a;
}
constexpr double max(double a, double b) {
  return a < b ? b : a;
}
inline double sqrt(double a) {
  return std::sqrt(a);
}
inline double abs(double a) {
  return std::fabs(a);
}
inline double exp(double a) {
  return std::exp(a);
}
inline double log(double a) {
  return std::log(a);
}
inline double pow(double a, double b) {
  return std::pow(a, b);
}
inline double sin(double a) {
  return std::sin(a);
}
inline double cos(double a) {
  return std::cos(a);
}
inline double tan(double a) {
  return std::tan(a);
}
inline double asin(double a) {
  return std::asin(a);
}
inline double atan(double a) {
  return std::atan(a);
}
inline double tanh(double a) {
  return std::tanh(a);
}
constexpr bool any(bool mask) {
  return mask;
}
constexpr bool all(bool mask) {
  return mask;
}

/// The mask type that comparing two R gives (bool for double and dual).
template <class R>
using mask_of = decltype(R() < R());

/// Whether a number carries derivatives. An iteration may stop early only where it does not: the
/// last steps are what brings the slopes home.
template <class R>
inline constexpr bool carries_slopes = false;

/// x held inside [low, high].
template <class R>
R clamp(R x, R low, R high) {
  return min(max(x, low), high);
}

/// The square: cheaper and more exact than pow.
template <class R>
R square(R x) {
  return x * x;
}

/// A function of the C library in every lane of a batch, so that every width gives the bits of one
/// number: a batch's own exponential is another one for each instruction set. For what is worked
/// out once in a ride.
template <class R, class Function>
R lane_by_lane(R x, const Function& function) {
  if constexpr (requires(double* at) { x.store_unaligned(at); }) {
    double lanes[R::size];
    x.store_unaligned(lanes);
    for (double& lane : lanes) lane = function(lane);
    return R::load_unaligned(lanes);
  } else {
    return function(x);
  }
}
template <class R>
R exp_exact(R x) {
  return lane_by_lane(x, [](const auto& lane) { return exp(lane); });
}
template <class R>
R log_exact(R x) {
  return lane_by_lane(x, [](const auto& lane) { return log(lane); });
}
template <class R>
R pow_exact(R x, double exponent) {
  return lane_by_lane(
      x, [&](const auto& lane) { return pow(lane, num<std::decay_t<decltype(lane)>>(exponent)); });
}

/// NaN where the mask says the input is outside the model's domain, else x.
template <class R>
R valid_where(mask_of<R> inside, R x) {
  return select(inside, x, num<R>(std::numeric_limits<double>::quiet_NaN()));
}

}  // namespace ww
