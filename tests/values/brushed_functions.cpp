// SPDX-License-Identifier: MIT
#include "model/brushed_motor.h"

#include <cmath>
#include <limits>

#include "model/constants.h"
#include "tests/values/registry.h"

namespace {

using namespace ww::model;
using namespace ww::values;

constexpr double rpm = pi / 30;

/// A straight-line series motor from its rated point.
BrushedSeriesMotor<double> series_of(const Given& g) {
  const double resistance = g("r_ohm");
  const double emf = g("rated_V") - resistance * g("rated_A");
  return {
      .constant_series_H = emf / (g("rated_A") * g("rated_rpm") * rpm),
      .current_saturation_A = g.or_else("saturation_A", std::numeric_limits<double>::infinity()),
      .resistance_ohm = resistance,
      .voltage_brush_V = g.or_else("brush_V", 0),
      .drag_constant_Nm = 0,
      .drag_linear_Nms = 0,
      .drag_quadratic_Nms2 = 0};
}
BrushedPmMotor<double> pm_of(const Given& g) {
  const double emf = g("rated_V") - g("r_ohm") * g("rated_A");
  const BrushedPmMotor<double> full{.constant_Vs = emf / (g("rated_rpm") * rpm),
                                    .resistance_armature_ohm = g("r_ohm"),
                                    .voltage_brush_V = g.or_else("brush_V", 0),
                                    .drag_constant_Nm = 0,
                                    .drag_linear_Nms = 0,
                                    .drag_quadratic_Nms2 = 0};
  return at_field_share(full, g.or_else("field", 1));
}
double series_torque(const Given& g, double current) {
  return series_flux_factor(series_of(g), current) * current;
}

const Topic brushed(
    "model/brushed_motor.h",
    {{"series_constant_H", [](const Given& g) { return series_of(g).constant_series_H; }},
     {"series_torque_Nm", [](const Given& g) { return series_torque(g, g("current_A")); }},
     {"series_rpm",
      [](const Given& g) { return speed_at(series_of(g), g("v"), g("current_A")) / rpm; }},
     {"series_current_A",
      [](const Given& g) { return current_for_torque(series_of(g), g("torque_Nm")); }},
     {"series_envelope_Nm",
      [](const Given& g) {
        return torque_envelope<double>(series_of(g), g("rpm") * rpm, {g("v"), g("limit_A"), 0});
      }},
     {"series_efficiency",
      [](const Given& g) {
        const auto m = series_of(g);
        const double speed = speed_at(m, g("v"), g("current_A"));
        const auto p =
            drive_point<double>(m, {series_torque(g, g("current_A")), speed}, {g("v"), 1e4, 0});
        return p.torque_shaft_Nm * speed / p.power_electrical_W;
      }},
     {"brushed_constant_Vs", [](const Given& g) { return pm_of(g).constant_Vs; }},
     {"brushed_torque_Nm", [](const Given& g) { return pm_of(g).constant_Vs * g("current_A"); }},
     {"brushed_rpm",
      [](const Given& g) { return speed_at(pm_of(g), g("v"), g("current_A")) / rpm; }},
     {"brushed_envelope_Nm",
      [](const Given& g) {
        return torque_envelope<double>(pm_of(g), g("rpm") * rpm, {g("v"), g("limit_A"), 0});
      }},
     {"magnetisation_rpm",
      [](const Given& g) {
        return speed_on_magnetisation(g("emf_V"), g("curve_V"), g("curve_rpm") * rpm) / rpm;
      }},
     {"magnetisation_torque_Nm",
      [](const Given& g) {
        const double speed = speed_on_magnetisation(g("emf_V"), g("curve_V"), g("curve_rpm") * rpm);
        return g("emf_V") * g("current_A") / speed;
      }},
     {"chopper_duty",
      [](const Given& g) { return chopper(g("v"), g("current_A"), g("battery_V")).duty; }},
     {"chopper_battery_A", [](const Given& g) {
        return chopper(g("v"), g("current_A"), g("battery_V")).current_battery_A;
      }}});

}  // namespace
