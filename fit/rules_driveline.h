// SPDX-License-Identifier: MIT
// The parts of the driveline family, which rules_driveline.cpp puts together.
#pragma once

#include "fit/engine.h"

namespace ww::fit {

std::vector<Rule> shaft_rules();  // rules_driveline_2.cpp: shaft, key, hubs
std::vector<Rule>
other_drive_rules();  // rules_driveline_2.cpp: belt, shaft drive, gearbox, the rest

}  // namespace ww::fit
