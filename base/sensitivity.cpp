// SPDX-License-Identifier: MIT
#include "base/sensitivity.h"

#include <algorithm>
#include <numeric>

#include "base/check.h"
#include "base/quasi.h"

namespace ww {

SensitivityIndices sensitivity_indices(int dimensions, int count, std::uint32_t seed,
                                       const std::function<double(const double*)>& function) {
  const auto d = static_cast<std::size_t>(dimensions), n = static_cast<std::size_t>(count);
  const auto points = sobol_points(2 * dimensions, count, seed);
  std::vector<double> a(n), b(n), crossed(d);
  const auto row = [&](std::size_t i) { return points.data() + 2 * d * i; };
  double sum = 0, squares = 0;
  for (std::size_t i = 0; i < n; ++i) {
    a[i] = function(row(i));
    b[i] = function(row(i) + d);
    sum += a[i] + b[i];
  }
  const double mean = sum / double(2 * n);
  for (std::size_t i = 0; i < n; ++i)
    squares += (a[i] - mean) * (a[i] - mean) + (b[i] - mean) * (b[i] - mean);
  const double variance = squares / double(2 * n);
  SensitivityIndices out{.first = std::vector<double>(d, 0), .total = std::vector<double>(d, 0)};
  if (!(variance > 0)) return out;
  for (std::size_t k = 0; k < d; ++k) {
    double first = 0, total = 0;
    for (std::size_t i = 0; i < n; ++i) {
      std::copy(row(i), row(i) + d, crossed.begin());
      crossed[k] = row(i)[d + k];
      const double one_changed = function(crossed.data());
      // Less the mean: the estimate is the same, its scatter far smaller.
      first += (b[i] - mean) * (one_changed - a[i]);
      total += (a[i] - one_changed) * (a[i] - one_changed);
    }
    out.first[k] = first / double(n) / variance;
    out.total[k] = total / double(2 * n) / variance;
  }
  return out;
}

namespace {

double mean_of(const std::vector<double>& values) {
  return std::accumulate(values.begin(), values.end(), 0.0) / double(values.size());
}

std::size_t best_at(const WorthByDraw& worth, std::size_t draw) {
  std::size_t best = 0;
  for (std::size_t o = 1; o < worth.size(); ++o) {
    if (worth[o][draw] > worth[best][draw]) best = o;
  }
  return best;
}

}  // namespace

std::size_t best_option(const WorthByDraw& worth) {
  WW_ASSERT(!worth.empty() && !worth[0].empty());
  std::size_t best = 0;
  for (std::size_t o = 1; o < worth.size(); ++o) {
    if (mean_of(worth[o]) > mean_of(worth[best])) best = o;
  }
  return best;
}

std::vector<double> share_right(const WorthByDraw& worth) {
  std::vector<double> share(worth.size(), 0);
  const std::size_t draws = worth[0].size();
  for (std::size_t i = 0; i < draws; ++i) share[best_at(worth, i)] += 1.0 / double(draws);
  return share;
}

double value_of_knowing_all(const WorthByDraw& worth) {
  const std::vector<double>& chosen = worth[best_option(worth)];
  double gain = 0;
  for (std::size_t i = 0; i < chosen.size(); ++i) gain += worth[best_at(worth, i)][i] - chosen[i];
  return gain / double(chosen.size());
}

double value_of_knowing(const WorthByDraw& worth, const std::vector<double>& input, int bins) {
  const std::vector<double>& chosen = worth[best_option(worth)];
  WW_ASSERT(input.size() == chosen.size() && bins >= 1);
  std::vector<std::size_t> order(input.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return input[a] < input[b]; });
  double gain = 0;
  const auto groups = static_cast<std::size_t>(bins);
  for (std::size_t g = 0; g < groups; ++g) {
    const std::size_t first = order.size() * g / groups, last = order.size() * (g + 1) / groups;
    double most = 0;
    for (const auto& option : worth) {
      double ahead = 0;
      for (std::size_t i = first; i < last; ++i) ahead += option[order[i]] - chosen[order[i]];
      most = std::max(most, ahead);
    }
    gain += most;
  }
  return gain / double(order.size());
}

}  // namespace ww
