// SPDX-License-Identifier: MIT
#include "search/hunt.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstring>
#include <limits>
#include <numeric>

#include "base/check.h"
#include "plan/parts_list.h"
#include "ride/evaluate.h"
#include "ride/lane_group.h"
#include "ride/motor_dispatch.h"
#include "search/best.h"

namespace ww::search {

namespace {

using ride::Answer;

double weeks_of_option(const Option& option) {
  return option.part == nullptr ? 0 : weeks_of(*option.part);
}

/// The money of a parts list that does not belong to the slots a search fills.
double fixed_money(const plan::PartsList& list, const Space& space) {
  double filled = 0;
  const auto label = [](std::string_view slot) { return build::schema().slot(slot)->label; };
  for (const auto& line : list.lines) {
    bool ours = false;
    for (const auto slot : space.supports) ours = ours || line.what == label(slot);
    for (const Axis axis : {Axis::motor, Axis::controller, Axis::cell, Axis::chain})
      ours = ours || (space.has(axis) && line.what == label(word(axis)));
    if (!ours) continue;
    filled += double(line.price + line.duty) +
              (plan::paid(line) ? 0 : list.contingency_share * double(line.price));
  }
  return (double(list.total) - filled) / 100;
}

}  // namespace

// ---- ground

Ground::Ground(Space space, const build::Library& library, const std::vector<build::Goods>& goods,
               const ride::Cycles& cycles)
    : space_(std::move(space)),
      library_(&library),
      goods_(&goods),
      cycles_(&cycles),
      layout_(space_),
      tables_(layout_),
      supports_(layout_, library) {
  const auto list = plan::parts_list(space_.base, library, goods);
  money_base_ = fixed_money(list, space_);
  money_growth_ = 1 + list.contingency_share;
  duty_share_ = list.duty_share;
}

double Ground::landed_money(const build::LibraryPart* part) const {
  if (part == nullptr) return 0;
  const double all = search::money_of(*part), freight = freight_of(*part);
  return money_growth_ * all + std::max(0.0, duty_share_ * (all - freight) - freight);
}

double Ground::money_of(const At& at, const Picks& picks) const {
  const auto option = [&](Axis axis) -> const Option& {
    return space_.of(axis)[at[index_of(axis)]];
  };
  const auto count = [&](Axis axis, int on_sheet) {
    const int n = option(axis).number;
    return double(std::max(n > 0 ? n : on_sheet, 1));
  };
  const build::Pack pack = space_.base.pack.value_or(build::Pack{});
  const double cells = count(Axis::series, pack.series) * count(Axis::parallel, pack.parallel);
  double parts = landed_money(option(Axis::motor).part) +
                 landed_money(option(Axis::controller).part) +
                 cells * landed_money(option(Axis::cell).part);
  for (std::size_t s = 0; s < supports_.shelves().size(); ++s) {
    const auto& shelf = supports_.shelves()[s];
    parts += shelf.pieces *
             (picks[s] < 0 ? money_growth_ * shelf.middle_money
                           : landed_money(shelf.options[static_cast<std::size_t>(picks[s])].part));
  }
  return money_base_ + parts;
}

double Ground::money_of_chain(const At& at) const {
  if (!layout_.geared(at[index_of(Axis::motor)])) return 0;
  return landed_money(space_.of(Axis::chain)[at[index_of(Axis::chain)]].part);
}

double Ground::weeks_of(const At& at, const Picks& picks) const {
  double longest = 0;
  for (std::size_t a = 0; a < axis_count; ++a) {
    if (a == index_of(Axis::chain) && !layout_.geared(at[index_of(Axis::motor)])) continue;
    longest = std::max(longest, weeks_of_option(space_.options[a][at[a]]));
  }
  for (std::size_t s = 0; s < supports_.shelves().size(); ++s) {
    if (picks[s] < 0) continue;
    longest =
        std::max(longest, supports_.shelves()[s].options[static_cast<std::size_t>(picks[s])].weeks);
  }
  return longest;
}

Build Ground::build_of(const At& at, const Picks& picks) const {
  Trial trial(layout_);
  Picker picker(supports_, trial);
  trial.lay(at, (1U << axis_count) - 1);
  trial.set_limits();
  picker.lay(picks);
  return trial.sieve().build();
}

ride::AnswerSet hunted_answers() {
  return early_answers() | ride::answers_of(Answer::range_mixed_reserve);
}

ride::AnswerSet early_answers() {
  return ride::answers_of(
      Answer::speed_top, Answer::speed_hold_hour, Answer::time_0_50, Answer::time_0_100,
      Answer::grade_at_hill_speed, Answer::torque_standstill, Answer::thrust_standstill,
      Answer::thrust_lift, Answer::mass, Answer::mass_laden, Answer::voltage_cold_low,
      Answer::current_phase_rms, Answer::power_hold, Answer::winding_hold, Answer::energy_pack);
}

std::vector<std::size_t> ride_rules(const Layout& layout, Reading reading) {
  std::vector<std::size_t> out;
  const auto& book = fit::rule_book();
  for (std::size_t rule = 0; rule < book.rules().size(); ++rule) {
    const Reads& reads = layout.reads(rule);
    // A wish is no clash between parts: the musts hold the bike to it. What blocks no step (the
    // voltage on the coldest day, say) is for the builder to settle on the finished bike.
    if (!reads.ride || reads.axes == 0 || reads.supports != 0 ||
        book.rules()[rule].blocks == fit::Blocks::nothing ||
        book.rules()[rule].id.rfind("wish-", 0) == 0)
      continue;
    const auto& answers = book.answers(rule);
    const bool early = std::all_of(answers.begin(), answers.end(), [](int answer) {
      return early_answers().has(static_cast<Answer>(answer));
    });
    // What the chain decides is asked of each chain.
    const bool of_chain = (reads.axes & bit(Axis::chain)) != 0;
    if (early && !of_chain ? reading == Reading::early : reading == Reading::late)
      out.push_back(rule);
  }
  return out;
}

ride::Course hunt_course(const ride::Cycles& cycles) {
  ride::Course course = ride::course_for(cycles, 0);
  course.wanted = hunted_answers();
  course.launch_panels = 4;
  return course;
}

// ---- the hunt

namespace {

struct TaskResult {
  std::vector<Record> records;
  double fitting = 0, ridden = 0, through = 0, unrideable = 0, pulled_by_chain = 0, fell_riding = 0;
  double left = 0;
  std::vector<double> by_rule, by_must;
};

/// What a pack and motor can reach at the very most, without a ride: nothing here is less than what
/// a ride would find, so what cannot reach a must by it is left out with nothing lost.
struct Reach {
  double speed_free_radps;  ///< where the voltage ends; infinite where the field may be weakened
  double torque_Nm;         ///< the motor's listed peak
  double power_W;           ///< the largest battery current without any sag
  double wheel_radius_m, efficiency;
  double force_N;  ///< of the road at the speed that must be reached
  bool reaches(double ratio, double speed_mps) const {
    constexpr double slack = 1 + 1e-6;
    return speed_mps * ratio / wheel_radius_m <= speed_free_radps * slack &&
           force_N * wheel_radius_m / (ratio * efficiency) <= torque_Nm * slack &&
           force_N * speed_mps / efficiency <= power_W * slack;
  }
};

template <template <class> class Motor>
double speed_free_radps(const ride::Bike<double, Motor>&, double) {
  return std::numeric_limits<double>::infinity();
}
double speed_free_radps(const ride::Bike<double, model::PmMotor>& bike, double emf_V) {
  const auto& p = bike.params;
  if (p.weakening > 0.5) return p.speed_limit_radps;
  return std::min(p.speed_limit_radps, model::no_load_speed(bike.motor, p.modulation * emf_V));
}

Reach reach_of(const Build& build, const ride::NominalValues& nominal, double speed_mps) {
  Reach reach{};
  ride::with_motor(build.motor->type, [&]<template <class> class Motor>() {
    const auto bike = ride::bike_of<double, Motor>(build, nominal.view());
    const auto& p = bike.params;
    const double emf_V = p.pack.cells_in_series * model::ocv_V(p.pack.cell_ocv, 0.5);
    reach = {.speed_free_radps = speed_free_radps(bike, emf_V),
             .torque_Nm = p.torque_limit_Nm,
             .power_W = p.pack.current_max_A * emf_V,
             .wheel_radius_m = p.wheel_radius_m,
             .efficiency = p.driveline_efficiency,
             .force_N = ride::road_force<double>(p, {speed_mps, 0, 0})};
  });
  return reach;
}

/// Two teeth, and the chains that run on them.
struct Gears {
  std::uint8_t front, rear;
  std::vector<std::uint8_t> chains;
};

/// The rules that a hunt judges after a ride, sorted out once.
struct RideRules {
  std::vector<std::size_t> early;
  /// About the chain and its pull: the ride's only word in them is the torque at rest.
  std::vector<std::size_t> chain;
};

RideRules ride_rules_of(const Layout& layout) {
  RideRules out{.early = ride_rules(layout, Reading::early), .chain = {}};
  const auto& book = fit::rule_book();
  for (std::size_t rule = 0; rule < book.rules().size(); ++rule) {
    const Reads& reads = layout.reads(rule);
    const auto& answers = book.answers(rule);
    if ((reads.axes & bit(Axis::chain)) != 0 && answers.size() == 1 &&
        answers[0] == static_cast<int>(Answer::torque_standstill))
      out.chain.push_back(rule);
  }
  return out;
}

/// What a task has told of itself.
struct Told {
  std::size_t ridden = 0, records = 0;
  double fitting = 0;
};

/// One worker at a time, as long as it lives.
class Turn {
 public:
  explicit Turn(std::atomic_flag& busy) : busy_(busy) {
    while (busy_.test_and_set()) busy_.wait(true);
  }
  ~Turn() {
    busy_.clear();
    busy_.notify_one();
  }
  Turn(const Turn&) = delete;
  Turn& operator=(const Turn&) = delete;

