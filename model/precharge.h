// SPDX-License-Identifier: MIT Filling the controller's capacitors through a resistor before the
// contactor closes, and emptying them.
// Invariants:
// 1. A load that draws current meanwhile holds the bus below the pack by I R for ever: the target
//    may never be reached, and then the time to it is NaN.
// 2. The energy in the resistor to full charge is C V^2 / 2 whatever the resistor is, if nothing
//    else draws.
#pragma once

#include "base/num.h"
#include "model/constants.h"

namespace ww::model {

/// The circuit: pack, resistor, capacitor, and a constant current drawn from the bus while it
/// fills.
template <class R>
struct Precharge {
  R voltage_V;
  R resistance_ohm;
  R capacitance_F;
  R current_load_A;  ///< converter, lamps, sense inputs; 0 where nothing draws
};

/// Time constant R C.  Result in s.
/// Valid: any.
/// Ignores the pack's and cables' own resistance, small beside the resistor.
/// Source: series RC circuit.
/// Checked by: values/precharge.tsv.
template <class R>
R precharge_constant_s(const Precharge<R>& p) {
  return p.resistance_ohm * p.capacitance_F;
}

/// Bus voltage after a long time: V - I R, not below 0.  Result in V.
/// Valid: current_load_A >= 0.
/// Ignores that a real load starts only at some voltage: until then the bus rises unloaded.
/// Source: Ohm's law.
/// Checked by: values/precharge.tsv, model/elec_test (ngspice).
template <class R>
R precharge_final_V(const Precharge<R>& p) {
  return max(p.voltage_V - p.current_load_A * p.resistance_ohm, num<R>(0));
}

/// Bus voltage a time after the start from empty: Vf (1 - exp(-t/RC)).  Result in V.
/// Valid: time_s >= 0; outside: NaN.
/// Ignores charge left from last time (it only helps) and capacitor tolerance of +-20 %.
/// Source: series RC circuit.
/// Checked by: values/precharge.tsv, model/elec_test (ngspice).
template <class R>
R precharge_voltage_V(const Precharge<R>& p, R time_s) {
  return valid_where<R>(
      time_s >= num<R>(0),
      precharge_final_V(p) * (num<R>(1) - exp(-(time_s / precharge_constant_s(p)))));
}

/// Time until the bus reaches a fraction of the pack voltage: RC ln(Vf / (Vf - q V)).  Result in s.
/// Valid: 0 <= fraction, q V < Vf; where the load keeps the bus from ever getting there: NaN.
/// Ignores capacitor tolerance of +-20 %: common practice adds 20 % to the timer.
/// Source: series RC circuit.
/// Checked by: values/precharge.tsv, model/elec_test (ngspice).
template <class R>
R precharge_time_s(const Precharge<R>& p, R fraction) {
  const R final_V = precharge_final_V(p);
  const R left_V = final_V - fraction * p.voltage_V;
  return valid_where<R>((fraction >= num<R>(0)) & (left_V > num<R>(0)),
                        precharge_constant_s(p) * log(final_V / left_V));
}

/// Current through the resistor: (V - v(t)) / R.  Result in A; the peak is at time 0.
/// Valid: time_s >= 0; outside: NaN.
/// Ignores inductance.
/// Source: Ohm's law.
/// Checked by: values/precharge.tsv, model/elec_test.
template <class R>
R precharge_current_A(const Precharge<R>& p, R time_s) {
  return (p.voltage_V - precharge_voltage_V(p, time_s)) / p.resistance_ohm;
}

/// Power in the resistor: (V - v(t))^2 / R.  Result in W; the peak V^2/R is at time 0, and lasts if
/// the bus is shorted or the contactor never closes on a loaded bus.
/// Valid: time_s >= 0; outside: NaN.
/// Ignores the resistor's own warming.
/// Source: Joule's law.
/// Checked by: values/precharge.tsv, model/elec_test.
template <class R>
R precharge_power_W(const Precharge<R>& p, R time_s) {
  return square(precharge_current_A(p, time_s)) * p.resistance_ohm;
}

/// Heat in the resistor from the start to a time, with a = V - Vf:
/// [a^2 t + 2 a Vf RC (1 - e) + Vf^2 RC/2 (1 - e^2)] / R, e = exp(-t/RC).  Result in J.
/// Valid: time_s >= 0; outside: NaN.
/// Ignores the resistor's own warming.
/// Source: integral of precharge_power_W.
/// Checked by: values/precharge.tsv, model/elec_test.
template <class R>
R precharge_energy_J(const Precharge<R>& p, R time_s) {
  const R tau = precharge_constant_s(p);
  const R final_V = precharge_final_V(p);
  const R held_V = p.voltage_V - final_V;
  const R e = exp(-(time_s / tau));
  const R steady = square(held_V) * time_s;
  const R mixed = num<R>(2) * held_V * final_V * tau * (num<R>(1) - e);
  const R pulse = square(final_V) * tau / num<R>(2) * (num<R>(1) - square(e));
  return valid_where<R>(time_s >= num<R>(0), (steady + mixed + pulse) / p.resistance_ohm);
}

/// Resistor that fills a capacitor to a fraction in a time, nothing drawing: t / (C ln(1/(1 - q))).
/// Result in ohm.
/// Valid: 0 < fraction < 1; outside: NaN.
/// Ignores loads on the bus: check precharge_final_V.
/// Source: series RC circuit.
/// Checked by: values/precharge.tsv, model/elec_test.
template <class R>
R precharge_resistance_ohm(R time_s, R capacitance_F, R fraction) {
  return valid_where<R>((fraction > num<R>(0)) & (fraction < num<R>(1)),
                        time_s / (capacitance_F * -log(num<R>(1) - fraction)));
}

/// A bus left alone with its bleed resistor.
template <class R>
struct BusDischarge {
  R resistance_ohm;
  R capacitance_F;
  R voltage_start_V;
};

/// Time until the bus has fallen to a voltage: RC ln(V0/V).  Result in s.
/// Valid: 0 < voltage_V; already below: 0.
/// Ignores other loads (they help) and voltage that creeps back: measure before touching.
/// Source: RC discharge.
/// Checked by: values/precharge.tsv, model/elec_test.
template <class R>
R bus_discharge_s(const BusDischarge<R>& bus, R voltage_V) {
  const R ratio = max(bus.voltage_start_V / voltage_V, num<R>(1));
  return valid_where<R>(voltage_V > num<R>(0), bus.resistance_ohm * bus.capacitance_F * log(ratio));
}

/// Energy in a capacitor: C V^2 / 2.  Result in J.
/// Valid: any.
/// Ignores nothing.
/// Source: electrostatics.
/// Checked by: values/precharge.tsv.
template <class R>
R capacitor_energy_J(R capacitance_F, R voltage_V) {
  return capacitance_F * square(voltage_V) / num<R>(2);
}

/// Voltage at which a capacitor holds an energy: sqrt(2 E / C).  Result in V.
/// Valid: energy_J >= 0, capacitance_F > 0; outside: NaN.
/// Ignores nothing.
/// Source: electrostatics.
/// Checked by: values/precharge.tsv.
template <class R>
R capacitor_voltage_V(R capacitance_F, R energy_J) {
  return valid_where<R>((energy_J >= num<R>(0)) & (capacitance_F > num<R>(0)),
                        sqrt(num<R>(2) * energy_J / capacitance_F));
}

}  // namespace ww::model
