// SPDX-License-Identifier: MIT
// Stopping: what the brakes must swallow, and how far it takes. Regeneration counts for nothing
// here: it is absent with a full or cold pack.
#pragma once

#include "base/num.h"
#include "model/constants.h"

namespace ww::model {

/// Energy of one stop from a speed: m v^2/2, m with the rotating parts.
/// Valid: mass_effective_kg > 0, speed_mps >= 0; outside: NaN.
/// Ignores drag and rolling, which take a few per cent of a hard stop.
/// Source: kinetic energy.
/// Checked by: values/weight.tsv.
template <class R>
R stop_energy_J(R mass_effective_kg, R speed_mps) {
  return valid_where((mass_effective_kg > num<R>(0)) & (speed_mps >= num<R>(0)),
                     num<R>(0.5) * mass_effective_kg * square(speed_mps));
}

template <class R>
struct Stop {
  R speed_mps;
  R deceleration_mps2;
  R reaction_s;  ///< time before the brakes bite
};

/// Distance to a stop: v t + v^2/(2 a).
/// Valid: speed_mps >= 0, deceleration_mps2 > 0, reaction_s >= 0; outside: NaN.
/// Ignores the build-up of the braking force and the slope.
/// Source: kinematics.
/// Checked by: values/weight.tsv.
template <class R>
R stop_distance_m(const Stop<R>& stop) {
  return valid_where((stop.speed_mps >= num<R>(0)) & (stop.deceleration_mps2 > num<R>(0)) &
                         (stop.reaction_s >= num<R>(0)),
                     stop.speed_mps * stop.reaction_s +
                         num<R>(0.5) * square(stop.speed_mps) / stop.deceleration_mps2);
}

template <class R>
struct StopChange {
  R mass_old_kg;
  R mass_new_kg;
  R speed_old_mps;
  R speed_new_mps;
};

/// Energy of a stop, new over old: what the brakes get more to do when mass and top speed change.
/// Valid: masses > 0, speeds > 0; outside: NaN.
/// Source: kinetic energy.
/// Checked by: values/weight.tsv.
template <class R>
R stop_energy_ratio(const StopChange<R>& change) {
  return valid_where((change.mass_old_kg > num<R>(0)) & (change.speed_old_mps > num<R>(0)),
                     stop_energy_J(change.mass_new_kg, change.speed_new_mps) /
                         stop_energy_J(change.mass_old_kg, change.speed_old_mps));
}

/// Temperature rise of a disc that takes one stop's heat: E/(m c); cast iron and steel about
/// 480 J/kgK.
/// Valid: disc_mass_kg > 0, heat_capacity > 0, energy_J >= 0; outside: NaN.
/// Ignores cooling during the stop and what the pads and the hub take: an upper bound.
/// Source: heat balance.
/// Checked by: tests/model/mech_test.cpp.
template <class R>
R disc_temperature_rise_K(R energy_J, R disc_mass_kg, R heat_capacity_JpkgK) {
  return valid_where(
      (disc_mass_kg > num<R>(0)) & (heat_capacity_JpkgK > num<R>(0)) & (energy_J >= num<R>(0)),
      energy_J / (disc_mass_kg * heat_capacity_JpkgK));
}

}  // namespace ww::model
