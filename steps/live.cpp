// SPDX-License-Identifier: MIT
#include "steps/live.h"

#include <algorithm>
#include <array>
#include <utility>

#include "base/text.h"

namespace ww::steps {

namespace {

void reach_from(const wiring::Circuit& circuit, std::string_view pole,
                const std::vector<std::string>& open, std::vector<bool>& live) {
  const int from = wiring::terminal_of(circuit, pole);
  if (from < 0) return;
  for (const int t : wiring::reached(circuit, from, open)) live[static_cast<std::size_t>(t)] = true;
}

std::vector<bool> reached_terminals(const wiring::Circuit& circuit,
                                    const std::vector<std::string>& open) {
  std::vector<bool> live(circuit.terminals.size(), false);
  for (const char* pole : {"pack.+", "pack.-"}) reach_from(circuit, pole, open, live);
  return live;
}

/// Those of a list that are left when some of its devices have been closed.
std::vector<std::string> without(std::vector<std::string> open,
                                 const std::vector<std::string>& closed) {
  open.erase(std::remove_if(open.begin(), open.end(),
                            [&](const std::string& id) {
                              return std::find(closed.begin(), closed.end(), id) != closed.end();
                            }),
             open.end());
  return open;
}

}  // namespace

std::string_view word(Reach reach) {
  constexpr std::array<std::string_view, 7> words{"live as soon as it is on the pack",
                                                  "live once the main fuse is in",
                                                  "live once the service disconnect is closed",
                                                  "live once the pre-charge relay closes",
                                                  "live once the main contactor closes",
                                                  "live once key or converter switch close",
                                                  "not reached by the pack"};
  return words[static_cast<std::size_t>(reach)];
}

const std::vector<std::string>& all_open() {
  static const std::vector<std::string> ids{
      "fuse",      "second_fuse", "disconnect", "precharge_relay",
      "contactor", "dcdc_switch", "key",        "key_relay"};
  return ids;
}

std::vector<std::string> live_devices(const wiring::Circuit& circuit, std::string_view pole,
                                      const std::vector<std::string>& open) {
  std::vector<bool> live(circuit.terminals.size(), false);
  reach_from(circuit, pole, open, live);
  std::vector<std::string> out;
  for (std::size_t d = 0; d < circuit.devices.size(); ++d) {
    if (circuit.devices[d].id == "pack") continue;
    bool any = false;
    for (std::size_t t = 0; t < live.size(); ++t)
      any = any || (live[t] && circuit.terminals[t].device == static_cast<int>(d));
    if (any) out.push_back(circuit.devices[d].label);
  }
  return out;
}

std::string live_text(const wiring::Circuit& circuit, const std::vector<std::string>& open) {
  if (wiring::terminal_of(circuit, "pack.+") < 0)
    return "No pack is on the sheet; what is live cannot be told.";
  const auto side = [&](std::string_view pole) {
    const auto devices = live_devices(circuit, pole, open);
    return devices.empty() ? std::string("nothing but the pack itself") : join(devices, ", ");
  };
  return "Live on plus: " + side("pack.+") + ". On minus: " + side("pack.-") + ".";
}

std::vector<Reach> reach_of_wires(const wiring::Circuit& circuit, const std::vector<bool>& laid) {
  wiring::Circuit there = circuit;
  there.wires.clear();
  for (std::size_t w = 0; w < circuit.wires.size(); ++w) {
    if (laid[w]) there.wires.push_back(circuit.wires[w]);
  }
  std::vector<Reach> out(circuit.wires.size(), Reach::never);
  const std::pair<Reach, std::vector<std::string>> closing[] = {
      {Reach::always, {}},
      {Reach::fuse, {"fuse", "second_fuse"}},
      {Reach::disconnect, {"disconnect"}},
      {Reach::precharge, {"precharge_relay"}},
      {Reach::contactor, {"contactor"}},
      {Reach::key, {"dcdc_switch", "key", "key_relay"}}};
  std::vector<std::string> open = all_open();
  for (const auto& [reach, closed] : closing) {
    open = without(std::move(open), closed);
    const auto live = reached_terminals(there, open);
    for (std::size_t w = 0; w < out.size(); ++w) {
      const auto& wire = circuit.wires[w];
      if (laid[w] && out[w] == Reach::never &&
          (live[static_cast<std::size_t>(wire.from)] || live[static_cast<std::size_t>(wire.to)]))
        out[w] = reach;
    }
  }
  return out;
}

}  // namespace ww::steps
