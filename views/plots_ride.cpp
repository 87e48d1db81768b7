// SPDX-License-Identifier: MIT
// Charts of the road: thrust, acceleration, gearing, the motor's map, throttle, distance, heat,
// ageing.
#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "build/fields.h"
#include "ride/curves.h"
#include "views/plot_parts.h"

namespace ww::views {

namespace {

using draw::Across;
using draw::Chart;
using draw::Curve;
using draw::Dash;
using draw::Ink;
using draw::Plot;
using draw::Point;
using draw::Sign;
using figure::Kind;
using ride::Answer;

constexpr double km_h = 1 / 3.6;

std::string told(const Subject& s, double value, Kind kind) {
  return figure::print(value, kind, s.units);
}
std::string answer(const Subject& s, Answer a) {
  return told(s, s.ride->nominal[a], ride::info_of(a).kind);
}
double nominal(const Subject& s, Answer a) {
  return s.ride->nominal[a];
}

/// Force on the road: thousands of newtons read better as kN; imperial builders read pounds.
AxisUnit force_unit(const Subject& s) {
  return axis_unit(Kind::force, s.units, 500);
}

double fastest_of(const Subject& s) {
  return std::max(1.12 * nominal(s, Answer::speed_top), 10 * km_h);
}

Curve road_curve(const std::vector<ride::ThrustPoint>& points, const AxisUnit& v,
                 const AxisUnit& force) {
  Curve road{.label = "road load, flat",
             .points = {},
             .ink = Ink::ink,
             .dash = Dash::long_dash,
             .width = 1.3};
  for (const auto& p : points) road.points.push_back({v(p.speed_mps), force(p.road_N)});
  return road;
}

/// Runs of speeds that the same cause governs, split half-way between two points.
std::vector<draw::Stretch> stretches_of(const std::vector<ride::ThrustPoint>& points,
                                        const AxisUnit& v) {
  std::vector<draw::Stretch> out;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const std::string label(ride::word(points[i].limit));
    const double here = v(points[i].speed_mps);
    if (out.empty() || out.back().label != label) {
      const double start = i == 0 ? here : 0.5 * (here + v(points[i - 1].speed_mps));
      if (!out.empty()) out.back().to = start;
      out.push_back({start, here, label, static_cast<int>(points[i].limit)});
    }
    out.back().to = here;
  }
  return out;
}

}  // namespace

Chart thrust_chart(const Subject& s) {
  Chart chart = chart_of_ride(s, "thrust", "Thrust, and what holds it down");
  const AxisUnit v = speed_unit(s), force = force_unit(s);
  chart.x = {.label = "speed", .unit = v.name, .range = {}, .from_zero = true};
  chart.y = {
      .label = "force at the rear wheel", .unit = force.name, .range = {}, .from_zero = true};
  if (!chart.missing.empty()) return chart;
  const auto points = ride::thrust_curve(*s.build, {fastest_of(s), 97, 0.5});
  Curve thrust{.label = "thrust at full throttle", .points = {}, .labelled = false};
  for (const auto& p : points)
    thrust.points.push_back({v(p.speed_mps), force(std::max(p.thrust_N, 0.0))});
  thrust.stretches = stretches_of(points, v);
  const double top = nominal(s, Answer::speed_top);
  Plot plot{.curves = {std::move(thrust), road_curve(points, v, force)}};
  std::string causes;
  for (const auto& stretch : plot.curves[0].stretches) {
    if (causes.find(stretch.label) == std::string::npos)
      causes += (causes.empty() ? "" : ", then ") + stretch.label;
  }
  if (top > 0) {
    const auto ends = ride::thrust_curve(*s.build, {top, 2, 0.5});
    if (ends.size() == 2)
      plot.markers.push_back({{v(top), force(ends[1].road_N)},
                              "top speed " + answer(s, Answer::speed_top),
                              Sign::ring,
                              {}});
  }
  if (at(s, "wishes.hold_speed") > 0)
    plot.references.push_back(
        {Across::x, v(at(s, "wishes.hold_speed")), "speed to hold", Dash::dotted});
  chart.says =
      "Held down by " + causes + "; meets the road load at " + answer(s, Answer::speed_top) + ".";
  chart.notes.emplace_back("Flat road, no wind, half charge, usual temperature, windings warm.");
  chart.body = std::move(plot);
  return chart;
}

