// SPDX-License-Identifier: MIT
#include "wiring/currents.h"

#include <algorithm>
#include <cmath>

#include "model/arrhenius.h"
#include "model/short_circuit.h"

namespace ww::wiring {

namespace {
constexpr double room_K = 298.15;
}

double lasting_battery_A(double rms_town_A, double power_hold_W, double nominal_V) {
  const double hold_W = std::isnan(power_hold_W) ? 0 : power_hold_W;
  return std::max(rms_town_A, hold_W / (0.86 * nominal_V));
}

double contactor_carry_A(double rating_A, double assumed_m2, double section_m2) {
  const double share = section_m2 / assumed_m2;
  return std::isnan(share) ? rating_A : rating_A * std::pow(std::min(share, 1.0), 0.65);
}

double strongest_short_A(const PackSource& full) {
  return model::prospective_current_A<double>(
      {.voltage_open_V = full.voltage_unit_V,
       .resistance_pack_ohm = full.resistance_unit_ohm / full.parallel,
       .resistance_loop_ohm = 0});
}

double pack_ohm(const PackSource& pack) {
  const double cold = model::arrhenius_slowing(1000 * pack.activation_kJpmol, pack.cell_K, room_K);
  return pack.series * (cold * pack.resistance_unit_ohm / pack.parallel + pack.link_ohm);
}

double loop_short_A(const PackSource& pack) {
  return model::prospective_current_A<double>({.voltage_open_V = pack.series * pack.voltage_unit_V,
                                               .resistance_pack_ohm = pack_ohm(pack),
                                               .resistance_loop_ohm = pack.outside_ohm});
}

}  // namespace ww::wiring
