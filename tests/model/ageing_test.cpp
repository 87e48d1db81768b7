// SPDX-License-Identifier: MIT
// Identities of the ageing laws: order, splitting, direction, and where they have nothing to say.
// Reference digits stand in tests/values/ageing.tsv.
#include "model/ageing.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "model/ocv_tables.h"

namespace ww::model {
namespace {

constexpr Chemistry with_model[] = {Chemistry::lfp, Chemistry::nmc, Chemistry::nca, Chemistry::lto};
constexpr Chemistry without_model[] = {Chemistry::lco, Chemistry::sodium, Chemistry::lead,
                                       Chemistry::unknown};
constexpr double year_s = 365 * 86400.0;

constexpr AgeingUse usual{.duration_s = year_s,
                          .full_cycles = 40,
                          .depth = 0.6,
                          .rate_per_h = 1,
                          .soc_storage = 0.8,
                          .temperature_K = 293.15};

Ageing aged_once(Chemistry chemistry, const AgeingUse& use) {
  return aged(chemistry, std::span(&use, 1));
}
double lost(Chemistry chemistry, const AgeingUse& use) {
  const auto a = aged_once(chemistry, use);
  return a.calendar_loss + a.cycle_loss;
}

TEST(History, OrderDoesNotMatter) {
  std::vector<AgeingUse> phases{usual, usual, usual};
  phases[0].temperature_K = 308.15;
  phases[0].soc_storage = 1;
  phases[1].temperature_K = 278.15;
  phases[1].full_cycles = 0;
  phases[1].soc_storage = 0.5;
  phases[2].depth = 0.9;
  phases[2].rate_per_h = 0.5;
  for (const auto chemistry : with_model) {
    const auto first = aged(chemistry, phases);
    auto other = phases;
    std::reverse(other.begin(), other.end());
    const auto second = aged(chemistry, other);
    std::swap(other[0], other[1]);
    const auto third = aged(chemistry, other);
    EXPECT_NEAR(first.capacity_left, second.capacity_left, 1e-14);
    EXPECT_NEAR(first.capacity_left, third.capacity_left, 1e-14);
    EXPECT_GT(1 - first.capacity_left, lost(chemistry, phases[0]));
    if (!std::isnan(first.resistance_factor)) {
      EXPECT_NEAR(first.resistance_factor, second.resistance_factor, 1e-14);
    }
  }
}

TEST(History, SplittingAPhaseChangesNothing) {
  auto half = usual;
  half.duration_s /= 2;
  half.full_cycles /= 2;
  const std::array<AgeingUse, 2> halves{half, half};
  for (const auto chemistry : with_model) {
    const auto whole = aged_once(chemistry, usual);
    const auto split = aged(chemistry, halves);
    EXPECT_NEAR(whole.calendar_loss, split.calendar_loss, 1e-15);
    EXPECT_NEAR(whole.cycle_loss, split.cycle_loss, 1e-15);
    EXPECT_NEAR(whole.capacity_left, 1 - whole.calendar_loss - whole.cycle_loss, 1e-15);
    EXPECT_EQ(capacity_left(chemistry, usual), whole.capacity_left);
  }
}

TEST(History, CarryOverIsVirtualTime) {
  // x after the first condition corresponds to a time u0 in the second: k2 u0^p = x.
  const double p = 0.62;
  const double first = 0.003 * std::pow(700.0, p);
  const double u0 = std::pow(first / 0.008, 1 / p);
  const double expected = 0.008 * std::pow(u0 + 250, p);
  const auto h = carried_on(carried_on({.exponent = p}, 0.003, 700), 0.008, 250);
  EXPECT_NEAR(history_loss(h), expected, 1e-14);
}

TEST(History, NoUseNoLoss) {
  auto none = usual;
  none.duration_s = 0;
  none.full_cycles = 0;
  for (const auto chemistry : with_model) {
    EXPECT_EQ(capacity_left(chemistry, none), 1);
    EXPECT_EQ(aged(chemistry, {}).capacity_left, 1);
  }
  EXPECT_EQ(aged_once(Chemistry::lfp, none).resistance_factor, 1);
  EXPECT_EQ(aged_once(Chemistry::nmc, none).resistance_factor, 1);
}

TEST(Ageing, MoreTimeCyclesWarmthOrChargeLosesMore) {
  for (const auto chemistry : with_model) {
    const double base = lost(chemistry, usual);
    EXPECT_GT(base, 0);
    EXPECT_LT(base, 0.2);
    auto more = usual;
    more.full_cycles = 80;
    EXPECT_GT(lost(chemistry, more), base);
    more = usual;
    more.depth = 0.75;
    EXPECT_GT(lost(chemistry, more), base);
    more = usual;
    more.temperature_K = 303.15;
    EXPECT_GT(lost(chemistry, more), base);
    if (chemistry == Chemistry::lto) continue;  // no calendar loss
    more = usual;
    more.duration_s = 2 * year_s;
    EXPECT_GT(lost(chemistry, more), base);
    EXPECT_LT(lost(chemistry, more), 2 * base);
    more = usual;
    more.soc_storage = 1;
    EXPECT_GT(aged_once(chemistry, more).calendar_loss, aged_once(chemistry, usual).calendar_loss);
  }
}

TEST(Ageing, NeverBorrowsAModel) {
  for (const auto chemistry : without_model) {
    const auto a = aged_once(chemistry, usual);
    EXPECT_TRUE(std::isnan(a.calendar_loss));
    EXPECT_TRUE(std::isnan(a.cycle_loss));
    EXPECT_TRUE(std::isnan(a.capacity_left));
    EXPECT_TRUE(std::isnan(a.resistance_factor));
    EXPECT_TRUE(std::isnan(capacity_left(chemistry, usual)));
    EXPECT_EQ(ageing_source(chemistry), "no published model here");
  }
  for (const auto chemistry : with_model) {
    EXPECT_NE(ageing_source(chemistry), "no published model here");
    EXPECT_FALSE(std::isnan(capacity_left(chemistry, usual)));
  }
  EXPECT_NE(ageing_source(Chemistry::lfp).find("Naumann"), std::string_view::npos);
  EXPECT_NE(ageing_source(Chemistry::nmc).find("Schmalstieg"), std::string_view::npos);
  EXPECT_NE(ageing_source(Chemistry::nca).find("Keil"), std::string_view::npos);
  EXPECT_NE(ageing_source(Chemistry::lto).find("Bank"), std::string_view::npos);
}

TEST(Ageing, OutsideTheFitsIsNaN) {
  const auto refused = [](AgeingUse use) {
    for (const auto chemistry : with_model) {
      EXPECT_TRUE(std::isnan(capacity_left(chemistry, use)));
    }
  };
  auto use = usual;
  use.temperature_K = 334;
  refused(use);
  use.temperature_K = 253;
  refused(use);
  use = usual;
  use.depth = 1.01;
  refused(use);
  use.depth = -0.01;
  refused(use);
  use = usual;
  use.soc_storage = 1.01;
  refused(use);
  use.soc_storage = -0.01;
  refused(use);
  use = usual;
  use.duration_s = -1;
  refused(use);
  use = usual;
  use.full_cycles = -1;
  refused(use);
  // The edges themselves are inside.
  for (const double T : {253.15, 333.15}) {
    use = usual;
    use.temperature_K = T;
    for (const auto chemistry : with_model) {
      EXPECT_FALSE(std::isnan(capacity_left(chemistry, use))) << T;
    }
  }
}

TEST(Ageing, EachLawKeepsItsDomain) {
  const auto all_nan = [](std::initializer_list<double> values) {
    for (const double v : values) EXPECT_TRUE(std::isnan(v));
  };
  const auto no_nan = [](std::initializer_list<double> values) {
    for (const double v : values) EXPECT_FALSE(std::isnan(v));
  };
  const double T = 298.15;
  all_nan({naumann_calendar_rate(-0.1, T),
           naumann_calendar_rate(1.1, T),
           naumann_calendar_rate(0.5, 340),
           naumann_calendar_rate(0.5, 250),
           naumann_calendar_resistance_rate(1.1, T),
           naumann_calendar_resistance_rate(0.5, 340),
           naumann_cycle_rate(1, -0.1),
           naumann_cycle_rate(1, 1.1),
           naumann_cycle_rate(0, 0.5),
           naumann_cycle_rate(2.1, 0.5),
           naumann_cycle_resistance_rate(1, 1.1),
           naumann_cycle_resistance_rate(0, 0.5),
           naumann_cycle_resistance_rate(2.1, 0.5),
           schmalstieg_calendar_rate(4.21, T),
           schmalstieg_calendar_rate(3.7, 340),
           schmalstieg_calendar_resistance_rate(4.21, T),
           schmalstieg_calendar_resistance_rate(3.7, 340),
           schmalstieg_cycle_rate(2.9, 0.5),
           schmalstieg_cycle_rate(4.21, 0.5),
           schmalstieg_cycle_rate(3.7, 1.1),
           schmalstieg_cycle_resistance_rate(2.9, 0.5),
           schmalstieg_cycle_resistance_rate(4.21, 0.5),
           schmalstieg_cycle_resistance_rate(3.7, 1.1),
           nca_calendar_rate(1.1, T),
           nca_calendar_rate(0.5, 340),
           nca_cycle_rate(1.1),
           nca_cycle_rate(-0.1),
           lto_cycle_rate(0, 0.5, T),
           lto_cycle_rate(10.1, 0.5, T),
           lto_cycle_rate(1, 1.1, T),
           lto_cycle_rate(1, 0.5, 340),
           wang_rate(1, 272.9),
           wang_rate(1, 333.3),
           wang_prefactor(0.49),
           wang_prefactor(10.01)});
  no_nan({naumann_calendar_rate(0, 253.15),
          naumann_calendar_rate(1, 333.15),
          naumann_calendar_resistance_rate(1, 333.15),
          naumann_cycle_rate(2, 1),
          naumann_cycle_rate(0.1, 0),
          naumann_cycle_resistance_rate(2, 1),
          naumann_cycle_resistance_rate(0.1, 0),
          schmalstieg_calendar_rate(3.149, T),
          schmalstieg_calendar_rate(4.2, T),
          schmalstieg_calendar_resistance_rate(3.097, T),
          schmalstieg_calendar_resistance_rate(4.2, T),
          schmalstieg_cycle_rate(3.0, 0),
          schmalstieg_cycle_rate(4.2, 1),
          schmalstieg_cycle_resistance_rate(3.0, 0),
          schmalstieg_cycle_resistance_rate(4.2, 1),
          nca_calendar_rate(0, T),
          nca_calendar_rate(1, T),
          nca_cycle_rate(0),
          nca_cycle_rate(1),
          lto_cycle_rate(0.1, 0, T),
          lto_cycle_rate(10, 1, T),
          wang_rate(0.5, 273),
          wang_rate(10, 333.15)});
  // The fits must not turn negative at the edges they are stated for.
  EXPECT_GE(schmalstieg_calendar_rate(3.149, T), 0);
  EXPECT_GE(schmalstieg_calendar_resistance_rate(3.097, T), 0);
  EXPECT_GT(naumann_calendar_rate(0, T), 0);
}

TEST(Ageing, LtoHardlyCaresForTheRate) {
  const double per_C = 7.83e-5 * std::exp(-8.33);  // at 45 C the law's exponent is -8.33
  EXPECT_NEAR(lto_cycle_rate(10, 0, 318.15) - lto_cycle_rate(1, 0, 318.15), 9 * per_C, 1e-13);
  EXPECT_NEAR(lto_cycle_rate(4, 0.7, 318.15) - lto_cycle_rate(2, 0.7, 318.15), 2 * per_C, 1e-13);
}

TEST(Ageing, WangInverts) {
  for (const double rate : {0.5, 1.0, 3.0, 8.0}) {
    WangUse use{.rate_per_h = rate, .temperature_K = 305, .discharged_C = 0, .charge_C = 90 * 3600};
    use.discharged_C = wang_charge_until_C(use, 0.2);
    EXPECT_NEAR(wang_loss(use), 0.2, 1e-12);
  }
}

TEST(Ageing, TheWindowOfARideStartsWhereTheBikeStands) {
  const auto curve = ocv_ramps(ocv_points(OcvCurve::nmc111));
  const auto cycle_loss = [&](double soc, double depth) {
    auto use = usual;
    use.soc_storage = soc;
    use.depth = depth;
    return aged_once(Chemistry::nmc, use).cycle_loss;
  };
  const auto expected = [&](double bottom, double top) {
    const double mean_V = ocv_mean_V(curve, bottom, top);
    return schmalstieg_cycle_rate(mean_V, top - bottom) * std::sqrt(40 * 2 * 2.05);
  };
  EXPECT_NEAR(cycle_loss(0.9, 0.3), expected(0.6, 0.9), 1e-14);
  EXPECT_NEAR(cycle_loss(0.5, 0.5), expected(0.0, 0.5), 1e-14);
  EXPECT_NEAR(cycle_loss(0.5, 0.8), expected(0.0, 0.8), 1e-14);  // charged to 0.8 for the ride
  // No depth: the voltage at which it stands.
  EXPECT_NEAR(cycle_loss(0.7, 0), schmalstieg_cycle_rate(3.8688, 0) * std::sqrt(164.0), 1e-12);
}

TEST(Ageing, ResistanceRisesByTheSameLawsAsPrinted) {
  const auto lfp = aged_once(Chemistry::lfp, usual);
  EXPECT_NEAR(lfp.resistance_factor,
              1 + naumann_calendar_resistance_rate(0.8, 293.15) * year_s +
                  naumann_cycle_resistance_rate(1, 0.6) * 40,
              1e-14);
  const auto curve = ocv_ramps(ocv_points(OcvCurve::nmc111));
  const auto nmc = aged_once(Chemistry::nmc, usual);
  const double calendar =
      schmalstieg_calendar_resistance_rate(3.9649, 293.15) * std::pow(365.0, 0.75);
  const double cycle =
      schmalstieg_cycle_resistance_rate(ocv_mean_V(curve, 0.2, 0.8), 0.6) * 40 * 4.1;
  EXPECT_NEAR(nmc.resistance_factor, 1 + calendar + cycle, 1e-12);
  EXPECT_TRUE(std::isnan(aged_once(Chemistry::nca, usual).resistance_factor));
  EXPECT_TRUE(std::isnan(aged_once(Chemistry::lto, usual).resistance_factor));
  // Shallow cycles alone would lower it by the fit; the factor never falls below 1.
  auto shallow = usual;
  shallow.duration_s = 0;
  shallow.depth = 0.01;
  shallow.soc_storage = 0.55;
  EXPECT_LT(schmalstieg_cycle_resistance_rate(3.73, 0.01), 0);
  EXPECT_EQ(aged_once(Chemistry::nmc, shallow).resistance_factor, 1);
}

TEST(Ageing, NeverLeavesLessThanNothing) {
  auto worn = usual;
  worn.full_cycles = 1e7;
  for (const auto chemistry : with_model) EXPECT_EQ(capacity_left(chemistry, worn), 0);
}

TEST(Ageing, FullCyclesOfADistance) {
  // 4000 km at 60 Wh/km from 6 kWh: 40 full cycles.
  EXPECT_NEAR(full_cycles(4e6, 60 * 3.6, 6000 * 3600.0), 40, 1e-12);
}

}  // namespace
}  // namespace ww::model
