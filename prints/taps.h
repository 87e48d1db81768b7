// SPDX-License-Identifier: MIT
// The volts to expect at each sense tap. Private to prints/ and its tests.
#pragma once

#include <vector>

#include "prints/prints.h"

namespace ww::prints {

/// Volts from pack minus. NaN where something is not known.
struct Tap {
  int number;  ///< 0 is pack minus
  double empty_V, low_V, likely_V, high_V, full_V;
  bool over_60;  ///< when full, or when that is not known
};

/// Taps of a pack from minus to plus; none where the count of cells is not known or beyond 400.
/// At the charge asked for: the class curve of the chemistry between the cell's own end voltages;
/// low and high a tenth of the charge less and more, and the hysteresis of model/ocv.h (LFP 30 mV,
/// others 15 mV). Without a curve low and high are empty and full.
/// Valid: 0 <= subject.charge <= 1, taken to the nearer end outside.
std::vector<Tap> taps_of(const Subject& subject);

/// The tap at which a pack that is split in its middle is drawn split; 0 where it is not split.
int split_tap(const Subject& subject);

}  // namespace ww::prints
