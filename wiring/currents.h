// SPDX-License-Identifier: MIT
// The currents that every check of the traction circuit rests on.
#pragma once

namespace ww::wiring {

/// Battery current that lasts: the larger of the rms in town and the shaft power at the speed to
/// hold / (0.86 x nominal voltage), 0.96 for the controller x 0.9 for the motor. A.
/// Valid: nominal_V > 0; a power that is not known counts as none.
/// Source: power balance; the efficiencies are common practice, no source.
double lasting_battery_A(double rms_town_A, double power_hold_W, double nominal_V);

/// What a contactor carries with a cable of this section: its rating x (section / the section it
/// assumes)^0.65, never more than its rating; the rating where either is not known. A.
/// Source: the power of ampacity tables with section; common practice, no source.
double contactor_carry_A(double rating_A, double assumed_m2, double section_m2);

/// A pack as a source of fault current. Units are what stands in series.
struct PackSource {
  double voltage_unit_V;       ///< full or empty, of one unit
  double series, parallel;     ///< units
  double resistance_unit_ohm;  ///< 10 s, 25 degC
  double link_ohm;             ///< of one link
  double outside_ohm;          ///< cables, contactor and fuse, there and back
  double cell_K = 298.15;
  double activation_kJpmol = 22;
};

/// Strongest short at the pack's terminals: links and cables left out, they only lower it. A.
double strongest_short_A(const PackSource& full);
/// Pack's own resistance, cells at their temperature, links counted. ohm.
double pack_ohm(const PackSource& pack);
/// A short through all that the pack has outside. A.
double loop_short_A(const PackSource& pack);

}  // namespace ww::wiring
