// SPDX-License-Identifier: MIT
// A figure: one number the builder knows, with what he knows about how well he knows it.
// Invariants:
// 1. `+- x` is the half-width from p10 to p90. Where none is stated the default table gives one
// (kind x evidence).
// 2. Sellers' peak power and capacity run high: the default table carries a bias as well as a
// width.
// 3. A spread below 15 % of the value is normal, else lognormal (for a value above zero); both cut
// off at the limits.
// 4. A choice (teeth, series count) is not a figure and has no spread.
#pragma once

#include <cmath>
#include <limits>
#include <string>
#include <string_view>
#include <vector>

#include "figure/units.h"

namespace ww::figure {

struct Figure {
  double value = std::numeric_limits<double>::quiet_NaN();  ///< SI; NaN is "not known"
  double half_width =
      std::numeric_limits<double>::quiet_NaN();  ///< SI, p10-p90; NaN: from the default table
  Evidence evidence = Evidence::guess;
  Convention convention = Convention::unsaid;
  std::string typed = {};  ///< as the builder wrote it, so that "5/8 in" comes back as typed
  std::string note = {};
  std::string date = {};  ///< ISO 8601 day, may be empty

  bool known() const { return !std::isnan(value); }
  double or_else(double otherwise) const { return known() ? value : otherwise; }
};

/// A figure from text; evidence and notes are set by the caller. Errors as read().
Result<Figure> parse(std::string_view text, Kind kind);

/// What a figure is prone to, beyond its kind.
enum class Trait : std::uint8_t { plain, peak_power, capacity, internal_resistance, mass_listed };

/// The default spread of a kind at a grade of evidence: share of the value or absolute (SI), and
/// the factor by which such figures are usually too high. Source of the table: common practice, no
/// source (figure.cpp says so per row).
struct DefaultSpread {
  double relative;  ///< half-width p10-p90 as a share of the value
  double
      absolute;  ///< SI, added in quadrature; for kinds where a share makes no sense (temperature)
  double bias;   ///< likely true value = figure * bias; 1 where figures are fair
};
DefaultSpread default_spread(Kind kind, Evidence evidence, Trait trait = Trait::plain);

/// The distribution that a figure stands for.
struct Spread {
  double median;      ///< SI, the bias applied
  double half_width;  ///< SI, (p90 - p10) / 2
  double low, high;   ///< SI, cut-off
  bool lognormal;
};
/// Valid: figure.known(), low < high (either may be infinite). A half-width of zero is exact. A
/// stated half-width stands for itself: the default's bias applies only together with the default's
/// width.
Spread spread_of(const Figure& figure, Kind kind, Trait trait, double low, double high);
/// The same of a figure's numbers alone.
struct Stated {
  double value;
  double half_width;  ///< NaN: from the default table
  Evidence evidence;
};
Spread spread_of(const Stated& stated, Kind kind, Trait trait, double low, double high);

/// The value at probability u (0 < u < 1). Monotone in u; inside [low, high]; exact for half_width
/// 0. Half-width 0, or limits that leave out all of the distribution: the median, brought to the
/// nearer limit where it lies outside. Checked by: tests/figure (quantiles of the stated p10/p90
/// come back within 1e-6).
double quantile(const Spread& spread, double u);

/// The same of one spread at many probabilities: what they share is worked out once.
class Quantiles {
 public:
  explicit Quantiles(const Spread& spread);
  double at(double u) const;

 private:
  Spread spread_;
  bool fixed_;  ///< one value, whatever the probability
  double sigma_ = 0, below_low_ = 0, inside_ = 0;
};

/// Inverse of the standard normal distribution. Valid: 0 < p < 1; outside: NaN. Absolute error <
/// 1e-9.
double normal_quantile(double p);

}  // namespace ww::figure
