// SPDX-License-Identifier: MIT
#include "plan/measuring_list.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace ww::plan {

namespace {

int urgency(fit::Blocks blocks) {
  switch (blocks) {
    case fit::Blocks::buying:
      return 0;
    case fit::Blocks::energising:
      return 1;
    case fit::Blocks::riding:
      return 2;
    case fit::Blocks::nothing:
      break;
  }
  return 3;
}

/// A figure a person takes with an instrument or reads off a part, not a choice of his own.
bool measurable(Id id) {
  const auto& entry = build::schema()[id];
  return !entry.info->measure.empty() || entry.info->type != build::FieldType::figure;
}

/// A wish, a setting or another choice of the builder's, or a plain yes or no: nothing to measure.
bool is_question(Id id) {
  const auto& info = *build::schema()[id].info;
  return info.decided || info.measure.empty();
}

}  // namespace

std::vector<Measurement> measuring_list(const Build& build, const ride::Ride& ride,
                                        const std::vector<fit::Finding>& findings,
                                        const PartsList& parts) {
  std::map<Id, Measurement> by_id;
  const auto entry = [&](Id id) -> Measurement& {
    auto& m = by_id[id];
    m.id = id;
    return m;
  };
  for (const fit::Finding& finding : findings) {
    if (finding.verdict != fit::Verdict::unmeasured) continue;
    for (const Id id : finding.missing) {
      Measurement& m = entry(id);
      m.findings.emplace_back(finding.rule->id);
      if (urgency(finding.rule->blocks) < urgency(m.blocks)) m.blocks = finding.rule->blocks;
    }
  }
  for (const Line& line : parts.lines) {
    for (const Id id : line.waits_for) entry(id).purchases.push_back(line.what);
  }
  for (const auto& push :
       ride.pushes[static_cast<std::size_t>(ride::Answer::range_mixed_reserve)]) {
    if (push.source != ride::Source::assumed || push.share < 0.005 || !measurable(push.id))
      continue;
    Measurement& m = entry(push.id);
    m.distance_swing_m = std::fabs(push.at_p90 - push.at_p10);
  }
  std::vector<Measurement> list;
  for (auto& [id, m] : by_id) {
    const auto* figure = build::figure_at(build, id);
    m.question = is_question(id);
    m.assumed = (figure == nullptr || !figure->known()) && build::prior_of(build, id).known();
    list.push_back(std::move(m));
  }
  std::stable_sort(list.begin(), list.end(), [](const Measurement& a, const Measurement& b) {
    if (a.purchases.size() != b.purchases.size()) return a.purchases.size() > b.purchases.size();
    if (urgency(a.blocks) != urgency(b.blocks)) return urgency(a.blocks) < urgency(b.blocks);
    if (a.distance_swing_m != b.distance_swing_m) return a.distance_swing_m > b.distance_swing_m;
    return a.findings.size() > b.findings.size();
  });
  return list;
}

}  // namespace ww::plan
