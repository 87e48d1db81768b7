// SPDX-License-Identifier: MIT
// Setting and reading a member through its field declaration, without naming its struct. Private to
// build/.
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "build/fields.h"

namespace ww::build {

/// Sets the member from text. The figure's evidence, note and date stay. Errors name `path`.
Result<int> set_member(const FieldInfo& info, void* member, std::string_view path,
                       std::string_view text);

/// The member as one number; NaN where not known or a text.
double member_number(const FieldInfo& info, const void* member);

/// Whether the member is known.
bool member_known(const FieldInfo& info, const void* member);

/// Whether two members of the same field hold the same.
bool member_equal(const FieldInfo& info, const void* a, const void* b);

}  // namespace ww::build
