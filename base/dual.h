// SPDX-License-Identifier: MIT
// Forward-mode derivatives: a value and its N partial derivatives, carried through the same model
// templates.
#pragma once

#include <array>
#include <cmath>
#include <cstddef>

#include "base/num.h"

namespace ww {

template <int N>
struct Dual {
  double value = 0;
  std::array<double, N> slope{};

  constexpr Dual() = default;
  constexpr Dual(double v) : value(v) {}  // NOLINT: a literal is a constant, implicit as for double

  /// The variable number `index`: slope 1 in its own direction.
  static constexpr Dual variable(double v, int index) {
    Dual d(v);
    d.slope[static_cast<std::size_t>(index)] = 1;
    return d;
  }
};

template <int N>
inline constexpr bool carries_slopes<Dual<N>> = true;

namespace detail {
/// f(a) with known value and derivative.
template <int N>
Dual<N> chain(const Dual<N>& a, double value, double derivative) {
  Dual<N> r(value);
  for (std::size_t i = 0; i < N; ++i) r.slope[i] = derivative * a.slope[i];
  return r;
}
/// f(a, b) with known value and both partial derivatives.
template <int N>
Dual<N> chain(const Dual<N>& a, const Dual<N>& b, double value, double by_a, double by_b) {
  Dual<N> r(value);
  for (std::size_t i = 0; i < N; ++i) r.slope[i] = by_a * a.slope[i] + by_b * b.slope[i];
  return r;
}
}  // namespace detail

template <int N>
Dual<N> operator+(const Dual<N>& a, const Dual<N>& b) {
  return detail::chain(a, b, a.value + b.value, 1, 1);
}
template <int N>
Dual<N> operator-(const Dual<N>& a, const Dual<N>& b) {
  return detail::chain(a, b, a.value - b.value, 1, -1);
}
template <int N>
Dual<N> operator*(const Dual<N>& a, const Dual<N>& b) {
  return detail::chain(a, b, a.value * b.value, b.value, a.value);
}
template <int N>
Dual<N> operator/(const Dual<N>& a, const Dual<N>& b) {
  return detail::chain(a, b, a.value / b.value, 1 / b.value, -a.value / (b.value * b.value));
}
template <int N>
Dual<N> operator-(const Dual<N>& a) {
  return detail::chain(a, -a.value, -1);
}
template <int N>
Dual<N>& operator+=(Dual<N>& a, const Dual<N>& b) {
  return a = a + b;
}
template <int N>
Dual<N>& operator-=(Dual<N>& a, const Dual<N>& b) {
  return a = a - b;
}
template <int N>
Dual<N>& operator*=(Dual<N>& a, const Dual<N>& b) {
  return a = a * b;
}

template <int N>
bool operator<(const Dual<N>& a, const Dual<N>& b) {
  return a.value < b.value;
}
template <int N>
bool operator>(const Dual<N>& a, const Dual<N>& b) {
  return a.value > b.value;
}
template <int N>
bool operator<=(const Dual<N>& a, const Dual<N>& b) {
  return a.value <= b.value;
}
template <int N>
bool operator>=(const Dual<N>& a, const Dual<N>& b) {
  return a.value >= b.value;
}

template <int N>
Dual<N> select(bool mask, const Dual<N>& yes, const Dual<N>& no) {
  return mask ? yes : no;
}
template <int N>
Dual<N> min(const Dual<N>& a, const Dual<N>& b) {
  return b.value < a.value ? b : a;
}
template <int N>
Dual<N> max(const Dual<N>& a, const Dual<N>& b) {
  return a.value < b.value ? b : a;
}
template <int N>
Dual<N> sqrt(const Dual<N>& a) {
  const double root = std::sqrt(a.value);
  return detail::chain(a, root, 0.5 / root);
}
template <int N>
Dual<N> abs(const Dual<N>& a) {
  return a.value < 0 ? -a : a;
}
template <int N>
Dual<N> exp(const Dual<N>& a) {
  const double e = std::exp(a.value);
  return detail::chain(a, e, e);
}
template <int N>
Dual<N> log(const Dual<N>& a) {
  return detail::chain(a, std::log(a.value), 1 / a.value);
}
template <int N>
Dual<N> pow(const Dual<N>& a, const Dual<N>& b) {
  const double p = std::pow(a.value, b.value);
  return detail::chain(a, b, p, b.value * std::pow(a.value, b.value - 1), p * std::log(a.value));
}
template <int N>
Dual<N> sin(const Dual<N>& a) {
  return detail::chain(a, std::sin(a.value), std::cos(a.value));
}
template <int N>
Dual<N> cos(const Dual<N>& a) {
  return detail::chain(a, std::cos(a.value), -std::sin(a.value));
}
template <int N>
Dual<N> tan(const Dual<N>& a) {
  const double t = std::tan(a.value);
  return detail::chain(a, t, 1 + t * t);
}
template <int N>
Dual<N> asin(const Dual<N>& a) {
  return detail::chain(a, std::asin(a.value), 1 / std::sqrt(1 - a.value * a.value));
}
template <int N>
Dual<N> atan(const Dual<N>& a) {
  return detail::chain(a, std::atan(a.value), 1 / (1 + a.value * a.value));
}
template <int N>
Dual<N> tanh(const Dual<N>& a) {
  const double t = std::tanh(a.value);
  return detail::chain(a, t, 1 - t * t);
}

}  // namespace ww
