// SPDX-License-Identifier: MIT
// What one core does at most, measured: independent chains in registers, more of them than the
// latency asks for. Compiled once an instruction set.
#include <chrono>

#if WW_WIDTH > 1
#include <immintrin.h>
#endif

#include "bench/arch.h"

namespace ww::bench::WW_ARCH {

namespace {

#if WW_WIDTH == 8
using Lanes = __m512d;
Lanes all_lanes(double x) {
  return _mm512_set1_pd(x);
}
Lanes multiply_add(Lanes x, Lanes a, Lanes b) {
  return _mm512_fmadd_pd(x, a, b);
}
Lanes divide(Lanes a, Lanes b) {
  return _mm512_div_pd(a, b);
}
Lanes root_of_sum(Lanes a, Lanes b) {
  return _mm512_sqrt_pd(_mm512_add_pd(a, b));
}
double first_lane(Lanes x) {
  return _mm512_cvtsd_f64(x);
}
#elif WW_WIDTH == 4
using Lanes = __m256d;
Lanes all_lanes(double x) {
  return _mm256_set1_pd(x);
}
Lanes multiply_add(Lanes x, Lanes a, Lanes b) {
  return _mm256_fmadd_pd(x, a, b);
}
Lanes divide(Lanes a, Lanes b) {
  return _mm256_div_pd(a, b);
}
Lanes root_of_sum(Lanes a, Lanes b) {
  return _mm256_sqrt_pd(_mm256_add_pd(a, b));
}
double first_lane(Lanes x) {
  return _mm256_cvtsd_f64(x);
}
#else
// The baseline has no fused multiply-add: a multiply and an add.
using Lanes = double;
Lanes all_lanes(double x) {
  return x;
}
Lanes multiply_add(Lanes x, Lanes a, Lanes b) {
  return x * a + b;
}
Lanes divide(Lanes a, Lanes b) {
  return a / b;
}
Lanes root_of_sum(Lanes a, Lanes b) {
  return __builtin_sqrt(a + b);
}
double first_lane(Lanes x) {
  return x;
}
#endif

constexpr int chains = 12;

/// Lane operations a second of `step` on twelve chains; the best of five.
template <class Step>
double lane_steps_per_s(long rounds, const Step& step) {
  double best = 0;
  for (int attempt = 0; attempt < 5; ++attempt) {
    Lanes x[chains];
    for (int c = 0; c < chains; ++c) x[c] = all_lanes(1.1 + 0.01 * c);
    const auto begin = std::chrono::steady_clock::now();
    for (long i = 0; i < rounds; ++i) {
#pragma GCC unroll 12
      for (int c = 0; c < chains; ++c) x[c] = step(x[c]);
    }
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - begin;
    double sum = 0;
    for (int c = 0; c < chains; ++c) sum += first_lane(x[c]);
    // Uses the sum; every chain stays between 0.5 and 4.
    if (sum > 0 && sum < 100) {
      const double here = double(rounds) * chains * WW_WIDTH / took.count();
      if (here > best) best = here;
    }
  }
  return best;
}

}  // namespace

Throughput throughput() {
  const Lanes a = all_lanes(0.4), b = all_lanes(0.9), c = all_lanes(1.7);
  return {.multiply_add_flops_per_s =
              2 * lane_steps_per_s(4'000'000, [=](Lanes x) { return multiply_add(x, a, b); }),
          .divides_per_s = lane_steps_per_s(500'000, [=](Lanes x) { return divide(c, x); }),
          .roots_per_s = lane_steps_per_s(500'000, [=](Lanes x) { return root_of_sum(x, c); })};
}

}  // namespace ww::bench::WW_ARCH
