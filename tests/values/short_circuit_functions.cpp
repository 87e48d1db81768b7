// SPDX-License-Identifier: MIT
#include "model/short_circuit.h"

#include "tests/values/registry.h"

namespace ww::values {
namespace {

using namespace ww::model;

double kelvin(double degC) {
  return degC + 273.15;
}

double k_copper(const Given& g) {
  return adiabatic_k(adiabatic_copper<double>(), kelvin(g("start_C")), kelvin(g("end_C")));
}

FaultRise<double> rise(const Given& g) {
  return {g("current_A"), g("tau_ms") / 1e3};
}

const Topic topic(
    "model/short_circuit.h",
    {{"adiabatic_k_mm2", [](const Given& g) { return k_copper(g) * 1e-6; }},
     {"adiabatic_withstand_A2s",
      [](const Given& g) { return adiabatic_withstand_A2s(g("k") * 1e6, g("area_mm2") * 1e-6); }},
     {"adiabatic_time_s",
      [](const Given& g) {
        return adiabatic_time_s(g("k") * 1e6, g("area_mm2") * 1e-6, g("current_A"));
      }},
     {"adiabatic_section_mm2",
      [](const Given& g) { return 1e6 * adiabatic_section_m2(g("k") * 1e6, g("I2t_A2s")); }},
     {"adiabatic_current_A",
      [](const Given& g) {
        return adiabatic_current_A(g("k") * 1e6, g("area_mm2") * 1e-6, g("time_s"));
      }},
     {"adiabatic_to_melting_A",
      [](const Given& g) {
        return adiabatic_current_A(k_copper(g), g("area_mm2") * 1e-6, g("time_s"));
      }},
     {"ipcea_current_A",
      [](const Given& g) {
        return ipcea_current_A<double>(
            g("area_mm2") * 1e-6, g("time_s"),
            {.start_K = kelvin(g("start_C")), .end_K = kelvin(g("end_C"))});
      }},
     {"onderdonk_fusing_A",
      [](const Given& g) {
        const double area_m2 = g("cmil") * circular_mil_m2;
        return onderdonk_fusing_A(area_m2, g("time_s"), kelvin(g("start_C")));
      }},
     {"preece_fusing_A", [](const Given& g) { return preece_fusing_A(g("d_in") * 0.0254); }},
     {"fault_current_A", [](const Given& g) { return fault_current_A(rise(g), g("t_ms") / 1e3); }},
     {"fault_I2t_A2s", [](const Given& g) { return fault_I2t_A2s(rise(g), g("t_ms") / 1e3); }},
     {"fault_time_ms", [](const Given& g) { return 1e3 * fault_time_s(rise(g), g("I2t_A2s")); }},
     {"prospective_current_A", [](const Given& g) {
        return prospective_current_A<double>({.voltage_open_V = g("v"),
                                              .resistance_pack_ohm = g("pack_mohm") / 1e3,
                                              .resistance_loop_ohm = g("loop_mohm") / 1e3});
      }}});

}  // namespace
}  // namespace ww::values
