// SPDX-License-Identifier: MIT
// Brushed motors: permanent magnet (or separately excited at a fixed field) and series field with
// saturation. Conventions: one armature current and voltage, drive positive; the brush drop is a
// voltage that always opposes the current and is counted with the copper loss. Invariants: as
// shaft_point.h.
#pragma once

#include "base/num.h"
#include "model/shaft_point.h"

namespace ww::model {

/// Permanent magnet, or separate field held constant.
template <class R>
struct BrushedPmMotor {
  R constant_Vs;  ///< back-EMF per rad/s = torque per ampere
  R resistance_armature_ohm;
  R voltage_brush_V;  ///< both brushes together, 1 to 2 V for carbon
  R drag_constant_Nm;
  R drag_linear_Nms;
  R drag_quadratic_Nms2;
};

/// Series field: flux per ampere falls with the current by Froelich's curve I/(1 + I/Is).
template <class R>
struct BrushedSeriesMotor {
  R constant_series_H;     ///< unsaturated: E = k I w, T = k I^2
  R current_saturation_A;  ///< Is: there the flux is half of the straight line; infinite: straight
  R resistance_ohm;        ///< armature and field in series
  R voltage_brush_V;
  R drag_constant_Nm;
  R drag_linear_Nms;
  R drag_quadratic_Nms2;
};

/// A chopper's view of the armature: V_m = D V_dc, I_battery = D I_m.
template <class R>
struct ChopperPoint {
  R duty;
  R current_battery_A;
};

/// Duty and battery current of a lossless chopper.
/// Valid: battery voltage > 0; NaN where the armature voltage is below zero or above the battery's.
/// Ignores ripple, switching and conduction loss (see controller.h).
/// Source: definition of the step-down chopper. Checked by: tests/values/brushed.tsv.
template <class R>
ChopperPoint<R> chopper(R voltage_armature_V, R current_armature_A, R voltage_battery_V) {
  const R duty = voltage_armature_V / voltage_battery_V;
  const R held = valid_where((duty >= num<R>(0)) & (duty <= num<R>(1)), duty);
  return {.duty = held, .current_battery_A = held * current_armature_A};
}

/// The same motor at another share of its field (separate excitation), 1 = as given.
/// Valid: share > 0.
/// Ignores the field's own copper loss and armature reaction.
/// Source: E = k phi w. Checked by: tests/values/brushed.tsv.
template <class R>
BrushedPmMotor<R> at_field_share(const BrushedPmMotor<R>& motor, R share) {
  BrushedPmMotor<R> other = motor;
  other.constant_Vs = motor.constant_Vs * share;
  return other;
}

/// Torque constant (flux factor) of the series motor at a current: k I/(1 + I/Is), V s.
template <class R>
R series_flux_factor(const BrushedSeriesMotor<R>& motor, R current_A) {
  return motor.constant_series_H * current_A / (num<R>(1) + current_A / motor.current_saturation_A);
}

/// Speed of a machine from its magnetisation curve: n = n0 E/E0.  Result in rad/s.
/// Valid: E0 > 0 taken from the curve at the field current in question.
/// Ignores armature reaction.
/// Source: Chapman, Electric Machinery Fundamentals, ex. 9-5 (method). Checked by:
/// tests/values/brushed.tsv.
template <class R>
R speed_on_magnetisation(R back_emf_V, R curve_emf_V, R curve_speed_radps) {
  return curve_speed_radps * back_emf_V / curve_emf_V;
}

/// Speed at an armature voltage and current: (V - R I - Vb)/(k phi).  Result in rad/s.
/// Valid: current > 0.
/// Ignores armature reaction.
/// Source: V = E + I R + Vb. Checked by: tests/values/brushed.tsv.
template <class R>
R speed_at(const BrushedPmMotor<R>& motor, R voltage_armature_V, R current_A) {
  return (voltage_armature_V - motor.resistance_armature_ohm * current_A - motor.voltage_brush_V) /
         motor.constant_Vs;
}

/// Speed of a series motor at an armature voltage and current; without load it runs away.
/// Valid: current > 0.
/// Ignores armature reaction.
/// Source: V = E + I R + Vb. Checked by: tests/values/brushed.tsv.
template <class R>
R speed_at(const BrushedSeriesMotor<R>& motor, R voltage_armature_V, R current_A) {
  return (voltage_armature_V - motor.resistance_ohm * current_A - motor.voltage_brush_V) /
         series_flux_factor(motor, current_A);
}

/// Armature current for an airgap torque: T/k.  Result in A.
template <class R>
R current_for_torque(const BrushedPmMotor<R>& motor, R torque_airgap_Nm) {
  return torque_airgap_Nm / motor.constant_Vs;
}

/// Armature current for an airgap torque of a series motor: k I^2 = |T| (1 + I/Is).  Result in A.
/// Valid: any torque; a negative one (field reversed against the armature) is not a drive point.
/// Ignores residual magnetism.
/// Source: Froelich's curve solved for the current. Checked by: tests/values/brushed.tsv.
template <class R>
R current_for_torque(const BrushedSeriesMotor<R>& motor, R torque_airgap_Nm) {
  const R torque = abs(torque_airgap_Nm);
  const R linear = torque / motor.current_saturation_A;
  return (linear + sqrt(square(linear) + num<R>(4) * motor.constant_series_H * torque)) /
         (num<R>(2) * motor.constant_series_H);
}

/// Largest armature current of drive at a speed from voltage and current limit, A, >= 0.
template <class R>
R current_max(const BrushedPmMotor<R>& motor, R speed_radps, const DriveLimits<R>& limits) {
  const R spare = limits.voltage_limit_V - motor.voltage_brush_V - motor.constant_Vs * speed_radps;
  return min(limits.current_limit_A, max(spare / motor.resistance_armature_ohm, num<R>(0)));
}

/// The same for the series motor: k w I/(1 + I/Is) + R I + Vb = V solved for I.
template <class R>
R current_max(const BrushedSeriesMotor<R>& motor, R speed_radps, const DriveLimits<R>& limits) {
  const R spare = max(limits.voltage_limit_V - motor.voltage_brush_V, num<R>(0));
  const R quadratic = motor.resistance_ohm / motor.current_saturation_A;
  const R linear = motor.constant_series_H * speed_radps + motor.resistance_ohm -
                   spare / motor.current_saturation_A;
  const R current =
      num<R>(2) * spare / (linear + sqrt(square(linear) + num<R>(4) * quadratic * spare));
  return min(limits.current_limit_A, current);
}

/// Armature current at which the motor takes an electrical power at a speed, A: the battery limit.
/// Valid: power >= 0, speed >= 0.
/// Ignores controller loss.
/// Source: (k w + Vb) I + R I^2 = P. Checked by: tests/model/motor_test.cpp.
template <class R>
R current_at_power(const BrushedPmMotor<R>& motor, R speed_radps, R power_W) {
  const R emf = motor.constant_Vs * speed_radps + motor.voltage_brush_V;
  return num<R>(2) * power_W /
         (emf + sqrt(square(emf) + num<R>(4) * motor.resistance_armature_ohm * power_W));
}

/// The same for the series motor: Newton from the standstill current, which lies above.
/// Valid: power >= 0, speed >= 0, resistance > 0.
/// Ignores controller loss.
/// Source: k w I^2/(1 + I/Is) + R I^2 + Vb I = P. Checked by: tests/model/motor_test.cpp.
template <class R>
R current_at_power(const BrushedSeriesMotor<R>& motor, R speed_radps, R power_W) {
  const R drop = motor.voltage_brush_V;
  const R res = motor.resistance_ohm;
  R i = num<R>(2) * power_W / (drop + sqrt(square(drop) + num<R>(4) * res * power_W));
  for (int k = 0; k < 12; ++k) {
    const R bend = num<R>(1) + i / motor.current_saturation_A;
    const R emf = motor.constant_series_H * speed_radps * i / bend;
    const R power = (emf + res * i + drop) * i;
    const R slope = emf + emf / bend + num<R>(2) * res * i + drop;
    i = i - (power - power_W) / slope;
  }
  return i;
}

/// Largest airgap torque of drive at a speed, Nm, from voltage and current limit.
template <class R>
R torque_envelope(const BrushedPmMotor<R>& motor, R speed_radps, const DriveLimits<R>& limits) {
  return motor.constant_Vs * current_max(motor, speed_radps, limits);
}
template <class R>
R torque_envelope(const BrushedSeriesMotor<R>& motor, R speed_radps, const DriveLimits<R>& limits) {
  const R current = current_max(motor, speed_radps, limits);
  return series_flux_factor(motor, current) * current;
}

/// Largest airgap torque where the battery gives no more than a power, Nm.
template <class R>
R torque_envelope_battery(const BrushedPmMotor<R>& motor, R speed_radps,
                          const DriveLimits<R>& limits, R power_battery_W) {
  const R current = min(current_max(motor, speed_radps, limits),
                        current_at_power(motor, speed_radps, power_battery_W));
  return motor.constant_Vs * current;
}
template <class R>
R torque_envelope_battery(const BrushedSeriesMotor<R>& motor, R speed_radps,
                          const DriveLimits<R>& limits, R power_battery_W) {
  const R current = min(current_max(motor, speed_radps, limits),
                        current_at_power(motor, speed_radps, power_battery_W));
  return series_flux_factor(motor, current) * current;
}

/// Largest shaft torque of drive, Nm.
template <class R>
R torque_shaft_max(const BrushedPmMotor<R>& motor, R speed_radps, const DriveLimits<R>& limits) {
  return torque_envelope(motor, speed_radps, limits) - drag_torque(motor, speed_radps);
}
template <class R>
R torque_shaft_max(const BrushedSeriesMotor<R>& motor, R speed_radps,
                   const DriveLimits<R>& limits) {
  return torque_envelope(motor, speed_radps, limits) - drag_torque(motor, speed_radps);
}

/// Most negative shaft torque at forward speed, Nm: a magnet motor brakes to its current limit, a
/// series motor only by its drag.
template <class R>
R torque_shaft_min(const BrushedPmMotor<R>& motor, R speed_radps, const DriveLimits<R>& limits) {
  return -motor.constant_Vs * limits.current_limit_A - drag_torque(motor, speed_radps);
}
template <class R>
R torque_shaft_min(const BrushedSeriesMotor<R>& motor, R speed_radps, const DriveLimits<R>&) {
  return -drag_torque(motor, speed_radps);
}

namespace detail {

/// The armature's part of a shaft point, the same for both fields.
template <class R>
struct Armature {
  R current_A;
  R back_emf_V;
  R resistance_ohm;
  R voltage_brush_V;
};

template <class R>
ShaftPoint<R> armature_point(const Armature<R>& a, const ShaftDemand<R>& demand, R drag_Nm,
                             const DriveLimits<R>& limits) {
  const R zero = num<R>(0);
  const R sign =
      select(a.current_A > zero, num<R>(1), select(a.current_A < zero, num<R>(-1), zero));
  const R drop = a.resistance_ohm * a.current_A + sign * a.voltage_brush_V;
  const R voltage = a.back_emf_V + drop;
  const R slack = num<R>(1 + limit_slack);
  const mask_of<R> feasible = (square(voltage) <= slack * square(limits.voltage_limit_V)) &
                              (square(a.current_A) <= slack * square(limits.current_limit_A));
  return {.torque_shaft_Nm = demand.torque_shaft_Nm,
          .power_electrical_W = voltage * a.current_A,
          .current_phase_peak_A = abs(a.current_A),
          .loss_copper_W = drop * a.current_A,
          .loss_iron_mech_W = drag_Nm * demand.speed_radps,
          .voltage_V = abs(voltage),
          .feasible = feasible};
}

}  // namespace detail

/// The operating point for a shaft torque at a speed, with its losses; braking by a controller of
/// four quadrants.
/// Valid: any torque and speed; masks as shaft_point.h.
/// Ignores commutation limits (current times speed) and armature reaction.
/// Source: V = E + I R + Vb, T = k phi I. Checked by: tests/model/motor_test.cpp (balance 1e-12).
template <class R>
ShaftPoint<R> drive_point(const BrushedPmMotor<R>& motor, const ShaftDemand<R>& demand,
                          const DriveLimits<R>& limits) {
  const R drag = drag_torque(motor, demand.speed_radps);
  const R current = current_for_torque(motor, demand.torque_shaft_Nm + drag);
  return detail::armature_point<R>({.current_A = current,
                                    .back_emf_V = motor.constant_Vs * demand.speed_radps,
                                    .resistance_ohm = motor.resistance_armature_ohm,
                                    .voltage_brush_V = motor.voltage_brush_V},
                                   demand, drag, limits);
}

/// The operating point of a series motor; a negative airgap torque is never feasible.
/// Valid: airgap torque >= 0.
/// Ignores armature reaction; braking in plain series connection.
/// Source: V = E + I R + Vb, T = k phi I. Checked by: tests/model/motor_test.cpp (balance 1e-12).
template <class R>
ShaftPoint<R> drive_point(const BrushedSeriesMotor<R>& motor, const ShaftDemand<R>& demand,
                          const DriveLimits<R>& limits) {
  const R drag = drag_torque(motor, demand.speed_radps);
  const R torque = demand.torque_shaft_Nm + drag;
  const R current = current_for_torque(motor, torque);
  const mask_of<R> drives = torque >= num<R>(0);
  const R factor = series_flux_factor(motor, current);
  ShaftPoint<R> point =
      detail::armature_point<R>({.current_A = current,
                                 .back_emf_V = select(drives, factor, -factor) * demand.speed_radps,
                                 .resistance_ohm = motor.resistance_ohm,
                                 .voltage_brush_V = motor.voltage_brush_V},
                                demand, drag, limits);
  point.feasible = point.feasible & drives;
  return point;
}

}  // namespace ww::model
