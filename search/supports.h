// SPDX-License-Identifier: MIT
// The parts that follow from the others, each the cheapest of its shelf that clashes with nothing
// chosen before it: throttle, converter, cell monitor, charger, contactor, disconnect, cable, fuse,
// pre-charge. Rules that read a ride are left to the check of the finished build.
#pragma once

#include "search/sieving.h"

namespace ww::search {

/// By place in Space::supports: which option of the shelf; -1 where none of it fits.
using Picks = std::array<std::int16_t, support_slots.size()>;

/// The shelves in order of price, laid out once.
class Supports {
 public:
  Supports(const Layout& layout, const build::Library& library);

  struct Option {
    const build::LibraryPart* part;
    fit::Sieve::PiecePtr piece;
    double money;  ///< price and freight of one
    double weeks;  ///< 0 where not known
  };
  /// Rules that read the same axes and derived parts, judged once for each combination of them. May
  /// be filled from several threads, as a RuleTable.
  struct Table {
    Reads reads;
    std::vector<std::size_t> rules;
    std::vector<std::pair<std::size_t, std::size_t>> axes;     ///< axis, stride
    std::vector<std::pair<std::size_t, std::size_t>> earlier;  ///< shelf, stride
    std::vector<std::size_t> later;  ///< shelves a rule may read and need not: still empty
    Verdicts verdicts;  ///< the shelf's own options first; 1: none clashes, 2: one does
  };
  struct Shelf {
    const build::Slot* slot;
    std::vector<Option> options;  ///< cheapest first
    std::vector<Table> tables;    ///< of rules judged once this and what stands before it are laid
    double pieces;                ///< how many are bought
    double middle_money;          ///< of the shelf: what one that is not on it may cost
  };
  const std::vector<Shelf>& shelves() const { return shelves_; }

 private:
  void add_table(const Layout& layout, std::size_t shelf, const Reads& together,
                 std::vector<std::size_t> rules);

  std::vector<Shelf> shelves_;
};

/// The picks for one set of options. One a thread.
class Picker {
 public:
  Picker(const Supports& supports, Trial& trial);
  Picks pick(const At& at);
  /// The same where rules that read a ride count, too: by shelf, those to judge once it is laid.
  /// Valid: the axes, the limits and the ride are laid.
  using RideRules = std::array<std::vector<std::size_t>, support_slots.size()>;
  Picks pick(const At& at, const RideRules& rules);
  void lay(const Picks& picks);

 private:
  std::int16_t pick_one(const At& at, const Picks& before, std::size_t shelf,
                        const std::vector<std::size_t>& ride_rules);
  bool clashes(const At& at, const Picks& before, std::size_t shelf, const Supports::Table& table,
               std::int16_t option);
  void lay_one(std::size_t shelf, std::int16_t option);

  const Supports* supports_;
  Trial* trial_;
  std::array<int, support_slots.size()> laid_;
};

/// Price and freight of a part, the freight alone, and its weeks of waiting; 0 where not known.
double money_of(const build::LibraryPart& part);
double freight_of(const build::LibraryPart& part);
double weeks_of(const build::LibraryPart& part);

}  // namespace ww::search
