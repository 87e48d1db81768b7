// SPDX-License-Identifier: MIT
// What a fit rule is: one pure function of the numbers handed to it, and everything said about it,
// in one object that the command line, the page, the docs and the coverage table read. Invariants:
// 1. A rule never sees the Build; the engine hands it the numbers its needs name, in that order.
// 2. It compares the nominal numbers; the spread of the comparison is worked out by the engine,
// which calls the rule
//    again with one number moved at a time.
// 3. Phase currents arrive in sine-peak amps, motor constants per volt of line-line peak,
// everything else in SI;
//    choices as the index in their option list (= the enum), sets as a bit mask, counts as they
//    are.
#pragma once

#include <cmath>
#include <limits>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "build/nouns.h"
#include "figure/units.h"

namespace ww::fit {

enum class Verdict : std::uint8_t { fits, tight, clash, unmeasured };
enum class Blocks : std::uint8_t { nothing, buying, energising, riding };

std::string_view word(Verdict verdict);  // "fits", "tight", "clash", "unmeasured"
std::string_view word(Blocks blocks);

/// The numbers of a rule or fact: first its needs, then its options (which may be unknown).
class In {
 public:
  explicit In(std::span<const double> values) : values_(values) {}
  double operator[](int i) const { return values_[static_cast<std::size_t>(i)]; }
  bool has(int i) const { return !std::isnan((*this)[i]); }
  double or_else(int i, double otherwise) const { return has(i) ? (*this)[i] : otherwise; }
  /// Whether a choice is this option.
  template <class Enum>
  bool is(int i, Enum option) const {
    return (*this)[i] == static_cast<double>(option);
  }
  /// Whether a set holds this option (by index).
  bool holds(int i, int option) const {
    return has(i) &&
           ((static_cast<unsigned>((*this)[i]) >> static_cast<unsigned>(option)) & 1U) != 0;
  }
  bool yes(int i) const { return is(i, build::Answer::yes); }

 private:
  std::span<const double> values_;
};

/// What a rule's function says: two sides compared, or a plain judgement.
struct Outcome {
  enum class Form : std::uint8_t { at_most, at_least, judged };
  Form form = Form::judged;
  double have = std::numeric_limits<double>::quiet_NaN();
  double limit = std::numeric_limits<double>::quiet_NaN();  ///< beyond it: clash
  double practice =
      std::numeric_limits<double>::quiet_NaN();  ///< beyond it: tight; then no spread is added
  Verdict verdict = Verdict::fits;               ///< of a plain judgement

  /// The margin that usual practice keeps; replaces the spread for the same doubt.
  Outcome kept_to(double practice_limit) const {
    Outcome o = *this;
    o.practice = practice_limit;
    return o;
  }
};
inline Outcome at_most(double have, double limit) {
  return {.form = Outcome::Form::at_most, .have = have, .limit = limit};
}
inline Outcome at_least(double have, double limit) {
  return {.form = Outcome::Form::at_least, .have = have, .limit = limit};
}
/// Fits or clashes.
inline Outcome must(bool good) {
  return {.verdict = good ? Verdict::fits : Verdict::clash};
}
/// Fits or is tight.
inline Outcome should(bool good) {
  return {.verdict = good ? Verdict::fits : Verdict::tight};
}
inline Outcome judged(Verdict verdict) {
  return {.verdict = verdict};
}

/// What ignoring a finding leads to and typically costs. Common practice, no source, unless the
/// rule's source says else.
struct Ignoring {
  std::string_view text;
  /// In euro; beside prices in another currency a rough size only.
  double cost_low = 0, cost_high = 0;
  double weeks = 0;
};

/// "400 to 2500 EUR"; empty where it costs nothing.
std::string typical_cost(const Ignoring& ignoring);

/// "Typically 400 to 2500 EUR and 8 weeks."; empty likewise.
std::string typically(const Ignoring& ignoring);

struct Rule {
  std::string_view id;  ///< readable slug: pack-voltage-at-controller
  std::string_view
      codes;  ///< catalogue lines it covers, comma separated; for the coverage table only
  std::string_view title;  ///< what is compared, in plain words
  std::vector<std::string_view>
      between;  ///< slots it stands between; it applies only where all are there
  std::vector<std::string_view>
      needs;  ///< field paths, `fact.*`, `ride.*`; one unknown: unmeasured
  std::vector<std::string_view> options = {};  ///< read too, but may be unknown
  bool (*applies)(const In&) = nullptr;        ///< null: always; sees NaN for what is unknown
  Outcome (*judge)(const In&) = nullptr;
  figure::Kind kind = figure::Kind::ratio;  ///< of both sides
  /// Sentences with the numbers in them: {0} {1} ... needs then options, {have} {limit} {practice}
  /// {spare}.
  std::string_view fits = {}, tight = {}, clash = {};
  bool can_hurt = false;  ///< ignoring it can hurt somebody: fire, shock, a fall, a bike that runs
                          ///< off or stops in traffic
  Ignoring ignoring = {};
  /// What a way out may change: a field path (solved for), "slot" (another part), "path=option"
  /// (set), "path:=fact.id" (set to a derived number), "path+=path" (a choice's option joins a
  /// set of the same options), "+slot" (add).
  std::vector<std::string_view> levers = {};
  Blocks blocks = Blocks::nothing;
  std::string_view source = "common practice, no source";
  /// Verdicts it can never give, comma separated, where a plain judgement has no middle or no bad
  /// end; with the reason.
  std::string_view never = {};
  std::string_view never_why = {};
  bool on_assumptions =
      false;  ///< may be worked out from priors: then it says clash or unmeasured, never fits
};

/// Whether the rule can give this verdict at all.
inline bool verdict_possible(const Rule& rule, std::string_view verdict) {
  return rule.never.find(verdict) == std::string_view::npos;
}

/// A number derived from fields, shared by rules: pack_voltage_full.
struct Fact {
  std::string_view id;  ///< without "fact."
  std::string_view label;
  figure::Kind kind;
  std::vector<std::string_view> needs;
  std::vector<std::string_view> options = {};
  double (*compute)(const In&) = nullptr;
  double (*from_build)(const build::Build&) =
      nullptr;                    ///< for texts and slots; needs is then empty
  std::string_view formula = {};  ///< the sum in words, for `explain`
};

}  // namespace ww::fit
