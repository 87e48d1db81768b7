// SPDX-License-Identifier: MIT
// What was read from a pasted listing, as text and for machines (docs/json.md).
#pragma once

#include <string>
#include <vector>

#include "plan/paste.h"

namespace ww::cli {

std::string paste_report(const plan::Pasted& pasted);
std::string paste_json(const plan::Pasted& pasted);

/// What --kind takes: every shelf, and "module" and "pack".
std::vector<std::string> paste_kinds();

}  // namespace ww::cli
