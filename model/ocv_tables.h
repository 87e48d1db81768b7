// SPDX-License-Identifier: MIT
// Published open-circuit curves at 25 degrees Celsius, one a class of cell.
#pragma once

#include <span>

#include "model/chemistry.h"
#include "model/ocv.h"

namespace ww::model {

struct OcvPoint {
  double soc;
  double voltage_V;
};

/// nmc_nca: 21700 power cell, measured. nmc111: 18650 cell with NMC111. lto: an estimate, cathode
/// curve less 1.56 V. sodium: a straight line between the trade's end voltages.
enum class OcvCurve : unsigned char { none, nmc_nca, nmc111, lfp, lco, lto, sodium };

/// The class curve a chemistry takes when the cell itself was not measured; none: no curve here.
constexpr OcvCurve ocv_curve(Chemistry chemistry) {
  switch (chemistry) {
    case Chemistry::lfp:
      return OcvCurve::lfp;
    case Chemistry::nmc:
    case Chemistry::nca:
      return OcvCurve::nmc_nca;
    case Chemistry::lco:
      return OcvCurve::lco;
    case Chemistry::lto:
      return OcvCurve::lto;
    case Chemistry::sodium:
      return OcvCurve::sodium;
    case Chemistry::lead:
    case Chemistry::unknown:
      break;
  }
  return OcvCurve::none;
}

/// The curve's breakpoints, state of charge ascending from 0 to 1. Voltages in V.
/// Valid: 25 degrees Celsius, slow charge and discharge averaged; none: no points.
/// Ignores the 25 mV step of LFP near 0.65, hysteresis, other temperatures, cells of another make.
/// Source: nmc_nca, lfp: Sunil, Pattipati & Balasingam 2025, IEEE TIM; nmc111: Schmalstieg/Ecker
/// 2014, digitised; lco: Chen & Rincon-Mora 2006, IEEE Trans. Energy Conv. 21(2); lto: estimate
/// here; sodium: common practice, no source. Checked by: values/ocv.tsv.
std::span<const OcvPoint> ocv_points(OcvCurve curve);

/// The ramps through 2 to 17 breakpoints, state of charge ascending from 0 to 1.
/// Valid: voltages that rise with the state of charge; no points: a curve of NaN.
/// Source: definition. Checked by: model/cell_test (against interpolation).
OcvRamps<double> ocv_ramps(std::span<const OcvPoint> points);

/// The ramps of a chemistry's class curve; NaN where there is none (lead, unknown).
/// Valid: a chemistry with a curve here; others NaN.
/// Source: as ocv_points. Checked by: values/ocv.tsv.
OcvRamps<double> ocv_ramps(Chemistry chemistry);

}  // namespace ww::model
