// SPDX-License-Identifier: MIT
// Which part fits which: the worst finding between each two.
#include <algorithm>
#include <map>

#include "build/fields.h"
#include "views/plot_parts.h"

namespace ww::views {

namespace {

using fit::Verdict;

/// How bad: a clash before what is not measured before what is tight.
int badness(Verdict verdict) {
  switch (verdict) {
    case Verdict::fits:
      return 1;
    case Verdict::tight:
      return 2;
    case Verdict::unmeasured:
      return 3;
    case Verdict::clash:
      break;
  }
  return 4;
}

draw::Sign sign_of(Verdict verdict) {
  switch (verdict) {
    case Verdict::fits:
      return draw::Sign::ring;
    case Verdict::tight:
      return draw::Sign::half;
    case Verdict::unmeasured:
      return draw::Sign::question;
    case Verdict::clash:
      break;
  }
  return draw::Sign::bang;
}

/// The slots a rule stands between; where it names fewer than two, those of its figures.
std::vector<std::string_view> slots_of(const fit::Rule& rule) {
  std::vector<std::string_view> slots(rule.between.begin(), rule.between.end());
  if (slots.size() >= 2) return slots;
  const auto& book = fit::rule_book();
  const auto index = static_cast<std::size_t>(&rule - book.rules().data());
  if (index >= book.rules().size()) return slots;
  for (const build::Id id : book.leaves(index)) {
    const std::string_view slot = build::schema()[id].slot->key;
    if (std::find(slots.begin(), slots.end(), slot) == slots.end()) slots.push_back(slot);
  }
  return slots;
}

/// The bike and its parts, as far as they are on the sheet.
bool shown(const build::Build& build, std::string_view key) {
  const build::Slot& slot = *build::schema().slot(key);
  const bool kind =
      slot.is_part || key == "donor" || key == "pack" || key == "gearing" || key == "rider";
  return kind && build::slot_present(build, slot);
}

}  // namespace

draw::Chart part_by_part_chart(const Subject& s) {
  draw::Chart chart{.key = "parts", .title = "Which part fits which", .says = {}, .missing = {}};
  if (s.findings == nullptr) {
    chart.missing = "The checks have not run.";
    return chart;
  }
  std::map<std::pair<std::string_view, std::string_view>, const fit::Finding*> worst;
  std::map<std::string_view, bool> seen;
  int clashes = 0, open = 0;
  for (const fit::Finding& finding : *s.findings) {
    clashes += finding.verdict == Verdict::clash ? 1 : 0;
    open += finding.verdict == Verdict::unmeasured ? 1 : 0;
    const auto slots = slots_of(*finding.rule);
    for (const auto a : slots) {
      for (const auto b : slots) {
        if (!(a < b) || !shown(*s.build, a) || !shown(*s.build, b)) continue;
        const fit::Finding*& there = worst[{a, b}];
        if (there == nullptr || badness(finding.verdict) > badness(there->verdict))
          there = &finding;
        seen[a] = seen[b] = true;
      }
    }
  }
  draw::Matrix matrix;
  std::vector<std::string_view> keys;
  for (const build::Slot& slot : build::schema().slots()) {
    if (!seen.count(slot.key)) continue;
    keys.push_back(slot.key);
    matrix.names.emplace_back(slot.label);
  }
  if (keys.size() < 2) {
    chart.missing = "No two parts that a check compares are on the sheet yet.";
    return chart;
  }
  const std::size_t n = keys.size();
  matrix.cells.resize(n * n);
  for (std::size_t row = 0; row < n; ++row) {
    for (std::size_t column = 0; column < row; ++column) {
      const auto pair = std::minmax(keys[row], keys[column]);
      const auto found = worst.find({pair.first, pair.second});
      if (found == worst.end()) continue;
      const fit::Finding& f = *found->second;
      matrix.cells[row * n + column] = {
          .sign = sign_of(f.verdict),
          .word = std::string(fit::word(f.verdict)),
          .rank = badness(f.verdict) - 1,
          .tag = {.name = "pair",
                  .keys = {{"part", std::string(keys[row])},
                           {"other", std::string(keys[column])},
                           {"rule", std::string(f.rule->id)},
                           {"says", std::string(fit::word(f.verdict))}},
                  .title = f.because.empty() ? std::string(f.rule->title) : f.because}};
    }
  }
  const auto counted = [](int count, const char* one, const char* many) {
    return std::to_string(count) + " " + (count == 1 ? one : many);
  };
  chart.says = counted(clashes, "clash", "clashes") + ", " +
               counted(open, "check that lacks a figure", "checks that lack a figure") +
               "; a cell shows the worst of what is compared between the two.";
  chart.notes.emplace_back(
      "An empty cell: nothing is compared between the two. 'Fits' speaks of the figures on the "
      "sheet, not of safety.");
  chart.body = std::move(matrix);
  return chart;
}

}  // namespace ww::views
