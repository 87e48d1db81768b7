// SPDX-License-Identifier: MIT
// Full, protected and broken disks: what was acknowledged is kept, what was not is told in words.
#include "garage/schema.h"
#include "garage/sql.h"
#include "tests/garage/faulty_disk.h"
#include "tests/garage/shed.h"

namespace ww::garage::shed {

namespace {

struct Fault {
  const char* name;
  int code;
  const char* told;
};

class Faults : public testing::TestWithParam<Fault> {
 protected:
  void TearDown() override { FaultyDisk::get().heal(); }
  static Options on_faulty_disk() { return {.busy_ms = 50, .vfs = FaultyDisk::name}; }

  /// The words that the builder gets.
  static void expect_told(const Error& error) {
    EXPECT_EQ(error.code, GetParam().told) << describe(error);
    EXPECT_NE(error.what.find("nothing of this was written"), std::string::npos) << error.what;
    EXPECT_FALSE(error.way_out.empty());
    EXPECT_FALSE(error.file.empty());
  }
};

INSTANTIATE_TEST_SUITE_P(Each, Faults,
                         testing::Values(Fault{"full", SQLITE_FULL, "disk-full"},
                                         Fault{"protected", SQLITE_READONLY, "read-only"},
                                         Fault{"broken", SQLITE_IOERR_WRITE, "disk-error"},
                                         Fault{"unsynced", SQLITE_IOERR_FSYNC, "disk-error"}),
                         [](const auto& p) { return std::string(p.param.name); });

TEST(FaultyDisks, EveryChangeIsSyncedBeforeItIsAcknowledged) {
  const Folder folder(in_memory());
  const FaultyDisk& disk = FaultyDisk::get();
  Garage garage = opened(folder.file(), {.vfs = FaultyDisk::name});
  Head head = got(garage.create({.name = "a", .text = sheet(1)}));
  for (int i = 0; i < 20; ++i) {
    const long before = disk.syncs();
    head = got(garage.revise(head.build, {head.revision, sheet(1000 + i), "x"})).now;
    EXPECT_GT(disk.syncs(), before);
  }
}

TEST_P(Faults, NothingAcknowledgedIsLost) {
  FaultyDisk& disk = FaultyDisk::get();
  int failures = 0;
  for (long good = 0; good < 60; ++good) {
    SCOPED_TRACE(good);
    const Folder folder(in_memory());
    std::vector<std::pair<RevisionId, std::string>> acknowledged;
    BuildId build{};
    {
      Garage garage = opened(folder.file(), on_faulty_disk());
      Head head = got(garage.create({.name = "a", .text = sheet(1400)}));
      build = head.build;
      acknowledged.emplace_back(head.revision, head.text);
      disk.fail_after(good, GetParam().code);
      for (int i = 0; i < 14; ++i) {
        auto done = i % 5 == 4 && head.can_undo
                        ? garage.undo(build, head.revision)
                        : garage.revise(build, {head.revision, sheet(1000 + i), "x"});
        if (done) {
          EXPECT_FALSE(done->stale);
          head = done->now;
          acknowledged.emplace_back(head.revision, head.text);
        } else {
          expect_told(done.error());
          ++failures;
        }
        EXPECT_EQ(got(garage.head(build)).revision, head.revision);
      }
      disk.heal();
      // Once there is room again work goes on, on the same handle.
      head = got(garage.revise(build, {head.revision, sheet(1900), "after"})).now;
      acknowledged.emplace_back(head.revision, head.text);
    }
    Garage again = opened(folder.file());
    EXPECT_EQ(again.opening().how, Opening::How::as_left);
    for (const auto& [id, text] : acknowledged) EXPECT_EQ(got(again.revision(id)).text, text);
    EXPECT_EQ(got(again.history(build)).size(), acknowledged.size());
  }
  EXPECT_GT(failures, 100);
}

TEST_P(Faults, AlsoWhereTheProgramEndsWithTheDiskStillBad) {
  FaultyDisk& disk = FaultyDisk::get();
  for (long good = 0; good < 60; ++good) {
    SCOPED_TRACE(good);
    const Folder folder(in_memory());
    Head head{};
    {
      Garage garage = opened(folder.file(), on_faulty_disk());
      head = got(garage.create({.name = "a", .text = sheet(1400)}));
      disk.fail_after(good, GetParam().code);
      for (int i = 0; i < 8; ++i) {
        auto done = garage.revise(head.build, {head.revision, sheet(1000 + i), "x"});
        if (done) head = done->now;
      }
    }  // closing wants to write, too
    disk.heal();
    Garage again = opened(folder.file());
    EXPECT_EQ(again.opening().how, Opening::How::as_left);
    EXPECT_EQ(got(again.revision(head.revision)).text, head.text);
    // An edit whose commit failed may turn up: it was written, only not acknowledged.
    EXPECT_LE(number(got(again.head(head.build)).revision), number(head.revision) + 1);
  }
}

TEST_P(Faults, BeginningAGarage) {
  FaultyDisk& disk = FaultyDisk::get();
  int refused = 0;
  for (long good = 0; good < 60; ++good) {
    SCOPED_TRACE(good);
    const Folder folder(in_memory());
    disk.fail_after(good, GetParam().code);
    auto garage = Garage::open(folder.file(), ticking(), on_faulty_disk());
    if (!garage) {
      expect_told(garage.error());
      ++refused;
    }
    disk.heal();
    Garage again = opened(folder.file());
    EXPECT_TRUE(again.opening().set_aside.empty());
    EXPECT_TRUE(again.create({.name = "a", .text = sheet(1)}));
  }
  EXPECT_GT(refused, 10);
}

TEST_P(Faults, PhotosAndBackups) {
  FaultyDisk& disk = FaultyDisk::get();
  const Folder folder(in_memory());
  Garage garage = opened(folder.file(), on_faulty_disk());
  const Head head = got(garage.create({.name = "a", .text = sheet(1)}));
  const std::string to = folder.file("backup.db");
  ASSERT_TRUE(garage.backup(to));
  int photos = 0;
  for (long good = 0; good < 40; ++good) {
    SCOPED_TRACE(good);
    disk.fail_after(good, GetParam().code);
    if (garage.add_photo(head.build, {picture(60000)})) ++photos;
    const std::string before = bytes_of(to);
    const auto backup = garage.backup(to);
    disk.heal();
    EXPECT_EQ(got(garage.photos(head.build)).size(), static_cast<std::size_t>(photos));
    EXPECT_FALSE(fs::exists(to + ".part"));
    // The earlier backup stays until the new one is complete.
    if (!backup) {
      EXPECT_TRUE(bytes_of(to) == before);
    }
    put_bytes(folder.file("look.db"), bytes_of(to));
    EXPECT_EQ(opened(folder.file("look.db")).opening().how, Opening::How::as_left);
  }
}

TEST_P(Faults, DuringAnUpdateOfTheForm) {
  FaultyDisk& disk = FaultyDisk::get();
  int refused = 0;
  for (long good = 0; good < 70; ++good) {
    SCOPED_TRACE(good);
    const Folder folder(in_memory());
    {
      SQLite::Database db(folder.file(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
      db.exec(std::string(migrations()[0]));
      db.exec("PRAGMA application_id = " + std::to_string(application_id));
      db.exec("PRAGMA user_version = 1");
    }
    disk.fail_after(good, GetParam().code);
    auto garage = Garage::open(folder.file(), ticking(), on_faulty_disk());
    if (!garage) {
      expect_told(garage.error());
      ++refused;
    }
    disk.heal();
    Garage again = opened(folder.file());
    EXPECT_TRUE(again.opening().set_aside.empty());
    EXPECT_TRUE(again.create({.name = "a", .text = sheet(1), .note = "n"}));
  }
  EXPECT_GT(refused, 10);
}

TEST_P(Faults, WhileSalvaging) {
  FaultyDisk& disk = FaultyDisk::get();
  const Folder whole(in_memory());
  Head head{};
  {
    Garage garage = opened(whole.file());
    head = got(garage.create({.name = "a", .text = sheet(1)}));
    for (int i = 0; i < 10; ++i)
      head = got(garage.revise(head.build, {head.revision, sheet(1000 + i), "x"})).now;
  }
  std::string bytes = bytes_of(whole.file());
  std::fill(bytes.begin(), bytes.begin() + 4096, '\0');
  int refused = 0;
  for (long good = 0; good < 70; ++good) {
    SCOPED_TRACE(good);
    const Folder folder(in_memory());
    put_bytes(folder.file(), bytes);
    disk.fail_after(good, GetParam().code);
    {
      auto garage = Garage::open(folder.file(), ticking(), on_faulty_disk());
      if (!garage) {
        expect_told(garage.error());
        ++refused;
      }
    }
    disk.heal();
    // Either nothing has happened yet, or it is done: the damaged bytes are there in any case.
    std::string aside;
    for (const auto& name : folder.names()) {
      if (bytes_of(folder.file(name)) == bytes) aside = name;
    }
    EXPECT_FALSE(aside.empty());
    Garage again = opened(folder.file());
    EXPECT_EQ(got(again.head(head.build)).text, head.text);
  }
  EXPECT_GT(refused, 10);
}

}  // namespace

}  // namespace ww::garage::shed
