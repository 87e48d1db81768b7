// SPDX-License-Identifier: MIT
// What the builder wants of a bike as numbers: what it must do, and what he would rather have more
// of.
#pragma once

#include <array>
#include <cstdint>
#include <string_view>
#include <vector>

#include "figure/units.h"
#include "ride/answers.h"
#include "search/space.h"

namespace ww::search {

/// What a combination is judged by. The first six are the trade-offs.
enum class Quantity : std::uint8_t {
  money,
  distance,
  punch,
  top_speed,
  mass,
  weeks,
  hold_speed,
  hill_grade,
  time_0_100,
  count
};
inline constexpr std::size_t quantity_count = static_cast<std::size_t>(Quantity::count);
inline constexpr std::size_t traded_count = 6;
constexpr std::size_t index_of(Quantity quantity) {
  return static_cast<std::size_t>(quantity);
}

struct QuantityInfo {
  Quantity quantity;
  std::string_view word, label;
  figure::Kind kind;
  bool more_is_better;
  double step;            ///< SI, but weeks as weeks: the difference a rider notices; two within
                          ///< one step are alike
  std::string_view wish;  ///< field path, empty where no wish says it
};
const std::array<QuantityInfo, quantity_count>& quantities();
const QuantityInfo& info_of(Quantity quantity);
/// -1 where there is none of this name.
int quantity_of(std::string_view word);

/// SI; the weeks in weeks.
using Numbers = std::array<float, quantity_count>;

/// The whole number of steps, larger where it is better; two with the same are alike. What is not
/// known or never reached is the worst.
int steps_of(const QuantityInfo& info, float value);

struct Must {
  Quantity quantity;
  double bound;  ///< at least, or at most where less is better
};
struct Want {
  Quantity quantity;
  double weight;  ///< against the others; 0: does not count
};
struct Wishes {
  std::vector<Must> musts;
  /// Money, distance, punch, top speed, mass, weeks: what the builder does not weigh himself, by
  /// common practice, no source.
  std::array<double, traded_count> weights{3, 2, 1, 0.5, 1, 0.5};
};

bool met(const Must& must, float value);
/// By how much a must is missed, as a share of its bound; 0 where it is met.
double missed_share(const Must& must, float value);

/// Every wish on the sheet that a search can hold a bike to, as a must.
Wishes wishes_of(const Build& build);

}  // namespace ww::search
