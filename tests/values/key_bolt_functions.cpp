// SPDX-License-Identifier: MIT
// Rows of key_bolt.tsv. Names ending in _in take and give inches and pounds, as the inch tables
// print them.
#include "model/bolt.h"
#include "model/key.h"

#include "tests/values/registry.h"

namespace {

using namespace ww;
using namespace ww::model;
using namespace ww::values;

constexpr double in = 25.4e-3;
constexpr double pound_force_N = 4.44822;
constexpr double psi_Pa = pound_force_N / (in * in);

KeyJoint<double> joint(const Given& g) {
  return {.torque_Nm = g("torque_Nm"),
          .shaft_diameter_m = g("shaft_m"),
          .width_m = g("width_m"),
          .height_m = g("height_m"),
          .length_m = g("length_m")};
}
KeyJoint<double> joint_in(const Given& g) {
  return {.torque_Nm = g("torque_lbf_in") * pound_force_N * in,
          .shaft_diameter_m = g("shaft_in") * in,
          .width_m = g("key_in") * in,
          .height_m = g("key_in") * in,
          .length_m = in};
}
KeySeat<double> seat_in(const Given& g) {
  return {.shaft_diameter_m = g("shaft_in") * in,
          .key_width_m = g("key_in") * in,
          .key_height_m = g("key_in") * in};
}
BoltThread<double> thread(const Given& g) {
  return {.diameter_m = g("diameter_m"), .pitch_m = g("pitch_m")};
}
double preload(const Given& g) {
  return assembly_preload_N(thread(g), g("yield_Pa"), g("friction"));
}

const Topic keys(
    "model/key.h",
    {
        {"key_force_N", [](const Given& g) { return key_force_N(joint(g)); }},
        {"key_shear_Pa", [](const Given& g) { return key_shear_Pa(joint(g)); }},
        {"key_pressure_Pa", [](const Given& g) { return key_pressure_Pa(joint(g)); }},
        {"key_pressure_hub_Pa",
         [](const Given& g) { return key_pressure_hub_Pa(joint(g), g("depth_shaft_m")); }},
        {"key_torque_limit_Nm",
         [](const Given& g) {
           const KeyJoint<double> k{.torque_Nm = 0,
                                    .shaft_diameter_m = g("shaft_m"),
                                    .width_m = g("width_m"),
                                    .height_m = g("height_m"),
                                    .length_m = g("length_m")};
           return key_torque_limit_Nm(k, g("allowed_Pa"));
         }},
        {"key_force_lbf", [](const Given& g) { return key_force_N(joint_in(g)) / pound_force_N; }},
        {"key_length_for_shear_in",
         [](const Given& g) {
           return key_length_for_shear_m(joint_in(g), g("allowed_psi") * psi_Pa) / in;
         }},
        {"key_length_for_pressure_in",
         [](const Given& g) {
           return key_length_for_pressure_m(joint_in(g), g("allowed_psi") * psi_Pa) / in;
         }},
        {"shaft_over_keyway_in",
         [](const Given& g) { return shaft_over_keyway_m(seat_in(g)) / in; }},
        {"bore_over_keyway_in", [](const Given& g) { return bore_over_keyway_m(seat_in(g)) / in; }},
    });

const Topic bolts(
    "model/bolt.h",
    {
        {"stress_area_m2", [](const Given& g) { return stress_area_m2(thread(g)); }},
        {"proof_load_N", [](const Given& g) { return proof_load_N(thread(g), g("proof_Pa")); }},
        {"assembly_preload_N", preload},
        {"assembly_torque_Nm",
         [](const Given& g) {
           const BoltFriction<double> mu{.thread = g("friction"), .head = g("friction")};
           return tightening_torque_Nm(thread(g), mu, g("bearing_diameter_m"), preload(g));
         }},
        {"torque_simple_at_proof_Nm",
         [](const Given& g) {
           const double load = g("share_of_proof") * proof_load_N(thread(g), g("proof_Pa"));
           return tightening_torque_simple_Nm(load, g("diameter_m"));
         }},
        {"slip_load_N",
         [](const Given& g) {
           return slip_load_N(ClampedJoint<double>{.bolts = g("bolts"),
                                                   .preload_N = g("preload_N"),
                                                   .friction = g("friction"),
                                                   .faces = g("faces")});
         }},
    });

}  // namespace
