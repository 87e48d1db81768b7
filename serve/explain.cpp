// SPDX-License-Identifier: MIT
#include "serve/explain.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "plan/listing.h"
#include "serve/layout.h"

namespace ww::serve {

namespace {

using build::schema;

std::string evidence_text(const figure::Figure& figure) {
  std::string text(word(figure.evidence));
  if (!figure.date.empty()) text += ", " + figure.date;
  if (!figure.note.empty()) text += ", " + figure.note;
  return text;
}

/// "motor.speed_constant = 60 rpm/V dc (data sheet)" for one field.
std::string field_line(const build::Build& build, build::Id id, figure::System units) {
  const auto& entry = schema()[id];
  const auto* figure = build::figure_at(build, id);
  if (build::known_at(build, id)) {
    return entry.path + " = " + build::show(build, id, units) +
           (figure == nullptr ? "" : " (" + evidence_text(*figure) + ")");
  }
  const auto prior = build::prior_of(build, id);
  if (prior.known()) {
    return entry.path + " = " + build::show_number(prior.value, id, units) +
           " (assumed: " + std::string(prior.source) + ")";
  }
  return entry.path + ": not known";
}

std::string input_line(const build::Build& build, const Checked& checked, std::string_view name,
                       figure::System units, int depth);

std::string fact_lines(const build::Build& build, const Checked& checked, const fit::Fact& fact,
                       figure::System units, int depth) {
  const auto value = fit::fact_value(build, checked.ride, fact.id);
  const std::string margin(static_cast<std::size_t>(2 * depth), ' ');
  std::string out =
      margin + std::string(fact.label) + " = " +
      (std::isnan(value.value) ? "not known" : figure::print(value.value, fact.kind, units));
  if (!fact.formula.empty()) out += "   [" + std::string(fact.formula) + "]";
  out += "\n";
  for (const auto& list : {fact.needs, fact.options}) {
    for (const auto name : list) out += input_line(build, checked, name, units, depth + 1);
  }
  return out;
}

std::string input_line(const build::Build& build, const Checked& checked, std::string_view name,
                       figure::System units, int depth) {
  const std::string margin(static_cast<std::size_t>(2 * depth), ' ');
  if (name.rfind("fact.", 0) == 0)
    return fact_lines(build, checked, *fit::rule_book().fact(name.substr(5)), units, depth);
  if (name.rfind("ride.", 0) == 0) {
    for (const auto& info : ride::answer_table()) {
      if (info.key != name.substr(5)) continue;
      const auto s = spoken(checked.ride, info.answer, units);
      return margin + std::string(info.label) + " = " +
             (checked.ride.possible
                  ? "count on " + s.count_on + ", likely " + s.likely + ", good day " + s.good_day
                  : "no ride yet") +
             "   [from the ride; wattwright explain SHEET " + std::string(info.key) + "]\n";
    }
  }
  return margin + field_line(build, build::id_of(name), units) + "\n";
}

std::string explain_rule(const build::Build& build, const Checked& checked, const fit::Rule& rule,
                         figure::System units) {
  std::string out = std::string(rule.id) + ": " + std::string(rule.title) + "\n\n";
  const auto finding = fit::check_one(build, checked.ride, rule);
  if (!finding) {
    out +=
        "  Does not apply to this build: it stands between parts that are not all there, or to a "
        "case that this is not.\n";
  } else {
    out += wrapped("Says: " + std::string(word(finding->verdict)) + ". " + finding->because, 2);
    if (!std::isnan(finding->have)) {
      out += "  Side by side: " + figure::print(finding->have, rule.kind, units) + " against " +
             figure::print(finding->limit, rule.kind, units);
      if (!std::isnan(finding->practice))
        out += "; usual practice keeps to " + figure::print(finding->practice, rule.kind, units);
      if (finding->band > 0)
        out += "; spread of the difference +- " +
               figure::print(finding->band,
                             rule.kind == figure::Kind::temperature ? figure::Kind::temperature_rise
                                                                    : rule.kind,
                             units);
      out += "\n";
    }
  }
  out += "\n  The numbers in it:\n";
  for (const auto& list : {rule.needs, rule.options}) {
    for (const auto name : list) out += input_line(build, checked, name, units, 2);
  }
  out += wrapped("Blocks: " + std::string(word(rule.blocks)) +
                     ". If ignored: " + std::string(rule.ignoring.text),
                 2);
  return out + wrapped("Source: " + std::string(rule.source), 2);
}

std::string explain_answer(const build::Build& build, const Checked& checked,
                           const ride::AnswerInfo& info, figure::System units) {
  std::string out = std::string(info.key) + ": " + std::string(info.label) + "\n\n";
  if (!checked.ride.possible)
    return out + "  No ride can be worked out yet; `wattwright ride SHEET` says what is missing.\n";
  const auto s = spoken(checked.ride, info.answer, units);
  out += "  count on " + s.count_on + ", likely " + s.likely + ", good day " + s.good_day +
         " (nominal " + figure::print(checked.ride.nominal[info.answer], info.kind, units) +
         ")\n\n  What moves it, each figure alone from its low to its high end:\n";
  const auto origin = [&](const ride::Push& push) {
    const std::string_view source = source_word(build, push);
    if (source == "assumed") return std::string(source);
    if (source == "given") return build::show(build, push.id, units);
    return build::show(checked.ridden, push.id, units) + " (" + std::string(source) + ")";
  };
  Columns table({false, true, true, true, false});
  table.row({"figure", "at its low end", "at its high end", "share", ""});
  std::size_t shown = 0;
  for (const auto& push : checked.ride.pushes[static_cast<std::size_t>(info.answer)]) {
    if (shown++ >= 12 || push.share < 0.002) break;
    table.row({schema()[push.id].path, figure::print(push.at_p10, info.kind, units),
               figure::print(push.at_p90, info.kind, units), fixed(100 * push.share, 1) + " %",
               origin(push)});
  }
  return out + table.text(4);
}

std::string explain_field(const build::Build& build, const Checked& checked, build::Id id,
                          figure::System units) {
  const auto& entry = schema()[id];
  std::string out = entry.path + ": " + std::string(entry.info->label) + "\n\n  " +
                    field_line(build, id, units) + "\n";
  if (!entry.info->measure.empty())
    out += wrapped("How to get it: " + std::string(entry.info->measure) + ".", 2);
  if (entry.info->type == build::FieldType::figure) {
    out += "  Kind: " + std::string(figure::name_of(entry.info->kind)) + ", e.g. '" +
           std::string(figure::example_of(entry.info->kind)) + "'; between " +
           build::show_number(entry.info->low, id, units) + " and " +
           build::show_number(entry.info->high, id, units) + "\n";
  } else if (!entry.info->options.empty()) {
    out += wrapped("One of: " + build::options_text(*entry.info) + ".", 2);
  }
  std::vector<std::string> readers;
  for (std::size_t i = 0; i < fit::rule_book().rules().size(); ++i) {
    const auto& leaves = fit::rule_book().leaves(i);
    if (std::find(leaves.begin(), leaves.end(), id) != leaves.end())
      readers.emplace_back(fit::rule_book().rules()[i].id);
  }
  if (std::find(checked.ride.read.begin(), checked.ride.read.end(), id) != checked.ride.read.end())
    readers.emplace_back("the ride");
  out += wrapped(
      "Read by: " + (readers.empty() ? std::string("nothing yet") : join(readers, ", ")) + ".", 2);
  return out;
}

}  // namespace

std::string explain(const build::Build& build, const Checked& checked, const std::string& topic,
                    figure::System units, std::string& near) {
  const auto& book = fit::rule_book();
  if (topic == "motor" && build.motor) {
    return "motor: its listing read as a motor\n\n" + plan::listing_text(*build.motor, units);
  }
  if (const auto* rule = book.find(topic)) return explain_rule(build, checked, *rule, units);
  if (const auto* fact = book.fact(topic))
    return std::string(fact->id) + "\n\n" + fact_lines(build, checked, *fact, units, 1);
  for (const auto& info : ride::answer_table()) {
    if (info.key == topic) return explain_answer(build, checked, info, units);
  }
  if (const build::Id id = schema().find(topic); id >= 0)
    return explain_field(build, checked, id, units);
  std::vector<std::string_view> topics;
  for (const auto& rule : book.rules()) topics.push_back(rule.id);
  for (const auto& fact : book.facts()) topics.push_back(fact.id);
  for (const auto& info : ride::answer_table()) topics.push_back(info.key);
  for (const auto& entry : schema().entries()) topics.emplace_back(entry.path);
  near = std::string(nearest(topic, topics));
  return {};
}

}  // namespace ww::serve
