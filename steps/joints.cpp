// SPDX-License-Identifier: MIT
#include "steps/joints.h"

#include <algorithm>
#include <cmath>

namespace ww::steps {

namespace {

/// Ends of `blocks` blocks as even as can be, of the groups after `from` up to `to`.
void even_blocks(int from, int to, int longest, std::vector<int>& ends) {
  const int groups = to - from;
  const int blocks = (groups + longest - 1) / longest;
  for (int i = 1; i <= blocks; ++i) ends.push_back(from + groups * i / blocks);
}

}  // namespace

JointOrder joint_order(int series, double unit_V, bool split_in_middle) {
  JointOrder out;
  const int longest =
      std::max(1, static_cast<int>(std::floor(touch_limit_V / unit_V * (1 + 1e-12))));
  const bool split = split_in_middle && series > 1;
  if (split) out.by_disconnect = series / 2;
  if (split) even_blocks(0, out.by_disconnect, longest, out.block_ends);
  even_blocks(out.by_disconnect, series, longest, out.block_ends);
  int first = 1, largest = 0;
  for (const int end : out.block_ends) {
    largest = std::max(largest, end - first + 1);
    for (int lower = first; lower < end; ++lower)
      out.joints.push_back({lower, first, lower + 1, false});
    first = end + 1;
  }
  out.part_V_before_late = largest * unit_V;
  // The late ones, from most negative: the part grows block by block, a half at a time.
  int part_first = 1;
  for (std::size_t b = 0; b + 1 < out.block_ends.size(); ++b) {
    const int lower = out.block_ends[b];
    if (lower == out.by_disconnect) {
      part_first = lower + 1;
      continue;
    }
    out.joints.push_back({lower, part_first, out.block_ends[b + 1], true});
  }
  return out;
}

}  // namespace ww::steps
