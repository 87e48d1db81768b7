// SPDX-License-Identifier: MIT
// What was measured flows back: readings that passed become figures of the sheet with the evidence
// `measured`, and it is told what that moved and why.
// Invariants:
// 1. Only a reading that is `within` is taken; the others that could teach something are named,
// with
//    the reason why not.
// 2. The build is not touched: a copy comes back, or the edits alone.
// 3. A figure that two readings teach is taken from the later step.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "steps/protocol.h"

namespace ww::steps {

struct Learnt {
  std::string path;
  build::Figure figure;  ///< as it goes into the sheet
  std::string from;      ///< id of the step, or "cell_measured"
  std::string sum;       ///< how the figure follows from the reading
  double was;            ///< SI; NaN: nothing was known
};
struct NotLearnt {
  std::string path, from, why;
};
struct Lesson {
  std::vector<Learnt> learnt;  ///< one a path
  std::vector<NotLearnt> left;
};

/// Valid: the protocol of the same build.
Lesson lesson_of(const build::Build& build, const Protocol& protocol);
build::Build taught(const build::Build& build, const std::vector<Learnt>& learnt);

/// An answer that moved, or grew sharper, and what did most of it.
struct Move {
  ride::Answer answer;
  ride::Band before, after;
  int cause;  ///< of the learnt; -1: none of them alone
  double
      cause_share;  ///< of the whole shift that it makes alone; beyond 1 where another pulls back
};
/// `ride_of` rides one build; it is called once for each learnt figure and twice besides.
std::vector<Move> moves(const build::Build& build, const std::vector<Learnt>& learnt,
                        const std::function<ride::Ride(const build::Build&)>& ride_of);

}  // namespace ww::steps
