// SPDX-License-Identifier: MIT
#include "serve/stages.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/text.h"
#include "search/space.h"
#include "wiring/circuit.h"

namespace ww::serve {

namespace {

using build::Entry;
using build::FieldType;
using build::Id;
using build::schema;
using build::Slot;
using figure::System;

constexpr std::size_t open_at_most = 12;

/// At most a dozen, then how many more.
std::vector<std::string> shortened(std::vector<std::string> all) {
  if (all.size() <= open_at_most) return all;
  const std::size_t more = all.size() - open_at_most;
  all.resize(open_at_most);
  all.push_back(std::to_string(more) + " more");
  return all;
}

bool in_stage(std::string_view slot, std::string_view stage) {
  for (const auto& s : stages()) {
    if (s.key == stage) return std::find(s.slots.begin(), s.slots.end(), slot) != s.slots.end();
  }
  return false;
}

std::vector<std::string> donor_open(const Looked& looked) {
  std::vector<std::string> out;
  if (!looked.own.donor) out.emplace_back("class of bike");
  for (const auto& m : looked.measure) {
    const Entry& entry = schema()[m.id];
    if (in_stage(entry.slot->key, "donor")) out.emplace_back(entry.info->label);
  }
  return out;
}

/// The six entries, without the class of bike.
std::vector<std::string> wishes_open(const Looked& looked) {
  std::vector<std::string> out;
  for (const char* path : {"wishes.hold_speed", "wishes.ride_distance", "wishes.fast_share",
                           "surroundings.coldest", "rider.mass", "wishes.budget"}) {
    if (!build::known_at(looked.own, build::id_of(path)))
      out.emplace_back(schema()[build::id_of(path)].info->label);
  }
  return out;
}

/// What a search may still change.
std::vector<std::string> choose_open(const Looked& looked) {
  std::vector<std::string> out;
  const std::uint32_t open = search::open_by_sheet(looked.own);
  for (std::size_t a = 0; a < search::axis_count; ++a) {
    if (((open >> a) & 1U) != 0)
      out.push_back(words_of(search::word(static_cast<search::Axis>(a))));
  }
  return out;
}

std::vector<std::string> parts_open(const Looked& looked) {
  std::vector<std::string> out;
  for (const auto& line : looked.own_list.lines) {
    if (line.missing) out.push_back(line.what);
  }
  return out;
}

std::vector<std::string> fit_open(const Looked& looked) {
  std::vector<std::string> out;
  std::size_t waiting = 0;
  for (const auto& finding : looked.checked.findings) {
    if (finding.verdict == fit::Verdict::clash)
      out.push_back("clash: " + std::string(finding.rule->title));
    if (finding.verdict == fit::Verdict::unmeasured &&
        blocks_next_step(looked.own, finding.rule->blocks))
      ++waiting;
  }
  if (waiting > 0) {
    out.push_back(std::to_string(waiting) +
                  (waiting == 1 ? " check that stands" : " checks that stand") +
                  " before the next step " + (waiting == 1 ? "waits" : "wait") + " for figures");
  }
  return out;
}

std::vector<std::string> road_open(const Looked& looked) {
  std::vector<std::string> out;
  const auto& ride = looked.checked.ride;
  for (const auto& part : ride.parts_missing) out.push_back("needs " + part);
  for (const Id id : ride.missing) out.emplace_back(schema()[id].info->label);
  for (const auto& answer : answers_of(looked)) {
    if (answer.met == "short") {
      out.push_back(answer.label + ": wished " + answer.wish +
                    (answer.by.empty()       ? ""
                     : answer.more_is_better ? ", short by " + answer.by
                                             : ", over by " + answer.by));
    }
  }
  return out;
}

std::vector<std::string> list_open(const Looked& looked) {
  std::vector<std::string> out;
  for (const auto& line : looked.own_list.lines) {
    if (line.waits_for.empty()) continue;
    out.push_back(line.what + ": waits for " + std::to_string(line.waits_for.size()) +
                  (line.waits_for.size() == 1 ? " figure" : " figures"));
  }
  return out;
}

// ---- the field table

api::Field field_of(const Entry& entry, System units) {
  const auto& info = *entry.info;
  const Id id = build::id_of(entry.path);
  static constexpr const char* types[] = {"figure", "count", "choice", "set", "text"};
  api::Field out{.path = entry.path,
                 .key = std::string(info.key),
                 .label = std::string(info.label),
                 .type = types[static_cast<int>(info.type)],
                 .kind = info.type == FieldType::figure ? std::string(figure::name_of(info.kind))
                                                        : std::string(),
                 .low = {},
                 .high = {},
                 .options = {},
                 .how = std::string(info.measure),
                 .prior = {},
                 .prior_source = {}};
  if (info.type == FieldType::figure || info.type == FieldType::count) {
    out.low = build::show_number(info.low, id, units);
    out.high = build::show_number(info.high, id, units);
  }
  for (std::size_t i = 1; i < info.options.size(); ++i)
    out.options.push_back({std::string(info.options[i]), std::string(info.option_labels[i])});
  if (info.prior.known()) {
    out.prior = build::show_number(info.prior.value, id, units);
    out.prior_source = std::string(info.prior.source);
  }
  return out;
}

std::vector<api::UnitKind> unit_kinds(System units) {
  std::vector<api::UnitKind> out;
  for (const auto& unit : figure::unit_table()) {
    const std::string kind(figure::name_of(unit.kind));
    const auto at = std::find_if(out.begin(), out.end(),
                                 [&](const api::UnitKind& known) { return known.kind == kind; });
    if (at != out.end()) {
      at->spellings.emplace_back(unit.spelling);
    } else {
      out.push_back({kind,
                     {std::string(unit.spelling)},
                     std::string(figure::unit_shown(unit.kind, units, 1))});
    }
  }
  return out;
}

/// What lacks or is joined wrongly, then what nobody has answered.
std::vector<std::string> wiring_open(const Looked& looked) {
  const auto circuit = wiring::circuit(looked.checked.ridden);
  std::vector<std::string> out, asked;
  for (const auto& gap : circuit.gaps)
    (gap.kind == wiring::Gap::Kind::unanswered ? asked : out).push_back(gap.what);
  out.insert(out.end(), asked.begin(), asked.end());
  return out;
}

/// The protocol is more work than all else of a state together (tried: 30 of 43 ms), and an edit
/// waits for it: the stage itself lists what comes.
std::vector<std::string> steps_open(const Looked& looked) {
  return {looked.own.log.empty() ? "no step is logged yet" : "the steps that come next"};
}

}  // namespace

const std::vector<api::Stage>& stages() {
  static const std::vector<api::Stage> list{
      {"donor",
       "The bike",
       "What do you start from?",
       {"project", "donor", "rider", "tyre_front", "tyre_rear"}},
      {"wishes", "Wishes", "What must it do?", {"wishes", "surroundings"}},
      {"choose", "Choose", "What is worth buying?", {}},
      {"parts",
       "Parts",
       "Which parts, and do they suit each other?",
       {"motor",         "controller",  "cell",      "pack",      "bms",   "charger",
        "dcdc",          "buffer",      "contactor", "precharge", "fuse",  "disconnect",
        "cable_main",    "cable_phase", "lug",       "gearing",   "chain", "sprocket_front",
        "sprocket_rear", "belt",        "throttle",  "display"}},
      {"fit", "Fit", "Does it all go in, and go together?", {"layout", "limits"}},
      {"road", "Road", "What will it do?", {"assumed"}},
      {"list", "List", "What to buy, and in which order?", {"money"}},
      {"wiring", "Wiring", "What goes where, how thick, behind which fuse?", {"wiring", "loom"}},
      {"steps", "Steps", "What is done next, and what must be read?", {}}};
  return list;
}

std::vector<api::StageState> open_stages(const Looked& looked) {
  return {{"donor", shortened(donor_open(looked))},   {"wishes", shortened(wishes_open(looked))},
          {"choose", shortened(choose_open(looked))}, {"parts", shortened(parts_open(looked))},
          {"fit", shortened(fit_open(looked))},       {"road", shortened(road_open(looked))},
          {"list", shortened(list_open(looked))},     {"wiring", shortened(wiring_open(looked))},
          {"steps", shortened(steps_open(looked))}};
}

api::Schema schema_of(System units) {
  api::Schema out;
  for (const Slot& slot : schema().slots()) {
    api::Slot shown{.key = std::string(slot.key),
                    .label = std::string(slot.label),
                    .optional = slot.optional,
                    .is_part = slot.is_part,
                    .shelf = std::string(slot.shelf),
                    .fields = {}};
    for (const Id id : schema().fields_of(slot))
      shown.fields.push_back(field_of(schema()[id], units));
    out.slots.push_back(std::move(shown));
  }
  out.units = unit_kinds(units);
  for (const auto evidence :
       {figure::Evidence::guess, figure::Evidence::hearsay, figure::Evidence::seller,
        figure::Evidence::data_sheet, figure::Evidence::measured})
    out.evidence.push_back({std::string(word(evidence)), std::string(word(evidence))});
  out.stages = stages();
  out.systems = {"metric", "imperial"};
  return out;
}

}  // namespace ww::serve
