// SPDX-License-Identifier: MIT
// A published complete cell: cobalt "lithium polymer", 0.85 Ah, every element a function of the
// state of charge. Used to hold the equivalent circuit against its published discharge curves.
#pragma once

#include "base/num.h"
#include "model/cell.h"
#include "model/constants.h"

namespace ww::model {

inline constexpr double lco_cell_charge_C = 0.85 * 3600;

namespace detail {
inline constexpr Unit lco_volt{.kg = 1, .m = 2, .s = -3, .A = -1};
inline constexpr Unit lco_ohm{.kg = 1, .m = 2, .s = -3, .A = -2};
inline constexpr Unit lco_farad{.kg = -1, .m = -2, .s = 4, .A = 2};
/// a exp(-b s) + c in the given unit.
template <class R>
R lco_decay(double a, double b, double c, Unit unit, R s) {
  return constant<R>(a, unit) * exp(num<R>(-b) * s) + constant<R>(c, unit);
}
}  // namespace detail

/// Open-circuit voltage of the cell. Result in V.
/// Valid: 0 <= soc <= 1; outside: NaN. The square term is negative (some copies print it positive).
/// Ignores temperature and hysteresis.
/// Source: Chen & Rincon-Mora 2006, IEEE Trans. Energy Conv. 21(2). Checked by: values/ocv.tsv.
template <class R>
R lco_ocv_V(R soc) {
  const R s = soc;
  const R polynomial = ((num<R>(0.3201) * s - num<R>(0.1178)) * s + num<R>(0.2156)) * s;
  return valid_where<R>((s >= num<R>(0)) & (s <= num<R>(1)),
                        detail::lco_decay(-1.031, 35.0, 3.685, detail::lco_volt, s) +
                            constant<R>(1, detail::lco_volt) * polynomial);
}

/// Series resistance of the cell. Result in ohm.
/// Valid: 0.02 <= soc <= 1; outside: NaN.
/// Ignores temperature.
/// Source: Chen & Rincon-Mora 2006. Checked by: values/cell.tsv.
template <class R>
R lco_series_ohm(R soc) {
  return valid_where<R>((soc >= num<R>(0.02)) & (soc <= num<R>(1)),
                        detail::lco_decay(0.1562, 24.37, 0.07446, detail::lco_ohm, soc));
}

/// The quick pair of the cell. Result in ohm and F.
/// Valid: 0.02 <= soc <= 1 (the fitted capacitance turns negative below 0.005).
/// Ignores temperature.
/// Source: Chen & Rincon-Mora 2006. Checked by: values/cell.tsv.
template <class R>
RcPair<R> lco_quick_pair(R soc) {
  return {.resistance_ohm = detail::lco_decay(0.3208, 29.14, 0.04669, detail::lco_ohm, soc),
          .capacitance_F = detail::lco_decay(-752.9, 13.51, 703.6, detail::lco_farad, soc)};
}

/// The slow pair of the cell. Result in ohm and F.
/// Valid: 0.02 <= soc <= 1 (the fitted capacitance turns negative below 0.0112).
/// Ignores temperature.
/// Source: Chen & Rincon-Mora 2006. Checked by: values/cell.tsv.
template <class R>
RcPair<R> lco_slow_pair(R soc) {
  return {.resistance_ohm = detail::lco_decay(6.603, 155.2, 0.04984, detail::lco_ohm, soc),
          .capacitance_F = detail::lco_decay(-6056.0, 27.12, 4475.0, detail::lco_farad, soc)};
}

}  // namespace ww::model
