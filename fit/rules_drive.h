// SPDX-License-Identifier: MIT
// The parts of the drive family, which rules_drive.cpp puts together.
#pragma once

#include "fit/engine.h"

namespace ww::fit {

std::vector<Rule>
control_rules();  // rules_drive_2.cpp: throttle, brake levers, what the controller can
std::vector<Rule>
label_rules();  // rules_drive_2.cpp: papers, and whether a listing can be believed

}  // namespace ww::fit
