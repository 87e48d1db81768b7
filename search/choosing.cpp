// SPDX-License-Identifier: MIT
#include "search/choosing.h"

#include <algorithm>
#include <atomic>
#include <bit>
#include <cmath>
#include <map>
#include <numeric>

#include "base/text.h"

namespace ww::search {

namespace {

/// The loose hunt keeps all that fits, some 64 bytes each; where it may be more, what is nearest to
/// the wishes.
constexpr std::size_t most_loose = 6000000;

void weigh(Choosing& c, const ride::Runner& runner, std::size_t list_length) {
  LastCheck last(*c.ground, runner);
  std::map<std::string, std::size_t> fell;
  const auto stand = [&](const std::vector<Index>& asked) {
    std::vector<const Record*> records;
    records.reserve(asked.size());
    for (const Index i : asked) records.push_back(&c.hunted.records[i]);
    std::vector<bool> out;
    for (const auto& result : last.check(records)) {
      out.push_back(result.stands);
      if (!result.stands) ++fell[result.rule];
    }
    return out;
  };
  c.front = trade_offs(c.hunted.records, c.wishes.weights, stand);
  c.fell_last.assign(fell.begin(), fell.end());
  std::stable_sort(c.fell_last.begin(), c.fell_last.end(),
                   [](const auto& a, const auto& b) { return a.second > b.second; });
  c.worth = worth_of(c.hunted.records, c.front, c.wishes.weights);
  c.list = short_list(c.hunted.records, c.front, c.worth, list_length);
  if (c.front.empty()) return;
  c.decisions = decisions(c.ground->space(), c.hunted.records, c.worth, stand);
}

std::unique_ptr<Ground> ground_of(const Build& build, const Shop& shop, const Ask& ask) {
  return std::make_unique<Ground>(space_of(build, shop.library, ask), shop.library, shop.goods,
                                  shop.cycles);
}

/// Whether more fits than a loose hunt may keep. What missed a must was left before all of it was
/// counted, so where that could be too much it is counted.
bool is_more(const Ground& ground, const Tally& strict, HuntOptions options) {
  const double most = double(options.most);
  if (std::accumulate(strict.by_must.begin(), strict.by_must.end(), strict.fitting) <= most)
    return false;
  options.rides = false;
  std::atomic<bool> more{false};
  options.watch = [&](const Progress& progress) {
    if (progress.fitting > most) more = true;
    return !more;
  };
  return hunt(ground, {}, options).tally.fitting > most || more;
}

/// Every set of so many musts, as bits.
std::vector<std::uint32_t> sets_of(std::size_t musts, int many) {
  std::vector<std::uint32_t> out;
  for (std::uint32_t bits = 1; bits < (1U << musts); ++bits) {
    if (std::popcount(bits) == many) out.push_back(bits);
  }
  return out;
}

/// Adds to a strict hunt what comes nearest when as few wishes as possible may be missed: first
/// each alone, then by twos.
void hunt_nearest(const Ground& ground, const Wishes& wishes, HuntOptions options, Hunted& into) {
  options.strict = true;
  options.nearest = true;
  for (int many = 1; many <= int(wishes.musts.size()) && into.records.empty(); ++many) {
    for (const std::uint32_t set : sets_of(wishes.musts.size(), many)) {
      options.may_miss = set;
      const Hunted found = hunt(ground, wishes, options);
      into.records.insert(into.records.end(), found.records.begin(), found.records.end());
      into.tally.ridden += found.tally.ridden;
      into.tally.through += found.tally.through;
      into.tally.fitting = std::max(into.tally.fitting, found.tally.fitting);
      into.tally.stopped = into.tally.stopped || found.tally.stopped;
      if (into.tally.stopped) return;
    }
  }
}

/// The rules that the most combinations fell to, first come.
std::vector<std::size_t> in_the_way(const Tally& tally, std::size_t most) {
  std::vector<std::size_t> out;
  for (std::size_t rule = 0; rule < tally.by_rule.size(); ++rule) {
    if (tally.by_rule[rule] > 0) out.push_back(rule);
  }
  std::stable_sort(out.begin(), out.end(), [&](std::size_t a, std::size_t b) {
    return tally.by_rule[a] > tally.by_rule[b];
  });
  out.resize(std::min(out.size(), most));
  return out;
}

/// Leaves rules aside one at a time; where that lets nothing fit, each with what is in the way
/// next, up to three together. The most of each is small, since each is a search of its own.
class Locks {
 public:
  Locks(const Build& build, const Shop& shop, const Ask& ask, const HuntOptions& options)
      : build_(build), shop_(shop), ask_(ask) {
    options_.runner = options.runner;
    options_.go_on = options.go_on;
    options_.strict = false;
    options_.rides = false;
  }
  std::vector<Lock> of(const Tally& tally) {
    std::vector<std::vector<std::size_t>> asked;
    for (const std::size_t rule : in_the_way(tally, most_singles)) asked.push_back({rule});
    for (int depth = 0; depth < deepest && !asked.empty(); ++depth) {
      std::vector<std::vector<std::size_t>> next;
      for (const auto& rules : asked) {
        const auto found = count(rules);
        if (found.stopped) return sorted();
        if (found.fitting > 0) {
          out_.push_back({rules, found.fitting});
          continue;
        }
        for (const std::size_t more : in_the_way(found, most_more)) {
          auto wider = rules;
          wider.push_back(more);
          std::sort(wider.begin(), wider.end());
          if (std::find(next.begin(), next.end(), wider) == next.end()) next.push_back(wider);
        }
      }
      if (!out_.empty()) return sorted();
      next.resize(std::min(next.size(), most_wider));
      asked = std::move(next);
    }
    return sorted();
  }

