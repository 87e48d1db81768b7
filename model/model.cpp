// SPDX-License-Identifier: MIT
// The model floor: every kernel is a header template; this file only gives the library a
// translation unit.
#include "base/num.h"
