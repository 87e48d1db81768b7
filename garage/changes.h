// SPDX-License-Identifier: MIT
// What differs between two sheets, field by field, as the sheets themselves say it: they are read
// without a parts library, so a part's own figures are no change.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace ww::garage {

/// One field that differs. Path as in the sheet: "donor.wheelbase"; "owns"; "extra 2". A table that
/// comes or goes and says nothing else is a path of its own: "motor".
struct Change {
  std::string path;
  std::string from, to;  ///< as the sheet has it; empty: not there
};
using Changes = std::vector<Change>;
inline bool operator==(const Change& a, const Change& b) {
  return a.path == b.path && a.from == b.from && a.to == b.to;
}

/// In order of the field table. A text that cannot be read counts as an empty sheet. Where only
/// evidence, note or date differ both sides say theirs: "17 kg (seller)".
Changes changes_between(std::string_view from, std::string_view to);

/// An error "not-a-sheet" where the text cannot be read as a sheet at all (no TOML, no version,
/// too large). Single fields that cannot be read are the caller's business.
Result<void> check_sheet(std::string_view text);

/// Whether an edit of one path could disturb an edit of the other: the same field; a table and its
/// field; a part and a figure that overrides it.
bool touch(std::string_view path, std::string_view other);

/// The paths of `mine` that `theirs` touches. A field that both set to the same is none.
std::vector<std::string> touched_by_both(const Changes& mine, const Changes& theirs);

/// One text for the file, and back. unpack(pack(c)) == c.
std::string pack(const Changes& changes);
Changes unpack(std::string_view text);

}  // namespace ww::garage
