// SPDX-License-Identifier: MIT
#include "garage/salvage.h"

#include <sqlite3.h>

#include <fstream>
#include <iterator>
#include <set>

#include "base/text.h"
#include "garage/revisions.h"
#include "garage/schema.h"

namespace ww::garage {

namespace {

namespace fs = std::filesystem;
using SQLite::Database;
using SQLite::Statement;

/// After so many ids in a row that give nothing, the table is taken to end.
constexpr std::int64_t misses_max = 20000;

/// Reads from a broken file: an error is a row less, never the end.
class Broken {
 public:
  Broken(const std::string& path, const Place& place)
      : db_(path, SQLite::OPEN_READONLY, place.options.busy_ms, place.options.vfs) {
    sqlite3_db_config(db_.getHandle(), SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, nullptr);
    // Reads on where the file is shorter than it says, or a line of its schema is broken.
    db_.tryExec("PRAGMA writable_schema = ON");
    db_.tryExec("BEGIN");  // one lock for all rows
  }

  /// The columns of a table that can be named; empty where the table cannot be reached.
  std::vector<std::string> columns(const TableForm& table) const {
    std::vector<std::string> there;
    for (const auto column : table.columns) {
      if (statement("SELECT " + std::string(column) + " FROM " + std::string(table.name)))
        there.emplace_back(column);
    }
    return there.empty() || there.front() != "id" ? std::vector<std::string>() : there;
  }

  /// Calls `take` with every row that can be read, by its id; gives the largest id known of.
  template <class Take>
  std::int64_t each(const TableForm& table, const std::vector<std::string>& columns, Take take) {
    const std::int64_t known = last_id(table);
    std::int64_t last = 0;
    std::int64_t misses = 0;
    const auto row = statement("SELECT " + join(columns, ", ") + " FROM " +
                               std::string(table.name) + " WHERE id = ?");
    if (row == nullptr) return 0;
    for (std::int64_t id = 1; (id <= known || misses < 1000) && misses <= misses_max; ++id) {
      ++misses;
      row->tryReset();
      row->bind(1, id);
      if (row->tryExecuteStep() != SQLITE_ROW) continue;
      misses = 0;
      last = id;
      take(*row);
    }
    return std::max(last, std::min(known, last + misses_max));
  }

 private:
  std::unique_ptr<Statement> statement(const std::string& sql) const {
    try {
      return std::make_unique<Statement>(db_, sql);
    } catch (const SQLite::Exception&) {
      return nullptr;
    }
  }

  std::int64_t last_id(const TableForm& table) const {
    const std::string name(table.name);
    for (const auto& sql : {"SELECT max(id) FROM " + name,
                            "SELECT seq FROM sqlite_sequence WHERE name = '" + name + "'"}) {
      try {
        const auto last = whole(db_, sql);
        if (last > 0) return last;
      } catch (const SQLite::Exception&) {
        continue;
      }
    }
    return 0;
  }

  Database db_;
};

/// Copies the columns as they are.
void copy_columns(const Statement& row, Statement& to, int count) {
  for (int i = 0; i < count; ++i) {
    const auto column = row.getColumn(i);
    if (column.isNull()) {
      to.bind(i + 1);
    } else if (column.isInteger()) {
      to.bind(i + 1, column.getInt64());
    } else if (column.isFloat()) {
      to.bind(i + 1, column.getDouble());
    } else if (column.isText()) {
      to.bind(i + 1, column.getString());
    } else {
      to.bind(i + 1, column.getBlob(), column.getBytes());
    }
  }
}

/// Whether a failed insertion is the row's fault: then it is left out. Else the new file's.
bool row_is_bad(int code) {
  code &= 0xFF;
  return code == SQLITE_CONSTRAINT || code == SQLITE_MISMATCH || code == SQLITE_TOOBIG;
}

class Salvage {
 public:
  Salvage(Broken& from, Database& to, const std::string& now) : from_(from), to_(to), now_(now) {}

  Salvaged run() {
    for (const auto& table : tables()) {
      if (table.name == "revision") {
        revisions(table);
      } else {
        copy(table);
      }
    }
    give_every_build_a_revision();
    kept_.builds_kept = static_cast<int>(whole(to_, "SELECT count(*) FROM build"));
    return kept_;
  }

 private:
  void copy(const TableForm& table) {
    const auto columns = from_.columns(table);
    if (columns.empty()) return;
    const bool of_a_build = columns.size() > 1 && columns[1] == "build";
    Statement insert(to_, "INSERT INTO " + std::string(table.name) + " (" + join(columns, ", ") +
                              ") VALUES (" + marks(columns.size()) + ")");
    from_.each(table, columns, [&](const Statement& row) {
      if (!text_is_text(row, static_cast<int>(columns.size()))) return;
      if (of_a_build) need_build(whole_at(row, 1));
      insert.tryReset();
      copy_columns(row, insert, static_cast<int>(columns.size()));
      const int code = insert.tryExecuteStep();
      if (code != SQLITE_DONE && !row_is_bad(code)) throw SQLite::Exception(to_.getHandle(), code);
    });
    if (table.name == "build") tell(to_, std::string(builds_of_nowhere));
  }

