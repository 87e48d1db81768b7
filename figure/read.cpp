// SPDX-License-Identifier: MIT
// From text to a Reading: signs to ASCII, the spread cut off, a number, a unit, a convention word.
// What is left over is an error.
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

#include "base/text.h"
#include "figure/decimal.h"
#include "figure/table.h"
#include "figure/units.h"

namespace ww::figure {
namespace {

constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
constexpr std::size_t longest_text = 200;
constexpr std::size_t longest_shown = 60;

// --- Signs that people type, in ASCII ---

struct Sign {
  std::string_view bytes;
  std::string_view plain;
};

constexpr Sign signs[] = {
    {"\xC2\xA0", " "},        {"\xE2\x80\x82", " "},
    {"\xE2\x80\x83", " "},    {"\xE2\x80\x87", " "},
    {"\xE2\x80\x89", " "},    {"\xE2\x80\x8A", " "},
    {"\xE2\x80\xAF", " "},  // blanks
    {"\xE2\x88\x92", "-"},    {"\xC2\xB1", "+-"},
    {"\xE2\x81\x84", "/"},                              // minus, plus-minus, fraction bar
    {"\xCE\xA9", "ohm"},      {"\xE2\x84\xA6", "ohm"},  // omega, ohm sign
    {"\xC2\xB5", "u"},        {"\xCE\xBC", "u"},        // micro sign, mu
    {"\xC2\xB0", "deg"},      {"\xC2\xBA", "deg"},
    {"\xE2\x84\x83", "degC"}, {"\xE2\x84\x89", "degF"},
    {"\xC2\xB7", "*"},        {"\xE2\x8B\x85", "*"},  // middle dot, dot operator
    {"\xE2\x80\xB2", "'"},    {"\xE2\x80\xB3", "\""},
    {"\xE2\x80\x9D", "\""},  // prime, double prime, quotation mark
    {"\xE2\x82\xAC", "EUR"},  {"\xC2\xA3", "GBP"},
};
// These would change a number that they touch, so they stand for themselves only behind a letter or
// a digit.
constexpr Sign behind_letter[] = {
    {"\xC2\xB2", "2"}, {"\xC2\xB3", "3"}, {"\xE2\x81\xBB\xC2\xB9", "-1"}};
constexpr Sign vulgar_fractions[] = {{"\xC2\xBC", "1/4"},     {"\xC2\xBD", "1/2"},
                                     {"\xC2\xBE", "3/4"},     {"\xE2\x85\x9B", "1/8"},
                                     {"\xE2\x85\x9C", "3/8"}, {"\xE2\x85\x9D", "5/8"},
                                     {"\xE2\x85\x9E", "7/8"}};

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}
bool is_blank(char c) {
  return c == ' ' || c == '\t' || c == '\r' || c == '\n';
}

template <std::size_t N>
const Sign* sign_at(const Sign (&list)[N], std::string_view text) {
  for (const Sign& sign : list) {
    if (text.substr(0, sign.bytes.size()) == sign.bytes) return &sign;
  }
  return nullptr;
}

void append_plain(std::string& out, std::string_view plain) {
  if (plain != " ") {
    out += plain;
  } else if (!out.empty() && out.back() != ' ') {
    out += ' ';
  }
}

/// Appends what stands at the head of `text` and gives its length in bytes.
std::size_t append_sign(std::string& out, std::string_view text) {
  const char last = out.empty() ? ' ' : out.back();
  if (const Sign* sign = sign_at(signs, text)) {
    append_plain(out, sign->plain);
    return sign->bytes.size();
  }
  const Sign* power = is_letter(last) ? sign_at(behind_letter, text) : nullptr;
  if (power != nullptr) {
    out += power->plain;
    return power->bytes.size();
  }
  const Sign* fraction = is_letter(last) ? nullptr : sign_at(vulgar_fractions, text);
  if (fraction != nullptr) {
    if (is_digit(last)) out += ' ';
    out += fraction->plain;
    return fraction->bytes.size();
  }
  out += text.front();
  return 1;
}

std::string to_ascii(std::string_view text) {
  std::string out;
  out.reserve(text.size() + 8);
  for (std::size_t i = 0; i < text.size();) {
    const char c = text[i];
    if (static_cast<unsigned char>(c) >= 0x80) {
      i += append_sign(out, text.substr(i));
      continue;
    }
    append_plain(out, is_blank(c) ? std::string_view(" ") : text.substr(i, 1));
    ++i;
  }
  while (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

/// A unit in the table's way of writing: "N*m", "N-m", "N.m" as "N m", "km / h" as "km/h", "m^2" as
/// "m2", "in." as "in".
std::string tidy_unit(std::string_view raw) {
  const std::string_view text = trim(raw);
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    const char next = i + 1 < text.size() ? text[i + 1] : '\0';
    const bool behind_a_letter = !out.empty() && is_letter(out.back());
    const bool joins = behind_a_letter && (is_letter(next) || (c != '-' && next == ' '));
    if ((c == '*' || c == '-' || c == '.') && joins) {
      out += ' ';
    } else if (c == '.' && next == '\0' && behind_a_letter) {
      continue;
    } else if (c == '^' && behind_a_letter && is_digit(next)) {
      continue;
    } else if (c == ' ' && (next == '/' || next == '*' ||
                            (!out.empty() && (out.back() == '/' || out.back() == ' ')))) {
      continue;
    } else {
      out += c;
    }
  }
  return out;
}

// --- Errors ---

/// What the builder typed, short and harmless enough for a message.
std::string shown(std::string_view text) {
  const bool cut = text.size() > longest_shown;
  std::string out(text.substr(0, longest_shown));
  while (cut && !out.empty() && (static_cast<unsigned char>(out.back()) & 0xC0U) == 0x80U)
    out.pop_back();
  if (cut && !out.empty() && static_cast<unsigned char>(out.back()) >= 0xC0) out.pop_back();
  const bool clean = valid_utf8(out);
  for (char& c : out) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x20 || byte == 0x7F || (byte >= 0x80 && !clean)) c = '?';
  }
  return cut ? out + "..." : out;
}

