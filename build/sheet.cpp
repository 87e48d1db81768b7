// SPDX-License-Identifier: MIT
#include "build/sheet.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "build/erased.h"
#include "build/toml_reader.h"

namespace ww::build {

namespace {

using figure::Evidence;

const std::vector<std::string_view>& extra_keys() {
  static const std::vector<std::string_view> keys{"name",      "group",    "price",
                                                  "lead_time", "quantity", "state"};
  return keys;
}

/// A slot of which a sheet may have any number: `[[wire]]`.
Slot list_slot(std::string_view key, std::string_view label, const Table& table) {
  return {.key = key,
          .label = label,
          .is_part = false,
          .optional = false,
          .table = &table,
          .reach = nullptr,
          .make = nullptr,
          .remove = nullptr,
          .shelf = {},
          .fresh = nullptr,
          .copy = nullptr};
}

/// The fields of an Extra, through the same machinery as every other.
const Slot& extra_slot() {
  static const Table table = [] {
    Table t;
    const auto add = [&](std::string_view key, FieldType type,
                         void* (*reach)(void*)) -> FieldInfo& {
      FieldInfo& info = t.fields.emplace_back();
      info.key = info.label = key;
      info.type = type;
      info.reach = reach;
      return info;
    };
    t.fields.reserve(extra_keys().size());
    add("name", FieldType::text, [](void* e) -> void* { return &static_cast<Extra*>(e)->name; });
    add("group", FieldType::text, [](void* e) -> void* { return &static_cast<Extra*>(e)->group; });
    FieldInfo& price = add("price", FieldType::figure,
                           [](void* e) -> void* { return &static_cast<Extra*>(e)->price; });
    price.kind = figure::Kind::money;
    price.high = 1e6;
    FieldInfo& lead = add("lead_time", FieldType::figure,
                          [](void* e) -> void* { return &static_cast<Extra*>(e)->lead_time; });
    lead.kind = figure::Kind::time;
    lead.high = 1e8;
    FieldInfo& quantity = add("quantity", FieldType::count,
                              [](void* e) -> void* { return &static_cast<Extra*>(e)->quantity; });
    quantity.low = 1;
    quantity.high = 10000;
    FieldInfo& state = add("state", FieldType::choice,
                           [](void* e) -> void* { return &static_cast<Extra*>(e)->state; });
    state.options = state.option_labels = {"unknown", "thinking", "ordered", "here"};
    return t;
  }();
  static const Slot slot = list_slot("extra", "other things to buy", table);
  return slot;
}

const Slot& wire_slot() {
  static const Slot slot = list_slot("wire", "wire laid otherwise", own_wire_fields());
  return slot;
}

const Slot& unit_slot() {
  static const Slot slot =
      list_slot("cell_measured", "cell measured alone", measured_unit_fields());
  return slot;
}

const Slot& log_slot() {
  static const Slot slot = list_slot("done", "step that was done", log_entry_fields());
  return slot;
}

// ---- reading
// ------------------------------------------------------------------------------------------------------

void read_version(ReadContext& context, const toml::table& root) {
  const auto* node = root.get("wattwright");
  if (node == nullptr) {
    context.errors->push_back({.code = "no-version",
                               .what = "this does not say that it is a build sheet",
                               .file = context.file,
                               .line = 1,
                               .expected = "a first line 'wattwright = 1'"});
    return;
  }
  // A whole number as it stands: to make one of a float may be beyond what fits.
  const auto* version = node->as_integer();
  if (version == nullptr || version->get() < 1 || version->get() > sheet_version) {
    report(context, node->source(),
           {.code = "bad-version",
            .what = "a sheet of a form this program does not know",
            .field = "wattwright",
            .expected = "wattwright = " + std::to_string(sheet_version),
            .way_out = "A newer program reads newer sheets; nothing was changed"});
  }
}

void read_owns(ReadContext& context, const toml::node& node, Build& build) {
  const toml::array* list = node.as_array();
  if (list == nullptr) {
    report(context, node.source(),
           {.code = "wrong-type",
            .what = "'owns' is a list of texts",
            .field = "owns",
            .expected = "owns = [\"torque wrench\"]"});
    return;
  }
  for (const auto& item : *list) {
    if (const auto* text = item.as_string()) {
      build.owns.push_back(text->get());
    } else {
      report(context, item.source(),
             {.code = "wrong-type", .what = "'owns' is a list of texts", .field = "owns"});
    }
  }
}

/// A list of tables, `[[extra]]`: each read into a new item of `items`.
template <class Item>
void read_list(ReadContext& context, const toml::node& node, const Slot& slot,
               std::vector<Item>& items) {
  const std::string key(slot.key);
  const std::string what = std::string(slot.label) + ": written as [[" + key + "]]";
  const toml::array* list = node.as_array();
  if (list == nullptr) {
    report(context, node.source(), {.code = "wrong-type", .what = what, .field = key});
    return;
  }
  for (const auto& item : *list) {
    const std::string path = key + " " + std::to_string(items.size() + 1);
    if (const auto* table = item.as_table()) {
      Item one;
      read_fields(context, slot, &one, *table, path, {});
      items.push_back(one);
    } else {
      report(context, item.source(), {.code = "wrong-type", .what = what, .field = path});
    }
  }
}

/// Items of a list that are told apart by a name: one without it, or two of one name, say nothing.
template <class Item>
void check_names(ReadContext& context, const std::vector<Item>& items, std::string Item::*name,
                 const Error& missing, const Error& twice) {
  std::vector<std::string_view> seen;
  for (const Item& item : items) {
    const std::string& own = item.*name;
    const bool again = std::find(seen.begin(), seen.end(), own) != seen.end();
    if (own.empty() || again) {
      Error error = own.empty() ? missing : twice;
      error.code = own.empty() ? "missing-value" : "twice";
      error.file = context.file;
      error.found = own;
      context.errors->push_back(std::move(error));
    }
    seen.push_back(own);
  }
}

void check_lists(ReadContext& context, const Build& build) {
  const std::string label = "label = \"T3\", each once; `wiring` lists them";
  check_names(
      context, build.wires, &OwnWire::label,
      {.code = {}, .what = "a wire needs its label", .field = "wire.label", .expected = label},
      {.code = {}, .what = "a wire stands here twice", .field = "wire.label", .expected = label});
  const std::string name = "name = \"C07\", each once: write it on the cell";
  check_names(context, build.units, &MeasuredUnit::name,
              {.code = {},
               .what = "a measured cell needs its name",
               .field = "cell_measured.name",
               .expected = name},
              {.code = {},
               .what = "a measured cell stands here twice",
               .field = "cell_measured.name",
               .expected = name});
  for (const LogEntry& entry : build.log) {
    if (!entry.step.empty()) continue;
    context.errors->push_back({.code = "missing-value",
                               .what = "an entry of the log needs the step it speaks of",
                               .file = context.file,
                               .field = "done.step",
                               .expected = "step = \"pack-voltage\"; `steps` lists them"});
  }
}

void read_slot(ReadContext& context, const Slot& slot, const toml::node& node, Build& build,
               const Library& library) {
  const toml::table* table = node.as_table();
  if (table == nullptr) {
    report(context, node.source(),
           {.code = "wrong-type",
            .what = "needs a table",
            .field = std::string(slot.key),
            .expected = "[" + std::string(slot.key) + "]"});
    return;
  }
  void* object = slot.make(build);
  if (slot.is_part) {
    std::string id;
    const toml::node* id_node = table->get("part");
    if (id_node != nullptr && scalar_text(*id_node, id)) {
      if (const LibraryPart* part = library.find(slot.shelf, id)) {
        put_part(build, slot, *part);
      } else if (!id.empty()) {
        report(context, id_node->source(),
               library.unknown_part(slot.shelf, id, std::string(slot.key) + ".part"));
      }
    }
  }
  read_fields(context, slot, object, *table, slot.key, {});
}

void unknown_table(ReadContext& context, const toml::key& key) {
  std::vector<std::string_view> names{"owns", "extra", "wire", "cell_measured", "done"};
  for (const Slot& slot : schema().slots()) names.push_back(slot.key);
  Error error{
      .code = "unknown-key", .what = "there is no such table", .found = std::string(key.str())};
  error.way_out = did_you_mean(key.str(), names, "[", "]");
  report(context, key.source(), std::move(error));
}

/// Every price must be in the sheet's currency: nothing here converts.
void check_currency(ReadContext& context, const Build& build) {
  // Spelled as prices spell it: "$" is USD here, too.
  const auto spelled = figure::read("1 " + build.project.currency, figure::Kind::money);
  const std::string of_sheet = spelled ? spelled->unit : build.project.currency;
  for (Id id = 0; id < schema().size(); ++id) {
    if (schema()[id].info->kind != figure::Kind::money) continue;
    const Figure* figure = figure_at(build, id);
    if (figure == nullptr || figure->typed.empty()) continue;
    const auto reading = figure::read(figure->typed, figure::Kind::money);
    if (!reading || reading->unit.empty() || reading->unit == of_sheet) continue;
    context.errors->push_back(
        {.code = "mixed-currencies",
         .what = "prices of one sheet are in one currency; nothing is converted",
         .file = context.file,
         .field = schema()[id].path,
         .found = figure->typed,
         .expected = build.project.currency.empty() ? "project.currency = \"" + reading->unit + "\""
                                                    : "a price in " + build.project.currency});
  }
}

// ---- writing
// ------------------------------------------------------------------------------------------------------

std::string quoted(std::string_view text) {
  static constexpr std::string_view hex = "0123456789ABCDEF";
  std::string out = "\"";
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\') {
      out += '\\';
      out += c;
    } else if (c == '\n') {
      out += "\\n";
    } else if (c == '\t') {
      out += "\\t";
    } else if (byte < 0x20 || byte == 0x7F) {
      out += "\\u00";
      out += hex[byte >> 4U];
      out += hex[byte & 15U];
    } else {
      out += c;
    }
  }
  return out + "\"";
}

