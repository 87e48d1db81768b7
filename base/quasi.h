// SPDX-License-Identifier: MIT
// Scrambled Sobol' points: evenly spread draws that are the same on every machine for the same
// seed.
#pragma once

#include <cstdint>
#include <vector>

namespace ww {

/// `count` points (a power of two) of `dimensions` numbers in (0,1), row by row: point i, dimension
/// d at [i * dimensions + d]. Owen-scrambled by hashing with `seed`; seed 0 gives the plain
/// sequence (point 0 is then all zeros, shifted to stay inside (0,1) by half a cell only when
/// scrambled). Valid: 1 <= dimensions <= 1000, count <= 2^16. Source: Sobol' 1967 with the
/// direction numbers of Joe and Kuo 2008, as shipped with Boost.Random. Checked by: the first eight
/// points in three dimensions, and the integral of the product of |4x - 2|.
std::vector<double> sobol_points(int dimensions, int count, std::uint32_t seed);

/// The same shape, but each dimension by itself: one draw in every 1/count, in an order of its own.
/// For many dimensions that are looked at one by one: of few Sobol' points some pairs of high
/// dimensions run side by side, these do not. Valid: dimensions >= 1, count >= 1.
/// Source: Latin hypercube sampling (McKay, Beckman, Conover 1979, from memory). Checked by: every
/// column's strata, and the correlation of all pairs of 300 columns.
std::vector<double> stratified_points(int dimensions, int count, std::uint32_t seed);

}  // namespace ww
