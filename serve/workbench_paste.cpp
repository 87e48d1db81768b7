// SPDX-License-Identifier: MIT
// A pasted listing on its way to the page.
#include <algorithm>

#include "base/text.h"
#include "plan/paste.h"
#include "serve/workbench_impl.h"

namespace ww::serve {

namespace {

/// A byte offset as the page counts: in UTF-16 code units.
api::Integer page_offset(std::string_view text, std::size_t byte) {
  api::Integer units = 0;
  for (std::size_t i = 0; i < std::min(byte, text.size()); ++i) {
    const auto c = static_cast<unsigned char>(text[i]);
    if ((c & 0xC0U) == 0x80U) continue;  // inside a character
    units += c >= 0xF0U ? 2 : 1;
  }
  return units;
}

std::string label_in(const plan::Pasted& pasted, std::string_view key) {
  for (const auto& slot : build::schema().slots()) {
    if (slot.shelf != pasted.shelf || !slot.is_part) continue;
    for (const auto& info : slot.table->fields) {
      if (info.key == key) return std::string(info.label);
    }
  }
  return std::string(key);
}

api::PasteFigure figure_of(const plan::PastedFigure& figure, std::string_view text) {
  const auto& entry = build::schema()[figure.field];
  api::PasteFigure out{.path = entry.path,
                       .key = figure.key,
                       .label = std::string(entry.info->label),
                       .text = figure.text,
                       .words = {},
                       .sure = std::string(word(figure.sure)),
                       .evidence = std::string(word(figure.evidence)),
                       .why = figure.why};
  if (!figure.from.empty()) {
    out.words = figure.from[0].words;
    out.begin = page_offset(text, figure.from[0].begin);
    out.end = page_offset(text, figure.from[0].end);
  }
  return out;
}

api::PasteQuestion conflict_of(const plan::PasteConflict& conflict, const plan::Pasted& pasted,
                               std::string_view text) {
  const std::string label = label_in(pasted, conflict.key);
  api::PasteQuestion out{.text = label + ": the listing says more than one thing. Which holds?",
                         .options = {}};
  for (const auto& value : conflict.values) {
    if (!value.from.empty() && out.options.empty()) {
      out.begin = page_offset(text, value.from[0].begin);
      out.end = page_offset(text, value.from[0].end);
    }
    out.options.push_back({conflict.key, label, value.text, value.why});
  }
  return out;
}

Result<std::vector<plan::Correction>> corrections_of(const api::PasteAsk& asked) {
  std::vector<plan::Correction> out;
  for (const auto& correction : asked.corrections.value_or(std::vector<api::Correction>{})) {
    plan::Correction made{.key = correction.key, .text = correction.text};
    if (correction.evidence) {
      const auto evidence = figure::read_evidence(*correction.evidence);
      if (!evidence) return fail(evidence.error());
      made.evidence = *evidence;
    }
    out.push_back(std::move(made));
  }
  return out;
}

}  // namespace

Reply<api::Paste> Workbench::paste(const api::PasteAsk& asked) const {
  plan::Pasted pasted =
      plan::read_paste(asked.text, {.kind = asked.kind.value_or(""), .today = impl_->today()});
  const auto corrections = corrections_of(asked);
  if (!corrections) return refused(corrections.error());
  if (!corrections->empty()) {
    auto corrected = plan::apply(pasted, *corrections);
    if (!corrected.errors.empty()) return refused(corrected.errors);
    pasted = std::move(corrected.pasted);
  }
  api::Paste out{.kind = pasted.shelf,
                 .kind_sure = std::string(word(pasted.kind_sure)),
                 .kind_words = pasted.kind,
                 .title = pasted.name,
                 .link = pasted.link,
                 .price = {},
                 .freight = {},
                 .date = pasted.date,
                 .kinds_possible = pasted.kinds_possible,
                 .figures = {},
                 .flags = {},
                 .questions = {},
                 .message = plan::seller_message(pasted),
                 .part_text = plan::part_toml(pasted, plan::part_id(pasted))};
  for (const auto& figure : pasted.figures) {
    if (figure.key == "price") out.price = figure.text;
    if (figure.key == "freight") out.freight = figure.text;
    out.figures.push_back(figure_of(figure, asked.text));
  }
  for (const auto& flag : pasted.flags) out.flags.push_back(flag.text);
  for (const auto& conflict : pasted.conflicts)
    out.questions.push_back(conflict_of(conflict, pasted, asked.text));
  for (const auto& question : pasted.questions) {
    api::PasteQuestion shown{.text = question.text, .options = {}};
    if (!question.from.empty()) {
      shown.begin = page_offset(asked.text, question.from[0].begin);
      shown.end = page_offset(asked.text, question.from[0].end);
    }
    for (const auto& option : question.options)
      shown.options.push_back(
          {option.key, label_in(pasted, option.key), option.text, option.meaning});
    out.questions.push_back(std::move(shown));
  }
  return out;
}

}  // namespace ww::serve
