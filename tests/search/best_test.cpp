// SPDX-License-Identifier: MIT
// Trade-offs, relaxations and decisions against the plain definition, on random records and on
// those of a hunt.
#include <gtest/gtest.h>

#include <optional>
#include <random>
#include <set>

#include "plan/parts_list.h"
#include "search/best.h"
#include "tests/search/small.h"

namespace ww::search {
namespace {

using support::cycles;
using support::library;

constexpr std::array<double, traded_count> all_count{1, 1, 1, 1, 1, 1};

std::vector<Record> random_records(std::mt19937& random, std::size_t count, int values) {
  std::vector<Record> records(count);
  for (Record& r : records) {
    for (std::size_t a = 0; a < axis_count; ++a) r.at[a] = static_cast<std::uint8_t>(random() % 4);
    for (std::size_t q = 0; q < quantity_count; ++q)
      r.numbers[q] = static_cast<float>(quantities()[q].step *
                                        double(1 + random() % static_cast<unsigned>(values)));
    if (random() % 20 == 0)
      r.numbers[index_of(Quantity::punch)] = std::numeric_limits<float>::infinity();
  }
  return records;
}

std::array<int, traded_count> steps(const Record& r) {
  std::array<int, traded_count> out{};
  for (std::size_t q = 0; q < traded_count; ++q) out[q] = steps_of(quantities()[q], r.numbers[q]);
  return out;
}

Stands asked_of(const std::vector<bool>& stands) {
  return [&](const std::vector<Index>& asked) {
    std::vector<bool> out;
    for (const Index i : asked) out.push_back(stands[i]);
    return out;
  };
}

/// By the definition: every record against every other.
std::vector<Index> plain_trade_offs(const std::vector<Record>& records,
                                    const std::vector<bool>& there) {
  std::vector<Index> out;
  for (Index i = 0; i < records.size(); ++i) {
    bool beaten = !there[i];
    for (Index k = 0; k < records.size() && !beaten; ++k) {
      if (k == i || !there[k]) continue;
      bool all = true, one = false;
      const auto a = steps(records[k]), b = steps(records[i]);
      for (std::size_t q = 0; q < traded_count; ++q) {
        all = all && a[q] >= b[q];
        one = one || a[q] > b[q];
      }
      beaten = all && (one || k < i);
    }
    if (!beaten) out.push_back(i);
  }
  return out;
}

TEST(Best, TradeOffsAreThoseOfTheDefinition) {
  std::mt19937 random(11);
  for (int round = 0; round < 40; ++round) {
    const auto records = random_records(random, 300, 3 + round % 20);
    EXPECT_EQ(trade_offs(records, all_count),
              plain_trade_offs(records, std::vector<bool>(records.size(), true)));
    std::vector<bool> stands(records.size());
    for (std::size_t i = 0; i < stands.size(); ++i) stands[i] = random() % 3 != 0;
    EXPECT_EQ(trade_offs(records, all_count, asked_of(stands)), plain_trade_offs(records, stands));
  }
}

TEST(Best, AStepOfEveryQuantityCounts) {
  // In the units of a record: money as it is, weeks as weeks, all else SI.
  const Numbers bike{9000, 80e3F, 6.5F, 28.5F, 190, 5, 26, 0.1F, 18};
  const Numbers step{20, 1000, 0.1F, 0.28F, 1, 1, 0.28F, 0.01F, 0.1F};
  for (std::size_t q = 0; q < traded_count; ++q) {
    std::vector<Record> records(2);
    records[0].numbers = records[1].numbers = bike;
    records[1].numbers[q] += (quantities()[q].more_is_better ? 1.01F : -1.01F) * step[q];
    EXPECT_EQ(trade_offs(records, all_count), (std::vector<Index>{1})) << quantities()[q].word;
  }
}

TEST(Best, AQuantityOfNoWeightDoesNotCount) {
  std::vector<Record> records(2);
  records[0].numbers.fill(100);
  records[1].numbers.fill(100);
  records[0].numbers[index_of(Quantity::money)] = 200;
  records[1].numbers[index_of(Quantity::mass)] = 200;
  EXPECT_EQ(trade_offs(records, all_count), (std::vector<Index>{0, 1}));
  auto without = all_count;
  without[index_of(Quantity::mass)] = 0;
  EXPECT_EQ(trade_offs(records, without), (std::vector<Index>{1}));
}

TEST(Best, DecisionsAreThoseOfTheDefinitionWhateverStands) {
  std::mt19937 random(29);
  Space space;
  for (auto& options : space.options) options.resize(4);
  Worth worth;
  worth.money_per_step.fill(1);
  for (int round = 0; round < 40; ++round) {
    auto records = random_records(random, 400, 200);
    for (Record& r : records) r.numbers[index_of(Quantity::punch)] = 5;
    std::vector<bool> stands(records.size());
    for (std::size_t i = 0; i < stands.size(); ++i)
      stands[i] = random() % 10 >= static_cast<unsigned>(round % 10);
    double most = -1e300;
    std::array<std::array<std::optional<Index>, 4>, axis_count> best;
    for (Index i = 0; i < records.size(); ++i) {
      if (!stands[i]) continue;
      const double value = worth.of(records[i].numbers);
      most = std::max(most, value);
      for (std::size_t a = 0; a < axis_count; ++a) {
        auto& slot = best[a][records[i].at[a]];
        if (!slot || value > worth.of(records[*slot].numbers)) slot = i;
      }
    }
    const auto found = decisions(space, records, worth, asked_of(stands));
    ASSERT_EQ(found.size(), axis_count);
    for (const Decision& decision : found) {
      ASSERT_EQ(decision.options.size(), 4U);
      for (const OptionValue& option : decision.options) {
        const auto expected = best[index_of(decision.axis)][option.option];
        EXPECT_EQ(option.record, *expected);
        EXPECT_DOUBLE_EQ(option.loss, most - worth.of(records[*expected].numbers));
      }
    }
  }
}

TEST(Best, RelaxationsAreTheLeastByEnumeration) {
  std::mt19937 random(17);
  for (int round = 0; round < 60; ++round) {
    const auto records = random_records(random, 120, 12);
    const std::vector<Must> musts{
        {Quantity::money, 20 * 2}, {Quantity::distance, 11000}, {Quantity::hold_speed, 11 / 3.6}};
    const auto missed = [&](const Record& r) {
      std::array<int, 3> out{};
      for (std::size_t m = 0; m < 3; ++m) {
        const float value = r.numbers[index_of(musts[m].quantity)];
        if (!met(musts[m], value))
          out[m] = std::max(1, int(std::ceil(std::fabs(double(value) - musts[m].bound) /
                                             info_of(musts[m].quantity).step)));
      }
      return out;
    };
    std::set<std::array<int, 3>> all, least;
    bool some_meets = false;
    for (const Record& r : records) {
      all.insert(missed(r));
      some_meets = some_meets || missed(r) == std::array<int, 3>{};
    }
    for (const auto& x : all) {
      bool covered = false;
      for (const auto& y : all)
        covered = covered || (y != x && y[0] <= x[0] && y[1] <= x[1] && y[2] <= x[2]);
      if (!covered) least.insert(x);
    }
    const auto found = relaxations(records, musts);
    if (some_meets) {
      EXPECT_TRUE(found.empty());
      continue;
    }
    std::set<std::array<int, 3>> got;
    for (const Relaxation& r : found) {
      got.insert(missed(records[r.record]));
      for (const auto& step : r.steps)
        EXPECT_FALSE(met(musts[step.must], static_cast<float>(step.value)));
    }
    EXPECT_EQ(got, least);
    EXPECT_EQ(got.size(), found.size());
    for (std::size_t i = 1; i < found.size(); ++i)
      EXPECT_LE(found[i - 1].steps.size(), found[i].steps.size());
  }
}

/// On the records of three small libraries.
class OfHunts : public testing::TestWithParam<int> {};

TEST_P(OfHunts, TradeOffsAndLossesAreThoseOfTheDefinition) {
  const Small s = small(GetParam());
  const Ground ground(space_of(donor_of(s.donor), library(), s.ask), library(), goods(), cycles());
  HuntOptions options;
  options.strict = false;
  const Hunted hunted = hunt(ground, {}, options);
  ASSERT_GT(hunted.records.size(), 20U);
  const auto front = trade_offs(hunted.records, all_count);
  EXPECT_EQ(front,
            plain_trade_offs(hunted.records, std::vector<bool>(hunted.records.size(), true)));

  const Worth worth = worth_of(hunted.records, front, all_count);
  const auto best = hunted.records[best_of(hunted.records, worth)];
  for (const Decision& decision : decisions(ground.space(), hunted.records, worth)) {
    const std::size_t a = index_of(decision.axis);
    double least = std::numeric_limits<double>::infinity();
    for (const OptionValue& option : decision.options) {
      double most = -std::numeric_limits<double>::infinity();
      for (const Record& r : hunted.records) {
        if (r.at[a] == option.option) most = std::max(most, worth.of(r.numbers));
      }
      EXPECT_EQ(worth.of(hunted.records[option.record].numbers), most);
      EXPECT_EQ(option.loss, worth.of(best.numbers) - most);
      EXPECT_EQ(hunted.records[option.record].at[a], option.option);
      least = std::min(least, option.loss);
    }
    EXPECT_EQ(least, 0);
    EXPECT_EQ(decision.options.front().loss, 0);
  }
  // The short list is of trade-offs, each another bike: in two of motor, controller and cell, or in
  // as many as there are to differ in; where there is none, well apart in some number.
  std::vector<std::size_t> varying;
  for (const std::size_t a : {0U, 1U, 2U}) {
    std::set<int> seen;
    for (const Index i : front) seen.insert(hunted.records[i].at[a]);
    if (seen.size() > 1) varying.push_back(a);
  }
  const auto list = short_list(hunted.records, front, worth, 5);
  ASSERT_FALSE(list.empty());
  for (std::size_t i = 0; i < list.size(); ++i) {
    EXPECT_TRUE(std::binary_search(front.begin(), front.end(), list[i]));
    for (std::size_t k = 0; k < i; ++k) {
      const Record &one = hunted.records[list[i]], &other = hunted.records[list[k]];
      std::size_t differ = 0;
      for (const std::size_t a : varying) differ += one.at[a] != other.at[a] ? 1U : 0U;
      EXPECT_GE(differ, std::min<std::size_t>(2, varying.size()));
      if (varying.empty()) {
        EXPECT_NE(one.numbers, other.numbers);
      }
    }
  }
}

INSTANTIATE_TEST_SUITE_P(ThreeLibraries, OfHunts, testing::Values(0, 1, 2));

TEST(Best, MoneyIsThePartsListsTotalButForSmallParts) {
  const Small s = small(0);
  const Ground ground(space_of(donor_of(s.donor), library(), s.ask), library(), goods(), cycles());
  HuntOptions options;
  options.strict = false;
  const Hunted hunted = hunt(ground, {}, options);
  ASSERT_FALSE(hunted.records.empty());
  const auto list_of = [&](const Record& r) {
    return plan::parts_list(ground.build_of(r.at, r.picks), library(), goods());
  };
  // Small parts and tools follow the kind of cell; all else must agree to the cent a part.
  const auto apart = [](const plan::PartsList& list) {
    return double(list.total - list.small - list.tooling) / 100 -
           list.contingency_share * double(list.small) / 100;
  };
  const Record& first = hunted.records.front();
  const double offset = double(first.numbers[index_of(Quantity::money)]) - apart(list_of(first));
  for (std::size_t i = 0; i < hunted.records.size(); i += 1 + hunted.records.size() / 25) {
    const Record& r = hunted.records[i];
    if (std::count(r.picks.begin(), r.picks.end(), std::int16_t{-1}) !=
        std::count(first.picks.begin(), first.picks.end(), std::int16_t{-1}))
      continue;  // what is not on the shelf costs the shelf's middle, which the two take apart
    EXPECT_NEAR(double(r.numbers[index_of(Quantity::money)]) - apart(list_of(r)), offset, 1.0) << i;
  }
}

TEST(Best, TheLastCheckFindsWhatTheFullCheckFinds) {
  const Small s = small(0);
  const Ground ground(space_of(donor_of(s.donor), library(), s.ask), library(), goods(), cycles());
  HuntOptions options;
  options.strict = false;
  const Hunted hunted = hunt(ground, {}, options);
  LastCheck last(ground);
  std::size_t stood = 0, fell = 0;
  for (std::size_t i = 0; i < hunted.records.size(); i += 1 + hunted.records.size() / 40) {
    const auto result = last.check(hunted.records[i]);
    const Build b = ground.build_of(hunted.records[i].at, result.picks);
    ride::RideOptions how;
    how.draws = 0;
    how.pushes = false;
    const auto ride = ride::ride(b, cycles(), how);
    std::string clash;
    for (const auto& rule : fit::rule_book().rules()) {
      const auto index = static_cast<std::size_t>(&rule - fit::rule_book().rules().data());
      const Reads& reads = ground.layout().reads(index);
      if (!reads.ride || (reads.axes == 0 && reads.supports == 0) || rule.id.rfind("wish-", 0) == 0)
        continue;
      const auto finding = fit::check_one(b, ride, rule);
      if (finding && finding->verdict == fit::Verdict::clash) clash += std::string(rule.id) + " ";
    }
    if (result.stands) {
      ++stood;
      EXPECT_EQ(clash, "");
    } else {
      ++fell;
      EXPECT_NE(clash.find(result.rule), std::string::npos) << result.rule << " not in " << clash;
    }
  }
  EXPECT_GT(stood + fell, 10U);
}

}  // namespace
}  // namespace ww::search
