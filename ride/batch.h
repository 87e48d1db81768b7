// SPDX-License-Identifier: MIT
// Many rides of one build at once: a lane is one set of figures. The kernel is one source, compiled
// once an instruction set; the caller knows no SIMD type.
#pragma once

#include <cstddef>
#include <vector>

#include "ride/evaluate.h"

namespace ww::ride {

/// Figures of all lanes: a constant for most ids, a column for those that vary.
struct Lanes {
  std::size_t count;     ///< of lanes
  const double* common;  ///< by id
  const Source* source;  ///< by id
  std::vector<std::pair<Id, const double*>>
      columns;  ///< `count` numbers each, padded to lane_padding
};
inline constexpr std::size_t lane_padding = 8;
/// Room for every field of the schema; the common row is filled up to it.
inline constexpr std::size_t lane_field_count = 896;

/// Evaluates lanes [first, first + width of the instruction set); answers go to out[answer * stride
/// + lane].
struct LaneJob {
  const Build* build;
  const Lanes* lanes;
  const Course* course;
  std::size_t first;
  double* out;
  std::size_t stride;
};

/// Finished bikes of one kind of motor, a lane each: every number of the parameter structs in their
/// order, lane_padding lanes of it side by side. Evaluates the lanes from `first` on; answers as
/// above, with lane_padding for a stride.
struct BikeJob {
  build::MotorType motor;
  const double* members;
  const Course* course;
  std::size_t first;
  double* out;
};

/// How many numbers a bike is. A bike holds numbers of one type and nothing else.
template <template <class> class Motor>
constexpr std::size_t bike_members = sizeof(Bike<double, Motor>) / sizeof(double);

/// The same bikes at one speed on the flat, half charged: out[lane] is the force left over, N; less
/// than nothing means that the top speed lies below.
struct SpareJob {
  build::MotorType motor;
  const double* members;
  double speed_mps;
  std::size_t first;
  double* out;
};

struct Kernel {
  const char* name;   ///< "scalar", "avx2", "avx512"
  std::size_t width;  ///< lanes a call
  void (*evaluate)(const LaneJob& job);
  void (*evaluate_bikes)(const BikeJob& job);
  void (*spare_force)(const SpareJob& job);
};

/// The widest kernel this processor runs; `widest` may hold it down (1, 4, 8) for comparisons.
Kernel choose_kernel(std::size_t widest = 8);
/// The narrowest kernel that takes so many lanes at once, else the widest. A wide one costs about
/// the same whether its lanes are used or not: a ride of a lone bike takes 1, 1.5 to
/// 2.2 and 2 to 2.5 times as long with 1, 4 and 8 lanes (measured).
Kernel kernel_for(std::size_t lanes, std::size_t widest = 8);
std::vector<Kernel> all_kernels();

}  // namespace ww::ride
