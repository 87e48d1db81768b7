// SPDX-License-Identifier: MIT
// Runs the rules on a build: findings with numbers, spread, evidence, what is unmeasured, and ways
// out that were verified by running the rules again.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "build/library.h"
#include "fit/rule.h"
#include "ride/ride.h"

namespace ww::fit {

using build::Build;
using build::Id;

/// A change that was tried on a copy and helps.
struct WayOut {
  std::string text;  ///< "set limits.battery_current to 240 A", "controller: another part, X, 350"
  std::vector<std::pair<std::string, std::string>>
      sets;                       ///< field path -> text, as --set takes them
  Verdict becomes;                ///< of the finding itself
  std::vector<std::string> also;  ///< other findings that change: "chain-tension: fits -> tight"
};

struct Finding {
  const Rule* rule;
  Verdict verdict;
  double have, limit, practice;  ///< NaN for a plain judgement
  double band;                   ///< half-width of (limit - have) that the verdict used
  std::string because;
  std::vector<Id> missing;  ///< unmeasured: the fields to get
  std::vector<Id> assumed;  ///< read from a prior
  std::vector<Id> weak;     ///< read with evidence weaker than a data sheet, on a blocking rule
  std::vector<std::string> missing_answers;  ///< ride answers that could not be computed
  std::vector<WayOut> ways_out;
};

/// All rules and facts, once; ids resolved. A misspelt need is a mistake of ours and stops the
/// program.
class RuleBook {
 public:
  RuleBook();
  const std::vector<Rule>& rules() const { return rules_; }
  const std::vector<Fact>& facts() const { return facts_; }
  const Rule* find(std::string_view id) const;
  const Fact* fact(std::string_view id) const;
  /// The fields that a rule reads, through its facts.
  const std::vector<Id>& leaves(std::size_t rule) const { return rule_leaves_[rule]; }
  /// The ride answers that a rule reads, through its facts.
  const std::vector<int>& answers(std::size_t rule) const { return rule_answers_[rule]; }
  /// The rules that read a field.
  const std::vector<std::size_t>& readers(Id id) const {
    return readers_[static_cast<std::size_t>(id)];
  }
  /// By rule: whether it reads more of the build than its leaves, through a fact made from the
  /// build itself: texts, or which slots are there.
  const std::vector<std::uint8_t>& reads_texts() const { return rule_reads_texts_; }

 private:
  friend class Desk;
  struct Input {
    enum class From : std::uint8_t { field, fact, answer } from;
    int index;
  };
  Input resolve(std::string_view name) const;
  void gather(const std::vector<Input>& inputs, std::vector<Id>& fields,
              std::vector<int>& answers) const;
  bool from_build(const std::vector<Input>& inputs) const;

  std::vector<Rule> rules_;
  std::vector<Fact> facts_;
  std::vector<std::vector<Input>> rule_inputs_, fact_inputs_;
  std::vector<std::vector<Id>> rule_leaves_;
  std::vector<std::vector<int>> rule_answers_;
  std::vector<std::vector<const build::Slot*>> rule_slots_;  ///< that it stands between
  std::vector<std::uint8_t> rule_reads_texts_;
  std::vector<std::vector<std::size_t>> readers_;
};
const RuleBook& rule_book();

/// What a run may be told instead of computing it; tests use it for ride answers.
struct Overrides {
  std::map<int, ride::Band> answers;  ///< by index of ride::Answer
};

struct CheckOptions {
  ride::Runner runner = ride::run_in_turn;  ///< for the ways out of several findings at once
  bool ways_out = true;
  figure::System units = figure::System::metric;
  const Overrides* overrides = nullptr;
};

/// Whether something that blocks `blocks` stands before the step a sheet declares.
bool stands_before(build::Step step, Blocks blocks);

/// Findings of every rule that applies: clashes, then unmeasured, tight, fits. Within each first
/// what can hurt somebody, then what stands before the declared step, then what blocks a later one,
/// then by the money ignoring it may cost, the weeks, the id.
std::vector<Finding> check(const Build& build, const ride::Ride& ride,
                           const build::Library& library, const ride::Cycles& cycles,
                           const CheckOptions& options = {});

/// One rule on one build; nothing where it does not apply.
std::optional<Finding> check_one(const Build& build, const ride::Ride& ride, const Rule& rule,
                                 const Overrides* overrides = nullptr);

/// A derived number of a build with its missing fields; for `explain`.
struct FactValue {
  double value;
  std::vector<Id> missing;
};
FactValue fact_value(const Build& build, const ride::Ride& ride, std::string_view fact);

/// The families' lists (fit/rules_*.cpp).
std::vector<Rule> battery_rules();
std::vector<Rule> safety_chain_rules();
std::vector<Rule> drive_rules();
std::vector<Rule> driveline_rules();
std::vector<Rule> frame_rules();
std::vector<Rule> whole_bike_rules();
std::vector<Fact> common_facts();
std::vector<Fact> battery_facts();
std::vector<Fact> safety_chain_facts();
std::vector<Fact> drive_facts();
std::vector<Fact> driveline_facts();
std::vector<Fact> frame_facts();
std::vector<Fact> whole_bike_facts();

}  // namespace ww::fit
