// SPDX-License-Identifier: MIT
// The list of charts and what they share.
#include "views/plots.h"

#include <array>

#include "build/fields.h"
#include "views/plot_parts.h"

namespace ww::views {

namespace {

constexpr std::array<ChartEntry, 14> entries{{
    {"thrust", "thrust, and what holds it down at each speed", &thrust_chart, true, false},
    {"acceleration", "speed over time at full throttle", &acceleration_chart, true, false},
    {"gearing", "thrust with more and fewer teeth", &gearing_chart, true, false},
    {"motor-map", "efficiency of motor and controller", &motor_map_chart, true, false},
    {"throttle", "thrust over the throttle's turn", &throttle_chart, true, false},
    {"distance", "how far a charge goes at a steady speed", &distance_chart, true, false},
    {"sag", "pack voltage under load, warm and cold", &sag_chart, true, false},
    {"voltages", "the pack's voltage against every device's span", &voltage_windows_chart, false,
     false},
    {"currents", "currents and how long each part stands them", &currents_chart, false, false},
    {"hill-heat", "temperatures on a long hill", &hill_heat_chart, true, false},
    {"ageing", "capacity over the years", &ageing_chart, true, false},
    {"parts", "which part fits which", &part_by_part_chart, false, true},
    {"money", "what the money in all may come to", &money_chart, false, false},
    {"months", "how long it may take", &months_chart, false, false},
}};

}  // namespace

std::span<const ChartEntry> chart_list() {
  return entries;
}

const ChartEntry* find_chart(std::string_view key) {
  for (const ChartEntry& entry : entries) {
    if (entry.key == key) return &entry;
  }
  return nullptr;
}

std::string degrees_by_hand(std::string text) {
  for (std::size_t at; (at = text.find("deg")) != std::string::npos;)
    text.replace(at, 3, "\xC2\xB0");
  return text;
}

AxisUnit axis_unit(figure::Kind kind, figure::System units, double typical) {
  const std::string_view name = figure::unit_shown(kind, units, typical);
  for (const figure::Unit& unit : figure::unit_table()) {
    if (unit.kind == kind && unit.spelling == name)
      return {degrees_by_hand(std::string(name)), unit.factor, unit.offset};
  }
  return {std::string(name), 1, 0};
}

std::string what_is_missing(const Subject& subject) {
  std::string out;
  const auto add = [&](std::string_view what) {
    out += out.empty() ? "" : ", ";
    out += what;
  };
  for (const std::string& part : subject.ride->parts_missing)
    add(build::schema().slot(part)->label);
  for (const build::Id id : subject.ride->missing) {
    const auto& entry = build::schema()[id];
    add(std::string(entry.slot->label) + ": " + std::string(entry.info->label));
  }
  if (out.empty()) return "Not computed yet.";
  return "Cannot be drawn before these are known: " + out + ".";
}

double at(const build::Build& build, std::string_view path) {
  return build::number_at(build, build::id_of(path));
}

draw::Chart chart_of_ride(const Subject& subject, std::string key, std::string title) {
  draw::Chart chart{.key = std::move(key), .title = std::move(title), .says = {}, .missing = {}};
  if (!subject.ride->possible) chart.missing = what_is_missing(subject);
  return chart;
}

}  // namespace ww::views
