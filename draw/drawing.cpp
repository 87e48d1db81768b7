// SPDX-License-Identifier: MIT
#include "draw/drawing.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

namespace ww::draw {

namespace {

constexpr double radian = std::numbers::pi / 180;

/// Advance widths of U+0020 to U+007E in thousandths of the letter height, of a wide sans-serif
/// face (DejaVu Sans, read from its hmtx table): most faces are narrower.
constexpr std::array<short, 95> advances{
    318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361,  318, 337, 636, 636, 636,
    636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632,
    575, 775, 752, 295, 295, 656, 557, 863, 748, 787, 603, 787, 695, 635,  611, 732, 684, 989, 685,
    611, 685, 390, 337, 390, 838, 500, 500, 613, 635, 550, 635, 615, 352,  635, 634, 278, 278, 579,
    278, 974, 634, 612, 635, 635, 411, 521, 392, 634, 592, 818, 592, 592,  525, 636, 337, 636, 838};
constexpr double other_letter = 0.75;
constexpr double strong_letters = 1.11;

Box nothing() {
  constexpr double far = std::numeric_limits<double>::infinity();
  return {far, far, -far, -far};
}

void take_in(Box& box, const Point& p) {
  if (!std::isfinite(p.x) || !std::isfinite(p.y)) return;
  box = {std::min(box.left, p.x), std::min(box.top, p.y), std::max(box.right, p.x),
         std::max(box.bottom, p.y)};
}

void take_in(Box& box, const Box& other) {
  if (other.left > other.right) return;
  take_in(box, Point{other.left, other.top});
  take_in(box, Point{other.right, other.bottom});
}

Box box_of_points(const std::vector<Point>& points) {
  Box box = nothing();
  for (const Point& p : points) take_in(box, p);
  return box;
}

/// Where a line through the outline's turned frame enters and leaves.
std::vector<double> crossings(const std::vector<Point>& outline, double level) {
  std::vector<double> places;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Point a = outline[i], b = outline[(i + 1) % outline.size()];
    if ((a.y <= level) == (b.y <= level)) continue;
    places.push_back(a.x + (b.x - a.x) * (level - a.y) / (b.y - a.y));
  }
  std::sort(places.begin(), places.end());
  return places;
}

Point turned(const Point& p, double angle) {
  return {p.x * std::cos(angle) - p.y * std::sin(angle),
          p.x * std::sin(angle) + p.y * std::cos(angle)};
}

struct ShapeBox {
  double pen;
  Box operator()(const Line& line) const { return box_of_points({line.from, line.to}); }
  Box operator()(const Polyline& line) const { return box_of_points(line.points); }
  Box operator()(const Circle& c) const {
    return box_of_points({{c.centre.x - c.radius, c.centre.y - c.radius},
                          {c.centre.x + c.radius, c.centre.y + c.radius}});
  }
  Box operator()(const Arc& a) const {
    Box box = nothing();
    for (int i = 0; i <= 24; ++i) {
      const double t = a.from_rad + (a.to_rad - a.from_rad) * i / 24;
      take_in(box, Point{a.centre.x + a.radius * std::cos(t), a.centre.y + a.radius * std::sin(t)});
    }
    return box;
  }
  Box operator()(const Path& path) const {
    Box box = nothing();
    for (const Step& step : path.steps) {
      if (step.kind == Step::Kind::close) continue;
      take_in(box, step.to);
      if (step.kind != Step::Kind::curve) continue;
      take_in(box, step.handle_1);
      take_in(box, step.handle_2);
    }
    return box;
  }
  Box operator()(const Text& text) const { return box_of(text); }
  Box operator()(const Dimension& dimension) const {
    Box box = nothing();
    for (const Element& part : parts_of(dimension, pen)) take_in(box, box_of(part));
    return box;
  }
  Box operator()(const Hatch& hatch) const { return box_of_points(hatch.outline); }
  Box operator()(const Group& group) const {
    Box box = nothing();
    for (const Element& part : group.parts) take_in(box, box_of(part));
    return box;
  }
};

Element arrow(const Point& tip, double angle, double length) {
  const Point back = turned({length, 0}, angle), side = turned({0, 0.22 * length}, angle);
  return {.shape = Polyline{{tip,
                             {tip.x + back.x + side.x, tip.y + back.y + side.y},
                             {tip.x + back.x - side.x, tip.y + back.y - side.y}},
                            true},
          .style = {.line = Ink::none, .fill = Ink::soft}};
}

}  // namespace

