// SPDX-License-Identifier: MIT
// The answers a ride gives as single numbers, each with its kind of unit and what a builder calls
// it. One list: the report, the rules, JSON and the docs read it.
#pragma once

#include <array>
#include <cstdint>
#include <string_view>

#include "figure/units.h"

namespace ww::ride {

enum class Answer : std::uint8_t {
  mass,
  mass_laden,
  speed_top,
  speed_top_headwind,
  speed_hold_hour,
  time_0_50,
  time_0_60mph,
  time_0_100,
  thrust_standstill,
  thrust_lift,
  grade_max,
  power_shaft_peak,
  energy_pack,
  range_hold,
  range_hold_reserve,
  range_mixed,
  range_mixed_reserve,
  range_cold_reserve,
  range_udc,
  range_udds,
  range_wmtc,
  range_city_highway,
  consumption_50,
  consumption_70,
  consumption_90,
  consumption_110,
  consumption_mixed,
  voltage_cold_low,
  current_rms,
  current_phase_rms,
  winding_hold,
  power_hold,
  missed_udds,
  torque_standstill,
  speed_no_load,
  grade_at_hill_speed,
  hill_time,
  pack_rise,
  count
};
inline constexpr std::size_t answer_count = static_cast<std::size_t>(Answer::count);

struct AnswerInfo {
  Answer answer;
  std::string_view key, label;
  figure::Kind kind;
  bool more_is_better;
};

/// In the order of the enum.
const std::array<AnswerInfo, answer_count>& answer_table();
const AnswerInfo& info_of(Answer answer);

/// Whether a distance means that the bike cannot keep up: under a kilometre nothing was ridden.
inline bool cannot_ride(double distance_m) {
  return distance_m < 1000;
}

/// A set of answers, one bit each: what a ride is asked for.
struct AnswerSet {
  std::uint64_t bits = 0;

  constexpr bool has(Answer a) const { return ((bits >> static_cast<unsigned>(a)) & 1U) != 0; }
  constexpr void add(Answer a) { bits |= std::uint64_t{1} << static_cast<unsigned>(a); }
  constexpr bool empty() const { return bits == 0; }
};
static_assert(answer_count < 64);
template <class... Answer>
constexpr AnswerSet answers_of(Answer... answer) {
  AnswerSet set;
  (set.add(answer), ...);
  return set;
}
constexpr AnswerSet operator&(AnswerSet a, AnswerSet b) {
  return {a.bits & b.bits};
}
constexpr AnswerSet operator|(AnswerSet a, AnswerSet b) {
  return {a.bits | b.bits};
}
constexpr AnswerSet without(AnswerSet a, AnswerSet b) {
  return {a.bits & ~b.bits};
}
inline constexpr AnswerSet every_answer{(std::uint64_t{1} << answer_count) - 1};
/// What comes from riding distances: the slow part of a ride.
inline constexpr AnswerSet distance_answers =
    answers_of(Answer::range_hold, Answer::range_hold_reserve, Answer::range_mixed,
               Answer::range_mixed_reserve, Answer::range_cold_reserve, Answer::range_udc,
               Answer::range_udds, Answer::range_wmtc, Answer::range_city_highway,
               Answer::consumption_mixed, Answer::current_rms, Answer::missed_udds);
/// What is ridden on another course the faster the bike is.
inline constexpr AnswerSet answers_by_class =
    answers_of(Answer::range_wmtc, Answer::range_city_highway);

template <class R>
struct Answers {
  std::array<R, answer_count> at;
  R& operator[](Answer a) { return at[static_cast<std::size_t>(a)]; }
  const R& operator[](Answer a) const { return at[static_cast<std::size_t>(a)]; }
};

}  // namespace ww::ride
