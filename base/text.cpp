// SPDX-License-Identifier: MIT
#include "base/text.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <limits>

namespace ww {

std::string_view trim(std::string_view text) {
  constexpr std::string_view white = " \t\r\n";
  const auto first = text.find_first_not_of(white);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(white) - first + 1);
}

std::string lower(std::string_view text) {
  std::string out(text);
  for (char& c : out) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return out;
}

std::vector<std::string_view> split(std::string_view text, char separator) {
  std::vector<std::string_view> pieces;
  while (true) {
    const auto at = text.find(separator);
    pieces.push_back(text.substr(0, at));
    if (at == std::string_view::npos) return pieces;
    text.remove_prefix(at + 1);
  }
}

std::string join(const std::vector<std::string>& pieces, std::string_view between) {
  std::string out;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    if (i > 0) out += between;
    out += pieces[i];
  }
  return out;
}

namespace {

/// The edit distance, or some number of at least `limit` where it is not below that.
int edits_below(int limit, std::string_view a, std::string_view b) {
  // Three rows of the table, in one block.
  const std::size_t width = b.size() + 1;
  std::vector<int> rows(3 * width);
  int* before = rows.data();
  int* above = before + width;
  int* row = above + width;
  int least_above = 0;
  for (std::size_t j = 0; j <= b.size(); ++j) above[j] = static_cast<int>(j);
  for (std::size_t i = 1; i <= a.size(); ++i) {
    int least = row[0] = static_cast<int>(i);
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const int swap_cost = a[i - 1] == b[j - 1] ? 0 : 1;
      row[j] = std::min({above[j] + 1, row[j - 1] + 1, above[j - 1] + swap_cost});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
        row[j] = std::min(row[j], before[j - 2] + 1);
      }
      least = std::min(least, row[j]);
    }
    // Every later place stems from this row, or by a swap of neighbours from the one above.
    if (least >= limit && least_above + 1 >= limit) return limit;
    least_above = least;
    int* const freed = before;
    before = above;
    above = row;
    row = freed;
  }
  return above[b.size()];
}

}  // namespace

int edit_distance(std::string_view a, std::string_view b) {
  return edits_below(std::numeric_limits<int>::max(), a, b);
}

std::string_view nearest(std::string_view word, const std::vector<std::string_view>& candidates) {
  std::string_view best;
  int best_distance = std::max(2, static_cast<int>(word.size()) / 3) + 1;
  for (const auto candidate : candidates) {
    // As many edits as the lengths differ are needed at least.
    const auto lengths_apart = static_cast<int>(std::max(word.size(), candidate.size()) -
                                                std::min(word.size(), candidate.size()));
    if (lengths_apart >= best_distance) continue;
    const int distance = edits_below(best_distance, word, candidate);
    if (distance < best_distance) {
      best_distance = distance;
      best = candidate;
    }
  }
  return best;
}

std::string did_you_mean(std::string_view word, const std::vector<std::string_view>& candidates,
                         std::string_view open, std::string_view close) {
  const std::string_view near = nearest(word, candidates);
  if (near.empty()) return {};
  return "Did you mean '" + std::string(open) + std::string(near) + std::string(close) + "'?";
}

std::string shortest(double value) {
  std::array<char, 40> buffer{};
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value).ptr;
  return {buffer.data(), end};
}

std::string fixed(double value, int decimals) {
  if (!std::isfinite(value)) return std::isnan(value) ? "unknown" : (value > 0 ? "inf" : "-inf");
  std::array<char, 400> buffer{};
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value,
                                 std::chars_format::fixed, decimals)
                       .ptr;
  std::string text(buffer.data(), end);
  if (text.front() == '-' && text.find_first_not_of("-0.") == std::string::npos) text.erase(0, 1);
  return text;
}

bool valid_utf8(std::string_view bytes) {
  std::size_t i = 0;
  while (i < bytes.size()) {
    const auto lead = static_cast<unsigned char>(bytes[i]);
    std::size_t more = 0;
    unsigned code = lead;
    if (lead >= 0xF0 && lead < 0xF5) {
      more = 3;
      code = lead & 0x07U;
    } else if (lead >= 0xE0 && lead < 0xF0) {
      more = 2;
      code = lead & 0x0FU;
    } else if (lead >= 0xC2 && lead < 0xE0) {
      more = 1;
      code = lead & 0x1FU;
    } else if (lead >= 0x80) {
      return false;
    }
    if (i + more >= bytes.size()) return false;
    for (std::size_t k = 1; k <= more; ++k) {
      const auto next = static_cast<unsigned char>(bytes[i + k]);
      if ((next & 0xC0U) != 0x80U) return false;
      code = (code << 6U) | (next & 0x3FU);
    }
    constexpr std::array<unsigned, 4> smallest{0, 0x80, 0x800, 0x10000};
    if (code < smallest[more] || code > 0x10FFFF || (code >= 0xD800 && code < 0xE000)) return false;
    i += more + 1;
  }
  return true;
}

}  // namespace ww
