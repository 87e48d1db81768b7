// SPDX-License-Identifier: MIT
// A builder at the bench, made up: builds with their cells measured, and readings for their steps.
#pragma once

#include <cmath>
#include <random>

#include "steps/protocol.h"
#include "tests/support/world.h"

namespace ww::steps {

using build::Build;

inline const std::vector<std::string>& demos() {
  static const std::vector<std::string> names{"commuter", "beginner",  "trail",    "road",
                                              "dream",    "two-parts", "reference"};
  return names;
}

/// The ride without spreads: enough for the sizes of wires and for what it eats.
inline ride::Ride plain_ride(const Build& build) {
  ride::RideOptions options;
  options.draws = 0;
  options.pushes = false;
  return ride::ride(build, support::cycles(), options);
}

/// As many cells as the pack wants and a few more, each measured; all much alike.
inline void measure_cells(Build& build, std::mt19937& random, double spread = 0.004) {
  build.units.clear();
  if (!build.pack.has_value() || !build.cell.has_value()) return;
  std::normal_distribution<double> like(1, spread);
  const int wanted = std::max(0, build.pack->series) * std::max(0, build.pack->parallel);
  for (int i = 0; i < wanted + wanted / 20; ++i) {
    build::MeasuredUnit u;
    u.name = "C" + std::to_string(i);
    u.voltage.value =
        build.cell->voltage_nominal.value * (1 + 0.0005 * (like(random) - 1) / spread);
    u.capacity.value = build.cell->capacity.value * like(random);
    u.resistance.value = build.cell->resistance.value * like(random);
    build.units.push_back(u);
  }
}

inline std::string typed(double value, figure::Kind kind) {
  return figure::print_exact(
      value, kind, figure::si_unit_of(kind),
      kind == figure::Kind::phase_current ? figure::Convention::peak : figure::Convention::unsaid);
}

/// A value well inside the band; NaN where there is none.
inline double inside(const Expect& e) {
  const bool low = std::isfinite(e.low), high = std::isfinite(e.high);
  if (std::isnan(e.low) || std::isnan(e.high) || e.low > e.high) return std::nan("");
  if (low && high) return 0.5 * (e.low + e.high);
  return low ? 2 * e.low + 1 : high ? 0.5 * e.high : 0;
}

inline std::string good_reading(const Step& step) {
  if (step.tick) return "yes";
  const double value = inside(step.expect);
  return std::isnan(value) ? std::string() : typed(value, step.kind);
}

inline void log(Build& build, const std::string& step, const std::string& reading) {
  build.log.push_back({step, reading, "meter", "2026-11-28", {}, {}});
}

/// Reads every step, and those anew that did not pass because an earlier reading moved their band,
/// until nothing changes.
inline Protocol walked(Build& build, const ride::Ride& ride) {
  Protocol p = protocol(build, ride);
  for (int round = 0; round < 100; ++round) {
    bool any = false;
    for (const Step& step : p.steps) {
      const bool wanted = step.reading() == nullptr || step.verdict == Verdict::outside;
      if (step.from_sheet || !wanted) continue;
      const std::string reading = good_reading(step);
      if (reading.empty()) continue;
      log(build, step.id, reading);
      any = true;
    }
    if (!any) break;
    p = protocol(build, ride);
  }
  return p;
}

}  // namespace ww::steps
