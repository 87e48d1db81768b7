// SPDX-License-Identifier: MIT
// A shelf of parts, each held against a build in its place; and two parts held against each other
// without a bike.
#pragma once

#include <string>
#include <vector>

#include "serve/lookout.h"

namespace ww::serve {

/// One of the builder's own parts: its number and its id on the shelf.
struct OwnOnShelf {
  std::int64_t id;
  std::string slug;
};

struct ShelfQuestion {
  std::string shelf;
  const build::Slot* slot = nullptr;  ///< where it would go
  const Looked* looked = nullptr;     ///< null: no build
  std::vector<OwnOnShelf> own;
  figure::System units = figure::System::metric;
};
std::vector<api::ShelfPart> shelf_parts(const ShelfQuestion& question, const World& world,
                                        const ride::Runner& runner);

/// The findings that stand between the two; nothing where no rule does.
std::vector<fit::Finding> between_two(const build::LibraryPart& a, const build::LibraryPart& b,
                                      const World& world, figure::System units);

/// The slot that takes a part of this shelf; the second for the same shelf twice. Null: none.
const build::Slot* slot_for(std::string_view shelf, bool second = false);

}  // namespace ww::serve
