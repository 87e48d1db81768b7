// SPDX-License-Identifier: MIT
#include "search/doubts.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>
#include <optional>
#include <tuple>

#include "base/quasi.h"
#include "base/sensitivity.h"
#include "ride/lane_group.h"

namespace ww::search {

namespace {

using ride::Answer;

/// What would be beyond stays at its middle.
constexpr std::size_t most_unknowns = 480;

/// Whether a bike meets every must with a share to spare; money has its own reserve.
bool spares(const Record& record, const std::vector<Must>& musts, double share) {
  return std::all_of(musts.begin(), musts.end(), [&](Must must) {
    const bool more = info_of(must.quantity).more_is_better;
    if (must.quantity != Quantity::money) must.bound *= more ? 1 + share : 1 - share;
    return met(must, record.numbers[index_of(must.quantity)]);
  });
}

/// The pool, each bike once: the short list, then the best of every option with nothing to spare,
/// with some, with more; of every option's the least costly first.
std::vector<Index> pool_of(const Choosing& c, const DoubtOptions& options) {
  LastCheck last(*c.ground, options.runner);
  const Stands stand = [&](const std::vector<Index>& asked) {
    std::vector<const Record*> records;
    records.reserve(asked.size());
    for (const Index i : asked) records.push_back(&c.record(i));
    std::vector<bool> out;
    for (const auto& result : last.check(records)) out.push_back(result.stands);
    return out;
  };
  std::vector<std::pair<double, Index>> wanted;
  const auto want = [&](const std::vector<Decision>& found) {
    for (const Decision& decision : found) {
      for (const OptionValue& option : decision.options)
        wanted.emplace_back(option.loss, option.record);
    }
  };
  want(c.decisions);
  for (const double share : {0.05, 0.1, 0.2}) {
    want(decisions(c.ground->space(), c.hunted.records, c.worth, stand,
                   [&](const Record& record) { return spares(record, c.wishes.musts, share); }));
  }
  std::stable_sort(wanted.begin(), wanted.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<Index> out(c.list);
  for (const auto& [loss, index] : wanted) {
    if (out.size() >= options.most_bikes) break;
    if (std::find(out.begin(), out.end(), index) == out.end()) out.push_back(index);
  }
  return out;
}

/// Every figure with a spread that some bike has, the same one wherever it is the same thing.
class Unknowns {
 public:
  /// Whose it is: a part's, one bike's own setting, or everybody's.
  struct Key {
    Id id;
    std::string part;
    std::optional<Index> bike = std::nullopt;
    bool operator<(const Key& o) const {
      return std::tie(id, part, bike) < std::tie(o.id, o.part, o.bike);
    }
  };
  std::size_t place(const Key& key) {
    const auto [at, fresh] = places_.try_emplace(key, keys_.size());
    if (fresh) keys_.push_back(key);
    return at->second;
  }
  const std::vector<Key>& keys() const { return keys_; }

 private:
  std::map<Key, std::size_t> places_;
  std::vector<Key> keys_;
};

struct Varying {
  std::size_t unknown;
  ride::SoftFigure soft;
};

/// One bike laid out, with what about it is not known.
struct Held {
  Held(const Ground& ground, Index at, const Record& found)
      : index(at), record(&found), trial(ground.layout()), picker(ground.supports(), trial) {
    LastCheck last(ground);
    picks = last.check(found).picks;
    trial.lay(found.at, (1U << axis_count) - 1);
    trial.set_limits();
    picker.lay(picks);
    const auto& sieve = trial.sieve();
    ride = ride::nominal_rides({{&sieve.build(), &sieve.nominal()}}, ground.cycles(),
                               ride::without(ride::every_answer, ride::answers_by_class))
               .front();
  }
  Index index;
  const Record* record;
  Picks picks{};
  Trial trial;
  Picker picker;
  ride::Ride ride;  ///< with the figures as they are listed
  std::vector<Varying> varying;
  std::vector<std::size_t> rules;  ///< that cost something and may turn
  double standing = 0;             ///< of rules that do not turn: what breaking them costs
  std::vector<std::uint8_t> fails_as_listed;  ///< by place in rules
  std::vector<std::uint8_t> matters;          ///< by place in rules
};

Unknowns::Key key_of(const Ground& ground, const Held& bike, Id id) {
  const std::string_view slot = build::schema()[id].slot->key;
  for (const Axis axis : {Axis::motor, Axis::controller, Axis::cell, Axis::chain}) {
    if (slot != word(axis)) continue;
    const Option& option = ground.space().of(axis)[bike.record->at[index_of(axis)]];
    return {id, option.part == nullptr ? std::string() : option.part->id};
  }
  const auto& shelves = ground.supports().shelves();
  for (std::size_t s = 0; s < shelves.size(); ++s) {
    if (shelves[s].slot->key != slot || bike.picks[s] < 0) continue;
    return {id, shelves[s].options[static_cast<std::size_t>(bike.picks[s])].part->id};
  }
  if (slot == "pack" || slot == "gearing" || slot == "limits") return {id, {}, bike.index};
  return {id, {}};
}

double cost_of(const fit::Rule& rule, const Worth& worth) {
  const double weeks = worth.money_per_step[index_of(Quantity::weeks)] * rule.ignoring.weeks;
  return 0.5 * (rule.ignoring.cost_low + rule.ignoring.cost_high) + weeks;
}

/// A rule that holds the bike to a wish counts where that wish is a must.
bool counts(const fit::Rule& rule, std::size_t place, const Wishes& wishes) {
  if (rule.id.rfind("wish-", 0) != 0) return true;
  const auto& leaves = fit::rule_book().leaves(place);
  return std::any_of(wishes.musts.begin(), wishes.musts.end(), [&](const Must& must) {
    const auto path = info_of(must.quantity).wish;
    return !path.empty() &&
           std::find(leaves.begin(), leaves.end(), build::id_of(path)) != leaves.end();
  });
}

/// The rules that count, as far as they cost anything when broken.
std::vector<std::size_t> costly_rules(const Choosing& c) {
  const auto& rules = fit::rule_book().rules();
  std::vector<std::size_t> out;
  for (std::size_t rule = 0; rule < rules.size(); ++rule) {
    if (cost_of(rules[rule], c.worth) > 0 && counts(rules[rule], rule, c.wishes))
      out.push_back(rule);
  }
  return out;
}

/// Every figure with a spread that the ride or such a rule reads.
void find_varying(const Choosing& c, const std::vector<std::size_t>& costly, Held& bike,
                  Unknowns& unknowns) {
  const fit::Sieve& sieve = bike.trial.sieve();
  std::vector<std::uint8_t> read(static_cast<std::size_t>(build::schema().size()), 0);
  for (const Id id : bike.ride.read) read[static_cast<std::size_t>(id)] = 1;
  for (const std::size_t rule : costly) {
    for (const Id id : fit::rule_book().leaves(rule)) read[static_cast<std::size_t>(id)] = 1;
  }
  for (Id id = 0; id < build::schema().size(); ++id) {
    const auto* soft = sieve.soft(id);
    if (read[static_cast<std::size_t>(id)] == 0 || soft == nullptr ||
        !(soft->spread.half_width > 0 || soft->convention_unsaid))
      continue;
    const std::size_t place = unknowns.place(key_of(*c.ground, bike, id));
    if (place < most_unknowns) bike.varying.push_back({place, *soft});
  }
}

/// Whether a rule turning is a reason to doubt the bike: what costs less than a fiftieth of its
/// money to put right is seen to when it is known.
bool matters(const Choosing& c, const Held& bike, const fit::Rule& rule) {
  const double money = double(bike.record->numbers[index_of(Quantity::money)]);
  return cost_of(rule, c.worth) > guess_share * money;
}

/// Sorts out which rules may turn. One that hangs on nothing that is chosen is the same for every
/// bike and tells none from another.
void find_rules(const Choosing& c, const std::vector<std::size_t>& costly, Held& bike) {
  const auto& book = fit::rule_book();
  std::vector<std::uint8_t> varies(static_cast<std::size_t>(build::schema().size()), 0);
  for (const Varying& v : bike.varying) varies[static_cast<std::size_t>(v.soft.id)] = 1;
  fit::Sieve& sieve = bike.trial.sieve();
  sieve.set_ride(bike.ride.nominal);
  for (const std::size_t rule : costly) {
    const Reads& reads = c.ground->layout().reads(rule);
    if (reads.axes == 0 && reads.supports == 0 && !reads.ride) continue;
    const auto& leaves = book.leaves(rule);
    const bool turns =
        !book.answers(rule).empty() || std::any_of(leaves.begin(), leaves.end(), [&](Id id) {
          return varies[static_cast<std::size_t>(id)] != 0;
        });
    const bool fails = sieve.fails(rule);
    if (!turns) {
      bike.standing += fails ? cost_of(book.rules()[rule], c.worth) : 0;
      continue;
    }
    bike.rules.push_back(rule);
    bike.fails_as_listed.push_back(fails ? 1 : 0);
    bike.matters.push_back(matters(c, bike, book.rules()[rule]) ? 1 : 0);
  }
}

Numbers numbers_of(const Numbers& listed, const ride::Answers<double>& answers) {
  Numbers n = listed;
  const auto set = [&](Quantity quantity, Answer answer) {
    n[index_of(quantity)] = static_cast<float>(answers[answer]);
  };
  set(Quantity::mass, Answer::mass);
  set(Quantity::punch, Answer::time_0_50);
  set(Quantity::time_0_100, Answer::time_0_100);
  set(Quantity::top_speed, Answer::speed_top);
  set(Quantity::hold_speed, Answer::speed_hold_hour);
  set(Quantity::hill_grade, Answer::grade_at_hill_speed);
  set(Quantity::distance, Answer::range_mixed_reserve);
  return n;
}

/// What comes of one bike on all draws.
struct Outcomes {
  std::vector<double> worth;  ///< by draw
  std::vector<double> falls;  ///< by place in Held::rules: how many draws it turned on
  double held = 0;            ///< draws on which none turned
};

class Drawing {
 public:
  Drawing(const Choosing& c, const DoubtOptions& options, const std::vector<double>& points,
          std::size_t dimensions)
      : c_(c),
        draws_(static_cast<std::size_t>(options.draws)),
        points_(points),
        dimensions_(dimensions),
        kernel_(ride::choose_kernel(options.widest_kernel)),
        course_(hunt_course(c.ground->cycles())) {}

  Outcomes run(Held& bike) const {
    ride::Course course = course_;
    course.wanted = hunted_answers();
    for (const std::size_t rule : bike.rules) {
      for (const int answer : fit::rule_book().answers(rule))
        course.wanted.add(static_cast<Answer>(answer));
    }
    course.wanted = ride::without(course.wanted, ride::answers_by_class);
    Outcomes out{.worth = {}, .falls = std::vector<double>(bike.rules.size(), 0)};
    out.worth.reserve(draws_);
    ride::LaneGroup lanes(bike.trial.sieve().build().motor->type);
    for (std::size_t first = 0; first < draws_; first += ride::lane_padding) {
      const std::size_t end = std::min(first + ride::lane_padding, draws_);
      lanes.clear();
      for (std::size_t d = first; d < end; ++d) {
        lay(bike, d);
        lanes.add(ride::bike_numbers(bike.trial.sieve().build(), bike.trial.sieve().nominal()));
      }
      lanes.ride(course, kernel_);
      for (std::size_t d = first; d < end; ++d) judge(bike, d, lanes, d - first, out);
    }
    return out;
  }

 private:
  void lay(Held& bike, std::size_t draw) const {
    const double* u = points_.data() + draw * dimensions_;
    for (const Varying& v : bike.varying)
      bike.trial.sieve().draw(v.soft.id,
                              ride::drawn_value(v.soft, u[2 * v.unknown], u[2 * v.unknown + 1]));
    // Limits are typed in when the parts are known: to what they stand then.
    bike.trial.set_limits();
  }

  void judge(Held& bike, std::size_t draw, const ride::LaneGroup& lanes, std::size_t lane,
             Outcomes& out) const {
    lay(bike, draw);
    ride::Answers<double> answers;
    for (std::size_t a = 0; a < ride::answer_count; ++a)
      answers.at[a] = lanes.answer(static_cast<Answer>(a), lane);
    fit::Sieve& sieve = bike.trial.sieve();
    sieve.set_ride(answers);
    double worth = c_.worth.of(numbers_of(bike.record->numbers, answers)) - bike.standing;
    bool turned = false;
    for (std::size_t k = 0; k < bike.rules.size(); ++k) {
      if (!sieve.fails(bike.rules[k])) continue;
      worth -= cost_of(fit::rule_book().rules()[bike.rules[k]], c_.worth);
      if (bike.fails_as_listed[k] != 0) continue;
      out.falls[k] += 1;
      turned = turned || bike.matters[k] != 0;
    }
    out.worth.push_back(worth);
    out.held += turned ? 0 : 1;
  }

  const Choosing& c_;
  std::size_t draws_;
  const std::vector<double>& points_;
  std::size_t dimensions_;
  ride::Kernel kernel_;
  ride::Course course_;
};

/// A bike that comes to nothing has cost its money, and no more.
void level(std::vector<double>& worth, const Record& record, const Worth& as_listed) {
  const double money = double(record.numbers[index_of(Quantity::money)]);
  const double least = as_listed.of(record.numbers) - money;
  for (double& w : worth) w = std::max(std::isfinite(w) ? w : least, least);
}

double mean_of(const std::vector<double>& row) {
  return std::accumulate(row.begin(), row.end(), 0.0) / double(row.size());
}

/// What numbers that have nothing to do with the bikes would seem worth: mean and most.
std::pair<double, double> luck(const WorthByDraw& worth, std::size_t tries, int groups,
                               std::uint32_t seed) {
  const std::size_t draws = worth.front().size();
  const auto points = stratified_points(static_cast<int>(tries), static_cast<int>(draws), seed + 1);
  std::vector<double> column(draws);
  double sum = 0, most = 0;
  for (std::size_t t = 0; t < tries; ++t) {
    for (std::size_t d = 0; d < draws; ++d) column[d] = points[d * tries + t];
    const double value = value_of_knowing(worth, column, groups);
    sum += value;
    most = std::max(most, value);
  }
  return {sum / double(tries), most};
}

/// The best bike of each group of draws, from those where the figure is low to where it is high.
std::vector<Index> best_by_group(const WorthByDraw& worth, const std::vector<double>& input,
                                 int groups, const std::vector<Held*>& bikes) {
  std::vector<std::size_t> order(input.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return input[a] < input[b]; });
  std::vector<Index> out;
  const auto count = static_cast<std::size_t>(groups);
  for (std::size_t g = 0; g < count; ++g) {
    std::size_t best = 0;
    double most = -std::numeric_limits<double>::infinity();
    for (std::size_t b = 0; b < worth.size(); ++b) {
      double sum = 0;
      for (std::size_t i = order.size() * g / count; i < order.size() * (g + 1) / count; ++i)
        sum += worth[b][order[i]];
      if (sum <= most) continue;
      most = sum;
      best = b;
    }
    const Index index = bikes[best]->index;
    if (std::find(out.begin(), out.end(), index) == out.end()) out.push_back(index);
  }
  return out;
}

std::vector<DecisionChance> chances(const Space& space, const WorthByDraw& worth,
                                    const std::vector<Held*>& bikes) {
  const auto share = share_right(worth);
  std::vector<double> means;
  for (const auto& row : worth) means.push_back(mean_of(row));
  const double most = *std::max_element(means.begin(), means.end());
  std::vector<DecisionChance> out;
  for (std::size_t a = 0; a < axis_count; ++a) {
    DecisionChance chance{.axis = static_cast<Axis>(a), .options = {}};
    for (std::size_t o = 0; o < space.options[a].size(); ++o) {
      std::optional<std::size_t> best;
      double right = 0;
      for (std::size_t b = 0; b < bikes.size(); ++b) {
        if (bikes[b]->record->at[a] != o) continue;
        right += share[b];
        if (!best || means[b] > means[*best]) best = b;
      }
      if (best)
        chance.options.push_back(
            {static_cast<std::uint8_t>(o), bikes[*best]->index, most - means[*best], right});
    }
    if (chance.options.size() < 2) continue;
    std::stable_sort(chance.options.begin(), chance.options.end(),
                     [](const auto& x, const auto& y) { return x.loss < y.loss; });
    out.push_back(std::move(chance));
  }
  std::stable_sort(out.begin(), out.end(), [](const auto& x, const auto& y) {
    return x.options.back().loss > y.options.back().loss;
  });
  return out;
}

Holding holding_of(const Held& bike, const Outcomes& outcomes, double draws) {
  Holding out{.record = bike.index,
              .share_holds = outcomes.held / draws,
              .falls = {},
              .small_but_hurt = {}};
  for (std::size_t k = 0; k < bike.rules.size(); ++k) {
    const bool small = bike.matters[k] == 0;
    if (outcomes.falls[k] == 0 || (small && !fit::rule_book().rules()[bike.rules[k]].can_hurt))
      continue;
    (small ? out.small_but_hurt : out.falls).emplace_back(bike.rules[k], outcomes.falls[k] / draws);
  }
  for (auto* falls : {&out.falls, &out.small_but_hurt}) {
    std::stable_sort(falls->begin(), falls->end(),
                     [](const auto& a, const auto& b) { return a.second > b.second; });
  }
  return out;
}

/// Bikes by their places, the best on the mean first.
std::vector<std::size_t> by_mean(const WorthByDraw& worth) {
  std::vector<std::size_t> order(worth.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return mean_of(worth[a]) > mean_of(worth[b]);
  });
  return order;
}

/// The same figure's value on every draw.
std::vector<double> input_of(std::size_t unknown, const std::vector<Held*>& bikes,
                             const std::vector<double>& points, std::size_t dimensions,
                             std::size_t draws) {
  std::vector<double> out;
  for (const Held* bike : bikes) {
    for (const Varying& v : bike->varying) {
      if (v.unknown != unknown) continue;
      for (std::size_t d = 0; d < draws; ++d) {
        const double* u = points.data() + d * dimensions + 2 * unknown;
        out.push_back(ride::drawn_value(v.soft, u[0], u[1]));
      }
      return out;
    }
  }
  return out;
}

/// The bikes held against each other so far, on the same draws.
class Pool {
 public:
  Pool(const Choosing& chosen, const DoubtOptions& options)
      : chosen_(chosen),
        options_(options),
        costly_(costly_rules(chosen)),
        points_(
            stratified_points(2 * static_cast<int>(most_unknowns), options.draws, options.seed)),
        drawing_(chosen, options, points_, 2 * most_unknowns) {}

