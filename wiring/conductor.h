// SPDX-License-Identifier: MIT
// One conductor as it lies in the bike: how warm it gets, what it may carry, what it survives, from
// figures of which some may be unknown. The physics stands in model/; here stand the defaults.
// Invariants:
// 1. An unknown figure is NaN and falls back to a default that reads too hot rather than too cool.
// 2. Air round a conductor is under_cover_K warmer than the hottest day.
// 3. Answers are for the conductor far from its lugs.
#pragma once

#include <array>

#include "model/ampacity.h"
#include "model/fuse.h"

namespace ww::wiring {

/// Air round parts under covers and in boxes is this much warmer than the hottest day: common
/// practice, no source.
inline constexpr double under_cover_K = 10;

/// What is known of a cable and where it lies; all but the section may be NaN.
struct CableFigures {
  double section_m2;
  double resistance_ohmpm;  ///< at 20 degC
  double outer_diameter_m;
  double bundled;  ///< share of its free-air current
  double hottest_K;
  double sleeve_m = 0;           ///< thickness of what is pulled over it
  double sleeve_WpmK = 0.2;      ///< its conductivity, trapped air counted in
  double insulation_m = 1.6e-3;  ///< where the outer diameter is not known
};

/// Resistance per metre at 20 degC: as stated, else the most that IEC 60228 class 5 allows for the
/// next size up, scaled to this section. ohm/m.
/// Valid: section_m2 > 0. Checked by: tests/wiring/conductor_test.cpp.
double cable_ohmpm(double section_m2, double stated_ohmpm);

/// The cable and its place as the heat balance of model/ampacity.h takes them.
model::Cable<double> cable_of(const CableFigures& c);
model::CablePlace<double> place_of(const CableFigures& c);

/// Steady temperature at a current, K. Above 600 K, where the balance ends, it says 600 K: burnt
/// either way.
double cable_temperature_K(const CableFigures& c, double current_A);

/// Current that brings it to a temperature, A; NaN where the air is warmer than that.
double cable_current_A(const CableFigures& c, double temperature_max_K);

/// k from the insulation's limit to what it stands for seconds: 160 degC for what may be PVC (up to
/// 105 degC), 250 degC above (IEC 60364-5-54 annex A), at least 50 K more than its limit.
double cable_k(double temperature_max_K);

/// The largest I2t it survives, from its insulation's limit, A2s.
double cable_withstand_A2s(double section_m2, double temperature_max_K);

/// A fuse's curve from its rating and the times it needs at 2, 3, 5 and 10 times it.
struct MeltingTimes {
  double at_2x_s, at_3x_s, at_5x_s, at_10x_s;
};
using FusePoints = std::array<model::FusePoint<double>, 4>;
FusePoints fuse_points(double rating_A, const MeltingTimes& times);

/// What a small fuse is taken for where its curve is not known: the slow end of what battery and
/// semiconductor fuses do (data/standards/fuse.toml, rough_melting): common practice, no source.
inline constexpr MeltingTimes slowest_usual{120, 10, 0.5, 0.03};

/// The smallest small-fuse or standard rating of at least a current, A; NaN beyond 700 A. Small
/// ratings: blade and 10 x 38 mm fuses as sold, common practice, no source; from 35 A NEC 240.6.
double branch_rating_A(double current_A);

}  // namespace ww::wiring
