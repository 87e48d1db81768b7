// SPDX-License-Identifier: MIT
// Rows of the table `revision`, in and out. Private to garage/.
#pragma once

#include "garage/garage.h"
#include "garage/sql.h"

namespace ww::garage {

/// A row as it lies in the file.
struct RevisionRow {
  std::int64_t id = 0;  ///< 0: the file gives the next one
  std::int64_t build = 0;
  std::optional<std::int64_t> parent = {}, shows = {}, former = {}, beyond = {};
  std::string did = {}, at = {}, what = {}, changes = {};
  std::optional<std::string> text = {}, original = {};
  std::int64_t sum = 0;
};

/// The columns in the order that row_at expects.
extern const char* const revision_columns;
RevisionRow row_at(const SQLite::Statement& statement);

/// 64-bit FNV-1a over what must not change unnoticed.
std::int64_t sum_of(const RevisionRow& row);

/// Writes the row with its sum; gives its id.
std::int64_t add_row(const SQLite::Database& db, RevisionRow row);

std::optional<RevisionRow> find_row(const SQLite::Database& db, std::int64_t id);
/// The newest of a build.
std::optional<RevisionRow> head_row(const SQLite::Database& db, BuildId build);

std::optional<Did> did_of(std::string_view word);

}  // namespace ww::garage
