// SPDX-License-Identifier: MIT
#include "ride/curves.h"

#include <algorithm>
#include <cmath>

#include "base/quasi.h"
#include "ride/evaluate.h"
#include "ride/launch.h"
#include "ride/scene.h"

namespace ww::ride {

namespace {

/// Calls `use(scene)` with the nominal bike at a charge; nothing where parts or figures lack.
template <class Use>
void with_scene(const Build& build, double charge, const Use& use) {
  if (!can_ride(build)) return;
  const NominalValues values = nominal_values(build, soft_figures(build));
  Reads reads{.used = std::vector<std::uint8_t>(values.at.size(), 0), .missing = {}};
  with_motor(build.motor->type, [&]<template <class> class Motor>() {
    const auto scene = scene_of<Motor>(build, values.view(&reads), charge);
    if (reads.missing.empty()) use(scene, values);
  });
}

double quantile_of(const std::vector<double>& sorted, double share) {
  const double place = share * static_cast<double>(sorted.size() - 1);
  const auto below = static_cast<std::size_t>(place);
  const std::size_t above = std::min(below + 1, sorted.size() - 1);
  const double part = place - static_cast<double>(below);
  return sorted[below] * (1 - part) + sorted[above] * part;
}

/// Metres at each speed, reserve kept, of one set of values.
template <template <class> class Motor>
std::vector<double> distances(const Build& build, const Values<double>& values,
                              const std::vector<double>& speeds, bool cold) {
  const auto scene = scene_of<Motor>(build, values, 0.5);
  const auto bike = cold ? on_coldest_day(scene.bike) : scene.bike;
  const auto climate = pack_climate(bike.params.pack, bike.params.ambient_K);
  std::vector<double> out;
  for (const double v : speeds) {
    const double metres =
        steady_distance(bike.params, scene.warm, Steady<double>{v, 0, 0}, climate).reserve_kept_m;
    out.push_back(std::isfinite(metres) ? metres : 0);
  }
  return out;
}

/// The figures that vary among those the ride read, drawn.
class Draws {
 public:
  Draws(const std::vector<SoftFigure>& soft, const Ride& ride, int count) {
    for (const SoftFigure& figure : soft) {
      const bool read = std::find(ride.read.begin(), ride.read.end(), figure.id) != ride.read.end();
      if (!read || (!(figure.spread.half_width > 0) && !figure.convention_unsaid)) continue;
      varying_.push_back(figure);
      dimensions_ += figure.convention_unsaid ? 2 : 1;
    }
    if (dimensions_ > 0) points_ = sobol_points(dimensions_, count, 1);
  }
  void put(int draw, NominalValues& values) const {
    std::size_t at = static_cast<std::size_t>(draw) * static_cast<std::size_t>(dimensions_);
    for (const SoftFigure& figure : varying_) {
      const double u = points_[at++];
      const double u_convention = figure.convention_unsaid ? points_[at++] : 0;
      values.at[static_cast<std::size_t>(figure.id)] = drawn_value(figure, u, u_convention);
    }
  }

