// SPDX-License-Identifier: MIT
// The fine curves agree with the answers and the tables that are computed elsewhere.
#include "ride/curves.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/support/world.h"

namespace ww::ride {
namespace {

using support::cycles;
using support::demo;

const std::vector<std::string> whole{"beginner", "commuter", "reference", "road", "trail"};

Ride ridden(const Build& build, int draws = 0) {
  return ride(build, cycles(), {.draws = draws, .pushes = false});
}

TEST(Curves, ThrustIsThatOfTheTable) {
  for (const auto& name : whole) {
    const Build build = demo(name);
    const Ride r = ridden(build);
    const Detail table = detail(build, r);
    // Asked as the table asks. Its last speed, 24 times a 24th of this, may lie a last bit beside
    // it, and so would every speed and, by up to 3e-14, the thrusts.
    const double fastest = std::max(r.nominal[Answer::speed_top] * 1.15, 10 * (1 / 3.6));
    const auto curve = thrust_curve(build, {fastest, static_cast<int>(table.thrust.size()), 0.8});
    ASSERT_EQ(curve.size(), table.thrust.size()) << name;
    for (std::size_t i = 0; i < curve.size(); ++i) {
      EXPECT_EQ(curve[i].speed_mps, table.thrust[i].speed_mps) << name;
      EXPECT_EQ(curve[i].thrust_N, table.thrust[i].thrust_N) << name;
      EXPECT_EQ(curve[i].limit, table.thrust[i].limit) << name;
    }
  }
  EXPECT_TRUE(thrust_curve(Build{}, {30, 10, 0.5}).empty());
  EXPECT_TRUE(thrust_curve(demo("commuter"), {30, 1, 0.5}).empty());
}

TEST(Curves, LaunchMeetsTheAnswers) {
  for (const auto& name : whole) {
    const Build build = demo(name);
    const Ride r = ridden(build);
    const auto launch = launch_curve(build);
    ASSERT_GT(launch.size(), 10U) << name;
    for (const auto& [answer, speed] :
         {std::pair{Answer::time_0_50, 50 / 3.6}, {Answer::time_0_100, 100 / 3.6}}) {
      if (launch.back().speed_mps < speed || !std::isfinite(r.nominal[answer])) continue;
      double time = 0;
      for (std::size_t i = 0; i + 1 < launch.size(); ++i) {
        const auto &a = launch[i], &b = launch[i + 1];
        if (a.speed_mps <= speed && speed <= b.speed_mps)
          time = a.time_s +
                 (b.time_s - a.time_s) * (speed - a.speed_mps) / (b.speed_mps - a.speed_mps);
      }
      EXPECT_NEAR(time, r.nominal[answer], 0.01 * r.nominal[answer]) << name;
    }
    for (std::size_t i = 0; i + 1 < launch.size(); ++i) {
      // Distance is speed over time: between the slower and the faster end of each step.
      const double dt = launch[i + 1].time_s - launch[i].time_s,
                   ds = launch[i + 1].distance_m - launch[i].distance_m;
      EXPECT_GT(dt, 0);
      EXPECT_GE(ds, launch[i].speed_mps * dt * (1 - 1e-9));
      EXPECT_LE(ds, launch[i + 1].speed_mps * dt * (1 + 1e-9));
    }
  }
}

TEST(Curves, DistanceMeetsTheTableAndTheBand) {
  for (const auto& name : whole) {
    const Build build = demo(name);
    const Ride r = ridden(build, 256);
    const Detail table = detail(build, r);
    std::vector<double> speeds;
    for (const auto& row : table.steady) speeds.push_back(row.speed_mps);
    const auto curve = distance_curve(build, r, speeds, 256);
    ASSERT_EQ(curve.size(), speeds.size());
    for (std::size_t i = 0; i < curve.size(); ++i) {
      EXPECT_NEAR(curve[i].nominal_m, table.steady[i].reserve_kept_m, 1e-6) << name;
      EXPECT_NEAR(curve[i].cold_m, table.steady[i].cold_reserve_kept_m, 1e-6) << name;
      EXPECT_LE(curve[i].p10_m, curve[i].p50_m);
      EXPECT_LE(curve[i].p50_m, curve[i].p90_m);
    }
    if (!build.wishes.hold_speed.known()) continue;
    const auto held = distance_curve(build, r, {build.wishes.hold_speed.value}, 256);
    const Band& band = r.band(Answer::range_hold_reserve);
    if (!(band.p10 > 0)) continue;
    // The same figures drawn by the same sequence; only their order of dimensions may differ.
    EXPECT_NEAR(held[0].p10_m, band.p10, 0.02 * band.p50) << name;
    EXPECT_NEAR(held[0].p50_m, band.p50, 0.01 * band.p50) << name;
    EXPECT_NEAR(held[0].p90_m, band.p90, 0.02 * band.p50) << name;
  }
}

TEST(Curves, SagIsThatOfTheAnswer) {
  for (const auto& name : whole) {
    const Build build = demo(name);
    const Ride r = ridden(build);
    const auto sag = sag_curve(build, 24);
    ASSERT_EQ(sag.points.size(), 24U);
    EXPECT_DOUBLE_EQ(sag.points.front().current_A, 0);
    // The answer: full battery current at a tenth of the charge, coldest day. The curve is a line.
    const auto &a = sag.points.front(), &b = sag.points.back();
    const double volts =
        a.cold_low_V + (b.cold_low_V - a.cold_low_V) * sag.current_max_A / b.current_A;
    EXPECT_NEAR(volts, r.nominal[Answer::voltage_cold_low], 0.01) << name;
  }
}

TEST(Curves, TheMapMeetsTheEdge) {
  for (const auto& name : whole) {
    const auto map = motor_map(demo(name), {12, 8});
    ASSERT_EQ(map.efficiency.size(), 96U) << name;
    for (const double e : map.efficiency) EXPECT_TRUE(std::isnan(e) || (e > 0 && e < 1)) << name;
    EXPECT_TRUE(std::is_sorted(map.speeds_radps.begin(), map.speeds_radps.end()));
    EXPECT_EQ(map.edge_torques_Nm.size(), map.road_torques_Nm.size());
    // At the motor's slow end the most torque there is lies above the road's demand.
    EXPECT_GT(map.edge_torques_Nm.front(), map.road_torques_Nm.front()) << name;
  }
}

TEST(Curves, TheClimbAgreesWithTheEndurance) {
  for (const auto& name : whole) {
    Build build = demo(name);
    // Steep enough to come to a limit within the charge.
    build::set_number(build, build::id_of("wishes.hill_grade"), 0.14);
    build::set_number(build, build::id_of("wishes.hill_speed"), 40 / 3.6);
    const Ride r = ridden(build);
    const auto hill = climb(build);
    EXPECT_DOUBLE_EQ(hill.grade, 0.14);
    if (!hill.climbs) {
      EXPECT_EQ(r.nominal[Answer::hill_time], 0) << name;
      continue;
    }
    double until = hill.moments.back().time_s;
    bool limited = false;
    for (const auto& m : hill.moments) {
      if (m.winding_K < hill.winding_limit_K && m.controller_K < hill.controller_limit_K &&
          m.cells_K < hill.cells_limit_K)
        continue;
      until = m.time_s;
      limited = true;
      break;
    }
    // The answer takes all losses as at the winding's limit, so a part may only get hot sooner in
    // it; and the current as at 80 % charge, while the curve follows the sinking voltage: the
    // charge may last a few per cent less.
    EXPECT_GE(until * (limited ? 1.0 : 1.05) + 10, r.nominal[Answer::hill_time]) << name;
    if (limited) {
      EXPECT_LT(until, 2.5 * r.nominal[Answer::hill_time]) << name;
    }
    for (std::size_t i = 0; i + 1 < hill.moments.size(); ++i) {
      EXPECT_GE(hill.moments[i + 1].winding_K, hill.moments[i].winding_K - 0.5) << name;
      EXPECT_LT(hill.moments[i + 1].charge, hill.moments[i].charge) << name;
    }
  }
}

TEST(Curves, ThrottleAndAgeingAreThoseOfTheTables) {
  const Build build = demo("commuter");
  const Ride r = ridden(build);
  const Detail table = detail(build, r);
  const auto throttle = throttle_curve(build, 11);
  ASSERT_EQ(throttle.size(), table.throttle.size());
  for (std::size_t i = 0; i < throttle.size(); ++i)
    EXPECT_EQ(throttle[i].thrust_N[1], table.throttle[i].thrust_N[1]);
  std::vector<double> years;
  for (const auto& row : table.ageing) years.push_back(row.years);
  const auto ageing = ageing_curve(build, r, years);
  ASSERT_EQ(ageing.size(), table.ageing.size());
  for (std::size_t i = 0; i < ageing.size(); ++i)
    EXPECT_EQ(ageing[i].capacity_left, table.ageing[i].capacity_left);
}

}  // namespace
}  // namespace ww::ride
