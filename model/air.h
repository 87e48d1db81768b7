// SPDX-License-Identifier: MIT
// Air: the standard atmosphere and the density of moist air.
// Invariants: pressure is the station's own, not reduced to sea level; relative humidity is 0 to 1.
#pragma once

#include "base/num.h"
#include "model/constants.h"

namespace ww::model {

namespace detail {
template <class R>
R gas_constant_dry_air() {
  return constant<R>(287.053, {.m = 2, .s = -2, .K = -1});
}
template <class R>
R gas_constant_vapour() {
  return constant<R>(461.495, {.m = 2, .s = -2, .K = -1});
}
template <class R>
mask_of<R> in_troposphere(R altitude_m) {
  return (altitude_m >= constant<R>(-500, {.m = 1})) & (altitude_m <= constant<R>(11000, {.m = 1}));
}
}  // namespace detail

/// Temperature of the standard atmosphere: 288.15 K - 6.5 K/km H.
/// Valid: -500 <= altitude_m <= 11000 (geopotential); outside: NaN.
/// Source: ISO 2533.
/// Checked by: values/tyre_air.tsv.
template <class R>
R standard_temperature_K(R altitude_m) {
  return valid_where(
      detail::in_troposphere(altitude_m),
      constant<R>(288.15, {.K = 1}) - constant<R>(0.0065, {.m = -1, .K = 1}) * altitude_m);
}

/// Pressure of the standard atmosphere: 101325 Pa (T / 288.15 K)^5.25588.
/// Valid: -500 <= altitude_m <= 11000 (geopotential); outside: NaN.
/// Ignores the weather: +-3 % at a place.
/// Source: ISO 2533.
/// Checked by: values/tyre_air.tsv.
template <class R>
R standard_pressure_Pa(R altitude_m) {
  const R ratio = standard_temperature_K(altitude_m) / constant<R>(288.15, {.K = 1});
  return constant<R>(101325, {.kg = 1, .m = -1, .s = -2}) * pow_exact<R>(ratio, 5.25588);
}

/// Vapour pressure of water over a flat surface times the relative humidity: RH 611.2 Pa exp(17.62
/// t/(243.12 + t)).
/// Valid: 228 <= temperature_K <= 333, 0 <= humidity <= 1; outside: NaN.
/// Source: Magnus formula with the constants of the World Meteorological Organization.
/// Checked by: values/tyre_air.tsv (through the density).
template <class R>
R vapour_pressure_Pa(R temperature_K, R humidity) {
  const R t = temperature_K - zero_celsius<R>();
  const R exponent = num<R>(17.62) * t / (constant<R>(243.12, {.K = 1}) + t);
  const auto inside = (temperature_K >= constant<R>(228, {.K = 1})) &
                      (temperature_K <= constant<R>(333, {.K = 1})) & (humidity >= num<R>(0)) &
                      (humidity <= num<R>(1));
  return valid_where(
      inside, humidity * constant<R>(611.2, {.kg = 1, .m = -1, .s = -2}) * exp_exact(exponent));
}

template <class R>
struct Air {
  R pressure_Pa;
  R temperature_K;
  R humidity;  ///< relative, 0 to 1
};

/// Density of moist air: (p - e)/(Rd T) + e/(Rv T).
/// Valid: pressure_Pa above vapour's, 228 <= temperature_K <= 333, humidity 0 to 1; outside: NaN.
/// Source: ideal gas mixture; constants of ISO 2533 and of the Magnus formula.
/// Checked by: values/tyre_air.tsv.
template <class R>
R air_density_kgpm3(const Air<R>& air) {
  const R e = vapour_pressure_Pa(air.temperature_K, air.humidity);
  return valid_where(
      air.pressure_Pa > e,
      (air.pressure_Pa - e) / (detail::gas_constant_dry_air<R>() * air.temperature_K) +
          e / (detail::gas_constant_vapour<R>() * air.temperature_K));
}

/// Dry standard density at an altitude.
/// Valid: -500 <= altitude_m <= 11000 (geopotential); outside: NaN.
/// Source: ISO 2533.
/// Checked by: values/tyre_air.tsv.
template <class R>
R standard_density_kgpm3(R altitude_m) {
  return standard_pressure_Pa(altitude_m) /
         (detail::gas_constant_dry_air<R>() * standard_temperature_K(altitude_m));
}

}  // namespace ww::model
