// SPDX-License-Identifier: MIT
// Charts of the electric side: sag, voltage spans, currents over time.
#include <algorithm>
#include <cmath>

#include "build/fields.h"
#include "model/fuse.h"
#include "ride/curves.h"
#include "views/plot_parts.h"

namespace ww::views {

namespace {

using draw::Across;
using draw::Bar;
using draw::Chart;
using draw::Curve;
using draw::Dash;
using draw::Ink;
using draw::Plot;
using draw::Sign;
using figure::Kind;

constexpr double gap = std::numeric_limits<double>::quiet_NaN();

double fact(const Subject& s, const char* id) {
  return fit::fact_value(*s.build, *s.ride, id).value;
}

std::string volts(double value) {
  return figure::print(value, Kind::voltage);
}
std::string amps(double value) {
  return figure::print(value, Kind::current);
}

}  // namespace

Chart sag_chart(const Subject& s) {
  Chart chart = chart_of_ride(s, "sag", "Pack voltage under load");
  chart.x = {.label = "battery current", .unit = "A", .range = {}, .from_zero = true};
  chart.y = {.label = "voltage at the pack's terminals", .unit = "V"};
  if (!chart.missing.empty()) return chart;
  const auto sag = ride::sag_curve(*s.build, 25);
  const auto degrees = [&](double kelvin) {
    return degrees_by_hand(figure::print(kelvin, Kind::temperature, s.units));
  };
  const std::string warm = degrees(sag.usual_K), cold = degrees(sag.coldest_K);
  Plot plot;
  plot.curves = {
      {.label = warm + ", half charge", .points = {}, .ink = Ink::accent, .width = 2.2},
      {.label = warm + ", 10 % left", .points = {}, .ink = Ink::accent, .dash = Dash::dashed},
      {.label = cold + ", half charge", .points = {}, .ink = Ink::tone_1, .width = 2.2, .band = {}},
      {.label = cold + ", 10 % left", .points = {}, .ink = Ink::tone_1, .dash = Dash::dashed}};
  for (const auto& p : sag.points) {
    const double v[] = {p.warm_half_V, p.warm_low_V, p.cold_half_V, p.cold_low_V};
    for (std::size_t k = 0; k < 4; ++k) plot.curves[k].points.push_back({p.current_A, v[k]});
  }
  // What lies far below every curve would only squeeze them.
  const double least = std::min(sag.points.back().cold_low_V, sag.cut_V);
  const double lowest_shown = least - 0.25 * (sag.points.front().warm_half_V - least);
  const auto line = [&](double at_V, const char* words, Dash dash) {
    if (at_V >= lowest_shown) plot.references.push_back({Across::y, at_V, words, dash});
  };
  line(sag.cut_V, "starts to reduce", Dash::dashed);
  line(at(s, "limits.hard_cut"), "stops", Dash::dotted);
  if (at(s, "controller.voltage_min") != sag.cut_V)
    line(at(s, "controller.voltage_min"), "controller's lowest", Dash::dash_dot);
  line(at(s, "limits.bms_cell_min") * fact(s, "cells_in_series"), "cell monitor opens",
       Dash::long_dash);
  plot.references.push_back({Across::x, sag.current_max_A, "battery limit", Dash::dashed});
  const auto& last = sag.points.back();
  const double share = sag.current_max_A / last.current_A;
  const auto& first = sag.points.front();
  const double worst = first.cold_low_V + share * (last.cold_low_V - first.cold_low_V);
  chart.says =
      "At " + amps(sag.current_max_A) + " on the coldest day with 10 % left: " + volts(worst) +
      (worst < sag.cut_V ? ", below the cut of " : ", above the cut of ") + volts(sag.cut_V) + ".";
  chart.notes.emplace_back(
      "After the current has flowed for a while; a short pull sags less. The weakest group sags "
      "more than the mean shown here.");
  chart.body = std::move(plot);
  return chart;
}

namespace {

class Spans {
 public:
  explicit Spans(const Subject& s) : s_(s) {}