 private:
  std::atomic_flag& busy_;
};

/// Leaves only these, which are in their order.
void keep_only(std::vector<Record>& records, const std::vector<Index>& these) {
  for (std::size_t i = 0; i < these.size(); ++i) records[i] = records[these[i]];
  records.resize(these.size());
}

/// Puts together what the tasks have done, for the one who watches.
class Telling {
 public:
  Telling(const HuntOptions& options, std::size_t tasks) : watch_(options.watch) {
    progress_.tasks = tasks;
  }
  /// What is more than what it told last. `considered`: 0 until the task is done. False: stop.
  bool tell(const TaskResult& now, Told& told, double considered) {
    if (!watch_) return true;
    const std::vector<Record> fresh(now.records.begin() + std::ptrdiff_t(told.records),
                                    now.records.end());
    const Told all{static_cast<std::size_t>(now.ridden), now.records.size(), now.fitting};
    const Turn turn(busy_);
    progress_.tasks_done += considered > 0 ? 1 : 0;
    progress_.considered += considered;
    progress_.ridden += all.ridden - told.ridden;
    progress_.records += fresh.size();
    progress_.fitting += all.fitting - told.fitting;
    progress_.fresh = &fresh;
    told = all;
    return watch_(progress_);
  }

 private:
  const std::function<bool(const Progress&)>& watch_;
  std::atomic_flag busy_;
  Progress progress_{};
};

/// What the tasks of a hunt for the nearest have found so far: what is farther from the wishes than
/// one of these, as far as is known of it, is not ridden on.
class Nearest {
 public:
  /// Adds what a task has found, and gives it what all have.
  void merge(std::vector<Shortfall>& mine) {
    const Turn turn(busy_);
    for (const Shortfall& fresh : mine) {
      if (std::any_of(all_.begin(), all_.end(), [&](const Shortfall& other) {
            return other == fresh || nearer(other, fresh);
          }))
        continue;
      all_.erase(std::remove_if(all_.begin(), all_.end(),
                                [&](const Shortfall& other) { return nearer(fresh, other); }),
                 all_.end());
      all_.push_back(fresh);
    }
    mine = all_;
  }

