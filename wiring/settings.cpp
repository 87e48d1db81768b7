// SPDX-License-Identifier: MIT
#include "wiring/settings.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "model/fuse.h"
#include "wiring/conductor.h"

namespace ww::wiring {

namespace {

using figure::Kind;
constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
constexpr std::string_view controller = "controller", monitor = "cell monitor", charger = "charger";

double least_of(std::initializer_list<double> values) {
  double least = unknown;
  for (const double value : values) {
    if (!std::isnan(value)) least = std::isnan(least) ? value : std::min(least, value);
  }
  return least;
}

double either(double first, double otherwise) {
  return std::isnan(first) ? otherwise : first;
}

/// What stands in the sheet, never an assumption: a setting is typed or it is not.
double set_in(const Readings& s, std::string_view path) {
  return s.assumed(path) ? unknown : s.ask(path);
}

Rung typed(const Readings& s, std::string_view into, std::string_view path, double suggested,
           std::string why, double cells = 1) {
  const double value = set_in(s, path);
  return {into,
          std::string(build::schema()[build::id_of(path)].info->label),
          path,
          value * cells,
          suggested * cells,
          value,
          suggested,
          std::move(why)};
}

Rung own_limit(std::string label, double value, std::string why) {
  return {{}, std::move(label), {}, value, unknown, value, unknown, std::move(why)};
}

/// Of the whole pack: cells in series, one cell's full and empty voltage.
struct Cells {
  double in_series, full_V, empty_V;
};
Cells cells_of(const Readings& s) {
  const double inside = s.or_else("cell.series_inside", 1);
  return {s.ask("pack.series") * inside, s.ask("cell.voltage_max") / inside,
          s.ask("cell.voltage_min") / inside};
}

Ladder empty_side(const Readings& s, const Cells& c) {
  const double monitor_V = either(set_in(s, "limits.bms_cell_min"), c.empty_V);
  const double hard_V = 1.04 * c.in_series * monitor_V;
  const double hard_set_V = either(set_in(s, "limits.hard_cut"), hard_V);
  return {"Pack runs empty: volts fall",
          Kind::voltage,
          false,
          0.03,
          0,
          {typed(s, controller, "limits.soft_cut", 1.04 * hard_set_V,
                 "the ride fades here and the rider turns for home"),
           typed(s, controller, "limits.hard_cut", hard_V,
                 "the drive stops here, smoothly; 3 to 5 % before the monitor"),
           typed(s, monitor, "limits.bms_cell_min", c.empty_V,
                 "opens for one weak cell, without warning: it must not come first", c.in_series),
           own_limit("cells are empty", c.in_series * c.empty_V,
                     "below it they are lost, and dangerous to charge")}};
}

Ladder braking_side(const Readings& s, const Cells& c) {
  const double monitor_V = either(set_in(s, "limits.bms_cell_max"), c.full_V);
  return {
      "Motor brakes a full pack: volts rise",
      Kind::voltage,
      true,
      0.03,
      0,
      {typed(s, controller, "limits.regen_voltage_max",
             0.965 * c.in_series * std::min(monitor_V, c.full_V),
             "the braking fades here; a monitor that opens first kills the controller"),
       typed(s, monitor, "limits.bms_cell_max", c.full_V, "opens for one full cell", c.in_series),
       own_limit("controller's highest voltage", s.ask("controller.voltage_max"),
                 "beyond it the power stage breaks down")}};
}

Ladder charging_side(const Readings& s, const Cells& c) {
  const double monitor_V = either(set_in(s, "limits.bms_cell_max"), c.full_V);
  return {"Charger fills the pack: volts rise",
          Kind::voltage,
          true,
          0.003,
          0,
          {typed(s, charger, "limits.charge_voltage",
                 0.995 * c.in_series * std::min(monitor_V, c.full_V),
                 "measured at its output with no load before it meets the pack; 2 to 3 % lower "
                 "gives a longer life"),
           typed(s, monitor, "limits.bms_cell_max", c.full_V, "ends the charge for one full cell",
                 c.in_series),
           own_limit("cells are full", c.in_series * c.full_V, "beyond it they burn")}};
}

double fuse_melts_A(const Readings& s) {
  const FusePoints curve =
      fuse_points(s.ask("fuse.current"), {.at_2x_s = s.ask("fuse.melt_time_2x"),
                                          .at_3x_s = s.ask("fuse.melt_time_3x"),
                                          .at_5x_s = s.ask("fuse.melt_time_5x"),
                                          .at_10x_s = s.ask("fuse.melt_time_10x")});
  return model::fuse_melting_current_A<double>(curve, s.or_else("controller.burst_time", 30));
}

Ladder battery_current(const Readings& s) {
  const double cells_A = s.ask("cell.current_pulse") * s.ask("pack.parallel");
  const double melts_A = fuse_melts_A(s);
  const bool switches = !s.is("bms.type", build::BmsType::alarm_only);
  const double trip_A =
      switches ? either(set_in(s, "limits.bms_trip"), s.ask("bms.current_trip")) : unknown;
  Ladder out{"Full throttle: battery current rises",
             Kind::current,
             true,
             0.05,
             0,
             {typed(s, controller, "limits.battery_current",
                    least_of({s.ask("controller.current_battery"), cells_A, 0.95 * trip_A,
                              0.5 * melts_A, s.ask("contactor.current_break")}),
                    "the smallest of controller, cells, nine tenths and a half of the monitor's "
                    "trip, half of what melts the fuse, and what the contactor breaks"),
              own_limit("cells' pulse current", cells_A, "beyond it they sag, heat and age")}};
  if (switches)
    out.rungs.push_back(typed(s, monitor, "limits.bms_trip",
                              least_of({s.ask("bms.current_trip"), 0.9 * melts_A}),
                              "opens at full current, in traffic: it must not come first"));
  out.rungs.push_back(own_limit("melts the main fuse in a long pull", melts_A,
                                "the last, for a short; never a limit of the ride"));
  return out;
}

Ladder phase_current(const Readings& s) {
  return {
      "Standstill: phase current rises (sine peak)",
      Kind::phase_current,
      true,
      0,
      0,
      {typed(s, controller, "limits.phase_current",
             least_of({s.ask("controller.current_phase"), s.ask("motor.current_peak")}),
             "torque from standstill; ask the maker whether it is typed as peak, rms or DC"),
       own_limit("controller's own limit", s.ask("controller.current_phase"), "its transistors'"),
       own_limit("motor's peak", s.ask("motor.current_peak"),
                 "beyond it magnets and winding suffer")}};
}

Ladder braking_current(const Readings& s) {
  const double cells_A = s.ask("cell.charge_pulse") * s.ask("pack.parallel");
  const double board_A = s.ask("bms.current_charge");
  return {"Motor brakes: battery current flows back",
          Kind::current,
          true,
          0,
          0,
          {typed(s, controller, "limits.regen_current",
                 least_of({cells_A, board_A, 0.3 * s.ask("limits.battery_current")}),
                 "begin low: the rear wheel slides in the wet. None below freezing"),
           own_limit("monitor's charge path", board_A, "beyond it its switches die"),
           own_limit("cells' charge pulse", cells_A, "beyond it lithium plates out for good")}};
}

Ladder throttle(const Readings& s) {
  const double rest_V = s.ask("throttle.voltage_rest"), full_V = s.ask("throttle.voltage_full");
  return {
      "Grip turns: volts rise",
      Kind::voltage,
      true,
      0,
      0.15,
      {own_limit("grip at rest", rest_V, "measured twenty times, at both steering locks"),
       typed(s, controller, "limits.throttle_start", rest_V + 0.2,
             "above the rest of a cold and of a hot grip: a start set lower is a bike that "
             "creeps"),
       typed(s, controller, "limits.throttle_full", full_V - 0.1, "a little before the grip's end"),
       own_limit("grip at full", full_V, "measured"),
       typed(s, controller, "limits.throttle_fault", full_V + 0.3,
             "a wire shorted to the supply must be a fault, not full torque")}};
}

/// Each rung against the last typed one before it, else the one before it.
void stand(Ladder& ladder) {
  double before = unknown;
  bool first = true, before_typed = false;
  for (Rung& rung : ladder.rungs) {
    const bool is_typed = !rung.typed_into.empty();
    const double ahead = (ladder.rising ? 1 : -1) * (rung.value - before);
    const double kept =
        is_typed ? std::max(ladder.margin, ladder.margin_share * std::fabs(before)) : 0;
    const double hair = 1e-9 * std::fabs(before);
    if (first) {
      rung.standing = std::isnan(rung.value) ? Standing::unknown : Standing::first;
    } else if (std::isnan(ahead)) {
      rung.standing = Standing::unknown;
    } else if (ahead < -hair || (is_typed && ahead <= hair && kept > 0)) {
      rung.standing = Standing::wrong;
    } else {
      rung.standing = ahead < kept - hair ? Standing::close : Standing::in_order;
    }
    first = false;
    if (!std::isnan(rung.value) && (is_typed || !before_typed)) {
      before = rung.value;
      before_typed = is_typed;
    }
  }
}

}  // namespace

std::string_view word(Standing standing) {
  constexpr std::array<std::string_view, 5> words{"acts first", "in order", "too close",
                                                  "WRONG ORDER", "not known"};
  return words[static_cast<std::size_t>(standing)];
}

bool Ladder::holds() const {
  return std::none_of(rungs.begin(), rungs.end(), [](const Rung& rung) {
    return rung.standing == Standing::wrong || rung.standing == Standing::close;
  });
}

std::vector<Ladder> ladders(const build::Build& build) {
  const Readings s(build);
  const Cells cells = cells_of(s);
  std::vector<Ladder> out{empty_side(s, cells), braking_side(s, cells), charging_side(s, cells),
                          battery_current(s),   phase_current(s),       braking_current(s),
                          throttle(s)};
  for (Ladder& ladder : out) stand(ladder);
  return out;
}

const std::vector<Single>& singles() {
  static const std::vector<Single> list{
      {controller, "limits.cold_battery_current",
       "cells give less in the cold: without it the voltage collapses while you overtake"},
      {controller, "limits.throttle_ramp",
       "too short and the wheel breaks loose, too long and it "
       "goes on pulling after you close"},
      {controller, "limits.throttle_exponent", "over 1 tames the first degrees of the grip"},
      {controller, "limits.speed_max", "tyres, papers, motor speed: the lowest of them"},
      {controller, "limits.regen_start_speed",
       "braking below walking speed costs energy and jerks"},
      {controller, "limits.field_weakening", "off until the back-EMF at road speed is looked at"}};
  return list;
}

}  // namespace ww::wiring
