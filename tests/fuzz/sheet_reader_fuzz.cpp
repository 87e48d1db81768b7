// SPDX-License-Identifier: MIT
// Any bytes as a sheet: no crash, no leak, finite figures, and what was read comes back from its
// canonical text.
#include <cmath>
#include <cstdint>
#include <cstdlib>

#include "build/sheet.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace ww::build;
  static const Library library;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const Sheet sheet = read_sheet({"fuzz.toml", text}, library);
  for (Id id = 0; id < schema().size(); ++id) {
    const Figure* figure = figure_at(sheet.build, id);
    if (figure != nullptr && figure->known() && !std::isfinite(figure->value)) std::abort();
  }
  if (!sheet.errors.empty()) return 0;
  const std::string written = write_sheet(sheet.build, library);
  const Sheet again = read_sheet({"again.toml", written}, library);
  if (!again.errors.empty() || write_sheet(again.build, library) != written) std::abort();
  return 0;
}
