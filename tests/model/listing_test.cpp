// SPDX-License-Identifier: MIT
// Identities of the data-sheet conversions, the controller and the reading of a listing: a listing
// made from a known motor must give that motor back.
#include <gtest/gtest.h>

#include <cmath>

#include "model/controller.h"
#include "model/identify.h"
#include "model/motor_constants.h"
#include "model/pm_motor.h"
#include "tests/support/motors.h"

namespace ww::model {
namespace {

using support::ipm;

// ---- Conversions

TEST(MotorConstants, ConversionsHaveInverses) {
  for (const auto v : {VoltageConvention::line_line_peak, VoltageConvention::line_line_rms,
                       VoltageConvention::rectified_mean, VoltageConvention::phase_peak}) {
    EXPECT_NEAR(speed_constant_from_flux(flux_from_speed_constant(6.3, 7.0, v), 7.0, v), 6.3,
                1e-13);
  }
  for (const auto c : {CurrentConvention::dc_six_step, CurrentConvention::phase_peak,
                       CurrentConvention::phase_rms}) {
    EXPECT_NEAR(flux_from_torque_constant(torque_constant_from_flux(0.02, 7.0, c), 7.0, c), 0.02,
                1e-15);
    EXPECT_NEAR(current_in_convention(current_phase_peak(100.0, c), c), 100, 1e-12);
    // The same torque from the same current, whichever way it is counted.
    EXPECT_NEAR(torque_constant_from_flux(0.02, 7.0, c) * current_in_convention(300.0, c),
                1.5 * 7 * 0.02 * 300, 1e-9);
  }
  for (const auto w : {WindingConvention::phase_star, WindingConvention::line_line,
                       WindingConvention::delta_winding}) {
    EXPECT_NEAR(winding_in_convention(winding_phase(0.012, w), w), 0.012, 1e-16);
  }
}

TEST(MotorConstants, UnitMixListsEveryReadingOnceByDeviation) {
  const auto mix = unit_mix(6.28, 0.2, 0.05);
  for (std::size_t i = 1; i < mix.readings.size(); ++i) {
    EXPECT_LE(std::abs(mix.readings[i - 1].deviation), std::abs(mix.readings[i].deviation) + 1e-9);
    for (std::size_t j = 0; j < i; ++j) {
      EXPECT_FALSE(mix.readings[i].voltage == mix.readings[j].voltage &&
                   mix.readings[i].current == mix.readings[j].current);
    }
  }
  EXPECT_NEAR(mix.readings[0].product * (1 + mix.readings[0].deviation), mix.product, 1e-12);
}

// ---- Controller

TEST(Controller, LimitsFadeByTheSmallerShare) {
  const Foldback<double> f{
      .temperature_K = {348.15, 368.15}, .undervoltage_V = {64, 58}, .overvoltage_V = {84, 86}};
  const auto cool = limit_shares<double>(f, {300, 72});
  EXPECT_EQ(cool.drive, 1);
  EXPECT_EQ(cool.regen, 1);
  const auto empty = limit_shares<double>(f, {300, 61});
  EXPECT_NEAR(empty.drive, 0.5, 1e-12);
  EXPECT_EQ(empty.regen, 1);
  const auto full = limit_shares<double>(f, {300, 85.5});
  EXPECT_EQ(full.drive, 1);
  EXPECT_NEAR(full.regen, 0.25, 1e-12);
  const auto hot = limit_shares<double>(f, {363.15, 59.5});
  EXPECT_NEAR(hot.drive, 0.25, 1e-12);
  EXPECT_NEAR(hot.regen, 0.25, 1e-12);
}

TEST(Controller, OnResistanceGrowsThroughItsStatedCorners) {
  EXPECT_NEAR(on_resistance_factor(298.15), 1, 1e-12);
  EXPECT_NEAR(on_resistance_factor(335.65), 1.25, 1e-12);
  EXPECT_NEAR(on_resistance_factor(373.15), 1.5, 1e-12);
  EXPECT_NEAR(on_resistance_factor(423.15), 1.8, 1e-12);
}

TEST(Controller, DutyLawHoldsItsVoltage) {
  const auto m = ipm();
  for (const double speed : {20.0, 100.0, 180.0}) {
    for (const double position : {0.3, 0.6, 1.0}) {
      const double torque = throttle_duty_torque<double>(m, position, speed, {60, 1e6, 0});
      if (torque <= 0) continue;
      const double iq = torque / (1.5 * m.pole_pairs * m.flux_peak_Wb);
      EXPECT_NEAR(voltage_magnitude(dq_point<double>(m, speed, {0, iq})), 60 * position, 1e-9);
    }
  }
}

TEST(Controller, BatteryLimitCrossesAtItsPower) {
  const auto m = ipm();
  const double speed = speed_battery_limit(m, 240.0, 30000.0);
  const auto p = dq_point(m, speed, mtpa(m, 240.0));
  EXPECT_NEAR(power_electrical(p), 30000, 1e-7);
}

// ---- From a listing

/// What a seller of the surface motor would write if he knew it all.
MotorListing own_listing() {
  MotorListing l;
  l.speed_constant_radpsV = 60 * pi / 30;
  l.speed_constant_convention = VoltageConvention::line_line_peak;
  l.resistance_ohm = 0.012;
  l.resistance_convention = WindingConvention::line_line;
  l.inductance_H = 60e-6;
  l.inductance_convention = WindingConvention::line_line;
  const double speed = 60 * pi / 30 * (72 - 9 * 0.012);
  l.no_load = NoLoad<double>{72, 9};
  l.speed_rated_radps = 0.87 * speed;
  l.voltage_rated_V = 72;
  l.power_continuous_W = 10000;
  l.peak = PeakRating{20000, 150};
  l.mass_kg = 17;
  l.pole_pairs = 10;
  l.magnets = Magnets::surface;
  return l;
}

TEST(Identify, FullListingGivesTheMotorBack) {
  const auto all = identify(own_listing());
  ASSERT_EQ(all.count, 1U);
  const auto& r = all.readings[0];
  EXPECT_EQ(r.weight, 1);
  EXPECT_NEAR(r.motor.flux_peak_Wb, 9.188815e-3, 5e-10);
  EXPECT_NEAR(r.motor.resistance_phase_ohm, 0.006, 1e-15);
  EXPECT_NEAR(r.motor.inductance_d_H, 30e-6, 1e-18);
  EXPECT_NEAR(r.motor.inductance_q_H, 30e-6, 1e-18);
  EXPECT_EQ(r.motor.pole_pairs, 10);
  // Drag meets the no-load current again, half of it constant.
  const double speed = 2 * pi * (72 - 9 * 0.012);
  const double torque = (72 * 9 - 81 * 0.012) / speed;
  EXPECT_NEAR(drag_torque(r.motor, speed), torque, 1e-12);
  EXPECT_NEAR(r.motor.drag_constant_Nm, 0.5 * torque, 1e-12);
  EXPECT_NEAR(r.spread.flux, 0.05 * 1.2816, 1e-5);
  EXPECT_NEAR(r.spread.resistance, 0.10 * 1.2816, 1e-5);
  EXPECT_NEAR(r.spread.inductance, 0.30 * 1.28155, 1e-5);
  EXPECT_NEAR(r.spread.drag, 0.20 * 1.2816, 1e-5);
  EXPECT_TRUE(r.assumptions.has(Assumption::drag_split_half));
  for (unsigned a = 0; a < static_cast<unsigned>(Assumption::count); ++a) {
    const auto assumption = static_cast<Assumption>(a);
    EXPECT_STRNE(assumption_text(assumption), "") << a;
    if (assumption != Assumption::drag_split_half) {
      EXPECT_FALSE(r.assumptions.has(assumption)) << a;
    }
  }
}

TEST(Identify, UnsaidConventionsBecomeWeightedAlternatives) {
  auto l = own_listing();
  l.speed_constant_convention.reset();
  l.resistance_convention.reset();
  l.inductance_convention.reset();
  l.speed_rated_radps.reset();
  l.no_load.reset();
  const auto all = identify(l);
  ASSERT_EQ(all.count, 4U);
  double sum = 0;
  for (std::size_t i = 0; i < all.count; ++i) {
    sum += all.readings[i].weight;
    if (i > 0) {
      EXPECT_LE(all.readings[i].weight, all.readings[i - 1].weight);
    }
    const auto& r = all.readings[i];
    const bool rms = r.speed_constant_convention == VoltageConvention::line_line_rms;
    const bool phase = r.resistance_convention == WindingConvention::phase_star;
    EXPECT_NEAR(r.motor.flux_peak_Wb, 9.188815e-3 * (rms ? std::sqrt(2.0) : 1), 1e-9);
    EXPECT_NEAR(r.motor.resistance_phase_ohm, phase ? 0.012 : 0.006, 1e-15);
    EXPECT_EQ(r.assumptions.has(Assumption::speed_constant_rms), rms);
    EXPECT_EQ(r.assumptions.has(Assumption::speed_constant_dc), !rms);
    EXPECT_EQ(r.assumptions.has(Assumption::resistance_phase), phase);
    EXPECT_EQ(r.assumptions.has(Assumption::resistance_line_line), !phase);
    EXPECT_TRUE(r.assumptions.has(Assumption::inductance_line_line));
    EXPECT_TRUE(r.assumptions.has(Assumption::drag_from_share));
    EXPECT_TRUE(r.assumptions.has(Assumption::rated_speed_from_voltage));
    // 3 % of 10 kW at the assumed rated speed.
    const double speed = 0.87 * 72 * 2 * pi / (rms ? std::sqrt(2.0) : 1);
    EXPECT_NEAR(drag_torque(r.motor, speed) * speed, 300, 1e-9);
  }
  EXPECT_NEAR(sum, 1, 1e-12);
  // A speed constant that only contradicts itself under one reading settles it.
  l.speed_rated_radps = 0.87 * 72 * 2 * pi;
  const auto by_speed = identify(l);
  EXPECT_EQ(by_speed.readings[0].speed_constant_convention, VoltageConvention::line_line_peak);
  double dc_weight = 0;
  for (std::size_t i = 0; i < by_speed.count; ++i) {
    if (by_speed.readings[i].speed_constant_convention == VoltageConvention::line_line_peak) {
      dc_weight += by_speed.readings[i].weight;
    }
  }
  EXPECT_GT(dc_weight, 0.98);
  l.speed_rated_radps.reset();
  l.torque_constant_NmA = 0.159155 * std::sqrt(2.0);
  l.torque_constant_convention = CurrentConvention::dc_six_step;
  EXPECT_EQ(identify(l).readings[0].speed_constant_convention, VoltageConvention::line_line_rms);
  l.torque_constant_NmA = 0.159155;
  EXPECT_EQ(identify(l).readings[0].speed_constant_convention, VoltageConvention::line_line_peak);
  // A resistance whose copper loss at full power is usual for one reading only.
  l = own_listing();
  l.resistance_convention.reset();
  l.resistance_ohm = 0.022;
  EXPECT_EQ(identify(l).readings[0].resistance_convention, WindingConvention::line_line);
  l.resistance_ohm = 0.005;
  EXPECT_EQ(identify(l).readings[0].resistance_convention, WindingConvention::phase_star);
}

TEST(Identify, WithoutEvidenceTheWeightsAreThePriors) {
  MotorListing l;
  l.speed_constant_radpsV = 6.28;
  l.resistance_ohm = 0.012;
  const auto all = identify(l);
  ASSERT_EQ(all.count, 4U);
  EXPECT_NEAR(all.readings[0].weight, 0.8 * 0.6, 1e-12);
  EXPECT_NEAR(all.readings[1].weight, 0.8 * 0.4, 1e-12);
  EXPECT_NEAR(all.readings[2].weight, 0.2 * 0.6, 1e-12);
  EXPECT_NEAR(all.readings[3].weight, 0.2 * 0.4, 1e-12);
  EXPECT_EQ(all.readings[0].resistance_convention, WindingConvention::line_line);
  EXPECT_EQ(all.readings[0].speed_constant_convention, VoltageConvention::line_line_peak);
  // Nothing speaks of the inductance: no number.
  EXPECT_TRUE(std::isnan(all.readings[0].motor.inductance_d_H));
}

TEST(Identify, MissingFiguresComeFromTheNextBestSource) {
  auto l = own_listing();
  l.inductance_H.reset();
  auto r = identify(l).readings[0];
  EXPECT_TRUE(r.assumptions.has(Assumption::inductance_from_mass));
  // At the characteristic current the torque is 2.5 Nm a kg.
  const double ch = characteristic_current(r.motor);
  EXPECT_NEAR(1.5 * 10 * r.motor.flux_peak_Wb * ch, 2.5 * 17, 1e-9);
  EXPECT_NEAR(r.spread.inductance, 0.4 * 1.2816, 1e-4);
  l.mass_kg.reset();
  r = identify(l).readings[0];
  EXPECT_TRUE(r.assumptions.has(Assumption::inductance_from_torque));
  EXPECT_NEAR(1.5 * 10 * r.motor.flux_peak_Wb * characteristic_current(r.motor),
              2 * 10000 / *l.speed_rated_radps, 1e-9);

  l = own_listing();
  l.resistance_ohm.reset();
  r = identify(l).readings[0];
  EXPECT_TRUE(r.assumptions.has(Assumption::resistance_from_copper_share));
  const double kt = 1.5 * 10 * r.motor.flux_peak_Wb;
  const double rated_A = 10000 / *l.speed_rated_radps / kt;
  EXPECT_NEAR(1.5 * r.motor.resistance_phase_ohm * rated_A * rated_A, 600, 1e-9);

  // The efficiency point is met exactly by the resistance that was missing.
  l.efficiency = EfficiencyPoint{0.92, 25, 400};
  r = identify(l).readings[0];
  EXPECT_TRUE(r.assumptions.has(Assumption::resistance_from_efficiency));
  const auto p = drive_point<double>(r.motor, {25, 400}, {1e6, 1e6, 0});
  EXPECT_NEAR(25 * 400 / p.power_electrical_W, 0.92, 1e-9);
  EXPECT_GT(r.spread.resistance, 0.2);

  l = own_listing();
  l.pole_pairs.reset();
  l.magnets = Magnets::interior;
  r = identify(l).readings[0];
  EXPECT_EQ(r.motor.pole_pairs, 5);
  EXPECT_TRUE(r.assumptions.has(Assumption::pole_pairs_five));
  EXPECT_TRUE(r.assumptions.has(Assumption::no_saliency));
  EXPECT_NEAR(1.5 * 5 * r.motor.flux_peak_Wb, 0.137832, 1e-6);

  l = own_listing();
  l.speed_constant_radpsV.reset();
  l.torque_constant_NmA = 0.194924;
  l.torque_constant_convention = CurrentConvention::phase_rms;
  r = identify(l).readings[0];
  EXPECT_TRUE(r.assumptions.has(Assumption::speed_constant_from_torque_constant));
  EXPECT_FALSE(r.assumptions.has(Assumption::torque_constant_convention));
  EXPECT_NEAR(r.motor.flux_peak_Wb, 9.188815e-3, 1e-8);
  l.torque_constant_NmA = 0.159155;
  l.torque_constant_convention.reset();
  r = identify(l).readings[0];
  EXPECT_TRUE(r.assumptions.has(Assumption::torque_constant_convention));
  EXPECT_NEAR(r.motor.flux_peak_Wb, 9.188815e-3, 1e-8);

  l.torque_constant_NmA.reset();
  r = identify(l).readings[0];
  EXPECT_TRUE(r.assumptions.has(Assumption::speed_constant_from_rated_speed));
  EXPECT_NEAR(no_load_speed(r.motor, 72 / std::sqrt(3.0)), *l.speed_rated_radps / 0.87, 1e-9);
  EXPECT_GT(r.spread.flux, 0.15);
  EXPECT_EQ(identify(MotorListing{}).count, 0U);
}

TEST(Identify, EfficiencyPullsLossesTheLessCertainMore) {
  auto l = own_listing();
  const auto before = identify(l).readings[0];
  const auto free = drive_point<double>(before.motor, {20, 380}, {1e6, 1e6, 0});
  const double eta = 20 * 380 / free.power_electrical_W;
  l.efficiency = EfficiencyPoint{eta, 20, 380};
  const auto same = identify(l).readings[0];
  EXPECT_NEAR(same.motor.resistance_phase_ohm, before.motor.resistance_phase_ohm, 1e-12);
  EXPECT_LT(same.spread.resistance, before.spread.resistance);
  EXPECT_LT(same.spread.drag, before.spread.drag);
  l.efficiency->efficiency = eta - 0.03;
  const auto worse = identify(l).readings[0];
  EXPECT_GT(worse.motor.resistance_phase_ohm, before.motor.resistance_phase_ohm);
  EXPECT_GT(worse.motor.drag_linear_Nms, before.motor.drag_linear_Nms);
  // Between the listing's two statements, nearer than without the update.
  const auto p = drive_point<double>(worse.motor, {20, 380}, {1e6, 1e6, 0});
  const double after = 20 * 380 / p.power_electrical_W;
  EXPECT_LT(after, eta);
  EXPECT_GT(after, eta - 0.03);

  // One scalar step by hand: copper 400 +- 10 %, drag 300 +- 20 %, stated 900 +- 100 W.
  const auto u = detail::loss_update({400, 300, 900, 100}, 0.1, 0.2);
  EXPECT_NEAR(u.copper_factor, 1 + 0.01 * 400 * 200 / (1600 + 3600 + 10000), 1e-12);
  EXPECT_NEAR(u.drag_factor, 1 + 0.04 * 300 * 200 / (1600 + 3600 + 10000), 1e-12);
  EXPECT_NEAR(u.copper_sigma, 0.1 * std::sqrt(1 - 1600.0 / 15200), 1e-12);
  EXPECT_NEAR(u.drag_sigma, 0.2 * std::sqrt(1 - 3600.0 / 15200), 1e-12);
}

TEST(Identify, ThermalNodesMeetBothRatings) {
  auto l = own_listing();
  const auto motor = identify(l).readings[0].motor;
  const auto t = identify_thermal(l, motor);
  EXPECT_TRUE(t.assumptions.has(Assumption::heat_capacity_from_mass));
  EXPECT_FALSE(t.assumptions.has(Assumption::peak_time_30_s));
  EXPECT_FALSE(t.assumptions.has(Assumption::mass_from_power));
  ASSERT_FALSE(t.assumptions.has(Assumption::peak_too_long_for_mass));
  ASSERT_FALSE(t.assumptions.has(Assumption::peak_too_short_for_mass));
  const double copper_kg = 0.12 * 17;
  const double iron_kg = 0.15 * (17 - copper_kg);
  EXPECT_NEAR(t.nodes.inner_J_per_K, copper_kg * 385 + iron_kg * 550, 1e-9);
  EXPECT_NEAR(t.nodes.outer_J_per_K, (17 - copper_kg - iron_kg) * 550, 1e-9);
  const double speed = *l.speed_rated_radps;
  const auto heat = [&](double power) {
    const auto p = drive_point<double>(motor, {power / speed, speed}, {1e6, 1e6, 0});
    // Copper at the limit: 140 C.
    return TwoHeats<double>{p.loss_copper_W * (1 + 0.00393 * 120), p.loss_iron_mech_W};
  };
  EXPECT_NEAR(two_node_steady_K(t.nodes, heat(10000)).inner_K, 100, 1e-6);
  EXPECT_NEAR(two_node_after_K<double>(t.nodes, {0, 0}, heat(20000), 150).inner_K, 100, 1e-3);

  l.peak = PeakRating{20000, 3600};
  EXPECT_TRUE(identify_thermal(l, motor).assumptions.has(Assumption::peak_too_long_for_mass));
  l.peak = PeakRating{11000, 1};
  const auto brief = identify_thermal(l, motor);
  EXPECT_TRUE(brief.assumptions.has(Assumption::peak_too_short_for_mass));
  EXPECT_NEAR(two_node_steady_K(brief.nodes, heat(10000)).inner_K, 100, 1e-6);
  l.peak->time_s.reset();
  l.mass_kg.reset();
  const auto thin = identify_thermal(l, motor);
  EXPECT_TRUE(thin.assumptions.has(Assumption::peak_time_30_s));
  EXPECT_TRUE(thin.assumptions.has(Assumption::mass_from_power));
  const double mass = 10000.0 / 600;
  EXPECT_NEAR(thin.nodes.inner_J_per_K + thin.nodes.outer_J_per_K,
              0.12 * mass * 385 + 0.88 * mass * 550, 1e-6);
  l.power_continuous_W.reset();
  EXPECT_TRUE(std::isnan(identify_thermal(l, motor).nodes.air_K_per_W));
}

}  // namespace
}  // namespace ww::model