  static constexpr std::string_view builds_of_nowhere =
      "UPDATE build SET from_build = NULL WHERE from_build NOT IN (SELECT id FROM build)";

  static std::string marks(std::size_t count) {
    return join(std::vector<std::string>(count, "?"), ", ");
  }

  static bool text_is_text(const Statement& row, int count) {
    for (int i = 0; i < count; ++i) {
      const auto column = row.getColumn(i);
      if (column.isText() && !valid_utf8(column.getString())) return false;
    }
    return true;
  }

  void need_build(std::int64_t id) {
    if (id <= 0 || whole(to_, "SELECT count(*) FROM build WHERE id = ?", id) != 0) return;
    tell(to_, "INSERT INTO build (id, name, note, created) VALUES (?, ?, '', ?)", id,
         "recovered build " + std::to_string(id), now_);
  }

  void revisions(const TableForm& table) {
    const auto columns = from_.columns(table);
    if (columns.size() != table.columns.size()) return;
    const std::int64_t last =
        from_.each(table, columns, [&](const Statement& row) { revision(row_at(row)); });
    kept_.revisions_lost = static_cast<int>(last) - kept_.revisions_kept;
  }

  void revision(RevisionRow row) {
    if (sum_of(row) != row.sum || !did_of(row.did) || row.build <= 0 || !valid_utf8(row.at)) return;
    if (row.shows ? own_text_.count(*row.shows) == 0 : !row.text) return;
    const auto keep = [&](std::optional<std::int64_t>& id) {
      if (id && kept_ids_.count(*id) == 0) id.reset();
    };
    keep(row.parent);
    keep(row.former);
    keep(row.beyond);
    need_build(row.build);
    add_row(to_, row);
    kept_ids_.insert(row.id);
    if (!row.shows) own_text_.insert(row.id);
    ++kept_.revisions_kept;
  }

  /// A build whose revisions are all lost still has its photos and journal.
  void give_every_build_a_revision() {
    std::vector<std::int64_t> bare;
    auto s = ask(to_, "SELECT id FROM build WHERE id NOT IN (SELECT build FROM revision)");
    while (s.executeStep()) bare.push_back(whole_at(s, 0));
    for (const auto id : bare) {
      add_row(to_, {.build = id,
                    .did = std::string(word(Did::recovered)),
                    .at = now_,
                    .what = "its sheets could not be read again",
                    .text = "wattwright = 1\n"});
    }
  }

  Broken& from_;
  Database& to_;
  std::string now_;
  Salvaged kept_ = {};
  std::set<std::int64_t> kept_ids_ = {}, own_text_ = {};
};

/// From here on everything thrown is the new file's fault.
Salvaged copy_rows(const std::string& from, const Place& place, const std::string& into) {
  Database fresh(into, SQLite::OPEN_READWRITE, place.options.busy_ms, place.options.vfs);
  SQLite::Transaction all(fresh);
  Broken broken(from, place);
  const Salvaged kept = Salvage(broken, fresh, place.now).run();
  all.commit();
  return kept;
}

constexpr std::size_t page_bytes = 4096;

/// A copy of the damaged file that has the first page of a sound one: heading and list of tables
/// are the same in every file begun in this form, so the rest can be found again.
void graft(const std::string& damaged, const std::string& sound, const std::string& to) {
  fs::copy_file(fs_path(damaged), fs_path(to));
  std::string page(page_bytes, '\0');
  std::ifstream(fs_path(sound), std::ios::binary).read(page.data(), page_bytes);
  const auto pages = std::max<std::uintmax_t>(1, fs::file_size(fs_path(to)) / page_bytes);
  for (std::size_t i = 0; i < 4; ++i)
    page[28 + i] = static_cast<char>(pages >> (8 * (3 - i)) & 0xFFU);
  std::fstream file(fs_path(to), std::ios::binary | std::ios::in | std::ios::out);
  file.write(page.data(), page_bytes);
  if (!file.flush()) throw SQLite::Exception("no room for a copy", SQLITE_FULL);
  if (const auto log = fs_path(damaged + "-wal"); fs::exists(log))
    fs::copy_file(log, fs_path(to + "-wal"));
}

}  // namespace

Salvaged salvage(const Place& damaged, const std::string& into) {
  {
    Database fresh(into, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE, damaged.options.busy_ms,
                   damaged.options.vfs);
    bring_up_to_date(fresh);
  }
  // SQLite would take the log away from an empty file, so that is only looked at as a copy.
  const auto size = fs::file_size(fs_path(damaged.path));
  Salvaged kept;
  if (size > 0) kept = copy_rows(damaged.path, damaged, into);
  const bool more_than_a_page =
      size >= 2 * page_bytes || fs::exists(fs_path(damaged.path + "-wal"));
  if (kept.builds_kept > 0 || !more_than_a_page) return kept;
  const std::string grafted = into + "-graft";
  remove_file(grafted);
  try {
    graft(damaged.path, into, grafted);
    kept = copy_rows(grafted, damaged, into);
  } catch (...) {
    remove_file(grafted);
    throw;
  }
  remove_file(grafted);
  return kept;
}

}  // namespace ww::garage
