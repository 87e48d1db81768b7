// SPDX-License-Identifier: MIT
// The mechanical kernels with other numbers: a dual number has the scalar's value and the numeric
// slopes, a SIMD batch has the scalar's value in every lane.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <string>

#if __has_include(<xsimd/xsimd.hpp>)
#include <xsimd/xsimd.hpp>
#define WW_HAS_XSIMD 1
#endif

#include "base/dual.h"
#include "model/air.h"
#include "model/bolt.h"
#include "model/brake.h"
#include "model/chain.h"
#include "model/key.h"
#include "model/road.h"
#include "model/spring.h"
#include "model/sprocket.h"
#include "model/tyre.h"
#include "model/weight.h"
#include "tests/model/derivatives.h"

namespace ww::model {
namespace {

template <class R>
using Four = std::array<R, 4>;

template <class R>
RoadLoad<R> load(const Four<R>& x) {
  return {.mass_kg = num<R>(200) * x[0],
          .mass_rotating_equivalent_kg = num<R>(10),
          .crr0 = num<R>(0.015) * x[1],
          .crr2_s2pm2 = num<R>(4e-6),
          .drag_area_m2 = num<R>(0.5) * x[2],
          .air_density_kgpm3 = num<R>(1.2)};
}
template <class R>
RoadPoint<R> point(const Four<R>& x) {
  return {.speed_mps = num<R>(20) * x[3],
          .grade = num<R>(0.04) * x[1],
          .headwind_mps = num<R>(3) * x[0]};
}
template <class R>
Stance<R> stance(const Four<R>& x) {
  return {.mass_kg = num<R>(250) * x[0],
          .wheelbase_m = num<R>(1.4) * x[1],
          .cg_to_rear_m = num<R>(0.68) * x[2],
          .cg_height_m = num<R>(0.62) * x[3]};
}
template <class R>
Pull<R> pull(const Four<R>& x) {
  return {.grade = num<R>(0.1) * x[0],
          .drag_N = num<R>(200) * x[1],
          .drag_height_m = num<R>(0.8) * x[2]};
}
template <class R>
ChainTeeth<R> teeth(const Four<R>& x) {
  return {
      .pitch_m = num<R>(0.015875) * x[0], .front = num<R>(14) * x[1], .rear = num<R>(45) * x[2]};
}
template <class R>
ChainRun<R> run(const Four<R>& x) {
  return {.sprocket_x_m = num<R>(0.08) * x[3],
          .sprocket_z_m = num<R>(0.01) * x[0],
          .swingarm_length_m = num<R>(0.55),
          .teeth = teeth(x)};
}
template <class R>
Sprocket<R> sprocket(const Four<R>& x) {
  return {.pitch_m = num<R>(0.015875) * x[0],
          .roller_diameter_m = num<R>(0.01016) * x[1],
          .teeth = num<R>(17) * x[2]};
}
template <class R>
BoltThread<R> thread(const Four<R>& x) {
  return {.diameter_m = num<R>(0.008) * x[0], .pitch_m = num<R>(0.00125) * x[1]};
}
template <class R>
KeyJoint<R> key(const Four<R>& x) {
  return {.torque_Nm = num<R>(60) * x[0],
          .shaft_diameter_m = num<R>(0.022) * x[1],
          .width_m = num<R>(0.006) * x[2],
          .height_m = num<R>(0.006) * x[3],
          .length_m = num<R>(0.025)};
}
template <class R>
QuadraticLoad<R> quadratic(const Four<R>& x) {
  return {.constant_N = num<R>(9) * x[0], .quadratic_Ns2pm2 = num<R>(0.32) * x[1]};
}
template <class R>
CoastDown<R> coast(const Four<R>& x) {
  return {.mass_effective_kg = num<R>(200),
          .speed_start_mps = num<R>(20) * x[2],
          .speed_end_mps = num<R>(15) * x[3]};
}
template <class R>
ChainLoss<R> loss(const Four<R>& x) {
  return {.load_share = num<R>(0.015) * x[0], .drag_N = num<R>(5) * x[1]};
}

/// Every kernel as a function of four factors near 1.
template <class Visit>
void for_each_case(const Visit& visit) {
  visit("pitch_diameter",
        [](auto x) { return pitch_diameter_m(x[0], num<decltype(x[0] + x[0])>(17) * x[1]); });
  visit("tip_diameter_max", [](auto x) { return tip_diameter_max_m(sprocket(x)); });
  visit("tip_diameter_min", [](auto x) { return tip_diameter_min_m(sprocket(x)); });
  visit("seat_radius_max", [](auto x) { return seat_radius_max_m(x[0]); });
  visit("flank_radius_max", [](auto x) { return flank_radius_max_form_m(sprocket(x)); });
  visit("tooth_height_max", [](auto x) { return tooth_height_max_m(sprocket(x)); });
  visit("asme_f", [](auto x) { return asme_tooth(sprocket(x)).f_m; });
  visit("asme_h", [](auto x) { return asme_tooth(sprocket(x)).h_m; });
  visit("asme_yz", [](auto x) { return asme_tooth(sprocket(x)).yz_m; });
  visit("outside_pointed", [](auto x) { return outside_diameter_pointed_m(sprocket(x)); });
  visit("run_out_radial",
        [](auto x) { return run_out_radial_limit_m(x[0] * x[0] / (x[0] + x[0] + x[0])); });
  visit("chain_length",
        [](auto x) { return chain_length_pitches(teeth(x), x[3] / (x[0] + x[0])); });
  visit("chain_centre",
        [](auto x) { return chain_centre_m(teeth(x), teeth(x).rear + teeth(x).rear); });
  visit("chain_path", [](auto x) { return chain_path_pitches(teeth(x), x[3]); });
  visit("wrap_rear", [](auto x) { return wrap_rear_rad(pitch_circles(teeth(x), x[3])); });
  visit("open_belt", [](auto x) { return open_belt_length_m(pitch_circles(teeth(x), x[3])); });
  visit("free_span", [](auto x) { return free_span_m(pitch_circles(teeth(x), x[3])); });
  visit("polygon_mean", [](auto x) { return speed_variation_of_mean(teeth(x).front); });
  visit("polygon_max", [](auto x) { return speed_variation_of_max(teeth(x).front); });
  visit("plate_power", [](auto x) {
    return plate_power_limit_W(
        ChainRating<typename decltype(x)::value_type>{teeth(x).pitch_m, teeth(x).front, x[3]},
        x[2]);
  });
  visit("roller_power", [](auto x) {
    return roller_power_limit_W(
        ChainRating<typename decltype(x)::value_type>{teeth(x).pitch_m, teeth(x).front, x[3]},
        x[2]);
  });
  visit("path_at_angle", [](auto x) { return path_at_angle_m(run(x), x[3] - x[0]); });
  visit("path_tight", [](auto x) {
    using R = typename decltype(x)::value_type;
    return chain_travel(run(x), SwingarmTravel<R>{num<R>(-0.3) * x[1], num<R>(0.1) * x[2]})
        .path_tight_m;
  });
  visit("path_slack", [](auto x) {
    using R = typename decltype(x)::value_type;
    return chain_travel(run(x), SwingarmTravel<R>{num<R>(-0.3) * x[1], num<R>(0.1) * x[2]})
        .path_slack_m;
  });
  visit("play", [](auto x) { return midspan_play_m(x[0], x[1] * x[2]); });
  visit("excess", [](auto x) { return excess_for_play_m(x[0], x[1] * x[2]); });
  visit("rear_driving",
        [](auto x) { return tension_rear_N(loss(x), x[2] * x[3] * (x[0] / loss(x).load_share)); });
  visit("rear_regen",
        [](auto x) { return tension_rear_N(loss(x), -x[2] * x[3] / loss(x).load_share); });
  visit("front_driving",
        [](auto x) { return tension_front_N(loss(x), x[2] * x[3] / loss(x).load_share); });
  visit("efficiency",
        [](auto x) { return chain_efficiency(loss(x), x[2] * x[3] / loss(x).load_share); });
  visit("efficiency_regen",
        [](auto x) { return chain_efficiency(loss(x), -x[2] * x[3] / loss(x).load_share); });
  visit("key_pressure", [](auto x) { return key_pressure_Pa(key(x)); });
  visit("key_shear", [](auto x) { return key_shear_Pa(key(x)); });
  visit("key_hub",
        [](auto x) { return key_pressure_hub_Pa(key(x), key(x).height_m / (x[0] + x[1])); });
  visit("keyway", [](auto x) {
    using R = typename decltype(x)::value_type;
    return shaft_over_keyway_m(KeySeat<R>{x[0], num<R>(0.25) * x[1], num<R>(0.25) * x[2]});
  });
  visit("stress_area", [](auto x) { return stress_area_m2(thread(x)); });
  visit("assembly_preload", [](auto x) {
    using R = typename decltype(x)::value_type;
    return assembly_preload_N(thread(x), num<R>(640e6) * x[2], num<R>(0.12) * x[3]);
  });
  visit("tightening", [](auto x) {
    using R = typename decltype(x)::value_type;
    return tightening_torque_Nm(
        thread(x), BoltFriction<R>{num<R>(0.12) * x[2], num<R>(0.12) * x[3]}, x[0], x[1]);
  });
  visit("rolling_radius", [](auto x) {
    using R = typename decltype(x)::value_type;
    return rolling_radius_m(
        tyre_diameter_m(TyreSize<R>{num<R>(0.12) * x[0], num<R>(0.8) * x[1], num<R>(0.457) * x[2]}),
        num<R>(3.0) * x[3]);
  });
  visit("air_density", [](auto x) {
    using R = typename decltype(x)::value_type;
    return air_density_kgpm3(Air<R>{num<R>(1e5) * x[0], num<R>(290) * x[1], num<R>(0.5) * x[2]});
  });
  visit("standard_density", [](auto x) {
    using R = typename decltype(x)::value_type;
    return standard_density_kgpm3(num<R>(1500) * x[0]);
  });
  visit("road_force", [](auto x) { return road_force_N(load(x), point(x)); });
  visit("drag_cross", [](auto x) { return drag_force_cross_N(load(x), point(x), x[0] + x[1]); });
  visit("crr_tyre", [](auto x) {
    using R = typename decltype(x)::value_type;
    return crr_motorcycle_tyre(num<R>(25) * x[0], num<R>(2.3e5) * x[1]);
  });
  visit("drag_equals_rolling", [](auto x) { return drag_equals_rolling_mps(load(x)); });
  visit("advance_speed", [](auto x) {
    using R = typename decltype(x)::value_type;
    return advance(load(x), point(x), num<R>(400) * x[2], num<R>(0.5) * x[3]).speed_end_mps;
  });
  visit("advance_stop", [](auto x) {
    using R = typename decltype(x)::value_type;
    return advance(load(x), point(x), num<R>(-9000) * x[2], num<R>(2) * x[3]).distance_m;
  });
  visit("trace_energy", [](auto x) {
    using R = typename decltype(x)::value_type;
    return trace_demand(load(x), TraceStep<R>{num<R>(12) * x[0], num<R>(13) * x[1], x[2],
                                              num<R>(0.02) * x[3], x[0]})
        .energy_J;
  });
  visit("coast_time", [](auto x) { return coast_down_time_s(quadratic(x), coast(x)); });
  visit("coast_distance", [](auto x) { return coast_down_distance_m(quadratic(x), coast(x)); });
  visit("us_load", [](auto x) {
    using R = typename decltype(x)::value_type;
    return quadratic_force_N(us_motorcycle_load(num<R>(200) * x[0]), num<R>(20) * x[1]);
  });
  visit("rayleigh", [](auto x) {
    using R = typename decltype(x)::value_type;
    return rayleigh_wind_mps(num<R>(4) * x[0], num<R>(0.5) * x[1]);
  });
  visit("wind_height", [](auto x) {
    using R = typename decltype(x)::value_type;
    return wind_at_height_mps(num<R>(5) * x[0], num<R>(1.2) * x[1]);
  });
  visit("wheelie", [](auto x) { return wheelie_acceleration_mps2(stance(x), pull(x)); });
  visit("stoppie", [](auto x) { return stoppie_deceleration_mps2(stance(x), pull(x)); });
  visit("thrust_limit", [](auto x) {
    using R = typename decltype(x)::value_type;
    return thrust_limit_N(stance(x), pull(x), num<R>(0.7) * x[3]);
  });
  visit("rear_braking", [](auto x) {
    using R = typename decltype(x)::value_type;
    return rear_braking_limit_N(stance(x), pull(x), num<R>(0.7) * x[3]);
  });
  visit("cg_height", [](auto x) {
    using R = typename decltype(x)::value_type;
    return cg_height_m(TiltedWeighing<R>{num<R>(200) * x[0], num<R>(98), num<R>(112) * x[1],
                                         num<R>(1.4) * x[2], num<R>(0.31), num<R>(0.3) * x[3]});
  });
  visit("sag", [](auto x) {
    using R = typename decltype(x)::value_type;
    return spring_sag_m(Spring<R>{num<R>(8000) * x[0], num<R>(0.01) * x[1]}, num<R>(400) * x[2]);
  });
  visit("stop_distance", [](auto x) {
    using R = typename decltype(x)::value_type;
    return stop_distance_m(Stop<R>{num<R>(25) * x[0], num<R>(6) * x[1], x[2]});
  });
}

const std::array<Four<double>, 3> states{
    {{1.03, 0.98, 1.01, 0.99}, {0.96, 1.04, 0.97, 1.02}, {1.01, 1.02, 1.05, 0.95}}};

TEST(MechNumbers, DualHasTheScalarsValueAndTheNumericSlopes) {
  for_each_case([](const std::string& name, const auto& f) {
    for (const auto& x : states) expect_derivatives<4>(name, x, f);
  });
}

#ifdef WW_HAS_XSIMD
TEST(MechNumbers, EveryLaneOfABatchHasTheScalarsValue) {
  using Batch = xsimd::batch<double>;
  constexpr std::size_t lanes = Batch::size;
  for_each_case([](const std::string& name, const auto& f) {
    Four<std::array<double, lanes>> columns{};
    for (std::size_t lane = 0; lane < lanes; ++lane) {
      for (std::size_t k = 0; k < 4; ++k) columns[k][lane] = states[lane % states.size()][k];
    }
    Four<Batch> x;
    for (std::size_t k = 0; k < 4; ++k) x[k] = Batch::load_unaligned(columns[k].data());
    std::array<double, lanes> got{};
    f(x).store_unaligned(got.data());
    for (std::size_t lane = 0; lane < lanes; ++lane) {
      const double expected = f(states[lane % states.size()]);
      EXPECT_NEAR(got[lane], expected, 1e-12 * std::fabs(expected)) << name << ", lane " << lane;
    }
  });
}

TEST(MechNumbers, ALaneOutsideItsDomainIsNotANumberAndLeavesTheOthersAlone) {
  using Batch = xsimd::batch<double>;
  constexpr std::size_t lanes = Batch::size;
  std::array<double, lanes> speeds{}, got{};
  for (std::size_t lane = 0; lane < lanes; ++lane) speeds[lane] = lane == 0 ? -5 : 20;
  const Batch one(1.0);
  const Four<Batch> x{one, one, one, one};
  auto at = point(x);
  at.speed_mps = Batch::load_unaligned(speeds.data());
  advance(load(x), at, Batch(100.0), Batch(0.5)).speed_end_mps.store_unaligned(got.data());
  EXPECT_TRUE(std::isnan(got[0]));
  EXPECT_TRUE(std::isfinite(got[lanes - 1]));
  for (std::size_t lane = 0; lane < lanes; ++lane) speeds[lane] = lane == 0 ? NAN : 500;
  chain_efficiency(loss(x), Batch::load_unaligned(speeds.data())).store_unaligned(got.data());
  EXPECT_TRUE(std::isnan(got[0]));
  EXPECT_TRUE(std::isfinite(got[lanes - 1]));
  for (std::size_t lane = 0; lane < lanes; ++lane) speeds[lane] = lane == 0 ? 50 : 200;
  us_motorcycle_load(Batch::load_unaligned(speeds.data())).constant_N.store_unaligned(got.data());
  EXPECT_TRUE(std::isnan(got[0]));
  EXPECT_TRUE(std::isfinite(got[lanes - 1]));
}
#endif

}  // namespace
}  // namespace ww::model
