// SPDX-License-Identifier: MIT
// Circuit symbols after IEC 60617 (IEEE 315 where the same), drawn by us from the forms they share.
// Private to prints/.
#pragma once

#include <cstdint>
#include <vector>

#include "draw/drawing.h"
#include "wiring/circuit.h"

namespace ww::prints {

enum class Symbol : std::uint8_t {
  block,         ///< a box with its terminals named inside
  battery,       ///< a box with cells in it
  motor,         ///< circle with M
  fuse,          ///< box with the wire through it
  resistor,      ///< box
  shunt,         ///< box with two taps
  heater,        ///< box with bars
  contact,       ///< makes when operated
  contactor,     ///< contact with the half circle of a main contact
  disconnector,  ///< contact with the cross bar
  push,          ///< contact pushed by hand
  coil,
  lamp,
  horn,
  converter,  ///< box with the sign of a converter in it: direct to direct current
  rectifier,  ///< the same, mains to direct current
  inverter,   ///< the same, direct current to the motor's
  earth,      ///< a bar with many taps and the sign of the frame below
  rail,       ///< a bar with many taps
  node,       ///< a terminal
  reference,
  probe,   ///< box with a diagonal and a temperature
  socket,  ///< plug and socket
  flasher
};

/// How far a symbol reaches from its middle, mm. A block's height comes from its rows.
struct Reach {
  double side, up, down;
};
Reach reach_of(Symbol symbol);

/// Whether its terminals are named inside.
bool is_block(Symbol symbol);
bool is_rail(Symbol symbol);
/// What is drawn in the middle of a block, mm wide.
double middle_of(Symbol symbol);

/// The lines of a symbol at a place; `box` is what it may fill (for blocks and rails).
std::vector<draw::Element> symbol_lines(Symbol symbol, const draw::Box& box,
                                        wiring::Presence presence);

/// The sign of earth and frame that hangs below a bar of Symbol::earth.
std::vector<draw::Element> earth_sign(const draw::Box& box);

}  // namespace ww::prints
