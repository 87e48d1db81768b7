// SPDX-License-Identifier: MIT
#include "build/designation.h"

#include <array>
#include <charconv>

#include "base/text.h"

namespace ww::build {

namespace {

/// The numbers in the text, in order, up to four.
int numbers_in(std::string_view text, std::array<double, 4>& out) {
  int found = 0;
  std::size_t i = 0;
  while (i < text.size() && found < 4) {
    double value = 0;
    const char* begin = text.data() + i;
    const bool digit = text[i] >= '0' && text[i] <= '9';
    if (!digit) {
      ++i;
      continue;
    }
    const auto parsed =
        std::from_chars(begin, text.data() + text.size(), value, std::chars_format::fixed);
    if (parsed.ec != std::errc()) return found;
    out[static_cast<std::size_t>(found++)] = value;
    i += static_cast<std::size_t>(parsed.ptr - begin);
  }
  return found;
}

constexpr double inch_m = 0.0254;

/// Inch sizes of the low section: the width is 90 % of what the plain rule takes for the height (a
/// tyre maker's guide).
bool low_inch_section(double width) {
  constexpr std::array<double, 4> low{3.60, 4.10, 4.60, 5.10};
  for (const double w : low) {
    if (width > w - 0.005 && width < w + 0.005) return true;
  }
  return false;
}

}  // namespace

TyreMarking read_tyre_marking(std::string_view text) {
  std::array<double, 4> n{};
  const int count = numbers_in(trim(text), n);
  const bool metric = text.find('/') != std::string_view::npos;
  TyreMarking tyre;
  if (metric && count >= 3) {
    tyre = {n[0] * 1e-3, n[1] / 100, n[2] * inch_m};
    if (n[0] < 20) tyre.width_m = n[0] * inch_m;  // 4.25/85-18
  } else if (!metric && count >= 2) {
    tyre = {n[0] * inch_m, low_inch_section(n[0]) ? 0.9 : 1.0, n[1] * inch_m};
  }
  const bool plausible = tyre.width_m > 0.04 && tyre.width_m < 0.35 && tyre.aspect > 0.25 &&
                         tyre.aspect < 1.3 && tyre.rim_m > 0.2 && tyre.rim_m < 0.65;
  return plausible ? tyre : TyreMarking{};
}

}  // namespace ww::build
