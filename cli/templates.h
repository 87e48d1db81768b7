// SPDX-License-Identifier: MIT
// New sheets to start from, made from the field table.
#pragma once

#include <string>
#include <vector>

namespace ww::cli {

/// "dream", "two-parts", "full": what `new` can write.
const std::vector<std::string>& template_names();

/// The text of a new sheet; empty for a name that is none.
std::string new_sheet(const std::string& name);

}  // namespace ww::cli
