// SPDX-License-Identifier: MIT
// The fuses of a circuit: which rating each branch takes, and each looked at five ways: DC voltage,
// interrupting rating, rms current, peaks, the weakest short.
#pragma once

#include <string>
#include <vector>

#include "wiring/conductor.h"
#include "wiring/duty.h"
#include "wiring/sizing.h"

namespace ww::wiring {

/// A fuse's rating and how it behaves, before the wires behind it are known.
struct FusePick {
  std::string id;
  bool main;
  bool on_pack;
  double rating_A;
  double clearing_A2s;  ///< what it lets through in a short
  FusePoints curve;
  Duty load;  ///< of all that hangs on it
};

/// Every fuse that a wire names, in the order of the circuit.
std::vector<FusePick> pick_fuses(const Circuit& circuit, Readings& sheet, Duties& duties);

std::vector<SizedFuse> look_at_fuses(const Circuit& circuit, Readings& sheet,
                                     const std::vector<FusePick>& picks,
                                     const std::vector<SizedWire>& wires);

}  // namespace ww::wiring
