// SPDX-License-Identifier: MIT
#include "cli/paste_report.h"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/json.h"
#include "serve/layout.h"

namespace ww::cli {

namespace {

using Json = nlohmann::ordered_json;
using serve::Columns;
using serve::wrapped;

std::string words_of(const std::vector<plan::Quote>& quotes) {
  std::vector<std::string> out;
  for (const plan::Quote& quote : quotes) {
    std::string text = quote.words;
    std::replace(text.begin(), text.end(), '\n', ' ');
    out.push_back("'" + text + "'");
  }
  return join(out, " ");
}

std::string head_text(const plan::Pasted& pasted) {
  std::string out =
      pasted.kind.empty()
          ? "What is sold is not clear; say it with --kind.\n"
          : "Read as: " + pasted.kind + " (" + std::string(plan::word(pasted.kind_sure)) + ")" +
                (pasted.kind_from.empty() ? "" : ", by " + words_of(pasted.kind_from)) + "\n";
  if (!pasted.name.empty()) out += "Name:    " + pasted.name + "\n";
  if (!pasted.model_code.empty()) out += "Model:   " + pasted.model_code + "\n";
  if (!pasted.link.empty()) out += "Link:    " + pasted.link + "\n";
  if (!pasted.date.empty()) out += "Date:    " + pasted.date + "\n";
  if (pasted.cut) out += "The text was longer than 64 kB; the rest was not read.\n";
  if (pasted.left_out > 0)
    out += std::to_string(pasted.left_out) + " more numbers were not looked at.\n";
  return out;
}

std::string figures_text(const plan::Pasted& pasted) {
  if (pasted.figures.empty()) return {};
  Columns columns({false, false, false, false});
  for (const auto& f : pasted.figures)
    columns.row({f.key, f.text, std::string(plan::word(f.sure)), words_of(f.from)});
  return "\nFigures, all by the seller:\n" + columns.text(2);
}

std::string open_text(const plan::Pasted& pasted) {
  std::string out;
  if (!pasted.conflicts.empty()) out += "\nThe text contradicts itself; nothing is filled in:\n";
  for (const auto& conflict : pasted.conflicts) {
    std::vector<std::string> values;
    for (const auto& value : conflict.values)
      values.push_back(value.text + " (" + words_of(value.from) + ")");
    out += wrapped(conflict.key + ": " + join(values, "; "), 4, "  ! ");
  }
  if (!pasted.questions.empty()) out += "\nNot clear, not filled in:\n";
  for (const auto& question : pasted.questions) {
    std::vector<std::string> options;
    for (const auto& option : question.options) options.push_back(option.key + " = " + option.text);
    std::string text = question.text;
    if (!options.empty()) text += " [" + join(options, ", or ") + "]";
    out += wrapped(text, 4, "  ? ");
  }
  if (!pasted.flags.empty()) out += "\nMind:\n";
  for (const auto& flag : pasted.flags) out += wrapped(flag.text, 4, "  * ");
  if (!pasted.unused.empty()) out += "\nSeen and not used:\n";
  for (const auto& unused : pasted.unused)
    out += wrapped("'" + unused.from.words + "': " + unused.why, 4, "  - ");
  return out;
}

Json quote_json(const plan::Quote& quote) {
  return {{"begin", quote.begin}, {"end", quote.end}, {"words", quote.words}};
}
Json quotes_json(const std::vector<plan::Quote>& quotes) {
  Json out = Json::array();
  for (const auto& quote : quotes) out.push_back(quote_json(quote));
  return out;
}
Json figure_json(const plan::PastedFigure& f) {
  return {{"key", f.key},
          {"field", f.field < 0 ? std::string() : build::schema()[f.field].path},
          {"text", f.text},
          {"sure", plan::word(f.sure)},
          {"evidence", figure::word(f.evidence)},
          {"why", f.why},
          {"from", quotes_json(f.from)}};
}

}  // namespace

std::string paste_report(const plan::Pasted& pasted) {
  std::string out = head_text(pasted) + figures_text(pasted) + open_text(pasted);
  const std::string message = plan::seller_message(pasted);
  if (!message.empty()) out += "\nTo the seller:\n\n" + message;
  const std::string part = plan::part_toml(pasted, plan::part_id(pasted));
  if (!part.empty()) out += "\nThe part, for your own parts file:\n\n" + part;
  return out;
}

std::string paste_json(const plan::Pasted& pasted) {
  Json out{{"wattwright", json_version},
           {"report", "paste"},
           {"shelf", pasted.shelf},
           {"kind", pasted.kind},
           {"kind_sure", plan::word(pasted.kind_sure)},
           {"kind_from", quotes_json(pasted.kind_from)},
           {"kinds_possible", pasted.kinds_possible},
           {"name", pasted.name},
           {"model_code", pasted.model_code},
           {"link", pasted.link},
           {"currency", pasted.currency},
           {"date", pasted.date},
           {"cut", pasted.cut},
           {"left_out", pasted.left_out},
           {"figures", Json::array()},
           {"questions", Json::array()},
           {"conflicts", Json::array()},
           {"flags", Json::array()},
           {"unused", Json::array()},
           {"seller_questions", Json::array()}};
  for (const auto& f : pasted.figures) out["figures"].push_back(figure_json(f));
  for (const auto& question : pasted.questions) {
    Json options = Json::array();
    for (const auto& option : question.options)
      options.push_back({{"key", option.key}, {"text", option.text}, {"meaning", option.meaning}});
    out["questions"].push_back(
        {{"text", question.text}, {"options", options}, {"from", quotes_json(question.from)}});
  }
  for (const auto& conflict : pasted.conflicts) {
    Json values = Json::array();
    for (const auto& value : conflict.values) values.push_back(figure_json(value));
    out["conflicts"].push_back({{"key", conflict.key}, {"values", values}});
  }
  for (const auto& flag : pasted.flags)
    out["flags"].push_back({{"code", flag.code}, {"text", flag.text}, {"keys", flag.keys}});
  for (const auto& unused : pasted.unused)
    out["unused"].push_back({{"from", quote_json(unused.from)}, {"why", unused.why}});
  for (const auto& question : plan::seller_questions(pasted))
    out["seller_questions"].push_back({{"key", question.key}, {"text", question.text}});
  out["message"] = plan::seller_message(pasted);
  out["part"] = plan::part_toml(pasted, plan::part_id(pasted));
  return out.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::vector<std::string> paste_kinds() {
  std::vector<std::string> out;
  for (const build::Slot& slot : build::schema().slots()) {
    if (slot.is_part && std::find(out.begin(), out.end(), slot.shelf) == out.end())
      out.emplace_back(slot.shelf);
  }
  out.emplace_back("module");
  out.emplace_back("pack");
  return out;
}

}  // namespace ww::cli
