// SPDX-License-Identifier: MIT
// Words that several families of rules use. Private to fit/.
#pragma once

#include <limits>

#include "fit/rule.h"
#include "model/constants.h"

namespace ww::fit {

inline constexpr double nan = std::numeric_limits<double>::quiet_NaN();
inline constexpr double mm = 1e-3;
inline constexpr double degree = model::pi / 180;
inline constexpr double hour = 3600;

/// Whether the motor sits in the frame at all; in[i] is its type.
inline bool in_frame(const In& in, int i) {
  return !in.is(i, build::MotorType::pm_hub);
}

}  // namespace ww::fit
