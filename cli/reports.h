// SPDX-License-Identifier: MIT
// The reports, each as text for people. JSON for machines is in cli/json.h.
#pragma once

#include <string>

#include "cli/session.h"

namespace ww::cli {

Checked check_build(const build::Build& build, const Shipped& shipped, const Options& options,
                    bool ways_out = true);

Exit exit_of(const build::Build& build, const Checked& checked);

std::string check_report(const Opened& opened, const Checked& checked, const Options& options);
std::string ride_report(const Opened& opened, const build::Build& ridden, const ride::Ride& ride,
                        const Options& options);

/// What moves the distance most; `sheet` is the builder's, before any sketch.
std::string assumptions_text(const build::Build& sheet, const ride::Ride& ride,
                             const Options& options, std::size_t most);

}  // namespace ww::cli
