// SPDX-License-Identifier: MIT
#include "model/isolation.h"

#include "tests/values/registry.h"

namespace ww::values {
namespace {

using namespace ww::model;

IsolationLeaks<double> leaks(const Given& g) {
  return {.voltage_bus_V = g("v"),
          .resistance_positive_ohm = g("rp_kohm") * 1e3,
          .resistance_negative_ohm = g("rn_kohm") * 1e3};
}

IsolationReadings<double> readings(const Given& g) {
  return isolation_readings(leaks(g), g("ro_kohm") * 1e3);
}

const Topic topic(
    "model/isolation.h",
    {{"isolation_negative_V", [](const Given& g) { return readings(g).voltage_negative_V; }},
     {"isolation_positive_V", [](const Given& g) { return readings(g).voltage_positive_V; }},
     {"isolation_inserted_V", [](const Given& g) { return readings(g).voltage_inserted_V; }},
     {"isolation_resistance_ohm",
      [](const Given& g) {
        return isolation_resistance_ohm<double>({.voltage_bus_V = g("v"),
                                                 .voltage_negative_V = g("v1"),
                                                 .voltage_positive_V = g("v2"),
                                                 .voltage_inserted_V = g("vin"),
                                                 .resistance_inserted_ohm = g("ro_kohm") * 1e3});
      }},
     {"isolation_ohm_per_volt",
      [](const Given& g) { return isolation_ohm_per_volt(g("ohm"), g("v")); }},
     {"isolation_leak_mA", [](const Given& g) { return 1e3 * isolation_leak_A(leaks(g)); }},
     {"isolation_touch_mA",
      [](const Given& g) { return 1e3 * isolation_touch_A(leaks(g), g("body_ohm")); }}});

}  // namespace
}  // namespace ww::values
