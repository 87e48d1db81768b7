// SPDX-License-Identifier: MIT
// PDF of drawings: sizes, pages, dates, and whatever numbers and bytes may come.
#include "draw/pdf.h"

#include <gtest/gtest.h>

#include <limits>
#include <random>

#include "draw/svg.h"
#include "tests/support/leaks.h"

namespace ww::draw {
namespace {

Drawing drawing_of(std::vector<Element> parts, double width = 210, double height = 297) {
  return {.title = "a drawing",
          .description = {},
          .unit = Unit::mm,
          .width = width,
          .height = height,
          .pen = 0.25,
          .parts = std::move(parts)};
}

std::string box_in(const std::string& pdf) {
  const auto at = pdf.find("/MediaBox");
  return at == std::string::npos ? "" : pdf.substr(at, pdf.find(']', at) - at + 1);
}

TEST(Pdf, AMillimetreOfPaperIsOne) {
  // 210 x 297 mm at 72 points to 25.4 mm.
  EXPECT_EQ(box_in(pdf_of(std::vector{drawing_of({})})), "/MediaBox [ 0 0 595.275591 841.889764 ]");
}

TEST(Pdf, APixelIsANinetySixthOfAnInch) {
  Drawing chart = drawing_of({}, 960, 480);
  chart.unit = Unit::px;
  chart.pen = 1;
  EXPECT_EQ(box_in(pdf_of({&chart, 1}, {.of_the_paper = false})), "/MediaBox [ 0 0 720 360 ]");
  // Of the real thing: a pen is a pixel, whatever it measures there.
  Drawing view = drawing_of({}, 2400, 1200);
  view.pen = 2.5;
  EXPECT_EQ(box_in(pdf_of({&view, 1}, {.of_the_paper = false})), "/MediaBox [ 0 0 720 360 ]");
}

TEST(Pdf, NoDrawingIsNoFile) {
  EXPECT_EQ(pdf_of({}), "");
}

TEST(Pdf, TheDateIsTheCallersAndNothingElseChanges) {
  const std::vector<Drawing> pages{drawing_of({{.shape = Text{{20, 20}, "words", 5}}}),
                                   drawing_of({})};
  const std::string one = pdf_of(pages, {.date = "2026-05-31"});
  EXPECT_EQ(one, pdf_of(pages, {.date = "2026-05-31"}));
  EXPECT_NE(one.find("(20260531"), std::string::npos);
  EXPECT_NE(one.find("/Count 2"), std::string::npos);
  EXPECT_NE(pdf_of(pages, {.date = "tomorrow"}).find("(20000101"), std::string::npos);
}

TEST(Pdf, AnyNumberAndAnyBytesGiveAFile) {
  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  constexpr double inf = std::numeric_limits<double>::infinity();
  std::mt19937 random(7);
  const double odd[] = {0, 1, -5, 100, 1e8, -1e8, 1e12, nan, inf, -inf, 1e-300};
  const auto number = [&] { return odd[random() % std::size(odd)]; };
  const auto point = [&] { return Point{number(), number()}; };
  for (int round = 0; round < 200; ++round) {
    std::string bytes;
    for (auto i = random() % 12; i > 0; --i) bytes += static_cast<char>(random() % 256);
    std::vector<Element> parts{
        {.shape = Line{point(), point()}},
        {.shape = Polyline{{point(), point(), point()}, round % 2 == 0}},
        {.shape = Polyline{}},
        {.shape = Circle{point(), number()}},
        {.shape = Arc{point(), number(), number(), number()}},
        {.shape = Path{{{Step::Kind::move, point()},
                        {Step::Kind::curve, point(), point(), point()},
                        {Step::Kind::close, {}}}}},
        {.shape = Text{point(), bytes, number(), Anchor::end, number(), true, true}},
        {.shape = Dimension{point(), point(), number(), bytes, number()}},
        {.shape = Hatch{{point(), point(), point()}, number(), number()}}};
    for (Element& e : parts) {
      e.style = {.width = number(), .dash = Dash::dash_dot, .fill = Ink::wash};
    }
    parts.push_back({.shape = Group{parts}});
    const Drawing page = drawing_of(parts);
    const std::string pdf = pdf_of({&page, 1}, {.title = bytes});
    EXPECT_EQ(pdf.substr(0, 5), "%PDF-") << round;
    EXPECT_NE(pdf.find("%%EOF"), std::string::npos) << round;
  }
}

TEST(Printed, IsInMillimetresAndGrey) {
  const Drawing page =
      drawing_of({{.shape = Line{{0, 0}, {10, 10}}, .style = {.line = Ink::tone_3}}});
  const std::string svg = svg_of(page, {.standing = Standing::printed});
  EXPECT_NE(svg.find("width=\"210mm\" height=\"297mm\""), std::string::npos);
  EXPECT_EQ(svg.find("prefers-color-scheme"), std::string::npos);
  EXPECT_EQ(svg.find('#'), std::string::npos);
  EXPECT_EQ(grey_of(Ink::ink), 0);
  EXPECT_EQ(grey_of(Ink::paper), 1);
}

}  // namespace
}  // namespace ww::draw
