// SPDX-License-Identifier: MIT
// Drive cycles: from the data files' text to traces, and which of them a bike rides.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "ride/evaluate.h"

namespace ww::ride {

/// One cycle, owned.
struct Cycle {
  std::string name;
  std::vector<double> speed_mps;  ///< 1 s grid from t = 0
  double distance_m = 0;          ///< trapezoid
  double speed_max_mps = 0;
  Trace trace() const { return {speed_mps, distance_m, speed_max_mps}; }
};

/// Reads `time_s,speed_kph` or `time_s,speed_mph` rows behind '#' lines. Errors: "bad-cycle" with
/// the line.
Result<Cycle> read_cycle(std::string_view name, std::string_view text);

/// The regulations' cycles.
struct Cycles {
  Cycle udds, hwfet, us06, udc, eudc, wmtc_1, wmtc_1_reduced, wmtc_2, wmtc_2_reduced, wmtc_3;
};

/// The parts and weights of the WMTC class by top speed (UN GTR 2; limits and weights from memory,
/// parts looked up). Class 3-1 wants a reduced part 3 that could not be obtained: it is ridden as
/// parts 1 and 2, and the caller says so.
Course course_for(const Cycles& cycles, double top_speed_mps);
std::string_view wmtc_class(double top_speed_mps);

}  // namespace ww::ride
