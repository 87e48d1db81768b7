// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "draw/chart.h"

namespace ww::draw {

namespace {

/// The step of 1, 2, 2.5 or 5 times a power of ten that cuts the range into at most `most` pieces.
double round_step(double span, int most) {
  const double raw = span / most;
  const double decade = std::pow(10, std::floor(std::log10(raw)));
  for (const double factor : {1.0, 2.0, 2.5, 5.0}) {
    if (factor * decade >= raw * (1 - 1e-9)) return factor * decade;
  }
  return 10 * decade;
}

std::vector<double> linear_ticks(Range range, int most) {
  const double step = round_step(range.high - range.low, most);
  std::vector<double> ticks;
  const double slack = 1e-9 * (range.high - range.low);
  const double first = std::ceil((range.low - slack) / step);
  for (int k = 0; k <= most && (first + k) * step <= range.high + slack; ++k)
    ticks.push_back(first + k == 0 ? 0.0 : (first + k) * step);
  return ticks;
}

std::vector<double> log_ticks(Range range, int most) {
  const auto add = [&](std::vector<double>& ticks, double value) {
    if (value >= range.low * (1 - 1e-9) && value <= range.high * (1 + 1e-9)) ticks.push_back(value);
  };
  const int first = static_cast<int>(std::floor(std::log10(range.low)));
  const int last = static_cast<int>(std::ceil(std::log10(range.high)));
  std::vector<double> decades, fine;
  for (int k = first; k <= last; ++k) {
    const double decade = std::pow(10, k);
    add(decades, decade);
    for (const double factor : {1.0, 2.0, 5.0}) add(fine, factor * decade);
  }
  if (static_cast<int>(fine.size()) <= most) return fine;
  if (decades.size() < 2) return linear_ticks(range, most);
  const auto every =
      (decades.size() + static_cast<std::size_t>(most) - 1) / static_cast<std::size_t>(most);
  std::vector<double> kept;
  for (std::size_t i = 0; i < decades.size(); i += every) kept.push_back(decades[i]);
  return kept;
}

}  // namespace

std::vector<double> ticks_of(Range range, Scale scale, int most) {
  if (!std::isfinite(range.low) || !std::isfinite(range.high) || !(range.low < range.high))
    return {};
  if (most < 1 || !std::isfinite(range.high - range.low)) return {};
  if (scale == Scale::linear) return linear_ticks(range, most);
  return range.low > 0 ? log_ticks(range, most) : std::vector<double>();
}

std::vector<Point> thinned(const std::vector<Point>& points, Range x, double width_px) {
  const double span = x.high - x.low;
  if (!(span > 0) || !(width_px > 0)) return points;
  for (std::size_t i = 1; i < points.size(); ++i) {
    if (points[i].x < points[i - 1].x) return points;
  }
  std::vector<Point> out;
  std::size_t at = 0;
  while (at < points.size()) {
    if (!std::isfinite(points[at].x) || !std::isfinite(points[at].y)) {
      out.push_back(points[at++]);
      continue;
    }
    const double column = std::floor((points[at].x - x.low) / span * width_px);
    std::size_t end = at, least = at, most = at;
    while (end < points.size() && std::isfinite(points[end].y) &&
           std::floor((points[end].x - x.low) / span * width_px) == column) {
      if (points[end].y < points[least].y) least = end;
      if (points[end].y > points[most].y) most = end;
      ++end;
    }
    std::vector<std::size_t> keep{at, least, most, end - 1};
    std::sort(keep.begin(), keep.end());
    keep.erase(std::unique(keep.begin(), keep.end()), keep.end());
    for (const std::size_t i : keep) out.push_back(points[i]);
    at = end;
  }
  return out;
}

std::string tick_text(double value, double step) {
  int decimals = 0;
  for (double unit = step; decimals < 6 && std::abs(unit - std::round(unit)) > 1e-6 * unit;
       unit *= 10)
    ++decimals;
  std::string text = fixed(value, decimals);
  // Five digits and more are grouped by a narrow space.
  const std::size_t start = text[0] == '-' ? 1 : 0;
  const std::size_t point = std::min(text.find('.'), text.size());
  if (point - start < 5) return text;
  for (std::size_t i = point; i > start + 3;) {
    i -= 3;
    text.insert(i, "\xE2\x80\xAF");
  }
  return text;
}

}  // namespace ww::draw
