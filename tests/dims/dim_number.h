// SPDX-License-Identifier: MIT
// A number that carries its powers of kg, m, s, A and K. It satisfies the number
// concept of base/num.h, so every model kernel can be run with it: a sum, comparison or select of
// unlike dimensions, and a sine, exponential or logarithm of a dimensioned argument, is recorded as
// a fault. In a constant expression such a fault does not compile (tests/must_not_compile).
// Invariants:
// 1. num<Dim>(x) and Dim(x) are dimensionless, except that 0, inf and NaN written as literals go
// with any dimension.
// 2. A kernel's own constants with a unit come from model::constant<R>(value, unit) and keep it.
// 3. What it cannot see: signs, dimensionless factors, conventions. Reference rows and identities
// hold those.
#pragma once

#include <array>
#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include "base/num.h"
#include "model/constants.h"

namespace ww {

/// Powers of kg, m, s, A, K, in this order. Halves and thirds occur (square and cube roots).
using Powers = std::array<double, 5>;

/// What went wrong since the last clear_dim_faults(), one line a fault.
inline std::vector<std::string>& dim_faults() {
  static std::vector<std::string> faults;
  return faults;
}
inline void clear_dim_faults() {
  dim_faults().clear();
}

constexpr bool same_powers(const Powers& a, const Powers& b) {
  for (std::size_t i = 0; i < a.size(); ++i) {
    const double apart = a[i] - b[i];
    if (apart > 1e-9 || apart < -1e-9) return false;
  }
  return true;
}

constexpr bool finite(double v) {
  return v >= std::numeric_limits<double>::lowest() && v <= std::numeric_limits<double>::max();
}

inline std::string powers_text(const Powers& p) {
  static constexpr std::array<const char*, 5> names{"kg", "m", "s", "A", "K"};
  std::string text;
  for (std::size_t i = 0; i < p.size(); ++i) {
    if (p[i] == 0) continue;
    std::string power = std::to_string(p[i]);
    while (power.back() == '0') power.pop_back();
    if (power.back() == '.') power.pop_back();
    text += (text.empty() ? "" : " ") + std::string(names[i]) + "^" + power;
  }
  return text.empty() ? "1" : text;
}

struct Dim {
  double value = 0;
  Powers powers{};
  bool any_dimension = true;  ///< a literal 0, inf or NaN

  constexpr Dim() = default;
  constexpr Dim(double v)  // NOLINT: a literal is a constant, implicit as for double
      : value(v), any_dimension(v == 0 || !finite(v)) {}
  constexpr Dim(double v, const Powers& p) : value(v), powers(p), any_dimension(false) {}

