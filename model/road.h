// SPDX-License-Identifier: MIT
// Longitudinal dynamics of the bike as a whole: resistance, effective mass, one step of a ride,
// coast-down, wind, curves, and the figures of a drive cycle. Invariants:
// 1. Forces that hold the bike back are positive; a tailwind or a descent can make them negative.
// 2. Grade is rise over run (0.10 is 10 %); headwind is positive against the bike.
// 3. A step conserves energy: (thrust - resistance) x distance = change of kinetic energy, with the
// distance at the mean
//    of the two speeds.
#pragma once

#include <cstddef>
#include <span>

#include "base/num.h"
#include "model/constants.h"

namespace ww::model {

/// What the road takes from the bike. Rolling coefficient crr0 + crr2 v^2.
template <class R>
struct RoadLoad {
  R mass_kg;                      ///< bike, rider, load
  R mass_rotating_equivalent_kg;  ///< adds to the inertia only, see rotating_equivalent_kg
  R crr0;
  R crr2_s2pm2;
  R drag_area_m2;  ///< drag coefficient times frontal area, with rider
  R air_density_kgpm3;
};

template <class R>
struct RoadPoint {
  R speed_mps;
  R grade;         ///< rise over run
  R headwind_mps;  ///< along the road, positive against the bike
};

namespace detail {
template <class R>
R metre_per_second() {
  return constant<R>(1, {.m = 1, .s = -1});
}
template <class R>
mask_of<R> on_the_road(const RoadLoad<R>& load, const RoadPoint<R>& at) {
  return (load.mass_kg > num<R>(0)) & (at.speed_mps >= num<R>(0)) &
         (at.speed_mps <= num<R>(90) * metre_per_second<R>()) & (abs(at.grade) <= num<R>(0.5));
}
/// Cosine of the road's angle from its grade; the sine is grade times it. Most roads asked for are
/// level.
template <class R>
R cosine_of_grade(R grade) {
  if constexpr (!carries_slopes<R>) {
    if (!any((grade > num<R>(0)) | (grade < num<R>(0)))) return num<R>(1);
  }
  return num<R>(1) / sqrt(num<R>(1) + square(grade));
}
}  // namespace detail

/// Rolling resistance: m g (crr0 + crr2 v^2) cos(slope). At standstill it is what must be overcome
/// to roll.
/// Valid: mass_kg > 0, 0 <= speed_mps <= 90, |grade| <= 0.5; outside: NaN.
/// Ignores tyre temperature (about -0.6 % a kelvin), lean, and a soft or wet surface.
/// Source: Cossalter, Motorcycle Dynamics; 40 CFR 86.529-98 has the same form.
/// Checked by: values/road.tsv.
template <class R>
R rolling_force_N(const RoadLoad<R>& load, const RoadPoint<R>& at) {
  const R coefficient = load.crr0 + load.crr2_s2pm2 * square(at.speed_mps);
  return valid_where(
      detail::on_the_road(load, at),
      load.mass_kg * standard_gravity<R>() * coefficient * detail::cosine_of_grade(at.grade));
}

/// Weight along the slope: m g sin(slope), positive uphill.
/// Valid: mass_kg > 0, |grade| <= 0.5; outside: NaN.
/// Source: statics.
/// Checked by: values/road.tsv.
template <class R>
R grade_force_N(const RoadLoad<R>& load, const RoadPoint<R>& at) {
  const R sine = at.grade * detail::cosine_of_grade(at.grade);
  return valid_where(detail::on_the_road(load, at), load.mass_kg * standard_gravity<R>() * sine);
}

/// Aerodynamic drag with wind along the road: rho/2 CdA (v + w) |v + w|; negative in a tailwind
/// faster than the bike.
/// Valid: 0 <= speed_mps <= 90; outside: NaN.
/// Ignores lift, yaw and the rider's movement (posture alone is +-15 %).
/// Source: definition of the drag area.
/// Checked by: values/road.tsv.
template <class R>
R drag_force_N(const RoadLoad<R>& load, const RoadPoint<R>& at) {
  const R air_speed = at.speed_mps + at.headwind_mps;
  return valid_where(
      detail::on_the_road(load, at),
      num<R>(0.5) * load.air_density_kgpm3 * load.drag_area_m2 * air_speed * abs(air_speed));
}

/// Drag along the road with a cross wind too: rho/2 CdA (v + w) sqrt((v + w)^2 + c^2), the same
/// drag area at any yaw.
/// Valid: 0 <= speed_mps <= 90; outside: NaN.
/// Ignores the growth of the drag area with yaw.
/// Source: vector sum of the air speeds.
/// Checked by: tests/model/mech_test.cpp (mean over the wind's direction).
template <class R>
R drag_force_cross_N(const RoadLoad<R>& load, const RoadPoint<R>& at, R crosswind_mps) {
  const R air_speed = at.speed_mps + at.headwind_mps;
  return valid_where(detail::on_the_road(load, at),
                     num<R>(0.5) * load.air_density_kgpm3 * load.drag_area_m2 * air_speed *
                         sqrt(square(air_speed) + square(crosswind_mps)));
}

/// All that holds the bike back at steady speed: rolling + grade + drag.
/// Valid: mass_kg > 0, 0 <= speed_mps <= 90, |grade| <= 0.5; outside: NaN.
/// Ignores curves, and the driveline's own drag.
/// Source: its three parts.
/// Checked by: values/road.tsv.
template <class R>
R road_force_N(const RoadLoad<R>& load, const RoadPoint<R>& at) {
  return rolling_force_N(load, at) + grade_force_N(load, at) + drag_force_N(load, at);
}

/// Rolling coefficient of motorcycle tyres from speed and pressure, p bar, V km/h:
/// 0.0085 + 0.018/p + 1.59e-6 V^2/p up to 165 km/h, 0.018/p + 2.91e-6 V^2/p above.
/// Valid: 1e5 <= pressure_Pa <= 5e5 (gauge), 0 <= speed_mps <= 90; outside: NaN. Has a step.
/// Ignores load, temperature, tread.
/// Source: Cossalter, Motorcycle Dynamics, from memory.
/// Checked by: values/road.tsv.
template <class R>
R crr_motorcycle_tyre(R speed_mps, R pressure_Pa) {
  const R p = pressure_Pa / bar<R>();
  const R V = speed_mps / kilometre_per_hour<R>();
  const R slow = num<R>(0.0085) + num<R>(0.018) / p + num<R>(1.59e-6) * square(V) / p;
  const R fast = num<R>(0.018) / p + num<R>(2.91e-6) * square(V) / p;
  return valid_where((p >= num<R>(1)) & (p <= num<R>(5)) & (V >= num<R>(0)) & (V <= num<R>(324)),
                     select(V <= num<R>(165), slow, fast));
}

/// Rolling coefficient of a pneumatic tyre on dry road: 0.005 + (0.01 + 0.0095 (V/100)^2)/p, p bar,
/// V km/h.
/// Valid: 1e5 <= pressure_Pa <= 5e5 (gauge), 0 <= speed_mps <= 90; outside: NaN. For car tyres.
/// Ignores load, temperature, tread.
/// Source: engineering tables of rolling resistance.
/// Checked by: values/road.tsv.
template <class R>
R crr_pneumatic_tyre(R speed_mps, R pressure_Pa) {
  const R p = pressure_Pa / bar<R>();
  const R V = speed_mps / kilometre_per_hour<R>();
  return valid_where(
      (p >= num<R>(1)) & (p <= num<R>(5)) & (V >= num<R>(0)) & (V <= num<R>(324)),
      num<R>(0.005) + (num<R>(0.01) + num<R>(0.0095) * square(V * num<R>(0.01))) / p);
}

/// Speed at which drag equals rolling resistance on the level in still air, with crr2 = 0: sqrt(2 m
/// g crr0/(rho CdA)).
/// Valid: mass_kg, crr0, drag_area_m2, air_density_kgpm3 > 0; outside: NaN.
/// Source: the two forces set equal.
/// Checked by: values/road.tsv.
template <class R>
R drag_equals_rolling_mps(const RoadLoad<R>& load) {
  const R air = num<R>(0.5) * load.air_density_kgpm3 * load.drag_area_m2;
  return valid_where((load.mass_kg > num<R>(0)) & (load.crr0 > num<R>(0)) & (air > num<R>(0)),
                     sqrt(load.mass_kg * standard_gravity<R>() * load.crr0 / air));
}

// --- Inertia and the driveline's kinematics ----------------------------------------------------

template <class R>
struct RotatingParts {
  R inertia_front_kgm2;
  R radius_front_m;
  R inertia_rear_kgm2;
  R radius_rear_m;
  R inertia_motor_kgm2;  ///< rotor and what turns with it
  R ratio;               ///< motor speed over wheel speed
};

/// Mass that the rotating parts add to the inertia: I_f/r_f^2 + (I_r + G^2 I_m)/r_r^2.
/// Valid: both radii > 0; outside: NaN.
/// Source: kinetic energy of the parts; Cossalter, Motorcycle Dynamics.
/// Checked by: tests/model/mech_test.cpp (kinetic energy of each part).
template <class R>
R rotating_equivalent_kg(const RotatingParts<R>& parts) {
  const R rear = parts.inertia_rear_kgm2 + square(parts.ratio) * parts.inertia_motor_kgm2;
  return valid_where(
      (parts.radius_front_m > num<R>(0)) & (parts.radius_rear_m > num<R>(0)),
      parts.inertia_front_kgm2 / square(parts.radius_front_m) + rear / square(parts.radius_rear_m));
}

/// The mass that the bike shows against acceleration.
/// Checked by: values/road.tsv (coast-down by stepping).
template <class R>
R effective_mass_kg(const RoadLoad<R>& load) {
  return load.mass_kg + load.mass_rotating_equivalent_kg;
}

/// Motor shaft speed from road speed: G v / r.
/// Valid: rolling_radius_m > 0, ratio > 0; outside: NaN.
/// Ignores tyre slip (1 to 3 % under power).
/// Source: kinematics.
/// Checked by: values/road.tsv.
template <class R>
R shaft_speed_radps(R speed_mps, R ratio, R rolling_radius_m) {
  return valid_where((rolling_radius_m > num<R>(0)) & (ratio > num<R>(0)),
                     ratio * speed_mps / rolling_radius_m);
}

/// Road speed from motor shaft speed: r w / G.
/// Valid: rolling_radius_m > 0, ratio > 0; outside: NaN.
/// Ignores tyre slip (1 to 3 % under power).
/// Source: kinematics.
/// Checked by: values/road.tsv.
template <class R>
R road_speed_mps(R shaft_speed, R ratio, R rolling_radius_m) {
  return valid_where((rolling_radius_m > num<R>(0)) & (ratio > num<R>(0)),
                     shaft_speed * rolling_radius_m / ratio);
}

/// Thrust at the rear contact from the torque on the wheel.
/// Valid: rolling_radius_m > 0; outside: NaN.
/// Source: statics.
/// Checked by: values/road.tsv.
template <class R>
R thrust_N(R torque_wheel_Nm, R rolling_radius_m) {
  return valid_where(rolling_radius_m > num<R>(0), torque_wheel_Nm / rolling_radius_m);
}

// --- One step of a ride ------------------------------------------------------------------------

template <class R>
struct RoadStep {
  R speed_end_mps;
  R distance_m;
  R duration_moving_s;  ///< less than the step where the bike comes to rest within it
  R resistance_N;       ///< the road's force that the step used, at mid-step
};

/// One step under a thrust (negative brakes), force at the speed of mid-step. The bike stops at
/// zero, never reverses.
/// Valid: as road_force_N, duration_s > 0; outside: NaN. Second order in the step.
/// Source: explicit midpoint rule.
/// Checked by: values/road.tsv (25 coast-downs); tests/model/mech_test.cpp (energy, order).
template <class R>
RoadStep<R> advance(const RoadLoad<R>& load, const RoadPoint<R>& at, R thrust, R duration_s) {
  // select, not max: a batch's max would swallow a NaN.
  const R m = effective_mass_kg(load), v0 = at.speed_mps, zero = num<R>(0);
  const R slope0 = (thrust - road_force_N(load, at)) / m;
  const R halfway = v0 + num<R>(0.5) * duration_s * slope0;
  const RoadPoint<R> middle{.speed_mps = select(halfway < zero, zero, halfway),
                            .grade = at.grade,
                            .headwind_mps = at.headwind_mps};
  const R resistance = road_force_N(load, middle);
  const R slope = (thrust - resistance) / m;
  const R free_end = v0 + duration_s * slope;
  const R end = select(free_end < zero, zero, free_end);
  const R moving = select(free_end < zero, -v0 / slope, duration_s);
  return {.speed_end_mps = valid_where(duration_s > zero, end),
          .distance_m = valid_where(duration_s > zero, num<R>(0.5) * (v0 + end) * moving),
          .duration_moving_s = moving,
          .resistance_N = resistance};
}

template <class R>
struct TraceStep {
  R speed_start_mps;
  R speed_end_mps;
  R duration_s;
  R grade;
  R headwind_mps;
};

template <class R>
struct WheelDemand {
  R force_N;  ///< at the wheels' contact; negative where the trace wants braking; 0 at rest
  R distance_m;
  R energy_J;  ///< force x distance
};

/// What one step of a speed trace asks of the wheels, resistance taken at the mean of the two
/// speeds.
/// Valid: as road_force_N at the mean speed, duration_s > 0; outside: NaN.
/// Source: Newton's law on the trace's own grid.
/// Checked by: values/road.tsv (wheel energies of ten cycles).
template <class R>
WheelDemand<R> trace_demand(const RoadLoad<R>& load, const TraceStep<R>& step) {
  const R mean = num<R>(0.5) * (step.speed_start_mps + step.speed_end_mps);
  const RoadPoint<R> middle{
      .speed_mps = mean, .grade = step.grade, .headwind_mps = step.headwind_mps};
  const R inertia =
      effective_mass_kg(load) * (step.speed_end_mps - step.speed_start_mps) / step.duration_s;
  const auto at_rest = (mean <= num<R>(0)) & (mean >= num<R>(0));
  const R force = select(at_rest, num<R>(0), road_force_N(load, middle) + inertia);
  const R distance = valid_where(step.duration_s > num<R>(0), mean * step.duration_s);
  return {.force_N = force, .distance_m = distance, .energy_J = force * distance};
}

// --- Coast-down and regulation loads -----------------------------------------------------------

/// Resistance on the level in still air as A + C v^2.
template <class R>
struct QuadraticLoad {
  R constant_N;
  R quadratic_Ns2pm2;
};

/// A + C v^2.
/// Valid: speed_mps >= 0; outside: NaN.
/// Source: 40 CFR 86.529-98.
/// Checked by: values/road.tsv.
template <class R>
R quadratic_force_N(const QuadraticLoad<R>& load, R speed_mps) {
  return valid_where(speed_mps >= num<R>(0),
                     load.constant_N + load.quadratic_Ns2pm2 * square(speed_mps));
}

/// A and C of a road load.
/// Checked by: tests/model/mech_test.cpp (the two forces agree at every speed).
template <class R>
QuadraticLoad<R> quadratic_of(const RoadLoad<R>& load) {
  const R weight = load.mass_kg * standard_gravity<R>();
  return {.constant_N = weight * load.crr0,
          .quadratic_Ns2pm2 =
              weight * load.crr2_s2pm2 + num<R>(0.5) * load.air_density_kgpm3 * load.drag_area_m2};
}

/// Drag area that C stands for at an air density, all of it taken as drag: 2 C / rho.
/// Valid: air_density_kgpm3 > 0; outside: NaN.
/// Source: definition of the drag area.
/// Checked by: values/road.tsv.
template <class R>
R drag_area_of_m2(const QuadraticLoad<R>& load, R air_density_kgpm3) {
  return valid_where(air_density_kgpm3 > num<R>(0),
                     num<R>(2) * load.quadratic_Ns2pm2 / air_density_kgpm3);
}

/// Generic load of a motorcycle with rider by its loaded mass: a line through the 25 rows of the
/// regulation.
/// Valid: 95 <= mass_kg <= 345; outside: NaN. Within 0.012 N of A, 8e-5 N/(km/h)^2 of C.
/// Ignores the driven tyre's rolling loss, most of which the dynamometer adds itself.
/// Source: 40 CFR 86.529-98 figure F98-9; the line is our fit.
/// Checked by: values/road.tsv.
template <class R>
QuadraticLoad<R> us_motorcycle_load(R mass_kg) {
  const R kg = constant<R>(1, {.kg = 1}), newton = constant<R>(1, {.kg = 1, .m = 1, .s = -2});
  const R m =
      valid_where((mass_kg >= num<R>(95) * kg) & (mass_kg <= num<R>(345) * kg), mass_kg / kg);
  const R line = num<R>(0.08743) * (m - num<R>(100.6));
  const R A = select(line < num<R>(0), num<R>(0), line);
  const R C = num<R>(0.01965) + num<R>(2.75e-5) * m;
  return {.constant_N = A * newton,
          .quadratic_Ns2pm2 = C * newton / square(kilometre_per_hour<R>())};
}

/// Generic load by reference mass: a = 0.088 m N (the front wheel's rolling only), b = 0.000015 m +
/// 0.0200 N/(km/h)^2.
/// Valid: 95 <= mass_kg <= 505; outside: NaN.
/// Ignores the driven tyre's rolling loss, which the dynamometer adds itself.
/// Source: UN GTR No. 2 table method, from memory.
/// Checked by: values/road.tsv.
template <class R>
QuadraticLoad<R> gtr2_motorcycle_load(R mass_kg) {
  const R kg = constant<R>(1, {.kg = 1}), newton = constant<R>(1, {.kg = 1, .m = 1, .s = -2});
  const R m =
      valid_where((mass_kg >= num<R>(95) * kg) & (mass_kg <= num<R>(505) * kg), mass_kg / kg);
  const R b = num<R>(0.000015) * m + num<R>(0.0200);
  return {.constant_N = num<R>(0.088) * m * newton,
          .quadratic_Ns2pm2 = b * newton / square(kilometre_per_hour<R>())};
}

template <class R>
struct CoastDown {
  R mass_effective_kg;
  R speed_start_mps;
  R speed_end_mps;
};

namespace detail {
template <class R>
mask_of<R> slows_down(const QuadraticLoad<R>& load, const CoastDown<R>& run) {
  return (load.constant_N >= num<R>(0)) & (load.quadratic_Ns2pm2 > num<R>(0)) &
         (run.mass_effective_kg > num<R>(0)) & (run.speed_end_mps >= num<R>(0)) &
         (run.speed_start_mps >= run.speed_end_mps);
}
}  // namespace detail

/// Time to coast from one speed to a lower one: m/sqrt(AC) (atan(v0 sqrt(C/A)) - atan(v1
/// sqrt(C/A))), written as one arc tangent, so that A = 0 is no exception.
/// Valid: A >= 0, C > 0, mass > 0, start >= end >= 0 (> 0 where A = 0); outside: NaN.
/// Source: m dv/dt = -(A + C v^2) integrated.
/// Checked by: values/road.tsv.
template <class R>
R coast_down_time_s(const QuadraticLoad<R>& load, const CoastDown<R>& run) {
  const R A = load.constant_N, C = load.quadratic_Ns2pm2;
  const R v0 = run.speed_start_mps, v1 = run.speed_end_mps;
  const R mean_force = A + C * v0 * v1;  // the geometric mean of the speeds
  const R x = sqrt(A * C) * (v0 - v1) / mean_force;
  const R safe = max(x, num<R>(1e-8));
  const R share = select(x > num<R>(1e-8), atan(safe) / safe, num<R>(1));
  return valid_where(detail::slows_down(load, run) & (mean_force > num<R>(0)),
                     run.mass_effective_kg * (v0 - v1) / mean_force * share);
}

/// Distance covered while coasting: m/(2C) ln((A + C v0^2)/(A + C v1^2)).
/// Valid: A >= 0, C > 0, mass > 0, start >= end >= 0 (> 0 where A = 0); outside: NaN.
/// Source: m v dv/dx = -(A + C v^2) integrated.
/// Checked by: tests/model/mech_test.cpp (against stepping).
template <class R>
R coast_down_distance_m(const QuadraticLoad<R>& load, const CoastDown<R>& run) {
  const R C = load.quadratic_Ns2pm2;
  const R start = load.constant_N + C * square(run.speed_start_mps);
  const R end = load.constant_N + C * square(run.speed_end_mps);
  return valid_where(detail::slows_down(load, run) & (end > num<R>(0)),
                     num<R>(0.5) * run.mass_effective_kg / C * log(start / end));
}

/// Mean force over a timed coast-down between two speeds: m (v0 - v1)/t.
/// Valid: duration_s > 0, start > end; outside: NaN.
/// Source: UN GTR No. 2, force from coast-down time.
/// Checked by: values/road.tsv.
template <class R>
R coast_down_force_N(const CoastDown<R>& run, R duration_s) {
  return valid_where(
      (duration_s > num<R>(0)) & (run.speed_start_mps > run.speed_end_mps),
      run.mass_effective_kg * (run.speed_start_mps - run.speed_end_mps) / duration_s);
}

// --- Wind --------------------------------------------------------------------------------------

/// Mean drag over still air's, wind of one speed equally likely from all sides: 1 + 0.75 (w/v)^2.
/// Valid: 0 <= wind_over_speed <= 0.6 (within 1 %); outside: NaN.
/// Source: expansion of drag_force_cross_N to the second order.
/// Checked by: tests/model/mech_test.cpp (against the mean over 720 directions).
template <class R>
R wind_factor_any_direction(R wind_over_speed) {
  return valid_where((wind_over_speed >= num<R>(0)) & (wind_over_speed <= num<R>(0.6)),
                     num<R>(1) + num<R>(0.75) * square(wind_over_speed));
}

/// The same with Rayleigh-distributed winds of a mean: 1 + 0.75 (4/pi) (u/v)^2, about 1 + 0.95
/// (u/v)^2.
/// Valid: 0 <= mean_wind_over_speed <= 0.4; outside: NaN.
/// Source: mean square of the Rayleigh distribution.
/// Checked by: values/road.tsv; tests/model/mech_test.cpp.
template <class R>
R wind_factor_rayleigh(R mean_wind_over_speed) {
  return valid_where((mean_wind_over_speed >= num<R>(0)) & (mean_wind_over_speed <= num<R>(0.4)),
                     num<R>(1) + num<R>(3 / pi) * square(mean_wind_over_speed));
}

/// Mean drag of equal distances out against and back with a wind along the road: 1 + (w/v)^2.
/// Valid: 0 <= wind_over_speed <= 1; outside: NaN.
/// Source: mean of (1 + w/v)^2 and (1 - w/v)^2.
/// Checked by: values/road.tsv; tests/model/mech_test.cpp.
template <class R>
R wind_factor_out_and_back(R wind_over_speed) {
  return valid_where((wind_over_speed >= num<R>(0)) & (wind_over_speed <= num<R>(1)),
                     num<R>(1) + square(wind_over_speed));
}

/// The wind that a share of all times stays below, Rayleigh: u sqrt(-(4/pi) ln(1 - q)).
/// Valid: mean_wind_mps >= 0, 0 <= share < 1; outside: NaN.
/// Source: Rayleigh distribution (Weibull shape 2).
/// Checked by: values/road.tsv.
template <class R>
R rayleigh_wind_mps(R mean_wind_mps, R share) {
  return valid_where((mean_wind_mps >= num<R>(0)) & (share >= num<R>(0)) & (share < num<R>(1)),
                     mean_wind_mps * sqrt(num<R>(-4 / pi) * log(num<R>(1) - share)));
}

/// Wind at another height: V1 (z2/z1)^n, n = 0.37 - 0.0881 ln V1, V1 at 10 m.
/// Valid: wind_10m_mps >= 1, height_m > 0; outside: NaN. Below 10 m it extrapolates the fit.
/// Source: Justus and Mikhail 1976.
/// Checked by: values/road.tsv.
template <class R>
R wind_at_height_mps(R wind_10m_mps, R height_m) {
  const R V1 = wind_10m_mps / detail::metre_per_second<R>();
  const R n = num<R>(0.37) - num<R>(0.0881) * log(V1);
  return valid_where((V1 >= num<R>(1)) & (height_m > num<R>(0)),
                     wind_10m_mps * pow(height_m / constant<R>(10, {.m = 1}), n));
}

/// Wind at another height over that at 10 m by the logarithmic law: ln(z/z0)/ln(10 m/z0).
/// Valid: 0 < roughness_m < height_m, roughness_m < 10; outside: NaN.
/// Source: logarithmic wind profile of the neutral boundary layer.
/// Checked by: values/road.tsv.
template <class R>
R wind_share_log_law(R height_m, R roughness_m) {
  const R ten = constant<R>(10, {.m = 1});
  return valid_where((roughness_m > num<R>(0)) & (roughness_m < height_m) & (roughness_m < ten),
                     log(height_m / roughness_m) / log(ten / roughness_m));
}

// --- Curves ------------------------------------------------------------------------------------

/// Lateral acceleration at a lean angle: g tan(lean).
/// Valid: 0 <= lean_rad < 65 deg; outside: NaN.
/// Ignores the tyre's width: the real lean is larger.
/// Source: statics of the leaning bike.
/// Checked by: values/road.tsv.
template <class R>
R lateral_acceleration_mps2(R lean_rad) {
  return valid_where((lean_rad >= num<R>(0)) & (lean_rad < num<R>(65 * pi / 180)),
                     standard_gravity<R>() * tan(lean_rad));
}

/// Speed in a curve at a lateral acceleration: sqrt(a r).
/// Valid: lateral_mps2 > 0, radius_m > 0; outside: NaN.
/// Source: kinematics.
/// Checked by: values/road.tsv; tests/model/mech_test.cpp.
template <class R>
R curve_speed_mps(R lateral_mps2, R radius_m) {
  return valid_where((lateral_mps2 > num<R>(0)) & (radius_m > num<R>(0)),
                     sqrt(lateral_mps2 * radius_m));
}

/// Speed a curve is laid out for: V^2 = 127 R (e + f), V km/h, R m; e superelevation, f side
/// friction 0.08 to 0.17.
/// Valid: radius_m > 0, superelevation + side friction > 0; outside: NaN.
/// Source: AASHTO design-speed formula, from memory.
/// Checked by: tests/model/mech_test.cpp (127 is g in km/h and m to 0.1 %).
template <class R>
R curve_design_speed_mps(R radius_m, R elevation_and_friction) {
  const R inside = num<R>(127) * (radius_m / constant<R>(1, {.m = 1})) * elevation_and_friction;
  return valid_where((radius_m > num<R>(0)) & (elevation_and_friction > num<R>(0)),
                     sqrt(inside) * kilometre_per_hour<R>());
}

// --- Cycles and ranges -------------------------------------------------------------------------

/// Range of a trip half (by distance) in town, half at steady speed: the harmonic mean.
/// Valid: both ranges > 0; outside: NaN.
/// Source: SAE J2982, highway commuting.
/// Checked by: values/road.tsv.
template <class R>
R range_combined_m(R range_city_m, R range_steady_m) {
  return valid_where((range_city_m > num<R>(0)) & (range_steady_m > num<R>(0)),
                     num<R>(2) / (num<R>(1) / range_city_m + num<R>(1) / range_steady_m));
}

/// What a speed trace is like. Steps count as accelerating or braking above 0.1 m/s2.
template <class R>
struct CycleFigures {
  R duration_s;
  R distance_m;
  R speed_mean_mps;
  R speed_max_mps;
  R idle_share;  ///< of the time, both ends of the step at rest
  R starts;      ///< steps that leave rest
  R acceleration_max_mps2;
  R deceleration_max_mps2;       ///< positive
  R acceleration_mean_mps2;      ///< over the accelerating steps
  R deceleration_mean_mps2;      ///< over the braking steps, positive
  R positive_acceleration_mps2;  ///< integral of v a where a > 0, over the distance
};

namespace detail {
template <class R>
R ratio_or_zero(R over, R under) {
  return select(under > num<R>(0), over / under, num<R>(0));
}
template <class R>
void count_step(CycleFigures<R>& f, R v0, R v1, R step_s) {
  const R zero = num<R>(0), slope = (v1 - v0) / step_s;
  f.distance_m += num<R>(0.5) * (v0 + v1) * step_s;
  f.speed_max_mps = max(f.speed_max_mps, max(v0, v1));
  f.idle_share += select(max(v0, v1) > zero, zero, num<R>(1));
  f.starts += select((v0 <= zero) & (v1 > zero), num<R>(1), zero);
  f.acceleration_max_mps2 = max(f.acceleration_max_mps2, slope);
  f.deceleration_max_mps2 = max(f.deceleration_max_mps2, -slope);
  f.positive_acceleration_mps2 += num<R>(0.5) * (v0 + v1) * max(slope, zero) * step_s;
}
}  // namespace detail

/// The figures of a speed trace on an even grid, linear between the points.
/// Valid: at least two speeds, step_s > 0; a shorter trace gives zeros.
/// Source: definitions beside the fields.
/// Checked by: values/road.tsv (ten cycles).
template <class R>
CycleFigures<R> cycle_figures(std::span<const R> speeds_mps, R step_s) {
  CycleFigures<R> f{};
  R rising = num<R>(0), falling = num<R>(0), risen = num<R>(0), fallen = num<R>(0);
  const R least = constant<R>(0.1 + 1e-9, {.m = 1, .s = -2});
  for (std::size_t i = 1; i < speeds_mps.size(); ++i) {
    detail::count_step(f, speeds_mps[i - 1], speeds_mps[i], step_s);
    const R slope = (speeds_mps[i] - speeds_mps[i - 1]) / step_s;
    rising += select(slope > least, num<R>(1), num<R>(0));
    falling += select(-slope > least, num<R>(1), num<R>(0));
    risen += select(slope > least, slope, num<R>(0));
    fallen += select(-slope > least, -slope, num<R>(0));
  }
  const R steps = num<R>(speeds_mps.size() > 1 ? static_cast<double>(speeds_mps.size() - 1) : 0);
  f.duration_s = steps * step_s;
  f.speed_mean_mps = detail::ratio_or_zero(f.distance_m, f.duration_s);
  f.idle_share = detail::ratio_or_zero(f.idle_share, steps);
  f.acceleration_mean_mps2 = detail::ratio_or_zero(risen, rising);
  f.deceleration_mean_mps2 = detail::ratio_or_zero(fallen, falling);
  f.positive_acceleration_mps2 = detail::ratio_or_zero(f.positive_acceleration_mps2, f.distance_m);
  return f;
}

}  // namespace ww::model
