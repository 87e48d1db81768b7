// SPDX-License-Identifier: MIT
#include "views/outline.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ww::views {

namespace {

using draw::Element;
using draw::Ink;
using draw::Point;
using draw::Polyline;
using draw::Step;

// A person of about 1.75 m, mm: from memory, for drawing only.
constexpr double torso = 500, upper_arm = 290, fore_arm = 280, thigh = 430, shin = 430, foot = 200;

/// The joint between two bones from a to b; `bend` +1 or -1 picks the side. Straight where out of
/// reach.
Spot joint(const Spot& a, const Spot& b, double first, double second, double bend) {
  const double dx = b.x - a.x, dz = b.z - a.z;
  const double far = std::max(std::hypot(dx, dz), 1.0);
  const double reach = std::min(far, 0.999 * (first + second));
  const double along = (reach * reach + first * first - second * second) / (2 * reach);
  const double off = bend * std::sqrt(std::max(first * first - along * along, 0.0));
  return {a.x + dx / far * along - dz / far * off, 0, a.z + dz / far * along + dx / far * off};
}

double lean_of(const build::Build& build) {
  using build::Posture;
  switch (build.rider ? build.rider->posture : Posture::unknown) {
    case Posture::upright:
    case Posture::upright_with_luggage:
      return 8;
    case Posture::leaning:
      return 24;
    case Posture::tucked:
      return 48;
    case Posture::unknown:
      break;
  }
  const auto bike_class = build.donor ? build.donor->bike_class : build::BikeClass::unknown;
  return bike_class == build::BikeClass::sport_600 ? 35 : 12;
}

draw::Style light(double width) {
  return {.line = Ink::soft, .width = width, .fill = Ink::wash, .fill_opacity = 0.7};
}

/// A limb: a line as wide as it is thick, with round ends, as one closed outline.
Element limb(const Point& a, const Point& b, double radius_a, double radius_b) {
  const double angle = std::atan2(b.y - a.y, b.x - a.x);
  std::vector<Point> outline;
  for (int i = 0; i <= 18; ++i) {
    const double t = angle + std::numbers::pi / 2 + std::numbers::pi * i / 18;
    outline.push_back({a.x + radius_a * std::cos(t), a.y + radius_a * std::sin(t)});
  }
  for (int i = 0; i <= 18; ++i) {
    const double t = angle - std::numbers::pi / 2 + std::numbers::pi * i / 18;
    outline.push_back({b.x + radius_b * std::cos(t), b.y + radius_b * std::sin(t)});
  }
  return {.shape = Polyline{std::move(outline), true},
          .style = {.line = Ink::faint, .width = 1, .fill = Ink::wash, .fill_opacity = 0.55}};
}

/// A tube of a frame.
Element tube(std::vector<Point> points, double diameter, double pen) {
  return {.shape = Polyline{std::move(points)},
          .style = {.line = Ink::faint, .width = diameter / pen}};
}

Element curve(std::vector<Step> steps, const draw::Style& style) {
  return {.shape = draw::Path{std::move(steps)}, .style = style};
}

}  // namespace

Mannequin mannequin_of(const build::Build& build, const Pose& pose) {
  const Stature& s = pose.stature;
  Mannequin m{};
  m.hip = {s.head_x - 660, 0, s.seat_z + 85};
  m.hand = {s.grip_x, 0, s.grip_z + 20};
  // Lean forward until the hands reach the bar.
  double lean = lean_of(build);
  for (int i = 0; i < 70; ++i, lean += 1) {
    const double t = lean * std::numbers::pi / 180;
    m.shoulder = {m.hip.x + torso * std::sin(t), 0, m.hip.z + torso * std::cos(t)};
    if (std::hypot(m.hand.x - m.shoulder.x, m.hand.z - m.shoulder.z) <
        0.94 * (upper_arm + fore_arm))
      break;
  }
  const double t = 0.5 * lean * std::numbers::pi / 180;
  m.head = {m.shoulder.x + 230 * std::sin(t) + 30, 0, m.shoulder.z + 210 * std::cos(t)};
  m.elbow = joint(m.shoulder, m.hand, upper_arm, fore_arm, -1);
  m.ankle = {s.peg_x - 50, 0, s.peg_z + 85};
  m.knee = joint(m.hip, m.ankle, thigh, shin, 1);
  m.heel = {s.peg_x - 90, 0, s.peg_z + 15};
  m.toe = {s.peg_x - 90 + foot + 60, 0, s.peg_z + 5};
  return m;
}

