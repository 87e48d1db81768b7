// SPDX-License-Identifier: MIT
// What is live, by the circuit's own net list: with which devices open, and of the wires that are
// laid so far.
// Invariants:
// 1. A part is named live if either pole of the pack reaches it through wires, bars and devices
// that
//    are not open; the pre-charge resistor counts as a way like any other.
// 2. Nothing is named dead: what is not reached is only not reached by the circuit as the sheet has
//    it. The meter decides.
#pragma once

#include <string>
#include <vector>

#include "wiring/circuit.h"

namespace ww::steps {

/// What makes a wire live, from worst to best.
enum class Reach : std::uint8_t {
  always,      ///< on the pack before any fuse
  fuse,        ///< once the main fuse is in
  disconnect,  ///< once the service disconnect is closed
  precharge,   ///< once the pre-charge relay closes
  contactor,   ///< once the main contactor closes
  key,         ///< once key or converter switch close
  never        ///< not from the pack
};
std::string_view word(Reach reach);

/// The devices that are open when nothing is switched on and the fuse is out.
const std::vector<std::string>& all_open();

/// The labels of the devices, the pack left out, that a pole of the pack ("pack.+", "pack.-")
/// reaches with `open` open.
std::vector<std::string> live_devices(const wiring::Circuit& circuit, std::string_view pole,
                                      const std::vector<std::string>& open);
/// The same as a sentence for a step.
std::string live_text(const wiring::Circuit& circuit, const std::vector<std::string>& open);

/// For each wire of the circuit what makes it live, if only wires with `laid` true are there.
std::vector<Reach> reach_of_wires(const wiring::Circuit& circuit, const std::vector<bool>& laid);

}  // namespace ww::steps
