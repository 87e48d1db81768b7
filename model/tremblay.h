// SPDX-License-Identifier: MIT
// A published whole-cell voltage model with six constants (Tremblay & Dessaint 2009), in SI form:
// x is the removed share of the capacity, so that every constant is a voltage, a resistance or
// pure.
#pragma once

#include "base/num.h"
#include "model/constants.h"

namespace ww::model {

template <class R>
struct TremblayCell {
  R emf_V;
  R resistance_ohm;
  R polarisation_ohm;  ///< the paper's K as a resistance
  R polarisation_V;    ///< the paper's K (V/Ah) times the capacity
  R exponential_V;     ///< A
  R exponential_rate;  ///< B times the capacity
};

/// The paper's LFP cell: 2.3 Ah, E0 3.366 V, R 0.01 ohm, K 0.0076, A 0.26422 V, B 26.5487 /Ah.
template <class R>
TremblayCell<R> tremblay_lfp_cell() {
  const double charge_Ah = 2.3;
  const Unit volt{.kg = 1, .m = 2, .s = -3, .A = -1};
  const Unit ohm{.kg = 1, .m = 2, .s = -3, .A = -2};
  return {.emf_V = constant<R>(3.366, volt),
          .resistance_ohm = constant<R>(0.01, ohm),
          .polarisation_ohm = constant<R>(0.0076, ohm),
          .polarisation_V = constant<R>(0.0076 * charge_Ah, volt),
          .exponential_V = constant<R>(0.26422, volt),
          .exponential_rate = num<R>(26.5487 * charge_Ah)};
}

/// What the voltage depends on at one instant.
template <class R>
struct TremblayState {
  R removed;             ///< share of the capacity taken out, 0 full
  R current_A;           ///< discharge positive
  R current_filtered_A;  ///< the same through a low-pass of about 30 s; steady: equal
};

namespace detail {
/// What discharge and charge have in common.
template <class R>
R tremblay_common_V(const TremblayCell<R>& cell, const TremblayState<R>& at) {
  const R x = at.removed;
  return cell.emf_V - cell.polarisation_V * x / (num<R>(1) - x) +
         cell.exponential_V * exp(-cell.exponential_rate * x) - cell.resistance_ohm * at.current_A;
}
}  // namespace detail

/// Terminal voltage while discharging. Result in V.
/// Valid: 0 <= removed < 1; outside: NaN.
/// Ignores temperature, ageing and the capacity's dependence on current.
/// Source: Tremblay & Dessaint 2009, World EV Journal 3. Checked by: values/cell.tsv.
template <class R>
R tremblay_discharge_V(const TremblayCell<R>& cell, const TremblayState<R>& at) {
  const R x = at.removed;
  return valid_where<R>((x >= num<R>(0)) & (x < num<R>(1)),
                        detail::tremblay_common_V(cell, at) -
                            cell.polarisation_ohm / (num<R>(1) - x) * at.current_filtered_A);
}

/// Terminal voltage while charging: the polarisation resistance falls from full to empty. In V.
/// Valid: 0 <= removed < 1; outside: NaN. Charging currents are negative.
/// Ignores what tremblay_discharge_V ignores.
/// Source: Tremblay & Dessaint 2009, World EV Journal 3. Checked by: model/cell_test.
template <class R>
R tremblay_charge_V(const TremblayCell<R>& cell, const TremblayState<R>& at) {
  const R x = at.removed;
  return valid_where<R>((x >= num<R>(0)) & (x < num<R>(1)),
                        detail::tremblay_common_V(cell, at) -
                            cell.polarisation_ohm / (num<R>(0.1) + x) * at.current_filtered_A);
}

}  // namespace ww::model
