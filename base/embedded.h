// SPDX-License-Identifier: MIT
// Files carried inside the program, as cmake's ww_embed lays them out.
#pragma once

#include <string_view>

namespace ww {

struct EmbeddedFile {
  const char* name;  ///< path from the repository's root
  const char* begin;
  const char* end;
  std::string_view bytes() const {
    return {begin, static_cast<std::string_view::size_type>(end - begin)};
  }
};

}  // namespace ww
