// SPDX-License-Identifier: MIT
// The numbers behind a chart: CSV for machines, a table for people who do not see it.
#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include "draw/chart.h"

namespace ww::draw {

namespace {

std::string head(const std::string& label, const std::string& unit) {
  return unit.empty() ? label : label + " [" + unit + "]";
}

/// Six significant digits, never an exponent for everyday sizes; empty for a gap.
std::string digits(double value, int precision = 6) {
  if (!std::isfinite(value)) return {};
  std::array<char, 64> text{};
  const double size = std::abs(value);
  const auto format = size != 0 && (size < 1e-4 || size >= 1e9) ? std::chars_format::scientific
                                                                : std::chars_format::fixed;
  int decimals = precision - 1;
  if (format == std::chars_format::fixed) {
    const int before = size >= 1  ? static_cast<int>(std::floor(std::log10(size))) + 1
                       : size > 0 ? static_cast<int>(std::floor(std::log10(size))) + 1
                                  : 1;
    decimals = std::clamp(precision - before, 0, 10);
  }
  const auto done = std::to_chars(text.data(), text.data() + text.size(), value, format, decimals);
  if (done.ec != std::errc()) return {};
  std::string out(text.data(), done.ptr);
  if (format == std::chars_format::fixed && out.find('.') != std::string::npos) {
    while (out.back() == '0') out.pop_back();
    if (out.back() == '.') out.pop_back();
  }
  return out == "-0" ? "0" : out;
}

Cell number(double value) {
  const std::string text = digits(value, 4);
  return {.text = text.empty() ? "-" : text,
          .number = std::isfinite(value) ? value : std::numeric_limits<double>::quiet_NaN()};
}
Cell words(std::string text) {
  return {.text = std::move(text)};
}

double at_x(const Curve& curve, double x) {
  for (const Point& p : curve.points) {
    if (p.x == x) return p.y;
  }
  return std::numeric_limits<double>::quiet_NaN();
}
const Spread* band_at(const Curve& curve, double x) {
  for (const Spread& s : curve.band) {
    if (s.x == x) return &s;
  }
  return nullptr;
}
std::string stretch_at(const Curve& curve, double x) {
  for (const Stretch& s : curve.stretches) {
    if (x >= s.from && x <= s.to) return s.label;
  }
  return {};
}

/// Whether a curve has more than one y at an x: it goes up or back.
bool turns(const Curve& curve) {
  std::vector<double> xs;
  for (const Point& p : curve.points) {
    if (std::isfinite(p.x) && std::isfinite(p.y)) xs.push_back(p.x);
  }
  std::sort(xs.begin(), xs.end());
  return std::adjacent_find(xs.begin(), xs.end()) != xs.end();
}

/// One row a point, for curves that go up or back.
Table points_of(const Plot& plot, const Chart& chart) {
  Table t{.caption = {},
          .heads = {"curve", head(chart.x.label, chart.x.unit), head(chart.y.label, chart.y.unit)},
          .rows = {}};
  for (const Curve& curve : plot.curves) {
    for (const Point& p : curve.points) {
      if (std::isfinite(p.x) && std::isfinite(p.y))
        t.rows.push_back({words(curve.label), number(p.x), number(p.y)});
    }
  }
  for (const Marker& m : plot.markers)
    t.rows.push_back({words(m.label), number(m.at.x), number(m.at.y)});
  return t;
}

Table rows_of(const Plot& plot, const Chart& chart) {
  if (std::any_of(plot.curves.begin(), plot.curves.end(), turns)) return points_of(plot, chart);
  Table t;
  t.heads.push_back(head(chart.x.label, chart.x.unit));
  std::vector<double> xs;
  for (const Curve& curve : plot.curves) {
    t.heads.push_back(head(curve.label, chart.y.unit));
    if (!curve.band.empty()) {
      t.heads.push_back(head(curve.label + ", low", chart.y.unit));
      t.heads.push_back(head(curve.label + ", high", chart.y.unit));
    }
    if (!curve.stretches.empty()) t.heads.emplace_back("held down by");
    for (const Point& p : curve.points) {
      if (std::isfinite(p.x)) xs.push_back(p.x);
    }
  }
  std::sort(xs.begin(), xs.end());
  xs.erase(std::unique(xs.begin(), xs.end()), xs.end());
  for (const double x : xs) {
    std::vector<Cell> row{number(x)};
    for (const Curve& curve : plot.curves) {
      row.push_back(number(at_x(curve, x)));
      if (!curve.band.empty()) {
        const Spread* s = band_at(curve, x);
        const double gap = std::numeric_limits<double>::quiet_NaN();
        row.push_back(number(s != nullptr ? s->low : gap));
        row.push_back(number(s != nullptr ? s->high : gap));
      }
      if (!curve.stretches.empty()) row.push_back(words(stretch_at(curve, x)));
    }
    t.rows.push_back(std::move(row));
  }
  return t;
}

Table rows_of(const Bars& bars, const Chart& chart) {
  Table t{.caption = {},
          .heads = {"", head("from", chart.x.unit), head("to", chart.x.unit), "marks"},
          .rows = {}};
  for (const Bar& bar : bars.bars) {
    std::string marks;
    for (const Notch& notch : bar.notches) {
      if (!std::isfinite(notch.at)) continue;
      marks += (marks.empty() ? "" : "; ") + notch.label + " " + digits(notch.at, 4);
    }
    t.rows.push_back({words(bar.label), number(bar.from), number(bar.to), words(marks)});
  }
  return t;
}

Table rows_of(const Field& field, const Chart& chart) {
  Table t{.caption = {},
          .heads = {head(chart.x.label, chart.x.unit), head(chart.y.label, chart.y.unit),
                    head(field.label, field.unit)},
          .rows = {}};
  for (std::size_t iy = 0; iy < field.ys.size(); ++iy) {
    for (std::size_t ix = 0; ix < field.xs.size(); ++ix) {
      const std::size_t at = iy * field.xs.size() + ix;
      if (at >= field.values.size() || !std::isfinite(field.values[at])) continue;
      t.rows.push_back({number(field.xs[ix]), number(field.ys[iy]), number(field.values[at])});
    }
  }
  return t;
}

Table rows_of(const Matrix& matrix, const Chart&) {
  Table t{.caption = {}, .heads = {"one", "other", "says", "because"}, .rows = {}};
  const std::size_t n = matrix.names.size();
  if (matrix.cells.size() < n * n) return t;
  for (std::size_t row = 0; row < n; ++row) {
    for (std::size_t column = 0; column < row; ++column) {
      const MatrixCell& cell = matrix.cells[row * n + column];
      if (cell.word.empty()) continue;
      t.rows.push_back({words(matrix.names[column]), words(matrix.names[row]), words(cell.word),
                        words(cell.tag.title)});
    }
  }
  return t;
}

Table whole_table(const Chart& chart) {
  if (!chart.missing.empty()) return {.caption = chart.missing, .heads = {}, .rows = {}};
  Table t = std::visit([&](const auto& body) { return rows_of(body, chart); }, chart.body);
  t.caption = chart.title;
  return t;
}

std::string quoted(const std::string& text) {
  if (text.find_first_of(",\"\n\r") == std::string::npos) return text;
  std::string out = "\"";
  for (const char c : text) {
    out += c;
    if (c == '"') out += c;
  }
  return out + "\"";
}

}  // namespace

std::string csv_of(const Chart& chart) {
  const Table t = whole_table(chart);
  std::string out;
  for (std::size_t i = 0; i < t.heads.size(); ++i) out += (i > 0 ? "," : "") + quoted(t.heads[i]);
  if (!t.heads.empty()) out += "\n";
  for (const auto& row : t.rows) {
    for (std::size_t i = 0; i < row.size(); ++i) {
      if (i > 0) out += ",";
      const bool gap = std::isnan(row[i].number) && row[i].text == "-";
      if (!gap) out += std::isnan(row[i].number) ? quoted(row[i].text) : digits(row[i].number);
    }
    out += "\n";
  }
  return out;
}

Table table_of(const Chart& chart, std::size_t rows) {
  Table t = whole_table(chart);
  // Curves are thinned; bars, cells and pairs are each worth a line.
  if (!std::holds_alternative<Plot>(chart.body) || t.rows.size() <= rows || rows < 2) return t;
  std::vector<std::vector<Cell>> kept;
  for (std::size_t i = 0; i < rows; ++i)
    kept.push_back(t.rows[i * (t.rows.size() - 1) / (rows - 1)]);
  t.rows = std::move(kept);
  return t;
}

}  // namespace ww::draw
