// SPDX-License-Identifier: MIT
// How a file is looked over when it is opened: older forms, strangers, and every kind of damage.
#include <map>
#include <random>

#include "garage/revisions.h"
#include "garage/schema.h"
#include "tests/garage/shed.h"

namespace ww::garage::shed {

namespace {

using SQLite::Database;

constexpr int read_write = 0x2, create = 0x4;  // SQLite's own numbers

/// A file in the first form, written as the first program would have.
void write_form_1(const std::string& path) {
  Database db(path, read_write | create);
  db.exec("BEGIN");
  db.exec(std::string(migrations()[0]));
  db.exec("PRAGMA application_id = " + std::to_string(application_id));
  db.exec("PRAGMA user_version = 1");
  tell(db, "INSERT INTO build (name, created) VALUES ('old', '2025-01-01T00:00:00Z')");
  add_row(db, {.build = 1, .did = "made", .at = "2025-01-01", .what = "made", .text = sheet(1400)});
  add_row(db, {.build = 1,
               .parent = 1,
               .former = 1,
               .did = "edited",
               .at = "2025-01-02",
               .what = "typed donor.wheelbase",
               .changes = "donor.wheelbase\t1400 mm\t1410 mm\n",
               .text = sheet(1410)});
  tell(db,
       "INSERT INTO answer (build, rule, why, at, numbers) VALUES (1, 'bay', 'tried', '2025', '')");
  db.exec("COMMIT");
}

std::int64_t version_of(const std::string& path) {
  const Database db(path);
  return whole(db, "PRAGMA user_version");
}

TEST(Opening, BringsAnOlderFormUpToDate) {
  const Folder folder;
  write_form_1(folder.file());
  std::string copy;
  {
    Garage garage = opened(folder.file());
    EXPECT_EQ(garage.opening().how, Opening::How::brought_up_to_date);
    EXPECT_EQ(garage.opening().notices.size(), 1U);
    copy = garage.opening().copy_before;
    Head head = got(garage.head(BuildId{1}));
    EXPECT_EQ(head.text, sheet(1410));
    head = got(garage.undo(BuildId{1}, head.revision)).now;
    EXPECT_EQ(head.text, sheet(1400));
    EXPECT_EQ(got(garage.answers(BuildId{1})).size(), 1U);
    EXPECT_EQ(got(garage.builds())[0].note, "");
    EXPECT_TRUE(garage.add_photo(BuildId{1}, {picture()}));
    EXPECT_TRUE(garage.add_entry(BuildId{1}, {.text = "x"}));
    EXPECT_TRUE(garage.set_setting("units", "metric"));
  }
  EXPECT_EQ(version_of(folder.file()), form_version);
  EXPECT_EQ(version_of(copy), 1);
  EXPECT_EQ(opened(folder.file()).opening().how, Opening::How::as_left);
}

TEST(Opening, EveryFormHasAWayToTheNext) {
  EXPECT_EQ(migrations().size(), static_cast<std::size_t>(form_version));
}

TEST(Opening, SaysWhatColumnsThereAre) {
  const Folder folder;
  opened(folder.file());
  const Database db(folder.file());
  std::size_t known = 0;
  for (const auto& table : tables()) {
    std::vector<std::string> columns;
    auto s = ask(db, "SELECT name FROM pragma_table_info('" + std::string(table.name) + "')");
    while (s.executeStep()) columns.push_back(text_at(s, 0));
    std::vector<std::string> listed(table.columns.begin(), table.columns.end());
    std::sort(columns.begin(), columns.end());
    std::sort(listed.begin(), listed.end());
    EXPECT_EQ(columns, listed) << table.name;
    ++known;
  }
  EXPECT_EQ(whole(db,
                  "SELECT count(*) FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE "
                  "'sqlite_%'"),
            static_cast<std::int64_t>(known));
}

TEST(Opening, RevisionsAreOnlyEverAdded) {
  const Folder folder;
  {
    Garage garage = opened(folder.file());
    got(garage.create({.name = "a", .text = sheet(1)}));
  }
  Database db(folder.file(), read_write);
  EXPECT_THROW(db.exec("UPDATE revision SET what = 'other'"), SQLite::Exception);
  EXPECT_THROW(db.exec("DELETE FROM revision"), SQLite::Exception);
}

TEST(Opening, RefusesANewerFormAndLeavesItAlone) {
  const Folder folder;
  {
    Garage garage = opened(folder.file());
    got(garage.create({.name = "a", .text = sheet(1)}));
  }
  {
    Database db(folder.file(), read_write);
    db.exec("PRAGMA user_version = 3");
  }
  const std::string before = bytes_of(folder.file());
  const auto refused = Garage::open(folder.file(), ticking());
  EXPECT_EQ(code_of(refused), "newer-form");
  EXPECT_FALSE(refused.error().way_out.empty());
  EXPECT_TRUE(bytes_of(folder.file()) == before);
}

TEST(Opening, RefusesAnotherProgramsDatabase) {
  const Folder folder;
  {
    Database db(folder.file(), read_write | create);
    db.exec("CREATE TABLE bookmark (url TEXT)");
  }
  const std::string before = bytes_of(folder.file());
  EXPECT_EQ(code_of(Garage::open(folder.file(), ticking())), "not-a-garage");
  EXPECT_TRUE(bytes_of(folder.file()) == before);
}

TEST(Opening, ATextIsSetAsideOrRefusedAsTheCallerWants) {
  const Folder folder;
  put_bytes(folder.file(), "wattwright = 1\n");
  EXPECT_EQ(code_of(Garage::open(folder.file(), ticking(), {.stranger = Stranger::refuse})),
            "not-a-garage");
  EXPECT_EQ(bytes_of(folder.file()), "wattwright = 1\n");
  const Garage garage = opened(folder.file());
  EXPECT_EQ(garage.opening().how, Opening::How::salvaged);
  EXPECT_EQ(bytes_of(garage.opening().set_aside), "wattwright = 1\n");
  EXPECT_EQ(garage.opening().notices.size(), 2U);
}

TEST(Opening, PlacesThatCannotHoldAGarage) {
  const Folder folder;
  EXPECT_EQ(code_of(Garage::open(folder.file("no/such/garage.db"), ticking())), "no-folder");
  fs::create_directory(folder.file("d"));
  EXPECT_EQ(code_of(Garage::open(folder.file("d"), ticking())), "not-a-garage");
}

TEST(Opening, AnEmptyFileIsBegunIn) {
  const Folder folder;
  put_bytes(folder.file(), "");
  const Garage garage = opened(folder.file());
  EXPECT_EQ(garage.opening().how, Opening::How::made_new);
  EXPECT_EQ(garage.opening().notices.size(), 1U);
}

TEST(Opening, AnotherProgramsLockIsToldAfterAWait) {
  const Folder folder;
  Garage garage = Garage::open(folder.file(), ticking(), {.busy_ms = 20}).value();
  const Head head = got(garage.create({.name = "a", .text = sheet(1)}));
  Database other(folder.file(), read_write);
  other.exec("BEGIN IMMEDIATE");
  EXPECT_EQ(code_of(garage.revise(head.build, {head.revision, sheet(2), "x"})), "locked");
  EXPECT_EQ(got(garage.head(head.build)).text, sheet(1));  // reading goes on
  other.exec("ROLLBACK");
  EXPECT_TRUE(garage.revise(head.build, {head.revision, sheet(2), "x"}));
}

// ---- damage

using Texts = std::map<std::int64_t, std::string>;

/// Some builds with a long history, a photo of many pages and a journal.
Texts fill(Garage& garage, int builds = 4, int edits = 40) {
  Texts texts;
  for (int b = 0; b < builds; ++b) {
    Head head = got(garage.create({.name = "build " + std::to_string(b), .text = sheet(1400 + b)}));
    texts[number(head.revision)] = head.text;
    for (int i = 0; i < edits; ++i) {
      const auto done =
          i % 7 == 6 ? garage.undo(head.build, head.revision)
                     : garage.revise(head.build, {head.revision, sheet(1000 + i, 40 + b), "x"});
      head = got(done).now;
      texts[number(head.revision)] = head.text;
    }
    got(garage.add_photo(head.build, {picture(20000)}));
    got(garage.add_entry(head.build, {.text = "entry"}));
  }
  return texts;
}

struct Sound {
  std::string file;  ///< bytes
  Texts texts;
};

const Sound& sound() {
  static const Sound made = [] {
    const Folder folder(in_memory());
    Sound s;
    {
      Garage garage = opened(folder.file());
      s.texts = fill(garage);
    }
    s.file = bytes_of(folder.file());
    return s;
  }();
  return made;
}

struct Tried {
  std::string how;
  int kept = 0;
};

/// Opens a file with these bytes. Whatever comes of it: the bytes are still there under one name or
/// another, and no revision says anything it did not say before.
Tried try_bytes(const std::string& bytes, const Texts& texts, const std::string& log = {}) {
  const Folder folder(in_memory());
  put_bytes(folder.file(), bytes);
  if (!log.empty()) put_bytes(folder.file() + "-wal", log);
  auto garage = Garage::open(folder.file(), ticking());
  if (!garage) {
    EXPECT_TRUE(garage.error().code == "newer-form" || garage.error().code == "not-a-garage")
        << garage.error().code;
    EXPECT_TRUE(bytes_of(folder.file()) == bytes);
    return {garage.error().code};
  }
  Tried tried{"as left"};
  if (garage->opening().how == Opening::How::salvaged) {
    tried.how = "salvaged";
    EXPECT_TRUE(bytes_of(garage->opening().set_aside) == bytes);
    if (!log.empty()) {
      EXPECT_TRUE(bytes_of(garage->opening().set_aside + "-wal") == log);
    }
    EXPECT_EQ(garage->opening().notices.size(), 2U);
  }
  for (const auto& row : got(garage->builds())) {
    for (const auto& event : got(garage->history(row.id, {.count = 1000}))) {
      const auto text = got(garage->revision(event.id)).text;
      const auto was = texts.find(number(event.id));
      if (event.did == Did::recovered) continue;
      EXPECT_TRUE(was != texts.end() && text == was->second) << number(event.id);
      ++tried.kept;
    }
    // It can be worked on.
    const Head head = got(garage->head(row.id));
    EXPECT_EQ(code_of(garage->revise(row.id, {head.revision, sheet(1700), "x"})), "no error");
  }
  EXPECT_EQ(code_of(garage->create({.name = "new", .text = sheet(1)})), "no error");
  return tried;
}

TEST(Damage, FlippedBits) {
  std::mt19937 random(7);
  std::map<std::string, int> seen;
  for (int round = 0; round < 150; ++round) {
    std::string bytes = sound().file;
    for (int i = 0; i < 1 + round % 4; ++i) {
      char& byte = bytes[random() % bytes.size()];
      byte = static_cast<char>(byte ^ (1 << random() % 8));
    }
    ++seen[try_bytes(bytes, sound().texts).how];
  }
  EXPECT_GT(seen["salvaged"], 20);
}

TEST(Damage, EveryByteOfTheHeading) {
  std::mt19937 random(8);
  for (std::size_t i = 0; i < 100; ++i) {
    std::string bytes = sound().file;
    bytes[i] = static_cast<char>(bytes[i] ^ (1 + random() % 255));
    SCOPED_TRACE(i);
    try_bytes(bytes, sound().texts);
  }
}

TEST(Damage, OverwrittenPages) {
  std::mt19937 random(9);
  const std::size_t pages = sound().file.size() / 4096;
  const int all = static_cast<int>(sound().texts.size());
  int most = 0;
  for (std::size_t page = 0; page < pages; ++page) {
    std::string bytes = sound().file;
    for (std::size_t i = 0; i < 4096; ++i)
      bytes[page * 4096 + i] = page % 2 == 0 ? '\0' : static_cast<char>(random());
    const Tried tried = try_bytes(bytes, sound().texts);
    if (tried.how == "salvaged") most = std::max(most, tried.kept);
    // Without the first page the list of tables is put back from a fresh file.
    if (page == 0) {
      EXPECT_EQ(tried.kept, all);
    }
  }
  EXPECT_GT(most, all / 2);
}

TEST(Damage, Truncated) {
  int most = 0;
  for (std::size_t part = 1; part < 24; ++part) {
    const Tried tried =
        try_bytes(sound().file.substr(0, sound().file.size() * part / 24), sound().texts);
    EXPECT_EQ(tried.how, "salvaged");
    most = std::max(most, tried.kept);
  }
  EXPECT_GT(most, static_cast<int>(sound().texts.size()) / 2);
}

TEST(Damage, RandomBytesAndRandomText) {
  std::mt19937 random(10);
  for (std::size_t size : {1U, 15U, 16U, 100U, 4096U, 5000U, 40000U}) {
    std::string bytes(size, '\0');
    for (char& byte : bytes) byte = static_cast<char>(random());
    EXPECT_EQ(try_bytes(bytes, {}).how, "salvaged");
    for (char& byte : bytes) byte = static_cast<char>('a' + random() % 26);
    EXPECT_EQ(try_bytes(bytes, {}).how, "salvaged");
    EXPECT_EQ(try_bytes(std::string(size, '\0'), {}).how, "salvaged");
    std::string headed = "SQLite format 3" + std::string(1, '\0') + bytes;
    EXPECT_EQ(try_bytes(headed, {}).how, "salvaged");
  }
}

TEST(Damage, WithTheLogStillBesideIt) {
  const Folder folder(in_memory());
  Garage garage = opened(folder.file());
  const Texts texts = fill(garage, 2, 20);
  const std::string file = bytes_of(folder.file());
  const std::string log = bytes_of(folder.file() + "-wal");
  ASSERT_FALSE(log.empty());
  EXPECT_EQ(try_bytes(file, texts, log).kept, static_cast<int>(texts.size()));
  // A torn log is no damage: what it does not hold was never acknowledged, or is not this test's.
  std::mt19937 random(11);
  for (int round = 0; round < 40; ++round) {
    std::string bad_file = file;
    std::string bad_log = log;
    std::string& bad = round % 2 == 0 ? bad_file : bad_log;
    bad[random() % bad.size()] ^= 0x10;
    try_bytes(bad_file, texts, bad_log);
  }
  EXPECT_EQ(try_bytes("", texts, log).how, "salvaged");
}

TEST(Damage, ALogWithoutItsFileIsKept) {
  const Folder folder;
  put_bytes(folder.file() + "-wal", "what was written last");
  const Garage garage = opened(folder.file());
  EXPECT_EQ(garage.opening().how, Opening::How::made_new);
  EXPECT_EQ(bytes_of(garage.opening().set_aside), "what was written last");
  ASSERT_EQ(garage.opening().notices.size(), 1U);
}

TEST(Damage, AnAlteredTextIsNoticed) {
  std::string bytes = sound().file;
  const auto at = bytes.find("1402 mm");
  ASSERT_NE(at, std::string::npos);
  bytes[at + 3] = '9';
  const Tried tried = try_bytes(bytes, sound().texts);
  EXPECT_EQ(tried.how, "salvaged");
  EXPECT_GE(tried.kept, static_cast<int>(sound().texts.size()) - 8);
}

TEST(Damage, PhotosJournalPartsAndAnswersAreSalvagedToo) {
  const Folder folder(in_memory());
  {
    Garage garage = opened(folder.file());
    const Head head = got(garage.create({.name = "a", .text = sheet(1), .note = "n"}));
    got(garage.add_photo(head.build, {picture(9000), "the bay"}));
    got(garage.add_entry(head.build, {.text = "entry", .money_cents = 5, .hours = 0.5}));
    got(garage.add_own_part("[[motor]]\nid = \"m\"\n", "from"));
    got(garage.answer_finding(head.build, {"bay", "tried", {{"a", 1}}}));
    ASSERT_TRUE(garage.set_setting("units", "metric"));
  }
  std::string bytes = bytes_of(folder.file());
  std::fill(bytes.begin(), bytes.begin() + 4096, '\0');
  put_bytes(folder.file(), bytes);
  Garage garage = opened(folder.file());
  EXPECT_EQ(garage.opening().how, Opening::How::salvaged);
  EXPECT_EQ(garage.opening().revisions_lost, 0);
  const BuildRow row = got(garage.builds()).at(0);
  EXPECT_EQ(row.note, "n");
  EXPECT_EQ(got(garage.photo(got(garage.photos(row.id)).at(0).id)).bytes, picture(9000));
  EXPECT_EQ(got(garage.journal(row.id)).at(0).hours, 0.5);
  EXPECT_EQ(got(garage.own_parts()).at(0).slug, "m");
  EXPECT_EQ(got(garage.answers(row.id)).at(0).why, "tried");
  EXPECT_EQ(got(garage.setting("units")), "metric");
}

TEST(Damage, AnOlderFormIsSalvagedIntoTheNewOne) {
  const Folder folder;
  write_form_1(folder.file());
  {
    Database db(folder.file(), read_write);
    db.exec("DROP TABLE own_part");
  }
  Garage garage = opened(folder.file());
  EXPECT_EQ(garage.opening().how, Opening::How::salvaged);
  EXPECT_EQ(got(garage.head(BuildId{1})).text, sheet(1410));
}

TEST(Damage, RowsThatBelongToNothingComeUnderANewBuild) {
  const Folder folder;
  {
    Garage garage = opened(folder.file());
    const Head a = got(garage.create({.name = "a", .text = sheet(1)}));
    const Head b = got(garage.create({.name = "b", .text = sheet(2)}));
    got(garage.add_entry(a.build, {.text = "kept"}));
    got(garage.revise(b.build, {b.revision, sheet(3), "x"}));
  }
  {
    Database db(folder.file(), read_write);
    db.exec(
        "PRAGMA foreign_keys = OFF; DELETE FROM build; DROP TRIGGER revision_is_kept; "
        "DELETE FROM revision WHERE build = 1 OR id = 2");
  }
  Garage garage = opened(folder.file());
  EXPECT_EQ(garage.opening().how, Opening::How::salvaged);
  EXPECT_EQ(garage.opening().revisions_kept, 1);
  EXPECT_EQ(garage.opening().revisions_lost, 2);
  const Head first = got(garage.head(BuildId{1}));
  EXPECT_EQ(first.text, "wattwright = 1\n");
  EXPECT_EQ(got(garage.journal(BuildId{1})).at(0).text, "kept");
  const Head second = got(garage.head(BuildId{2}));
  EXPECT_EQ(second.text, sheet(3));
  EXPECT_FALSE(second.can_undo);
  EXPECT_EQ(got(garage.build(BuildId{2})).name, "recovered build 2");
}

TEST(Damage, AChangeOfPlacesThatWasCutOffIsFinished) {
  const Folder folder;
  {
    Garage garage = opened(folder.file());
    got(garage.create({.name = "a", .text = sheet(1)}));
  }
  fs::rename(folder.file(), folder.file() + ".salvaged");
  put_bytes(folder.file() + "-wal", "of the damaged one");
  Garage garage = opened(folder.file());
  EXPECT_EQ(garage.opening().how, Opening::How::salvaged);
  EXPECT_EQ(got(garage.builds()).size(), 1U);
  EXPECT_EQ(bytes_of(garage.opening().set_aside + "-wal"), "of the damaged one");
}

}  // namespace

}  // namespace ww::garage::shed
