// SPDX-License-Identifier: MIT
#include "model/thermal.h"
#include "tests/values/registry.h"

namespace {

using namespace ww::model;
using namespace ww::values;

TwoNodes<double> nodes_of(const Given& g) {
  return {.inner_J_per_K = g("inner_J_per_K"),
          .outer_J_per_K = g("outer_J_per_K"),
          .between_K_per_W = g("between_K_per_W"),
          .air_K_per_W = g("air_K_per_W")};
}
TwoHeats<double> heat_of(const Given& g) {
  return {.inner_W = g("inner_W"), .outer_W = g.or_else("outer_W", 0)};
}
constexpr TwoRises<double> cold{0, 0};

/// A cell in still air: one node with the surface of a cylinder.
ThermalNode<double> cell_node(const Given& g) {
  const double area_m2 = cylinder_surface_m2(g("diameter_m"), g("length_m"));
  return {.capacity_J_per_K = g("mass_kg") * g("heat_JpkgK"),
          .resistance_K_per_W = 1 / (g("convection_W_per_m2K") * area_m2)};
}

NodeRatings<double> ratings_of(const Given& g) {
  const double continuous_W = g("continuous_W");
  const double ratio = g("torque_ratio");
  return {.continuous_W = continuous_W,
          .peak_W = continuous_W * ratio * ratio,
          .peak_s = g("peak_s"),
          .limit_K = g("limit_K")};
}

const Topic thermal(
    "model/thermal.h",
    {{"time_constant_from_peak_s",
      [](const Given& g) {
        const double ratio = g("torque_ratio");
        return time_constant_from_peak_s(1 / (ratio * ratio), g("peak_s"));
      }},
     {"node_from_ratings_J_per_K",
      [](const Given& g) { return node_from_ratings(ratings_of(g)).capacity_J_per_K; }},
     {"node_from_ratings_K_per_W",
      [](const Given& g) { return node_from_ratings(ratings_of(g)).resistance_K_per_W; }},
     {"cell_free_air_time_s", [](const Given& g) { return node_time_constant_s(cell_node(g)); }},
     {"cell_free_air_rise_K",
      [](const Given& g) { return node_rise_steady_K(cell_node(g), g("heat_W")); }},
     {"cell_free_air_first_K_per_min",
      [](const Given& g) {
        constexpr double step_s = 1e-3;
        return node_rise_next_K(cell_node(g), 0.0, g("heat_W"), step_s) / step_s * 60;
      }},
     {"cylinder_surface_m2",
      [](const Given& g) { return cylinder_surface_m2(g("diameter_m"), g("length_m")); }},
     {"discharge_rise_K",
      [](const Given& g) {
        return discharge_rise_K(g("rate_per_h") * g("charge_Ah"), g("resistance_ohm"),
                                g("charge_Ah") * 3600, g("mass_kg") * g("heat_JpkgK"));
      }},
     {"two_node_quick_s", [](const Given& g) { return two_node_times_s(nodes_of(g)).quick_s; }},
     {"two_node_slow_s", [](const Given& g) { return two_node_times_s(nodes_of(g)).slow_s; }},
     {"two_node_steady_inner_K",
      [](const Given& g) { return two_node_steady_K(nodes_of(g), heat_of(g)).inner_K; }},
     {"two_node_steady_outer_K",
      [](const Given& g) { return two_node_steady_K(nodes_of(g), heat_of(g)).outer_K; }},
     {"two_node_after_inner_K",
      [](const Given& g) {
        return two_node_after_K(nodes_of(g), cold, heat_of(g), g("time_s")).inner_K;
      }},
     {"two_node_after_outer_K",
      [](const Given& g) {
        return two_node_after_K(nodes_of(g), cold, heat_of(g), g("time_s")).outer_K;
      }},
     {"two_node_time_to_limit_s",
      [](const Given& g) {
        return two_node_time_to_limit_s(nodes_of(g), cold, heat_of(g), g("limit_K"));
      }},
     {"two_nodes_from_ratings_between_K_per_W",
      [](const Given& g) {
        const double limit_K = g("limit_K");
        const double continuous_W = limit_K / g("whole_K_per_W");
        return two_nodes_from_ratings<double>(
                   {.inner_J_per_K = g("inner_J_per_K"),
                    .outer_J_per_K = g("outer_J_per_K"),
                    .continuous = {.inner_W = continuous_W, .outer_W = 0},
                    .peak = {.inner_W = g("peak_W"), .outer_W = 0},
                    .peak_s = g("peak_s"),
                    .limit_K = limit_K})
            .between_K_per_W;
      }},
     {"copper_loss_factor",
      [](const Given& g) { return copper_loss_factor(g("temperature_C") + 273.15); }},
     {"copper_steady_C",
      [](const Given& g) {
        return copper_steady_K(g("ambient_C") + 273.15, g("loss_20C_W"), g("resistance_K_per_W")) -
               273.15;
      }},
     {"copper_adiabatic_Kps",
      [](const Given& g) {
        return copper_adiabatic_Kps(g("density_A_per_mm2") * 1e6, g("temperature_C") + 273.15);
      }},
     {"cylinder_convection_W_per_m2K",
      [](const Given& g) {
        return cylinder_convection_W_per_m2K(warm_air_film<double>(), g("diameter_m"),
                                             g("speed_mps"));
      }},
     {"plate_convection_W_per_m2K",
      [](const Given& g) { return plate_convection_W_per_m2K(g("speed_mps")); }},
     {"radiation_W_per_m2K",
      [](const Given& g) {
        return radiation_W_per_m2K(g("emissivity"), g("surface_C") + 273.15,
                                   g("ambient_C") + 273.15);
      }},
     {"life_factor_halving",
      [](const Given& g) {
        return life_factor_halving(g("temperature_C"), g("reference_C"), g("halving_K"));
      }},
     {"intermittent_rms_A", [](const Given& g) {
        return intermittent_rms_A(g("current_A"), g("on_s"), g("period_s"));
      }}});

const Topic law("model/arrhenius.h", {{"arrhenius_life_ratio", [](const Given& g) {
                                         constexpr double eV_J_per_mol = 96485.33212;
                                         return arrhenius_slowing(g("activation_eV") * eV_J_per_mol,
                                                                  g("cool_C") + 273.15,
                                                                  g("hot_C") + 273.15);
                                       }}});

}  // namespace
