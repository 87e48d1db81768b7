// SPDX-License-Identifier: MIT
// The parts of the frame family, which rules_frame.cpp puts together.
#pragma once

#include "fit/engine.h"

namespace ww::fit {

std::vector<Fact> box_facts();    // rules_frame_2.cpp: room in the bay, cells, box, restraint
std::vector<Rule> box_rules();    // rules_frame_2.cpp: battery box in the bay
std::vector<Rule> gap_rules();    // rules_frame_2.cpp: what moves or leans past the parts
std::vector<Rule> place_rules();  // rules_frame_2.cpp: weather, places, lifting, hub motors

}  // namespace ww::fit
