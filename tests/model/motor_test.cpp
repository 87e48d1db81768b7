// SPDX-License-Identifier: MIT
// Identities of the motor and controller kernels over tables of machines and states. The envelope
// and the least-current point are held against plain searches that share no formula with them.
#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <vector>
#include <xsimd/xsimd.hpp>

#include "base/dual.h"
#include "model/brushed_motor.h"
#include "model/induction_motor.h"
#include "model/pm_motor.h"
#include "tests/support/motors.h"

namespace ww::model {
namespace {

using support::ipm;

using Batch = xsimd::batch<double>;
constexpr double infinite = std::numeric_limits<double>::infinity();

PmMotor<double> surface() {
  return {.resistance_phase_ohm = 0.006,
          .inductance_d_H = 30e-6,
          .inductance_q_H = 30e-6,
          .flux_peak_Wb = 9.188815e-3,
          .pole_pairs = 10,
          .drag_constant_Nm = 0.6,
          .drag_linear_Nms = 2.5e-3,
          .drag_quadratic_Nms2 = 1e-6};
}
BrushedPmMotor<double> brushed_pm() {
  return {.constant_Vs = 0.1349,
          .resistance_armature_ohm = 0.016,
          .voltage_brush_V = 1.5,
          .drag_constant_Nm = 0.6,
          .drag_linear_Nms = 1e-3,
          .drag_quadratic_Nms2 = 1e-6};
}
BrushedSeriesMotor<double> series(double saturation_A) {
  return {.constant_series_H = 1.2e-3,
          .current_saturation_A = saturation_A,
          .resistance_ohm = 0.03,
          .voltage_brush_V = 2,
          .drag_constant_Nm = 0.8,
          .drag_linear_Nms = 1e-3,
          .drag_quadratic_Nms2 = 2e-6};
}
InductionMotor<double> induction() {
  return {.resistance_stator_ohm = 0.004,
          .resistance_rotor_ohm = 0.005,
          .inductance_leakage_stator_H = 35e-6,
          .inductance_leakage_rotor_H = 45e-6,
          .inductance_magnetizing_H = 1.1e-3,
          .pole_pairs = 2,
          .current_flux_peak_A = 90,
          .flux_floor = 0.4,
          .drag_constant_Nm = 0.5,
          .drag_linear_Nms = 1e-3,
          .drag_quadratic_Nms2 = 2e-6};
}

/// A repeatable number in 0..1 from a counter (golden-ratio sequences, one a stream).
double spread(int index, int stream) {
  const double step = 0.6180339887498949 + 0.1327 * stream;
  const double x = 0.5 + index * step;
  return x - std::floor(x);
}
double between(double low, double high, double share) {
  return low * std::pow(high / low, share);
}

/// Machines, limits and speeds far wider than any listing.
struct Case {
  PmMotor<double> motor;
  double voltage, current, speed;
};
Case wide_case(int i) {
  const double ld = between(10e-6, 2e-3, spread(i, 0));
  const double pick = spread(i, 1);
  const double saliency = pick < 0.25 ? 1 : pick < 0.4 ? 0.5 + pick : between(1, 5, spread(i, 2));
  const double current = between(20, 800, spread(i, 4));
  const double voltage = between(10, 300, spread(i, 5));
  Case c{.motor = {.resistance_phase_ohm = between(1e-3, 0.4, spread(i, 7)) * voltage / current,
                   .inductance_d_H = ld,
                   .inductance_q_H = ld * saliency,
                   .flux_peak_Wb = ld * current * between(0.3, 8, spread(i, 3)),
                   .pole_pairs = std::floor(2 + 20 * spread(i, 6)),
                   .drag_constant_Nm = 0,
                   .drag_linear_Nms = 0,
                   .drag_quadratic_Nms2 = 0},
         .voltage = voltage,
         .current = current,
         .speed = 0};
  c.speed =
      no_load_speed(c.motor, voltage) * between(0.05, 4, spread(i, 8)) * (i % 3 == 0 ? -1 : 1);
  return c;
}

/// Largest torque by walking the rims of both limits; nothing of the kernel's algebra.
double searched_torque(const Case& c) {
  const PmMotor<double>& m = c.motor;
  const double w = m.pole_pairs * c.speed;
  const double r = m.resistance_phase_ohm;
  const double det = r * r + w * w * m.inductance_d_H * m.inductance_q_H;
  double best = -1;
  const auto try_at = [&](double d, double q) {
    const double linkage = m.flux_peak_Wb - (m.inductance_q_H - m.inductance_d_H) * d;
    if (q < 0 || linkage <= 0) return;
    const double vd = r * d - w * m.inductance_q_H * q;
    const double vq = r * q + w * (m.inductance_d_H * d + m.flux_peak_Wb);
    if (std::hypot(d, q) > c.current * (1 + 1e-9)) return;
    if (std::hypot(vd, vq) > c.voltage * (1 + 1e-9)) return;
    best = std::max(best, 1.5 * m.pole_pairs * linkage * q);
  };
  constexpr int steps = 20000;
  for (int k = 0; k < steps; ++k) {
    const double angle = 2 * pi * k / steps;
    const double a = std::cos(angle);
    const double b = std::sin(angle);
    try_at(c.current * a, c.current * b);
    const double vd = c.voltage * a;
    const double vq = c.voltage * b - w * m.flux_peak_Wb;
    try_at((r * vd + w * m.inductance_q_H * vq) / det, (r * vq - w * m.inductance_d_H * vd) / det);
  }
  return best;
}

/// Whether some current without torque stays inside both limits.
bool can_idle(const Case& c) {
  const PmMotor<double>& m = c.motor;
  const double d = -std::min(c.current, m.flux_peak_Wb / m.inductance_d_H);
  const double v = std::hypot(m.resistance_phase_ohm * d,
                              m.pole_pairs * c.speed * (m.inductance_d_H * d + m.flux_peak_Wb));
  return v < c.voltage;
}

TEST(PmEnvelope, EqualsASearchAlongBothLimits) {
  int reached = 0;
  for (int i = 0; i < 400; ++i) {
    const Case c = wide_case(i);
    const double searched = searched_torque(c);
    const auto found = torque_envelope<double>(c.motor, c.speed, {c.voltage, c.current, 1});
    const double scale = 1.5 * c.motor.pole_pairs * c.motor.flux_peak_Wb * c.current;
    if (!found.reachable) {
      EXPECT_TRUE(!can_idle(c) || searched < 0.01 * scale) << "case " << i;
      EXPECT_EQ(found.point.torque_airgap_Nm, 0);
      continue;
    }
    ++reached;
    // A limit that binds is met to rounding: the searches have converged.
    const double spare_V = 1 - voltage_magnitude(found.point) / c.voltage;
    const double spare_A = 1 - current_magnitude(found.point) / c.current;
    EXPECT_LT(std::min(std::abs(spare_V), std::abs(spare_A)), 1e-11) << "case " << i;
    const auto full = dq_point(c.motor, c.speed, mtpa(c.motor, c.current));
    if (voltage_magnitude(full) > c.voltage) {
      EXPECT_LT(std::abs(spare_V), 1e-9) << "case " << i;
    }
    // The search only comes near a limit; the kernel's own point must keep both.
    EXPECT_LE(voltage_magnitude(found.point), c.voltage * (1 + 1e-6)) << "case " << i;
    EXPECT_LE(current_magnitude(found.point), c.current * (1 + 1e-6)) << "case " << i;
    EXPECT_GE(found.point.torque_airgap_Nm, searched * (1 - 1e-5)) << "case " << i;
    EXPECT_LE(found.point.torque_airgap_Nm, searched * (1 + 1e-3) + 1e-3 * scale) << "case " << i;
  }
  EXPECT_GT(reached, 280);
}

TEST(PmEnvelope, WithoutWeakeningFollowsTheLineOfMostTorquePerAmpere) {
  int reached = 0;
  int short_of_voltage = 0;
  for (int i = 0; i < 400; ++i) {
    const Case c = wide_case(i);
    const auto found = torque_envelope<double>(c.motor, c.speed, {c.voltage, c.current, 0});
    const double idle = c.motor.pole_pairs * std::abs(c.speed) * c.motor.flux_peak_Wb;
    // Along the line, driving voltage grows: the largest current that fits.
    double best = -1;
    for (int k = 0; k <= 4000; ++k) {
      const auto p = dq_point(c.motor, c.speed, mtpa(c.motor, c.current * k / 4000));
      if (voltage_magnitude(p) <= c.voltage * (1 + 1e-9)) best = std::max(best, p.torque_airgap_Nm);
    }
    if (!found.reachable) {
      EXPECT_GT(idle, c.voltage * (1 - 1e-6)) << "case " << i;
      EXPECT_EQ(found.point.torque_airgap_Nm, 0);
      continue;
    }
    ++reached;
    const double full = torque_airgap(c.motor, mtpa(c.motor, c.current));
    if (best < 0.999 * full) ++short_of_voltage;
    EXPECT_NEAR(found.point.torque_airgap_Nm, best, 1e-3 * full) << "case " << i;
    EXPECT_LE(voltage_magnitude(found.point), c.voltage * (1 + 1e-6)) << "case " << i;
    const auto on_line = mtpa(c.motor, current_magnitude(found.point));
    EXPECT_NEAR(found.point.current_d_A, on_line.current_d_A, 1e-6 * c.current) << "case " << i;
  }
  EXPECT_GT(reached, 120);
  EXPECT_GT(short_of_voltage, 20);
}

TEST(PmPoint, OnTheLineIsThePointOfItsTorque) {
  for (int i = 0; i < 400; ++i) {
    const Case c = wide_case(i);
    for (const double share : {1e-6, 0.1, 0.7, 1.0}) {
      const double current = share * c.current;
      const auto at = line_point(c.motor, current, c.speed);
      const double torque = at.torque_airgap_Nm - drag_torque(c.motor, c.speed);
      const auto asked = drive_point<double>(c.motor, {torque, c.speed}, {1e7, 2 * c.current, 0});
      const double voltage = std::sqrt(at.square_voltage_V2);
      const auto near = [&](double a, double b) {
        EXPECT_NEAR(a, b, 1e-8 * (std::abs(a) + 1e-6 * std::abs(voltage * c.current))) << i;
      };
      EXPECT_NEAR(current, asked.current_phase_peak_A, 1e-7 * c.current) << i;
      near(voltage, asked.voltage_V);
      near(at.power_electrical_W, asked.power_electrical_W);
    }
  }
}

TEST(PmPoint, SlopesAlongTheLineAreThoseOfDifferences) {
  for (int i = 0; i < 400; ++i) {
    const Case c = wide_case(i);
    for (const double share : {0.01, 0.3, 1.0}) {
      const double current = share * c.current, step = 1e-5 * current;
      const auto at = line_point(c.motor, current, c.speed);
      const auto more = line_point(c.motor, current + step, c.speed);
      const auto less = line_point(c.motor, current - step, c.speed);
      // The differences' own error: rounding of the value over the step.
      const auto near = [&](double slope, double above, double below) {
        const double differences = (above - below) / (2 * step);
        const double rounding = 1e-15 * (std::abs(above) + std::abs(below)) / step;
        EXPECT_NEAR(slope, differences, 1e-8 * std::abs(slope) + 4 * rounding) << i << " " << share;
      };
      near(at.torque_by_current, more.torque_airgap_Nm, less.torque_airgap_Nm);
      near(at.power_by_current, more.power_electrical_W, less.power_electrical_W);
      near(at.square_voltage_by_current, more.square_voltage_V2, less.square_voltage_V2);
    }
    // With the speed: exact, as the voltage's square is of second degree in it.
    const auto at = line_point(c.motor, c.current, c.speed);
    const double apart = 0.5 * c.speed;
    const auto slope = [&](double above, double below) { return (above - below) / (2 * apart); };
    const auto more = line_point(c.motor, c.current, c.speed + apart);
    const auto less = line_point(c.motor, c.current, c.speed - apart);
    EXPECT_NEAR(at.square_voltage_by_speed / slope(more.square_voltage_V2, less.square_voltage_V2),
                1, 1e-9)
        << i;
    EXPECT_NEAR(at.torque_airgap_Nm / slope(more.power_electrical_W, less.power_electrical_W), 1,
                1e-9)
        << i;
  }
}

TEST(PmEnvelope, DoesNotRiseWithSpeedAndWeakeningNeverTakesTorque) {
  for (const auto& motor : {ipm(), surface()}) {
    const double voltage = motor.pole_pairs > 5 ? 38 : 170;
    const double base = base_speed(motor, 240.0, voltage);
    double before = infinite;
    for (int k = 0; k <= 300; ++k) {
      const double speed = base * k / 60;
      const double with =
          torque_envelope<double>(motor, speed, {voltage, 240, 1}).point.torque_airgap_Nm;
      const double without =
          torque_envelope<double>(motor, speed, {voltage, 240, 0}).point.torque_airgap_Nm;
      EXPECT_LE(with, before * (1 + 1e-9)) << speed;
      EXPECT_GE(with, without * (1 - 1e-9)) << speed;
      if (speed < base) {
        EXPECT_NEAR(with, torque_airgap(motor, mtpa(motor, 240.0)), 1e-9 * with);
      }
      before = with;
    }
    const auto beyond =
        torque_envelope<double>(motor, 1.01 * no_load_speed(motor, voltage), {voltage, 240, 0});
    EXPECT_FALSE(beyond.reachable);
    EXPECT_EQ(beyond.point.torque_airgap_Nm, 0);
  }
}

TEST(PmEnvelope, StandstillWithoutResistanceIsTheCurrentLimit) {
  PmMotor<double> m = ipm();
  m.resistance_phase_ohm = 0;
  const auto e = torque_envelope<double>(m, 0, {100, 240, 1});
  EXPECT_TRUE(e.reachable);
  EXPECT_NEAR(e.point.torque_airgap_Nm, 160.6124, 5e-5);
  // The same lane beside one that is short of voltage.
  const PmMotor<Batch> b{Batch(0.0),
                         Batch(m.inductance_d_H),
                         Batch(m.inductance_q_H),
                         Batch(m.flux_peak_Wb),
                         Batch(3.0),
                         Batch(0.0),
                         Batch(0.0),
                         Batch(0.0)};
  alignas(64) double speeds[Batch::size] = {};
  speeds[1] = 600;
  const auto lanes = torque_envelope<Batch>(b, Batch::load_aligned(speeds),
                                            {Batch(100.0), Batch(240.0), Batch(1.0)});
  EXPECT_TRUE(lanes.reachable.get(0));
  EXPECT_NEAR(lanes.point.torque_airgap_Nm.get(0), 160.6124, 5e-5);
}

TEST(PmPoint, GivesTheTorqueAtLeastCurrent) {
  int weakened = 0;
  for (int i = 0; i < 400; ++i) {
    const Case c = wide_case(i);
    const auto e = torque_envelope<double>(c.motor, c.speed, {c.voltage, c.current, 1});
    if (!e.reachable || e.point.torque_airgap_Nm <= 0) continue;
    const double torque = e.point.torque_airgap_Nm * (0.05 + 0.9 * spread(i, 9));
    const auto p =
        currents_for_torque<double>(c.motor, {torque, c.speed}, {c.voltage, c.current, 1});
    EXPECT_TRUE(p.inside_voltage & p.inside_current) << "case " << i;
    EXPECT_NEAR(p.point.torque_airgap_Nm, torque, 1e-12 * torque);
    // Plain search over id at this torque.
    double least = infinite;
    for (int k = -4000; k <= 4000; ++k) {
      const double d = c.current * k / 4000;
      const double linkage =
          c.motor.flux_peak_Wb - (c.motor.inductance_q_H - c.motor.inductance_d_H) * d;
      if (linkage <= 0) continue;
      const auto at =
          dq_point<double>(c.motor, c.speed, {d, torque / (1.5 * c.motor.pole_pairs * linkage)});
      if (voltage_magnitude(at) <= c.voltage) least = std::min(least, current_magnitude(at));
    }
    const double current = current_magnitude(p.point);
    // The grid's step is the current over 4000.
    EXPECT_LE(current, least * (1 + 1e-9)) << "case " << i;
    if (least < infinite) {
      EXPECT_GE(current, least - 2 * c.current / 4000) << "case " << i;
    }
    const auto plain = currents_for_torque<double>(c.motor, {torque, c.speed}, {1e9, c.current, 1});
    if (voltage_magnitude(plain.point) > c.voltage) {
      ++weakened;
      EXPECT_NEAR(voltage_magnitude(p.point), c.voltage, 1e-7 * c.voltage) << "case " << i;
      EXPECT_LT(p.point.current_d_A, plain.point.current_d_A);
    } else {
      EXPECT_EQ(p.point.current_d_A, plain.point.current_d_A);
    }
    const auto forbidden =
        currents_for_torque<double>(c.motor, {torque, c.speed}, {c.voltage, c.current, 0});
    EXPECT_EQ(forbidden.point.current_d_A, plain.point.current_d_A);
    EXPECT_EQ(forbidden.inside_voltage, voltage_magnitude(plain.point) <= c.voltage * (1 + 5e-7));
  }
  EXPECT_GT(weakened, 60);
}

TEST(PmPoint, LeastCurrentPointLiesOnTheLineOfMostTorquePerAmpere) {
  for (const auto& motor : {ipm(), surface()}) {
    for (const double current : {1.0, 30.0, 120.0, 400.0}) {
      const auto best = mtpa(motor, current);
      const double torque = torque_airgap(motor, best);
      EXPECT_NEAR(std::hypot(best.current_d_A, best.current_q_A), current, 1e-9 * current);
      for (const double turn : {-0.02, 0.02}) {
        const DqCurrent<double> other{
            best.current_d_A * std::cos(turn) - best.current_q_A * std::sin(turn),
            best.current_d_A * std::sin(turn) + best.current_q_A * std::cos(turn)};
        EXPECT_LT(torque_airgap(motor, other), torque);
      }
      const auto p = currents_for_torque<double>(motor, {torque, 0}, {1e6, 500, 1}).point;
      EXPECT_NEAR(p.current_d_A, best.current_d_A, 1e-8 * current);
      EXPECT_NEAR(p.current_q_A, best.current_q_A, 1e-8 * current);
    }
  }
}

TEST(PmPoint, BrakingMirrorsDrivingAndResistanceHelpsIt) {
  for (const auto& motor : {ipm(), surface()}) {
    const DriveLimits<double> wide{1000, 400, 1};
    for (const double torque : {5.0, 20.0, 40.0}) {
      const auto drive = currents_for_torque<double>(motor, {torque, 200}, wide).point;
      const auto brake = currents_for_torque<double>(motor, {-torque, 200}, wide).point;
      const auto mirror = currents_for_torque<double>(motor, {-torque, -200}, wide).point;
      EXPECT_EQ(brake.current_d_A, drive.current_d_A);
      EXPECT_EQ(brake.current_q_A, -drive.current_q_A);
      EXPECT_LT(voltage_magnitude(brake), voltage_magnitude(drive));
      EXPECT_EQ(voltage_magnitude(mirror), voltage_magnitude(drive));
      EXPECT_NEAR(power_electrical(drive) + power_electrical(brake), 2 * power_copper(motor, drive),
                  1e-9);
      // Where only the driving point is short of voltage, only it is weakened.
      const double between_V = 0.5 * (voltage_magnitude(brake) + voltage_magnitude(drive));
      const DriveLimits<double> tight{between_V, 400, 1};
      EXPECT_LT(currents_for_torque<double>(motor, {torque, 200}, tight).point.current_d_A,
                drive.current_d_A);
      EXPECT_EQ(currents_for_torque<double>(motor, {-torque, 200}, tight).point.current_d_A,
                drive.current_d_A);
    }
    for (const double speed : {50.0, 300.0, 500.0}) {
      const DriveLimits<double> limits{40, 300, 1};
      const auto low = torque_airgap_min(motor, speed, limits);
      const auto mirrored = torque_envelope(motor, -speed, limits);
      EXPECT_DOUBLE_EQ(low.point.torque_airgap_Nm, -mirrored.point.torque_airgap_Nm);
      EXPECT_EQ(low.reachable, mirrored.reachable);
      EXPECT_NEAR(voltage_magnitude(low.point), voltage_magnitude(mirrored.point), 1e-9);
      if (low.reachable) {
        EXPECT_LE(low.point.torque_airgap_Nm,
                  -torque_envelope(motor, speed, limits).point.torque_airgap_Nm);
      }
    }
  }
}

/// Power balance of any kind of motor over torques, speeds and limits, feasible or not.
template <class Motor>
void expect_balance(const Motor& motor) {
  for (const double torque : {-40.0, -5.0, 0.0, 3.0, 25.0, 80.0, 400.0}) {
    for (const double speed : {-300.0, 0.0, 1.0, 150.0, 420.0, 900.0}) {
      for (const double voltage : {20.0, 60.0, 300.0}) {
        for (const double weakening : {0.0, 1.0}) {
          const auto p = drive_point<double>(motor, {torque, speed}, {voltage, 300, weakening});
          const double sum = p.torque_shaft_Nm * speed + p.loss_copper_W + p.loss_iron_mech_W;
          const double size = std::abs(torque * speed) + p.loss_copper_W + p.loss_iron_mech_W + 1;
          EXPECT_EQ(p.torque_shaft_Nm, torque);
          EXPECT_NEAR(p.power_electrical_W, sum, 1e-12 * size) << torque << " Nm " << speed;
          EXPECT_GE(p.loss_copper_W, 0);
          EXPECT_NEAR(p.loss_iron_mech_W, drag_torque(motor, speed) * speed, 1e-12 * size);
          EXPECT_GE(p.loss_iron_mech_W, 0);
          EXPECT_GE(p.current_phase_peak_A, 0);
          if (p.feasible) {
            EXPECT_LE(p.current_phase_peak_A, 300 * (1 + 1e-6));
          }
        }
      }
    }
  }
}

TEST(ShaftPoint, PowerBalancesForEveryKind) {
  expect_balance(ipm());
  expect_balance(surface());
  expect_balance(brushed_pm());
  expect_balance(series(250));
  expect_balance(series(infinite));
  expect_balance(induction());
  InductionMotor<double> free_flux = induction();
  free_flux.flux_floor = 0;
  expect_balance(free_flux);
}

/// The largest torque is feasible, a little more is not.
template <class Motor>
void expect_edge(const Motor& motor, double sign) {
  for (const double weakening : {0.0, 1.0}) {
    for (const double speed : {1.0, 100.0, 250.0, 380.0, 450.0}) {
      const DriveLimits<double> limits{38, 300, weakening};
      const double drag = drag_torque(motor, speed);
      const double edge = sign > 0 ? torque_shaft_max(motor, speed, limits)
                                   : torque_shaft_min(motor, speed, limits);
      const double airgap = edge + drag;
      if (std::abs(airgap) < 1e-9) continue;
      const auto at = [&](double share) {
        return drive_point<double>(motor, {airgap * share - drag, speed}, limits).feasible;
      };
      EXPECT_TRUE(at(1)) << speed << " rad/s, weakening " << weakening;
      EXPECT_TRUE(at(0.9)) << speed << " rad/s, weakening " << weakening;
      EXPECT_FALSE(at(1.002)) << speed << " rad/s, weakening " << weakening;
    }
  }
}

TEST(ShaftPoint, EnvelopeIsTheEdgeOfTheFeasible) {
  expect_edge(ipm(), 1);
  expect_edge(ipm(), -1);
  expect_edge(surface(), 1);
  expect_edge(surface(), -1);
  expect_edge(induction(), 1);
  expect_edge(induction(), -1);
  expect_edge(brushed_pm(), 1);
  expect_edge(series(250), 1);
  expect_edge(series(infinite), 1);
}

TEST(ShaftPoint, BrushedBrakingAndItsLimits) {
  const auto m = brushed_pm();
  const DriveLimits<double> limits{60, 200, 0};
  const double low = torque_shaft_min(m, 300.0, limits);
  EXPECT_DOUBLE_EQ(low, -m.constant_Vs * 200 - drag_torque(m, 300.0));
  EXPECT_TRUE(drive_point<double>(m, {low, 300}, limits).feasible);
  EXPECT_FALSE(drive_point<double>(m, {1.01 * low, 300}, limits).feasible);
  // Driving and braking: the drops of resistance and brushes change sign.
  const auto drive = drive_point<double>(m, {20, 300}, limits);
  const auto brake = drive_point<double>(m, {-20 - 2 * drag_torque(m, 300.0), 300}, limits);
  EXPECT_NEAR(brake.current_phase_peak_A, drive.current_phase_peak_A, 1e-9);
  EXPECT_NEAR(brake.loss_copper_W, drive.loss_copper_W, 1e-9);
  EXPECT_NEAR(drive.loss_copper_W,
              m.resistance_armature_ohm * square(drive.current_phase_peak_A) +
                  m.voltage_brush_V * drive.current_phase_peak_A,
              1e-9);
  const auto s = series(250);
  EXPECT_DOUBLE_EQ(torque_shaft_min(s, 300.0, limits), -drag_torque(s, 300.0));
  EXPECT_FALSE(drive_point<double>(s, {-10, 300}, {1e9, 1e9, 0}).feasible);
  EXPECT_TRUE(drive_point<double>(s, {10, 300}, {1e9, 1e9, 0}).feasible);
}

TEST(Brushed, BatteryLimitTakesExactlyItsPower) {
  const auto m = brushed_pm();
  for (const double speed : {0.0, 30.0, 200.0, 500.0}) {
    for (const double power : {200.0, 4000.0, 20000.0}) {
      const double i = current_at_power(m, speed, power);
      EXPECT_GT(i, 0);
      EXPECT_NEAR((m.constant_Vs * speed + m.voltage_brush_V + m.resistance_armature_ohm * i) * i,
                  power, 1e-9 * power);
      for (const double saturation : {80.0, 250.0, infinite}) {
        const auto s = series(saturation);
        const double j = current_at_power(s, speed, power);
        EXPECT_GT(j, 0);
        const double emf = series_flux_factor(s, j) * speed;
        EXPECT_NEAR((emf + s.voltage_brush_V + s.resistance_ohm * j) * j, power, 1e-9 * power);
        // The smaller of both currents rules.
        const DriveLimits<double> limits{60, 300, 0};
        const double whole = torque_envelope(s, speed, limits);
        const double held = torque_envelope_battery(s, speed, limits, power);
        const double alone = series_flux_factor(s, j) * j;
        EXPECT_NEAR(held, std::min(whole, alone), 1e-9 * whole);
      }
      const DriveLimits<double> limits{60, 300, 0};
      EXPECT_NEAR(torque_envelope_battery(m, speed, limits, power),
                  std::min(torque_envelope(m, speed, limits), m.constant_Vs * i), 1e-9);
    }
  }
}

TEST(Induction, InverterFedPointIsTheCircuitAtItsOwnSlip) {
  const auto m = induction();
  for (const double torque : {-60.0, 8.0, 40.0, 90.0}) {
    for (const double speed : {40.0, 200.0, 600.0}) {
      const auto p = flux_point_for_torque<double>(m, {torque, speed}, {60, 400, 1});
      EXPECT_NEAR(p.torque_airgap_Nm, torque, 1e-12 * std::abs(torque));
      const double voltage = std::hypot(p.voltage_d_V, p.voltage_q_V);
      const double synchronous = p.frequency_radps / m.pole_pairs;
      const auto c =
          circuit_point<double>(circuit_at(m, p.frequency_radps),
                                {voltage / std::sqrt(2.0), 1 - speed / synchronous, synchronous});
      EXPECT_NEAR(c.torque_airgap_Nm, torque, 1e-9 * std::abs(torque));
      EXPECT_NEAR(c.current_phase_rms_A * std::sqrt(2.0), std::hypot(p.current_d_A, p.current_q_A),
                  1e-7);
      EXPECT_NEAR(c.power_electrical_W, c.loss_stator_W + c.loss_rotor_W + c.power_converted_W,
                  1e-9 * std::abs(c.power_electrical_W));
      const auto shaft =
          drive_point<double>(m, {torque - drag_torque(m, speed), speed}, {60, 400, 1});
      EXPECT_NEAR(shaft.loss_copper_W, c.loss_stator_W + c.loss_rotor_W, 1e-6);
    }
  }
}

TEST(Induction, EnvelopeEqualsASearchOverBothCurrents) {
  const auto m = induction();
  const double leakage = detail::flux_model(m).leakage;
  for (const double speed : {-700.0, -150.0, 20.0, 250.0, 500.0, 1200.0}) {
    const DriveLimits<double> limits{45, 350, 1};
    const double found = torque_envelope(m, speed, limits);
    double best = 0;
    for (int a = 1; a <= 600; ++a) {
      for (int b = 1; b <= 600; ++b) {
        const double d = m.current_flux_peak_A * a / 600;
        const double q = limits.current_limit_A * b / 600;
        if (std::hypot(d, q) > limits.current_limit_A || q > d / leakage) continue;
        const auto p = detail::flux_point(m, speed, d, q);
        if (std::hypot(p.voltage_d_V, p.voltage_q_V) > limits.voltage_limit_V) continue;
        best = std::max(best, p.torque_airgap_Nm);
      }
    }
    EXPECT_GE(found, best * (1 - 1e-9)) << speed;
    EXPECT_LE(found, best * 1.006) << speed;
  }
}

TEST(Induction, VoltageShapeTurnsAsItsDifferences) {
  auto m = induction();
  m.resistance_stator_ohm = 0.05;
  const auto f = detail::flux_model(m);
  for (const double rotor : {-900.0, -20.0, 0.0, 30.0, 1500.0}) {
    const auto voltage = detail::voltage_polynomial(m, f, rotor);
    for (const double r : {0.2, 1.0, 4.0, 12.0}) {
      const auto at = [&](double x) { return voltage.size(x); };
      const double slope = (at(r * (1 + 1e-5)) - at(r * (1 - 1e-5))) / (2e-5 * r);
      const double excess = voltage.excess(r);
      EXPECT_NEAR(excess, at(r) - r * slope, 1e-6 * (at(r) + std::abs(r * slope)));
      const double turned = (voltage.excess(r + 1e-6) - voltage.excess(r - 1e-6)) / 2e-6;
      EXPECT_NEAR(voltage.excess_slope(r), turned, 1e-6 * (1 + std::abs(turned)));
      // The size is the square of the voltage of a point with that ratio.
      const auto p = detail::flux_point(m, rotor / m.pole_pairs, 10.0, 10.0 * r);
      EXPECT_NEAR(100 * at(r), square(p.voltage_d_V) + square(p.voltage_q_V), 1e-9 * at(r) * 100);
    }
  }
}

// The spare is nothing at the largest torque, and falls on the way there.
TEST(Induction, NothingIsSpareAtTheLargestTorque) {
  const auto m = induction();
  for (const double speed : {0.0, 50.0, 200.0, 400.0, 700.0, 1200.0}) {
    for (const DriveLimits<double> limits :
         {DriveLimits<double>{40, 400, 1}, {25, 250, 1}, {60, 150, 1}}) {
      const double most = torque_shaft_max(m, speed, limits);
      if (!(most > 0)) continue;
      EXPECT_NEAR(limits_spare<double>(m, {most, speed}, limits), 0, 1e-9) << speed;
      double before = 2;
      for (double share = 0.05; share < 1.5; share += 0.05) {
        const double spare = limits_spare<double>(m, {share * most, speed}, limits);
        EXPECT_LT(spare, before) << speed << " " << share;
        EXPECT_EQ(spare > 0, share < 0.99999) << speed << " " << share;
        before = spare;
      }
    }
  }
}

TEST(Induction, FluxIsRatedFloorOrWeakened) {
  auto m = induction();
  const DriveLimits<double> wide{1e4, 1e4, 1};
  const double k = detail::flux_model(m).torque_factor;
  const auto light = flux_point_for_torque<double>(m, {0.01, 100}, wide);
  EXPECT_NEAR(light.current_d_A, 0.4 * 90, 1e-9);
  const auto even = flux_point_for_torque<double>(m, {k * 60 * 60, 100}, wide);
  EXPECT_NEAR(even.current_d_A, 60, 1e-9);
  EXPECT_NEAR(even.current_q_A, 60, 1e-9);
  const auto heavy = flux_point_for_torque<double>(m, {k * 90 * 200, 100}, wide);
  EXPECT_NEAR(heavy.current_d_A, 90, 1e-9);
  EXPECT_NEAR(heavy.current_q_A, 200, 1e-9);
  const auto fast = flux_point_for_torque<double>(m, {6, 900}, {40, 400, 1});
  EXPECT_LT(fast.current_d_A, 36);
  EXPECT_NEAR(std::hypot(fast.voltage_d_V, fast.voltage_q_V), 40, 1e-9);
  // A negative torque has its slip and its q current reversed.
  const auto brake = flux_point_for_torque<double>(m, {-20, 100}, wide);
  EXPECT_LT(brake.current_q_A, 0);
  EXPECT_LT(brake.frequency_radps, 200);
}

// ---- Number types

template <class To>
PmMotor<To> convert(const PmMotor<double>& m) {
  return {To(m.resistance_phase_ohm), To(m.inductance_d_H),     To(m.inductance_q_H),
          To(m.flux_peak_Wb),         To(m.pole_pairs),         To(m.drag_constant_Nm),
          To(m.drag_linear_Nms),      To(m.drag_quadratic_Nms2)};
}
template <class To>
InductionMotor<To> convert(const InductionMotor<double>& m) {
  return {To(m.resistance_stator_ohm),
          To(m.resistance_rotor_ohm),
          To(m.inductance_leakage_stator_H),
          To(m.inductance_leakage_rotor_H),
          To(m.inductance_magnetizing_H),
          To(m.pole_pairs),
          To(m.current_flux_peak_A),
          To(m.flux_floor),
          To(m.drag_constant_Nm),
          To(m.drag_linear_Nms),
          To(m.drag_quadratic_Nms2)};
}
template <class To>
BrushedPmMotor<To> convert(const BrushedPmMotor<double>& m) {
  return {To(m.constant_Vs),      To(m.resistance_armature_ohm), To(m.voltage_brush_V),
          To(m.drag_constant_Nm), To(m.drag_linear_Nms),         To(m.drag_quadratic_Nms2)};
}
template <class To>
BrushedSeriesMotor<To> convert(const BrushedSeriesMotor<double>& m) {
  return {To(m.constant_series_H),  To(m.current_saturation_A), To(m.resistance_ohm),
          To(m.voltage_brush_V),    To(m.drag_constant_Nm),     To(m.drag_linear_Nms),
          To(m.drag_quadratic_Nms2)};
}

void expect_close(double a, double b, const char* what) {
  EXPECT_NEAR(a, b, 1e-12 * std::abs(b) + 1e-12) << what;
}

/// Scalar, dual value and every batch lane agree over a sweep of speeds with unlike limits a lane.
template <class Motor>
void expect_same_numbers(const Motor& motor) {
  using D = Dual<1>;
  const auto batch_motor = convert<Batch>(motor);
  const auto dual_motor = convert<D>(motor);
  for (int k = 0; k < 60; ++k) {
    alignas(64) double torque[Batch::size];
    alignas(64) double speed[Batch::size];
    alignas(64) double weakening[Batch::size];
    for (std::size_t lane = 0; lane < Batch::size; ++lane) {
      const int index = 7 * k + static_cast<int>(lane);
      torque[lane] = -20 + 80 * spread(index, 1);
      speed[lane] = -100 + 700 * spread(index, 2);
      weakening[lane] = index % 2;
    }
    const DriveLimits<Batch> limits{Batch(38.0), Batch(260.0), Batch::load_aligned(weakening)};
    const Batch speeds = Batch::load_aligned(speed);
    const auto points =
        drive_point<Batch>(batch_motor, {Batch::load_aligned(torque), speeds}, limits);
    const Batch tops = torque_shaft_max<Batch>(batch_motor, speeds, limits);
    const Batch lows = torque_shaft_min<Batch>(batch_motor, speeds, limits);
    for (std::size_t lane = 0; lane < Batch::size; ++lane) {
      const DriveLimits<double> l{38, 260, weakening[lane]};
      const auto p = drive_point<double>(motor, {torque[lane], speed[lane]}, l);
      expect_close(points.power_electrical_W.get(lane), p.power_electrical_W, "power, batch");
      expect_close(points.current_phase_peak_A.get(lane), p.current_phase_peak_A, "current, batch");
      expect_close(points.loss_copper_W.get(lane), p.loss_copper_W, "copper, batch");
      EXPECT_EQ(points.feasible.get(lane), p.feasible);
      expect_close(tops.get(lane), torque_shaft_max(motor, speed[lane], l), "top, batch");
      expect_close(lows.get(lane), torque_shaft_min(motor, speed[lane], l), "low, batch");
      const DriveLimits<D> dl{D(38), D(260), D(weakening[lane])};
      const auto dp = drive_point<D>(dual_motor, {D(torque[lane]), D(speed[lane])}, dl);
      expect_close(dp.power_electrical_W.value, p.power_electrical_W, "power, dual");
      expect_close(torque_shaft_max<D>(dual_motor, D(speed[lane]), dl).value,
                   torque_shaft_max(motor, speed[lane], l), "top, dual");
    }
  }
}

TEST(MotorNumbers, ScalarDualAndBatchAgree) {
  expect_same_numbers(ipm());
  expect_same_numbers(surface());
  expect_same_numbers(brushed_pm());
  expect_same_numbers(series(250));
  expect_same_numbers(induction());
}

/// Derivatives by the dual number against central differences; prints the whole table on failure.
template <class F, class FDual>
void expect_derivatives(const std::vector<double>& at, const F& f, const FDual& f_dual,
                        const char* what) {
  constexpr int most = 10;
  using D = Dual<most>;
  std::vector<D> variables;
  for (std::size_t i = 0; i < at.size(); ++i) {
    variables.push_back(D::variable(at[i], static_cast<int>(i)));
  }
  const D result = f_dual(variables);
  std::string table;
  bool good = true;
  for (std::size_t i = 0; i < at.size(); ++i) {
    const double h = 1e-5 * std::max(std::abs(at[i]), 1e-9);
    auto up = at;
    auto down = at;
    up[i] += h;
    down[i] -= h;
    const double numeric = (f(up) - f(down)) / (2 * h);
    const double scale = std::abs(result.value / at[i]) * 1e-5 + std::abs(numeric) * 1e-4;
    good = good && std::abs(result.slope[i] - numeric) <= scale;
    table += std::to_string(i) + ": dual " + std::to_string(result.slope[i]) + " numeric " +
             std::to_string(numeric) + "\n";
  }
  EXPECT_TRUE(good) << what << "\n" << table;
}

template <class R>
PmMotor<R> pm_from(const std::vector<R>& x) {
  return {x[0], x[1], x[2], x[3], R(3.0), x[4], x[5], x[6]};
}

TEST(MotorNumbers, DerivativesMatchDifferences) {
  const auto m = ipm();
  const std::vector<double> parameters{
      m.resistance_phase_ohm, m.inductance_d_H,  m.inductance_q_H,     m.flux_peak_Wb,
      m.drag_constant_Nm,     m.drag_linear_Nms, m.drag_quadratic_Nms2};
  struct State {
    double torque, speed;
  };
  for (const State s : {State{60, 200}, State{40, 700}, State{-30, 600}, State{20, 1250}}) {
    auto at = parameters;
    at.push_back(s.torque);
    at.push_back(s.speed);
    const auto power = [](const auto& x) {
      using R = std::decay_t<decltype(x[0])>;
      return drive_point<R>(pm_from(x), {x[7], x[8]}, {R(173.2), R(240.0), R(1.0)})
          .power_electrical_W;
    };
    expect_derivatives(at, power, power, "electrical power");
    const auto copper = [](const auto& x) {
      using R = std::decay_t<decltype(x[0])>;
      return drive_point<R>(pm_from(x), {x[7], x[8]}, {R(173.2), R(240.0), R(1.0)}).loss_copper_W;
    };
    expect_derivatives(at, copper, copper, "copper loss");
  }
  for (const double speed : {100.0, 400.0, 900.0, 1256.0}) {
    for (const double weakening : {0.0, 1.0}) {
      auto at = parameters;
      at.push_back(speed);
      const auto top = [weakening](const auto& x) {
        using R = std::decay_t<decltype(x[0])>;
        return torque_envelope<R>(pm_from(x), x[7], {R(173.2), R(240.0), R(weakening)})
            .point.torque_airgap_Nm;
      };
      if (top(at) > 0) expect_derivatives(at, top, top, "envelope");
    }
  }
}

TEST(MotorNumbers, InductionDerivativesMatchDifferences) {
  const auto m = induction();
  const std::vector<double> at{m.resistance_stator_ohm,
                               m.resistance_rotor_ohm,
                               m.inductance_leakage_stator_H,
                               m.inductance_magnetizing_H,
                               20,
                               800};
  for (const double voltage : {60.0, 400.0}) {
    const auto power = [m, voltage](const auto& x) {
      using R = std::decay_t<decltype(x[0])>;
      InductionMotor<R> n = convert<R>(m);
      n.resistance_stator_ohm = x[0];
      n.resistance_rotor_ohm = x[1];
      n.inductance_leakage_stator_H = x[2];
      n.inductance_magnetizing_H = x[3];
      return drive_point<R>(n, {x[4], x[5]}, {R(voltage), R(400.0), R(1.0)}).loss_copper_W;
    };
    expect_derivatives(at, power, power, "induction copper loss");
  }
}

}  // namespace
}  // namespace ww::model
