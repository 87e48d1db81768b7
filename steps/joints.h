// SPDX-License-Identifier: MIT
// The order in which the groups of a pack are joined in series, so that what is live stays under
// 60 V as long as it can.
// Invariants:
// 1. Every joint between neighbours is made once, but for the one where a service disconnect
//    splits the pack: that one is the disconnect's.
// 2. No part goes over 60 V until only the joints between blocks are left; no order leaves fewer of
//    those, since a block is as long as 60 V allow.
// 60 V DC: UN R100, R136 (voltage class B begins above it).
#pragma once

#include <vector>

namespace ww::steps {

inline constexpr double touch_limit_V = 60;

struct Joint {
  int lower;  ///< joins group `lower` and the one above it; groups count from 1, most negative
  int first, last;  ///< the part that is live as one after it
  bool late;        ///< between blocks: left out until everything else is done
};

struct JointOrder {
  std::vector<Joint> joints;    ///< in the order in which they are made
  std::vector<int> block_ends;  ///< last group of each block
  int by_disconnect = 0;        ///< the joint that the service disconnect makes; 0: none
  double part_V_before_late;    ///< the highest full voltage of any part before the late ones
};

/// Valid: series >= 1, unit_V > 0 (one group, full).
JointOrder joint_order(int series, double unit_V, bool split_in_middle);

}  // namespace ww::steps
