// SPDX-License-Identifier: MIT
#include "model/ocv_tables.h"

#include <limits>

#include "base/check.h"

namespace ww::model {
namespace {

// Measured pseudo-OCV, ten breakpoints chosen by the authors.
constexpr OcvPoint nmc_nca_points[] = {
    {0, 2.5061},      {0.0151, 2.8981}, {0.0452, 3.1461}, {0.0955, 3.3231}, {0.1508, 3.4218},
    {0.2915, 3.5737}, {0.4573, 3.7017}, {0.8342, 4.0637}, {0.9497, 4.1009}, {1, 4.1932}};
constexpr OcvPoint lfp_points[] = {
    {0, 2.0102},      {0.0033, 2.4177}, {0.0117, 2.7405}, {0.0267, 2.9299}, {0.0534, 3.0872},
    {0.0885, 3.1942}, {0.2972, 3.2772}, {0.9833, 3.3511}, {0.9950, 3.4180}, {1, 3.5981}};

constexpr OcvPoint nmc111_points[] = {{0, 3.331},    {0.1, 3.4910}, {0.2, 3.5812}, {0.3, 3.6267},
                                      {0.4, 3.6552}, {0.5, 3.6974}, {0.6, 3.7747}, {0.7, 3.8688},
                                      {0.8, 3.9649}, {0.9, 4.0730}, {1, 4.162}};

// The paper's function (model/lco_cell.h) at seventeen places, closer where it bends.
constexpr OcvPoint lco_points[] = {
    {0, 2.65400},     {0.01, 2.96061}, {0.02, 3.17729}, {0.035, 3.38955}, {0.05, 3.51636},
    {0.075, 3.62596}, {0.1, 3.67457},  {0.15, 3.71036}, {0.2, 3.72503},   {0.3, 3.74769},
    {0.4, 3.77288},   {0.5, 3.80336},  {0.6, 3.84109},  {0.7, 3.88799},   {0.8, 3.94598},
    {0.9, 4.01697},   {1, 4.10290}};

// Estimate: NMC cathode less 1.56 V. Not measured.
constexpr OcvPoint lto_points[] = {{0, 1.7},    {0.1, 2.15}, {0.2, 2.20}, {0.3, 2.23},
                                   {0.4, 2.24}, {0.5, 2.27}, {0.6, 2.34}, {0.7, 2.41},
                                   {0.8, 2.50}, {0.9, 2.60}, {1, 2.69}};

// Common practice, no source: a straight line between the listed empty and full voltages.
constexpr OcvPoint sodium_points[] = {{0, 2.0}, {1, 3.95}};

OcvRamps<double> nothing() {
  constexpr double none = std::numeric_limits<double>::quiet_NaN();
  OcvRamps<double> r{.empty_V = none, .knot = {}, .slope_V = {}};
  r.slope_V.fill(none);
  return r;
}

}  // namespace

std::span<const OcvPoint> ocv_points(OcvCurve curve) {
  switch (curve) {
    case OcvCurve::nmc_nca:
      return nmc_nca_points;
    case OcvCurve::nmc111:
      return nmc111_points;
    case OcvCurve::lfp:
      return lfp_points;
    case OcvCurve::lco:
      return lco_points;
    case OcvCurve::lto:
      return lto_points;
    case OcvCurve::sodium:
      return sodium_points;
    case OcvCurve::none:
      break;
  }
  return {};
}

OcvRamps<double> ocv_ramps(std::span<const OcvPoint> points) {
  if (points.empty()) return nothing();
  WW_ASSERT(points.size() >= 2 && points.size() <= ocv_ramp_count + 1);
  WW_ASSERT(points.front().soc == 0 && points.back().soc == 1);
  OcvRamps<double> r{.empty_V = points.front().voltage_V, .knot = {}, .slope_V = {}};
  r.knot.fill(1);
  double before = 0;
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    const double width = points[i + 1].soc - points[i].soc;
    WW_ASSERT(width > 0);
    const double slope = (points[i + 1].voltage_V - points[i].voltage_V) / width;
    WW_ASSERT(slope > 0);
    r.knot[i] = points[i].soc;
    r.slope_V[i] = slope - before;
    before = slope;
  }
  return r;
}

OcvRamps<double> ocv_ramps(Chemistry chemistry) {
  return ocv_ramps(ocv_points(ocv_curve(chemistry)));
}

}  // namespace ww::model
