// SPDX-License-Identifier: MIT
// A root inside an interval: by a fixed number of halvings, the same work in every lane of a batch,
// or by Newton's method where the function has a slope and falls.
#pragma once

#include "base/num.h"

namespace ww::model {

/// The place between low and high where root_above(x) turns from true to false. 60 halvings.
/// Valid: root_above changes once; where it never does, an end of the interval.
/// Ignores derivatives: a dual number needs a Newton step after it.
/// Source: definition. Checked by: model/cell_test, model/thermal_test (round trips).
template <class R, class Mask>
R bisected(R low, R high, const Mask& root_above) {
  for (int i = 0; i < 60; ++i) {
    const R middle = num<R>(0.5) * (low + high);
    const auto up = root_above(middle);
    low = select(up, middle, low);
    high = select(up, high, middle);
  }
  return num<R>(0.5) * (low + high);
}

/// A function that falls, and its slope.
template <class R>
struct Falling {
  R value;
  R slope;
};

/// Where a falling function is zero between low and high: Newton's method from `start`, by halves
/// where a step leaves what is known; at most 24 steps. A lane whose Newton step is no more than
/// 1e-9 of itself takes it and stays: what is left is some square of that. Lanes that are `settled`
/// are not asked for. Carries derivatives: all steps are made.
/// Valid: value(low) >= 0 >= value(high).
/// Source: definition. Checked by: model/motor_test (induction against a grid and against halving).
template <class R, class Function>
R falling_root(R low, R high, R start, const mask_of<R>& settled, const Function& function) {
  R x = start;
  mask_of<R> done = settled;
  for (int i = 0; i < 24; ++i) {
    const Falling<R> at = function(x);
    const mask_of<R> above = at.value > num<R>(0);
    low = select(above, x, low);
    high = select(above, high, x);
    const R newton = x - at.value / at.slope;
    const mask_of<R> kept = (newton >= low) & (newton <= high);
    const R next = select(kept, newton, num<R>(0.5) * (low + high));
    if constexpr (carries_slopes<R>) {
      x = next;
    } else {
      const R moved = abs(next - x);
      x = select(done, x, next);
      done = done | (kept & !(moved > num<R>(1e-9) * abs(x))) | !(moved > num<R>(1e-14) * abs(x));
      if (all(done)) break;
    }
  }
  return x;
}

}  // namespace ww::model
