// SPDX-License-Identifier: MIT
#include "figure/figure.h"

#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <limits>
#include <sstream>

#include "base/text.h"

namespace ww::figure {
namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

TEST(Figure, ParseKeepsWhatWasTyped) {
  for (const char* text : {"5/8 in", "13 1/2 in", "1 400 mm +- 3 mm", "2,5 m", "72V"}) {
    const auto kind = std::string_view(text) == "72V" ? Kind::voltage : Kind::length;
    const auto figure = parse(text, kind);
    ASSERT_TRUE(figure) << text;
    EXPECT_EQ(figure->typed, text);
    EXPECT_TRUE(figure->known());
    EXPECT_EQ(figure->evidence, Evidence::guess);
    EXPECT_EQ(parse(figure->typed, kind)->value, figure->value);
  }
  EXPECT_EQ(parse("  72 V ", Kind::voltage)->typed, "72 V");
  EXPECT_EQ(parse("464 A peak", Kind::phase_current)->convention, Convention::peak);
  EXPECT_EQ(parse("1400 mm +- 3 mm", Kind::length)->half_width, 0.003);
  EXPECT_TRUE(std::isnan(parse("1400 mm", Kind::length)->half_width));
  EXPECT_EQ(parse("17 kg", Kind::voltage).error().code, "wrong-kind");
  EXPECT_FALSE(Figure{}.known());
}

// Abramowitz and Stegun 1964, table 26.5, to more digits; the last row is the limit of "five
// sigma".
TEST(NormalQuantile, TabulatedValues) {
  EXPECT_NEAR(normal_quantile(0.80), 0.8416212336, 5e-11);
  EXPECT_NEAR(normal_quantile(0.90), 1.2815515655, 5e-11);
  EXPECT_NEAR(normal_quantile(0.95), 1.6448536270, 5e-11);
  EXPECT_NEAR(normal_quantile(0.10), -1.2815515655, 5e-11);
  EXPECT_EQ(normal_quantile(0.5), 0.0);
}

TEST(NormalQuantile, InvertsTheExactIntegral) {
  for (double z = -8; z <= 8; z += 0.0625) {
    const double below = 0.5 * std::erfc(-z / std::sqrt(2.0));
    const double above = 0.5 * std::erfc(z / std::sqrt(2.0));
    if (z < 5) {
      EXPECT_NEAR(normal_quantile(below), z, 1e-9);
    }
    EXPECT_NEAR(-normal_quantile(above), z, z > -5 ? 1e-9 : 1);
  }
  for (double p = 1e-300; p < 0.5; p *= 3.3) {
    const double z = normal_quantile(p);
    EXPECT_NEAR(0.5 * std::erfc(-z / std::sqrt(2.0)) / p, 1.0, 1e-6) << p;
  }
}

TEST(NormalQuantile, OutsideIsNan) {
  for (const double p : {0.0, 1.0, -0.1, 1.1, unknown})
    EXPECT_TRUE(std::isnan(normal_quantile(p))) << p;
}

Spread free_spread(double median, double half_width) {
  const Figure figure{.value = median, .half_width = half_width};
  return spread_of(figure, Kind::voltage, Trait::plain, -infinite, infinite);
}

TEST(Quantile, NormalGivesTheStatedBand) {
  const Spread spread = free_spread(100, 14.9);
  EXPECT_FALSE(spread.lognormal);
  EXPECT_NEAR(quantile(spread, 0.1), 85.1, 1e-9);
  EXPECT_EQ(quantile(spread, 0.5), 100);
  EXPECT_NEAR(quantile(spread, 0.9), 114.9, 1e-9);
}

TEST(Quantile, LognormalKeepsMedianAndWidthOfTheBand) {
  for (const double half_width : {15.0, 30.0, 100.0, 400.0}) {
    const Spread spread = free_spread(100, half_width);
    EXPECT_TRUE(spread.lognormal);
    const double p10 = quantile(spread, 0.1);
    const double p90 = quantile(spread, 0.9);
    EXPECT_NEAR(quantile(spread, 0.5), 100, 1e-9);
    EXPECT_NEAR((p90 - p10) / 2, half_width, 1e-9 * half_width);
    EXPECT_NEAR(p10 * p90, 100.0 * 100.0, 1e-6);  // even in the logarithm
    EXPECT_GT(quantile(spread, 1e-9), 0);
  }
}

TEST(Quantile, AValueThatIsNotAboveZeroIsNormal) {
  EXPECT_FALSE(free_spread(-10, 5).lognormal);
  EXPECT_FALSE(free_spread(0, 5).lognormal);
  EXPECT_NEAR(quantile(free_spread(-10, 5), 0.1), -15, 1e-9);
  EXPECT_NEAR(quantile(free_spread(0, 5), 0.9), 5, 1e-9);
}

TEST(Quantile, AnExactFigureIsExact) {
  const Spread spread = free_spread(72, 0);
  for (const double u : {0.001, 0.3, 0.5, 0.999}) EXPECT_EQ(quantile(spread, u), 72);
}

TEST(Quantile, StaysInsideTheLimitsAndRises) {
  const double limits[][2] = {{90, 120}, {0, 101}, {99, 300}, {130, 200}, {0, 50}};
  for (const auto& limit : limits) {
    for (const double half_width : {5.0, 12.0, 40.0, 200.0}) {
      const Figure figure{.value = 100, .half_width = half_width};
      const Spread spread = spread_of(figure, Kind::voltage, Trait::plain, limit[0], limit[1]);
      double before = limit[0];
      for (double u = 1e-6; u < 1; u += 0.001) {
        const double x = quantile(spread, u);
        ASSERT_GE(x, before) << u << " with " << half_width;
        ASSERT_LE(x, limit[1]);
        before = x;
      }
    }
  }
}

// Cut off by the limits means the plain distribution's share between them, spread over all u.
TEST(Quantile, CutOffRescalesTheShares) {
  const Figure figure{.value = 100, .half_width = 10};
  const Spread cut = spread_of(figure, Kind::voltage, Trait::plain, 100, infinite);
  const Spread whole = free_spread(100, 10);
  for (const double u : {0.1, 0.5, 0.9}) {
    EXPECT_NEAR(quantile(cut, u), quantile(whole, 0.5 + u / 2), 1e-9);
  }
  const Figure wide{.value = 100, .half_width = 50};
  const Spread upper = spread_of(wide, Kind::voltage, Trait::plain, 0, 100);
  for (const double u : {0.1, 0.5, 0.9}) {
    EXPECT_NEAR(quantile(upper, u), quantile(free_spread(100, 50), u / 2), 1e-9);
  }
}

TEST(Quantile, DistantLimitsLeaveTheBandAlone) {
  const Figure figure{.value = 100, .half_width = 10};
  const Spread spread = spread_of(figure, Kind::voltage, Trait::plain, 0, 1000);
  EXPECT_NEAR(quantile(spread, 0.1), 90, 1e-6);
  EXPECT_NEAR(quantile(spread, 0.9), 110, 1e-6);
}

TEST(SpreadOf, AStatedSpreadComesBeforeTheDefaultAndItsBias) {
  Figure figure{.value = 24000, .half_width = 1000, .evidence = Evidence::seller};
  const Spread stated = spread_of(figure, Kind::power, Trait::peak_power, 0, 1e6);
  EXPECT_EQ(stated.median, 24000);
  EXPECT_EQ(stated.half_width, 1000);
  figure.half_width = unknown;
  const Spread usual = spread_of(figure, Kind::power, Trait::peak_power, 0, 1e6);
  EXPECT_NEAR(usual.median, 0.8 * 24000, 1e-9);
  EXPECT_NEAR(usual.half_width, 0.2 * 0.8 * 24000, 1e-9);
  EXPECT_TRUE(usual.lognormal);
  EXPECT_EQ(usual.low, 0);
  EXPECT_EQ(usual.high, 1e6);
}

TEST(SpreadOf, AbsoluteAndRelativeAddInQuadrature) {
  const Figure measured{.value = 1.4, .evidence = Evidence::measured};
  const Spread spread = spread_of(measured, Kind::length, Trait::plain, 0, 10);
  EXPECT_NEAR(spread.half_width, std::sqrt(0.0042 * 0.0042 + 0.0005 * 0.0005), 1e-12);
  const Figure cold{.value = 268.15, .evidence = Evidence::guess};
  EXPECT_EQ(spread_of(cold, Kind::temperature, Trait::plain, 200, 400).half_width, 8);
}

constexpr Evidence grades[] = {Evidence::guess, Evidence::hearsay, Evidence::seller,
                               Evidence::data_sheet, Evidence::measured};
constexpr Trait traits[] = {Trait::plain, Trait::peak_power, Trait::capacity,
                            Trait::internal_resistance, Trait::mass_listed};

TEST(DefaultSpread, BetterEvidenceIsNeverWider) {
  for (int i = 0; i <= static_cast<int>(Kind::volume_flow); ++i) {
    for (const Trait trait : traits) {
      DefaultSpread before{1, infinite, 1};
      for (const Evidence grade : grades) {
        const auto spread = default_spread(static_cast<Kind>(i), grade, trait);
        EXPECT_LE(spread.relative, before.relative) << name_of(static_cast<Kind>(i));
        EXPECT_LE(spread.absolute, before.absolute) << name_of(static_cast<Kind>(i));
        EXPECT_GE(spread.bias, 0.7);
        EXPECT_LE(spread.bias, 1.4);
        before = spread;
      }
      const auto best = default_spread(static_cast<Kind>(i), Evidence::measured, trait);
      EXPECT_EQ(best.bias, 1) << "what was measured is fair";
      const auto worst = default_spread(static_cast<Kind>(i), Evidence::guess, trait);
      EXPECT_GT(worst.relative + worst.absolute, 0);
    }
  }
}

TEST(DefaultSpread, TraitsSayWhichWaySellersErr) {
  EXPECT_EQ(default_spread(Kind::power, Evidence::seller).bias, 1);
  EXPECT_EQ(default_spread(Kind::power, Evidence::seller, Trait::peak_power).bias, 0.8);
  EXPECT_EQ(default_spread(Kind::charge, Evidence::seller, Trait::capacity).bias, 0.93);
  EXPECT_EQ(default_spread(Kind::resistance, Evidence::seller, Trait::internal_resistance).bias,
            1.3);
  EXPECT_EQ(default_spread(Kind::mass, Evidence::seller, Trait::mass_listed).bias, 1.05);
}

std::string cell(const DefaultSpread& spread, Kind kind) {
  std::string text;
  if (spread.relative > 0) text = shortest(std::round(spread.relative * 1e4) / 100) + " %";
  if (spread.absolute == 0) return text.empty() ? "0" : text;
  const std::string absolute =
      kind == Kind::temperature ? shortest(spread.absolute) + " K" : print(spread.absolute, kind);
  return text.empty() ? absolute : text + " and " + absolute;
}

std::string page() {
  std::ifstream file(std::string(WW_SOURCE_DIR) + "/docs/figure.md");
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

// The page on this floor shows the tables that the code has.
TEST(DefaultSpread, ThePageShowsTheSameWidths) {
  for (int i = 0; i <= static_cast<int>(Kind::volume_flow); ++i) {
    const Kind kind = static_cast<Kind>(i);
    std::string row = "| " + std::string(name_of(kind)) + " |";
    for (const Evidence grade : grades) row += " " + cell(default_spread(kind, grade), kind) + " |";
    EXPECT_NE(page().find(row), std::string::npos) << row;
  }
}

TEST(DefaultSpread, ThePageShowsTheSameFactorsAndLeastWidths) {
  const char* names[] = {"peak power", "capacity", "internal resistance", "mass as listed"};
  for (std::size_t i = 1; i < std::size(traits); ++i) {
    std::string factors = std::string("\n| ") + names[i - 1] + " |";
    std::string widths = std::string("\n| ") + names[i - 1] + " |";
    for (const Evidence grade : grades) {
      // A frequency's own widths lie below every least width.
      const auto spread = default_spread(Kind::frequency, grade, traits[i]);
      factors += " " + shortest(spread.bias) + " |";
      widths += " " + cell(spread, Kind::frequency) + " |";
    }
    EXPECT_NE(page().find(factors), std::string::npos) << factors;
    EXPECT_NE(page().find(widths), std::string::npos) << widths;
  }
}

}  // namespace
}  // namespace ww::figure
