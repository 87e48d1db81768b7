// SPDX-License-Identifier: MIT
#include "ride/answers.h"

namespace ww::ride {

const std::array<AnswerInfo, answer_count>& answer_table() {
  using figure::Kind;
  using A = Answer;
  static const std::array<AnswerInfo, answer_count> table{{
      {A::mass, "mass", "mass without rider", Kind::mass, false},
      {A::mass_laden, "mass_laden", "mass with rider and load", Kind::mass, false},
      {A::speed_top, "speed_top", "top speed, flat, half charge", Kind::speed, true},
      {A::speed_top_headwind, "speed_top_headwind", "top speed into a 20 km/h wind", Kind::speed,
       true},
      {A::speed_hold_hour, "speed_hold_hour", "speed the winding stands for an hour", Kind::speed,
       true},
      {A::time_0_50, "time_0_50", "0 to 50 km/h", Kind::time, false},
      {A::time_0_60mph, "time_0_60mph", "0 to 60 mph", Kind::time, false},
      {A::time_0_100, "time_0_100", "0 to 100 km/h", Kind::time, false},
      {A::thrust_standstill, "thrust_standstill", "thrust from standstill", Kind::force, true},
      {A::thrust_lift, "thrust_lift", "thrust that lifts the front wheel", Kind::force, true},
      {A::grade_max, "grade_max", "steepest hill at 10 km/h", Kind::share, true},
      {A::power_shaft_peak, "power_shaft_peak", "most power at the motor's shaft", Kind::power,
       true},
      {A::energy_pack, "energy_pack", "energy in the pack", Kind::energy, true},
      {A::range_hold, "range_hold", "distance at the speed to hold, to empty", Kind::length, true},
      {A::range_hold_reserve, "range_hold_reserve", "distance at the speed to hold, reserve kept",
       Kind::length, true},
      {A::range_mixed, "range_mixed", "distance in mixed riding, to empty", Kind::length, true},
      {A::range_mixed_reserve, "range_mixed_reserve", "distance in mixed riding, reserve kept",
       Kind::length, true},
      {A::range_cold_reserve, "range_cold_reserve", "the same on the coldest day", Kind::length,
       true},
      {A::range_udc, "range_udc", "distance, UDC", Kind::length, true},
      {A::range_udds, "range_udds", "distance, UDDS", Kind::length, true},
      {A::range_wmtc, "range_wmtc", "distance, WMTC", Kind::length, true},
      {A::range_city_highway, "range_city_highway", "distance, half town, half highway (SAE J2982)",
       Kind::length, true},
      {A::consumption_50, "consumption_50", "consumption at 50 km/h", Kind::consumption, false},
      {A::consumption_70, "consumption_70", "consumption at 70 km/h", Kind::consumption, false},
      {A::consumption_90, "consumption_90", "consumption at 90 km/h", Kind::consumption, false},
      {A::consumption_110, "consumption_110", "consumption at 110 km/h", Kind::consumption, false},
      {A::consumption_mixed, "consumption_mixed", "consumption in mixed riding", Kind::consumption,
       false},
      {A::voltage_cold_low, "voltage_cold_low",
       "pack voltage at a tenth of the charge, coldest day, full current", Kind::voltage, true},
      {A::current_rms, "current_rms", "battery current, rms in town", Kind::current, false},
      {A::current_phase_rms, "current_phase_rms", "phase current (rms) at the speed to hold",
       Kind::current, false},
      {A::winding_hold, "winding_hold", "winding after an hour at the speed to hold",
       Kind::temperature, false},
      {A::power_hold, "power_hold", "shaft power at the speed to hold", Kind::power, false},
      {A::missed_udds, "missed_udds", "share of UDDS it cannot follow", Kind::share, false},
      {A::torque_standstill, "torque_standstill", "motor torque from standstill", Kind::torque,
       true},
      {A::speed_no_load, "speed_no_load", "motor speed without load, full pack", Kind::rotation,
       true},
      {A::grade_at_hill_speed, "grade_at_hill_speed", "steepest hill at the hill speed",
       Kind::share, true},
      {A::hill_time, "hill_time", "time on the hill before something is too hot or empty",
       Kind::time, true},
      {A::pack_rise, "pack_rise", "warming of the cells, one charge at the speed to hold",
       Kind::temperature_rise, false},
  }};
  return table;
}

const AnswerInfo& info_of(Answer answer) {
  return answer_table()[static_cast<std::size_t>(answer)];
}

}  // namespace ww::ride
