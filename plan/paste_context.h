// SPDX-License-Identifier: MIT
// Which words of a paste belong to which number. Internal to this floor. Invariants:
// 1. A word between two numbers goes to one of them, or to none where it may go to either.
// 2. Words that say how much (rated, peak) are never taken over from a neighbour; words that say
// of what are.
#pragma once

#include <vector>

#include "plan/paste_fields.h"
#include "plan/paste_text.h"

namespace ww::plan::paste {

struct Context {
  Senses own = {};        ///< of the words that belong to this number
  Senses inherited = {};  ///< what the number before it in the line speaks of
  Senses scope = {};      ///< parts named by the line's label or by a heading
  std::vector<Hit> named_by = {};
  bool unclear = false;    ///< "rated" or "peak" may be the neighbour's
  bool condition = false;  ///< behind "@" or "at"
  bool variant = false;    ///< one of several to choose from
  bool labelled = false;   ///< a label with a colon, or on the line before, names it
  int line = 0;

  Senses all() const { return own | inherited; }
};

struct Line {
  std::size_t begin, end;
  std::vector<int> quantities = {};
  Senses scope = {};  ///< parts named by its label or by the heading over it
};

struct Contexts {
  std::vector<Line> lines;
  std::vector<Context> of;  ///< one a quantity
};
Contexts contexts(const Plain& plain, const Scan& scan, const std::vector<Hit>& hits);

/// The hits that lie in [begin, end).
std::vector<Hit> hits_in(const std::vector<Hit>& hits, std::size_t begin, std::size_t end);

/// Words that name a part.
Senses part_senses();

}  // namespace ww::plan::paste
