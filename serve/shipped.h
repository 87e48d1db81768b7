// SPDX-License-Identifier: MIT
// The data carried in the program: parts library, cycles, demo sheets.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/embedded.h"
#include "build/goods.h"
#include "build/library.h"
#include "ride/ride.h"

namespace ww::serve {

const std::vector<EmbeddedFile>& embedded_files();
std::optional<std::string_view> embedded(std::string_view path);

// What is shipped. A mistake in it is a mistake of ours: std::logic_error, which says file and
// line.
build::Library shipped_library(const ride::Runner& runner = ride::run_in_turn);
ride::Cycles shipped_cycles();
std::vector<build::Goods> shipped_goods();

/// What every build is held against; loaded once a run.
struct Shipped {
  build::Library library;
  ride::Cycles cycles;
};
Shipped load_shipped();

/// "commuter" for data/demo/commuter.toml.
std::vector<std::string> demo_names();

/// As many tasks at a time as there are cores, at most eight.
void run_on_cores(int count, const std::function<void(int)>& task);

}  // namespace ww::serve
