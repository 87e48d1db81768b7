// SPDX-License-Identifier: MIT
// A seller's listing, pasted as text, read as one part: what kind it is, each figure with the words
// it came from and how sure it is, what is left open, what to ask the seller, and the part as text
// of a parts file. Invariants:
// 1. Nothing doubtful is filled in: a number that can mean two things becomes a question.
// 2. Every number of the text comes out as a figure, a question, a conflict or unused, but for
// those inside links, dates, names of models and beyond `left_out`; none is dropped in silence.
// 3. Every text in `figures` and in a question's options is one that the field itself accepts
// (build::set_from_text), within the field's limits.
// 4. Quotes lie inside the paste; their words are its bytes, with '?' for bytes that are no UTF-8.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "build/fields.h"

namespace ww::plan {

/// More than this is not read (`Pasted::cut`).
inline constexpr std::size_t paste_bytes_max = std::size_t{64} * 1024;

/// `sure`: the words say so. `likely`: the usual meaning, or it follows from other figures.
/// `ask`: not filled in.
enum class Sureness : std::uint8_t { ask, likely, sure };
std::string_view word(Sureness sureness);  // "ask", "likely", "sure"

/// A piece of the paste. Bytes [begin, end) of what was handed in.
struct Quote {
  std::size_t begin = 0, end = 0;
  std::string words;  ///< always well-formed UTF-8
};

/// One figure, count, choice, set or text of the part.
struct PastedFigure {
  std::string key;       ///< of the field table, within its part: "power_peak"
  build::Id field = -1;  ///< that field in the first slot that takes the part ("motor.power_peak")
  std::string text;      ///< as build::set_from_text takes it: "8 kW", "20", "hall", "400 A peak"
  Sureness sure = Sureness::likely;
  std::vector<Quote> from;  ///< the value's own words first, then the words that named it
  std::string why;          ///< one sentence
  /// Seller, unless a correction says else.
  figure::Evidence evidence = figure::Evidence::seller;
};

/// What a number that is not filled in may mean; one tap takes an option.
struct PasteOption {
  std::string key, text;
  std::string meaning;  ///< "peak power"
};
/// A number that was seen and is not filled in because it is not clear.
struct PasteQuestion {
  std::vector<Quote> from;
  std::string text;                  ///< what is asked of the builder, one sentence
  std::vector<PasteOption> options;  ///< may be empty
};

/// Two or more values for one field, none of them filled in.
struct PasteConflict {
  std::string key;
  build::Id field = -1;
  std::vector<PastedFigure> values;
};

/// A usual mix-up that the text leaves open or that its figures show; a sentence for the builder.
struct PasteFlag {
  std::string code;  ///< stable slug: "peak-without-seconds"
  std::string text;
  std::vector<std::string> keys;  ///< fields it touches; may be empty
};

/// A number that no field wants, with the reason.
struct PasteUnused {
  Quote from;
  std::string why;
};

/// What may be known beforehand.
struct PasteHint {
  /// A shelf of the library ("motor", "sprocket"); also "module" or "pack" for a cell. Empty: read
  /// it from the text. Any other word counts as empty.
  std::string kind = {};
  /// The day of pasting, ISO 8601; the figures' date where the text has none. May be empty.
  std::string today = {};
};

/// What was read.
struct Pasted {
  std::string shelf;  ///< of the parts library; empty where the kind is not clear
  std::string kind;   ///< in words: "motor", "cell", "module", "pack", "sprocket", ...
  Sureness kind_sure = Sureness::ask;
  std::vector<Quote> kind_from;             ///< the words that decided
  std::vector<std::string> kinds_possible;  ///< shelves, the likeliest first; also where it is ask

  std::string name;        ///< the title, at most 120 bytes
  std::string model_code;  ///< may be empty
  std::string link;        ///< https:// or http:// only; kept as text, never fetched
  std::string currency;    ///< ISO 4217 code, or "$"; empty where no price was read
  std::string date;        ///< ISO 8601 day of the listing, else hint.today, else empty

  std::vector<PastedFigure> figures;  ///< filled in; in the order of the field table
  std::vector<PasteQuestion> questions;
  std::vector<PasteConflict> conflicts;
  std::vector<PasteFlag> flags;
  std::vector<PasteUnused> unused;
  bool cut = false;  ///< the text was longer than paste_bytes_max
  int left_out = 0;  ///< numbers beyond the first 400, not looked at
};

/// Reads a listing. Never throws; any bytes give a result. Where the kind is not clear only name,
/// link, date and price are read and every other number is a question.
/// Checked by: tests/plan/paste_test.cpp, tests/listings, tests/fuzz/paste_reader_fuzz.cpp.
Pasted read_paste(std::string_view bytes, const PasteHint& hint = {});

/// A figure that the builder puts right. An empty text takes it out.
struct Correction {
  std::string key;
  std::string text;
  figure::Evidence evidence = figure::Evidence::seller;
};

/// The paste with corrections: each replaces the field's figure, settles its conflict and the
/// questions that offered it. Errors: those of build::set_from_text, "unknown-field"; all at once,
/// and what was right is applied.
struct Corrected {
  Pasted pasted;
  Errors errors;
};
Corrected apply(const Pasted& pasted, const std::vector<Correction>& corrections);

/// One question to the seller.
struct SellerQuestion {
  std::string key;  ///< the field it decides
  std::string text;
};
/// What the rules need and the paste lacks or leaves doubtful, most deciding first, at most eight.
std::vector<SellerQuestion> seller_questions(const Pasted& pasted);
/// The whole message: greeting, the numbered questions, thanks. Empty where nothing is open.
std::string seller_message(const Pasted& pasted);

/// The part as text of a parts file (docs/formats.md), one `[[shelf]]` with this id; what is not
/// filled in is not in it. Read by build::Library::add without error. Empty where the kind is not
/// clear.
std::string part_toml(const Pasted& pasted, std::string_view id);
/// An id made from name or model code: small letters, digits and hyphens; "pasted-motor" where
/// nothing is left.
std::string part_id(const Pasted& pasted);

}  // namespace ww::plan
