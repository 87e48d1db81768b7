// SPDX-License-Identifier: MIT
#include "figure/decimal.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <limits>

namespace ww::figure {
namespace {

constexpr int most_digits = 19;  // the longest row of nines that 64 bits hold
// No figure of a motorcycle lies beyond 1e+-60 in SI units; a text may have 1e+-99, so that such a
// figure can be said in every unit.
constexpr int largest_exponent = 99;
constexpr double largest = 1e60;

// --- A pair of doubles whose sum is the number: 106 bits, enough to round once at the end. ---

struct Wide {
  double high;
  double low;
};

Wide exact_sum(double a, double b) {
  const double sum = a + b;
  const double b_seen = sum - a;
  return {sum, (a - (sum - b_seen)) + (b - b_seen)};
}

Wide exact_product(double a, double b) {
  const double product = a * b;
  return {product, std::fma(a, b, -product)};
}

Wide operator+(const Wide& a, const Wide& b) {
  const Wide high = exact_sum(a.high, b.high);
  const Wide low = exact_sum(a.low, b.low);
  const Wide middle = exact_sum(high.high, high.low + low.high);
  return exact_sum(middle.high, middle.low + low.low);
}

Wide operator*(const Wide& a, double b) {
  const Wide product = exact_product(a.high, b);
  return exact_sum(product.high, product.low + a.low * b);
}

Wide operator-(const Wide& a) {
  return {-a.high, -a.low};
}

Wide ratio(const Wide& a, const Wide& b) {
  const double first = a.high / b.high;
  const Wide rest = a + -(b * first);
  const double second = rest.high / b.high;
  return exact_sum(first, second);
}

Wide wide(std::uint64_t whole) {
  const double high = static_cast<double>(whole);
  const auto low = static_cast<std::int64_t>(whole - static_cast<std::uint64_t>(high));
  return {high, static_cast<double>(low)};
}

constexpr std::array<double, 23> powers_of_ten{1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                               1e8,  1e9,  1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
                                               1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};

Wide times_power_of_ten(Wide x, int exponent) {
  for (; exponent > 22; exponent -= 22) x = x * powers_of_ten[22];
  return x * powers_of_ten[static_cast<std::size_t>(exponent)];
}

// --- Reading ---

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

std::size_t digits_at(std::string_view text, std::size_t from) {
  std::size_t end = from;
  while (end < text.size() && is_digit(text[end])) ++end;
  return end - from;
}

char at(std::string_view text, std::size_t index) {
  return index < text.size() ? text[index] : '\0';
}

/// Takes digits one by one; beyond 19 significant ones only their place counts.
struct Gatherer {
  std::uint64_t whole = 0;
  int significant = 0;
  int exponent = 0;

