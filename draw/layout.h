// SPDX-License-Identifier: MIT
// What charts and views share to set their letters: wrapped text, labels that keep clear of each
// other.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "draw/drawing.h"

namespace ww::draw {

/// The text in lines no wider than `width`; a word wider than that stands alone.
std::vector<std::string> wrapped(std::string_view text, double size, double width);

/// The box grown by a margin on each side.
Box grown(const Box& box, double margin);
bool inside(const Box& box, const Box& frame);

/// Places labels one after the other so that none covers another, nor more line than it must.
class Labels {
 public:
  explicit Labels(const Box& frame) : frame_(frame) {}

  /// Keeps a box free from now on.
  void keep_free(const Box& box) { taken_.push_back(box); }
  /// A line that labels should not cover.
  void line(const Point& from, const Point& to) { lines_.push_back({from, to}); }

  /// The best of the places offered: inside the frame, clear of what is taken, covering the least
  /// line; earlier ones win ties. Nothing where all are taken or cover more than `most` of line.
  std::optional<Text> place(const std::vector<Text>& offers, double most);

  /// Whether a box lies inside the frame and covers nothing that stands already.
  bool is_free(const Box& box) const;

 private:
  Box frame_;
  std::vector<Box> taken_;
  std::vector<Line> lines_;
};

/// How much of a line lies inside a box.
double length_inside(const Line& line, const Box& box);
/// The part of a line inside a box; nothing where there is none.
std::optional<Line> clipped(const Line& line, const Box& box);

}  // namespace ww::draw
