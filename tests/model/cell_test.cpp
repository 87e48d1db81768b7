// SPDX-License-Identifier: MIT
// Identities of the open-circuit curves, the equivalent circuit and the pack: what holds whatever
// the constants are. Reference digits stand in tests/values/{ocv,cell}.tsv.
#include "model/cell.h"

#include <gtest/gtest.h>

#include <array>
#include <boost/numeric/odeint.hpp>
#include <cmath>
#include <cstring>
#include <vector>

#include "base/dual.h"
#include "model/lco_cell.h"
#include "model/ocv.h"
#include "model/ocv_tables.h"
#include "model/tremblay.h"
#include "tests/model/derivatives.h"

#if __has_include(<xsimd/xsimd.hpp>)
#include <xsimd/xsimd.hpp>
#define WW_TEST_BATCH 1
#endif

namespace ww::model {
namespace {

constexpr OcvCurve every_curve[] = {OcvCurve::nmc_nca, OcvCurve::nmc111, OcvCurve::lfp,
                                    OcvCurve::lco,     OcvCurve::lto,    OcvCurve::sodium};

double interpolated_V(std::span<const OcvPoint> points, double soc) {
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    const auto& a = points[i];
    const auto& b = points[i + 1];
    if (soc <= b.soc) {
      return a.voltage_V + (soc - a.soc) / (b.soc - a.soc) * (b.voltage_V - a.voltage_V);
    }
  }
  return points.back().voltage_V;
}

// ---- Open-circuit curves

TEST(Ocv, RampsEqualTheTableEverywhere) {
  for (const auto curve : every_curve) {
    const auto points = ocv_points(curve);
    const auto ramps = ocv_ramps(points);
    for (const auto& p : points) EXPECT_NEAR(ocv_V(ramps, p.soc), p.voltage_V, 1e-13);
    for (int i = 0; i <= 1000; ++i) {
      const double s = i / 1000.0;
      EXPECT_NEAR(ocv_V(ramps, s), interpolated_V(points, s), 1e-13) << s;
    }
  }
}

TEST(Ocv, RisesAndIsHeldAtTheEnds) {
  for (const auto curve : every_curve) {
    const auto points = ocv_points(curve);
    const auto ramps = ocv_ramps(points);
    for (int i = 0; i < 500; ++i) {
      EXPECT_LT(ocv_V(ramps, i / 500.0), ocv_V(ramps, (i + 1) / 500.0));
    }
    EXPECT_NEAR(ocv_V(ramps, -0.2), points.front().voltage_V, 1e-13);
    EXPECT_NEAR(ocv_V(ramps, 1.2), points.back().voltage_V, 1e-13);
    EXPECT_EQ(ocv_slope_V(ramps, -0.2), 0);
  }
}

TEST(Ocv, ChemistriesTakeTheirCurve) {
  const auto same = [](Chemistry chemistry, OcvCurve curve) {
    EXPECT_EQ(ocv_curve(chemistry), curve);
    EXPECT_EQ(ocv_V(ocv_ramps(chemistry), 0.37), ocv_V(ocv_ramps(ocv_points(curve)), 0.37));
  };
  same(Chemistry::lfp, OcvCurve::lfp);
  same(Chemistry::nmc, OcvCurve::nmc_nca);
  same(Chemistry::nca, OcvCurve::nmc_nca);
  same(Chemistry::lco, OcvCurve::lco);
  same(Chemistry::lto, OcvCurve::lto);
  same(Chemistry::sodium, OcvCurve::sodium);
  for (const auto chemistry : {Chemistry::lead, Chemistry::unknown}) {
    EXPECT_EQ(ocv_curve(chemistry), OcvCurve::none);
    EXPECT_TRUE(std::isnan(ocv_V(ocv_ramps(chemistry), 0.5)));
  }
}

TEST(Ocv, SlopeAgreesWithDifferences) {
  for (const auto curve : every_curve) {
    const auto ramps = ocv_ramps(ocv_points(curve));
    for (const double s : {0.003, 0.022, 0.06, 0.17, 0.35, 0.63, 0.85, 0.97}) {
      const double numeric = (ocv_V(ramps, s + 1e-6) - ocv_V(ramps, s - 1e-6)) / 2e-6;
      EXPECT_NEAR(ocv_slope_V(ramps, s), numeric, 1e-6 * std::fabs(numeric) + 1e-8) << s;
    }
    // At a knot the slope above it; at full the last one.
    const auto points = ocv_points(curve);
    const auto& last = points[points.size() - 2];
    const double above = (points.back().voltage_V - last.voltage_V) / (1 - last.soc);
    EXPECT_NEAR(ocv_slope_V(ramps, last.soc), above, 1e-10);
    EXPECT_NEAR(ocv_slope_V(ramps, 1.0), above, 1e-10);
  }
}

TEST(Ocv, IntegralIsTheAreaUnderTheTable) {
  for (const auto curve : every_curve) {
    const auto points = ocv_points(curve);
    const auto ramps = ocv_ramps(points);
    const double ends[] = {0, 0.013, 0.2, 0.46, 0.9, 1};
    for (const double a : ends) {
      for (const double b : ends) {
        // Trapezoids between every knot that lies inside.
        std::vector<double> at{std::min(a, b)};
        for (const auto& p : points) {
          if (p.soc > std::min(a, b) && p.soc < std::max(a, b)) at.push_back(p.soc);
        }
        at.push_back(std::max(a, b));
        double area = 0;
        for (std::size_t i = 0; i + 1 < at.size(); ++i) {
          area += (at[i + 1] - at[i]) / 2 *
                  (interpolated_V(points, at[i]) + interpolated_V(points, at[i + 1]));
        }
        EXPECT_NEAR(ocv_integral_V(ramps, a, b), a <= b ? area : -area, 1e-13);
        if (a != b) {
          EXPECT_NEAR(ocv_mean_V(ramps, a, b), area / std::fabs(b - a), 1e-11);
        }
      }
    }
    EXPECT_NEAR(ocv_mean_V(ramps), ocv_mean_V(ramps, 0.0, 1.0), 1e-13);
    EXPECT_NEAR(ocv_integral_V(ramps, -1.0, 2.0), ocv_integral_V(ramps, 0.0, 1.0), 1e-13);
  }
}

TEST(Ocv, InverseRoundTripsAndIsHeldAtTheEnds) {
  for (const auto curve : every_curve) {
    const auto ramps = ocv_ramps(ocv_points(curve));
    for (int i = 0; i <= 200; ++i) {
      const double s = i / 200.0;
      EXPECT_NEAR(soc_at_ocv(ramps, ocv_V(ramps, s)), s, 1e-12);
    }
    EXPECT_EQ(soc_at_ocv(ramps, 0.5), 0);
    EXPECT_EQ(soc_at_ocv(ramps, 9.0), 1);
  }
}

TEST(Ocv, AWindowInsideTheTableIsTheSameCurveStretched) {
  for (const auto curve : every_curve) {
    const auto ramps = ocv_ramps(ocv_points(curve));
    const double low = 0.04;
    const double high = 0.93;
    const OcvWindow<double> window{.empty_V = ocv_V(ramps, low), .full_V = ocv_V(ramps, high)};
    const auto cell = scaled(ramps, window);
    for (int i = 0; i <= 100; ++i) {
      const double s = i / 100.0;
      EXPECT_NEAR(ocv_V(cell, s), ocv_V(ramps, low + s * (high - low)), 1e-11) << s;
    }
    EXPECT_NEAR(ocv_mean_V(cell), ocv_mean_V(ramps, low, high), 1e-11);
  }
}

TEST(Ocv, AWindowBeyondTheTableKeepsThePlateau) {
  const auto ramps = ocv_ramps(Chemistry::lfp);
  const auto cell = scaled<double>(ramps, {.empty_V = 2.0, .full_V = 3.65});
  EXPECT_NEAR(ocv_V(cell, 0.0), 2.0, 1e-12);
  EXPECT_NEAR(ocv_V(cell, 1.0), 3.65, 1e-11);
  for (const double s : {0.2, 0.5, 0.8}) EXPECT_NEAR(ocv_V(cell, s), ocv_V(ramps, s), 2e-3);
  // The continuation has the slope of the table's ends: 0.4075 V in 0.0033, 0.1801 V in 0.005.
  const double extra_low = 0.0102 * 0.0033 / 0.4075;
  const double extra_high = 0.0519 * 0.005 / 0.1801;
  const double width = 1 + extra_low + extra_high;
  EXPECT_NEAR(soc_at_ocv(cell, 3.3), (extra_low + soc_at_ocv(ramps, 3.3)) / width, 1e-10);
  // Its own ends change nothing.
  const auto same = scaled<double>(ramps, {.empty_V = 2.0102, .full_V = 3.5981});
  for (const double s : {0.0, 0.001, 0.3, 0.99, 1.0}) {
    EXPECT_NEAR(ocv_V(same, s), ocv_V(ramps, s), 1e-11);
  }
}

TEST(Ocv, LcoTableIsThePublishedFunction) {
  for (const auto& p : ocv_points(OcvCurve::lco)) {
    EXPECT_NEAR(p.voltage_V, lco_ocv_V(p.soc), 5.1e-6) << p.soc;
  }
  for (const double s : {-0.001, 1.001}) EXPECT_TRUE(std::isnan(lco_ocv_V(s)));
  for (const double s : {0.0199, 1.001}) EXPECT_TRUE(std::isnan(lco_series_ohm(s)));
  EXPECT_FALSE(std::isnan(lco_series_ohm(0.02)));
  EXPECT_FALSE(std::isnan(lco_series_ohm(1.0)));
}

TEST(CellLimits, AreOrderedForEveryKnownChemistry) {
  for (const auto chemistry : {Chemistry::lfp, Chemistry::nmc, Chemistry::nca, Chemistry::lco,
                               Chemistry::lto, Chemistry::sodium, Chemistry::lead}) {
    const auto limits = cell_limits(chemistry);
    EXPECT_LT(limits.nominal_V, limits.full_V);
    EXPECT_LT(limits.empty_V, limits.nominal_V);
    EXPECT_LE(limits.absolute_min_V, limits.empty_V);
    EXPECT_GT(limits.charge_rate_per_h, 0);
    EXPECT_NEAR(limits.charge_full_K - limits.charge_stop_K, 10, 1e-9);
  }
  EXPECT_NEAR(cell_limits(Chemistry::sodium).charge_stop_K, 273.15, 1e-12);
  EXPECT_NEAR(cell_limits(Chemistry::lto).charge_stop_K, 243.15, 1e-12);
  EXPECT_TRUE(std::isnan(cell_limits(Chemistry::unknown).full_V));
  EXPECT_TRUE(std::isnan(cell_limits(Chemistry::unknown).charge_stop_K));
}

// Figures from memory: their rows in values/ocv.tsv do not gate, so a slip of the pen shows here.
TEST(CellLimits, FromMemoryStayAsWritten) {
  const auto limits = [](Chemistry chemistry) {
    const auto l = cell_limits(chemistry);
    return std::vector<double>{l.full_V, l.nominal_V, l.empty_V, l.absolute_min_V,
                               l.charge_rate_per_h};
  };
  EXPECT_EQ(limits(Chemistry::lfp), (std::vector{3.65, 3.2, 2.8, 2.5, 0.5}));
  EXPECT_EQ(limits(Chemistry::nmc), (std::vector{4.2, 3.6, 3.0, 2.5, 0.5}));
  EXPECT_EQ(limits(Chemistry::nca), limits(Chemistry::nmc));
  EXPECT_EQ(limits(Chemistry::lco), (std::vector{4.2, 3.7, 3.2, 3.0, 1.0}));
  EXPECT_EQ(limits(Chemistry::lto), (std::vector{2.7, 2.3, 1.8, 1.5, 3.0}));
  EXPECT_EQ(limits(Chemistry::lead), (std::vector{2.4, 2.0, 1.75, 1.67, 0.15}));
}

// ---- Constant power

TEST(CellSource, ConstantPowerRoundTrips) {
  for (const double R : {0.0, 0.004, 0.05}) {
    for (const double P : {-20e3, -1e3, 0.0, 1.0, 5e3, 20e3, 49e3}) {
      const CellSource<double> source{.emf_V = 100, .resistance_ohm = R};
      const double I = current_at_power_A(source, P);
      const double V = terminal_voltage_V(source, I);
      EXPECT_NEAR(V * I, P, 1e-12 * std::max(1.0, std::fabs(P))) << R << " " << P;
      EXPECT_GE(V, 50 - 1e-9);  // the root on the side of small current
      EXPECT_EQ(I < 0, P < 0);
      if (R > 0) {
        EXPECT_NEAR(current_at_voltage_A(source, V), I, 1e-9 * (1 + std::fabs(I)));
      }
      EXPECT_NEAR(source_efficiency(source, P), V / 100, 1e-13);
    }
  }
}

TEST(CellSource, LargestPowerIsLargestAndRespectsTheFloor) {
  const CellSource<double> source{.emf_V = 96, .resistance_ohm = 0.06};
  EXPECT_NEAR(power_max_W(source, 0.0), 96 * 96 / (4 * 0.06), 1e-9);
  EXPECT_NEAR(power_max_W(source, 40.0), power_max_W(source, 0.0), 1e-9);
  for (const double floor : {50.0, 60.0, 80.0, 95.0}) {
    const double P = power_max_W(source, floor);
    const double V = terminal_voltage_V(source, current_at_power_A(source, P));
    EXPECT_NEAR(V, floor, 1e-9);
    EXPECT_LT(terminal_voltage_V(source, current_at_power_A(source, P * 1.001)), floor);
  }
  EXPECT_EQ(power_max_W(source, 96.0), 0);
  EXPECT_EQ(power_max_W(source, 120.0), 0);
}

// ---- Resistance and capacity

TEST(CellResistance, FactorsStandAtTheEndsAndHalfWay) {
  const CellResistance<double> cell{
      .middle_25C_ohm = 0.02, .empty_factor = 2.4, .full_factor = 1.5};
  EXPECT_NEAR(resistance_ohm(cell, 1.0, 0.0), 0.048, 1e-15);
  EXPECT_NEAR(resistance_ohm(cell, 1.0, 0.1), 0.034, 1e-15);
  EXPECT_NEAR(resistance_ohm(cell, 1.0, 0.2), 0.02, 1e-15);
  EXPECT_NEAR(resistance_ohm(cell, 1.0, 0.55), 0.02, 1e-15);
  EXPECT_NEAR(resistance_ohm(cell, 1.0, 0.9), 0.02, 1e-15);
  EXPECT_NEAR(resistance_ohm(cell, 1.0, 0.95), 0.025, 1e-15);
  EXPECT_NEAR(resistance_ohm(cell, 1.0, 1.0), 0.03, 1e-15);
  EXPECT_NEAR(resistance_ohm(cell, 3.0, 0.5), 0.06, 1e-15);
}

TEST(CellResistance, FallsWithWarmthWithinItsRange) {
  for (double T = 235; T < 353; T += 5) {
    EXPECT_GT(resistance_temperature_factor(25e3, T), resistance_temperature_factor(25e3, T + 0.1));
  }
  EXPECT_TRUE(std::isnan(resistance_temperature_factor(25e3, 232.9)));
  EXPECT_FALSE(std::isnan(resistance_temperature_factor(25e3, 233.0)));
  EXPECT_FALSE(std::isnan(resistance_temperature_factor(25e3, 353.15)));
  EXPECT_TRUE(std::isnan(resistance_temperature_factor(25e3, 353.2)));
}

TEST(Capacity, ShrinksInTheColdOnly) {
  EXPECT_EQ(capacity_factor(0.003, 298.15), 1);
  EXPECT_EQ(capacity_factor(0.003, 320.0), 1);
  EXPECT_NEAR(capacity_factor(0.003, 273.15), 0.925, 1e-12);
  EXPECT_NEAR(capacity_factor(0.004, 263.15), 0.86, 1e-12);
  EXPECT_EQ(capacity_factor(0.01, 100.0), 0);
}

// ---- Resistor-capacitor pairs

struct RcCase {
  RcPair<double> pair;
  double voltage_V, current_A, step_s;
};
constexpr RcCase rc_cases[] = {
    {{0.01, 2500}, 0, 23, 1},  {{0.02, 5.5}, 0.3, 23, 1},     {{0.02, 5.5}, 0.3, -40, 0.05},
    {{0.05, 800}, 0.2, 0, 10}, {{0.004, 9000}, -0.1, 80, 60}, {{0.03, 300}, 0.5, 12, 200},
};

TEST(RcPair, TwoHalfStepsEqualOne) {
  for (const auto& c : rc_cases) {
    const auto whole = rc_step(c.pair, c.step_s);
    const auto half = rc_step(c.pair, c.step_s / 2);
    const double middle_V = rc_voltage_next_V(half, c.voltage_V, c.current_A);
    const double end_V = rc_voltage_next_V(half, middle_V, c.current_A);
    EXPECT_NEAR(rc_voltage_next_V(whole, c.voltage_V, c.current_A), end_V, 1e-14);
    EXPECT_NEAR(rc_heat_J(whole, c.voltage_V, c.current_A),
                rc_heat_J(half, c.voltage_V, c.current_A) + rc_heat_J(half, middle_V, c.current_A),
                1e-11);
    EXPECT_NEAR(rc_work_J(whole, c.voltage_V, c.current_A),
                rc_work_J(half, c.voltage_V, c.current_A) + rc_work_J(half, middle_V, c.current_A),
                1e-11);
  }
}

TEST(RcPair, LedgerCloses) {
  for (const auto& c : rc_cases) {
    const auto rc = rc_step(c.pair, c.step_s);
    const double end_V = rc_voltage_next_V(rc, c.voltage_V, c.current_A);
    const double work = rc_work_J(rc, c.voltage_V, c.current_A);
    const double heat = rc_heat_J(rc, c.voltage_V, c.current_A);
    const double stored = rc_stored_J(rc, end_V) - rc_stored_J(rc, c.voltage_V);
    const double scale = std::fabs(work) + heat + rc_stored_J(rc, end_V);
    EXPECT_NEAR(work, heat + stored, 1e-12 * scale);
    EXPECT_GE(heat, 0);
    EXPECT_NEAR(rc_stored_J(rc, end_V), 0.5 * c.pair.capacitance_F * end_V * end_V, 1e-12 * scale);
  }
}

TEST(RcPair, HeatAndWorkAgreeWithQuadrature) {
  for (const auto& c : rc_cases) {
    const auto voltage_at = [&](double t) {
      return rc_voltage_next_V(rc_step(c.pair, t), c.voltage_V, c.current_A);
    };
    double heat = 0;
    double work = 0;
    constexpr int panels = 4000;
    const double h = c.step_s / panels;
    for (int i = 0; i < panels; ++i) {
      const double a = voltage_at(i * h);
      const double m = voltage_at((i + 0.5) * h);
      const double b = voltage_at((i + 1) * h);
      heat += h / 6 * (a * a + 4 * m * m + b * b) / c.pair.resistance_ohm;
      work += h / 6 * (a + 4 * m + b) * c.current_A;
    }
    const auto rc = rc_step(c.pair, c.step_s);
    EXPECT_NEAR(rc_heat_J(rc, c.voltage_V, c.current_A), heat, 1e-8 * heat);
    EXPECT_NEAR(rc_work_J(rc, c.voltage_V, c.current_A), work, 1e-8 * std::fabs(work) + 1e-12);
  }
}

TEST(RcPair, SettlesAtOhmsLawAndStartsWithTheCapacitor) {
  const RcPair<double> pair{.resistance_ohm = 0.02, .capacitance_F = 500};
  EXPECT_NEAR(rc_voltage_next_V(rc_step(pair, 1000.0), 0.7, 30.0), 0.6, 1e-12);
  const double short_s = 1e-6;
  EXPECT_NEAR(rc_voltage_next_V(rc_step(pair, short_s), 0.0, 30.0), 30 * short_s / 500, 1e-12);
  EXPECT_EQ(rc_voltage_next_V(rc_step(pair, 0.0), 0.7, 30.0), 0.7);
}

// ---- Constant-power discharge against an independent integrator

struct DischargeEnd {
  double time_s = 0, soc = 0, pair_V = 0, heat_J = 0;
};

struct DischargeSetup {
  OcvRamps<double> curve;
  double series = 20, charge_C = 60 * 3600.0, resistance_ohm = 0.03, power_W = 6000;
  RcPair<double> pair{.resistance_ohm = 0.012, .capacitance_F = 3000};
  double until_s = 0;

