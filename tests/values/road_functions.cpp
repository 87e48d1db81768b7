// SPDX-License-Identifier: MIT
// Rows of road.tsv. Cycles come from data/cycles under the source directory.
#include "model/road.h"

#include <array>
#include <fstream>
#include <vector>

#include "model/chain.h"
#include "tests/values/registry.h"

namespace {

using namespace ww;
using namespace ww::model;
using namespace ww::values;

constexpr double gravity = 9.80665;
constexpr double kmh = 1 / 3.6;
constexpr double mph = 0.44704;

/// A trace on the 1 s grid in m/s; the header says which unit the file has.
std::vector<double> cycle(const std::string& name) {
  std::ifstream in(std::string(WW_SOURCE_DIR) + "/data/cycles/" + name + ".csv");
  if (!in) throw std::runtime_error("no cycle " + name);
  std::vector<double> speeds;
  double unit = 0;
  for (std::string line; std::getline(in, line);) {
    if (line.empty() || line[0] == '#') continue;
    if (line.rfind("time_s", 0) == 0) {
      unit = line.find("mph") != std::string::npos ? mph : kmh;
      continue;
    }
    if (std::stoul(line) != speeds.size()) throw std::runtime_error(name + " is not a 1 s grid");
    speeds.push_back(std::stod(line.substr(line.find(',') + 1)) * unit);
  }
  if (unit == 0) throw std::runtime_error(name + " does not name its unit");
  return speeds;
}

CycleFigures<double> figures(const Given& g) {
  const auto speeds = cycle(g.text("cycle"));
  return cycle_figures(std::span<const double>(speeds), 1.0);
}

RoadLoad<double> road_load(const Given& g) {
  return {.mass_kg = g("mass_kg"),
          .mass_rotating_equivalent_kg = g.or_else("rotating_kg", 0),
          .crr0 = g("crr"),
          .crr2_s2pm2 = 0,
          .drag_area_m2 = g("drag_area_m2"),
          .air_density_kgpm3 = g("density_kgpm3")};
}

RoadPoint<double> point(const Given& g) {
  return {.speed_mps = g("speed_kmh") * kmh,
          .grade = g.or_else("grade", 0),
          .headwind_mps = g.or_else("headwind_kmh", 0) * kmh};
}

struct Energy {
  double positive_J = 0, negative_J = 0, distance_m = 0;
};
Energy wheel_energy(const Given& g) {
  const auto load = road_load(g);
  const auto speeds = cycle(g.text("cycle"));
  Energy sum;
  for (std::size_t i = 1; i < speeds.size(); ++i) {
    const auto d = trace_demand(load, TraceStep<double>{.speed_start_mps = speeds[i - 1],
                                                        .speed_end_mps = speeds[i],
                                                        .duration_s = 1,
                                                        .grade = 0,
                                                        .headwind_mps = 0});
    (d.energy_J > 0 ? sum.positive_J : sum.negative_J) += d.energy_J;
    sum.distance_m += d.distance_m;
  }
  return sum;
}
double Wh_per_km(double energy_J, double distance_m) {
  return energy_J / 3.6 / distance_m;
}

QuadraticLoad<double> quadratic(const Given& g) {
  return {.constant_N = g("a_N"), .quadratic_Ns2pm2 = g("c_Nkmh2") / (kmh * kmh)};
}

/// The time for 70 to 60 km/h by riding the road model in 10 ms steps, the last one by proportion.
double coast_down_stepped(const Given& g) {
  const double density = 1.2;
  const auto q = quadratic(g);
  const RoadLoad<double> load{.mass_kg = g("mass_kg"),
                              .mass_rotating_equivalent_kg = 0,
                              .crr0 = q.constant_N / (g("mass_kg") * gravity),
                              .crr2_s2pm2 = 0,
                              .drag_area_m2 = drag_area_of_m2(q, density),
                              .air_density_kgpm3 = density};
  double speed = 70 * kmh;
  const double end = 60 * kmh, dt = 0.01;
  for (double time = 0;; time += dt) {
    const auto next = advance(load, {.speed_mps = speed, .grade = 0, .headwind_mps = 0}, 0.0, dt);
    if (next.speed_end_mps <= end) return time + dt * (speed - end) / (speed - next.speed_end_mps);
    speed = next.speed_end_mps;
  }
}

/// Mean speed of parts in a row, each clipped at a top speed.
double average_kmh(const Given& g) {
  const double cap = g.or_else("cap_kmh", 1000) * kmh;
  double distance = 0, duration = 0;
  std::string names = g.text("cycles") + "+";
  for (std::size_t at = names.find('+'); at != std::string::npos; at = names.find('+')) {
    auto speeds = cycle(names.substr(0, at));
    for (double& v : speeds) v = std::min(v, cap);
    const auto f = cycle_figures(std::span<const double>(speeds), 1.0);
    distance += f.distance_m;
    duration += f.duration_s;
    names.erase(0, at + 1);
  }
  return distance / duration / kmh;
}

/// What the pack gives per km at steady speed through one efficiency and a constant draw.
double pack_Wh_per_km(const Given& g) {
  const double force = road_force_N(road_load(g), point(g));
  return force / g("efficiency") / 3.6 + g("auxiliary_W") / g("speed_kmh");
}

const Topic topic(
    "model/road.h",
    {
        {"quadratic_force_N",
         [](const Given& g) { return quadratic_force_N(quadratic(g), g("speed_kmh") * kmh); }},
        {"coast_down_time_s",
         [](const Given& g) {
           return coast_down_time_s(quadratic(g),
                                    CoastDown<double>{.mass_effective_kg = g("mass_kg"),
                                                      .speed_start_mps = 70 * kmh,
                                                      .speed_end_mps = 60 * kmh});
         }},
        {"coast_down_stepped_s", coast_down_stepped},
        {"coast_down_mean_force_N",
         [](const Given& g) {
           return coast_down_force_N(CoastDown<double>{.mass_effective_kg = g("mass_kg"),
                                                       .speed_start_mps = 70 * kmh,
                                                       .speed_end_mps = 60 * kmh},
                                     g("time_s"));
         }},
        {"us_load_a_N", [](const Given& g) { return us_motorcycle_load(g("mass_kg")).constant_N; }},
        {"us_load_c_Nkmh2",
         [](const Given& g) {
           return us_motorcycle_load(g("mass_kg")).quadratic_Ns2pm2 * kmh * kmh;
         }},
        {"us_load_force_65_N",
         [](const Given& g) {
           return quadratic_force_N(us_motorcycle_load(g("mass_kg")), 65 * kmh);
         }},
        {"gtr2_load_a_N",
         [](const Given& g) { return gtr2_motorcycle_load(g("mass_kg")).constant_N; }},
        {"gtr2_load_b_Nkmh2",
         [](const Given& g) {
           return gtr2_motorcycle_load(g("mass_kg")).quadratic_Ns2pm2 * kmh * kmh;
         }},
        {"gtr2_load_force_N",
         [](const Given& g) {
           return quadratic_force_N(gtr2_motorcycle_load(g("mass_kg")), g("speed_kmh") * kmh);
         }},
        {"gtr2_drag_area_m2",
         [](const Given& g) {
           return drag_area_of_m2(gtr2_motorcycle_load(g("mass_kg")), g("density_kgpm3"));
         }},
        {"drag_area_of_m2",
         [](const Given& g) {
           const QuadraticLoad<double> q{.constant_N = 0,
                                         .quadratic_Ns2pm2 = g("c_Nkmh2") / (kmh * kmh)};
           return drag_area_of_m2(q, g("density_kgpm3"));
         }},
        {"quadratic_power_W",
         [](const Given& g) {
           const double v = g("speed_kmh") * kmh;
           return quadratic_force_N(quadratic(g), v) * v;
         }},
        {"road_force_N", [](const Given& g) { return road_force_N(road_load(g), point(g)); }},
        {"rolling_force_N", [](const Given& g) { return rolling_force_N(road_load(g), point(g)); }},
        {"grade_force_N", [](const Given& g) { return grade_force_N(road_load(g), point(g)); }},
        {"drag_force_N", [](const Given& g) { return drag_force_N(road_load(g), point(g)); }},
        {"drag_ratio_headwind",
         [](const Given& g) {
           auto at = point(g);
           const double with = drag_force_N(road_load(g), at);
           at.headwind_mps = 0;
           return with / drag_force_N(road_load(g), at);
         }},
        {"pack_consumption_Whpkm", pack_Wh_per_km},
        {"pack_power_W", [](const Given& g) { return pack_Wh_per_km(g) * g("speed_kmh"); }},
        {"pack_consumption_ratio",
         [](const Given& g) {
           const auto load = road_load(g);
           auto at = point(g);
           const double aux = g("auxiliary_W") / at.speed_mps;
           const double with = road_force_N(load, at) / g("efficiency") + aux;
           at.headwind_mps = 0;
           return with / (road_force_N(load, at) / g("efficiency") + aux);
         }},
        {"climb_energy_Wh_per_100m",
         [](const Given& g) {
           // 100 m of height at 10 %: the way along the road is 100 m over the sine.
           const RoadPoint<double> at{.speed_mps = 10, .grade = 0.1, .headwind_mps = 0};
           const RoadLoad<double> load{.mass_kg = g("mass_kg"),
                                       .mass_rotating_equivalent_kg = 0,
                                       .crr0 = 0,
                                       .crr2_s2pm2 = 0,
                                       .drag_area_m2 = 0,
                                       .air_density_kgpm3 = 1.2};
           const double way = 100 * std::sqrt(1 + 0.1 * 0.1) / 0.1;
           return grade_force_N(load, at) * way / 3600 / g("efficiency");
         }},
        {"drag_equals_rolling_kmh",
         [](const Given& g) { return drag_equals_rolling_mps(road_load(g)) / kmh; }},
        {"crr_motorcycle_tyre",
         [](const Given& g) {
           return crr_motorcycle_tyre(g("speed_kmh") * kmh, g("pressure_bar") * 1e5);
         }},
        {"crr_pneumatic_tyre",
         [](const Given& g) {
           return crr_pneumatic_tyre(g("speed_kmh") * kmh, g("pressure_bar") * 1e5);
         }},
        {"thrust_from_shaft_N",
         [](const Given& g) {
           const ChainTeeth<double> z{.pitch_m = 0.015875, .front = g("front"), .rear = g("rear")};
           return thrust_N(g("torque_Nm") * chain_ratio(z) * g("efficiency"),
                           g("roll_out_m") / (2 * pi));
         }},
        {"road_speed_kmh",
         [](const Given& g) {
           return road_speed_mps(g("shaft_rpm") * pi / 30, g("ratio"), g("roll_out_m") / (2 * pi)) /
                  kmh;
         }},
        {"wheel_speed_radps",
         [](const Given& g) {
           return shaft_speed_radps(g("speed_kmh") * kmh, 1.0, g("rolling_radius_m"));
         }},
        {"steady_energy_Whpkm",
         [](const Given& g) {
           const RoadPoint<double> at{
               .speed_mps = g("speed_mph") * mph, .grade = 0, .headwind_mps = 0};
           return road_force_N(road_load(g), at) / 3.6;
         }},
        {"steady_power_kW",
         [](const Given& g) {
           const RoadPoint<double> at{
               .speed_mps = g("speed_mph") * mph, .grade = 0, .headwind_mps = 0};
           return road_force_N(road_load(g), at) * at.speed_mps / 1000;
         }},
        {"cycle_energy_positive_Whpkm",
         [](const Given& g) {
           const Energy e = wheel_energy(g);
           return Wh_per_km(e.positive_J, e.distance_m);
         }},
        {"cycle_energy_negative_Whpkm",
         [](const Given& g) {
           const Energy e = wheel_energy(g);
           return Wh_per_km(-e.negative_J, e.distance_m);
         }},
        {"cycle_distance_km", [](const Given& g) { return figures(g).distance_m / 1000; }},
        {"cycle_distance_mi", [](const Given& g) { return figures(g).distance_m / 1609.344; }},
        {"cycle_duration_s", [](const Given& g) { return figures(g).duration_s; }},
        {"cycle_average_kmh", [](const Given& g) { return figures(g).speed_mean_mps / kmh; }},
        {"cycle_average_mph", [](const Given& g) { return figures(g).speed_mean_mps / mph; }},
        {"cycle_average_mph_over",
         [](const Given& g) { return figures(g).distance_m / g("duration_s") / mph; }},
        {"cycle_speed_max_kmh", [](const Given& g) { return figures(g).speed_max_mps / kmh; }},
        {"cycle_speed_max_mph", [](const Given& g) { return figures(g).speed_max_mps / mph; }},
        {"cycle_idle_percent", [](const Given& g) { return figures(g).idle_share * 100; }},
        {"cycle_idle_s",
         [](const Given& g) {
           const auto f = figures(g);
           return f.idle_share * f.duration_s;
         }},
        {"cycle_acceleration_max_mps2",
         [](const Given& g) { return figures(g).acceleration_max_mps2; }},
        {"cycle_acceleration_max_mphps",
         [](const Given& g) { return figures(g).acceleration_max_mps2 / mph; }},
        {"cycle_deceleration_max_mps2",
         [](const Given& g) { return figures(g).deceleration_max_mps2; }},
        {"cycle_deceleration_max_mphps",
         [](const Given& g) { return figures(g).deceleration_max_mps2 / mph; }},
        {"cycle_starts_per_km",
         [](const Given& g) {
           const auto f = figures(g);
           return f.starts / f.distance_m * 1000;
         }},
        {"cycle_acceleration_mean_mps2",
         [](const Given& g) { return figures(g).acceleration_mean_mps2; }},
        {"cycle_deceleration_mean_mps2",
         [](const Given& g) { return figures(g).deceleration_mean_mps2; }},
        {"cycle_positive_acceleration_mps2",
         [](const Given& g) { return figures(g).positive_acceleration_mps2; }},
        {"cycles_average_kmh", average_kmh},
        {"range_combined",
         [](const Given& g) { return range_combined_m(g("range_city"), g("range_steady")); }},
        {"wind_factor_any_direction_excess",
         [](const Given& g) { return wind_factor_any_direction(g("wind_over_speed")) - 1; }},
        {"wind_factor_rayleigh_excess",
         [](const Given& g) { return wind_factor_rayleigh(g("wind_over_speed")) - 1; }},
        {"wind_factor_out_and_back",
         [](const Given& g) { return wind_factor_out_and_back(g("wind_over_speed")); }},
        {"rayleigh_wind_share", [](const Given& g) { return rayleigh_wind_mps(1.0, g("share")); }},
        {"wind_at_height_share",
         [](const Given& g) {
           return wind_at_height_mps(g("wind_10m_mps"), g("height_m")) / g("wind_10m_mps");
         }},
        {"wind_share_log_law",
         [](const Given& g) { return wind_share_log_law(g("height_m"), g("roughness_m")); }},
        {"lateral_acceleration_mps2",
         [](const Given& g) { return lateral_acceleration_mps2(g("lean_deg") * pi / 180); }},
    });

}  // namespace
