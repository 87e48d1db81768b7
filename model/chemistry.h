// SPDX-License-Identifier: MIT
// Cell chemistries and the voltage, charging and temperature limits a class of cells has. They are
// defaults for a cell whose own data sheet is missing; the sheet of the cell wins.
#pragma once

#include <limits>

namespace ww::model {

enum class Chemistry : unsigned char { unknown, lfp, nmc, nca, lco, lto, sodium, lead };

/// Limits of one cell (lead: one 2 V cell of the block).
struct CellLimits {
  double full_V;             ///< the charger's constant-voltage level
  double nominal_V;          ///< the label's voltage
  double empty_V;            ///< practical empty, at rest or under light load
  double absolute_min_V;     ///< never below, not even under load
  double charge_rate_per_h;  ///< continuous charge current as a share of capacity per hour ("C")
  double charge_stop_K;      ///< no charging at or below this cell temperature
  double charge_full_K;      ///< full charge current from this cell temperature on
};

/// Class limits of a cell. Result in V, 1/h and K; NaN for an unknown chemistry.
/// Valid: one cell of the class; a data sheet's own limits replace them.
/// Ignores high-voltage variants (4.35 V cobalt cells), hot limits and pulses.
/// Source: LTO voltages Green Car Congress 2008; sodium from trade listings, common practice, no
/// source; the rest from memory of data sheets.
/// Checked by: values/ocv.tsv (pack voltages).
constexpr CellLimits cell_limits(Chemistry chemistry) {
  constexpr double none = std::numeric_limits<double>::quiet_NaN();
  constexpr double freezing = 273.15;
  switch (chemistry) {
    case Chemistry::lfp:
      return {3.65, 3.2, 2.8, 2.5, 0.5, freezing, freezing + 10};
    case Chemistry::nmc:
    case Chemistry::nca:
      return {4.20, 3.6, 3.0, 2.5, 0.5, freezing, freezing + 10};
    case Chemistry::lco:
      return {4.20, 3.7, 3.2, 3.0, 1.0, freezing, freezing + 10};
    case Chemistry::lto:
      return {2.70, 2.3, 1.8, 1.5, 3.0, freezing - 30, freezing - 20};
    case Chemistry::sodium:
      return {3.95, 3.05, 2.0, 2.0, 0.5, freezing, freezing + 10};
    case Chemistry::lead:
      return {2.40, 2.0, 1.75, 1.67, 0.15, freezing, freezing + 10};
    case Chemistry::unknown:
      break;
  }
  return {none, none, none, none, none, none, none};
}

}  // namespace ww::model
