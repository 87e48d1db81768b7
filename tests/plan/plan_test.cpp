// SPDX-License-Identifier: MIT
// Parts list, measuring list and sketch: sums to the cent, nothing missing silently, and a dream
// that can be ridden.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "plan/dream.h"
#include "plan/measuring_list.h"
#include "plan/parts_list.h"
#include "tests/support/world.h"

namespace ww::plan {
namespace {

using support::demo;
using support::library;

std::vector<build::Goods> goods() {
  Errors errors;
  const std::string text = support::file_text(WW_SOURCE_DIR "/data/parts/tool.toml");
  auto list = build::read_goods({"tool.toml", text}, errors);
  EXPECT_TRUE(errors.empty());
  return list;
}

const Line* line_of(const PartsList& list, std::string_view what) {
  for (const Line& line : list.lines) {
    if (line.what == what) return &line;
  }
  return nullptr;
}

TEST(PartsList, SumsToTheCent) {
  const auto list = parts_list(demo("reference"), library(), goods());
  Cents parts = 0, small = 0, tools = 0;
  for (const auto& line : list.lines) parts += line.price;
  for (const auto& line : list.small_parts) small += line.price;
  for (const auto& line : list.tools) tools += line.price;
  EXPECT_EQ(list.parts, parts);
  EXPECT_EQ(list.total, parts + small + tools + list.duty + list.contingency);
  EXPECT_LT(list.total_low, list.total);
  EXPECT_GT(list.total_high, list.total);
  EXPECT_GT(list.small_parts.size(), 15U);
}

void set_share(Build& b, const char* path, double value) {
  build::set_number(b, build::id_of(path), value);
  build::figure_at(b, build::id_of(path))->half_width = 0;
}

TEST(PartsList, ContingencyIsKeptForWhatIsStillToBeBought) {
  Build b = demo("reference");
  set_share(b, "money.contingency", 0.2);
  set_share(b, "money.duty_share", 0);
  const auto before = parts_list(b, library(), goods());
  Cents base = before.small;
  for (const auto& line : before.lines) base += line.group == "donor" ? 0 : line.price;
  base += line_of(before, "wear parts of the donor")->price;
  EXPECT_EQ(before.spent, 0);
  EXPECT_EQ(before.contingency, std::llround(0.2 * double(base)));
  // A motor that is here needs none any more, and costs what it cost.
  for (const auto state : {build::State::here, build::State::ordered}) {
    b.motor->state = state;
    const auto after = parts_list(b, library(), goods());
    const Cents motor = line_of(after, "motor")->price;
    EXPECT_EQ(after.contingency, std::llround(0.2 * double(base - motor)));
    EXPECT_EQ(after.spent, motor);
    EXPECT_EQ(after.parts, before.parts);
  }
}

TEST(PartsList, DutyIsOwedOnWhatIsNotLandedYet) {
  Build b = demo("reference");
  set_share(b, "money.contingency", 0);
  set_share(b, "money.duty_share", 0);
  const auto without = parts_list(b, library(), goods());
  EXPECT_EQ(without.duty, 0);
  set_share(b, "money.duty_share", 0.1);
  const auto with = parts_list(b, library(), goods());
  EXPECT_GT(with.duty, 0);
  EXPECT_EQ(with.total, without.total + with.duty);
  // Stated freight stands instead of the share, and a part in the hand owes nothing.
  const Cents motor = line_of(with, "motor")->price;
  Build stated = b;
  build::set_number(stated, build::id_of("motor.freight"), 50);
  const auto landed = parts_list(stated, library(), goods());
  EXPECT_EQ(landed.duty, with.duty - std::llround(0.1 * double(motor)));
  EXPECT_EQ(line_of(landed, "motor")->price, motor + 5000);
  b.motor->state = build::State::here;
  EXPECT_EQ(parts_list(b, library(), goods()).duty, landed.duty);
}

// The library counts freight; the share covers it, so it is owed once.
TEST(PartsList, FreightOfTheLibraryIsPartOfTheShare) {
  Build b = demo("commuter");
  b.motor->state = build::State::thinking;
  const auto duty_at = [&](double share) {
    set_share(b, "money.duty_share", share);
    return line_of(parts_list(b, library(), goods()), "motor")->duty;
  };
  const double price = b.motor->price.value, freight = b.motor->freight.value;
  ASSERT_GT(freight, 0);
  EXPECT_EQ(duty_at(0.2), std::llround(100 * (0.2 * price - freight)));
  EXPECT_EQ(duty_at(0.9 * freight / price), 0);
  // Stated in the sheet, it is the whole of it.
  b.motor->freight.value = freight + 1;
  EXPECT_EQ(duty_at(0.2), 0);
}

TEST(PartsList, TheBudgetIsHeldAgainstTheTotal) {
  Build b = demo("reference");
  b.wishes.budget = {};
  const auto none = parts_list(b, library(), goods());
  EXPECT_EQ(budget_word(none), "");
  const auto with = [&](Cents budget) {
    build::set_number(b, build::id_of("wishes.budget"), double(budget) / 100);
    return std::string(budget_word(parts_list(b, library(), goods())));
  };
  EXPECT_EQ(with(none.total_high), "met");
  EXPECT_EQ(with(none.total_high - 1), "likely met");
  EXPECT_EQ(with(none.total), "likely met");
  EXPECT_EQ(with(none.total - 1), "not met");
}

// Prices of one origin err together, quotes each for itself.
TEST(PartsList, TheTotalIsAsWideAsPricesThatErrTogether) {
  Build b;
  set_share(b, "money.contingency", 0);
  set_share(b, "money.duty_share", 0);
  const auto base = parts_list(b, library(), {});
  const auto widened = [&](figure::Evidence evidence) {
    Build with = b;
    for (const char* name : {"a", "b"}) {
      build::Extra extra{.name = name, .group = "other", .price = {}, .lead_time = {}};
      extra.price.value = 100000;
      extra.price.half_width = 3000;
      extra.price.evidence = evidence;
      with.extras.push_back(extra);
    }
    const auto list = parts_list(with, library(), {});
    const double wide = double(list.total_high - list.total),
                 before = double(base.total_high - base.total);
    return std::sqrt(wide * wide - before * before) / 100;
  };
  EXPECT_NEAR(widened(figure::Evidence::guess), 6000, 1);
  EXPECT_NEAR(widened(figure::Evidence::seller), 3000 * std::sqrt(2), 1);
}

TEST(PartsList, APriceOverriddenInTheSheetIsTheSheets) {
  Build b = demo("commuter");
  EXPECT_EQ(line_of(parts_list(b, library(), goods()), "motor")->from, PriceFrom::library);
  b.motor->price.value += 1;
  EXPECT_EQ(line_of(parts_list(b, library(), goods()), "motor")->from, PriceFrom::sheet);
}

TEST(PartsList, CellsAreCountedWithTheirSpares) {
  Build b = demo("reference");
  b.pack->spares = 2;
  b.pack->parallel = 3;
  const auto list = parts_list(b, library(), goods());
  const Line* cells = line_of(list, "cell or module");
  ASSERT_NE(cells, nullptr);
  EXPECT_EQ(cells->quantity, 62);
  EXPECT_EQ(cells->price, 62 * 6000);
  // Price and freight are both of one.
  b.cell->freight.value = 1.5;
  EXPECT_EQ(line_of(parts_list(b, library(), goods()), "cell or module")->price, 62 * 6150);
}

TEST(PartsList, WhatIsNotChosenIsMissingAndPricedByItsShelf) {
  Build b = demo("reference");
  b.fuse.reset();
  const auto list = parts_list(b, library(), goods());
  const Line* fuse = line_of(list, "main fuse");
  ASSERT_NE(fuse, nullptr);
  EXPECT_TRUE(fuse->missing);
  EXPECT_EQ(fuse->from, PriceFrom::shelf);
  EXPECT_GT(fuse->price, 0);
}

TEST(PartsList, AMotorWaitsForTheBayAndIsFreeOnceItIsMeasured) {
  Build b = demo("reference");
  b.donor->side_left = {};
  const Line* waiting = nullptr;
  const auto list = parts_list(b, library(), goods());
  waiting = line_of(list, "motor");
  ASSERT_NE(waiting, nullptr);
  EXPECT_NE(std::find(waiting->waits_for.begin(), waiting->waits_for.end(),
                      build::id_of("donor.side_left")),
            waiting->waits_for.end());
  for (const char* path : {"donor.bay_length", "donor.bay_width", "donor.bay_height",
                           "donor.side_left", "donor.side_right", "donor.chainline"}) {
    build::set_number(b, build::id_of(path), 0.2);
    build::figure_at(b, build::id_of(path))->evidence = figure::Evidence::measured;
  }
  EXPECT_TRUE(line_of(parts_list(b, library(), goods()), "motor")->waits_for.empty());
  build::figure_at(b, build::id_of("donor.bay_width"))->evidence = figure::Evidence::guess;
  EXPECT_EQ(line_of(parts_list(b, library(), goods()), "motor")->waits_for.size(), 1U);
}

TEST(PartsList, AToolThatIsThereIsNotBought) {
  Build b = demo("reference");
  b.owns = {};
  const auto without = parts_list(b, library(), goods());
  b.owns = {"multimeter, 600 V"};
  const auto with = parts_list(b, library(), goods());
  EXPECT_EQ(with.tools.size() + 1, without.tools.size());
}

TEST(Money, IsShownWithItsCents) {
  EXPECT_EQ(money_text(123450), "1 234.50");
  EXPECT_EQ(money_text(100), "1");
  EXPECT_EQ(money_text(5), "0.05");
  EXPECT_EQ(money_text(-25000), "-250");
  EXPECT_EQ(money_text(123456700), "1 234 567");
  EXPECT_EQ(round_money_text(123450), "1 235");
  EXPECT_EQ(round_money_text(123449), "1 234");
  EXPECT_EQ(round_money_text(-25050), "-251");
}

TEST(MeasuringList, NamesEveryFigureAFindingWaitsFor) {
  const Build b = demo("reference");
  const auto ride = ride::ride(
      b, support::cycles(),
      {.draws = 16, .seed = 1, .pushes = true, .wanted = ride::every_answer, .widest_kernel = 8});
  const auto findings = fit::check(b, ride, library(), support::cycles(),
                                   {.runner = ride::run_in_turn,
                                    .ways_out = false,
                                    .units = figure::System::metric,
                                    .overrides = nullptr});
  const auto list = measuring_list(b, ride, findings, parts_list(b, library(), goods()));
  for (const auto& finding : findings) {
    if (finding.verdict != fit::Verdict::unmeasured) continue;
    for (const Id id : finding.missing) {
      const auto at =
          std::find_if(list.begin(), list.end(), [&](const Measurement& m) { return m.id == id; });
      ASSERT_NE(at, list.end()) << build::schema()[id].path;
      EXPECT_NE(std::find(at->findings.begin(), at->findings.end(), finding.rule->id),
                at->findings.end());
    }
  }
}

TEST(Sketch, ADreamOfEveryClassCanBeRidden) {
  for (int c = 1; c <= 8; ++c) {
    for (const double kmh : {50., 80., 105.}) {
      Build dream;
      dream.donor.emplace();
      dream.donor->bike_class = static_cast<build::BikeClass>(c);
      build::set_number(dream, build::id_of("wishes.hold_speed"), kmh / 3.6);
      build::set_number(dream, build::id_of("wishes.ride_distance"), 50e3);
      const Sketch s = sketch(dream, library());
      EXPECT_FALSE(s.put_in.empty());
      const auto ride = ride::ride(s.build, support::cycles(),
                                   {.draws = 0,
                                    .seed = 1,
                                    .pushes = false,
                                    .wanted = ride::every_answer,
                                    .widest_kernel = 1});
      ASSERT_TRUE(ride.possible) << c << " " << kmh << ": "
                                 << (ride.missing.empty() ? "parts"
                                                          : build::schema()[ride.missing[0]].path);
      EXPECT_GT(ride.nominal[ride::Answer::speed_hold_hour], 0.85 * kmh / 3.6) << c << " " << kmh;
      EXPECT_GT(ride.nominal[ride::Answer::range_mixed_reserve], 30e3) << c << " " << kmh;
      EXPECT_LT(ride.nominal[ride::Answer::mass], 400) << c << " " << kmh;
      EXPECT_FALSE(blunt_sentence(dream, s.build, ride, figure::System::metric).empty());
    }
  }
}

// What is only sketched is priced, but never chosen: it may not look ready to order.
TEST(Sketch, IsMarkedInThePartsList) {
  const Build dream = demo("dream");
  const auto own = parts_list(dream, library(), goods());
  auto list = parts_list(sketch(dream, library()).build, library(), goods());
  ASSERT_FALSE(line_of(list, "motor")->missing);
  const Cents total = list.total;
  note_sketched(list, own);
  EXPECT_TRUE(line_of(list, "motor")->missing);
  EXPECT_EQ(line_of(list, "motor")->chosen.rfind("sketched in: ", 0), 0U);
  EXPECT_TRUE(line_of(list, "display")->missing);
  EXPECT_TRUE(line_of(list, "display")->chosen.empty());
  EXPECT_FALSE(line_of(list, "wear parts of the donor")->missing);
  EXPECT_EQ(list.total, total);
  auto whole = parts_list(demo("commuter"), library(), goods());
  note_sketched(whole, whole);
  EXPECT_FALSE(line_of(whole, "motor")->missing);
}

TEST(Sketch, LeavesAChosenPartAloneAndASheetWithoutWishesAsItIs) {
  const Build reference = demo("reference");
  EXPECT_TRUE(sketch(reference, library()).put_in.empty());
  Build two;
  two.motor = reference.motor;
  EXPECT_TRUE(sketch(two, library()).put_in.empty());
  build::set_number(two, build::id_of("wishes.hold_speed"), 25);
  const Sketch s = sketch(two, library());
  EXPECT_EQ(s.build.motor->mass.value, reference.motor->mass.value);
  EXPECT_FALSE(s.put_in.empty());
}

TEST(Listing, AThinListingRidesAndSaysWhatItAssumed) {
  Build b = demo("reference");
  build::Motor thin;
  thin.type = build::MotorType::pm_radial;
  for (const auto& [path, text] :
       {std::pair{"motor.speed_constant", "60 rpm/V"}, std::pair{"motor.resistance", "12 mohm"},
        std::pair{"motor.power_continuous", "10 kW"}, std::pair{"motor.mass", "17 kg"},
        std::pair{"motor.speed_max", "6000 rpm"}}) {
    if (path == std::string_view("motor.speed_constant")) b.motor = thin;
    ASSERT_TRUE(build::set_from_text(b, build::id_of(path), text).has_value());
  }
  EXPECT_FALSE(ride::ride(b, support::cycles()).possible);
  const Sketch s = sketch(b, library());
  EXPECT_GE(s.put_in.size(), 3U);
  const auto read = ride::ride(s.build, support::cycles());
  ASSERT_TRUE(read.possible);
  // Its answers are near those of the full data sheet, and surely not narrower.
  const auto full = ride::ride(demo("reference"), support::cycles());
  const auto top = [](const ride::Ride& r) { return r.band(ride::Answer::speed_top); };
  // The two bands overlap: the thin listing's prior for the inductance is on the careful side.
  EXPECT_LT(top(read).p10, top(full).p90);
  EXPECT_GT(top(read).p90, top(full).p10);
  EXPECT_GT(top(read).p90 - top(read).p10, top(full).p90 - top(full).p10);
  EXPECT_EQ(b.motor->pole_pairs, build::unknown_count) << "the sheet itself stays as it was";
}

}  // namespace
}  // namespace ww::plan
