// SPDX-License-Identifier: MIT
// First power-up: its parts and what they share. Private to steps/.
#pragma once

#include <string>
#include <string_view>

#include "steps/draft.h"

namespace ww::steps {

inline constexpr std::string_view practice = "common practice, no source";

std::string whole(double n);
std::string volts(double v);
bool brushed(const Draft& draft);
bool series_wound(const Draft& draft);

// What is open while a step is done, and what is live then.
std::string pack_out();
std::string bench_fed();
std::string joined_off(const Draft& draft);
std::string precharging(const Draft& draft);
std::string all_on(const Draft& draft);

/// What is put between a pole and the frame: the usual resistor next above 500 ohm a volt.
double isolation_resistor_ohm(double full_V);

// In the order of the work.
void cold_steps(Draft& draft);      ///< nothing but 12 V and a bench supply
void live_steps(Draft& draft);      ///< from the pack's first volt to a running motor
void charging_steps(Draft& draft);  ///< the first charge

}  // namespace ww::steps
