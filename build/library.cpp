// SPDX-License-Identifier: MIT
#include "build/library.h"

#include <algorithm>
#include <utility>

#include "base/text.h"
#include "build/toml_reader.h"

namespace ww::build {

namespace {

const Slot* slot_of_shelf(std::string_view shelf) {
  for (const Slot& slot : schema().slots()) {
    if (slot.shelf == shelf) return &slot;
  }
  return nullptr;
}

std::vector<std::string_view> shelf_names() {
  std::vector<std::string_view> names;
  for (const Slot& slot : schema().slots()) {
    if (slot.is_part && std::find(names.begin(), names.end(), slot.shelf) == names.end())
      names.push_back(slot.shelf);
  }
  return names;
}

bool read_part(ReadContext& context, const Slot& slot, const toml::node& node, LibraryPart& out) {
  const auto before = context.errors->size();
  const toml::table* table = node.as_table();
  if (table == nullptr) {
    report(context, node.source(),
           {.code = "wrong-type",
            .what = "a part is a table",
            .expected = "[[" + std::string(slot.shelf) + "]]"});
    return false;
  }
  const auto id = (*table)["id"].value<std::string>();
  if (!id || id->empty()) {
    report(
        context, table->source(),
        {.code = "missing-id", .what = "a part needs an 'id'", .field = std::string(slot.shelf)});
    return false;
  }
  out = {*id, &slot, slot.fresh()};
  read_fields(context, slot, out.part.get(), *table, std::string(slot.shelf) + " " + *id, {"id"});
  return context.errors->size() == before;
}

/// Puts the part in the place of the one of its id, else at the end.
void lay(std::vector<LibraryPart>& shelf, LibraryPart part) {
  const auto old = std::find_if(shelf.begin(), shelf.end(),
                                [&](const LibraryPart& p) { return p.id == part.id; });
  if (old != shelf.end()) {
    *old = std::move(part);
  } else {
    shelf.push_back(std::move(part));
  }
}

}  // namespace

Errors Library::add(NamedBytes file) {
  Errors errors;
  ReadContext context{std::string(file.name), &errors};
  toml::table root;
  constexpr std::size_t bytes_max = 1 << 20;
  if (file.bytes.size() > bytes_max) {
    errors.push_back({.code = "too-large",
                      .what = "a parts file has at most 1 MiB; nothing was read",
                      .file = std::string(file.name)});
    return errors;
  }
  if (!parse_toml(context, file.bytes, root)) return errors;
  for (const auto& [key, node] : root) {
    const std::string shelf(key.str());
    const Slot* slot = slot_of_shelf(shelf);
    const toml::array* parts = node.as_array();
    if (slot == nullptr || parts == nullptr) {
      Error error{.code = "unknown-shelf",
                  .what = "no such kind of part",
                  .found = shelf,
                  .expected = "e.g. [[motor]]"};
      error.way_out = did_you_mean(shelf, shelf_names(), "[[", "]]");
      report(context, key.source(), std::move(error));
      continue;
    }
    auto& place = shelves_[shelf];
    std::vector<std::string> here;
    for (const auto& part_node : *parts) {
      LibraryPart part;
      if (!read_part(context, *slot, part_node, part)) continue;
      if (std::find(here.begin(), here.end(), part.id) != here.end()) {
        report(context, part_node.source(),
               {.code = "double-id",
                .what = "this id stands twice in the file",
                .field = shelf,
                .found = part.id});
        continue;
      }
      here.push_back(part.id);
      lay(place, std::move(part));
    }
  }
  return errors;
}

// Its parts are moved out of it.
// NOLINTNEXTLINE(performance-unnecessary-value-param)
void Library::add(Library other) {
  for (auto& [shelf, parts] : other.shelves_) {
    auto& place = shelves_[shelf];
    for (LibraryPart& part : parts) lay(place, std::move(part));
  }
}

const LibraryPart* Library::find(std::string_view shelf_name, std::string_view id) const {
  for (const LibraryPart& part : shelf(shelf_name)) {
    if (part.id == id) return &part;
  }
  return nullptr;
}

const std::vector<LibraryPart>& Library::shelf(std::string_view name) const {
  static const std::vector<LibraryPart> empty;
  const auto at = shelves_.find(name);
  return at == shelves_.end() ? empty : at->second;
}

Error Library::unknown_part(std::string_view shelf, std::string_view id, std::string field) const {
  return {.code = "unknown-part",
          .what = "no such part in the library",
          .field = std::move(field),
          .found = std::string(id),
          .way_out = did_you_mean(id, ids(shelf))};
}

std::vector<std::string_view> Library::ids(std::string_view name) const {
  std::vector<std::string_view> out;
  for (const LibraryPart& part : shelf(name)) out.emplace_back(part.id);
  return out;
}

int Library::size() const {
  std::size_t sum = 0;
  for (const auto& [name, parts] : shelves_) sum += parts.size();
  return static_cast<int>(sum);
}

void put_part(Build& build, const Slot& slot, const LibraryPart& part) {
  void* object = slot.make(build);
  slot.copy(object, part.part.get());
  for (const FieldInfo& info : slot.table->fields) {
    if (info.key == "part") *static_cast<std::string*>(info.reach(object)) = part.id;
  }
}

}  // namespace ww::build
