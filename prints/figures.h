// SPDX-License-Identifier: MIT
// What several of the printed lists need to know of a wire. Private to prints/.
#pragma once

#include "prints/prints.h"

namespace ww::prints {

/// Over the insulation, m: as the cable on the list says, else strands that fill 0.6 of their
/// circle and the insulation that wiring/ reckons with (0.4 mm thin, 1.6 mm battery cable: common
/// practice, no source). NaN where the section is not known.
double outer_diameter_m(const Subject& subject, const wiring::Wire& wire, double section_m2);

/// What to cut: the way, a twentieth more and 50 mm for the two ends, up to the next centimetre.
/// Common practice, no source.
double cut_length_m(double length_m);

/// The shrink sleeve for a wire's end: bore before and after, mm; thin tube of three to one as sold
/// (common practice, no source). Zero where none fits.
struct ShrinkTube {
  double before_mm, after_mm;
};
ShrinkTube shrink_tube(double section_m2, double outer_m);

const wiring::SizedWire& sized(const Subject& subject, std::size_t wire);

}  // namespace ww::prints