  void add(const std::vector<Index>& indices) {
    const std::size_t first = owned_.size();
    owned_.resize(first + indices.size());
    outcomes_.resize(owned_.size());
    options_.runner(static_cast<int>(indices.size()), [&](int i) {
      const Index index = indices[static_cast<std::size_t>(i)];
      owned_[first + static_cast<std::size_t>(i)] =
          std::make_unique<Held>(*chosen_.ground, index, chosen_.record(index));
    });
    for (std::size_t b = first; b < owned_.size(); ++b) {
      find_varying(chosen_, costly_, *owned_[b], unknowns_);
      bikes_.push_back(owned_[b].get());
    }
    options_.runner(static_cast<int>(indices.size()), [&](int i) {
      const std::size_t b = first + static_cast<std::size_t>(i);
      find_rules(chosen_, costly_, *bikes_[b]);
      outcomes_[b] = drawing_.run(*bikes_[b]);
      level(outcomes_[b].worth, *bikes_[b]->record, chosen_.worth);
    });
    for (std::size_t b = first; b < owned_.size(); ++b) worth_.push_back(outcomes_[b].worth);
  }

  /// Records that differ from the best on the mean in one choice alone, and are not here yet.
  std::vector<Index> neighbours() const {
    const At& best = bikes_[best_option(worth_)]->record->at;
    std::vector<Index> out;
    for (std::size_t i = 0; i < chosen_.hunted.records.size(); ++i) {
      const At& at = chosen_.hunted.records[i].at;
      std::size_t differ = 0;
      for (std::size_t a = 0; a < axis_count; ++a) differ += at[a] != best[a] ? 1 : 0;
      const auto here = [&](const Held* bike) { return bike->index == i; };
      if (differ == 1 && std::none_of(bikes_.begin(), bikes_.end(), here))
        out.push_back(static_cast<Index>(i));
    }
    return out;
  }

