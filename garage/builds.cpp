// SPDX-License-Identifier: MIT
// Builds and their revisions.
#include "base/text.h"
#include "build/sheet.h"
#include "garage/impl.h"
#include "garage/revisions.h"

namespace ww::garage {

namespace {

using SQLite::Database;

constexpr std::size_t name_bytes_max = 200;

Error no_revision(RevisionId revision) {
  return {.code = "no-revision",
          .what = "there is no such revision of this build",
          .found = std::to_string(number(revision)),
          .way_out = "Look at the build as it is now, then do it again"};
}

Result<std::string> good_name(const std::string& typed) {
  const std::string name(trim(typed));
  if (name.empty()) {
    return fail({.code = "no-name",
                 .what = "a build needs a name",
                 .field = "name",
                 .expected = "e.g. 'winter project'"});
  }
  if (name.size() > name_bytes_max) {
    return fail({.code = "name-too-long",
                 .what = "a name has at most 200 bytes",
                 .field = "name",
                 .found = std::to_string(name.size()) + " bytes"});
  }
  if (auto good = check_words(name, "name"); !good) return fail(good.error());
  return name;
}

/// The row whose own text a row shows: itself or another.
Result<RevisionRow> content_of(const Database& db, const RevisionRow& row) {
  if (!row.shows) return row;
  auto content = find_row(db, *row.shows);
  if (!content) return fail(no_revision(RevisionId{*row.shows}));
  return std::move(*content);
}

Result<Head> head_of(const Database& db, const RevisionRow& row) {
  const auto content = content_of(db, row);
  if (!content) return fail(content.error());
  Head head{.build = BuildId{row.build},
            .revision = RevisionId{row.id},
            .text = content->text.value_or(""),
            .at = row.at,
            .can_undo = content->former.has_value(),
            .can_redo = row.beyond.has_value(),
            .undo_what = content->former ? content->what : std::string(),
            .redo_what = {}};
  if (!row.beyond) return head;
  const auto back = find_row(db, *row.beyond);
  if (!back) return fail(no_revision(RevisionId{*row.beyond}));
  const auto again = content_of(db, *back);
  if (!again) return fail(again.error());
  head.redo_what = again->what;
  return head;
}

Result<RevisionRow> newest(const Database& db, BuildId build) {
  if (auto good = check_build(db, build); !good) return fail(good.error());
  auto row = head_row(db, build);
  if (!row) return fail(no_revision(RevisionId{}));
  return std::move(*row);
}

Result<Head> head_now(const Database& db, BuildId build) {
  const auto row = newest(db, build);
  if (!row) return fail(row.error());
  return head_of(db, *row);
}

/// Nothing is written: says what happened since `base`. `mine` is empty for undo and redo.
Result<Outcome> stale(const Database& db, const RevisionRow& now, RevisionId base,
                      const std::string& mine) {
  const auto base_row = find_row(db, number(base));
  if (!base_row || base_row->build != now.build) return fail(no_revision(base));
  const auto base_content = content_of(db, *base_row);
  if (!base_content) return fail(base_content.error());
  auto head = head_of(db, now);
  if (!head) return fail(head.error());
  const std::string base_text = base_content->text.value_or("");
  Stale why{.base = base,
            .base_text = base_text,
            .theirs = changes_between(base_text, head->text),
            .mine = mine.empty() ? Changes() : changes_between(base_text, mine),
            .both = {},
            .apart = false};
  why.both = touched_by_both(why.mine, why.theirs);
  why.apart = !mine.empty() && why.both.empty();
  return Outcome{.now = std::move(*head), .stale = std::move(why)};
}

Result<Outcome> written(const Database& db, BuildId build) {
  auto head = head_now(db, build);
  if (!head) return fail(head.error());
  return Outcome{.now = std::move(*head)};
}

/// Adds a row that shows `content` again.
void show_again(const Database& db, RevisionRow row, const RevisionRow& before,
                const RevisionRow& content) {
  const auto old = content_of(db, before);
  row.build = before.build;
  row.parent = before.id;
  row.shows = content.id;
  row.changes = pack(changes_between(old ? old->text.value_or("") : "", content.text.value_or("")));
  add_row(db, std::move(row));
}

Result<Outcome> undo_in(const Database& db, BuildId build, RevisionId base, const std::string& at) {
  const auto now = newest(db, build);
  if (!now) return fail(now.error());
  if (now->id != number(base)) return stale(db, *now, base, {});
  const auto content = content_of(db, *now);
  if (!content) return fail(content.error());
  if (!content->former) {
    return fail({.code = "nothing-to-undo", .what = "this is the build's first revision"});
  }
  const auto former = find_row(db, *content->former);
  if (!former) return fail(no_revision(RevisionId{*content->former}));
  show_again(db,
             {.beyond = now->id,
              .did = std::string(word(Did::undone)),
              .at = at,
              .what = "undo: " + content->what},
             *now, *former);
  return written(db, build);
}

Result<Outcome> redo_in(const Database& db, BuildId build, RevisionId base, const std::string& at) {
  const auto now = newest(db, build);
  if (!now) return fail(now.error());
  if (now->id != number(base)) return stale(db, *now, base, {});
  if (!now->beyond) {
    return fail({.code = "nothing-to-redo", .what = "nothing was undone last"});
  }
  const auto back = find_row(db, *now->beyond);
  if (!back) return fail(no_revision(RevisionId{*now->beyond}));
  const auto content = content_of(db, *back);
  if (!content) return fail(content.error());
  show_again(db,
             {.beyond = back->beyond,
              .did = std::string(word(Did::redone)),
              .at = at,
              .what = "redo: " + content->what},
             *now, *content);
  return written(db, build);
}

Result<Outcome> revise_in(const Database& db, BuildId build, const Edit& edit,
                          const std::string& at) {
  const auto now = newest(db, build);
  if (!now) return fail(now.error());
  if (now->id != number(edit.base)) return stale(db, *now, edit.base, edit.text);
  const auto content = content_of(db, *now);
  if (!content) return fail(content.error());
  if (content->text == edit.text) return written(db, build);
  add_row(db, {.build = now->build,
               .parent = now->id,
               .former = content->id,
               .did = std::string(word(Did::edited)),
               .at = at,
               .what = edit.what,
               .changes = pack(changes_between(content->text.value_or(""), edit.text)),
               .text = edit.text});
  return written(db, build);
}

/// A build with its first revision.
struct First {
  std::string name, note;
  std::optional<BuildId> from;
  Did did;
  std::string what, text;
  std::optional<std::string> original;
};

Result<Head> make(const Database& db, const First& first, const std::string& at) {
  tell(db, "INSERT INTO build (name, note, created, from_build) VALUES (?, ?, ?, ?)", first.name,
       first.note, at, first.from);
  const BuildId build{db.getLastInsertRowid()};
  add_row(db, {.build = number(build),
               .did = std::string(word(first.did)),
               .at = at,
               .what = first.what,
               .text = first.text,
               .original = first.original});
  return head_now(db, build);
}

Result<Head> duplicate_in(const Database& db, BuildId build, const std::string& name,
                          const std::string& at) {
  const auto now = newest(db, build);
  if (!now) return fail(now.error());
  const auto content = content_of(db, *now);
  if (!content) return fail(content.error());
  auto named = ask(db, "SELECT name FROM build WHERE id = ?", build);
  const std::string old_name = named.executeStep() ? text_at(named, 0) : std::string();
  auto head = make(db,
                   {.name = name,
                    .note = {},
                    .from = build,
                    .did = Did::copied,
                    .what = "copy of " + old_name,
                    .text = content->text.value_or(""),
                    .original = content->original},
                   at);
  if (!head) return head;
  tell(db,
       "INSERT INTO answer (build, rule, why, at, numbers) SELECT ?, rule, why, at, numbers FROM "
       "answer WHERE build = ? AND withdrawn IS NULL ORDER BY id",
       head->build, build);
  return head;
}

constexpr const char* build_rows =
    "SELECT b.id, b.name, b.note, b.created, r.at, b.archived IS NOT NULL, b.from_build, r.id "
    "FROM build b JOIN revision r ON r.id = (SELECT max(id) FROM revision WHERE build = b.id) ";

BuildRow build_row_at(const SQLite::Statement& s) {
  return {.id = id_at<BuildId>(s, 0),
          .name = text_at(s, 1),
          .note = text_at(s, 2),
          .created = text_at(s, 3),
          .changed = text_at(s, 4),
          .archived = whole_at(s, 5) != 0,
          .from = maybe_at<BuildId>(s, 6),
          .head = id_at<RevisionId>(s, 7)};
}

Result<BuildRow> build_in(const Database& db, BuildId build) {
  if (auto good = check_build(db, build); !good) return fail(good.error());
  auto s = ask(db, std::string(build_rows) + "WHERE b.id = ?", build);
  if (!s.executeStep()) return fail(no_revision(RevisionId{}));
  return build_row_at(s);
}

constexpr const char* event_columns = "id, parent, shows, did, at, what, changes";

Event event_of(const RevisionRow& row) {
  const auto maybe = [](const std::optional<std::int64_t>& id) {
    return id ? std::optional(RevisionId{*id}) : std::nullopt;
  };
  return {.id = RevisionId{row.id},
          .parent = maybe(row.parent),
          .shows = maybe(row.shows),
          .did = did_of(row.did).value_or(Did::edited),
          .at = row.at,
          .what = row.what,
          .changes = unpack(row.changes)};
}

Event event_at(const SQLite::Statement& s) {
  return event_of({.id = whole_at(s, 0),
                   .parent = maybe_at<std::int64_t>(s, 1),
                   .shows = maybe_at<std::int64_t>(s, 2),
                   .did = text_at(s, 3),
                   .at = text_at(s, 4),
                   .what = text_at(s, 5),
                   .changes = text_at(s, 6)});
}

}  // namespace

Result<void> check_words(const std::string& text, const std::string& field) {
  if (valid_utf8(text) && text.find('\0') == std::string::npos) return {};
  return fail({.code = "not-text", .what = "this is no text (UTF-8)", .field = field});
}

Result<void> check_build(const Database& db, BuildId build) {
  if (whole(db, "SELECT count(*) FROM build WHERE id = ?", build) == 1) return {};
  return fail({.code = "no-build",
               .what = "there is no such build in this garage",
               .found = std::to_string(number(build))});
}

Result<std::vector<BuildRow>> Garage::builds() const {
  return impl_->read([](const Database& db) -> Result<std::vector<BuildRow>> {
    std::vector<BuildRow> rows;
    auto s = ask(db, std::string(build_rows) + "ORDER BY r.id DESC");
    while (s.executeStep()) rows.push_back(build_row_at(s));
    return rows;
  });
}

Result<BuildRow> Garage::build(BuildId build) const {
  return impl_->read([&](const Database& db) { return build_in(db, build); });
}

Result<Head> Garage::create(const NewBuild& made) {
  const auto name = good_name(made.name);
  if (!name) return fail(name.error());
  if (auto good = check_sheet(made.text); !good) return fail(good.error());
  for (const auto& [text, field] : {std::pair(made.what, "what"), std::pair(made.note, "note")}) {
    if (auto good = check_words(text, field); !good) return fail(good.error());
  }
  const bool imported = !made.original.empty();
  if (made.original.size() > build::sheet_bytes_max) {
    return fail({.code = "not-a-sheet", .what = "a sheet has at most 1 MiB; nothing was kept"});
  }
  First first{.name = *name,
              .note = made.note,
              .from = made.from,
              .did = imported ? Did::imported : Did::made,
              .what = made.what,
              .text = made.text,
              .original = imported ? std::optional(made.original) : std::nullopt};
  if (first.what.empty()) first.what = imported ? "import" : "made";
  return impl_->write([&](const Database& db) -> Result<Head> {
    if (made.from) {
      if (auto good = check_build(db, *made.from); !good) return fail(good.error());
    }
    return make(db, first, impl_->clock());
  });
}

Result<Head> Garage::head(BuildId build) const {
  return impl_->read([&](const Database& db) { return head_now(db, build); });
}

Result<Outcome> Garage::revise(BuildId build, const Edit& edit) {
  if (auto good = check_sheet(edit.text); !good) return fail(good.error());
  if (auto good = check_words(edit.what, "what"); !good) return fail(good.error());
  return impl_->write(
      [&](const Database& db) { return revise_in(db, build, edit, impl_->clock()); });
}

Result<Outcome> Garage::undo(BuildId build, RevisionId base) {
  return impl_->write([&](const Database& db) { return undo_in(db, build, base, impl_->clock()); });
}

Result<Outcome> Garage::redo(BuildId build, RevisionId base) {
  return impl_->write([&](const Database& db) { return redo_in(db, build, base, impl_->clock()); });
}

Result<std::vector<Event>> Garage::history(BuildId build, const Page& page) const {
  return impl_->read([&](const Database& db) -> Result<std::vector<Event>> {
    if (auto good = check_build(db, build); !good) return fail(good.error());
    std::vector<Event> events;
    const std::int64_t before = page.before ? number(*page.before) : INT64_MAX;
    auto s = ask(db,
                 std::string("SELECT ") + event_columns +
                     " FROM revision WHERE build = ? AND id < ? ORDER BY id DESC LIMIT ?",
                 build, before, std::int64_t{page.count});
    while (s.executeStep()) events.push_back(event_at(s));
    return events;
  });
}

Result<Revision> Garage::revision(RevisionId revision) const {
  return impl_->read([&](const Database& db) -> Result<Revision> {
    const auto row = find_row(db, number(revision));
    if (!row) return fail(no_revision(revision));
    const auto content = content_of(db, *row);
    if (!content) return fail(content.error());
    return Revision{.build = BuildId{row->build},
                    .event = event_of(*row),
                    .text = content->text.value_or(""),
                    .original = content->original.value_or("")};
  });
}

Result<std::string> Garage::sheet_file(RevisionId revision) const {
  auto found = this->revision(revision);
  if (!found) return fail(found.error());
  return std::move(found->original.empty() ? found->text : found->original);
}

Result<Head> Garage::duplicate(BuildId build, const std::string& typed) {
  const auto name = good_name(typed);
  if (!name) return fail(name.error());
  return impl_->write(
      [&](const Database& db) { return duplicate_in(db, build, *name, impl_->clock()); });
}

Result<BuildRow> Garage::rename(BuildId build, const std::string& typed) {
  const auto name = good_name(typed);
  if (!name) return fail(name.error());
  return impl_->write([&](const Database& db) {
    tell(db, "UPDATE build SET name = ? WHERE id = ?", *name, build);
    return build_in(db, build);
  });
}

Result<BuildRow> Garage::annotate(BuildId build, const std::string& note) {
  if (auto good = check_words(note, "note"); !good) return fail(good.error());
  return impl_->write([&](const Database& db) {
    tell(db, "UPDATE build SET note = ? WHERE id = ?", note, build);
    return build_in(db, build);
  });
}

Result<BuildRow> Garage::archive(BuildId build, bool archived) {
  return impl_->write([&](const Database& db) {
    const std::optional<std::string> when = archived ? std::optional(impl_->clock()) : std::nullopt;
    tell(db, "UPDATE build SET archived = ? WHERE id = ?", when, build);
    return build_in(db, build);
  });
}

}  // namespace ww::garage
