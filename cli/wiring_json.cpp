// SPDX-License-Identifier: MIT
#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/json.h"
#include "cli/wiring_text.h"

namespace ww::cli {

namespace {

using Json = nlohmann::ordered_json;

Json number(double value) {
  return std::isfinite(value) ? Json(value) : Json(nullptr);
}

Json text_or_null(const std::string& text) {
  return text.empty() ? Json(nullptr) : Json(text);
}

Json end_object(const Wired& w, int terminal, const wiring::LugEnd& lug) {
  const auto& t = w.circuit.terminals[static_cast<std::size_t>(terminal)];
  const bool lugged = !std::isnan(lug.barrel_m2);
  return {{"device", w.circuit.device_of(terminal).id},
          {"mark", t.mark},
          {"stud", t.stud == build::Stud::unknown ? Json(nullptr) : Json(wiring::word(t.stud))},
          {"barrel_m2", number(lug.barrel_m2)},
          {"hole_m", lugged ? number(lug.hole_m) : Json(nullptr)},
          {"torque_low_Nm", number(lug.torque_low_Nm)},
          {"torque_high_Nm", number(lug.torque_high_Nm)}};
}

Json wire_object(const Wired& w, const wiring::SizedWire& s) {
  const auto& wire = w.circuit.wires[static_cast<std::size_t>(s.wire)];
  Json ways = Json::array();
  for (const auto& way : s.ways)
    ways.push_back({{"by", word(way.way)},
                    {"have", number(way.have)},
                    {"limit", number(way.limit)},
                    {"good", way.known ? Json(way.good) : Json(nullptr)},
                    {"needs_m2", number(way.needed_m2)}});
  return {{"label", wire.label},
          {"group", word(wire.group)},
          {"from", end_object(w, wire.from, s.from_end)},
          {"to", end_object(w, wire.to, s.to_end)},
          {"net", wire.net},
          {"cores", wire.cores},
          {"length_m", number(wire.length_m)},
          {"length_assumed", wire.length_assumed},
          {"length_from", wire.length_from},
          {"section_m2", number(s.section_m2)},
          {"laid", s.laid},
          {"needs_m2", number(s.needed_m2)},
          {"colour", wire.colour},
          {"route", text_or_null(wire.route)},
          {"why", wire.why},
          {"fuse", text_or_null(wire.fuse)},
          {"fuse_A", number(s.fuse_A)},
          {"current_rms_A", number(s.duty.rms_A)},
          {"current_peak_A", number(s.duty.peak_A)},
          {"current_because", s.duty.because},
          {"temperature_K", number(s.temperature_K)},
          {"temperature_max_K", number(s.temperature_max_K)},
          {"carries_A", number(s.carries_A)},
          {"drop_V", number(s.drop_V)},
          {"withstand_A2s", number(s.withstand_A2s)},
          {"through_A2s", number(s.clearing_A2s)},
          {"ways", ways},
          {"caution", text_or_null(s.caution)}};
}

Json fuse_object(const wiring::SizedFuse& f) {
  return {{"id", f.id},
          {"label", f.label},
          {"main", f.main},
          {"kind", f.kind},
          {"rating_A", number(f.rating_A)},
          {"voltage_V", number(f.voltage_V)},
          {"interrupt_A", number(f.interrupt_A)},
          {"rms_A", number(f.rms_A)},
          {"rms_limit_A", number(f.rms_limit_A)},
          {"peak_A", number(f.peak_A)},
          {"peak_time_s", number(f.peak_time_s)},
          {"melts_A", number(f.melts_A)},
          {"weakest_A", number(f.weakest_A)},
          {"clears_s", number(f.clears_s)},
          {"carries_A", number(f.carries_A)},
          {"against", f.against}};
}

Json start_object(const wiring::StartSums& s) {
  return {{"voltage_V", number(s.voltage_V)},
          {"resistance_ohm", number(s.resistance_ohm)},
          {"capacitance_F", number(s.capacitance_F)},
          {"load_A", number(s.load_A)},
          {"constant_s", number(s.constant_s)},
          {"time_95_s", number(s.time_95_s)},
          {"timer_s", number(s.timer_s)},
          {"timer_least_s", number(s.timer_least_s)},
          {"final_V", number(s.final_V)},
          {"bus_V", number(s.bus_V)},
          {"closing_A", number(s.closing_A)},
          {"closing_empty_A", number(s.closing_empty_A)},
          {"first_A", number(s.first_A)},
          {"first_W", number(s.first_W)},
          {"energy_J", number(s.energy_J)},
          {"stuck_J", number(s.stuck_J)},
          {"if_relay_sticks", s.if_relay_sticks},
          {"if_load_hangs", s.if_load_hangs},
          {"if_open", s.if_open},
          {"caution", s.caution}};
}

Json supply_object(const wiring::SupplySums& s) {
  Json loads = Json::array();
  for (const auto& load : s.loads)
    loads.push_back({{"label", load.label},
                     {"figure", load.path},
                     {"power_W", number(load.power_W)},
                     {"share", load.share},
                     {"assumed", load.assumed}});
  return {{"loads", loads},
          {"riding_W", number(s.riding_W)},
          {"converter_W", number(s.converter_W)},
          {"worst_A", number(s.worst_A)},
          {"converter_A", number(s.converter_A)},
          {"buffer_A", number(s.buffer_A)},
          {"hold_s", number(s.hold_s)},
          {"supply_V", number(s.supply_V)},
          {"loss_V", number(s.loss_V)},
          {"coil_V", number(s.coil_V)},
          {"pull_in_V", number(s.pull_in_V)}};
}

Json contactor_object(const wiring::ContactorSums& c) {
  return {{"carry_A", number(c.carry_A)},
          {"rms_A", number(c.rms_A)},
          {"make_A", number(c.make_A)},
          {"closing_A", number(c.closing_A)},
          {"break_A", number(c.break_A)},
          {"fault_A", number(c.fault_A)},
          {"withstand_A2s", number(c.withstand_A2s)},
          {"through_A2s", number(c.through_A2s)},
          {"coil_V", number(c.coil_V)},
          {"pull_in_V", number(c.pull_in_V)},
          {"heat_W", number(c.heat_W)}};
}

Json net_list(const wiring::Circuit& c, Json out) {
  out["devices"] = Json::array();
  for (const auto& d : c.devices)
    out["devices"].push_back({{"id", d.id},
                              {"label", d.label},
                              {"place", word(d.place)},
                              {"presence", word(d.presence)},
                              {"why", d.why}});
  const auto end = [&](int t) {
    return c.device_of(t).id + "." + c.terminals[static_cast<std::size_t>(t)].mark;
  };
  out["bars"] = Json::array();
  for (const auto& bar : c.bars)
    out["bars"].push_back({{"from", end(bar.from)}, {"to", end(bar.to)}});
  out["nets"] = Json::array();
  for (const auto& net : c.nets) {
    Json ends = Json::array();
    for (const int t : net.terminals) ends.push_back(end(t));
    out["nets"].push_back({{"name", net.name}, {"ends", ends}});
  }
  out["gaps"] = Json::array();
  for (const auto& gap : c.gaps)
    out["gaps"].push_back({{"kind", word(gap.kind)},
                           {"what", gap.what},
                           {"because", gap.because},
                           {"way_out", gap.way_out},
                           {"rule", text_or_null(gap.rule)}});
  return out;
}

Json failure_object(const wiring::Failure& f) {
  Json sums = Json::array(), guards = Json::array();
  for (const auto& sum : f.sums)
    sums.push_back({{"label", sum.label},
                    {"unit", figure::si_unit_of(sum.kind)},
                    {"value", number(sum.value)},
                    {"sum", sum.sum}});
  for (const auto& guard : f.guards)
    guards.push_back({{"what", guard.what},
                      {"standing", word(guard.standing)},
                      {"figure", guard.path},
                      {"rule", text_or_null(std::string(guard.rule))}});
  return {{"id", f.id},   {"title", f.title}, {"happens", f.happens}, {"noticed", f.noticed},
          {"sums", sums}, {"guards", guards}, {"caution", f.caution}};
}

}  // namespace

std::string wiring_text(const Opened& opened, const Checked& checked, const Wired& w,
                        const Options& options) {
  const auto told = serve::wiring_report(checked, w, {.units = options.units, .all = options.all});
  return (opened.build.project.name.empty() ? opened.name : opened.build.project.name) +
         ": how it is wired\n\n" + told.text();
}

std::string wiring_json(const Opened& opened, const Checked& checked, const Wired& w) {
  Json out{{"wattwright", json_version},   {"report", "wiring"},
           {"sheet", opened.name},         {"project", opened.build.project.name},
           {"sketched", checked.sketched}, {"voltage_full_V", number(w.full_V)}};
  out = net_list(w.circuit, std::move(out));
  out["wires"] = Json::array();
  for (const auto& wire : w.sizing.wires) out["wires"].push_back(wire_object(w, wire));
  out["fuses"] = Json::array();
  for (const auto& fuse : w.sizing.fuses) out["fuses"].push_back(fuse_object(fuse));
  out["supply"] = supply_object(w.supply);
  out["precharge"] = start_object(w.start);
  out["contactor"] = contactor_object(w.contactor);
  out["faults"] = Json::array();
  for (const auto& f : w.faults)
    out["faults"].push_back({{"where", f.where},
                             {"state", f.state},
                             {"loop_ohm", number(f.loop_ohm)},
                             {"inductance_H", number(f.inductance_H)},
                             {"current_A", number(f.current_A)},
                             {"fused", f.fuse_in_way},
                             {"melts_s", number(f.melts_s)},
                             {"cable_s", number(f.cable_s)},
                             {"cleared", f.cleared}});
  out["failures"] = Json::array();
  for (const auto& f : w.failures) out["failures"].push_back(failure_object(f));
  out["clashes"] = Json::array();
  for (const auto& finding : checked.findings) {
    if (serve::judges_wiring(*finding.rule) && finding.verdict == fit::Verdict::clash)
      out["clashes"].push_back({{"rule", finding.rule->id}, {"because", finding.because}});
  }
  out["missing"] = Json::array();
  for (const build::Id id : w.missing) out["missing"].push_back(build::schema()[id].path);
  return out.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace ww::cli
