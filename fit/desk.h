// SPDX-License-Identifier: MIT
// One build laid out for the rules: every field's nominal number, its spread, and where it came
// from. Private to fit/.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <vector>

#include "fit/engine.h"

namespace ww::fit {

/// A build's numbers as rules and rides read them; worked out once for both.
struct Numbers {
  explicit Numbers(const Build& build);
  /// Of a build that differs from `base`'s in this slot alone.
  Numbers(const Numbers& base, const Build& build, const build::Slot& slot);
  std::vector<ride::SoftFigure> soft;
  std::vector<int> soft_of;  ///< by id: index into soft, -1
  ride::NominalValues nominal;

  /// Whether a field is the same in both: number, spread, and where it came from.
  bool same(const Numbers& other, Id id) const;
};

/// A build and its numbers.
struct Laid {
  const Build& build;
  const Numbers& numbers;
};
/// By rule: whether it may judge otherwise after a change in one slot, the ride left aside: it
/// reads a number that moved, or texts; all of them where the slot came or went.
std::vector<std::uint8_t> touched_rules(const Laid& before, const Laid& after,
                                        const build::Slot& slot);

class Desk {
 public:
  /// `build`, `ride` and `numbers` outlive the desk.
  Desk(const Build& build, const Numbers& numbers, const ride::Ride& ride,
       const Overrides* overrides = nullptr, figure::System units = figure::System::metric);

  std::optional<Finding> judge(std::size_t rule) const;
  /// The finding's verdict alone, without its words.
  std::optional<Verdict> verdict(std::size_t rule) const;
  /// Whether the rule clashes: no spread is worked out, since a clash never rests on one.
  bool clashes(std::size_t rule) const;
  /// Whether it clashes on the numbers alone, however little they rest on.
  bool fails(std::size_t rule) const;
  FactValue fact(std::string_view id) const;
  /// To be called where the numbers have changed under the desk.
  void forget() { fact_known_.assign(fact_known_.size(), 0); }

 private:
  using Input = RuleBook::Input;
  /// One number moved: a field, or a ride answer.
  struct Moved {
    Input::From from = Input::From::fact;
    int index = -1;
    double value = 0;
  };
  struct Gathered {
    std::vector<Id> missing, assumed;
    std::vector<std::string> missing_answers;
  };

  double number(const Input& input, const Moved& moved) const;
  double fact_number(int index, const Moved& moved) const;
  void inputs(const std::vector<Input>& from, const Moved& moved, std::vector<double>& out) const;
  /// The same into room of the caller's, for what is asked a million times.
  struct Row {
    std::array<double, 24> at;
    std::size_t count = 0;
    std::span<const double> view() const { return {at.data(), count}; }
  };
  void inputs(const std::vector<Input>& from, const Moved& moved, Row& out) const;
  void status(const Input& input, bool priors, Gathered& out) const;
  /// What a rule's needs lack or assume; the fields missing each once.
  Gathered gather(std::size_t rule) const;
  bool applies(std::size_t rule, std::span<const double> values) const;
  /// The outcome on the nominal numbers where it is a clash.
  std::optional<Outcome> failure(std::size_t rule) const;
  double band_of(std::size_t rule, const Outcome& nominal) const;
  std::optional<ride::Band> answer(int index) const;
  /// Everything of a finding but its words.
  struct Weighed {
    Finding finding;
    std::vector<double> values;
    Outcome outcome;
    bool judged;  ///< false: something that it needs is missing
  };
  std::optional<Weighed> weighed(std::size_t rule) const;

  const Build* build_;
  const Numbers* numbers_;
  const ride::Ride* ride_;
  const Overrides* overrides_;
  figure::System units_;
  mutable std::vector<double> fact_memo_;
  mutable std::vector<std::uint8_t> fact_known_;
};

/// Adds ways out to every finding that is a clash, or tight on something that blocks.
void find_ways_out(const Build& build, const ride::Ride& ride, const build::Library& library,
                   const ride::Cycles& cycles, std::vector<Finding>& findings,
                   const ride::Runner& runner);

}  // namespace ww::fit
