// SPDX-License-Identifier: MIT
// Ways out: a change is made on a copy of the build, the rules run again, and it is offered only if
// the finding gets better and nothing else becomes a clash.
#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <limits>
#include <memory>
#include <tuple>
#include <utility>

#include "base/text.h"
#include "build/erased.h"
#include "fit/desk.h"

namespace ww::fit {

namespace {

using build::FieldType;
using build::schema;
using build::Slot;

constexpr std::size_t ways_at_most = 3;
constexpr int parts_tried_at_most = 14;
constexpr std::size_t trials_at_once = 8;  ///< lanes of the widest kernel

int badness(Verdict v) {
  switch (v) {
    case Verdict::fits:
      return 0;
    case Verdict::tight:
      return 1;
    case Verdict::unmeasured:
      return 2;
    case Verdict::clash:
      return 3;
  }
  return 3;
}

/// What a rule reads of the road: nothing, what is quickly ridden, or distances.
enum class Reads : std::uint8_t { nothing, road, distances };

/// A build that was changed, with how.
struct Trial {
  Build build;
  const Slot* slot;  ///< in which it was
  std::vector<std::pair<std::string, std::string>> sets = {};
  std::string text = {};
  std::unique_ptr<Numbers> numbers = nullptr;  ///< of the changed build
  ride::Ride ride = {};                        ///< nominal
  Verdict becomes = Verdict::fits;             ///< the finding, where judged
  std::vector<std::size_t> also = {};          ///< other rules that no longer clash
};

/// A trial is 65 kB: it stays where it is.
using Trials = std::vector<std::unique_ptr<Trial>>;

/// What every search starts from.
struct Before {
  Before(const Build& b, const ride::Ride& r, const build::Library& l, const ride::Cycles& c,
         const std::vector<Finding>& findings)
      : build(b), ride(r), library(l), cycles(c), numbers(b), clash(rule_book().rules().size(), 0) {
    if (r.possible) ridden.note(ride::bike_numbers(b, numbers.nominal), r.nominal, r.asked);
    for (const Finding& finding : findings)
      clash[rule_of(finding)] = finding.verdict == Verdict::clash ? 1 : 0;
    for (std::size_t i = 0; i < rule_book().rules().size(); ++i) {
      ride::AnswerSet answers;
      for (const int answer : rule_book().answers(i))
        answers.add(static_cast<ride::Answer>(answer));
      const bool distances = !(answers & ride::distance_answers).empty();
      asked.push_back(answers);
      reads.push_back(answers.empty() ? Reads::nothing
                                      : (distances ? Reads::distances : Reads::road));
      ride::AnswerSet& by_all = distances ? asked_by_distances : asked_by_road;
      by_all = by_all | answers;
    }
  }

  static std::size_t rule_of(const Finding& finding) {
    return static_cast<std::size_t>(finding.rule - rule_book().rules().data());
  }

  const Build& build;
  const ride::Ride& ride;
  const build::Library& library;
  const ride::Cycles& cycles;
  const Numbers numbers;                              ///< of the build as it is
  ride::Ridden ridden;                                ///< that build
  std::vector<std::uint8_t> clash;                    ///< by rule
  std::vector<ride::AnswerSet> asked;                 ///< by rule: the answers it reads
  std::vector<Reads> reads;                           ///< by rule
  ride::AnswerSet asked_by_road, asked_by_distances;  ///< of all rules that read so much
};

/// The ways out of one finding.
class Search {
 public:
  Search(const Before& before, const Finding& finding)
      : before_(before),
        finding_(finding),
        rule_(Before::rule_of(finding)),
        reads_(before.reads[rule_]),
        ridden_(before.ridden) {}

  std::vector<WayOut> ways() {
    std::vector<WayOut> out;
    for (const auto lever : finding_.rule->levers) {
      if (out.size() >= ways_at_most) break;
      if (auto way = by_lever(lever)) out.push_back(std::move(*way));
    }
    return out;
  }

