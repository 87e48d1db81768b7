// SPDX-License-Identifier: MIT
#include "cli/json.h"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "plan/listing.h"
#include "ride/detail.h"

namespace ww::cli {

namespace {

using Json = nlohmann::ordered_json;
using build::schema;

/// A number that JSON can hold; null for what is not known or never happens.
Json number(double value) {
  return std::isfinite(value) ? Json(value) : Json(nullptr);
}

Json head(const char* what, const Opened& opened) {
  return {{"wattwright", json_version},
          {"report", what},
          {"sheet", opened.name},
          {"project", opened.build.project.name}};
}

Json paths(const std::vector<build::Id>& ids) {
  Json out = Json::array();
  for (const build::Id id : ids) out.push_back(schema()[id].path);
  return out;
}

/// How a figure that moves an answer is known; `sheet` is what the builder wrote.
Json push_object(const build::Build& sheet, const ride::Push& push) {
  const bool assumed = push.source == ride::Source::assumed;
  const auto* figure = build::figure_at(sheet, push.id);
  const bool given = !assumed && figure != nullptr && figure->known();
  return {{"figure", schema()[push.id].path},
          {"share", number(push.share)},
          {"at_p10", number(push.at_p10)},
          {"at_p90", number(push.at_p90)},
          {"assumed", assumed},
          {"sketched", !assumed && !given},
          {"evidence", given ? Json(word(figure->evidence)) : Json(nullptr)}};
}

Json answer_object(const build::Build& sheet, const ride::Ride& ride,
                   const ride::AnswerInfo& info) {
  const auto& band = ride.band(info.answer);
  Json pushes = Json::array();
  for (const auto& push : ride.pushes[static_cast<std::size_t>(info.answer)]) {
    if (pushes.size() >= 5 || push.share < 0.005) break;
    pushes.push_back(push_object(sheet, push));
  }
  return {{"key", info.key},
          {"label", info.label},
          {"unit", figure::si_unit_of(info.kind)},
          {"p10", number(band.p10)},
          {"p50", number(band.p50)},
          {"p90", number(band.p90)},
          {"nominal", number(ride.nominal[info.answer])},
          {"more_is_better", info.more_is_better},
          {"moved_by", pushes}};
}

Json ride_object(const build::Build& sheet, const ride::Ride& ride) {
  Json out{{"possible", ride.possible},
           {"parts_missing", ride.parts_missing},
           {"missing", paths(ride.missing)},
           {"assumed", paths(ride.assumed)},
           {"answers", Json::array()}};
  if (!ride.possible) return out;
  for (const auto& info : ride::answer_table())
    out["answers"].push_back(answer_object(sheet, ride, info));
  return out;
}

Json detail_object(const ride::Detail& d) {
  Json out{{"thrust", Json::array()},   {"hills", Json::array()},    {"steady", Json::array()},
           {"throttle", Json::array()}, {"charging", Json::array()}, {"ageing", Json::array()}};
  for (const auto& p : d.thrust) {
    out["thrust"].push_back({{"speed_mps", p.speed_mps},
                             {"thrust_N", p.thrust_N},
                             {"road_N", p.road_N},
                             {"limit", word(p.limit)},
                             {"motor_rpm", p.motor_rpm},
                             {"phase_current_peak_A", p.phase_current_peak_A},
                             {"battery_current_A", p.battery_current_A},
                             {"pack_voltage_V", p.pack_voltage_V},
                             {"efficiency", number(p.efficiency)}});
  }
  for (const auto& r : d.hills) {
    out["hills"].push_back({{"grade", r.grade},
                            {"speed_mps", r.speed_mps},
                            {"climbs", r.climbs},
                            {"winding_s", number(r.winding_s)},
                            {"controller_s", number(r.controller_s)},
                            {"cells_s", number(r.cells_s)},
                            {"energy_s", number(r.energy_s)}});
  }
  for (const auto& r : d.steady) {
    out["steady"].push_back({{"speed_mps", r.speed_mps},
                             {"consumption_Jpm", r.consumption_Jpm},
                             {"to_end_m", r.to_end_m},
                             {"reserve_kept_m", r.reserve_kept_m},
                             {"cold_reserve_kept_m", r.cold_reserve_kept_m},
                             {"winding_K", r.winding_K}});
  }
  for (const auto& r : d.throttle)
    out["throttle"].push_back({{"grip", r.grip}, {"thrust_N", r.thrust_N}});
  out["throttle_speeds_mps"] = d.throttle_speeds_mps;
  out["ramp_s"] = number(d.ramp_s);
  for (const auto& r : d.charging) {
    out["charging"].push_back({{"outlet_V", r.outlet_V},
                               {"outlet_A", r.outlet_A},
                               {"power_W", r.power_W},
                               {"ten_to_ninety_s", r.ten_to_ninety_s},
                               {"full_s", number(r.full_s)},
                               {"distance_per_hour_m", r.distance_per_hour_m},
                               {"limited_by", r.limited_by}});
  }
  for (const auto& r : d.ageing) {
    out["ageing"].push_back({{"years", r.years},
                             {"low", number(r.capacity_left_low)},
                             {"likely", number(r.capacity_left)},
                             {"high", number(r.capacity_left_high)}});
  }
  out["ageing_source"] = d.ageing_source;
  out["wmtc_class"] = d.wmtc_class;
  return out;
}

Json finding_object(const fit::Finding& f) {
  Json ways = Json::array();
  for (const auto& way : f.ways_out) {
    Json sets = Json::object();
    for (const auto& [path, text] : way.sets) sets[path] = text;
    ways.push_back(
        {{"text", way.text}, {"set", sets}, {"becomes", word(way.becomes)}, {"also", way.also}});
  }
  return {{"rule", f.rule->id},
          {"title", f.rule->title},
          {"says", word(f.verdict)},
          {"between", f.rule->between},
          {"unit", figure::si_unit_of(f.rule->kind)},
          {"have", number(f.have)},
          {"limit", number(f.limit)},
          {"practice", number(f.practice)},
          {"half_width", number(f.band)},
          {"because", f.because},
          {"blocks", word(f.rule->blocks)},
          {"can_hurt", f.rule->can_hurt},
          {"missing", paths(f.missing)},
          {"missing_answers", f.missing_answers},
          {"weak_evidence", paths(f.weak)},
          {"ignoring",
           {{"text", f.rule->ignoring.text},
            {"cost_low", f.rule->ignoring.cost_low},
            {"cost_high", f.rule->ignoring.cost_high},
            {"weeks", f.rule->ignoring.weeks}}},
          {"ways_out", ways},
          {"source", f.rule->source}};
}

Json line_object(const plan::Line& line) {
  return {{"group", line.group},
          {"what", line.what},
          {"chosen", line.chosen},
          {"quantity", line.quantity},
          {"unit", line.unit},
          {"price", double(line.price) / 100},
          {"half_width", double(line.half_width) / 100},
          {"price_from", word(line.from)},
          {"paid", plan::paid(line)},
          {"duty", double(line.duty) / 100},
          {"evidence", word(line.evidence)},
          {"lead_weeks", line.lead_weeks < 0 ? Json(nullptr) : Json(line.lead_weeks)},
          {"missing", line.missing},
          {"waits_for", paths(line.waits_for)},
          {"clashes", line.clashes},
          {"because", line.because}};
}

Json lines_array(const std::vector<plan::Line>& lines) {
  Json out = Json::array();
  for (const auto& line : lines) out.push_back(line_object(line));
  return out;
}

Json checked_object(const Opened& opened, const Checked& checked) {
  Json out = head("check", opened);
  out["exit"] = static_cast<int>(exit_of(opened.build, checked));
  out["ride"] = ride_object(opened.build, checked.ride);
  out["findings"] = Json::array();
  for (const auto& finding : checked.findings) out["findings"].push_back(finding_object(finding));
  return out;
}

// ---- explain: what a rule, a derived number, an answer or a figure rests on

struct Told {
  const build::Build& build;
  const Checked& checked;
  Json inputs = Json::array();  ///< as they are met, each with the number it stands under
};

Json field_object(const build::Build& build, build::Id id) {
  const auto& entry = schema()[id];
  const auto* figure = build::figure_at(build, id);
  const bool known = build::known_at(build, id);
  const auto prior = build::prior_of(build, id);
  const char* from = known ? "sheet" : (prior.known() ? "assumed" : "not known");
  const bool is_figure = entry.info->type == build::FieldType::figure;
  return {{"name", entry.path},
          {"label", entry.info->label},
          {"value", number(known ? build::number_at(build, id) : prior.value)},
          {"unit", is_figure ? figure::si_unit_of(entry.info->kind) : "1"},
          {"text", known ? build::show_in_words(build, id)
                         : (prior.known() ? build::show_number(prior.value, id) : "not known")},
          {"from", from},
          {"evidence", known && figure != nullptr ? Json(word(figure->evidence)) : Json(nullptr)},
          {"note", figure != nullptr ? figure->note : ""},
          {"date", figure != nullptr ? figure->date : ""},
          {"source", known ? "" : prior.source}};
}

Json fact_object(const Told& told, const fit::Fact& fact) {
  const double value = fit::fact_value(told.build, told.checked.ride, fact.id).value;
  return {{"name", "fact." + std::string(fact.id)},
          {"label", fact.label},
          {"value", number(value)},
          {"unit", figure::si_unit_of(fact.kind)},
          {"text", std::isnan(value) ? "not known" : figure::print(value, fact.kind)},
          {"from", "derived"},
          {"evidence", nullptr},
          {"note", ""},
          {"date", ""},
          {"source", fact.formula}};
}

Json ride_input_object(const Told& told, const ride::AnswerInfo& info) {
  const double value =
      told.checked.ride.possible ? told.checked.ride.nominal[info.answer] : std::nan("");
  return {{"name", "ride." + std::string(info.key)},
          {"label", info.label},
          {"value", number(value)},
          {"unit", figure::si_unit_of(info.kind)},
          {"text", std::isfinite(value) ? figure::print(value, info.kind) : "not known"},
          {"from", "ride"},
          {"evidence", nullptr},
          {"note", ""},
          {"date", ""},
          {"source", ""}};
}

const ride::AnswerInfo* answer_called(std::string_view key) {
  for (const auto& info : ride::answer_table()) {
    if (info.key == key) return &info;
  }
  return nullptr;
}

/// What a rule or a derived number reads, and what that rests on in turn.
void tell_inputs(Told& told, const std::vector<std::string_view>& names, std::string_view under) {
  for (const auto name : names) {
    const auto* fact =
        name.rfind("fact.", 0) == 0 ? fit::rule_book().fact(name.substr(5)) : nullptr;
    Json input;
    if (fact != nullptr) {
      input = fact_object(told, *fact);
    } else if (name.rfind("ride.", 0) == 0) {
      input = ride_input_object(told, *answer_called(name.substr(5)));
    } else {
      input = field_object(told.build, build::id_of(name));
    }
    input["under"] = under;
    told.inputs.push_back(std::move(input));
    if (fact == nullptr) continue;
    tell_inputs(told, fact->needs, name);
    tell_inputs(told, fact->options, name);
  }
}

/// How a field is got, what it may be, and who reads it.
Json field_facts(const Checked& checked, build::Id id) {
  const auto& info = *schema()[id].info;
  Json options = Json::array();
  for (std::size_t i = 1; i < info.options.size(); ++i)
    options.push_back({{"word", info.options[i]}, {"label", info.option_labels[i]}});
  Json readers = Json::array();
  for (std::size_t i = 0; i < fit::rule_book().rules().size(); ++i) {
    const auto& leaves = fit::rule_book().leaves(i);
    if (std::find(leaves.begin(), leaves.end(), id) != leaves.end())
      readers.push_back(fit::rule_book().rules()[i].id);
  }
  const auto& read = checked.ride.read;
  if (std::find(read.begin(), read.end(), id) != read.end()) readers.push_back("ride");
  const bool limited =
      info.type == build::FieldType::figure || info.type == build::FieldType::count;
  return {{"how", info.measure},
          {"low", limited ? number(info.low) : Json(nullptr)},
          {"high", limited ? number(info.high) : Json(nullptr)},
          {"options", options},
          {"read_by", readers}};
}

/// What stands under the topic's own keys: its kind, its words, and one object of that kind.
void tell_topic(Told& told, Json& out, const std::string& topic) {
  const auto& book = fit::rule_book();
  if (topic == "motor" && told.build.motor) {
    out["of"] = "listing";
    out["label"] = plan::listing_text(*told.build.motor, figure::System::metric);
  } else if (const auto* rule = book.find(topic)) {
    out["of"] = "rule";
    out["label"] = rule->title;
    const auto finding = fit::check_one(told.build, told.checked.ride, *rule);
    if (finding) out["finding"] = finding_object(*finding);
    tell_inputs(told, rule->needs, "");
    tell_inputs(told, rule->options, "");
  } else if (const auto* fact = book.fact(topic)) {
    out["of"] = "number";
    out["label"] = fact->label;
    const std::string name = "fact." + topic;
    tell_inputs(told, {name}, "");
  } else if (const auto* answer = answer_called(topic)) {
    out["of"] = "answer";
    out["label"] = answer->label;
    if (told.checked.ride.possible)
      out["answer"] = answer_object(told.build, told.checked.ride, *answer);
  } else if (const build::Id id = schema().find(topic); id >= 0) {
    out["of"] = "figure";
    out["label"] = schema()[id].info->label;
    out["field"] = field_facts(told.checked, id);
    tell_inputs(told, {schema()[id].path}, "");
  }
}

std::string dumped(const Json& json) {
  return json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace

std::string check_json(const Opened& opened, const Checked& checked) {
  return dumped(checked_object(opened, checked));
}

std::string ride_json(const Opened& opened, const build::Build& ridden, const ride::Ride& ride) {
  Json out = head("ride", opened);
  out["ride"] = ride_object(opened.build, ride);
  out["detail"] = detail_object(ride::detail(ridden, ride));
  return dumped(out);
}

std::string parts_json(const Opened& opened, const plan::PartsList& list) {
  Json out = head("parts", opened);
  out["currency"] = opened.build.project.currency;
  out["lines"] = lines_array(list.lines);
  out["small_parts"] = lines_array(list.small_parts);
  out["tools"] = lines_array(list.tools);
  out["total"] = double(list.total) / 100;
  out["total_low"] = double(list.total_low) / 100;
  out["total_high"] = double(list.total_high) / 100;
  out["duty"] = double(list.duty) / 100;
  out["duty_share"] = list.duty_share;
  out["spent"] = double(list.spent) / 100;
  out["budget"] = list.budget < 0 ? Json(nullptr) : Json(double(list.budget) / 100);
  out["contingency"] = double(list.contingency) / 100;
  out["contingency_share"] = list.contingency_share;
  out["quotes"] = list.quotes;
  out["priced"] = list.priced;
  return dumped(out);
}

std::string measuring_json(const Opened& opened, const std::vector<plan::Measurement>& list) {
  Json out = head("measure", opened);
  out["figures"] = Json::array();
  for (const auto& m : list) {
    const auto& entry = schema()[m.id];
    out["figures"].push_back({{"figure", entry.path},
                              {"label", entry.info->label},
                              {"how", entry.info->measure},
                              {"kind", m.question ? "decide" : "measure"},
                              {"assumed", m.assumed},
                              {"decides", m.findings},
                              {"unlocks", m.purchases},
                              {"blocks", word(m.blocks)},
                              {"moves_distance_m", number(m.distance_swing_m)}});
  }
  return dumped(out);
}

std::string compare_json(const Opened& a, const Checked& checked_a, const Opened& b,
                         const Checked& checked_b) {
  Json out{{"wattwright", json_version},
           {"report", "compare"},
           {"a", checked_object(a, checked_a)},
           {"b", checked_object(b, checked_b)},
           {"differ", Json::array()}};
  for (build::Id id = 0; id < schema().size(); ++id) {
    const std::string in_a = build::show_in_words(a.build, id),
                      in_b = build::show_in_words(b.build, id);
    if (in_a != in_b)
      out["differ"].push_back({{"figure", schema()[id].path}, {"a", in_a}, {"b", in_b}});
  }
  return dumped(out);
}

std::string explain_json(const Opened& opened, const Checked& checked, const std::string& topic) {
  Json out = head("explain", opened);
  out["topic"] = topic;
  for (const char* key : {"of", "label", "finding", "answer", "field"}) out[key] = nullptr;
  Told told{.build = opened.build, .checked = checked};
  tell_topic(told, out, topic);
  out["inputs"] = std::move(told.inputs);
  return dumped(out);
}

std::string errors_json(const Errors& errors) {
  Json out{{"wattwright", json_version}, {"report", "errors"}, {"errors", Json::array()}};
  for (const auto& e : errors) {
    out["errors"].push_back({{"code", e.code},
                             {"what", e.what},
                             {"file", e.file},
                             {"line", e.line},
                             {"column", e.column},
                             {"field", e.field},
                             {"found", e.found},
                             {"expected", e.expected},
                             {"way_out", e.way_out}});
  }
  return dumped(out);
}

}  // namespace ww::cli
