// SPDX-License-Identifier: MIT
#include <gtest/gtest.h>

#include <cmath>
#include <cstring>
#include <random>
#include <set>
#include <utility>

#include "figure/units.h"

namespace ww::figure {
namespace {

constexpr double pi = 3.14159265358979323846;

struct Good {
  const char* text;
  Kind kind;
  double value;
  const char* unit;
};

// Numbers are read exactly, so a decimal text must equal the compiler's own reading of the SI
// number.
const Good number_forms[] = {
    {"72 V", Kind::voltage, 72, "V"},
    {"72V", Kind::voltage, 72, "V"},
    {"  72\tV\n", Kind::voltage, 72, "V"},
    {"72.5 V", Kind::voltage, 72.5, "V"},
    {"72,5 V", Kind::voltage, 72.5, "V"},
    {".5 V", Kind::voltage, 0.5, "V"},
    {",5 V", Kind::voltage, 0.5, "V"},
    {"0,400 V", Kind::voltage, 0.4, "V"},
    {"1.400 V", Kind::voltage, 1.4, "V"},
    {"1234,567 V", Kind::voltage, 1234.567, "V"},
    {"1,4005 V", Kind::voltage, 1.4005, "V"},
    {"1,40 V", Kind::voltage, 1.4, "V"},
    {"+72 V", Kind::voltage, 72, "V"},
    {"-72 V", Kind::voltage, -72, "V"},
    {"\xE2\x88\x92"
     "5 degC",
     Kind::temperature, 268.15, "degC"},
    {"7.2e1 V", Kind::voltage, 72, "V"},
    {"7.2E+1 V", Kind::voltage, 72, "V"},
    {"7200e-2V", Kind::voltage, 72, "V"},
    {"2,5 kWh", Kind::energy, 9e6, "kWh"},
    {"1 400 mm", Kind::length, 1.4, "mm"},
    {"1\xC2\xA0"
     "400 mm",
     Kind::length, 1.4, "mm"},
    {"1\xE2\x80\x89"
     "400\xE2\x80\xAF"
     "mm",
     Kind::length, 1.4, "mm"},
    {"1 234 567 mm", Kind::length, 1234.567, "mm"},
    {"1 400,5 mm", Kind::length, 1.4005, "mm"},
    {"1 400.125 mm", Kind::length, 1.400125, "mm"},
    {"1 400,500 mm", Kind::length, 1.4005, "mm"},
    {"1.400,5 mm", Kind::length, 1.4005, "mm"},
    {"1,400.5 mm", Kind::length, 1.4005, "mm"},
    {"1.400,500 mm", Kind::length, 1.4005, "mm"},
    {"1,234,567.5 mm", Kind::length, 1234.5675, "mm"},
    {"1,234,567 mm", Kind::length, 1234.567, "mm"},
    {"1.234.567 mm", Kind::length, 1234.567, "mm"},
    {"5/8 in", Kind::length, 0.015875, "in"},
    {"5/8\"", Kind::length, 0.015875, "\""},
    {"5\xE2\x81\x84"
     "8 in",
     Kind::length, 0.015875, "in"},
    {"13 1/2 in", Kind::length, 0.3429, "in"},
    {"13-1/2 in", Kind::length, 0.3429, "in"},
    {"13\xC2\xBD in", Kind::length, 0.3429, "in"},
    {"\xC2\xBD in", Kind::length, 0.0127, "in"},
    {"3 \xE2\x85\x9D\xE2\x80\xB3", Kind::length, 0.092075, "\""},
    {"-13 1/2 in", Kind::length, -0.3429, "in"},
    {"1/3 m", Kind::length, 1.0 / 3.0, "m"},
    {"3000 1/min", Kind::rotation, 100 * pi, "1/min"},
    {"3 000 1/min", Kind::rotation, 100 * pi, "1/min"},
    {"3000/min", Kind::rotation, 100 * pi, "/min"},
    {"0.1000000000000000055511151231257827 V", Kind::voltage, 0.1, "V"},
    {"123456789012345678901234 V", Kind::voltage, 123456789012345678901234.0, "V"},
    {"0.000000000000000000000001 V", Kind::voltage, 1e-24, "V"},
    {"0 V", Kind::voltage, 0, "V"},
    {"0e500 V", Kind::voltage, 0, "V"},
    {"000072 V", Kind::voltage, 72, "V"},
    {"1e59 V", Kind::voltage, 1e59, "V"},
    {"0.96", Kind::ratio, 0.96, ""},
    {"96 %", Kind::ratio, 0.96, "%"},
    {"96%", Kind::ratio, 0.96, "%"},
    {"4.5:1", Kind::ratio, 4.5, ":1"},
    {"3/4", Kind::ratio, 0.75, ""},
    {"0.96", Kind::share, 0.96, ""},
    {"96 %", Kind::share, 0.96, "%"},
    {"350", Kind::money, 350, ""},
    {"350 EUR", Kind::money, 350, "EUR"},
    {"350eur", Kind::money, 350, "EUR"},
    {"350 Usd", Kind::money, 350, "USD"},
    {"350 KGS", Kind::money, 350, "KGS"},
    {"EUR 350", Kind::money, 350, "EUR"},
    {"$350", Kind::money, 350, "USD"},
    {"350 \xE2\x82\xAC", Kind::money, 350, "EUR"},
    {"\xC2\xA3"
     "350",
     Kind::money, 350, "GBP"},
    {"1 400,50 EUR", Kind::money, 1400.5, "EUR"},
    {"1.400,50 EUR", Kind::money, 1400.5, "EUR"},
};

void expect_reads(const Good& row) {
  const auto reading = read(row.text, row.kind);
  ASSERT_TRUE(reading) << row.text << ": " << describe(reading.error());
  EXPECT_EQ(reading->value, row.value) << row.text;
  EXPECT_EQ(reading->unit, row.unit) << row.text;
  EXPECT_TRUE(std::isnan(reading->half_width)) << row.text;
}

TEST(Read, NumberFormsAreExact) {
  for (const Good& row : number_forms) expect_reads(row);
}

struct Near {
  const char* text;
  Kind kind;
  double value;
};

// Factors written out anew, from the definitions: inch 25.4 mm, foot 12 in, mile 5280 ft, pound
// 0.45359237 kg (agreement of 1959); standard gravity 9.80665 m/s2 (CGPM 1901); digits of derived
// ones as in NIST SP 811 appendix B.8.
const Near factors[] = {
    {"72 mV", Kind::voltage, 0.072},
    {"1.5 kV", Kind::voltage, 1500},
    {"300 A", Kind::current, 300},
    {"20 mA", Kind::current, 0.02},
    {"20 \xC2\xB5"
     "A",
     Kind::current, 20e-6},
    {"3.2 kA", Kind::current, 3200},
    {"21 mohm", Kind::resistance, 0.021},
    {"21 m\xCE\xA9", Kind::resistance, 0.021},
    {"21 m\xE2\x84\xA6", Kind::resistance, 0.021},
    {"21 mOhm", Kind::resistance, 0.021},
    {"50 \xC2\xB5\xCE\xA9", Kind::resistance, 50e-6},
    {"50 \xCE\xBC\xE2\x84\xA6", Kind::resistance, 50e-6},
    {"50 uohm", Kind::resistance, 50e-6},
    {"2 Mohm", Kind::resistance, 2e6},
    {"2 M\xCE\xA9", Kind::resistance, 2e6},
    {"10 kohm", Kind::resistance, 1e4},
    {"10 K\xCE\xA9", Kind::resistance, 1e4},
    {"47 ohm", Kind::resistance, 47},
    {"1000 uF", Kind::capacitance, 1e-3},
    {"1000 \xC2\xB5"
     "F",
     Kind::capacitance, 1e-3},
    {"4 mF", Kind::capacitance, 4e-3},
    {"2 F", Kind::capacitance, 2},
    {"100 nF", Kind::capacitance, 1e-7},
    {"120 uH", Kind::inductance, 120e-6},
    {"0.1 mH", Kind::inductance, 1e-4},
    {"1 H", Kind::inductance, 1},
    {"8000 W", Kind::power, 8000},
    {"8 kW", Kind::power, 8000},
    {"10 hp", Kind::power, 7457},
    {"10 PS", Kind::power, 7355},
    {"10 cv", Kind::power, 7355},
    {"500 Wh", Kind::energy, 1.8e6},
    {"6.5 kWh", Kind::energy, 23.4e6},
    {"2 J", Kind::energy, 2},
    {"2 kJ", Kind::energy, 2000},
    {"2 MJ", Kind::energy, 2e6},
    {"90 Ah", Kind::charge, 324000},
    {"3500 mAh", Kind::charge, 12600},
    {"10 C", Kind::charge, 10},
    {"50 Hz", Kind::frequency, 50},
    {"16 kHz", Kind::frequency, 16000},
    {"26 deg", Kind::angle, 26 * pi / 180},
    {"26\xC2\xB0", Kind::angle, 26 * pi / 180},
    {"1 rad", Kind::angle, 1},
    {"25.4 mm", Kind::length, 0.0254},
    {"2.5 cm", Kind::length, 0.025},
    {"80 km", Kind::length, 80000},
    {"1 in", Kind::length, 0.0254},
    {"1 inch", Kind::length, 0.0254},
    {"5/8 in.", Kind::length, 0.015875},
    {"1 ft", Kind::length, 0.3048},
    {"1 yd", Kind::length, 0.9144},
    {"1 mi", Kind::length, 1609.344},
    {"35 mm2", Kind::area, 35e-6},
    {"35 mm\xC2\xB2", Kind::area, 35e-6},
    {"35 mm^2", Kind::area, 35e-6},
    {"35 sq mm", Kind::area, 35e-6},
    {"2 cm2", Kind::area, 2e-4},
    {"0.55 m2", Kind::area, 0.55},
    {"1 in2", Kind::area, 6.4516e-4},
    {"1 ft2", Kind::area, 0.09290304},
    {"1 cmil", Kind::area, 5.067074790974977e-10},
    {"1 kcmil", Kind::area, 5.067074790974977e-7},
    {"2.5 l", Kind::volume, 2.5e-3},
    {"2.5 L", Kind::volume, 2.5e-3},
    {"250 ml", Kind::volume, 250e-6},
    {"600 cm3", Kind::volume, 600e-6},
    {"600 cc", Kind::volume, 600e-6},
    {"1 m3", Kind::volume, 1},
    {"1 in3", Kind::volume, 1.6387064e-5},
    {"1 ft3", Kind::volume, 0.028316846592},
    {"48 g", Kind::mass, 0.048},
    {"17 kg", Kind::mass, 17},
    {"1.2 t", Kind::mass, 1200},
    {"400 lb", Kind::mass, 181.436948},
    {"400 lbs", Kind::mass, 181.436948},
    {"16 oz", Kind::mass, 0.45359237},
    {"12 st", Kind::mass, 76.20351816},
    {"5 N", Kind::force, 5},
    {"5 kN", Kind::force, 5000},
    {"1 lbf", Kind::force, 4.4482216152605},
    {"1 kgf", Kind::force, 9.80665},
    {"9 N/mm", Kind::stiffness, 9000},
    {"9 N/m", Kind::stiffness, 9},
    {"0.9 kg/mm", Kind::stiffness, 8825.985},
    {"50 lbf/in", Kind::stiffness, 50 * 4.4482216152605 / 0.0254},
    {"36 km/h", Kind::speed, 10},
    {"36 km / h", Kind::speed, 10},
    {"36 kph", Kind::speed, 10},
    {"36 kmh", Kind::speed, 10},
    {"100 mph", Kind::speed, 44.704},
    {"10 m/s", Kind::speed, 10},
    {"10 ft/s", Kind::speed, 3.048},
    {"60 rpm", Kind::rotation, 2 * pi},
    {"60 min\xE2\x81\xBB\xC2\xB9", Kind::rotation, 2 * pi},
    {"60 rad/s", Kind::rotation, 60},
    {"60 Nm", Kind::torque, 60},
    {"60 N m", Kind::torque, 60},
    {"60 N\xC2\xB7m", Kind::torque, 60},
    {"60 N*m", Kind::torque, 60},
    {"60 N.m", Kind::torque, 60},
    {"60 N-m", Kind::torque, 60},
    {"1 lbf ft", Kind::torque, 1.3558179483314004},
    {"1 ft lb", Kind::torque, 1.3558179483314004},
    {"1 ft-lb", Kind::torque, 1.3558179483314004},
    {"1 lb-ft", Kind::torque, 1.3558179483314004},
    {"1 lbf in", Kind::torque, 0.1129848290276167},
    {"3 m/s2", Kind::acceleration, 3},
    {"3 m/s\xC2\xB2", Kind::acceleration, 3},
    {"0.5 g", Kind::acceleration, 4.903325},
    {"0.5 kg m2", Kind::inertia, 0.5},
    {"0.5 kg\xC2\xB7m\xC2\xB2", Kind::inertia, 0.5},
    {"32 kg cm2", Kind::inertia, 32e-4},
    {"20 degC", Kind::temperature, 293.15},
    {"20 \xC2\xB0"
     "C",
     Kind::temperature, 293.15},
    {"20\xC2\xB0 C", Kind::temperature, 293.15},
    {"20 \xE2\x84\x83", Kind::temperature, 293.15},
    {"20 C", Kind::temperature, 293.15},
    {"-40 degF", Kind::temperature, 233.15},
    {"-40 \xC2\xB0"
     "F",
     Kind::temperature, 233.15},
    {"212 F", Kind::temperature, 373.15},
    {"300 K", Kind::temperature, 300},
    {"-273.15 degC", Kind::temperature, 0},
    {"60 K", Kind::temperature_rise, 60},
    {"60 degC", Kind::temperature_rise, 60},
    {"90 degF", Kind::temperature_rise, 50},
    {"5 ms", Kind::time, 0.005},
    {"5 s", Kind::time, 5},
    {"5 min", Kind::time, 300},
    {"5 h", Kind::time, 18000},
    {"5 d", Kind::time, 432000},
    {"1 day", Kind::time, 86400},
    {"2 days", Kind::time, 172800},
    {"1 week", Kind::time, 604800},
    {"6 weeks", Kind::time, 3628800},
    {"1 month", Kind::time, 2629800},
    {"3 months", Kind::time, 7889400},
    {"1 year", Kind::time, 31557600},
    {"10 years", Kind::time, 315576000},
    {"5 Pa", Kind::pressure, 5},
    {"250 kPa", Kind::pressure, 250e3},
    {"250 MPa", Kind::pressure, 250e6},
    {"2.5 bar", Kind::pressure, 250e3},
    {"36 psi", Kind::pressure, 36 * 6894.757293168361},
    {"70 rpm/V", Kind::motor_constant, 70 * pi / 30},
    {"7 rad/s/V", Kind::motor_constant, 7},
    {"0.13 Nm/A", Kind::torque_constant, 0.13},
    {"0.13 N m/A", Kind::torque_constant, 0.13},
    {"130 mNm/A", Kind::torque_constant, 0.13},
    {"0.2 K/W", Kind::thermal_resistance, 0.2},
    {"0.2 \xC2\xB0"
     "C/W",
     Kind::thermal_resistance, 0.2},
    {"9 kJ/K", Kind::heat_capacity, 9000},
    {"9 J/K", Kind::heat_capacity, 9},
    {"5 A2s", Kind::current_squared_time, 5},
    {"5 kA\xC2\xB2s", Kind::current_squared_time, 5000},
    {"55 Wh/km", Kind::consumption, 198},
    {"100 Wh/mi", Kind::consumption, 360000 / 1609.344},
    {"5.5 kWh/100km", Kind::consumption, 198},
    {"5.5 kWh/100 km", Kind::consumption, 198},
    {"0.5 mohm/m", Kind::resistance_per_length, 5e-4},
    {"0.5 ohm/km", Kind::resistance_per_length, 5e-4},
    {"1 mohm/ft", Kind::resistance_per_length, 1e-3 / 0.3048},
    {"0.4 kg/m", Kind::mass_per_length, 0.4},
    {"400 g/m", Kind::mass_per_length, 0.4},
    {"1 lb/ft", Kind::mass_per_length, 0.45359237 / 0.3048},
    {"6 l/min", Kind::volume_flow, 1e-4},
    {"16 oz.", Kind::mass, 0.45359237},
    {"90 A-h", Kind::charge, 324000},
    {"5 Pa.", Kind::pressure, 5},
    {"123456789/8 in", Kind::length, 391975.305075},
    {"123456789 1/8 in", Kind::length, 3135802.443775},
    // The other spellings.
    {"10 ft/s2", Kind::acceleration, 3.048},
    {"90 degree", Kind::angle, pi / 2},
    {"90 degrees", Kind::angle, pi / 2},
    {"35 sq cm", Kind::area, 35e-4},
    {"1 sq ft", Kind::area, 0.09290304},
    {"1 sq in", Kind::area, 6.4516e-4},
    {"3 sq m", Kind::area, 3},
    {"35 sqmm", Kind::area, 35e-6},
    {"22 pF", Kind::capacitance, 22e-12},
    {"90 A h", Kind::charge, 324000},
    {"90 A s", Kind::charge, 90},
    {"90 As", Kind::charge, 90},
    {"3500 mA h", Kind::charge, 12600},
    {"200 J/m", Kind::consumption, 200},
    {"100 Wh/mile", Kind::consumption, 360000 / 1609.344},
    {"0.055 kWh/km", Kind::consumption, 198},
    {"300 A dc", Kind::current, 300},
    {"300 Adc", Kind::current, 300},
    {"300 amp", Kind::current, 300},
    {"300 amps", Kind::current, 300},
    {"5 A2 s", Kind::current_squared_time, 5},
    {"5 kA2 s", Kind::current_squared_time, 5000},
    {"500 W h", Kind::energy, 1.8e6},
    {"6.5 kW h", Kind::energy, 23.4e6},
    {"9 J/degC", Kind::heat_capacity, 9},
    {"2 Wh/K", Kind::heat_capacity, 7200},
    {"50 nH", Kind::inductance, 50e-9},
    {"5'", Kind::length, 1.524},
    {"5 feet", Kind::length, 1.524},
    {"5 foot", Kind::length, 1.524},
    {"5 inches", Kind::length, 0.127},
    {"1 mile", Kind::length, 1609.344},
    {"2 miles", Kind::length, 3218.688},
    {"50 um", Kind::length, 50e-6},
    {"400 kg/km", Kind::mass_per_length, 0.4},
    {"1 pound", Kind::mass, 0.45359237},
    {"2 pounds", Kind::mass, 0.90718474},
    {"12 stone", Kind::mass, 76.20351816},
    {"1 tonne", Kind::mass, 1000},
    {"2 tonnes", Kind::mass, 2000},
    {"500 g cm2", Kind::inertia, 5e-5},
    {"500 g m2", Kind::inertia, 0.5},
    {"500 kg mm2", Kind::inertia, 5e-4},
    {"32 kgcm2", Kind::inertia, 32e-4},
    {"0.5 kgm2", Kind::inertia, 0.5},
    {"70 1/min/V", Kind::motor_constant, 70 * pi / 30},
    {"70 rpm/volt", Kind::motor_constant, 70 * pi / 30},
    {"464 A", Kind::phase_current, 464},
    {"464 amp", Kind::phase_current, 464},
    {"464 amps", Kind::phase_current, 464},
    {"1.2 kA", Kind::phase_current, 1200},
    {"800 mA", Kind::phase_current, 0.8},
    {"10 bhp", Kind::power, 7457},
    {"10 ch", Kind::power, 7355},
    {"60 watt", Kind::power, 60},
    {"60 watts", Kind::power, 60},
    {"250 N/mm2", Kind::pressure, 250e6},
    {"1013 hPa", Kind::pressure, 101300},
    {"2 kg/cm2", Kind::pressure, 196133},
    {"2 kgf/cm2", Kind::pressure, 196133},
    {"1 lbf/in2", Kind::pressure, 6894.757293168361},
    {"1013 mbar", Kind::pressure, 101300},
    {"96 percent", Kind::ratio, 0.96},
    {"96 percent", Kind::share, 0.96},
    {"2 MOhm", Kind::resistance, 2e6},
    {"47 Ohm", Kind::resistance, 47},
    {"10 kOhm", Kind::resistance, 1e4},
    {"2 megohm", Kind::resistance, 2e6},
    {"21 milliohm", Kind::resistance, 0.021},
    {"47 ohms", Kind::resistance, 47},
    {"50 uOhm", Kind::resistance, 50e-6},
    {"0.5 Ohm/km", Kind::resistance_per_length, 5e-4},
    {"0.5 Ohm/m", Kind::resistance_per_length, 0.5},
    {"0.5 mOhm/m", Kind::resistance_per_length, 5e-4},
    {"1 ohm/1000ft", Kind::resistance_per_length, 1 / 304.8},
    {"0.5 ohm/m", Kind::resistance_per_length, 0.5},
    {"500 uohm/m", Kind::resistance_per_length, 5e-4},
    {"360 deg/s", Kind::rotation, 2 * pi},
    {"60 r/min", Kind::rotation, 2 * pi},
    {"60 rev/min", Kind::rotation, 2 * pi},
    {"36 kmph", Kind::speed, 10},
    {"100 mi/h", Kind::speed, 44.704},
    {"9 kN/m", Kind::stiffness, 9000},
    {"0.9 kgf/mm", Kind::stiffness, 8825.985},
    {"50 lb/in", Kind::stiffness, 50 * 4.4482216152605 / 0.0254},
    {"50 lbs/in", Kind::stiffness, 50 * 4.4482216152605 / 0.0254},
    {"68 deg F", Kind::temperature, 293.15},
    {"60 C", Kind::temperature_rise, 60},
    {"90 F", Kind::temperature_rise, 50},
    {"60 deg C", Kind::temperature_rise, 60},
    {"90 deg F", Kind::temperature_rise, 50},
    {"0.2 C/W", Kind::thermal_resistance, 0.2},
    {"200 K/kW", Kind::thermal_resistance, 0.2},
    {"200 mK/W", Kind::thermal_resistance, 0.2},
    {"1 hour", Kind::time, 3600},
    {"2 hours", Kind::time, 7200},
    {"2 hr", Kind::time, 7200},
    {"2 hrs", Kind::time, 7200},
    {"5 mins", Kind::time, 300},
    {"1 minute", Kind::time, 60},
    {"5 minutes", Kind::time, 300},
    {"5 sec", Kind::time, 5},
    {"1 second", Kind::time, 1},
    {"5 seconds", Kind::time, 5},
    {"50 us", Kind::time, 50e-6},
    {"50 Ncm", Kind::torque, 0.5},
    {"1 lbf ft/A", Kind::torque_constant, 1.3558179483314004},
    {"1 ft lbf", Kind::torque, 1.3558179483314004},
    {"1 ft lbs", Kind::torque, 1.3558179483314004},
    {"1 ftlb", Kind::torque, 1.3558179483314004},
    {"1 lbft", Kind::torque, 1.3558179483314004},
    {"1 in lb", Kind::torque, 0.1129848290276167},
    {"1 in lbf", Kind::torque, 0.1129848290276167},
    {"1 lb in", Kind::torque, 0.1129848290276167},
    {"1 kgf m", Kind::torque, 9.80665},
    {"500 mNm", Kind::torque, 0.5},
    {"72 V dc", Kind::voltage, 72},
    {"72 Vdc", Kind::voltage, 72},
    {"1 volt", Kind::voltage, 1},
    {"72 volts", Kind::voltage, 72},
    {"600 ccm", Kind::volume, 600e-6},
    {"1 cu in", Kind::volume, 1.6387064e-5},
    {"6 L/min", Kind::volume_flow, 1e-4},
    {"36 l/h", Kind::volume_flow, 1e-5},
    {"6 lpm", Kind::volume_flow, 1e-4},
    {"2 m3/s", Kind::volume_flow, 2},
    {"600 ml/min", Kind::volume_flow, 1e-5},
    {"2.5 liter", Kind::volume, 2.5e-3},
    {"2.5 liters", Kind::volume, 2.5e-3},
    {"2.5 litre", Kind::volume, 2.5e-3},
    {"2.5 litres", Kind::volume, 2.5e-3},
    {"250 mL", Kind::volume, 250e-6},
};

TEST(Read, UnitFactors) {
  for (const Near& row : factors) {
    const auto reading = read(row.text, row.kind);
    ASSERT_TRUE(reading) << row.text << ": " << describe(reading.error());
    EXPECT_NEAR(reading->value, row.value, 4e-16 * std::fabs(row.value)) << row.text;
  }
}

const Near sloppy[] = {
    {"72v", Kind::voltage, 72},
    {"8000w", Kind::power, 8000},
    {"8KW", Kind::power, 8000},
    {"8kw", Kind::power, 8000},
    {"90ah", Kind::charge, 324000},
    {"90AH", Kind::charge, 324000},
    {"3500MAH", Kind::charge, 12600},
    {"3500mah", Kind::charge, 12600},
    {"20KG", Kind::mass, 20},
    {"20 Kg", Kind::mass, 20},
    {"20 G", Kind::mass, 0.02},
    {"1400MM", Kind::length, 1.4},
    {"3 M", Kind::length, 3},
    {"3 MI", Kind::length, 4828.032},
    {"6.5kwh", Kind::energy, 23.4e6},
    {"110 KM/H", Kind::speed, 110 / 3.6},
    {"110 Mph", Kind::speed, 49.1744},
    {"60 nm", Kind::torque, 60},
    {"4000 RPM", Kind::rotation, 4000 * pi / 30},
    {"20 c", Kind::temperature, 293.15},
    {"5 Min", Kind::time, 300},
    {"2.5 BAR", Kind::pressure, 250e3},
    {"36 PSI", Kind::pressure, 36 * 6894.757293168361},
    {"21 mOHM", Kind::resistance, 0.021},
    {"47 OHM", Kind::resistance, 47},
    {"10 Kohm", Kind::resistance, 1e4},
    {"70 rpm/v", Kind::motor_constant, 70 * pi / 30},
    {"72 VDC", Kind::voltage, 72},
    {"72 V DC", Kind::voltage, 72},
};

TEST(Read, SloppyCaseIsUnderstoodWhereOnlyOneUnitIsMeant) {
  for (const Near& row : sloppy) {
    const auto reading = read(row.text, row.kind);
    ASSERT_TRUE(reading) << row.text << ": " << describe(reading.error());
    EXPECT_NEAR(reading->value, row.value, 4e-16 * std::fabs(row.value)) << row.text;
  }
}

// A unit whose factor no row above states would be a factor that no test holds.
TEST(Read, EveryUnitOfTheTableHasItsRow) {
  std::set<std::pair<Kind, std::string>> seen{
      {Kind::ratio, ""}, {Kind::share, ""}, {Kind::money, ""}};
  for (const Good& row : number_forms) seen.emplace(row.kind, read(row.text, row.kind)->unit);
  for (const Near& row : factors) seen.emplace(row.kind, read(row.text, row.kind)->unit);
  for (const Unit& unit : unit_table()) {
    EXPECT_EQ(seen.count({unit.kind, std::string(unit.spelling)}), 1)
        << name_of(unit.kind) << " " << unit.spelling;
  }
}

struct Bad {
  const char* text;
  Kind kind;
  const char* code;
};

const Bad bad_forms[] = {
    {"", Kind::voltage, "empty"},
    {"   ", Kind::voltage, "empty"},
    {"\xC2\xA0", Kind::voltage, "empty"},
    {"V", Kind::voltage, "bad-number"},
    {"abc", Kind::voltage, "bad-number"},
    {"nan V", Kind::voltage, "bad-number"},
    {"inf V", Kind::voltage, "bad-number"},
    {"-inf V", Kind::voltage, "bad-number"},
    {"NaN", Kind::ratio, "bad-number"},
    {"0x10 V", Kind::voltage, "unknown-unit"},
    {".", Kind::voltage, "bad-number"},
    {", V", Kind::voltage, "bad-number"},
    {"5. V", Kind::voltage, "bad-number"},
    {"5, V", Kind::voltage, "bad-number"},
    {"1 400, V", Kind::voltage, "bad-number"},
    {"1.2.3 V", Kind::voltage, "bad-number"},
    {"1,2,3 V", Kind::voltage, "bad-number"},
    {"12,34,567 V", Kind::voltage, "bad-number"},
    {"1.400,5,5 V", Kind::voltage, "bad-number"},
    {"1,400.500.5 V", Kind::voltage, "bad-number"},
    {"14,00.5 V", Kind::voltage, "bad-number"},
    {"0.400,5 V", Kind::voltage, "bad-number"},
    {"1 40 V", Kind::voltage, "bad-number"},
    {"1 4000 V", Kind::voltage, "bad-number"},
    {"1400 500 V", Kind::voltage, "bad-number"},
    {"0 400 V", Kind::voltage, "bad-number"},
    {"--5 V", Kind::voltage, "bad-number"},
    {"- 5 V", Kind::voltage, "bad-number"},
    {"5 -3 V", Kind::voltage, "bad-number"},
    {"5\xC2\xB2 V", Kind::voltage, "unknown-unit"},
    {"5/0 in", Kind::length, "bad-number"},
    {"13 1/0 in", Kind::length, "bad-number"},
    {"13 3/2 in", Kind::length, "bad-number"},
    {"13 2/2 in", Kind::length, "bad-number"},
    {"13 -1/2 in", Kind::length, "bad-number"},
    {"5/-8 in", Kind::length, "unknown-unit"},
    {"5/8/3 in", Kind::length, "unknown-unit"},
    {"1.5/8 in", Kind::length, "unknown-unit"},
    {"12345678901/3 in", Kind::length, "bad-number"},
    {"1/12345678901 in", Kind::length, "bad-number"},
    {"12345678901 1/2 in", Kind::length, "bad-number"},
    {"1,400 mm", Kind::length, "ambiguous-number"},
    {"-1,400 mm", Kind::length, "ambiguous-number"},
    {"12,400 mm", Kind::length, "ambiguous-number"},
    {"120,400 mm", Kind::length, "ambiguous-number"},
    {"1,400e3 mm", Kind::length, "ambiguous-number"},
    {"1.400 EUR", Kind::money, "ambiguous-number"},
    {"1,400 EUR", Kind::money, "ambiguous-number"},
    {"1e400 V", Kind::voltage, "not-finite"},
    {"1e-400 V", Kind::voltage, "not-finite"},
    {"1e99999999999 V", Kind::voltage, "not-finite"},
    {"1e60 V", Kind::voltage, "not-finite"},
    {"1e-60 V", Kind::voltage, "not-finite"},
    {"1e57 kV", Kind::voltage, "not-finite"},
    // Found by the fuzzer, 2026-11-25: a percentage could carry the spread out of range.
    {"1e50 +- 1e15 %", Kind::ratio, "not-finite"},
    {"1e-50 +- 1e-15 %", Kind::ratio, "not-finite"},
    {"1e99 +- 1", Kind::ratio, "not-finite"},
    {"1 V +- 1e99 kV", Kind::voltage, "not-finite"},
    {"72", Kind::voltage, "missing-unit"},
    {"0", Kind::voltage, "missing-unit"},
    {"72 +- 5 %", Kind::voltage, "missing-unit"},
    {"72 +- 5", Kind::voltage, "missing-unit"},
    {"20 +- 2 K", Kind::temperature, "missing-unit"},
    {"72 volz", Kind::voltage, "unknown-unit"},
    {"17 kgs", Kind::mass, "unknown-unit"},
    {"72 V V", Kind::voltage, "unknown-unit"},
    {"72 V extra", Kind::voltage, "unknown-unit"},
    {"72 V\xFF", Kind::voltage, "unknown-unit"},
    {"72 V peak", Kind::voltage, "unknown-unit"},
    {"2 MW", Kind::power, "unknown-unit"},
    {"2 mw", Kind::power, "unknown-unit"},
    {"2 mW", Kind::power, "unknown-unit"},
    {"2 mJ", Kind::energy, "unknown-unit"},
    {"2 mj", Kind::energy, "unknown-unit"},
    {"2 mPa", Kind::pressure, "unknown-unit"},
    {"2 MV", Kind::voltage, "unknown-unit"},
    {"2 MAh", Kind::charge, "unknown-unit"},
    {"2 Mm", Kind::length, "unknown-unit"},
    {"2 MOHM", Kind::resistance, "unknown-unit"},
    {"2 Mohm/m", Kind::resistance_per_length, "unknown-unit"},
    {"2 ML", Kind::volume, "unknown-unit"},
    {"350 kgs", Kind::money, "unknown-unit"},
    {"2 gal", Kind::volume, "unknown-unit"},
    {"1 ton", Kind::mass, "unknown-unit"},
    {"4000 erpm", Kind::rotation, "unknown-unit"},
    {"0.1 V/krpm", Kind::motor_constant, "unknown-unit"},
    {"350 XYZ", Kind::money, "unknown-unit"},
    {"350 EUR EUR", Kind::money, "unknown-unit"},
    {"EUR 350 EUR", Kind::money, "unknown-unit"},
    {"17 kg", Kind::voltage, "wrong-kind"},
    {"17 kg", Kind::force, "wrong-kind"},
    {"17 lb", Kind::force, "wrong-kind"},
    {"5 mm", Kind::ratio, "wrong-kind"},
    {"4:1", Kind::share, "wrong-kind"},
    {"350 kg", Kind::money, "wrong-kind"},
    {"350 EUR", Kind::voltage, "wrong-kind"},
    {"100 kV", Kind::motor_constant, "wrong-kind"},
    {"100KV", Kind::motor_constant, "wrong-kind"},
    {"3000 1/min", Kind::voltage, "wrong-kind"},
    {"464 A rms", Kind::current, "wrong-kind"},
    {"464 Apeak", Kind::current, "wrong-kind"},
    {"72 V +- 3 kg", Kind::voltage, "wrong-kind"},
    {"90 kWh", Kind::charge, "wrong-kind"},
    {"2/0 AWG", Kind::area, "designation"},
    {"4 awg", Kind::area, "designation"},
    {"AWG 4", Kind::length, "designation"},
    {"120/80-18", Kind::length, "designation"},
    {"180/55ZR17", Kind::length, "designation"},
    {"72 V +-", Kind::voltage, "bad-spread"},
    {"72 V +- V", Kind::voltage, "bad-spread"},
    {"72 V +- -1 V", Kind::voltage, "bad-spread"},
    {"72 V +- 1 V +- 1 V", Kind::voltage, "unknown-unit"},
    {"72 V +- 1.2.3", Kind::voltage, "bad-spread"},
    {"72 V +- 1,400 V", Kind::voltage, "ambiguous-number"},
    {"72 V +- 1 volz", Kind::voltage, "unknown-unit"},
    {"20 degC +- 5 %", Kind::temperature, "bad-spread"},
    {"464 A peak +- 5 A rms", Kind::phase_current, "bad-spread"},
    {"350 EUR +- 5 USD", Kind::money, "bad-spread"},
    {"+- 3 mm", Kind::length, "bad-number"},
    {"464 A peak peak", Kind::phase_current, "unknown-unit"},
    {"464 A peak rms", Kind::phase_current, "unknown-unit"},
    {"peak", Kind::phase_current, "bad-number"},
    {"464 peak", Kind::phase_current, "missing-unit"},
};

TEST(Read, BadFormsAreRefusedWithTheirCode) {
  for (const Bad& row : bad_forms) {
    const auto reading = read(row.text, row.kind);
    ASSERT_FALSE(reading) << row.text << " was read as " << reading->value;
    EXPECT_EQ(reading.error().code, row.code) << row.text << ": " << describe(reading.error());
    EXPECT_FALSE(reading.error().what.empty()) << row.text;
  }
}

TEST(Read, TextsWithZeroBytesOrOfGreatLengthAreRefused) {
  EXPECT_FALSE(read(std::string_view("72\0V", 4), Kind::voltage));
  EXPECT_FALSE(read(std::string_view("72 V\0", 5), Kind::voltage));
  EXPECT_FALSE(read(std::string(100000, '7') + " V", Kind::voltage));
  const auto far = read(std::string(150, '7') + " V", Kind::voltage);
  ASSERT_FALSE(far);
  EXPECT_EQ(far.error().code, "not-finite");
  EXPECT_LT(describe(far.error()).size(), 300U);
}

TEST(Read, MessagesSayWhatToDo) {
  EXPECT_EQ(read("17 kg", Kind::voltage).error().what,
            "17 kg is a mass; a voltage is needed, e.g. '72 V'");
  EXPECT_EQ(read("72 V", Kind::energy).error().what,
            "72 V is a voltage; an energy is needed, e.g. '6.5 kWh'");
  EXPECT_EQ(read("72", Kind::voltage).error().what,
            "'72' has no unit; a voltage is needed, e.g. '72 V'");
  EXPECT_EQ(read("1,400 mm", Kind::length).error().expected, "'1.4' or '1400'");
  EXPECT_EQ(read("12,345 mm", Kind::length).error().expected, "'12.345' or '12345'");
  EXPECT_EQ(read("1.405 EUR", Kind::money).error().expected, "'1.4050' or '1405'");
  EXPECT_EQ(read("17 kgs", Kind::mass).error().way_out, "Did you mean 'kg'?");
  EXPECT_EQ(read("17 x", Kind::mass).error().way_out, "");
  EXPECT_EQ(read("100 kv", Kind::motor_constant).error().what,
            "100 kv is in kilovolt; a motor constant is needed, e.g. '70 rpm/V'");
  EXPECT_EQ(read("2 MOHM", Kind::resistance).error().what,
            "case matters here: 'MOHM' could be 'mohm' or 'Mohm'");
  EXPECT_EQ(read("464 A rms", Kind::current).error().what,
            "464 A rms is a phase current; a current is needed, e.g. '300 A'");
  EXPECT_NE(read("2 MW", Kind::power).error().what.find("milliwatt or megawatt"),
            std::string::npos);
  EXPECT_NE(read("4 AWG", Kind::area).error().what.find("designation"), std::string::npos);
  EXPECT_EQ(read("72 V\xFF\x01", Kind::voltage).error().found, "72 V??");
  // A long text is cut between two signs, not within one.
  for (std::size_t lead = 54; lead < 62; ++lead) {
    const std::string start(lead, 'x');
    const std::string found =
        read(start + "\xE2\x82\xAC\xC3\xA4yyyyyyyyyy", Kind::voltage).error().found;
    EXPECT_EQ(found.find('?'), std::string::npos) << found;
    EXPECT_EQ(found.substr(found.size() - 3), "...");
    EXPECT_GE(found.size(), 58U);
  }
}

// The two readings that an ambiguous number's message names must themselves be accepted.
TEST(Read, TheNamedReadingsOfAnAmbiguousNumberAreAccepted) {
  EXPECT_EQ(read("1.4 mm", Kind::length)->value, 0.0014);
  EXPECT_EQ(read("1400 mm", Kind::length)->value, 1.4);
  EXPECT_EQ(read("1.4050 EUR", Kind::money)->value, 1.405);
}

struct Spread {
  const char* text;
  Kind kind;
  double value;
  double half_width;
};

const Spread spreads[] = {
    {"1400 mm +- 3 mm", Kind::length, 1.4, 0.003},
    {"1400 mm +-3", Kind::length, 1.4, 0.003},
    {"1400 mm \xC2\xB1 3 mm", Kind::length, 1.4, 0.003},
    {"1400 mm\xC2\xB1"
     "3",
     Kind::length, 1.4, 0.003},
    {"1400 mm +/- 3 mm", Kind::length, 1.4, 0.003},
    {"1400 +- 3 mm", Kind::length, 1.4, 0.003},
    {"1400 mm +- 0.3 cm", Kind::length, 1.4, 0.003},
    {"1400 mm +- 0.5 %", Kind::length, 1.4, 0.007},
    {"1400 mm +- 0,5%", Kind::length, 1.4, 0.007},
    {"-1400 mm +- 0.5 %", Kind::length, -1.4, 0.007},
    {"1400 mm +- 0", Kind::length, 1.4, 0},
    {"13 1/2 in +- 1/8", Kind::length, 0.3429, 0.003175},
    {"13 1/2 +- 1/8 in", Kind::length, 0.3429, 0.003175},
    {"20 degC +- 2 K", Kind::temperature, 293.15, 2},
    {"20 degC +- 2", Kind::temperature, 293.15, 2},
    {"20 degC +- 2 degC", Kind::temperature, 293.15, 2},
    {"20 +- 2 degC", Kind::temperature, 293.15, 2},
    {"68 degF +- 9", Kind::temperature, 293.15, 5},
    {"20 degC +- 9 degF", Kind::temperature, 293.15, 5},
    {"0.96 +- 0.01", Kind::ratio, 0.96, 0.01},
    {"0.96 +- 5 %", Kind::ratio, 0.96, 0.048},
    {"96 % +- 2", Kind::ratio, 0.96, 0.02},
    {"96 % +- 2 %", Kind::ratio, 0.96, 0.02},
    {"96 % +- 2", Kind::share, 0.96, 0.02},
    {"0.96 +- 2 %", Kind::share, 0.96, 0.0192},
    {"350 EUR +- 20", Kind::money, 350, 20},
    {"350 EUR +- 10 %", Kind::money, 350, 35},
    {"350 +- 20 EUR", Kind::money, 350, 20},
    {"464 A peak +- 5 %", Kind::phase_current, 464, 23.2},
    {"464 A +- 5 % peak", Kind::phase_current, 464, 23.2},
    {"464 A peak +- 10 A peak", Kind::phase_current, 464, 10},
};

TEST(Read, SpreadsWithUnitWithoutAndInPercent) {
  for (const Spread& row : spreads) {
    const auto reading = read(row.text, row.kind);
    ASSERT_TRUE(reading) << row.text << ": " << describe(reading.error());
    EXPECT_NEAR(reading->value, row.value, 4e-16 * std::fabs(row.value)) << row.text;
    EXPECT_NEAR(reading->half_width, row.half_width, 4e-16 * row.half_width) << row.text;
  }
  EXPECT_EQ(read("350 +- 20 EUR", Kind::money)->unit, "EUR");
}

struct Said {
  const char* text;
  Kind kind;
  Convention convention;
};

TEST(Read, ConventionWords) {
  const Said rows[] = {
      {"464 A", Kind::phase_current, Convention::unsaid},
      {"464 A peak", Kind::phase_current, Convention::peak},
      {"464 A RMS", Kind::phase_current, Convention::rms},
      {"464 Arms", Kind::phase_current, Convention::rms},
      {"464 A dc", Kind::phase_current, Convention::dc},
      {"464 A +- 5 % peak", Kind::phase_current, Convention::peak},
      {"70 rpm/V dc", Kind::motor_constant, Convention::dc},
      {"70 rpm/V peak", Kind::motor_constant, Convention::peak},
      {"70 rpm/V", Kind::motor_constant, Convention::unsaid},
      {"0.13 Nm/A rms", Kind::torque_constant, Convention::rms},
      {"0.13 Nm/Arms", Kind::torque_constant, Convention::rms},
      {"300 A dc", Kind::current, Convention::unsaid},
  };
  for (const Said& row : rows) {
    const auto reading = read(row.text, row.kind);
    ASSERT_TRUE(reading) << row.text << ": " << describe(reading.error());
    EXPECT_EQ(reading->convention, row.convention) << row.text;
  }
}

TEST(Read, ExamplesAreOfTheirKindAndNamesAreThere) {
  for (int i = 0; i <= static_cast<int>(Kind::volume_flow); ++i) {
    const Kind kind = static_cast<Kind>(i);
    EXPECT_FALSE(name_of(kind).empty());
    const auto reading = read(example_of(kind), kind);
    ASSERT_TRUE(reading) << example_of(kind);
    // An example shows how people write it, so it is what print() would write.
    EXPECT_EQ(example_of(kind).substr(0, print(reading->value, kind).size()),
              print(reading->value, kind));
  }
}

TEST(Units, TableIsClosedAndEachSpellingReadsAsItsRow) {
  Kind before = Kind::ratio;
  for (const Unit& unit : unit_table()) {
    EXPECT_GE(unit.kind, before) << unit.spelling;
    before = unit.kind;
    const auto reading = read("3 " + std::string(unit.spelling), unit.kind);
    ASSERT_TRUE(reading) << unit.spelling << ": " << describe(reading.error());
    EXPECT_EQ(reading->unit, unit.spelling);
    const double plain = 3 * unit.factor + unit.offset;
    EXPECT_NEAR(reading->value, plain, 4e-16 * plain) << unit.spelling;
    int times = 0;
    for (const Unit& other : unit_table())
      times += other.kind == unit.kind && other.spelling == unit.spelling;
    EXPECT_EQ(times, 1) << unit.spelling;
  }
}

TEST(Units, TheFirstUnitOfEachKindIsSi) {
  int kinds = 0;
  const Unit* before = nullptr;
  for (const Unit& unit : unit_table()) {
    if (before == nullptr || before->kind != unit.kind) {
      EXPECT_EQ(unit.factor, 1) << unit.spelling;
      EXPECT_EQ(unit.offset, 0) << unit.spelling;
      ++kinds;
    }
    before = &unit;
  }
  EXPECT_EQ(kinds, static_cast<int>(Kind::volume_flow) + 1);
}

bool same_bits(double a, double b) {
  return std::memcmp(&a, &b, sizeof a) == 0;
}

// Every double that a figure can have comes back from its text, in every unit.
TEST(Units, PrintExactReadsBackBitForBit) {
  std::mt19937_64 random(20240501);
  std::uniform_real_distribution<double> mantissa(1, 10);
  std::uniform_int_distribution<int> everyday(-6, 7);
  std::uniform_int_distribution<int> far(-59, 59);
  for (const Unit& unit : unit_table()) {
    for (int i = 0; i < 1000; ++i) {
      const int exponent = i % 4 == 0 ? far(random) : everyday(random);
      const double sign = i % 3 == 0 ? -1 : 1;
      const double value = sign * mantissa(random) * std::pow(10.0, exponent);
      const std::string text = print_exact(value, unit.kind, unit.spelling);
      const auto reading = read(text, unit.kind);
      ASSERT_TRUE(reading) << text << ": " << describe(reading.error());
      ASSERT_TRUE(same_bits(reading->value, value)) << text << " for " << value;
      const bool near_absolute_zero = unit.kind == Kind::temperature && std::fabs(value) < 1;
      if (unit.kind != Kind::money && !near_absolute_zero) {
        ASSERT_EQ(reading->unit, unit.spelling) << text;
      }
    }
  }
}

TEST(Units, TypedNumbersComeBackAsTyped) {
  std::mt19937_64 random(7);
  std::uniform_int_distribution<int> whole(1, 99999);
  std::uniform_int_distribution<int> places(0, 4);
  for (const Unit& unit : unit_table()) {
    for (int i = 0; i < 300; ++i) {
      const int digits = whole(random);
      const double shown = digits / std::pow(10.0, places(random));
      const std::string typed = print_exact(shown, Kind::ratio, "") +
                                (unit.spelling.empty() ? "" : " " + std::string(unit.spelling));
      const auto reading = read(typed, unit.kind);
      if (!reading && unit.kind == Kind::money) continue;  // three decimals
      ASSERT_TRUE(reading) << typed;
      EXPECT_EQ(print_exact(reading->value, unit.kind, unit.spelling), typed);
    }
  }
}

TEST(Evidence, WordsAndTheirSlips) {
  for (const Evidence evidence : {Evidence::guess, Evidence::hearsay, Evidence::seller,
                                  Evidence::data_sheet, Evidence::measured}) {
    EXPECT_EQ(*read_evidence(word(evidence)), evidence);
  }
  EXPECT_EQ(*read_evidence("Datasheet"), Evidence::data_sheet);
  EXPECT_EQ(*read_evidence("data-sheet"), Evidence::data_sheet);
  EXPECT_EQ(*read_evidence(" Measured "), Evidence::measured);
  const auto slip = read_evidence("mesured");
  ASSERT_FALSE(slip);
  EXPECT_EQ(slip.error().code, "unknown-evidence");
  EXPECT_EQ(slip.error().way_out, "Did you mean 'measured'?");
  EXPECT_FALSE(read_evidence(""));
}

}  // namespace
}  // namespace ww::figure
