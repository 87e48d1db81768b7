// SPDX-License-Identifier: MIT
// The electrical kernels with other numbers: a dual number has the scalar's value and the numeric
// derivative; a SIMD batch has the scalar's value in every lane.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#if __has_include(<xsimd/xsimd.hpp>)
#include <xsimd/xsimd.hpp>
#define WW_HAS_XSIMD 1
#endif

#include "base/dual.h"
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

namespace ww::model {
namespace {

template <class R>
Cable<R> cable() {
  return {.metal = annealed_copper<R>(),
          .resistance_20C_ohmpm = num<R>(0.554e-3),
          .diameter_conductor_m = num<R>(8.6e-3),
          .thickness_insulation_m = num<R>(1.6e-3),
          .conductivity_insulation_WpmK = num<R>(0.2),
          .emissivity = num<R>(0.9)};
}

template <class R>
CablePlace<R> place(R air_K, R speed_mps) {
  return {.air = {air_K, speed_mps},
          .thickness_sleeve_m = num<R>(1e-3),
          .conductivity_sleeve_WpmK = num<R>(0.08),
          .factor_bundle = num<R>(0.8)};
}

template <class R>
std::array<FusePoint<R>, 3> fuse_points() {
  return {{{num<R>(400), num<R>(80)}, {num<R>(1000), num<R>(0.8)}, {num<R>(4000), num<R>(0.05)}}};
}

template <class R>
ChargePack<R> pack(R resistance_ohm) {
  return {num<R>(72000), resistance_ohm, num<R>(84), num<R>(22)};
}

template <class R>
ChargeRun<R> run(R current_A) {
  return {current_A, num<R>(1), num<R>(0.3)};
}

/// Every kernel as a function of one number, at a point where it is smooth: `visit(name, point,
/// call)`.
template <class Visit>
void for_each_case(const Visit& visit) {
  visit("awg_diameter", 3.0, [](auto x) { return awg_diameter_m(x); });
  visit("awg_gauge", 5e-3, [](auto x) { return awg_gauge(x); });
  visit("strand_diameter", 0.6, [](auto x) {
    using R = decltype(x);
    return strand_diameter_m(num<R>(25e-6), x);
  });
  visit("wire_resistance over area", 25e-6, [](auto x) {
    using R = decltype(x);
    return wire_resistance_ohmpm(annealed_copper<R>(), x, num<R>(350));
  });
  visit("wire_temperature", 1.3, [](auto x) {
    using R = decltype(x);
    return wire_temperature_K(annealed_copper<R>(), x);
  });
  visit("iec_factor", 330.0, [](auto x) { return iec_factor_to_20degC(x); });
  visit("cable_temperature over current", 140.0, [](auto x) {
    using R = decltype(x);
    return cable_temperature_K(cable<R>(), place<R>(num<R>(303.15), num<R>(0)), x);
  });
  visit("cable_temperature over air", 310.0, [](auto x) {
    using R = decltype(x);
    return cable_temperature_K(cable<R>(), place<R>(x, num<R>(2)), num<R>(150));
  });
  visit("cable_temperature over insulation", 1.6e-3, [](auto x) {
    using R = decltype(x);
    auto c = cable<R>();
    c.thickness_insulation_m = x;
    return cable_temperature_K(c, place<R>(num<R>(303.15), num<R>(0.5)), num<R>(150));
  });
  visit("cable_current over limit", 368.0, [](auto x) {
    using R = decltype(x);
    return cable_current_A(cable<R>(), place<R>(num<R>(303.15), num<R>(0)), x);
  });
  visit("cable_current over speed", 2.5, [](auto x) {
    using R = decltype(x);
    return cable_current_A(cable<R>(), place<R>(num<R>(303.15), x), num<R>(368));
  });
  visit("ambient_factor", 313.0, [](auto x) {
    using R = decltype(x);
    return ambient_factor<R>({num<R>(363.15), num<R>(303.15)}, x);
  });
  visit("bundle_factor", 5.0, [](auto x) { return bundle_factor(x); });
  visit("busbar_temperature over current", 180.0, [](auto x) {
    using R = decltype(x);
    const Busbar<R> bar{annealed_copper<R>(), num<R>(20e-3), num<R>(2e-3), num<R>(0.4)};
    return busbar_temperature_K<R>(bar, {num<R>(308.15), num<R>(0)}, x);
  });
  visit("adiabatic_k over end", 520.0, [](auto x) {
    using R = decltype(x);
    return adiabatic_k(adiabatic_copper<R>(), num<R>(363.15), x);
  });
  visit("adiabatic_temperature over I2t", 8e6, [](auto x) {
    using R = decltype(x);
    return adiabatic_temperature_K<R>(adiabatic_copper<R>(), {num<R>(25e-6), x}, num<R>(363.15));
  });
  visit("ipcea over time", 0.7, [](auto x) {
    using R = decltype(x);
    return ipcea_current_A<R>(num<R>(25e-6), x, {num<R>(363.15), num<R>(523.15)});
  });
  visit("onderdonk over start", 320.0, [](auto x) {
    using R = decltype(x);
    return onderdonk_fusing_A(num<R>(5e-6), num<R>(1), x);
  });
  visit("preece", 1.2e-3, [](auto x) { return preece_fusing_A(x); });
  visit("prospective", 0.02, [](auto x) {
    using R = decltype(x);
    return prospective_current_A<R>({num<R>(84), x, num<R>(5e-3)});
  });
  for (const double current : {550.0, 1700.0, 6000.0}) {
    visit("fuse_melting_time", current, [](auto x) {
      using R = decltype(x);
      const auto points = fuse_points<R>();
      return fuse_melting_time_s<R>(points, x);
    });
  }
  for (const double time : {300.0, 8.0, 0.2, 0.01}) {
    visit("fuse_melting_current", time, [](auto x) {
      using R = decltype(x);
      const auto points = fuse_points<R>();
      return fuse_melting_current_A<R>(points, x);
    });
  }
  visit("fuse_continuous_share", 330.0, [](auto x) {
    using R = decltype(x);
    return fuse_continuous_share<R>({num<R>(250), num<R>(298.15), num<R>(378.15)}, x, num<R>(110));
  });
  visit("precharge_voltage over time", 0.7, [](auto x) {
    using R = decltype(x);
    return precharge_voltage_V<R>({num<R>(84), num<R>(100), num<R>(4.7e-3), num<R>(0.2)}, x);
  });
  visit("precharge_time over load", 0.1, [](auto x) {
    using R = decltype(x);
    return precharge_time_s<R>({num<R>(84), num<R>(100), num<R>(4.7e-3), x}, num<R>(0.8));
  });
  visit("precharge_energy over resistor", 90.0, [](auto x) {
    using R = decltype(x);
    return precharge_energy_J<R>({num<R>(84), x, num<R>(4.7e-3), num<R>(0.2)}, num<R>(1));
  });
  visit("precharge_resistance", 0.95, [](auto x) {
    using R = decltype(x);
    return precharge_resistance_ohm(num<R>(1.5), num<R>(4.7e-3), x);
  });
  visit("bus_discharge", 55.0, [](auto x) {
    using R = decltype(x);
    return bus_discharge_s<R>({num<R>(1e4), num<R>(4.7e-3), num<R>(96)}, x);
  });
  visit("capacitor_voltage", 0.3, [](auto x) {
    using R = decltype(x);
    return capacitor_voltage_V(num<R>(4.7e-3), x);
  });
  visit("isolation_resistance", 27.0, [](auto x) {
    using R = decltype(x);
    return isolation_resistance_ohm<R>({num<R>(72), num<R>(57.6), num<R>(14.4), x, num<R>(36e3)});
  });
  visit("isolation_readings", 60e3, [](auto x) {
    using R = decltype(x);
    return isolation_readings<R>({num<R>(72), x, num<R>(200e3)}, num<R>(36e3)).voltage_inserted_V;
  });
  visit("isolation_touch", 60e3, [](auto x) {
    using R = decltype(x);
    return isolation_touch_A<R>({num<R>(72), x, num<R>(20e3)}, num<R>(1000));
  });
  visit("ripple over modulation", 0.7, [](auto x) {
    using R = decltype(x);
    return ripple_current_rms_A<R>({num<R>(200), x, num<R>(0.9)});
  });
  visit("cable_overshoot", 1e-6, [](auto x) {
    using R = decltype(x);
    return cable_overshoot_V(num<R>(300), x, num<R>(4e-3));
  });
  visit("contactor_make", 0.03, [](auto x) {
    using R = decltype(x);
    return contactor_make_A<R>({num<R>(84), num<R>(80), x});
  });
  visit("contactor_bus_needed", 150.0, [](auto x) {
    using R = decltype(x);
    return contactor_bus_needed_V(num<R>(84), num<R>(0.025), x);
  });
  visit("converter_current", 0.9, [](auto x) {
    using R = decltype(x);
    return converter_current_in_A(num<R>(150), num<R>(73), x);
  });
  for (const double volts : {60.0, 84.0}) {
    visit("charger_current", volts, [](auto x) {
      using R = decltype(x);
      return charger_current_A<R>({num<R>(230), num<R>(10), num<R>(1)},
                                  {num<R>(3300), num<R>(40), num<R>(0.94)},
                                  {num<R>(31), num<R>(33)}, x);
    });
  }
  visit("charge_soc_at_cv", 12.0, [](auto x) {
    using R = decltype(x);
    return charge_soc_at_cv(pack(num<R>(0.1)), run(x));
  });
  visit("charge_time_cc", 12.0, [](auto x) {
    using R = decltype(x);
    return charge_time_cc_s(pack(num<R>(0.1)), run(x));
  });
  visit("charge_time_cv", 0.1, [](auto x) {
    using R = decltype(x);
    return charge_time_cv_s(pack(x), run(num<R>(12)));
  });
  visit("charge_energy", 0.1, [](auto x) {
    using R = decltype(x);
    return charge_energy_J(pack(x), run(num<R>(12)));
  });
  visit("round_trip", 40.0, [](auto x) {
    using R = decltype(x);
    return round_trip_efficiency(num<R>(84), num<R>(0.025), x);
  });
}

TEST(ElecNumbers, DualHasTheScalarsValueAndTheNumericSlope) {
  std::string table;
  bool all_good = true;
  int cases = 0;
  for_each_case([&](const std::string& name, double x, const auto& call) {
    const auto dual = call(Dual<1>::variable(x, 0));
    const double value = call(x);
    const double h = 1e-5 * x;
    // Fourth-order central difference.
    const double numeric =
        (8 * (call(x + h) - call(x - h)) - (call(x + 2 * h) - call(x - 2 * h))) / (12 * h);
    const double scale = std::max(std::fabs(numeric), 1e-6 * std::fabs(value / x));
    const bool good = std::fabs(dual.slope[0] - numeric) <= 1e-7 * scale &&
                      std::fabs(dual.value - value) <= 1e-14 * std::fabs(value);
    all_good = all_good && good;
    ++cases;
    table += std::string(good ? "  ok   " : "  BAD  ") + name + " at " + std::to_string(x) +
             ": value " + std::to_string(value) + ", dual " + std::to_string(dual.value) +
             ", slope " + std::to_string(dual.slope[0]) + ", numeric " + std::to_string(numeric) +
             "\n";
  });
  EXPECT_TRUE(all_good) << table;
  EXPECT_GT(cases, 45);
}

#ifdef WW_HAS_XSIMD
TEST(ElecNumbers, BatchHasTheScalarsValueInEveryLane) {
  using Batch = xsimd::batch<double>;
  for_each_case([&](const std::string& name, double x, const auto& call) {
    std::array<double, Batch::size> points{};
    for (std::size_t i = 0; i < points.size(); ++i) {
      points[i] = x * (1 + 0.01 * static_cast<double>(i));
    }
    std::array<double, Batch::size> results{};
    const Batch batch = call(Batch::load_unaligned(points.data()));
    batch.store_unaligned(results.data());
    for (std::size_t i = 0; i < points.size(); ++i) {
      const double scalar = call(points[i]);
      EXPECT_NEAR(results[i], scalar, 1e-12 * std::fabs(scalar)) << name << ", lane " << i;
    }
  });
}
#endif

}  // namespace
}  // namespace ww::model
