// SPDX-License-Identifier: MIT
// Identities of the road: resistance, steps, coast-down, wind, weight, springs, brakes, air.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <functional>
#include <vector>

#include "model/air.h"
#include "model/brake.h"
#include "model/road.h"
#include "model/spring.h"
#include "model/tyre.h"
#include "model/weight.h"

namespace ww::model {
namespace {

constexpr double gravity = 9.80665;

const RoadLoad<double> bike{.mass_kg = 295,
                            .mass_rotating_equivalent_kg = 12,
                            .crr0 = 0.015,
                            .crr2_s2pm2 = 5e-6,
                            .drag_area_m2 = 0.55,
                            .air_density_kgpm3 = 1.2};

const std::vector<RoadPoint<double>> points{{.speed_mps = 0, .grade = 0, .headwind_mps = 0},
                                            {.speed_mps = 8, .grade = 0.12, .headwind_mps = -3},
                                            {.speed_mps = 20, .grade = -0.05, .headwind_mps = 4},
                                            {.speed_mps = 33, .grade = 0.02, .headwind_mps = -40},
                                            {.speed_mps = 55, .grade = 0, .headwind_mps = 0}};

TEST(Road, SlopeForcesAreThePartsOfTheWeight) {
  for (const auto& at : points) {
    const double angle = std::atan(at.grade);
    const double rolling = bike.crr0 + bike.crr2_s2pm2 * at.speed_mps * at.speed_mps;
    EXPECT_NEAR(grade_force_N(bike, at), bike.mass_kg * gravity * std::sin(angle), 1e-9);
    EXPECT_NEAR(rolling_force_N(bike, at), bike.mass_kg * gravity * std::cos(angle) * rolling,
                1e-9);
    EXPECT_NEAR(drag_force_cross_N(bike, at, 0.0), drag_force_N(bike, at), 1e-9);
  }
}

// What a step does to the energy: thrust less resistance, over the way, is the change of kinetic
// energy.
TEST(Road, AStepKeepsTheEnergy) {
  const double mass = effective_mass_kg(bike);
  EXPECT_DOUBLE_EQ(mass, 307);
  for (const auto& at : points) {
    for (const double thrust : {-2500.0, -300.0, 0.0, 150.0, 900.0}) {
      for (const double dt : {0.05, 1.0}) {
        const auto step = advance(bike, at, thrust, dt);
        const double v0 = at.speed_mps, v1 = step.speed_end_mps;
        EXPECT_NEAR((thrust - step.resistance_N) * step.distance_m, mass * (v1 * v1 - v0 * v0) / 2,
                    1e-8 * mass * (1 + v0 * v0));
        EXPECT_NEAR(step.distance_m, (v0 + v1) / 2 * step.duration_moving_s, 1e-12);
        EXPECT_GE(v1, 0);
        EXPECT_LE(step.duration_moving_s, dt);
      }
    }
  }
}

TEST(Road, ABrakedBikeComesToRestAndStays) {
  const RoadPoint<double> slow{.speed_mps = 2, .grade = 0, .headwind_mps = 0};
  EXPECT_LT(
      advance(bike, {.speed_mps = 0.1, .grade = 0, .headwind_mps = 0}, -2000.0, 1.0).distance_m,
      0.001);
  const auto stop = advance(bike, slow, -2000.0, 1.0);
  EXPECT_EQ(stop.speed_end_mps, 0);
  EXPECT_LT(stop.duration_moving_s, 0.35);
  EXPECT_NEAR(stop.distance_m, stop.duration_moving_s, 1e-12);
  const RoadPoint<double> rest{.speed_mps = 0, .grade = 0.05, .headwind_mps = 0};
  EXPECT_EQ(advance(bike, rest, 0.0, 1.0).speed_end_mps, 0);
  EXPECT_EQ(advance(bike, rest, 0.0, 1.0).distance_m, 0);
  EXPECT_GT(advance(bike, rest, 900.0, 1.0).speed_end_mps, 0);
  EXPECT_TRUE(std::isnan(advance(bike, rest, 900.0, 0.0).speed_end_mps));
  EXPECT_TRUE(std::isnan(advance(bike, rest, 900.0, 0.0).distance_m));
}

double coast_time(const RoadLoad<double>& load, double from, double to, int steps) {
  // March the time that the closed form says and report the speed's error as time.
  const CoastDown<double> run{
      .mass_effective_kg = effective_mass_kg(load), .speed_start_mps = from, .speed_end_mps = to};
  const double time = coast_down_time_s(quadratic_of(load), run);
  double speed = from, way = 0;
  for (int i = 0; i < steps; ++i) {
    const auto next =
        advance(load, {.speed_mps = speed, .grade = 0, .headwind_mps = 0}, 0.0, time / steps);
    speed = next.speed_end_mps;
    way += next.distance_m;
  }
  if (steps >= 4000) {
    EXPECT_NEAR(way, coast_down_distance_m(quadratic_of(load), run), 1e-5 * way);
  }
  return speed - to;
}

TEST(Road, SteppingMeetsTheClosedCoastDownWithTheMethodsOrder) {
  for (const double to : {5.0, 15.0, 25.0}) {
    EXPECT_NEAR(coast_time(bike, 30, to, 4000), 0, 1e-6);
    const double coarse = coast_time(bike, 30, to, 20);
    const double fine = coast_time(bike, 30, to, 40);
    EXPECT_NEAR(coarse / fine, 4, 0.4);
  }
}

TEST(Road, CoastDownWithoutRollingIsNoException) {
  const CoastDown<double> run{.mass_effective_kg = 200, .speed_start_mps = 20, .speed_end_mps = 10};
  const QuadraticLoad<double> none{.constant_N = 0, .quadratic_Ns2pm2 = 0.3};
  const QuadraticLoad<double> little{.constant_N = 1e-9, .quadratic_Ns2pm2 = 0.3};
  EXPECT_NEAR(coast_down_time_s(none, run), 200 / 0.3 * (1.0 / 10 - 1.0 / 20), 1e-9);
  EXPECT_NEAR(coast_down_time_s(little, run), coast_down_time_s(none, run), 1e-6);
  const QuadraticLoad<double> both{.constant_N = 40, .quadratic_Ns2pm2 = 0.3};
  const double k = std::sqrt(0.3 / 40);
  EXPECT_NEAR(coast_down_time_s(both, run),
              200 / std::sqrt(0.3 * 40) * (std::atan(20 * k) - std::atan(10 * k)), 1e-10);
  // The timed mean force lies between the forces at both ends.
  const double mean = coast_down_force_N(run, coast_down_time_s(both, run));
  EXPECT_GT(mean, quadratic_force_N(both, 10.0));
  EXPECT_LT(mean, quadratic_force_N(both, 20.0));
}

TEST(Road, CoastDownRefusesWhatCannotSlow) {
  const QuadraticLoad<double> load{.constant_N = 40, .quadratic_Ns2pm2 = 0.3};
  const CoastDown<double> good{
      .mass_effective_kg = 200, .speed_start_mps = 20, .speed_end_mps = 10};
  const auto both_nan = [](const QuadraticLoad<double>& l, const CoastDown<double>& r) {
    return std::isnan(coast_down_time_s(l, r)) && std::isnan(coast_down_distance_m(l, r));
  };
  EXPECT_FALSE(both_nan(load, good));
  EXPECT_TRUE(both_nan({.constant_N = -1, .quadratic_Ns2pm2 = 0.3}, good));
  EXPECT_TRUE(both_nan({.constant_N = 40, .quadratic_Ns2pm2 = 0}, good));
  auto bad = good;
  bad.mass_effective_kg = 0;
  EXPECT_TRUE(both_nan(load, bad));
  bad = good;
  bad.speed_end_mps = 21;
  EXPECT_TRUE(both_nan(load, bad));
  bad.speed_end_mps = -1;
  EXPECT_TRUE(both_nan(load, bad));
  bad.speed_end_mps = 0;
  EXPECT_FALSE(both_nan(load, bad));
  EXPECT_TRUE(both_nan({.constant_N = 0, .quadratic_Ns2pm2 = 0.3}, bad));
  EXPECT_TRUE(std::isnan(coast_down_force_N(good, 0.0)));
  bad.speed_start_mps = 0;
  EXPECT_TRUE(std::isnan(coast_down_force_N(bad, 1.0)));
}

TEST(Road, QuadraticLoadIsTheLevelRoad) {
  const auto q = quadratic_of(bike);
  for (const double v : {0.0, 5.0, 20.0, 60.0}) {
    EXPECT_NEAR(quadratic_force_N(q, v),
                road_force_N(bike, {.speed_mps = v, .grade = 0, .headwind_mps = 0}), 1e-9);
  }
  EXPECT_TRUE(std::isnan(quadratic_force_N(q, -1.0)));
  auto smooth = bike;
  smooth.crr2_s2pm2 = 0;
  EXPECT_NEAR(drag_area_of_m2(quadratic_of(smooth), 1.2), 0.55, 1e-14);
  const double v = drag_equals_rolling_mps(smooth);
  EXPECT_NEAR(drag_force_N(smooth, {.speed_mps = v, .grade = 0, .headwind_mps = 0}),
              rolling_force_N(smooth, {.speed_mps = v, .grade = 0, .headwind_mps = 0}), 1e-9);
}

TEST(Road, TheTraceAsksForWhatAStepWouldNeed) {
  const TraceStep<double> trace{.speed_start_mps = 12,
                                .speed_end_mps = 13.5,
                                .duration_s = 1,
                                .grade = 0.03,
                                .headwind_mps = 2};
  const auto demand = trace_demand(bike, trace);
  const auto step =
      advance(bike, {.speed_mps = 12, .grade = 0.03, .headwind_mps = 2}, demand.force_N, 1.0);
  EXPECT_NEAR(step.speed_end_mps, 13.5, 1e-3);
  EXPECT_DOUBLE_EQ(demand.distance_m, 12.75);
  EXPECT_DOUBLE_EQ(demand.energy_J, demand.force_N * demand.distance_m);
  const double middle = road_force_N(bike, {.speed_mps = 12.75, .grade = 0.03, .headwind_mps = 2});
  EXPECT_NEAR(demand.force_N - middle, 307 * 1.5, 1e-9);
  const TraceStep<double> idle{
      .speed_start_mps = 0, .speed_end_mps = 0, .duration_s = 1, .grade = 0.1, .headwind_mps = 0};
  EXPECT_EQ(trace_demand(bike, idle).force_N, 0);
  TraceStep<double> backwards = idle;
  backwards.speed_end_mps = -1;
  EXPECT_TRUE(std::isnan(trace_demand(bike, backwards).force_N));
  auto frozen = trace;
  frozen.duration_s = 0;
  EXPECT_TRUE(std::isnan(trace_demand(bike, frozen).distance_m));
}

TEST(Road, RotatingPartsHoldTheirKineticEnergy) {
  const RotatingParts<double> parts{.inertia_front_kgm2 = 0.5,
                                    .radius_front_m = 0.29,
                                    .inertia_rear_kgm2 = 0.8,
                                    .radius_rear_m = 0.31,
                                    .inertia_motor_kgm2 = 0.01,
                                    .ratio = 4};
  const double v = 17;
  const double front = 0.5 * 0.5 * std::pow(v / 0.29, 2);
  const double rear = 0.5 * 0.8 * std::pow(v / 0.31, 2);
  const double motor = 0.5 * 0.01 * std::pow(shaft_speed_radps(v, 4.0, 0.31), 2);
  EXPECT_NEAR(0.5 * rotating_equivalent_kg(parts) * v * v, front + rear + motor, 1e-9);
  EXPECT_NEAR(road_speed_mps(shaft_speed_radps(v, 4.0, 0.31), 4.0, 0.31), v, 1e-12);
  auto wrong = parts;
  wrong.radius_front_m = 0;
  EXPECT_TRUE(std::isnan(rotating_equivalent_kg(wrong)));
  wrong = parts;
  wrong.radius_rear_m = 0;
  EXPECT_TRUE(std::isnan(rotating_equivalent_kg(wrong)));
}

double mean_over_directions(double wind_over_speed) {
  const double v = 25;
  double sum = 0;
  const int directions = 720;
  for (int i = 0; i < directions; ++i) {
    const double phi = 2 * pi * i / directions, wind = wind_over_speed * v;
    sum +=
        drag_force_cross_N(bike, {.speed_mps = v, .grade = 0, .headwind_mps = wind * std::cos(phi)},
                           wind * std::sin(phi));
  }
  return sum / directions / drag_force_N(bike, {.speed_mps = v, .grade = 0, .headwind_mps = 0});
}

TEST(Wind, FactorsAreMeansOfTheDrag) {
  for (const double x : {0.0, 0.1, 0.3, 0.6}) {
    EXPECT_NEAR(wind_factor_any_direction(x), mean_over_directions(x),
                0.01 * mean_over_directions(x));
  }
  EXPECT_NEAR(wind_factor_any_direction(0.05), mean_over_directions(0.05), 1e-6);
  // Rayleigh: a thousand quantiles of the wind, each from all sides.
  const double mean_wind = 0.1;
  double sum = 0, wind = 0;
  for (int i = 0; i < 1000; ++i) {
    const double w = rayleigh_wind_mps(mean_wind, (i + 0.5) / 1000);
    sum += wind_factor_any_direction(w) / 1000;
    wind += w / 1000;
  }
  EXPECT_NEAR(wind, mean_wind, 1e-4);
  EXPECT_NEAR(wind_factor_rayleigh(mean_wind), sum, 2e-5);
  for (const double x : {0.2, 0.7}) {
    const RoadPoint<double> out{.speed_mps = 25, .grade = 0, .headwind_mps = 25 * x};
    const RoadPoint<double> back{.speed_mps = 25, .grade = 0, .headwind_mps = -25 * x};
    const RoadPoint<double> still{.speed_mps = 25, .grade = 0, .headwind_mps = 0};
    EXPECT_NEAR(
        wind_factor_out_and_back(x),
        (drag_force_N(bike, out) + drag_force_N(bike, back)) / 2 / drag_force_N(bike, still),
        1e-12);
  }
}

TEST(Wind, HeightLawsMeetAtTenMetres) {
  EXPECT_NEAR(wind_at_height_mps(6.0, 10.0), 6, 1e-12);
  EXPECT_NEAR(wind_share_log_law(10.0, 0.1), 1, 1e-12);
  EXPECT_LT(wind_at_height_mps(6.0, 1.2), wind_at_height_mps(6.0, 2.0));
  EXPECT_LT(wind_share_log_law(1.2, 0.1), wind_share_log_law(2.0, 0.1));
}

TEST(Curve, SpeedLeanAndLayoutAgree) {
  const double lateral = lateral_acceleration_mps2(0.4);
  const double v = curve_speed_mps(lateral, 50.0);
  EXPECT_NEAR(std::atan(v * v / (gravity * 50)), 0.4, 1e-14);
  // 127 stands for g in km/h and metres: 3.6^2 x 9.80665 = 127.09.
  const double laid_out = curve_design_speed_mps(200.0, 0.2);
  EXPECT_NEAR(laid_out, curve_speed_mps(0.2 * gravity, 200.0), 1e-3 * laid_out);
}

TEST(Cycle, FiguresOfAHandMadeTrace) {
  const std::vector<double> speeds{0, 0, 2, 6, 6, 6.05, 3, 0, 0, 1};
  const auto f = cycle_figures(std::span<const double>(speeds), 2.0);
  EXPECT_DOUBLE_EQ(f.duration_s, 18);
  EXPECT_NEAR(f.distance_m, 2 * 23.55, 1e-12);  // trapezoids, counted by hand
  EXPECT_NEAR(f.speed_mean_mps, f.distance_m / 18, 1e-14);
  EXPECT_DOUBLE_EQ(f.speed_max_mps, 6.05);
  EXPECT_NEAR(f.idle_share, 2.0 / 9, 1e-14);
  EXPECT_DOUBLE_EQ(f.starts, 2);
  EXPECT_DOUBLE_EQ(f.acceleration_max_mps2, 2);
  EXPECT_DOUBLE_EQ(f.deceleration_max_mps2, 1.525);
  EXPECT_NEAR(f.acceleration_mean_mps2, (1 + 2 + 0.5) / 3,
              1e-14);  // the creep of 0.025 does not count
  EXPECT_NEAR(f.deceleration_mean_mps2, (1.525 + 1.5) / 2, 1e-14);
  // v a where a > 0 is half the difference of the squares.
  EXPECT_NEAR(f.positive_acceleration_mps2 * f.distance_m, (6.05 * 6.05 + 1) / 2, 1e-12);
  // A step of a tenth as typed is not above a tenth.
  const std::vector<double> gentle{1.0, 1.1, 1.0};
  const auto g = cycle_figures(std::span<const double>(gentle), 1.0);
  EXPECT_EQ(g.acceleration_mean_mps2, 0);
  EXPECT_EQ(g.deceleration_mean_mps2, 0);
  const auto none = cycle_figures(std::span<const double>(), 1.0);
  EXPECT_EQ(none.duration_s, 0);
  EXPECT_EQ(none.speed_mean_mps, 0);
  EXPECT_EQ(none.idle_share, 0);
}

TEST(Range, CombinedLiesBetweenAndIsNearerTheShorter) {
  EXPECT_NEAR(range_combined_m(100.0, 100.0), 100, 1e-12);
  EXPECT_LT(range_combined_m(160.0, 100.0), 130);
  EXPECT_GT(range_combined_m(160.0, 100.0), 100);
  EXPECT_DOUBLE_EQ(range_combined_m(160.0, 100.0), range_combined_m(100.0, 160.0));
}

// ------------------------------------------------------------------------------------------------

const Stance<double> stance{
    .mass_kg = 295, .wheelbase_m = 1.4, .cg_to_rear_m = 0.68, .cg_height_m = 0.66};
const std::vector<Pull<double>> pulls{{.grade = 0, .drag_N = 0, .drag_height_m = 0},
                                      {.grade = 0.15, .drag_N = 200, .drag_height_m = 0.9},
                                      {.grade = -0.1, .drag_N = 350, .drag_height_m = 0.5}};

TEST(Weight, LoadsSumToTheWeightAndTransferIsMoved) {
  for (const auto& pull : pulls) {
    const double across = 295 * gravity * std::cos(std::atan(pull.grade));
    for (const double a : {-6.0, 0.0, 3.0}) {
      const auto loads = wheel_loads(stance, pull, a);
      EXPECT_NEAR(loads.front_N + loads.rear_N, across, 1e-9);
      const auto steady = wheel_loads(stance, pull, 0.0);
      EXPECT_NEAR(steady.front_N - loads.front_N, load_transfer_N(stance, a), 1e-9);
    }
  }
}

// Acceleration that a thrust gives: what drag and slope leave of it.
double acceleration(const Pull<double>& pull, double thrust) {
  const double along = 295 * gravity * std::sin(std::atan(pull.grade));
  return (thrust - pull.drag_N - along) / 295;
}

TEST(Weight, LimitsAreWhereAWheelIsJustFree) {
  for (const auto& pull : pulls) {
    const double lift = wheelie_thrust_N(stance, pull);
    EXPECT_NEAR(wheelie_acceleration_mps2(stance, pull), acceleration(pull, lift), 1e-12);
    EXPECT_NEAR(wheel_loads(stance, pull, acceleration(pull, lift)).front_N, 0, 1e-9);
    const double stoppie = stoppie_deceleration_mps2(stance, pull);
    EXPECT_NEAR(wheel_loads(stance, pull, -stoppie).rear_N, 0, 1e-9);
  }
}

TEST(Weight, GripLimitsAreFrictionTimesTheRearLoad) {
  for (const auto& pull : pulls) {
    for (const double mu : {0.2, 0.7, 1.0}) {
      const double thrust = grip_thrust_N(stance, pull, mu);
      EXPECT_NEAR(thrust, mu * wheel_loads(stance, pull, acceleration(pull, thrust)).rear_N, 1e-9);
      const double brake = rear_braking_limit_N(stance, pull, mu);
      EXPECT_NEAR(brake, mu * wheel_loads(stance, pull, acceleration(pull, -brake)).rear_N, 1e-9);
      EXPECT_LT(brake, thrust);
      EXPECT_NEAR(thrust_limit_N(stance, pull, mu),
                  std::min(thrust, wheelie_thrust_N(stance, pull)), 1e-9);
    }
    // Beyond p/h no grip limit exists: the wheel lifts first.
    EXPECT_TRUE(std::isnan(grip_thrust_N(stance, pull, 2.2)));
    EXPECT_NEAR(thrust_limit_N(stance, pull, 2.2), wheelie_thrust_N(stance, pull), 1e-9);
    EXPECT_NEAR(thrust_limit_N(stance, pull, 1.5), wheelie_thrust_N(stance, pull), 1e-9);
    EXPECT_TRUE(std::isnan(grip_thrust_N(stance, pull, 0.0)));
    EXPECT_TRUE(std::isnan(thrust_limit_N(stance, pull, 0.0)));
    EXPECT_TRUE(std::isnan(rear_braking_limit_N(stance, pull, 0.0)));
  }
}

TEST(Weight, AStanceThatCannotStandIsRefused) {
  const auto refused = [](const Stance<double>& s, const Pull<double>& p) {
    return std::isnan(wheelie_thrust_N(s, p)) && std::isnan(stoppie_deceleration_mps2(s, p)) &&
           std::isnan(wheel_loads(s, p, 0.0).front_N) &&
           std::isnan(wheel_loads(s, p, 0.0).rear_N) && std::isnan(thrust_limit_N(s, p, 0.5)) &&
           std::isnan(grip_thrust_N(s, p, 0.5)) && std::isnan(rear_braking_limit_N(s, p, 0.5));
  };
  EXPECT_FALSE(refused(stance, pulls[0]));
  using Member = double Stance<double>::*;
  for (const Member member : {&Stance<double>::mass_kg, &Stance<double>::wheelbase_m,
                              &Stance<double>::cg_to_rear_m, &Stance<double>::cg_height_m}) {
    auto wrong = stance;
    wrong.*member = 0;
    EXPECT_TRUE(refused(wrong, pulls[0]));
  }
  auto wrong = stance;
  wrong.cg_to_rear_m = 1.41;
  EXPECT_TRUE(refused(wrong, pulls[0]));
  EXPECT_TRUE(refused(stance, {.grade = 0.6, .drag_N = 0, .drag_height_m = 0}));
  EXPECT_TRUE(refused(stance, {.grade = -0.6, .drag_N = 0, .drag_height_m = 0}));
}

// Statics forwards: where the front scale stands when the frame is tilted about the rear axle.
TEST(Weight, HeightFromATiltedWeighing) {
  const double L = 1.43, r = 0.3, b = 0.66, h = 0.58, mass = 207;
  for (const double tilt : {0.1, 0.25, 0.4}) {
    const double lever = b * std::cos(tilt) + (h - r) * std::sin(tilt);
    const TiltedWeighing<double> w{.mass_total_kg = mass,
                                   .mass_front_level_kg = mass * b / L,
                                   .mass_front_tilted_kg = mass * lever / (L * std::cos(tilt)),
                                   .wheelbase_m = L,
                                   .wheel_radius_m = r,
                                   .tilt_rad = tilt};
    EXPECT_NEAR(cg_height_m(w), h, 1e-12);
    EXPECT_NEAR(cg_to_rear_m(w.mass_front_level_kg, mass - w.mass_front_level_kg, L), b, 1e-12);
    auto wrong = w;
    wrong.mass_total_kg = 0;
    EXPECT_TRUE(std::isnan(cg_height_m(wrong)));
    wrong = w;
    wrong.wheelbase_m = 0;
    EXPECT_TRUE(std::isnan(cg_height_m(wrong)));
    wrong = w;
    wrong.tilt_rad = 0.71;
    EXPECT_TRUE(std::isnan(cg_height_m(wrong)));
  }
}

TEST(Weight, CentreOfMassMovesWithThePartsAndBalances) {
  std::vector<PointMass<double>> parts{{.mass_kg = 17, .x_m = 0.2, .y_m = -0.05, .z_m = 0.1},
                                       {.mass_kg = 45, .x_m = 0.35, .y_m = 0.01, .z_m = 0.3},
                                       {.mass_kg = 105, .x_m = 0.1, .y_m = 0, .z_m = 0.15}};
  const auto c = centre_of_mass(std::span<const PointMass<double>>(parts));
  EXPECT_DOUBLE_EQ(c.mass_kg, 167);
  double mx = 0, my = 0, mz = 0;
  for (auto& part : parts) {
    mx += part.mass_kg * (part.x_m - c.x_m);
    my += part.mass_kg * (part.y_m - c.y_m);
    mz += part.mass_kg * (part.z_m - c.z_m);
    part.x_m += 0.5;
    part.y_m -= 0.25;
    part.z_m += 0.125;
  }
  EXPECT_NEAR(mx, 0, 1e-12);
  EXPECT_NEAR(my, 0, 1e-12);
  EXPECT_NEAR(mz, 0, 1e-12);
  const auto moved = centre_of_mass(std::span<const PointMass<double>>(parts));
  EXPECT_NEAR(moved.x_m - c.x_m, 0.5, 1e-12);
  EXPECT_NEAR(moved.y_m - c.y_m, -0.25, 1e-12);
  EXPECT_NEAR(moved.z_m - c.z_m, 0.125, 1e-12);
  EXPECT_TRUE(std::isnan(centre_of_mass(std::span<const PointMass<double>>()).x_m));
}

// ------------------------------------------------------------------------------------------------

TEST(Spring, SagPreloadAndRateAreInverse) {
  const Spring<double> s{.rate_Npm = 8000, .preload_m = 0.015};
  const double sag = spring_sag_m(s, 400.0);
  EXPECT_NEAR(spring_preload_m(8000.0, 400.0, sag), 0.015, 1e-15);
  EXPECT_NEAR(spring_rate_Npm(400.0, sag + 0.015), 8000, 1e-9);
  // The scaled rate keeps the sag when preload and rate both answer the load.
  const double scaled = spring_rate_scaled_Npm(8000.0, 400.0, 460.0);
  EXPECT_NEAR(spring_sag_m(Spring<double>{.rate_Npm = scaled, .preload_m = 0.015}, 460.0), sag,
              1e-15);
  // Virtual work: the same energy in the shock as at the wheel.
  const double ratio = 0.4, wheel_travel = 0.05, shock_travel = ratio * wheel_travel;
  EXPECT_NEAR(wheel_rate_Npm(80000.0, ratio) * wheel_travel * wheel_travel,
              80000 * shock_travel * shock_travel, 1e-9);
  EXPECT_NEAR(shock_load_N(1000.0, ratio) * shock_travel, 1000 * wheel_travel, 1e-9);
}

TEST(Brake, EnergyIsTheWorkOfTheBrakeAndHeatsTheDisc) {
  const Stop<double> stop{.speed_mps = 28, .deceleration_mps2 = 6, .reaction_s = 0};
  EXPECT_NEAR(stop_energy_J(295.0, 28.0), 295 * 6 * stop_distance_m(stop), 1e-9);
  const double rise = disc_temperature_rise_K(100e3, 1.5, 480.0);
  EXPECT_NEAR(rise * 1.5 * 480, 100e3, 1e-9);
}

TEST(Air, StandardAtmosphereHangsOnItsOwnWeight) {
  for (const double h : {0.0, 1000.0, 5000.0, 10000.0}) {
    const double step = 1;
    const double slope =
        (standard_pressure_Pa(h + step) - standard_pressure_Pa(h - step)) / (2 * step);
    EXPECT_NEAR(-slope / gravity, standard_density_kgpm3(h), 1e-4 * standard_density_kgpm3(h));
  }
}

TEST(Air, VapourMakesItLighter) {
  EXPECT_NEAR(vapour_pressure_Pa(273.15, 1.0), 611.2, 1e-9);
  const auto density = [](double humidity) {
    return air_density_kgpm3(
        Air<double>{.pressure_Pa = 101325, .temperature_K = 308.15, .humidity = humidity});
  };
  EXPECT_GT(density(0), density(0.5));
  EXPECT_GT(density(0.5), density(1));
  // Linear in the vapour: half the humidity, half the loss.
  EXPECT_NEAR(density(0) - density(0.5), (density(0) - density(1)) / 2, 1e-12);
}

// Every guard once: an input just outside its stated range gives NaN.
TEST(Domains, OutsideIsNotANumber) {
  const auto speed = [](double v) {
    return RoadPoint<double>{.speed_mps = v, .grade = 0, .headwind_mps = 0};
  };
  const auto grade = [](double g) {
    return RoadPoint<double>{.speed_mps = 5, .grade = g, .headwind_mps = 0};
  };
  auto weightless = bike;
  weightless.mass_kg = 0;
  auto slippery = bike;
  slippery.drag_area_m2 = 0;
  auto stiff = bike;
  stiff.crr0 = 0;
  const std::vector<double> results{
      road_force_N(bike, speed(-0.1)),
      road_force_N(bike, speed(90.1)),
      drag_force_cross_N(bike, speed(90.1), 1.0),
      rolling_force_N(bike, speed(90.1)),
      grade_force_N(bike, grade(-0.51)),
      grade_force_N(bike, grade(0.51)),
      drag_force_N(weightless, speed(5)),
      drag_equals_rolling_mps(weightless),
      drag_equals_rolling_mps(slippery),
      drag_equals_rolling_mps(stiff),
      drag_area_of_m2(quadratic_of(bike), 0.0),
      us_motorcycle_load(94.9).constant_N,
      us_motorcycle_load(345.1).constant_N,
      us_motorcycle_load(345.1).quadratic_Ns2pm2,
      gtr2_motorcycle_load(94.9).constant_N,
      gtr2_motorcycle_load(505.1).quadratic_Ns2pm2,
      crr_motorcycle_tyre(-1.0, 2e5),
      crr_motorcycle_tyre(91.0, 2e5),
      crr_motorcycle_tyre(10.0, 5.1e5),
      crr_motorcycle_tyre(10.0, 0.9e5),
      crr_pneumatic_tyre(-1.0, 2e5),
      crr_pneumatic_tyre(91.0, 2e5),
      crr_pneumatic_tyre(10.0, 5.1e5),
      crr_pneumatic_tyre(10.0, 0.9e5),
      shaft_speed_radps(10.0, 0.0, 0.3),
      shaft_speed_radps(10.0, 4.0, 0.0),
      road_speed_mps(10.0, 0.0, 0.3),
      road_speed_mps(10.0, 4.0, 0.0),
      thrust_N(10.0, 0.0),
      wind_factor_any_direction(-0.1),
      wind_factor_any_direction(0.61),
      wind_factor_rayleigh(-0.1),
      wind_factor_rayleigh(0.41),
      wind_factor_out_and_back(-0.1),
      wind_factor_out_and_back(1.02),
      rayleigh_wind_mps(-1.0, 0.5),
      rayleigh_wind_mps(1.0, -0.1),
      rayleigh_wind_mps(1.0, 1.0),
      wind_at_height_mps(0.9, 2.0),
      wind_at_height_mps(5.0, 0.0),
      wind_share_log_law(0.1, 0.2),
      wind_share_log_law(1.0, 0.0),
      wind_share_log_law(30.0, 11.0),
      lateral_acceleration_mps2(-0.1),
      lateral_acceleration_mps2(1.15),
      lateral_acceleration_mps2(65 * pi / 180),
      curve_speed_mps(0.0, 50.0),
      curve_speed_mps(3.0, 0.0),
      curve_design_speed_mps(0.0, 0.2),
      curve_design_speed_mps(100.0, 0.0),
      range_combined_m(0.0, 1.0),
      range_combined_m(1.0, 0.0),
      cg_to_rear_m(-1.0, 10.0, 1.4),
      cg_to_rear_m(10.0, -1.0, 1.4),
      cg_to_rear_m(0.0, 0.0, 1.4),
      cg_to_rear_m(10.0, 10.0, 0.0),
      inertia_force_N(-1.0, 2.0),
      load_transfer_N(
          Stance<double>{.mass_kg = 1, .wheelbase_m = 0, .cg_to_rear_m = 0, .cg_height_m = 1}, 1.0),
      spring_rate_scaled_Npm(0.0, 1.0, 1.0),
      spring_rate_scaled_Npm(1.0, 0.0, 1.0),
      spring_rate_scaled_Npm(1.0, 1.0, 0.0),
      spring_rate_Npm(0.0, 1.0),
      spring_rate_Npm(1.0, 0.0),
      spring_sag_m(Spring<double>{.rate_Npm = 0, .preload_m = 0}, 1.0),
      spring_sag_m(Spring<double>{.rate_Npm = 1, .preload_m = -1}, 1.0),
      spring_sag_m(Spring<double>{.rate_Npm = 1, .preload_m = 0}, -1.0),
      spring_preload_m(0.0, 1.0, 1.0),
      spring_preload_m(1.0, 0.0, 1.0),
      spring_preload_m(1.0, 1.0, -1.0),
      sag_share(1.0, 0.0),
      sag_share(-1.0, 1.0),
      sag_measured_m(0.0, 1.0, 1.0),
      sag_measured_m(1.0, 0.0, 1.0),
      sag_measured_m(1.0, 1.0, 0.0),
      wheel_rate_Npm(0.0, 1.0),
      wheel_rate_Npm(1.0, 0.0),
      shock_load_N(1.0, 0.0),
      stop_energy_J(0.0, 1.0),
      stop_energy_J(1.0, -1.0),
      stop_distance_m(Stop<double>{.speed_mps = -1, .deceleration_mps2 = 1, .reaction_s = 0}),
      stop_distance_m(Stop<double>{.speed_mps = 1, .deceleration_mps2 = 0, .reaction_s = 0}),
      stop_distance_m(Stop<double>{.speed_mps = 1, .deceleration_mps2 = 1, .reaction_s = -1}),
      stop_energy_ratio(StopChange<double>{
          .mass_old_kg = 0, .mass_new_kg = 1, .speed_old_mps = 1, .speed_new_mps = 1}),
      stop_energy_ratio(StopChange<double>{
          .mass_old_kg = 1, .mass_new_kg = 1, .speed_old_mps = 0, .speed_new_mps = 1}),
      disc_temperature_rise_K(-1.0, 1.0, 1.0),
      disc_temperature_rise_K(1.0, 0.0, 1.0),
      disc_temperature_rise_K(1.0, 1.0, 0.0),
      standard_temperature_K(-501.0),
      standard_density_kgpm3(11001.0),
      vapour_pressure_Pa(227.0, 0.5),
      vapour_pressure_Pa(334.0, 0.5),
      vapour_pressure_Pa(300.0, -0.1),
      vapour_pressure_Pa(300.0, 1.02),
      air_density_kgpm3(Air<double>{.pressure_Pa = 1000, .temperature_K = 300, .humidity = 1}),
      tyre_diameter_m(TyreSize<double>{.width_m = 0, .aspect = 0.8, .rim_m = 0.4}),
      tyre_diameter_m(TyreSize<double>{.width_m = 0.1, .aspect = 0.29, .rim_m = 0.4}),
      tyre_diameter_m(TyreSize<double>{.width_m = 0.1, .aspect = 1.21, .rim_m = 0.4}),
      tyre_diameter_m(TyreSize<double>{.width_m = 0.1, .aspect = 0.8, .rim_m = 0}),
      rolling_radius_m(0.0, 3.05),
      rolling_radius_m(0.6, 2.79),
      rolling_radius_m(0.6, 3.21),
      rolling_radius_measured_m(0.0, 1.0),
      rolling_radius_measured_m(1.0, 0.0)};
  for (std::size_t i = 0; i < results.size(); ++i) {
    EXPECT_TRUE(std::isnan(results[i])) << "number " << i << " of the list";
  }
}

// And the edge itself still counts as inside.
TEST(Domains, TheEdgeIsInside) {
  const std::vector<double> results{
      road_force_N(bike, {.speed_mps = 0, .grade = 0.5, .headwind_mps = 0}),
      road_force_N(bike, {.speed_mps = 90, .grade = -0.5, .headwind_mps = 0}),
      us_motorcycle_load(95.0).constant_N,
      us_motorcycle_load(345.0).constant_N,
      gtr2_motorcycle_load(95.0).constant_N,
      gtr2_motorcycle_load(505.0).constant_N,
      crr_motorcycle_tyre(0.0, 1e5),
      crr_motorcycle_tyre(90.0, 5e5),
      crr_pneumatic_tyre(0.0, 1e5),
      crr_pneumatic_tyre(90.0, 5e5),
      wind_factor_any_direction(0.6),
      wind_factor_rayleigh(0.4),
      wind_factor_out_and_back(1.0),
      rayleigh_wind_mps(0.0, 0.0),
      wind_at_height_mps(1.0, 2.0),
      lateral_acceleration_mps2(0.0),
      standard_pressure_Pa(-500.0),
      standard_pressure_Pa(11000.0),
      vapour_pressure_Pa(228.0, 0.0),
      vapour_pressure_Pa(333.0, 1.0),
      tyre_diameter_m(TyreSize<double>{.width_m = 0.1, .aspect = 0.3, .rim_m = 0.4}),
      tyre_diameter_m(TyreSize<double>{.width_m = 0.1, .aspect = 1.2, .rim_m = 0.4}),
      rolling_radius_m(0.6, 2.8),
      rolling_radius_m(0.6, 3.2),
      quadratic_force_N(quadratic_of(bike), 0.0),
      coast_down_time_s(quadratic_of(bike), CoastDown<double>{200, 20, 20}),
      coast_down_time_s(QuadraticLoad<double>{0, 0.3}, CoastDown<double>{200, 20, 10}),
      coast_down_time_s(quadratic_of(bike), CoastDown<double>{200, 20, 0}),
      wind_factor_any_direction(0.0),
      wind_factor_rayleigh(0.0),
      wind_factor_out_and_back(0.0),
      cg_to_rear_m(0.0, 100.0, 1.4),
      cg_to_rear_m(100.0, 0.0, 1.4),
      cg_height_m(TiltedWeighing<double>{200, 98, 100, 1.4, 0.3, 3 * pi / 180}),
      cg_height_m(TiltedWeighing<double>{200, 98, 112, 1.4, 0.3, 40 * pi / 180}),
      wheelie_thrust_N(stance, {.grade = 0.5, .drag_N = 0, .drag_height_m = 0}),
      inertia_force_N(0.0, 20.0),
      spring_sag_m(Spring<double>{8000, 0}, 0.0),
      spring_preload_m(8000.0, 400.0, 0.0),
      sag_share(0.0, 0.12),
      stop_energy_J(200.0, 0.0),
      stop_distance_m(Stop<double>{0, 5, 0}),
      disc_temperature_rise_K(0.0, 1.0, 480.0)};
  for (std::size_t i = 0; i < results.size(); ++i) {
    EXPECT_TRUE(std::isfinite(results[i])) << "number " << i << " of the list";
  }
}

}  // namespace
}  // namespace ww::model
