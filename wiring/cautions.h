// SPDX-License-Identifier: MIT
// The caution that stands beside a wire or a sum wherever it is shown.
#pragma once

#include <string>

#include "wiring/circuit.h"

namespace ww::wiring {

/// What can hurt at this very wire, and how to work at it. `dangerous`: the full pack is over 60 V,
/// or its voltage is not known. Common practice, no source, but for the 60 V (UN R100, R136).
std::string caution_for(const Wire& wire, bool dangerous);

}  // namespace ww::wiring
