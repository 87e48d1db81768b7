// SPDX-License-Identifier: MIT
// Everything the page shows of one build, worked out and put into words. Pure: the same build gives
// the same state. Invariants:
// 1. Nothing is said that was not computed from the build; what was sketched in or assumed says so.
// 2. Texts are in the builder's units; numbers beside them are SI.
#pragma once

#include <string>
#include <vector>

#include "plan/measuring_list.h"
#include "plan/parts_list.h"
#include "serve/api.h"
#include "serve/evaluate.h"

namespace ww::serve {

/// How closely a build is looked at: at once (64 draws, nothing ranked, no ways out), or in full.
enum class Depth : std::uint8_t { first, full };

/// A build, looked at.
struct Looked {
  build::Build own;               ///< the builder's, as the sheet has it
  build::Build parts_as_shipped;  ///< its library parts, before anything was written over them
  Errors unread;                  ///< what of the sheet could not be read
  Checked checked;
  plan::PartsList list;                    ///< priced with what was sketched in
  plan::PartsList own_list;                ///< of the builder's sheet alone
  std::vector<plan::Measurement> measure;  ///< most urgent first
  Depth depth = Depth::first;
  figure::System units = figure::System::metric;
};

struct LookOptions {
  Depth depth = Depth::first;
  figure::System units = figure::System::metric;
  ride::Runner runner = run_on_cores;
};
Looked looked_at(build::Build own, Errors unread, const Shipped& shipped,
                 const std::vector<build::Goods>& goods, const LookOptions& options);

/// What the teeth decide besides the answers: the motor's speed at the speed to hold, the pull in
/// the chain, both pitch circles; only what is known of the bike as ridden.
std::vector<api::DriveFigure> gearing_of(const Looked& looked);

/// 'I know, because ...' as it stands now.
struct KnownAnswer {
  std::string rule;
  api::Known known;
};

/// What the garage knows of the build.
struct Standing {
  api::Integer build = 0, revision = 0;
  std::string name, saved_at, undo_what, redo_what;
  bool can_undo = false, can_redo = false;
  std::vector<KnownAnswer> known;
};

api::State state_of(const Looked& looked, const Standing& standing);

// Pieces of it that are asked for alone.
std::vector<api::BigFigure> four_of(const Looked& looked);
std::vector<api::Answer> answers_of(const Looked& looked);
std::vector<api::Finding> findings_of(const std::vector<fit::Finding>& findings,
                                      const Looked& looked, const std::vector<KnownAnswer>& known);
api::Counts counts_of(const std::vector<fit::Finding>& findings);
api::PartsList parts_list_of(const Looked& looked);
std::vector<api::Measure> measures_of(const Looked& looked);
std::vector<api::Asked> asked_of(const std::vector<build::Id>& ids);

/// The field table and the stages, for the page's forms. Texts in the units asked for.
api::Schema schema_of(figure::System units);

/// "twin_400_500" -> "twin 400 500".
std::string words_of(std::string_view slug);

}  // namespace ww::serve
