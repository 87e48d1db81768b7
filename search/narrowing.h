// SPDX-License-Identifier: MIT
// What is still possible once the wishes move, out of what was ridden already; and what can be said
// while a hunt still runs. Invariants:
// 1. Where `exact` is set, the answer is the one that a new hunt with those wishes would give.
// 2. Nothing is ridden through a cycle again; what would enter the trade-offs has its last check,
// once.
// Checked by: tests/search/narrowing_test.cpp (against new hunts).
#pragma once

#include "search/choosing.h"

namespace ww::search {

/// Why an answer out of old records may lack bikes.
enum class Lack : std::uint8_t {
  nothing,  ///< it lacks none
  looser,   ///< a must is looser than the hunt's, or gone: what failed it was not kept
  ended,    ///< the hunt was ended, or kept no more
  nearest   ///< nothing met every wish, and only what came nearest to those was kept
};
/// Of moved musts against those the records were kept by.
Lack lack_of(const Choosing& chosen, const std::vector<Must>& musts);

/// The records that meet every must, in their order.
std::vector<Index> within(const std::vector<Record>& records, const std::vector<Must>& musts);

struct Narrowed {
  Lack lack = Lack::nothing;
  std::size_t within = 0;    ///< records that meet every must
  std::vector<Index> front;  ///< of these, worth choosing between
  std::vector<Index> list;   ///< a few that differ, best first
  Worth worth;
  std::vector<Decision> decisions;
  std::vector<Relaxation> relaxations;  ///< where none meets every must; the list is their bikes
  bool exact() const { return lack == Lack::nothing; }
};

/// Filters the records of one hunt, again and again. Keeps which of them stood the last check. One
/// a thread. Indices are those of the hunt's records.
class Narrower {
 public:
  explicit Narrower(const Choosing& chosen, ride::Runner runner = ride::run_in_turn);
  Narrowed narrow(const Wishes& wishes, std::size_t list_length = 5);

 private:
  std::vector<bool> stand(const std::vector<Index>& asked);

  const Choosing& chosen_;
  LastCheck last_;
  std::vector<std::uint8_t> stood_;  ///< 0 not asked, 1 it stands, 2 it does not
};

/// A hunt as it goes: what came in so far, at little cost a record. Nothing here has had its last
/// check, and the order may change with what comes.
class SoFar {
 public:
  SoFar(const Wishes& wishes, std::size_t points) : wishes_(wishes), points_most_(points) {}
  /// Forgets what it has: another hunt begins.
  void clear();
  void add(const std::vector<Record>& fresh);
  /// A few that differ, best first, by the spans of what is here.
  std::vector<Record> list(std::size_t most) const;
  /// Evenly taken from all that came.
  const std::vector<Record>& points() const { return points_; }
  std::size_t seen() const { return seen_; }

 private:
  Worth worth() const;
  void prune();

  Wishes wishes_;
  std::size_t points_most_, seen_ = 0, every_ = 1;
  std::vector<Record> points_, best_;
  std::array<float, traded_count> low_{}, high_{};
};

/// Least and most of a quantity among records, leaving aside what is never reached.
struct Reached {
  float least, most;
  bool any;
};
std::array<Reached, quantity_count> reached(const std::vector<Record>& records);

}  // namespace ww::search
