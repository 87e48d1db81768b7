// SPDX-License-Identifier: MIT
// What a search takes: how its time grows with the candidates, what the second core gives, when the
// first answer is there, and where the time goes. Prints tables; nothing here is a test.
//   wattwright_bench_search [demo] [--quick]
#include <sys/resource.h>

#include <algorithm>
#include <atomic>
#include <cstdio>
#include <cstring>
#include <string>
#include <thread>

#include "bench/timing.h"
#include "cli/session.h"
#include "search/doubts.h"

namespace ww::bench {

namespace {

/// Donor, rider and wishes of a demo; every part is open.
build::Build donor_of(const build::Build& demo) {
  build::Build b;
  b.project = demo.project;
  b.donor = demo.donor;
  b.rider = demo.rider;
  b.wishes = demo.wishes;
  b.surroundings = demo.surroundings;
  b.tyre_front = demo.tyre_front;
  b.tyre_rear = demo.tyre_rear;
  return b;
}

ride::Runner on(int workers) {
  return [workers](int count, const std::function<void(int)>& task) {
    std::atomic<int> next{0};
    std::vector<std::thread> threads;
    for (int w = 0; w < workers; ++w)
      threads.emplace_back([&] {
        for (int i = next++; i < count; i = next++) task(i);
      });
    for (auto& thread : threads) thread.join();
  };
}

/// Every part open, of the motors each `every`-th alone, from the `start`-th on.
search::Ask ask_of(const build::Library& library, std::size_t every, std::size_t start = 0) {
  search::Ask ask;
  ask.open = (1U << search::axis_count) - 1;
  const auto& motors = library.shelf("motor");
  for (std::size_t i = 0; i < motors.size(); ++i) {
    if (i % every != start) ask.without.push_back("motor/" + motors[i].id);
  }
  return ask;
}

struct Run {
  search::Tally tally;
  std::size_t records = 0;
  double first_s = 0, all_s = 0;
};

Run hunted(const build::Build& build, const search::Shop& shop, std::size_t every, int workers,
           std::size_t start = 0) {
  using Clock = std::chrono::steady_clock;
  const auto begin = Clock::now();
  const auto since = [&] { return std::chrono::duration<double>(Clock::now() - begin).count(); };
  Run run;
  search::HuntOptions options;
  options.runner = on(workers);
  options.watch = [&](const search::Progress& progress) {
    if (run.first_s <= 0 && progress.records > 0) run.first_s = since();
    return true;
  };
  const search::Ground ground(
      search::space_of(build, shop.library, ask_of(shop.library, every, start)), shop.library,
      shop.goods, shop.cycles);
  const auto found = search::hunt(ground, search::wishes_of(build), options);
  run.all_s = since();
  run.tally = found.tally;
  run.records = found.records.size();
  return run;
}

void print(const char* what, const Run& run, double against_s) {
  std::printf("  %-34s %10.2e %10.2e %10.2e %9zu %8.2f s %8.2f s %7.2f\n", what,
              run.tally.combinations, run.tally.fitting, run.tally.ridden, run.records, run.first_s,
              run.all_s, run.all_s / against_s);
}

double memory_MiB() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return double(usage.ru_maxrss) / 1024;
}

void time_phases(const build::Build& build, const search::Shop& shop) {
  search::HuntOptions options;
  options.runner = on(2);
  search::Choosing chosen;
  double hunt_s = 0;
  const double all_s = seconds_of([&] {
    const auto begin = std::chrono::steady_clock::now();
    options.watch = [&](const search::Progress&) {
      hunt_s = std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
      return true;
    };
    chosen =
        search::choose(build, shop, ask_of(shop.library, 1), search::wishes_of(build), options);
  });
  search::DoubtOptions doubting;
  doubting.runner = on(2);
  search::Doubts doubts;
  const double doubts_s = seconds_of([&] { doubts = search::doubts(chosen, doubting); });
  std::printf("\nwhere the time goes, 2 workers\n");
  std::printf("  the hunt                        %8.2f s\n", hunt_s);
  std::printf(
      "  trade-offs, last checks, losses %8.2f s, of %zu records %zu worth choosing between\n",
      all_s - hunt_s, chosen.hunted.records.size(), chosen.front.size());
  std::printf("  spreads and measuring           %8.2f s, %zu bikes on %d draws\n", doubts_s,
              doubts.bikes, doubts.draws);
  std::printf("  most memory                     %8.0f MiB\n", memory_MiB());
}

int run(const std::string& demo, bool quick) {
  cli::Shipped shipped = cli::load_shipped();
  const auto opened = cli::open_sheet(demo, shipped, {});
  if (!opened.found || !opened.errors.empty()) {
    std::fprintf(stderr, "no demo %s\n", demo.c_str());
    return 1;
  }
  const auto goods = cli::shipped_goods();
  const search::Shop shop{shipped.library, goods, shipped.cycles};
  const auto build = donor_of(opened.build);
  std::printf("donor, rider and wishes of the demo %s\n", demo.c_str());
  std::printf("  %-34s %10s %10s %10s %9s %10s %10s %7s\n", "", "considered", "fit", "ridden",
              "kept", "first", "all", "ratio");
  if (!quick) {
    // The middle of three, interleaved: a slow moment of the machine meets both.
    std::vector<double> one, two;
    Run first, second;
    for (int turn = 0; turn < 3; ++turn) {
      one.push_back((first = hunted(build, shop, 4, 1)).all_s);
      two.push_back((second = hunted(build, shop, 4, 2)).all_s);
    }
    first.all_s = median(one);
    second.all_s = median(two);
    print("every fourth motor, 1 worker", first, second.all_s);
    print("every fourth motor, 2 workers", second, second.all_s);
    // Motors differ in what is asked of them: growth is the whole against the sum of its parts.
    Run parts;
    for (std::size_t start = 0; start < 4; ++start) {
      const Run quarter = hunted(build, shop, 4, 2, start);
      print("one quarter of the motors", quarter, second.all_s);
      parts.tally.combinations += quarter.tally.combinations;
      parts.tally.fitting += quarter.tally.fitting;
      parts.tally.ridden += quarter.tally.ridden;
      parts.records += quarter.records;
      parts.all_s += quarter.all_s;
    }
    print("the four quarters, summed", parts, parts.all_s);
    print("every motor, 2 workers", hunted(build, shop, 1, 2), parts.all_s);
    print("every motor, 1 worker", hunted(build, shop, 1, 1), parts.all_s);
  }
  time_phases(build, shop);
  return 0;
}

}  // namespace
}  // namespace ww::bench

int main(int argc, char** argv) {
  std::string demo = "commuter";
  bool quick = false;
  for (int i = 1; i < argc; ++i) {
    if (std::strcmp(argv[i], "--quick") == 0) {
      quick = true;
    } else {
      demo = argv[i];
    }
  }
  return ww::bench::run(demo, quick);
}
