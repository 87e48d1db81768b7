// SPDX-License-Identifier: MIT
// The same bike and pack as a differential equation in a general integrator. Optional: WW_CVODE.
#pragma once

#include <vector>

#include "ride/cycle.h"

namespace ww::bench {

/// What is ridden: a bike with a PM motor that can follow the trace.
struct CvodeRide {
  const ride::Bike<double, model::PmMotor>* bike;
  const model::PmMotor<double>* warm;
  ride::PackClimate<double> climate;
  ride::Trace trace;
};

struct CvodeTask {
  double relative_tolerance;
  bool stiff;         ///< backward differences with a dense Newton; else Adams with fixed points
  bool every_second;  ///< started anew at each kink of the trace
};

struct CvodeResult {
  bool ok;
  std::vector<double> charge_C;  ///< net out of the pack, at each second of the trace
  long evaluations;              ///< of the slopes
};

/// Rides the trace from a full pack.
CvodeResult ride_with_cvode(const CvodeRide& ride, const CvodeTask& task);

}  // namespace ww::bench