 private:
  std::vector<SoftFigure> varying_;
  int dimensions_ = 0;
  std::vector<double> points_;
};

}  // namespace

std::vector<ThrustPoint> thrust_curve(const Build& build, const ThrustAsk& ask) {
  std::vector<ThrustPoint> out;
  if (ask.points < 2 || !(ask.fastest_mps > 0)) return out;
  with_scene(build, ask.charge, [&](const auto& scene, const NominalValues&) {
    for (int i = 0; i < ask.points; ++i)
      out.push_back(thrust_point(scene, std::max(0.3, ask.fastest_mps * i / (ask.points - 1))));
  });
  return out;
}

std::vector<LaunchMoment> launch_curve(const Build& build) {
  std::vector<LaunchMoment> out;
  with_scene(build, 0.8, [&](const auto& scene, const NominalValues&) {
    const double top = top_speed_mps(scene.bike, scene.warm, scene.pack, Road<double>{0, 0});
    constexpr int steps = 60;
    out.push_back({0, 0, 0});
    for (int i = 1; i <= steps && out.back().time_s < 60; ++i) {
      const double from = out.back().speed_mps, to = 0.98 * top * i / steps;
      const auto run = full_throttle(scene.bike, scene.warm, scene.pack, from, to, 1);
      if (!std::isfinite(run.time_s)) break;
      out.push_back({out.back().time_s + run.time_s, to, out.back().distance_m + run.distance_m});
    }
    if (out.size() < 2) out.clear();
  });
  return out;
}

SagCurve sag_curve(const Build& build, int points) {
  SagCurve out{};
  if (points < 2) return out;
  with_scene(build, 0.5, [&](const auto& scene, const NominalValues&) {
    const auto& p = scene.bike.params;
    const double cold = pack_climate(p.pack, p.coldest_K).resistance_factor;
    const double warm = scene.climate.resistance_factor;
    const PackState<double> packs[] = {
        settled_pack(p.pack, 0.5, warm), settled_pack(p.pack, 0.1, warm),
        settled_pack(p.pack, 0.5, cold), settled_pack(p.pack, 0.1, cold)};
    out.usual_K = p.ambient_K;
    out.coldest_K = p.coldest_K;
    out.current_max_A = p.pack.current_max_A;
    out.cut_V = p.pack.soft_cut_V;
    for (int i = 0; i < points; ++i) {
      const double current = 1.15 * p.pack.current_max_A * i / (points - 1);
      const auto volts = [&](int k) {
        return std::max(0.0, model::terminal_voltage_V(packs[k].source, current));
      };
      out.points.push_back({current, volts(0), volts(1), volts(2), volts(3)});
    }
  });
  return out;
}

MotorMap motor_map(const Build& build, const MapCells& cells) {
  MotorMap map;
  if (cells.speeds < 2 || cells.torques < 2) return map;
  with_scene(build, 0.5, [&](const auto& scene, const NominalValues&) {
    const auto& p = scene.bike.params;
    const double top = top_speed_mps(scene.bike, scene.warm, scene.pack, Road<double>{0, 0});
    const double fastest =
        std::min(1.12 * motor_speed_radps(p, std::max(top, 1.0)), p.speed_limit_radps);
    double most = 0;
    for (int i = 0; i <= 60; ++i) {
      const double omega = fastest * std::max(i, 1) / 60;
      map.edge_speeds_radps.push_back(fastest * i / 60);
      map.edge_torques_Nm.push_back(torque_available_Nm(p, scene.warm, omega, scene.pack));
      most = std::max(most, map.edge_torques_Nm.back());
      const double v = fastest * i / 60 * p.wheel_radius_m / p.ratio;
      map.road_torques_Nm.push_back(shaft_torque_Nm(p, road_force(p, Steady<double>{v, 0, 0})));
    }
    for (int i = 0; i < cells.speeds; ++i)
      map.speeds_radps.push_back(fastest * (i + 0.5) / cells.speeds);
    for (int k = 0; k < cells.torques; ++k)
      map.torques_Nm.push_back(most * (k + 0.5) / cells.torques);
    for (const double torque : map.torques_Nm) {
      for (const double omega : map.speeds_radps) {
        const auto at = operate(p, scene.warm, {torque, omega}, scene.pack);
        const double efficiency = torque * omega / (at.power_pack_W - p.auxiliary_W);
        map.efficiency.push_back(at.feasible ? efficiency
                                             : std::numeric_limits<double>::quiet_NaN());
      }
    }
  });
  return map;
}

std::vector<DistancePoint> distance_curve(const Build& build, const Ride& ride,
                                          const std::vector<double>& speeds_mps, int draws) {
  std::vector<DistancePoint> out;
  if (!ride.possible || draws < 1) return out;
  const auto soft = soft_figures(build);
  NominalValues values = nominal_values(build, soft);
  with_motor(build.motor->type, [&]<template <class> class Motor>() {
    const auto nominal = distances<Motor>(build, values.view(), speeds_mps, false);
    const auto cold = distances<Motor>(build, values.view(), speeds_mps, true);
    const Draws drawn(soft, ride, draws);
    std::vector<std::vector<double>> metres(speeds_mps.size());
    for (int d = 0; d < draws; ++d) {
      drawn.put(d, values);
      const auto row = distances<Motor>(build, values.view(), speeds_mps, false);
      for (std::size_t i = 0; i < row.size(); ++i) metres[i].push_back(row[i]);
    }
    for (std::size_t i = 0; i < speeds_mps.size(); ++i) {
      std::sort(metres[i].begin(), metres[i].end());
      out.push_back({speeds_mps[i], quantile_of(metres[i], 0.1), quantile_of(metres[i], 0.5),
                     quantile_of(metres[i], 0.9), nominal[i], cold[i]});
    }
  });
  return out;
}

Climb climb(const Build& build) {
  Climb out{};
  with_scene(build, 0.8, [&](const auto& scene, const NominalValues&) {
    const auto& p = scene.bike.params;
    const Steady<double> hill{p.hill_speed_mps, p.hill_grade, 0};
    out.grade = p.hill_grade;
    out.speed_mps = p.hill_speed_mps;
    out.winding_limit_K = p.cooling.limit_K;
    out.controller_limit_K = p.heat.controller_limit_K;
    out.cells_limit_K = p.heat.cells_limit_K;
    const auto nodes = nodes_at_speed(p.cooling, hill.speed_mps);
    constexpr double step_s = 10;
    const auto step = model::two_node_step(nodes, step_s);
    model::TwoRises<double> motor{0, 0};
    HeatMoment now{0, p.ambient_K, p.ambient_K, p.ambient_K, 1.0};
    while (now.time_s < 7200 && now.charge > p.pack.usable_to) {
      const auto climate = pack_climate(p.pack, now.cells_K);
      const auto pack = settled_pack(p.pack, now.charge, climate.resistance_factor);
      const auto hot = at_winding_temperature(scene.bike.motor, std::min(now.winding_K, 573.0));
      const auto at = operate_steady(p, hot, hill, pack);
      if (!at.feasible) break;
      out.climbs = true;
      out.moments.push_back(now);
      motor =
          model::two_node_next_K(step, motor,
                                 model::two_node_steady_K<double>(
                                     nodes, {at.shaft.loss_copper_W, at.shaft.loss_iron_mech_W}));
      const double cell_ohm = pack.source.resistance_ohm - p.pack.wires_ohm;
      now.time_s += step_s;
      now.winding_K = p.ambient_K + motor.inner_K;
      now.controller_K =
          p.ambient_K + model::node_rise_next_K(p.heat.controller, now.controller_K - p.ambient_K,
                                                at.loss_controller_W, step_s);
      now.cells_K +=
          at.current_pack_A * at.current_pack_A * cell_ohm * step_s / p.pack.heat_capacity_J_per_K;
      now.charge -= at.current_pack_A * step_s / (p.pack.charge_C * climate.capacity_factor);
    }
  });
  return out;
}

}  // namespace ww::ride
