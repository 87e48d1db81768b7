// SPDX-License-Identifier: MIT
// Full-throttle runs: time from speed to speed by integrating mass / spare force over the speed.
#pragma once

#include "ride/steady.h"

namespace ww::ride {

template <class R>
struct Run {
  R time_s;
  R distance_m;
};

/// Time and distance between two speeds on the flat at full throttle, pack at one state of charge.
/// Infinite where the speed is not reached. Two Gauss points a panel; panels fine enough for 1e-3
/// across the kinks of the envelope. Valid: 0 <= from < to. Ignores the growth of pack temperature
/// and the fall of its charge during the run. Checked by: tests/ride (against an adaptive
/// integrator in time).
template <class R, template <class> class Motor>
Run<R> full_throttle(const Bike<R, Motor>& bike, const Motor<R>& warm, const PackState<R>& pack,
                     R from_mps, R to_mps, int panels) {
  const R mass = model::effective_mass_kg(bike.params.road);
  const R width = (to_mps - from_mps) * num<R>(1.0 / panels);
  Run<R> run{num<R>(0), num<R>(0)};
  mask_of<R> reached = num<R>(0) < num<R>(1);
  constexpr double gauss = 0.28867513459481287;  // 1/(2 sqrt 3)
  for (int i = 0; i < panels; ++i) {
    for (const double place : {0.5 - gauss, 0.5 + gauss}) {
      const R v = from_mps + width * num<R>(i + place);
      const R spare = thrust_available_N(bike, warm, v, pack) -
                      road_force(bike.params, {v, num<R>(0), num<R>(0)});
      reached = reached & (spare > num<R>(0));
      const R dt = num<R>(0.5) * width * mass / max(spare, num<R>(1e-6));
      run.time_s += dt;
      run.distance_m += dt * v;
    }
  }
  const R never = num<R>(std::numeric_limits<double>::infinity());
  return {select(reached, run.time_s, never), select(reached, run.distance_m, never)};
}

}  // namespace ww::ride
