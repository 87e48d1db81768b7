// SPDX-License-Identifier: MIT
// Ticks, thinning, charts as drawings, CSV and tables; and that no number, however odd, breaks
// them.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

#include "draw/chart.h"
#include "tests/support/drawings.h"

namespace ww::draw {
namespace {

using support::check_svg;

constexpr double nan_ = std::numeric_limits<double>::quiet_NaN();
constexpr double inf_ = std::numeric_limits<double>::infinity();

TEST(Ticks, AreRoundInsideAndNotTooMany) {
  std::mt19937 random(1);
  std::uniform_real_distribution<double> size(-6, 8), sign(-1, 1);
  for (int k = 0; k < 2000; ++k) {
    const double low = sign(random) * std::pow(10, size(random));
    const Range range{low, low + std::pow(10, size(random))};
    if (!(range.low < range.high)) continue;
    const int most = 3 + k % 10;
    const auto ticks = ticks_of(range, Scale::linear, most);
    ASSERT_LE(ticks.size(), static_cast<std::size_t>(most) + 1);
    ASSERT_GE(ticks.size(), 1U) << range.low << " " << range.high << " " << most;
    for (const double t : ticks) {
      EXPECT_GE(t, range.low - 1e-8 * (range.high - range.low));
      EXPECT_LE(t, range.high + 1e-8 * (range.high - range.low));
    }
    if (ticks.size() < 2) continue;
    const double step = ticks[1] - ticks[0];
    if (step < 1e-7 * std::abs(low)) continue;  // the digits run out
    const double leading = step / std::pow(10, std::floor(std::log10(step) + 1e-9));
    EXPECT_TRUE(std::abs(leading - 1) < 1e-6 || std::abs(leading - 2) < 1e-6 ||
                std::abs(leading - 2.5) < 1e-6 || std::abs(leading - 5) < 1e-6)
        << leading;
  }
}

TEST(Ticks, KnownRanges) {
  EXPECT_EQ(ticks_of({0, 100}, Scale::linear, 5), (std::vector<double>{0, 20, 40, 60, 80, 100}));
  EXPECT_EQ(ticks_of({1, 1000}, Scale::log, 4), (std::vector<double>{1, 10, 100, 1000}));
  EXPECT_EQ(ticks_of({1, 10}, Scale::log, 6), (std::vector<double>{1, 2, 5, 10}));
  EXPECT_TRUE(ticks_of({5, 5}, Scale::linear, 5).empty());
  EXPECT_TRUE(ticks_of({0, 10}, Scale::log, 5).empty());
  EXPECT_TRUE(ticks_of({nan_, 1}, Scale::linear, 5).empty());
  EXPECT_TRUE(ticks_of({-inf_, inf_}, Scale::linear, 5).empty());
  EXPECT_LE(ticks_of({1e20, 1e20 + 16384}, Scale::linear, 5).size(), 6U);
}

TEST(Ticks, NumbersAsShortAsTheirStep) {
  EXPECT_EQ(tick_text(0, 25), "0");
  EXPECT_EQ(tick_text(0.5, 0.25), "0.50");
  EXPECT_EQ(tick_text(-3, 1), "-3");
  EXPECT_EQ(tick_text(1200, 100), "1200");
  EXPECT_EQ(tick_text(12000, 1000),
            "12\xE2\x80\xAF"
            "000");
  EXPECT_EQ(tick_text(-1234567, 1),
            "-1\xE2\x80\xAF"
            "234\xE2\x80\xAF"
            "567");
}

TEST(Thinning, KeepsWhatIsSeen) {
  std::mt19937 random(2);
  std::normal_distribution<double> noise(0, 1);
  std::vector<Point> points;
  for (int i = 0; i < 20000; ++i) points.push_back({i / 20000.0, noise(random)});
  const auto few = thinned(points, {0, 1}, 100);
  EXPECT_LE(few.size(), 400U);
  for (int column = 0; column < 100; ++column) {
    const auto extremes = [&](const std::vector<Point>& some) {
      double low = inf_, high = -inf_;
      for (const Point& p : some) {
        if (std::floor(p.x * 100) != column) continue;
        low = std::min(low, p.y);
        high = std::max(high, p.y);
      }
      return std::pair{low, high};
    };
    EXPECT_EQ(extremes(points), extremes(few)) << column;
  }
  EXPECT_EQ(few.front().x, points.front().x);
  EXPECT_EQ(few.back().x, points.back().x);
  EXPECT_TRUE(std::is_sorted(few.begin(), few.end(),
                             [](const Point& a, const Point& b) { return a.x < b.x; }));
  const std::vector<Point> turning{{0, 0}, {2, 1}, {1, 2}};
  EXPECT_EQ(thinned(turning, {0, 2}, 1).size(), 3U);
}

Chart plain_chart() {
  Chart chart{.key = "k", .title = "Title", .says = "What it says.", .missing = {}};
  chart.x = {.label = "speed", .unit = "km/h"};
  chart.y = {.label = "force", .unit = "N"};
  chart.body = Plot{.curves = {{.label = "one", .points = {{0, 1}, {10, 2.5}, {20, nan_}, {30, 4}}},
                               {.label = "two, or \"2\"",
                                .points = {{0, 5}, {30, 1.0 / 3}},
                                .band = {{0, 4, 6}, {30, 0, 1}}}},
                    .references = {{Across::y, 2, "a limit"}},
                    .markers = {{{10, 2.5}, "here", Sign::ring, {}}}};
  return chart;
}

TEST(Csv, HasAHeadWithUnitsAndEmptyGaps) {
  EXPECT_EQ(csv_of(plain_chart()),
            "speed [km/h],one [N],\"two, or \"\"2\"\" [N]\",\"two, or \"\"2\"\", low [N]\",\"two, "
            "or \"\"2\"\", high [N]\"\n"
            "0,1,5,4,6\n"
            "10,2.5,,,\n"
            "20,,,,\n"
            "30,4,0.333333,0,1\n");
}

TEST(Csv, ACurveThatGoesStraightUpKeepsAllItsPoints) {
  Chart chart = plain_chart();
  chart.body =
      Plot{.curves = {{.label = "cells", .points = {{300, 1}, {300, 10}, {120, 10}, {nan_, nan_}}}},
           .references = {},
           .markers = {{{200, 10}, "asked", Sign::dot, {}}}};
  EXPECT_EQ(
      csv_of(chart),
      "curve,speed [km/h],force [N]\ncells,300,1\ncells,300,10\ncells,120,10\nasked,200,10\n");
}

TEST(Csv, BarsCellsAndPairs) {
  Chart bars = plain_chart();
  bars.body = Bars{
      .bars = {
          {.label = "pack", .from = 60, .to = 87.6, .notches = {{77, "nominal"}, {nan_, "none"}}},
          {.label = "fuse", .from = nan_, .to = 100000}}};
  EXPECT_EQ(csv_of(bars), ",from [km/h],to [km/h],marks\npack,60,87.6,nominal 77\nfuse,,100000,\n");
  Chart field = plain_chart();
  field.body = Field{.xs = {1, 2},
                     .ys = {3},
                     .values = {90.25, nan_},
                     .label = "efficiency",
                     .unit = "%",
                     .levels = {90}};
  EXPECT_EQ(csv_of(field), "speed [km/h],force [N],efficiency [%]\n1,3,90.25\n");
  Chart matrix = plain_chart();
  Matrix m{.names = {"a", "b"}, .cells = std::vector<MatrixCell>(4)};
  m.cells[2] = {
      .sign = Sign::bang, .word = "clash", .tag = {.name = {}, .keys = {}, .title = "too wide"}};
  matrix.body = m;
  EXPECT_EQ(csv_of(matrix), "one,other,says,because\na,b,clash,too wide\n");
  matrix.missing = "nothing yet";
  EXPECT_EQ(csv_of(matrix), "");
  EXPECT_EQ(table_of(matrix).caption, "nothing yet");
}

TEST(Tables, AreThinnedEvenly) {
  Chart chart = plain_chart();
  Curve long_one{.label = "one", .points = {}};
  for (int i = 0; i <= 1000; ++i) long_one.points.push_back({i * 0.1, i * 2.0});
  chart.body = Plot{.curves = {long_one}};
  const Table table = table_of(chart, 11);
  ASSERT_EQ(table.rows.size(), 11U);
  EXPECT_EQ(table.rows.front()[0].number, 0);
  EXPECT_EQ(table.rows.back()[0].number, 100);
  EXPECT_EQ(table.rows[5][1].text, "1000");
  EXPECT_EQ(table.heads, (std::vector<std::string>{"speed [km/h]", "one [N]"}));
}

TEST(Charts, ACurveLiesWhereItsNumbersAre) {
  Chart chart = plain_chart();
  chart.x.range = Range{0, 100};
  chart.y.range = Range{0, 50};
  chart.body = Plot{.curves = {{.label = "c", .points = {{0, 0}, {100, 50}}}}};
  const auto xml = check_svg(drawing_of(chart, {.width_px = 800}), "place");
  const support::XmlElement* plot = nullptr;
  for (const auto& e : xml.elements) {
    if (e.at("class") == "plot") plot = &e;
    if (e.name != "polyline" || plot == nullptr) continue;
    const std::string points = e.at("points");
    double x0 = 0, y0 = 0, x1 = 0, y1 = 0;
    ASSERT_EQ(std::sscanf(points.c_str(), "%lf,%lf %lf,%lf", &x0, &y0, &x1, &y1), 4) << points;
    EXPECT_NEAR(x0, plot->number("data-left"), 0.1);
    EXPECT_NEAR(y0, plot->number("data-bottom"), 0.1);
    EXPECT_NEAR(x1, plot->number("data-right"), 0.1);
    EXPECT_NEAR(y1, plot->number("data-top"), 0.1);
  }
  ASSERT_NE(plot, nullptr);
  EXPECT_EQ(plot->at("data-x-high"), "100");
  EXPECT_EQ(plot->at("data-y-scale"), "linear");
}

TEST(Charts, StretchesCarryToneDashAndName) {
  Chart chart = plain_chart();
  Curve curve{.label = "thrust", .points = {{0, 10}, {50, 10}, {100, 2}}};
  curve.stretches = {{0, 50, "phase current", 0}, {50, 100, "voltage", 1}};
  chart.body = Plot{.curves = {curve}};
  const auto xml = check_svg(drawing_of(chart), "stretches");
  std::vector<std::string> tones, dashes, names;
  for (const auto& e : xml.elements) {
    if (e.name == "polyline") {
      tones.push_back(e.at("class"));
      dashes.push_back(e.at("stroke-dasharray"));
    }
    if (e.name == "text") names.push_back(e.text);
  }
  ASSERT_EQ(tones.size(), 2U);
  EXPECT_NE(tones[0], tones[1]);
  EXPECT_NE(dashes[0], dashes[1]);
  for (const char* name : {"phase current", "voltage", "thrust"})
    EXPECT_EQ(std::count(names.begin(), names.end(), name), 1) << name;
}

TEST(Charts, TheFormerStateStandsBehind) {
  const Chart both = with_ghost(plain_chart(), plain_chart());
  const auto& plot = std::get<Plot>(both.body);
  ASSERT_EQ(plot.curves.size(), 4U);
  EXPECT_TRUE(plot.curves[2].ghost);
  EXPECT_EQ(plot.curves[2].label, "before: one");
  EXPECT_TRUE(plot.curves[3].band.empty());
  EXPECT_EQ(std::get<Plot>(with_ghost(both, both).body).curves.size(), 6U);  // no ghosts of ghosts
  check_svg(drawing_of(both), "ghost");
}

TEST(Charts, WhatIsMissingIsSaid) {
  Chart chart = plain_chart();
  chart.missing = "Cannot be drawn before the motor is chosen.";
  const auto texts = support::texts_of(drawing_of(chart));
  EXPECT_TRUE(std::any_of(texts.begin(), texts.end(),
                          [&](const Text& t) { return t.text == chart.missing; }));
}

/// A number that may be anything.
double odd_number(std::mt19937& random) {
  static constexpr double odd[] = {0,      -0.0, 1,    -1,   1e-300, 1e300,
                                   -1e300, 1e9,  1e-9, nan_, inf_,   -inf_};
  if (random() % 4 == 0) return odd[random() % 12];
  return std::uniform_real_distribution<double>(-1000, 1000)(random);
}

Chart odd_chart(std::mt19937& random) {
  Chart chart = plain_chart();
  const auto n = [&] { return odd_number(random); };
  const auto scale = [&] { return random() % 3 == 0 ? Scale::log : Scale::linear; };
  chart.x.scale = scale();
  chart.y.scale = scale();
  if (random() % 3 == 0) chart.x.range = Range{n(), n()};
  if (random() % 3 == 0) chart.y.range = Range{n(), n()};
  Plot plot;
  for (unsigned c = 0; c < random() % 6; ++c) {
    Curve curve{.label = "curve " + std::to_string(c), .points = {}};
    for (unsigned i = 0; i < random() % 40; ++i) curve.points.push_back({n(), n()});
    if (random() % 2 == 0)
      std::sort(curve.points.begin(), curve.points.end(),
                [](const Point& a, const Point& b) { return a.x < b.x; });
    for (unsigned i = 0; i < random() % 10; ++i) curve.band.push_back({n(), n(), n()});
    for (unsigned i = 0; i < random() % 4; ++i)
      curve.stretches.push_back(
          {n(), n(), "cause " + std::to_string(i), static_cast<int>(random() % 9)});
    curve.ghost = random() % 4 == 0;
    curve.steps = random() % 4 == 0;
    plot.curves.push_back(std::move(curve));
  }
  for (unsigned i = 0; i < random() % 4; ++i)
    plot.references.push_back(
        {random() % 2 == 0 ? Across::x : Across::y, n(), "line " + std::to_string(i)});
  for (unsigned i = 0; i < random() % 4; ++i)
    plot.markers.push_back(
        {{n(), n()}, "mark " + std::to_string(i), static_cast<Sign>(random() % 9), {}});
  chart.body = std::move(plot);
  return chart;
}

TEST(Charts, AnyNumbersGiveAProperDrawing) {
  std::mt19937 random(7);
  for (int k = 0; k < 400; ++k) {
    const Chart chart = odd_chart(random);
    for (const double width : {390.0, 1200.0}) {
      const Drawing drawing = drawing_of(chart, {.width_px = width});
      check_svg(drawing, "odd chart " + std::to_string(k));
    }
    const std::string csv = csv_of(chart);
    EXPECT_EQ(csv.find("nan"), std::string::npos);
    EXPECT_EQ(csv.find("inf"), std::string::npos);
  }
}

TEST(Charts, AnyBarsCellsAndPairsGiveAProperDrawing) {
  std::mt19937 random(8);
  const auto n = [&] { return odd_number(random); };
  for (int k = 0; k < 300; ++k) {
    Chart chart = plain_chart();
    if (k % 3 == 0) {
      Bars bars;
      for (unsigned i = 0; i < random() % 8; ++i)
        bars.bars.push_back({.label = "bar " + std::to_string(i),
                             .from = n(),
                             .to = n(),
                             .notches = {{n(), "a"}, {n(), "b"}}});
      bars.references = {{Across::x, n(), "r"}};
      chart.body = bars;
    } else if (k % 3 == 1) {
      Field field{.xs = {}, .ys = {}, .values = {}, .label = "f", .unit = "%", .levels = {}};
      for (unsigned i = 0; i < random() % 8; ++i) field.xs.push_back(n());
      for (unsigned i = 0; i < random() % 8; ++i) field.ys.push_back(n());
      for (unsigned i = 0; i < random() % 64; ++i) field.values.push_back(n());
      field.levels = {10, 20};
      field.markers = {{{n(), n()}, "m", Sign::half, {}}};
      chart.body = field;
    } else {
      Matrix matrix;
      const auto count = random() % 12;
      for (unsigned i = 0; i < count; ++i) matrix.names.push_back("part " + std::to_string(i));
      matrix.cells.resize(count * count);
      for (auto& cell : matrix.cells) {
        if (random() % 2 == 0)
          cell = {.sign = static_cast<Sign>(random() % 9),
                  .word = "tight",
                  .rank = static_cast<int>(random() % 3)};
      }
      chart.body = matrix;
    }
    for (const double width : {390.0, 1200.0, nan_, -5.0, 1e9})
      check_svg(drawing_of(chart, {.width_px = width, .height_px = k % 2 == 0 ? 0 : n()}),
                "odd body " + std::to_string(k));
  }
}

TEST(Charts, LabelsKeepClearOfEachOther) {
  std::mt19937 random(9);
  for (int k = 0; k < 200; ++k) {
    Chart chart = plain_chart();
    Plot plot;
    std::uniform_real_distribution<double> any(0, 1);
    for (int c = 0; c < 6; ++c) {
      Curve curve{.label = "curve number " + std::to_string(c), .points = {}};
      const double a = any(random), b = any(random), f = 6 * any(random);
      for (int i = 0; i <= 50; ++i)
        curve.points.push_back({i * 2.0, 50 + 40 * a * std::sin(f * i / 50 + 6 * b)});
      plot.curves.push_back(std::move(curve));
    }
    plot.references = {{Across::y, 100 * any(random), "upper limit"},
                       {Across::x, 100 * any(random), "a speed"}};
    plot.markers = {{{100 * any(random), 100 * any(random)}, "marked", Sign::dot, {}}};
    chart.body = plot;
    for (const double width : {390.0, 800.0, 1200.0}) {
      const Drawing drawing = drawing_of(chart, {.width_px = width});
      EXPECT_EQ(support::overlap_in(drawing), "") << k << " at " << width;
      EXPECT_EQ(support::off_the_sheet(drawing), "") << k << " at " << width;
    }
  }
}

}  // namespace
}  // namespace ww::draw
