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

std::string Told::text() const {
  std::string out;
  for (const Passage& p : passages_) {
    if (p.sort == Passage::Sort::heading) {
      out += "\n" + p.text + "\n";
      if (p.indent == 0) out += std::string(p.text.size(), '-') + "\n";
    }
    if (p.sort == Passage::Sort::table) out += p.table.text(p.indent);
    if (p.sort == Passage::Sort::line) out += wrapped(p.text, p.indent, p.first);
    if (p.sort == Passage::Sort::gap) out += "\n";
  }
  return out;
}

Told& Told::operator+=(const Told& more) {
  passages_.insert(passages_.end(), more.passages_.begin(), more.passages_.end());
  return *this;
}

Told told_heading(std::string text) {
  return Told({.sort = Passage::Sort::heading, .text = std::move(text)});
}
Told told_small_heading(std::string text) {
  return Told({.sort = Passage::Sort::heading, .text = std::move(text), .indent = 1});
}
Told told_table(Columns table, int indent) {
  return Told({.sort = Passage::Sort::table, .indent = indent, .table = std::move(table)});
}
Told told_line(std::string text, int indent, std::string first) {
  return Told({.sort = Passage::Sort::line,
               .text = std::move(text),
               .indent = indent,
               .first = std::move(first)});
}
Told told_gap() {
  return Told({.sort = Passage::Sort::gap});
}

}  // namespace ww::serve
