// SPDX-License-Identifier: MIT
// The reports for machines. The form is written down in docs/json.md; every number is in SI with
// its unit beside it.
#pragma once

#include <string>

#include "cli/lists.h"

namespace ww::cli {

inline constexpr int json_version = 1;

std::string check_json(const Opened& opened, const Checked& checked);
std::string ride_json(const Opened& opened, const build::Build& ridden, const ride::Ride& ride);
std::string parts_json(const Opened& opened, const plan::PartsList& list);
std::string measuring_json(const Opened& opened, const std::vector<plan::Measurement>& list);
std::string compare_json(const Opened& a, const Checked& checked_a, const Opened& b,
                         const Checked& checked_b);
/// What `explain` says of a topic that exists; which topics do is explain()'s to say.
std::string explain_json(const Opened& opened, const Checked& checked, const std::string& topic);
std::string errors_json(const Errors& errors);

}  // namespace ww::cli
