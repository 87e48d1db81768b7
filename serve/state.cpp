// SPDX-License-Identifier: MIT
#include "serve/state.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "base/text.h"
#include "build/classes.h"
#include "plan/dream.h"
#include "serve/edits.h"
#include "serve/stages.h"

namespace ww::serve {

namespace {

using build::Build;
using build::Entry;
using build::FieldType;
using build::Id;
using build::schema;
using build::Slot;
using figure::Kind;
using figure::System;
using fit::Finding;
using fit::Verdict;
using ride::Answer;

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

// ---- values

/// A build that has the library's parts as they are, to tell what the builder wrote over them.
Build as_shipped(const Build& own, const build::Library& library) {
  Build out;
  for (const Slot& slot : schema().slots()) {
    if (!slot.is_part || !build::slot_present(own, slot)) continue;
    const std::string id = build::show(own, build::id_of(std::string(slot.key) + ".part"));
    if (const auto* part = library.find(slot.shelf, id)) build::put_part(out, slot, *part);
  }
  return out;
}

bool same_field(const Build& a, const Build& b, Id id) {
  if (!build::known_at(a, id) || !build::known_at(b, id)) return false;
  const auto* fa = build::figure_at(a, id);
  const auto* fb = build::figure_at(b, id);
  if (fa != nullptr && fb != nullptr)
    return fa->value == fb->value && fa->evidence == fb->evidence && fa->typed == fb->typed;
  return build::show(a, id) == build::show(b, id);
}

api::Value value_at(const Build& build, Id id, System units) {
  api::Value out;
  out.shown = build::show(build, id, units);
  out.text = build::show_in_words(build, id);
  const auto type = schema()[id].info->type;
  if (type == FieldType::figure || type == FieldType::count) out.si = build::number_at(build, id);
  if (const auto* figure = build::figure_at(build, id)) {
    if (!figure->typed.empty()) out.text = figure->typed;
    out.evidence = std::string(word(figure->evidence));
    out.note = figure->note;
    out.date = figure->date;
  }
  return out;
}

std::map<std::string, api::Value> values_of(const Looked& looked) {
  std::map<std::string, api::Value> out;
  for (Id id = 0; id < schema().size(); ++id) {
    const Entry& entry = schema()[id];
    if (build::known_at(looked.own, id)) {
      api::Value value = value_at(looked.own, id, looked.units);
      value.from = same_field(looked.own, looked.parts_as_shipped, id) ? "part" : "sheet";
      if (value.from == "part")
        value.source =
            build::show(looked.own, build::id_of(std::string(entry.slot->key) + ".part"));
      out.emplace(entry.path, std::move(value));
    } else if (build::known_at(looked.checked.ridden, id)) {
      api::Value value = value_at(looked.checked.ridden, id, looked.units);
      value.from = "sketched";
      value.source = "sketched in, so that there is something to ride";
      out.emplace(entry.path, std::move(value));
    } else if (build::slot_present(looked.own, *entry.slot)) {
      const auto prior = build::prior_of(looked.own, id);
      if (!prior.known()) continue;
      api::Value value;
      value.text = value.shown = build::show_number(prior.value, id, looked.units);
      value.si = prior.value;
      value.from = "assumed";
      value.source = std::string(prior.source);
      out.emplace(entry.path, std::move(value));
    }
  }
  return out;
}

// ---- answers and wishes

/// An answer held against a wish.
struct Held {
  std::string wish, met = "none", by;
};

/// `counted_on` is the end that is counted on, in SI.
struct Against {
  double counted_on, likely, wish;
  Kind kind;
  bool more_is_better;
};

Held held(const Against& a, System units) {
  if (std::isnan(a.wish)) return {};
  Held out{.wish = figure::print(a.wish, a.kind, units), .met = "unknown", .by = {}};
  if (std::isnan(a.counted_on)) return out;
  const auto meets = [&](double v) { return a.more_is_better ? v >= a.wish : v <= a.wish; };
  if (meets(a.counted_on)) {
    out.met = "met";
    return out;
  }
  out.met = "short";
  const bool cannot = a.kind == Kind::length && ride::cannot_ride(a.counted_on);
  const double gap = std::fabs(a.wish - (cannot ? 0 : a.counted_on));
  const Kind kind = a.kind == Kind::temperature ? Kind::temperature_rise : a.kind;
  if (std::isfinite(gap)) out.by = figure::print(gap, kind, units);
  if (meets(a.likely)) out.by += out.by.empty() ? "on a bad day" : " on a bad day";
  return out;
}

const char* wish_path(Answer answer) {
  for (const Wanted& wanted : headline()) {
    if (wanted.answer == answer) return wanted.path;
  }
  return nullptr;
}

bool is_main(Answer answer) {
  const auto& list = headline();
  return std::any_of(list.begin(), list.end(),
                     [&](const Wanted& wanted) { return wanted.answer == answer; });
}

struct Ends {
  double counted_on, likely;
};
Ends ends_of(const ride::Ride& ride, Answer answer) {
  if (!ride.possible) return {nan, nan};
  const auto& band = ride.band(answer);
  return {ride::info_of(answer).more_is_better ? band.p10 : band.p90, band.p50};
}

Held held_answer(const Looked& looked, Answer answer, const char* path) {
  const auto& info = ride::info_of(answer);
  const auto ends = ends_of(looked.checked.ride, answer);
  const double wish = path == nullptr ? nan : build::number_at(looked.own, build::id_of(path));
  return held({ends.counted_on, ends.likely, wish, info.kind, info.more_is_better}, looked.units);
}

std::vector<api::MovedBy> moved_by(const Looked& looked, Answer answer) {
  std::vector<api::MovedBy> out;
  const auto kind = ride::info_of(answer).kind;
  for (const auto& push : looked.checked.ride.pushes[static_cast<std::size_t>(answer)]) {
    if (out.size() >= 5 || push.share < 0.005) break;
    const Entry& entry = schema()[push.id];
    out.push_back({.path = entry.path,
                   .label = std::string(entry.info->label),
                   .share = push.share,
                   .low = figure::print(std::min(push.at_p10, push.at_p90), kind, looked.units),
                   .high = figure::print(std::max(push.at_p10, push.at_p90), kind, looked.units),
                   .from = std::string(source_word(looked.own, push))});
  }
  return out;
}

api::Answer answer_of(const Looked& looked, const ride::AnswerInfo& info) {
  const auto& band = looked.checked.ride.band(info.answer);
  const auto words = spoken(looked.checked.ride, info.answer, looked.units);
  const auto wish = held_answer(looked, info.answer, wish_path(info.answer));
  return {.key = std::string(info.key),
          .label = std::string(info.label),
          .count_on = words.count_on,
          .likely = words.likely,
          .good_day = words.good_day,
          .p10 = band.p10,
          .p50 = band.p50,
          .p90 = band.p90,
          .unit = std::string(si_unit(info.kind)),
          .more_is_better = info.more_is_better,
          .main = is_main(info.answer),
          .wish = wish.wish,
          .met = wish.met,
          .by = wish.by,
          .moved_by = moved_by(looked, info.answer)};
}

// ---- the four big figures

api::BigFigure big(const Looked& looked, const char* key, const char* label, Answer answer,
                   const char* path) {
  const auto wish = held_answer(looked, answer, path);
  api::BigFigure out{.key = key,
                     .label = label,
                     .count_on = {},
                     .likely = {},
                     .good_day = {},
                     .wish = wish.wish,
                     .met = wish.met,
                     .by = wish.by,
                     .also = {}};
  if (!looked.checked.ride.possible) return out;
  const auto words = spoken(looked.checked.ride, answer, looked.units);
  out.count_on = words.count_on;
  out.likely = words.likely;
  out.good_day = words.good_day;
  return out;
}

api::BigFigure distance_figure(const Looked& looked) {
  auto out = big(looked, "distance", "Distance to count on", Answer::range_mixed_reserve,
                 "wishes.ride_distance");
  if (!looked.checked.ride.possible) return out;
  const auto cold = spoken(looked.checked.ride, Answer::range_cold_reserve, looked.units);
  const Id day = build::id_of("surroundings.coldest");
  const std::string at = build::known_at(looked.own, day)
                             ? " (" + build::show(looked.own, day, looked.units) + ")"
                             : "";
  const auto said = [](const std::string& words) {
    return words == cannot_keep_up ? std::string("nothing, for it may not keep up") : words;
  };
  out.also = "On the coldest day" + at + ": count on " + said(cold.count_on) + "; likely " +
             said(cold.likely) + ", at best " + said(cold.good_day) + ".";
  return out;
}

api::BigFigure mass_figure(const Looked& looked) {
  auto out = big(looked, "mass", "Weight on the road, with rider", Answer::mass_laden, nullptr);
  const Id plate = build::id_of("donor.gross_mass");
  const bool given = build::known_at(looked.own, plate);
  double limit = build::number_at(looked.own, plate);
  std::string from = "the plate";
  if (!given && looked.own.donor && looked.own.donor->bike_class != build::BikeClass::unknown) {
    limit = build::class_figures(looked.own.donor->bike_class).gross_mass_kg;
    from = "usual for the class; read the plate";
  }
  const auto ends = ends_of(looked.checked.ride, Answer::mass_laden);
  const auto wish = held({ends.counted_on, ends.likely, limit, Kind::mass, false}, looked.units);
  out.wish = wish.wish;
  out.met = wish.met;
  out.by = wish.by;
  if (!wish.wish.empty()) out.also = "May weigh " + wish.wish + ": " + from + ".";
  if (looked.checked.ride.possible) {
    out.also += (out.also.empty() ? "The bike alone: " : " The bike alone: ") +
                spoken(looked.checked.ride, Answer::mass, looked.units).likely + ".";
  }
  return out;
}

api::BigFigure money_figure(const Looked& looked) {
  const auto& list = looked.list;
  const std::string& currency = looked.own.project.currency;
  const auto text = [&](plan::Cents amount) {
    return plan::round_money_text(amount) + (currency.empty() ? "" : " " + currency);
  };
  const double wish = build::number_at(looked.own, build::id_of("wishes.budget"));
  auto against =
      held({double(list.total_high) / 100, double(list.total) / 100, wish, Kind::money, false},
           looked.units);
  if (against.met == "short") {
    const auto budget = std::llround(wish * 100);
    against.by = text(list.total_high - budget) + (list.total <= budget ? " on a bad day" : "");
  }
  const auto calendar = plan::calendar(looked.own);
  const auto months = [](double m) { return fixed(m, m < 10 && m != std::floor(m) ? 1 : 0); };
  return {.key = "money",
          .label = "Money and months",
          .count_on = text(list.total_high),
          .likely = text(list.total),
          .good_day = text(list.total_low),
          .wish = std::isnan(wish) ? "" : text(std::llround(wish * 100)),
          .met = against.met,
          .by = against.by,
          .also = "Some " + months(calendar.months_usual) + " months, " +
                  months(calendar.months_low) + " if all goes well, " +
                  months(calendar.months_high) + " if not; " + fixed(calendar.hours_usual, 0) +
                  " hours of work (common practice, no source)."};
}

// ---- findings

std::string text_of(double value, Kind kind, System units) {
  return std::isnan(value) ? std::string() : figure::print(value, kind, units);
}

/// A way out in the builder's units. Its changes stay as they were tried.
std::string way_text(const fit::WayOut& way, System units) {
  if (units == System::metric || way.sets.size() != 1) return way.text;
  const Id id = schema().find(way.sets[0].first);
  if (id < 0 || schema()[id].info->type != FieldType::figure) return way.text;
  const auto value = figure::read(way.sets[0].second, schema()[id].info->kind);
  if (!value) return way.text;
  return std::string(schema()[id].info->label) + ": " + build::show_number(value->value, id, units);
}

/// "<rule> no longer clashes" with the rule's title for its id.
std::string also_text(const std::string& also) {
  const auto* rule = fit::rule_book().find(also.substr(0, also.find(' ')));
  return rule == nullptr ? also : "no longer a clash: " + std::string(rule->title);
}

api::WayOut way_of(const fit::WayOut& way, const Looked& looked) {
  api::WayOut out{.text = way_text(way, looked.units),
                  .changes = {},
                  .becomes = std::string(word(way.becomes)),
                  .also = {}};
  for (const auto& also : way.also) out.also.push_back(also_text(also));
  for (const auto& [path, text] : way.sets) {
    api::EditChange change{.path = path, .text = text, .evidence = {}, .note = {}};
    const Id id = schema().find(path);
    // A setting that is turned keeps the evidence it was tried with.
    if (const auto* figure = id < 0 ? nullptr : build::figure_at(looked.own, id);
        figure != nullptr && figure->known())
      change.evidence = std::string(word(figure->evidence));
    out.changes.push_back(std::move(change));
  }
  return out;
}

std::string unmeasured_text(const Finding& finding) {
  std::vector<std::string> names;
  for (const Id id : finding.missing) names.emplace_back(schema()[id].info->label);
  if (names.empty()) {
    for (const auto& answer : finding.missing_answers)
      names.push_back("a ride of this build, for " + words_of(answer));
  }
  return "Not known: " + join(names, "; ") + ".";
}

api::Finding finding_of(const Finding& f, const Looked& looked,
                        const std::vector<KnownAnswer>& known) {
  const Kind band = f.rule->kind == Kind::temperature ? Kind::temperature_rise : f.rule->kind;
  api::Finding out{.rule = std::string(f.rule->id),
                   .title = std::string(f.rule->title),
                   .says = std::string(word(f.verdict)),
                   .between = {f.rule->between.begin(), f.rule->between.end()},
                   .because = f.verdict == Verdict::unmeasured ? unmeasured_text(f) : f.because,
                   .have = text_of(f.have, f.rule->kind, looked.units),
                   .limit = text_of(f.limit, f.rule->kind, looked.units),
                   .half_width = f.band > 0 ? text_of(f.band, band, looked.units) : "",
                   .blocks = std::string(word(f.rule->blocks)),
                   .missing = asked_of(f.missing),
                   .weak = asked_of(f.weak),
                   .ignoring = {.text = std::string(f.rule->ignoring.text),
                                .cost = fit::typical_cost(f.rule->ignoring),
                                .weeks = f.rule->ignoring.weeks},
                   .ways_out = {},
                   .source = std::string(f.rule->source),
                   .known = {}};
  for (const auto& way : f.ways_out) out.ways_out.push_back(way_of(way, looked));
  for (const auto& answer : known) {
    if (answer.rule == out.rule) out.known = answer.known;
  }
  return out;
}

bool settled(const std::string& rule, const std::vector<KnownAnswer>& known) {
  return std::any_of(known.begin(), known.end(), [&](const KnownAnswer& answer) {
    return answer.rule == rule && answer.known.still;
  });
}

// ---- what was assumed, and the one next job

std::vector<api::Assumption> assumptions_of(const Looked& looked) {
  std::vector<api::Assumption> out;
  const auto kind = ride::info_of(Answer::range_mixed_reserve).kind;
  const auto& pushes =
      looked.checked.ride.pushes[static_cast<std::size_t>(Answer::range_mixed_reserve)];
  for (const auto& push : pushes) {
    if (out.size() >= 8 || push.share < 0.005) break;
    const Entry& entry = schema()[push.id];
    const std::string_view from = source_word(looked.own, push);
    const auto prior = build::prior_of(looked.checked.ridden, push.id);
    const bool known = build::known_at(looked.checked.ridden, push.id);
    out.push_back({.path = entry.path,
                   .label = std::string(entry.info->label),
                   .text = known ? build::show(looked.checked.ridden, push.id, looked.units)
                                 : build::show_number(prior.value, push.id, looked.units),
                   .from = std::string(from),
                   .low = figure::print(std::min(push.at_p10, push.at_p90), kind, looked.units),
                   .high = figure::print(std::max(push.at_p10, push.at_p90), kind, looked.units),
                   .how = std::string(entry.info->measure)});
  }
  return out;
}

/// Rough: common practice, no source.
constexpr int minutes_to_answer = 3, minutes_to_measure = 10, minutes_to_choose = 30;

/// What can be taken at a bike in the garage, before any part is there.
bool at_the_bike(const Entry& entry) {
  return entry.slot->key == "donor" || entry.slot->key == "rider" ||
         entry.slot->key == "tyre_front" || entry.slot->key == "tyre_rear";
}

std::optional<api::Job> clash_job(const Looked& looked, const std::vector<KnownAnswer>& known) {
  for (const Finding& finding : looked.checked.findings) {
    if (finding.verdict != Verdict::clash || settled(std::string(finding.rule->id), known))
      continue;
    api::Job job{.title = "Clear up a clash: " + std::string(finding.rule->title),
                 .how = {},
                 .path = {},
                 .minutes = minutes_to_choose,
                 .because = finding.because};
    if (!finding.ways_out.empty()) {
      const auto& way = finding.ways_out[0];
      job.how = "A way out that was tried: " + way_text(way, looked.units);
      if (!way.sets.empty()) job.path = way.sets[0].first;
    } else if (!finding.rule->between.empty()) {
      job.path = std::string(finding.rule->between[0]);
    }
    return job;
  }
  return std::nullopt;
}

std::string measure_because(const plan::Measurement& m, const Looked& looked) {
  if (!m.purchases.empty()) return "Waiting for it: " + join(m.purchases, ", ") + ".";
  if (!m.findings.empty()) {
    return std::to_string(m.findings.size()) +
           (m.findings.size() == 1 ? " check waits for it." : " checks wait for it.");
  }
  return "Assumed so far; it moves the distance by " +
         figure::print(m.distance_swing_m, Kind::length, looked.units) + ".";
}

std::optional<api::Job> measuring_job(const Looked& looked) {
  const bool sketched = !looked.checked.sketched.empty();
  for (const auto& m : looked.measure) {
    const Entry& entry = schema()[m.id];
    if (sketched && !at_the_bike(entry)) continue;
    const bool question = entry.info->type != FieldType::figure;
    return api::Job{
        .title = (question ? "Find out: " : "Measure: ") + std::string(entry.info->label),
        .how = std::string(entry.info->measure),
        .path = entry.path,
        .minutes = question ? minutes_to_answer : minutes_to_measure,
        .because = measure_because(m, looked)};
  }
  return std::nullopt;
}

/// Who dreams has nothing to hold a tape against: the class of bike comes first.
std::optional<api::Job> donor_job(const Looked& looked) {
  if (looked.own.project.next_step != build::Step::dreaming) return std::nullopt;
  for (const Entry& entry : schema().entries()) {
    if (entry.slot->key == "donor" && entry.path != "donor.bike_class" &&
        build::known_at(looked.own, build::id_of(entry.path)))
      return std::nullopt;
  }
  return api::Job{
      .title = "Find the class of bike that carries it",
      .how =
          "Try the classes here and look at what moves; Choose goes through all of "
          "them, with the pack that this ride wants",
      .path = "donor.bike_class",
      .minutes = minutes_to_choose,
      .because = "There is no bike to measure yet: room and plate are typical figures."};
}

std::optional<api::Job> choosing_job(const Looked& looked) {
  for (const auto& line : looked.own_list.lines) {
    if (!line.missing) continue;
    for (const Slot& slot : schema().slots()) {
      if (slot.label != line.what) continue;
      return api::Job{.title = "Choose: " + line.what,
                      .how = "Look at its shelf: each part there is held against this build",
                      .path = std::string(slot.key),
                      .minutes = minutes_to_choose,
                      .because = "The build needs it and nothing is chosen."};
    }
  }
  return std::nullopt;
}

std::optional<api::Job> next_job(const Looked& looked, const std::vector<KnownAnswer>& known) {
  if (auto job = clash_job(looked, known)) return job;
  if (auto job = donor_job(looked)) return job;
  if (auto job = measuring_job(looked)) return job;
  return choosing_job(looked);
}

// ---- lists

std::string quantity_text(const plan::Line& line) {
  if (line.quantity == 1 && line.unit.empty()) return "1";
  return fixed(line.quantity, line.unit == "m" ? 1 : 0) +
         (line.unit.empty() ? "" : " " + line.unit);
}

std::string state_word(build::State state) {
  switch (state) {
    case build::State::thinking:
      return "thinking";
    case build::State::ordered:
      return "ordered";
    case build::State::here:
      return "here";
    case build::State::unknown:
      break;
  }
  return {};
}

api::Line line_of(const plan::Line& line) {
  const bool priced = line.from != plan::PriceFrom::none;
  return {.group = line.group,
          .what = line.what,
          .chosen = line.chosen,
          .quantity = quantity_text(line),
          .price = priced ? plan::money_text(line.price) : "",
          .half_width = !priced                  ? ""
                        : line.half_width < 1000 ? plan::money_text(line.half_width)
                                                 : plan::round_money_text(line.half_width),
          .price_from = std::string(word(line.from)),
          .evidence = priced ? std::string(word(line.evidence)) : "",
          .lead = line.lead_weeks < 0 ? "" : figure::print(line.lead_weeks * 7 * 86400, Kind::time),
          .state = state_word(line.state),
          .missing = line.missing,
          .waits_for = asked_of(line.waits_for),
          .clashes = line.clashes,
          .because = line.because};
}

}  // namespace

std::string words_of(std::string_view slug) {
  std::string out(slug);
  std::replace(out.begin(), out.end(), '_', ' ');
  return out;
}

std::vector<api::Asked> asked_of(const std::vector<Id>& ids) {
  std::vector<api::Asked> out;
  for (const Id id : ids) {
    const Entry& entry = schema()[id];
    out.push_back({entry.path, std::string(entry.info->label), std::string(entry.info->measure)});
  }
  return out;
}

Looked looked_at(Build own, Errors unread, const Shipped& shipped,
                 const std::vector<build::Goods>& goods, const LookOptions& options) {
  const bool full = options.depth == Depth::full;
  Looked out;
  out.own = std::move(own);
  out.unread = std::move(unread);
  out.depth = options.depth;
  out.units = options.units;
  out.parts_as_shipped = as_shipped(out.own, shipped.library);
  out.checked = check_build(out.own, shipped,
                            {.units = options.units,
                             .draws = full ? 256 : 64,
                             .pushes = full,
                             .ways_out = full,
                             .runner = options.runner});
  out.own_list = plan::parts_list(out.own, shipped.library, goods);
  plan::note_clashes(out.own_list, out.checked.findings);
  out.list = out.own_list;
  if (!out.checked.sketched.empty()) {
    out.list = plan::parts_list(out.checked.ridden, shipped.library, goods);
    plan::note_clashes(out.list, out.checked.findings);
    plan::note_sketched(out.list, out.own_list);
  }
  out.measure = plan::measuring_list(out.own, out.checked.ride, out.checked.findings, out.own_list);
  return out;
}

std::vector<api::BigFigure> four_of(const Looked& looked) {
  return {
      big(looked, "hold", "Speed held for an hour", Answer::speed_hold_hour, "wishes.hold_speed"),
      distance_figure(looked), mass_figure(looked), money_figure(looked)};
}

std::vector<api::Answer> answers_of(const Looked& looked) {
  std::vector<api::Answer> out;
  if (!looked.checked.ride.possible) return out;
  for (const Wanted& wanted : headline())
    out.push_back(answer_of(looked, ride::info_of(wanted.answer)));
  for (const auto& info : ride::answer_table()) {
    if (!is_main(info.answer)) out.push_back(answer_of(looked, info));
  }
  return out;
}

std::vector<api::Finding> findings_of(const std::vector<Finding>& findings, const Looked& looked,
                                      const std::vector<KnownAnswer>& known) {
  std::vector<api::Finding> out;
  out.reserve(findings.size());
  for (const Finding& finding : findings) out.push_back(finding_of(finding, looked, known));
  return out;
}

api::Counts counts_of(const std::vector<Finding>& findings) {
  api::Counts out;
  for (const Finding& finding : findings) {
    switch (finding.verdict) {
      case Verdict::clash:
        ++out.clash;
        break;
      case Verdict::unmeasured:
        ++out.unmeasured;
        break;
      case Verdict::tight:
        ++out.tight;
        break;
      case Verdict::fits:
        ++out.fits;
        break;
    }
  }
  return out;
}

api::PartsList parts_list_of(const Looked& looked) {
  const auto& list = looked.list;
  api::PartsList out;
  for (const auto& line : list.lines) out.lines.push_back(line_of(line));
  for (const auto& line : list.small_parts) out.small_parts.push_back(line_of(line));
  for (const auto& line : list.tools) out.tools.push_back(line_of(line));
  out.total = plan::round_money_text(list.total);
  out.low = plan::round_money_text(list.total_low);
  out.high = plan::round_money_text(list.total_high);
  out.contingency = plan::round_money_text(list.contingency) + " (" +
                    fixed(100 * list.contingency_share, 0) + " %)";
  out.priced = std::to_string(list.quotes) + " of " + std::to_string(list.priced) +
               " prices are quotes or better; the rest are the library's invented prices or common "
               "practice";
  out.currency = looked.own.project.currency;
  return out;
}

std::vector<api::Measure> measures_of(const Looked& looked) {
  std::vector<api::Measure> out;
  for (const auto& m : looked.measure) {
    const Entry& entry = schema()[m.id];
    out.push_back({.path = entry.path,
                   .label = std::string(entry.info->label),
                   .how = std::string(entry.info->measure),
                   .assumed = m.assumed,
                   .decides = m.findings,
                   .unlocks = m.purchases,
                   .blocks = std::string(word(m.blocks)),
                   .moves = m.distance_swing_m > 0
                                ? figure::print(m.distance_swing_m, Kind::length, looked.units)
                                : "",
                   .is_question = entry.info->type != FieldType::figure});
  }
  return out;
}

api::State state_of(const Looked& looked, const Standing& standing) {
  const Checked& checked = looked.checked;
  api::State out;
  out.build = standing.build;
  out.title = standing.name;
  out.revision = standing.revision;
  out.can_undo = standing.can_undo;
  out.can_redo = standing.can_redo;
  out.undo_what = standing.undo_what;
  out.redo_what = standing.redo_what;
  out.saved_at = standing.saved_at;
  out.units = looked.units == System::imperial ? "imperial" : "metric";
  out.ready = looked.depth == Depth::full ? "full" : "first";
  out.values = values_of(looked);
  for (const Slot& slot : schema().slots()) {
    if (build::slot_present(looked.own, slot)) out.slots_present.emplace_back(slot.key);
  }
  out.four = four_of(looked);
  out.blunt = plan::blunt_sentence(looked.own, checked.ridden, checked.ride, looked.units);
  out.sketched = checked.sketched;
  out.assumptions = assumptions_of(looked);
  out.next = next_job(looked, standing.known);
  out.answers = answers_of(looked);
  out.possible = checked.ride.possible;
  out.parts_missing = checked.ride.parts_missing;
  for (const Id id : checked.ride.missing)
    out.missing.push_back(std::string(schema()[id].info->label) + " (" + schema()[id].path + ")");
  for (const Error& error : looked.unread) out.notices.push_back(describe(error));
  out.findings = findings_of(checked.findings, looked, standing.known);
  out.counts = counts_of(checked.findings);
  out.stages = open_stages(looked);
  out.gearing = gearing_of(looked);
  out.caution = std::string(caution_of(looked.own));
  return out;
}

}  // namespace ww::serve
