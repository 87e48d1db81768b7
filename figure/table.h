// SPDX-License-Identifier: MIT
// The closed table of units, for the reader and the printer. Internal to this floor.
// Invariants:
// 1. Rows of a kind stand together, in the order of the kinds; the first row of a kind is its SI
// unit (factor 1).
// 2. A spelling stands once in a kind. It may stand in several kinds ("g", "C", "F").
// 3. Spellings are ASCII, as tidy_unit() leaves them; other signs are brought to these before the
// look-up.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "figure/decimal.h"
#include "figure/units.h"

namespace ww::figure {

constexpr int kind_count = static_cast<int>(Kind::volume_flow) + 1;

struct Row {
  Kind kind;
  std::string_view spelling;
  Scale scale;
};

/// The rows of one kind, for a range-for.
struct Rows {
  const Row* first;
  const Row* last;
  const Row* begin() const { return first; }
  const Row* end() const { return last; }
};
Rows rows_of(Kind kind);

/// The row with exactly this spelling; nullptr where there is none.
const Row* find_exact(Kind kind, std::string_view spelling);

/// What a sloppy spelling ("KG", "8000w") may stand for: one row, none, or two that differ.
struct Match {
  const Row* row;    // nullptr where none fits
  const Row* other;  // nullptr but where a second one of another size fits as well
};
/// First as spelled, then without regard to case where exactly one unit of the kind is meant. A
/// change between m and M that turns one SI unit into another (mJ, MJ) is no match.
Match find_unit(Kind kind, std::string_view spelling);

/// A currency's ISO 4217 code, USD for a bare "$"; empty where it is none. Only common codes may
/// stand in small letters.
std::string currency(std::string_view text);

/// "a voltage", "an energy".
std::string with_article(Kind kind);

/// Whether a convention word belongs to the kind.
bool takes_convention(Kind kind);

}  // namespace ww::figure
