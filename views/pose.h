// SPDX-License-Identifier: MIT
// Where everything sits, in millimetres: what the views draw and what can be asked of a drawing.
// x forward from the swingarm pivot, y to the rider's left, z up (decision 10).
// Invariants:
// 1. Every number is finite, whatever the build holds; lengths lie between 1 mm and 5 m.
// 2. What no figure gives is a class default (build/classes.h) or a typical place: common practice,
//    no source; it is for drawing only and no rule reads it.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "build/nouns.h"

namespace ww::views {

/// How well a measure is known: on the sheet, from a prior or the class of bike, or its part is not
/// chosen.
enum class Rests : std::uint8_t { given, assumed, missing };
std::string_view word(Rests rests);
/// The weaker of two.
Rests weaker(Rests a, Rests b);

/// One length of the pose, and the field that would settle it.
struct Measure {
  double mm = 0;
  Rests rests = Rests::missing;
  std::string_view field = {};  ///< path; empty where no field holds it
};

struct Spot {
  double x, y, z;
};

struct WheelPose {
  Spot centre;
  Measure radius, width;
  double rim_radius;
};

/// The can's axis lies across the bike; a hub motor sits in the rear wheel.
struct MotorPose {
  bool in_wheel;
  Measure diameter, length, with_terminals, bend;
  Spot shaft;     ///< on its axis, in the plane of the sprocket
  double face_y;  ///< of the end that carries the sprocket
  Rests place;
};

struct DrivePose {
  build::FinalDrive kind;  ///< chain where not known
  int front_teeth, rear_teeth;
  Rests front_rests, rear_rests;
  double pitch, front_diameter, rear_diameter;  ///< of the pitch circles
  Spot front, rear;
  Measure chainline;  ///< left of the centre plane
};

/// A block with its sides along the axes.
struct Block {
  std::string_view slot, label;
  Spot centre;
  double length, width, height;  ///< along x, y, z
  Rests size, place;
};

/// The donor's outline where no field holds it.
struct Stature {
  double seat_z, head_x, head_z, rake_rad, peg_x, peg_z, grip_x, grip_z;
};

struct Pose {
  Measure wheelbase, swingarm, ground_clearance;
  WheelPose front, rear;
  double ground_z;  ///< of the ground line: below the pivot
  MotorPose motor;
  DrivePose drive;
  Measure bay_length, bay_width, bay_height;
  Spot bay;  ///< its rear lower corner, on the centre plane
  Measure side_left, side_right, swingarm_width, tunnel_length, tunnel_width, tunnel_height;
  std::vector<Block> boxes;  ///< pack and controller
  Stature stature;
  bool scooter;
};

/// Valid: any build, also an empty one. Where the build is a completed one, `own` is the builder's
/// sheet: what it does not hold is assumed.
Pose pose_of(const build::Build& build, const build::Build* own = nullptr);

}  // namespace ww::views
