// SPDX-License-Identifier: MIT
// The cut list and what it rests on.
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>

#include "base/text.h"
#include "model/wire.h"
#include "prints/figures.h"
#include "prints/paper.h"
#include "wiring/readings.h"
#include "wiring/stud.h"

namespace ww::prints {

using wiring::Carries;
using wiring::Wire;

namespace {

bool heavy(const Wire& wire) {
  return wire.carries == Carries::traction || wire.carries == Carries::phase;
}

constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

}  // namespace

double outer_diameter_m(const Subject& subject, const Wire& wire, double section_m2) {
  if (heavy(wire)) {
    const wiring::Readings sheet(*subject.build);
    const std::string slot = wire.carries == Carries::traction ? "cable_main" : "cable_phase";
    const double listed = sheet.ask(slot + ".outer_diameter");
    if (section_m2 == sheet.ask(slot + ".section") && listed > 0) return listed;
  }
  return model::strand_diameter_m(section_m2, 0.6) + 2 * (heavy(wire) ? 1.6e-3 : 0.4e-3);
}

double cut_length_m(double length_m) {
  return std::ceil(100 * (1.05 * length_m + 0.05) - 1e-9) / 100;
}

ShrinkTube shrink_tube(double section_m2, double outer_m) {
  constexpr std::array<ShrinkTube, 8> tubes{{{3.2, 1},
                                             {4.8, 1.6},
                                             {6.4, 2.1},
                                             {9.5, 3.2},
                                             {12.7, 4.2},
                                             {19.1, 6.4},
                                             {25.4, 8.5},
                                             {39, 13}}};
  // It is pushed over the barrel, a fifth thicker than the cable, and must close on the cable.
  const double over_mm = 1e3 * outer_m * (section_m2 >= 6e-6 ? 1.2 : 1.05);
  for (const ShrinkTube& tube : tubes) {
    if (tube.before_mm > over_mm + 0.5 && tube.after_mm < 1e3 * outer_m) return tube;
  }
  return {0, 0};
}

const wiring::SizedWire& sized(const Subject& subject, std::size_t wire) {
  return *subject.sizing->wire(static_cast<int>(wire));
}

std::string digest_of(const wiring::Circuit& circuit, const wiring::Sizing& sizing) {
  std::uint64_t sum = 14695981039346656037ULL;  // FNV-1a, 64 bits
  const auto take = [&](const std::string& words) {
    for (const char c : words + "\n") {
      sum ^= static_cast<unsigned char>(c);
      sum *= 1099511628211ULL;
    }
  };
  for (const auto& device : circuit.devices)
    take(device.id + "|" + std::string(word(device.presence)));
  for (std::size_t i = 0; i < circuit.wires.size(); ++i) {
    const Wire& wire = circuit.wires[i];
    const auto* size = sizing.wire(static_cast<int>(i));
    take(wire.label + "|" + circuit.end_text(wire.from) + "|" + circuit.end_text(wire.to) + "|" +
         std::to_string(wire.cores) + "|" + wire.colour + "|" + shortest(wire.length_m) + "|" +
         shortest(size == nullptr ? 0 : size->section_m2));
  }
  std::string out;
  for (int i = 15; i >= 4; --i) out += "0123456789abcdef"[(sum >> (4 * i)) & 15U];
  return out;
}

// ---- cut list

namespace {

/// Hexagonal die by the barrel: numbers of DIN 46235, from memory.
std::string die_words(double barrel_m2) {
  constexpr std::array<std::pair<double, int>, 10> dies{{{6, 5},
                                                         {10, 6},
                                                         {16, 8},
                                                         {25, 10},
                                                         {35, 12},
                                                         {50, 14},
                                                         {70, 16},
                                                         {95, 18},
                                                         {120, 20},
                                                         {150, 22}}};
  if (std::isnan(barrel_m2)) return "open barrel";
  for (const auto& [section, number] : dies) {
    if (std::abs(1e6 * barrel_m2 - section) < 0.01)
      return "hexagon " + section_words(barrel_m2) + ", no. " + std::to_string(number);
  }
  return "hexagon " + section_words(barrel_m2);
}

std::string lug_words(const wiring::LugEnd& lug) {
  if (std::isnan(lug.barrel_m2)) return "small terminal";
  const bool stud = lug.stud != build::Stud::unknown && lug.stud != build::Stud::weld;
  return section_words(lug.barrel_m2) + " x " +
         (stud ? std::string(wiring::word(lug.stud)) : "? measure stud");
}

std::string torque_words(const wiring::LugEnd& lug) {
  if (std::isnan(lug.torque_low_Nm)) return "-";
  return fixed(lug.torque_low_Nm, 1) + " to " + fixed(lug.torque_high_Nm, 1);
}

std::string sleeve_words(const Subject& subject, const Wire& wire, double section_m2) {
  const ShrinkTube tube = shrink_tube(section_m2, outer_diameter_m(subject, wire, section_m2));
  std::string out =
      tube.before_mm > 0 ? fixed(tube.before_mm, 1) + " / " + fixed(tube.after_mm, 1) : "?";
  const wiring::Readings sheet(*subject.build);
  if (!heavy(wire)) return out;
  if (sheet.is("loom.sleeve", build::Sleeve::braid)) out += ", in braid";
  if (sheet.is("loom.sleeve", build::Sleeve::conduit)) out += ", in conduit";
  return out;
}

/// In the order of cutting.
std::vector<std::size_t> cutting_order(const Subject& subject) {
  const auto& wires = subject.circuit->wires;
  std::vector<std::size_t> order(wires.size());
  std::iota(order.begin(), order.end(), 0U);
  const auto section = [&](std::size_t i) {
    const double s = sized(subject, i).section_m2;
    return std::isnan(s) ? -1 : s;
  };
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    if (section(a) != section(b)) return section(a) > section(b);
    return wires[a].length_m > wires[b].length_m;
  });
  return order;
}

