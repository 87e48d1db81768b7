// SPDX-License-Identifier: MIT
// The number of one instruction set and how lanes get into it and out again. Included only by
// sources that are compiled once an instruction set, with WW_ARCH naming it and WW_WIDTH its lanes;
// the namespace keeps the sets apart.
#pragma once

#include <xsimd/xsimd.hpp>

#include "ride/batch.h"

namespace ww::ride::WW_ARCH {

#if WW_WIDTH == 1
using Number = double;
#else
using Number = xsimd::batch<double>;
static_assert(Number::size == WW_WIDTH);
#endif
static_assert(sizeof(Number) <= sizeof(double) * lane_padding);

inline Number load_lanes(const double* column) {
#if WW_WIDTH == 1
  return *column;
#else
  return Number::load_unaligned(column);
#endif
}

inline void store_lanes(Number value, double* out) {
#if WW_WIDTH == 1
  *out = value;
#else
  value.store_unaligned(out);
#endif
}

/// The figures of the lanes from `first` on.
struct LaneValues {
  LaneValues(const Lanes& lanes, std::size_t first) : source(lanes.source) {
    for (std::size_t i = 0; i < lane_field_count; ++i) at[i] = Number(lanes.common[i]);
    for (const auto& [id, column] : lanes.columns) at[id] = load_lanes(column + first);
  }
  Values<Number> view() const { return {at, source, nullptr}; }

  Number at[lane_field_count];
  const Source* source;
};

}  // namespace ww::ride::WW_ARCH
