// SPDX-License-Identifier: MIT
// What may be chosen: the open axes of a build and the options on each. Invariants:
// 1. An axis that is not open has one option: what the sheet has.
// 2. What was measured or set for a part that is open (its mock-up, its limits, its sprockets) is
//    taken out of the build before the search: it belongs to the other part.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "build/library.h"

namespace ww::search {

using build::Build;
using build::Id;

/// In the order of the search: what prunes most comes first, what costs nothing to vary last.
enum class Axis : std::uint8_t {
  motor,
  controller,
  cell,
  series,
  front_teeth,
  rear_teeth,
  chain,
  parallel,
  count
};
inline constexpr std::size_t axis_count = static_cast<std::size_t>(Axis::count);
constexpr std::size_t index_of(Axis axis) {
  return static_cast<std::size_t>(axis);
}
/// "motor", "front_teeth": the word of --open and of JSON.
std::string_view word(Axis axis);
/// -1 where there is no such axis.
int axis_of(std::string_view word);

/// The parts that follow from the others: the cheapest of each that fits, in this order.
inline constexpr std::array<std::string_view, 10> support_slots{
    "throttle",   "dcdc",       "bms",  "charger",   "contactor",
    "disconnect", "cable_main", "fuse", "precharge", "cable_phase"};

struct Span {
  int least, most;
};

struct Ask {
  /// Axes the search may change, by bit; the builder's own parts that are here stay by default.
  std::uint32_t open = 0;
  bool has(Axis axis) const { return ((open >> index_of(axis)) & 1U) != 0; }
  void add(Axis axis) { open |= 1U << index_of(axis); }

  std::vector<std::string> without;  ///< "motor/some-id": never this one
  std::vector<std::string> own;      ///< "motor/some-id": the builder's own shortlist
  bool own_first = true;             ///< where a shelf has own parts, only those
  /// Rules left aside, by place in the rule book: to find which one is in the way.
  std::vector<std::size_t> aside;
  Span series{1, 40}, parallel{1, 60};
  Span front_teeth{12, 18}, rear_teeth{34, 62};
};

/// Every axis that the sheet leaves open: no part there, or one that is only thought of.
std::uint32_t open_by_sheet(const Build& build);

struct Option {
  const build::LibraryPart* part = nullptr;  ///< of a part's axis; null: what the sheet has
  int number = 0;                            ///< of a counted axis
  bool own = false;                          ///< from the builder's shortlist
};

struct Space {
  Build base;  ///< the sheet, cleared of what belongs to open parts
  std::uint32_t open = 0;
  std::array<std::vector<Option>, axis_count> options;
  std::vector<std::string_view> supports;  ///< slots to be derived, in order
  std::vector<std::size_t> aside;          ///< rules that no table holds
  bool has(Axis axis) const { return ((open >> index_of(axis)) & 1U) != 0; }
  const std::vector<Option>& of(Axis axis) const { return options[index_of(axis)]; }
};

/// Teeth are those that the sprockets of the shelf come with: others are made to order, and the
/// search need not have them to find the ratio. An empty axis: the shelf has nothing of it.
Space space_of(const Build& build, const build::Library& library, const Ask& ask);

}  // namespace ww::search
