// SPDX-License-Identifier: MIT
#include "steps/power.h"

#include <cmath>

#include "steps/live.h"

namespace ww::steps {

using build::MotorType;

std::string whole(double n) {
  return std::isnan(n) ? "?" : std::to_string(static_cast<long>(std::lround(n)));
}

std::string volts(double v) {
  return shown(v, figure::Kind::voltage);
}

bool brushed(const Draft& d) {
  return d.numbers().is("motor.type", MotorType::brushed_pm) || series_wound(d);
}

bool series_wound(const Draft& d) {
  return d.numbers().is("motor.type", MotorType::brushed_series);
}

std::string pack_out() {
  return "The pack is out, or both its leads are off and covered: nothing is live but the pack "
         "itself.";
}

std::string bench_fed() {
  return "The pack is still out: main fuse out, disconnect open. Live is what the bench supply "
         "feeds: the bus, up to its volts.";
}
std::string joined_off(const Draft& d) {
  return "Fuse in, disconnect closed, key off. " +
         live_text(d.circuit(),
                   {"contactor", "precharge_relay", "dcdc_switch", "key", "key_relay"});
}
std::string precharging(const Draft& d) {
  return "Contactor open, pre-charge relay closed. " + live_text(d.circuit(), {"contactor"});
}
std::string all_on(const Draft& d) {
  return "Everything closed. " + live_text(d.circuit(), {}) + " The motor leads too, once it runs.";
}

double isolation_resistor_ohm(double full_V) {
  for (const double usual : {10e3, 15e3, 22e3, 33e3, 47e3, 68e3, 100e3, 150e3, 220e3, 330e3}) {
    if (usual >= 500 * full_V) return usual;
  }
  return 470e3;
}

void power_steps(Draft& d) {
  d.stage(Stage::power);
  cold_steps(d);
  live_steps(d);
  charging_steps(d);
}

}  // namespace ww::steps
