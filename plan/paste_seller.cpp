// SPDX-License-Identifier: MIT
// What to ask the seller: the rules say which figures decide.
#include <algorithm>
#include <map>
#include <set>

#include "base/text.h"
#include "fit/engine.h"
#include "plan/paste.h"
#include "plan/paste_fields.h"
#include "plan/paste_part.h"

namespace ww::plan {

namespace {

using build::FieldInfo;
using build::FieldType;
using paste::one_line;
using paste::slot_of;

/// Answers that only the builder can give, at the bench.
bool builders_own(std::string_view key) {
  constexpr std::string_view own[] = {
      "part",          "name",          "state",         "price",        "freight",
      "lead_time",     "return_window", "link",          "tested",       "shaft_measured",
      "pins_dead",     "earthed",       "length_in_all", "springs_back", "fail_tested",
      "terminal_bend", "cable_space",   "growth",        "saliency",     "residual_type_known",
      "bend_radius",   "bundled",       "run_out",       "crimp_die",    "salvage",
      "health"};
  return std::find(std::begin(own), std::end(own), key) != std::end(own);
}

int weight(fit::Blocks blocks) {
  switch (blocks) {
    case fit::Blocks::buying:
      return 8;
    case fit::Blocks::energising:
      return 3;
    case fit::Blocks::riding:
      return 2;
    case fit::Blocks::nothing:
      break;
  }
  return 1;
}

/// How much the rules want each field: those that block buying count most.
const std::map<build::Id, int>& wants() {
  static const std::map<build::Id, int> all = [] {
    std::map<build::Id, int> out;
    const fit::RuleBook& book = fit::rule_book();
    for (std::size_t i = 0; i < book.rules().size(); ++i) {
      for (const build::Id id : book.leaves(i)) out[id] += weight(book.rules()[i].blocks);
    }
    return out;
  }();
  return all;
}

std::string wording(std::string_view path, const FieldInfo& info) {
  for (const paste::SellerWording& w : paste::seller_wordings()) {
    if (w.path == path) return std::string(w.text);
  }
  if (info.type == FieldType::choice && info.options.size() == 3 && info.options[1] == "no")
    return "Please say yes or no: " + std::string(info.label) + "?";
  if (info.type == FieldType::choice || info.type == FieldType::set) {
    std::vector<std::string> options;
    for (std::size_t i = 1; i < info.options.size(); ++i) {
      std::string option(info.options[i]);
      std::replace(option.begin(), option.end(), '_', ' ');
      options.push_back(std::move(option));
    }
    return "Please tell me: " + std::string(info.label) + " (" + join(options, ", ") + ")?";
  }
  std::string text = "Please tell me: " + std::string(info.label);
  if (info.type == FieldType::figure && info.kind != figure::Kind::ratio)
    text += " (with its unit)";
  return text + "?";
}

/// A question of its own words counts for more: the ride stands on that field.
bool worded(std::string_view path) {
  const auto& all = paste::seller_wordings();
  return std::any_of(all.begin(), all.end(),
                     [&](const paste::SellerWording& w) { return w.path == path; });
}

/// Of a finished pack nobody asks how its cells are held.
bool of_bare_cells(std::string_view key) {
  return key == "compression" || key == "format" || key == "terminal_torque" ||
         key == "terminal_metal";
}

std::string kind_in_words(const Pasted& pasted) {
  if (pasted.kind == "pack" || pasted.kind == "module") return "battery " + pasted.kind;
  if (pasted.kind == "bms") return "BMS";
  if (pasted.kind == "dcdc") return "DC-DC converter";
  return pasted.kind;
}

std::string doubt_note(const Pasted& pasted, std::string_view key) {
  for (const PasteQuestion& question : pasted.questions) {
    const bool here = std::any_of(question.options.begin(), question.options.end(),
                                  [&](const PasteOption& o) { return o.key == key; });
    if (here && !question.from.empty())
      return " Your listing says '" + one_line(question.from.front().words) + "'.";
  }
  for (const PasteConflict& conflict : pasted.conflicts) {
    if (conflict.key != key) continue;
    std::vector<std::string> said;
    for (const PastedFigure& value : conflict.values) said.push_back("'" + value.text + "'");
    return " Your listing says both " + join(said, " and ") + ".";
  }
  return {};
}

}  // namespace

std::vector<SellerQuestion> seller_questions(const Pasted& pasted) {
  constexpr std::size_t most = 8;
  const build::Slot* slot = slot_of(pasted);
  if (slot == nullptr) return {};
  std::set<std::string_view> known, doubtful;
  for (const PastedFigure& figure : pasted.figures) known.insert(figure.key);
  for (const PasteQuestion& question : pasted.questions) {
    for (const PasteOption& option : question.options) doubtful.insert(option.key);
  }
  for (const PasteConflict& conflict : pasted.conflicts) doubtful.insert(conflict.key);
  struct Wanted {
    int score;
    build::Id id;
  };
  std::vector<Wanted> wanted;
  for (const build::Id id : build::schema().fields_of(*slot)) {
    const build::Entry& entry = build::schema()[id];
    const FieldInfo& info = *entry.info;
    if (builders_own(info.key) || known.count(info.key) > 0) continue;
    if (pasted.kind == "pack" && of_bare_cells(info.key)) continue;
    // What can be assumed well enough need not be asked for.
    if (info.prior.known()) continue;
    const auto at = wants().find(id);
    int score = at == wants().end() ? 0 : at->second;
    if (worded(entry.path)) score += 12;
    if (doubtful.count(info.key) > 0) score += 10;
    if (score > 0) wanted.push_back({score, id});
  }
  std::stable_sort(wanted.begin(), wanted.end(),
                   [](const Wanted& a, const Wanted& b) { return a.score > b.score; });
  std::vector<SellerQuestion> out;
  for (const Wanted& w : wanted) {
    if (out.size() == most) break;
    const build::Entry& entry = build::schema()[w.id];
    const std::string key(entry.info->key);
    out.push_back({key, wording(entry.path, *entry.info) + doubt_note(pasted, key)});
  }
  return out;
}

std::string seller_message(const Pasted& pasted) {
  const auto questions = seller_questions(pasted);
  if (questions.empty()) return {};
  std::string what = kind_in_words(pasted);
  if (!pasted.name.empty()) what += " (" + one_line(pasted.name) + ")";
  std::string out =
      "Hello,\n\nI am interested in your " + what +
      " for a motorcycle I am converting to electric drive. Before I order I need a few figures; "
      "\"not known\" is a fine answer, too.\n\n";
  int n = 0;
  for (const SellerQuestion& question : questions)
    out += std::to_string(++n) + ". " + question.text + "\n";
  return out + "\nA data sheet or a photo of the label would help as well. Thank you!\n";
}

}  // namespace ww::plan
