// SPDX-License-Identifier: MIT
// Claims against the same sums done by hand.
#include "search/claims.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/world.h"

namespace ww::search {
namespace {

TEST(Claims, AreReadWithTheirUnits) {
  const auto claim = read_claim("8 kW, 100 km/h, 150 km on 3 kWh");
  ASSERT_TRUE(claim.has_value());
  EXPECT_DOUBLE_EQ(claim->power_W, 8000);
  EXPECT_NEAR(claim->speed_mps, 100 / 3.6, 1e-9);
  EXPECT_DOUBLE_EQ(claim->distance_m, 150000);
  EXPECT_DOUBLE_EQ(claim->energy_J, 3 * 3.6e6);
  EXPECT_TRUE(std::isnan(claim->mass_kg));
}

TEST(Claims, OtherUnitsAndNoSpaces) {
  const auto claim = read_claim("does 70mph, 20 hp! 60 mi from 6.2kWh, 180 kg wet");
  ASSERT_TRUE(claim.has_value());
  EXPECT_NEAR(claim->speed_mps, 70 * 0.44704, 1e-9);
  EXPECT_NEAR(claim->power_W, 20 * 745.7, 2);
  EXPECT_NEAR(claim->distance_m, 60 * 1609.344, 1e-6);
  EXPECT_NEAR(claim->mass_kg, 180, 1e-9);
}

TEST(Claims, ALengthOfABoltAndALoneFigureAreNone) {
  EXPECT_FALSE(read_claim("").has_value());
  EXPECT_FALSE(read_claim("a fine bike").has_value());
  EXPECT_FALSE(read_claim("8 kW").has_value());
  EXPECT_FALSE(read_claim("3 kWh, bolts 40 mm").has_value());
  EXPECT_EQ(read_claim("150 km").error().code, "no-claim");
}

TEST(Claims, AnyTextIsReadWithoutACrash) {
  std::mt19937 random(9);
  const std::string letters = "0123456789 .,/kmhWV-+()\xC3\xA4\n";
  for (int round = 0; round < 3000; ++round) {
    std::string text;
    for (std::size_t i = random() % 60; i > 0; --i) text += letters[random() % letters.size()];
    const auto claim = read_claim(text);
    if (!claim) {
      EXPECT_EQ(claim.error().code, "no-claim");
    }
  }
}

/// A bike of which everything is measured, so that the sums can be done by hand.
build::Build plain_bike() {
  build::Build b = support::demo("commuter");
  for (auto* figure : {&b.donor->drag_area, &b.donor->rolling_resistance})
    figure->half_width = 1e-9;
  return b;
}

TEST(Claims, TheTypicalBoastFallsApartWhereItShould) {
  const auto claim = read_claim("8 kW, 100 km/h, 150 km on 3 kWh");
  const auto terms = take_apart(*claim, plain_bike(), figure::System::metric);
  ASSERT_EQ(terms.size(), 3U);
  // By hand: 0.5 m2, 0.014, some 296 kg at 17 C: at 100 km/h 41 N of rolling and 236 N of air are
  // 7.7 kW at the wheel, 8.1 at the shaft: near enough to 8 to be open.
  EXPECT_GT(terms[0].share_of_bikes, 0.02);
  EXPECT_LT(terms[0].share_of_bikes, 0.98);
  // 3 kWh over 150 km are 20 Wh/km. At 45 km/h: 41 N and 48 N are 25 Wh/km at the wheel alone.
  EXPECT_LT(terms[1].share_of_bikes, 0.01);
  EXPECT_LT(terms[2].share_of_bikes, 0.01);
  EXPECT_EQ(plausibility(terms[2].share_of_bikes), "not to be believed");
}

TEST(Claims, WhatTheModelItselfDoesIsBelievable) {
  const auto claim = read_claim("12 kW, 100 km/h, 100 km on 7 kWh");
  const auto terms = take_apart(*claim, plain_bike(), figure::System::metric);
  EXPECT_GT(terms[0].share_of_bikes, 0.95);
  EXPECT_GT(terms[1].share_of_bikes, 0.95);
}

TEST(Claims, MorePowerNeverMakesAClaimLessBelievable) {
  const build::Build bike = support::demo("reference");
  double before = -1;
  for (const double kW : {2.0, 5.0, 7.0, 8.0, 9.0, 12.0, 20.0}) {
    Claim claim;
    claim.power_W = 1000 * kW;
    claim.speed_mps = 100 / 3.6;
    const double share = take_apart(claim, bike, figure::System::metric)[0].share_of_bikes;
    EXPECT_GE(share, before);
    before = share;
  }
  EXPECT_GT(before, 0.99);
}

TEST(Claims, NeedNoSheetOfParts) {
  const auto claim = read_claim("8 kW, 100 km/h");
  const auto terms = take_apart(*claim, build::Build{}, figure::System::imperial);
  ASSERT_EQ(terms.size(), 1U);
  EXPECT_NE(terms[0].then_rather.find("mph"), std::string::npos) << terms[0].then_rather;
}

}  // namespace
}  // namespace ww::search
