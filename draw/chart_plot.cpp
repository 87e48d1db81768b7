// SPDX-License-Identifier: MIT
// Curves over an axis.
#include <algorithm>
#include <cmath>

#include "draw/chart_parts.h"

namespace ww::draw {

namespace {

/// Everything that the y axis must show; x of the same.
struct Values {
  std::vector<double> x, y;
};

Values values_of(const Plot& plot) {
  Values v;
  for (const Curve& curve : plot.curves) {
    for (const Point& p : curve.points) {
      if (!std::isfinite(p.x) || !std::isfinite(p.y)) continue;
      v.x.push_back(p.x);
      v.y.push_back(p.y);
    }
    for (const Spread& s : curve.band) {
      if (!std::isfinite(s.x)) continue;
      v.x.push_back(s.x);
      v.y.insert(v.y.end(), {s.low, s.high});
    }
  }
  for (const Reference& r : plot.references) (r.axis == Across::x ? v.x : v.y).push_back(r.at);
  for (const Marker& m : plot.markers) {
    v.x.push_back(m.at.x);
    v.y.push_back(m.at.y);
  }
  return v;
}

std::vector<Point> stepped(const std::vector<Point>& points) {
  std::vector<Point> out;
  for (std::size_t i = 0; i < points.size(); ++i) {
    if (i > 0) out.push_back({points[i].x, points[i - 1].y});
    out.push_back(points[i]);
  }
  return out;
}

/// y of a curve at x, by straight lines; NaN outside.
double value_at(const std::vector<Point>& points, double x) {
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    const Point a = points[i], b = points[i + 1];
    if (!(a.x <= x && x <= b.x)) continue;
    return b.x > a.x ? a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x) : a.y;
  }
  return std::numeric_limits<double>::quiet_NaN();
}

/// The points of a curve between two x, with the ends filled in.
std::vector<Point> part_of(const std::vector<Point>& points, double from, double to) {
  std::vector<Point> out;
  const double first = value_at(points, from), last = value_at(points, to);
  if (std::isfinite(first)) out.push_back({from, first});
  for (const Point& p : points) {
    if (p.x > from && p.x < to) out.push_back(p);
  }
  if (std::isfinite(last)) out.push_back({to, last});
  return out;
}

class PlotWriter {
 public:
  PlotWriter(Sheet& sheet, const Chart& chart, const Plot& plot)
      : sheet_(sheet), chart_(chart), plot_(plot), labels_({}) {}

  void write() {
    lay_out();
    Sheet body{.width = sheet_.width, .height = 0};
    draw_y_axis(body, frame_, chart_.y);
    draw_x_axis(body, frame_, chart_.x);
    std::vector<Element> axes = std::move(body.parts);
    for (const Curve& curve : plot_.curves) band(curve);
    for (const Reference& reference : plot_.references) this->reference(reference);
    for (const Curve& curve : plot_.curves) {
      if (curve.ghost) draw_curve(curve);
    }
    for (const Curve& curve : plot_.curves) {
      if (!curve.ghost) draw_curve(curve);
    }
    markers();
    for (const Reference& reference : plot_.references) label_reference(reference);
    for (const Curve& curve : plot_.curves) label_curve(curve);
    axes.insert(axes.end(), parts_.begin(), parts_.end());
    sheet_.add(plot_group(frame_, std::move(axes)));
    sheet_.y = frame_.box.bottom + 14 + letters_small + letters;
    draw_key(sheet_, key_);
  }

