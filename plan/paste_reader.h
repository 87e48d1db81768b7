// SPDX-License-Identifier: MIT
// The working state of one reading: what each number turned out to be. Internal to this floor.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "plan/paste_context.h"

namespace ww::plan::paste {

/// What a number was taken for, before all of them are held against each other.
struct Found {
  std::string key;
  std::string text;
  Sureness sure = Sureness::sure;
  std::string why;
  std::vector<Quote> from;
  int quantity = -1;
  bool title = false;  ///< from the title, not from a labelled line
};

struct Asked {
  std::vector<PasteOption> options;
  std::string text;
  std::vector<Quote> from;
  int quantity = -1;
};

struct Draft {
  std::string_view bytes;
  PasteHint hint;
  Plain plain;
  Scan scanned;
  std::vector<Hit> hits;
  Contexts context;
  const build::Slot* slot = nullptr;
  int title_line = -1;
  std::size_t title_begin = 0, title_end = 0;  ///< the sentence that names what is sold
  int capacity_rate = -1;  ///< a number that says at which rate the capacity holds
  std::optional<double> series;
  std::vector<Found> found;
  std::vector<Asked> asked;
  Pasted out;

  const Quantity& q(int i) const { return scanned.quantities[static_cast<std::size_t>(i)]; }
  const Context& c(int i) const { return context.of[static_cast<std::size_t>(i)]; }
  Quote quote(std::size_t begin, std::size_t end) const {
    return quote_of(plain, bytes, begin, end);
  }
  std::vector<Quote> quotes(int i) const;
  build::Id id(std::string_view key) const;  ///< -1 where the part has no such field
  std::string_view label(std::string_view key) const;
  /// The first of what was found for a key; null where nothing was.
  Found* first(std::string_view key);
  /// Its value in SI; NaN where it is not known.
  double value(std::string_view key);
  void flag(std::string code, std::string text, std::vector<std::string> keys = {});
  void unused(int i, std::string why);
  void ask(int i, std::string text, std::vector<PasteOption> options);
  /// Takes a key's findings out and asks for them instead.
  void doubt(std::string_view key, const std::string& text);
};

/// The shelf of a kind of part, in the draft's slot.
void decide_kind(Draft& draft);
/// What words alone say: sensor, chemistry, cooling ...
void read_sayings(Draft& draft);
/// Holds the figures against each other: decides, doubts, and says what is mixed up so often.
void check_figures(Draft& draft);

/// Whether the field takes the text, within its limits.
bool accepted(build::Id id, std::string_view text);
/// The value of an accepted text in SI (or as a count); NaN otherwise.
double value_of(build::Id id, std::string_view text);
double number_of(std::string_view text);

}  // namespace ww::plan::paste
