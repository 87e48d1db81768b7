// SPDX-License-Identifier: MIT
#include "draw/layout.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/text.h"

namespace ww::draw {

std::vector<std::string> wrapped(std::string_view text, double size, double width) {
  std::vector<std::string> lines;
  std::string line;
  for (const std::string_view word : split(text, ' ')) {
    const std::string longer = line.empty() ? std::string(word) : line + " " + std::string(word);
    if (!line.empty() && text_width(longer, size) > width) {
      lines.push_back(line);
      line = word;
    } else {
      line = longer;
    }
  }
  if (!line.empty()) lines.push_back(line);
  return lines;
}

Box grown(const Box& box, double margin) {
  return {box.left - margin, box.top - margin, box.right + margin, box.bottom + margin};
}

bool inside(const Box& box, const Box& frame) {
  return box.left >= frame.left && box.right <= frame.right && box.top >= frame.top &&
         box.bottom <= frame.bottom;
}

std::optional<Line> clipped(const Line& line, const Box& box) {
  double enter = 0, leave = 1;
  const double dx = line.to.x - line.from.x, dy = line.to.y - line.from.y;
  const auto side = [&](double step, double room) {
    if (step == 0) return room >= 0;
    const double t = room / step;
    if (step < 0)
      enter = std::max(enter, t);
    else
      leave = std::min(leave, t);
    return enter <= leave;
  };
  if (!side(-dx, line.from.x - box.left) || !side(dx, box.right - line.from.x) ||
      !side(-dy, line.from.y - box.top) || !side(dy, box.bottom - line.from.y))
    return std::nullopt;
  return Line{{line.from.x + enter * dx, line.from.y + enter * dy},
              {line.from.x + leave * dx, line.from.y + leave * dy}};
}

double length_inside(const Line& line, const Box& box) {
  const auto part = clipped(line, box);
  return part ? std::hypot(part->to.x - part->from.x, part->to.y - part->from.y) : 0;
}

std::optional<Text> Labels::place(const std::vector<Text>& offers, double most) {
  double best_cost = std::numeric_limits<double>::infinity();
  const Text* best = nullptr;
  for (const Text& offer : offers) {
    const Box box = grown(box_of(offer), 0.15 * offer.size);
    if (!inside(box, frame_)) continue;
    if (std::any_of(taken_.begin(), taken_.end(), [&](const Box& b) { return overlap(b, box); }))
      continue;
    double cost = 0;
    for (const Line& line : lines_) cost += length_inside(line, box);
    if (cost > most || cost >= best_cost - 1e-9) continue;
    best_cost = cost;
    best = &offer;
  }
  if (best == nullptr) return std::nullopt;
  taken_.push_back(grown(box_of(*best), 0.15 * best->size));
  return *best;
}

bool Labels::is_free(const Box& box) const {
  return inside(box, frame_) &&
         std::none_of(taken_.begin(), taken_.end(), [&](const Box& b) { return overlap(b, box); });
}

}  // namespace ww::draw
