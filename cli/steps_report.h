// SPDX-License-Identifier: MIT
// The protocol of the work as text for the terminal, as a sheet to print, and as JSON; what the
// readings teach; and the log entry that is added to a sheet.
#pragma once

#include <string>
#include <vector>

#include "cli/reports.h"
#include "steps/learn.h"
#include "steps/protocol.h"

namespace ww::cli {

/// What is shown of a protocol.
struct StepsAsk {
  std::string stage;  ///< empty: all of them
  std::string one;    ///< a single step by its id
  bool next = false;  ///< only what may be done now, and what is open and live
};

steps::Protocol protocol_of(const Checked& checked);

std::string steps_report(const Opened& opened, const Checked& checked,
                         const steps::Protocol& protocol, const StepsAsk& ask,
                         const Options& options);
std::string steps_json(const Opened& opened, const steps::Protocol& protocol, const StepsAsk& ask);
/// A page to print: large type, boxes to tick, room for what is read. Needs nothing but itself.
std::string steps_page(const Opened& opened, const steps::Protocol& protocol, const StepsAsk& ask,
                       const Options& options);

/// What is learnt and what it moves. `sheet` is what the builder wrote, ridden as it is.
std::string learn_report(const Opened& opened, const steps::Lesson& lesson,
                         const std::vector<steps::Move>& moves, const Options& options);
std::string learn_json(const Opened& opened, const steps::Lesson& lesson,
                       const std::vector<steps::Move>& moves);

/// One entry as sheet text, `[[done]]` or `[[wire]]`.
std::string log_text(const build::LogEntry& entry);
std::string wire_text(const build::OwnWire& wire, const std::string& length,
                      const std::string& section, const std::string& torque);

/// Adds `text` at the end of a sheet's file, so that nothing of what stands there changes: written
/// beside it, checked by reading it, then put in its place at once. The error is for the builder.
Result<int> append_to_sheet(const std::string& path, const std::string& text,
                            const build::Library& library);

}  // namespace ww::cli
