// SPDX-License-Identifier: MIT
// A chart as data, and what it becomes: a drawing of a given width, CSV bytes, a plain table.
// Invariants:
// 1. Numbers are in the unit that stands on their axis; NaN is a gap and is never written.
// 2. What tells two curves or two states apart is never colour alone: a dash and a word go with it.
// 3. Labels are placed where they cover neither each other nor a curve's end; one that finds no
//    place goes into the key below.
#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "draw/drawing.h"

namespace ww::draw {

enum class Scale : std::uint8_t { linear, log };

/// From and to.
struct Range {
  double low, high;
};

struct Axis {
  std::string label, unit;  ///< "speed", "km/h"
  Scale scale = Scale::linear;
  std::optional<Range> range = {};  ///< else from the data
  bool from_zero = false;           ///< where the range comes from the data
};

/// A part of a curve that one cause governs.
struct Stretch {
  double from, to;  ///< on the x axis
  std::string label;
  int state = 0;  ///< picks tone and dash; the same cause has the same number on one chart
};

/// What the curve may be at one x.
struct Spread {
  double x, low, high;
};

struct Curve {
  std::string label;
  std::vector<Point> points;  ///< y here runs up, as on any chart; a NaN breaks the line
  Ink ink = Ink::ink;
  Dash dash = Dash::solid;
  double width = 1.6;
  std::vector<Spread> band = {};
  std::vector<Stretch> stretches = {};
  bool ghost = false;    ///< the former state: thin, grey, dotted, labelled "before"
  bool steps = false;    ///< holds its value until the next point
  bool labelled = true;  ///< the label stands beside the curve; it is in the table in any case
};

enum class Across : std::uint8_t { x, y };
/// A line at one value of an axis.
struct Reference {
  Across axis;  ///< the axis that `at` is read on
  double at;
  std::string label;
  Dash dash = Dash::dashed;
};

enum class Sign : std::uint8_t { none, dot, ring, cross, square, triangle, half, question, bang };
struct Marker {
  Point at;
  std::string label;
  Sign sign = Sign::ring;
  Tag tag = {};
};

/// Curves over an axis.
struct Plot {
  std::vector<Curve> curves = {};
  std::vector<Reference> references = {};
  std::vector<Marker> markers = {};
};

/// A place on a bar with what it means.
struct Notch {
  double at;
  std::string label;
};
/// From where to where something reaches, on the x axis.
struct Bar {
  std::string label;
  double from, to;  ///< an end that is not known: NaN, drawn open
  std::vector<Notch> notches = {};
  Ink ink = Ink::soft;
  bool assumed = false;  ///< drawn dashed
  Tag tag = {};
};
struct Bars {
  std::vector<Bar> bars = {};
  std::vector<Reference> references = {};  ///< on x
};

/// A number over two axes, in cells.
struct Field {
  std::vector<double> xs, ys;  ///< middles of the cells, rising
  std::vector<double> values;  ///< row by row: [iy * xs.size() + ix]; NaN: cannot be reached
  std::string label, unit;     ///< of the numbers
  std::vector<double> levels;  ///< rising; cells are shaded by the level they reach
  std::vector<Curve> outlines = {};
  std::vector<Marker> markers = {};
};

struct MatrixCell {
  Sign sign = Sign::none;
  std::string word = {};  ///< empty: nothing stands between the two
  int rank = 0;           ///< larger is worse; on a narrow sheet pairs of rank 0 are only counted
  Tag tag = {};
};
/// What stands between each two of several things: half a square.
struct Matrix {
  std::vector<std::string> names;
  std::vector<MatrixCell> cells;  ///< [row * names.size() + column], column < row
};

struct Chart {
  std::string key, title;
  std::string says;     ///< one sentence: what the chart shows for this build
  std::string missing;  ///< what is needed before it can be drawn; empty where it can
  std::vector<std::string> notes = {};  ///< small print under the chart
  Axis x = {}, y = {};
  std::variant<Plot, Bars, Field, Matrix> body = {};
};

/// The width it is shown at decides ticks, letters and what fits; the height follows where 0.
struct ChartSize {
  double width_px = 760, height_px = 0;
};
/// A drawing in px. The group "plot" carries what a page needs to read a place off it: data-left,
/// data-top, data-right, data-bottom in px, data-x-low, data-x-high, data-x-scale and the same for
/// y.
Drawing drawing_of(const Chart& chart, const ChartSize& size = {});

/// Comma separated, a head with units, one row an x (bar, cell, pair; a point where a curve goes
/// straight up or back), numbers to six digits, '.'
/// as decimal sign, lines end in LF; a gap is an empty cell.
std::string csv_of(const Chart& chart);

struct Cell {
  std::string text;  ///< as shown; a gap is "-"
  double number = std::numeric_limits<double>::quiet_NaN();
};
struct Table {
  std::string caption;
  std::vector<std::string> heads;
  std::vector<std::vector<Cell>> rows;
};
/// The chart's numbers as a table: at most `rows` rows, evenly thinned, first and last kept.
Table table_of(const Chart& chart, std::size_t rows = 40);

/// The chart with the curves of `before` behind its own as ghosts. Other bodies than plots come
/// back as they are.
Chart with_ghost(Chart now, const Chart& before);

/// Round places inside the range, at most `most`, at steps of 1, 2, 2.5 or 5 times a power of ten;
/// for a log scale the decades, and 2 and 5 where there are few.
/// Valid: low < high, both finite; log: low > 0. Else none.
std::vector<double> ticks_of(Range range, Scale scale, int most);

/// The points with at most four a pixel column: first, least, most, last. What is drawn stays the
/// same. Valid: x not falling; else the points come back as they are.
std::vector<Point> thinned(const std::vector<Point>& points, Range x, double width_px);

/// A number as short as its place on a scale needs: "0", "25", "0.4", "12 000".
std::string tick_text(double value, double step);

}  // namespace ww::draw
