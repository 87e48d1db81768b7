// SPDX-License-Identifier: MIT
#include "draw/chart.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "draw/chart_parts.h"

namespace ww::draw {

void Sheet::paragraph(const std::string& text, double size, Ink ink, bool strong) {
  const double letter_width = strong ? size * 1.11 : size;
  for (const std::string& line : wrapped(text, letter_width, width - 2 * margin())) {
    y += 1.35 * size;
    add({.shape = Text{.at = {margin(), y}, .text = line, .size = size, .strong = strong},
         .style = {.line = ink}});
  }
}

namespace {

double along(double value, const Range& range, Scale scale) {
  if (scale == Scale::linear) return (value - range.low) / (range.high - range.low);
  return std::log(value / range.low) / std::log(range.high / range.low);
}

void draw_missing(Sheet& sheet, const std::string& missing) {
  const double left = sheet.margin(), right = sheet.width - sheet.margin();
  const auto lines = wrapped(missing, letters, right - left - 40);
  const double top = sheet.y + 10;
  const double height = std::max(120.0, 60 + 1.4 * letters * static_cast<double>(lines.size()));
  sheet.add(
      {.shape =
           Polyline{{{left, top}, {right, top}, {right, top + height}, {left, top + height}}, true},
       .style = {.line = Ink::soft, .width = 0.8, .dash = Dash::dashed}});
  double y = top + 0.5 * (height - 1.4 * letters * static_cast<double>(lines.size()));
  for (const std::string& line : lines) {
    y += 1.4 * letters;
    sheet.add({.shape = Text{.at = {0.5 * sheet.width, y},
                             .text = line,
                             .size = letters,
                             .anchor = Anchor::middle},
               .style = {.line = Ink::ink},
               .tag = {.name = "missing"}});
  }
  sheet.y = top + height;
}

}  // namespace

double Frame::to_x(double value) const {
  return box.left + along(value, x, x_scale) * (box.right - box.left);
}
double Frame::to_y(double value) const {
  return box.bottom - along(value, y, y_scale) * (box.bottom - box.top);
}

Range shown_range(const Axis& axis, const std::vector<double>& values, int most_ticks) {
  if (axis.range && axis.range->low < axis.range->high &&
      std::isfinite(axis.range->high - axis.range->low) &&
      (axis.scale == Scale::linear || axis.range->low > 0))
    return *axis.range;
  const bool log = axis.scale == Scale::log;
  double low = std::numeric_limits<double>::infinity(), high = -low;
  for (const double v : values) {
    if (!std::isfinite(v) || std::abs(v) > 1e12 || (log && v <= 1e-12)) continue;
    low = std::min(low, v);
    high = std::max(high, v);
  }
  if (!(low <= high)) return log ? Range{1, 10} : Range{0, 1};
  if (log) {
    const double decade = std::pow(10, std::floor(std::log10(low)));
    double from = decade;
    for (const double factor : {2.0, 5.0}) {
      if (factor * decade <= low) from = factor * decade;
    }
    double to = std::pow(10, std::ceil(std::log10(high) - 1e-9));
    for (const double factor : {0.5, 0.2}) {
      if (factor * to >= high) to = factor == 0.5 ? 0.5 * to : 0.4 * to;
    }
    return {from, std::max(to, 2 * from)};
  }
  if (axis.from_zero) {
    low = std::min(low, 0.0);
    high = std::max(high, 0.0);
  }
  if (high - low < 1e-9 * std::max(1.0, std::abs(high))) {
    low -= low == 0 ? 0 : 0.5 * std::abs(low);
    high += high == 0 ? 1 : 0.5 * std::abs(high);
  }
  const auto ticks = ticks_of({low, high}, Scale::linear, most_ticks);
  if (ticks.size() < 2) return {low, high};
  const double step = ticks[1] - ticks[0];
  return {std::floor(low / step + 1e-9) * step, std::ceil(high / step - 1e-9) * step};
}

std::string axis_text(const Axis& axis) {
  return axis.unit.empty() ? axis.label : axis.label + ", " + axis.unit;
}
int ticks_across(double width_px) {
  return std::clamp(static_cast<int>(width_px / 70), 3, 14);
}
int ticks_up(double height_px) {
  return std::clamp(static_cast<int>(height_px / 45), 3, 10);
}

namespace {
double step_of(const std::vector<double>& ticks, double value, Scale scale) {
  if (scale == Scale::log) return value;
  return ticks.size() > 1 ? ticks[1] - ticks[0] : value;
}
}  // namespace

void draw_x_axis(Sheet& sheet, const Frame& f, const Axis& axis) {
  const auto ticks = ticks_of(f.x, f.x_scale, ticks_across(f.box.right - f.box.left));
  double last = -1e9;
  for (const double tick : ticks) {
    const double x = f.to_x(tick);
    sheet.add({.shape = Line{{x, f.box.top}, {x, f.box.bottom}},
               .style = {.line = Ink::faint, .width = 0.8}});
    const Text text{.at = {x, f.box.bottom + 5 + letters_small},
                    .text = tick_text(tick, step_of(ticks, tick, f.x_scale)),
                    .size = letters_small,
                    .anchor = Anchor::middle};
    const Box box = box_of(text);
    if (box.left < last + 4 || box.left < 0 || box.right > sheet.width) continue;
    last = box.right;
    sheet.add({.shape = text, .style = {.line = Ink::soft}});
  }
  sheet.add({.shape = Line{{f.box.left, f.box.bottom}, {f.box.right, f.box.bottom}},
             .style = {.line = Ink::soft}});
  sheet.add({.shape = Text{.at = {f.box.right, f.box.bottom + 10 + letters_small + letters},
                           .text = axis_text(axis),
                           .size = letters,
                           .anchor = Anchor::end},
             .style = {.line = Ink::ink}});
}

void draw_y_axis(Sheet& sheet, const Frame& f, const Axis& axis) {
  const auto ticks = ticks_of(f.y, f.y_scale, ticks_up(f.box.bottom - f.box.top));
  for (const double tick : ticks) {
    const double y = f.to_y(tick);
    sheet.add({.shape = Line{{f.box.left, y}, {f.box.right, y}},
               .style = {.line = Ink::faint, .width = 0.8}});
    sheet.add({.shape = Text{.at = {f.box.left - 6, y + 0.35 * letters_small},
                             .text = tick_text(tick, step_of(ticks, tick, f.y_scale)),
                             .size = letters_small,
                             .anchor = Anchor::end},
               .style = {.line = Ink::soft}});
  }
  sheet.add({.shape = Line{{f.box.left, f.box.top}, {f.box.left, f.box.bottom}},
             .style = {.line = Ink::soft}});
  sheet.add(
      {.shape =
           Text{.at = {sheet.margin(), f.box.top - 13}, .text = axis_text(axis), .size = letters},
       .style = {.line = Ink::ink}});
}

double y_axis_room(const Range& range, Scale scale, double height_px) {
  const auto ticks = ticks_of(range, scale, ticks_up(height_px));
  double widest = 10;
  for (const double tick : ticks) {
    widest =
        std::max(widest, text_width(tick_text(tick, step_of(ticks, tick, scale)), letters_small));
  }
  return widest + 6;
}

Element plot_group(const Frame& f, std::vector<Element> parts) {
  const auto scale = [](Scale s) { return s == Scale::log ? "log" : "linear"; };
  return {.shape = Group{std::move(parts)},
          .style = {},
          .tag = {.name = "plot",
                  .keys = {{"left", fixed(f.box.left, 1)},
                           {"top", fixed(f.box.top, 1)},
                           {"right", fixed(f.box.right, 1)},
                           {"bottom", fixed(f.box.bottom, 1)},
                           {"x-low", shortest(f.x.low)},
                           {"x-high", shortest(f.x.high)},
                           {"x-scale", scale(f.x_scale)},
                           {"y-low", shortest(f.y.low)},
                           {"y-high", shortest(f.y.high)},
                           {"y-scale", scale(f.y_scale)}},
                  .title = {}}};
}

std::vector<std::vector<Point>> pieces_of(const std::vector<Point>& points, const Frame& f) {
  std::vector<Point> px;
  px.reserve(points.size());
  for (const Point& p : points) px.push_back(f.place(p));
  px = thinned(px, {f.box.left, f.box.right}, f.box.right - f.box.left);
  std::vector<std::vector<Point>> pieces;
  bool open = false;
  for (std::size_t i = 0; i + 1 < px.size(); ++i) {
    const Point a = px[i], b = px[i + 1];
    const bool finite = std::isfinite(a.x + a.y + b.x + b.y);
    // A hair's breadth more, or a curve along the frame's edge would be lost to rounding.
    const auto part = finite ? clipped({a, b}, grown(f.box, 0.01)) : std::nullopt;
    if (!part) {
      open = false;
      continue;
    }
    if (!open) pieces.push_back({part->from});
    pieces.back().push_back(part->to);
    open = part->to.x == b.x && part->to.y == b.y;
  }
  return pieces;
}

Ink state_ink(int state) {
  return static_cast<Ink>(static_cast<int>(Ink::tone_1) + (state % 6 + 6) % 6);
}
Dash state_dash(int state) {
  constexpr Dash dashes[] = {Dash::solid, Dash::dashed, Dash::dash_dot, Dash::dotted,
                             Dash::long_dash};
  return dashes[(state % 5 + 5) % 5];
}

std::vector<Element> sign_of(Sign sign, const Point& at, double r, Ink ink) {
  const Style line{.line = ink, .width = 1.4, .fill = Ink::paper};
  const Style face{.line = ink, .width = 1, .fill = ink};
  const auto letter = [&](const char* text, Ink colour) {
    return Element{.shape = Text{.at = {at.x, at.y + 0.5 * r},
                                 .text = text,
                                 .size = 1.45 * r,
                                 .anchor = Anchor::middle,
                                 .strong = true},
                   .style = {.line = colour}};
  };
  const std::vector<Point> square{
      {at.x - r, at.y - r}, {at.x + r, at.y - r}, {at.x + r, at.y + r}, {at.x - r, at.y + r}};
  switch (sign) {
    case Sign::none:
      return {};
    case Sign::dot:
      return {{.shape = Circle{at, 0.7 * r}, .style = face}};
    case Sign::ring:
      return {{.shape = Circle{at, r}, .style = line}};
    case Sign::cross:
      return {{.shape = Line{square[0], square[2]}, .style = line},
              {.shape = Line{square[1], square[3]}, .style = line}};
    case Sign::square:
      return {{.shape = Polyline{square, true}, .style = face}};
    case Sign::triangle:
      return {
          {.shape = Polyline{{{at.x, at.y - r}, {at.x + r, at.y + r}, {at.x - r, at.y + r}}, true},
           .style = line}};
    case Sign::half:
      return {{.shape = Circle{at, r}, .style = line},
              {.shape = Path{{{Step::Kind::move, {at.x, at.y - r}},
                              {Step::Kind::curve,
                               {at.x, at.y + r},
                               {at.x - 1.333 * r, at.y - r},
                               {at.x - 1.333 * r, at.y + r}},
                              {Step::Kind::close, {0, 0}}}},
               .style = {.line = Ink::none, .fill = ink}}};
    case Sign::question:
      return {{.shape = Circle{at, r},
               .style = {.line = ink, .width = 1.2, .dash = Dash::dotted, .fill = Ink::paper}},
              letter("?", ink)};
    case Sign::bang:
      return {{.shape = Polyline{square, true}, .style = face}, letter("!", Ink::paper)};
  }
  return {};
}

void draw_key(Sheet& sheet, const std::vector<KeyEntry>& entries) {
  if (entries.empty()) return;
  const double sample = 26, line_height = 18;
  double x = sheet.margin();
  double y = sheet.y + line_height;
  for (const KeyEntry& entry : entries) {
    const double width = sample + 6 + text_width(entry.label, letters_small) + 18;
    if (x > sheet.margin() && x + width > sheet.width - sheet.margin() + 18) {
      x = sheet.margin();
      y += line_height;
    }
    const double middle = y - 0.35 * letters_small;
    if (entry.sign != Sign::none) {
      for (Element& e : sign_of(entry.sign, {x + 0.5 * sample, middle}, 6, entry.style.line))
        sheet.add(std::move(e));
    } else if (entry.face) {
      sheet.add({.shape = Polyline{{{x + 6, middle - 6},
                                    {x + sample - 2, middle - 6},
                                    {x + sample - 2, middle + 6},
                                    {x + 6, middle + 6}},
                                   true},
                 .style = entry.style});
    } else {
      sheet.add({.shape = Line{{x, middle}, {x + sample, middle}}, .style = entry.style});
    }
    sheet.add({.shape = Text{.at = {x + sample + 6, y}, .text = entry.label, .size = letters_small},
               .style = {.line = Ink::ink}});
    x += width;
  }
  sheet.y = y + 4;
}

Drawing drawing_of(const Chart& chart, const ChartSize& size) {
  Sheet sheet{
      .width = std::isfinite(size.width_px) ? std::clamp(size.width_px, 240.0, 4000.0) : 760,
      .height = std::isfinite(size.height_px) ? std::clamp(size.height_px, 0.0, 4000.0) : 0};
  sheet.y = 6;
  sheet.paragraph(chart.title, letters_title, Ink::ink, true);
  sheet.y += 2;
  sheet.paragraph(chart.says, letters, Ink::soft);
  if (!chart.missing.empty()) {
    draw_missing(sheet, chart.missing);
  } else {
    std::visit(
        [&](const auto& body) {
          using Body = std::decay_t<decltype(body)>;
          if constexpr (std::is_same_v<Body, Plot>) draw_plot(sheet, chart, body);
          if constexpr (std::is_same_v<Body, Bars>) draw_bars(sheet, chart, body);
          if constexpr (std::is_same_v<Body, Field>) draw_field(sheet, chart, body);
          if constexpr (std::is_same_v<Body, Matrix>) draw_matrix(sheet, chart, body);
        },
        chart.body);
  }
  sheet.y += 4;
  for (const std::string& note : chart.notes) sheet.paragraph(note, letters_small, Ink::soft);
  sheet.y += 12;
  return {.title = chart.title,
          .description = chart.missing.empty() ? chart.says : chart.missing,
          .unit = Unit::px,
          .width = sheet.width,
          .height = sheet.y,
          .pen = 1,
          .parts = std::move(sheet.parts)};
}

Chart with_ghost(Chart now, const Chart& before) {
  auto* plot = std::get_if<Plot>(&now.body);
  const auto* old = std::get_if<Plot>(&before.body);
  if (plot == nullptr || old == nullptr) return now;
  std::vector<Curve> ghosts;
  for (const Curve& curve : old->curves) {
    if (curve.ghost) continue;
    Curve ghost = curve;
    ghost.ghost = true;
    ghost.label = "before: " + curve.label;
    ghost.labelled = ghosts.empty();
    ghost.band.clear();
    ghost.stretches.clear();
    ghosts.push_back(std::move(ghost));
  }
  plot->curves.insert(plot->curves.end(), ghosts.begin(), ghosts.end());
  return now;
}

}  // namespace ww::draw
