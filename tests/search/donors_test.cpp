// SPDX-License-Identifier: MIT
#include "search/donors.h"

#include <gtest/gtest.h>

#include "tests/search/small.h"

namespace ww::search {
namespace {

std::vector<DonorFit> donors_of(const build::Build& build) {
  return donors(build, {support::library(), goods(), support::cycles()});
}

TEST(Donors, EveryClassIsHeldAgainstTheWishes) {
  const auto list = donors_of(donor_of("commuter"));
  ASSERT_EQ(list.size(), 9U);  // its own bike and eight classes
  EXPECT_TRUE(list[0].own);
  for (const DonorFit& d : list) {
    if (!d.reaches) continue;
    EXPECT_GT(d.energy_J, 0) << d.words;
    EXPECT_GT(d.bay_needed_m3, d.cells_m3) << d.words;
    EXPECT_GT(d.mass_laden_kg, 100) << d.words;
    EXPECT_EQ(d.carries(), d.bay_m3 >= d.bay_needed_m3 && d.mass_laden_kg <= d.gross_kg);
  }
}

TEST(Donors, AFartherRideWantsMoreAndCarriesOnNoMoreDonors) {
  build::Build b = donor_of("commuter");
  int carried = 9;
  double energy = 0;
  for (const double km : {30.0, 80.0, 160.0}) {
    b.wishes.ride_distance.value = 1000 * km;
    const auto list = donors_of(b);
    int now = 0;
    for (const DonorFit& d : list) now += d.carries() ? 1 : 0;
    EXPECT_LE(now, carried) << km;
    EXPECT_GE(list[0].energy_J, energy) << km;
    carried = now;
    energy = list[0].energy_J;
  }
}

TEST(Donors, FiveTapeMeasurementsAreEnoughForAStrangersBike) {
  build::Build b;
  b.wishes.ride_distance.value = 60e3;
  b.wishes.hold_speed.value = 80 / 3.6;
  b.donor.emplace();
  b.donor->bike_class = build::BikeClass::single_250_300;
  b.donor->bay_length.value = 0.20;
  b.donor->bay_width.value = 0.15;
  b.donor->bay_height.value = 0.20;
  b.donor->wheelbase.value = 1.35;
  b.donor->gross_mass.value = 330;
  const auto list = donors_of(b);
  ASSERT_FALSE(list.empty());
  EXPECT_TRUE(list[0].own);
  EXPECT_FALSE(list[0].room()) << "six litres hold no such pack";
}

TEST(Donors, WithoutADistanceThereIsNothingToSay) {
  EXPECT_TRUE(donors_of({}).empty());
}

}  // namespace
}  // namespace ww::search
