// SPDX-License-Identifier: MIT
#include "cli/templates.h"

#include <cmath>

#include "base/text.h"
#include "build/sheet.h"
#include "cli/session.h"

namespace ww::cli {

namespace {

constexpr const char* dream_text =
    R"(# Six entries are enough for a first answer. Everything else is assumed from the class of bike, and said.
wattwright = 1

[project]
name = "my conversion"
next_step = "dreaming"

[donor]
bike_class = "single_250_300"   # naked_125, single_250_300, twin_400_500, twin_600_650, sport_600,
                                # cruiser_750_900, enduro_250_450, scooter_125_300
[surroundings]
coldest = "0 degC"              # the coldest day you ride

[wishes]
hold_speed = "90 km/h"          # the speed to hold
ride_distance = "60 km"         # the longest ride between plugs
fast_share = "0.5"              # how much of it is fast
budget = "7000"                 # money there is

[rider]
mass = "88 kg"                  # with gear
)";

constexpr const char* two_parts_text = R"(# Two parts held against each other, without a bike.
wattwright = 1

[project]
name = "two parts"
next_step = "buying"

[motor]
part = ""                       # an id of the library, or the listing's figures below
evidence = "seller"
type = "pm_radial"
sensor = "hall"
current_peak = "300 A"
speed_max = "6000 rpm"

[controller]
part = ""
evidence = "seller"
drives = ["pm"]
sensors = ["hall"]
voltage_max = "96 V"
current_phase = "400 A"
)";

std::string example_value(const build::FieldInfo& info) {
  switch (info.type) {
    case build::FieldType::figure: {
      // A value this field can have: what is assumed where nobody knows, else the middle of what it
      // can be.
      const double middle =
          info.low > 0 ? std::sqrt(info.low * info.high) : 0.5 * (info.low + info.high);
      return "\"" + figure::print(info.prior.known() ? info.prior.value : middle, info.kind) + "\"";
    }
    case build::FieldType::count:
      return std::to_string(static_cast<int>(info.low));
    case build::FieldType::choice:
      return "\"" + std::string(info.options.back()) + "\"";
    case build::FieldType::set:
      return "[\"" + std::string(info.options.back()) + "\"]";
    case build::FieldType::text:
      break;
  }
  return "\"\"";
}

/// Every field of every table, commented out, with what it is and how to get it.
std::string full_text() {
  std::string out =
      "# Every field there is. Take the '#' away before the ones you know.\nwattwright = " +
      std::to_string(build::sheet_version) + "\n# owns = [\"torque wrench\"]\n";
  for (const auto& slot : build::schema().slots()) {
    out += "\n# " + std::string(slot.label) + "\n# [" + std::string(slot.key) + "]\n";
    for (const auto& info : slot.table->fields) {
      std::string note(info.label);
      if (!info.options.empty() && info.options.size() != 3)
        note += ": " + build::options_text(info);
      if (!info.measure.empty()) note += "; " + std::string(info.measure);
      out += wrapped(note, 2, "#   ")
                 .insert(0, "# " + std::string(info.key) + " = " + example_value(info) + "\n");
    }
  }
  // Wrapped lines are comments too.
  std::string commented;
  for (const auto line : split(out, '\n')) {
    commented += (line.rfind("  ", 0) == 0 ? "# " + std::string(line) : std::string(line)) + "\n";
  }
  commented.pop_back();
  return commented;
}

}  // namespace

const std::vector<std::string>& template_names() {
  static const std::vector<std::string> names{"dream", "two-parts", "full"};
  return names;
}

std::string new_sheet(const std::string& name) {
  if (name == "dream") return dream_text;
  if (name == "two-parts") return two_parts_text;
  if (name == "full") return full_text();
  return {};
}

}  // namespace ww::cli
