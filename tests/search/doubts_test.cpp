// SPDX-License-Identifier: MIT
// What is not known, counted: shares and values obey what they must, the middle draw is the bike as
// listed, and an answer is the same for any number of workers.
#include "search/doubts.h"

#include <gtest/gtest.h>

#include <thread>

#include "tests/search/small.h"

namespace ww::search {
namespace {

using support::cycles;
using support::library;

const Choosing& chosen() {
  static const Choosing all = [] {
    // No musts: many bikes are left to hold against each other. Of the small libraries the first
    // from which anything stands the last check.
    Choosing found;
    for (int which = 0; which < 3 && found.list.empty(); ++which) {
      const Small s = small(which);
      found = choose(donor_of(s.donor), {library(), goods(), cycles()}, s.ask, Wishes{}, {});
    }
    return found;
  }();
  return all;
}

void with_threads(int count, const std::function<void(int)>& task, int workers) {
  std::vector<std::thread> threads;
  for (int w = 0; w < workers; ++w) {
    threads.emplace_back([&, w] {
      for (int i = count - 1 - w; i >= 0; i -= workers) task(i);
    });
  }
  for (auto& thread : threads) thread.join();
}

TEST(Doubts, SharesAndLossesAreWhatTheyMustBe) {
  ASSERT_FALSE(chosen().list.empty());
  DoubtOptions options;
  options.draws = 64;
  options.most_bikes = 24;
  const Doubts d = doubts(chosen(), options);
  ASSERT_GT(d.bikes, 4U);
  ASSERT_FALSE(d.decisions.empty());
  EXPECT_GE(d.value_of_knowing_all, 0);
  for (const DecisionChance& decision : d.decisions) {
    double sum = 0, before = 0;
    for (const OptionChance& option : decision.options) {
      EXPECT_GE(option.loss, before);
      before = option.loss;
      sum += option.share_right;
      EXPECT_EQ(chosen().record(option.record).at[index_of(decision.axis)], option.option);
    }
    EXPECT_EQ(decision.options.front().loss, 0);
    // On every draw one bike is the best, and it has one option of the axis.
    EXPECT_NEAR(sum, 1, 1e-9);
  }
  for (const Measuring& m : d.measuring) {
    EXPECT_GT(m.value, 0);
    EXPECT_LE(m.value, d.value_of_knowing_all);
    EXPECT_FALSE(m.between.empty());
  }
  ASSERT_FALSE(d.list.empty());
  for (const Holding& one : d.list) {
    EXPECT_GE(one.share_holds, 0);
    EXPECT_LE(one.share_holds, 1);
    double falls = 0;
    for (const auto& [rule, share] : one.falls) falls += share;
    // A draw that does not hold falls to at least one rule.
    EXPECT_GE(falls, 1 - one.share_holds - 1e-9);
  }
}

// A cheap repair is no reason to leave a bike; where it can hurt it is told all the same.
TEST(Doubts, WhatIsSmallButCanHurtIsToldApart) {
  Ask ask;
  for (const Axis axis : {Axis::controller, Axis::cell, Axis::series, Axis::parallel})
    ask.add(axis);
  const build::Build sheet = support::demo("commuter");
  const Choosing bikes = choose(sheet, {library(), goods(), cycles()}, ask, wishes_of(sheet), {});
  DoubtOptions options;
  options.draws = 64;
  options.most_bikes = 24;
  std::size_t told = 0;
  for (const Holding& one : doubts(bikes, options).list) {
    const double money =
        double(bikes.record(one.record).numbers[static_cast<std::size_t>(Quantity::money)]);
    for (const auto& [rule, share] : one.small_but_hurt) {
      const fit::Rule& of = fit::rule_book().rules()[rule];
      EXPECT_TRUE(of.can_hurt) << of.id;
      EXPECT_LE(0.5 * (of.ignoring.cost_low + of.ignoring.cost_high), guess_share * money) << of.id;
      EXPECT_GT(share, 0) << of.id;
      for (const auto& [other, ignored] : one.falls) EXPECT_NE(other, rule) << of.id;
      told += 1;
    }
  }
  EXPECT_GT(told, 0U);
}

TEST(Doubts, TheMiddleDrawIsTheBikeAsListed) {
  DoubtOptions options;
  options.draws = 1;
  options.most_bikes = 12;
  const Doubts d = doubts(chosen(), options);
  ASSERT_FALSE(d.list.empty());
  EXPECT_NEAR(d.value_of_knowing_all, 0, 1e-9);
  EXPECT_TRUE(d.measuring.empty());
  for (const Holding& one : d.list) {
    EXPECT_EQ(one.share_holds, 1);
    for (const auto& [rule, share] : one.falls) ADD_FAILURE() << fit::rule_book().rules()[rule].id;
  }
}

TEST(Doubts, AreTheSameForAnyNumberOfWorkers) {
  DoubtOptions options;
  options.draws = 32;
  options.most_bikes = 12;
  const Doubts one = doubts(chosen(), options);
  options.runner = [](int count, const std::function<void(int)>& task) {
    with_threads(count, task, 2);
  };
  const Doubts two = doubts(chosen(), options);
  EXPECT_EQ(one.bikes, two.bikes);
  EXPECT_EQ(one.value_of_knowing_all, two.value_of_knowing_all);
  ASSERT_EQ(one.list.size(), two.list.size());
  for (std::size_t i = 0; i < one.list.size(); ++i) {
    EXPECT_EQ(one.list[i].record, two.list[i].record);
    EXPECT_EQ(one.list[i].share_holds, two.list[i].share_holds);
  }
  ASSERT_EQ(one.measuring.size(), two.measuring.size());
  for (std::size_t i = 0; i < one.measuring.size(); ++i)
    EXPECT_EQ(one.measuring[i].value, two.measuring[i].value);
}

TEST(Doubts, ALooseAnswerHasNone) {
  Choosing loose;
  loose.loose = true;
  EXPECT_EQ(doubts(loose).bikes, 0U);
}

}  // namespace
}  // namespace ww::search
