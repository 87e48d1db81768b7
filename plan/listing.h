// SPDX-License-Identifier: MIT
// A thin listing read as a motor: what it says, what had to be assumed, and how sure each constant
// is.
#pragma once

#include <string>
#include <vector>

#include "build/nouns.h"
#include "model/identify.h"

namespace ww::plan {

/// The motor's figures as a listing; conventions it does not say stay open.
model::MotorListing listing_of(const build::Motor& motor);

/// Whether a PM motor lacks a constant that the ride wants and a listing can be read for.
bool thin_listing(const build::Motor& motor);

/// The motor with the constants that the likeliest reading gives where the listing has none, each
/// with the spread of that reading; what had to be assumed goes to `assumed`, in words.
build::Motor read_listing(const build::Motor& motor, std::vector<std::string>& assumed);

/// All readings of a listing in words, the likeliest first, for `explain`.
std::string listing_text(const build::Motor& motor, figure::System units);

}  // namespace ww::plan
