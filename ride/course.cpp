// SPDX-License-Identifier: MIT
#include "ride/course.h"

#include <algorithm>
#include <charconv>

#include "base/text.h"

namespace ww::ride {

namespace {

constexpr double mph_mps = 0.44704;

bool read_row(std::string_view line, double& time, double& speed) {
  const auto comma = line.find(',');
  if (comma == std::string_view::npos) return false;
  const auto first = trim(line.substr(0, comma)), second = trim(line.substr(comma + 1));
  const auto a = std::from_chars(first.data(), first.data() + first.size(), time);
  const auto b = std::from_chars(second.data(), second.data() + second.size(), speed);
  return a.ec == std::errc() && b.ec == std::errc() && b.ptr == second.data() + second.size();
}

Error bad_cycle(std::string_view name, int line, std::string_view found) {
  return {.code = "bad-cycle",
          .what = "not a cycle's row",
          .file = std::string(name),
          .line = line,
          .found = std::string(found),
          .expected = "time_s,speed on a grid of whole seconds from 0"};
}

}  // namespace

Result<Cycle> read_cycle(std::string_view name, std::string_view text) {
  Cycle cycle;
  cycle.name = name;
  double factor = 0;
  int number = 0;
  for (const auto raw : split(text, '\n')) {
    ++number;
    const auto line = trim(raw);
    if (line.empty() || line[0] == '#') continue;
    if (factor == 0) {
      factor = line == "time_s,speed_kph" ? 1 / 3.6 : (line == "time_s,speed_mph" ? mph_mps : 0);
      if (factor == 0) return fail(bad_cycle(name, number, line));
      continue;
    }
    double time = 0, speed = 0;
    if (!read_row(line, time, speed) || time != double(cycle.speed_mps.size()) ||
        !(speed >= 0 && speed < 400)) {
      return fail(bad_cycle(name, number, line));
    }
    cycle.speed_mps.push_back(speed * factor);
  }
  if (cycle.speed_mps.size() < 2) return fail(bad_cycle(name, number, ""));
  for (std::size_t i = 1; i < cycle.speed_mps.size(); ++i) {
    cycle.distance_m += 0.5 * (cycle.speed_mps[i - 1] + cycle.speed_mps[i]);
  }
  cycle.speed_max_mps = *std::max_element(cycle.speed_mps.begin(), cycle.speed_mps.end());
  return cycle;
}

std::string_view wmtc_class(double top_speed_mps) {
  const double kmh = top_speed_mps * 3.6;
  if (kmh < 100) return "1";
  if (kmh < 115) return "2-1";
  if (kmh < 130) return "2-2";
  return kmh < 140 ? "3-1" : "3-2";
}

Course course_for(const Cycles& cycles, double top_speed_mps) {
  Course course{.udds = cycles.udds.trace(),
                .udc = cycles.udc.trace(),
                .wmtc = {},
                .wmtc_weight = {0, 0, 0},
                .wanted = every_answer,
                .highway_70mph = top_speed_mps >= 31.2928 / 0.95,
                .launch_panels = 10};
  const auto which = wmtc_class(top_speed_mps);
  if (which == "1") {
    course.wmtc[0] = cycles.wmtc_1_reduced.trace();
    course.wmtc_weight = {1, 0, 0};
  } else if (which == "2-1") {
    course.wmtc = {cycles.wmtc_1_reduced.trace(), cycles.wmtc_2_reduced.trace(), {}};
    course.wmtc_weight = {0.3, 0.7, 0};
  } else if (which == "3-2") {
    course.wmtc = {cycles.wmtc_1.trace(), cycles.wmtc_2.trace(), cycles.wmtc_3.trace()};
    course.wmtc_weight = {0.25, 0.5, 0.25};
  } else {
    course.wmtc = {cycles.wmtc_1.trace(), cycles.wmtc_2.trace(), {}};
    course.wmtc_weight = {0.3, 0.7, 0};
  }
  return course;
}

}  // namespace ww::ride
