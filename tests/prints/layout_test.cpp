// SPDX-License-Identifier: MIT
// No line crosses letters or a symbol, no letters cover letters, nothing leaves the frame: on every
// page of every print, of every demo and of builds answered at random. And the schematic is the net
// list: every wire once, between the right ends.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "base/text.h"
#include "draw/layout.h"
#include "prints/prints.h"
#include "tests/prints/support.h"

namespace ww::prints {
namespace {

using draw::Box;
using draw::Element;

/// Everything on a page, flat, with the names it stands under.
struct Flat {
  std::vector<draw::Text> texts;
  std::vector<draw::Line> lines;  ///< every straight piece of every shape
  std::vector<draw::Line> wires;  ///< those of wires, bars and leads alone
  std::vector<std::pair<Box, std::string>> symbols;
};

bool of_wire(const std::string& name) {
  return name == "wire" || name == "bar" || name == "inner";
}

void take(Flat& flat, const Element& e, bool wire) {
  wire = wire || of_wire(e.tag.name);
  const auto add = [&](const draw::Point& a, const draw::Point& b) {
    flat.lines.push_back({a, b});
    if (wire) flat.wires.push_back({a, b});
  };
  if (const auto* text = std::get_if<draw::Text>(&e.shape)) flat.texts.push_back(*text);
  if (const auto* line = std::get_if<draw::Line>(&e.shape)) add(line->from, line->to);
  if (const auto* chain = std::get_if<draw::Polyline>(&e.shape)) {
    for (std::size_t i = 0; i + 1 < chain->points.size(); ++i)
      add(chain->points[i], chain->points[i + 1]);
    if (chain->closed) add(chain->points.back(), chain->points.front());
  }
  if (const auto* group = std::get_if<draw::Group>(&e.shape)) {
    if (e.tag.name == "symbol" || e.tag.name == "reference") {
      Box box{1e9, 1e9, -1e9, -1e9};
      for (const Element& part : group->parts) {
        if (std::holds_alternative<draw::Text>(part.shape)) continue;
        const Box b = draw::box_of(part);
        box = {std::min(box.left, b.left), std::min(box.top, b.top), std::max(box.right, b.right),
               std::max(box.bottom, b.bottom)};
      }
      flat.symbols.emplace_back(box, e.tag.keys.front().value);
    }
    for (const Element& part : group->parts) take(flat, part, wire);
  }
}

Flat flat_of(const draw::Drawing& page) {
  Flat flat;
  for (const Element& e : page.parts) take(flat, e, false);
  return flat;
}

std::string where(const Box& b) {
  return "(" + std::to_string(b.left) + ", " + std::to_string(b.top) + ")";
}

/// What is wrong with a page; empty: nothing found.
std::string fault_of(const draw::Drawing& page) {
  const Flat flat = flat_of(page);
  const Box frame{20, 10, page.width - 10, page.height - 10};
  std::vector<Box> boxes;
  for (const auto& text : flat.texts) {
    const Box box = draw::box_of(text);
    if (!draw::inside(draw::grown(box, -0.1), frame)) return "off the frame: " + text.text;
    if (text.size < 3.5) return "too small: " + text.text;
    boxes.push_back(draw::grown(box, -0.15));
  }
  for (std::size_t i = 0; i < boxes.size(); ++i) {
    for (std::size_t k = i + 1; k < boxes.size(); ++k) {
      if (draw::overlap(boxes[i], boxes[k]))
        return "'" + flat.texts[i].text + "' covers '" + flat.texts[k].text + "' " +
               where(boxes[i]);
    }
  }
  for (const auto& line : flat.lines) {
    if (!draw::inside({std::min(line.from.x, line.to.x), std::min(line.from.y, line.to.y),
                       std::max(line.from.x, line.to.x), std::max(line.from.y, line.to.y)},
                      draw::grown(frame, 0.01)))
      return "a line leaves the frame at " + std::to_string(line.to.x);
    for (std::size_t i = 0; i < boxes.size(); ++i) {
      if (draw::length_inside(line, boxes[i]) > 1e-6)
        return "a line crosses '" + flat.texts[i].text + "' " + where(boxes[i]);
    }
  }
  for (const auto& line : flat.wires) {
    for (const auto& [box, device] : flat.symbols) {
      const Box inside = draw::grown(box, -0.05);
      const bool crosses = inside.right > inside.left && inside.bottom > inside.top &&
                           draw::length_inside(line, inside) > 1e-6;
      if (crosses) return "a wire crosses the symbol of " + device + " " + where(box);
    }
  }
  for (std::size_t i = 0; i < flat.symbols.size(); ++i) {
    for (std::size_t k = i + 1; k < flat.symbols.size(); ++k) {
      if (draw::overlap(draw::grown(flat.symbols[i].first, -0.05),
                        draw::grown(flat.symbols[k].first, -0.05)))
        return "symbols of " + flat.symbols[i].second + " and " + flat.symbols[k].second;
    }
  }
  return {};
}

void expect_clear(const Print& print) {
  for (std::size_t p = 0; p < print.pages.size(); ++p)
    EXPECT_EQ(fault_of(print.pages[p]), "") << print.key << ", page " << p + 1;
}

TEST(Layout, TheTestFindsWhatItLooksFor) {
  draw::Drawing page{.title = {},
                     .description = {},
                     .unit = draw::Unit::mm,
                     .width = 420,
                     .height = 297,
                     .pen = 0.25,
                     .parts = {}};
  const Element words{.shape = draw::Text{.at = {100, 100}, .text = "fuse", .size = 3.5}};
  page.parts = {words};
  EXPECT_EQ(fault_of(page), "");
  page.parts = {words, words};
  EXPECT_NE(fault_of(page), "");
  page.parts = {words, {.shape = draw::Line{{90, 99}, {120, 99}}}};
  EXPECT_NE(fault_of(page), "");
  Element symbol{.shape = draw::Group{{{.shape = draw::Circle{{200, 100}, 9}}}}};
  symbol.tag = {.name = "symbol", .keys = {{"device", "motor"}}, .title = {}};
  Element wire{.shape = draw::Group{{{.shape = draw::Line{{180, 100}, {191, 100}}}}}};
  wire.tag.name = "wire";
  page.parts = {symbol, wire};
  EXPECT_EQ(fault_of(page), "");
  std::get<draw::Line>(std::get<draw::Group>(wire.shape).parts[0].shape).to.x = 195;
  page.parts = {symbol, wire};
  EXPECT_NE(fault_of(page), "");
  page.parts = {{.shape = draw::Text{.at = {1, 100}, .text = "fuse", .size = 3.5}}};
  EXPECT_NE(fault_of(page), "");
}

TEST(Layout, NothingCoversAnythingOnAnyDemo) {
  for (const auto& name : support::demos()) {
    SCOPED_TRACE(name);
    const Made m = made(name);
    for (const Entry& entry : print_list()) expect_clear(entry.make(m.subject()));
  }
}

TEST(Layout, NothingCoversAnythingHoweverTheQuestionsAreAnswered) {
  for (unsigned seed = 1; seed <= 100; ++seed) {
    SCOPED_TRACE(seed);
    const Made m = made_at_random(seed);
    for (const Entry& entry : print_list()) expect_clear(entry.make(m.subject()));
    if (testing::Test::HasFailure()) break;
  }
}

TEST(Layout, NothingCoversAnythingWhateverIsTyped) {
  Made m = made("commuter");
  for (const char* label : {"T4", "K3", "L10", "S1", "M1"}) {
    m.build.wires.push_back({.label = label,
                             .colour = std::string(200, 'w'),
                             .route = std::string(300, 'x'),
                             .length = {},
                             .section = {}});
    m.build.wires.back().length.value = 123.456;
    m.build.wires.back().section.value = 239.99e-6;
  }
  m.build.pack->series = 180;
  m.electrics = electrics(m.build, nullptr, ride_of("commuter", support::demo("commuter")));
  Subject subject = m.subject();
  subject.name = "\xD0\x96\xC3\x96 " + std::string(400, 'W') + " <b>&\x01";
  subject.date = std::string(80, '9');
  for (const Entry& entry : print_list()) {
    expect_clear(entry.make(subject));
    for (std::size_t p = 0; p < entry.make(subject).pages.size(); ++p)
      EXPECT_EQ(svg_of(entry.make(subject), p).find("<b>"), std::string::npos);
    EXPECT_EQ(pdf_of(entry.make(subject), subject.date).substr(0, 5), "%PDF-");
  }
}

TEST(Layout, NothingCoversAnythingOnAnEmptySheet) {
  Made m{build::Build{}, {}, &ride_of("commuter", support::demo("commuter"))};
  m.electrics = electrics(m.build, nullptr, *m.ride);
  for (const Entry& entry : print_list()) expect_clear(entry.make(m.subject()));
}

// ---- the schematic against the net list

struct Stands {
  int page;
  Box box;
  bool reference;
};

/// The ends that a symbol's element names.
std::vector<std::string> ends_named(const Element& e) {
  for (const auto& key : e.tag.keys) {
    if (key.name != "ends" || key.value.empty()) continue;
    std::vector<std::string> out;
    for (const auto one : split(key.value, '|')) out.emplace_back(one);
    return out;
  }
  return {};
}

std::string end_name(const wiring::Circuit& c, int terminal) {
  return c.device_of(terminal).id + "." + c.terminals[static_cast<std::size_t>(terminal)].mark;
}

bool touches(const Box& box, const draw::Point& p) {
  return p.x > box.left - 0.1 && p.x < box.right + 0.1 && p.y > box.top - 0.1 &&
         p.y < box.bottom + 0.1;
}

/// First and last point of the line in a wire's group.
std::pair<draw::Point, draw::Point> ends_of(const Element& wire) {
  for (const Element& part : std::get<draw::Group>(wire.shape).parts) {
    if (const auto* chain = std::get_if<draw::Polyline>(&part.shape))
      return {chain->points.front(), chain->points.back()};
  }
  ADD_FAILURE() << "a wire without a line";
  return {};
}

void expect_net_list(const Made& m) {
  const Print print = schematic(m.subject());
  const auto& c = m.electrics.circuit;
  std::map<std::string, std::vector<Stands>> ends;  // where each end stands
  std::multiset<std::string> wires;
  std::set<std::string> devices;
  for (std::size_t p = 0; p < print.pages.size(); ++p) {
    for (const Element& e : print.pages[p].parts) {
      if (e.tag.name != "symbol" && e.tag.name != "reference") continue;
      Flat flat;
      take(flat, e, false);
      if (e.tag.name == "symbol") devices.insert(e.tag.keys.front().value);
      for (const auto& end : ends_named(e))
        ends[end].push_back(
            {static_cast<int>(p), flat.symbols.front().first, e.tag.name == "reference"});
    }
  }
  for (std::size_t p = 0; p < print.pages.size(); ++p) {
    for (const Element& e : print.pages[p].parts) {
      if (e.tag.name != "wire") continue;
      const std::string label = e.tag.keys.front().value;
      wires.insert(label);
      const auto* wire = c.wire(label);
      ASSERT_NE(wire, nullptr) << label;
      const auto [a, b] = ends_of(e);
      const auto stands = [&](int terminal, const draw::Point& point) {
        const auto& all = ends[end_name(c, terminal)];
        return std::any_of(all.begin(), all.end(), [&](const Stands& s) {
          return s.page == static_cast<int>(p) && touches(s.box, point);
        });
      };
      EXPECT_TRUE((stands(wire->from, a) && stands(wire->to, b)) ||
                  (stands(wire->from, b) && stands(wire->to, a)))
          << label;
    }
  }
  std::multiset<std::string> bars;
  for (std::size_t p = 0; p < print.pages.size(); ++p) {
    for (const Element& e : print.pages[p].parts) {
      if (e.tag.name != "bar") continue;
      const std::string one = e.tag.keys[0].value, other = e.tag.keys[1].value;
      bars.insert(std::min(one, other) + " = " + std::max(one, other));
      const auto [a, b] = ends_of(e);
      for (const auto& [end, point] : {std::pair{one, a}, std::pair{other, b}}) {
        const auto& all = ends[end];
        EXPECT_TRUE(std::any_of(all.begin(), all.end(), [&, at = point](const Stands& s) {
          return s.page == static_cast<int>(p) && touches(s.box, at);
        })) << end;
      }
    }
  }
  for (const auto& bar : c.bars) {
    const std::string one = end_name(c, bar.from), other = end_name(c, bar.to);
    EXPECT_EQ(bars.count(std::min(one, other) + " = " + std::max(one, other)), 1U)
        << one << " " << other;
  }
  EXPECT_EQ(bars.size(), c.bars.size());
  for (const auto& wire : c.wires) EXPECT_EQ(wires.count(wire.label), 1U) << wire.label;
  for (const auto& device : c.devices) EXPECT_EQ(devices.count(device.id), 1U) << device.id;
  for (std::size_t t = 0; t < c.terminals.size(); ++t) {
    const auto& all = ends[end_name(c, static_cast<int>(t))];
    EXPECT_EQ(std::count_if(all.begin(), all.end(), [](const Stands& s) { return !s.reference; }),
              1)
        << end_name(c, static_cast<int>(t));
  }
}

/// All words of an element.
std::string words_of(const Element& e) {
  Flat flat;
  take(flat, e, false);
  std::string out;
  for (const auto& text : flat.texts) out += text.text + " ";
  return out;
}

/// A reference names the page on which its end stands, and that end names the reference's page and
/// wire.
void expect_references(const Made& m) {
  const Print print = schematic(m.subject());
  struct Home {
    std::size_t page;
    std::string words;
  };
  std::map<std::string, Home> homes;
  for (std::size_t p = 0; p < print.pages.size(); ++p) {
    for (const Element& e : print.pages[p].parts) {
      if (e.tag.name != "symbol") continue;
      for (const auto& end : ends_named(e)) homes[end] = {p + 1, words_of(e)};
    }
  }
  int found = 0;
  for (std::size_t p = 0; p < print.pages.size(); ++p) {
    for (const Element& e : print.pages[p].parts) {
      if (e.tag.name != "reference") continue;
      ++found;
      for (const auto& end : ends_named(e)) {
        ASSERT_EQ(homes.count(end), 1U) << end;
        const Home& home = homes[end];
        EXPECT_NE(words_of(e).find("on page " + std::to_string(home.page)), std::string::npos)
            << end << ": " << words_of(e);
        EXPECT_NE(home.words.find("page " + std::to_string(p + 1)), std::string::npos)
            << end << ": " << home.words;
      }
    }
  }
  EXPECT_GT(found, 10);
}

TEST(Schematic, IsTheNetListOnEveryDemo) {
  for (const auto& name : support::demos()) {
    SCOPED_TRACE(name);
    const Made m = made(name);
    expect_net_list(m);
    expect_references(m);
  }
}

TEST(Schematic, IsTheNetListHoweverTheQuestionsAreAnswered) {
  for (unsigned seed = 1; seed <= 100; ++seed) {
    SCOPED_TRACE(seed);
    const Made m = made_at_random(seed);
    expect_net_list(m);
    expect_references(m);
    if (testing::Test::HasFailure()) break;
  }
}

}  // namespace
}  // namespace ww::prints
