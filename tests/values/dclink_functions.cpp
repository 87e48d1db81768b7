// SPDX-License-Identifier: MIT
#include "model/dclink.h"

#include "tests/values/registry.h"

namespace ww::values {
namespace {

using namespace ww::model;

struct Largest {
  double ripple = 0, modulation = 0;
};

// Over a fine grid of modulation, at power factor 1.
Largest largest() {
  Largest best;
  for (int i = 0; i <= 1150; ++i) {
    const double modulation = i / 1000.0;
    const double ripple = ripple_current_rms_A<double>(
        {.current_phase_rms_A = 1, .modulation = modulation, .power_factor = 1});
    if (ripple > best.ripple) best = {ripple, modulation};
  }
  return best;
}

const Topic topic("model/dclink.h",
                  {{"ripple_current_rms_A",
                    [](const Given& g) {
                      return ripple_current_rms_A<double>({.current_phase_rms_A = g("current_A"),
                                                           .modulation = g("modulation"),
                                                           .power_factor = g("power_factor")});
                    }},
                   {"ripple_largest", [](const Given&) { return largest().ripple; }},
                   {"ripple_largest_at", [](const Given&) { return largest().modulation; }},
                   {"ripple_heat_W",
                    [](const Given& g) {
                      return ripple_heat_W(g("current_A"), g("esr_mohm") / 1e3);
                    }},
                   {"cable_overshoot_V", [](const Given& g) {
                      return cable_overshoot_V(g("current_A"), g("l_uH") * 1e-6, g("c_mF") * 1e-3);
                    }}});

}  // namespace
}  // namespace ww::values
