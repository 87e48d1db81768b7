// SPDX-License-Identifier: MIT
#include "model/ampacity.h"

#include "model/wire_tables.h"
#include "tests/values/registry.h"

namespace ww::values {
namespace {

using namespace ww::model;

double kelvin(double degC) {
  return degC + 273.15;
}

CablePlace<double> free_air(const Given& g) {
  return {.air = {.temperature_K = kelvin(g("air_C")), .speed_mps = 0},
          .thickness_sleeve_m = 0,
          .conductivity_sleeve_WpmK = 0.1,
          .factor_bundle = 1};
}

double gauge_current_A(const Given& g) {
  const double area_m2 = circle_area_m2(awg_diameter_m(g("gauge")));
  const double solid = wire_resistance_ohmpm(annealed_copper<double>(), area_m2, 293.15);
  return cable_current_A<double>(
      {.metal = annealed_copper<double>(),
       .resistance_20C_ohmpm = solid * (1 + g("stranding_percent") / 100),
       .diameter_conductor_m = strand_diameter_m(area_m2, g("fill")),
       .thickness_insulation_m = g("wall_mm") / 1e3,
       .conductivity_insulation_WpmK = g("k_WpmK"),
       .emissivity = 0.9},
      free_air(g), kelvin(g("limit_C")));
}

double class5_current_A(const Given& g) {
  const Class5Size* size = class5_at_least(g("section_mm2") * 1e-6);
  const double conductor_m = strand_diameter_m(size->section_m2, g("fill"));
  return cable_current_A<double>({.metal = annealed_copper<double>(),
                                  .resistance_20C_ohmpm = size->resistance_plain_ohmpm,
                                  .diameter_conductor_m = conductor_m,
                                  .thickness_insulation_m = (g("outer_mm") / 1e3 - conductor_m) / 2,
                                  .conductivity_insulation_WpmK = g("k_WpmK"),
                                  .emissivity = 0.9},
                                 free_air(g), kelvin(g("limit_C")));
}

Cable<double> cable(const Given& g) {
  return {.metal = annealed_copper<double>(),
          .resistance_20C_ohmpm = g("r20_ohmpkm") / 1e3,
          .diameter_conductor_m = g("conductor_mm") / 1e3,
          .thickness_insulation_m = g("wall_mm") / 1e3,
          .conductivity_insulation_WpmK = g("k_WpmK"),
          .emissivity = g("emissivity")};
}

CablePlace<double> place(const Given& g) {
  return {.air = {.temperature_K = kelvin(g("air_C")), .speed_mps = g("speed_mps")},
          .thickness_sleeve_m = g("sleeve_mm") / 1e3,
          .conductivity_sleeve_WpmK = g("k_sleeve_WpmK"),
          .factor_bundle = g("bundle")};
}

const Topic topic(
    "model/ampacity.h",
    {{"cable_current_A", gauge_current_A},
     {"class5_current_A", class5_current_A},
     {"cable_in_place_A",
      [](const Given& g) { return cable_current_A(cable(g), place(g), kelvin(g("limit_C"))); }},
     {"cable_in_place_C",
      [](const Given& g) {
        return cable_temperature_K(cable(g), place(g), g("current_A")) - 273.15;
      }},
     {"flow_coefficient_Wpm2K",
      [](const Given& g) {
        const double reynolds = g("speed_mps") * g("diameter_m") / g("nu_m2ps");
        return cable_nusselt_flow(reynolds, g("prandtl")) * g("k_WpmK") / g("diameter_m");
      }},
     {"radiation_Wpm2K",
      [](const Given& g) {
        return radiation_Wpm2K(g("emissivity"), kelvin(g("surface_C")), kelvin(g("air_C")));
      }},
     {"cable_nusselt_still",
      [](const Given& g) { return cable_nusselt_still(g("rayleigh"), g("prandtl")); }},
     {"film_air_conductivity_WpmK",
      [](const Given& g) { return film_air(g("t_K")).conductivity_WpmK; }},
     {"film_air_viscosity_m2ps",
      [](const Given& g) { return film_air(g("t_K")).viscosity_kinematic_m2ps; }},
     {"ambient_factor",
      [](const Given& g) {
        return ambient_factor<double>({.temperature_limit_K = kelvin(g("limit_C")),
                                       .temperature_rated_K = kelvin(g("rated_C"))},
                                      kelvin(g("air_C")));
      }},
     {"bundle_factor", [](const Given& g) { return bundle_factor(g("count")); }}});

}  // namespace
}  // namespace ww::values
