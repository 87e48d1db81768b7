// SPDX-License-Identifier: MIT
// Text on a terminal: wrapped paragraphs and aligned columns.
#pragma once

#include <cstdint>
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
  const std::vector<bool>& right() const { return right_; }
  const std::vector<std::vector<std::string>>& rows() const { return rows_; }  ///< heads first

 private:
  std::vector<bool> right_;
  std::vector<std::vector<std::string>> rows_;
};

/// A report in pieces, for a terminal or for the page.
struct Passage {
  enum class Sort : std::uint8_t { heading, table, line, gap } sort;
  std::string text = {};
  int indent = 0;          ///< of a heading: 1 where it is a small one
  std::string first = {};  ///< of a line: what stands before it, as "  ! "
  Columns table = Columns({});
};

class Told {
 public:
  Told() = default;
  explicit Told(Passage passage) : passages_{std::move(passage)} {}
  bool empty() const { return passages_.empty(); }
  const std::vector<Passage>& passages() const { return passages_; }
  std::string text() const;
  Told& operator+=(const Told& more);
  friend Told operator+(Told a, const Told& b) { return std::move(a += b); }

 private:
  std::vector<Passage> passages_;
};

Told told_heading(std::string text);
Told told_small_heading(std::string text);
Told told_table(Columns table, int indent = 2);
/// As wrapped().
Told told_line(std::string text, int indent, std::string first = {});
Told told_gap();

}  // namespace ww::serve
