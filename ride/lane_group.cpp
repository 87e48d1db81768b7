// SPDX-License-Identifier: MIT
#include "ride/lane_group.h"

#include <cstring>
#include <type_traits>

#include "base/check.h"
#include "base/dual.h"
#include "ride/motor_dispatch.h"

namespace ww::ride {

namespace {

template <template <class> class Motor>
void take_numbers(const Bike<double, Motor>& bike, BikeNumbers& out) {
  using Two = Bike<Dual<1>, Motor>;
  // Nothing but numbers: twice the number is twice the bike.
  static_assert(sizeof(Two) == 2 * sizeof(bike) &&
                sizeof(bike) == bike_members<Motor> * sizeof(double));
  static_assert(std::is_trivially_copyable_v<Bike<double, Motor>>);
  static_assert(sizeof bike <= sizeof out.at);
  std::memcpy(out.at.data(), &bike, sizeof bike);
}

std::size_t members_of(build::MotorType motor) {
  std::size_t count = 0;
  with_motor(motor, [&]<template <class> class Motor>() { count = bike_members<Motor>; });
  return count;
}

}  // namespace

BikeNumbers bike_numbers(const Build& build, const NominalValues& nominal, Reads* reads) {
  BikeNumbers out{.motor = build.motor->type, .at = {}};
  with_motor(out.motor, [&]<template <class> class Motor>() {
    take_numbers(bike_of<double, Motor>(build, nominal.view(reads)), out);
  });
  return out;
}

void regear(BikeNumbers& bike, const Build& build, const NominalValues& nominal) {
  with_motor(bike.motor, [&]<template <class> class Motor>() {
    Bike<double, Motor> laid;
    std::memcpy(&laid, bike.at.data(), sizeof laid);
    regear(laid, build, nominal.view());
    take_numbers(laid, bike);
  });
}

LaneGroup::LaneGroup(build::MotorType motor) : motor_(motor) {}

void LaneGroup::add(const BikeNumbers& bike) {
  WW_ASSERT(!full() && bike.motor == motor_);
  const std::size_t count = members_of(motor_);
  members_.resize(count * lane_padding);
  // The first bike fills the lanes that may stay empty.
  const std::size_t end = size_ == 0 ? lane_padding : size_ + 1;
  for (std::size_t i = 0; i < count; ++i) {
    for (std::size_t l = size_; l < end; ++l) members_[i * lane_padding + l] = bike.at[i];
  }
  ++size_;
}

void LaneGroup::ride(const Course& course, const Kernel& kernel) {
  WW_ASSERT(size_ > 0);
  for (std::size_t first = 0; first < size_; first += kernel.width)
    kernel.evaluate_bikes({.motor = motor_,
                           .members = members_.data(),
                           .course = &course,
                           .first = first,
                           .out = answers_.data()});
}

std::array<double, lane_padding> LaneGroup::spare_force_N(double speed_mps,
                                                          const Kernel& kernel) const {
  WW_ASSERT(size_ > 0);
  std::array<double, lane_padding> out{};
  for (std::size_t first = 0; first < size_; first += kernel.width)
    kernel.spare_force({.motor = motor_,
                        .members = members_.data(),
                        .speed_mps = speed_mps,
                        .first = first,
                        .out = out.data()});
  return out;
}

}  // namespace ww::ride
