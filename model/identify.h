// SPDX-License-Identifier: MIT
// From a thin listing to the PM motor's parameters: every value with a half-width (p10 to p90, as a
// share) and the list of what had to be assumed. Where a figure's convention is unsaid, each
// reading is an alternative with a weight; the evidence in the listing (torque constant, rated
// speed, losses) moves the weights. Invariants:
// 1. Nothing is a bare number: a stated figure keeps the spread of its kind, an assumed one a
// larger.
// 2. Priors marked "common practice, no source" are ours; they are spreads, not facts.
// 3. The weights of the alternatives sum to 1; the first is the likeliest.
#pragma once

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>

#include "base/num.h"
#include "model/motor_constants.h"
#include "model/pm_motor.h"
#include "model/thermal.h"

namespace ww::model {

// ---- Small fits

/// A measurement without load: what the motor takes at a supply voltage.
template <class R>
struct NoLoad {
  R voltage_V;
  R current_A;
};

/// The motor as seen from a direct-current supply.
template <class R>
struct DcView {
  R speed_constant_radpsV;
  R resistance_line_line_ohm;
};

/// Speed without load: kV (V - I0 R).  Result in rad/s.
/// Valid: I0 R < V.
/// Ignores the reactive drop.
/// Source: V = E + I R. Checked by: tests/values/identify.tsv.
template <class R>
R no_load_speed(const DcView<R>& dc, const NoLoad<R>& test) {
  return dc.speed_constant_radpsV * (test.voltage_V - test.current_A * dc.resistance_line_line_ohm);
}

/// Drag torque without load: (V I0 - I0^2 R)/w.  Result in Nm.
/// Valid: as no_load_speed.
/// Ignores ripple loss of the controller used for the test.
/// Source: power balance. Checked by: tests/values/identify.tsv.
template <class R>
R no_load_torque(const DcView<R>& dc, const NoLoad<R>& test) {
  const R loss =
      test.voltage_V * test.current_A - square(test.current_A) * dc.resistance_line_line_ohm;
  return loss / no_load_speed(dc, test);
}

/// The two lower drag constants.
template <class R>
struct DragFit {
  R drag_constant_Nm;
  R drag_linear_Nms;
};

/// Constant and linear drag from two no-load points.
/// Valid: two different speeds.
/// Ignores windage (goes into the linear term).
/// Source: T = c0 + c1 w. Checked by: tests/values/identify.tsv.
template <class R>
DragFit<R> drag_from_two(const DcView<R>& dc, const NoLoad<R>& slow, const NoLoad<R>& fast) {
  const R w1 = no_load_speed(dc, slow);
  const R w2 = no_load_speed(dc, fast);
  const R t1 = no_load_torque(dc, slow);
  const R linear = (no_load_torque(dc, fast) - t1) / (w2 - w1);
  return {.drag_constant_Nm = t1 - linear * w1, .drag_linear_Nms = linear};
}

/// The same from one torque at one speed: half of it each, a convention that must be flagged.
/// Valid: speed > 0; the constant part is 30 to 70 % in practice.
/// Ignores windage.
/// Source: common practice, no source. Checked by: tests/values/identify.tsv.
template <class R>
DragFit<R> drag_from_one(R torque_Nm, R speed_radps) {
  return {.drag_constant_Nm = num<R>(0.5) * torque_Nm,
          .drag_linear_Nms = num<R>(0.5) * torque_Nm / speed_radps};
}

/// Current of best efficiency and that efficiency where loss is I^2 R and a constant I0.
template <class R>
struct BestEfficiency {
  R current_A;
  R efficiency;
};

/// I = sqrt(V I0/R), eta = (1 - sqrt(I0 R/V))^2.
/// Valid: V, R, I0 > 0.
/// Ignores that drag changes with speed.
/// Source: derivative of (V - I R)(I - I0)/(V I). Checked by: tests/values/identify.tsv.
template <class R>
BestEfficiency<R> best_efficiency(const NoLoad<R>& test, R resistance_ohm) {
  return {.current_A = sqrt(test.voltage_V * test.current_A / resistance_ohm),
          .efficiency = square(num<R>(1) - sqrt(test.current_A * resistance_ohm / test.voltage_V))};
}

/// Coefficients of a whole machine's loss k_c T^2 + k_i w + k_w w^3 + C.
template <class R>
struct WholeMachineLoss {
  R copper;   ///< W/(Nm)^2
  R iron_Nm;  ///< W per rad/s
  R windage;  ///< W per (rad/s)^3
  R constant_W;
};

/// Efficiency T w/(T w + loss). Dimensionless.
/// Valid: torque, speed > 0.
/// Ignores temperature.
/// Source: Larminie and Lowry, Electric Vehicle Technology Explained (form from memory). Checked
/// by: tests/values/identify.tsv.
template <class R>
R efficiency_whole(const WholeMachineLoss<R>& k, R torque_Nm, R speed_radps) {
  const R output = torque_Nm * speed_radps;
  const R loss = k.copper * square(torque_Nm) + k.iron_Nm * speed_radps +
                 k.windage * speed_radps * square(speed_radps) + k.constant_W;
  return output / (output + loss);
}

/// A steel's specific loss at one frequency.
template <class R>
struct SteelLoss {
  R frequency_Hz;
  R loss_Wpkg;
};

/// Hysteresis share of the loss at the first frequency, from two at the same flux density.
/// Dimensionless.
/// Valid: different frequencies.
/// Ignores excess loss.
/// Source: p = h f + e f^2. Checked by: tests/values/identify.tsv.
template <class R>
R hysteresis_share(const SteelLoss<R>& first, const SteelLoss<R>& second) {
  const R ratio = second.frequency_Hz / first.frequency_Hz;
  return (second.loss_Wpkg / (first.loss_Wpkg * ratio) - ratio) / (num<R>(1) - ratio);
}

/// Specific loss at another frequency from that share.  Result in W/kg.
/// Valid: same flux density.
/// Ignores excess loss and skin effect in the sheet.
/// Source: p = h f + e f^2. Checked by: tests/values/identify.tsv.
template <class R>
R steel_loss_at(const SteelLoss<R>& first, R share_hysteresis, R frequency_Hz) {
  const R ratio = frequency_Hz / first.frequency_Hz;
  return first.loss_Wpkg *
         (share_hysteresis * ratio + (num<R>(1) - share_hysteresis) * square(ratio));
}

// ---- The listing

enum class Magnets { surface, interior, unsaid };

/// A torque and speed with the efficiency a listing claims there.
struct EfficiencyPoint {
  double efficiency = 0;
  double torque_Nm = 0;
  double speed_radps = 0;
};

struct PeakRating {
  double power_W = 0;
  std::optional<double> time_s;  ///< unsaid: 30 s is assumed
};

/// What a listing may say of a motor. Conventions that it leaves unsaid are empty.
struct MotorListing {
  std::optional<double> speed_constant_radpsV;
  std::optional<VoltageConvention> speed_constant_convention;
  std::optional<double> torque_constant_NmA;
  std::optional<CurrentConvention> torque_constant_convention;
  std::optional<double> voltage_rated_V;
  std::optional<double> speed_rated_radps;  ///< at the continuous power
  std::optional<double> resistance_ohm;
  std::optional<WindingConvention> resistance_convention;
  std::optional<double> inductance_H;
  std::optional<WindingConvention> inductance_convention;
  std::optional<NoLoad<double>> no_load;
  std::optional<double> power_continuous_W;
  std::optional<PeakRating> peak;
  std::optional<EfficiencyPoint> efficiency;
  std::optional<double> mass_kg;
  std::optional<double> pole_pairs;
  Magnets magnets = Magnets::unsaid;
};

/// What had to be assumed; the text for the builder stands in assumption_text.
enum class Assumption : std::uint8_t {
  speed_constant_dc,
  speed_constant_rms,
  speed_constant_from_torque_constant,
  speed_constant_from_rated_speed,
  torque_constant_convention,
  resistance_line_line,
  resistance_phase,
  resistance_from_efficiency,
  resistance_from_copper_share,
  inductance_line_line,
  inductance_from_mass,
  inductance_from_torque,
  no_saliency,
  pole_pairs_five,
  drag_split_half,
  drag_from_share,
  rated_speed_from_voltage,
  peak_time_30_s,
  mass_from_power,
  heat_capacity_from_mass,
  peak_too_long_for_mass,
  peak_too_short_for_mass,
  count,
};

constexpr const char* assumption_text(Assumption a) {
  switch (a) {
    case Assumption::speed_constant_dc:
      return "speed constant read per battery volt (line-to-line peak); the listing does not say";
    case Assumption::speed_constant_rms:
      return "speed constant read per line-to-line RMS volt; the listing does not say";
    case Assumption::speed_constant_from_torque_constant:
      return "speed constant missing: from the torque constant";
    case Assumption::speed_constant_from_rated_speed:
      return "speed constant missing: rated speed taken as 0.87 of the no-load speed";
    case Assumption::torque_constant_convention:
      return "torque constant read per direct-current ampere; the listing does not say";
    case Assumption::resistance_line_line:
      return "resistance read between two terminals; the listing does not say";
    case Assumption::resistance_phase:
      return "resistance read as that of one phase; the listing does not say";
    case Assumption::resistance_from_efficiency:
      return "resistance missing: from the efficiency point";
    case Assumption::resistance_from_copper_share:
      return "resistance missing: copper loss taken as 6 % of the continuous power";
    case Assumption::inductance_line_line:
      return "inductance read between two terminals; the listing does not say";
    case Assumption::inductance_from_mass:
      return "inductance missing: from flux and mass, within a factor of about 1.6";
    case Assumption::inductance_from_torque:
      return "inductance and mass missing: from flux and continuous torque, within a factor of 2";
    case Assumption::no_saliency:
      return "interior magnets not excluded: Lq taken equal to Ld";
    case Assumption::pole_pairs_five:
      return "pole pairs missing: 5 assumed";
    case Assumption::drag_split_half:
      return "one no-load point only: drag split half constant, half with speed";
    case Assumption::drag_from_share:
      return "no-load current missing: drag taken as 3 % of the continuous power";
    case Assumption::rated_speed_from_voltage:
      return "rated speed missing: 0.87 of the no-load speed at rated voltage";
    case Assumption::peak_time_30_s:
      return "peak power without a time: 30 s assumed";
    case Assumption::mass_from_power:
      return "mass missing: 0.6 kW continuous per kg assumed";
    case Assumption::heat_capacity_from_mass:
      return "heat capacities from mass: 12 % copper, the rest iron and aluminium";
    case Assumption::peak_too_long_for_mass:
      return "peak rating lasts longer than this mass can take: its time constants are a guess";
    case Assumption::peak_too_short_for_mass:
      return "peak rating is shorter than this mass could take: its time constants are a guess";
    case Assumption::count:
      break;
  }
  return "";
}

class Assumptions {
 public:
  void add(Assumption a) { bits_ |= bit(a); }
  bool has(Assumption a) const { return (bits_ & bit(a)) != 0; }

