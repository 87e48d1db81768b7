// SPDX-License-Identifier: MIT
// The drawings, charts and printed pages of a sheet by name, as SVG, PDF or CSV.
#pragma once

#include <string>

#include "cli/session.h"

namespace ww::cli {

/// What may be drawn, a line each: name and what it shows.
std::string drawing_names();
/// All names, for "did you mean".
std::vector<std::string_view> drawing_name_list();

struct DrawAsk {
  std::string name;
  bool csv = false;
  bool before = false;  ///< with --set: the state without it behind the curves
  bool pdf = false;
  double width_px = 1200;
  int page = 1;         ///< of a print, as SVG
  double charge = 0.5;  ///< at which the taps are measured
  std::string date;     ///< for the title block
};

/// The bytes, or what stands in the way: "unknown-drawing", "no-numbers" (a view has no CSV),
/// "no-page", "no-pdf".
Result<std::string> drawn(const Opened& opened, const Opened* plain, const Shipped& shipped,
                          const Options& options, const DrawAsk& ask);

}  // namespace ww::cli
