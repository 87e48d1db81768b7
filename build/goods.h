// SPDX-License-Identifier: MIT
// Tools and small parts: things that are bought but are no part of a sheet. Read from
// data/parts/tool.toml.
#pragma once

#include <string>
#include <vector>

#include "build/library.h"

namespace ww::build {

struct Goods {
  bool tool;  ///< else a small part
  std::string id, name, task, needed, when, group;
  double price_low = 0, price_usual = 0;
};

/// All goods of a file; errors for what could not be read.
std::vector<Goods> read_goods(NamedBytes file, Errors& errors);

}  // namespace ww::build
