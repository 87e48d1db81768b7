// SPDX-License-Identifier: MIT
// A second at full throttle and the point at its largest torque, against halving, on builds thrown
// together.
#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "ride/cycle.h"
#include "ride/motor_dispatch.h"
#include "tests/support/world.h"

namespace ww::ride {
namespace {

/// Calls back with every bike of so many random builds that can be ridden.
template <class Callback>
void on_random_bikes(unsigned seed, int count, const Callback& callback) {
  std::mt19937 random(seed);
  for (int i = 0; i < count; ++i) {
    const Build build = support::random_build(random);
    with_motor(build.motor->type, [&]<template <class> class Motor>() {
      Reads reads{
          .used = std::vector<std::uint8_t>(static_cast<std::size_t>(build::schema().size()), 0),
          .missing = {}};
      const auto nominal = nominal_values(build, soft_figures(build));
      const auto bike = bike_of<double, Motor>(build, nominal.view(&reads));
      if (reads.missing.empty()) callback(bike, build.motor->part);
    });
  }
}

/// Where the midpoint rule's end lies, by halving; the pull falls with speed.
template <template <class> class Motor>
double end_by_halving_mps(const Bike<double, Motor>& bike, const PackState<double>& pack,
                          const FullSecond<double>& second) {
  const double mass = model::effective_mass_kg(bike.params.road);
  double low = 0, high = second.wanted_mps;
  for (int i = 0; i < 100; ++i) {
    const double end = 0.5 * (low + high), middle = 0.5 * (second.from_mps + end);
    const double thrust =
        std::min(thrust_available_N(bike, bike.motor, middle, pack), second.asked_N);
    const double pull =
        thrust - road_force(bike.params, Steady<double>{middle, 0, second.headwind_mps});
    (second.from_mps + pull / mass > end ? low : high) = end;
  }
  return low;
}

template <template <class> class Motor>
bool slips(const Bike<double, Motor>& bike) {
  return voltage_shapes_point(bike.motor);
}

TEST(FullSecond, EndsWhereHalvingEnds) {
  int held = 0, slowed = 0, seconds = 0;
  on_random_bikes(31, 120, [&](const auto& bike, const std::string& part) {
    for (const double soc : {0.05, 0.5, 1.0}) {
      const auto pack = settled_pack(bike.params.pack, soc, 1.0);
      for (const double from : {0.0, 3.0, 9.0, 15.0, 20.0, 24.0, 31.0}) {
        for (const auto& second : {FullSecond<double>{from, from + 15, 1e9, 0},
                                   FullSecond<double>{from, from + 0.5, 400, 3}}) {
          const double end = full_throttle_end_mps(bike, bike.motor, pack, second, false);
          // Where a pack is so soft that its voltage gives way before any limit is met, the largest
          // torque of an induction motor is known to a part in a thousand only (docs/ride.md).
          const double hair = slips(bike) && pack.source.resistance_ohm > 0.05 ? 2e-3 : 1e-7;
          ASSERT_NEAR(end, end_by_halving_mps(bike, pack, second), hair)
              << part << " at " << soc << " from " << from;
          ++seconds;
          held += end == second.wanted_mps ? 1 : 0;
          slowed += end < from ? 1 : 0;
        }
      }
    }
  });
  // All that can happen does, or the test would say little.
  EXPECT_GT(seconds, 3000);
  EXPECT_GT(held, 100);
  EXPECT_GT(slowed, 100);
}

TEST(FullSecond, TheLargestTorqueIsOneThatCanBeRun) {
  int weakened = 0, all = 0, given_way = 0;
  on_random_bikes(37, 150, [&](auto bike, const std::string& part) {
    for (const double weakening : {0.0, 1.0}) {
      bike.params.weakening = weakening;
      for (const double soc : {0.05, 0.5, 1.0}) {
        const auto pack = settled_pack(bike.params.pack, soc, 1.0);
        for (double speed = 1; speed < 40; speed += 3) {
          const double omega = motor_speed_radps(bike.params, speed);
          const double torque = torque_available_Nm(bike.params, bike.motor, omega, pack);
          if (!(torque > 1e-3)) continue;
          // A hair less, as no search ends on the very last bit.
          const double hair_less = torque * (1 - 1e-6);
          const bool runs = operate(bike.params, bike.motor, {hair_less, omega}, pack).feasible;
          // Where an induction motor makes the pack's voltage give way, it does so with a slope
          // without end, and the point there is hard to meet (docs/ride.md).
          if (slips(bike)) {
            given_way += runs ? 0 : 1;
          } else {
            EXPECT_TRUE(runs) << part << " at " << soc << ", " << speed << " m/s, " << torque
                              << " Nm, weakening " << weakening;
          }
          ++all;
          weakened += weakening > 0 ? 1 : 0;
        }
      }
    }
  });
  EXPECT_GT(all, 3000);
  EXPECT_GT(weakened, 1000);
  EXPECT_LT(given_way, all / 1000);
}

}  // namespace
}  // namespace ww::ride
