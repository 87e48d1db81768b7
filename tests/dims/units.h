// SPDX-License-Identifier: MIT
// One of each, for the snippets of tests/must_not_compile.
#pragma once

#include "tests/dims/dim_number.h"

namespace ww {

constexpr Dim newton = with_unit(1, unit_N);
constexpr Dim newton_metre = with_unit(1, unit_Nm);
constexpr Dim kilogram = with_unit(1, unit_kg);
constexpr Dim metre = with_unit(1, unit_m);
constexpr Dim second = with_unit(1, unit_s);
constexpr Dim metre_per_second = with_unit(1, unit_mps);
constexpr Dim watt = with_unit(1, unit_W);
constexpr Dim joule = with_unit(1, unit_J);
constexpr Dim volt = with_unit(1, unit_V);
constexpr Dim ampere = with_unit(1, unit_A);
constexpr Dim ohm = with_unit(1, unit_ohm);

}  // namespace ww
