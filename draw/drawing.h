// SPDX-License-Identifier: MIT
// A drawing as data: shapes with a style and with keys that say what each stands for. Writers turn
// it into files. Invariants:
// 1. x runs to the right, y runs down the sheet; positions, radii and letter heights are in the
//    drawing's unit, line widths and dashes in pens.
// 2. Colour is a role, never a colour: the writer's sheet of styles decides what it looks like.
// 3. A shape with a number that is not finite is left out by every writer.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace ww::draw {

struct Point {
  double x, y;
};

struct Box {
  double left, top, right, bottom;
};

enum class Unit : std::uint8_t { px, mm };

/// What a line or face stands for. The tones tell curves apart and are always joined by a dash or a
/// label.
enum class Ink : std::uint8_t {
  none,
  paper,   ///< the sheet itself
  ink,     ///< what is there
  soft,    ///< lettering of second rank, axes
  faint,   ///< grid, construction lines
  wash,    ///< faces of parts
  accent,  ///< the one thing to look at
  alarm,   ///< a mark of something wrong; never without a shape or word
  tone_1,
  tone_2,
  tone_3,
  tone_4,
  tone_5,
  tone_6
};
enum class Dash : std::uint8_t { solid, dashed, dotted, dash_dot, long_dash };

struct Style {
  Ink line = Ink::ink;
  double width = 1;  ///< pens
  Dash dash = Dash::solid;
  Ink fill = Ink::none;
  double fill_opacity = 1;
};

struct Line {
  Point from, to;
};
struct Polyline {
  std::vector<Point> points;
  bool closed = false;
};
struct Circle {
  Point centre;
  double radius;
};
/// From one angle to another, clockwise on the sheet where `to_rad` is larger; 0 points right.
struct Arc {
  Point centre;
  double radius, from_rad, to_rad;
};
/// One step of a path. A curve is a cubic with two handles.
struct Step {
  enum class Kind : std::uint8_t { move, line, curve, close } kind;
  Point to;
  Point handle_1 = {0, 0}, handle_2 = {0, 0};
};
struct Path {
  std::vector<Step> steps;
};
enum class Anchor : std::uint8_t { start, middle, end };
struct Text {
  Point at;  ///< on the base line
  std::string text;
  double size;  ///< of the letters, in the drawing's unit
  Anchor anchor = Anchor::start;
  double turn_deg = 0;  ///< clockwise
  bool strong = false;
  bool halo = false;  ///< a rim of paper round the letters, where lines pass behind
};
/// A measure between two points, drawn `offset` to the left of the way from one to the other.
struct Dimension {
  Point from, to;
  double offset;
  std::string text;
  double size;
};
/// Parallel lines inside a closed outline.
struct Hatch {
  std::vector<Point> outline;
  double spacing;
  double turn_deg = 45;
};

/// A name and what it is: {"field", "donor.wheelbase"} is written as data-field.
struct Key {
  std::string name, value;
};
/// What an element stands for.
struct Tag {
  std::string name = {};  ///< a class for style sheets
  std::vector<Key> keys = {};
  std::string title = {};  ///< one sentence, shown on touch and read aloud
  bool empty() const { return name.empty() && keys.empty() && title.empty(); }
};

struct Element;
struct Group {
  std::vector<Element> parts;
};
using Shape = std::variant<Line, Polyline, Circle, Arc, Path, Text, Dimension, Hatch, Group>;
struct Element {
  Shape shape;
  Style style = {};
  Tag tag = {};
};

struct Drawing {
  std::string title, description;
  Unit unit = Unit::px;
  double width = 0, height = 0;  ///< in the unit; (0, 0) is the top left corner
  double pen = 1;                ///< one pixel at the size it was lettered for, in the unit
  std::vector<Element> parts;
};

/// Width of a text set in a common sans-serif face, in the unit of `size`.
/// Valid: any UTF-8 text. Errs on the wide side: 0 to 15 % wider than the usual faces.
double text_width(std::string_view text, double size);

/// What a text covers, its turn counted in.
Box box_of(const Text& text);
/// What a shape covers, without the width of its lines; an inside-out box where there is nothing
/// finite.
Box box_of(const Element& element);
bool overlap(const Box& a, const Box& b);

/// Lines, arrow heads and text that a dimension stands for, as every writer draws it.
std::vector<Element> parts_of(const Dimension& dimension, double pen);
/// The lines of a hatching.
std::vector<Line> lines_of(const Hatch& hatch);

/// Calls `see(element)` for every element, groups first, then what is in them.
void walk(const std::vector<Element>& parts, const auto& see) {
  for (const Element& element : parts) {
    see(element);
    if (const auto* group = std::get_if<Group>(&element.shape)) walk(group->parts, see);
  }
}

}  // namespace ww::draw
