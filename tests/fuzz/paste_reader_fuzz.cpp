// SPDX-License-Identifier: MIT
// Any bytes as a pasted listing: no crash, quotes inside the text, figures that their fields take,
// and a part that the parts reader takes.
#include <algorithm>
#include <array>
#include <cstdint>
#include <cstdlib>

#include "base/text.h"
#include "build/library.h"
#include "plan/paste.h"

namespace {

using namespace ww;

void require(bool holds) {
  if (!holds) std::abort();
}

void check_quotes(const std::vector<plan::Quote>& quotes, std::size_t size) {
  for (const auto& quote : quotes) {
    require(quote.begin <= quote.end && quote.end <= std::min(size, plan::paste_bytes_max));
    require(valid_utf8(quote.words) && quote.words.size() == quote.end - quote.begin);
  }
}

void check_part(const plan::Pasted& pasted) {
  const std::string id = plan::part_id(pasted);
  const std::string part = plan::part_toml(pasted, id);
  require(part.empty() == pasted.shelf.empty());
  if (part.empty()) return;
  build::Library library;
  require(library.add({"own.toml", part}).empty());
  require(library.find(pasted.shelf, id) != nullptr);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  constexpr std::array<const char*, 6> hints{"",     "motor",   "controller",
                                             "cell", "charger", "sprocket"};
  const std::string_view text(reinterpret_cast<const char*>(data + 1), size - 1);
  const plan::PasteHint hint{.kind = hints[data[0] % hints.size()], .today = "2026-05-01"};
  const plan::Pasted pasted = plan::read_paste(text, hint);
  for (const auto& figure : pasted.figures) {
    check_quotes(figure.from, text.size());
    build::Build scratch;
    if (figure.field >= 0)
      require(build::set_from_text(scratch, figure.field, figure.text).has_value());
  }
  for (const auto& question : pasted.questions) check_quotes(question.from, text.size());
  for (const auto& unused : pasted.unused) check_quotes({unused.from}, text.size());
  check_part(pasted);
  return 0;
}
