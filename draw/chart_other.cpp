// SPDX-License-Identifier: MIT
// Bars over one axis, numbers over two, and what stands between each two of several things.
#include <algorithm>
#include <cmath>

#include "draw/chart_parts.h"

namespace ww::draw {

namespace {

// ---- bars

double bar_row_height(const Sheet& sheet, const Bar& bar) {
  return (sheet.narrow() ? 40 : 30) + (bar.notches.empty() ? 0 : 15);
}

std::vector<double> values_of(const Bars& bars) {
  std::vector<double> values;
  for (const Bar& bar : bars.bars) {
    values.insert(values.end(), {bar.from, bar.to});
    for (const Notch& notch : bar.notches) values.push_back(notch.at);
  }
  for (const Reference& r : bars.references) {
    if (r.axis == Across::x) values.push_back(r.at);
  }
  return values;
}

class BarsWriter {
 public:
  BarsWriter(Sheet& sheet, const Chart& chart, const Bars& bars)
      : sheet_(sheet), chart_(chart), bars_(bars), labels_({}) {}

  void write() {
    double names = 0, height = 8;
    for (const Bar& bar : bars_.bars) {
      names = std::max(names, text_width(bar.label, letters));
      height += bar_row_height(sheet_, bar);
    }
    const double room = sheet_.narrow() ? 4 : std::min(names + 14, 0.36 * sheet_.width);
    const double top = sheet_.y + 10 + (bars_.references.empty() ? 0 : 18);
    frame_.box = {sheet_.margin() + room, top, sheet_.width - sheet_.margin() - 18, top + height};
    frame_.y = {0, 1};
    frame_.x =
        shown_range(chart_.x, values_of(bars_), ticks_across(frame_.box.right - frame_.box.left));
    labels_ = Labels({2, top - 22, sheet_.width - 2, top + height});
    Sheet body{.width = sheet_.width, .height = 0};
    draw_x_axis(body, frame_, chart_.x);
    parts_ = std::move(body.parts);
    for (const Reference& r : bars_.references) reference(r);
    double y = top + 4;
    for (const Bar& bar : bars_.bars) {
      row(bar, y);
      y += bar_row_height(sheet_, bar);
    }
    sheet_.add(plot_group(frame_, std::move(parts_)));
    sheet_.y = frame_.box.bottom + 14 + letters_small + letters;
    draw_key(sheet_, key_);
  }

 private:
  void reference(const Reference& r) {
    const double x = frame_.to_x(r.at);
    if (r.axis != Across::x || !std::isfinite(x)) return;
    const Style style{.line = Ink::accent, .width = 1.2, .dash = r.dash};
    parts_.push_back({.shape = Line{{x, frame_.box.top}, {x, frame_.box.bottom}}, .style = style});
    std::vector<Text> offers;
    for (const double down : {-6.0, -18.0}) {
      for (const Anchor anchor : {Anchor::middle, Anchor::start, Anchor::end}) {
        offers.push_back({.at = {x, frame_.box.top + down},
                          .text = r.label,
                          .size = letters_small,
                          .anchor = anchor,
                          .halo = true});
      }
    }
    if (const auto text = labels_.place(offers, 1e9))
      parts_.push_back({.shape = *text, .style = {.line = Ink::accent}, .tag = {.name = "label"}});
    else
      key_.push_back({r.label, style});
  }