  void digit(char c, bool after_mark) {
    if (significant < most_digits) {
      whole = whole * 10 + static_cast<std::uint64_t>(c - '0');
      if (whole > 0) ++significant;
      if (after_mark) --exponent;
    } else if (!after_mark) {
      ++exponent;
    }
  }
};

/// What the marks within a run of digits, points and commas mean.
struct Marks {
  NumberFault fault;
  char decimal;  // '.', ',' or '\0' where none is a decimal mark
};

bool groups_of_three(std::string_view run) {
  const auto first = digits_at(run, 0);
  if (first < 1 || first > 3 || run[0] == '0') return false;
  std::size_t place = first;
  while (place < run.size()) {
    if (digits_at(run, place + 1) != 3) return false;
    place += 4;
  }
  return true;
}

/// Whether "1,400" or, in a price, "1.400" could be meant either way.
bool either_way(std::string_view run, char mark, Grouping grouping) {
  if (mark == '.' && grouping != Grouping::price) return false;
  return groups_of_three(run);
}

Marks understand_marks(std::string_view run, Grouping grouping) {
  const auto points = std::count(run.begin(), run.end(), '.');
  const auto commas = std::count(run.begin(), run.end(), ',');
  const Marks bad{NumberFault::bad, '\0'};
  if (!is_digit(run.back())) return bad;
  if (points + commas == 0) return {NumberFault::none, '\0'};
  if (points + commas == 1) {
    const char mark = points == 1 ? '.' : ',';
    if (either_way(run, mark, grouping)) return {NumberFault::ambiguous, mark};
    return {NumberFault::none, mark};
  }
  if (points == 0 || commas == 0) {
    return groups_of_three(run) ? Marks{NumberFault::none, '\0'} : bad;
  }
  const auto last = run.find_last_of(".,");
  const char decimal = run[last];
  const auto alike = decimal == '.' ? points : commas;
  if (alike != 1 || !groups_of_three(run.substr(0, last))) return bad;
  return {NumberFault::none, decimal};
}

std::string without_mark(std::string_view run) {
  std::string text;
  for (const char c : run) {
    if (is_digit(c)) text += c;
  }
  return text;
}

std::string with_point(std::string_view run) {
  std::string text(run);
  std::replace(text.begin(), text.end(), ',', '.');
  return text;
}

Scanned fault(NumberFault which) {
  return {{false, 0, 1, 0}, 0, which};
}

/// Up to nine digits, so that a mixed number cannot overflow.
bool small_whole(std::string_view digits, std::uint64_t& whole) {
  if (digits.empty() || digits.size() > 9) return false;
  std::from_chars(digits.data(), digits.data() + digits.size(), whole);
  return true;
}

/// "5/8" at `from`, after a whole number of inches or alone.
Scanned scan_fraction(std::string_view text, std::size_t from, std::uint64_t whole, bool mixed) {
  const auto upper_length = digits_at(text, from);
  const auto lower_from = from + upper_length + 1;
  const auto lower_length = digits_at(text, lower_from);
  std::uint64_t upper = 0;
  std::uint64_t lower = 0;
  if (!small_whole(text.substr(from, upper_length), upper)) return fault(NumberFault::bad);
  if (!small_whole(text.substr(lower_from, lower_length), lower)) return fault(NumberFault::bad);
  if (lower == 0 || (mixed && upper >= lower)) return fault(NumberFault::bad);
  return {{false, whole * lower + upper, lower, 0}, lower_from + lower_length, NumberFault::none};
}

bool fraction_at(std::string_view text, std::size_t from) {
  const auto upper = digits_at(text, from);
  return upper > 0 && at(text, from + upper) == '/' && is_digit(at(text, from + upper + 1));
}

/// The end of the digits at `from`, with further groups of three behind blanks where these can be
/// thousands.
std::size_t blank_groups_end(std::string_view text, std::size_t from) {
  const auto first = digits_at(text, from);
  std::size_t end = from + first;
  if (first > 3 || text[from] == '0') return end;
  while (at(text, end) == ' ' && digits_at(text, end + 1) == 3 && at(text, end + 4) != '/')
    end += 4;
  return end;
}

/// "e3", "E-03" directly behind the digits. Gives false where the exponent is absurd.
bool take_exponent(std::string_view text, std::size_t& place, int& exponent) {
  const char sign = at(text, place + 1);
  const std::size_t from = place + (sign == '+' || sign == '-' ? 2 : 1);
  const bool there = (at(text, place) == 'e' || at(text, place) == 'E') && is_digit(at(text, from));
  if (!there) return true;
  const auto length = digits_at(text, from);
  int power = 0;
  const auto end = text.data() + from + length;
  if (std::from_chars(text.data() + from, end, power).ec != std::errc() || power > 9999)
    return false;
  exponent += sign == '-' ? -power : power;
  place = from + length;
  return true;
}

Scanned finish(std::string_view text, std::size_t place, Gatherer digits) {
  if (!take_exponent(text, place, digits.exponent)) return fault(NumberFault::out_of_range);
  const int magnitude = digits.significant + digits.exponent;
  const bool beyond = magnitude > largest_exponent + 1 || magnitude < -largest_exponent;
  if (digits.whole > 0 && beyond) return fault(NumberFault::out_of_range);
  if (digits.whole == 0) digits.exponent = 0;
  return {{false, digits.whole, 1, digits.exponent}, place, NumberFault::none};
}

/// "1 400" and "1 400,5": blanks group, so either mark is a decimal one.
Scanned scan_blank_groups(std::string_view text, std::size_t from, std::size_t end) {
  Gatherer digits;
  for (std::size_t i = from; i < end; ++i) {
    if (text[i] != ' ') digits.digit(text[i], false);
  }
  if (at(text, end) == '.' || at(text, end) == ',') {
    const auto decimals = digits_at(text, end + 1);
    if (decimals == 0) return fault(NumberFault::bad);
    for (std::size_t i = 0; i < decimals; ++i) digits.digit(text[end + 1 + i], true);
    end += 1 + decimals;
  }
  return finish(text, end, digits);
}

Scanned scan_run(std::string_view text, std::size_t from, std::string_view run, Grouping grouping) {
  const Marks marks = understand_marks(run, grouping);
  if (marks.fault == NumberFault::ambiguous) {
    Scanned found = fault(NumberFault::ambiguous);
    found.as_point = with_point(run);
    found.as_thousands = without_mark(run);
    return found;
  }
  if (marks.fault != NumberFault::none) return fault(marks.fault);
  Gatherer digits;
  bool after_mark = false;
  for (const char c : run) {
    if (is_digit(c)) digits.digit(c, after_mark);
    if (c == marks.decimal) after_mark = true;
  }
  return finish(text, from + run.size(), digits);
}

Scanned scan_unsigned(std::string_view text, std::size_t from, Grouping grouping) {
  std::size_t end = from;
  while (is_digit(at(text, end)) || at(text, end) == '.' || at(text, end) == ',') ++end;
  const auto run = text.substr(from, end - from);
  if (run.find_first_of("0123456789") == std::string_view::npos) return fault(NumberFault::bad);
  const bool whole_digits = digits_at(text, from) == run.size();
  if (!whole_digits) return scan_run(text, from, run, grouping);
  if (fraction_at(text, from)) return scan_fraction(text, from, 0, false);
  const bool joined = at(text, end) == ' ' || at(text, end) == '-';
  if (joined && fraction_at(text, end + 1)) {
    std::uint64_t whole = 0;
    if (!small_whole(run, whole)) return fault(NumberFault::bad);
    return scan_fraction(text, end + 1, whole, true);
  }
  const auto groups = blank_groups_end(text, from);
  if (groups > end) return scan_blank_groups(text, from, groups);
  return scan_run(text, from, run, grouping);
}

// --- Writing ---

/// 0.d1d2d3... * 10^exponent in 19 digits.
struct Digits {
  bool negative;
  std::array<char, most_digits> digit;
  int exponent;
};

Digits digits_of(const Wide& x) {
  const bool negative = std::signbit(x.high);
  const Wide size = negative ? -x : x;
  std::array<char, 40> buffer{};
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), size.high,
                                 std::chars_format::scientific, most_digits - 1)
                       .ptr;
  const std::string_view text(buffer.data(), static_cast<std::size_t>(end - buffer.data()));
  std::uint64_t whole = 0;
  for (const char c : text.substr(0, most_digits + 1)) {
    if (is_digit(c)) whole = whole * 10 + static_cast<std::uint64_t>(c - '0');
  }
  int power = 0;
  const std::size_t sign_skipped = text[most_digits + 2] == '+' ? most_digits + 3 : most_digits + 2;
  std::from_chars(text.data() + sign_skipped, end, power);
  const double step = std::pow(10.0, static_cast<double>(most_digits - 1 - power));
  whole += static_cast<std::uint64_t>(std::llround(size.low * step));
  if (whole < 1'000'000'000'000'000'000U) {  // the low half moved it across a power of ten
    whole *= 10;
    --power;
  } else if (whole >= 10'000'000'000'000'000'000U) {
    whole /= 10;
    ++power;
  }
  Digits out{negative, {}, power + 1};
  for (std::size_t i = most_digits; i-- > 0; whole /= 10) {
    out.digit[i] = static_cast<char>('0' + whole % 10);
  }
  return out;
}

