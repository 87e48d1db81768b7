// SPDX-License-Identifier: MIT
// What every kind of motor offers to the ride: a demand at the shaft, the limits at the terminals,
// and the operating point with its losses. Invariants:
// 1. power_electrical = torque_shaft * speed + loss_copper + loss_iron_mech, to rounding, also
// where
//    the point is not feasible.
// 2. Signs: torque and speed of the same sign drive, of unlike sign brake; electrical power is
//    positive into the motor.
#pragma once

#include "base/num.h"

namespace ww::model {

/// What is asked of the motor's shaft.
template <class R>
struct ShaftDemand {
  R torque_shaft_Nm;
  R speed_radps;
};

/// What controller and battery leave at the motor's terminals.
template <class R>
struct DriveLimits {
  R voltage_limit_V;  ///< PM, induction: peak of the phase voltage; brushed: armature voltage
  R current_limit_A;  ///< PM, induction: peak of the phase current; brushed: armature current
  R weakening;        ///< 1: the controller may weaken the field of a PM motor, 0: it may not
};

/// One steady operating point of a motor.
template <class R>
struct ShaftPoint {
  R torque_shaft_Nm;
  R power_electrical_W;    ///< into the motor's terminals
  R current_phase_peak_A;  ///< brushed: the armature current
  R loss_copper_W;         ///< windings; brushed: with the brush drop
  R loss_iron_mech_W;
  R voltage_V;  ///< at the terminals: peak of the phase voltage; brushed: the armature's, unsigned
  mask_of<R> feasible;  ///< inside the voltage and the current limit
};

/// Relative slack on the squares of voltage and current, so that a point on the limit counts as
/// inside although its last digits fell outside.
inline constexpr double limit_slack = 1e-6;

/// Drag torque of friction, iron and air: sign(w) c0 + c1 w + c2 w |w|.  Result in Nm, the sign of
/// the speed, zero at rest.
/// Valid: any speed; constants of a PM, induction or brushed motor, all >= 0.
/// Ignores that iron loss falls with a weakened flux and rises with load, and breakaway at rest.
/// Source: Bertotti's split of iron loss lumped by its power of speed. Checked by:
/// tests/values/pm_motor.tsv, tests/model/motor_test.cpp.
template <template <class> class Motor, class R>
R drag_torque(const Motor<R>& motor, R speed_radps) {
  const R zero = num<R>(0);
  const R sign =
      select(speed_radps > zero, num<R>(1), select(speed_radps < zero, num<R>(-1), zero));
  return sign * motor.drag_constant_Nm + motor.drag_linear_Nms * speed_radps +
         motor.drag_quadratic_Nms2 * speed_radps * abs(speed_radps);
}

}  // namespace ww::model
