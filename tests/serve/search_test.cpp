// SPDX-License-Identifier: MIT
// The search for what to buy, asked as the page does: it runs behind the calls, says how far it is,
// ends when asked to, and its bikes become variants.
#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <thread>

#include "support.h"

namespace ww::serve::test {
namespace {

using Clock = std::chrono::steady_clock;

/// The commuter with cells and teeth open: some thousand combinations.
Json small_ask() {
  return {{"base", 1},
          {"open", {"cell", "series", "rear_teeth"}},
          {"without", Json::array()},
          {"musts",
           {{{"quantity", "money"}, {"text", "10500 EUR"}},
            {{"quantity", "distance"}, {"text", "80 km"}}}},
          {"wants", {{{"quantity", "distance"}, {"weight", 2}}}},
          {"own_first", true},
          {"seconds", 60}};
}
/// Everything open: minutes of work.
Json large_ask() {
  Json ask = small_ask();
  ask["open"] = {"motor",       "controller", "cell",  "series",
                 "front_teeth", "rear_teeth", "chain", "parallel"};
  return ask;
}

Json waited(Place& place, const std::string& build) {
  for (int tries = 0; tries < 3000; ++tries) {
    Json state = place.get("builds/" + build + "/search");
    if (state["phase"] == "done") return state;
    std::this_thread::sleep_for(std::chrono::milliseconds(20));
  }
  return {};
}

std::string first_problem(const Json& refused) {
  if (!refused.contains("problems") || refused["problems"].empty()) return refused.dump();
  const Json& p = refused["problems"][0];
  return p["code"].get<std::string>() + " " + p.value("field", "");
}

TEST(Search, SaysWhatCanBeAsked) {
  Place place;
  place.demo("commuter");
  const Json offer = place.get("builds/1/search/offer");
  ASSERT_EQ(offer["places"].size(), 8U);
  EXPECT_EQ(offer["places"][0]["key"], "motor");
  EXPECT_EQ(offer["places"][0]["state"], "here");
  EXPECT_FALSE(offer["places"][0]["open"].get<bool>());
  EXPECT_GT(offer["places"][0]["options"].get<int>(), 20);
  ASSERT_EQ(offer["yardsticks"].size(), 9U);
  EXPECT_EQ(offer["yardsticks"][1]["key"], "distance");
  EXPECT_EQ(offer["yardsticks"][1]["unit"], "km");
  EXPECT_EQ(offer["yardsticks"][1]["wish"], "80 km");
  EXPECT_EQ(place.get("builds/1/search")["phase"], "none");
  EXPECT_EQ(place.get("builds/9/search/offer")["status"], 404);
  place.post("units", {{"units", "imperial"}});
  EXPECT_EQ(place.get("builds/1/search/offer")["yardsticks"][1]["unit"], "mi");
}

TEST(Search, RunsBehindTheCallsAndItsBikesBecomeVariants) {
  Place place;
  place.demo("commuter");
  const auto listener = place.events.listen();
  const Json begun = place.post("builds/1/search", small_ask());
  ASSERT_EQ(begun["status"], 200) << begun.dump();
  EXPECT_NE(begun["phase"], "none");
  EXPECT_EQ(begun["found"]["bounds"], Json({10500.0, 80.0}));
  const Json state = waited(place, "1");
  ASSERT_EQ(state["phase"], "done");
  EXPECT_EQ(state["ended"], "");
  EXPECT_FALSE(state["stale"].get<bool>());
  const Json& counts = state["counts"];
  EXPECT_GE(counts["considered"], counts["fit"]);
  EXPECT_GE(counts["fit"], counts["ridden"]);
  EXPECT_GE(counts["ridden"], counts["within"]);
  EXPECT_GT(counts["within"], 10);
  EXPECT_EQ(counts["considered"], counts["combinations"]);
  // The state is there a moment before those who listen are told.
  std::string told;
  for (int tries = 0; tries < 500 && told.find("\"phase\":\"done\"") == told.npos; ++tries) {
    told += listener->take();
    std::this_thread::sleep_for(std::chrono::milliseconds(20));
  }
  EXPECT_NE(told.find("event: search"), std::string::npos);
  EXPECT_NE(told.find("\"phase\":\"done\""), std::string::npos);

  const Json& found = state["found"];
  EXPECT_EQ(found["lack"], "");
  ASSERT_GE(found["list"].size(), 2U);
  const Json& first = found["list"][0];
  EXPECT_EQ(first["numbers"][0]["met"], "met");
  EXPECT_NE(first["why"].dump().find("best by what counts"), std::string::npos);
  // A part of the library stands as figures, never under its invented name.
  for (const auto& part : first["parts"]) {
    if (part["from"] != "sketch" || part["place"] == "chain") continue;
    EXPECT_EQ(part["text"], "") << part.dump();
    EXPECT_GT(part["figures"].get<std::string>().size(), 30U);
    EXPECT_FALSE(part["check"].get<std::string>().empty());
  }
  EXPECT_NE(first["cautions"].dump().find("can kill"), std::string::npos);
  EXPECT_FALSE(found["decisions"].empty());
  EXPECT_GT(state["points"].size(), 10U);
  EXPECT_FALSE(state["fell"].empty());

  const Json taken = place.post(
      "builds/1/search/take",
      {{"search", state["search"]}, {"pick", first["pick"]}, {"name", "with other cells"}});
  ASSERT_EQ(taken["status"], 200) << taken.dump();
  EXPECT_EQ(taken["name"], "with other cells");
  EXPECT_EQ(taken["build"], 2);
  EXPECT_EQ(place.get("garage")["builds"][1]["from"].is_number() ||
                place.get("garage")["builds"][0]["from"].is_number(),
            true);
  EXPECT_EQ(place.get("builds/1")["revision"], 1) << "the build itself is as it was";
  // What was promised is what the variant does: to a float and the words' rounding.
  double promised = 0, does = 0;
  for (const auto& n : first["numbers"]) {
    if (n["quantity"] == "top_speed") promised = n["value"];
  }
  const Json variant = place.get("builds/2?ready=full");
  EXPECT_TRUE(variant["possible"]) << variant["missing"] << variant["parts_missing"];
  for (const auto& answer : variant["answers"]) {
    if (answer["key"] == "speed_top") does = answer["p50"].get<double>() * 3.6;
  }
  EXPECT_NEAR(does, promised, 0.03 * promised) << "the middle draw against the nominal ride";
}

TEST(Search, MovedWishesAreAnsweredAtOnceAndSayWhatTheyLack) {
  Place place;
  place.demo("commuter");
  place.post("builds/1/search", small_ask());
  const Json state = waited(place, "1");
  const Json number = state["search"];
  const auto moved = [&](const std::string& distance) {
    return place.post("builds/1/search/moved", {{"search", number},
                                                {"musts",
                                                 {{{"quantity", "money"}, {"text", "10500"}},
                                                  {{"quantity", "distance"}, {"text", distance}}}},
                                                {"wants", Json::array()}});
  };
  std::vector<double> distances;
  for (const auto& point : state["points"]) distances.push_back(point["at"][1]);
  std::sort(distances.begin(), distances.end());
  const std::string middle = std::to_string(distances[distances.size() / 2]) + " km";
  const Json same = moved("80 km"), tighter = moved(middle), mad = moved("5000 km"),
             looser = moved("40 km");
  EXPECT_EQ(same["within"], state["counts"]["within"]);
  EXPECT_EQ(tighter["lack"], "");
  EXPECT_LT(tighter["within"], same["within"]);
  EXPECT_GT(tighter["within"], 0);
  EXPECT_EQ(mad["within"], 0);
  ASSERT_FALSE(mad["gives_way"].empty());
  EXPECT_EQ(mad["gives_way"][0]["steps"][0]["quantity"], "distance");
  EXPECT_NE(looser["lack"].get<std::string>().find("looser"), std::string::npos);
  EXPECT_EQ(looser["within"], same["within"]);

  EXPECT_EQ(first_problem(moved("far")), "bad-number musts[1].text");
  EXPECT_EQ(first_problem(moved("30 kg")), "wrong-kind musts[1].text");
  EXPECT_EQ(
      place.post("builds/1/search/moved",
                 {{"search", 5}, {"musts", Json::array()}, {"wants", Json::array()}})["status"],
      404);
}

TEST(Search, WhyAPartIsNotThere) {
  Place place;
  place.demo("commuter");
  place.post("builds/1/search", small_ask());
  const Json state = waited(place, "1");
  const Json offer = place.get("shelves/cell");
  const Json answer =
      place.post("builds/1/search/why",
                 {{"search", state["search"]}, {"shelf", "cell"}, {"part", offer[0]["id"]}});
  ASSERT_EQ(answer["status"], 200) << answer.dump();
  EXPECT_GT(answer["says"].get<std::string>().size(), 20U);
  EXPECT_EQ(first_problem(place.post(
                "builds/1/search/why",
                {{"search", state["search"]}, {"shelf", "cell"}, {"part", "no-such-cell"}})),
            "no-part part");
}

TEST(Search, ANewerOneReplacesTheOlderAndStoppingIsQuick) {
  Place place;
  place.demo("commuter");
  const Json first = place.post("builds/1/search", large_ask());
  const Json second = place.post("builds/1/search", large_ask());
  EXPECT_GT(second["search"], first["search"]);
  EXPECT_EQ(place.get("builds/1/search")["search"], second["search"]);
  // Meanwhile an edit is answered, and the search says that it is of the sheet before.
  const Json edited =
      place.post("builds/1/edit", edit(1, {change("wishes.ride_distance", "70 km")}));
  EXPECT_EQ(edited["status"], 200);
  EXPECT_TRUE(place.get("builds/1/search")["stale"].get<bool>());
  EXPECT_EQ(first_problem(place.post("builds/1/search", large_ask())), "stale base");
  EXPECT_EQ(
      first_problem(place.post("builds/1/search/take",
                               {{"search", second["search"]}, {"pick", 0}, {"name", "early"}})),
      "still-searching ");
  const auto began = Clock::now();
  place.ask("DELETE", "/api/builds/1/search");
  const Json ended = waited(place, "1");
  EXPECT_EQ(ended["ended"], "stopped");
  EXPECT_LT(std::chrono::duration<double>(Clock::now() - began).count(), 20) << "a loose gate";
  // One that runs when the house is shut ends with it.
  Json again = large_ask();
  again["base"] = 2;
  EXPECT_EQ(place.post("builds/1/search", again)["status"], 200);
}

TEST(Search, ATimeLimitEndsItWithWhatIsThere) {
  Place place;
  place.demo("commuter");
  Json ask = large_ask();
  ask["seconds"] = 1;
  place.post("builds/1/search", ask);
  const Json ended = waited(place, "1");
  EXPECT_EQ(ended["ended"], "time");
  EXPECT_NE(ended["found"]["lack"], "");
}

TEST(Search, AVariantOfAChangedBuildIsRefused) {
  Place place;
  place.demo("commuter");
  place.post("builds/1/search", small_ask());
  const Json state = waited(place, "1");
  place.post("builds/1/edit", edit(1, {change("wishes.ride_distance", "70 km")}));
  const std::string before = place.kept_bytes();
  EXPECT_EQ(first_problem(place.post("builds/1/search/take",
                                     {{"search", state["search"]}, {"pick", 0}, {"name", "late"}})),
            "stale ");
  EXPECT_EQ(place.kept_bytes(), before);
  EXPECT_EQ(first_problem(
                place.post("builds/1/search/take",
                           {{"search", state["search"]}, {"pick", 999999999}, {"name", "none"}})),
            "no-pick pick");
}

TEST(Search, SpoiltRequestsAreRefusedWithEveryProblem) {
  Place place;
  place.demo("commuter");
  const auto refused = [&](const std::string& key, const Json& value) {
    Json ask = small_ask();
    ask[key] = value;
    const Json reply = place.post("builds/1/search", ask);
    return std::to_string(reply.value("status", 0)) + " " + first_problem(reply);
  };
  EXPECT_EQ(refused("open", Json::array()), "400 nothing-open open");
  EXPECT_EQ(refused("open", {"wings"}), "400 unknown-option open[0]");
  EXPECT_EQ(refused("open", "motor"), "400 wrong-type open");
  EXPECT_EQ(refused("without", {"motor/none-such"}), "400 no-part without[0]");
  EXPECT_EQ(refused("seconds", 0), "400 out-of-range seconds");
  EXPECT_EQ(refused("seconds", 1e9), "400 wrong-type seconds");
  EXPECT_EQ(refused("musts", {{{"quantity", "joy"}, {"text", "9"}}}),
            "400 unknown-option musts[0].quantity");
  EXPECT_EQ(refused("musts", {{{"quantity", "mass"}, {"text", "-4 kg"}}}),
            "400 out-of-range musts[0].text");
  EXPECT_EQ(refused("musts", {{{"quantity", "money"}, {"text", "9000 USD"}}}),
            "400 other-currency musts[0].text");
  EXPECT_EQ(refused("musts", {{{"quantity", "mass"}, {"text", "200 kg"}},
                              {{"quantity", "mass"}, {"text", "220 kg"}}}),
            "400 double-key musts[1].quantity");
  EXPECT_EQ(refused("wants", {{{"quantity", "distance"}, {"weight", -1}}}),
            "400 bad-weight wants[0].weight");
  EXPECT_EQ(refused("wants", {{{"quantity", "hill_grade"}, {"weight", 1}}}),
            "400 unknown-option wants[0].quantity");
  EXPECT_EQ(refused("base", 7), "400 stale base");
  EXPECT_EQ(refused("more", 1), "400 unknown-key more");
  EXPECT_EQ(place.get("builds/1/search")["phase"], "none");
}

TEST(Search, AClaimTakenApartAndTheDonors) {
  Place place;
  place.demo("commuter");
  const Json terms = place.post("builds/1/claim", {{"text", "8 kW, 100 km/h, 150 km on 3 kWh"}});
  ASSERT_TRUE(terms.is_array()) << terms.dump();
  ASSERT_GE(terms.size(), 2U);
  EXPECT_EQ(first_problem(place.post("builds/1/claim", {{"text", "a fine bike"}})),
            "no-claim text");
  const Json donors = place.get("builds/1/donors");
  ASSERT_GE(donors.size(), 5U);
  EXPECT_EQ(place.get("builds/4/donors")["status"], 404);
}

}  // namespace
}  // namespace ww::serve::test
