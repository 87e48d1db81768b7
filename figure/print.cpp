// SPDX-License-Identifier: MIT
// From an SI number to text: for people (print) and for files (print_exact).
#include <algorithm>
#include <cmath>
#include <initializer_list>

#include "base/text.h"
#include "figure/table.h"
#include "figure/units.h"

namespace ww::figure {
namespace {

constexpr double no_bound = 1e308;

/// A unit and the size in SI from which the next one takes over.
struct Step {
  double below;
  std::string_view unit;
};

std::string_view pick(double size, std::initializer_list<Step> steps) {
  for (const Step& step : steps) {
    if (size < step.below) return step.unit;
  }
  return {};
}

/// Zero is shown in the unit of everyday size.
double everyday_when_zero(double size, double everyday) {
  return size == 0.0 ? everyday : size;
}

std::string_view length_unit(double size, System system) {
  if (system == System::metric) return pick(size, {{10, "mm"}, {1000, "m"}, {no_bound, "km"}});
  return pick(size, {{3.048, "in"}, {304.8, "ft"}, {no_bound, "mi"}});
}

std::string_view area_unit(double size, System system) {
  if (system == System::metric) return pick(size, {{0.01, "mm2"}, {no_bound, "m2"}});
  return pick(size,
              {{0.0005, "mm2"}, {0.01, "in2"}, {no_bound, "ft2"}});  // cables are mm2 everywhere
}

std::string_view volume_unit(double size, System system) {
  if (system == System::metric) return pick(size, {{1e-3, "ml"}, {1, "l"}, {no_bound, "m3"}});
  return pick(size, {{0.0283, "in3"}, {no_bound, "ft3"}});
}

std::string_view mass_unit(double size, System system) {
  if (system == System::metric) return pick(size, {{1, "g"}, {1e4, "kg"}, {no_bound, "t"}});
  return pick(size, {{0.453, "oz"}, {no_bound, "lb"}});
}

std::string_view pressure_unit(double size, System system) {
  if (system == System::imperial) return "psi";
  return pick(size, {{1e3, "Pa"}, {5e4, "kPa"}, {1e7, "bar"}, {no_bound, "MPa"}});
}

std::string_view time_unit(double size) {
  constexpr double minute = 60;
  constexpr double hour = 3600;
  constexpr double day = 86400;
  return pick(size, {{1, "ms"},
                     {2 * minute, "s"},
                     {2 * hour, "min"},
                     {2 * day, "h"},
                     {14 * day, "days"},
                     {61 * day, "weeks"},
                     {731 * day, "months"},
                     {no_bound, "years"}});
}

std::string_view electrical_unit(Kind kind, double size) {
  switch (kind) {
    case Kind::voltage:
      return pick(everyday_when_zero(size, 1), {{0.1, "mV"}, {1e4, "V"}, {no_bound, "kV"}});
    case Kind::current:
    case Kind::phase_current:
      return pick(everyday_when_zero(size, 1), {{0.1, "mA"}, {2e3, "A"}, {no_bound, "kA"}});
    case Kind::resistance:
      return pick(everyday_when_zero(size, 1),
                  {{1e-3, "uohm"}, {1, "mohm"}, {1e3, "ohm"}, {1e6, "kohm"}, {no_bound, "Mohm"}});
    case Kind::capacitance:
      return pick(everyday_when_zero(size, 1e-6),
                  {{1e-9, "pF"}, {1e-6, "nF"}, {0.01, "uF"}, {1, "mF"}, {no_bound, "F"}});
    case Kind::inductance:
      return pick(everyday_when_zero(size, 1e-6),
                  {{1e-6, "nH"}, {1e-3, "uH"}, {1, "mH"}, {no_bound, "H"}});
    case Kind::power:
      return pick(size, {{1e3, "W"}, {no_bound, "kW"}});
    case Kind::energy:
      return pick(everyday_when_zero(size, 3600), {{3600, "J"}, {3.6e6, "Wh"}, {no_bound, "kWh"}});
    case Kind::charge:
      return pick(everyday_when_zero(size, 3600), {{3600, "mAh"}, {no_bound, "Ah"}});
    case Kind::frequency:
      return pick(size, {{1e3, "Hz"}, {no_bound, "kHz"}});
    default:
      return pick(size, {{1e3, "A2s"}, {no_bound, "kA2s"}});
  }
}

/// Units that do not depend on the size; empty where they do.
std::string_view steady_unit(Kind kind, System system) {
  const bool metric = system == System::metric;
  switch (kind) {
    case Kind::angle:
      return "deg";
    case Kind::stiffness:
      return metric ? "N/mm" : "lbf/in";
    case Kind::speed:
      return metric ? "km/h" : "mph";
    case Kind::rotation:
      return "rpm";
    case Kind::torque:
      return metric ? "Nm" : "lbf ft";
    case Kind::acceleration:
      return metric ? "m/s2" : "ft/s2";
    case Kind::inertia:
      return "kg m2";
    case Kind::temperature:
      return metric ? "degC" : "degF";
    case Kind::temperature_rise:
      return metric ? "K" : "degF";
    case Kind::motor_constant:
      return "rpm/V";
    case Kind::torque_constant:
      return "Nm/A";
    case Kind::thermal_resistance:
      return "K/W";
    case Kind::consumption:
      return metric ? "Wh/km" : "Wh/mi";
    case Kind::resistance_per_length:
      return metric ? "mohm/m" : "mohm/ft";
    case Kind::volume_flow:
      return "l/min";
    default:
      return {};
  }
}

std::string_view unit_for(Kind kind, System system, double size) {
  const bool metric = system == System::metric;
  switch (kind) {
    case Kind::ratio:
    case Kind::money:
      return {};
    case Kind::share:
      return "%";
    case Kind::length:
      return length_unit(size, system);
    case Kind::area:
      return area_unit(size, system);
    case Kind::volume:
      return volume_unit(everyday_when_zero(size, 1e-2), system);
    case Kind::mass:
      return mass_unit(everyday_when_zero(size, 1), system);
    case Kind::force:
      return metric ? pick(size, {{1e4, "N"}, {no_bound, "kN"}}) : "lbf";
    case Kind::time:
      return time_unit(everyday_when_zero(size, 1));
    case Kind::pressure:
      return pressure_unit(everyday_when_zero(size, 1e5), system);
    case Kind::heat_capacity:
      return pick(size, {{1e4, "J/K"}, {no_bound, "kJ/K"}});
    case Kind::mass_per_length:
      return metric ? pick(size, {{1, "g/m"}, {no_bound, "kg/m"}}) : "lb/ft";
    default:
      break;
  }
  const std::string_view steady = steady_unit(kind, system);
  return steady.empty() ? electrical_unit(kind, size) : steady;
}

/// The place of the leading digit: 2 for 347, -1 for 0.5.
int leading_place(double size) {
  return static_cast<int>(std::floor(std::log10(size)));
}

double rounded_to(double value, int digits) {
  if (value == 0.0 || !std::isfinite(value)) return value;
  const double step = std::pow(10.0, leading_place(std::fabs(value)) - digits + 1);
  return std::round(value / step) * step;
}

std::string without_idle_zeros(std::string text) {
  if (text.find('.') == std::string::npos) return text;
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text == "-0" ? "0" : text;
}

std::string in_powers_of_ten(double number) {
  const double size = std::fabs(number);
  const int place = leading_place(size);
  const std::string digits = without_idle_zeros(fixed(number / std::pow(10.0, place), 2));
  return digits + "e" + std::to_string(place);
}

bool out_of_hand(double size) {
  return size != 0.0 && (size < 1e-6 || size >= 1e12);
}

/// Three digits that mean something, four from 1000 on.
std::string readable(double number) {
  const double size = std::fabs(number);
  if (out_of_hand(size)) return in_powers_of_ten(number);
  if (size >= 1e3) return fixed(rounded_to(number, 4), 0);
  const int decimals = size == 0.0 ? 0 : 2 - leading_place(size);
  return without_idle_zeros(fixed(number, std::max(0, decimals)));
}

/// Small lengths are judged on hundredths of a millimetre: a bore of 19.05 mm is none of 19.1 mm.
std::string fine_length(double number, std::string_view unit) {
  const double size = std::fabs(number);
  if (size >= 1 && size < 9.9995 && unit == "in") return without_idle_zeros(fixed(number, 3));
  if (size >= 1 && size < 999.95 && unit == "mm")
    return without_idle_zeros(fixed(number, size < 99.995 ? 2 : 1));
  return readable(number);
}

std::string price(double number) {
  const bool pence_matter =
      std::fabs(number) < 100 && std::fabs(number - std::round(number)) >= 0.005;
  return fixed(number, pence_matter ? 2 : 0);
}

/// Three decimals of a price could be read as thousands; a fourth cannot.
std::string never_thousands(std::string number, Kind kind) {
  if (kind == Kind::money && scan_number(number, Grouping::price).fault == NumberFault::ambiguous)
    number.insert(std::min(number.find('e'), number.size()), "0");
  return number;
}

/// A half-width: two digits where the first is 1 or 2, else one.
int decimals_of_spread(double half_width) {
  if (half_width == 0.0) return -1;
  const int place = leading_place(rounded_to(half_width, 1));
  const bool small_lead = half_width / std::pow(10.0, place) < 2.95;
  return (small_lead ? 1 : 0) - place;
}

std::string with_unit(std::string number, std::string_view unit) {
  if (unit.empty()) return number;
  return std::move(number) + " " + std::string(unit);
}

double in_unit(double value, const Scale& scale) {
  const double number = (value * scale.denominator - scale.offset) / scale.numerator;
  // Near the zero of a shifted scale only the rounding of the subtraction would be shown.
  return scale.offset == 0.0 ? number : std::round(number * 1e6) / 1e6;
}

const Scale& scale_shown(Kind kind, System system, double value) {
  return find_exact(kind, unit_shown(kind, system, value))->scale;
}

}  // namespace

std::string_view unit_shown(Kind kind, System system, double value) {
  return unit_for(kind, system, std::isfinite(value) ? std::fabs(rounded_to(value, 4)) : 1.0);
}

std::string print(double value, Kind kind, System system) {
  if (!std::isfinite(value)) return "unknown";
  const double number = in_unit(value, scale_shown(kind, system, value));
  const std::string_view unit = unit_shown(kind, system, value);
  switch (kind) {
    case Kind::money:
      return with_unit(price(number), unit);
    case Kind::length:
      return with_unit(fine_length(number, unit), unit);
    default:
      return with_unit(readable(number), unit);
  }
}

std::string print(double value, double half_width, Kind kind, System system) {
  std::string plain = print(value, kind, system);
  if (!std::isfinite(value) || !std::isfinite(half_width)) return plain;
  Scale scale = scale_shown(kind, system, value);
  const double number = in_unit(value, scale);
  scale.offset = 0;
  const double spread = in_unit(half_width, scale);
  if (spread == 0.0) return plain + " +- 0";
  if (out_of_hand(std::fabs(number)) || out_of_hand(spread))
    return plain + " +- " + readable(spread);
  const int decimals = std::max(0, decimals_of_spread(spread));
  const std::string shown = never_thousands(without_idle_zeros(fixed(number, decimals)), kind);
  return with_unit(shown, unit_shown(kind, system, value)) + " +- " +
         without_idle_zeros(fixed(spread, decimals));
}

std::string print_exact(double value, Kind kind, std::string_view unit, Convention convention) {
  if (!std::isfinite(value)) return "unknown";
  const Row* row = kind == Kind::money ? nullptr : find_exact(kind, unit);
  if (row == nullptr) row = rows_of(kind).begin();
  std::string number = spell(value, row->scale);
  if (number.empty()) {  // no text in this unit gives these bits back: the SI unit
    row = rows_of(kind).begin();
    number = shortest(value);
  }
  if (kind == Kind::money)
    return with_unit(never_thousands(std::move(number), kind), currency(unit));
  std::string text = with_unit(number, row->spelling);
  if (convention == Convention::unsaid || !takes_convention(kind)) return text;
  return text + " " + std::string(word(convention));
}

}  // namespace ww::figure
