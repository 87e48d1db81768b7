// SPDX-License-Identifier: MIT
#include "serve/shelves.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"

namespace ww::serve {

namespace {

using build::Build;
using build::Id;
using build::schema;
using build::Slot;
using fit::Finding;
using fit::Verdict;

/// What tells the parts of a shelf apart, by its fields' keys.
const std::vector<std::string_view>& telling_fields(std::string_view shelf) {
  static const std::map<std::string_view, std::vector<std::string_view>> table{
      {"motor", {"type", "power_continuous", "voltage_max", "mass"}},
      {"controller", {"voltage_max", "current_battery", "current_phase", "sensors"}},
      {"cell", {"chemistry", "capacity", "voltage_nominal", "current_continuous", "mass"}},
      {"bms", {"type", "series_max", "current_continuous"}},
      {"charger", {"voltage", "current", "voltage_in"}},
      {"dcdc", {"voltage_in_max", "current_out", "isolated"}},
      {"buffer", {"capacity", "voltage"}},
      {"contactor", {"current_carry", "voltage_max", "current_break", "coil_voltage"}},
      {"precharge", {"resistance", "pulse_energy"}},
      {"fuse", {"current", "voltage_dc", "interrupt"}},
      {"disconnect", {"current", "voltage", "load_break"}},
      {"cable", {"section", "temperature_max", "outer_diameter"}},
      {"lug", {"section", "hole"}},
      {"chain", {"designation", "tensile", "sealed"}},
      {"sprocket", {"teeth", "pitch", "bore", "bolt_circle"}},
      {"belt", {"pitch", "width", "power"}},
      {"tyre", {"size", "load_index", "speed_letter"}},
      {"throttle", {"type", "bar_diameter"}},
      {"display", {"supply_max", "isolated"}}};
  static const std::vector<std::string_view> none;
  const auto at = table.find(shelf);
  return at == table.end() ? none : at->second;
}

std::string shown(const Build& build, const Slot& slot, std::string_view key,
                  figure::System units) {
  const Id id = schema().find(std::string(slot.key) + "." + std::string(key));
  return id < 0 || !build::known_at(build, id) ? std::string() : build::show(build, id, units);
}

std::vector<std::string> facts_of(const Build& build, const Slot& slot, figure::System units) {
  std::vector<std::string> out;
  for (const auto key : telling_fields(slot.shelf)) {
    const std::string text = shown(build, slot, key, units);
    if (text.empty()) continue;
    const Id id = build::id_of(std::string(slot.key) + "." + std::string(key));
    out.push_back(std::string(schema()[id].info->label) + ": " + words_of(text));
  }
  return out;
}

/// Whether a rule speaks of a slot: it stands at it, or reads a figure of it.
bool speaks_of(const fit::Rule& rule, const Slot& slot) {
  if (std::find(rule.between.begin(), rule.between.end(), slot.key) != rule.between.end())
    return true;
  const auto index = static_cast<std::size_t>(&rule - fit::rule_book().rules().data());
  const auto& leaves = fit::rule_book().leaves(index);
  return std::any_of(leaves.begin(), leaves.end(),
                     [&](Id id) { return schema()[id].slot == &slot; });
}

ride::Ride nominal_ride(const Build& build, const World& world) {
  return ride::ride(
      build, world.shipped.cycles,
      {.draws = 0, .seed = 1, .pushes = false, .wanted = ride::every_answer, .widest_kernel = 1});
}

/// Worst first: what clashes, what is not known, what is tight.
const Finding* worst_of(const std::vector<Finding>& findings, const Slot& slot) {
  for (const Finding& finding : findings) {
    if (speaks_of(*finding.rule, slot)) return &finding;
  }
  return nullptr;
}

void hold_against(api::ShelfPart& out, const Build& with_part, const ShelfQuestion& question,
                  const World& world) {
  const auto ride = nominal_ride(with_part, world);
  const auto findings = fit::check(with_part, ride, world.shipped.library, world.shipped.cycles,
                                   {.runner = ride::run_in_turn,
                                    .ways_out = false,
                                    .units = question.units,
                                    .overrides = nullptr});
  const Finding* worst = worst_of(findings, *question.slot);
  if (worst == nullptr) return;
  out.says = std::string(word(worst->verdict));
  if (worst->verdict == Verdict::unmeasured) {
    std::vector<std::string> names;
    for (const Id id : worst->missing) names.emplace_back(schema()[id].info->label);
    out.why = std::string(worst->rule->title) +
              (names.empty() ? "" : ": not known: " + join(names, "; "));
  } else if (worst->verdict != Verdict::fits) {
    out.why = worst->because;
  }
  int clashes = 0;
  for (const Finding& finding : findings)
    clashes +=
        finding.verdict == Verdict::clash && speaks_of(*finding.rule, *question.slot) ? 1 : 0;
  if (clashes > 1) out.why += " And " + std::to_string(clashes - 1) + " more clash.";
}

}  // namespace

const Slot* slot_for(std::string_view shelf, bool second) {
  for (const Slot& slot : schema().slots()) {
    if (!slot.is_part || slot.shelf != shelf) continue;
    if (!second) return &slot;
    second = false;
  }
  return nullptr;
}

std::vector<api::ShelfPart> shelf_parts(const ShelfQuestion& question, const World& world,
                                        const ride::Runner& runner) {
  const auto& shelf = world.shipped.library.shelf(question.shelf);
  const Slot& slot = *question.slot;
  std::vector<api::ShelfPart> out(shelf.size());
  runner(static_cast<int>(shelf.size()), [&](int i) {
    const auto& part = shelf[static_cast<std::size_t>(i)];
    api::ShelfPart& shown_part = out[static_cast<std::size_t>(i)];
    Build with_part = question.looked == nullptr ? Build{} : question.looked->own;
    build::put_part(with_part, slot, part);
    shown_part.id = part.id;
    shown_part.part_name = shown(with_part, slot, "name", question.units);
    if (shown_part.part_name.empty()) shown_part.part_name = part.id;
    for (const OwnOnShelf& own : question.own) {
      if (own.slug != part.id) continue;
      shown_part.own = true;
      shown_part.own_id = own.id;
    }
    shown_part.facts = facts_of(with_part, slot, question.units);
    shown_part.price = shown(with_part, slot, "price", question.units);
    shown_part.says = "none";
    if (question.looked != nullptr) hold_against(shown_part, with_part, question, world);
  });
  return out;
}

std::vector<Finding> between_two(const build::LibraryPart& a, const build::LibraryPart& b,
                                 const World& world, figure::System units) {
  const Slot* slot_a = slot_for(a.slot->shelf);
  const Slot* slot_b = slot_for(b.slot->shelf, a.slot->shelf == b.slot->shelf);
  if (slot_a == nullptr || slot_b == nullptr) return {};
  Build build;
  build::put_part(build, *slot_a, a);
  build::put_part(build, *slot_b, b);
  auto findings = fit::check(
      build, {}, world.shipped.library, world.shipped.cycles,
      {.runner = ride::run_in_turn, .ways_out = false, .units = units, .overrides = nullptr});
  findings.erase(std::remove_if(findings.begin(), findings.end(),
                                [&](const Finding& finding) {
                                  return !speaks_of(*finding.rule, *slot_a) ||
                                         !speaks_of(*finding.rule, *slot_b);
                                }),
                 findings.end());
  return findings;
}

}  // namespace ww::serve
