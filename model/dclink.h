// SPDX-License-Identifier: MIT The capacitor across the controller's input: ripple current, its
// heat, and the kick of a cable's inductance.
#pragma once

#include "base/num.h"
#include "model/constants.h"

namespace ww::model {

/// Operating point of a three-phase bridge. Modulation is phase voltage peak over half the bus
/// voltage: 1 at the end of plain sine, 2/sqrt(3) at the end of space-vector modulation.
template <class R>
struct BridgePoint {
  R current_phase_rms_A;
  R modulation;
  R power_factor;
};

/// Root-mean-square ripple current of the bus capacitor:
/// I sqrt(2 M [sqrt(3)/(4 pi) + cos^2(phi) (sqrt(3)/pi - 9 M / 16)]).  Result in A.
/// Valid: 0 <= modulation <= 2/sqrt(3), |power_factor| <= 1; outside: NaN.
/// Ignores phase-current ripple, and the share that flows through the pack cables instead.
/// Source: Kolar and Round 2006.
/// Checked by: values/dclink.tsv, model/elec_test (switching sum).
template <class R>
R ripple_current_rms_A(const BridgePoint<R>& b) {
  constexpr double root3 = 1.7320508075688772;
  const R bracket = num<R>(root3 / (4 * pi)) +
                    square(b.power_factor) * (num<R>(root3 / pi) - num<R>(9.0 / 16) * b.modulation);
  return valid_where<R>((b.modulation >= num<R>(0)) & (b.modulation <= num<R>(2 / root3)) &
                            (abs(b.power_factor) <= num<R>(1)),
                        b.current_phase_rms_A * sqrt(num<R>(2) * b.modulation * bracket));
}

/// Heat in the capacitor from its ripple: I^2 ESR.  Result in W.
/// Valid: resistance at the ripple's frequency and the capacitor's temperature.
/// Ignores leakage current.
/// Source: Joule's law.
/// Checked by: values/dclink.tsv.
template <class R>
R ripple_heat_W(R current_rms_A, R resistance_ohm) {
  return square(current_rms_A) * resistance_ohm;
}

/// What a cable's inductance adds to the capacitor's voltage when its current stops: I sqrt(L/C).
/// Result in V.
/// Valid: inductance_H >= 0, capacitance_F > 0; outside: NaN.
/// Ignores damping and the pack (its voltage adds to the bus for a moment): an upper bound.
/// Source: energy balance of L and C.
/// Checked by: values/dclink.tsv.
template <class R>
R cable_overshoot_V(R current_A, R inductance_H, R capacitance_F) {
  return valid_where<R>(capacitance_F > num<R>(0), current_A * sqrt(inductance_H / capacitance_F));
}

}  // namespace ww::model
