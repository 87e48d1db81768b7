// SPDX-License-Identifier: MIT
#include "garage/sql.h"

#include <sqlite3.h>

#include <algorithm>
#include <cstddef>
#include <new>
#include <vector>

namespace ww::garage {

namespace {

constexpr const char* nothing_written =
    "; nothing of this was written, what was saved before is kept";

Error at(const std::string& path, std::string code, std::string what, std::string way_out) {
  return {.code = std::move(code),
          .what = std::move(what),
          .file = path,
          .way_out = std::move(way_out)};
}

Error disk_full(const std::string& path) {
  return at(path, "disk-full", std::string("there is no room left on this disk") + nothing_written,
            "Free some room, then do it again");
}

Error read_only(const std::string& path) {
  return at(path, "read-only",
            std::string("the garage file or its folder cannot be written to") + nothing_written,
            "Allow writing to the file and its folder, or copy the file to a place of your own");
}

}  // namespace

std::string first_bytes(const std::string& path, std::size_t count) {
  sqlite3_vfs* vfs = sqlite3_vfs_find(nullptr);
  const std::string full = std::filesystem::absolute(fs_path(path)).string();
  const char* name = sqlite3_create_filename(full.c_str(), "", "", 0, nullptr);
  std::vector<std::max_align_t> memory(
      static_cast<std::size_t>(vfs->szOsFile) / sizeof(std::max_align_t) + 1);
  auto* file = reinterpret_cast<sqlite3_file*>(memory.data());
  std::string bytes;
  if (vfs->xOpen(vfs, name, file, SQLITE_OPEN_READONLY | SQLITE_OPEN_MAIN_DB, nullptr) ==
      SQLITE_OK) {
    sqlite3_int64 size = 0;
    file->pMethods->xFileSize(file, &size);
    bytes.resize(std::min(count, static_cast<std::size_t>(size)));
    if (file->pMethods->xRead(file, bytes.data(), static_cast<int>(bytes.size()), 0) != SQLITE_OK)
      bytes.clear();
  }
  if (file->pMethods != nullptr) file->pMethods->xClose(file);
  sqlite3_free_filename(name);
  return bytes;
}

bool means_damage(const SQLite::Exception& problem) {
  const int code = problem.getErrorCode() & 0xFF;
  return code == SQLITE_CORRUPT || code == SQLITE_NOTADB || code == SQLITE_FORMAT;
}

Error sqlite_error(const SQLite::Exception& problem, const std::string& path) {
  const std::string said = problem.what();
  switch (problem.getErrorCode() & 0xFF) {
    case SQLITE_FULL:
      return disk_full(path);
    case SQLITE_READONLY:
    case SQLITE_PERM:
      return read_only(path);
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return at(path, "locked",
                std::string("another program is writing to the garage") + nothing_written,
                "Close the other one, or wait a moment and do it again");
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
    case SQLITE_FORMAT:
      return at(path, "damaged", "the garage file is damaged (" + said + ")",
                "Start again: the damaged file is then set aside and what can be read is copied");
    case SQLITE_IOERR:
      return at(path, "disk-error",
                "the disk did not do what it was told (" + said + ")" + nothing_written,
                "Look whether the disk is still there and sound; make a backup on another one");
    case SQLITE_CANTOPEN:
      return at(path, "cannot-open", "the file cannot be opened",
                "Look whether its folder is there and may be written to");
    case SQLITE_TOOBIG:
      return at(path, "too-large", std::string("this is too large to keep") + nothing_written, {});
    case SQLITE_NOMEM:
      return at(path, "no-memory", std::string("there is not enough memory") + nothing_written,
                "Close other programs, then do it again");
    default:
      return at(path, "store", "the garage could not do this (" + said + ")", {});
  }
}

Error other_error(const std::exception& problem, const std::string& path) {
  if (dynamic_cast<const std::bad_alloc*>(&problem) != nullptr) {
    return at(path, "no-memory", std::string("there is not enough memory") + nothing_written,
              "Close other programs, then do it again");
  }
  if (const auto* file = dynamic_cast<const std::filesystem::filesystem_error*>(&problem)) {
    const auto code = file->code();
    if (code == std::errc::no_space_on_device) return disk_full(path);
    if (code == std::errc::permission_denied || code == std::errc::read_only_file_system ||
        code == std::errc::operation_not_permitted)
      return read_only(path);
    return at(path, "disk-error", "a file could not be moved or looked at (" + code.message() + ")",
              "Look whether the folder is there and may be written to");
  }
  return at(path, "store", std::string("the garage could not do this (") + problem.what() + ")",
            {});
}

}  // namespace ww::garage