/// The number rounded half up to `kept` digits; none kept is zero.
Decimal rounded(const Digits& digits, int kept) {
  std::uint64_t whole = 0;
  for (int i = 0; i < kept; ++i) {
    whole =
        whole * 10 + static_cast<std::uint64_t>(digits.digit[static_cast<std::size_t>(i)] - '0');
  }
  const bool up = kept < most_digits && digits.digit[static_cast<std::size_t>(kept)] >= '5';
  if (up) ++whole;
  return {digits.negative && whole > 0, whole, 1, whole == 0 ? 0 : digits.exponent - kept};
}

std::string written(const Decimal& number) {
  std::string text = std::to_string(number.numerator);
  int exponent = number.exponent;
  while (text.size() > 1 && text.back() == '0') {
    text.pop_back();
    ++exponent;
  }
  const int point = static_cast<int>(text.size()) + exponent;  // digits before the decimal mark
  if (point > 15 || point < -5) {
    if (text.size() > 1) text.insert(1, ".");
    text += "e" + std::to_string(point - 1);
  } else if (point <= 0) {
    text.insert(0, "0." + std::string(static_cast<std::size_t>(-point), '0'));
  } else if (exponent >= 0) {
    text.append(static_cast<std::size_t>(exponent), '0');
  } else {
    text.insert(static_cast<std::size_t>(point), ".");
  }
  return number.negative ? "-" + text : text;
}

}  // namespace

Scanned scan_number(std::string_view text, Grouping grouping) {
  const bool sign = at(text, 0) == '-' || at(text, 0) == '+';
  Scanned found = scan_unsigned(text, sign ? 1 : 0, grouping);
  found.number.negative = at(text, 0) == '-';
  return found;
}

bool can_be_figure(double value) {
  return value == 0.0 || (std::fabs(value) > 1 / largest && std::fabs(value) < largest);
}

double to_si(const Decimal& number, const Scale& scale) {
  const int up = std::max(number.exponent, 0);
  const int down = std::max(-number.exponent, 0);
  Wide above = times_power_of_ten(wide(number.numerator), up) * scale.numerator;
  if (number.negative) above = -above;
  const Wide below = times_power_of_ten(wide(number.denominator), down);
  if (scale.offset != 0.0) above = above + below * scale.offset;
  const double value = ratio(above, below * scale.denominator).high;
  return can_be_figure(value) ? value : std::numeric_limits<double>::quiet_NaN();
}

std::string spell(double value, const Scale& scale) {
  if (value == 0.0 && scale.offset == 0.0) return std::signbit(value) ? "-0" : "0";
  if (std::fabs(value) >= largest) return {};
  const Wide above = Wide{value, 0} * scale.denominator + Wide{-scale.offset, 0};
  const Wide number = ratio(above, Wide{scale.numerator, 0});
  if (number.high == 0.0) return to_si({false, 0, 1, 0}, scale) == value ? "0" : "";
  const Digits digits = digits_of(number);
  for (int kept = 0; kept <= most_digits; ++kept) {
    const Decimal candidate = rounded(digits, kept);
    if (to_si(candidate, scale) == value) return written(candidate);
  }
  return {};
}

}  // namespace ww::figure
