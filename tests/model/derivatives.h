// SPDX-License-Identifier: MIT
// A model template run as double and as dual number: the values are the same bits, the slopes agree
// with central differences. On failure the whole table is printed.
#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <sstream>
#include <string>

#include "base/dual.h"

namespace ww {

/// f takes std::array<R, N> for R = double and Dual<N>. The step is a millionth of each input.
template <int N, class F>
void expect_derivatives(const std::string& name, const std::array<double, N>& at, const F& f) {
  using D = Dual<N>;
  std::array<D, N> variables{};
  for (int i = 0; i < N; ++i) {
    const auto k = static_cast<std::size_t>(i);
    variables[k] = D::variable(at[k], i);
  }
  const double value = f(at);
  const D dual = f(variables);
  EXPECT_EQ(dual.value, value) << name << ": the dual number's value is another";
  std::ostringstream table;
  table << name << "\n  input   dual slope   numeric slope   difference\n";
  bool agree = true;
  for (std::size_t k = 0; k < N; ++k) {
    const double h = 1e-6 * std::max(1e-3, std::fabs(at[k]));
    auto above = at;
    auto below = at;
    above[k] += h;
    below[k] -= h;
    const double numeric = (f(above) - f(below)) / (above[k] - below[k]);
    const double difference = std::fabs(dual.slope[k] - numeric);
    const double noise = 1e-15 * std::fabs(value) / h;
    const bool good = difference <= 1e-6 * std::fabs(numeric) + 100 * noise + 1e-300;
    agree = agree && good;
    table << (good ? "  " : "* ") << at[k] << "   " << dual.slope[k] << "   " << numeric << "   "
          << difference << "\n";
  }
  EXPECT_TRUE(agree) << table.str();
}

}  // namespace ww
