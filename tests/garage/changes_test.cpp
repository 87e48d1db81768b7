// SPDX-License-Identifier: MIT
#include "garage/changes.h"

#include <gtest/gtest.h>

namespace ww::garage {

namespace {

std::string with(const std::string& tables) {
  return "wattwright = 1\n" + tables;
}

std::vector<std::string> lines(const Changes& changes) {
  std::vector<std::string> out;
  for (const auto& c : changes) out.push_back(c.path + ": " + c.from + " -> " + c.to);
  return out;
}

using Lines = std::vector<std::string>;

TEST(Changes, FieldsAsTheyWereTyped) {
  const auto changes = changes_between(
      with("[donor]\nwheelbase = \"1410 mm\"\nbay_length = \"430 mm\"\n"),
      with("[donor]\nwheelbase = \"55 1/2 in\"\nbay_width = \"260 mm\"\n[pack]\nseries = 20\n"));
  EXPECT_EQ(lines(changes),
            (Lines{"donor.wheelbase: 1410 mm -> 55 1/2 in", "donor.bay_length: 430 mm -> ",
                   "donor.bay_width:  -> 260 mm", "pack.series:  -> 20"}));
}

TEST(Changes, EvidenceNoteAndDateCount) {
  const auto changes = changes_between(
      with("[motor]\nmass = \"17 kg\"\n"),
      with("[motor]\nmass = { value = \"17 kg\", evidence = \"measured\", note = \"bathroom "
           "scale\", date = \"2026-03-01\" }\n"));
  EXPECT_EQ(lines(changes),
            Lines{"motor.mass: 17 kg (guess) -> 17 kg (measured; bathroom scale; 2026-03-01)"});
}

TEST(Changes, TheSameWrittenOtherwiseIsNone) {
  EXPECT_TRUE(
      changes_between(with("[motor]\nevidence = \"seller\"\nmass = \"17 kg\"\n"),
                      with("[motor]\nmass = { evidence = \"seller\", value = \"17 kg\" }\n"))
          .empty());
}

TEST(Changes, PartsWithoutALibrary) {
  const auto changes =
      changes_between(with("[motor]\npart = \"harrowmere-hornbeam\"\nmass = \"17 kg\"\n"),
                      with("[motor]\npart = \"somebody-else\"\n"));
  EXPECT_EQ(lines(changes),
            (Lines{"motor.part: harrowmere-hornbeam -> somebody-else", "motor.mass: 17 kg -> "}));
}

TEST(Changes, AnEmptyTableAndThingsWithoutAPath) {
  const auto changes = changes_between(
      with("owns = [\"multimeter\"]\n"),
      with(
          "owns = [\"multimeter\", \"torque wrench\"]\n[motor]\n[[extra]]\nname = \"paint\"\nprice "
          "= \"80\"\n"));
  EXPECT_EQ(lines(changes),
            (Lines{"owns: multimeter -> multimeter, torque wrench", "motor:  -> there",
                   "extra 1:  -> name = \"paint\", price = \"80\", quantity = 1"}));
}

TEST(Changes, WhatTouches) {
  EXPECT_TRUE(touch("motor.mass", "motor.mass"));
  EXPECT_FALSE(touch("motor.mass", "motor.length"));
  EXPECT_TRUE(touch("motor.part", "motor.length"));
  EXPECT_TRUE(touch("motor.length", "motor.part"));
  EXPECT_TRUE(touch("motor", "motor.length"));
  EXPECT_FALSE(touch("motor", "controller.length"));
  EXPECT_TRUE(touch("extra 1", "extra 2"));
  EXPECT_TRUE(touch("project.currency", "motor.price"));
  EXPECT_TRUE(touch("extra 1", "project.currency"));
  EXPECT_FALSE(touch("project.currency", "motor.mass"));
  EXPECT_FALSE(touch("cable_main.part", "cable_phase.part"));
}

TEST(Changes, BothSettingTheSameIsNoClash) {
  const Changes theirs{{"pack.series", "20", "21"}, {"donor.wheelbase", "", "1410 mm"}};
  EXPECT_EQ(touched_by_both({{"pack.series", "20", "21"}}, theirs), Lines{});
  EXPECT_EQ(touched_by_both({{"pack.series", "20", "24"}, {"rider.mass", "", "80 kg"}}, theirs),
            Lines{"pack.series"});
}

TEST(Changes, PackedAndUnpacked) {
  const Changes changes{{"donor.notes", "a\tb\\n", "line\nline\\"}, {"motor", "", "there"}};
  EXPECT_EQ(unpack(pack(changes)), changes);
  EXPECT_TRUE(unpack("").empty());
}

TEST(Changes, WhatIsNoSheet) {
  EXPECT_FALSE(check_sheet("wattwright = "));
  EXPECT_FALSE(check_sheet("[donor]\n"));
  EXPECT_FALSE(check_sheet("wattwright = 99\n"));
  EXPECT_TRUE(check_sheet("wattwright = 1\n"));
  EXPECT_TRUE(check_sheet(with("[motor]\npart = \"not-in-any-library\"\n")));
}

}  // namespace

}  // namespace ww::garage
