// SPDX-License-Identifier: MIT
#include "model/busbar.h"

#include "tests/values/registry.h"

namespace ww::values {
namespace {

using namespace ww::model;

Busbar<double> bar(const Given& g) {
  return {.metal = annealed_copper<double>(),
          .width_m = g("width_mm") / 1e3,
          .thickness_m = g("thickness_mm") / 1e3,
          .emissivity = g.or_else("emissivity", 0.4)};
}

const Topic topic(
    "model/busbar.h",
    {{"busbar_area_mm2", [](const Given& g) { return 1e6 * busbar_area_m2(bar(g)); }},
     {"busbar_density_Apmm2",
      [](const Given& g) { return 1e-6 * busbar_density_Apm2(bar(g), g("current_A")); }},
     {"busbar_resistance_mohm",
      [](const Given& g) {
        return 1e3 * busbar_resistance_ohm(bar(g), g("length_mm") / 1e3, g("t_C") + 273.15);
      }},
     {"busbar_temperature_C", [](const Given& g) {
        return busbar_temperature_K<double>(
                   bar(g), {.temperature_K = g("air_C") + 273.15, .speed_mps = 0}, g("current_A")) -
               273.15;
      }}});

}  // namespace
}  // namespace ww::values
