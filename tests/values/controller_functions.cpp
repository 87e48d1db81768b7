// SPDX-License-Identifier: MIT
#include "model/controller.h"

#include <cmath>

#include "tests/support/motors.h"
#include "tests/values/registry.h"

namespace {

using namespace ww::model;
using namespace ww::values;

double share(const Given& g) {
  const std::string& text = g.text("modulation");
  if (text == "sine") return modulation_sine;
  return text == "six_step" ? modulation_six_step : modulation_space_vector;
}
/// The machine without its drag: the rows are of its copper alone.
PmMotor<double> ipm() {
  auto motor = ww::support::ipm();
  motor.drag_constant_Nm = motor.drag_linear_Nms = motor.drag_quadratic_Nms2 = 0;
  return motor;
}
Band<double> band(const Given& g) {
  return {g("start"), g("end")};
}

const Topic controller(
    "model/controller.h",
    {{"voltage_phase_available_V",
      [](const Given& g) {
        return voltage_phase_available(g("dc_V"), share(g), g.or_else("reserve", 0));
      }},
     {"modulation_largest",
      [](const Given& g) {
        return modulation_index(voltage_phase_available(1.0, share(g), 0.0), 1.0);
      }},
     {"current_dc_ideal_A",
      [](const Given& g) {
        return current_dc_ideal(g("m"), g.or_else("current_A", 1), g("cos_phi"));
      }},
     {"current_dc_A",
      [](const Given& g) { return current_dc(g("motor_W"), g("loss_W"), g("dc_V")); }},
     {"loss_controller_W",
      [](const Given& g) {
        return loss_controller<double>(
            {g("fixed_W"), g("linear_V"), g("quadratic_ohm"), g("switching_share")}, g("current_A"),
            g("dc_V"));
      }},
     {"loss_conduction_bridge_W",
      [](const Given& g) {
        return loss_conduction_bridge(g("current_rms_A"), g("r_mohm") / 1000);
      }},
     {"loss_conduction_six_step_W",
      [](const Given& g) { return loss_conduction_six_step(g("current_A"), g("r_mohm") / 1000); }},
     {"square_switch",
      [](const Given& g) { return switch_shares(g("m"), g("cos_phi")).square_switch; }},
     {"square_diode",
      [](const Given& g) { return switch_shares(g("m"), g("cos_phi")).square_diode; }},
     {"on_resistance_factor",
      [](const Given& g) { return on_resistance_factor(273.15 + g("junction_C")); }},
     {"loss_switching_W",
      [](const Given& g) {
        return loss_switching<double>({.voltage_dc_V = g("dc_V"),
                                       .current_phase_peak_A = std::sqrt(2.0) * g("current_rms_A"),
                                       .frequency_Hz = g("kHz") * 1000,
                                       .edges_s = g("edges_ns") * 1e-9});
      }},
     {"loss_dead_time_W",
      [](const Given& g) {
        return loss_dead_time<double>({.voltage_diode_V = g("diode_V"),
                                       .current_phase_peak_A = std::sqrt(2.0) * g("current_rms_A"),
                                       .frequency_Hz = g("kHz") * 1000,
                                       .dead_s = g("dead_ns") * 1e-9});
      }},
     {"speed_battery_limit_rpm",
      [](const Given& g) {
        return speed_battery_limit(ipm(), g("phase_A"), g("battery_A") * g("dc_V")) * 30 / pi;
      }},
     {"speed_regen_zero_radps",
      [](const Given& g) {
        return speed_regen_zero(g("r_mohm") / 1000, g("current_A"), g("kt_NmA"));
      }},
     {"share_left", [](const Given& g) { return share_left(band(g), g("at")); }},
     {"throttle_position",
      [](const Given& g) {
        return throttle_position<double>(
            {.fault_low_V = 0.5, .rest_V = 0.8, .full_V = 4.2, .fault_high_V = 4.7}, g("signal_V"));
      }},
     {"throttle_torque_Nm",
      [](const Given& g) { return throttle_torque(g("x"), g("max_Nm"), g("gamma")); }},
     {"throttle_speed_torque_Nm",
      [](const Given& g) {
        return throttle_speed_torque<double>({.speed_full_radps = g("full_radps"),
                                              .gain_Nms = g("gain_Nms"),
                                              .torque_max_Nm = g("max_Nm")},
                                             g("x"), g("speed_radps"));
      }},
     {"throttle_duty_torque_Nm",
      [](const Given& g) {
        PmMotor<double> m = ipm();
        m.inductance_q_H = g.or_else("lq_mH", 1.2) / 1000;
        return throttle_duty_torque<double>(m, g("x"), g("speed_radps"), {g("v"), g("limit_A"), 0});
      }},
     {"ramped", [](const Given& g) {
        return ramped<double>(g("now"), g("target"), {g("up_per_s"), g("down_per_s")}, g("step_s"));
      }}});

}  // namespace
