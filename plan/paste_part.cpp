// SPDX-License-Identifier: MIT
// From what was read to a part of the parts file.
#include <algorithm>

#include "base/text.h"
#include "plan/paste.h"
#include "plan/paste_part.h"

namespace ww::plan {

namespace paste {

const build::Slot* slot_of(const Pasted& pasted) {
  for (const build::Slot& slot : build::schema().slots()) {
    if (slot.is_part && slot.shelf == pasted.shelf) return &slot;
  }
  return nullptr;
}

std::string one_line(std::string_view words) {
  constexpr std::size_t longest = 80;
  std::string out;
  for (const char c : words) {
    const bool blank = c == ' ' || c == '\n' || c == '\t' || c == '\r';
    if (!blank) out += c;
    if (blank && !out.empty() && out.back() != ' ') out += ' ';
  }
  if (out.size() <= longest) return out;
  out.resize(longest);
  while (!out.empty() && !valid_utf8(out)) out.pop_back();
  return out + "...";
}

}  // namespace paste

namespace {

using build::FieldInfo;
using build::FieldType;
using paste::one_line;
using paste::slot_of;

build::Id id_of_key(const build::Slot* slot, std::string_view key) {
  return slot == nullptr ? -1
                         : build::schema().find(std::string(slot->key) + "." + std::string(key));
}

// --- Corrections ---

/// Takes away what the correction settles.
void settle(Pasted& pasted, const std::string& key) {
  const auto of_key = [&](const auto& x) { return x.key == key; };
  auto& figures = pasted.figures;
  figures.erase(std::remove_if(figures.begin(), figures.end(), of_key), figures.end());
  auto& conflicts = pasted.conflicts;
  conflicts.erase(std::remove_if(conflicts.begin(), conflicts.end(), of_key), conflicts.end());
  auto& questions = pasted.questions;
  questions.erase(std::remove_if(questions.begin(), questions.end(),
                                 [&](const PasteQuestion& question) {
                                   return std::any_of(question.options.begin(),
                                                      question.options.end(), of_key);
                                 }),
                  questions.end());
}

void put_in_order(Pasted& pasted) {
  std::stable_sort(pasted.figures.begin(), pasted.figures.end(),
                   [](const PastedFigure& a, const PastedFigure& b) { return a.field < b.field; });
}

// --- TOML ---

/// A basic string: control characters and quotes escaped.
std::string quoted(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\') {
      out += '\\';
      out += c;
    } else if (byte < 0x20 || byte == 0x7F) {
      out += ' ';
    } else {
      out += c;
    }
  }
  return out + "\"";
}

std::string note_of(const PastedFigure& figure) {
  if (figure.from.empty()) return "pasted listing; " + figure.why;
  return "pasted listing: '" + one_line(figure.from.front().words) + "'; " + figure.why;
}

/// The day if it is one the parts reader would keep as text; anything else is left out.
bool is_day(std::string_view date) {
  if (date.size() != 10) return false;
  for (std::size_t i = 0; i < date.size(); ++i) {
    const bool dash = i == 4 || i == 7;
    if (dash ? date[i] != '-' : (date[i] < '0' || date[i] > '9')) return false;
  }
  return true;
}

std::string toml_value(const PastedFigure& figure, const FieldInfo& info, std::string_view date) {
  switch (info.type) {
    case FieldType::count:
      return figure.text;
    case FieldType::choice:
    case FieldType::text:
      return quoted(figure.text);
    case FieldType::set: {
      std::vector<std::string> words;
      for (const auto word : split(figure.text, ',')) words.push_back(quoted(trim(word)));
      return "[" + join(words, ", ") + "]";
    }
    case FieldType::figure:
      break;
  }
  std::string out = "{ value = " + quoted(figure.text) +
                    ", evidence = " + quoted(figure::word(figure.evidence)) +
                    ", note = " + quoted(note_of(figure));
  if (is_day(date)) out += ", date = " + quoted(date);
  return out + " }";
}

}  // namespace

Corrected apply(const Pasted& pasted, const std::vector<Correction>& corrections) {
  Corrected out{pasted, {}};
  const build::Slot* slot = slot_of(pasted);
  for (const Correction& correction : corrections) {
    const build::Id id = id_of_key(slot, correction.key);
    if (id < 0 || correction.key == "part") {
      std::vector<std::string_view> keys;
      if (slot != nullptr) {
        for (const FieldInfo& info : slot->table->fields) keys.push_back(info.key);
      }
      out.errors.push_back({.code = "unknown-field",
                            .what = "this kind of part has no such field",
                            .field = correction.key,
                            .way_out = did_you_mean(correction.key, keys)});
      continue;
    }
    const std::string text(trim(correction.text));
    if (text.empty()) {
      settle(out.pasted, correction.key);
      continue;
    }
    build::Build scratch;
    const auto set = build::set_from_text(scratch, id, text);
    if (!set) {
      out.errors.push_back(set.error());
      continue;
    }
    if (correction.key == "name") {
      out.pasted.name = text.substr(0, 120);
      while (!valid_utf8(out.pasted.name) && !out.pasted.name.empty()) out.pasted.name.pop_back();
      continue;
    }
    std::vector<Quote> from;
    for (const PastedFigure& figure : out.pasted.figures) {
      if (figure.key == correction.key) from = figure.from;
    }
    settle(out.pasted, correction.key);
    PastedFigure figure;
    figure.key = correction.key;
    figure.field = id;
    figure.text = text;
    figure.sure = Sureness::sure;
    figure.from = std::move(from);
    figure.why = "put right by hand";
    figure.evidence = correction.evidence;
    out.pasted.figures.push_back(std::move(figure));
  }
  put_in_order(out.pasted);
  return out;
}

std::string part_toml(const Pasted& pasted, std::string_view id) {
  const build::Slot* slot = slot_of(pasted);
  if (slot == nullptr) return {};
  const std::string safe_id = valid_utf8(id) && !id.empty() ? std::string(id) : part_id(pasted);
  std::string out = "[[" + pasted.shelf + "]]\nid = " + quoted(safe_id) + "\n";
  const bool named = std::any_of(pasted.figures.begin(), pasted.figures.end(),
                                 [](const PastedFigure& f) { return f.key == "name"; });
  if (!named && !pasted.name.empty()) out += "name = " + quoted(pasted.name) + "\n";
  if (!pasted.link.empty()) out += "link = " + quoted(pasted.link) + "\n";
  for (const PastedFigure& figure : pasted.figures) {
    const build::Id field = id_of_key(slot, figure.key);
    if (field < 0) continue;
    out +=
        figure.key + " = " + toml_value(figure, *build::schema()[field].info, pasted.date) + "\n";
  }
  return out;
}

std::string part_id(const Pasted& pasted) {
  const auto slug = [](std::string_view text) {
    std::string out;
    for (const char c : lower(text)) {
      const bool keep = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
      if (keep) {
        out += c;
      } else if (!out.empty() && out.back() != '-') {
        out += '-';
      }
      if (out.size() >= 40) break;
    }
    while (!out.empty() && out.back() == '-') out.pop_back();
    return out;
  };
  for (const std::string& from : {pasted.model_code, pasted.name}) {
    std::string out = slug(from);
    if (out.size() >= 3) return out;
  }
  return "pasted-" + (pasted.shelf.empty() ? std::string("part") : pasted.shelf);
}

}  // namespace ww::plan
