// SPDX-License-Identifier: MIT
// Reads one TOML table into a struct through its field table. Private to build/: the only header
// that names TOML.
#pragma once

#include <toml++/toml.h>

#include <functional>
#include <string>

#include "base/result.h"
#include "build/fields.h"

namespace ww::build {

/// Where errors go and which file they speak of.
struct ReadContext {
  std::string file;
  Errors* errors;
};

void report(ReadContext& context, const toml::source_region& where, Error error);

/// A scalar node as the text a person could have typed; false where it is no scalar.
bool scalar_text(const toml::node& node, std::string& out);

/// Sets the members of `object` (the struct of `slot`) from the table's keys. `known_extra` names
/// keys that the caller handles itself. `path_head` is what errors call the table.
void read_fields(ReadContext& context, const Slot& slot, void* object, const toml::table& table,
                 std::string_view path_head, const std::vector<std::string_view>& known_extra);

/// Parses the bytes; a failure is reported and gives an empty table and false.
bool parse_toml(ReadContext& context, std::string_view bytes, toml::table& out);

}  // namespace ww::build
