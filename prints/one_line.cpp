// SPDX-License-Identifier: MIT
// The traction loop on one line, both conductors drawn as one, with the ratings under each symbol;
// below it what charges the pack and what it feeds 12 V with.
#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "prints/paper.h"
#include "prints/symbols.h"
#include "wiring/readings.h"

namespace ww::prints {

using draw::Anchor;
using draw::Box;
using figure::Kind;
using wiring::Circuit;

namespace {

constexpr double letters = 4.2, step = 5.4;

struct Item {
  std::string device, name;
  Symbol symbol;
  std::vector<std::string> facts;
};

/// Says numbers of the sheet in words; what is not known is a question mark.
class Ratings {
 public:
  explicit Ratings(const Subject& subject) : subject_(subject), sheet_(*subject.build) {}

  std::string value(std::string_view path, Kind kind) const {
    return shown(sheet_.ask(path), kind, subject_.units);
  }
  std::string count(std::string_view path) const {
    const double n = sheet_.ask(path);
    return std::isnan(n) ? "?" : fixed(n, 0);
  }
  std::vector<std::string> pack() const {
    const double series = sheet_.ask("pack.series"), parallel = sheet_.ask("pack.parallel");
    const double nominal = series * sheet_.ask("cell.voltage_nominal");
    return {count("pack.series") + " in series, " + count("pack.parallel") + " parallel",
            shown(series * sheet_.ask("cell.voltage_min"), Kind::voltage) + " empty",
            shown(nominal, Kind::voltage) + " nominal",
            shown(series * sheet_.ask("cell.voltage_max"), Kind::voltage) + " full",
            shown(nominal * parallel * sheet_.ask("cell.capacity"), Kind::energy)};
  }
  /// Of a fuse: its rating, and what a fuse must be made for here.
  std::vector<std::string> fuse(const std::string& id) const {
    const auto* sized = subject_.sizing->fuse(id);
    if (sized == nullptr) return {"?"};
    std::vector<std::string> out{shown(sized->rating_A, Kind::current)};
    if (std::isfinite(sized->voltage_V) && sized->voltage_V > 32) {
      out.push_back("for " + shown(sized->voltage_V, Kind::voltage) + " DC or more");
      out.push_back("must break " + shown(sized->interrupt_A, Kind::current));
    }
    return out;
  }

 private:
  const Subject& subject_;
  wiring::Readings sheet_;
};

std::vector<Item> loop_items(const Subject& subject) {
  const Circuit& c = *subject.circuit;
  const Ratings say(subject);
  const bool middle = wiring::terminal_of(c, "pack.mid1") >= 0;
  std::vector<Item> out{{"pack", "pack", Symbol::battery, say.pack()}};
  const Item disconnect{"disconnect",
                        "service disconnect",
                        Symbol::disconnector,
                        {say.value("disconnect.current", Kind::current),
                         say.value("disconnect.voltage", Kind::voltage),
                         middle ? "between the pack's halves" : "by hand"}};
  if (wiring::terminal_of(c, "bms.P-") >= 0)
    out.push_back({"bms",
                   "cell monitor",
                   Symbol::block,
                   {say.value("bms.current_continuous", Kind::current), "in the minus lead"}});
  if (c.device("shunt") != nullptr)
    out.push_back({"shunt",
                   "current shunt",
                   Symbol::shunt,
                   {say.value("display.shunt_current", Kind::current), "in the minus lead"}});
  if (middle) out.push_back(disconnect);
  if (c.device("second_fuse") != nullptr) {
    auto facts = say.fuse("second_fuse");
    facts.emplace_back("between the pack's halves");
    out.push_back({"second_fuse", "second fuse", Symbol::fuse, facts});
  }
  out.push_back({"fuse", "main fuse", Symbol::fuse, say.fuse("fuse")});
  if (!middle) out.push_back(disconnect);
  out.push_back({"contactor",
                 "main contactor",
                 Symbol::contactor,
                 {"carries " + say.value("contactor.current_carry", Kind::current),
                  "breaks " + say.value("contactor.current_break", Kind::current),
                  say.value("contactor.voltage_max", Kind::voltage),
                  "pre-charge " + say.value("precharge.resistance", Kind::resistance)}});
  out.push_back({"controller",
                 "controller",
                 Symbol::inverter,
                 {say.value("controller.voltage_min", Kind::voltage) + " to " +
                      say.value("controller.voltage_max", Kind::voltage),
                  "battery " + say.value("controller.current_battery", Kind::current),
                  "motor " + say.value("controller.current_phase", Kind::current) + " peak"}});
  out.push_back({"motor",
                 "motor",
                 Symbol::motor,
                 {say.value("motor.power_continuous", Kind::power) + " lasting",
                  say.value("motor.power_peak", Kind::power) + " peak"}});
  return out;
}

/// Branches from left to right; the last one is nearest to the pack.
std::vector<Item> charging_items(const Subject& subject) {
  const Ratings say(subject);
  return {
      {"inlet", "charging inlet", Symbol::socket, {"mains, by local code"}},
      {"charger",
       "charger",
       Symbol::rectifier,
       {say.value("charger.voltage", Kind::voltage), say.value("charger.current", Kind::current)}},
      {"charge_fuse", "charge fuse", Symbol::fuse, say.fuse("charge_fuse")}};
}

std::vector<Item> converter_items(const Subject& subject) {
  const Ratings say(subject);
  std::vector<Item> out{{"buffer", "buffer", Symbol::battery, {"12 V side"}},
                        {"dcdc",
                         "12 V converter",
                         Symbol::converter,
                         {say.value("dcdc.voltage_out", Kind::voltage),
                          say.value("dcdc.current_out", Kind::current)}}};
  if (subject.circuit->device("dcdc_switch") != nullptr)
    out.push_back({"dcdc_switch", "converter switch", Symbol::contact, {}});
  out.push_back({"dcdc_fuse", "converter fuse", Symbol::fuse, say.fuse("dcdc_fuse")});
  return out;
}

/// The labels of the wires that join two devices.
std::string labels_between(const Circuit& c, const std::string& a, const std::string& b) {
  std::vector<std::string> out;
  for (const auto& wire : c.wires) {
    const auto& from = c.device_of(wire.from).id;
    const auto& to = c.device_of(wire.to).id;
    const bool power = wire.group != wiring::Group::signal && wire.group != wiring::Group::bond &&
                       wire.group != wiring::Group::interlock;
    if (power && ((from == a && to == b) || (from == b && to == a))) out.push_back(wire.label);
  }
  return join(out, " ");
}

class Sheet {
 public:
  Sheet(const Subject& subject, Leaf& leaf) : subject_(subject), leaf_(leaf) {}

