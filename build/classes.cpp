// SPDX-License-Identifier: MIT
// What is assumed of a bike whose figures nobody has taken yet: typical values of its class with
// wide spreads. Every row: common practice, no source, unless it says otherwise.
#include <array>
#include <cmath>

#include "build/classes.h"
#include "build/declare.h"

namespace ww::build {

namespace {

using namespace declare;

constexpr std::string_view practice = "typical of the class of bike: common practice, no source";

constexpr std::array<ClassFigures, 9> classes{{
    {"a motorcycle", 170, 100, 350, 1400 * mm, 400 * mm, 240 * mm, 430 * mm, 0.55, 620 * mm, 0.49,
     "140/70-17", "110/70-17", 14, 46},
    {"125 naked", 120, 75, 295, 1300 * mm, 330 * mm, 220 * mm, 380 * mm, 0.50, 600 * mm, 0.48,
     "110/80-17", "90/80-17", 14, 48},
    {"250-300 single or twin", 152, 98, 335, 1380 * mm, 380 * mm, 240 * mm, 420 * mm, 0.54,
     620 * mm, 0.48, "140/70-17", "110/70-17", 14, 48},
    {"400-500 twin", 177, 109, 370, 1420 * mm, 420 * mm, 260 * mm, 440 * mm, 0.55, 630 * mm, 0.49,
     "150/70-17", "110/80-17", 14, 50},
    {"600-650 twin", 197, 119, 405, 1440 * mm, 450 * mm, 270 * mm, 450 * mm, 0.56, 640 * mm, 0.49,
     "160/60-17", "120/70-17", 15, 48},
    {"600 sport", 195, 112, 395, 1390 * mm, 430 * mm, 250 * mm, 450 * mm, 0.40, 640 * mm, 0.51,
     "180/55-17", "120/70-17", 15, 46},
    {"750-900 cruiser", 240, 136, 440, 1600 * mm, 520 * mm, 250 * mm, 430 * mm, 0.62, 590 * mm,
     0.45, "150/80-16", "100/90-19", 15, 46},
    {"250-450 enduro", 117, 72, 285, 1470 * mm, 330 * mm, 200 * mm, 480 * mm, 0.55, 700 * mm, 0.47,
     "120/90-18", "90/90-21", 13, 50},
    {"125-300 scooter", 145, 88, 330, 1370 * mm, 450 * mm, 220 * mm, 160 * mm, 0.55, 560 * mm, 0.42,
     "130/70-13", "110/70-14", 14, 42},
}};

double drag_by_posture(Posture posture, double of_class) {
  switch (posture) {
    case Posture::upright:
      return std::max(of_class, 0.50);
    case Posture::leaning:
      return std::min(of_class, 0.45);
    case Posture::tucked:
      return std::min(of_class, 0.34);
    case Posture::upright_with_luggage:
      return 0.70;
    case Posture::unknown:
      break;
  }
  return of_class;
}

}  // namespace

const ClassFigures& class_figures(BikeClass bike_class) {
  return classes[static_cast<std::size_t>(bike_class)];
}

Prior prior_of(const Build& build, Id id) {
  const Entry& entry = schema()[id];
  if (entry.slot->key != "donor") return entry.info->prior;
  const BikeClass bike_class = build.donor ? build.donor->bike_class : BikeClass::unknown;
  const ClassFigures& c = class_figures(bike_class);
  // A class not named spreads twice as wide: the answer must not look surer than it is.
  const double wide = bike_class == BikeClass::unknown ? 2 : 1;
  const std::string_view key = entry.info->key;
  if (key == "drag_area") {
    const double area =
        drag_by_posture(build.rider ? build.rider->posture : Posture::unknown, c.drag_area_m2);
    return {area, 0.08 * area * 1.28 * wide,
            "by class and posture, within what 40 CFR 86.529-98 and published ranges give; spread "
            "from memory"};
  }
  if (key == "mass_wet") return {c.mass_wet_kg, 15 * wide, practice};
  if (key == "mass_rolling") return {c.mass_rolling_kg, 9 * wide, practice};
  if (key == "wheelbase") return {c.wheelbase_m, 40 * mm * wide, practice};
  if (key == "cog_height") return {c.cog_height_m, 45 * mm * wide, practice};
  if (key == "original_front_share") return {c.front_share, 0.025 * wide, practice};
  return entry.info->prior;
}

bool decides_priors(const Slot& slot) {
  return slot.key == "donor" || slot.key == "rider";
}

}  // namespace ww::build
