// SPDX-License-Identifier: MIT
// The nominal bike at one state, as every curve needs it, and what holds its thrust down. Private
// to ride/.
#pragma once

#include "ride/detail.h"
#include "ride/motor_dispatch.h"
#include "ride/steady.h"

namespace ww::ride {

template <template <class> class Motor>
struct Scene {
  Bike<double, Motor> bike;
  Motor<double> warm;  ///< windings 60 K over the air
  PackClimate<double> climate;
  PackState<double> pack;
};

/// The scene of these values at a state of charge.
template <template <class> class Motor>
Scene<Motor> scene_of(const Build& build, const Values<double>& values, double charge) {
  Scene<Motor> scene{
      .bike = bike_of<double, Motor>(build, values), .warm = {}, .climate = {}, .pack = {}};
  const auto& p = scene.bike.params;
  scene.warm = at_winding_temperature(scene.bike.motor, p.ambient_K + 60);
  scene.climate = pack_climate(p.pack, p.ambient_K);
  scene.pack = settled_pack(p.pack, charge, scene.climate.resistance_factor);
  return scene;
}

template <template <class> class Motor>
double thrust_with(Scene<Motor> scene, double speed, Limit relaxed) {
  BikeParams<double>& p = scene.bike.params;
  constexpr double more = 1.01;
  switch (relaxed) {
    case Limit::phase_current:
      p.current_limit_A *= more;
      break;
    case Limit::motor_torque:
      p.torque_limit_Nm *= more;
      break;
    case Limit::voltage:
      p.modulation *= more;
      break;
    case Limit::battery_current:
      scene.pack.current_max_A *= more;
      break;
    case Limit::under_voltage:
      scene.pack.soft_cut_V /= more;
      break;
    case Limit::motor_speed:
      p.speed_limit_radps *= more;
      break;
    case Limit::wheel_lift:
      p.stance.cg_height_m /= more;
      break;
    case Limit::grip:
      p.grip *= more;
      break;
    case Limit::none:
      break;
  }
  return thrust_available_N(scene.bike, scene.warm, speed, scene.pack);
}

template <template <class> class Motor>
Limit limit_at(const Scene<Motor>& scene, double speed, double thrust_now_N) {
  // Two limits may bind at once; then the first of this order is named.
  constexpr Limit all[] = {
      Limit::wheel_lift,      Limit::grip,          Limit::motor_torque, Limit::phase_current,
      Limit::battery_current, Limit::under_voltage, Limit::voltage,      Limit::motor_speed};
  Limit best = Limit::none;
  double gain = 1e-9 * (thrust_now_N + 1);
  for (const Limit limit : all) {
    const double g = thrust_with(scene, speed, limit) - thrust_now_N;
    if (g > gain * 1.0001) {
      gain = g;
      best = limit;
    }
  }
  return best;
}

template <template <class> class Motor>
ThrustPoint thrust_point(const Scene<Motor>& scene, double speed) {
  const BikeParams<double>& p = scene.bike.params;
  const double thrust = thrust_with(scene, speed, Limit::none);
  const double omega = motor_speed_radps(p, speed);
  const auto at = operate(p, scene.warm, {shaft_torque_Nm(p, thrust), omega}, scene.pack);
  return {speed,
          thrust,
          road_force(p, Steady<double>{speed, 0, 0}),
          limit_at(scene, speed, thrust),
          omega * 30 / model::pi,
          at.shaft.current_phase_peak_A,
          at.current_pack_A,
          at.voltage_pack_V,
          thrust * speed / at.power_pack_W};
}

}  // namespace ww::ride
