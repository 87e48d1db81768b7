// SPDX-License-Identifier: MIT
// Motor and controller against each other and against the road: sensor, currents, speeds, heat, and
// what their labels promise. Throttle, papers and listings stand in rules_drive_2.cpp.
// Invariants:
// 1. Torque, current, speed and power of a motor stand at its rotor; a reduction inside the housing
//    comes after them.
// 2. Speeds on the road are those the builder wants or sets, not those the ride works out, so that
//    a way out need not ride again.
#include "fit/rules_drive.h"

#include <algorithm>

#include "model/air.h"
#include "model/motor_constants.h"
#include "model/road.h"

namespace ww::fit {

namespace {

using build::FinalDrive;
using build::MotorType;
using build::Sensor;
using figure::Kind;

constexpr double two_pi = 2 * model::pi;
/// A motor's efficiency where none is listed: common practice, no source.
constexpr double motor_efficiency_usual = 0.9;

bool brushed(const In& in, int type) {
  return in.is(type, MotorType::brushed_pm) || in.is(type, MotorType::brushed_series);
}
/// Whether its speed follows its voltage; an unknown kind is taken to.
bool follows_voltage(const In& in, int type) {
  return !in.is(type, MotorType::induction) && !in.is(type, MotorType::brushed_series);
}
/// Whether it makes voltage when pushed and a controller with a diode bridge sees it.
bool three_phase_magnets(const In& in, int type) {
  return follows_voltage(in, type) && !in.is(type, MotorType::brushed_pm);
}

double larger_known(const In& in) {
  if (!in.has(0) || !in.has(1)) return in.has(0) ? in[0] : in[1];
  return std::max(in[0], in[1]);
}

/// All that holds the bike back on a hill. In: laden mass, grade, speed, rolling coefficient, drag
/// area, altitude (the last three have priors).
double hill_pull_N(const In& in) {
  const model::RoadLoad<double> load{.mass_kg = in[0],
                                     .mass_rotating_equivalent_kg = 0,
                                     .crr0 = in[3],
                                     .crr2_s2pm2 = 0,
                                     .drag_area_m2 = in[4],
                                     .air_density_kgpm3 = model::standard_density_kgpm3(in[5])};
  return model::road_force_N<double>(load, {.speed_mps = in[2], .grade = in[1], .headwind_mps = 0});
}

/// Power over speed, or torque per amp times amps. In: power, rated speed, torque constant,
/// continuous current.
double torque_continuous_Nm(const In& in) {
  return in.has(0) && in.has(1) ? in[0] / in[1] : in[2] * in[3];
}

/// In: speed of the motor over that of the wheel, rolling circumference, torque; drive, efficiency.
double pull_of_torque_N(const In& in) {
  const double radius_m = in[1] / two_pi;
  const double efficiency = in.is(3, FinalDrive::hub) ? 1 : in[4];
  return in[2] * in[0] * efficiency / radius_m;
}

/// Heat of a controller that takes this shaft power through it. In: power, own efficiency, motor's.
double controller_heat_W(double shaft_W, double efficiency, double efficiency_motor) {
  return shaft_W / efficiency_motor * (1 / efficiency - 1);
}

/// Largest continuous kW a kilogram that motors of a kind and cooling are known to give.
double usual_kW_per_kg(const In& in, int type, int cooling) {
  const bool wet = in.is(cooling, build::Cooling::liquid) || in.is(cooling, build::Cooling::oil);
  if (in.is(type, MotorType::pm_hub)) return 0.3;
  if (in.is(type, MotorType::pm_axial)) return 3.3;
  if (in.is(type, MotorType::induction)) return wet ? 1.0 : 0.45;
  if (brushed(in, type)) return 0.55;
  return wet ? 1.0 : 0.7;
}

std::vector<Rule> sensor_rules() {
  return {
      {.id = "position-sensor-at-controller",
       .codes = "E76",
       .title = "the motor's position sensor against what the controller reads",
       .between = {"motor", "controller"},
       .needs = {"motor.sensor", "controller.sensors"},
       .options = {"motor.type"},
       .applies = [](const In& in) { return !brushed(in, 2); },
       .judge =
           [](const In& in) {
             if (!in.holds(1, static_cast<int>(in[0]))) return judged(Verdict::clash);
             return should(!in.is(0, Sensor::none));
           },
       .fits = "The motor's position sensor: {0}; the controller reads: {1}.",
       .tight = "The motor has no position sensor. The controller can run it without, but from a "
                "standstill it then pulls weakly and jerks.",
       .clash =
           "The motor's position sensor: {0}; the controller reads: {1}. It will not start, or "
           "it jerks.",
       .ignoring = {"The controller is sold again at a loss, or a new sensor is fitted.", 80, 250,
                    3},
       .levers = {"controller", "motor"},
       .blocks = Blocks::buying},
      {.id = "position-sensor-supply",
       .codes = "E77",
       .title = "supply the motor's sensor wants against what the controller gives",
       .between = {"motor", "controller"},
       .needs = {"motor.sensor_supply", "controller.supply_5V"},
       .options = {"motor.sensor", "motor.type"},
       .applies = [](const In& in) { return !in.is(2, Sensor::none) && !brushed(in, 3); },
       .judge =
           [](const In& in) {
             return at_most(std::fabs(in[1] - in[0]) / in[0], 0.10).kept_to(0.05);
           },
       .fits = "The sensor wants {0}, the controller gives {1}.",
       .tight = "The sensor wants {0}, the controller gives {1}: more than a twentieth apart. Ask "
                "whether the sensor works there.",
       .clash = "The sensor wants {0}, the controller gives {1}: too little and it stays dead, too "
                "much and it burns.",
       .ignoring = {"A burnt sensor board inside the motor.", 30, 150, 3},
       .levers = {"controller", "motor"},
       .blocks = Blocks::energising},
      {.id = "position-sensor-pole-pairs",
       .codes = "E78",
       .title = "pole pairs against a sensor with one period a turn",
       .between = {"motor"},
       .needs = {"motor.pole_pairs", "motor.sensor"},
       .applies = [](const In& in) { return !in.has(1) || in.is(1, Sensor::sin_cos); },
       .judge = [](const In& in) { return should(in[0] <= 10); },
       .fits = "The motor has {0} pole pairs: the small angle error of a sine-cosine sensor does "
               "little harm.",
       .tight = "The motor has {0} pole pairs: every degree that a one-period sine-cosine sensor "
                "errs counts {0} times. Ask for its periods a turn, and whether the controller "
                "corrects the error.",
       .ignoring = {"Rough pull, hum and heat at speed.", 80, 250, 3},
       .source = "angle error times pole pairs; about 1 deg a turn for such a sensor: from memory",
       .never = "clash",
       .never_why = "it runs, only worse; how much worse no listing says"},
      {.id = "phase-order",
       .codes = "E86",
       .title = "order of phase and sensor leads",
       .between = {"motor", "controller"},
       .needs = {"wiring.phase_order_found"},
       .options = {"motor.type"},
       .applies = [](const In& in) { return !brushed(in, 1); },
       .judge = [](const In& in) { return must(in.yes(0)); },
       .fits = "The order of phases and sensor leads was found at low current.",
       .clash = "The order of phases and sensor leads is not found yet. Of 36 ways to join three "
                "phases and three sensor leads six run well, three each way; the others run rough "
                "and hot. Wheel off the ground on a stand that cannot tip, nobody in its plane, "
                "current limit lowest, tries of two seconds.",
       .can_hurt = true,
       .ignoring = {"A hot motor or a dead power stage in seconds; or it drives backwards.", 100,
                    600, 3},
       .blocks = Blocks::riding,
       .never = "tight",
       .never_why = "found or not found"},
      {.id = "motor-temperature-read",
       .codes = "E85,T10",
       .title = "winding temperature: sensor in the motor, input at the controller",
       .between = {"motor", "controller"},
       .needs = {"motor.temperature_sensor", "controller.temperature_input"},
       .judge = [](const In& in) { return should(in.yes(0) && in.yes(1)); },
       .fits = "The motor has a winding sensor and the controller reads one. Check its value at "
               "room temperature against the curve set in the controller.",
       .tight =
           "Winding sensor in the motor: {0}. Input at the controller: {1}. Nothing will reduce "
           "the current of a hot motor; fit a probe and a display that you look at.",
       .ignoring = {"A burnt winding on a long hill.", 300, 1200, 6},
       .levers = {"motor", "controller"},
       .blocks = Blocks::riding,
       .never = "clash",
       .never_why = "many run without one; they run blind"},
  };
}

std::vector<Rule> current_and_speed_rules() {
  return {
      {.id = "phase-current-at-motor",
       .codes = "E79",
       .title = "largest phase current against the motor's peak",
       .between = {"motor", "controller"},
       .needs = {"fact.phase_current_peak", "motor.current_peak"},
       .options = {"motor.peak_time"},
       .judge =
           [](const In& in) {
             const double share = std::min(1.0, std::sqrt(in.or_else(2, 30) / 30));
             return at_most(in[0], in[1]).kept_to(in[1] * share);
           },
       .kind = Kind::phase_current,
       .fits = "The controller may push {have} (sine peak) through a phase; the motor stands "
               "{limit}.",
       .tight = "The controller may push {have} (sine peak) through a phase. The motor stands "
                "{limit}, but only for {2}; for half a minute the same heat allows {practice}.",
       .clash = "The controller may push {have} (sine peak) through a phase; the motor stands only "
                "{limit}: magnets or winding suffer.",
       .ignoring = {"Weakened magnets or a burnt winding.", 300, 1200, 6},
       .levers = {"limits.phase_current", "controller", "motor"},
       .blocks = Blocks::energising,
       .source = "winding heat of a short pull goes with current squared times time"},
      {.id = "phase-current-held",
       .codes = "E80",
       .title = "phase current at the speed to hold against the motor's continuous current",
       .between = {"motor", "controller"},
       .needs = {"ride.current_phase_rms", "fact.motor_current_held"},
       .judge = [](const In& in) { return at_most(in[0], in[1]); },
       .kind = Kind::current,
       .fits = "Holding the speed takes {have} rms a phase; the motor carries {limit} all day.",
       .tight =
           "Holding the speed takes {have} rms a phase; the motor carries {limit} all day, but "
           "the spread of the figures reaches beyond.",
       .clash = "Holding the speed takes {have} rms a phase; the motor carries only {limit}. It "
                "reduces its power or cooks in a quarter to half an hour.",
       .ignoring = {"A cooked winding.", 300, 1200, 6},
       .levers = {"gearing.rear_teeth", "motor"},
       .blocks = Blocks::buying},
      {.id = "hold-power-at-motor",
       .codes = "T01",
       .title = "power at the speed to hold against the motor's continuous power",
       .between = {"motor"},
       .needs = {"ride.power_hold", "motor.power_continuous"},
       .judge = [](const In& in) { return at_most(in[0], in[1]); },
       .kind = Kind::power,
       .fits = "Holding the speed takes {have} at the motor's shaft; its continuous power is "
               "{limit}.",
       .tight = "Holding the speed takes {have} at the motor's shaft; its continuous power is "
                "{limit}, but the spread of the figures reaches beyond.",
       .clash = "Holding the speed takes {have} at the motor's shaft; its continuous power is only "
                "{limit}: fine for ten or twenty minutes, not for an hour.",
       .ignoring = {"Power fades on a fast road, or the motor cooks.", 300, 1200, 6},
       .levers = {"wishes.hold_speed", "motor"},
       .blocks = Blocks::buying},
      {.id = "motor-speed-full-pack",
       .codes = "E81",
       .title = "motor speed on a full pack without load against its highest speed",
       .between = {"motor", "pack", "cell"},
       .needs = {"fact.motor_speed_full", "motor.speed_max"},
       .options = {"motor.type"},
       .applies = [](const In& in) { return follows_voltage(in, 2); },
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(0.95 * in[1]); },
       .kind = Kind::rotation,
       .fits = "A full pack turns the motor up to {have}; it is made for {limit}.",
       .tight = "A full pack turns the motor up to {have}; it is made for {limit}, and usual "
                "practice stays below {practice}. Field weakening or a descent adds to it.",
       .clash =
           "A full pack turns the motor up to {have}; it is made for only {limit}: magnets may "
           "come loose, the sensor loses count.",
       .can_hurt = true,
       .ignoring = {"A burst rotor, or a stutter at speed.", 300, 1200, 6},
       .levers = {"pack.series", "motor"},
       .blocks = Blocks::buying},
      {.id = "motor-speed-on-the-road",
       .codes = "E81",
       .title = "motor speed at the fastest road speed against its highest speed",
       .between = {"motor"},
       .needs = {"fact.motor_speed_road", "motor.speed_max"},
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(0.95 * in[1]); },
       .kind = Kind::rotation,
       .fits = "At the fastest road speed the motor turns at {have}; it is made for {limit}.",
       .tight = "At the fastest road speed the motor turns at {have}; it is made for {limit}, and "
                "usual practice stays below {practice}, for descents.",
       .clash = "At the fastest road speed the motor would turn at {have}; it is made for only "
                "{limit}.",
       .can_hurt = true,
       .ignoring = {"A burst rotor on a descent, or another round of sprockets.", 80, 1200, 6},
       .levers = {"gearing.rear_teeth", "gearing.front_teeth", "motor"},
       .blocks = Blocks::buying},
      {.id = "back-emf-at-controller",
       .codes = "E82",
       .title = "voltage the spinning motor makes if control is lost",
       .between = {"motor", "controller", "pack", "cell"},
       .needs = {"fact.back_emf_road", "fact.controller_voltage_most", "fact.pack_voltage_full"},
       .options = {"motor.type"},
       .applies = [](const In& in) { return three_phase_magnets(in, 3); },
       .judge =
           [](const In& in) { return at_most(in[0], in[1]).kept_to(std::min(in[1], 1.1 * in[2])); },
       .kind = Kind::voltage,
       .fits =
           "If control is lost at the fastest road speed the motor makes {have}; the controller "
           "stands {limit}.",
       .tight =
           "If control is lost at the fastest road speed the motor makes {have}. The controller "
           "stands {limit}, but the full pack has {2}: the current rushes into it and the bike "
           "brakes hard by itself.",
       .clash =
           "If control is lost at the fastest road speed the motor makes {have}; the controller "
           "stands only {limit}. Field weakening must never be counted on for that.",
       .can_hurt = true,
       .ignoring = {"A fault at speed becomes a dead controller and a locked wheel.", 300, 1500, 5},
       .levers = {"gearing.rear_teeth", "controller", "motor"},
       .blocks = Blocks::buying,
       .source = "peak line-to-line voltage of the open motor, rectified by the power stage"},
      {.id = "electrical-frequency",
       .codes = "E83",
       .title = "electrical frequency against the controller's limit",
       .between = {"motor", "controller"},
       .needs = {"fact.electrical_frequency", "controller.frequency_max"},
       .options = {"motor.type"},
       .applies = [](const In& in) { return !brushed(in, 2); },
       .judge = [](const In& in) { return at_most(in[0], in[1]); },
       .kind = Kind::frequency,
       .fits = "The motor's phases change up to {have}; the controller follows up to {limit}.",
       .tight = "The motor's phases change up to {have}; the controller follows up to {limit}, but "
                "the spread of the figures reaches beyond.",
       .clash = "The motor's phases change up to {have}; the controller follows only up to {limit} "
                "and loses the motor at speed.",
       .can_hurt = true,
       .ignoring = {"Control is lost at the top of the speed range.", 200, 800, 4},
       .levers = {"controller", "motor"},
       .blocks = Blocks::buying,
       .source = "turns a second times pole pairs",
       .on_assumptions = true},
      {.id = "motor-inductance-at-controller",
       .codes = "E84",
       .title = "inductance of the motor against the least the controller can run",
       .between = {"motor", "controller"},
       .needs = {"motor.inductance", "controller.inductance_min"},
       .options = {"motor.type"},
       .applies = [](const In& in) { return !brushed(in, 2); },
       .judge = [](const In& in) { return at_least(in[0], in[1]); },
       .kind = Kind::inductance,
       .fits =
           "The motor has {have} between two leads; the controller runs motors down to {limit}.",
       .tight =
           "The motor has {have} between two leads; the controller runs motors down to {limit}, "
           "but the spread of the figures reaches below.",
       .clash = "The motor has only {have} between two leads; the controller needs {limit}: it "
                "stops on overcurrent. Ask whether its switching frequency can be raised.",
       .ignoring = {"Overcurrent faults under load.", 80, 300, 3},
       .levers = {"controller", "motor"},
       .blocks = Blocks::buying},
      {.id = "pack-voltage-at-motor",
       .codes = "",
       .title = "full pack against the highest voltage the motor is made for",
       .between = {"pack", "cell", "motor"},
       .needs = {"fact.pack_voltage_full", "motor.voltage_max"},
       .judge = [](const In& in) { return at_most(in[0], in[1]); },
       .kind = Kind::voltage,
       .fits = "The full pack has {have}; the motor is made for up to {limit}.",
       .tight = "The full pack has {have}; the motor is made for up to {limit}, but the spread of "
                "the figures reaches beyond.",
       .clash = "The full pack has {have}; the motor is made only for {limit}: insulation, sensor "
                "or brushes give way, and it turns too fast.",
       .can_hurt = true,
       .ignoring = {"A broken-down winding or a flashed-over commutator.", 300, 1200, 6},
       .levers = {"pack.series", "motor"},
       .blocks = Blocks::buying},
      {.id = "hill-pull",
       .codes = "K08",
       .title = "what the steepest hill takes against what the motor pulls with this gearing",
       .between = {"motor"},
       .needs = {"fact.hill_pull_needed", "fact.pull_peak", "fact.pull_continuous"},
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(std::min(in[1], in[2])); },
       .kind = Kind::force,
       .fits =
           "The hill takes {have} at the wheel; with this gearing the motor keeps up {practice}.",
       .tight =
           "The hill takes {have} at the wheel; with this gearing the motor pulls {limit} for a "
           "short time and keeps up {practice}. A short hill it takes, a long one overheats "
           "it.",
       .clash = "The hill takes {have} at the wheel; with this gearing the motor pulls only "
                "{limit}, and that for a short time.",
       .ignoring = {"An overheated motor in the mountains.", 80, 1200, 4},
       .levers = {"gearing.rear_teeth", "gearing.front_teeth", "motor"},
       .blocks = Blocks::buying,
       .source = "rolling, grade and air resistance; torque times ratio over wheel radius"},
  };
}

