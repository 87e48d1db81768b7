// SPDX-License-Identifier: MIT
#include "cli/settings_report.h"

#include <cmath>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/json.h"
#include "serve/wiring_report.h"
#include "wiring/settings.h"

namespace ww::cli {

using wiring::Ladder;
using wiring::Rung;

std::string settings_text(const Opened& opened, const build::Build& build, const Options& options) {
  return (opened.build.project.name.empty() ? opened.name : opened.build.project.name) +
         ": settings, in the order in which they must act\n\n" +
         serve::settings_report(build, options.units).text() +
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