double text_width(std::string_view text, double size) {
  double sum = 0;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if ((byte & 0xC0U) == 0x80U) continue;  // inside a character
    sum += byte >= 0x20 && byte < 0x7F ? advances[byte - 0x20U] / 1000.0 : other_letter;
  }
  return sum * size;
}

Box box_of(const Text& text) {
  const double width = text_width(text.text, text.size) * (text.strong ? strong_letters : 1);
  const double left = text.anchor == Anchor::start    ? 0
                      : text.anchor == Anchor::middle ? -0.5 * width
                                                      : -width;
  Box box = nothing();
  for (const Point corner :
       {Point{left, -0.78 * text.size}, Point{left + width, -0.78 * text.size},
        Point{left, 0.22 * text.size}, Point{left + width, 0.22 * text.size}}) {
    const Point p = turned(corner, text.turn_deg * radian);
    take_in(box, Point{text.at.x + p.x, text.at.y + p.y});
  }
  return box;
}

Box box_of(const Element& element) {
  return std::visit(ShapeBox{1}, element.shape);
}

bool overlap(const Box& a, const Box& b) {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

std::vector<Element> parts_of(const Dimension& d, double pen) {
  const double dx = d.to.x - d.from.x, dy = d.to.y - d.from.y;
  const double length = std::hypot(dx, dy);
  if (!(length > 0) || !std::isfinite(length) || !std::isfinite(d.offset)) return {};
  const Point along{dx / length, dy / length};
  const Point left{along.y, -along.x};
  const Point a{d.from.x + left.x * d.offset, d.from.y + left.y * d.offset};
  const Point b{d.to.x + left.x * d.offset, d.to.y + left.y * d.offset};
  const double beyond = (d.offset < 0 ? -4 : 4) * pen;
  const Style thin{.line = Ink::soft, .width = 0.7};
  std::vector<Element> parts;
  for (const auto& [from, to] : {std::pair{d.from, a}, std::pair{d.to, b}}) {
    if (std::abs(d.offset) < 2 * pen) continue;
    const double start = (d.offset < 0 ? -3 : 3) * pen;
    parts.push_back({.shape = Line{{from.x + left.x * start, from.y + left.y * start},
                                   {to.x + left.x * beyond, to.y + left.y * beyond}},
                     .style = thin});
  }
  const double angle = std::atan2(dy, dx);
  const double head = std::min(9 * pen, 0.3 * length);
  parts.push_back({.shape = Line{a, b}, .style = thin});
  parts.push_back(arrow(a, angle, head));
  parts.push_back(arrow(b, angle + std::numbers::pi, head));
  // The number reads from below or from the right, whichever way the measure was taken.
  double turn = angle / radian;
  if (turn > 90 + 1e-6) turn -= 180;
  if (turn <= -90 + 1e-6) turn += 180;
  const Point up = turned({0, -4 * pen}, turn * radian);
  parts.push_back({.shape = Text{.at = {0.5 * (a.x + b.x) + up.x, 0.5 * (a.y + b.y) + up.y},
                                 .text = d.text,
                                 .size = d.size,
                                 .anchor = Anchor::middle,
                                 .turn_deg = turn,
                                 .halo = true},
                   .style = {.line = Ink::ink}});
  return parts;
}

std::vector<Line> lines_of(const Hatch& hatch) {
  const double angle = hatch.turn_deg * radian;
  std::vector<Point> flat;
  for (const Point& p : hatch.outline) {
    if (!std::isfinite(p.x) || !std::isfinite(p.y)) return {};
    flat.push_back(turned(p, -angle));
  }
  const Box box = box_of_points(flat);
  const double height = box.bottom - box.top;
  // A hatching finer than a thousandth of its outline is a face, not lines.
  if (!(hatch.spacing > 0) || !(height > 0) || height / hatch.spacing > 1000 ||
      std::abs(box.top / hatch.spacing) > 1e12)
    return {};
  std::vector<Line> lines;
  const auto first = static_cast<long long>(std::ceil(box.top / hatch.spacing));
  for (long long i = first; static_cast<double>(i) * hatch.spacing < box.bottom; ++i) {
    const double level = static_cast<double>(i) * hatch.spacing;
    const auto places = crossings(flat, level);
    for (std::size_t k = 0; k + 1 < places.size(); k += 2)
      lines.push_back({turned({places[k], level}, angle), turned({places[k + 1], level}, angle)});
  }
  return lines;
}

}  // namespace ww::draw
