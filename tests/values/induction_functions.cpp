// SPDX-License-Identifier: MIT
#include "model/induction_motor.h"

#include <cmath>

#include "model/constants.h"
#include "tests/values/registry.h"

namespace {

using namespace ww::model;
using namespace ww::values;

InductionCircuit<double> circuit_of(const Given& g) {
  return {.resistance_stator_ohm = g("r1"),
          .reactance_stator_ohm = g("x1"),
          .resistance_rotor_ohm = g("r2"),
          .reactance_rotor_ohm = g("x2"),
          .reactance_magnetizing_ohm = g("xm")};
}
double synchronous(const Given& g) {
  return 2 * pi * g("hz") / g("p");
}
double slip_of(const Given& g) {
  return g.or_else("slip", 0) > 0 ? g("slip") : 1 - g("rpm") * pi / 30 / synchronous(g);
}
CircuitPoint<double> point_of(const Given& g) {
  return circuit_point<double>(circuit_of(g), {g("v_rms"), slip_of(g), synchronous(g)});
}

const Topic induction(
    "model/induction_motor.h",
    {{"ind_impedance_ohm", [](const Given& g) { return point_of(g).impedance_ohm; }},
     {"ind_current_rms_A", [](const Given& g) { return point_of(g).current_phase_rms_A; }},
     {"ind_current_angle_deg",
      [](const Given& g) { return std::acos(point_of(g).power_factor) * 180 / pi; }},
     {"ind_power_factor", [](const Given& g) { return point_of(g).power_factor; }},
     {"ind_electrical_W", [](const Given& g) { return point_of(g).power_electrical_W; }},
     {"ind_stator_loss_W", [](const Given& g) { return point_of(g).loss_stator_W; }},
     {"ind_airgap_W", [](const Given& g) { return point_of(g).power_airgap_W; }},
     {"ind_rotor_loss_W", [](const Given& g) { return point_of(g).loss_rotor_W; }},
     {"ind_converted_W", [](const Given& g) { return point_of(g).power_converted_W; }},
     {"ind_output_W",
      [](const Given& g) { return point_of(g).power_converted_W - g("rotational_W"); }},
     {"ind_torque_Nm", [](const Given& g) { return point_of(g).torque_airgap_Nm; }},
     {"ind_load_torque_Nm",
      [](const Given& g) {
        return (point_of(g).power_converted_W - g("rotational_W")) /
               ((1 - slip_of(g)) * synchronous(g));
      }},
     {"ind_efficiency",
      [](const Given& g) {
        return (point_of(g).power_converted_W - g.or_else("rotational_W", 0)) /
               point_of(g).power_electrical_W;
      }},
     {"ind_thevenin_V",
      [](const Given& g) { return thevenin(circuit_of(g), g("v_rms")).voltage_phase_rms_V; }},
     {"ind_thevenin_r_ohm",
      [](const Given& g) { return thevenin(circuit_of(g), 1.0).resistance_ohm; }},
     {"ind_thevenin_x_ohm",
      [](const Given& g) { return thevenin(circuit_of(g), 1.0).reactance_ohm; }},
     {"ind_slip_breakdown", [](const Given& g) { return slip_breakdown(circuit_of(g)); }},
     {"ind_speed_breakdown_rpm",
      [](const Given& g) {
        return (1 - slip_breakdown(circuit_of(g))) * synchronous(g) * 30 / pi;
      }},
     {"ind_torque_breakdown_Nm",
      [](const Given& g) { return torque_breakdown(circuit_of(g), g("v_rms"), synchronous(g)); }}});

}  // namespace
