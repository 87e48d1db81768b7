// SPDX-License-Identifier: MIT
#include "ride/values.h"

#include <algorithm>
#include <cmath>

namespace ww::ride {

namespace {

using build::Entry;
using build::FieldType;
using build::schema;
using figure::Convention;
using figure::Figure;
using figure::Kind;

bool has_convention(Kind kind) {
  return kind == Kind::phase_current || kind == Kind::motor_constant ||
         kind == Kind::torque_constant;
}

/// Wishes, settings and the day one speaks of are chosen, not measured: they have no spread unless
/// one is stated.
bool chosen(const Entry& entry) {
  const std::string_view slot = entry.slot->key, key = entry.info->key;
  // Ratios of teeth are counted.
  if (key == "reduction" || key == "primary_ratio" || key == "gearbox_ratio" ||
      key == "shaft_ratio")
    return true;
  return slot == "wishes" || slot == "limits" ||
         (slot == "surroundings" && entry.info->key != "wind_mean");
}

SoftFigure given_figure(Id id, const Figure& stated) {
  const Entry& entry = schema()[id];
  const auto& info = *entry.info;
  const double half_width = std::isnan(stated.half_width) && chosen(entry) ? 0 : stated.half_width;
  figure::Spread spread =
      figure::spread_of(figure::Stated{stated.value, half_width, stated.evidence}, info.kind,
                        info.trait, info.low, info.high);
  const double factor = canonical_factor(info.kind, stated.convention);
  spread.median *= factor;
  spread.half_width *= factor;
  spread.low *= std::min(factor, 1.0);
  spread.high *= std::max(factor, 1.0);
  return {id, Source::given, spread,
          has_convention(info.kind) && stated.convention == Convention::unsaid};
}

SoftFigure assumed_figure(Id id, const build::Prior& prior) {
  const auto& info = *schema()[id].info;
  // A prior states its own spread and has no further bias.
  const figure::Stated stated{prior.value, prior.half_width, figure::Evidence::measured};
  return {id, Source::assumed,
          figure::spread_of(stated, info.kind, figure::Trait::plain, info.low, info.high), false};
}

}  // namespace

double canonical_factor(Kind kind, Convention convention) {
  const double root3 = std::sqrt(3.0);
  const double root2 = std::sqrt(2.0);
  switch (kind) {
    case Kind::phase_current:
      if (convention == Convention::dc) return 2 / root3;
      return convention == Convention::rms ? root2 : 1;
    case Kind::motor_constant:  // per volt of line-line peak; per rms volt it reads sqrt(2) higher
      return convention == Convention::rms ? 1 / root2 : 1;
    case Kind::torque_constant:  // per sine-peak amp
      if (convention == Convention::dc) return root3 / 2;
      return convention == Convention::rms ? 1 / root2 : 1;
    default:
      return 1;
  }
}

std::optional<SoftFigure> soft_figure(const Build& build, Id id) {
  if (schema()[id].info->type != FieldType::figure) return std::nullopt;
  const Figure* figure = build::figure_at(build, id);
  if (figure != nullptr && figure->known()) return given_figure(id, *figure);
  if (const auto prior = build::prior_of(build, id); prior.known())
    return assumed_figure(id, prior);
  return std::nullopt;
}

std::vector<SoftFigure> soft_figures(const Build& build) {
  std::vector<SoftFigure> out;
  const Id count = schema().size();
  out.reserve(static_cast<std::size_t>(count));
  for (Id id = 0; id < count; ++id) {
    if (const auto soft = soft_figure(build, id)) out.push_back(*soft);
  }
  return out;
}

void Reads::note(Id id, bool known) {
  used[static_cast<std::size_t>(id)] = 1;
  if (!known && std::find(missing.begin(), missing.end(), id) == missing.end())
    missing.push_back(id);
}

void set_nominal(NominalValues& values, const Build& build, Id id,
                 const std::optional<SoftFigure>& soft) {
  const auto i = static_cast<std::size_t>(id);
  const auto& info = *schema()[id].info;
  double& value = values.at[i];
  value = std::numeric_limits<double>::quiet_NaN();
  values.source[i] = Source::missing;
  if (soft) {
    // An unsaid phase convention is read as DC-equivalent, the commonest in listings; draws cover
    // the others.
    value = soft->spread.median *
            (soft->convention_unsaid ? canonical_factor(info.kind, Convention::dc) : 1);
    values.source[i] = soft->source;
  } else if (info.type != FieldType::figure && info.type != FieldType::text) {
    value = build::number_at(build, id);
    if (!std::isnan(value)) values.source[i] = Source::given;
  }
}

NominalValues nominal_values(const Build& build, const std::vector<SoftFigure>& soft_ones) {
  NominalValues values;
  const Id count = schema().size();
  values.at.resize(static_cast<std::size_t>(count));
  values.source.resize(static_cast<std::size_t>(count));
  auto soft = soft_ones.begin();
  for (Id id = 0; id < count; ++id) {
    const bool has = soft != soft_ones.end() && soft->id == id;
    set_nominal(values, build, id, has ? std::optional(*soft) : std::nullopt);
    if (has) ++soft;
  }
  return values;
}

double drawn_value(const SoftFigure& soft, double u, double u_convention) {
  return drawn_value(soft, figure::Quantiles(soft.spread), u, u_convention);
}

double drawn_value(const SoftFigure& soft, const figure::Quantiles& quantiles, double u,
                   double u_convention) {
  const double value = quantiles.at(u);
  if (!soft.convention_unsaid) return value;
  const Convention meant = u_convention <= 0.5   ? Convention::dc
                           : u_convention < 0.75 ? Convention::peak
                                                 : Convention::rms;
  return value * canonical_factor(schema()[soft.id].info->kind, meant);
}

}  // namespace ww::ride
