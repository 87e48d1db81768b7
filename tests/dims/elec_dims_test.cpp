// SPDX-License-Identifier: MIT
// The electrical kernels with the number that carries its dimension.
#include <array>

#include "model/ampacity.h"
#include "model/busbar.h"
#include "model/charging.h"
#include "model/contactor.h"
#include "model/converter.h"
#include "model/dclink.h"
#include "model/fuse.h"
#include "model/isolation.h"
#include "model/precharge.h"
#include "model/short_circuit.h"
#include "model/wire.h"
#include "tests/dims/dim.h"

namespace ww::model {
namespace {

const Powers unit_ohmpm{1, 1, -3, -2, 0};
const Powers unit_WpmK{1, 1, -3, 0, -1};
const Powers unit_Wpm{1, 1, -3, 0, 0};
const Powers unit_Wpm2K{1, 0, -3, 0, -1};
const Powers unit_mKpW{-1, -1, 3, 0, 1};
const Powers unit_m2ps{0, 2, -1, 0, 0};
const Powers unit_A2s{0, 0, 1, 2, 0};
const Powers unit_k{0, -2, 0.5, 1, 0};
const Powers unit_Apm2{0, -2, 0, 1, 0};

Dim d(double value, const Powers& powers) {
  return with_unit(value, powers);
}
Dim plain(double value) {
  return with_unit(value, unit_none);
}

class ElecDims : public DimTest {};

TEST_F(ElecDims, Wire) {
  const auto copper = annealed_copper<Dim>();
  expect_dim(awg_diameter_m(plain(4)), unit_m, "awg_diameter_m");
  expect_dim(awg_gauge(d(5e-3, unit_m)), unit_none, "awg_gauge");
  expect_dim(circle_area_m2(d(5e-3, unit_m)), unit_m2, "circle_area_m2");
  expect_dim(strand_diameter_m(d(25e-6, unit_m2), plain(0.6)), unit_m, "strand_diameter_m");
  expect_dim(wire_resistance_ratio(copper, d(350, unit_K)), unit_none, "wire_resistance_ratio");
  expect_dim(wire_temperature_K(conductor_aluminium<Dim>(), plain(1.2)), unit_K, "temperature");
  const Dim ohmpm = wire_resistance_ohmpm(copper, d(25e-6, unit_m2), d(350, unit_K));
  expect_dim(ohmpm, unit_ohmpm, "wire_resistance_ohmpm");
  expect_dim(wire_equivalent_area_m2(copper, ohmpm), unit_m2, "wire_equivalent_area_m2");
  expect_dim(iec_factor_to_20degC(d(350, unit_K)), unit_none, "iec_factor_to_20degC");
  const WireRun<Dim> run{ohmpm, d(2, unit_m), d(100, unit_A)};
  expect_dim(wire_drop_V(run), unit_V, "wire_drop_V");
  expect_dim(wire_loss_W(run), unit_W, "wire_loss_W");
}

TEST_F(ElecDims, Ampacity) {
  const Cable<Dim> cable{.metal = annealed_copper<Dim>(),
                         .resistance_20C_ohmpm = d(0.78e-3, unit_ohmpm),
                         .diameter_conductor_m = d(7.5e-3, unit_m),
                         .thickness_insulation_m = d(1.5e-3, unit_m),
                         .conductivity_insulation_WpmK = d(0.2, unit_WpmK),
                         .emissivity = plain(0.9)};
  const CablePlace<Dim> place{.air = {d(303.15, unit_K), d(1, unit_mps)},
                              .thickness_sleeve_m = d(1e-3, unit_m),
                              .conductivity_sleeve_WpmK = d(0.08, unit_WpmK),
                              .factor_bundle = plain(0.7)};
  const FilmAir<Dim> film = film_air(d(330, unit_K));
  expect_dim(film.conductivity_WpmK, unit_WpmK, "film_air conductivity");
  expect_dim(film.viscosity_kinematic_m2ps, unit_m2ps, "film_air viscosity");
  expect_dim(film.prandtl, unit_none, "film_air prandtl");
  expect_dim(cable_nusselt_still(plain(1e4), plain(0.7)), unit_none, "cable_nusselt_still");
  expect_dim(cable_nusselt_flow(plain(1e3), plain(0.7)), unit_none, "cable_nusselt_flow");
  const WarmSurface<Dim> surface = cable_surface(cable, place);
  expect_dim(surface.perimeter_m, unit_m, "perimeter");
  expect_dim(surface.diameter_m, unit_m, "diameter");
  expect_dim(convection_Wpm2K(surface, place.air, d(340, unit_K)), unit_Wpm2K, "convection");
  expect_dim(radiation_Wpm2K(plain(0.9), d(340, unit_K), d(300, unit_K)), unit_Wpm2K, "radiation");
  expect_dim(surface_heat_Wpm(surface, place.air, d(340, unit_K)), unit_Wpm, "surface_heat_Wpm");
  expect_dim(cable_layers_mKpW(cable, place), unit_mKpW, "cable_layers_mKpW");
  expect_dim(cable_temperature_K(cable, place, d(80, unit_A)), unit_K, "cable_temperature_K");
  expect_dim(cable_current_A(cable, place, d(363.15, unit_K)), unit_A, "cable_current_A");
  expect_dim(ambient_factor<Dim>({d(363, unit_K), d(303, unit_K)}, d(313, unit_K)), unit_none,
             "ambient_factor");
  expect_dim(bundle_factor(plain(4)), unit_none, "bundle_factor");
}

TEST_F(ElecDims, Busbar) {
  const Busbar<Dim> bar{annealed_copper<Dim>(), d(20e-3, unit_m), d(2e-3, unit_m), plain(0.4)};
  expect_dim(busbar_area_m2(bar), unit_m2, "busbar_area_m2");
  expect_dim(busbar_density_Apm2(bar, d(200, unit_A)), unit_Apm2, "busbar_density_Apm2");
  expect_dim(busbar_resistance_ohm(bar, d(0.1, unit_m), d(350, unit_K)), unit_ohm,
             "busbar_resistance_ohm");
  expect_dim(busbar_temperature_K<Dim>(bar, {d(308, unit_K), d(0, unit_mps)}, d(200, unit_A)),
             unit_K, "busbar_temperature_K");
}

TEST_F(ElecDims, ShortCircuit) {
  const auto copper = adiabatic_copper<Dim>();
  const Dim area = d(25e-6, unit_m2);
  const Dim k = adiabatic_k(copper, d(363.15, unit_K), d(523.15, unit_K));
  expect_dim(k, unit_k, "adiabatic_k");
  expect_dim(adiabatic_withstand_A2s(k, area), unit_A2s, "adiabatic_withstand_A2s");
  expect_dim(adiabatic_section_m2(k, d(1e6, unit_A2s)), unit_m2, "adiabatic_section_m2");
  expect_dim(adiabatic_time_s(k, area, d(2000, unit_A)), unit_s, "adiabatic_time_s");
  expect_dim(adiabatic_current_A(k, area, d(1, unit_s)), unit_A, "adiabatic_current_A");
  expect_dim(adiabatic_temperature_K<Dim>(copper, {area, d(1e6, unit_A2s)}, d(363.15, unit_K)),
             unit_K, "adiabatic_temperature_K");
  expect_dim(ipcea_current_A<Dim>(area, d(1, unit_s), {d(363, unit_K), d(523, unit_K)}), unit_A,
             "ipcea_current_A");
  expect_dim(onderdonk_fusing_A(area, d(1, unit_s), d(313, unit_K)), unit_A, "onderdonk_fusing_A");
  expect_dim(preece_fusing_A(d(1e-3, unit_m)), unit_A, "preece_fusing_A");
  expect_dim(prospective_current_A<Dim>({d(84, unit_V), d(0.02, unit_ohm), d(0.005, unit_ohm)}),
             unit_A, "prospective_current_A");
  const FaultRise<Dim> rise{d(3000, unit_A), d(1e-4, unit_s)};
  expect_dim(fault_current_A(rise, d(1e-3, unit_s)), unit_A, "fault_current_A");
  expect_dim(fault_I2t_A2s(rise, d(1e-3, unit_s)), unit_A2s, "fault_I2t_A2s");
  expect_dim(fault_time_s(rise, d(6e4, unit_A2s)), unit_s, "fault_time_s");
}

TEST_F(ElecDims, Fuse) {
  const std::array<FusePoint<Dim>, 3> points{{{d(400, unit_A), d(80, unit_s)},
                                              {d(1000, unit_A), d(0.8, unit_s)},
                                              {d(4000, unit_A), d(0.05, unit_s)}}};
  const FuseCurve<Dim> curve{points};
  expect_dim(fuse_melting_time_s(curve, d(700, unit_A)), unit_s, "fuse_melting_time_s");
  expect_dim(fuse_melting_current_A(curve, d(2, unit_s)), unit_A, "fuse_melting_current_A");
  const std::array<FusePulse<Dim>, 1> pulses{{{d(300, unit_A), d(10, unit_s)}}};
  expect_dim(fuse_pulse_share<Dim>(curve, pulses), unit_none, "fuse_pulse_share");
  expect_dim(fuse_clearing_A2s(d(1e5, unit_A2s), d(2e5, unit_A2s)), unit_A2s, "fuse_clearing_A2s");
  expect_dim(fuse_let_through_share(d(1e5, unit_A2s), d(2e6, unit_A2s)), unit_none,
             "fuse_let_through_share");
  const FuseRating<Dim> fuse{d(250, unit_A), d(298, unit_K), d(378, unit_K)};
  expect_dim(fuse_derated_A(fuse, d(320, unit_K)), unit_A, "fuse_derated_A");
  expect_dim(fuse_continuous_share(fuse, d(320, unit_K), d(110, unit_A)), unit_none,
             "fuse_continuous_share");
  expect_dim(fuse_rating_needed_A(d(120, unit_A), d(10, unit_A)), unit_A, "fuse_rating_needed_A");
}

TEST_F(ElecDims, Precharge) {
  const Precharge<Dim> p{d(84, unit_V), d(100, unit_ohm), d(4.7e-3, unit_F), d(0.2, unit_A)};
  const Dim t = d(0.8, unit_s);
  expect_dim(precharge_constant_s(p), unit_s, "precharge_constant_s");
  expect_dim(precharge_final_V(p), unit_V, "precharge_final_V");
  expect_dim(precharge_voltage_V(p, t), unit_V, "precharge_voltage_V");
  expect_dim(precharge_time_s(p, plain(0.7)), unit_s, "precharge_time_s");
  expect_dim(precharge_current_A(p, t), unit_A, "precharge_current_A");
  expect_dim(precharge_power_W(p, t), unit_W, "precharge_power_W");
  expect_dim(precharge_energy_J(p, t), unit_J, "precharge_energy_J");
  expect_dim(precharge_resistance_ohm(t, d(4.7e-3, unit_F), plain(0.95)), unit_ohm,
             "precharge_resistance_ohm");
  expect_dim(
      bus_discharge_s<Dim>({d(1e4, unit_ohm), d(4.7e-3, unit_F), d(96, unit_V)}, d(60, unit_V)),
      unit_s, "bus_discharge_s");
  expect_dim(capacitor_energy_J(d(4.7e-3, unit_F), d(84, unit_V)), unit_J, "capacitor_energy_J");
  expect_dim(capacitor_voltage_V(d(4.7e-3, unit_F), d(0.2, unit_J)), unit_V, "capacitor_voltage_V");
}

TEST_F(ElecDims, Isolation) {
  const IsolationLeaks<Dim> leaks{d(72, unit_V), d(50e3, unit_ohm), d(200e3, unit_ohm)};
  const auto m = isolation_readings(leaks, d(36e3, unit_ohm));
  expect_dim(m.voltage_bus_V, unit_V, "bus");
  expect_dim(m.voltage_negative_V, unit_V, "negative");
  expect_dim(m.voltage_positive_V, unit_V, "positive");
  expect_dim(m.voltage_inserted_V, unit_V, "inserted");
  expect_dim(isolation_resistance_ohm(m), unit_ohm, "isolation_resistance_ohm");
  // ohm per volt is one over ampere.
  expect_dim(isolation_ohm_per_volt(d(50e3, unit_ohm), d(72, unit_V)), Powers{0, 0, 0, -1, 0},
             "isolation_ohm_per_volt");
  expect_dim(isolation_leak_A(leaks), unit_A, "isolation_leak_A");
  expect_dim(isolation_touch_A(leaks, d(1000, unit_ohm)), unit_A, "isolation_touch_A");
}

TEST_F(ElecDims, DcLinkAndContactor) {
  expect_dim(ripple_current_rms_A<Dim>({d(200, unit_A), plain(0.7), plain(0.9)}), unit_A,
             "ripple_current_rms_A");
  expect_dim(ripple_heat_W(d(100, unit_A), d(2e-3, unit_ohm)), unit_W, "ripple_heat_W");
  expect_dim(cable_overshoot_V(d(300, unit_A), d(1e-6, unit_H), d(4e-3, unit_F)), unit_V,
             "cable_overshoot_V");
  expect_dim(contactor_make_A<Dim>({d(84, unit_V), d(80, unit_V), d(0.025, unit_ohm)}), unit_A,
             "contactor_make_A");
  expect_dim(contactor_bus_needed_V(d(84, unit_V), d(0.025, unit_ohm), d(170, unit_A)), unit_V,
             "contactor_bus_needed_V");
  expect_dim(contactor_break_energy_J(d(2e-6, unit_H), d(300, unit_A)), unit_J,
             "contactor_break_energy_J");
  expect_dim(contactor_drop_V(d(3e-4, unit_ohm), d(300, unit_A)), unit_V, "contactor_drop_V");
  expect_dim(contactor_heat_W(d(3e-4, unit_ohm), d(300, unit_A), d(1.5, unit_W)), unit_W,
             "contactor_heat_W");
}

TEST_F(ElecDims, Converter) {
  const std::array<AuxiliaryLoad<Dim>, 2> loads{
      {{d(55, unit_W), plain(1)}, {d(21, unit_W), plain(0.5)}}};
  expect_dim(auxiliary_power_W<Dim>(loads), unit_W, "auxiliary_power_W");
  expect_dim(converter_current_in_A(d(150, unit_W), d(73, unit_V), plain(0.88)), unit_A,
             "converter_current_in_A");
  expect_dim(buffer_hold_s<Dim>({d(18000, unit_C), plain(0.8), d(12, unit_V)}, d(60, unit_W)),
             unit_s, "buffer_hold_s");
  expect_dim(drain_time_s(d(3e5, unit_C), plain(0.1), d(0.01, unit_A)), unit_s, "drain_time_s");
  expect_dim(drain_allowed_A(d(3e5, unit_C), plain(0.1), d(2e6, unit_s)), unit_A,
             "drain_allowed_A");
  const Outlet<Dim> outlet{d(230, unit_V), d(16, unit_A), plain(0.8)};
  expect_dim(outlet_power_W(outlet), unit_W, "outlet_power_W");
  expect_dim(charger_current_A<Dim>(outlet, {d(3300, unit_W), d(40, unit_A), plain(0.94)},
                                    {d(50, unit_A), d(45, unit_A)}, d(84, unit_V)),
             unit_A, "charger_current_A");
  expect_dim(charge_time_estimate_s(d(2e7, unit_J), d(1440, unit_W), plain(0.9), d(1440, unit_s)),
             unit_s, "charge_time_estimate_s");
}

TEST_F(ElecDims, Charging) {
  const ChargePack<Dim> pack{d(72000, unit_C), d(0.1, unit_ohm), d(84, unit_V), d(22, unit_V)};
  const ChargeRun<Dim> run{d(12, unit_A), d(1, unit_A), plain(0.3)};
  expect_dim(charge_constant_s(pack), unit_s, "charge_constant_s");
  expect_dim(charge_soc_at_cv(pack, run), unit_none, "charge_soc_at_cv");
  expect_dim(charge_current_at_cv_A(pack, run), unit_A, "charge_current_at_cv_A");
  expect_dim(charge_time_cc_s(pack, run), unit_s, "charge_time_cc_s");
  expect_dim(charge_time_cv_s(pack, run), unit_s, "charge_time_cv_s");
  expect_dim(charge_cv_C(pack, run), unit_C, "charge_cv_C");
  expect_dim(charge_soc_end(pack, run), unit_none, "charge_soc_end");
  expect_dim(charge_energy_J(pack, run), unit_J, "charge_energy_J");
  expect_dim(charge_wall_J(d(2e7, unit_J), plain(0.9)), unit_J, "charge_wall_J");
  expect_dim(round_trip_efficiency(d(84, unit_V), d(0.1, unit_ohm), d(12, unit_A)), unit_none,
             "round_trip_efficiency");
}

}  // namespace
}  // namespace ww::model
