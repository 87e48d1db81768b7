// SPDX-License-Identifier: MIT
// The work step by step over the wire: what is kept, what is refused, what stops.
#include <gtest/gtest.h>

#include "tests/serve/support.h"

namespace ww::serve::test {
namespace {

Json step_of(Place& place, const std::string& id) {
  const Json all = place.get("builds/1/steps");
  for (const auto& stage : all["stages"]) {
    for (const auto& step : stage["steps"]) {
      if (step["id"] == id) return step;
    }
  }
  return {};
}

Json done(std::int64_t base, const std::string& step, const std::string& reading) {
  return {{"base", base},
          {"step", step},
          {"reading", reading},
          {"instrument", "multimeter"},
          {"note", ""}};
}

std::string code_of(const Json& refused) {
  return refused.contains("problems") && !refused["problems"].empty()
             ? refused["problems"][0]["code"].get<std::string>()
             : refused.dump().substr(0, 200);
}

// The trail bike's pack stands before its first joint.
TEST(Steps, AReadingInsideItsBandPassesAndOneOutsideStopsWhatFollows) {
  Place place;
  place.demo("trail");
  ASSERT_EQ(step_of(place, "joint-1")["verdict"], "open");
  const Json first = place.post("builds/1/steps/done", done(1, "joint-1", "6.58 V"));
  ASSERT_EQ(first["status"], 200) << first.dump().substr(0, 300);
  EXPECT_EQ(first["revision"], 2);
  EXPECT_EQ(step_of(place, "joint-1")["verdict"], "within");
  EXPECT_EQ(step_of(place, "joint-2")["verdict"], "open");
  const Json second = place.post("builds/1/steps/done", done(2, "joint-1", "3.29 V"));
  ASSERT_EQ(second["status"], 200);
  const Json outside = step_of(place, "joint-1");
  EXPECT_EQ(outside["verdict"], "outside");
  EXPECT_EQ(outside["readings"].size(), 2U);
  EXPECT_FALSE(outside["tree"].empty());
  EXPECT_EQ(step_of(place, "joint-2")["verdict"], "stopped");
  // Undone as any other change.
  ASSERT_EQ(place.post("builds/1/undo", {{"base", 3}})["status"], 200);
  EXPECT_EQ(step_of(place, "joint-1")["verdict"], "within");
}

TEST(Steps, WhatIsNoReadingIsRefusedAndNothingIsKept) {
  Place place;
  place.demo("trail");
  const std::string before = place.kept_bytes();
  for (const auto& [step, reading, code] : {std::tuple{"joint-1", "soon", "no-reading"},
                                            {"joint-1", "6.58 Nm", "no-reading"},
                                            {"joint-1", "", "no-reading"},
                                            {"joint-1", "nan V", "no-reading"},
                                            {"look-over", "12 V", "no-reading"},
                                            {"joint-one", "6.58 V", "no-step"},
                                            {"cells-measured", "yes", "from-sheet"}}) {
    const Json refused = place.post("builds/1/steps/done", done(1, step, reading));
    EXPECT_EQ(refused["status"], 400) << step << " " << reading;
    EXPECT_EQ(code_of(refused), code) << step << " " << reading;
  }
  EXPECT_EQ(place.kept_bytes(), before);
  place.post("builds/1/edit",
             {{"base", 1},
              {"what", ""},
              {"changes", {{{"path", "wishes.ride_distance"}, {"text", "70 km"}}}}});
  EXPECT_EQ(place.post("builds/1/steps/done", done(1, "joint-1", "6.58 V"))["status"], 409);
}

TEST(Steps, AWireIsNotedAsItWasLaid) {
  Place place;
  place.demo("trail");
  Json wire{{"base", 1},        {"label", "T2"},       {"laid", true},     {"colour", "black"},
            {"length", "soon"}, {"section", "35 mm2"}, {"torque", "6 Nm"}, {"lug_from", "35 x 8"},
            {"lug_to", ""},     {"note", "a detour"}};
  const std::string before = place.kept_bytes();
  const Json refused = place.post("builds/1/steps/laid", wire);
  EXPECT_EQ(refused["status"], 400);
  EXPECT_EQ(refused["problems"][0]["field"], "length");
  wire["label"] = "T99";
  EXPECT_EQ(code_of(place.post("builds/1/steps/laid", wire)), "no-wire");
  EXPECT_EQ(place.kept_bytes(), before);
  wire["label"] = "T2";
  wire["length"] = "310 mm";
  ASSERT_EQ(place.post("builds/1/steps/laid", wire)["status"], 200);
  EXPECT_EQ(step_of(place, "wire-T2")["verdict"], "within");
  const Json all = place.get("builds/1/steps");
  for (const auto& one : all["wires"]) {
    if (one["label"] == "T2") {
      EXPECT_TRUE(one["laid"].get<bool>());
    }
  }
  wire["base"] = 2;
  wire["laid"] = false;
  ASSERT_EQ(place.post("builds/1/steps/laid", wire)["status"], 200);
  EXPECT_NE(step_of(place, "wire-T2")["verdict"], "within");
}

TEST(Steps, CellsComeAsLinesAndGoBackAsLines) {
  Place place;
  place.demo("commuter");
  const auto cells = [&](std::int64_t base, const std::string& text) {
    return place.post("builds/1/steps/cells", {{"base", base}, {"text", text}});
  };
  const std::string before = place.kept_bytes();
  const Json refused = cells(1, "C1 3.29 V 104.8 Ah 0.52 mohm\nC2 3.29 V heavy\nC3 3.29 stone");
  EXPECT_EQ(refused["status"], 400);
  ASSERT_EQ(refused["problems"].size(), 2U) << refused.dump();
  EXPECT_EQ(refused["problems"][0]["field"], "line 2");
  // The same name twice is the sheet's to refuse.
  EXPECT_EQ(cells(1, "C1 3.29 V\nC1 3.3 V")["status"], 400);
  EXPECT_EQ(place.kept_bytes(), before);
  const std::string good =
      "C1 3.29 V 104.8 Ah 0.52 mohm\nC2 3.31 V 3.3 V 103 Ah 0.6 mohm group 2\n";
  ASSERT_EQ(cells(1, good)["status"], 200);
  EXPECT_EQ(place.get("builds/1/steps")["cells_text"], good);
}

TEST(Steps, WhatPassedIsTakenIntoTheSheetAsMeasured) {
  Place place;
  place.demo("trail");
  const Json nothing = place.get("builds/1/lesson");
  if (nothing["count"] == 0) {
    EXPECT_EQ(code_of(place.post("builds/1/lesson", {{"base", 1}})), "no-changes");
    return;
  }
  ASSERT_EQ(place.post("builds/1/lesson", {{"base", 1}})["status"], 200);
  const Json state = place.get("builds/1");
  int measured = 0;
  for (const auto& [path, value] : state["values"].items())
    measured += value.value("evidence", "") == "measured" ? 1 : 0;
  EXPECT_GT(measured, 0);
  // Taken once, there is nothing new in it.
  EXPECT_EQ(state["revision"], 2);
}

}  // namespace
}  // namespace ww::serve::test
