// SPDX-License-Identifier: MIT
// Identities of the thermal nodes and of the heat's ways out. Reference digits stand in
// tests/values/thermal.tsv.
#include "model/thermal.h"

#include <gtest/gtest.h>

#include <array>
#include <boost/numeric/odeint.hpp>
#include <cmath>

#include "base/dual.h"
#include "tests/model/derivatives.h"

namespace ww::model {
namespace {

constexpr ThermalNode<double> node{.capacity_J_per_K = 2500, .resistance_K_per_W = 0.16};

constexpr TwoNodes<double> every_machine[] = {{2000, 12000, 0.05, 0.10},
                                              {62.7, 4.5, 1.94, 3.08},
                                              {500, 500, 0.3, 0.02},
                                              {800, 20000, 0.01, 0.6}};

// ---- One node

TEST(ThermalNode, StepsComposeAndSettle) {
  const double once = node_rise_next_K(node, 12.0, 300.0, 90.0);
  const double twice =
      node_rise_next_K(node, node_rise_next_K(node, 12.0, 300.0, 50.0), 300.0, 40.0);
  EXPECT_NEAR(once, twice, 1e-12);
  EXPECT_NEAR(node_rise_next_K(node, 12.0, 300.0, 1e5), 48, 1e-9);
  EXPECT_NEAR(node_rise_next_K(node, 48.0, 300.0, 77.0), 48, 1e-12);
  EXPECT_EQ(node_rise_next_K(node, 12.0, 300.0, 0.0), 12);
  // At first all heat stays inside: 300 W into 2500 J/K.
  EXPECT_NEAR(node_rise_next_K(node, 0.0, 300.0, 0.01), 300 * 0.01 / 2500, 1e-7);
  // After one time constant 1 - 1/e of the way.
  EXPECT_NEAR(node_rise_next_K(node, 0.0, 300.0, node_time_constant_s(node)),
              48 * (1 - std::exp(-1.0)), 1e-12);
}

TEST(ThermalNode, TimeToLimitIsTheInverse) {
  for (const double start : {0.0, 20.0, 59.0, 59.99}) {
    const double t = node_time_to_limit_s(node, start, 600.0, 60.0);
    EXPECT_NEAR(node_rise_next_K(node, start, 600.0, t), 60, 1e-10);
  }
  EXPECT_TRUE(std::isinf(node_time_to_limit_s(node, 0.0, 300.0, 48.1)));
  EXPECT_TRUE(std::isinf(node_time_to_limit_s(node, 0.0, 300.0, 48.0)));
  EXPECT_EQ(node_time_to_limit_s(node, 61.0, 600.0, 60.0), 0);
  EXPECT_EQ(node_time_to_limit_s(node, 61.0, 0.0, 60.0), 0);
}

TEST(ThermalNode, RatingsAreReachedByTheNodeTheyGive) {
  const auto found =
      node_from_ratings<double>({.continuous_W = 500, .peak_W = 2100, .peak_s = 45, .limit_K = 95});
  EXPECT_NEAR(node_rise_steady_K(found, 500.0), 95, 1e-10);
  EXPECT_NEAR(node_time_to_limit_s(found, 0.0, 2100.0, 95.0), 45, 1e-9);
  EXPECT_TRUE(std::isnan(time_constant_from_peak_s(0.0, 60.0)));
  EXPECT_TRUE(std::isnan(time_constant_from_peak_s(1.2, 60.0)));
}

// ---- Two nodes

TwoRises<double> integrated(const TwoNodes<double>& n, const TwoRises<double>& from,
                            const TwoHeats<double>& heat, double time_s) {
  namespace odeint = boost::numeric::odeint;
  using State = std::array<double, 2>;
  State x{from.inner_K, from.outer_K};
  const auto system = [&](const State& y, State& dy, double) {
    const double across_W = (y[0] - y[1]) / n.between_K_per_W;
    dy[0] = (heat.inner_W - across_W) / n.inner_J_per_K;
    dy[1] = (heat.outer_W + across_W - y[1] / n.air_K_per_W) / n.outer_J_per_K;
  };
  using Stepper = odeint::runge_kutta_dopri5<State>;
  odeint::integrate_adaptive(odeint::make_controlled<Stepper>(1e-11, 1e-11), system, x, 0.0, time_s,
                             1e-3);
  return {x[0], x[1]};
}

TEST(TwoNodes, AgreeWithAnIndependentIntegrator) {
  for (const auto& n : every_machine) {
    for (const double time_s : {0.5, 12.0, 300.0}) {
      for (const TwoRises<double> from : {TwoRises<double>{0, 0}, {50, 10}, {5, 40}}) {
        const TwoHeats<double> heat{.inner_W = 120, .outer_W = 35};
        const auto ours = two_node_after_K(n, from, heat, time_s);
        const auto theirs = integrated(n, from, heat, time_s);
        EXPECT_NEAR(ours.inner_K, theirs.inner_K, 1e-7) << time_s;
        EXPECT_NEAR(ours.outer_K, theirs.outer_K, 1e-7) << time_s;
      }
    }
  }
}

TEST(TwoNodes, StepsComposeAndTheSteadyStateStays) {
  for (const auto& n : every_machine) {
    const TwoHeats<double> heat{.inner_W = 90, .outer_W = 40};
    const auto steady = two_node_steady_K(n, heat);
    // What goes in goes out: through the gap, and to the air.
    EXPECT_NEAR((steady.inner_K - steady.outer_K) / n.between_K_per_W, 90, 1e-9);
    EXPECT_NEAR(steady.outer_K / n.air_K_per_W, 130, 1e-9);
    const auto step = two_node_step(n, 7.0);
    const auto half = two_node_step(n, 3.5);
    const TwoRises<double> from{20, 5};
    const auto once = two_node_next_K(step, from, steady);
    const auto twice = two_node_next_K(half, two_node_next_K(half, from, steady), steady);
    EXPECT_NEAR(once.inner_K, twice.inner_K, 1e-11);
    EXPECT_NEAR(once.outer_K, twice.outer_K, 1e-11);
    const auto still = two_node_next_K(step, steady, steady);
    EXPECT_EQ(still.inner_K, steady.inner_K);
    EXPECT_EQ(still.outer_K, steady.outer_K);
    const auto none = two_node_next_K(two_node_step(n, 0.0), from, steady);
    EXPECT_NEAR(none.inner_K, 20, 1e-12);
    EXPECT_NEAR(none.outer_K, 5, 1e-12);
  }
}

TEST(TwoNodes, TimeConstantsAreTheDecayOfTheSystem) {
  for (const auto& n : every_machine) {
    const auto times = two_node_times_s(n);
    EXPECT_LT(times.quick_s, times.slow_s);
    // Product and sum of the rates from the matrix: determinant and trace.
    const double determinant =
        1 / (n.inner_J_per_K * n.outer_J_per_K * n.between_K_per_W * n.air_K_per_W);
    const double trace = 1 / (n.inner_J_per_K * n.between_K_per_W) +
                         1 / (n.outer_J_per_K * n.between_K_per_W) +
                         1 / (n.outer_J_per_K * n.air_K_per_W);
    EXPECT_NEAR(1 / (times.quick_s * times.slow_s), determinant, 1e-12 * determinant);
    EXPECT_NEAR(1 / times.quick_s + 1 / times.slow_s, trace, 1e-12 * trace);
  }
}

TEST(TwoNodes, SpeedOfRiseIsTheDerivative) {
  const auto& n = every_machine[0];
  const TwoHeats<double> heat{.inner_W = 900, .outer_W = 100};
  const TwoRises<double> from{30, 12};
  const double ahead = two_node_after_K(n, from, heat, 1e-4).inner_K;
  EXPECT_NEAR(inner_rise_speed_Kps(n, from, 900.0), (ahead - 30) / 1e-4, 1e-5);
}

TEST(TwoNodes, TimeToLimitIsTheInverse) {
  const auto& n = every_machine[0];
  const TwoHeats<double> heat{.inner_W = 2400, .outer_W = 300};
  for (const TwoRises<double> from : {TwoRises<double>{0, 0}, {40, 25}, {60, 45}}) {
    for (const double limit : {70.0, 115.0, 250.0}) {
      const double t = two_node_time_to_limit_s(n, from, heat, limit);
      EXPECT_NEAR(two_node_after_K(n, from, heat, t).inner_K, limit, 1e-9);
    }
  }
  const TwoRises<double> cold{0, 0};
  EXPECT_TRUE(std::isinf(two_node_time_to_limit_s<double>(n, cold, {600, 0}, 90.0)));
  EXPECT_TRUE(std::isinf(two_node_time_to_limit_s<double>(n, cold, {600, 0}, 91.0)));
  EXPECT_GT(two_node_time_to_limit_s<double>(n, cold, {600, 0}, 89.9), 3600);
  // Close to the steady rise, after more than eight of the slow time constants.
  const double late = two_node_time_to_limit_s<double>(n, cold, {600, 0}, 89.98);
  EXPECT_GT(late, 8 * 1415);
  EXPECT_NEAR(two_node_after_K<double>(n, cold, {600, 0}, late).inner_K, 89.98, 1e-9);
  EXPECT_EQ(two_node_time_to_limit_s<double>(n, {95, 20}, {2400, 0}, 90.0), 0);
  EXPECT_EQ(two_node_time_to_limit_s<double>(n, {90, 20}, {0, 0}, 90.0), 0);
}

TEST(TwoNodes, RatingsAreReachedByTheNodesTheyGive) {
  const TwoNodeRatings<double> ratings{.inner_J_per_K = 1500,
                                       .outer_J_per_K = 9000,
                                       .continuous = {.inner_W = 450, .outer_W = 120},
                                       .peak = {.inner_W = 3600, .outer_W = 150},
                                       .peak_s = 60,
                                       .limit_K = 100};
  const auto found = two_nodes_from_ratings(ratings);
  EXPECT_GT(found.between_K_per_W, 0);
  EXPECT_GT(found.air_K_per_W, 0);
  EXPECT_NEAR(two_node_steady_K(found, ratings.continuous).inner_K, 100, 1e-9);
  EXPECT_NEAR(two_node_time_to_limit_s(found, {0, 0}, ratings.peak, 100.0), 60, 1e-6);
  // A peak that would not reach the limit even with a winding that keeps its heat: no such machine.
  auto weak = ratings;
  weak.peak = {.inner_W = 900, .outer_W = 150};
  EXPECT_TRUE(std::isnan(two_nodes_from_ratings(weak).between_K_per_W));
  EXPECT_TRUE(std::isnan(two_nodes_from_ratings(weak).air_K_per_W));
  // And one that overheats it although perfectly joined to its case.
  auto strong = ratings;
  strong.peak = {.inner_W = 90000, .outer_W = 150};
  EXPECT_TRUE(std::isnan(two_nodes_from_ratings(strong).between_K_per_W));
}

// ---- Copper

TEST(Copper, SteadyTemperatureBalances) {
  for (const double P : {50.0, 400.0, 900.0}) {
    const double T = copper_steady_K(300.0, P, 0.15);
    EXPECT_NEAR(T, 300 + P * copper_loss_factor(T) * 0.15, 1e-9);
  }
  EXPECT_NEAR(copper_loss_factor(293.15), 1, 1e-15);
  EXPECT_FALSE(std::isnan(copper_steady_K(313.15, 254.4, 1.0)));
  EXPECT_TRUE(std::isnan(copper_steady_K(313.15, 254.5, 1.0)));
}

// ---- To the air

TEST(Convection, GrowsWithSpeedAndKeepsItsDomain) {
  const auto air = warm_air_film<double>();
  for (const double v : {0.5, 3.0, 12.0, 40.0}) {
    EXPECT_GT(cylinder_convection_W_per_m2K(air, 0.15, v * 1.1),
              cylinder_convection_W_per_m2K(air, 0.15, v));
  }
  // Reynolds 1 times Prandtl is inside, Reynolds 0.2 is not.
  const double reynolds_1_mps = 1.89e-5 / 0.15;
  EXPECT_FALSE(std::isnan(cylinder_convection_W_per_m2K(air, 0.15, reynolds_1_mps)));
  EXPECT_TRUE(std::isnan(cylinder_convection_W_per_m2K(air, 0.15, 0.2 * reynolds_1_mps)));
  EXPECT_NEAR(plate_convection_W_per_m2K(2.0), 5.7 + 7.6, 1e-12);
  EXPECT_NEAR(plate_convection_W_per_m2K(5.0), 24.7, 1e-12);
  EXPECT_LT(plate_convection_W_per_m2K(5.0001), 24.7);
  EXPECT_FALSE(std::isnan(plate_convection_W_per_m2K(40.0)));
}

TEST(Radiation, IsTheDifferenceOfFourthPowers) {
  for (const double T : {290.0, 330.0, 420.0}) {
    const double Ta = 285;
    const double flux = 0.8 * 5.670374419e-8 * (std::pow(T, 4) - std::pow(Ta, 4));
    EXPECT_NEAR(radiation_W_per_m2K(0.8, T, Ta) * (T - Ta), flux, 1e-9 * flux);
  }
}

TEST(Fin, EfficiencyFallsFromOne) {
  EXPECT_NEAR(fin_efficiency(1e-4), 1, 1e-8);
  EXPECT_NEAR(fin_efficiency(1.0), 0.7615941560, 1e-9);  // tanh 1
  EXPECT_NEAR(fin_efficiency(3.0), 0.9950547537 / 3, 1e-9);
}

TEST(Life, HalvesPerStepAndFollowsArrhenius) {
  EXPECT_NEAR(life_factor_halving(430.0, 420.0, 10.0), 0.5, 1e-12);
  EXPECT_NEAR(life_factor_halving(400.0, 420.0, 10.0), 4, 1e-12);
  EXPECT_NEAR(arrhenius_slowing(50e3, 300.0, 300.0), 1, 1e-15);
  EXPECT_NEAR(arrhenius_slowing(50e3, 280.0, 300.0) * arrhenius_slowing(50e3, 300.0, 320.0),
              arrhenius_slowing(50e3, 280.0, 320.0), 1e-12);
}

TEST(Duty, RootMeanSquareKeepsTheHeat) {
  const std::array<DutyPart<double>, 3> duty{{{60, 30}, {10, 50}, {0, 40}}};
  const double rms = duty_rms_A(std::span<const DutyPart<double>>(duty));
  EXPECT_NEAR(rms * rms * 120, 60 * 60 * 30 + 10 * 10 * 50, 1e-9);
  const std::array<DutyPart<double>, 2> intermittent{{{60, 30}, {0, 90}}};
  EXPECT_NEAR(duty_rms_A(std::span<const DutyPart<double>>(intermittent)),
              intermittent_rms_A(60.0, 30.0, 120.0), 1e-12);
}

// ---- Derivatives

TEST(ThermalDerivatives, AgreeWithDifferences) {
  expect_derivatives<5>("node_rise_next_K", {2500, 0.16, 12, 300, 90},
                        []<class R>(const std::array<R, 5>& x) {
                          return node_rise_next_K<R>({x[0], x[1]}, x[2], x[3], x[4]);
                        });
  expect_derivatives<5>("node_time_to_limit_s", {2500, 0.16, 12, 600, 60},
                        []<class R>(const std::array<R, 5>& x) {
                          return node_time_to_limit_s<R>({x[0], x[1]}, x[2], x[3], x[4]);
                        });
  const auto after = []<class R>(const std::array<R, 9>& x) {
    return two_node_after_K<R>({x[0], x[1], x[2], x[3]}, {x[4], x[5]}, {x[6], x[7]}, x[8]);
  };
  const std::array<double, 9> state{2000, 12000, 0.05, 0.1, 30, 12, 900, 100, 77};
  expect_derivatives<9>("two_node_after_K inner", state,
                        [&]<class R>(const std::array<R, 9>& x) { return after(x).inner_K; });
  expect_derivatives<9>("two_node_after_K outer", state,
                        [&]<class R>(const std::array<R, 9>& x) { return after(x).outer_K; });
  expect_derivatives<9>("two_node_time_to_limit_s",
                        {2000, 12000, 0.05, 0.1, 30, 12, 2400, 100, 115},
                        []<class R>(const std::array<R, 9>& x) {
                          return two_node_time_to_limit_s<R>({x[0], x[1], x[2], x[3]}, {x[4], x[5]},
                                                             {x[6], x[7]}, x[8]);
                        });
  expect_derivatives<3>(
      "copper_steady_K", {300, 400, 0.15},
      []<class R>(const std::array<R, 3>& x) { return copper_steady_K(x[0], x[1], x[2]); });
  expect_derivatives<2>("cylinder_convection", {0.15, 12}, []<class R>(const std::array<R, 2>& x) {
    return cylinder_convection_W_per_m2K(warm_air_film<R>(), x[0], x[1]);
  });
  expect_derivatives<1>("plate_convection", {12}, []<class R>(const std::array<R, 1>& x) {
    return plate_convection_W_per_m2K(x[0]);
  });
  expect_derivatives<3>("radiation", {0.9, 350, 300}, []<class R>(const std::array<R, 3>& x) {
    return radiation_W_per_m2K(x[0], x[1], x[2]);
  });
}

}  // namespace
}  // namespace ww::model
