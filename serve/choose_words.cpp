// SPDX-License-Identifier: MIT
#include "serve/choose_words.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "base/text.h"
#include "build/sheet.h"
#include "plan/parts_list.h"
#include "serve/edits.h"
#include "serve/state.h"

namespace ww::serve {

using search::Axis;
using search::Choosing;
using search::index_of;
using search::Quantity;
using search::Record;

namespace {

constexpr double week_s = 7 * 86400.0;

/// How a quantity is spoken of: its short name, unit and superlatives.
struct Words {
  std::string_view brief, metric, imperial, best, worse;
};
const Words& words_for(Quantity quantity) {
  static const std::array<Words, search::quantity_count> table{{
      {"money", "", "", "the cheapest of these", "more than"},
      {"distance", "km", "mi", "goes furthest", "less far than"},
      {"0 to 50 km/h", "s", "s", "quickest away from a light", "slower to 50 km/h than"},
      {"top speed", "km/h", "mph", "the fastest", "less top speed than"},
      {"mass", "kg", "lb", "the lightest", "heavier than"},
      {"wait for parts", "weeks", "weeks", "here soonest", "longer to wait than"},
      {"speed held", "km/h", "mph", "", ""},
      {"hill", "%", "%", "", ""},
      {"0 to 100 km/h", "s", "s", "", ""},
  }};
  return table[index_of(quantity)];
}

double factor_of(figure::Kind kind, std::string_view spelling) {
  for (const auto& unit : figure::unit_table()) {
    if (unit.kind == kind && unit.spelling == spelling) return unit.factor;
  }
  return 1;
}

std::string_view unit_of(Quantity quantity, const Speech& speech) {
  if (quantity == Quantity::money) return speech.currency;
  const Words& words = words_for(quantity);
  return speech.units == figure::System::imperial ? words.imperial : words.metric;
}

/// What a record's number is divided by to stand in its unit.
double per_unit(Quantity quantity, const Speech& speech) {
  if (quantity == Quantity::money || quantity == Quantity::weeks) return 1;
  const auto kind = search::info_of(quantity).kind;
  if (kind == figure::Kind::share) return 0.01;
  return factor_of(kind, unit_of(quantity, speech));
}

}  // namespace

Speech speech_of(const SeekJob& job) {
  return {job.units, job.sheet.project.currency};
}

double in_unit(Quantity quantity, double value, const Speech& speech) {
  return value / per_unit(quantity, speech);
}

std::string number_text(Quantity quantity, double value, const Speech& speech) {
  if (!std::isfinite(value)) return "never";
  if (quantity == Quantity::money)
    return plan::money_text(std::llround(value) * 100) +
           (speech.currency.empty() ? "" : " " + speech.currency);
  if (quantity == Quantity::weeks)
    return fixed(value, 0) + (std::lround(value) == 1 ? " week" : " weeks");
  const auto& info = search::info_of(quantity);
  if (info.kind == figure::Kind::time) return fixed(value, 1) + " s";
  return figure::print(value, info.kind, speech.units);
}

// ---- what can be asked

namespace {

std::string axis_label(Axis axis) {
  switch (axis) {
    case Axis::cell:
      return "cell or module";
    case Axis::series:
      return "cells in series";
    case Axis::parallel:
      return "cells in parallel";
    case Axis::front_teeth:
      return "teeth in front";
    case Axis::rear_teeth:
      return "teeth at the rear";
    default:
      return std::string(search::word(axis));
  }
}

std::string count_text(build::Count count) {
  return count == build::unknown_count ? std::string() : std::to_string(count);
}

/// What the sheet has at a place.
std::string on_sheet(const build::Build& b, Axis axis) {
  const auto part = [](const auto& there) -> std::string {
    if (!there) return {};
    return there->name.empty() ? (there->part.empty() ? "as on the sheet" : there->part)
                               : there->name;
  };
  switch (axis) {
    case Axis::motor:
      return part(b.motor);
    case Axis::controller:
      return part(b.controller);
    case Axis::cell:
      return part(b.cell);
    case Axis::chain:
      return b.chain ? b.chain->designation : std::string();
    case Axis::series:
      return b.pack ? count_text(b.pack->series) : std::string();
    case Axis::parallel:
      return b.pack ? count_text(b.pack->parallel) : std::string();
    case Axis::front_teeth:
      return count_text(b.gearing.front_teeth);
    case Axis::rear_teeth:
      return count_text(b.gearing.rear_teeth);
    case Axis::count:
      break;
  }
  return {};
}

std::string state_word(build::State state) {
  if (state == build::State::here) return "here";
  return state == build::State::ordered ? "ordered" : "thought_of";
}

std::string state_on_sheet(const build::Build& b, Axis axis) {
  const auto of = [](const auto& there) {
    return there ? state_word(there->state) : std::string("none");
  };
  switch (axis) {
    case Axis::motor:
      return of(b.motor);
    case Axis::controller:
      return of(b.controller);
    case Axis::cell:
    case Axis::series:
    case Axis::parallel:
      return of(b.cell);
    case Axis::chain:
      return of(b.chain);
    case Axis::front_teeth:
      return of(b.sprocket_front);
    default:
      return of(b.sprocket_rear);
  }
}

std::vector<std::string> own_list(const World& world, const build::Library& shipped) {
  std::vector<std::string> out;
  for (const auto& shelf : {"motor", "controller", "cell", "chain"}) {
    for (const auto& part : world.shipped.library.shelf(shelf)) {
      if (shipped.find(shelf, part.id) == nullptr)
        out.push_back(std::string(shelf) + "/" + part.id);
    }
  }
  return out;
}

const char* const general_caution =
    "A search compares figures; it has not seen your frame, a seller's word or what is not "
    "measured "
    "yet. Before cells are bought, measure the bay and mock the pack up at full size. Over 60 V "
    "this "
    "can kill: have the circuit looked at by somebody who is licensed for it where you live.";

}  // namespace

api::SearchOffer offer_of(const build::Build& build, const World& world,
                          const build::Library& shipped, figure::System units) {
  api::SearchOffer out;
  const Speech speech{units, build.project.currency};
  search::Ask all;
  all.open = (1U << search::axis_count) - 1;
  all.own = own_list(world, shipped);
  all.own_first = false;
  const search::Space space = search::space_of(build, world.shipped.library, all);
  const std::uint32_t open = search::open_by_sheet(build);
  for (std::size_t a = 0; a < search::axis_count; ++a) {
    const auto axis = static_cast<Axis>(a);
    const auto& options = space.of(axis);
    out.places.push_back(
        {.key = std::string(search::word(axis)),
         .label = axis_label(axis),
         .now = on_sheet(build, axis),
         .state = on_sheet(build, axis).empty() ? "none" : state_on_sheet(build, axis),
         .open = ((open >> a) & 1U) != 0,
         .options = static_cast<api::Integer>(options.size()),
         .own =
             std::count_if(options.begin(), options.end(), [](const auto& o) { return o.own; })});
  }
  const search::Wishes wishes = search::wishes_of(build);
  for (const auto& info : search::quantities()) {
    api::Yardstick shown{.key = std::string(info.word),
                         .label = std::string(info.label),
                         .brief = std::string(words_for(info.quantity).brief),
                         .unit = std::string(unit_of(info.quantity, speech)),
                         .step = info.step / per_unit(info.quantity, speech),
                         .more_is_better = info.more_is_better,
                         .traded = index_of(info.quantity) < search::traded_count,
                         .wish = {},
                         .weight = 0};
    if (shown.traded) shown.weight = wishes.weights[index_of(info.quantity)];
    for (const auto& must : wishes.musts) {
      if (must.quantity == info.quantity)
        shown.wish = number_text(info.quantity, must.bound, speech);
    }
    out.yardsticks.push_back(std::move(shown));
  }
  out.caution = general_caution;
  return out;
}

// ---- what was asked

search::Wishes wishes_from(const std::vector<api::SearchMust>& musts,
                           const std::vector<api::SearchWant>& wants, const std::string& currency,
                           Errors& errors) {
  search::Wishes out;
  for (std::size_t i = 0; i < musts.size(); ++i) {
    const auto quantity = static_cast<Quantity>(search::quantity_of(musts[i].quantity));
    const auto& info = search::info_of(quantity);
    const std::string field = "musts[" + std::to_string(i) + "].text";
    auto read = figure::read(musts[i].text, info.kind);
    if (!read) {
      Error error = read.error();
      error.field = field;
      errors.push_back(std::move(error));
      continue;
    }
    double bound = read->value;
    if (quantity == Quantity::weeks) bound /= week_s;
    const bool other_money = quantity == Quantity::money && !read->unit.empty() &&
                             !currency.empty() && read->unit != currency;
    if (!(bound > 0) || other_money) {
      errors.push_back(
          {.code = other_money ? "other-currency" : "out-of-range",
           .what = other_money ? "this sheet's money is " + currency : "must be more than nothing",
           .field = field,
           .found = musts[i].text,
           .expected = "e.g. " + std::string(figure::example_of(info.kind))});
      continue;
    }
    const bool twice = std::any_of(out.musts.begin(), out.musts.end(),
                                   [&](const auto& m) { return m.quantity == quantity; });
    if (twice) {
      errors.push_back({.code = "double-key",
                        .what = "is asked for twice",
                        .field = "musts[" + std::to_string(i) + "].quantity",
                        .found = musts[i].quantity});
      continue;
    }
    out.musts.push_back({quantity, bound});
  }
  for (std::size_t i = 0; i < wants.size(); ++i) {
    if (!(wants[i].weight >= 0 && wants[i].weight <= 1000)) {
      errors.push_back({.code = "bad-weight",
                        .what = "is no weight",
                        .field = "wants[" + std::to_string(i) + "].weight",
                        .found = shortest(wants[i].weight),
                        .expected = "a number from 0 to 1000"});
      continue;
    }
    out.weights[static_cast<std::size_t>(search::quantity_of(wants[i].quantity))] = wants[i].weight;
  }
  const bool any =
      std::any_of(out.weights.begin(), out.weights.end(), [](double w) { return w > 0; });
  if (!any)
    errors.push_back({.code = "no-weight",
                      .what = "nothing counts: every weight is 0",
                      .field = "wants",
                      .way_out = "Let at least one thing count"});
  return out;
}

Sought understood(const api::SearchAsk& ask, const build::Build& build, const World& world,
                  const build::Library& shipped) {
  Sought out;
  for (std::size_t i = 0; i < ask.open.size(); ++i) {
    const int axis = search::axis_of(ask.open[i]);
    if (axis >= 0) {
      out.ask.add(static_cast<Axis>(axis));
      continue;
    }
    std::vector<std::string_view> known;
    for (std::size_t a = 0; a < search::axis_count; ++a)
      known.push_back(search::word(static_cast<Axis>(a)));
    Error error{.code = "unknown-option",
                .what = "is nothing that can be left open",
                .field = "open[" + std::to_string(i) + "]",
                .found = ask.open[i].substr(0, api::path_max)};
    error.way_out = did_you_mean(error.found, known);
    out.errors.push_back(std::move(error));
  }
  if (out.errors.empty() && out.ask.open == 0)
    out.errors.push_back({.code = "nothing-open",
                          .what = "nothing is open: there is nothing to search for",
                          .field = "open",
                          .way_out = "Leave at least one place open"});
  for (std::size_t i = 0; i < ask.without.size(); ++i) {
    const std::string& text = ask.without[i];
    const auto slash = text.find('/');
    const bool known =
        slash != std::string::npos &&
        world.shipped.library.find(text.substr(0, slash), text.substr(slash + 1)) != nullptr;
    if (!known)
      out.errors.push_back({.code = "no-part",
                            .what = "there is no such part to leave out",
                            .field = "without[" + std::to_string(i) + "]",
                            .found = text.substr(0, api::path_max),
                            .expected = "shelf/id"});
  }
  out.ask.without = ask.without;
  out.ask.own = own_list(world, shipped);
  out.ask.own_first = ask.own_first;
  out.wishes = wishes_from(ask.musts, ask.wants, build.project.currency, out.errors);
  return out;
}

// ---- what was found

namespace {

/// What a bike's words are made from; `chosen` is null while the search runs.
struct Scene {
  const search::Space& space;
  const search::Wishes& wishes;
  const Speech& speech;
};

const search::Option& option_of(const search::Space& space, const Record& r, Axis axis) {
  return space.of(axis)[r.at[index_of(axis)]];
}

/// The part that a bike has at a place: the option's, or the sheet's own.
template <class Part>
const Part* part_of(const search::Space& space, const Record& r, Axis axis,
                    const std::optional<Part>& on_sheet_part) {
  const auto& option = option_of(space, r, axis);
  if (option.part != nullptr) return static_cast<const Part*>(option.part->part.get());
  return on_sheet_part ? &*on_sheet_part : nullptr;
}

int count_of(const search::Space& space, const Record& r, Axis axis, build::Count on_sheet_count) {
  const int number = option_of(space, r, axis).number;
  return number > 0 ? number : static_cast<int>(on_sheet_count);
}

struct Pack {
  int series = 0, parallel = 0;
  double nominal_V = std::numeric_limits<double>::quiet_NaN(), full_V = nominal_V,
         energy_J = nominal_V;
  const build::Cell* cell = nullptr;
};

Pack pack_of(const search::Space& space, const Record& r) {
  const build::Pack on_sheet_pack = space.base.pack.value_or(build::Pack{});
  Pack out;
  out.cell = part_of(space, r, Axis::cell, space.base.cell);
  out.series = count_of(space, r, Axis::series, on_sheet_pack.series);
  out.parallel = count_of(space, r, Axis::parallel, on_sheet_pack.parallel);
  if (out.cell == nullptr || out.series <= 0 || out.parallel <= 0) return out;
  out.nominal_V = out.series * out.cell->voltage_nominal.value;
  out.full_V = out.series * out.cell->voltage_max.value;
  out.energy_J = out.nominal_V * out.cell->capacity.value * out.parallel;
  return out;
}

/// "8 kW motor, 72 V, 5.8 kWh": what the bike is, without any name.
std::string title_of(const Scene& scene, const Record& r) {
  std::vector<std::string> words;
  const auto* motor = part_of(scene.space, r, Axis::motor, scene.space.base.motor);
  if (motor != nullptr && motor->power_continuous.known())
    words.push_back(figure::print(motor->power_continuous.value, figure::Kind::power) + " motor");
  const Pack pack = pack_of(scene.space, r);
  if (std::isfinite(pack.nominal_V)) words.push_back(fixed(pack.nominal_V, 0) + " V");
  if (std::isfinite(pack.energy_J)) words.push_back(fixed(pack.energy_J / 3.6e6, 1) + " kWh");
  return words.empty() ? "a bike" : join(words, ", ");
}

/// What a seller is asked before money moves: common practice, no source.
std::string_view ask_seller(Axis axis) {
  switch (axis) {
    case Axis::motor:
      return "Ask which volts its rpm per volt counts, whether amps are peak or rms and for how "
             "long, with which cooling the continuous power holds, which position sensor it has, "
             "and for a drawing of shaft and bolt circle.";
    case Axis::controller:
      return "Ask for the voltage it bears while braking, battery and phase amps apart and for how "
             "long, which sensor and throttle it reads, and that software and pinout come with it.";
    case Axis::cell:
      return "Ask for the measured capacity and at what current, pulse amps for how many seconds, "
             "resistance, age and cycles, and papers for transport.";
    case Axis::chain:
      return "Ask whether its strength is the least or the mean, and whether it is sealed.";
    default:
      return "";
  }
}

/// What the part must bear in this bike, whatever its name.
std::string limit_text(Axis axis, const Pack& pack) {
  if ((axis == Axis::motor || axis == Axis::controller) && std::isfinite(pack.full_V))
    return "Not below " + fixed(pack.full_V, 1) + " V: the full pack.";
  return {};
}

api::PickPart pick_part(const Scene& scene, const Record& r, Axis axis, const Pack& pack) {
  const auto& option = option_of(scene.space, r, axis);
  api::PickPart out{.place = std::string(search::word(axis)),
                    .label = axis_label(axis),
                    .from = "sheet",
                    .text = on_sheet(scene.space.base, axis),
                    .figures = {},
                    .check = {},
                    .id = {}};
  if (option.part == nullptr) return out;
  out.id = option.part->id;
  out.figures = words_of(search::specification(*option.part, scene.speech.units));
  out.from = option.own ? "own" : "sketch";
  if (option.own) {
    build::Build aside;
    build::put_part(aside, *option.part->slot, *option.part);
    const std::string path = std::string(option.part->slot->key) + ".name";
    out.text = build::show(aside, build::id_of(path));
    if (out.text.empty()) out.text = option.part->id;
  } else if (axis == Axis::chain) {
    out.text = static_cast<const build::Chain*>(option.part->part.get())->designation;
  }
  const std::string limit = limit_text(axis, pack);
  out.check = limit + (limit.empty() ? "" : " ") + std::string(ask_seller(axis));
  return out;
}

std::vector<api::PickPart> pick_parts(const Scene& scene, const Record& r) {
  std::vector<api::PickPart> out;
  const Pack pack = pack_of(scene.space, r);
  for (const Axis axis : {Axis::motor, Axis::controller, Axis::cell})
    out.push_back(pick_part(scene, r, axis, pack));
  const auto plain = [&](const char* place, const char* label, std::string text) {
    out.push_back({.place = place,
                   .label = label,
                   .from = "sheet",
                   .text = std::move(text),
                   .figures = {},
                   .check = {},
                   .id = {}});
  };
  if (pack.series > 0)
    plain("pack", "pack",
          std::to_string(pack.series) + " in series, " + std::to_string(pack.parallel) +
              " in parallel");
  const auto* motor = part_of(scene.space, r, Axis::motor, scene.space.base.motor);
  const bool hub = motor != nullptr && (motor->type == build::MotorType::pm_hub ||
                                        motor->shaft == build::ShaftForm::wheel);
  if (hub) {
    plain("gearing", "gearing", "the motor sits in the wheel");
    return out;
  }
  const auto& gearing = scene.space.base.gearing;
  const int front = count_of(scene.space, r, Axis::front_teeth, gearing.front_teeth),
            rear = count_of(scene.space, r, Axis::rear_teeth, gearing.rear_teeth);
  if (front > 0 && rear > 0)
    plain("gearing", "gearing", std::to_string(front) + " to " + std::to_string(rear) + " teeth");
  out.push_back(pick_part(scene, r, Axis::chain, pack));
  return out;
}

std::vector<api::PickNumber> pick_numbers(const Scene& scene, const Record& r) {
  std::vector<api::PickNumber> out;
  for (const auto& info : search::quantities()) {
    const float value = r.numbers[index_of(info.quantity)];
    std::string met = "none";
    for (const auto& must : scene.wishes.musts) {
      if (must.quantity == info.quantity) met = search::met(must, value) ? "met" : "short";
    }
    out.push_back({.quantity = std::string(info.word),
                   .label = std::string(words_for(info.quantity).brief),
                   .text = number_text(info.quantity, double(value), scene.speech),
                   .value = in_unit(info.quantity, double(value), scene.speech),
                   .met = std::move(met)});
  }
  return out;
}

std::vector<std::string> pick_cautions(const Scene& scene, const Record& r) {
  std::vector<std::string> out;
  const Pack pack = pack_of(scene.space, r);
  if (pack.full_V > 60)
    out.push_back("Full, this pack has " + fixed(pack.full_V, 0) +
                  " V: over 60 V a touch can kill. Build it in parts below that, join them last.");
  if (pack.cell != nullptr && pack.cell->salvage == build::Answer::yes)
    out.emplace_back(
        "Cells out of a wreck: nobody knows what they went through. Measure each one, charge the "
        "first times outdoors with nobody asleep near it, and give up any that warms or swells.");
  return out;
}

api::Pick pick_of(const Scene& scene, const Record& r, std::int64_t number) {
  return {.pick = number,
          .title = title_of(scene, r),
          .parts = pick_parts(scene, r),
          .numbers = pick_numbers(scene, r),
          .why = {},
          .gives_up = {},
          .settle = {},
          .cautions = pick_cautions(scene, r),
          .holds = {}};
}

/// What each of a few is best in, and what it gives up against the best in everything else.
void say_why(const Scene& scene, const std::vector<Record>& records, std::vector<api::Pick>& picks,
             bool ranked) {
  const auto letter = [](std::size_t i) { return std::string(1, static_cast<char>('A' + i)); };
  std::vector<std::vector<std::pair<double, std::string>>> lacks(picks.size());
  for (const auto& info : search::quantities()) {
    const std::size_t q = index_of(info.quantity);
    if (q >= search::traded_count || scene.wishes.weights[q] <= 0 || records.size() < 2) continue;
    std::vector<int> steps;
    steps.reserve(records.size());
    for (const Record& r : records) steps.push_back(search::steps_of(info, r.numbers[q]));
    const auto best =
        static_cast<std::size_t>(std::max_element(steps.begin(), steps.end()) - steps.begin());
    if (std::count(steps.begin(), steps.end(), steps[best]) == 1)
      picks[best].why.emplace_back(words_for(info.quantity).best);
    const auto at_best = double(records[best].numbers[q]);
    for (std::size_t i = 0; i < records.size(); ++i) {
      const double by = std::fabs(double(records[i].numbers[q]) - at_best);
      const double share = by / std::max(std::fabs(at_best), 1e-9);
      if (steps[i] >= steps[best] - 1 || !std::isfinite(by) || share < 0.03) continue;
      lacks[i].emplace_back(share, number_text(info.quantity, by, scene.speech) + " " +
                                       std::string(words_for(info.quantity).worse) + " " +
                                       letter(best));
    }
  }
  for (std::size_t i = 0; i < picks.size(); ++i) {
    std::stable_sort(lacks[i].begin(), lacks[i].end(),
                     [](const auto& a, const auto& b) { return a.first > b.first; });
    for (std::size_t k = 0; k < lacks[i].size() && k < 3; ++k)
      picks[i].gives_up.push_back(lacks[i][k].second);
    if (!ranked) {
      std::vector<std::string> missing;
      for (const auto& n : picks[i].numbers) {
        if (n.met == "short") missing.push_back(n.label);
      }
      picks[i].why.insert(picks[i].why.begin(), "meets every wish but " + join(missing, " and "));
    }
    if (ranked && i == 0) picks[i].why.insert(picks[i].why.begin(), "best by what counts for you");
    if (picks[i].why.empty())
      picks[i].why.emplace_back("best in nothing alone: other parts, and close in everything");
  }
}

std::vector<api::GiveWay> gives_way_of(const Scene& scene,
                                       const std::vector<search::Relaxation>& relaxations,
                                       const std::function<const Record&(std::size_t)>& record,
                                       bool numbered) {
  std::vector<api::GiveWay> out;
  for (std::size_t i = 0; i < relaxations.size() && i < 6; ++i) {
    const Record& r = record(i);
    api::GiveWay way;
    for (const auto& step : relaxations[i].steps) {
      const auto& must = scene.wishes.musts[step.must];
      const auto& info = search::info_of(must.quantity);
      way.steps.push_back(
          {.quantity = std::string(info.word),
           .label = std::string(words_for(must.quantity).brief),
           .wished = number_text(must.quantity, must.bound, scene.speech),
           .instead = number_text(must.quantity, step.value, scene.speech),
           .by = number_text(must.quantity, std::fabs(step.value - must.bound), scene.speech)});
    }
    way.numbers = pick_numbers(scene, r);
    way.pick = numbered ? static_cast<std::int64_t>(relaxations[i].record) : -1;
    out.push_back(std::move(way));
  }
  return out;
}

std::string option_text(const search::Space& space, Axis axis, std::size_t option,
                        figure::System units) {
  const auto& o = space.of(axis)[option];
  if (o.part == nullptr) return o.number > 0 ? std::to_string(o.number) : "as on the sheet";
  if (axis == Axis::chain) return static_cast<const build::Chain*>(o.part->part.get())->designation;
  std::string text = words_of(search::specification(*o.part, units));
  // The first few figures tell them apart.
  std::size_t end = 0;
  for (int i = 0; i < 4 && end != std::string::npos; ++i) end = text.find(';', end + 1);
  return o.own ? o.part->id : text.substr(0, end);
}

/// "+410 EUR, -12 km distance": another bike against the best, in what a rider notices.
std::string difference_text(const Record& best, const Record& other, const Speech& speech) {
  std::vector<std::string> words;
  for (const auto& info : search::quantities()) {
    const std::size_t q = index_of(info.quantity);
    if (q >= search::traded_count) continue;
    const double by = double(other.numbers[q]) - double(best.numbers[q]);
    if (!std::isfinite(by) || std::fabs(by) < info.step) continue;
    words.push_back(
        std::string(by < 0 ? "−" : "+") + number_text(info.quantity, std::fabs(by), speech) +
        (info.quantity == Quantity::money ? ""
                                          : " " + std::string(words_for(info.quantity).brief)));
  }
  return words.empty() ? "no difference a rider notices" : join(words, ", ");
}

std::vector<api::OpenDecision> decisions_of(const Scene& scene, const std::vector<Record>& records,
                                            const std::vector<search::Decision>& decisions) {
  std::vector<api::OpenDecision> out;
  if (decisions.empty()) return out;
  const Record& best = records[decisions.front().options.front().record];
  // A guess where even the worst that fits is within a fiftieth of the money.
  const double small =
      search::guess_share * std::fabs(double(best.numbers[index_of(Quantity::money)]));
  for (const auto& decision : decisions) {
    api::OpenDecision shown{.place = std::string(search::word(decision.axis)),
                            .label = axis_label(decision.axis),
                            .says = decision.worst_loss < small ? "guess" : "think",
                            .text = {},
                            .fit = static_cast<api::Integer>(decision.options.size()),
                            .options = {}};
    const std::size_t count = decision.options.size();
    for (std::size_t i = 0; i < count; ++i) {
      if (i >= 3 && i + 1 != count) continue;
      const auto& option = decision.options[i];
      shown.options.push_back(
          {option_text(scene.space, decision.axis, option.option, scene.speech.units),
           i == 0 ? std::string("best here")
                  : difference_text(best, records[option.record], scene.speech)});
    }
    shown.text =
        shown.says == "guess"
            ? "Any of the " + std::to_string(count) + " that fit will do: take one, go on."
            : "Worth an evening: the worst that still fits has " +
                  difference_text(best, records[decision.options.back().record], scene.speech) +
                  ".";
    out.push_back(std::move(shown));
  }
  return out;
}

/// The same where what is not known is counted.
std::vector<api::OpenDecision> decisions_of(const Scene& scene, const Choosing& c,
                                            const search::Doubts& doubts) {
  std::vector<search::Decision> plain;
  for (const auto& decision : doubts.decisions) {
    search::Decision& out =
        plain.emplace_back(search::Decision{.axis = decision.axis, .options = {}, .worst_loss = 0});
    for (const auto& option : decision.options)
      out.options.push_back({option.option, option.record, option.loss});
    out.worst_loss = decision.options.back().loss;
  }
  auto shown = decisions_of(scene, c.hunted.records, plain);
  for (std::size_t d = 0; d < shown.size(); ++d)
    shown[d].text += " Of 100 draws of what is not known the first is right in " +
                     fixed(100 * doubts.decisions[d].options.front().share_right, 0) + ".";
  return shown;
}

/// In what the bikes differ that a figure decides between: "in series 20 or 22".
std::string between_text(const Scene& scene, const Choosing& c,
                         const std::vector<search::Index>& bikes) {
  std::vector<std::string> words;
  for (std::size_t a = 0; a < search::axis_count; ++a) {
    const auto axis = static_cast<Axis>(a);
    std::vector<std::string> options;
    for (const search::Index index : bikes) {
      std::string text = option_text(scene.space, axis, c.record(index).at[a], scene.speech.units);
      if (std::find(options.begin(), options.end(), text) == options.end())
        options.push_back(std::move(text));
    }
    if (options.size() > 1) words.push_back(axis_label(axis) + ": " + join(options, ", or "));
  }
  return join(words, "; ");
}

void put_doubts(api::SearchFound& out, const Scene& scene, const Choosing& c,
                const search::Doubts& doubts) {
  for (std::size_t i = 0; i < out.list.size() && i < doubts.list.size(); ++i)
    out.list[i].holds = holding_text(doubts.list[i]);
  for (std::size_t i = 0; i < doubts.measuring.size() && i < 5; ++i) {
    const search::Measuring& m = doubts.measuring[i];
    const auto& field = build::schema()[m.id];
    out.measuring.push_back(
        {.path = field.path,
         .what = std::string(field.info->label) + ", " + std::string(field.slot->label),
         .worth = number_text(Quantity::money, m.value, scene.speech),
         .between = between_text(scene, c, m.between),
         .how = std::string(field.info->measure)});
  }
  out.measuring_all = "Knowing every figure would be worth " +
                      number_text(Quantity::money, doubts.value_of_knowing_all, scene.speech) +
                      ": no measuring is worth more. From " + std::to_string(doubts.bikes) +
                      " bikes on the same " + std::to_string(doubts.draws) +
                      " draws; prices stay as listed.";
}

std::vector<api::Fell> fell_of(const Scene& scene, const Choosing& c) {
  std::vector<api::Fell> out;
  const auto& tally = c.hunted.tally;
  for (std::size_t rule = 0; rule < tally.by_rule.size(); ++rule) {
    if (tally.by_rule[rule] > 0)
      out.push_back(
          {tally.by_rule[rule], std::string(fit::rule_book().rules()[rule].title), "rule"});
  }
  for (std::size_t m = 0; m < tally.by_must.size(); ++m) {
    if (tally.by_must[m] <= 0) continue;
    const auto& must = c.wishes.musts[m];
    const auto& info = search::info_of(must.quantity);
    out.push_back({tally.by_must[m],
                   std::string(words_for(must.quantity).brief) +
                       (info.more_is_better ? " at least " : " at most ") +
                       number_text(must.quantity, must.bound, scene.speech),
                   "wish"});
  }
  for (const auto& [rule, count] : c.fell_last)
    out.push_back({double(count), std::string(fit::rule_book().find(rule)->title), "last"});
  std::stable_sort(out.begin(), out.end(),
                   [](const auto& a, const auto& b) { return a.count > b.count; });
  if (out.size() > 14) out.resize(14);
  return out;
}

api::SearchPoint point_of(const Record& r, std::int64_t number, const Speech& speech) {
  api::SearchPoint out{.pick = number, .at = {}};
  for (const auto& info : search::quantities())
    out.at.push_back(in_unit(info.quantity, double(r.numbers[index_of(info.quantity)]), speech));
  return out;
}

std::vector<api::SearchSpan> spans_of(const std::vector<Record>& records, const Speech& speech) {
  std::vector<api::SearchSpan> out;
  const auto spans = search::reached(records);
  for (const auto& info : search::quantities()) {
    const auto& span = spans[index_of(info.quantity)];
    if (!span.any) continue;
    out.push_back({std::string(info.word), in_unit(info.quantity, double(span.least), speech),
                   in_unit(info.quantity, double(span.most), speech)});
  }
  return out;
}

/// At most so many, evenly.
template <class T>
std::vector<T> thinned(const std::vector<T>& all, std::size_t most) {
  if (all.size() <= most) return all;
  std::vector<T> out;
  for (std::size_t i = 0; i < most; ++i) out.push_back(all[i * all.size() / most]);
  return out;
}

/// By how much a bike misses the wishes, all shares together.
double missed(const Record& r, const search::Wishes& wishes) {
  double sum = 0;
  for (const auto& must : wishes.musts)
    sum += search::missed_share(must, r.numbers[index_of(must.quantity)]);
  return sum;
}

/// Those that come nearest to the wishes where none meets them.
std::vector<search::Index> nearest(const Choosing& c, std::size_t most) {
  std::vector<std::pair<double, search::Index>> all;
  for (std::size_t i = 0; i < c.hunted.records.size(); ++i) {
    const double by = missed(c.hunted.records[i], c.wishes);
    if (std::isfinite(by)) all.emplace_back(by, static_cast<search::Index>(i));
  }
  const std::size_t count = std::min(all.size(), most);
  std::partial_sort(all.begin(), all.begin() + std::ptrdiff_t(count), all.end());
  std::vector<search::Index> out;
  for (std::size_t i = 0; i < count; ++i) out.push_back(all[i].second);
  return out;
}

/// What the picture shows: the trade-offs and some of what lies behind them; where nothing meets
/// every wish, what would have to give way and what comes nearest.
std::vector<search::Index> shown_of(const Choosing& c, const search::Doubts& doubts) {
  std::vector<search::Index> shown = thinned(c.front, 600);
  for (const search::Index index : c.list) shown.push_back(index);
  for (const auto& holding : doubts.list) shown.push_back(holding.record);
  for (std::size_t i = 0; i < c.relaxations.size() && i < 100; ++i)
    shown.push_back(c.relaxations[i].record);
  std::vector<search::Index> others = c.loose ? nearest(c, 6000) : std::vector<search::Index>();
  for (std::size_t i = 0; !c.loose && i < c.hunted.records.size(); ++i)
    others.push_back(static_cast<search::Index>(i));
  for (const search::Index index : thinned(others, 500)) shown.push_back(index);
  std::sort(shown.begin(), shown.end());
  shown.erase(std::unique(shown.begin(), shown.end()), shown.end());
  return shown;
}

/// Where nothing fits: what is in the way.
std::string locks_text(const Choosing& c) {
  if (c.locks.empty())
    return "Nothing fits, whatever is chosen: more than three things are in the way at once.";
  std::vector<std::string> ways;
  for (std::size_t i = 0; i < c.locks.size() && i < 3; ++i)
    ways.push_back(in_the_way(c.locks[i], " and "));
  return "Nothing fits, whatever is chosen. Something would, were only this otherwise: " +
         join(ways, "; or ") + ".";
}

std::string lack_text(const Choosing& c, search::Lack lack) {
  if (!c.nearest && c.hunted.tally.fitting <= 0 && !c.hunted.tally.stopped) return locks_text(c);
  if (lack == search::Lack::looser)
    return "A wish is looser now than the search's: bikes that failed it were not kept, so there "
           "may be better ones. Search again to see them.";
  if (lack == search::Lack::nearest)
    return "Of what fits only the bikes that come nearest to the search's wishes were kept, so "
           "there may be better ones for these. Search again to see them.";
  if (lack == search::Lack::ended)
    return c.hunted.tally.stopped
               ? "The search was ended early: there may be better ones."
               : "More fits than can be kept: there may be better ones. Settle a part, or a wish.";
  return {};
}

void put_wishes(api::SearchFound& out, const search::Wishes& wishes, const Speech& speech) {
  for (const auto& must : wishes.musts) {
    out.musts.push_back({std::string(search::info_of(must.quantity).word),
                         number_text(must.quantity, must.bound, speech)});
    out.bounds.push_back(in_unit(must.quantity, must.bound, speech));
  }
}

void put_list(api::SearchFound& out, const Scene& scene, Seek& seek,
              const std::vector<search::Index>& list, bool ranked) {
  std::vector<Record> records;
  for (const search::Index index : list) {
    records.push_back(seek.chosen()->record(index));
    out.list.push_back(pick_of(scene, records.back(), index));
    out.list.back().settle = seek.settle(index);
  }
  say_why(scene, records, out.list, ranked);
}

api::SearchFound found_by_hunt(Seek& seek, const Choosing& c) {
  const Speech speech = speech_of(seek.job());
  const Scene scene{c.ground->space(), c.wishes, speech};
  api::SearchFound out;
  put_wishes(out, c.wishes, speech);
  const auto lack = search::lack_of(c, c.wishes.musts);
  out.lack = lack == search::Lack::nearest
                 ? "There may be ways in which more wishes give way, each by less; more fits than "
                   "can be looked through for them."
                 : lack_text(c, lack);
  out.within = c.loose ? 0 : double(c.hunted.records.size());
  out.worth = double(c.front.size());
  const search::Doubts& doubts = seek.doubts();
  std::vector<search::Index> list(c.list);
  if (!doubts.list.empty()) list.clear();
  for (const auto& holding : doubts.list) list.push_back(holding.record);
  put_list(out, scene, seek, list, !c.loose);
  out.gives_way = gives_way_of(
      scene, c.relaxations,
      [&](std::size_t i) -> const Record& { return c.record(c.relaxations[i].record); }, true);
  out.decisions = doubts.list.empty() ? decisions_of(scene, c.hunted.records, c.decisions)
                                      : decisions_of(scene, c, doubts);
  if (!doubts.list.empty()) put_doubts(out, scene, c, doubts);
  return out;
}

bool same_wishes(const search::Wishes& a, const search::Wishes& b) {
  return a.weights == b.weights && std::equal(a.musts.begin(), a.musts.end(), b.musts.begin(),
                                              b.musts.end(), [](const auto& x, const auto& y) {
                                                return x.quantity == y.quantity &&
                                                       x.bound == y.bound;
                                              });
}

std::string pass_text(const Seek& seek, const Seek::Standing& standing) {
  if (standing.pass == 1) return {};
  const bool own = !seek.job().ask.own.empty() && seek.job().ask.own_first;
  if (standing.pass == 2 && own)
    return "Nothing of your own parts does it alone: the library comes in.";
  return "Nothing meets every wish: everything that fits is ridden, to see what must give way.";
}

const char* word_of(Seek::Phase phase) {
  static constexpr const char* words[] = {"waiting", "riding", "weighing", "done"};
  return words[static_cast<int>(phase)];
}

const char* word_of(const Seek::Standing& standing, const Choosing* chosen) {
  if (standing.end == Seek::End::stopped) return "stopped";
  if (standing.end == Seek::End::time) return "time";
  if (standing.end == Seek::End::failed) return "failed";
  return chosen != nullptr && chosen->hunted.tally.cut_short ? "full" : "";
}

/// The first two that come to pass in a twentieth of the draws or more.
std::string foremost(const std::vector<std::pair<std::size_t, double>>& falls) {
  std::vector<std::string> out;
  for (std::size_t i = 0; i < falls.size() && i < 2; ++i) {
    const auto& [rule, share] = falls[i];
    if (share < 0.05) break;
    out.push_back(std::string(fit::rule_book().rules()[rule].title) + " (in " +
                  fixed(100 * share, 0) + ")");
  }
  return join(out, "; ");
}

}  // namespace

std::string in_the_way(const search::Lock& lock, std::string_view between) {
  std::vector<std::string> titles;
  for (const std::size_t rule : lock.rules)
    titles.emplace_back(fit::rule_book().rules()[rule].title);
  return join(titles, between);
}

std::string holding_text(const search::Holding& holding) {
  std::string text = "Small things aside, of 100 draws of what is not known for sure it holds in " +
                     fixed(100 * holding.share_holds, 0);
  const std::string falls = foremost(holding.falls);
  text += falls.empty() ? "." : "; where not, mostly for: " + falls + ".";
  const std::string small = foremost(holding.small_but_hurt);
  if (!small.empty())
    text += " Small, but it can hurt, so look at it before you go on: " + small + ".";
  return text;
}

api::SearchFound found_of(Seek& seek, const search::Wishes& wishes) {
  const Choosing& c = *seek.chosen();
  if (same_wishes(wishes, c.wishes)) return found_by_hunt(seek, c);
  const Speech speech = speech_of(seek.job());
  const Scene scene{c.ground->space(), wishes, speech};
  api::SearchFound out;
  put_wishes(out, wishes, speech);
  if (c.hunted.records.empty()) return out;
  const search::Narrowed narrowed = seek.narrowed(wishes);
  out.lack = lack_text(c, narrowed.lack);
  out.within = double(narrowed.within);
  out.worth = double(narrowed.front.size());
  put_list(out, scene, seek, narrowed.list, narrowed.within > 0);
  out.gives_way = gives_way_of(
      scene, narrowed.relaxations,
      [&](std::size_t i) -> const Record& { return c.record(narrowed.relaxations[i].record); },
      true);
  out.decisions = decisions_of(scene, c.hunted.records, narrowed.decisions);
  return out;
}

api::SearchState search_state(Seek& seek, bool stale) {
  const SeekJob& job = seek.job();
  const Speech speech = speech_of(job);
  const Seek::Standing standing = seek.standing();
  const Choosing* c = standing.phase == Seek::Phase::done ? seek.chosen() : nullptr;
  api::SearchState out{.build = job.build,
                       .search = seek.number(),
                       .revision = job.revision,
                       .stale = stale,
                       .phase = word_of(standing.phase),
                       .pass = pass_text(seek, standing),
                       .ended = word_of(standing, c),
                       .share = standing.share,
                       .seconds = standing.seconds,
                       .limit = job.seconds,
                       .answers = standing.answers,
                       .open = {},
                       .without = job.ask.without,
                       .wants = {},
                       .own_first = job.ask.own_first,
                       .counts = standing.counts,
                       .spans = {},
                       .points = {},
                       .found = {},
                       .fell = {},
                       .caution = general_caution};
  for (std::size_t a = 0; a < search::axis_count; ++a) {
    const auto axis = static_cast<Axis>(a);
    if (job.ask.has(axis)) out.open.emplace_back(search::word(axis));
  }
  for (std::size_t q = 0; q < search::traded_count; ++q)
    out.wants.push_back({std::string(search::quantities()[q].word), job.wishes.weights[q]});
  if (c != nullptr) {
    const Scene scene{c->ground->space(), c->wishes, speech};
    out.found = found_by_hunt(seek, *c);
    out.fell = fell_of(scene, *c);
    std::vector<Record> shown;
    for (const search::Index index : shown_of(*c, seek.doubts())) {
      shown.push_back(c->record(index));
      out.points.push_back(point_of(shown.back(), index, speech));
    }
    out.spans = spans_of(c->loose ? shown : c->hunted.records, speech);
    return out;
  }
  put_wishes(out.found, job.wishes, speech);
  const Seek::Partial partial = seek.partial();
  if (partial.points.empty()) return out;
  search::Ask ask = job.ask;
  if (standing.pass > 1) ask.own_first = false;
  const search::Space space = search::space_of(job.sheet, job.world->shipped.library, ask);
  const Scene scene{space, job.wishes, speech};
  for (const Record& r : partial.list) out.found.list.push_back(pick_of(scene, r, -1));
  say_why(scene, partial.list, out.found.list, true);
  out.found.within = standing.counts.within;
  for (const Record& r : partial.points) out.points.push_back(point_of(r, -1, speech));
  out.spans = spans_of(partial.points, speech);
  return out;
}

api::SearchEvent search_event(const Seek& seek) {
  const Seek::Standing standing = seek.standing();
  return {.build = seek.job().build,
          .search = seek.number(),
          .answers = standing.answers,
          .phase = word_of(standing.phase),
          .share = standing.share,
          .seconds = standing.seconds,
          .counts = standing.counts};
}

api::WhyNot why_of(const search::WhyNot& why, const Choosing& chosen, const Seek& seek) {
  const Speech speech = speech_of(seek.job());
  const Scene scene{chosen.ground->space(), chosen.wishes, speech};
  api::WhyNot out;
  if (why.best) {
    out.numbers = pick_numbers(scene, *why.best);
    out.says = "It can be: " + std::to_string(why.meeting) +
               (why.meeting == 1 ? " combination with it meets" : " combinations with it meet") +
               " every wish.";
    if (!chosen.loose && !chosen.hunted.records.empty())
      out.says +=
          " Its best against the best of all: " +
          difference_text(chosen.record(search::best_of(chosen.hunted.records, chosen.worth)),
                          *why.best, speech) +
          ".";
    return out;
  }
  if (!why.relaxations.empty()) {
    out.says =
        "It fits, but no bike with it meets every wish. The least that would have to give way:";
    out.gives_way = gives_way_of(
        scene, why.relaxations, [&](std::size_t i) -> const Record& { return why.relaxed[i]; },
        false);
    return out;
  }
  out.says = why.fitting > 0
                 ? "It fits, but clashes once it is ridden. What its combinations fell to:"
                 : "Every combination with it clashes. What they fell to:";
  for (std::size_t i = 0; i < why.rules.size() && i < 6; ++i)
    out.fell.push_back({why.rules[i].second,
                        std::string(fit::rule_book().find(why.rules[i].first)->title), "rule"});
  return out;
}

// ---- donors

std::vector<api::DonorRow> donor_rows(const std::vector<search::DonorFit>& donors,
                                      figure::System units) {
  std::vector<api::DonorRow> out;
  for (const auto& d : donors) {
    const auto print = [&](double value, figure::Kind kind) {
      return d.reaches ? figure::print(value, kind, units) : std::string();
    };
    std::string says = "carries it";
    if (!d.reaches) {
      says = "no pack does the ride";
    } else if (!d.carries()) {
      says = std::string(d.room() ? "" : "too little room") + (d.room() || d.plate() ? "" : ", ") +
             (d.plate() ? "" : "too heavy");
    }
    out.push_back({.words = d.own ? "your own, as measured" : std::string(d.words),
                   .pack = print(d.energy_J, figure::Kind::energy),
                   .room_needed = print(d.bay_needed_m3, figure::Kind::volume),
                   .room = figure::print(d.bay_m3, figure::Kind::volume, units),
                   .laden = print(d.mass_laden_kg, figure::Kind::mass),
                   .plate = figure::print(d.gross_kg, figure::Kind::mass, units),
                   .says = std::move(says),
                   .own = d.own,
                   .carries = d.carries()});
  }
  return out;
}

}  // namespace ww::serve
