// SPDX-License-Identifier: MIT
#include "figure/figure.h"

#include <algorithm>
#include <array>
#include <numbers>

#include "base/check.h"
#include "base/text.h"

namespace ww::figure {
namespace {

constexpr double z90 = 1.2815515655446004;  // the standard normal's p90
constexpr double normal_below = 0.15;       // of the median; wider spreads are lognormal
constexpr double degree = std::numbers::pi / 180;

/// In the order of Evidence: guess, hearsay, seller, data sheet, measured.
using ByEvidence = std::array<double, 5>;
constexpr ByEvidence none{0, 0, 0, 0, 0};

struct Widths {
  Kind kind;
  ByEvidence relative;
  ByEvidence absolute;  // SI
};

// Every row: common practice, no source. They are our own judgement of how far such figures are off
// in this trade: what is geometric is known well, what is thermal badly, and what a label promises
// only as far as the label's test is known. Stated spreads always come before these.
constexpr Widths default_widths[] = {
    {Kind::ratio, {0.20, 0.15, 0.10, 0.04, 0.01}, none},
    {Kind::share, {0.20, 0.15, 0.10, 0.04, 0.01}, none},
    {Kind::money, {0.35, 0.25, 0.05, 0.05, 0}, none},  // measured: paid
    {Kind::voltage, {0.10, 0.05, 0.02, 0.01, 0.003}, none},
    {Kind::current, {0.30, 0.20, 0.10, 0.05, 0.02}, none},
    {Kind::phase_current, {0.30, 0.20, 0.15, 0.05, 0.03}, none},
    {Kind::resistance, {0.50, 0.30, 0.20, 0.10, 0.03}, none},
    {Kind::capacitance, {0.30, 0.20, 0.20, 0.20, 0.05}, none},  // electrolytic tolerance is wide
    {Kind::inductance, {0.40, 0.30, 0.20, 0.10, 0.05}, none},
    {Kind::power, {0.30, 0.20, 0.15, 0.05, 0.03}, none},
    {Kind::energy, {0.25, 0.20, 0.10, 0.04, 0.02}, none},
    {Kind::charge, {0.25, 0.20, 0.10, 0.04, 0.02}, none},
    {Kind::frequency, {0.20, 0.10, 0.05, 0.02, 0.005}, none},
    {Kind::angle, none, {3 * degree, 2 * degree, 1 * degree, 0.5 * degree, 0.3 * degree}},
    {Kind::length, {0.10, 0.05, 0.02, 0.003, 0.003}, {10e-3, 5e-3, 2e-3, 0.5e-3, 0.5e-3}},
    {Kind::area, {0.30, 0.20, 0.10, 0.04, 0.02}, none},
    {Kind::volume, {0.20, 0.15, 0.10, 0.03, 0.02}, none},
    {Kind::mass, {0.20, 0.10, 0.05, 0.03, 0.01}, none},
    {Kind::force, {0.30, 0.20, 0.10, 0.05, 0.02}, none},
    {Kind::stiffness, {0.25, 0.20, 0.15, 0.08, 0.03}, none},
    {Kind::speed, {0.15, 0.10, 0.08, 0.04, 0.02}, none},  // speedometers read high
    {Kind::rotation, {0.15, 0.10, 0.08, 0.03, 0.01}, none},
    {Kind::torque, {0.30, 0.20, 0.15, 0.05, 0.03}, none},
    {Kind::acceleration, {0.30, 0.20, 0.15, 0.05, 0.04}, none},
    {Kind::inertia, {0.40, 0.30, 0.20, 0.10, 0.05}, none},
    {Kind::temperature, none, {8, 5, 3, 2, 1}},
    {Kind::temperature_rise, {0.30, 0.20, 0.15, 0.10, 0.03}, {3, 2, 1, 1, 1}},
    {Kind::time, {0.30, 0.25, 0.20, 0.10, 0.01}, none},  // delivery times slip
    {Kind::pressure, {0.20, 0.15, 0.10, 0.05, 0.03}, none},
    {Kind::motor_constant, {0.20, 0.15, 0.10, 0.05, 0.01}, none},
    {Kind::torque_constant, {0.25, 0.20, 0.15, 0.05, 0.03}, none},
    {Kind::thermal_resistance, {0.50, 0.40, 0.30, 0.20, 0.10}, none},
    {Kind::heat_capacity, {0.30, 0.25, 0.20, 0.10, 0.05}, none},
    {Kind::current_squared_time, {0.50, 0.40, 0.30, 0.20, 0.10}, none},
    {Kind::consumption, {0.30, 0.20, 0.20, 0.10, 0.03}, none},
    {Kind::resistance_per_length, {0.20, 0.15, 0.10, 0.03, 0.03}, none},
    {Kind::mass_per_length, {0.20, 0.15, 0.10, 0.03, 0.01}, none},
    {Kind::volume_flow, {0.40, 0.30, 0.20, 0.10, 0.05}, none},
};

struct Bias {
  Trait trait;
  ByEvidence least_relative;
  ByEvidence bias;
};

// Common practice, no source, row by row:
constexpr Bias trait_biases[] = {
    {Trait::plain, none, {1, 1, 1, 1, 1}},
    // Labels give what the winding could take for seconds, not what the battery behind it can
    // deliver.
    {Trait::peak_power, {0.35, 0.25, 0.20, 0.08, 0.03}, {0.9, 0.8, 0.8, 0.95, 1}},
    // Sellers give the fresh cell at a rate of hours, to the last volt.
    {Trait::capacity, {0.25, 0.20, 0.10, 0.04, 0.02}, {0.95, 0.93, 0.93, 0.98, 1}},
    // Listings give the alternating-current value at 1 kHz; a bike meets the larger direct-current
    // one.
    {Trait::internal_resistance, {0.50, 0.40, 0.35, 0.25, 0.05}, {1, 1.3, 1.3, 1.2, 1}},
    // Listed masses leave out leads, brackets, coolant and bolts.
    {Trait::mass_listed, {0.20, 0.12, 0.08, 0.03, 0.01}, {1, 1.05, 1.05, 1.02, 1}},
};

/// Integral of the standard normal from minus infinity to z.
double normal_share(double z) {
  return 0.5 * std::erfc(-z * std::numbers::sqrt2 / 2);
}

/// Standard deviation in the space in which the spread is normal (the value's, or its logarithm's).
double deviation(const Spread& spread) {
  if (!spread.lognormal) return spread.half_width / z90;
  return std::asinh(spread.half_width / spread.median) /
         z90;  // (p90 - p10) / 2 = median sinh(z90 deviation)
}

double share_below(const Spread& spread, double sigma, double x) {
  if (!spread.lognormal) return normal_share((x - spread.median) / sigma);
  return x <= 0 ? 0.0 : normal_share(std::log(x / spread.median) / sigma);
}

/// Acklam's rational approximation for 0 < p <= 0.5, relative error 1.2e-9 (from memory; refined
/// and tested below).
double rough_normal_quantile(double p) {
  if (p < 0.02425) {
    const double q = std::sqrt(-2 * std::log(p));
    return (((((-7.784894002430293e-03 * q - 3.223964580411365e-01) * q - 2.400758277161838e+00) *
                  q -
              2.549732539343734e+00) *
                 q +
             4.374664141464968e+00) *
                q +
            2.938163982698783e+00) /
           ((((7.784695709041462e-03 * q + 3.224671290700398e-01) * q + 2.445134137142996e+00) * q +
             3.754408661907416e+00) *
                q +
            1);
  }
  const double q = p - 0.5;
  const double r = q * q;
  return (((((-3.969683028665376e+01 * r + 2.209460984245205e+02) * r - 2.759285104469687e+02) * r +
            1.383577518672690e+02) *
               r -
           3.066479806614716e+01) *
              r +
          2.506628277459239e+00) *
         q /
         (((((-5.447609879822406e+01 * r + 1.615858368580409e+02) * r - 1.556989798598866e+02) * r +
            6.680131188771972e+01) *
               r -
           1.328068155288572e+01) *
              r +
          1);
}

/// One step of Newton's method on the exact integral.
double refined(double z, double p) {
  if (p < 1e-280) return z;  // the density would underflow
  const double density = std::exp(-z * z / 2) / std::sqrt(2 * std::numbers::pi);
  return z - (normal_share(z) - p) / density;
}

}  // namespace

Result<Figure> parse(std::string_view text, Kind kind) {
  const auto reading = read(text, kind);
  if (!reading) return fail(reading.error());
  return Figure{.value = reading->value,
                .half_width = reading->half_width,
                .convention = reading->convention,
                .typed = std::string(trim(text))};
}

DefaultSpread default_spread(Kind kind, Evidence evidence, Trait trait) {
  const auto grade = static_cast<std::size_t>(evidence);
  const Widths& widths = default_widths[static_cast<std::size_t>(kind)];
  const Bias& bias = trait_biases[static_cast<std::size_t>(trait)];
  WW_ASSERT(widths.kind == kind && bias.trait == trait);
  return {.relative = std::max(widths.relative[grade], bias.least_relative[grade]),
          .absolute = widths.absolute[grade],
          .bias = bias.bias[grade]};
}

Spread spread_of(const Figure& figure, Kind kind, Trait trait, double low, double high) {
  return spread_of(Stated{figure.value, figure.half_width, figure.evidence}, kind, trait, low,
                   high);
}

Spread spread_of(const Stated& stated, Kind kind, Trait trait, double low, double high) {
  WW_ASSERT(!std::isnan(stated.value) && low < high);
  const bool has_width = !std::isnan(stated.half_width);
  const DefaultSpread usual = default_spread(kind, stated.evidence, trait);
  const double median = has_width ? stated.value : stated.value * usual.bias;
  const double half_width =
      has_width ? stated.half_width : std::hypot(usual.relative * median, usual.absolute);
  return {.median = median,
          .half_width = half_width,
          .low = low,
          .high = high,
          .lognormal = median > 0 && half_width >= normal_below * median};
}

Quantiles::Quantiles(const Spread& spread) : spread_(spread), fixed_(spread.half_width == 0) {
  if (fixed_) return;
  sigma_ = deviation(spread);
  below_low_ = share_below(spread, sigma_, spread.low);
  inside_ = share_below(spread, sigma_, spread.high) - below_low_;
  // Limits so far out that nothing of the distribution lies between them: the nearer limit stands
  // for it.
  fixed_ = inside_ < 1e-12;
}

double Quantiles::at(double u) const {
  if (fixed_) return std::clamp(spread_.median, spread_.low, spread_.high);
  const double z = normal_quantile(below_low_ + u * inside_);
  const double value =
      spread_.lognormal ? spread_.median * std::exp(sigma_ * z) : spread_.median + sigma_ * z;
  return std::clamp(value, spread_.low, spread_.high);
}

double quantile(const Spread& spread, double u) {
  return Quantiles(spread).at(u);
}

double normal_quantile(double p) {
  if (!(p > 0 && p < 1)) return std::numeric_limits<double>::quiet_NaN();
  if (p > 0.5) return -normal_quantile(1 - p);
  return refined(rough_normal_quantile(p), p);
}

}  // namespace ww::figure
