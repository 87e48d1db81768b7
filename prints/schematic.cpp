// SPDX-License-Identifier: MIT
// The full schematic: which device stands where on which page. Only places are said here; what is
// joined to what comes from the net list, and what this file does not know of is drawn on a page of
// its own.
#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "prints/ladder.h"

namespace ww::prints {

namespace {

using wiring::Circuit;

constexpr int traction_page = 1, pack_page = 2, supply_page = 3, load_page = 4, loop_page = 5,
              coil_page = 6, signal_page = 7, bond_page = 8;

std::string end_name(const Circuit& c, int terminal) {
  return c.device_of(terminal).id + "." + c.terminals[static_cast<std::size_t>(terminal)].mark;
}

/// The other end of a bar to this one; empty where there is none.
std::string barred_to(const Circuit& c, const std::string& end) {
  const int t = wiring::terminal_of(c, end);
  for (const auto& bar : c.bars) {
    if (bar.from == t) return end_name(c, bar.to);
    if (bar.to == t) return end_name(c, bar.from);
  }
  return {};
}

/// The end of a wire that is not on the device named.
std::string other_end(const Circuit& c, const std::string& label, const std::string& device) {
  const auto* wire = c.wire(label);
  if (wire == nullptr) return {};
  return end_name(c, c.device_of(wire->from).id == device ? wire->to : wire->from);
}

// ---- page 1: what the motor's current flows through

Ladder traction(const Subject& subject) {
  Ladder page(subject, "traction loop, pre-charge, motor", traction_page);
  const bool middle = page.has_end("pack.mid1");
  const int last = middle ? 4 : 2;
  using Pins = std::vector<Pin>;
  page.piece({"pack", Symbol::battery, 0,
              Pins{{"+", Side::right, 0},
                   {"mid1", Side::right, 2},
                   {"mid2", Side::right, 3},
                   {"-", Side::right, last}}});
  page.piece({"fuse", Symbol::fuse, 1, Pins{{"in", Side::left, 0}, {"out", Side::right, 0}}});
  const int at = middle ? 1 : 2, row = middle ? 2 : 0;
  page.piece({"disconnect", Symbol::disconnector, at,
              Pins{{"in", Side::left, row}, {"out", Side::right, row}}});
  page.piece(
      {"second_fuse", Symbol::fuse, 2, Pins{{"in", Side::left, 2}, {"out", Side::right, 2}}});
  const int in = page.piece(
      {"contactor", Symbol::node, 3,
       Pins{{"in", Side::left, 0}, {"", Side::right, 0}, {"in", Side::right, 0}}, "contactor, in"});
  const int contact = page.piece(
      {"contactor", Symbol::contactor, 5, Pins{{"", Side::left, 0}, {"", Side::right, 0}}});
  const int out =
      page.piece({"contactor", Symbol::node, 7,
                  Pins{{"out", Side::right, 0}, {"", Side::left, 0}, {"out", Side::left, 0}},
                  "contactor, out"});
  page.inner(in, contact);
  page.inner(contact, out);
  page.piece(
      {"precharge_fuse", Symbol::fuse, 4, Pins{{"in", Side::left, 1}, {"out", Side::right, 1}}});
  page.piece({"precharge_relay", Symbol::contact, 5,
              Pins{{"in", Side::left, 1}, {"out", Side::right, 1}}});
  page.piece(
      {"precharge", Symbol::resistor, 6, Pins{{"in", Side::left, 1}, {"out", Side::right, 1}}});
  page.piece({"controller", Symbol::inverter, 8,
              Pins{{"B+", Side::left, 0},
                   {"B-", Side::left, last},
                   {"U", Side::right, 0},
                   {"V", Side::right, 1},
                   {"W", Side::right, 2},
                   {"M+", Side::right, 0},
                   {"M-", Side::right, 1}}});
  page.piece({"motor", Symbol::motor, 9,
              Pins{{"U", Side::left, 0},
                   {"V", Side::left, 1},
                   {"W", Side::left, 2},
                   {"M+", Side::left, 0},
                   {"M-", Side::left, 1}}});
  page.piece(
      {"bms", Symbol::block, 3,
       Pins{{"B-", Side::left, last}, {"P-", Side::right, last}, {"C-", Side::right, last + 1}}});
  page.piece(
      {"shunt", Symbol::shunt, 5, Pins{{"out", Side::left, last}, {"in", Side::right, last}}});
  return page;
}

// ---- page 2: what else hangs on the pack

/// The thin branches of the pack, each from a bar through its fuse to minus.
struct Branch {
  const char *fuse, *between, *load, *plus, *minus, *wire_back;
  Symbol middle, symbol;
};

Ladder on_the_pack(const Subject& subject) {
  Ladder page(subject, "charging, converter, key supply", pack_page);
  const Circuit& c = *subject.circuit;
  using Pins = std::vector<Pin>;
  const bool at_lock = page.has_end("key.in2");
  const Branch branches[] = {
      {"charge_fuse", "", "charger", "+", "-", "C2", Symbol::contact, Symbol::block},
      {"logic_fuse", at_lock ? "key" : "key_relay", "controller", "KEY", "", "", Symbol::contact,
       Symbol::block},
      {"heater_fuse", "", "heater", "+", "-", "D7", Symbol::contact, Symbol::heater},
      {"dcdc_fuse", "dcdc_switch", "dcdc", "in+", "in-", "D3", Symbol::contact, Symbol::converter},
      {"display_fuse", "", "display", "+", "-", "D9", Symbol::contact, Symbol::block}};
  int row = 0;
  std::map<std::string, std::vector<std::pair<std::string, int>>> rails, backs;
  // Branches of one bar one below the other.
  std::vector<std::pair<std::string, const Branch*>> order;
  for (const Branch& b : branches) {
    if (page.has(b.fuse)) order.emplace_back(barred_to(c, std::string(b.fuse) + ".in"), &b);
  }
  std::stable_sort(order.begin(), order.end(), [](const auto& a, const auto& b) {
    return (a.first == "contactor.in") > (b.first == "contactor.in");
  });
  for (const auto& [source, branch] : order) {
    const Branch& b = *branch;
    const std::string fuse(b.fuse), load(b.load);
    page.piece({fuse, Symbol::fuse, 1, Pins{{"in", Side::left, row}, {"out", Side::right, row}}});
    if (!source.empty()) rails[source].emplace_back("=" + fuse + ".in", row);
    const bool second = std::string_view(b.between) == "key";
    if (b.between[0] != '\0')
      page.piece({b.between, b.middle, 2,
                  Pins{{second ? "in2" : "in", Side::left, row},
                       {second ? "out2" : "out", Side::right, row}}});
    if (load == "charger") {
      page.piece({load, Symbol::rectifier, 3,
                  Pins{{"+", Side::left, row},
                       {"-", Side::right, row},
                       {"L N", Side::left, row + 1},
                       {"PE", Side::left, row + 2}}});
      page.piece({"inlet", Symbol::socket, 2,
                  Pins{{"L N", Side::right, row + 1}, {"PE", Side::right, row + 2}}});
    } else {
      page.piece({load, b.symbol, 3, Pins{{b.plus, Side::left, row}, {b.minus, Side::right, row}}});
    }
    const std::string back = other_end(c, b.wire_back, load);
    if (!back.empty()) backs[back].emplace_back(b.wire_back, row);
    row += load == "charger" ? 3 : 1;
  }
  for (const auto& [end, wires] : rails) page.reference({end, Side::right, 0, wires});
  // Where one minus rail would pass behind another, the lesser one stands a column further in.
  const std::string charge_back = other_end(c, "C2", "charger");
  for (const auto& [end, wires] : backs) {
    const bool alone = backs.size() > 1 && end == charge_back;
    page.reference({end, Side::left, alone ? 4 : 5, wires});
  }
  return page;
}

// ---- page 3: 12 V up to the fuses

std::vector<Pin> through(int row) {
  return {{"in", Side::left, row}, {"out", Side::right, row}};
}
std::vector<Pin> across(int row) {
  return {{"+", Side::left, row}, {"-", Side::right, row}};
}

Ladder supply(const Subject& subject) {
  Ladder page(subject, "12 V supply, fuse box", supply_page);
  using Pins = std::vector<Pin>;
  // Rows: what hangs on the keyed bar, then horn and loop; the two sources' minus at the bottom.
  constexpr int tail = 1, indicators = 2, others = 3, horn = 4, loop = 5, low = 6;
  page.piece(
      {"dcdc", Symbol::converter, 0, Pins{{"out+", Side::right, 0}, {"out-", Side::right, 1}}});
  page.piece(
      {"buffer", Symbol::battery, 0, Pins{{"+", Side::right, others}, {"-", Side::right, horn}}});
  page.piece({"buffer_fuse", Symbol::fuse, 1, through(others)});
  page.piece({"fuse_box", Symbol::rail, 2,
              Pins{{"bus", Side::left, 0, "L1"},
                   {"bus", Side::left, others, "L4"},
                   {"bus", Side::right, 0},
                   {"bus", Side::right, horn},
                   {"bus", Side::right, loop}},
              "fuse box, bus"});
  page.piece({"lamp_relay", Symbol::contact, 3, through(0)});
  page.piece({"fuse_box", Symbol::rail, 4,
              Pins{{"keyed", Side::left, 0, "=lamp_relay.out"},
                   {"keyed", Side::right, 0},
                   {"keyed", Side::right, tail},
                   {"keyed", Side::right, indicators},
                   {"keyed", Side::right, others}},
              "fuse box, with key"});
  const std::pair<const char*, int> fuses[] = {
      {"fuse_head", 0},       {"fuse_tail", tail}, {"fuse_indicators", indicators},
      {"fuse_other", others}, {"fuse_horn", horn}, {"fuse_loop", loop}};
  for (const auto& [fuse, row] : fuses) page.piece({fuse, Symbol::fuse, 5, through(row)});
  page.piece({"minus_point", Symbol::rail, 5,
              Pins{{"bar", Side::left, low, "L5"}, {"bar", Side::left, low + 1, "L2"}}});
  return page;
}

// ---- page 4: from the fuses to the loads

Ladder loads(const Subject& subject) {
  Ladder page(subject, "12 V loads", load_page);
  using Pins = std::vector<Pin>;
  const int tail = 1, stop = 2, indicators = page.has("stop_relay") ? 5 : 4,
            others = indicators + 1, horn = others + 1;
  page.reference({"fuse_head.out", Side::right, 0, {{"L10", 0}}});
  page.piece({"light_switch", Symbol::push, 1, through(0)});
  page.piece({"head", Symbol::lamp, 3, across(0)});
  std::vector<std::pair<std::string, int>> tails{{"L20", tail}, {"L22", stop}, {"L24", stop + 1}};
  if (page.has("stop_relay")) tails.emplace_back("L26", stop + 2);
  page.reference({"fuse_tail.out", Side::right, 0, tails});
  page.piece({"brake_front", Symbol::push, 1, through(stop)});
  page.piece({"brake_rear", Symbol::push, 1, through(stop + 1)});
  page.piece({"stop_relay", Symbol::contact, 1, through(stop + 2)});
  Pins lamp{{"+", Side::left, tail},
            {"stop", Side::left, stop, "L23"},
            {"stop", Side::left, stop + 1, "L25"},
            {"-", Side::right, tail}};
  if (page.has("stop_relay")) lamp.push_back({"stop", Side::left, stop + 2, "L27"});
  page.piece({"tail", Symbol::block, 3, lamp, "rear and stop lamp"});
  page.reference({"fuse_indicators.out", Side::right, 0, {{"L30", indicators}}});
  page.piece({"flasher", Symbol::flasher, 1, through(indicators)});
  page.piece({"indicator_switch", Symbol::push, 2, through(indicators)});
  page.piece({"indicators", Symbol::lamp, 3, across(indicators)});
  page.reference({"fuse_other.out", Side::right, 0, {{"L50", others}}});
  page.piece({"others", Symbol::block, 3, across(others)});
  page.reference({"fuse_horn.out", Side::right, 0, {{"L40", horn}}});
  page.piece({"horn_button", Symbol::push, 1, through(horn)});
  page.piece({"horn", Symbol::horn, 3, across(horn)});
  page.reference(
      {"minus_point.bar",
       Side::left,
       4,
       {{"L12", 0}, {"L21", tail}, {"L33", indicators}, {"L51", others}, {"L42", horn}}});
  return page;
}

// ---- page 5: the loop that every interlock opens

Ladder loop(const Subject& subject) {
  Ladder page(subject, "interlock loop", loop_page);
  using Pins = std::vector<Pin>;
  page.reference({"fuse_loop.out", Side::right, 0, {{"K1", 0}}});
  int column = 0;
  for (const char* lock : {"key", "kill", "stand_switch", "tilt", "inlet_switch", "lid", "bms"}) {
    if (!page.has_end(std::string(lock) + ".in")) continue;
    const bool by_hand = std::string_view(lock) == "key" || std::string_view(lock) == "kill";
    page.piece({lock, by_hand ? Symbol::push : Symbol::contact, ++column, through(0)});
  }
  page.reference({"contactor.coil+", Side::left, column + 1, {{"K8", 0}}});
  page.piece({"controller", Symbol::block, 1,
              Pins{{"enable", Side::right, 1}, {"signal ground", Side::right, 2}},
              "controller, enable"});
  page.piece({"kill", Symbol::push, 3, Pins{{"in2", Side::left, 1}, {"out2", Side::right, 1}},
              "kill switch, second contact"});
  return page;
}

// ---- page 6: the coils that the loop feeds

Ladder coils(const Subject& subject) {
  Ladder page(subject, "coils of contactor and relays", coil_page);
  using Pins = std::vector<Pin>;
  const int node = page.piece({"contactor", Symbol::node, 0,
                               Pins{{"coil+", Side::right, 0}, {"", Side::right, 0}},
                               "end of the interlock loop (coil+)"});
  const int coil =
      page.piece({"contactor", Symbol::coil, 1,
                  Pins{{"", Side::left, 0}, {"coil-", Side::right, 0}}, "main contactor, coil"});
  page.inner(node, coil);
  const auto relay = [&](const char* device, const char* name, int row) {
    page.piece({device, Symbol::coil, 1,
                Pins{{"coil+", Side::left, row}, {"coil-", Side::right, row}}, name});
  };
  const bool starter = page.has("starter");
  const int lamp = starter ? 3 : 2, key = lamp + 1;
  relay("precharge_relay", "pre-charge relay, coil", 1);
  page.piece({starter ? "starter" : "controller", Symbol::block, 2,
              Pins{{"COIL", Side::left, 0},
                   {"PRE", Side::left, 1},
                   {"+", Side::left, 2},
                   {"-", Side::right, 0}},
              starter ? "" : "controller, outputs"});
  page.reference({"key.out", Side::right, 0, {{"K12", lamp}}});
  relay("lamp_relay", "lamp relay, coil", lamp);
  std::vector<std::pair<std::string, int>> back;
  if (starter) back.emplace_back("K19", 0);
  back.emplace_back("K13", lamp);
  if (page.has("key_relay")) {
    page.reference(
        {other_end(*subject.circuit, "K14", "key_relay"), Side::right, 0, {{"K14", key}}});
    relay("key_relay", "key relay, coil", key);
    back.emplace_back("K15", key);
  }
  page.reference({"minus_point.bar", Side::left, 3, back});
  return page;
}

// ---- page 7: signals and cell monitor

Ladder signals(const Subject& subject) {
  Ladder page(subject, "signals, cell monitor", signal_page);
  using Pins = std::vector<Pin>;
  int row = 0;
  Pins controller;
  const auto source = [&](const char* device, Symbol symbol, const char* mark, const char* into,
                          const std::string& name) {
    if (!page.has_end(std::string(device) + "." + mark)) return;
    page.piece({device, symbol, 2, Pins{{mark, Side::right, row}}, name});
    controller.push_back({into, Side::left, row});
    ++row;
  };
  source("throttle", Symbol::block, "lead", "throttle", "");
  source("motor", Symbol::block, "sensor", "sensor", "motor, position sensor");
  source("motor", Symbol::block, "temperature", "temperature", "motor, winding probe");
  source("brake_front", Symbol::block, "signal", "brake", "front brake switch, signal");
  const int monitor = row;
  if (page.has_end("bms.warning")) controller.push_back({"reduce", Side::left, row++});
  controller.push_back({"stop lamp", Side::right, 0});
  const int charge = std::max(row++, monitor);
  page.piece({"controller", Symbol::block, 3, controller, "controller, signals"});
  page.piece(
      {"stop_relay", Symbol::coil, 4, Pins{{"coil", Side::left, 0}}, "stop-lamp relay, coil"});
  const int probes = std::max(charge, monitor + 1);
  page.piece({"bms", Symbol::block, 2,
              Pins{{"taps", Side::left, monitor},
                   {"probes", Side::left, probes},
                   {"warning", Side::right, monitor},
                   {"charge enable", Side::right, charge}}});
  page.piece(
      {"charger", Symbol::block, 3, Pins{{"enable", Side::left, charge}}, "charger, enable"});
  // The fuses sit on the taps; the list gives them no ends of their own.
  const int taps =
      page.piece({"pack", Symbol::block, 0, Pins{{"", Side::right, monitor}}, "pack, sense taps"});
  const int fuses =
      page.piece({"sense_fuses", Symbol::fuse, 1,
                  Pins{{"", Side::left, monitor}, {"", Side::right, monitor, "", "pack.taps"}}});
  page.inner(taps, fuses);
  page.piece({"probes", Symbol::probe, 0, Pins{{"pair", Side::right, probes}}});
  row = std::max(charge, probes) + 1;
  page.piece(
      {"shunt", Symbol::block, 2, Pins{{"sense", Side::right, row}}, "current shunt, sense"});
  page.piece(
      {"others", Symbol::block, 3, Pins{{"shunt", Side::left, row}}, "display, shunt input"});
  return page;
}

// ---- page 8: bonds

Ladder bonds(const Subject& subject) {
  Ladder page(subject, "bonding", bond_page);
  using Pins = std::vector<Pin>;
  page.reference({"charger.PE", Side::right, 0, {{"E2", 0}}});
  page.reference({"minus_point.bar", Side::right, 0, {{"E3", 1}}});
  page.piece({"frame", Symbol::earth, 1,
              Pins{{"earth", Side::left, 0, "E2"},
                   {"earth", Side::left, 1, "E3"},
                   {"earth", Side::right, 0, "E4"},
                   {"earth", Side::right, 1, "E5"}},
              "frame (earth)"});
  page.piece({"controller", Symbol::block, 2, Pins{{"case", Side::left, 0}}, "controller, case"});
  page.piece({"pack", Symbol::block, 2, Pins{{"case", Side::left, 1}}, "pack, case"});
  return page;
}

/// What no page has: each wire in a row of its own, each device without a wire by itself.
std::vector<Ladder> leftovers(const Subject& subject, const std::vector<std::uint8_t>& drawn,
                              const std::vector<std::uint8_t>& drawn_bars,
                              const std::vector<std::string>& placed, int page) {
  std::vector<Ladder> out;
  const Circuit& c = *subject.circuit;
  int row = 0;
  constexpr int rows_of_a_page = 9;
  const auto next = [&]() -> Ladder& {
    if (row == 0 || row == rows_of_a_page) {
      out.emplace_back(subject, "other wires", page++);
      row = 0;
    }
    ++row;
    return out.back();
  };
  for (std::size_t w = 0; w < c.wires.size(); ++w) {
    if (drawn[w] != 0) continue;
    const auto& wire = c.wires[w];
    Ladder& ladder = next();
    ladder.reference({end_name(c, wire.from), Side::right, 0, {{wire.label, row - 1}}});
    ladder.reference({end_name(c, wire.to), Side::left, 1, {{wire.label, row - 1}}});
  }
  for (std::size_t b = 0; b < c.bars.size(); ++b) {
    if (drawn_bars[b] != 0) continue;
    const std::string from = end_name(c, c.bars[b].from), to = end_name(c, c.bars[b].to);
    Ladder& ladder = next();
    ladder.reference({from, Side::right, 0, {{"=" + to, row - 1}}});
    ladder.reference({to, Side::left, 1, {{"=" + from, row - 1}}});
  }
  for (const auto& device : c.devices) {
    if (std::find(placed.begin(), placed.end(), device.id) != placed.end()) continue;
    Ladder& ladder = next();
    ladder.piece(
        {.device = device.id, .symbol = Symbol::block, .column = 0, .pins = {}, .row = row - 1});
  }
  return out;
}

std::string caution_of(const Subject& subject, int page) {
  const std::string over = dangerous(subject) ? "Over 60 V, or not known: it can kill. " : "";
  switch (page) {
    case traction_page:
    case pack_page:
      return over +
             "The pack cannot be switched off. Worked out from the build sheet; nobody has looked "
             "at "
             "the wiring. A contactor that is off is no proof that anything is dead: measure below "
             "10 V first. Mains (M) only by a competent person, by local code.";
    case supply_page:
    case load_page:
      return "12 V does not shock, but the buffer gives hundreds of amps into a ring or a watch. "
             "Worked out from the build sheet; nobody has looked at the wiring.";
    case loop_page:
    case coil_page:
      return "What opens here must stop the bike: test every contact singly, wheel off the ground, "
             "before the pack is joined. Worked out from the build sheet; nobody has looked at the "
             "wiring.";
    case signal_page:
      return "Every sense lead is live at its cell and the row adds up to the whole pack. A broken "
             "throttle wire must mean no torque: pull each in turn, wheel off the ground.";
    default:
      return "A bond that is paint-deep is none: bare metal, below 0.1 ohm. The pack's minus is "
             "never tied to the frame.";
  }
}

}  // namespace

Print schematic(const Subject& subject) {
  const Circuit& c = *subject.circuit;
  std::vector<Ladder> pages;
  for (const auto make :
       {&traction, &on_the_pack, &supply, &loads, &loop, &coils, &signals, &bonds})
    pages.push_back(make(subject));
  std::vector<std::uint8_t> wires(c.wires.size(), 0), bars(c.bars.size(), 0);
  for (Ladder& page : pages) page.join(wires, bars);
  std::vector<std::string> placed;
  for (const Ladder& page : pages) {
    for (const auto& device : page.devices()) placed.push_back(device);
  }
  for (Ladder& page : leftovers(subject, wires, bars, placed, static_cast<int>(pages.size()) + 1)) {
    page.join(wires, bars);
    pages.push_back(std::move(page));
  }
  Ladder::Elsewhere elsewhere;
  for (const Ladder& page : pages) {
    for (const auto& device : page.devices()) {
      elsewhere.home.emplace(device, page.page());
      elsewhere.pages[device].insert(page.page());
    }
    for (const int terminal : page.terminals())
      elsewhere.page_of_terminal.emplace(terminal, page.page());
    for (const auto& [terminal, wire] : page.references())
      elsewhere.crossings[terminal].push_back({page.page(), wire});
  }
  std::vector<Leaf> leaves;
  for (Ladder& page : pages) {
    leaves.push_back(page.leaf(elsewhere));
    leaves.back().caution = caution_of(subject, page.page());
  }
  std::string csv =
      csv_line({"wire", "cores", "from", "to", "section_mm2", "colour", "group", "fuse", "net"});
  for (std::size_t w = 0; w < c.wires.size(); ++w) {
    const auto& wire = c.wires[w];
    csv += csv_line({wire.label, std::to_string(wire.cores), c.end_text(wire.from),
                     c.end_text(wire.to),
                     section_words(subject.sizing->wire(static_cast<int>(w))->section_m2),
                     wire.colour, std::string(word(wire.group)), wire.fuse,
                     c.nets[static_cast<std::size_t>(wire.net)].name});
  }
  Table gaps{.columns = {{"", 26}, {"what", 130}, {"what it leads to", 114}, {"what to do", 114}},
             .rows = {}};
  for (const auto& gap : c.gaps)
    gaps.rows.push_back({std::string(word(gap.kind)), gap.what, gap.because, gap.way_out});
  if (!gaps.rows.empty()) {
    const auto more = tabled(gaps, {.subtitle = "lacking or joined wrongly",
                                    .caution = caution_of(subject, traction_page)});
    leaves.insert(leaves.end(), more.begin(), more.end());
  }
  return {"schematic", "Schematic", framed(subject, "Schematic", leaves), csv};
}

}  // namespace ww::prints
