// SPDX-License-Identifier: MIT
#include "garage/schema.h"

namespace ww::garage {

namespace {

constexpr std::string_view form_1 = R"sql(
CREATE TABLE build (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  name TEXT NOT NULL CHECK (length(name) > 0),
  created TEXT NOT NULL,
  archived TEXT,
  from_build INTEGER REFERENCES build(id)
) STRICT;
CREATE TABLE revision (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  build INTEGER NOT NULL REFERENCES build(id),
  parent INTEGER REFERENCES revision(id),
  shows INTEGER REFERENCES revision(id),
  former INTEGER REFERENCES revision(id),
  beyond INTEGER REFERENCES revision(id),
  did TEXT NOT NULL
    CHECK (did IN ('made', 'imported', 'copied', 'edited', 'undone', 'redone', 'recovered')),
  at TEXT NOT NULL,
  what TEXT NOT NULL,
  changes TEXT NOT NULL,
  text TEXT,
  original TEXT,
  sum INTEGER NOT NULL,
  CHECK ((text IS NULL) = (shows IS NOT NULL)),
  CHECK (shows IS NULL OR former IS NULL),
  CHECK (shows IS NOT NULL OR beyond IS NULL),
  CHECK (parent < id),
  CHECK (shows < id),
  CHECK (former < id),
  CHECK (beyond < id)
) STRICT;
CREATE INDEX revision_of_build ON revision(build, id);
CREATE TRIGGER revision_is_kept BEFORE DELETE ON revision
  BEGIN SELECT RAISE(ABORT, 'revisions are only ever added'); END;
CREATE TRIGGER revision_is_final BEFORE UPDATE ON revision
  BEGIN SELECT RAISE(ABORT, 'revisions are only ever added'); END;
CREATE TABLE own_part (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  shelf TEXT NOT NULL,
  slug TEXT NOT NULL,
  text TEXT NOT NULL,
  came_from TEXT NOT NULL,
  created TEXT NOT NULL,
  changed TEXT NOT NULL,
  revision INTEGER NOT NULL,
  removed TEXT
) STRICT;
CREATE UNIQUE INDEX own_part_here ON own_part(shelf, slug) WHERE removed IS NULL;
CREATE TABLE answer (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  build INTEGER NOT NULL REFERENCES build(id),
  rule TEXT NOT NULL,
  why TEXT NOT NULL,
  at TEXT NOT NULL,
  numbers TEXT NOT NULL,
  withdrawn TEXT
) STRICT;
CREATE UNIQUE INDEX answer_stands ON answer(build, rule) WHERE withdrawn IS NULL;
)sql";

constexpr std::string_view form_2 = R"sql(
ALTER TABLE build ADD COLUMN note TEXT NOT NULL DEFAULT '';
CREATE TABLE photo (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  build INTEGER NOT NULL REFERENCES build(id),
  field TEXT,
  media TEXT NOT NULL CHECK (media IN ('image/jpeg', 'image/png', 'image/webp')),
  caption TEXT NOT NULL,
  at TEXT NOT NULL,
  bytes BLOB NOT NULL
) STRICT;
CREATE INDEX photo_of_build ON photo(build, id);
CREATE TABLE journal (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  build INTEGER NOT NULL REFERENCES build(id),
  day TEXT NOT NULL,
  written TEXT NOT NULL,
  text TEXT NOT NULL,
  money_cents INTEGER,
  hours REAL,
  revision INTEGER NOT NULL
) STRICT;
CREATE INDEX journal_of_build ON journal(build, day);
CREATE TABLE setting (
  id INTEGER PRIMARY KEY,
  key TEXT NOT NULL UNIQUE,
  value TEXT NOT NULL
) STRICT;
)sql";

}  // namespace

const std::vector<std::string_view>& migrations() {
  static const std::vector<std::string_view> list{form_1, form_2};
  return list;
}

const std::vector<TableForm>& tables() {
  static const std::vector<TableForm> list{
      {"build", 1, {"id", "name", "created", "archived", "from_build", "note"}},
      {"revision",
       1,
       {"id", "build", "parent", "shows", "former", "beyond", "did", "at", "what", "changes",
        "text", "original", "sum"}},
      {"own_part",
       1,
       {"id", "shelf", "slug", "text", "came_from", "created", "changed", "revision", "removed"}},
      {"answer", 1, {"id", "build", "rule", "why", "at", "numbers", "withdrawn"}},
      {"photo", 2, {"id", "build", "field", "media", "caption", "at", "bytes"}},
      {"journal", 2, {"id", "build", "day", "written", "text", "money_cents", "hours", "revision"}},
      {"setting", 2, {"id", "key", "value"}}};
  return list;
}

int column_since(std::string_view table, std::string_view column) {
  return table == "build" && column == "note" ? 2 : 1;
}

}  // namespace ww::garage
