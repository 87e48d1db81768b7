// SPDX-License-Identifier: MIT
#include "wiring/draft.h"

#include <algorithm>
#include <cmath>

#include "base/check.h"

namespace ww::wiring {

namespace {

constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

Group group_of(std::string_view label) {
  switch (label.front()) {
    case 'T':
      return Group::traction;
    case 'P':
      return Group::motor;
    case 'R':
      return Group::precharge;
    case 'C':
      return Group::charging;
    case 'M':
      return Group::mains;
    case 'D':
      return Group::converter;
    case 'L':
      return Group::supply;
    case 'K':
      return Group::interlock;
    case 'E':
      return Group::bond;
    default:
      return Group::signal;
  }
}

bool carries_pack_voltage(Group group) {
  return group == Group::traction || group == Group::motor || group == Group::precharge ||
         group == Group::charging || group == Group::converter;
}

/// Our own choice but for orange (UN R100 and R136, over 60 V outside enclosures) and green-yellow
/// (IEC 60445, protective earth only).
std::string_view usual_colour(Group group, bool dangerous) {
  if (carries_pack_voltage(group)) return dangerous ? "orange" : "red and black";
  switch (group) {
    case Group::mains:
      return "the charger's own cord";
    case Group::supply:
      return "red";
    case Group::interlock:
      return "yellow";
    case Group::bond:
      return "green-yellow";
    default:
      return "grey";
  }
}

/// Distance of a place from the fuse box, where the loom's branches meet; empty: beside it.
std::string_view to_fuse_box(Place place) {
  switch (place) {
    case Place::bars:
      return "loom.fuse_box_to_bars";
    case Place::head:
      return "loom.fuse_box_to_head";
    case Place::tail:
      return "loom.fuse_box_to_tail";
    case Place::stand:
      return "loom.fuse_box_to_stand";
    case Place::converter:
      return "loom.converter_to_fuse_box";
    case Place::pack_box:
    case Place::power_board:
    case Place::controller:
    case Place::motor:
    case Place::charger:
      return "loom.fuse_box_to_contactor";
    default:
      return {};
  }
}

bool between(Place a, Place b, Place x, Place y) {
  return (a == x && b == y) || (a == y && b == x);
}

/// Whether one of two places is where the pack's plus and minus are met.
bool at_pack(Place place) {
  return place == Place::pack_box || place == Place::power_board;
}

}  // namespace

std::vector<std::string_view> way_between(Place a, Place b) {
  if (a == Place::pack_box && b == Place::pack_box) return {"loom.pack_to_monitor"};
  if (a == b) return {"loom.jumper_length"};
  if (between(a, b, Place::controller, Place::bars)) return {"loom.controller_to_bars"};
  if (between(a, b, Place::bars, Place::head)) return {"loom.bars_to_head"};
  if (between(a, b, Place::controller, Place::motor)) return {"wiring.phase_length"};
  if (between(a, b, Place::charger, Place::outside)) return {"loom.charger_to_inlet"};
  for (const auto& [x, y] : {std::pair{a, b}, std::pair{b, a}}) {
    if (!at_pack(x)) continue;
    if (at_pack(y)) return {"loom.jumper_length"};
    if (y == Place::charger) return {"loom.pack_to_charger"};
    if (y == Place::converter) return {"loom.pack_to_converter"};
    if (y == Place::controller) return {"loom.jumper_length"};
  }
  std::vector<std::string_view> way;
  for (const Place place : {a, b}) {
    if (const auto path = to_fuse_box(place); !path.empty()) way.push_back(path);
  }
  if (way.empty()) way.emplace_back("loom.jumper_length");
  return way;
}

double Draft::full_V() const {
  return readings_.ask("pack.series") * readings_.ask("cell.voltage_max");
}

void Draft::device(std::string_view id, std::string_view label, Place place, Presence presence,
                   std::string_view why) {
  WW_ASSERT(!has(id));
  circuit_->devices.push_back(
      {std::string(id), std::string(label), place, presence, std::string(why)});
}

void Draft::part(std::string_view slot, std::string_view label, Place place, std::string_view why) {
  device(slot, label, place, readings_.has(slot) ? Presence::on_list : Presence::lacking, why);
}

void Draft::fuse(std::string_view id, std::string_view label, Place place, std::string_view why,
                 std::string_view question) {
  const Presence presence = question.empty()         ? Presence::assumed
                            : readings_.no(question) ? Presence::lacking
                                                     : answered(question);
  device(id, label, place, presence, why);
}

int Draft::terminal(std::string_view end) {
  if (const int known = terminal_of(*circuit_, end); known >= 0) return known;
  const auto dot = end.find('.');
  const auto& devices = circuit_->devices;
  const auto at = std::find_if(devices.begin(), devices.end(),
                               [&](const Device& d) { return d.id == end.substr(0, dot); });
  WW_ASSERT(at != devices.end());
  circuit_->terminals.push_back(
      {static_cast<int>(at - devices.begin()), std::string(end.substr(dot + 1))});
  return static_cast<int>(circuit_->terminals.size()) - 1;
}

void Draft::stud(std::string_view end, build::Stud stud) {
  const int at = terminal(end);
  circuit_->terminals[static_cast<std::size_t>(at)].stud = stud;
}

void Draft::bar(std::string_view from, std::string_view to) {
  const int a = terminal(from);
  circuit_->bars.push_back({a, terminal(to)});
}

void Draft::wire(const WireAsk& ask) {
  WW_ASSERT(circuit_->wire(ask.label) == nullptr);
  const Group group = group_of(ask.label);
  Wire wire{
      .label = std::string(ask.label),
      .from = terminal(ask.from),
      .to = -1,
      .group = group,
      .carries = ask.carries,
      .cores = ask.cores,
      .length_m = unknown,
      .length_assumed = false,
      .length_from = {},
      .route = std::string(ask.route),
      .colour = std::string(ask.colour.empty() ? usual_colour(group, dangerous()) : ask.colour),
      .why = std::string(ask.why),
      .fuse = std::string(ask.fuse),
      .before = std::string(ask.before),
      .section_m2 = unknown,
      .section_from = {}};
  wire.to = terminal(ask.to);
  set_length(wire);
  set_section(wire);
  circuit_->wires.push_back(std::move(wire));
}

void Draft::set_length(Wire& wire) {
  wire.length_m = 0;
  const auto add = [&](std::string_view path) {
    wire.length_m += readings_.need(path);
    wire.length_assumed = wire.length_assumed || readings_.assumed(path);
    wire.length_from += (wire.length_from.empty() ? "" : " + ") + std::string(path);
  };
  if (wire.label == "T1" && !std::isnan(readings_.ask("wiring.fuse_distance"))) {
    add("wiring.fuse_distance");
    return;
  }
  if (wire.carries == Carries::traction) {
    add("loom.jumper_length");
    return;
  }
  for (const auto path :
       way_between(circuit_->device_of(wire.from).place, circuit_->device_of(wire.to).place))
    add(path);
}

void Draft::set_section(Wire& wire) {
  const std::string_view from = wire.carries == Carries::traction ? "cable_main.section"
                                : wire.carries == Carries::phase  ? "cable_phase.section"
                                                                  : std::string_view{};
  if (from.empty()) return;
  wire.section_m2 = readings_.need(from);
  wire.section_from = from;
}

/// The long runs to the controller take what the string round the whole loop leaves for them.
void set_long_runs(Draft& draft) {
  Readings& sheet = draft.sheet();
  const double half_m = 0.5 * sheet.need("wiring.loop_length");
  for (const auto& [run, rest] :
       {std::pair{"T4", std::vector{"T1", "T2", "T3"}}, std::pair{"T5", std::vector{"T6", "T7"}}}) {
    double left_m = half_m;
    for (const char* label : rest) {
      if (const Wire* wire = draft.circuit().wire(label); wire != nullptr) left_m -= wire->length_m;
    }
    for (Wire& wire : draft.circuit().wires) {
      if (wire.label != run) continue;
      wire.length_m = std::max(left_m, 0.1);
      wire.length_assumed = sheet.assumed("wiring.loop_length");
      wire.length_from = "half of wiring.loop_length less the short leads";
    }
  }
}

void Draft::finish() {
  set_long_runs(*this);
  for (const build::OwnWire& own : readings_.build().wires) {
    const auto at = std::find_if(circuit_->wires.begin(), circuit_->wires.end(),
                                 [&](const Wire& w) { return w.label == own.label; });
    if (at == circuit_->wires.end()) {
      gap({Gap::Kind::mistake,
           "The sheet lays a wire '" + own.label + "' that this circuit has not.",
           "What was measured for it counts nowhere.",
           "Take the label from the wire list, or drop the entry.", ""});
      continue;
    }
    if (own.length.known()) {
      at->length_m = own.length.value;
      at->length_assumed = false;
      at->length_from = "wire " + own.label;
    }
    if (own.section.known()) {
      at->section_m2 = own.section.value;
      at->section_from = "wire " + own.label;
    }
    if (!own.colour.empty()) at->colour = own.colour;
    if (!own.route.empty()) at->route = own.route;
  }
  name_nets();
}

void Draft::name_nets() {
  auto& c = *circuit_;
  std::vector<int> net(c.terminals.size(), -1);
  for (std::size_t t = 0; t < net.size(); ++t) net[t] = static_cast<int>(t);
  const auto root = [&](int t) {
    while (net[static_cast<std::size_t>(t)] != t) t = net[static_cast<std::size_t>(t)];
    return t;
  };
  const auto join_ends = [&](int a, int b) {
    const int low = std::min(root(a), root(b)), high = std::max(root(a), root(b));
    net[static_cast<std::size_t>(high)] = low;
  };
  for (const Wire& wire : c.wires) join_ends(wire.from, wire.to);
  for (const Bar& bar : c.bars) join_ends(bar.from, bar.to);
  std::vector<int> number(net.size(), -1);
  for (std::size_t t = 0; t < net.size(); ++t) {
    const auto r = static_cast<std::size_t>(root(static_cast<int>(t)));
    if (number[r] < 0) {
      number[r] = static_cast<int>(c.nets.size());
      c.nets.push_back({c.end_text(static_cast<int>(r)), {}});
    }
    c.nets[static_cast<std::size_t>(number[r])].terminals.push_back(static_cast<int>(t));
  }
  for (Wire& wire : c.wires) wire.net = number[static_cast<std::size_t>(root(wire.from))];
}

}  // namespace ww::wiring
