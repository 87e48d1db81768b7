// SPDX-License-Identifier: MIT
// Heating of motor, controller and cells: one node, two nodes, and what carries the heat away.
// A rise is a temperature above the ambient, in K. Nodes step exactly under constant heat.
// Invariants:
// 1. Any number of steps equals one step of the same total time, to rounding.
// 2. A two-node step prepared once (two_node_step) is then only + - *.
#pragma once

#include <limits>
#include <span>

#include "base/num.h"
#include "model/arrhenius.h"
#include "model/bisect.h"
#include "model/constants.h"

namespace ww::model {

// ---- One node

template <class R>
struct ThermalNode {
  R capacity_J_per_K;
  R resistance_K_per_W;  ///< to the ambient
};

/// Time constant. Result in s.
/// Valid: capacity, resistance > 0.
/// Ignores change of cooling with temperature.
/// Source: C R. Checked by: values/thermal.tsv.
template <class R>
R node_time_constant_s(const ThermalNode<R>& node) {
  return node.capacity_J_per_K * node.resistance_K_per_W;
}

/// Rise in the long run under constant heat. Result in K.
/// Valid: any heat.
/// Ignores that losses grow with temperature (copper_steady_K).
/// Source: P R. Checked by: values/thermal.tsv.
template <class R>
R node_rise_steady_K(const ThermalNode<R>& node, R heat_W) {
  return heat_W * node.resistance_K_per_W;
}

/// Rise after a time of constant heat, exact. Result in K.
/// Valid: step_s >= 0.
/// Ignores change of heat or ambient within the step.
/// Source: solution of C dT/dt = P - T/R. Checked by: model/thermal_test.
template <class R>
R node_rise_next_K(const ThermalNode<R>& node, R rise_K, R heat_W, R step_s) {
  const R steady_K = node_rise_steady_K(node, heat_W);
  return steady_K + exp_exact<R>(-step_s / node_time_constant_s(node)) * (rise_K - steady_K);
}

/// Time of constant heat until the rise reaches a limit: infinite where it never does. In s.
/// Valid: start below the limit; above it 0.
/// Ignores what node_rise_next_K ignores.
/// Source: inverse of node_rise_next_K. Checked by: model/thermal_test.
template <class R>
R node_time_to_limit_s(const ThermalNode<R>& node, R rise_K, R heat_W, R limit_K) {
  const R steady_K = node_rise_steady_K(node, heat_W);
  const R never = num<R>(std::numeric_limits<double>::infinity());
  const R ratio = max((steady_K - rise_K) / (steady_K - limit_K), num<R>(1));
  const R heating =
      select(steady_K > limit_K, node_time_constant_s(node) * log_exact(ratio), never);
  return select(rise_K >= limit_K, num<R>(0), heating);
}

/// Time constant that makes a peak rating (cold start, limit reached at its end) agree with a
/// continuous one; with copper loss only the loss ratio is the torque ratio squared. In s.
/// Valid: 0 < loss ratio continuous/peak < 1; outside: NaN. Two peaks that disagree: two nodes.
/// Ignores the second node: true of peaks far shorter or far longer than the answer.
/// Source: t = -tau ln(1 - Pc/Pp). Checked by: values/thermal.tsv.
template <class R>
R time_constant_from_peak_s(R loss_ratio, R peak_s) {
  return valid_where<R>((loss_ratio > num<R>(0)) & (loss_ratio < num<R>(1)),
                        -peak_s / log(num<R>(1) - loss_ratio));
}

/// A continuous and a peak rating as heat.
template <class R>
struct NodeRatings {
  R continuous_W;  ///< heat that ends at the limit in the long run
  R peak_W;        ///< heat that reaches the limit after peak_s from cold
  R peak_s;
  R limit_K;  ///< permitted rise
};

/// The one node that has both ratings. Result in J/K and K/W.
/// Valid: 0 < continuous_W < peak_W; outside: capacity NaN.
/// Ignores what time_constant_from_peak_s ignores.
/// Source: definition. Checked by: values/thermal.tsv.
template <class R>
ThermalNode<R> node_from_ratings(const NodeRatings<R>& ratings) {
  const R resistance = ratings.limit_K / ratings.continuous_W;
  const R tau = time_constant_from_peak_s(ratings.continuous_W / ratings.peak_W, ratings.peak_s);
  return {.capacity_J_per_K = tau / resistance, .resistance_K_per_W = resistance};
}

// ---- Two nodes

/// Winding and case of a motor, or core and skin of a cell. Only the outer node meets the air.
template <class R>
struct TwoNodes {
  R inner_J_per_K;
  R outer_J_per_K;
  R between_K_per_W;  ///< inner to outer
  R air_K_per_W;      ///< outer to ambient
};

template <class R>
struct TwoRises {
  R inner_K;
  R outer_K;
};

template <class R>
struct TwoHeats {
  R inner_W;
  R outer_W;
};

/// Time constants, the shorter first.
template <class R>
struct TwoTimes {
  R quick_s;
  R slow_s;
};

/// How the distances from the steady rises shrink in one step: a 2 x 2 matrix.
template <class R>
struct TwoNodeStep {
  R inner_from_inner;
  R inner_from_outer;
  R outer_from_inner;
  R outer_from_outer;
};

namespace detail {
/// The system matrix of dx/dt = A x + heat/capacity, and its two (real, negative) eigenvalues as
/// middle +- half.
template <class R>
struct TwoNodeSystem {
  R inner_inner, inner_outer, outer_inner, outer_outer;
  R middle, half;
};

template <class R>
TwoNodeSystem<R> two_node_system(const TwoNodes<R>& n) {
  const R g = num<R>(1) / n.between_K_per_W;
  const R g_air = num<R>(1) / n.air_K_per_W;
  const R inner_inner = -g / n.inner_J_per_K;
  const R inner_outer = g / n.inner_J_per_K;
  const R outer_inner = g / n.outer_J_per_K;
  const R outer_outer = -(g + g_air) / n.outer_J_per_K;
  const R unlike = num<R>(0.5) * (inner_inner - outer_outer);
  return {.inner_inner = inner_inner,
          .inner_outer = inner_outer,
          .outer_inner = outer_inner,
          .outer_outer = outer_outer,
          .middle = num<R>(0.5) * (inner_inner + outer_outer),
          .half = sqrt(unlike * unlike + inner_outer * outer_inner)};
}
}  // namespace detail

/// Both time constants. Result in s.
/// Valid: all four constants > 0.
/// Ignores change of cooling with temperature.
/// Source: eigenvalues of the 2 x 2 system. Checked by: values/thermal.tsv.
template <class R>
TwoTimes<R> two_node_times_s(const TwoNodes<R>& nodes) {
  const auto a = detail::two_node_system(nodes);
  const R quick = a.half - a.middle;
  // The product of the eigenvalues is 1/(C C R R): no cancellation for the slow one.
  const R product = num<R>(1) / (nodes.inner_J_per_K * nodes.outer_J_per_K * nodes.between_K_per_W *
                                 nodes.air_K_per_W);
  return {.quick_s = num<R>(1) / quick, .slow_s = quick / product};
}

/// Both rises in the long run under constant heat. Result in K.
/// Valid: any heat.
/// Ignores that losses grow with temperature.
/// Source: heat balance. Checked by: values/thermal.tsv.
template <class R>
TwoRises<R> two_node_steady_K(const TwoNodes<R>& nodes, const TwoHeats<R>& heat) {
  const R outer_K = (heat.inner_W + heat.outer_W) * nodes.air_K_per_W;
  return {.inner_K = outer_K + heat.inner_W * nodes.between_K_per_W, .outer_K = outer_K};
}

/// The step matrix for one step size: exp(A step), closed form.
/// Valid: all four constants > 0, step_s >= 0.
/// Ignores change of cooling within the step.
/// Source: exp(A t) of a 2 x 2 matrix with real eigenvalues. Checked by: values/thermal.tsv
/// (ngspice, matrix exponential), model/thermal_test.
template <class R>
TwoNodeStep<R> two_node_step(const TwoNodes<R>& nodes, R step_s) {
  const auto a = detail::two_node_system(nodes);
  const R slow = exp_exact<R>((a.middle + a.half) * step_s);
  const R quick = exp_exact<R>((a.middle - a.half) * step_s);
  const R even = num<R>(0.5) * (slow + quick);
  const R odd = num<R>(0.5) * (slow - quick) / a.half;
  return {.inner_from_inner = even + odd * (a.inner_inner - a.middle),
          .inner_from_outer = odd * a.inner_outer,
          .outer_from_inner = odd * a.outer_inner,
          .outer_from_outer = even + odd * (a.outer_outer - a.middle)};
}

/// Rises after one prepared step towards the steady rises. Result in K.
/// Valid: steady_K from two_node_steady_K of the same nodes and this step's heat.
/// Ignores change of heat or ambient within the step.
/// Source: x = x_s + exp(A t)(x_0 - x_s). Checked by: values/thermal.tsv, model/thermal_test.
template <class R>
TwoRises<R> two_node_next_K(const TwoNodeStep<R>& step, const TwoRises<R>& rise_K,
                            const TwoRises<R>& steady_K) {
  const R inner = rise_K.inner_K - steady_K.inner_K;
  const R outer = rise_K.outer_K - steady_K.outer_K;
  return {
      .inner_K = steady_K.inner_K + step.inner_from_inner * inner + step.inner_from_outer * outer,
      .outer_K = steady_K.outer_K + step.outer_from_inner * inner + step.outer_from_outer * outer};
}

/// Rises after a time of constant heat; prepares the step itself. Result in K.
/// Valid: step_s >= 0.
/// Ignores change of heat or ambient within the time.
/// Source: as two_node_next_K. Checked by: values/thermal.tsv.
template <class R>
TwoRises<R> two_node_after_K(const TwoNodes<R>& nodes, const TwoRises<R>& rise_K,
                             const TwoHeats<R>& heat, R time_s) {
  return two_node_next_K(two_node_step(nodes, time_s), rise_K, two_node_steady_K(nodes, heat));
}

/// Speed at which the inner rise changes now. Result in K/s.
/// Valid: any state.
/// Ignores nothing of the two nodes.
/// Source: heat balance of the inner node. Checked by: model/thermal_test.
template <class R>
R inner_rise_speed_Kps(const TwoNodes<R>& nodes, const TwoRises<R>& rise_K, R inner_W) {
  return (inner_W - (rise_K.inner_K - rise_K.outer_K) / nodes.between_K_per_W) /
         nodes.inner_J_per_K;
}

/// Time of constant heat until the inner rise reaches a limit: infinite where it never does. In s.
/// Valid: a start from which the inner node only warms (cold, or a lighter load); above it 0.
/// Ignores a start so hot inside that it first cools.
/// Source: inverse of two_node_after_K, bisection and a Newton step. Checked by:
/// values/thermal.tsv.
template <class R>
R two_node_time_to_limit_s(const TwoNodes<R>& nodes, const TwoRises<R>& rise_K,
                           const TwoHeats<R>& heat, R limit_K) {
  const R slow_s = two_node_times_s(nodes).slow_s;
  // In units of what is left of the slow mode, u = exp(-t/slow) from 1 (now) to 0 (never).
  const auto inner_at = [&](const R& u) {
    return two_node_after_K(nodes, rise_K, heat, -slow_s * log_exact(u)).inner_K;
  };
  const R u =
      bisected(num<R>(0), num<R>(1), [&](const R& left) { return inner_at(left) > limit_K; });
  const R t = -slow_s * log(u);
  const auto then = two_node_after_K(nodes, rise_K, heat, t);
  const R polished = t + (limit_K - then.inner_K) / inner_rise_speed_Kps(nodes, then, heat.inner_W);
  const R never = num<R>(std::numeric_limits<double>::infinity());
  const R heating = select(two_node_steady_K(nodes, heat).inner_K > limit_K, polished, never);
  return select(rise_K.inner_K >= limit_K, num<R>(0), heating);
}

/// Ratings of a machine whose two capacities are known from its masses.
template <class R>
struct TwoNodeRatings {
  R inner_J_per_K;         ///< copper and a share of the iron
  R outer_J_per_K;         ///< the rest and the case
  TwoHeats<R> continuous;  ///< ends at the limit in the long run
  TwoHeats<R> peak;        ///< reaches the limit after peak_s from cold
  R peak_s;
  R limit_K;  ///< permitted inner rise
};

/// The two resistances that make both ratings true, the capacities given. Result as TwoNodes.
/// Valid: a peak between what the inner node alone and both together can take; outside: NaN.
/// Ignores derivatives (double or batch only) and the maker's unknown air speed: a spread.
/// Source: heat balance and bisection. Checked by: values/thermal.tsv, model/thermal_test.
template <class R>
TwoNodes<R> two_nodes_from_ratings(const TwoNodeRatings<R>& ratings) {
  const TwoHeats<R>& c = ratings.continuous;
  const auto with_share = [&](const R& share) {
    const R between = share * ratings.limit_K / c.inner_W;
    return TwoNodes<R>{
        .inner_J_per_K = ratings.inner_J_per_K,
        .outer_J_per_K = ratings.outer_J_per_K,
        .between_K_per_W = between,
        .air_K_per_W = (ratings.limit_K - c.inner_W * between) / (c.inner_W + c.outer_W)};
  };
  const TwoRises<R> cold{.inner_K = num<R>(0) * ratings.limit_K,
                         .outer_K = num<R>(0) * ratings.limit_K};
  const auto peak_rise = [&](const R& share) {
    return two_node_after_K(with_share(share), cold, ratings.peak, ratings.peak_s).inner_K;
  };
  const R share = bisected(num<R>(1e-6), num<R>(1 - 1e-6),
                           [&](const R& s) { return peak_rise(s) < ratings.limit_K; });
  TwoNodes<R> nodes = with_share(share);
  const auto met = abs(peak_rise(share) - ratings.limit_K) <= num<R>(1e-6) * ratings.limit_K;
  nodes.between_K_per_W = valid_where<R>(met, nodes.between_K_per_W);
  nodes.air_K_per_W = valid_where<R>(met, nodes.air_K_per_W);
  return nodes;
}

// ---- Copper

/// Change of copper resistance per K, referred to 20 C (IEC 60028).
template <class R>
constexpr R copper_per_K() {
  return constant<R>(0.00393, {.K = -1});
}

/// Factor on a copper loss or resistance given at 20 C. Dimensionless.
/// Valid: 200 K <= temperature <= 500 K.
/// Ignores eddy currents in the conductor, which fall with temperature.
/// Source: 1 + 0.00393 (T - 20 C), IEC 60028. Checked by: values/thermal.tsv.
template <class R>
R copper_loss_factor(R temperature_K) {
  return num<R>(1) + copper_per_K<R>() * (temperature_K - constant<R>(293.15, {.K = 1}));
}

/// Steady temperature when the loss itself grows with it. Result in K; NaN where it runs away.
/// Valid: loss at 20 C times thermal resistance below 254.5 K (the runaway limit).
/// Ignores iron loss and cooling that improves with temperature.
/// Source: heat balance with P = P20 (1 + a (T - 20 C)). Checked by: values/thermal.tsv.
template <class R>
R copper_steady_K(R ambient_K, R loss_20C_W, R resistance_K_per_W) {
  const R drive_K = loss_20C_W * resistance_K_per_W;
  const R feedback = copper_per_K<R>() * drive_K;
  const R room = constant<R>(293.15, {.K = 1});
  return valid_where<R>(feedback < num<R>(1),
                        (ambient_K + drive_K - feedback * room) / (num<R>(1) - feedback));
}

/// Speed of warming of copper that keeps all its heat. Result in K/s.
/// Valid: current density in A/m2, bursts much shorter than the winding's time constant.
/// Ignores insulation and iron beside it, which take heat too.
/// Source: rho J^2/(density c), 1.724e-8 ohm m, 8960 kg/m3, 385 J/(kg K), handbook values.
/// Checked by: values/thermal.tsv.
template <class R>
R copper_adiabatic_Kps(R density_Apm2, R temperature_K) {
  const R rho = constant<R>(1.724e-8, {.kg = 1, .m = 3, .s = -3, .A = -2});
  const R heat_per_m3 = constant<R>(8960.0 * 385.0, {.kg = 1, .m = -1, .s = -2, .K = -1});
  return rho * copper_loss_factor(temperature_K) * density_Apm2 * density_Apm2 / heat_per_m3;
}

// ---- Cells

/// Rise of a cell that keeps all the heat of one full discharge. Result in K.
/// Valid: constant current and resistance; heat capacity in J/K (mass times about 850..1000).
/// Ignores entropic heat and the higher resistance near empty.
/// Source: I R Q/(m c). Checked by: values/thermal.tsv.
template <class R>
R discharge_rise_K(R current_A, R resistance_ohm, R charge_C, R capacity_J_per_K) {
  return current_A * resistance_ohm * charge_C / capacity_J_per_K;
}

/// Whole surface of a cylinder, ends included. Result in m2.
/// Valid: diameter, length > 0.
/// Ignores what touches it.
/// Source: geometry. Checked by: values/thermal.tsv.
template <class R>
R cylinder_surface_m2(R diameter_m, R length_m) {
  return num<R>(pi) * diameter_m * (length_m + num<R>(0.5) * diameter_m);
}

// ---- Heat to the air

/// Air at the mean of surface and free-stream temperature.
template <class R>
struct AirFilm {
  R conductivity_W_per_mK;
  R viscosity_m2ps;  ///< kinematic
  R prandtl;
};

/// Air near 60 C at sea level: 0.0285 W/(m K), 1.89e-5 m2/s, Pr 0.708.
template <class R>
AirFilm<R> warm_air_film() {
  return {.conductivity_W_per_mK = constant<R>(0.0285, {.kg = 1, .m = 1, .s = -3, .K = -1}),
          .viscosity_m2ps = constant<R>(1.89e-5, {.m = 2, .s = -1}),
          .prandtl = num<R>(0.708)};
}

/// Heat transfer coefficient of a cylinder across the wind. Result in W/(m2 K).
/// Valid: Reynolds times Prandtl > 0.2, else NaN. Behind frame or rider take 0.3..0.7 of the speed.
/// Ignores fins, end faces, turbulence of the wake it stands in (about +-20 %).
/// Source: Churchill & Bernstein 1977. Checked by: values/thermal.tsv.
template <class R>
R cylinder_convection_W_per_m2K(const AirFilm<R>& air, R diameter_m, R speed_mps) {
  const R re = speed_mps * diameter_m / air.viscosity_m2ps;
  const R third = num<R>(1.0 / 3);
  const R slenderness =
      pow(num<R>(1) + pow(num<R>(0.4) / air.prandtl, num<R>(2.0 / 3)), num<R>(0.25));
  const R wake = pow(num<R>(1) + pow(re / num<R>(282000), num<R>(0.625)), num<R>(0.8));
  const R nusselt =
      num<R>(0.3) + num<R>(0.62) * sqrt(re) * pow(air.prandtl, third) / slenderness * wake;
  return valid_where<R>(re * air.prandtl > num<R>(0.2),
                        nusselt * air.conductivity_W_per_mK / diameter_m);
}

/// Heat transfer coefficient of a flat face in the wind. Result in W/(m2 K).
/// Valid: 0 <= speed <= 40 m/s; outside: NaN. Jumps by 8 % at 5 m/s, as published.
/// Ignores size and roughness of the face.
/// Source: Juerges 1924: 5.7 + 3.8 v up to 5 m/s, 6.47 v^0.78 above. Checked by:
/// values/thermal.tsv.
template <class R>
R plate_convection_W_per_m2K(R speed_mps) {
  const Unit coefficient{.kg = 1, .s = -3, .K = -1};
  const R slow = constant<R>(5.7, coefficient) +
                 constant<R>(3.8, {.kg = 1, .m = -1, .s = -2, .K = -1}) * speed_mps;
  const R mps = constant<R>(1, {.m = 1, .s = -1});
  const R fast = constant<R>(6.47, coefficient) * pow(speed_mps / mps, num<R>(0.78));
  return valid_where<R>((speed_mps >= num<R>(0)) & (speed_mps <= num<R>(40) * mps),
                        select(speed_mps <= num<R>(5) * mps, slow, fast));
}

/// Radiation as a heat transfer coefficient. Result in W/(m2 K).
/// Valid: small body in large surroundings at the ambient temperature.
/// Ignores sunshine and hot neighbours.
/// Source: eps sigma (T^4 - Ta^4)/(T - Ta), Stefan-Boltzmann. Checked by: values/thermal.tsv.
template <class R>
R radiation_W_per_m2K(R emissivity, R surface_K, R ambient_K) {
  const R sigma = constant<R>(5.670374419e-8, {.kg = 1, .s = -3, .K = -4});
  return emissivity * sigma * (surface_K + ambient_K) *
         (surface_K * surface_K + ambient_K * ambient_K);
}

/// Share of a straight fin's surface that works as if at root temperature. Dimensionless.
/// Valid: fin parameter m L > 0 with m = sqrt(2 h/(k thickness)); 0: NaN.
/// Ignores heat from the tip and a root colder than the wall.
/// Source: tanh(mL)/(mL). Checked by: model/thermal_test.
template <class R>
R fin_efficiency(R fin_parameter) {
  return tanh(fin_parameter) / fin_parameter;
}

// ---- Life and duty

/// Factor on the life of an insulation by the rule that a step of temperature halves it.
/// Valid: within about 30 K of the reference; the usual step is 10 K, a rule without a source.
/// Ignores vibration, moisture and partial discharge.
/// Source: rule of thumb (Montsinger 1930). Checked by: model/thermal_test.
template <class R>
R life_factor_halving(R temperature_K, R reference_K, R halving_K) {
  return exp(num<R>(0.69314718055994531) * (reference_K - temperature_K) / halving_K);
}

/// Current of the same mean copper heat as one current that flows part of the time. Result in A.
/// Valid: 0 <= on_s <= period_s, period much shorter than the time constant.
/// Ignores rise of resistance.
/// Source: definition of the root mean square. Checked by: values/thermal.tsv.
template <class R>
R intermittent_rms_A(R current_A, R on_s, R period_s) {
  return current_A * sqrt(on_s / period_s);
}

template <class R>
struct DutyPart {
  R current_A;
  R duration_s;
};

/// Current of the same mean copper heat as a sequence of currents. Result in A.
/// Valid: durations > 0, their sum much shorter than the time constant.
/// Ignores rise of resistance.
/// Source: definition of the root mean square. Checked by: model/thermal_test.
template <class R>
R duty_rms_A(std::span<const DutyPart<R>> duty) {
  R heat = num<R>(0);
  R time = num<R>(0);
  for (const auto& part : duty) {
    heat += part.current_A * part.current_A * part.duration_s;
    time += part.duration_s;
  }
  return sqrt(heat / time);
}

}  // namespace ww::model