std::string metres(double length_m) {
  return std::isnan(length_m) ? "?" : fixed(length_m, 2);
}

}  // namespace

Print cut_list(const Subject& subject) {
  Table table{.columns = {{"wire", 21},
                          {"from", 55},
                          {"to", 55},
                          {"way, m", 18, true},
                          {"cut, m", 18, true},
                          {"mm2", 15, true},
                          {"colour", 33},
                          {"lug at from, mm2", 33},
                          {"lug at to, mm2", 33},
                          {"crimp die", 38},
                          {"shrink tube, mm", 33},
                          {"torque, Nm, from; to", 32}},
              .rows = {}};
  std::string csv = csv_line({"wire",
                              "cores",
                              "from",
                              "to",
                              "way_m",
                              "way_assumed",
                              "cut_m",
                              "section_mm2",
                              "colour",
                              "colour_letters",
                              "lug_from_barrel_mm2",
                              "lug_from_stud",
                              "lug_to_barrel_mm2",
                              "lug_to_stud",
                              "crimp_die",
                              "shrink_before_mm",
                              "shrink_after_mm",
                              "torque_from_Nm",
                              "torque_to_Nm",
                              "caution"});
  std::map<std::pair<double, std::string>, double> sums;
  for (const std::size_t i : cutting_order(subject)) {
    const Wire& wire = subject.circuit->wires[i];
    const auto& size = sized(subject, i);
    const bool mains = wire.carries == Carries::mains;
    const double cut = cut_length_m(wire.length_m);
    const std::string letters = colour_letters(wire.colour);
    const std::string torque = torque_words(size.from_end) == torque_words(size.to_end)
                                   ? torque_words(size.from_end)
                                   : torque_words(size.from_end) + "; " + torque_words(size.to_end);
    const std::string die = mains ? "by local code" : die_words(size.from_end.barrel_m2);
    table.rows.push_back({wire.label + (wire.cores > 1 ? " x " + std::to_string(wire.cores) : ""),
                          subject.circuit->end_text(wire.from), subject.circuit->end_text(wire.to),
                          metres(wire.length_m) + (wire.length_assumed ? "*" : ""), metres(cut),
                          section_words(size.section_m2), wire.colour,
                          mains ? "by local code" : lug_words(size.from_end),
                          mains ? "by local code" : lug_words(size.to_end), die,
                          sleeve_words(subject, wire, size.section_m2), torque});
    const ShrinkTube tube =
        shrink_tube(size.section_m2, outer_diameter_m(subject, wire, size.section_m2));
    csv += csv_line({wire.label,
                     std::to_string(wire.cores),
                     subject.circuit->end_text(wire.from),
                     subject.circuit->end_text(wire.to),
                     metres(wire.length_m),
                     wire.length_assumed ? "yes" : "no",
                     metres(cut),
                     section_words(size.section_m2),
                     wire.colour,
                     letters,
                     section_words(size.from_end.barrel_m2),
                     std::string(wiring::word(size.from_end.stud)),
                     section_words(size.to_end.barrel_m2),
                     std::string(wiring::word(size.to_end.stud)),
                     die,
                     shortest(tube.before_mm),
                     shortest(tube.after_mm),
                     torque_words(size.from_end),
                     torque_words(size.to_end),
                     size.caution});
    sums[{std::isnan(size.section_m2) ? 0 : -size.section_m2, letters}] += wire.cores * cut;
  }
  Table buy{.columns = {{"section, mm2", 40, true},
                        {"colour (IEC 60757)", 60},
                        {"sum of the cut list, m", 60, true},
                        {"to buy, m", 40, true}},
            .rows = {}};
  csv += "\n" + csv_line({"section_mm2", "colour_letters", "sum_m", "buy_m"});
  for (const auto& [key, sum] : sums) {
    const std::string section = key.first == 0 ? "?" : section_words(-key.first);
    // A tenth more, up to the half metre: a wire cut short is a wire lost.
    const double more = std::ceil(2.2 * sum - 1e-9) / 2;
    buy.rows.push_back({section, key.second, metres(sum), fixed(more, 1)});
    csv += csv_line({section, key.second, metres(sum), fixed(more, 1)});
  }
  const std::string caution =
      std::string("Cut and crimp with nothing joined to the pack. ") +
      (dangerous(subject) ? "The full pack is over 60 V, or its voltage is not known: it can kill. "
                          : "") +
      "Pull every crimp by hand; saw a trial one open. Mains (M) only by a competent person.";
  auto leaves = tabled(
      table,
      {.subtitle = "wires",
       .caution = caution,
       .notes = {"Cut: the way, a twentieth more and 50 mm for both ends, up to the next "
                 "centimetre. * a usual length: lay a string before you cut. x n: so many wires "
                 "alike. Die: hexagon by the barrel's mm2, with the number of DIN 46235 (from "
                 "memory; the lug maker's die goes first). Shrink tube: bore before and after. "
                 "Torque: from memory, the maker's figure goes first."}});
  const auto more = tabled(buy, {.subtitle = "wire to buy",
                                 .caution = caution,
                                 .notes = {"A tenth more than the sum, up to the half metre. ?: "
                                           "section not known yet. Cords of the mains side are "
                                           "the charger's own."}});
  leaves.insert(leaves.end(), more.begin(), more.end());
  return {"cut-list", "Cable cut list", framed(subject, "Cable cut list", leaves), csv};
}

}  // namespace ww::prints
