// SPDX-License-Identifier: MIT
// A bare number is no figure of the sheet: it has neither spread nor evidence.
// Message: (no match for .operator=|no viable overloaded '=')
#include "build/nouns.h"

void set(ww::build::Build& build) {
  build.rider.emplace();
#ifndef WRONG
  build.rider->mass.value = 82;
#else
  build.rider->mass = 82.0;
#endif
}
