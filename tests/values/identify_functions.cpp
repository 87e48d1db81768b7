// SPDX-License-Identifier: MIT
#include "model/identify.h"

#include "tests/values/registry.h"

namespace {

using namespace ww::model;
using namespace ww::values;

DcView<double> dc_of(const Given& g) {
  return {.speed_constant_radpsV = g("rpm_per_V") * pi / 30,
          .resistance_line_line_ohm = g("r_ll_ohm")};
}
NoLoad<double> test_of(const Given& g) {
  return {g("v"), g("i0_A")};
}
DragFit<double> two_of(const Given& g) {
  return drag_from_two<double>(dc_of(g), {g("v1"), g("i1_A")}, {g("v2"), g("i2_A")});
}
double fast_speed(const Given& g) {
  return no_load_speed<double>(dc_of(g), {g("v2"), g("i2_A")});
}
SteelLoss<double> first_of(const Given& g) {
  return {g("f1_Hz"), g("p1_Wpkg")};
}
double steel_share(const Given& g) {
  return hysteresis_share<double>(first_of(g), {g("f2_Hz"), g("p2_Wpkg")});
}

const Topic identified(
    "model/identify.h",
    {{"no_load_radps", [](const Given& g) { return no_load_speed(dc_of(g), test_of(g)); }},
     {"no_load_W",
      [](const Given& g) {
        return no_load_torque(dc_of(g), test_of(g)) * no_load_speed(dc_of(g), test_of(g));
      }},
     {"drag_two_constant_Nm", [](const Given& g) { return two_of(g).drag_constant_Nm; }},
     {"drag_two_linear_Nms", [](const Given& g) { return two_of(g).drag_linear_Nms; }},
     {"drag_two_constant_W",
      [](const Given& g) { return two_of(g).drag_constant_Nm * fast_speed(g); }},
     {"drag_two_linear_W",
      [](const Given& g) { return two_of(g).drag_linear_Nms * fast_speed(g) * fast_speed(g); }},
     {"drag_one_constant_Nm",
      [](const Given& g) {
        return drag_from_one(g("torque_Nm"), g("speed_radps")).drag_constant_Nm;
      }},
     {"drag_one_linear_Nms",
      [](const Given& g) {
        return drag_from_one(g("torque_Nm"), g("speed_radps")).drag_linear_Nms;
      }},
     {"best_efficiency_A",
      [](const Given& g) { return best_efficiency(test_of(g), g("r_ohm")).current_A; }},
     {"best_efficiency",
      [](const Given& g) { return best_efficiency(test_of(g), g("r_ohm")).efficiency; }},
     {"efficiency_whole",
      [](const Given& g) {
        return efficiency_whole<double>({g("kc"), g("ki"), g("kw"), g("c_W")}, g("torque_Nm"),
                                        g("speed_radps"));
      }},
     {"hysteresis_share", steel_share},
     {"steel_loss_Wpkg",
      [](const Given& g) { return steel_loss_at(first_of(g), steel_share(g), g("at_Hz")); }}});

}  // namespace
