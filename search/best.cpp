// SPDX-License-Identifier: MIT
#include "search/best.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>
#include <optional>
#include <set>

#include "base/check.h"
#include "ride/batch.h"

namespace ww::search {

namespace {

using Steps = std::array<int, traded_count>;

Steps steps_of_record(const Record& record, const std::array<double, traded_count>& weights) {
  Steps steps{};
  for (std::size_t q = 0; q < traded_count; ++q)
    steps[q] = weights[q] > 0 ? steps_of(quantities()[q], record.numbers[q]) : 0;
  return steps;
}

/// At least as good in everything.
bool covers(const Steps& a, const Steps& b) {
  bool all = true;
  for (std::size_t q = 0; q < traded_count; ++q) all = all & (a[q] >= b[q]);
  return all;
}

}  // namespace

std::vector<Index> trade_offs(const std::vector<Record>& records,
                              const std::array<double, traded_count>& weights,
                              const Stands& stands) {
  std::vector<Steps> steps;
  steps.reserve(records.size());
  for (const Record& record : records) steps.push_back(steps_of_record(record, weights));
  std::vector<long long> sums(records.size());
  for (std::size_t i = 0; i < steps.size(); ++i)
    sums[i] = std::accumulate(steps[i].begin(), steps[i].end(), 0LL);
  // One that covers another has at least its sum: in this order none is covered by a later one.
  std::vector<Index> order(records.size());
  std::iota(order.begin(), order.end(), Index{0});
  std::sort(order.begin(), order.end(),
            [&](Index a, Index b) { return sums[a] != sums[b] ? sums[a] > sums[b] : a < b; });
  std::vector<Index> front, pending;
  const auto covered_by = [&](std::vector<Index>& members, Index candidate) {
    const auto by = std::find_if(members.begin(), members.end(), [&](Index member) {
      return covers(steps[member], steps[candidate]);
    });
    if (by == members.end()) return false;
    // What covers one is likely to cover the next, too.
    const auto place = by - members.begin();
    if (&members == &front && place > 8) std::iter_swap(by, members.begin() + place / 2);
    return true;
  };
  const auto settle = [&] {
    const auto stand =
        stands == nullptr ? std::vector<bool>(pending.size(), true) : stands(pending);
    for (std::size_t i = 0; i < pending.size(); ++i) {
      if (stand[i]) front.push_back(pending[i]);
    }
    pending.clear();
  };
  // Whether one stands matters only to those it covers: until such a one comes, they wait together.
  for (const Index candidate : order) {
    if (covered_by(front, candidate)) continue;
    if (covered_by(pending, candidate)) {
      settle();
      if (covered_by(front, candidate)) continue;
    }
    pending.push_back(candidate);
    if (pending.size() == asked_together) settle();
  }
  settle();
  std::sort(front.begin(), front.end());
  return front;
}

double Worth::of(const Numbers& numbers) const {
  double sum = 0;
  for (std::size_t q = 0; q < traded_count; ++q) {
    if (money_per_step[q] <= 0) continue;
    if (!std::isfinite(numbers[q])) return -std::numeric_limits<double>::infinity();
    const auto& info = quantities()[q];
    const double steps = double(numbers[q]) / info.step;
    sum += money_per_step[q] * (info.more_is_better ? steps : -steps);
  }
  return sum;
}

Worth worth_of(const std::vector<Record>& records, const std::vector<Index>& front,
               const std::array<double, traded_count>& weights) {
  Worth worth;
  std::array<double, traded_count> span{};
  for (std::size_t q = 0; q < traded_count; ++q) {
    double low = std::numeric_limits<double>::infinity(), high = -low;
    for (const Index i : front) {
      const auto value = double(records[i].numbers[q]);
      if (!std::isfinite(value)) continue;
      low = std::min(low, value);
      high = std::max(high, value);
    }
    span[q] = high > low ? (high - low) / quantities()[q].step : 0;
  }
  constexpr auto money = index_of(Quantity::money);
  const double money_span =
      span[money] > 0 ? span[money] * quantities()[money].step : quantities()[money].step;
  const double money_weight = weights[money] > 0 ? weights[money] : 1;
  for (std::size_t q = 0; q < traded_count; ++q) {
    if (weights[q] <= 0 || !(span[q] > 0)) continue;
    worth.money_per_step[q] = weights[q] / money_weight * money_span / span[q];
  }
  if (weights[money] > 0) worth.money_per_step[money] = quantities()[money].step;
  return worth;
}

namespace {

/// What makes one trade-off another bike than the next.
class Otherness {
 public:
  Otherness(const std::vector<Record>& records, const std::vector<Index>& front)
      : records_(records) {
    for (const Axis axis : {Axis::motor, Axis::controller, Axis::cell}) {
      const bool varies = std::any_of(front.begin(), front.end(), [&](Index i) {
        return records[i].at[index_of(axis)] != records[front.front()].at[index_of(axis)];
      });
      if (varies) varying_.push_back(index_of(axis));
    }
    for (std::size_t q = 0; q < traded_count; ++q) {
      float low = std::numeric_limits<float>::infinity(), high = -low;
      for (const Index i : front) {
        const float value = records[i].numbers[q];
        if (!std::isfinite(value)) continue;
        low = std::min(low, value);
        high = std::max(high, value);
      }
      span_[q] = high > low ? high - low : 0;
    }
  }

