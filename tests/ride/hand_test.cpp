// SPDX-License-Identifier: MIT
// What a sheet comes to as parameters, and small answers, against sums by hand, definitions and
// independent integrators.
#include <gtest/gtest.h>

#include <boost/numeric/odeint.hpp>
#include <cmath>
#include <numbers>

#include "ride/evaluate.h"
#include "ride/motor_dispatch.h"
#include "ride/ride.h"
#include "tests/support/world.h"

namespace ww::ride {
namespace {

using support::cycles;
using support::demo;

const RideOptions nominal_only{
    .draws = 0, .seed = 1, .pushes = false, .wanted = every_answer, .widest_kernel = 1};

void set(Build& b, const char* path, const char* text) {
  ASSERT_TRUE(build::set_from_text(b, build::id_of(path), text).has_value()) << path;
}

void put(Build& b, const char* slot, const char* part) {
  const auto& place = *build::schema().slot(slot);
  const auto* found = support::library().find(place.shelf, part);
  ASSERT_NE(found, nullptr) << part;
  build::put_part(b, place, *found);
}

template <template <class> class Motor>
Bike<double, Motor> bike_of_sheet(const Build& b) {
  const auto nominal = nominal_values(b, soft_figures(b));
  return bike_of<double, Motor>(b, nominal.view());
}

double value_of(const Build& b, const char* path) {
  const auto nominal = nominal_values(b, soft_figures(b));
  return nominal.at[static_cast<std::size_t>(build::id_of(path))];
}

/// The warm bike and its pack at a charge, as full throttle meets them.
struct Standing {
  explicit Standing(const std::string& name, double charge)
      : bike(bike_of_sheet<model::PmMotor>(demo(name))),
        warm(at_winding_temperature(bike.motor, bike.params.ambient_K + 60)),
        pack(settled_pack(
            bike.params.pack, charge,
            pack_climate(bike.params.pack, bike.params.ambient_K).resistance_factor)) {}
  Bike<double, model::PmMotor> bike;
  model::PmMotor<double> warm;
  PackState<double> pack;
};

// ---- conventions

// Definitions: a current's rms is its peak over root 2; a six-step's direct current flows in two
// phases, whose fundamental peaks at 2/root 3 of it; a constant per volt of peak reads less by root
// 2 than one per volt of rms, and torque per ampere goes the other way.
TEST(Conventions, EachFactorIsItsDefinition) {
  using figure::Convention;
  using figure::Kind;
  const auto factor = canonical_factor;
  EXPECT_NEAR(factor(Kind::phase_current, Convention::dc), 1.1547005384, 1e-9);
  EXPECT_NEAR(factor(Kind::phase_current, Convention::rms), 1.4142135624, 1e-9);
  EXPECT_EQ(factor(Kind::phase_current, Convention::peak), 1);
  EXPECT_NEAR(factor(Kind::motor_constant, Convention::rms), 0.7071067812, 1e-9);
  EXPECT_EQ(factor(Kind::motor_constant, Convention::dc), 1);
  EXPECT_EQ(factor(Kind::motor_constant, Convention::peak), 1);
  EXPECT_NEAR(factor(Kind::torque_constant, Convention::dc), 0.8660254038, 1e-9);
  EXPECT_NEAR(factor(Kind::torque_constant, Convention::rms), 0.7071067812, 1e-9);
  EXPECT_EQ(factor(Kind::torque_constant, Convention::peak), 1);
  EXPECT_EQ(factor(Kind::mass, Convention::rms), 1);
}

TEST(Conventions, UnsaidIsHalfDirectAQuarterPeakAQuarterRms) {
  Build b = demo("reference");
  b.controller->current_phase.convention = figure::Convention::unsaid;
  const auto soft = soft_figure(b, build::id_of("controller.current_phase"));
  ASSERT_TRUE(soft.has_value() && soft->convention_unsaid);
  const auto over_median = [&](double u) {
    return drawn_value(*soft, 0.5, u) / drawn_value(*soft, 0.5, 0.6);
  };
  EXPECT_NEAR(over_median(0.01), 1.1547005384, 1e-9);
  EXPECT_NEAR(over_median(0.49), 1.1547005384, 1e-9);
  EXPECT_NEAR(over_median(0.51), 1, 1e-12);
  EXPECT_NEAR(over_median(0.74), 1, 1e-12);
  EXPECT_NEAR(over_median(0.76), 1.4142135624, 1e-9);
  EXPECT_NEAR(over_median(0.99), 1.4142135624, 1e-9);
}

// ---- from the sheet to parameters

TEST(Params, CellsInsideAModuleCountAsCells) {
  Build b = demo("reference");
  const auto one = bike_of_sheet<model::PmMotor>(b).params.pack;
  b.cell->series_inside = 3;
  const auto three = bike_of_sheet<model::PmMotor>(b).params.pack;
  EXPECT_NEAR(three.cells_in_series, 3 * one.cells_in_series, 1e-9);
  // The same terminals full and empty: each inside has a third of the voltage.
  for (const double soc : {0.0, 1.0}) {
    EXPECT_NEAR(three.cells_in_series * model::ocv_V(three.cell_ocv, soc),
                one.cells_in_series * model::ocv_V(one.cell_ocv, soc), 1e-9);
  }
}

TEST(Params, HeatCapacitiesAreMassTimesSpecificHeat) {
  Build b = demo("reference");
  set(b, "pack.mass", "50 kg +- 0 kg");
  set(b, "controller.mass", "4 kg +- 0 kg");
  const auto p = bike_of_sheet<model::PmMotor>(b).params;
  EXPECT_NEAR(p.pack.heat_capacity_J_per_K, 50e3, 1e-6);  // 1 kJ/(kg K), cells of any kind
  EXPECT_NEAR(p.heat.controller.capacity_J_per_K, 0.9 * 900 * 4, 1e-6);
  const auto motor_kg = value_of(b, "motor.mass"),
             share = value_of(b, "assumed.winding_mass_share");
  EXPECT_NEAR(p.cooling.nodes.inner_J_per_K, 400 * share * motor_kg, 1e-6);
  EXPECT_NEAR(p.cooling.nodes.outer_J_per_K, 520 * (1 - share) * motor_kg, 1e-6);
}

TEST(Params, WhatIsNotWishedOrListedIsTheUsual) {
  Build b = demo("reference");
  b.wishes = {};
  b.cell->discharge_temperature_max = {};
  b.controller->mass = {};
  const auto p = bike_of_sheet<model::PmMotor>(b).params;
  EXPECT_NEAR(p.hold_speed_mps, 25, 1e-12);  // 90 km/h
  EXPECT_EQ(p.fast_share, 0.5);
  EXPECT_EQ(p.hill_grade, 0.08);
  EXPECT_NEAR(p.hill_speed_mps, 16.6666666667, 1e-9);  // 60 km/h
  EXPECT_EQ(p.heat.cells_limit_K, 333.15);             // 60 C
  EXPECT_NEAR(p.heat.controller.capacity_J_per_K, 0.9 * 900 * 2.5, 1e-9);
  b.motor->cooling = build::Cooling::liquid;
  EXPECT_EQ(bike_of_sheet<model::PmMotor>(b).params.cooling.air_share, 0.1);
  b.motor->cooling = build::Cooling::air;
  EXPECT_EQ(bike_of_sheet<model::PmMotor>(b).params.cooling.air_share, 0.65);
}

// Between two leads of a star lie two phases: with the rotor turned the inductance there goes from
// 2 Ld to 2 Lq, and a listing gives the mean.
TEST(Params, SaliencySplitsTheInductance) {
  Build b = demo("beginner");
  set(b, "motor.inductance", "50 uH +- 0 uH");
  set(b, "motor.saliency", "1.5 +- 0");
  const auto motor = bike_of_sheet<model::PmMotor>(b).motor;
  EXPECT_NEAR(motor.inductance_q_H / motor.inductance_d_H, 1.5, 1e-12);
  EXPECT_NEAR(motor.inductance_q_H + motor.inductance_d_H, 50e-6, 1e-15);
}

/// Without a no-load test the drag at the rated speed takes the assumed share of the power.
void expect_drag(const Build& b, double drag_Nm, double speed_radps) {
  const double lost =
      value_of(b, "assumed.no_load_loss_share") * value_of(b, "motor.power_continuous");
  ASSERT_GT(lost, 0);
  EXPECT_NEAR(drag_Nm * speed_radps, lost, 1e-9 * lost) << b.motor->part;
}

TEST(Params, DragWithoutANoLoadTestIsTheAssumedLoss) {
  Build pm = demo("beginner");
  pm.motor->no_load_current = {};
  const double pm_rated = value_of(pm, "motor.rated_speed");
  expect_drag(pm, model::drag_torque(bike_of_sheet<model::PmMotor>(pm).motor, pm_rated), pm_rated);

  Build series = demo("reference");
  put(series, "motor", "tarnwick-hogweed");
  const auto s = bike_of_sheet<model::BrushedSeriesMotor>(series).motor;
  const double rated = value_of(series, "motor.rated_speed");
  expect_drag(series, s.drag_constant_Nm + s.drag_linear_Nms * rated, rated);
  EXPECT_NEAR(s.drag_constant_Nm * rated,
              value_of(series, "assumed.drag_constant_share") *
                  value_of(series, "assumed.no_load_loss_share") *
                  value_of(series, "motor.power_continuous"),
              1e-9);
  // Its listed torque is there at its listed current.
  const double current = value_of(series, "motor.current_peak");
  EXPECT_NEAR(model::current_for_torque(s, value_of(series, "motor.torque_peak")), current,
              1e-6 * current);
}

TEST(Params, AnInductionMotorsParameters) {
  const auto& shelf = support::library().shelf("motor");
  int seen = 0;
  for (const auto& part : shelf) {
    Build b = demo("reference");
    build::put_part(b, *build::schema().slot("motor"), part);
    if (b.motor->type != build::MotorType::induction) continue;
    ++seen;
    const auto bike = bike_of_sheet<model::InductionMotor>(b);
    const auto& m = bike.motor;
    const double leakage = value_of(b, "motor.leakage_inductance");
    EXPECT_NEAR(m.inductance_leakage_stator_H, leakage / 2, 1e-12 * leakage);
    EXPECT_NEAR(m.inductance_leakage_rotor_H, leakage / 2, 1e-12 * leakage);
    const double peak = value_of(b, "motor.current_peak");
    const double most = std::isnan(peak) ? bike.params.current_limit_A
                                         : std::min(peak, bike.params.current_limit_A);
    EXPECT_NEAR(m.current_flux_peak_A, 0.35 * most, 1e-9);
    EXPECT_EQ(m.flux_floor, 0.5);
    const double rated = value_of(b, "motor.rated_speed");
    if (!std::isnan(rated)) {
      expect_drag(b, m.drag_constant_Nm + m.drag_linear_Nms * rated, rated);
      EXPECT_NEAR(m.drag_constant_Nm / (m.drag_constant_Nm + m.drag_linear_Nms * rated),
                  value_of(b, "assumed.drag_constant_share"), 1e-12);
    }
  }
  EXPECT_GT(seen, 0);
}

// At its continuous power, at the maker's rated speed or three quarters of the highest, in 40 C
// air, the winding settles at its limit: that is what the two ratings mean.
TEST(Params, TheContinuousRatingEndsAtTheWindingsLimit) {
  for (const bool listed : {true, false}) {
    Build b = demo("reference");
    set(b, "motor.rated_speed", "3600 rpm +- 0 rpm");
    set(b, "motor.speed_max", "5000 rpm +- 0 rpm");
    if (!listed) b.motor->rated_speed = {};
    const auto bike = bike_of_sheet<model::PmMotor>(b);
    const auto& cooling = bike.params.cooling;
    const double speed = (listed ? 3600 : 3750) * 2 * std::numbers::pi / 60;
    const auto hot = at_winding_temperature(bike.motor, cooling.limit_K);
    const auto at = model::drive_point<double>(
        hot, {value_of(b, "motor.power_continuous") / speed, speed}, {1e4, 1e4, 0});
    const auto rise =
        model::two_node_steady_K<double>(cooling.nodes, {at.loss_copper_W, at.loss_iron_mech_W});
    EXPECT_NEAR(313.15 + rise.inner_K, cooling.limit_K, 1e-6) << listed;
  }
}

TEST(Params, ABeltAndAShaftTurnTheWheelByTheirRatio) {
  Build b = demo("reference");
  b.gearing.drive = build::FinalDrive::belt;
  b.gearing.front_teeth = 22;
  b.gearing.rear_teeth = 66;
  set(b, "motor.reduction", "1.5");
  const auto ratio = [&] { return bike_of_sheet<model::PmMotor>(b).params.ratio; };
  b.belt.emplace();
  set(b, "belt.front_teeth", "20");
  set(b, "belt.rear_teeth", "50");
  EXPECT_NEAR(ratio(), 1.5 * 2.5, 1e-12);
  b.gearing.drive = build::FinalDrive::shaft;
  set(b, "donor.shaft_ratio", "3.2");
  EXPECT_NEAR(ratio(), 1.5 * 3.2, 1e-12);
  b.gearing.drive = build::FinalDrive::hub;
  EXPECT_NEAR(ratio(), 1.5, 1e-12);
}

// A rotor is taken as a solid cylinder of half the motor's diameter (200 mm where none is listed)
// and all its mass; what turns adds its inertia over the wheel's radius squared, the rotor's times
// the ratio squared.
TEST(Params, WhatTurnsAddsToTheMass) {
  Build b = demo("reference");
  set(b, "motor.mass", "20 kg +- 0 kg");
  for (const bool listed : {true, false}) {
    if (listed) set(b, "motor.diameter", "300 mm +- 0 mm");
    if (!listed) b.motor->diameter = {};
    const auto p = bike_of_sheet<model::PmMotor>(b).params;
    const double radius = 0.5 * (listed ? 0.150 : 0.100);
    const double rotor = 0.5 * 20 * radius * radius;
    const double wheels =
        value_of(b, "donor.wheel_inertia_front") + value_of(b, "donor.wheel_inertia_rear");
    EXPECT_NEAR(p.road.mass_rotating_equivalent_kg,
                (wheels + rotor * p.ratio * p.ratio) / (p.wheel_radius_m * p.wheel_radius_m), 1e-9);
  }
}

TEST(Params, WhoAndWhatIsCarriedWeighs) {
  Build b = demo("reference");
  const auto params = [&] { return bike_of_sheet<model::PmMotor>(b).params; };
  set(b, "rider.passenger_mass", "0 kg");
  set(b, "rider.luggage_mass", "0 kg");
  const auto alone = params();
  set(b, "rider.passenger_mass", "60 kg +- 0 kg");
  set(b, "rider.luggage_mass", "7 kg +- 0 kg");
  EXPECT_NEAR(params().road.mass_kg - alone.road.mass_kg, 67, 1e-9);
  EXPECT_EQ(params().mass_bike_kg, alone.mass_bike_kg);
}

// The standard atmosphere (ISO 2533): 79 495 Pa at 2000 m, 101 325 Pa at the sea.
TEST(Params, AirThinsWithTheHeight) {
  Build b = demo("reference");
  const auto density = [&](const char* altitude) {
    set(b, "surroundings.altitude", altitude);
    return bike_of_sheet<model::PmMotor>(b).params.road.air_density_kgpm3;
  };
  const double sea = density("0 m");
  EXPECT_NEAR(density("2000 m") / sea, 0.7846, 2e-3);
}

TEST(Params, AnAgedPackHoldsWhatItsCellsStillHold) {
  Build b = demo("reference");
  set(b, "pack.parallel", "3");
  set(b, "cell.capacity", "50 Ah +- 0 Ah");
  set(b, "cell.health", "0.9 +- 0");
  EXPECT_NEAR(bike_of_sheet<model::PmMotor>(b).params.pack.charge_C, 3 * 50 * 3600 * 0.9, 1e-6);
  set(b, "assumed.fade_share", "0.2 +- 0");
  EXPECT_NEAR(bike_of_sheet<model::PmMotor>(b).params.pack.charge_C, 3 * 50 * 3600 * 0.9 * 0.8,
              1e-6);
}

// At the air speed of the rating a motor cools as it was rated; the part that air carries grows
// with the root of the speed.
TEST(Params, CoolingIsTheRatingsAtTheRatingsAirSpeed) {
  auto cooling = bike_of_sheet<model::PmMotor>(demo("reference")).params.cooling;
  cooling.air_share = 0.4;
  const double rated = cooling.rating_air_speed_mps;
  EXPECT_NEAR(nodes_at_speed(cooling, rated).air_K_per_W, cooling.nodes.air_K_per_W, 1e-12);
  EXPECT_NEAR(nodes_at_speed(cooling, 4 * rated).air_K_per_W * 1.4, cooling.nodes.air_K_per_W,
              1e-12);
}

// ---- the drive at one moment

// A source of E behind R gives at most E^2/(4 R), at E/(2 R).
TEST(Solve, ABareSourceIsNotPulledPastItsLargestPower) {
  const PackState<double> pack{
      .source = {.emf_V = 80, .resistance_ohm = 0.05}, .current_max_A = 1e9, .soft_cut_V = 0};
  const double current = current_allowed_A(pack);
  EXPECT_LE(current, 80 / (2 * 0.05));
  EXPECT_GT(current * (80 - 0.05 * current), 0.999 * 80 * 80 / (4 * 0.05));
}

TEST(Solve, WhatStandsAtALimitIsStillAllowed) {
  Standing s("reference", 0.8);
  const double omega = 200, torque = 20;
  const auto at = operate(s.bike.params, s.warm, {torque, omega}, s.pack);
  ASSERT_TRUE(at.feasible);
  s.pack.current_max_A = at.current_pack_A;
  s.bike.params.torque_limit_Nm = torque;
  s.bike.params.speed_limit_radps = omega;
  EXPECT_TRUE(operate(s.bike.params, s.warm, {torque, omega}, s.pack).feasible);
  const auto beyond = [&](double t, double w, double amps) {
    s.pack.current_max_A = amps;
    return operate(s.bike.params, s.warm, {t, w}, s.pack).feasible;
  };
  EXPECT_FALSE(beyond(torque * 1.0001, omega, 1e9));
  EXPECT_FALSE(beyond(torque, omega * 1.0001, 1e9));
  EXPECT_FALSE(beyond(torque, omega, at.current_pack_A * 0.9999));
}

// What is found as the most there is can be had, whatever holds it, and more cannot; with a field
// that may be weakened too, which then gives more at speed.
TEST(Solve, TheMostThereIsCanBeHad) {
  for (const char* name : {"reference", "beginner"}) {
    Standing s(name, 0.5);
    double without = 0;
    for (const double weakening : {0.0, 1.0}) {
      s.bike.params.weakening = weakening;
      double sum = 0;
      for (double v = 0.5; v < 30; v += 0.5) {
        const double omega = motor_speed_radps(s.bike.params, v);
        const double torque = torque_available_Nm(s.bike.params, s.warm, omega, s.pack);
        sum += torque;
        if (!(torque > 0)) continue;
        const double more = torque * 1.0001 + 1e-3;
        // A weakened field follows the voltage in four rounds, not to the last bit: its own most
        // may count as beyond the voltage.
        if (weakening == 0) {
          EXPECT_TRUE(operate(s.bike.params, s.warm, {torque, omega}, s.pack).feasible)
              << name << v;
        }
        EXPECT_FALSE(operate(s.bike.params, s.warm, {more, omega}, s.pack).feasible) << name << v;
      }
      if (weakening > 0) {
        EXPECT_GT(sum, 1.005 * without) << name;
      }
      without = sum;
    }
  }
}

// Where the field is weakened the motor stands at the voltage that its own power leaves.
TEST(Solve, AWeakenedFieldMeetsTheVoltageThatItsPowerLeaves) {
  Standing s("reference", 0.5);
  auto& p = s.bike.params;
  double least_A = 1e9;
  p.weakening = 0;
  const double omega = 1.1 * model::no_load_speed(s.warm, p.modulation * s.pack.source.emf_V);
  p.weakening = 1;
  p.speed_limit_radps = 1e9;
  for (const double torque : {5.0, 10.0, 20.0}) {
    const auto at = operate(p, s.warm, {torque, omega}, s.pack);
    EXPECT_NEAR(at.shaft.voltage_V, p.modulation * at.voltage_pack_V, 1e-5 * at.voltage_pack_V);
    least_A = std::min(least_A, at.current_pack_A);
  }
  EXPECT_GT(least_A, 5);
}

TEST(Solve, ForceAndTorqueTurnIntoEachOther) {
  const auto p = bike_of_sheet<model::PmMotor>(demo("reference")).params;
  for (const double torque : {-30.0, 40.0}) {
    const double force = wheel_force_N(p, torque);
    EXPECT_NEAR(shaft_torque_Nm(p, force), torque, 1e-9);
    // The driveline only takes: driving, less power at the wheel; braking, less at the shaft.
    const double shaft_W = torque * p.ratio / p.wheel_radius_m, wheel_W = force;
    EXPECT_NEAR(torque > 0 ? wheel_W / shaft_W : shaft_W / wheel_W, p.driveline_efficiency, 1e-9);
  }
}

// What a slow part settles at over what it shows after 10 s: 1/(1 - exp(-10 s/time)).
TEST(Pack, TheSettledSlowPartIsTheExponentials) {
  auto pack = bike_of_sheet<model::PmMotor>(demo("reference")).params.pack;
  for (const auto& [time, share] : {std::pair{8.0, 4e-3}, std::pair{15.0, 1e-3},
                                    std::pair{30.0, 1e-4}, std::pair{100.0, 1e-6}}) {
    pack.slow_time_s = time;
    EXPECT_NEAR(slow_gain(pack) * (1 - std::exp(-10 / time)), 1, share) << time;
  }
}

TEST(Params, ABrushedMotorsConstantIsOneOverItsSpeedConstant) {
  Build b = demo("reference");
  put(b, "motor", "tarnwick-coltsfoot");
  const auto motor = bike_of_sheet<model::BrushedPmMotor>(b).motor;
  const double known = value_of(b, "motor.speed_constant");
  const double k = std::isnan(known) ? 0.8660254038 / value_of(b, "motor.torque_constant") : known;
  EXPECT_NEAR(motor.constant_Vs * k, 1, 1e-9);
}

// One heat capacity behind one resistance: t = -R C ln(1 - rise / (P R)).
TEST(Steady, TheControllerLastsAsOneNodeDoes) {
  Standing s("reference", 0.8);
  auto& p = s.bike.params;
  p.heat.controller.resistance_K_per_W = 2;
  const Steady<double> hill{15, 0.08, 0};
  const auto hot = at_winding_temperature(s.bike.motor, p.cooling.limit_K);
  const double watts = operate_steady(p, hot, hill, s.pack).loss_controller_W;
  const double rise = p.heat.controller_limit_K - p.ambient_K;
  ASSERT_GT(watts * 2, 1.5 * rise);
  const double seconds = -2 * p.heat.controller.capacity_J_per_K * std::log(1 - rise / (watts * 2));
  EXPECT_NEAR(endurance(s.bike, hill, s.pack).controller_s, seconds, 1e-6 * seconds);
}

TEST(Solve, SpareForceIsThrustLessRoadLoad) {
  const Standing s("reference", 0.5);
  for (const double v : {10.0, 25.0}) {
    EXPECT_NEAR(spare_force_N(s.bike, v),
                thrust_available_N(s.bike, s.warm, v, s.pack) -
                    road_force(s.bike.params, Steady<double>{v, 0, 0}),
                1e-9);
  }
}

// ---- speeds and hills

TEST(Steady, AMotorsHighestSpeedEndsTheRide) {
  Standing s("reference", 0.5);
  auto& p = s.bike.params;
  const Road<double> flat{0, 0};
  const double free = top_speed_mps(s.bike, s.warm, s.pack, flat);
  ASSERT_GT(free, 25);
  p.speed_limit_radps = 20 * p.ratio / p.wheel_radius_m;
  EXPECT_NEAR(top_speed_mps(s.bike, s.warm, s.pack, flat), 20, 1e-4);
  // Where it ends without that, thrust and road load are equal.
  p.speed_limit_radps = 1e6;
  const double top = top_speed_mps(s.bike, s.warm, s.pack, flat);
  EXPECT_NEAR(thrust_available_N(s.bike, s.warm, top, s.pack),
              road_force(p, Steady<double>{top, 0, 0}), 1e-6);
  EXPECT_NEAR(top, free, 1e-9);
}

// The slope of a hill is held below arcsin 0.9 = 64.158 degrees: rise over run 2.0647.
TEST(Steady, NoHillIsSteeperThanTheSineAllows) {
  Standing s("reference", 0.8);
  s.bike.params.grip = 50;
  s.bike.params.stance = {.mass_kg = 1e5, .wheelbase_m = 10, .cg_to_rear_m = 5, .cg_height_m = 0.1};
  s.bike.params.road.mass_kg = 30;
  EXPECT_NEAR(grade_at_speed(s.bike, s.warm, s.pack, 3.0), 2.064742, 1e-5);
  EXPECT_NEAR(grade_at_speed(s.bike, s.warm, s.pack, 85.0), -2.064742, 1e-5);
}

// A hill that is just climbed: thrust carries weight's share along it and the road load.
TEST(Steady, OnTheSteepestHillThrustAndWeightAreEven) {
  Standing s("reference", 0.8);
  const double v = 10 / 3.6, grade = grade_at_speed(s.bike, s.warm, s.pack, v);
  const double along = s.bike.params.road.mass_kg * 9.80665 * std::sin(std::atan(grade));
  EXPECT_NEAR(thrust_available_N(s.bike, s.warm, v, s.pack),
              along + road_force(s.bike.params, Steady<double>{v, 0, 0}), 1e-6 * along);
}

/// The winding's rise by an integrator that follows the losses all the way.
double winding_by_integrator_K(const Standing& s, double speed, double time_s) {
  using State = std::array<double, 2>;
  const auto& p = s.bike.params;
  const auto nodes = nodes_at_speed(p.cooling, speed);
  const auto heating = [&](const State& rise, State& by, double) {
    const auto motor = at_winding_temperature(s.bike.motor, p.ambient_K + rise[0]);
    const auto at = operate_steady(p, motor, Steady<double>{speed, 0, 0}, s.pack);
    const double across = (rise[0] - rise[1]) / nodes.between_K_per_W;
    by[0] = (at.shaft.loss_copper_W - across) / nodes.inner_J_per_K;
    by[1] =
        (at.shaft.loss_iron_mech_W + across - rise[1] / nodes.air_K_per_W) / nodes.outer_J_per_K;
  };
  State rise{0, 0};
  boost::numeric::odeint::integrate(heating, rise, 0.0, time_s, 1.0);
  return p.ambient_K + rise[0];
}

TEST(Steady, TheWindingsTemperatureIsThatOfAnIntegrator) {
  const Standing s("reference", 0.5);
  for (const double speed : {20.0, 25.0}) {
    for (const double time : {300.0, 1200.0, 3600.0}) {
      const double expected = winding_by_integrator_K(s, speed, time);
      const double rise = expected - s.bike.params.ambient_K;
      const double told = winding_after_K(s.bike, Steady<double>{speed, 0, 0}, s.pack, time);
      EXPECT_NEAR(told, expected, 0.01 * rise) << speed << " " << time;
    }
  }
}

// ---- the road

// Wind from all sides: its mean u, its speeds spread as Rayleigh's law has them, its directions all
// alike. Drag along the way is |v + w| (v + w cos), in shares of v^2; summed over both.
TEST(Wind, TheHeadwindCostsWhatWindsFromAllSidesCost) {
  const auto drag_share = [](double u_over_v) {
    double sum = 0, weight = 0;
    for (int i = 0; i < 400; ++i) {
      const double x = (i + 0.5) / 100;  // wind over its mean
      const double density = x * std::exp(-std::numbers::pi / 4 * x * x);
      for (int k = 0; k < 360; ++k) {
        const double along = 1 + u_over_v * x * std::cos(k * std::numbers::pi / 180);
        const double across = u_over_v * x * std::sin(k * std::numbers::pi / 180);
        sum += density * std::hypot(along, across) * along;
        weight += density;
      }
    }
    return sum / weight;
  };
  for (const double v : {9.0, 25.0}) {
    for (const double share : {0.1, 0.3}) {
      const double head = equivalent_headwind_mps(v, share * v);
      const double told = (v + head) * (v + head) / (v * v);
      EXPECT_NEAR((told - 1) / (drag_share(share) - 1), 1, 0.02) << v << " " << share;
    }
  }
}

TEST(Cold, ColdAirIsDenserAndTyresAreStiffer) {
  const auto bike = bike_of_sheet<model::PmMotor>(demo("reference"));
  const auto cold = on_coldest_day(bike);
  const auto &p = bike.params, &c = cold.params;
  ASSERT_LT(p.coldest_K, p.ambient_K);
  // A gas at one pressure: density times temperature stays.
  EXPECT_NEAR(c.road.air_density_kgpm3 * p.coldest_K, p.road.air_density_kgpm3 * p.ambient_K, 1e-9);
  EXPECT_NEAR(c.road.crr0 / p.road.crr0, 1 + 0.006 * (p.ambient_K - p.coldest_K), 1e-12);
  EXPECT_EQ(c.ambient_K, p.coldest_K);
}

// Where a pack cannot give the power the middle one gives, it is pulled at its largest power.
TEST(Distance, APackTooWeakForTheDemandGivesItsMost) {
  Standing s("reference", 0.5);
  auto& p = s.bike.params;
  p.pack.current_max_A = 1e9;
  p.pack.soft_cut_V = 0;
  p.pack.cells_ohm *= 12;
  const auto fixed = ride_fixed(p, pack_climate(p.pack, p.ambient_K), 0.0);
  const auto rates = trace_rates(s.bike, s.warm, fixed, cycles().udds.trace(), charge_grid(0.03));
  EXPECT_GT(rates.missed_s, 50);
  for (const double metres : rates.metres_per_coulomb) EXPECT_GT(metres, 0);  // no NaN either
}

// The weights of UN GTR 2 stand in course.cpp; a distance on the whole is one at the mean of the
// parts' rates.
TEST(Distance, TheWholeWmtcIsTheMeanOfItsParts) {
  const Build b = demo("reference");
  const Ride r = ride(b, cycles(), nominal_only);
  const Standing s("reference", 0.5);
  const auto climate = pack_climate(s.bike.params.pack, s.bike.params.ambient_K);
  const double top = r.nominal[Answer::speed_top];
  const Course course = course_for(cycles(), top);
  double rate = 0, weights = 0;
  for (std::size_t k = 0; k < 3; ++k) {
    weights += course.wmtc_weight[k];
    if (course.wmtc_weight[k] > 0)
      rate += course.wmtc_weight[k] /
              trace_distance(s.bike, s.warm, course.wmtc[k], climate, top, 0.0).distance.to_end_m;
  }
  EXPECT_NEAR(weights, 1, 1e-12);
  EXPECT_NEAR(r.nominal[Answer::range_wmtc] * rate, 1, 1e-6);
}

// In town a bike that is slower than the cycle goes on its coldest day until it no longer holds 95
// % of what it reaches on that day.
TEST(Cold, AWeakBikesColdTownEndsAtItsColdAbility) {
  Build b = demo("beginner");
  set(b, "wishes.fast_share", "0");
  const Ride r = ride(b, cycles(), nominal_only);
  const Standing s("beginner", 0.5);
  const auto cold = on_coldest_day(s.bike);
  const auto& p = cold.params;
  const auto climate = pack_climate(p.pack, p.coldest_K);
  const auto half = settled_pack(p.pack, 0.5, climate.resistance_factor);
  const double top = top_speed_mps(cold, s.warm, half, Road<double>{0, 0});
  ASSERT_LT(0.95 * top, cycles().udds.speed_max_mps);
  const double metres = trace_distance(cold, s.warm, cycles().udds.trace(), climate, top,
                                       equivalent_headwind_mps(9.0, p.wind_mps))
                            .distance.reserve_kept_m;
  EXPECT_NEAR(r.nominal[Answer::range_cold_reserve] / metres, 1, 1e-9);
}

// Steps of a per cent in the speed to hold, across what the bike just reaches: no distance jumps.
TEST(Cold, NoDistanceJumpsWhereTheSpeedIsOutOfReach) {
  Build b = demo("beginner");
  set(b, "wishes.fast_share", "1");
  const double top = ride(b, cycles(), nominal_only).nominal[Answer::speed_top];
  double mixed = 0, cold = 0;
  for (double share = 0.85; share < 1.1; share += 0.01) {
    set(b, "wishes.hold_speed", (std::to_string(share * top) + " m/s").c_str());
    const Ride r = ride(b, cycles(), nominal_only);
    const double mixed_now = r.nominal[Answer::range_mixed_reserve];
    const double cold_now = r.nominal[Answer::range_cold_reserve];
    if (mixed > 0) {
      EXPECT_NEAR(mixed_now / mixed, 1, 0.06) << share;
      EXPECT_NEAR(cold_now / cold, 1, 0.06) << share;
    }
    mixed = mixed_now;
    cold = cold_now;
  }
}

/// One second at full throttle by an integrator in time, from the speed v.
double second_by_integrator_mps(const Standing& s, double v) {
  const double mass = model::effective_mass_kg(s.bike.params.road);
  const auto motion = [&](const double& x, double& by, double) {
    by = (thrust_available_N(s.bike, s.warm, x, s.pack) -
          road_force(s.bike.params, Steady<double>{x, 0, 0})) /
         mass;
  };
  namespace ode = boost::numeric::odeint;
  ode::runge_kutta4<double, double, double, double, ode::vector_space_algebra> stepper;
  for (int i = 0; i < 1000; ++i) stepper.do_step(motion, v, i * 1e-3, 1e-3);
  return v;
}

RideFixed<double> still_air(const Standing& s) {
  const auto& p = s.bike.params;
  return ride_fixed(p, pack_climate(p.pack, p.ambient_K), 0.0);
}

TEST(Second, FullThrottleGainsWhatAnIntegratorGains) {
  const Standing s("beginner", 0.5);
  for (const double v : {2.0, 8.0, 14.0, 18.0, 20.0}) {
    const auto second = drive_second(s.bike, s.warm, still_air(s), v, v + 15, s.pack);
    const double gained = second_by_integrator_mps(s, v) - v;
    ASSERT_GT(gained, 0.05) << v;
    EXPECT_NEAR(second.speed_end_mps - v, gained, 0.04 * gained) << v;
    // Newton's law over the second, at the wheel.
    const double mean = 0.5 * (v + second.speed_end_mps);
    EXPECT_NEAR(second.force_N,
                road_force(s.bike.params, Steady<double>{mean, 0, 0}) +
                    model::effective_mass_kg(s.bike.params.road) * (second.speed_end_mps - v),
                1e-9 * second.force_N);
  }
}

TEST(Second, RegenerationTakesTheSetCurrentAndTheBrakesTheRest) {
  Standing s("reference", 0.5);
  auto& p = s.bike.params;
  p.regen = 1;
  p.pack.regen_current_max_A = 30;
  const double v = 20, power = 30 * s.pack.source.emf_V;
  EXPECT_NEAR(regen_force_N(p, v, s.pack), power / v, 1e-9);
  EXPECT_EQ(regen_force_N(p, 1.9, s.pack), 0);  // below walking pace
  p.pack.regen_current_max_A = 1e5;  // held by the rear tyre's grip: a fifth of the weight
  EXPECT_NEAR(regen_force_N(p, v, s.pack), 0.2 * 9.80665 * p.road.mass_kg, 1e-6);
  const auto hard = drive_second(s.bike, s.warm, still_air(s), v, v - 6, s.pack);
  const double wanted =
      model::effective_mass_kg(p.road) * 6 - road_force(p, Steady<double>{v - 3, 0, 0});
  EXPECT_NEAR(hard.braked_N - hard.force_N, wanted, 1e-9 * wanted);
  EXPECT_NEAR(-hard.force_N, 0.2 * 9.80665 * p.road.mass_kg, 1e-6);
  p.regen = 0;
  EXPECT_EQ(regen_force_N(p, v, s.pack), 0);
}

// The ledger closes in the middle of a ride too, where the bike still moves and the pack's slow
// part still holds something.
TEST(Second, TheLedgerClosesWhileTheBikeMoves) {
  for (const char* name : {"reference", "beginner"}) {
    const Standing s(name, 0.5);
    const auto fixed =
        ride_fixed(s.bike.params, pack_climate(s.bike.params.pack, s.bike.params.ambient_K), 2.0);
    RideState<double> state{0, 0.5, 0};
    RideTotals<double> sum = empty_totals<double>();
    for (const double wanted : {2.0, 6.0, 12.0, 18.0, 24.0, 23.0, 15.0}) {
      ride_second(s.bike, s.warm, fixed, wanted, state, sum);
      EXPECT_NEAR(ledger_gap(sum.energy), 0, 1e-9 * sum.energy.chemical) << name << wanted;
    }
    const double mass = model::effective_mass_kg(s.bike.params.road);
    EXPECT_NEAR(sum.energy.kinetic, 0.5 * mass * state.speed_mps * state.speed_mps, 1e-6);
  }
}

TEST(Second, MoreThanNineTenthsShortIsMissed) {
  const Standing s("beginner", 0.5);
  const auto fixed =
      ride_fixed(s.bike.params, pack_climate(s.bike.params.pack, s.bike.params.ambient_K), 0.0);
  const double ends = drive_second(s.bike, s.warm, fixed, 15.0, 30.0,
                                   pack_moment(s.bike.params.pack, fixed, 0.5, 0.0).state)
                          .speed_end_mps;
  for (const auto& [above, missed] : {std::pair{0.93, 1.0}, std::pair{0.87, 0.0}}) {
    RideState<double> state{15, 0.5, 0};
    RideTotals<double> sum = empty_totals<double>();
    ride_second(s.bike, s.warm, fixed, ends + above, state, sum);
    EXPECT_NEAR(state.speed_mps, ends, 1e-9);
    EXPECT_EQ(sum.missed_s, missed);
  }
}

// ---- answers

TEST(Answers, FreeSpeedsAreVoltageOverConstant) {
  const model::DriveLimits<double> limits{
      .voltage_limit_V = 48, .current_limit_A = 100, .weakening = 0};
  model::BrushedPmMotor<double> brushed{};
  brushed.constant_Vs = 0.1;
  EXPECT_NEAR(free_speed_radps(brushed, limits), 480, 1e-9);
  model::PmMotor<double> pm{};
  pm.pole_pairs = 4;
  pm.flux_peak_Wb = 0.02;
  EXPECT_NEAR(free_speed_radps(pm, limits), 600, 1e-9);
  EXPECT_TRUE(std::isinf(free_speed_radps(model::BrushedSeriesMotor<double>{}, limits)));
  EXPECT_TRUE(std::isnan(free_speed_radps(model::InductionMotor<double>{}, limits)));
}

// Energy is voltage summed over the charge; consumption is that over the way it lasts.
TEST(Answers, PackEnergyIsTheSumOverItsCharge) {
  const Build b = demo("reference");
  const Ride r = ride(b, cycles(), nominal_only);
  const auto p = bike_of_sheet<model::PmMotor>(b).params.pack;
  double volts = 0;
  constexpr int steps = 20'000;
  for (int i = 0; i < steps; ++i) volts += model::ocv_V(p.cell_ocv, (i + 0.5) / steps) / steps;
  const double energy = value_of(b, "pack.series") * value_of(b, "pack.parallel") *
                        value_of(b, "cell.capacity") * value_of(b, "cell.health") * volts;
  EXPECT_NEAR(r.nominal[Answer::energy_pack], energy, 1e-6 * energy);
  EXPECT_NEAR(r.nominal[Answer::consumption_mixed], energy / r.nominal[Answer::range_mixed],
              1e-6 * r.nominal[Answer::consumption_mixed]);
}

// A mile an hour is 0.44704 m/s by definition; the run is summed in finer pieces than the report's.
TEST(Answers, LaunchesEndAtTheirSpeeds) {
  const Ride r = ride(demo("reference"), cycles(), nominal_only);
  const Standing s("reference", 0.8);
  const auto time_to = [&](double v) {
    return full_throttle(s.bike, s.warm, s.pack, 0.0, v, 200).time_s;
  };
  EXPECT_NEAR(r.nominal[Answer::time_0_50] / time_to(50 / 3.6), 1, 2e-3);
  EXPECT_NEAR(r.nominal[Answer::time_0_60mph] / time_to(60 * 0.44704), 1, 2e-3);
  EXPECT_NEAR(r.nominal[Answer::time_0_100] / time_to(100 / 3.6), 1, 2e-3);
}

// What a held speed takes: road load times speed through the driveline at the shaft; what is left
// of the charge over the current, and the heat of the cells meanwhile.
TEST(Answers, HoldingASpeedIsForceTimesSpeed) {
  for (const char* name : {"reference", "beginner"}) {
    const Build b = demo(name);
    const Ride r = ride(b, cycles(), nominal_only);
    const Standing s(name, 0.5);
    const auto& p = s.bike.params;
    const Steady<double> at{std::min(p.hold_speed_mps, r.nominal[Answer::speed_top]), 0, 0};
    const double watts = road_force(p, at) * at.speed_mps / p.driveline_efficiency;
    EXPECT_NEAR(r.nominal[Answer::power_hold], watts, 1e-6 * watts);
    const auto point = operate_steady(p, s.warm, at, s.pack);
    const auto lasts = endurance(s.bike, at, s.pack);
    const auto hot =
        operate_steady(p, at_winding_temperature(s.bike.motor, p.cooling.limit_K), at, s.pack);
    EXPECT_NEAR(lasts.energy_s * hot.current_pack_A, p.pack.charge_C * (1 - p.pack.usable_to),
                1e-3);
    const double cells_W = point.current_pack_A * point.current_pack_A *
                           (s.pack.source.resistance_ohm - p.pack.wires_ohm);
    const double seconds = p.pack.charge_C * (1 - p.pack.usable_to) / point.current_pack_A;
    EXPECT_NEAR(r.nominal[Answer::pack_rise], cells_W * seconds / p.pack.heat_capacity_J_per_K,
                1e-6 * r.nominal[Answer::pack_rise]);
    EXPECT_NEAR(r.nominal[Answer::current_phase_rms] * std::sqrt(2.0),
                point.shaft.current_phase_peak_A, 1e-6 * point.shaft.current_phase_peak_A);
    const double hot_W =
        hot.current_pack_A * hot.current_pack_A * (s.pack.source.resistance_ohm - p.pack.wires_ohm);
    EXPECT_NEAR(lasts.cells_s * hot_W,
                (p.heat.cells_limit_K - p.ambient_K) * p.pack.heat_capacity_J_per_K, 1e-3);
  }
}

// A bike that does not reach the speed to hold is ridden as fast as it goes, and on until it is
// down to 95 % of that; in still air here.
TEST(Answers, TheMixedDistanceIsTheSharesOfBoth) {
  for (const char* name : {"reference", "beginner"}) {
    Build b = demo(name);
    set(b, "surroundings.wind_mean", "0 km/h +- 0 km/h");
    const Ride r = ride(b, cycles(), nominal_only);
    const auto bike = bike_of_sheet<model::PmMotor>(b);
    const auto& p = bike.params;
    const auto warm = at_winding_temperature(bike.motor, p.ambient_K + 60);
    const auto climate = pack_climate(p.pack, p.ambient_K);
    const double top = r.nominal[Answer::speed_top];
    const double fast = p.hold_speed_mps < top ? p.hold_speed_mps : top;
    const double least = fast < 0.95 * top ? fast : 0.95 * top;
    const double road =
        steady_distance(p, warm, Steady<double>{fast, 0, 0}, least, climate).to_end_m;
    const double town = r.nominal[Answer::range_udds];
    EXPECT_GT(road, 10e3) << name;
    EXPECT_NEAR(r.nominal[Answer::range_mixed] * (p.fast_share / road + (1 - p.fast_share) / town),
                1, 1e-6)
        << name;
  }
}

// The shares and currents of a cycle, against the cycle ridden second by second with its ledger,
// the pack starting midway.
TEST(Answers, MissedSecondsAndCurrentAreThoseOfTheRide) {
  const Build b = demo("beginner");
  const Ride r = ride(b, cycles(), nominal_only);
  const auto bike = bike_of_sheet<model::PmMotor>(b);
  const auto& p = bike.params;
  const auto warm = at_winding_temperature(bike.motor, p.ambient_K + 60);
  const auto fixed = ride_fixed(p, pack_climate(p.pack, p.ambient_K), 0.0);
  RideState<double> state{0, 0.52, 0};
  RideTotals<double> sum = empty_totals<double>();
  double squares = 0;
  const auto& speeds = cycles().udds.speed_mps;
  for (std::size_t i = 1; i < speeds.size(); ++i) {
    const double before = sum.charge_C;
    ride_second(bike, warm, fixed, speeds[i], state, sum);
    squares += (sum.charge_C - before) * (sum.charge_C - before);
  }
  ASSERT_GT(sum.missed_s, 20);
  const double seconds = static_cast<double>(speeds.size());
  EXPECT_NEAR(r.nominal[Answer::missed_udds], sum.missed_s / seconds, 0.1 * sum.missed_s / seconds);
  EXPECT_NEAR(r.nominal[Answer::current_rms], std::sqrt(squares / seconds),
              0.02 * std::sqrt(squares / seconds));
}

// ---- what was ridden

TEST(Ridden, ABikeRiddenAgainSaysTheSameAndOnlyWhatItWasAsked) {
  const Build b = demo("reference");
  Build other = b;
  other.gearing.rear_teeth += 3;
  const auto values = nominal_values(b, soft_figures(b));
  const auto other_values = nominal_values(other, soft_figures(other));
  const AnswerSet top = answers_of(Answer::speed_top), far = answers_of(Answer::range_mixed);
  Ridden ridden;
  const auto first =
      nominal_rides({{&b, &values}, {&other, &other_values}, {&b, &values}}, cycles(), top, ridden);
  const BikeNumbers bike = bike_numbers(b, values), changed = bike_numbers(other, other_values);
  ASSERT_NE(ridden.find(bike, top), nullptr);
  ASSERT_NE(ridden.find(changed, top), nullptr);
  EXPECT_EQ(ridden.find(bike, far), nullptr);
  EXPECT_EQ(ridden.find(bike, top | far), nullptr);
  EXPECT_EQ(first[0].nominal[Answer::speed_top], first[2].nominal[Answer::speed_top]);
  EXPECT_NE(first[0].nominal[Answer::speed_top], first[1].nominal[Answer::speed_top]);
  const auto longer = nominal_rides({{&b, &values}}, cycles(), top | far, ridden);
  ASSERT_NE(ridden.find(bike, top | far), nullptr);
  EXPECT_EQ(ridden.find(changed, far), nullptr);
  const Ride alone = ride(b, cycles(), nominal_only);
  for (const Answer answer : {Answer::speed_top, Answer::range_mixed}) {
    EXPECT_NEAR(longer[0].nominal[answer], alone.nominal[answer], 1e-9 * alone.nominal[answer]);
    EXPECT_EQ(longer[0].band(answer).p10, longer[0].nominal[answer]);
  }
}

// What is known is taken, right or wrong: nothing is ridden again.
TEST(Ridden, WhatIsKnownIsTakenAsItIs) {
  const Build b = demo("reference");
  const auto values = nominal_values(b, soft_figures(b));
  Answers<double> said;
  said.at.fill(7);
  Ridden ridden;
  ridden.note(bike_numbers(b, values), said, answers_of(Answer::speed_top));
  EXPECT_EQ(nominal_rides({{&b, &values}}, cycles(), answers_of(Answer::speed_top), ridden)[0]
                .nominal[Answer::speed_top],
            7);
}

TEST(Kernels, FewLanesTakeANarrowOne) {
  const auto kernels = all_kernels();
  for (std::size_t lanes = 1; lanes <= 9; ++lanes) {
    const Kernel taken = kernel_for(lanes);
    for (const Kernel& kernel : kernels) {
      if (kernel.width >= lanes) {
        EXPECT_LE(taken.width, kernel.width) << lanes;
      }
    }
    EXPECT_TRUE(taken.width >= lanes || taken.width == kernels.back().width) << lanes;
    EXPECT_EQ(kernel_for(lanes, 1).width, 1U);
  }
}

}  // namespace
}  // namespace ww::ride
