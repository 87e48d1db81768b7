// SPDX-License-Identifier: MIT
#include "model/pm_motor.h"

#include <cmath>

#include "model/constants.h"
#include "tests/values/registry.h"

namespace {

using namespace ww::model;
using namespace ww::values;

constexpr double rpm = pi / 30;

PmMotor<double> motor_of(const Given& g) {
  return {.resistance_phase_ohm = g.or_else("r_mohm", 18) / 1000,
          .inductance_d_H = g.or_else("ld_mH", 0.37) / 1000,
          .inductance_q_H = g.or_else("lq_mH", 1.2) / 1000,
          .flux_peak_Wb = g.or_else("psi_mWb", 66) / 1000,
          .pole_pairs = g.or_else("p", 3),
          .drag_constant_Nm = g.or_else("c0_Nm", 0),
          .drag_linear_Nms = g.or_else("c1_Nms", 0),
          .drag_quadratic_Nms2 = g.or_else("c2_Nms2", 0)};
}
/// Bus 300 V: share 1/sqrt(3) with space vectors, 1/2 with plain sine.
double voltage_of(const Given& g) {
  return g.or_else("dc_V", 300) * (g.or_else("sine", 0) > 0 ? 0.5 : 1 / std::sqrt(3.0));
}
DqPoint<double> envelope_of(const Given& g) {
  return torque_envelope<double>(motor_of(g), g("rpm") * rpm,
                                 {voltage_of(g), g("current_A"), g.or_else("weakening", 1)})
      .point;
}
DqPoint<double> torque_point(const Given& g) {
  return currents_for_torque<double>(motor_of(g), {g("torque_Nm"), g("rpm") * rpm},
                                     {voltage_of(g), 400, g.or_else("weakening", 1)})
      .point;
}
/// A point at id = 0 and an RMS current, at an electrical frequency.
DqPoint<double> surface_point(const Given& g) {
  const PmMotor<double> m = motor_of(g);
  return dq_point<double>(m, 2 * pi * g("hz") / m.pole_pairs,
                          {0, std::sqrt(2.0) * g("current_rms_A")});
}
double power_factor(const DqPoint<double>& p) {
  return power_electrical(p) / (1.5 * voltage_magnitude(p) * current_magnitude(p));
}

const Topic pm(
    "model/pm_motor.h",
    {{"pm_mtpa_d_A", [](const Given& g) { return mtpa(motor_of(g), g("current_A")).current_d_A; }},
     {"pm_mtpa_q_A", [](const Given& g) { return mtpa(motor_of(g), g("current_A")).current_q_A; }},
     {"pm_mtpa_torque_Nm",
      [](const Given& g) { return torque_airgap(motor_of(g), mtpa(motor_of(g), g("current_A"))); }},
     {"pm_torque_Nm",
      [](const Given& g) {
        return torque_airgap<double>(motor_of(g), {g("id_A"), g("iq_A")});
      }},
     {"pm_base_rpm",
      [](const Given& g) { return base_speed(motor_of(g), g("current_A"), voltage_of(g)) / rpm; }},
     {"pm_envelope_Nm", [](const Given& g) { return envelope_of(g).torque_airgap_Nm; }},
     {"pm_envelope_d_A", [](const Given& g) { return envelope_of(g).current_d_A; }},
     {"pm_envelope_q_A", [](const Given& g) { return envelope_of(g).current_q_A; }},
     {"pm_envelope_A", [](const Given& g) { return current_magnitude(envelope_of(g)); }},
     {"pm_envelope_W",
      [](const Given& g) { return envelope_of(g).torque_airgap_Nm * g("rpm") * rpm; }},
     {"pm_mtpv_start_rpm",
      [](const Given& g) {
        return mtpv_start_speed(motor_of(g), g("current_A"), voltage_of(g)) / rpm;
      }},
     {"pm_characteristic_A", [](const Given& g) { return characteristic_current(motor_of(g)); }},
     {"pm_no_load_rpm",
      [](const Given& g) { return no_load_speed(motor_of(g), voltage_of(g)) / rpm; }},
     {"pm_back_emf_V",
      [](const Given& g) { return back_emf_line_line_peak(motor_of(g), g("rpm") * rpm); }},
     {"pm_point_d_A", [](const Given& g) { return torque_point(g).current_d_A; }},
     {"pm_point_q_A", [](const Given& g) { return torque_point(g).current_q_A; }},
     {"pm_point_A", [](const Given& g) { return current_magnitude(torque_point(g)); }},
     {"pm_point_d_V", [](const Given& g) { return torque_point(g).voltage_d_V; }},
     {"pm_point_q_V", [](const Given& g) { return torque_point(g).voltage_q_V; }},
     {"pm_point_V", [](const Given& g) { return voltage_magnitude(torque_point(g)); }},
     {"pm_point_electrical_W", [](const Given& g) { return power_electrical(torque_point(g)); }},
     {"pm_point_shaft_W",
      [](const Given& g) { return torque_point(g).torque_airgap_Nm * g("rpm") * rpm; }},
     {"pm_point_copper_W",
      [](const Given& g) { return power_copper(motor_of(g), torque_point(g)); }},
     {"pm_point_factor", [](const Given& g) { return power_factor(torque_point(g)); }},
     {"pm_point_dc_A",
      [](const Given& g) { return power_electrical(torque_point(g)) / g("dc_V"); }},
     {"pm_surface_Nm", [](const Given& g) { return surface_point(g).torque_airgap_Nm; }},
     {"pm_surface_rms_V",
      [](const Given& g) { return voltage_magnitude(surface_point(g)) / std::sqrt(2.0); }},
     {"pm_surface_factor", [](const Given& g) { return power_factor(surface_point(g)); }},
     {"pm_surface_shaft_W",
      [](const Given& g) { return surface_point(g).torque_airgap_Nm * 2 * pi * g("hz") / g("p"); }},
     {"pm_surface_angle_deg",
      [](const Given& g) {
        const auto p = surface_point(g);
        return std::atan2(-p.voltage_d_V, p.voltage_q_V) * 180 / pi;
      }},
     {"pm_warm_resistance",
      [](const Given& g) {
        const auto m = motor_of(g);
        return at_temperature(m, 273.15 + g("winding_C"), 293.15).resistance_phase_ohm /
               m.resistance_phase_ohm;
      }},
     {"pm_warm_flux", [](const Given& g) {
        const auto m = motor_of(g);
        return at_temperature(m, 293.15, 273.15 + g("magnet_C")).flux_peak_Wb / m.flux_peak_Wb;
      }}});

const Topic shared("model/shaft_point.h", {{"drag_torque_Nm", [](const Given& g) {
                                              return drag_torque(motor_of(g), g("speed_radps"));
                                            }}});

}  // namespace
