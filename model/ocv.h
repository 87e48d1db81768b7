// SPDX-License-Identifier: MIT
// Open-circuit voltage of a cell against its state of charge, as a sum of ramps:
//   V(s) = V0 + sum_i k_i max(0, s - s_i)
// so that a batch needs no gather: every lane runs the same sixteen ramps. Invariants:
// 1. knot[0] is 0 and the knots ascend; unused ramps have slope 0.
// 2. The voltage rises with s: slope_V[0] > 0 and no partial sum of slopes is negative.
// 3. Only + - * / min max select: double and a batch give the same bits.
#pragma once

#include <array>
#include <cstddef>

#include "base/num.h"
#include "model/bisect.h"

namespace ww::model {

inline constexpr std::size_t ocv_ramp_count = 16;

template <class R>
struct OcvRamps {
  R empty_V;                              ///< at state of charge 0
  std::array<R, ocv_ramp_count> knot;     ///< state of charge where the ramp begins
  std::array<R, ocv_ramp_count> slope_V;  ///< change of slope there, V per unit state of charge
};

/// The same curve with numbers of type R: one table for all lanes.
template <class R>
OcvRamps<R> lifted(const OcvRamps<double>& curve) {
  OcvRamps<R> r{.empty_V = num<R>(curve.empty_V), .knot = {}, .slope_V = {}};
  for (std::size_t i = 0; i < ocv_ramp_count; ++i) {
    r.knot[i] = num<R>(curve.knot[i]);
    r.slope_V[i] = num<R>(curve.slope_V[i]);
  }
  return r;
}

/// Open-circuit voltage. Result in V.
/// Valid: 0 <= soc <= 1; outside, the value at that end.
/// Ignores hysteresis (LFP 10-30 mV, NMC 5-15 mV) and the shift with temperature.
/// Source: tables in model/ocv_tables.h. Checked by: values/ocv.tsv, model/cell_test.
template <class R>
R ocv_V(const OcvRamps<R>& curve, R soc) {
  const R s = clamp(soc, num<R>(0), num<R>(1));
  R v = curve.empty_V;
  for (std::size_t i = 0; i < ocv_ramp_count; ++i) {
    v += curve.slope_V[i] * max(num<R>(0), s - curve.knot[i]);
  }
  return v;
}

/// Slope dV/ds of the open-circuit voltage; at a knot the slope above it. Result in V.
/// Valid: 0 <= soc <= 1; above 1 the last slope, below 0 none.
/// Ignores the rounding of a real curve at the knots.
/// Source: derivative of ocv_V. Checked by: model/cell_test.
template <class R>
R ocv_slope_V(const OcvRamps<R>& curve, R soc) {
  R k = num<R>(0);
  for (std::size_t i = 0; i < ocv_ramp_count; ++i) {
    k += select(soc >= curve.knot[i], curve.slope_V[i], num<R>(0));
  }
  return k;
}

/// Integral of the open-circuit voltage over the state of charge, closed form; times the charge it
/// is the chemical energy between the two states. Negative when to < from. Result in V.
/// Valid: 0 <= from, to <= 1; the part outside is held to that range.
/// Ignores hysteresis.
/// Source: integral of ocv_V. Checked by: values/ocv.tsv (means), model/cell_test.
template <class R>
R ocv_integral_V(const OcvRamps<R>& curve, R from, R to) {
  const R a = clamp(from, num<R>(0), num<R>(1));
  const R b = clamp(to, num<R>(0), num<R>(1));
  R sum = curve.empty_V * (b - a);
  for (std::size_t i = 0; i < ocv_ramp_count; ++i) {
    const R above_b = max(num<R>(0), b - curve.knot[i]);
    const R above_a = max(num<R>(0), a - curve.knot[i]);
    sum += num<R>(0.5) * curve.slope_V[i] * (above_b * above_b - above_a * above_a);
  }
  return sum;
}

/// Mean open-circuit voltage over the whole charge. Result in V.
/// Valid: any curve.
/// Ignores hysteresis.
/// Source: definition. Checked by: values/ocv.tsv.
template <class R>
R ocv_mean_V(const OcvRamps<R>& curve) {
  return ocv_integral_V(curve, num<R>(0), num<R>(1));
}

/// Mean open-circuit voltage between two states of charge. Result in V.
/// Valid: from != to, both 0..1; equal: NaN.
/// Ignores hysteresis.
/// Source: definition. Checked by: model/cell_test.
template <class R>
R ocv_mean_V(const OcvRamps<R>& curve, R from, R to) {
  return ocv_integral_V(curve, from, to) / (to - from);
}

namespace detail {
/// The inverse, continued beyond both ends with the slope there. The last Newton step makes it
/// exact on its ramp and carries derivatives.
template <class R>
R soc_unbounded(const OcvRamps<R>& curve, R voltage_V) {
  const R s = bisected(num<R>(0), num<R>(1),
                       [&](const R& middle) { return ocv_V(curve, middle) < voltage_V; });
  return s + (voltage_V - ocv_V(curve, s)) / ocv_slope_V(curve, s);
}
}  // namespace detail

/// State of charge with this open-circuit voltage, by bisection and one Newton step. Result 0..1.
/// Valid: rested cell; a voltage beyond the curve's ends gives 0 or 1.
/// Ignores hysteresis: on the flat middle of an LFP curve the answer means nothing (15-95 %).
/// Source: inverse of ocv_V. Checked by: model/cell_test (round trip).
template <class R>
R soc_at_ocv(const OcvRamps<R>& curve, R voltage_V) {
  return clamp(detail::soc_unbounded(curve, voltage_V), num<R>(0), num<R>(1));
}

/// The voltages between which a cell's own capacity is stated.
template <class R>
struct OcvWindow {
  R empty_V;
  R full_V;
};

/// The class curve for a cell with its own empty and full voltage: the state-of-charge axis is
/// stretched so that 0 and 1 fall on them, and the plateau stays where the chemistry puts it.
/// Valid: empty_V < full_V, both near the class curve's ends (its end slopes are continued).
/// Ignores that a cell of another make has another plateau.
/// Source: derived here. Checked by: model/cell_test (ends, plateau, round trip).
template <class R>
OcvRamps<R> scaled(const OcvRamps<R>& curve, const OcvWindow<R>& cell) {
  const R low = detail::soc_unbounded(curve, cell.empty_V);
  const R high = detail::soc_unbounded(curve, cell.full_V);
  const R width = high - low;
  OcvRamps<R> r{.empty_V = cell.empty_V, .knot = {}, .slope_V = {}};
  // A ramp that begins below the window is a ramp from its lower end: the constant it adds there
  // is part of empty_V already.
  for (std::size_t i = 0; i < ocv_ramp_count; ++i) {
    r.knot[i] = clamp((curve.knot[i] - low) / width, num<R>(0), num<R>(1));
    r.slope_V[i] = curve.slope_V[i] * width;
  }
  r.knot[0] = num<R>(0);
  return r;
}

}  // namespace ww::model