 private:
  std::atomic_flag busy_;
  std::vector<Shortfall> all_;
};

/// What every task of a hunt shares.
struct Shared {
  const Ground& ground;
  const Wishes& wishes;
  bool strict, nearest, rides;
  std::uint32_t may_miss;
  bool binds(std::size_t must) const { return strict && ((may_miss >> must) & 1U) == 0; }
  ride::Course first, second;
  ride::Kernel kernel;
  RideRules rules;
  const std::function<bool()>& go_on;
  std::atomic<bool>& stop;
  bool stopped() const {
    if (!stop.load() && go_on && !go_on()) stop.store(true);
    return stop.load();
  }
  std::atomic<std::size_t>& kept;  ///< records, of all tasks
  std::size_t most;
  std::atomic<bool>& cut;
  bool full() const {
    if (kept.load() <= most) return false;
    cut.store(true);
    return true;
  }
  Telling& telling;
  Nearest& found;
};

/// One motor at one controller with everything else.
class Task {
 public:
  explicit Task(const Shared& shared)
      : shared_(shared),
        g_(shared.ground),
        wishes_(shared.wishes),
        trial_(g_.layout()),
        picker_(g_.supports(), trial_) {
    out_.by_rule.assign(fit::rule_book().rules().size(), 0);
    out_.by_must.assign(wishes_.musts.size(), 0);
    pulls_.resize(g_.space().of(Axis::front_teeth).size() * g_.space().of(Axis::rear_teeth).size() *
                  g_.space().of(Axis::chain).size());
  }

