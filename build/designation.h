// SPDX-License-Identifier: MIT
// Designations that are written on parts and are no figures: tyre sizes.
#pragma once

#include <string_view>

namespace ww::build {

/// A tyre size as marked: "150/70-17", "150/70 R17 69H", "120/70ZR17", "3.50-18". SI; width 0 where
/// it cannot be read.
struct TyreMarking {
  double width_m = 0;
  double aspect = 0;
  double rim_m = 0;
};
TyreMarking read_tyre_marking(std::string_view text);

}  // namespace ww::build
