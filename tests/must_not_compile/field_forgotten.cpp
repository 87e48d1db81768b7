// SPDX-License-Identifier: MIT
// A parameter may not be forgotten: required fields have no default.
// Message: missing initializer for member .*drag_area_m2
#include "model/road.h"

ww::model::RoadLoad<double> load() {
  return {.mass_kg = 250,
          .mass_rotating_equivalent_kg = 8,
          .crr0 = 0.015,
          .crr2_s2pm2 = 1e-6,
#ifndef WRONG
          .drag_area_m2 = 0.6,
#endif
          .air_density_kgpm3 = 1.2};
}
