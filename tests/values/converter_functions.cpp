// SPDX-License-Identifier: MIT
#include "model/converter.h"

#include <array>

#include "tests/values/registry.h"

namespace ww::values {
namespace {

using namespace ww::model;

Outlet<double> outlet(const Given& g) {
  return {.voltage_V = g("v"), .current_breaker_A = g("breaker_A"), .share_continuous = g("share")};
}

const Topic topic(
    "model/converter.h",
    {{"auxiliary_power_W",
      [](const Given& g) {
        const std::array<AuxiliaryLoad<double>, 3> loads{
            {{g("p1"), g("s1")}, {g("p2"), g("s2")}, {g("p3"), g("s3")}}};
        return auxiliary_power_W<double>(loads);
      }},
     {"converter_current_in_A",
      [](const Given& g) { return converter_current_in_A(g("power_W"), g("v"), g("efficiency")); }},
     {"buffer_hold_h",
      [](const Given& g) {
        return buffer_hold_s<double>(
                   {.charge_C = g("Q_Ah") * 3600, .share_usable = g("share"), .voltage_V = g("v")},
                   g("power_W")) /
               3600;
      }},
     {"drain_allowed_mA",
      [](const Given& g) {
        return 1e3 * drain_allowed_A(g("Q_Ah") * 3600, g("share"), g("days") * 86400);
      }},
     {"drain_time_days",
      [](const Given& g) {
        return drain_time_s(g("Q_Ah") * 3600, g("share"), g("current_mA") / 1e3) / 86400;
      }},
     {"outlet_power_W", [](const Given& g) { return outlet_power_W(outlet(g)); }},
     {"charger_current_A",
      [](const Given& g) {
        return charger_current_A<double>(
            outlet(g),
            {.power_out_W = g("charger_W"),
             .current_out_A = g("charger_A"),
             .efficiency = g("efficiency")},
            {.current_management_A = g("bms_A"), .current_cells_A = g("cells_A")}, g("pack_V"));
      }},
     {"charger_mains_A",
      [](const Given& g) { return converter_current_in_A(g("power_W"), g("v"), g("efficiency")); }},
     {"charge_time_min", [](const Given& g) {
        return charge_time_estimate_s(g("energy_Wh") * 3600, g("wall_W"), g("efficiency"),
                                      g("taper_min") * 60) /
               60;
      }}});

}  // namespace
}  // namespace ww::values
