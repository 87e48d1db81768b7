// SPDX-License-Identifier: MIT
// Which field of which part a number belongs to, by its unit and the words round it. Internal to
// this floor. Invariants:
// 1. Of the rows that hold, the one that asks for most words wins; two of the same weight and
// different fields make a question.
// 2. A row without a key says why the number is not used; a row with `ask` lists what it may be.
#pragma once

#include <string_view>
#include <vector>

#include "plan/paste.h"
#include "plan/paste_words.h"

namespace ww::plan::paste {

// In the order a row is read.
// NOLINTNEXTLINE(clang-analyzer-optin.performance.Padding)
struct Meaning {
  std::string_view shelf;  ///< empty: every part
  figure::Kind kind;
  Counted counted;
  std::string_view keys;  ///< "mass"; "voltage_min..voltage_max" of a range; "a,b" of a question
  Senses need = {}, any = {}, forbid = {};
  Sureness sure = Sureness::sure;
  std::string_view why = {};
};
const std::vector<Meaning>& meanings();

/// What a shelf is called and which words name it.
// NOLINTNEXTLINE(clang-analyzer-optin.performance.Padding)
struct PartWord {
  Sense sense;
  std::string_view shelf;
  std::string_view kind;
  int rank;  ///< of two in one title the higher is what is sold
};
const std::vector<PartWord>& part_words();

/// Words that stand in a listing of `shelf` without speaking of another part.
Senses neutral_parts(std::string_view shelf);

/// A choice, an answer or a set that words alone settle.
struct Saying {
  std::string_view shelf;
  std::string_view key;
  std::string_view option;
  std::string_view words;  ///< small letters, spellings parted by '|'
  Sureness sure = Sureness::sure;
};
const std::vector<Saying>& sayings();

/// How a doubtful field is asked for, so that the answer leaves no doubt.
struct SellerWording {
  std::string_view path;  ///< "motor.power_continuous"
  std::string_view text;
};
const std::vector<SellerWording>& seller_wordings();

inline constexpr Senses qualities = Sense::rated | Sense::continuous | Sense::peak | Sense::max |
                                    Sense::min | Sense::brief | Sense::no_load | Sense::absolute;

}  // namespace ww::plan::paste
