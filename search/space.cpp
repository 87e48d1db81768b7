// SPDX-License-Identifier: MIT
#include "search/space.h"

#include <algorithm>
#include <set>

#include "build/classes.h"

namespace ww::search {

namespace {

constexpr std::array<std::string_view, axis_count> axis_words{
    "motor", "controller", "cell", "series", "front_teeth", "rear_teeth", "chain", "parallel"};

constexpr std::array<Axis, 4> part_axes{Axis::motor, Axis::controller, Axis::cell, Axis::chain};

bool settled(const build::Purchase& part) {
  return part.state == build::State::here || part.state == build::State::ordered;
}

template <class Part>
bool left_open(const std::optional<Part>& part) {
  return !part || !settled(*part);
}

/// The same for a slot that is reached by name.
bool slot_left_open(const Build& build, std::string_view slot) {
  const Id state = build::id_of(std::string(slot) + ".state");
  const double at = build::number_at(build, state);
  return !(at == double(build::State::here) || at == double(build::State::ordered));
}

void clear_slot(Build& build, std::string_view key) {
  build::schema().slot(key)->remove(build);
}

/// What belongs to the parts that are open goes with them.
void clear_open(Build& b, const Ask& ask) {
  const bool electrical = ask.has(Axis::controller) || ask.has(Axis::cell) ||
                          ask.has(Axis::series) || ask.has(Axis::parallel);
  if (ask.has(Axis::motor)) {
    b.motor.reset();
    b.layout = {};
  }
  if (ask.has(Axis::controller)) b.controller.reset();
  if (ask.has(Axis::chain)) b.chain.reset();
  if (ask.has(Axis::cell)) b.cell.reset();
  if (ask.has(Axis::cell) || ask.has(Axis::series) || ask.has(Axis::parallel)) {
    build::Pack pack;
    if (b.pack) {
      pack.series = b.pack->series;
      pack.parallel = b.pack->parallel;
      pack.overhead = b.pack->overhead;
      pack.wall = b.pack->wall;
    }
    b.pack = pack;
  }
  if (electrical) {
    build::Limits limits;
    limits.regen = b.limits.regen;
    limits.field_weakening = b.limits.field_weakening;
    b.limits = limits;
    b.wiring.isolation_resistance = {};
    b.wiring.bus_load_at_precharge = {};
    b.wiring.bleed_time = {};
  }
  if (ask.has(Axis::motor) || ask.has(Axis::front_teeth) || ask.has(Axis::rear_teeth) ||
      ask.has(Axis::chain)) {
    build::Gearing gearing;
    gearing.drive = b.gearing.drive;
    gearing.primary_ratio = b.gearing.primary_ratio;
    gearing.efficiency = b.gearing.efficiency;
    gearing.front_teeth = b.gearing.front_teeth;
    gearing.rear_teeth = b.gearing.rear_teeth;
    b.gearing = gearing;
    b.sprocket_front.reset();
    b.sprocket_rear.reset();
  }
}

bool listed(const std::vector<std::string>& list, std::string_view shelf, std::string_view id) {
  return std::find(list.begin(), list.end(), std::string(shelf) + "/" + std::string(id)) !=
         list.end();
}

std::vector<Option> parts_of(const build::Library& library, std::string_view shelf,
                             const Ask& ask) {
  std::vector<Option> out;
  for (const auto& part : library.shelf(shelf)) {
    if (listed(ask.without, shelf, part.id)) continue;
    out.push_back({.part = &part, .number = 0, .own = listed(ask.own, shelf, part.id)});
  }
  const bool any_own =
      std::any_of(out.begin(), out.end(), [](const Option& option) { return option.own; });
  if (ask.own_first && any_own)
    out.erase(std::remove_if(out.begin(), out.end(), [](const Option& o) { return !o.own; }),
              out.end());
  return out;
}

std::vector<Option> numbers_of(Span span) {
  std::vector<Option> out;
  for (int n = span.least; n <= span.most; ++n)
    out.push_back({.part = nullptr, .number = n, .own = false});
  return out;
}

/// The teeth that the shelf's sprockets have: front ones have a bore, rear ones a bolt circle.
std::vector<Option> teeth_of(const build::Library& library, Span span, bool front) {
  std::set<int> teeth;
  for (const auto& part : library.shelf("sprocket")) {
    const auto& sprocket = *static_cast<const build::Sprocket*>(part.part.get());
    const bool is_rear = sprocket.bolt_circle.known();
    if (is_rear == front || sprocket.teeth < span.least || sprocket.teeth > span.most) continue;
    teeth.insert(sprocket.teeth);
  }
  std::vector<Option> out;
  out.reserve(teeth.size());
  for (const int n : teeth) out.push_back({.part = nullptr, .number = n, .own = false});
  return out;
}

/// A motor and a cell without which nothing can be ridden are left out; the reader of a listing
/// completes thin ones before they come here.
void only_rideable(std::vector<Option>& options, Axis axis) {
  const auto lacks = [&](const Option& option) {
    if (option.part == nullptr) return false;
    if (axis == Axis::motor)
      return static_cast<const build::Motor*>(option.part->part.get())->type ==
             build::MotorType::unknown;
    if (axis == Axis::cell)
      return static_cast<const build::Cell*>(option.part->part.get())->chemistry ==
             model::Chemistry::unknown;
    return false;
  };
  options.erase(std::remove_if(options.begin(), options.end(), lacks), options.end());
}

void complete_donor(Build& b) {
  if (!b.donor) b.donor.emplace();
  if (!b.tyre_rear) {
    b.tyre_rear.emplace();
    b.tyre_rear->size = std::string(build::class_figures(b.donor->bike_class).tyre_rear);
  }
}

}  // namespace

std::string_view word(Axis axis) {
  return axis_words[index_of(axis)];
}

int axis_of(std::string_view word) {
  const auto at = std::find(axis_words.begin(), axis_words.end(), word);
  return at == axis_words.end() ? -1 : static_cast<int>(at - axis_words.begin());
}

std::uint32_t open_by_sheet(const Build& b) {
  Ask ask;
  if (left_open(b.motor)) ask.add(Axis::motor);
  if (left_open(b.controller)) ask.add(Axis::controller);
  if (left_open(b.cell)) {
    ask.add(Axis::cell);
    ask.add(Axis::series);
    ask.add(Axis::parallel);
  }
  const bool other_drive = b.gearing.drive == build::FinalDrive::belt ||
                           b.gearing.drive == build::FinalDrive::shaft || b.belt.has_value();
  if (!other_drive) {
    if (left_open(b.chain)) ask.add(Axis::chain);
    if (left_open(b.sprocket_front)) ask.add(Axis::front_teeth);
    if (left_open(b.sprocket_rear)) ask.add(Axis::rear_teeth);
  }
  return ask.open;
}

Space space_of(const Build& build, const build::Library& library, const Ask& ask) {
  Space space{.base = build, .open = ask.open, .options = {}, .supports = {}, .aside = ask.aside};
  complete_donor(space.base);
  clear_open(space.base, ask);
  for (const auto slot : support_slots) {
    if (!slot_left_open(build, slot)) continue;
    clear_slot(space.base, slot);
    space.supports.push_back(slot);
  }
  const Option as_on_sheet{};
  for (auto& axis : space.options) axis = {as_on_sheet};
  const auto at = [&](Axis axis) -> std::vector<Option>& { return space.options[index_of(axis)]; };
  for (const Axis axis : part_axes) {
    if (!ask.has(axis)) continue;
    at(axis) = parts_of(library, word(axis), ask);
    only_rideable(at(axis), axis);
  }
  if (ask.has(Axis::series)) at(Axis::series) = numbers_of(ask.series);
  if (ask.has(Axis::parallel)) at(Axis::parallel) = numbers_of(ask.parallel);
  if (ask.has(Axis::front_teeth)) at(Axis::front_teeth) = teeth_of(library, ask.front_teeth, true);
  if (ask.has(Axis::rear_teeth)) at(Axis::rear_teeth) = teeth_of(library, ask.rear_teeth, false);
  return space;
}

}  // namespace ww::search
