// SPDX-License-Identifier: MIT
// What a single failure does in this build, with its numbers, and what of this build stands against
// it.
// Invariants:
// 1. A guard is said to be there only where the sheet answers so; what is not answered is named as
//    such.
// 2. No verdict: that no failure is listed here says nothing. Two failures at once are not looked
//    at, but for the isolation fault, which waits for its second.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "wiring/sizing.h"

namespace ww::wiring {

struct Guard {
  enum class Standing : std::uint8_t { there, lacking, unanswered } standing;
  std::string what;
  std::string_view path;  ///< the answer or figure in the sheet that says so
  std::string_view rule;  ///< the check that judges it; empty where none does
};
std::string_view word(Guard::Standing standing);

/// One number of a failure: a name, its kind, its value; NaN where a figure is missing.
struct FailureSum {
  std::string_view label;
  figure::Kind kind;
  double value;
  std::string sum;  ///< to be redone on a pocket calculator
};

struct Failure {
  std::string_view id, title;
  std::string happens, noticed;
  std::vector<FailureSum> sums;
  std::vector<Guard> guards;
  std::string caution;
};

/// Current through a body of 1 kohm from hand to hand is what IEC 60479-1 works with, from memory;
/// wet skin has less.
inline constexpr double body_ohm = 1000;

std::vector<Failure> failures(Readings& sheet, const Circuit& circuit, const Sizing& sizing);

}  // namespace ww::wiring
