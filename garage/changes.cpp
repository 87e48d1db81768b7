// SPDX-License-Identifier: MIT
#include "garage/changes.h"

#include <algorithm>

#include "base/text.h"
#include "build/sheet.h"

namespace ww::garage {

namespace {

using build::Build;
using figure::Figure;

const build::Library& no_parts() {
  static const build::Library none;
  return none;
}

/// The value as the sheet has it; empty where it is not known.
std::string value_words(const Build& b, build::Id id) {
  if (!build::known_at(b, id)) return {};
  const Figure* figure = build::figure_at(b, id);
  return figure != nullptr && !figure->typed.empty() ? figure->typed : build::show(b, id);
}

std::string beside_words(const Figure& figure) {
  std::string words = " (" + std::string(figure::word(figure.evidence));
  if (!figure.note.empty()) words += "; " + figure.note;
  if (!figure.date.empty()) words += "; " + figure.date;
  return words + ")";
}

void compare_field(const Build& a, const Build& b, build::Id id, Changes& out) {
  Change change{build::schema()[id].path, value_words(a, id), value_words(b, id)};
  const Figure* from = build::figure_at(a, id);
  const Figure* to = build::figure_at(b, id);
  if (from != nullptr && to != nullptr && from->known() && to->known() &&
      (from->evidence != to->evidence || from->note != to->note || from->date != to->date)) {
    change.from += beside_words(*from);
    change.to += beside_words(*to);
  }
  if (change.from != change.to) out.push_back(std::move(change));
}

/// The one `[[extra]]` or `[[wire]]` of a build that has nothing else, in a line, made by the
/// sheet's own writer.
std::string item_words(const Build& only) {
  const std::string text = build::write_sheet(only, no_parts());
  const auto head = text.find("[[");
  if (head == std::string::npos) return {};
  std::string line = text.substr(text.find('\n', head) + 1);
  while (!line.empty() && line.back() == '\n') line.pop_back();
  std::vector<std::string> pieces;
  for (const auto piece : split(line, '\n')) pieces.emplace_back(piece);
  return join(pieces, ", ");
}

/// Items of a list held against each other by their place in it.
template <class Item>
void compare_list(const Build& a, const Build& b, std::vector<Item> Build::*list,
                  std::string_view name, Changes& out) {
  const auto words = [&](const Build& x, std::size_t i) {
    if (i >= (x.*list).size()) return std::string();
    Build only;
    (only.*list).push_back((x.*list)[i]);
    return item_words(only);
  };
  for (std::size_t i = 0; i < std::max((a.*list).size(), (b.*list).size()); ++i) {
    Change change{std::string(name) + " " + std::to_string(i + 1), words(a, i), words(b, i)};
    if (change.from != change.to) out.push_back(std::move(change));
  }
}

std::string_view table_of(std::string_view path) {
  return path.substr(0, path.find_first_of(". "));
}

bool is_money(std::string_view path) {
  const build::Id id = build::schema().find(path);
  return table_of(path) == "extra" ||
         (id >= 0 && build::schema()[id].info->kind == figure::Kind::money &&
          build::schema()[id].info->type == build::FieldType::figure);
}

constexpr std::string_view currency = "project.currency";

void put_escaped(std::string& out, std::string_view text) {
  for (const char c : text) {
    if (c == '\t') {
      out += "\\t";
    } else if (c == '\n') {
      out += "\\n";
    } else if (c == '\\') {
      out += "\\\\";
    } else {
      out += c;
    }
  }
}

std::string unescaped(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] != '\\' || i + 1 == text.size()) {
      out += text[i];
      continue;
    }
    const char c = text[++i];
    out += c == 't' ? '\t' : c == 'n' ? '\n' : c;
  }
  return out;
}

}  // namespace

Changes changes_between(std::string_view from, std::string_view to) {
  Changes out;
  if (from == to) return out;
  const Build a = build::read_sheet({"from", from}, no_parts()).build;
  const Build b = build::read_sheet({"to", to}, no_parts()).build;
  const Change owns{"owns", join(a.owns, ", "), join(b.owns, ", ")};
  if (owns.from != owns.to) out.push_back(owns);
  const auto& schema = build::schema();
  build::Id id = 0;
  for (const auto& slot : schema.slots()) {
    const std::size_t before = out.size();
    for (; id < schema.size() && schema[id].slot == &slot; ++id) compare_field(a, b, id, out);
    const bool was = build::slot_present(a, slot);
    const bool is = build::slot_present(b, slot);
    if (was != is && out.size() == before)
      out.push_back({std::string(slot.key), was ? "there" : "", is ? "there" : ""});
  }
  compare_list(a, b, &Build::extras, "extra", out);
  compare_list(a, b, &Build::wires, "wire", out);
  compare_list(a, b, &Build::units, "cell_measured", out);
  compare_list(a, b, &Build::log, "done", out);
  return out;
}

Result<void> check_sheet(std::string_view text) {
  const auto sheet = build::read_sheet({"", text}, no_parts());
  for (const Error& error : sheet.errors) {
    if (error.code != "not-toml" && error.code != "too-large" && error.code != "no-version" &&
        error.code != "bad-version")
      continue;
    Error told = error;
    told.code = "not-a-sheet";
    told.what = "this text cannot be kept as a sheet: " + error.what;
    return fail(std::move(told));
  }
  return {};
}

bool touch(std::string_view path, std::string_view other) {
  if ((path == currency && is_money(other)) || (other == currency && is_money(path))) return true;
  const auto table = table_of(path);
  if (table != table_of(other)) return false;
  const std::string part = std::string(table) + ".part";
  return path == other || table == "extra" || path == table || other == table || path == part ||
         other == part;
}

std::vector<std::string> touched_by_both(const Changes& mine, const Changes& theirs) {
  std::vector<std::string> both;
  for (const Change& change : mine) {
    const bool touched = std::any_of(theirs.begin(), theirs.end(), [&](const Change& t) {
      return touch(change.path, t.path) && !(change.path == t.path && change.to == t.to);
    });
    if (touched) both.push_back(change.path);
  }
  return both;
}

std::string pack(const Changes& changes) {
  std::string out;
  for (const Change& change : changes) {
    put_escaped(out, change.path);
    out += '\t';
    put_escaped(out, change.from);
    out += '\t';
    put_escaped(out, change.to);
    out += '\n';
  }
  return out;
}

Changes unpack(std::string_view text) {
  Changes out;
  for (const auto line : split(text, '\n')) {
    const auto pieces = split(line, '\t');
    if (pieces.size() == 3)
      out.push_back({unescaped(pieces[0]), unescaped(pieces[1]), unescaped(pieces[2])});
  }
  return out;
}

}  // namespace ww::garage
