// SPDX-License-Identifier: MIT
// Every motor and controller kernel with a number that carries its dimension.
#include "model/brushed_motor.h"
#include "model/controller.h"
#include "model/identify.h"
#include "model/induction_motor.h"
#include "model/motor_constants.h"
#include "model/pm_motor.h"
#include "tests/dims/dim.h"

namespace ww::model {
namespace {

class MotorDims : public DimTest {};

const Powers unit_Nms{1, 2, -1, 0, 0};
const Powers unit_Nms2 = unit_kgm2;
const Powers unit_NmA{1, 2, -2, -1, 0};
const Powers unit_radpsV{-1, -2, 2, 1, 0};
const Powers unit_Hz = unit_radps;

Dim ohm(double v) {
  return with_unit(v, unit_ohm);
}
Dim henry(double v) {
  return with_unit(v, unit_H);
}
Dim volt(double v) {
  return with_unit(v, unit_V);
}
Dim ampere(double v) {
  return with_unit(v, unit_A);
}
Dim weber(double v) {
  return with_unit(v, unit_Wb);
}
Dim newton_metre(double v) {
  return with_unit(v, unit_Nm);
}
Dim radps(double v) {
  return with_unit(v, unit_radps);
}
Dim watt(double v) {
  return with_unit(v, unit_W);
}
Dim kelvin(double v) {
  return with_unit(v, unit_K);
}
Dim second(double v) {
  return with_unit(v, unit_s);
}

PmMotor<Dim> pm() {
  return {ohm(0.018),
          henry(0.37e-3),
          henry(1.2e-3),
          weber(0.066),
          Dim(3),
          newton_metre(0.3),
          with_unit(2e-3, unit_Nms),
          with_unit(1e-6, unit_Nms2)};
}
InductionMotor<Dim> induction() {
  return {ohm(0.004),
          ohm(0.005),
          henry(35e-6),
          henry(45e-6),
          henry(1.1e-3),
          Dim(2),
          ampere(90),
          Dim(0.4),
          newton_metre(0.5),
          with_unit(1e-3, unit_Nms),
          with_unit(2e-6, unit_Nms2)};
}
BrushedPmMotor<Dim> brushed() {
  return {weber(0.1349),
          ohm(0.016),
          volt(1.5),
          newton_metre(0.6),
          with_unit(1e-3, unit_Nms),
          with_unit(1e-6, unit_Nms2)};
}
BrushedSeriesMotor<Dim> series() {
  return {henry(1.2e-3),
          ampere(250),
          ohm(0.03),
          volt(2),
          newton_metre(0.8),
          with_unit(1e-3, unit_Nms),
          with_unit(2e-6, unit_Nms2)};
}

void expect_point(const DqPoint<Dim>& p) {
  expect_dim(p.current_d_A, unit_A, "id");
  expect_dim(p.current_q_A, unit_A, "iq");
  expect_dim(p.voltage_d_V, unit_V, "vd");
  expect_dim(p.voltage_q_V, unit_V, "vq");
  expect_dim(p.torque_airgap_Nm, unit_Nm, "torque");
}

template <class Motor>
void expect_shaft(const Motor& motor) {
  const DriveLimits<Dim> limits{volt(45), ampere(240), Dim(1)};
  for (const double speed : {100.0, 250.0}) {
    const auto p = drive_point<Dim>(motor, {newton_metre(20), radps(speed)}, limits);
    expect_dim(p.power_electrical_W, unit_W, "electrical power");
    expect_dim(p.current_phase_peak_A, unit_A, "current");
    expect_dim(p.loss_copper_W, unit_W, "copper loss");
    expect_dim(p.loss_iron_mech_W, unit_W, "drag loss");
    expect_dim(drag_torque(motor, radps(speed)), unit_Nm, "drag");
    expect_dim(torque_shaft_max(motor, radps(speed), limits), unit_Nm, "top");
    expect_dim(torque_shaft_min(motor, radps(speed), limits), unit_Nm, "low");
  }
}

TEST_F(MotorDims, ShaftPoints) {
  expect_shaft(pm());
  expect_shaft(induction());
  expect_shaft(brushed());
  expect_shaft(series());
}

TEST_F(MotorDims, PmMotor) {
  const auto m = pm();
  for (const double weakening : {0.0, 1.0}) {
    for (const double speed : {50.0, 400.0, 900.0, 1300.0}) {
      const DriveLimits<Dim> limits{volt(173), ampere(240), Dim(weakening)};
      expect_point(torque_envelope(m, radps(speed), limits).point);
      expect_point(torque_airgap_min(m, radps(speed), limits).point);
      const auto p = currents_for_torque<Dim>(m, {newton_metre(30), radps(speed)}, limits).point;
      expect_point(p);
      expect_dim(voltage_magnitude(p), unit_V, "|v|");
      expect_dim(current_magnitude(p), unit_A, "|i|");
      expect_dim(power_electrical(p), unit_W, "power");
      expect_dim(power_copper(m, p), unit_W, "copper");
    }
  }
  expect_dim(mtpa(m, ampere(100)).current_d_A, unit_A, "mtpa d");
  expect_dim(mtpa(m, ampere(100)).current_q_A, unit_A, "mtpa q");
  expect_dim(torque_airgap(m, mtpa(m, ampere(100))), unit_Nm, "torque");
  expect_dim(characteristic_current(m), unit_A, "characteristic current");
  expect_dim(no_load_speed(m, volt(100)), unit_radps, "no-load speed");
  expect_dim(base_speed(m, ampere(240), volt(173)), unit_radps, "base speed");
  expect_dim(mtpv_start_speed(m, ampere(240), volt(173)), unit_radps, "most torque per volt");
  expect_dim(back_emf_line_line_peak(m, radps(100)), unit_V, "back-EMF");
  const auto warm = at_temperature(m, kelvin(373), kelvin(353));
  expect_dim(warm.resistance_phase_ohm, unit_ohm, "warm resistance");
  expect_dim(warm.flux_peak_Wb, unit_Wb, "warm flux");
}

TEST_F(MotorDims, InductionMotor) {
  const auto m = induction();
  const auto c = circuit_at(m, radps(300));
  expect_dim(c.resistance_stator_ohm, unit_ohm, "R1");
  expect_dim(c.resistance_rotor_ohm, unit_ohm, "R2");
  expect_dim(c.reactance_stator_ohm, unit_ohm, "X1");
  expect_dim(c.reactance_rotor_ohm, unit_ohm, "X2");
  expect_dim(c.reactance_magnetizing_ohm, unit_ohm, "Xm");
  const auto p = circuit_point<Dim>(c, {volt(30), Dim(0.03), radps(150)});
  expect_dim(p.impedance_ohm, unit_ohm, "impedance");
  expect_dim(p.current_phase_rms_A, unit_A, "current");
  expect_dim(p.power_factor, unit_none, "power factor");
  expect_dim(p.power_electrical_W, unit_W, "power");
  expect_dim(p.loss_stator_W, unit_W, "stator loss");
  expect_dim(p.power_airgap_W, unit_W, "airgap power");
  expect_dim(p.loss_rotor_W, unit_W, "rotor loss");
  expect_dim(p.power_converted_W, unit_W, "converted power");
  expect_dim(p.torque_airgap_Nm, unit_Nm, "torque");
  const auto source = thevenin(c, volt(30));
  expect_dim(source.voltage_phase_rms_V, unit_V, "Vth");
  expect_dim(source.resistance_ohm, unit_ohm, "Rth");
  expect_dim(source.reactance_ohm, unit_ohm, "Xth");
  expect_dim(slip_breakdown(c), unit_none, "slip");
  expect_dim(torque_breakdown(c, volt(30), radps(150)), unit_Nm, "breakdown torque");
  for (const double voltage : {45.0, 400.0}) {
    const DriveLimits<Dim> limits{volt(voltage), ampere(240), Dim(1)};
    const auto f = flux_point_for_torque<Dim>(m, {newton_metre(15), radps(400)}, limits);
    expect_dim(f.current_d_A, unit_A, "id");
    expect_dim(f.current_q_A, unit_A, "iq");
    expect_dim(f.frequency_radps, unit_radps, "frequency");
    expect_dim(f.voltage_d_V, unit_V, "vd");
    expect_dim(f.voltage_q_V, unit_V, "vq");
    expect_dim(f.torque_airgap_Nm, unit_Nm, "torque");
    expect_dim(torque_envelope(m, radps(400), limits), unit_Nm, "envelope");
  }
}

TEST_F(MotorDims, BrushedMotors) {
  const auto m = brushed();
  const auto s = series();
  const DriveLimits<Dim> limits{volt(60), ampere(200), Dim(0)};
  const auto point = chopper(volt(24), ampere(200), volt(96));
  expect_dim(point.duty, unit_none, "duty");
  expect_dim(point.current_battery_A, unit_A, "battery current");
  expect_dim(at_field_share(m, Dim(0.75)).constant_Vs, unit_Wb, "field share");
  expect_dim(series_flux_factor(s, ampere(100)), unit_Wb, "flux factor");
  expect_dim(speed_on_magnetisation(volt(246), volt(80), radps(125)), unit_radps, "curve");
  expect_dim(speed_at(m, volt(60), ampere(100)), unit_radps, "speed");
  expect_dim(speed_at(s, volt(60), ampere(100)), unit_radps, "series speed");
  expect_dim(current_for_torque(m, newton_metre(20)), unit_A, "current");
  expect_dim(current_for_torque(s, newton_metre(20)), unit_A, "series current");
  expect_dim(current_max(m, radps(300), limits), unit_A, "largest current");
  expect_dim(current_max(s, radps(300), limits), unit_A, "largest series current");
  expect_dim(current_at_power(m, radps(300), watt(5000)), unit_A, "current at power");
  expect_dim(current_at_power(s, radps(300), watt(5000)), unit_A, "series current at power");
  expect_dim(torque_envelope(m, radps(300), limits), unit_Nm, "envelope");
  expect_dim(torque_envelope(s, radps(300), limits), unit_Nm, "series envelope");
  expect_dim(torque_envelope_battery(m, radps(300), limits, watt(5000)), unit_Nm, "battery");
  expect_dim(torque_envelope_battery(s, radps(300), limits, watt(5000)), unit_Nm, "battery");
}

TEST_F(MotorDims, Constants) {
  const auto volts = VoltageConvention::line_line_rms;
  const auto amperes = CurrentConvention::phase_rms;
  const Dim kv = with_unit(6.3, unit_radpsV);
  expect_dim(flux_from_speed_constant(kv, Dim(5), volts), unit_Wb, "flux");
  expect_dim(speed_constant_from_flux(weber(0.01), Dim(5), volts), unit_radpsV, "kV");
  expect_dim(torque_constant_from_flux(weber(0.01), Dim(5), amperes), unit_NmA, "Kt");
  expect_dim(flux_from_torque_constant(with_unit(0.16, unit_NmA), Dim(5), amperes), unit_Wb,
             "flux");
  expect_dim(current_phase_peak(ampere(100), amperes), unit_A, "current");
  expect_dim(current_in_convention(ampere(100), amperes), unit_A, "current");
  expect_dim(winding_phase(ohm(0.012), WindingConvention::line_line), unit_ohm, "resistance");
  expect_dim(winding_in_convention(ohm(0.012), WindingConvention::line_line), unit_ohm, "back");
  expect_dim(flux_star_from_delta(weber(0.01)), unit_Wb, "star flux");
  const Powers unit_Km{0.5, 1, -0.5, 0, 0};
  expect_dim(motor_constant(with_unit(0.14, unit_NmA), ohm(0.006)), unit_Km, "Km");
  expect_dim(copper_loss_line_line(ohm(0.012), ampere(100)), unit_W, "copper");
}

TEST_F(MotorDims, ControllerKernels) {
  expect_dim(voltage_phase_available(volt(84), Dim(modulation_sine), Dim(0.05)), unit_V, "voltage");
  expect_dim(modulation_index(volt(40), volt(84)), unit_none, "modulation");
  expect_dim(current_dc_ideal(Dim(0.5), ampere(200), Dim(0.9)), unit_A, "dc current");
  expect_dim(
      loss_controller<Dim>({watt(8), volt(0.03), ohm(0.003), Dim(0.002)}, ampere(100), volt(84)),
      unit_W, "loss");
  expect_dim(current_dc(watt(5000), watt(200), volt(80)), unit_A, "battery current");
  expect_dim(loss_conduction_bridge(ampere(200), ohm(0.002)), unit_W, "conduction");
  expect_dim(loss_conduction_six_step(ampere(200), ohm(0.002)), unit_W, "six-step");
  expect_dim(switch_shares(Dim(0.8), Dim(0.9)).square_switch, unit_none, "switch");
  expect_dim(switch_shares(Dim(0.8), Dim(0.9)).square_diode, unit_none, "diode");
  expect_dim(on_resistance_factor(kelvin(380)), unit_none, "on-resistance");
  expect_dim(loss_switching<Dim>({volt(84), ampere(280), with_unit(16e3, unit_Hz), second(1.5e-7)}),
             unit_W, "switching");
  expect_dim(loss_dead_time<Dim>({volt(0.9), ampere(280), with_unit(16e3, unit_Hz), second(5e-7)}),
             unit_W, "dead time");
  expect_dim(speed_battery_limit(pm(), ampere(240), watt(30000)), unit_radps, "crossing");
  expect_dim(speed_regen_zero(ohm(0.006), ampere(100), with_unit(0.14, unit_NmA)), unit_radps,
             "regen zero");
  expect_dim(share_left<Dim>({kelvin(350), kelvin(370)}, kelvin(360)), unit_none, "share");
  const Foldback<Dim> f{.temperature_K = {kelvin(348), kelvin(368)},
                        .undervoltage_V = {volt(64), volt(58)},
                        .overvoltage_V = {volt(84), volt(86)}};
  const auto shares = limit_shares<Dim>(f, {kelvin(355), volt(61)});
  expect_dim(shares.drive, unit_none, "drive share");
  expect_dim(shares.regen, unit_none, "regen share");
  expect_dim(throttle_position<Dim>({volt(0.5), volt(0.8), volt(4.2), volt(4.7)}, volt(2)),
             unit_none, "throttle");
  expect_dim(throttle_torque(Dim(0.5), newton_metre(60), Dim(1.5)), unit_Nm, "torque law");
  expect_dim(throttle_speed_torque<Dim>({radps(400), with_unit(2, unit_Nms), newton_metre(60)},
                                        Dim(0.5), radps(180)),
             unit_Nm, "speed law");
  expect_dim(throttle_duty_torque<Dim>(pm(), Dim(0.8), radps(100), {volt(60), ampere(240), Dim(0)}),
             unit_Nm, "duty law");
  expect_dim(ramped<Dim>(newton_metre(10), newton_metre(60),
                         {with_unit(200, unit_W), with_unit(500, unit_W)}, second(0.1)),
             unit_Nm, "ramp");
}

TEST_F(MotorDims, SmallFits) {
  const DcView<Dim> dc{with_unit(6.28, unit_radpsV), ohm(0.012)};
  const NoLoad<Dim> slow{volt(40), ampere(8)};
  const NoLoad<Dim> fast{volt(80), ampere(12)};
  expect_dim(no_load_speed(dc, slow), unit_radps, "no-load speed");
  expect_dim(no_load_torque(dc, slow), unit_Nm, "no-load torque");
  const auto two = drag_from_two(dc, slow, fast);
  expect_dim(two.drag_constant_Nm, unit_Nm, "c0");
  expect_dim(two.drag_linear_Nms, unit_Nms, "c1");
  const auto one = drag_from_one(newton_metre(1.2), radps(400));
  expect_dim(one.drag_constant_Nm, unit_Nm, "c0");
  expect_dim(one.drag_linear_Nms, unit_Nms, "c1");
  expect_dim(best_efficiency(slow, ohm(0.02)).current_A, unit_A, "best current");
  expect_dim(best_efficiency(slow, ohm(0.02)).efficiency, unit_none, "best efficiency");
  const WholeMachineLoss<Dim> k{with_unit(1.5, {-1, -2, 1, 0, 0}), newton_metre(0.1),
                                with_unit(1e-5, unit_Nms2), watt(20)};
  expect_dim(efficiency_whole(k, newton_metre(20), radps(200)), unit_none, "efficiency");
  const Powers unit_Wpkg{0, 2, -3, 0, 0};
  const SteelLoss<Dim> first{with_unit(50, unit_Hz), with_unit(3.3, unit_Wpkg)};
  const SteelLoss<Dim> second_loss{with_unit(60, unit_Hz), with_unit(4.2, unit_Wpkg)};
  expect_dim(hysteresis_share(first, second_loss), unit_none, "hysteresis");
  expect_dim(steel_loss_at(first, Dim(0.7), with_unit(400, unit_Hz)), unit_Wpkg, "steel loss");
}

}  // namespace
}  // namespace ww::model
