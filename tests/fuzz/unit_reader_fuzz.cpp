// SPDX-License-Identifier: MIT
// Any bytes as a figure's text: the reader must refuse or give a finite number that its own text
// gives back.
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <cstring>
#include <string_view>

#include "base/text.h"
#include "figure/figure.h"

namespace {

using namespace ww::figure;

void require(bool holds) {
  if (!holds) std::abort();
}

bool same_bits(double a, double b) {
  return std::memcmp(&a, &b, sizeof a) == 0;
}

/// At the very ends of the range the rounding of print() may carry a figure out of it.
bool printable(double value) {
  const double size = std::fabs(value);
  return size == 0 || std::isnan(size) || (size > 1e-59 && size < 1e59);
}

void check_refusal(const ww::Error& error) {
  require(!error.code.empty() && !error.what.empty());
  require(error.what.size() < 500 && ww::valid_utf8(ww::describe(error)));
}

void check_reading(const Reading& reading, Kind kind) {
  require(std::isfinite(reading.value));
  require(std::isnan(reading.half_width) ||
          (std::isfinite(reading.half_width) && reading.half_width >= 0));
  const auto again = read(print_exact(reading.value, kind, reading.unit, reading.convention), kind);
  require(again.has_value() && same_bits(again->value, reading.value));
  require(again->unit == reading.unit && again->convention == reading.convention);
  if (!printable(reading.value) || !printable(reading.half_width)) return;
  for (const System system : {System::metric, System::imperial}) {
    require(read(print(reading.value, kind, system), kind).has_value());
    require(read(print(reading.value, reading.half_width, kind, system), kind).has_value());
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  const Kind kind = static_cast<Kind>(data[0] % (static_cast<int>(Kind::volume_flow) + 1));
  const std::string_view text(reinterpret_cast<const char*>(data + 1), size - 1);
  const auto reading = read(text, kind);
  if (reading) {
    check_reading(*reading, kind);
  } else {
    check_refusal(reading.error());
  }
  const auto figure = parse(text, kind);
  require(figure.has_value() == reading.has_value());
  require(!figure || figure->typed == ww::trim(text));
  (void)read_evidence(text).has_value();
  return 0;
}
