// SPDX-License-Identifier: MIT
// The numbers of a build as the circuit reads them: nominal, in SI, phase currents in sine-peak
// amps; an assumed one where nobody gave any.
// Invariant: what was assumed and what is missing is remembered, in the order it was asked for.
#pragma once

#include <string_view>
#include <vector>

#include "ride/values.h"

namespace ww::wiring {

class Readings {
 public:
  explicit Readings(const build::Build& build);

  const build::Build& build() const { return *build_; }

  /// The number of a field, assumed where it has a prior; NaN where it is not known, which is then
  /// among missing(). Choices give their index, sets their mask, counts themselves.
  double need(std::string_view path);
  /// The same, but a figure that is not known is not missed.
  double ask(std::string_view path) const;
  double or_else(std::string_view path, double otherwise) const;
  bool yes(std::string_view path) const;
  bool no(std::string_view path) const;
  template <class Enum>
  bool is(std::string_view path, Enum option) const {
    return ask(path) == static_cast<double>(option);
  }
  bool assumed(std::string_view path) const;
  bool has(std::string_view slot) const;

  const std::vector<build::Id>& missing() const { return missing_; }

 private:
  const build::Build* build_;
  ride::NominalValues values_;
  std::vector<build::Id> missing_;
};

}  // namespace ww::wiring
