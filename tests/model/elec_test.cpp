// SPDX-License-Identifier: MIT
// Identities of wires, cables, bars, short circuits and fuses over tables of states.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <vector>

#include "model/ampacity.h"
#include "model/busbar.h"
#include "model/fuse.h"
#include "model/short_circuit.h"
#include "model/wire.h"

namespace ww::model {
namespace {

void expect_close(double a, double b, double share) {
  EXPECT_NEAR(a, b, share * std::fabs(b));
}

// --- Wire --------------------------------------------------------------------------------------

TEST(ElecWire, GaugeAndDiameterAreInverse) {
  for (int gauge = -3; gauge <= 40; ++gauge) {
    EXPECT_NEAR(awg_gauge(awg_diameter_m<double>(gauge)), gauge, 1e-11);
  }
  EXPECT_TRUE(std::isnan(awg_gauge(0.0)));
  EXPECT_TRUE(std::isnan(awg_gauge(-1e-3)));
}

TEST(ElecWire, StrandsFillTheirCircle) {
  for (const double fill : {0.5, 0.6, 0.75, 1.0}) {
    const double d_m = strand_diameter_m(25e-6, fill);
    expect_close(circle_area_m2(d_m) * fill, 25e-6, 1e-14);
  }
  EXPECT_EQ(strand_diameter_m(0.0, 0.6), 0);
  EXPECT_TRUE(std::isnan(strand_diameter_m(25e-6, 0.0)));
  EXPECT_TRUE(std::isnan(strand_diameter_m(25e-6, 1.001)));
  EXPECT_TRUE(std::isnan(strand_diameter_m(-25e-6, 0.6)));
}

TEST(ElecWire, TemperatureAndResistanceAreInverse) {
  for (const auto& metal : {annealed_copper<double>(), conductor_aluminium<double>()}) {
    EXPECT_EQ(wire_resistance_ratio(metal, 293.15), 1);
    for (const double t_K : {233.15, 293.15, 363.15, 573.15}) {
      EXPECT_NEAR(wire_temperature_K(metal, wire_resistance_ratio(metal, t_K)), t_K, 1e-10);
    }
    EXPECT_TRUE(std::isnan(wire_temperature_K(metal, 0.0)));
    const double ohmpm = wire_resistance_ohmpm(metal, 35e-6, 293.15);
    expect_close(wire_equivalent_area_m2(metal, ohmpm), 35e-6, 1e-14);
  }
}

TEST(ElecWire, LossIsDropTimesCurrent) {
  const WireRun<double> run{.resistance_ohmpm = 0.554e-3, .length_m = 3, .current_A = -150};
  expect_close(wire_loss_W(run), wire_drop_V(run) * run.current_A, 1e-15);
  EXPECT_GT(wire_loss_W(run), 0);
  EXPECT_LT(wire_drop_V(run), 0);
}

// --- Cable temperature -------------------------------------------------------------------------

Cable<double> flexible_25mm2() {
  return {.metal = annealed_copper<double>(),
          .resistance_20C_ohmpm = 0.780e-3,
          .diameter_conductor_m = 7.5e-3,
          .thickness_insulation_m = 1.5e-3,
          .conductivity_insulation_WpmK = 0.2,
          .emissivity = 0.9};
}

CablePlace<double> alone(double air_K) {
  return {.air = {.temperature_K = air_K, .speed_mps = 0},
          .thickness_sleeve_m = 0,
          .conductivity_sleeve_WpmK = 0.08,
          .factor_bundle = 1};
}

std::vector<CablePlace<double>> places() {
  std::vector<CablePlace<double>> all;
  for (const double air_K : {263.15, 303.15, 333.15}) {
    for (const double speed : {0.0, 0.3, 10.0}) {
      for (const double sleeve : {0.0, 2e-3}) {
        for (const double bundle : {1.0, 0.7}) {
          all.push_back({{air_K, speed}, sleeve, 0.08, bundle});
        }
      }
    }
  }
  return all;
}

TEST(ElecAmpacity, CurrentAndTemperatureAreInverse) {
  const auto c = flexible_25mm2();
  for (const auto& p : places()) {
    for (const double rise_K : {5.0, 40.0, 120.0}) {
      const double limit_K = p.air.temperature_K + rise_K;
      const double current = cable_current_A(c, p, limit_K);
      EXPECT_GT(current, 0);
      EXPECT_NEAR(cable_temperature_K(c, p, current), limit_K, 1e-7)
          << "air " << p.air.temperature_K << " K, " << p.air.speed_mps << " m/s";
    }
  }
}

// Backwards from the answer: the heat made at its temperature crosses the layers, and what is left
// as surface temperature sheds exactly that heat.
TEST(ElecAmpacity, HeatMadeIsHeatShed) {
  const auto c = flexible_25mm2();
  int balanced = 0;
  for (const auto& p : places()) {
    for (const double current : {20.0, 90.0, 150.0}) {
      const double core_K = cable_temperature_K(c, p, current);
      if (std::isnan(core_K)) continue;
      ++balanced;
      const double made = current * current / (p.factor_bundle * p.factor_bundle) *
                          c.resistance_20C_ohmpm * (1 + 0.00393 * (core_K - 293.15));
      const double surface_K = core_K - made * cable_layers_mKpW(c, p);
      expect_close(surface_heat_Wpm(cable_surface(c, p), p.air, surface_K), made, 1e-8);
    }
  }
  EXPECT_EQ(balanced, 108);
}

TEST(ElecAmpacity, LayersAddAsLogarithms) {
  auto c = flexible_25mm2();
  auto p = alone(303.15);
  expect_close(cable_layers_mKpW(c, p), std::log(10.5 / 7.5) / (2 * pi * 0.2), 1e-13);
  p.thickness_sleeve_m = 1.5e-3;
  p.conductivity_sleeve_WpmK = 0.2;
  expect_close(cable_layers_mKpW(c, p), std::log(13.5 / 7.5) / (2 * pi * 0.2), 1e-13);
  p.conductivity_sleeve_WpmK = 0.1;
  expect_close(cable_layers_mKpW(c, p),
               (std::log(10.5 / 7.5) + 2 * std::log(13.5 / 10.5)) / (2 * pi * 0.2), 1e-13);
  EXPECT_NEAR(cable_surface(c, p).diameter_m, 13.5e-3, 1e-15);
  expect_close(cable_surface(c, p).perimeter_m, pi * 13.5e-3, 1e-14);
}

TEST(ElecAmpacity, GoesTheRightWay) {
  const auto c = flexible_25mm2();
  const auto p = alone(303.15);
  const double base = cable_current_A(c, p, 363.15);
  auto hotter = p;
  hotter.air.temperature_K += 10;
  EXPECT_LT(cable_current_A(c, hotter, 363.15), base);
  auto windy = p;
  windy.air.speed_mps = 3;
  EXPECT_GT(cable_current_A(c, windy, 363.15), 1.3 * base);
  auto bundled = p;
  bundled.factor_bundle = 0.7;
  expect_close(cable_current_A(c, bundled, 363.15), 0.7 * base, 1e-13);
  auto dull = c;
  dull.emissivity = 0.2;
  EXPECT_LT(cable_current_A(dull, p, 363.15), base);
  for (double current = 10; current < 200; current += 10) {
    EXPECT_GT(cable_temperature_K(c, p, current + 10), cable_temperature_K(c, p, current));
  }
}

TEST(ElecAmpacity, NoCurrentNoRise) {
  const auto c = flexible_25mm2();
  for (const auto& p : places()) {
    EXPECT_NEAR(cable_temperature_K(c, p, 0.0), p.air.temperature_K, 1e-9);
    EXPECT_NEAR(cable_current_A(c, p, p.air.temperature_K), 0, 1e-4);
  }
}

TEST(ElecAmpacity, DomainEndsInNan) {
  const auto c = flexible_25mm2();
  const auto p = alone(303.15);
  EXPECT_TRUE(std::isnan(cable_temperature_K(c, p, 900.0)));
  EXPECT_TRUE(std::isnan(cable_temperature_K(c, p, 5000.0)));
  EXPECT_TRUE(std::isnan(cable_current_A(c, p, 303.0)));
  EXPECT_FALSE(std::isnan(cable_current_A(c, p, 600.0)));
  EXPECT_TRUE(std::isnan(cable_current_A(c, p, 600.1)));
  // Either side of 600 K at the conductor, with the surface well below twice the air.
  const double edge = cable_current_A(c, p, 600.0);
  EXPECT_FALSE(std::isnan(cable_temperature_K(c, p, 0.999 * edge)));
  EXPECT_TRUE(std::isnan(cable_temperature_K(c, p, 1.001 * edge)));
  // Cold thin air lets the surface's own limit end it first: no layers, twice 255 K is 510 K.
  auto bare = c;
  bare.thickness_insulation_m = 0;
  const auto cold = alone(255.0);
  const double at_limit = cable_current_A(bare, cold, 510.0);
  EXPECT_FALSE(std::isnan(cable_temperature_K(bare, cold, 0.999 * at_limit)));
  EXPECT_TRUE(std::isnan(cable_temperature_K(bare, cold, 1.001 * at_limit)));
}

TEST(ElecAmpacity, BlendKeepsBothEnds) {
  const WarmSurface<double> s{.perimeter_m = pi * 0.012, .diameter_m = 0.012, .emissivity = 0.9};
  const double film_K = (343.15 + 303.15) / 2;
  const auto film = film_air(film_K);
  const double nu = film.viscosity_kinematic_m2ps;
  const double ra = 9.80665 * 40 / film_K * std::pow(0.012, 3) * 0.707 / (nu * nu);
  const double still = cable_nusselt_still(ra, 0.707) * film.conductivity_WpmK / 0.012;
  expect_close(convection_Wpm2K(s, {303.15, 0.0}, 343.15), still, 1e-6);
  // As warm as the air is cool below it: the same coefficient by symmetry of the film.
  expect_close(convection_Wpm2K(s, {343.15, 0.0}, 303.15), still, 1e-6);
  for (const double speed : {0.05, 0.3, 1.0, 8.0, 30.0}) {
    const double flow =
        cable_nusselt_flow(speed * 0.012 / nu, 0.707) * film.conductivity_WpmK / 0.012;
    const double both = convection_Wpm2K(s, {303.15, speed}, 343.15);
    EXPECT_GE(both, std::max(still, flow));
    EXPECT_LE(both, still + flow);
    if (speed > 5) expect_close(both, flow, 0.02);
  }
}

TEST(ElecAmpacity, RadiationIsTheDifferenceOfFourthPowers) {
  for (const double t_K : {280.0, 303.15, 420.0}) {
    const double flux = radiation_Wpm2K(0.7, t_K, 310.0) * (t_K - 310.0);
    EXPECT_NEAR(flux, 0.7 * 5.670374419e-8 * (std::pow(t_K, 4) - std::pow(310.0, 4)), 1e-9);
  }
  const WarmSurface<double> s{.perimeter_m = 0.04, .diameter_m = 0.012, .emissivity = 0.9};
  EXPECT_EQ(surface_heat_Wpm(s, {310.0, 1.0}, 310.0), 0);
  EXPECT_LT(surface_heat_Wpm(s, {310.0, 1.0}, 300.0), 0);
}

// The correction by the square root law, which the tables print, against the full balance.
TEST(ElecAmpacity, AmbientFactorIsCloseToTheBalance) {
  const auto c = flexible_25mm2();
  for (const double air_K : {293.15, 313.15, 333.15}) {
    const double full =
        cable_current_A(c, alone(air_K), 363.15) / cable_current_A(c, alone(303.15), 363.15);
    expect_close(full, ambient_factor<double>({363.15, 303.15}, air_K), 0.03);
  }
}

// --- Bars --------------------------------------------------------------------------------------

TEST(ElecBusbar, HeatMadeIsHeatShed) {
  for (const double emissivity : {0.1, 0.4, 0.9}) {
    for (const double current : {50.0, 200.0, 350.0}) {
      const Busbar<double> bar{annealed_copper<double>(), 20e-3, 3e-3, emissivity};
      const AirAround<double> air{308.15, 0.0};
      const double t_K = busbar_temperature_K(bar, air, current);
      const double made = current * current * busbar_resistance_ohm(bar, 1.0, t_K);
      const WarmSurface<double> s{0.046, 0.046 / pi, emissivity};
      expect_close(surface_heat_Wpm(s, air, t_K), made, 1e-8);
    }
  }
}

TEST(ElecBusbar, SameSectionFlatRunsCooler) {
  const AirAround<double> air{308.15, 0.0};
  const Busbar<double> flat{annealed_copper<double>(), 30e-3, 2e-3, 0.4};
  const Busbar<double> stout{annealed_copper<double>(), 10e-3, 6e-3, 0.4};
  EXPECT_EQ(busbar_area_m2(flat), busbar_area_m2(stout));
  EXPECT_LT(busbar_temperature_K(flat, air, 250.0), busbar_temperature_K(stout, air, 250.0));
  Busbar<double> aluminium = flat;
  aluminium.metal = conductor_aluminium<double>();
  EXPECT_GT(busbar_temperature_K(aluminium, air, 250.0), busbar_temperature_K(flat, air, 250.0));
}

// --- Short circuit -----------------------------------------------------------------------------

TEST(ElecShortCircuit, SectionTimeAndCurrentAreOneLaw) {
  const double k = adiabatic_k(adiabatic_copper<double>(), 363.15, 523.15);
  for (const double area : {10e-6, 35e-6}) {
    for (const double time : {0.01, 1.0, 5.0}) {
      const double current = adiabatic_current_A(k, area, time);
      expect_close(adiabatic_time_s(k, area, current), time, 1e-13);
      expect_close(current * current * time, adiabatic_withstand_A2s(k, area), 1e-13);
      expect_close(adiabatic_section_m2(k, current * current * time), area, 1e-13);
    }
  }
}

// The law's constant is the metal's heat capacity by volume over its resistivity at zero rise; with
// it the temperature is integrated step by step and must end where the closed form ends.
TEST(ElecShortCircuit, ClosedFormFollowsTheHeating) {
  const auto law = adiabatic_copper<double>();
  const auto copper = annealed_copper<double>();
  const double resistivity_slope = copper.resistivity_ohmm / (293.15 - law.temperature_zero_K);
  const double capacity = law.constant_A2spm4 * resistivity_slope;  // J/(m3 K)
  expect_close(capacity, 3.45e6, 0.01);                             // copper, IEC 60364-5-54
  const double density = 150e6;                                     // A/m2
  double t_K = 343.15;
  const int steps = 200000;
  const double step_s = 0.9 / steps;
  const auto rate = [&](double temperature_K) {
    return density * density * resistivity_slope * (temperature_K - law.temperature_zero_K) /
           capacity;
  };
  for (int i = 0; i < steps; ++i) t_K += step_s * rate(t_K + step_s / 2 * rate(t_K));
  const double area = 16e-6;
  const double current = density * area;
  EXPECT_NEAR(adiabatic_temperature_K<double>(law, {area, current * current * 0.9}, 343.15), t_K,
              1e-5);
  expect_close(adiabatic_time_s(adiabatic_k(law, 343.15, t_K), area, current), 0.9, 1e-7);
}

TEST(ElecShortCircuit, TemperatureAndKAreInverse) {
  const auto law = adiabatic_copper<double>();
  for (const double start_K : {293.15, 363.15}) {
    for (const double end_K : {363.15, 523.15, 1000.0}) {
      const double k = adiabatic_k(law, start_K, end_K);
      const double area = 25e-6;
      const FaultPulse<double> pulse{area, adiabatic_withstand_A2s(k, area)};
      EXPECT_NEAR(adiabatic_temperature_K(law, pulse, start_K), end_K, 1e-9);
    }
  }
  EXPECT_EQ(adiabatic_k(law, 300.0, 300.0), 0);
  EXPECT_TRUE(std::isnan(adiabatic_k(law, 38.0, 300.0)));
  EXPECT_TRUE(std::isnan(adiabatic_k(law, 300.0, 299.9)));
  EXPECT_TRUE(std::isnan(adiabatic_temperature_K<double>(law, {0.0, 1e6}, 300.0)));
  EXPECT_TRUE(std::isnan(adiabatic_temperature_K<double>(law, {25e-6, 1e6}, 38.0)));
}

// Three papers, one physics.
TEST(ElecShortCircuit, TheThreeLawsAgree) {
  for (const double area : {1e-6, 25e-6}) {
    for (const double time : {0.1, 2.0}) {
      const double k = adiabatic_k(adiabatic_copper<double>(), 298.15, 1356.15);
      expect_close(onderdonk_fusing_A(area, time, 298.15), adiabatic_current_A(k, area, time),
                   0.005);
      const double k_xlpe = adiabatic_k(adiabatic_copper<double>(), 363.15, 523.15);
      expect_close(ipcea_current_A<double>(area, time, {363.15, 523.15}),
                   adiabatic_current_A(k_xlpe, area, time), 0.01);
    }
  }
  EXPECT_TRUE(std::isnan(onderdonk_fusing_A(1e-6, 1.0, 1400.0)));
}

// --- Fuse --------------------------------------------------------------------------------------

constexpr std::array<FusePoint<double>, 4> curve_points{
    {{500, 120}, {750, 6}, {1250, 0.3}, {2500, 0.02}}};

TEST(ElecFuse, TimeAndCurrentAreInverse) {
  const FuseCurve<double> curve{curve_points};
  double before = INFINITY;
  for (double current = 500; current < 9000; current *= 1.03) {
    const double time = fuse_melting_time_s(curve, current);
    EXPECT_LT(time, before);
    expect_close(fuse_melting_current_A(curve, time), current, 1e-12);
    before = time;
  }
  for (const auto& point : curve_points) {
    expect_close(fuse_melting_time_s(curve, point.current_A), point.time_s, 1e-13);
    expect_close(fuse_melting_current_A(curve, point.time_s), point.current_A, 1e-13);
  }
}

TEST(ElecFuse, BelowTheCurveItNeverMelts) {
  const FuseCurve<double> curve{curve_points};
  EXPECT_TRUE(std::isinf(fuse_melting_time_s(curve, 499.99)));
  EXPECT_EQ(fuse_melting_time_s(curve, 500.0), 120);
  EXPECT_EQ(fuse_melting_current_A(curve, 1e6), 500);
  EXPECT_TRUE(std::isnan(fuse_melting_time_s(FuseCurve<double>{}, 100.0)));
  EXPECT_TRUE(std::isnan(fuse_melting_current_A(FuseCurve<double>{}, 1.0)));
}

TEST(ElecFuse, AboveTheCurveI2tStays) {
  const FuseCurve<double> curve{curve_points};
  for (const double current : {2500.0, 4000.0, 20000.0}) {
    expect_close(current * current * fuse_melting_time_s(curve, current), 2500.0 * 2500 * 0.02,
                 1e-12);
  }
  // One point alone is a fuse known by its I2t.
  const FuseCurve<double> single = curve.subspan(3);
  expect_close(fuse_melting_time_s(single, 5000.0), 0.005, 1e-12);
  EXPECT_TRUE(std::isinf(fuse_melting_time_s(single, 2499.0)));
}

TEST(ElecFuse, TheWorstPulseCounts) {
  const FuseCurve<double> curve{curve_points};
  const std::array<FusePulse<double>, 3> pulses{{{300, 15}, {500, 6}, {250, 60}}};
  const double each[] = {300 / fuse_melting_current_A(curve, 15.0), 500.0 / 750,
                         250 / fuse_melting_current_A(curve, 60.0)};
  const double worst = std::max({each[0], each[1], each[2]});
  expect_close(fuse_pulse_share<double>(curve, pulses), worst, 1e-13);
  EXPECT_EQ(fuse_pulse_share<double>(curve, {}), 0);
}

TEST(ElecFuse, DeratingHoldsAtItsReference) {
  const FuseRating<double> fuse{250, 298.15, 378.15};
  expect_close(fuse_derated_A(fuse, 298.15), 250, 1e-14);
  EXPECT_LT(fuse_derated_A(fuse, 320.0), 250);
  EXPECT_EQ(fuse_derated_A(fuse, 378.15), 0);
  expect_close(fuse_continuous_share(fuse, 338.15, 100.0), 100 / (250 * std::sqrt(0.5)), 1e-12);
}

}  // namespace
}  // namespace ww::model