  Told& told() { return told_; }
  TaskResult run(std::uint8_t motor, std::uint8_t controller) {
    At at{};
    at[index_of(Axis::motor)] = motor;
    // Each controller's task counts its own share of what falls with the motor.
    if (!passes(Axis::motor, at, 0, ~0U, rest_after(Axis::controller, at))) return std::move(out_);
    at[index_of(Axis::controller)] = controller;
    if (!passes(Axis::controller, at)) return std::move(out_);
    for (std::uint8_t c = 0; c < size(Axis::cell); ++c) {
      at[index_of(Axis::cell)] = c;
      if (!passes(Axis::cell, at)) continue;
      for (std::uint8_t s = 0; s < size(Axis::series); ++s) {
        at[index_of(Axis::series)] = s;
        if (shared_.full() || shared_.stopped()) return std::move(out_);
        const std::size_t before = out_.records.size();
        if (passes(Axis::series, at)) packs(at);
        shared_.kept.fetch_add(out_.records.size() - before);
        out_.left += double(out_.records.size() - before);
      }
      tell();
      if (shared_.nearest) keep_nearest();
    }
    return std::move(out_);
  }

 private:
  std::uint8_t size(Axis axis) const {
    return static_cast<std::uint8_t>(g_.space().of(axis).size());
  }

  /// Between cells, where something was ridden: a task may take long.
  void tell() {
    if (static_cast<std::size_t>(out_.ridden) == told_.ridden) return;
    if (!shared_.telling.tell(out_, told_, 0)) shared_.stop.store(true);
  }

  /// Told already: what goes here was seen.
  void keep_nearest() {
    const auto nearest = nearest_to(out_.records, wishes_.musts);
    shared_.kept.fetch_sub(out_.records.size() - nearest.size());
    keep_only(out_.records, nearest);
    told_.records = nearest.size();
    for (const Record& record : out_.records) {
      if (const auto by = shortfall_of(record.numbers, wishes_.musts)) found_.push_back(*by);
    }
    shared_.found.merge(found_);
  }

  /// Whether something nearer to the wishes is known, or what is known already is out of reach.
  bool farther(const Numbers& numbers) const {
    if (!shared_.nearest) return false;
    const auto by = shortfall_of(numbers, wishes_.musts);
    return !by || std::any_of(found_.begin(), found_.end(),
                              [&](const Shortfall& other) { return nearer(other, *by); });
  }

  /// What falls, falls with everything that could still be added.
  double rest_after(Axis axis, const At& at) const {
    return g_.layout().combinations_after(axis, at[index_of(Axis::motor)]);
  }

  bool passes(Axis last, const At& at) { return passes(last, at, 0, ~0U, rest_after(last, at)); }

  /// The tables of this axis that read any of `some` (all where 0) and nothing but `only`.
  bool passes(Axis last, const At& at, AxisBits some, AxisBits only, double weight) {
    for (const RuleTable& table : g_.tables().at(last)) {
      if ((some != 0 && (table.axes() & some) == 0) || (table.axes() & ~only) != 0) continue;
      if (const auto rule = table.clash(trial_, at)) {
        out_.by_rule[*rule] += weight;
        return false;
      }
    }
    return true;
  }

