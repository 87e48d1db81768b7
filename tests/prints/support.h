// SPDX-License-Identifier: MIT
// The drawings' subjects: a build with its circuit and sizes.
#pragma once

#include <map>

#include "plan/dream.h"
#include "prints/prints.h"
#include "tests/support/circuits.h"

namespace ww::prints {

struct Made {
  build::Build build;
  Electrics electrics;
  const ride::Ride* ride;
  Subject subject() const {
    return {.build = &build,
            .circuit = &electrics.circuit,
            .sizing = &electrics.sizing,
            .ride = ride,
            .name = "a build",
            .date = "2026-05-31"};
  }
};

/// The ride only sizes the wires: one of each demo is enough, also for builds answered at random.
inline const ride::Ride& ride_of(const std::string& name, const build::Build& build) {
  static std::map<std::string, ride::Ride> rides;
  const auto at = rides.find(name);
  if (at != rides.end()) return at->second;
  return rides[name] = ride::ride(build, support::cycles(), {.draws = 0, .pushes = false});
}

inline Made made(const std::string& name) {
  const build::Build own = support::demo(name);
  Made out{plan::sketch(own, support::library()).build, {}, nullptr};
  out.ride = &ride_of(name, out.build);
  out.electrics = electrics(out.build, &own, *out.ride);
  return out;
}

inline Made made_at_random(unsigned seed) {
  Made out{support::answered_at_random(seed), {}, nullptr};
  out.ride = &ride_of("commuter", support::demo("commuter"));
  out.electrics = electrics(out.build, nullptr, *out.ride);
  return out;
}

}  // namespace ww::prints