 private:
  std::optional<WayOut> by_lever(std::string_view lever) {
    if (const auto set = lever.find(":=fact."); set != std::string_view::npos)
      return by_fact(lever.substr(0, set), lever.substr(set + 7));
    if (const auto joins = lever.find("+="); joins != std::string_view::npos)
      return by_joining(lever.substr(0, joins), lever.substr(joins + 2));
    if (const auto equals = lever.find('='); equals != std::string_view::npos)
      return by_option(lever.substr(0, equals), lever.substr(equals + 1));
    const std::string_view name = lever.front() == '+' ? lever.substr(1) : lever;
    if (const Slot* slot = schema().slot(name)) return by_part(*slot);
    return by_number(name);
  }

  std::optional<WayOut> by_option(std::string_view path, std::string_view option) {
    const Id id = build::id_of(path);
    auto trial = new_trial(*schema()[id].slot, {{std::string(path), std::string(option)}});
    if (!build::set_from_text(trial->build, id, option)) return std::nullopt;
    trial->text = std::string(schema()[id].info->label) + ": " + build::show(trial->build, id);
    return accepted_alone(std::move(trial));
  }

  /// The option that one field names joins the set of another.
  std::optional<WayOut> by_joining(std::string_view path, std::string_view option) {
    const Id id = build::id_of(path);
    const double chosen = build::number_at(before_.build, build::id_of(option));
    if (std::isnan(chosen)) return std::nullopt;
    const double mask = build::number_at(before_.build, id);
    const auto joined = (std::isnan(mask) ? 0U : static_cast<build::OptionSet>(mask)) |
                        1U << static_cast<unsigned>(chosen);
    auto trial = new_trial(*schema()[id].slot);
    build::set_number(trial->build, id, joined);
    trial->sets = {{schema()[id].path, build::show_in_words(trial->build, id)}};
    trial->text = std::string(schema()[id].info->label) + ": " + build::show(trial->build, id);
    return accepted_alone(std::move(trial));
  }

  /// A figure set to what the build's other numbers ask for, known or not: rounded where that fits.
  std::optional<WayOut> by_fact(std::string_view path, std::string_view fact) {
    const Id id = build::id_of(path);
    const auto& info = *schema()[id].info;
    const double wanted = Desk(before_.build, before_.numbers, before_.ride).fact(fact).value;
    if (std::isnan(wanted)) return std::nullopt;
    for (const double value : {rounded(wanted, true, id), rounded(wanted, false, id), wanted}) {
      if (value < info.low || value > info.high) continue;
      auto trial = number_trial(id, value);
      build::figure_at(trial->build, id)->half_width = 0;
      if (auto way = accepted_alone(std::move(trial))) return way;
    }
    return std::nullopt;
  }

  static double price_of(const build::LibraryPart& part) {
    for (const auto& info : part.slot->table->fields) {
      if (info.key == "price")
        return static_cast<const figure::Figure*>(info.reach(part.part.get()))->value;
    }
    return std::numeric_limits<double>::infinity();
  }

  std::optional<WayOut> by_part(const Slot& slot) {
    std::vector<const build::LibraryPart*> parts;
    for (const auto& part : before_.library.shelf(slot.shelf)) parts.push_back(&part);
    std::stable_sort(parts.begin(), parts.end(),
                     [](const auto* a, const auto* b) { return price_of(*a) < price_of(*b); });
    // What speaks of the road wants a ride a part: no more than a dozen then.
    const auto looked_at_most = static_cast<std::size_t>(trials_at_most(1000, 12, 4));
    const std::size_t end = std::min(parts.size(), looked_at_most);
    std::size_t next = 0;
    const auto next_trial = [&]() -> std::unique_ptr<Trial> {
      while (next < end) {
        const auto* part = parts[next++];
        if (!same_use(slot, *part)) continue;
        auto trial = new_trial(slot, {{std::string(slot.key) + ".part", part->id}});
        build::put_part(trial->build, slot, *part);
        trial->text = std::string(slot.label) + ": " + part->id;
        if (const double price = price_of(*part); std::isfinite(price))
          trial->text += ", " + figure::print(price, figure::Kind::money) + " each";
        return trial;
      }
      return nullptr;
    };
    return first_accepted(next_trial, parts_tried_at_most);
  }