Chart acceleration_chart(const Subject& s) {
  Chart chart = chart_of_ride(s, "acceleration", "Speed over time, full throttle");
  const AxisUnit v = speed_unit(s);
  chart.x = {.label = "time", .unit = "s", .range = {}, .from_zero = true};
  chart.y = {.label = "speed", .unit = v.name, .range = {}, .from_zero = true};
  if (!chart.missing.empty()) return chart;
  const auto moments = ride::launch_curve(*s.build);
  if (moments.empty()) {
    chart.missing = "The bike does not move off: the drive gives less than the road load.";
    return chart;
  }
  Curve curve{.label = "speed", .points = {}, .ink = Ink::accent, .width = 2.2, .labelled = false};
  for (const auto& m : moments) curve.points.push_back({m.time_s, v(m.speed_mps)});
  Plot plot{.curves = {std::move(curve)}};
  struct Mark {
    Answer answer;
    double speed_mps;
  };
  const double last = moments.back().time_s;
  for (const Mark& mark :
       {Mark{Answer::time_0_50, 50 * km_h}, s.units == figure::System::metric
                                                ? Mark{Answer::time_0_100, 100 * km_h}
                                                : Mark{Answer::time_0_60mph, 26.8224}}) {
    const double t = nominal(s, mark.answer);
    if (!std::isfinite(t) || t > last) continue;
    const auto& band = s.ride->band(mark.answer);
    std::string label = told(s, mark.speed_mps, Kind::speed) + " in " + told(s, t, Kind::time);
    if (std::isfinite(band.p90) && band.p90 > band.p10)
      label += " (" + fixed(band.p10, 1) + " to " + fixed(band.p90, 1) + ")";
    plot.markers.push_back({{t, v(mark.speed_mps)}, label, Sign::ring, {}});
  }
  if (at(s, "wishes.time_0_100") > 0 && at(s, "wishes.time_0_100") < 2 * last)
    plot.markers.push_back({{at(s, "wishes.time_0_100"), v(100 * km_h)}, "wish", Sign::cross, {}});
  chart.says = "From standstill to " + told(s, moments.back().speed_mps, Kind::speed) + " in " +
               told(s, last, Kind::time) + ".";
  chart.notes.emplace_back(
      "Flat road, no wind, 80 % charge; the throttle's ramp is left out. In "
      "brackets: good and bad case.");
  chart.body = std::move(plot);
  return chart;
}

namespace {

struct Teeth {
  std::string_view front, rear;  ///< paths
};
/// Where the ratio is counted; nothing where the drive has none to change.
const Teeth* teeth_of(const build::Build& build) {
  static constexpr Teeth chain{"gearing.front_teeth", "gearing.rear_teeth"},
      belt{"belt.front_teeth", "belt.rear_teeth"};
  switch (build.gearing.drive) {
    case build::FinalDrive::hub:
    case build::FinalDrive::shaft:
      return nullptr;
    case build::FinalDrive::belt:
      return &belt;
    default:
      return &chain;
  }
}

}  // namespace

Chart gearing_chart(const Subject& s) {
  Chart chart = chart_of_ride(s, "gearing", "Thrust with more and fewer rear teeth");
  const AxisUnit v = speed_unit(s), force = force_unit(s);
  chart.x = {.label = "speed", .unit = v.name, .range = {}, .from_zero = true};
  chart.y = {
      .label = "force at the rear wheel", .unit = force.name, .range = {}, .from_zero = true};
  if (!chart.missing.empty()) return chart;
  const Teeth* teeth = teeth_of(*s.build);
  if (teeth == nullptr) {
    chart.missing = "This drive has no sprockets to change.";
    return chart;
  }
  const int now = static_cast<int>(at(s, teeth->rear)),
            front = static_cast<int>(at(s, teeth->front));
  struct Change {
    int by;
    Ink ink;
    Dash dash;
  };
  Plot plot;
  double fastest = fastest_of(s);
  for (const Change& change :
       {Change{-12, Ink::tone_1, Dash::dotted}, Change{-6, Ink::tone_3, Dash::dashed},
        Change{0, Ink::accent, Dash::solid}, Change{6, Ink::tone_2, Dash::dash_dot},
        Change{12, Ink::tone_6, Dash::long_dash}}) {
    const int rear = now + change.by;
    if (rear < 12) continue;
    build::Build other = *s.build;
    build::set_number(other, build::id_of(teeth->rear), rear);
    const auto points = ride::thrust_curve(other, {1.1 * fastest, 121, 0.5});
    if (points.empty()) continue;
    Curve curve{.label = std::to_string(front) + " to " + std::to_string(rear) +
                         (change.by == 0 ? ", now" : ""),
                .points = {},
                .ink = change.ink,
                .dash = change.dash,
                .width = change.by == 0 ? 2.4 : 1.5};
    for (const auto& p : points) {
      curve.points.push_back({v(p.speed_mps), force(std::max(p.thrust_N, 0.0))});
      if (p.thrust_N <= 0) break;
    }
    if (change.by == 0) plot.curves.push_back(road_curve(points, v, force));
    plot.curves.push_back(std::move(curve));
  }
  // The present one last, so that it lies on top.
  std::stable_sort(plot.curves.begin(), plot.curves.end(),
                   [](const Curve& a, const Curve& b) { return a.width < b.width; });
  chart.says = "More rear teeth pull harder from standstill and end sooner; now " +
               std::to_string(front) + " to " + std::to_string(now) + ".";
  chart.notes.emplace_back(
      "Flat road, half charge. Chain length, room at the swingarm and the speed signal "
      "change with the teeth: run the checks again.");
  chart.body = std::move(plot);
  return chart;
}

