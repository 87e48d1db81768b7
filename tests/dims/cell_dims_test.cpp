// SPDX-License-Identifier: MIT
// The battery and thermal kernels with numbers that carry their dimension. The ageing laws are
// plain numbers in their papers' units and stand outside.
#include <array>
#include <span>

#include "model/cell.h"
#include "model/lco_cell.h"
#include "model/ocv.h"
#include "model/ocv_tables.h"
#include "model/thermal.h"
#include "model/tremblay.h"
#include "tests/dims/dim.h"

namespace ww {
namespace {

using namespace ww::model;

const Powers unit_VpK{1, 2, -3, -1, -1};
const Powers unit_Kps{0, 0, -1, 0, 1};
const Powers unit_Wpm2K{1, 0, -3, 0, -1};
const Powers unit_Apm2{0, -2, 0, 1, 0};

Dim volt(double v) {
  return with_unit(v, unit_V);
}
Dim ohm(double v) {
  return with_unit(v, unit_ohm);
}
Dim ampere(double v) {
  return with_unit(v, unit_A);
}
Dim kelvin(double v) {
  return with_unit(v, unit_K);
}
Dim second(double v) {
  return with_unit(v, unit_s);
}
Dim watt(double v) {
  return with_unit(v, unit_W);
}

OcvRamps<Dim> curve_with_units() {
  const auto plain = ocv_ramps(Chemistry::nmc);
  OcvRamps<Dim> curve{.empty_V = volt(plain.empty_V), .knot = {}, .slope_V = {}};
  for (std::size_t i = 0; i < ocv_ramp_count; ++i) {
    curve.knot[i] = with_unit(plain.knot[i], unit_none);
    curve.slope_V[i] = volt(plain.slope_V[i]);
  }
  return curve;
}

class CellDims : public DimTest {};

TEST_F(CellDims, OpenCircuitVoltage) {
  const auto curve = curve_with_units();
  const Dim s = with_unit(0.4, unit_none);
  expect_dim(ocv_V(curve, s), unit_V, "ocv_V");
  expect_dim(ocv_slope_V(curve, s), unit_V, "ocv_slope_V");
  expect_dim(ocv_integral_V(curve, s, num<Dim>(0.9)), unit_V, "ocv_integral_V");
  expect_dim(ocv_mean_V(curve), unit_V, "ocv_mean_V");
  expect_dim(ocv_mean_V(curve, s, num<Dim>(0.9)), unit_V, "partial ocv_mean_V");
  expect_dim(soc_at_ocv(curve, volt(3.7)), unit_none, "soc_at_ocv");
  const auto cell = scaled<Dim>(curve, {.empty_V = volt(2.8), .full_V = volt(4.15)});
  expect_dim(ocv_V(cell, s), unit_V, "scaled ocv_V");
}

TEST_F(CellDims, CircuitAndPower) {
  const CellSource<Dim> source{.emf_V = volt(96), .resistance_ohm = ohm(0.05)};
  expect_dim(terminal_voltage_V(source, ampere(30)), unit_V, "terminal_voltage_V");
  expect_dim(current_at_power_A(source, watt(5000)), unit_A, "current_at_power_A");
  expect_dim(current_at_voltage_A(source, volt(90)), unit_A, "current_at_voltage_A");
  expect_dim(power_max_W(source, volt(70)), unit_W, "power_max_W");
  expect_dim(source_efficiency(source, watt(5000)), unit_none, "source_efficiency");
  const TheveninCell<Dim> cell{
      .source = source,
      .pairs = {{{ohm(0.01), with_unit(2500, unit_F)}, {ohm(0.02), with_unit(50, unit_F)}}}};
  expect_dim(pulse_voltage_V(cell, ampere(23), second(4)), unit_V, "pulse_voltage_V");
}

TEST_F(CellDims, ResistanceAndCapacity) {
  const CellResistance<Dim> cell{ohm(0.02), num<Dim>(1.6), num<Dim>(1.5)};
  const Dim activation = with_unit(25e3, unit_J);
  const Dim factor = resistance_temperature_factor(activation, kelvin(270));
  expect_dim(factor, unit_none, "resistance_temperature_factor");
  expect_dim(resistance_ohm(cell, factor, with_unit(0.05, unit_none)), unit_ohm, "resistance_ohm");
  expect_dim(capacity_factor(with_unit(0.003, unit_perK), kelvin(270)), unit_none,
             "capacity_factor");
}

TEST_F(CellDims, PairsAndPack) {
  const RcPair<Dim> pair{ohm(0.01), with_unit(2500, unit_F)};
  const auto rc = rc_step(pair, second(5));
  expect_dim(rc_voltage_next_V(rc, volt(0.1), ampere(20)), unit_V, "rc_voltage_next_V");
  expect_dim(rc_work_J(rc, volt(0.1), ampere(20)), unit_J, "rc_work_J");
  expect_dim(rc_heat_J(rc, volt(0.1), ampere(20)), unit_J, "rc_heat_J");
  expect_dim(rc_stored_J(rc, volt(0.1)), unit_J, "rc_stored_J");
  const PackLayout<Dim> layout{num<Dim>(20), num<Dim>(4), ohm(0.003)};
  expect_dim(pack_voltage_V(layout, volt(3.7)), unit_V, "pack_voltage_V");
  expect_dim(pack_charge_C(layout, with_unit(9000, unit_C)), unit_C, "pack_charge_C");
  expect_dim(pack_resistance_ohm(layout, ohm(0.02)), unit_ohm, "pack_resistance_ohm");
  expect_dim(pack_pair(layout, pair).capacitance_F, unit_F, "pack_pair capacitance");
  expect_dim(pack_pair(layout, pair).resistance_ohm, unit_ohm, "pack_pair resistance");
  const ParallelPair<Dim> strings{.first = {volt(100), ohm(0.03)}, .second = {volt(99), ohm(0.04)}};
  expect_dim(shared_current(strings, ampere(50)).first_A, unit_A, "shared_current first");
  expect_dim(shared_current(strings, ampere(50)).second_A, unit_A, "shared_current second");
}

TEST_F(CellDims, HeatChargeAndStanding) {
  const Dim entropy = entropy_nmc_V_per_K(with_unit(0.4, unit_none));
  expect_dim(entropy, unit_VpK, "entropy_nmc_V_per_K");
  expect_dim(cell_heat_W<Dim>({ampere(20), volt(0.3), kelvin(300), entropy}), unit_W,
             "cell_heat_W");
  const ChargeLimit<Dim> limit{ampere(40), kelvin(273), kelvin(283), num<Dim>(0.85),
                               num<Dim>(0.95)};
  const Dim accepted = charge_accepted_A(limit, kelvin(279), with_unit(0.9, unit_none));
  expect_dim(accepted, unit_A, "charge_accepted_A");
  const CellSource<Dim> source{.emf_V = volt(96), .resistance_ohm = ohm(0.05)};
  expect_dim(charge_current_limit_A(source, volt(100), accepted), unit_A, "charge_current_limit_A");
  const Standing<Dim> pack{num<Dim>(0.02), kelvin(12), ampere(0.01), with_unit(180e3, unit_C)};
  expect_dim(standing_loss(pack, kelvin(290), second(1e6)), unit_none, "standing_loss");
}

TEST_F(CellDims, PublishedCells) {
  const Dim s = with_unit(0.4, unit_none);
  expect_dim(lco_ocv_V(s), unit_V, "lco_ocv_V");
  expect_dim(lco_series_ohm(s), unit_ohm, "lco_series_ohm");
  expect_dim(lco_quick_pair(s).resistance_ohm, unit_ohm, "lco_quick_pair resistance");
  expect_dim(lco_slow_pair(s).capacitance_F, unit_F, "lco_slow_pair capacitance");
  const auto cell = tremblay_lfp_cell<Dim>();
  expect_dim(tremblay_discharge_V<Dim>(cell, {s, ampere(2), ampere(2)}), unit_V,
             "tremblay_discharge_V");
  expect_dim(tremblay_charge_V<Dim>(cell, {s, ampere(-2), ampere(-2)}), unit_V,
             "tremblay_charge_V");
}

TEST_F(CellDims, OneThermalNode) {
  const ThermalNode<Dim> node{with_unit(2500, unit_JpK), with_unit(0.16, unit_KpW)};
  expect_dim(node_time_constant_s(node), unit_s, "node_time_constant_s");
  expect_dim(node_rise_steady_K(node, watt(300)), unit_K, "node_rise_steady_K");
  expect_dim(node_rise_next_K(node, kelvin(12), watt(300), second(9)), unit_K, "node_rise_next_K");
  expect_dim(node_time_to_limit_s(node, kelvin(12), watt(600), kelvin(60)), unit_s,
             "node_time_to_limit_s");
  const auto found = node_from_ratings<Dim>({watt(500), watt(2100), second(45), kelvin(95)});
  expect_dim(found.capacity_J_per_K, unit_JpK, "node_from_ratings capacity");
  expect_dim(found.resistance_K_per_W, unit_KpW, "node_from_ratings resistance");
}

TEST_F(CellDims, TwoThermalNodes) {
  const TwoNodes<Dim> nodes{with_unit(2000, unit_JpK), with_unit(12000, unit_JpK),
                            with_unit(0.05, unit_KpW), with_unit(0.1, unit_KpW)};
  const TwoHeats<Dim> heat{watt(2400), watt(100)};
  const TwoRises<Dim> from{kelvin(20), kelvin(8)};
  expect_dim(two_node_times_s(nodes).quick_s, unit_s, "quick_s");
  expect_dim(two_node_times_s(nodes).slow_s, unit_s, "slow_s");
  expect_dim(two_node_after_K(nodes, from, heat, second(30)).inner_K, unit_K, "inner_K");
  expect_dim(two_node_after_K(nodes, from, heat, second(30)).outer_K, unit_K, "outer_K");
  expect_dim(inner_rise_speed_Kps(nodes, from, watt(2400)), unit_Kps, "inner_rise_speed_Kps");
  expect_dim(two_node_time_to_limit_s(nodes, from, heat, kelvin(115)), unit_s,
             "two_node_time_to_limit_s");
  const auto found = two_nodes_from_ratings<Dim>({.inner_J_per_K = with_unit(1500, unit_JpK),
                                                  .outer_J_per_K = with_unit(9000, unit_JpK),
                                                  .continuous = {watt(450), watt(120)},
                                                  .peak = {watt(3600), watt(150)},
                                                  .peak_s = second(60),
                                                  .limit_K = kelvin(100)});
  expect_dim(found.between_K_per_W, unit_KpW, "two_nodes_from_ratings between");
  expect_dim(found.air_K_per_W, unit_KpW, "two_nodes_from_ratings air");
}

TEST_F(CellDims, CopperAirAndDuty) {
  expect_dim(copper_loss_factor(kelvin(370)), unit_none, "copper_loss_factor");
  expect_dim(copper_steady_K(kelvin(313), watt(400), with_unit(0.16, unit_KpW)), unit_K,
             "copper_steady_K");
  expect_dim(copper_adiabatic_Kps(with_unit(1e7, unit_Apm2), kelvin(350)), unit_Kps,
             "copper_adiabatic_Kps");
  expect_dim(
      discharge_rise_K(ampere(4), ohm(0.016), with_unit(15e3, unit_C), with_unit(66, unit_JpK)),
      unit_K, "discharge_rise_K");
  expect_dim(cylinder_surface_m2(with_unit(0.02, unit_m), with_unit(0.07, unit_m)), unit_m2,
             "cylinder_surface_m2");
  const auto air = warm_air_film<Dim>();
  expect_dim(cylinder_convection_W_per_m2K(air, with_unit(0.2, unit_m), with_unit(9, unit_mps)),
             unit_Wpm2K, "cylinder_convection_W_per_m2K");
  expect_dim(plate_convection_W_per_m2K(with_unit(9, unit_mps)), unit_Wpm2K,
             "plate_convection_W_per_m2K");
  expect_dim(radiation_W_per_m2K(num<Dim>(0.9), kelvin(350), kelvin(300)), unit_Wpm2K,
             "radiation_W_per_m2K");
  expect_dim(fin_efficiency(with_unit(0.7, unit_none)), unit_none, "fin_efficiency");
  expect_dim(life_factor_halving(kelvin(430), kelvin(420), kelvin(10)), unit_none,
             "life_factor_halving");
  expect_dim(arrhenius_slowing(with_unit(9e4, unit_J), kelvin(430), kelvin(440)), unit_none,
             "arrhenius_slowing");
  expect_dim(intermittent_rms_A(ampere(60), second(30), second(120)), unit_A, "intermittent_rms_A");
  const std::array<DutyPart<Dim>, 2> duty{{{ampere(60), second(30)}, {ampere(5), second(90)}}};
  expect_dim(duty_rms_A(std::span<const DutyPart<Dim>>(duty)), unit_A, "duty_rms_A");
}

}  // namespace
}  // namespace ww
