// SPDX-License-Identifier: MIT
#include "base/check.h"

#include <cstdio>
#include <cstdlib>

namespace ww {

void assertion_failed(const char* expression, const char* file, int line) {
  std::fprintf(stderr, "%s:%d: a mistake of ours: %s does not hold\n", file, line, expression);
  std::abort();
}

}  // namespace ww
