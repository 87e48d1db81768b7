// SPDX-License-Identifier: MIT
#include "ride/detail.h"

#include <algorithm>
#include <cmath>

#include "model/ageing.h"
#include "model/charging.h"
#include "model/controller.h"
#include "model/converter.h"
#include "ride/curves.h"
#include "ride/scene.h"

namespace ww::ride {

namespace {

constexpr double km_h = 1 / 3.6;

template <template <class> class Motor>
void hills(const Scene<Motor>& scene, const Build& build, Detail& out) {
  std::vector<double> speeds{40 * km_h, 60 * km_h, 80 * km_h};
  if (build.wishes.hill_speed.known()) speeds = {build.wishes.hill_speed.value};
  for (const double speed : speeds) {
    for (const double grade : {0.03, 0.06, 0.09, 0.12, 0.16, 0.20}) {
      const auto e = endurance(scene.bike, Steady<double>{speed, grade, 0}, scene.pack);
      out.hills.push_back(
          {grade, speed, e.energy_s > 0, e.winding_s, e.controller_s, e.cells_s, e.energy_s});
    }
  }
}

template <template <class> class Motor>
void steady_rows(const Scene<Motor>& scene, Detail& out) {
  const auto cold = on_coldest_day(scene.bike);
  const auto cold_climate = pack_climate(cold.params.pack, cold.params.coldest_K);
  const auto half = settled_pack(scene.bike.params.pack, 0.5, scene.climate.resistance_factor);
  for (const double kmh : {30., 40., 50., 60., 70., 80., 90., 100., 110., 120., 130.}) {
    const Steady<double> at{kmh * km_h, 0, 0};
    const auto point = operate_steady(scene.bike.params, scene.warm, at, half);
    if (!point.feasible) continue;
    const auto warm = steady_distance(scene.bike.params, scene.warm, at, scene.climate);
    const auto frost = steady_distance(cold.params, scene.warm, at, cold_climate);
    out.steady.push_back({at.speed_mps, point.power_pack_W / at.speed_mps, warm.to_end_m,
                          warm.reserve_kept_m, frost.reserve_kept_m,
                          winding_after_K(scene.bike, at, half, 3600.0)});
  }
}

template <template <class> class Motor>
void throttle_rows(const Scene<Motor>& scene, const NominalValues& values, int steps, Detail& out) {
  const auto& p = scene.bike.params;
  const auto at = [&](std::string_view path) {
    return values.at[static_cast<std::size_t>(build::id_of(path))];
  };
  const double exponent = at("limits.throttle_exponent");
  out.ramp_s = at("limits.throttle_ramp");
  out.throttle_speeds_mps[0] = 5 * km_h;
  out.throttle_speeds_mps[1] = 40 * km_h;
  out.throttle_speeds_mps[2] = 80 * km_h;
  const double full = std::min(
      p.torque_limit_Nm, torque_available_Nm(p, scene.warm, motor_speed_radps(p, 0.5), scene.pack));
  for (int i = 0; i <= steps; ++i) {
    ThrottleRow row{static_cast<double>(i) / steps, {}};
    for (int k = 0; k < 3; ++k) {
      const double speed = out.throttle_speeds_mps[k];
      // A torque throttle: the grip asks for a share of the full torque; the envelope caps it.
      const double asked = model::throttle_torque(row.grip, full, exponent);
      const double torque = std::min(
          asked, torque_available_Nm(p, scene.warm, motor_speed_radps(p, speed), scene.pack));
      row.thrust_N[k] = wheel_force_N(p, torque);
    }
    out.throttle.push_back(row);
  }
}

std::string_view slowest(double outlet, double charger, double bms, double cells) {
  const double least = std::min({outlet, charger, bms, cells});
  if (least == outlet) return "the outlet";
  if (least == charger) return "the charger";
  return least == bms ? "the cell monitor" : "the cells";
}

struct OutletKind {
  double volts, amps, share;
};

/// The builder's own outlet first, then the usual household ones of another kind: 15 A at 120 V (80
/// % of the breaker for hours), 10 A and 16 A at 230 V.
std::vector<OutletKind> outlets_of(const build::Surroundings& at) {
  std::vector<OutletKind> out;
  if (at.outlet_voltage.known() && at.outlet_breaker.known()) {
    const double share =
        at.outlet_use.known() ? at.outlet_use.value / at.outlet_breaker.value : 0.8;
    out.push_back({at.outlet_voltage.value, at.outlet_breaker.value, std::min(share, 1.0)});
  }
  const bool own = !out.empty();
  for (const OutletKind usual : {OutletKind{120, 15, 0.8}, {230, 10, 1}, {230, 16, 0.8}}) {
    if (own && out[0].volts == usual.volts && out[0].amps == usual.amps) continue;
    out.push_back(usual);
  }
  return out;
}

void charging(const Build& build, const BikeParams<double>& p, double consumption_Jpm,
              Detail& out) {
  const double efficiency = build.charger ? build.charger->efficiency.or_else(0.92) : 0.92;
  const double infinite = std::numeric_limits<double>::infinity();
  const double volts = p.pack.cells_in_series * model::ocv_V(p.pack.cell_ocv, 0.6);
  const double bms = build.bms ? build.bms->current_charge.or_else(infinite) : infinite;
  const double cells = build.cell->charge_continuous.known()
                           ? build.cell->charge_continuous.value * std::max(build.pack->parallel, 1)
                           : infinite;
  const double charger = build.charger ? build.charger->current.or_else(infinite) : infinite;
  const auto outlets = outlets_of(build.surroundings);
  for (const auto& outlet : outlets) {
    const double by_outlet = outlet.volts * outlet.amps * outlet.share * efficiency / volts;
    const double current = std::min({by_outlet, charger, bms, cells});
    const double full = p.pack.cells_in_series * model::ocv_V(p.pack.cell_ocv, 1.0);
    const double slope = p.pack.cells_in_series *
                         (model::ocv_V(p.pack.cell_ocv, 1.0) - model::ocv_V(p.pack.cell_ocv, 0.9)) /
                         0.1;
    const model::ChargePack<double> pack{.charge_C = p.pack.charge_C,
                                         .resistance_ohm = p.pack.cells_ohm + p.pack.wires_ohm,
                                         .voltage_full_V = full,
                                         .slope_V = slope};
    const model::ChargeRun<double> from_tenth{
        .current_A = current,
        .current_end_A = std::min(0.05 * p.pack.charge_C / 3600, 0.5 * current),
        .soc_start = 0.1};
    model::ChargeRun<double> from_empty = from_tenth;
    from_empty.soc_start = p.pack.usable_to;
    const double power = current * volts / efficiency;
    out.charging.push_back(
        {outlet.volts, outlet.amps, power, 0.8 * p.pack.charge_C / current,
         model::charge_time_cc_s(pack, from_empty) + model::charge_time_cv_s(pack, from_empty),
         current * volts * 3600 / consumption_Jpm, slowest(by_outlet, charger, bms, cells)});
  }
}

std::vector<AgeingRow> ageing_rows(const Build& build, const NominalValues& values,
                                   const BikeParams<double>& p, const Ride& ride,
                                   const std::vector<double>& years_asked) {
  std::vector<AgeingRow> rows;
  const auto at = [&](std::string_view path) {
    return values.at[static_cast<std::size_t>(build::id_of(path))];
  };
  const double week_s = 7 * 86400.0;
  const double per_week = at("surroundings.distance_per_week");
  const double consumption = ride.nominal[Answer::consumption_mixed],
               energy = ride.nominal[Answer::energy_pack];
  const double usual_ride = per_week / 5;  // ridden on five days
  const double depth = std::clamp(usual_ride * consumption / energy, 0.05, 1.0);
  for (const double years : years_asked) {
    const double time = years * 365.25 * 86400;
    const double cycles = model::full_cycles(per_week * time / week_s, consumption, energy);
    const model::AgeingUse use{
        .duration_s = time,
        .full_cycles = cycles,
        .depth = depth,
        .rate_per_h =
            std::clamp(ride.nominal[Answer::current_rms] * 3600 / p.pack.charge_C, 0.1, 2.0),
        .soc_storage = at("surroundings.storage_charge"),
        .temperature_K = at("surroundings.storage_temperature")};
    const double left = model::capacity_left(build.cell->chemistry, use);
    // A fit of one cell type carried to another: the loss may be half or half as much again (from
    // memory).
    rows.push_back({years, std::max(0.0, 1 - 1.5 * (1 - left)), left, 1 - 0.5 * (1 - left)});
  }
  return rows;
}

}  // namespace

std::string_view word(Limit limit) {
  switch (limit) {
    case Limit::phase_current:
      return "phase current";
    case Limit::motor_torque:
      return "motor's peak torque";
    case Limit::voltage:
      return "voltage";
    case Limit::battery_current:
      return "battery current";
    case Limit::under_voltage:
      return "low-voltage cut";
    case Limit::motor_speed:
      return "motor's highest speed";
    case Limit::wheel_lift:
      return "front wheel lifts";
    case Limit::grip:
      return "grip";
    case Limit::none:
      break;
  }
  return "nothing left";
}

Detail detail(const Build& build, const Ride& ride) {
  Detail out{};
  if (!ride.possible) return out;
  const NominalValues values = nominal_values(build, soft_figures(build));
  out.wmtc_class = wmtc_class(ride.nominal[Answer::speed_top]);
  with_motor(build.motor->type, [&]<template <class> class Motor>() {
    const auto scene = scene_of<Motor>(build, values.view(), 0.8);
    const auto& p = scene.bike.params;
    const double fastest = std::max(ride.nominal[Answer::speed_top] * 1.15, 10 * km_h);
    for (int i = 0; i <= 24; ++i)
      out.thrust.push_back(thrust_point(scene, std::max(0.3, fastest * i / 24)));
    hills(scene, build, out);
    steady_rows(scene, out);
    throttle_rows(scene, values, 10, out);
    charging(build, p, ride.nominal[Answer::consumption_mixed], out);
    out.ageing_source = model::ageing_source(build.cell->chemistry);
    out.ageing = ageing_rows(build, values, p, ride, {1, 3, 5, 10});
  });
  return out;
}

std::vector<ThrottleRow> throttle_curve(const Build& build, int points) {
  Detail out{};
  if (points < 2 || !can_ride(build)) return {};
  const NominalValues values = nominal_values(build, soft_figures(build));
  with_motor(build.motor->type, [&]<template <class> class Motor>() {
    throttle_rows(scene_of<Motor>(build, values.view(), 0.8), values, points - 1, out);
  });
  return out.throttle;
}

std::vector<AgeingRow> ageing_curve(const Build& build, const Ride& ride,
                                    const std::vector<double>& years) {
  if (!ride.possible) return {};
  const NominalValues values = nominal_values(build, soft_figures(build));
  std::vector<AgeingRow> rows;
  with_motor(build.motor->type, [&]<template <class> class Motor>() {
    const auto bike = bike_of<double, Motor>(build, values.view());
    rows = ageing_rows(build, values, bike.params, ride, years);
  });
  return rows;
}

}  // namespace ww::ride