  CellSource<double> source(double soc, double pair_V) const {
    return {.emf_V = series * ocv_V(curve, soc) - pair_V, .resistance_ohm = resistance_ohm};
  }
};

/// The kernels as the ride uses them: current solved at the start and once more at the middle.
DischargeEnd stepped(const DischargeSetup& d, double step_s) {
  DischargeEnd at{.soc = 0.98};
  const auto rc = rc_step(d.pair, step_s);
  const auto half = rc_step(d.pair, step_s / 2);
  for (int i = 0; i < static_cast<int>(d.until_s / step_s + 0.5); ++i) {
    const double first_A = current_at_power_A(d.source(at.soc, at.pair_V), d.power_W);
    const double middle_soc = at.soc - first_A * step_s / 2 / d.charge_C;
    const double middle_V = rc_voltage_next_V(half, at.pair_V, first_A);
    const double I = current_at_power_A(d.source(middle_soc, middle_V), d.power_W);
    at.heat_J += I * I * d.resistance_ohm * step_s + rc_heat_J(rc, at.pair_V, I);
    at.pair_V = rc_voltage_next_V(rc, at.pair_V, I);
    at.soc -= I * step_s / d.charge_C;
  }
  return at;
}

DischargeEnd integrated(const DischargeSetup& d) {
  namespace odeint = boost::numeric::odeint;
  using State = std::array<double, 3>;  // soc, pair voltage, heat
  State x{0.98, 0, 0};
  const auto system = [&](const State& y, State& dy, double) {
    // Written out rather than through the kernels: this is the other route.
    const double E = d.series * interpolated_V(ocv_points(OcvCurve::nmc_nca), y[0]) - y[1];
    const double I =
        (E - std::sqrt(E * E - 4 * d.resistance_ohm * d.power_W)) / (2 * d.resistance_ohm);
    const double tau = d.pair.resistance_ohm * d.pair.capacitance_F;
    dy[0] = -I / d.charge_C;
    dy[1] = I / d.pair.capacitance_F - y[1] / tau;
    dy[2] = I * I * d.resistance_ohm + y[1] * y[1] / d.pair.resistance_ohm;
  };
  using Stepper = odeint::runge_kutta_dopri5<State>;
  odeint::integrate_adaptive(odeint::make_controlled<Stepper>(1e-10, 1e-10), system, x, 0.0,
                             d.until_s, 0.1);
  return {.time_s = d.until_s, .soc = x[0], .pair_V = x[1], .heat_J = x[2]};
}

TEST(Discharge, ConstantPowerAgreesWithAnIndependentIntegrator) {
  for (const double until_s : {60.0, 900.0, 2100.0}) {
    const DischargeSetup d{.curve = ocv_ramps(Chemistry::nmc), .until_s = until_s};
    const auto ours = stepped(d, 1.0);
    const auto theirs = integrated(d);
    EXPECT_NEAR(0.98 - ours.soc, 0.98 - theirs.soc, 1e-3 * (0.98 - theirs.soc)) << until_s;
    EXPECT_NEAR(ours.pair_V, theirs.pair_V, 1e-3 * theirs.pair_V) << until_s;
    EXPECT_NEAR(ours.heat_J, theirs.heat_J, 1e-3 * theirs.heat_J) << until_s;
    // Halving the step brings it closer, so the difference is the method's, not a wrong factor.
    EXPECT_LT(std::fabs(stepped(d, 0.25).soc - theirs.soc), 2e-6) << until_s;
  }
}

// ---- Pack

TEST(Pack, IsTheSumOfItsCells) {
  const PackLayout<double> layout{.series = 20, .parallel = 6, .interconnect_ohm = 0.004};
  EXPECT_NEAR(pack_voltage_V(layout, 3.7), 74, 1e-12);
  EXPECT_NEAR(pack_charge_C(layout, 15000.0), 90000, 1e-9);
  EXPECT_NEAR(pack_resistance_ohm(layout, 0.015), 20 * 0.015 / 6 + 0.004, 1e-15);
  // Heat of the pack = heat of 120 cells at a sixth of the current, plus the links'.
  const double I = 90;
  const double cells_W = 120 * (I / 6) * (I / 6) * 0.015;
  EXPECT_NEAR(I * I * pack_resistance_ohm(layout, 0.015), cells_W + I * I * 0.004, 1e-10);
  const RcPair<double> cell{.resistance_ohm = 0.01, .capacitance_F = 2000};
  const auto pair = pack_pair(layout, cell);
  EXPECT_NEAR(pair.resistance_ohm * pair.capacitance_F, 20, 1e-12);
  EXPECT_NEAR(pair.resistance_ohm, 20 * 0.01 / 6, 1e-15);
  // Twenty cells in series each with a sixth of the current.
  EXPECT_NEAR(rc_voltage_next_V(rc_step(pair, 7.0), 0.0, I),
              20 * rc_voltage_next_V(rc_step(cell, 7.0), 0.0, I / 6), 1e-12);
}

TEST(Pack, ParallelStringsShareByResistance) {
  const ParallelPair<double> same{.first = {100, 0.03}, .second = {100, 0.05}};
  const auto shared = shared_current(same, 80.0);
  EXPECT_NEAR(shared.first_A + shared.second_A, 80, 1e-12);
  EXPECT_NEAR(shared.first_A / shared.second_A, 0.05 / 0.03, 1e-12);
  const ParallelPair<double> unlike{.first = {101, 0.03}, .second = {100, 0.05}};
  const auto idle = shared_current(unlike, 0.0);
  EXPECT_NEAR(idle.first_A, 1 / 0.08, 1e-12);
  EXPECT_NEAR(idle.second_A, -1 / 0.08, 1e-12);
  for (const double total : {-50.0, 0.0, 120.0}) {
    const auto at = shared_current(unlike, total);
    EXPECT_NEAR(at.first_A + at.second_A, total, 1e-11);
    EXPECT_NEAR(terminal_voltage_V(unlike.first, at.first_A),
                terminal_voltage_V(unlike.second, at.second_A), 1e-11);
  }
}

// ---- Charging back and standing

TEST(Charge, ThinsOutInTheColdAndNearFull) {
  const ChargeLimit<double> limit{.current_A = 40,
                                  .cold_stop_K = 273.15,
                                  .cold_full_K = 283.15,
                                  .taper_soc = 0.85,
                                  .stop_soc = 0.95};
  EXPECT_NEAR(charge_accepted_A(limit, 298.15, 0.5), 40, 1e-12);
  EXPECT_EQ(charge_accepted_A(limit, 273.15, 0.5), 0);
  EXPECT_EQ(charge_accepted_A(limit, 253.15, 0.5), 0);
  EXPECT_NEAR(charge_accepted_A(limit, 278.15, 0.5), 20, 1e-9);
  EXPECT_NEAR(charge_accepted_A(limit, 283.15, 0.85), 40, 1e-9);
  EXPECT_NEAR(charge_accepted_A(limit, 298.15, 0.90), 20, 1e-9);
  EXPECT_NEAR(charge_accepted_A(limit, 278.15, 0.925), 5, 1e-9);
  EXPECT_EQ(charge_accepted_A(limit, 298.15, 0.95), 0);
  EXPECT_EQ(charge_accepted_A(limit, 298.15, 1.0), 0);
}

TEST(Standing, DoublesWithWarmthAndAddsTheDrain) {
  const double month_s = 30 * 86400.0;
  Standing<double> pack{
      .loss_per_month_25C = 0.02, .doubling_K = 12, .drain_A = 0, .charge_C = 50 * 3600.0};
  EXPECT_NEAR(standing_loss(pack, 298.15, month_s), 0.02, 1e-12);
  EXPECT_NEAR(standing_loss(pack, 310.15, month_s), 0.04, 1e-9);
  EXPECT_NEAR(standing_loss(pack, 286.15, 3 * month_s), 0.03, 1e-9);
  pack.drain_A = 0.01;  // 10 mA for 720 h: 7.2 Ah of 50
  EXPECT_NEAR(standing_loss(pack, 298.15, month_s), 0.02 + 7.2 / 50, 1e-12);
}

// ---- Whole-cell model

TEST(Tremblay, ChargeAndDischargeMeetAtRestAndDifferInPolarisation) {
  const auto cell = tremblay_lfp_cell<double>();
  for (const double x : {0.0, 0.2, 0.5, 0.9}) {
    const auto rest_d = tremblay_discharge_V<double>(cell, {x, 0, 0});
    const auto rest_c = tremblay_charge_V<double>(cell, {x, 0, 0});
    EXPECT_NEAR(rest_d, rest_c, 1e-14);
    EXPECT_NEAR(tremblay_discharge_V<double>(cell, {x, 0, 1}) - rest_d, -0.0076 / (1 - x), 1e-13);
    EXPECT_NEAR(tremblay_charge_V<double>(cell, {x, 0, -1}) - rest_c, 0.0076 / (0.1 + x), 1e-13);
    EXPECT_NEAR(tremblay_discharge_V<double>(cell, {x, 1, 0}) - rest_d, -0.01, 1e-13);
    EXPECT_NEAR(tremblay_charge_V<double>(cell, {x, 1, 0}) - rest_c, -0.01, 1e-13);
  }
  // By hand at half charge and 1 C: 3.366 - 0.01748 + 0.023 + 0.0076/0.6 * 2.3.
  EXPECT_NEAR(tremblay_charge_V<double>(cell, {0.5, -2.3, -2.3}), 3.4006533, 1e-7);
  for (const double x : {-0.01, 1.0, 1.1}) {
    EXPECT_TRUE(std::isnan(tremblay_discharge_V<double>(cell, {x, 1, 1})));
    EXPECT_TRUE(std::isnan(tremblay_charge_V<double>(cell, {x, 1, 1})));
  }
}

// ---- Derivatives

TEST(CellDerivatives, AgreeWithDifferences) {
  const auto lfp = ocv_ramps(Chemistry::lfp);
  expect_derivatives<1>("ocv_V", {0.6}, [&]<class R>(const std::array<R, 1>& x) {
    return ocv_V(lifted<R>(lfp), x[0]);
  });
  expect_derivatives<2>("ocv_integral_V", {0.21, 0.77}, [&]<class R>(const std::array<R, 2>& x) {
    return ocv_integral_V(lifted<R>(lfp), x[0], x[1]);
  });
  expect_derivatives<1>("soc_at_ocv", {3.25}, [&]<class R>(const std::array<R, 1>& x) {
    return soc_at_ocv(lifted<R>(lfp), x[0]);
  });
  expect_derivatives<3>("scaled", {2.3, 3.6, 0.4}, [&]<class R>(const std::array<R, 3>& x) {
    return ocv_V(scaled<R>(lifted<R>(lfp), {.empty_V = x[0], .full_V = x[1]}), x[2]);
  });
  expect_derivatives<3>("current_at_power_A", {96, 0.05, 9e3},
                        []<class R>(const std::array<R, 3>& x) {
                          return current_at_power_A<R>({x[0], x[1]}, x[2]);
                        });
  expect_derivatives<3>("power_max_W", {96, 0.05, 70}, []<class R>(const std::array<R, 3>& x) {
    return power_max_W<R>({x[0], x[1]}, x[2]);
  });
  expect_derivatives<5>("resistance_ohm", {0.02, 2, 1.5, 1.1, 0.05},
                        []<class R>(const std::array<R, 5>& x) {
                          return resistance_ohm<R>({x[0], x[1], x[2]}, x[3], x[4]);
                        });
  expect_derivatives<2>(
      "resistance_temperature_factor", {25e3, 280},
      []<class R>(const std::array<R, 2>& x) { return resistance_temperature_factor(x[0], x[1]); });
  expect_derivatives<5>("rc_heat_J", {0.02, 300, 3, 0.2, 40},
                        []<class R>(const std::array<R, 5>& x) {
                          return rc_heat_J(rc_step<R>({x[0], x[1]}, x[2]), x[3], x[4]);
                        });
  expect_derivatives<5>("rc_work_J", {0.02, 300, 3, 0.2, 40},
                        []<class R>(const std::array<R, 5>& x) {
                          return rc_work_J(rc_step<R>({x[0], x[1]}, x[2]), x[3], x[4]);
                        });
  expect_derivatives<5>("rc_voltage_next_V", {0.02, 300, 3, 0.2, 40},
                        []<class R>(const std::array<R, 5>& x) {
                          return rc_voltage_next_V(rc_step<R>({x[0], x[1]}, x[2]), x[3], x[4]);
                        });
  expect_derivatives<4>("cell_heat_W", {20, 0.3, 300, 1e-4},
                        []<class R>(const std::array<R, 4>& x) {
                          return cell_heat_W<R>({x[0], x[1], x[2], x[3]});
                        });
  expect_derivatives<1>("entropy_nmc_V_per_K", {0.3}, []<class R>(const std::array<R, 1>& x) {
    return entropy_nmc_V_per_K(x[0]);
  });
  expect_derivatives<2>("tremblay_discharge_V", {0.05, 2}, []<class R>(const std::array<R, 2>& x) {
    return tremblay_discharge_V<R>(tremblay_lfp_cell<R>(), {x[0], x[1], x[1]});
  });
  expect_derivatives<1>("lco_ocv_V", {0.07},
                        []<class R>(const std::array<R, 1>& x) { return lco_ocv_V(x[0]); });
}

// ---- One source, many widths

#ifdef WW_TEST_BATCH
// The hot kernels give the same bits in a batch as in a double.
template <class Kernel>
void expect_same_bits(const char* name, const Kernel& kernel) {
  using Batch = xsimd::batch<double>;
  constexpr std::size_t width = Batch::size;
  for (int start = 0; start < 400; start += static_cast<int>(width)) {
    std::array<double, width> x{};
    for (std::size_t lane = 0; lane < width; ++lane) {
      x[lane] = -0.05 + 1.1 * (start + static_cast<int>(lane)) / 400.0;
    }
    std::array<double, width> got{};
    kernel(Batch::load_unaligned(x.data())).store_unaligned(got.data());
    for (std::size_t lane = 0; lane < width; ++lane) {
      const double expected = kernel(x[lane]);
      EXPECT_EQ(std::memcmp(&got[lane], &expected, sizeof expected), 0)
          << name << " at " << x[lane] << ": " << got[lane] << " against " << expected;
    }
  }
}

TEST(CellBatch, HotKernelsGiveTheSameBits) {
  for (const auto curve : every_curve) {
    const auto ramps = ocv_ramps(ocv_points(curve));
    expect_same_bits("ocv_V", [&]<class R>(R s) { return ocv_V(lifted<R>(ramps), s); });
    expect_same_bits("ocv_slope_V", [&]<class R>(R s) { return ocv_slope_V(lifted<R>(ramps), s); });
    expect_same_bits("ocv_integral_V", [&]<class R>(R s) {
      return ocv_integral_V(lifted<R>(ramps), num<R>(0.3), s);
    });
    expect_same_bits("soc_at_ocv", [&]<class R>(R s) {
      return soc_at_ocv(lifted<R>(ramps), num<R>(2.0) + num<R>(2.2) * s);
    });
  }
  expect_same_bits("resistance_ohm", []<class R>(R s) {
    return resistance_ohm<R>({num<R>(0.017), num<R>(1.7), num<R>(1.4)}, num<R>(1.3), s);
  });
  expect_same_bits("current_at_power_A", []<class R>(R s) {
    return current_at_power_A<R>({num<R>(84.3), num<R>(0.047)}, s * num<R>(3e4) - num<R>(1e4));
  });
  expect_same_bits("power_max_W", []<class R>(R s) {
    return power_max_W<R>({num<R>(84.3), num<R>(0.047)}, s * num<R>(100));
  });
  const auto rc = rc_step<double>({.resistance_ohm = 0.013, .capacitance_F = 2100}, 1.0);
  const auto rc_of = [&]<class R>(R) {
    return RcStep<R>{.resistance_ohm = num<R>(rc.resistance_ohm),
                     .time_constant_s = num<R>(rc.time_constant_s),
                     .step_s = num<R>(rc.step_s),
                     .decay = num<R>(rc.decay)};
  };
  expect_same_bits("rc_voltage_next_V",
                   [&]<class R>(R s) { return rc_voltage_next_V(rc_of(s), s, num<R>(77.7) * s); });
  expect_same_bits("rc_heat_J", [&]<class R>(R s) {
    return rc_heat_J(rc_of(s), s, num<R>(77.7) * (num<R>(1) - s));
  });
  expect_same_bits("rc_work_J", [&]<class R>(R s) {
    return rc_work_J(rc_of(s), s, num<R>(77.7) * (num<R>(1) - s));
  });
  expect_same_bits("charge_accepted_A", []<class R>(R s) {
    return charge_accepted_A<R>(
        {num<R>(40), num<R>(273.15), num<R>(283.15), num<R>(0.85), num<R>(0.95)},
        num<R>(265) + num<R>(30) * s, s);
  });
}
#endif

}  // namespace
}  // namespace ww::model
