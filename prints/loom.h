// SPDX-License-Identifier: MIT
// The legs of the loom. Private to prints/ and its tests.
#pragma once

#include <string>
#include <vector>

#include "prints/prints.h"

namespace ww::prints {

/// A stretch between two places, with the wires that lie in it.
struct Leg {
  std::string letter;
  std::string path;  ///< the figure of its length: "loom.fuse_box_to_bars"
  std::string from, to;
  double length_m;
  bool assumed;
  std::vector<std::size_t> wires;  ///< of the circuit
  int cores;
  double bundle_m;  ///< thickness, sleeve not counted
};

/// Of 12 V, interlock and signal wires; only legs that hold any.
std::vector<Leg> legs_of(const Subject& subject);

/// How thick a bundle of round wires is: 1.2 sqrt(sum of squares), what loosely bundled wires
/// take: common practice, no source. m.
double bundle_m(const std::vector<double>& outer_m);

}  // namespace ww::prints
