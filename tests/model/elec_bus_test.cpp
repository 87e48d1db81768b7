// SPDX-License-Identifier: MIT
// Identities of pre-charge, isolation, bus ripple, contactor, 12 V supply and charging; pre-charge
// also against a circuit simulator where one is installed.
#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <string>
#include <vector>

#include "model/charging.h"
#include "model/contactor.h"
#include "model/converter.h"
#include "model/dclink.h"
#include "model/isolation.h"
#include "model/precharge.h"

namespace ww::model {
namespace {

void expect_close(double a, double b, double share) {
  EXPECT_NEAR(a, b, share * std::fabs(b));
}

/// Simpson's rule over an even number of steps.
template <class F>
double integral(double from, double to, const F& f) {
  const int steps = 2000;
  const double h = (to - from) / steps;
  double sum = f(from) + f(to);
  for (int i = 1; i < steps; ++i) sum += (i % 2 == 1 ? 4 : 2) * f(from + i * h);
  return sum * h / 3;
}

// --- Pre-charge --------------------------------------------------------------------------------

std::vector<Precharge<double>> circuits() {
  return {{84, 100, 4.7e-3, 0},    {84, 100, 4.7e-3, 0.2}, {116, 33, 10e-3, 1.5},
          {58, 1000, 2e-3, 0.010}, {400, 470, 0.5e-3, 0},  {84, 100, 4.7e-3, 0.84}};
}

TEST(ElecPrecharge, EnergyIsTheIntegralOfPower) {
  for (const auto& p : circuits()) {
    for (const double taus : {0.3, 2.0, 6.0}) {
      const double end_s = taus * precharge_constant_s(p);
      const double sum = integral(0, end_s, [&](double t) { return precharge_power_W(p, t); });
      expect_close(precharge_energy_J(p, end_s), sum, 1e-9);
    }
  }
}

TEST(ElecPrecharge, SourceFeedsResistorCapacitorAndLoad) {
  for (const auto& p : circuits()) {
    const double end_s = 2 * precharge_constant_s(p);
    const double given =
        integral(0, end_s, [&](double t) { return p.voltage_V * precharge_current_A(p, t); });
    const double load =
        integral(0, end_s, [&](double t) { return p.current_load_A * precharge_voltage_V(p, t); });
    const double stored = capacitor_energy_J(p.capacitance_F, precharge_voltage_V(p, end_s));
    expect_close(given, precharge_energy_J(p, end_s) + load + stored, 1e-9);
  }
}

TEST(ElecPrecharge, VoltageFollowsItsEquation) {
  for (const auto& p : circuits()) {
    const double tau = precharge_constant_s(p);
    for (const double taus : {0.1, 1.0, 4.0}) {
      const double h = 1e-5 * tau;
      const double slope =
          (precharge_voltage_V(p, taus * tau + h) - precharge_voltage_V(p, taus * tau - h)) /
          (2 * h);
      const double net_A = precharge_current_A(p, taus * tau) - p.current_load_A;
      EXPECT_NEAR(p.capacitance_F * slope, net_A, 1e-6 * p.voltage_V / p.resistance_ohm);
    }
    EXPECT_EQ(precharge_voltage_V(p, 0.0), 0);
    expect_close(precharge_current_A(p, 0.0), p.voltage_V / p.resistance_ohm, 1e-14);
    expect_close(precharge_power_W(p, 0.0), p.voltage_V * p.voltage_V / p.resistance_ohm, 1e-14);
  }
}

TEST(ElecPrecharge, TimeAndVoltageAreInverse) {
  for (const auto& p : circuits()) {
    for (const double q : {0.0, 0.3, 0.9, 0.95, 0.99}) {
      const double time = precharge_time_s(p, q);
      if (q * p.voltage_V < precharge_final_V(p)) {
        EXPECT_NEAR(precharge_voltage_V(p, time), q * p.voltage_V, 1e-10);
      } else {
        EXPECT_TRUE(std::isnan(time));
      }
    }
    EXPECT_TRUE(std::isnan(precharge_time_s(p, 1.0)));
    EXPECT_TRUE(std::isnan(precharge_time_s(p, -0.1)));
    EXPECT_TRUE(std::isnan(precharge_voltage_V(p, -0.1)));
    EXPECT_TRUE(std::isnan(precharge_energy_J(p, -0.1)));
  }
  EXPECT_TRUE(std::isnan(precharge_time_s<double>({84, 100, 4.7e-3, 0.84}, 0.0)));
  expect_close(precharge_time_s<double>({84, 50, 4.7e-3, 0}, 0.95),
               0.5 * precharge_time_s<double>({84, 100, 4.7e-3, 0}, 0.95), 1e-13);
}

TEST(ElecPrecharge, ResistorAndTimeAreInverse) {
  for (const double q : {0.5, 0.95, 0.99}) {
    const double r = precharge_resistance_ohm(1.5, 4.7e-3, q);
    expect_close(precharge_time_s<double>({84, r, 4.7e-3, 0}, q), 1.5, 1e-13);
  }
  EXPECT_TRUE(std::isnan(precharge_resistance_ohm(1.5, 4.7e-3, 1.0)));
  EXPECT_TRUE(std::isnan(precharge_resistance_ohm(1.5, 4.7e-3, 0.0)));
}

TEST(ElecPrecharge, DischargeAndCapacitorInverses) {
  const BusDischarge<double> bus{10e3, 4.7e-3, 96};
  for (const double v : {60.0, 10.0, 1.0}) {
    const double t = bus_discharge_s(bus, v);
    EXPECT_NEAR(96 * std::exp(-t / 47), v, 1e-10);
  }
  EXPECT_EQ(bus_discharge_s(bus, 96.0), 0);
  EXPECT_EQ(bus_discharge_s(bus, 97.0), 0);
  EXPECT_TRUE(std::isnan(bus_discharge_s(bus, 0.0)));
  expect_close(capacitor_voltage_V(2e-3, capacitor_energy_J(2e-3, 37.0)), 37, 1e-14);
  EXPECT_EQ(capacitor_voltage_V(2e-3, 0.0), 0);
  EXPECT_TRUE(std::isnan(capacitor_voltage_V(2e-3, -1.0)));
  EXPECT_TRUE(std::isnan(capacitor_voltage_V(0.0, 1.0)));
}

/// Voltage of the bus at two times and heat in the resistor up to the second, by the simulator.
struct Simulated {
  double first_V = NAN, second_V = NAN, heat_J = NAN;
};

Simulated simulate(const Precharge<double>& p, double first_s, double second_s) {
  const std::string folder = ::testing::TempDir();
  const std::string deck = folder + "ww_precharge_" + std::to_string(getpid()) + ".cir";
  std::ofstream out(deck);
  out.precision(12);
  out << "pre-charge\nV1 p 0 " << p.voltage_V << "\nR1 p b " << p.resistance_ohm << "\nC1 b 0 "
      << p.capacitance_F << " ic=0\nI1 b 0 " << p.current_load_A << "\n.tran " << second_s / 20000
      << " " << second_s * 1.001 << " 0 " << second_s / 20000
      << " uic\n.control\nset numdgt=9\nrun\nmeas tran first find v(b) at=" << first_s
      << "\nmeas tran second find v(b) at=" << second_s << "\nlet heat=(v(p)-v(b))^2/"
      << p.resistance_ohm << "\nmeas tran third integ heat from=0 to=" << second_s
      << "\n.endc\n.end\n";
  out.close();
  Simulated result;
  FILE* pipe = popen(("ngspice -b " + deck + " 2>/dev/null").c_str(), "r");
  if (pipe == nullptr) return result;
  std::array<char, 512> line{};
  while (std::fgets(line.data(), static_cast<int>(line.size()), pipe) != nullptr) {
    std::sscanf(line.data(), " first = %lf", &result.first_V);
    std::sscanf(line.data(), " second = %lf", &result.second_V);
    std::sscanf(line.data(), " third = %lf", &result.heat_J);
  }
  pclose(pipe);
  std::remove(deck.c_str());
  return result;
}

TEST(ElecPrecharge, AgreesWithTheCircuitSimulator) {
  if (std::system("ngspice --version > /dev/null 2>&1") != 0) {
    GTEST_SKIP() << "ngspice is not installed";
  }
  for (const auto& p :
       {Precharge<double>{84, 100, 4.7e-3, 0}, Precharge<double>{84, 100, 4.7e-3, 0.2},
        Precharge<double>{116, 33, 10e-3, 1.5}}) {
    const double tau = precharge_constant_s(p);
    const Simulated s = simulate(p, 0.5 * tau, 4 * tau);
    expect_close(precharge_voltage_V(p, 0.5 * tau), s.first_V, 1e-4);
    expect_close(precharge_voltage_V(p, 4 * tau), s.second_V, 1e-4);
    expect_close(precharge_energy_J(p, 4 * tau), s.heat_J, 1e-4);
  }
}

// --- Isolation ---------------------------------------------------------------------------------

TEST(ElecIsolation, ReadingsGiveBackTheSmallerLeak) {
  for (const double rp : {1e3, 50e3, 2e6}) {
    for (const double rn : {1e3, 42e3, 5e6}) {
      for (const double r0 : {10e3, 48e3}) {
        const auto m = isolation_readings<double>({96, rp, rn}, r0);
        expect_close(isolation_resistance_ohm(m), std::min(rp, rn), 1e-9);
        EXPECT_NEAR(m.voltage_negative_V + m.voltage_positive_V, 96, 1e-10);
        EXPECT_EQ(m.voltage_positive_V >= m.voltage_negative_V, rp >= rn);
        EXPECT_LT(m.voltage_inserted_V, std::max(m.voltage_negative_V, m.voltage_positive_V));
        // Kirchhoff at the frame, with the resistor in.
        const double large = std::max(rp, rn);
        const double into = (96 - m.voltage_inserted_V) / std::min(rp, rn);
        expect_close(into, m.voltage_inserted_V / large + m.voltage_inserted_V / r0, 1e-9);
        expect_close(isolation_leak_A<double>({96, rp, rn}) * (rp + rn), 96, 1e-14);
      }
    }
  }
}

TEST(ElecIsolation, TouchIsTheWorseOfBothPoles) {
  for (const double rp : {1.0, 10e3, 1e6}) {
    for (const double rn : {1.0, 42e3, 5e6}) {
      for (const double body : {500.0, 2000.0}) {
        // The frame's voltage from the pole that is touched, by nodal analysis for each pole.
        const auto touch = [&](double own, double other) {
          const double g = 1 / body + 1 / own;
          return 84 * (1 / other) / (g + 1 / other) / body;
        };
        const double worse = std::max(touch(rp, rn), touch(rn, rp));
        expect_close(isolation_touch_A<double>({84, rp, rn}, body), worse, 1e-12);
      }
    }
  }
  EXPECT_TRUE(std::isnan(isolation_touch_A<double>({84, 0, 1e3}, 500.0)));
  EXPECT_TRUE(std::isnan(isolation_touch_A<double>({84, 1e3, 1e3}, 0.0)));
  EXPECT_TRUE(std::isnan(isolation_leak_A<double>({84, 0, 0})));
  EXPECT_TRUE(std::isnan(isolation_readings<double>({84, 0, 1e3}, 500.0).voltage_inserted_V));
  EXPECT_TRUE(std::isnan(isolation_readings<double>({84, 1e3, 0}, 500.0).voltage_negative_V));
}

// --- Bus ripple --------------------------------------------------------------------------------

/// Ripple from the bridge's own switching, sine against carrier: in every carrier period the bus
/// current takes the sum of the phase currents whose upper switch is closed.
double switched_ripple(double modulation, double phase_rad) {
  const int steps = 3600;
  double square_sum = 0;
  double mean = 0;
  for (int i = 0; i < steps; ++i) {
    const double angle = 2 * pi * (i + 0.5) / steps;
    std::array<std::array<double, 2>, 3> leg{};  // on-time share, current
    for (int k = 0; k < 3; ++k) {
      const double own = angle - 2 * pi * k / 3;
      leg[k] = {0.5 + 0.5 * modulation * std::cos(own), std::sqrt(2.0) * std::cos(own - phase_rad)};
    }
    std::sort(leg.begin(), leg.end());
    // All three on for the shortest share (their sum is zero), then two, then one.
    const double two = leg[1][0] - leg[0][0];
    const double one = leg[2][0] - leg[1][0];
    const double current_two = leg[1][1] + leg[2][1];
    const double current_one = leg[2][1];
    square_sum += two * current_two * current_two + one * current_one * current_one;
    mean += two * current_two + one * current_one;
  }
  mean /= steps;
  return std::sqrt(square_sum / steps - mean * mean);
}

TEST(ElecDcLink, RippleIsThatOfTheSwitchingBridge) {
  for (const double modulation : {0.1, 0.4, 0.7, 1.0}) {
    for (const double phase : {0.0, 0.5, 1.2, 2.6}) {
      expect_close(ripple_current_rms_A<double>({1, modulation, std::cos(phase)}),
                   switched_ripple(modulation, phase), 2e-4);
    }
  }
  EXPECT_EQ(ripple_current_rms_A<double>({100, 0, 1}), 0);
  EXPECT_FALSE(std::isnan(ripple_current_rms_A<double>({100, 2 / std::sqrt(3.0) - 1e-12, -1})));
}

TEST(ElecDcLink, OvershootStoresTheCablesEnergy) {
  const double v = cable_overshoot_V(300.0, 2e-6, 5e-3);
  expect_close(5e-3 * v * v, 2e-6 * 300 * 300, 1e-13);
  EXPECT_TRUE(std::isnan(cable_overshoot_V(300.0, 2e-6, 0.0)));
}

// --- Contactor, 12 V side ----------------------------------------------------------------------

TEST(ElecContactor, BusNeededAndMakeCurrentAreInverse) {
  for (const double limit : {50.0, 170.0, 400.0}) {
    const double bus = contactor_bus_needed_V(84.0, 0.025, limit);
    expect_close(contactor_make_A<double>({84, bus, 0.025}), limit, 1e-12);
  }
  EXPECT_EQ(contactor_bus_needed_V(84.0, 0.025, 1e6), 0);
  EXPECT_LT(contactor_make_A<double>({84, 90, 0.025}), 0);
}

TEST(ElecConverter, TheSmallestLimitRules) {
  const Outlet<double> outlet{230, 16, 0.8};
  const Charger<double> charger{3000, 40, 0.93};
  const ChargeLimits<double> limits{35, 33};
  for (const double v : {50.0, 75.0, 84.0, 120.0}) {
    const double got = charger_current_A(outlet, charger, limits, v);
    const std::array<double, 5> links{230 * 16 * 0.8 * 0.93 / v, 3000 / v, 40.0, 35.0, 33.0};
    expect_close(got, *std::min_element(links.begin(), links.end()), 1e-14);
  }
  EXPECT_TRUE(std::isnan(charger_current_A(outlet, charger, limits, 0.0)));
  EXPECT_TRUE(std::isnan(charger_current_A(outlet, charger, limits, -5.0)));
}

TEST(ElecConverter, DrainAndTimeAreInverse) {
  const double amps = drain_allowed_A(324000.0, 0.1, 2592000.0);
  expect_close(drain_time_s(324000.0, 0.1, amps), 2592000, 1e-14);
  EXPECT_TRUE(std::isnan(drain_allowed_A(324000.0, 0.1, 0.0)));
  EXPECT_EQ(auxiliary_power_W<double>({}), 0);
  EXPECT_TRUE(std::isnan(converter_current_in_A(100.0, 0.0, 0.9)));
  EXPECT_TRUE(std::isnan(converter_current_in_A(100.0, 70.0, 0.0)));
  EXPECT_FALSE(std::isnan(converter_current_in_A(100.0, 70.0, 1.0)));
  EXPECT_TRUE(std::isnan(charge_time_estimate_s(1e6, 1000.0, 0.0, 0.0)));
  EXPECT_TRUE(std::isnan(charge_time_estimate_s(1e6, 1000.0, 1.01, 0.0)));
  EXPECT_FALSE(std::isnan(charge_time_estimate_s(1e6, 1000.0, 1.0, 0.0)));
}

// --- Charging ----------------------------------------------------------------------------------

struct Charged {
  double time_cc_s = 0, time_cv_s = 0, charge_C = 0, charge_cv_C = 0, energy_J = 0, stored_J = 0,
         heat_J = 0;
};

/// The same charge stepped through: the charger holds its current until the voltage would pass the
/// top.
Charged stepped(const ChargePack<double>& pack, const ChargeRun<double>& run) {
  Charged c;
  const double step = 0.02;
  double soc = run.soc_start;
  while (true) {
    const double open = pack.voltage_full_V - pack.slope_V * (1 - soc);
    const double at_top = (pack.voltage_full_V - open) / pack.resistance_ohm;
    const bool cc = at_top > run.current_A;
    const double current = cc ? run.current_A : at_top;
    if (current <= run.current_end_A) break;
    (cc ? c.time_cc_s : c.time_cv_s) += step;
    c.charge_C += current * step;
    if (!cc) c.charge_cv_C += current * step;
    c.stored_J += open * current * step;
    c.heat_J += current * current * pack.resistance_ohm * step;
    c.energy_J += (open + current * pack.resistance_ohm) * current * step;
    soc += current * step / pack.charge_C;
  }
  return c;
}

TEST(ElecCharging, ClosedFormsFollowTheCharge) {
  const ChargePack<double> pack{
      .charge_C = 20 * 3600.0, .resistance_ohm = 0.1, .voltage_full_V = 84, .slope_V = 22};
  for (const double start : {0.1, 0.8, 0.95}) {
    for (const double current : {6.0, 12.0}) {
      const ChargeRun<double> run{.current_A = current, .current_end_A = 1, .soc_start = start};
      const Charged c = stepped(pack, run);
      EXPECT_NEAR(charge_time_cc_s(pack, run), c.time_cc_s, 0.05);
      EXPECT_NEAR(charge_time_cv_s(pack, run), c.time_cv_s, 0.05);
      expect_close(charge_cv_C(pack, run), c.charge_cv_C, 1e-3);
      expect_close((charge_soc_end(pack, run) - start) * pack.charge_C, c.charge_C, 1e-3);
      expect_close(charge_energy_J(pack, run), c.energy_J, 1e-3);
      expect_close(charge_energy_J(pack, run), c.stored_J + c.heat_J, 1e-3);
    }
  }
}

TEST(ElecCharging, EndsWhereTheCurrentEnds) {
  const ChargePack<double> pack{72000, 0.1, 84, 22};
  const ChargeRun<double> run{12, 1, 0.3};
  EXPECT_NEAR(charge_soc_end(pack, run), 1 - 1 * 0.1 / 22, 1e-14);
  EXPECT_NEAR(charge_current_at_cv_A(pack, run), 12, 1e-10);
  // Above the end current's own state there is nothing left to take in.
  const ChargeRun<double> full{12, 1, 0.999};
  EXPECT_EQ(charge_time_cc_s(pack, full), 0);
  EXPECT_EQ(charge_time_cv_s(pack, full), 0);
  EXPECT_EQ(charge_cv_C(pack, full), 0);
  EXPECT_EQ(charge_energy_J(pack, full), 0);
  EXPECT_EQ(charge_soc_end(pack, full), 0.999);
}

TEST(ElecCharging, DomainEndsInNan) {
  const ChargeRun<double> run{12, 1, 0.3};
  EXPECT_TRUE(std::isnan(charge_constant_s<double>({72000, 0.1, 84, 0})));
  EXPECT_TRUE(std::isnan(charge_soc_at_cv<double>({72000, 0.1, 84, 0}, run)));
  EXPECT_TRUE(std::isnan(charge_current_at_cv_A<double>({72000, 0, 84, 22}, run)));
  EXPECT_TRUE(std::isnan(charge_time_cc_s<double>({72000, 0.1, 84, 22}, {0, 1, 0.3})));
  EXPECT_TRUE(std::isnan(charge_time_cv_s<double>({72000, 0.1, 84, 22}, {12, 0, 0.3})));
  EXPECT_TRUE(std::isnan(charge_wall_J(1e6, 0.0)));
  EXPECT_EQ(charge_wall_J(1e6, 1.0), 1e6);
  EXPECT_TRUE(std::isnan(round_trip_efficiency(0.0, 0.05, -10.0)));
  EXPECT_TRUE(std::isnan(round_trip_efficiency(100.0, 0.05, 2000.0)));
  EXPECT_EQ(round_trip_efficiency(100.0, 0.05, 0.0), 1);
}

}  // namespace
}  // namespace ww::model