  /// The first of these trials that is a way out. They are looked at some at a time, since their
  /// rides then share the lanes of a kernel; the order decides all the same.
  std::optional<WayOut> first_accepted(const std::function<std::unique_ptr<Trial>()>& next_trial,
                                       int tried_at_most) {
    int tried = 0;
    for (bool more = true; more;) {
      Trials trials;
      while (more && trials.size() < trials_at_once) {
        auto trial = tried < tried_at_most ? next_trial() : nullptr;
        more = trial != nullptr;
        if (!more) break;
        // The cheap questions first: does it help at all, and whom does it hurt?
        if (reads_ == Reads::nothing) {
          judge(*trial, before_.ride);
          const bool helps = better(*trial);
          tried += helps ? 1 : 0;
          if (!helps || !no_new_clash(*trial, before_.ride, Reads::nothing)) {
            spare_.push_back(std::move(trial));
            continue;
          }
        }
        trials.push_back(std::move(trial));
      }
      if (reads_ != Reads::nothing) {
        judge_on_rides(trials);
        drop(trials, [&](Trial& trial) {
          return better(trial) && no_new_clash(trial, before_.ride, Reads::nothing);
        });
      }
      if (auto way = accepted(trials)) return way;
      put_by(trials);
    }
    return std::nullopt;
  }

  std::optional<WayOut> accepted_alone(std::unique_ptr<Trial> trial) {
    return first_accepted([&] { return std::exchange(trial, nullptr); }, 1);
  }

  /// Whether the finding is better than it was, as judged last.
  bool better(const Trial& trial) const {
    return badness(trial.becomes) < badness(finding_.verdict);
  }

  std::optional<WayOut> by_number(std::string_view path) {
    const Id id = build::id_of(path);
    // A figure nobody has set is to be measured or chosen, not invented.
    if (!build::known_at(before_.build, id)) return std::nullopt;
    return schema()[id].info->type == FieldType::count ? by_count(id) : by_figure(id);
  }

  /// The build as it is, to be changed in one slot.
  std::unique_ptr<Trial> new_trial(const Slot& slot,
                                   std::vector<std::pair<std::string, std::string>> sets = {}) {
    if (spare_.empty())
      return std::make_unique<Trial>(
          Trial{.build = before_.build, .slot = &slot, .sets = std::move(sets)});
    auto trial = std::move(spare_.back());
    spare_.pop_back();
    build::copy_slot(trial->build, before_.build, *trial->slot);
    trial->slot = &slot;
    trial->sets = std::move(sets);
    trial->numbers = nullptr;
    trial->also.clear();
    return trial;
  }

  void put_by(Trials& trials) {
    for (auto& trial : trials) spare_.push_back(std::move(trial));
    trials.clear();
  }

  void drop(Trials& trials, const std::function<bool(Trial&)>& keep) {
    Trials kept;
    for (auto& trial : trials) (keep(*trial) ? kept : spare_).push_back(std::move(trial));
    trials = std::move(kept);
  }

  std::unique_ptr<Trial> number_trial(Id id, double value) {
    auto trial = new_trial(*schema()[id].slot);
    build::set_number(trial->build, id, value);
    const auto& info = *schema()[id].info;
    std::string text = build::show_number(value, id);
    if (const auto* figure = build::figure_at(before_.build, id);
        figure != nullptr && figure->known()) {
      build::figure_at(trial->build, id)->convention = figure->convention;
      build::figure_at(trial->build, id)->evidence = figure->evidence;
      build::figure_at(trial->build, id)->half_width = 0;
      if (figure->convention != figure::Convention::unsaid)
        text += " " + std::string(word(figure->convention));
    }
    trial->sets = {{schema()[id].path, text}};
    trial->text = std::string(info.label) + ": " + text;
    return trial;
  }