Chart motor_map_chart(const Subject& s) {
  Chart chart = chart_of_ride(s, "motor-map", "Where motor and controller are efficient");
  const AxisUnit turns = axis_unit(Kind::rotation, s.units, 300),
                 torque = axis_unit(Kind::torque, s.units, 50);
  chart.x = {.label = "motor speed", .unit = turns.name, .range = {}, .from_zero = true};
  chart.y = {
      .label = "torque at the motor shaft", .unit = torque.name, .range = {}, .from_zero = true};
  if (!chart.missing.empty()) return chart;
  const auto map = ride::motor_map(*s.build, {14, 10});
  draw::Field field{.xs = {},
                    .ys = {},
                    .values = {},
                    .label = "efficiency",
                    .unit = "%",
                    .levels = {70, 80, 85, 90, 93}};
  for (const double w : map.speeds_radps) field.xs.push_back(turns(w));
  for (const double t : map.torques_Nm) field.ys.push_back(torque(t));
  double best = 0;
  for (const double e : map.efficiency) {
    field.values.push_back(100 * e);
    if (e > best) best = e;
  }
  Curve edge{.label = "the most there is", .points = {}, .ink = Ink::ink, .width = 1.8};
  Curve road{.label = "riding on the flat",
             .points = {},
             .ink = Ink::ink,
             .dash = Dash::long_dash,
             .width = 1.3};
  for (std::size_t i = 0; i < map.edge_speeds_radps.size(); ++i) {
    edge.points.push_back({turns(map.edge_speeds_radps[i]), torque(map.edge_torques_Nm[i])});
    road.points.push_back({turns(map.edge_speeds_radps[i]), torque(map.road_torques_Nm[i])});
  }
  Curve lasting{.label = "continuous power as listed",
                .points = {},
                .ink = Ink::tone_1,
                .dash = Dash::dash_dot,
                .width = 1.3};
  const double power = at(s, "motor.power_continuous");
  for (const double w : map.edge_speeds_radps) {
    if (power > 0 && w > 0) lasting.points.push_back({turns(w), torque(power / w)});
  }
  double most = 0;
  for (const Point& p : edge.points) most = std::max(most, p.y);
  chart.y.range = draw::Range{0, std::max(1.08 * most, 1e-3)};
  field.outlines = {std::move(edge), std::move(road)};
  if (lasting.points.size() > 2) field.outlines.push_back(std::move(lasting));
  chart.says = "At best " + fixed(100 * best, 0) + " % from battery to motor shaft.";
  chart.notes.emplace_back(
      "Half charge, windings warm; lights and electronics not counted. Computed from the "
      "motor's constants, not measured: iron losses are the least sure part.");
  chart.body = std::move(field);
  return chart;
}

