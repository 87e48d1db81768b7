// SPDX-License-Identifier: MIT
// The parts library: shelves of parts read from TOML, one `[[motor]]`-style table a part. The
// builder's own file has the same form and is laid over it. All makers and codes in the shipped
// library are invented. Invariants:
// 1. An id is unique on its shelf; a later file's part replaces an earlier one of the same id.
// 2. A part is the same struct as in a Build and is read through the same field table.
#pragma once

#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "build/fields.h"

namespace ww::build {

/// A file of bytes with its name: from the embedded data, or read by the command line.
struct NamedBytes {
  std::string_view name;
  std::string_view bytes;
};

struct LibraryPart {
  std::string id;
  const Slot* slot;            ///< the first slot that takes it (cable_main for a cable)
  std::shared_ptr<void> part;  ///< the slot's struct
};

class Library {
 public:
  /// Reads one file and lays it over what is there. All errors at once; parts without an error are
  /// kept.
  Errors add(NamedBytes file);
  /// Lays another library over what is there: files may be read apart and joined in their order.
  void add(Library other);

  /// Null where there is none.
  const LibraryPart* find(std::string_view shelf, std::string_view id) const;
  /// In order of the files.
  const std::vector<LibraryPart>& shelf(std::string_view name) const;
  std::vector<std::string_view> ids(std::string_view shelf) const;
  /// What to say where `find` gave null; `field` is the path that named the part.
  Error unknown_part(std::string_view shelf, std::string_view id, std::string field) const;
  int size() const;

 private:
  std::map<std::string, std::vector<LibraryPart>, std::less<>> shelves_;
};

/// Puts a library part into the build's slot (which must be of the part's shelf), with its id.
void put_part(Build& build, const Slot& slot, const LibraryPart& part);

}  // namespace ww::build
