// SPDX-License-Identifier: MIT
#include <algorithm>
#include <string>
#include <vector>

#include "model/cell.h"
#include "model/lco_cell.h"
#include "model/ocv.h"
#include "model/ocv_tables.h"
#include "tests/values/registry.h"

namespace {

using namespace ww::model;
using namespace ww::values;

OcvRamps<double> curve_of(const Given& g) {
  const std::string& name = g.text("curve");
  if (name == "nmc_nca") return ocv_ramps(ocv_points(OcvCurve::nmc_nca));
  if (name == "nmc111") return ocv_ramps(ocv_points(OcvCurve::nmc111));
  if (name == "lfp") return ocv_ramps(ocv_points(OcvCurve::lfp));
  if (name == "lco") return ocv_ramps(ocv_points(OcvCurve::lco));
  if (name == "lto") return ocv_ramps(ocv_points(OcvCurve::lto));
  if (name == "sodium") return ocv_ramps(ocv_points(OcvCurve::sodium));
  throw std::runtime_error("no curve " + name);
}

/// "0:2.5,0.5:3.6,1:4.2"
std::vector<OcvPoint> points_of(const std::string& text) {
  std::vector<OcvPoint> points;
  std::size_t at = 0;
  while (at < text.size()) {
    const auto colon = text.find(':', at);
    const auto comma = std::min(text.find(',', colon), text.size());
    points.push_back({std::stod(text.substr(at, colon - at)),
                      std::stod(text.substr(colon + 1, comma - colon - 1))});
    at = comma + 1;
  }
  return points;
}

Chemistry chemistry_of(const std::string& name) {
  if (name == "lfp") return Chemistry::lfp;
  if (name == "nmc") return Chemistry::nmc;
  if (name == "nca") return Chemistry::nca;
  if (name == "lco") return Chemistry::lco;
  if (name == "lto") return Chemistry::lto;
  if (name == "sodium") return Chemistry::sodium;
  if (name == "lead") return Chemistry::lead;
  throw std::runtime_error("no chemistry " + name);
}

double limit_of(const CellLimits& limits, const std::string& name) {
  if (name == "full") return limits.full_V;
  if (name == "nominal") return limits.nominal_V;
  if (name == "empty") return limits.empty_V;
  if (name == "absolute_min") return limits.absolute_min_V;
  if (name == "charge_rate") return limits.charge_rate_per_h;
  if (name == "charge_stop_C") return limits.charge_stop_K - 273.15;
  if (name == "charge_full_C") return limits.charge_full_K - 273.15;
  throw std::runtime_error("no limit " + name);
}

const Topic curves("model/ocv.h",
                   {{"ocv_V", [](const Given& g) { return ocv_V(curve_of(g), g("soc")); }},
                    {"ocv_mean_V", [](const Given& g) { return ocv_mean_V(curve_of(g)); }},
                    {"ocv_mean_of_points_V", [](const Given& g) {
                       return ocv_mean_V(ocv_ramps(points_of(g.text("points"))));
                     }}});

const Topic lco("model/lco_cell.h",
                {{"lco_ocv_V", [](const Given& g) { return lco_ocv_V(g("soc")); }},
                 {"lco_ocv_mean_V", [](const Given& g) {
                    const int panels = static_cast<int>(g("simpson_panels"));
                    double sum = 0;
                    for (int i = 0; i < panels; ++i) {
                      const double a = static_cast<double>(i) / panels;
                      const double b = static_cast<double>(i + 1) / panels;
                      sum += (lco_ocv_V(a) + 4 * lco_ocv_V((a + b) / 2) + lco_ocv_V(b)) / 6;
                    }
                    return sum / panels;
                  }}});

const Topic limits("model/chemistry.h",
                   {{"cell_limit",
                     [](const Given& g) {
                       return limit_of(cell_limits(chemistry_of(g.text("chemistry"))),
                                       g.text("limit"));
                     }},
                    {"pack_limit_V", [](const Given& g) {
                       const PackLayout<double> layout{
                           .series = g("series"), .parallel = 1, .interconnect_ohm = 0};
                       const auto cell = cell_limits(chemistry_of(g.text("chemistry")));
                       return pack_voltage_V(layout, limit_of(cell, g.text("limit")));
                     }}});

}  // namespace
