// SPDX-License-Identifier: MIT
#include <atomic>
#include <cmath>
#include <thread>

#include "tests/garage/shed.h"

namespace ww::garage::shed {

namespace {

const std::string my_motor = "[[motor]]\nid = \"my-motor\"\nname = \"from the neighbour\"\n";

struct Kept {
  Folder folder;
  Garage garage = opened(folder.file());
  BuildId build = got(garage.create({.name = "a", .text = sheet(1)})).build;
};

TEST(OwnParts, AddedChangedTakenAwayAndAddedAgain) {
  Kept kept;
  Garage& garage = kept.garage;
  const OwnPart part = got(garage.add_own_part(my_motor, "a listing"));
  EXPECT_EQ(part.shelf, "motor");
  EXPECT_EQ(part.slug, "my-motor");
  EXPECT_EQ(part.came_from, "a listing");
  EXPECT_EQ(code_of(garage.add_own_part(my_motor, "")), "double-id");
  const std::string better = my_motor + "mass = \"17 kg\"\n";
  const auto changed = got(garage.change_own_part(part.id, part.revision, better));
  EXPECT_FALSE(changed.stale);
  EXPECT_EQ(changed.now.text, better);
  const auto late = got(garage.change_own_part(part.id, part.revision, my_motor));
  EXPECT_TRUE(late.stale);
  EXPECT_EQ(late.now.text, better);
  EXPECT_TRUE(got(garage.remove_own_part(part.id, part.revision)).stale);
  EXPECT_EQ(got(garage.own_part(part.id)).text, better);
  EXPECT_FALSE(got(garage.remove_own_part(part.id, changed.now.revision)).stale);
  EXPECT_EQ(code_of(garage.own_part(part.id)), "no-part");
  EXPECT_TRUE(got(garage.own_parts()).empty());
  EXPECT_NE(got(garage.add_own_part(my_motor, "")).id, part.id);
}

TEST(OwnParts, OnlyOneSoundPartAText) {
  Kept kept;
  Garage& garage = kept.garage;
  EXPECT_EQ(code_of(garage.add_own_part("", "")), "not-one-part");
  EXPECT_EQ(code_of(garage.add_own_part(my_motor + "[[cell]]\nid = \"c\"\n", "")), "not-one-part");
  EXPECT_EQ(code_of(garage.add_own_part(my_motor + "mass = \"17 kgs\"\n", "")), "unknown-unit");
  EXPECT_EQ(code_of(garage.add_own_part("[[wings]]\nid = \"c\"\n", "")), "unknown-shelf");
  const OwnPart part = got(garage.add_own_part(my_motor, ""));
  EXPECT_EQ(code_of(garage.change_own_part(part.id, 1, "[[motor]]\nid = \"other\"\n")),
            "other-part");
  EXPECT_EQ(code_of(garage.change_own_part(PartId{99}, 1, my_motor)), "no-part");
  EXPECT_EQ(code_of(garage.remove_own_part(PartId{99}, 1)), "no-part");
}

TEST(Answers, StandForTheirNumbersOnly) {
  Kept kept;
  Garage& garage = kept.garage;
  const std::vector<SaidFor> numbers{
      {"donor.chainline", 0.048}, {"motor.chainline", 1.0 / 3}, {"gearing.offset", std::nan("")}};
  got(garage.answer_finding(kept.build, {"chainline", "shimmed it", numbers}));
  const auto answers = got(garage.answers(kept.build));
  ASSERT_EQ(answers.size(), 1U);
  EXPECT_EQ(answers[0].why, "shimmed it");
  EXPECT_EQ(answers[0].numbers[1].value, 1.0 / 3);
  EXPECT_TRUE(still_holds(answers[0], numbers));
  EXPECT_TRUE(still_holds(answers[0], {numbers[2], numbers[0], numbers[1]}));
  auto other = numbers;
  other[0].value = 0.0481;
  EXPECT_FALSE(still_holds(answers[0], other));
  other[0].value = 0.048 * (1 + 1e-9);
  EXPECT_TRUE(still_holds(answers[0], other));
  other[2].value = 0;
  EXPECT_FALSE(still_holds(answers[0], other));
  EXPECT_FALSE(still_holds(answers[0], {numbers[0], numbers[1]}));
  other = numbers;
  other[1].name = "motor.mass";
  EXPECT_FALSE(still_holds(answers[0], other));
}

TEST(Answers, ReplacedAndWithdrawn) {
  Kept kept;
  Garage& garage = kept.garage;
  got(garage.answer_finding(kept.build, {"chainline", "first", {}}));
  got(garage.answer_finding(kept.build, {"chainline", "second", {}}));
  got(garage.answer_finding(kept.build, {"bay", "third", {}}));
  const auto answers = got(garage.answers(kept.build));
  ASSERT_EQ(answers.size(), 2U);
  EXPECT_EQ(answers[1].why, "second");
  EXPECT_TRUE(garage.withdraw_answer(kept.build, "chainline"));
  EXPECT_EQ(code_of(garage.withdraw_answer(kept.build, "chainline")), "no-answer");
  EXPECT_EQ(got(garage.answers(kept.build)).size(), 1U);
  EXPECT_EQ(code_of(garage.answer_finding(kept.build, {"bay", " \n", {}})), "no-why");
  EXPECT_EQ(code_of(garage.answer_finding(kept.build, {"", "x", {}})), "bad-name");
  EXPECT_EQ(code_of(garage.answer_finding(kept.build, {"bay", "x", {{"a\tb", 1}}})), "bad-name");
  EXPECT_EQ(code_of(garage.answer_finding(BuildId{99}, {"bay", "x", {}})), "no-build");
  EXPECT_EQ(code_of(garage.answers(BuildId{99})), "no-build");
}

TEST(Photos, ComeBackByteForByte) {
  Kept kept;
  Garage& garage = kept.garage;
  const std::string png = picture(300000);
  const std::string jpeg = "\xFF\xD8\xFF" + std::string(20, '\0');
  const std::string webp = "RIFF1234WEBPVP8 ";
  const PhotoRow row = got(garage.add_photo(kept.build, {png, "the bay", "donor.bay_length"}));
  EXPECT_EQ(row.media, "image/png");
  EXPECT_EQ(row.size, 300000);
  EXPECT_EQ(got(garage.add_photo(kept.build, {jpeg, "", "motor"})).media, "image/jpeg");
  EXPECT_EQ(got(garage.add_photo(kept.build, {webp})).media, "image/webp");
  EXPECT_EQ(got(garage.photo(row.id)).bytes, png);
  EXPECT_EQ(got(garage.photos(kept.build)).size(), 3U);
  EXPECT_EQ(got(garage.photos(kept.build))[1].field, "motor");
  EXPECT_EQ(got(garage.caption_photo(row.id, "seen from the left")).caption, "seen from the left");
  EXPECT_TRUE(garage.remove_photo(row.id));
  EXPECT_EQ(code_of(garage.remove_photo(row.id)), "no-photo");
  EXPECT_EQ(code_of(garage.photo(row.id)), "no-photo");
  EXPECT_EQ(code_of(garage.caption_photo(row.id, "x")), "no-photo");
}

TEST(Photos, WhatIsNone) {
  Kept kept;
  Garage& garage = kept.garage;
  EXPECT_EQ(code_of(garage.add_photo(kept.build, {"<svg onload=...>"})), "not-a-picture");
  EXPECT_EQ(code_of(garage.add_photo(kept.build, {""})), "not-a-picture");
  EXPECT_EQ(code_of(garage.add_photo(kept.build, {picture(photo_bytes_max + 1)})), "too-large");
  EXPECT_TRUE(garage.add_photo(kept.build, {picture(photo_bytes_max)}));
  const auto misspelt = garage.add_photo(kept.build, {picture(), "", "donor.bay_lenght"});
  ASSERT_FALSE(misspelt);
  EXPECT_EQ(misspelt.error().code, "unknown-key");
  EXPECT_TRUE(garage.add_photo(kept.build, {picture(), "", "steps.joint-1"}).has_value());
  for (const char* no_step : {"steps.", "steps.a b", "steps.<b>", "step.joint-1"})
    EXPECT_FALSE(garage.add_photo(kept.build, {picture(), "", no_step}).has_value());
  EXPECT_EQ(misspelt.error().way_out, "Did you mean 'donor.bay_length'?");
  EXPECT_EQ(code_of(garage.add_photo(kept.build, {picture(), "\xC0"})), "not-text");
  EXPECT_EQ(code_of(garage.add_photo(BuildId{99}, {picture()})), "no-build");
}

TEST(Journal, DatedEntriesWithMoneyAndHours) {
  Kept kept;
  Garage& garage = kept.garage;
  const Entry today =
      got(garage.add_entry(kept.build, {.text = "stripped the loom", .hours = 3.5}));
  EXPECT_EQ(today.day, "2026-04-30");
  EXPECT_FALSE(today.money_cents);
  const Entry earlier = got(garage.add_entry(
      kept.build, {.text = "bought the bike", .day = "2026-02-28", .money_cents = 70000}));
  EXPECT_EQ(got(garage.journal(kept.build))[1].id, earlier.id);
  const auto changed = got(garage.change_entry(earlier.id, earlier.revision,
                                               {.text = "bought the bike", .money_cents = 65000}));
  EXPECT_EQ(changed.now.day, "2026-02-28");
  EXPECT_EQ(changed.now.money_cents, 65000);
  EXPECT_TRUE(got(garage.change_entry(earlier.id, earlier.revision, {.text = "x"})).stale);
  EXPECT_TRUE(got(garage.remove_entry(earlier.id, earlier.revision)).stale);
  EXPECT_EQ(got(garage.journal(kept.build)).size(), 2U);
  EXPECT_FALSE(got(garage.remove_entry(earlier.id, changed.now.revision)).stale);
  EXPECT_EQ(got(garage.journal(kept.build)).size(), 1U);
  EXPECT_EQ(code_of(garage.remove_entry(earlier.id, 1)), "no-entry");
}

TEST(Journal, DaysThatThereAreNot) {
  Kept kept;
  const auto add = [&](const NewEntry& e) { return code_of(kept.garage.add_entry(kept.build, e)); };
  for (const char* day : {"2026-02-29", "2026-13-01", "2026-00-01", "2026-04-31", "2026-4-01",
                          "2026-04-0x", "yesterday", "2026-04-00", "1900-02-29", "+026-04-01"})
    EXPECT_EQ(add({.text = "x", .day = day}), "bad-date") << day;
  EXPECT_EQ(add({.text = "x", .day = "2024-02-29"}), "no error");
  EXPECT_EQ(add({.text = " "}), "no-text");
  EXPECT_EQ(add({.text = "x", .hours = -1}), "out-of-range");
  EXPECT_EQ(add({.text = "x", .hours = std::nan("")}), "out-of-range");
  EXPECT_EQ(code_of(kept.garage.add_entry(BuildId{99}, {.text = "x"})), "no-build");
}

TEST(Settings, KeptByName) {
  Kept kept;
  EXPECT_EQ(got(kept.garage.setting("units")), std::nullopt);
  EXPECT_TRUE(kept.garage.set_setting("units", "metric"));
  EXPECT_TRUE(kept.garage.set_setting("units", "imperial"));
  EXPECT_EQ(got(kept.garage.setting("units")), "imperial");
}

TEST(Backup, IsOneFileAndComplete) {
  Kept kept;
  Garage& garage = kept.garage;
  got(garage.add_photo(kept.build, {picture(100000)}));
  const std::string to = kept.folder.file("stick.db");
  ASSERT_TRUE(garage.backup(to));
  got(garage.create({.name = "b", .text = sheet(2)}));
  EXPECT_FALSE(fs::exists(to + "-wal"));
  EXPECT_FALSE(fs::exists(to + ".part"));
  EXPECT_EQ(bytes_of(to)[18], 1);  // journal mode DELETE; 2 would be WAL
  {
    Garage copy = opened(to);
    EXPECT_EQ(copy.opening().how, Opening::How::as_left);
    EXPECT_EQ(got(copy.builds()).size(), 1U);
    EXPECT_EQ(code_of(garage.backup(to)), "backup-in-use");
  }
  ASSERT_TRUE(garage.backup(to));  // replaces the earlier one
  EXPECT_EQ(got(opened(to).builds()).size(), 2U);
}

TEST(Backup, TakesNothingElsesPlace) {
  Kept kept;
  const auto backup = [&](const std::string& path) { return code_of(kept.garage.backup(path)); };
  const std::string notes = kept.folder.file("notes.txt");
  put_bytes(notes, "call the seller");
  EXPECT_EQ(backup(notes), "not-a-garage");
  EXPECT_EQ(bytes_of(notes), "call the seller");
  EXPECT_EQ(backup(kept.folder.file()), "same-file");
  EXPECT_EQ(backup(kept.folder.file("no/such/folder.db")), "no-folder");
  EXPECT_EQ(backup(fs::path(notes).parent_path().string()), "not-a-garage");
  put_bytes(notes, "");
  EXPECT_EQ(backup(notes), "no error");
}

TEST(Backup, WhileOthersWrite) {
  Kept kept;
  got(kept.garage.add_photo(kept.build, {picture(4000000)}));
  std::atomic<bool> done{false};
  std::jthread writer([&] {
    Head head = got(kept.garage.head(kept.build));
    for (int i = 2; !done; ++i)
      head = got(kept.garage.revise(kept.build, {head.revision, sheet(i), "x"})).now;
  });
  for (int i = 0; i < 5; ++i)
    EXPECT_EQ(code_of(kept.garage.backup(kept.folder.file("b"))), "no error");
  done = true;
  writer.join();
  EXPECT_EQ(opened(kept.folder.file("b")).opening().how, Opening::How::as_left);
}

}  // namespace

}  // namespace ww::garage::shed
