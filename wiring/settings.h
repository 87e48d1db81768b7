// SPDX-License-Identifier: MIT
// Every number that is typed into controller, cell monitor and charger, in the order in which they
// must limit: what fades acts before what cuts, what cuts before what burns.
// Invariants:
// 1. A ladder's rungs stand in the order in which they must act as its quantity rises or falls.
// 2. What is suggested keeps every ladder in order, whatever of the other rungs is set.
// 3. Nothing here is written into the build: the builder types, and enters what he typed.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "figure/units.h"
#include "wiring/readings.h"

namespace ww::wiring {

enum class Standing : std::uint8_t { first, in_order, close, wrong, unknown };
std::string_view word(Standing standing);

struct Rung {
  std::string_view
      typed_into;  ///< "controller", "cell monitor", "charger"; empty: a part's own limit
  std::string label;
  std::string_view path;  ///< of the figure in the sheet; empty: worked out
  double value;           ///< in the ladder's unit; NaN where nothing is set or known
  double suggested;       ///< NaN for a part's own limit, or where nothing tells it
  double typed_value,
      typed_suggested;  ///< the same as it is typed: of one cell, where the monitor asks so
  std::string why;
  Standing standing = Standing::unknown;
  /// Whether it is typed as the voltage of one cell.
  bool of_a_cell() const { return path.substr(0, 15) == "limits.bms_cell"; }
};

struct Ladder {
  std::string_view title;
  figure::Kind kind;
  bool rising;          ///< the quantity rises towards the last rung; else it falls
  double margin_share;  ///< practice between a typed rung and the one before it
  double margin;        ///< the same, absolute, in the ladder's unit
  std::vector<Rung> rungs;
  bool holds() const;
};

/// A number that stands in no order.
struct Single {
  std::string_view typed_into;
  std::string_view path;
  std::string_view why;
};

std::vector<Ladder> ladders(const build::Build& build);
const std::vector<Single>& singles();

}  // namespace ww::wiring
