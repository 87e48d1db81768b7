// SPDX-License-Identifier: MIT
#include "wiring/circuit.h"

#include <algorithm>
#include <array>

#include "wiring/draft.h"

namespace ww::wiring {

namespace {

template <class Enum, std::size_t n>
std::string_view word_of(const std::array<std::string_view, n>& words, Enum value) {
  return words[static_cast<std::size_t>(value)];
}

/// Which pair of a device's terminals passes current between them: `in` and `out`, `in2` and
/// `out2`; -1: none.
int pole(std::string_view mark) {
  if (mark == "in" || mark == "out") return 0;
  if (mark == "in2" || mark == "out2") return 1;
  return -1;
}

}  // namespace

std::string_view word(Place place) {
  constexpr std::array<std::string_view, 13> words{
      "pack box", "power board", "controller", "motor", "charger", "converter", "fuse box",
      "bars",     "head",        "tail",       "stand", "frame",   "outside"};
  return word_of(words, place);
}

std::string_view word(Presence presence) {
  constexpr std::array<std::string_view, 3> words{"on list", "assumed", "lacking"};
  return word_of(words, presence);
}

std::string_view word(Group group) {
  constexpr std::array<std::string_view, 10> words{
      "traction loop", "motor",      "pre-charge", "charging", "mains", "converter and key supply",
      "12 V",          "interlocks", "signals",    "bonding"};
  return word_of(words, group);
}

std::string_view word(Gap::Kind kind) {
  constexpr std::array<std::string_view, 3> words{"lacking", "unanswered", "mistake"};
  return word_of(words, kind);
}

const Device* Circuit::device(std::string_view id) const {
  const auto at =
      std::find_if(devices.begin(), devices.end(), [&](const Device& d) { return d.id == id; });
  return at == devices.end() ? nullptr : &*at;
}

const Wire* Circuit::wire(std::string_view label) const {
  const auto at =
      std::find_if(wires.begin(), wires.end(), [&](const Wire& w) { return w.label == label; });
  return at == wires.end() ? nullptr : &*at;
}

std::string Circuit::end_text(int terminal) const {
  return device_of(terminal).label + ", " + terminals[static_cast<std::size_t>(terminal)].mark;
}

int terminal_of(const Circuit& circuit, std::string_view end) {
  const auto dot = end.find('.');
  for (std::size_t t = 0; t < circuit.terminals.size(); ++t) {
    if (circuit.terminals[t].mark == end.substr(dot + 1) &&
        circuit.device_of(static_cast<int>(t)).id == end.substr(0, dot))
      return static_cast<int>(t);
  }
  return -1;
}

std::vector<int> reached(const Circuit& circuit, int from, const std::vector<std::string>& stops) {
  const auto stopped = [&](int device) {
    return std::find(stops.begin(), stops.end(),
                     circuit.devices[static_cast<std::size_t>(device)].id) != stops.end();
  };
  std::vector<std::uint8_t> seen(circuit.terminals.size(), 0);
  std::vector<int> open{from};
  const auto visit = [&](int terminal) {
    auto& mark = seen[static_cast<std::size_t>(terminal)];
    if (mark == 0) open.push_back(terminal);
    mark = 1;
  };
  seen[static_cast<std::size_t>(from)] = 1;
  while (!open.empty()) {
    const int at = open.back();
    open.pop_back();
    const auto along = [&](int a, int b) {
      if (a == at) visit(b);
      if (b == at) visit(a);
    };
    for (const Wire& wire : circuit.wires) along(wire.from, wire.to);
    for (const Bar& bar : circuit.bars) along(bar.from, bar.to);
    const Terminal& here = circuit.terminals[static_cast<std::size_t>(at)];
    if (pole(here.mark) < 0 || stopped(here.device)) continue;
    for (std::size_t t = 0; t < circuit.terminals.size(); ++t) {
      const Terminal& other = circuit.terminals[t];
      if (other.device == here.device && pole(other.mark) == pole(here.mark))
        visit(static_cast<int>(t));
    }
  }
  std::vector<int> out;
  for (std::size_t t = 0; t < seen.size(); ++t) {
    if (seen[t] != 0) out.push_back(static_cast<int>(t));
  }
  return out;
}

Circuit circuit(const build::Build& build) {
  Circuit circuit;
  Draft draft(build, circuit);
  draw_traction(draft);
  draw_motor(draft);
  draw_precharge(draft);
  draw_charging(draft);
  draw_converter(draft);
  draw_supply(draft);
  draw_interlocks(draft);
  draw_signals(draft);
  draw_monitor(draft);
  draft.finish();
  find_gaps(draft);
  return circuit;
}

}  // namespace ww::wiring
