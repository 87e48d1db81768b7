// SPDX-License-Identifier: MIT
// Shapes, their boxes, and what the SVG writer makes of them.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>

#include "draw/layout.h"
#include "tests/support/drawings.h"

namespace ww::draw {
namespace {

using support::check_svg;
using support::XmlReader;

constexpr double nan_ = std::numeric_limits<double>::quiet_NaN();
constexpr double inf_ = std::numeric_limits<double>::infinity();

Drawing sheet(std::vector<Element> parts) {
  return {.title = "t",
          .description = "d",
          .unit = Unit::mm,
          .width = 100,
          .height = 50,
          .pen = 1,
          .parts = std::move(parts)};
}

TEST(Svg, HasTheRootThatReadersNeed) {
  const auto xml = check_svg(sheet({}), "empty");
  const auto& root = xml.elements.at(0);
  EXPECT_EQ(root.name, "svg");
  EXPECT_EQ(root.at("role"), "img");
  EXPECT_EQ(root.at("aria-label"), "t");
  EXPECT_EQ(root.at("viewBox"), "0 0 100 50");
  EXPECT_EQ(xml.elements.at(1).name, "title");
  EXPECT_EQ(xml.elements.at(1).text, "t");
  EXPECT_EQ(xml.elements.at(2).name, "desc");
  EXPECT_EQ(xml.elements.at(2).text, "d");
  EXPECT_EQ(xml.elements.at(3).name, "style");
}

TEST(Svg, InAPageLeavesTheStyleToThePage) {
  const std::string svg = svg_of(sheet({}), {.standing = Standing::in_page, .role = "group"});
  EXPECT_EQ(svg.find("<style"), std::string::npos);
  EXPECT_EQ(svg.find("<?xml"), std::string::npos);
  EXPECT_NE(svg.find("role=\"group\""), std::string::npos);
  EXPECT_EQ(XmlReader::read(svg).wrong, "");
}

TEST(Svg, EveryShapeComesOutWithItsPlace) {
  const auto xml = check_svg(sheet({{.shape = Line{{1, 2}, {3, 4.126}}},
                                    {.shape = Polyline{{{0, 0}, {1, 1}, {2, 0}}, true},
                                     .style = {.fill = Ink::accent, .fill_opacity = 0.5}},
                                    {.shape = Circle{{5, 6}, 7}},
                                    {.shape = Arc{{10, 10}, 5, 0, std::numbers::pi / 2}},
                                    {.shape = Path{{{Step::Kind::move, {0, 0}},
                                                    {Step::Kind::curve, {3, 3}, {1, 0}, {2, 3}},
                                                    {Step::Kind::close, {0, 0}}}}},
                                    {.shape = Text{.at = {9, 8},
                                                   .text = "Ø 12 <&> \"x\"",
                                                   .size = 4,
                                                   .anchor = Anchor::end,
                                                   .turn_deg = -90}},
                                    {.shape = Dimension{{0, 0}, {50, 0}, 10, "50 mm", 4}},
                                    {.shape = Hatch{{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, 3}},
                                    {.shape = Group{{{.shape = Circle{{1, 1}, 1}}}},
                                     .style = {},
                                     .tag = {.name = "part",
                                             .keys = {{"part", "motor"}, {"Bad name", "a\"b"}},
                                             .title = "the <motor>"}}}),
                             "shapes");
  const auto find = [&](const std::string& name, int skip = 0) {
    for (const auto& e : xml.elements) {
      if (e.name == name && skip-- == 0) return e;
    }
    ADD_FAILURE() << "no " << name;
    return xml.elements.at(0);
  };
  EXPECT_EQ(find("line").at("y2"), "4.13");
  EXPECT_EQ(find("polygon").at("points"), "0,0 1,1 2,0");
  EXPECT_EQ(find("polygon").at("fill-opacity"), "0.5");
  EXPECT_EQ(find("circle").at("r"), "7");
  EXPECT_EQ(find("path").at("d"), "M15 10A5 5 0 0 1 10 15");
  EXPECT_EQ(find("path", 1).at("d"), "M0 0C1 0 2 3 3 3Z");
  EXPECT_EQ(find("text").text, "Ø 12 <&> \"x\"");
  EXPECT_EQ(find("text").at("text-anchor"), "end");
  EXPECT_EQ(find("text").at("transform"), "rotate(-90 9 8)");
  bool group = false;
  for (const auto& e : xml.elements) {
    if (e.at("data-part") != "motor") continue;
    group = true;
    EXPECT_EQ(e.at("class"), "part");
    EXPECT_EQ(e.at("data--ad-name"), "a\"b");
  }
  EXPECT_TRUE(group);
}

TEST(Svg, WhatIsNotFiniteIsLeftOut) {
  std::vector<Element> bad;
  for (const double x : {nan_, inf_, -inf_, 1e300}) {
    bad.push_back({.shape = Line{{x, 0}, {1, 1}}});
    bad.push_back({.shape = Polyline{{{0, 0}, {1, x}}, false}});
    bad.push_back({.shape = Circle{{0, 0}, x}});
    bad.push_back({.shape = Arc{{0, 0}, 1, 0, x}});
    bad.push_back({.shape = Path{{{Step::Kind::move, {0, 0}}, {Step::Kind::line, {x, 1}}}}});
    bad.push_back({.shape = Text{.at = {0, x}, .text = "a", .size = 3}});
    bad.push_back({.shape = Text{.at = {0, 0}, .text = "a", .size = x}});
    bad.push_back({.shape = Dimension{{0, 0}, {x, 0}, 3, "a", 3}});
    bad.push_back({.shape = Hatch{{{0, 0}, {x, 0}, {1, 1}}, 1}});
  }
  bad.push_back({.shape = Circle{{0, 0}, -1}});
  bad.push_back({.shape = Hatch{{{0, 0}, {1e6, 0}, {1e6, 1e6}}, 1e-3}});
  const auto xml = check_svg(sheet(bad), "bad");
  EXPECT_EQ(xml.elements.size(), 5U);  // svg, title, desc, style, the sheet
}

TEST(Svg, BytesThatXmlForbidsDoNotComeOut) {
  const std::string odd = std::string("a\x01") + "b\x7F" + "\xEF\xBF\xBF" + "c";
  EXPECT_EQ(escaped(odd), "a b c");
  EXPECT_EQ(escaped("\xFF\xC0z"), "??z");
  EXPECT_EQ(escaped("5 < 6 & \"7\""), "5 &lt; 6 &amp; &quot;7&quot;");
}

/// Relative luminance of "#rrggbb", WCAG 2.2.
double luminance(const std::string& colour) {
  double sum = 0;
  const double weights[] = {0.2126, 0.7152, 0.0722};
  for (int i = 0; i < 3; ++i) {
    const double c =
        std::stoi(colour.substr(static_cast<std::size_t>(1 + 2 * i), 2), nullptr, 16) / 255.0;
    sum += weights[i] * (c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4));
  }
  return sum;
}
double contrast(const std::string& a, const std::string& b) {
  const double x = luminance(a), y = luminance(b);
  return (std::max(x, y) + 0.05) / (std::min(x, y) + 0.05);
}

TEST(Svg, LettersStandOutOnBothSheets) {
  const std::string css(svg_css());
  const auto dark_at = css.find("prefers-color-scheme:dark");
  ASSERT_NE(dark_at, std::string::npos);
  const std::string sheets[] = {css.substr(0, dark_at), css.substr(dark_at)};
  for (const std::string& one : sheets) {
    const auto colour = [&](const std::string& name) {
      const auto at = one.find("var(--ww-" + name + ",");
      EXPECT_NE(at, std::string::npos) << name;
      return one.substr(at + 10 + name.size(), 7);
    };
    const std::string paper = colour("paper");
    // WCAG 2.2, success criterion 1.4.3: 4.5 for text.
    for (const char* name : {"ink", "soft", "accent", "alarm", "tone-1", "tone-2", "tone-3",
                             "tone-4", "tone-5", "tone-6"})
      EXPECT_GE(contrast(paper, colour(name)), 4.5) << name;
    // Text may stand on a part's face and on the alarm's flag.
    EXPECT_GE(contrast(colour("wash"), colour("ink")), 4.5);
    EXPECT_GE(contrast(colour("alarm"), paper), 4.5);
  }
}

TEST(Boxes, TextIsAsWideAsItsLetters) {
  EXPECT_DOUBLE_EQ(text_width("", 10), 0);
  EXPECT_GT(text_width("MMM", 10), text_width("iii", 10));
  EXPECT_NEAR(text_width("0123", 10), 4 * 6.36, 1e-9);
  EXPECT_DOUBLE_EQ(text_width("\xC3\x98", 10), text_width("\xC2\xB1", 10));  // one letter each
  const Box right = box_of(Text{.at = {0, 0}, .text = "abc", .size = 10});
  const Box left = box_of(Text{.at = {0, 0}, .text = "abc", .size = 10, .anchor = Anchor::end});
  EXPECT_DOUBLE_EQ(right.right, -left.left);
  const Box up = box_of(Text{.at = {0, 0}, .text = "abc", .size = 10, .turn_deg = -90});
  EXPECT_NEAR(up.bottom - up.top, right.right - right.left, 1e-9);
  EXPECT_NEAR(up.top, -right.right, 1e-9);
}

TEST(Dimensions, ReadFromBelowOrFromTheRight) {
  for (int k = 0; k < 24; ++k) {
    const double t = k * std::numbers::pi / 12;
    const Dimension d{{0, 0}, {100 * std::cos(t), 100 * std::sin(t)}, 12, "100", 5};
    int texts = 0;
    for (const Element& e : parts_of(d, 1)) {
      const auto* text = std::get_if<Text>(&e.shape);
      if (text == nullptr) continue;
      ++texts;
      EXPECT_GT(text->turn_deg, -90.001);
      EXPECT_LE(text->turn_deg, 90.001);
      // The number stands off the line it measures, on one side or the other of the points.
      const double off = -std::sin(t) * text->at.x + std::cos(t) * text->at.y;
      EXPECT_GT(std::abs(off), 5) << k;
    }
    EXPECT_EQ(texts, 1);
  }
  EXPECT_TRUE(parts_of({{1, 1}, {1, 1}, 5, "0", 5}, 1).empty());
}

TEST(Hatching, StaysInsideItsOutline) {
  std::mt19937 random(3);
  std::uniform_real_distribution<double> place(0, 100);
  for (int k = 0; k < 200; ++k) {
    const Hatch hatch{{{place(random), place(random)},
                       {place(random), place(random)},
                       {place(random), place(random)}},
                      4,
                      place(random) * 3.6};
    const auto& o = hatch.outline;
    // Twice the triangle's area by halves: a point inside adds up to the whole.
    const auto area = [](const Point& a, const Point& b, const Point& c) {
      return std::abs((b.x - a.x) * (c.y - a.y) - (c.x - a.x) * (b.y - a.y));
    };
    for (const Line& line : lines_of(hatch)) {
      for (const Point& p : {line.from, line.to})
        EXPECT_NEAR(area(o[0], o[1], p) + area(o[1], o[2], p) + area(o[2], o[0], p),
                    area(o[0], o[1], o[2]), 1e-6);
    }
  }
  EXPECT_EQ(lines_of({{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, 2.5, 0}).size(), 4U);
}

TEST(Layout, LinesWrapAtWords) {
  const std::string text = "one two three four five six seven eight nine ten";
  const auto lines = wrapped(text, 10, 90);
  std::string joined;
  for (const auto& line : lines) {
    EXPECT_LE(text_width(line, 10), 90);
    joined += (joined.empty() ? "" : " ") + line;
  }
  EXPECT_EQ(joined, text);
  EXPECT_EQ(wrapped("averyverylongword", 10, 5).size(), 1U);
  EXPECT_TRUE(wrapped("", 10, 5).empty());
}

TEST(Layout, LineInsideABox) {
  const Box box{0, 0, 10, 10};
  EXPECT_DOUBLE_EQ(length_inside({{-5, 5}, {15, 5}}, box), 10);
  EXPECT_DOUBLE_EQ(length_inside({{2, 5}, {5, 5}}, box), 3);
  EXPECT_DOUBLE_EQ(length_inside({{-5, 11}, {15, 11}}, box), 0);
  EXPECT_NEAR(length_inside({{-1, -1}, {20, 20}}, box), 10 * std::numbers::sqrt2, 1e-12);
  EXPECT_FALSE(clipped({{-5, -5}, {-1, -9}}, box));
}

TEST(Layout, LabelsKeepClear) {
  Labels labels({0, 0, 100, 100});
  const Text here{.at = {10, 50}, .text = "label", .size = 10};
  ASSERT_TRUE(labels.place({here}, 0));
  EXPECT_FALSE(labels.place({here}, 1e9));
  const auto second = labels.place({here, {.at = {10, 80}, .text = "label", .size = 10}}, 1e9);
  ASSERT_TRUE(second);
  EXPECT_DOUBLE_EQ(second->at.y, 80);
  EXPECT_FALSE(labels.place({{.at = {90, 20}, .text = "runs off", .size = 10}}, 1e9));
  labels.line({0, 20}, {100, 20});
  EXPECT_FALSE(labels.place({{.at = {10, 22}, .text = "on a line", .size = 10}}, 5));
  EXPECT_TRUE(labels.place({{.at = {10, 22}, .text = "on a line", .size = 10}}, 1e9));
}

}  // namespace
}  // namespace ww::draw
