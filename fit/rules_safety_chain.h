// SPDX-License-Identifier: MIT
// What the files of the safety chain share. Private to fit/.
#pragma once

#include <vector>

#include "fit/rule.h"
#include "wiring/conductor.h"

// A namespace of its own, so that no other family's helper of the same name is meant.
namespace ww::fit::safety_chain {

using wiring::under_cover_K;
/// Above it the rules for dangerous voltage hold: UN R100 and R136, class B of ISO 6469-3.
inline constexpr double dangerous_V = 60;

/// Why a yes-or-no habit has no middle.
inline constexpr std::string_view yes_or_no = "it is so or it is not";

template <class T>
void append(std::vector<T>& to, const std::vector<T>& more) {
  to.insert(to.end(), more.begin(), more.end());
}

/// A yes is needed; the answer is the rule's first need.
inline Outcome must_yes(const In& in) {
  return must(in.yes(0));
}
/// A yes is wanted; the answer is the rule's first need.
inline Outcome should_yes(const In& in) {
  return should(in.yes(0));
}

/// Fuse, cables, lugs (rules_safety_chain_2.cpp).
std::vector<Rule> fuse_and_cable_rules();
/// Contactor, pre-charge, service disconnect (rules_safety_chain_3.cpp).
std::vector<Rule> switching_rules();
/// Charger at its outlet, converter, 12 V side (rules_safety_chain_4.cpp).
std::vector<Rule> charger_and_converter_rules();
/// Isolation, wiring habits, interlocks (rules_safety_chain_4.cpp).
std::vector<Rule> wiring_rules();

/// What only the circuit as a whole tells (rules_safety_chain_5.cpp).
std::vector<Rule> circuit_rules();
std::vector<Fact> circuit_facts();

}  // namespace ww::fit::safety_chain
