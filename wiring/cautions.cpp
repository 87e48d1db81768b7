// SPDX-License-Identifier: MIT
#include "wiring/cautions.h"

namespace ww::wiring {

std::string caution_for(const Wire& wire, bool dangerous) {
  const std::string volts =
      dangerous ? "Over 60 V: it can kill. " : "Below 60 V, but its arc burns all the same. ";
  switch (wire.carries) {
    case Carries::traction:
      if (wire.label == "T1")
        return volts +
               "Live whatever is switched, and no fuse before it: a spanner across it draws "
               "thousands of amps until something melts. Fit it last of all, tools insulated, the "
               "other pole covered.";
      if (wire.label == "T8" || wire.label == "T9" || wire.label == "T10")
        return volts +
               "Closing it makes the pack whole: a joint made with load on it arcs and does "
               "not go out by itself. Open it only with the contactor open.";
      return volts +
             "Only with the service disconnect open, and the bus measured below 10 V: "
             "capacitors hold their charge for minutes.";
    case Carries::phase:
      return "A wheel that turns makes voltage here with everything off. Wheel still, bus measured "
             "below 10 V.";
    case Carries::precharge:
      return volts +
             "It feeds the controller past the open contactor: a contactor that is off is "
             "no proof that this is dead.";
    case Carries::charge:
      return volts +
             "Live from the pack with the charger unplugged. Never charge unattended while "
             "the pack is new.";
    case Carries::mains:
      return "Mains: it kills. A competent person makes it by the local code, residual-current "
             "device included; this list does not.";
    case Carries::converter_in:
    case Carries::logic:
    case Carries::display:
    case Carries::heater:
      return volts +
             "A thin tap of the pack, live with the key off up to its fuse. Fuse out, then "
             "measure, then work.";
    case Carries::sense:
      return "Each lead is live at its cell and the row adds up to the whole pack. Fuse at the "
             "cell "
             "first; measure every tap in order before the plug meets the monitor.";
    case Carries::buffer:
    case Carries::converter_out:
      return "12 V does not shock, but the buffer gives hundreds of amps into a ring or a watch.";
    case Carries::loop:
      return "What it opens must stop the bike: test every contact singly before the pack is "
             "joined.";
    case Carries::bond:
      return "A bond that is paint-deep is none: bare metal, below 0.1 ohm at 0.2 A or more.";
    case Carries::signal:
      if (wire.label == "S1")
        return "A broken throttle wire must mean no torque: pull each wire in turn with the wheel "
               "off the ground before the first ride.";
      return {};
    default:
      return {};
  }
}

}  // namespace ww::wiring
