// SPDX-License-Identifier: MIT
// What the charts share: units of axes, and what to say where something is missing. Private to
// views/.
#pragma once

#include <string>

#include "views/plots.h"

namespace ww::views {

/// Numbers of one kind in the unit a builder of that system reads on an axis.
struct AxisUnit {
  std::string name;
  double factor = 1, offset = 0;
  double operator()(double si) const { return (si - offset) / factor; }
};
/// "17 °C" for the "17 degC" that a sheet can be typed with.
std::string degrees_by_hand(std::string text);

/// `typical` (SI) decides between units of one kind: 10 km, not 10 000 m.
AxisUnit axis_unit(figure::Kind kind, figure::System units, double typical);
inline AxisUnit speed_unit(const Subject& s) {
  return axis_unit(figure::Kind::speed, s.units, 20);
}

/// Why there is no chart: the parts and figures that are needed first.
std::string what_is_missing(const Subject& subject);

/// The figure or count at a path, NaN where it is not known.
double at(const build::Build& build, std::string_view path);
inline double at(const Subject& subject, std::string_view path) {
  return at(*subject.build, path);
}

/// A chart with its names; `missing` says why it is empty where the ride is not possible.
draw::Chart chart_of_ride(const Subject& subject, std::string key, std::string title);

/// The detail handed over, or computed now.
class DetailOf {
 public:
  explicit DetailOf(const Subject& subject) {
    if (subject.detail == nullptr) own_ = ride::detail(*subject.build, *subject.ride);
    detail_ = subject.detail == nullptr ? &own_ : subject.detail;
  }
  DetailOf(const DetailOf&) = delete;
  DetailOf& operator=(const DetailOf&) = delete;
  const ride::Detail& operator*() const { return *detail_; }
  const ride::Detail* operator->() const { return detail_; }

 private:
  ride::Detail own_;
  const ride::Detail* detail_;
};

}  // namespace ww::views
