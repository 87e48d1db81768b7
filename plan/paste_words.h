// SPDX-License-Identifier: MIT
// The words sellers use, in seven languages and Chinese, each with what it means; and the units as
// they spell them. The one place where such a word is declared. Internal to this floor.
// Invariants:
// 1. Spellings are as paste_text leaves them: small letters, no accents; Chinese as it is.
// 2. The longest spelling at a place wins; a spelling stands once.
#pragma once

#include <array>
#include <cstdint>
#include <string_view>
#include <vector>

#include "figure/units.h"

namespace ww::plan::paste {

/// What a word can mean.
enum class Sense : std::uint8_t {
  none,
  // how much
  rated,
  continuous,
  peak,
  max,
  min,
  brief,  ///< pulse, burst, instant
  no_load,
  absolute,
  // of what
  power,
  voltage,
  current,
  speed,
  torque,
  efficiency,
  mass,
  length,
  width,
  height,
  thickness,
  diameter,
  size,
  capacity,
  energy,
  resistance,
  inductance,
  capacitance,
  frequency,
  temperature,
  time,
  speed_constant,
  torque_constant,
  pole_pairs,
  poles,
  price,
  freight,
  cycles,
  health,
  // where
  at_battery,  ///< battery, bus, DC side
  at_phase,
  line_line,
  per_phase,
  charging,
  discharging,
  input,
  output,
  coil,
  contacts,
  balance,
  trip,
  at_rest,
  low_cut,
  high_cut,
  cut_off,
  full,
  rms,
  amplitude,
  dc,
  ac,
  withstand,
  operating,
  supply,
  signal,
  storage,
  winding,
  breaking,
  carrying,
  usable,
  short_circuit,
  // shape
  shaft,
  key,
  with_shaft,
  without_shaft,
  bolt_circle,
  pilot,
  bolts,
  dropout,
  bore,
  teeth,
  pitch,
  links,
  tensile,
  section,
  outer,
  hole,
  bar,
  gross,
  net,
  radius,
  // what the listing is about
  motor,
  controller,
  charger,
  battery,
  module,
  cell,
  bms,
  dcdc,
  contactor,
  fuse,
  chain,
  sprocket,
  throttle,
  display,
  cable,
  lug,
  disconnect,
  tyre,
  belt,
  kit,
  // the rest
  complement,  ///< for, with: what follows is not what is sold
  per,         ///< per metre, each
  choice,      ///< optional, choose
  warranty,
  delivery,
  returns,
  negation,
  quantity,  ///< pieces, lot
  free,      ///< of charge
  flats,
  vehicle,  ///< speed or wheel of the bike
  brand,
  model,
  count_
};

/// A set of senses.
class Senses {
 public:
  constexpr Senses() = default;
  constexpr Senses(Sense s) { add(s); }  // NOLINT(google-explicit-constructor)
  constexpr void add(Sense s) {
    const auto i = static_cast<unsigned>(s);
    if (i < 64U) {
      low_ |= std::uint64_t{1} << i;
    } else {
      high_ |= std::uint64_t{1} << (i - 64U);
    }
  }
  constexpr bool has(Sense s) const { return holds_any(Senses(s)); }
  constexpr bool holds_any(Senses o) const { return ((low_ & o.low_) | (high_ & o.high_)) != 0; }
  constexpr bool holds_all(Senses o) const {
    return (low_ & o.low_) == o.low_ && (high_ & o.high_) == o.high_;
  }
  constexpr bool empty() const { return (low_ | high_) == 0; }
  friend constexpr Senses operator|(Senses a, Senses b) {
    a.low_ |= b.low_;
    a.high_ |= b.high_;
    return a;
  }
  constexpr Senses operator&(Senses o) const {
    Senses out = *this;
    out.low_ &= o.low_;
    out.high_ &= o.high_;
    return out;
  }
  constexpr Senses without(Senses o) const {
    Senses out = *this;
    out.low_ &= ~o.low_;
    out.high_ &= ~o.high_;
    return out;
  }
  int size() const;

 private:
  std::uint64_t low_ = 0, high_ = 0;
};
static_assert(static_cast<unsigned>(Sense::count_) <= 128U);
constexpr Senses operator|(Sense a, Sense b) {
  return Senses(a) | Senses(b);
}

struct Word {
  std::string_view spelling;
  Senses means;
};
const std::vector<Word>& words();
/// The longest word that starts at `at` of the small-letter text and ends where a word may end;
/// null where there is none.
const Word* word_at(std::string_view low, std::size_t at);

/// What stands behind a number, beyond the kinds of the figure room.
enum class Counted : std::uint8_t {
  no,
  series,
  parallel,
  series_or_seconds,
  c_rate_or_celsius,
  teeth,
  links,
  poles,
  pole_pairs,
  bolts,
  cycles,
  kv,  ///< rpm/V or kilovolt
  pieces,
  gauge,
  other  ///< a unit that no field is measured in
};

struct Measure {
  std::string_view spelling;  ///< as sellers write it, small letters
  std::string_view unit;      ///< as the figure room writes it
  figure::Kind kind;
  Counted counted = Counted::no;
};
/// The longest unit that starts at `at`; `text` keeps the case, which tells milli from mega.
const Measure* measure_at(std::string_view text, std::string_view low, std::size_t at,
                          bool touches);

/// A currency that starts at `at`: its ISO code ("$" for an unsaid dollar) and length.
struct CurrencyWord {
  std::string_view spelling;
  std::string_view code;
};
const CurrencyWord* currency_at(std::string_view low, std::size_t at);

}  // namespace ww::plan::paste
