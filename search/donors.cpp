// SPDX-License-Identifier: MIT
#include "search/donors.h"

#include <cmath>

#include "build/classes.h"
#include "plan/dream.h"

namespace ww::search {

namespace {

using build::BikeClass;
using ride::Answer;

/// Cells fill some six tenths of the room beside the motor, what walls, lugs and bends leave: as
/// the rule on it says.
constexpr double filled = 0.6;
constexpr int most_parallel = 80;

/// Rider, wishes and surroundings with a bike of a class and nothing else.
Build on_class(const Build& sheet, BikeClass bike_class) {
  const auto& c = build::class_figures(bike_class);
  Build b;
  b.project = sheet.project;
  b.rider = sheet.rider;
  b.wishes = sheet.wishes;
  b.surroundings = sheet.surroundings;
  b.donor.emplace();
  b.donor->bike_class = bike_class;
  b.donor->bay_length.value = c.bay_length_m;
  b.donor->bay_width.value = c.bay_width_m;
  b.donor->bay_height.value = c.bay_height_m;
  b.donor->gross_mass.value = c.gross_mass_kg;
  return b;
}

Build on_own(const Build& sheet) {
  Build b = on_class(sheet, sheet.donor->bike_class);
  b.donor = sheet.donor;
  b.tyre_rear = sheet.tyre_rear;
  if (!b.donor->gross_mass.known())
    b.donor->gross_mass.value = build::class_figures(b.donor->bike_class).gross_mass_kg;
  return b;
}

double bay_m3(const build::Donor& d) {
  const double tunnel =
      d.tunnel_length.or_else(0) * d.tunnel_width.or_else(0) * d.tunnel_height.or_else(0);
  return d.bay_length.value * d.bay_width.value * d.bay_height.value + tunnel;
}

DonorFit fit_of(const Build& bare, const Shop& shop) {
  const auto& c = build::class_figures(bare.donor->bike_class);
  DonorFit out{.bike_class = bare.donor->bike_class, .words = c.words};
  out.bay_m3 = bay_m3(*bare.donor);
  out.gross_kg = bare.donor->gross_mass.value;
  Build b = plan::sketch(bare, shop.library).build;
  if (!b.pack || !b.cell || !b.motor) return out;
  ride::RideOptions nominal;
  nominal.draws = 0;
  nominal.pushes = false;
  nominal.wanted = ride::answers_of(Answer::range_mixed_reserve);
  ride::Ride ride{};
  for (int parallel = 1; parallel <= most_parallel && !out.reaches; ++parallel) {
    b.pack->parallel = parallel;
    ride = ride::ride(b, shop.cycles, nominal);
    if (!ride.possible) return out;
    out.reaches = ride.nominal[Answer::range_mixed_reserve] >= b.wishes.ride_distance.value;
  }
  out.energy_J = ride.nominal[Answer::energy_pack];
  out.mass_laden_kg = ride.nominal[Answer::mass_laden];
  out.cells_m3 = fit::fact_value(b, ride, "cells_volume").value;
  const double room = fit::fact_value(b, ride, "room_for_cells").value;
  // What the motor takes of the bay stays as it is in a larger one.
  out.bay_needed_m3 = out.cells_m3 / filled + (out.bay_m3 - room);
  return out;
}

}  // namespace

std::vector<DonorFit> donors(const Build& build, const Shop& shop) {
  std::vector<DonorFit> out;
  if (!build.wishes.ride_distance.known()) return out;
  const auto measured = [&] {
    return build.donor && build.donor->bay_length.known() && build.donor->bay_width.known() &&
           build.donor->bay_height.known();
  };
  if (measured()) {
    out.push_back(fit_of(on_own(build), shop));
    out.back().own = true;
  }
  for (int c = 1; c <= static_cast<int>(BikeClass::scooter_125_300); ++c)
    out.push_back(fit_of(on_class(build, static_cast<BikeClass>(c)), shop));
  return out;
}

}  // namespace ww::search
