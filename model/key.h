// SPDX-License-Identifier: MIT
// Keyed joints between a shaft and a hub: pressure on the key's sides, shear through it, depths to
// measure. Invariants: torque is taken by the key alone (no press fit), half the key's height bears
// unless stated.
#pragma once

#include "base/num.h"
#include "model/constants.h"

namespace ww::model {

template <class R>
struct KeyJoint {
  R torque_Nm;
  R shaft_diameter_m;
  R width_m;
  R height_m;
  R length_m;  ///< bearing length: without rounded ends
};

namespace detail {
template <class R>
mask_of<R> key_sizes(const KeyJoint<R>& k) {
  return (k.shaft_diameter_m > num<R>(0)) & (k.width_m > num<R>(0)) & (k.height_m > num<R>(0)) &
         (k.length_m > num<R>(0));
}
}  // namespace detail

/// Force on the key's side at the shaft's surface: 2 |T| / d.
/// Valid: all sizes > 0; outside: NaN.
/// Source: machine-design texts (Mott; Shigley).
/// Checked by: values/key_bolt.tsv.
template <class R>
R key_force_N(const KeyJoint<R>& k) {
  return valid_where(detail::key_sizes(k), num<R>(2) * abs(k.torque_Nm) / k.shaft_diameter_m);
}

/// Shear stress through the key: F / (b l).
/// Valid: all sizes > 0; outside: NaN.
/// Ignores reversal and shock: put them into the allowed stress.
/// Source: machine-design texts (Mott; Shigley).
/// Checked by: values/key_bolt.tsv.
template <class R>
R key_shear_Pa(const KeyJoint<R>& k) {
  return key_force_N(k) / (k.width_m * k.length_m);
}

/// Pressure on half the key's height: 2 F / (h l).
/// Valid: all sizes > 0; outside: NaN.
/// Ignores reversal and shock: put them into the allowed stress.
/// Source: machine-design texts (Mott; Shigley).
/// Checked by: values/key_bolt.tsv.
template <class R>
R key_pressure_Pa(const KeyJoint<R>& k) {
  return num<R>(2) * key_force_N(k) / (k.height_m * k.length_m);
}

/// Pressure on the part of the key that stands in the hub: F / ((h - t1) l), t1 the keyway's depth
/// in the shaft.
/// Valid: 0 <= depth_shaft_m < height_m; outside: NaN.
/// Ignores reversal and shock: put them into the allowed stress.
/// Source: DIN 6885-1 proportions with the textbook formula.
/// Checked by: values/key_bolt.tsv.
template <class R>
R key_pressure_hub_Pa(const KeyJoint<R>& k, R depth_shaft_m) {
  return valid_where((depth_shaft_m >= num<R>(0)) & (depth_shaft_m < k.height_m),
                     key_force_N(k) / ((k.height_m - depth_shaft_m) * k.length_m));
}

/// Length the key needs for an allowed shear stress: F / (b tau). The joint's own length is not
/// read.
/// Valid: allowed_shear_Pa > 0; outside: NaN.
/// Source: machine-design texts (Shigley, example 7-6).
/// Checked by: values/key_bolt.tsv.
template <class R>
R key_length_for_shear_m(const KeyJoint<R>& k, R allowed_shear_Pa) {
  return valid_where(allowed_shear_Pa > num<R>(0), key_force_N(k) / (k.width_m * allowed_shear_Pa));
}

/// Length the key needs for an allowed pressure on half its height: 2 F / (h sigma).
/// Valid: allowed_pressure_Pa > 0; outside: NaN.
/// Source: machine-design texts (Shigley, example 7-6).
/// Checked by: values/key_bolt.tsv.
template <class R>
R key_length_for_pressure_m(const KeyJoint<R>& k, R allowed_pressure_Pa) {
  return valid_where(allowed_pressure_Pa > num<R>(0),
                     num<R>(2) * key_force_N(k) / (k.height_m * allowed_pressure_Pa));
}

/// Torque at which half the key's height bears an allowed pressure: p d h l / 4.
/// Valid: all sizes > 0; outside: NaN. The joint's own torque is not read.
/// Source: key_pressure_Pa solved for the torque.
/// Checked by: values/key_bolt.tsv.
template <class R>
R key_torque_limit_Nm(const KeyJoint<R>& k, R allowed_pressure_Pa) {
  return valid_where(detail::key_sizes(k), num<R>(0.25) * allowed_pressure_Pa * k.shaft_diameter_m *
                                               k.height_m * k.length_m);
}

template <class R>
struct KeySeat {
  R shaft_diameter_m;
  R key_width_m;
  R key_height_m;
};

namespace detail {
/// Height of the round that the keyway's width cuts off: (D - sqrt(D^2 - W^2)) / 2.
template <class R>
R key_chord_m(const KeySeat<R>& s) {
  const R D = s.shaft_diameter_m, W = s.key_width_m;
  return valid_where((W > num<R>(0)) & (W < D), num<R>(0.5) * (D - sqrt(square(D) - square(W))));
}
}  // namespace detail

/// From the far side of the shaft to the bottom of its keyway, inch series: S = D - Y - H/2.
/// Valid: 0 < key_width_m < shaft_diameter_m; outside: NaN.
/// Source: ANSI B17.1.
/// Checked by: values/key_bolt.tsv.
template <class R>
R shaft_over_keyway_m(const KeySeat<R>& s) {
  return s.shaft_diameter_m - detail::key_chord_m(s) - num<R>(0.5) * s.key_height_m;
}

/// From the far side of the bore to the bottom of the hub's keyway, inch series: T = D - Y + H/2 +
/// 0.005 in.
/// Valid: 0 < key_width_m < shaft_diameter_m; outside: NaN.
/// Source: ANSI B17.1.
/// Checked by: values/key_bolt.tsv.
template <class R>
R bore_over_keyway_m(const KeySeat<R>& s) {
  return s.shaft_diameter_m - detail::key_chord_m(s) + num<R>(0.5) * s.key_height_m +
         num<R>(0.005) * inch<R>();
}

}  // namespace ww::model