  std::optional<WayOut> by_count(Id id) {
    const auto& info = *schema()[id].info;
    const double now = build::number_at(before_.build, id);
    const int furthest = trials_at_most(25, 10, 4);
    std::vector<double> values;
    for (int away = 1; away <= furthest; ++away) {
      for (const double value : {now + away, now - away}) {
        if (value >= info.low && value <= info.high) values.push_back(value);
      }
    }
    auto value = values.begin();
    const auto next_trial = [&]() -> std::unique_ptr<Trial> {
      if (value == values.end()) return nullptr;
      return number_trial(id, *value++);
    };
    return first_accepted(next_trial, std::numeric_limits<int>::max());
  }

  /// Of each of these values of a figure, whether the finding fits with it.
  std::vector<bool> good(Id id, const std::vector<double>& values) {
    Trials trials;
    trials.reserve(values.size());
    for (const double value : values) trials.push_back(number_trial(id, value));
    judge_on_rides(trials);
    std::vector<bool> out;
    out.reserve(trials.size());
    for (const auto& trial : trials) out.push_back(trial->becomes == Verdict::fits);
    put_by(trials);
    return out;
  }

  /// Halves the way between a bad and a fine value so many times; the fine end. With rides three
  /// halvings are looked at together: their seven middles share the lanes of a kernel.
  double halved(Id id, double bad, double fine, int halvings) {
    const int together = reads_ == Reads::nothing ? 1 : 3;
    for (int done = 0; done < halvings; done += together) {
      const int levels = std::min(together, halvings - done);
      const auto count = (std::size_t{1} << static_cast<unsigned>(levels)) - 1;
      // A heap of intervals: the child 2k + 1 where the middle is fine, 2k + 2 where it is bad.
      std::vector<std::pair<double, double>> bad_fine(2 * count + 1);
      std::vector<double> middle(count);
      bad_fine[0] = {bad, fine};
      for (std::size_t k = 0; k < count; ++k) {
        const auto [b, f] = bad_fine[k];
        middle[k] = 0.5 * (b + f);
        bad_fine[2 * k + 1] = {b, middle[k]};
        bad_fine[2 * k + 2] = {middle[k], f};
      }
      const auto fits = good(id, middle);
      std::size_t at = 0;
      while (at < count) at = 2 * at + (fits[at] ? 1 : 2);
      std::tie(bad, fine) = bad_fine[at];
    }
    return fine;
  }

  /// The place nearest to the present number where the finding fits, by halving; rounded to two
  /// digits on that side.
  std::optional<WayOut> by_figure(Id id) {
    const auto& info = *schema()[id].info;
    const double now = build::number_at(before_.build, id);
    const std::vector<double> ends{std::max(info.low, now * 0.2), std::min(info.high, now * 5)};
    const auto end_good = good(id, ends);
    for (std::size_t side = 0; side < ends.size(); ++side) {
      if (!end_good[side]) continue;
      const double end = ends[side];
      const double fine = halved(id, now, end, trials_at_most(24, 7, 4));
      const std::vector<double> values{rounded(fine, end < now, id), fine, end};
      const auto fits = good(id, values);
      for (std::size_t i = 0; i < values.size(); ++i) {
        if (values[i] < info.low || values[i] > info.high || !fits[i]) continue;
        if (auto way = accepted_alone(number_trial(id, values[i]))) return way;
      }
    }
    return std::nullopt;
  }

  /// Two and a half significant digits in the unit it is shown in, towards the good side.
  static double rounded(double value, bool down, Id id) {
    const auto kind = schema()[id].info->kind;
    if (kind == figure::Kind::temperature || value <= 0) return value;
    const auto unit = figure::unit_shown(kind, figure::System::metric, value);
    double factor = 1;
    for (const auto& u : figure::unit_table()) {
      if (u.kind == kind && u.spelling == unit) factor = u.factor;
    }
    const double shown = value / factor;
    const double step = 5 * std::pow(10, std::floor(std::log10(shown)) - 2);
    return (down ? std::floor(shown / step) : std::ceil(shown / step)) * step * factor;
  }

