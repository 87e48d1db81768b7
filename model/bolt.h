// SPDX-License-Identifier: MIT
// Bolted joints: stress area, proof load, preload from tightening, and the load a clamped joint
// holds by friction. Invariants: metric threads of 60 deg; friction counts for the thread and for
// the head's face stand apart.
#pragma once

#include "base/num.h"
#include "model/constants.h"

namespace ww::model {

template <class R>
struct BoltThread {
  R diameter_m;
  R pitch_m;
};

namespace detail {
template <class R>
mask_of<R> real_thread(const BoltThread<R>& t) {
  return (t.pitch_m > num<R>(0)) & (t.diameter_m > num<R>(2) * t.pitch_m);
}
/// Pitch diameter d2 and core diameter d3 of the ISO metric thread.
template <class R>
R flank_diameter_m(const BoltThread<R>& t) {
  return t.diameter_m - num<R>(0.6495) * t.pitch_m;
}
template <class R>
R core_diameter_m(const BoltThread<R>& t) {
  return t.diameter_m - num<R>(1.22687) * t.pitch_m;
}
}  // namespace detail

/// Stress area: (pi/4) (d - 0.9382 P)^2.
/// Valid: diameter_m > 2 pitch_m > 0; outside: NaN.
/// Source: ISO 898-1.
/// Checked by: values/key_bolt.tsv.
template <class R>
R stress_area_m2(const BoltThread<R>& t) {
  return valid_where(detail::real_thread(t),
                     num<R>(0.25 * pi) * square(t.diameter_m - num<R>(0.9382) * t.pitch_m));
}

/// Proof load: stress area times the class's proof stress.
/// Valid: diameter_m > 2 pitch_m > 0; outside: NaN.
/// Source: ISO 898-1.
/// Checked by: values/key_bolt.tsv.
template <class R>
R proof_load_N(const BoltThread<R>& t, R proof_stress_Pa) {
  return stress_area_m2(t) * proof_stress_Pa;
}

template <class R>
struct BoltFriction {
  R thread;  ///< 0.10 oiled to 0.14 as delivered; dry and stainless go higher
  R head;
};

/// Preload at which tension and torsion together use 90 % of the yield strength while the wrench
/// turns.
/// Valid: diameter_m > 2 pitch_m > 0, yield_Pa > 0, thread friction >= 0; outside: NaN.
/// Ignores the wrench's scatter (a quarter and more), bedding-in and temperature.
/// Source: VDI 2230, assembly preload with d0 = (d2 + d3)/2; constants from memory.
/// Checked by: values/key_bolt.tsv.
template <class R>
R assembly_preload_N(const BoltThread<R>& t, R yield_Pa, R friction_thread) {
  const R d2 = detail::flank_diameter_m(t);
  const R d0 = num<R>(0.5) * (d2 + detail::core_diameter_m(t));
  const R twist =
      num<R>(1.5) * (d2 / d0) * (t.pitch_m / (num<R>(pi) * d2) + num<R>(1.155) * friction_thread);
  const R stress = num<R>(0.9) * yield_Pa / sqrt(num<R>(1) + num<R>(3) * square(twist));
  return valid_where(
      detail::real_thread(t) & (yield_Pa > num<R>(0)) & (friction_thread >= num<R>(0)),
      stress * num<R>(0.25 * pi) * square(d0));
}

namespace detail {
/// Torque per newton of preload: lead, thread friction, head friction.
template <class R>
R torque_arm_m(const BoltThread<R>& t, const BoltFriction<R>& mu, R bearing_diameter_m) {
  return num<R>(0.5 / pi) * t.pitch_m + num<R>(0.577) * mu.thread * flank_diameter_m(t) +
         num<R>(0.5) * mu.head * bearing_diameter_m;
}
}  // namespace detail

/// Tightening torque for a preload: F (P/2 pi + 0.577 mu_t d2 + mu_h Dkm/2), Dkm the mean diameter
/// under the head.
/// Valid: preload_N >= 0, frictions >= 0; outside: NaN.
/// Ignores the wrench's scatter: published tables differ by about 15 %.
/// Source: VDI 2230.
/// Checked by: values/key_bolt.tsv.
template <class R>
R tightening_torque_Nm(const BoltThread<R>& t, const BoltFriction<R>& mu, R bearing_diameter_m,
                       R preload_N) {
  return valid_where(detail::real_thread(t) & (preload_N >= num<R>(0)) & (mu.thread >= num<R>(0)) &
                         (mu.head >= num<R>(0)),
                     preload_N * detail::torque_arm_m(t, mu, bearing_diameter_m));
}

/// The inverse: the preload that a tightening torque leaves.
/// Valid: torque_Nm >= 0, frictions >= 0; outside: NaN.
/// Ignores the wrench's scatter: published tables differ by about 15 %.
/// Source: VDI 2230.
/// Checked by: tests/model/mech_test.cpp (inverse pair).
template <class R>
R preload_at_torque_N(const BoltThread<R>& t, const BoltFriction<R>& mu, R bearing_diameter_m,
                      R torque_Nm) {
  return valid_where(detail::real_thread(t) & (torque_Nm >= num<R>(0)) & (mu.thread >= num<R>(0)) &
                         (mu.head >= num<R>(0)),
                     torque_Nm / detail::torque_arm_m(t, mu, bearing_diameter_m));
}

/// Rule-of-thumb torque: 0.2 F d.
/// Valid: preload_N >= 0, diameter_m > 0; outside: NaN.
/// Source: machine-design texts; plain dry steel.
/// Checked by: values/key_bolt.tsv.
template <class R>
R tightening_torque_simple_Nm(R preload_N, R diameter_m) {
  return valid_where((preload_N >= num<R>(0)) & (diameter_m > num<R>(0)),
                     num<R>(0.2) * preload_N * diameter_m);
}

template <class R>
struct ClampedJoint {
  R bolts;
  R preload_N;  ///< of one bolt
  R friction;   ///< between the clamped faces
  R faces;      ///< number of faces that would have to slip
};

/// Load at which a clamped joint slips: n F mu faces.
/// Valid: bolts, faces >= 1, preload_N > 0, friction > 0; outside: NaN.
/// Ignores loss of preload by bedding-in, paint and vibration: demand a factor of 2 of it.
/// Source: machine-design texts (Coulomb friction).
/// Checked by: values/key_bolt.tsv.
template <class R>
R slip_load_N(const ClampedJoint<R>& j) {
  return valid_where((j.bolts >= num<R>(1)) & (j.faces >= num<R>(1)) & (j.preload_N > num<R>(0)) &
                         (j.friction > num<R>(0)),
                     j.bolts * j.preload_N * j.friction * j.faces);
}

}  // namespace ww::model
