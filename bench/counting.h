// SPDX-License-Identifier: MIT
// A number that counts: run a kernel template on it once and know what it does.
#pragma once

#include <cmath>

#include "base/num.h"

namespace ww::bench {

/// Operations by kind. Choosing is min, max, select and abs; it and comparing are no flops.
struct Operations {
  double adding, multiplying, dividing, rooting, choosing, comparing, transcendental;
  double flops() const { return adding + multiplying + dividing + rooting; }
};

struct Counting {
  double v = 0;
  static inline Operations done{};
  Counting() = default;
  Counting(double x) : v(x) {}  // NOLINT: a literal
};

inline Counting operator+(Counting a, Counting b) {
  ++Counting::done.adding;
  return {a.v + b.v};
}
inline Counting operator-(Counting a, Counting b) {
  ++Counting::done.adding;
  return {a.v - b.v};
}
inline Counting operator*(Counting a, Counting b) {
  ++Counting::done.multiplying;
  return {a.v * b.v};
}
inline Counting operator/(Counting a, Counting b) {
  ++Counting::done.dividing;
  return {a.v / b.v};
}
inline Counting operator-(Counting a) {
  return {-a.v};  // a change of sign folds into what follows
}
inline Counting& operator+=(Counting& a, Counting b) {
  return a = a + b;
}
inline Counting& operator-=(Counting& a, Counting b) {
  return a = a - b;
}
inline Counting& operator*=(Counting& a, Counting b) {
  return a = a * b;
}

inline bool operator<(Counting a, Counting b) {
  ++Counting::done.comparing;
  return a.v < b.v;
}
inline bool operator>(Counting a, Counting b) {
  ++Counting::done.comparing;
  return a.v > b.v;
}
inline bool operator<=(Counting a, Counting b) {
  ++Counting::done.comparing;
  return a.v <= b.v;
}
inline bool operator==(Counting a, Counting b) {
  ++Counting::done.comparing;
  return a.v == b.v;
}
inline bool operator>=(Counting a, Counting b) {
  ++Counting::done.comparing;
  return a.v >= b.v;
}

inline Counting select(bool mask, Counting yes, Counting no) {
  ++Counting::done.choosing;
  return mask ? yes : no;
}
inline Counting min(Counting a, Counting b) {
  ++Counting::done.choosing;
  return b.v < a.v ? b : a;
}
inline Counting max(Counting a, Counting b) {
  ++Counting::done.choosing;
  return a.v < b.v ? b : a;
}
inline Counting abs(Counting a) {
  ++Counting::done.choosing;
  return {std::fabs(a.v)};
}
inline Counting sqrt(Counting a) {
  ++Counting::done.rooting;
  return {std::sqrt(a.v)};
}
inline Counting exp(Counting a) {
  ++Counting::done.transcendental;
  return {std::exp(a.v)};
}
inline Counting log(Counting a) {
  ++Counting::done.transcendental;
  return {std::log(a.v)};
}
inline Counting pow(Counting a, Counting b) {
  ++Counting::done.transcendental;
  return {std::pow(a.v, b.v)};
}

}  // namespace ww::bench