Chart throttle_chart(const Subject& s) {
  Chart chart = chart_of_ride(s, "throttle", "Thrust over the throttle's turn");
  const AxisUnit force = force_unit(s);
  chart.x = {.label = "throttle turned", .unit = "%", .range = draw::Range{0, 100}};
  chart.y = {
      .label = "force at the rear wheel", .unit = force.name, .range = {}, .from_zero = true};
  if (!chart.missing.empty()) return chart;
  const auto rows = ride::throttle_curve(*s.build, 41);
  const DetailOf detail(s);
  const Ink inks[] = {Ink::accent, Ink::tone_1, Ink::tone_3};
  const Dash dashes[] = {Dash::solid, Dash::dashed, Dash::dash_dot};
  Plot plot;
  for (int k = 0; k < 3; ++k) {
    Curve curve{.label = "at " + told(s, detail->throttle_speeds_mps[k], Kind::speed),
                .points = {},
                .ink = inks[k],
                .dash = dashes[k]};
    for (const auto& row : rows) curve.points.push_back({100 * row.grip, force(row.thrust_N[k])});
    plot.curves.push_back(std::move(curve));
  }
  const double lift = nominal(s, Answer::thrust_lift);
  double most = 0;
  for (const auto& row : rows) most = std::max(most, row.thrust_N[0]);
  if (std::isfinite(lift) && lift < 1.5 * most)
    plot.references.push_back({Across::y, force(lift), "front wheel lifts", Dash::dashed});
  chart.says = "After a snap from nothing to full it takes " + told(s, detail->ramp_s, Kind::time) +
               " to build up.";
  chart.notes.emplace_back(
      "A throttle that asks for torque. The grip of the tyre and the lifting front wheel are "
      "not taken off here. First rides: a softer curve, dry ground, nobody near.");
  chart.body = std::move(plot);
  return chart;
}

Chart distance_chart(const Subject& s) {
  Chart chart = chart_of_ride(s, "distance", "How far a charge goes at a steady speed");
  const AxisUnit v = speed_unit(s), far = axis_unit(Kind::length, s.units, 50e3);
  chart.x = {.label = "speed", .unit = v.name};
  chart.y = {.label = "distance, reserve kept", .unit = far.name, .range = {}, .from_zero = true};
  if (!chart.missing.empty()) return chart;
  std::vector<double> speeds;
  const double top = nominal(s, Answer::speed_top);
  const double step = std::max(top / 36, 1e-3);
  const double slowest = 25 * km_h;
  const auto steps = static_cast<int>(std::ceil(std::max(0.0, top - slowest) / step));
  speeds.reserve(static_cast<std::size_t>(steps) + 1);
  for (int i = 0; i < steps; ++i) speeds.push_back(slowest + i * step);
  if (speeds.empty()) {
    chart.missing = "The bike does not reach 25 km/h.";
    return chart;
  }
  speeds.push_back(top * 0.999);
  Curve warm{.label = "usual day", .points = {}, .ink = Ink::accent, .width = 2.2};
  Curve cold{.label = "coldest day", .points = {}, .ink = Ink::tone_1, .dash = Dash::dashed};
  for (const auto& p : ride::distance_curve(*s.build, *s.ride, speeds, 128)) {
    if (p.p50_m > 0) {
      warm.points.push_back({v(p.speed_mps), far(p.p50_m)});
      warm.band.push_back({v(p.speed_mps), far(p.p10_m), far(p.p90_m)});
    }
    if (p.cold_m > 0) cold.points.push_back({v(p.speed_mps), far(p.cold_m)});
  }
  Plot plot{.curves = {std::move(warm), std::move(cold)}};
  const double wish = at(s, "wishes.ride_distance"), hold = at(s, "wishes.hold_speed");
  if (wish > 0 && hold > 0)
    plot.markers.push_back({{v(hold), far(wish)}, "wish", Sign::cross, {}});
  else if (wish > 0)
    plot.references.push_back({Across::y, far(wish), "wish", Dash::dotted});
  const double at_hold = nominal(s, Answer::range_hold_reserve);
  const double held = hold > 0 ? hold : 90 * km_h;
  chart.says = std::isfinite(at_hold) && at_hold > 0
                   ? "At " + told(s, held, Kind::speed) + " all the way about " +
                         told(s, at_hold, Kind::length) + "."
                   : "The speed to hold is not held to the end of a charge.";
  chart.notes.emplace_back(
      "Flat, no wind, one speed all the way: riding in traffic is the other answer. The band "
      "holds the middle four fifths of what the figures leave open.");
  chart.body = std::move(plot);
  return chart;
}

