// SPDX-License-Identifier: MIT
// A change as a person makes it on the page, made on a copy of the build. Invariants:
// 1. All changes are made or none; every problem comes back at once, each with its field.
// 2. Evidence follows how a figure came in: said with the change, else a typed figure is a guess;
// the same figure typed again keeps what it had.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "build/library.h"
#include "serve/api.h"

namespace ww::serve {

/// Where a builder's own part lies: its shelf and its id there.
struct OwnPlace {
  std::string shelf, slug;
};

struct EditContext {
  const build::Library* library;  ///< shipped parts with the builder's own laid over them
  std::function<std::optional<OwnPlace>(std::int64_t id)> own_part;
  std::string today;  ///< ISO 8601 day, stands beside evidence that was stated
};

/// The build after the changes, and what is wrong with them.
struct Edited {
  build::Build build;
  std::string text;  ///< its canonical sheet
  Errors errors;     ///< not empty: use neither
};
Edited edited(const build::Build& build, const std::vector<api::EditChange>& changes,
              const EditContext& context);

/// "donor.wheelbase" -> "wheelbase", "motor" -> "motor"; the path itself where nothing is known.
std::string label_of(std::string_view path);

/// As it stands on the wire.
api::Problem problem_of(const Error& error);
std::vector<api::Problem> problems_of(const Errors& errors);

}  // namespace ww::serve