 private:
  void lay_out() {
    const double height = sheet_.height > 0 ? std::max(140.0, sheet_.height - sheet_.y - 90)
                          : sheet_.narrow() ? 250
                                            : std::clamp(0.46 * sheet_.width, 280.0, 430.0);
    const Values v = values_of(plot_);
    const double top = sheet_.y + 22 + letters;
    frame_.y_scale = chart_.y.scale;
    frame_.x_scale = chart_.x.scale;
    frame_.y = shown_range(chart_.y, v.y, ticks_up(height));
    const double left = sheet_.margin() + y_axis_room(frame_.y, frame_.y_scale, height);
    const double right = sheet_.width - std::max(sheet_.margin() + 6, end_label_room());
    frame_.box = {left, top, right, top + height};
    frame_.x = shown_range(chart_.x, v.x, ticks_across(right - left));
    labels_ = Labels({left + 2, top + 1, sheet_.width - 2, top + height - 2});
    for (const Curve& curve : plot_.curves) {
      for (const auto& piece : pieces_of(shape_of(curve), frame_)) {
        for (std::size_t i = 0; i + 1 < piece.size(); ++i) labels_.line(piece[i], piece[i + 1]);
      }
    }
    for (const Reference& r : plot_.references) {
      const Line line = line_of(r);
      labels_.line(line.from, line.to);
    }
    for (const Marker& m : plot_.markers) {
      const Point at = frame_.place(m.at);
      if (std::isfinite(at.x + at.y)) labels_.keep_free({at.x - 6, at.y - 6, at.x + 6, at.y + 6});
    }
  }

  static std::vector<Point> shape_of(const Curve& curve) {
    return curve.steps ? stepped(curve.points) : curve.points;
  }

  /// On a wide sheet labels may stand right of the curves' ends.
  double end_label_room() const {
    if (sheet_.narrow()) return 0;
    double widest = 0;
    for (const Curve& curve : plot_.curves) {
      if (curve.labelled && curve.stretches.empty())
        widest = std::max(widest, text_width(curve.label, letters_small));
    }
    return std::min(widest + 16, 0.2 * sheet_.width);
  }

  Line line_of(const Reference& r) const {
    const Box& b = frame_.box;
    if (r.axis == Across::x) return {{frame_.to_x(r.at), b.top}, {frame_.to_x(r.at), b.bottom}};
    return {{b.left, frame_.to_y(r.at)}, {b.right, frame_.to_y(r.at)}};
  }
  bool shown(const Reference& r) const {
    const Line line = line_of(r);
    return std::isfinite(line.from.x + line.from.y) && clipped(line, grown(frame_.box, 0.5));
  }

  void reference(const Reference& r) {
    if (!shown(r)) return;
    parts_.push_back({.shape = line_of(r),
                      .style = {.line = Ink::soft, .width = 1, .dash = r.dash},
                      .tag = {.name = "reference", .title = r.label}});
  }

  void label_reference(const Reference& r) {
    if (!shown(r) || r.label.empty()) return;
    const Line line = line_of(r);
    std::vector<Text> offers;
    const auto offer = [&](double x, double y, Anchor anchor) {
      offers.push_back(
          {.at = {x, y}, .text = r.label, .size = letters_small, .anchor = anchor, .halo = true});
    };
    if (r.axis == Across::x) {
      const double height = frame_.box.bottom - frame_.box.top;
      for (const double share : {0.0, 0.08, 0.16, 0.3, 0.5, 0.7, 0.9}) {
        const double y = frame_.box.top + 3 + letters_small + share * (height - 8 - letters_small);
        offer(line.from.x + 5, y, Anchor::start);
        offer(line.from.x - 5, y, Anchor::end);
      }
    } else {
      const double width = frame_.box.right - frame_.box.left;
      for (const double share : {1.0, 0.8, 0.6, 0.4, 0.2}) {
        const double x = frame_.box.left + 4 + share * (width - 8);
        const Anchor anchor = share > 0.7 ? Anchor::end : Anchor::middle;
        offer(x, line.from.y - 4, anchor);
        offer(x, line.from.y + 4 + 0.8 * letters_small, anchor);
      }
    }
    set(offers, Ink::soft, {r.label, {.line = Ink::soft, .width = 1, .dash = r.dash}});
  }

