// SPDX-License-Identifier: MIT
// A Build flattened: one number per figure, in field-table order, so that the same templates serve
// the nominal build, a SIMD batch (a lane is a draw) and derivatives with respect to the figures.
// Invariants:
// 1. What is known is the same for every lane; only values differ.
// 2. Phase currents are in sine-peak amps and motor constants per volt of line-line peak (the
// DC-equivalent
//    convention) whatever convention the figure was stated in; an unsaid convention is a draw
//    between the three.
// 3. A missing figure is NaN; reading it through need() records its path.
#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <vector>

#include "build/fields.h"

namespace ww::ride {

using build::Build;
using build::Id;

/// Where a value came from.
enum class Source : std::uint8_t { missing, given, assumed };

/// Which figures a model read, so that the answer can say what it rests on.
struct Reads {
  std::vector<std::uint8_t> used;  ///< by id
  std::vector<Id> missing;         ///< needed and not there

  void note(Id id, bool known);
};

/// A view of one number per field, by id. The owner is elsewhere, so that a batch needs no
/// container of its own.
template <class R>
struct Values {
  const R* at;
  const Source* source;
  Reads* reads;  ///< recorded where not null

  bool known(Id id) const { return source[id] != Source::missing; }
  bool given(Id id) const { return source[id] == Source::given; }

  /// The figure; NaN where it is missing, which is then recorded as needed.
  R need(Id id) const {
    if (reads != nullptr) reads->note(id, known(id));
    return at[id];
  }
  /// The figure, or `otherwise` where it is missing.
  R or_else(Id id, R otherwise) const { return known(id) ? need(id) : otherwise; }
};

/// The nominal build's numbers, owned.
struct NominalValues {
  std::vector<double> at;
  std::vector<Source> source;
  Values<double> view(Reads* reads = nullptr) const { return {at.data(), source.data(), reads}; }
};

/// One soft figure of a build: its id and the distribution it stands for.
struct SoftFigure {
  Id id;
  Source source;
  figure::Spread spread;
  bool convention_unsaid;
};

/// Every figure of the build that has a value, given or assumed, with its spread. In id order.
std::vector<SoftFigure> soft_figures(const Build& build);
/// The one of a field, where it has any.
std::optional<SoftFigure> soft_figure(const Build& build, Id id);

/// The values at the middle of every spread. (A biased figure, such as a seller's peak power, is
/// corrected.)
NominalValues nominal_values(const Build& build, const std::vector<SoftFigure>& soft);
/// One field's value anew; `soft` where it has a spread.
void set_nominal(NominalValues& values, const Build& build, Id id,
                 const std::optional<SoftFigure>& soft);

/// The value of a figure at probability u; an unsaid convention is drawn with the other one: half
/// of such listings mean dc, a quarter each peak and rms (common practice, no source).
double drawn_value(const SoftFigure& soft, double u, double u_convention);
/// The same with the quantiles of its spread at hand.
double drawn_value(const SoftFigure& soft, const figure::Quantiles& quantiles, double u,
                   double u_convention);

/// What a value stated in `convention` is multiplied by to get the canonical one (invariant 2). 1
/// for other kinds. Six-step DC amps to sine peak: 2/sqrt(3); rms to peak: sqrt(2).
double canonical_factor(figure::Kind kind, figure::Convention convention);

}  // namespace ww::ride
