// SPDX-License-Identifier: MIT
// A drive cycle ridden second by second, and the ledger of where the energy went.
// Invariants:
// 1. The ledger closes: chemical energy out of the cells = every loss + work against the road +
// change of kinetic and
//    stored energy, no term computed as the remainder.
// 2. Where the bike cannot follow, it rides at full throttle and the seconds short of the trace are
// counted.
#pragma once

#include <span>

#include "ride/full_second.h"

namespace ww::ride {

/// A trace on its own 1 s grid.
struct Trace {
  std::span<const double> speed_mps;
  double distance_m;
  double speed_max_mps;
};

/// Energies of one ride, J.
template <class R>
struct Ledger {
  R chemical;     ///< integral of open-circuit voltage times current
  R cell_heat;    ///< fast resistance and the slow part's resistor
  R wire_heat;    ///< links, cables, contactor, fuse
  R slow_stored;  ///< change of what the slow part holds
  R controller;
  R auxiliary;
  R copper;
  R iron_mechanical;  ///< of the motor
  R driveline;
  R brakes;  ///< friction
  R rolling;
  R aero;
  R kinetic;  ///< change
};

/// The sum of a ledger's sinks less its source; zero to rounding.
template <class R>
R ledger_gap(const Ledger<R>& e) {
  return e.chemical -
         (e.cell_heat + e.wire_heat + e.slow_stored + e.controller + e.auxiliary + e.copper +
          e.iron_mechanical + e.driveline + e.brakes + e.rolling + e.aero + e.kinetic);
}

/// State carried through a ride.
template <class R>
struct RideState {
  R speed_mps;
  R soc;
  R slow_V;  ///< over the slow part of all cells in series
};

template <class R>
struct RideTotals {
  Ledger<R> energy;
  R distance_m;
  R charge_C;  ///< net out of the pack
  R missed_s;  ///< seconds more than 0.9 m/s short of the trace
};

/// What stays the same through the ride, computed once.
template <class R>
struct RideFixed {
  R resistance_factor;
  R decay;           ///< of the slow part over one step
  R slow_share_ohm;  ///< settled slow resistance at mid charge
  R charge_C;
  R headwind_mps;
  Levers<R> levers;
};

template <class R>
RideFixed<R> ride_fixed(const BikeParams<R>& bike, const PackClimate<R>& climate, R headwind_mps) {
  const PackParams<R>& pack = bike.pack;
  // exp(-1 s / time) by its series: times of 2 s and more give 2e-5.
  const R x = num<R>(1) / pack.slow_time_s;
  const R decay =
      num<R>(1) -
      x * (num<R>(1) - x * (num<R>(0.5) - x * (num<R>(1.0 / 6) - x * num<R>(1.0 / 24))));
  return {.resistance_factor = climate.resistance_factor,
          .decay = decay,
          .slow_share_ohm = pack.cells_ohm * pack.slow_share * slow_gain(pack),
          .charge_C = pack.charge_C * climate.capacity_factor,
          .headwind_mps = headwind_mps,
          .levers = levers(bike)};
}

/// The brake force the motor may take, N (positive): settings, cells, grip of the rear wheel; none
/// below walking pace.
template <class R>
R regen_force_N(const BikeParams<R>& bike, R speed_mps, const PackState<R>& pack) {
  const R power = bike.pack.regen_current_max_A * pack.source.emf_V;
  const R by_power = power / max(speed_mps, num<R>(1));
  const R by_grip = num<R>(0.2) * bike.road.mass_kg * model::standard_gravity<R>();
  const R some = min(by_power, by_grip);
  return select((bike.regen > num<R>(0.5)) & (speed_mps > num<R>(2)), some, num<R>(0));
}

/// The pack at one moment of a ride, with what its slow part will do over one step.
template <class R>
struct PackMoment {
  PackState<R> state;
  R open_circuit_V;
  R fast_ohm;  ///< of the cells
  R slow_ohm;
  R held;  ///< share of the slow voltage that is there on the mean of the step
};

template <class R>
PackMoment<R> pack_moment(const PackParams<R>& pack, const RideFixed<R>& fixed, R soc, R slow_V) {
  const R shape = model::resistance_ohm<R>(
      {pack.cells_ohm, num<R>(model::resistance_end_factor), num<R>(model::resistance_end_factor)},
      fixed.resistance_factor, soc);
  const R fast = shape * (num<R>(1) - pack.slow_share);
  const R slow = shape * (fixed.slow_share_ohm / pack.cells_ohm);
  const R open = pack.cells_in_series * model::ocv_V(pack.cell_ocv, soc);
  // Over the step the slow part's mean voltage is linear in the current: U = g U0 + (1 - g) R I.
  // Taken into the source, the balance of power is exact whatever the step.
  const R held = pack.slow_time_s * (num<R>(1) - fixed.decay);
  return {.state = {.source = {.emf_V = open - held * slow_V,
                               .resistance_ohm = fast + pack.wires_ohm + slow * (num<R>(1) - held)},
                    .current_max_A = pack.current_max_A,
                    .soft_cut_V = pack.soft_cut_V},
          .open_circuit_V = open,
          .fast_ohm = fast,
          .slow_ohm = slow,
          .held = held};
}

/// What one second of a trace comes to at the drive.
template <class R>
struct Second {
  R speed_end_mps;
  R force_N;   ///< of the motor at the wheel
  R braked_N;  ///< of the friction brakes
  Operating<R> at;
  R torque_Nm;
  R omega_radps;
};

template <class R, template <class> class Motor>
Second<R> drive_second(const Bike<R, Motor>& bike, const Motor<R>& warm, const RideFixed<R>& fixed,
                       R v0, R wanted_mps, const PackState<R>& pack) {
  const R headwind_mps = fixed.headwind_mps;
  const BikeParams<R>& p = bike.params;
  const R zero = num<R>(0), half = num<R>(0.5);
  const R m = model::effective_mass_kg(p.road);
  const auto demand =
      model::trace_demand<R>(p.road, {v0, wanted_mps, num<R>(1), zero, headwind_mps});
  // Braking: the motor takes what it may, the brakes take the rest.
  R braked = zero;
  if (any(demand.force_N < zero))
    braked = max(-demand.force_N - regen_force_N(p, half * (v0 + wanted_mps), pack), zero);
  const R force = demand.force_N + braked;
  const model::ShaftDemand<R> shaft{shaft_torque_Nm(fixed.levers, force),
                                    motor_speed_radps(fixed.levers, half * (v0 + wanted_mps))};
  Second<R> out{.speed_end_mps = wanted_mps,
                .force_N = force,
                .braked_N = braked,
                .at = operate(p, warm, shaft, pack),
                .torque_Nm = shaft.torque_shaft_Nm,
                .omega_radps = shaft.speed_radps};
  const mask_of<R> short_of = (out.force_N > zero) & !out.at.feasible;
  if (any(short_of)) {
    const R ending = full_throttle_end_mps(
        bike, warm, pack,
        FullSecond<R>{v0, max(wanted_mps, zero), max(out.force_N, zero), headwind_mps}, !short_of);
    out.speed_end_mps = select(short_of, ending, wanted_mps);
    const R middle = half * (v0 + out.speed_end_mps);
    // The force that the speeds actually reached mean: the balance is exact whatever the search
    // left.
    const R meant =
        select(middle > zero,
               road_force(p, {middle, zero, headwind_mps}) + m * (out.speed_end_mps - v0), zero);
    const R over = max(-meant, zero);
    out.force_N = select(short_of, meant + over, out.force_N);
    out.braked_N = select(short_of, over, out.braked_N);
    out.omega_radps = motor_speed_radps(fixed.levers, middle);
    out.torque_Nm = shaft_torque_Nm(fixed.levers, out.force_N);
    out.at = operate(p, warm, {out.torque_Nm, out.omega_radps}, pack);
  }
  return out;
}

/// One second with its ledger. The trace's next speed is wanted; the state and the totals move on.
template <class R, template <class> class Motor>
void ride_second(const Bike<R, Motor>& bike, const Motor<R>& warm, const RideFixed<R>& fixed,
                 R wanted_mps, RideState<R>& state, RideTotals<R>& sum) {
  const BikeParams<R>& p = bike.params;
  const R zero = num<R>(0), half = num<R>(0.5), one = num<R>(1);
  const R m = model::effective_mass_kg(p.road);
  const auto pack = pack_moment(p.pack, fixed, state.soc, state.slow_V);
  const R v0 = state.speed_mps;
  const auto second = drive_second(bike, warm, fixed, v0, wanted_mps, pack.state);
  const R v1 = second.speed_end_mps, mean = half * (v0 + v1);
  const R current = second.at.current_pack_A;
  // Ledger: each term from its own formula.
  Ledger<R>& e = sum.energy;
  e.chemical += pack.open_circuit_V * current;
  const R settled = pack.slow_ohm * current;
  const R excess = state.slow_V - settled;
  const R gone_twice = one - fixed.decay * fixed.decay;
  const R slow_end = settled + fixed.decay * excess;
  const R slow_heat = (settled * settled + num<R>(2) * settled * excess * pack.held +
                       half * excess * excess * p.pack.slow_time_s * gone_twice) /
                      pack.slow_ohm;
  e.cell_heat += square(current) * pack.fast_ohm + select(pack.slow_ohm > zero, slow_heat, zero);
  e.slow_stored += select(
      pack.slow_ohm > zero,
      half * p.pack.slow_time_s / pack.slow_ohm * (square(slow_end) - square(state.slow_V)), zero);
  e.wire_heat += square(current) * p.pack.wires_ohm;
  e.controller += second.at.loss_controller_W;
  e.auxiliary += p.auxiliary_W;
  e.copper += second.at.shaft.loss_copper_W;
  e.iron_mechanical += second.at.shaft.loss_iron_mech_W;
  e.driveline += second.torque_Nm * second.omega_radps - second.force_N * mean;
  e.brakes += second.braked_N * mean;
  const model::RoadPoint<R> middle{mean, zero, fixed.headwind_mps};
  const mask_of<R> moves = mean > zero;
  e.rolling += select(moves, model::rolling_force_N(p.road, middle) * mean, zero);
  e.aero += select(moves, model::drag_force_N(p.road, middle) * mean, zero);
  e.kinetic += half * m * (square(v1) - square(v0));
  sum.distance_m += mean;
  sum.charge_C += current;
  sum.missed_s += select(wanted_mps - v1 > num<R>(0.9), one, zero);
  state = {.speed_mps = v1, .soc = state.soc - current / fixed.charge_C, .slow_V = slow_end};
}

template <class R>
RideTotals<R> empty_totals() {
  const R zero = num<R>(0);
  return {.energy = {zero, zero, zero, zero, zero, zero, zero, zero, zero, zero, zero, zero, zero},
          .distance_m = zero,
          .charge_C = zero,
          .missed_s = zero};
}

/// Rides the whole trace once from rest.
template <class R, template <class> class Motor>
RideTotals<R> ride_trace(const Bike<R, Motor>& bike, const Motor<R>& warm,
                         const RideFixed<R>& fixed, const Trace& trace, RideState<R>& state) {
  RideTotals<R> sum = empty_totals<R>();
  for (std::size_t i = 1; i < trace.speed_mps.size(); ++i) {
    ride_second(bike, warm, fixed, num<R>(trace.speed_mps[i]), state, sum);
  }
  return sum;
}

/// A trace ridden once with the pack midway to its end, its power put on the pack at five states of
/// charge.
template <class R>
struct TraceRates {
  std::array<R, charge_nodes> metres_per_coulomb;
  R missed_s;
  R square_current_As;  ///< of the pack midway
};

/// The motor is solved once a second; the five packs share its demand. It is the middle pack's:
/// where a bike is short of voltage, what it can do falls steeply below full and again near the
/// end, and is nearly level between. Where a lower pack could not give the power, its current stays
/// at its limit: where a ride ends is judged apart, see charge_end. Standing still is solved once,
/// where what it takes does not hang on the voltage. Checked by: tests/ride (against rides to
/// empty).
template <class R, template <class> class Motor>
TraceRates<R> trace_rates(const Bike<R, Motor>& bike, const Motor<R>& warm,
                          const RideFixed<R>& fixed, const Trace& trace,
                          const std::array<R, charge_nodes>& grid) {
  constexpr std::size_t midway = charge_nodes / 2;
  const PackParams<R>& p = bike.params.pack;
  const R zero = num<R>(0);
  std::array<PackMoment<R>, charge_nodes> packs{};
  std::array<R, charge_nodes> slow_V{}, charge{}, open_V{}, cap_W_per_V2{}, half_per_ohm{};
  for (std::size_t k = 0; k < grid.size(); ++k) {
    packs[k] = pack_moment(p, fixed, grid[k], zero);
    open_V[k] = packs[k].open_circuit_V;
    cap_W_per_V2[k] = num<R>(0.2499) / packs[k].state.source.resistance_ohm;
    half_per_ohm[k] = num<R>(0.5) / packs[k].state.source.resistance_ohm;
    slow_V[k] = charge[k] = zero;
  }
  // As current_at_power_A, without its division: what cancels is below 1e-12 A.
  const auto drawn_A = [&](std::size_t k, R power) {
    const model::CellSource<R>& source = packs[k].state.source;
    const R square_V2 = square(source.emf_V);
    const R capped = min(power, cap_W_per_V2[k] * square_V2);
    const R root = sqrt(square_V2 - num<R>(4) * source.resistance_ohm * capped);
    return (source.emf_V - root) * half_per_ohm[k];
  };
  R speed = zero, distance = zero, missed = zero, squares = zero, standing_W = zero;
  bool stood = false;
  for (std::size_t i = 1; i < trace.speed_mps.size(); ++i) {
    const R wanted = num<R>(trace.speed_mps[i]);
    const bool stands = !(trace.speed_mps[i] > 0) && all(speed <= zero);
    R power = standing_W, midway_A = zero;
    if (stands && stood) {
      // To the bit what solving it would give: another lane may still be rolling.
      const PackState<R>& pack = packs[midway].state;
      midway_A = model::current_at_power_A(pack.source, min(power, power_cap_W(pack)));
    } else {
      const auto second = drive_second(bike, warm, fixed, speed, wanted, packs[midway].state);
      distance += num<R>(0.5) * (speed + second.speed_end_mps);
      missed += select(wanted - second.speed_end_mps > num<R>(0.9), num<R>(1), zero);
      speed = second.speed_end_mps;
      power = second.at.power_pack_W;
      midway_A = second.at.current_pack_A;
      stood = stands && !voltage_shapes_point(warm);
      standing_W = power;
    }
    for (std::size_t k = 0; k < grid.size(); ++k) {
      const R current = k == midway ? midway_A : drawn_A(k, power);
      charge[k] += current;
      const R settled = packs[k].slow_ohm * current;
      slow_V[k] = settled + fixed.decay * (slow_V[k] - settled);
      packs[k].state.source.emf_V = open_V[k] - packs[k].held * slow_V[k];
    }
    squares += square(midway_A);
  }
  TraceRates<R> out{.metres_per_coulomb = {}, .missed_s = missed, .square_current_As = squares};
  for (std::size_t k = 0; k < grid.size(); ++k) out.metres_per_coulomb[k] = distance / charge[k];
  return out;
}

}  // namespace ww::ride
