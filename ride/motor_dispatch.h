// SPDX-License-Identifier: MIT
// From the kind of motor on the sheet to the motor model that stands for it.
#pragma once

#include "build/nouns.h"
#include "model/brushed_motor.h"
#include "model/induction_motor.h"
#include "model/pm_motor.h"

namespace ww::ride {

/// Calls `function` with the model of this kind of motor as its template argument. A kind that is
/// not known is taken for a permanent-magnet motor; callers that must not guess ask first.
template <class Function>
void with_motor(build::MotorType type, const Function& function) {
  switch (type) {
    case build::MotorType::induction:
      return function.template operator()<model::InductionMotor>();
    case build::MotorType::brushed_pm:
      return function.template operator()<model::BrushedPmMotor>();
    case build::MotorType::brushed_series:
      return function.template operator()<model::BrushedSeriesMotor>();
    default:
      return function.template operator()<model::PmMotor>();
  }
}

}  // namespace ww::ride
