// SPDX-License-Identifier: MIT
// The loom of all thin wires outside the pack's side: a map of places with the legs between them,
// and each leg with its wires.
#include "prints/loom.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "base/text.h"
#include "prints/figures.h"
#include "prints/paper.h"
#include "wiring/readings.h"

namespace ww::prints {

using draw::Box;
using wiring::Circuit;
using wiring::Group;
using wiring::Place;
using wiring::Wire;

namespace {

/// Legs in the order of their letters, from the middle of the bike outwards.
struct Known {
  std::string_view path, from, to;
};
constexpr std::array<Known, 12> known{{{"loom.fuse_box_to_bars", "fuse box", "bars"},
                                       {"loom.fuse_box_to_head", "fuse box", "head"},
                                       {"loom.bars_to_head", "bars", "head"},
                                       {"loom.fuse_box_to_tail", "fuse box", "tail"},
                                       {"loom.fuse_box_to_stand", "fuse box", "stand"},
                                       {"loom.converter_to_fuse_box", "fuse box", "converter"},
                                       {"loom.fuse_box_to_contactor", "fuse box", "power side"},
                                       {"loom.controller_to_bars", "controller", "bars"},
                                       {"wiring.phase_length", "controller", "motor"},
                                       {"loom.pack_to_charger", "pack", "charger"},
                                       {"loom.pack_to_monitor", "cells", "cell monitor"},
                                       {"loom.jumper_length", "within one place", ""}}};

bool in_loom(const Wire& wire) {
  return wire.group == Group::supply || wire.group == Group::interlock ||
         wire.group == Group::signal;
}

std::string letter_of(std::size_t index) {
  return std::string(1, static_cast<char>('A' + index));
}

}  // namespace

double bundle_m(const std::vector<double>& outer_m) {
  double squares = 0;
  for (const double d : outer_m) squares += d * d;
  return 1.2 * std::sqrt(squares);
}

std::vector<Leg> legs_of(const Subject& subject) {
  const Circuit& c = *subject.circuit;
  const wiring::Readings sheet(*subject.build);
  std::vector<Leg> out;
  for (std::size_t k = 0; k < known.size(); ++k) {
    const Known& one = known[k];
    Leg leg{letter_of(k),
            std::string(one.path),
            std::string(one.from),
            std::string(one.to),
            sheet.ask(one.path),
            sheet.assumed(one.path),
            {},
            0,
            0};
    std::vector<double> outer;
    for (std::size_t w = 0; w < c.wires.size(); ++w) {
      const Wire& wire = c.wires[w];
      if (!in_loom(wire)) continue;
      const auto way =
          wiring::way_between(c.device_of(wire.from).place, c.device_of(wire.to).place);
      if (std::find(way.begin(), way.end(), one.path) == way.end()) continue;
      leg.wires.push_back(w);
      leg.cores += wire.cores;
      const double d = outer_diameter_m(subject, wire, sized(subject, w).section_m2);
      outer.insert(outer.end(), static_cast<std::size_t>(wire.cores), d);
    }
    leg.bundle_m = bundle_m(outer);
    if (!leg.wires.empty()) out.push_back(std::move(leg));
  }
  return out;
}

namespace {

// ---- the map

struct Node {
  std::string name;
  std::vector<Place> places;
  double left, top, width;
};

/// Front at the left, as in the side view.
std::vector<Node> nodes() {
  return {{"head", {Place::head}, 0, 26, 62},
          {"bars", {Place::bars}, 110, 26, 70},
          {"fuse box", {Place::fuse_box}, 230, 26, 62},
          {"tail", {Place::tail}, 334, 26, 50},
          {"stand", {Place::stand}, 176, 100, 50},
          {"power side",
           {Place::power_board, Place::pack_box, Place::controller, Place::charger},
           230,
           158,
           88},
          {"motor", {Place::motor}, 0, 174, 44},
          {"converter", {Place::converter}, 334, 100, 50}};
}

/// What of the loom sits at a node.
std::string devices_at(const Subject& subject, const Node& node) {
  const Circuit& c = *subject.circuit;
  std::vector<std::string> out;
  for (const auto& wire : c.wires) {
    if (!in_loom(wire)) continue;
    for (const int end : {wire.from, wire.to}) {
      const auto& device = c.device_of(end);
      const bool here =
          std::find(node.places.begin(), node.places.end(), device.place) != node.places.end();
      if (here && std::find(out.begin(), out.end(), device.label) == out.end())
        out.push_back(device.label);
    }
  }
  return join(out, ", ");
}

class Map {
 public:
  Map(const Subject& subject, Leaf& leaf) : subject_(subject), leaf_(leaf) {
    const Box area = area_of(Format::a3);
    for (const Node& node : nodes()) {
      const std::string devices = devices_at(subject, node);
      if (devices.empty()) continue;
      const auto words = lines_in(devices, small_mm, node.width - 4);
      const double left = area.left + node.left, top = area.top + node.top;
      const Box box{left, top, left + node.width,
                    top + 9 + 4.6 * static_cast<double>(words.size())};
      boxes_[node.name] = box;
      draw::Group group;
      group.parts.push_back(rectangle(box, thick));
      group.parts.push_back(strong(left + 2, top + 6, node.name, name_mm));
      double y = top + 11;
      for (const auto& one : words) {
        group.parts.push_back(text(left + 2, y, one, small_mm));
        y += 4.6;
      }
      leaf_.parts.push_back(
          {.shape = std::move(group),
           .style = {},
           .tag = {.name = "symbol", .keys = {{"place", node.name}}, .title = {}}});
    }
  }
  bool has(const std::string& name) const { return boxes_.count(name) > 0; }
  const Box& at(const std::string& name) const { return boxes_.at(name); }
  /// A leg along a way, its words where they are said to stand.
  void leg(const Leg& leg, std::vector<draw::Point> way, const draw::Point& words) {
    draw::Group group;
    group.parts.push_back({.shape = draw::Polyline{std::move(way)}, .style = {.width = 4}});
    const std::string length =
        std::isnan(leg.length_m) ? "? m" : fixed(leg.length_m, 2) + " m" + (leg.assumed ? "*" : "");
    group.parts.push_back(strong(words.x, words.y, leg.letter + "  " + length, name_mm));
    group.parts.push_back(text(words.x, words.y + 5,
                               std::to_string(leg.cores) + " wires, " + shown_mm(leg.bundle_m),
                               small_mm));
    leaf_.parts.push_back({.shape = std::move(group),
                           .style = {},
                           .tag = {.name = "inner", .keys = {{"leg", leg.letter}}, .title = {}}});
  }
  static std::string shown_mm(double m) {
    return std::isnan(m) ? "? mm" : fixed(1e3 * m, 0) + " mm thick";
  }

