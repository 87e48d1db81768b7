// SPDX-License-Identifier: MIT
// Tyres: size from the marking, rolling radius, load index and speed symbol.
// Invariants: the tables cover motorcycle tyres; outside them NaN, never a neighbour's value.
#pragma once

#include <array>
#include <limits>

#include "base/num.h"
#include "model/constants.h"

namespace ww::model {

template <class R>
struct TyreSize {
  R width_m;
  R aspect;  ///< height over width: 0.80 for 120/80-18, 1 for 3.50-18, 0.9 for low-profile inch
             ///< sizes
  R rim_m;   ///< nominal rim diameter: the code times 25.4 mm
};

/// Overall diameter of the new tyre: rim + 2 width aspect.
/// Valid: width_m > 0, 0.3 <= aspect <= 1.2, rim_m > 0; outside: NaN.
/// Ignores rim width (0.4 mm of section a mm), wear, growth at speed, tolerance (about 1 %).
/// Source: ISO 5751-1 and ETRTO marking rule.
/// Checked by: values/tyre_air.tsv.
template <class R>
R tyre_diameter_m(const TyreSize<R>& t) {
  return valid_where((t.width_m > num<R>(0)) & (t.aspect >= num<R>(0.3)) &
                         (t.aspect <= num<R>(1.2)) & (t.rim_m > num<R>(0)),
                     t.rim_m + num<R>(2) * t.width_m * t.aspect);
}

/// Circumference of the new tyre unloaded: pi D.
/// Checked by: values/tyre_air.tsv.
template <class R>
R tyre_circumference_m(R diameter_m) {
  return num<R>(pi) * diameter_m;
}

/// Effective rolling radius: circumference_factor D / 2 pi; 3.05 for a radial, 2.99 for a diagonal
/// tyre, pi unloaded.
/// Valid: diameter_m > 0, 2.8 <= circumference_factor <= 3.2; outside: NaN. Upright only.
/// Ignores lean (the radius falls), load, pressure, wear and speed. A measured roll-out is better.
/// Source: ETRTO, rolling circumference of car tyres, from memory; none for motorcycle tyres.
/// Checked by: values/tyre_air.tsv.
template <class R>
R rolling_radius_m(R diameter_m, R circumference_factor) {
  return valid_where((diameter_m > num<R>(0)) & (circumference_factor >= num<R>(2.8)) &
                         (circumference_factor <= num<R>(3.2)),
                     circumference_factor * diameter_m * num<R>(0.5 / pi));
}

/// Rolling radius from a measured roll-out: the distance the loaded wheel covers in whole turns.
/// Valid: distance_m > 0, turns > 0; outside: NaN.
/// Source: definition.
/// Checked by: values/tyre_air.tsv.
template <class R>
R rolling_radius_measured_m(R distance_m, R turns) {
  return valid_where((distance_m > num<R>(0)) & (turns > num<R>(0)),
                     distance_m / turns * num<R>(0.5 / pi));
}

/// Load index -> largest load in kg.
/// Valid: 20 <= index <= 90; outside: NaN.
/// Source: ETRTO/ISO 5751 load index table; 73 looked up, the rest from memory or common practice.
/// Checked by: values/tyre_air.tsv; tests/model/mech_test.cpp (same as data/standards/tyre.toml).
inline double load_index_kg(int index) {
  constexpr std::array<double, 71> loads_kg{
      80,  82.5, 85,  87.5, 90,  92.5, 95,  97.5, 100, 103,  // 20
      106, 109,  112, 115,  118, 121,  125, 128,  132, 136,  // 30
      140, 145,  150, 155,  160, 165,  170, 175,  180, 185,  // 40
      190, 195,  200, 206,  212, 218,  224, 230,  236, 243,  // 50
      250, 257,  265, 272,  280, 290,  300, 307,  315, 325,  // 60
      335, 345,  355, 365,  375, 387,  400, 412,  425, 437,  // 70
      450, 462,  475, 487,  500, 515,  530, 545,  560, 580,  // 80
      600};                                                  // 90
  if (index < 20 || index > 90) return std::numeric_limits<double>::quiet_NaN();
  return loads_kg[static_cast<std::size_t>(index - 20)];
}

/// Speed symbol -> largest speed in m/s.
/// Valid: the letters B to W without I, O, X and the odd place of H (between U and V); others: NaN.
/// Source: ETRTO/UN R75 speed symbols; J, L, P, S, H, V common practice, the rest from memory.
/// Checked by: values/tyre_air.tsv; tests/model/mech_test.cpp (same as data/standards/tyre.toml).
inline double speed_symbol_mps(char symbol) {
  struct Pair {
    char symbol;
    int speed_kmh;
  };
  constexpr std::array<Pair, 20> pairs{
      {{'B', 50},  {'C', 60},  {'D', 65},  {'E', 70},  {'F', 80},  {'G', 90},  {'J', 100},
       {'K', 110}, {'L', 120}, {'M', 130}, {'N', 140}, {'P', 150}, {'Q', 160}, {'R', 170},
       {'S', 180}, {'T', 190}, {'U', 200}, {'H', 210}, {'V', 240}, {'W', 270}}};
  for (const Pair& pair : pairs) {
    if (pair.symbol == symbol) return pair.speed_kmh / 3.6;
  }
  return std::numeric_limits<double>::quiet_NaN();
}

}  // namespace ww::model
