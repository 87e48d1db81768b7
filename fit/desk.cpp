// SPDX-License-Identifier: MIT
#include "fit/desk.h"
#include "fit/rule_terms.h"

#include <algorithm>
#include <cmath>

#include "base/check.h"
#include "base/text.h"

namespace ww::fit {

namespace {

/// Half-width p1-p99 over half-width p10-p90 of a normal distribution: what a rule that blocks
/// energising uses.
constexpr double wide = 2.3263478740 / 1.2815515655;

/// Whether the first `count` numbers are all known.
bool complete(std::span<const double> values, std::size_t count) {
  return std::none_of(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(count),
                      [](double v) { return std::isnan(v); });
}

/// Spare in the direction that is good: positive fits.
double spare(const Outcome& o) {
  switch (o.form) {
    case Outcome::Form::at_most:
      return o.limit - o.have;
    case Outcome::Form::at_least:
      return o.have - o.limit;
    case Outcome::Form::judged:
      break;
  }
  return nan;
}

bool practice_used_up(const Outcome& o) {
  if (std::isnan(o.practice)) return false;
  return o.form == Outcome::Form::at_most ? o.have > o.practice : o.have < o.practice;
}

Verdict verdict_of(const Outcome& o, double band) {
  if (o.form == Outcome::Form::judged) return o.verdict;
  if (!(spare(o) >= 0)) return Verdict::clash;
  if (practice_used_up(o)) return Verdict::tight;
  return std::isnan(o.practice) && spare(o) < band ? Verdict::tight : Verdict::fits;
}

std::string shown(const RuleBook& book, std::string_view name, double value, figure::System units) {
  if (name.rfind("fact.", 0) == 0)
    return figure::print(value, book.fact(name.substr(5))->kind, units);
  if (name.rfind("ride.", 0) == 0) {
    for (const auto& info : ride::answer_table()) {
      if (info.key == name.substr(5)) return figure::print(value, info.kind, units);
    }
  }
  return build::show_number(value, build::id_of(name), units);
}

/// The sentence with its numbers filled in.
std::string filled(const Rule& rule, std::string_view text, const Outcome& o,
                   const std::vector<double>& values, figure::System units) {
  std::string out;
  const auto number = [&](double v) {
    return std::isnan(v) ? std::string("not known") : figure::print(v, rule.kind, units);
  };
  while (!text.empty()) {
    const auto open = text.find('{');
    out += text.substr(0, open);
    if (open == std::string_view::npos) break;
    const auto close = text.find('}', open);
    const std::string_view key = text.substr(open + 1, close - open - 1);
    if (key == "have") {
      out += number(o.have);
    } else if (key == "limit") {
      out += number(o.limit);
    } else if (key == "practice") {
      out += number(o.practice);
    } else if (key == "spare") {
      out += number(std::fabs(spare(o)));
    } else {
      WW_ASSERT(key.size() == 1 && key[0] >= '0' && key[0] <= '9');
      const auto index = static_cast<std::size_t>(key[0] - '0');
      const auto name =
          index < rule.needs.size() ? rule.needs[index] : rule.options[index - rule.needs.size()];
      out += std::isnan(values[index]) ? std::string("not known")
                                       : shown(rule_book(), name, values[index], units);
    }
    text.remove_prefix(close + 1);
  }
  return out;
}

}  // namespace

namespace {

std::vector<int> places(const std::vector<ride::SoftFigure>& soft) {
  std::vector<int> out(static_cast<std::size_t>(build::schema().size()), -1);
  for (std::size_t i = 0; i < soft.size(); ++i)
    out[static_cast<std::size_t>(soft[i].id)] = static_cast<int>(i);
  return out;
}

/// The base's soft figures with those of one slot, which stand together, made anew.
std::vector<ride::SoftFigure> with_slot(const std::vector<ride::SoftFigure>& base,
                                        const Build& build, const std::vector<Id>& fields) {
  const auto before = [](const ride::SoftFigure& soft, Id id) { return soft.id < id; };
  const auto first = std::lower_bound(base.begin(), base.end(), fields.front(), before);
  const auto last = std::lower_bound(first, base.end(), fields.back() + 1, before);
  std::vector<ride::SoftFigure> out(base.begin(), first);
  for (const Id id : fields) {
    if (const auto soft = ride::soft_figure(build, id)) out.push_back(*soft);
  }
  out.insert(out.end(), last, base.end());
  return out;
}

}  // namespace

Numbers::Numbers(const Build& build)
    : soft(ride::soft_figures(build)),
      soft_of(places(soft)),
      nominal(ride::nominal_values(build, soft)) {}

Numbers::Numbers(const Numbers& base, const Build& build, const build::Slot& slot) {
  const auto fields = build::schema().fields_of(slot);
  if (build::decides_priors(slot) || fields.empty()) {
    *this = Numbers(build);
    return;
  }
  soft = with_slot(base.soft, build, fields);
  soft_of = places(soft);
  nominal = base.nominal;
  for (const Id id : fields) {
    const int at = soft_of[static_cast<std::size_t>(id)];
    ride::set_nominal(nominal, build, id,
                      at < 0 ? std::nullopt : std::optional(soft[static_cast<std::size_t>(at)]));
  }
}

bool Numbers::same(const Numbers& other, Id id) const {
  const auto i = static_cast<std::size_t>(id);
  const double a = nominal.at[i], b = other.nominal.at[i];
  if (!(a == b || (std::isnan(a) && std::isnan(b)))) return false;
  if (nominal.source[i] != other.nominal.source[i]) return false;
  if ((soft_of[i] < 0) != (other.soft_of[i] < 0)) return false;
  if (soft_of[i] < 0) return true;
  const ride::SoftFigure& x = soft[static_cast<std::size_t>(soft_of[i])];
  const ride::SoftFigure& y = other.soft[static_cast<std::size_t>(other.soft_of[i])];
  return x.spread.median == y.spread.median && x.spread.half_width == y.spread.half_width &&
         x.spread.low == y.spread.low && x.spread.high == y.spread.high &&
         x.convention_unsaid == y.convention_unsaid;
}

std::vector<std::uint8_t> touched_rules(const Laid& before, const Laid& after,
                                        const build::Slot& slot) {
  if (build::slot_present(before.build, slot) != build::slot_present(after.build, slot))
    return std::vector<std::uint8_t>(rule_book().rules().size(), 1);
  std::vector<std::uint8_t> touched = rule_book().reads_texts();
  const auto ask = [&](Id id) {
    if (before.numbers.same(after.numbers, id)) return;
    for (const std::size_t rule : rule_book().readers(id)) touched[rule] = 1;
  };
  if (build::decides_priors(slot)) {
    for (Id id = 0; id < build::schema().size(); ++id) ask(id);
  } else {
    for (const Id id : build::schema().fields_of(slot)) ask(id);
  }
  return touched;
}

Desk::Desk(const Build& build, const Numbers& numbers, const ride::Ride& ride,
           const Overrides* overrides, figure::System units)
    : build_(&build),
      numbers_(&numbers),
      ride_(&ride),
      overrides_(overrides),
      units_(units),
      fact_memo_(rule_book().facts().size(), nan),
      fact_known_(rule_book().facts().size(), 0) {}

std::optional<ride::Band> Desk::answer(int index) const {
  if (overrides_ != nullptr) {
    const auto at = overrides_->answers.find(index);
    if (at != overrides_->answers.end()) return at->second;
  }
  if (!ride_->possible) return std::nullopt;
  const ride::Band& band = ride_->bands[static_cast<std::size_t>(index)];
  const double nominal = ride_->nominal.at[static_cast<std::size_t>(index)];
  if (std::isnan(nominal)) return std::nullopt;
  return ride::Band{band.p10, nominal, band.p90};
}

double Desk::number(const Input& input, const Moved& moved) const {
  if (input.from == moved.from && input.index == moved.index) return moved.value;
  switch (input.from) {
    case Input::From::field:
      return numbers_->nominal.at[static_cast<std::size_t>(input.index)];
    case Input::From::answer: {
      const auto band = answer(input.index);
      return band ? band->p50 : nan;
    }
    case Input::From::fact:
      return fact_number(input.index, moved);
  }
  return nan;
}

void Desk::inputs(const std::vector<Input>& from, const Moved& moved,
                  std::vector<double>& out) const {
  out.clear();
  for (const Input& input : from) out.push_back(number(input, moved));
}

void Desk::inputs(const std::vector<Input>& from, const Moved& moved, Row& out) const {
  WW_ASSERT(from.size() <= out.at.size());
  out.count = 0;
  for (const Input& input : from) out.at[out.count++] = number(input, moved);
}

double Desk::fact_number(int index, const Moved& moved) const {
  const auto i = static_cast<std::size_t>(index);
  const bool nominal = moved.index < 0;
  if (nominal && fact_known_[i] != 0) return fact_memo_[i];
  const Fact& fact = rule_book().facts()[i];
  double value = nan;
  if (fact.from_build != nullptr) {
    value = fact.from_build(*build_);
  } else {
    Row row;
    inputs(rule_book().fact_inputs_[i], moved, row);
    if (complete(row.view(), fact.needs.size())) value = fact.compute(In(row.view()));
  }
  if (nominal) {
    fact_memo_[i] = value;
    fact_known_[i] = 1;
  }
  return value;
}

/// Which fields behind an input are missing, or only assumed.
void Desk::status(const Input& input, bool priors, Gathered& out) const {
  if (input.from == Input::From::fact) {
    const auto i = static_cast<std::size_t>(input.index);
    const Fact& fact = rule_book().facts()[i];
    for (std::size_t k = 0; k < fact.needs.size(); ++k)
      status(rule_book().fact_inputs_[i][k], priors, out);
    // A fact that takes whichever of its options is there, and none is: any of them would do. One
    // made from the sheet's texts names the texts among its options.
    if (fact.needs.empty() && std::isnan(fact_number(input.index, {}))) {
      for (const Input& option : rule_book().fact_inputs_[i]) {
        if (fact.from_build == nullptr) {
          status(option, priors, out);
        } else if (!build::known_at(*build_, option.index)) {
          out.missing.push_back(option.index);
        }
      }
    }
    return;
  }
  if (input.from == Input::From::answer) {
    if (answer(input.index)) return;
    out.missing_answers.emplace_back(
        ride::answer_table()[static_cast<std::size_t>(input.index)].key);
    for (const Id id : ride_->missing) out.missing.push_back(id);
    return;
  }
  const auto source = numbers_->nominal.source[static_cast<std::size_t>(input.index)];
  if (source == ride::Source::missing) {
    out.missing.push_back(input.index);
  } else if (source == ride::Source::assumed) {
    out.assumed.push_back(input.index);
    if (!priors) out.missing.push_back(input.index);
  }
}

Desk::Gathered Desk::gather(std::size_t rule) const {
  const RuleBook& book = rule_book();
  const Rule& judged = book.rules()[rule];
  Gathered out;
  for (std::size_t k = 0; k < judged.needs.size(); ++k)
    status(book.rule_inputs_[rule][k], judged.on_assumptions, out);
  std::sort(out.missing.begin(), out.missing.end());
  out.missing.erase(std::unique(out.missing.begin(), out.missing.end()), out.missing.end());
  return out;
}

bool Desk::applies(std::size_t index, std::span<const double> values) const {
  for (const build::Slot* slot : rule_book().rule_slots_[index]) {
    if (!build::slot_present(*build_, *slot)) return false;
  }
  const Rule& rule = rule_book().rules()[index];
  return rule.applies == nullptr || rule.applies(In(values));
}

/// Half-width of the spare, p10-p90 (p1-p99 for what blocks energising): squares of the push of
/// each figure, summed.
double Desk::band_of(std::size_t rule, const Outcome& nominal) const {
  const RuleBook& book = rule_book();
  const auto spare_with = [&](const Moved& moved) {
    std::vector<double> values;
    inputs(book.rule_inputs_[rule], moved, values);
    const double s = spare(book.rules()[rule].judge(In(values)));
    return std::isnan(s) ? spare(nominal) : s;
  };
  double squares = 0;
  for (const Id id : book.leaves(rule)) {
    const int at = numbers_->soft_of[static_cast<std::size_t>(id)];
    if (at < 0) continue;
    const auto& soft = numbers_->soft[static_cast<std::size_t>(at)];
    if (!(soft.spread.half_width > 0)) continue;
    const double low = figure::quantile(soft.spread, 0.1),
                 high = figure::quantile(soft.spread, 0.9);
    const double push = 0.5 * (spare_with({Input::From::field, id, high}) -
                               spare_with({Input::From::field, id, low}));
    squares += push * push;
  }
  for (const int index : book.answers(rule)) {
    const auto band = answer(index);
    if (!band) continue;
    const double push = 0.5 * (spare_with({Input::From::answer, index, band->p90}) -
                               spare_with({Input::From::answer, index, band->p10}));
    if (std::isfinite(push)) squares += push * push;
  }
  return std::sqrt(squares) * (book.rules()[rule].blocks == Blocks::energising ? wide : 1);
}

std::optional<Desk::Weighed> Desk::weighed(std::size_t index) const {
  const RuleBook& book = rule_book();
  const Rule& rule = book.rules()[index];
  Weighed out{.finding = {}, .values = {}, .outcome = {}, .judged = false};
  std::vector<double>& values = out.values;
  inputs(book.rule_inputs_[index], {}, values);
  if (!applies(index, values)) return std::nullopt;
  Finding& finding = out.finding;
  finding = {.rule = &rule,
             .verdict = Verdict::unmeasured,
             .have = nan,
             .limit = nan,
             .practice = nan,
             .band = 0,
             .because = {},
             .missing = {},
             .assumed = {},
             .weak = {},
             .missing_answers = {},
             .ways_out = {}};
  Gathered gathered = gather(index);
  finding.missing = std::move(gathered.missing);
  finding.assumed = std::move(gathered.assumed);
  finding.missing_answers = std::move(gathered.missing_answers);
  if (!finding.missing.empty() || !finding.missing_answers.empty() ||
      !complete(values, rule.needs.size()))
    return out;

  out.judged = true;
  out.outcome = rule.judge(In(values));
  const Outcome& outcome = out.outcome;
  finding.have = outcome.have;
  finding.limit = outcome.limit;
  finding.practice = outcome.practice;
  finding.band = outcome.form == Outcome::Form::judged ? 0 : band_of(index, outcome);
  finding.verdict = verdict_of(outcome, finding.band);
  if (!finding.assumed.empty() && outcome.form != Outcome::Form::judged) {
    // On assumed figures: a clash only where the whole band clashes, never a pass.
    finding.verdict = spare(outcome) + finding.band < 0 ? Verdict::clash : Verdict::unmeasured;
    if (finding.verdict == Verdict::unmeasured) finding.missing = finding.assumed;
  }
  return out;
}

std::optional<Verdict> Desk::verdict(std::size_t index) const {
  const auto out = weighed(index);
  return out ? std::optional(out->finding.verdict) : std::nullopt;
}

std::optional<Finding> Desk::judge(std::size_t index) const {
  const RuleBook& book = rule_book();
  const Rule& rule = book.rules()[index];
  auto found = weighed(index);
  if (!found) return std::nullopt;
  Finding finding = std::move(found->finding);
  if (!found->judged) return finding;
  const std::string_view text = finding.verdict == Verdict::clash
                                    ? rule.clash
                                    : (finding.verdict == Verdict::tight ? rule.tight : rule.fits);
  finding.because =
      filled(rule, text.empty() ? rule.clash : text, found->outcome, found->values, units_);
  if (rule.blocks != Blocks::nothing) {
    for (const Id id : book.leaves(index)) {
      const figure::Figure* figure = build::figure_at(*build_, id);
      const auto evidence = figure == nullptr ? figure::Evidence::measured : figure->evidence;
      const std::string_view slot = build::schema()[id].slot->key;
      const bool chosen = slot == "wishes" || slot == "limits" || slot == "surroundings";
      if (figure != nullptr && figure->known() && !chosen &&
          evidence < figure::Evidence::data_sheet)
        finding.weak.push_back(id);
    }
  }
  return finding;
}

std::optional<Outcome> Desk::failure(std::size_t index) const {
  const RuleBook& book = rule_book();
  const Rule& rule = book.rules()[index];
  Row row;
  inputs(book.rule_inputs_[index], {}, row);
  const auto values = row.view();
  if (!complete(values, rule.needs.size()) || !applies(index, values)) return std::nullopt;
  const Outcome outcome = rule.judge(In(values));
  const bool on_figures = outcome.form != Outcome::Form::judged;
  if (on_figures ? spare(outcome) >= 0 : outcome.verdict != Verdict::clash) return std::nullopt;
  return outcome;
}

bool Desk::fails(std::size_t index) const {
  return failure(index).has_value();
}

bool Desk::clashes(std::size_t index) const {
  // Nothing that is missing or assumed makes a clash of what is none, so that is asked last.
  const auto outcome = failure(index);
  if (!outcome) return false;
  const Gathered gathered = gather(index);
  if (!gathered.missing.empty() || !gathered.missing_answers.empty()) return false;
  // On assumed figures a clash needs the whole band.
  if (outcome->form != Outcome::Form::judged && !gathered.assumed.empty())
    return spare(*outcome) + band_of(index, *outcome) < 0;
  return true;
}

FactValue Desk::fact(std::string_view id) const {
  const RuleBook& book = rule_book();
  for (std::size_t i = 0; i < book.facts().size(); ++i) {
    if (book.facts()[i].id != id) continue;
    Gathered gathered;
    for (std::size_t k = 0; k < book.facts()[i].needs.size(); ++k)
      status(book.fact_inputs_[i][k], true, gathered);
    return {fact_number(static_cast<int>(i), {}), gathered.missing};
  }
  return {nan, {}};
}

}  // namespace ww::fit