std::string figure_words(const FieldInfo& info, const Figure& figure) {
  if (!figure.typed.empty()) return figure.typed;
  const std::string unit(figure::unit_shown(info.kind, figure::System::metric, figure.value));
  std::string text = figure::print_exact(figure.value, info.kind, unit, figure.convention);
  if (!std::isnan(figure.half_width)) {
    const bool temperature = info.kind == figure::Kind::temperature;
    text += " +- " + figure::print_exact(figure.half_width,
                                         temperature ? figure::Kind::temperature_rise : info.kind,
                                         temperature ? "K" : unit);
  }
  return text;
}

std::string figure_value(const FieldInfo& info, const Figure& figure, Evidence usual) {
  std::string words = quoted(figure_words(info, figure));
  if (figure.evidence == usual && figure.note.empty() && figure.date.empty()) return words;
  std::string out = "{ value = " + words;
  if (figure.evidence != usual) out += ", evidence = " + quoted(word(figure.evidence));
  if (!figure.note.empty()) out += ", note = " + quoted(figure.note);
  if (!figure.date.empty()) out += ", date = " + quoted(figure.date);
  return out + " }";
}

std::string option_words(const FieldInfo& info, OptionSet mask) {
  std::vector<std::string> words;
  for (std::size_t i = 1; i < info.options.size(); ++i) {
    if ((mask >> i & 1U) != 0) words.push_back(quoted(info.options[i]));
  }
  return "[" + join(words, ", ") + "]";
}

