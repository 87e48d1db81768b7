// SPDX-License-Identifier: MIT
#include "build/fields.h"

#include <algorithm>
#include <cmath>
#include <type_traits>
#include <utility>

#include "base/check.h"
#include "base/text.h"
#include "build/erased.h"

namespace ww::build {

namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

template <class S>
std::shared_ptr<void> fresh() {
  return std::make_shared<S>();
}

template <class S>
void copy(void* to, const void* from) {
  *static_cast<S*>(to) = *static_cast<const S*>(from);
}

/// A slot that every build has.
template <auto Member>
Slot always(std::string_view key, std::string_view label, const Table& table) {
  using S = std::remove_reference_t<decltype(std::declval<Build&>().*Member)>;
  return {.key = key,
          .label = label,
          .is_part = false,
          .optional = false,
          .table = &table,
          .reach = [](Build& b) -> void* { return &(b.*Member); },
          .make = [](Build& b) -> void* { return &(b.*Member); },
          .remove = [](Build& b) { b.*Member = {}; },
          .shelf = {},
          .fresh = &fresh<S>,
          .copy = &copy<S>};
}

/// A slot that a build may lack.
template <auto Member>
Slot maybe(std::string_view key, std::string_view label, const Table& table,
           std::string_view shelf) {
  using S = typename std::remove_reference_t<decltype(std::declval<Build&>().*Member)>::value_type;
  return {
      .key = key,
      .label = label,
      .is_part = !shelf.empty(),
      .optional = true,
      .table = &table,
      .reach = [](Build& b) -> void* { return (b.*Member).has_value() ? &*(b.*Member) : nullptr; },
      .make = [](Build& b) -> void* {
        if (!(b.*Member).has_value()) (b.*Member).emplace();
        return &*(b.*Member);
      },
      .remove = [](Build& b) { (b.*Member).reset(); },
      .shelf = shelf,
      .fresh = &fresh<S>,
      .copy = &copy<S>};
}

template <auto Member>
Slot part(std::string_view key, std::string_view label, const Table& table) {
  return maybe<Member>(key, label, table, key);
}

template <auto Member>
Slot part(std::string_view key, std::string_view label, const Table& table,
          std::string_view shelf) {
  return maybe<Member>(key, label, table, shelf);
}

std::vector<Slot> all_slots() {
  return {
      always<&Build::project>("project", "the project", project_fields()),
      maybe<&Build::donor>("donor", "donor bike", donor_fields(), {}),
      maybe<&Build::rider>("rider", "rider", rider_fields(), {}),
      always<&Build::wishes>("wishes", "wishes", wishes_fields()),
      always<&Build::surroundings>("surroundings", "surroundings", surroundings_fields()),
      part<&Build::motor>("motor", "motor", motor_fields()),
      part<&Build::controller>("controller", "controller", controller_fields()),
      part<&Build::cell>("cell", "cell or module", cell_fields()),
      maybe<&Build::pack>("pack", "pack", pack_fields(), {}),
      part<&Build::bms>("bms", "cell monitor (BMS)", bms_fields()),
      part<&Build::charger>("charger", "charger", charger_fields()),
      part<&Build::dcdc>("dcdc", "12 V converter", dcdc_fields()),
      part<&Build::buffer>("buffer", "12 V buffer battery", buffer_fields()),
      part<&Build::contactor>("contactor", "main contactor", contactor_fields()),
      part<&Build::precharge>("precharge", "pre-charge", precharge_fields()),
      part<&Build::fuse>("fuse", "main fuse", fuse_fields()),
      part<&Build::disconnect>("disconnect", "service disconnect", disconnect_fields()),
      part<&Build::cable_main>("cable_main", "battery cable", cable_fields(), "cable"),
      part<&Build::cable_phase>("cable_phase", "phase cable", cable_fields(), "cable"),
      part<&Build::lug>("lug", "lugs of the battery cable", lug_fields()),
      always<&Build::gearing>("gearing", "gearing", gearing_fields()),
      part<&Build::chain>("chain", "chain", chain_fields()),
      part<&Build::sprocket_front>("sprocket_front", "front sprocket", sprocket_fields(),
                                   "sprocket"),
      part<&Build::sprocket_rear>("sprocket_rear", "rear sprocket", sprocket_fields(), "sprocket"),
      part<&Build::belt>("belt", "belt drive", belt_fields()),
      part<&Build::tyre_front>("tyre_front", "front tyre", tyre_fields(), "tyre"),
      part<&Build::tyre_rear>("tyre_rear", "rear tyre", tyre_fields(), "tyre"),
      part<&Build::throttle>("throttle", "throttle", throttle_fields()),
      part<&Build::display>("display", "display", display_fields()),
      always<&Build::limits>("limits", "settings", limits_fields()),
      always<&Build::layout>("layout", "layout", layout_fields()),
      always<&Build::wiring>("wiring", "wiring", wiring_fields()),
      always<&Build::money>("money", "money", money_fields()),
      always<&Build::assumed>("assumed", "what the models assume", assumed_fields()),
      // Last, so that the draws of every figure before it stay as they are.
      always<&Build::loom>("loom", "how the wires run", loom_fields()),
  };
}

const void* member(const Build& build, const Entry& entry) {
  // reach() needs a Build&, but only looks; the const comes back at once.
  void* object = entry.slot->reach(const_cast<Build&>(build));  // NOLINT
  return object == nullptr ? nullptr : entry.info->reach(object);
}

}  // namespace

