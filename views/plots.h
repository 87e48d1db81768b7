// SPDX-License-Identifier: MIT
// Charts of one build: each takes what is known of it and gives a chart, or says what is missing.
// Everything is computed in ride/ and model/; here it is only laid out.
#pragma once

#include <span>
#include <string_view>
#include <vector>

#include "draw/chart.h"
#include "fit/engine.h"
#include "plan/parts_list.h"
#include "ride/detail.h"

namespace ww::views {

/// What the charts are made from. The last three may be null: the detail is then computed where a
/// chart needs it, and the charts of findings, money and time say what has not been worked out.
struct Subject {
  const build::Build* build;  ///< as ridden: completed by a sketch where parts are missing
  const ride::Ride* ride;
  figure::System units = figure::System::metric;
  const ride::Detail* detail = nullptr;
  const std::vector<fit::Finding>* findings = nullptr;
  const plan::PartsList* list = nullptr;  ///< for money and time
};

draw::Chart thrust_chart(const Subject& subject);           // "thrust"
draw::Chart gearing_chart(const Subject& subject);          // "gearing"
draw::Chart motor_map_chart(const Subject& subject);        // "motor-map"
draw::Chart distance_chart(const Subject& subject);         // "distance"
draw::Chart sag_chart(const Subject& subject);              // "sag"
draw::Chart voltage_windows_chart(const Subject& subject);  // "voltages"
draw::Chart currents_chart(const Subject& subject);         // "currents"
draw::Chart part_by_part_chart(const Subject& subject);     // "parts"
draw::Chart acceleration_chart(const Subject& subject);     // "acceleration"
draw::Chart throttle_chart(const Subject& subject);         // "throttle"
draw::Chart hill_heat_chart(const Subject& subject);        // "hill-heat"
draw::Chart ageing_chart(const Subject& subject);           // "ageing"
draw::Chart money_chart(const Subject& subject);            // "money"
draw::Chart months_chart(const Subject& subject);           // "months"

/// A chart by its name.
struct ChartEntry {
  std::string_view key;    ///< "thrust"
  std::string_view label;  ///< "Thrust and what holds it down"
  draw::Chart (*make)(const Subject&);
  bool needs_ride, needs_findings;
};
/// All of them, in the order a report shows them.
std::span<const ChartEntry> chart_list();
/// Null where there is none.
const ChartEntry* find_chart(std::string_view key);

}  // namespace ww::views
