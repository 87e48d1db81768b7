// SPDX-License-Identifier: MIT
// The settings sheet: one page to be typed from and written on.
#pragma once

#include <string>

#include "cli/session.h"

namespace ww::cli {

std::string settings_text(const Opened& opened, const build::Build& build, const Options& options);
std::string settings_json(const Opened& opened, const build::Build& build);

}  // namespace ww::cli
