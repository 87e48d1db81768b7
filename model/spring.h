// SPDX-License-Identifier: MIT
// Suspension springs: sag, preload, and the rate that a new mass needs.
// Invariants: coil springs of one rate; loads are the sprung ones on this end of the bike.
#pragma once

#include "base/num.h"
#include "model/constants.h"

namespace ww::model {

template <class R>
struct Spring {
  R rate_Npm;   ///< of both fork springs together, or of the shock
  R preload_m;  ///< compression at full extension
};

/// Rate that keeps the sag when the sprung load changes: k new/old.
/// Valid: rate and both loads > 0; outside: NaN. Loads as masses or forces, both alike.
/// Ignores damping, which has to follow.
/// Source: F = k x.
/// Checked by: values/weight.tsv.
template <class R>
R spring_rate_scaled_Npm(R rate_old_Npm, R load_old, R load_new) {
  return valid_where((rate_old_Npm > num<R>(0)) & (load_old > num<R>(0)) & (load_new > num<R>(0)),
                     rate_old_Npm * load_new / load_old);
}

/// Rate from two readings: load over travel.
/// Valid: both > 0; outside: NaN.
/// Source: F = k x.
/// Checked by: values/weight.tsv.
template <class R>
R spring_rate_Npm(R load_N, R deflection_m) {
  return valid_where((load_N > num<R>(0)) & (deflection_m > num<R>(0)), load_N / deflection_m);
}

/// Sag under a load: F/k - preload, not below zero.
/// Valid: rate_Npm > 0, preload_m >= 0, load_N >= 0; outside: NaN.
/// Ignores the fork's air spring, the top-out spring and stiction.
/// Source: F = k (preload + sag).
/// Checked by: values/weight.tsv; tests/model/mech_test.cpp (inverse pair).
template <class R>
R spring_sag_m(const Spring<R>& s, R load_N) {
  return valid_where((s.rate_Npm > num<R>(0)) & (s.preload_m >= num<R>(0)) & (load_N >= num<R>(0)),
                     max(load_N / s.rate_Npm - s.preload_m, num<R>(0)));
}

/// Preload that gives a wanted sag: F/k - sag. Negative: the spring is too soft by its very rate.
/// Valid: rate_Npm > 0, load_N > 0, sag_m >= 0; outside: NaN.
/// Source: F = k (preload + sag).
/// Checked by: tests/model/mech_test.cpp (inverse pair).
template <class R>
R spring_preload_m(R rate_Npm, R load_N, R sag_m) {
  return valid_where((rate_Npm > num<R>(0)) & (load_N > num<R>(0)) & (sag_m >= num<R>(0)),
                     load_N / rate_Npm - sag_m);
}

/// Sag as a share of the travel.
/// Valid: travel_m > 0, sag_m >= 0; outside: NaN.
/// Source: definition.
/// Checked by: values/weight.tsv.
template <class R>
R sag_share(R sag_m, R travel_m) {
  return valid_where((travel_m > num<R>(0)) & (sag_m >= num<R>(0)), sag_m / travel_m);
}

/// Sag from three lengths, so that stiction cancels: extended less the mean of settled-from-below
/// and -from-above.
/// Valid: all lengths > 0; outside: NaN.
/// Source: common practice, no source.
/// Checked by: values/weight.tsv.
template <class R>
R sag_measured_m(R length_extended_m, R length_pressed_m, R length_lifted_m) {
  return valid_where((length_extended_m > num<R>(0)) & (length_pressed_m > num<R>(0)) &
                         (length_lifted_m > num<R>(0)),
                     length_extended_m - num<R>(0.5) * (length_pressed_m + length_lifted_m));
}

/// Rate at the wheel of a shock with leverage: k s^2, s the shock's travel over the wheel's.
/// Valid: rate_Npm > 0, motion_ratio > 0; outside: NaN.
/// Ignores a ratio that changes over the travel.
/// Source: virtual work.
/// Checked by: tests/model/mech_test.cpp (energy stored is the same).
template <class R>
R wheel_rate_Npm(R rate_Npm, R motion_ratio) {
  return valid_where((rate_Npm > num<R>(0)) & (motion_ratio > num<R>(0)),
                     rate_Npm * square(motion_ratio));
}

/// Load on the shock from the load on the wheel: F/s, s the shock's travel over the wheel's.
/// Valid: motion_ratio > 0; outside: NaN.
/// Ignores a ratio that changes over the travel.
/// Source: virtual work.
/// Checked by: tests/model/mech_test.cpp.
template <class R>
R shock_load_N(R load_wheel_N, R motion_ratio) {
  return valid_where(motion_ratio > num<R>(0), load_wheel_N / motion_ratio);
}

}  // namespace ww::model
