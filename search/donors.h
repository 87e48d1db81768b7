// SPDX-License-Identifier: MIT
// Which donors can carry the pack that the wishes need, and when to walk away from one.
#pragma once

#include "search/choosing.h"

namespace ww::search {

/// What the wishes come to on one class of bike, with parts sketched from the library.
struct DonorFit {
  build::BikeClass bike_class;
  std::string_view words;
  bool own = false;          ///< the sheet's own bike, with what was measured on it
  bool reaches = false;      ///< some pack does the distance at the speed at all
  double energy_J = 0;       ///< of the least pack that does the distance, reserve kept
  double cells_m3 = 0;       ///< its cells
  double bay_m3 = 0;         ///< bay and tunnel, nothing in them yet
  double bay_needed_m3 = 0;  ///< for motor and cells, the cells filling what practice lets them
  double mass_laden_kg = 0, gross_kg = 0;
  bool room() const { return bay_m3 >= bay_needed_m3; }
  bool plate() const { return mass_laden_kg <= gross_kg; }
  bool carries() const { return reaches && room() && plate(); }
};

/// The sheet's own bike first where its bay is measured, then every class with its typical figures
/// (common practice, no source: a real bike differs, and is measured before it is bought).
/// Valid: a sheet with a distance wished for; else none.
std::vector<DonorFit> donors(const Build& build, const Shop& shop);

}  // namespace ww::search
