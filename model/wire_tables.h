// SPDX-License-Identifier: MIT
// Tables of wire and fuse standards, for choosing a real size. The same figures stand in
// data/standards/wire.toml and fuse.toml with their sources; a test holds both alike.
// Invariants: every table rises in its first column; a figure that is not in the standard is NaN.
#pragma once

#include <span>

namespace ww::model {

/// A size of flexible (class 5) copper conductor: its name in m2 and the most resistance it may
/// have at 20 degC, plain and tinned. Source: IEC 60228 table 3.
struct Class5Size {
  double section_m2;
  double resistance_plain_ohmpm;
  double resistance_tinned_ohmpm;
};

/// A gauge and its published currents: in free air at 30 degC for insulation of 60, 75 and 90 degC,
/// and boat cable of 105 degC outside (30 degC) and inside (50 degC) engine spaces. Source: NEC
/// 310.17; 33 CFR 183.425.
struct GaugeCurrents {
  int gauge;
  double current_60C_A;
  double current_75C_A;
  double current_90C_A;
  double current_boat_A;
  double current_boat_engine_A;
};

/// Class 5 sizes from 1.5 mm2 to 120 mm2, rising.
std::span<const Class5Size> class5_sizes();

/// Gauges from 18 to 4/0 in order of rising section.
std::span<const GaugeCurrents> gauge_currents();

/// Preferred fuse ratings in A, rising.
/// Source: NEC 240.6.
std::span<const double> fuse_ratings_A();

/// The smallest class 5 size of at least a section, or null beyond the table.
const Class5Size* class5_at_least(double section_m2);

/// The smallest preferred rating of at least a current in A, or NaN beyond the table.
double fuse_rating_at_least_A(double current_A);

}  // namespace ww::model
