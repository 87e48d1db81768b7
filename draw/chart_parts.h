// SPDX-License-Identifier: MIT
// What the writers of charts share: the sheet they write on, the frame that maps numbers to places.
// Private to draw/.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "draw/chart.h"
#include "draw/layout.h"

namespace ww::draw {

/// Letter heights in px.
inline constexpr double letters_title = 15, letters = 12, letters_small = 11;
/// Below this width a chart is laid out for a phone.
inline constexpr double narrow_px = 520;

/// A drawing being written from the top down.
struct Sheet {
  double width, height;  ///< px; the height that was asked for, 0 where it follows
  double y = 0;          ///< how far down it is written
  std::vector<Element> parts = {};

  bool narrow() const { return width < narrow_px; }
  double margin() const { return narrow() ? 8 : 14; }
  void add(Element element) { parts.push_back(std::move(element)); }
  /// Lines of text across the sheet; moves down.
  void paragraph(const std::string& text, double size, Ink ink, bool strong = false);
};

/// Where the numbers of two axes lie.
struct Frame {
  Box box;
  Range x, y;
  Scale x_scale = Scale::linear, y_scale = Scale::linear;

  double to_x(double value) const;
  double to_y(double value) const;
  Point place(const Point& p) const { return {to_x(p.x), to_y(p.y)}; }
};

/// The range that an axis shows for these values, brought out to round places. NaN and, on a log
/// scale, what is not positive are left out.
Range shown_range(const Axis& axis, const std::vector<double>& values, int most_ticks);

std::string axis_text(const Axis& axis);
int ticks_across(double width_px);
int ticks_up(double height_px);
/// Grid, ticks and numbers of an axis.
void draw_x_axis(Sheet& sheet, const Frame& frame, const Axis& axis);
void draw_y_axis(Sheet& sheet, const Frame& frame, const Axis& axis);
/// Room for the numbers left of the y axis.
double y_axis_room(const Range& range, Scale scale, double height_px);
/// The group that holds the body, with the keys a page reads places from.
Element plot_group(const Frame& frame, std::vector<Element> parts);

/// A curve in px, cut to the frame, thinned to its columns; one piece between two gaps.
std::vector<std::vector<Point>> pieces_of(const std::vector<Point>& points, const Frame& frame);

/// A sign round a place, with its letter where it has one.
std::vector<Element> sign_of(Sign sign, const Point& at, double radius, Ink ink);

Ink state_ink(int state);
Dash state_dash(int state);

/// One entry of the key below a chart.
struct KeyEntry {
  std::string label;
  Style style;
  Sign sign = Sign::none;
  bool face = false;  ///< a filled square instead of a line
};
/// The entries in rows; moves down.
void draw_key(Sheet& sheet, const std::vector<KeyEntry>& entries);

void draw_plot(Sheet& sheet, const Chart& chart, const Plot& plot);
void draw_bars(Sheet& sheet, const Chart& chart, const Bars& bars);
void draw_field(Sheet& sheet, const Chart& chart, const Field& field);
void draw_matrix(Sheet& sheet, const Chart& chart, const Matrix& matrix);

}  // namespace ww::draw
