// SPDX-License-Identifier: MIT
// Rows of sprocket.tsv. Names ending in _in take and give inches, as the ASME tables print them.
#include "model/sprocket.h"

#include "tests/values/registry.h"

namespace {

using namespace ww;
using namespace ww::model;
using namespace ww::values;

constexpr double in = 25.4e-3;
constexpr double degree = pi / 180;

Sprocket<double> sprocket(const Given& g) {
  return {.pitch_m = g("pitch_m"), .roller_diameter_m = g("roller_m"), .teeth = g("teeth")};
}
Sprocket<double> sprocket_in(const Given& g) {
  return {
      .pitch_m = g("pitch_in") * in, .roller_diameter_m = g("roller_in") * in, .teeth = g("teeth")};
}

using Letter = double AsmeTooth<double>::*;
Function asme_length(Letter letter) {
  return [letter](const Given& g) { return asme_tooth(sprocket_in(g)).*letter / in; };
}
Function asme_angle(Letter letter) {
  return [letter](const Given& g) { return asme_tooth(sprocket_in(g)).*letter / degree; };
}
int teeth(const Given& g) {
  return static_cast<int>(g("teeth"));
}

const Topic topic(
    "model/sprocket.h",
    {
        {"pitch_diameter_m",
         [](const Given& g) { return pitch_diameter_m(g("pitch_m"), g("teeth")); }},
        {"outside_diameter_m",
         [](const Given& g) { return outside_diameter_m(g("pitch_m"), g("teeth")); }},
        {"opposite_gap_distance_m",
         [](const Given& g) { return opposite_gap_distance_m(g("pitch_m"), teeth(g)); }},
        {"root_diameter_m", [](const Given& g) { return root_diameter_m(sprocket(g)); }},
        {"tip_diameter_max_m", [](const Given& g) { return tip_diameter_max_m(sprocket(g)); }},
        {"tip_diameter_min_m", [](const Given& g) { return tip_diameter_min_m(sprocket(g)); }},
        {"seat_radius_min_m", [](const Given& g) { return seat_radius_min_m(g("roller_m")); }},
        {"seat_radius_max_m", [](const Given& g) { return seat_radius_max_m(g("roller_m")); }},
        {"seat_angle_min_form_deg",
         [](const Given& g) { return seat_angle_min_form_rad(g("teeth")) / degree; }},
        {"seat_angle_max_form_deg",
         [](const Given& g) { return seat_angle_max_form_rad(g("teeth")) / degree; }},
        {"flank_radius_min_form_m",
         [](const Given& g) { return flank_radius_min_form_m(sprocket(g)); }},
        {"flank_radius_max_form_m",
         [](const Given& g) { return flank_radius_max_form_m(sprocket(g)); }},
        {"tooth_height_max_m", [](const Given& g) { return tooth_height_max_m(sprocket(g)); }},
        {"tooth_height_min_m", [](const Given& g) { return tooth_height_min_m(sprocket(g)); }},
        {"over_pins_m",
         [](const Given& g) { return over_pins_m(g("pitch_m"), g("pin_m"), teeth(g)); }},
        {"tooth_width_iso_m",
         [](const Given& g) { return tooth_width_iso_m(g("pitch_m"), g("inner_width_m")); }},
        {"tooth_width_asme_in",
         [](const Given& g) { return tooth_width_asme_m(g("inner_width_in") * in) / in; }},
        {"caliper_diameter_in",
         [](const Given& g) {
           return caliper_diameter_m(g("pitch_in") * in, g("roller_in") * in, teeth(g)) / in;
         }},
        {"caliper_tolerance_in",
         [](const Given& g) { return caliper_tolerance_m(g("pitch_in") * in, g("teeth")) / in; }},
        {"pitch_diameter_in",
         [](const Given& g) { return pitch_diameter_m(g("pitch_in") * in, g("teeth")) / in; }},
        {"outside_diameter_in",
         [](const Given& g) { return outside_diameter_m(g("pitch_in") * in, g("teeth")) / in; }},
        {"root_diameter_in", [](const Given& g) { return root_diameter_m(sprocket_in(g)) / in; }},
        {"asme_ds_in", asme_length(&AsmeTooth<double>::ds_m)},
        {"asme_r_in", asme_length(&AsmeTooth<double>::r_m)},
        {"asme_a_deg", asme_angle(&AsmeTooth<double>::a_rad)},
        {"asme_b_deg", asme_angle(&AsmeTooth<double>::b_rad)},
        {"asme_ac_in", asme_length(&AsmeTooth<double>::ac_m)},
        {"asme_m_in", asme_length(&AsmeTooth<double>::m_m)},
        {"asme_t_in", asme_length(&AsmeTooth<double>::t_m)},
        {"asme_e_in", asme_length(&AsmeTooth<double>::e_m)},
        {"asme_xy_in", asme_length(&AsmeTooth<double>::xy_m)},
        {"asme_yz_in", asme_length(&AsmeTooth<double>::yz_m)},
        {"asme_ab_in", asme_length(&AsmeTooth<double>::ab_m)},
        {"asme_w_in", asme_length(&AsmeTooth<double>::w_m)},
        {"asme_v_in", asme_length(&AsmeTooth<double>::v_m)},
        {"asme_f_in", asme_length(&AsmeTooth<double>::f_m)},
        {"asme_h_in", asme_length(&AsmeTooth<double>::h_m)},
        {"asme_s_in", asme_length(&AsmeTooth<double>::s_m)},
    });

}  // namespace
