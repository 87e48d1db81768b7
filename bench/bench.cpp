// SPDX-License-Identifier: MIT
// Times of one run, side by side: what a builder waits for, and how near the kernels are to the
// machine. docs/bench.md says what each line is.
//   wattwright_bench [path of the release program]
#include <fcntl.h>
#include <spawn.h>
#include <sys/resource.h>
#include <sys/wait.h>

#include <cmath>
#include <limits>
#include <random>
#include <string>
#include <thread>

#include "base/quasi.h"
#include "bench/arch.h"
#include "bench/counting.h"
#include "bench/timing.h"
#include "build/sheet.h"
#include "cli/reports.h"
#ifdef WW_CVODE
#include "bench/cvode.h"
#endif

extern char** environ;

namespace ww::bench {

namespace scalar {
void ledger(const RideJob& job);
void rates(const RideJob& job);
Throughput throughput();
}  // namespace scalar
#ifdef __x86_64__
namespace avx2 {
void ledger(const RideJob& job);
void rates(const RideJob& job);
Throughput throughput();
}  // namespace avx2
namespace avx512 {
void ledger(const RideJob& job);
void rates(const RideJob& job);
Throughput throughput();
}  // namespace avx512
#endif

namespace {

std::vector<Arch> archs() {
  std::vector<Arch> all{{"scalar", 1, &scalar::ledger, &scalar::rates, &scalar::throughput}};
#ifdef __x86_64__
  if (__builtin_cpu_supports("x86-64-v3"))
    all.push_back({"avx2", 4, &avx2::ledger, &avx2::rates, &avx2::throughput});
  if (__builtin_cpu_supports("x86-64-v4"))
    all.push_back({"avx512", 8, &avx512::ledger, &avx512::rates, &avx512::throughput});
#endif
  return all;
}

/// The reference demo with its figures at their nominal values.
struct Scene {
  build::Build build;
  std::vector<ride::SoftFigure> soft;
  ride::NominalValues nominal;
  ride::Bike<double, model::PmMotor> bike;
  model::PmMotor<double> warm;
  ride::PackClimate<double> climate;
  ride::RideFixed<double> fixed;
};

Scene scene_of(const build::Build& build) {
  Scene s{.build = build,
          .soft = ride::soft_figures(build),
          .nominal = {},
          .bike = {},
          .warm = {},
          .climate = {},
          .fixed = {}};
  s.nominal = ride::nominal_values(build, s.soft);
  s.bike = ride::bike_of<double, model::PmMotor>(build, s.nominal.view());
  s.warm = ride::at_winding_temperature(s.bike.motor, s.bike.params.ambient_K + 60);
  s.climate = ride::pack_climate(s.bike.params.pack, s.bike.params.ambient_K);
  s.fixed = ride::ride_fixed(s.bike.params, s.climate, 0.0);
  return s;
}

ride::RideTotals<double> ride_once(const Scene& scene, const ride::Trace& trace) {
  ride::RideState<double> state{0, 1, 0};
  return ride::ride_trace(scene.bike, scene.warm, scene.fixed, trace, state);
}

// ---- the program

struct ProgramTime {
  bool ran;
  double wall_s, cpu_s;
};

double seconds(const timeval& t) {
  return double(t.tv_sec) + 1e-6 * double(t.tv_usec);
}

/// One start of the program to its end, its report thrown away.
ProgramTime run_program(const char* program, const char* sheet) {
  posix_spawn_file_actions_t files;
  posix_spawn_file_actions_init(&files);
  posix_spawn_file_actions_addopen(&files, STDOUT_FILENO, "/dev/null", O_WRONLY, 0);
  std::string path(program), command("check"), name(sheet);
  char* arguments[] = {path.data(), command.data(), name.data(), nullptr};
  int status = -1;
  rusage used{};
  const double wall = seconds_of([&] {
    pid_t child = 0;
    if (posix_spawn(&child, program, &files, nullptr, arguments, environ) == 0)
      wait4(child, &status, 0, &used);
  });
  posix_spawn_file_actions_destroy(&files);
  // A report may say clash or unmeasured; anything above is no report.
  const bool ran = WIFEXITED(status) && WEXITSTATUS(status) <= int(cli::Exit::unmeasured);
  return {ran, wall, seconds(used.ru_utime) + seconds(used.ru_stime)};
}

bool time_program(const Table& table, const char* program) {
  Table::head("process start to full report with bands (20 starts, median)");
  for (const char* name : {"commuter", "reference", "beginner"}) {
    std::vector<double> wall, cpu;
    for (int i = 0; i < 20; ++i) {
      const auto took = run_program(program, name);
      if (!took.ran) {
        std::fprintf(stderr, "%s check %s gave no report\n", program, name);
        return false;
      }
      wall.push_back(took.wall_s);
      cpu.push_back(took.cpu_s);
    }
    table.time((std::string(name) + ", wall").c_str(), median(wall));
    table.time((std::string(name) + ", CPU of all threads").c_str(), median(cpu));
  }
  return true;
}

// ---- findings and pieces

void time_findings(const Table& table, cli::Shipped& shipped) {
  Table::head("inside the program: one build (median)");
  const cli::Options options;
  for (const char* name : {"commuter", "reference", "beginner"}) {
    const auto opened = cli::open_sheet(name, shipped, options);
    ride::Ride ride;
    const auto line = [&](const std::string& what, double s) {
      table.time((std::string(name) + ": " + what).c_str(), s);
    };
    line("ride, 256 draws and pushes, all cores",
         median_s(9, [&] { ride = cli::ride_of(opened.build, shipped, options); }));
    line("ride, nominal only, scalar", median_s(15, [&] {
           (void)ride::ride(opened.build, shipped.cycles,
                            {.draws = 0,
                             .seed = 1,
                             .pushes = false,
                             .wanted = ride::every_answer,
                             .widest_kernel = 1});
         }));
    fit::CheckOptions how{.runner = ride::run_in_turn,
                          .ways_out = false,
                          .units = figure::System::metric,
                          .overrides = nullptr};
    std::vector<fit::Finding> findings;
    const auto check = [&] {
      findings = fit::check(opened.build, ride, shipped.library, shipped.cycles, how);
    };
    const double bare = median_s(41, check);
    line("all " + std::to_string(findings.size()) + " findings, no ways out", bare);
    how.ways_out = true;
    line("with ways out, one core", median_s(7, check));
    how.runner = cli::run_on_cores;
    line("with ways out, all cores", median_s(7, check));
    cli::Checked checked{
        .ridden = opened.build, .sketched = {}, .ride = ride, .findings = findings};
    line("report as text",
         median_s(15, [&] { (void)cli::check_report(opened, checked, options); }));
  }
}

void time_pieces(const Table& table, const cli::Shipped& shipped, const Scene& scene) {
  Table::head("pieces (median)");
  const std::string library = "library, " + std::to_string(shipped.library.size()) + " parts, ";
  table.time((library + "one core").c_str(), median_s(15, [&] { (void)cli::shipped_library(); }));
  table.time((library + "all cores").c_str(),
             median_s(15, [&] { (void)cli::shipped_library(cli::run_on_cores); }));
  table.time("ten cycles", median_s(15, [&] { (void)cli::shipped_cycles(); }));
  const auto sheet = cli::embedded("data/demo/reference.toml").value_or("");
  table.time("sheet of demo reference", median_s(31, [&] {
               (void)build::read_sheet({"reference", sheet}, shipped.library);
             }));
  struct Typed {
    const char* text;
    figure::Kind kind;
  };
  constexpr Typed typed[] = {{"72 V", figure::Kind::voltage},
                             {"98 ft lbf", figure::Kind::torque},
                             {"5/8 in", figure::Kind::length},
                             {"0.4 mohm +- 10 %", figure::Kind::resistance},
                             {"60 rpm/V peak", figure::Kind::motor_constant},
                             {"45 degC", figure::Kind::temperature}};
  int good = 0;
  const int readings = 200;
  const double units = median_s(15, [&] {
    for (int i = 0; i < readings; ++i) {
      for (const Typed& t : typed) good += figure::parse(t.text, t.kind).has_value() ? 1 : 0;
    }
  });
  table.time("one figure with its unit read", units / (readings * double(std::size(typed))));
  if (good != 15 * readings * int(std::size(typed)))
    std::printf("    (not every figure was read)\n");
  std::size_t varying = 0;
  for (const auto& figure : scene.soft) varying += figure.spread.half_width > 0 ? 1 : 0;
  double sum = 0;
  const double draws = median_s(15, [&] {
    const auto points = sobol_points(int(varying), 256, 1);
    std::size_t k = 0;
    for (const auto& figure : scene.soft) {
      if (!(figure.spread.half_width > 0)) continue;
      for (std::size_t d = 0; d < 256; ++d)
        sum += figure::quantile(figure.spread, points[d * varying + k]);
      ++k;
    }
  });
  if (!std::isfinite(sum)) std::printf("    (a draw is not finite)\n");
  table.time(("256 draws of " + std::to_string(varying) + " figures: points and quantiles").c_str(),
             draws);
  table.time("schema walked: soft figures of a build",
             median_s(31, [&] { (void)ride::soft_figures(scene.build); }));
}

// ---- kernels

/// 256 bikes: the reference demo with every soft figure drawn from its spread.
struct Bikes {
  static constexpr std::size_t count = 256;
  std::vector<double> common;
  std::vector<std::vector<double>> columns;
  ride::Lanes lanes;
};

Bikes drawn_bikes(const Scene& scene) {
  Bikes bikes{.common = scene.nominal.at, .columns = {}, .lanes = {}};
  bikes.common.resize(ride::lane_field_count, 0);
  std::vector<ride::Id> ids;
  std::mt19937 random(1);
  std::uniform_real_distribution<double> share(0.02, 0.98);
  for (const auto& figure : scene.soft) {
    if (!(figure.spread.half_width > 0)) continue;
    // The nominal value carries the convention's factor.
    const double factor = scene.nominal.at[std::size_t(figure.id)] / figure.spread.median;
    if (!std::isfinite(factor)) continue;
    std::vector<double> column(Bikes::count);
    for (double& value : column) value = factor * figure::quantile(figure.spread, share(random));
    bikes.columns.push_back(std::move(column));
    ids.push_back(figure.id);
  }
  bikes.lanes = {.count = Bikes::count,
                 .common = bikes.common.data(),
                 .source = scene.nominal.source.data(),
                 .columns = {}};
  for (std::size_t k = 0; k < ids.size(); ++k)
    bikes.lanes.columns.emplace_back(ids[k], bikes.columns[k].data());
  return bikes;
}

/// All lanes once, dealt out to the threads.
template <class Job>
double all_lanes_s(std::size_t width, int threads, const Job& job) {
  return seconds_of([&] {
    const auto work = [&](int thread) {
      for (std::size_t first = std::size_t(thread) * width; first < Bikes::count;
           first += width * std::size_t(threads))
        job(first);
    };
    std::vector<std::jthread> others;
    for (int t = 1; t < threads; ++t) others.emplace_back([&, t] { work(t); });
    work(0);
  });
}

/// What one kernel of one instruction set took, for all lanes, by threads.
struct Timed {
  std::vector<double> ledger[2], rates[2], answers[2];
};

/// The operations that 256 lanes ask for in one ride each, counted by riding them.
template <class Ride>
Operations counted(const Scene& scene, const Bikes& bikes, const Ride& ride) {
  Operations sum{};
  for (std::size_t lane = 0; lane < Bikes::count; ++lane) {
    std::vector<Counting> at(scene.nominal.at.begin(), scene.nominal.at.end());
    for (const auto& [id, column] : bikes.lanes.columns) at[std::size_t(id)] = column[lane];
    const ride::Values<Counting> values{at.data(), scene.nominal.source.data(), nullptr};
    const auto bike = ride::bike_of<Counting, model::PmMotor>(scene.build, values);
    const auto warm =
        ride::at_winding_temperature(bike.motor, bike.params.ambient_K + Counting(60));
    const auto climate = ride::pack_climate(bike.params.pack, bike.params.ambient_K);
    const auto fixed = ride::ride_fixed(bike.params, climate, Counting(0));
    Counting::done = {};
    ride(bike, warm, fixed);
    const Operations& done = Counting::done;
    sum.adding += done.adding;
    sum.multiplying += done.multiplying;
    sum.dividing += done.dividing;
    sum.rooting += done.rooting;
    sum.choosing += done.choosing;
    sum.comparing += done.comparing;
    sum.transcendental += done.transcendental;
  }
  return sum;
}

/// Largest difference of two runs' answers, relative; infinite where one is not a number or
/// nothing.
double difference(const std::vector<double>& a, const std::vector<double>& b) {
  double most = 0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    const double here = std::fabs(b[i] / a[i] - 1);
    if (!(here <= 1)) return std::numeric_limits<double>::infinity();
    most = std::max(most, here);
  }
  return most;
}

void print_counts(const char* what, const Operations& o, double rides, double steps) {
  const double each = 1 / (rides * steps);
  std::printf(
      "  %s, a second of riding: %.0f flops (%.0f add, %.0f multiply, %.2f divide, %.2f root),\n"
      "    beside them %.0f compare, %.0f choose, %.0f exp or log\n",
      what, o.flops() * each, o.adding * each, o.multiplying * each, o.dividing * each,
      o.rooting * each, o.comparing * each, o.choosing * each, o.transcendental * each);
}

/// Rows of one kind of ride.
void print_rides(const char* what, const std::vector<Arch>& all, const std::vector<Timed>& timed,
                 std::vector<double> (Timed::*which)[2], double rides) {
  std::printf("\n%-46s %14s %14s %9s %9s\n", what, "1 thread", "2 threads", "scalar=1", "threads");
  const double base = median((timed[0].*which)[0]);
  for (std::size_t k = 0; k < all.size(); ++k) {
    const double one = median((timed[k].*which)[0]), two = median((timed[k].*which)[1]);
    std::printf("  %-44s %12.0f/s %12.0f/s %9.2f %9.2f\n", all[k].name, rides / one, rides / two,
                base / one, one / two);
  }
}

void print_share(const char* what, const std::vector<Arch>& all, const std::vector<Timed>& timed,
                 std::vector<double> (Timed::*which)[2], const Operations& ops,
                 const std::vector<Throughput>& peaks, double rounds) {
  double peak = 0;
  for (const auto& p : peaks) peak = std::max(peak, p.multiply_add_flops_per_s);
  std::printf("\n%-46s %10s %12s %12s %12s\n", what, "Gflop/s", "of own peak", "of machine",
              "divider busy");
  for (std::size_t k = 0; k < all.size(); ++k) {
    const double took = median((timed[k].*which)[0]) / rounds;
    const double rate = ops.flops() / took;
    const double divider =
        ops.dividing / peaks[k].divides_per_s + ops.rooting / peaks[k].roots_per_s;
    std::printf("  %-44s %10.2f %10.1f %% %10.1f %% %10.1f %%\n", all[k].name, rate * 1e-9,
                100 * rate / peaks[k].multiply_add_flops_per_s, 100 * rate / peak,
                100 * divider / took);
  }
}

bool time_kernels(const cli::Shipped& shipped, const Scene& scene) {
  const auto all = archs();
  const auto trace = shipped.cycles.udds.trace();
  const Bikes bikes = drawn_bikes(scene);
  const auto course = ride::course_for(shipped.cycles, 30);
  constexpr int rounds = 4;
  std::vector<Timed> timed(all.size());
  std::vector<Throughput> peaks(all.size());
  double apart = 0;
  std::vector<double> first_ledger, first_rates;
  // Interleaved, so that a slow moment of the machine meets every kernel.
  for (int turn = 0; turn < 7; ++turn) {
    for (std::size_t k = 0; k < all.size(); ++k) {
      const Arch& arch = all[k];
      std::vector<double> ledger(Bikes::count), rates(Bikes::count);
      std::vector<double> answers(Bikes::count * ride::answer_count);
      const ride::Kernel kernel = ride::choose_kernel(arch.width);
      for (int threads = 1; threads <= 2; ++threads) {
        const auto job = [&](std::vector<double>& out, std::size_t first) {
          return RideJob{&scene.build, &bikes.lanes, &trace, first, rounds, out.data()};
        };
        Timed& t = timed[k];
        t.ledger[threads - 1].push_back(all_lanes_s(
            arch.width, threads, [&](std::size_t lane) { arch.ledger(job(ledger, lane)); }));
        t.rates[threads - 1].push_back(all_lanes_s(
            arch.width, threads, [&](std::size_t lane) { arch.rates(job(rates, lane)); }));
        if (turn >= 3) continue;
        t.answers[threads - 1].push_back(all_lanes_s(arch.width, threads, [&](std::size_t lane) {
          kernel.evaluate({.build = &scene.build,
                           .lanes = &bikes.lanes,
                           .course = &course,
                           .first = lane,
                           .out = answers.data(),
                           .stride = Bikes::count});
        }));
      }
      const Throughput here = arch.throughput();
      peaks[k].multiply_add_flops_per_s =
          std::max(peaks[k].multiply_add_flops_per_s, here.multiply_add_flops_per_s);
      peaks[k].divides_per_s = std::max(peaks[k].divides_per_s, here.divides_per_s);
      peaks[k].roots_per_s = std::max(peaks[k].roots_per_s, here.roots_per_s);
      if (k == 0) {
        first_ledger = ledger;
        first_rates = rates;
      }
      apart = std::max({apart, difference(first_ledger, ledger), difference(first_rates, rates)});
    }
  }
  const double rides = double(Bikes::count) * rounds;
  print_rides("UDDS with the ledger, 256 bikes", all, timed, &Timed::ledger, rides);
  print_rides("UDDS at five charges, 256 bikes", all, timed, &Timed::rates, rides);
  print_rides("every answer of a build (batch kernel)", all, timed, &Timed::answers,
              double(Bikes::count));
  std::printf("  results of the kernels lie within %.1e of each other\n", apart);

  const auto ops_ledger =
      counted(scene, bikes, [&](const auto& bike, const auto& warm, const auto& fixed) {
        ride::RideState<Counting> state{Counting(0), Counting(1), Counting(0)};
        ride::ride_trace(bike, warm, fixed, trace, state);
      });
  const auto ops_rates =
      counted(scene, bikes, [&](const auto& bike, const auto& warm, const auto& fixed) {
        ride::trace_rates(bike, warm, fixed, trace, ride::charge_grid(Counting(0.03)));
      });
  std::printf("\ncounted on the same bikes\n");
  const double steps = double(trace.speed_mps.size() - 1);
  print_counts("ledger", ops_ledger, double(Bikes::count), steps);
  print_counts("five charges", ops_rates, double(Bikes::count), steps);
  std::printf("\n%-46s %14s %14s %14s\n", "one core at most, measured", "multiply-add", "divide",
              "root");
  for (std::size_t k = 0; k < all.size(); ++k)
    std::printf("  %-44s %7.1f Gflop/s %10.2f G/s %10.2f G/s\n", all[k].name,
                peaks[k].multiply_add_flops_per_s * 1e-9, peaks[k].divides_per_s * 1e-9,
                peaks[k].roots_per_s * 1e-9);
  print_share("share of it: ledger", all, timed, &Timed::ledger, ops_ledger, peaks, rounds);
  print_share("share of it: five charges", all, timed, &Timed::rates, ops_rates, peaks, rounds);
  return apart < 1e-9;
}

// ---- a general integrator

#ifdef WW_CVODE
/// Net charge taken at each second of our own ride.
std::vector<double> own_charge(const Scene& scene, const ride::Trace& trace) {
  ride::RideState<double> state{0, 1, 0};
  ride::RideTotals<double> sum = ride::empty_totals<double>();
  std::vector<double> charge;
  for (std::size_t i = 1; i < trace.speed_mps.size(); ++i) {
    ride::ride_second(scene.bike, scene.warm, scene.fixed, trace.speed_mps[i], state, sum);
    charge.push_back(sum.charge_C);
  }
  return charge;
}

/// The largest distance of two rides' charges at any second, as a share of what the whole ride
/// takes.
double apart(const std::vector<double>& ride, const std::vector<double>& exact) {
  double most = 0;
  for (std::size_t i = 0; i < exact.size(); ++i)
    most = std::max(most, std::fabs(ride[i] - exact[i]) / exact.back());
  return most;
}

bool time_cvode(const Scene& scene, const ride::Trace& trace) {
  const CvodeRide ride{
      .bike = &scene.bike, .warm = &scene.warm, .climate = scene.climate, .trace = trace};
  if (ride_once(scene, trace).missed_s > 0) {
    std::printf("\nCVODE: the bike misses seconds of the trace; not compared\n");
    return false;
  }
  const auto exact = ride_with_cvode(ride, {1e-10, false, true});
  const auto exact_too = ride_with_cvode(ride, {1e-10, true, true});
  if (!exact.ok || !exact_too.ok) return false;
  const double own_error = apart(own_charge(scene, trace), exact.charge_C);
  const double own_s = median_s(101, [&] { ride_once(scene, trace); });
  std::printf("\nUDDS in CVODE, the same bike and pack as a differential equation\n");
  std::printf("  reference: tolerance 1e-10, two methods within %.1e\n",
              apart(exact_too.charge_C, exact.charge_C));
  std::printf("  %-44s %10s %10s %12s %10s\n", "", "ms", "own = 1", "error", "slopes");
  std::printf("  %-44s %10.3f %10.2f %12.1e %10.0f\n", "own steps of 1 s", own_s * 1e3, 1.0,
              own_error, double(trace.speed_mps.size() - 1));
  double best = 0;
  for (const bool every_second : {true, false}) {
    for (const bool stiff : {false, true}) {
      const std::string name = std::string(stiff ? "backward differences" : "Adams") +
                               (every_second ? ", anew each second" : ", straight through");
      // The quickest of all tolerances that are as exact as our own steps.
      CvodeTask chosen{0, stiff, every_second};
      long fewest = 0;
      for (double tolerance = 1e-9; tolerance < 2; tolerance *= 1.7782794100389228) {
        const auto there = ride_with_cvode(ride, {tolerance, stiff, every_second});
        if (!there.ok || apart(there.charge_C, exact.charge_C) > own_error) continue;
        if (fewest != 0 && there.evaluations >= fewest) continue;
        fewest = there.evaluations;
        chosen.relative_tolerance = tolerance;
      }
      if (fewest == 0) {
        std::printf("  %-44s never as exact\n", name.c_str());
        continue;
      }
      CvodeResult result{};
      const double s = median_s(15, [&] { result = ride_with_cvode(ride, chosen); });
      best = best <= 0 ? s : std::min(best, s);
      char text[64];
      std::snprintf(text, sizeof text, "%s, %.1e", name.c_str(), chosen.relative_tolerance);
      std::printf("  %-44s %10.3f %10.2f %12.1e %10ld\n", text, s * 1e3, s / own_s,
                  apart(result.charge_C, exact.charge_C), result.evaluations);
    }
  }
  if (best > 0) std::printf("  the quickest of them takes %.1f times our own\n", best / own_s);
  return true;
}
#endif

int run(const char* program) {
  cli::Shipped shipped = cli::load_shipped();
  const auto opened = cli::open_sheet("reference", shipped, {});
  using build::MotorType;
  const MotorType motor = opened.build.motor ? opened.build.motor->type : MotorType::unknown;
  const bool pm =
      motor == MotorType::pm_hub || motor == MotorType::pm_radial || motor == MotorType::pm_axial;
  if (!opened.errors.empty() || !pm) {
    std::fprintf(stderr, "the reference demo cannot be read or has no PM motor\n");
    return 1;
  }
  const Scene scene = scene_of(opened.build);
  const auto trace = shipped.cycles.udds.trace();
  double charge = 0;
  const auto yardstick = [&] {
    return median_s(201, [&] { charge += ride_once(scene, trace).charge_C; });
  };
  const Table table{yardstick()};
  Table::head("yardstick: one UDDS ride, double, demo reference");
  table.time("ride_trace, with the ledger (201 rides, median)", table.yardstick_s);
  table.time("trace_rates, five states of charge", median_s(101, [&] {
               charge += ride::trace_rates(scene.bike, scene.warm, scene.fixed, trace,
                                           ride::charge_grid(0.03))
                             .missed_s;
             }));
  const auto weak = cli::open_sheet("beginner", shipped, {});
  if (weak.errors.empty()) {
    const Scene other = scene_of(weak.build);
    const double missed = ride_once(other, trace).missed_s;
    table.time(
        ("ride_trace of demo beginner, " + std::to_string(int(missed)) + " s short of it").c_str(),
        median_s(51, [&] { charge += ride_once(other, trace).charge_C; }));
  }
  bool good = true;
  if (program != nullptr) good = time_program(table, program);
  time_findings(table, shipped);
  time_pieces(table, shipped, scene);
  good = time_kernels(shipped, scene) && good;
#ifdef WW_CVODE
  good = time_cvode(scene, trace) && good;
#endif
  std::printf("\nyardstick at the end: %.3f of what it was\n", yardstick() / table.yardstick_s);
  return good && std::isfinite(charge) ? 0 : 1;
}

}  // namespace
}  // namespace ww::bench

int main(int argc, char** argv) {
  return ww::bench::run(argc > 1 ? argv[1] : nullptr);
}