  /// A device from its lowest to its highest voltage; one without a lowest starts at nothing.
  void device(std::string_view slot, std::string label, std::string_view low, std::string_view high,
              bool from_nothing, std::vector<draw::Notch> notches = {}) {
    if (!build::slot_present(*s_.build, *build::schema().slot(slot))) return;
    const double from = from_nothing ? 0 : at(s_, low), to = at(s_, high);
    notches.erase(std::remove_if(notches.begin(), notches.end(),
                                 [](const draw::Notch& n) { return !std::isfinite(n.at); }),
                  notches.end());
    std::vector<draw::Key> keys{{"part", std::string(slot)}, {"field", std::string(high)}};
    bars_.push_back({.label = std::move(label),
                     .from = from,
                     .to = to,
                     .notches = std::move(notches),
                     .ink = Ink::tone_1,
                     .assumed = false,
                     .tag = {.name = {}, .keys = std::move(keys), .title = {}}});
  }
  /// A setting or a single value.
  void settings(std::string label, std::vector<draw::Notch> notches) {
    notches.erase(std::remove_if(notches.begin(), notches.end(),
                                 [](const draw::Notch& n) { return !std::isfinite(n.at); }),
                  notches.end());
    if (notches.empty()) return;
    const auto [low, high] = std::minmax_element(
        notches.begin(), notches.end(), [](const auto& a, const auto& b) { return a.at < b.at; });
    bars_.push_back({.label = std::move(label),
                     .from = low->at,
                     .to = high->at,
                     .notches = notches,
                     .ink = Ink::tone_3,
                     .tag = {.name = {}, .keys = {{"part", "limits"}}, .title = {}}});
  }
  std::vector<Bar>& bars() { return bars_; }

