// SPDX-License-Identifier: MIT
// What each wire, lug and fuse of a circuit must be, and whether what is laid is that.
// Invariants:
// 1. A wire is sized five ways, and the largest decides: steady temperature at its rms current; a
//    long pull at its peak on top of that; its fuse, which must not be rated above what the wire
//    carries for ever; the short circuit until the fuse has cleared; voltage drop at its peak
//    current. Thin wire has a least section besides.
// 2. What is laid is compared with what is needed; where nothing is laid, the needed one is taken.
// 3. A number that rests on something unknown is NaN, and the wire says what is missing.
#pragma once

#include <string>
#include <vector>

#include "wiring/duty.h"
#include "wiring/stud.h"

namespace ww::wiring {

/// What a bolted end needs.
struct LugEnd {
  double barrel_m2;  ///< NaN: no lug, a small crimped terminal
  build::Stud stud;  ///< unknown: measure it before the lugs are bought
  double hole_m;     ///< stud and 0.4 mm: common practice, no source
  double torque_low_Nm, torque_high_Nm;
  std::string torque_from;
};

/// How a wire fares at one of the ways it is sized by.
struct SizedBy {
  enum class Way : std::uint8_t { temperature, pull, fuse, short_circuit, drop, strength } way;
  double needed_m2;    ///< NaN: not asked, or not known
  double have, limit;  ///< in the way's own unit: K, A, A2s, V, m2
  bool good;           ///< have within limit; true where it is not asked
  bool known;
};
std::string_view word(SizedBy::Way way);

struct SizedWire {
  int wire;  ///< index in the circuit
  Duty duty;
  double section_m2;  ///< laid, else needed
  double needed_m2;   ///< the smallest usual size that is good in every way
  bool laid;          ///< whether the sheet says the section
  double temperature_K, temperature_max_K, carries_A;
  double drop_V, resistance_ohm;
  double fuse_A;  ///< of the fuse that protects it
  double withstand_A2s, clearing_A2s;
  std::vector<SizedBy> ways;
  LugEnd from_end, to_end;
  std::vector<build::Id> missing;
  std::string caution;  ///< what stands beside it wherever it is shown
};

/// A fuse looked at five ways.
struct SizedFuse {
  std::string id, label;
  bool main;           ///< the part on the sheet, not a small one chosen here
  double rating_A;     ///< NaN: not known
  double voltage_V;    ///< it must be made for, DC
  double interrupt_A;  ///< it must be able to break
  double rms_A, rms_limit_A;
  double peak_A, peak_time_s, melts_A;  ///< melting current at the peak's time
  double weakest_A, clears_s;        ///< the weakest short through its wires, and how long it takes
  double carries_A;                  ///< of the thinnest wire behind it
  std::string kind;                  ///< "blade, 32 V" or "DC, 10 x 38 mm"
  std::vector<std::string> against;  ///< what is not right, in words; empty: nothing found
};

struct Sizing {
  std::vector<SizedWire> wires;  ///< in the order of the circuit
  std::vector<SizedFuse> fuses;
  std::vector<build::Id> missing;

  const SizedWire* wire(int index) const;
  const SizedFuse* fuse(std::string_view id) const;
};

/// Valid: any circuit and the ride of the same build.
Sizing size(const build::Build& build, const Circuit& circuit, const ride::Ride& ride);

}  // namespace ww::wiring
