// SPDX-License-Identifier: MIT
// Typical figures of a class of bike, for sheets that name no more than the class.
#pragma once

#include <string_view>

#include "build/nouns.h"

namespace ww::build {

/// SI. Common practice, no source (classes.cpp). Geometry is for drawing only; no rule passes on
/// it.
struct ClassFigures {
  std::string_view words;
  double mass_wet_kg, mass_rolling_kg, gross_mass_kg, wheelbase_m;
  double bay_length_m, bay_width_m, bay_height_m;
  double drag_area_m2, cog_height_m, front_share;
  std::string_view tyre_rear, tyre_front;
  int front_teeth, rear_teeth;
};

const ClassFigures& class_figures(BikeClass bike_class);

}  // namespace ww::build
