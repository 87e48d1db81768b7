// SPDX-License-Identifier: MIT
// SQLite seen from this room: binding, reading columns, and the edge where what the library throws
// becomes an Error. Private to garage/; the only header that names SQLite.
#pragma once

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>
#include <SQLiteCpp/Transaction.h>

#include <cstdint>
#include <exception>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>

#include "base/result.h"

namespace ww::garage {

/// What SQLite's result code means to the builder.
Error sqlite_error(const SQLite::Exception& problem, const std::string& path);
/// The same of the file system and of memory.
Error other_error(const std::exception& problem, const std::string& path);
/// Whether a code says that the file's contents are broken.
bool means_damage(const SQLite::Exception& problem);

/// Runs `work`, which gives a Result; what is thrown in it comes back as an Error.
template <class Work>
auto guarded(const std::string& path, Work work) -> decltype(work()) {
  try {
    return work();
  } catch (const SQLite::Exception& problem) {
    return fail(sqlite_error(problem, path));
  } catch (const std::exception& problem) {
    return fail(other_error(problem, path));
  }
}

inline void bind_one(SQLite::Statement& s, int at, std::int64_t value) {
  s.bind(at, value);
}
inline void bind_one(SQLite::Statement& s, int at, double value) {
  s.bind(at, value);
}
inline void bind_one(SQLite::Statement& s, int at, const std::string& value) {
  s.bind(at, value);
}
template <class Id>
requires std::is_enum_v<Id>
void bind_one(SQLite::Statement& s, int at, Id id) {
  s.bind(at, static_cast<std::int64_t>(id));
}
template <class T>
void bind_one(SQLite::Statement& s, int at, const std::optional<T>& value) {
  if (value) {
    bind_one(s, at, *value);
  } else {
    s.bind(at);
  }
}

/// A prepared statement with its parameters in place.
template <class... Values>
SQLite::Statement ask(const SQLite::Database& db, const std::string& sql, const Values&... values) {
  SQLite::Statement statement(db, sql);
  int at = 0;
  (bind_one(statement, ++at, values), ...);
  return statement;
}

/// Runs a statement that gives no rows.
template <class... Values>
void tell(const SQLite::Database& db, const std::string& sql, const Values&... values) {
  ask(db, sql, values...).exec();
}

inline std::string text_at(const SQLite::Statement& s, int column) {
  return s.getColumn(column).getString();
}
inline std::int64_t whole_at(const SQLite::Statement& s, int column) {
  return s.getColumn(column).getInt64();
}
template <class Id>
Id id_at(const SQLite::Statement& s, int column) {
  return static_cast<Id>(whole_at(s, column));
}
template <class T>
std::optional<T> maybe_at(const SQLite::Statement& s, int column) {
  if (s.isColumnNull(column)) return std::nullopt;
  if constexpr (std::is_same_v<T, std::string>) {
    return text_at(s, column);
  } else if constexpr (std::is_same_v<T, double>) {
    return s.getColumn(column).getDouble();
  } else {
    return static_cast<T>(whole_at(s, column));
  }
}

/// One whole number; 0 where there is no row.
template <class... Values>
std::int64_t whole(const SQLite::Database& db, const std::string& sql, const Values&... values) {
  auto statement = ask(db, sql, values...);
  return statement.executeStep() ? whole_at(statement, 0) : 0;
}

/// The first bytes of a file; fewer where it is shorter, none where it cannot be read. Read through
/// SQLite's file layer: a file of the same process that SQLite holds locks on must not be closed by
/// anybody else, or POSIX drops those locks.
std::string first_bytes(const std::string& path, std::size_t count);

/// A path in UTF-8, whatever the system's own narrow encoding.
inline std::filesystem::path fs_path(const std::string& path) {
  return {std::u8string(path.begin(), path.end())};
}

}  // namespace ww::garage