std::string quoted(std::string_view text) {
  return "'" + shown(text) + "'";
}

std::string such_as(Kind kind) {
  return with_article(kind) + " such as " + quoted(example_of(kind));
}

std::string is_needed(Kind kind) {
  return with_article(kind) + " is needed, e.g. " + quoted(example_of(kind));
}

/// Spellings that are refused with a reason of their own.
struct Refused {
  std::string_view spelling;  // in lower case
  std::string_view reason;
};
constexpr Refused refused_units[] = {
    {"mw", "could be milliwatt or megawatt; write W or kW"},
    {"gal", "could be a US or an imperial gallon; write l"},
    {"gallon", "could be a US or an imperial gallon; write l"},
    {"gallons", "could be a US or an imperial gallon; write l"},
    {"gpm", "could be US or imperial gallons a minute; write l/min"},
    {"ton", "could be a metric, a long or a short ton; write t or lb"},
    {"tons", "could be a metric, a long or a short ton; write t or lb"},
    {"erpm", "is an electrical speed; divide it by the pole pairs and write rpm"},
    {"v/krpm", "is a voltage over a speed; a motor constant is the other way up, e.g. '70 rpm/V'"},
};

std::string_view refusal(std::string_view unit) {
  const std::string plain = lower(unit);
  for (const Refused& refused : refused_units) {
    if (plain == refused.spelling) return refused.reason;
  }
  return {};
}

/// The first kind other than `asked` that has the spelling; exact spellings first.
const Row* row_of_another_kind(std::string_view unit, Kind asked) {
  const Row* sloppy = nullptr;
  for (int i = 0; i < kind_count; ++i) {
    const Kind kind = static_cast<Kind>(i);
    if (kind == asked || unit.empty()) continue;
    const Match match = find_unit(kind, unit);
    if (match.row == nullptr) continue;
    if (match.row->spelling == unit) return match.row;
    if (sloppy == nullptr) sloppy = match.row;
  }
  return sloppy;
}

std::string nearest_unit(std::string_view unit, Kind kind) {
  std::vector<std::string_view> spellings;
  for (const Row& row : rows_of(kind)) {
    if (!row.spelling.empty()) spellings.push_back(row.spelling);
  }
  const std::string_view near = nearest(unit.substr(0, 20), spellings);
  const bool alike = edit_distance(near, unit.substr(0, 20)) <
                     static_cast<int>(std::max(near.size(), unit.size()));
  return alike ? std::string(near) : std::string();
}

