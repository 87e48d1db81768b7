// SPDX-License-Identifier: MIT
#include <cmath>

#include "serve/wiring_report.h"
#include "wiring/settings.h"

namespace ww::serve {

namespace {

using wiring::Ladder;
using wiring::Rung;

std::string shown(double value, const Ladder& ladder, figure::System units) {
  return std::isnan(value) ? "" : figure::print(value, ladder.kind, units);
}

/// As it is typed: of one cell where the monitor asks for that.
std::string typed_text(double value, const Rung& rung, const Ladder& ladder, figure::System units) {
  const bool per_cell = !std::isnan(value) && rung.of_a_cell();
  return shown(value, ladder, units) + (per_cell ? " a cell" : "");
}

Told ladder_text(const Ladder& ladder, figure::System units) {
  Columns table({false, false, true, true, true, false, false});
  const bool amps = ladder.kind != figure::Kind::voltage;
  table.row({"", "typed into", "set", amps ? "at most" : "suggested", "acts at", "before", ""});
  Told whys;
  int number = 0;
  for (const Rung& rung : ladder.rungs) {
    const bool typed = !rung.typed_into.empty();
    table.row({std::to_string(++number) + " " + rung.label,
               typed ? std::string(rung.typed_into) : "(a limit)",
               typed ? typed_text(rung.typed_value, rung, ladder, units) : "",
               typed ? typed_text(rung.typed_suggested, rung, ladder, units) : "",
               shown(rung.value, ladder, units), typed ? "______" : "",
               std::string(word(rung.standing))});
    whys += told_line(std::to_string(number) + ": " + rung.why + ".", 7, "    ");
  }
  return told_small_heading(std::string(ladder.title)) + told_table(table) + whys;
}

}  // namespace

Told settings_report(const build::Build& build, figure::System units) {
  Told out = told_line(
      "CAUTION: change one number at a time, wheel off the ground, the old value written "
      "down first. A number suggested here is worked out from the sheet, by common "
      "practice; the part's own manual goes first. What fades must act before what cuts, "
      "and what cuts before what burns.",
      2);
  for (const Ladder& ladder : wiring::ladders(build)) out += ladder_text(ladder, units);
  Columns table({false, false, true, false});
  table.row({"", "typed into", "set", "before"});
  Told whys;
  for (const auto& single : wiring::singles()) {
    const build::Id id = build::id_of(single.path);
    const std::string label(build::schema()[id].info->label);
    table.row({label, std::string(single.typed_into),
               build::known_at(build, id) ? build::show(build, id, units) : "", "______"});
    whys += told_line(label + ": " + std::string(single.why) + ".", 7, "    ");
  }
  return out + told_small_heading("Besides") + told_table(table) + whys;
}

}  // namespace ww::serve
