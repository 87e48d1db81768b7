// SPDX-License-Identifier: MIT
// The net list: complete, consistent, and protected, on every demo and on builds answered at
// random.
#include "wiring/circuit.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "tests/support/circuits.h"

namespace ww::wiring {
namespace {

using build::Build;

using support::demo;

using support::answered_at_random;
using support::demos;

void expect_sound(const Circuit& c) {
  std::set<std::string> labels, ids;
  for (const Device& d : c.devices) {
    EXPECT_TRUE(ids.insert(d.id).second) << d.id;
    EXPECT_FALSE(d.why.empty()) << d.id;
  }
  std::set<int> joined;
  for (const Wire& w : c.wires) {
    EXPECT_TRUE(labels.insert(w.label).second) << w.label;
    EXPECT_FALSE(w.why.empty()) << w.label;
    EXPECT_FALSE(w.colour.empty()) << w.label;
    EXPECT_NE(w.from, w.to) << w.label;
    EXPECT_GT(w.length_m, 0) << w.label;
    EXPECT_GE(w.cores, 1) << w.label;
    EXPECT_FALSE(w.length_from.empty()) << w.label;
    if (!w.fuse.empty()) {
      EXPECT_NE(c.device(w.fuse), nullptr) << w.label << " " << w.fuse;
    }
    joined.insert(w.from);
    joined.insert(w.to);
    // Both ends lie in the wire's net, and nowhere else.
    int found = 0;
    for (std::size_t n = 0; n < c.nets.size(); ++n) {
      const auto& ends = c.nets[n].terminals;
      const auto has = [&](int t) { return std::find(ends.begin(), ends.end(), t) != ends.end(); };
      if (!has(w.from) && !has(w.to)) continue;
      ++found;
      EXPECT_TRUE(has(w.from) && has(w.to)) << w.label;
      EXPECT_EQ(w.net, static_cast<int>(n)) << w.label;
    }
    EXPECT_EQ(found, 1) << w.label;
  }
  for (const Bar& bar : c.bars) {
    joined.insert(bar.from);
    joined.insert(bar.to);
  }
  // No open end: whatever has a terminal is joined to something.
  for (std::size_t t = 0; t < c.terminals.size(); ++t)
    EXPECT_EQ(joined.count(static_cast<int>(t)), 1U) << c.end_text(static_cast<int>(t));
  for (const Gap& gap : c.gaps) {
    EXPECT_FALSE(gap.what.empty());
    EXPECT_FALSE(gap.because.empty()) << gap.what;
    EXPECT_FALSE(gap.way_out.empty()) << gap.what;
  }
}

/// With the fuse out that a wire names, the pack's plus must not reach either of the wire's ends.
void expect_protected(const Circuit& c) {
  const int plus = terminal_of(c, "pack.+");
  ASSERT_GE(plus, 0);
  for (const Wire& w : c.wires) {
    if (w.fuse.empty() || w.fuse == "sense_fuses" || c.device(w.fuse) == nullptr) continue;
    // What comes the other way round, through the pre-charge resistor, the resistor limits.
    const auto live = reached(c, plus, {w.fuse, "precharge"});
    const auto is_live = [&](int t) { return std::binary_search(live.begin(), live.end(), t); };
    EXPECT_FALSE(is_live(w.from) || is_live(w.to))
        << w.label << " is live with " << w.fuse << " out";
  }
}

TEST(Circuit, IsSoundOnEveryDemo) {
  for (const auto& name : demos()) {
    SCOPED_TRACE(name);
    const Circuit c = circuit(demo(name));
    expect_sound(c);
    expect_protected(c);
  }
}

TEST(Circuit, IsSoundHoweverTheQuestionsAreAnswered) {
  for (unsigned seed = 1; seed <= 200; ++seed) {
    SCOPED_TRACE(seed);
    const Circuit c = circuit(answered_at_random(seed));
    expect_sound(c);
    expect_protected(c);
    if (testing::Test::HasFailure()) break;
  }
}

TEST(Circuit, CurrentReachesTheMotorControllerAndComesBack) {
  const Circuit c = circuit(demo("commuter"));
  const auto live = reached(c, terminal_of(c, "pack.+"), {});
  const auto has = [&](const char* end) {
    const int t = terminal_of(c, end);
    EXPECT_GE(t, 0) << end;
    return std::binary_search(live.begin(), live.end(), t);
  };
  EXPECT_TRUE(has("controller.B+"));
  EXPECT_TRUE(has("charger.+"));
  EXPECT_TRUE(has("dcdc.in+"));
  EXPECT_FALSE(has("controller.B-"));
  EXPECT_FALSE(has("fuse_box.bus"));  // the converter does not pass the pack to the 12 V side
  const auto back = reached(c, terminal_of(c, "controller.B-"), {});
  EXPECT_TRUE(std::binary_search(back.begin(), back.end(), terminal_of(c, "pack.-")) ||
              c.device("bms") != nullptr);
  // The contactor open and the pre-charge out: the controller is dead.
  const auto off = reached(c, terminal_of(c, "pack.+"), {"contactor", "precharge_fuse"});
  EXPECT_FALSE(std::binary_search(off.begin(), off.end(), terminal_of(c, "controller.B+")));
  EXPECT_TRUE(std::binary_search(off.begin(), off.end(), terminal_of(c, "charger.+")));
}

TEST(Circuit, EveryInterlockOpensTheCoil) {
  const Circuit c = circuit(demo("commuter"));
  const int source = terminal_of(c, "fuse_loop.out"), coil = terminal_of(c, "contactor.coil+");
  const auto closed = reached(c, source, {});
  EXPECT_TRUE(std::binary_search(closed.begin(), closed.end(), coil));
  for (const char* one : {"key", "kill", "stand_switch", "tilt", "inlet_switch", "lid"}) {
    ASSERT_NE(c.device(one), nullptr) << one;
    const auto open = reached(c, source, {one});
    EXPECT_FALSE(std::binary_search(open.begin(), open.end(), coil)) << one;
  }
}

TEST(Circuit, AnInterlockAnsweredNoIsNotInItAndIsAMistake) {
  Build build = demo("commuter");
  build.wiring.stand_switch = build::Answer::no;
  const Circuit c = circuit(build);
  EXPECT_EQ(c.device("stand_switch"), nullptr);
  EXPECT_EQ(std::count_if(c.gaps.begin(), c.gaps.end(),
                          [](const Gap& g) {
                            return g.kind == Gap::Kind::mistake && g.rule == "stand-and-tilt";
                          }),
            1);
  build.wiring.stand_switch = build::Answer::unknown;
  const Circuit drawn = circuit(build);
  ASSERT_NE(drawn.device("stand_switch"), nullptr);
  EXPECT_EQ(drawn.device("stand_switch")->presence, Presence::assumed);
}

TEST(Circuit, LabelsStayWhenAPartIsAdded) {
  Build with = demo("commuter");
  Build without = with;
  without.display.reset();
  without.pack->mid_disconnect = build::Answer::no;
  with.pack->mid_disconnect = build::Answer::no;
  const Circuit a = circuit(with), b = circuit(without);
  for (const Wire& wire : b.wires) {
    const Wire* same = a.wire(wire.label);
    if (same == nullptr) continue;
    EXPECT_EQ(same->group, wire.group) << wire.label;
    // Only what the display's shunt is put into may end elsewhere.
    if (wire.group == Group::supply || wire.group == Group::interlock) {
      EXPECT_EQ(a.end_text(same->to), b.end_text(wire.to)) << wire.label;
    }
  }
}

TEST(Circuit, TheLoopsLengthsAddUpToTheString) {
  Build build = demo("commuter");
  build.pack->mid_disconnect = build::Answer::no;
  const Circuit c = circuit(build);
  double sum = 0;
  for (const Wire& wire : c.wires) {
    if (wire.carries == Carries::traction) sum += wire.length_m;
  }
  EXPECT_NEAR(sum, build.wiring.loop_length.value, 1e-9);
}

TEST(Circuit, AWireOfTheSheetIsTakenAndAnUnknownOneNamed) {
  Build build = demo("commuter");
  build.wires.push_back({.label = "T4",
                         .colour = "orange and blue",
                         .route = "under the tank",
                         .length = {},
                         .section = {}});
  build.wires.back().length.value = 1.75;
  build.wires.back().section.value = 70e-6;
  build.wires.push_back({.label = "T77", .colour = {}, .route = {}, .length = {}, .section = {}});
  const Circuit c = circuit(build);
  const Wire* wire = c.wire("T4");
  ASSERT_NE(wire, nullptr);
  EXPECT_EQ(wire->length_m, 1.75);
  EXPECT_FALSE(wire->length_assumed);
  EXPECT_EQ(wire->section_m2, 70e-6);
  EXPECT_EQ(wire->colour, "orange and blue");
  EXPECT_EQ(wire->route, "under the tank");
  EXPECT_TRUE(std::any_of(c.gaps.begin(), c.gaps.end(),
                          [](const Gap& g) { return g.what.find("'T77'") != std::string::npos; }));
}

TEST(Circuit, TheBeginnerMakesTheMistakesOfTheCatalogue) {
  const Circuit c = circuit(demo("beginner"));
  const auto wrong = std::count_if(c.gaps.begin(), c.gaps.end(),
                                   [](const Gap& g) { return g.kind != Gap::Kind::unanswered; });
  EXPECT_GE(wrong, 8);
}

}  // namespace
}  // namespace ww::wiring