std::vector<Element> rider_side(const Mannequin& m, const Paper& paper) {
  const auto p = [&](const Spot& s) { return paper.at().side(s); };
  std::vector<Element> parts;
  parts.push_back(limb(p(m.hip), p(m.shoulder), 115, 100));
  parts.push_back({.shape = draw::Circle{p({m.head.x, 0, m.head.z + 8}), 122},
                   .style = {.line = Ink::faint, .fill = Ink::wash, .fill_opacity = 0.55}});
  parts.push_back(limb(p(m.hip), p(m.knee), 95, 68));
  parts.push_back(limb(p(m.knee), p(m.ankle), 64, 46));
  parts.push_back(
      limb(p({m.heel.x + 30, 0, m.heel.z + 22}), p({m.toe.x, 0, m.toe.z + 18}), 38, 26));
  parts.push_back(limb(p(m.shoulder), p(m.elbow), 60, 46));
  parts.push_back(limb(p(m.elbow), p(m.hand), 45, 34));
  return parts;
}

std::vector<Element> frame_side(const Pose& pose, const Paper& paper) {
  const auto p = [&](double x, double z) { return paper.at().side({x, 0, z}); };
  const Stature& s = pose.stature;
  const double pen = paper.pen();
  // The down-tube stands in front of the bay, or where the steering head lets it.
  const double front_x = std::min(pose.bay.x + pose.bay_length.mm + 22, s.head_x - 20);
  const double bottom = pose.ground_z + pose.ground_clearance.mm + 16;
  std::vector<Element> parts;
  if (pose.scooter) {
    parts.push_back(tube({p(s.head_x - 10, s.head_z - 60), p(s.head_x - 70, bottom + 120),
                          p(s.head_x - 110, bottom + 30), p(s.head_x - 180, bottom), p(60, bottom),
                          p(-20, bottom + 60), p(-90, s.seat_z - 220), p(-520, s.seat_z - 120)},
                         38, pen));
    return parts;
  }
  parts.push_back(tube({p(s.head_x - 5, s.head_z + 25), p(70, s.seat_z - 48),
                        p(-150, s.seat_z - 72), p(-540, s.seat_z - 5)},
                       34, pen));
  parts.push_back(tube(
      {p(s.head_x + 20, s.head_z - 60), p(front_x + 8, bottom + 110), p(front_x - 4, bottom + 36),
       p(front_x - 40, bottom), p(40, bottom), p(4, bottom + 40), p(0, 0), p(28, s.seat_z - 60)},
      32, pen));
  parts.push_back(tube({p(-12, 70), p(-330, s.seat_z - 38)}, 24, pen));
  return parts;
}

std::vector<Element> fork_side(const Pose& pose, const Paper& paper) {
  const auto p = [&](double x, double z) { return paper.at().side({x, 0, z}); };
  const Stature& s = pose.stature;
  const double pen = paper.pen();
  const double run = std::tan(s.rake_rad);
  // Legs a little ahead of the steering axis, down to the axle.
  const auto leg = [&](double z) {
    return p(pose.front.centre.x - (z - pose.front.centre.z) * run, z);
  };
  const double top = s.head_z + 110;
  std::vector<Element> parts;
  parts.push_back(tube({leg(top), leg(pose.front.centre.z)}, 38, pen));
  parts.push_back(tube({leg(pose.front.centre.z + 210), leg(pose.front.centre.z)}, 52, pen));
  parts.push_back(tube(
      {p(s.head_x - 75 * run, s.head_z + 75), p(s.head_x + 75 * run, s.head_z - 75)}, 56, pen));
  parts.push_back(
      tube({leg(top - 15), p(s.grip_x + 30, s.grip_z), p(s.grip_x - 70, s.grip_z + 6)}, 24, pen));
  return parts;
}

