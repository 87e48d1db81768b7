// SPDX-License-Identifier: MIT
// All single-number answers of one bike, as a template: a lane is the nominal build, a draw of its
// spreads, or a search candidate.
#pragma once

#include "ride/answers.h"
#include "ride/cycle.h"
#include "ride/launch.h"

namespace ww::ride {

/// The traces and choices that are the same for every lane.
struct Course {
  Trace udds, udc;
  std::array<Trace, 3> wmtc;          ///< the parts of the bike's class
  std::array<double, 3> wmtc_weight;  ///< 0 where a part is not ridden
  AnswerSet wanted = every_answer;    ///< the others may stay unknown
  bool highway_70mph = false;         ///< the bike holds 70 mph; else 55 mph
  int launch_panels = 10;

  /// Whether any of these is asked for.
  template <class... Answer>
  constexpr bool wants(Answer... answer) const {
    return !(wanted & answers_of(answer...)).empty();
  }
};

/// A headwind that costs what winds of mean speed u from all sides cost at speed v: drag x (1 +
/// 0.95 (u/v)^2).
template <class R>
R equivalent_headwind_mps(R speed_mps, R wind_mean_mps) {
  return speed_mps *
         (sqrt(num<R>(1) + num<R>(0.95) * square(wind_mean_mps / speed_mps)) - num<R>(1));
}

/// A charge is at its end where the bike is down to this share of its own fresh ability, or cannot
/// do what is ridden. (common practice, no source)
inline constexpr double still_enough = 0.95;

/// How far a charge goes on a trace, and what its first round told.
template <class R>
struct TraceResult {
  Distance<R> distance;
  R missed_s;
  R square_current_As;
};

template <class R, template <class> class Motor>
TraceResult<R> trace_distance(const Bike<R, Motor>& bike, const Motor<R>& warm, const Trace& trace,
                              const PackClimate<R>& climate, R top_speed, R headwind) {
  const BikeParams<R>& p = bike.params;
  const R required = min(num<R>(still_enough) * top_speed, num<R>(trace.speed_max_mps));
  const R end = charge_end(p, warm, Steady<R>{required, num<R>(0), num<R>(0)}, climate);
  const auto rates =
      trace_rates(bike, warm, ride_fixed(p, climate, headwind), trace, charge_grid(end));
  return {.distance = distance_from(p.pack, climate, end, rates.metres_per_coulomb),
          .missed_s = rates.missed_s,
          .square_current_As = rates.square_current_As};
}

template <class R>
R harmonic(R share_first, R first, R second) {
  return num<R>(1) / (share_first / first + (num<R>(1) - share_first) / second);
}

/// Steady consumption from the pack's terminals, J per metre.
template <class R, template <class> class Motor>
R consumption_Jpm(const Bike<R, Motor>& bike, const Motor<R>& warm, double speed_kmh,
                  const PackState<R>& pack) {
  const R v = num<R>(speed_kmh / 3.6);
  const auto at = operate_steady(bike.params, warm, Steady<R>{v, num<R>(0), num<R>(0)}, pack);
  return select(at.feasible, at.power_pack_W / v, num<R>(std::numeric_limits<double>::quiet_NaN()));
}

/// The bike on its coldest day: denser air, stiffer tyres (6e-3 a kelvin, UN GTR 2, from memory).
template <class R, template <class> class Motor>
Bike<R, Motor> on_coldest_day(Bike<R, Motor> bike) {
  BikeParams<R>& p = bike.params;
  const R colder = max(p.ambient_K - p.coldest_K, num<R>(0));
  p.road.air_density_kgpm3 = p.road.air_density_kgpm3 * p.ambient_K / p.coldest_K;
  p.road.crr0 = p.road.crr0 * (num<R>(1) + num<R>(0.006) * colder);
  p.ambient_K = p.coldest_K;
  return bike;
}

template <class R, template <class> class Motor>
void how_far(const Bike<R, Motor>& bike, const Motor<R>& warm, const Course& course, R top,
             Answers<R>& out) {
  const BikeParams<R>& p = bike.params;
  const R zero = num<R>(0);
  const auto climate = pack_climate(p.pack, p.ambient_K);
  if (course.wants(Answer::range_hold, Answer::range_hold_reserve)) {
    const auto still = steady_distance(p, warm, Steady<R>{p.hold_speed_mps, zero, zero}, climate);
    out[Answer::range_hold] = still.to_end_m;
    out[Answer::range_hold_reserve] = still.reserve_kept_m;
  }
  if (course.wants(Answer::range_mixed, Answer::range_mixed_reserve, Answer::consumption_mixed)) {
    const R fast = min(p.hold_speed_mps, top);
    const R fast_wind = equivalent_headwind_mps(fast, p.wind_mps);
    const R town_wind = equivalent_headwind_mps(num<R>(9), p.wind_mps);
    const auto windy = steady_distance(p, warm, Steady<R>{fast, zero, fast_wind},
                                       min(fast, num<R>(still_enough) * top), climate);
    const auto town = trace_distance(bike, warm, course.udds, climate, top, town_wind);
    out[Answer::range_mixed] = harmonic(p.fast_share, windy.to_end_m, town.distance.to_end_m);
    out[Answer::range_mixed_reserve] =
        harmonic(p.fast_share, windy.reserve_kept_m, town.distance.reserve_kept_m);
    out[Answer::consumption_mixed] = p.pack.cells_in_series * p.pack.charge_C *
                                     model::ocv_mean_V(p.pack.cell_ocv) / out[Answer::range_mixed];
  }
  if (course.wants(Answer::range_udds, Answer::missed_udds, Answer::current_rms,
                   Answer::range_city_highway)) {
    const auto town = trace_distance(bike, warm, course.udds, climate, top, zero);
    const R seconds = num<R>(double(course.udds.speed_mps.size()));
    out[Answer::range_udds] = town.distance.to_end_m;
    out[Answer::missed_udds] = town.missed_s / seconds;
    out[Answer::current_rms] = sqrt(town.square_current_As / seconds);
    const double highway = course.highway_70mph ? 31.2928 : 24.5872;
    const auto fast_leg = steady_distance(p, warm, Steady<R>{num<R>(highway), zero, zero}, climate);
    out[Answer::range_city_highway] =
        harmonic(num<R>(0.5), town.distance.to_end_m, fast_leg.to_end_m);
  }
  if (course.wants(Answer::range_udc))
    out[Answer::range_udc] =
        trace_distance(bike, warm, course.udc, climate, top, zero).distance.to_end_m;
  if (course.wants(Answer::range_wmtc)) {
    R seconds_per_metre = zero;
    for (std::size_t i = 0; i < course.wmtc.size(); ++i) {
      if (course.wmtc_weight[i] <= 0) continue;
      seconds_per_metre +=
          num<R>(course.wmtc_weight[i]) /
          trace_distance(bike, warm, course.wmtc[i], climate, top, zero).distance.to_end_m;
    }
    out[Answer::range_wmtc] = num<R>(1) / seconds_per_metre;
  }
}

/// As mixed riding, on the coldest day, at what the bike reaches on it.
template <class R, template <class> class Motor>
void how_far_cold(const Bike<R, Motor>& bike, const Motor<R>& warm, const Course& course,
                  Answers<R>& out) {
  const auto cold = on_coldest_day(bike);
  const BikeParams<R>& p = cold.params;
  const R zero = num<R>(0);
  const auto climate = pack_climate(p.pack, p.coldest_K);
  const auto half = settled_pack(p.pack, num<R>(0.5), climate.resistance_factor);
  const R top = top_speed_mps(cold, warm, half, Road<R>{zero, zero});
  const R fast = min(p.hold_speed_mps, top);
  const auto windy =
      steady_distance(p, warm, Steady<R>{fast, zero, equivalent_headwind_mps(fast, p.wind_mps)},
                      min(fast, num<R>(still_enough) * top), climate);
  const auto town = trace_distance(cold, warm, course.udds, climate, top,
                                   equivalent_headwind_mps(num<R>(9), p.wind_mps));
  out[Answer::range_cold_reserve] =
      harmonic(p.fast_share, windy.reserve_kept_m, town.distance.reserve_kept_m);
}

/// The pack's voltage in the worst moment: cold, nearly empty, pulled with all the current there
/// may be.
template <class R, template <class> class Motor>
void sag(const Bike<R, Motor>& bike, Answers<R>& out) {
  const BikeParams<R>& p = bike.params;
  const auto climate = pack_climate(p.pack, p.coldest_K);
  // Full battery current at a tenth of the charge, the slow part settled as after a long pull.
  const auto low = settled_pack(p.pack, num<R>(0.1), climate.resistance_factor);
  out[Answer::voltage_cold_low] = model::terminal_voltage_V(low.source, p.pack.current_max_A);
}

template <class R>
R free_speed_radps(const model::PmMotor<R>& m, const model::DriveLimits<R>& l) {
  return model::no_load_speed(m, l.voltage_limit_V);
}
template <class R>
R free_speed_radps(const model::BrushedPmMotor<R>& m, const model::DriveLimits<R>& l) {
  return l.voltage_limit_V / m.constant_Vs;
}
template <class R>
R free_speed_radps(const model::BrushedSeriesMotor<R>&, const model::DriveLimits<R>&) {
  return num<R>(std::numeric_limits<double>::infinity());  // a series motor without load runs away
}
template <class R>
R free_speed_radps(const model::InductionMotor<R>&, const model::DriveLimits<R>&) {
  return num<R>(std::numeric_limits<double>::quiet_NaN());
}

/// Seconds of full throttle from rest, at four fifths of the charge.
template <class R, template <class> class Motor>
void launches(const Bike<R, Motor>& bike, const Motor<R>& warm, const PackState<R>& pack,
              const Course& course, Answers<R>& out) {
  const R v50 = num<R>(50 / 3.6), v60mph = num<R>(26.8224), v100 = num<R>(100 / 3.6);
  const int panels = course.launch_panels;
  const auto to_50 = full_throttle(bike, warm, pack, num<R>(0), v50, panels);
  out[Answer::time_0_50] = to_50.time_s;
  if (!course.wants(Answer::time_0_60mph, Answer::time_0_100)) return;
  const auto to_60mph = full_throttle(bike, warm, pack, v50, v60mph, panels);
  const auto to_100 = full_throttle(bike, warm, pack, v60mph, v100, 2);
  out[Answer::time_0_60mph] = to_50.time_s + to_60mph.time_s;
  out[Answer::time_0_100] = to_50.time_s + to_60mph.time_s + to_100.time_s;
}

/// The largest power at the shaft, of ten speeds up to the top speed.
template <class R, template <class> class Motor>
R power_shaft_peak_W(const BikeParams<R>& p, const Motor<R>& warm, const PackState<R>& pack,
                     R top) {
  R most = num<R>(0);
  for (int i = 1; i <= 10; ++i) {
    const R omega = motor_speed_radps(p, top * num<R>(i / 10.0));
    most = max(most, torque_available_Nm(p, warm, omega, pack) * omega);
  }
  return most;
}

/// The speed to hold, and what it is like to hold it.
template <class R, template <class> class Motor>
void holding(const Bike<R, Motor>& bike, const Motor<R>& warm, const PackState<R>& half,
             const Course& course, R top, Answers<R>& out) {
  const BikeParams<R>& p = bike.params;
  const R zero = num<R>(0);
  const auto hold = Steady<R>{min(p.hold_speed_mps, top), zero, zero};
  if (course.wants(Answer::speed_hold_hour))
    out[Answer::speed_hold_hour] = hold_speed_mps(bike, half, top);
  if (course.wants(Answer::winding_hold))
    out[Answer::winding_hold] = winding_after_K(bike, hold, half, num<R>(3600));
  const auto at = operate_steady(p, warm, hold, half);
  out[Answer::power_hold] = at.shaft.torque_shaft_Nm * motor_speed_radps(p, hold.speed_mps);
  out[Answer::current_phase_rms] = at.shaft.current_phase_peak_A * num<R>(0.70710678118654752);
  const R cell_ohm = half.source.resistance_ohm - p.pack.wires_ohm;
  out[Answer::pack_rise] = at.current_pack_A * cell_ohm * p.pack.charge_C *
                           (num<R>(1) - p.pack.usable_to) / p.pack.heat_capacity_J_per_K;
}

/// How strong from rest and uphill.
template <class R, template <class> class Motor>
void how_strong(const Bike<R, Motor>& bike, const Motor<R>& warm, const PackState<R>& pack,
                const Course& course, Answers<R>& out) {
  const BikeParams<R>& p = bike.params;
  const R zero = num<R>(0), standing = num<R>(0.5);
  if (course.wants(Answer::time_0_50, Answer::time_0_60mph, Answer::time_0_100))
    launches(bike, warm, pack, course, out);
  out[Answer::thrust_standstill] = thrust_available_N(bike, warm, standing, pack);
  out[Answer::torque_standstill] =
      torque_available_Nm(p, warm, motor_speed_radps(p, standing), pack);
  out[Answer::thrust_lift] =
      model::wheelie_thrust_N<R>(p.stance, {zero, zero, p.stance.cg_height_m});
  out[Answer::grade_max] = grade_at_speed(bike, warm, pack, num<R>(10 / 3.6));
  out[Answer::grade_at_hill_speed] = grade_at_speed(bike, warm, pack, p.hill_speed_mps);
  if (course.wants(Answer::hill_time)) {
    const auto lasts = endurance(bike, Steady<R>{p.hill_speed_mps, p.hill_grade, zero}, pack);
    out[Answer::hill_time] =
        min(min(lasts.winding_s, lasts.controller_s), min(lasts.cells_s, lasts.energy_s));
  }
}

/// The force left over at a speed on the flat at half charge, as the top speed is judged; negative
/// where that speed is out of reach.
template <class R, template <class> class Motor>
R spare_force_N(const Bike<R, Motor>& bike, R speed_mps) {
  const BikeParams<R>& p = bike.params;
  const Motor<R> warm = at_winding_temperature(bike.motor, p.ambient_K + num<R>(60));
  const auto climate = pack_climate(p.pack, p.ambient_K);
  const auto half = settled_pack(p.pack, num<R>(0.5), climate.resistance_factor);
  return thrust_available_N(bike, warm, speed_mps, half) -
         road_force(p, {speed_mps, num<R>(0), num<R>(0)});
}

/// How fast and how strong, at a given charge.
template <class R, template <class> class Motor>
R how_fast(const Bike<R, Motor>& bike, const Motor<R>& warm, const Course& course,
           Answers<R>& out) {
  const BikeParams<R>& p = bike.params;
  const R zero = num<R>(0);
  const auto climate = pack_climate(p.pack, p.ambient_K);
  const auto half = settled_pack(p.pack, num<R>(0.5), climate.resistance_factor);
  const auto nearly_full = settled_pack(p.pack, num<R>(0.8), climate.resistance_factor);
  const R top = top_speed_mps(bike, warm, half, Road<R>{zero, zero});
  out[Answer::speed_top] = top;
  if (course.wants(Answer::speed_top_headwind))
    out[Answer::speed_top_headwind] =
        top_speed_mps(bike, warm, half, Road<R>{zero, num<R>(20 / 3.6)});
  holding(bike, warm, half, course, top, out);
  how_strong(bike, warm, nearly_full, course, out);
  if (course.wants(Answer::power_shaft_peak))
    out[Answer::power_shaft_peak] = power_shaft_peak_W(p, warm, nearly_full, top);
  const auto full = settled_pack(p.pack, num<R>(1), climate.resistance_factor);
  const model::DriveLimits<R> free_wheel{.voltage_limit_V = p.modulation * full.source.emf_V,
                                         .current_limit_A = p.current_limit_A,
                                         .weakening = zero};
  out[Answer::speed_no_load] = free_speed_radps(bike.motor, free_wheel);
  out[Answer::consumption_50] = consumption_Jpm(bike, warm, 50, half);
  out[Answer::consumption_70] = consumption_Jpm(bike, warm, 70, half);
  out[Answer::consumption_90] = consumption_Jpm(bike, warm, 90, half);
  out[Answer::consumption_110] = consumption_Jpm(bike, warm, 110, half);
  return top;
}

template <class R, template <class> class Motor>
Answers<R> evaluate(const Bike<R, Motor>& bike, const Course& course) {
  Answers<R> out;
  out.at.fill(num<R>(std::numeric_limits<double>::quiet_NaN()));
  const BikeParams<R>& p = bike.params;
  // The windings ride warm: 60 K over the air is where town and road riding settle (from memory).
  const Motor<R> warm = at_winding_temperature(bike.motor, p.ambient_K + num<R>(60));
  const R top = how_fast(bike, warm, course, out);
  how_far(bike, warm, course, top, out);
  if (course.wants(Answer::range_cold_reserve)) how_far_cold(bike, warm, course, out);
  sag(bike, out);
  out[Answer::energy_pack] =
      p.pack.cells_in_series * p.pack.charge_C * model::ocv_mean_V(p.pack.cell_ocv);
  out[Answer::mass_laden] = p.road.mass_kg;
  out[Answer::mass] = p.mass_bike_kg;
  return out;
}

}  // namespace ww::ride
