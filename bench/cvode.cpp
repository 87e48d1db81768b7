// SPDX-License-Identifier: MIT
#include "bench/cvode.h"

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sundials/sundials_context.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>
#include <sunnonlinsol/sunnonlinsol_fixedpoint.h>

#include <algorithm>

namespace ww::bench {

namespace {

constexpr int states = 4;  // speed, distance, charge taken as a share of the pack's, slow voltage

struct System {
  const CvodeRide* ride;
  ride::RideFixed<double> fixed;
  double mass_kg;
  bool every_second;
  std::size_t second = 0;  ///< the one being ridden, where each is started anew
};

/// The pack at an instant: nothing of the slow part is averaged over a step.
ride::PackMoment<double> pack_now(const System& system, double soc, double slow_V) {
  const auto& pack = system.ride->bike->params.pack;
  auto moment = ride::pack_moment(pack, system.fixed, soc, slow_V);
  moment.state.source = {.emf_V = moment.open_circuit_V - slow_V,
                         .resistance_ohm = moment.fast_ohm + pack.wires_ohm};
  return moment;
}

int slopes(double t, N_Vector y, N_Vector dy, void* data) {
  const System& system = *static_cast<const System*>(data);
  const auto& bike = *system.ride->bike;
  const auto& p = bike.params;
  const auto& speeds = system.ride->trace.speed_mps;
  const double* at = NV_DATA_S(y);
  // A second started anew ends with its own slope, not with that of the next.
  const std::size_t second =
      system.every_second ? system.second
                          : std::min(static_cast<std::size_t>(std::max(t, 0.0)), speeds.size() - 2);
  const double gain = speeds[second + 1] - speeds[second];
  // At rest exactly: a rounding error's creep would turn the motor against its drag.
  const bool rests = speeds[second] <= 0 && speeds[second + 1] <= 0;
  const double speed = rests ? 0 : std::max(at[0], 0.0);
  const auto pack = pack_now(system, 1 - at[2], at[3]);
  const double wanted =
      rests ? 0 : ride::road_force(p, ride::Steady<double>{speed, 0, 0}) + system.mass_kg * gain;
  const double braked = std::max(-wanted - ride::regen_force_N(p, speed, pack.state), 0.0);
  const double torque = ride::shaft_torque_Nm(p, wanted + braked);
  const double omega = ride::motor_speed_radps(p, speed);
  const auto point = ride::operate(p, *system.ride->warm, {torque, omega}, pack.state);
  double* slope = NV_DATA_S(dy);
  slope[0] = gain;
  slope[1] = speed;
  slope[2] = point.current_pack_A / system.fixed.charge_C;
  slope[3] = (pack.slow_ohm * point.current_pack_A - at[3]) / p.pack.slow_time_s;
  return 0;
}

/// What CVODE wants freed, in one place.
struct Solver {
  SUNContext context = nullptr;
  N_Vector y = nullptr, tolerance = nullptr;
  SUNMatrix matrix = nullptr;
  SUNLinearSolver linear = nullptr;
  SUNNonlinearSolver fixed_point = nullptr;
  void* memory = nullptr;

  Solver() = default;
  Solver(const Solver&) = delete;
  Solver& operator=(const Solver&) = delete;
  ~Solver() {
    if (memory != nullptr) CVodeFree(&memory);
    if (linear != nullptr) SUNLinSolFree(linear);
    if (matrix != nullptr) SUNMatDestroy(matrix);
    if (fixed_point != nullptr) SUNNonlinSolFree(fixed_point);
    if (tolerance != nullptr) N_VDestroy(tolerance);
    if (y != nullptr) N_VDestroy(y);
    if (context != nullptr) SUNContext_Free(&context);
  }

  bool start(System& system, const CvodeTask& task) {
    if (SUNContext_Create(nullptr, &context) != 0) return false;
    y = N_VNew_Serial(states, context);
    tolerance = N_VNew_Serial(states, context);
    memory = CVodeCreate(task.stiff ? CV_BDF : CV_ADAMS, context);
    if (y == nullptr || tolerance == nullptr || memory == nullptr) return false;
    N_VConst(0, y);
    const double scale[states] = {10, 1e4, 0.1, 1};  // speed, metres, share of charge, volts
    for (int i = 0; i < states; ++i) NV_Ith_S(tolerance, i) = task.relative_tolerance * scale[i];
    if (CVodeInit(memory, slopes, 0, y) != CV_SUCCESS ||
        CVodeSVtolerances(memory, task.relative_tolerance, tolerance) != CV_SUCCESS ||
        CVodeSetUserData(memory, &system) != CV_SUCCESS ||
        CVodeSetMaxNumSteps(memory, 1'000'000) != CV_SUCCESS) {
      return false;
    }
    if (!task.stiff) {
      fixed_point = SUNNonlinSol_FixedPoint(y, 0, context);
      return fixed_point != nullptr && CVodeSetNonlinearSolver(memory, fixed_point) == CV_SUCCESS;
    }
    matrix = SUNDenseMatrix(states, states, context);
    linear = matrix == nullptr ? nullptr : SUNLinSol_Dense(y, matrix, context);
    return linear != nullptr && CVodeSetLinearSolver(memory, linear, matrix) == CV_SUCCESS;
  }
};

}  // namespace

CvodeResult ride_with_cvode(const CvodeRide& ride, const CvodeTask& task) {
  const auto& params = ride.bike->params;
  System system{.ride = &ride,
                .fixed = ride::ride_fixed(params, ride.climate, 0.0),
                .mass_kg = model::effective_mass_kg(params.road),
                .every_second = task.every_second};
  Solver solver;
  CvodeResult result{.ok = false, .charge_C = {}, .evaluations = 0};
  if (!solver.start(system, task)) return result;
  const auto seconds = ride.trace.speed_mps.size() - 1;
  result.charge_C.reserve(seconds);
  const auto count = [&] {
    long slopes_done = 0, matrix_done = 0;
    CVodeGetNumRhsEvals(solver.memory, &slopes_done);
    if (task.stiff) CVodeGetNumLinRhsEvals(solver.memory, &matrix_done);
    result.evaluations += slopes_done + matrix_done;
  };
  double t = 0;
  for (std::size_t i = 1; i <= seconds; ++i) {
    const double end = double(i);
    system.second = i - 1;
    if (task.every_second && CVodeSetStopTime(solver.memory, end) != CV_SUCCESS) return result;
    if (CVode(solver.memory, end, solver.y, &t, CV_NORMAL) < 0) return result;
    result.charge_C.push_back(NV_Ith_S(solver.y, 2) * system.fixed.charge_C);
    if (!task.every_second || i == seconds) continue;
    count();  // starting anew sets the counters back
    if (CVodeReInit(solver.memory, t, solver.y) != CV_SUCCESS) return result;
  }
  count();
  result.ok = true;
  return result;
}

}  // namespace ww::bench