std::vector<Element> body_side(const Pose& pose, const Paper& paper) {
  const auto p = [&](double x, double z) { return paper.at().side({x, 0, z}); };
  const Stature& s = pose.stature;
  using Kind = Step::Kind;
  std::vector<Element> parts;
  const double hip = s.head_x - 660;
  // Seat: a soft hollow for the rider, the tail rising behind.
  parts.push_back(curve(
      {{Kind::move, p(hip + 190, s.seat_z + 20)},
       {Kind::curve, p(hip - 40, s.seat_z), p(hip + 120, s.seat_z - 8), p(hip + 40, s.seat_z - 5)},
       {Kind::curve, p(hip - 420, s.seat_z + 75), p(hip - 160, s.seat_z + 5),
        p(hip - 280, s.seat_z + 60)},
       {Kind::curve, p(hip - 380, s.seat_z + 25), p(hip - 450, s.seat_z + 60),
        p(hip - 430, s.seat_z + 35)},
       {Kind::curve, p(hip - 40, s.seat_z - 70), p(hip - 260, s.seat_z - 5),
        p(hip - 150, s.seat_z - 60)},
       {Kind::line, p(hip + 190, s.seat_z - 60)},
       {Kind::close, {0, 0}}},
      light(0.8)));
  if (pose.scooter) return parts;
  // Tank cover between seat and head.
  const double rear = hip + 185, front = s.head_x - 45;
  parts.push_back(curve({{Kind::move, p(rear, s.seat_z - 40)},
                         {Kind::curve, p(rear + 120, s.seat_z + 165), p(rear + 5, s.seat_z + 70),
                          p(rear + 40, s.seat_z + 150)},
                         {Kind::curve, p(front, s.seat_z + 120), p(rear + 240, s.seat_z + 185),
                          p(front - 40, s.seat_z + 175)},
                         {Kind::curve, p(front - 60, s.seat_z - 60), p(front + 20, s.seat_z + 60),
                          p(front, s.seat_z - 40)},
                         {Kind::close, {0, 0}}},
                        light(0.8)));
  return parts;
}

std::vector<Element> outline_top(const Pose& pose, const Mannequin& m, double heel_width,
                                 const Paper& paper) {
  const auto p = [&](double x, double y) { return paper.at().top({x, y, 0}); };
  const Stature& s = pose.stature;
  const double pen = paper.pen();
  const double hip = s.head_x - 660;
  using Kind = Step::Kind;
  std::vector<Element> parts;
  // Handlebar, fork legs, tank cover and seat.
  parts.push_back(
      {.shape = Polyline{{p(s.grip_x - 40, 370), p(s.grip_x + 20, 240), p(s.head_x - 30, 60),
                          p(s.head_x - 30, -60), p(s.grip_x + 20, -240), p(s.grip_x - 40, -370)}},
       .style = {.line = Ink::faint, .width = 24 / pen}});
  for (const double side : {1.0, -1.0}) {
    const double y = side * (0.5 * pose.front.width.mm + 42);
    parts.push_back(tube({p(s.head_x, y), p(pose.front.centre.x, y)}, 40, pen));
  }
  const double half_tank = 0.5 * pose.tunnel_width.mm + 30;
  if (!pose.scooter)
    parts.push_back(curve(
        {{Kind::move, p(s.head_x - 45, 0)},
         {Kind::curve, p(hip + 400, half_tank), p(s.head_x - 45, half_tank),
          p(hip + 500, half_tank)},
         {Kind::curve, p(hip + 180, 90), p(hip + 300, half_tank), p(hip + 200, 110)},
         {Kind::line, p(hip + 180, -90)},
         {Kind::curve, p(hip + 400, -half_tank), p(hip + 200, -110), p(hip + 300, -half_tank)},
         {Kind::curve, p(s.head_x - 45, 0), p(hip + 500, -half_tank), p(s.head_x - 45, -half_tank)},
         {Kind::close, {0, 0}}},
        light(0.7)));
  parts.push_back(curve({{Kind::move, p(hip + 190, 90)},
                         {Kind::curve, p(hip - 60, 150), p(hip + 100, 100), p(hip + 30, 150)},
                         {Kind::curve, p(hip - 420, 70), p(hip - 200, 150), p(hip - 380, 110)},
                         {Kind::line, p(hip - 420, -70)},
                         {Kind::curve, p(hip - 60, -150), p(hip - 380, -110), p(hip - 200, -150)},
                         {Kind::curve, p(hip + 190, -90), p(hip + 30, -150), p(hip + 100, -100)},
                         {Kind::close, {0, 0}}},
                        light(0.7)));
  // Boots on the pegs.
  for (const double side : {1.0, -1.0}) {
    const double y = side * (0.5 * heel_width - 45);
    parts.push_back(limb(p(m.heel.x + 30, y), p(m.toe.x, y + side * 12), 42, 46));
  }
  return parts;
}

}  // namespace ww::views
