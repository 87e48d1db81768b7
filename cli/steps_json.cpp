// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/json.h"
#include "cli/steps_report.h"

namespace ww::cli {

namespace {

using Json = nlohmann::ordered_json;
using steps::Step;

Json number(double value) {
  return std::isfinite(value) ? Json(value) : Json(nullptr);
}
Json text_or_null(const std::string& text) {
  return text.empty() ? Json(nullptr) : Json(text);
}

Json head(const char* what, const Opened& opened) {
  return {{"wattwright", json_version},
          {"report", what},
          {"sheet", opened.name},
          {"project", opened.build.project.name}};
}

std::string_view word_of(steps::Branch::When when) {
  constexpr std::string_view words[] = {"any", "low", "high"};
  return words[static_cast<std::size_t>(when)];
}

Json step_object(const Step& step) {
  Json missing = Json::array(), tree = Json::array(), readings = Json::array();
  for (const build::Id id : step.expect.missing) missing.push_back(build::schema()[id].path);
  for (const auto& branch : step.tree)
    tree.push_back(
        {{"when", word_of(branch.when)}, {"look", branch.look}, {"means", branch.means}});
  for (const auto& r : step.readings)
    readings.push_back({{"text", r.text},
                        {"value", number(r.value)},
                        {"half_width", number(r.half_width)},
                        {"refused", text_or_null(r.refused)},
                        {"date", text_or_null(r.date)},
                        {"instrument", text_or_null(r.instrument)},
                        {"photo", text_or_null(r.photo)},
                        {"note", text_or_null(r.note)}});
  return {{"id", step.id},
          {"stage", word(step.stage)},
          {"title", step.title},
          {"doing", step.doing},
          {"tool", step.tool},
          {"caution", step.caution},
          {"live", text_or_null(step.live)},
          {"tick", step.tick},
          {"from_sheet", step.from_sheet},
          {"unit", step.tick ? Json(nullptr) : Json(figure::si_unit_of(step.kind))},
          {"expected", number(step.expect.value)},
          {"low", number(step.expect.low)},
          {"high", number(step.expect.high)},
          {"sum", text_or_null(step.expect.sum)},
          {"bounds", text_or_null(step.expect.bounds)},
          {"missing", missing},
          {"needs", step.needs},
          {"learns", text_or_null(step.learns)},
          {"verdict", word(step.verdict)},
          {"alone", step.readings.empty() ? Json(nullptr) : Json(word(step.alone))},
          {"held_by", step.held_by},
          {"readings", readings},
          {"tree", tree}};
}

Json sorted_object(const Opened& opened, const steps::Sorted& s) {
  const auto names = [&](const std::vector<int>& list) {
    Json out = Json::array();
    for (const int i : list) out.push_back(opened.build.units[static_cast<std::size_t>(i)].name);
    return out;
  };
  Json groups = Json::array(), away = Json::array();
  for (const auto& g : s.groups) {
    if (!s.possible) break;
    groups.push_back({{"cells", names(g.units)},
                      {"charge_C", number(g.charge_C)},
                      {"conductance_S", number(g.conductance_S)}});
  }
  for (const auto& one : s.turned_away)
    away.push_back({{"cell", opened.build.units[static_cast<std::size_t>(one.unit)].name},
                    {"because", one.why}});
  return {{"possible", s.possible},
          {"lacks", text_or_null(s.lacks)},
          {"groups", groups},
          {"spares", names(s.spares)},
          {"turned_away", away},
          {"weakest_C", s.possible ? number(s.weakest_C) : Json(nullptr)},
          {"strongest_C", s.possible ? number(s.strongest_C) : Json(nullptr)},
          {"bound_share", s.possible ? number(s.bound_share) : Json(nullptr)}};
}

Json figure_object(const steps::Learnt& l) {
  const auto kind = build::schema()[build::id_of(l.path)].info->kind;
  return {{"figure", l.path},
          {"unit", figure::si_unit_of(kind)},
          {"was", number(l.was)},
          {"value", number(l.figure.value)},
          {"half_width", number(l.figure.half_width)},
          {"evidence", word(l.figure.evidence)},
          {"from", l.from},
          {"sum", l.sum},
          {"date", text_or_null(l.figure.date)}};
}

Json band_object(const ride::Band& b) {
  return {{"p10", number(b.p10)}, {"p50", number(b.p50)}, {"p90", number(b.p90)}};
}

}  // namespace

std::string steps_json(const Opened& opened, const steps::Protocol& p, const StepsAsk& ask) {
  Json out = head("steps", opened);
  out["full_V"] = number(p.full_V);
  out["sorted"] = sorted_object(opened, p.sorted);
  out["steps"] = Json::array();
  const auto next = steps::next_steps(p);
  for (const Step& step : p.steps) {
    if (!ask.stage.empty() && word(step.stage) != ask.stage) continue;
    if (!ask.one.empty() && step.id != ask.one) continue;
    if (ask.next && std::find(next.begin(), next.end(), &step) == next.end()) continue;
    out["steps"].push_back(step_object(step));
  }
  out["wires"] = Json::array();
  for (const auto& w : p.wires)
    out["wires"].push_back({{"label", p.circuit.wires[static_cast<std::size_t>(w.wire)].label},
                            {"laid", w.laid},
                            {"reach", w.laid ? Json(word(w.reach)) : Json(nullptr)}});
  out["strangers"] = Json::array();
  for (const auto& s : p.strangers)
    out["strangers"].push_back({{"step", s.id}, {"nearest", text_or_null(s.nearest)}});
  return out.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string learn_json(const Opened& opened, const steps::Lesson& lesson,
                       const std::vector<steps::Move>& moves) {
  Json out = head("learn", opened);
  out["learnt"] = Json::array();
  for (const auto& l : lesson.learnt) out["learnt"].push_back(figure_object(l));
  out["left"] = Json::array();
  for (const auto& l : lesson.left)
    out["left"].push_back({{"figure", l.path}, {"from", l.from}, {"because", l.why}});
  out["moves"] = Json::array();
  for (const auto& m : moves) {
    const auto& info = ride::info_of(m.answer);
    out["moves"].push_back(
        {{"key", info.key},
         {"label", info.label},
         {"unit", figure::si_unit_of(info.kind)},
         {"before", band_object(m.before)},
         {"after", band_object(m.after)},
         {"because", m.cause < 0 ? Json(nullptr)
                                 : Json(lesson.learnt[static_cast<std::size_t>(m.cause)].path)},
         {"share", number(m.cause_share)}});
  }
  return out.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace ww::cli
