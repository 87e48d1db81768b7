// SPDX-License-Identifier: MIT
#include "wiring/readings.h"

#include <algorithm>
#include <cmath>

namespace ww::wiring {

Readings::Readings(const build::Build& build)
    : build_(&build), values_(ride::nominal_values(build, ride::soft_figures(build))) {}

double Readings::ask(std::string_view path) const {
  return values_.at[static_cast<std::size_t>(build::id_of(path))];
}

double Readings::need(std::string_view path) {
  const build::Id id = build::id_of(path);
  const double value = values_.at[static_cast<std::size_t>(id)];
  if (std::isnan(value) && std::find(missing_.begin(), missing_.end(), id) == missing_.end())
    missing_.push_back(id);
  return value;
}

double Readings::or_else(std::string_view path, double otherwise) const {
  const double value = ask(path);
  return std::isnan(value) ? otherwise : value;
}

bool Readings::yes(std::string_view path) const {
  return is(path, build::Answer::yes);
}

bool Readings::no(std::string_view path) const {
  return is(path, build::Answer::no);
}

bool Readings::assumed(std::string_view path) const {
  return values_.source[static_cast<std::size_t>(build::id_of(path))] == ride::Source::assumed;
}

bool Readings::has(std::string_view slot) const {
  return build::slot_present(*build_, *build::schema().slot(slot));
}

}  // namespace ww::wiring
