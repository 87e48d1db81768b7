// SPDX-License-Identifier: MIT
// The engine: verdicts with their spread, evidence, what is unmeasured, and ways out that hold when
// run afresh.
#include "fit/engine.h"

#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "fit/desk.h"
#include "tests/support/world.h"

namespace ww::fit {
namespace {

using support::cycles;
using support::demo;
using support::library;

constexpr ride::RideOptions quick{
    .draws = 64, .seed = 1, .pushes = false, .wanted = ride::every_answer, .widest_kernel = 8};

std::vector<Finding> run(const Build& build, bool ways_out) {
  return check(build, ride::ride(build, cycles(), quick), library(), cycles(),
               {.runner = ride::run_in_turn,
                .ways_out = ways_out,
                .units = figure::System::metric,
                .overrides = nullptr});
}

const Finding* find(const std::vector<Finding>& findings, std::string_view id) {
  for (const auto& finding : findings) {
    if (finding.rule->id == id) return &finding;
  }
  return nullptr;
}

Build two_parts(const char* controller_max) {
  Build b;
  const auto set = [&](const char* path, const char* text) {
    ASSERT_TRUE(build::set_from_text(b, build::id_of(path), text).has_value()) << path;
  };
  set("pack.series", "20");
  set("cell.voltage_max", "4.2 V +- 0 V");
  set("controller.voltage_max", controller_max);
  return b;
}

TEST(Engine, ABlockingRuleOnHearsaySaysSo) {
  Build b = two_parts("96 V");
  b.cell->voltage_max.evidence = figure::Evidence::hearsay;
  b.controller->voltage_max.evidence = figure::Evidence::measured;
  const auto finding = check_one(b, ride::Ride{}, *rule_book().find("pack-voltage-at-controller"));
  ASSERT_TRUE(finding.has_value());
  EXPECT_EQ(finding->verdict, Verdict::fits);
  ASSERT_EQ(finding->weak.size(), 1U);
  EXPECT_EQ(build::schema()[finding->weak[0]].path, "cell.voltage_max");
}

TEST(Engine, TheSentenceCarriesTheNumbers) {
  const auto finding =
      check_one(two_parts("80 V"), ride::Ride{}, *rule_book().find("pack-voltage-at-controller"));
  ASSERT_TRUE(finding.has_value());
  EXPECT_EQ(finding->verdict, Verdict::clash);
  EXPECT_NE(finding->because.find("84 V"), std::string::npos);
  EXPECT_NE(finding->because.find("80 V"), std::string::npos);
  EXPECT_EQ(finding->because.find_first_of("{}"), std::string::npos);
}

TEST(Engine, APhysicsRuleReadsTheBandOfTheRide) {
  Build b;
  for (const char* slot : {"motor", "controller", "pack"}) build::schema().slot(slot)->make(b);
  ASSERT_TRUE(build::set_from_text(b, build::id_of("wishes.hold_speed"), "100 km/h").has_value());
  const Rule& rule = *rule_book().find("wish-hold-speed");
  const int answer = static_cast<int>(ride::Answer::speed_hold_hour);
  const auto says = [&](double value, double half) {
    Overrides overrides;
    overrides.answers[answer] = {value - half, value, value + half};
    return check_one(b, ride::Ride{}, rule, &overrides)->verdict;
  };
  EXPECT_EQ(says(30, 0.5), Verdict::fits);
  EXPECT_EQ(says(28, 0.5), Verdict::tight);
  EXPECT_EQ(says(27.7, 5),
            Verdict::clash);  // nominal beyond the limit is a clash whatever the spread
}

// Independent figures: squares of their pushes, summed. A rule that blocks energising takes p1 to
// p99, which is 2.3263/1.2816 of p10 to p90 (table of the normal distribution).
TEST(Engine, TheBandIsTheRootOfTheSquares) {
  Build b = two_parts("96 V");
  const auto cell = build::id_of("cell.voltage_max"), display = build::id_of("display.supply_max");
  ASSERT_TRUE(build::set_from_text(b, cell, "4.2 V +- 0.03 V").has_value());
  ASSERT_TRUE(build::set_from_text(b, display, "90 V +- 1 V").has_value());
  for (const auto field : {cell, display})
    build::figure_at(b, field)->evidence = figure::Evidence::measured;
  const auto voltage = check_one(b, ride::Ride{}, *rule_book().find("display-supply-full"));
  ASSERT_TRUE(voltage.has_value());
  ASSERT_EQ(voltage->rule->blocks, Blocks::energising);
  EXPECT_NEAR(voltage->band, 2.3263 / 1.2816 * std::hypot(20 * 0.03, 1.0), 2e-3);

  for (const char* slot : {"motor", "controller", "pack"}) build::schema().slot(slot)->make(b);
  ASSERT_TRUE(build::set_from_text(b, build::id_of("wishes.hold_speed"), "100 km/h").has_value());
  Overrides overrides;
  overrides.answers[static_cast<int>(ride::Answer::speed_hold_hour)] = {29, 30, 33};
  const auto wish = check_one(b, ride::Ride{}, *rule_book().find("wish-hold-speed"), &overrides);
  ASSERT_TRUE(wish.has_value());
  ASSERT_NE(wish->rule->blocks, Blocks::energising);
  EXPECT_NEAR(wish->band, 0.5 * (33 - 29), 1e-9);
}

// The short way to a clash, which the ways out take, and the long way to a verdict.
TEST(Engine, ClashIsToldTheSameWithoutTheSpread) {
  int clashes = 0, on_assumptions = 0;
  for (const char* name : {"reference", "dream", "two-parts", "beginner"}) {
    for (const double heavier : {1.0, 4.0}) {  // so that some clash on figures that are assumed
      Build b = demo(name);
      if (heavier > 1 && b.rider) build::set_number(b, build::id_of("rider.mass"), 120 * heavier);
      if (heavier > 1) b.limits = {};
      const auto ride = ride::ride(b, cycles(), quick);
      const Numbers numbers(b);
      const Desk desk(b, numbers, ride);
      for (std::size_t i = 0; i < rule_book().rules().size(); ++i) {
        const auto finding = desk.judge(i);
        const bool clash = finding && finding->verdict == Verdict::clash;
        EXPECT_EQ(desk.clashes(i), clash) << name << ": " << rule_book().rules()[i].id;
        clashes += clash;
        on_assumptions += finding && !finding->assumed.empty();
      }
    }
  }
  EXPECT_GT(clashes, 3);
  EXPECT_GT(on_assumptions, 3);
}

TEST(Engine, EveryDemoRunsAndNoSentenceHasAHole) {
  for (const char* name : {"reference", "commuter", "dream"}) {
    for (const Finding& finding : run(demo(name), false)) {
      EXPECT_EQ(finding.because.find_first_of("{}"), std::string::npos) << finding.rule->id;
      EXPECT_EQ(finding.because.find("nan"), std::string::npos)
          << finding.rule->id << ": " << finding.because;
      if (finding.verdict == Verdict::unmeasured) {
        EXPECT_FALSE(finding.missing.empty() && finding.missing_answers.empty())
            << finding.rule->id;
      } else {
        EXPECT_FALSE(finding.because.empty()) << finding.rule->id;
      }
    }
  }
}

TEST(WaysOut, HoldWhenEverythingIsRunAfresh) {
  Build b = demo("reference");
  ASSERT_TRUE(build::set_from_text(b, build::id_of("controller.voltage_max"), "80 V").has_value());
  ASSERT_TRUE(
      build::set_from_text(b, build::id_of("donor.swingarm_to_sprocket"), "140 mm").has_value());
  const auto before = run(b, true);
  int tried = 0;
  for (const Finding& finding : before) {
    EXPECT_LE(finding.ways_out.size(), 3U);
    for (const WayOut& way : finding.ways_out) {
      Build changed = b;
      for (const auto& [path, text] : way.sets) {
        const build::Id id = build::id_of(path);
        const auto& entry = build::schema()[id];
        if (entry.info->key == "part") {
          build::put_part(changed, *entry.slot, *library().find(entry.slot->shelf, text));
        } else {
          ASSERT_TRUE(build::set_from_text(changed, id, text).has_value()) << path << " = " << text;
        }
      }
      const auto after = run(changed, false);
      const Finding* now = find(after, finding.rule->id);
      const Verdict verdict = now == nullptr ? Verdict::fits : now->verdict;
      EXPECT_NE(verdict, Verdict::clash) << finding.rule->id << ": " << way.text;
      for (const Finding& other : after) {
        if (other.verdict != Verdict::clash) continue;
        const Finding* was = find(before, other.rule->id);
        EXPECT_TRUE(was != nullptr && was->verdict == Verdict::clash)
            << way.text << " makes " << other.rule->id << " a clash: " << other.because;
      }
      ++tried;
    }
  }
  EXPECT_GE(tried, 3);
  const Finding* voltage = find(before, "pack-voltage-at-controller");
  ASSERT_NE(voltage, nullptr);
  EXPECT_EQ(voltage->verdict, Verdict::clash);
  EXPECT_FALSE(voltage->ways_out.empty());
}

// A spring that clashes has a way out: the rate that the new load wants, in the sheet's own field.
TEST(WaysOut, ASpringThatDoesNotSuitTheNewLoadIsExchanged) {
  Build b = demo("commuter");
  const auto set = [&](const char* path, const char* text) {
    ASSERT_TRUE(build::set_from_text(b, build::id_of(path), text).has_value()) << path;
  };
  set("donor.sprung_front", "40 kg");
  set("donor.sprung_rear", "45 kg");
  set("layout.spring_front", "0.4 kg/mm");
  set("layout.spring_rear", "1 kg/mm");
  const auto findings = run(b, true);
  for (const char* id : {"spring-rate-front", "spring-rate-rear"}) {
    const Finding* finding = find(findings, id);
    ASSERT_NE(finding, nullptr) << id;
    ASSERT_EQ(finding->verdict, Verdict::clash) << finding->because;
    ASSERT_FALSE(finding->ways_out.empty()) << id;
    const WayOut& way = finding->ways_out[0];
    EXPECT_EQ(way.becomes, Verdict::fits) << way.text;
    Build changed = b;
    for (const auto& [path, text] : way.sets)
      ASSERT_TRUE(build::set_from_text(changed, build::id_of(path), text).has_value()) << text;
    EXPECT_EQ(find(run(changed, false), id)->verdict, Verdict::fits) << way.text;
  }
}

TEST(WaysOut, AStudThatTheLugDoesNotFitGetsItsOwn) {
  Build b = demo("commuter");
  ASSERT_TRUE(build::set_from_text(b, build::id_of("contactor.stud"), "m6").has_value());
  const auto findings = run(b, true);
  const Finding* finding = find(findings, "lug-on-contactor");
  ASSERT_NE(finding, nullptr);
  ASSERT_EQ(finding->verdict, Verdict::clash);
  ASSERT_FALSE(finding->ways_out.empty());
  EXPECT_EQ(finding->ways_out[0].sets[0], (std::pair<std::string, std::string>{"lug.holes", "m6"}));
  EXPECT_EQ(finding->ways_out[0].becomes, Verdict::fits);
}

// What can hurt first, then what stands before the declared step, then money.
TEST(Engine, OrdersByWhatIsEndangered) {
  Build b = demo("beginner");
  for (const auto step : {build::Step::buying, build::Step::riding}) {
    b.project.next_step = step;
    const auto findings = run(b, false);
    for (std::size_t i = 1; i < findings.size(); ++i) {
      const Finding &before = findings[i - 1], &after = findings[i];
      if (before.verdict != after.verdict) continue;
      const Rule &first = *before.rule, &second = *after.rule;
      EXPECT_GE(first.can_hurt, second.can_hurt) << first.id << ", " << second.id;
      if (first.can_hurt != second.can_hurt) continue;
      const bool waits = stands_before(step, first.blocks),
                 waits_too = stands_before(step, second.blocks);
      EXPECT_GE(waits, waits_too) << first.id << ", " << second.id;
      if (!waits || !waits_too) continue;
      EXPECT_GE(first.ignoring.cost_high, second.ignoring.cost_high)
          << first.id << ", " << second.id;
    }
    EXPECT_TRUE(findings.front().rule->can_hurt);
  }
  EXPECT_TRUE(stands_before(build::Step::energising, Blocks::buying));
  EXPECT_FALSE(stands_before(build::Step::buying, Blocks::energising));
  EXPECT_FALSE(stands_before(build::Step::dreaming, Blocks::buying));
}

/// Every part of the library in its slot of a build, what the slot said taken out first where
/// asked.
template <class Work>
void with_every_part(const Build& build, const Work& work) {
  for (const auto& slot : build::schema().slots()) {
    if (!slot.is_part) continue;
    for (const auto& part : library().shelf(slot.shelf)) {
      Build changed = build;
      build::put_part(changed, slot, part);
      work(changed, slot, part);
    }
  }
}

TEST(Numbers, OfAChangedSlotAreThoseOfTheWholeBuild) {
  for (const char* name : {"beginner", "reference"}) {
    const Build build = demo(name);
    const Numbers base(build);
    const auto holds = [&](const Build& changed, const build::Slot& slot) {
      const Numbers whole(changed), part(base, changed, slot);
      ASSERT_EQ(part.soft.size(), whole.soft.size());
      for (Id id = 0; id < build::schema().size(); ++id)
        ASSERT_TRUE(part.same(whole, id)) << build::schema()[id].path;
    };
    with_every_part(build, [&](const Build& changed, const build::Slot& slot,
                               const build::LibraryPart&) { holds(changed, slot); });
    // A class and a posture decide what is assumed of the bike.
    for (const char* set :
         {"donor.bike_class=scooter_125_300", "rider.posture=upright", "limits.regen=no"}) {
      Build changed = build;
      const std::string text(set);
      const Id id = build::id_of(text.substr(0, text.find('=')));
      if (!build::set_from_text(changed, id, text.substr(text.find('=') + 1))) {
        ADD_FAILURE() << set;
        continue;
      }
      holds(changed, *build::schema()[id].slot);
    }
  }
}

TEST(Rules, UntouchedByAChangeSayWhatTheySaid) {
  const Build build = demo("beginner");
  const ride::Ride ride = ride::ride(build, cycles(), quick);
  const Numbers numbers(build);
  const Desk before(build, numbers, ride);
  int untouched = 0, turned = 0;
  with_every_part(
      build, [&](const Build& changed, const build::Slot& slot, const build::LibraryPart& part) {
        const Numbers now(numbers, changed, slot);
        const auto touched = touched_rules({build, numbers}, {changed, now}, slot);
        const Desk after(changed, now, ride);
        for (std::size_t i = 0; i < touched.size(); ++i) {
          const bool same = before.clashes(i) == after.clashes(i);
          EXPECT_EQ(after.clashes(i), after.verdict(i) == Verdict::clash);
          if (touched[i] == 0) {
            EXPECT_TRUE(same) << rule_book().rules()[i].id << " with " << part.id;
            ++untouched;
          }
          turned += same ? 0 : 1;
        }
      });
  EXPECT_GT(untouched, 1000);
  EXPECT_GT(turned, 100);
}

TEST(RuleBook, NamesWhatARuleReadsThroughItsFacts) {
  const auto& book = rule_book();
  for (std::size_t i = 0; i < book.rules().size(); ++i) {
    if (book.rules()[i].id != "pack-voltage-at-controller") continue;
    const auto& leaves = book.leaves(i);
    EXPECT_EQ(std::set<Id>(leaves.begin(), leaves.end()),
              (std::set<Id>{build::id_of("pack.series"), build::id_of("cell.voltage_max"),
                            build::id_of("controller.voltage_max")}));
  }
}

}  // namespace
}  // namespace ww::fit