Schema::Schema() : slots_(all_slots()) {
  for (const Slot& slot : slots_) {
    for (const FieldInfo& info : slot.table->fields) {
      entries_.push_back({std::string(slot.key) + "." + std::string(info.key), &slot, &info});
    }
  }
  by_path_.reserve(entries_.size());
  for (std::size_t i = 0; i < entries_.size(); ++i)
    by_path_.emplace_back(entries_[i].path, static_cast<Id>(i));
  std::sort(by_path_.begin(), by_path_.end());
}

Id Schema::find(std::string_view path) const {
  const auto at =
      std::lower_bound(by_path_.begin(), by_path_.end(), path,
                       [](const auto& pair, std::string_view p) { return pair.first < p; });
  return at != by_path_.end() && at->first == path ? at->second : -1;
}

const Slot* Schema::slot(std::string_view key) const {
  for (const Slot& slot : slots_) {
    if (slot.key == key) return &slot;
  }
  return nullptr;
}

std::vector<Id> Schema::fields_of(const Slot& slot) const {
  std::vector<Id> ids;
  for (std::size_t i = 0; i < entries_.size(); ++i) {
    if (entries_[i].slot == &slot) ids.push_back(static_cast<Id>(i));
  }
  return ids;
}

const Schema& schema() {
  static const Schema the_schema;
  return the_schema;
}

Id id_of(std::string_view path) {
  const Id id = schema().find(path);
  if (id < 0) assertion_failed(std::string(path).c_str(), "field path", 0);
  return id;
}

const Figure* figure_at(const Build& build, Id id) {
  const Entry& entry = schema()[id];
  if (entry.info->type != FieldType::figure) return nullptr;
  return static_cast<const Figure*>(member(build, entry));
}

Figure* figure_at(Build& build, Id id) {
  return const_cast<Figure*>(figure_at(static_cast<const Build&>(build), id));  // NOLINT
}

double number_at(const Build& build, Id id) {
  const Entry& entry = schema()[id];
  const void* at = member(build, entry);
  return at == nullptr ? nan : member_number(*entry.info, at);
}

bool known_at(const Build& build, Id id) {
  const Entry& entry = schema()[id];
  const void* at = member(build, entry);
  return at != nullptr && member_known(*entry.info, at);
}

