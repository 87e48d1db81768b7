// SPDX-License-Identifier: MIT
#include "garage/opening.h"

#include <SQLiteCpp/Backup.h>
#include <sqlite3.h>

#include <algorithm>
#include <array>

#include "garage/revisions.h"
#include "garage/salvage.h"
#include "garage/schema.h"

#ifdef __unix__
#include <fcntl.h>
#include <unistd.h>
#endif

namespace ww::garage {

namespace {

namespace fs = std::filesystem;
using SQLite::Database;

enum class State { nothing, empty, sound, older, newer, other_program, stranger, damaged };

/// What was found at the path, without writing to it.
struct Look {
  State state = State::sound;
  int form = 0;
  std::string why = {};  ///< of damage
};

constexpr std::array<const char*, 3> companions{"-wal", "-shm", "-journal"};

std::uintmax_t size_of(const std::string& path) {
  std::error_code none;
  const auto size = fs::file_size(fs_path(path), none);
  return none ? 0 : size;
}

bool there(const std::string& path) {
  std::error_code none;
  return fs::exists(fs_path(path), none);
}

/// A rename is lasting once the folder is on the disk, too.
void sync_folder(const std::string& path) {
#ifdef __unix__
  const fs::path folder = fs::absolute(fs_path(path)).parent_path();
  const int handle = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (handle < 0) return;
  ::fsync(handle);
  ::close(handle);
#else
  (void)path;
#endif
}

bool has_heading(const std::string& bytes) {
  return bytes.compare(0, 16, std::string_view("SQLite format 3\0", 16)) == 0;
}

/// Whether a person could have written it: no control characters but line ends and tabs.
bool looks_written(const std::string& bytes) {
  return std::none_of(bytes.begin(), bytes.end(), [](char c) {
    return c >= 0 && c < ' ' && c != '\n' && c != '\r' && c != '\t' && c != '\f';
  });
}

/// The first text that a pragma gives; the statement is done with before the next one begins.
std::string answer_of(const Database& db, const std::string& pragma) {
  auto statement = ask(db, pragma);
  return statement.executeStep() ? text_at(statement, 0) : std::string();
}

int user_version(const Database& db) {
  return static_cast<int>(whole(db, "PRAGMA user_version"));
}

/// Empty where all tables and columns of the form are there and consistent, else what is not.
std::string fault_in(const Database& db, int form) {
  for (const auto& table : tables()) {
    if (table.since > form) continue;
    std::string columns;
    for (const auto column : table.columns) {
      if (column_since(table.name, column) <= form)
        columns += (columns.empty() ? "" : ", ") + std::string(column);
    }
    auto any = ask(db, "SELECT " + columns + " FROM " + std::string(table.name) + " LIMIT 1");
    any.executeStep();
  }
  if (auto quick = answer_of(db, "PRAGMA quick_check(1)"); quick != "ok") return quick;
  auto keys = ask(db, "PRAGMA foreign_key_check");
  if (keys.executeStep()) return "a row of " + text_at(keys, 0) + " belongs to nothing";
  auto rows = ask(db, std::string("SELECT ") + revision_columns + " FROM revision");
  while (rows.executeStep()) {
    const auto row = row_at(rows);
    if (sum_of(row) != row.sum) return "revision " + std::to_string(row.id) + " was altered";
  }
  if (whole(db,
            "SELECT count(*) FROM build WHERE NOT EXISTS (SELECT 1 FROM revision r WHERE r.build = "
            "build.id)") != 0)
    return "a build has no revision";
  return {};
}

Look look_inside(const Database& db) {
  const auto tables_there = whole(db, "SELECT count(*) FROM sqlite_schema");
  const auto application = whole(db, "PRAGMA application_id");
  const int form = user_version(db);
  if (application != application_id) {
    if (tables_there == 0 && application == 0 && form == 0) return {.state = State::empty};
    const bool ours = whole(db,
                            "SELECT count(*) FROM sqlite_schema WHERE name IN ('revision_of_build',"
                            " 'revision_is_kept', 'own_part_here')") == 3;
    return ours ? Look{.state = State::damaged, .why = "its heading was altered"}
                : Look{.state = State::other_program};
  }
  if (form > form_version) return {.state = State::newer, .form = form};
  if (form < 1) return {.state = State::damaged, .why = "its heading was altered"};
  const std::string fault = fault_in(db, form);
  if (!fault.empty()) return {.state = State::damaged, .form = form, .why = fault};
  return {.state = form < form_version ? State::older : State::sound, .form = form};
}

/// A missing table or column is damage, too.
bool means_fault(const SQLite::Exception& problem) {
  return means_damage(problem) || (problem.getErrorCode() & 0xFF) == SQLITE_ERROR;
}

Look look_with(const Place& place, int flags) {
  try {
    Database db(place.path, flags, place.options.busy_ms, place.options.vfs);
    sqlite3_db_config(db.getHandle(), SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, nullptr);
    return look_inside(db);
  } catch (const SQLite::Exception& problem) {
    if (!means_fault(problem)) throw;
    return {.state = State::damaged, .why = problem.what()};
  }
}

Look look(const Place& place) {
  const bool log = size_of(place.path + "-wal") > 0;
  const bool journal = size_of(place.path + "-journal") > 0;
  if (!there(place.path)) return {.state = State::nothing};
  if (size_of(place.path) == 0 && log) {
    return {.state = State::damaged,
            .why = "the file is empty, what was written last is beside it"};
  }
  if (size_of(place.path) == 0) return {.state = State::empty};
  const std::string bytes = first_bytes(place.path, 4096);
  if (!has_heading(bytes) && !journal && !log) {
    return looks_written(bytes) ? Look{.state = State::stranger, .why = "it holds some other text"}
                                : Look{.state = State::damaged, .why = "its heading is gone"};
  }
  // A file that says it may only be read: none of ours does.
  constexpr std::size_t write_version = 18;
  if (has_heading(bytes) && bytes.size() > write_version && bytes[write_version] > 2)
    return {.state = State::damaged, .why = "its heading was altered"};
  try {
    return look_with(place, SQLite::OPEN_READONLY);
  } catch (const SQLite::Exception& problem) {
    // Work that was cut off must be rolled back first, and that is writing.
    if ((problem.getErrorCode() & 0xFF) != SQLITE_READONLY) throw;
    return look_with(place, SQLite::OPEN_READWRITE);
  }
}

// ---- beginning, bringing up to date

void begin_file(const Place& place) {
  Database db(place.path, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE, place.options.busy_ms,
              place.options.vfs);
  bring_up_to_date(db);
}

std::string time_in_name(const std::string& now) {
  std::string out;
  for (const char c : now) {
    if ((c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || c == '-') out += c;
  }
  return out;
}

/// `stem-TIME`, with a number behind it where that is taken.
std::string free_name(const std::string& stem, const std::string& now) {
  const std::string name = stem + "-" + time_in_name(now);
  std::string tried = name;
  const auto taken = [](const std::string& path) {
    return there(path) || std::any_of(companions.begin(), companions.end(),
                                      [&](const char* c) { return there(path + c); });
  };
  for (int i = 2; taken(tried); ++i) tried = name + "-" + std::to_string(i);
  return tried;
}

void update_file(const Place& place, const Look& found, Opening& opening) {
  opening.how = Opening::How::brought_up_to_date;
  opening.copy_before = free_name(place.path + ".form-" + std::to_string(found.form), place.now);
  copy_file(place, opening.copy_before);
  Database db(place.path, SQLite::OPEN_READWRITE, place.options.busy_ms, place.options.vfs);
  bring_up_to_date(db);
  opening.notices.push_back("The garage was brought up to date; as it was before it is kept in " +
                            opening.copy_before + ".");
}

// ---- setting aside

std::string salvaged_name(const std::string& path) {
  return path + ".salvaged";
}

void move_if_there(const std::string& from, const std::string& to) {
  if (there(from)) fs::rename(fs_path(from), fs_path(to));
}

/// The damaged file and what belongs to it get another name, and the salvaged one takes its place.
std::string change_places(const Place& place) {
  std::string aside = free_name(place.path + ".damaged", place.now);
  move_if_there(place.path, aside);
  for (const char* companion : companions) move_if_there(place.path + companion, aside + companion);
  fs::rename(fs_path(salvaged_name(place.path)), fs_path(place.path));
  sync_folder(place.path);
  return aside;
}

std::string count_of(int count, const char* one, const char* many) {
  return std::to_string(count) + " " + (count == 1 ? one : many);
}

void set_aside(const Place& place, const Look& found, Opening& opening) {
  const std::string half_done = salvaged_name(place.path) + "-tmp";
  remove_file(half_done);
  remove_file(salvaged_name(place.path));
  Salvaged kept;
  try {
    kept = salvage(place, half_done);
  } catch (...) {
    remove_file(half_done);
    throw;
  }
  fs::rename(fs_path(half_done), fs_path(salvaged_name(place.path)));
  opening.set_aside = change_places(place);
  opening.how = Opening::How::salvaged;
  opening.revisions_kept = kept.revisions_kept;
  opening.revisions_lost = kept.revisions_lost;
  opening.notices.push_back("The garage file was damaged (" + found.why +
                            "). It was set aside, untouched, as " + opening.set_aside + ".");
  opening.notices.push_back(
      kept.builds_kept == 0
          ? "Nothing in it could be read; the garage begins empty. A backup can be put in its "
            "place."
          : "Read again from it: " + count_of(kept.builds_kept, "build", "builds") + " with " +
                count_of(kept.revisions_kept, "revision", "revisions") + "; " +
                count_of(kept.revisions_lost, "revision", "revisions") +
                " could not be read. Look through them before you go on.");
}

/// What an earlier start left half done: the salvaged file is complete but not in its place.
void finish_change_of_places(const Place& place, Opening& opening) {
  if (there(place.path) || !there(salvaged_name(place.path))) return;
  opening.set_aside = change_places(place);
  opening.how = Opening::How::salvaged;
  opening.notices.push_back(
      "A damaged garage file was set aside earlier; what could be read of it is in its place now.");
}

/// A log without its file holds what was written last: it must not be taken for the new file's.
void set_stray_log_aside(const Place& place, Opening& opening) {
  if (there(place.path) || size_of(place.path + "-wal") == 0) return;
  const std::string aside = free_name(place.path + ".damaged", place.now);
  for (const char* companion : companions) move_if_there(place.path + companion, aside + companion);
  opening.set_aside = aside + "-wal";
  opening.notices.push_back("The garage file is gone, only what was written last lay there (now " +
                            opening.set_aside + "). If you moved the file, move both back.");
}

Error refused(const Place& place, const Look& found) {
  if (found.state == State::newer) {
    return {.code = "newer-form",
            .what = "this garage was written by a newer program; it was not touched",
            .file = place.path,
            .found = "form " + std::to_string(found.form),
            .expected = "form " + std::to_string(form_version) + " or older",
            .way_out = "Use the newer program, or another file"};
  }
  return {.code = "not-a-garage",
          .what = "this file is something else; it was not touched",
          .file = place.path,
          .way_out = "Name another file; one that is not there yet begins a new garage"};
}

}  // namespace

void remove_file(const std::string& path) {
  std::error_code none;
  fs::remove(fs_path(path), none);
  for (const char* companion : companions) fs::remove(fs_path(path + companion), none);
}

void bring_up_to_date(Database& db) {
  db.exec("PRAGMA synchronous = FULL");
  SQLite::Transaction all(db, SQLite::TransactionBehavior::IMMEDIATE);
  const int form = user_version(db);
  for (int i = form; i < form_version; ++i)
    db.exec(std::string(migrations()[static_cast<std::size_t>(i)]));
  if (form < form_version) {
    db.exec("PRAGMA application_id = " + std::to_string(application_id));
    db.exec("PRAGMA user_version = " + std::to_string(form_version));
  }
  all.commit();
}

Result<Opening> put_in_order(const Place& place) {
  Opening opening;
  const fs::path folder = fs::absolute(fs_path(place.path)).parent_path();
  if (!fs::is_directory(folder)) {
    return fail({.code = "no-folder",
                 .what = "the folder for the garage is not there",
                 .file = folder.string(),
                 .way_out = "Make the folder, or name another file"});
  }
  if (fs::is_directory(fs_path(place.path))) {
    return fail(
        {.code = "not-a-garage", .what = "this is a folder, not a file", .file = place.path});
  }
  finish_change_of_places(place, opening);
  set_stray_log_aside(place, opening);
  Look found = look(place);
  if (found.state == State::stranger && place.options.stranger == Stranger::set_aside)
    found.state = State::damaged;
  if (found.state == State::older) {
    try {
      update_file(place, found, opening);
    } catch (const SQLite::Exception& problem) {
      if (!means_fault(problem)) throw;
      found = {.state = State::damaged, .form = found.form, .why = problem.what()};
    }
  }
  switch (found.state) {
    case State::nothing:
    case State::empty:
      begin_file(place);
      opening.how = Opening::How::made_new;
      if (found.state == State::empty)
        opening.notices.emplace_back("The file was there but empty; a new garage was begun in it.");
      return opening;
    case State::damaged:
      set_aside(place, found, opening);
      return opening;
    case State::newer:
    case State::other_program:
    case State::stranger:
      return fail(refused(place, found));
    case State::sound:
    case State::older:
      break;
  }
  return opening;
}

/// Turns to the write-ahead log. SQLite does not wait for a lock where that could be for ever, so
/// it is asked again until the usual wait is over.
void write_ahead(const Database& db, int busy_ms) {
  constexpr int pause_ms = 10;
  for (int waited_ms = 0;; waited_ms += pause_ms) {
    const bool last = waited_ms >= busy_ms;
    try {
      if (answer_of(db, "PRAGMA journal_mode = WAL") == "wal") return;
      if (last) throw SQLite::Exception("no write-ahead log here", SQLITE_BUSY);
    } catch (const SQLite::Exception& problem) {
      if (last || problem.getErrorCode() != SQLITE_BUSY) throw;
    }
    sqlite3_sleep(pause_ms);
  }
}

std::unique_ptr<Database> connect(const Place& place) {
  auto db = std::make_unique<Database>(place.path, SQLite::OPEN_READWRITE, place.options.busy_ms,
                                       place.options.vfs);
  if (sqlite3_db_readonly(db->getHandle(), "main") == 1)
    throw SQLite::Exception("the file is read-only", SQLITE_READONLY);
  db->exec("PRAGMA foreign_keys = ON");
  write_ahead(*db, place.options.busy_ms);
  db->exec("PRAGMA synchronous = FULL");
  const SQLite::Transaction may_write(*db, SQLite::TransactionBehavior::IMMEDIATE);
  return db;
}

void copy_file(const Place& from, const std::string& to) {
  const std::string half_done = to + ".part";
  remove_file(half_done);
  try {
    Database source(from.path, SQLite::OPEN_READONLY, from.options.busy_ms, from.options.vfs);
    Database copy(half_done, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE, from.options.busy_ms,
                  from.options.vfs);
    const int done = SQLite::Backup(copy, source).executeStep(-1);
    if (done != SQLITE_DONE) throw SQLite::Exception("the copy came to no end", done);
    answer_of(copy, "PRAGMA journal_mode = DELETE");
    if (answer_of(copy, "PRAGMA quick_check(1)") != "ok")
      throw SQLite::Exception("the copy is not sound", SQLITE_IOERR);
  } catch (...) {
    remove_file(half_done);
    throw;
  }
  fs::rename(fs_path(half_done), fs_path(to));
  sync_folder(to);
}

}  // namespace ww::garage
