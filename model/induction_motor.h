// SPDX-License-Identifier: MIT
// Squirrel-cage induction motor: the exact per-phase T circuit for a stiff supply, and the
// inverter-fed steady state under rotor-flux control. Conventions: the circuit in RMS values of one
// phase of the equivalent star, rotor referred to the stator; the inverter part in peak values, d
// along the rotor flux. Invariants:
// 1. Both parts use one set of parameters and agree at the same voltage, frequency and slip.
// 2. Torque is k id iq with k = 1.5 p Lm^2/Lr, slip speed (Rr/Lr) iq/id: the ratio iq/id fixes the
//    slip, so both limits are bounds on the torque at a given ratio.
// 3. Iron and mechanical loss is a drag torque, not a resistance beside the magnetising branch.
#pragma once

#include <optional>

#include "base/num.h"
#include "model/bisect.h"
#include "model/shaft_point.h"

namespace ww::model {

template <class R>
struct InductionMotor {
  R resistance_stator_ohm;
  R resistance_rotor_ohm;
  R inductance_leakage_stator_H;
  R inductance_leakage_rotor_H;
  R inductance_magnetizing_H;
  R pole_pairs;
  R current_flux_peak_A;  ///< id at rated flux, where the iron begins to saturate
  R flux_floor;  ///< share of the rated flux kept at light load: 1 constant, 0 least current
  R drag_constant_Nm;
  R drag_linear_Nms;
  R drag_quadratic_Nms2;
};

/// The T circuit at one frequency, ohms.
template <class R>
struct InductionCircuit {
  R resistance_stator_ohm;
  R reactance_stator_ohm;
  R resistance_rotor_ohm;
  R reactance_rotor_ohm;
  R reactance_magnetizing_ohm;
};

/// One phase's supply and the rotor's slip.
template <class R>
struct StiffSupply {
  R voltage_phase_rms_V;
  R slip;
  R speed_synchronous_radps;  ///< of the shaft: 2 pi f / p
};

/// What the circuit takes and gives; powers of all three phases.
template <class R>
struct CircuitPoint {
  R impedance_ohm;
  R current_phase_rms_A;
  R power_factor;
  R power_electrical_W;
  R loss_stator_W;
  R power_airgap_W;
  R loss_rotor_W;
  R power_converted_W;  ///< to the shaft, before drag
  R torque_airgap_Nm;
};

/// Supply and stator as seen from the rotor.
template <class R>
struct Thevenin {
  R voltage_phase_rms_V;
  R resistance_ohm;
  R reactance_ohm;
};

namespace detail {
/// A complex number by hand: std::complex serves no batch.
template <class R>
struct Complex {
  R re;
  R im;
};
template <class R>
Complex<R> product(const Complex<R>& a, const Complex<R>& b) {
  return {a.re * b.re - a.im * b.im, a.re * b.im + a.im * b.re};
}
template <class R>
Complex<R> quotient(const Complex<R>& a, const Complex<R>& b) {
  const R size = square(b.re) + square(b.im);
  return {(a.re * b.re + a.im * b.im) / size, (a.im * b.re - a.re * b.im) / size};
}
template <class R>
R square_size(const Complex<R>& a) {
  return square(a.re) + square(a.im);
}
}  // namespace detail

/// The motor's circuit at an electrical angular frequency.
template <class R>
InductionCircuit<R> circuit_at(const InductionMotor<R>& motor, R frequency_radps) {
  return {.resistance_stator_ohm = motor.resistance_stator_ohm,
          .reactance_stator_ohm = frequency_radps * motor.inductance_leakage_stator_H,
          .resistance_rotor_ohm = motor.resistance_rotor_ohm,
          .reactance_rotor_ohm = frequency_radps * motor.inductance_leakage_rotor_H,
          .reactance_magnetizing_ohm = frequency_radps * motor.inductance_magnetizing_H};
}

/// The exact circuit at a slip: Z = R1 + jX1 + (jXm || (R2/s + jX2)), P_ag = 3 I2^2 R2/s, T =
/// P_ag/w_s, P_conv = (1 - s) P_ag.
/// Valid: slip not 0, either sign (negative generates).
/// Ignores iron loss inside the circuit, skin effect in the bars, saturation.
/// Source: Chapman, Electric Machinery Fundamentals, ex. 6-3 set, evaluated exactly. Checked by:
/// tests/values/induction.tsv.
template <class R>
CircuitPoint<R> circuit_point(const InductionCircuit<R>& c, const StiffSupply<R>& supply) {
  using Z = detail::Complex<R>;
  const R load = c.resistance_rotor_ohm / supply.slip;
  const R zero = num<R>(0);
  const Z rotor{load, c.reactance_rotor_ohm};
  const Z magnet{zero, c.reactance_magnetizing_ohm};
  const Z both{load, c.reactance_rotor_ohm + c.reactance_magnetizing_ohm};
  const Z parallel = detail::quotient(detail::product(magnet, rotor), both);
  const Z total{c.resistance_stator_ohm + parallel.re, c.reactance_stator_ohm + parallel.im};
  const R impedance = sqrt(detail::square_size(total));
  const R current = supply.voltage_phase_rms_V / impedance;
  const R square_rotor_current =
      square(current) * square(c.reactance_magnetizing_ohm) / detail::square_size(both);
  const R airgap = num<R>(3) * square_rotor_current * load;
  return {.impedance_ohm = impedance,
          .current_phase_rms_A = current,
          .power_factor = total.re / impedance,
          .power_electrical_W = num<R>(3) * square(current) * total.re,
          .loss_stator_W = num<R>(3) * square(current) * c.resistance_stator_ohm,
          .power_airgap_W = airgap,
          .loss_rotor_W = supply.slip * airgap,
          .power_converted_W = (num<R>(1) - supply.slip) * airgap,
          .torque_airgap_Nm = airgap / supply.speed_synchronous_radps};
}

/// Supply and stator reduced to a source as seen from the rotor.
/// Valid: any circuit with Xm > 0.
/// Ignores as circuit_point.
/// Source: Thevenin's theorem. Checked by: tests/values/induction.tsv.
template <class R>
Thevenin<R> thevenin(const InductionCircuit<R>& c, R voltage_phase_rms_V) {
  using Z = detail::Complex<R>;
  const R xm = c.reactance_magnetizing_ohm;
  const Z stator{c.resistance_stator_ohm, c.reactance_stator_ohm};
  const Z sum{c.resistance_stator_ohm, c.reactance_stator_ohm + xm};
  const Z seen = detail::quotient(detail::product<R>({num<R>(0), xm}, stator), sum);
  return {.voltage_phase_rms_V = voltage_phase_rms_V * xm / sqrt(detail::square_size(sum)),
          .resistance_ohm = seen.re,
          .reactance_ohm = seen.im};
}

/// Slip of the largest motoring torque on a stiff supply: R2/sqrt(Rth^2 + (Xth + X2)^2).
/// Valid: as thevenin.
/// Ignores as circuit_point.
/// Source: derivation (most power into R2/s). Checked by: tests/values/induction.tsv.
template <class R>
R slip_breakdown(const InductionCircuit<R>& c) {
  const Thevenin<R> source = thevenin(c, num<R>(1));
  return c.resistance_rotor_ohm /
         sqrt(square(source.resistance_ohm) + square(source.reactance_ohm + c.reactance_rotor_ohm));
}

/// Largest motoring torque on a stiff supply: 3 Vth^2/(2 ws (Rth + sqrt(Rth^2 + (Xth + X2)^2))),
/// Nm. Valid: as thevenin. Ignores as circuit_point. Source: derivation (most power into R2/s).
/// Checked by: tests/values/induction.tsv.
template <class R>
R torque_breakdown(const InductionCircuit<R>& c, R voltage_phase_rms_V, R speed_synchronous_radps) {
  const Thevenin<R> source = thevenin(c, voltage_phase_rms_V);
  const R size =
      sqrt(square(source.resistance_ohm) + square(source.reactance_ohm + c.reactance_rotor_ohm));
  return num<R>(3) * square(source.voltage_phase_rms_V) /
         (num<R>(2) * speed_synchronous_radps * (source.resistance_ohm + size));
}

/// An inverter-fed operating point in the rotor-flux frame, peak values.
template <class R>
struct FluxPoint {
  R current_d_A;
  R current_q_A;
  R frequency_radps;  ///< electrical
  R voltage_d_V;
  R voltage_q_V;
  R torque_airgap_Nm;
};

namespace detail {

/// The motor's derived figures.
template <class R>
struct FluxModel {
  R torque_factor;      ///< k: T = k id iq
  R inductance_stator;  ///< Ls
  R leakage;            ///< sigma = 1 - Lm^2/(Ls Lr)
  R slip_rate;          ///< Rr/Lr: slip speed per iq/id
  R rotor_loss_ohm;     ///< Rr (Lm/Lr)^2: rotor loss 1.5 times this times iq^2
};

template <class R>
FluxModel<R> flux_model(const InductionMotor<R>& m) {
  const R lm = m.inductance_magnetizing_H;
  const R ls = m.inductance_leakage_stator_H + lm;
  const R lr = m.inductance_leakage_rotor_H + lm;
  return {.torque_factor = num<R>(1.5) * m.pole_pairs * square(lm) / lr,
          .inductance_stator = ls,
          .leakage = num<R>(1) - square(lm) / (ls * lr),
          .slip_rate = m.resistance_rotor_ohm / lr,
          .rotor_loss_ohm = m.resistance_rotor_ohm * square(lm / lr)};
}

template <class R>
FluxPoint<R> flux_point(const InductionMotor<R>& m, R speed_radps, R id, R iq) {
  const FluxModel<R> f = flux_model(m);
  const R omega = m.pole_pairs * speed_radps + f.slip_rate * iq / id;
  const R res = m.resistance_stator_ohm;
  return {.current_d_A = id,
          .current_q_A = iq,
          .frequency_radps = omega,
          .voltage_d_V = res * id - omega * f.leakage * f.inductance_stator * iq,
          .voltage_q_V = res * iq + omega * f.inductance_stator * id,
          .torque_airgap_Nm = f.torque_factor * id * iq};
}

/// v^2/id^2 as a polynomial of the ratio r = iq/id: N(r) = a0 + a1 r + a2 r^2 + a3 r^3 + a4 r^4.
template <class R>
struct VoltagePolynomial {
  R a0, a1, a2, a3, a4;

