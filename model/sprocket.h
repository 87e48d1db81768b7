// SPDX-License-Identifier: MIT
// Tooth geometry of roller-chain sprockets: ISO 606 and the tooth form of ASME B29.1.
// Invariants:
// 1. Lengths in m, angles in rad. Where a standard's rule holds in mm or inch only, the rule is
// scaled inside.
// 2. Teeth are a number of type R, except where odd and even counts differ: there they are an int.
// 3. Outside the stated domain every function gives NaN.
#pragma once

#include "base/num.h"
#include "model/constants.h"

namespace ww::model {

/// What the tooth form follows from. The roller is the chain's largest roller diameter.
template <class R>
struct Sprocket {
  R pitch_m;
  R roller_diameter_m;
  R teeth;
};

/// Half the angle between neighbouring teeth, 180 deg / z.
template <class R>
R half_pitch_angle_rad(R teeth) {
  return num<R>(pi) / teeth;
}

namespace detail {
template <class R>
R degrees(R angle_deg) {
  return num<R>(pi / 180) * angle_deg;
}
template <class R>
R cotangent_half_pitch(R teeth) {
  return num<R>(1) / tan(half_pitch_angle_rad(teeth));
}
}  // namespace detail

/// Diameter of the circle through the pin centres: d = p / sin(180/z).
/// Valid: pitch_m > 0, teeth >= 6; outside: NaN.
/// Source: ISO 606:2015 clause 5.3; ASME B29.1.
/// Checked by: values/sprocket.tsv.
template <class R>
R pitch_diameter_m(R pitch_m, R teeth) {
  return valid_where((pitch_m > num<R>(0)) & (teeth >= num<R>(6)),
                     pitch_m / sin(half_pitch_angle_rad(teeth)));
}

/// Root (bottom) diameter: df = d - d1.
/// Source: ISO 606:2015 clause 5.3.
/// Checked by: values/sprocket.tsv.
template <class R>
R root_diameter_m(const Sprocket<R>& s) {
  return pitch_diameter_m(s.pitch_m, s.teeth) - s.roller_diameter_m;
}

/// Largest tip diameter: da,max = d + 1.25 p - d1.
/// Source: ISO 606:2015 clause 5.3.
/// Checked by: values/sprocket.tsv.
template <class R>
R tip_diameter_max_m(const Sprocket<R>& s) {
  return root_diameter_m(s) + num<R>(1.25) * s.pitch_m;
}

/// Smallest tip diameter: da,min = d + p (1 - 1.6/z) - d1.
/// Source: ISO 606:2015 clause 5.3.
/// Checked by: values/sprocket.tsv.
template <class R>
R tip_diameter_min_m(const Sprocket<R>& s) {
  return root_diameter_m(s) + s.pitch_m * (num<R>(1) - num<R>(1.6) / s.teeth);
}

/// Roller seating radius of the minimum tooth form: ri,min = 0.505 d1.
/// Valid: roller_diameter_m > 0; outside: NaN.
/// Source: ISO 606:2015 clause 5.4.
/// Checked by: values/sprocket.tsv.
template <class R>
R seat_radius_min_m(R roller_diameter_m) {
  return valid_where(roller_diameter_m > num<R>(0), num<R>(0.505) * roller_diameter_m);
}

/// Roller seating radius of the maximum tooth form: ri,max = 0.505 d1 + 0.069 d1^(1/3), d1 in mm.
/// Valid: roller_diameter_m > 0; outside: NaN.
/// Source: ISO 606:2015 clause 5.4.
/// Checked by: values/sprocket.tsv.
template <class R>
R seat_radius_max_m(R roller_diameter_m) {
  const R roller_in_mm = roller_diameter_m / millimetre<R>();
  const R cube_root = pow(roller_in_mm, num<R>(1.0 / 3.0));
  return seat_radius_min_m(roller_diameter_m) + num<R>(0.069) * cube_root * millimetre<R>();
}

/// Roller seating angle of the minimum form, the larger one: 140 - 90/z deg.
/// Valid: teeth >= 6; outside: NaN.
/// Source: ISO 606:2015 clause 5.4.
/// Checked by: values/sprocket.tsv.
template <class R>
R seat_angle_min_form_rad(R teeth) {
  return valid_where(teeth >= num<R>(6), detail::degrees(num<R>(140) - num<R>(90) / teeth));
}

/// Roller seating angle of the maximum form, the smaller one: 120 - 90/z deg.
/// Valid: teeth >= 6; outside: NaN.
/// Source: ISO 606:2015 clause 5.4.
/// Checked by: values/sprocket.tsv.
template <class R>
R seat_angle_max_form_rad(R teeth) {
  return valid_where(teeth >= num<R>(6), detail::degrees(num<R>(120) - num<R>(90) / teeth));
}

/// Tooth flank radius of the minimum form: re = 0.12 d1 (z + 2). Never swap the two forms by size.
/// Source: ISO 606:2015 clause 5.4.
/// Checked by: values/sprocket.tsv.
template <class R>
R flank_radius_min_form_m(const Sprocket<R>& s) {
  return num<R>(0.12) * s.roller_diameter_m * (s.teeth + num<R>(2));
}

/// Tooth flank radius of the maximum form: re = 0.008 d1 (z^2 + 180).
/// Source: ISO 606:2015 clause 5.4.
/// Checked by: values/sprocket.tsv.
template <class R>
R flank_radius_max_form_m(const Sprocket<R>& s) {
  return num<R>(0.008) * s.roller_diameter_m * (square(s.teeth) + num<R>(180));
}

/// Largest tooth height above the pitch polygon: ha,max = 0.625 p - 0.5 d1 + 0.8 p/z.
/// Source: ISO 606:2015 clause 5.4, from memory.
/// Checked by: values/sprocket.tsv.
template <class R>
R tooth_height_max_m(const Sprocket<R>& s) {
  return num<R>(0.625) * s.pitch_m - num<R>(0.5) * s.roller_diameter_m +
         num<R>(0.8) * s.pitch_m / s.teeth;
}

/// Smallest tooth height above the pitch polygon: ha,min = 0.5 (p - d1).
/// Source: ISO 606:2015 clause 5.4, from memory.
/// Checked by: values/sprocket.tsv.
template <class R>
R tooth_height_min_m(const Sprocket<R>& s) {
  return num<R>(0.5) * (s.pitch_m - s.roller_diameter_m);
}

/// Tooth width of a single-strand sprocket: 0.93 b1 up to 12.7 mm pitch, 0.95 b1 above.
/// Valid: pitch_m > 0, inner_width_m > 0 (the chain's smallest); outside: NaN.
/// Source: ISO 606:2015 clause 5.6. The switch stands at 13 mm; no pitch lies in between.
/// Checked by: values/sprocket.tsv.
template <class R>
R tooth_width_iso_m(R pitch_m, R inner_width_m) {
  const R share = select(pitch_m < num<R>(13) * millimetre<R>(), num<R>(0.93), num<R>(0.95));
  return valid_where((pitch_m > num<R>(0)) & (inner_width_m > num<R>(0)), share * inner_width_m);
}

/// Tooth width of a single-strand sprocket in the inch series: 0.93 W - 0.006 in.
/// Valid: inner_width_m > 0.2 mm (nominal width W); outside: NaN.
/// Source: ASME B29.1, the formula fits the printed widths of four chains to 0.001 in.
/// Checked by: values/sprocket.tsv.
template <class R>
R tooth_width_asme_m(R inner_width_m) {
  return valid_where(inner_width_m > num<R>(0.2) * millimetre<R>(),
                     num<R>(0.93) * inner_width_m - num<R>(0.006) * inch<R>());
}

/// Distance between the centres of two rollers in the most opposite gaps: d, or d cos(90/z) where z
/// is odd.
/// Source: ISO 606:2015 clause 5.3 (measurement over pins); ASME B29.1 (caliper factor).
/// Checked by: values/sprocket.tsv.
template <class R>
R opposite_gap_distance_m(R pitch_m, int teeth) {
  const R z = num<R>(teeth);
  const R odd_share = cos(num<R>(0.5) * half_pitch_angle_rad(z));
  return pitch_diameter_m(pitch_m, z) * (teeth % 2 == 0 ? num<R>(1) : odd_share);
}

/// Measurement over two pins laid into opposite gaps; the pin is as thick as the roller.
/// Source: ISO 606:2015 clause 5.3, from memory.
/// Checked by: values/sprocket.tsv.
template <class R>
R over_pins_m(R pitch_m, R pin_diameter_m, int teeth) {
  return opposite_gap_distance_m(pitch_m, teeth) + pin_diameter_m;
}

/// Caliper diameter between opposite gap bottoms: what a caliper reads at the root.
/// Source: ASME B29.1.
/// Checked by: values/sprocket.tsv.
template <class R>
R caliper_diameter_m(R pitch_m, R roller_diameter_m, int teeth) {
  return opposite_gap_distance_m(pitch_m, teeth) - roller_diameter_m;
}

/// How far the caliper diameter of a precision sprocket may fall short: 0.001 P sqrt(N) + 0.003 in.
/// Valid: pitch_m > 0, teeth >= 6; outside: NaN. Commercial: twice this. Never above nominal.
/// Source: ASME B29.1, formula from memory; within 0.001 in of the printed table.
/// Checked by: values/sprocket.tsv.
template <class R>
R caliper_tolerance_m(R pitch_m, R teeth) {
  return valid_where((pitch_m > num<R>(0)) & (teeth >= num<R>(6)),
                     num<R>(0.001) * pitch_m * sqrt(teeth) + num<R>(0.003) * inch<R>());
}

/// Approximate turned outside diameter: P (0.6 + cot(180/N)).
/// Valid: pitch_m > 0, teeth >= 6; outside: NaN.
/// Source: ASME B29.1.
/// Checked by: values/sprocket.tsv.
template <class R>
R outside_diameter_m(R pitch_m, R teeth) {
  return valid_where((pitch_m > num<R>(0)) & (teeth >= num<R>(6)),
                     pitch_m * (num<R>(0.6) + detail::cotangent_half_pitch(teeth)));
}

/// Largest hub diameter that clears the plates, inch series: P (cot(180/N) - 1) - 0.030 in.
/// Valid: pitch_m > 0, teeth >= 6; outside: NaN.
/// Source: ASME B29.1, from memory.
/// Checked by: tests/model/mech_test.cpp (the hub stays inside the pitch polygon).
template <class R>
R hub_diameter_max_m(R pitch_m, R teeth) {
  return valid_where(
      (pitch_m > num<R>(0)) & (teeth >= num<R>(6)),
      pitch_m * (detail::cotangent_half_pitch(teeth) - num<R>(1)) - num<R>(0.030) * inch<R>());
}

/// Largest hub or shroud diameter that clears the plates: dg = p cot(180/z) - 1.04 h2 - 0.76 mm, h2
/// the plate height.
/// Valid: pitch_m > 0, teeth >= 6; outside: NaN.
/// Source: ISO 606:2015 clause 5.6, from memory.
/// Checked by: tests/model/mech_test.cpp (the shroud stays inside the pitch polygon).
template <class R>
R shroud_diameter_max_m(R pitch_m, R plate_height_m, R teeth) {
  return valid_where((pitch_m > num<R>(0)) & (teeth >= num<R>(6)),
                     pitch_m * detail::cotangent_half_pitch(teeth) - num<R>(1.04) * plate_height_m -
                         num<R>(0.76) * millimetre<R>());
}

/// How far the root diameter may fall short: 0.25 mm to 127 mm, 0.30 mm to 250 mm, h11 above (to
/// 500 mm).
/// Valid: 0 < root_diameter_m <= 0.5; outside: NaN. Never above nominal.
/// Source: ISO 606:2015 clause 5.3 and ISO 286-1, from memory.
/// Checked by: tests/model/mech_test.cpp.
template <class R>
R root_diameter_tolerance_m(R root_diameter_m) {
  const R df = root_diameter_m / millimetre<R>();
  const R h11 =
      select(df > num<R>(400), num<R>(0.40), select(df > num<R>(315), num<R>(0.36), num<R>(0.32)));
  const R small = select(df > num<R>(127), num<R>(0.30), num<R>(0.25));
  return valid_where((df > num<R>(0)) & (df <= num<R>(500)),
                     select(df > num<R>(250), h11, small) * millimetre<R>());
}

/// Largest radial run-out, total reading: 0.0008 df + 0.08 mm, at least 0.15, at most 0.76 mm.
/// Valid: root_diameter_m > 0; outside: NaN.
/// Source: ISO 606:2015 clause 5.5, from memory.
/// Checked by: tests/model/mech_test.cpp.
template <class R>
R run_out_radial_limit_m(R root_diameter_m) {
  const R limit = num<R>(0.0008) * root_diameter_m + num<R>(0.08) * millimetre<R>();
  return valid_where(root_diameter_m > num<R>(0),
                     clamp(limit, num<R>(0.15) * millimetre<R>(), num<R>(0.76) * millimetre<R>()));
}

/// Largest axial run-out, total reading: 0.0009 df + 0.08 mm, at most 1.14 mm.
/// Valid: root_diameter_m > 0; outside: NaN.
/// Source: ISO 606:2015 clause 5.5, from memory.
/// Checked by: tests/model/mech_test.cpp.
template <class R>
R run_out_axial_limit_m(R root_diameter_m) {
  const R limit = num<R>(0.0009) * root_diameter_m + num<R>(0.08) * millimetre<R>();
  return valid_where(root_diameter_m > num<R>(0), min(limit, num<R>(1.14) * millimetre<R>()));
}

/// The construction figures of one ASME tooth, by the letters of the standard's drawing.
template <class R>
struct AsmeTooth {
  R ds_m, r_m;        ///< seating curve diameter and radius
  R a_rad, b_rad;     ///< angles of the seating and the working curve
  R ac_m, m_m, t_m;   ///< centre of the working curve: distance and its two components
  R e_m, xy_m, yz_m;  ///< working curve radius and chord, straight part
  R ab_m, w_m, v_m;   ///< centre of the topping curve: distance and its two components
  R f_m, h_m, s_m;    ///< topping curve radius, height and height of the pointed tooth
};

/// The tooth form of ASME B29.1 for the space between two teeth.
/// Valid: pitch_m > 0, 0 < roller_diameter_m < pitch_m, teeth >= 6; outside: NaN in the lengths.
/// Source: ASME B29.1, letters as in its drawing; the printed example has N = 28.
/// Checked by: values/sprocket.tsv, every letter.
template <class R>
AsmeTooth<R> asme_tooth(const Sprocket<R>& s) {
  const R P = s.pitch_m, N = s.teeth, in = inch<R>();
  const R Dr =
      valid_where((s.roller_diameter_m > num<R>(0)) & (s.roller_diameter_m < P) & (N >= num<R>(6)),
                  s.roller_diameter_m);
  const R A = detail::degrees(num<R>(35) + num<R>(60) / N);
  const R B = detail::degrees(num<R>(18) - num<R>(56) / N);
  const R C = detail::degrees(num<R>(17) - num<R>(64) / N);  // yz against the line ac
  const R half = half_pitch_angle_rad(N);
  const R Ds = num<R>(1.005) * Dr + num<R>(0.003) * in;
  const R ac = num<R>(0.8) * Dr, ab = num<R>(1.4) * Dr;
  const R E = num<R>(1.3025) * Dr + num<R>(0.0015) * in;
  const R F = ac * cos(B) + ab * cos(C) - E;
  const R H = sqrt(square(F) - square(ab - num<R>(0.5) * P));
  return {.ds_m = Ds,
          .r_m = num<R>(0.5) * Ds,
          .a_rad = A,
          .b_rad = B,
          .ac_m = ac,
          .m_m = ac * cos(A),
          .t_m = ac * sin(A),
          .e_m = E,
          .xy_m = num<R>(2) * E * sin(num<R>(0.5) * B),
          .yz_m = ab * sin(C) - ac * sin(B),
          .ab_m = ab,
          .w_m = ab * cos(half),
          .v_m = ab * sin(half),
          .f_m = F,
          .h_m = H,
          .s_m = num<R>(0.5) * P * cos(half) + H * sin(half)};
}

/// Outside diameter of a tooth run to a point: P cot(180/N) + 2 H.
/// Source: ASME B29.1, from memory.
/// Checked by: tests/model/mech_test.cpp (its half, seen from the roller, is s).
template <class R>
R outside_diameter_pointed_m(const Sprocket<R>& s) {
  return s.pitch_m * detail::cotangent_half_pitch(s.teeth) + num<R>(2) * asme_tooth(s).h_m;
}

}  // namespace ww::model
