// SPDX-License-Identifier: MIT
#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "figure/units.h"

namespace ww::figure {
namespace {

constexpr double pi = 3.14159265358979323846;
constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

struct Shown {
  double value;
  Kind kind;
  const char* metric;
  const char* imperial;
};

const Shown shown[] = {
    {0.83, Kind::ratio, "0.83", "0.83"},
    {0.8333, Kind::ratio, "0.833", "0.833"},
    {4.5, Kind::ratio, "4.5", "4.5"},
    {0, Kind::ratio, "0", "0"},
    {0.2142, Kind::share, "21.4 %", "21.4 %"},
    {0.93, Kind::share, "93 %", "93 %"},
    {0, Kind::share, "0 %", "0 %"},
    {1, Kind::share, "100 %", "100 %"},
    {-0.031, Kind::share, "-3.1 %", "-3.1 %"},
    {49.9, Kind::money, "49.90", "49.90"},
    {58, Kind::money, "58", "58"},
    {57.998, Kind::money, "58", "58"},
    {57.99, Kind::money, "57.99", "57.99"},
    {12345.4, Kind::money, "12345", "12345"},
    {350, Kind::money, "350", "350"},
    {72, Kind::voltage, "72 V", "72 V"},
    {66.66, Kind::voltage, "66.7 V", "66.7 V"},
    {0.083, Kind::voltage, "83 mV", "83 mV"},
    {0.5, Kind::voltage, "0.5 V", "0.5 V"},
    {0, Kind::voltage, "0 V", "0 V"},
    {300, Kind::current, "300 A", "300 A"},
    {3200, Kind::current, "3.2 kA", "3.2 kA"},
    {0.02, Kind::current, "20 mA", "20 mA"},
    {464.4, Kind::phase_current, "464 A", "464 A"},
    {0.021, Kind::resistance, "21 mohm", "21 mohm"},
    {50e-6, Kind::resistance, "50 uohm", "50 uohm"},
    {47, Kind::resistance, "47 ohm", "47 ohm"},
    {1e4, Kind::resistance, "10 kohm", "10 kohm"},
    {2e6, Kind::resistance, "2 Mohm", "2 Mohm"},
    {1e-3, Kind::capacitance, "1000 uF", "1000 uF"},
    {0.02, Kind::capacitance, "20 mF", "20 mF"},
    {2, Kind::capacitance, "2 F", "2 F"},
    {1e-7, Kind::capacitance, "100 nF", "100 nF"},
    {22e-12, Kind::capacitance, "22 pF", "22 pF"},
    {120e-6, Kind::inductance, "120 uH", "120 uH"},
    {5e-8, Kind::inductance, "50 nH", "50 nH"},
    {2e-3, Kind::inductance, "2 mH", "2 mH"},
    {2, Kind::inductance, "2 H", "2 H"},
    {800, Kind::power, "800 W", "800 W"},
    {17300, Kind::power, "17.3 kW", "17.3 kW"},
    {30, Kind::energy, "30 J", "30 J"},
    {1.8e6, Kind::energy, "500 Wh", "500 Wh"},
    {23.4e6, Kind::energy, "6.5 kWh", "6.5 kWh"},
    {324000, Kind::charge, "90 Ah", "90 Ah"},
    {1800, Kind::charge, "500 mAh", "500 mAh"},
    {50, Kind::frequency, "50 Hz", "50 Hz"},
    {16000, Kind::frequency, "16 kHz", "16 kHz"},
    {26 * pi / 180, Kind::angle, "26 deg", "26 deg"},
    {1.404, Kind::length, "1404 mm", "55.3 in"},
    {0.0254, Kind::length, "25.4 mm", "1 in"},
    {0, Kind::length, "0 mm", "0 in"},
    {9.9999, Kind::length, "10 m", "32.8 ft"},
    // A bore fits or not by hundredths of a millimetre.
    {0.01905, Kind::length, "19.05 mm", "0.75 in"},
    {0.024995, Kind::length, "25 mm", "0.984 in"},
    {0.02498, Kind::length, "24.98 mm", "0.983 in"},
    {0.04763, Kind::length, "47.63 mm", "1.875 in"},
    {0.07998, Kind::length, "79.98 mm", "3.149 in"},
    {0.0999951, Kind::length, "100 mm", "3.937 in"},
    {0.1101, Kind::length, "110.1 mm", "4.335 in"},
    {0.6583, Kind::length, "658.3 mm", "25.9 in"},
    {0.99996, Kind::length, "1000 mm", "39.4 in"},
    {0.00012345, Kind::length, "0.123 mm", "0.00486 in"},
    {42, Kind::length, "42 m", "138 ft"},
    {80000, Kind::length, "80 km", "49.7 mi"},
    {-1.404, Kind::length, "-1404 mm", "-55.3 in"},
    {35e-6, Kind::area, "35 mm2", "35 mm2"},
    {0.55, Kind::area, "0.55 m2", "5.92 ft2"},
    {6.4516e-4, Kind::area, "645 mm2", "1 in2"},
    {250e-6, Kind::volume, "250 ml", "15.3 in3"},
    {0.0025, Kind::volume, "2.5 l", "153 in3"},
    {0.5, Kind::volume, "500 l", "17.7 ft3"},
    {2, Kind::volume, "2 m3", "70.6 ft3"},
    {205.3, Kind::mass, "205 kg", "453 lb"},
    {0.048, Kind::mass, "48 g", "1.69 oz"},
    {12000, Kind::mass, "12 t", "26460 lb"},
    {500, Kind::force, "500 N", "112 lbf"},
    {12000, Kind::force, "12 kN", "2698 lbf"},
    {9000, Kind::stiffness, "9 N/mm", "51.4 lbf/in"},
    {110 / 3.6, Kind::speed, "110 km/h", "68.4 mph"},
    {4000 * pi / 30, Kind::rotation, "4000 rpm", "4000 rpm"},
    {12345.6 * pi / 30, Kind::rotation, "12350 rpm", "12350 rpm"},
    {60, Kind::torque, "60 Nm", "44.3 lbf ft"},
    {3, Kind::acceleration, "3 m/s2", "9.84 ft/s2"},
    {0.5, Kind::inertia, "0.5 kg m2", "0.5 kg m2"},
    {293.15, Kind::temperature, "20 degC", "68 degF"},
    {268.15, Kind::temperature, "-5 degC", "23 degF"},
    {273.15, Kind::temperature, "0 degC", "32 degF"},
    {50, Kind::temperature_rise, "50 K", "90 degF"},
    {0.005, Kind::time, "5 ms", "5 ms"},
    {5, Kind::time, "5 s", "5 s"},
    {300, Kind::time, "5 min", "5 min"},
    {18000, Kind::time, "5 h", "5 h"},
    {432000, Kind::time, "5 days", "5 days"},
    {3628800, Kind::time, "6 weeks", "6 weeks"},
    {7889400, Kind::time, "3 months", "3 months"},
    {315576000, Kind::time, "10 years", "10 years"},
    {250e3, Kind::pressure, "2.5 bar", "36.3 psi"},
    {20e3, Kind::pressure, "20 kPa", "2.9 psi"},
    {250, Kind::pressure, "250 Pa", "0.0363 psi"},
    {250e6, Kind::pressure, "250 MPa", "36260 psi"},
    {70 * pi / 30, Kind::motor_constant, "70 rpm/V", "70 rpm/V"},
    {0.13, Kind::torque_constant, "0.13 Nm/A", "0.13 Nm/A"},
    {0.2, Kind::thermal_resistance, "0.2 K/W", "0.2 K/W"},
    {9000, Kind::heat_capacity, "9000 J/K", "9000 J/K"},
    {12000, Kind::heat_capacity, "12 kJ/K", "12 kJ/K"},
    {500, Kind::current_squared_time, "500 A2s", "500 A2s"},
    {5000, Kind::current_squared_time, "5 kA2s", "5 kA2s"},
    {198, Kind::consumption, "55 Wh/km", "88.5 Wh/mi"},
    {5e-4, Kind::resistance_per_length, "0.5 mohm/m", "0.152 mohm/ft"},
    {0.4, Kind::mass_per_length, "400 g/m", "0.269 lb/ft"},
    {1.5, Kind::mass_per_length, "1.5 kg/m", "1.01 lb/ft"},
    {1e-4, Kind::volume_flow, "6 l/min", "6 l/min"},
    // Either side of the steps.
    {1.2e-9, Kind::capacitance, "1.2 nF", "1.2 nF"},
    {1200, Kind::power, "1.2 kW", "1.2 kW"},
    {1.25, Kind::mass, "1.25 kg", "2.76 lb"},
    {9999, Kind::mass, "9999 kg", "22040 lb"},
    {9.99, Kind::length, "9990 mm", "32.8 ft"},
    {3.04, Kind::length, "3040 mm", "120 in"},
    {3.06, Kind::length, "3060 mm", "10 ft"},
    {300, Kind::length, "300 m", "984 ft"},
    {310, Kind::length, "310 m", "0.193 mi"},
    {1000, Kind::length, "1 km", "0.621 mi"},
    {0.0999, Kind::voltage, "99.9 mV", "99.9 mV"},
    {0.1, Kind::voltage, "0.1 V", "0.1 V"},
    {9990, Kind::voltage, "9990 V", "9990 V"},
    {10000, Kind::voltage, "10 kV", "10 kV"},
    {1990, Kind::current, "1990 A", "1990 A"},
    {2000, Kind::current, "2 kA", "2 kA"},
    {999.6, Kind::power, "1000 W", "1000 W"},
    {1000, Kind::power, "1 kW", "1 kW"},
    {9.996, Kind::ratio, "10", "10"},
    {9.994, Kind::ratio, "9.99", "9.99"},
    {99.96, Kind::ratio, "100", "100"},
    {1234, Kind::ratio, "1234", "1234"},
    {12345, Kind::ratio, "12350", "12350"},
    {2e-6, Kind::ratio, "0.000002", "0.000002"},
    {9.87e-7, Kind::ratio, "9.87e-7", "9.87e-7"},
    {1e12, Kind::ratio, "1e12", "1e12"},
    {99.99, Kind::money, "99.99", "99.99"},
    {119, Kind::time, "119 s", "119 s"},
    {120, Kind::time, "2 min", "2 min"},
    {7199, Kind::time, "120 min", "120 min"},
    {7200, Kind::time, "2 h", "2 h"},
    {172800, Kind::time, "2 days", "2 days"},
    {1209600, Kind::time, "2 weeks", "2 weeks"},
    {6048000, Kind::time, "2.3 months", "2.3 months"},
    {999e-6, Kind::resistance, "999 uohm", "999 uohm"},
    {1e-3, Kind::resistance, "1 mohm", "1 mohm"},
    {0.999, Kind::resistance, "999 mohm", "999 mohm"},
    {1, Kind::resistance, "1 ohm", "1 ohm"},
    {999, Kind::resistance, "999 ohm", "999 ohm"},
    {1000, Kind::resistance, "1 kohm", "1 kohm"},
    {999e3, Kind::resistance, "999 kohm", "999 kohm"},
    {1e6, Kind::resistance, "1 Mohm", "1 Mohm"},
    {0.999e-9, Kind::capacitance, "999 pF", "999 pF"},
    {1e-9, Kind::capacitance, "1 nF", "1 nF"},
    {999e-9, Kind::capacitance, "999 nF", "999 nF"},
    {1e-6, Kind::capacitance, "1 uF", "1 uF"},
    {9.99e-3, Kind::capacitance, "9990 uF", "9990 uF"},
    {0.01, Kind::capacitance, "10 mF", "10 mF"},
    {0.999, Kind::capacitance, "999 mF", "999 mF"},
    {1, Kind::capacitance, "1 F", "1 F"},
    {999e-9, Kind::inductance, "999 nH", "999 nH"},
    {1e-6, Kind::inductance, "1 uH", "1 uH"},
    {999e-6, Kind::inductance, "999 uH", "999 uH"},
    {1e-3, Kind::inductance, "1 mH", "1 mH"},
    {0.999, Kind::inductance, "999 mH", "999 mH"},
    {1, Kind::inductance, "1 H", "1 H"},
    {3599, Kind::energy, "3599 J", "3599 J"},
    {3600, Kind::energy, "1 Wh", "1 Wh"},
    {3.59e6, Kind::energy, "997 Wh", "997 Wh"},
    {3.6e6, Kind::energy, "1 kWh", "1 kWh"},
    {3500, Kind::charge, "972 mAh", "972 mAh"},
    {3600, Kind::charge, "1 Ah", "1 Ah"},
    {999, Kind::frequency, "999 Hz", "999 Hz"},
    {1000, Kind::frequency, "1 kHz", "1 kHz"},
    {999e-6, Kind::volume, "999 ml", "61 in3"},
    {1e-3, Kind::volume, "1 l", "61 in3"},
    {0.0282, Kind::volume, "28.2 l", "1721 in3"},
    {0.0283, Kind::volume, "28.3 l", "0.999 ft3"},
    {0.999, Kind::volume, "999 l", "35.3 ft3"},
    {1, Kind::volume, "1 m3", "35.3 ft3"},
    {0.452, Kind::mass, "452 g", "15.9 oz"},
    {0.453, Kind::mass, "453 g", "0.999 lb"},
    {0.999, Kind::mass, "999 g", "2.2 lb"},
    {1, Kind::mass, "1 kg", "2.2 lb"},
    {10000, Kind::mass, "10 t", "22050 lb"},
    {0.000499, Kind::area, "499 mm2", "499 mm2"},
    {0.0005, Kind::area, "500 mm2", "0.775 in2"},
    {0.00999, Kind::area, "9990 mm2", "15.5 in2"},
    {0.01, Kind::area, "0.01 m2", "0.108 ft2"},
    {9990, Kind::force, "9990 N", "2246 lbf"},
    {10000, Kind::force, "10 kN", "2248 lbf"},
    {999, Kind::pressure, "999 Pa", "0.145 psi"},
    {1000, Kind::pressure, "1 kPa", "0.145 psi"},
    {49900, Kind::pressure, "49.9 kPa", "7.24 psi"},
    {50000, Kind::pressure, "0.5 bar", "7.25 psi"},
    {9.99e6, Kind::pressure, "99.9 bar", "1449 psi"},
    {1e7, Kind::pressure, "10 MPa", "1450 psi"},
    {9990, Kind::heat_capacity, "9990 J/K", "9990 J/K"},
    {10000, Kind::heat_capacity, "10 kJ/K", "10 kJ/K"},
    {0.999, Kind::mass_per_length, "999 g/m", "0.671 lb/ft"},
    {1, Kind::mass_per_length, "1 kg/m", "0.672 lb/ft"},
    {999, Kind::current_squared_time, "999 A2s", "999 A2s"},
    {1000, Kind::current_squared_time, "1 kA2s", "1 kA2s"},
    {0.999, Kind::time, "999 ms", "999 ms"},
    {1, Kind::time, "1 s", "1 s"},
    {5270000, Kind::time, "8.71 weeks", "8.71 weeks"},
    {5271000, Kind::time, "2 months", "2 months"},
    {63100000, Kind::time, "24 months", "24 months"},
    {63160000, Kind::time, "2 years", "2 years"},
    {1e-6, Kind::ratio, "0.000001", "0.000001"},
    {unknown, Kind::voltage, "unknown", "unknown"},
    {std::numeric_limits<double>::infinity(), Kind::voltage, "unknown", "unknown"},
};

TEST(Print, UnitOfTheSizeAndThreeDigits) {
  for (const Shown& row : shown) {
    EXPECT_EQ(print(row.value, row.kind), row.metric);
    EXPECT_EQ(print(row.value, row.kind, System::imperial), row.imperial) << row.metric;
  }
}

struct WithSpread {
  double value;
  double half_width;
  Kind kind;
  const char* text;
};

TEST(Print, SpreadDecidesTheDigits) {
  const WithSpread rows[] = {
      {106.4 / 3.6, 5.3 / 3.6, Kind::speed, "106 km/h +- 5"},
      {205.3, 12.4, Kind::mass, "205 kg +- 12"},
      {72.53, 0.83, Kind::voltage, "72.5 V +- 0.8"},
      {72.53, 0.15, Kind::voltage, "72.53 V +- 0.15"},
      {1.4, 0.003, Kind::length, "1400 mm +- 3"},
      {1.4, 0.0028, Kind::length, "1400 mm +- 2.8"},
      {1.4, 0.00098, Kind::length, "1400 mm +- 1"},
      {1.4, 0.00294, Kind::length, "1400 mm +- 2.9"},
      {1.4, 0.0031, Kind::length, "1400 mm +- 3"},
      {293.15, 2, Kind::temperature, "20 degC +- 2"},
      {0.96, 0.01, Kind::ratio, "0.96 +- 0.01"},
      {0.96, 0.01, Kind::share, "96 % +- 1"},
      {0.218, 0.012, Kind::share, "21.8 % +- 1.2"},
      {350, 35, Kind::money, "350 +- 35"},
      {72, 0, Kind::voltage, "72 V +- 0"},
      {72, unknown, Kind::voltage, "72 V"},
      {unknown, 1, Kind::voltage, "unknown"},
      {300, 120, Kind::current, "300 A +- 120"},
  };
  for (const WithSpread& row : rows)
    EXPECT_EQ(print(row.value, row.half_width, row.kind), row.text);
}

// Near the ends of what can be a figure too, in whatever unit it is shown; at the very end the
// rounding may carry it over.
TEST(Print, TheFarEndsCanBeRead) {
  for (const System system : {System::metric, System::imperial}) {
    for (int i = 0; i <= static_cast<int>(Kind::volume_flow); ++i) {
      const Kind kind = static_cast<Kind>(i);
      for (const double value : {9.9e59, -9.9e59, 1.02e-60, -1.02e-60}) {
        const std::string text = print(value, kind, system);
        EXPECT_TRUE(read(text, kind)) << text;
        const std::string spread = print(value, 9.9e59, kind, system);
        EXPECT_TRUE(read(spread, kind)) << spread;
      }
    }
  }
}

// Found by the fuzzer, 2026-11-25: "4 1/44 +- 1/42" printed "4.023", which may be four thousand.
TEST(Print, APriceNeverLooksLikeThousands) {
  const std::string text = print(4.0 + 1.0 / 44, 1.0 / 42, Kind::money);
  EXPECT_EQ(text, "4.0230 +- 0.024");
  EXPECT_TRUE(read(text, Kind::money));
  EXPECT_EQ(print(-4.0 - 1.0 / 44, 1.0 / 42, Kind::money), "-4.0230 +- 0.024");
}

// What is printed for people can be typed, and means nearly the same.
TEST(Print, WhatIsPrintedCanBeRead) {
  for (const System system : {System::metric, System::imperial}) {
    for (int i = 0; i <= static_cast<int>(Kind::volume_flow); ++i) {
      const Kind kind = static_cast<Kind>(i);
      for (double value = 1.2345e-12; value < 1e13; value *= 1.37) {
        const std::string text = print(value, kind, system);
        const auto reading = read(text, kind);
        if (kind == Kind::money && value < 1) continue;
        ASSERT_TRUE(reading) << text << ": " << describe(reading.error());
        const bool zero_point = kind == Kind::temperature;
        EXPECT_NEAR(reading->value, value, 0.0051 * value + (zero_point ? 2 : 0)) << text;
        const auto spread = read(print(value, 0.07 * value, kind, system), kind);
        ASSERT_TRUE(spread) << print(value, 0.07 * value, kind, system);
        EXPECT_NEAR(spread->half_width, 0.07 * value, 0.17 * 0.07 * value)
            << text;  // one digit from 3 on
      }
    }
  }
}

TEST(PrintExact, ShortestDigitsOfTheSpelling) {
  EXPECT_EQ(print_exact(0.0254, Kind::length, "mm"), "25.4 mm");
  EXPECT_EQ(print_exact(0.0254, Kind::length, "in"), "1 in");
  EXPECT_EQ(print_exact(0.015875, Kind::length, "in"), "0.625 in");
  EXPECT_EQ(print_exact(293.15, Kind::temperature, "degC"), "20 degC");
  EXPECT_EQ(print_exact(273.15, Kind::temperature, "degC"), "0 degC");
  EXPECT_EQ(print_exact(0, Kind::temperature, "degC"), "-273.15 degC");
  EXPECT_EQ(print_exact(0.96, Kind::ratio, "%"), "96 %");
  EXPECT_EQ(print_exact(0.96, Kind::ratio, ""), "0.96");
  EXPECT_EQ(print_exact(0, Kind::voltage, "V"), "0 V");
  EXPECT_EQ(print_exact(-0.0, Kind::voltage, "V"), "-0 V");
  EXPECT_EQ(print_exact(1e6, Kind::voltage, "V"), "1000000 V");
  EXPECT_EQ(print_exact(1.5e20, Kind::voltage, "V"), "1.5e20 V");
  EXPECT_EQ(print_exact(2e-7, Kind::voltage, "V"), "2e-7 V");
  EXPECT_EQ(print_exact(0.00012, Kind::voltage, "V"), "0.00012 V");
  EXPECT_EQ(print_exact(-1.25, Kind::voltage, "V"), "-1.25 V");
  EXPECT_EQ(print_exact(1.0 / 3, Kind::voltage, "V"), "0.3333333333333333 V");
  EXPECT_EQ(print_exact(72, Kind::voltage, "furlong"), "72 V");
  EXPECT_EQ(print_exact(350, Kind::money, "EUR"), "350 EUR");
  EXPECT_EQ(print_exact(350, Kind::money, ""), "350");
  EXPECT_EQ(print_exact(1.405, Kind::money, "EUR"), "1.4050 EUR");
  EXPECT_EQ(print_exact(0.405, Kind::money, "EUR"), "0.405 EUR");
  EXPECT_EQ(print_exact(2.101e25, Kind::money, ""), "2.1010e25");  // found by fuzzing
  EXPECT_EQ(print_exact(464, Kind::phase_current, "A", Convention::peak), "464 A peak");
  EXPECT_EQ(print_exact(464, Kind::phase_current, "A"), "464 A");
  EXPECT_EQ(print_exact(464, Kind::current, "A", Convention::peak), "464 A");
  EXPECT_EQ(print_exact(unknown, Kind::voltage, "V"), "unknown");
  EXPECT_EQ(print_exact(std::numeric_limits<double>::max(), Kind::voltage, "V").substr(0, 5),
            "1.797");
  EXPECT_EQ(print_exact(std::numeric_limits<double>::denorm_min(), Kind::voltage, "mV").empty(),
            false);
}

TEST(PrintExact, NeighboursOfRoundNumbersStayApart) {
  for (const double round : {1.0, 1.4, 0.0254, 1e3, 1024.0, 293.15, 1e-3}) {
    for (const double value : {std::nextafter(round, 0), std::nextafter(round, 1e9)}) {
      for (const char* unit : {"m", "mm", "in", "ft", "mi"}) {
        EXPECT_EQ(read(print_exact(value, Kind::length, unit), Kind::length)->value, value) << unit;
      }
      for (const char* unit : {"K", "degC", "degF"}) {
        EXPECT_EQ(read(print_exact(value, Kind::temperature, unit), Kind::temperature)->value,
                  value)
            << unit;
      }
    }
  }
}

TEST(UnitShown, IsTheUnitThatPrintChooses) {
  EXPECT_EQ(unit_shown(Kind::length, System::metric, 1.4), "mm");
  EXPECT_EQ(unit_shown(Kind::length, System::imperial, 1.4), "in");
  EXPECT_EQ(unit_shown(Kind::money, System::metric, 350), "");
  EXPECT_EQ(unit_shown(Kind::speed, System::imperial, unknown), "mph");
  EXPECT_EQ(unit_shown(Kind::length, System::metric, -20), "m");
}

}  // namespace
}  // namespace ww::figure