Error wrong_kind(std::string_view text, std::string_view what_it_is, Kind kind) {
  return {.code = "wrong-kind",
          .what = shown(text) + " is " + std::string(what_it_is) + "; " + is_needed(kind),
          .found = shown(text)};
}

Error unknown_unit(std::string_view text, std::string_view unit, Kind kind) {
  Error error{.code = "unknown-unit",
              .what = quoted(unit) + " is no unit of " + with_article(kind),
              .found = shown(text),
              .expected = such_as(kind)};
  const std::string near = nearest_unit(unit, kind);
  if (!near.empty()) error.way_out = "Did you mean " + quoted(near) + "?";
  return error;
}

Error not_a_unit(std::string_view text, std::string_view unit, Kind kind) {
  if (kind == Kind::motor_constant && lower(unit) == "kv") {
    return wrong_kind(text, "in kilovolt", kind);
  }
  const std::string_view reason = refusal(unit);
  if (!reason.empty()) {
    return {.code = "unknown-unit",
            .what = quoted(unit) + " " + std::string(reason),
            .found = shown(text),
            .expected = such_as(kind)};
  }
  if (const Row* row = row_of_another_kind(unit, kind)) {
    return wrong_kind(text, with_article(row->kind), kind);
  }
  if (kind != Kind::money && !currency(unit).empty())
    return wrong_kind(text, with_article(Kind::money), kind);
  return unknown_unit(text, unit, kind);
}

/// "1.400" as a text that can only be read as 1.4.
std::string as_decimal(std::string text, Kind kind) {
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  const auto mark = text.find('.');
  const bool three = mark != std::string::npos && text.size() - mark == 4;
  return three && kind == Kind::money ? text + "0" : text;
}

Error number_error(std::string_view text, const Scanned& scanned, Kind kind) {
  if (scanned.fault == NumberFault::ambiguous) {
    return {.code = "ambiguous-number",
            .what = "the mark may be a decimal one or part thousands",
            .found = shown(text),
            .expected =
                quoted(as_decimal(scanned.as_point, kind)) + " or " + quoted(scanned.as_thousands)};
  }
  if (scanned.fault == NumberFault::out_of_range) {
    return {.code = "not-finite",
            .what = "this number is too large or too small to be a figure",
            .found = shown(text),
            .expected = such_as(kind)};
  }
  return {.code = "bad-number",
          .what = "this is not a number",
          .found = shown(text),
          .expected = such_as(kind)};
}

// --- Reading ---

/// The convention word at the end of a unit is taken off it: "A peak", "Arms".
Convention take_convention(std::string& unit) {
  constexpr std::array conventions{Convention::dc, Convention::peak, Convention::rms};
  const std::string plain = lower(unit);
  for (const Convention convention : conventions) {
    const std::string_view ending = word(convention);
    const bool ends =
        plain.size() >= ending.size() && plain.substr(plain.size() - ending.size()) == ending;
    if (!ends) continue;
    unit.resize(unit.size() - ending.size());
    if (!unit.empty() && unit.back() == ' ') unit.pop_back();
    return convention;
  }
  return Convention::unsaid;
}

/// One side of the "+-": a number and what follows it.
struct Side {
  Decimal number;
  std::string unit;  // tidied, without convention and currency
  Convention convention;
  std::string currency;  // of prices
};

