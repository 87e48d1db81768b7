// SPDX-License-Identifier: MIT
// From a Build and its flattened values to the parameter structs of the models. One template for
// double, batch and dual; what is chosen (ids, counts, kinds) comes from the Build, what has a
// spread from the values.
#pragma once

#include "build/nouns.h"
#include "model/air.h"
#include "model/brushed_motor.h"
#include "model/cell.h"
#include "model/induction_motor.h"
#include "model/ocv.h"
#include "model/ocv_tables.h"
#include "model/pm_motor.h"
#include "model/road.h"
#include "model/thermal.h"
#include "model/tyre.h"
#include "model/weight.h"
#include "ride/ids.h"
#include "ride/values.h"

namespace ww::ride {

/// What the controller loses: idle + linear and quadratic in phase current.
template <class R>
struct ControllerLoss {
  R idle_W;
  R linear_V;       ///< W per A
  R quadratic_ohm;  ///< W per A^2
};

/// The pack as the ride sees it, at its terminals.
template <class R>
struct PackParams {
  model::OcvRamps<R> cell_ocv;
  R cells_in_series;
  R charge_C;    ///< usable at 25 C, aged
  R cells_ohm;   ///< all cells together, 10 s, 25 C, mid charge
  R wires_ohm;   ///< links, cables, contactor, fuse
  R slow_share;  ///< of cells_ohm's 10 s value
  R slow_time_s;
  R activation_J_per_mol;
  R cold_loss_per_K;
  R usable_to;  ///< state of charge where a ride ends
  R reserve;
  R current_max_A;  ///< smaller of controller and setting; cells and monitor are checks
  R regen_current_max_A;
  R soft_cut_V;
  R heat_capacity_J_per_K;
};

/// Motor cooling: two nodes at the air speed the maker rated it at.
template <class R>
struct CoolingParams {
  model::TwoNodes<R> nodes;
  R rating_air_speed_mps;
  R air_share;  ///< share of the case's cooling that air speed governs: 0 for liquid
  R limit_K;    ///< winding temperature where it must reduce
};

/// Controller and cells as heat sees them.
template <class R>
struct HeatParams {
  model::ThermalNode<R> controller;
  R controller_limit_K;  ///< where it starts to reduce
  R cells_limit_K;
};

/// Everything but the motor itself.
template <class R>
struct BikeParams {
  model::RoadLoad<R> road;
  model::Stance<R> stance;
  R grip;
  R wheel_radius_m;
  R ratio;  ///< motor speed over wheel speed
  R driveline_efficiency;
  R auxiliary_W;
  ControllerLoss<R> controller;
  R modulation;       ///< share of V/sqrt(3) (three-phase) or of V (brushed) that reaches the motor
  R current_limit_A;  ///< phase peak, or armature
  R torque_limit_Nm;  ///< at the motor shaft
  R speed_limit_radps;
  R weakening;  ///< 1 where the field may be weakened
  R regen;      ///< 1 where the motor brakes
  PackParams<R> pack;
  CoolingParams<R> cooling;
  HeatParams<R> heat;
  R mass_bike_kg;  ///< without rider and load
  R ambient_K;
  R coldest_K;
  R hottest_K;
  R wind_mps;
  R hold_speed_mps;  ///< NaN where no wish says so
  R fast_share;
  R hill_grade;
  R hill_speed_mps;
};

// ---- pieces
// -------------------------------------------------------------------------------------------------------

/// Whether field weakening may be credited in the headline: the controller can, it is switched on,
/// and the inductance is given, not assumed.
bool weakening_credited(const Build& build);
/// Whether every part that a ride needs is chosen (its figures may still be missing).
bool can_ride(const Build& build);

/// Overall diameter of the rear tyre by the size on its sidewall; 0 where it cannot be read.
double rear_tyre_diameter_m(const Build& build);

template <class R>
R pack_mass_kg(const Build& build, const Values<R>& v);

template <class R>
R total_mass_kg(const Build& build, const Values<R>& v) {
  const Ids& id = ids();
  R mass = v.need(id.donor_mass_rolling) + v.need(id.rider_mass) + v.need(id.sundries_mass);
  for (const Id part : id.part_masses) mass += v.or_else(part, num<R>(0));
  mass += v.or_else(id.passenger_mass, num<R>(0)) + v.or_else(id.luggage_mass, num<R>(0));
  return mass + pack_mass_kg(build, v);
}

/// Without rider and load.
template <class R>
R bike_mass_kg(const Build& build, const Values<R>& v) {
  const Ids& id = ids();
  R mass = v.need(id.donor_mass_rolling) + v.need(id.sundries_mass) + pack_mass_kg(build, v);
  for (const Id part : id.part_masses) mass += v.or_else(part, num<R>(0));
  return mass;
}

template <class R>
R pack_mass_kg(const Build& build, const Values<R>& v) {
  const Ids& id = ids();
  if (v.known(id.pack_mass)) return v.need(id.pack_mass);
  if (!build.pack || !build.cell) return num<R>(0);
  return v.need(id.pack_series) * v.need(id.pack_parallel) * v.need(id.cell_mass) *
         v.need(id.pack_overhead);
}

template <class R>
R wheel_radius_m(const Build& build, const Values<R>& v) {
  const Ids& id = ids();
  if (v.known(id.tyre_rear_circumference))
    return v.need(id.tyre_rear_circumference) * num<R>(0.5 / model::pi);
  const double diameter = rear_tyre_diameter_m(build);
  if (diameter > 0) return v.need(id.tyre_rolling_share) * num<R>(0.5 * diameter);
  return v.need(id.tyre_rear_circumference);
}

template <class R>
R drive_ratio(const Build& build, const Values<R>& v) {
  const Ids& id = ids();
  R ratio = v.or_else(id.primary_ratio, num<R>(1)) * v.or_else(id.motor_reduction, num<R>(1));
  switch (build.gearing.drive) {
    case build::FinalDrive::hub:
      return ratio;
    case build::FinalDrive::shaft:
      return ratio * v.need(id.donor_shaft_ratio);
    case build::FinalDrive::belt:
      return ratio * v.need(id.belt_rear_teeth) / v.need(id.belt_front_teeth);
    default:
      return ratio * v.need(id.gearing_rear_teeth) / v.need(id.gearing_front_teeth);
  }
}

template <class R>
model::RoadLoad<R> road_load(const Build& build, const Values<R>& v) {
  const Ids& id = ids();
  const R pressure = model::standard_pressure_Pa(max(v.need(id.altitude), num<R>(0)));
  const R density = model::air_density_kgpm3<R>({.pressure_Pa = pressure,
                                                 .temperature_K = v.need(id.usual_temperature),
                                                 .humidity = num<R>(0.5)});
  const R radius = wheel_radius_m(build, v);
  const R rotor = num<R>(0.5) * num<R>(0.25) *
                  square(v.or_else(id.motor_diameter, num<R>(0.2)) * num<R>(0.5)) *
                  v.or_else(id.motor_mass, num<R>(0));
  const R rotating =
      model::rotating_equivalent_kg<R>({.inertia_front_kgm2 = v.need(id.wheel_inertia_front),
                                        .radius_front_m = radius,
                                        .inertia_rear_kgm2 = v.need(id.wheel_inertia_rear),
                                        .radius_rear_m = radius,
                                        .inertia_motor_kgm2 = rotor,
                                        .ratio = drive_ratio(build, v)});
  return {.mass_kg = total_mass_kg(build, v),
          .mass_rotating_equivalent_kg = rotating,
          .crr0 = v.need(id.rolling_resistance),
          .crr2_s2pm2 = v.need(id.rolling_resistance_v2),
          .drag_area_m2 = v.need(id.drag_area),
          .air_density_kgpm3 = density};
}

template <class R>
R smallest_known(const Values<R>& v, std::initializer_list<Id> candidates) {
  R least = num<R>(std::numeric_limits<double>::infinity());
  for (const Id id : candidates) {
    if (v.known(id)) least = min(least, v.need(id));
  }
  return least;
}

/// Largest phase current: the motor's, the controller's, and what is set. Missing all: NaN and
/// recorded.
template <class R>
R phase_current_limit_A(const Values<R>& v) {
  const Ids& id = ids();
  if (!v.known(id.controller_current_phase) && !v.known(id.limits_phase_current))
    return v.need(id.controller_current_phase);
  return smallest_known(
      v, {id.controller_current_phase, id.limits_phase_current, id.motor_current_peak});
}

template <class R>
R battery_current_limit_A(const Build& build, const Values<R>& v) {
  const Ids& id = ids();
  if (!v.known(id.controller_current_battery) && !v.known(id.limits_battery_current))
    return v.need(id.controller_current_battery);
  R limit = smallest_known(v, {id.controller_current_battery, id.limits_battery_current});
  (void)build;
  return limit;
}

template <class R>
PackParams<R> pack_params(const Build& build, const Values<R>& v) {
  const Ids& id = ids();
  const double inside = build.cell && build.cell->series_inside > 0 ? build.cell->series_inside : 1;
  const R series = v.need(id.pack_series);
  const R parallel = v.need(id.pack_parallel);
  const auto curve = model::lifted<R>(
      model::ocv_ramps(build.cell ? build.cell->chemistry : model::Chemistry::unknown));
  const R full = v.need(id.cell_voltage_max) * num<R>(1 / inside);
  const R empty = v.need(id.cell_voltage_min) * num<R>(1 / inside);
  const R limit = battery_current_limit_A(build, v);
  // The controller's own lowest voltage is the cut where no softer one is set.
  const R cut =
      v.known(id.limits_soft_cut) ? v.need(id.limits_soft_cut) : v.need(id.controller_voltage_min);
  const R health =
      v.or_else(id.cell_health, num<R>(1)) * (num<R>(1) - v.or_else(id.fade_share, num<R>(0)));
  return {.cell_ocv = model::scaled<R>(curve, {.empty_V = empty, .full_V = full}),
          .cells_in_series = series * num<R>(inside),
          .charge_C = v.need(id.cell_capacity) * parallel * health,
          .cells_ohm = series * v.need(id.cell_resistance) / parallel,
          .wires_ohm = series * v.need(id.pack_link_resistance) + v.need(id.pack_loop_resistance),
          .slow_share = v.need(id.cell_slow_share),
          .slow_time_s = v.need(id.cell_slow_time),
          .activation_J_per_mol = v.need(id.cell_activation) * num<R>(1000),
          .cold_loss_per_K = v.need(id.capacity_cold_loss),
          .usable_to = v.need(id.usable_to),
          .reserve = v.need(id.reserve),
          .current_max_A = limit,
          .regen_current_max_A = v.or_else(id.limits_regen_current, num<R>(0)),
          .soft_cut_V = cut,
          .heat_capacity_J_per_K = num<R>(1000) * max(pack_mass_kg(build, v), num<R>(1))};
}

/// Controller loss such that its efficiency at full battery power is the listed one, two fifths of
/// the loss growing linearly with phase current and three fifths with its square (conduction of a
/// MOSFET bridge, from memory).
template <class R>
ControllerLoss<R> controller_loss(const Values<R>& v, const PackParams<R>& pack,
                                  R current_limit_A) {
  const Ids& id = ids();
  const R full =
      pack.current_max_A * pack.cells_in_series * model::ocv_V(pack.cell_ocv, num<R>(0.5));
  const R lost = (num<R>(1) - v.need(id.controller_efficiency)) * full;
  return {.idle_W = v.need(id.controller_idle_power),
          .linear_V = num<R>(0.4) * lost / current_limit_A,
          .quadratic_ohm = num<R>(0.6) * lost / square(current_limit_A)};
}

// ---- motors
// -------------------------------------------------------------------------------------------------------

/// Phase resistance of the equivalent star.
template <class R>
R phase_resistance_ohm(const Build& build, const Values<R>& v) {
  const R resistance = v.need(ids().motor_resistance);
  return build.motor->resistance_between == build::ResistanceBetween::phase
             ? resistance
             : num<R>(0.5) * resistance;
}

/// No-load torque split into constant and growing part.
template <class R>
struct Drag {
  R constant_Nm;
  R linear_Nms;
};

template <class R>
Drag<R> no_load_drag(const Values<R>& v, R speed_constant, R resistance_loss_ohm) {
  const Ids& id = ids();
  R speed = v.or_else(id.motor_rated_speed, num<R>(300));
  R power = v.need(id.no_load_loss_share) * v.or_else(id.motor_power_continuous, num<R>(5000));
  if (v.known(id.motor_no_load_current) && v.known(id.motor_no_load_voltage)) {
    const R current = v.need(id.motor_no_load_current);
    const R voltage = v.need(id.motor_no_load_voltage);
    speed = speed_constant * voltage;
    power = max(voltage * current - resistance_loss_ohm * square(current), num<R>(0));
  }
  const R share = v.need(id.drag_constant_share);
  return {.constant_Nm = share * power / speed,
          .linear_Nms = (num<R>(1) - share) * power / square(speed)};
}

/// rad/s per volt of line-line peak, from whichever of the two motor constants is known.
template <class R>
R speed_constant_radps_per_V(const Values<R>& v) {
  const Ids& id = ids();
  if (v.known(id.motor_speed_constant)) return v.need(id.motor_speed_constant);
  // Torque per sine-peak amp is (sqrt(3)/2) / k: both constants are one.
  if (v.known(id.motor_torque_constant))
    return num<R>(0.86602540378443864676) / v.need(id.motor_torque_constant);
  return v.need(id.motor_speed_constant);
}

template <class R>
void make_motor(model::PmMotor<R>& motor, const Build& build, const Values<R>& v,
                R current_limit_A) {
  const Ids& id = ids();
  const R k = speed_constant_radps_per_V(v);
  const R pairs = v.need(id.motor_pole_pairs);
  const R flux = num<R>(1 / 1.7320508075688772935) / (pairs * k);
  const R saliency = v.or_else(id.motor_saliency, num<R>(1));
  const R mean = v.known(id.motor_inductance) ? num<R>(0.5) * v.need(id.motor_inductance)
                                              : v.need(id.reactance_share) * flux / current_limit_A;
  const R direct = num<R>(2) * mean / (num<R>(1) + saliency);
  const R resistance = phase_resistance_ohm(build, v);
  const auto drag = no_load_drag(v, k, num<R>(2) * resistance);
  motor = {.resistance_phase_ohm = resistance,
           .inductance_d_H = direct,
           .inductance_q_H = direct * saliency,
           .flux_peak_Wb = flux,
           .pole_pairs = pairs,
           .drag_constant_Nm = drag.constant_Nm,
           .drag_linear_Nms = drag.linear_Nms,
           .drag_quadratic_Nms2 = num<R>(0)};
}

template <class R>
void make_motor(model::BrushedPmMotor<R>& motor, const Build&, const Values<R>& v, R) {
  const R k = speed_constant_radps_per_V(v);
  const R resistance = v.need(ids().motor_resistance);
  const auto drag = no_load_drag(v, k, resistance);
  motor = {.constant_Vs = num<R>(1) / k,
           .resistance_armature_ohm = resistance,
           .voltage_brush_V = num<R>(1.5),
           .drag_constant_Nm = drag.constant_Nm,
           .drag_linear_Nms = drag.linear_Nms,
           .drag_quadratic_Nms2 = num<R>(0)};
}

/// Series: the listed torque per amp holds at the peak current; saturation where the data sheet
/// says.
template <class R>
void make_motor(model::BrushedSeriesMotor<R>& motor, const Build&, const Values<R>& v, R) {
  const Ids& id = ids();
  const R current = v.need(id.motor_current_peak);
  const R saturation = v.or_else(id.motor_field_saturation_current, current);
  const R torque = v.need(id.motor_torque_peak);
  const R resistance = v.need(id.motor_resistance);
  const R speed = v.or_else(id.motor_rated_speed, num<R>(300));
  const R lost = v.need(id.no_load_loss_share) * v.need(id.motor_power_continuous);
  const R share = v.need(id.drag_constant_share);
  // T = k I^2 / (1 + I/Is)
  motor = {.constant_series_H = torque * (num<R>(1) + current / saturation) / square(current),
           .current_saturation_A = saturation,
           .resistance_ohm = resistance,
           .voltage_brush_V = num<R>(1.5),
           .drag_constant_Nm = share * lost / speed,
           .drag_linear_Nms = (num<R>(1) - share) * lost / square(speed),
           .drag_quadratic_Nms2 = num<R>(0)};
}

template <class R>
void make_motor(model::InductionMotor<R>& motor, const Build& build, const Values<R>& v,
                R current_limit_A) {
  const Ids& id = ids();
  const R leakage = v.need(id.motor_leakage_inductance);
  const R speed = v.or_else(id.motor_rated_speed, num<R>(300));
  const R lost = v.need(id.no_load_loss_share) * v.need(id.motor_power_continuous);
  const R share = v.need(id.drag_constant_share);
  motor = {
      .resistance_stator_ohm = phase_resistance_ohm(build, v),
      .resistance_rotor_ohm = v.need(id.motor_rotor_resistance),
      .inductance_leakage_stator_H = num<R>(0.5) * leakage,
      .inductance_leakage_rotor_H = num<R>(0.5) * leakage,
      .inductance_magnetizing_H = v.need(id.motor_magnetising_inductance),
      .pole_pairs = v.need(id.motor_pole_pairs),
      .current_flux_peak_A =
          num<R>(0.35) * min(current_limit_A, v.or_else(id.motor_current_peak, current_limit_A)),
      .flux_floor = num<R>(0.5),
      .drag_constant_Nm = share * lost / speed,
      .drag_linear_Nms = (num<R>(1) - share) * lost / square(speed),
      .drag_quadratic_Nms2 = num<R>(0)};
}

template <class R>
model::PmMotor<R> at_winding_temperature(const model::PmMotor<R>& motor, R winding_K) {
  // The magnets lag: half-way between the reference and the winding.
  return model::at_temperature(motor, winding_K, num<R>(0.5) * (winding_K + num<R>(293.15)));
}
template <class R>
R copper_factor(R winding_K) {
  return num<R>(1) + num<R>(0.00393) * (winding_K - num<R>(293.15));
}
template <class R>
model::BrushedPmMotor<R> at_winding_temperature(model::BrushedPmMotor<R> motor, R winding_K) {
  motor.resistance_armature_ohm = motor.resistance_armature_ohm * copper_factor(winding_K);
  return motor;
}
template <class R>
model::BrushedSeriesMotor<R> at_winding_temperature(model::BrushedSeriesMotor<R> motor,
                                                    R winding_K) {
  motor.resistance_ohm = motor.resistance_ohm * copper_factor(winding_K);
  return motor;
}
template <class R>
model::InductionMotor<R> at_winding_temperature(model::InductionMotor<R> motor, R winding_K) {
  motor.resistance_stator_ohm = motor.resistance_stator_ohm * copper_factor(winding_K);
  motor.resistance_rotor_ohm = motor.resistance_rotor_ohm * copper_factor(winding_K);
  return motor;
}

/// The two-node cooling that makes the listed continuous power end at the winding limit in 40 C
/// air.
template <class R, class Motor>
CoolingParams<R> cooling_params(const Build& build, const Values<R>& v, const Motor& motor,
                                R current_limit_A) {
  const Ids& id = ids();
  const R limit = v.need(id.motor_winding_temperature_max);
  const R rise = limit - num<R>(313.15);
  const R power = v.need(id.motor_power_continuous);
  const R speed = v.known(id.motor_rated_speed) ? v.need(id.motor_rated_speed)
                                                : num<R>(0.75) * v.need(id.motor_speed_max);
  const auto hot = at_winding_temperature(motor, limit);
  // Rated at the maker's bench: the supply there is not the limit.
  const auto point = drive_point<R>(
      hot, {.torque_shaft_Nm = power / speed, .speed_radps = speed},
      {.voltage_limit_V = num<R>(1e4), .current_limit_A = current_limit_A, .weakening = num<R>(0)});
  const R mass = v.need(id.motor_mass);
  const R winding_share = v.need(id.winding_mass_share);
  const R path = v.need(id.winding_path_share);
  const R total = max(point.loss_copper_W + point.loss_iron_mech_W, num<R>(1));
  const R between = path * rise / max(point.loss_copper_W, num<R>(1));
  const R air = (num<R>(1) - path) * rise / total;
  const bool liquid = build.motor->cooling == build::Cooling::liquid;
  return {.nodes = {.inner_J_per_K = winding_share * mass * num<R>(400),
                    .outer_J_per_K = (num<R>(1) - winding_share) * mass * num<R>(520),
                    .between_K_per_W = between,
                    .air_K_per_W = air},
          .rating_air_speed_mps = v.need(id.rating_air_speed),
          .air_share = num<R>(liquid ? 0.1 : 0.65),
          .limit_K = limit};
}

/// The bike with its motor of one kind.
template <class R, template <class> class Motor>
struct Bike {
  BikeParams<R> params;
  Motor<R> motor;  ///< at 20 C
};

template <class R, template <class> class Motor>
Bike<R, Motor> bike_of(const Build& build, const Values<R>& v) {
  const Ids& id = ids();
  Bike<R, Motor> bike;
  BikeParams<R>& p = bike.params;
  p.current_limit_A = phase_current_limit_A(v);
  make_motor(bike.motor, build, v, p.current_limit_A);
  p.pack = pack_params(build, v);
  p.controller = controller_loss(v, p.pack, p.current_limit_A);
  p.cooling = cooling_params(build, v, bike.motor, p.current_limit_A);
  p.road = road_load(build, v);
  const R wheelbase = v.need(id.wheelbase);
  p.stance = {.mass_kg = p.road.mass_kg,
              .wheelbase_m = wheelbase,
              .cg_to_rear_m = wheelbase * v.need(id.front_share),
              .cg_height_m = v.need(id.cog_height)};
  p.grip = v.need(id.grip);
  p.wheel_radius_m = wheel_radius_m(build, v);
  p.ratio = drive_ratio(build, v);
  p.driveline_efficiency =
      build.gearing.drive == build::FinalDrive::hub ? num<R>(1) : v.need(id.gearing_efficiency);
  p.auxiliary_W = v.need(id.auxiliary_power);
  const bool brushed = build.motor->type == build::MotorType::brushed_pm ||
                       build.motor->type == build::MotorType::brushed_series;
  p.modulation = v.need(id.controller_modulation) * num<R>(brushed ? 1 : 1 / 1.7320508075688772935);
  p.torque_limit_Nm = v.or_else(id.motor_torque_peak, num<R>(1e6));
  p.speed_limit_radps = v.need(id.motor_speed_max);
  p.weakening = num<R>(weakening_credited(build) ? 1 : 0);
  p.regen = num<R>(build.limits.regen == build::Answer::yes ? 1 : 0);
  p.mass_bike_kg = bike_mass_kg(build, v);
  p.ambient_K = v.need(id.usual_temperature);
  p.coldest_K = v.need(id.coldest);
  p.hottest_K = v.need(id.hottest);
  p.wind_mps = v.need(id.wind_mean);
  p.hold_speed_mps = v.or_else(id.hold_speed, num<R>(90 / 3.6));
  p.fast_share = v.or_else(id.fast_share, num<R>(0.5));
  p.hill_grade = v.or_else(id.hill_grade, num<R>(0.08));
  p.hill_speed_mps = v.or_else(id.hill_speed, num<R>(60 / 3.6));
  // Base plate and housing: aluminium, about 900 J/kg/K, nine tenths of the mass.
  p.heat = {
      .controller = {.capacity_J_per_K = num<R>(810) * v.or_else(id.controller_mass, num<R>(2.5)),
                     .resistance_K_per_W = v.need(id.controller_thermal_resistance)},
      .controller_limit_K = v.need(id.controller_derate_start),
      .cells_limit_K = v.or_else(id.cell_discharge_temperature_max, num<R>(333.15))};
  return bike;
}

/// The same bike after a change of teeth alone. Checked by: tests/search (equal to bike_of).
template <class R, template <class> class Motor>
void regear(Bike<R, Motor>& bike, const Build& build, const Values<R>& v) {
  bike.params.ratio = drive_ratio(build, v);
  bike.params.road = road_load(build, v);
}

}  // namespace ww::ride
