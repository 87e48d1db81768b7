// SPDX-License-Identifier: MIT
// Small text helpers without a locale.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace ww {

/// The text without white space at its ends.
std::string_view trim(std::string_view text);

/// ASCII letters in lower case; every other byte as it is.
std::string lower(std::string_view text);

/// The pieces between separators; empty pieces are kept.
std::vector<std::string_view> split(std::string_view text, char separator);

/// The pieces with `between` between them.
std::string join(const std::vector<std::string>& pieces, std::string_view between);

/// How many insertions, deletions, swaps of neighbours and replacements turn one into the other.
int edit_distance(std::string_view a, std::string_view b);

/// The candidate nearest to `word` if it is near enough to be a slip (a third of its length, at
/// least 2 edits). Empty where none is. Ties: the first.
std::string_view nearest(std::string_view word, const std::vector<std::string_view>& candidates);

/// "Did you mean 'mass'?" for the nearest candidate; empty where none is near. `open` and `close`
/// stand round the candidate inside the quotes: "[", "]" for a table.
std::string did_you_mean(std::string_view word, const std::vector<std::string_view>& candidates,
                         std::string_view open = {}, std::string_view close = {});

/// The shortest text that reads back as the same double.
std::string shortest(double value);

/// Fixed point with `decimals` digits; never "-0.0".
std::string fixed(double value, int decimals);

/// Whether the bytes are well-formed UTF-8.
bool valid_utf8(std::string_view bytes);

}  // namespace ww
