// SPDX-License-Identifier: MIT
// Medians of repeated runs, and the table they stand in.
#pragma once

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <vector>

namespace ww::bench {

inline double median(std::vector<double> numbers) {
  if (numbers.empty()) return 0;
  std::sort(numbers.begin(), numbers.end());
  return numbers[numbers.size() / 2];
}

template <class Work>
double seconds_of(const Work& work) {
  const auto begin = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
}

template <class Work>
double median_s(int rounds, const Work& work) {
  std::vector<double> times;
  for (int i = 0; i < rounds; ++i) times.push_back(seconds_of(work));
  return median(times);
}

/// Every time also as a multiple of one yardstick measured in the same run: times of two machines
/// cannot be compared, the ratios nearly can.
struct Table {
  double yardstick_s;

  static void head(const char* title) { std::printf("\n%-66s %12s %10s\n", title, "", "rides"); }
  void time(const char* what, double seconds) const {
    const char* unit = seconds < 1e-6 ? "ns" : (seconds < 1e-3 ? "us" : "ms");
    const double factor = seconds < 1e-6 ? 1e9 : (seconds < 1e-3 ? 1e6 : 1e3);
    std::printf("  %-64s %9.3f %s %10.4g\n", what, seconds * factor, unit, seconds / yardstick_s);
  }
};

}  // namespace ww::bench
