// SPDX-License-Identifier: MIT
// The exponential law of thermally activated change, used by cell resistance and insulation life.
#pragma once

#include "base/num.h"
#include "model/constants.h"

namespace ww::model {

/// Molar gas constant, 8.314462618 J/(mol K) (CODATA 2018); amounts of substance carry no unit
/// here.
template <class R>
constexpr R gas_constant() {
  return constant<R>(8.314462618, {.kg = 1, .m = 2, .s = -2, .K = -1});
}

/// exp[(E/R)(1/T - 1/T_ref)]: how many times slower the process runs at T than at T_ref.
/// Valid: both temperatures above 0 K; activation energy in J per mol (1 eV = 96485.33 J/mol).
/// Ignores that real processes change their activation energy with temperature.
/// Source: Arrhenius law. Checked by: values/cell.tsv, values/thermal.tsv.
template <class R>
R arrhenius_slowing(R activation_J_per_mol, R temperature_K, R reference_K) {
  return exp_exact<R>(activation_J_per_mol / gas_constant<R>() *
                      (num<R>(1) / temperature_K - num<R>(1) / reference_K));
}

}  // namespace ww::model
