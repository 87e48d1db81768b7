// SPDX-License-Identifier: MIT
#include "steps/numbers.h"

#include <algorithm>
#include <cmath>

namespace ww::steps {

Numbers::Numbers(const build::Build& build)
    : build_(&build),
      soft_(ride::soft_figures(build)),
      nominal_(ride::nominal_values(build, soft_)) {}

double Numbers::operator()(std::string_view path) const {
  const build::Id id = build::id_of(path);
  if (reads_ != nullptr && std::find(reads_->begin(), reads_->end(), id) == reads_->end())
    reads_->push_back(id);
  return nominal_.at[static_cast<std::size_t>(id)];
}

double Numbers::or_else(std::string_view path, double otherwise) const {
  return known(path) ? (*this)(path) : otherwise;
}

bool Numbers::known(std::string_view path) const {
  return !std::isnan(nominal_.at[static_cast<std::size_t>(build::id_of(path))]);
}

bool Numbers::yes(std::string_view path) const {
  return is(path, build::Answer::yes);
}

bool Numbers::no(std::string_view path) const {
  return is(path, build::Answer::no);
}

bool Numbers::has(std::string_view slot) const {
  return build::slot_present(*build_, *build::schema().slot(slot));
}

Numbers::Sum Numbers::sum(const std::function<double(const Numbers&)>& formula) const {
  std::vector<build::Id> reads;
  Numbers moved = *this;
  moved.reads_ = &reads;
  Sum out{formula(moved), 0, {}};
  moved.reads_ = nullptr;
  if (std::isnan(out.value)) {
    for (const build::Id id : reads) {
      if (std::isnan(nominal_.at[static_cast<std::size_t>(id)])) out.missing.push_back(id);
    }
    return out;
  }
  double squares = 0;
  for (const build::Id id : reads) {
    const auto soft = std::lower_bound(soft_.begin(), soft_.end(), id,
                                       [](const auto& s, build::Id at) { return s.id < at; });
    if (soft == soft_.end() || soft->id != id || !(soft->spread.half_width > 0)) continue;
    double& at = moved.nominal_.at[static_cast<std::size_t>(id)];
    const double middle = at;
    const double scale = middle / soft->spread.median;  // of an unsaid convention
    const double half_width =
        std::isfinite(scale) ? scale * soft->spread.half_width : soft->spread.half_width;
    at = middle + half_width;
    const double above = formula(moved);
    at = middle - half_width;
    const double below = formula(moved);
    at = middle;
    const double half = 0.5 * (above - below);
    if (std::isfinite(half)) squares += half * half;
  }
  out.half_width = std::sqrt(squares);
  return out;
}

}  // namespace ww::steps