/// "EUR 350", "$350": the currency before the number.
std::string take_leading_currency(std::string_view& text) {
  const std::size_t length = text.substr(0, 1) == "$" ? 1 : 3;
  std::string code = currency(text.substr(0, length));
  if (code.empty()) return code;
  text.remove_prefix(length);
  if (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  return code;
}

/// Whether the rest of a text is the remainder of a malformed number: "1.2.3", "1 2", "1/0".
bool goes_on_as_number(std::string_view rest) {
  return !rest.empty() && (is_digit(rest.front()) || rest.front() == '.' || rest.front() == ',' ||
                           rest.front() == '-' || rest.front() == '+');
}

Result<Side> read_side(std::string_view text, Kind kind, std::string_view whole_text) {
  std::string code = kind == Kind::money ? take_leading_currency(text) : std::string();
  const auto grouping = kind == Kind::money ? Grouping::price : Grouping::plain;
  const Scanned scanned = scan_number(text, grouping);
  if (scanned.fault != NumberFault::none) return fail(number_error(whole_text, scanned, kind));
  std::string unit = tidy_unit(text.substr(scanned.used));
  const Convention convention = takes_convention(kind) ? take_convention(unit) : Convention::unsaid;
  if (goes_on_as_number(unit) && find_unit(kind, unit).row == nullptr &&
      row_of_another_kind(unit, kind) == nullptr) {
    return fail(number_error(whole_text, {{}, 0, NumberFault::bad}, kind));
  }
  if (kind == Kind::money && code.empty()) {
    code = currency(unit);
    if (!code.empty()) unit.clear();
  }
  return Side{scanned.number, std::move(unit), convention, std::move(code)};
}

struct Halves {
  std::string_view value;
  std::string_view spread;
  bool has_spread;
};

Halves cut_at_spread(std::string_view text) {
  for (std::size_t i = 1; i + 1 < text.size(); ++i) {
    if (text[i] != '+') continue;
    const std::size_t length = text.substr(i, 2) == "+-" ? 2 : (text.substr(i, 3) == "+/-" ? 3 : 0);
    if (length > 0) return {trim(text.substr(0, i)), trim(text.substr(i + length)), true};
  }
  return {text, {}, false};
}

Error bad_spread(std::string_view text, std::string_view what) {
  return {.code = "bad-spread",
          .what = std::string(what),
          .found = shown(text),
          .expected = "a half-width such as '+- 3 mm' or '+- 5 %'"};
}

/// What a unit must be to stand in a figure of the kind.
Result<const Row*> resolve(const std::string& unit, Kind kind, std::string_view text) {
  const Match match = find_unit(kind, unit);
  if (match.row == nullptr) return fail(not_a_unit(text, unit, kind));
  if (match.other == nullptr) return match.row;
  return fail({.code = "unknown-unit",
               .what = "case matters here: " + quoted(unit) + " could be " +
                       quoted(match.row->spelling) + " or " + quoted(match.other->spelling),
               .found = shown(text),
               .expected = such_as(kind)});
}

/// `text` is what the builder typed, `ascii` the same with plain signs.
struct Input {
  std::string_view text;
  std::string_view ascii;
  Kind kind;
};

Result<double> read_spread(const Input& input, const Side& spread, const Row& unit, double value) {
  if (spread.number.negative) return fail(bad_spread(input.text, "a spread is never negative"));
  const bool percent = spread.unit == "%" && unit.spelling != "%";
  if (percent && input.kind == Kind::temperature) {
    return fail(
        bad_spread(input.text, "a percentage of a temperature means nothing; write degrees"));
  }
  Scale scale = unit.scale;
  if (percent) {
    scale = {1, 100, 0};
  } else if (!spread.unit.empty()) {
    const auto row = resolve(spread.unit, input.kind, input.text);
    if (!row) return fail(row.error());
    scale = (*row)->scale;
  }
  scale.offset = 0;
  const double half_width = to_si(spread.number, scale) * (percent ? std::fabs(value) : 1.0);
  if (!can_be_figure(half_width))
    return fail(number_error(input.text, {{}, 0, NumberFault::out_of_range}, input.kind));
  return half_width;
}

/// Kinds whose plain number needs no unit.
bool may_be_bare(Kind kind) {
  return kind == Kind::ratio || kind == Kind::share || kind == Kind::money;
}

/// Puts what was said on one side only where it belongs: "1400 +- 3 mm", "464 A +- 5 % peak", "350
/// +- 20 EUR". Gives what contradicts, or nothing.
std::string_view settle(const Input& input, Side& value, Side& spread) {
  const bool both_say =
      value.convention != Convention::unsaid && spread.convention != Convention::unsaid;
  if (both_say && value.convention != spread.convention)
    return "value and spread name two conventions";
  if (value.convention == Convention::unsaid) value.convention = spread.convention;
  if (!value.currency.empty() && !spread.currency.empty() && value.currency != spread.currency) {
    return "value and spread are in two currencies";
  }
  if (value.currency.empty()) value.currency = spread.currency;
  const bool bare_means_itself = may_be_bare(input.kind);
  // "20 +- 2 K" would be a temperature near absolute zero, which nobody means.
  const bool kelvin = input.kind == Kind::temperature && lower(spread.unit) == "k";
  if (value.unit.empty() && !bare_means_itself && spread.unit != "%" && !kelvin)
    value.unit = spread.unit;
  return {};
}

Error missing_unit(std::string_view text, Kind kind) {
  return {.code = "missing-unit",
          .what = quoted(text) + " has no unit; " + is_needed(kind),
          .found = shown(text)};
}

/// An alternating current where a direct one is asked for.
bool speaks_of_phase_current(const std::string& unit, Kind kind) {
  std::string stripped = unit;
  const Convention convention = take_convention(stripped);
  const bool alternating = convention == Convention::peak || convention == Convention::rms;
  return kind == Kind::current && alternating && find_unit(kind, stripped).row != nullptr;
}

Result<Reading> read_ascii(const Input& input) {
  const Halves halves = cut_at_spread(input.ascii);
  auto value = read_side(halves.value, input.kind, input.text);
  if (!value) return fail(value.error());
  auto spread = Result<Side>(Side{});
  if (halves.has_spread) {
    spread = read_side(halves.spread, input.kind, input.text);
    if (!spread && spread.error().code == "bad-number") {
      return fail(bad_spread(input.text, "behind '+-' there is no number"));
    }
    if (!spread) return fail(spread.error());
    const std::string_view contradiction = settle(input, *value, *spread);
    if (!contradiction.empty()) return fail(bad_spread(input.text, contradiction));
  }
  if (value->unit.empty() && !may_be_bare(input.kind))
    return fail(missing_unit(input.text, input.kind));
  if (speaks_of_phase_current(value->unit, input.kind)) {
    return fail(wrong_kind(input.text, "a phase current", input.kind));
  }
  const auto row = resolve(value->unit, input.kind, input.text);
  if (!row) return fail(row.error());
  const double si = to_si(value->number, (*row)->scale);
  if (std::isnan(si))
    return fail(number_error(input.text, {{}, 0, NumberFault::out_of_range}, input.kind));
  Reading reading{si, unknown, std::string((*row)->spelling), value->convention};
  if (input.kind == Kind::money) reading.unit = value->currency;
  if (halves.has_spread) {
    const auto half_width = read_spread(input, *spread, **row, si);
    if (!half_width) return fail(half_width.error());
    reading.half_width = *half_width;
  }
  return reading;
}

/// "2/0 AWG" and "120/80-18" look like figures and are names.
bool is_designation(std::string_view ascii) {
  const std::string plain = lower(ascii);
  const auto gauge = plain.find("awg");
  if (gauge != std::string::npos && plain.find_first_of("0123456789") != std::string::npos)
    return true;
  std::size_t place = 0;
  for (const std::string_view join : {std::string_view("/"), std::string_view("-rz")}) {
    const std::size_t from = place;
    while (place < plain.size() && is_digit(plain[place])) ++place;
    const bool joined = place < plain.size() && join.find(plain[place]) != std::string_view::npos;
    if (place < from + 2 || !joined) return false;
    ++place;
    while (place < plain.size() && is_letter(plain[place])) ++place;
  }
  return place < plain.size() && is_digit(plain[place]);
}

}  // namespace

Result<Reading> read(std::string_view text, Kind kind) {
  const std::string_view typed = trim(text);
  if (typed.size() > longest_text) {
    return fail({.code = "bad-number",
                 .what = "this is too long for a figure",
                 .found = shown(typed),
                 .expected = such_as(kind)});
  }
  const std::string ascii = to_ascii(typed);
  if (ascii.empty()) {
    return fail({.code = "empty", .what = "there is nothing here; " + is_needed(kind)});
  }
  auto reading = read_ascii({typed, ascii, kind});
  if (!reading && is_designation(ascii)) {
    return fail(
        {.code = "designation",
         .what = quoted(typed) + " is a designation (a wire gauge, a tyre size), not a figure",
         .found = shown(typed),
         .expected = such_as(kind),
         .way_out = "Write the size itself, e.g. the copper's area in mm2"});
  }
  return reading;
}

}  // namespace ww::figure