  /// A symbol with its name above and its ratings below, no wider than `width`. Gives how far its
  /// symbol reaches to either side.
  double item(const Item& item, double x, double y, double width) {
    const auto* device = subject_.circuit->device(item.device);
    const auto presence = device == nullptr ? wiring::Presence::lacking : device->presence;
    const Reach reach = reach_of(item.symbol);
    const double half = item.symbol == Symbol::motor ? 9 : is_block(item.symbol) ? 9 : reach.side;
    const bool block = is_block(item.symbol) || item.symbol == Symbol::motor;
    const double up = block ? 11 : reach.up, down = block ? 11 : reach.down;
    draw::Group group;
    group.parts = symbol_lines(item.symbol, {x - half, y - up, x + half, y + down}, presence);
    double at = y - 15;
    auto name = lines_in(item.name, letters, (width - 3) / 1.1);
    at -= step * static_cast<double>(name.size() - 1);
    for (const auto& words : name) {
      group.parts.push_back(strong(x, at, words, letters, Anchor::middle));
      at += step;
    }
    at = y + 18;
    auto facts = item.facts;
    if (presence == wiring::Presence::lacking) facts.insert(facts.begin(), "LACKING");
    if (presence == wiring::Presence::assumed) facts.emplace_back("assumed");
    for (const auto& fact : facts) {
      for (const auto& words : lines_in(fact, letters, width - 3)) {
        group.parts.push_back(text(x, at, words, letters, Anchor::middle));
        at += step;
      }
    }
    lowest_ = std::max(lowest_, at);
    leaf_.parts.push_back(
        {.shape = std::move(group),
         .style = {},
         .tag = {.name = "symbol",
                 .keys = {{"device", item.device}},
                 .title = device == nullptr ? item.name : item.name + ": " + device->why}});
    return half;
  }
  /// A line with strokes for the conductors it stands for, and the labels of its wires.
  void lead_line(double x1, double x2, double y, int conductors, const std::string& labels,
                 double width) {
    draw::Group group;
    group.parts.push_back(line(x1, y, x2, y, width));
    const double middle = 0.5 * (x1 + x2);
    for (int i = 0; i < conductors && x2 - x1 > 8; ++i) {
      const double x = middle + 1.6 * (i - 0.5 * (conductors - 1));
      group.parts.push_back(line(x - 1.3, y + 2.6, x + 1.3, y - 2.6, plain));
    }
    double at = y - 4.4;
    const auto words = lines_in(labels, letters, std::max(8.0, (x2 - x1 - 1.5) / 1.1));
    at -= 4.8 * static_cast<double>(words.size() - 1);
    for (const auto& one : words) {
      if (!one.empty()) group.parts.push_back(strong(middle, at, one, letters, Anchor::middle));
      at += 4.8;
    }
    leaf_.parts.push_back({.shape = std::move(group),
                           .style = {},
                           .tag = {.name = "inner", .keys = {}, .title = {}}});
  }
  void upright(double x, double y1, double y2) {
    leaf_.parts.push_back({.shape = draw::Group{{line(x, y1, x, y2)}},
                           .style = {},
                           .tag = {.name = "inner", .keys = {}, .title = {}}});
    leaf_.parts.push_back(
        {.shape = draw::Circle{{x, y1}, 1.1}, .style = {.width = thin, .fill = draw::Ink::ink}});
  }
  double lowest() const { return lowest_; }

