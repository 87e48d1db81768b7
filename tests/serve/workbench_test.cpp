// SPDX-License-Identifier: MIT
// What the page can ask, asked as the page does.
#include <gtest/gtest.h>

#include <random>
#include <regex>
#include <set>

#include "build/sheet.h"
#include "serve/stages.h"
#include "support.h"
#include "tests/support/leaks.h"

namespace ww::serve::test {
namespace {

const Json six_entries = {
    change("donor.bike_class", "twin 400 500"), change("surroundings.coldest", "-3 degC"),
    change("wishes.hold_speed", "85 km/h"),     change("wishes.ride_distance", "55 km"),
    change("wishes.fast_share", "60 %"),        change("rider.mass", "84 kg"),
    change("wishes.budget", "7000 EUR")};

Json dream(Place& place) {
  return place.post("builds", {{"name", "Dream"}, {"where", "dreaming"}, {"entries", six_entries}});
}

std::string code(const Json& refused) {
  std::string out;
  for (const auto& problem : refused["problems"])
    out += (out.empty() ? "" : ", ") + problem["code"].get<std::string>() + " " +
           problem.value("field", "");
  return out;
}

// ---- the first minute

TEST(FirstMinute, SixEntriesGiveFourFiguresOneSentenceAndOneJob) {
  Place place;
  const Json first = dream(place);
  ASSERT_EQ(first["status"], 200) << first.dump();
  EXPECT_EQ(first["ready"], "first");
  EXPECT_TRUE(first["possible"]);
  ASSERT_EQ(first["four"].size(), 4U);
  EXPECT_EQ(first["four"][0]["key"], "hold");
  EXPECT_EQ(first["four"][0]["wish"], "85 km/h");
  EXPECT_EQ(first["four"][1]["key"], "distance");
  EXPECT_NE(first["four"][1]["also"].get<std::string>().find("-3 degC"), std::string::npos);
  EXPECT_EQ(first["four"][2]["key"], "mass");
  EXPECT_EQ(first["four"][3]["key"], "money");
  EXPECT_NE(first["blunt"].get<std::string>().find("55 km"), std::string::npos);
  EXPECT_FALSE(first["sketched"].empty());
  EXPECT_TRUE(first["assumptions"].empty()) << "nothing is ranked at first";
  ASSERT_TRUE(first["next"].is_object());
  EXPECT_NE(first["next"]["how"], "");
  EXPECT_EQ(first["next"]["path"], "donor.bike_class") << "there is no bike to measure yet";
  EXPECT_EQ(first["values"]["motor.part"]["from"], "sketched");
  EXPECT_EQ(first["values"]["rider.mass"]["from"], "sheet");
  EXPECT_EQ(first["values"]["rider.mass"]["si"], 84.0);
  EXPECT_EQ(first["values"]["donor.drag_area"]["from"], "assumed");
  EXPECT_NE(first["values"]["donor.drag_area"]["source"], "");
  EXPECT_EQ(first["values"]["project.currency"]["text"], "EUR");
  EXPECT_NE(first["caution"].get<std::string>().find("CAUTION"), std::string::npos);

  const Json full = place.get("builds/1?ready=full");
  EXPECT_EQ(full["ready"], "full");
  ASSERT_FALSE(full["assumptions"].empty());
  EXPECT_NE(full["assumptions"][0]["low"], full["assumptions"][0]["high"]);
  EXPECT_FALSE(full["assumptions"][0]["how"].get<std::string>().empty());
}

TEST(FirstMinute, TheFiguresAreComputedFromTheEntries) {
  Place place;
  dream(place);
  const auto likely = [&](std::int64_t base, const Json& changed) {
    const Json state = place.post("builds/1/edit", edit(base, {changed}));
    for (const auto& answer : state["answers"]) {
      if (answer["key"] == "range_mixed_reserve") return answer["p50"].get<double>();
    }
    return 0.0;
  };
  // The sketched pack follows the wish: twice the way wants a larger pack.
  const double short_way = likely(1, change("wishes.ride_distance", "40 km"));
  const double long_way = likely(2, change("wishes.ride_distance", "120 km"));
  EXPECT_GT(short_way, 40e3);
  EXPECT_GT(long_way, 1.5 * short_way);
}

TEST(FirstMinute, TextsAreInTheBuildersUnits) {
  Place place;
  dream(place);
  EXPECT_EQ(place.post("units", {{"units", "imperial"}})["units"], "imperial");
  const Json state = place.get("builds/1?ready=full");
  EXPECT_EQ(state["units"], "imperial");
  EXPECT_EQ(state["values"]["rider.mass"]["text"], "84 kg") << "as typed";
  EXPECT_EQ(state["values"]["rider.mass"]["shown"], "185 lb");
  EXPECT_EQ(state["four"][0]["wish"], "52.8 mph");
  std::string said =
      state["blunt"].get<std::string>() + state["four"].dump() + state["assumptions"].dump();
  // How a coast-down is done stands in the field table and speaks of km/h; what is computed must
  // not.
  for (const auto& assumption : state["assumptions"]) {
    const std::string how = assumption["how"];
    for (auto at = said.find(how); !how.empty() && at != std::string::npos; at = said.find(how))
      said.erase(at, how.size());
  }
  EXPECT_FALSE(std::regex_search(said, std::regex("[0-9] km\\b"))) << said;
  EXPECT_EQ(place.get("garage")["units"], "imperial");
}

TEST(FirstMinute, ThereIsNothingToMeasureBeforeThereIsABike) {
  Place place;
  ASSERT_EQ(dream(place)["next"]["path"], "donor.bike_class");
  const Json found =
      place.post("builds/1/edit", edit(1, {change("donor.model", "the one in the barn")}));
  ASSERT_EQ(found["status"], 200) << found.dump();
  EXPECT_EQ(found["next"]["path"].get<std::string>().substr(0, 6), "donor.");
  EXPECT_NE(found["next"]["path"], "donor.bike_class");
}

TEST(FirstMinute, WhereOneStandsDecidesTheNextStep) {
  Place place;
  for (const auto& [where, step] :
       {std::pair{"dreaming", "dreaming"}, std::pair{"parts_in_mind", "buying"},
        std::pair{"bike_in_bits", "energising"}, std::pair{"riding", "riding"}}) {
    const Json state = place.post("builds", {{"name", where}, {"where", where}});
    EXPECT_EQ(state["values"]["project.next_step"]["text"], step) << where;
  }
}

TEST(Garage, IsHandedOutWholeWhileItIsInUse) {
  Place place;
  place.demo("commuter");
  ASSERT_EQ(place.post("builds/1/edit", edit(1, {change("rider.mass", "91 kg")}))["status"], 200);
  const Response copy = place.ask("GET", "/api/garage/backup");
  ASSERT_EQ(copy.status, 200);
  const auto folder = std::filesystem::path(place.garage->path()).parent_path();
  for (const auto& file : std::filesystem::directory_iterator(folder))
    EXPECT_EQ(file.path().string().find("handed-out"), std::string::npos) << file.path();
  const auto path = (folder / "copy.db").string();
  std::ofstream(path, std::ios::binary) << copy.body;
  const auto opened =
      garage::Garage::open(path, [] { return std::string("2026-05-01T10:00:00Z"); });
  ASSERT_TRUE(opened) << opened.error().what;
  EXPECT_TRUE(opened->opening().notices.empty());
  const auto row = opened->build(garage::BuildId{1});
  const auto own = place.garage->build(garage::BuildId{1});
  ASSERT_TRUE(row && own);
  EXPECT_EQ(*opened->sheet_file(row->head), *place.garage->sheet_file(own->head));
}

// ---- editing

TEST(Editing, AllProblemsComeAtOnceAndNothingIsWritten) {
  Place place;
  place.demo("two-parts");
  const Json refused =
      place.post("builds/1/edit",
                 edit(1, {change("rider.mass", "90 kgs"), change("motor.mass", "17 kg"),
                          change("wishes.hold_sped", "3"), change("motor.pole_pairs", "many"),
                          change("motor", "own:9"), change("layout", ""),
                          change("motor.type", "steam"), change("motor.part", "nothing-like-it")}));
  EXPECT_EQ(refused["status"], 400);
  EXPECT_EQ(code(refused),
            "unknown-unit rider.mass, unknown-key wishes.hold_sped, bad-count motor.pole_pairs, "
            "unknown-part motor, always-there layout, unknown-option motor.type, unknown-part "
            "motor.part");
  EXPECT_EQ(place.get("builds/1")["revision"], 1);
}

TEST(Editing, EvidenceFollowsHowTheFigureCame) {
  Place place;
  place.demo("two-parts");
  const auto value = [&](std::int64_t base, Json changed) {
    return place.post("builds/1/edit", edit(base, {std::move(changed)}))["values"]["motor.mass"];
  };
  Json measured = change("motor.mass", "17 kg");
  measured["evidence"] = "measured";
  measured["note"] = "kitchen scale";
  Json is = value(1, measured);
  EXPECT_EQ(is["evidence"], "measured");
  EXPECT_EQ(is["date"], "2026-05-01");
  EXPECT_EQ(is["note"], "kitchen scale");
  // The same figure again: nothing is to be written.
  is = value(2, change("motor.mass", "17 kg"));
  EXPECT_EQ(is["evidence"], "measured");
  EXPECT_EQ(is["note"], "kitchen scale");
  EXPECT_EQ(place.get("builds/1")["revision"], 2);
  // Another figure without a word: a guess, and the old note does not speak of it.
  is = value(2, change("motor.mass", "18 kg"));
  EXPECT_EQ(is["evidence"], "guess");
  EXPECT_EQ(is["date"], "");
  EXPECT_EQ(is["note"], "");
  Json seller = change("motor.mass", "18 kg");
  seller["evidence"] = "seller";
  EXPECT_EQ(value(3, seller)["evidence"], "seller") << "one tap changes the evidence alone";
  seller["evidence"] = "my uncle";
  EXPECT_EQ(code(place.post("builds/1/edit", edit(4, {seller}))), "unknown-evidence motor.mass");
}

TEST(Editing, PartsGoInAndOutAndTheirFiguresComeBack) {
  Place place;
  place.post("builds", {{"name", "a"}, {"where", "parts_in_mind"}});
  Json state = place.post("builds/1/edit", edit(1, {change("motor.part", "harrowmere-hornbeam")}));
  const std::string mass = state["values"]["motor.mass"]["text"];
  EXPECT_EQ(state["values"]["motor.mass"]["from"], "part");
  EXPECT_EQ(state["values"]["motor.mass"]["source"], "harrowmere-hornbeam");
  EXPECT_EQ(code(place.post("builds/1/edit", edit(2, {change("motor.mass", "")}))),
            "belongs-to-part motor.mass");
  state = place.post("builds/1/edit", edit(2, {change("motor.mass", "11 kg")}));
  EXPECT_EQ(state["values"]["motor.mass"]["from"], "sheet");
  state = place.post("builds/1/edit", edit(3, {change("motor.mass", "")}));
  EXPECT_EQ(state["values"]["motor.mass"]["text"], mass) << "the part's own comes back";
  state = place.post("builds/1/edit", edit(4, {change("motor.part", "")}));
  EXPECT_EQ(state["values"]["motor.mass"]["from"], "sheet") << "the figures stay";
  EXPECT_FALSE(state["values"].contains("motor.part"));
  state = place.post("builds/1/edit", edit(5, {change("motor.mass", "")}));
  EXPECT_FALSE(state["values"].contains("motor.mass"));
  state = place.post("builds/1/edit", edit(6, {change("motor", "")}));
  for (const auto& slot : state["slots_present"]) EXPECT_NE(slot, "motor");
}

TEST(Editing, AnotherCurrencyIsRefused) {
  Place place;
  place.post("builds", {{"name", "a"}, {"where", "parts_in_mind"}});
  const Json state = place.post("builds/1/edit", edit(1, {change("motor.price", "350 EUR")}));
  EXPECT_EQ(state["values"]["project.currency"]["text"], "EUR");
  EXPECT_EQ(code(place.post("builds/1/edit", edit(2, {change("controller.price", "200 USD")}))),
            "mixed-currencies controller.price");
}

TEST(Editing, ADollarInAListingGoesWithUsd) {
  Place place;
  place.post("builds", {{"name", "a"}, {"where", "parts_in_mind"}});
  place.post("builds/1/edit", edit(1, {change("controller.price", "200 USD")}));
  const Json paste = place.post(
      "paste",
      {{"text", "PM motor, 96 V, 10 kW continuous, 17 kg, price $350"}, {"kind", "motor"}});
  EXPECT_EQ(paste["price"], "$350");
  const Json own = place.post(
      "own-parts", {{"shelf", "motor"}, {"text", paste["part_text"]}, {"from", "listing"}});
  ASSERT_EQ(own["status"], 200) << own;
  const Json state = place.post(
      "builds/1/edit", edit(2, {change("motor", "own:" + std::to_string(own["id"].get<int>()))}));
  ASSERT_EQ(state["status"], 200) << state;
  EXPECT_EQ(state["values"]["project.currency"]["text"], "USD");
  EXPECT_EQ(state["values"]["motor.price"]["si"], 350);
}

TEST(Editing, AnOldBaseIsToldWhatChangedAndNothingIsWritten) {
  Place place;
  place.demo("two-parts");
  place.post("builds/1/edit", edit(1, {change("motor.mass", "12 kg")}));
  Json stale = place.post("builds/1/edit", edit(1, {change("motor.mass", "13 kg")}));
  EXPECT_EQ(stale["status"], 409);
  EXPECT_TRUE(stale["stale"]);
  EXPECT_TRUE(stale["same_fields"]);
  EXPECT_EQ(stale["changed"][0]["path"], "motor.mass");
  EXPECT_EQ(stale["yours"][0]["text"], "13 kg");
  EXPECT_EQ(stale["now"]["revision"], 2);
  EXPECT_EQ(stale["now"]["values"]["motor.mass"]["text"], "12 kg");
  stale = place.post("builds/1/edit", edit(1, {change("controller.mass", "3 kg")}));
  EXPECT_EQ(stale["status"], 409);
  EXPECT_FALSE(stale["same_fields"]) << "it may be sent again on the new base";
  EXPECT_EQ(place.post("builds/1/undo", {{"base", 1}})["status"], 409);
  EXPECT_EQ(place.get("builds/1")["revision"], 2);
  // A revision of another build is no base.
  place.demo("two-parts");
  const Json other = place.get("builds/2");
  EXPECT_EQ(place.post("builds/1/edit",
                       edit(other["revision"], {change("motor.mass", "1 kg")}))["status"],
            404);
}

TEST(Editing, APreviewWritesNothingAndSaysWhatWouldChange) {
  Place place;
  place.demo("commuter");
  const Json before = place.get("builds/1");
  const Json preview =
      place.post("builds/1/preview", edit(1, {change("gearing.rear_teeth", "70")}));
  ASSERT_EQ(preview["status"], 200) << preview.dump().substr(0, 300);
  EXPECT_EQ(preview["four"].size(), 4U);
  EXPECT_FALSE(preview["findings_changed"].empty());
  EXPECT_NE(preview["four"][0], before["four"][0]);
  EXPECT_EQ(place.get("builds/1")["revision"], 1);
  // It says what the edit then does.
  const Json after = place.post("builds/1/edit", edit(1, {change("gearing.rear_teeth", "70")}));
  EXPECT_EQ(after["four"], preview["four"]);
  EXPECT_EQ(after["counts"], preview["counts"]);
  EXPECT_EQ(after["answers"], preview["answers"]);
  EXPECT_EQ(place.post("builds/1/preview", edit(2, {change("motor.mass", "x")}))["status"], 400);
}

TEST(Editing, TeethFollowToTheSwingarm) {
  Place place;
  place.demo("commuter");
  const auto figure = [](const Json& from, const char* key) {
    for (const auto& line : from["gearing"])
      if (line["key"] == key) return line["text"].get<std::string>();
    return std::string();
  };
  const auto with_rear = [&](const char* teeth) {
    return place.post("builds/1/preview", edit(1, {change("gearing.rear_teeth", teeth)}));
  };
  // p / sin(pi / z) and the roller, against the 168 mm that are free: 15.875 mm, 10.16 mm.
  const Json now = place.get("builds/1");
  EXPECT_EQ(now["values"]["chain.pitch"]["si"], 0.015875);
  EXPECT_EQ(figure(now, "swingarm_air"), "18.83 mm");
  EXPECT_EQ(figure(with_rear("70"), "swingarm_air").substr(0, 6), "none, ");
  EXPECT_NE(figure(with_rear("58"), "chain_play"), figure(now, "chain_play"));
  const Json unknown =
      place.post("builds/1/preview", edit(1, {change("donor.swingarm_to_sprocket", "")}));
  EXPECT_EQ(figure(unknown, "swingarm_air"), "not measured");
}

TEST(Editing, AWayOutDoesWhatItPromised) {
  Place place;
  place.demo("beginner");
  const Json full = place.get("builds/1?ready=full");
  int taken = 0;
  for (const auto& finding : full["findings"]) {
    if (finding["ways_out"].empty() || taken >= 4) continue;
    const Json& way = finding["ways_out"][0];
    std::int64_t base = place.get("builds/1")["revision"];
    const Json state = place.post(
        "builds/1/edit", {{"base", base}, {"what", "took a way out"}, {"changes", way["changes"]}});
    ASSERT_EQ(state["status"], 200) << state.dump().substr(0, 500);
    const Json now = place.get("builds/1?ready=full");
    std::string says = "fits";
    for (const auto& other : now["findings"]) {
      if (other["rule"] == finding["rule"]) says = other["says"];
    }
    EXPECT_EQ(says, way["becomes"]) << finding["rule"] << " " << way.dump();
    base = now["revision"];
    place.post("builds/1/undo", {{"base", base}});
    ++taken;
  }
  EXPECT_EQ(taken, 4);
}

// ---- edit, undo, redo against a plain model

TEST(Model, EditUndoRedoThroughTheWireFollowAPlainList) {
  using Fields = std::map<std::string, std::string>;
  const std::vector<std::pair<std::string, std::vector<std::string>>> choices{
      {"rider.mass", {"", "70 kg", "80 kg", "90 kg"}},
      {"donor.wheelbase", {"", "1400 mm", "1390 mm +- 3 mm"}},
      {"project.notes", {"", "one", "two \"quoted\"\n# line", "caf\xC3\xA9"}},
      {"gearing.rear_teeth", {"", "48", "57"}},
      {"wishes.budget", {"", "5000", "7 500"}},
      {"donor.frame", {"", "cradle_steel", "backbone"}}};
  for (const unsigned seed : {1U, 2U, 3U}) {
    Place place;
    std::mt19937 random(seed);
    const auto pick = [&](std::size_t n) { return random() % n; };
    place.post("builds", {{"name", "m"}, {"where", "dreaming"}});
    std::vector<Fields> states(1);
    std::size_t at = 0;
    std::int64_t revision = 1;
    for (int i = 0; i < 60; ++i) {
      Json state;
      const auto what = pick(4);
      if (what < 2) {
        Fields next = states[at];
        std::vector<Json> changes;
        for (std::size_t k = 0; k <= pick(3); ++k) {
          const auto& [path, texts] = choices[pick(choices.size())];
          const std::string text = texts[pick(texts.size())];
          changes.push_back(change(path, text));
          next.erase(path);
          if (!text.empty()) next[path] = text;
        }
        state = place.post("builds/1/edit", edit(revision, changes));
        if (next != states[at]) {
          states.resize(at + 1);
          states.push_back(next);
          ++at;
        }
      } else {
        const bool undo = what == 2;
        const bool can = undo ? at > 0 : at + 1 < states.size();
        state = place.post(undo ? "builds/1/undo" : "builds/1/redo", {{"base", revision}});
        if (!can) {
          EXPECT_EQ(state["status"], 400) << state.dump();
          EXPECT_EQ(code(state), undo ? "nothing-to-undo " : "nothing-to-redo ");
          state = place.get("builds/1");
        } else {
          at = undo ? at - 1 : at + 1;
        }
      }
      ASSERT_EQ(state["status"], 200) << state.dump().substr(0, 300);
      revision = state["revision"];
      EXPECT_EQ(state["can_undo"], at > 0);
      EXPECT_EQ(state["can_redo"], at + 1 < states.size());
      for (const auto& [path, texts] : choices) {
        const bool known =
            state["values"].contains(path) && state["values"][path]["from"] == "sheet";
        EXPECT_EQ(known, states[at].count(path) == 1) << path << " step " << i;
        if (known) {
          EXPECT_EQ(state["values"][path]["text"], states[at][path]) << path;
        }
      }
    }
  }
}

// ---- what else is asked

TEST(Asking, TheSchemaHasEveryFieldAndEverySlotHasItsStage) {
  Place place;
  const Json schema = place.get("schema");
  std::size_t fields = 0;
  std::set<std::string> slots;
  for (const auto& slot : schema["slots"]) {
    fields += slot["fields"].size();
    slots.insert(slot["key"]);
  }
  EXPECT_EQ(fields, static_cast<std::size_t>(build::schema().size()));
  std::multiset<std::string> staged;
  for (const auto& stage : schema["stages"]) {
    for (const auto& slot : stage["slots"]) staged.insert(slot);
  }
  EXPECT_EQ(staged.size(), slots.size());
  for (const auto& slot : slots) EXPECT_EQ(staged.count(slot), 1U) << slot;
}

TEST(Asking, EveryAddressOfABuildAnswersForEveryDemo) {
  Place place(Place::Options{.runner = run_on_cores});
  std::int64_t build = 0;
  for (const auto& name : demo_names()) {
    build = place.demo(name);
    const std::string at = "/api/builds/" + std::to_string(build) + "/";
    for (const char* what : {"history", "sheet", "side.svg", "top.svg", "plots", "list", "measure",
                             "journal", "photos", "explain/donor.wheelbase", "compare/1", "wiring",
                             "prints", "steps", "lesson"}) {
      const Response response = place.ask("GET", at + what);
      EXPECT_EQ(response.status, 200) << name << " " << what << response.body.substr(0, 200);
      EXPECT_FALSE(response.body.empty()) << what;
    }
    for (const auto& plot : place.get("builds/" + std::to_string(build) + "/plots")) {
      const std::string key = plot["key"];
      const Json shown = place.get("builds/" + std::to_string(build) + "/plots/" + key);
      EXPECT_EQ(shown["status"], 200) << name << " " << key;
      EXPECT_EQ(shown["svg"].get<std::string>().rfind("<svg ", 0), 0U) << name << " " << key;
      if (name == "commuter") {
        EXPECT_EQ(shown["missing"], "") << key;
        EXPECT_FALSE(shown["table"]["rows"].empty()) << key;
      }
      for (const char* ending : {".svg", ".csv"})
        EXPECT_EQ(place.ask("GET", at + "plots/" + key + ending).status, 200) << key << ending;
    }
  }
  for (const auto& print : place.get("builds/1/prints")) {
    const std::string at = "/api/builds/1/prints/" + print["key"].get<std::string>();
    EXPECT_GE(print["pages"].get<int>(), 1);
    const Response page =
        place.ask("GET", at + "?page=" + std::to_string(print["pages"].get<int>()));
    EXPECT_EQ(page.status, 200) << at;
    EXPECT_EQ(page.body.rfind("<svg ", 0), 0U) << at;
    EXPECT_EQ(
        place.ask("GET", at + "?page=" + std::to_string(print["pages"].get<int>() + 1)).status,
        404);
    EXPECT_EQ(place.ask("GET", at + ".pdf").body.rfind("%PDF-", 0), 0U) << at;
    EXPECT_NE(place.ask("GET", at + ".svg").body.find("width=\""), std::string::npos) << at;
    EXPECT_GT(place.ask("GET", at + ".csv").body.size(), 100U) << at;
    EXPECT_EQ(place.ask("GET", at + ".exe").status, 404);
    EXPECT_EQ(place.ask("GET", at + "?page=x").status, 404);
  }
  EXPECT_NE(place.ask("GET", "/api/builds/1/prints/tap-map.csv?charge=20").body,
            place.ask("GET", "/api/builds/1/prints/tap-map.csv?charge=90").body);
  EXPECT_EQ(place.ask("GET", "/api/builds/1/prints/tap-map.csv?charge=900").status, 404);
  EXPECT_EQ(place.ask("GET", "/api/builds/1/prints/nothing").status, 404);
  EXPECT_EQ(place.get("builds/1/plots/nothing")["status"], 404);
  EXPECT_EQ(place.get("builds/1/explain/nothing-like-it")["status"], 404);
  EXPECT_EQ(place.get("builds/1/plots/thrust?ghost=1")["status"], 200);
}

TEST(Asking, NoDrawingCarriesScriptsWhateverIsTyped) {
  Place place;
  place.demo("commuter");
  const std::string nasty = "<script>alert(1)</script><img src=x onerror=alert(1)>\"'&]]>";
  place.post("builds/1/edit", edit(1, {change("motor.name", nasty), change("donor.model", nasty),
                                       change("project.name", nasty)}));
  for (const char* what : {"side.svg", "top.svg", "plots/thrust.svg", "plots/parts.svg",
                           "prints/schematic", "prints/one-line.svg", "prints/labels"}) {
    std::string svg = place.ask("GET", std::string("/api/builds/1/") + what).body;
    // What stands in quotes is text; the quotes themselves must not be closed by what was typed.
    svg = std::regex_replace(svg, std::regex("\"[^\"]*\""), "\"\"");
    EXPECT_EQ(svg.find("<script"), std::string::npos) << what;
    EXPECT_EQ(svg.find("<img"), std::string::npos) << what;
    EXPECT_FALSE(std::regex_search(svg, std::regex("<[^>]*\\son[a-z]+\\s*="))) << what;
    EXPECT_EQ(svg.find("javascript:"), std::string::npos) << what;
  }
}

TEST(Asking, KnownAnswersStandUntilTheirNumbersChange) {
  Place place;
  place.demo("beginner");
  const Json state = place.get("builds/1");
  std::string rule;
  for (const auto& finding : state["findings"]) {
    if (finding["rule"] == "charger-end-voltage" || (rule.empty() && finding["says"] == "clash"))
      rule = finding["rule"];
  }
  const auto known = [&](const Json& s) {
    for (const auto& finding : s["findings"]) {
      if (finding["rule"] == rule) return finding["known"];
    }
    return Json();
  };
  EXPECT_TRUE(known(state).is_null());
  Json said = place.post("builds/1/known", {{"rule", rule}, {"why", "the charger is adjustable"}});
  ASSERT_TRUE(known(said).is_object()) << rule << said.dump().substr(0, 200);
  EXPECT_EQ(known(said)["why"], "the charger is adjustable");
  EXPECT_TRUE(known(said)["still"]);
  EXPECT_EQ(said["counts"], state["counts"]) << "an answer does not make a clash go away";
  // Something else changes: it stands. One of its own numbers changes: it comes back.
  said = place.post("builds/1/edit", edit(1, {change("project.notes", "hello")}));
  EXPECT_TRUE(known(said)["still"]);
  said = place.post("builds/1/edit", edit(2, {change("pack.series", "19")}));
  EXPECT_TRUE(known(said).is_null() || !known(said)["still"]) << known(said);
  said = place.post("builds/1/known", {{"rule", rule}, {"why", ""}});
  EXPECT_TRUE(known(said).is_null());
  EXPECT_EQ(place.post("builds/1/known", {{"rule", "no-such"}, {"why", "x"}})["status"], 400);
}

TEST(Asking, ASheetGoesOutAndComesBack) {
  Place place;
  place.demo("reference");
  const std::string sheet = place.ask("GET", "/api/builds/1/sheet").body;
  const Json back = place.post("import", {{"name", "again"}, {"text", sheet}});
  ASSERT_EQ(back["status"], 200) << back.dump().substr(0, 300);
  const Json compare = place.get("builds/1/compare/2");
  EXPECT_TRUE(compare["differ"].empty()) << compare["differ"];
  const Json bad = place.post(
      "import",
      {{"name", "bad"}, {"text", "wattwright = 1\n[motor]\nmas = \"17 kg\"\nmass = 3\n"}});
  EXPECT_EQ(bad["status"], 400);
  EXPECT_EQ(bad["problems"][0]["line"], 3);
  EXPECT_EQ(bad["problems"][0]["way_out"], "Did you mean 'mass'?");
  EXPECT_EQ(place.get("garage")["builds"].size(), 2U);
}

TEST(Asking, VariantsNamesAndTheShelfForOldBuilds) {
  Place place;
  place.demo("two-parts");
  const Json copy = place.post("builds/1/duplicate", {{"name", "variant"}});
  EXPECT_EQ(copy["build"], 2);
  place.post("builds/2/edit", edit(copy["revision"], {change("motor.mass", "9 kg")}));
  EXPECT_EQ(place.get("builds/1/compare/2")["differ"][0]["path"], "motor.mass");
  EXPECT_EQ(place.post("builds/2/rename", {{"name", "lighter"}})["name"], "lighter");
  EXPECT_EQ(place.post("builds/2/rename", {{"name", " "}})["status"], 400);
  place.post("builds/2/archive", {{"archived", true}});
  const Json garage = place.get("garage");
  for (const auto& build : garage["builds"]) {
    EXPECT_EQ(build["archived"], build["id"] == 2);
    if (build["id"] == 2) {
      EXPECT_EQ(build["from"], 1);
    }
  }
  EXPECT_EQ(place.get("builds/3")["status"], 404);
  EXPECT_EQ(place.get("builds/x")["status"], 404);
  EXPECT_EQ(place.get("builds/0")["status"], 404);
  EXPECT_EQ(place.get("builds/99999999999999999999")["status"], 404);
}

TEST(Asking, OwnPartsLieOnTheShelfAndGoIn) {
  Place place;
  place.post("builds", {{"name", "a"}, {"where", "parts_in_mind"}});
  const std::string text =
      "[[motor]]\nid = \"barn-find\"\nevidence = \"seller\"\ntype = \"pm_radial\"\nmass = \"14 "
      "kg\"\n";
  const Json made =
      place.post("own-parts", {{"shelf", "motor"}, {"text", text}, {"from", "a listing"}});
  ASSERT_EQ(made["status"], 200) << made;
  const std::string own = "own:" + std::to_string(made["id"].get<int>());
  bool there = false;
  for (const auto& part : place.get("shelves/motor")) {
    if (part["id"] == "barn-find") there = part["own"].get<bool>();
  }
  EXPECT_TRUE(there);
  const Json state = place.post("builds/1/edit", edit(1, {change("motor", own)}));
  ASSERT_EQ(state["status"], 200) << state.dump().substr(0, 300);
  EXPECT_EQ(state["values"]["motor.mass"]["text"], "14 kg");
  EXPECT_EQ(state["values"]["motor.mass"]["evidence"], "seller");
  EXPECT_EQ(code(place.post("builds/1/edit", edit(2, {change("controller", own)}))),
            "unknown-part controller");
  const std::string address = "/api/own-parts/" + std::to_string(made["id"].get<int>());
  EXPECT_EQ(place.ask("DELETE", address).status, 400) << "it is in a build";
  place.post("builds/1/edit", edit(2, {change("motor", "")}));
  EXPECT_EQ(place.ask("DELETE", address).status, 200);
  EXPECT_EQ(place.ask("DELETE", address).status, 404);
  EXPECT_EQ(
      place.post("own-parts",
                 {{"shelf", "motor"}, {"text", "[[motor]]\nmass = 3\n"}, {"from", ""}})["status"],
      400);
}

TEST(Asking, AShelfHoldsEachPartAgainstTheBuild) {
  Place place(Place::Options{.runner = run_on_cores});
  place.demo("commuter");
  const Json plain = place.get("shelves/contactor");
  ASSERT_FALSE(plain.empty());
  for (const auto& part : plain) EXPECT_EQ(part["says"], "none");
  const Json held = place.get("shelves/contactor?build=1");
  std::set<std::string> verdicts;
  for (const auto& part : held) {
    verdicts.insert(part["says"]);
    if (part["says"] == "clash") {
      EXPECT_NE(part["why"], "");
    }
  }
  EXPECT_GT(verdicts.size(), 1U) << "not every contactor is alike";
  // The part that is in says what the build itself says.
  EXPECT_EQ(place.get("shelves/cable?build=1&slot=cable_phase").size(),
            place.get("shelves/cable").size());
  EXPECT_EQ(place.get("shelves/cable?build=1&slot=motor")["status"], 400);
  EXPECT_EQ(place.get("shelves/nothing")["status"], 404);
}

TEST(Asking, TwoPartsWithoutABike) {
  Place place;
  const Json held = place.get("hold/motor/harrowmere-hornbeam/controller/harrowmere-beck-48");
  ASSERT_TRUE(held.is_array());
  EXPECT_FALSE(held.empty());
  EXPECT_EQ(place.get("hold/motor/harrowmere-hornbeam/controller/none")["status"], 404);
}

TEST(Asking, AListingBecomesAPart) {
  Place place;
  const Json paste = place.post(
      "paste", {{"text", "Caf\xC3\xA9 find: PM motor, 96 V, 10 kW continuous, 17 kg, 350 EUR"},
                {"kind", "motor"}});
  ASSERT_EQ(paste["status"], 200) << paste;
  EXPECT_EQ(paste["kind"], "motor");
  ASSERT_FALSE(paste["figures"].empty());
  const std::u16string text = u"Caf\u00E9 find: PM motor, 96 V, 10 kW continuous, 17 kg, 350 EUR";
  for (const auto& figure : paste["figures"]) {
    const auto begin = figure["begin"].get<std::size_t>(), end = figure["end"].get<std::size_t>();
    if (end == 0) continue;
    std::string there;
    for (const char16_t c : text.substr(begin, end - begin))
      there += c < 128 ? static_cast<char>(c) : '?';
    EXPECT_EQ(there, figure["words"]) << "places count as the page counts";
  }
  const Json made = place.post(
      "own-parts", {{"shelf", paste["kind"]}, {"text", paste["part_text"]}, {"from", "listing"}});
  EXPECT_EQ(made["status"], 200) << made;
}

TEST(Asking, JournalAndPhotos) {
  Place place;
  place.demo("two-parts");
  Json entries = place.post("builds/1/journal",
                            {{"text", "Engine out."}, {"hours", 2.5}, {"money", "120.50"}});
  ASSERT_TRUE(entries.is_array()) << entries;
  EXPECT_EQ(entries[0]["hours"], 2.5);
  EXPECT_EQ(entries[0]["money"], "120.50");
  EXPECT_EQ(place.post("builds/1/journal",
                       {{"text", "x"}, {"hours", nullptr}, {"money", "lots"}})["status"],
            400);
  std::string png = "\x89PNG\r\n\x1a\n";
  png += std::string(100, 'x');
  Request request = place.request("POST", "/api/builds/1/photos?caption=bay&field=donor", png);
  EXPECT_EQ(place.site->answer(request).status, 415) << "a picture is no JSON";
  for (auto& [name, value] : request.head.fields) {
    if (name == "content-type") value = "image/png";
  }
  EXPECT_EQ(place.site->answer(request).status, 200);
  EXPECT_EQ(place.get("builds/1/photos")[0]["caption"], "bay");
  const Response picture = place.ask("GET", "/api/photos/1");
  EXPECT_EQ(picture.media, "image/png");
  EXPECT_EQ(picture.body, png);
  request.body = "<svg xmlns='http://www.w3.org/2000/svg'/>";
  EXPECT_EQ(place.site->answer(request).status, 415);
}

TEST(Asking, EventsTellTheStateAndThatItIsFull) {
  Place place(Place::Options{.background = true, .runner = run_on_cores});
  const auto listener = place.events.listen();
  place.demo("two-parts");
  const Json full = place.get("builds/1?ready=full");
  EXPECT_EQ(full["ready"], "full");
  std::string heard;
  for (int i = 0; i < 200 && heard.find("full") == std::string::npos; ++i) {
    heard += listener->take();
    usleep(5000);
  }
  EXPECT_NE(heard.find("event: state\ndata: {\"build\":1,\"revision\":1,\"ready\":\"first\"}"),
            std::string::npos)
      << heard;
  EXPECT_NE(heard.find("event: state\ndata: {\"build\":1,\"revision\":1,\"ready\":\"full\"}"),
            std::string::npos)
      << heard;
}

TEST(Asking, WhoWaitsForTheFullStateGetsTheNewest) {
  Place place(Place::Options{.background = true, .runner = run_on_cores});
  place.demo("beginner");
  std::int64_t revision = 1;
  for (int i = 0; i < 5; ++i) {
    const Json state = place.post(
        "builds/1/edit", edit(revision, {change("gearing.rear_teeth", std::to_string(50 + i))}));
    ASSERT_EQ(state["status"], 200);
    revision = state["revision"];
  }
  const Json full = place.get("builds/1?ready=full");
  EXPECT_EQ(full["revision"], revision);
  EXPECT_EQ(full["ready"], "full");
  EXPECT_EQ(full["values"]["gearing.rear_teeth"]["text"], "54");
}

// ---- getting in

TEST(GettingIn, OnlyThePrintedKeyGivesACookie) {
  Place place;
  const auto open = [&](const std::string& target, bool loopback = true) {
    return place.site->answer({{"GET", target, {{"host", place.host}}, loopback}, {}});
  };
  EXPECT_EQ(open("/api/garage").status, 401);
  EXPECT_EQ(open("/?key=" + std::string(32, '0')).status, 401);
  EXPECT_EQ(open("/?key=" + place.site->key(), false).status, 401)
      << "the printed key is for this machine";
  const Response in = open("/?key=" + place.site->key());
  EXPECT_EQ(in.status, 303);
  std::string cookie;
  for (const auto& [name, value] : in.headers) {
    if (name == "Set-Cookie") cookie = value;
  }
  EXPECT_NE(cookie.find("; HttpOnly; SameSite=Strict; Path=/"), std::string::npos);
  EXPECT_EQ(cookie.find(place.site->key()), std::string::npos) << "the cookie is not the key";
  EXPECT_EQ(open("/").status, 200);
  EXPECT_EQ(open("/nothing.js").status, 404);
  EXPECT_EQ(place.get("pairing")["status"], 404) << "without --lan there is no pairing";
}

TEST(GettingIn, APhoneIsPairedOnceWithItsOwnKey) {
  Place place(Place::Options{.lan = true});
  const auto phone = [&](const std::string& target, const std::string& cookie = {}) {
    Head head{"GET", target, {{"host", place.host}}, false};
    if (!cookie.empty()) head.fields.emplace_back("cookie", cookie);
    return place.site->answer({head, {}});
  };
  EXPECT_EQ(phone("/").headers[0].second, "/pair") << "a stranger is led to the code";
  EXPECT_EQ(phone("/api/garage").status, 401);
  const Json open = place.post("pairing", Json::object());
  ASSERT_TRUE(open["open"]) << open;
  EXPECT_EQ(open["seconds"], 120);
  EXPECT_NE(open["svg"], "");
  const std::string code = open["code"];
  const std::string other = code == "000000" ? "000001" : "000000";
  EXPECT_EQ(phone("/?pair=" + other).headers[0].second, "/pair?wrong=1");
  const Response in = phone("/?pair=" + code);
  ASSERT_EQ(in.headers[0].second, "/");
  const std::string cookie = in.headers[1].second.substr(0, in.headers[1].second.find(';'));
  EXPECT_NE(cookie, place.cookie);
  EXPECT_EQ(phone("/api/garage", cookie).status, 200);
  EXPECT_EQ(phone("/", cookie).status, 200);
  EXPECT_EQ(phone("/?pair=" + code).headers[0].second, "/pair?closed=1") << "used up";
  EXPECT_EQ(phone("/api/pairing", cookie).status, 403) << "only the machine itself opens pairing";
  EXPECT_EQ(place.get("pairing")["devices"], 1);
}

}  // namespace
}  // namespace ww::serve::test