 private:
  static constexpr std::size_t most_singles = 16, most_more = 4, most_wider = 40;
  static constexpr int deepest = 3;

  Tally count(const std::vector<std::size_t>& rules) const {
    Ask ask = ask_;
    ask.aside = rules;
    return hunt(*ground_of(build_, shop_, ask), {}, options_).tally;
  }
  std::vector<Lock> sorted() {
    std::stable_sort(out_.begin(), out_.end(),
                     [](const Lock& a, const Lock& b) { return a.fitting > b.fitting; });
    return std::move(out_);
  }

  const Build& build_;
  const Shop& shop_;
  const Ask& ask_;
  HuntOptions options_;
  std::vector<Lock> out_;
};

}  // namespace

Build Choosing::build_of(Index index) const {
  LastCheck last(*ground);
  const Record& found = hunted.records[index];
  return ground->build_of(found.at, last.check(found).picks);
}

Choosing choose(const Build& build, const Shop& shop, const Ask& ask, const Wishes& wishes,
                const HuntOptions& options, std::size_t list_length) {
  Choosing c;
  c.wishes = wishes;
  Ask used = ask;
  c.ground = ground_of(build, shop, used);
  c.hunted = hunt(*c.ground, wishes, options);
  if (c.hunted.records.empty() && !c.hunted.tally.stopped && !ask.own.empty() && ask.own_first) {
    used.own_first = false;
    c.widened = true;
    c.ground = ground_of(build, shop, used);
    c.hunted = hunt(*c.ground, wishes, options);
  }
  if (c.hunted.records.empty() && !c.hunted.tally.stopped && !wishes.musts.empty()) {
    HuntOptions loose = options;
    loose.strict = false;
    loose.most = std::min(loose.most, most_loose);
    c.loose = true;
    c.nearest = is_more(*c.ground, c.hunted.tally, loose);
    if (c.nearest) {
      hunt_nearest(*c.ground, wishes, loose, c.hunted);
    } else {
      c.hunted = hunt(*c.ground, wishes, loose);
    }
    c.relaxations = relaxations(c.hunted.records, wishes.musts);
  }
  if (!c.nearest && c.hunted.tally.fitting <= 0 && !c.hunted.tally.stopped)
    c.locks = Locks(build, shop, used, options).of(c.hunted.tally);
  if (c.hunted.records.empty()) return c;
  if (c.loose) {
    c.list = one_of_each_set(c.relaxations, list_length);
    return c;
  }
  weigh(c, options.runner, list_length);
  return c;
}

std::vector<std::string> left_to_settle(const Build& build, const Shop& shop) {
  ride::RideOptions nominal;
  nominal.draws = 0;
  nominal.pushes = false;
  const auto ride = ride::ride(build, shop.cycles, nominal);
  fit::CheckOptions options;
  options.ways_out = false;
  std::vector<std::string> out;
  for (const auto& finding : fit::check(build, ride, shop.library, shop.cycles, options)) {
    if (finding.verdict == fit::Verdict::clash && finding.rule->id.rfind("wish-", 0) != 0 &&
        finding.rule->id.rfind("missing-", 0) != 0)
      out.emplace_back(finding.rule->id);
  }
  return out;
}

WhyNot why_not(const Build& build, const Shop& shop, Ask ask, const Choosing& chosen, Axis axis,
               const std::string& id, const HuntOptions& options) {
  WhyNot out;
  const std::string shelf(word(axis));
  for (const auto& part : shop.library.shelf(shelf)) {
    if (part.id == id) {
      out.known = true;
    } else {
      ask.without.push_back(shelf + "/" + part.id);
    }
  }
  if (!out.known) return out;
  ask.own_first = false;
  ask.without.erase(std::remove(ask.without.begin(), ask.without.end(), shelf + "/" + id),
                    ask.without.end());
  ask.add(axis);
  const auto ground = ground_of(build, shop, ask);
  const Hunted kept = hunt(*ground, chosen.wishes, options);
  out.fitting = kept.tally.fitting;
  out.meeting = kept.records.size();
  for (const std::size_t rule : in_the_way(kept.tally, kept.tally.by_rule.size()))
    out.rules.emplace_back(fit::rule_book().rules()[rule].id, kept.tally.by_rule[rule]);
  if (!kept.records.empty()) {
    out.best = kept.records[best_of(kept.records, chosen.worth)];
    if (!chosen.hunted.records.empty())
      out.loss =
          chosen.worth.of(chosen.record(best_of(chosen.hunted.records, chosen.worth)).numbers) -
          chosen.worth.of(out.best->numbers);
    return out;
  }
  if (out.fitting <= 0) return out;
  HuntOptions loose = options;
  loose.strict = false;
  loose.most = most_loose;
  loose.nearest = true;
  const Hunted all = hunt(*ground, chosen.wishes, loose);
  out.relaxations = relaxations(all.records, chosen.wishes.musts);
  for (const Relaxation& relaxation : out.relaxations)
    out.relaxed.push_back(all.records[relaxation.record]);
  return out;
}

std::string specification(const build::LibraryPart& part, figure::System units) {
  static const std::map<std::string_view, std::vector<std::string_view>> decide{
      {"motor",
       {"type", "cooling", "power_continuous", "voltage_max", "speed_constant", "current_peak",
        "mass", "sensor"}},
      {"controller", {"voltage_max", "current_battery", "current_phase"}},
      {"cell", {"chemistry", "format", "capacity", "current_pulse", "resistance", "mass"}},
      {"bms", {"series_min", "series_max", "current_continuous", "chemistries"}},
      {"charger", {"voltage", "current", "power_in"}},
      {"dcdc", {"voltage_in_max", "voltage_out", "current_out", "isolated"}},
      {"contactor", {"voltage_max", "current_carry", "current_break", "coil_voltage"}},
      {"fuse", {"current", "voltage_dc", "interrupt"}},
      {"disconnect", {"voltage", "current", "load_break"}},
      {"cable_main", {"section", "temperature_max"}},
      {"precharge", {"resistance", "power", "pulse_energy"}},
      {"throttle", {"type", "supply", "bar_diameter"}}};
  const auto keys = decide.find(part.slot->key);
  if (keys == decide.end()) return {};
  Build aside;
  build::put_part(aside, *part.slot, part);
  std::vector<std::string> words;
  for (const auto key : keys->second) {
    const Id id = build::id_of(std::string(part.slot->key) + "." + std::string(key));
    if (!build::known_at(aside, id)) continue;
    words.push_back(std::string(build::schema()[id].info->label) + " " +
                    build::show(aside, id, units));
  }
  return join(words, "; ");
}

}  // namespace ww::search
