// SPDX-License-Identifier: MIT Contactors: the current at the moment of closing, the energy at the
// moment of opening, the heat while closed.
#pragma once

#include "base/num.h"

namespace ww::model {

/// The moment of closing: pack, bus so far, and everything that limits the rush.
template <class R>
struct ContactorClosing {
  R voltage_pack_V;
  R voltage_bus_V;
  R resistance_loop_ohm;  ///< pack, cables, contacts, capacitor
};

/// Peak current at closing: (V - v) / Rloop.  Result in A, negative if the bus stands higher.
/// Valid: resistance_loop_ohm > 0; outside: NaN.
/// Ignores inductance, which lowers the peak: an upper bound.
/// Source: Ohm's law.
/// Checked by: values/contactor.tsv.
template <class R>
R contactor_make_A(const ContactorClosing<R>& c) {
  return valid_where<R>(c.resistance_loop_ohm > num<R>(0),
                        (c.voltage_pack_V - c.voltage_bus_V) / c.resistance_loop_ohm);
}

/// Bus voltage from which closing stays within a peak current: V - I Rloop, not below 0.  Result in
/// V.
/// Valid: current_A >= 0.
/// Ignores inductance.
/// Source: inverse of contactor_make_A.
/// Checked by: model/elec_test.
template <class R>
R contactor_bus_needed_V(R voltage_pack_V, R resistance_loop_ohm, R current_A) {
  return max(voltage_pack_V - current_A * resistance_loop_ohm, num<R>(0));
}

/// Energy the loop's inductance puts into the arc at opening: L I^2 / 2.  Result in J.
/// Valid: any current.
/// Ignores what the pack feeds into the arc, often far more: breaking capacity is what counts.
/// Source: magnetic energy.
/// Checked by: values/contactor.tsv.
template <class R>
R contactor_break_energy_J(R inductance_H, R current_A) {
  return inductance_H * square(current_A) / num<R>(2);
}

/// Voltage across a closed contact: I R.  Result in V.
/// Valid: any current.
/// Ignores films on new contacts, which burn off at some amperes.
/// Source: Ohm's law.
/// Checked by: values/contactor.tsv.
template <class R>
R contactor_drop_V(R resistance_contact_ohm, R current_A) {
  return current_A * resistance_contact_ohm;
}

/// Heat in a closed contactor: contact I^2 R and the coil's hold power.  Result in W.
/// Valid: root-mean-square current over some minutes.
/// Ignores lugs.
/// Source: Joule's law.
/// Checked by: values/contactor.tsv.
template <class R>
R contactor_heat_W(R resistance_contact_ohm, R current_rms_A, R power_coil_W) {
  return square(current_rms_A) * resistance_contact_ohm + power_coil_W;
}

}  // namespace ww::model
