// SPDX-License-Identifier: MIT
#include "model/contactor.h"

#include "tests/values/registry.h"

namespace ww::values {
namespace {

using namespace ww::model;

const Topic topic(
    "model/contactor.h",
    {{"contactor_make_A",
      [](const Given& g) {
        return contactor_make_A<double>({.voltage_pack_V = g("v"),
                                         .voltage_bus_V = g("bus_V"),
                                         .resistance_loop_ohm = g("loop_mohm") / 1e3});
      }},
     {"contactor_break_energy_J",
      [](const Given& g) { return contactor_break_energy_J(g("l_uH") * 1e-6, g("current_A")); }},
     {"contactor_drop_mV",
      [](const Given& g) { return 1e3 * contactor_drop_V(g("r_mohm") / 1e3, g("current_A")); }},
     {"contactor_heat_W", [](const Given& g) {
        return contactor_heat_W(g("r_mohm") / 1e3, g("current_A"), g("coil_W"));
      }}});

}  // namespace
}  // namespace ww::values