Chart hill_heat_chart(const Subject& s) {
  Chart chart = chart_of_ride(s, "hill-heat", "Temperatures on a long hill");
  const AxisUnit t = axis_unit(Kind::temperature, s.units, 300);
  chart.x = {.label = "time", .unit = "min", .range = {}, .from_zero = true};
  chart.y = {.label = "temperature", .unit = t.name};
  if (!chart.missing.empty()) return chart;
  const auto climb = ride::climb(*s.build);
  const std::string hill =
      fixed(100 * climb.grade, 0) + " % at " + told(s, climb.speed_mps, Kind::speed);
  if (!climb.climbs) {
    chart.missing = "The bike does not climb " + hill + ".";
    return chart;
  }
  Curve winding{.label = "winding", .points = {}, .ink = Ink::accent, .width = 2.2},
      controller{
          .label = "controller base", .points = {}, .ink = Ink::tone_1, .dash = Dash::dashed},
      cells{.label = "cells", .points = {}, .ink = Ink::tone_3, .dash = Dash::dash_dot};
  for (const auto& m : climb.moments) {
    winding.points.push_back({m.time_s / 60, t(m.winding_K)});
    controller.points.push_back({m.time_s / 60, t(m.controller_K)});
    cells.points.push_back({m.time_s / 60, t(m.cells_K)});
  }
  struct Limit {
    const Curve* curve;
    double kelvin;
    const char* words;
  };
  std::string first;
  double soonest = 1e18;
  Plot plot;
  for (const Limit& limit : {Limit{&winding, climb.winding_limit_K, "winding's limit"},
                             Limit{&controller, climb.controller_limit_K, "controller reduces"},
                             Limit{&cells, climb.cells_limit_K, "cells' limit"}}) {
    plot.references.push_back({Across::y, t(limit.kelvin), limit.words, Dash::dotted});
    for (const Point& p : limit.curve->points) {
      if (p.y < t(limit.kelvin) || p.x >= soonest) continue;
      soonest = p.x;
      first = limit.words;
    }
  }
  const double last = climb.moments.back().time_s;
  plot.curves = {std::move(winding), std::move(controller), std::move(cells)};
  chart.says = "Climbing " + hill + ": " +
               (first.empty() ? "nothing reaches its limit in the " + told(s, last, Kind::time) +
                                    " that the charge lasts."
                              : first + " after " + told(s, soonest * 60, Kind::time) + ".");
  chart.notes.emplace_back(
      "From a cold start on a usual day, full charge. Temperatures run on past their limits as if "
      "nothing reduced; set the controller so that something does.");
  chart.body = std::move(plot);
  return chart;
}

Chart ageing_chart(const Subject& s) {
  Chart chart = chart_of_ride(s, "ageing", "Capacity over the years");
  chart.x = {.label = "years", .unit = {}, .range = {}, .from_zero = true};
  chart.y = {.label = "capacity left", .unit = "%", .range = draw::Range{50, 100}};
  if (!chart.missing.empty()) return chart;
  std::vector<double> years;
  // Closer at first, where a root law is steep.
  for (int i = 1; i <= 40; ++i) years.push_back(i * i / 160.0);
  Curve curve{.label = "capacity",
              .points = {{0, 100}},
              .ink = Ink::accent,
              .width = 2.2,
              .band = {{0, 100, 100}},
              .labelled = false};
  double least = 100, five = std::nan("");
  for (const auto& row : ride::ageing_curve(*s.build, *s.ride, years)) {
    if (std::isnan(row.capacity_left)) continue;
    curve.points.push_back({row.years, 100 * row.capacity_left});
    curve.band.push_back({row.years, 100 * row.capacity_left_low, 100 * row.capacity_left_high});
    least = std::min(least, 100 * row.capacity_left_low);
    if (std::abs(row.years - 5) < 0.2) five = row.capacity_left;
  }
  if (curve.points.size() < 2) {
    chart.missing = "No published ageing model for these cells is held here.";
    return chart;
  }
  chart.y.range = draw::Range{std::floor(std::min(least, 70.0) / 10) * 10, 100};
  Plot plot{.curves = {std::move(curve)},
            .references = {{Across::y, 80, "often called worn", Dash::dashed}}};
  chart.says = "After five years about " + fixed(100 * five, 0) + " % are left.";
  chart.notes.push_back(
      "A fit of one cell type carried to another: the loss may be half or half as much again. " +
      std::string(DetailOf(s)->ageing_source));
  chart.body = std::move(plot);
  return chart;
}

}  // namespace ww::views
