// SPDX-License-Identifier: MIT
#include "fit/engine.h"

#include <algorithm>
#include <array>
#include <tuple>

#include "base/check.h"
#include "base/text.h"
#include "fit/desk.h"

namespace ww::fit {

namespace {

template <class T>
void append(std::vector<T>& to, std::vector<T> more) {
  for (auto& item : more) to.push_back(std::move(item));
}

template <class T>
void sort_unique(std::vector<T>& items) {
  std::sort(items.begin(), items.end());
  items.erase(std::unique(items.begin(), items.end()), items.end());
}

int answer_index(std::string_view key) {
  for (const auto& info : ride::answer_table()) {
    if (info.key == key) return static_cast<int>(info.answer);
  }
  return -1;
}

}  // namespace

std::string_view word(Verdict verdict) {
  constexpr std::array<std::string_view, 4> words{"fits", "tight", "clash", "unmeasured"};
  return words[static_cast<std::size_t>(verdict)];
}

std::string_view word(Blocks blocks) {
  constexpr std::array<std::string_view, 4> words{"nothing", "buying", "energising", "riding"};
  return words[static_cast<std::size_t>(blocks)];
}

std::string typical_cost(const Ignoring& ignoring) {
  if (ignoring.cost_high <= 0) return {};
  return fixed(ignoring.cost_low, 0) + " to " + fixed(ignoring.cost_high, 0) + " EUR";
}

std::string typically(const Ignoring& ignoring) {
  if (ignoring.cost_high <= 0) return {};
  return "Typically " + typical_cost(ignoring) + " and " + fixed(ignoring.weeks, 0) +
         (ignoring.weeks == 1 ? " week." : " weeks.");
}

RuleBook::Input RuleBook::resolve(std::string_view name) const {
  if (name.rfind("fact.", 0) == 0) {
    for (std::size_t i = 0; i < facts_.size(); ++i) {
      if (facts_[i].id == name.substr(5)) return {Input::From::fact, static_cast<int>(i)};
    }
  } else if (name.rfind("ride.", 0) == 0) {
    if (const int index = answer_index(name.substr(5)); index >= 0)
      return {Input::From::answer, index};
  } else if (const Id id = build::schema().find(name); id >= 0) {
    return {Input::From::field, id};
  }
  assertion_failed(std::string(name).c_str(), "a rule's or fact's need", 0);
}

void RuleBook::gather(const std::vector<Input>& inputs, std::vector<Id>& fields,
                      std::vector<int>& answers) const {
  for (const Input& input : inputs) {
    switch (input.from) {
      case Input::From::field:
        fields.push_back(input.index);
        break;
      case Input::From::answer:
        answers.push_back(input.index);
        break;
      case Input::From::fact:
        gather(fact_inputs_[static_cast<std::size_t>(input.index)], fields, answers);
        break;
    }
  }
}

bool RuleBook::from_build(const std::vector<Input>& inputs) const {
  return std::any_of(inputs.begin(), inputs.end(), [&](const Input& input) {
    if (input.from != Input::From::fact) return false;
    const auto i = static_cast<std::size_t>(input.index);
    return facts_[i].from_build != nullptr || from_build(fact_inputs_[i]);
  });
}

RuleBook::RuleBook() {
  for (auto* family : {&battery_rules, &safety_chain_rules, &drive_rules, &driveline_rules,
                       &frame_rules, &whole_bike_rules})
    append(rules_, family());
  for (auto* family : {&common_facts, &battery_facts, &safety_chain_facts, &drive_facts,
                       &driveline_facts, &frame_facts, &whole_bike_facts})
    append(facts_, family());
  readers_.resize(static_cast<std::size_t>(build::schema().size()));
  const auto inputs_of = [&](const auto& item) {
    std::vector<Input> inputs;
    for (const auto name : item.needs) inputs.push_back(resolve(name));
    for (const auto name : item.options) inputs.push_back(resolve(name));
    return inputs;
  };
  for (const Fact& fact : facts_) fact_inputs_.push_back(inputs_of(fact));
  for (const Rule& rule : rules_) {
    rule_inputs_.push_back(inputs_of(rule));
    std::vector<Id> fields;
    std::vector<int> answers;
    gather(rule_inputs_.back(), fields, answers);
    sort_unique(fields);
    sort_unique(answers);
    for (const Id id : fields)
      readers_[static_cast<std::size_t>(id)].push_back(rule_leaves_.size());
    rule_leaves_.push_back(std::move(fields));
    rule_answers_.push_back(std::move(answers));
    rule_reads_texts_.push_back(from_build(rule_inputs_.back()) ? 1 : 0);
    auto& slots = rule_slots_.emplace_back();
    for (const auto key : rule.between) {
      slots.push_back(build::schema().slot(key));
      if (slots.back() == nullptr) assertion_failed(std::string(key).c_str(), "a rule's slot", 0);
    }
  }
}

const Rule* RuleBook::find(std::string_view id) const {
  for (const Rule& rule : rules_) {
    if (rule.id == id) return &rule;
  }
  return nullptr;
}

const Fact* RuleBook::fact(std::string_view id) const {
  for (const Fact& fact : facts_) {
    if (fact.id == id) return &fact;
  }
  return nullptr;
}

const RuleBook& rule_book() {
  static const RuleBook book;
  return book;
}

std::optional<Finding> check_one(const Build& build, const ride::Ride& ride, const Rule& rule,
                                 const Overrides* overrides) {
  const Numbers numbers(build);
  const Desk desk(build, numbers, ride, overrides);
  return desk.judge(static_cast<std::size_t>(&rule - rule_book().rules().data()));
}

FactValue fact_value(const Build& build, const ride::Ride& ride, std::string_view fact) {
  const Numbers numbers(build);
  const Desk desk(build, numbers, ride);
  return desk.fact(fact);
}

bool stands_before(build::Step step, Blocks blocks) {
  switch (step) {
    case build::Step::buying:
      return blocks == Blocks::buying;
    case build::Step::energising:
      return blocks == Blocks::buying || blocks == Blocks::energising;
    case build::Step::riding:
      return blocks != Blocks::nothing;
    default:
      return false;
  }
}

namespace {

/// Small is urgent, place by place.
using Urgency = std::tuple<int, bool, int, double, double, std::string_view>;
Urgency urgency(const Finding& finding, build::Step step) {
  constexpr std::array<int, 4> by_verdict{3, 2, 0, 1};  // clash, unmeasured, tight, fits
  const Rule& rule = *finding.rule;
  const int wait = stands_before(step, rule.blocks) ? 0 : (rule.blocks == Blocks::nothing ? 2 : 1);
  return {by_verdict[static_cast<std::size_t>(finding.verdict)],
          !rule.can_hurt,
          wait,
          -rule.ignoring.cost_high,
          -rule.ignoring.weeks,
          rule.id};
}

}  // namespace

std::vector<Finding> check(const Build& build, const ride::Ride& ride,
                           const build::Library& library, const ride::Cycles& cycles,
                           const CheckOptions& options) {
  const Numbers numbers(build);
  const Desk desk(build, numbers, ride, options.overrides, options.units);
  std::vector<Finding> findings;
  for (std::size_t i = 0; i < rule_book().rules().size(); ++i) {
    if (auto finding = desk.judge(i)) findings.push_back(std::move(*finding));
  }
  if (options.ways_out) find_ways_out(build, ride, library, cycles, findings, options.runner);
  const build::Step step = build.project.next_step;
  std::stable_sort(findings.begin(), findings.end(), [step](const Finding& a, const Finding& b) {
    return urgency(a, step) < urgency(b, step);
  });
  return findings;
}

}  // namespace ww::fit
