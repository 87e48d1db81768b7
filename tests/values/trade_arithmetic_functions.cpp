// SPDX-License-Identifier: MIT
// Rows of trade_arithmetic.tsv: the pocket arithmetic of one bike (one efficiency, one resistance,
// no temperatures), through our kernels with those assumptions put in. Most of its rows use
// functions that stand with their own topics; here are those that put several kernels together.
#include <algorithm>
#include <cmath>

#include "model/bisect.h"
#include "model/cell.h"
#include "model/motor_constants.h"
#include "model/pm_motor.h"
#include "model/road.h"
#include "model/sprocket.h"
#include "tests/values/registry.h"

namespace {

using namespace ww;
using namespace ww::model;
using namespace ww::values;

constexpr double kmh = 1 / 3.6;
constexpr double rpm = pi / 30;

// ---- Road ---------------------------------------------------------------------------------------

RoadLoad<double> road_load(const Given& g) {
  return {.mass_kg = g("mass_kg"),
          .mass_rotating_equivalent_kg = 0,
          .crr0 = g("crr"),
          .crr2_s2pm2 = 0,
          .drag_area_m2 = g("drag_area_m2"),
          .air_density_kgpm3 = g("density_kgpm3")};
}

RoadPoint<double> on_road(double speed_kmh, double grade = 0, double headwind_kmh = 0) {
  return {.speed_mps = speed_kmh * kmh, .grade = grade, .headwind_mps = headwind_kmh * kmh};
}

double pack_Whpkm(const Given& g, const RoadPoint<double>& at) {
  return road_force_N(road_load(g), at) / g("efficiency") / 3.6 +
         g("auxiliary_W") / (at.speed_mps / kmh);
}

double wheel_power_W(const Given& g, double speed_kmh) {
  return road_force_N(road_load(g), on_road(speed_kmh)) * speed_kmh * kmh;
}

/// The speed on the level to which a shaft power drives the bike.
double level_speed_kmh(const Given& g) {
  const double wheel_W = g("shaft_kW") * 1e3 * g("chain");
  return bisected(1.0, 300.0, [&](double v) { return wheel_power_W(g, v) < wheel_W; });
}

/// The speed at which a consumption is reached; it rises from 25 km/h up.
double speed_at_consumption_kmh(const Given& g) {
  return bisected(25.0, 300.0,
                  [&](double v) { return pack_Whpkm(g, on_road(v)) < g("target_Whpkm"); });
}

double speed_at_pack_power_kmh(const Given& g) {
  return bisected(1.0, 300.0,
                  [&](double v) { return pack_Whpkm(g, on_road(v)) * v < g("pack_W"); });
}

/// Where riding and charging together take least time per km: 1/v + w(v)/P.
double speed_of_least_time_kmh(const Given& g) {
  const double socket_W = g("socket_kW") * 1e3;
  const auto hours = [&](double v) { return 1 / v + pack_Whpkm(g, on_road(v)) / socket_W; };
  const double step = 1e-3;
  return bisected(15.0, 200.0, [&](double v) { return hours(v + step) < hours(v - step); });
}

double range_km(const Given& g) {
  const auto at = on_road(g("speed_kmh"), 0, g.or_else("headwind_kmh", 0));
  return g("energy_Wh") / pack_Whpkm(g, at);
}

/// Energy that a pack must have new for a distance, of which a share is usable and left with age.
double label_energy_kWh(const Given& g) {
  return pack_Whpkm(g, on_road(g("speed_kmh"))) * g("distance_km") / g("usable") / g("aged") / 1e3;
}

/// The grade at which a thrust is used up, as rise over run.
double grade_held_percent(const Given& g) {
  const RoadLoad<double> load{.mass_kg = g("mass_kg"),
                              .mass_rotating_equivalent_kg = 0,
                              .crr0 = g("crr"),
                              .crr2_s2pm2 = 0,
                              .drag_area_m2 = 0,
                              .air_density_kgpm3 = 1.2};
  return 100 * bisected(0.0, 0.5, [&](double grade) {
           return road_force_N(load, on_road(10, grade)) < g("thrust_N");
         });
}

/// Standing start: full thrust until the shaft power holds it down.
double time_to_speed_s(const Given& g) {
  const auto load = road_load(g);
  const double end = g("speed_kmh") * kmh, dt = 1e-3;
  double v = 0;
  for (double time = 0; time < 120; time += dt) {
    const double by_power = g("shaft_kW") * 1e3 * g("chain") / std::max(v, 1e-3);
    const double thrust = std::min(g("thrust_N"), by_power);
    const auto next = advance(load, on_road(v / kmh), thrust, dt);
    if (next.speed_end_mps >= end) return time + dt;
    v = next.speed_end_mps;
  }
  return std::nan("");
}

const Topic road("model/road.h", {
                                     {"level_speed_kmh", level_speed_kmh},
                                     {"level_shaft_kW",
                                      [](const Given& g) {
                                        return wheel_power_W(g, g("speed_kmh")) / g("chain") / 1e3;
                                      }},
                                     {"speed_at_consumption_kmh", speed_at_consumption_kmh},
                                     {"speed_at_pack_power_kmh", speed_at_pack_power_kmh},
                                     {"speed_of_least_time_kmh", speed_of_least_time_kmh},
                                     {"steady_range_km", range_km},
                                     {"label_energy_kWh", label_energy_kWh},
                                     {"grade_held_percent", grade_held_percent},
                                     {"time_to_speed_s", time_to_speed_s},
                                 });

// ---- Pack ---------------------------------------------------------------------------------------

CellSource<double> pack_source(const Given& g) {
  return {.emf_V = g("emf_V"), .resistance_ohm = g("resistance_mohm") / 1e3};
}

const Topic pack(
    "model/cell.h",
    {
        {"pack_loop_mohm",
         [](const Given& g) {
           const PackLayout<double> layout{
               .series = g("series"),
               .parallel = 1,
               .interconnect_ohm = (g("series") * g("link_mohm") + g("outside_mohm")) / 1e3};
           return pack_resistance_ohm(layout, g("group_mohm") / 1e3) * 1e3;
         }},
        {"loaded_V",
         [](const Given& g) { return terminal_voltage_V(pack_source(g), g("current_A")); }},
        {"loaded_cell_V",
         [](const Given& g) {
           return terminal_voltage_V(pack_source(g), g("current_A")) / g("series");
         }},
        {"sag_V",
         [](const Given& g) {
           const auto source = pack_source(g);
           return source.emf_V - terminal_voltage_V(source, g("current_A"));
         }},
        {"ohmic_heat_kW",
         [](const Given& g) {
           const auto source = pack_source(g);
           const double I = g("current_A");
           return cell_heat_W<double>(
                      {.current_A = I,
                       .overpotential_V = source.emf_V - terminal_voltage_V(source, I),
                       .temperature_K = 293.15,
                       .entropy_V_per_K = 0}) /
                  1e3;
         }},
        {"current_at_level_speed_A",
         [](const Given& g) {
           const double speed = g("speed_kmh");
           return current_at_power_A(pack_source(g), pack_Whpkm(g, on_road(speed)) * speed);
         }},
        {"shaft_at_current_kW",
         [](const Given& g) {
           const double I = g("current_A");
           return terminal_voltage_V(pack_source(g), I) * I * g("to_shaft") / 1e3;
         }},
    });

// ---- Motor and gearing --------------------------------------------------------------------------

PmMotor<double> ideal_motor(const Given& g) {
  const double pairs = 5;
  return {.resistance_phase_ohm = 0,
          .inductance_d_H = 0,
          .inductance_q_H = 0,
          .flux_peak_Wb = flux_from_speed_constant(g("rpm_per_V") * rpm, pairs,
                                                   VoltageConvention::line_line_peak),
          .pole_pairs = pairs,
          .drag_constant_Nm = 0,
          .drag_linear_Nms = 0,
          .drag_quadratic_Nms2 = 0};
}

double unloaded_rpm(const Given& g) {
  const double phase_V = g("v") * g.or_else("modulation", 1) / std::sqrt(3.0);
  return no_load_speed(ideal_motor(g), phase_V) / rpm;
}

double wheel_radius_m(const Given& g) {
  return g("roll_out_m") / (2 * pi);
}

const Topic motor("model/pm_motor.h",
                  {
                      {"unloaded_rpm", unloaded_rpm},
                      {"unloaded_wheel_rpm",
                       [](const Given& g) { return unloaded_rpm(g) * g("front") / g("rear"); }},
                      {"road_speed_at_volts_kmh",
                       [](const Given& g) {
                         return road_speed_mps(unloaded_rpm(g) * rpm, g("rear") / g("front"),
                                               wheel_radius_m(g)) /
                                kmh;
                       }},
                      {"towed_rpm",
                       [](const Given& g) {
                         return shaft_speed_radps(g("speed_kmh") * kmh, g("rear") / g("front"),
                                                  wheel_radius_m(g)) /
                                rpm;
                       }},
                      {"turned_V",
                       [](const Given& g) {
                         return back_emf_line_line_peak(ideal_motor(g), g("shaft_rpm") * rpm);
                       }},
                      {"towed_V",
                       [](const Given& g) {
                         const double omega = shaft_speed_radps(
                             g("speed_kmh") * kmh, g("rear") / g("front"), wheel_radius_m(g));
                         return back_emf_line_line_peak(ideal_motor(g), omega);
                       }},
                  });

const Topic sprockets("model/sprocket.h",
                      {{"over_rollers_m", [](const Given& g) {
                          const double roller = g("roller_m");
                          return root_diameter_m<double>({.pitch_m = g("pitch_m"),
                                                          .roller_diameter_m = roller,
                                                          .teeth = g("teeth")}) +
                                 2 * roller;
                        }}});

}  // namespace