  Doubts answer() const {
    Doubts out;
    out.bikes = bikes_.size();
    out.unknowns = std::min(unknowns_.keys().size(), most_unknowns);
    out.draws = options_.draws;
    out.value_of_knowing_all = value_of_knowing_all(worth_);
    out.decisions = chances(chosen_.ground->space(), worth_, bikes_);
    list_best(out);
    measure(out);
    return out;
  }

 private:
  void list_best(Doubts& out) const {
    const auto order = by_mean(worth_);
    std::vector<Index> candidates;
    candidates.reserve(order.size());
    for (const std::size_t b : order) candidates.push_back(bikes_[b]->index);
    for (const Index index :
         that_differ(chosen_.hunted.records, candidates, options_.list_length)) {
      const auto place = static_cast<std::size_t>(
          std::find(candidates.begin(), candidates.end(), index) - candidates.begin());
      out.list.push_back(
          holding_of(*bikes_[order[place]], outcomes_[order[place]], double(options_.draws)));
    }
  }

  void measure(Doubts& out) const {
    // As many columns of luck as there are figures: the luckiest of either would look alike.
    const auto [mean, most] =
        luck(worth_, std::max<std::size_t>(out.unknowns, 1), options_.groups, options_.seed);
    for (std::size_t k = 0; k < out.unknowns; ++k) {
      const Unknowns::Key& key = unknowns_.keys()[k];
      if (key.bike) continue;  // a setting is made, not measured
      const auto input =
          input_of(k, bikes_, points_, 2 * most_unknowns, static_cast<std::size_t>(options_.draws));
      const double value = value_of_knowing(worth_, input, options_.groups);
      if (!(value > most)) continue;
      out.measuring.push_back(
          {key.id, key.part, value - mean, best_by_group(worth_, input, options_.groups, bikes_)});
    }
    std::stable_sort(out.measuring.begin(), out.measuring.end(),
                     [](const Measuring& a, const Measuring& b) { return a.value > b.value; });
  }

  const Choosing& chosen_;
  const DoubtOptions& options_;
  std::vector<std::size_t> costly_;
  std::vector<double> points_;
  Drawing drawing_;
  std::vector<std::unique_ptr<Held>> owned_;
  std::vector<Held*> bikes_;
  Unknowns unknowns_;
  std::vector<Outcomes> outcomes_;
  WorthByDraw worth_;
};

}  // namespace

Doubts doubts(const Choosing& chosen, const DoubtOptions& options) {
  if (chosen.loose || chosen.list.empty()) return {};
  Pool pool(chosen, options);
  pool.add(pool_of(chosen, options));
  pool.add(pool.neighbours());
  return pool.answer();
}

}  // namespace ww::search
