// SPDX-License-Identifier: MIT
// What no figure describes, drawn as is typical of the class: rider, frame, fork, seat, tank. Light
// and behind everything, to find one's way. Private to views/.
#pragma once

#include <vector>

#include "views/paper.h"

namespace ww::views {

/// A person's joints in the side view, mm.
struct Mannequin {
  Spot hip, shoulder, head, elbow, hand, knee, ankle, toe, heel;
};
/// Valid: any pose; limbs keep their lengths where the reach allows, else they are straight.
Mannequin mannequin_of(const build::Build& build, const Pose& pose);

std::vector<draw::Element> rider_side(const Mannequin& m, const Paper& paper);
std::vector<draw::Element> frame_side(const Pose& pose, const Paper& paper);
std::vector<draw::Element> fork_side(const Pose& pose, const Paper& paper);
std::vector<draw::Element> body_side(const Pose& pose, const Paper& paper);
std::vector<draw::Element> outline_top(const Pose& pose, const Mannequin& m, double heel_width,
                                       const Paper& paper);

}  // namespace ww::views