  /// The teeth that pass with this motor, controller and voltage; the parallel count left aside.
  std::vector<Gears> gears_of(At at) {
    std::vector<Gears> out;
    const double packs = double(parallels_.size());
    if (!g_.layout().geared(at[index_of(Axis::motor)])) {
      for (const Axis axis : {Axis::front_teeth, Axis::rear_teeth, Axis::chain}) {
        if (!passes(axis, at, 0, ~0U, packs)) return out;
      }
      return {{0, 0, {0}}};
    }
    for (std::uint8_t f = 0; f < size(Axis::front_teeth); ++f) {
      at[index_of(Axis::front_teeth)] = f;
      const double chains = size(Axis::chain);
      if (!passes(Axis::front_teeth, at, 0, ~0U, packs * chains * size(Axis::rear_teeth))) continue;
      for (std::uint8_t r = 0; r < size(Axis::rear_teeth); ++r) {
        at[index_of(Axis::rear_teeth)] = r;
        if (!passes(Axis::rear_teeth, at, 0, ~0U, packs * chains)) continue;
        Gears gears{f, r, {}};
        for (std::uint8_t k = 0; k < size(Axis::chain); ++k) {
          at[index_of(Axis::chain)] = k;
          if (passes(Axis::chain, at, 0, ~0U, packs)) gears.chains.push_back(k);
        }
        if (!gears.chains.empty()) out.push_back(std::move(gears));
      }
    }
    return out;
  }

  struct PackOption {
    std::uint8_t parallel;
    Picks picks;
    float money, weeks;  ///< without the chain
  };

  bool must_fails(Quantity quantity, float value, double weight) {
    for (std::size_t m = 0; m < wishes_.musts.size(); ++m) {
      if (!shared_.binds(m) || wishes_.musts[m].quantity != quantity ||
          met(wishes_.musts[m], value))
        continue;
      out_.by_must[m] += weight;
      return true;
    }
    return false;
  }

  /// Every parallel count of this voltage that fits, and every gearing, ridden.
  void packs(At at) {
    const double rest =
        g_.layout().geared(at[index_of(Axis::motor)])
            ? double(size(Axis::front_teeth)) * size(Axis::rear_teeth) * size(Axis::chain)
            : 1;
    parallels_.clear();
    for (std::uint8_t p = 0; p < size(Axis::parallel); ++p) {
      at[index_of(Axis::parallel)] = p;
      if (!passes(Axis::parallel, at, 0, ~gearing_axes, rest)) continue;
      PackOption option{.parallel = p, .picks = picker_.pick(at), .money = 0, .weeks = 0};
      option.money = static_cast<float>(g_.money_of(at, option.picks));
      option.weeks = static_cast<float>(g_.weeks_of(at, option.picks));
      if (must_fails(Quantity::money, option.money, rest) ||
          must_fails(Quantity::weeks, option.weeks, rest))
        continue;
      lay_pack(at, option);
      const auto mass = static_cast<float>(
          ride::bike_mass_kg(trial_.sieve().build(), trial_.sieve().nominal().view()));
      if (must_fails(Quantity::mass, mass, rest)) continue;
      Numbers known = nothing_known();
      known[index_of(Quantity::money)] = option.money;
      known[index_of(Quantity::weeks)] = option.weeks;
      known[index_of(Quantity::mass)] = mass;
      if (farther(known)) continue;
      parallels_.push_back(option);
    }
    if (parallels_.empty()) return;
    at[index_of(Axis::parallel)] = 0;
    const auto gearings = gears_of(at);
    if (gearings.empty()) return;
    for (const PackOption& option : parallels_) {
      if (shared_.stopped()) break;
      ride_pack(at, option, gearings);
    }
    flush_all();
  }

  static Numbers nothing_known() {
    Numbers none;
    none.fill(std::numeric_limits<float>::quiet_NaN());
    return none;
  }

  void lay_pack(At& at, const PackOption& option) {
    at[index_of(Axis::parallel)] = option.parallel;
    trial_.lay(at, bit(Axis::motor) | bit(Axis::controller) | bit(Axis::cell) | bit(Axis::series) |
                       bit(Axis::parallel));
    trial_.set_limits();
    picker_.lay(option.picks);
  }