  bool operator()(Index a, Index b) const {
    if (varying_.empty()) return far_apart(records_[a].numbers, records_[b].numbers);
    std::size_t count = 0;
    for (const std::size_t axis : varying_)
      count += records_[a].at[axis] != records_[b].at[axis] ? 1U : 0U;
    return count >= std::min<std::size_t>(2, varying_.size());
  }

 private:
  bool far_apart(const Numbers& a, const Numbers& b) const {
    for (std::size_t q = 0; q < traded_count; ++q) {
      if (span_[q] > 0 && std::fabs(a[q] - b[q]) >= span_[q] / 4) return true;
    }
    return false;
  }

  const std::vector<Record>& records_;
  std::vector<std::size_t> varying_;
  std::array<float, traded_count> span_{};
};

}  // namespace

std::vector<Index> that_differ(const std::vector<Record>& records,
                               const std::vector<Index>& candidates, std::size_t most) {
  const Otherness differs(records, candidates);
  std::vector<Index> list;
  for (const Index candidate : candidates) {
    if (list.size() >= most) break;
    if (std::all_of(list.begin(), list.end(), [&](Index one) { return differs(one, candidate); }))
      list.push_back(candidate);
  }
  return list;
}

std::vector<Index> short_list(const std::vector<Record>& records, const std::vector<Index>& front,
                              const Worth& worth, std::size_t most) {
  std::vector<Index> order(front);
  std::stable_sort(order.begin(), order.end(), [&](Index a, Index b) {
    return worth.of(records[a].numbers) > worth.of(records[b].numbers);
  });
  return that_differ(records, order, most);
}

Index best_of(const std::vector<Record>& records, const Worth& worth) {
  WW_ASSERT(!records.empty());
  Index best = 0;
  double most = -std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < records.size(); ++i) {
    const double value = worth.of(records[i].numbers);
    if (value > most) {
      most = value;
      best = static_cast<Index>(i);
    }
  }
  return best;
}

// ---- relaxations

namespace {

bool no_more_than(const Shortfall& a, const Shortfall& b) {
  bool all = true;
  for (std::size_t m = 0; m < a.size(); ++m) all = all & (a[m] <= b[m]);
  return all;
}

struct Missing {
  Shortfall by;
  long long sum;
  Index record;
};

/// Sorted by how much is missed in all; what misses by as much is one entry, the first record's.
void sort_once_each(std::vector<Missing>& all) {
  std::sort(all.begin(), all.end(), [](const Missing& a, const Missing& b) {
    if (a.sum != b.sum) return a.sum < b.sum;
    return a.by != b.by ? a.by < b.by : a.record < b.record;
  });
  all.erase(std::unique(all.begin(), all.end(),
                        [](const Missing& a, const Missing& b) { return a.by == b.by; }),
            all.end());
}

/// What no other record misses by less, the least missed in all first.
std::vector<Missing> least_missing(const std::vector<Record>& records,
                                   const std::vector<Must>& musts) {
  WW_ASSERT(musts.size() <= quantity_count);
  std::vector<Missing> all;
  for (std::size_t i = 0; i < records.size(); ++i) {
    const bool known = std::none_of(musts.begin(), musts.end(), [&](const Must& must) {
      return std::isnan(records[i].numbers[index_of(must.quantity)]);
    });
    const auto by = shortfall_of(records[i].numbers, musts);
    if (known && by)
      all.push_back({*by, std::accumulate(by->begin(), by->end(), 0LL), static_cast<Index>(i)});
    // A hunt keeps millions: what is the same is put together now and then.
    if (all.size() == all.capacity()) sort_once_each(all);
  }
  sort_once_each(all);
  // In this order none is covered by a later one. What has covered much comes first.
  std::vector<Missing> covering, kept;
  for (const Missing& missing : all) {
    const auto by = std::find_if(covering.begin(), covering.end(), [&](const Missing& less) {
      return no_more_than(less.by, missing.by);
    });
    if (by != covering.end()) {
      if (by != covering.begin())
        std::iter_swap(by, covering.begin() + (by - covering.begin()) / 2);
      continue;
    }
    covering.push_back(missing);
    kept.push_back(missing);
  }
  return kept;
}

}  // namespace

