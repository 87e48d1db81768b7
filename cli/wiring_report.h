// SPDX-License-Identifier: MIT
// The circuit as text and as JSON: wires with size, lug, fuse, colour and label, fuses, 12 V,
// pre-charge, contactor, shorts, each with its caution beside it.
#pragma once

#include <string>

#include "cli/session.h"
#include "wiring/failures.h"
#include "wiring/sums.h"

namespace ww::cli {

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

std::string wiring_report(const Opened& opened, const Checked& checked, const Wired& w,
                          const Options& options);
std::string wiring_json(const Opened& opened, const Checked& checked, const Wired& w);

/// Whether a rule is one of the electrical lines of the catalogue that the circuit answers to.
bool judges_wiring(const fit::Rule& rule);

}  // namespace ww::cli
