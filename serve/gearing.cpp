// SPDX-License-Identifier: MIT
// The drive line's figures beside the answers.
#include <cmath>

#include "model/constants.h"
#include "model/sprocket.h"
#include "serve/state.h"

namespace ww::serve {

using figure::Kind;

std::vector<api::DriveFigure> gearing_of(const Looked& looked) {
  const build::Build& ridden = looked.checked.ridden;
  const auto fact = [&](std::string_view id) {
    return fit::fact_value(ridden, looked.checked.ride, id).value;
  };
  const auto number = [&](const char* path) {
    return build::number_at(ridden, build::id_of(path));
  };
  std::vector<api::DriveFigure> out;
  const auto say = [&](const char* key, const char* label, double value, Kind kind) {
    if (std::isfinite(value)) out.push_back({key, label, figure::print(value, kind, looked.units)});
  };
  // Wheel turns a second, times motor turns a wheel turn, in radians.
  const double revs =
      number("wishes.hold_speed") / fact("wheel_circumference") * fact("ratio") * 2 * model::pi;
  say("motor_speed_hold", "motor speed at the speed to hold", revs, Kind::rotation);
  say("chain_pull", "largest pull in the chain", fact("chain_pull"), Kind::force);
  const double front = number("gearing.front_teeth"), rear = number("gearing.rear_teeth");
  const double pitch = number("chain.pitch");
  say("front_circle", "front sprocket, pitch circle", model::pitch_diameter_m(pitch, front),
      Kind::length);
  say("rear_circle", "rear sprocket, pitch circle", model::pitch_diameter_m(pitch, rear),
      Kind::length);
  const double reach = fact("rear_sprocket_radius");
  const double air = number("donor.swingarm_to_sprocket") - reach;
  const auto length = [&](double m) { return figure::print(m, Kind::length, looked.units); };
  if (std::isfinite(reach))
    out.push_back({"swingarm_air", "air to swingarm and tyre, chain on",
                   std::isnan(air) ? "not measured"
                   : air < 0       ? "none, " + length(-air) + " too large"
                                   : length(air)});
  say("chain_play", "chain's play over the travel, at best", fact("chain_play_over_travel"),
      Kind::length);
  return out;
}

}  // namespace ww::serve
