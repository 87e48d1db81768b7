// SPDX-License-Identifier: MIT
#include "steps/protocol.h"

#include <algorithm>

#include "base/text.h"
#include "steps/draft.h"

namespace ww::steps {

const Step* Protocol::step(std::string_view id) const {
  const auto at =
      std::find_if(steps.begin(), steps.end(), [&](const Step& s) { return s.id == id; });
  return at == steps.end() ? nullptr : &*at;
}

int Protocol::count(Verdict verdict) const {
  return static_cast<int>(std::count_if(steps.begin(), steps.end(),
                                        [&](const Step& s) { return s.verdict == verdict; }));
}

Protocol protocol(const build::Build& build, const ride::Ride& ride) {
  Draft draft(build, ride);
  pack_steps(draft);
  wire_steps(draft);
  power_steps(draft);
  ride_steps(draft);
  const auto strangers = draft.strangers();
  Protocol out{draft.take(), draft.sorted(), draft.circuit(), {}, {}, draft.full_V()};
  std::vector<bool> laid;
  for (const auto& wire : out.circuit.wires) {
    const Step* step = out.step("wire-" + wire.label);
    laid.push_back(step != nullptr && step->verdict == Verdict::within);
  }
  const auto reach = reach_of_wires(out.circuit, laid);
  for (std::size_t w = 0; w < laid.size(); ++w)
    out.wires.push_back({static_cast<int>(w), laid[w], reach[w]});
  for (const auto& id : strangers) out.strangers.push_back({id, nearest_step(out, id)});
  return out;
}

std::vector<const Step*> next_steps(const Protocol& protocol) {
  std::vector<const Step*> out;
  for (const Step& step : protocol.steps) {
    const bool again = step.verdict == Verdict::outside || step.verdict == Verdict::doubtful ||
                       step.verdict == Verdict::unreadable || step.verdict == Verdict::unjudged;
    if (again || (step.verdict == Verdict::open && !step.from_sheet)) out.push_back(&step);
  }
  return out;
}

std::string nearest_step(const Protocol& protocol, std::string_view id) {
  std::vector<std::string_view> ids;
  for (const Step& step : protocol.steps) ids.push_back(step.id);
  return std::string(nearest(id, ids));
}

}  // namespace ww::steps
