// SPDX-License-Identifier: MIT
// Looking a file over, beginning one, bringing one up to date, setting a damaged one aside. Private
// to garage/.
#pragma once

#include "garage/garage.h"
#include "garage/sql.h"

namespace ww::garage {

/// Where the file is and what time it is.
struct Place {
  std::string path;
  Options options;
  std::string now;  ///< ISO 8601
};

/// Leaves at `place.path` a sound file of the present form, or says why not.
Result<Opening> put_in_order(const Place& place);

/// Writes the tables of every form since the file's own into it, in one transaction.
void bring_up_to_date(SQLite::Database& db);

/// A connection for work: foreign keys, WAL, every commit on the disk before it is acknowledged.
std::unique_ptr<SQLite::Database> connect(const Place& place);

/// Copies a whole file with SQLite's own backup; the copy is one file in journal mode DELETE.
/// Whatever lay at `to` is replaced once the copy is complete.
void copy_file(const Place& from, const std::string& to);

/// Removes a database file with what SQLite puts beside it; nothing there is no error.
void remove_file(const std::string& path);

}  // namespace ww::garage
