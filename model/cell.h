// SPDX-License-Identifier: MIT
// Equivalent circuit of a cell and of a pack of them, its heat, and its dependence on temperature.
// Discharge current is positive; state of charge 0..1; temperatures in K. Invariants:
// 1. What the stepping kernel calls (resistance_ohm, rc_voltage_next_V, rc_heat_J, rc_work_J,
//    current_at_power_A, power_max_W) uses only + - * / sqrt min max select: double and a batch
//    give the same bits. Exponentials are taken once a step size or temperature (rc_step,
//    resistance_temperature_factor).
// 2. rc_work_J = rc_heat_J + change of stored energy, to rounding.
#pragma once

#include <array>

#include "base/num.h"
#include "model/arrhenius.h"
#include "model/constants.h"

namespace ww::model {

// ---- Source and constant power

/// A voltage behind a resistance: a cell, a string or a pack at one instant (OCV less RC voltages).
template <class R>
struct CellSource {
  R emf_V;
  R resistance_ohm;
};

/// Terminal voltage at a current. Result in V.
/// Valid: any current; charging is negative.
/// Ignores polarisation that is not yet in emf_V.
/// Source: Ohm's law. Checked by: values/cell.tsv.
template <class R>
R terminal_voltage_V(const CellSource<R>& source, R current_A) {
  return source.emf_V - source.resistance_ohm * current_A;
}

/// Current at which the terminals give this power; the smaller root, without cancellation. In A.
/// Valid: power_W <= emf^2/(4 R), resistance >= 0; above: NaN. Charging power is negative.
/// Ignores the fall of the voltage during the step.
/// Source: root of R I^2 - E I + P = 0. Checked by: values/cell.tsv, model/cell_test.
template <class R>
R current_at_power_A(const CellSource<R>& source, R power_W) {
  const R E = source.emf_V;
  const R root = sqrt(E * E - num<R>(4) * source.resistance_ohm * power_W);
  return num<R>(2) * power_W / (E + root);
}

/// Current at which the terminals stand at this voltage. Result in A.
/// Valid: resistance > 0.
/// Ignores what current_at_power_A ignores.
/// Source: Ohm's law. Checked by: values/cell.tsv.
template <class R>
R current_at_voltage_A(const CellSource<R>& source, R voltage_V) {
  return (source.emf_V - voltage_V) / source.resistance_ohm;
}

/// The largest power the terminals give without falling below a voltage. Result in W.
/// Valid: resistance > 0; an emf below the floor gives 0; a floor of 0 gives emf^2/(4 R).
/// Ignores current limits of fuse, protection and controller.
/// Source: maximum of V (E - V)/R for V >= floor. Checked by: values/cell.tsv, model/cell_test.
template <class R>
R power_max_W(const CellSource<R>& source, R floor_V) {
  const R v = max(floor_V, num<R>(0.5) * source.emf_V);
  return v * max(source.emf_V - v, num<R>(0)) / source.resistance_ohm;
}

/// Share of the chemical power that reaches the terminals at this power. Dimensionless.
/// Valid: 0 <= power_W <= emf^2/(4 R).
/// Ignores entropic heat and polarisation.
/// Source: V/E. Checked by: values/cell.tsv.
template <class R>
R source_efficiency(const CellSource<R>& source, R power_W) {
  return terminal_voltage_V(source, current_at_power_A(source, power_W)) / source.emf_V;
}

// ---- Resistance and capacity

/// Ohmic resistance in the flat middle of the charge at 25 C, and its factors at the two ends.
template <class R>
struct CellResistance {
  R middle_25C_ohm;
  R empty_factor;  ///< at state of charge 0, of the middle value
  R full_factor;   ///< at state of charge 1
};

/// End factor where nothing is known: one 18650 power cell measured in pulses gave 1.6 at both.
inline constexpr double resistance_end_factor = 1.6;
/// Activation energy of a cell's whole DC resistance where nothing is known; from memory 20..30e3.
inline constexpr double resistance_activation_J_per_mol = 25e3;

/// Factor on a resistance given at 25 C: exp[(E/R)(1/T - 1/298.15 K)]. Not for the inner loop.
/// Valid: 233 K <= temperature <= 353 K; outside: NaN.
/// Ignores that ohmic, transfer and diffusion parts each have their own activation energy.
/// Source: Arrhenius law, 15 to 30 kJ/mol from memory. Checked by: values/cell.tsv.
template <class R>
R resistance_temperature_factor(R activation_J_per_mol, R temperature_K) {
  const R low = constant<R>(233, {.K = 1});
  const R high = constant<R>(353.15, {.K = 1});
  const R room = constant<R>(298.15, {.K = 1});
  return valid_where<R>((temperature_K >= low) & (temperature_K <= high),
                        arrhenius_slowing(activation_J_per_mol, temperature_K, room));
}

/// Resistance at a state of charge: flat from 0.2 to 0.9, straight to the end factors. In ohm.
/// Valid: 0 <= soc <= 1; outside, the value at that end.
/// Ignores the steeper rise in the last few per cent of charge.
/// Source: shape from memory; ends from an independent pulse test. Checked by: values/cell.tsv.
template <class R>
R resistance_ohm(const CellResistance<R>& cell, R temperature_factor, R soc) {
  const R s = clamp(soc, num<R>(0), num<R>(1));
  const R towards_empty = num<R>(5) * max(num<R>(0), num<R>(0.2) - s);
  const R towards_full = num<R>(10) * max(num<R>(0), s - num<R>(0.9));
  const R shape = num<R>(1) + (cell.empty_factor - num<R>(1)) * towards_empty +
                  (cell.full_factor - num<R>(1)) * towards_full;
  return cell.middle_25C_ohm * temperature_factor * shape;
}

/// Share of the room-temperature capacity that a cold cell still holds: 1 - loss (298.15 K - T).
/// Valid: loss about 0.002..0.004 per K; warm cells 1; never below 0.
/// Ignores the earlier cut-off from the risen resistance: the voltage floor gives that by itself.
/// Source: from memory; a rated-capacity table on top counts twice. Checked by: model/cell_test.
template <class R>
R capacity_factor(R loss_per_K, R temperature_K) {
  const R room = constant<R>(298.15, {.K = 1});
  return max(num<R>(0), num<R>(1) - loss_per_K * max(room - temperature_K, num<R>(0)));
}

/// Intrinsic capacity loss below 25 C where nothing is known, per K; from memory 0.002..0.004.
inline constexpr double capacity_loss_per_K = 0.003;

// ---- Resistor-capacitor pairs

template <class R>
struct RcPair {
  R resistance_ohm;
  R capacitance_F;
};

/// A pair and a step size with the exponential already taken.
template <class R>
struct RcStep {
  R resistance_ohm;
  R time_constant_s;
  R step_s;
  R decay;  ///< exp(-step/time constant)
};

/// The pair prepared for steps of one size. Not for the inner loop.
/// Valid: resistance, capacitance > 0, step >= 0.
/// Ignores nothing of the pair.
/// Source: solution of dU/dt = I/C - U/(R C). Checked by: values/cell.tsv, model/cell_test.
template <class R>
RcStep<R> rc_step(const RcPair<R>& pair, R step_s) {
  const R time_constant_s = pair.resistance_ohm * pair.capacitance_F;
  return {.resistance_ohm = pair.resistance_ohm,
          .time_constant_s = time_constant_s,
          .step_s = step_s,
          .decay = exp_exact<R>(-step_s / time_constant_s)};
}

/// Voltage over the pair after one step of constant current, exact. Result in V.
/// Valid: any step size.
/// Ignores change of current, resistance or capacitance within the step.
/// Source: solution of dU/dt = I/C - U/(R C); Plett, Battery Management Systems vol. 1.
/// Checked by: values/cell.tsv (ngspice), model/cell_test (two half steps = one).
template <class R>
R rc_voltage_next_V(const RcStep<R>& rc, R voltage_V, R current_A) {
  const R settled_V = rc.resistance_ohm * current_A;
  return settled_V + rc.decay * (voltage_V - settled_V);
}

/// Energy the current puts into the pair during one step: the integral of U I. Result in J.
/// Valid: any step size.
/// Ignores what rc_voltage_next_V ignores.
/// Source: integral of its exponential. Checked by: model/cell_test (ledger, quadrature).
template <class R>
R rc_work_J(const RcStep<R>& rc, R voltage_V, R current_A) {
  const R settled_V = rc.resistance_ohm * current_A;
  const R excess_V = voltage_V - settled_V;
  return current_A *
         (settled_V * rc.step_s + excess_V * rc.time_constant_s * (num<R>(1) - rc.decay));
}

/// Heat in the pair's resistor during one step: the integral of U^2/R. Result in J.
/// Valid: any step size.
/// Ignores what rc_voltage_next_V ignores.
/// Source: integral of its exponential, squared. Checked by: model/cell_test (ledger, quadrature).
template <class R>
R rc_heat_J(const RcStep<R>& rc, R voltage_V, R current_A) {
  const R settled_V = rc.resistance_ohm * current_A;
  const R excess_V = voltage_V - settled_V;
  const R gone = num<R>(1) - rc.decay;
  const R gone_twice = num<R>(1) - rc.decay * rc.decay;
  const R square_integral = settled_V * settled_V * rc.step_s +
                            rc.time_constant_s * (num<R>(2) * settled_V * excess_V * gone +
                                                  num<R>(0.5) * excess_V * excess_V * gone_twice);
  return square_integral / rc.resistance_ohm;
}

/// Energy stored in the pair. Result in J.
/// Valid: any voltage.
/// Ignores nothing of the pair.
/// Source: C U^2/2 with C = time constant/R. Checked by: model/cell_test (ledger).
template <class R>
R rc_stored_J(const RcStep<R>& rc, R voltage_V) {
  return num<R>(0.5) * rc.time_constant_s / rc.resistance_ohm * voltage_V * voltage_V;
}

/// A cell at fixed state of charge with two pairs.
template <class R>
struct TheveninCell {
  CellSource<R> source;
  std::array<RcPair<R>, 2> pairs;
};

/// Terminal voltage a time after a constant current began, from rest. Result in V.
/// Valid: time >= 0, state of charge hardly moved.
/// Ignores the move of the open-circuit voltage during the pulse.
/// Source: Plett, Battery Management Systems vol. 1. Checked by: values/cell.tsv (ngspice).
template <class R>
R pulse_voltage_V(const TheveninCell<R>& cell, R current_A, R time_s) {
  R v = terminal_voltage_V(cell.source, current_A);
  for (const auto& pair : cell.pairs) {
    v -= rc_voltage_next_V(rc_step(pair, time_s), num<R>(0) * v, current_A);
  }
  return v;
}

// ---- Pack of cells

template <class R>
struct PackLayout {
  R series;
  R parallel;
  R interconnect_ohm;  ///< links, cables, contactor, fuse: everything between the two terminals
};

/// Voltage of the pack from that of a cell. Result in V.
/// Valid: equal cells.
/// Ignores spread between cells: the weakest group ends the discharge first.
/// Source: Modelica Standard Library, Batteries user guide. Checked by: values/ocv.tsv.
template <class R>
R pack_voltage_V(const PackLayout<R>& layout, R cell_V) {
  return layout.series * cell_V;
}

/// Charge of the pack from that of a cell. Result in C.
/// Valid: equal cells.
/// Ignores spread between cells.
/// Source: Modelica Standard Library, Batteries user guide. Checked by: model/cell_test.
template <class R>
R pack_charge_C(const PackLayout<R>& layout, R cell_C) {
  return layout.parallel * cell_C;
}

/// Resistance of the pack from that of a cell. Result in ohm.
/// Valid: equal cells, even sharing between parallel strings.
/// Ignores contact resistances not in interconnect_ohm.
/// Source: Modelica Standard Library, Batteries user guide. Checked by: model/cell_test.
template <class R>
R pack_resistance_ohm(const PackLayout<R>& layout, R cell_ohm) {
  return layout.series * cell_ohm / layout.parallel + layout.interconnect_ohm;
}

/// A pair of the pack from that of a cell; its time constant stays. Result in ohm and F.
/// Valid: equal cells.
/// Ignores spread between cells.
/// Source: series and parallel connection. Checked by: model/cell_test.
template <class R>
RcPair<R> pack_pair(const PackLayout<R>& layout, const RcPair<R>& cell) {
  return {.resistance_ohm = layout.series * cell.resistance_ohm / layout.parallel,
          .capacitance_F = layout.parallel * cell.capacitance_F / layout.series};
}

/// Two strings or cells on the same terminals.
template <class R>
struct ParallelPair {
  CellSource<R> first;
  CellSource<R> second;
};

template <class R>
struct SharedCurrent {
  R first_A;
  R second_A;
};

/// How two parallel sources share a current; with 0 the circulating current remains. In A.
/// Valid: both resistances > 0.
/// Ignores the slow evening-out as the states of charge drift together.
/// Source: Kirchhoff's laws. Checked by: model/cell_test.
template <class R>
SharedCurrent<R> shared_current(const ParallelPair<R>& pair, R total_A) {
  const R loop_ohm = pair.first.resistance_ohm + pair.second.resistance_ohm;
  const R circulating_A = (pair.first.emf_V - pair.second.emf_V) / loop_ohm;
  return {.first_A = total_A * pair.second.resistance_ohm / loop_ohm + circulating_A,
          .second_A = total_A * pair.first.resistance_ohm / loop_ohm - circulating_A};
}

// ---- Heat

/// What the heat of a cell depends on at one instant.
template <class R>
struct CellHeat {
  R current_A;
  R overpotential_V;  ///< open-circuit less terminal voltage; negative when charging
  R temperature_K;
  R entropy_V_per_K;  ///< dOCV/dT
};

/// Heat of a cell: I (OCV - V) - I T dOCV/dT. Discharge positive. Result in W.
/// Valid: any current; the second term may cool.
/// Ignores heat of mixing and phase change.
/// Source: Bernardi, Pawlikowski & Newman 1985. Checked by: values/cell.tsv.
template <class R>
R cell_heat_W(const CellHeat<R>& at) {
  return at.current_A * at.overpotential_V - at.current_A * at.temperature_K * at.entropy_V_per_K;
}

/// Temperature coefficient of the open-circuit voltage of a prismatic NMC cell. Result in V/K.
/// Valid: 0.1 <= soc <= 0.9; outside, the value at that end.
/// Ignores other makes: between cells even the sign differs (NMC -0.3..+0.1 mV/K, from memory).
/// Source: Zheng 2024, IEEE/ASME TMECH, 50 Ah cell. Checked by: values/cell.tsv.
template <class R>
R entropy_nmc_V_per_K(R soc) {
  const R s = clamp(soc, num<R>(0.1), num<R>(0.9));
  const R one = constant<R>(1, {.kg = 1, .m = 2, .s = -3, .A = -1, .K = -1});
  return one * (((num<R>(7.693e-4) * s - num<R>(2.115e-3)) * s + num<R>(1.514e-3)) * s -
                num<R>(2.375e-5));
}

// ---- What the cells take back, and what standing costs

/// What the cells accept: a current, thinned out in the cold and near full.
template <class R>
struct ChargeLimit {
  R current_A;    ///< warm and not near full; positive
  R cold_stop_K;  ///< nothing at or below
  R cold_full_K;  ///< all of it from here on
  R taper_soc;    ///< thinning begins
  R stop_soc;     ///< nothing at or above (regeneration: about 0.95)
};

/// Charge current the cells accept, as a positive number. Result in A.
/// Valid: cold_stop_K < cold_full_K, taper_soc < stop_soc.
/// Ignores hot cells, time limits of pulses, and plating at high rates above 10 C.
/// Source: from memory: none below 0 C for graphite, straight to 10 C. Checked by: model/cell_test.
template <class R>
R charge_accepted_A(const ChargeLimit<R>& limit, R temperature_K, R soc) {
  const R warm = (temperature_K - limit.cold_stop_K) / (limit.cold_full_K - limit.cold_stop_K);
  const R room = (limit.stop_soc - soc) / (limit.stop_soc - limit.taper_soc);
  return limit.current_A * clamp(warm, num<R>(0), num<R>(1)) * clamp(room, num<R>(0), num<R>(1));
}

/// Charge current that neither exceeds what the cells accept nor lifts the voltage over its limit.
/// Positive; the regeneration limit of the pack. Result in A.
/// Valid: resistance > 0; a source already above the voltage gives 0.
/// Ignores limits of controller, protection and rear grip.
/// Source: min of both. Checked by: values/cell.tsv.
template <class R>
R charge_current_limit_A(const CellSource<R>& source, R voltage_max_V, R accepted_A) {
  return max(num<R>(0), min(accepted_A, -current_at_voltage_A(source, voltage_max_V)));
}

/// What drains a standing pack.
template <class R>
struct Standing {
  R loss_per_month_25C;  ///< share of capacity in 30 days at 25 C; 0.01..0.03 from memory
  R doubling_K;          ///< temperature rise that doubles it; 10..15 K from memory
  R drain_A;             ///< protection board and converter left connected
  R charge_C;            ///< capacity
};

/// State of charge lost while standing. Result 0..1; above 1: it was emptied.
/// Valid: 250 K <= temperature <= 330 K.
/// Ignores the dependence on the state of charge.
/// Source: rule from memory. Checked by: model/cell_test.
template <class R>
R standing_loss(const Standing<R>& pack, R temperature_K, R duration_s) {
  const R month_s = constant<R>(30 * 86400.0, {.s = 1});
  const R room = constant<R>(298.15, {.K = 1});
  const R warmer = (temperature_K - room) / pack.doubling_K;
  const R by_itself = pack.loss_per_month_25C * exp(num<R>(0.69314718055994531) * warmer) / month_s;
  return (by_itself + pack.drain_A / pack.charge_C) * duration_s;
}

}  // namespace ww::model
