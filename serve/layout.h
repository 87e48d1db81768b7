// SPDX-License-Identifier: MIT
// Text on a terminal: wrapped paragraphs and aligned columns.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace ww::serve {

inline constexpr int page_columns = 100;

/// Columns a text takes on a terminal (code points; no wide or combining characters are used here).
int columns_of(std::string_view text);

/// The text wrapped to the page, each line behind `indent` spaces, the first behind `first`
/// instead.
std::string wrapped(std::string_view text, int indent, std::string_view first = {});

/// A table whose columns are as wide as their longest cell; numbers (right = true) to the right.
class Columns {
 public:
  explicit Columns(std::vector<bool> right) : right_(std::move(right)) {}
  void row(std::vector<std::string> cells) { rows_.push_back(std::move(cells)); }
  std::string text(int indent) const;

 private:
  std::vector<bool> right_;
  std::vector<std::vector<std::string>> rows_;
};

}  // namespace ww::serve
