// SPDX-License-Identifier: MIT
// What may fail may not be ignored.
// Message: (ignoring return.* of|ignoring returned value of type).*(nodiscard|read)
#include "figure/figure.h"

void take() {
#ifndef WRONG
  const auto reading = ww::figure::read("72 V", ww::figure::Kind::voltage);
  if (!reading) return;
#else
  ww::figure::read("72 V", ww::figure::Kind::voltage);
#endif
}
