// SPDX-License-Identifier: MIT
// Shapes that parts of a bike are drawn with. Private to views/.
#pragma once

#include <vector>

#include "draw/drawing.h"

namespace ww::views {

/// The outline of a sprocket: teeth between root and tip, round its pitch circle.
std::vector<draw::Point> tooth_outline(const draw::Point& centre, double pitch, int teeth);

/// The straight run and the wraps of a chain or belt round two circles.
struct Loop {
  draw::Point top_front, top_rear, bottom_front, bottom_rear;
  double front_from, front_to, rear_from, rear_to;  ///< angles of the wraps, for draw::Arc
  bool possible = false;
};
struct TwoCircles {
  draw::Point front, rear;
  double front_radius, rear_radius;
};
/// The open belt line round both circles. Valid: centres farther apart than the radii differ.
Loop loop_round(const TwoCircles& c);

draw::Polyline rectangle(const draw::Point& a, const draw::Point& b);
/// With round corners of this radius.
draw::Polyline rounded(const draw::Point& a, const draw::Point& b, double radius);

}  // namespace ww::views
