// SPDX-License-Identifier: MIT
// Everything a build needs to be bought: what is chosen, what is missing, what it costs and how
// well that is known, how long it takes, and which purchase waits for which measurement.
// Invariants:
// 1. One currency; sums in integer cents; nothing is converted.
// 2. A line without a price of its own carries the middle of its shelf in the library and says so.
// 3. Freight and duty are added once: as the sheet states them, else as its share of the listed
// price.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "build/goods.h"
#include "build/library.h"
#include "fit/engine.h"

namespace ww::plan {

using build::Build;
using build::Id;

/// Whole cents; a sum of shown prices is exact.
using Cents = long long;

enum class PriceFrom : std::uint8_t { sheet, library, shelf, practice, none };
std::string_view word(PriceFrom from);

struct Line {
  std::string group, what, chosen;  ///< chosen is empty where nothing is
  double quantity = 1;
  std::string unit = {};  ///< "pieces", "m"
  Cents price = 0;        ///< for all of it
  Cents freight = 0;      ///< of that, freight
  Cents half_width = 0;   ///< p10-p90
  PriceFrom from = PriceFrom::none;
  figure::Evidence evidence = figure::Evidence::guess;
  double lead_weeks = -1;  ///< -1: not known
  build::State state = build::State::unknown;
  bool missing = false;            ///< this build needs it and nothing is chosen
  Cents dutiable = 0;              ///< listed price on which duty may still be owed
  Cents duty = 0;                  ///< freight, duty and tax still to come on top of the price
  bool part = true;                ///< contingency is kept for it; not for the donor itself
  std::vector<Id> waits_for = {};  ///< figures to take before money is spent on it
  std::vector<std::string> clashes =
      {};                    ///< rules of this part that clash: not to be ordered as it is
  std::string because = {};  ///< why it waits
};

/// What may be ordered today, and what stands on the longest way.
struct PartsList {
  std::vector<Line> lines;        ///< parts, shop work, papers, in groups
  std::vector<Line> small_parts;  ///< what nobody lists
  std::vector<Line> tools;        ///< not already owned
  Cents parts = 0, small = 0, tooling = 0, duty = 0, contingency = 0, total = 0;
  Cents spent = 0;                      ///< of the lines: what is here or ordered
  Cents total_low = 0, total_high = 0;  ///< p10, p90 of the total
  Cents budget = -1;                    ///< money there is; -1: not said
  int quotes = 0, priced = 0;    ///< lines with a price from a seller's quote, lines with a price
  double duty_share = 0;         ///< of the price of what is still to be landed
  double contingency_share = 0;  ///< of what is still to be bought
  double longest_lead_weeks = 0;
  std::string longest_lead;
};

PartsList parts_list(const Build& build, const build::Library& library,
                     const std::vector<build::Goods>& goods);

/// How many of a slot's part a build takes, spares included: cells, metres of cable, lugs.
double pieces_of(const Build& build, std::string_view slot);

/// Whether the line is paid for: here, or ordered.
bool paid(const Line& line);

/// How the total stands to the budget: "met" where the dear end is within it, "likely met" where
/// the middle is, else "not met". Empty where no budget is said.
std::string_view budget_word(const PartsList& list);

/// Notes on every line the clashes that its part has a hand in.
void note_clashes(PartsList& list, const std::vector<fit::Finding>& findings);

/// In the list of a sketched build: what the builder's own list misses is still to be chosen, and
/// its line says what was sketched in.
void note_sketched(PartsList& list, const PartsList& own);

/// "1 234.50" without a currency.
std::string money_text(Cents cents);

/// "1 235": to the whole, for sums of estimates and for what is give or take.
std::string round_money_text(Cents cents);

}  // namespace ww::plan
