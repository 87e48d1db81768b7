// SPDX-License-Identifier: MIT
#include "model/chain.h"

#include "tests/values/registry.h"

namespace {

using namespace ww;
using namespace ww::model;
using namespace ww::values;

constexpr double degree = pi / 180;
constexpr double horsepower_W = 745.699872;

ChainTeeth<double> teeth(const Given& g) {
  return {.pitch_m = g("pitch_m"), .front = g("front"), .rear = g("rear")};
}
TwoCircles<double> circles(const Given& g) {
  return pitch_circles(teeth(g), g("centre_m"));
}
ChainSize<double> chain(const Given& g) {
  return {.pitch_m = g("pitch_m"),
          .roller_diameter_m = g("roller_m"),
          .inner_width_m = g("inner_width_m")};
}
ToothSize<double> tooth(const Given& g) {
  return {.pitch_m = g("tooth_pitch_m"),
          .roller_diameter_m = g("tooth_roller_m"),
          .tooth_width_m = g("tooth_width_m")};
}
ChainRating<double> rating(const Given& g) {
  return {.pitch_m = g("pitch_m"), .teeth = g("teeth"), .speed_radps = g("speed_rpm") * pi / 30};
}
double chain_speed(const Given& g) {
  return chain_speed_mps(g("pitch_m"), g("teeth"), g("speed_rpm") * pi / 30);
}

const Topic topic(
    "model/chain.h",
    {
        {"chain_runs_on", [](const Given& g) { return chain_runs_on(chain(g), tooth(g)) ? 1 : 0; }},
        {"tooth_width_largest_m",
         [](const Given& g) {
           return chain_on_tooth(chain(g), tooth(g)).width_room_m + g("tooth_width_m");
         }},
        {"facing_each_side_m",
         [](const Given& g) { return -chain_on_tooth(chain(g), tooth(g)).width_room_m / 2; }},
        {"roller_undersize_m",
         [](const Given& g) { return 1e-4 - chain_on_tooth(chain(g), tooth(g)).roller_room_m; }},
        {"chain_ratio", [](const Given& g) { return chain_ratio(teeth(g)); }},
        {"chain_length_pitches",
         [](const Given& g) { return chain_length_pitches(teeth(g), g("centre_m")); }},
        {"even_links_above",
         [](const Given& g) {
           return even_links_above(chain_length_pitches(teeth(g), g("centre_m")));
         }},
        {"even_links_below",
         [](const Given& g) {
           return even_links_below(chain_length_pitches(teeth(g), g("centre_m")));
         }},
        {"chain_centre_m", [](const Given& g) { return chain_centre_m(teeth(g), g("links")); }},
        {"chain_path_pitches",
         [](const Given& g) { return chain_path_pitches(teeth(g), g("centre_m")); }},
        {"open_belt_pitches",
         [](const Given& g) {
           const TwoCircles<double> belt{.diameter_front_m = g("front") * g("pitch_m") / pi,
                                         .diameter_rear_m = g("rear") * g("pitch_m") / pi,
                                         .centre_m = g("centre_m")};
           return open_belt_length_m(belt) / g("pitch_m");
         }},
        {"wrap_front_deg", [](const Given& g) { return wrap_front_rad(circles(g)) / degree; }},
        {"wrap_rear_deg", [](const Given& g) { return wrap_rear_rad(circles(g)) / degree; }},
        {"teeth_engaged",
         [](const Given& g) { return teeth_engaged(g("front"), wrap_front_rad(circles(g))); }},
        {"chain_speed_mps", chain_speed},
        {"pitch_circle_speed_mps",
         [](const Given& g) {
           return pitch_circle_speed_mps(pitch_diameter_m(g("pitch_m"), g("teeth")),
                                         g("road_speed_kmh") / 3.6 / g("rolling_radius_m"));
         }},
        {"chain_tension_N",
         [](const Given& g) {
           return chain_tension_N(g("torque_Nm"), pitch_diameter_m(g("pitch_m"), g("teeth")));
         }},
        {"chain_tension_from_power_N",
         [](const Given& g) { return chain_tension_from_power_N(g("power_W"), chain_speed(g)); }},
        {"static_factor",
         [](const Given& g) { return static_factor(g("breaking_load_N"), g("tension_N")); }},
        {"speed_variation_of_mean_percent",
         [](const Given& g) { return 100 * speed_variation_of_mean(g("teeth")); }},
        {"speed_variation_of_max_percent",
         [](const Given& g) { return 100 * speed_variation_of_max(g("teeth")); }},
        {"plate_power_limit_hp",
         [](const Given& g) {
           return plate_power_limit_W(rating(g), g.or_else("plate_factor", 0.004)) / horsepower_W;
         }},
        {"plate_power_limit_W",
         [](const Given& g) {
           return plate_power_limit_W(rating(g), g.or_else("plate_factor", 0.004));
         }},
        {"roller_power_limit_hp",
         [](const Given& g) {
           return roller_power_limit_W(rating(g), g.or_else("roller_factor", 17)) / horsepower_W;
         }},
        {"roller_power_limit_W",
         [](const Given& g) {
           return roller_power_limit_W(rating(g), g.or_else("roller_factor", 17));
         }},
    });

}  // namespace
