// SPDX-License-Identifier: MIT The 12 V side and the mains side: what the auxiliary loads need, how
// long a buffer battery holds, and what a charger can deliver from an outlet.
// Invariant: the charging current is the smallest of a chain of limits, never a sum or a mean.
#pragma once

#include <span>

#include "base/num.h"

namespace ww::model {

/// A load and the share of it that counts: 1 for what burns while the other loads do, 0.5 for a
/// flasher.
template <class R>
struct AuxiliaryLoad {
  R power_W;
  R share;
};

/// Simultaneous power of the loads: sum of P share.  Result in W.
/// Valid: shares 0 to 1.
/// Ignores inrush of lamps and motors.
/// Source: sum.
/// Checked by: values/converter.tsv.
template <class R>
R auxiliary_power_W(std::span<const AuxiliaryLoad<R>> loads) {
  R sum = num<R>(0);
  for (const AuxiliaryLoad<R>& load : loads) sum = sum + load.power_W * load.share;
  return sum;
}

/// Current a converter draws: P / (V eta).  Result in A.
/// Valid: voltage_in_V > 0, 0 < efficiency <= 1; outside: NaN.
/// Ignores no-load drain of some 10 mA.
/// Source: power balance.
/// Checked by: values/converter.tsv.
template <class R>
R converter_current_in_A(R power_out_W, R voltage_in_V, R efficiency) {
  return valid_where<R>(
      (voltage_in_V > num<R>(0)) & (efficiency > num<R>(0)) & (efficiency <= num<R>(1)),
      power_out_W / (voltage_in_V * efficiency));
}

/// A battery that holds the lamps and the contactor when the converter fails.
template <class R>
struct BufferBattery {
  R charge_C;
  R share_usable;
  R voltage_V;
};

/// How long it holds a load: Q share V / P.  Result in s.
/// Valid: power_W > 0; outside: NaN.
/// Ignores that fast discharge and cold take a third of a lead battery.
/// Source: charge balance.
/// Checked by: values/converter.tsv.
template <class R>
R buffer_hold_s(const BufferBattery<R>& battery, R power_W) {
  return valid_where<R>(power_W > num<R>(0),
                        battery.charge_C * battery.share_usable * battery.voltage_V / power_W);
}

/// Time a standing drain needs to take a share of a battery's charge: Q share / I.  Result in s.
/// Valid: current_A > 0; outside: NaN.
/// Ignores self-discharge (1 to 3 % a month).
/// Source: charge balance.
/// Checked by: values/converter.tsv.
template <class R>
R drain_time_s(R charge_C, R share, R current_A) {
  return valid_where<R>(current_A > num<R>(0), charge_C * share / current_A);
}

/// Standing drain that takes a share of the charge in a time, the inverse of drain_time_s.  Result
/// in A.
/// Valid: time_s > 0; outside: NaN.
/// Ignores self-discharge.
/// Source: charge balance.
/// Checked by: values/converter.tsv, model/elec_test.
template <class R>
R drain_allowed_A(R charge_C, R share, R time_s) {
  return valid_where<R>(time_s > num<R>(0), charge_C * share / time_s);
}

/// A mains outlet: the breaker's current, and the share of it that may flow for hours (0.8 where
/// local rules say so, 1 else).
template <class R>
struct Outlet {
  R voltage_V;
  R current_breaker_A;
  R share_continuous;
};

/// Power an outlet gives for hours: V I share.  Result in W.
/// Valid: share 0 to 1.
/// Ignores what else hangs on the circuit, and a power factor below 0.98.
/// Source: product.
/// Checked by: values/converter.tsv.
template <class R>
R outlet_power_W(const Outlet<R>& outlet) {
  return outlet.voltage_V * outlet.current_breaker_A * outlet.share_continuous;
}

/// A charger's own limits.
template <class R>
struct Charger {
  R power_out_W;
  R current_out_A;
  R efficiency;
};

/// Limits behind the charger: battery management and the cells at their present temperature, pack
/// side.
template <class R>
struct ChargeLimits {
  R current_management_A;
  R current_cells_A;
};

/// Charging current at a pack voltage: the smallest of outlet P eta / V, charger P / V, charger's
/// own current, management, cells.  Result in A.
/// Valid: voltage_pack_V > 0; outside: NaN.
/// Ignores the taper at constant voltage (charging.h).
/// Source: power balance; the chain is the smallest of its links.
/// Checked by: values/converter.tsv.
template <class R>
R charger_current_A(const Outlet<R>& outlet, const Charger<R>& charger,
                    const ChargeLimits<R>& limits, R voltage_pack_V) {
  const R power_W = min(outlet_power_W(outlet) * charger.efficiency, charger.power_out_W);
  const R current_A = min(power_W / voltage_pack_V, charger.current_out_A);
  return valid_where<R>(voltage_pack_V > num<R>(0),
                        min(current_A, min(limits.current_management_A, limits.current_cells_A)));
}

/// Rough charging time: energy / (wall power * eta) + taper.  Result in s.
/// The energy goes into the pack; the taper of 0.3 h to 0.6 h is common practice, no source.
/// Valid: power > 0, 0 < efficiency <= 1; outside: NaN.
/// Ignores how the pack's voltage rises: charging.h.
/// Source: energy balance.
/// Checked by: values/converter.tsv.
template <class R>
R charge_time_estimate_s(R energy_J, R power_wall_W, R efficiency, R taper_s) {
  return valid_where<R>(
      (power_wall_W > num<R>(0)) & (efficiency > num<R>(0)) & (efficiency <= num<R>(1)),
      energy_J / (power_wall_W * efficiency) + taper_s);
}

}  // namespace ww::model
