// SPDX-License-Identifier: MIT Isolation between the traction circuit and the frame, as a builder
// can measure it with a voltmeter and one resistor.
// Invariants:
// 1. The result is the smaller of the two leaks, exactly, for an ideal voltmeter.
// 2. 'Negative' and 'positive' voltages are the magnitudes from that pole to the frame.
#pragma once

#include "base/num.h"

namespace ww::model {

/// What the meter shows: pole-to-frame voltages, and the larger one again with the known resistor
/// put between that pole and the frame.
template <class R>
struct IsolationReadings {
  R voltage_bus_V;
  R voltage_negative_V;
  R voltage_positive_V;
  R voltage_inserted_V;
  R resistance_inserted_ohm;
};

/// Isolation resistance: Ri = R0 Vb (1/V' - 1/V), V the larger of both pole voltages.  Result in
/// ohm.
/// Valid: 0 < voltage_inserted_V <= larger pole voltage; outside: NaN.
/// Ignores the meter's own resistance (10 Mohm or more) and slow capacitors: wait until it settles.
/// Source: UN R100 and R136, annex on isolation resistance measurement.
/// Checked by: values/isolation.tsv.
template <class R>
R isolation_resistance_ohm(const IsolationReadings<R>& m) {
  const R larger_V = max(m.voltage_negative_V, m.voltage_positive_V);
  return valid_where<R>((m.voltage_inserted_V > num<R>(0)) & (m.voltage_inserted_V <= larger_V),
                        m.resistance_inserted_ohm * m.voltage_bus_V *
                            (num<R>(1) / m.voltage_inserted_V - num<R>(1) / larger_V));
}

/// Isolation per volt of the bus, to be held against 100 or 500 ohm/V.  Result in ohm/V.
/// Valid: voltage_V > 0, the highest the bus can have; outside: NaN.
/// Ignores nothing beyond the measurement's own limits.
/// Source: UN R100 clause 5.1.3.
/// Checked by: values/isolation.tsv.
template <class R>
R isolation_ohm_per_volt(R resistance_ohm, R voltage_V) {
  return valid_where<R>(voltage_V > num<R>(0), resistance_ohm / voltage_V);
}

/// Leaks from each pole to the frame, and the bus across them.
template <class R>
struct IsolationLeaks {
  R voltage_bus_V;
  R resistance_positive_ohm;
  R resistance_negative_ohm;
};

/// What the meter will show for given leaks and inserted resistor: the expected readings of a
/// check.
/// Valid: resistances > 0; outside: NaN in every reading that rests on them.
/// Ignores the meter's own resistance.
/// Source: voltage divider.
/// Checked by: values/isolation.tsv, model/elec_test.
template <class R>
IsolationReadings<R> isolation_readings(const IsolationLeaks<R>& leaks, R resistance_inserted_ohm) {
  const R smaller = min(leaks.resistance_positive_ohm, leaks.resistance_negative_ohm);
  const R larger = max(leaks.resistance_positive_ohm, leaks.resistance_negative_ohm);
  // The pole with the larger leak resistance shows the larger voltage: the resistor goes across it.
  const R shunted = larger * resistance_inserted_ohm / (larger + resistance_inserted_ohm);
  const R both = leaks.resistance_positive_ohm + leaks.resistance_negative_ohm;
  const R current_A = valid_where<R>(smaller > num<R>(0), leaks.voltage_bus_V / both);
  return {.voltage_bus_V = leaks.voltage_bus_V,
          .voltage_negative_V = current_A * leaks.resistance_negative_ohm,
          .voltage_positive_V = current_A * leaks.resistance_positive_ohm,
          .voltage_inserted_V = valid_where<R>(smaller > num<R>(0),
                                               leaks.voltage_bus_V * shunted / (shunted + smaller)),
          .resistance_inserted_ohm = resistance_inserted_ohm};
}

/// Current that leaks from pole to pole through the frame: Vb / (Rp + Rn).  Result in A.
/// Valid: resistances >= 0, their sum > 0; outside: NaN.
/// Ignores capacitive current.
/// Source: Ohm's law.
/// Checked by: values/isolation.tsv.
template <class R>
R isolation_leak_A(const IsolationLeaks<R>& leaks) {
  const R both = leaks.resistance_positive_ohm + leaks.resistance_negative_ohm;
  return valid_where<R>(both > num<R>(0), leaks.voltage_bus_V / both);
}

/// Current through somebody who touches one pole and the frame, the worse of both poles.  Result in
/// A. Touching the positive pole: I = Vb Rp / (Rp Rn + Rb (Rp + Rn)), and the other way round.
/// Valid: resistances > 0; outside: NaN.
/// Ignores capacitors to the frame. A small current here is no permission to touch.
/// Source: Thevenin's theorem.
/// Checked by: values/isolation.tsv, model/elec_test.
template <class R>
R isolation_touch_A(const IsolationLeaks<R>& leaks, R resistance_body_ohm) {
  const R rp = leaks.resistance_positive_ohm;
  const R rn = leaks.resistance_negative_ohm;
  const R worse = max(rp, rn);  // touched pole: the larger; return path: the smaller
  return valid_where<R>((min(rp, rn) > num<R>(0)) & (resistance_body_ohm > num<R>(0)),
                        leaks.voltage_bus_V * worse / (rp * rn + resistance_body_ohm * (rp + rn)));
}

}  // namespace ww::model