std::vector<Rule> controller_heat_rules() {
  return {
      {.id = "controller-phase-held",
       .codes = "T02",
       .title = "phase current at the speed to hold against the controller's continuous current",
       .between = {"motor", "controller"},
       .needs = {"ride.current_phase_rms", "fact.controller_current_held"},
       .judge = [](const In& in) { return at_most(in[0], in[1]); },
       .kind = Kind::current,
       .fits =
           "Holding the speed takes {have} rms a phase; the controller carries {limit} all day.",
       .tight =
           "Holding the speed takes {have} rms a phase; the controller carries {limit} all day, "
           "but the spread of the figures reaches beyond.",
       .clash = "Holding the speed takes {have} rms a phase; the controller carries only {limit} "
                "all day and will reduce it.",
       .ignoring = {"Power fades on a fast road.", 200, 800, 4},
       .levers = {"gearing.rear_teeth", "controller"},
       .blocks = Blocks::buying},
      {.id = "controller-base-held",
       .codes = "T02",
       .title = "controller's base at the speed to hold on the hottest day",
       .between = {"motor", "controller"},
       .needs = {"fact.controller_base_held", "controller.derate_start"},
       .judge = [](const In& in) { return at_most(in[0], in[1]); },
       .kind = Kind::temperature,
       .fits = "Holding the speed on the hottest day brings the base to {have}; the controller "
               "reduces from {limit}.",
       .tight = "Holding the speed on the hottest day brings the base to {have}; the controller "
                "reduces from {limit}, and the spread of the figures reaches beyond.",
       .clash = "Holding the speed on the hottest day would bring the base to {have}; the "
                "controller reduces from {limit}. It needs a larger plate in moving air, or less "
                "speed.",
       .ignoring = {"Power fades after a quarter of an hour.", 30, 200, 2},
       .levers = {"wishes.hold_speed", "controller"},
       .source = "heat of the power stage times its path to air; see docs/trust.md",
       .on_assumptions = true},
      {.id = "controller-plate",
       .codes = "T02",
       .title = "cooling plate under the controller",
       .between = {"controller"},
       .needs = {"layout.controller_plate_area", "ride.current_rms"},
       .judge = [](const In& in) { return at_least(in[0], 0.025 * in[1] / 100); },
       .kind = Kind::area,
       .fits =
           "The plate under the controller has {have}; for {1} rms usual practice wants {limit} "
           "in moving air.",
       .tight =
           "The plate under the controller has {have}; for {1} rms usual practice wants {limit} "
           "in moving air, and the spread of the figures reaches above.",
       .clash =
           "The plate under the controller has {have}; for {1} rms usual practice wants {limit} "
           "in moving air: 250 square centimetres for every 100 A.",
       .ignoring = {"Power fades after a quarter of an hour.", 30, 200, 2},
       .levers = {"layout.controller_plate_area"}},
  };
}

