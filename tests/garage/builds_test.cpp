// SPDX-License-Identifier: MIT
#include <thread>

#include "build/sheet.h"
#include "tests/garage/shed.h"

namespace ww::garage::shed {

namespace {

TEST(Builds, AnEditIsThereAfterReopening) {
  const Folder folder;
  RevisionId second{};
  {
    Garage garage = opened(folder.file());
    EXPECT_EQ(garage.opening().how, Opening::How::made_new);
    const Head first = got(garage.create({.name = " winter project ", .text = sheet(1400)}));
    EXPECT_FALSE(first.can_undo);
    const auto outcome =
        got(garage.revise(first.build, {first.revision, sheet(1410), "typed donor.wheelbase"}));
    EXPECT_FALSE(outcome.stale);
    second = outcome.now.revision;
    EXPECT_TRUE(outcome.now.can_undo);
    EXPECT_EQ(outcome.now.undo_what, "typed donor.wheelbase");
  }
  EXPECT_EQ(folder.names(), std::vector<std::string>{"garage.db"});  // no log left behind
  Garage garage = opened(folder.file());
  EXPECT_EQ(garage.opening().how, Opening::How::as_left);
  const auto rows = got(garage.builds());
  ASSERT_EQ(rows.size(), 1U);
  EXPECT_EQ(rows[0].name, "winter project");
  EXPECT_EQ(rows[0].head, second);
  const auto history = got(garage.history(rows[0].id));
  ASSERT_EQ(history.size(), 2U);
  EXPECT_EQ(history[0].what, "typed donor.wheelbase");
  EXPECT_EQ(history[0].changes, (Changes{{"donor.wheelbase", "1400 mm", "1410 mm"}}));
  EXPECT_EQ(history[0].parent, history[1].id);
  EXPECT_EQ(history[1].did, Did::made);
}

TEST(Builds, UndoAndRedoAreEventsOfTheHistory) {
  const Folder folder;
  Garage garage = opened(folder.file());
  Head head = got(garage.create({.name = "a", .text = sheet(1001)}));
  const BuildId build = head.build;
  for (const int i : {2, 3})
    head =
        got(garage.revise(build, {head.revision, sheet(1000 + i), "to " + std::to_string(i)})).now;
  EXPECT_EQ(code_of(garage.redo(build, head.revision)), "nothing-to-redo");
  head = got(garage.undo(build, head.revision)).now;
  EXPECT_EQ(head.text, sheet(1002));
  EXPECT_EQ(head.redo_what, "to 3");
  head = got(garage.undo(build, head.revision)).now;
  EXPECT_EQ(head.text, sheet(1001));
  EXPECT_EQ(head.redo_what, "to 2");
  EXPECT_EQ(code_of(garage.undo(build, head.revision)), "nothing-to-undo");
  head = got(garage.redo(build, head.revision)).now;
  EXPECT_EQ(head.text, sheet(1002));
  EXPECT_TRUE(head.can_redo);
  head = got(garage.redo(build, head.revision)).now;
  EXPECT_EQ(head.text, sheet(1003));
  EXPECT_FALSE(head.can_redo);
  head = got(garage.undo(build, head.revision)).now;
  head = got(garage.revise(build, {head.revision, sheet(1004), "to 4"})).now;
  EXPECT_FALSE(head.can_redo);
  head = got(garage.undo(build, head.revision)).now;
  EXPECT_EQ(head.text, sheet(1002));
  // Nothing is lost: 3 edits, 4 undos, 2 redos and the first.
  const auto history = got(garage.history(build));
  EXPECT_EQ(history.size(), 10U);
  EXPECT_EQ(history[0].what, "undo: to 4");
  EXPECT_EQ(history[0].changes, (Changes{{"donor.wheelbase", "1004 mm", "1002 mm"}}));
  EXPECT_EQ(got(garage.revision(history[0].id)).text, sheet(1002));
  EXPECT_EQ(got(garage.revision(*history[0].shows)).text, sheet(1002));
  const auto page = got(garage.history(build, {.before = history[2].id, .count = 3}));
  ASSERT_EQ(page.size(), 3U);
  EXPECT_EQ(page[0].id, history[3].id);
}

TEST(Builds, TheSameTextWritesNothing) {
  const Folder folder;
  Garage garage = opened(folder.file());
  const Head head = got(garage.create({.name = "a", .text = sheet(1)}));
  EXPECT_EQ(got(garage.revise(head.build, {head.revision, sheet(1), "x"})).now.revision,
            head.revision);
  EXPECT_EQ(got(garage.history(head.build)).size(), 1U);
}

TEST(Builds, AStaleEditIsRefusedWithAllThreeVersions) {
  const Folder folder;
  Garage garage = opened(folder.file());
  const Head base = got(garage.create({.name = "a", .text = sheet(1400, 80)}));
  const Head theirs = got(garage.revise(base.build, {base.revision, sheet(1410, 80), "t"})).now;
  const auto apart = got(garage.revise(base.build, {base.revision, sheet(1400, 85), "m"}));
  ASSERT_TRUE(apart.stale);
  EXPECT_TRUE(apart.stale->apart);
  EXPECT_EQ(apart.stale->base_text, base.text);
  EXPECT_EQ(apart.now.text, theirs.text);
  EXPECT_EQ(apart.now.revision, theirs.revision);
  EXPECT_EQ(apart.stale->theirs, (Changes{{"donor.wheelbase", "1400 mm", "1410 mm"}}));
  EXPECT_EQ(apart.stale->mine, (Changes{{"rider.mass", "80 kg", "85 kg"}}));
  const auto both = got(garage.revise(base.build, {base.revision, sheet(1420, 80), "m"}));
  ASSERT_TRUE(both.stale);
  EXPECT_FALSE(both.stale->apart);
  EXPECT_EQ(both.stale->both, std::vector<std::string>{"donor.wheelbase"});
  const auto undo = got(garage.undo(base.build, base.revision));
  ASSERT_TRUE(undo.stale);
  EXPECT_FALSE(undo.stale->apart);
  EXPECT_TRUE(got(garage.redo(base.build, base.revision)).stale);
  EXPECT_EQ(got(garage.history(base.build)).size(), 2U);
}

TEST(Builds, MistakesAreToldApart) {
  const Folder folder;
  Garage garage = opened(folder.file());
  const Head a = got(garage.create({.name = "a", .text = sheet(1)}));
  const Head b = got(garage.create({.name = "b", .text = sheet(1)}));
  EXPECT_EQ(code_of(garage.create({.name = "  ", .text = sheet(1)})), "no-name");
  EXPECT_EQ(code_of(garage.create({.name = std::string(201, 'x'), .text = sheet(1)})),
            "name-too-long");
  EXPECT_EQ(code_of(garage.create({.name = "\xFF", .text = sheet(1)})), "not-text");
  EXPECT_EQ(code_of(garage.create({.name = "c", .text = "hello"})), "not-a-sheet");
  EXPECT_EQ(code_of(garage.create({.name = "c", .text = sheet(1), .from = BuildId{99}})),
            "no-build");
  EXPECT_EQ(code_of(garage.create({.name = "c",
                                   .text = sheet(1),
                                   .original = std::string(build::sheet_bytes_max + 1, '#')})),
            "not-a-sheet");
  EXPECT_EQ(code_of(garage.revise(a.build, {b.revision, sheet(2), ""})), "no-revision");
  EXPECT_EQ(code_of(garage.revise(a.build, {RevisionId{99}, sheet(2), ""})), "no-revision");
  EXPECT_EQ(code_of(garage.revise(BuildId{99}, {a.revision, sheet(2), ""})), "no-build");
  EXPECT_EQ(code_of(garage.revise(a.build, {a.revision, "[[[", ""})), "not-a-sheet");
  EXPECT_EQ(code_of(garage.head(BuildId{99})), "no-build");
  EXPECT_EQ(code_of(garage.history(BuildId{99})), "no-build");
  EXPECT_EQ(code_of(garage.revision(RevisionId{99})), "no-revision");
  EXPECT_EQ(code_of(garage.rename(BuildId{99}, "x")), "no-build");
  EXPECT_EQ(code_of(garage.archive(BuildId{99}, true)), "no-build");
  EXPECT_EQ(code_of(garage.duplicate(BuildId{99}, "x")), "no-build");
  EXPECT_EQ(got(garage.builds()).size(), 2U);
}

TEST(Builds, VariantsNamesNotesAndTheArchive) {
  const Folder folder;
  Garage garage = opened(folder.file());
  Head first = got(garage.create({.name = "a", .text = sheet(1), .note = "the plan"}));
  first = got(garage.revise(first.build, {first.revision, sheet(2), "x"})).now;
  got(garage.answer_finding(first.build, {"tyre-load", "weighed it", {{"donor.gross_mass", 345}}}));
  got(garage.answer_finding(first.build, {"bay", "was wrong", {}}));
  ASSERT_TRUE(garage.withdraw_answer(first.build, "bay"));
  const Head copy = got(garage.duplicate(first.build, "a with a hub motor"));
  EXPECT_EQ(copy.text, sheet(2));
  EXPECT_FALSE(copy.can_undo);
  EXPECT_EQ(got(garage.answers(copy.build)).size(), 1U);
  const BuildRow row = got(garage.build(copy.build));
  EXPECT_EQ(row.from, first.build);
  EXPECT_EQ(got(garage.history(copy.build))[0].what, "copy of a");
  EXPECT_EQ(got(garage.rename(copy.build, "b")).name, "b");
  EXPECT_EQ(got(garage.annotate(copy.build, "light")).note, "light");
  EXPECT_TRUE(got(garage.archive(copy.build, true)).archived);
  EXPECT_FALSE(got(garage.archive(copy.build, false)).archived);
  EXPECT_EQ(got(garage.build(first.build)).note, "the plan");
  got(garage.revise(copy.build, {copy.revision, sheet(3), "x"}));
  EXPECT_EQ(got(garage.head(first.build)).text, sheet(2));
  EXPECT_EQ(got(garage.builds()).front().id, copy.build);  // newest change first
}

TEST(Builds, SheetsGoInAndOutWithoutLoss) {
  const Folder folder;
  Garage garage = opened(folder.file());
  const build::Library none;
  int seen = 0;
  for (const auto& entry : fs::directory_iterator(WW_SOURCE_DIR "/data/demo")) {
    const std::string file = bytes_of(entry.path().string());
    const std::string text =
        build::write_sheet(build::read_sheet({"demo", file}, none).build, none);
    Head head = got(garage.create({.name = "demo", .text = text, .original = file}));
    const BuildId build = head.build;
    EXPECT_EQ(got(garage.history(build))[0].did, Did::imported);
    EXPECT_EQ(got(garage.sheet_file(head.revision)), file);
    const Head copy = got(garage.duplicate(build, "copy"));
    EXPECT_EQ(got(garage.sheet_file(copy.revision)), file);
    head = got(garage.revise(build, {head.revision, sheet(1), "x"})).now;
    EXPECT_EQ(got(garage.sheet_file(head.revision)), sheet(1));
    head = got(garage.undo(build, head.revision)).now;
    EXPECT_EQ(head.text, text);
    EXPECT_EQ(got(garage.sheet_file(head.revision)), file);
    // What goes out comes in again as the same canonical text.
    EXPECT_EQ(build::write_sheet(build::read_sheet({"demo", file}, none).build, none), head.text);
    ++seen;
  }
  EXPECT_GE(seen, 5);
}

/// Each changes a field of its own as often as `times`; where the other was quicker, once more on
/// what is there now.
void edit_own_field(Garage& garage, BuildId build, bool wheelbase, int times) {
  Head head = got(garage.head(build));
  const auto value = [](const std::string& text, const std::string& key) {
    const auto at = text.find(key + " = \"");
    return at == std::string::npos ? 0 : std::atoi(text.c_str() + at + key.size() + 4);
  };
  for (int i = 1; i <= times;) {
    const int other = value(head.text, wheelbase ? "mass" : "wheelbase");
    const std::string text = wheelbase ? sheet(1000 + i, other) : sheet(other, 40 + i);
    const auto outcome = got(garage.revise(build, {head.revision, text, "edit"}));
    head = outcome.now;
    if (outcome.stale) {
      EXPECT_TRUE(outcome.stale->apart);
    } else {
      ++i;
    }
  }
}

TEST(Builds, TwoHandlesRaceAndNothingIsLost) {
  const Folder folder;
  Garage one = opened(folder.file());
  Garage two = opened(folder.file());
  const Head start = got(one.create({.name = "a", .text = sheet(1400, 80)}));
  constexpr int times = 60;
  std::jthread first([&] { edit_own_field(one, start.build, true, times); });
  std::jthread second([&] { edit_own_field(two, start.build, false, times); });
  first.join();
  second.join();
  EXPECT_EQ(got(one.head(start.build)).text, sheet(1000 + times, 40 + times));
  EXPECT_EQ(got(two.history(start.build, {.count = 1000})).size(), 2U * times + 1);
}

TEST(Builds, ManyThreadsOnOneHandle) {
  const Folder folder;
  Garage garage = opened(folder.file());
  std::vector<std::jthread> threads;
  for (int t = 0; t < 6; ++t) {
    threads.emplace_back([&garage, t] {
      Head head = got(garage.create({.name = std::to_string(t), .text = sheet(1)}));
      for (int i = 2; i < 20; ++i)
        head = got(garage.revise(head.build, {head.revision, sheet(i), "x"})).now;
      head = got(garage.undo(head.build, head.revision)).now;
      EXPECT_EQ(head.text, sheet(18));
      EXPECT_GE(got(garage.builds()).size(), 1U);
    });
  }
  threads.clear();
  EXPECT_EQ(got(garage.builds()).size(), 6U);
}

TEST(Builds, TwoBeginTheSameFile) {
  // A busy machine may hold one of them up for longer than the usual wait for a lock.
  const Options patient{.busy_ms = 30000};
  for (int round = 0; round < 10; ++round) {
    const Folder folder;
    std::vector<std::jthread> threads;
    for (int t = 0; t < 3; ++t) {
      threads.emplace_back([&folder, &patient] {
        Garage garage = opened(folder.file(), patient);
        EXPECT_TRUE(garage.create({.name = "a", .text = sheet(1)}).has_value());
      });
    }
    threads.clear();
    EXPECT_EQ(got(opened(folder.file()).builds()).size(), 3U);
  }
}

}  // namespace

}  // namespace ww::garage::shed
