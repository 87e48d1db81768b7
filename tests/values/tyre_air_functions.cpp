// SPDX-License-Identifier: MIT
#include "model/air.h"
#include "model/tyre.h"

#include "tests/values/registry.h"

namespace {

using namespace ww;
using namespace ww::model;
using namespace ww::values;

double diameter(const Given& g) {
  return tyre_diameter_m(TyreSize<double>{
      .width_m = g("width_m"), .aspect = g("aspect"), .rim_m = g("rim_code") * 25.4e-3});
}

const Topic tyres(
    "model/tyre.h",
    {
        {"tyre_diameter_m", diameter},
        {"tyre_radius_m", [](const Given& g) { return diameter(g) / 2; }},
        {"tyre_circumference_m", [](const Given& g) { return tyre_circumference_m(diameter(g)); }},
        {"rolling_radius_m",
         [](const Given& g) { return rolling_radius_m(diameter(g), g("circumference_factor")); }},
        {"rolling_over_free_radius",
         [](const Given& g) { return 2 * rolling_radius_m(1.0, g("circumference_factor")); }},
        {"rolling_radius_measured_m",
         [](const Given& g) { return rolling_radius_measured_m(g("distance_m"), g("turns")); }},
        {"load_index_kg",
         [](const Given& g) { return load_index_kg(static_cast<int>(g("index"))); }},
        {"speed_symbol_kmh",
         [](const Given& g) { return speed_symbol_mps(g.text("symbol").at(0)) * 3.6; }},
    });

const Topic air("model/air.h",
                {
                    {"standard_temperature_K",
                     [](const Given& g) { return standard_temperature_K(g("altitude_m")); }},
                    {"standard_pressure_Pa",
                     [](const Given& g) { return standard_pressure_Pa(g("altitude_m")); }},
                    {"standard_density_kgpm3",
                     [](const Given& g) { return standard_density_kgpm3(g("altitude_m")); }},
                    {"air_density_kgpm3",
                     [](const Given& g) {
                       return air_density_kgpm3(Air<double>{.pressure_Pa = g("pressure_Pa"),
                                                            .temperature_K = g("celsius") + 273.15,
                                                            .humidity = g("humidity")});
                     }},
                });

}  // namespace
