// SPDX-License-Identifier: MIT
#include "serve/layout.h"

#include <algorithm>

namespace ww::serve {

int columns_of(std::string_view text) {
  return static_cast<int>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
  }));
}

std::string wrapped(std::string_view text, int indent, std::string_view first) {
  const std::string margin(static_cast<std::size_t>(indent), ' ');
  std::string out(first.empty() ? margin : std::string(first));
  int column = columns_of(out);
  bool fresh = true;
  while (!text.empty()) {
    const auto space = text.find(' ');
    const auto word = text.substr(0, space);
    const int width = columns_of(word);
    if (!fresh && column + 1 + width > page_columns) {
      out += "\n" + margin;
      column = indent;
      fresh = true;
    }
    if (!fresh) {
      out += ' ';
      ++column;
    }
    out += word;
    column += width;
    fresh = false;
    text.remove_prefix(space == std::string_view::npos ? text.size() : space + 1);
  }
  return out + "\n";
}

std::string Columns::text(int indent) const {
  std::vector<int> widths;
  for (const auto& row : rows_) {
    widths.resize(std::max(widths.size(), row.size()), 0);
    for (std::size_t i = 0; i < row.size(); ++i)
      widths[i] = std::max(widths[i], columns_of(row[i]));
  }
  std::string out;
  for (const auto& row : rows_) {
    std::string line(static_cast<std::size_t>(indent), ' ');
    for (std::size_t i = 0; i < row.size(); ++i) {
      const std::string pad(static_cast<std::size_t>(widths[i] - columns_of(row[i])), ' ');
      line += i < right_.size() && right_[i] ? pad + row[i] : row[i] + pad;
      if (i + 1 < row.size()) line += "  ";
    }
    line.erase(line.find_last_not_of(' ') + 1);
    out += line + "\n";
  }
  return out;
}

}  // namespace ww::serve
