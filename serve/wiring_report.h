// SPDX-License-Identifier: MIT
// The circuit in words: wires with size, lug, fuse, colour and label, fuses, 12 V, pre-charge,
// contactor, shorts, failures, each with its caution beside it; and the settings sheet. Told once,
// printed by the command line and shown on the page.
#pragma once

#include <string>

#include "serve/evaluate.h"
#include "serve/layout.h"
#include "wiring/failures.h"
#include "wiring/sums.h"

namespace ww::serve {

/// A circuit with everything worked out for it.
struct Wired {
  wiring::Circuit circuit;
  wiring::Sizing sizing;
  wiring::StartSums start;
  wiring::ContactorSums contactor;
  wiring::SupplySums supply;
  std::vector<wiring::Fault> faults;
  std::vector<wiring::Failure> failures;
  std::vector<build::Id> missing;
  double full_V;
};
Wired wired(const Checked& checked);

struct WiringWords {
  figure::System units = figure::System::metric;
  bool all = false;  ///< why each wire is there, and what nobody has answered, too
};
Told wiring_report(const Checked& checked, const Wired& w, const WiringWords& options);

/// The settings sheet: every number typed into controller, monitor and charger.
Told settings_report(const build::Build& build, figure::System units);

/// Whether a rule is one of the electrical lines of the catalogue that the circuit answers to.
bool judges_wiring(const fit::Rule& rule);

}  // namespace ww::serve