 private:
  const Subject& s_;
  std::vector<Bar> bars_;
};

}  // namespace

Chart voltage_windows_chart(const Subject& s) {
  Chart chart{
      .key = "voltages", .title = "Pack voltage against every device", .says = {}, .missing = {}};
  chart.x = {.label = "voltage", .unit = "V", .range = {}, .from_zero = true};
  const double empty = fact(s, "pack_voltage_empty"), full = fact(s, "pack_voltage_full");
  const double cells = fact(s, "cells_in_series");
  Spans spans(s);
  const bool pack = std::isfinite(empty) && std::isfinite(full);
  if (pack)
    spans.bars().push_back({.label = "pack, empty to full",
                            .from = empty,
                            .to = full,
                            .notches = {{fact(s, "pack_voltage_nominal"), "nominal"}},
                            .ink = Ink::accent,
                            .tag = {.name = {}, .keys = {{"part", "pack"}}, .title = {}}});
  spans.device("controller", "controller works", "controller.voltage_min", "controller.voltage_max",
               false, {{at(s, "controller.voltage_absolute"), "destroyed"}});
  spans.settings("controller is set to", {{at(s, "limits.hard_cut"), "stops"},
                                          {at(s, "limits.soft_cut"), "reduces"},
                                          {at(s, "limits.regen_voltage_max"), "braking fades"}});
  spans.settings("cell monitor is set to", {{at(s, "limits.bms_cell_min") * cells, "opens below"},
                                            {at(s, "limits.bms_cell_max") * cells, "opens above"}});
  const double end = at(s, "limits.charge_voltage") > 0 ? at(s, "limits.charge_voltage")
                                                        : at(s, "charger.voltage");
  spans.settings("charger ends at", {{end, "end of charge"}});
  spans.device("dcdc", "12 V converter takes", "dcdc.voltage_in_min", "dcdc.voltage_in_max", false);
  spans.device("display", "display takes", "display.supply_min", "display.supply_max", false);
  spans.device("motor", "motor, up to", "", "motor.voltage_max", true);
  spans.device("bms", "monitor's switches, up to", "", "bms.voltage_max", true);
  spans.device("contactor", "contactor breaks up to", "", "contactor.voltage_max", true);
  spans.device("precharge", "pre-charge relay, up to", "", "precharge.relay_voltage", true);
  spans.device("fuse", "fuse, DC, up to", "", "fuse.voltage_dc", true);
  spans.device("disconnect", "disconnect, up to", "", "disconnect.voltage", true);
  if (spans.bars().empty()) {
    chart.missing = "No part with a voltage is on the sheet yet.";
    return chart;
  }
  draw::Bars body{.bars = std::move(spans.bars())};
  if (pack) {
    body.references.push_back({Across::x, empty, "empty " + volts(empty), Dash::dotted});
    body.references.push_back({Across::x, full, "full " + volts(full), Dash::dashed});
    // A fuse of 500 V beside a pack of 80 V: the scale is the pack's, what reaches farther runs
    // off.
    chart.x.range = draw::Range{0, 1.6 * full};
    for (Bar& bar : body.bars) {
      if (bar.to > 1.6 * full) bar.notches.clear();
    }
    chart.says = "The pack runs from " + volts(empty) + " to " + volts(full) +
                 "; a device's bar must reach across what it meets.";
  } else {
    chart.says = "The pack's own span is not known yet: cells in series, full and empty voltage.";
  }
  if (full > 60)
    chart.notes.emplace_back(
        "Above 60 V a touch can kill. Bars that start at zero show the most a device stands; "
        "a DC rating is meant.");
  else
    chart.notes.emplace_back(
        "Bars that start at zero show the most a device stands; a DC rating is meant. Even below "
        "60 V a short circuit burns.");
  chart.body = std::move(body);
  return chart;
}

namespace {

constexpr double shortest_s = 0.01, longest_s = 3600;

/// A part that stands one current for a short time and another for ever.
Curve two_levels(const char* label, double brief_A, double brief_s, double lasting_A, Ink ink,
                 Dash dash) {
  Curve curve{.label = label, .points = {}, .ink = ink, .dash = dash};
  const bool brief = brief_A > lasting_A && brief_s > shortest_s;
  if (brief) {
    const double t = std::min(brief_s, longest_s);
    curve.points = {{brief_A, shortest_s}, {brief_A, t}};
    if (lasting_A > 0)
      curve.points.insert(curve.points.end(), {{lasting_A, t}, {lasting_A, longest_s}});
  } else if (lasting_A > 0) {
    curve.points = {{lasting_A, shortest_s}, {lasting_A, longest_s}};
  }
  return curve;
}

Curve fuse_curve(const Subject& s) {
  Curve curve{.label = "fuse melts", .points = {}, .ink = Ink::accent, .width = 2.2};
  const double rating = at(s, "fuse.current");
  std::vector<model::FusePoint<double>> points;
  for (const auto& [times, field] : {std::pair{2.0, "fuse.melt_time_2x"},
                                     {3.0, "fuse.melt_time_3x"},
                                     {5.0, "fuse.melt_time_5x"},
                                     {10.0, "fuse.melt_time_10x"}}) {
    const double time = at(s, field);
    if (rating > 0 && time > 0 && (points.empty() || time < points.back().time_s))
      points.push_back({times * rating, time});
  }
  if (points.size() < 2) return curve;
  for (int i = 0; i <= 40; ++i) {
    const double current =
        points.front().current_A * std::pow(20 * rating / points.front().current_A, i / 40.0);
    const double time = model::fuse_melting_time_s<double>(points, current);
    if (std::isfinite(time)) curve.points.push_back({current, time});
  }
  return curve;
}

/// For a short time the copper stores the heat; in the long run it sheds it.
Curve cable_curve(const Subject& s) {
  Curve curve{.label = "battery cable", .points = {}, .ink = Ink::tone_5, .dash = Dash::long_dash};
  const double lasting = fact(s, "main_cable_current_alone"),
               withstand = fact(s, "main_cable_withstand");
  if (!(withstand > 0)) return curve;
  for (int i = 0; i <= 20; ++i) {
    const double time = shortest_s * std::pow(5 / shortest_s, i / 20.0);
    curve.points.push_back({std::sqrt(withstand / time), time});
  }
  std::sort(curve.points.begin(), curve.points.end(),
            [](const auto& a, const auto& b) { return a.y < b.y; });
  if (lasting > 0)
    curve.points.insert(curve.points.end(), {{gap, gap}, {lasting, 60}, {lasting, longest_s}});
  return curve;
}

}  // namespace

Chart currents_chart(const Subject& s) {
  Chart chart{.key = "currents",
              .title = "Battery currents, and how long each part stands them",
              .says = {},
              .missing = {}};
  chart.x = {.label = "current", .unit = "A", .scale = draw::Scale::log};
  chart.y = {.label = "for so long",
             .unit = "s",
             .scale = draw::Scale::log,
             .range = draw::Range{shortest_s, longest_s}};
  const build::Build& b = *s.build;
  const double parallel = at(s, "pack.parallel");
  Plot plot;
  const auto add = [&](Curve curve) {
    if (!curve.points.empty()) plot.curves.push_back(std::move(curve));
  };
  add(two_levels("cells", at(s, "cell.current_pulse") * parallel, at(s, "cell.pulse_time"),
                 at(s, "cell.current_continuous") * parallel, Ink::tone_3, Dash::dashed));
  // A monitor that opens at its trip current after its delay stands no more than that for longer.
  const double delay = b.bms ? b.bms->trip_delay.or_else(1) : gap;
  const double trip =
      at(s, "limits.bms_trip") > 0 ? at(s, "limits.bms_trip") : at(s, "bms.current_trip");
  if (trip > 0)
    add({.label = "cell monitor trips",
         .points = {{trip, longest_s}, {trip, delay}, {20 * trip, delay}},
         .ink = Ink::tone_2,
         .dash = Dash::dash_dot});
  add(two_levels("controller", at(s, "controller.current_battery"), at(s, "controller.burst_time"),
                 at(s, "controller.current_battery_continuous"), Ink::tone_1, Dash::dotted));
  add(two_levels("contactor carries", gap, gap,
                 fact(s, "contactor_carry_cabled") > 0 ? fact(s, "contactor_carry_cabled")
                                                       : at(s, "contactor.current_carry"),
                 Ink::tone_4, Dash::long_dash));
  add(cable_curve(s));
  add(fuse_curve(s));
  const double peak = fact(s, "battery_current_peak");
  const double rms = s.ride->possible ? s.ride->nominal[ride::Answer::current_rms] : gap;
  if (plot.curves.empty()) {
    chart.missing = "No part says yet how much battery current it stands for how long.";
    return chart;
  }
  if (peak > 0) plot.markers.push_back({{peak, 10}, "most asked, " + amps(peak), Sign::dot, {}});
  if (rms > 0) plot.markers.push_back({{rms, 1800}, "town, rms " + amps(rms), Sign::ring, {}});
  double low = 1e9, high = 0;
  for (const Curve& curve : plot.curves) {
    for (const auto& p : curve.points) {
      if (!(p.x > 0)) continue;
      low = std::min(low, p.x);
      high = std::max(high, p.x);
    }
  }
  for (const auto& m : plot.markers) {
    low = std::min(low, m.at.x);
    high = std::max(high, m.at.x);
  }
  // The cable's five seconds belong on the chart.
  const double withstand = fact(s, "main_cable_withstand");
  const double cable_5s = withstand > 0 ? std::sqrt(withstand / 5) : 0;
  const double bound = peak > 0 ? std::max(15 * peak, 1.3 * cable_5s) : high;
  chart.x.range = draw::Range{0.7 * low, std::max(std::min(high * 1.2, bound), 2 * low)};
  chart.says =
      peak > 0
          ? "What is asked must lie left of every part's line; the fuse's line left of the cable's."
          : "The largest battery current is not known yet: controller or setting.";
  chart.notes.emplace_back(
      "Cable below 5 s: heat stored in the copper; above a minute: heat shed, alone in free air. A "
      "melting "
      "curve is a mean, 10 % either way. Largest current drawn at 10 s, town riding at half an "
      "hour.");
  chart.body = std::move(plot);
  return chart;
}

}  // namespace ww::views