std::string member_value(const FieldInfo& info, const void* member, Evidence usual) {
  switch (info.type) {
    case FieldType::figure:
      return figure_value(info, *static_cast<const Figure*>(member), usual);
    case FieldType::count:
      return std::to_string(*static_cast<const Count*>(member));
    case FieldType::choice:
      return quoted(info.options[*static_cast<const std::uint8_t*>(member)]);
    case FieldType::set:
      return option_words(info, *static_cast<const OptionSet*>(member));
    case FieldType::text:
      return quoted(*static_cast<const std::string*>(member));
  }
  return {};
}

/// The grade of evidence most figures of a table have, so that it need be said once. Ties: the
/// weaker.
Evidence usual_evidence(const std::vector<std::pair<const FieldInfo*, const void*>>& members) {
  int counts[5] = {};
  for (const auto& [info, member] : members) {
    if (info->type == FieldType::figure)
      ++counts[static_cast<int>(static_cast<const Figure*>(member)->evidence)];
  }
  return static_cast<Evidence>(std::max_element(counts, counts + 5) - counts);
}

void write_table(std::string& out, const Slot& slot, const void* object, const void* same_as) {
  std::vector<std::pair<const FieldInfo*, const void*>> members;
  for (const FieldInfo& info : slot.table->fields) {
    const void* member = info.reach(const_cast<void*>(object));  // NOLINT: only looks
    if (!member_known(info, member)) continue;
    if (same_as != nullptr && info.key != "part" &&
        member_equal(info, member, info.reach(const_cast<void*>(same_as))))
      continue;  // NOLINT
    members.emplace_back(&info, member);
  }
  const Evidence usual = usual_evidence(members);
  if (usual != Evidence::guess) out += "evidence = " + quoted(word(usual)) + "\n";
  for (const auto& [info, member] : members) {
    out += std::string(info->key) + " = " + member_value(*info, member, usual) + "\n";
  }
}

