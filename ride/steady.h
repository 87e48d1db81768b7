// SPDX-License-Identifier: MIT
// Steady riding: top speed, what holds for an hour, grades, and how far a charge goes at a speed.
#pragma once

#include "ride/solve.h"

namespace ww::ride {

/// One steady state of riding.
template <class R>
struct Steady {
  R speed_mps;
  R grade;
  R headwind_mps;
};

template <class R>
R road_force(const BikeParams<R>& bike, const Steady<R>& at) {
  return model::road_force_N<R>(bike.road, {at.speed_mps, at.grade, at.headwind_mps});
}

/// The drive's operating point while riding steadily.
template <class R, template <class> class Motor>
Operating<R> operate_steady(const BikeParams<R>& bike, const Motor<R>& motor, const Steady<R>& at,
                            const PackState<R>& pack) {
  return operate(
      bike, motor,
      {shaft_torque_Nm(bike, road_force(bike, at)), motor_speed_radps(bike, at.speed_mps)}, pack);
}

/// The road at which a top speed is asked for.
template <class R>
struct Road {
  R grade;
  R headwind_mps;
};

/// The highest speed whose road load the drive meets, between walking pace and 90 m/s; 0 where not
/// even that.
template <class R, template <class> class Motor>
R top_speed_mps(const Bike<R, Motor>& bike, const Motor<R>& warm, const PackState<R>& pack,
                const Road<R>& road) {
  const BikeParams<R>& p = bike.params;
  const R walking = num<R>(1.5);
  const R by_speed_limit = p.speed_limit_radps * p.wheel_radius_m / p.ratio;
  const R fastest = max(min(by_speed_limit * num<R>(0.999999), num<R>(89)), walking);
  // Spare force as a share of the bike's weight: a scale on which every bike is of order one.
  const R weight = p.road.mass_kg * model::standard_gravity<R>();
  const auto spare = [&](R v) {
    return (thrust_available_N(bike, warm, v, pack) -
            road_force(p, {v, road.grade, road.headwind_mps})) /
           weight;
  };
  const mask_of<R> stuck = spare(walking) < num<R>(0);
  const mask_of<R> at_limit = spare(fastest) >= num<R>(0);
  // The spare force may have a kink but falls: halve first, then let the secant finish.
  R low = walking, high = fastest;
  for (int i = 0; i < 7; ++i) {
    const R middle = num<R>(0.5) * (low + high);
    const mask_of<R> goes = spare(middle) >= num<R>(0);
    low = select(goes, middle, low);
    high = select(goes, high, middle);
  }
  const R at_low = spare(low), at_high = spare(high);
  const R found = false_position<R>({low, at_low}, {high, at_high}, stuck | at_limit, spare);
  return select(stuck, num<R>(0), select(at_limit, fastest, found));
}

/// The steepest grade at a speed, rise over run, from the spare thrust: sin(angle) = spare /
/// weight.
template <class R, template <class> class Motor>
R grade_at_speed(const Bike<R, Motor>& bike, const Motor<R>& warm, const PackState<R>& pack,
                 R speed_mps) {
  const BikeParams<R>& p = bike.params;
  const R spare = thrust_available_N(bike, warm, speed_mps, pack) -
                  road_force(p, {speed_mps, num<R>(0), num<R>(0)});
  const R weight = p.road.mass_kg * model::standard_gravity<R>();
  const R sine = min(max(spare / weight, num<R>(-0.9)), num<R>(0.9));
  return sine / sqrt(num<R>(1) - square(sine));
}

/// The case's way to the air at a road speed: part of it still, part growing with the root of the
/// air speed.
template <class R>
model::TwoNodes<R> nodes_at_speed(const CoolingParams<R>& cooling, R speed_mps) {
  const R moving = sqrt(max(speed_mps, num<R>(0.5)) / cooling.rating_air_speed_mps);
  const R better = (num<R>(1) - cooling.air_share) + cooling.air_share * moving;
  model::TwoNodes<R> nodes = cooling.nodes;
  nodes.air_K_per_W = cooling.nodes.air_K_per_W / better;
  return nodes;
}

/// Winding temperature after a time of steady riding, from soak at the ambient, losses following
/// the temperature in six stages.
template <class R, template <class> class Motor>
R winding_after_K(const Bike<R, Motor>& bike, const Steady<R>& at, const PackState<R>& pack,
                  R time_s) {
  const BikeParams<R>& p = bike.params;
  const auto nodes = nodes_at_speed(p.cooling, at.speed_mps);
  constexpr int stages = 6;
  const auto step = model::two_node_step(nodes, time_s * num<R>(1.0 / stages));
  model::TwoRises<R> rise{num<R>(0), num<R>(0)};
  for (int i = 0; i < stages; ++i) {
    // Losses belong to the middle of the stage; the last stage's gain is the guess for it.
    const R winding = min(p.ambient_K + rise.inner_K, num<R>(573));
    const auto point = operate_steady(p, at_winding_temperature(bike.motor, winding), at, pack);
    rise = model::two_node_next_K(
        step, rise,
        model::two_node_steady_K<R>(nodes,
                                    {point.shaft.loss_copper_W, point.shaft.loss_iron_mech_W}));
  }
  return p.ambient_K + rise.inner_K;
}

/// The speed held for an hour on the flat: the winding stays below its limit for 60 minutes from
/// soak, pack energy left aside, and the drive can meet the road load at all.
template <class R, template <class> class Motor>
R hold_speed_mps(const Bike<R, Motor>& bike, const PackState<R>& pack, R top_speed) {
  const auto spare = [&](R v) {
    return (bike.params.cooling.limit_K -
            winding_after_K(bike, {v, num<R>(0), num<R>(0)}, pack, num<R>(3600))) /
           num<R>(100);
  };
  R low = min(num<R>(2), top_speed), high = max(top_speed, num<R>(2.1));
  const mask_of<R> top_holds = spare(high) >= num<R>(0);
  if (!all(top_holds)) {
    for (int i = 0; i < 4; ++i) {
      const R middle = num<R>(0.5) * (low + high);
      const mask_of<R> holds = spare(middle) >= num<R>(0);
      low = select(holds, middle, low);
      high = select(holds, high, middle);
    }
  }
  const R found = all(top_holds)
                      ? high
                      : false_position<R>({low, spare(low)}, {high, spare(high)}, top_holds, spare);
  return select(top_holds, top_speed, found);
}

/// How long each part stands a steady state from soak, s; infinite where it settles below its
/// limit.
template <class R>
struct Endurance {
  R winding_s, controller_s, cells_s, energy_s;
};

/// From soak at the ambient; losses at the winding's limit temperature, which is on the careful
/// side.
template <class R, template <class> class Motor>
Endurance<R> endurance(const Bike<R, Motor>& bike, const Steady<R>& at, const PackState<R>& pack) {
  const BikeParams<R>& p = bike.params;
  const auto hot = at_winding_temperature(bike.motor, p.cooling.limit_K);
  const auto point = operate_steady(p, hot, at, pack);
  const auto nodes = nodes_at_speed(p.cooling, at.speed_mps);
  const R zero = num<R>(0);
  const R winding = model::two_node_time_to_limit_s<R>(
      nodes, {zero, zero}, {point.shaft.loss_copper_W, point.shaft.loss_iron_mech_W},
      p.cooling.limit_K - p.ambient_K);
  const R controller = model::node_time_to_limit_s<R>(
      p.heat.controller, zero, point.loss_controller_W, p.heat.controller_limit_K - p.ambient_K);
  // The cells of a box hardly cool within a climb.
  const R cell_heat =
      square(point.current_pack_A) * (pack.source.resistance_ohm - p.pack.wires_ohm);
  const R cells = (p.heat.cells_limit_K - p.ambient_K) * p.pack.heat_capacity_J_per_K /
                  max(cell_heat, num<R>(1e-3));
  const R energy =
      p.pack.charge_C * (num<R>(1) - p.pack.usable_to) / max(point.current_pack_A, num<R>(1e-3));
  const mask_of<R> climbs = point.feasible;
  return {select(climbs, winding, zero), select(climbs, controller, zero),
          select(climbs, cells, zero), select(climbs, energy, zero)};
}

// ---- how far
// ------------------------------------------------------------------------------------------------------

inline constexpr int charge_nodes = 5;

/// Boole's rule for a mean over five equally spaced places.
template <class R>
R boole_mean(const std::array<R, charge_nodes>& f) {
  return (num<R>(7) * (f[0] + f[4]) + num<R>(32) * (f[1] + f[3]) + num<R>(12) * f[2]) *
         num<R>(1.0 / 90);
}

/// The five states of charge at which a ride is looked at, from full to the end of the ride.
template <class R>
std::array<R, charge_nodes> charge_grid(R end) {
  std::array<R, charge_nodes> grid{};
  for (int i = 0; i < charge_nodes; ++i)
    grid[static_cast<std::size_t>(i)] = num<R>(1) - num<R>(i / 4.0) * (num<R>(1) - end);
  return grid;
}

/// Temperature of the pack and what follows from it.
template <class R>
struct PackClimate {
  R resistance_factor;
  R capacity_factor;
};

template <class R>
PackClimate<R> pack_climate(const PackParams<R>& pack, R temperature_K) {
  return {.resistance_factor =
              model::resistance_temperature_factor(pack.activation_J_per_mol, temperature_K),
          .capacity_factor = model::capacity_factor(pack.cold_loss_per_K, temperature_K)};
}

/// The lowest state of charge at which a steady demand is still met, at least usable_to.
template <class R, template <class> class Motor>
R charge_end(const BikeParams<R>& bike, const Motor<R>& motor, const Steady<R>& at,
             const PackClimate<R>& climate) {
  R low = bike.pack.usable_to, high = num<R>(1);
  const auto met = [&](R soc) {
    return operate_steady(bike, motor, at, settled_pack(bike.pack, soc, climate.resistance_factor))
        .feasible;
  };
  const mask_of<R> to_the_end = met(low);
  if (!all(to_the_end)) {
    for (int i = 0; i < 12; ++i) {
      const R middle = num<R>(0.5) * (low + high);
      const mask_of<R> good = met(middle);
      high = select(good, middle, high);
      low = select(good, low, middle);
    }
  }
  return select(to_the_end, bike.pack.usable_to, high);
}

/// Metres from a full charge at a steady demand, to the end and with the reserve kept.
template <class R>
struct Distance {
  R to_end_m;
  R reserve_kept_m;
};

template <class R>
Distance<R> distance_from(const PackParams<R>& pack, const PackClimate<R>& climate, R end,
                          const std::array<R, charge_nodes>& metres_per_coulomb) {
  const R whole =
      pack.charge_C * climate.capacity_factor * (num<R>(1) - end) * boole_mean(metres_per_coulomb);
  // What lies under the reserve is ridden at the last node's rate, near enough.
  const R kept = pack.charge_C * climate.capacity_factor * max(pack.reserve - end, num<R>(0)) *
                 metres_per_coulomb[4];
  return {.to_end_m = whole, .reserve_kept_m = max(whole - kept, num<R>(0))};
}

/// How far at a speed. It ends where the bike can no longer do `required_mps`, which is the speed
/// itself or less; where it can do that and not the speed, it goes on at that.
template <class R, template <class> class Motor>
Distance<R> steady_distance(const BikeParams<R>& bike, const Motor<R>& motor, const Steady<R>& at,
                            R required_mps, const PackClimate<R>& climate) {
  const Steady<R> slower{required_mps, at.grade, at.headwind_mps};
  const R end = charge_end(bike, motor, slower, climate);
  std::array<R, charge_nodes> rate{};
  const auto grid = charge_grid(end);
  mask_of<R> at_all{};
  for (std::size_t i = 0; i < grid.size(); ++i) {
    const auto pack = settled_pack(bike.pack, grid[i], climate.resistance_factor);
    const auto wished = operate_steady(bike, motor, at, pack);
    mask_of<R> goes = wished.feasible;
    rate[i] = at.speed_mps / wished.current_pack_A;
    if (!all(goes)) {
      const auto less = operate_steady(bike, motor, slower, pack);
      rate[i] = select(goes, rate[i], required_mps / less.current_pack_A);
      goes = goes | less.feasible;
    }
    if (i == 0) at_all = goes;
  }
  Distance<R> d = distance_from(bike.pack, climate, end, rate);
  return {select(at_all, d.to_end_m, num<R>(0)), select(at_all, d.reserve_kept_m, num<R>(0))};
}

/// How far at a speed that is held to the last.
template <class R, template <class> class Motor>
Distance<R> steady_distance(const BikeParams<R>& bike, const Motor<R>& motor, const Steady<R>& at,
                            const PackClimate<R>& climate) {
  return steady_distance(bike, motor, at, at.speed_mps, climate);
}

}  // namespace ww::ride