  /// What model::constant<Dim> uses.
  static constexpr Dim constant(double v, model::Unit u) {
    return {v,
            {static_cast<double>(u.kg), static_cast<double>(u.m), static_cast<double>(u.s),
             static_cast<double>(u.A), static_cast<double>(u.K)}};
  }
};

namespace detail {
/// Not constexpr: no constant expression may come here.
inline void unlike_dimensions(const char* operation, const Dim& a, const Dim& b) {
  dim_faults().push_back(std::string(operation) + " of " + powers_text(a.powers) + " and " +
                         powers_text(b.powers) + " (" + std::to_string(a.value) + ", " +
                         std::to_string(b.value) + ")");
}
/// The powers of a result that needs both operands alike; a fault where they are not.
constexpr Dim alike(const char* operation, const Dim& a, const Dim& b, double value) {
  if (!a.any_dimension && !b.any_dimension && !same_powers(a.powers, b.powers)) {
    unlike_dimensions(operation, a, b);
  }
  Dim r = a.any_dimension ? b : a;
  r.value = value;
  r.any_dimension = a.any_dimension && b.any_dimension;
  return r;
}
constexpr bool compared(const Dim& a, const Dim& b, bool result) {
  alike("comparison", a, b, 0);
  return result;
}
/// f(a) of a pure number.
constexpr Dim pure(const char* operation, const Dim& a, double value) {
  if (!a.any_dimension && !same_powers(a.powers, Powers{})) unlike_dimensions(operation, a, Dim(1));
  return {value, Powers{}};
}
constexpr Dim product(const Dim& a, const Dim& b, double value, double sign) {
  Dim r(value, a.powers);
  for (std::size_t i = 0; i < r.powers.size(); ++i) r.powers[i] += sign * b.powers[i];
  r.any_dimension = a.any_dimension || b.any_dimension;
  return r;
}
constexpr Dim raised(const Dim& a, double value, double power) {
  Dim r(value, a.powers);
  for (double& p : r.powers) p *= power;
  r.any_dimension = a.any_dimension;
  return r;
}
}  // namespace detail

constexpr Dim operator+(const Dim& a, const Dim& b) {
  return detail::alike("sum", a, b, a.value + b.value);
}
constexpr Dim operator-(const Dim& a, const Dim& b) {
  return detail::alike("difference", a, b, a.value - b.value);
}
constexpr Dim operator*(const Dim& a, const Dim& b) {
  return detail::product(a, b, a.value * b.value, 1);
}
constexpr Dim operator/(const Dim& a, const Dim& b) {
  return detail::product(a, b, a.value / b.value, -1);
}
constexpr Dim operator-(const Dim& a) {
  return detail::raised(a, -a.value, 1);
}
constexpr Dim operator+(const Dim& a) {
  return a;
}
constexpr Dim& operator+=(Dim& a, const Dim& b) {
  return a = a + b;
}
constexpr Dim& operator-=(Dim& a, const Dim& b) {
  return a = a - b;
}
constexpr Dim& operator*=(Dim& a, const Dim& b) {
  return a = a * b;
}
constexpr Dim& operator/=(Dim& a, const Dim& b) {
  return a = a / b;
}

constexpr bool operator<(const Dim& a, const Dim& b) {
  return detail::compared(a, b, a.value < b.value);
}
constexpr bool operator>(const Dim& a, const Dim& b) {
  return detail::compared(a, b, a.value > b.value);
}
constexpr bool operator<=(const Dim& a, const Dim& b) {
  return detail::compared(a, b, a.value <= b.value);
}
constexpr bool operator>=(const Dim& a, const Dim& b) {
  return detail::compared(a, b, a.value >= b.value);
}
constexpr bool operator==(const Dim& a, const Dim& b) {
  return detail::compared(a, b, a.value == b.value);
}
constexpr bool operator!=(const Dim& a, const Dim& b) {
  return detail::compared(a, b, a.value != b.value);
}

constexpr Dim select(bool mask, const Dim& yes, const Dim& no) {
  return detail::alike("select", yes, no, mask ? yes.value : no.value);
}
constexpr Dim min(const Dim& a, const Dim& b) {
  return detail::alike("min", a, b, b.value < a.value ? b.value : a.value);
}
constexpr Dim max(const Dim& a, const Dim& b) {
  return detail::alike("max", a, b, a.value < b.value ? b.value : a.value);
}
inline Dim sqrt(const Dim& a) {
  return detail::raised(a, std::sqrt(a.value), 0.5);
}
constexpr Dim abs(const Dim& a) {
  return detail::raised(a, a.value < 0 ? -a.value : a.value, 1);
}
inline Dim exp(const Dim& a) {
  return detail::pure("exp", a, std::exp(a.value));
}
inline Dim log(const Dim& a) {
  return detail::pure("log", a, std::log(a.value));
}
inline Dim pow(const Dim& a, const Dim& b) {
  detail::pure("exponent", b, 0);
  return detail::raised(a, std::pow(a.value, b.value), b.value);
}
inline Dim sin(const Dim& a) {
  return detail::pure("sin", a, std::sin(a.value));
}
inline Dim cos(const Dim& a) {
  return detail::pure("cos", a, std::cos(a.value));
}
inline Dim tan(const Dim& a) {
  return detail::pure("tan", a, std::tan(a.value));
}
inline Dim asin(const Dim& a) {
  return detail::pure("asin", a, std::asin(a.value));
}
inline Dim atan(const Dim& a) {
  return detail::pure("atan", a, std::atan(a.value));
}
inline Dim tanh(const Dim& a) {
  return detail::pure("tanh", a, std::tanh(a.value));
}

// Units as numbers of value 1: `Dim(12) * unit_kg` or with_unit(12, unit_kg).
inline constexpr Powers unit_none{};
inline constexpr Powers unit_kg{1, 0, 0, 0, 0};
inline constexpr Powers unit_m{0, 1, 0, 0, 0};
inline constexpr Powers unit_m2{0, 2, 0, 0, 0};
inline constexpr Powers unit_s{0, 0, 1, 0, 0};
inline constexpr Powers unit_A{0, 0, 0, 1, 0};
inline constexpr Powers unit_K{0, 0, 0, 0, 1};
inline constexpr Powers unit_mps{0, 1, -1, 0, 0};
inline constexpr Powers unit_mps2{0, 1, -2, 0, 0};
inline constexpr Powers unit_radps{0, 0, -1, 0, 0};
inline constexpr Powers unit_N{1, 1, -2, 0, 0};
inline constexpr Powers unit_Nm{1, 2, -2, 0, 0};
inline constexpr Powers unit_J{1, 2, -2, 0, 0};
inline constexpr Powers unit_W{1, 2, -3, 0, 0};
inline constexpr Powers unit_Pa{1, -1, -2, 0, 0};
inline constexpr Powers unit_kgm2{1, 2, 0, 0, 0};
inline constexpr Powers unit_kgpm3{1, -3, 0, 0, 0};
inline constexpr Powers unit_Npm{1, 0, -2, 0, 0};
inline constexpr Powers unit_C{0, 0, 1, 1, 0};
inline constexpr Powers unit_V{1, 2, -3, -1, 0};
inline constexpr Powers unit_ohm{1, 2, -3, -2, 0};
inline constexpr Powers unit_F{-1, -2, 4, 2, 0};
inline constexpr Powers unit_H{1, 2, -2, -2, 0};
inline constexpr Powers unit_Wb{1, 2, -2, -1, 0};
inline constexpr Powers unit_WpK{1, 2, -3, 0, -1};
inline constexpr Powers unit_KpW{-1, -2, 3, 0, 1};
inline constexpr Powers unit_JpK{1, 2, -2, 0, -1};
inline constexpr Powers unit_JpkgK{0, 2, -2, 0, -1};
inline constexpr Powers unit_perK{0, 0, 0, 0, -1};

/// The number with its dimension. Unlike Dim(0), a zero made here keeps its dimension.
constexpr Dim with_unit(double value, const Powers& powers) {
  return {value, powers};
}

}  // namespace ww
