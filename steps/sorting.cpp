// SPDX-License-Identifier: MIT
#include "steps/sorting.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numeric>

#include "figure/units.h"

namespace ww::steps {

namespace {

// All three: common practice, no source.
constexpr double charge_least_share = 0.85;    // of the lot's median
constexpr double resistance_most_share = 1.5;  // of the lot's median
constexpr double voltage_lost_share = 0.005;   // of its own voltage in two weeks
constexpr double same = 1e-9;                  // relative: two sums of the same cells

bool less(double a, double b) {
  return a < b - same * std::max(std::abs(a), std::abs(b));
}

struct Totals {
  std::vector<double> charge, conductance;
};

Totals totals_of(const Lot& lot, const std::vector<int>& group) {
  const auto groups = static_cast<std::size_t>(lot.series);
  Totals t{std::vector<double>(groups, 0), std::vector<double>(groups, 0)};
  for (std::size_t i = 0; i < group.size(); ++i) {
    if (group[i] < 0) continue;
    t.charge[static_cast<std::size_t>(group[i])] += lot.charge_C[i];
    t.conductance[static_cast<std::size_t>(group[i])] += lot.conductance_S[i];
  }
  return t;
}

Merit merit_of(const Totals& t) {
  const auto [least, most] = std::minmax_element(t.charge.begin(), t.charge.end());
  const auto [low, high] = std::minmax_element(t.conductance.begin(), t.conductance.end());
  return {*least, *most, *high - *low};
}

/// Cells from the one of most charge to the one of least; ties as they stand.
std::vector<std::size_t> by_charge(const Lot& lot) {
  std::vector<std::size_t> order(lot.charge_C.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return lot.charge_C[a] > lot.charge_C[b]; });
  return order;
}

/// The free cells of most charge, dealt out to the poorest group with room. `turn` mixes the start:
/// neighbours in the order change places here and there.
std::vector<int> dealt(const Lot& lot, std::uint32_t turn) {
  std::vector<int> group(lot.fixed);
  std::vector<int> room(static_cast<std::size_t>(lot.series), lot.parallel);
  std::vector<double> charge(room.size(), 0);
  int open = lot.series * lot.parallel;
  for (std::size_t i = 0; i < group.size(); ++i) {
    if (group[i] < 0) continue;
    --room[static_cast<std::size_t>(group[i])];
    charge[static_cast<std::size_t>(group[i])] += lot.charge_C[i];
    --open;
  }
  std::vector<std::size_t> free;
  for (const std::size_t i : by_charge(lot)) {
    if (group[i] < 0 && static_cast<int>(free.size()) < open) free.push_back(i);
  }
  std::uint32_t state = 2463534242U + turn;
  for (std::size_t k = 1; turn > 0 && k < free.size(); ++k) {
    state ^= state << 13U;
    state ^= state >> 17U;
    state ^= state << 5U;
    if (state % 3 == 0) std::swap(free[k], free[k - 1]);
  }
  for (const std::size_t i : free) {
    std::size_t poorest = room.size();
    for (std::size_t g = 0; g < room.size(); ++g) {
      if (room[g] > 0 && (poorest == room.size() || charge[g] < charge[poorest])) poorest = g;
    }
    group[i] = static_cast<int>(poorest);
    --room[poorest];
    charge[poorest] += lot.charge_C[i];
  }
  return group;
}

/// Exchanges two cells (or a cell and a spare) as long as that is better; false where none is.
class Exchange {
 public:
  Exchange(const Lot& lot, std::vector<int>& group)
      : lot_(lot),
        group_(group),
        totals_(totals_of(lot, group)),
        merit_(steps::merit_of(lot, group)) {}

