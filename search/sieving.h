// SPDX-License-Identifier: MIT
// The rules as tables: which options of which axes clash, judged once for each combination of the
// axes that a rule reads, so that nothing that clashes is ever combined further. Invariant: a
// combination passes if and only if no rule that reads an open axis, no ride and no derived part
// clashes on the build made of it. Checked by: tests/search (against every combination judged on
// its own).
#pragma once

#include <algorithm>
#include <atomic>
#include <memory>
#include <optional>
#include <vector>

#include "fit/sieve.h"
#include "search/space.h"

namespace ww::search {

/// An option on each axis, by its place in the space.
using At = std::array<std::uint8_t, axis_count>;
using AxisBits = std::uint32_t;
constexpr AxisBits bit(Axis axis) {
  return 1U << index_of(axis);
}
inline constexpr AxisBits gearing_axes =
    bit(Axis::front_teeth) | bit(Axis::rear_teeth) | bit(Axis::chain);

/// What a rule reads of a search: open axes, derived parts (by bit of Space::supports), ride
/// answers.
struct Reads {
  AxisBits axes = 0;
  std::uint32_t supports = 0;
  bool battery_limit = false, phase_limit = false;
  bool ride = false;
};

/// Everything about a space that does not change while it is searched.
class Layout {
 public:
  explicit Layout(const Space& space);

  const Space& space() const { return *space_; }
  const Reads& reads(std::size_t rule) const { return reads_[rule]; }
  const fit::Sieve::PiecePtr& piece(Axis axis, std::size_t option) const {
    return pieces_[index_of(axis)][option];
  }
  /// A motor in the wheel has no chain: its gearing axes stand still.
  bool geared(std::size_t motor) const { return geared_[motor] != 0; }
  /// How many combinations there are after an axis, this motor being laid.
  double combinations_after(Axis axis, std::size_t motor) const;
  /// How many there are before anything is asked of them.
  double combinations() const;
  /// Whether a rule is left out of the tables.
  bool aside(std::size_t rule) const {
    const auto& aside = space_->aside;
    return std::find(aside.begin(), aside.end(), rule) != aside.end();
  }
  bool derives_battery_limit() const { return derives_battery_; }
  bool derives_phase_limit() const { return derives_phase_; }
  bool sets_drive() const { return sets_drive_; }
  const fit::Sieve& start() const { return start_; }

 private:
  Reads reads_of(std::size_t rule) const;

  const Space* space_;
  fit::Sieve start_;
  bool derives_battery_, derives_phase_, sets_drive_;
  std::array<std::vector<fit::Sieve::PiecePtr>, axis_count> pieces_;
  std::vector<std::uint8_t> geared_;
  std::vector<Reads> reads_;
};

/// A build under the hand: options are laid as they are asked for.
class Trial {
 public:
  explicit Trial(const Layout& layout);

  /// Lays the options of these axes.
  void lay(const At& at, AxisBits axes);
  /// The limits a builder would set: no more than cells and motor stand. Valid: controller, cell,
  /// parallel, motor laid.
  void set_limits();
  void lay_limits(const At& at, const Reads& reads);
  fit::Sieve& sieve() { return sieve_; }
  const Layout& layout() const { return *layout_; }

 private:
  void lay_motor(std::size_t option);
  void set_battery_limit();
  void set_phase_limit();

  const Layout* layout_;
  fit::Sieve sieve_;
  std::array<int, axis_count> laid_;
  bool geared_ = true;
};

/// What was judged of every combination of some choices, kept by place. May be filled from several
/// threads: two may work out the same entry, to the same end.
class Verdicts {
 public:
  /// One more choice with so many options: what one option of it adds to a place.
  std::size_t along(std::size_t options) {
    const std::size_t stride = size_;
    size_ = size_ > largest ? size_ : size_ * options;
    return stride;
  }
  /// To be called once, after the last choice. Too many combinations are not kept.
  void make() {
    if (size_ <= largest) kept_ = std::make_unique<std::atomic<std::uint16_t>[]>(size_);
  }
  /// As `judge` gives it, asked the first time only; `judge` gives no 0.
  template <class Judge>
  std::uint16_t at(std::size_t place, const Judge& judge) const {
    if (kept_ == nullptr) return judge();
    std::atomic<std::uint16_t>& kept = kept_[place];
    std::uint16_t verdict = kept.load(std::memory_order_relaxed);
    if (verdict == 0) kept.store(verdict = judge(), std::memory_order_relaxed);
    return verdict;
  }

 private:
  static constexpr std::size_t largest = std::size_t{1} << 25;
  std::size_t size_ = 1;
  std::unique_ptr<std::atomic<std::uint16_t>[]> kept_;
};

/// Rules that read the same axes, with their verdicts so far. May be asked from several threads:
/// two may work out the same entry, to the same end.
class RuleTable {
 public:
  RuleTable(const Space& space, AxisBits axes, std::vector<std::size_t> rules, Reads together);

  AxisBits axes() const { return reads_.axes; }
  const std::vector<std::size_t>& rules() const { return rules_; }
  /// The first rule that clashes.
  std::optional<std::size_t> clash(Trial& trial, const At& at) const;

 private:
  std::optional<std::size_t> judged(Trial& trial, const At& at) const;

  Reads reads_;
  std::vector<std::size_t> rules_;
  std::vector<std::pair<std::size_t, std::size_t>> strides_;  ///< axis, stride
  Verdicts verdicts_;                                         ///< 1: none clashes, else rule + 2
};

/// All tables, by the last axis that each reads.
class Tables {
 public:
  explicit Tables(const Layout& layout);
  const std::vector<RuleTable>& at(Axis last) const { return by_last_[index_of(last)]; }

 private:
  std::array<std::vector<RuleTable>, axis_count> by_last_;
};

}  // namespace ww::search
