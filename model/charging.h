// SPDX-License-Identifier: MIT
// Constant current, then constant voltage: times, charge and energy of a charge.
// Invariants:
// 1. Near the top the open-circuit voltage is a straight line of the state of charge, V_full at 1.
// 2. A pack already above the point where constant voltage begins starts there, at the lower
//    current.
// 3. Energy in = heat in the resistance + energy at the open-circuit voltage (a test holds it).
#pragma once

#include "base/num.h"

namespace ww::model {

/// A pack as the charger sees it near the top.
template <class R>
struct ChargePack {
  R charge_C;  ///< full capacity
  R resistance_ohm;
  R voltage_full_V;  ///< the charger's constant voltage
  R slope_V;         ///< rise of the open-circuit voltage per unit of state of charge
};

/// A charge: current of the constant-current part, current at which the charger stops, where it
/// starts.
template <class R>
struct ChargeRun {
  R current_A;
  R current_end_A;
  R soc_start;
};

/// Time constant of the constant-voltage part: R Q / S.  Result in s.
/// Valid: slope_V > 0; outside: NaN.
/// Ignores the curve of the open-circuit voltage: flat chemistries take the last tenth's slope.
/// Source: R dI/dt = -S I/Q at constant voltage.
/// Checked by: values/charging.tsv.
template <class R>
R charge_constant_s(const ChargePack<R>& pack) {
  return valid_where<R>(pack.slope_V > num<R>(0),
                        pack.resistance_ohm * pack.charge_C / pack.slope_V);
}

/// State of charge where constant voltage begins: 1 - I R / S, or the start if that is higher.
/// Valid: slope_V > 0; outside: NaN.
/// Ignores the curve of the open-circuit voltage.
/// Source: V_full = OCV + I R.
/// Checked by: values/charging.tsv.
template <class R>
R charge_soc_at_cv(const ChargePack<R>& pack, const ChargeRun<R>& run) {
  const R meets = num<R>(1) - run.current_A * pack.resistance_ohm / pack.slope_V;
  return valid_where<R>(pack.slope_V > num<R>(0), max(meets, run.soc_start));
}

/// Current with which constant voltage begins: (1 - soc) S / R there.  Result in A; below the
/// charger's current where the start is above the meeting point, never below the end current.
/// Valid: resistance_ohm > 0, slope_V > 0; outside: NaN.
/// Ignores the curve of the open-circuit voltage.
/// Source: V_full = OCV + I R.
/// Checked by: values/charging.tsv, model/elec_test.
template <class R>
R charge_current_at_cv_A(const ChargePack<R>& pack, const ChargeRun<R>& run) {
  const R left = num<R>(1) - charge_soc_at_cv(pack, run);
  return valid_where<R>(pack.resistance_ohm > num<R>(0),
                        max(left * pack.slope_V / pack.resistance_ohm, run.current_end_A));
}

/// Time of the constant-current part: (soc_cv - soc_start) Q / I.  Result in s.
/// Valid: current_A > 0; outside: NaN.
/// Ignores that a power-limited charger slows as the voltage rises.
/// Source: charge balance.
/// Checked by: values/charging.tsv, model/elec_test.
template <class R>
R charge_time_cc_s(const ChargePack<R>& pack, const ChargeRun<R>& run) {
  return valid_where<R>(run.current_A > num<R>(0), (charge_soc_at_cv(pack, run) - run.soc_start) *
                                                       pack.charge_C / run.current_A);
}

/// Time of the constant-voltage part: tau ln(I0 / Iend).  Result in s.
/// Valid: current_end_A > 0; outside: NaN.
/// Ignores slow diffusion, which stretches the tail.
/// Source: exponential decay of the current.
/// Checked by: values/charging.tsv, model/elec_test.
template <class R>
R charge_time_cv_s(const ChargePack<R>& pack, const ChargeRun<R>& run) {
  return valid_where<R>(
      run.current_end_A > num<R>(0),
      charge_constant_s(pack) * log(charge_current_at_cv_A(pack, run) / run.current_end_A));
}

/// Charge taken in at constant voltage: (I0 - Iend) tau.  Result in C.
/// Valid: as charge_current_at_cv_A.
/// Ignores slow diffusion.
/// Source: integral of the decaying current.
/// Checked by: values/charging.tsv.
template <class R>
R charge_cv_C(const ChargePack<R>& pack, const ChargeRun<R>& run) {
  return (charge_current_at_cv_A(pack, run) - run.current_end_A) * charge_constant_s(pack);
}

/// State of charge at the end.
/// Valid: as charge_current_at_cv_A.
/// Ignores charge lost to side reactions (below 0.1 %).
/// Source: charge balance.
/// Checked by: model/elec_test.
template <class R>
R charge_soc_end(const ChargePack<R>& pack, const ChargeRun<R>& run) {
  return charge_soc_at_cv(pack, run) + charge_cv_C(pack, run) / pack.charge_C;
}

/// Energy into the pack's terminals from start to end.  Result in J. Constant current: Q (s1 - s0)
/// [V_full - S (1 - (s0 + s1)/2) + I R]; constant voltage: V_full Q_cv.
/// Valid: as charge_current_at_cv_A.
/// Ignores the curve of the open-circuit voltage below the top.
/// Source: integral of V I.
/// Checked by: model/elec_test.
template <class R>
R charge_energy_J(const ChargePack<R>& pack, const ChargeRun<R>& run) {
  const R s1 = charge_soc_at_cv(pack, run);
  const R middle = (run.soc_start + s1) / num<R>(2);
  const R mean_V = pack.voltage_full_V - pack.slope_V * (num<R>(1) - middle) +
                   run.current_A * pack.resistance_ohm;
  return pack.charge_C * (s1 - run.soc_start) * mean_V +
         pack.voltage_full_V * charge_cv_C(pack, run);
}

/// Energy from the wall: E / eta.  Result in J.
/// Valid: 0 < efficiency <= 1; outside: NaN.
/// Ignores the charger's fan and standby.
/// Source: power balance.
/// Checked by: values/charging.tsv.
template <class R>
R charge_wall_J(R energy_pack_J, R efficiency) {
  return valid_where<R>((efficiency > num<R>(0)) & (efficiency <= num<R>(1)),
                        energy_pack_J / efficiency);
}

/// Energy efficiency of a charge and discharge at the same current: (OCV - I R) / (OCV + I R).
/// Valid: voltage_open_V > 0, I R < OCV; outside: NaN.
/// Ignores hysteresis and lost charge.
/// Source: Ohm's law.
/// Checked by: values/charging.tsv.
template <class R>
R round_trip_efficiency(R voltage_open_V, R resistance_ohm, R current_A) {
  const R sag_V = current_A * resistance_ohm;
  return valid_where<R>((voltage_open_V > num<R>(0)) & (sag_V < voltage_open_V),
                        (voltage_open_V - sag_V) / (voltage_open_V + sag_V));
}

}  // namespace ww::model
