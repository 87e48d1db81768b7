// SPDX-License-Identifier: MIT
// The circuit as text and as JSON.
#pragma once

#include <string>

#include "cli/session.h"
#include "serve/wiring_report.h"

namespace ww::cli {

using serve::Wired;
using serve::wired;

std::string wiring_text(const Opened& opened, const Checked& checked, const Wired& w,
                        const Options& options);
std::string wiring_json(const Opened& opened, const Checked& checked, const Wired& w);

}  // namespace ww::cli