/// Counts the known ones among these figures that do not say peak, rms or dc.
double unsaid(const Build& build, std::initializer_list<std::string_view> paths) {
  int count = 0;
  for (const auto path : paths) {
    const figure::Figure* figure = build::figure_at(build, build::id_of(path));
    if (figure == nullptr || !figure->known()) continue;
    if (figure->convention == figure::Convention::unsaid) ++count;
  }
  return count;
}

}  // namespace

std::vector<Fact> drive_facts() {
  return {
      {.id = "speed_road_most",
       .label = "fastest road speed wanted or set",
       .kind = Kind::speed,
       .needs = {"wishes.top_speed"},
       .options = {"limits.speed_max"},
       .compute = larger_known,
       .formula = "the larger of the top speed wanted and the limit set"},
      {.id = "motor_speed_road",
       .label = "motor speed at the fastest road speed",
       .kind = Kind::rotation,
       .needs = {"fact.speed_road_most", "fact.wheel_circumference", "fact.drive_ratio"},
       .compute = [](const In& in) { return in[0] / in[1] * two_pi * in[2]; },
       .formula = "road speed / circumference x motor turns per wheel turn"},
      {.id = "motor_speed_full",
       .label = "motor speed on a full pack without load",
       .kind = Kind::rotation,
       .needs = {"motor.speed_constant", "fact.pack_voltage_full"},
       .compute = [](const In& in) { return in[0] * in[1]; },
       .formula = "speed constant x full voltage"},
      {.id = "motor_speed_most",
       .label = "fastest the motor is going to turn",
       .kind = Kind::rotation,
       .needs = {},
       .options = {"fact.motor_speed_full", "fact.motor_speed_road"},
       .compute = larger_known,
       .formula = "the larger of: on a full pack without load, at the fastest road speed"},
      {.id = "back_emf_road",
       .label = "voltage the motor makes at the fastest road speed",
       .kind = Kind::voltage,
       .needs = {"fact.motor_speed_road", "motor.speed_constant"},
       .compute = [](const In& in) { return in[0] / in[1]; },
       .formula = "motor speed / speed constant"},
      {.id = "controller_voltage_most",
       .label = "voltage the controller stands",
       .kind = Kind::voltage,
       .needs = {},
       .options = {"controller.voltage_absolute", "controller.voltage_max"},
       .compute = [](const In& in) { return in.or_else(0, in[1]); },
       .formula = "the voltage that destroys it; else its highest operating voltage"},
      {.id = "electrical_frequency",
       .label = "electrical frequency at the motor's fastest",
       .kind = Kind::frequency,
       .needs = {"fact.motor_speed_most", "motor.pole_pairs"},
       .compute = [](const In& in) { return in[0] / two_pi * in[1]; },
       .formula = "turns a second x pole pairs"},
      {.id = "motor_current_held",
       .label = "phase current the motor carries all day (rms)",
       .kind = Kind::current,
       .needs = {"motor.current_continuous"},
       .compute =
           [](const In& in) {
             return model::current_in_convention(in[0], model::CurrentConvention::phase_rms);
           },
       .formula = "continuous phase current, sine peak / 1.414"},
      {.id = "controller_current_held",
       .label = "phase current the controller carries all day (rms)",
       .kind = Kind::current,
       .needs = {"controller.current_phase_continuous"},
       .compute =
           [](const In& in) {
             return model::current_in_convention(in[0], model::CurrentConvention::phase_rms);
           },
       .formula = "continuous phase current, sine peak / 1.414"},
      {.id = "controller_base_held",
       .label = "controller's base at the speed to hold, hottest day",
       .kind = Kind::temperature,
       .needs = {"surroundings.hottest", "ride.power_hold", "controller.efficiency",
                 "controller.thermal_resistance"},
       .options = {"motor.efficiency"},
       .compute =
           [](const In& in) {
             return in[0] +
                    in[3] * controller_heat_W(in[1], in[2], in.or_else(4, motor_efficiency_usual));
           },
       .formula = "air + path to air x shaft power / motor efficiency x (1 / own efficiency - 1)"},
      {.id = "hill_pull_needed",
       .label = "pull that the steepest hill takes",
       .kind = Kind::force,
       .needs = {"ride.mass_laden", "wishes.hill_grade", "wishes.hill_speed"},
       .options = {"donor.rolling_resistance", "donor.drag_area", "surroundings.altitude"},
       .compute = hill_pull_N,
       .formula = "weight along the slope + rolling + air"},
      {.id = "motor_torque_continuous",
       .label = "torque the motor keeps up",
       .kind = Kind::torque,
       .needs = {},
       .options = {"motor.power_continuous", "motor.rated_speed", "motor.torque_constant",
                   "motor.current_continuous"},
       .compute = torque_continuous_Nm,
       .formula = "continuous power / speed at it; else torque per amp x continuous current"},
      {.id = "pull_continuous",
       .label = "pull at the wheel that the motor keeps up",
       .kind = Kind::force,
       .needs = {"fact.drive_ratio", "fact.wheel_circumference", "fact.motor_torque_continuous"},
       .options = {"gearing.drive", "gearing.efficiency"},
       .compute = pull_of_torque_N,
       .formula = "torque x motor turns per wheel turn x efficiency / rolling radius"},
      {.id = "pull_peak",
       .label = "pull at the wheel from the motor's peak torque",
       .kind = Kind::force,
       .needs = {"fact.drive_ratio", "fact.wheel_circumference", "fact.torque_peak"},
       .options = {"gearing.drive", "gearing.efficiency"},
       .compute = pull_of_torque_N,
       .formula = "torque x motor turns per wheel turn x efficiency / rolling radius"},
      {.id = "constants_product",
       .label = "speed constant times torque constant; 1 where both count the same volts and amps",
       .kind = Kind::ratio,
       .needs = {"motor.speed_constant", "motor.torque_constant"},
       .compute =
           [](const In& in) {
             return in[0] * in[1] /
                    (1.5 * model::phase_peak_per_volt(model::VoltageConvention::line_line_peak));
           },
       .formula = "rpm per volt x Nm per amp / 9.55, both in the DC convention"},
      {.id = "peak_torque_share",
       .label = "listed peak torque over torque constant times peak current",
       .kind = Kind::share,
       .needs = {"motor.torque_peak", "motor.torque_constant", "motor.current_peak"},
       .compute = [](const In& in) { return in[0] / (in[1] * in[2]); },
       .formula = "peak torque / (Nm per amp x peak phase current)"},
      {.id = "continuous_kW_per_kg",
       .label = "continuous power a kilogram of motor",
       .kind = Kind::ratio,
       .needs = {"motor.power_continuous", "motor.mass"},
       .compute = [](const In& in) { return in[0] / in[1] / 1000; },
       .formula = "continuous kW / kg"},
      {.id = "usual_kW_per_kg",
       .label = "most continuous kW a kilogram that this kind of motor is known for",
       .kind = Kind::ratio,
       .needs = {"motor.type"},
       .options = {"motor.cooling"},
       .compute = [](const In& in) { return usual_kW_per_kg(in, 0, 1); },
       .formula = "by kind and cooling: common practice, no source"},
      {.id = "phase_words_unsaid",
       .label = "phase currents that do not say peak, rms or dc",
       .kind = Kind::ratio,
       .needs = {},
       .from_build =
           [](const Build& b) {
             return unsaid(
                 b, {"controller.current_phase", "controller.current_phase_continuous",
                     "motor.current_peak", "motor.current_continuous", "limits.phase_current"});
           }},
      {.id = "constant_words_unsaid",
       .label = "motor constants that do not say dc, peak or rms",
       .kind = Kind::ratio,
       .needs = {},
       .from_build =
           [](const Build& b) {
             return unsaid(b, {"motor.speed_constant", "motor.torque_constant"});
           }},
  };
}

std::vector<Rule> drive_rules() {
  std::vector<Rule> rules = sensor_rules();
  for (auto* more :
       {&current_and_speed_rules, &controller_heat_rules, &control_rules, &label_rules}) {
    for (Rule& rule : more()) rules.push_back(std::move(rule));
  }
  return rules;
}

}  // namespace ww::fit