  void ride_pack(At at, const PackOption& option, const std::vector<Gears>& gearings) {
    lay_pack(at, option);
    const double speed = speed_needed();
    const Reach reach =
        speed > 0 ? reach_of(trial_.sieve().build(), trial_.sieve().nominal(), speed) : Reach{};
    auto numbers = ride::bike_numbers(trial_.sieve().build(), trial_.sieve().nominal());
    for (const Gears& gears : gearings) {
      at[index_of(Axis::front_teeth)] = gears.front;
      at[index_of(Axis::rear_teeth)] = gears.rear;
      if (!passes(Axis::parallel, at, gearing_axes, ~0U, double(gears.chains.size()))) continue;
      trial_.lay(at, bit(Axis::motor) | bit(Axis::front_teeth) | bit(Axis::rear_teeth));
      out_.fitting += double(gears.chains.size());
      if (!shared_.rides) continue;
      const Build& build = trial_.sieve().build();
      const auto& nominal = trial_.sieve().nominal();
      if (speed > 0 && !reach.reaches(ride::drive_ratio(build, nominal.view()), speed)) {
        out_.by_must[speed_must_] += double(gears.chains.size());
        continue;
      }
      ride::regear(numbers, build, nominal);
      if (first_lanes_ == nullptr || first_lanes_->motor() != numbers.motor) {
        flush_all();
        reach_lanes_ = std::make_unique<ride::LaneGroup>(numbers.motor);
        first_lanes_ = std::make_unique<ride::LaneGroup>(numbers.motor);
        second_lanes_ = std::make_unique<ride::LaneGroup>(numbers.motor);
      }
      reach_lanes_->add(numbers);
      reach_waiting_.push_back({at, option, &gears, numbers, nothing_known()});
      if (reach_lanes_->full()) {
        ask_reach();
        // Another bike may have been laid to judge its chain.
        lay_pack(at, option);
      }
    }
  }

  /// The highest speed that a must asks for; 0 where none does.
  double speed_needed() {
    double speed = 0;
    for (std::size_t m = 0; m < wishes_.musts.size(); ++m) {
      if (!shared_.binds(m)) continue;
      const Must& must = wishes_.musts[m];
      if (must.quantity != Quantity::top_speed && must.quantity != Quantity::hold_speed) continue;
      if (must.bound <= speed) continue;
      speed = must.bound;
      speed_must_ = m;
    }
    return speed;
  }

  /// A bike in a lane, and what is known of it.
  struct Waiting {
    At at;
    PackOption option;
    const Gears* gears;
    ride::BikeNumbers bike;
    Numbers numbers;
  };

  /// Who cannot reach the speed that must be reached is ridden no further.
  void ask_reach() {
    if (reach_waiting_.empty()) return;
    const double speed = speed_needed();
    std::array<double, ride::lane_padding> spare{};
    if (speed > 0) spare = reach_lanes_->spare_force_N(speed, shared_.kernel);
    for (std::size_t lane = 0; lane < reach_waiting_.size(); ++lane) {
      const Waiting& bike = reach_waiting_[lane];
      out_.ridden += 1;
      if (spare[lane] < 0) {
        out_.by_must[speed_must_] += double(bike.gears->chains.size());
        continue;
      }
      first_lanes_->add(bike.bike);
      first_waiting_.push_back(bike);
      if (first_lanes_->full()) ride_first();
    }
    reach_lanes_->clear();
    reach_waiting_.clear();
  }

  void ride_first() {
    if (first_waiting_.empty()) return;
    first_lanes_->ride(shared_.first, shared_.kernel);
    const auto value = [&](Answer answer, std::size_t lane) {
      return static_cast<float>(first_lanes_->answer(answer, lane));
    };
    for (std::size_t lane = 0; lane < first_waiting_.size(); ++lane) {
      Waiting& bike = first_waiting_[lane];
      Numbers& n = bike.numbers;
      n[index_of(Quantity::money)] = bike.option.money;
      n[index_of(Quantity::weeks)] = bike.option.weeks;
      n[index_of(Quantity::mass)] = value(Answer::mass, lane);
      n[index_of(Quantity::punch)] = value(Answer::time_0_50, lane);
      n[index_of(Quantity::time_0_100)] = value(Answer::time_0_100, lane);
      n[index_of(Quantity::top_speed)] = value(Answer::speed_top, lane);
      n[index_of(Quantity::hold_speed)] = value(Answer::speed_hold_hour, lane);
      n[index_of(Quantity::hill_grade)] = value(Answer::grade_at_hill_speed, lane);
      take(bike, lane);
    }
    first_lanes_->clear();
    first_waiting_.clear();
  }

