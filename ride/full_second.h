// SPDX-License-Identifier: MIT
// One second of a cycle at full throttle: the speed at which it ends.
#pragma once

#include <optional>

#include "ride/steady.h"

namespace ww::ride {

template <class R>
struct FullSecond {
  R from_mps;
  R wanted_mps;  ///< it goes no faster
  R asked_N;     ///< it pulls no harder
  R headwind_mps;
};

/// What is left of the thrust after the road at one speed.
template <class R>
struct Pull {
  R force_N;
  R by_speed;  ///< N per m/s; without the slope of the rolling resistance, and where told
};

/// As thrust_available_N, no more than asked for, less the road. `edge` is the torque at the speed
/// before, if there was one, and becomes that of this speed.
template <class R, template <class> class Motor>
Pull<R> pull_at(const Bike<R, Motor>& bike, const Motor<R>& warm, const PackState<R>& pack,
                const FullSecond<R>& second, R speed_mps, const mask_of<R>& unwanted,
                std::optional<TorqueEdge<R>>& edge) {
  const BikeParams<R>& p = bike.params;
  const R zero = num<R>(0);
  edge = torque_edge(p, warm, motor_speed_radps(p, speed_mps), pack, unwanted,
                     edge ? &*edge : nullptr);
  const R by_drive = wheel_force_N(p, edge->torque_Nm);
  const R held = min(tyre_limit_N(p, speed_mps), second.asked_N);
  const R by_speed = wheel_force_N(p, max(-edge->by_speed_Nms, zero)) * p.ratio / p.wheel_radius_m;
  const Steady<R> road{speed_mps, zero, second.headwind_mps};
  const R air_mps = speed_mps + second.headwind_mps;
  const R drag = model::drag_force_N<R>(p.road, {speed_mps, zero, second.headwind_mps});
  const R drag_by = select(air_mps > num<R>(1e-3), num<R>(2) * drag / air_mps, zero);
  return {.force_N = min(by_drive, held) - road_force(p, road),
          .by_speed = -select(by_drive < held, by_speed, zero) - drag_by};
}

/// The speed at which the second ends: v1 = v0 + pull((v0 + v1)/2)/m, the implicit midpoint rule,
/// which stays put however steeply the pull falls with speed. Newton's method on what v1 lacks,
/// with the slope that the motor tells or a secant's, inside what is known; at most sixteen rounds.
/// A lane is done where it lacks no more than 1e-5 m/s, and makes one step more: it does not hang
/// on the lanes beside it. Not of use in lanes that do not ask (`unwanted`).
/// Checked by: tests/ride (halving a hundred times; an integrator in time).
template <class R, template <class> class Motor>
R full_throttle_end_mps(const Bike<R, Motor>& bike, const Motor<R>& warm, const PackState<R>& pack,
                        const FullSecond<R>& second, const mask_of<R>& unwanted) {
  const R zero = num<R>(0), half = num<R>(0.5), one = num<R>(1);
  const R m = model::effective_mass_kg(bike.params.road);
  const mask_of<R> told = current_tells_all(bike.params, warm);
  std::optional<TorqueEdge<R>> edge;
  R low = zero, high = second.wanted_mps;
  R end = min(second.from_mps, high);
  R before = end, lack_before = zero;
  mask_of<R> done = unwanted;
  for (int round = 0; round < 16; ++round) {
    const R middle = half * (second.from_mps + end);
    const Pull<R> pull = pull_at(bike, warm, pack, second, middle, unwanted, edge);
    const R reached = second.from_mps + pull.force_N / m;
    const R inside = min(max(reached, zero), second.wanted_mps);
    const R lack = inside - end;
    const R apart = end - before;
    const R secant = select(abs(apart) > zero, (lack - lack_before) / apart, -one);
    const R by_slope = select(inside == reached, half * pull.by_speed / m, zero) - one;
    // Never flatter than a pull that stays the same.
    const R slope = select(told, by_slope, min(secant, num<R>(-0.5)));
    low = select(lack > zero, max(low, end), low);
    high = select(lack > zero, high, min(high, end));
    const R newton = end - lack / slope;
    const mask_of<R> kept = (newton >= low) & (newton <= high);
    const R next = select(kept, newton, half * (low + high));
    const mask_of<R> arrives = !(abs(lack) > num<R>(1e-5));
    before = end;
    lack_before = lack;
    end = select(done, end, next);
    done = done | arrives;
    if (all(done)) break;
  }
  return end;
}

}  // namespace ww::ride
