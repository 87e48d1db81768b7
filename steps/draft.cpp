// SPDX-License-Identifier: MIT
#include "steps/draft.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/check.h"
#include "base/text.h"

namespace ww::steps {

namespace {

struct MeterInfo {
  std::string_view name;
  double share, absolute;  // SI
};

// From memory: what a hobby meter of its kind promises, a digit or two and its leads added.
constexpr std::array<MeterInfo, 14> meters{{{"eyes and hands", 0, 0},
                                            {"hands", 0, 0},
                                            {"multimeter, volts DC", 0.005, 0.02},
                                            {"multimeter, ohms", 0.01, 0.1},
                                            {"four-wire milliohm meter", 0.02, 0.02e-3},
                                            {"insulation tester", 0.05, 0},
                                            {"clamp meter, DC", 0.025, 0.2},
                                            {"multimeter, milliamps", 0.01, 0.1e-3},
                                            {"stopwatch", 0, 0.3},
                                            {"satellite speedometer", 0, 0.3},
                                            {"the controller's own display", 0.01, 0},
                                            {"thermometer", 0, 2},
                                            {"tape", 0, 0.1},
                                            {"drill, tachometer, volts AC", 0.03, 0}}};

const MeterInfo& info_of(Meter meter) {
  return meters[static_cast<std::size_t>(meter)];
}

void add_all(std::vector<std::string>& to, const std::vector<std::string>& from) {
  for (const auto& id : from) {
    if (std::find(to.begin(), to.end(), id) == to.end()) to.push_back(id);
  }
}

Reading understood(const build::LogEntry& entry, const Step& step) {
  Reading out{entry.reading, entry.instrument, entry.date, entry.photo, entry.note};
  const std::string_view text = trim(entry.reading);
  if (step.tick) {
    const std::string word = lower(text);
    if (word == "yes" || word == "done") {
      out.value = 1;
    } else if (word == "no") {
      out.value = 0;
    } else {
      out.refused = "this step is answered with yes or no";
    }
    return out;
  }
  const auto read = figure::read(text, step.kind);
  if (!read) {
    out.refused = read.error().what;
    return out;
  }
  const double factor = ride::canonical_factor(step.kind, read->convention);
  out.value = read->value * factor;
  if (!std::isnan(read->half_width)) out.half_width = read->half_width * factor;
  return out;
}

Verdict judged(const Step& step, const Reading& reading) {
  if (!reading.refused.empty() || !std::isfinite(reading.value) ||
      !std::isfinite(reading.half_width))
    return Verdict::unreadable;
  if (step.tick) return reading.value == 1 ? Verdict::within : Verdict::outside;
  const bool above = reading.value >= step.expect.low, below = reading.value <= step.expect.high;
  if (!(above && below)) return Verdict::outside;
  const bool wholly = reading.value - reading.half_width >= step.expect.low &&
                      reading.value + reading.half_width <= step.expect.high;
  return wholly ? Verdict::within : Verdict::doubtful;
}

}  // namespace

std::string_view tool_of(Meter meter) {
  return info_of(meter).name;
}

double error_of(Meter meter, double value) {
  return info_of(meter).share * std::abs(value) + info_of(meter).absolute;
}

std::string shown(double value, figure::Kind kind) {
  return std::isnan(value) ? "?" : figure::print(value, kind);
}

Draft::Draft(const build::Build& build, const ride::Ride& ride)
    : build_(&build),
      ride_(&ride),
      numbers_(build),
      circuit_(wiring::circuit(build)),
      sizing_(wiring::size(build, circuit_, ride)),
      sorted_(sort_units(build)) {
  wiring::Readings readings(build);
  start_ = wiring::start_sums(readings);
  const double unit_V = numbers_("cell.voltage_max");
  if (sorted_.series > 0 && unit_V > 0)
    order_ = joint_order(sorted_.series, unit_V, numbers_.yes("pack.mid_disconnect"));
  full_V_ = numbers_("pack.series") * numbers_("cell.voltage_max");
}

Expect Draft::around(const Formula& formula, std::string sum, Meter meter,
                     const Window& window) const {
  const auto s = numbers_.sum(formula);
  Expect out;
  out.sum = std::move(sum);
  out.missing = s.missing;
  out.value = s.value;
  out.bounds = "waits for a figure that the sheet does not have";
  if (std::isnan(s.value)) return out;
  const double half = 2 * s.half_width + error_of(meter, s.value);
  out.low = std::max(s.value - half, window.low);
  out.high = std::min(s.value + half, window.high);
  const bool clipped = out.low == window.low || out.high == window.high;
  out.bounds = "what the sheet's figures and the meter leave open";
  if (clipped && !window.why.empty()) out.bounds += ", and " + std::string(window.why);
  if (out.low > out.high)
    out.bounds =
        "no reading passes: the sheet's own figures lie outside " + std::string(window.why);
  return out;
}

Expect Draft::between(double low, double high, std::string why) {
  Expect out;
  out.low = low;
  out.high = high;
  out.bounds = std::move(why);
  return out;
}

Expect Draft::at_least(double low, std::string why) {
  return between(low, std::numeric_limits<double>::infinity(), std::move(why));
}

void Draft::judge(Step& step) const {
  std::vector<std::string> stopping, before;
  for (const auto& id : step.needs) {
    const Step& need = steps_[at_.at(id)];
    if (need.verdict == Verdict::within) continue;
    // Whoever stops the need stops this one: the root is what helps to know.
    if (need.verdict == Verdict::stopped) {
      add_all(stopping, need.held_by);
    } else if (stops(need.verdict)) {
      add_all(stopping, {id});
    } else {
      add_all(before, {id});
    }
  }
  const Reading* reading = step.reading();
  const bool no_band = !step.tick && (!step.expect.missing.empty() || std::isnan(step.expect.low) ||
                                      std::isnan(step.expect.high));
  step.alone = reading == nullptr ? Verdict::open
               : no_band          ? Verdict::unjudged
                                  : judged(step, *reading);
  if (!stopping.empty()) {
    step.verdict = Verdict::stopped;
    step.held_by = std::move(stopping);
  } else if (!before.empty()) {
    step.verdict = reading == nullptr ? Verdict::waiting : Verdict::stopped;
    step.held_by = std::move(before);
  } else {
    step.verdict = no_band ? Verdict::unjudged : step.alone;
  }
}

void Draft::add(Declared d) {
  Step step{.id = std::move(d.id),
            .stage = stage_,
            .title = std::move(d.title),
            .doing = std::move(d.doing),
            .tool = std::string(tool_of(d.meter)),
            .caution = std::move(d.caution),
            .tick = d.tick,
            .kind = d.kind,
            .expect = std::move(d.expect),
            .needs = {},
            .tree = std::move(d.tree),
            .live = std::move(d.live),
            .learns = std::move(d.learns),
            .readings = {},
            .held_by = {}};
  for (const auto& id : d.needs) {
    const auto gone = dropped_.find(id);
    if (gone != dropped_.end()) {
      add_all(step.needs, gone->second);
      continue;
    }
    if (at_.count(id) == 0) assertion_failed(id.c_str(), "a step before it", 0);
    add_all(step.needs, {id});
  }
  for (const auto& entry : build_->log) {
    if (entry.step == step.id) step.readings.push_back(understood(entry, step));
  }
  judge(step);
  at_[step.id] = steps_.size();
  steps_.push_back(std::move(step));
}

void Draft::add_if(bool applies, Declared declared) {
  if (applies) {
    add(std::move(declared));
  } else {
    drop(declared.id, declared.needs);
  }
}

void Draft::drop(const std::string& id, const std::vector<std::string>& needs) {
  std::vector<std::string>& handed_on = dropped_[id];
  for (const auto& need : needs) {
    const auto gone = dropped_.find(need);
    add_all(handed_on, gone == dropped_.end() ? std::vector{need} : gone->second);
  }
}

void Draft::add_from_sheet(Declared declared, double value, std::string text) {
  add(std::move(declared));
  Step& step = steps_.back();
  step.from_sheet = true;
  step.readings.clear();
  if (!std::isnan(value)) step.readings.push_back({std::move(text), {}, {}, {}, {}, value});
  step.held_by.clear();
  judge(step);
}

double Draft::passed(std::string_view id) const {
  const auto at = at_.find(std::string(id));
  if (at == at_.end() || steps_[at->second].verdict != Verdict::within) return std::nan("");
  return steps_[at->second].reading()->value;
}

std::vector<std::string> Draft::strangers() const {
  std::vector<std::string> out;
  for (const auto& entry : build_->log) {
    if (at_.count(entry.step) == 0) add_all(out, {entry.step});
  }
  return out;
}

}  // namespace ww::steps
