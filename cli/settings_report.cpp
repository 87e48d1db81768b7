// SPDX-License-Identifier: MIT
#include "cli/settings_report.h"

#include <cmath>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/json.h"
#include "wiring/settings.h"

namespace ww::cli {

namespace {

using wiring::Ladder;
using wiring::Rung;

std::string shown(double value, const Ladder& ladder, const Options& options) {
  return std::isnan(value) ? "" : figure::print(value, ladder.kind, options.units);
}

/// As it is typed: of one cell where the monitor asks for that.
std::string typed_text(double value, const Rung& rung, const Ladder& ladder,
                       const Options& options) {
  const bool per_cell = !std::isnan(value) && rung.path.substr(0, 15) == "limits.bms_cell";
  return shown(value, ladder, options) + (per_cell ? " a cell" : "");
}

std::string ladder_text(const Ladder& ladder, const Options& options) {
  Columns table({false, false, true, true, true, false, false});
  const bool amps = ladder.kind != figure::Kind::voltage;
  table.row({"", "typed into", "set", amps ? "at most" : "suggested", "acts at", "before", ""});
  std::string whys;
  int number = 0;
  for (const Rung& rung : ladder.rungs) {
    const bool typed = !rung.typed_into.empty();
    table.row({std::to_string(++number) + " " + rung.label,
               typed ? std::string(rung.typed_into) : "(a limit)",
               typed ? typed_text(rung.typed_value, rung, ladder, options) : "",
               typed ? typed_text(rung.typed_suggested, rung, ladder, options) : "",
               shown(rung.value, ladder, options), typed ? "______" : "",
               std::string(word(rung.standing))});
    whys += wrapped(std::to_string(number) + ": " + rung.why + ".", 7, "    ");
  }
  return "\n" + std::string(ladder.title) + "\n" + table.text(2) + whys;
}

}  // namespace

std::string settings_report(const Opened& opened, const build::Build& build,
                            const Options& options) {
  std::string out =
      (opened.build.project.name.empty() ? opened.name : opened.build.project.name) +
      ": settings, in the order in which they must act\n\n" +
      wrapped(
          "CAUTION: change one number at a time, wheel off the ground, the old value written "
          "down first. A number suggested here is worked out from the sheet, by common "
          "practice; the part's own manual goes first. What fades must act before what cuts, "
          "and what cuts before what burns.",
          2);
  for (const Ladder& ladder : wiring::ladders(build)) out += ladder_text(ladder, options);
  Columns table({false, false, true, false});
  table.row({"", "typed into", "set", "before"});
  std::string whys;
  for (const auto& single : wiring::singles()) {
    const build::Id id = build::id_of(single.path);
    const std::string label(build::schema()[id].info->label);
    table.row({label, std::string(single.typed_into),
               build::known_at(build, id) ? build::show(build, id, options.units) : "", "______"});
    whys += wrapped(label + ": " + std::string(single.why) + ".", 7, "    ");
  }
  return out + "\nBesides\n" + table.text(2) + whys +
         "\n  Written down by ____________________  date ____________  file saved as "
         "____________\n";
}

std::string settings_json(const Opened& opened, const build::Build& build) {
  using Json = nlohmann::ordered_json;
  const auto number = [](double value) {
    return std::isfinite(value) ? Json(value) : Json(nullptr);
  };
  const auto text = [](std::string_view words) {
    return words.empty() ? Json(nullptr) : Json(words);
  };
  Json out{{"wattwright", json_version}, {"report", "settings"},
           {"sheet", opened.name},       {"project", opened.build.project.name},
           {"ladders", Json::array()},   {"others", Json::array()}};
  for (const Ladder& ladder : wiring::ladders(build)) {
    Json rungs = Json::array();
    for (const Rung& rung : ladder.rungs)
      rungs.push_back({{"label", rung.label},
                       {"typed_into", text(rung.typed_into)},
                       {"figure", text(rung.path)},
                       {"set", number(rung.typed_value)},
                       {"suggested", number(rung.typed_suggested)},
                       {"whole", number(rung.value)},
                       {"stands", word(rung.standing)},
                       {"why", rung.why}});
    out["ladders"].push_back({{"title", ladder.title},
                              {"unit", figure::si_unit_of(ladder.kind)},
                              {"rising", ladder.rising},
                              {"holds", ladder.holds()},
                              {"rungs", rungs}});
  }
  for (const auto& single : wiring::singles()) {
    const build::Id id = build::id_of(single.path);
    out["others"].push_back({{"figure", single.path},
                             {"typed_into", single.typed_into},
                             {"set", number(build::number_at(build, id))},
                             {"why", single.why}});
  }
  return out.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace ww::cli
