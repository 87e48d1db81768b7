// SPDX-License-Identifier: MIT
// Which inputs an output hangs on, and what knowing one of them would be worth.
#pragma once

#include <cstdint>
#include <functional>
#include <vector>

namespace ww {

/// Sobol' indices: the share of a function's variance that one input makes alone (first), and with
/// everything it works together with (total).
struct SensitivityIndices {
  std::vector<double> first, total;
};

/// Of a function of independent inputs uniform on (0,1), from `count` scrambled Sobol' points (a
/// power of two): count x (dimensions + 2) calls.
/// Valid: 1 <= dimensions <= 500, count <= 2^16, a function that varies (else 0).
/// Source: Saltelli et al. 2010 (first), Jansen 1999 (total), from memory. Checked by:
/// tests/base/sensitivity_test.cpp (Ishigami, g-function).
SensitivityIndices sensitivity_indices(int dimensions, int count, std::uint32_t seed,
                                       const std::function<double(const double*)>& function);

/// What each option of a choice is worth under each draw of what is not known: worth[option][draw].
using WorthByDraw = std::vector<std::vector<double>>;

/// The option with the best mean, the first of equals. Valid: at least one option and one draw.
std::size_t best_option(const WorthByDraw& worth);
/// Of each option: in which share of the draws it is the best one, the first of equals.
std::vector<double> share_right(const WorthByDraw& worth);
/// How much better, on the mean, a choice made with everything known would be: mean of the best
/// less the best of the means. Never negative.
double value_of_knowing_all(const WorthByDraw& worth);
/// The same where one input alone is known, to the `bins` groups into which its values fall (equal
/// numbers of draws): never negative, never above value_of_knowing_all. Valid: one value a draw,
/// bins >= 1.
double value_of_knowing(const WorthByDraw& worth, const std::vector<double>& input, int bins);

}  // namespace ww
