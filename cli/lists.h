// SPDX-License-Identifier: MIT
// The parts list and the measuring list as text, and the comparison of two builds.
#pragma once

#include <string>

#include "cli/reports.h"
#include "plan/measuring_list.h"
#include "plan/parts_list.h"

namespace ww::cli {

std::string parts_report(const Opened& opened, const plan::PartsList& list, const Options& options);
std::string measuring_report(const Opened& opened, const std::vector<plan::Measurement>& list,
                             const Options& options);
std::string compare_report(const Opened& a, const Checked& checked_a, const Opened& b,
                           const Checked& checked_b, const Options& options);

}  // namespace ww::cli
