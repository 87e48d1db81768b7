// SPDX-License-Identifier: MIT
// What the part and the message to the seller share. Internal to this floor.
#pragma once

#include <string>
#include <string_view>

#include "plan/paste.h"

namespace ww::plan::paste {

/// The first slot that takes the part; null where its kind is not clear.
const build::Slot* slot_of(const Pasted& pasted);

/// The words of a paste on one line, not too long.
std::string one_line(std::string_view words);

}  // namespace ww::plan::paste
