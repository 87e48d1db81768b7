// SPDX-License-Identifier: MIT
// The garage file's tables, form by form (docs/formats.md). Private to garage/.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

namespace ww::garage {

inline constexpr std::int64_t application_id = 0x57775774;
inline constexpr int form_version = 2;

/// The statements that lead from form i to form i + 1; the first begins with an empty file. A list
/// that is never edited, only added to.
const std::vector<std::string_view>& migrations();

/// A table and its columns, `id` first, for looking over a file and for copying what can be read.
struct TableForm {
  std::string_view name;
  int since;  ///< the form that brought it
  std::vector<std::string_view> columns;
};
const std::vector<TableForm>& tables();

/// Columns that came later than their table.
int column_since(std::string_view table, std::string_view column);

}  // namespace ww::garage
