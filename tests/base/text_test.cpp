// SPDX-License-Identifier: MIT
#include "base/text.h"

#include <gtest/gtest.h>

#include "base/dual.h"
#include "base/result.h"

namespace ww {
namespace {

TEST(Text, NearestFindsASlipAndRefusesAStranger) {
  const std::vector<std::string_view> keys{"motor", "controller", "gearing"};
  EXPECT_EQ(nearest("contoller", keys), "controller");
  EXPECT_EQ(nearest("mtoor", keys), "motor");
  EXPECT_EQ(nearest("xylophone", keys), "");
}

TEST(Text, EditDistanceCountsASwapAsOne) {
  EXPECT_EQ(edit_distance("", "abc"), 3);
  EXPECT_EQ(edit_distance("kitten", "sitting"), 3);
  EXPECT_EQ(edit_distance("ab", "ba"), 1);
  EXPECT_EQ(edit_distance("ratio", "raito"), 1);
  EXPECT_EQ(edit_distance("sprocket", "psroket"), 2);
  EXPECT_EQ(edit_distance("abc", ""), 3);
}

TEST(Text, FixedNeverPrintsMinusZero) {
  EXPECT_EQ(fixed(-0.04, 1), "0.0");
  EXPECT_EQ(fixed(-0.06, 1), "-0.1");
  EXPECT_EQ(fixed(2.25, 1), "2.2");
  EXPECT_EQ(shortest(0.1), "0.1");
}

TEST(Text, Utf8RefusesOverlongAndTruncated) {
  EXPECT_TRUE(valid_utf8("\xC3\x98 25 mm"));
  EXPECT_FALSE(valid_utf8("\xC0\xAF"));
  EXPECT_FALSE(valid_utf8("\xE2\x82"));
  EXPECT_FALSE(valid_utf8("\xED\xA0\x80"));
}

TEST(Error, DescribesWhereWhatAndWayOut) {
  const Error error{.code = "bad-unit",
                    .what = "not a mass",
                    .file = "bike.toml",
                    .line = 12,
                    .column = 8,
                    .field = "motor.mass",
                    .found = "17 kgs",
                    .expected = "a mass such as '17 kg'"};
  EXPECT_EQ(
      describe(error),
      "bike.toml:12:8: motor.mass: not a mass; found '17 kgs'; expected a mass such as '17 kg'");
}

// Every derivative rule against a central difference, at a few points inside the domain.
TEST(Dual, DerivativesAgreeWithCentralDifferences) {
  using D = Dual<1>;
  struct Case {
    const char* name;
    D (*dual)(const D&);
    double (*plain)(double);
  };
  const Case cases[] = {
      {"sqrt", [](const D& x) { return sqrt(x); }, [](double x) { return std::sqrt(x); }},
      {"exp", [](const D& x) { return exp(x); }, [](double x) { return std::exp(x); }},
      {"log", [](const D& x) { return log(x); }, [](double x) { return std::log(x); }},
      {"sin", [](const D& x) { return sin(x); }, [](double x) { return std::sin(x); }},
      {"cos", [](const D& x) { return cos(x); }, [](double x) { return std::cos(x); }},
      {"tan", [](const D& x) { return tan(x); }, [](double x) { return std::tan(x); }},
      {"asin", [](const D& x) { return asin(x); }, [](double x) { return std::asin(x); }},
      {"atan", [](const D& x) { return atan(x); }, [](double x) { return std::atan(x); }},
      {"tanh", [](const D& x) { return tanh(x); }, [](double x) { return std::tanh(x); }},
      {"x^x", [](const D& x) { return pow(x, x); }, [](double x) { return std::pow(x, x); }},
      {"rational", [](const D& x) { return (D(3) - x) * x / (x + D(2)); },
       [](double x) { return (3 - x) * x / (x + 2); }},
      {"select", [](const D& x) { return select(x > D(0.5), max(x * x, x), -abs(min(x, D(0.4)))); },
       [](double x) { return x > 0.5 ? std::max(x * x, x) : -std::min(x, 0.4); }},
  };
  for (const auto& c : cases) {
    for (const double x : {0.2, 0.37, 0.81}) {
      const double step = 1e-6;
      const double expected = (c.plain(x + step) - c.plain(x - step)) / (2 * step);
      const D y = c.dual(D::variable(x, 0));
      EXPECT_DOUBLE_EQ(y.value, c.plain(x)) << c.name;
      EXPECT_NEAR(y.slope[0], expected, 1e-8 * std::max(1.0, std::fabs(expected)))
          << c.name << " at " << x;
    }
  }
}

}  // namespace
}  // namespace ww
