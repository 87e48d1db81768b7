// SPDX-License-Identifier: MIT
// How long a builder waits for the page: from an edit to the state that comes back, over all demos,
// as the server's handler answers it, from the request's JSON to the answer's; and how long the
// full state behind it takes. Prints a table; nothing here is a test.
#include <stdlib.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <filesystem>

#include "serve/site.h"

namespace {

using namespace ww;
using namespace ww::serve;
using Clock = std::chrono::steady_clock;

double ms_since(Clock::time_point start) {
  return std::chrono::duration<double, std::milli>(Clock::now() - start).count();
}

double median(std::vector<double> times) {
  std::sort(times.begin(), times.end());
  return times.empty() ? 0 : times[times.size() / 2];
}

double nine_in_ten(std::vector<double> times, double share = 0.9) {
  std::sort(times.begin(), times.end());
  const auto last = static_cast<double>(times.size()) - 1;
  return times.empty() ? 0 : times[static_cast<std::size_t>(share * last)];
}

/// A figure that the ride reads, changed a little each time, so that nothing is remembered.
api::Edit edit_of(api::Integer base, int round) {
  return {.base = base,
          .changes = {{.path = "rider.mass",
                       .text = std::to_string(70 + round) + " kg",
                       .evidence = {},
                       .note = {}}},
          .what = "bench"};
}

/// The handler without a socket, and a page that it knows.
class Handler {
 public:
  Handler(Workbench& bench, Events& events)
      : site_(bench, events, {.page = {}, .lan = false, .seconds = [] { return 0.0; }}) {
    site_.open({host}, 1, "http://" + host);
    const Response in = site_.answer({{"GET", "/?key=" + site_.key(), {{"host", host}}}, {}});
    for (const auto& [name, value] : in.headers) {
      if (name == "Set-Cookie") cookie_ = value.substr(0, value.find(';'));
    }
  }
  Response edit(api::Integer build, const api::Edit& edit) {
    return site_.answer({{"POST",
                          "/api/builds/" + std::to_string(build) + "/edit",
                          {{"host", host},
                           {"origin", "http://" + host},
                           {"content-type", "application/json"},
                           {"cookie", cookie_}}},
                         api::write(edit)});
  }

 private:
  const std::string host = "127.0.0.1:1";
  std::string cookie_;
  Site site_;
};

struct Times {
  std::vector<double> edit, full, preview, shelf;
  std::size_t bytes = 0;
};

Times times_of(Workbench& bench, Handler& handler, const std::string& demo) {
  Times out;
  auto state = bench.create({.title = demo, .where = "riding", .demo = demo, .entries = {}});
  if (!state) return out;
  const api::Integer build = state->build;
  for (int round = 0; round < 15; ++round) {
    const auto edit = edit_of(state->revision, round);
    auto start = Clock::now();
    const Response answer = handler.edit(build, edit);
    out.edit.push_back(ms_since(start));
    if (answer.status != 200) {
      std::fprintf(stderr, "%s\n", answer.body.c_str());
      exit(1);
    }
    out.bytes = answer.body.size();
    state = bench.state(build, false);
    if (!state) return out;
    start = Clock::now();
    (void)bench.preview(build, edit_of(state->revision, 20 + round));
    out.preview.push_back(ms_since(start));
    if (round >= 5) continue;
    start = Clock::now();
    (void)bench.state(build, true);
    out.full.push_back(ms_since(start));
    start = Clock::now();
    (void)bench.shelf("motor", {.build = build, .slot = {}});
    out.shelf.push_back(ms_since(start));
  }
  return out;
}

}  // namespace

int main() {
  const auto folder =
      std::filesystem::temp_directory_path() / ("ww-bench-" + std::to_string(getpid()));
  std::filesystem::create_directories(folder);
  {
    auto garage = garage::Garage::open((folder / "garage.db").string(),
                                       [] { return std::string("2026-05-01T10:00:00Z"); });
    if (!garage) {
      std::fprintf(stderr, "%s\n", garage.error().what.c_str());
      return 1;
    }
    // The full look is asked for and waited for, so that it is not timed as part of the next edit.
    Workbench bench(
        *garage, load_shipped(),
        {.now = [] { return std::string("2026-05-01T10:00:00Z"); }, .background = false});
    Events events;
    Handler handler(bench, events);
    std::printf(
        "| ms, median | edit to whole state | nine in ten | most | kB | preview | full state | "
        "motor shelf |\n"
        "| --- | --- | --- | --- | --- | --- | --- | --- |\n");
    std::vector<double> all;
    for (const auto& demo : demo_names()) {
      const Times t = times_of(bench, handler, demo);
      all.insert(all.end(), t.edit.begin(), t.edit.end());
      std::printf("| %s | %.1f | %.1f | %.1f | %zu | %.1f | %.0f | %.0f |\n", demo.c_str(),
                  median(t.edit), nine_in_ten(t.edit), nine_in_ten(t.edit, 1), t.bytes / 1000,
                  median(t.preview), median(t.full), median(t.shelf));
    }
    std::printf("| all edits | %.1f | %.1f | %.1f | | | | |\n", median(all), nine_in_ten(all),
                nine_in_ten(all, 1));
    double load[3] = {};
    if (getloadavg(load, 3) == 3)
      std::printf("\nload %.2f, %.2f, %.2f\n", load[0], load[1], load[2]);
  }
  std::error_code ignored;
  std::filesystem::remove_all(folder, ignored);
  return 0;
}
