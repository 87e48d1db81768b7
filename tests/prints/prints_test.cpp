// SPDX-License-Identifier: MIT
// What the printed lists say, against the net list and against sums made here.
#include "prints/prints.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "base/text.h"
#include "draw/pdf.h"
#include "draw/svg.h"
#include "prints/figures.h"
#include "prints/loom.h"
#include "prints/paper.h"
#include "prints/taps.h"
#include "prints/truth.h"
#include "tests/prints/support.h"
#include "tests/support/drawings.h"
#include "tests/support/leaks.h"

namespace ww::prints {
namespace {

/// Rows of comma separated text; quotes taken off.
std::vector<std::vector<std::string>> rows_of(const std::string& csv) {
  std::vector<std::vector<std::string>> rows{{""}};
  bool quoted = false;
  for (std::size_t i = 0; i < csv.size(); ++i) {
    const char c = csv[i];
    if (quoted) {
      if (c != '"')
        rows.back().back() += c;
      else if (i + 1 < csv.size() && csv[i + 1] == '"')
        rows.back().back() += csv[++i];
      else
        quoted = false;
    } else if (c == '"') {
      quoted = true;
    } else if (c == ',') {
      rows.back().emplace_back();
    } else if (c == '\n') {
      rows.push_back({""});
    } else {
      rows.back().back() += c;
    }
  }
  rows.pop_back();
  return rows;
}

std::string all_words(const Print& print) {
  std::string out = print.title + "\n" + print.csv;
  for (const auto& page : print.pages) {
    for (const auto& text : support::texts_of(page)) out += text.text + "\n";
  }
  return out;
}

TEST(Prints, AreFoundByName) {
  std::set<std::string_view> keys;
  for (const Entry& entry : print_list()) {
    EXPECT_EQ(find_print(entry.key), &entry);
    EXPECT_TRUE(keys.insert(entry.key).second);
  }
  EXPECT_EQ(find_print("no-such-print"), nullptr);
}

TEST(Prints, EachIsTheSameTwiceAndNothingIsCalledSafe) {
  for (const auto& name : support::demos()) {
    const Made m = made(name), again = made(name);
    for (const Entry& entry : print_list()) {
      SCOPED_TRACE(name + " " + std::string(entry.key));
      const Print one = entry.make(m.subject()), two = entry.make(again.subject());
      EXPECT_EQ(one.key, entry.key);
      EXPECT_EQ(one.csv, two.csv);
      ASSERT_FALSE(one.pages.empty());
      ASSERT_EQ(one.pages.size(), two.pages.size());
      for (std::size_t p = 0; p < one.pages.size(); ++p) EXPECT_EQ(svg_of(one, p), svg_of(two, p));
      EXPECT_EQ(pdf_of(one, "2026-05-31"), pdf_of(two, "2026-05-31"));
      EXPECT_EQ(lower(all_words(one)).find("safe"), std::string::npos);
    }
  }
}

TEST(Prints, EveryPageSaysWhatItIsAndCarriesACaution) {
  const Made m = made("commuter");
  const std::string digest = digest_of(m.electrics.circuit, m.electrics.sizing);
  for (const Entry& entry : print_list()) {
    const Print print = entry.make(m.subject());
    for (std::size_t p = 0; p < print.pages.size(); ++p) {
      SCOPED_TRACE(std::string(entry.key) + " " + std::to_string(p));
      std::set<std::string> words;
      for (const auto& text : support::texts_of(print.pages[p])) words.insert(text.text);
      EXPECT_EQ(words.count("a build"), 1U);
      EXPECT_EQ(words.count(digest), 1U);
      EXPECT_EQ(words.count("2026-05-31"), 1U);
      EXPECT_EQ(words.count(std::to_string(p + 1) + " of " + std::to_string(print.pages.size())),
                1U);
      EXPECT_EQ(words.count("1:1") + words.count("not to scale"), 1U);
      EXPECT_FALSE(print.pages[p].description.empty());
    }
  }
}

TEST(Prints, AreOfAPaperSizeInMillimetresAndInGreysOnly) {
  const Made m = made("commuter");
  for (const Entry& entry : print_list()) {
    const Print print = entry.make(m.subject());
    for (std::size_t p = 0; p < print.pages.size(); ++p) {
      SCOPED_TRACE(std::string(entry.key) + " " + std::to_string(p));
      const auto& page = print.pages[p];
      EXPECT_TRUE((page.width == 420 && page.height == 297) ||
                  (page.width == 210 && page.height == 297));
      support::check_svg(page, print.key);
      const std::string svg = svg_of(print, p);
      EXPECT_NE(svg.find(" width=\"" + fixed(page.width, 0) + "mm\""), std::string::npos);
      EXPECT_EQ(svg.find("#"), std::string::npos);  // no colour by its number
      for (auto at = svg.find("rgb("); at != std::string::npos; at = svg.find("rgb(", at + 1)) {
        const std::string inside = svg.substr(at + 4, svg.find(')', at) - at - 4);
        const auto parts = split(inside, ',');
        ASSERT_EQ(parts.size(), 3U);
        EXPECT_TRUE(parts[0] == parts[1] && parts[1] == parts[2]);
      }
    }
  }
}

TEST(Pdf, HasAPageForEachDrawingOfItsSize) {
  const Made m = made("commuter");
  for (const Entry& entry : print_list()) {
    const Print print = entry.make(m.subject());
    const std::string bytes = pdf_of(print, "2026-05-31");
    ASSERT_GT(bytes.size(), 1000U) << print.key;
    EXPECT_EQ(bytes.substr(0, 5), "%PDF-");
    EXPECT_NE(bytes.find("/Count " + std::to_string(print.pages.size())), std::string::npos)
        << print.key;
    std::size_t boxes = 0;
    for (auto at = bytes.find("/MediaBox"); at != std::string::npos;
         at = bytes.find("/MediaBox", at + 1))
      ++boxes;
    EXPECT_EQ(boxes, print.pages.size()) << print.key;
  }
}

// ---- cut list

TEST(CutList, HasEveryWireOnceThickestFirstAndItsSumsAddUp) {
  for (const auto& name : support::demos()) {
    SCOPED_TRACE(name);
    const Made m = made(name);
    const auto rows = rows_of(cut_list(m.subject()).csv);
    const auto& c = m.electrics.circuit;
    std::map<std::string, double> sums;
    double before_mm2 = 1e9, before_m = 1e9;
    for (std::size_t i = 0; i < c.wires.size(); ++i) {
      const auto& row = rows[i + 1];
      ASSERT_EQ(row.size(), rows[0].size());
      const auto* wire = c.wire(row[0]);
      ASSERT_NE(wire, nullptr) << row[0];
      const double mm2 = row[7] == "?" ? -1 : std::stod(row[7]), way = std::stod(row[4]);
      EXPECT_TRUE(mm2 < before_mm2 || (mm2 == before_mm2 && way <= before_m + 0.005)) << row[0];
      before_mm2 = mm2;
      before_m = way;
      EXPECT_NEAR(std::stod(row[6]), std::ceil(100 * (1.05 * wire->length_m + 0.05) - 1e-9) / 100,
                  1e-6);
      EXPECT_GT(std::stod(row[6]), wire->length_m);
      sums[row[7] + " " + row[9]] += std::stod(row[1]) * std::stod(row[6]);
    }
    std::size_t at = c.wires.size() + 1;
    EXPECT_EQ(rows[at][0], "");
    for (at += 2; at < rows.size(); ++at) {
      const auto& row = rows[at];
      ASSERT_EQ(sums.count(row[0] + " " + row[1]), 1U);
      EXPECT_NEAR(sums[row[0] + " " + row[1]], std::stod(row[2]), 0.006);
      EXPECT_GE(std::stod(row[3]), 1.1 * std::stod(row[2]) - 0.01);
      EXPECT_LT(std::stod(row[3]), 1.1 * std::stod(row[2]) + 0.52);
      sums.erase(row[0] + " " + row[1]);
    }
    EXPECT_TRUE(sums.empty());
  }
}

TEST(CutList, AShrinkTubeGoesOverTheBarrelAndClosesOnTheCable) {
  for (const double mm2 :
       {0.5, 0.75, 1.0, 1.5, 2.5, 4.0, 6.0, 10.0, 16.0, 25.0, 35.0, 50.0, 70.0}) {
    const double outer_m = std::sqrt(mm2 * 1e-6) * 1.5 + (mm2 < 10 ? 0.8e-3 : 3.2e-3);
    const ShrinkTube tube = shrink_tube(mm2 * 1e-6, outer_m);
    EXPECT_GT(tube.before_mm, 1e3 * outer_m) << mm2;
    EXPECT_LT(tube.after_mm, 1e3 * outer_m) << mm2;
  }
  EXPECT_EQ(shrink_tube(1e-3, 0.2).before_mm, 0);
}

TEST(Words, OfColoursAndSections) {
  EXPECT_EQ(colour_letters("orange, - black"), "OG/BK");
  EXPECT_EQ(colour_letters("orange, + red"), "OG/RD");
  EXPECT_EQ(colour_letters("green-yellow"), "GNYE");
  EXPECT_EQ(colour_letters("the charger's own cord"), "cord");
  EXPECT_EQ(colour_letters("mauve"), "mauve");
  EXPECT_EQ(section_words(0.75e-6), "0.75");
  EXPECT_EQ(section_words(50e-6), "50");
  EXPECT_EQ(section_words(std::nan("")), "?");
}

// ---- truth table

TEST(TruthTable, IsWhatTheNetListReaches) {
  for (unsigned seed = 0; seed <= 100; ++seed) {
    SCOPED_TRACE(seed);
    const Made m = seed == 0 ? made("commuter") : made_at_random(seed);
    const auto& c = m.electrics.circuit;
    const auto cases = truth_cases(c);
    const auto live = [&](const std::string& from, const std::string& to,
                          const std::vector<std::string>& stops) {
      const auto all = wiring::reached(c, wiring::terminal_of(c, from), stops);
      return std::binary_search(all.begin(), all.end(), wiring::terminal_of(c, to));
    };
    // A circuit without any 12 V source has a dead loop: nothing to compare.
    const bool fed = cases.front().state.contactor;
    for (const Case& one : cases) {
      std::vector<std::string> stops;
      if (!one.device.empty()) stops.push_back(one.device);
      const bool coil =
          live("fuse_loop.out", "contactor.coil+", stops) && one.device != "fuse_loop";
      if (fed && one.state.horn) {
        EXPECT_EQ(one.state.contactor, coil) << one.words;
      }
      // No torque where the contactor is open or the bus is dead.
      if (!one.state.contactor) {
        EXPECT_FALSE(one.state.torque) << one.words;
      }
      if (one.state.torque) {
        EXPECT_TRUE(live("pack.+", "controller.B+", stops)) << one.words;
      }
    }
  }
}

TEST(TruthTable, EveryInterlockOfTheCommuterOpensTheContactor) {
  const Made m = made("commuter");
  std::set<std::string> seen;
  for (const Case& one : truth_cases(m.electrics.circuit)) {
    if (one.device.empty()) {
      EXPECT_TRUE(one.state.contactor && one.state.torque && one.state.lamps);
    }
    for (const char* lock : {"key", "kill", "stand_switch", "tilt", "inlet_switch", "lid", "bms"}) {
      if (one.device != lock) continue;
      seen.insert(lock);
      EXPECT_FALSE(one.state.contactor) << lock;
      EXPECT_FALSE(one.state.torque) << lock;
      EXPECT_TRUE(one.state.horn) << lock;
      EXPECT_EQ(one.state.lamps, one.device != "key") << lock;
    }
    if (one.device == "disconnect" || one.device == "fuse") {
      EXPECT_FALSE(one.state.bus || one.state.converter);
    }
  }
  EXPECT_EQ(seen.size(), 7U);
}

TEST(TruthTable, AnInterlockThatIsNotThereHasNoRow) {
  Made m = made("commuter");
  m.build.wiring.stand_switch = build::Answer::no;
  m.electrics = electrics(m.build, nullptr, ride_of("commuter", m.build));
  for (const Case& one : truth_cases(m.electrics.circuit)) EXPECT_NE(one.device, "stand_switch");
}

// ---- taps

TEST(Taps, RiseByOneCellAndLieBetweenEmptyAndFull) {
  for (const auto& name : support::demos()) {
    SCOPED_TRACE(name);
    const Made m = made(name);
    const auto taps = taps_of(m.subject());
    if (taps.empty()) continue;
    const double series = m.build.pack->series * std::max(1, m.build.cell->series_inside);
    ASSERT_EQ(taps.size(), static_cast<std::size_t>(series) + 1);
    EXPECT_EQ(taps.front().full_V, 0);
    EXPECT_NEAR(taps.back().full_V, m.build.pack->series * m.build.cell->voltage_max.value, 1e-9);
    for (std::size_t i = 1; i < taps.size(); ++i) {
      const Tap& t = taps[i];
      EXPECT_LE(t.empty_V, t.low_V);
      EXPECT_LE(t.low_V, t.likely_V);
      EXPECT_LE(t.likely_V, t.high_V);
      EXPECT_LE(t.high_V, t.full_V);
      EXPECT_NEAR(t.likely_V - taps[i - 1].likely_V, taps[1].likely_V, 1e-9);
      EXPECT_EQ(t.over_60, t.full_V > 60);
    }
  }
}

TEST(Taps, FollowTheCharge) {
  const Made m = made("commuter");
  Subject subject = m.subject();
  double before = 0;
  for (const double charge : {0.0, 0.2, 0.5, 0.8, 1.0}) {
    subject.charge = charge;
    const double now = taps_of(subject).back().likely_V;
    EXPECT_GT(now, before);
    before = now;
  }
  EXPECT_NEAR(before, taps_of(subject).back().full_V, 1e-6);
}

TEST(Taps, WithoutCellsThereAreNoneAndThePageSaysSo) {
  Made m = made("commuter");
  m.build.pack->series = build::unknown_count;
  m.electrics = electrics(m.build, nullptr, ride_of("commuter", support::demo("commuter")));
  EXPECT_TRUE(taps_of(m.subject()).empty());
  EXPECT_NE(all_words(tap_map(m.subject())).find("pack.series"), std::string::npos);
}

// ---- loom and labels

TEST(Loom, EveryThinWireLiesInItsLegs) {
  const Made m = made("commuter");
  const auto legs = legs_of(m.subject());
  const auto& c = m.electrics.circuit;
  for (std::size_t w = 0; w < c.wires.size(); ++w) {
    const auto& wire = c.wires[w];
    double sum = 0;
    for (const Leg& leg : legs) {
      if (std::find(leg.wires.begin(), leg.wires.end(), w) != leg.wires.end()) sum += leg.length_m;
    }
    const bool here = wire.group == wiring::Group::supply ||
                      wire.group == wiring::Group::interlock || wire.group == wiring::Group::signal;
    EXPECT_NEAR(sum, here ? wire.length_m : 0, 1e-9) << wire.label;
  }
}

TEST(Loom, ABundleIsThickerThanItsWiresTogetherAsADisc) {
  // Sixteen equal wires: as discs they need four times one diameter at the least.
  EXPECT_GT(bundle_m(std::vector<double>(16, 1e-3)), 4e-3);
  EXPECT_LT(bundle_m(std::vector<double>(16, 1e-3)), 6e-3);
  EXPECT_EQ(bundle_m({}), 0);
}

TEST(Labels, EveryWireHasTwoAndEveryDeviceOne) {
  const Made m = made("commuter");
  std::map<std::string, int> wires, devices;
  for (const auto& row : rows_of(labels(m.subject()).csv)) {
    if (row[0] == "wire") ++wires[row[1]];
    if (row[0] == "device") ++devices[row[1]];
  }
  for (const auto& wire : m.electrics.circuit.wires) EXPECT_EQ(wires[wire.label], 2) << wire.label;
  for (const auto& device : m.electrics.circuit.devices)
    EXPECT_EQ(devices[device.label], 1) << device.label;
}

// ---- what is not on the builder's own sheet

TEST(Electrics, APartThatWasPutInCountsAsAssumed) {
  const build::Build own = support::demo("dream");
  const Made m = made("dream");
  const auto* motor = m.electrics.circuit.device("motor");
  ASSERT_NE(motor, nullptr);
  ASSERT_FALSE(own.motor.has_value());
  EXPECT_EQ(motor->presence, wiring::Presence::assumed);
  const Made whole = made("commuter");
  EXPECT_EQ(whole.electrics.circuit.device("motor")->presence, wiring::Presence::on_list);
}

TEST(Digest, DiffersWhereAWireDoes) {
  Made m = made("commuter");
  const std::string before = digest_of(m.electrics.circuit, m.electrics.sizing);
  m.electrics.circuit.wires.front().length_m += 0.01;
  EXPECT_NE(digest_of(m.electrics.circuit, m.electrics.sizing), before);
}

TEST(Paper, LongWordsAreBrokenAndLongTextCutOff) {
  for (const auto& line : lines_in(std::string(300, 'w') + " and more", 3.5, 40))
    EXPECT_LE(draw::text_width(line, 3.5), 40);
  EXPECT_LE(draw::text_width(fitted(std::string(300, 'w'), 3.5, 40), 3.5), 40);
  EXPECT_EQ(fitted("short", 3.5, 40), "short");
  for (const auto& line : lines_in("\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC", 3.5, 5))
    EXPECT_TRUE(valid_utf8(line));
}

}  // namespace
}  // namespace ww::prints
