// SPDX-License-Identifier: MIT
#include "prints/prints.h"

#include <algorithm>

#include "build/fields.h"
#include "draw/pdf.h"
#include "draw/svg.h"

namespace ww::prints {

Electrics electrics(const build::Build& build, const build::Build* own, const ride::Ride& ride) {
  Electrics out{wiring::circuit(build), {}};
  for (wiring::Device& device : out.circuit.devices) {
    const auto* slot = own == nullptr ? nullptr : build::schema().slot(device.id);
    if (slot == nullptr || build::slot_present(*own, *slot) ||
        device.presence != wiring::Presence::on_list)
      continue;
    device.presence = wiring::Presence::assumed;
    device.why += "; not on the sheet yet";
  }
  out.sizing = wiring::size(build, out.circuit, ride);
  return out;
}

const std::vector<Entry>& print_list() {
  static const std::vector<Entry> list{
      {"one-line", "the traction loop on one line, with its ratings", &one_line},
      {"schematic", "every wire and device of the circuit, over several pages", &schematic},
      {"truth-table", "every interlock opened in turn, and what that does", &truth_table},
      {"loom", "the loom by place, each leg with its wires and thickness", &loom},
      {"tap-map", "every sense tap of the pack with the volts to expect", &tap_map},
      {"cut-list", "every wire to cut, with lugs, dies and torques; what wire to buy", &cut_list},
      {"labels", "labels of wires and devices, and warnings, at true size", &labels},
      {"settings", "every number that is typed in, in the order in which they must act",
       &settings_sheet},
      {"pack-steps", "building the pack step by step, with room for what is read", &pack_steps},
      {"power-up", "first power-up step by step, with room for what is read", &power_steps},
      {"first-rides", "first rides step by step, with room for what is read", &ride_steps}};
  return list;
}

const Entry* find_print(std::string_view key) {
  const auto& list = print_list();
  const auto at =
      std::find_if(list.begin(), list.end(), [&](const Entry& e) { return e.key == key; });
  return at == list.end() ? nullptr : &*at;
}

std::string svg_of(const Print& print, std::size_t page) {
  return draw::svg_of(print.pages[page], {.standing = draw::Standing::printed});
}

std::string pdf_of(const Print& print, const std::string& date) {
  return draw::pdf_of(print.pages, {.title = print.title, .date = date});
}

}  // namespace ww::prints
