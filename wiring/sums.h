// SPDX-License-Identifier: MIT
// The sums of a circuit that stand above single wires: pre-charge, contactor, 12 V budget, shorts.
// Each is of this build, with the caution that belongs to it.
// Invariant: a sum that rests on something unknown is NaN; the reports then say what is missing.
// First power takes its expected readings from here.
#pragma once

#include <string>
#include <vector>

#include "wiring/sizing.h"

namespace ww::wiring {

/// From the key to the closed contactor.
struct StartSums {
  double voltage_V, resistance_ohm, capacitance_F, load_A;
  double constant_s;
  double time_95_s;               ///< NaN with a load that holds the bus below 95 % for ever
  double timer_s;                 ///< as the sheet says; NaN: not known
  double timer_least_s;           ///< to 95 % and a fifth more
  double final_V;                 ///< where the bus ends with the load on it
  double bus_V;                   ///< when the timer closes the contactor
  double closing_A;               ///< rush at that moment
  double closing_empty_A;         ///< the same with no pre-charge at all
  double first_A, first_W;        ///< resistor, first moment
  double energy_J;                ///< one start
  double stuck_W;                 ///< into a shorted bus, for ever
  double stuck_J;                 ///< until the time-out
  double drop_per_half_ampere_V;  ///< what half an ampere on the bus costs
  double bleed_s;                 ///< measured: below 60 V after key off
  std::string if_relay_sticks, if_load_hangs, if_open, caution;
};
StartSums start_sums(Readings& sheet);

/// The contactor four ways.
struct ContactorSums {
  double carry_A, rms_A;              ///< rating with the cable as laid, and what flows
  double make_A, closing_A;           ///< rating, and the rush at closing
  double break_A, fault_A;            ///< rating, and the strongest short: the fuse must clear that
  double withstand_A2s, through_A2s;  ///< rating, and what the main fuse lets through
  double coil_V, pull_in_V;           ///< at the coil with everything on, and what it needs
  double heat_W;
};

/// The 12 V side.
struct SupplySums {
  std::vector<Load12V> loads;
  double riding_W, converter_W;  ///< at night, and what the converter gives
  double worst_A, converter_A, buffer_A;
  double hold_s;    ///< on the buffer alone, half its charge used
  double supply_V;  ///< of converter or buffer with everything on
  double loss_V;    ///< from the sources to the coil's end, everything on and pulling in
  double coil_V;    ///< left at the coil then
  double pull_in_V;
};
SupplySums supply_sums(Readings& sheet, const Circuit& circuit, const Sizing& sizing);
ContactorSums contactor_sums(Readings& sheet, const Circuit& circuit, const Sizing& sizing);

/// A short at one place of the loop, in one state of the pack.
struct Fault {
  std::string where;  ///< "before the main fuse", "at the controller", "of two motor leads"
  std::string state;  ///< "full and warm", "empty and cold"
  double loop_ohm, inductance_H;
  double current_A;  ///< prospective
  double melts_s;    ///< until the main fuse has melted
  double cable_s;    ///< the battery cable survives it so long
  bool fuse_in_way;  ///< false: nothing clears it
  bool cleared;      ///< melted before the cable burns and within 5 s
};
std::vector<Fault> faults(Readings& sheet, const Circuit& circuit, const Sizing& sizing);

}  // namespace ww::wiring
