// SPDX-License-Identifier: MIT
// Compiled once an instruction set with WW_ARCH naming it. As in ride/batch_kernel.cpp no container
// is used here.
#include "bench/arch.h"
#include "ride/lane_number.h"

namespace ww::bench::WW_ARCH {

namespace {

using ride::WW_ARCH::LaneValues;
using ride::WW_ARCH::Number;
using ride::WW_ARCH::store_lanes;

template <class Ride>
void with_bike(const RideJob& job, const Ride& ride) {
  const LaneValues values(*job.lanes, job.first);
  const auto bike = ride::bike_of<Number, model::PmMotor>(*job.build, values.view());
  const auto warm = ride::at_winding_temperature(bike.motor, bike.params.ambient_K + Number(60));
  const auto climate = ride::pack_climate(bike.params.pack, bike.params.ambient_K);
  const auto fixed = ride::ride_fixed(bike.params, climate, Number(0));
  for (int round = 0; round < job.rounds; ++round)
    store_lanes(ride(bike, warm, fixed, round), job.out + job.first);
}

}  // namespace

void ledger(const RideJob& job) {
  with_bike(job, [&](const auto& bike, const auto& warm, const auto& fixed, int round) {
    // Another charge each round: no two rides are the same.
    ride::RideState<Number> state{Number(0), Number(1 - 0.02 * round), Number(0)};
    return ride::ride_trace(bike, warm, fixed, *job.trace, state).charge_C;
  });
}

void rates(const RideJob& job) {
  with_bike(job, [&](const auto& bike, const auto& warm, const auto& fixed, int round) {
    const auto grid = ride::charge_grid(Number(0.03 + 0.01 * round));
    return ride::trace_rates(bike, warm, fixed, *job.trace, grid).metres_per_coulomb[0];
  });
}

}  // namespace ww::bench::WW_ARCH
