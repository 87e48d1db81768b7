// SPDX-License-Identifier: MIT
// Finished bikes of one kind of motor, laid side by side for the batch kernel and ridden at once.
#pragma once

#include <array>
#include <vector>

#include "ride/batch.h"

namespace ww::ride {

/// A finished bike as plain numbers: every member of the parameter structs in their order.
struct BikeNumbers {
  build::MotorType motor;
  std::array<double, 128> at;
};
/// Valid: a build with every part there; a missing figure gives NaN. What it needs and lacks is
/// noted where `reads` is not null.
BikeNumbers bike_numbers(const Build& build, const NominalValues& nominal, Reads* reads = nullptr);
/// The same bike after a change of teeth alone.
void regear(BikeNumbers& bike, const Build& build, const NominalValues& nominal);

class LaneGroup {
 public:
  explicit LaneGroup(build::MotorType motor);

  build::MotorType motor() const { return motor_; }
  std::size_t size() const { return size_; }
  bool full() const { return size_ == lane_padding; }
  void clear() { size_ = 0; }
  /// Valid: not full, a bike with this kind of motor.
  void add(const BikeNumbers& bike);
  /// Rides all of them. Valid: size() > 0.
  void ride(const Course& course, const Kernel& kernel);
  /// The force each has left over at a speed on the flat, N; negative where that is out of its
  /// reach. Valid: size() > 0.
  std::array<double, lane_padding> spare_force_N(double speed_mps, const Kernel& kernel) const;
  /// Valid: ridden since the last add(), lane < size().
  double answer(Answer answer, std::size_t lane) const {
    return answers_[static_cast<std::size_t>(answer) * lane_padding + lane];
  }

 private:
  build::MotorType motor_;
  std::size_t size_ = 0;
  std::vector<double> members_;  ///< lane_padding of each number side by side
  std::array<double, answer_count * lane_padding> answers_{};
};

}  // namespace ww::ride
