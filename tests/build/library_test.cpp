// SPDX-License-Identifier: MIT
// The first half of the parts library (what drives the bike): it loads, every part knows what the
// rules read, and its invented figures agree with each other. The motors' physics stand in
// library_motor_test.cpp. Bands are common practice, no source.
#include <algorithm>
#include <array>
#include <set>

#include "model/chemistry.h"
#include "tests/build/parts_library.h"

namespace ww::build::parts {
namespace {

using Keys = std::vector<std::string_view>;

struct Wanted {
  std::string_view shelf;
  std::size_t least;
  Keys fields;
};

const std::vector<Wanted>& wanted() {
  static const std::vector<Wanted> list{
      {"motor",
       24,
       {"type",
        "cooling",
        "voltage_max",
        "torque_constant",
        "resistance",
        "resistance_between",
        "inductance",
        "pole_pairs",
        "no_load_current",
        "no_load_voltage",
        "power_continuous",
        "power_peak",
        "peak_time",
        "torque_peak",
        "current_peak",
        "current_continuous",
        "efficiency",
        "rated_speed",
        "speed_max",
        "reduction",
        "mass",
        "diameter",
        "length",
        "length_with_terminals",
        "terminal_bend",
        "shaft",
        "shaft_diameter",
        "sensor",
        "temperature_sensor",
        "certificate",
        "winding_temperature_max",
        "ingress"}},
      {"controller",
       22,
       {"drives",
        "sensors",
        "throttles",
        "voltage_min",
        "voltage_max",
        "voltage_absolute",
        "current_battery",
        "current_battery_continuous",
        "current_phase",
        "current_phase_continuous",
        "burst_time",
        "capacitance",
        "inductance_min",
        "idle_power",
        "efficiency",
        "modulation",
        "field_weakening",
        "regen",
        "regen_fold_back",
        "software_included",
        "temperature_input",
        "drives_contactor",
        "zero_throttle_check",
        "brake_input",
        "logic_fuse",
        "supply_5V",
        "derate_start",
        "derate_end",
        "thermal_resistance",
        "cable_space",
        "mass",
        "ingress",
        "length",
        "width",
        "height"}},
      {"cell",
       24,
       {"chemistry",
        "format",
        "series_inside",
        "parallel_inside",
        "voltage_max",
        "voltage_nominal",
        "voltage_min",
        "capacity",
        "current_continuous",
        "current_pulse",
        "pulse_time",
        "charge_continuous",
        "charge_pulse",
        "resistance",
        "mass",
        "charge_temperature_min",
        "charge_temperature_max",
        "discharge_temperature_min",
        "discharge_temperature_max",
        "compression",
        "growth",
        "terminal",
        "terminal_metal",
        "cycle_life",
        "salvage",
        "transport_papers",
        "length",
        "width",
        "height"}},
      {"bms",
       14,
       {"type", "series_min", "series_max", "chemistries", "adjustable", "balance_current", "drain",
        "voltage_max", "probes", "output_isolated", "warns_controller", "output_current", "mass",
        "length", "width", "height"}},
      {"charger",
       20,
       {"voltage", "voltage_tolerance", "current", "power_in", "voltage_in", "current_in",
        "efficiency", "temperature_max", "mass", "adjustable", "isolated", "enable_input", "pilot",
        "pins_dead", "ingress", "length", "width", "height"}},
      {"dcdc",
       10,
       {"voltage_in_min", "voltage_in_max", "voltage_out", "current_out", "efficiency",
        "idle_current", "back_drain", "mass", "isolated", "enable_input", "length", "width",
        "height"}},
      {"buffer", 6, {"capacity", "voltage", "current_max", "mass"}},
  };
  return list;
}

/// What a part of that kind must know besides.
Keys besides(const LibraryPart& part) {
  if (part.slot->shelf == "motor") {
    Keys keys;
    const auto add = [&](const Keys& more) { keys.insert(keys.end(), more.begin(), more.end()); };
    const auto& motor = *static_cast<const Motor*>(part.part.get());
    const Drives drives = drive_for(motor.type);
    if (motor.type != MotorType::brushed_series && drives != Drives::induction) {
      add({"speed_constant"});
    }
    if (drives == Drives::pm) add({"saliency"});
    if (drives == Drives::induction) {
      add({"rotor_resistance", "magnetising_inductance", "leakage_inductance"});
    }
    if (motor.type == MotorType::brushed_series) add({"field_saturation_current"});
    if (motor.sensor != Sensor::none) add({"sensor_supply"});
    if (motor.shaft == ShaftForm::wheel) {
      add({"dropout_width", "axle_flats"});
    } else {
      add({"pilot_diameter", "bolt_circle", "bolt", "bolts", "thread_depth", "bearing_load_max"});
    }
    if (motor.shaft == ShaftForm::keyed) add({"shaft_length", "key_width", "key_length"});
    if (motor.shaft == ShaftForm::splined) add({"shaft_length", "spline_teeth"});
    return keys;
  }
  if (part.slot->shelf == "controller") {
    Keys keys;
    const auto& controller = *static_cast<const Controller*>(part.part.get());
    if (controller.drives_contactor == Answer::yes) keys.push_back("contactor_drive_current");
    if (!in_set(controller.drives, Drives::brushed)) keys.push_back("frequency_max");
    return keys;
  }
  if (part.slot->shelf == "cell") {
    Keys keys;
    const auto& cell = *static_cast<const Cell*>(part.part.get());
    if (cell.terminal != Stud::weld) keys.push_back("terminal_torque");
    if (cell.salvage == Answer::yes) keys.push_back("health");
    return keys;
  }
  if (part.slot->shelf == "bms") {
    const auto& bms = *static_cast<const Bms*>(part.part.get());
    if (bms.type == BmsType::alarm_only) return {};
    return {"current_continuous", "current_trip", "trip_delay",
            "current_charge",     "resistance",   "port"};
  }
  return {};
}

bool knows(const LibraryPart& part, std::string_view key) {
  Build build;
  put_part(build, *part.slot, part);
  return known_at(build, id_of(std::string(part.slot->key) + "." + std::string(key)));
}

double volume_m3(const Box& box) {
  return box.length.value * box.width.value * box.height.value;
}

TEST(Library, LoadsWithoutErrors) {
  for (const Error& error : shipped().errors) ADD_FAILURE() << describe(error);
}

TEST(Library, HoldsEnoughPartsWithUniqueIdsAndNames) {
  std::set<std::string> ids, names;
  for (const Wanted& want : wanted()) {
    const auto& parts = shipped().library.shelf(want.shelf);
    EXPECT_GE(parts.size(), want.least) << want.shelf;
    for (const LibraryPart& part : parts) {
      EXPECT_TRUE(ids.insert(part.id).second) << part.id;
      Build build;
      put_part(build, *part.slot, part);
      const std::string name = show(build, id_of(std::string(part.slot->key) + ".name"));
      EXPECT_TRUE(names.insert(name).second) << name;
      // The id's first word is the maker, as in the name.
      const std::string maker = part.id.substr(0, part.id.find('-'));
      EXPECT_EQ(name.substr(1, maker.size() - 1), maker.substr(1)) << part.id;
    }
  }
}

TEST(Library, EveryPartKnowsWhatTheRulesRead) {
  for (const Wanted& want : wanted()) {
    for (const LibraryPart& part : shipped().library.shelf(want.shelf)) {
      SCOPED_TRACE(part.id);
      for (const auto key : {"name", "price", "freight", "lead_time", "return_window"}) {
        EXPECT_TRUE(knows(part, key)) << key;
      }
      for (const auto key : want.fields) EXPECT_TRUE(knows(part, key)) << key;
      for (const auto key : besides(part)) EXPECT_TRUE(knows(part, key)) << key;
    }
  }
}

TEST(Library, NothingClaimsWhatOnlyTheBuilderCanKnow) {
  for (const auto path :
       {"motor.shaft_measured", "controller.pinout_in_hand", "cell.tested", "bms.output",
        "charger.earthed", "charger.residual_type_known", "motor.state", "cell.state"}) {
    const std::string_view key =
        std::string_view(path).substr(std::string_view(path).find('.') + 1);
    const std::string shelf(path, std::string_view(path).find('.'));
    for (const LibraryPart& part : shipped().library.shelf(shelf)) {
      EXPECT_FALSE(knows(part, key)) << part.id << " " << path;
    }
  }
}

TEST(Library, EvidenceIsADataSheetOrASellerOnEveryFigureOfAPart) {
  for (const Wanted& want : wanted()) {
    std::set<figure::Evidence> grades;
    for (const LibraryPart& part : shipped().library.shelf(want.shelf)) {
      std::set<figure::Evidence> here;
      Build build;
      put_part(build, *part.slot, part);
      for (const Id id : schema().fields_of(*part.slot)) {
        const Figure* figure = figure_at(build, id);
        if (figure != nullptr && figure->known()) here.insert(figure->evidence);
      }
      EXPECT_EQ(here.size(), 1U) << part.id;
      grades.insert(here.begin(), here.end());
    }
    const std::set<figure::Evidence> both{figure::Evidence::seller, figure::Evidence::data_sheet};
    EXPECT_EQ(grades, both) << want.shelf;
  }
}

TEST(Library, HeadSaysThatItIsInvented) {
  for (const Wanted& want : wanted()) {
    const std::string bytes = bytes_of(std::filesystem::path(WW_SOURCE_DIR) / "data" / "parts" /
                                       (std::string(want.shelf) + ".toml"));
    EXPECT_EQ(bytes.rfind("# SPDX-License-Identifier: MIT\n# common practice, no source; prices in "
                          "units of roughly one euro or dollar; all makers and codes invented\n",
                          0),
              0U)
        << want.shelf;
  }
}

/// What any part of its kind has, whatever its size; SI. Tighter than the fields' own limits.
struct Usual {
  std::string_view path;
  Band band;
};

const std::vector<Usual>& usual() {
  static const std::vector<Usual> list{
      {"motor.peak_time", {10, 30}},
      {"motor.terminal_bend", {0.040, 0.090}},
      {"motor.sensor_supply", {5, 12}},
      {"motor.winding_temperature_max", {393.15, 413.15}},
      {"motor.ingress", {0, 7}},
      {"motor.saliency", {1.0, 1.5}},
      {"motor.bolt", {0.0079, 0.010}},
      {"motor.bolts", {4, 8}},
      {"controller.burst_time", {10, 60}},
      {"controller.idle_power", {2, 8}},
      {"controller.efficiency", {0.94, 0.97}},
      {"controller.modulation", {0.93, 0.98}},
      {"controller.frequency_max", {600, 1500}},
      {"controller.inductance_min", {15e-6, 60e-6}},
      {"controller.contactor_drive_current", {1.5, 3}},
      {"controller.logic_fuse", {0, 5}},
      {"controller.supply_5V", {5, 12}},
      {"controller.cable_space", {0.070, 0.090}},
      {"controller.derate_start", {343.15, 358.15}},
      {"cell.pulse_time", {10, 10}},
      {"cell.growth", {0, 0.06}},
      {"cell.compression", {0, 80e3}},
      {"cell.cycle_life", {250, 20000}},
      {"cell.charge_temperature_max", {318.15, 328.15}},
      {"bms.trip_delay", {0.5, 1.5}},
      {"bms.drain", {0.05e-3, 12e-3}},
      {"bms.probes", {0, 8}},
      {"bms.output_current", {0, 3}},
      {"charger.temperature_max", {313.15, 323.15}},
      {"charger.efficiency", {0.88, 0.95}},
      {"charger.ingress", {2, 7}},
      {"dcdc.back_drain", {2e-3, 0.4}},
      {"dcdc.efficiency", {0.87, 0.93}},
  };
  return list;
}

TEST(Library, FiguresLieWhereTheirKindHasThem) {
  for (const Usual& row : usual()) {
    const auto dot = row.path.find('.');
    for (const LibraryPart& part : shipped().library.shelf(row.path.substr(0, dot))) {
      if (!knows(part, row.path.substr(dot + 1))) continue;
      Build build;
      put_part(build, *part.slot, part);
      const double value = number_at(build, id_of(row.path));
      EXPECT_GE(value, row.band.low - 1e-9) << part.id << " " << row.path;
      EXPECT_LE(value, row.band.high + 1e-9) << part.id << " " << row.path;
    }
  }
}

TEST(Library, BoxesAreAsHeavyAsTheyAreLarge) {
  each<Controller>("controller", [](const Controller& c) {
    expect_in(c.mass.value / volume_m3(c), {780, 1750}, "kg/m3");
    EXPECT_GT(c.length.value, c.width.value);
    EXPECT_GT(c.width.value, c.height.value);
  });
  each<Bms>("bms", [](const Bms& b) {
    expect_in(b.mass.value / volume_m3(b), {500, 1700}, "kg/m3");
    EXPECT_GT(b.length.value, b.width.value);
    EXPECT_GT(b.width.value, b.height.value);
  });
  each<Charger>("charger", [](const Charger& c) {
    expect_in(c.mass.value / volume_m3(c), {900, 1400}, "kg/m3");
    EXPECT_GT(c.length.value, c.width.value);
    EXPECT_GT(c.width.value, c.height.value);
  });
  each<Dcdc>("dcdc", [](const Dcdc& d) {
    expect_in(d.mass.value / volume_m3(d), {900, 1700}, "kg/m3");
    EXPECT_GT(d.length.value, d.width.value);
    EXPECT_GT(d.width.value, d.height.value);
  });
}

// ---- Controllers

TEST(Library, ControllerWindowsAndCurrents) {
  each<Controller>("controller", [](const Controller& c) {
    expect_in(c.voltage_min.value / c.voltage_max.value, {0.30, 0.68}, "window");
    EXPECT_GE(c.voltage_absolute.value, 1.02 * c.voltage_max.value);
    EXPECT_LE(c.voltage_absolute.value, 1.20 * c.voltage_max.value);
    expect_in(c.current_battery.value / c.current_battery_continuous.value, {1.7, 3.0}, "battery");
    expect_in(c.current_phase.value / c.current_phase_continuous.value, {1.5, 2.8}, "phase");
    // Phase amps, however counted, are not fewer than battery amps.
    EXPECT_GE(c.current_phase.value, c.current_battery.value);
    EXPECT_EQ(c.current_phase.convention, c.current_phase_continuous.convention);
    if (c.current_phase.convention == figure::Convention::unsaid) {
      EXPECT_EQ(c.current_phase.evidence, figure::Evidence::seller);
    }
    EXPECT_EQ(in_set(c.drives, Drives::brushed), in_set(c.sensors, Sensor::none));
    // Ripple current grows with the battery's, the bus capacitor with the ripple.
    if (c.voltage_max.value < 200) {
      expect_in(c.capacitance.value / c.current_battery.value, {9e-6, 19e-6}, "F/A");
    } else {
      expect_in(c.capacitance.value / c.current_battery.value, {1.2e-6, 2e-6}, "F/A");
    }
    if (c.regen == Answer::no) {
      EXPECT_EQ(c.regen_fold_back, Answer::no);
    }
  });
}

TEST(Library, ControllerHeldCoolByThePlateItAsksFor) {
  each<Controller>("controller", [](const Controller& c) {
    const double pack_V = 0.86 * c.voltage_max.value;  // nominal under the highest
    const double loss_W = pack_V * c.current_battery_continuous.value * (1 - c.efficiency.value);
    const double base_K = 273.15 + 40 + loss_W * c.thermal_resistance.value;
    EXPECT_LT(base_K, c.derate_start.value + 1) << "the continuous rating would not hold";
    EXPECT_GT(base_K, c.derate_start.value - 8) << "the plate is larger than the rating needs";
    EXPECT_GE(c.derate_end.value, c.derate_start.value + 14.99);
  });
}

TEST(Library, ControllersOfEveryVoltageAndKind) {
  for (const double volts : {54.6, 58.4, 58.8, 67.2, 73.0, 84.0, 87.6, 100.8, 117.6, 400.0}) {
    EXPECT_TRUE(has<Controller>("controller", [&](const Controller& c) {
      return 0.95 * c.voltage_max.value >= volts && c.voltage_min.value <= 0.7 * volts;
    })) << volts;
  }
  for (const Drives kind : {Drives::pm, Drives::induction, Drives::brushed}) {
    EXPECT_TRUE(
        has<Controller>("controller", [&](const Controller& c) { return in_set(c.drives, kind); }));
  }
  for (const Sensor sensor : {Sensor::hall, Sensor::sin_cos, Sensor::resolver, Sensor::encoder}) {
    EXPECT_TRUE(has<Controller>("controller",
                                [&](const Controller& c) { return in_set(c.sensors, sensor); }));
  }
}

TEST(Library, TheMiddleOfTheRoadController) {
  const LibraryPart* part = shipped().library.find("controller", "harrowmere-weir");
  ASSERT_NE(part, nullptr);
  const auto& c = *static_cast<const Controller*>(part->part.get());
  EXPECT_EQ(c.voltage_min.value, 40);
  EXPECT_EQ(c.voltage_max.value, 96);
  EXPECT_EQ(c.current_battery.value, 300);
  EXPECT_EQ(c.current_phase.value, 400);
  EXPECT_EQ(c.current_phase.convention, figure::Convention::dc);
  EXPECT_NEAR(c.capacitance.value, 4.7e-3, 1e-12);
}

// ---- Cells

/// Nominal energy over mass of bare cells and of modules, Wh/kg.
Band energy_band(const Cell& cell) {
  switch (cell.chemistry) {
    case Chemistry::lfp:
      return {90, 190};
    case Chemistry::nmc:
      return cell.format == CellFormat::module ? Band{90, 215} : Band{150, 280};
    case Chemistry::nca:
      return {180, 290};
    case Chemistry::lco:
      return {150, 200};
    case Chemistry::lto:
      return {60, 95};
    case Chemistry::sodium:
      return {80, 160};
    case Chemistry::lead:
    case Chemistry::unknown:
      break;
  }
  return {1, 0};
}

TEST(Library, CellVoltagesAreThoseOfTheirChemistry) {
  each<Cell>("cell", [](const Cell& c) {
    const auto limits = model::cell_limits(c.chemistry);
    const double series = c.series_inside;
    EXPECT_LE(c.voltage_max.value / series, limits.full_V + 0.101);
    EXPECT_GE(c.voltage_max.value / series, limits.full_V - 1e-9);
    EXPECT_NEAR(c.voltage_nominal.value / series, limits.nominal_V, 0.151);
    EXPECT_GE(c.voltage_min.value / series, limits.absolute_min_V - 1e-9);
    EXPECT_LE(c.voltage_min.value / series, limits.empty_V + 1e-9);
    EXPECT_EQ(c.format == CellFormat::module, c.series_inside * c.parallel_inside > 1);
  });
}

TEST(Library, CellEnergyMassAndSize) {
  each<Cell>("cell", [](const Cell& c) {
    const double energy_Wh = c.voltage_nominal.value * c.capacity.value / 3600;
    expect_in(energy_Wh / c.mass.value, energy_band(c), "Wh/kg");
    expect_in(c.mass.value / volume_m3(c), {1200, 2900}, "kg/m3 of the box around it");
    if (c.format == CellFormat::cylindrical) {
      EXPECT_EQ(c.length.value, c.width.value);
      EXPECT_GT(c.height.value, c.width.value);
      EXPECT_EQ(c.growth.value, 0);
      EXPECT_EQ(c.compression.value, 0);
    } else {
      EXPECT_LE(c.width.value, c.length.value) << "width is the thickness";
      EXPECT_GT(c.growth.value, 0);
    }
  });
}

TEST(Library, CellCurrentsAndResistance) {
  each<Cell>("cell", [](const Cell& c) {
    EXPECT_LT(c.current_continuous.value, c.current_pulse.value);
    EXPECT_LT(c.charge_continuous.value, c.charge_pulse.value);
    EXPECT_LE(c.charge_pulse.value, c.current_pulse.value);
    const double capacity_Ah = c.capacity.value / 3600;
    expect_in(c.charge_continuous.value / capacity_Ah, {0.45, 5.1}, "C, charge");
    expect_in(c.charge_pulse.value / c.charge_continuous.value, {1.5, 3.2}, "charge pulse");
    expect_in(c.current_pulse.value / c.current_continuous.value, {1.2, 4.1}, "pulse");
    const double per_cell_ohm = c.resistance.value / c.series_inside;
    // A cell twice as large has half the resistance: the product shows a slip of a decimal point.
    expect_in(per_cell_ohm * capacity_Ah, {0.01, 0.2}, "ohm Ah");
    const double sag = c.current_pulse.value * c.resistance.value / c.voltage_nominal.value;
    expect_in(sag, {0.02, 0.25}, "sag of the pulse as a share of the nominal voltage");
    const double heat_W =
        c.current_continuous.value * c.current_continuous.value * c.resistance.value;
    EXPECT_LT(heat_W / c.mass.value, 300) << "W/kg at the continuous current";
    EXPECT_LT(c.charge_temperature_min.value, c.charge_temperature_max.value);
    expect_in(c.charge_temperature_min.value - c.discharge_temperature_min.value, {10, 20}, "K");
    EXPECT_GE(c.discharge_temperature_max.value, c.charge_temperature_max.value);
    const bool frost = c.charge_temperature_min.value < 273.15 - 1e-9;
    EXPECT_EQ(frost, c.chemistry == Chemistry::lto || c.chemistry == Chemistry::sodium);
  });
}

TEST(Library, SalvagedModulesHaveLostSomething) {
  int salvaged = 0;
  each<Cell>("cell", [&](const Cell& c) {
    EXPECT_EQ(c.health.known(), c.salvage == Answer::yes);
    if (c.salvage == Answer::yes) {
      ++salvaged;
      expect_in(c.health.value, {0.75, 0.97}, "health");
      EXPECT_EQ(c.format, CellFormat::module);
    }
    EXPECT_EQ(c.terminal == Stud::weld, !c.terminal_torque.known());
    if (c.terminal != Stud::weld) {
      // Torque grows with the cube of the thread; soft metal wants the lower end.
      const double size_mm = c.terminal == Stud::m6 ? 6 : (c.terminal == Stud::m8 ? 8 : 10);
      expect_in(c.terminal_torque.value / (size_mm * size_mm * size_mm), {0.0115, 0.038}, "Nm/mm3");
    }
  });
  EXPECT_GE(salvaged, 4);
}

TEST(Library, CellsOfEveryChemistryAndForm) {
  for (const Chemistry chemistry : {Chemistry::lfp, Chemistry::nmc, Chemistry::nca, Chemistry::lco,
                                    Chemistry::lto, Chemistry::sodium}) {
    EXPECT_TRUE(has<Cell>("cell", [&](const Cell& c) { return c.chemistry == chemistry; }));
  }
  for (const CellFormat format :
       {CellFormat::cylindrical, CellFormat::pouch, CellFormat::prismatic, CellFormat::module}) {
    EXPECT_TRUE(has<Cell>("cell", [&](const Cell& c) { return c.format == format; }));
  }
}

// ---- BMS

TEST(Library, BmsCountsAndCurrents) {
  each<Bms>("bms", [](const Bms& b) {
    EXPECT_LE(b.series_min, b.series_max);
    EXPECT_EQ(b.adjustable == Answer::no, b.series_min == b.series_max);
    if (b.warns_controller == Answer::yes || b.output_isolated == Answer::yes) {
      EXPECT_GT(b.output_current.value, 0) << "what would it warn with?";
    }
    if (b.type == BmsType::alarm_only) {
      EXPECT_FALSE(b.current_continuous.known());
      EXPECT_EQ(b.balance_current.value, 0);
      return;
    }
    EXPECT_GE(b.current_trip.value, 1.4 * b.current_continuous.value);
    EXPECT_LE(b.current_trip.value, 3.01 * b.current_continuous.value);
    EXPECT_LE(b.current_charge.value, b.current_continuous.value);
    expect_in(b.balance_current.value, {0.03, 1.0}, "balance");
    EXPECT_LE(b.balance_current.value, b.current_continuous.value / 250);
    EXPECT_GE(b.current_charge.value, 0.5 * b.current_continuous.value);
    const double loss_W =
        b.current_continuous.value * b.current_continuous.value * b.resistance.value;
    expect_in(loss_W, {5, 95}, "W in the current path");
    // More current wants less resistance: volts lost stay in one band.
    if (b.type == BmsType::fet_board) {
      expect_in(b.current_continuous.value * b.resistance.value, {0.15, 0.36}, "V lost");
    }
  });
}

double highest_cell_V(const Bms& bms) {
  double highest = 0;
  for (const Chemistry chemistry : {Chemistry::lfp, Chemistry::nmc, Chemistry::nca, Chemistry::lco,
                                    Chemistry::lto, Chemistry::sodium}) {
    if (in_set(bms.chemistries, chemistry)) {
      highest = std::max(highest, model::cell_limits(chemistry).full_V);
    }
  }
  return highest;
}

TEST(Library, BmsSwitchesStandTheirLongestPack) {
  each<Bms>("bms", [](const Bms& b) {
    const double pack_V = b.series_max * highest_cell_V(b);
    EXPECT_GE(b.voltage_max.value, 1.08 * pack_V);
    EXPECT_LE(b.voltage_max.value, 2.0 * pack_V);
  });
}

TEST(Library, BmsForEverySeriesCount) {
  struct Pack {
    int series;
    Chemistry chemistry;
  };
  for (const Pack& pack :
       {Pack{13, Chemistry::nmc}, Pack{14, Chemistry::nca}, Pack{16, Chemistry::lfp},
        Pack{17, Chemistry::nmc}, Pack{20, Chemistry::nmc}, Pack{24, Chemistry::lfp},
        Pack{24, Chemistry::sodium}, Pack{28, Chemistry::nmc}, Pack{32, Chemistry::lto}}) {
    EXPECT_TRUE(has<Bms>("bms", [&](const Bms& b) {
      return b.type != BmsType::alarm_only && b.series_min <= pack.series &&
             b.series_max >= pack.series && in_set(b.chemistries, pack.chemistry);
    })) << pack.series;
  }
}

// ---- Chargers, converters, buffers

TEST(Library, ChargerPowerAddsUp) {
  each<Charger>("charger", [](const Charger& c) {
    const double out_W = c.voltage.value * c.current.value;
    EXPECT_NEAR(out_W / c.power_in.value, c.efficiency.value, 0.012);
    const double apparent_VA = c.voltage_in.value * c.current_in.value;
    expect_in(c.power_in.value / apparent_VA, {0.55, 1.0}, "power factor");
    const double share = c.voltage_tolerance.value / c.voltage.value;
    // A seller's word is worth twice a data sheet's.
    const bool sold = c.voltage.evidence == figure::Evidence::seller;
    expect_in(share, sold ? Band{0.008, 0.011} : Band{0.0025, 0.0062}, "share of the end voltage");
    EXPECT_EQ(c.isolated, Answer::yes) << "none is sold that is not";
    expect_in(out_W / c.mass.value, {250, 850}, "W/kg");
  });
}

TEST(Library, ChargersForTheUsualPacks) {
  for (const double volts :
       {54.6, 58.4, 58.8, 67.2, 71.4, 73.0, 82.0, 84.0, 87.6, 89.6, 94.8, 100.8, 116.0, 117.6}) {
    EXPECT_TRUE(has<Charger>("charger", [&](const Charger& c) {
      return std::abs(c.voltage.value - volts) < 1e-9;
    })) << volts;
  }
  // From a household outlet to a circuit of its own.
  for (const double watts : {350.0, 900.0, 1500.0, 3000.0, 6000.0}) {
    EXPECT_TRUE(has<Charger>("charger", [&](const Charger& c) {
      const double out_W = 84.0 * c.current.value;
      return std::abs(c.voltage.value - 84) < 1e-9 && out_W >= watts && out_W < 2 * watts;
    })) << watts;
  }
}

TEST(Library, ConverterWindows) {
  int drains = 0, tied = 0;
  each<Dcdc>("dcdc", [&](const Dcdc& d) {
    expect_in(d.voltage_in_min.value / d.voltage_in_max.value, {0.33, 0.56}, "window");
    expect_in(d.voltage_out.value, {12.0, 13.8}, "V out");
    const double power_W = d.voltage_out.value * d.current_out.value;
    expect_in(power_W / d.mass.value, {250, 600}, "W/kg");
    expect_in(d.idle_current.value * d.voltage_in_max.value, {0.9, 4.1}, "W idle");
    drains += d.back_drain.value > 5e-3 ? 1 : 0;
    tied += d.isolated == Answer::no ? 1 : 0;
  });
  EXPECT_GE(drains, 1) << "one that needs a relay, so that the rule has something to find";
  EXPECT_GE(tied, 1) << "one that is not isolated, for the same reason";
  for (const double volts : {58.8, 84.0, 87.6, 100.8, 117.6}) {
    EXPECT_TRUE(has<Dcdc>("dcdc", [&](const Dcdc& d) {
      return d.isolated == Answer::yes && d.voltage_in_max.value >= 1.05 * volts + 1.5 &&
             d.voltage_in_min.value <= 0.7 * volts;
    })) << volts;
  }
}

TEST(Library, BuffersOfTwoKinds) {
  int lithium = 0, lead = 0;
  each<Buffer>("buffer", [&](const Buffer& b) {
    const double energy_Wh = b.voltage.value * b.capacity.value / 3600;
    const bool light = energy_Wh / b.mass.value > 60;
    (light ? lithium : lead) += 1;
    expect_in(energy_Wh / b.mass.value, light ? Band{85, 125} : Band{28, 40}, "Wh/kg");
    EXPECT_EQ(b.voltage.value, light ? 12.8 : 12.6);
    expect_in(b.current_max.value / (b.capacity.value / 3600), {10, 30}, "times its capacity");
  });
  EXPECT_GE(lithium, 3);
  EXPECT_GE(lead, 2);
}

}  // namespace
}  // namespace ww::build::parts
