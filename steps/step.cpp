// SPDX-License-Identifier: MIT
#include "steps/step.h"

#include <array>
#include <cmath>

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

}  // namespace ww::steps