  /// Whether the part now in the slot is of the use the old one was: a rear sprocket is no front
  /// one, another chemistry or rim is another bike. What the sheet never said is no obstacle.
  bool same_use(const Slot& slot, const build::LibraryPart& part) const {
    const auto old_number = [&](std::string_view key) {
      const Id id = schema().find(std::string(slot.key) + "." + std::string(key));
      return id < 0 ? std::nan("") : build::number_at(before_.build, id);
    };
    const auto number = [&](std::string_view key) {
      for (const auto& info : slot.table->fields) {
        if (info.key == key) return build::member_number(info, info.reach(part.part.get()));
      }
      return std::nan("");
    };
    const auto same = [&](const char* key, double share) {
      const double old = old_number(key), now = number(key);
      return std::isnan(old) ||
             (!std::isnan(now) && std::fabs(now - old) <= share * std::fabs(old));
    };
    if (slot.key == "sprocket_front") {
      const bool sits = !std::isnan(number("bore")) || !std::isnan(number("spline_teeth"));
      return sits && same("teeth", 0.15) && std::isnan(number("bolt_circle"));
    }
    if (slot.key == "sprocket_rear")
      return !std::isnan(number("bolt_circle")) && same("teeth", 0.12);
    if (slot.key == "chain") return same("pitch", 0.001);
    if (slot.key == "cell") return same("chemistry", 0) && same("format", 0);
    if (slot.key == "motor")
      return same("shaft", 0) && number("power_continuous") >= 0.8 * old_number("power_continuous");
    if (slot.key == "tyre_front" || slot.key == "tyre_rear") return same("circumference", 0.06);
    return true;
  }

  /// How many trials a rule is worth: one that reads no ride, one that reads a ride, one that reads
  /// distances (a trial costs about 10 us, 0.1 ms and 0.5 ms).
  int trials_at_most(int without_ride, int with_ride, int with_distances) const {
    const std::array<int, 3> most{without_ride, with_ride, with_distances};
    return most[static_cast<std::size_t>(reads_)];
  }

  const Numbers& numbers_of(Trial& trial) const {
    if (trial.numbers == nullptr)
      trial.numbers = std::make_unique<Numbers>(before_.numbers, trial.build, *trial.slot);
    return *trial.numbers;
  }

  void ride_all(Trials& trials, ride::AnswerSet wanted) {
    std::vector<ride::Candidate> candidates;
    candidates.reserve(trials.size());
    for (const auto& trial : trials)
      candidates.push_back({&trial->build, &numbers_of(*trial).nominal});
    auto rides = ride::nominal_rides(candidates, before_.cycles, wanted, ridden_);
    for (std::size_t i = 0; i < trials.size(); ++i) trials[i]->ride = std::move(rides[i]);
  }

  void judge(Trial& trial, const ride::Ride& ride) const {
    const auto now = Desk(trial.build, numbers_of(trial), ride).verdict(rule_);
    trial.becomes = now.value_or(Verdict::fits);
  }

  /// The one finding on each changed build; where it speaks of the road, on a ride with no more
  /// than it reads.
  void judge_on_rides(Trials& trials) {
    const bool rides = reads_ != Reads::nothing;
    if (rides) ride_all(trials, before_.asked[rule_]);
    for (const auto& trial : trials) judge(*trial, rides ? trial->ride : before_.ride);
  }

