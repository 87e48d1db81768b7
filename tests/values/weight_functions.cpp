// SPDX-License-Identifier: MIT
// Rows of weight.tsv: centre of gravity and limits, springs, brakes.
#include "model/weight.h"

#include "model/brake.h"
#include "model/spring.h"
#include "tests/values/registry.h"

namespace {

using namespace ww;
using namespace ww::model;
using namespace ww::values;

constexpr double gravity = 9.80665;

Stance<double> stance(const Given& g) {
  return {.mass_kg = g.or_else("mass_kg", 200),
          .wheelbase_m = g("wheelbase_m"),
          .cg_to_rear_m = g("cg_to_rear_m"),
          .cg_height_m = g("cg_height_m")};
}
Pull<double> pull(const Given& g) {
  return {.grade = g.or_else("grade", 0),
          .drag_N = g.or_else("drag_N", 0),
          .drag_height_m = g.or_else("drag_height_m", 0)};
}

const Topic weights(
    "model/weight.h",
    {
        {"wheelie_acceleration_g",
         [](const Given& g) { return wheelie_acceleration_mps2(stance(g), pull(g)) / gravity; }},
        {"wheelie_acceleration_mps2",
         [](const Given& g) { return wheelie_acceleration_mps2(stance(g), pull(g)); }},
        {"wheelie_time_s",
         [](const Given& g) {
           return g("speed_kmh") / 3.6 / wheelie_acceleration_mps2(stance(g), pull(g));
         }},
        {"grip_acceleration_g",
         [](const Given& g) {
           const auto s = stance(g);
           return grip_thrust_N(s, pull(g), g("friction")) / (s.mass_kg * gravity);
         }},
        {"cg_to_rear_m",
         [](const Given& g) {
           return cg_to_rear_m(g("mass_front_kg"), g("mass_rear_kg"), g("wheelbase_m"));
         }},
        {"load_transfer_N",
         [](const Given& g) { return load_transfer_N(stance(g), g("acceleration_mps2")); }},
        {"wheel_load_front_N",
         [](const Given& g) {
           return wheel_loads(stance(g), pull(g), g("acceleration_mps2")).front_N;
         }},
        {"wheel_load_rear_N",
         [](const Given& g) {
           return wheel_loads(stance(g), pull(g), g("acceleration_mps2")).rear_N;
         }},
        {"wheelie_thrust_N", [](const Given& g) { return wheelie_thrust_N(stance(g), pull(g)); }},
        {"stoppie_deceleration_mps2",
         [](const Given& g) { return stoppie_deceleration_mps2(stance(g), pull(g)); }},
        {"rear_braking_limit_N",
         [](const Given& g) { return rear_braking_limit_N(stance(g), pull(g), g("friction")); }},
        {"cg_height_m",
         [](const Given& g) {
           return cg_height_m(
               TiltedWeighing<double>{.mass_total_kg = g("mass_kg"),
                                      .mass_front_level_kg = g("mass_front_level_kg"),
                                      .mass_front_tilted_kg = g("mass_front_tilted_kg"),
                                      .wheelbase_m = g("wheelbase_m"),
                                      .wheel_radius_m = g("wheel_radius_m"),
                                      .tilt_rad = g("tilt_deg") * pi / 180});
         }},
        {"inertia_force_N",
         [](const Given& g) { return inertia_force_N(g("mass_kg"), g("multiple_of_gravity")); }},
    });

const Topic springs(
    "model/spring.h",
    {
        {"spring_rate_scaled_kgpmm",
         [](const Given& g) {
           const double to_Npm = gravity * 1000;
           const double old = g("rate_kgpmm") * to_Npm;
           return spring_rate_scaled_Npm(old, g("load_old_kg"), g("load_new_kg")) / to_Npm;
         }},
        {"spring_rate_Npm",
         [](const Given& g) { return spring_rate_Npm(g("load_N"), g("deflection_m")); }},
        {"spring_sag_m",
         [](const Given& g) {
           return spring_sag_m(
               Spring<double>{.rate_Npm = g("rate_Npm"), .preload_m = g("preload_m")}, g("load_N"));
         }},
        {"sag_share", [](const Given& g) { return sag_share(g("sag_m"), g("travel_m")); }},
        {"sag_measured_m",
         [](const Given& g) {
           return sag_measured_m(g("extended_m"), g("pressed_m"), g("lifted_m"));
         }},
    });

const Topic brakes(
    "model/brake.h",
    {
        {"stop_energy_J",
         [](const Given& g) { return stop_energy_J(g("mass_kg"), g("speed_kmh") / 3.6); }},
        {"stop_energy_Wh",
         [](const Given& g) { return stop_energy_J(g("mass_kg"), g("speed_kmh") / 3.6) / 3600; }},
        {"stop_distance_m",
         [](const Given& g) {
           return stop_distance_m(Stop<double>{.speed_mps = g("speed_kmh") / 3.6,
                                               .deceleration_mps2 = g("deceleration_mps2"),
                                               .reaction_s = g.or_else("reaction_s", 0)});
         }},
        {"stop_energy_ratio",
         [](const Given& g) {
           return stop_energy_ratio(StopChange<double>{.mass_old_kg = g("mass_old_kg"),
                                                       .mass_new_kg = g("mass_new_kg"),
                                                       .speed_old_mps = g("speed_kmh") / 3.6,
                                                       .speed_new_mps = g("speed_kmh") / 3.6});
         }},
    });

}  // namespace
