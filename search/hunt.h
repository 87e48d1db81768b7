// SPDX-License-Identifier: MIT
// Every combination that fits, ridden. Invariants:
// 1. Nothing that clashes is ridden, nothing that fits is lost.
// 2. The records are the same, in the same order, whatever the number of workers.
// 3. A combination's numbers are those that a ride of the build made of it gives.
// Checked by: tests/search (against every combination made and ridden on its own).
#pragma once

#include <functional>

#include "build/goods.h"
#include "ride/ride.h"
#include "search/supports.h"
#include "search/wishes.h"

namespace ww::search {

/// One combination that fits and was ridden.
struct Record {
  At at;
  Picks picks;
  Numbers numbers;
};

struct Progress {
  std::size_t tasks_done, tasks;
  std::size_t ridden, records;
  double considered, fitting;  ///< combinations of the tasks done; of these, that fit before a ride
  const std::vector<Record>* fresh;  ///< since the last
};

struct HuntOptions {
  ride::Runner runner = ride::run_in_turn;
  /// Called from any worker, one at a time, now and then within a task and at the end of each;
  /// false stops the hunt.
  std::function<bool(const Progress&)> watch;
  /// Asked from any worker, perhaps several at once, some hundred times a second; false stops it.
  std::function<bool()> go_on;
  bool strict = true;          ///< what misses a must is not ridden further, nor kept
  std::uint32_t may_miss = 0;  ///< but these musts, by place
  bool nearest = false;  ///< of all that fits only what no other misses each must by less than
  bool rides = true;     ///< false: only what fits is counted
  std::size_t most = 20000000;  ///< records; beyond, the rest is left and the answer says so
  std::size_t widest_kernel = 8;
};

/// How a hunt went, for the builder and for the page's counts.
struct Tally {
  double combinations = 0;      ///< of the space
  double fitting = 0;           ///< that pass every rule that needs no ride
  double ridden = 0;            ///< different bikes: a chain of another make is no other ride
  double through = 0;           ///< of these, ridden through the whole cycle, too
  double fell_riding = 0;       ///< fell to a rule once its ride was known; in by_rule, too
  double pulled_by_chain = 0;   ///< fell to a rule about the chain once its pull was known
  double unrideable = 0;        ///< some figure is missing
  double left = 0;              ///< records, whether kept or not
  std::vector<double> by_rule;  ///< combinations that fell to each rule, first come
  std::vector<double> by_must;  ///< by place in Wishes::musts; before or after the ride
  bool stopped = false, cut_short = false;
};

struct Hunted {
  std::vector<Record> records;
  Tally tally;
};

/// Everything that a hunt stands on, made once and shared.
class Ground {
 public:
  Ground(Space space, const build::Library& library, const std::vector<build::Goods>& goods,
         const ride::Cycles& cycles);
  Ground(const Ground&) = delete;
  Ground& operator=(const Ground&) = delete;
  const Space& space() const { return space_; }
  const Layout& layout() const { return layout_; }
  const Tables& tables() const { return tables_; }
  const Supports& supports() const { return supports_; }
  const ride::Cycles& cycles() const { return *cycles_; }
  const build::Library& library() const { return *library_; }
  const std::vector<build::Goods>& goods() const { return *goods_; }

  /// Money that does not depend on what is chosen here: donor, shop work, small parts, tools.
  double money_base() const { return money_base_; }
  /// Of one part: price, freight, what duty the freight does not cover, and what is kept for
  /// surprises. 0 for none.
  double landed_money(const build::LibraryPart* part) const;
  /// Without chain.
  double money_of(const At& at, const Picks& picks) const;
  double money_of_chain(const At& at) const;
  double weeks_of(const At& at, const Picks& picks) const;

  /// The build of a combination, with its derived parts and limits.
  Build build_of(const At& at, const Picks& picks) const;

 private:
  Space space_;
  const build::Library* library_;
  const std::vector<build::Goods>* goods_;
  const ride::Cycles* cycles_;
  Layout layout_;
  Tables tables_;
  Supports supports_;
  double money_base_ = 0, money_growth_ = 1, duty_share_ = 0;
};

/// The answers that a hunt rides for.
ride::AnswerSet hunted_answers();
/// The answers that a hunt knows of every bike it rides, before any distance.
ride::AnswerSet early_answers();
/// The rules of core parts that read a ride and block a step, wishes left aside: of early answers
/// alone, or of any others, too.
enum class Reading : std::uint8_t { early, late };
std::vector<std::size_t> ride_rules(const Layout& layout, Reading reading);
/// The course of a hunt: coarser in the standing start than a report's.
ride::Course hunt_course(const ride::Cycles& cycles);

Hunted hunt(const Ground& ground, const Wishes& wishes, const HuntOptions& options = {});

}  // namespace ww::search
