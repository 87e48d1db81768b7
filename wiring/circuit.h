// SPDX-License-Identifier: MIT
// The circuit of a build as a net list: devices with terminals, wires between terminals, nets that
// follow from them. It is derived from the parts and from what is answered; where nothing is said,
// the usual way is taken and marked assumed.
// Invariants:
// 1. A wire or a bar joins two terminals of one net; a net is all terminals so joined. Nothing is
//    joined through a device; but current passes a device from `in` to `out`, and `in2` to `out2`.
// 2. Every wire and every device says why it is there.
// 3. A label ("T3") belongs to a place in the circuit, not to a number in a list: a part added
// later
//    moves no label. It is what is printed on the sleeve.
// 4. The order is that of the current: traction loop, motor, pre-charge, charging, converter, 12 V,
//    interlocks, signals.
// Drawings are made from this list, and first power walks through it.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "build/nouns.h"
#include "wiring/readings.h"

namespace ww::wiring {

/// Where a device sits; a wire's length follows from both its ends' places.
enum class Place : std::uint8_t {
  pack_box,
  power_board,  ///< fuse, disconnect, contactor, pre-charge side by side
  controller,
  motor,
  charger,
  converter,
  fuse_box,
  bars,
  head,
  tail,
  stand,
  frame,
  outside
};
std::string_view word(Place place);

/// How certain a device is.
enum class Presence : std::uint8_t {
  on_list,  ///< a part of the sheet
  assumed,  ///< small stuff, or not answered: the usual way is drawn
  lacking   ///< drawn as a gap: it has to be there and is not
};
std::string_view word(Presence presence);

/// What a wire belongs to. The first letter of its label.
enum class Group : std::uint8_t {
  traction,   ///< T
  motor,      ///< P: phases
  precharge,  ///< R
  charging,   ///< C
  mains,      ///< M
  converter,  ///< D: pack to converter, key supply of the controller
  supply,     ///< L: 12 V
  interlock,  ///< K
  signal,     ///< S
  bond        ///< E: frame and protective earth
};
std::string_view word(Group group);

/// What flows in a wire; tells which sums it is sized by.
enum class Carries : std::uint8_t {
  traction,
  phase,
  charge,
  mains,
  precharge,
  discharge,  ///< bleed
  converter_in,
  converter_out,
  buffer,
  logic,
  loop,    ///< interlock loop and contactor coil
  supply,  ///< all 12 V loads
  head_lamp,
  rear_lamp,
  stop_lamp,
  indicators,
  horn,
  other_load,
  monitor,
  heater,
  display,
  sense,
  signal,
  bond
};

struct Device {
  std::string id;     ///< "main_fuse"
  std::string label;  ///< "main fuse"
  Place place;
  Presence presence;
  std::string why;
};

struct Terminal {
  int device;
  std::string mark;  ///< "+", "in", "U"
  build::Stud stud = build::Stud::unknown;
};

struct Wire {
  std::string label;
  int from, to;  ///< terminals
  Group group;
  Carries carries;
  int cores = 1;            ///< wires of one kind that run together: s + 1 sense leads
  double length_m;          ///< of one core, one way; NaN where nothing tells it
  bool length_assumed;      ///< from a usual length, not from a string
  std::string length_from;  ///< the figures it is made of
  std::string route;
  std::string colour;
  std::string why;
  std::string fuse;    ///< id of the fuse that protects it; empty: none does
  std::string before;  ///< of a wire without one: the fuse that it feeds
  double section_m2;   ///< as the sheet says for this wire or its kind; NaN: to be chosen
  std::string section_from;
  int net = -1;
};

/// Two terminals joined by metal with no wire of ours: the bar in a fuse box.
struct Bar {
  int from, to;
};

struct Net {
  std::string name;  ///< "pack plus behind the main fuse"
  std::vector<int> terminals;
};

/// Something that is not there, not answered or not right, with what it leads to.
struct Gap {
  enum class Kind : std::uint8_t { lacking, unanswered, mistake } kind;
  std::string what;     ///< what is wrong and where
  std::string because;  ///< what it leads to
  std::string way_out;  ///< what to do
  std::string rule;     ///< the check that judges it; empty where none does
};
std::string_view word(Gap::Kind kind);

struct Circuit {
  std::vector<Device> devices;
  std::vector<Terminal> terminals;
  std::vector<Wire> wires;
  std::vector<Bar> bars;
  std::vector<Net> nets;
  std::vector<Gap> gaps;

  const Device* device(std::string_view id) const;
  const Wire* wire(std::string_view label) const;
  const Device& device_of(int terminal) const {
    return devices[static_cast<std::size_t>(terminals[static_cast<std::size_t>(terminal)].device)];
  }
  /// "main fuse, in"
  std::string end_text(int terminal) const;
};

/// The figures whose sum is the way of a wire between two places: the legs of the loom that it lies
/// in. (The battery cables go by the string round their loop instead.)
std::vector<std::string_view> way_between(Place a, Place b);

/// The circuit of a build. Valid: any build; what is not on its list is drawn as a gap.
Circuit circuit(const build::Build& build);

/// The terminals that current reaches from one, through wires, bars and every device that passes it
/// when closed, but not through the devices named in `stops`. In order of the list. What a
/// completeness check asks: what is live with every fuse out?
std::vector<int> reached(const Circuit& circuit, int from, const std::vector<std::string>& stops);
/// The terminal "device.mark"; -1 where there is none.
int terminal_of(const Circuit& circuit, std::string_view end);

}  // namespace ww::wiring
