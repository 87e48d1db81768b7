// SPDX-License-Identifier: MIT
#include "search/wishes.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "build/fields.h"

namespace ww::search {

namespace {

using figure::Kind;
constexpr double km = 1000, kmh = 1 / 3.6;

}  // namespace

const std::array<QuantityInfo, quantity_count>& quantities() {
  // The steps are ours: common practice, no source.
  static const std::array<QuantityInfo, quantity_count> table{{
      {Quantity::money, "money", "money", Kind::money, false, 20, "wishes.budget"},
      {Quantity::distance, "distance", "distance in mixed riding, reserve kept", Kind::length, true,
       km, "wishes.ride_distance"},
      {Quantity::punch, "punch", "0 to 50 km/h", Kind::time, false, 0.1, ""},
      {Quantity::top_speed, "top_speed", "top speed", Kind::speed, true, kmh, "wishes.top_speed"},
      {Quantity::mass, "mass", "bike without rider", Kind::mass, false, 1, "wishes.mass_max"},
      {Quantity::weeks, "weeks", "longest wait for a part", Kind::time, false, 1, ""},
      {Quantity::hold_speed, "hold_speed", "speed held for an hour", Kind::speed, true, kmh,
       "wishes.hold_speed"},
      {Quantity::hill_grade, "hill_grade", "grade at the hill's speed", Kind::share, true, 0.01,
       "wishes.hill_grade"},
      {Quantity::time_0_100, "time_0_100", "0 to 100 km/h", Kind::time, false, 0.1,
       "wishes.time_0_100"},
  }};
  return table;
}

const QuantityInfo& info_of(Quantity quantity) {
  return quantities()[index_of(quantity)];
}

int quantity_of(std::string_view word) {
  for (const auto& info : quantities()) {
    if (info.word == word) return static_cast<int>(info.quantity);
  }
  return -1;
}

int steps_of(const QuantityInfo& info, float value) {
  constexpr int worst = std::numeric_limits<int>::min() / 4;
  if (!std::isfinite(value)) return worst;
  const auto steps = static_cast<int>(std::floor(double(value) / info.step + 1e-6));
  return info.more_is_better ? steps : -steps;
}

bool met(const Must& must, float value) {
  // A float keeps seven digits: a bound met to the last of them is met.
  const double slack = 1e-6 * std::fabs(must.bound);
  return info_of(must.quantity).more_is_better ? double(value) >= must.bound - slack
                                               : double(value) <= must.bound + slack;
}

double missed_share(const Must& must, float value) {
  if (met(must, value)) return 0;
  if (!std::isfinite(value)) return std::numeric_limits<double>::infinity();
  return std::fabs(double(value) - must.bound) / must.bound;
}

Wishes wishes_of(const Build& build) {
  Wishes wishes;
  for (const auto& info : quantities()) {
    if (info.wish.empty()) continue;
    const auto* figure = build::figure_at(build, build::id_of(info.wish));
    if (figure != nullptr && figure->known() && figure->value > 0)
      wishes.musts.push_back({info.quantity, figure->value});
  }
  return wishes;
}

}  // namespace ww::search
