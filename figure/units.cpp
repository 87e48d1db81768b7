// SPDX-License-Identifier: MIT
// Sources: SI Brochure, 9th edition (prefixes, minute, hour, day, degree, litre, tonne); CGPM 1901
// (standard gravity 9.80665 m/s2); international yard and pound agreement 1959 (inch 25.4 mm, pound
// 0.45359237 kg). hp is 745.7 W and PS 735.5 W: common practice, no source (rounded from 550 ft
// lbf/s and 75 kgf m/s). A year is 365.25 days and a month a twelfth of it.
#include "figure/units.h"

#include <algorithm>
#include <array>
#include <numbers>

#include "base/check.h"
#include "base/text.h"
#include "figure/table.h"

namespace ww::figure {
namespace {

constexpr double pi = std::numbers::pi;

constexpr Scale si{1, 1, 0};
constexpr Scale kilo{1e3, 1, 0};
constexpr Scale mega{1e6, 1, 0};
constexpr Scale centi{1, 1e2, 0};
constexpr Scale milli{1, 1e3, 0};
constexpr Scale micro{1, 1e6, 0};
constexpr Scale nano{1, 1e9, 0};
constexpr Scale pico{1, 1e12, 0};

constexpr Scale over(double numerator, double denominator) {
  return {numerator, denominator, 0};
}
constexpr Scale times(double factor) {
  return {factor, 1, 0};
}

// Numerators with their decimal places written as whole numbers.
constexpr double inch_e4 = 254;                     // m
constexpr double foot_e4 = 3048;                    // m
constexpr double yard_e4 = 9144;                    // m
constexpr double mile_e3 = 1609344;                 // m
constexpr double pound_e8 = 45359237;               // kg
constexpr double gravity_e5 = 980665;               // m/s2
constexpr double pound_force_e13 = 44482216152605;  // N
constexpr double minute = 60;
constexpr double hour = 3600;
constexpr double day = 86400;
constexpr double year = 31557600;

// Divided by 40 and by 5 above and below, so that the products stay whole numbers of less than 53
// bits.
constexpr Scale pound_foot = over(pound_force_e13 / 5 * (foot_e4 / 8), 1e17 / 40);
constexpr Scale pound_inch = over(pound_force_e13 / 5 * inch_e4, 1e17 / 5);
constexpr Scale pound_per_inch = over(pound_force_e13, inch_e4 * 1e9);
constexpr Scale pound_per_square_inch = over(pound_force_e13, inch_e4* inch_e4 * 1e5);
constexpr Scale per_minute = over(pi, 30);
constexpr Scale celsius{100, 100, 27315};
constexpr Scale fahrenheit{500, 900, 229835};

constexpr Row table[] = {
    {Kind::ratio, "", si},
    {Kind::ratio, "%", centi},
    {Kind::ratio, "percent", centi},
    {Kind::ratio, ":1", si},
    {Kind::share, "", si},
    {Kind::share, "%", centi},
    {Kind::share, "percent", centi},
    {Kind::money, "", si},
    {Kind::voltage, "V", si},
    {Kind::voltage, "mV", milli},
    {Kind::voltage, "kV", kilo},
    {Kind::voltage, "Vdc", si},
    {Kind::voltage, "V dc", si},
    {Kind::voltage, "volt", si},
    {Kind::voltage, "volts", si},
    {Kind::current, "A", si},
    {Kind::current, "mA", milli},
    {Kind::current, "uA", micro},
    {Kind::current, "kA", kilo},
    {Kind::current, "Adc", si},
    {Kind::current, "A dc", si},
    {Kind::current, "amp", si},
    {Kind::current, "amps", si},
    {Kind::phase_current, "A", si},
    {Kind::phase_current, "mA", milli},
    {Kind::phase_current, "kA", kilo},
    {Kind::phase_current, "amp", si},
    {Kind::phase_current, "amps", si},
    {Kind::resistance, "ohm", si},
    {Kind::resistance, "uohm", micro},
    {Kind::resistance, "mohm", milli},
    {Kind::resistance, "kohm", kilo},
    {Kind::resistance, "Mohm", mega},
    {Kind::resistance, "Ohm", si},
    {Kind::resistance, "uOhm", micro},
    {Kind::resistance, "mOhm", milli},
    {Kind::resistance, "kOhm", kilo},
    {Kind::resistance, "MOhm", mega},
    {Kind::resistance, "ohms", si},
    {Kind::resistance, "milliohm", milli},
    {Kind::resistance, "megohm", mega},
    {Kind::capacitance, "F", si},
    {Kind::capacitance, "mF", milli},
    {Kind::capacitance, "uF", micro},
    {Kind::capacitance, "nF", nano},
    {Kind::capacitance, "pF", pico},
    {Kind::inductance, "H", si},
    {Kind::inductance, "mH", milli},
    {Kind::inductance, "uH", micro},
    {Kind::inductance, "nH", nano},
    {Kind::power, "W", si},
    {Kind::power, "kW", kilo},
    {Kind::power, "hp", over(7457, 10)},
    {Kind::power, "bhp", over(7457, 10)},
    {Kind::power, "PS", over(7355, 10)},
    {Kind::power, "cv", over(7355, 10)},
    {Kind::power, "ch", over(7355, 10)},
    {Kind::power, "watt", si},
    {Kind::power, "watts", si},
    {Kind::energy, "J", si},
    {Kind::energy, "kJ", kilo},
    {Kind::energy, "MJ", mega},
    {Kind::energy, "Wh", times(hour)},
    {Kind::energy, "kWh", times(hour * 1e3)},
    {Kind::energy, "W h", times(hour)},
    {Kind::energy, "kW h", times(hour * 1e3)},
    {Kind::charge, "C", si},
    {Kind::charge, "Ah", times(hour)},
    {Kind::charge, "mAh", over(hour, 1e3)},
    {Kind::charge, "A h", times(hour)},
    {Kind::charge, "mA h", over(hour, 1e3)},
    {Kind::charge, "As", si},
    {Kind::charge, "A s", si},
    {Kind::frequency, "Hz", si},
    {Kind::frequency, "kHz", kilo},
    {Kind::angle, "rad", si},
    {Kind::angle, "deg", over(pi, 180)},
    {Kind::angle, "degree", over(pi, 180)},
    {Kind::angle, "degrees", over(pi, 180)},
    {Kind::length, "m", si},
    {Kind::length, "um", micro},
    {Kind::length, "mm", milli},
    {Kind::length, "cm", centi},
    {Kind::length, "km", kilo},
    {Kind::length, "in", over(inch_e4, 1e4)},
    {Kind::length, "\"", over(inch_e4, 1e4)},
    {Kind::length, "inch", over(inch_e4, 1e4)},
    {Kind::length, "inches", over(inch_e4, 1e4)},
    {Kind::length, "ft", over(foot_e4, 1e4)},
    {Kind::length, "'", over(foot_e4, 1e4)},
    {Kind::length, "foot", over(foot_e4, 1e4)},
    {Kind::length, "feet", over(foot_e4, 1e4)},
    {Kind::length, "yd", over(yard_e4, 1e4)},
    {Kind::length, "mi", over(mile_e3, 1e3)},
    {Kind::length, "mile", over(mile_e3, 1e3)},
    {Kind::length, "miles", over(mile_e3, 1e3)},
    {Kind::area, "m2", si},
    {Kind::area, "mm2", micro},
    {Kind::area, "cm2", over(1, 1e4)},
    {Kind::area, "in2", over(inch_e4* inch_e4, 1e8)},
    {Kind::area, "ft2", over(foot_e4* foot_e4, 1e8)},
    {Kind::area, "sq m", si},
    {Kind::area, "sq mm", micro},
    {Kind::area, "sq cm", over(1, 1e4)},
    {Kind::area, "sq in", over(inch_e4* inch_e4, 1e8)},
    {Kind::area, "sq ft", over(foot_e4* foot_e4, 1e8)},
    {Kind::area, "sqmm", micro},
    // A circular mil is the area of a circle of 0.001 inch.
    {Kind::area, "cmil", over(pi* inch_e4* inch_e4, 4e14)},
    {Kind::area, "kcmil", over(pi* inch_e4* inch_e4, 4e11)},
    {Kind::volume, "m3", si},
    {Kind::volume, "l", milli},
    {Kind::volume, "L", milli},
    {Kind::volume, "ml", micro},
    {Kind::volume, "mL", micro},
    {Kind::volume, "cm3", micro},
    {Kind::volume, "cc", micro},
    {Kind::volume, "ccm", micro},
    {Kind::volume, "litre", milli},
    {Kind::volume, "litres", milli},
    {Kind::volume, "liter", milli},
    {Kind::volume, "liters", milli},
    {Kind::volume, "in3", over(inch_e4* inch_e4* inch_e4, 1e12)},
    {Kind::volume, "ft3", over(foot_e4* foot_e4* foot_e4, 1e12)},
    {Kind::volume, "cu in", over(inch_e4* inch_e4* inch_e4, 1e12)},
    {Kind::mass, "kg", si},
    {Kind::mass, "g", milli},
    {Kind::mass, "t", kilo},
    {Kind::mass, "tonne", kilo},
    {Kind::mass, "tonnes", kilo},
    {Kind::mass, "lb", over(pound_e8, 1e8)},
    {Kind::mass, "lbs", over(pound_e8, 1e8)},
    {Kind::mass, "pound", over(pound_e8, 1e8)},
    {Kind::mass, "pounds", over(pound_e8, 1e8)},
    {Kind::mass, "oz", over(pound_e8, 16e8)},
    {Kind::mass, "st", over(pound_e8 * 14, 1e8)},
    {Kind::mass, "stone", over(pound_e8 * 14, 1e8)},
    {Kind::force, "N", si},
    {Kind::force, "kN", kilo},
    {Kind::force, "lbf", over(pound_force_e13, 1e13)},
    {Kind::force, "kgf", over(gravity_e5, 1e5)},
    {Kind::stiffness, "N/m", si},
    {Kind::stiffness, "N/mm", kilo},
    {Kind::stiffness, "kN/m", kilo},
    {Kind::stiffness, "kg/mm", over(gravity_e5, 1e2)},
    {Kind::stiffness, "kgf/mm", over(gravity_e5, 1e2)},
    {Kind::stiffness, "lbf/in", pound_per_inch},
    {Kind::stiffness, "lb/in", pound_per_inch},
    {Kind::stiffness, "lbs/in", pound_per_inch},
    {Kind::speed, "m/s", si},
    {Kind::speed, "km/h", over(10, 36)},
    {Kind::speed, "kph", over(10, 36)},
    {Kind::speed, "kmh", over(10, 36)},
    {Kind::speed, "kmph", over(10, 36)},
    {Kind::speed, "mph", over(mile_e3, hour * 1e3)},
    {Kind::speed, "mi/h", over(mile_e3, hour * 1e3)},
    {Kind::speed, "ft/s", over(foot_e4, 1e4)},
    {Kind::rotation, "rad/s", si},
    {Kind::rotation, "rpm", per_minute},
    {Kind::rotation, "1/min", per_minute},
    {Kind::rotation, "/min", per_minute},
    {Kind::rotation, "min-1", per_minute},
    {Kind::rotation, "rev/min", per_minute},
    {Kind::rotation, "r/min", per_minute},
    {Kind::rotation, "deg/s", over(pi, 180)},
    {Kind::torque, "Nm", si},
    {Kind::torque, "N m", si},
    {Kind::torque, "mNm", milli},
    {Kind::torque, "Ncm", centi},
    {Kind::torque, "lbf ft", pound_foot},
    {Kind::torque, "lb ft", pound_foot},
    {Kind::torque, "lbft", pound_foot},
    {Kind::torque, "ft lbf", pound_foot},
    {Kind::torque, "ft lb", pound_foot},
    {Kind::torque, "ft lbs", pound_foot},
    {Kind::torque, "ftlb", pound_foot},
    {Kind::torque, "lbf in", pound_inch},
    {Kind::torque, "lb in", pound_inch},
    {Kind::torque, "in lbf", pound_inch},
    {Kind::torque, "in lb", pound_inch},
    {Kind::torque, "kgf m", over(gravity_e5, 1e5)},
    {Kind::acceleration, "m/s2", si},
    {Kind::acceleration, "g", over(gravity_e5, 1e5)},
    {Kind::acceleration, "ft/s2", over(foot_e4, 1e4)},
    {Kind::inertia, "kg m2", si},
    {Kind::inertia, "kgm2", si},
    {Kind::inertia, "kg cm2", over(1, 1e4)},
    {Kind::inertia, "kgcm2", over(1, 1e4)},
    {Kind::inertia, "kg mm2", micro},
    {Kind::inertia, "g m2", milli},
    {Kind::inertia, "g cm2", over(1, 1e7)},
    {Kind::temperature, "K", si},
    {Kind::temperature, "degC", celsius},
    {Kind::temperature, "C", celsius},
    {Kind::temperature, "deg C", celsius},
    {Kind::temperature, "degF", fahrenheit},
    {Kind::temperature, "F", fahrenheit},
    {Kind::temperature, "deg F", fahrenheit},
    {Kind::temperature_rise, "K", si},
    {Kind::temperature_rise, "degC", si},
    {Kind::temperature_rise, "C", si},
    {Kind::temperature_rise, "deg C", si},
    {Kind::temperature_rise, "degF", over(5, 9)},
    {Kind::temperature_rise, "F", over(5, 9)},
    {Kind::temperature_rise, "deg F", over(5, 9)},
    {Kind::time, "s", si},
    {Kind::time, "us", micro},
    {Kind::time, "ms", milli},
    {Kind::time, "sec", si},
    {Kind::time, "second", si},
    {Kind::time, "seconds", si},
    {Kind::time, "min", times(minute)},
    {Kind::time, "mins", times(minute)},
    {Kind::time, "minute", times(minute)},
    {Kind::time, "minutes", times(minute)},
    {Kind::time, "h", times(hour)},
    {Kind::time, "hr", times(hour)},
    {Kind::time, "hrs", times(hour)},
    {Kind::time, "hour", times(hour)},
    {Kind::time, "hours", times(hour)},
    {Kind::time, "d", times(day)},
    {Kind::time, "day", times(day)},
    {Kind::time, "days", times(day)},
    {Kind::time, "week", times(7 * day)},
    {Kind::time, "weeks", times(7 * day)},
    {Kind::time, "month", times(year / 12)},
    {Kind::time, "months", times(year / 12)},
    {Kind::time, "year", times(year)},
    {Kind::time, "years", times(year)},
    {Kind::pressure, "Pa", si},
    {Kind::pressure, "hPa", times(100)},
    {Kind::pressure, "kPa", kilo},
    {Kind::pressure, "MPa", mega},
    {Kind::pressure, "N/mm2", mega},
    {Kind::pressure, "bar", times(1e5)},
    {Kind::pressure, "mbar", times(100)},
    {Kind::pressure, "psi", pound_per_square_inch},
    {Kind::pressure, "lbf/in2", pound_per_square_inch},
    {Kind::pressure, "kgf/cm2", over(gravity_e5, 10)},
    {Kind::pressure, "kg/cm2", over(gravity_e5, 10)},
    {Kind::motor_constant, "rad/s/V", si},
    {Kind::motor_constant, "rpm/V", per_minute},
    {Kind::motor_constant, "rpm/volt", per_minute},
    {Kind::motor_constant, "1/min/V", per_minute},
    {Kind::torque_constant, "Nm/A", si},
    {Kind::torque_constant, "N m/A", si},
    {Kind::torque_constant, "mNm/A", milli},
    {Kind::torque_constant, "lbf ft/A", pound_foot},
    {Kind::thermal_resistance, "K/W", si},
    {Kind::thermal_resistance, "degC/W", si},
    {Kind::thermal_resistance, "C/W", si},
    {Kind::thermal_resistance, "mK/W", milli},
    {Kind::thermal_resistance, "K/kW", milli},
    {Kind::heat_capacity, "J/K", si},
    {Kind::heat_capacity, "kJ/K", kilo},
    {Kind::heat_capacity, "J/degC", si},
    {Kind::heat_capacity, "Wh/K", times(hour)},
    {Kind::current_squared_time, "A2s", si},
    {Kind::current_squared_time, "A2 s", si},
    {Kind::current_squared_time, "kA2s", kilo},
    {Kind::current_squared_time, "kA2 s", kilo},
    {Kind::consumption, "J/m", si},
    {Kind::consumption, "Wh/km", over(36, 10)},
    {Kind::consumption, "Wh/mi", over(hour * 1e3, mile_e3)},
    {Kind::consumption, "Wh/mile", over(hour * 1e3, mile_e3)},
    {Kind::consumption, "kWh/100km", times(36)},
    {Kind::consumption, "kWh/100 km", times(36)},
    {Kind::consumption, "kWh/km", times(hour)},
    {Kind::resistance_per_length, "ohm/m", si},
    {Kind::resistance_per_length, "mohm/m", milli},
    {Kind::resistance_per_length, "uohm/m", micro},
    {Kind::resistance_per_length, "ohm/km", milli},
    {Kind::resistance_per_length, "Ohm/m", si},
    {Kind::resistance_per_length, "mOhm/m", milli},
    {Kind::resistance_per_length, "Ohm/km", milli},
    {Kind::resistance_per_length, "mohm/ft", over(10, foot_e4)},
    {Kind::resistance_per_length, "ohm/1000ft", over(10, foot_e4)},
    {Kind::mass_per_length, "kg/m", si},
    {Kind::mass_per_length, "g/m", milli},
    {Kind::mass_per_length, "kg/km", milli},
    {Kind::mass_per_length, "lb/ft", over(pound_e8, foot_e4 * 1e4)},
    {Kind::volume_flow, "m3/s", si},
    {Kind::volume_flow, "l/min", over(1, 6e4)},
    {Kind::volume_flow, "L/min", over(1, 6e4)},
    {Kind::volume_flow, "lpm", over(1, 6e4)},
    {Kind::volume_flow, "ml/min", over(1, 6e7)},
    {Kind::volume_flow, "l/h", over(1, 36e5)},
};

struct KindWords {
  std::string_view name;
  std::string_view example;
};
constexpr std::array<KindWords, kind_count> kind_words{{
    {"ratio", "4.5"},
    {"share", "96 %"},
    {"price", "350"},
    {"voltage", "72 V"},
    {"current", "300 A"},
    {"phase current", "460 A peak"},
    {"resistance", "21 mohm"},
    {"capacitance", "1000 uF"},
    {"inductance", "120 uH"},
    {"power", "8 kW"},
    {"energy", "6.5 kWh"},
    {"charge", "90 Ah"},
    {"frequency", "16 kHz"},
    {"angle", "26 deg"},
    {"length", "1400 mm"},
    {"area", "35 mm2"},
    {"volume", "2.5 l"},
    {"mass", "17 kg"},
    {"force", "500 N"},
    {"stiffness", "9 N/mm"},
    {"speed", "110 km/h"},
    {"rotational speed", "4000 rpm"},
    {"torque", "60 Nm"},
    {"acceleration", "3 m/s2"},
    {"moment of inertia", "0.5 kg m2"},
    {"temperature", "20 degC"},
    {"temperature rise", "60 K"},
    {"time", "30 min"},
    {"pressure", "2.5 bar"},
    {"motor constant", "70 rpm/V"},
    {"torque constant", "0.13 Nm/A"},
    {"thermal resistance", "0.2 K/W"},
    {"heat capacity", "9000 J/K"},
    {"current squared times time", "5 kA2s"},
    {"consumption", "55 Wh/km"},
    {"resistance per length", "0.5 mohm/m"},
    {"mass per length", "400 g/m"},
    {"volume flow", "6 l/min"},
}};

constexpr std::array<std::string_view, 5> evidence_words{"guess", "hearsay", "seller", "data sheet",
                                                         "measured"};

// ISO 4217 codes in use, without AWG, which a builder means as a wire gauge.
constexpr std::string_view currency_codes =
    "AED AFN ALL AMD AOA ARS AUD AZN BAM BBD BDT BGN BHD BIF BMD BND BOB BRL BSD BTN BWP BYN BZD "
    "CAD CDF CHF CLP "
    "CNY COP CRC CUP CVE CZK DJF DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GNF GTQ "
    "GYD HKD HNL HTG "
    "HUF IDR ILS INR IQD IRR ISK JMD JOD JPY KES KGS KHR KMF KPW KRW KWD KYD KZT LAK LBP LKR LRD "
    "LSL LYD MAD MDL "
    "MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD NGN NIO NOK NPR NZD OMR PAB PEN PGK PHP "
    "PKR PLN PYG QAR "
    "RON RSD RUB RWF SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SYP SZL THB TJS TMT TND TOP "
    "TRY TTD TWD TZS "
    "UAH UGX USD UYU UZS VES VND VUV WST XAF XCD XOF XPF YER ZAR ZMW";

// These are understood in any case; of the others "kgs", "all" and "try" would be too easily
// something else.
constexpr std::string_view common_codes =
    "EUR USD GBP CHF AUD CAD NZD SEK NOK DKK PLN CZK JPY INR ZAR";

std::array<Rows, kind_count> rows_by_kind() {
  std::array<Rows, kind_count> index{};
  for (const Row& row : table) {
    Rows& rows = index[static_cast<std::size_t>(row.kind)];
    if (rows.first == nullptr) rows.first = &row;
    WW_ASSERT(rows.last == nullptr || rows.last == &row);
    rows.last = &row + 1;
  }
  return index;
}

char lower_letter(char c) {
  return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

bool same_but_for_case(std::string_view a, std::string_view b) {
  return a.size() == b.size() && std::equal(a.begin(), a.end(), b.begin(), [](char x, char y) {
           return lower_letter(x) == lower_letter(y);
         });
}

bool same_scale(const Scale& a, const Scale& b) {
  return a.numerator == b.numerator && a.denominator == b.denominator && a.offset == b.offset;
}

/// Whether reading `typed` as `row` would turn milli into mega or back: "mJ" is not "MJ", "MV" not
/// "mV"; but "MAH" is "mAh" and "Min" is "min".
bool prefix_would_change(std::string_view typed, const Row& row) {
  if (typed.front() == row.spelling.front() || lower_letter(typed.front()) != 'm') return false;
  const bool has_prefix = find_exact(row.kind, row.spelling.substr(1)) != nullptr;
  if (!has_prefix) return false;
  return row.spelling.front() == 'M' || find_exact(row.kind, typed.substr(1)) != nullptr;
}

}  // namespace

Rows rows_of(Kind kind) {
  static const std::array<Rows, kind_count> index = rows_by_kind();
  return index[static_cast<std::size_t>(kind)];
}

const Row* find_exact(Kind kind, std::string_view spelling) {
  for (const Row& row : rows_of(kind)) {
    if (row.spelling == spelling) return &row;
  }
  return nullptr;
}

Match find_unit(Kind kind, std::string_view spelling) {
  if (const Row* row = find_exact(kind, spelling)) return {row, nullptr};
  if (spelling.empty()) return {nullptr, nullptr};
  const Row* found = nullptr;
  for (const Row& row : rows_of(kind)) {
    if (!same_but_for_case(row.spelling, spelling) || prefix_would_change(spelling, row)) continue;
    if (found != nullptr && !same_scale(found->scale, row.scale)) return {found, &row};
    if (found == nullptr) found = &row;
  }
  return {found, nullptr};
}

std::string currency(std::string_view text) {
  if (text == "$") return "USD";  // which other dollar is meant has to be written
  if (text.size() != 3 || text.find(' ') != std::string_view::npos) return {};
  if (currency_codes.find(text) != std::string_view::npos) return std::string(text);
  for (std::size_t i = 0; i < common_codes.size(); i += 4) {
    const std::string_view code = common_codes.substr(i, 3);
    if (same_but_for_case(code, text)) return std::string(code);
  }
  return {};
}

std::string with_article(Kind kind) {
  const std::string_view name = name_of(kind);
  const bool vowel = std::string_view("aeiou").find(name.front()) != std::string_view::npos;
  return (vowel ? "an " : "a ") + std::string(name);
}

bool takes_convention(Kind kind) {
  return kind == Kind::phase_current || kind == Kind::motor_constant ||
         kind == Kind::torque_constant;
}

const std::vector<Unit>& unit_table() {
  static const std::vector<Unit> units = [] {
    std::vector<Unit> list;
    for (const Row& row : table) {
      const Scale& scale = row.scale;
      list.push_back({row.kind, row.spelling, scale.numerator / scale.denominator,
                      scale.offset / scale.denominator});
    }
    return list;
  }();
  return units;
}

std::string_view name_of(Kind kind) {
  return kind_words[static_cast<std::size_t>(kind)].name;
}

std::string_view example_of(Kind kind) {
  return kind_words[static_cast<std::size_t>(kind)].example;
}

std::string_view si_unit_of(Kind kind) {
  const std::string_view spelling = rows_of(kind).begin()->spelling;
  return spelling.empty() ? "1" : spelling;
}

std::string_view word(Evidence evidence) {
  return evidence_words[static_cast<std::size_t>(evidence)];
}

std::string_view word(Convention convention) {
  constexpr std::array<std::string_view, 4> words{"", "dc", "peak", "rms"};
  return words[static_cast<std::size_t>(convention)];
}

Result<Evidence> read_evidence(std::string_view text) {
  std::string plain = lower(trim(text));
  std::replace(plain.begin(), plain.end(), '-', ' ');
  std::replace(plain.begin(), plain.end(), '_', ' ');
  if (plain == "datasheet") plain = "data sheet";
  for (std::size_t i = 0; i < evidence_words.size(); ++i) {
    if (plain == evidence_words[i]) return static_cast<Evidence>(i);
  }
  Error error{.code = "unknown-evidence",
              .what = "this is no grade of evidence",
              .found = std::string(trim(text).substr(0, 40)),
              .expected = "guess, hearsay, seller, data sheet or measured"};
  error.way_out = did_you_mean(plain, {evidence_words.begin(), evidence_words.end()});
  return fail(std::move(error));
}

}  // namespace ww::figure
