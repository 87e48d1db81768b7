// SPDX-License-Identifier: MIT
// What every command starts from: the library, the cycles, the sheet as read and changed by --set,
// its ride.
#pragma once

#include <string>
#include <vector>

#include "build/sheet.h"
#include "serve/evaluate.h"
#include "serve/layout.h"

namespace ww::cli {

using serve::Checked;
using serve::Columns;
using serve::columns_of;
using serve::demo_names;
using serve::embedded;
using serve::load_shipped;
using serve::run_on_cores;
using serve::Shipped;
using serve::shipped_cycles;
using serve::shipped_goods;
using serve::shipped_library;
using serve::spoken;
using serve::Spoken;
using serve::wrapped;

/// Exit codes, as docs/cli.md promises.
enum class Exit : int {
  good = 0,
  clash = 1,
  unmeasured = 2,
  misuse = 3,
  bad_sheet = 4,
  no_file = 5,
  our_mistake = 6
};

struct Options {
  std::vector<std::string> sets;        ///< "path=text"
  std::vector<std::string> part_files;  ///< the builder's own parts
  bool json = false;
  bool all = false;  ///< list what fits, too
  figure::System units = figure::System::metric;
  int draws = 256;
};

serve::Evaluation evaluation(const Options& options, bool ways_out = true);

/// A sheet with its name.
struct Opened {
  std::string name;
  build::Build build;
  Errors errors;      ///< of the sheet, of --set, of the builder's part files
  bool found = true;  ///< the file could be read
};

/// Reads a file, or a demo by its name ("commuter"), and applies --set and --parts.
Opened open_sheet(const std::string& name, Shipped& shipped, const Options& options);

/// "metric" unless the locale is one that measures in miles.
figure::System units_of_locale();

ride::Ride ride_of(const build::Build& build, const Shipped& shipped, const Options& options);

}  // namespace ww::cli