  void row(const Bar& bar, double y) {
    const Box& box = frame_.box;
    std::vector<Element> parts;
    double middle = y + 11;
    if (sheet_.narrow()) {
      text(parts, {.at = {box.left, y + letters}, .text = bar.label, .size = letters, .halo = true},
           Ink::ink, "name");
      middle = y + letters + 14;
    } else {
      text(parts,
           {.at = {box.left - 10, middle + 0.35 * letters},
            .text = bar.label,
            .size = letters,
            .anchor = Anchor::end},
           Ink::ink, "name");
    }
    const bool open_from = !std::isfinite(bar.from), open_to = !std::isfinite(bar.to);
    const double left =
        open_from ? box.left : std::clamp(frame_.to_x(bar.from), box.left, box.right);
    const double right = open_to ? box.right : std::clamp(frame_.to_x(bar.to), box.left, box.right);
    if (open_from && open_to && bar.notches.empty()) {
      text(parts,
           {.at = {box.left + 6, middle + 0.35 * letters_small},
            .text = "not known",
            .size = letters_small,
            .halo = true},
           Ink::soft, "label");
    } else {
      face(parts, bar, {std::min(left, right), middle - 6, std::max(left, right), middle + 6},
           open_from || open_to);
      ends(parts, bar, middle, left, right);
    }
    for (const Notch& notch : bar.notches) this->notch(parts, notch, middle);
    parts_.push_back({.shape = Group{std::move(parts)}, .style = {}, .tag = bar.tag});
    if (parts_.back().tag.name.empty()) parts_.back().tag.name = "bar";
  }

  void face(std::vector<Element>& parts, const Bar& bar, const Box& b, bool open) {
    const bool weak = bar.assumed || open;
    parts.push_back(
        {.shape =
             Polyline{{{b.left, b.top}, {b.right, b.top}, {b.right, b.bottom}, {b.left, b.bottom}},
                      true},
         .style = {.line = bar.ink,
                   .width = 1.2,
                   .dash = weak ? Dash::dashed : Dash::solid,
                   .fill = weak ? Ink::none : bar.ink,
                   .fill_opacity = 0.3}});
  }

  /// The numbers at both ends: outside where there is room, else inside.
  void ends(std::vector<Element>& parts, const Bar& bar, double middle, double left, double right) {
    const double base = middle + 0.35 * letters_small;
    const auto end = [&](double value, double x, Anchor out, double away) {
      if (!std::isfinite(value)) return;
      const double step = value == std::round(value) ? 1 : 0.1;
      const Anchor in = out == Anchor::start ? Anchor::end : Anchor::start;
      auto label = tick_text(std::abs(value) >= 100 ? std::round(value) : value,
                             std::abs(value) >= 100 ? 1 : step);
      // What runs off the scale says so.
      if (value > frame_.x.high) label += " \xE2\x86\x92";
      const auto found = labels_.place({{.at = {x + away, base},
                                         .text = label,
                                         .size = letters_small,
                                         .anchor = out,
                                         .halo = true},
                                        {.at = {x - away, base},
                                         .text = label,
                                         .size = letters_small,
                                         .anchor = in,
                                         .halo = true}},
                                       1e9);
      if (found)
        parts.push_back({.shape = *found, .style = {.line = Ink::ink}, .tag = {.name = "label"}});
    };
    end(bar.to, right, Anchor::start, 5);
    const bool at_axis = bar.from == 0 && frame_.x.low == 0;
    if (bar.from != bar.to && !at_axis) end(bar.from, left, Anchor::end, -5);
  }

  void notch(std::vector<Element>& parts, const Notch& notch, double middle) {
    const double x = frame_.to_x(notch.at);
    if (!std::isfinite(x) || x < frame_.box.left - 1 || x > frame_.box.right + 1) return;
    parts.push_back({.shape = Line{{x, middle - 8}, {x, middle + 8}},
                     .style = {.line = Ink::ink, .width = 1.4},
                     .tag = {.name = "notch", .keys = {}, .title = notch.label}});
    std::vector<Text> offers;
    for (const double down : {18.0, -11.0}) {
      for (const Anchor anchor : {Anchor::middle, Anchor::start, Anchor::end}) {
        offers.push_back({.at = {x, middle + down},
                          .text = notch.label,
                          .size = letters_small,
                          .anchor = anchor,
                          .halo = true});
      }
    }
    if (const auto label = labels_.place(offers, 1e9))
      parts.push_back({.shape = *label, .style = {.line = Ink::soft}, .tag = {.name = "label"}});
  }

  void text(std::vector<Element>& parts, const Text& t, Ink ink, const char* name) {
    labels_.keep_free(box_of(t));
    parts.push_back({.shape = t, .style = {.line = ink}, .tag = {.name = name}});
  }

