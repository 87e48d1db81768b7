// SPDX-License-Identifier: MIT
// Every rule against its cases in tests/fit/cases/*.tsv:
//   rule  verdict  sets: "path=text; path=text @evidence; ride.key=number in SI [+- half width]"
// and every number of tests/fit/facts.tsv: fact  number in SI, or none  sets.
// A case starts from an empty build. A figure set in a case is exact unless it states a spread, and
// measured unless it states its evidence.
// `absent` as verdict: the rule does not apply. `slot:motor` creates an empty part.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <sstream>

#include "base/text.h"
#include "fit/engine.h"

namespace ww::fit {
namespace {

struct Case {
  std::string place, rule, verdict, sets;
};

std::vector<Case> cases_in(const std::vector<std::filesystem::path>& files) {
  std::vector<Case> cases;
  for (const auto& file : files) {
    std::ifstream in(file);
    std::string line;
    for (int number = 1; std::getline(in, line); ++number) {
      if (trim(line).empty() || line[0] == '#') continue;
      const auto cells = split(line, '\t');
      const std::string place = file.filename().string() + ":" + std::to_string(number);
      EXPECT_EQ(cells.size(), 3U) << place;
      if (cells.size() == 3)
        cases.push_back({place, std::string(trim(cells[0])), std::string(trim(cells[1])),
                         std::string(trim(cells[2]))});
    }
  }
  return cases;
}

std::vector<Case> all_cases() {
  std::vector<std::filesystem::path> files;
  for (const auto& entry : std::filesystem::directory_iterator(WW_SOURCE_DIR "/tests/fit/cases")) {
    if (entry.path().extension() == ".tsv") files.push_back(entry.path());
  }
  std::sort(files.begin(), files.end());
  return cases_in(files);
}

void set_answer(Overrides& overrides, std::string_view key, const std::string& text,
                const std::string& place) {
  for (const auto& info : ride::answer_table()) {
    if (info.key != key) continue;
    std::istringstream words(text);
    double value = 0, half = 0;
    std::string plus_minus;
    words >> value;
    if (words >> plus_minus) words >> half;
    overrides.answers[static_cast<int>(info.answer)] = {value - half, value, value + half};
    return;
  }
  ADD_FAILURE() << place << ": no ride answer " << key;
}

/// The build of a case.
Build build_of(const Case& c, Overrides& overrides) {
  Build build;
  for (const auto piece : split(c.sets, ';')) {
    const auto text = trim(piece);
    if (text.empty()) continue;
    if (text.rfind("slot:", 0) == 0) {
      const auto* slot = build::schema().slot(text.substr(5));
      EXPECT_NE(slot, nullptr) << c.place << ": " << text;
      if (slot != nullptr) slot->make(build);
      continue;
    }
    const auto equals = text.find('=');
    if (equals == std::string_view::npos) {
      ADD_FAILURE() << c.place << ": '" << text << "' is not path=value";
      continue;
    }
    const auto path = trim(text.substr(0, equals));
    const auto at = std::min(text.find('@', equals), text.size());
    const std::string value(trim(text.substr(equals + 1, at - equals - 1)));
    auto evidence = figure::Evidence::measured;
    if (at < text.size()) {
      const auto said = figure::read_evidence(text.substr(at + 1));
      EXPECT_TRUE(said.has_value()) << c.place;
      evidence = said ? *said : evidence;
    }
    if (path.rfind("ride.", 0) == 0) {
      set_answer(overrides, path.substr(5), value, c.place);
      continue;
    }
    const Id id = build::schema().find(path);
    if (id < 0) {
      ADD_FAILURE() << c.place << ": no field " << path;
      continue;
    }
    const auto set = build::set_from_text(build, id, value);
    EXPECT_TRUE(set.has_value()) << c.place << ": " << (set ? "" : describe(set.error()));
    if (auto* figure = build::figure_at(build, id); figure != nullptr) {
      figure->evidence = evidence;
      if (std::isnan(figure->half_width)) figure->half_width = 0;
    }
  }
  return build;
}

TEST(Rules, EveryCaseGivesItsVerdict) {
  const ride::Ride no_ride = ride::ride(Build{}, ride::Cycles{});
  std::map<std::string, std::set<std::string>> seen;
  for (const Case& c : all_cases()) {
    const Rule* rule = rule_book().find(c.rule);
    ASSERT_NE(rule, nullptr) << c.place << ": no rule " << c.rule;
    Overrides overrides;
    const Build build = build_of(c, overrides);
    const auto finding = check_one(build, no_ride, *rule, &overrides);
    const std::string got = finding ? std::string(word(finding->verdict)) : "absent";
    EXPECT_EQ(got, c.verdict) << c.place << ": " << c.rule << " "
                              << (finding ? finding->because : "");
    if (finding && finding->verdict != Verdict::unmeasured) {
      EXPECT_FALSE(finding->because.empty()) << c.place;
    }
    if (finding && finding->verdict == Verdict::unmeasured) {
      EXPECT_FALSE(finding->missing.empty() && finding->missing_answers.empty())
          << c.place << ": unmeasured, but nothing is named";
    }
    seen[c.rule].insert(c.verdict);
  }
  for (const Rule& rule : rule_book().rules()) {
    const auto& verdicts = seen[std::string(rule.id)];
    for (const char* verdict : {"fits", "clash", "tight", "unmeasured"}) {
      const bool possible = verdict_possible(rule, verdict);
      EXPECT_EQ(verdicts.count(verdict) > 0, possible)
          << rule.id << ": a case for '" << verdict << "' is "
          << (possible ? "missing" : "not foreseen");
    }
  }
}

// Numbers that rules share and that no verdict pins down: categories, switches, sums for show.
TEST(Facts, EveryCaseGivesItsNumber) {
  const ride::Ride no_ride = ride::ride(Build{}, ride::Cycles{});
  for (const Case& c : cases_in({WW_SOURCE_DIR "/tests/fit/facts.tsv"})) {
    ASSERT_NE(rule_book().fact(c.rule), nullptr) << c.place << ": no fact " << c.rule;
    Overrides none;
    const auto [value, missing] = fact_value(build_of(c, none), no_ride, c.rule);
    // What a fact cannot do without is named; of its options any would do.
    EXPECT_EQ(missing.empty(), c.verdict != "none" || rule_book().fact(c.rule)->needs.empty())
        << c.place << ": " << c.rule;
    if (c.verdict == "none") {
      EXPECT_TRUE(std::isnan(value)) << c.place << ": " << c.rule << " " << value;
      continue;
    }
    std::istringstream text(c.verdict);
    double expected = std::nan("");
    text >> expected;
    EXPECT_NEAR(value, expected, 1e-4 * std::fabs(expected)) << c.place << ": " << c.rule;
  }
}

TEST(Rules, IdsAreUniqueAndEverythingIsSaid) {
  std::set<std::string_view> ids;
  for (const Rule& rule : rule_book().rules()) {
    EXPECT_TRUE(ids.insert(rule.id).second) << rule.id << " stands twice";
    EXPECT_FALSE(rule.title.empty()) << rule.id;
    EXPECT_FALSE(rule.clash.empty() && rule.tight.empty()) << rule.id;
    EXPECT_FALSE(rule.fits.empty()) << rule.id;
    EXPECT_FALSE(rule.source.empty()) << rule.id;
    EXPECT_FALSE(rule.ignoring.text.empty()) << rule.id;
    EXPECT_FALSE(rule.needs.empty()) << rule.id;
    EXPECT_NE(rule.judge, nullptr) << rule.id;
  }
}

}  // namespace
}  // namespace ww::fit
