// SPDX-License-Identifier: MIT
// The whole way from a sheet to a short list: hunt, trade-offs that stand the last check, what to
// decide first, and what would have to give way where nothing meets every wish.
#pragma once

#include "search/best.h"

namespace ww::search {

/// What is needed beside the sheet.
struct Shop {
  const build::Library& library;
  const std::vector<build::Goods>& goods;
  const ride::Cycles& cycles;
};

/// Where nothing fits whatever is chosen: rules that, left aside together, let something fit.
struct Lock {
  std::vector<std::size_t> rules;  ///< by place in the rule book
  double fitting = 0;              ///< how many combinations
};

struct Choosing {
  std::unique_ptr<Ground> ground;
  Wishes wishes;
  bool loose = false;    ///< nothing meets every must: the records are what fits, wishes left aside
  bool nearest = false;  ///< loose, and too much fits: the records are those that come nearest when
                         ///< as few wishes as possible give way, no others
  bool widened = false;  ///< the own shortlist alone gave nothing that fits: the library came in
  Hunted hunted;
  std::vector<Index> front;  ///< worth choosing between: trade-offs that stand the last check
  std::vector<Index> list;   ///< a few of them that differ, best first
  Worth worth;
  std::vector<Decision> decisions;
  std::vector<Relaxation> relaxations;  ///< only where loose
  std::vector<Lock> locks;              ///< only where nothing fits; what lets most fit first
  std::vector<std::pair<std::string, std::size_t>>
      fell_last;  ///< rules of the last check, how often

  const Record& record(Index index) const { return hunted.records[index]; }
  /// The finished build of a record, its derived parts picked for its own ride.
  Build build_of(Index index) const;
};

/// What still clashes on a finished build, wishes aside, nominally: rules that block no step, and
/// those that no part of the search could have helped. Ids, in the order of findings.
std::vector<std::string> left_to_settle(const Build& build, const Shop& shop);

Choosing choose(const Build& build, const Shop& shop, const Ask& ask, const Wishes& wishes,
                const HuntOptions& options, std::size_t list_length = 5);

/// Why a part is not on the short list.
struct WhyNot {
  bool known = false;          ///< the shelf has it
  double fitting = 0;          ///< combinations with it that clash with nothing
  std::size_t meeting = 0;     ///< of them, that meet every must
  double loss = 0;             ///< the best of these against the best of all, in money's worth
  std::optional<Record> best;  ///< of those that meet every must
  std::vector<std::pair<std::string, double>> rules;  ///< that its combinations fell to, most first
  std::vector<Relaxation> relaxations;                ///< where it fits and meets not every must
  std::vector<Record> relaxed;                        ///< the record of each relaxation
};
/// Valid: a part axis ("motor", "controller", "cell", "chain").
WhyNot why_not(const Build& build, const Shop& shop, Ask ask, const Choosing& chosen, Axis axis,
               const std::string& id, const HuntOptions& options);

/// "10 kW, 72 V class": what to shop for instead of an invented part. Figures that decide, in
/// words.
std::string specification(const build::LibraryPart& part, figure::System units);

}  // namespace ww::search
