// SPDX-License-Identifier: MIT
#include "search/sieving.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "build/fields.h"

namespace ww::search {

namespace {

using build::id_of;
using build::schema;

struct SearchIds {
  Id series = id_of("pack.series"), parallel = id_of("pack.parallel");
  Id front_teeth = id_of("gearing.front_teeth"), rear_teeth = id_of("gearing.rear_teeth");
  Id drive = id_of("gearing.drive");
  Id battery_limit = id_of("limits.battery_current"), phase_limit = id_of("limits.phase_current");
  Id controller_battery = id_of("controller.current_battery");
  Id controller_phase = id_of("controller.current_phase");
  Id motor_peak = id_of("motor.current_peak");
  Id cell_pulse = id_of("cell.current_pulse"), cell_continuous = id_of("cell.current_continuous");
};
const SearchIds& search_ids() {
  static const SearchIds ids;
  return ids;
}

Axis axis_of_part(std::string_view slot) {
  if (slot == "motor") return Axis::motor;
  if (slot == "controller") return Axis::controller;
  if (slot == "cell") return Axis::cell;
  if (slot == "chain") return Axis::chain;
  return Axis::count;
}

bool in_the_wheel(const build::Motor& motor) {
  return motor.shaft == build::ShaftForm::wheel || motor.type == build::MotorType::pm_hub;
}

const build::Slot& slot_of(Axis axis) {
  return *schema().slot(word(axis));
}

}  // namespace

// ---- layout

Layout::Layout(const Space& space)
    : space_(&space),
      start_(space.base),
      derives_battery_(space.has(Axis::controller) || space.has(Axis::cell) ||
                       space.has(Axis::series) || space.has(Axis::parallel)),
      derives_phase_(derives_battery_ || space.has(Axis::motor)),
      sets_drive_((space.open & gearing_axes) != 0 || space.has(Axis::motor)) {
  const auto drive = space.base.gearing.drive;
  if (drive == build::FinalDrive::belt || drive == build::FinalDrive::shaft) sets_drive_ = false;
  for (const Axis axis : {Axis::motor, Axis::controller, Axis::cell, Axis::chain}) {
    for (const Option& option : space.of(axis)) {
      fit::Sieve::PiecePtr piece;
      if (option.part != nullptr) {
        piece = start_.piece(slot_of(axis), *option.part);
      } else if (build::slot_present(space.base, slot_of(axis))) {
        piece = start_.piece_now(slot_of(axis));
      }
      pieces_[index_of(axis)].push_back(std::move(piece));
    }
  }
  for (const Option& option : space.of(Axis::motor)) {
    const build::Motor* motor = option.part != nullptr
                                    ? static_cast<const build::Motor*>(option.part->part.get())
                                    : (space.base.motor ? &*space.base.motor : nullptr);
    geared_.push_back(motor != nullptr && !in_the_wheel(*motor) ? 1 : 0);
  }
  for (std::size_t rule = 0; rule < fit::rule_book().rules().size(); ++rule)
    reads_.push_back(reads_of(rule));
}

double Layout::combinations_after(Axis axis, std::size_t motor) const {
  double product = 1;
  for (std::size_t a = index_of(axis) + 1; a < axis_count; ++a) {
    if (((1U << a) & gearing_axes) != 0 && !geared(motor)) continue;
    product *= double(space_->options[a].size());
  }
  return product;
}

double Layout::combinations() const {
  double sum = 0;
  for (std::size_t m = 0; m < geared_.size(); ++m) sum += combinations_after(Axis::motor, m);
  return sum;
}

Reads Layout::reads_of(std::size_t rule) const {
  const auto& book = fit::rule_book();
  const SearchIds& id = search_ids();
  Reads out;
  out.ride = !book.answers(rule).empty();
  const auto touch_slot = [&](std::string_view slot) {
    if (const Axis axis = axis_of_part(slot); axis != Axis::count) out.axes |= bit(axis);
    const auto& supports = space_->supports;
    const auto at = std::find(supports.begin(), supports.end(), slot);
    if (at != supports.end()) out.supports |= 1U << (at - supports.begin());
  };
  for (const Id leaf : book.leaves(rule)) {
    touch_slot(schema()[leaf].slot->key);
    if (leaf == id.series) out.axes |= bit(Axis::series);
    if (leaf == id.parallel) out.axes |= bit(Axis::parallel);
    if (leaf == id.front_teeth) out.axes |= bit(Axis::front_teeth);
    if (leaf == id.rear_teeth) out.axes |= bit(Axis::rear_teeth);
    if (leaf == id.drive && sets_drive_) out.axes |= bit(Axis::motor);
    if (leaf == id.battery_limit && derives_battery_) {
      out.battery_limit = true;
      out.axes |= bit(Axis::controller) | bit(Axis::cell) | bit(Axis::parallel);
    }
    if (leaf == id.phase_limit && derives_phase_) {
      out.phase_limit = true;
      out.axes |= bit(Axis::motor) | bit(Axis::controller);
    }
  }
  // A slot a rule stands between decides whether it applies, and one that it would add whether it
  // is missing; texts are read of the slots it stands between.
  const auto& named = book.rules()[rule];
  for (const auto slot : named.between) {
    if (slot == "chain" || book.reads_texts()[rule] != 0 || axis_of_part(slot) == Axis::count)
      touch_slot(slot);
  }
  for (const auto lever : named.levers) {
    if (!lever.empty() && lever.front() == '+') touch_slot(lever.substr(1));
  }
  if ((out.axes & gearing_axes) != 0) out.axes |= bit(Axis::motor);
  // An axis with one option is no question.
  for (std::size_t a = 0; a < axis_count; ++a) {
    if (space_->options[a].size() < 2) out.axes &= ~(1U << a);
  }
  return out;
}

// ---- trial

Trial::Trial(const Layout& layout) : layout_(&layout), sieve_(layout.start()), laid_() {
  laid_.fill(-1);
  lay({}, (1U << axis_count) - 1);
}

void Trial::lay_motor(std::size_t option) {
  if (const auto& piece = layout_->piece(Axis::motor, option)) sieve_.lay(*piece);
  const bool geared = layout_->geared(option);
  if (layout_->sets_drive()) {
    sieve_.set(search_ids().drive,
               double(geared ? build::FinalDrive::chain : build::FinalDrive::hub));
  }
  if (geared == geared_) return;
  geared_ = geared;
  if (!layout_->sets_drive()) return;
  for (const Axis axis : {Axis::front_teeth, Axis::rear_teeth, Axis::chain})
    laid_[index_of(axis)] = -1;
  if (geared) return;
  sieve_.set(search_ids().front_teeth, build::unknown_count);
  sieve_.set(search_ids().rear_teeth, build::unknown_count);
  sieve_.take_away(slot_of(Axis::chain));
}

void Trial::lay(const At& at, AxisBits axes) {
  const SearchIds& id = search_ids();
  for (std::size_t a = 0; a < axis_count; ++a) {
    if ((axes >> a & 1U) == 0 || laid_[a] == at[a]) continue;
    const auto axis = static_cast<Axis>(a);
    if ((bit(axis) & gearing_axes) != 0 && !geared_ && layout_->sets_drive()) continue;
    laid_[a] = at[a];
    const Option& option = layout_->space().options[a][at[a]];
    switch (axis) {
      case Axis::motor: {
        const bool was_geared = geared_;
        lay_motor(at[a]);
        // A chain where there was none: all of its gearing, also what has but one option.
        if (geared_ && !was_geared) axes |= gearing_axes;
        break;
      }
      case Axis::controller:
      case Axis::cell:
      case Axis::chain:
        if (const auto& piece = layout_->piece(axis, at[a])) sieve_.lay(*piece);
        break;
      case Axis::series:
        if (option.number > 0) sieve_.set(id.series, option.number);
        break;
      case Axis::parallel:
        if (option.number > 0) sieve_.set(id.parallel, option.number);
        break;
      case Axis::front_teeth:
        if (option.number > 0) sieve_.set(id.front_teeth, option.number);
        break;
      case Axis::rear_teeth:
        if (option.number > 0) sieve_.set(id.rear_teeth, option.number);
        break;
      case Axis::count:
        break;
    }
  }
}

void Trial::set_battery_limit() {
  const SearchIds& id = search_ids();
  const auto number = [&](Id of) { return sieve_.nominal().at[static_cast<std::size_t>(of)]; };
  const double pulse = number(id.cell_pulse);
  const double stood =
      (std::isnan(pulse) ? number(id.cell_continuous) : pulse) * number(id.parallel);
  const double drawn = number(id.controller_battery);
  // A setting is typed in whole steps of five amperes.
  sieve_.set(id.battery_limit,
             stood < drawn ? std::floor(stood / 5) * 5 : std::numeric_limits<double>::quiet_NaN());
}

void Trial::set_phase_limit() {
  const SearchIds& id = search_ids();
  const auto number = [&](Id of) { return sieve_.nominal().at[static_cast<std::size_t>(of)]; };
  const double motor = number(id.motor_peak), controller = number(id.controller_phase);
  build::Figure limit;
  if (motor < controller) {
    limit.value = std::floor(motor / 5) * 5;
    limit.convention = figure::Convention::peak;
  }
  sieve_.set(id.phase_limit, limit);
}

void Trial::lay_limits(const At& at, const Reads& reads) {
  if (reads.battery_limit) {
    lay(at, bit(Axis::controller) | bit(Axis::cell) | bit(Axis::parallel));
    set_battery_limit();
  }
  if (reads.phase_limit) {
    lay(at, bit(Axis::motor) | bit(Axis::controller));
    set_phase_limit();
  }
}

void Trial::set_limits() {
  if (layout_->derives_battery_limit()) set_battery_limit();
  if (layout_->derives_phase_limit()) set_phase_limit();
}

// ---- tables

RuleTable::RuleTable(const Space& space, AxisBits axes, std::vector<std::size_t> rules,
                     Reads together)
    : reads_(together), rules_(std::move(rules)) {
  reads_.axes = axes;
  for (std::size_t a = 0; a < axis_count; ++a) {
    if ((axes >> a & 1U) != 0) strides_.emplace_back(a, verdicts_.along(space.options[a].size()));
  }
  verdicts_.make();
}

std::optional<std::size_t> RuleTable::judged(Trial& trial, const At& at) const {
  trial.lay(at, reads_.axes);
  trial.lay_limits(at, reads_);
  for (const std::size_t rule : rules_) {
    if (trial.sieve().clashes(rule)) return rule;
  }
  return std::nullopt;
}

std::optional<std::size_t> RuleTable::clash(Trial& trial, const At& at) const {
  std::size_t place = 0;
  for (const auto& [axis, stride] : strides_) place += at[axis] * stride;
  const std::uint16_t verdict = verdicts_.at(place, [&] {
    const auto rule = judged(trial, at);
    return static_cast<std::uint16_t>(rule ? *rule + 2 : 1);
  });
  if (verdict == 1) return std::nullopt;
  return static_cast<std::size_t>(verdict - 2);
}

Tables::Tables(const Layout& layout) {
  // By axes, and apart by the limits they read: setting one costs.
  std::map<std::array<std::uint32_t, 3>, std::vector<std::size_t>> groups;
  for (std::size_t rule = 0; rule < fit::rule_book().rules().size(); ++rule) {
    const Reads& r = layout.reads(rule);
    if (r.ride || r.supports != 0 || r.axes == 0 || layout.aside(rule)) continue;
    groups[{r.axes, r.battery_limit ? 1U : 0U, r.phase_limit ? 1U : 0U}].push_back(rule);
  }
  for (auto& [key, rules] : groups) {
    const Reads together = layout.reads(rules.front());
    std::size_t last = 0;
    for (std::size_t a = 0; a < axis_count; ++a) {
      if ((key[0] >> a & 1U) != 0) last = a;
    }
    by_last_[last].emplace_back(layout.space(), key[0], std::move(rules), together);
  }
}

}  // namespace ww::search
