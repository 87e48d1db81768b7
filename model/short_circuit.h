// SPDX-License-Identifier: MIT Seconds of fault current: what a conductor survives, when it melts,
// and how much current there is.
// Invariants:
// 1. I2t values are in A2s; k is in A s^(1/2) per m2, a millionth of its size in the standard's
//    mm2.
// 2. Heating is adiabatic, so every answer about a cable errs to the careful side beyond 5 s. An
//    answer about a fuse that must melt does not: use its curve.
#pragma once

#include "base/num.h"
#include "model/constants.h"
#include "model/wire.h"

namespace ww::model {

/// A metal heated without loss: k^2 = constant * ln(1 + (Tf - Ti)/(Ti - zero)), `zero` being the
/// temperature at which the linear law gives no resistance.
template <class R>
struct AdiabaticMetal {
  R constant_A2spm4;
  R temperature_zero_K;
};

/// Copper: 226 A s^(1/2)/mm2 and 234.5 degC below zero.
/// Source: IEC 60364-5-54 annex A.
/// Checked by: values/short_circuit.tsv.
template <class R>
constexpr AdiabaticMetal<R> adiabatic_copper() {
  return {.constant_A2spm4 = constant<R>(226e6 * 226e6, {.m = -4, .s = 1, .A = 2}),
          .temperature_zero_K = constant<R>(273.15 - 234.5, {.K = 1})};
}

/// k for a start and an end temperature: sqrt(constant * ln(1 + (Tf - Ti)/(Ti - zero))).
/// Valid: temperature_end_K >= temperature_start_K > zero; outside: NaN.
/// Ignores heat given to the insulation (a few per cent on the careful side).
/// Source: IEC 60364-5-54 annex A.
/// Checked by: values/short_circuit.tsv, model/elec_test.
template <class R>
R adiabatic_k(const AdiabaticMetal<R>& metal, R temperature_start_K, R temperature_end_K) {
  const R above_K = temperature_start_K - metal.temperature_zero_K;
  const R rise_K = temperature_end_K - temperature_start_K;
  return valid_where<R>((above_K > num<R>(0)) & (rise_K >= num<R>(0)),
                        sqrt(metal.constant_A2spm4 * log(num<R>(1) + rise_K / above_K)));
}

/// Largest I2t a conductor survives: (k S)^2.  Result in A2s.
/// Valid: times up to 5 s; beyond, it survives more than this says.
/// Ignores heat lost on the way.
/// Source: IEC 60364-4-43.
/// Checked by: values/short_circuit.tsv.
template <class R>
R adiabatic_withstand_A2s(R k, R area_m2) {
  return square(k * area_m2);
}

/// Smallest section that survives an I2t: sqrt(I2t) / k.  Result in m2.
/// Valid: times up to 5 s; beyond, it asks for more than needed.
/// Ignores heat lost on the way.
/// Source: IEC 60364-5-54.
/// Checked by: values/short_circuit.tsv, model/elec_test.
template <class R>
R adiabatic_section_m2(R k, R I2t_A2s) {
  return sqrt(I2t_A2s) / k;
}

/// Time a conductor survives a current: (k S / I)^2.  Result in s.
/// Valid: results up to 5 s; beyond, it survives longer than this says.
/// Ignores heat lost on the way.
/// Source: IEC 60364-4-43.
/// Checked by: values/short_circuit.tsv.
template <class R>
R adiabatic_time_s(R k, R area_m2, R current_A) {
  return square(k * area_m2 / current_A);
}

/// Current a conductor survives for a time: k S / sqrt(t).  Result in A.
/// Valid: times up to 5 s; beyond, it survives more than this says.
/// Ignores heat lost on the way.
/// Source: IEC 60364-4-43.
/// Checked by: values/short_circuit.tsv, model/elec_test.
template <class R>
R adiabatic_current_A(R k, R area_m2, R time_s) {
  return k * area_m2 / sqrt(time_s);
}

/// A shock of current on a conductor of a section.
template <class R>
struct FaultPulse {
  R area_m2;
  R I2t_A2s;
};

/// Temperature after an I2t: Ti + (Ti - zero) (exp(I2t / (constant S^2)) - 1).  Result in K.
/// Valid: area_m2 > 0, start above zero; outside: NaN.
/// Ignores melting and heat lost: above the metal's melting point it only says 'melted'.
/// Source: inverse of the k formula of IEC 60364-5-54.
/// Checked by: model/elec_test.
template <class R>
R adiabatic_temperature_K(const AdiabaticMetal<R>& metal, const FaultPulse<R>& pulse,
                          R temperature_start_K) {
  const R above_K = temperature_start_K - metal.temperature_zero_K;
  const R share = pulse.I2t_A2s / (metal.constant_A2spm4 * square(pulse.area_m2));
  return valid_where<R>((pulse.area_m2 > num<R>(0)) & (above_K > num<R>(0)),
                        temperature_start_K + above_K * (exp(share) - num<R>(1)));
}

/// Two temperatures of a heated conductor.
template <class R>
struct TemperatureSpan {
  R start_K;
  R end_K;
};

/// Current a copper conductor survives for a time: I = A sqrt(0.0297 log10((T2 + 234)/(T1 + 234)) /
/// t), A in circular mils.  Result in A.
/// Valid: end_K >= start_K, time_s > 0 and up to 5 s; outside: NaN or careful.
/// Ignores heat lost on the way.
/// Source: IPCEA P-32-382.
/// Checked by: values/short_circuit.tsv.
template <class R>
R ipcea_current_A(R area_m2, R time_s, const TemperatureSpan<R>& span) {
  const R factor =
      constant<R>(0.0297 / (circular_mil_m2 * circular_mil_m2), {.m = -4, .s = 1, .A = 2});
  const R zero_K = constant<R>(273.15 - 234, {.K = 1});
  const R decades = log((span.end_K - zero_K) / (span.start_K - zero_K)) / log(num<R>(10));
  return area_m2 * sqrt(factor * decades / time_s);
}

/// Current that melts a copper conductor in a time (Onderdonk): I = A sqrt(log10(1 + (Tm - Ta)/(234
/// + Ta)) / (33 t)), A in circular mils, Tm = 1083 degC.  Result in A.
/// Valid: time_s > 0 and up to about 10 s, temperature below melting; outside: NaN or careful.
/// Ignores heat lost and the heat of melting.
/// Source: Stauffacher 1928, General Electric Review.
/// Checked by: values/short_circuit.tsv.
template <class R>
R onderdonk_fusing_A(R area_m2, R time_s, R temperature_start_K) {
  const R factor =
      constant<R>(1 / (33 * circular_mil_m2 * circular_mil_m2), {.m = -4, .s = 1, .A = 2});
  const R above_K = temperature_start_K - constant<R>(273.15 - 234, {.K = 1});
  const R rise_K = constant<R>(273.15 + 1083, {.K = 1}) - temperature_start_K;
  const R decades = log(num<R>(1) + rise_K / above_K) / log(num<R>(10));
  return area_m2 * sqrt(factor * decades / time_s);
}

/// Current that melts a bare copper wire in free air if it flows for long: 10244 d^1.5, d in inch.
/// Result in A.
/// Valid: round wire 0.02 mm to 3 mm; outside it reads too low for thick wire.
/// Ignores insulation and anything that cools or keeps warm.
/// Source: Preece 1884, via Stauffacher 1928.
/// Checked by: values/short_circuit.tsv.
template <class R>
R preece_fusing_A(R diameter_m) {
  return constant<R>(10244, {.A = 1}) *
         pow(diameter_m / constant<R>(0.0254, {.m = 1}), num<R>(1.5));
}

/// What a short circuit runs through.
template <class R>
struct FaultLoop {
  R voltage_open_V;
  R resistance_pack_ohm;
  R resistance_loop_ohm;  ///< everything between the terminals and back
};

/// Prospective short-circuit current: V / (Rpack + Rloop).  Result in A. For the fuse's interrupt
/// rating take the full, warm pack; for 'does it still melt' the empty, cold one.
/// Valid: resistances >= 0, their sum > 0; outside: NaN.
/// Ignores inductance (the current needs about L/R to rise) and the fault's own arc.
/// Source: Ohm's law.
/// Checked by: values/short_circuit.tsv.
template <class R>
R prospective_current_A(const FaultLoop<R>& loop) {
  const R total = loop.resistance_pack_ohm + loop.resistance_loop_ohm;
  return valid_where<R>(total > num<R>(0), loop.voltage_open_V / total);
}

/// A short as its current rises: what it ends at, and L/R of all it runs through.
template <class R>
struct FaultRise {
  R current_A;
  R constant_s;
};

/// Current of a short a time after it began: I (1 - exp(-t/tau)).  Result in A.
/// Valid: time_s >= 0, constant_s > 0; outside: NaN.
/// Ignores the fault's own arc and the pack's slow sag: both lower it.
/// Source: series RL circuit.
/// Checked by: values/short_circuit.tsv, model/elec_fault_test (ngspice).
template <class R>
R fault_current_A(const FaultRise<R>& f, R time_s) {
  return valid_where<R>((time_s >= num<R>(0)) & (f.constant_s > num<R>(0)),
                        f.current_A * (num<R>(1) - exp(-(time_s / f.constant_s))));
}

/// I2t of a short from its beginning: I^2 [t - 2 tau (1 - e) + tau/2 (1 - e^2)], e = exp(-t/tau).
/// Result in A2s.
/// Valid: time_s >= 0, constant_s > 0; outside: NaN.
/// Ignores the fault's own arc.
/// Source: integral of the squared fault_current_A.
/// Checked by: values/short_circuit.tsv, model/elec_fault_test (ngspice).
template <class R>
R fault_I2t_A2s(const FaultRise<R>& f, R time_s) {
  const R e = exp(-(time_s / f.constant_s));
  const R shape = time_s - num<R>(2) * f.constant_s * (num<R>(1) - e) +
                  f.constant_s / num<R>(2) * (num<R>(1) - square(e));
  return valid_where<R>((time_s >= num<R>(0)) & (f.constant_s > num<R>(0)),
                        square(f.current_A) * shape);
}

/// Time until a short has given an I2t, the inverse of fault_I2t_A2s: 48 Newton steps down from the
/// bound I2t/I^2 + 3 tau / 2; the curve bends upwards, so that each step stays above the root.
/// Result in s.
/// Valid: I2t_A2s > 0, current_A > 0, constant_s > 0; outside: NaN.
/// Ignores the fault's own arc.
/// Source: as fault_I2t_A2s.
/// Checked by: values/short_circuit.tsv, model/elec_fault_test (inverse pair, ngspice).
template <class R>
R fault_time_s(const FaultRise<R>& f, R I2t_A2s) {
  R time_s = I2t_A2s / square(f.current_A) + num<R>(1.5) * f.constant_s;
  for (int i = 0; i < 48; ++i) {
    const R slope = square(fault_current_A(f, time_s));
    time_s = time_s - (fault_I2t_A2s(f, time_s) - I2t_A2s) / slope;
  }
  return valid_where<R>((I2t_A2s > num<R>(0)) & (f.current_A > num<R>(0)), time_s);
}

}  // namespace ww::model
