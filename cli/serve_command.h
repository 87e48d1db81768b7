// SPDX-License-Identifier: MIT
// `serve`: opens the garage and serves the page until it is told to stop.
#pragma once

#include <string>

#include "cli/session.h"

namespace ww::cli {

struct ServeOptions {
  int port = 8674;          ///< 0: any that is free
  bool port_given = false;  ///< a port that was asked for is not replaced by another
  std::string garage;       ///< a file; empty: the usual place
  bool lan = false;         ///< answer the house's network, too
  bool browser = true;      ///< open one where there is one
  figure::System units = figure::System::metric;
};

/// Returns when SIGINT or SIGTERM came; a second one ends the program at once.
Exit serve_page(const ServeOptions& options);

}  // namespace ww::cli
