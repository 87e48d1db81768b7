// SPDX-License-Identifier: MIT
// Roller-chain drives: which chain runs on which sprocket, length and centre distance, wrap,
// tension, the polygon effect, rating formulas, the path over the swingarm's travel, and the loss
// in the chain. Invariants:
// 1. "front" is the driving sprocket on the motor shaft, "rear" the one on the wheel. Either may be
// the larger.
// 2. Tension and torque are positive when they drive the bike forward, negative in regeneration.
// 3. Axes as everywhere: x forward, z up, origin at the swingarm pivot.
#pragma once

#include "base/num.h"
#include "model/constants.h"
#include "model/sprocket.h"

namespace ww::model {

// --- Which chain runs on which sprocket --------------------------------------------------------

/// A chain's inner link: the largest roller, the smallest width between inner plates.
template <class R>
struct ChainSize {
  R pitch_m;
  R roller_diameter_m;
  R inner_width_m;
};

/// A sprocket's tooth as made: the roller it is cut for, the width at the tooth.
template <class R>
struct ToothSize {
  R pitch_m;
  R roller_diameter_m;
  R tooth_width_m;
};

/// How much room each of the four tests leaves: negative is a clash.
template <class R>
struct ChainOnTooth {
  R pitch_room_m;   ///< 0.1 mm less the difference of the pitches
  R seat_room_m;    ///< largest seat, 2 ri,max, less the chain's roller
  R roller_room_m;  ///< 0.1 mm less what the roller is smaller than the seat's own roller
  R width_room_m;   ///< 0.95 of the inner width less the tooth width: what need not be faced off
};

/// The four margins of a chain on a tooth.
/// Valid: all sizes > 0; outside: NaN.
/// Ignores wear, tooth chamfer and the outer plates' room beside the hub.
/// Source: ISO 606:2015 clauses 5.4, 5.6; the 0.1 mm limits are common practice, no source.
/// Checked by: values/chain.tsv, the pairs of motorcycle chain and industrial sprocket.
template <class R>
ChainOnTooth<R> chain_on_tooth(const ChainSize<R>& c, const ToothSize<R>& t) {
  const R limit = num<R>(0.1) * millimetre<R>();
  const auto sizes = (c.pitch_m > num<R>(0)) & (t.pitch_m > num<R>(0)) &
                     (c.inner_width_m > num<R>(0)) & (t.tooth_width_m > num<R>(0));
  return {.pitch_room_m = valid_where(sizes, limit - abs(c.pitch_m - t.pitch_m)),
          .seat_room_m = num<R>(2) * seat_radius_max_m(t.roller_diameter_m) - c.roller_diameter_m,
          .roller_room_m = limit - (t.roller_diameter_m - c.roller_diameter_m),
          .width_room_m = valid_where(sizes, num<R>(0.95) * c.inner_width_m - t.tooth_width_m)};
}

/// Whether all four tests pass. A micrometre of rounding in a width or roller is forgiven.
/// Source: as chain_on_tooth.
/// Checked by: values/chain.tsv.
template <class R>
mask_of<R> chain_runs_on(const ChainSize<R>& c, const ToothSize<R>& t) {
  const ChainOnTooth<R> room = chain_on_tooth(c, t);
  const R rounding = num<R>(-0.001) * millimetre<R>();
  return (room.pitch_room_m >= num<R>(0)) & (room.seat_room_m >= rounding) &
         (room.roller_room_m >= rounding) & (room.width_room_m >= rounding);
}

// --- Length, centre distance, wrap -------------------------------------------------------------

template <class R>
struct ChainTeeth {
  R pitch_m;
  R front;
  R rear;
};

namespace detail {
/// ((z2 - z1) / 2 pi)^2.
template <class R>
R teeth_difference_term(const ChainTeeth<R>& z) {
  return square((z.rear - z.front) * num<R>(0.5 / pi));
}
}  // namespace detail

/// Speed ratio motor shaft to wheel: rear teeth over front teeth.
/// Valid: both counts > 0; outside: NaN.
/// Checked by: values/chain.tsv.
template <class R>
R chain_ratio(const ChainTeeth<R>& z) {
  return valid_where((z.front > num<R>(0)) & (z.rear > num<R>(0)), z.rear / z.front);
}

/// Chain length in pitches for a centre distance: 2C + (z1+z2)/2 + ((z2-z1)/2 pi)^2 / C with C =
/// a/p.
/// Valid: centre_m greater than half the sum of the pitch radii's difference and > 0; outside: NaN.
/// Ignores the polygon: within 0.002 pitches of the open belt at motorcycle sizes.
/// Source: Bhandari, Design of Machine Elements, chapter 14; Machinery's Handbook.
/// Checked by: values/chain.tsv; tests/model/mech_test.cpp (inverse of chain_centre_m).
template <class R>
R chain_length_pitches(const ChainTeeth<R>& z, R centre_m) {
  const R C = centre_m / z.pitch_m;
  const R least =
      abs(z.rear - z.front) * num<R>(0.5 / pi);  // sprockets inside one another below this
  return valid_where(
      (z.pitch_m > num<R>(0)) & (C > least),
      num<R>(2) * C + num<R>(0.5) * (z.front + z.rear) + detail::teeth_difference_term(z) / C);
}

/// Centre distance for a chain of `links` pitches: p/4 (k + sqrt(k^2 - 8 ((z2-z1)/2 pi)^2)), k = L
/// - (z1+z2)/2.
/// Valid: a chain long enough to reach round both sprockets; outside: NaN.
/// Ignores slack: the chain is just taut.
/// Source: Bhandari, Design of Machine Elements, chapter 14; Machinery's Handbook.
/// Checked by: values/chain.tsv.
template <class R>
R chain_centre_m(const ChainTeeth<R>& z, R links) {
  const R k = links - num<R>(0.5) * (z.front + z.rear);
  const R root = square(k) - num<R>(8) * detail::teeth_difference_term(z);
  const auto reaches = (z.pitch_m > num<R>(0)) & (k > num<R>(0)) & (root >= num<R>(0));
  return valid_where(reaches, num<R>(0.25) * z.pitch_m * (k + sqrt(root)));
}

/// Even number of links not below / not above a length: an offset link costs a quarter to a third
/// of the rating.
inline int even_links_above(double pitches) {
  return 2 * static_cast<int>(std::ceil(pitches / 2));
}
inline int even_links_below(double pitches) {
  return 2 * static_cast<int>(std::floor(pitches / 2));
}

template <class R>
struct TwoCircles {
  R diameter_front_m;
  R diameter_rear_m;
  R centre_m;
};

/// The pitch circles of a drive at a centre distance.
template <class R>
TwoCircles<R> pitch_circles(const ChainTeeth<R>& z, R centre_m) {
  return {.diameter_front_m = pitch_diameter_m(z.pitch_m, z.front),
          .diameter_rear_m = pitch_diameter_m(z.pitch_m, z.rear),
          .centre_m = centre_m};
}

namespace detail {
/// Sine of the angle by which the straight runs lean against the line of centres; positive with a
/// larger rear.
template <class R>
R lean_sine(const TwoCircles<R>& c) {
  return (c.diameter_rear_m - c.diameter_front_m) / (num<R>(2) * c.centre_m);
}
}  // namespace detail

/// Length of an open belt round both circles: 2 a cos(g) + pi (D1+D2)/2 + g (D2-D1), sin(g) =
/// (D2-D1)/2a. For a toothed belt the circles are z p / pi.
/// Valid: centre_m more than half the difference of the diameters; outside: NaN.
/// Source: plane geometry.
/// Checked by: values/chain.tsv; tests/model/mech_test.cpp (equal circles, derivative).
template <class R>
R open_belt_length_m(const TwoCircles<R>& c) {
  const R sine = detail::lean_sine(c);
  const R lean = asin(sine);
  const R straight = num<R>(2) * c.centre_m * sqrt(num<R>(1) - square(sine));
  return valid_where((c.centre_m > num<R>(0)) & (abs(sine) < num<R>(1)),
                     straight + num<R>(0.5 * pi) * (c.diameter_front_m + c.diameter_rear_m) +
                         lean * (c.diameter_rear_m - c.diameter_front_m));
}

/// Length of the taut chain in pitches: two straight runs between the pitch circles, one pitch for
/// each tooth in the wraps: 2 a cos(g)/p + (z1+z2)/2 + g (z2-z1)/pi, sin(g) = (D2-D1)/2a.
/// Valid: centre_m more than half the difference of the pitch diameters; outside: NaN.
/// Ignores where in its tooth the chain leaves the sprocket.
/// Source: plane geometry; the chain lies on the sprockets as a polygon, not as an arc.
/// Checked by: values/chain.tsv.
template <class R>
R chain_path_pitches(const ChainTeeth<R>& z, R centre_m) {
  const TwoCircles<R> c = pitch_circles(z, centre_m);
  const R sine = detail::lean_sine(c);
  const R straight = num<R>(2) * centre_m * sqrt(num<R>(1) - square(sine)) / z.pitch_m;
  return valid_where((centre_m > num<R>(0)) & (abs(sine) < num<R>(1)),
                     straight + num<R>(0.5) * (z.front + z.rear) +
                         asin(sine) * num<R>(1 / pi) * (z.rear - z.front));
}

/// Length of one straight run between the two circles.
/// Valid: centre_m more than half the difference of the diameters; outside: NaN.
/// Source: plane geometry.
/// Checked by: tests/model/mech_test.cpp.
template <class R>
R free_span_m(const TwoCircles<R>& c) {
  const R sine = detail::lean_sine(c);
  return valid_where((c.centre_m > num<R>(0)) & (abs(sine) < num<R>(1)),
                     c.centre_m * sqrt(num<R>(1) - square(sine)));
}

/// Wrap on the front sprocket: 180 deg - 2 asin((D2-D1)/2a); less than half a turn where the rear
/// is larger.
/// Valid: centre_m more than half the difference of the diameters; outside: NaN.
/// Source: plane geometry; machine-design texts.
/// Checked by: values/chain.tsv.
template <class R>
R wrap_front_rad(const TwoCircles<R>& c) {
  const R sine = detail::lean_sine(c);
  return valid_where((c.centre_m > num<R>(0)) & (abs(sine) < num<R>(1)),
                     num<R>(pi) - num<R>(2) * asin(sine));
}

/// Wrap on the rear sprocket: what the front one lacks to a full turn.
/// Checked by: values/chain.tsv.
template <class R>
R wrap_rear_rad(const TwoCircles<R>& c) {
  return num<R>(2 * pi) - wrap_front_rad(c);
}

/// Teeth in the chain at a wrap angle: z wrap / 360 deg.
/// Checked by: values/chain.tsv.
template <class R>
R teeth_engaged(R teeth, R wrap_rad) {
  return teeth * wrap_rad * num<R>(0.5 / pi);
}

// --- Speed, tension, polygon effect, rating ----------------------------------------------------

/// Mean chain speed: z p n, what a counted link does.
/// Valid: any speed; negative backwards.
/// Source: Bhandari, Design of Machine Elements, chapter 14.
/// Checked by: values/chain.tsv.
template <class R>
R chain_speed_mps(R pitch_m, R teeth, R speed_radps) {
  return teeth * pitch_m * speed_radps * num<R>(0.5 / pi);
}

/// Speed of the pitch circle: omega D / 2, the largest chain speed within a tooth's passage.
/// Checked by: values/chain.tsv.
template <class R>
R pitch_circle_speed_mps(R pitch_diameter_m, R speed_radps) {
  return num<R>(0.5) * pitch_diameter_m * speed_radps;
}

/// Tension of the pulling run from the torque on a sprocket: 2 T / D. Positive drives forward.
/// Valid: pitch_diameter_m > 0; outside: NaN.
/// Source: machine-design texts.
/// Checked by: values/chain.tsv.
template <class R>
R chain_tension_N(R torque_Nm, R pitch_diameter_m) {
  return valid_where(pitch_diameter_m > num<R>(0), num<R>(2) * torque_Nm / pitch_diameter_m);
}

/// Tension from power and chain speed: P / v.
/// Valid: chain_speed_mps > 0; outside: NaN.
/// Source: Bhandari, Design of Machine Elements, chapter 14.
/// Checked by: values/chain.tsv.
template <class R>
R chain_tension_from_power_N(R power_W, R chain_speed_mps) {
  return valid_where(chain_speed_mps > num<R>(0), power_W / chain_speed_mps);
}

/// Tension from the chain's own mass on its curved path: m' v^2. It loads plates and pins, not the
/// shaft.
/// Valid: mass_per_length_kgpm > 0; outside: NaN.
/// Source: machine-design texts.
/// Checked by: tests/model/mech_test.cpp.
template <class R>
R chain_centrifugal_tension_N(R mass_per_length_kgpm, R chain_speed_mps) {
  return valid_where(mass_per_length_kgpm > num<R>(0),
                     mass_per_length_kgpm * square(chain_speed_mps));
}

/// How many times the breaking load is above the pull.
/// Valid: tension_N > 0; outside: NaN.
/// Source: Bhandari, example 14.7.
/// Checked by: values/chain.tsv.
template <class R>
R static_factor(R breaking_load_N, R tension_N) {
  return valid_where(tension_N > num<R>(0), breaking_load_N / tension_N);
}

/// Polygon effect as (v_max - v_min) / v_mean: (pi/N) (1/sin(180/N) - 1/tan(180/N)).
/// Valid: teeth >= 6; outside: NaN.
/// Source: Shigley, chain section.
/// Checked by: values/chain.tsv.
template <class R>
R speed_variation_of_mean(R teeth) {
  const R half = half_pitch_angle_rad(teeth);
  return valid_where(teeth >= num<R>(6),
                     half * (num<R>(1) / sin(half) - detail::cotangent_half_pitch(teeth)));
}

/// Polygon effect as (v_max - v_min) / v_max: 1 - cos(180/N).
/// Valid: teeth >= 6; outside: NaN.
/// Source: machine-design texts.
/// Checked by: values/chain.tsv.
template <class R>
R speed_variation_of_max(R teeth) {
  return valid_where(teeth >= num<R>(6), num<R>(1) - cos(half_pitch_angle_rad(teeth)));
}

template <class R>
struct ChainRating {
  R pitch_m;
  R teeth;        ///< of the small sprocket
  R speed_radps;  ///< of the small sprocket
};

namespace detail {
template <class R>
R horsepower() {
  return constant<R>(745.699872, {.kg = 1, .m = 2, .s = -3});
}
template <class R>
mask_of<R> rated(const ChainRating<R>& c) {
  return (c.pitch_m > num<R>(0)) & (c.teeth >= num<R>(9)) & (c.speed_radps > num<R>(0));
}
}  // namespace detail

/// Power the link plates carry: H1 = k N^1.08 n^0.9 P^(3 - 0.07 P) hp, P in inch, n in 1/min.
/// `plate_factor` is 0.004, for the light chain No. 41 0.0022.
/// Valid: teeth >= 9, speed_radps > 0; outside: NaN. Industrial chain, 15 000 h, smooth load.
/// Ignores heavy plates and short duty of motorcycle chain: a guide, not a limit there.
/// Source: American Chain Association rating formula.
/// Checked by: values/chain.tsv.
template <class R>
R plate_power_limit_W(const ChainRating<R>& c, R plate_factor) {
  const R P = c.pitch_m / inch<R>();
  const R n = c.speed_radps / turn_per_minute<R>();
  const R power_hp = plate_factor * pow(c.teeth, num<R>(1.08)) * pow(n, num<R>(0.9)) *
                     pow(P, num<R>(3) - num<R>(0.07) * P);
  return valid_where(detail::rated(c), power_hp * detail::horsepower<R>());
}

/// Power the rollers and bushings stand: H2 = 1000 Kr N^1.5 P^0.8 / n^1.5 hp, P in inch, n in
/// 1/min. `roller_factor` Kr is 17 for No. 40 to 240, 29 for 25 and 35, 3.4 for 41.
/// Valid: teeth >= 9, speed_radps > 0; outside: NaN. Industrial chain, 15 000 h, smooth load.
/// Ignores heavy plates and short duty of motorcycle chain: a guide, not a limit there.
/// Source: American Chain Association rating formula.
/// Checked by: values/chain.tsv.
template <class R>
R roller_power_limit_W(const ChainRating<R>& c, R roller_factor) {
  const R P = c.pitch_m / inch<R>();
  const R n = c.speed_radps / turn_per_minute<R>();
  const R power_hp =
      num<R>(1000) * roller_factor * pow(c.teeth / n, num<R>(1.5)) * pow(P, num<R>(0.8));
  return valid_where(detail::rated(c), power_hp * detail::horsepower<R>());
}

// --- Over the swingarm's travel ----------------------------------------------------------------

template <class R>
struct ChainRun {
  R sprocket_x_m;       ///< front sprocket centre from the swingarm pivot, forward
  R sprocket_z_m;       ///< the same, upward
  R swingarm_length_m;  ///< pivot to rear axle
  ChainTeeth<R> teeth;
};

/// The swingarm's angle against the horizontal: positive with the axle above the pivot, usually
/// negative at rest.
template <class R>
struct SwingarmTravel {
  R angle_extended_rad;    ///< suspension topped out
  R angle_compressed_rad;  ///< suspension bottomed
};

/// Distance between the sprocket centres at a swingarm angle.
/// Valid: swingarm_length_m > 0, |angle| < 90 deg; outside: NaN.
/// Source: plane geometry.
/// Checked by: tests/model/mech_test.cpp.
template <class R>
R centre_at_angle_m(const ChainRun<R>& run, R swingarm_angle_rad) {
  const R along = run.sprocket_x_m + run.swingarm_length_m * cos(swingarm_angle_rad);
  const R up = run.sprocket_z_m - run.swingarm_length_m * sin(swingarm_angle_rad);
  return valid_where(
      (run.swingarm_length_m > num<R>(0)) & (abs(swingarm_angle_rad) < num<R>(0.5 * pi)),
      sqrt(square(along) + square(up)));
}

/// Length of the taut chain path at a swingarm angle.
/// Ignores a slider or roller that bends the chain's path, and the wheel's slight turning.
/// Checked by: tests/model/mech_test.cpp.
template <class R>
R path_at_angle_m(const ChainRun<R>& run, R swingarm_angle_rad) {
  return chain_path_pitches(run.teeth, centre_at_angle_m(run, swingarm_angle_rad)) *
         run.teeth.pitch_m;
}

/// The angle at which front sprocket, pivot and axle lie on one line: there the path is longest
/// (sprocket ahead of the pivot) or shortest (behind it).
/// Valid: sprocket centre not on the pivot itself; there 0.
/// Source: plane geometry.
/// Checked by: tests/model/mech_test.cpp.
template <class R>
R line_up_angle_rad(const ChainRun<R>& run) {
  const R least = num<R>(1e-6) * millimetre<R>();
  const R x = select(abs(run.sprocket_x_m) <= least, least, run.sprocket_x_m);
  return atan(-run.sprocket_z_m / x);
}

template <class R>
struct ChainTravel {
  R angle_tight_rad;  ///< where the chain must be adjusted
  R path_tight_m;     ///< longest path over the travel
  R path_slack_m;     ///< shortest path over the travel
};

/// The tightest and the slackest place over the travel.
/// Valid: extended angle below compressed angle, both within 90 deg; outside: NaN.
/// Ignores a slider or roller that bends the chain's path.
/// Source: plane geometry.
/// Checked by: tests/model/mech_test.cpp (against a fine scan of the travel).
template <class R>
ChainTravel<R> chain_travel(const ChainRun<R>& run, const SwingarmTravel<R>& travel) {
  const R low = travel.angle_extended_rad, high = travel.angle_compressed_rad;
  const R middle = clamp(line_up_angle_rad(run), low, high);
  const R at_low = path_at_angle_m(run, low), at_high = path_at_angle_m(run, high);
  const R at_middle = path_at_angle_m(run, middle);
  const R end = select(at_high > at_low, high, low);
  const R longest_end = max(at_low, at_high);
  const auto inside =
      (low <= high) & (at_low > num<R>(0)) & (at_high > num<R>(0)) & (at_middle > num<R>(0));
  return {.angle_tight_rad = valid_where(inside, select(at_middle >= longest_end, middle, end)),
          .path_tight_m = valid_where(inside, max(at_middle, longest_end)),
          .path_slack_m = valid_where(inside, min(at_middle, min(at_low, at_high)))};
}

/// Total up-and-down play in mid-span of a run whose chain is `excess_m` longer than the straight
/// line: each way the chain forms two straight legs, so play = sqrt(e (2 s + e)).
/// Valid: span_m > 0, excess_m >= 0; outside: NaN.
/// Ignores the chain's weight and stiffness.
/// Source: plane geometry.
/// Checked by: tests/model/mech_test.cpp (inverse pair, Pythagoras).
template <class R>
R midspan_play_m(R span_m, R excess_m) {
  const R inside = excess_m * (num<R>(2) * span_m + excess_m);
  return valid_where((span_m > num<R>(0)) & (excess_m >= num<R>(0)), sqrt(inside));
}

/// The excess length that gives a total mid-span play: sqrt(s^2 + play^2) - s.
/// Valid: span_m > 0, play_m >= 0; outside: NaN.
/// Source: plane geometry.
/// Checked by: tests/model/mech_test.cpp.
template <class R>
R excess_for_play_m(R span_m, R play_m) {
  return valid_where((span_m > num<R>(0)) & (play_m >= num<R>(0)),
                     sqrt(square(span_m) + square(play_m)) - span_m);
}

// --- Loss --------------------------------------------------------------------------------------

/// What the chain eats: a share of the tension it transmits, from friction in the pin joints, and a
/// drag that does not depend on it, from seal rings, grease and the slack run.
template <class R>
struct ChainLoss {
  R load_share;
  R drag_N;
};

namespace detail {
template <class R>
mask_of<R> usable(const ChainLoss<R>& loss) {
  return (loss.load_share >= num<R>(0)) & (loss.load_share < num<R>(0.5)) &
         (loss.drag_N >= num<R>(0));
}
}  // namespace detail

/// Tension that arrives at the rear sprocket from the tension at the front one; both signed,
/// driving positive. Driving: F (1 - c) - F0. Regenerating: F / (1 - c) - F0, so that the wheel
/// must give more than the motor gets.
/// Valid: 0 <= load_share < 0.5, drag_N >= 0; outside: NaN.
/// Ignores standstill, where a drag holds but does not push: the caller stops the bike there.
/// Ignores speed: above about 30 m/s on the road the chain's own mass costs more.
/// Source: friction share after Burgess and Lodge 2004 (96 to 99 %); the constant part is ours.
/// Checked by: tests/model/mech_test.cpp (power never gained, inverse, low tension).
template <class R>
R tension_rear_N(const ChainLoss<R>& loss, R tension_front_N) {
  const R keep = num<R>(1) - loss.load_share;
  const R transmitted =
      select(tension_front_N > num<R>(0), tension_front_N * keep, tension_front_N / keep);
  return valid_where(detail::usable(loss), transmitted - loss.drag_N);
}

/// The inverse: tension at the front sprocket that the wanted tension at the rear one needs.
/// Valid: 0 <= load_share < 0.5, drag_N >= 0; outside: NaN.
/// Source: as tension_rear_N.
/// Checked by: tests/model/mech_test.cpp.
template <class R>
R tension_front_N(const ChainLoss<R>& loss, R tension_rear_N) {
  const R keep = num<R>(1) - loss.load_share;
  const R transmitted = tension_rear_N + loss.drag_N;
  return valid_where(detail::usable(loss),
                     select(transmitted > num<R>(0), transmitted / keep, transmitted * keep));
}

/// Power out over power in: rear over front when driving, front over rear in regeneration, 0 where
/// nothing arrives.
/// Valid: as tension_rear_N.
/// Source: as tension_rear_N.
/// Checked by: tests/model/mech_test.cpp.
template <class R>
R chain_efficiency(const ChainLoss<R>& loss, R tension_front) {
  const R rear = tension_rear_N(loss, tension_front);
  const auto driving = tension_front > num<R>(0);
  const R out = select(driving, max(rear, num<R>(0)), tension_front);
  const R in = select(driving, tension_front, rear);
  const auto idle = abs(in) <= num<R>(1e-9) * constant<R>(1, {.kg = 1, .m = 1, .s = -2});
  return valid_where(detail::usable(loss), select(idle, num<R>(0), out / in));
}

template <class R>
struct ChainDrive {
  R diameter_front_m;  ///< pitch diameter on the motor shaft
  R ratio;             ///< rear teeth over front teeth
  ChainLoss<R> loss;
};

/// Torque on the wheel from torque on the motor shaft; signed, driving positive.
/// Valid: diameter_front_m > 0, ratio > 0; outside: NaN.
/// Source: as tension_rear_N.
/// Checked by: tests/model/mech_test.cpp.
template <class R>
R wheel_torque_Nm(const ChainDrive<R>& drive, R torque_shaft_Nm) {
  const R radius = num<R>(0.5) * drive.diameter_front_m;
  return valid_where((drive.diameter_front_m > num<R>(0)) & (drive.ratio > num<R>(0)),
                     tension_rear_N(drive.loss, torque_shaft_Nm / radius) * radius * drive.ratio);
}

/// The inverse: torque on the motor shaft for a torque on the wheel.
/// Valid: diameter_front_m > 0, ratio > 0; outside: NaN.
/// Source: as tension_rear_N.
/// Checked by: tests/model/mech_test.cpp.
template <class R>
R shaft_torque_Nm(const ChainDrive<R>& drive, R torque_wheel_Nm) {
  const R radius = num<R>(0.5) * drive.diameter_front_m;
  return valid_where(
      (drive.diameter_front_m > num<R>(0)) & (drive.ratio > num<R>(0)),
      tension_front_N(drive.loss, torque_wheel_Nm / (radius * drive.ratio)) * radius);
}

}  // namespace ww::model
