// SPDX-License-Identifier: MIT
// Flat bars: section, current density, resistance, and steady temperature in still air.
// Invariant: the heat balance is that of ampacity.h with no insulation; the bar acts like a
// cylinder of the same perimeter.
#pragma once

#include "base/num.h"
#include "model/ampacity.h"

namespace ww::model {

/// A flat bar. Emissivity: bright 0.1, tarnished 0.4, painted or sleeved 0.9.
template <class R>
struct Busbar {
  ConductorMetal<R> metal;
  R width_m;
  R thickness_m;
  R emissivity;
};

/// Section: w t.  Result in m2.
/// Valid: full section; where holes weaken it, take the width that is left.
/// Ignores rounded edges.
/// Source: geometry.
/// Checked by: values/busbar.tsv.
template <class R>
R busbar_area_m2(const Busbar<R>& bar) {
  return bar.width_m * bar.thickness_m;
}

/// Current density: I / (w t).  Result in A/m2; 1 A/mm2 is 1e6 A/m2.
/// Common practice, no source: copper up to 5 to 6 A/mm2 continuous.
/// Valid: section > 0; outside: NaN.
/// Ignores the crowding near holes.
/// Source: definition.
/// Checked by: values/busbar.tsv.
template <class R>
R busbar_density_Apm2(const Busbar<R>& bar, R current_A) {
  const R area = busbar_area_m2(bar);
  return valid_where<R>(area > num<R>(0), current_A / area);
}

/// Resistance between two points of the bar at a temperature.  Result in ohm.
/// Valid: section > 0; outside: NaN.
/// Ignores the joints, which often weigh more than the bar.
/// Source: definition of resistivity.
/// Checked by: values/busbar.tsv.
template <class R>
R busbar_resistance_ohm(const Busbar<R>& bar, R length_m, R temperature_K) {
  return length_m * wire_resistance_ohmpm(bar.metal, busbar_area_m2(bar), temperature_K);
}

/// Steady temperature of a long bar on edge in air.  Result in K.
/// Valid: result up to 600 K; outside: NaN.
/// Ignores the cells and lugs at its ends, which lead heat in or out: a short bar follows them.
/// Source: heat balance of ampacity.h.
/// Checked by: values/busbar.tsv, model/elec_test.
template <class R>
R busbar_temperature_K(const Busbar<R>& bar, const AirAround<R>& air, R current_A) {
  const R perimeter_m = num<R>(2) * (bar.width_m + bar.thickness_m);
  const R ohmpm =
      wire_resistance_ohmpm(bar.metal, busbar_area_m2(bar), bar.metal.temperature_reference_K);

  return detail::conductor_temperature_K<R>(
      {.metal = bar.metal, .heating_Wpm = square(current_A) * ohmpm, .layers_mKpW = num<R>(0)},
      {.perimeter_m = perimeter_m,
       .diameter_m = perimeter_m / num<R>(pi),
       .emissivity = bar.emissivity},
      air);
}

}  // namespace ww::model
