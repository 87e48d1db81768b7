// SPDX-License-Identifier: MIT
// The library's motors put through the physics: constants, ratings, losses and limits of one
// listing must belong to one machine. Bands are common practice, no source.
#include <algorithm>
#include <array>
#include <numbers>

#include "model/brushed_motor.h"
#include "model/identify.h"
#include "model/induction_motor.h"
#include "model/key.h"
#include "model/pm_motor.h"
#include "tests/build/parts_library.h"

namespace ww::build::parts {
namespace {

using figure::Convention;
using model::CurrentConvention;
using model::DriveLimits;
using model::VoltageConvention;

constexpr double modulation = 0.95;  // the controller field's own prior
constexpr double brush_V = 1.5;

double phase_limit_V(double pack_V) {
  return modulation * pack_V / model::root_three;
}

bool is_pm(const Motor& m) {
  return drive_for(m.type) == Drives::pm;
}

CurrentConvention amps_of(Convention word) {
  switch (word) {
    case Convention::peak:
      return CurrentConvention::phase_peak;
    case Convention::rms:
      return CurrentConvention::phase_rms;
    case Convention::dc:
    case Convention::unsaid:
      break;
  }
  return CurrentConvention::dc_six_step;
}

/// The amps a listing counts: as it says, else those that make its two constants agree best.
CurrentConvention amps_of(const Motor& m) {
  if (m.torque_constant.convention != Convention::unsaid) {
    return amps_of(m.torque_constant.convention);
  }
  const double product = m.speed_constant.value * m.torque_constant.value;
  CurrentConvention best = CurrentConvention::dc_six_step;
  double least = 1e9;
  for (const auto amps : {CurrentConvention::dc_six_step, CurrentConvention::phase_peak,
                          CurrentConvention::phase_rms}) {
    const double expected = 1.5 / model::root_three * model::phase_peak_per_ampere(amps);
    if (std::abs(product / expected - 1) < least) {
      least = std::abs(product / expected - 1);
      best = amps;
    }
  }
  return best;
}

double drag_torque_Nm(const Motor& m) {
  const model::DcView<double> dc{m.speed_constant.value, m.resistance.value};
  return model::no_load_torque<double>(dc, {m.no_load_voltage.value, m.no_load_current.value});
}

model::DragFit<double> drag_of(const Motor& m) {
  const model::DcView<double> dc{m.speed_constant.value, m.resistance.value};
  const model::NoLoad<double> test{m.no_load_voltage.value, m.no_load_current.value};
  return model::drag_from_one(drag_torque_Nm(m), model::no_load_speed(dc, test));
}

model::PmMotor<double> pm_of(const Motor& m) {
  const double pairs = m.pole_pairs;
  const double phase_H = 0.5 * m.inductance.value;
  const double d_H = 2 * phase_H / (1 + m.saliency.value);
  const auto drag = drag_of(m);
  return {.resistance_phase_ohm = 0.5 * m.resistance.value,
          .inductance_d_H = d_H,
          .inductance_q_H = m.saliency.value * d_H,
          .flux_peak_Wb = model::flux_from_speed_constant(m.speed_constant.value, pairs,
                                                          VoltageConvention::line_line_peak),
          .pole_pairs = pairs,
          .drag_constant_Nm = drag.drag_constant_Nm,
          .drag_linear_Nms = drag.drag_linear_Nms,
          .drag_quadratic_Nms2 = 0};
}

double phase_peak_A(const Motor& m, const Figure& current) {
  return model::current_phase_peak(current.value, amps_of(m));
}

model::BrushedPmMotor<double> brushed_of(const Motor& m) {
  const auto drag = drag_of(m);
  return {.constant_Vs = 1 / m.speed_constant.value,
          .resistance_armature_ohm = m.resistance.value,
          .voltage_brush_V = brush_V,
          .drag_constant_Nm = drag.drag_constant_Nm,
          .drag_linear_Nms = drag.drag_linear_Nms,
          .drag_quadratic_Nms2 = 0};
}

/// The peak fixes the straight part of Froelich's curve; the no-load current is all drag.
model::BrushedSeriesMotor<double> series_of(const Motor& m) {
  const double bend = 1 + m.current_peak.value / m.field_saturation_current.value;
  model::BrushedSeriesMotor<double> motor{
      .constant_series_H =
          m.torque_peak.value * bend / (m.current_peak.value * m.current_peak.value),
      .current_saturation_A = m.field_saturation_current.value,
      .resistance_ohm = m.resistance.value,
      .voltage_brush_V = brush_V,
      .drag_constant_Nm = 0,
      .drag_linear_Nms = 0,
      .drag_quadratic_Nms2 = 0};
  const double idle_A = m.no_load_current.value;
  motor.drag_constant_Nm = model::series_flux_factor(motor, idle_A) * idle_A;
  return motor;
}

/// The flux current is the smaller one at which the peak current makes the peak torque.
model::InductionMotor<double> induction_of(const Motor& m) {
  const double leakage_H = 0.5 * m.leakage_inductance.value;
  const double main_H = m.magnetising_inductance.value;
  model::InductionMotor<double> motor{.resistance_stator_ohm = 0.5 * m.resistance.value,
                                      .resistance_rotor_ohm = m.rotor_resistance.value,
                                      .inductance_leakage_stator_H = leakage_H,
                                      .inductance_leakage_rotor_H = leakage_H,
                                      .inductance_magnetizing_H = main_H,
                                      .pole_pairs = double(m.pole_pairs),
                                      .current_flux_peak_A = 0,
                                      .flux_floor = 1,
                                      .drag_constant_Nm = 0,
                                      .drag_linear_Nms = 0,
                                      .drag_quadratic_Nms2 = 0};
  const double peak_A = phase_peak_A(m, m.current_peak);
  const double factor = model::detail::flux_model(motor).torque_factor;
  const double sine = 2 * m.torque_peak.value / (factor * peak_A * peak_A);
  motor.current_flux_peak_A = peak_A * std::sin(0.5 * std::asin(sine));
  const double flux_copper_W =
      1.5 * motor.resistance_stator_ohm * motor.current_flux_peak_A * motor.current_flux_peak_A;
  const double idle_W = m.no_load_voltage.value * m.no_load_current.value - flux_copper_W;
  motor.drag_constant_Nm = idle_W / m.rated_speed.value;
  return motor;
}

/// One motor of any kind, as the tests below ask it.
struct Machine {
  const Motor& listed;

