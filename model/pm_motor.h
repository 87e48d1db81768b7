// SPDX-License-Identifier: MIT
// Permanent-magnet motor, surface or interior magnets, in steady state in the rotor frame.
// Conventions: currents, voltages and flux are peak values of one phase of the equivalent star
// (amplitude-invariant), d along the magnet, motor counting. Invariants:
// 1. Only + - * / sqrt min max select, fixed iteration counts: the per-step part of the ride.
// 2. An operating point is described by its d current alone: the q current follows from the torque
//    exactly, so that no iteration leaves a gap in the power balance.
// 3. Along a line of constant torque the squares of current and of voltage are both convex in the d
//    current, and grow together at the least-current point; the searches rest on this.
// Saturation is ignored throughout: listed constants overstate torque at the current limit.
#pragma once

#include "base/num.h"
#include "model/constants.h"
#include "model/shaft_point.h"
#include "model/thermal.h"

namespace ww::model {

template <class R>
struct PmMotor {
  R resistance_phase_ohm;
  R inductance_d_H;
  R inductance_q_H;
  R flux_peak_Wb;
  R pole_pairs;
  R drag_constant_Nm;     ///< c0: friction and hysteresis
  R drag_linear_Nms;      ///< c1: eddy currents and viscous drag
  R drag_quadratic_Nms2;  ///< c2: windage
};

template <class R>
struct DqCurrent {
  R current_d_A;
  R current_q_A;
};

/// An operating point in the rotor frame.
template <class R>
struct DqPoint {
  R current_d_A;
  R current_q_A;
  R voltage_d_V;
  R voltage_q_V;
  R torque_airgap_Nm;
};

template <class R>
struct TorquePoint {
  DqPoint<R> point;
  mask_of<R> inside_voltage;
  mask_of<R> inside_current;
};

template <class R>
struct EnvelopePoint {
  DqPoint<R> point;
  mask_of<R> reachable;  ///< false: at this speed the controller cannot even hold zero torque
};

/// Torque between stator and magnet: T = 1.5 p (psi iq + (Ld - Lq) id iq).  Result in Nm.
/// Valid: any current.
/// Ignores saturation and cross-saturation (constants overstate torque near the peak current).
/// Source: Brosch et al. 2021, DOI 10.1109/TPEL.2020.3006779, machine model. Checked by:
/// tests/values/pm_motor.tsv.
template <class R>
R torque_airgap(const PmMotor<R>& motor, const DqCurrent<R>& current) {
  const R linkage =
      motor.flux_peak_Wb + (motor.inductance_d_H - motor.inductance_q_H) * current.current_d_A;
  return num<R>(1.5) * motor.pole_pairs * linkage * current.current_q_A;
}

/// The whole point at a given current: vd = R id - w Lq iq, vq = R iq + w (Ld id + psi).
/// Valid: any current and speed of either sign.
/// Ignores the iron-loss current (its loss is carried as drag).
/// Source: Brosch et al. 2021, DOI 10.1109/TPEL.2020.3006779, machine model. Checked by:
/// tests/values/pm_motor.tsv, tests/model/motor_test.cpp.
template <class R>
DqPoint<R> dq_point(const PmMotor<R>& motor, R speed_radps, const DqCurrent<R>& current) {
  const R omega = motor.pole_pairs * speed_radps;
  const R id = current.current_d_A;
  const R iq = current.current_q_A;
  const R res = motor.resistance_phase_ohm;
  return {.current_d_A = id,
          .current_q_A = iq,
          .voltage_d_V = res * id - omega * motor.inductance_q_H * iq,
          .voltage_q_V = res * iq + omega * (motor.inductance_d_H * id + motor.flux_peak_Wb),
          .torque_airgap_Nm = torque_airgap(motor, current)};
}

/// Peak of the phase voltage of a point, V.
template <class R>
R voltage_magnitude(const DqPoint<R>& point) {
  return sqrt(square(point.voltage_d_V) + square(point.voltage_q_V));
}

/// Peak of the phase current of a point, A.
template <class R>
R current_magnitude(const DqPoint<R>& point) {
  return sqrt(square(point.current_d_A) + square(point.current_q_A));
}

/// Electrical power into the terminals: 1.5 (vd id + vq iq).  Result in W.
template <class R>
R power_electrical(const DqPoint<R>& point) {
  return num<R>(1.5) *
         (point.voltage_d_V * point.current_d_A + point.voltage_q_V * point.current_q_A);
}

/// Copper loss: 1.5 R (id^2 + iq^2) = 3 R I_rms^2.  Result in W.
template <class R>
R power_copper(const PmMotor<R>& motor, const DqPoint<R>& point) {
  return num<R>(1.5) * motor.resistance_phase_ohm *
         (square(point.current_d_A) + square(point.current_q_A));
}

/// The motor at other temperatures: copper +0.393 %/K, magnet -0.12 %/K, both from 293.15 K.
/// Valid: winding 220 to 500 K, magnet below its grade's limit (not checked here).
/// Ignores the change of drag with temperature and losses of the magnet that stay after cooling.
/// Source: IEC 60034-2-1 (copper, 1/254.5 per K); NdFeB makers' tables, -0.11 to -0.12 %/K. Checked
/// by: tests/values/pm_motor.tsv.
template <class R>
PmMotor<R> at_temperature(const PmMotor<R>& motor, R winding_K, R magnet_K) {
  const R reference = constant<R>(293.15, {.K = 1});
  const R magnet = constant<R>(-0.0012, {.K = -1});
  PmMotor<R> warm = motor;
  warm.resistance_phase_ohm = motor.resistance_phase_ohm * copper_loss_factor(winding_K);
  warm.flux_peak_Wb = motor.flux_peak_Wb * (num<R>(1) + magnet * (magnet_K - reference));
  return warm;
}

/// Most torque per ampere at a given current: id = -2 dL I^2 / (psi + sqrt(psi^2 + 8 dL^2 I^2)), dL
/// = Lq - Ld, which is the textbook form freed of its division by dL.  Result in A, iq >= 0.
/// Valid: current >= 0, flux > 0, Lq above or below Ld or equal.
/// Ignores saturation.
/// Source: Brosch et al. 2021, DOI 10.1109/TPEL.2020.3006779 (data); derivation dT/d(angle) = 0.
/// Checked by: tests/values/pm_motor.tsv, tests/model/motor_test.cpp.
template <class R>
DqCurrent<R> mtpa(const PmMotor<R>& motor, R current_peak_A) {
  const R delta = motor.inductance_q_H - motor.inductance_d_H;
  const R psi = motor.flux_peak_Wb;
  const R square_current = square(current_peak_A);
  const R root = sqrt(square(psi) + num<R>(8) * square(delta) * square_current);
  const R id = num<R>(-2) * delta * square_current / (psi + root);
  return {.current_d_A = id, .current_q_A = sqrt(square_current - square(id))};
}

namespace detail {

/// Root w >= 1 of w^3 (w - 1) = m for m >= 0, to rounding: from a start within 0.0014 of it two
/// rounds of Halley's method (tried for m from 0 to 1e8: 2e-16). A small m, which most riding is,
/// starts from the root's own series, within 1.5e-9: one round of Newton's method.
template <class R>
R quartic_root(R m) {
  const mask_of<R> small = m < num<R>(0.01);
  R by_series = num<R>(1);
  if (any(small)) {
    const R series = num<R>(3) - m * (num<R>(12) - m * (num<R>(55) - m * num<R>(273)));
    const R w = num<R>(1) + m * (num<R>(1) - m * series);
    const R square_w = w * w;
    by_series = w - (square_w * w * (w - num<R>(1)) - m) / (square_w * (num<R>(4) * w - num<R>(3)));
    if (all(small)) return by_series;
  }
  constexpr double lift = 0.115;  // sqrt(lift) + 0.22338... = 9/16 makes the start exact at 0
  R w = num<R>(0.25) + sqrt(sqrt(m + num<R>(lift)) + num<R>(0.5625 - 0.33911649915626342));
  for (int i = 0; i < 2; ++i) {
    const R square_w = w * w;
    const R value = square_w * w * (w - num<R>(1)) - m;
    const R slope = square_w * (num<R>(4) * w - num<R>(3));
    const R half_bend = w * (num<R>(6) * w - num<R>(3));
    w = w - value * slope / (slope * slope - value * half_bend);
  }
  return select(small, by_series, w);
}

/// A weighted square, weight_d id^2 + 2 mixed id + weight_q iq^2: of current, or of voltage without
/// its torque term. Along constant torque it has one least point.
template <class R>
struct Weights {
  R weight_d;
  R mixed;
  R weight_q;
};

/// The motor's terms that the searches share, at one speed.
template <class R>
struct Searched {
  R delta_H;  ///< Lq - Ld
  R psi_Wb;
  R cross;             ///< 2 R w: voltage square per (Wb A) of torque current
  R square_back_emf;   ///< (w psi)^2
  Weights<R> voltage;  ///< R^2 + w^2 Ld^2, w^2 Ld psi, R^2 + w^2 Lq^2
};

template <class R>
Searched<R> searched(const PmMotor<R>& motor, R speed_radps) {
  const R omega = motor.pole_pairs * speed_radps;
  const R square_omega = square(omega);
  const R square_res = square(motor.resistance_phase_ohm);
  return {.delta_H = motor.inductance_q_H - motor.inductance_d_H,
          .psi_Wb = motor.flux_peak_Wb,
          .cross = num<R>(2) * motor.resistance_phase_ohm * omega,
          .square_back_emf = square_omega * square(motor.flux_peak_Wb),
          .voltage = {.weight_d = square_res + square_omega * square(motor.inductance_d_H),
                      .mixed = square_omega * motor.inductance_d_H * motor.flux_peak_Wb,
                      .weight_q = square_res + square_omega * square(motor.inductance_q_H)}};
}

template <class R>
Weights<R> current_weights() {
  return {.weight_d = num<R>(1), .mixed = num<R>(0), .weight_q = num<R>(1)};
}

/// v^2 at a current; the last term is 2 R w times the torque current iq (psi - dL id).
template <class R>
R square_voltage(const Searched<R>& s, const DqCurrent<R>& i) {
  const R x = i.current_d_A;
  const R y = i.current_q_A;
  return s.voltage.weight_d * x * x + num<R>(2) * s.voltage.mixed * x + s.square_back_emf +
         s.voltage.weight_q * y * y + s.cross * y * (s.psi_Wb - s.delta_H * x);
}

/// The d current where the weighted square is least along constant torque current q = T/(1.5 p).
template <class R>
R least_at_torque(const Searched<R>& s, const Weights<R>& w, R torque_current) {
  // Without saliency the root below is psi and its term vanishes: a third of the ride's time saved.
  if (!any((s.delta_H > num<R>(0)) | (s.delta_H < num<R>(0)))) return -(w.mixed / w.weight_d);
  const R psi = s.psi_Wb + w.mixed * s.delta_H / w.weight_d;
  const R ratio = w.weight_q / w.weight_d;
  const R root = psi * quartic_root<R>(ratio * square(torque_current * s.delta_H / (psi * psi)));
  return -(w.mixed / w.weight_d +
           ratio * square(torque_current) * s.delta_H / (root * root * root));
}

/// The least current of all for a torque current q. There psi - dL id is psi times the quartic's
/// root itself, but for what its search left: the q current is made to give the torque exactly.
template <class R>
DqCurrent<R> least_current(const Searched<R>& s, R torque_current) {
  const R psi = s.psi_Wb;
  const mask_of<R> salient = (s.delta_H > num<R>(0)) | (s.delta_H < num<R>(0));
  if (!any(salient)) return {num<R>(0) * torque_current, torque_current / psi};
  const R root = psi * quartic_root<R>(square(torque_current * s.delta_H / (psi * psi)));
  const R x = -(s.delta_H * square(torque_current)) / (root * root * root);
  return {.current_d_A = x, .current_q_A = torque_current / (psi - s.delta_H * x)};
}

/// The d current of the same least point, given the q current.
template <class R>
R least_at_q(const Searched<R>& s, const Weights<R>& w, R current_q_A) {
  const R quadratic = w.weight_d * s.delta_H;
  const R linear = w.weight_d * s.psi_Wb - w.mixed * s.delta_H;
  const R constant = w.mixed * s.psi_Wb + w.weight_q * s.delta_H * square(current_q_A);
  return num<R>(-2) * constant / (linear + sqrt(square(linear) + num<R>(4) * quadratic * constant));
}

/// Along the line of least points (most torque per ampere, or per volt) the current at which the
/// voltage is V, on the branch of larger torque. Starts from the motor without saliency.
template <class R>
DqCurrent<R> voltage_on_line(const Searched<R>& s, const Weights<R>& line, R voltage_V) {
  const R x_start = -line.mixed / line.weight_d;
  const R half = num<R>(0.5) * s.cross * (s.psi_Wb - s.delta_H * x_start);
  const R rest = (s.voltage.weight_d * x_start + num<R>(2) * s.voltage.mixed) * x_start +
                 s.square_back_emf - square(voltage_V);
  const R weight = s.voltage.weight_q;
  const R floor = num<R>(1e-12) * weight * square(voltage_V);
  R y = (sqrt(max(square(half) - weight * rest, floor)) - half) / weight;
  R x = least_at_q(s, line, y);
  // Without saliency the start is the solution: x does not move with y, and y is the quadratic's
  // root.
  const mask_of<R> salient = (s.delta_H > num<R>(0)) | (s.delta_H < num<R>(0));
  if (!any(salient)) return {.current_d_A = x, .current_q_A = y};
  for (int i = 0; i < 5; ++i) {
    const R linear = line.weight_d * s.psi_Wb - line.mixed * s.delta_H;
    const R x_by_y = num<R>(-2) * line.weight_q * s.delta_H * y /
                     (linear - num<R>(2) * line.weight_d * s.delta_H * x);
    const R by_x = s.voltage.weight_d * x + s.voltage.mixed - num<R>(0.5) * s.cross * s.delta_H * y;
    const R by_y = s.voltage.weight_q * y + num<R>(0.5) * s.cross * (s.psi_Wb - s.delta_H * x);
    const R voltage = sqrt(square_voltage<R>(s, {x, y}));
    const R step = (voltage - voltage_V) * voltage / (by_x * x_by_y + by_y);
    y = select(salient, y - step, y);
    x = least_at_q(s, line, y);
  }
  return {.current_d_A = x, .current_q_A = y};
}

/// The d current of least voltage at zero torque, as far as the current limit lets it go.
template <class R>
R idle_current(const Searched<R>& s, R current_limit_A) {
  const R wanted = s.voltage.mixed / s.voltage.weight_d;
  return -min(wanted, current_limit_A);
}

/// Where the current circle meets the voltage circle, between the point of most torque per ampere
/// and id = -I. On the circle id = -I 2t/(1+t^2), iq = I (1-t^2)/(1+t^2), 0 <= t <= 1.
template <class R>
struct CircleSearch {
  R current_A;
  R square_voltage_limit;
  R t_mtpa;
};

template <class R>
DqCurrent<R> on_circle(R current_A, R t) {
  const R share = current_A / (num<R>(1) + t * t);
  return {.current_d_A = num<R>(-2) * t * share, .current_q_A = (num<R>(1) - t * t) * share};
}

/// Newton kept inside its bracket. Eleven rounds: of 60 000 random machines, limits and speeds none
/// was left short (ten: one, seven: about a hundred).
template <class R>
DqCurrent<R> circle_crossing(const Searched<R>& s, const CircleSearch<R>& c) {
  const R one = num<R>(1);
  R t = c.t_mtpa;
  R low = c.t_mtpa;
  R high = one;
  for (int i = 0; i < 11; ++i) {
    const DqCurrent<R> at = on_circle(c.current_A, t);
    const R x = at.current_d_A;
    const R y = at.current_q_A;
    const R excess = square_voltage(s, at) - c.square_voltage_limit;
    const R x_by_t = num<R>(-2) * y / (one + t * t);
    const R y_by_t = num<R>(2) * x / (one + t * t);
    const R slope = num<R>(2) * ((s.voltage.weight_d * x + s.voltage.mixed) * x_by_t +
                                 s.voltage.weight_q * y * y_by_t) +
                    s.cross * (y_by_t * (s.psi_Wb - s.delta_H * x) - s.delta_H * y * x_by_t);
    const mask_of<R> outside = excess > num<R>(0);
    low = select(outside, t, low);
    high = select(outside, high, t);
    const R newton = t - excess / slope;
    const mask_of<R> kept = (newton >= low) & (newton <= high);
    t = select(kept, newton, num<R>(0.5) * (low + high));
  }
  return on_circle(c.current_A, t);
}

}  // namespace detail

/// The least current that gives an airgap torque at a speed; where the voltage circle is violated
/// and weakening is allowed, the point further along -id on that circle at the same torque.
/// A negative torque at positive speed is regeneration: the resistive drop then lowers the voltage.
/// Valid: flux > 0, R >= 0, any sign of torque and speed; where the masks are false the point is
/// that of least voltage (weakening) or least current (none) and belongs to no real controller.
/// Ignores saturation and iron current.
/// Source: Brosch et al. 2021, DOI 10.1109/TPEL.2020.3006779 (data); derivation in the file head.
/// Checked by: tests/values/pm_motor.tsv, tests/model/motor_test.cpp.
template <class R>
TorquePoint<R> currents_for_torque(const PmMotor<R>& motor, const ShaftDemand<R>& airgap,
                                   const DriveLimits<R>& limits) {
  const auto s = detail::searched(motor, airgap.speed_radps);
  const R q = airgap.torque_shaft_Nm / (num<R>(1.5) * motor.pole_pairs);
  const auto at = [&](R x) { return DqCurrent<R>{x, q / (s.psi_Wb - s.delta_H * x)}; };
  const R limit = square(limits.voltage_limit_V);
  const DqCurrent<R> least = detail::least_current(s, q);
  const R x_least = least.current_d_A;
  const R square_least = detail::square_voltage(s, least);
  DqCurrent<R> chosen = least;
  const mask_of<R> weaken = (square_least > limit) & (limits.weakening > num<R>(0.5));
  if (any(weaken)) {
    const R x_low = detail::least_at_torque(s, s.voltage, q);
    const R square_low = detail::square_voltage(s, at(x_low));
    const R tiny = num<R>(1e-24) * square_least;
    const R target = sqrt(max(limit - square_low, tiny));
    R found = x_low + (x_least - x_low) * target / sqrt(max(square_least - square_low, tiny));
    for (int i = 0; i < 4; ++i) {
      const DqCurrent<R> here = at(found);
      const R linkage = s.psi_Wb - s.delta_H * found;
      const R half_slope = s.voltage.weight_d * found + s.voltage.mixed +
                           s.voltage.weight_q * square(here.current_q_A) * s.delta_H / linkage;
      const R height = sqrt(max(detail::square_voltage(s, here) - square_low, tiny));
      found = found - (height - target) * height / half_slope;
    }
    const DqCurrent<R> weak = at(select(limit > square_low, found, x_low));
    chosen = {select(weaken, weak.current_d_A, least.current_d_A),
              select(weaken, weak.current_q_A, least.current_q_A)};
  }
  TorquePoint<R> result{.point = dq_point(motor, airgap.speed_radps, chosen),
                        .inside_voltage = mask_of<R>(),
                        .inside_current = mask_of<R>()};
  const R slack = num<R>(1 + limit_slack);
  const DqPoint<R>& p = result.point;
  result.inside_voltage = square(p.voltage_d_V) + square(p.voltage_q_V) <= slack * limit;
  result.inside_current =
      square(p.current_d_A) + square(p.current_q_A) <= slack * square(limits.current_limit_A);
  return result;
}

/// The largest airgap torque of positive sign at a speed: most torque per ampere, then the crossing
/// of current and voltage circle, then most torque per volt; resistance included. Without weakening
/// the line of most torque per ampere (id = 0 for surface magnets) up to the voltage. A negative
/// speed gives the largest braking torque, see torque_airgap_min.
/// Valid: flux > 0, R >= 0, limits > 0. Unreachable (speed beyond what the limits can hold): torque
/// 0 and mask false.
/// Ignores saturation (overstates torque near the current limit) and the d current a magnet stands.
/// Source: Brosch et al. 2021, DOI 10.1109/TPEL.2020.3006779 (data), computed by search. Checked
/// by: tests/values/pm_motor.tsv (0.05 %), tests/model/motor_test.cpp (grid search).
template <class R>
EnvelopePoint<R> torque_envelope(const PmMotor<R>& motor, R speed_radps,
                                 const DriveLimits<R>& limits) {
  const auto s = detail::searched(motor, speed_radps);
  const R limit = square(limits.voltage_limit_V);
  const DqCurrent<R> best = mtpa(motor, limits.current_limit_A);
  const mask_of<R> by_current = detail::square_voltage(s, best) <= limit;
  if (all(by_current)) return {dq_point(motor, speed_radps, best), by_current};

  const mask_of<R> weaken = limits.weakening > num<R>(0.5);
  R x = best.current_d_A;
  R y = best.current_q_A;
  if (any(weaken)) {
    const DqCurrent<R> per_volt = detail::voltage_on_line(s, s.voltage, limits.voltage_limit_V);
    const R t_mtpa = -best.current_d_A / (limits.current_limit_A + best.current_q_A);
    const DqCurrent<R> crossing =
        detail::circle_crossing<R>(s, {limits.current_limit_A, limit, t_mtpa});
    const mask_of<R> inside = square(per_volt.current_d_A) + square(per_volt.current_q_A) <=
                              square(limits.current_limit_A);
    x = select(inside, per_volt.current_d_A, crossing.current_d_A);
    y = select(inside, per_volt.current_q_A, crossing.current_q_A);
  }
  if (!all(weaken)) {
    const DqCurrent<R> on_line =
        detail::voltage_on_line(s, detail::current_weights<R>(), limits.voltage_limit_V);
    x = select(weaken, x, on_line.current_d_A);
    y = select(weaken, y, on_line.current_q_A);
  }
  x = select(by_current, best.current_d_A, x);
  y = select(by_current, best.current_q_A, y);
  const R slack_limit = num<R>(1 + limit_slack) * limit;
  const R x_idle = select(weaken, detail::idle_current(s, limits.current_limit_A), num<R>(0));
  const mask_of<R> idles = detail::square_voltage<R>(s, {x_idle, num<R>(0)}) <= slack_limit;
  const mask_of<R> held =
      idles & (y >= num<R>(0)) & (detail::square_voltage<R>(s, {x, y}) <= slack_limit);
  const mask_of<R> reachable = by_current | held;
  const R none = num<R>(0);
  const DqCurrent<R> found{select(reachable, x, none), select(reachable, y, none)};
  return {dq_point(motor, speed_radps, found), reachable};
}

/// The most negative airgap torque at a speed, Nm: the envelope of the mirrored rotation.
/// Valid: as torque_envelope.
template <class R>
EnvelopePoint<R> torque_airgap_min(const PmMotor<R>& motor, R speed_radps,
                                   const DriveLimits<R>& limits) {
  const EnvelopePoint<R> mirrored = torque_envelope(motor, -speed_radps, limits);
  const DqCurrent<R> current{mirrored.point.current_d_A, -mirrored.point.current_q_A};
  return {dq_point(motor, speed_radps, current), mirrored.reachable};
}

/// Largest shaft torque at a speed, Nm: envelope less drag (below zero where only drag is left).
/// Valid: as torque_envelope.
template <class R>
R torque_shaft_max(const PmMotor<R>& motor, R speed_radps, const DriveLimits<R>& limits) {
  return torque_envelope(motor, speed_radps, limits).point.torque_airgap_Nm -
         drag_torque(motor, speed_radps);
}

/// Most negative shaft torque at a speed, Nm: regeneration and drag together.
/// Valid: as torque_envelope.
template <class R>
R torque_shaft_min(const PmMotor<R>& motor, R speed_radps, const DriveLimits<R>& limits) {
  return torque_airgap_min(motor, speed_radps, limits).point.torque_airgap_Nm -
         drag_torque(motor, speed_radps);
}

/// The operating point for a shaft torque at a speed, with its losses.
/// Valid: as currents_for_torque.
/// Ignores saturation, iron current and stray load loss.
/// Source: as currents_for_torque. Checked by: tests/model/motor_test.cpp (power balance 1e-12).
template <class R>
ShaftPoint<R> drive_point(const PmMotor<R>& motor, const ShaftDemand<R>& demand,
                          const DriveLimits<R>& limits) {
  const R drag = drag_torque(motor, demand.speed_radps);
  const TorquePoint<R> found =
      currents_for_torque<R>(motor, {demand.torque_shaft_Nm + drag, demand.speed_radps}, limits);
  const mask_of<R> feasible = found.inside_voltage & found.inside_current;
  return {.torque_shaft_Nm = demand.torque_shaft_Nm,
          .power_electrical_W = power_electrical(found.point),
          .current_phase_peak_A = current_magnitude(found.point),
          .loss_copper_W = power_copper(motor, found.point),
          .loss_iron_mech_W = drag * demand.speed_radps,
          .voltage_V = voltage_magnitude(found.point),
          .feasible = feasible};
}

/// What a motor is at a current along its line of most torque per ampere, with how each of it grows
/// with the current: for where the torque is sought.
template <class R>
struct LinePoint {
  R torque_airgap_Nm;
  R torque_by_current;  ///< Nm/A
  R power_electrical_W;
  R power_by_current;  ///< W/A
  R square_voltage_V2;
  R square_voltage_by_current;  ///< V^2/A
  R square_voltage_by_speed;    ///< V^2 per rad/s of the shaft; of the power it is the torque
};

/// That point, without a search. By the envelope's rule q = iq (psi - dL id) grows by
/// iq (psi - 2 dL id)/I; id by -2 dL I/(psi - 4 dL id), from 2 dL id^2 - psi id - dL I^2 = 0.
/// Valid: current > 0, flux > 0, any speed; no limit is asked.
/// Ignores what drive_point ignores.
/// Source: as mtpa. Checked by: tests/model/motor_test.cpp (equals drive_point at the same torque;
/// slopes against differences).
template <class R>
LinePoint<R> line_point(const PmMotor<R>& motor, R current_peak_A, R speed_radps) {
  const DqCurrent<R> at = mtpa(motor, current_peak_A);
  const R id = at.current_d_A;
  const R iq = at.current_q_A;
  const R psi = motor.flux_peak_Wb;
  const R delta = motor.inductance_q_H - motor.inductance_d_H;
  const R res = motor.resistance_phase_ohm;
  const R omega = motor.pole_pairs * speed_radps;
  const R id_by = num<R>(-2) * delta * current_peak_A / (psi - num<R>(4) * delta * id);
  const R q = iq * (psi - delta * id);
  const R q_by = iq * (psi - num<R>(2) * delta * id) / current_peak_A;
  const R flux_d = motor.inductance_d_H * id + psi;
  const R square_lq = square(motor.inductance_q_H);
  // The airgap's power is 1.5 w q; of v^2 the mixed term is 2 R w q.
  const R square_current = square(current_peak_A);
  const R half_square_by = current_peak_A - id * id_by;  // of iq^2
  const R square_flux = square(flux_d) + square_lq * square(iq);
  const R two = num<R>(2);
  return {.torque_airgap_Nm = num<R>(1.5) * motor.pole_pairs * q,
          .torque_by_current = num<R>(1.5) * motor.pole_pairs * q_by,
          .power_electrical_W = num<R>(1.5) * (res * square_current + omega * q),
          .power_by_current = num<R>(1.5) * (two * res * current_peak_A + omega * q_by),
          .square_voltage_V2 =
              square(res) * square_current + two * res * omega * q + square(omega) * square_flux,
          .square_voltage_by_current =
              two * (square(res) * current_peak_A + res * omega * q_by +
                     square(omega) *
                         (flux_d * motor.inductance_d_H * id_by + square_lq * half_square_by)),
          .square_voltage_by_speed = two * motor.pole_pairs * (res * q + omega * square_flux)};
}

/// Characteristic current psi/Ld, A peak: below the current limit, speed has no electrical end.
template <class R>
R characteristic_current(const PmMotor<R>& motor) {
  return motor.flux_peak_Wb / motor.inductance_d_H;
}

/// Speed at which the back-EMF alone reaches the phase voltage: V/(p psi).  Result in rad/s.
/// Valid: voltage >= 0.
/// Ignores the drop of the no-load current (about 1 % low in practice).
/// Source: definition. Checked by: tests/values/pm_motor.tsv.
template <class R>
R no_load_speed(const PmMotor<R>& motor, R voltage_peak_V) {
  return voltage_peak_V / (motor.pole_pairs * motor.flux_peak_Wb);
}

/// Speed to which a current at most torque per ampere can be held: (R I)^2 + 2 R w q + (w lambda)^2
/// = V^2 solved for w.  Result in rad/s of the shaft.
/// Valid: R I < V (else NaN), current > 0.
/// Ignores saturation.
/// Source: Brosch et al. 2021, DOI 10.1109/TPEL.2020.3006779 (data). Checked by:
/// tests/values/pm_motor.tsv.
template <class R>
R base_speed(const PmMotor<R>& motor, R current_peak_A, R voltage_peak_V) {
  const DqCurrent<R> i = mtpa(motor, current_peak_A);
  const R res = motor.resistance_phase_ohm;
  const R square_flux = square(motor.inductance_d_H * i.current_d_A + motor.flux_peak_Wb) +
                        square(motor.inductance_q_H * i.current_q_A);
  const R q = torque_airgap(motor, i) / (num<R>(1.5) * motor.pole_pairs);
  const R spare = square(voltage_peak_V) - square(res * current_peak_A);
  const R omega = (sqrt(square(res * q) + square_flux * spare) - res * q) / square_flux;
  return valid_where(spare > num<R>(0), omega / motor.pole_pairs);
}

/// Speed from which most torque per volt, not the current, bounds the torque, without resistance.
/// Result in rad/s of the shaft; NaN where the current limit is at or below psi/Ld (never).
/// Valid: current above the characteristic current.
/// Ignores resistance and saturation.
/// Source: derivation (voltage ellipse and torque hyperbola touch on the current circle). Checked
/// by: tests/values/pm_motor.tsv.
template <class R>
R mtpv_start_speed(const PmMotor<R>& motor, R current_peak_A, R voltage_peak_V) {
  const R ld = motor.inductance_d_H;
  const R lq = motor.inductance_q_H;
  const R psi = motor.flux_peak_Wb;
  const R delta = lq - ld;
  const R quadratic = delta * (square(ld) + square(lq));
  const R linear = ld * psi * (ld - delta);
  const R constant = ld * square(psi) + square(lq) * delta * square(current_peak_A);
  const R id =
      num<R>(-2) * constant / (linear + sqrt(square(linear) + num<R>(4) * quadratic * constant));
  const R square_q = square(current_peak_A) - square(id);
  const R square_flux = square(ld * id + psi) + square(lq) * square_q;
  return valid_where(square_q > num<R>(0), voltage_peak_V / (sqrt(square_flux) * motor.pole_pairs));
}

/// Line-to-line peak of the open-circuit voltage: sqrt(3) p w psi.  Result in V. Above the supply's
/// own voltage the diodes conduct when control is lost (uncontrolled generation).
/// Valid: any speed.
/// Ignores the magnet's temperature unless the motor was taken at it.
/// Source: definition. Checked by: tests/values/pm_motor.tsv.
template <class R>
R back_emf_line_line_peak(const PmMotor<R>& motor, R speed_radps) {
  return num<R>(1.7320508075688772) * motor.pole_pairs * abs(speed_radps) * motor.flux_peak_Wb;
}

}  // namespace ww::model
