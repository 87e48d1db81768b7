// SPDX-License-Identifier: MIT
// Out of all that was ridden: what is worth choosing between, how little a wish must give way, and
// what each open choice costs when chosen badly.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>

#include "search/hunt.h"

namespace ww::search {

using Index = std::uint32_t;  ///< of a record

/// Asked of several records at once whether each stands: by place. They share the lanes of a ride.
using Stands = std::function<std::vector<bool>(const std::vector<Index>&)>;
inline constexpr std::size_t asked_together = 16;

/// A loss of no more than this share of the money is not worth a thought.
inline constexpr double guess_share = 0.02;

/// The records that no other one is at least as good as in every traded quantity and better in one,
/// to the steps a rider notices; of records that are alike the first. Quantities of no weight do
/// not count. `stands`, where given, is asked of every record that would enter; one that does not
/// stand is left out as if it had never been there. In order of the records.
std::vector<Index> trade_offs(const std::vector<Record>& records,
                              const std::array<double, traded_count>& weights,
                              const Stands& stands = nullptr);

/// What a step of each quantity is worth in money: the span of the trade-offs in one counts as much
/// as their span in money, times the weights.
struct Worth {
  std::array<double, traded_count> money_per_step{};
  /// Larger is better; money itself counts as it is.
  double of(const Numbers& numbers) const;
};
Worth worth_of(const std::vector<Record>& records, const std::vector<Index>& front,
               const std::array<double, traded_count>& weights);

/// Of candidates, best first, a few that are each another bike than those taken before: of motor,
/// controller and cell at least two differ, or the one that varies at all among the candidates;
/// where none does, some traded quantity is a quarter of its span away.
std::vector<Index> that_differ(const std::vector<Record>& records,
                               const std::vector<Index>& candidates, std::size_t most);
/// The same of the trade-offs, by worth.
std::vector<Index> short_list(const std::vector<Record>& records, const std::vector<Index>& front,
                              const Worth& worth, std::size_t most);

/// Some musts given way to so that a bike meets the rest.
struct Relaxation {
  struct Step {
    std::size_t must;  ///< place in Wishes::musts
    double value;      ///< what that bike does instead
  };
  std::vector<Step> steps;
  Index record;   ///< the best by worth of those that need no more than this
  double missed;  ///< the shares missed, summed
};
/// By how many steps that a rider notices each must is missed, by place in Wishes::musts.
using Shortfall = std::array<int, quantity_count>;
/// Of what is not known yet (NaN) nothing is missed. None where a figure is out of all reach.
std::optional<Shortfall> shortfall_of(const Numbers& numbers, const std::vector<Must>& musts);
/// Whether one misses each must by at most as much as the other, and some must by less.
bool nearer(const Shortfall& one, const Shortfall& other);

/// The records that no other one misses each must by at most as much as and one by less, to the
/// steps a rider notices; of those that miss by as much the first. In their order.
std::vector<Index> nearest_to(const std::vector<Record>& records, const std::vector<Must>& musts);

/// Every way in which less could not be given: no record misses each must by at most as much and
/// one by less. The fewest musts first, then the least share missed. Empty where a record meets
/// all of them.
std::vector<Relaxation> relaxations(const std::vector<Record>& records,
                                    const std::vector<Must>& musts);

/// Keeps the first relaxation of each set of musts that give way: what differs by a step in how far
/// they give way is one choice. The records of the first few.
std::vector<Index> one_of_each_set(std::vector<Relaxation>& relaxations, std::size_t most);

/// One option of an open axis, the rest chosen anew as well as can be.
struct OptionValue {
  std::uint8_t option;
  Index record;  ///< the best with it
  double loss;   ///< in money's worth against the best of all; 0 for the best
};
struct Decision {
  Axis axis;
  std::vector<OptionValue> options;  ///< best first; options that no record has are not there
  double worst_loss = 0;
};
/// For every axis with more than one option left; the costliest decision first. `stands`, where
/// given, is asked of what might be an option's best, of some `most_asked` at most; `counts`, of
/// every record.
std::vector<Decision> decisions(const Space& space, const std::vector<Record>& records,
                                const Worth& worth, const Stands& stands = nullptr,
                                const std::function<bool(const Record&)>& counts = nullptr,
                                std::size_t most_asked = 4000);

/// The best record by worth, the first of equals. Valid: there are records.
Index best_of(const std::vector<Record>& records, const Worth& worth);

/// Judges a finished combination by the rules that read a ride, with the derived parts picked anew
/// where one of them cannot stand the ride. To be asked from one thread; the runner may be several.
class LastCheck {
 public:
  explicit LastCheck(const Ground& ground, ride::Runner runner = ride::run_in_turn);
  struct Result {
    bool stands;
    std::string rule;  ///< the id of the first that does not
    Picks picks;       ///< as they must be for this ride
  };
  Result check(const Record& record);
  /// Several, eight to a ride.
  std::vector<Result> check(const std::vector<const Record*>& records);

 private:
  /// Where one bike is laid out.
  struct Bench {
    explicit Bench(const Ground& ground);
    Trial trial;
    Picker picker;
  };
  void want(std::size_t rule);
  void ride(const std::vector<const Record*>& records, std::size_t first, std::size_t last);
  Result judge(Bench& bench, const Record& record) const;

  const Ground& ground_;
  ride::Runner runner_;
  std::vector<std::unique_ptr<Bench>> benches_;
  std::vector<std::size_t> core_rules_;  ///< early and late
  std::array<std::vector<std::size_t>, support_slots.size()> support_rules_;
  ride::AnswerSet wanted_;
};

}  // namespace ww::search
