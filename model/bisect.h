// SPDX-License-Identifier: MIT
// Bisection with a fixed number of halvings: the same work in every lane of a batch.
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

}  // namespace ww::model
