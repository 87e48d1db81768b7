// SPDX-License-Identifier: MIT
// What is said of a build: its ride and its findings, and how an answer is put into words. The
// reports on the terminal and the page read the same.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "fit/engine.h"
#include "serve/shipped.h"

namespace ww::serve {

struct Evaluation {
  figure::System units = figure::System::metric;
  int draws = 256;       ///< a power of two; 0: nominal only
  bool pushes = true;    ///< rank what moves each answer
  bool ways_out = true;  ///< try what would mend a clash
  ride::Runner runner = run_on_cores;
};

struct Checked {
  build::Build
      ridden;  ///< the build that was ridden: completed by a sketch where parts are missing
  std::vector<std::string> sketched;  ///< what the sketch put in
  ride::Ride ride;
  std::vector<fit::Finding> findings;
};

ride::Ride ride_of(const build::Build& build, const Shipped& shipped, const Evaluation& how);

Checked check_build(const build::Build& build, const Shipped& shipped, const Evaluation& how);

/// Whether a rule stands before the step that the sheet declares.
bool blocks_next_step(const build::Build& build, fit::Blocks blocks);

/// The answers of the first page, with the wish each is held against (null: none).
struct Wanted {
  ride::Answer answer;
  const char* path;
};
const std::vector<Wanted>& headline();

/// Said of a distance that the drive is too weak to be ridden at all.
inline constexpr std::string_view cannot_keep_up = "cannot keep up";

/// An answer as "count on / likely / good day" in the units asked for.
struct Spoken {
  std::string count_on, likely, good_day;
};
Spoken spoken(const ride::Ride& ride, ride::Answer answer, figure::System units);

/// The SI unit a kind's numbers are in.
std::string_view si_unit(figure::Kind kind);

/// The usual caution before the step that the sheet declares.
std::string_view caution_of(const build::Build& build);

/// Where a figure that moves an answer comes from: "assumed", "given" on the builder's own sheet,
/// or "sketched in" (invented, so that there is something to ride).
std::string_view source_word(const build::Build& sheet, const ride::Push& push);

}  // namespace ww::serve
