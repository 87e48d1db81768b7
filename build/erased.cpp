// SPDX-License-Identifier: MIT
#include "build/erased.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"

namespace ww::build {

namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

Error field_error(std::string_view code, std::string_view path, std::string what,
                  std::string_view found, std::string expected) {
  return {.code = std::string(code),
          .what = std::move(what),
          .field = std::string(path),
          .found = std::string(found),
          .expected = std::move(expected)};
}

std::string limits_text(const FieldInfo& info) {
  if (info.type == FieldType::count)
    return std::to_string(int(info.low)) + " to " + std::to_string(int(info.high));
  return figure::print(info.low, info.kind) + " to " + figure::print(info.high, info.kind);
}

Result<int> set_figure(Figure& target, const FieldInfo& info, std::string_view path,
                       std::string_view text) {
  auto parsed = figure::parse(text, info.kind);
  if (!parsed) {
    Error error = parsed.error();
    error.field = std::string(path);
    return fail(std::move(error));
  }
  if (parsed->value < info.low || parsed->value > info.high) {
    return fail(
        field_error("out-of-range", path, "outside what this can be", text, limits_text(info)));
  }
  parsed->evidence = target.evidence;
  parsed->note = target.note;
  parsed->date = target.date;
  target = *parsed;
  return 0;
}

Result<int> set_count(Count& target, const FieldInfo& info, std::string_view path,
                      std::string_view text) {
  int value = 0;
  bool good = !text.empty() && text.size() < 8;
  for (const char c : text) {
    good = good && c >= '0' && c <= '9';
    value = good ? value * 10 + (c - '0') : 0;
  }
  if (!good)
    return fail(field_error("bad-count", path, "not a whole number", text, limits_text(info)));
  if (value < info.low || value > info.high) {
    return fail(
        field_error("out-of-range", path, "outside what this can be", text, limits_text(info)));
  }
  target = value;
  return 0;
}

Result<int> option_index(const FieldInfo& info, std::string_view path, std::string_view word) {
  std::string wanted = lower(trim(word));
  std::replace(wanted.begin(), wanted.end(), ' ', '_');
  std::replace(wanted.begin(), wanted.end(), '-', '_');
  const auto& options = info.options;
  for (std::size_t i = 0; i < options.size(); ++i) {
    if (lower(options[i]) == wanted) return static_cast<int>(i);
  }
  Error error = field_error("unknown-option", path, "not one of the words for this", word,
                            "one of: " + options_text(info));
  error.way_out = did_you_mean(wanted, options);
  return fail(std::move(error));
}

Result<int> set_options(OptionSet& target, const FieldInfo& info, std::string_view path,
                        std::string_view text) {
  OptionSet mask = 0;
  for (const auto word : split(text, ',')) {
    if (trim(word).empty()) continue;
    const auto index = option_index(info, path, word);
    if (!index) return fail(index.error());
    if (*index > 0) mask |= 1U << static_cast<unsigned>(*index);
  }
  target = mask;
  return 0;
}

bool same(double a, double b) {
  return a == b || (std::isnan(a) && std::isnan(b));
}

}  // namespace

Result<int> set_member(const FieldInfo& info, void* member, std::string_view path,
                       std::string_view text) {
  switch (info.type) {
    case FieldType::figure:
      return set_figure(*static_cast<Figure*>(member), info, path, text);
    case FieldType::count:
      return set_count(*static_cast<Count*>(member), info, path, text);
    case FieldType::set:
      return set_options(*static_cast<OptionSet*>(member), info, path, text);
    case FieldType::text:
      *static_cast<std::string*>(member) = std::string(text);
      return 0;
    case FieldType::choice:
      break;
  }
  const auto index = option_index(info, path, text);
  if (!index) return fail(index.error());
  *static_cast<std::uint8_t*>(member) = static_cast<std::uint8_t>(*index);
  return 0;
}

double member_number(const FieldInfo& info, const void* member) {
  switch (info.type) {
    case FieldType::figure:
      return static_cast<const Figure*>(member)->value;
    case FieldType::count: {
      const Count count = *static_cast<const Count*>(member);
      return count == unknown_count ? nan : count;
    }
    case FieldType::choice: {
      const auto index = *static_cast<const std::uint8_t*>(member);
      return index == 0 ? nan : index;
    }
    case FieldType::set: {
      const auto mask = *static_cast<const OptionSet*>(member);
      return mask == 0 ? nan : mask;
    }
    case FieldType::text:
      break;
  }
  return nan;
}

bool member_known(const FieldInfo& info, const void* member) {
  if (info.type == FieldType::text) return !static_cast<const std::string*>(member)->empty();
  return !std::isnan(member_number(info, member));
}

bool member_equal(const FieldInfo& info, const void* a, const void* b) {
  if (info.type == FieldType::text)
    return *static_cast<const std::string*>(a) == *static_cast<const std::string*>(b);
  if (info.type != FieldType::figure) return same(member_number(info, a), member_number(info, b));
  const auto& x = *static_cast<const Figure*>(a);
  const auto& y = *static_cast<const Figure*>(b);
  return same(x.value, y.value) && same(x.half_width, y.half_width) && x.evidence == y.evidence &&
         x.convention == y.convention && x.typed == y.typed && x.note == y.note && x.date == y.date;
}

}  // namespace ww::build
