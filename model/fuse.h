// SPDX-License-Identifier: MIT
// Fuses by their melting curve: when one melts, how close a peak comes to it, what it lets through.
// Invariants:
// 1. A curve is points of rising current and falling time, read as straight lines on log-log paper.
// 2. Above the last point the fuse melts at constant I2t. Below the first the curve says nothing,
//    and the answer is 'never': infinite time.
// 3. Only curves and ratings for direct current count. An alternating-current rating does not carry
//    over.
#pragma once

#include <cstddef>
#include <limits>
#include <span>

#include "base/num.h"
#include "model/constants.h"

namespace ww::model {

/// A point of a melting curve.
template <class R>
struct FusePoint {
  R current_A;
  R time_s;
};

template <class R>
using FuseCurve = std::span<const FusePoint<R>>;

namespace detail {
/// d log(t) / d log(I) between two points.
template <class R>
R fuse_slope(const FusePoint<R>& a, const FusePoint<R>& b) {
  return log(b.time_s / a.time_s) / log(b.current_A / a.current_A);
}
}  // namespace detail

/// Melting (pre-arcing) time at a constant current.  Result in s, infinite below the curve.
/// Valid: at least one point, current_A > 0; an empty curve: NaN.
/// Ignores ambient, holder heat and pulses before; makers' curves are means, +-10 % in current.
/// Source: definition of the time-current curve, IEC 60269-1.
/// Checked by: values/fuse.tsv, model/elec_test.
template <class R>
R fuse_melting_time_s(FuseCurve<R> curve, R current_A) {
  if (curve.empty()) return num<R>(std::numeric_limits<double>::quiet_NaN());
  R time_s = num<R>(std::numeric_limits<double>::infinity());
  for (std::size_t i = 0; i + 1 < curve.size(); ++i) {
    const R slope = detail::fuse_slope(curve[i], curve[i + 1]);
    time_s = select(current_A >= curve[i].current_A,
                    curve[i].time_s * pow(current_A / curve[i].current_A, slope), time_s);
  }
  const FusePoint<R>& last = curve.back();
  return select(current_A >= last.current_A, last.time_s * square(last.current_A / current_A),
                time_s);
}

/// Constant current that melts the fuse in a time, the inverse of fuse_melting_time_s.  Result in
/// A. For times longer than the curve's first point: that point's current, the lowest known to melt
/// it.
/// Valid: at least one point, time_s > 0; an empty curve: NaN.
/// Ignores ambient, the holder's heat and pulses before.
/// Source: definition of the time-current curve, IEC 60269-1.
/// Checked by: values/fuse.tsv, model/elec_test.
template <class R>
R fuse_melting_current_A(FuseCurve<R> curve, R time_s) {
  if (curve.empty()) return num<R>(std::numeric_limits<double>::quiet_NaN());
  R current_A = curve.front().current_A;
  for (std::size_t i = 0; i + 1 < curve.size(); ++i) {
    const R slope = detail::fuse_slope(curve[i], curve[i + 1]);
    current_A =
        select(time_s <= curve[i].time_s,
               curve[i].current_A * pow(time_s / curve[i].time_s, num<R>(1) / slope), current_A);
  }
  const FusePoint<R>& last = curve.back();
  return select(time_s <= last.time_s, last.current_A * sqrt(last.time_s / time_s), current_A);
}

/// A peak: its root-mean-square current and how long it lasts.
template <class R>
struct FusePulse {
  R current_A;
  R time_s;
};

/// How much of the melting current the worst of several peaks uses: max of I / I_melt(t).
/// Common practice, no source: repeated peaks stay below 0.5, or the element ages.
/// Valid: at least one point and one pulse with time_s > 0; else 0 or NaN.
/// Ignores that pulses close together add up: describe such a group as one longer pulse.
/// Source: ratio on the time-current curve.
/// Checked by: values/fuse.tsv, model/elec_test.
template <class R>
R fuse_pulse_share(FuseCurve<R> curve, std::span<const FusePulse<R>> pulses) {
  R worst = num<R>(0);
  for (const FusePulse<R>& pulse : pulses) {
    worst = max(worst, pulse.current_A / fuse_melting_current_A<R>(curve, pulse.time_s));
  }
  return worst;
}

/// Clearing I2t of a fuse: what melts it and what passes while it arcs.  Result in A2s.
/// Valid: both parts at the circuit's voltage.
/// Ignores that the arcing part grows with voltage and inductance: take the maker's total.
/// Source: UL 248-1 and IEC 60269-1, definition of operating I2t.
/// Checked by: values/fuse.tsv.
template <class R>
R fuse_clearing_A2s(R melting_A2s, R arcing_A2s) {
  return melting_A2s + arcing_A2s;
}

/// How much of a cable's short-time withstand the fuse lets through: I2t / (k S)^2. Below 1 it
/// protects.
/// Valid: withstand_A2s > 0; outside: NaN.
/// Ignores all slower than 5 s: the cable's continuous current against the rating covers that.
/// Source: IEC 60364-4-43.
/// Checked by: values/fuse.tsv.
template <class R>
R fuse_let_through_share(R clearing_A2s, R withstand_A2s) {
  return valid_where<R>(withstand_A2s > num<R>(0), clearing_A2s / withstand_A2s);
}

/// A fuse's rating, the ambient it holds at, and the ambient at which it could carry nothing.
template <class R>
struct FuseRating {
  R current_A;
  R temperature_rated_K;
  R temperature_limit_K;
};

/// Rating left at an ambient: In sqrt((Tl - Ta)/(Tl - Tr)), 0 from Tl on.  Result in A.
/// Valid: temperature_limit_K > temperature_rated_K; outside: NaN.
/// Ignores holder and cable size, which move it by 10 to 20 %: the maker's figure goes first.
/// Source: square-root law as for cables (NEC 310.15(B)).
/// Checked by: values/fuse.tsv.
template <class R>
R fuse_derated_A(const FuseRating<R>& fuse, R temperature_K) {
  const R span_K = fuse.temperature_limit_K - fuse.temperature_rated_K;
  const R left_K = max(fuse.temperature_limit_K - temperature_K, num<R>(0));
  return valid_where<R>(span_K > num<R>(0), fuse.current_A * sqrt(left_K / span_K));
}

/// How much of the derated rating a lasting current uses: I_rms / fuse_derated_A. Common practice,
/// no source: up to 0.75 to 0.8.
/// Valid: below temperature_limit_K; there and above: infinite or NaN.
/// Ignores the holder and the cable size.
/// Source: ratio.
/// Checked by: values/fuse.tsv.
template <class R>
R fuse_continuous_share(const FuseRating<R>& fuse, R temperature_K, R current_rms_A) {
  return current_rms_A / fuse_derated_A(fuse, temperature_K);
}

/// Smallest rating for a load: 125 % of its continuous part and 100 % of the rest.  Result in A.
/// Valid: currents >= 0. Take the next standard rating from the fuse table.
/// Ignores peaks: see fuse_pulse_share.
/// Source: NEC 215.3.
/// Checked by: values/fuse.tsv.
template <class R>
R fuse_rating_needed_A(R continuous_A, R other_A) {
  return num<R>(1.25) * continuous_A + other_A;
}

}  // namespace ww::model
