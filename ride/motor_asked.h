// SPDX-License-Identifier: MIT
// A motor at a speed, asked for a torque: what it needs to know whatever voltage there is, so that
// a search over voltages or torques works it out once. Most kinds keep nothing.
#pragma once

#include "model/brushed_motor.h"
#include "model/induction_motor.h"
#include "model/pm_motor.h"

namespace ww::ride {

/// Whether a motor's operating point moves with the voltage there is, even without a weakened
/// field.
template <class R, template <class> class Motor>
constexpr bool voltage_shapes_point(const Motor<R>&) {
  return false;
}
template <class R>
constexpr bool voltage_shapes_point(const model::InductionMotor<R>&) {
  return true;
}

/// What a motor keeps from one torque to the next at one speed.
struct NothingKept {};
template <class R, template <class> class Motor>
NothingKept kept_at(const Motor<R>&, const model::ShaftDemand<R>&) {
  return {};
}
template <class R>
model::FluxAtSpeed<R> kept_at(const model::InductionMotor<R>& motor,
                              const model::ShaftDemand<R>& demand) {
  const R airgap = demand.torque_shaft_Nm + model::drag_torque(motor, demand.speed_radps);
  return model::flux_at_speed<R>(motor, demand.speed_radps, model::sign_of_torque(airgap));
}

/// A torque asked of a motor; `kept` is of the same speed and of torques of the same sign.
template <class R, template <class> class Motor>
class Asked {
 public:
  Asked(const Motor<R>& motor, NothingKept&, const model::ShaftDemand<R>& demand)
      : motor_(motor), demand_(demand) {}
  const model::ShaftDemand<R>& demand() const { return demand_; }
  model::ShaftPoint<R> point(const model::DriveLimits<R>& limits) const {
    return drive_point<R>(motor_, demand_, limits);
  }
  /// How far inside its own limits the motor is, as a share; negative outside: by the largest
  /// torque at the voltage there is, or told by the motor itself.
  R margin(const model::DriveLimits<R>& limits, R scale_Nm) const {
    return (torque_shaft_max(motor_, demand_.speed_radps, limits) - demand_.torque_shaft_Nm) /
           scale_Nm;
  }

 private:
  const Motor<R>& motor_;
  model::ShaftDemand<R> demand_;
};

/// Its flux is settled before its point and its margin are asked for.
template <class R>
class Asked<R, model::InductionMotor> {
 public:
  Asked(const model::InductionMotor<R>& motor, model::FluxAtSpeed<R>& kept,
        const model::ShaftDemand<R>& demand)
      : motor_(motor),
        kept_(kept),
        demand_(demand),
        flux_(flux_asked<R>(
            motor, kept, demand.torque_shaft_Nm + model::drag_torque(motor, demand.speed_radps))) {}
  const model::ShaftDemand<R>& demand() const { return demand_; }
  /// Settles the flux where `there_is` tells the voltage at a square of the d current.
  template <class ThereIs>
  void settle(const ThereIs& there_is) {
    square_d_A2_ = model::flux_square_d_A2(motor_, kept_, flux_, there_is);
  }
  model::FluxPower<R> power(R square_d_A2) const {
    return model::flux_power(motor_, kept_, flux_, square_d_A2);
  }
  R square_d_A2() const { return square_d_A2_; }
  model::ShaftPoint<R> point(const model::DriveLimits<R>& limits) const {
    return model::drive_point_at(motor_, kept_, flux_, demand_.torque_shaft_Nm, square_d_A2_,
                                 limits);
  }
  R margin(const model::DriveLimits<R>& limits, R) {
    return model::limits_spare(motor_, kept_, flux_, square_d_A2_, limits);
  }

 private:
  const model::InductionMotor<R>& motor_;
  model::FluxAtSpeed<R>& kept_;
  model::ShaftDemand<R> demand_;
  model::FluxAsked<R> flux_;
  R square_d_A2_ = flux_.square_d_A2;
};

}  // namespace ww::ride