  void take(const Waiting& bike, std::size_t lane) {
    const Numbers& n = bike.numbers;
    const auto chains = double(bike.gears->chains.size());
    if (std::isnan(n[index_of(Quantity::top_speed)])) {
      out_.unrideable += chains;
      return;
    }
    for (const Quantity q : {Quantity::top_speed, Quantity::hold_speed, Quantity::hill_grade,
                             Quantity::time_0_100, Quantity::punch}) {
      if (must_fails(q, n[index_of(q)], chains)) return;
    }
    if (farther(n)) return;
    if (fails_riding(bike, lane, chains)) return;
    second_lanes_->add(bike.bike);
    out_.through += 1;
    second_waiting_.push_back(bike);
    if (second_lanes_->full()) ride_second();
  }

  bool fails_riding(const Waiting& bike, std::size_t lane, double chains) {
    At at = bike.at;
    trial_.lay(at, bit(Axis::motor) | bit(Axis::front_teeth) | bit(Axis::rear_teeth));
    lay_pack(at, bike.option);
    ride::Answers<double> answers;
    for (std::size_t a = 0; a < ride::answer_count; ++a) {
      const auto answer = static_cast<Answer>(a);
      answers.at[a] = early_.has(answer) ? first_lanes_->answer(answer, lane)
                                         : std::numeric_limits<double>::quiet_NaN();
    }
    trial_.sieve().set_ride(answers);
    for (const std::size_t rule : shared_.rules.early) {
      if (!trial_.sieve().clashes(rule)) continue;
      out_.by_rule[rule] += chains;
      out_.fell_riding += chains;
      return true;
    }
    return false;
  }

  void ride_second() {
    if (second_waiting_.empty()) return;
    second_lanes_->ride(shared_.second, shared_.kernel);
    for (std::size_t lane = 0; lane < second_waiting_.size(); ++lane) {
      Waiting& bike = second_waiting_[lane];
      bike.numbers[index_of(Quantity::distance)] =
          static_cast<float>(second_lanes_->answer(Answer::range_mixed_reserve, lane));
      if (must_fails(Quantity::distance, bike.numbers[index_of(Quantity::distance)],
                     double(bike.gears->chains.size())))
        continue;
      keep(bike, lane);
    }
    second_lanes_->clear();
    second_waiting_.clear();
  }

  /// A record for each chain that stands the pull.
  void keep(const Waiting& bike, std::size_t lane) {
    if (!g_.layout().geared(bike.at[index_of(Axis::motor)])) {
      out_.records.push_back({bike.at, bike.option.picks, bike.numbers});
      return;
    }
    for (const std::uint8_t chain : bike.gears->chains) {
      Record record{bike.at, bike.option.picks, bike.numbers};
      record.at[index_of(Axis::chain)] = chain;
      if (chain_fails(record.at, lane)) {
        out_.pulled_by_chain += 1;
        continue;
      }
      record.numbers[index_of(Quantity::money)] += static_cast<float>(g_.money_of_chain(record.at));
      record.numbers[index_of(Quantity::weeks)] =
          std::max(record.numbers[index_of(Quantity::weeks)],
                   static_cast<float>(weeks_of_option(g_.space().of(Axis::chain)[chain])));
      if (must_fails(Quantity::money, record.numbers[index_of(Quantity::money)], 1)) continue;
      out_.records.push_back(record);
    }
  }

  struct Pull {
    double torque_Nm = -1;
    bool fails = false;
  };

  bool chain_fails(const At& at, std::size_t lane) {
    if (shared_.rules.chain.empty()) return false;
    const double torque = second_lanes_->answer(Answer::torque_standstill, lane);
    const std::size_t place =
        (std::size_t{at[index_of(Axis::front_teeth)]} * size(Axis::rear_teeth) +
         at[index_of(Axis::rear_teeth)]) *
            size(Axis::chain) +
        at[index_of(Axis::chain)];
    Pull& pull = pulls_[place];
    if (pull.torque_Nm == torque) return pull.fails;
    trial_.lay(at, bit(Axis::motor) | gearing_axes);
    ride::Answers<double> answers;
    answers.at.fill(std::numeric_limits<double>::quiet_NaN());
    answers[Answer::torque_standstill] = torque;
    trial_.sieve().set_ride(answers);
    pull = {torque, std::any_of(shared_.rules.chain.begin(), shared_.rules.chain.end(),
                                [&](std::size_t rule) { return trial_.sieve().clashes(rule); })};
    return pull.fails;
  }

