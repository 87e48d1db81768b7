// SPDX-License-Identifier: MIT
#include "steps/step.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/text.h"

namespace ww::steps {

std::string_view word(Stage stage) {
  constexpr std::array<std::string_view, 4> words{"pack", "wires", "power", "ride"};
  return words[static_cast<std::size_t>(stage)];
}

std::string_view title_of(Stage stage) {
  constexpr std::array<std::string_view, 4> titles{"Building the pack", "As built: the wires",
                                                   "First power-up", "First rides"};
  return titles[static_cast<std::size_t>(stage)];
}

std::string_view word(Verdict verdict) {
  constexpr std::array<std::string_view, 8> words{"open",     "waiting", "stopped",    "within",
                                                  "doubtful", "outside", "unreadable", "unjudged"};
  return words[static_cast<std::size_t>(verdict)];
}

bool stops(Verdict verdict) {
  return verdict != Verdict::open && verdict != Verdict::waiting && verdict != Verdict::within;
}

std::string band_text(const Step& step, figure::System units) {
  if (step.tick) return "yes";
  const auto show = [&](double value) { return figure::print(value, step.kind, units); };
  const Expect& e = step.expect;
  std::string out;
  if (!std::isnan(e.value)) out = show(e.value);
  if (!e.missing.empty()) return out.empty() ? "?" : out;
  if (std::isnan(e.low) || std::isnan(e.high))
    return "what the steps before it tell once they are read";
  // Below zero nothing that is counted or measured here can be, but for volts with a sign.
  const bool low = std::isfinite(e.low) && e.low != 0, high = std::isfinite(e.high);
  std::string band;
  if (low && high) {
    band = e.low == e.high ? "exactly " + show(e.low) : show(e.low) + " to " + show(e.high);
  } else if (low) {
    band = "at least " + show(e.low);
  } else if (high) {
    band = "at most " + show(e.high);
  }
  if (out.empty() || band.empty()) return out + band;
  return out + "; passes: " + band;
}

std::vector<const Branch*> branches_after(const Step& step) {
  std::vector<const Branch*> out;
  const Reading* reading = step.reading();
  if (reading == nullptr) return out;
  const double value = reading->value;
  for (const Branch& branch : step.tree) {
    const bool low = value - reading->half_width < step.expect.low;
    const bool high = value + reading->half_width > step.expect.high;
    if (branch.when == Branch::When::any || (branch.when == Branch::When::low && low) ||
        (branch.when == Branch::When::high && high))
      out.push_back(&branch);
  }
  return out;
}

std::string missing_text(const Step& step) {
  std::vector<std::string> names;
  for (const build::Id id : step.expect.missing) names.push_back(build::schema()[id].path);
  return join(names, ", ");
}

std::string reading_text(const Reading& reading) {
  std::string out = reading.text;
  if (!reading.date.empty()) out += ", " + reading.date;
  if (!reading.instrument.empty()) out += ", with " + reading.instrument;
  if (!reading.photo.empty()) out += ", photo " + reading.photo;
  if (!reading.note.empty()) out += " (" + reading.note + ")";
  return out;
}

std::string standing_text(const Step& step) {
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

}  // namespace ww::steps
