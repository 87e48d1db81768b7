// SPDX-License-Identifier: MIT
#include "garage/revisions.h"

#include <array>
#include <bit>

namespace ww::garage {

namespace {

constexpr std::array<std::string_view, 7> did_words{"made",   "imported", "copied",   "edited",
                                                    "undone", "redone",   "recovered"};

void mix(std::uint64_t& hash, std::string_view bytes) {
  const auto one = [&](unsigned char byte) { hash = (hash ^ byte) * 0x100000001b3U; };
  for (const char c : bytes) one(static_cast<unsigned char>(c));
  one(0);
}

}  // namespace

const char* const revision_columns =
    "id, build, parent, shows, former, beyond, did, at, what, changes, text, original, sum";

std::string_view word(Did did) {
  return did_words[static_cast<std::size_t>(did)];
}

std::optional<Did> did_of(std::string_view said) {
  for (std::size_t i = 0; i < did_words.size(); ++i) {
    if (did_words[i] == said) return static_cast<Did>(i);
  }
  return std::nullopt;
}

RevisionRow row_at(const SQLite::Statement& s) {
  return {.id = whole_at(s, 0),
          .build = whole_at(s, 1),
          .parent = maybe_at<std::int64_t>(s, 2),
          .shows = maybe_at<std::int64_t>(s, 3),
          .former = maybe_at<std::int64_t>(s, 4),
          .beyond = maybe_at<std::int64_t>(s, 5),
          .did = text_at(s, 6),
          .at = text_at(s, 7),
          .what = text_at(s, 8),
          .changes = text_at(s, 9),
          .text = maybe_at<std::string>(s, 10),
          .original = maybe_at<std::string>(s, 11),
          .sum = whole_at(s, 12)};
}

std::int64_t sum_of(const RevisionRow& row) {
  std::uint64_t hash = 0xcbf29ce484222325U;
  mix(hash, std::to_string(row.id));
  mix(hash, std::to_string(row.build));
  for (const auto& id : {row.parent, row.shows, row.former, row.beyond})
    mix(hash, id ? std::to_string(*id) : std::string());
  for (const auto* text : {&row.did, &row.at, &row.what, &row.changes}) mix(hash, *text);
  mix(hash, row.text.value_or(""));
  mix(hash, row.original.value_or(""));
  return std::bit_cast<std::int64_t>(hash);
}

std::int64_t add_row(const SQLite::Database& db, RevisionRow row) {
  // Ids are never used twice: SQLite keeps the largest ever given.
  if (row.id == 0)
    row.id = 1 + whole(db, "SELECT seq FROM sqlite_sequence WHERE name = 'revision'");
  row.sum = sum_of(row);
  tell(db,
       std::string("INSERT INTO revision (") + revision_columns +
           ") VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
       row.id, row.build, row.parent, row.shows, row.former, row.beyond, row.did, row.at, row.what,
       row.changes, row.text, row.original, row.sum);
  return row.id;
}

std::optional<RevisionRow> find_row(const SQLite::Database& db, std::int64_t id) {
  auto s = ask(db, std::string("SELECT ") + revision_columns + " FROM revision WHERE id = ?", id);
  if (!s.executeStep()) return std::nullopt;
  return row_at(s);
}

std::optional<RevisionRow> head_row(const SQLite::Database& db, BuildId build) {
  auto s = ask(db,
               std::string("SELECT ") + revision_columns +
                   " FROM revision WHERE build = ? ORDER BY id DESC LIMIT 1",
               build);
  if (!s.executeStep()) return std::nullopt;
  return row_at(s);
}

}  // namespace ww::garage