  /// The first of these trials that stays a way out when every rule has been asked that reads the
  /// road. Those that read distances come last: they cost most, and most trials do not get there.
  std::optional<WayOut> accepted(Trials& trials) {
    for (const Reads reads : {Reads::road, Reads::distances}) {
      if (trials.empty()) return std::nullopt;
      ride_all(trials, reads == Reads::road ? before_.asked_by_road : before_.asked_by_distances);
      drop(trials, [&](Trial& trial) {
        if (reads_ == reads) judge(trial, trial.ride);
        return better(trial) && trial.becomes != Verdict::unmeasured &&
               no_new_clash(trial, trial.ride, reads);
      });
    }
    for (const auto& trial : trials) {
      if (kept_with_spread(*trial)) return way_of(*trial);
    }
    return std::nullopt;
  }

  /// What lives by its spread is promised with its spread: a quarter of the report's draws.
  bool kept_with_spread(Trial& trial) const {
    if (trial.becomes != Verdict::fits || reads_ == Reads::nothing) return true;
    const auto drawn = ride::ride(trial.build, before_.cycles,
                                  {.draws = 64,
                                   .seed = 1,
                                   .pushes = false,
                                   .wanted = before_.asked[rule_],
                                   .widest_kernel = 8});
    judge(trial, drawn);
    return better(trial);
  }

  WayOut way_of(const Trial& trial) const {
    WayOut way{.text = trial.text, .sets = trial.sets, .becomes = trial.becomes, .also = {}};
    std::vector<std::size_t> also = trial.also;
    std::stable_sort(also.begin(), also.end(), [&](std::size_t a, std::size_t b) {
      const bool road_a = before_.reads[a] != Reads::nothing,
                 road_b = before_.reads[b] != Reads::nothing;
      return road_a != road_b ? road_b : a < b;
    });
    for (const std::size_t i : also)
      way.also.push_back(std::string(rule_book().rules()[i].id) + " no longer clashes");
    return way;
  }

  /// Whether no other rule of those that read so much of the road becomes a clash; notes which no
  /// longer are.
  bool no_new_clash(Trial& trial, const ride::Ride& ride, Reads reads) const {
    const Numbers& numbers = numbers_of(trial);
    const Desk desk(trial.build, numbers, ride);
    // Without a new ride a rule that reads nothing new says what it said.
    const auto asked = reads == Reads::nothing ? touched_rules({before_.build, before_.numbers},
                                                               {trial.build, numbers}, *trial.slot)
                                               : std::vector<std::uint8_t>(before_.reads.size(), 1);
    for (std::size_t i = 0; i < asked.size(); ++i) {
      if (i == rule_ || before_.reads[i] != reads || asked[i] == 0) continue;
      const bool clash_now = desk.clashes(i), clash_before = before_.clash[i] != 0;
      if (clash_now && !clash_before) return false;
      if (clash_before && !clash_now) trial.also.push_back(i);
    }
    return true;
  }

  const Before& before_;
  const Finding& finding_;
  const std::size_t rule_;
  const Reads reads_;    ///< of the finding's rule
  ride::Ridden ridden_;  ///< the build as it is, and what this search has ridden
  Trials spare_;         ///< done with; taken up again, since a Build is slow to copy
};

}  // namespace

void find_ways_out(const Build& build, const ride::Ride& ride, const build::Library& library,
                   const ride::Cycles& cycles, std::vector<Finding>& findings,
                   const ride::Runner& runner) {
  const Before before(build, ride, library, cycles, findings);
  std::vector<std::size_t> worth;
  for (std::size_t i = 0; i < findings.size(); ++i) {
    const Finding& finding = findings[i];
    if (finding.verdict == Verdict::clash ||
        (finding.verdict == Verdict::tight && finding.rule->blocks != Blocks::nothing))
      worth.push_back(i);
  }
  std::vector<std::vector<WayOut>> ways(worth.size());
  runner(static_cast<int>(worth.size()), [&](int k) {
    ways[static_cast<std::size_t>(k)] =
        Search(before, findings[worth[static_cast<std::size_t>(k)]]).ways();
  });
  for (std::size_t k = 0; k < worth.size(); ++k) findings[worth[k]].ways_out = std::move(ways[k]);
}

}  // namespace ww::fit
