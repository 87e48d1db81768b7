// SPDX-License-Identifier: MIT
// What is compiled once an instruction set: rides of many lanes, and what the machine itself can
// do.
#pragma once

#include <cstddef>

#include "ride/batch.h"

namespace ww::bench {

/// Lanes [first, first + width) ride one trace. The bike must have a PM motor.
struct RideJob {
  const ride::Build* build;
  const ride::Lanes* lanes;
  const ride::Trace* trace;
  std::size_t first;
  int rounds;   ///< rides a lane; the bike is set up once
  double* out;  ///< by lane: of the last round, so that nothing is optimised away
};

/// Operations a second on one core, from independent chains in registers.
struct Throughput {
  double multiply_add_flops_per_s;  ///< a multiply-add is two
  double divides_per_s;
  double roots_per_s;
};

struct Arch {
  const char* name;
  std::size_t width;
  void (*ledger)(const RideJob& job);  ///< ride_trace; out: charge, C
  void (*rates)(const RideJob& job);   ///< trace_rates; out: metres per coulomb, full pack
  Throughput (*throughput)();
};

}  // namespace ww::bench
