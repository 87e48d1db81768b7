// SPDX-License-Identifier: MIT
#include "base/quasi.h"

#include <algorithm>
#include <boost/random/sobol.hpp>
#include <cmath>
#include <utility>

#include "base/check.h"

namespace ww {
namespace {

constexpr double cell = 1.0 / 4294967296.0;  // 2^-32

std::uint32_t reversed_bits(std::uint32_t x) {
  x = ((x & 0x55555555U) << 1U) | ((x >> 1U) & 0x55555555U);
  x = ((x & 0x33333333U) << 2U) | ((x >> 2U) & 0x33333333U);
  x = ((x & 0x0F0F0F0FU) << 4U) | ((x >> 4U) & 0x0F0F0F0FU);
  x = ((x & 0x00FF00FFU) << 8U) | ((x >> 8U) & 0x00FF00FFU);
  return (x << 16U) | (x >> 16U);
}

/// Two independent words for one dimension of one seed (multiply and fold, twice: every bit moves
/// every bit).
struct Key {
  std::uint32_t first;
  std::uint32_t second;
};

Key key_of(std::uint32_t seed, std::uint32_t dimension) {
  std::uint64_t x = (std::uint64_t{seed} << 32U) | (dimension + 1U);
  for (int round = 0; round < 2; ++round) {
    x = (x ^ (x >> 32U)) * 0xD6E8FEB86659FD93U;
    x = (x ^ (x >> 29U)) * 0x9E3779B97F4A7C15U;
  }
  x ^= x >> 32U;
  return {static_cast<std::uint32_t>(x >> 32U), static_cast<std::uint32_t>(x)};
}

/// Nested uniform scramble (Owen 1995) by hashing: each bit is flipped or not depending on the bits
/// above it, so points that share a leading cell go on sharing one. Adding, multiplying by an odd
/// number and x ^= x * even carry only from lower to higher bits; hence the bits are reversed
/// before and after (the idea of Laine and Karras 2011; constants our own).
std::uint32_t scrambled(std::uint32_t x, const Key& key) {
  x = reversed_bits(x);
  x += key.first;
  x ^= x * 0x5B8C1F6AU;
  x *= key.second | 1U;
  x ^= x * 0xA31D7E54U;
  x += key.second;
  x ^= x * 0x3F84D5BEU;
  x *= (key.first >> 7U) | 1U;
  x ^= x * 0x91E10DA2U;
  x += key.first >> 11U;
  x ^= x * 0x6D2B79F4U;
  return reversed_bits(x);
}

}  // namespace

std::vector<double> sobol_points(int dimensions, int count, std::uint32_t seed) {
  WW_ASSERT(dimensions >= 1 && dimensions <= 1000 && count >= 0 && count <= 65536);
  const auto width = static_cast<std::size_t>(dimensions);
  std::vector<Key> keys(width);
  for (std::uint32_t d = 0; d < keys.size(); ++d) keys[d] = key_of(seed, d);
  // The engine leaves out the point of zeros, which we want: only with it do 2^k points fill every
  // cell once.
  boost::random::sobol_engine<std::uint32_t, 32U> engine(width);
  std::vector<double> points(width * static_cast<std::size_t>(count));
  for (std::size_t i = 0; i < points.size(); ++i) {
    const std::uint32_t plain = i < width ? 0U : engine();
    points[i] = seed == 0 ? plain * cell : (scrambled(plain, keys[i % width]) + 0.5) * cell;
  }
  return points;
}

std::vector<double> stratified_points(int dimensions, int count, std::uint32_t seed) {
  WW_ASSERT(dimensions >= 1 && count >= 1);
  const auto width = static_cast<std::size_t>(dimensions), rows = static_cast<std::size_t>(count);
  std::vector<double> out(width * rows);
  std::vector<std::pair<std::uint32_t, std::size_t>> order(rows);
  for (std::size_t d = 0; d < width; ++d) {
    const Key column = key_of(seed, static_cast<std::uint32_t>(d));
    for (std::size_t i = 0; i < rows; ++i)
      order[i] = {key_of(column.first ^ static_cast<std::uint32_t>(i), column.second).first, i};
    std::sort(order.begin(), order.end());
    for (std::size_t i = 0; i < rows; ++i)
      out[order[i].second * width + d] = (double(i) + 0.5) / double(rows);
  }
  return out;
}

}  // namespace ww
