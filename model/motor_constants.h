// SPDX-License-Identifier: MIT
// What a listing's motor figures mean: speed constant, torque constant, resistance and current in
// each convention the trade uses, and which mix of them a contradictory listing betrays.
// Invariants:
// 1. The model's own convention is the equivalent star with peak phase values; every conversion
//    goes through it and has an inverse here.
// 2. Speed constants are in rad/s per volt (1 rpm/V = pi/30), so that speed constant times torque
//    constant is 1 in the direct-current convention of both.
#pragma once

#include <array>
#include <cstddef>

#include "base/num.h"
#include "model/constants.h"

namespace ww::model {

/// Which volts a speed constant counts.
enum class VoltageConvention {
  line_line_peak,  ///< also the no-load speed per battery volt of a six-step or space-vector drive
  line_line_rms,
  rectified_mean,  ///< of a six-pulse rectifier on the open terminals
  phase_peak,
};

/// Which amperes a torque constant or a current counts.
enum class CurrentConvention {
  dc_six_step,  ///< the current of a six-step drive's conducting pair
  phase_peak,
  phase_rms,
};

/// Between which points a resistance or inductance was taken.
enum class WindingConvention {
  phase_star,     ///< one phase of the equivalent star
  line_line,      ///< between two terminals, star or delta inside
  delta_winding,  ///< one winding of a delta
};

inline constexpr double root_two = 1.41421356237309504880;
inline constexpr double root_three = 1.73205080756887729353;

/// Phase-peak volts of the star behind one volt of a convention: 1/sqrt(3) of a line-to-line peak,
/// sqrt(2/3) of a line-to-line RMS, pi/(3 sqrt(3)) of a rectified mean. Dimensionless.
/// Valid: sinusoidal back-EMF.
/// Ignores harmonics of the back-EMF (a trapezoidal motor differs by up to about 5 %).
/// Source: definitions; rectified mean (3/pi) of the line-to-line peak. Checked by:
/// tests/values/motor_constants.tsv.
constexpr double phase_peak_per_volt(VoltageConvention convention) {
  switch (convention) {
    case VoltageConvention::line_line_peak:
      return 1 / root_three;
    case VoltageConvention::line_line_rms:
      return root_two / root_three;
    case VoltageConvention::rectified_mean:
      return pi / (3 * root_three);
    case VoltageConvention::phase_peak:
      return 1;
  }
  return 1;
}

/// Phase-peak amperes that make the torque of one ampere of a convention: 2/sqrt(3) of a six-step
/// ampere, sqrt(2) of an RMS ampere. Dimensionless.
/// Valid: sinusoidal back-EMF; six-step current as its ideal 120-degree block.
/// Ignores torque ripple. A build that states 464 A for 400 A rounded its torque first: 400 A of a
/// 60 rpm/V motor are 63.66 Nm or 461.9 A peak; 64 Nm are 464.3 A peak.
/// Source: equal torque, sqrt(3) p psi against 1.5 p psi. Checked by:
/// tests/values/motor_constants.tsv.
constexpr double phase_peak_per_ampere(CurrentConvention convention) {
  switch (convention) {
    case CurrentConvention::dc_six_step:
      return 2 / root_three;
    case CurrentConvention::phase_peak:
      return 1;
    case CurrentConvention::phase_rms:
      return root_two;
  }
  return 1;
}

/// Share of a stated resistance or inductance that one phase of the star has: 1, 1/2, 1/3.
/// Valid: three equal windings.
/// Ignores that a line-to-line inductance swings between 2 Ld and 2 Lq with the rotor's angle.
/// Source: star-delta transformation. Checked by: tests/values/motor_constants.tsv.
constexpr double phase_share(WindingConvention convention) {
  switch (convention) {
    case WindingConvention::phase_star:
      return 1;
    case WindingConvention::line_line:
      return 0.5;
    case WindingConvention::delta_winding:
      return 1.0 / 3;
  }
  return 1;
}

/// Peak flux linkage of a phase from a speed constant: psi = c/(p kV), c phase-peak volts per volt.
/// Result in Wb.
/// Valid: speed constant in rad/s per volt > 0, pole pairs >= 1.
/// Ignores that a loaded motor turns slower than its speed constant says.
/// Source: back-EMF w psi of a phase. Checked by: tests/values/motor_constants.tsv.
template <class R>
R flux_from_speed_constant(R speed_constant_radpsV, R pole_pairs, VoltageConvention convention) {
  return num<R>(phase_peak_per_volt(convention)) / (pole_pairs * speed_constant_radpsV);
}

/// Speed constant in a convention from the flux: the inverse.  Result in rad/s per volt.
template <class R>
R speed_constant_from_flux(R flux_peak_Wb, R pole_pairs, VoltageConvention convention) {
  return num<R>(phase_peak_per_volt(convention)) / (pole_pairs * flux_peak_Wb);
}

/// Torque per ampere of a convention at id = 0: 1.5 p psi per phase-peak ampere.  Result in Nm/A.
/// Valid: flux > 0.
/// Ignores reluctance torque.
/// Source: T = 1.5 p psi iq. Checked by: tests/values/motor_constants.tsv.
template <class R>
R torque_constant_from_flux(R flux_peak_Wb, R pole_pairs, CurrentConvention convention) {
  return num<R>(1.5 * phase_peak_per_ampere(convention)) * pole_pairs * flux_peak_Wb;
}

/// Flux from a torque constant in a convention: the inverse.  Result in Wb.
template <class R>
R flux_from_torque_constant(R torque_constant_NmA, R pole_pairs, CurrentConvention convention) {
  return torque_constant_NmA / (num<R>(1.5 * phase_peak_per_ampere(convention)) * pole_pairs);
}

/// A current as the phase peak of the same torque, A; and back.
template <class R>
R current_phase_peak(R current_A, CurrentConvention convention) {
  return num<R>(phase_peak_per_ampere(convention)) * current_A;
}
template <class R>
R current_in_convention(R current_phase_peak_A, CurrentConvention convention) {
  return current_phase_peak_A / num<R>(phase_peak_per_ampere(convention));
}

/// A resistance or inductance as that of one phase of the equivalent star; and back.
template <class R>
R winding_phase(R stated, WindingConvention convention) {
  return num<R>(phase_share(convention)) * stated;
}
template <class R>
R winding_in_convention(R phase, WindingConvention convention) {
  return phase / num<R>(phase_share(convention));
}

/// Flux of the equivalent star of a delta winding, Wb: a third root less.
/// Valid: no circulating third harmonic.
/// Ignores the loss of such a circulating current.
/// Source: star-delta transformation. Checked by: tests/values/motor_constants.tsv.
template <class R>
R flux_star_from_delta(R flux_delta_Wb) {
  return flux_delta_Wb / num<R>(root_three);
}

/// Motor constant Km = Kt/sqrt(1.5 R): torque per root of copper loss, any winding alike.  Result
/// in Nm/sqrt(W).
/// Valid: Kt per phase-peak ampere, R of a phase > 0.
/// Ignores reluctance torque.
/// Source: P = 1.5 R I^2. Checked by: tests/values/motor_constants.tsv.
template <class R>
R motor_constant(R torque_constant_peak_NmA, R resistance_phase_ohm) {
  return torque_constant_peak_NmA / sqrt(num<R>(1.5) * resistance_phase_ohm);
}

/// Copper loss from the terminals' figures: 0.75 R_LL I_peak^2.  Result in W.
/// Valid: sine currents.
/// Ignores skin effect.
/// Source: 1.5 R_phase I_peak^2. Checked by: tests/values/motor_constants.tsv.
template <class R>
R copper_loss_line_line(R resistance_line_line_ohm, R current_phase_peak_A) {
  return num<R>(0.75) * resistance_line_line_ohm * square(current_phase_peak_A);
}

/// A reading of a listing's two constants that would make them agree.
struct ConstantsReading {
  VoltageConvention voltage;
  CurrentConvention current;
  double product;    ///< kV times Kt (SI) under this reading, if nothing else is wrong
  double deviation;  ///< stated product over this one, less 1
};

/// The likely readings of a speed constant and a torque constant, best first.
struct UnitMix {
  double product;  ///< stated kV times Kt; 1 where both are of the direct-current convention
  std::array<ConstantsReading, 12> readings;
  std::size_t plausible;  ///< how many of them agree within the tolerance
};

/// Which conventions a listing's kV and Kt may be in, from their product: 1 both direct current,
/// 0.866 Kt per phase-peak ampere, 1.225 Kt per RMS ampere, 1.414 kV per line-to-line RMS volt,
/// 1.732 both RMS ... Several readings may fit (1.225 and 1.732 are each ambiguous): all are given.
/// Valid: both figures > 0.
/// Ignores mistakes other than of convention.
/// Source: products of the conversions above. Checked by: tests/values/motor_constants.tsv.
inline UnitMix unit_mix(double speed_constant_radpsV, double torque_constant_NmA,
                        double tolerance) {
  constexpr std::array volts{VoltageConvention::line_line_peak, VoltageConvention::line_line_rms,
                             VoltageConvention::rectified_mean, VoltageConvention::phase_peak};
  constexpr std::array amperes{CurrentConvention::dc_six_step, CurrentConvention::phase_peak,
                               CurrentConvention::phase_rms};
  UnitMix mix{
      .product = speed_constant_radpsV * torque_constant_NmA, .readings = {}, .plausible = 0};
  std::size_t count = 0;
  for (const auto volt : volts) {
    for (const auto ampere : amperes) {
      const double expected = 1.5 * phase_peak_per_volt(volt) * phase_peak_per_ampere(ampere);
      const ConstantsReading reading{volt, ampere, expected, mix.product / expected - 1};
      // Insert by size of deviation; equals keep the commoner convention first.
      std::size_t at = count++;
      while (at > 0 && abs(mix.readings[at - 1].deviation) > abs(reading.deviation) + 1e-9) {
        mix.readings[at] = mix.readings[at - 1];
        --at;
      }
      mix.readings[at] = reading;
      if (abs(reading.deviation) <= tolerance) ++mix.plausible;
    }
  }
  return mix;
}

}  // namespace ww::model
