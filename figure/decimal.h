// SPDX-License-Identifier: MIT
// Numbers as they stand in text, kept exact until they are in SI. Internal to this floor.
// Invariants:
// 1. A number is a ratio of whole numbers times a power of ten; nothing is rounded while reading
// (up to 19 digits).
// 2. The one rounding is the last step of to_si(): "25.4 mm", "1 in" and 0.0254 are the same
// double.
// 3. Therefore every double between 1e-60 and 1e60 has a text in every unit that reads back as the
// same bits.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

namespace ww::figure {

/// sign * numerator / denominator * 10^exponent.
struct Decimal {
  bool negative;
  std::uint64_t numerator;
  std::uint64_t denominator;
  int exponent;
};

/// value_SI = (number * numerator + offset) / denominator; whole numbers wherever the unit's
/// definition allows it.
struct Scale {
  double numerator;
  double denominator;
  double offset;
};

enum class NumberFault : std::uint8_t { none, bad, ambiguous, out_of_range };

/// A number at the start of a text. `used` bytes belong to it.
struct Scanned {
  Decimal number;
  std::size_t used;
  NumberFault fault;
  /// Where ambiguous: the two readings.
  std::string as_point = {};
  std::string as_thousands = {};
};

/// Which marks a number may hold without doubt: prices never have three decimals.
enum class Grouping : std::uint8_t { plain, price };

/// Reads a number from ASCII text (white space already single blanks). Never fails otherwise than
/// by `fault`.
Scanned scan_number(std::string_view text, Grouping grouping);

/// Whether the number is zero or within 1e-60..1e60: what is beyond is no figure.
bool can_be_figure(double value);

/// Correctly rounded but for ties closer than 1e-30; NaN where the result is outside 1e-60..1e60
/// (zero is inside).
double to_si(const Decimal& number, const Scale& scale);

/// The text with the fewest digits which to_si() turns into exactly `value`. Empty where 19 digits
/// cannot: beyond the range of to_si(), and a hair above absolute zero on a shifted scale. Valid:
/// value finite.
std::string spell(double value, const Scale& scale);

}  // namespace ww::figure