  template <class Ask>
  double with(Ask ask) const {
    switch (listed.type) {
      case MotorType::induction:
        return ask(induction_of(listed));
      case MotorType::brushed_pm:
        return ask(brushed_of(listed));
      case MotorType::brushed_series:
        return ask(series_of(listed));
      default:
        return ask(pm_of(listed));
    }
  }
  bool brushed() const { return drive_for(listed.type) == Drives::brushed; }
  double limit_V(double pack_V) const { return brushed() ? pack_V : phase_limit_V(pack_V); }
  double terminal_A(const Figure& current) const {
    return brushed() ? current.value : phase_peak_A(listed, current);
  }
  double shaft_max_Nm(double speed_radps, double pack_V, const Figure& current) const {
    const DriveLimits<double> limits{limit_V(pack_V), terminal_A(current), 0};
    return with([&](const auto& m) { return model::torque_shaft_max(m, speed_radps, limits); });
  }
  double copper_W(double torque_Nm, double speed_radps) const {
    const DriveLimits<double> ample{1e4, 1e5, 0};
    return with([&](const auto& m) {
      return model::drive_point<double>(m, {torque_Nm, speed_radps}, ample).loss_copper_W;
    });
  }
  double efficiency(double torque_Nm, double speed_radps) const {
    const DriveLimits<double> ample{1e4, 1e5, 0};
    return with([&](const auto& m) {
      const auto point = model::drive_point<double>(m, {torque_Nm, speed_radps}, ample);
      return torque_Nm * speed_radps / point.power_electrical_W;
    });
  }
};

double rated_torque_Nm(const Motor& m) {
  return m.power_continuous.value / m.rated_speed.value;
}

/// The voltage a motor is rated at: a series motor is tested at 12 V and rated at half its highest.
double rated_V(const Motor& m) {
  return m.type == MotorType::brushed_series ? 0.5 * m.voltage_max.value : m.no_load_voltage.value;
}

TEST(LibraryMotor, SpeedAndTorqueConstantAgree) {
  each<Motor>("motor", [](const Motor& m) {
    if (!m.speed_constant.known()) return;
    const double product = m.speed_constant.value * m.torque_constant.value;
    if (m.type == MotorType::brushed_pm) {
      EXPECT_NEAR(product, 1, 0.02);
      return;
    }
    const double expected = 1.5 / model::root_three * model::phase_peak_per_ampere(amps_of(m));
    EXPECT_NEAR(product / expected, 1, 0.02);
    EXPECT_EQ(m.speed_constant.convention == Convention::unsaid,
              m.speed_constant.evidence == figure::Evidence::seller);
  });
}

TEST(LibraryMotor, SellersLeaveAmpsUnsaidInMoreThanOneSense) {
  std::array<int, 3> senses{};
  each<Motor>("motor", [&](const Motor& m) {
    EXPECT_EQ(m.current_peak.convention, m.torque_constant.convention);
    EXPECT_EQ(m.current_continuous.convention, m.torque_constant.convention);
    // With one constant only, nothing could tell an induction motor's unsaid amps.
    const bool may_be_unsaid =
        m.current_peak.evidence == figure::Evidence::seller && m.type != MotorType::induction;
    EXPECT_EQ(m.current_peak.convention == Convention::unsaid, may_be_unsaid);
    if (is_pm(m) && m.current_peak.convention == Convention::unsaid) {
      ++senses[static_cast<std::size_t>(amps_of(m))];
    }
  });
  for (const int count : senses) EXPECT_GE(count, 1);
}

TEST(LibraryMotor, PeakTorqueIsConstantTimesPeakCurrent) {
  each<Motor>("motor", [](const Motor& m) {
    EXPECT_NEAR(m.torque_constant.value * m.current_peak.value / m.torque_peak.value, 1, 0.08);
    if (!is_pm(m)) return;
    // With the reluctance torque of the listed saliency.
    const auto motor = pm_of(m);
    const double made =
        model::torque_airgap(motor, model::mtpa(motor, phase_peak_A(m, m.current_peak)));
    EXPECT_NEAR(made / m.torque_peak.value, 1, 0.10);
  });
}

TEST(LibraryMotor, ContinuousPowerIsReachedWithTheContinuousCurrent) {
  each<Motor>("motor", [](const Motor& m) {
    const Machine machine{m};
    const double there_Nm =
        machine.shaft_max_Nm(m.rated_speed.value, 10 * m.voltage_max.value, m.current_continuous);
    EXPECT_GE(there_Nm, 0.95 * rated_torque_Nm(m));
    EXPECT_LE(there_Nm, 1.08 * rated_torque_Nm(m)) << "the rating would be higher";
    EXPECT_LT(m.current_continuous.value, m.current_peak.value);
    expect_in(m.power_peak.value / m.power_continuous.value, {2.0, 3.7}, "peak over continuous");
  });
}

TEST(LibraryMotor, LossesAtTheRatedPointArePlausible) {
  each<Motor>("motor", [](const Motor& m) {
    const double copper_W = Machine{m}.copper_W(rated_torque_Nm(m), m.rated_speed.value) -
                            (Machine{m}.brushed() ? brush_V * m.current_continuous.value : 0);
    expect_in(copper_W / m.power_continuous.value, {0.038, 0.072}, "copper at 20 C");
    const double idle_W = m.no_load_voltage.value * m.no_load_current.value;
    expect_in(idle_W / m.power_continuous.value, {0.015, 0.04}, "no-load loss");
  });
}

TEST(LibraryMotor, RatedSpeedIsReachedAtTheRatedVoltage) {
  each<Motor>("motor", [](const Motor& m) {
    EXPECT_LE(m.no_load_voltage.value, m.voltage_max.value);
    if (m.speed_constant.known()) {
      EXPECT_LT(m.rated_speed.value, 0.9 * m.speed_constant.value * m.no_load_voltage.value);
    }
    EXPECT_GE(Machine{m}.shaft_max_Nm(m.rated_speed.value, rated_V(m), m.current_peak),
              rated_torque_Nm(m));
    EXPECT_LE(m.rated_speed.value, m.speed_max.value);
  });
}

TEST(LibraryMotor, PeakPowerIsReachedAtTheHighestVoltage) {
  each<Motor>("motor", [](const Motor& m) {
    double best_W = 0;
    for (int i = 1; i <= 200; ++i) {
      const double speed = m.speed_max.value * i / 200;
      const double made = Machine{m}.shaft_max_Nm(speed, m.voltage_max.value, m.current_peak);
      best_W = std::max(best_W, speed * std::min(made, m.torque_peak.value));
    }
    EXPECT_GE(best_W, 0.95 * m.power_peak.value);
    EXPECT_LE(m.power_peak.value / m.torque_peak.value, m.speed_max.value);
  });
}

TEST(LibraryMotor, FreeRunningAtTheHighestVoltageBurstsNothing) {
  each<Motor>("motor", [](const Motor& m) {
    if (m.speed_constant.known()) {
      EXPECT_LE(m.speed_constant.value * m.voltage_max.value, m.speed_max.value);
    }
    if (m.type != MotorType::brushed_series) return;
    const double idle =
        model::speed_at(series_of(m), m.no_load_voltage.value, m.no_load_current.value);
    EXPECT_LE(idle, m.speed_max.value);
    EXPECT_GT(model::speed_at(series_of(m), m.voltage_max.value, m.no_load_current.value),
              2 * m.speed_max.value)
        << "a series motor without load runs away: no drive may free it";
  });
}

TEST(LibraryMotor, BestEfficiencyIsThatOfTheListedLosses) {
  each<Motor>("motor", [](const Motor& m) {
    double best = 0;
    for (int i = 1; i <= 100; ++i) {
      const double torque = m.torque_peak.value * i / 100;
      best = std::max(best, Machine{m}.efficiency(torque, m.rated_speed.value));
    }
    EXPECT_NEAR(m.efficiency.value, best, 0.025);
  });
}

TEST(LibraryMotor, InductionBreakdownLiesAboveThePeak) {
  int found = 0;
  each<Motor>("motor", [&](const Motor& m) {
    if (m.type != MotorType::induction) return;
    ++found;
    const auto motor = induction_of(m);
    // Terminal inductance is the leakage of two phases: the rotor short-circuits the rest.
    EXPECT_NEAR(m.inductance.value / m.leakage_inductance.value, 2, 0.06);
    const double corner = m.power_peak.value / m.torque_peak.value;
    const double omega = motor.pole_pairs * corner;
    const model::InductionCircuit<double> circuit{
        .resistance_stator_ohm = motor.resistance_stator_ohm,
        .reactance_stator_ohm = omega * motor.inductance_leakage_stator_H,
        .resistance_rotor_ohm = motor.resistance_rotor_ohm,
        .reactance_rotor_ohm = omega * motor.inductance_leakage_rotor_H,
        .reactance_magnetizing_ohm = omega * motor.inductance_magnetizing_H};
    const double phase_rms_V = phase_limit_V(m.voltage_max.value) / model::root_two;
    EXPECT_GT(model::torque_breakdown(circuit, phase_rms_V, corner), 1.3 * m.torque_peak.value);
    expect_in(model::slip_breakdown(circuit), {0.04, 0.4}, "breakdown slip");
    EXPECT_GT(motor.drag_constant_Nm, 0);
    EXPECT_LT(motor.current_flux_peak_A, 0.84 * phase_peak_A(m, m.current_continuous));
  });
  EXPECT_GE(found, 4);
}

TEST(LibraryMotor, AListingIsReadAsItWasMeant) {
  each<Motor>("motor", [](const Motor& m) {
    if (!is_pm(m)) return;
    model::MotorListing listing;
    listing.speed_constant_radpsV = m.speed_constant.value;
    listing.torque_constant_NmA = m.torque_constant.value;
    if (m.speed_constant.convention != Convention::unsaid) {
      listing.speed_constant_convention = VoltageConvention::line_line_peak;
      listing.torque_constant_convention = amps_of(m);
    }
    listing.voltage_rated_V = m.no_load_voltage.value;
    listing.speed_rated_radps = m.rated_speed.value;
    listing.resistance_ohm = m.resistance.value;
    listing.resistance_convention = model::WindingConvention::line_line;
    listing.inductance_H = m.inductance.value;
    listing.inductance_convention = model::WindingConvention::line_line;
    listing.no_load = model::NoLoad<double>{m.no_load_voltage.value, m.no_load_current.value};
    listing.power_continuous_W = m.power_continuous.value;
    listing.peak = model::PeakRating{m.power_peak.value, m.peak_time.value};
    listing.mass_kg = m.mass.value;
    listing.pole_pairs = double(m.pole_pairs);
    const auto found = model::identify(listing);
    ASSERT_GE(found.count, 1U);
    const auto& likeliest = found.readings[0];
    EXPECT_EQ(likeliest.speed_constant_convention, VoltageConvention::line_line_peak);
    EXPECT_NEAR(likeliest.motor.flux_peak_Wb / pm_of(m).flux_peak_Wb, 1, 0.03);
    EXPECT_NEAR(likeliest.motor.resistance_phase_ohm / pm_of(m).resistance_phase_ohm, 1, 0.15);
    const auto heat = model::identify_thermal(listing, likeliest.motor);
    EXPECT_GT(heat.nodes.air_K_per_W, 0);
    EXPECT_GT(heat.nodes.between_K_per_W, 0);
    EXPECT_FALSE(heat.assumptions.has(model::Assumption::peak_too_long_for_mass));
  });
}

TEST(LibraryMotor, PowerAndTorqueGoWithMassAndSize) {
  each<Motor>("motor", [](const Motor& m) {
    const double kW_per_kg = m.power_continuous.value * 1e-3 / m.mass.value;
    const double radius_m = 0.5 * m.diameter.value;
    const double can_m3 = std::numbers::pi * radius_m * radius_m * m.length.value;
    expect_in(m.mass.value / can_m3, {1900, 4500}, "kg/m3 of the can");
    switch (m.type) {
      case MotorType::pm_hub:
        expect_in(kW_per_kg, {0.10, 0.27}, "kW/kg");
        break;
      case MotorType::pm_radial:
        expect_in(kW_per_kg, {0.27, 0.80}, "kW/kg");
        break;
      case MotorType::pm_axial:
        expect_in(kW_per_kg, {1.3, 3.3}, "kW/kg");
        break;
      case MotorType::induction:
        expect_in(kW_per_kg, {0.28, 0.42}, "kW/kg");
        break;
      case MotorType::brushed_pm:
        expect_in(kW_per_kg, {0.40, 0.50}, "kW/kg");
        break;
      case MotorType::brushed_series:
        expect_in(kW_per_kg, {0.16, 0.22}, "kW/kg");
        break;
      case MotorType::unknown:
        ADD_FAILURE();
    }
    expect_in(m.torque_peak.value / rated_torque_Nm(m), {1.8, 5.2}, "peak over continuous torque");
  });
}

TEST(LibraryMotor, ShaftAndFaceFitTheCan) {
  each<Motor>("motor", [](const Motor& m) {
    expect_in(m.length_with_terminals.value / m.length.value, {1.05, 1.5}, "with terminals");
    if (m.shaft == ShaftForm::wheel) {
      EXPECT_EQ(m.type, MotorType::pm_hub);
      EXPECT_GT(m.dropout_width.value, m.length.value);
      expect_in(m.axle_flats.value / m.shaft_diameter.value, {0.60, 0.80}, "flats over axle");
      return;
    }
    EXPECT_GT(m.bolt_circle.value - m.bolt.value, m.pilot_diameter.value);
    EXPECT_LT(m.bolt_circle.value + 2 * m.bolt.value, m.diameter.value);
    EXPECT_GE(m.thread_depth.value, 1.5 * m.bolt.value) << "thread in aluminium";
    EXPECT_LT(m.shaft_diameter.value, m.pilot_diameter.value);
    EXPECT_LE(m.thread_depth.value, 2.6 * m.bolt.value);
    // Torsion of the solid shaft at peak torque, after the reduction.
    const double d = m.shaft_diameter.value;
    const double twist_Pa =
        m.torque_peak.value * m.reduction.value / (std::numbers::pi / 16 * d * d * d);
    if (m.reduction.value < 5 && m.shaft != ShaftForm::flange) {
      expect_in(twist_Pa * 1e-6, {16, 90}, "MPa in the shaft");
      EXPECT_LE(m.shaft_length.value, 2.1 * d);
    }
    // The pull of a chain on a front sprocket of 75 mm pitch diameter; a car's unit has half
    // shafts.
    if (m.reduction.value < 5 && m.shaft != ShaftForm::flange) {
      const double pull_N = m.torque_peak.value * m.reduction.value / 0.0375;
      expect_in(m.bearing_load_max.value / pull_N, {1.1, 3}, "bearing load over chain pull");
    }
    if (m.shaft != ShaftForm::keyed) return;
    EXPECT_LE(m.key_length.value, m.shaft_length.value);
    EXPECT_GE(m.shaft_length.value, 1.2 * m.shaft_diameter.value);
    // Key heights: 7 for 8 wide, 8 for 10, else square. Source: ISO/R 773, ISO 2491 series; ANSI
    // B17.1.
    const double width = m.key_width.value;
    const double height = width > 9e-3 ? 8e-3 : (width > 7e-3 ? 7e-3 : width);
    const double pressure =
        model::key_pressure_Pa<double>({.torque_Nm = m.torque_peak.value,
                                        .shaft_diameter_m = m.shaft_diameter.value,
                                        .width_m = width,
                                        .height_m = height,
                                        .length_m = m.key_length.value});
    expect_in(pressure * 1e-6, {20, 95}, "MPa on the key at peak torque");
  });
}

TEST(LibraryMotor, SensorsGoWithTheKind) {
  each<Motor>("motor", [](const Motor& m) {
    EXPECT_EQ(m.sensor == Sensor::none, Machine{m}.brushed());
    EXPECT_EQ(m.sensor_supply.known(), m.sensor != Sensor::none);
    if (m.type == MotorType::induction) {
      EXPECT_EQ(m.sensor, Sensor::encoder);
    }
    if (m.reduction.value > 1) {
      EXPECT_EQ(m.shaft, ShaftForm::splined);
    }
    if (m.certificate == Answer::yes) {
      EXPECT_EQ(m.power_continuous.evidence, figure::Evidence::data_sheet);
    }
  });
}

double frequency_Hz(const Motor& m) {
  return m.speed_max.value / (2 * std::numbers::pi) * m.pole_pairs;
}

/// The controller can turn this motor, whatever the pack.
bool turns(const Controller& c, const Motor& m) {
  const bool kind = in_set(c.drives, drive_for(m.type)) && in_set(c.sensors, m.sensor);
  const bool quick = !c.frequency_max.known() || frequency_Hz(m) <= c.frequency_max.value;
  return kind && quick && m.inductance.value >= c.inductance_min.value &&
         c.voltage_min.value < 0.8 * m.voltage_max.value &&
         c.voltage_max.value > 0.75 * m.voltage_max.value;
}

TEST(LibraryMotor, EveryMotorHasAControllerAndEveryControllerAMotor) {
  each<Motor>("motor", [](const Motor& m) {
    EXPECT_TRUE(has<Controller>("controller", [&](const Controller& c) { return turns(c, m); }));
  });
  each<Controller>("controller", [](const Controller& c) {
    EXPECT_TRUE(has<Motor>("motor", [&](const Motor& m) { return turns(c, m); }));
  });
}

TEST(LibraryMotor, KindsAndCooling) {
  for (const MotorType type :
       {MotorType::pm_hub, MotorType::pm_radial, MotorType::pm_axial, MotorType::induction,
        MotorType::brushed_pm, MotorType::brushed_series}) {
    int count = 0;
    each<Motor>("motor", [&](const Motor& m) { count += m.type == type ? 1 : 0; });
    EXPECT_GE(count, 2) << static_cast<int>(type);
  }
  for (const Cooling cooling : {Cooling::air, Cooling::liquid, Cooling::oil}) {
    EXPECT_TRUE(has<Motor>("motor", [&](const Motor& m) { return m.cooling == cooling; }));
  }
  for (const ShaftForm shaft :
       {ShaftForm::keyed, ShaftForm::splined, ShaftForm::flange, ShaftForm::wheel}) {
    EXPECT_TRUE(has<Motor>("motor", [&](const Motor& m) { return m.shaft == shaft; }));
  }
}

TEST(LibraryMotor, TheMiddleOfTheRoadMotor) {
  const LibraryPart* part = shipped().library.find("motor", "harrowmere-hornbeam");
  ASSERT_NE(part, nullptr);
  const auto& m = *static_cast<const Motor*>(part->part.get());
  const double rpm = std::numbers::pi / 30;
  EXPECT_NEAR(m.speed_constant.value, 60 * rpm, 1e-9);
  EXPECT_NEAR(m.torque_constant.value, 0.159, 1e-12);
  EXPECT_EQ(m.torque_constant.convention, Convention::dc);
  EXPECT_EQ(m.current_peak.value, 400);
  EXPECT_EQ(m.torque_peak.value, 64);
  EXPECT_EQ(m.power_continuous.value, 10e3);
  EXPECT_EQ(m.power_peak.value, 24e3);
  EXPECT_EQ(m.peak_time.value, 30);
  EXPECT_NEAR(m.speed_max.value, 6000 * rpm, 1e-9);
  EXPECT_EQ(m.mass.value, 17);
  EXPECT_NEAR(m.diameter.value, 0.206, 1e-12);
  EXPECT_NEAR(m.length.value, 0.170, 1e-12);
  EXPECT_NEAR(m.shaft_diameter.value, 0.025, 1e-12);
  EXPECT_NEAR(m.key_width.value, 0.008, 1e-12);
}

}  // namespace
}  // namespace ww::build::parts
