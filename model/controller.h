// SPDX-License-Identifier: MIT
// The motor controller: voltage it can make, its losses, its limits by temperature and battery
// voltage, and the throttle's laws. Conventions: phase quantities are peaks unless named RMS;
// modulation is phase peak over half the battery voltage. Bus ripple stands in dclink.h.
// Invariants: a ramp's share lies in 0..1 and never rises on the bad side of its band.
#pragma once

#include "base/num.h"
#include "model/constants.h"
#include "model/pm_motor.h"

namespace ww::model {

// ---- Voltage

/// Largest phase peak per battery volt of a modulation.
inline constexpr double modulation_sine = 0.5;
inline constexpr double modulation_space_vector = 0.57735026918962576451;
inline constexpr double modulation_six_step = 0.63661977236758134308;

/// Phase voltage a controller can make: k V_dc (1 - reserve).  Result in V peak.
/// Valid: reserve 0 to 1 (3 to 7 % is kept for current control; common practice, no source).
/// Ignores dead time and device drop.
/// Source: geometry of the voltage hexagon, 1/sqrt(3); sine 1/2, six-step 2/pi. Checked by:
/// tests/values/controller.tsv.
template <class R>
R voltage_phase_available(R voltage_dc_V, R share_per_volt, R reserve) {
  return share_per_volt * voltage_dc_V * (num<R>(1) - reserve);
}

/// Modulation index: phase peak over half the battery voltage. Dimensionless.
/// Valid: V_dc > 0; sine to 1, space vector to 1.1547, six-step 1.2732.
/// Ignores dead time.
/// Source: definition. Checked by: tests/values/controller.tsv.
template <class R>
R modulation_index(R voltage_phase_peak_V, R voltage_dc_V) {
  return num<R>(2) * voltage_phase_peak_V / voltage_dc_V;
}

/// Battery current of a lossless bridge: (3/4) M I cos(phi), I phase peak.  Result in A.
/// Valid: 0 <= M, |cos| <= 1; negative cos: current flows back.
/// Ignores losses.
/// Source: equal power, 1.5 V I cos(phi). Checked by: tests/values/controller.tsv.
template <class R>
R current_dc_ideal(R modulation, R current_phase_peak_A, R power_factor) {
  return num<R>(0.75) * modulation * current_phase_peak_A * power_factor;
}

// ---- Losses

/// A controller's loss as a sum: fixed + a I + b I^2 + c V I.
template <class R>
struct ControllerLoss {
  R fixed_W;
  R linear_V;         ///< W per phase-peak ampere: device drops, dead time
  R quadratic_ohm;    ///< W per square of it: conduction
  R switching_share;  ///< W per ampere and battery volt: switching
};

/// Loss at a phase current and battery voltage, W.
/// Valid: constants >= 0, current of either sign.
/// Ignores junction temperature unless the constants were taken at it.
/// Source: sum of the bridge formulas below. Checked by: tests/values/controller.tsv.
template <class R>
R loss_controller(const ControllerLoss<R>& c, R current_phase_peak_A, R voltage_dc_V) {
  const R current = abs(current_phase_peak_A);
  return c.fixed_W + (c.linear_V + c.switching_share * voltage_dc_V) * current +
         c.quadratic_ohm * square(current);
}

/// Battery current: (motor power + loss)/V_dc.  Result in A, negative when charging.
/// Valid: V_dc > 0.
/// Ignores the capacitor's charging.
/// Source: power balance. Checked by: tests/values/controller.tsv.
template <class R>
R current_dc(R power_motor_W, R loss_W, R voltage_dc_V) {
  return (power_motor_W + loss_W) / voltage_dc_V;
}

/// Conduction loss of a synchronous MOSFET bridge: each switch carries I_peak^2/4 mean square, six
/// make 3 I_rms^2 R.  Result in W.
/// Valid: resistance of one switch position, hot.
/// Ignores dead time (see loss_dead_time).
/// Source: integral over a period. Checked by: tests/values/controller.tsv.
template <class R>
R loss_conduction_bridge(R current_phase_rms_A, R resistance_switch_ohm) {
  return num<R>(3) * square(current_phase_rms_A) * resistance_switch_ohm;
}

/// Conduction loss of a six-step bridge: two switches carry the current, 2 I^2 R.  Result in W.
/// Valid: as above.
/// Ignores chopping and free-wheeling.
/// Source: definition. Checked by: tests/values/controller.tsv.
template <class R>
R loss_conduction_six_step(R current_dc_A, R resistance_switch_ohm) {
  return num<R>(2) * square(current_dc_A) * resistance_switch_ohm;
}

/// Mean square of the current in one switch and in its free-wheeling diode, per I_peak^2.
template <class R>
struct SwitchShares {
  R square_switch;
  R square_diode;
};

/// Where the diode free-wheels: 1/8 +- M cos(phi)/(3 pi) of I_peak^2.
/// Valid: M cos(phi) between -1.178 and 1.178; sine modulation.
/// Ignores third-harmonic injection.
/// Source: a power-semiconductor maker's application note on inverter conduction loss, and its
/// integral. Checked by: tests/values/controller.tsv.
template <class R>
SwitchShares<R> switch_shares(R modulation, R power_factor) {
  const R part = modulation * power_factor / num<R>(3 * pi);
  return {.square_switch = num<R>(0.125) + part, .square_diode = num<R>(0.125) - part};
}

/// On-resistance at a junction temperature over that at 25 C: about 1.5 at 100 C, 1.8 at 150 C.
/// Dimensionless.
/// Valid: 273 to 448 K (straight lines through 1, 1.5, 1.8).
/// Ignores device type (silicon assumed).
/// Source: from memory, typical of silicon MOSFET data sheets. Checked by:
/// tests/values/controller.tsv.
template <class R>
R on_resistance_factor(R junction_K) {
  const R above = junction_K - constant<R>(298.15, {.K = 1});
  const R to_100 = num<R>(1) + above * constant<R>(0.5 / 75, {.K = -1});
  const R to_150 =
      num<R>(1.5) + (above - constant<R>(75, {.K = 1})) * constant<R>(0.3 / 50, {.K = -1});
  return min(to_100, to_150);
}

/// What a bridge's switching loss depends on.
template <class R>
struct Switching {
  R voltage_dc_V;
  R current_phase_peak_A;
  R frequency_Hz;
  R edges_s;  ///< turn-on and turn-off time together
};

/// Switching loss of a bridge: 3 V (2 I/pi) (t_on + t_off)/2 f.  Result in W.
/// Valid: hard switching, one edge pair a period and leg.
/// Ignores reverse recovery and output capacitance.
/// Source: triangle of voltage and current at each edge, from memory. Checked by:
/// tests/values/controller.tsv.
template <class R>
R loss_switching(const Switching<R>& s) {
  const R mean_current = num<R>(2 / pi) * s.current_phase_peak_A;
  return num<R>(1.5) * s.voltage_dc_V * mean_current * s.edges_s * s.frequency_Hz;
}

/// What the loss of dead time depends on.
template <class R>
struct DeadTime {
  R voltage_diode_V;
  R current_phase_peak_A;
  R frequency_Hz;
  R dead_s;  ///< one dead time
};

/// Dead-time loss: both dead times of a period through the diodes, 3 V_F (2 I/pi) 2 t_d f.  Result
/// in W.
/// Valid: dead time well below the period.
/// Ignores the diode's slope resistance.
/// Source: mean of the rectified sine, from memory. Checked by: tests/values/controller.tsv.
template <class R>
R loss_dead_time(const DeadTime<R>& d) {
  const R mean_current = num<R>(2 / pi) * d.current_phase_peak_A;
  return num<R>(6) * d.voltage_diode_V * mean_current * d.dead_s * d.frequency_Hz;
}

// ---- Limits

/// Speed above which a battery power limit, not the phase current, bounds the torque: T w + 1.5 R
/// I^2 = P.  Result in rad/s.
/// Valid: torque > 0 at that current; below the voltage's base speed.
/// Ignores controller loss and motor drag.
/// Source: power balance. Checked by: tests/values/controller.tsv.
template <class R>
R speed_battery_limit(const PmMotor<R>& motor, R current_phase_peak_A, R power_battery_W) {
  const R torque = torque_airgap(motor, mtpa(motor, current_phase_peak_A));
  const R copper = num<R>(1.5) * motor.resistance_phase_ohm * square(current_phase_peak_A);
  return (power_battery_W - copper) / torque;
}

/// Speed below which braking with a current costs energy: 1.5 R I/Kt.  Result in rad/s.
/// Valid: Kt per phase-peak ampere > 0.
/// Ignores iron, drag and controller losses, which raise it.
/// Source: T w = 1.5 R I^2. Checked by: tests/values/controller.tsv.
template <class R>
R speed_regen_zero(R resistance_phase_ohm, R current_phase_peak_A, R torque_constant_peak_NmA) {
  return num<R>(1.5) * resistance_phase_ohm * current_phase_peak_A / torque_constant_peak_NmA;
}

/// A band over which a limit fades.
template <class R>
struct Band {
  R start;  ///< the limit is whole up to here
  R end;    ///< nothing is left from here on
};

/// Share left of a limit: 1 at the start of the band, 0 at its end, straight between. The end may
/// lie above the start (temperature, overvoltage) or below it (undervoltage). Dimensionless.
/// Valid: start and end differ.
/// Ignores filtering and hysteresis of real controllers.
/// Source: common practice, no source. Checked by: tests/values/controller.tsv.
template <class R>
R share_left(const Band<R>& band, R at) {
  return clamp<R>((band.end - at) / (band.end - band.start), num<R>(0), num<R>(1));
}

/// The controller's states that fade its limits.
template <class R>
struct ControllerState {
  R temperature_K;
  R voltage_dc_V;
};

/// The bands in which a controller fades its limits.
template <class R>
struct Foldback {
  Band<R> temperature_K;   ///< phase current, both ways
  Band<R> undervoltage_V;  ///< drive
  Band<R> overvoltage_V;   ///< regeneration
};

/// Shares of the drive and of the regeneration limit that are left.
template <class R>
struct LimitShares {
  R drive;
  R regen;
};

/// Both shares: the smaller of the temperature's and the voltage's.
/// Valid: bands as listed for the controller.
/// Ignores hysteresis.
/// Source: common practice, no source. Checked by: tests/model/listing_test.cpp.
template <class R>
LimitShares<R> limit_shares(const Foldback<R>& f, const ControllerState<R>& state) {
  const R warm = share_left(f.temperature_K, state.temperature_K);
  return {.drive = min(warm, share_left(f.undervoltage_V, state.voltage_dc_V)),
          .regen = min(warm, share_left(f.overvoltage_V, state.voltage_dc_V))};
}

// ---- Throttle

/// A throttle's signal bands, V.
template <class R>
struct ThrottleBands {
  R fault_low_V;
  R rest_V;
  R full_V;
  R fault_high_V;
};

/// Position of a throttle from its signal, 0 to 1; NaN in a fault band (open or shorted wire),
/// which must mean no torque. Valid: fault_low < rest < full < fault_high. Ignores supply tolerance
/// and hysteresis. Source: common practice, no source. Checked by: tests/values/controller.tsv.
template <class R>
R throttle_position(const ThrottleBands<R>& b, R signal_V) {
  const R share = clamp<R>((signal_V - b.rest_V) / (b.full_V - b.rest_V), num<R>(0), num<R>(1));
  return valid_where<R>((signal_V >= b.fault_low_V) & (signal_V <= b.fault_high_V), share);
}

/// Torque law: T = T_max x^gamma.  Result in Nm.
/// Valid: 0 <= x <= 1, gamma >= 1 (1 to 2 usual); x = 0 gives 0.
/// Ignores the ramp (see ramped).
/// Source: common practice, no source. Checked by: tests/values/controller.tsv.
template <class R>
R throttle_torque(R position, R torque_max_Nm, R exponent) {
  const R safe = max(position, num<R>(1e-12));
  return torque_max_Nm * select(position > num<R>(0), pow(safe, exponent), num<R>(0));
}

/// A throttle that asks for a speed.
template <class R>
struct SpeedLaw {
  R speed_full_radps;  ///< wanted at full throttle
  R gain_Nms;          ///< torque per speed gap
  R torque_max_Nm;
};

/// Speed law: torque by the gap to the wanted speed, held between 0 and T_max.  Result in Nm.
/// Valid: gain > 0.
/// Ignores the integral part of a speed controller.
/// Source: proportional control. Checked by: tests/values/controller.tsv.
template <class R>
R throttle_speed_torque(const SpeedLaw<R>& law, R position, R speed_radps) {
  return clamp<R>(law.gain_Nms * (position * law.speed_full_radps - speed_radps), num<R>(0),
                  law.torque_max_Nm);
}

/// Duty law: the throttle sets the voltage, the motor draws what it will: id = 0, v = D V_max,
/// within the current limit.  Result in Nm at the airgap, >= 0.
/// Valid: speed >= 0, resistance > 0.
/// Ignores the current's rise time and saliency.
/// Source: steady-state voltage equations. Checked by: tests/values/controller.tsv.
template <class R>
R throttle_duty_torque(const PmMotor<R>& motor, R position, R speed_radps,
                       const DriveLimits<R>& limits) {
  const R omega = motor.pole_pairs * speed_radps;
  const R res = motor.resistance_phase_ohm;
  const R emf = omega * motor.flux_peak_Wb;
  const R square_impedance = square(res) + square(omega * motor.inductance_q_H);
  const R spare = square(position * limits.voltage_limit_V) - square(emf);
  const R inside = square(res * emf) + square_impedance * max(spare, num<R>(0));
  // (R i + e)^2 + (w Lq i)^2 = v^2, freed of its cancellation.
  const R current = max(spare, num<R>(0)) / (res * emf + sqrt(inside));
  const R iq = select(spare > num<R>(0), min(current, limits.current_limit_A), num<R>(0));
  return torque_airgap<R>(motor, {num<R>(0), iq});
}

/// A ramp's two slopes.
template <class R>
struct Slew {
  R up_per_s;
  R down_per_s;
};

/// One step of a torque ramp towards a target.
/// Valid: slopes > 0, step >= 0.
/// Ignores the current controller's own time (milliseconds).
/// Source: common practice, no source (200 to 500 ms to full). Checked by:
/// tests/values/controller.tsv.
template <class R>
R ramped(R now, R target, const Slew<R>& slew, R step_s) {
  return now + clamp<R>(target - now, -slew.down_per_s * step_s, slew.up_per_s * step_s);
}

}  // namespace ww::model
