// SPDX-License-Identifier: MIT
// Identities of the driveline's kernels: sprocket, chain, key, bolt. No reference value is needed
// here.
#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "model/bolt.h"
#include "model/chain.h"
#include "model/key.h"
#include "model/sprocket.h"

namespace ww::model {
namespace {

constexpr double mm = 1e-3;

const std::vector<Sprocket<double>> sprockets{
    {.pitch_m = 12.7 * mm, .roller_diameter_m = 8.51 * mm, .teeth = 15},
    {.pitch_m = 15.875 * mm, .roller_diameter_m = 10.16 * mm, .teeth = 14},
    {.pitch_m = 15.875 * mm, .roller_diameter_m = 10.16 * mm, .teeth = 45},
    {.pitch_m = 19.05 * mm, .roller_diameter_m = 11.91 * mm, .teeth = 57}};

const std::vector<ChainTeeth<double>> drives{{.pitch_m = 15.875 * mm, .front = 14, .rear = 45},
                                             {.pitch_m = 12.7 * mm, .front = 15, .rear = 42},
                                             {.pitch_m = 15.875 * mm, .front = 20, .rear = 20},
                                             {.pitch_m = 12.7 * mm, .front = 40, .rear = 16}};

TEST(Sprocket, LettersOfTheToothFormFitTogether) {
  for (const auto& s : sprockets) {
    const auto t = asme_tooth(s);
    const double half = pi / s.teeth;
    // The point of the tooth, seen from the roller beside it, lies at S: half the pointed diameter
    // times the sine.
    EXPECT_NEAR(outside_diameter_pointed_m(s) / 2 * std::sin(half), t.s_m, 1e-12);
    EXPECT_NEAR(std::hypot(t.m_m, t.t_m), t.ac_m, 1e-15);
    EXPECT_NEAR(std::hypot(t.w_m, t.v_m), t.ab_m, 1e-15);
    EXPECT_NEAR(t.m_m / t.ac_m, std::cos(t.a_rad), 1e-14);
    EXPECT_NEAR(t.r_m, t.ds_m / 2, 1e-15);
    // The working curve is the chord of an arc of radius E over the angle B.
    EXPECT_NEAR(t.xy_m, 2 * t.e_m * std::sin(t.b_rad / 2), 1e-15);
    EXPECT_GT(t.ds_m, s.roller_diameter_m);
  }
}

TEST(Sprocket, DiametersStandInOrder) {
  for (const auto& s : sprockets) {
    const double d = pitch_diameter_m(s.pitch_m, s.teeth);
    EXPECT_LT(root_diameter_m(s), d);
    EXPECT_LT(d, tip_diameter_min_m(s));
    EXPECT_LT(tip_diameter_min_m(s), tip_diameter_max_m(s));
    EXPECT_LT(seat_radius_min_m(s.roller_diameter_m), seat_radius_max_m(s.roller_diameter_m));
    EXPECT_LT(flank_radius_min_form_m(s), flank_radius_max_form_m(s));
    EXPECT_GT(seat_angle_min_form_rad(s.teeth), seat_angle_max_form_rad(s.teeth));
  }
}

// A hub or shroud has to stay inside the flats of the polygon by half the plates' height on either
// side.
TEST(Sprocket, HubAndShroudClearThePlates) {
  for (const auto& s : sprockets) {
    const double flats = pitch_diameter_m(s.pitch_m, s.teeth) * std::cos(pi / s.teeth);
    const double plate = 0.95 * s.pitch_m;
    EXPECT_NEAR(flats - hub_diameter_max_m(s.pitch_m, s.teeth), s.pitch_m + 0.762 * mm, 1e-12);
    EXPECT_NEAR(flats - shroud_diameter_max_m(s.pitch_m, plate, s.teeth), 1.04 * plate + 0.76 * mm,
                1e-12);
  }
}

// Rollers set out on the pitch circle: the widest pair of centres, by trying all pairs.
TEST(Sprocket, OppositeGapsAreTheWidestPairOfRollers) {
  for (const int teeth : {9, 10, 17, 24, 45}) {
    const double radius = pitch_diameter_m(0.0127, static_cast<double>(teeth)) / 2;
    double widest = 0;
    for (int i = 1; i < teeth; ++i) {
      widest = std::max(widest, 2 * radius * std::sin(pi * i / teeth));
    }
    EXPECT_NEAR(opposite_gap_distance_m(0.0127, teeth), widest, 1e-14) << teeth;
    EXPECT_NEAR(over_pins_m(0.0127, 0.00851, teeth), widest + 0.00851, 1e-14);
    EXPECT_NEAR(caliper_diameter_m(0.0127, 0.00851, teeth), widest - 0.00851, 1e-14);
  }
}

TEST(Sprocket, TolerancesTakeTheirSteps) {
  EXPECT_DOUBLE_EQ(root_diameter_tolerance_m(0.1269), 0.25 * mm);
  EXPECT_DOUBLE_EQ(root_diameter_tolerance_m(0.1271), 0.30 * mm);
  EXPECT_DOUBLE_EQ(root_diameter_tolerance_m(0.2499), 0.30 * mm);
  EXPECT_DOUBLE_EQ(root_diameter_tolerance_m(0.2501), 0.32 * mm);
  EXPECT_DOUBLE_EQ(root_diameter_tolerance_m(0.3151), 0.36 * mm);
  EXPECT_DOUBLE_EQ(root_diameter_tolerance_m(0.4001), 0.40 * mm);
  EXPECT_TRUE(std::isnan(root_diameter_tolerance_m(0.501)));
  EXPECT_DOUBLE_EQ(run_out_radial_limit_m(0.05), 0.15 * mm);
  EXPECT_DOUBLE_EQ(run_out_radial_limit_m(0.2), 0.24 * mm);
  EXPECT_DOUBLE_EQ(run_out_radial_limit_m(1.0), 0.76 * mm);
  EXPECT_DOUBLE_EQ(run_out_axial_limit_m(0.2), 0.26 * mm);
  EXPECT_DOUBLE_EQ(run_out_axial_limit_m(2.0), 1.14 * mm);
}

TEST(Sprocket, DomainsBeginWhereTheHeadersSay) {
  const double p = 0.0127, d1 = 0.00851;
  const std::vector<double> inside{pitch_diameter_m(p, 6.0),
                                   seat_angle_min_form_rad(6.0),
                                   seat_angle_max_form_rad(6.0),
                                   caliper_tolerance_m(p, 6.0),
                                   outside_diameter_m(p, 6.0),
                                   hub_diameter_max_m(p, 6.0),
                                   shroud_diameter_max_m(p, 0.01, 6.0),
                                   speed_variation_of_mean(6.0),
                                   speed_variation_of_max(6.0),
                                   tooth_width_asme_m(0.21 * mm),
                                   root_diameter_tolerance_m(0.5),
                                   asme_tooth(Sprocket<double>{p, d1, 6}).ds_m};
  for (std::size_t i = 0; i < inside.size(); ++i) EXPECT_TRUE(std::isfinite(inside[i])) << i;
  const std::vector<double> outside{pitch_diameter_m(p, 5.9),
                                    pitch_diameter_m(0.0, 15.0),
                                    root_diameter_m(Sprocket<double>{p, d1, 5}),
                                    seat_angle_min_form_rad(5.9),
                                    seat_angle_max_form_rad(5.9),
                                    seat_radius_min_m(0.0),
                                    seat_radius_max_m(0.0),
                                    caliper_tolerance_m(p, 5.9),
                                    caliper_tolerance_m(0.0, 15.0),
                                    outside_diameter_m(p, 5.9),
                                    outside_diameter_m(0.0, 15.0),
                                    hub_diameter_max_m(p, 5.9),
                                    hub_diameter_max_m(0.0, 15.0),
                                    shroud_diameter_max_m(p, 0.01, 5.9),
                                    shroud_diameter_max_m(0.0, 0.01, 15.0),
                                    speed_variation_of_mean(5.9),
                                    speed_variation_of_max(5.9),
                                    tooth_width_iso_m(0.0, 0.01),
                                    tooth_width_iso_m(p, 0.0),
                                    tooth_width_asme_m(0.2 * mm),
                                    root_diameter_tolerance_m(0.0),
                                    run_out_radial_limit_m(0.0),
                                    run_out_axial_limit_m(0.0),
                                    asme_tooth(Sprocket<double>{p, d1, 5.9}).ds_m,
                                    asme_tooth(Sprocket<double>{p, p, 15}).ds_m,
                                    asme_tooth(Sprocket<double>{p, 0, 15}).ds_m};
  for (std::size_t i = 0; i < outside.size(); ++i) EXPECT_TRUE(std::isnan(outside[i])) << i;
}

TEST(Chain, DomainsBeginWhereTheHeadersSay) {
  const ChainTeeth<double> toothless{.pitch_m = 0.0127, .front = 0, .rear = 40};
  const ChainTeeth<double> wheelless{.pitch_m = 0.0127, .front = 14, .rear = 0};
  const ChainTeeth<double> flat{.pitch_m = 0, .front = 14, .rear = 40};
  const std::vector<double> outside{chain_ratio(toothless),
                                    chain_ratio(wheelless),
                                    chain_length_pitches(flat, 0.5),
                                    chain_centre_m(flat, 100.0),
                                    chain_centre_m(drives[0], 20.0),
                                    chain_centre_m(drives[2], 19.0),
                                    chain_tension_N(60.0, 0.0),
                                    chain_tension_from_power_N(1000.0, 0.0),
                                    chain_centrifugal_tension_N(0.0, 20.0),
                                    static_factor(20000.0, 0.0)};
  for (std::size_t i = 0; i < outside.size(); ++i) EXPECT_TRUE(std::isnan(outside[i])) << i;
  EXPECT_NEAR(chain_tension_N(-60.0, 0.08), -1500, 1e-9);
  const ChainRating<double> nine{.pitch_m = 0.0127, .teeth = 9, .speed_radps = 100};
  const ChainLoss<double> none{.load_share = 0, .drag_N = 0};
  const BoltThread<double> m8{.diameter_m = 8 * mm, .pitch_m = 1.25 * mm};
  const BoltFriction<double> smooth{.thread = 0, .head = 0};
  const KeyJoint<double> k{60, 0.025, 0.008, 0.007, 0.03};
  const ChainTravel<double> still =
      chain_travel(ChainRun<double>{0.08, 0.01, 0.55, drives[0]}, SwingarmTravel<double>{0.1, 0.1});
  const std::vector<double> inside{plate_power_limit_W(nine, 0.004),
                                   midspan_play_m(0.5, 0.0),
                                   excess_for_play_m(0.5, 0.0),
                                   tension_rear_N(none, 100.0),
                                   chain_centre_m(drives[2], 20.5),
                                   still.path_tight_m,
                                   key_pressure_hub_Pa(k, 0.0),
                                   assembly_preload_N(m8, 640e6, 0.0),
                                   tightening_torque_Nm(m8, smooth, 0.01, 0.0),
                                   preload_at_torque_N(m8, smooth, 0.01, 0.0),
                                   tightening_torque_simple_Nm(0.0, 0.008),
                                   slip_load_N(ClampedJoint<double>{1, 16000, 0.15, 1})};
  for (std::size_t i = 0; i < inside.size(); ++i) EXPECT_TRUE(std::isfinite(inside[i])) << i;
}

TEST(ChainOnTooth, EveryMarginTurnsTheVerdictAlone) {
  const ToothSize<double> tooth{
      .pitch_m = 15.875 * mm, .roller_diameter_m = 10.16 * mm, .tooth_width_m = 5.9 * mm};
  const ChainSize<double> fits{
      .pitch_m = 15.875 * mm, .roller_diameter_m = 10.16 * mm, .inner_width_m = 6.25 * mm};
  EXPECT_TRUE(chain_runs_on(fits, tooth));
  auto other = fits;
  other.pitch_m = 15.977 * mm;
  EXPECT_FALSE(chain_runs_on(other, tooth));
  other.pitch_m = 15.773 * mm;
  EXPECT_FALSE(chain_runs_on(other, tooth));
  other.pitch_m = 15.973 * mm;
  EXPECT_TRUE(chain_runs_on(other, tooth));
  other.pitch_m = 15.777 * mm;
  EXPECT_TRUE(chain_runs_on(other, tooth));
  other = fits;
  other.roller_diameter_m = 10.57 * mm;  // the seat is 10.560
  EXPECT_FALSE(chain_runs_on(other, tooth));
  other.roller_diameter_m = 10.55 * mm;
  EXPECT_TRUE(chain_runs_on(other, tooth));
  other.roller_diameter_m = 10.058 * mm;
  EXPECT_FALSE(chain_runs_on(other, tooth));
  other.roller_diameter_m = 10.062 * mm;
  EXPECT_TRUE(chain_runs_on(other, tooth));
  other = fits;
  other.inner_width_m = 6.2 * mm;
  EXPECT_FALSE(chain_runs_on(other, tooth));
  other.inner_width_m = (5.9 - 0.00102) / 0.95 * mm;  // a micrometre is forgiven, not more
  EXPECT_FALSE(chain_runs_on(other, tooth));
  other.inner_width_m = (5.9 - 0.00098) / 0.95 * mm;
  EXPECT_TRUE(chain_runs_on(other, tooth));
  other.inner_width_m = 0;
  EXPECT_FALSE(chain_runs_on(other, tooth));
}

TEST(Chain, CentreIsTheInverseOfLength) {
  for (const auto& z : drives) {
    double before = 0;
    for (const double centre : {0.35, 0.5, 0.61, 0.9}) {
      const double length = chain_length_pitches(z, centre);
      EXPECT_NEAR(chain_centre_m(z, length), centre, 1e-12);
      EXPECT_GT(length, before);
      before = length;
      // The handbook's length against the true path of the taut chain.
      EXPECT_NEAR(length, chain_path_pitches(z, centre), 0.012);
    }
  }
}

TEST(Chain, EqualSprocketsNeedTwoCentresAndOneCircle) {
  const ChainTeeth<double> z{.pitch_m = 15.875 * mm, .front = 20, .rear = 20};
  EXPECT_NEAR(chain_length_pitches(z, 0.5), 1.0 / z.pitch_m + 20, 1e-12);
  EXPECT_NEAR(chain_path_pitches(z, 0.5), 1.0 / z.pitch_m + 20, 1e-12);
  const TwoCircles<double> c{.diameter_front_m = 0.1, .diameter_rear_m = 0.1, .centre_m = 0.5};
  EXPECT_NEAR(open_belt_length_m(c), 1.0 + 0.1 * pi, 1e-15);
  EXPECT_NEAR(wrap_front_rad(c), pi, 1e-15);
}

TEST(Chain, LengthHasNoMeaningForSprocketsInsideOneAnother) {
  EXPECT_TRUE(std::isnan(chain_length_pitches(drives[0], 0.05)));
  EXPECT_FALSE(std::isnan(chain_length_pitches(drives[0], 0.09)));
  EXPECT_TRUE(std::isnan(chain_path_pitches(drives[0], 0.05)));
  EXPECT_TRUE(std::isnan(chain_path_pitches(drives[2], -0.5)));
  EXPECT_TRUE(std::isnan(wrap_front_rad(pitch_circles(drives[0], 0.05))));
  EXPECT_TRUE(std::isnan(wrap_front_rad(pitch_circles(drives[2], -0.5))));
  EXPECT_TRUE(std::isnan(free_span_m(pitch_circles(drives[0], 0.05))));
  EXPECT_TRUE(std::isnan(free_span_m(pitch_circles(drives[2], -0.5))));
  EXPECT_TRUE(std::isnan(open_belt_length_m(pitch_circles(drives[0], 0.05))));
  EXPECT_TRUE(std::isnan(open_belt_length_m(pitch_circles(drives[2], -0.5))));
}

TEST(Chain, StraightRunsAndWrapsCloseThePath) {
  for (const auto& z : drives) {
    const auto c = pitch_circles(z, 0.6);
    const double difference = (c.diameter_rear_m - c.diameter_front_m) / 2;
    const double span = free_span_m(c);
    EXPECT_NEAR(std::hypot(span, difference), 0.6, 1e-14);
    EXPECT_NEAR(wrap_front_rad(c) + wrap_rear_rad(c), 2 * pi, 1e-14);
    EXPECT_NEAR(std::tan((wrap_rear_rad(c) - pi) / 2), difference / span, 1e-12);
    EXPECT_NEAR(chain_path_pitches(z, 0.6),
                2 * span / z.pitch_m + teeth_engaged(z.front, wrap_front_rad(c)) +
                    teeth_engaged(z.rear, wrap_rear_rad(c)),
                1e-12);
    EXPECT_NEAR(open_belt_length_m(c),
                2 * span + wrap_front_rad(c) * c.diameter_front_m / 2 +
                    wrap_rear_rad(c) * c.diameter_rear_m / 2,
                1e-14);
    // Moving the sprockets apart lengthens the belt by two cosines.
    auto farther = c;
    farther.centre_m += 1e-6;
    EXPECT_NEAR((open_belt_length_m(farther) - open_belt_length_m(c)) / 1e-6, 2 * span / 0.6, 1e-6);
  }
}

TEST(Chain, PolygonEffectIsWhatATurningPolygonDoes) {
  for (const double teeth : {9.0, 14.0, 17.0, 45.0}) {
    const double half = pi / teeth;
    double least = 2, most = 0, mean = 0;
    const int steps = 20000;
    for (int i = 0; i <= steps; ++i) {
      const double speed = std::cos(half * (2.0 * i / steps - 1));
      least = std::min(least, speed);
      most = std::max(most, speed);
      mean += speed * (i == 0 || i == steps ? 0.5 : 1) / steps;
    }
    EXPECT_NEAR(speed_variation_of_mean(teeth), (most - least) / mean, 1e-8);
    EXPECT_NEAR(speed_variation_of_max(teeth), (most - least) / most, 1e-12);
    EXPECT_NEAR(chain_speed_mps(0.0127, teeth, 10.0),
                mean * pitch_circle_speed_mps(pitch_diameter_m(0.0127, teeth), 10.0), 1e-8);
  }
  EXPECT_DOUBLE_EQ(chain_centrifugal_tension_N(1.0, 20.0), 400);
  EXPECT_DOUBLE_EQ(chain_centrifugal_tension_N(0.8, 10.0), 80);
}

TEST(Chain, RatingScalesAsItsExponentsSay) {
  const ChainRating<double> c{.pitch_m = 25.4 * mm, .teeth = 17, .speed_radps = 1000 * pi / 30};
  auto other = c;
  other.speed_radps *= 2;
  EXPECT_NEAR(plate_power_limit_W(other, 0.004) / plate_power_limit_W(c, 0.004), std::pow(2, 0.9),
              1e-12);
  EXPECT_NEAR(roller_power_limit_W(other, 17.0) / roller_power_limit_W(c, 17.0), std::pow(2, -1.5),
              1e-12);
  EXPECT_NEAR(plate_power_limit_W(c, 0.0022) / plate_power_limit_W(c, 0.004), 0.55, 1e-12);
  EXPECT_NEAR(roller_power_limit_W(c, 3.4) / roller_power_limit_W(c, 17.0), 0.2, 1e-12);
  other.teeth = 8;
  EXPECT_TRUE(std::isnan(plate_power_limit_W(other, 0.004)));
  EXPECT_TRUE(std::isnan(roller_power_limit_W(other, 17.0)));
  other = c;
  other.speed_radps = 0;
  EXPECT_TRUE(std::isnan(roller_power_limit_W(other, 17.0)));
  other = c;
  other.pitch_m = 0;
  EXPECT_TRUE(std::isnan(plate_power_limit_W(other, 0.004)));
}

// The sprocket ahead of the pivot, above and below it, on it, and behind it.
TEST(ChainTravel, AgreesWithAFineScanOfTheTravel) {
  const ChainTeeth<double> teeth{.pitch_m = 15.875 * mm, .front = 14, .rear = 45};
  const SwingarmTravel<double> travel{.angle_extended_rad = -0.35, .angle_compressed_rad = 0.15};
  struct At {
    double x, z;
  };
  for (const At at : {At{0.08, 0.02}, At{0.08, -0.03}, At{0.1, 0.0}, At{0.1, 0.05}, At{0, 0},
                      At{-0.03, 0.01}, At{0.0, 0.05}, At{0.02, 0.08}}) {
    const ChainRun<double> run{
        .sprocket_x_m = at.x, .sprocket_z_m = at.z, .swingarm_length_m = 0.55, .teeth = teeth};
    const auto found = chain_travel(run, travel);
    double longest = 0, shortest = 9;
    for (int i = 0; i <= 5000; ++i) {
      const double angle = -0.35 + 0.5 * i / 5000;
      const double path = path_at_angle_m(run, angle);
      longest = std::max(longest, path);
      shortest = std::min(shortest, path);
    }
    EXPECT_NEAR(found.path_tight_m, longest, 1e-9) << at.x << " " << at.z;
    EXPECT_NEAR(found.path_slack_m, shortest, 1e-9) << at.x << " " << at.z;
    EXPECT_NEAR(path_at_angle_m(run, found.angle_tight_rad), longest, 1e-9) << at.x;
    EXPECT_GE(found.angle_tight_rad, -0.35);
    EXPECT_LE(found.angle_tight_rad, 0.15);
  }
}

TEST(ChainTravel, TightestWhereSprocketPivotAndAxleLineUp) {
  const ChainTeeth<double> teeth{.pitch_m = 15.875 * mm, .front = 14, .rear = 45};
  const ChainRun<double> run{
      .sprocket_x_m = 0.08, .sprocket_z_m = 0.02, .swingarm_length_m = 0.55, .teeth = teeth};
  const double angle = line_up_angle_rad(run);
  EXPECT_LT(angle, 0);  // sprocket above the pivot: the axle hangs below it
  EXPECT_NEAR(centre_at_angle_m(run, angle), 0.55 + std::hypot(0.08, 0.02), 1e-14);
  EXPECT_NEAR(centre_at_angle_m(run, 0.0), std::hypot(0.63, 0.02), 1e-14);
  // Axle up by the sine: with a low sprocket the distance in z grows.
  EXPECT_NEAR(centre_at_angle_m(run, 0.1),
              std::hypot(0.08 + 0.55 * std::cos(0.1), 0.02 - 0.55 * std::sin(0.1)), 1e-14);
  EXPECT_NEAR(path_at_angle_m(run, 0.1) / teeth.pitch_m,
              chain_path_pitches(teeth, centre_at_angle_m(run, 0.1)), 1e-12);
  const SwingarmTravel<double> turned{.angle_extended_rad = 0.2, .angle_compressed_rad = 0.1};
  EXPECT_TRUE(std::isnan(chain_travel(run, turned).path_tight_m));
  EXPECT_TRUE(std::isnan(chain_travel(run, turned).path_slack_m));
  EXPECT_TRUE(std::isnan(chain_travel(run, turned).angle_tight_rad));
  const SwingarmTravel<double> wide{.angle_extended_rad = -1.7, .angle_compressed_rad = 0.1};
  EXPECT_TRUE(std::isnan(chain_travel(run, wide).path_tight_m));
  EXPECT_TRUE(std::isnan(centre_at_angle_m(run, 1.6)));
  auto none = run;
  none.swingarm_length_m = 0;
  EXPECT_TRUE(std::isnan(centre_at_angle_m(none, 0.1)));
}

TEST(Chain, PlayAndExcessAreInverse) {
  for (const double span : {0.4, 0.6}) {
    for (const double play : {0.0, 0.02, 0.04}) {
      const double excess = excess_for_play_m(span, play);
      EXPECT_NEAR(midspan_play_m(span, excess), play, 1e-9);
      // Two straight legs up to half the play.
      EXPECT_NEAR(2 * std::hypot(span / 2, play / 2), span + excess, 1e-14);
    }
  }
  EXPECT_TRUE(std::isnan(midspan_play_m(0.6, -0.001)));
  EXPECT_TRUE(std::isnan(excess_for_play_m(0.6, -0.001)));
  EXPECT_TRUE(std::isnan(excess_for_play_m(0.0, 0.001)));
  EXPECT_TRUE(std::isnan(midspan_play_m(0.0, 0.001)));
}

TEST(ChainLoss, NeverGivesPowerAndIsItsOwnInverse) {
  for (const ChainLoss<double> loss : {ChainLoss<double>{.load_share = 0.015, .drag_N = 5},
                                       ChainLoss<double>{.load_share = 0, .drag_N = 0},
                                       ChainLoss<double>{.load_share = 0.04, .drag_N = 15}}) {
    for (const double front : {-3000.0, -200.0, -10.0, 0.0, 4.0, 30.0, 500.0, 3000.0}) {
      const double rear = tension_rear_N(loss, front);
      EXPECT_LE(rear, front + 1e-12);
      EXPECT_NEAR(tension_front_N(loss, rear), front, 1e-9);
      const double efficiency = chain_efficiency(loss, front);
      EXPECT_GE(efficiency, 0);
      EXPECT_LE(efficiency, 1);
    }
  }
  const ChainLoss<double> loss{.load_share = 0.02, .drag_N = 10};
  // Driving keeps 98 % less the drag; regenerating the wheel gives the drag on top and the motor
  // gets 98 % of the rest.
  EXPECT_NEAR(tension_rear_N(loss, 1000.0), 970, 1e-9);
  EXPECT_NEAR(tension_rear_N(loss, -980.0), -1010, 1e-9);
  EXPECT_NEAR(chain_efficiency(loss, 1000.0), 0.97, 1e-12);
  EXPECT_NEAR(chain_efficiency(loss, -980.0), 980.0 / 1010, 1e-12);
  EXPECT_EQ(chain_efficiency(loss, 5.0), 0);
  EXPECT_EQ(chain_efficiency(loss, 0.0), 0);
  double before = 0;
  for (const double front : {15.0, 50.0, 200.0, 1000.0, 5000.0}) {
    EXPECT_GT(chain_efficiency(loss, front), before);  // falls at low tension
    before = chain_efficiency(loss, front);
  }
  EXPECT_LT(before, 0.98);
}

TEST(ChainLoss, IsRefusedOutsideItsDomain) {
  for (const ChainLoss<double> loss : {ChainLoss<double>{.load_share = -0.01, .drag_N = 5},
                                       ChainLoss<double>{.load_share = 0.5, .drag_N = 5},
                                       ChainLoss<double>{.load_share = 0.01, .drag_N = -1}}) {
    EXPECT_TRUE(std::isnan(tension_rear_N(loss, 100.0)));
    EXPECT_TRUE(std::isnan(tension_front_N(loss, 100.0)));
    EXPECT_TRUE(std::isnan(chain_efficiency(loss, 100.0)));
  }
}

TEST(ChainDrive, TorqueTimesSpeedLosesWhatTheChainLoses) {
  const ChainDrive<double> drive{
      .diameter_front_m = 0.0713, .ratio = 57.0 / 14, .loss = {.load_share = 0.015, .drag_N = 5}};
  for (const double torque : {-20.0, -1.0, 0.5, 30.0, 64.0}) {
    const double wheel = wheel_torque_Nm(drive, torque);
    EXPECT_NEAR(shaft_torque_Nm(drive, wheel), torque, 1e-12);
    // Power on either side at 100 rad/s of the shaft.
    const double in = torque * 100, out = wheel * 100 / drive.ratio;
    const double tension = torque / (drive.diameter_front_m / 2);
    const double lost =
        (tension - tension_rear_N(drive.loss, tension)) * 100 * drive.diameter_front_m / 2;
    EXPECT_NEAR(in - out, lost, 1e-9);
    const double share = in > 0 ? out / in : in / out;
    EXPECT_NEAR(std::max(share, 0.0), chain_efficiency(drive.loss, tension), 1e-12);
  }
  auto wrong = drive;
  wrong.ratio = 0;
  EXPECT_TRUE(std::isnan(wheel_torque_Nm(wrong, 10.0)));
  EXPECT_TRUE(std::isnan(shaft_torque_Nm(wrong, 10.0)));
  wrong = drive;
  wrong.diameter_front_m = 0;
  EXPECT_TRUE(std::isnan(wheel_torque_Nm(wrong, 10.0)));
  EXPECT_TRUE(std::isnan(shaft_torque_Nm(wrong, 10.0)));
}

TEST(Key, StressesAndLimitsAreInverse) {
  KeyJoint<double> k{.torque_Nm = 64,
                     .shaft_diameter_m = 0.025,
                     .width_m = 0.008,
                     .height_m = 0.007,
                     .length_m = 0.03};
  EXPECT_NEAR(key_torque_limit_Nm(k, key_pressure_Pa(k)), 64, 1e-12);
  EXPECT_NEAR(key_length_for_shear_m(k, key_shear_Pa(k)), 0.03, 1e-15);
  EXPECT_NEAR(key_length_for_pressure_m(k, key_pressure_Pa(k)), 0.03, 1e-15);
  EXPECT_NEAR(key_pressure_hub_Pa(k, k.height_m / 2), key_pressure_Pa(k), 1e-6);
  EXPECT_TRUE(std::isnan(key_pressure_hub_Pa(k, 0.007)));
  EXPECT_TRUE(std::isnan(key_pressure_hub_Pa(k, -0.001)));
  EXPECT_TRUE(std::isnan(key_length_for_shear_m(k, 0.0)));
  EXPECT_TRUE(std::isnan(key_length_for_pressure_m(k, 0.0)));
  auto back = k;
  back.torque_Nm = -64;  // regeneration presses the other side
  EXPECT_EQ(key_pressure_Pa(back), key_pressure_Pa(k));
  using Member = double KeyJoint<double>::*;
  for (const Member member : {&KeyJoint<double>::shaft_diameter_m, &KeyJoint<double>::width_m,
                              &KeyJoint<double>::height_m, &KeyJoint<double>::length_m}) {
    auto missing = k;
    missing.*member = 0;
    EXPECT_TRUE(std::isnan(key_force_N(missing)));
    EXPECT_TRUE(std::isnan(key_torque_limit_Nm(missing, 80e6)));
  }
}

TEST(Key, ShaftAndBoreOfTheInchSeatLeaveTheKeyItsHeight) {
  const KeySeat<double> s{
      .shaft_diameter_m = 0.0222, .key_width_m = 0.00476, .key_height_m = 0.00476};
  EXPECT_NEAR(bore_over_keyway_m(s) - shaft_over_keyway_m(s), s.key_height_m + 0.005 * 0.0254,
              1e-15);
}

TEST(Bolt, TorqueAndPreloadAreInverseAndWorkIsKept) {
  const BoltThread<double> m8{.diameter_m = 8 * mm, .pitch_m = 1.25 * mm};
  const BoltFriction<double> mu{.thread = 0.12, .head = 0.14};
  EXPECT_NEAR(preload_at_torque_N(m8, mu, 0.0103, tightening_torque_Nm(m8, mu, 0.0103, 18000.0)),
              18000, 1e-8);
  // Without friction one turn's work lifts the preload by one pitch.
  const BoltFriction<double> none{.thread = 0, .head = 0};
  EXPECT_NEAR(tightening_torque_Nm(m8, none, 0.0103, 18000.0) * 2 * pi, 18000 * 1.25 * mm, 1e-9);
  // Head friction alone acts on the mean radius under the head.
  const BoltFriction<double> head{.thread = 0, .head = 0.14};
  EXPECT_NEAR(tightening_torque_Nm(m8, head, 0.0103, 18000.0) -
                  tightening_torque_Nm(m8, none, 0.0103, 18000.0),
              18000 * 0.14 * 0.0103 / 2, 1e-9);
  const BoltFriction<double> wrong_thread{.thread = -0.1, .head = 0.1};
  const BoltFriction<double> wrong_head{.thread = 0.1, .head = -0.1};
  for (const auto& wrong : {wrong_thread, wrong_head}) {
    EXPECT_TRUE(std::isnan(tightening_torque_Nm(m8, wrong, 0.01, 18000.0)));
    EXPECT_TRUE(std::isnan(preload_at_torque_N(m8, wrong, 0.01, 20.0)));
  }
  EXPECT_TRUE(std::isnan(tightening_torque_Nm(m8, mu, 0.01, -1.0)));
  EXPECT_TRUE(std::isnan(preload_at_torque_N(m8, mu, 0.01, -1.0)));
  EXPECT_TRUE(std::isnan(tightening_torque_simple_Nm(-1.0, 0.008)));
  EXPECT_TRUE(std::isnan(tightening_torque_simple_Nm(1.0, 0.0)));
}

// Tension and plastic torsion of the core together come to 90 % of yield.
TEST(Bolt, AssemblyPreloadUsesNineTenthsOfYield) {
  for (const double friction : {0.08, 0.12, 0.16}) {
    const BoltThread<double> m10{.diameter_m = 10 * mm, .pitch_m = 1.5 * mm};
    const double preload = assembly_preload_N(m10, 640e6, friction);
    const double d2 = (10 - 0.6495 * 1.5) * mm;
    const double d0 = (d2 + (10 - 1.22687 * 1.5) * mm) / 2;
    const double torque = preload * (1.5 * mm / (2 * pi) + friction * d2 * 1.155 / 2);
    const double tension = 4 * preload / (pi * d0 * d0);
    const double twist = 12 * torque / (pi * d0 * d0 * d0);
    EXPECT_NEAR(std::sqrt(tension * tension + 3 * twist * twist), 0.9 * 640e6, 1e-3);
  }
  const BoltThread<double> m10{.diameter_m = 10 * mm, .pitch_m = 1.5 * mm};
  EXPECT_TRUE(std::isnan(assembly_preload_N(m10, 640e6, -0.1)));
  EXPECT_TRUE(std::isnan(assembly_preload_N(m10, 0.0, 0.1)));
  const BoltThread<double> stub{.diameter_m = 2 * mm, .pitch_m = 1 * mm};
  EXPECT_TRUE(std::isnan(stress_area_m2(stub)));
  const BoltThread<double> smooth{.diameter_m = 2 * mm, .pitch_m = 0};
  EXPECT_TRUE(std::isnan(stress_area_m2(smooth)));
}

TEST(Bolt, SlipGrowsWithEveryFactor) {
  const ClampedJoint<double> j{.bolts = 4, .preload_N = 16000, .friction = 0.15, .faces = 1};
  const double once = slip_load_N(j);
  auto more = j;
  more.bolts = 8;
  EXPECT_NEAR(slip_load_N(more), 2 * once, 1e-9);
  more = j;
  more.friction = 0;
  EXPECT_TRUE(std::isnan(slip_load_N(more)));
  more = j;
  more.bolts = 0;
  EXPECT_TRUE(std::isnan(slip_load_N(more)));
  more = j;
  more.faces = 0;
  EXPECT_TRUE(std::isnan(slip_load_N(more)));
  more = j;
  more.preload_N = 0;
  EXPECT_TRUE(std::isnan(slip_load_N(more)));
}

}  // namespace
}  // namespace ww::model
