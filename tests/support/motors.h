// SPDX-License-Identifier: MIT
// Motors that several tests use.
#pragma once

#include "model/pm_motor.h"

namespace ww::support {

/// A salient machine with buried magnets: resistance, inductances, flux and poles as published
/// (Brosch, Hanke, Wallscheid, Boecker, doi 10.1109/TPEL.2020.3006779); the drag is invented.
inline model::PmMotor<double> ipm() {
  return {.resistance_phase_ohm = 0.018,
          .inductance_d_H = 0.37e-3,
          .inductance_q_H = 1.2e-3,
          .flux_peak_Wb = 0.066,
          .pole_pairs = 3,
          .drag_constant_Nm = 0.3,
          .drag_linear_Nms = 2e-3,
          .drag_quadratic_Nms2 = 1e-6};
}

}  // namespace ww::support