std::optional<Shortfall> shortfall_of(const Numbers& numbers, const std::vector<Must>& musts) {
  Shortfall by{};
  for (std::size_t m = 0; m < musts.size(); ++m) {
    const float value = numbers[index_of(musts[m].quantity)];
    if (std::isnan(value) || met(musts[m], value)) continue;
    if (!std::isfinite(value)) return std::nullopt;
    const double steps =
        std::fabs(double(value) - musts[m].bound) / info_of(musts[m].quantity).step;
    by[m] = std::max(1, static_cast<int>(std::ceil(steps)));
  }
  return by;
}

bool nearer(const Shortfall& one, const Shortfall& other) {
  return no_more_than(one, other) && one != other;
}

std::vector<Index> nearest_to(const std::vector<Record>& records, const std::vector<Must>& musts) {
  std::vector<Index> out;
  for (const Missing& missing : least_missing(records, musts)) out.push_back(missing.record);
  std::sort(out.begin(), out.end());
  return out;
}

std::vector<Relaxation> relaxations(const std::vector<Record>& records,
                                    const std::vector<Must>& musts) {
  std::vector<Relaxation> out;
  for (const Missing& missing : least_missing(records, musts)) {
    if (missing.sum == 0) return {};
    Relaxation relaxation{.steps = {}, .record = missing.record, .missed = 0};
    for (std::size_t m = 0; m < musts.size(); ++m) {
      if (missing.by[m] == 0) continue;
      const float value = records[missing.record].numbers[index_of(musts[m].quantity)];
      relaxation.steps.push_back({m, double(value)});
      relaxation.missed += missed_share(musts[m], value);
    }
    out.push_back(std::move(relaxation));
  }
  std::stable_sort(out.begin(), out.end(), [](const Relaxation& a, const Relaxation& b) {
    return a.steps.size() != b.steps.size() ? a.steps.size() < b.steps.size() : a.missed < b.missed;
  });
  return out;
}

std::vector<Index> one_of_each_set(std::vector<Relaxation>& relaxations, std::size_t most) {
  std::set<std::vector<std::size_t>> seen;
  std::vector<Relaxation> kept;
  std::vector<Index> list;
  for (Relaxation& relaxation : relaxations) {
    std::vector<std::size_t> musts;
    for (const auto& step : relaxation.steps) musts.push_back(step.must);
    if (!seen.insert(musts).second) continue;
    if (list.size() < most) list.push_back(relaxation.record);
    kept.push_back(std::move(relaxation));
  }
  relaxations = std::move(kept);
  return list;
}

// ---- decisions

namespace {

/// The best record so far of every option of every axis.
class Bests {
 public:
  explicit Bests(const Space& space) {
    for (std::size_t a = 0; a < axis_count; ++a) {
      of_[a].resize(space.options[a].size());
      open_ += of_[a].size();
    }
  }
  bool complete() const { return open_ == 0; }
  bool wants(const Record& record) const {
    for (std::size_t a = 0; a < axis_count; ++a) {
      if (!of_[a][record.at[a]]) return true;
    }
    return false;
  }
  void take(const Record& record, Index index) {
    for (std::size_t a = 0; a < axis_count; ++a) {
      auto& slot = of_[a][record.at[a]];
      if (slot) continue;
      slot = index;
      --open_;
    }
  }
  const std::vector<std::optional<Index>>& of(std::size_t axis) const { return of_[axis]; }

 private:
  std::array<std::vector<std::optional<Index>>, axis_count> of_;
  std::size_t open_ = 0;
};

}  // namespace

