// SPDX-License-Identifier: MIT
// The stages of the job, which part of the sheet belongs to which, and what is still open in each.
#pragma once

#include <vector>

#include "serve/state.h"

namespace ww::serve {

/// In the order of the job; every slot of the sheet is in exactly one.
const std::vector<api::Stage>& stages();

/// What is still open in each stage, in words; nothing where it is done.
std::vector<api::StageState> open_stages(const Looked& looked);

}  // namespace ww::serve
