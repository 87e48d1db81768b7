// SPDX-License-Identifier: MIT
// What flows in each kind of wire of a build, on the rider's own ride.
#pragma once

#include <string>

#include "ride/ride.h"
#include "wiring/circuit.h"

namespace ww::wiring {

/// Currents of a conductor. rms over the worst ten minutes, as the heat balance wants it; peak as
/// fuses and drops want it. A; NaN where nothing tells them.
struct Duty {
  double rms_A;
  double peak_A;
  std::string because;
};

/// A load of the 12 V side.
struct Load12V {
  std::string_view label, path;
  double power_W;
  double share;  ///< that counts while riding at night
  bool assumed;
};

/// The 12 V loads of the donor. Horn only where no buffer feeds it.
std::vector<Load12V> loads_12V(Readings& sheet);
/// The same while riding at night, contactor's coil counted. W.
double riding_12V_W(Readings& sheet);
/// Everything on at once and the contactor pulling in. A.
double worst_12V_A(Readings& sheet);
/// What is left of it under a load, V: with a buffer the same; a converter alone that is asked for
/// more than it gives holds its current, and the volts fall in proportion. A current that is not
/// known counts as enough.
double supply_under_load_V(double supply_V, double load_A, double converter_A, bool buffer);
/// What the 12 V side has when nothing charges it: the lower of converter and buffer. V.
double supply_V(const Readings& sheet);

class Duties {
 public:
  Duties(Readings& sheet, const ride::Ride& ride) : sheet_(&sheet), ride_(&ride) {}
  Duty of(Carries carries);

 private:
  Duty traction();
  Duty phase();
  Duty pack_side(Carries carries);
  Duty loop();
  Duty lamp(std::string_view path, std::string_view what);
  double answer(ride::Answer answer) const;

  Readings* sheet_;
  const ride::Ride* ride_;
};

}  // namespace ww::wiring
