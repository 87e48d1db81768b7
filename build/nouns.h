// SPDX-License-Identifier: MIT
// The nouns of a conversion: donor, rider, wishes, parts, choices. Plain structs of figures; what
// each member is called, measured in and limited to stands once, in the field tables
// (build/fields_*.cpp). Invariants:
// 1. Nothing downstream edits a Build: a change makes a copy.
// 2. A member that is not known says so itself: Figure NaN, count -1, choice 0 ("unknown"), empty
// text, empty set.
// 3. Every enum starts with `unknown` and has one byte, so that the field table can reach it
// erased.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "figure/figure.h"
#include "model/chemistry.h"

namespace ww::build {

using figure::Figure;
using model::Chemistry;

/// A number that is counted, not measured: teeth, cells in series. -1 is "not known".
using Count = int;
inline constexpr Count unknown_count = -1;
/// A set of options, one bit each, in the order of the field's option list. 0 is "not known".
using OptionSet = std::uint32_t;

enum class Answer : std::uint8_t { unknown, no, yes };
enum class BikeClass : std::uint8_t {
  unknown,
  naked_125,
  single_250_300,
  twin_400_500,
  twin_600_650,
  sport_600,
  cruiser_750_900,
  enduro_250_450,
  scooter_125_300
};
enum class Frame : std::uint8_t {
  unknown,
  cradle_steel,
  stressed_engine,
  twin_spar_aluminium,
  backbone,
  step_through
};
enum class Posture : std::uint8_t { unknown, upright, leaning, tucked, upright_with_luggage };
enum class FinalDrive : std::uint8_t { unknown, chain, belt, hub, shaft };
enum class MotorType : std::uint8_t {
  unknown,
  pm_hub,
  pm_radial,
  pm_axial,
  induction,
  brushed_pm,
  brushed_series
};
enum class Cooling : std::uint8_t { unknown, air, liquid, oil };
enum class ResistanceBetween : std::uint8_t { unknown, line_line, phase };
enum class ShaftForm : std::uint8_t { unknown, keyed, splined, flange, wheel };
enum class Sensor : std::uint8_t { unknown, none, hall, sin_cos, resolver, encoder };
enum class ThrottleType : std::uint8_t { unknown, hall, hall_dual, resistive, bus };
enum class CellFormat : std::uint8_t { unknown, cylindrical, pouch, prismatic, module };
enum class TerminalMetal : std::uint8_t { unknown, copper, aluminium, nickel, brass };
enum class Stud : std::uint8_t { unknown, weld, m4, m5, m6, m8, m10, m12 };
enum class BmsType : std::uint8_t { unknown, fet_board, monitor, alarm_only };
enum class BmsPort : std::uint8_t { unknown, common, separate };
enum class CoilClamp : std::uint8_t { unknown, none, diode, zener, internal };
enum class DcdcPlace : std::uint8_t {
  unknown,
  behind_contactor,
  before_contactor_switched,
  before_contactor
};
enum class Flasher : std::uint8_t { unknown, thermal, electronic };
enum class LampKind : std::uint8_t { unknown, filament, led };
enum class Licence : std::uint8_t { unknown, moped_4kW, light_11kW, medium_35kW, full };
enum class State : std::uint8_t { unknown, thinking, ordered, here };
enum class Step : std::uint8_t { unknown, dreaming, buying, energising, riding };
enum class MeterSide : std::uint8_t { unknown, low, high };
enum class BusbarMetal : std::uint8_t { unknown, copper, aluminium };
enum class ShopMetal : std::uint8_t { unknown, steel, aluminium };
enum class Sleeve : std::uint8_t { unknown, none, braid, conduit };
enum class KeyPath : std::uint8_t { unknown, relay, pack_voltage };

/// What every bought thing has.
struct Purchase {
  std::string
      part;  ///< id in the library or in the builder's own file; empty: the figures stand here
  std::string name;
  std::string link;  ///< where it is sold; text only, never opened
  State state = State::unknown;
  Figure price, freight;
  Figure lead_time;
  Figure return_window;
};

/// A box with outside measures.
struct Box {
  Figure length, width, height;
};

struct Project {
  std::string name, builder, notes;
  Step next_step = Step::unknown;
  std::string currency;
};

struct Donor {
  BikeClass bike_class = BikeClass::unknown;
  std::string model;
  Frame frame = Frame::unknown;
  Answer title_clear = Answer::unknown, frame_cut = Answer::unknown, abs = Answer::unknown;
  Answer kept_gearbox = Answer::unknown, inspector_asked = Answer::unknown,
         insurer_asked = Answer::unknown;
  Figure price, parts_sold;
  // Masses and loads
  Figure mass_wet, mass_rolling, gross_mass, axle_front_max, axle_rear_max;
  Figure load_front, load_rear, cog_height;
  Figure wheelbase;
  // Frame bay, from the swingarm pivot; width left and right from the centre plane
  Figure bay_length, bay_width, bay_height, side_left, side_right;
  Figure tunnel_length, tunnel_width, tunnel_height;
  Figure knee_width, ground_clearance, lean_angle;
  Figure mount_holes_measured;  ///< how exactly the frame's own holes are known
  // Driveline as found
  Figure chainline, sprocket_x, sprocket_z, swingarm_length, swingarm_length_max,
      swingarm_width_at_chain;
  Figure swingarm_top, swingarm_to_sprocket, guard_to_sprocket;
  Figure hub_bolt_circle, hub_bolt, hub_bore, hub_offset;
  Count hub_bolts = unknown_count;
  Answer cush_drive = Answer::unknown;
  Figure shaft_ratio, gearbox_ratio, gearbox_speed_max;
  Figure dropout_width, axle_slot;
  // Running gear
  Figure travel_front, travel_rear, spring_front, spring_rear, sprung_front, sprung_rear,
      sag_rider_front, sag_rider_rear;
  Figure preload_rear, stand_angle;
  Figure top_speed_original, power_original;
  Figure original_front_share;
  // Loads on the 12 V side
  Figure load_headlight, load_rear_lamps, load_indicators, load_horn, load_other;
  LampKind lamps = LampKind::unknown;
  Flasher flasher = Flasher::unknown;
  Figure bar_diameter, bar_free_length;
  // Road load
  Figure drag_area, rolling_resistance, rolling_resistance_v2, wheel_inertia_front,
      wheel_inertia_rear;
};

struct Rider {
  Figure mass, passenger_mass, luggage_mass;
  Posture posture = Posture::unknown;
  Figure lean_side_width;
};

struct Wishes {
  Figure hold_speed, top_speed, ride_distance, fast_share, hill_grade, hill_speed, time_0_100,
      budget, time, months;
  Figure charge_time, mass_max;
  Licence licence = Licence::unknown;
};

struct Surroundings {
  Figure coldest, hottest, usual_temperature, altitude, wind_mean, storage_temperature,
      storage_charge;
  Figure outlet_voltage, outlet_breaker, outlet_use, storage_time, distance_per_week, years;
  Answer outlet_temperature_sensed = Answer::unknown, parked_in_sun = Answer::unknown;
  Answer charging_allowed = Answer::unknown, two_people = Answer::unknown;
};

struct Motor : Purchase {
  MotorType type = MotorType::unknown;
  Cooling cooling = Cooling::unknown;
  Figure voltage_max;
  Figure speed_constant, torque_constant, resistance, inductance, saliency;
  ResistanceBetween resistance_between = ResistanceBetween::unknown;
  Count pole_pairs = unknown_count;
  Figure no_load_current, no_load_voltage;
  Figure power_continuous, power_peak, peak_time, torque_peak, current_peak, current_continuous,
      efficiency;
  Figure rated_speed, speed_max;
  Figure rotor_resistance, magnetising_inductance, leakage_inductance;  ///< induction only
  Figure field_saturation_current;                                      ///< brushed series only
  Figure reduction;  ///< inside the housing; 1 where there is none
  Figure mass, diameter, length, length_with_terminals, terminal_bend;
  ShaftForm shaft = ShaftForm::unknown;
  Figure shaft_diameter, shaft_length, key_width, key_length, bearing_load_max;
  Count spline_teeth = unknown_count;
  Figure pilot_diameter, bolt_circle, bolt, thread_depth;
  Count bolts = unknown_count;
  Figure dropout_width, axle_flats;
  Sensor sensor = Sensor::unknown;
  Figure sensor_supply;
  Answer temperature_sensor = Answer::unknown, shaft_measured = Answer::unknown,
         certificate = Answer::unknown;
  Figure winding_temperature_max;
  Count ingress = unknown_count;
};

struct Controller : Purchase, Box {
  OptionSet drives = 0, sensors = 0, throttles = 0;
  Figure voltage_min, voltage_max, voltage_absolute;
  Figure current_battery, current_battery_continuous, current_phase, current_phase_continuous,
      burst_time;
  Figure capacitance, frequency_max, inductance_min, idle_power, efficiency, modulation;
  Answer field_weakening = Answer::unknown, regen = Answer::unknown,
         regen_fold_back = Answer::unknown;
  Answer software_included = Answer::unknown, pinout_in_hand = Answer::unknown,
         temperature_input = Answer::unknown;
  Answer drives_contactor = Answer::unknown, zero_throttle_check = Answer::unknown,
         brake_input = Answer::unknown;
  Figure contactor_drive_current, logic_fuse, supply_5V;
  Figure derate_start, derate_end, thermal_resistance;
  Figure cable_space, mass;
  Count ingress = unknown_count;
};

struct Cell : Purchase, Box {
  Chemistry chemistry = Chemistry::unknown;
  CellFormat format = CellFormat::unknown;
  Count series_inside = unknown_count, parallel_inside = unknown_count;
  Figure voltage_max, voltage_nominal, voltage_min, capacity;
  Figure current_continuous, current_pulse, pulse_time, charge_continuous, charge_pulse;
  Figure resistance, mass;
  Figure charge_temperature_min, charge_temperature_max, discharge_temperature_min,
      discharge_temperature_max;
  Figure compression, growth;
  Stud terminal = Stud::unknown;
  TerminalMetal terminal_metal = TerminalMetal::unknown;
  Figure terminal_torque, cycle_life, health;
  Answer salvage = Answer::unknown, transport_papers = Answer::unknown, tested = Answer::unknown;
};

struct Pack : Box {
  Count series = unknown_count, parallel = unknown_count, strings = unknown_count,
        spares = unknown_count;
  Count boxes = unknown_count, probes = unknown_count;
  Figure link_resistance, loop_resistance, overhead, mass, wall, heater_power;
  Figure busbar_width, busbar_thickness, terminal_clearance, creepage;
  BusbarMetal busbar_metal = BusbarMetal::unknown;
  Answer compressed = Answer::unknown, joint_compound = Answer::unknown,
         flexible_links = Answer::unknown;
  Answer vent = Answer::unknown, drain = Answer::unknown, cells_supported = Answer::unknown;
  Answer string_fuses = Answer::unknown, plugs_keyed = Answer::unknown,
         mid_disconnect = Answer::unknown;
  Figure string_voltage_difference, string_resistance_difference, capacity_imbalance;
  Figure restraint_force;
  Figure x, z;
};

struct Bms : Purchase, Box {
  BmsType type = BmsType::unknown;
  Count series_min = unknown_count, series_max = unknown_count;
  OptionSet chemistries = 0;
  Answer adjustable = Answer::unknown;
  Figure current_continuous, current_trip, trip_delay, current_charge, balance_current, drain,
      voltage_max, resistance;
  BmsPort port = BmsPort::unknown;
  Count probes = unknown_count;
  Answer output = Answer::unknown, output_isolated = Answer::unknown,
         warns_controller = Answer::unknown;
  Figure output_current, mass;
};

struct Charger : Purchase, Box {
  Figure voltage, voltage_tolerance, current, power_in, voltage_in, current_in, efficiency,
      temperature_max, mass;
  Answer adjustable = Answer::unknown, isolated = Answer::unknown, earthed = Answer::unknown;
  Answer enable_input = Answer::unknown, pilot = Answer::unknown, pins_dead = Answer::unknown;
  Answer residual_type_known = Answer::unknown;
  Count ingress = unknown_count;
};

struct Dcdc : Purchase, Box {
  Figure voltage_in_min, voltage_in_max, voltage_out, current_out, efficiency, idle_current,
      back_drain, mass;
  Answer isolated = Answer::unknown, enable_input = Answer::unknown;
};

struct Buffer : Purchase {  ///< the small 12 V battery
  Figure capacity, voltage, current_max, mass;
};

struct Contactor : Purchase, Box {
  Figure coil_voltage, coil_voltage_min, coil_voltage_max, pull_in_voltage, pull_in_current,
      hold_current;
  Figure current_carry, current_break, voltage_max, current_make, cable_section_assumed, withstand,
      resistance, mass;
  Answer polarised = Answer::unknown, economiser = Answer::unknown,
         auxiliary_contact = Answer::unknown;
  Stud stud = Stud::unknown;
};

struct Precharge : Purchase {
  Figure resistance, power, pulse_energy, time, relay_voltage, relay_current, time_out;
};

struct Fuse : Purchase {
  Figure current, voltage_dc, interrupt, melt_time_2x, melt_time_3x, melt_time_5x, melt_time_10x,
      clearing_i2t;
  Stud stud = Stud::unknown;
};

struct Disconnect : Purchase {
  Figure current, voltage, current_break;
  Answer load_break = Answer::unknown, by_hand_in_reach = Answer::unknown;
  Stud stud = Stud::unknown;
};

struct Cable : Purchase {
  Figure section, resistance, temperature_max, outer_diameter, length, bundled, mass;
  Answer orange = Answer::unknown, fine_strand = Answer::unknown;
  Figure bend_radius;
};

struct Lug : Purchase {
  Figure section, hole;
  OptionSet holes = 0;  ///< other sizes of the same section, by Stud
  TerminalMetal metal = TerminalMetal::unknown;
  Figure crimp_die;
};

struct Chain : Purchase {
  std::string designation;
  Figure pitch, roller, inner_width, tensile, mass, price_per_link;
  Answer sealed = Answer::unknown;
  Count links = unknown_count;
};

struct Sprocket : Purchase {
  Count teeth = unknown_count;
  Figure pitch, roller, tooth_width, mass;
  // front
  Figure bore, key_width, hub_length, shaft_offset;
  Count spline_teeth = unknown_count;
  // rear
  Figure bolt_circle, bolt, centre_bore, run_out;
  Count bolts = unknown_count;
  ShopMetal material = ShopMetal::unknown;
};

struct Belt : Purchase {
  Figure pitch, width, power;
  Count front_teeth = unknown_count, rear_teeth = unknown_count;
};

struct Gearing {
  FinalDrive drive = FinalDrive::unknown;
  Count front_teeth = unknown_count, rear_teeth = unknown_count;
  Figure primary_ratio, centre_distance, adjuster_range, chain_slack, efficiency, chainline_error,
      guard_gap, tyre_gap;
};

struct Tyre : Purchase {
  std::string size;
  Count load_index = unknown_count;
  std::string speed_letter;
  Figure circumference, age, pressure, mass;
};

struct Throttle : Purchase {
  ThrottleType type = ThrottleType::unknown;
  Figure supply, voltage_rest, voltage_full, bar_diameter, length;
  Answer springs_back = Answer::unknown, fail_tested = Answer::unknown;
};

struct Display : Purchase {
  Figure supply_min, supply_max, shunt_current;
  Answer isolated = Answer::unknown, counts_charge = Answer::unknown, fused = Answer::unknown;
  MeterSide side = MeterSide::unknown;
};

struct Limits {  ///< what is typed into controller, BMS and charger
  Figure battery_current, phase_current, regen_current, cold_battery_current;
  Figure soft_cut, hard_cut, regen_voltage_max;
  Figure bms_cell_max, bms_cell_min, bms_trip;
  Figure charge_voltage;
  Figure throttle_start, throttle_full, throttle_fault, throttle_ramp, throttle_exponent;
  Figure speed_max, regen_start_speed;
  Answer field_weakening = Answer::unknown, regen = Answer::unknown, cold_limit = Answer::unknown;
  Answer saved = Answer::unknown;
};

struct Layout {  ///< where things sit, from the mock-up; gaps with the suspension at full bump and
                 ///< the bars at lock
  Answer mocked_up = Answer::unknown;
  Figure motor_x, motor_z, motor_face_to_chainline, sprocket_overhang;
  Figure motor_gap, motor_swingarm_gap, rear_wheel_gap, front_wheel_gap, steering_gap, stand_gap,
      heel_gap;
  Figure ground_clearance, lean_angle, knee_width, side_left_used, side_right_used, lateral_offset,
      tank_gap;
  Figure plate_thickness, plate_deflection, mount_preload, mount_bolts_grade;
  Count mount_bolts = unknown_count;
  ShopMetal plate_material = ShopMetal::unknown;
  Answer far_end_support = Answer::unknown, reaction_both_ways = Answer::unknown,
         original_mounts = Answer::unknown;
  Answer welding_on_frame = Answer::unknown, bracing = Answer::unknown,
         torque_arms = Answer::unknown;
  Answer jack_screw = Answer::unknown, locking = Answer::unknown, chain_guard = Answer::unknown;
  Figure spring_front, spring_rear;  ///< in place of the donor's
  Figure controller_plate_area, cable_moving_gap, pack_lift_mass, ride_height_change;
  Figure radiator_area, coolant_flow;
  Answer controller_dry = Answer::unknown, charger_airflow = Answer::unknown;
};

struct Wiring {
  Figure fuse_distance, isolation_resistance, bond_resistance, signal_separation, key_off_current;
  Figure loop_length, phase_length, bus_load_at_precharge, bleed_time, key_switch_voltage;
  CoilClamp coil_clamp = CoilClamp::unknown;
  DcdcPlace dcdc_place = DcdcPlace::unknown;
  Answer dcdc_fuse = Answer::unknown, sense_fuses = Answer::unknown, branch_fuses = Answer::unknown,
         second_fuse = Answer::unknown;
  Answer kill_opens_coil = Answer::unknown, kill_disables_controller = Answer::unknown;
  Answer stand_switch = Answer::unknown, tilt_switch = Answer::unknown,
         inlet_interlock = Answer::unknown;
  Answer lid_switch = Answer::unknown, taps_checked = Answer::unknown,
         twisted_pair = Answer::unknown;
  Answer torque_zero_before_open = Answer::unknown, precharge_before_close = Answer::unknown;
  Answer regen_stop_lamp = Answer::unknown, brake_switches = Answer::unknown,
         horn_on_buffer = Answer::unknown;
  Answer weld_detection = Answer::unknown, common_reference_checked = Answer::unknown;
  Answer load_connectors_rated = Answer::unknown, labels = Answer::unknown,
         contactor_axis_across = Answer::unknown;
  Answer phase_order_found = Answer::unknown, speed_sensor_recalibrated = Answer::unknown;
};

/// How the wires run: lengths along the real path, one way, and what surrounds them. The wires
/// themselves are derived from the parts (room wiring).
struct Loom {
  Figure pack_to_charger, charger_to_inlet, pack_to_converter, converter_to_fuse_box,
      pack_to_monitor;
  Figure fuse_box_to_bars, fuse_box_to_head, fuse_box_to_tail, fuse_box_to_stand,
      fuse_box_to_contactor, controller_to_bars, bars_to_head;
  Figure jumper_length;
  Sleeve sleeve = Sleeve::unknown;
  KeyPath key_path = KeyPath::unknown;
  Count loaded_wires = unknown_count;  ///< that lie in one bundle of the 12 V loom
  Figure section_min, insulation_temperature, drop_share_max;
};

/// A wire of the circuit as the builder wants it or has laid it; named by its label ("T3"). What is
/// not said here is derived. As laid: what was really taken, and that it is in.
struct OwnWire {
  std::string label, colour, route;
  Figure length, section;
  Answer laid = Answer::unknown;
  std::string lug_from = {}, lug_to = {};
  Figure torque = {};
  std::string date = {}, photo = {}, note = {};
};

/// One entry of the log: a step of the protocol (room steps) and what was read. The last of a step
/// counts; the ones before it are kept.
struct LogEntry {
  std::string step, reading, instrument, date, photo, note;
};

/// A cell or module as it came, measured on its own.
struct MeasuredUnit {
  std::string name;
  Figure voltage, voltage_later, capacity, resistance;
  Count group = unknown_count;  ///< already built into this one, counted from most negative
  std::string date, note;
};

/// What the models need and a builder rarely has. Every one has a prior; a builder who knows better
/// says so.
struct Assumed {
  Figure grip, sundries_mass, auxiliary_power;
  Figure rating_air_speed, winding_mass_share, winding_path_share, no_load_loss_share,
      drag_constant_share;
  Figure reactance_share, cell_slow_share, cell_slow_time, cell_activation, capacity_cold_loss,
      tyre_rolling_share;
  Figure usable_to, reserve, fade_share;
};

struct Money {
  Figure contingency, machining, papers, paint, wear_parts, duty_share, electricity_price;
};

/// Anything else bought or to be bought that no rule reads.
struct Extra {
  std::string name, group;
  Figure price, lead_time;
  Count quantity = 1;
  State state = State::unknown;
};

/// Everything known about one conversion. Cheap to copy; nothing downstream edits it.
struct Build {
  Project project;
  std::optional<Donor> donor;
  std::optional<Rider> rider;
  Wishes wishes;
  Surroundings surroundings;
  std::optional<Motor> motor;
  std::optional<Controller> controller;
  std::optional<Cell> cell;
  std::optional<Pack> pack;
  std::optional<Bms> bms;
  std::optional<Charger> charger;
  std::optional<Dcdc> dcdc;
  std::optional<Buffer> buffer;
  std::optional<Contactor> contactor;
  std::optional<Precharge> precharge;
  std::optional<Fuse> fuse;
  std::optional<Disconnect> disconnect;
  std::optional<Cable> cable_main, cable_phase;
  std::optional<Lug> lug;
  Gearing gearing;
  std::optional<Chain> chain;
  std::optional<Sprocket> sprocket_front, sprocket_rear;
  std::optional<Belt> belt;
  std::optional<Tyre> tyre_front, tyre_rear;
  std::optional<Throttle> throttle;
  std::optional<Display> display;
  Limits limits;
  Layout layout;
  Wiring wiring;
  Money money;
  Assumed assumed;
  Loom loom;
  std::vector<std::string> owns;  ///< tools and small parts already there
  std::vector<Extra> extras;
  std::vector<OwnWire> wires;       ///< where the builder departs from what is derived, and as laid
  std::vector<MeasuredUnit> units;  ///< cells or modules as they came
  std::vector<LogEntry> log;        ///< what was done and read, oldest first
};

}  // namespace ww::build
