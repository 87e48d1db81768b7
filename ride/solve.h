// SPDX-License-Identifier: MIT
// Motor, controller and pack solved together at one moment: what a torque costs, and the largest
// torque there is. Invariants:
// 1. Phase current, voltage circle, battery current and the pack's sag are met at the same time;
// battery amps are not
//    phase amps.
// 2. Every iteration has a largest count, so that all lanes do the same work; it ends before only
// where every lane is done to 1e-13 of its scale, or a Newton step of 3e-7 leaves no more.
// 3. power_pack = power_shaft + motor losses + controller losses + auxiliaries, to rounding.
#pragma once

#include "ride/motor_asked.h"
#include "ride/params.h"

namespace ww::ride {

/// The pack at one state of charge and temperature, as a source.
template <class R>
struct PackState {
  model::CellSource<R> source;  ///< open circuit less what the slow part holds; fast resistance
  R current_max_A;
  R soft_cut_V;
};

/// Steady source: the slow part has settled.
template <class R>
PackState<R> settled_pack(const PackParams<R>& pack, R soc, R temperature_factor) {
  const R fast = num<R>(1) - pack.slow_share;
  // The listed resistance is what a 10 s pulse shows: the slow part has by then come this far.
  const R shape = model::resistance_ohm<R>(
      {pack.cells_ohm, num<R>(model::resistance_end_factor), num<R>(model::resistance_end_factor)},
      temperature_factor, soc);
  const R resistance = shape * (fast + pack.slow_share * slow_gain(pack)) + pack.wires_ohm;
  const R emf = pack.cells_in_series * model::ocv_V(pack.cell_ocv, soc);
  return {.source = {.emf_V = emf, .resistance_ohm = resistance},
          .current_max_A = pack.current_max_A,
          .soft_cut_V = pack.soft_cut_V};
}

/// How much larger the settled slow part is than its share after 10 s: 1/(1 - exp(-10 s/time)). A
/// rational form of the exponential, within 0.4 % for times of 8 s and more, 1.1 % at 4 s, keeps
/// the stepping kernel free of libm.
template <class R>
R slow_gain(const PackParams<R>& pack) {
  const R x = num<R>(10) / pack.slow_time_s;
  const R grown =
      x *
      (num<R>(1) + x * (num<R>(0.5) + x * (num<R>(1.0 / 6) + x * num<R>(1.0 / 24))));  // e^x - 1
  return (grown + num<R>(1)) / grown;
}

/// One operating point of the whole drive.
template <class R>
struct Operating {
  model::ShaftPoint<R> shaft;
  R loss_controller_W;
  R power_pack_W;  ///< out of the pack's terminals
  R current_pack_A;
  R voltage_pack_V;
  mask_of<R> feasible;  ///< motor, voltage, battery current and under-voltage
};

/// Where the mask holds the one, else the other.
template <class R>
Operating<R> either(const mask_of<R>& mask, const Operating<R>& yes, const Operating<R>& no) {
  Operating<R> out = yes;
  const auto take = [&](R& to, const R& other) { to = select(mask, to, other); };
  take(out.shaft.power_electrical_W, no.shaft.power_electrical_W);
  take(out.shaft.current_phase_peak_A, no.shaft.current_phase_peak_A);
  take(out.shaft.loss_copper_W, no.shaft.loss_copper_W);
  take(out.shaft.loss_iron_mech_W, no.shaft.loss_iron_mech_W);
  take(out.shaft.voltage_V, no.shaft.voltage_V);
  take(out.loss_controller_W, no.loss_controller_W);
  take(out.power_pack_W, no.power_pack_W);
  take(out.current_pack_A, no.current_pack_A);
  take(out.voltage_pack_V, no.voltage_pack_V);
  out.shaft.feasible = (mask & yes.shaft.feasible) | (no.shaft.feasible & (!mask));
  out.feasible = out.shaft.feasible;
  return out;
}

template <class R>
R controller_loss_W(const ControllerLoss<R>& loss, R current_A) {
  return loss.idle_W + current_A * (loss.linear_V + loss.quadratic_ohm * current_A);
}

template <class R>
R current_allowed_A(const PackState<R>& pack) {
  const R per_ohm = num<R>(1) / pack.source.resistance_ohm;
  const R by_voltage = (pack.source.emf_V - pack.soft_cut_V) * per_ohm;
  // Never past the pack's point of largest power, whatever the settings say.
  const R by_power = num<R>(0.49) * pack.source.emf_V * per_ohm;
  return max(min(min(pack.current_max_A, by_voltage), by_power), num<R>(0));
}

/// A hair under the most that the pack gives before its voltage gives way.
template <class R>
R power_cap_W(const PackState<R>& pack) {
  const R per_ohm = num<R>(1) / pack.source.resistance_ohm;
  return num<R>(0.2499) * square(pack.source.emf_V) * per_ohm;
}

/// What a motor's point costs at the pack.
template <class R>
Operating<R> cost_of_point(const BikeParams<R>& bike, const model::ShaftPoint<R>& shaft,
                           const PackState<R>& pack, R power_cap) {
  const R loss = controller_loss_W(bike.controller, shaft.current_phase_peak_A);
  const R power = shaft.power_electrical_W + loss + bike.auxiliary_W;
  const R current = model::current_at_power_A(pack.source, min(power, power_cap));
  return {.shaft = shaft,
          .loss_controller_W = loss,
          .power_pack_W = power,
          .current_pack_A = current,
          .voltage_pack_V = model::terminal_voltage_V(pack.source, current),
          .feasible = shaft.feasible};
}

template <class R>
model::DriveLimits<R> limits_at(const BikeParams<R>& bike, R voltage_pack_V) {
  return {.voltage_limit_V = bike.modulation * voltage_pack_V,
          .current_limit_A = bike.current_limit_A,
          .weakening = bike.weakening};
}

/// A PM motor that may not weaken and a brushed one have one point whatever the voltage. Else the
/// current follows the voltage, which follows the power: secants on what the voltage asked for
/// lacks of the one that comes, at most twelve. A lane that lacks nothing stays where it is.
/// Carries derivatives: then all are made.
template <class R, template <class> class Motor>
Operating<R> settled_point(const BikeParams<R>& bike, const Asked<R, Motor>& asked,
                           const PackState<R>& pack, R power_cap) {
  const auto at_voltage = [&](R voltage) {
    return cost_of_point(bike, asked.point(limits_at(bike, voltage)), pack, power_cap);
  };
  const R emf = pack.source.emf_V, nothing = num<R>(1e-12) * emf;
  Operating<R> at = at_voltage(emf);
  if (!any(bike.weakening > num<R>(0.5))) return at;
  // A point that needed less than either voltage is the same at both.
  const mask_of<R> ample = (at.shaft.voltage_V < num<R>(1 - 1e-9) * bike.modulation * emf) &
                           (at.shaft.voltage_V <= bike.modulation * at.voltage_pack_V);
  if (all(ample)) return at;
  R before = emf, volts = at.voltage_pack_V, gain = num<R>(1);
  R lack_before = volts - before;
  mask_of<R> there = num<R>(0) > num<R>(1);
  for (int round = 0; round < 12; ++round) {
    const Operating<R> next = at_voltage(volts);
    at = either(there, at, next);
    const R lack = next.voltage_pack_V - volts;
    const R fell = lack_before - lack;
    gain = select(abs(fell) > nothing, (volts - before) / fell, gain);
    before = volts;
    lack_before = lack;
    if constexpr (!carries_slopes<R>) {
      there = there | !(abs(lack) > nothing);
      if (all(there)) break;
      gain = select(there, num<R>(0), gain);
    }
    volts = min(max(volts + lack * gain, num<R>(0.5) * emf), num<R>(2) * emf);
  }
  return at;
}

/// An induction motor's flux and the pack's voltage settle together: the power, and with it the
/// voltage that is left, is told by the d current.
template <class R>
Operating<R> settled_point(const BikeParams<R>& bike, Asked<R, model::InductionMotor>& asked,
                           const PackState<R>& pack, R power_cap) {
  const R emf = pack.source.emf_V, ohm = pack.source.resistance_ohm, two = num<R>(2);
  const ControllerLoss<R>& loss = bike.controller;
  asked.settle([&](const R& square_d_A2) {
    const auto p = asked.power(square_d_A2);
    const R power = p.power_W + controller_loss_W(loss, p.current_A) + bike.auxiliary_W;
    const R power_by = p.by_square_d + (loss.linear_V + two * loss.quadratic_ohm * p.current_A) *
                                           p.current_by_square_d;
    const R root = sqrt(square(emf) - num<R>(4) * ohm * min(power, power_cap));
    const R volts = num<R>(0.5) * bike.modulation * (emf + root);
    const R volts_by = select(power < power_cap, -bike.modulation * ohm / root, num<R>(0));
    return model::SquareVoltage<R>{square(volts), two * volts * volts_by * power_by};
  });
  // Whether it is inside the voltage that is left is asked of every motor's point, see operate.
  return cost_of_point(bike, asked.point(limits_at(bike, emf)), pack, power_cap);
}

/// What a shaft torque costs at a motor speed.
template <class R, template <class> class Motor>
Operating<R> operate(const BikeParams<R>& bike, Asked<R, Motor>& asked, const PackState<R>& pack) {
  const model::ShaftDemand<R>& demand = asked.demand();
  const R power_cap = power_cap_W(pack);
  Operating<R> at = settled_point(bike, asked, pack, power_cap);
  const mask_of<R> inside =
      at.shaft.voltage_V <= bike.modulation * at.voltage_pack_V * num<R>(1 + model::limit_slack);
  const R slack = num<R>(1 + 1e-9);
  at.feasible =
      at.shaft.feasible & inside & (at.current_pack_A <= current_allowed_A(pack) * slack) &
      (at.power_pack_W <= power_cap) & (demand.torque_shaft_Nm <= bike.torque_limit_Nm * slack) &
      (demand.speed_radps <= bike.speed_limit_radps);
  return at;
}

template <class R, template <class> class Motor>
Operating<R> operate(const BikeParams<R>& bike, const Motor<R>& motor,
                     const model::ShaftDemand<R>& demand, const PackState<R>& pack) {
  auto kept = kept_at(motor, demand);
  Asked<R, Motor> asked(motor, kept, demand);
  return operate(bike, asked, pack);
}

/// A place and the margin there.
template <class R>
struct MarginAt {
  R place;
  R margin;
};

/// Where a falling margin crosses zero between two places of unlike sign: false position, the end
/// that stays taken down by Anderson and Bjorck's share, at most fourteen rounds; fewer where every
/// lane has a margin of nothing or is `settled` (its answer is known without). A lane that has come
/// there stays, whatever the lanes beside it still need. Where the margin jumps, the last place
/// above it. Carries derivatives: then all rounds are made, and the last step is a secant of two
/// close points.
template <class R, class Margin>
R false_position(MarginAt<R> low, MarginAt<R> high, const mask_of<R>& settled,
                 const Margin& margin) {
  const R zero = num<R>(0), half = num<R>(0.5), one = num<R>(1);
  mask_of<R> last_above = zero > one;
  mask_of<R> last_below = last_above;
  R middle = low.place, reached = low.place, lacks = zero;
  mask_of<R> done = settled;
  for (int i = 0; i < 14; ++i) {
    const R guess = low.place + (high.place - low.place) * low.margin /
                                    max(low.margin - high.margin, num<R>(1e-14));
    middle = min(max(guess, low.place), high.place);
    const R here = margin(middle);
    reached = select(done, reached, middle);
    lacks = select(done, lacks, min(here, zero));
    if constexpr (!carries_slopes<R>) {
      done = done | !(abs(here) > num<R>(1e-13));
      if (all(done)) break;
    }
    const mask_of<R> above = here >= zero;
    const R replaced = select(above, low.margin, high.margin);
    const mask_of<R> below = !above;
    const R left = one - here / replaced;
    const R share =
        select((above & last_above) | (below & last_below), select(left > zero, left, half), one);
    high.margin = select(above, share * high.margin, here);
    low.margin = select(above, here, share * low.margin);
    low.place = select(above, middle, low.place);
    high.place = select(above, high.place, middle);
    last_above = above;
    last_below = below;
  }
  return select(lacks < num<R>(-1e-12), low.place, reached);
}

/// A PM motor whose field stays as it is runs along its line of most torque per ampere. On it
/// torque, power and voltage all grow with the current, and each is told by the current without a
/// search.
template <class R, template <class> class Motor>
mask_of<R> current_tells_all(const BikeParams<R>&, const Motor<R>&) {
  return num<R>(0) > num<R>(1);
}
template <class R>
mask_of<R> current_tells_all(const BikeParams<R>& bike, const model::PmMotor<R>&) {
  return !(bike.weakening > num<R>(0.5));
}

/// What the battery gives at most, W, and what it stands at when nothing turns the motor.
template <class R>
struct BatteryEdge {
  R power_W;
  R idle_W;       ///< taken at no current
  R idle_root_V;  ///< 2 V - E there, V the terminal voltage
};

template <class R>
BatteryEdge<R> battery_edge(const BikeParams<R>& bike, const PackState<R>& pack) {
  const R allowed = current_allowed_A(pack);
  const R idle = bike.controller.idle_W + bike.auxiliary_W;
  return {
      .power_W = allowed * model::terminal_voltage_V(pack.source, allowed),
      .idle_W = idle,
      .idle_root_V = sqrt(max(
          square(pack.source.emf_V) - num<R>(4) * pack.source.resistance_ohm * idle, num<R>(0)))};
}

/// A current near the one sought: as if the d and q inductance were equal, and the pack's voltage
/// fell in proportion to the current. Both limits are then quadratics.
template <class R>
R current_guess_A(const BikeParams<R>& bike, const model::PmMotor<R>& motor, R speed_radps,
                  const PackState<R>& pack, const BatteryEdge<R>& edge) {
  const R zero = num<R>(0), half = num<R>(0.5);
  const R omega = motor.pole_pairs * speed_radps;
  const R res = motor.resistance_phase_ohm;
  const R back_emf = omega * motor.flux_peak_Wb;
  const R power_by = num<R>(1.5) * back_emf + bike.controller.linear_V;
  const R power_bend = num<R>(1.5) * res + bike.controller.quadratic_ohm;
  const R power_left = max(edge.power_W - edge.idle_W, zero);
  const R by_power = num<R>(2) * power_left /
                     (power_by + sqrt(square(power_by) + num<R>(4) * power_bend * power_left));
  const R volts = half * bike.modulation * (pack.source.emf_V + edge.idle_root_V);
  const R sag = bike.modulation * pack.source.resistance_ohm * power_by / edge.idle_root_V;
  const R bend = max(square(res) + square(omega * motor.inductance_q_H) - square(sag), zero);
  const R half_by = res * back_emf + volts * sag;
  const R left = max(square(volts) - square(back_emf), zero);
  const R by_voltage = left / (half_by + sqrt(square(half_by) + bend * left));
  return min(by_power, by_voltage);
}

/// The most torque at a motor speed, with what makes the search at a speed near by short.
template <class R>
struct TorqueEdge {
  R torque_Nm;
  R by_speed_Nms;  ///< how it changes with the motor's speed; zero where nothing tells it
  R speed_radps;
  R current_A;            ///< phase, sine peak; zero where nothing tells it
  R current_by_speed_As;  ///< A per rad/s
};

template <class R>
TorqueEdge<R> torque_alone(R torque_Nm, R speed_radps) {
  return {torque_Nm, num<R>(0), speed_radps, num<R>(0), num<R>(0)};
}

/// What limits a current, and by how much: the battery's power, the voltage.
template <class R>
struct CurrentMargin {
  R power_left_W, power_by_current;
  R voltage_left_V2, voltage_by_current;  ///< the slopes are of what is used up
  R voltage_by_speed;
};

template <class R>
CurrentMargin<R> current_margin(const BikeParams<R>& bike, const model::LinePoint<R>& at,
                                R current_A, const model::CellSource<R>& source,
                                const BatteryEdge<R>& edge) {
  const R emf = source.emf_V, ohm = source.resistance_ohm, two = num<R>(2);
  const R taken =
      at.power_electrical_W + controller_loss_W(bike.controller, current_A) + bike.auxiliary_W;
  const R taken_by = at.power_by_current + bike.controller.linear_V +
                     two * bike.controller.quadratic_ohm * current_A;
  const R power_left = edge.power_W - taken;
  // The pack stands at V = (E + root)/2; more than it gives is never drawn.
  const R root = sqrt(square(emf) - num<R>(4) * ohm * min(taken, edge.power_W));
  const mask_of<R> gives = power_left > num<R>(0);
  const R volts = num<R>(0.5) * bike.modulation * (emf + root);
  const R square_by_power = select(gives, two * volts * bike.modulation * ohm / root, num<R>(0));
  return {.power_left_W = power_left,
          .power_by_current = taken_by,
          .voltage_left_V2 = square(volts) - at.square_voltage_V2,
          .voltage_by_current = square_by_power * taken_by + at.square_voltage_by_current,
          .voltage_by_speed = square_by_power * at.torque_airgap_Nm + at.square_voltage_by_speed};
}

/// As torque_available_Nm, where the current tells all: the largest current that leaves something
/// of the battery's power and of the voltage. The lesser of two Newton steps, one a limit, inside
/// what is known of the current; at most twenty. Either margin falls ever faster with the current,
/// so that from above no step goes too far. A lane that moves by no more than 3e-7 of the largest
/// current makes that step and stays: the error left is some square of it. Carries derivatives:
/// then all steps are made. `near` is an edge at another speed, to begin from; it may be null.
template <class R>
TorqueEdge<R> torque_by_current(const BikeParams<R>& bike, const model::PmMotor<R>& motor,
                                R speed_radps, const PackState<R>& pack, const mask_of<R>& unwanted,
                                const TorqueEdge<R>* near) {
  const R zero = num<R>(0), half = num<R>(0.5);
  const BatteryEdge<R> edge = battery_edge(bike, pack);
  const R idle_volts = half * bike.modulation * (pack.source.emf_V + edge.idle_root_V);
  const R back_emf = motor.pole_pairs * speed_radps * motor.flux_peak_Wb;
  const mask_of<R> none = unwanted | (edge.power_W <= edge.idle_W) | (idle_volts <= back_emf);
  const R most = bike.current_limit_A;
  // Not quite nothing: at zero current the line of most torque has no slope.
  const R least = num<R>(1e-9) * most;
  const R hair = num<R>(3e-7) * most;
  const R start = near == nullptr ? current_guess_A(bike, motor, speed_radps, pack, edge)
                                  : near->current_A + near->current_by_speed_As *
                                                          (speed_radps - near->speed_radps);
  R low = least, high = most;
  R current = min(max(start, least), most);
  R torque = zero, torque_by = zero, current_by = zero;
  mask_of<R> done = none;
  for (int i = 0; i < 20; ++i) {
    const auto at = model::line_point(motor, current, speed_radps);
    const auto left = current_margin(bike, at, current, pack.source, edge);
    const mask_of<R> inside = (left.power_left_W >= zero) & (left.voltage_left_V2 >= zero);
    low = select(inside, current, low);
    high = select(inside, high, current);
    const R by_power = left.power_left_W / left.power_by_current;
    const R by_voltage = left.voltage_left_V2 / left.voltage_by_current;
    const R newton = current + min(by_power, by_voltage);
    const mask_of<R> kept = (newton >= low - hair) & (newton <= high + hair);
    const R next = min(max(select(kept, newton, half * (low + high)), low), high);
    const R step = next - current;
    torque = select(done, torque, at.torque_airgap_Nm + at.torque_by_current * step);
    torque_by = select(done, torque_by, at.torque_by_current);
    const R by = select(by_power < by_voltage, at.torque_airgap_Nm / left.power_by_current,
                        left.voltage_by_speed / left.voltage_by_current);
    current_by = select(done, current_by, by);
    current = select(done, current, next);
    if constexpr (!carries_slopes<R>) {
      done = done | !(abs(step) > hair);
      if (all(done)) break;
    }
  }
  const R shaft = torque - model::drag_torque(motor, speed_radps);
  const mask_of<R> held = none | (shaft > bike.torque_limit_Nm) | !(shaft > zero);
  const R falls = select(current < most, current_by, zero);
  const R drag_by = motor.drag_linear_Nms + num<R>(2) * motor.drag_quadratic_Nms2 * speed_radps;
  return {.torque_Nm = select(none, zero, max(min(shaft, bike.torque_limit_Nm), zero)),
          .by_speed_Nms = select(held, zero, -torque_by * falls - drag_by),
          .speed_radps = speed_radps,
          .current_A = current,
          .current_by_speed_As = -falls};
}
template <class R, template <class> class Motor>
TorqueEdge<R> torque_by_current(const BikeParams<R>&, const Motor<R>&, R speed_radps,
                                const PackState<R>&, const mask_of<R>&, const TorqueEdge<R>*) {
  // Never asked, see current_tells_all.
  return torque_alone(num<R>(std::numeric_limits<double>::quiet_NaN()), speed_radps);
}

/// As torque_available_Nm, solved on the smaller of two margins: torque left under the voltage,
/// battery current left.
template <class R, template <class> class Motor>
R torque_by_search_Nm(const BikeParams<R>& bike, const Motor<R>& motor, R speed_radps,
                      const PackState<R>& pack, const mask_of<R>& none) {
  const R zero = num<R>(0);
  const R allowed = current_allowed_A(pack);
  const R unloaded = torque_shaft_max(motor, speed_radps, limits_at(bike, pack.source.emf_V));
  const R top = max(min(bike.torque_limit_Nm, unloaded), zero);
  const R scale = max(top, num<R>(1e-3));
  auto kept = kept_at<R>(motor, {zero, speed_radps});
  const auto margin = [&](R torque) {
    Asked<R, Motor> asked(motor, kept, {torque, speed_radps});
    const Operating<R> at = operate(bike, asked, pack);
    const R by_voltage = asked.margin(limits_at(bike, at.voltage_pack_V), scale);
    const R by_current = (allowed - at.current_pack_A) / max(allowed, num<R>(1e-3));
    // A pack so soft that no voltage bears the torque leaves the motor short of what it stands at.
    const R volts = bike.modulation * at.voltage_pack_V;
    const R short_V = volts * num<R>(1 + model::limit_slack) - at.shaft.voltage_V;
    const R borne = select(short_V < zero, short_V / volts, num<R>(1));
    return min(min(by_voltage, by_current), borne);
  };
  const R at_zero = margin(zero), at_top = margin(top);
  const mask_of<R> all_there = at_top >= zero;
  const mask_of<R> nothing = (at_zero <= zero) | none;
  const mask_of<R> settled = all_there | nothing;
  R found = top;
  if (!all(settled)) found = false_position<R>({zero, at_zero}, {top, at_top}, settled, margin);
  return select(nothing, zero, select(all_there, top, found));
}

/// The largest shaft torque at a motor speed, all limits together, with its slope where that is
/// known; 0 where there is none, and in lanes that do not ask (`unwanted`). `near`: as above.
template <class R, template <class> class Motor>
TorqueEdge<R> torque_edge(const BikeParams<R>& bike, const Motor<R>& motor, R speed_radps,
                          const PackState<R>& pack, const mask_of<R>& unwanted,
                          const TorqueEdge<R>* near) {
  const mask_of<R> none = unwanted | (speed_radps > bike.speed_limit_radps);
  const mask_of<R> told = current_tells_all(bike, motor);
  TorqueEdge<R> edge = torque_alone(num<R>(0), speed_radps);
  if (any(told)) edge = torque_by_current<R>(bike, motor, speed_radps, pack, none | (!told), near);
  if (all(told)) return edge;
  const R searched = torque_by_search_Nm<R>(bike, motor, speed_radps, pack, none | told);
  edge.torque_Nm = select(told, edge.torque_Nm, searched);
  edge.by_speed_Nms = select(told, edge.by_speed_Nms, num<R>(0));
  return edge;
}

template <class R, template <class> class Motor>
R torque_available_Nm(const BikeParams<R>& bike, const Motor<R>& motor, R speed_radps,
                      const PackState<R>& pack) {
  const mask_of<R> unwanted = num<R>(0) > num<R>(1);
  return torque_edge<R>(bike, motor, speed_radps, pack, unwanted, nullptr).torque_Nm;
}

// ---- wheel
// --------------------------------------------------------------------------------------------------------

/// Between wheel and shaft: a ride of many seconds divides once.
template <class R>
struct Levers {
  R radps_per_mps;
  R drive_m;  ///< shaft torque for a driving force at the wheel, Nm per N
  R brake_m;  ///< for a braking one: it reaches the motor less the driveline's share
};

template <class R>
Levers<R> levers(const BikeParams<R>& bike) {
  const R lever = bike.wheel_radius_m / bike.ratio;
  return {.radps_per_mps = bike.ratio / bike.wheel_radius_m,
          .drive_m = lever / bike.driveline_efficiency,
          .brake_m = lever * bike.driveline_efficiency};
}

template <class R>
R motor_speed_radps(const Levers<R>& at, R speed_mps) {
  return speed_mps * at.radps_per_mps;
}
template <class R>
R motor_speed_radps(const BikeParams<R>& bike, R speed_mps) {
  return speed_mps * (bike.ratio / bike.wheel_radius_m);
}

/// Shaft torque for a force at the wheel.
template <class R>
R shaft_torque_Nm(const Levers<R>& at, R force_N) {
  return force_N * select(force_N > num<R>(0), at.drive_m, at.brake_m);
}
template <class R>
R shaft_torque_Nm(const BikeParams<R>& bike, R force_N) {
  return shaft_torque_Nm(levers(bike), force_N);
}

template <class R>
R wheel_force_N(const BikeParams<R>& bike, R torque_Nm) {
  const R lever = bike.ratio / bike.wheel_radius_m;
  const R efficiency = select(torque_Nm > num<R>(0), bike.driveline_efficiency,
                              num<R>(1) / bike.driveline_efficiency);
  return torque_Nm * lever * efficiency;
}

/// The most that the rear tyre puts on the road at a speed on the flat: its grip, or the front
/// wheel lifts.
template <class R>
R tyre_limit_N(const BikeParams<R>& bike, R speed_mps) {
  const R drag = model::drag_force_N<R>(bike.road, {speed_mps, num<R>(0), num<R>(0)});
  return model::thrust_limit_N<R>(bike.stance, {num<R>(0), drag, bike.stance.cg_height_m},
                                  bike.grip);
}

/// The most that the drive and the rear tyre together put on the road at a speed on the flat.
template <class R, template <class> class Motor>
R thrust_available_N(const Bike<R, Motor>& bike, const Motor<R>& warm, R speed_mps,
                     const PackState<R>& pack) {
  const R torque =
      torque_available_Nm(bike.params, warm, motor_speed_radps(bike.params, speed_mps), pack);
  return min(wheel_force_N(bike.params, torque), tyre_limit_N(bike.params, speed_mps));
}

}  // namespace ww::ride
