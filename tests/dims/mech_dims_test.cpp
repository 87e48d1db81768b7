// SPDX-License-Identifier: MIT
// The mechanical kernels with the dimension-carrying number, and a test of that number itself.
#include <vector>

#include "model/air.h"
#include "model/bolt.h"
#include "model/brake.h"
#include "model/chain.h"
#include "model/key.h"
#include "model/road.h"
#include "model/spring.h"
#include "model/sprocket.h"
#include "model/tyre.h"
#include "model/weight.h"
#include "tests/dims/dim.h"

namespace ww::model {
namespace {

class MechDims : public DimTest {};

Dim none(double v) {
  return with_unit(v, unit_none);
}
Dim m(double v) {
  return with_unit(v, unit_m);
}
Dim mps(double v) {
  return with_unit(v, unit_mps);
}
Dim kg(double v) {
  return with_unit(v, unit_kg);
}
Dim N(double v) {
  return with_unit(v, unit_N);
}
Dim Nm(double v) {
  return with_unit(v, unit_Nm);
}
Dim s(double v) {
  return with_unit(v, unit_s);
}
Dim Pa(double v) {
  return with_unit(v, unit_Pa);
}
Dim K(double v) {
  return with_unit(v, unit_K);
}
Dim radps(double v) {
  return with_unit(v, unit_radps);
}

const Powers unit_kgpm{1, -1, 0, 0, 0};
const Powers unit_perm2s2{0, -2, 2, 0, 0};  // s2/m2
const Powers unit_A_C{1, -1, 0, 0, 0};      // N/(m/s)^2 = kg/m

TEST_F(MechDims, TheNumberItselfFindsUnlikeSums) {
  const Dim force = N(3), torque = Nm(2);
  EXPECT_EQ(dim_faults().size(), 0U);
  (void)(force + torque);
  EXPECT_EQ(dim_faults().size(), 1U);
  (void)sin(force);
  (void)(force < torque);
  (void)select(true, force, torque);
  (void)pow(num<Dim>(2), force);
  EXPECT_EQ(dim_faults().size(), 5U);
  clear_dim_faults();
  // What must pass: a literal zero, a NaN guard, a root, a product.
  (void)max(force, num<Dim>(0));
  expect_dim(valid_where<Dim>(force > num<Dim>(0), force), unit_N, "guarded force");
  expect_dim(sqrt(torque / kg(2)), unit_mps, "root of energy per mass");
  // A zero with a unit is not a literal: it must not pass as anything.
  (void)(m(0) + force);
  EXPECT_EQ(dim_faults().size(), 1U);
  clear_dim_faults();
  EXPECT_FALSE(same_powers(torque.powers, unit_N));
}

TEST_F(MechDims, Sprocket) {
  const Sprocket<Dim> t{.pitch_m = m(0.015875), .roller_diameter_m = m(0.01016), .teeth = none(15)};
  expect_dim(pitch_diameter_m(t.pitch_m, t.teeth), unit_m, "pitch_diameter_m");
  expect_dim(root_diameter_m(t), unit_m, "root_diameter_m");
  expect_dim(tip_diameter_max_m(t), unit_m, "tip_diameter_max_m");
  expect_dim(tip_diameter_min_m(t), unit_m, "tip_diameter_min_m");
  expect_dim(seat_radius_min_m(t.roller_diameter_m), unit_m, "seat_radius_min_m");
  expect_dim(seat_radius_max_m(t.roller_diameter_m), unit_m, "seat_radius_max_m");
  expect_dim(seat_angle_min_form_rad(t.teeth), unit_none, "seat_angle_min_form_rad");
  expect_dim(seat_angle_max_form_rad(t.teeth), unit_none, "seat_angle_max_form_rad");
  expect_dim(flank_radius_min_form_m(t), unit_m, "flank_radius_min_form_m");
  expect_dim(flank_radius_max_form_m(t), unit_m, "flank_radius_max_form_m");
  expect_dim(tooth_height_max_m(t), unit_m, "tooth_height_max_m");
  expect_dim(tooth_height_min_m(t), unit_m, "tooth_height_min_m");
  expect_dim(tooth_width_iso_m(t.pitch_m, m(0.0094)), unit_m, "tooth_width_iso_m");
  expect_dim(tooth_width_asme_m(m(0.0094)), unit_m, "tooth_width_asme_m");
  expect_dim(over_pins_m(t.pitch_m, t.roller_diameter_m, 15), unit_m, "over_pins_m");
  expect_dim(caliper_diameter_m(t.pitch_m, t.roller_diameter_m, 16), unit_m, "caliper_diameter_m");
  expect_dim(caliper_tolerance_m(t.pitch_m, t.teeth), unit_m, "caliper_tolerance_m");
  expect_dim(outside_diameter_m(t.pitch_m, t.teeth), unit_m, "outside_diameter_m");
  expect_dim(hub_diameter_max_m(t.pitch_m, t.teeth), unit_m, "hub_diameter_max_m");
  expect_dim(shroud_diameter_max_m(t.pitch_m, m(0.015), t.teeth), unit_m, "shroud_diameter_max_m");
  expect_dim(root_diameter_tolerance_m(m(0.2)), unit_m, "root_diameter_tolerance_m");
  expect_dim(run_out_radial_limit_m(m(0.2)), unit_m, "run_out_radial_limit_m");
  expect_dim(run_out_axial_limit_m(m(0.2)), unit_m, "run_out_axial_limit_m");
  expect_dim(outside_diameter_pointed_m(t), unit_m, "outside_diameter_pointed_m");
  const auto a = asme_tooth(t);
  for (const Dim& length : {a.ds_m, a.r_m, a.ac_m, a.m_m, a.t_m, a.e_m, a.xy_m, a.yz_m, a.ab_m,
                            a.w_m, a.v_m, a.f_m, a.h_m, a.s_m}) {
    expect_dim(length, unit_m, "asme_tooth");
  }
  expect_dim(a.a_rad, unit_none, "asme_tooth.a_rad");
  expect_dim(a.b_rad, unit_none, "asme_tooth.b_rad");
}

TEST_F(MechDims, Chain) {
  const ChainTeeth<Dim> z{.pitch_m = m(0.015875), .front = none(14), .rear = none(45)};
  const auto c = pitch_circles(z, m(0.6));
  expect_dim(chain_ratio(z), unit_none, "chain_ratio");
  expect_dim(chain_length_pitches(z, m(0.6)), unit_none, "chain_length_pitches");
  expect_dim(chain_centre_m(z, none(106)), unit_m, "chain_centre_m");
  expect_dim(chain_path_pitches(z, m(0.6)), unit_none, "chain_path_pitches");
  expect_dim(open_belt_length_m(c), unit_m, "open_belt_length_m");
  expect_dim(free_span_m(c), unit_m, "free_span_m");
  expect_dim(wrap_front_rad(c), unit_none, "wrap_front_rad");
  expect_dim(wrap_rear_rad(c), unit_none, "wrap_rear_rad");
  expect_dim(teeth_engaged(z.front, wrap_front_rad(c)), unit_none, "teeth_engaged");
  expect_dim(chain_speed_mps(z.pitch_m, z.front, radps(300)), unit_mps, "chain_speed_mps");
  expect_dim(pitch_circle_speed_mps(m(0.07), radps(300)), unit_mps, "pitch_circle_speed_mps");
  expect_dim(chain_tension_N(Nm(60), m(0.07)), unit_N, "chain_tension_N");
  expect_dim(chain_tension_from_power_N(with_unit(9e3, unit_W), mps(7)), unit_N,
             "chain_tension_from_power_N");
  expect_dim(chain_centrifugal_tension_N(with_unit(1, unit_kgpm), mps(7)), unit_N,
             "chain_centrifugal_tension_N");
  expect_dim(static_factor(N(26e3), N(2e3)), unit_none, "static_factor");
  expect_dim(speed_variation_of_mean(none(14)), unit_none, "speed_variation_of_mean");
  expect_dim(speed_variation_of_max(none(14)), unit_none, "speed_variation_of_max");
  const ChainRating<Dim> r{.pitch_m = m(0.0127), .teeth = none(17), .speed_radps = radps(100)};
  expect_dim(plate_power_limit_W(r, none(0.004)), unit_W, "plate_power_limit_W");
  expect_dim(roller_power_limit_W(r, none(17)), unit_W, "roller_power_limit_W");
  const ChainSize<Dim> size{
      .pitch_m = m(0.0127), .roller_diameter_m = m(0.00851), .inner_width_m = m(0.00785)};
  const ToothSize<Dim> tooth{
      .pitch_m = m(0.0127), .roller_diameter_m = m(0.00851), .tooth_width_m = m(0.0072)};
  const auto room = chain_on_tooth(size, tooth);
  expect_dim(room.pitch_room_m, unit_m, "pitch_room_m");
  expect_dim(room.seat_room_m, unit_m, "seat_room_m");
  expect_dim(room.roller_room_m, unit_m, "roller_room_m");
  expect_dim(room.width_room_m, unit_m, "width_room_m");
  EXPECT_TRUE(chain_runs_on(size, tooth));
}

TEST_F(MechDims, ChainTravelAndLoss) {
  const ChainTeeth<Dim> z{.pitch_m = m(0.015875), .front = none(14), .rear = none(45)};
  const ChainRun<Dim> run{
      .sprocket_x_m = m(0.08), .sprocket_z_m = m(0.02), .swingarm_length_m = m(0.55), .teeth = z};
  expect_dim(centre_at_angle_m(run, none(0.1)), unit_m, "centre_at_angle_m");
  expect_dim(path_at_angle_m(run, none(0.1)), unit_m, "path_at_angle_m");
  expect_dim(line_up_angle_rad(run), unit_none, "line_up_angle_rad");
  const auto travel = chain_travel(run, SwingarmTravel<Dim>{.angle_extended_rad = none(-0.3),
                                                            .angle_compressed_rad = none(0.1)});
  expect_dim(travel.angle_tight_rad, unit_none, "angle_tight_rad");
  expect_dim(travel.path_tight_m, unit_m, "path_tight_m");
  expect_dim(travel.path_slack_m, unit_m, "path_slack_m");
  expect_dim(midspan_play_m(m(0.6), m(0.002)), unit_m, "midspan_play_m");
  expect_dim(excess_for_play_m(m(0.6), m(0.03)), unit_m, "excess_for_play_m");
  const ChainLoss<Dim> loss{.load_share = none(0.015), .drag_N = N(5)};
  const ChainDrive<Dim> drive{.diameter_front_m = m(0.07), .ratio = none(4), .loss = loss};
  for (const double pull : {-800.0, 800.0}) {
    expect_dim(tension_rear_N(loss, N(pull)), unit_N, "tension_rear_N");
    expect_dim(tension_front_N(loss, N(pull)), unit_N, "tension_front_N");
    expect_dim(chain_efficiency(loss, N(pull)), unit_none, "chain_efficiency");
    expect_dim(wheel_torque_Nm(drive, Nm(pull / 20)), unit_Nm, "wheel_torque_Nm");
    expect_dim(shaft_torque_Nm(drive, Nm(pull / 20)), unit_Nm, "shaft_torque_Nm");
  }
}

TEST_F(MechDims, KeyAndBolt) {
  const KeyJoint<Dim> k{.torque_Nm = Nm(60),
                        .shaft_diameter_m = m(0.025),
                        .width_m = m(0.008),
                        .height_m = m(0.007),
                        .length_m = m(0.03)};
  expect_dim(key_force_N(k), unit_N, "key_force_N");
  expect_dim(key_shear_Pa(k), unit_Pa, "key_shear_Pa");
  expect_dim(key_pressure_Pa(k), unit_Pa, "key_pressure_Pa");
  expect_dim(key_pressure_hub_Pa(k, m(0.004)), unit_Pa, "key_pressure_hub_Pa");
  expect_dim(key_length_for_shear_m(k, Pa(60e6)), unit_m, "key_length_for_shear_m");
  expect_dim(key_length_for_pressure_m(k, Pa(80e6)), unit_m, "key_length_for_pressure_m");
  expect_dim(key_torque_limit_Nm(k, Pa(80e6)), unit_Nm, "key_torque_limit_Nm");
  const KeySeat<Dim> seat{
      .shaft_diameter_m = m(0.025), .key_width_m = m(0.006), .key_height_m = m(0.006)};
  expect_dim(shaft_over_keyway_m(seat), unit_m, "shaft_over_keyway_m");
  expect_dim(bore_over_keyway_m(seat), unit_m, "bore_over_keyway_m");
  const BoltThread<Dim> t{.diameter_m = m(0.008), .pitch_m = m(0.00125)};
  const BoltFriction<Dim> mu{.thread = none(0.12), .head = none(0.12)};
  expect_dim(stress_area_m2(t), unit_m2, "stress_area_m2");
  expect_dim(proof_load_N(t, Pa(580e6)), unit_N, "proof_load_N");
  expect_dim(assembly_preload_N(t, Pa(640e6), none(0.12)), unit_N, "assembly_preload_N");
  expect_dim(tightening_torque_Nm(t, mu, m(0.0103), N(18e3)), unit_Nm, "tightening_torque_Nm");
  expect_dim(preload_at_torque_N(t, mu, m(0.0103), Nm(25)), unit_N, "preload_at_torque_N");
  expect_dim(tightening_torque_simple_Nm(N(18e3), m(0.008)), unit_Nm,
             "tightening_torque_simple_Nm");
  expect_dim(slip_load_N(ClampedJoint<Dim>{
                 .bolts = none(4), .preload_N = N(16e3), .friction = none(0.15), .faces = none(1)}),
             unit_N, "slip_load_N");
}

TEST_F(MechDims, TyreAndAir) {
  const Dim d =
      tyre_diameter_m(TyreSize<Dim>{.width_m = m(0.12), .aspect = none(0.8), .rim_m = m(0.457)});
  expect_dim(d, unit_m, "tyre_diameter_m");
  expect_dim(tyre_circumference_m(d), unit_m, "tyre_circumference_m");
  expect_dim(rolling_radius_m(d, none(3.05)), unit_m, "rolling_radius_m");
  expect_dim(rolling_radius_measured_m(m(9.8), none(5)), unit_m, "rolling_radius_measured_m");
  expect_dim(standard_temperature_K(m(500)), unit_K, "standard_temperature_K");
  expect_dim(standard_pressure_Pa(m(500)), unit_Pa, "standard_pressure_Pa");
  expect_dim(standard_density_kgpm3(m(500)), unit_kgpm3, "standard_density_kgpm3");
  expect_dim(vapour_pressure_Pa(K(290), none(0.5)), unit_Pa, "vapour_pressure_Pa");
  expect_dim(air_density_kgpm3(
                 Air<Dim>{.pressure_Pa = Pa(1e5), .temperature_K = K(290), .humidity = none(0.5)}),
             unit_kgpm3, "air_density_kgpm3");
}

RoadLoad<Dim> load() {
  return {.mass_kg = kg(295),
          .mass_rotating_equivalent_kg = kg(12),
          .crr0 = none(0.015),
          .crr2_s2pm2 = with_unit(5e-6, unit_perm2s2),
          .drag_area_m2 = with_unit(0.55, unit_m2),
          .air_density_kgpm3 = with_unit(1.2, unit_kgpm3)};
}

TEST_F(MechDims, Road) {
  const RoadPoint<Dim> at{.speed_mps = mps(20), .grade = none(0.03), .headwind_mps = mps(2)};
  expect_dim(rolling_force_N(load(), at), unit_N, "rolling_force_N");
  expect_dim(grade_force_N(load(), at), unit_N, "grade_force_N");
  expect_dim(drag_force_N(load(), at), unit_N, "drag_force_N");
  expect_dim(drag_force_cross_N(load(), at, mps(3)), unit_N, "drag_force_cross_N");
  expect_dim(road_force_N(load(), at), unit_N, "road_force_N");
  expect_dim(crr_motorcycle_tyre(mps(20), Pa(2.3e5)), unit_none, "crr_motorcycle_tyre");
  expect_dim(crr_pneumatic_tyre(mps(20), Pa(2.3e5)), unit_none, "crr_pneumatic_tyre");
  expect_dim(drag_equals_rolling_mps(load()), unit_mps, "drag_equals_rolling_mps");
  const Dim inertia = with_unit(0.5, unit_kgm2);
  expect_dim(rotating_equivalent_kg(RotatingParts<Dim>{.inertia_front_kgm2 = inertia,
                                                       .radius_front_m = m(0.29),
                                                       .inertia_rear_kgm2 = inertia,
                                                       .radius_rear_m = m(0.31),
                                                       .inertia_motor_kgm2 = inertia,
                                                       .ratio = none(4)}),
             unit_kg, "rotating_equivalent_kg");
  expect_dim(shaft_speed_radps(mps(20), none(4), m(0.31)), unit_radps, "shaft_speed_radps");
  expect_dim(road_speed_mps(radps(300), none(4), m(0.31)), unit_mps, "road_speed_mps");
  expect_dim(thrust_N(Nm(200), m(0.31)), unit_N, "thrust_N");
}

TEST_F(MechDims, RoadSteps) {
  const RoadPoint<Dim> at{.speed_mps = mps(20), .grade = none(0.03), .headwind_mps = mps(2)};
  for (const double thrust : {500.0, -30000.0}) {
    const auto step = advance(load(), at, N(thrust), s(0.8));
    expect_dim(step.speed_end_mps, unit_mps, "speed_end_mps");
    expect_dim(step.distance_m, unit_m, "distance_m");
    expect_dim(step.duration_moving_s, unit_s, "duration_moving_s");
    expect_dim(step.resistance_N, unit_N, "resistance_N");
  }
  const auto demand = trace_demand(load(), TraceStep<Dim>{.speed_start_mps = mps(12),
                                                          .speed_end_mps = mps(13),
                                                          .duration_s = s(1),
                                                          .grade = none(0),
                                                          .headwind_mps = mps(0)});
  expect_dim(demand.force_N, unit_N, "force_N");
  expect_dim(demand.distance_m, unit_m, "distance_m");
  expect_dim(demand.energy_J, unit_J, "energy_J");
  const auto q = quadratic_of(load());
  expect_dim(q.constant_N, unit_N, "constant_N");
  expect_dim(q.quadratic_Ns2pm2, unit_A_C, "quadratic_Ns2pm2");
  expect_dim(quadratic_force_N(q, mps(20)), unit_N, "quadratic_force_N");
  expect_dim(drag_area_of_m2(q, with_unit(1.2, unit_kgpm3)), unit_m2, "drag_area_of_m2");
  for (const auto& generic : {us_motorcycle_load(kg(250)), gtr2_motorcycle_load(kg(250))}) {
    expect_dim(generic.constant_N, unit_N, "generic constant_N");
    expect_dim(generic.quadratic_Ns2pm2, unit_A_C, "generic quadratic_Ns2pm2");
  }
  const CoastDown<Dim> run{
      .mass_effective_kg = kg(300), .speed_start_mps = mps(20), .speed_end_mps = mps(15)};
  expect_dim(coast_down_time_s(q, run), unit_s, "coast_down_time_s");
  expect_dim(coast_down_distance_m(q, run), unit_m, "coast_down_distance_m");
  expect_dim(coast_down_force_N(run, s(10)), unit_N, "coast_down_force_N");
}

TEST_F(MechDims, WindCurveCycle) {
  expect_dim(wind_factor_any_direction(none(0.2)), unit_none, "wind_factor_any_direction");
  expect_dim(wind_factor_rayleigh(none(0.2)), unit_none, "wind_factor_rayleigh");
  expect_dim(wind_factor_out_and_back(none(0.2)), unit_none, "wind_factor_out_and_back");
  expect_dim(rayleigh_wind_mps(mps(4), none(0.5)), unit_mps, "rayleigh_wind_mps");
  expect_dim(wind_at_height_mps(mps(4), m(1.2)), unit_mps, "wind_at_height_mps");
  expect_dim(wind_share_log_law(m(1.2), m(0.1)), unit_none, "wind_share_log_law");
  expect_dim(lateral_acceleration_mps2(none(0.4)), unit_mps2, "lateral_acceleration_mps2");
  expect_dim(curve_speed_mps(with_unit(3, unit_mps2), m(50)), unit_mps, "curve_speed_mps");
  expect_dim(curve_design_speed_mps(m(50), none(0.2)), unit_mps, "curve_design_speed_mps");
  expect_dim(range_combined_m(m(1e5), m(8e4)), unit_m, "range_combined_m");
  const std::vector<Dim> speeds{mps(0), mps(0), mps(2), mps(5), mps(3), mps(0)};
  const auto f = cycle_figures(std::span<const Dim>(speeds), s(1));
  expect_dim(f.duration_s, unit_s, "duration_s");
  expect_dim(f.distance_m, unit_m, "distance_m");
  expect_dim(f.speed_mean_mps, unit_mps, "speed_mean_mps");
  expect_dim(f.speed_max_mps, unit_mps, "speed_max_mps");
  expect_dim(f.acceleration_max_mps2, unit_mps2, "acceleration_max_mps2");
  expect_dim(f.deceleration_max_mps2, unit_mps2, "deceleration_max_mps2");
  expect_dim(f.acceleration_mean_mps2, unit_mps2, "acceleration_mean_mps2");
  expect_dim(f.deceleration_mean_mps2, unit_mps2, "deceleration_mean_mps2");
  expect_dim(f.positive_acceleration_mps2, unit_mps2, "positive_acceleration_mps2");
}

TEST_F(MechDims, WeightSpringBrake) {
  const Stance<Dim> stance{
      .mass_kg = kg(295), .wheelbase_m = m(1.4), .cg_to_rear_m = m(0.68), .cg_height_m = m(0.66)};
  const Pull<Dim> pull{.grade = none(0.1), .drag_N = N(200), .drag_height_m = m(0.9)};
  expect_dim(cg_to_rear_m(kg(100), kg(105), m(1.4)), unit_m, "cg_to_rear_m");
  expect_dim(cg_height_m(TiltedWeighing<Dim>{.mass_total_kg = kg(200),
                                             .mass_front_level_kg = kg(98),
                                             .mass_front_tilted_kg = kg(112),
                                             .wheelbase_m = m(1.4),
                                             .wheel_radius_m = m(0.31),
                                             .tilt_rad = none(0.25)}),
             unit_m, "cg_height_m");
  const std::vector<PointMass<Dim>> parts{{kg(17), m(0.2), m(0.01), m(0.3)},
                                          {kg(45), m(0.3), m(-0.01), m(0.4)}};
  const auto c = centre_of_mass(std::span<const PointMass<Dim>>(parts));
  expect_dim(c.mass_kg, unit_kg, "mass_kg");
  expect_dim(c.x_m, unit_m, "x_m");
  expect_dim(c.y_m, unit_m, "y_m");
  expect_dim(c.z_m, unit_m, "z_m");
  const auto loads = wheel_loads(stance, pull, with_unit(3, unit_mps2));
  expect_dim(loads.front_N, unit_N, "front_N");
  expect_dim(loads.rear_N, unit_N, "rear_N");
  expect_dim(load_transfer_N(stance, with_unit(3, unit_mps2)), unit_N, "load_transfer_N");
  expect_dim(wheelie_thrust_N(stance, pull), unit_N, "wheelie_thrust_N");
  expect_dim(wheelie_acceleration_mps2(stance, pull), unit_mps2, "wheelie_acceleration_mps2");
  expect_dim(grip_thrust_N(stance, pull, none(0.8)), unit_N, "grip_thrust_N");
  expect_dim(thrust_limit_N(stance, pull, none(0.8)), unit_N, "thrust_limit_N");
  expect_dim(stoppie_deceleration_mps2(stance, pull), unit_mps2, "stoppie_deceleration_mps2");
  expect_dim(rear_braking_limit_N(stance, pull, none(0.8)), unit_N, "rear_braking_limit_N");
  expect_dim(inertia_force_N(kg(45), none(20)), unit_N, "inertia_force_N");
  const Dim rate = with_unit(8000, unit_Npm);
  expect_dim(spring_rate_scaled_Npm(rate, kg(85), kg(98)), unit_Npm, "spring_rate_scaled_Npm");
  expect_dim(spring_rate_Npm(N(400), m(0.05)), unit_Npm, "spring_rate_Npm");
  expect_dim(spring_sag_m(Spring<Dim>{.rate_Npm = rate, .preload_m = m(0.01)}, N(400)), unit_m,
             "spring_sag_m");
  expect_dim(spring_preload_m(rate, N(400), m(0.03)), unit_m, "spring_preload_m");
  expect_dim(sag_share(m(0.03), m(0.12)), unit_none, "sag_share");
  expect_dim(sag_measured_m(m(0.65), m(0.61), m(0.62)), unit_m, "sag_measured_m");
  expect_dim(wheel_rate_Npm(rate, none(0.5)), unit_Npm, "wheel_rate_Npm");
  expect_dim(shock_load_N(N(400), none(0.5)), unit_N, "shock_load_N");
  expect_dim(stop_energy_J(kg(295), mps(28)), unit_J, "stop_energy_J");
  expect_dim(
      stop_distance_m(Stop<Dim>{
          .speed_mps = mps(28), .deceleration_mps2 = with_unit(6, unit_mps2), .reaction_s = s(1)}),
      unit_m, "stop_distance_m");
  expect_dim(stop_energy_ratio(StopChange<Dim>{.mass_old_kg = kg(265),
                                               .mass_new_kg = kg(295),
                                               .speed_old_mps = mps(28),
                                               .speed_new_mps = mps(28)}),
             unit_none, "stop_energy_ratio");
  expect_dim(disc_temperature_rise_K(with_unit(1e5, unit_J), kg(1.5), with_unit(480, unit_JpkgK)),
             unit_K, "disc_temperature_rise_K");
}

}  // namespace
}  // namespace ww::model
