// SPDX-License-Identifier: MIT
// The interlock truth table: every switch, relay and fuse of the loop opened in turn.
#include <algorithm>
#include <set>

#include "prints/paper.h"
#include "prints/truth.h"

namespace ww::prints {

using wiring::Circuit;
using wiring::Presence;

namespace {

/// Every device that opens something; the words for opening it.
struct Opened {
  const char *device, *how;
};
constexpr Opened all_opened[] = {{"key", "off"},
                                 {"kill", "off"},
                                 {"stand_switch", "stand out"},
                                 {"tilt", "bike on its side"},
                                 {"inlet_switch", "plugged in"},
                                 {"lid", "box open"},
                                 {"bms", "opens its output"},
                                 {"fuse_loop", "blown"},
                                 {"buffer_fuse", "blown"},
                                 {"dcdc_fuse", "blown"},
                                 {"dcdc_switch", "open"},
                                 {"logic_fuse", "blown"},
                                 {"precharge_fuse", "blown"},
                                 {"disconnect", "open"},
                                 {"second_fuse", "blown"},
                                 {"fuse", "blown"}};

constexpr std::pair<const char*, const char*> coils[] = {
    {"contactor.coil+", "contactor"},
    {"precharge_relay.coil+", "precharge_relay"},
    {"lamp_relay.coil+", "lamp_relay"},
    {"key_relay.coil+", "key_relay"}};

/// What current reaches from some terminals with devices open.
class Reach {
 public:
  Reach(const Circuit& circuit, const std::set<std::string>& open) : circuit_(circuit) {
    stops_.assign(open.begin(), open.end());
  }
  void from(const std::string& end) {
    const int t = wiring::terminal_of(circuit_, end);
    if (t < 0) return;
    const auto more = wiring::reached(circuit_, t, stops_);
    live_.insert(more.begin(), more.end());
  }
  bool at(const std::string& end) const {
    return live_.count(wiring::terminal_of(circuit_, end)) > 0;
  }

 private:
  const Circuit& circuit_;
  std::vector<std::string> stops_;
  std::set<int> live_;
};

bool is_there(const Circuit& c, const char* id) {
  const auto* device = c.device(id);
  return device != nullptr && device->presence != Presence::lacking;
}

/// Without any source there would be nothing to open: a converter that works is then taken.
bool source_taken(const Circuit& c) {
  return !is_there(c, "dcdc") && !is_there(c, "buffer");
}

/// A pack split in its middle gives nothing while the way between its halves is open.
bool pack_whole(const Circuit& c, const std::set<std::string>& open) {
  if (wiring::terminal_of(c, "pack.mid1") < 0) return true;
  Reach middle(c, open);
  middle.from("pack.mid1");
  return middle.at("pack.mid2");
}

State state_with(const Circuit& c, std::set<std::string> open) {
  for (;;) {
    Reach pack(c, open), low(c, open);
    if (pack_whole(c, open)) pack.from("pack.+");
    const bool converter = (is_there(c, "dcdc") || source_taken(c)) && pack.at("dcdc.in+");
    if (converter) low.from("dcdc.out+");
    if (is_there(c, "buffer")) low.from("buffer.+");
    bool settled = true;
    for (const auto& [coil, device] : coils) {
      if (open.count(device) > 0 || wiring::terminal_of(c, coil) < 0 || low.at(coil)) continue;
      open.insert(device);
      settled = false;
    }
    if (!settled) continue;
    State s;
    s.contactor = open.count("contactor") == 0;
    s.precharge = open.count("precharge_relay") == 0;
    s.key_supply = pack.at("controller.KEY");
    s.has_enable = wiring::terminal_of(c, "controller.enable") >= 0;
    Reach enable(c, open);
    enable.from("controller.enable");
    s.enable = s.has_enable && enable.at("controller.signal ground");
    s.bus = pack.at("controller.B+");
    s.torque = s.bus && s.contactor && s.key_supply && (!s.has_enable || s.enable);
    s.converter = converter;
    s.lamps = low.at("fuse_box.keyed");
    s.horn = low.at("fuse_box.bus");
    return s;
  }
}

}  // namespace

std::vector<Case> truth_cases(const Circuit& circuit) {
  std::vector<Case> out{{"", "all closed: the bike is ready to ride", state_with(circuit, {})}};
  for (const Opened& one : all_opened) {
    const auto* device = circuit.device(one.device);
    if (device == nullptr) continue;
    // The monitor's device is one thing in the loop and another in the battery lead.
    const bool in_loop =
        std::string_view(one.device) != "bms" || wiring::terminal_of(circuit, "bms.in") >= 0;
    if (!in_loop) continue;
    Case next{one.device, device->label + ": " + one.how, state_with(circuit, {one.device})};
    if (device->presence == Presence::assumed) next.words += " (assumed)";
    if (device->presence == Presence::lacking) next.words += " (LACKING: nothing opens)";
    out.push_back(std::move(next));
  }
  return out;
}

Print truth_table(const Subject& subject) {
  Table table{.columns = {{"what is opened", 110},
                          {"main contactor", 34},
                          {"pre-charge relay", 34},
                          {"controller key supply", 38},
                          {"controller enable", 34},
                          {"torque at the throttle", 36},
                          {"12 V from the converter", 36},
                          {"lamps", 30},
                          {"horn, loop fuse", 32}},
              .rows = {}};
  const auto cases = truth_cases(*subject.circuit);
  // What has stopped stands in capitals.
  const auto cell = [](bool now, const char* on, const char* off) {
    return std::string(now ? on : off);
  };
  for (const Case& one : cases) {
    const State& s = one.state;
    table.rows.push_back(
        {one.words, cell(s.contactor, "closed", "OPENS"), cell(s.precharge, "fed", "DEAD"),
         cell(s.key_supply, "live", "DEAD"),
         s.has_enable ? cell(s.enable, "given", "TAKEN") : std::string("no such wire"),
         cell(s.torque, "yes", "NONE"), cell(s.converter, "yes", "NONE"),
         cell(s.lamps, "on", "OUT"), cell(s.horn, "live", "DEAD")});
  }
  table.marks = {"strong"};
  std::string note =
      "Each device is opened alone, with all else closed; relays whose coils lose their 12 V open "
      "too. It is the wiring that is followed, not the programs inside controller and monitor. A "
      "contact that has welded does not open: this table does not know of it.";
  if (source_taken(*subject.circuit))
    note +=
        " LACKING: neither converter nor buffer is on the sheet; a converter that works is taken.";
  const auto leaves = tabled(
      table,
      {.caution =
           "Worked out from the net list; no contact has been tried. Test every row with the "
           "wheel off the ground and the pack's fuse out before the first ride, then again "
           "with the pack joined. After the contactor has opened the controller's "
           "capacitors still hold their charge: measure below 10 V before a hand goes near.",
       .notes = {note}});
  return {"truth-table", "Interlock truth table", framed(subject, "Interlock truth table", leaves),
          csv_of(table)};
}

}  // namespace ww::prints