 private:
  const Subject& subject_;
  Leaf& leaf_;
  double lowest_ = 0;
};

/// Items from left to right, joined; gives where the last one ends.
double chain(Sheet& sheet, const Subject& subject, const std::vector<Item>& items, const Box& room,
             double y, double width) {
  const double pitch = (room.right - room.left) / static_cast<double>(items.size());
  double last = 0;
  for (std::size_t i = 0; i < items.size(); ++i) {
    const double x = room.left + pitch * (static_cast<double>(i) + 0.5);
    // Letters keep clear of the branches that hang between two symbols.
    const double half = sheet.item(items[i], x, y, pitch - 9);
    if (i > 0) {
      const int conductors = items[i].symbol == Symbol::motor ? 3 : 2;
      sheet.lead_line(last, x - half, y, conductors,
                      labels_between(*subject.circuit, items[i - 1].device, items[i].device),
                      width);
    }
    last = x + half;
  }
  return last;
}

/// Where a branch leaves the loop: before or behind the contactor.
std::string branch_point(const Circuit& c, const std::string& fuse) {
  const int t = wiring::terminal_of(c, fuse + ".in");
  for (const auto& bar : c.bars) {
    const int other = bar.to == t ? bar.from : bar.from == t ? bar.to : -1;
    if (other >= 0) return c.terminals[static_cast<std::size_t>(other)].mark;
  }
  return "in";
}

Leaf line_leaf(const Subject& subject) {
  Leaf leaf{Format::a3, "", "not to scale", {}, {}};
  Sheet sheet(subject, leaf);
  const Box area = area_of(Format::a3);
  const auto items = loop_items(subject);
  const double y = area.top + 44;
  chain(sheet, subject, items, area, y, thick);
  const double pitch = (area.right - area.left) / static_cast<double>(items.size());
  const auto contactor = std::find_if(items.begin(), items.end(),
                                      [](const Item& i) { return i.device == "contactor"; });
  const double before = area.left + pitch * static_cast<double>(contactor - items.begin());
  double at = sheet.lowest() + 30;
  double offset = 6.5;
  for (const auto& [branch, fuse] : {std::pair{charging_items(subject), "charge_fuse"},
                                     std::pair{converter_items(subject), "dcdc_fuse"}}) {
    const bool behind = branch_point(*subject.circuit, fuse) == "out";
    // Beside the strokes of the line, and each branch beside the other.
    const double x = before + (behind ? pitch : 0) + (behind ? -offset : offset) * 0.62;
    const double last = chain(sheet, subject, branch, {area.left, 0, before - 8, 0}, at, plain);
    sheet.lead_line(last, x, at, 2, "", plain);
    sheet.upright(x, y, at);
    at = sheet.lowest() + 30;
    offset = -offset;
  }
  leaf.parts.push_back(text(area.left, area.top + 3.6,
                            "Each line stands for as many wires as it has strokes. Under a symbol: "
                            "its ratings on the sheet; ? not known. Dashed: assumed. Dotted: "
                            "lacking.",
                            small_mm));
  return leaf;
}

}  // namespace

Print one_line(const Subject& subject) {
  const std::string caution =
      std::string(dangerous(subject) ? "Over 60 V, or not known: it can kill. " : "") +
      "The pack cannot be switched off. Worked out from the build sheet; nobody has looked at the "
      "wiring. Ratings are as the sheet says; whether they suffice is for the checks to say.";
  std::vector<Leaf> leaves{line_leaf(subject)};
  leaves.front().caution = caution;
  Table table{.columns = {{"wire", 22},
                          {"from", 74},
                          {"to", 74},
                          {"mm2", 22, true},
                          {"way", 30, true},
                          {"lasting (rms)", 36, true},
                          {"peak", 30, true},
                          {"carries for ever", 40, true},
                          {"loses at the peak", 42, true}},
              .rows = {}};
  for (std::size_t i = 0; i < subject.circuit->wires.size(); ++i) {
    const auto& wire = subject.circuit->wires[i];
    if (wire.group != wiring::Group::traction && wire.group != wiring::Group::motor) continue;
    const auto& size = *subject.sizing->wire(static_cast<int>(i));
    table.rows.push_back(
        {wire.label, subject.circuit->end_text(wire.from), subject.circuit->end_text(wire.to),
         section_words(size.section_m2), shown(wire.length_m, Kind::length, subject.units),
         shown(size.duty.rms_A, Kind::current), shown(size.duty.peak_A, Kind::current),
         shown(size.carries_A, Kind::current), shown(size.drop_V, Kind::voltage)});
  }
  const auto more = tabled(table, {.subtitle = "cables of the loop", .caution = caution});
  leaves.insert(leaves.end(), more.begin(), more.end());
  return {"one-line", "One-line drawing", framed(subject, "One-line drawing", leaves),
          csv_of(table)};
}

}  // namespace ww::prints
