// SPDX-License-Identifier: MIT
// Which kernel runs is chosen at run time. Results of two kernels agree within a few ULP, not bit
// for bit: the set-up of a lane calls exp and pow.
#include <limits>

#include "ride/batch.h"

namespace ww::ride {

namespace scalar {
void evaluate_lanes(const LaneJob& job);
void evaluate_bikes(const BikeJob& job);
void spare_force(const SpareJob& job);
}  // namespace scalar
#ifdef __x86_64__
namespace avx2 {
void evaluate_lanes(const LaneJob& job);
void evaluate_bikes(const BikeJob& job);
void spare_force(const SpareJob& job);
}  // namespace avx2
namespace avx512 {
void evaluate_lanes(const LaneJob& job);
void evaluate_bikes(const BikeJob& job);
void spare_force(const SpareJob& job);
}  // namespace avx512
#endif

std::vector<Kernel> all_kernels() {
  std::vector<Kernel> kernels{
      {"scalar", 1, &scalar::evaluate_lanes, &scalar::evaluate_bikes, &scalar::spare_force}};
// Clang 14 does not know the level names.
#if defined(__x86_64__) && !defined(__clang__) && !defined(WW_SCALAR_ONLY)
  if (__builtin_cpu_supports("x86-64-v3"))
    kernels.push_back(
        {"avx2", 4, &avx2::evaluate_lanes, &avx2::evaluate_bikes, &avx2::spare_force});
  if (__builtin_cpu_supports("x86-64-v4"))
    kernels.push_back(
        {"avx512", 8, &avx512::evaluate_lanes, &avx512::evaluate_bikes, &avx512::spare_force});
#endif
  return kernels;
}

Kernel choose_kernel(std::size_t widest) {
  return kernel_for(std::numeric_limits<std::size_t>::max(), widest);
}

Kernel kernel_for(std::size_t lanes, std::size_t widest) {
  Kernel best{};
  for (const Kernel& kernel : all_kernels()) {
    if (best.width < lanes && kernel.width <= widest) best = kernel;
  }
  return best;
}

}  // namespace ww::ride