 private:
  const Subject& subject_;
  Leaf& leaf_;
  std::map<std::string, Box> boxes_;
};

void put_leg(Map& map, const Leg& leg) {
  const auto both = [&](const char* a, const char* b) { return map.has(a) && map.has(b); };
  if (leg.path == "loom.fuse_box_to_bars" && both("fuse box", "bars")) {
    const Box &a = map.at("bars"), &b = map.at("fuse box");
    map.leg(leg, {{a.right, a.top + 14}, {b.left, a.top + 14}}, {a.right + 4, a.top + 4});
  } else if (leg.path == "loom.fuse_box_to_head" && both("fuse box", "head")) {
    const Box &a = map.at("head"), &b = map.at("fuse box");
    const double x1 = a.left + 20, x2 = b.left + 20, y = a.top - 5;
    map.leg(leg, {{x2, b.top}, {x2, y}, {x1, y}, {x1, a.top}}, {a.right + 4, y - 9});
  } else if (leg.path == "loom.bars_to_head" && both("bars", "head")) {
    const Box &a = map.at("head"), &b = map.at("bars");
    map.leg(leg, {{a.right, a.top + 14}, {b.left, a.top + 14}}, {a.right + 4, a.top + 4});
  } else if (leg.path == "loom.fuse_box_to_tail" && both("fuse box", "tail")) {
    const Box &a = map.at("fuse box"), &b = map.at("tail");
    map.leg(leg, {{a.right, a.top + 14}, {b.left, a.top + 14}}, {a.right + 3, a.top + 4});
  } else if (leg.path == "loom.fuse_box_to_stand" && both("fuse box", "stand")) {
    const Box &a = map.at("fuse box"), &b = map.at("stand");
    const double y = b.top + 8;
    map.leg(leg, {{a.left + 20, a.bottom}, {a.left + 20, y}, {b.right, y}}, {b.left, b.top - 9});
  } else if (leg.path == "loom.converter_to_fuse_box" && both("fuse box", "converter")) {
    const Box &a = map.at("fuse box"), &b = map.at("converter");
    const double x = b.left + 20, y = a.bottom - 6;
    map.leg(leg, {{a.right, y}, {x, y}, {x, b.top}}, {a.right + 4, y + 6.4});
  } else if (leg.path == "loom.fuse_box_to_contactor" && both("fuse box", "power side")) {
    const Box &a = map.at("fuse box"), &b = map.at("power side");
    const double x = a.right - 4;
    map.leg(leg, {{x, a.bottom}, {x, b.top}}, {x + 3, b.top - 18});
  } else if (leg.path == "loom.controller_to_bars" && both("power side", "bars")) {
    const Box &a = map.at("bars"), &b = map.at("power side");
    const double x = a.left + 40, y = b.top + 10;
    map.leg(leg, {{b.left, y}, {x, y}, {x, a.bottom}}, {x + 4, y - 9});
  } else if (leg.path == "wiring.phase_length" && both("power side", "motor")) {
    const Box &a = map.at("motor"), &b = map.at("power side");
    const double y = b.top + 24;
    map.leg(leg, {{b.left, y}, {a.right, y}}, {a.right + 4, y - 9});
  }
}

std::string heading_of(const Leg& leg) {
  if (leg.to.empty())
    return leg.from + ", each " + (std::isnan(leg.length_m) ? "?" : fixed(leg.length_m, 2)) + " m" +
           (leg.assumed ? "*" : "");
  return leg.from + " to " + leg.to + ": " +
         (std::isnan(leg.length_m) ? "?" : fixed(leg.length_m, 2)) + " m" +
         (leg.assumed ? "*" : "") + ", " + std::to_string(leg.cores) + " wires, " +
         Map::shown_mm(leg.bundle_m);
}

}  // namespace

Print loom(const Subject& subject) {
  const Circuit& c = *subject.circuit;
  const auto legs = legs_of(subject);
  const std::string caution =
      "Signal wires keep 100 mm from battery and motor leads and cross them at right angles. The "
      "buffer's plus is live with everything off: its fuse out before a wire of the loom is cut. "
      "Worked out from the build sheet; nobody has looked at the wiring.";
  Leaf leaf{Format::a3, "where it runs", "not to scale", caution, {}};
  const Box area = area_of(Format::a3);
  leaf.parts.push_back(
      text(area.left, area.top + 3.6,
           "Front at the left. Each leg with its letter, its way and how thick the "
           "bundle is; the wires in it stand on the next page. * a usual length: "
           "lay a string.",
           small_mm));
  Map map(subject, leaf);
  for (const Leg& leg : legs) put_leg(map, leg);
  Table table{.columns = {{"leg", 14},
                          {"wire", 26},
                          {"from", 92},
                          {"to", 92},
                          {"mm2", 22, true},
                          {"colour", 50},
                          {"whole way, m", 34, true},
                          {"also in legs", 54}},
              .rows = {}};
  std::string csv = csv_line({"leg", "from_place", "to_place", "leg_m", "leg_assumed", "bundle_mm",
                              "wire", "cores", "section_mm2", "colour"});
  for (const Leg& leg : legs) {
    table.rows.push_back({leg.letter, "", heading_of(leg)});
    table.marks.emplace_back("strong");
    for (const std::size_t w : leg.wires) {
      const Wire& wire = c.wires[w];
      std::vector<std::string> others;
      for (const Leg& other : legs) {
        if (&other != &leg &&
            std::find(other.wires.begin(), other.wires.end(), w) != other.wires.end())
          others.push_back(other.letter);
      }
      const std::string section = section_words(sized(subject, w).section_m2);
      table.rows.push_back({leg.letter,
                            wire.label + (wire.cores > 1 ? " x " + std::to_string(wire.cores) : ""),
                            c.end_text(wire.from), c.end_text(wire.to), section, wire.colour,
                            fixed(wire.length_m, 2), join(others, " ")});
      table.marks.emplace_back();
      csv += csv_line({leg.letter, leg.from, leg.to, fixed(leg.length_m, 2),
                       leg.assumed ? "yes" : "no", fixed(1e3 * leg.bundle_m, 1), wire.label,
                       std::to_string(wire.cores), section, wire.colour});
    }
  }
  std::vector<Leaf> leaves{leaf};
  const auto more = tabled(
      table, {.subtitle = "wires by leg",
              .caution = caution,
              .notes = {"Thickness: 1.2 times the root of the sum of squares over the insulation "
                        "(common practice, no source); sleeve and tape come on top."}});
  leaves.insert(leaves.end(), more.begin(), more.end());
  return {"loom", "12 V loom", framed(subject, "12 V loom", leaves), csv};
}

}  // namespace ww::prints
