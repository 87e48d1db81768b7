// SPDX-License-Identifier: MIT
#include "search/choosing.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/text.h"

namespace ww::search {

namespace {

/// The loose hunt keeps all that fits: some 64 bytes each.
constexpr std::size_t most_loose = 6000000;

void weigh(Choosing& c, const ride::Runner& runner, std::size_t list_length) {
  LastCheck last(*c.ground, runner);
  std::map<std::string, std::size_t> fell;
  const auto stand = [&](const std::vector<Index>& asked) {
    std::vector<const Record*> records;
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
  c.ground = ground_of(build, shop, ask);
  c.hunted = hunt(*c.ground, wishes, options);
  if (c.hunted.records.empty() && !c.hunted.tally.stopped && !ask.own.empty() && ask.own_first) {
    Ask wider = ask;
    wider.own_first = false;
    c.widened = true;
    c.ground = ground_of(build, shop, wider);
    c.hunted = hunt(*c.ground, wishes, options);
  }
  if (c.hunted.records.empty() && !c.hunted.tally.stopped && !wishes.musts.empty()) {
    HuntOptions loose = options;
    loose.strict = false;
    loose.most = std::min(loose.most, most_loose);
    c.loose = true;
    c.hunted = hunt(*c.ground, wishes, loose);
    c.relaxations = relaxations(c.hunted.records, wishes.musts);
  }
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
  for (std::size_t rule = 0; rule < kept.tally.by_rule.size(); ++rule) {
    if (kept.tally.by_rule[rule] > 0)
      out.rules.emplace_back(fit::rule_book().rules()[rule].id, kept.tally.by_rule[rule]);
  }
  std::stable_sort(out.rules.begin(), out.rules.end(),
                   [](const auto& a, const auto& b) { return a.second > b.second; });
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
