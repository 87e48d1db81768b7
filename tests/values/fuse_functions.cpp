// SPDX-License-Identifier: MIT
#include "model/fuse.h"

#include <array>

#include "model/wire_tables.h"
#include "tests/values/registry.h"

namespace ww::values {
namespace {

using namespace ww::model;

double kelvin(double degC) {
  return degC + 273.15;
}

std::array<FusePoint<double>, 3> points(const Given& g) {
  return {{{g("i1"), g("t1")}, {g("i2"), g("t2")}, {g("i3"), g("t3")}}};
}

FuseRating<double> rating(const Given& g) {
  return {.current_A = g("rating_A"),
          .temperature_rated_K = kelvin(g("rated_C")),
          .temperature_limit_K = kelvin(g("limit_C"))};
}

const Topic topic(
    "model/fuse.h",
    {{"fuse_melting_time_s",
      [](const Given& g) {
        const auto curve = points(g);
        return fuse_melting_time_s<double>(curve, g("current_A"));
      }},
     {"fuse_melting_current_A",
      [](const Given& g) {
        const auto curve = points(g);
        return fuse_melting_current_A<double>(curve, g("time_s"));
      }},
     {"fuse_pulse_share",
      [](const Given& g) {
        const auto curve = points(g);
        const std::array<FusePulse<double>, 2> pulses{
            {{g("current_A"), g("time_s")}, {g("current2_A"), g("time2_s")}}};
        return fuse_pulse_share<double>(curve, pulses);
      }},
     {"fuse_clearing_A2s",
      [](const Given& g) { return fuse_clearing_A2s(g("melting_A2s"), g("arcing_A2s")); }},
     {"fuse_let_through_share",
      [](const Given& g) { return fuse_let_through_share(g("clearing_A2s"), g("withstand_A2s")); }},
     {"fuse_derated_A",
      [](const Given& g) { return fuse_derated_A(rating(g), kelvin(g("air_C"))); }},
     {"fuse_continuous_share",
      [](const Given& g) {
        return fuse_continuous_share(rating(g), kelvin(g("air_C")), g("current_A"));
      }},
     {"fuse_rating_needed_A",
      [](const Given& g) { return fuse_rating_needed_A(g("continuous_A"), g("other_A")); }},
     {"fuse_rating_at_least_A",
      [](const Given& g) { return fuse_rating_at_least_A(g("current_A")); }}});

}  // namespace
}  // namespace ww::values
