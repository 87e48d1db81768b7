// SPDX-License-Identifier: MIT
#include "build/toml_reader.h"

#include <algorithm>
#include <cmath>
#include <sstream>

#include "base/text.h"
#include "build/erased.h"

namespace ww::build {

namespace {

std::string kind_of_node(const toml::node& node) {
  std::ostringstream out;
  out << node.type();
  return out.str();
}

bool day_like(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return false;
  for (const std::size_t i : {0U, 1U, 2U, 3U, 5U, 6U, 8U, 9U}) {
    if (text[i] < '0' || text[i] > '9') return false;
  }
  return true;
}

/// `evidence`, `note`, `date` beside a value.
void read_beside(ReadContext& context, Figure& figure, const toml::table& table,
                 const std::string& path) {
  for (const auto& [key, node] : table) {
    const std::string name(key.str());
    if (name == "value") continue;
    std::string text;
    if (name != "evidence" && name != "note" && name != "date") {
      report(context, key.source(),
             {.code = "unknown-key",
              .what = "no such key beside a value",
              .field = path,
              .found = name,
              .expected = "value, evidence, note or date"});
    } else if (name == "date" && node.is_date()) {
      std::ostringstream day;
      day << *node.as_date();
      figure.date = day.str();
    } else if (!scalar_text(node, text)) {
      report(context, node.source(),
             {.code = "wrong-type",
              .what = "needs a text",
              .field = path + "." + name,
              .found = kind_of_node(node)});
    } else if (name == "note") {
      figure.note = text;
    } else if (name == "date") {
      if (day_like(text)) {
        figure.date = text;
      } else {
        report(context, node.source(),
               {.code = "bad-date",
                .what = "not a day",
                .field = path + ".date",
                .found = text,
                .expected = "a day such as 2026-04-30"});
      }
    } else if (const auto evidence = figure::read_evidence(text)) {
      figure.evidence = *evidence;
    } else {
      Error error = evidence.error();
      error.field = path + ".evidence";
      report(context, node.source(), std::move(error));
    }
  }
}

void read_set(ReadContext& context, const FieldInfo& info, void* member, const toml::array& array,
              const std::string& path) {
  std::vector<std::string> words;
  for (const auto& node : array) {
    std::string text;
    if (!scalar_text(node, text)) {
      report(context, node.source(),
             {.code = "wrong-type",
              .what = "needs a list of words",
              .field = path,
              .found = kind_of_node(node)});
      return;
    }
    words.push_back(text);
  }
  if (auto set = set_member(info, member, path, join(words, ",")); !set)
    report(context, array.source(), set.error());
}

void read_one(ReadContext& context, const FieldInfo& info, void* member, const toml::node& node,
              const std::string& path) {
  std::string text;
  if (info.type == FieldType::set && node.is_array()) {
    read_set(context, info, member, *node.as_array(), path);
    return;
  }
  const toml::node* value = &node;
  if (info.type == FieldType::figure && node.is_table()) {
    value = node.as_table()->get("value");
    if (value == nullptr) {
      report(context, node.source(),
             {.code = "missing-value",
              .what = "a table for a figure needs 'value'",
              .field = path,
              .expected = "{ value = \"" + std::string(figure::example_of(info.kind)) +
                          "\", evidence = \"measured\" }"});
      return;
    }
    read_beside(context, *static_cast<Figure*>(member), *node.as_table(), path);
  }
  if (!scalar_text(*value, text)) {
    report(context, value->source(),
           {.code = "wrong-type",
            .what = "needs one value",
            .field = path,
            .found = kind_of_node(*value),
            .expected = info.type == FieldType::figure
                            ? "e.g. \"" + std::string(figure::example_of(info.kind)) + "\""
                            : "one value"});
    return;
  }
  if (auto set = set_member(info, member, path, text); !set)
    report(context, value->source(), set.error());
}

}  // namespace

bool scalar_text(const toml::node& node, std::string& out) {
  if (const auto* text = node.as_string()) {
    out = text->get();
  } else if (const auto* whole = node.as_integer()) {
    out = std::to_string(whole->get());
  } else if (const auto* real = node.as_floating_point()) {
    out = shortest(real->get());
  } else if (const auto* truth = node.as_boolean()) {
    out = truth->get() ? "yes" : "no";
  } else {
    return false;
  }
  return true;
}

void report(ReadContext& context, const toml::source_region& where, Error error) {
  error.file = context.file;
  error.line = static_cast<int>(where.begin.line);
  error.column = static_cast<int>(where.begin.column);
  context.errors->push_back(std::move(error));
}

void read_fields(ReadContext& context, const Slot& slot, void* object, const toml::table& table,
                 std::string_view path_head, const std::vector<std::string_view>& known_extra) {
  figure::Evidence usual = figure::Evidence::guess;
  if (const auto* node = table.get("evidence")) {
    std::string text;
    if (const auto evidence =
            scalar_text(*node, text) ? figure::read_evidence(text) : figure::read_evidence("?")) {
      usual = *evidence;
    } else {
      Error error = evidence.error();
      error.field = std::string(path_head) + ".evidence";
      report(context, node->source(), std::move(error));
    }
  }
  for (const auto& [key, node] : table) {
    const std::string_view name = key.str();
    if (name == "evidence" ||
        std::find(known_extra.begin(), known_extra.end(), name) != known_extra.end())
      continue;
    const std::string path = std::string(path_head) + "." + std::string(name);
    const auto& fields = slot.table->fields;
    const auto at = std::find_if(fields.begin(), fields.end(),
                                 [&](const FieldInfo& f) { return f.key == name; });
    if (at == fields.end()) {
      std::vector<std::string_view> keys;
      keys.reserve(fields.size());
      for (const auto& field : fields) keys.push_back(field.key);
      Error error{.code = "unknown-key",
                  .what = "there is no such field",
                  .field = path,
                  .found = std::string(name)};
      error.way_out = did_you_mean(name, keys);
      report(context, key.source(), std::move(error));
      continue;
    }
    void* member = at->reach(object);
    if (at->type == FieldType::figure) static_cast<Figure*>(member)->evidence = usual;
    read_one(context, *at, member, node, path);
  }
}

bool parse_toml(ReadContext& context, std::string_view bytes, toml::table& out) {
  if (bytes.size() > (1U << 22U)) {
    context.errors->push_back({.code = "too-large",
                               .what = "the file is larger than any sheet can be",
                               .file = context.file});
    return false;
  }
  try {
    out = toml::parse(bytes, std::string_view(context.file));
    return true;
  } catch (const toml::parse_error& problem) {
    report(context, problem.source(),
           {.code = "not-toml", .what = std::string(problem.description())});
    return false;
  }
}

}  // namespace ww::build