  bool once() {
    const std::size_t n = group_.size();
    for (std::size_t a = 0; a < n; ++a) {
      if (lot_.fixed[a] >= 0 || group_[a] < 0 || !extreme(group_[a])) continue;
      for (std::size_t b = 0; b < n; ++b) {
        if (lot_.fixed[b] >= 0 || group_[b] == group_[a]) continue;
        if (try_out(a, b)) return true;
      }
    }
    return false;
  }
  const Merit& merit() const { return merit_; }

 private:
  /// Only the poorest and the richest in charge and in conductance decide.
  bool extreme(int group) const {
    const auto g = static_cast<std::size_t>(group);
    const auto at_end = [&](const std::vector<double>& v) {
      const auto [least, most] = std::minmax_element(v.begin(), v.end());
      return v[g] == *least || v[g] == *most;
    };
    return at_end(totals_.charge) || at_end(totals_.conductance);
  }
  void move(std::size_t a, std::size_t b) {
    for (const auto& [out, in] : {std::pair{a, b}, std::pair{b, a}}) {
      if (group_[out] < 0) continue;
      const auto g = static_cast<std::size_t>(group_[out]);
      totals_.charge[g] += lot_.charge_C[in] - lot_.charge_C[out];
      totals_.conductance[g] += lot_.conductance_S[in] - lot_.conductance_S[out];
    }
    std::swap(group_[a], group_[b]);
  }
  bool try_out(std::size_t a, std::size_t b) {
    if (tries_left_-- <= 0) return false;
    move(a, b);
    const Merit now = merit_of(totals_);
    if (now.better_than(merit_)) {
      totals_ = totals_of(lot_, group_);  // so that no rounding adds up
      merit_ = merit_of(totals_);
      return true;
    }
    move(a, b);
    return false;
  }
  const Lot& lot_;
  std::vector<int>& group_;
  Totals totals_;
  Merit merit_;
  int tries_left_ = 400000;  // of one start: a lot of hundreds of cells stops here
};

double median(std::vector<double> values) {
  if (values.empty()) return std::nan("");
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

std::string percent(double share) {
  return figure::print(share, figure::Kind::share);
}

/// Why a cell is not built in; empty where it may be.
std::string reason(const build::MeasuredUnit& u, double usual_C, double usual_ohm) {
  if (u.capacity.value < charge_least_share * usual_C)
    return "it holds " + percent(u.capacity.value / usual_C) +
           " of what the lot's middle cell holds";
  if (u.resistance.value > resistance_most_share * usual_ohm)
    return "its resistance is " + percent(u.resistance.value / usual_ohm) + " of the lot's middle";
  if (u.voltage_later.known() &&
      u.voltage.value - u.voltage_later.value > voltage_lost_share * u.voltage.value)
    return "it lost " +
           figure::print(u.voltage.value - u.voltage_later.value, figure::Kind::voltage) +
           " lying there: it drains itself";
  return {};
}

}  // namespace

bool Merit::better_than(const Merit& other) const {
  if (less(other.weakest_C, weakest_C)) return true;
  if (less(weakest_C, other.weakest_C)) return false;
  if (less(strongest_C, other.strongest_C)) return true;
  if (less(other.strongest_C, strongest_C)) return false;
  return less(conductance_spread_S, other.conductance_spread_S);
}

Merit merit_of(const Lot& lot, const std::vector<int>& group) {
  return merit_of(totals_of(lot, group));
}

std::vector<int> grouped(const Lot& lot) {
  // Few cells are cheap to try often; with many, chance matters little.
  const std::size_t cells = lot.charge_C.size();
  const std::uint32_t starts = cells <= 40 ? 64 : cells <= 200 ? 8 : 2;
  std::vector<int> best;
  Merit best_merit{};
  for (std::uint32_t turn = 0; turn < starts; ++turn) {
    std::vector<int> group = dealt(lot, turn);
    Exchange exchange(lot, group);
    for (int round = 0; round < 2000 && exchange.once(); ++round) {
    }
    if (best.empty() || exchange.merit().better_than(best_merit)) {
      best = group;
      best_merit = exchange.merit();
    }
  }
  return best;
}

Sorted sort_units(const build::Build& build) {
  Sorted out;
  if (build.pack.has_value()) {
    out.series = std::max(build.pack->series, 0);
    out.parallel = std::max(build.pack->parallel, 0);
  }
  std::vector<int> order;
  for (std::size_t i = 0; i < build.units.size(); ++i) order.push_back(static_cast<int>(i));
  const auto unit = [&](int i) -> const build::MeasuredUnit& {
    return build.units[static_cast<std::size_t>(i)];
  };
  std::sort(order.begin(), order.end(), [&](int a, int b) { return unit(a).name < unit(b).name; });
  std::vector<double> charges, resistances;
  std::vector<int> whole;
  for (const int i : order) {
    const auto& u = unit(i);
    if (!u.voltage.known() || !u.capacity.known() || !u.resistance.known() ||
        !(u.resistance.value > 0))
      continue;
    whole.push_back(i);
    charges.push_back(u.capacity.value);
    resistances.push_back(u.resistance.value);
  }
  out.complete = static_cast<int>(whole.size());
  const double usual_C = median(charges), usual_ohm = median(resistances);
  Lot lot{{}, {}, {}, out.series, out.parallel};
  std::vector<int> kept;
  std::vector<int> full(static_cast<std::size_t>(out.series), 0);
  for (const int i : whole) {
    const auto& u = unit(i);
    const bool built_in = u.group >= 1 && u.group <= out.series;
    const std::string why = reason(u, usual_C, usual_ohm);
    if (!built_in && !why.empty()) {
      out.turned_away.push_back({i, why});
      continue;
    }
    const int fixed = built_in ? u.group - 1 : -1;
    if (built_in && ++full[static_cast<std::size_t>(fixed)] > out.parallel) {
      out.lacks = "group " + std::to_string(u.group) + " is said to hold more than " +
                  std::to_string(out.parallel) + " in parallel: " + u.name + " is too many";
      return out;
    }
    kept.push_back(i);
    lot.charge_C.push_back(u.capacity.value);
    lot.conductance_S.push_back(1 / u.resistance.value);
    lot.fixed.push_back(fixed);
  }
  const int wanted = out.series * out.parallel;
  if (wanted == 0 || static_cast<int>(kept.size()) < wanted) {
    out.lacks = wanted == 0 ? "pack.series and pack.parallel are not known"
                            : std::to_string(wanted) + " are needed; " +
                                  std::to_string(kept.size()) + " are measured and good";
    return out;
  }
  const std::vector<int> group = grouped(lot);
  out.possible = true;
  out.groups.resize(static_cast<std::size_t>(out.series));
  for (SortedGroup& g : out.groups) g = {{}, 0, 0, INFINITY, -INFINITY};
  std::vector<double> best(lot.charge_C);
  std::sort(best.rbegin(), best.rend());
  for (int i = 0; i < wanted; ++i) out.mean_C += best[static_cast<std::size_t>(i)] / out.series;
  for (const std::size_t k : by_charge(lot)) {
    if (group[k] < 0) {
      out.spares.push_back(kept[k]);
      continue;
    }
    SortedGroup& g = out.groups[static_cast<std::size_t>(group[k])];
    g.units.push_back(kept[k]);
    g.charge_C += lot.charge_C[k];
    g.conductance_S += lot.conductance_S[k];
    g.least_V = std::min(g.least_V, unit(kept[k]).voltage.value);
    g.most_V = std::max(g.most_V, unit(kept[k]).voltage.value);
  }
  const Merit merit = merit_of(lot, group);
  out.weakest_C = merit.weakest_C;
  out.strongest_C = merit.strongest_C;
  // One cell a group: the weakest of the best cells is the best there can be.
  out.bound_share = out.parallel == 1 ? 0 : out.mean_C / out.weakest_C - 1;
  return out;
}

}  // namespace ww::steps
