// SPDX-License-Identifier: MIT
#include "ride/params.h"

#include "build/designation.h"

namespace ww::ride {

const Ids& ids() {
  static const Ids all;
  return all;
}

double rear_tyre_diameter_m(const Build& build) {
  if (!build.tyre_rear) return 0;
  const auto tyre = build::read_tyre_marking(build.tyre_rear->size);
  if (tyre.width_m <= 0) return 0;
  return model::tyre_diameter_m<double>(
      {.width_m = tyre.width_m, .aspect = tyre.aspect, .rim_m = tyre.rim_m});
}

bool weakening_credited(const Build& build) {
  return build.controller && build.controller->field_weakening == build::Answer::yes &&
         build.limits.field_weakening == build::Answer::yes && build.motor &&
         build.motor->inductance.known() &&
         build.motor->inductance.evidence >= figure::Evidence::seller;
}

bool can_ride(const Build& build) {
  return build.motor && build.controller && build.cell && build.pack &&
         build.motor->type != build::MotorType::unknown &&
         build.cell->chemistry != model::Chemistry::unknown;
}

}  // namespace ww::ride
