// SPDX-License-Identifier: MIT
// What can still be read of a damaged garage file. Private to garage/.
#pragma once

#include "garage/opening.h"

namespace ww::garage {

struct Salvaged {
  int revisions_kept = 0;
  int revisions_lost = 0;
  int builds_kept = 0;
};

/// Copies what can be read, row by row, from the file at `damaged` (which is not written to) into a
/// new garage file at `into`, a single file in journal mode DELETE. A revision is kept only if its
/// sum is right; a build whose row is lost gets a new name, one without revisions an empty sheet.
/// Throws where `into` cannot be written.
Salvaged salvage(const Place& damaged, const std::string& into);

}  // namespace ww::garage
