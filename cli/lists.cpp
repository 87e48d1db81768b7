// SPDX-License-Identifier: MIT
#include "cli/lists.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"

namespace ww::cli {

namespace {

using build::schema;
using plan::Line;

std::string title(const Opened& opened, const std::string& what) {
  return (opened.build.project.name.empty() ? opened.name : opened.build.project.name) + ": " +
         what + "\n";
}

std::string currency(const Opened& opened) {
  return opened.build.project.currency.empty() ? "" : " " + opened.build.project.currency;
}

std::string state_text(const Line& line) {
  switch (line.state) {
    case build::State::here:
      return "here";
    case build::State::ordered:
      return "ordered";
    default:
      break;
  }
  if (line.missing && line.chosen.empty()) return "NOT CHOSEN";
  if (!line.clashes.empty() && line.part) return "CLASHES";
  return line.waits_for.empty() ? "" : "wait";
}

std::string quantity_text(const Line& line) {
  if (line.quantity == 1 && line.unit.empty()) return "";
  return fixed(line.quantity, line.unit == "m" ? 1 : 0) +
         (line.unit.empty() ? "" : " " + line.unit);
}

std::string weeks_text(double weeks) {
  return weeks < 0 ? "" : fixed(weeks, 0) + " wk";
}

std::string waiting_text(const plan::PartsList& list) {
  std::string out;
  for (const Line& line : list.lines) {
    if (line.waits_for.empty()) continue;
    std::vector<std::string> names;
    for (const build::Id id : line.waits_for) {
      const auto& entry = schema()[id];
      const bool other_part = !entry.slot->shelf.empty() && entry.slot->label != line.what;
      names.push_back(std::string(entry.info->label) +
                      (other_part ? " (" + std::string(entry.slot->label) + ")" : ""));
    }
    out += wrapped(line.what + ": " + (line.because.empty() ? "" : line.because + ". ") +
                       "Still open: " + join(names, "; ") + ".",
                   4, "  - ");
  }
  return out;
}

std::string ready_text(const plan::PartsList& list) {
  std::vector<std::string> names;
  for (const Line& line : list.lines) {
    if (line.waits_for.empty() && line.clashes.empty() && !plan::paid(line) && !line.missing &&
        !line.chosen.empty() && line.group != "donor" && line.chosen != "as on the sheet")
      names.push_back(line.what);
  }
  return names.empty() ? "nothing yet" : join(names, ", ");
}

std::string budget_text(const Opened& opened, const plan::PartsList& list) {
  if (list.budget < 0) return {};
  const plan::Cents left = list.budget - list.total;
  return "  Your budget: " + plan::money_text(list.budget) + currency(opened) + ": " +
         std::string(plan::budget_word(list)) + ", " + plan::money_text(left < 0 ? -left : left) +
         (left < 0 ? " short" : " left") + "\n";
}

}  // namespace

std::string parts_report(const Opened& opened, const plan::PartsList& list, const Options&) {
  std::string out = title(opened, "parts list") + "\n";
  Columns table({false, false, false, true, true, false, true});
  table.row({"", "", "chosen", "", "price", "from", "lead"});
  std::string group;
  for (const Line& line : list.lines) {
    table.row({line.group == group ? "" : line.group, line.what,
               line.chosen.empty()
                   ? state_text(line)
                   : line.chosen + (state_text(line).empty() ? "" : " (" + state_text(line) + ")"),
               quantity_text(line),
               line.from == plan::PriceFrom::none ? "?" : plan::money_text(line.price),
               std::string(word(line.from)), weeks_text(line.lead_weeks)});
    group = line.group;
  }
  out += table.text(2);
  const auto sum = [&](const std::string& what, plan::Cents amount) {
    return "  " + what + " " + plan::money_text(amount) + currency(opened) + "\n";
  };
  out += "\n" + sum("Parts, shop work, papers:", list.parts) +
         sum("Small parts nobody lists:", list.small);
  const auto share = [](double x) { return figure::print(x, figure::Kind::share); };
  out +=
      sum("Freight, duty and tax not counted above, at " + share(list.duty_share) + ":", list.duty);
  out += sum("Contingency on what is still to be bought, " + share(list.contingency_share) + ":",
             list.contingency);
  out += sum("Tools not yet there:", list.tooling);
  out += "  In all: " + plan::money_text(list.total) + currency(opened) + ", likely between " +
         plan::round_money_text(list.total_low) + " and " +
         plan::round_money_text(list.total_high) + "\n";
  if (list.spent > 0)
    out += sum("Of that here or ordered:", list.spent) +
           sum("Still to be paid:", list.total - list.spent);
  out += budget_text(opened, list);
  out += wrapped(std::to_string(list.quotes) + " of " + std::to_string(list.priced) +
                     " prices are quotes or better; the rest are the library's invented prices or "
                     "common practice. "
                     "Every one can be overwritten in the sheet.",
                 2);
  if (list.longest_lead_weeks > 0)
    out += "  Longest wait: " + list.longest_lead + ", " + fixed(list.longest_lead_weeks, 0) +
           " weeks. Order everything over three weeks on one day.\n";
  out += "\n  Ready to order: " + ready_text(list) + "\n";
  const std::string waiting = waiting_text(list);
  if (!waiting.empty()) out += "\n  Wait before paying for:\n" + waiting;
  out += "\n  Small parts:\n";
  for (const Line& line : list.small_parts)
    out += wrapped(line.what + " (" + line.group + "), " + plan::money_text(line.price), 4, "  - ");
  out += "\n  Tools for the work:\n";
  for (const Line& line : list.tools)
    out += wrapped(line.what + ", " + plan::money_text(line.price) + ": " + line.chosen, 4, "  - ");
  return out;
}

namespace {

/// One entry of the measuring list: what, how, and what it is good for.
std::string measuring_entry(const plan::Measurement& m, int number, const Options& options) {
  const auto& entry = schema()[m.id];
  std::string text = std::string(entry.info->label) + " (" + entry.path + ").";
  if (!entry.info->measure.empty() && !m.question)
    text += " How: " + std::string(entry.info->measure) + ".";
  if (!entry.info->options.empty() && entry.info->type != build::FieldType::figure && m.question)
    text += " One of: " + build::options_text(*entry.info) + ".";
  std::string out =
      "\n" + wrapped(text, 5, (number < 10 ? "  " : " ") + std::to_string(number) + ". ");
  if (!m.purchases.empty()) out += wrapped("Unlocks: " + join(m.purchases, ", ") + ".", 7);
  if (!m.findings.empty()) {
    out += wrapped(
        "Decides: " + join(m.findings, ", ") +
            (m.blocks == fit::Blocks::nothing ? ""
                                              : "; stands before " + std::string(word(m.blocks))) +
            ".",
        7);
  }
  if (m.distance_swing_m > 0)
    out += wrapped("Assumed so far; it moves the distance by " +
                       figure::print(m.distance_swing_m, figure::Kind::length, options.units) + ".",
                   7);
  return out;
}

}  // namespace

std::string measuring_report(const Opened& opened, const std::vector<plan::Measurement>& list,
                             const Options& options) {
  std::string out = title(opened, "what to measure next");
  if (list.empty())
    return out + "\n  Nothing: every figure that a check or a purchase waits for is there.\n";
  for (const bool question : {false, true}) {
    std::string section;
    int number = 0;
    for (const auto& m : list) {
      if (m.question == question) section += measuring_entry(m, ++number, options);
    }
    if (section.empty()) continue;
    out += question ? "\nTo decide or answer\n-------------------\n"
                    : "\nTo measure, read off or ask for\n-------------------------------\n";
    out += section;
  }
  return out + "\n" +
         wrapped(
             "CAUTION while measuring: bike on a level floor, strapped from two sides before the "
             "last bolt; springs hold force; a pack is live at its terminals.",
             2);
}

namespace {

/// How an answer changes: degrees for a temperature, points for a share, else percent of the first.
std::string change_text(double from, double to, figure::Kind kind, figure::System units) {
  if (!std::isfinite(from) || !std::isfinite(to)) return {};
  const std::string sign = to > from ? "+" : "";
  if (kind == figure::Kind::temperature || kind == figure::Kind::temperature_rise)
    return sign + figure::print(to - from, figure::Kind::temperature_rise, units);
  if (kind == figure::Kind::share) return sign + fixed(100 * (to - from), 1) + " points";
  return from == 0 ? std::string() : sign + fixed(100 * (to / from - 1), 1) + " %";
}

}  // namespace

std::string compare_report(const Opened& a, const Checked& checked_a, const Opened& b,
                           const Checked& checked_b, const Options& options) {
  std::string out = "A: " + a.name + "\nB: " + b.name + "\n\nFigures that differ:\n";
  Columns figures({false, false, false});
  figures.row({"", "A", "B"});
  for (build::Id id = 0; id < schema().size(); ++id) {
    const std::string in_a = build::show(a.build, id, options.units),
                      in_b = build::show(b.build, id, options.units);
    if (in_a != in_b) figures.row({schema()[id].path, in_a, in_b});
  }
  out += figures.text(2) + "\nOn the road (likely):\n";
  Columns answers({false, true, true, true});
  answers.row({"", "A", "B", "change"});
  for (const auto& info : ride::answer_table()) {
    const double va = checked_a.ride.possible ? checked_a.ride.band(info.answer).p50 : std::nan(""),
                 vb = checked_b.ride.possible ? checked_b.ride.band(info.answer).p50 : std::nan("");
    if (!(std::isfinite(va) || std::isfinite(vb)) || va == vb) continue;
    answers.row({std::string(info.label), spoken(checked_a.ride, info.answer, options.units).likely,
                 spoken(checked_b.ride, info.answer, options.units).likely,
                 change_text(va, vb, info.kind, options.units)});
  }
  out += answers.text(2) + "\nChecks that change:\n";
  Columns findings({false, false, false});
  const auto verdict = [](const Checked& c, const fit::Rule& rule) {
    for (const auto& f : c.findings) {
      if (f.rule == &rule) return std::string(word(f.verdict));
    }
    return std::string("-");
  };
  bool any = false;
  for (const auto& rule : fit::rule_book().rules()) {
    const std::string va = verdict(checked_a, rule), vb = verdict(checked_b, rule);
    if (va == vb) continue;
    findings.row({std::string(rule.id), va, vb});
    any = true;
  }
  return out + (any ? findings.text(2) : "  none\n");
}

}  // namespace ww::cli
