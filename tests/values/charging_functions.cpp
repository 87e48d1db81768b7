// SPDX-License-Identifier: MIT
#include "model/charging.h"

#include "tests/values/registry.h"

namespace ww::values {
namespace {

using namespace ww::model;

struct Case {
  ChargePack<double> pack;
  ChargeRun<double> run;
};

// Reads every key, so that one set of givens serves all functions.
Case charge(const Given& g) {
  return {
      .pack = {.charge_C = g("Q_Ah") * 3600,
               .resistance_ohm = g("r_ohm"),
               .voltage_full_V = g("full_V"),
               .slope_V = g("slope_V")},
      .run = {.current_A = g("current_A"), .current_end_A = g("end_A"), .soc_start = g("start")}};
}

template <double (*F)(const ChargePack<double>&, const ChargeRun<double>&)>
double with(const Given& g) {
  const Case c = charge(g);
  return F(c.pack, c.run);
}

const Topic topic(
    "model/charging.h",
    {{"charge_constant_s", [](const Given& g) { return charge_constant_s(charge(g).pack); }},
     {"charge_soc_at_cv", with<charge_soc_at_cv<double>>},
     {"charge_current_at_cv_A", with<charge_current_at_cv_A<double>>},
     {"charge_time_cc_s", with<charge_time_cc_s<double>>},
     {"charge_time_cv_s", with<charge_time_cv_s<double>>},
     {"charge_cv_Ah", [](const Given& g) { return with<charge_cv_C<double>>(g) / 3600; }},
     {"round_trip_efficiency",
      [](const Given& g) { return round_trip_efficiency(g("v"), g("r_ohm"), g("current_A")); }},
     {"charge_wall_kWh", [](const Given& g) {
        return charge_wall_J(g("pack_kWh") * 3.6e6, g("efficiency")) / 3.6e6;
      }}});

}  // namespace
}  // namespace ww::values
