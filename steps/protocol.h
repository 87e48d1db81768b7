// SPDX-License-Identifier: MIT
// The whole protocol of a build: pack, wires, first power-up, first rides, each step judged by the
// log of the sheet. What the room is asked.
#pragma once

#include <string>
#include <vector>

#include "ride/ride.h"
#include "steps/live.h"
#include "steps/sorting.h"
#include "steps/step.h"

namespace ww::steps {

struct Stranger {
  std::string id, nearest;  ///< in the log, but no step of this build; the nearest there is
};

struct WireState {
  int wire;  ///< of the circuit
  bool laid;
  Reach reach;
};

struct Protocol {
  std::vector<Step> steps;
  Sorted sorted;
  wiring::Circuit circuit;
  std::vector<WireState> wires;  ///< in the order of the circuit
  std::vector<Stranger> strangers;
  double full_V;

  const Step* step(std::string_view id) const;
  int count(Verdict verdict) const;
};

/// Valid: any build and its ride. Deterministic; reads nothing but its arguments.
Protocol protocol(const build::Build& build, const ride::Ride& ride);

/// The steps that may be done now, in order: open ones, and those whose reading did not pass.
std::vector<const Step*> next_steps(const Protocol& protocol);

/// Whether the log of this build may take a step of this name, and what else it may have meant.
std::string nearest_step(const Protocol& protocol, std::string_view id);

}  // namespace ww::steps
