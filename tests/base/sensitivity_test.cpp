// SPDX-License-Identifier: MIT
// Against the closed forms of two functions made for the purpose, and of a choice between two.
#include "base/sensitivity.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace ww {
namespace {

constexpr double pi = 3.14159265358979323846;
// What 2^14 points leave: the tolerance that the closed forms are asked to.
constexpr double tolerance = 0.005;

// Ishigami and Homma 1990: sin x1 + a sin^2 x2 + b x3^4 sin x1, x uniform on (-pi, pi). Indices
// from its variances in closed form: V1 = (1 + b pi^4/5)^2/2, V2 = a^2/8, V13 = b^2 pi^8 (1/18 -
// 1/50).
struct Ishigami {
  double a, b;
  double operator()(const double* u) const {
    const double x1 = pi * (2 * u[0] - 1), x2 = pi * (2 * u[1] - 1), x3 = pi * (2 * u[2] - 1);
    return std::sin(x1) + a * std::pow(std::sin(x2), 2) + b * std::pow(x3, 4) * std::sin(x1);
  }
};

TEST(Sensitivity, IshigamisFunction) {
  for (const double b : {0.1, 0.05}) {
    const double v1 = 0.5 * std::pow(1 + b * std::pow(pi, 4) / 5, 2), v2 = 49.0 / 8;
    const double v13 = b * b * std::pow(pi, 8) * (1.0 / 18 - 1.0 / 50), v = v1 + v2 + v13;
    const auto found = sensitivity_indices(3, 16384, 1, Ishigami{7, b});
    EXPECT_NEAR(found.first[0], v1 / v, tolerance);
    EXPECT_NEAR(found.first[1], v2 / v, tolerance);
    EXPECT_NEAR(found.first[2], 0, tolerance);
    EXPECT_NEAR(found.total[0], (v1 + v13) / v, tolerance);
    EXPECT_NEAR(found.total[1], v2 / v, tolerance);
    EXPECT_NEAR(found.total[2], v13 / v, tolerance);
  }
}

// Sobol's g-function: product of (|4u - 2| + a)/(1 + a). V_i = 1/(3 (1 + a_i)^2), V = product of
// (1 + V_i) less 1.
void expect_g_function(const std::vector<double>& a) {
  std::vector<double> part;
  double all = 1;
  for (const double ai : a) {
    part.push_back(1 / (3 * (1 + ai) * (1 + ai)));
    all *= 1 + part.back();
  }
  const auto found =
      sensitivity_indices(static_cast<int>(a.size()), 16384, 1, [&](const double* u) {
        double product = 1;
        for (std::size_t i = 0; i < a.size(); ++i)
          product *= (std::fabs(4 * u[i] - 2) + a[i]) / (1 + a[i]);
        return product;
      });
  for (std::size_t i = 0; i < a.size(); ++i) {
    EXPECT_NEAR(found.first[i], part[i] / (all - 1), tolerance) << i;
    EXPECT_NEAR(found.total[i], part[i] * all / (1 + part[i]) / (all - 1), tolerance) << i;
  }
}

TEST(Sensitivity, SobolsFunction) {
  expect_g_function({0, 1, 9});
  expect_g_function({0, 1, 4.5, 9, 99, 99, 99, 99});
  expect_g_function({0, 0.5, 3, 9, 99, 99});
}

TEST(Sensitivity, AFunctionThatDoesNotVaryHangsOnNothing) {
  const auto found = sensitivity_indices(2, 64, 1, [](const double*) { return 3.0; });
  EXPECT_EQ(found.first, (std::vector<double>{0, 0}));
  EXPECT_EQ(found.total, (std::vector<double>{0, 0}));
}

// Gains +100 with probability 0.3, else -50, or nothing at all: knowing which is worth 30.
TEST(Sensitivity, KnowingAllOfAChoiceOfTwo) {
  WorthByDraw worth{{}, {}};
  for (int i = 0; i < 10; ++i) {
    worth[0].push_back(i < 3 ? 100 : -50);
    worth[1].push_back(0);
  }
  EXPECT_EQ(best_option(worth), 1U);
  EXPECT_NEAR(value_of_knowing_all(worth), 30, 1e-12);
  EXPECT_NEAR(share_right(worth)[0], 0.3, 1e-12);
  EXPECT_NEAR(share_right(worth)[1], 0.7, 1e-12);
  std::vector<double> tells{0, 0, 0, 1, 1, 1, 1, 1, 1, 1};
  EXPECT_NEAR(value_of_knowing(worth, tells, 10), 30, 1e-12);
  EXPECT_NEAR(value_of_knowing(worth, tells, 1), 0, 1e-12);
}

TEST(Sensitivity, KnowingOneIsWorthNoMoreThanKnowingAllAndNoLessThanNothing) {
  std::mt19937 random(5);
  std::normal_distribution<double> normal;
  for (int round = 0; round < 500; ++round) {
    const std::size_t options = 2 + random() % 5, draws = 16 + random() % 200;
    std::vector<double> input(draws);
    for (double& x : input) x = normal(random);
    WorthByDraw worth(options, std::vector<double>(draws));
    for (std::size_t o = 0; o < options; ++o) {
      const double slope = normal(random), offset = normal(random);
      for (std::size_t i = 0; i < draws; ++i)
        worth[o][i] = offset + slope * input[i] + normal(random);
    }
    const double all = value_of_knowing_all(worth);
    for (const int bins : {1, 4, 16}) {
      const double one = value_of_knowing(worth, input, bins);
      EXPECT_GE(one, 0);
      EXPECT_LE(one, all + 1e-12);
    }
  }
}

// Two options, one of them worth a normal amount against nothing: sigma (phi(z) - z (1 - Phi(z))),
// z = |mean|/sigma, the unit normal loss. Mean 100, sigma 200: 39.559311.
TEST(Sensitivity, TheUnitNormalLoss) {
  WorthByDraw worth{{}, {}};
  constexpr int draws = 20000;
  std::mt19937 random(3);
  std::normal_distribution<double> normal(100, 200);
  for (int i = 0; i < draws; ++i) {
    worth[0].push_back(normal(random));
    worth[1].push_back(0);
  }
  EXPECT_NEAR(value_of_knowing_all(worth), 39.559311, 3 * 75 / std::sqrt(double(draws)));
}

}  // namespace
}  // namespace ww