  void band(const Curve& curve) {
    if (curve.band.empty() || curve.ghost) return;
    std::vector<Point> top, bottom;
    const auto within = [&](Point p) {
      p.y = std::clamp(p.y, frame_.box.top, frame_.box.bottom);
      return p;
    };
    for (const Spread& s : curve.band) {
      const Point high = frame_.place({s.x, s.high}), low = frame_.place({s.x, s.low});
      if (!std::isfinite(high.x + high.y + low.y)) continue;
      if (high.x < frame_.box.left - 0.5 || high.x > frame_.box.right + 0.5) continue;
      top.push_back(within(high));
      bottom.push_back(within(low));
    }
    top.insert(top.end(), bottom.rbegin(), bottom.rend());
    if (top.size() < 4) return;
    parts_.push_back({.shape = Polyline{std::move(top), true},
                      .style = {.line = Ink::none, .fill = curve.ink, .fill_opacity = 0.16},
                      .tag = {.name = "band"}});
  }

  static Style style_of(const Curve& curve) {
    if (curve.ghost) return {.line = Ink::soft, .width = 1.1, .dash = Dash::dotted};
    return {.line = curve.ink, .width = curve.width, .dash = curve.dash};
  }

  void draw_curve(const Curve& curve) {
    const std::vector<Point> points = shape_of(curve);
    std::vector<Element> lines;
    const auto add = [&](const std::vector<Point>& some, const Style& style,
                         const std::string& title) {
      for (auto& piece : pieces_of(some, frame_)) {
        lines.push_back({.shape = Polyline{std::move(piece)},
                         .style = style,
                         .tag = {.name = {}, .keys = {}, .title = title}});
      }
    };
    if (curve.stretches.empty() || curve.ghost) {
      add(points, style_of(curve), {});
    } else {
      for (const Stretch& s : curve.stretches)
        add(part_of(points, s.from, s.to), style_of(s), s.label);
    }
    parts_.push_back(
        {.shape = Group{std::move(lines)},
         .style = {},
         .tag = {.name = curve.ghost ? "curve-ghost" : "curve", .keys = {}, .title = curve.label}});
  }
  static Style style_of(const Stretch& s) {
    return {.line = state_ink(s.state), .width = 2.6, .dash = state_dash(s.state)};
  }

  void markers() {
    for (const Marker& m : plot_.markers) {
      const Point at = frame_.place(m.at);
      if (!std::isfinite(at.x + at.y) || !inside({at.x, at.y, at.x, at.y}, grown(frame_.box, 1)))
        continue;
      parts_.push_back({.shape = Group{sign_of(m.sign, at, 4.5, Ink::accent)},
                        .style = {},
                        .tag = {.name = "marker", .keys = m.tag.keys, .title = m.label}});
      std::vector<Text> offers;
      for (const double far : {9.0, 16.0, 26.0, 40.0, 58.0}) {
        for (const Point d : {Point{1, -0.6}, Point{-1, -0.6}, Point{1, 1.2}, Point{-1, 1.2},
                              Point{0, -1.2}, Point{0, 1.9}}) {
          offers.push_back({.at = {at.x + d.x * far, at.y + d.y * far + 0.2 * letters_small},
                            .text = m.label,
                            .size = letters,
                            .anchor = d.x > 0   ? Anchor::start
                                      : d.x < 0 ? Anchor::end
                                                : Anchor::middle,
                            .strong = true,
                            .halo = true});
        }
      }
      const std::size_t before = parts_.size();
      set(offers, Ink::ink, {m.label, {.line = Ink::accent}, m.sign});
      if (parts_.size() > before) lead(at, std::get<Text>(parts_.back().shape));
    }
  }

  /// A thin line from a marker to a label that stands off.
  void lead(const Point& at, const Text& label) {
    const Box box = box_of(label);
    const Point near{std::clamp(at.x, box.left, box.right), std::clamp(at.y, box.top, box.bottom)};
    const double far = std::hypot(near.x - at.x, near.y - at.y);
    if (far < 16) return;
    const Point start{at.x + 6 * (near.x - at.x) / far, at.y + 6 * (near.y - at.y) / far};
    parts_.push_back({.shape = Line{start, near}, .style = {.line = Ink::soft, .width = 0.7}});
  }

