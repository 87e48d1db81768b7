// SPDX-License-Identifier: MIT
// The parts of the whole-bike family, which rules_whole_bike.cpp puts together.
#pragma once

#include "fit/engine.h"

namespace ww::fit {

std::vector<Fact> weight_facts();        // rules_whole_bike_2.cpp: wheel loads, springs, stops
std::vector<Rule> weight_rules();        // rules_whole_bike_2.cpp: mass, wheel loads, tyres
std::vector<Rule> running_gear_rules();  // rules_whole_bike_2.cpp: springs, brakes, stand

}  // namespace ww::fit
