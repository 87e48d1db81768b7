// SPDX-License-Identifier: MIT
// Sheet text <-> Build. The form is written down in docs/formats.md; this file and the library's
// reader are the only ones that know TOML.
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "build/library.h"
#include "build/nouns.h"

namespace ww::build {

inline constexpr int sheet_version = 1;
inline constexpr std::size_t sheet_bytes_max = 1 << 20;

struct Sheet {
  Build build;
  Errors errors;    ///< what could not be read; the rest was
  Errors warnings;  ///< read, but worth a word
};

/// Reads a sheet. Never throws; a text that is no TOML gives one error, else every field's error is
/// listed at once with file, line, column, field, what was found, what is expected, and the nearest
/// known key.
Sheet read_sheet(NamedBytes file, const Library& library);

/// The canonical text: fixed order, everything that is known, library parts by id with what differs
/// from them. read_sheet(write_sheet(b)) == b field by field, and writing again gives the same
/// bytes.
std::string write_sheet(const Build& build, const Library& library);

}  // namespace ww::build
