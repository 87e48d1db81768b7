// SPDX-License-Identifier: MIT
// The circuit and the protocol of the work as the page is told them, and what the page writes into
// the log of a sheet.
#pragma once

#include "serve/layout.h"
#include "serve/state.h"
#include "steps/learn.h"

namespace ww::serve {

std::vector<api::Piece> pieces_of(const Told& told);

/// Valid: the protocol of the look's build as ridden.
api::Steps steps_of(const Looked& looked, const steps::Protocol& protocol);

// The same words for the command line and the page.
Told sorting_told(const build::Build& build, const steps::Protocol& protocol);
Told live_told(const steps::Protocol& protocol);
Told learn_told(const steps::Lesson& lesson, const std::vector<steps::Move>& moves,
                figure::System units);

/// The entry in the build's log; or why it is no reading of this build. `today` is its date.
Result<build::Build> with_reading(const Looked& looked, const api::StepDone& done,
                                  const std::string& today);
/// The wire as it was laid, in the place of what the sheet said of it.
Result<build::Build, Errors> with_wire(const Looked& looked, const api::WireLaid& wire,
                                       const std::string& today);
/// Cells or modules from lines such as "C07 3.292 V 104.8 Ah 0.52 mohm"; all that is wrong at once,
/// with its line.
Result<build::Build, Errors> with_cells(const Looked& looked, const std::string& text);
/// The same lines back.
std::string cells_text(const build::Build& build, figure::System units);

}  // namespace ww::serve
