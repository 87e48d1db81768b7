// SPDX-License-Identifier: MIT
#include "wiring/stud.h"

#include <array>
#include <limits>

namespace ww::wiring {

double stud_m(build::Stud stud) {
  switch (stud) {
    case build::Stud::m4:
      return 4e-3;
    case build::Stud::m5:
      return 5e-3;
    case build::Stud::m6:
      return 6e-3;
    case build::Stud::m8:
      return 8e-3;
    case build::Stud::m10:
      return 10e-3;
    case build::Stud::m12:
      return 12e-3;
    default:
      return std::numeric_limits<double>::quiet_NaN();
  }
}

std::string_view word(build::Stud stud) {
  constexpr std::array<std::string_view, 8> words{"not known", "welded", "M4",  "M5",
                                                  "M6",        "M8",     "M10", "M12"};
  return words[static_cast<std::size_t>(stud)];
}

}  // namespace ww::wiring
