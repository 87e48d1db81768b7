// SPDX-License-Identifier: MIT
#include "cli/steps_report.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>

#include "base/text.h"

namespace ww::cli {

namespace {

using steps::Protocol;
using steps::Stage;
using steps::Step;
using steps::Verdict;

constexpr std::size_t next_shown = 8;

std::string heading(const std::string& text) {
  return "\n" + text + "\n" + std::string(text.size(), '-') + "\n";
}

std::string mark(const Step& step) {
  switch (step.verdict) {
    case Verdict::within:
      return "[x]";
    case Verdict::open:
    case Verdict::waiting:
      return "[ ]";
    case Verdict::stopped:
      return "[-]";
    case Verdict::unjudged:
      return "[?]";
    default:
      return "[!]";
  }
}

std::string missing_text(const Step& step) {
  std::vector<std::string> names;
  for (const build::Id id : step.expect.missing) names.push_back(build::schema()[id].path);
  return join(names, ", ");
}

std::string reading_text(const steps::Reading& reading) {
  std::string out = reading.text;
  if (!reading.date.empty()) out += ", " + reading.date;
  if (!reading.instrument.empty()) out += ", with " + reading.instrument;
  if (!reading.photo.empty()) out += ", photo " + reading.photo;
  if (!reading.note.empty()) out += " (" + reading.note + ")";
  return out;
}

/// `before`: the step shown above it; what is live is said anew only where that changes.
std::string step_text(const Step& step, const Step* before, const Options& options) {
  std::string out = "\n" + wrapped(step.title + "  (" + step.id + ")", 6, "  " + mark(step) + " ");
  const auto line = [&](const std::string& text) { out += wrapped(text, 8, "      "); };
  line("CAUTION: " + step.caution);
  line(step.doing);
  if (!step.live.empty())
    line(before != nullptr && before->live == step.live ? "Live: as in the step above."
                                                        : step.live);
  if (!step.tick) {
    std::string expect = "Expect " + steps::band_text(step, options.units) + ".";
    if (!step.expect.sum.empty()) expect += " Sum: " + step.expect.sum + ".";
    if (!step.expect.bounds.empty()) expect += " Band: " + step.expect.bounds + ".";
    line(expect);
    if (!step.from_sheet) line("With: " + step.tool + ".");
  }
  for (const auto& reading : step.readings) line("Read: " + reading_text(reading) + ".");
  const std::string standing = standing_of(step);
  if (!standing.empty()) line(standing);
  if (step.verdict != Verdict::unjudged && !step.tick && !step.expect.missing.empty())
    line("Cannot be judged until the sheet says: " + missing_text(step) + ".");
  const bool differs = step.alone == Verdict::outside || step.alone == Verdict::doubtful;
  if (differs) {
    int number = 0;
    for (const auto* branch : steps::branches_after(step))
      out += wrapped(branch->look + " -> " + branch->means + ".", 11,
                     "        " + std::to_string(++number) + ". ");
  }
  return out;
}

/// Closer than elsewhere: cells of one lot differ in the fourth digit.
std::string charge_text(double charge_C) {
  const double ah = charge_C / 3600;
  return fixed(ah, ah < 10 ? 3 : ah < 100 ? 2 : 1) + " Ah";
}

std::string sorting_text(const Opened& opened, const Protocol& p) {
  const auto& s = p.sorted;
  if (s.complete == 0) return {};
  const auto name = [&](int i) { return opened.build.units[static_cast<std::size_t>(i)].name; };
  std::string out = heading("Cells in their groups");
  if (!s.possible) out += wrapped(s.lacks + ".", 2);
  Columns table({true, false, true, true});
  if (s.possible) table.row({"group", "cells", "charge", "ohms"});
  int number = 0;
  for (const auto& group : s.groups) {
    if (!s.possible) break;
    std::vector<std::string> names;
    for (const int i : group.units) names.push_back(name(i));
    table.row({std::to_string(++number), join(names, " "), charge_text(group.charge_C),
               figure::print(1 / group.conductance_S, figure::Kind::resistance)});
  }
  if (s.possible) {
    out += table.text(2);
    out +=
        wrapped("The weakest group holds " + charge_text(s.weakest_C) + ", the strongest " +
                    charge_text(s.strongest_C) +
                    (s.bound_share > 0
                         ? "; no other sorting gives the weakest more than " +
                               figure::print(100 * s.bound_share, figure::Kind::ratio) + " % more"
                         : "; no other sorting gives the weakest more") +
                    ". Sought: the weakest group as strong as can be, then the strongest "
                    "as weak, then resistances alike.",
                2);
  }
  std::vector<std::string> spares;
  for (const int i : s.spares) spares.push_back(name(i));
  if (!spares.empty()) out += wrapped("Spare: " + join(spares, ", ") + ".", 2);
  for (const auto& away : s.turned_away)
    out += wrapped("Turned away: " + name(away.unit) + ", " + away.why + ".", 4, "  ");
  return out;
}

std::string live_report(const Protocol& p) {
  std::string out;
  int laid = 0;
  for (const auto& w : p.wires) laid += w.laid ? 1 : 0;
  out +=
      "  Wires ticked: " + std::to_string(laid) + " of " + std::to_string(p.wires.size()) + ".\n";
  for (int r = 0; r <= static_cast<int>(steps::Reach::never); ++r) {
    std::vector<std::string> labels;
    for (const auto& w : p.wires) {
      if (w.laid && static_cast<int>(w.reach) == r)
        labels.push_back(p.circuit.wires[static_cast<std::size_t>(w.wire)].label);
    }
    if (!labels.empty())
      out += wrapped("Laid, and " + std::string(word(static_cast<steps::Reach>(r))) + ": " +
                         join(labels, ", ") + ".",
                     4, "  ");
  }
  std::vector<std::string> open;
  for (const auto& w : p.wires) {
    if (!w.laid) open.push_back(p.circuit.wires[static_cast<std::size_t>(w.wire)].label);
  }
  if (laid > 0 && !open.empty()) out += wrapped("Still open: " + join(open, ", ") + ".", 4, "  ");
  if (laid == 0) out += "  None is ticked yet.\n";
  // The pack as far as its joints are made.
  const Step* last = nullptr;
  for (const Step& step : p.steps) {
    if (step.id.rfind("joint-", 0) == 0 && step.id != "joints-pulse" &&
        step.verdict == Verdict::within)
      last = &step;
  }
  const Step* closed = p.step("pack-closed");
  if (closed != nullptr && closed->verdict == Verdict::within) {
    out += "  The pack is closed: " + figure::print(p.full_V, figure::Kind::voltage) +
           " when full, main fuse out.\n";
  } else if (last != nullptr) {
    out += wrapped("The pack, as joined so far. " + last->caution, 4, "  ");
  }
  return out + wrapped(
                   "This follows from the circuit and your ticks; the meter decides, every time "
                   "before a hand goes in.",
                   4, "  ");
}

std::string counts_text(const Protocol& p) {
  const auto count = [&](Verdict v) { return std::to_string(p.count(v)); };
  const int bad =
      p.count(Verdict::outside) + p.count(Verdict::doubtful) + p.count(Verdict::unreadable);
  return count(Verdict::within) + " of " + std::to_string(p.steps.size()) +
         " steps have passed; not passed: " + std::to_string(bad) +
         "; stopped by those or by a missing figure: " + count(Verdict::stopped) +
         "; cannot be judged: " + count(Verdict::unjudged) + ".";
}

/// The figures without which some step has no band: to be found before the evening it is due.
std::string lacking_text(const Protocol& p) {
  std::vector<std::string> names;
  for (const Step& step : p.steps) {
    for (const build::Id id : step.expect.missing) {
      const auto& path = build::schema()[id].path;
      if (std::find(names.begin(), names.end(), path) == names.end()) names.push_back(path);
    }
  }
  return names.empty() ? std::string()
                       : wrapped("Some steps wait for figures that the sheet does not have: " +
                                     join(names, ", ") + ".",
                                 4, "  ? ");
}

std::string strangers_text(const Protocol& p) {
  std::string out;
  for (const auto& s : p.strangers)
    out += wrapped("The log speaks of '" + s.id + "', which is no step of this build." +
                       (s.nearest.empty() ? "" : " Did you mean '" + s.nearest + "'?"),
                   4, "  ! ");
  return out;
}

bool asked_for(const Step& step, const StepsAsk& ask) {
  if (!ask.one.empty()) return step.id == ask.one;
  return ask.stage.empty() || word(step.stage) == ask.stage;
}

std::string next_text(const Protocol& p, const StepsAsk& ask, const Options& options) {
  const auto all = steps::next_steps(p);
  std::vector<const Step*> list;
  std::copy_if(all.begin(), all.end(), std::back_inserter(list),
               [&](const Step* s) { return asked_for(*s, ask); });
  // What did not pass comes first: nothing that hangs on it can go on.
  std::stable_partition(list.begin(), list.end(),
                        [](const Step* s) { return s->verdict != Verdict::open; });
  std::string out = heading("What may be done now");
  if (list.empty()) out += "  Nothing.\n";
  // A few of each stage: the wires alone would fill the screen.
  std::size_t left_out = 0;
  std::array<std::size_t, 4> shown{};
  for (const Step* step : list) {
    auto& of_stage = shown[static_cast<std::size_t>(step->stage)];
    const std::size_t most = ask.stage.empty() ? 3 : next_shown;
    if (!options.all && step->verdict == Verdict::open && of_stage >= most) {
      ++left_out;
      continue;
    }
    ++of_stage;
    out += step_text(*step, nullptr, options);
  }
  if (left_out > 0)
    out += "\n  " + std::to_string(left_out) + " more may be done now; --all lists them.\n";
  return out + heading("What is laid, and what makes it live") + live_report(p);
}

}  // namespace

std::string standing_of(const Step& step) {
  const std::size_t most = 4;
  std::vector<std::string> names(
      step.held_by.begin(),
      step.held_by.begin() + static_cast<std::ptrdiff_t>(std::min(step.held_by.size(), most)));
  if (step.held_by.size() > most)
    names.push_back("and " + std::to_string(step.held_by.size() - most) + " more");
  const auto held = join(names, ", ");
  switch (step.verdict) {
    case Verdict::open:
      return {};
    case Verdict::waiting:
      return "Comes after: " + held + ".";
    case Verdict::stopped:
      return step.reading() == nullptr
                 ? "STOPPED by " + held + ". Not to be done."
                 : "STOPPED by " + held + ": what was read does not count yet.";
    case Verdict::within:
      return "Within its band.";
    case Verdict::doubtful:
      return "NOT PASSED: the reading's own spread reaches beyond the band. Read it closer.";
    case Verdict::outside:
      return step.tick ? "NOT PASSED. What depends on it stops here."
                       : "NOT PASSED: outside its band. What depends on it stops here.";
    case Verdict::unreadable:
      return "NOT PASSED: " +
             (step.reading()->refused.empty() ? std::string("not a number")
                                              : step.reading()->refused) +
             ".";
    case Verdict::unjudged:
      return "Cannot be judged" + (step.expect.missing.empty()
                                       ? std::string(".")
                                       : ": missing " + missing_text(step) + ".");
  }
  return {};
}

steps::Protocol protocol_of(const Checked& checked) {
  return steps::protocol(checked.ridden, checked.ride);
}

std::string steps_report(const Opened& opened, const Checked& checked, const Protocol& p,
                         const StepsAsk& ask, const Options& options) {
  std::string out = (opened.build.project.name.empty() ? opened.name : opened.build.project.name) +
                    ": the work, step by step\n\n";
  if (ask.one.empty()) {
    out += wrapped(
        "CAUTION: two people, one of whom only watches and holds the disconnect. Nothing is "
        "powered "
        "that was not measured unpowered. A reading outside its band stops what depends on it; it "
        "is "
        "not argued away. Mains, work on the road and certificates belong to competent persons and "
        "the local code. These steps follow from the sheet; they do not see the bike.",
        2);
    out += wrapped(counts_text(p), 2);
    for (const auto& text : checked.sketched) out += wrapped("Sketched in: " + text, 4, "  ");
  }
  if (ask.one.empty()) out += lacking_text(p);
  out += strangers_text(p);
  if (ask.next) return out + next_text(p, ask, options);
  int stage = -1;
  const Step* before = nullptr;
  for (const Step& step : p.steps) {
    if (!asked_for(step, ask)) continue;
    if (ask.one.empty() && static_cast<int>(step.stage) != stage) {
      stage = static_cast<int>(step.stage);
      out += heading(std::string(title_of(step.stage)));
      if (step.stage == Stage::pack) out += sorting_text(opened, p);
    }
    out += step_text(step, before, options);
    before = &step;
  }
  return out;
}

std::string learn_report(const Opened& opened, const steps::Lesson& lesson,
                         const std::vector<steps::Move>& moves, const Options& options) {
  std::string out = (opened.build.project.name.empty() ? opened.name : opened.build.project.name) +
                    ": what the readings teach\n\n";
  if (lesson.learnt.empty())
    out += "  Nothing yet: no reading that is a figure of the sheet has passed.\n";
  Columns figures({false, true, true, false, false});
  figures.row({"figure", "on the sheet", "measured", "from", "sum"});
  for (const auto& l : lesson.learnt) {
    const auto kind = build::schema()[build::id_of(l.path)].info->kind;
    figures.row({l.path,
                 std::isnan(l.was) ? "not known" : figure::print(l.was, kind, options.units),
                 figure::print(l.figure.value, kind, options.units), l.from, l.sum});
  }
  if (!lesson.learnt.empty()) out += figures.text(2);
  for (const auto& left : lesson.left)
    out +=
        wrapped(left.path + " is not taken from " + left.from + ": " + left.why + ".", 4, "  ! ");
  if (lesson.learnt.empty()) return out;
  out += "\nWhat that moves on the road, and what did most of it:\n";
  Columns table({false, true, true, true, true, false});
  table.row({"", "likely before", "now", "width before", "now", "mostly because of"});
  for (const auto& m : moves) {
    const auto& info = ride::info_of(m.answer);
    const auto show = [&](double v) {
      return std::isfinite(v) ? figure::print(v, info.kind, options.units)
                              : std::string("not known");
    };
    // A width is a difference: a temperature's is in kelvin.
    const auto kind =
        info.kind == figure::Kind::temperature ? figure::Kind::temperature_rise : info.kind;
    const auto width = [&](const ride::Band& b) {
      return std::isfinite(b.p90 - b.p10) ? figure::print(b.p90 - b.p10, kind, options.units)
                                          : std::string("-");
    };
    table.row(
        {std::string(info.label), show(m.before.p50), show(m.after.p50), width(m.before),
         width(m.after),
         m.cause < 0 ? "several together" : lesson.learnt[static_cast<std::size_t>(m.cause)].path});
  }
  out += moves.empty() ? "  Nothing by more than half a per cent.\n" : table.text(2);
  return out + wrapped("Width: from what one in ten is below to what one in ten is above.", 2);
}

}  // namespace ww::cli
