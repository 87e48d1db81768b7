// SPDX-License-Identifier: MIT
// A step of the work: what to do, what must be read and between which bounds, what was read, and
// what follows from that.
// Invariants:
// 1. `within` is said only of a reading whose whole stated spread lies in the band, of a step all
//    of whose needs are within. Nothing else counts as passed.
// 2. A step that rests on a figure nobody gave is `unjudged`, whatever was read, and names it.
// 3. A step's id does not depend on other steps: it is what the log of the sheet keeps.
#pragma once

#include <cstdint>
#include <limits>
#include <string>
#include <string_view>
#include <vector>

#include "build/fields.h"

namespace ww::steps {

enum class Stage : std::uint8_t { pack, wires, power, ride };
std::string_view word(Stage stage);
std::string_view title_of(Stage stage);

enum class Verdict : std::uint8_t {
  open,        ///< nothing read yet; may be done now
  waiting,     ///< nothing read yet; others come first
  stopped,     ///< a step before it did not pass: not to be done, and a reading does not count
  within,      ///< passed
  doubtful,    ///< the reading's own spread reaches beyond the band
  outside,     ///< beyond the band, or answered with no
  unreadable,  ///< what stands there is no reading of this kind
  unjudged     ///< a figure is missing without which there is no band
};
std::string_view word(Verdict verdict);
/// Whether it stops what depends on it until it is read anew.
bool stops(Verdict verdict);

/// What a step must read.
struct Expect {
  double value = std::numeric_limits<double>::quiet_NaN();  ///< SI; NaN: only bounds
  double low = -std::numeric_limits<double>::infinity();
  double high = std::numeric_limits<double>::infinity();
  std::string sum;     ///< the value, to be redone on a pocket calculator
  std::string bounds;  ///< where the band comes from
  std::vector<build::Id> missing;
};

/// What to look at when a reading differs, in the order of looking.
struct Branch {
  enum class When : std::uint8_t { any, low, high } when;
  std::string look, means;
};

/// One reading of the log, as understood.
struct Reading {
  std::string text, instrument, date, photo, note;
  double value = std::numeric_limits<double>::quiet_NaN();
  double half_width = 0;
  std::string refused = {};  ///< why it is no reading; empty where it is one
};

struct Step {
  std::string id;
  Stage stage;
  std::string title, doing, tool, caution;
  bool tick = false;        ///< to be answered with yes or no
  bool from_sheet = false;  ///< worked out from entries of the sheet; nothing to log
  figure::Kind kind = figure::Kind::ratio;
  Expect expect;
  std::vector<std::string> needs;
  std::vector<Branch> tree;
  std::string live;    ///< what is live while it is done
  std::string learns;  ///< path of the figure it measures; empty: none

  std::vector<Reading> readings;  ///< oldest first; the last counts
  Verdict verdict = Verdict::open;
  /// What the last reading would be if all needs were within; open without one. A reading that is
  /// stopped may be a warning all the same.
  Verdict alone = Verdict::open;
  std::vector<std::string> held_by;  ///< the steps that stop it or come first

  const Reading* reading() const { return readings.empty() ? nullptr : &readings.back(); }
};

/// A step as text: what must be read ("98.6 V, 98.1 V to 99.1 V"), and what to look at after it
/// differed.
std::string band_text(const Step& step, figure::System units = figure::System::metric);
std::vector<const Branch*> branches_after(const Step& step);
/// What is to be said of how a step stands, in one sentence; empty where it is simply open.
std::string standing_text(const Step& step);
/// The paths without which there is no band.
std::string missing_text(const Step& step);
/// "98.6 V, 2026-11-14, with multimeter".
std::string reading_text(const Reading& reading);

}  // namespace ww::steps
