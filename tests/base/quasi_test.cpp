// SPDX-License-Identifier: MIT
#include "base/quasi.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace ww {
namespace {

std::vector<double> column(const std::vector<double>& points, int dimensions, int which) {
  std::vector<double> out;
  for (std::size_t i = static_cast<std::size_t>(which); i < points.size();
       i += static_cast<std::size_t>(dimensions)) {
    out.push_back(points[i]);
  }
  return out;
}

double mean_of_product(const std::vector<double>& points, int dimensions) {
  const std::size_t width = static_cast<std::size_t>(dimensions);
  double sum = 0;
  for (std::size_t i = 0; i < points.size(); i += width) {
    double product = 1;
    for (std::size_t d = 0; d < width; ++d) product *= std::fabs(4 * points[i + d] - 2);
    sum += product;
  }
  return sum / static_cast<double>(points.size() / width);
}

// Joe and Kuo 2008, direction numbers new-joe-kuo-6, in Gray-code order.
TEST(Quasi, PlainSequenceStartsAsPublished) {
  const std::vector<double> expected{0,    0,    0,    .5,   .5,   .5,   .75,  .25,
                                     .25,  .25,  .75,  .75,  .375, .375, .625, .875,
                                     .875, .125, .625, .125, .875, .125, .625, .375};
  EXPECT_EQ(sobol_points(3, 8, 0), expected);
}

// The exact integral is 1. The two values were computed with another implementation of the same
// sequence (point of zeros included).
TEST(Quasi, ProductIntegralOfThePlainSequence) {
  EXPECT_NEAR(mean_of_product(sobol_points(5, 256, 0), 5), 1.030777, 5e-7);
  EXPECT_NEAR(mean_of_product(sobol_points(5, 4096, 0), 5), 1.003186, 5e-7);
}

TEST(Quasi, ScramblingKeepsOnePointInEveryCell) {
  for (const std::uint32_t seed : {1U, 7U, 4000000000U}) {
    const int dimensions = 40;
    const auto points = sobol_points(dimensions, 256, seed);
    for (int d = 0; d < dimensions; ++d) {
      auto values = column(points, dimensions, d);
      std::sort(values.begin(), values.end());
      for (std::size_t i = 0; i < values.size(); ++i) {
        EXPECT_EQ(static_cast<std::size_t>(values[i] * 256), i)
            << "seed " << seed << " dimension " << d;
      }
      EXPECT_GT(values.front(), 0.0);
      EXPECT_LT(values.back(), 1.0);
    }
  }
}

// The first two coordinates are a (0, m, 2)-net: every elementary rectangle of area 1/64 holds one
// of 64 points.
TEST(Quasi, ScramblingKeepsTheNetOfTwoDimensions) {
  const auto points = sobol_points(2, 64, 12345);
  for (int bits = 0; bits <= 6; ++bits) {
    const int columns = 1 << bits;
    const int rows = 64 / columns;
    std::vector<int> count(64, 0);
    for (std::size_t i = 0; i < points.size(); i += 2) {
      const int x = static_cast<int>(points[i] * columns);
      const int y = static_cast<int>(points[i + 1] * rows);
      ++count[static_cast<std::size_t>(x * rows + y)];
    }
    EXPECT_EQ(std::count(count.begin(), count.end(), 1), 64) << columns << " x " << rows;
  }
}

// Over many seeds each point is uniform: the mean of the estimates is right. Their scatter is that
// of a nested scramble done bit by bit with a random bit for every cell: 0.0335 over 40000 seeds
// (computed apart); plain random draws scatter by 0.11.
TEST(Quasi, ScramblingIsUnbiasedAndStillEven) {
  double sum = 0;
  double squares = 0;
  const int seeds = 400;
  for (std::uint32_t seed = 1; seed <= seeds; ++seed) {
    const double estimate = mean_of_product(sobol_points(5, 256, seed), 5);
    sum += estimate;
    squares += (estimate - 1) * (estimate - 1);
  }
  const double scatter = std::sqrt(squares / seeds);
  EXPECT_NEAR(scatter, 0.0335, 0.004);
  EXPECT_NEAR(sum / seeds, 1.0, 4 * scatter / std::sqrt(seeds));
}

// Every bit of a scrambled point flips for half of the seeds, whatever the bits above it are.
TEST(Quasi, EveryLeadingBitIsFlippedByHalfOfTheSeeds) {
  const int dimensions = 3;
  const int seeds = 2000;
  for (const std::size_t point : {0U, 1U, 5U}) {
    for (int bit = 1; bit <= 12; ++bit) {
      int ones = 0;
      for (std::uint32_t seed = 1; seed <= seeds; ++seed) {
        const double x = sobol_points(dimensions, 8, seed)[point * dimensions + 1];
        ones += static_cast<int>(x * (1 << bit)) & 1;
      }
      EXPECT_NEAR(ones, seeds / 2, 5 * std::sqrt(seeds) / 2) << "point " << point << " bit " << bit;
    }
  }
}

TEST(Quasi, SeedsAndDimensionsDiffer) {
  EXPECT_NE(sobol_points(4, 64, 1), sobol_points(4, 64, 2));
  EXPECT_EQ(sobol_points(4, 64, 9), sobol_points(4, 64, 9));
  EXPECT_EQ(sobol_points(1000, 2, 3).size(), 2000U);
}

// The first point is zero in every dimension before scrambling, so only the dimensions' own keys
// tell them apart.
TEST(Quasi, EachDimensionIsScrambledOnItsOwn) {
  const auto first = sobol_points(1000, 1, 17);
  auto sorted = first;
  std::sort(sorted.begin(), sorted.end());
  EXPECT_EQ(std::unique(sorted.begin(), sorted.end()), sorted.end());
  double mean = 0;
  double neighbours = 0;
  for (std::size_t d = 0; d < 1000; ++d) {
    mean += first[d] / 1000;
    neighbours += (first[d] - 0.5) * (first[(d + 1) % 1000] - 0.5) / 1000;
  }
  EXPECT_NEAR(mean, 0.5, 4 * 0.2887 / std::sqrt(1000.0));
  EXPECT_NEAR(neighbours, 0.0, 4 * 0.0833 / std::sqrt(1000.0));
}

// A share of points is the same for any larger count: the sequence is one, cut off.
TEST(Quasi, ALongerSequenceStartsWithTheShorter) {
  const auto few = sobol_points(6, 64, 5);
  auto many = sobol_points(6, 256, 5);
  many.resize(few.size());
  EXPECT_EQ(few, many);
}

TEST(Quasi, StratifiedColumnsAreEvenAndStandAlone) {
  const int dimensions = 300, count = 256;
  const auto points = stratified_points(dimensions, count, 1);
  std::vector<std::vector<double>> columns;
  for (int d = 0; d < dimensions; ++d) {
    columns.push_back(column(points, dimensions, d));
    auto sorted = columns.back();
    std::sort(sorted.begin(), sorted.end());
    for (int i = 0; i < count; ++i)
      ASSERT_DOUBLE_EQ(sorted[static_cast<std::size_t>(i)], (i + 0.5) / count);
  }
  // Of independent columns the correlation of two is normal with deviation 1/16; the largest of
  // 44,850 pairs is then some 4.3 of these, and beyond 6 once in ten thousand such tests.
  double most = 0, squares = 0;
  for (std::size_t a = 0; a < columns.size(); ++a) {
    for (std::size_t b = 0; b < a; ++b) {
      double sum = 0;
      for (std::size_t i = 0; i < columns[a].size(); ++i)
        sum += (columns[a][i] - 0.5) * (columns[b][i] - 0.5);
      const double correlation = sum / count * 12;
      most = std::max(most, std::fabs(correlation));
      squares += correlation * correlation;
    }
  }
  EXPECT_LT(most, 6.0 / 16);
  EXPECT_NEAR(std::sqrt(squares / (300 * 299 / 2)), 1.0 / 16, 0.002);
}

}  // namespace
}  // namespace ww
