// SPDX-License-Identifier: MIT
#include "search/supports.h"

#include <algorithm>
#include <map>

#include "plan/parts_list.h"

namespace ww::search {

namespace {

double figure_of(const build::LibraryPart& part, std::string_view key) {
  for (const auto& info : part.slot->table->fields) {
    if (info.key == key)
      return static_cast<const figure::Figure*>(info.reach(part.part.get()))->or_else(0);
  }
  return 0;
}

Supports::Shelf shelf_of(const Layout& layout, const build::Library& library,
                         std::string_view slot_key) {
  const build::Slot& slot = *build::schema().slot(slot_key);
  Supports::Shelf shelf{.slot = &slot,
                        .options = {},
                        .tables = {},
                        .pieces = plan::pieces_of(layout.space().base, slot_key),
                        .middle_money = 0};
  for (const auto& part : library.shelf(slot.shelf)) {
    shelf.options.push_back({.part = &part,
                             .piece = layout.start().piece(slot, part),
                             .money = money_of(part),
                             .weeks = weeks_of(part)});
  }
  std::stable_sort(shelf.options.begin(), shelf.options.end(),
                   [](const auto& a, const auto& b) { return a.money < b.money; });
  if (!shelf.options.empty()) shelf.middle_money = shelf.options[shelf.options.size() / 2].money;
  return shelf;
}

}  // namespace

double money_of(const build::LibraryPart& part) {
  return figure_of(part, "price") + figure_of(part, "freight");
}

double freight_of(const build::LibraryPart& part) {
  return figure_of(part, "freight");
}

double weeks_of(const build::LibraryPart& part) {
  return figure_of(part, "lead_time") / (7 * 86400.0);
}

Supports::Supports(const Layout& layout, const build::Library& library) {
  for (const auto slot : layout.space().supports)
    shelves_.push_back(shelf_of(layout, library, slot));
  // By what they read and when they are judged: once all they read is laid, and before that once
  // all they stand between is, so that no later part is asked to mend an earlier choice.
  std::map<std::array<std::uint32_t, 5>, std::vector<std::size_t>> groups;
  for (std::size_t rule = 0; rule < fit::rule_book().rules().size(); ++rule) {
    const Reads& reads = layout.reads(rule);
    if (reads.supports == 0 || reads.ride) continue;
    std::uint32_t needed = 0, last = 0;
    const auto& between = fit::rule_book().rules()[rule].between;
    for (std::uint32_t s = 0; s < shelves_.size(); ++s) {
      if ((reads.supports >> s & 1U) == 0) continue;
      last = s;
      if (std::find(between.begin(), between.end(), shelves_[s].slot->key) != between.end())
        needed = s + 1;
    }
    const auto add = [&](std::uint32_t shelf) {
      groups[{shelf, reads.supports, reads.axes, reads.battery_limit ? 1U : 0U,
              reads.phase_limit ? 1U : 0U}]
          .push_back(rule);
    };
    add(last);
    if (needed > 0 && needed - 1 < last) add(needed - 1);
  }
  for (auto& [key, rules] : groups) {
    const Reads together = layout.reads(rules.front());
    add_table(layout, key[0], together, std::move(rules));
  }
}

void Supports::add_table(const Layout& layout, std::size_t shelf, const Reads& together,
                         std::vector<std::size_t> rules) {
  Table table;
  table.reads = together;
  table.rules = std::move(rules);
  table.verdicts.along(shelves_[shelf].options.size());
  for (std::size_t a = 0; a < axis_count; ++a) {
    if ((together.axes >> a & 1U) != 0)
      table.axes.emplace_back(a, table.verdicts.along(layout.space().options[a].size()));
  }
  for (std::size_t s = 0; s < shelf; ++s) {
    if ((together.supports >> s & 1U) != 0)
      table.earlier.emplace_back(s, table.verdicts.along(shelves_[s].options.size() + 1));
  }
  for (std::size_t s = shelf + 1; s < shelves_.size(); ++s) {
    if ((together.supports >> s & 1U) != 0) table.later.push_back(s);
  }
  table.verdicts.make();
  shelves_[shelf].tables.push_back(std::move(table));
}

Picker::Picker(const Supports& supports, Trial& trial)
    : supports_(&supports), trial_(&trial), laid_() {
  laid_.fill(-1);
}

void Picker::lay_one(std::size_t s, std::int16_t option) {
  if (laid_[s] == option) return;
  laid_[s] = option;
  const auto& shelf = supports_->shelves()[s];
  if (option < 0) {
    trial_->sieve().take_away(*shelf.slot);
  } else {
    trial_->sieve().lay(*shelf.options[static_cast<std::size_t>(option)].piece);
  }
}

void Picker::lay(const Picks& picks) {
  for (std::size_t s = 0; s < supports_->shelves().size(); ++s) lay_one(s, picks[s]);
}

bool Picker::clashes(const At& at, const Picks& before, std::size_t s, const Supports::Table& table,
                     std::int16_t option) {
  std::size_t place = static_cast<std::size_t>(option);
  for (const auto& [axis, stride] : table.axes) place += at[axis] * stride;
  for (const auto& [shelf, stride] : table.earlier)
    place += static_cast<std::size_t>(before[shelf] + 1) * stride;
  const std::uint16_t verdict = table.verdicts.at(place, [&]() -> std::uint16_t {
    trial_->lay(at, table.reads.axes);
    trial_->lay_limits(at, table.reads);
    for (const auto& [shelf, stride] : table.earlier) lay_one(shelf, before[shelf]);
    for (const std::size_t shelf : table.later) lay_one(shelf, -1);
    lay_one(s, option);
    const bool clash = std::any_of(table.rules.begin(), table.rules.end(),
                                   [&](std::size_t rule) { return trial_->sieve().clashes(rule); });
    return clash ? 2 : 1;
  });
  return verdict == 2;
}

std::int16_t Picker::pick_one(const At& at, const Picks& before, std::size_t s,
                              const std::vector<std::size_t>& ride_rules) {
  const auto& shelf = supports_->shelves()[s];
  for (std::size_t o = 0; o < shelf.options.size(); ++o) {
    const auto option = static_cast<std::int16_t>(o);
    const bool clash = std::any_of(
        shelf.tables.begin(), shelf.tables.end(),
        [&](const Supports::Table& table) { return clashes(at, before, s, table, option); });
    if (clash) continue;
    if (ride_rules.empty()) return option;
    for (std::size_t b = 0; b < s; ++b) lay_one(b, before[b]);
    lay_one(s, option);
    trial_->lay(at, (1U << axis_count) - 1);
    trial_->set_limits();
    if (std::none_of(ride_rules.begin(), ride_rules.end(),
                     [&](std::size_t rule) { return trial_->sieve().clashes(rule); }))
      return option;
  }
  return -1;
}

Picks Picker::pick(const At& at) {
  static const RideRules none;
  return pick(at, none);
}

Picks Picker::pick(const At& at, const RideRules& rules) {
  Picks picks;
  picks.fill(-1);
  for (std::size_t s = 0; s < supports_->shelves().size(); ++s)
    picks[s] = pick_one(at, picks, s, rules[s]);
  return picks;
}

}  // namespace ww::search
