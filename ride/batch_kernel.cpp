// SPDX-License-Identifier: MIT
// Compiled once an instruction set with WW_ARCH naming it (see CMakeLists.txt). No container or
// libm call of another file's type is made here, so that no inline function of a wide object can be
// taken by the rest of the program.
#include <cstring>
#include <type_traits>

#include "ride/batch.h"
#include "ride/lane_number.h"
#include "ride/motor_dispatch.h"

namespace ww::ride::WW_ARCH {

namespace {

void store(const Answers<Number>& answers, double* out, std::size_t stride) {
  for (std::size_t a = 0; a < answer_count; ++a) store_lanes(answers.at[a], out + a * stride);
}

template <template <class> class Motor>
void ride_lanes(const LaneJob& job, const Values<Number>& values) {
  const auto bike = bike_of<Number, Motor>(*job.build, values);
  store(evaluate(bike, *job.course), job.out + job.first, job.stride);
}

template <template <class> class Motor>
Bike<Number, Motor> bike_in_lanes(const double* numbers, std::size_t first) {
  constexpr std::size_t count = bike_members<Motor>;
  static_assert(sizeof(Bike<Number, Motor>) == count * sizeof(Number));
  static_assert(std::is_trivially_copyable_v<Bike<Number, Motor>>);
  Number members[count];
  for (std::size_t i = 0; i < count; ++i)
    members[i] = load_lanes(numbers + i * lane_padding + first);
  Bike<Number, Motor> bike;
  std::memcpy(&bike, members, sizeof bike);
  return bike;
}

}  // namespace

void evaluate_lanes(const LaneJob& job) {
  const LaneValues values(*job.lanes, job.first);
  with_motor(job.build->motor->type,
             [&]<template <class> class Motor>() { ride_lanes<Motor>(job, values.view()); });
}

void evaluate_bikes(const BikeJob& job) {
  with_motor(job.motor, [&]<template <class> class Motor>() {
    store(evaluate(bike_in_lanes<Motor>(job.members, job.first), *job.course), job.out + job.first,
          lane_padding);
  });
}

void spare_force(const SpareJob& job) {
  with_motor(job.motor, [&]<template <class> class Motor>() {
    const auto bike = bike_in_lanes<Motor>(job.members, job.first);
    store_lanes(spare_force_N(bike, Number(job.speed_mps)), job.out + job.first);
  });
}

}  // namespace ww::ride::WW_ARCH
