// SPDX-License-Identifier: MIT
#include "model/wire_tables.h"

#include <algorithm>
#include <array>
#include <limits>

namespace ww::model {
namespace {

constexpr double none = std::numeric_limits<double>::quiet_NaN();

// Smaller sizes are listed plain only.
constexpr std::array<Class5Size, 12> class5{{
    {1.5e-6, 13.3e-3, none},
    {2.5e-6, 7.98e-3, none},
    {4e-6, 4.95e-3, none},
    {6e-6, 3.30e-3, none},
    {10e-6, 1.91e-3, 1.95e-3},
    {16e-6, 1.21e-3, 1.24e-3},
    {25e-6, 0.780e-3, 0.795e-3},
    {35e-6, 0.554e-3, 0.565e-3},
    {50e-6, 0.386e-3, 0.393e-3},
    {70e-6, 0.272e-3, 0.277e-3},
    {95e-6, 0.206e-3, 0.210e-3},
    {120e-6, 0.161e-3, 0.164e-3},
}};

constexpr std::array<GaugeCurrents, 14> currents{{
    {18, none, none, 18, 20, 17},
    {16, none, none, 24, 25, 21},
    {14, 25, 30, 35, 35, 30},
    {12, 30, 35, 40, 45, 38},
    {10, 40, 50, 55, 60, 51},
    {8, 60, 70, 80, 80, 68},
    {6, 80, 95, 105, 120, 102},
    {4, 105, 125, 140, 160, 136},
    {3, 120, 145, 165, 180, 153},
    {2, 140, 170, 190, 210, 178},
    {1, 165, 195, 220, 245, 208},
    {0, 195, 230, 260, 285, 242},
    {-1, 225, 265, 300, 330, 280},
    {-3, 300, 360, 405, 445, 378},
}};

constexpr std::array<double, 27> ratings{15,  20,  25,  30,  35,  40,  45,  50,  60,
                                         70,  80,  90,  100, 110, 125, 150, 175, 200,
                                         225, 250, 300, 350, 400, 450, 500, 600, 700};

// A section typed as 25 mm2 and one computed as 25.0000001 mm2 are the same size.
constexpr double nearly_one = 1 - 1e-9;

}  // namespace

std::span<const Class5Size> class5_sizes() {
  return class5;
}

std::span<const GaugeCurrents> gauge_currents() {
  return currents;
}

std::span<const double> fuse_ratings_A() {
  return ratings;
}

const Class5Size* class5_at_least(double section_m2) {
  const auto* const at =
      std::ranges::lower_bound(class5, section_m2 * nearly_one, {}, &Class5Size::section_m2);
  return at == class5.end() ? nullptr : at;
}

double fuse_rating_at_least_A(double current_A) {
  const auto* const at = std::ranges::lower_bound(ratings, current_A * nearly_one);
  return at == ratings.end() ? none : *at;
}

}  // namespace ww::model
