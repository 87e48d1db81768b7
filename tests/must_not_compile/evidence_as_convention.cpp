// SPDX-License-Identifier: MIT
// A grade of evidence is no convention of amps.
// Message: (cannot|could not) (convert|initialize).*Convention
#include "figure/figure.h"

#ifndef WRONG
ww::figure::Convention amps = ww::figure::Convention::peak;
#else
ww::figure::Convention amps = ww::figure::Evidence::seller;
#endif
