// SPDX-License-Identifier: MIT
// Builds whose circuits differ: the demos, and the commuter with its questions answered at random.
#pragma once

#include <random>
#include <string>
#include <vector>

#include "tests/support/world.h"

namespace ww::support {

inline const std::vector<std::string>& demos() {
  static const std::vector<std::string> names{"commuter", "beginner",  "trail",    "road",
                                              "dream",    "two-parts", "reference"};
  return names;
}

/// The commuter with every question and choice of wiring, loom and some parts drawn anew, known or
/// not.
inline build::Build answered_at_random(unsigned seed) {
  std::mt19937 random(seed);
  build::Build build = demo("commuter");
  const auto& schema = build::schema();
  for (build::Id id = 0; id < schema.size(); ++id) {
    const auto& entry = schema[id];
    const std::string slot(entry.slot->key);
    const bool of_circuit = slot == "wiring" || slot == "loom" || slot == "bms" ||
                            slot == "display" || slot == "controller" || slot == "dcdc" ||
                            slot == "charger" || slot == "pack" || slot == "limits";
    if (!of_circuit || entry.info->type != build::FieldType::choice) continue;
    build::set_number(build, id, static_cast<double>(random() % entry.info->options.size()));
  }
  for (const char* slot : {"bms", "display", "charger", "dcdc", "buffer", "contactor", "precharge",
                           "fuse", "disconnect", "cable_main", "cable_phase", "throttle"}) {
    if (random() % 4 == 0) build::schema().slot(slot)->remove(build);
  }
  return build;
}

}  // namespace ww::support