  R size(R r) const { return a0 + r * (a1 + r * (a2 + r * (a3 + r * a4))); }
  /// N - r N': positive left of the least voltage at constant torque, which is that of N/r.
  R excess(R r) const { return a0 - square(r) * (a2 + r * (num<R>(2) * a3 + num<R>(3) * r * a4)); }
  R excess_slope(R r) const {
    return -r * (num<R>(2) * a2 + r * (num<R>(6) * a3 + num<R>(12) * r * a4));
  }
};

template <class R>
VoltagePolynomial<R> voltage_polynomial(const InductionMotor<R>& m, const FluxModel<R>& f,
                                        R rotor_radps) {
  const R two = num<R>(2);
  const R square_res = square(m.resistance_stator_ohm);
  const R square_ls = square(f.inductance_stator);
  const R square_leakage = square(f.leakage);
  const R mixed = two * m.resistance_stator_ohm * f.inductance_stator * (num<R>(1) - f.leakage);
  const R cross = two * rotor_radps * f.slip_rate * square_ls;
  const R square_slip = square(f.slip_rate) * square_ls;
  return {.a0 = square_res + square(rotor_radps) * square_ls,
          .a1 = cross + mixed * rotor_radps,
          .a2 = square_res + square_slip + square_leakage * square(rotor_radps) * square_ls +
                mixed * f.slip_rate,
          .a3 = cross * square_leakage,
          .a4 = square_slip * square_leakage};
}

/// The ratio iq/id of least voltage at constant torque, between 0 and 1/sigma. Without the higher
/// terms it is the root of a0/a2, which lies beyond it where the motor drives.
template <class R>
R ratio_least_voltage(const VoltagePolynomial<R>& voltage, const FluxModel<R>& f) {
  const R zero = num<R>(0), widest = num<R>(1) / f.leakage;
  const R start = min(sqrt(voltage.a0 / voltage.a2), widest);
  return falling_root(zero, widest, start, zero > num<R>(1), [&](const R& r) {
    return Falling<R>{voltage.excess(r), voltage.excess_slope(r)};
  });
}

}  // namespace detail

/// A motor turning at a speed with a torque of one sign: what stays the same whatever the torque.
template <class R>
struct FluxAtSpeed {
  R speed_radps;
  R sign;  ///< of the airgap torque, -1 or 1
  detail::FluxModel<R> model;
  detail::VoltagePolynomial<R> voltage;
  std::optional<R> ratio;  ///< of least voltage: sought when asked for, most points need it not
};

template <class R>
FluxAtSpeed<R> flux_at_speed(const InductionMotor<R>& motor, R speed_radps, R sign) {
  const auto f = detail::flux_model(motor);
  const R rotor = motor.pole_pairs * sign * speed_radps;
  return {speed_radps, sign, f, detail::voltage_polynomial<R>(motor, f, rotor), std::nullopt};
}

/// A torque asked of it, with the square of the d current of least current in all (bounded by rated
/// flux and the flux floor) and the voltage that this takes: both whatever voltage there is.
template <class R>
struct FluxAsked {
  R product;  ///< id iq, A^2, unsigned
  R square_d_A2;
  R square_voltage_V2;
};

template <class R>
FluxAsked<R> flux_asked(const InductionMotor<R>& motor, const FluxAtSpeed<R>& at,
                        R torque_airgap_Nm) {
  const R product = abs(torque_airgap_Nm) / at.model.torque_factor;
  const R rated = motor.current_flux_peak_A;
  const R least = num<R>(1e-6) * rated;
  const R high = max(min(max(sqrt(product), motor.flux_floor * rated), rated), least);
  const R x = square(high);
  return {product, x, x * at.voltage.size(product / x)};
}

/// Where the voltage for a torque is least: the square of the d current and of the voltage.
template <class R>
struct FluxLeast {
  R square_d_A2;
  R square_voltage_V2;
};

template <class R>
FluxLeast<R> flux_least(const InductionMotor<R>& motor, FluxAtSpeed<R>& at,
                        const FluxAsked<R>& asked) {
  if (!at.ratio) at.ratio = detail::ratio_least_voltage<R>(at.voltage, at.model);
  const R floor = square(num<R>(1e-6) * motor.current_flux_peak_A);
  const R x = min(max(asked.product / *at.ratio, floor), asked.square_d_A2);
  return {x, x * at.voltage.size(asked.product / x)};
}

/// A voltage there is, squared, and how it changes with the square of the d current.
template <class R>
struct SquareVoltage {
  R square_V2;
  R by_square_d;  ///< V^2 per A^2
};

/// The square of the d current for a torque, where `there_is(x)` tells the voltage at it. Where
/// that is short the flux is weakened at the same torque, at most to where the voltage is least.
/// With x = id^2 and r = P/x the voltage is v^2 = x N(r), which rises with x from there on, ever
/// steeper.
template <class R, class ThereIs>
R flux_square_d_A2(const InductionMotor<R>& motor, FluxAtSpeed<R>& at, const FluxAsked<R>& asked,
                   const ThereIs& there_is) {
  const R high = asked.square_d_A2;
  const mask_of<R> enough = asked.square_voltage_V2 <= there_is(high).square_V2;
  if (all(enough)) return high;
  const FluxLeast<R> least = flux_least(motor, at, asked);
  const mask_of<R> short_of = least.square_voltage_V2 > there_is(least.square_d_A2).square_V2;
  const auto spare = [&](const R& x) {
    const SquareVoltage<R> there = there_is(x);
    const R r = asked.product / x;
    return Falling<R>{there.square_V2 - x * at.voltage.size(r),
                      there.by_square_d - at.voltage.excess(r)};
  };
  const R weak = falling_root(least.square_d_A2, high, high, enough | short_of, spare);
  return select(enough, high, select(short_of, least.square_d_A2, weak));
}

template <class R>
R flux_square_d_A2(const InductionMotor<R>& motor, FluxAtSpeed<R>& at, const FluxAsked<R>& asked,
                   R voltage_limit_V) {
  const SquareVoltage<R> limit{square(voltage_limit_V), num<R>(0)};
  return flux_square_d_A2(motor, at, asked, [&](const R&) { return limit; });
}

/// The power a torque takes at the terminals, as a function of the square of the d current, with
/// its slope: 1.5 (R id^2 + (R + Rr (Lm/Lr)^2) iq^2) and the airgap's mechanical power.
template <class R>
struct FluxPower {
  R power_W;
  R by_square_d;  ///< W per A^2
  R current_A;    ///< phase, peak
  R current_by_square_d;
};

template <class R>
FluxPower<R> flux_power(const InductionMotor<R>& motor, const FluxAtSpeed<R>& at,
                        const FluxAsked<R>& asked, R square_d_A2) {
  const R half = num<R>(0.5), more = num<R>(1.5);
  const R r = asked.product / square_d_A2;
  const R square_q = asked.product * r;  // falls by r^2 for each A^2 of the d current's square
  const R current = sqrt(square_d_A2 + square_q);
  const R current_by_twice = num<R>(1) - square(r);
  const R stator = motor.resistance_stator_ohm, rotor = at.model.rotor_loss_ohm;
  return {.power_W = more * (stator * square(current) + rotor * square_q) +
                     at.sign * at.model.torque_factor * asked.product * at.speed_radps,
          .by_square_d = more * (stator * current_by_twice - rotor * square(r)),
          .current_A = current,
          .current_by_square_d = half * current_by_twice / current};
}

/// Currents for an airgap torque at a speed, where the square of the flux current is known.
/// Valid, ignores, source: as flux_point_for_torque, which is this with that square looked for.
template <class R>
FluxPoint<R> flux_point_at(const InductionMotor<R>& motor, const FluxAtSpeed<R>& at,
                           const FluxAsked<R>& asked, R square_d_A2) {
  const R id = sqrt(square_d_A2);
  return detail::flux_point<R>(motor, at.speed_radps, id, at.sign * asked.product / id);
}

template <class R>
R sign_of_torque(R torque_Nm) {
  return select(torque_Nm < num<R>(0), num<R>(-1), num<R>(1));
}

/// Currents for an airgap torque at a speed.
/// Valid: any sign of torque and speed, flux current > 0, leakage > 0.
/// Ignores saturation below the rated flux, iron current, and changes of the rotor resistance.
/// Source: Novotny and Lipo, Vector Control and Dynamics of AC Drives (rotor-flux steady state,
/// from memory). Checked by: tests/model/motor_test.cpp (agrees with circuit_point).
template <class R>
FluxPoint<R> flux_point_for_torque(const InductionMotor<R>& motor, const ShaftDemand<R>& airgap,
                                   const DriveLimits<R>& limits) {
  auto at = flux_at_speed<R>(motor, airgap.speed_radps, sign_of_torque(airgap.torque_shaft_Nm));
  const auto asked = flux_asked<R>(motor, at, airgap.torque_shaft_Nm);
  return flux_point_at(motor, at, asked,
                       flux_square_d_A2(motor, at, asked, limits.voltage_limit_V));
}

/// How far inside voltage and current limit a shaft torque is, as the lesser share of the two
/// squares that is left; negative outside. Falls as the torque rises.
/// Valid, ignores: as flux_point_for_torque. Checked by: tests/model/motor_test.cpp (zero at the
/// largest torque).
template <class R>
R limits_spare(const InductionMotor<R>& motor, FluxAtSpeed<R>& at, const FluxAsked<R>& asked,
               R square_d_A2, const DriveLimits<R>& limits) {
  const R square_current = square_d_A2 + square(asked.product) / square_d_A2;
  const R one = num<R>(1);
  return min(one - flux_least(motor, at, asked).square_voltage_V2 / square(limits.voltage_limit_V),
             one - square_current / square(limits.current_limit_A));
}

template <class R>
R limits_spare(const InductionMotor<R>& motor, const ShaftDemand<R>& demand,
               const DriveLimits<R>& limits) {
  const R airgap = demand.torque_shaft_Nm + drag_torque(motor, demand.speed_radps);
  auto at = flux_at_speed<R>(motor, demand.speed_radps, sign_of_torque(airgap));
  const auto asked = flux_asked<R>(motor, at, airgap);
  const R x = flux_square_d_A2(motor, at, asked, limits.voltage_limit_V);
  return limits_spare(motor, at, asked, x, limits);
}

/// The largest airgap torque of positive sign at a speed: at a ratio r = iq/id it is k r times the
/// least of rated flux, current and voltage; the best r by bisection on the active bound's slope.
/// Result in Nm. For braking use the mirrored speed, see torque_shaft_min.
/// Valid: limits > 0, leakage > 0; supply starting at rated flux.
/// Ignores saturation, iron current, the flux floor; derivatives where two bounds meet.
/// Source: derivation (invariant 2). Checked by: tests/model/motor_test.cpp (grid search),
/// tests/values/induction.tsv.
template <class R>
R torque_envelope(const InductionMotor<R>& motor, R speed_radps, const DriveLimits<R>& limits) {
  const auto f = detail::flux_model(motor);
  const R rotor = motor.pole_pairs * speed_radps;
  const R one = num<R>(1);
  const R square_flux = square(motor.current_flux_peak_A);
  const R square_current = square(limits.current_limit_A);
  const R square_voltage = square(limits.voltage_limit_V);
  const R widest = max(one / f.leakage, limits.current_limit_A / motor.current_flux_peak_A);
  const auto voltage = detail::voltage_polynomial(motor, f, rotor);
  const auto bound_at = [&](const R& r) {
    return min(square_flux,
               min(square_current / (one + square(r)), square_voltage / voltage.size(r)));
  };
  // The bounds compared without dividing: Ic^2/(1 + r^2) against V^2/N.
  const auto rises = [&](const R& r) {
    const R by_current = one + square(r), by_voltage = voltage.size(r);
    const mask_of<R> flux_binds =
        (square_flux * by_current <= square_current) & (square_flux * by_voltage <= square_voltage);
    const mask_of<R> current_binds = square_current * by_voltage <= square_voltage * by_current;
    const mask_of<R> current_rises = current_binds & (r < one);
    const mask_of<R> by_voltage_rises = voltage.excess(r) > num<R>(0);
    return flux_binds | current_rises | (by_voltage_rises & (!current_binds));
  };
  const R best = bisected(num<R>(0), widest, rises);
  return f.torque_factor * best * bound_at(best);
}

/// Largest shaft torque of drive, Nm.
template <class R>
R torque_shaft_max(const InductionMotor<R>& motor, R speed_radps, const DriveLimits<R>& limits) {
  return torque_envelope(motor, speed_radps, limits) - drag_torque(motor, speed_radps);
}

/// Most negative shaft torque, Nm.
template <class R>
R torque_shaft_min(const InductionMotor<R>& motor, R speed_radps, const DriveLimits<R>& limits) {
  return -torque_envelope(motor, -speed_radps, limits) - drag_torque(motor, speed_radps);
}

/// The operating point for a shaft torque at a speed, with its losses (rotor loss in the copper).
/// Valid: as flux_point_for_torque.
/// Ignores saturation, iron current and stray load loss.
/// Source: as flux_point_for_torque. Checked by: tests/model/motor_test.cpp (balance 1e-12).
template <class R>
ShaftPoint<R> drive_point_at(const InductionMotor<R>& motor, const FluxAtSpeed<R>& at,
                             const FluxAsked<R>& asked, R torque_shaft_Nm, R square_d_A2,
                             const DriveLimits<R>& limits) {
  const FluxPoint<R> p = flux_point_at(motor, at, asked, square_d_A2);
  const R square_current = square(p.current_d_A) + square(p.current_q_A);
  const R square_voltage = square(p.voltage_d_V) + square(p.voltage_q_V);
  const R slack = num<R>(1 + limit_slack);
  const mask_of<R> feasible = (square_voltage <= slack * square(limits.voltage_limit_V)) &
                              (square_current <= slack * square(limits.current_limit_A));
  return {.torque_shaft_Nm = torque_shaft_Nm,
          .power_electrical_W =
              num<R>(1.5) * (p.voltage_d_V * p.current_d_A + p.voltage_q_V * p.current_q_A),
          .current_phase_peak_A = sqrt(square_current),
          .loss_copper_W = num<R>(1.5) * (motor.resistance_stator_ohm * square_current +
                                          at.model.rotor_loss_ohm * square(p.current_q_A)),
          .loss_iron_mech_W = drag_torque(motor, at.speed_radps) * at.speed_radps,
          .voltage_V = sqrt(square_voltage),
          .feasible = feasible};
}

template <class R>
ShaftPoint<R> drive_point(const InductionMotor<R>& motor, const ShaftDemand<R>& demand,
                          const DriveLimits<R>& limits) {
  const R airgap = demand.torque_shaft_Nm + drag_torque(motor, demand.speed_radps);
  auto at = flux_at_speed<R>(motor, demand.speed_radps, sign_of_torque(airgap));
  const auto asked = flux_asked<R>(motor, at, airgap);
  const R x = flux_square_d_A2(motor, at, asked, limits.voltage_limit_V);
  return drive_point_at(motor, at, asked, demand.torque_shaft_Nm, x, limits);
}

}  // namespace ww::model
