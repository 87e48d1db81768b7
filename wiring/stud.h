// SPDX-License-Identifier: MIT
// Threaded studs as plain lengths.
#pragma once

#include <string_view>

#include "build/nouns.h"

namespace ww::wiring {

/// Thread diameter of a stud, m; NaN where it is welded or not known.
double stud_m(build::Stud stud);
/// "M8"
std::string_view word(build::Stud stud);

}  // namespace ww::wiring
