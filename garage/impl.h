// SPDX-License-Identifier: MIT
// What a Garage holds, and how its calls reach the file. Private to garage/.
#pragma once

#include <mutex>

#include "garage/garage.h"
#include "garage/sql.h"

namespace ww::garage {

struct Garage::Impl {
  std::string path;
  Clock clock;
  Options options;
  Opening opening = {};
  std::unique_ptr<SQLite::Database> db = {};
  std::mutex mutex = {};

  /// One transaction that is committed if `work` gives a value. `work` gets the database.
  template <class Work>
  auto write(Work work) -> decltype(work(*db)) {
    const std::lock_guard lock(mutex);
    return guarded(path, [&] {
      SQLite::Transaction all(*db, SQLite::TransactionBehavior::IMMEDIATE);
      auto result = work(*db);
      if (result) all.commit();
      return result;
    });
  }

  /// One consistent look.
  template <class Work>
  auto read(Work work) -> decltype(work(*db)) {
    const std::lock_guard lock(mutex);
    return guarded(path, [&] {
      const SQLite::Transaction all(*db);
      return work(*db);
    });
  }
};

/// A text that may be kept: UTF-8 without zero bytes.
Result<void> check_words(const std::string& text, const std::string& field);

/// Errors "no-build" where there is none.
Result<void> check_build(const SQLite::Database& db, BuildId build);

}  // namespace ww::garage
