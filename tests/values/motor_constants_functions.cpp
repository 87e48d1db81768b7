// SPDX-License-Identifier: MIT
#include "model/motor_constants.h"

#include <stdexcept>

#include "tests/values/registry.h"

namespace {

using namespace ww::model;
using namespace ww::values;

constexpr double rpm = pi / 30;

VoltageConvention volts(const Given& g) {
  const std::string& text = g.text("volts");
  if (text == "line_line_peak") return VoltageConvention::line_line_peak;
  if (text == "line_line_rms") return VoltageConvention::line_line_rms;
  if (text == "rectified_mean") return VoltageConvention::rectified_mean;
  if (text == "phase_peak") return VoltageConvention::phase_peak;
  throw std::runtime_error("no voltage convention " + text);
}
CurrentConvention amperes(const std::string& text) {
  if (text == "dc_six_step") return CurrentConvention::dc_six_step;
  if (text == "phase_peak") return CurrentConvention::phase_peak;
  if (text == "phase_rms") return CurrentConvention::phase_rms;
  throw std::runtime_error("no current convention " + text);
}
WindingConvention winding(const Given& g) {
  const std::string& text = g.text("winding");
  if (text == "phase_star") return WindingConvention::phase_star;
  if (text == "line_line") return WindingConvention::line_line;
  if (text == "delta_winding") return WindingConvention::delta_winding;
  throw std::runtime_error("no winding convention " + text);
}
double flux(const Given& g) {
  return flux_from_speed_constant(g("rpm_per_V") * rpm, g("p"), volts(g));
}
double torque_constant(const Given& g) {
  return torque_constant_from_flux(flux(g), g("p"), amperes(g.text("amperes")));
}

const Topic constants(
    "model/motor_constants.h",
    {{"flux_Wb", flux},
     {"torque_constant_NmA", torque_constant},
     {"torque_at_current_Nm", [](const Given& g) { return torque_constant(g) * g("current_A"); }},
     {"speed_constant_rpm_per_V",
      [](const Given& g) { return speed_constant_from_flux(g("psi_Wb"), g("p"), volts(g)) / rpm; }},
     {"current_converted_A",
      [](const Given& g) {
        return current_in_convention(current_phase_peak(g("current_A"), amperes(g.text("from"))),
                                     amperes(g.text("to")));
      }},
     {"winding_phase", [](const Given& g) { return winding_phase(g("stated"), winding(g)); }},
     {"winding_delta_of_line_line",
      [](const Given& g) {
        return winding_in_convention(winding_phase(g("line_line"), WindingConvention::line_line),
                                     WindingConvention::delta_winding);
      }},
     {"flux_star_Wb", [](const Given& g) { return flux_star_from_delta(g("delta_Wb")); }},
     {"motor_constant_NmsqrtW",
      [](const Given& g) {
        return motor_constant(torque_constant(g),
                              winding_phase(g("r_ll_ohm"), WindingConvention::line_line));
      }},
     {"motor_constant_warm_share",
      [](const Given& g) {
        return motor_constant(1 - 0.0012 * g("rise_K"), 1 + 0.00393 * g("rise_K")) /
               motor_constant(1.0, 1.0);
      }},
     {"copper_loss_line_line_W",
      [](const Given& g) { return copper_loss_line_line(g("r_ll_ohm"), g("current_peak_A")); }},
     {"unit_mix_current",
      [](const Given& g) {
        const auto mix = unit_mix(g("rpm_per_V") * rpm, g("Nm_per_A"), g("tolerance"));
        return static_cast<double>(mix.readings[0].current);
      }},
     {"unit_mix_voltage",
      [](const Given& g) {
        const auto mix = unit_mix(g("rpm_per_V") * rpm, g("Nm_per_A"), g("tolerance"));
        return static_cast<double>(mix.readings[0].voltage);
      }},
     {"unit_mix_product",
      [](const Given& g) { return unit_mix(g("rpm_per_V") * rpm, g("Nm_per_A"), 0.05).product; }},
     {"unit_mix_plausible", [](const Given& g) {
        return static_cast<double>(
            unit_mix(g("rpm_per_V") * rpm, g("Nm_per_A"), g("tolerance")).plausible);
      }}});

}  // namespace