  void flush_all() {
    ask_reach();
    ride_first();
    ride_second();
  }

  const Shared& shared_;
  const Ground& g_;
  const Wishes& wishes_;
  Trial trial_;
  Picker picker_;
  TaskResult out_;
  std::vector<PackOption> parallels_;
  std::unique_ptr<ride::LaneGroup> reach_lanes_, first_lanes_, second_lanes_;
  std::vector<Waiting> reach_waiting_, first_waiting_, second_waiting_;
  ride::AnswerSet early_ = early_answers();
  std::vector<Pull> pulls_;
  std::size_t speed_must_ = 0;
  Told told_;
  std::vector<Shortfall> found_;  ///< by any task, up to the last cell
};

/// The tasks in an order that looks everywhere early: a good answer comes soon, wherever it is.
std::size_t spread_out(std::size_t number, std::size_t count) {
  std::size_t stride = std::max<std::size_t>(static_cast<std::size_t>(0.618 * double(count)), 1);
  while (std::gcd(stride, count) != 1) ++stride;
  return number * stride % count;
}

}  // namespace

Hunted hunt(const Ground& ground, const Wishes& wishes, const HuntOptions& options) {
  const auto controllers = ground.space().of(Axis::controller).size();
  const std::size_t tasks = ground.space().of(Axis::motor).size() * controllers;
  std::atomic<bool> stop{false}, cut{false};
  std::atomic<std::size_t> kept{0};
  Telling telling(options, tasks);
  Nearest found;
  Shared shared{.ground = ground,
                .wishes = wishes,
                .strict = options.strict,
                .nearest = options.nearest,
                .rides = options.rides,
                .may_miss = options.may_miss,
                .first = hunt_course(ground.cycles()),
                .second = hunt_course(ground.cycles()),
                .kernel = ride::choose_kernel(options.widest_kernel),
                .rules = ride_rules_of(ground.layout()),
                .go_on = options.go_on,
                .stop = stop,
                .kept = kept,
                .most = options.most,
                .cut = cut,
                .telling = telling,
                .found = found};
  shared.first.wanted = ride::without(shared.first.wanted, ride::distance_answers);
  shared.second.wanted = ride::answers_of(Answer::range_mixed_reserve);
  std::vector<TaskResult> results(tasks);
  options.runner(static_cast<int>(tasks), [&](int number) {
    if (shared.full() || shared.stopped()) return;
    const std::size_t t = spread_out(static_cast<std::size_t>(number), tasks);
    Task task(shared);
    results[t] = task.run(static_cast<std::uint8_t>(t / controllers),
                          static_cast<std::uint8_t>(t % controllers));
    const double considered = ground.layout().combinations_after(Axis::controller, t / controllers);
    if (!telling.tell(results[t], task.told(), considered)) stop.store(true);
  });
  Hunted out;
  out.tally.combinations = ground.layout().combinations();
  out.tally.by_rule.assign(fit::rule_book().rules().size(), 0);
  out.tally.by_must.assign(wishes.musts.size(), 0);
  out.tally.stopped = stop.load();
  out.tally.cut_short = cut.load();
  out.records.reserve(kept.load());
  for (TaskResult& r : results) {
    out.records.insert(out.records.end(), r.records.begin(), r.records.end());
    out.tally.fitting += r.fitting;
    out.tally.ridden += r.ridden;
    out.tally.through += r.through;
    out.tally.unrideable += r.unrideable;
    out.tally.pulled_by_chain += r.pulled_by_chain;
    out.tally.fell_riding += r.fell_riding;
    out.tally.left += r.left;
    for (std::size_t i = 0; i < r.by_rule.size(); ++i) out.tally.by_rule[i] += r.by_rule[i];
    for (std::size_t i = 0; i < r.by_must.size(); ++i) out.tally.by_must[i] += r.by_must[i];
    r = {};
  }
  // Which of them a task still rode hangs on what the others had found by then; not this.
  if (options.nearest) keep_only(out.records, nearest_to(out.records, wishes.musts));
  return out;
}

}  // namespace ww::search