std::vector<Decision> decisions(const Space& space, const std::vector<Record>& records,
                                const Worth& worth, const Stands& stands,
                                const std::function<bool(const Record&)>& counts,
                                std::size_t most_asked) {
  std::vector<double> values;
  std::vector<Index> order;
  values.reserve(records.size());
  for (std::size_t i = 0; i < records.size(); ++i) {
    values.push_back(worth.of(records[i].numbers));
    if (counts == nullptr || counts(records[i])) order.push_back(static_cast<Index>(i));
  }
  std::sort(order.begin(), order.end(), [&](Index a, Index b) {
    return values[a] != values[b] ? values[a] > values[b] : a < b;
  });
  // From the best down: the first that stands with an option is the option's best.
  Bests best(space);
  double most = std::numeric_limits<double>::quiet_NaN();
  std::vector<Index> pending;
  const auto settle = [&] {
    const auto stand =
        stands == nullptr ? std::vector<bool>(pending.size(), true) : stands(pending);
    for (std::size_t i = 0; i < pending.size(); ++i) {
      if (!stand[i] || !best.wants(records[pending[i]])) continue;
      if (std::isnan(most)) most = values[pending[i]];
      best.take(records[pending[i]], pending[i]);
    }
    pending.clear();
  };
  std::size_t asked = 0;
  for (const Index i : order) {
    if (best.complete() || asked > most_asked || !std::isfinite(values[i])) break;
    if (!best.wants(records[i])) continue;
    pending.push_back(i);
    asked += stands == nullptr ? 0 : 1;
    if (stands == nullptr || pending.size() == asked_together) settle();
  }
  settle();
  std::vector<Decision> out;
  for (std::size_t a = 0; a < axis_count; ++a) {
    Decision decision{.axis = static_cast<Axis>(a), .options = {}, .worst_loss = 0};
    const auto& of_axis = best.of(a);
    for (std::size_t o = 0; o < of_axis.size(); ++o) {
      if (!of_axis[o]) continue;
      const double loss = most - values[*of_axis[o]];
      decision.options.push_back({static_cast<std::uint8_t>(o), *of_axis[o], loss});
      decision.worst_loss = std::max(decision.worst_loss, loss);
    }
    if (decision.options.size() < 2) continue;
    std::stable_sort(decision.options.begin(), decision.options.end(),
                     [](const auto& x, const auto& y) { return x.loss < y.loss; });
    out.push_back(std::move(decision));
  }
  std::stable_sort(out.begin(), out.end(), [](const Decision& x, const Decision& y) {
    return x.worst_loss > y.worst_loss;
  });
  return out;
}

// ---- the last check

LastCheck::Bench::Bench(const Ground& ground)
    : trial(ground.layout()), picker(ground.supports(), trial) {}

LastCheck::LastCheck(const Ground& ground, ride::Runner runner)
    : ground_(ground), runner_(std::move(runner)), wanted_() {
  const auto& book = fit::rule_book();
  core_rules_ = ride_rules(ground.layout(), Reading::early);
  const auto late = ride_rules(ground.layout(), Reading::late);
  core_rules_.insert(core_rules_.end(), late.begin(), late.end());
  for (const std::size_t rule : core_rules_) want(rule);
  for (std::size_t rule = 0; rule < book.rules().size(); ++rule) {
    const Reads& reads = ground.layout().reads(rule);
    if (!reads.ride || reads.supports == 0) continue;
    want(rule);
    std::size_t last = 0;
    for (std::size_t s = 0; s < ground.supports().shelves().size(); ++s) {
      if ((reads.supports >> s & 1U) != 0) last = s;
    }
    support_rules_[last].push_back(rule);
  }
}

void LastCheck::want(std::size_t rule) {
  for (const int answer : fit::rule_book().answers(rule))
    wanted_.add(static_cast<ride::Answer>(answer));
}

LastCheck::Result LastCheck::check(const Record& record) {
  return check(std::vector<const Record*>{&record}).front();
}

std::vector<LastCheck::Result> LastCheck::check(const std::vector<const Record*>& records) {
  while (benches_.size() < records.size()) benches_.push_back(std::make_unique<Bench>(ground_));
  std::vector<Result> results(records.size());
  const auto groups = (records.size() + ride::lane_padding - 1) / ride::lane_padding;
  runner_(static_cast<int>(groups), [&](int group) {
    const std::size_t first = static_cast<std::size_t>(group) * ride::lane_padding;
    const std::size_t last = std::min(first + ride::lane_padding, records.size());
    ride(records, first, last);
    for (std::size_t i = first; i < last; ++i) results[i] = judge(*benches_[i], *records[i]);
  });
  return results;
}

/// Each on its bench, with its ride.
void LastCheck::ride(const std::vector<const Record*>& records, std::size_t first,
                     std::size_t last) {
  std::vector<ride::Candidate> candidates;
  for (std::size_t i = first; i < last; ++i) {
    Bench& bench = *benches_[i];
    bench.trial.lay(records[i]->at, (1U << axis_count) - 1);
    bench.trial.set_limits();
    bench.picker.lay(records[i]->picks);
    candidates.push_back({&bench.trial.sieve().build(), &bench.trial.sieve().nominal()});
  }
  const auto rides = ride::nominal_rides(candidates, ground_.cycles(),
                                         ride::without(wanted_, ride::answers_by_class));
  for (std::size_t i = first; i < last; ++i)
    benches_[i]->trial.sieve().set_ride(rides[i - first].nominal);
}

LastCheck::Result LastCheck::judge(Bench& bench, const Record& record) const {
  Result result{.stands = true, .rule = {}, .picks = record.picks};
  for (const std::size_t rule : core_rules_) {
    if (!bench.trial.sieve().clashes(rule)) continue;
    result.stands = false;
    result.rule = std::string(fit::rule_book().rules()[rule].id);
    return result;
  }
  result.picks = bench.picker.pick(record.at, support_rules_);
  return result;
}

}  // namespace ww::search