 private:
  static constexpr std::uint32_t bit(Assumption a) {
    return std::uint32_t{1} << static_cast<unsigned>(a);
  }
  std::uint32_t bits_ = 0;
};

/// Half of the p10 to p90 range, as a share of the value.
struct MotorSpread {
  double flux;
  double resistance;
  double inductance;
  double drag;        ///< both constants together
  double drag_share;  ///< of the constant part, absolute (0.5 +- this)
};

/// One reading of the listing.
struct MotorReading {
  double weight;
  PmMotor<double> motor;
  MotorSpread spread;
  VoltageConvention speed_constant_convention;
  WindingConvention resistance_convention;
  Assumptions assumptions;
};

/// Two thermal nodes with spreads.
struct ThermalReading {
  TwoNodes<double> nodes;
  double limit_rise_K;
  double spread_capacity;
  double spread_resistance;
  Assumptions assumptions;
};

struct Identified {
  std::array<MotorReading, 4> readings;  ///< by weight, the likeliest first
  std::size_t count;
};

// ---- Priors

/// p10 to p90 half-width of a normal spread: 1.2816 standard deviations.
inline constexpr double half_width_per_sigma = 1.2815515655446004;

/// Standard deviations, as shares, of stated figures; efficiency in absolute points.
struct ListingSigma {
  double speed_constant = 0.05;
  double resistance = 0.10;
  double no_load_current = 0.20;
  double inductance = 0.30;
  double efficiency = 0.015;
};

/// Common practice, no source: what thin listings leave to experience.
struct ListingPriors {
  double speed_constant_dc = 0.80;     ///< weight of "per battery volt" where unsaid
  double resistance_line_line = 0.60;  ///< weight of "between terminals" where unsaid
  double loaded_speed_share = 0.87;    ///< rated over no-load speed
  double loaded_speed_sigma = 0.12;
  double copper_share = 0.06;  ///< copper loss over continuous power
  double copper_log_sigma = 0.6;
  double drag_share = 0.03;  ///< drag loss over continuous power
  double drag_log_sigma = 0.5;
  double torque_per_kg_characteristic = 2.5;  ///< Nm/kg at the characteristic current
  double inductance_log_sigma_mass = 0.4;
  double inductance_log_sigma_torque = 0.6;
  double power_per_kg_W = 600;
  double copper_mass_share = 0.12;
  double copper_heat_JpkgK = 385;
  double iron_share_with_copper = 0.15;  ///< of the rest of the mass, warming with the winding
  double rest_heat_JpkgK = 550;          ///< iron 450, aluminium 900
  double limit_rise_K = 100;             ///< 140 C winding at 40 C ambient
};

namespace detail {

/// A normal likelihood, without its constant factor.
inline double likelihood(double error, double sigma) {
  return std::exp(-0.5 * (error / sigma) * (error / sigma));
}

struct Reader {
  const MotorListing& listing;
  ListingSigma sigma;
  ListingPriors priors;
};

/// Speed constant per battery volt under a reading of the stated one; 0 where none can be had.
inline double speed_constant_dc(const Reader& r, VoltageConvention convention, Assumptions& a) {
  const MotorListing& l = r.listing;
  if (l.speed_constant_radpsV) {
    return *l.speed_constant_radpsV / phase_peak_per_volt(convention) / root_three;
  }
  if (l.torque_constant_NmA) {
    a.add(Assumption::speed_constant_from_torque_constant);
    if (!l.torque_constant_convention) a.add(Assumption::torque_constant_convention);
    const auto current = l.torque_constant_convention.value_or(CurrentConvention::dc_six_step);
    const double flux = flux_from_torque_constant(*l.torque_constant_NmA, 1.0, current);
    return speed_constant_from_flux(flux, 1.0, VoltageConvention::line_line_peak);
  }
  if (l.speed_rated_radps && l.voltage_rated_V) {
    a.add(Assumption::speed_constant_from_rated_speed);
    return *l.speed_rated_radps / (r.priors.loaded_speed_share * *l.voltage_rated_V);
  }
  return 0;
}

/// What the listing's other figures say of a speed constant per battery volt.
inline double speed_constant_evidence(const Reader& r, double dc) {
  const MotorListing& l = r.listing;
  double weight = 1;
  if (l.speed_constant_radpsV && l.torque_constant_NmA) {
    double best = 0;
    for (const auto c : {CurrentConvention::dc_six_step, CurrentConvention::phase_peak,
                         CurrentConvention::phase_rms}) {
      if (l.torque_constant_convention.value_or(c) != c) continue;
      // A Kt per direct-current ampere is the commonest; the others count half.
      const double prior = c == CurrentConvention::dc_six_step ? 1 : 0.5;
      const double expected = torque_constant_from_flux(
          flux_from_speed_constant(dc, 1.0, VoltageConvention::line_line_peak), 1.0, c);
      const double error = std::log(*l.torque_constant_NmA / expected);
      const double likely = prior * likelihood(error, r.sigma.speed_constant);
      best = likely > best ? likely : best;
    }
    weight *= best + 1e-6;
  }
  if (l.speed_constant_radpsV && l.speed_rated_radps && l.voltage_rated_V) {
    const double share = *l.speed_rated_radps / (dc * *l.voltage_rated_V);
    weight *= likelihood(share - r.priors.loaded_speed_share, r.priors.loaded_speed_sigma) + 1e-6;
  }
  return weight;
}

/// The operating point at continuous power.
struct RatedPoint {
  double power_W;
  double speed_radps;  ///< 0 where the listing gives no way to it
  double torque_Nm;
};

inline RatedPoint rated_point(const Reader& r, double dc, Assumptions& a) {
  const MotorListing& l = r.listing;
  RatedPoint point{l.power_continuous_W.value_or(0), l.speed_rated_radps.value_or(0), 0};
  if (point.speed_radps == 0 && l.voltage_rated_V) {
    a.add(Assumption::rated_speed_from_voltage);
    point.speed_radps = r.priors.loaded_speed_share * dc * *l.voltage_rated_V;
  }
  if (point.speed_radps > 0) point.torque_Nm = point.power_W / point.speed_radps;
  return point;
}

/// Drag of a reading and its relative standard deviation.
struct DragReading {
  DragFit<double> fit;
  double sigma;
};

inline DragReading drag_reading(const Reader& r, const DcView<double>& dc, const RatedPoint& rated,
                                Assumptions& a) {
  if (r.listing.no_load) {
    a.add(Assumption::drag_split_half);
    const double speed = no_load_speed(dc, *r.listing.no_load);
    return {drag_from_one(no_load_torque(dc, *r.listing.no_load), speed), r.sigma.no_load_current};
  }
  if (rated.torque_Nm > 0) {
    a.add(Assumption::drag_from_share);
    a.add(Assumption::drag_split_half);
    return {drag_from_one(r.priors.drag_share * rated.torque_Nm, rated.speed_radps),
            r.priors.drag_log_sigma};
  }
  return {{0, 0}, 1};
}

inline double drag_power(const DragFit<double>& fit, double speed_radps) {
  return (fit.drag_constant_Nm + fit.drag_linear_Nms * speed_radps) * speed_radps;
}

/// Copper loss per ohm of phase resistance at a torque: 1.5 (T/(1.5 p psi))^2.
inline double copper_per_ohm(double torque_airgap_Nm, double torque_constant_peak) {
  const double current = torque_airgap_Nm / torque_constant_peak;
  return 1.5 * current * current;
}

struct ResistanceReading {
  double phase_ohm;
  double sigma;
};

/// Stated resistance, else from the efficiency point, else from the usual share of copper loss.
inline ResistanceReading resistance_reading(const Reader& r, const PmMotor<double>& m,
                                            const RatedPoint& rated, WindingConvention convention,
                                            Assumptions& a) {
  const MotorListing& l = r.listing;
  if (l.resistance_ohm) return {winding_phase(*l.resistance_ohm, convention), r.sigma.resistance};
  const double kt =
      torque_constant_from_flux(m.flux_peak_Wb, m.pole_pairs, CurrentConvention::phase_peak);
  const DragFit<double> drag{m.drag_constant_Nm, m.drag_linear_Nms};
  if (l.efficiency) {
    const EfficiencyPoint& e = *l.efficiency;
    const double output = e.torque_Nm * e.speed_radps;
    const double loss = output * (1 / e.efficiency - 1);
    const double airgap = e.torque_Nm + drag_power(drag, e.speed_radps) / e.speed_radps;
    const double copper = loss - drag_power(drag, e.speed_radps);
    if (copper > 0.1 * loss) {
      a.add(Assumption::resistance_from_efficiency);
      const double spread_W = output * r.sigma.efficiency / (e.efficiency * e.efficiency);
      return {copper / copper_per_ohm(airgap, kt), spread_W / copper};
    }
  }
  if (rated.torque_Nm > 0) {
    a.add(Assumption::resistance_from_copper_share);
    return {r.priors.copper_share * rated.power_W / copper_per_ohm(rated.torque_Nm, kt),
            r.priors.copper_log_sigma};
  }
  return {std::numeric_limits<double>::quiet_NaN(), 1};
}

/// How likely a stated resistance is under a reading, by the copper loss it means at full power.
inline double resistance_evidence(const Reader& r, const PmMotor<double>& m,
                                  const RatedPoint& rated) {
  if (!r.listing.resistance_ohm || rated.torque_Nm <= 0) return 1;
  const double kt =
      torque_constant_from_flux(m.flux_peak_Wb, m.pole_pairs, CurrentConvention::phase_peak);
  const double copper = m.resistance_phase_ohm * copper_per_ohm(rated.torque_Nm, kt);
  const double error = std::log(copper / (r.priors.copper_share * rated.power_W));
  return likelihood(error, r.priors.copper_log_sigma) + 1e-6;
}

struct InductanceReading {
  double phase_H;
  double sigma;
};

/// Stated inductance, else the one at which the characteristic current makes a torque usual for
/// the mass: L = 1.5 p psi^2/(torque), which no choice of winding changes.
inline InductanceReading inductance_reading(const Reader& r, const PmMotor<double>& m,
                                            const RatedPoint& rated, Assumptions& a) {
  const MotorListing& l = r.listing;
  if (l.inductance_H) {
    if (!l.inductance_convention) a.add(Assumption::inductance_line_line);
    const auto convention = l.inductance_convention.value_or(WindingConvention::line_line);
    return {winding_phase(*l.inductance_H, convention), r.sigma.inductance};
  }
  const double square_flux = 1.5 * m.pole_pairs * m.flux_peak_Wb * m.flux_peak_Wb;
  if (l.mass_kg) {
    a.add(Assumption::inductance_from_mass);
    return {square_flux / (r.priors.torque_per_kg_characteristic * *l.mass_kg),
            r.priors.inductance_log_sigma_mass};
  }
  if (rated.torque_Nm > 0) {
    a.add(Assumption::inductance_from_torque);
    return {square_flux / (2 * rated.torque_Nm), r.priors.inductance_log_sigma_torque};
  }
  return {std::numeric_limits<double>::quiet_NaN(), 1};
}

/// Copper and drag scaled so that a stated efficiency is met as far as the priors allow: one linear
/// least-squares step, with the spreads that remain.
struct LossUpdate {
  double copper_factor;
  double drag_factor;
  double copper_sigma;
  double drag_sigma;
};

struct LossShares {
  double copper_W;
  double drag_W;
  double stated_W;
  double stated_sigma_W;
};

inline LossUpdate loss_update(const LossShares& s, double copper_sigma, double drag_sigma) {
  const double c = copper_sigma * copper_sigma * s.copper_W;
  const double d = drag_sigma * drag_sigma * s.drag_W;
  const double total = c * s.copper_W + d * s.drag_W + s.stated_sigma_W * s.stated_sigma_W;
  const double gap = s.stated_W - s.copper_W - s.drag_W;
  return {.copper_factor = max(1 + c * gap / total, 0.2),
          .drag_factor = max(1 + d * gap / total, 0.2),
          .copper_sigma = copper_sigma * std::sqrt(1 - c * s.copper_W / total),
          .drag_sigma = drag_sigma * std::sqrt(1 - d * s.drag_W / total)};
}

/// What a reading assumes before any figure is worked out.
inline Assumptions assumed_at_first(const MotorListing& l, VoltageConvention volts,
                                    WindingConvention winding) {
  Assumptions a;
  if (l.speed_constant_radpsV && !l.speed_constant_convention) {
    a.add(volts == VoltageConvention::line_line_rms ? Assumption::speed_constant_rms
                                                    : Assumption::speed_constant_dc);
  }
  if (l.resistance_ohm && !l.resistance_convention) {
    a.add(winding == WindingConvention::phase_star ? Assumption::resistance_phase
                                                   : Assumption::resistance_line_line);
  }
  if (!l.pole_pairs) a.add(Assumption::pole_pairs_five);
  if (l.magnets != Magnets::surface) a.add(Assumption::no_saliency);
  return a;
}

/// The losses of a motor at the stated efficiency point, beside the stated ones.
inline LossShares loss_shares(const Reader& r, const PmMotor<double>& m, const EfficiencyPoint& e) {
  const double kt =
      torque_constant_from_flux(m.flux_peak_Wb, m.pole_pairs, CurrentConvention::phase_peak);
  const double output = e.torque_Nm * e.speed_radps;
  const double drag_W = drag_power({m.drag_constant_Nm, m.drag_linear_Nms}, e.speed_radps);
  const double airgap = e.torque_Nm + drag_W / e.speed_radps;
  return {.copper_W = m.resistance_phase_ohm * copper_per_ohm(airgap, kt),
          .drag_W = drag_W,
          .stated_W = output * (1 / e.efficiency - 1),
          .stated_sigma_W = output * r.sigma.efficiency / (e.efficiency * e.efficiency)};
}

/// How likely a reading is whose losses miss the stated ones.
inline double loss_evidence(const LossShares& s) {
  const double gap = s.stated_W - s.copper_W - s.drag_W;
  return likelihood(gap, 0.3 * s.stated_W + s.stated_sigma_W) + 1e-6;
}

/// Relative standard deviation of the flux.
inline double flux_sigma(const Reader& r, const Assumptions& a) {
  return a.has(Assumption::speed_constant_from_rated_speed)
             ? r.priors.loaded_speed_sigma / r.priors.loaded_speed_share
             : r.sigma.speed_constant;
}

/// One reading, complete; its weight is not yet normalised.
inline MotorReading read_motor(const Reader& r, VoltageConvention volts,
                               WindingConvention winding) {
  const MotorListing& l = r.listing;
  Assumptions a = assumed_at_first(l, volts, winding);
  const double dc = speed_constant_dc(r, volts, a);
  const double poles = l.pole_pairs.value_or(5);
  const RatedPoint rated = rated_point(r, dc, a);
  const double line_line = l.resistance_ohm ? 2 * winding_phase(*l.resistance_ohm, winding) : 0;
  DragReading drag = drag_reading(r, {dc, line_line}, rated, a);
  PmMotor<double> m{
      .resistance_phase_ohm = 0,
      .inductance_d_H = 0,
      .inductance_q_H = 0,
      .flux_peak_Wb = flux_from_speed_constant(dc, poles, VoltageConvention::line_line_peak),
      .pole_pairs = poles,
      .drag_constant_Nm = drag.fit.drag_constant_Nm,
      .drag_linear_Nms = drag.fit.drag_linear_Nms,
      .drag_quadratic_Nms2 = 0};
  ResistanceReading resistance = resistance_reading(r, m, rated, winding, a);
  m.resistance_phase_ohm = resistance.phase_ohm;
  double weight = speed_constant_evidence(r, dc) * resistance_evidence(r, m, rated);
  if (l.efficiency && l.resistance_ohm) {
    const LossShares shares = loss_shares(r, m, *l.efficiency);
    const LossUpdate u = loss_update(shares, resistance.sigma, drag.sigma);
    weight *= loss_evidence(shares);
    m.resistance_phase_ohm *= u.copper_factor;
    m.drag_constant_Nm *= u.drag_factor;
    m.drag_linear_Nms *= u.drag_factor;
    resistance.sigma = u.copper_sigma;
    drag.sigma = u.drag_sigma;
  }
  const InductanceReading inductance = inductance_reading(r, m, rated, a);
  m.inductance_d_H = inductance.phase_H;
  m.inductance_q_H = inductance.phase_H;
  return {.weight = weight,
          .motor = m,
          .spread = {.flux = half_width_per_sigma * flux_sigma(r, a),
                     .resistance = half_width_per_sigma * resistance.sigma,
                     .inductance = half_width_per_sigma * inductance.sigma,
                     .drag = half_width_per_sigma * drag.sigma,
                     .drag_share = 0.2},
          .speed_constant_convention = volts,
          .resistance_convention = winding,
          .assumptions = a};
}

}  // namespace detail

/// Reads a listing: up to four alternatives (speed constant per battery or per RMS volt, resistance
/// between terminals or of a phase) by weight. Order: speed constant -> flux; resistance; no-load
/// current -> drag; inductance; then losses against a stated efficiency.
/// Valid: a listing with at least a speed constant, a torque constant, or rated speed and voltage;
/// else count 0. A parameter that nothing speaks of is NaN.
/// Ignores saliency (interior magnets are read as surface magnets), saturation, iron split beyond
/// constant and linear.
/// Source: order and spreads common practice, no source. Checked by: tests/values/identify.tsv,
/// tests/model/listing_test.cpp (a known motor's own listing).
inline Identified identify(const MotorListing& listing, const ListingSigma& sigma = {},
                           const ListingPriors& priors = {}) {
  const detail::Reader reader{listing, sigma, priors};
  Identified all{.readings = {}, .count = 0};
  const bool ask_volts = listing.speed_constant_radpsV && !listing.speed_constant_convention;
  const bool ask_winding = listing.resistance_ohm && !listing.resistance_convention;
  const auto stated_volts =
      listing.speed_constant_convention.value_or(VoltageConvention::line_line_peak);
  const auto stated_winding = listing.resistance_convention.value_or(WindingConvention::line_line);
  if (!listing.speed_constant_radpsV && !listing.torque_constant_NmA &&
      !(listing.speed_rated_radps && listing.voltage_rated_V)) {
    return all;
  }
  double sum = 0;
  for (const bool rms : {false, true}) {
    if (rms && !ask_volts) continue;
    for (const bool phase : {false, true}) {
      if (phase && !ask_winding) continue;
      MotorReading reading =
          detail::read_motor(reader, rms ? VoltageConvention::line_line_rms : stated_volts,
                             phase ? WindingConvention::phase_star : stated_winding);
      if (ask_volts) {
        reading.weight *= rms ? 1 - priors.speed_constant_dc : priors.speed_constant_dc;
      }
      if (ask_winding) {
        reading.weight *= phase ? 1 - priors.resistance_line_line : priors.resistance_line_line;
      }
      sum += reading.weight;
      std::size_t at = all.count++;
      while (at > 0 && all.readings[at - 1].weight < reading.weight) {
        all.readings[at] = all.readings[at - 1];
        --at;
      }
      all.readings[at] = reading;
    }
  }
  for (std::size_t i = 0; i < all.count; ++i) all.readings[i].weight /= sum;
  return all;
}

/// Two thermal nodes from continuous and peak rating at 40 C, capacities from the mass. Where the
/// peak rating cannot be met with that mass, the resistance is split half and half, and that is
/// flagged. Spreads: the maker's air speed is unknown (+-25 % of resistance), the mass shares are
/// ours (+-30 % of capacity).
/// Valid: a reading with finite resistance; continuous power and a rated speed known; else the
/// resistances are NaN.
/// Ignores magnet and bearing heat, and that losses grow with temperature within the rating.
/// Source: common practice, no source. Checked by: tests/model/listing_test.cpp.
inline ThermalReading identify_thermal(const MotorListing& listing, const PmMotor<double>& motor,
                                       const ListingPriors& priors = {}) {
  Assumptions a;
  a.add(Assumption::heat_capacity_from_mass);
  if (!listing.mass_kg) a.add(Assumption::mass_from_power);
  const double continuous_W = listing.power_continuous_W.value_or(0);
  const double mass = listing.mass_kg.value_or(continuous_W / priors.power_per_kg_W);
  const double copper_kg = priors.copper_mass_share * mass;
  const double with_copper_kg = priors.iron_share_with_copper * (mass - copper_kg);
  const double kt = torque_constant_from_flux(motor.flux_peak_Wb, motor.pole_pairs,
                                              CurrentConvention::phase_peak);
  const double dc = speed_constant_from_flux(motor.flux_peak_Wb, motor.pole_pairs,
                                             VoltageConvention::line_line_peak);
  const detail::RatedPoint rated = detail::rated_point({listing, ListingSigma{}, priors}, dc, a);
  const DragFit<double> drag{motor.drag_constant_Nm, motor.drag_linear_Nms};
  const auto heats = [&](double power_W) {
    const double torque = power_W / rated.speed_radps;
    const double drag_W = detail::drag_power(drag, rated.speed_radps);
    const double airgap = torque + drag_W / rated.speed_radps;
    return TwoHeats<double>{motor.resistance_phase_ohm *
                                copper_loss_factor(313.15 + priors.limit_rise_K) *
                                detail::copper_per_ohm(airgap, kt),
                            drag_W};
  };
  ThermalReading result{.nodes = {},
                        .limit_rise_K = priors.limit_rise_K,
                        .spread_capacity = 0.30,
                        .spread_resistance = 0.25,
                        .assumptions = {}};
  TwoNodeRatings<double> ratings{
      .inner_J_per_K =
          copper_kg * priors.copper_heat_JpkgK + with_copper_kg * priors.rest_heat_JpkgK,
      .outer_J_per_K = (mass - copper_kg - with_copper_kg) * priors.rest_heat_JpkgK,
      .continuous = heats(continuous_W),
      .peak = {},
      .peak_s = 30,
      .limit_K = priors.limit_rise_K};
  const double inner_W = ratings.continuous.inner_W;
  const double both_W = inner_W + ratings.continuous.outer_W;
  result.nodes = {.inner_J_per_K = ratings.inner_J_per_K,
                  .outer_J_per_K = ratings.outer_J_per_K,
                  .between_K_per_W = 0.5 * priors.limit_rise_K / inner_W,
                  .air_K_per_W = 0.5 * priors.limit_rise_K / both_W};
  if (rated.torque_Nm <= 0) {
    result.nodes.between_K_per_W = std::numeric_limits<double>::quiet_NaN();
    result.nodes.air_K_per_W = std::numeric_limits<double>::quiet_NaN();
  } else if (listing.peak) {
    if (!listing.peak->time_s) a.add(Assumption::peak_time_30_s);
    ratings.peak = heats(listing.peak->power_W);
    ratings.peak_s = listing.peak->time_s.value_or(30);
    const TwoNodes<double> met = two_nodes_from_ratings(ratings);
    if (std::isfinite(met.between_K_per_W)) {
      result.nodes = met;
    } else {
      // Even with the whole mass as one node the peak is too hot: too long; else too short.
      const double peak_W = ratings.peak.inner_W + ratings.peak.outer_W;
      const double heat_J = (ratings.inner_J_per_K + ratings.outer_J_per_K) * priors.limit_rise_K;
      const double as_one = peak_W / both_W * (1 - std::exp(-ratings.peak_s * both_W / heat_J));
      a.add(as_one > 1 ? Assumption::peak_too_long_for_mass : Assumption::peak_too_short_for_mass);
    }
  }
  result.assumptions = a;
  return result;
}

}  // namespace ww::model
