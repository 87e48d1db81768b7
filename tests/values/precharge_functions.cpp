// SPDX-License-Identifier: MIT
#include "model/precharge.h"

#include "tests/values/registry.h"

namespace ww::values {
namespace {

using namespace ww::model;

Precharge<double> circuit(const Given& g) {
  return {.voltage_V = g("v"),
          .resistance_ohm = g("r_ohm"),
          .capacitance_F = g("c_mF") / 1e3,
          .current_load_A = g.or_else("load_A", 0)};
}

const Topic topic(
    "model/precharge.h",
    {{"precharge_constant_s", [](const Given& g) { return precharge_constant_s(circuit(g)); }},
     {"precharge_final_V", [](const Given& g) { return precharge_final_V(circuit(g)); }},
     {"precharge_voltage_V",
      [](const Given& g) { return precharge_voltage_V(circuit(g), g("t_s")); }},
     {"precharge_left_V",
      [](const Given& g) { return g("v") - precharge_voltage_V(circuit(g), g("t_s")); }},
     {"precharge_share",
      [](const Given& g) { return precharge_voltage_V(circuit(g), g("t_s")) / g("v"); }},
     {"precharge_time_s",
      [](const Given& g) { return precharge_time_s(circuit(g), g("fraction")); }},
     {"precharge_current_A",
      [](const Given& g) { return precharge_current_A(circuit(g), g("t_s")); }},
     {"precharge_power_W", [](const Given& g) { return precharge_power_W(circuit(g), g("t_s")); }},
     {"precharge_energy_J",
      [](const Given& g) { return precharge_energy_J(circuit(g), g("t_s")); }},
     {"precharge_resistance_ohm",
      [](const Given& g) {
        return precharge_resistance_ohm(g("t_s"), g("c_mF") / 1e3, g("fraction"));
      }},
     {"bus_discharge_s",
      [](const Given& g) {
        return bus_discharge_s<double>({.resistance_ohm = g("r_ohm"),
                                        .capacitance_F = g("c_mF") / 1e3,
                                        .voltage_start_V = g("v")},
                                       g("to_V"));
      }},
     {"capacitor_energy_J",
      [](const Given& g) { return capacitor_energy_J(g("c_mF") / 1e3, g("v")); }},
     {"capacitor_voltage_V",
      [](const Given& g) { return capacitor_voltage_V(g("c_mF") / 1e3, g("energy_J")); }}});

}  // namespace
}  // namespace ww::values
