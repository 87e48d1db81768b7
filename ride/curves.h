// SPDX-License-Identifier: MIT
// Curves of one build, finer than the tables of detail.h: what charts are drawn from. Each is of
// the nominal build unless it says so, and empty where the ride is not possible.
#pragma once

#include <vector>

#include "ride/detail.h"

namespace ww::ride {

/// Which thrust curve is asked for.
struct ThrustAsk {
  double fastest_mps;
  int points;
  double charge;  ///< state of charge
};
/// Thrust and road load on the flat, with what holds the thrust down at each speed.
/// Valid: a build whose ride is possible; points >= 2; 0 < charge <= 1. Else empty.
std::vector<ThrustPoint> thrust_curve(const Build& build, const ThrustAsk& ask);

struct LaunchMoment {
  double time_s, speed_mps, distance_m;
};
/// Full throttle from standstill at 80 % charge on the flat, to 98 % of what is reached or a
/// minute. Ignores how the throttle ramps up.
/// Checked by: tests/ride (meets the answers 0 to 50 and 0 to 100).
std::vector<LaunchMoment> launch_curve(const Build& build);

/// The pack's voltage under a current, settled.
struct SagPoint {
  double current_A;
  double warm_half_V, warm_low_V, cold_half_V, cold_low_V;  ///< half: 50 % charge, low: 10 %
};
struct SagCurve {
  std::vector<SagPoint> points;
  double usual_K, coldest_K;
  double current_max_A;  ///< the battery limit that counts: controller or setting
  double cut_V;          ///< what the ride takes as its low-voltage cut
};
SagCurve sag_curve(const Build& build, int points);

/// Efficiency of motor and controller together over speed and torque, at half charge.
struct MotorMap {
  std::vector<double> speeds_radps, torques_Nm;  ///< of the motor shaft, rising
  std::vector<double> efficiency;                ///< [torque * speeds + speed]; NaN: beyond a limit
  std::vector<double> edge_speeds_radps, edge_torques_Nm;  ///< the most there is
  std::vector<double> road_torques_Nm;                     ///< at the edge's speeds, on the flat
};
/// How finely it is cut.
struct MapCells {
  int speeds, torques;
};
/// Valid: at least two cells each way; else empty.
MotorMap motor_map(const Build& build, const MapCells& cells);

/// How far a charge goes at a steady speed: flat, no wind, reserve kept; 0 where it is not held.
struct DistancePoint {
  double speed_mps;
  double p10_m, p50_m, p90_m;
  double nominal_m, cold_m;  ///< usual and coldest day, nominal build
};
/// `draws` is a power of two; figures are drawn as the ride draws them.
/// Checked by: tests/ride (meets the answer at the speed to hold).
std::vector<DistancePoint> distance_curve(const Build& build, const Ride& ride,
                                          const std::vector<double>& speeds_mps, int draws);

struct HeatMoment {
  double time_s, winding_K, controller_K, cells_K, charge;
};
/// A long climb from soak and a full charge on a usual day, losses following the temperatures.
struct Climb {
  double grade, speed_mps;
  double winding_limit_K, controller_limit_K, cells_limit_K;
  bool climbs = false;              ///< the drive gives the force at all
  std::vector<HeatMoment> moments;  ///< until the charge is used or two hours
};
/// The wished hill, or 8 % at 60 km/h. Temperatures run past their limits, as if nothing reduced.
Climb climb(const Build& build);

/// Thrust over the throttle's turn, as detail() has it but at so many places. Valid: points >= 2.
std::vector<ThrottleRow> throttle_curve(const Build& build, int points);

/// Capacity left after each of the times.
std::vector<AgeingRow> ageing_curve(const Build& build, const Ride& ride,
                                    const std::vector<double>& years);

}  // namespace ww::ride
