// SPDX-License-Identifier: MIT
#include "wiring/conductor.h"

#include <algorithm>
#include <cmath>

#include "model/short_circuit.h"
#include "model/wire.h"
#include "model/wire_tables.h"

namespace ww::wiring {

double cable_ohmpm(double section_m2, double stated_ohmpm) {
  if (!std::isnan(stated_ohmpm)) return stated_ohmpm;
  const auto sizes = model::class5_sizes();
  const auto* size = model::class5_at_least(section_m2);
  if (size == nullptr) size = &sizes.back();
  return size->resistance_plain_ohmpm * size->section_m2 / section_m2;
}

// Strands fill 0.6 of their circle (common practice, no source); the insulation conducts like PVC,
// the least of the usual ones.
model::Cable<double> cable_of(const CableFigures& c) {
  const double strands_m = model::strand_diameter_m(c.section_m2, 0.6);
  const double stated_m = 0.5 * (c.outer_diameter_m - strands_m);
  return {
      .metal = model::annealed_copper<double>(),
      .resistance_20C_ohmpm = cable_ohmpm(c.section_m2, c.resistance_ohmpm),
      .diameter_conductor_m = strands_m,
      .thickness_insulation_m = std::isnan(stated_m) ? c.insulation_m : std::max(stated_m, 0.3e-3),
      .conductivity_insulation_WpmK = 0.2,
      .emissivity = 0.9};
}

model::CablePlace<double> place_of(const CableFigures& c) {
  return {.air = {.temperature_K = c.hottest_K + under_cover_K, .speed_mps = 0},
          .thickness_sleeve_m = c.sleeve_m,
          .conductivity_sleeve_WpmK = c.sleeve_WpmK,
          .factor_bundle = std::isnan(c.bundled) ? 1 : c.bundled};
}

double cable_temperature_K(const CableFigures& c, double current_A) {
  const double t = model::cable_temperature_K(cable_of(c), place_of(c), current_A);
  return std::isnan(t) ? 600 : t;
}

double cable_current_A(const CableFigures& c, double temperature_max_K) {
  return model::cable_current_A(cable_of(c), place_of(c), temperature_max_K);
}

double cable_k(double temperature_max_K) {
  const double end_K = temperature_max_K < 273.15 + 105.5 ? 273.15 + 160 : 273.15 + 250;
  return model::adiabatic_k(model::adiabatic_copper<double>(), temperature_max_K,
                            std::max(temperature_max_K + 50, end_K));
}

double cable_withstand_A2s(double section_m2, double temperature_max_K) {
  return model::adiabatic_withstand_A2s(cable_k(temperature_max_K), section_m2);
}

FusePoints fuse_points(double rating_A, const MeltingTimes& times) {
  return {{{2 * rating_A, times.at_2x_s},
           {3 * rating_A, times.at_3x_s},
           {5 * rating_A, times.at_5x_s},
           {10 * rating_A, times.at_10x_s}}};
}

double branch_rating_A(double current_A) {
  if (std::isnan(current_A)) return current_A;
  for (const double small : {1.0, 2.0, 3.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0}) {
    if (current_A <= small) return small;
  }
  return model::fuse_rating_at_least_A(current_A);
}

}  // namespace ww::wiring
