// SPDX-License-Identifier: MIT
// Moved wishes answered out of old records, against a new search with those wishes; and what is
// said while a hunt runs, against what it finds.
#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "search/narrowing.h"
#include "tests/search/small.h"

namespace ww::search {
namespace {

using support::cycles;
using support::library;

/// A bike as its place in the space and its numbers.
using Bike = std::pair<At, Numbers>;

std::vector<Bike> bikes(const Choosing& c, const std::vector<Index>& list) {
  std::vector<Bike> out;
  for (const Index i : list) out.emplace_back(c.record(i).at, c.record(i).numbers);
  return out;
}

float quantile(const Choosing& c, Quantity quantity, double share) {
  std::vector<float> values;
  for (const Record& r : c.hunted.records) values.push_back(r.numbers[index_of(quantity)]);
  std::sort(values.begin(), values.end());
  return values[static_cast<std::size_t>(share * double(values.size() - 1))];
}

class Narrowing : public testing::TestWithParam<int> {
 protected:
  Small small_ = small(GetParam());
  build::Build donor_ = donor_of(small_.donor);
  Shop shop_{library(), goods(), cycles()};
  Choosing search(const Wishes& wishes) const {
    return choose(donor_, shop_, small_.ask, wishes, {});
  }
};

TEST_P(Narrowing, TighterWishesGiveWhatANewSearchGives) {
  const Choosing first = search({});
  ASSERT_GT(first.hunted.records.size(), 20U);
  Narrower narrower(first);
  for (const double share : {0.3, 0.6}) {
    Wishes tighter;
    tighter.musts = {
        {Quantity::money, double(quantile(first, Quantity::money, 1 - share / 2))},
        {Quantity::distance, double(quantile(first, Quantity::distance, share / 2))},
        {Quantity::hold_speed, double(quantile(first, Quantity::hold_speed, share / 2))}};
    // Not right at some bike's number: there the last bits decide.
    for (Must& must : tighter.musts)
      must.bound *= info_of(must.quantity).more_is_better ? 0.999 : 1.001;
    tighter.weights = {1, 3, 0, 1, 2, 0.5};
    const Narrowed narrowed = narrower.narrow(tighter);
    const Choosing anew = search(tighter);
    ASSERT_FALSE(anew.loose);
    EXPECT_TRUE(narrowed.exact());
    EXPECT_EQ(narrowed.within, anew.hunted.records.size());
    EXPECT_EQ(bikes(first, narrowed.front), bikes(anew, anew.front));
    EXPECT_EQ(bikes(first, narrowed.list), bikes(anew, anew.list));
    ASSERT_EQ(narrowed.decisions.size(), anew.decisions.size());
    for (std::size_t d = 0; d < anew.decisions.size(); ++d) {
      EXPECT_EQ(narrowed.decisions[d].axis, anew.decisions[d].axis);
      EXPECT_EQ(narrowed.decisions[d].worst_loss, anew.decisions[d].worst_loss);
    }
    // And again out of the narrower ones: looser than they were kept by, so it says what it lacks.
    Narrower second(anew);
    EXPECT_EQ(second.narrow({}).lack, Lack::looser);
    EXPECT_EQ(bikes(anew, second.narrow(tighter).front), bikes(anew, anew.front));
  }
}

TEST_P(Narrowing, WhatNothingMeetsSaysWhatMustGiveWay) {
  const Choosing first = search({});
  Wishes much;
  much.musts = {{Quantity::money, double(quantile(first, Quantity::money, 0.02))},
                {Quantity::mass, double(quantile(first, Quantity::mass, 0)) / 2}};
  Narrower narrower(first);
  const Narrowed narrowed = narrower.narrow(much);
  EXPECT_EQ(narrowed.within, 0U);
  ASSERT_FALSE(narrowed.relaxations.empty());
  const Choosing anew = search(much);
  ASSERT_TRUE(anew.loose);
  ASSERT_EQ(narrowed.relaxations.size(), anew.relaxations.size());
  for (std::size_t i = 0; i < anew.relaxations.size(); ++i)
    EXPECT_EQ(narrowed.relaxations[i].missed, anew.relaxations[i].missed);
  // A search that kept all that fits can answer any wish.
  EXPECT_EQ(lack_of(anew, {}), Lack::nothing);
}

INSTANTIATE_TEST_SUITE_P(ThreeLibraries, Narrowing, testing::Values(0, 1, 2));

TEST(WhileItRuns, TheCountsAddUpAndTheListIsOfWhatCame) {
  const Small s = small(1);
  const Ground ground(space_of(donor_of(s.donor), library(), s.ask), library(), goods(), cycles());
  HuntOptions options;
  SoFar so_far({}, 40);
  Progress last{};
  std::size_t calls = 0, came = 0;
  double considered = 0;
  options.watch = [&](const Progress& progress) {
    ++calls;
    came += progress.fresh->size();
    EXPECT_GE(progress.considered, considered);
    considered = progress.considered;
    so_far.add(*progress.fresh);
    last = progress;
    return true;
  };
  const Hunted hunted = hunt(ground, {}, options);
  EXPECT_GT(calls, last.tasks);
  EXPECT_EQ(came, hunted.records.size());
  EXPECT_EQ(last.records, hunted.records.size());
  EXPECT_EQ(double(last.ridden), hunted.tally.ridden);
  EXPECT_EQ(last.fitting, hunted.tally.fitting);
  EXPECT_EQ(last.considered, hunted.tally.combinations);
  EXPECT_EQ(so_far.seen(), hunted.records.size());
  EXPECT_LE(so_far.points().size(), 80U);
  EXPECT_GE(so_far.points().size(), std::min<std::size_t>(hunted.records.size(), 20));
  const auto list = so_far.list(5);
  ASSERT_FALSE(list.empty());
  for (const Record& r : list) {
    EXPECT_TRUE(std::any_of(hunted.records.begin(), hunted.records.end(), [&](const Record& h) {
      return h.at == r.at && h.numbers == r.numbers;
    }));
  }
}

TEST(WhileItRuns, ItEndsWhenAskedTo) {
  const Small s = small(1);
  const Ground ground(space_of(donor_of(s.donor), library(), s.ask), library(), goods(), cycles());
  HuntOptions options;
  int asked = 0;
  options.go_on = [&] { return ++asked < 20; };
  const Hunted hunted = hunt(ground, {}, options);
  EXPECT_TRUE(hunted.tally.stopped);
  EXPECT_LE(asked, 21);
  HuntOptions few;
  few.most = 10;
  const Hunted cut = hunt(ground, {}, few);
  EXPECT_TRUE(cut.tally.cut_short);
  EXPECT_LT(cut.records.size(), hunt(ground, {}, {}).records.size());
}

TEST(Weeks, AreWeighedLikeTheRest) {
  const auto& weeks = info_of(Quantity::weeks);
  EXPECT_GT(steps_of(weeks, 3), steps_of(weeks, 5));
  EXPECT_EQ(steps_of(weeks, 3.2F), steps_of(weeks, 3.4F) + 0);
}

}  // namespace
}  // namespace ww::search
