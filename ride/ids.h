// SPDX-License-Identifier: MIT
// The ids of the figures that the ride reads, looked up once.
#pragma once

#include <array>

#include "build/fields.h"

namespace ww::ride {

struct Ids {
  build::Id donor_mass_rolling = build::id_of("donor.mass_rolling");
  build::Id rider_mass = build::id_of("rider.mass");
  build::Id passenger_mass = build::id_of("rider.passenger_mass");
  build::Id luggage_mass = build::id_of("rider.luggage_mass");
  build::Id sundries_mass = build::id_of("assumed.sundries_mass");
  build::Id pack_mass = build::id_of("pack.mass");
  build::Id pack_series = build::id_of("pack.series");
  build::Id pack_parallel = build::id_of("pack.parallel");
  build::Id pack_overhead = build::id_of("pack.overhead");
  build::Id pack_link_resistance = build::id_of("pack.link_resistance");
  build::Id pack_loop_resistance = build::id_of("pack.loop_resistance");
  build::Id cell_mass = build::id_of("cell.mass");
  build::Id cell_series_inside = build::id_of("cell.series_inside");
  build::Id cell_voltage_max = build::id_of("cell.voltage_max");
  build::Id cell_voltage_min = build::id_of("cell.voltage_min");
  build::Id cell_capacity = build::id_of("cell.capacity");
  build::Id cell_resistance = build::id_of("cell.resistance");
  build::Id cell_health = build::id_of("cell.health");
  build::Id cell_slow_share = build::id_of("assumed.cell_slow_share");
  build::Id cell_slow_time = build::id_of("assumed.cell_slow_time");
  build::Id cell_activation = build::id_of("assumed.cell_activation");
  build::Id capacity_cold_loss = build::id_of("assumed.capacity_cold_loss");
  build::Id usable_to = build::id_of("assumed.usable_to");
  build::Id reserve = build::id_of("assumed.reserve");
  build::Id fade_share = build::id_of("assumed.fade_share");
  build::Id tyre_rear_circumference = build::id_of("tyre_rear.circumference");
  build::Id tyre_rolling_share = build::id_of("assumed.tyre_rolling_share");
  build::Id primary_ratio = build::id_of("gearing.primary_ratio");
  build::Id gearing_front_teeth = build::id_of("gearing.front_teeth");
  build::Id gearing_rear_teeth = build::id_of("gearing.rear_teeth");
  build::Id gearing_efficiency = build::id_of("gearing.efficiency");
  build::Id belt_front_teeth = build::id_of("belt.front_teeth");
  build::Id belt_rear_teeth = build::id_of("belt.rear_teeth");
  build::Id donor_shaft_ratio = build::id_of("donor.shaft_ratio");
  build::Id motor_reduction = build::id_of("motor.reduction");
  build::Id motor_diameter = build::id_of("motor.diameter");
  build::Id motor_mass = build::id_of("motor.mass");
  build::Id motor_speed_constant = build::id_of("motor.speed_constant");
  build::Id motor_torque_constant = build::id_of("motor.torque_constant");
  build::Id motor_resistance = build::id_of("motor.resistance");
  build::Id motor_inductance = build::id_of("motor.inductance");
  build::Id motor_saliency = build::id_of("motor.saliency");
  build::Id motor_pole_pairs = build::id_of("motor.pole_pairs");
  build::Id motor_no_load_current = build::id_of("motor.no_load_current");
  build::Id motor_no_load_voltage = build::id_of("motor.no_load_voltage");
  build::Id motor_power_continuous = build::id_of("motor.power_continuous");
  build::Id motor_rated_speed = build::id_of("motor.rated_speed");
  build::Id motor_speed_max = build::id_of("motor.speed_max");
  build::Id motor_torque_peak = build::id_of("motor.torque_peak");
  build::Id motor_current_peak = build::id_of("motor.current_peak");
  build::Id motor_rotor_resistance = build::id_of("motor.rotor_resistance");
  build::Id motor_magnetising_inductance = build::id_of("motor.magnetising_inductance");
  build::Id motor_leakage_inductance = build::id_of("motor.leakage_inductance");
  build::Id motor_field_saturation_current = build::id_of("motor.field_saturation_current");
  build::Id motor_winding_temperature_max = build::id_of("motor.winding_temperature_max");
  build::Id controller_current_phase = build::id_of("controller.current_phase");
  build::Id controller_current_battery = build::id_of("controller.current_battery");
  build::Id controller_voltage_min = build::id_of("controller.voltage_min");
  build::Id controller_idle_power = build::id_of("controller.idle_power");
  build::Id controller_efficiency = build::id_of("controller.efficiency");
  build::Id controller_modulation = build::id_of("controller.modulation");
  build::Id limits_phase_current = build::id_of("limits.phase_current");
  build::Id limits_battery_current = build::id_of("limits.battery_current");
  build::Id limits_regen_current = build::id_of("limits.regen_current");
  build::Id limits_soft_cut = build::id_of("limits.soft_cut");
  build::Id altitude = build::id_of("surroundings.altitude");
  build::Id usual_temperature = build::id_of("surroundings.usual_temperature");
  build::Id coldest = build::id_of("surroundings.coldest");
  build::Id hottest = build::id_of("surroundings.hottest");
  build::Id wind_mean = build::id_of("surroundings.wind_mean");
  build::Id rolling_resistance = build::id_of("donor.rolling_resistance");
  build::Id rolling_resistance_v2 = build::id_of("donor.rolling_resistance_v2");
  build::Id drag_area = build::id_of("donor.drag_area");
  build::Id wheel_inertia_front = build::id_of("donor.wheel_inertia_front");
  build::Id wheel_inertia_rear = build::id_of("donor.wheel_inertia_rear");
  build::Id wheelbase = build::id_of("donor.wheelbase");
  build::Id front_share = build::id_of("donor.original_front_share");
  build::Id cog_height = build::id_of("donor.cog_height");
  build::Id grip = build::id_of("assumed.grip");
  build::Id auxiliary_power = build::id_of("assumed.auxiliary_power");
  build::Id no_load_loss_share = build::id_of("assumed.no_load_loss_share");
  build::Id drag_constant_share = build::id_of("assumed.drag_constant_share");
  build::Id reactance_share = build::id_of("assumed.reactance_share");
  build::Id winding_mass_share = build::id_of("assumed.winding_mass_share");
  build::Id winding_path_share = build::id_of("assumed.winding_path_share");
  build::Id rating_air_speed = build::id_of("assumed.rating_air_speed");
  build::Id hold_speed = build::id_of("wishes.hold_speed");
  build::Id fast_share = build::id_of("wishes.fast_share");
  build::Id controller_thermal_resistance = build::id_of("controller.thermal_resistance");
  build::Id controller_derate_start = build::id_of("controller.derate_start");
  build::Id controller_mass = build::id_of("controller.mass");
  build::Id cell_discharge_temperature_max = build::id_of("cell.discharge_temperature_max");
  build::Id hill_grade = build::id_of("wishes.hill_grade");
  build::Id hill_speed = build::id_of("wishes.hill_speed");
  /// Parts that are weighed and carried.
  std::array<build::Id, 7> part_masses{
      build::id_of("motor.mass"), build::id_of("controller.mass"), build::id_of("charger.mass"),
      build::id_of("dcdc.mass"),  build::id_of("buffer.mass"),     build::id_of("contactor.mass"),
      build::id_of("bms.mass")};
};

const Ids& ids();

}  // namespace ww::ride