bool slot_present(const Build& build, const Slot& slot) {
  return slot.reach(const_cast<Build&>(build)) != nullptr;  // NOLINT: only looks
}

void copy_slot(Build& to, const Build& from, const Slot& slot) {
  const void* there = slot.reach(const_cast<Build&>(from));  // NOLINT: only looks
  if (there == nullptr) {
    slot.remove(to);
  } else {
    slot.copy(slot.make(to), there);
  }
}

Result<int> set_from_text(Build& build, Id id, std::string_view text) {
  const Entry& entry = schema()[id];
  const bool was_there = slot_present(build, *entry.slot);
  auto done =
      set_member(*entry.info, entry.info->reach(entry.slot->make(build)), entry.path, trim(text));
  if (!done && !was_there) entry.slot->remove(build);
  return done;
}

void set_number(Build& build, Id id, double value) {
  const Entry& entry = schema()[id];
  void* at = entry.info->reach(entry.slot->make(build));
  switch (entry.info->type) {
    case FieldType::figure: {
      Figure& figure = *static_cast<Figure*>(at);
      const auto convention = figure.convention;
      figure = {};
      figure.value = value;
      figure.convention = convention;
      break;
    }
    case FieldType::count:
      *static_cast<Count*>(at) = static_cast<Count>(std::lround(value));
      break;
    case FieldType::choice:
      *static_cast<std::uint8_t*>(at) = static_cast<std::uint8_t>(std::lround(value));
      break;
    case FieldType::set:
      *static_cast<OptionSet*>(at) = static_cast<OptionSet>(std::lround(value));
      break;
    case FieldType::text:
      break;
  }
}

namespace {

/// The options that a choice's index or a set's mask names.
std::string options_shown(double value, const FieldInfo& info,
                          const std::vector<std::string_view>& texts) {
  if (info.type == FieldType::choice) return std::string(texts[static_cast<std::size_t>(value)]);
  std::vector<std::string> shown;
  for (std::size_t i = 1; i < texts.size(); ++i) {
    if ((static_cast<OptionSet>(value) >> i & 1U) != 0) shown.emplace_back(texts[i]);
  }
  return join(shown, ", ");
}

}  // namespace

std::string option_with_label(const FieldInfo& info, std::size_t option) {
  const auto word = info.options[option], label = info.option_labels[option];
  return std::string(word) + (word == label ? "" : " (" + std::string(label) + ")");
}

std::string options_text(const FieldInfo& info) {
  std::vector<std::string> words;
  for (std::size_t i = 1; i < info.options.size(); ++i) words.push_back(option_with_label(info, i));
  return join(words, ", ");
}

std::string show_in_words(const Build& build, Id id) {
  const FieldInfo& info = *schema()[id].info;
  const double value = number_at(build, id);
  const bool named = info.type == FieldType::choice || info.type == FieldType::set;
  return named && !std::isnan(value) ? options_shown(value, info, info.options) : show(build, id);
}

std::string show_number(double value, Id id, figure::System system) {
  const FieldInfo& info = *schema()[id].info;
  if (std::isnan(value)) return "not known";
  switch (info.type) {
    case FieldType::figure:
      return figure::print(value, info.kind, system);
    case FieldType::count:
      return std::to_string(std::lround(value));
    case FieldType::choice:
    case FieldType::set:
      return options_shown(value, info, info.option_labels);
    case FieldType::text:
      break;
  }
  return {};
}

std::string show(const Build& build, Id id, figure::System system) {
  const Entry& entry = schema()[id];
  if (entry.info->type == FieldType::text) {
    const auto* text = static_cast<const std::string*>(member(build, entry));
    return text == nullptr || text->empty() ? "not known" : *text;
  }
  std::string out = show_number(number_at(build, id), id, system);
  if (const Figure* figure = figure_at(build, id);
      figure != nullptr && figure->known() && figure->convention != figure::Convention::unsaid) {
    out += " " + std::string(word(figure->convention));
  }
  return out;
}

}  // namespace ww::build
