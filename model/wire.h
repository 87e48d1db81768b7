// SPDX-License-Identifier: MIT Conductors: wire sizes of the American gauge and of IEC 60228, and
// their resistance with temperature.
// Invariants:
// 1. Gauge numbers are plain: 6 is 6 AWG, 0 is 1/0, -1 is 2/0, -3 is 4/0.
// 2. A length is the length of conductor the current flows through: 2 m for a pair of 1 m.
// 3. For a stranded cable the resistance per metre of its standard is the truth, not resistivity
//    over the nominal area, which is only the cable's name.
#pragma once

#include "base/num.h"
#include "model/constants.h"

namespace ww::model {

/// Metal of a conductor: resistivity at a reference temperature and its linear coefficient there.
template <class R>
struct ConductorMetal {
  R resistivity_ohmm;
  R temperature_reference_K;
  R coefficient_perK;
};

/// Annealed copper of 100 % IACS: 0.017241 ohm mm2/m at 20 degC, 0.00393 per K.
/// Source: IEC 60028 (from memory, agrees with the printed wire tables).
/// Checked by: values/wire.tsv.
template <class R>
constexpr ConductorMetal<R> annealed_copper() {
  return {.resistivity_ohmm = constant<R>(1.7241e-8, {.kg = 1, .m = 3, .s = -3, .A = -2}),
          .temperature_reference_K = constant<R>(293.15, {.K = 1}),
          .coefficient_perK = constant<R>(0.00393, {.K = -1})};
}

/// Hard-drawn conductor aluminium of 61 % IACS: 0.028264 ohm mm2/m at 20 degC, 0.00403 per K.
/// Source: IEC 60889 (from memory).
/// Checked by: values/wire.tsv.
template <class R>
constexpr ConductorMetal<R> conductor_aluminium() {
  return {.resistivity_ohmm = constant<R>(2.8264e-8, {.kg = 1, .m = 3, .s = -3, .A = -2}),
          .temperature_reference_K = constant<R>(293.15, {.K = 1}),
          .coefficient_perK = constant<R>(0.00403, {.K = -1})};
}

/// Diameter of the solid round wire of a gauge: d = 0.005 in * 92^((36 - n)/39).  Result in m.
/// Valid: any gauge number, 4/0 as -3 up to 56.
/// Ignores stranding, which adds about 2 % to the resistance.
/// Source: ASTM B258.
/// Checked by: values/wire.tsv, model/elec_test.
template <class R>
R awg_diameter_m(R gauge) {
  return constant<R>(0.005 * 0.0254, {.m = 1}) * pow(num<R>(92), (num<R>(36) - gauge) / num<R>(39));
}

/// Gauge number of a wire diameter, the inverse of awg_diameter_m; a fraction between two gauges.
/// Valid: diameter_m > 0; outside: NaN.
/// Ignores the rounding of printed tables.
/// Source: ASTM B258.
/// Checked by: model/elec_test.
template <class R>
R awg_gauge(R diameter_m) {
  const R ratio = diameter_m / constant<R>(0.005 * 0.0254, {.m = 1});
  return valid_where<R>(ratio > num<R>(0), num<R>(36) - num<R>(39) * log(ratio) / log(num<R>(92)));
}

/// Area of a circle: A = pi d^2 / 4.  Result in m2.
/// Valid: any diameter.
/// Ignores nothing.
/// Source: geometry.
/// Checked by: values/wire.tsv.
template <class R>
R circle_area_m2(R diameter_m) {
  return num<R>(pi / 4) * square(diameter_m);
}

/// Diameter of the circle that a bundle of strands fills: d = sqrt(4 A / (pi fill)).  Result in m.
/// `fill` is the share of metal in the circle: 1 solid, about 0.75 for seven strands, about 0.6 for
/// the fine strands of class 5. Valid for area_m2 >= 0, 0 < fill <= 1.
/// Valid: area_m2 >= 0, 0 < fill <= 1; outside: NaN.
/// Ignores out-of-round bundles.
/// Source: geometry; the fill shares are common practice, no source.
/// Checked by: model/elec_test.
template <class R>
R strand_diameter_m(R area_m2, R fill) {
  return valid_where<R>((area_m2 >= num<R>(0)) & (fill > num<R>(0)) & (fill <= num<R>(1)),
                        sqrt(num<R>(4 / pi) * area_m2 / fill));
}

/// One circular mil, the area of a circle of 0.001 in diameter.
inline constexpr double circular_mil_m2 = pi / 4 * 25.4e-6 * 25.4e-6;

/// Resistance relative to that at the metal's reference temperature: 1 + a (T - Tref).
/// Valid: about 200 K to 600 K for copper and aluminium.
/// Ignores the slight curve beyond.
/// Source: IEC 60228 annex, IEC 60028.
/// Checked by: values/wire.tsv.
template <class R>
R wire_resistance_ratio(const ConductorMetal<R>& metal, R temperature_K) {
  return num<R>(1) + metal.coefficient_perK * (temperature_K - metal.temperature_reference_K);
}

/// Temperature at which a resistance is `ratio` times that at the reference temperature.  Result in
/// K.
/// Valid: ratio > 0; outside: NaN.
/// Ignores the slight curve beyond 600 K.
/// Source: inverse of the linear law of IEC 60228.
/// Checked by: model/elec_test.
template <class R>
R wire_temperature_K(const ConductorMetal<R>& metal, R ratio) {
  return valid_where<R>(ratio > num<R>(0), metal.temperature_reference_K +
                                               (ratio - num<R>(1)) / metal.coefficient_perK);
}

/// Resistance per metre of a homogeneous conductor: rho (1 + a (T - Tref)) / A.  Result in ohm/m.
/// Valid: area_m2 > 0; outside: NaN.
/// Ignores stranding (about +2 %), skin effect, joints.
/// Source: IEC 60028, definition of resistivity.
/// Checked by: values/wire.tsv.
template <class R>
R wire_resistance_ohmpm(const ConductorMetal<R>& metal, R area_m2, R temperature_K) {
  return valid_where<R>(
      area_m2 > num<R>(0),
      metal.resistivity_ohmm * wire_resistance_ratio(metal, temperature_K) / area_m2);
}

/// Area of the homogeneous conductor that has this resistance per metre at the reference
/// temperature.
/// Valid: resistance_ohmpm > 0; outside: NaN.
/// Ignores nothing beyond its definition.
/// Source: definition of resistivity.
/// Checked by: values/wire.tsv.
template <class R>
R wire_equivalent_area_m2(const ConductorMetal<R>& metal, R resistance_ohmpm) {
  return valid_where<R>(resistance_ohmpm > num<R>(0), metal.resistivity_ohmm / resistance_ohmpm);
}

/// Factor that brings a resistance measured at a temperature to 20 degC: 250 / (230 + t), t in
/// degC.
/// Valid: temperature_K > 43.15; outside: NaN.
/// Ignores the metal: the standard uses one law for all.
/// Source: IEC 60228 annex on temperature correction.
/// Checked by: values/wire.tsv.
template <class R>
R iec_factor_to_20degC(R temperature_K) {
  const R above_K = temperature_K - constant<R>(43.15, {.K = 1});
  return valid_where<R>(above_K > num<R>(0), constant<R>(250, {.K = 1}) / above_K);
}

/// A conductor in use: all the length the current passes, at its temperature.
template <class R>
struct WireRun {
  R resistance_ohmpm;
  R length_m;
  R current_A;
};

/// Voltage lost along a run: I R' l.  Result in V.
/// Valid: any sign of current.
/// Ignores lugs and joints: add their resistance as length.
/// Source: Ohm's law.
/// Checked by: values/wire.tsv.
template <class R>
R wire_drop_V(const WireRun<R>& run) {
  return run.current_A * run.resistance_ohmpm * run.length_m;
}

/// Heat made along a run: I^2 R' l.  Result in W.
/// Valid: any sign of current; use the root mean square of a changing one.
/// Ignores lugs and joints.
/// Source: Joule's law.
/// Checked by: values/wire.tsv.
template <class R>
R wire_loss_W(const WireRun<R>& run) {
  return run.current_A * wire_drop_V(run);
}

}  // namespace ww::model
