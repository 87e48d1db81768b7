// SPDX-License-Identifier: MIT
// A paste as plain text and the numbers in it, before anything is known of parts. Internal to this
// floor. Invariants:
// 1. `text` and `low` have the same length; both are well-formed UTF-8 with signs, accents, wide
// digits and markup brought to plain letters.
// 2. Every byte knows the bytes of the paste that it came from.
// 3. Quantities stand in order and do not overlap.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "plan/paste.h"
#include "plan/paste_words.h"

namespace ww::plan::paste {

struct Plain {
  std::string text, low;
  std::vector<std::uint32_t> from, to;  ///< per byte of `text`: begin and end in the paste
};
Plain plain_text(std::string_view bytes);

/// The piece of the paste behind [begin, end) of the plain text.
Quote quote_of(const Plain& plain, std::string_view bytes, std::size_t begin, std::size_t end);

/// A number as it may be read; `other` where a mark may part thousands or decimals.
struct Amount {
  std::string value;  ///< digits with a point, a fraction, or a mixed number
  std::string other = {};
};

/// One side of "230 x 150 x 60".
struct Side {
  Amount amount;
  char letter = ' ';  ///< l, w, h, d, t where the text says so
};

enum class Special : std::uint8_t { none, ingress, stud, code };

struct Quantity {
  std::size_t begin = 0, end = 0;
  Amount low, high;  ///< `high` of a range only
  bool range = false;
  std::vector<Side> sides = {};  ///< two or three, else empty
  std::string tolerance = {};    ///< after "+-", with its own unit or without
  const Measure* measure = nullptr;
  std::string currency = {};
  bool touches = false;  ///< the unit stands against the number
  bool about = false, at_most = false, at_least = false;
  Special special = Special::none;
  Senses suffix = {};  ///< rms, amplitude, dc, ac from the unit's own spelling
  bool grouped_by_blank = false;
};

struct Masked {
  std::size_t begin, end;
};

struct Scan {
  std::vector<Quantity> quantities;
  std::vector<std::string> links;
  std::vector<Masked> masked;  ///< links and dates
  std::string date;
  int left_out = 0;
};
Scan scan(const Plain& plain);

struct Hit {
  std::size_t begin, end;
  Senses means;
};
/// The known words outside numbers, links and dates.
std::vector<Hit> find_words(const Plain& plain, const Scan& scan);

}  // namespace ww::plan::paste
