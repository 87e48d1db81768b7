// SPDX-License-Identifier: MIT
// What is kept beside the builds' sheets: own parts, answered findings, photos, journal, settings.
#include <algorithm>
#include <charconv>
#include <cmath>

#include "base/text.h"
#include "build/library.h"
#include "garage/impl.h"

namespace ww::garage {

namespace {

using SQLite::Database;

// ---- own parts

struct PartName {
  std::string shelf, slug;
};

/// The shelf and id of the one part that the text holds.
Result<PartName> part_name(const std::string& text) {
  build::Library library;
  const Errors errors = library.add({"own part", text});
  if (!errors.empty()) return fail(errors.front());
  if (library.size() == 1) {
    for (const auto& slot : build::schema().slots()) {
      const auto& shelf = library.shelf(slot.shelf);
      if (!shelf.empty()) return PartName{std::string(slot.shelf), shelf.front().id};
    }
  }
  return fail({.code = "not-one-part",
               .what = "this text should hold one part",
               .found = std::to_string(library.size()) + " parts",
               .expected = "one table such as [[motor]]"});
}

constexpr const char* part_columns =
    "SELECT id, shelf, slug, text, came_from, created, changed, revision FROM own_part ";

OwnPart part_at(const SQLite::Statement& s) {
  return {.id = id_at<PartId>(s, 0),
          .shelf = text_at(s, 1),
          .slug = text_at(s, 2),
          .text = text_at(s, 3),
          .came_from = text_at(s, 4),
          .created = text_at(s, 5),
          .changed = text_at(s, 6),
          .revision = whole_at(s, 7)};
}

Result<OwnPart> part_in(const Database& db, PartId part) {
  auto s = ask(db, std::string(part_columns) + "WHERE id = ? AND removed IS NULL", part);
  if (s.executeStep()) return part_at(s);
  return fail({.code = "no-part",
               .what = "there is no such part of your own",
               .found = std::to_string(number(part))});
}

// ---- answers

std::string numbers_text(const std::vector<SaidFor>& numbers) {
  std::string text;
  for (const auto& said : numbers) text += said.name + '\t' + shortest(said.value) + '\n';
  return text;
}

std::vector<SaidFor> numbers_of(const std::string& text) {
  std::vector<SaidFor> numbers;
  for (const auto line : split(text, '\n')) {
    const auto tab = line.find('\t');
    if (tab == std::string_view::npos) continue;
    const auto digits = line.substr(tab + 1);
    double value = std::nan("");
    std::from_chars(digits.data(), digits.data() + digits.size(), value);
    numbers.push_back({std::string(line.substr(0, tab)), value});
  }
  return numbers;
}

bool as_before(double was, double is) {
  if (std::isnan(was) || std::isnan(is)) return std::isnan(was) && std::isnan(is);
  return was == is || std::fabs(was - is) <= 1e-6 * std::max(std::fabs(was), std::fabs(is));
}

// ---- photos

constexpr const char* photo_columns = "SELECT id, build, field, media, caption, at, length(bytes)";

PhotoRow photo_at(const SQLite::Statement& s) {
  return {.id = id_at<PhotoId>(s, 0),
          .build = id_at<BuildId>(s, 1),
          .field = maybe_at<std::string>(s, 2).value_or(""),
          .media = text_at(s, 3),
          .caption = text_at(s, 4),
          .at = text_at(s, 5),
          .size = whole_at(s, 6)};
}

Error no_photo(PhotoId photo) {
  return {
      .code = "no-photo", .what = "there is no such photo", .found = std::to_string(number(photo))};
}

Result<PhotoRow> photo_in(const Database& db, PhotoId photo) {
  auto s = ask(db, std::string(photo_columns) + " FROM photo WHERE id = ?", photo);
  if (!s.executeStep()) return fail(no_photo(photo));
  return photo_at(s);
}

/// Told by the first bytes; empty where it is none of the three.
std::string media_of(const std::string& bytes) {
  const auto at = [&](std::size_t from, std::string_view mark) {
    return bytes.compare(from, mark.size(), mark) == 0;
  };
  if (bytes.size() < 12) return {};
  if (at(0, "\xFF\xD8\xFF")) return "image/jpeg";
  if (at(0, "\x89PNG\r\n\x1A\n")) return "image/png";
  return at(0, "RIFF") && at(8, "WEBP") ? "image/webp" : "";
}

/// "steps.joint-1": a step of the work. Which steps there are hangs on the build; here only the
/// shape of a name is asked for.
bool names_a_step(const std::string& field) {
  constexpr std::string_view before = "steps.";
  if (field.size() <= before.size() || field.size() > 60 || field.rfind(before, 0) != 0)
    return false;
  return std::all_of(field.begin() + before.size(), field.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-';
  });
}

Result<void> check_field(const std::string& field) {
  const auto& schema = build::schema();
  if (field.empty() || schema.find(field) >= 0 || schema.slot(field) != nullptr ||
      names_a_step(field))
    return {};
  std::vector<std::string_view> known;
  for (const auto& entry : schema.entries()) known.emplace_back(entry.path);
  Error error{
      .code = "unknown-key", .what = "there is no such field", .field = "field", .found = field};
  error.way_out = did_you_mean(field, known);
  return fail(std::move(error));
}

Result<std::string> check_photo(const NewPhoto& photo) {
  if (photo.bytes.size() > photo_bytes_max) {
    return fail({.code = "too-large",
                 .what = "a photo has at most 12 MiB",
                 .found = fixed(static_cast<double>(photo.bytes.size()) / (1 << 20), 1) + " MiB",
                 .way_out = "Make it smaller first; 2000 pixels across are plenty"});
  }
  const std::string media = media_of(photo.bytes);
  if (media.empty()) {
    return fail({.code = "not-a-picture",
                 .what = "this is no picture that can be kept",
                 .expected = "a JPEG, PNG or WebP file"});
  }
  if (auto good = check_words(photo.caption, "caption"); !good) return fail(good.error());
  if (auto good = check_field(photo.field); !good) return fail(good.error());
  return media;
}

// ---- journal

bool is_day(const std::string& text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return false;
  int part[3] = {};
  const std::size_t from[3] = {0, 5, 8};
  const std::size_t size[3] = {4, 2, 2};
  for (std::size_t i = 0; i < 3; ++i) {
    const char* begin = text.data() + from[i];
    const auto [end, problem] = std::from_chars(begin, begin + size[i], part[i]);
    if (problem != std::errc() || end != begin + size[i]) return false;
  }
  const bool leap = (part[0] % 4 == 0 && part[0] % 100 != 0) || part[0] % 400 == 0;
  const int days[13] = {0, 31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  return part[1] >= 1 && part[1] <= 12 && part[2] >= 1 && part[2] <= days[part[1]];
}

constexpr const char* entry_columns =
    "SELECT id, build, day, written, text, money_cents, hours, revision FROM journal ";

Entry entry_at(const SQLite::Statement& s) {
  return {.id = id_at<EntryId>(s, 0),
          .build = id_at<BuildId>(s, 1),
          .day = text_at(s, 2),
          .written = text_at(s, 3),
          .text = text_at(s, 4),
          .money_cents = maybe_at<std::int64_t>(s, 5),
          .hours = maybe_at<double>(s, 6),
          .revision = whole_at(s, 7)};
}

Result<Entry> entry_in(const Database& db, EntryId entry) {
  auto s = ask(db, std::string(entry_columns) + "WHERE id = ?", entry);
  if (s.executeStep()) return entry_at(s);
  return fail({.code = "no-entry",
               .what = "there is no such entry in the journal",
               .found = std::to_string(number(entry))});
}

Result<void> check_entry(const NewEntry& entry) {
  if (trim(entry.text).empty()) {
    return fail({.code = "no-text", .what = "an entry needs a word or two", .field = "text"});
  }
  if (auto good = check_words(entry.text, "text"); !good) return fail(good.error());
  if (!entry.day.empty() && !is_day(entry.day)) {
    return fail({.code = "bad-date",
                 .what = "not a day",
                 .field = "day",
                 .found = entry.day,
                 .expected = "a day such as 2026-04-30"});
  }
  constexpr double hours_max = 10000;
  if (entry.hours && !(*entry.hours >= 0 && *entry.hours <= hours_max)) {
    return fail({.code = "out-of-range",
                 .what = "hours out of range",
                 .field = "hours",
                 .found = shortest(*entry.hours),
                 .expected = "0 to 10000"});
  }
  return {};
}

}  // namespace

bool still_holds(const Answered& answer, const std::vector<SaidFor>& now) {
  return answer.numbers.size() == now.size() &&
         std::all_of(now.begin(), now.end(), [&](const SaidFor& is) {
           return std::any_of(answer.numbers.begin(), answer.numbers.end(),
                              [&](const SaidFor& was) {
                                return was.name == is.name && as_before(was.value, is.value);
                              });
         });
}

Result<std::vector<OwnPart>> Garage::own_parts() const {
  return impl_->read([](const Database& db) -> Result<std::vector<OwnPart>> {
    std::vector<OwnPart> parts;
    auto s = ask(db, std::string(part_columns) + "WHERE removed IS NULL ORDER BY shelf, slug");
    while (s.executeStep()) parts.push_back(part_at(s));
    return parts;
  });
}

Result<OwnPart> Garage::own_part(PartId part) const {
  return impl_->read([&](const Database& db) { return part_in(db, part); });
}

Result<OwnPart> Garage::add_own_part(const std::string& text, const std::string& came_from) {
  const auto name = part_name(text);
  if (!name) return fail(name.error());
  if (auto good = check_words(came_from, "came_from"); !good) return fail(good.error());
  return impl_->write([&](const Database& db) -> Result<OwnPart> {
    if (whole(db, "SELECT count(*) FROM own_part WHERE shelf = ? AND slug = ? AND removed IS NULL",
              name->shelf, name->slug) != 0) {
      return fail({.code = "double-id",
                   .what = "you have a part with this id already",
                   .field = name->shelf,
                   .found = name->slug,
                   .way_out = "Give it another id, or change the one that is there"});
    }
    const std::string at = impl_->clock();
    tell(db,
         "INSERT INTO own_part (shelf, slug, text, came_from, created, changed, revision) VALUES "
         "(?, ?, ?, ?, ?, ?, 1)",
         name->shelf, name->slug, text, came_from, at, at);
    return part_in(db, PartId{db.getLastInsertRowid()});
  });
}

Result<PartOutcome> Garage::change_own_part(PartId part, std::int64_t base,
                                            const std::string& text) {
  const auto name = part_name(text);
  if (!name) return fail(name.error());
  return impl_->write([&](const Database& db) -> Result<PartOutcome> {
    auto now = part_in(db, part);
    if (!now) return fail(now.error());
    if (now->revision != base) return PartOutcome{.now = std::move(*now), .stale = true};
    if (now->shelf != name->shelf || now->slug != name->slug) {
      return fail({.code = "other-part",
                   .what = "this text is of another part",
                   .found = name->shelf + " " + name->slug,
                   .expected = now->shelf + " " + now->slug,
                   .way_out = "Builds name a part by its id: add a new part instead"});
    }
    tell(db, "UPDATE own_part SET text = ?, changed = ?, revision = revision + 1 WHERE id = ?",
         text, impl_->clock(), part);
    now = part_in(db, part);
    if (!now) return fail(now.error());
    return PartOutcome{.now = std::move(*now)};
  });
}

Result<PartOutcome> Garage::remove_own_part(PartId part, std::int64_t base) {
  return impl_->write([&](const Database& db) -> Result<PartOutcome> {
    auto now = part_in(db, part);
    if (!now) return fail(now.error());
    if (now->revision != base) return PartOutcome{.now = std::move(*now), .stale = true};
    tell(db, "UPDATE own_part SET removed = ?, revision = revision + 1 WHERE id = ?",
         impl_->clock(), part);
    return PartOutcome{.now = std::move(*now)};
  });
}

Result<Answered> Garage::answer_finding(BuildId build, const NewAnswer& answer) {
  if (trim(answer.why).empty()) {
    return fail({.code = "no-why",
                 .what = "an answer to a finding needs its reason",
                 .field = "why",
                 .expected = "e.g. 'measured on the bench, 2 mm free'"});
  }
  if (auto good = check_words(answer.why, "why"); !good) return fail(good.error());
  const auto plain = [](const std::string& name) {
    return !name.empty() && valid_utf8(name) &&
           std::none_of(name.begin(), name.end(), [](char c) { return c >= 0 && c < ' '; });
  };
  if (!plain(answer.rule) || !std::all_of(answer.numbers.begin(), answer.numbers.end(),
                                          [&](const SaidFor& said) { return plain(said.name); })) {
    return fail({.code = "bad-name",
                 .what = "rules and numbers have names in one line",
                 .found = answer.rule});
  }
  return impl_->write([&](const Database& db) -> Result<Answered> {
    if (auto good = check_build(db, build); !good) return fail(good.error());
    const std::string at = impl_->clock();
    tell(db, "UPDATE answer SET withdrawn = ? WHERE build = ? AND rule = ? AND withdrawn IS NULL",
         at, build, answer.rule);
    tell(db, "INSERT INTO answer (build, rule, why, at, numbers) VALUES (?, ?, ?, ?, ?)", build,
         answer.rule, answer.why, at, numbers_text(answer.numbers));
    return Answered{answer.rule, answer.why, at, answer.numbers};
  });
}

Result<void> Garage::withdraw_answer(BuildId build, const std::string& rule) {
  return impl_->write([&](const Database& db) -> Result<void> {
    if (auto good = check_build(db, build); !good) return fail(good.error());
    const int gone =
        ask(db,
            "UPDATE answer SET withdrawn = ? WHERE build = ? AND rule = ? AND withdrawn IS NULL",
            impl_->clock(), build, rule)
            .exec();
    if (gone > 0) return {};
    return fail({.code = "no-answer", .what = "nothing was said to this finding", .found = rule});
  });
}

Result<std::vector<Answered>> Garage::answers(BuildId build) const {
  return impl_->read([&](const Database& db) -> Result<std::vector<Answered>> {
    if (auto good = check_build(db, build); !good) return fail(good.error());
    std::vector<Answered> list;
    auto s = ask(db,
                 "SELECT rule, why, at, numbers FROM answer WHERE build = ? AND withdrawn IS NULL "
                 "ORDER BY rule",
                 build);
    while (s.executeStep())
      list.push_back({text_at(s, 0), text_at(s, 1), text_at(s, 2), numbers_of(text_at(s, 3))});
    return list;
  });
}

Result<PhotoRow> Garage::add_photo(BuildId build, const NewPhoto& photo) {
  const auto media = check_photo(photo);
  if (!media) return fail(media.error());
  return impl_->write([&](const Database& db) -> Result<PhotoRow> {
    if (auto good = check_build(db, build); !good) return fail(good.error());
    const std::optional<std::string> field =
        photo.field.empty() ? std::nullopt : std::optional(photo.field);
    auto s = ask(db,
                 "INSERT INTO photo (build, field, media, caption, at, bytes) VALUES (?, ?, ?, ?, "
                 "?, ?)",
                 build, field, *media, photo.caption, impl_->clock());
    s.bindNoCopy(6, photo.bytes.data(), static_cast<int>(photo.bytes.size()));
    s.exec();
    return photo_in(db, PhotoId{db.getLastInsertRowid()});
  });
}

Result<std::vector<PhotoRow>> Garage::photos(BuildId build) const {
  return impl_->read([&](const Database& db) -> Result<std::vector<PhotoRow>> {
    if (auto good = check_build(db, build); !good) return fail(good.error());
    std::vector<PhotoRow> rows;
    auto s = ask(db, std::string(photo_columns) + " FROM photo WHERE build = ? ORDER BY id", build);
    while (s.executeStep()) rows.push_back(photo_at(s));
    return rows;
  });
}

Result<Photo> Garage::photo(PhotoId photo) const {
  return impl_->read([&](const Database& db) -> Result<Photo> {
    auto s = ask(db, std::string(photo_columns) + ", bytes FROM photo WHERE id = ?", photo);
    if (!s.executeStep()) return fail(no_photo(photo));
    return Photo{.row = photo_at(s), .bytes = text_at(s, 7)};
  });
}

Result<PhotoRow> Garage::caption_photo(PhotoId photo, const std::string& caption) {
  if (auto good = check_words(caption, "caption"); !good) return fail(good.error());
  return impl_->write([&](const Database& db) {
    tell(db, "UPDATE photo SET caption = ? WHERE id = ?", caption, photo);
    return photo_in(db, photo);
  });
}

Result<void> Garage::remove_photo(PhotoId photo) {
  return impl_->write([&](const Database& db) -> Result<void> {
    if (ask(db, "DELETE FROM photo WHERE id = ?", photo).exec() == 0) return fail(no_photo(photo));
    return {};
  });
}

Result<Entry> Garage::add_entry(BuildId build, const NewEntry& entry) {
  if (auto good = check_entry(entry); !good) return fail(good.error());
  return impl_->write([&](const Database& db) -> Result<Entry> {
    if (auto good = check_build(db, build); !good) return fail(good.error());
    const std::string at = impl_->clock();
    tell(db,
         "INSERT INTO journal (build, day, written, text, money_cents, hours, revision) VALUES (?, "
         "?, ?, ?, ?, ?, 1)",
         build, entry.day.empty() ? at.substr(0, 10) : entry.day, at, entry.text, entry.money_cents,
         entry.hours);
    return entry_in(db, EntryId{db.getLastInsertRowid()});
  });
}

Result<std::vector<Entry>> Garage::journal(BuildId build) const {
  return impl_->read([&](const Database& db) -> Result<std::vector<Entry>> {
    if (auto good = check_build(db, build); !good) return fail(good.error());
    std::vector<Entry> entries;
    auto s =
        ask(db, std::string(entry_columns) + "WHERE build = ? ORDER BY day DESC, id DESC", build);
    while (s.executeStep()) entries.push_back(entry_at(s));
    return entries;
  });
}

Result<EntryOutcome> Garage::change_entry(EntryId entry, std::int64_t base,
                                          const NewEntry& changed) {
  if (auto good = check_entry(changed); !good) return fail(good.error());
  return impl_->write([&](const Database& db) -> Result<EntryOutcome> {
    auto now = entry_in(db, entry);
    if (!now) return fail(now.error());
    if (now->revision != base) return EntryOutcome{.now = std::move(*now), .stale = true};
    tell(db,
         "UPDATE journal SET day = ?, text = ?, money_cents = ?, hours = ?, revision = revision + "
         "1 WHERE id = ?",
         changed.day.empty() ? now->day : changed.day, changed.text, changed.money_cents,
         changed.hours, entry);
    now = entry_in(db, entry);
    if (!now) return fail(now.error());
    return EntryOutcome{.now = std::move(*now)};
  });
}

Result<EntryOutcome> Garage::remove_entry(EntryId entry, std::int64_t base) {
  return impl_->write([&](const Database& db) -> Result<EntryOutcome> {
    auto now = entry_in(db, entry);
    if (!now) return fail(now.error());
    if (now->revision != base) return EntryOutcome{.now = std::move(*now), .stale = true};
    tell(db, "DELETE FROM journal WHERE id = ?", entry);
    return EntryOutcome{.now = std::move(*now)};
  });
}

Result<std::optional<std::string>> Garage::setting(const std::string& key) const {
  return impl_->read([&](const Database& db) -> Result<std::optional<std::string>> {
    auto s = ask(db, "SELECT value FROM setting WHERE key = ?", key);
    if (!s.executeStep()) return std::optional<std::string>();
    return std::optional(text_at(s, 0));
  });
}

Result<void> Garage::set_setting(const std::string& key, const std::string& value) {
  for (const auto& text : {key, value}) {
    if (auto good = check_words(text, "setting"); !good) return fail(good.error());
  }
  return impl_->write([&](const Database& db) -> Result<void> {
    tell(db,
         "INSERT INTO setting (key, value) VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET value = "
         "excluded.value",
         key, value);
    return {};
  });
}

}  // namespace ww::garage
