// SPDX-License-Identifier: MIT
// Where the weight is: centre of gravity from scales and from parts, wheel loads, the lift and grip
// limits. Invariants:
// 1. The centre's distance counts from the rear contact forward, its height from the ground, not
// from the axle.
// 2. The bike is upright; drag acts at its own height and only along the road.
// 3. Wheels are light: their spin takes no moment.
#pragma once

#include <span>

#include "base/num.h"
#include "model/constants.h"

namespace ww::model {

/// Distance of the centre of gravity ahead of the rear contact: front share times wheelbase.
/// Valid: masses >= 0 with a sum > 0, wheelbase_m > 0; outside: NaN.
/// Source: moments about the rear contact.
/// Checked by: values/weight.tsv.
template <class R>
R cg_to_rear_m(R mass_front_kg, R mass_rear_kg, R wheelbase_m) {
  const R total = mass_front_kg + mass_rear_kg;
  return valid_where((mass_front_kg >= num<R>(0)) & (mass_rear_kg >= num<R>(0)) &
                         (total > num<R>(0)) & (wheelbase_m > num<R>(0)),
                     mass_front_kg / total * wheelbase_m);
}

/// Two weighings of the front wheel: level, and with the rear wheel raised.
template <class R>
struct TiltedWeighing {
  R mass_total_kg;
  R mass_front_level_kg;
  R mass_front_tilted_kg;
  R wheelbase_m;
  R wheel_radius_m;  ///< axle height, both wheels alike
  R tilt_rad;        ///< of the line through the axles
};

/// Height of the centre of gravity from the weighing with the rear raised: r + dm L/(m tan(tilt)).
/// Valid: 3 deg <= tilt <= 40 deg, mass and wheelbase > 0; outside: NaN.
/// Ignores suspension moving between the weighings (tie it down) and fluids that shift.
/// Source: moments about the rear axle in both positions.
/// Checked by: values/weight.tsv; tests/model/mech_test.cpp (against statics).
template <class R>
R cg_height_m(const TiltedWeighing<R>& w) {
  const R shift = (w.mass_front_tilted_kg - w.mass_front_level_kg) / w.mass_total_kg;
  const auto inside = (w.tilt_rad >= num<R>(3 * pi / 180)) & (w.tilt_rad <= num<R>(40 * pi / 180)) &
                      (w.mass_total_kg > num<R>(0)) & (w.wheelbase_m > num<R>(0));
  return valid_where(inside, w.wheel_radius_m + shift * w.wheelbase_m / tan(w.tilt_rad));
}

template <class R>
struct PointMass {
  R mass_kg;
  R x_m;
  R y_m;
  R z_m;
};

/// Total mass and centre of a list of parts.
/// Valid: masses >= 0 with a sum > 0; outside: NaN in the coordinates.
/// Source: definition.
/// Checked by: values/weight.tsv; tests/model/mech_test.cpp.
template <class R>
PointMass<R> centre_of_mass(std::span<const PointMass<R>> parts) {
  PointMass<R> sum{.mass_kg = num<R>(0), .x_m = num<R>(0), .y_m = num<R>(0), .z_m = num<R>(0)};
  for (const PointMass<R>& part : parts) {
    sum.mass_kg += part.mass_kg;
    sum.x_m += part.mass_kg * part.x_m;
    sum.y_m += part.mass_kg * part.y_m;
    sum.z_m += part.mass_kg * part.z_m;
  }
  const auto some = sum.mass_kg > num<R>(0);
  return {.mass_kg = sum.mass_kg,
          .x_m = valid_where(some, sum.x_m / sum.mass_kg),
          .y_m = valid_where(some, sum.y_m / sum.mass_kg),
          .z_m = valid_where(some, sum.z_m / sum.mass_kg)};
}

template <class R>
struct Stance {
  R mass_kg;
  R wheelbase_m;
  R cg_to_rear_m;  ///< b, horizontal, from the rear contact
  R cg_height_m;   ///< h, from the ground
};

/// What acts on the bike besides its weight.
template <class R>
struct Pull {
  R grade;          ///< rise over run, positive uphill
  R drag_N;         ///< along the road
  R drag_height_m;  ///< where it acts, from the ground
};

namespace detail {
template <class R>
mask_of<R> stands(const Stance<R>& s, const Pull<R>& pull) {
  return (s.mass_kg > num<R>(0)) & (s.wheelbase_m > num<R>(0)) & (s.cg_to_rear_m > num<R>(0)) &
         (s.cg_to_rear_m < s.wheelbase_m) & (s.cg_height_m > num<R>(0)) &
         (abs(pull.grade) <= num<R>(0.5));
}
/// Weight across and along the slope.
template <class R>
R weight_across_N(const Stance<R>& s, const Pull<R>& pull) {
  return s.mass_kg * standard_gravity<R>() / sqrt(num<R>(1) + square(pull.grade));
}
template <class R>
R weight_along_N(const Stance<R>& s, const Pull<R>& pull) {
  return pull.grade * weight_across_N(s, pull);
}
/// Weight's moment about the front contact, plus what drag above the centre of gravity adds to the
/// rear wheel.
template <class R>
R rear_moment_Nm(const Stance<R>& s, const Pull<R>& pull) {
  return weight_across_N(s, pull) * (s.wheelbase_m - s.cg_to_rear_m) +
         pull.drag_N * (pull.drag_height_m - s.cg_height_m);
}
}  // namespace detail

template <class R>
struct WheelLoads {
  R front_N;  ///< negative: the wheel has left the ground
  R rear_N;
};

/// Loads on the wheels at an acceleration: front m g cos b/p - (m a h + m g sin h + F_D h_A)/p,
/// rear the rest.
/// Valid: mass > 0, 0 < b < p, h > 0, |grade| <= 0.5; outside: NaN.
/// Ignores the wheels' spin, suspension dive and aerodynamic lift.
/// Source: Cossalter, Motorcycle Dynamics, chapter 3; Foale, from memory.
/// Checked by: values/weight.tsv; tests/model/mech_test.cpp (sum is the weight, limits are zeros).
template <class R>
WheelLoads<R> wheel_loads(const Stance<R>& s, const Pull<R>& pull, R acceleration_mps2) {
  const R weight = detail::weight_across_N(s, pull);
  const R tipping =
      (s.mass_kg * acceleration_mps2 + detail::weight_along_N(s, pull)) * s.cg_height_m +
      pull.drag_N * pull.drag_height_m;
  const R front = (weight * s.cg_to_rear_m - tipping) / s.wheelbase_m;
  const auto inside = detail::stands(s, pull);
  return {.front_N = valid_where(inside, front), .rear_N = valid_where(inside, weight - front)};
}

/// Load that an acceleration moves from the front wheel to the rear: m a h / p.
/// Valid: wheelbase_m > 0; outside: NaN.
/// Source: moments about a contact.
/// Checked by: values/weight.tsv; tests/model/mech_test.cpp.
template <class R>
R load_transfer_N(const Stance<R>& s, R acceleration_mps2) {
  return valid_where(s.wheelbase_m > num<R>(0),
                     s.mass_kg * acceleration_mps2 * s.cg_height_m / s.wheelbase_m);
}

/// Thrust at which the front wheel leaves the ground: (m g cos b + F_D (h - h_A))/h; without drag m
/// g b cos/h.
/// Valid: mass > 0, 0 < b < p, h > 0, |grade| <= 0.5; outside: NaN.
/// Ignores the rider leaning forward, the wheels' spin and suspension.
/// Source: Cossalter, Motorcycle Dynamics, chapter 3, moments about the rear contact.
/// Checked by: values/weight.tsv; tests/model/mech_test.cpp (front load is zero there).
template <class R>
R wheelie_thrust_N(const Stance<R>& s, const Pull<R>& pull) {
  const R moment = detail::weight_across_N(s, pull) * s.cg_to_rear_m +
                   pull.drag_N * (s.cg_height_m - pull.drag_height_m);
  return valid_where(detail::stands(s, pull), moment / s.cg_height_m);
}

/// Acceleration at which the front wheel leaves the ground: (g cos b - F_D h_A/m)/h - g sin.
/// Valid: mass > 0, 0 < b < p, h > 0, |grade| <= 0.5; outside: NaN.
/// Ignores the rider leaning forward, the wheels' spin and suspension.
/// Source: Cossalter, Motorcycle Dynamics, chapter 3.
/// Checked by: values/weight.tsv; tests/model/mech_test.cpp.
template <class R>
R wheelie_acceleration_mps2(const Stance<R>& s, const Pull<R>& pull) {
  return (wheelie_thrust_N(s, pull) - pull.drag_N - detail::weight_along_N(s, pull)) / s.mass_kg;
}

/// Largest thrust that the rear tyre's grip passes on: mu (m g cos (p - b) + F_D (h_A - h))/(p - mu
/// h).
/// Valid: as wheelie_thrust_N, 0 < mu < p/h; outside: NaN. From mu = b/h the wheelie comes first.
/// Ignores tyre slip and load sensitivity, lean.
/// Source: Cossalter, Motorcycle Dynamics, chapter 3.
/// Checked by: values/weight.tsv; tests/model/mech_test.cpp (thrust is mu times the rear load).
template <class R>
R grip_thrust_N(const Stance<R>& s, const Pull<R>& pull, R friction) {
  const R arm = s.wheelbase_m - friction * s.cg_height_m;
  return valid_where(detail::stands(s, pull) & (friction > num<R>(0)) & (arm > num<R>(0)),
                     friction * detail::rear_moment_Nm(s, pull) / arm);
}

/// The smaller of the two limits on thrust, wheel lift and grip.
/// Valid: as wheelie_thrust_N, friction > 0; outside: NaN.
/// Source: as its parts.
/// Checked by: tests/model/mech_test.cpp.
template <class R>
R thrust_limit_N(const Stance<R>& s, const Pull<R>& pull, R friction) {
  const R lift = wheelie_thrust_N(s, pull);
  const R arm = s.wheelbase_m - friction * s.cg_height_m;
  const R grip = friction * detail::rear_moment_Nm(s, pull) / arm;
  const auto grip_first = (arm > num<R>(0)) & (grip < lift);
  return valid_where(friction > num<R>(0), select(grip_first, grip, lift));
}

/// Deceleration at which the rear wheel leaves the ground: g (cos (p - b)/h + sin) + F_D h_A/(m h).
/// Valid: mass > 0, 0 < b < p, h > 0, |grade| <= 0.5; outside: NaN.
/// Ignores the rider's movement and fork dive.
/// Source: Cossalter, Motorcycle Dynamics, chapter 3.
/// Checked by: values/weight.tsv; tests/model/mech_test.cpp (rear load is zero there).
template <class R>
R stoppie_deceleration_mps2(const Stance<R>& s, const Pull<R>& pull) {
  const R across = detail::weight_across_N(s, pull) * (s.wheelbase_m - s.cg_to_rear_m);
  const R moment = across + pull.drag_N * pull.drag_height_m;
  return valid_where(detail::stands(s, pull),
                     (moment / s.cg_height_m + detail::weight_along_N(s, pull)) / s.mass_kg);
}

/// Largest braking force of the rear wheel alone, as in regeneration: mu (m g cos (p-b) + F_D
/// (h_A-h))/(p + mu h).
/// Valid: mass > 0, 0 < b < p, h > 0, |grade| <= 0.5, friction > 0; outside: NaN.
/// Ignores lean, the front brake (it unloads the rear further); mu must say wet or loose.
/// Source: moments about the front contact, as for thrust with the sign of the force turned.
/// Checked by: tests/model/mech_test.cpp (force is mu times the rear load there).
template <class R>
R rear_braking_limit_N(const Stance<R>& s, const Pull<R>& pull, R friction) {
  const R arm = s.wheelbase_m + friction * s.cg_height_m;
  return valid_where(detail::stands(s, pull) & (friction > num<R>(0)),
                     friction * detail::rear_moment_Nm(s, pull) / arm);
}

/// Force on a part's fixings from an acceleration stated in multiples of g.
/// Valid: mass_kg >= 0; outside: NaN.
/// Source: Newton's law.
/// Checked by: values/weight.tsv.
template <class R>
R inertia_force_N(R mass_kg, R multiple_of_gravity) {
  return valid_where(mass_kg >= num<R>(0), mass_kg * standard_gravity<R>() * multiple_of_gravity);
}

}  // namespace ww::model
