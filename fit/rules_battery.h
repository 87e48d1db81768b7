// SPDX-License-Identifier: MIT
// The parts of the battery family's list; rules_battery.cpp joins them.
#pragma once

#include "fit/engine.h"

namespace ww::fit {

std::vector<Rule> cell_monitor_rules();
std::vector<Rule> cell_purchase_rules();
std::vector<Rule> pack_charger_rules();
std::vector<Rule> pack_heat_rules();
std::vector<Rule> pack_build_rules();

/// Lets two figures that are meant to be equal be equal: 24 x 3.65 V against a charger of 87.6 V.
inline constexpr double battery_hair = 1 + 1e-9;

}  // namespace ww::fit