  /// Places above and below a run of points, its middle first.
  std::vector<Text> offers_along(const std::vector<Point>& run, const std::string& label) const {
    std::vector<Text> offers;
    if (run.empty()) return offers;
    for (const double far : {7.0, 13.0, 20.0, 30.0, 42.0}) {
      for (const double share : {0.5, 0.35, 0.65, 0.2, 0.8, 0.08, 0.92}) {
        const Point at = run[static_cast<std::size_t>(share * static_cast<double>(run.size() - 1))];
        for (const Anchor anchor : {Anchor::middle, Anchor::start, Anchor::end}) {
          offers.push_back({.at = {at.x, at.y - far},
                            .text = label,
                            .size = letters_small,
                            .anchor = anchor,
                            .halo = true});
          offers.push_back({.at = {at.x, at.y + far + 0.6 * letters_small},
                            .text = label,
                            .size = letters_small,
                            .anchor = anchor,
                            .halo = true});
        }
      }
    }
    return offers;
  }

  /// Points on a curve in px, close enough that labels find their place.
  std::vector<Point> run_of(const std::vector<Point>& points) const {
    std::vector<Point> run;
    for (const auto& piece : pieces_of(points, frame_)) {
      for (std::size_t i = 0; i + 1 < piece.size(); ++i) {
        const double length = std::hypot(piece[i + 1].x - piece[i].x, piece[i + 1].y - piece[i].y);
        const int steps = std::clamp(static_cast<int>(length / 8), 1, 200);
        for (int k = 0; k < steps; ++k) {
          const double t = static_cast<double>(k) / steps;
          run.push_back({piece[i].x + t * (piece[i + 1].x - piece[i].x),
                         piece[i].y + t * (piece[i + 1].y - piece[i].y)});
        }
      }
      if (!piece.empty()) run.push_back(piece.back());
    }
    return run;
  }

  void label_curve(const Curve& curve) {
    if (!curve.ghost) label_stretches(curve);
    if (!curve.labelled || curve.label.empty()) return;
    const std::vector<Point> run = run_of(shape_of(curve));
    if (run.empty()) return;
    std::vector<Text> offers;
    if (!sheet_.narrow()) {
      for (const double shift : {0.0, -7.0, 7.0, -13.0, 13.0, -19.0, 19.0}) {
        offers.push_back({.at = {run.back().x + 6, run.back().y + 0.35 * letters_small + shift},
                          .text = curve.label,
                          .size = letters_small,
                          .halo = true});
      }
    }
    const auto along = offers_along(run, curve.label);
    offers.insert(offers.end(), along.begin(), along.end());
    Style sample = style_of(curve);
    if (!curve.stretches.empty() && !curve.ghost) sample = style_of(curve.stretches.front());
    set(offers,
        curve.ghost               ? Ink::soft
        : curve.stretches.empty() ? curve.ink
                                  : Ink::ink,
        {curve.label, sample});
  }

  /// The longest stretch of each cause carries its name.
  void label_stretches(const Curve& curve) {
    std::vector<int> done;
    std::vector<Stretch> longest = curve.stretches;
    std::stable_sort(longest.begin(), longest.end(), [](const Stretch& a, const Stretch& b) {
      return a.to - a.from > b.to - b.from;
    });
    for (const Stretch& s : longest) {
      if (std::count(done.begin(), done.end(), s.state) > 0 || s.label.empty()) continue;
      done.push_back(s.state);
      const auto run = run_of(part_of(shape_of(curve), s.from, s.to));
      if (run.empty()) continue;
      set(offers_along(run, s.label), state_ink(s.state), {s.label, style_of(s)});
    }
  }

  /// Sets a label where it finds a place, else into the key.
  void set(const std::vector<Text>& offers, Ink ink, KeyEntry entry) {
    const double most = 3;
    if (const auto text = labels_.place(offers, most)) {
      parts_.push_back({.shape = *text, .style = {.line = ink}, .tag = {.name = "label"}});
    } else {
      key_.push_back(std::move(entry));
    }
  }

  Sheet& sheet_;
  const Chart& chart_;
  const Plot& plot_;
  Frame frame_{};
  Labels labels_;
  std::vector<Element> parts_;
  std::vector<KeyEntry> key_;
};

}  // namespace

void draw_plot(Sheet& sheet, const Chart& chart, const Plot& plot) {
  PlotWriter(sheet, chart, plot).write();
}

}  // namespace ww::draw
