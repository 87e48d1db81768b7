// SPDX-License-Identifier: MIT
#include <cmath>

#include "model/wire.h"
#include "model/wire_tables.h"
#include "tests/values/registry.h"

namespace ww::values {
namespace {

using namespace ww::model;

double kelvin(double degC) {
  return degC + 273.15;
}

double diameter_m(const Given& g, const char* key = "gauge") {
  return awg_diameter_m(g(key));
}

double class5_ohmpkm(const Given& g, double Class5Size::*column) {
  const Class5Size* size = class5_at_least(g("section_mm2") * 1e-6);
  const double t_K = kelvin(g.or_else("t_C", 20));
  return size->*column * wire_resistance_ratio(annealed_copper<double>(), t_K) * 1e3;
}

WireRun<double> class5_run(const Given& g) {
  return {.resistance_ohmpm = class5_ohmpkm(g, &Class5Size::resistance_plain_ohmpm) / 1e3,
          .length_m = g("length_m"),
          .current_A = g("current_A")};
}

ConductorMetal<double> metal(const Given& g) {
  return g.text("metal") == "copper" ? annealed_copper<double>() : conductor_aluminium<double>();
}

const Topic topic(
    "model/wire.h",
    {{"awg_diameter_in", [](const Given& g) { return diameter_m(g) / 0.0254; }},
     {"awg_diameter_mm", [](const Given& g) { return diameter_m(g) * 1e3; }},
     {"awg_circular_mils",
      [](const Given& g) { return circle_area_m2(diameter_m(g)) / circular_mil_m2; }},
     {"awg_area_mm2", [](const Given& g) { return circle_area_m2(diameter_m(g)) * 1e6; }},
     {"awg_resistance_ohmpkm",
      [](const Given& g) {
        return 1e3 * wire_resistance_ohmpm(annealed_copper<double>(), circle_area_m2(diameter_m(g)),
                                           kelvin(g("t_C")));
      }},
     {"awg_area_ratio",
      [](const Given& g) {
        return circle_area_m2(diameter_m(g, "to")) / circle_area_m2(diameter_m(g, "from"));
      }},
     {"awg_diameter_ratio",
      [](const Given& g) { return diameter_m(g, "to") / diameter_m(g, "from"); }},
     {"class5_plain_ohmpkm",
      [](const Given& g) { return class5_ohmpkm(g, &Class5Size::resistance_plain_ohmpm); }},
     {"class5_tinned_ohmpkm",
      [](const Given& g) { return class5_ohmpkm(g, &Class5Size::resistance_tinned_ohmpm); }},
     {"class5_equivalent_area_mm2",
      [](const Given& g) {
        return 1e6 *
               wire_equivalent_area_m2(annealed_copper<double>(),
                                       class5_ohmpkm(g, &Class5Size::resistance_plain_ohmpm) / 1e3);
      }},
     {"class5_equivalent_area_of",
      [](const Given& g) {
        return wire_equivalent_area_m2(annealed_copper<double>(), g("ohmpkm") / 1e3);
      }},
     {"class5_drop_V", [](const Given& g) { return wire_drop_V(class5_run(g)); }},
     {"class5_loss_W", [](const Given& g) { return wire_loss_W(class5_run(g)); }},
     {"iec_factor_to_20degC",
      [](const Given& g) { return iec_factor_to_20degC(kelvin(g("t_C"))); }},
     {"copper_factor_to_20degC",
      [](const Given& g) {
        return 1 / wire_resistance_ratio(annealed_copper<double>(), kelvin(g("t_C")));
      }},
     {"copper_resistance_ratio",
      [](const Given& g) {
        return wire_resistance_ratio(annealed_copper<double>(), kelvin(g("t_C")));
      }},
     {"metal_resistance_ohmpkm",
      [](const Given& g) {
        return 1e3 * wire_resistance_ohmpm(metal(g), g("area_mm2") * 1e-6, kelvin(g("t_C")));
      }},
     {"metal_area_ratio",
      [](const Given&) {
        return conductor_aluminium<double>().resistivity_ohmm /
               annealed_copper<double>().resistivity_ohmm;
      }},
     {"wire_drop_V",
      [](const Given& g) {
        return wire_drop_V(
            WireRun<double>{.resistance_ohmpm = g("resistivity_ohmmm2pm") / g("area_mm2"),
                            .length_m = g("length_m"),
                            .current_A = g("current_A")});
      }},
     {"area_of_circular_mils_mm2",
      [](const Given& g) { return g("cmil") * circular_mil_m2 * 1e6; }},
     {"sae_over_awg",
      [](const Given& g) { return g("cmil") * circular_mil_m2 / circle_area_m2(diameter_m(g)); }}});

}  // namespace
}  // namespace ww::values
