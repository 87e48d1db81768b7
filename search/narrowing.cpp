// SPDX-License-Identifier: MIT
#include "search/narrowing.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

namespace ww::search {

namespace {

bool tighter_or_as_tight(const Must& now, const Must& hunted) {
  return info_of(now.quantity).more_is_better ? now.bound >= hunted.bound
                                              : now.bound <= hunted.bound;
}

bool meets_all(const Record& record, const std::vector<Must>& musts) {
  return std::all_of(musts.begin(), musts.end(), [&](const Must& must) {
    return met(must, record.numbers[index_of(must.quantity)]);
  });
}

}  // namespace

Lack lack_of(const Choosing& chosen, const std::vector<Must>& musts) {
  if (chosen.hunted.tally.stopped || chosen.hunted.tally.cut_short) return Lack::ended;
  // Nothing was left out for a wish, unless there was too much of it.
  if (chosen.loose) return chosen.nearest ? Lack::nearest : Lack::nothing;
  for (const Must& hunted : chosen.wishes.musts) {
    const bool held = std::any_of(musts.begin(), musts.end(), [&](const Must& now) {
      return now.quantity == hunted.quantity && tighter_or_as_tight(now, hunted);
    });
    if (!held) return Lack::looser;
  }
  return Lack::nothing;
}

std::vector<Index> within(const std::vector<Record>& records, const std::vector<Must>& musts) {
  std::vector<Index> out;
  for (std::size_t i = 0; i < records.size(); ++i) {
    if (meets_all(records[i], musts)) out.push_back(static_cast<Index>(i));
  }
  return out;
}

Narrower::Narrower(const Choosing& chosen, ride::Runner runner)
    : chosen_(chosen),
      last_(*chosen.ground, std::move(runner)),
      stood_(chosen.hunted.records.size(), 0) {
  // What is in the trade-offs of the hunt stood already.
  for (const Index index : chosen.front) stood_[index] = 1;
}

std::vector<bool> Narrower::stand(const std::vector<Index>& asked) {
  std::vector<Index> fresh;
  std::vector<const Record*> records;
  for (const Index index : asked) {
    if (stood_[index] != 0) continue;
    fresh.push_back(index);
    records.push_back(&chosen_.record(index));
  }
  const auto results = last_.check(records);
  for (std::size_t i = 0; i < fresh.size(); ++i) stood_[fresh[i]] = results[i].stands ? 1 : 2;
  std::vector<bool> out;
  out.reserve(asked.size());
  for (const Index index : asked) out.push_back(stood_[index] == 1);
  return out;
}

Narrowed Narrower::narrow(const Wishes& wishes, std::size_t list_length) {
  Narrowed out;
  out.lack = lack_of(chosen_, wishes.musts);
  const auto& records = chosen_.hunted.records;
  const std::vector<Index> left = search::within(records, wishes.musts);
  out.within = left.size();
  if (left.empty()) {
    out.relaxations = relaxations(records, wishes.musts);
    out.list = one_of_each_set(out.relaxations, list_length);
    return out;
  }
  std::vector<Record> those;
  those.reserve(left.size());
  for (const Index index : left) those.push_back(records[index]);
  const auto back = [&](std::vector<Index>& places) {
    for (Index& place : places) place = left[place];
  };
  const auto stood = [&](std::vector<Index> places) {
    back(places);
    return stand(places);
  };
  out.front = trade_offs(those, wishes.weights, stood);
  out.worth = worth_of(those, out.front, wishes.weights);
  out.list = short_list(those, out.front, out.worth, list_length);
  if (!out.front.empty()) {
    out.decisions = decisions(chosen_.ground->space(), those, out.worth, stood);
    for (Decision& decision : out.decisions) {
      for (OptionValue& option : decision.options) option.record = left[option.record];
    }
  }
  back(out.front);
  back(out.list);
  return out;
}

// ---- while it runs

namespace {

constexpr std::size_t best_kept = 256;

}  // namespace

void SoFar::clear() {
  points_.clear();
  best_.clear();
  seen_ = 0;
  every_ = 1;
}

void SoFar::add(const std::vector<Record>& fresh) {
  // The best of each cell of this task by what is known of the spans: no more can be on a list of
  // bikes that differ.
  std::map<std::uint8_t, const Record*> best;
  for (const Record& record : fresh) {
    for (std::size_t q = 0; q < traded_count; ++q) {
      const float value = record.numbers[q];
      if (!std::isfinite(value)) continue;
      low_[q] = seen_ == 0 ? value : std::min(low_[q], value);
      high_[q] = seen_ == 0 ? value : std::max(high_[q], value);
    }
    if (seen_ % every_ == 0) points_.push_back(record);
    ++seen_;
    if (points_.size() < points_most_ * 2) continue;
    // Every second one goes, and from now on half as many come.
    every_ *= 2;
    std::size_t kept = 0;
    for (std::size_t i = 0; i < points_.size(); i += 2) points_[kept++] = points_[i];
    points_.resize(kept);
  }
  const Worth now = worth();
  std::map<std::uint8_t, double> values;
  for (const Record& record : fresh) {
    const std::uint8_t cell = record.at[search::index_of(Axis::cell)];
    const double value = now.of(record.numbers);
    const auto [at, first] = values.try_emplace(cell, value);
    if (!first && value <= at->second) continue;
    at->second = value;
    best[cell] = &record;
  }
  for (const auto& [cell, record] : best) best_.push_back(*record);
  if (best_.size() > 2 * best_kept) prune();
}

Worth SoFar::worth() const {
  Worth worth;
  const auto span = [&](std::size_t q) { return double(high_[q]) - double(low_[q]); };
  constexpr auto money = search::index_of(Quantity::money);
  const double money_span = span(money) > 0 ? span(money) : quantities()[money].step;
  const double money_weight = wishes_.weights[money] > 0 ? wishes_.weights[money] : 1;
  for (std::size_t q = 0; q < traded_count; ++q) {
    if (wishes_.weights[q] <= 0 || !(span(q) > 0)) continue;
    worth.money_per_step[q] =
        wishes_.weights[q] / money_weight * money_span / (span(q) / quantities()[q].step);
  }
  return worth;
}

void SoFar::prune() {
  const Worth now = worth();
  std::stable_sort(best_.begin(), best_.end(), [&](const Record& a, const Record& b) {
    return now.of(a.numbers) > now.of(b.numbers);
  });
  best_.resize(std::min(best_.size(), best_kept));
}

std::vector<Record> SoFar::list(std::size_t most) const {
  std::vector<Index> all(best_.size());
  for (std::size_t i = 0; i < all.size(); ++i) all[i] = static_cast<Index>(i);
  std::vector<Record> out;
  for (const Index index : short_list(best_, all, worth(), most)) out.push_back(best_[index]);
  return out;
}

std::array<Reached, quantity_count> reached(const std::vector<Record>& records) {
  std::array<Reached, quantity_count> out{};
  for (const Record& record : records) {
    for (std::size_t q = 0; q < quantity_count; ++q) {
      const float value = record.numbers[q];
      if (!std::isfinite(value)) continue;
      Reached& r = out[q];
      r = r.any ? Reached{std::min(r.least, value), std::max(r.most, value), true}
                : Reached{value, value, true};
    }
  }
  return out;
}

}  // namespace ww::search
