// SPDX-License-Identifier: MIT
#include "ride/ride.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/check.h"
#include "base/quasi.h"
#include "ride/batch.h"
#include "ride/motor_dispatch.h"

namespace ww::ride {

namespace {

using build::schema;

std::vector<std::string> parts_missing(const Build& build) {
  std::vector<std::string> out;
  if (!build.motor || build.motor->type == build::MotorType::unknown) out.emplace_back("motor");
  if (!build.controller) out.emplace_back("controller");
  if (!build.cell || build.cell->chemistry == model::Chemistry::unknown) out.emplace_back("cell");
  if (!build.pack) out.emplace_back("pack");
  return out;
}

/// Marks what cannot be ridden, and names what the answers rest on.
void note_reads(const Reads& reads, const NominalValues& nominal, Ride& out) {
  for (Id id = 0; id < schema().size(); ++id) {
    if (reads.used[static_cast<std::size_t>(id)] == 0) continue;
    out.read.push_back(id);
    if (nominal.source[static_cast<std::size_t>(id)] == Source::assumed) out.assumed.push_back(id);
  }
  out.missing = reads.missing;
  out.possible = out.missing.empty();
}

Reads no_reads(const NominalValues& nominal) {
  return {.used = std::vector<std::uint8_t>(nominal.at.size(), 0), .missing = {}};
}

Ride empty_ride(const Build& build) {
  Ride out;
  out.nominal.at.fill(std::numeric_limits<double>::quiet_NaN());
  out.parts_missing = parts_missing(build);
  return out;
}

/// The soft figures among those read, and the columns of their draws.
struct Sampling {
  std::vector<SoftFigure> varying;
  std::vector<std::vector<double>> columns;  ///< one per varying figure
  std::size_t lanes = 1;                     ///< 0 nominal, then draws, then two a varying figure
  std::size_t first_draw = 1, first_push = 1;
};

Sampling sample(const std::vector<SoftFigure>& soft, const Reads& reads,
                const NominalValues& nominal, const RideOptions& options, const Runner& runner) {
  Sampling s;
  std::vector<std::size_t> dimension;  // the first of each varying figure
  std::size_t dimensions = 0;
  for (const SoftFigure& figure : soft) {
    if (reads.used[static_cast<std::size_t>(figure.id)] == 0) continue;
    if (!(figure.spread.half_width > 0) && !figure.convention_unsaid) continue;
    s.varying.push_back(figure);
    dimension.push_back(dimensions);
    dimensions += figure.convention_unsaid ? 2 : 1;
  }
  const auto draws = static_cast<std::size_t>(options.draws);
  s.first_push = s.first_draw + draws;
  s.lanes = s.first_push + (options.pushes ? 2 * s.varying.size() : 0);
  const std::size_t padded = (s.lanes + lane_padding - 1) / lane_padding * lane_padding;
  const auto points = dimensions > 0 && draws > 0
                          ? sobol_points(static_cast<int>(dimensions), options.draws, options.seed)
                          : std::vector<double>();
  s.columns.resize(s.varying.size());
  runner(static_cast<int>(s.varying.size()), [&](int task) {
    const auto k = static_cast<std::size_t>(task);
    const SoftFigure& figure = s.varying[k];
    const figure::Quantiles quantiles(figure.spread);
    std::vector<double>& column = s.columns[k];
    column.assign(padded, nominal.at[static_cast<std::size_t>(figure.id)]);
    for (std::size_t d = 0; d < draws; ++d) {
      const std::size_t at = d * dimensions + dimension[k];
      column[s.first_draw + d] =
          drawn_value(figure, quantiles, points[at], figure.convention_unsaid ? points[at + 1] : 0);
    }
    if (options.pushes) {
      column[s.first_push + 2 * k] = drawn_value(figure, quantiles, 0.1, 0.1);
      column[s.first_push + 2 * k + 1] = drawn_value(figure, quantiles, 0.9, 0.9);
    }
  });
  return s;
}

/// The value at a share of the sorted numbers; infinities and NaN sort to the bad end.
double quantile_of(std::vector<double>& sorted, double share) {
  const double place = share * static_cast<double>(sorted.size() - 1);
  const auto below = static_cast<std::size_t>(place);
  const std::size_t above = std::min(below + 1, sorted.size() - 1);
  const double part = place - static_cast<double>(below);
  if (sorted[below] == sorted[above]) return sorted[below];
  return sorted[below] * (1 - part) + sorted[above] * part;
}

Band band_of(const double* answers, const Sampling& s, std::size_t draws, double nominal,
             bool more_is_better) {
  if (draws == 0) return {nominal, nominal, nominal};
  std::vector<double> sorted(answers + s.first_draw, answers + s.first_draw + draws);
  const double worst = more_is_better ? 0 : std::numeric_limits<double>::infinity();
  for (double& value : sorted) {
    if (std::isnan(value)) value = worst;
  }
  std::sort(sorted.begin(), sorted.end());
  return {quantile_of(sorted, 0.1), quantile_of(sorted, 0.5), quantile_of(sorted, 0.9)};
}

std::vector<Push> pushes_of(const double* answers, const Sampling& s) {
  std::vector<Push> pushes;
  double sum = 0;
  for (std::size_t k = 0; k < s.varying.size(); ++k) {
    const double low = answers[s.first_push + 2 * k], high = answers[s.first_push + 2 * k + 1];
    const double square = (high - low) * (high - low);
    if (!std::isfinite(square)) continue;
    pushes.push_back({s.varying[k].id, s.varying[k].source, low, high, square});
    sum += square;
  }
  for (Push& push : pushes) push.share = sum > 0 ? push.share / sum : 0;
  // Two limits that are the same number push alike; their order is by id, not by the last bit.
  const auto rank = [](const Push& p) { return std::round(p.share * 1e9); };
  std::stable_sort(pushes.begin(), pushes.end(),
                   [&](const Push& a, const Push& b) { return rank(a) > rank(b); });
  return pushes;
}

}  // namespace

void run_in_turn(int count, const std::function<void(int)>& task) {
  for (int i = 0; i < count; ++i) task(i);
}

Ride ride(const Build& build, const Cycles& cycles, const RideOptions& options,
          const Runner& runner) {
  Ride out = empty_ride(build);
  out.asked = options.wanted;
  if (!out.parts_missing.empty()) return out;
  const auto soft = soft_figures(build);
  const NominalValues nominal = nominal_values(build, soft);
  Reads reads = no_reads(nominal);
  double top_speed = 0;
  with_motor(build.motor->type, [&]<template <class> class Motor>() {
    const auto bike = bike_of<double, Motor>(build, nominal.view(&reads));
    if (!reads.missing.empty()) return;
    const auto warm = at_winding_temperature(bike.motor, bike.params.ambient_K + 60);
    const auto climate = pack_climate(bike.params.pack, bike.params.ambient_K);
    top_speed =
        top_speed_mps(bike, warm, settled_pack(bike.params.pack, 0.5, climate.resistance_factor),
                      Road<double>{0, 0});
  });
  note_reads(reads, nominal, out);
  if (!out.possible) return out;

  const Sampling s = sample(soft, reads, nominal, options, runner);
  Course course = course_for(cycles, top_speed);
  course.wanted = options.wanted;
  WW_ASSERT(nominal.at.size() <= lane_field_count);
  std::vector<double> common(nominal.at);
  common.resize(lane_field_count, 0);
  Lanes lanes{
      .count = s.lanes, .common = common.data(), .source = nominal.source.data(), .columns = {}};
  for (std::size_t k = 0; k < s.varying.size(); ++k)
    lanes.columns.emplace_back(s.varying[k].id, s.columns[k].data());
  const Kernel kernel = choose_kernel(options.widest_kernel);
  const std::size_t stride = (s.lanes + lane_padding - 1) / lane_padding * lane_padding;
  std::vector<double> answers(answer_count * stride);
  const auto jobs = (s.lanes + kernel.width - 1) / kernel.width;
  runner(static_cast<int>(jobs), [&](int job) {
    const std::size_t first = static_cast<std::size_t>(job) * kernel.width;
    // The last lanes may be few.
    const Kernel fitting = kernel_for(s.lanes - first, kernel.width);
    fitting.evaluate({.build = &build,
                      .lanes = &lanes,
                      .course = &course,
                      .first = first,
                      .out = answers.data(),
                      .stride = stride});
  });
  for (std::size_t a = 0; a < answer_count; ++a) {
    const double* row = answers.data() + a * stride;
    out.nominal.at[a] = row[0];
    out.bands[a] = band_of(row, s, static_cast<std::size_t>(options.draws), row[0],
                           answer_table()[a].more_is_better);
    if (options.pushes) out.pushes[a] = pushes_of(row, s);
  }
  return out;
}

namespace {

void take_answers(const Answers<double>& answers, Ride& out) {
  out.nominal = answers;
  for (std::size_t a = 0; a < answer_count; ++a)
    out.bands[a] = {answers.at[a], answers.at[a], answers.at[a]};
}

/// Bikes in lanes, ridden and noted.
void ride_group(LaneGroup& group, const std::vector<const BikeNumbers*>& bikes,
                const Course& course, std::size_t widest_kernel, Ridden& ridden) {
  group.ride(course, kernel_for(group.size(), widest_kernel));
  for (std::size_t lane = 0; lane < bikes.size(); ++lane) {
    Answers<double> answers;
    for (std::size_t a = 0; a < answer_count; ++a)
      answers.at[a] = group.answer(static_cast<Answer>(a), lane);
    ridden.note(*bikes[lane], answers, course.wanted);
  }
}

/// Rides those of these bikes that were not, each once.
void ride_bikes(const std::vector<BikeNumbers>& bikes, const Course& course,
                std::size_t widest_kernel, Ridden& ridden) {
  std::vector<const BikeNumbers*> open;
  for (const BikeNumbers& bike : bikes) {
    const bool twice = std::any_of(open.begin(), open.end(), [&](const BikeNumbers* other) {
      return same_bits(*other, bike);
    });
    if (!twice && ridden.find(bike, course.wanted) == nullptr) open.push_back(&bike);
  }
  while (!open.empty()) {
    LaneGroup group(open.front()->motor);
    std::vector<const BikeNumbers*> riding, left;
    for (const BikeNumbers* bike : open) {
      const bool joins = bike->motor == group.motor() && !group.full();
      if (joins) group.add(*bike);
      (joins ? riding : left).push_back(bike);
    }
    ride_group(group, riding, course, widest_kernel, ridden);
    open = std::move(left);
  }
}

}  // namespace

std::vector<Ride> nominal_rides(const std::vector<Candidate>& candidates, const Cycles& cycles,
                                AnswerSet wanted, Ridden& ridden, std::size_t widest_kernel) {
  std::vector<Ride> out;
  out.reserve(candidates.size());
  if (!(wanted & answers_by_class).empty()) {
    const RideOptions alone{
        .draws = 0, .seed = 1, .pushes = false, .wanted = wanted, .widest_kernel = widest_kernel};
    for (const Candidate& c : candidates) out.push_back(ride(*c.build, cycles, alone));
    return out;
  }
  Course course = course_for(cycles, 0);
  course.wanted = wanted;
  std::vector<BikeNumbers> bikes;
  std::vector<std::size_t> whose;
  for (const Candidate& c : candidates) {
    Ride& ride = out.emplace_back(empty_ride(*c.build));
    ride.asked = wanted;
    if (!ride.parts_missing.empty()) continue;
    Reads reads = no_reads(*c.nominal);
    const BikeNumbers bike = bike_numbers(*c.build, *c.nominal, &reads);
    note_reads(reads, *c.nominal, ride);
    if (!ride.possible) continue;
    bikes.push_back(bike);
    whose.push_back(out.size() - 1);
  }
  ride_bikes(bikes, course, widest_kernel, ridden);
  for (std::size_t i = 0; i < bikes.size(); ++i)
    take_answers(*ridden.find(bikes[i], wanted), out[whose[i]]);
  return out;
}

std::vector<Ride> nominal_rides(const std::vector<Candidate>& candidates, const Cycles& cycles,
                                AnswerSet wanted, std::size_t widest_kernel) {
  Ridden ridden;
  return nominal_rides(candidates, cycles, wanted, ridden, widest_kernel);
}

}  // namespace ww::ride
