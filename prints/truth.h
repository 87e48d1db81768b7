// SPDX-License-Identifier: MIT
// What the circuit still does with one device open. Private to prints/ and its tests.
#pragma once

#include <string>
#include <vector>

#include "wiring/circuit.h"

namespace ww::prints {

struct State {
  bool contactor, precharge, key_supply, has_enable, enable, bus, torque, converter, lamps, horn;
};
struct Case {
  std::string device;  ///< empty: nothing is open
  std::string words;
  State state;
};

/// First with everything closed, then every interlock and fuse that the circuit has, opened alone.
/// A coil that 12 V no longer reaches opens its contacts, and so on until nothing more opens.
std::vector<Case> truth_cases(const wiring::Circuit& circuit);

}  // namespace ww::prints
