// SPDX-License-Identifier: MIT
#include "cli/steps_report.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>

#include "base/text.h"
#include "serve/steps_words.h"

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
  for (const auto& reading : step.readings) line("Read: " + steps::reading_text(reading) + ".");
  const std::string standing = steps::standing_text(step);
  if (!standing.empty()) line(standing);
  if (step.verdict != Verdict::unjudged && !step.tick && !step.expect.missing.empty())
    line("Cannot be judged until the sheet says: " + steps::missing_text(step) + ".");
  const bool differs = step.alone == Verdict::outside || step.alone == Verdict::doubtful;
  if (differs) {
    int number = 0;
    for (const auto* branch : steps::branches_after(step))
      out += wrapped(branch->look + " -> " + branch->means + ".", 11,
                     "        " + std::to_string(++number) + ". ");
  }
  return out;
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
  return out + heading("What is laid, and what makes it live") + serve::live_told(p).text();
}

}  // namespace

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
      if (step.stage == Stage::pack) out += serve::sorting_told(opened.build, p).text();
    }
    out += step_text(step, before, options);
    before = &step;
  }
  return out;
}

std::string learn_report(const Opened& opened, const steps::Lesson& lesson,
                         const std::vector<steps::Move>& moves, const Options& options) {
  return (opened.build.project.name.empty() ? opened.name : opened.build.project.name) +
         ": what the readings teach\n\n" + serve::learn_told(lesson, moves, options.units).text();
}

}  // namespace ww::cli
