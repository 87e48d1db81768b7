// SPDX-License-Identifier: MIT
// How warm a cable gets, and the current for a temperature: the steady heat balance of a horizontal
// insulated cable in air,
//   I^2 R'(Tc) = (Tc - Ts) / Rth = pi D [h (Ts - Ta) + eps sigma (Ts^4 - Ta^4)].
// Invariants:
// 1. Both directions solve the same balance with a fixed number of Newton steps from the hot side,
//    where the balance is convex, so that they are inverses and carry derivatives.
// 2. Everything is per metre of cable, far from its lugs; a cool or hot lug helps or hurts the
//    first few hundred millimetres only.
#pragma once

#include "base/num.h"
#include "model/constants.h"
#include "model/wire.h"

namespace ww::model {

/// Stefan-Boltzmann constant, W/(m2 K4).
template <class R>
constexpr R stefan_boltzmann() {
  return constant<R>(5.670374419e-8, {.kg = 1, .s = -3, .K = -4});
}

/// Air beside a warm surface, at the mean of surface and air temperature.
template <class R>
struct FilmAir {
  R conductivity_WpmK;
  R viscosity_kinematic_m2ps;
  R prandtl;
};

/// Dry air at 1 bar: k = 0.0263 (T/300)^0.872 W/(m K), nu = 1.589e-5 (T/300)^1.766 m2/s,
/// Pr = 0.707.
/// Valid: 250 K to 600 K within 3 %.
/// Ignores pressure: at 2000 m of height natural convection is 10 % weaker.
/// Source: power laws through the 300 K and 400 K lines of a heat-transfer handbook's air table
/// (from memory). Checked by: values/ampacity.tsv.
template <class R>
FilmAir<R> film_air(R temperature_K) {
  const R ratio = temperature_K / constant<R>(300, {.K = 1});
  return {.conductivity_WpmK =
              constant<R>(0.0263, {.kg = 1, .m = 1, .s = -3, .K = -1}) * pow(ratio, num<R>(0.872)),
          .viscosity_kinematic_m2ps =
              constant<R>(1.589e-5, {.m = 2, .s = -1}) * pow(ratio, num<R>(1.766)),
          .prandtl = num<R>(0.707)};
}

/// Nusselt number of a horizontal cylinder in still air:
/// Nu = (0.60 + 0.387 Ra^(1/6) / [1 + (0.559/Pr)^(9/16)]^(8/27))^2.
/// Valid: Rayleigh number 1e-5 to 1e12.
/// Ignores neighbours, walls and trapped warm air.
/// Source: Churchill and Chu 1975.
/// Checked by: values/ampacity.tsv.
template <class R>
R cable_nusselt_still(R rayleigh, R prandtl) {
  const R shape = pow(num<R>(1) + pow(num<R>(0.559) / prandtl, num<R>(9.0 / 16)), num<R>(8.0 / 27));
  const R ra = max(rayleigh, num<R>(1e-12));
  return square(num<R>(0.60) + num<R>(0.387) * pow(ra, num<R>(1.0 / 6)) / shape);
}

/// Nusselt number of a cylinder in cross-flow: Nu = 0.3 + 0.62 Re^(1/2) Pr^(1/3) /
/// [1 + (0.4/Pr)^(2/3)]^(1/4) * [1 + (Re/282000)^(5/8)]^(4/5).
/// Valid: Re Pr > 0.2, and 0.3 is the limit at rest.
/// Ignores flow along the cable and turbulence ahead of it.
/// Source: Churchill and Bernstein 1977.
/// Checked by: values/ampacity.tsv.
template <class R>
R cable_nusselt_flow(R reynolds, R prandtl) {
  const R re = max(reynolds, num<R>(1e-12));
  const R shape = pow(num<R>(1) + pow(num<R>(0.4) / prandtl, num<R>(2.0 / 3)), num<R>(0.25));
  const R swell = pow(num<R>(1) + pow(re / num<R>(282000), num<R>(0.625)), num<R>(0.8));
  return num<R>(0.3) + num<R>(0.62) * sqrt(re) * pow(prandtl, num<R>(1.0 / 3)) / shape * swell;
}

/// A surface that gives heat to air: per metre, the perimeter, the diameter of the cylinder it acts
/// like, and its emissivity (0.9 for plastics, paint and sleeves; 0.1 for bright metal).
template <class R>
struct WarmSurface {
  R perimeter_m;
  R diameter_m;
  R emissivity;
};

/// The air around it: temperature, and speed across the cable (0: still air).
template <class R>
struct AirAround {
  R temperature_K;
  R speed_mps;
};

/// Convective coefficient of a cylinder, still air and flow blended as Nu - 0.3 in third powers.
/// Result in W/(m2 K).
/// Valid: the two correlations' ranges; surface cooler or warmer than the air.
/// Ignores flow that helps or hinders the rising air: the blend is for cross-flow.
/// Source: Churchill and Chu 1975, Churchill and Bernstein 1977; the blend from memory.
/// Checked by: values/ampacity.tsv.
template <class R>
R convection_Wpm2K(const WarmSurface<R>& s, const AirAround<R>& air, R temperature_K) {
  const R film_K = (temperature_K + air.temperature_K) / num<R>(2);
  const FilmAir<R> film = film_air(film_K);
  const R nu = film.viscosity_kinematic_m2ps;
  const R rayleigh = standard_gravity<R>() * abs(temperature_K - air.temperature_K) / film_K *
                     square(s.diameter_m) * s.diameter_m * film.prandtl / square(nu);
  const R still = cable_nusselt_still(rayleigh, film.prandtl) - num<R>(0.3);
  const R flow = cable_nusselt_flow(air.speed_mps * s.diameter_m / nu, film.prandtl) - num<R>(0.3);
  const R both = pow(square(still) * still + square(flow) * flow, num<R>(1.0 / 3));
  return (num<R>(0.3) + both) * film.conductivity_WpmK / s.diameter_m;
}

/// Radiative coefficient to surroundings at air temperature: eps sigma (Ts^2 + Ta^2)(Ts + Ta).
/// Result in W/(m2 K).
/// Valid: emissivity 0 to 1, large surroundings.
/// Ignores hot motor or controller walls in view, and the sun.
/// Source: Stefan-Boltzmann law.
/// Checked by: values/ampacity.tsv.
template <class R>
R radiation_Wpm2K(R emissivity, R temperature_surface_K, R temperature_around_K) {
  return emissivity * stefan_boltzmann<R>() *
         (square(temperature_surface_K) + square(temperature_around_K)) *
         (temperature_surface_K + temperature_around_K);
}

/// Heat that a metre of surface at a temperature gives to the air.  Result in W/m, negative if
/// cooler.
/// Valid: as convection_Wpm2K and radiation_Wpm2K.
/// Ignores conduction along the cable.
/// Source: sum of the two.
/// Checked by: values/ampacity.tsv.
template <class R>
R surface_heat_Wpm(const WarmSurface<R>& s, const AirAround<R>& air, R temperature_K) {
  const R h = convection_Wpm2K(s, air, temperature_K) +
              radiation_Wpm2K(s.emissivity, temperature_K, air.temperature_K);
  return h * s.perimeter_m * (temperature_K - air.temperature_K);
}

/// A single-core cable.
template <class R>
struct Cable {
  ConductorMetal<R> metal;
  R resistance_20C_ohmpm;          ///< at the metal's reference temperature, stranding included
  R diameter_conductor_m;          ///< over the strands
  R thickness_insulation_m;        ///< all layers of insulation and jacket
  R conductivity_insulation_WpmK;  ///< PVC 0.2, cross-linked polyethylene 0.286 (IEC 60287-2-1)
  R emissivity;                    ///< of the outermost surface
};

/// Where it lies. A sleeve is one more layer; its conductivity counts the trapped air in (0.05 to
/// 0.1).
template <class R>
struct CablePlace {
  AirAround<R> air;
  R thickness_sleeve_m;  ///< 0: none
  R conductivity_sleeve_WpmK;
  R factor_bundle;  ///< share of the lone cable's current that it may carry in a bundle; 1 alone
};

/// Thermal resistance from conductor to outer surface: sum of ln(Do/Di) / (2 pi k).  Result in m
/// K/W.
/// Valid: thicknesses >= 0, conductivities > 0.
/// Ignores the drop inside the strands (below 1 K).
/// Source: Fourier's law for a cylinder.
/// Checked by: model/elec_test.
template <class R>
R cable_layers_mKpW(const Cable<R>& c, const CablePlace<R>& p) {
  const R jacket_m = c.diameter_conductor_m + num<R>(2) * c.thickness_insulation_m;
  const R sleeve_m = jacket_m + num<R>(2) * p.thickness_sleeve_m;
  return log(jacket_m / c.diameter_conductor_m) /
             (num<R>(2 * pi) * c.conductivity_insulation_WpmK) +
         log(sleeve_m / jacket_m) / (num<R>(2 * pi) * p.conductivity_sleeve_WpmK);
}

/// The cable's outermost surface, sleeve included.
template <class R>
WarmSurface<R> cable_surface(const Cable<R>& c, const CablePlace<R>& p) {
  const R outer_m =
      c.diameter_conductor_m + num<R>(2) * (c.thickness_insulation_m + p.thickness_sleeve_m);
  return {.perimeter_m = num<R>(pi) * outer_m, .diameter_m = outer_m, .emissivity = c.emissivity};
}

namespace detail {
/// Root of a convex rising balance by 16 Newton steps from the hot side. The slope is a central
/// difference over 2e-4 of the temperature; the step it leaves out is smaller than rounding at the
/// end.
template <class R, class Balance>
R cooled_from(R hot_K, const Balance& balance) {
  const R step_K = hot_K * num<R>(1e-4);
  R t = hot_K;
  for (int i = 0; i < 16; ++i) {
    const R slope = (balance(t + step_K) - balance(t - step_K)) / (num<R>(2) * step_K);
    t = t - balance(t) / slope;
  }
  return t;
}

/// A heated metre: the heat made with the conductor at its reference temperature, and the thermal
/// resistance from conductor to surface.
template <class R>
struct HeatedMetre {
  ConductorMetal<R> metal;
  R heating_Wpm;
  R layers_mKpW;
};

template <class R>
R conductor_temperature_K(const HeatedMetre<R>& m, const WarmSurface<R>& s,
                          const AirAround<R>& air) {
  // Heat made at the temperature Ts + q Rth of the conductor, less the heat q shed at Ts.
  const auto excess = [&](R surface_K) {
    const R shed = surface_heat_Wpm(s, air, surface_K);
    return shed - m.heating_Wpm * wire_resistance_ratio(m.metal, surface_K + shed * m.layers_mKpW);
  };
  const R hot_K = num<R>(2) * air.temperature_K;
  const R surface_K = cooled_from<R>(hot_K, excess);
  const R core_K = surface_K + surface_heat_Wpm(s, air, surface_K) * m.layers_mKpW;
  // Where even the hot side sheds less than is made there is no balance below it.
  return valid_where<R>((excess(hot_K) >= num<R>(0)) & (core_K <= constant<R>(600, {.K = 1})),
                        core_K);
}
}  // namespace detail

/// Steady temperature of a cable's conductor at a current.  Result in K.
/// Valid: surface up to twice the air temperature (K), conductor up to 600 K; outside: NaN.
/// Ignores the sun, hot neighbours beyond factor_bundle, and heat running along to the lugs.
/// Source: heat balance at the head of this file.
/// Checked by: values/ampacity.tsv, model/elec_test.
template <class R>
R cable_temperature_K(const Cable<R>& c, const CablePlace<R>& p, R current_A) {
  const R alone_A = current_A / p.factor_bundle;
  return detail::conductor_temperature_K<R>(
      {.metal = c.metal,
       .heating_Wpm = square(alone_A) * c.resistance_20C_ohmpm,
       .layers_mKpW = cable_layers_mKpW(c, p)},
      cable_surface(c, p), p.air);
}

/// Current that brings a cable's conductor to a temperature, the inverse of cable_temperature_K:
/// its continuous current-carrying capacity where that temperature is the insulation's limit.
/// Result in A.
/// Valid: air temperature <= temperature_K <= 600 K; outside: NaN.
/// Ignores the sun and neighbours; reads up to 15 % above published free-air tables: keep a margin.
/// Source: heat balance at the head of this file.
/// Checked by: values/ampacity.tsv, model/elec_test.
template <class R>
R cable_current_A(const Cable<R>& c, const CablePlace<R>& p, R temperature_K) {
  const R layers = cable_layers_mKpW(c, p);
  const WarmSurface<R> s = cable_surface(c, p);
  const R surface_K = detail::cooled_from<R>(temperature_K, [&](R t) {
    return t + surface_heat_Wpm(s, p.air, t) * layers - temperature_K;
  });
  const R heat = max(surface_heat_Wpm(s, p.air, surface_K), num<R>(0));
  const R inside =
      p.factor_bundle *
      sqrt(heat / (c.resistance_20C_ohmpm * wire_resistance_ratio(c.metal, temperature_K)));
  return valid_where<R>(
      (temperature_K >= p.air.temperature_K) & (temperature_K <= constant<R>(600, {.K = 1})),
      inside);
}

/// An insulation's temperature limit and the ambient a table was made for.
template <class R>
struct RatedAmbient {
  R temperature_limit_K;
  R temperature_rated_K;
};

/// Share of a table's current that is left at another ambient: sqrt((Tc - Ta') / (Tc - Ta)).
/// Valid: ambients below the limit; 0 where the ambient reaches it.
/// Ignores that convection changes too (below 2 % over 30 K).
/// Source: NEC 310.15(B), ambient correction formula.
/// Checked by: values/ampacity.tsv.
template <class R>
R ambient_factor(const RatedAmbient<R>& rated, R temperature_K) {
  const R left_K = max(rated.temperature_limit_K - temperature_K, num<R>(0));
  return sqrt(left_K / (rated.temperature_limit_K - rated.temperature_rated_K));
}

/// Share of the current of one cable alone that each of a bundle may carry: 3 cables 0.70, 4 to 6
/// 0.60, 7 to 24 0.50, 25 and more 0.40.
/// Valid: count >= 1; outside: NaN.
/// Ignores cables that carry no current; one or two count as alone.
/// Source: 33 CFR 183.425, table note for 50 V and more.
/// Checked by: values/ampacity.tsv.
template <class R>
R bundle_factor(R count) {
  R factor = num<R>(1);
  factor = select(count >= num<R>(3), num<R>(0.70), factor);
  factor = select(count >= num<R>(4), num<R>(0.60), factor);
  factor = select(count >= num<R>(7), num<R>(0.50), factor);
  factor = select(count >= num<R>(25), num<R>(0.40), factor);
  return valid_where<R>(count >= num<R>(1), factor);
}

}  // namespace ww::model
