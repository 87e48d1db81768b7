// SPDX-License-Identifier: MIT
// What a builder may type for a number, and what it means. One closed table of units; nothing is
// guessed. Invariants:
// 1. Every value leaves in the coherent SI unit of its kind (kelvin for temperatures, rad/s for
// rotation, rad for
//    angles, coulomb for charge, joule for energy); `money`, `ratio` and
//    `share` are as typed.
// 2. Case matters in unit names that would otherwise be ambiguous (mohm, Mohm); a spelling that is
// not in the table
//    is refused with the nearest one that is.
// 3. print(read(text)) reads back as the same double for the spelling it was typed in.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace ww::figure {

enum class Kind : std::uint8_t {
  ratio,                  // 4.5, "4.5:1": shown as a plain number
  share,                  // 0.96, "96 %": the same number, shown in percent
  money,                  // "350", "350 EUR": see Reading::unit for the currency
  voltage,                // V
  current,                // A (direct current)
  phase_current,          // A, with a convention word: peak, rms, dc
  resistance,             // ohm
  capacitance,            // F
  inductance,             // H
  power,                  // W
  energy,                 // J (Wh, kWh)
  charge,                 // C (Ah, mAh)
  frequency,              // Hz
  angle,                  // rad (deg)
  length,                 // m
  area,                   // m2
  volume,                 // m3 (l, ml)
  mass,                   // kg
  force,                  // N
  stiffness,              // N/m (N/mm, kg/mm, lbf/in)
  speed,                  // m/s
  rotation,               // rad/s (rpm)
  torque,                 // N m
  acceleration,           // m/s2
  inertia,                // kg m2
  temperature,            // K (degC, degF)
  temperature_rise,       // K
  time,                   // s (min, h, day, week, month, year)
  pressure,               // Pa (kPa, bar, psi, MPa)
  motor_constant,         // rad/s per V (rpm/V), with a convention word: dc, peak, rms
  torque_constant,        // N m/A, with a convention word: dc, peak, rms
  thermal_resistance,     // K/W
  heat_capacity,          // J/K
  current_squared_time,   // A2s
  consumption,            // J/m (Wh/km, Wh/mi)
  resistance_per_length,  // ohm/m (mohm/m, ohm/km)
  mass_per_length,        // kg/m
  volume_flow,            // m3/s (l/min)
};

/// Which amplitude a phase current or a motor constant speaks of. `dc` is the six-step DC
/// equivalent.
enum class Convention : std::uint8_t { unsaid, dc, peak, rms };

enum class Evidence : std::uint8_t { guess, hearsay, seller, data_sheet, measured };

/// Metric or imperial spelling on output.
enum class System : std::uint8_t { metric, imperial };

/// A number as read from text.
struct Reading {
  double value;       ///< SI
  double half_width;  ///< SI, NaN where the text has no "+-"
  std::string unit;   ///< the unit's spelling, or the currency for money; may be empty
  Convention convention;
};

/// Reads "72 V", "5/8 in", "13 1/2 in", "-5 degC", "2,5 kWh", "1400 mm +- 3 mm", "1400 mm +- 0.2
/// %", "1 400 mm", "464 A peak". The unit may touch the number. A decimal comma is a point; a comma
/// that could only group thousands (1,400 mm) is refused as ambiguous, and so is a price with three
/// decimals. A bare number is accepted for ratio, share and money
/// only. "1400 +- 3 mm": the unit counts
/// for both. "96 % +- 2 %" is two points; "0.96 +- 2 %" a share of 0.96. The convention word is
/// accepted for phase_current, motor_constant and torque_constant only. Valid: results within
/// 1e-60..1e60 (or zero); outside "not-finite". Correctly rounded from the decimal text. Errors:
/// "empty", "bad-number", "missing-unit", "unknown-unit", "wrong-kind" (says what kind the unit
/// is), "ambiguous-number", "bad-spread", "not-finite", "designation" (a wire gauge, a tyre size).
/// Checked by: tests/figure/read_test.cpp, tests/fuzz/unit_reader_fuzz.cpp.
Result<Reading> read(std::string_view text, Kind kind);

/// One spelled unit: value_SI = number * factor + offset.
struct Unit {
  Kind kind;
  std::string_view spelling;
  double factor;
  double offset;
};
const std::vector<Unit>& unit_table();

/// What a kind is called: "voltage"; and an example a builder can copy: "72 V".
std::string_view name_of(Kind kind);
std::string_view example_of(Kind kind);
/// The spelling of the kind's SI unit; "1" for a plain number.
std::string_view si_unit_of(Kind kind);

/// The number in the unit a builder of that system would use (electrical ones are metric in both),
/// rounded to what is meaningful (three to four significant digits), with its unit: "205 kg", "110
/// km/h", "68 mph", "21 mohm". Lengths keep 0.01 mm below 100 mm, 0.1 mm below 1 m, 0.001
/// in below 10 in: bores and gaps are judged on that. read() takes it (between 1e-59 and 1e59;
/// beyond, rounding may carry it over the end).
std::string print(double value, Kind kind, System system = System::metric);
/// The same with its spread: "106 km/h +- 5".
std::string print(double value, double half_width, Kind kind, System system = System::metric);
/// The exact number in `unit` (fewest digits that read back as the same bits), e.g. "25.4 mm".
/// Unknown unit, or a temperature within 1 K of absolute zero that degrees cannot spell: the SI
/// unit. Not finite: "unknown". Valid: 1e-60 < |value| < 1e60 or zero, or read() will refuse the
/// text.
std::string print_exact(double value, Kind kind, std::string_view unit,
                        Convention convention = Convention::unsaid);
/// The spelling print() would choose, e.g. for table heads.
std::string_view unit_shown(Kind kind, System system, double value);

std::string_view word(Evidence evidence);  // "guess", "hearsay", "seller", "data sheet", "measured"
std::string_view word(Convention convention);  // "", "dc", "peak", "rms"
/// Any case; "datasheet", "data-sheet". Error: "unknown-evidence".
Result<Evidence> read_evidence(std::string_view text);

}  // namespace ww::figure
