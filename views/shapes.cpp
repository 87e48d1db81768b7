// SPDX-License-Identifier: MIT
#include "views/shapes.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ww::views {

using draw::Point;

std::vector<Point> tooth_outline(const Point& centre, double pitch, int teeth) {
  const double pi = std::numbers::pi;
  const double radius = 0.5 * pitch / std::sin(pi / teeth);
  const double root = radius - 0.32 * pitch, tip = radius + 0.28 * pitch;
  std::vector<Point> outline;
  const auto at = [&](double r, double turn) {
    const double t = 2 * pi * turn / teeth;
    outline.push_back({centre.x + r * std::cos(t), centre.y + r * std::sin(t)});
  };
  for (int i = 0; i < teeth; ++i) {
    at(root, i + 0.0);
    at(root, i + 0.22);
    at(tip, i + 0.44);
    at(tip, i + 0.56);
    at(root, i + 0.78);
  }
  return outline;
}

Loop loop_round(const TwoCircles& c) {
  Loop out{};
  const double dx = c.rear.x - c.front.x, dy = c.rear.y - c.front.y;
  const double apart = std::hypot(dx, dy);
  const double rise = c.rear_radius - c.front_radius;
  if (!(apart > std::abs(rise) + 1)) return out;
  out.possible = true;
  const double line = std::atan2(dy, dx), lean = std::asin(rise / apart);
  // The normals of the two straight runs, on the sheet's clockwise angles.
  const double pi = std::numbers::pi;
  const double top = line - pi / 2 - lean, bottom = line + pi / 2 + lean;
  const auto on = [](const Point& p, double r, double t) {
    return Point{p.x + r * std::cos(t), p.y + r * std::sin(t)};
  };
  out.top_front = on(c.front, c.front_radius, top);
  out.top_rear = on(c.rear, c.rear_radius, top);
  out.bottom_front = on(c.front, c.front_radius, bottom);
  out.bottom_rear = on(c.rear, c.rear_radius, bottom);
  out.front_from = bottom;
  out.front_to = top + 2 * pi;
  out.rear_from = top;
  out.rear_to = bottom;
  return out;
}

draw::Polyline rectangle(const Point& a, const Point& b) {
  return {{{a.x, a.y}, {b.x, a.y}, {b.x, b.y}, {a.x, b.y}}, true};
}

draw::Polyline rounded(const Point& a, const Point& b, double radius) {
  const double left = std::min(a.x, b.x), right = std::max(a.x, b.x);
  const double top = std::min(a.y, b.y), bottom = std::max(a.y, b.y);
  const double r = std::min({radius, 0.5 * (right - left), 0.5 * (bottom - top)});
  const Point centres[] = {
      {right - r, top + r}, {right - r, bottom - r}, {left + r, bottom - r}, {left + r, top + r}};
  draw::Polyline out{{}, true};
  for (int corner = 0; corner < 4; ++corner) {
    for (int i = 0; i <= 5; ++i) {
      const double t = std::numbers::pi / 2 * (corner - 1 + i / 5.0);
      out.points.push_back(
          {centres[corner].x + r * std::cos(t), centres[corner].y + r * std::sin(t)});
    }
  }
  return out;
}

}  // namespace ww::views
