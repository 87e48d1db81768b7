// SPDX-License-Identifier: MIT
// What a report shows beside the single numbers: curves with the limit named at each speed,
// throttle feel, charging at household outlets, ageing. Of the nominal build; where a spread is
// known from the literature it is given.
#pragma once

#include <string_view>
#include <vector>

#include "ride/ride.h"

namespace ww::ride {

/// What holds the thrust down at a speed: the one whose 1 % more would add most.
enum class Limit : std::uint8_t {
  none,
  phase_current,
  motor_torque,
  voltage,
  battery_current,
  under_voltage,
  motor_speed,
  wheel_lift,
  grip
};
std::string_view word(Limit limit);

struct ThrustPoint {
  double speed_mps, thrust_N, road_N;
  Limit limit;
  double motor_rpm, phase_current_peak_A, battery_current_A, pack_voltage_V,
      efficiency;  ///< efficiency battery to wheel
};

struct HillRow {
  double grade, speed_mps;
  bool climbs;
  double winding_s, controller_s, cells_s, energy_s;  ///< infinite where it settles
};

struct SteadyRow {
  double speed_mps, consumption_Jpm, to_end_m, reserve_kept_m, cold_reserve_kept_m, winding_K;
};

/// Thrust against grip angle at three speeds, and how it builds up after a snap from nothing to
/// full.
struct ThrottleRow {
  double grip;  ///< 0..1
  double thrust_N[3];
};

struct ChargeRow {
  double outlet_V, outlet_A;
  double power_W;  ///< from the outlet
  double ten_to_ninety_s, full_s;
  double distance_per_hour_m;
  std::string_view limited_by;
};

struct AgeingRow {
  double years, capacity_left_low, capacity_left,
      capacity_left_high;  ///< NaN: no published model here
};

struct Detail {
  std::vector<ThrustPoint> thrust;
  std::vector<HillRow> hills;
  std::vector<SteadyRow> steady;
  double throttle_speeds_mps[3];
  std::vector<ThrottleRow> throttle;
  double ramp_s = 0;
  std::vector<ChargeRow> charging;
  std::vector<AgeingRow> ageing;
  std::string_view ageing_source;
  std::string_view wmtc_class;
};

/// Valid: a build whose ride is possible; else empty.
Detail detail(const Build& build, const Ride& ride);

}  // namespace ww::ride