  Sheet& sheet_;
  const Chart& chart_;
  const Bars& bars_;
  Frame frame_{};
  Labels labels_;
  std::vector<Element> parts_;
  std::vector<KeyEntry> key_;
};

// ---- numbers over two axes

/// Edges of cells whose middles are known.
std::vector<double> edges_of(const std::vector<double>& middles) {
  std::vector<double> edges;
  if (middles.size() < 2)
    return middles.empty() ? edges : std::vector<double>{middles[0] - 0.5, middles[0] + 0.5};
  edges.push_back(1.5 * middles[0] - 0.5 * middles[1]);
  for (std::size_t i = 0; i + 1 < middles.size(); ++i)
    edges.push_back(0.5 * (middles[i] + middles[i + 1]));
  edges.push_back(1.5 * middles.back() - 0.5 * middles[middles.size() - 2]);
  return edges;
}

int level_of(const Field& field, double value) {
  int level = 0;
  for (const double limit : field.levels) level += value >= limit ? 1 : 0;
  return level;
}

double shade_of(const Field& field, int level) {
  const auto count = static_cast<double>(std::max<std::size_t>(field.levels.size(), 1));
  return 0.04 + 0.66 * std::pow(level / count, 1.6);
}

std::string level_text(const Field& field, int level) {
  const auto text = [&](int k) { return tick_text(field.levels[static_cast<std::size_t>(k)], 1); };
  if (level == 0) return "below " + text(0) + " " + field.unit;
  return text(level - 1) + " " + field.unit + " and more";
}

void field_cells(std::vector<Element>& parts, const Frame& f, const Field& field) {
  const auto xe = edges_of(field.xs), ye = edges_of(field.ys);
  const double cell_width =
      (f.box.right - f.box.left) / static_cast<double>(std::max<std::size_t>(field.xs.size(), 1));
  const double size = std::min(letters_small, 0.42 * cell_width);
  for (std::size_t iy = 0; iy < field.ys.size(); ++iy) {
    for (std::size_t ix = 0; ix < field.xs.size(); ++ix) {
      const std::size_t at = iy * field.xs.size() + ix;
      const double value =
          at < field.values.size() ? field.values[at] : std::numeric_limits<double>::quiet_NaN();
      const Box b{std::max(f.to_x(xe[ix]), f.box.left), std::max(f.to_y(ye[iy + 1]), f.box.top),
                  std::min(f.to_x(xe[ix + 1]), f.box.right),
                  std::min(f.to_y(ye[iy]), f.box.bottom)};
      if (!std::isfinite(value) || b.right <= b.left || b.bottom <= b.top) continue;
      parts.push_back(
          {.shape =
               Polyline{
                   {{b.left, b.top}, {b.right, b.top}, {b.right, b.bottom}, {b.left, b.bottom}},
                   true},
           .style = {.line = Ink::paper,
                     .width = 0.6,
                     .fill = Ink::accent,
                     .fill_opacity = shade_of(field, level_of(field, value))},
           .tag = {.name = "cell"}});
      if (size >= 6.5 && b.bottom - b.top > size + 1) {
        parts.push_back(
            {.shape = Text{.at = {0.5 * (b.left + b.right), 0.5 * (b.top + b.bottom) + 0.36 * size},
                           .text = tick_text(std::round(value), 1),
                           .size = size,
                           .anchor = Anchor::middle},
             .style = {.line = Ink::ink},
             .tag = {.name = "value"}});
      }
    }
  }
}

}  // namespace

void draw_bars(Sheet& sheet, const Chart& chart, const Bars& bars) {
  BarsWriter(sheet, chart, bars).write();
}

void draw_field(Sheet& sheet, const Chart& chart, const Field& field) {
  const double height = sheet.height > 0 ? std::max(160.0, sheet.height - sheet.y - 110)
                        : sheet.narrow() ? 280
                                         : std::clamp(0.46 * sheet.width, 300.0, 460.0);
  const double top = sheet.y + 22 + letters;
  std::vector<double> xs = edges_of(field.xs), ys = edges_of(field.ys);
  for (const Curve& curve : field.outlines) {
    for (const Point& p : curve.points) {
      xs.push_back(p.x);
      ys.push_back(p.y);
    }
  }
  Frame f;
  f.y = shown_range(chart.y, ys, ticks_up(height));
  const double left = sheet.margin() + y_axis_room(f.y, f.y_scale, height);
  f.box = {left, top, sheet.width - sheet.margin() - 12, top + height};
  f.x = shown_range(chart.x, xs, ticks_across(f.box.right - left));
  Sheet body{.width = sheet.width, .height = 0};
  draw_y_axis(body, f, chart.y);
  draw_x_axis(body, f, chart.x);
  std::vector<Element> parts = std::move(body.parts);
  field_cells(parts, f, field);
  std::vector<KeyEntry> key;
  int most = -1;
  for (const double value : field.values) {
    if (std::isfinite(value)) most = std::max(most, level_of(field, value));
  }
  for (int level = 0; level <= most && !field.levels.empty(); ++level)
    key.push_back(
        {.label = level_text(field, level),
         .style = {.line = Ink::none, .fill = Ink::accent, .fill_opacity = shade_of(field, level)},
         .face = true});
  for (const Curve& curve : field.outlines) {
    const Style style{.line = curve.ink, .width = curve.width, .dash = curve.dash};
    for (auto& piece : pieces_of(curve.points, f))
      parts.push_back({.shape = Polyline{std::move(piece)},
                       .style = style,
                       .tag = {.name = "curve", .keys = {}, .title = curve.label}});
    key.push_back({.label = curve.label, .style = style});
  }
  for (const Marker& m : field.markers) {
    const Point at = f.place(m.at);
    if (!std::isfinite(at.x + at.y) || !inside({at.x, at.y, at.x, at.y}, grown(f.box, 1))) continue;
    parts.push_back({.shape = Group{sign_of(m.sign, at, 5, Ink::ink)},
                     .style = {},
                     .tag = {.name = "marker", .keys = m.tag.keys, .title = m.label}});
    key.push_back({.label = m.label, .style = {.line = Ink::ink}, .sign = m.sign});
  }
  sheet.add(plot_group(f, std::move(parts)));
  sheet.y = f.box.bottom + 14 + letters_small + letters;
  draw_key(sheet, key);
}

namespace {

// ---- each with each

/// On a phone: one line a pair, the worst first; those of the least rank are only counted.
void matrix_as_list(Sheet& sheet, const Matrix& matrix) {
  const std::size_t n = matrix.names.size();
  struct Pair {
    std::size_t row, column;
    const MatrixCell* cell;
  };
  std::vector<Pair> pairs;
  int counted = 0;
  std::string counted_word;
  for (std::size_t row = 0; row < n; ++row) {
    for (std::size_t column = 0; column < row; ++column) {
      const MatrixCell& cell = matrix.cells[row * n + column];
      if (cell.word.empty()) continue;
      if (cell.rank > 0) {
        pairs.push_back({row, column, &cell});
      } else {
        ++counted;
        counted_word = cell.word;
      }
    }
  }
  std::stable_sort(pairs.begin(), pairs.end(),
                   [](const Pair& a, const Pair& b) { return a.cell->rank > b.cell->rank; });
  const double name = sheet.margin() + 24, after = name + 98;
  for (const Pair& pair : pairs) {
    sheet.y += 20;
    std::vector<Element> parts =
        sign_of(pair.cell->sign, {sheet.margin() + 9, sheet.y - 4}, 6.5, Ink::ink);
    const auto write = [&](double x, const std::string& text, bool strong) {
      parts.push_back(
          {.shape = Text{.at = {x, sheet.y}, .text = text, .size = letters, .strong = strong},
           .style = {.line = Ink::ink}});
    };
    write(name, pair.cell->word, true);
    const auto lines = wrapped(matrix.names[pair.column] + " and " + matrix.names[pair.row],
                               letters, sheet.width - after - sheet.margin());
    for (std::size_t i = 0; i < lines.size(); ++i) {
      if (i > 0) sheet.y += 1.3 * letters;
      write(after, lines[i], false);
    }
    sheet.add({.shape = Group{std::move(parts)}, .style = {}, .tag = pair.cell->tag});
  }
  sheet.y += 8;
  if (counted > 0)
    sheet.paragraph(std::to_string(counted) + (pairs.empty() ? " pairs: " : " other pairs: ") +
                        counted_word + ".",
                    letters, Ink::ink);
}

/// Where the cells are too small for words: what each sign says.
void matrix_key(Sheet& sheet, const Matrix& matrix) {
  std::vector<KeyEntry> key;
  for (const MatrixCell& cell : matrix.cells) {
    const auto same = [&](const KeyEntry& entry) { return entry.label == cell.word; };
    if (cell.word.empty() || std::any_of(key.begin(), key.end(), same)) continue;
    key.push_back({.label = cell.word, .style = {.line = Ink::ink}, .sign = cell.sign});
  }
  std::sort(key.begin(), key.end(),
            [](const KeyEntry& a, const KeyEntry& b) { return a.label < b.label; });
  draw_key(sheet, key);
}

}  // namespace

void draw_matrix(Sheet& sheet, const Chart&, const Matrix& matrix) {
  const std::size_t n = matrix.names.size();
  if (n == 0 || matrix.cells.size() < n * n) return;
  double names = 0;
  for (const std::string& name : matrix.names) names = std::max(names, text_width(name, letters));
  const double cell =
      std::min(64.0, (sheet.width - 2 * sheet.margin() - names - 12) / static_cast<double>(n));
  if (sheet.narrow() || cell < 24) return matrix_as_list(sheet, matrix);
  const double left = sheet.margin() + names + 12, high = std::max(cell * 0.62, 30.0);
  double y = sheet.y + 16;
  const bool words = cell >= 52;
  for (std::size_t row = 0; row < n; ++row) {
    const double middle = y + 0.5 * high;
    sheet.add({.shape = Text{.at = {left - 12, middle + 0.35 * letters},
                             .text = matrix.names[row],
                             .size = letters,
                             .anchor = Anchor::end},
               .style = {.line = Ink::ink}});
    for (std::size_t column = 0; column < row; ++column) {
      const MatrixCell& c = matrix.cells[row * n + column];
      const double x = left + cell * static_cast<double>(column);
      std::vector<Element> parts;
      parts.push_back(
          {.shape = Polyline{{{x + 1, y + 1},
                              {x + cell - 1, y + 1},
                              {x + cell - 1, y + high - 1},
                              {x + 1, y + high - 1}},
                             true},
           .style = {
               .line = Ink::faint, .width = 0.8, .fill = c.word.empty() ? Ink::none : Ink::wash}});
      if (!c.word.empty()) {
        const double at = words ? middle - 5 : middle;
        for (Element& e : sign_of(c.sign, {x + 0.5 * cell, at}, 6.5, Ink::ink))
          parts.push_back(std::move(e));
        if (words)
          parts.push_back({.shape = Text{.at = {x + 0.5 * cell, y + high - 5},
                                         .text = c.word,
                                         .size = 9,
                                         .anchor = Anchor::middle},
                           .style = {.line = Ink::ink}});
      }
      sheet.add({.shape = Group{std::move(parts)}, .style = {}, .tag = c.tag});
    }
    // The name of the column stands at the top of its cells, on the slope.
    if (row + 1 < n)
      sheet.add({.shape = Text{.at = {left + cell * static_cast<double>(row) + 4,
                                      middle + 0.35 * letters},
                               .text = matrix.names[row],
                               .size = letters_small},
                 .style = {.line = Ink::soft}});
    y += high;
  }
  sheet.y = y + 4;
  if (!words) matrix_key(sheet, matrix);
}

}  // namespace ww::draw