bool nothing_known(const Slot& slot, void* object) {
  return std::none_of(
      slot.table->fields.begin(), slot.table->fields.end(),
      [&](const FieldInfo& info) { return member_known(info, info.reach(object)); });
}

const void* library_twin(const Slot& slot, void* object, const Library& library) {
  if (!slot.is_part) return nullptr;
  for (const FieldInfo& info : slot.table->fields) {
    if (info.key != "part") continue;
    const LibraryPart* part =
        library.find(slot.shelf, *static_cast<std::string*>(info.reach(object)));
    return part == nullptr ? nullptr : part->part.get();
  }
  return nullptr;
}

}  // namespace

Sheet read_sheet(NamedBytes file, const Library& library) {
  Sheet sheet;
  ReadContext context{std::string(file.name), &sheet.errors};
  toml::table root;
  if (file.bytes.size() > sheet_bytes_max) {
    sheet.errors.push_back({.code = "too-large",
                            .what = "a sheet has at most 1 MiB; nothing was read",
                            .file = std::string(file.name)});
    return sheet;
  }
  if (!parse_toml(context, file.bytes, root)) return sheet;
  read_version(context, root);
  for (const auto& [key, node] : root) {
    const std::string_view name = key.str();
    if (name == "wattwright") continue;
    if (name == "owns") {
      read_owns(context, node, sheet.build);
    } else if (name == "extra") {
      read_list(context, node, extra_slot(), sheet.build.extras);
    } else if (name == "wire") {
      read_list(context, node, wire_slot(), sheet.build.wires);
    } else if (name == "cell_measured") {
      read_list(context, node, unit_slot(), sheet.build.units);
    } else if (name == "done") {
      read_list(context, node, log_slot(), sheet.build.log);
    } else if (const Slot* slot = schema().slot(name)) {
      read_slot(context, *slot, node, sheet.build, library);
    } else {
      unknown_table(context, key);
    }
  }
  check_currency(context, sheet.build);
  check_lists(context, sheet.build);
  std::stable_sort(sheet.errors.begin(), sheet.errors.end(),
                   [](const Error& a, const Error& b) { return a.line < b.line; });
  return sheet;
}

std::string write_sheet(const Build& build, const Library& library) {
  Build copy = build;  // the slots' reach wants a Build it may write to
  std::string out = "wattwright = " + std::to_string(sheet_version) + "\n";
  if (!build.owns.empty()) {
    std::vector<std::string> words;
    for (const auto& tool : build.owns) words.push_back(quoted(tool));
    out += "owns = [" + join(words, ", ") + "]\n";
  }
  for (const Slot& slot : schema().slots()) {
    void* object = slot.reach(copy);
    if (object == nullptr || (!slot.optional && nothing_known(slot, object))) continue;
    out += "\n[" + std::string(slot.key) + "]\n";
    write_table(out, slot, object, library_twin(slot, object, library));
  }
  const auto write_list = [&](const Slot& slot, const auto& items) {
    for (const auto& item : items) {
      out += "\n[[" + std::string(slot.key) + "]]\n";
      write_table(out, slot, &item, nullptr);
    }
  };
  write_list(extra_slot(), build.extras);
  write_list(wire_slot(), build.wires);
  write_list(unit_slot(), build.units);
  write_list(log_slot(), build.log);
  return out;
}

}  // namespace ww::build
