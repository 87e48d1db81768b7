// SPDX-License-Identifier: MIT
// The electrical drawings of a build, on pages to be printed: made from the net list and its sizes,
// nothing typed by hand. Invariants:
// 1. A page is of an ISO A size, in millimetres of the paper, black and grey only. Letters are at
//    least 3.5 mm high as printers count (capitals 2.5 mm).
// 2. Every page says what it is, of which build, of which net list (a digest of it), of which day,
//    at which scale, and which caution belongs to it. The day is the caller's.
// 3. What is assumed is dashed, what is lacking is marked with that word.
// 4. The same build gives the same bytes.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "draw/drawing.h"
#include "wiring/sizing.h"

namespace ww::prints {

/// The circuit of a build with its sizes. A part that is not on the builder's own sheet, but was
/// put in so that there is something to ride, counts as assumed.
struct Electrics {
  wiring::Circuit circuit;
  wiring::Sizing sizing;
};
/// Valid: the ride of the same build; `own` may be null: the build is the builder's own.
Electrics electrics(const build::Build& build, const build::Build* own, const ride::Ride& ride);

/// What the drawings are made from. The pointers outlive the call.
struct Subject {
  const build::Build* build;
  const wiring::Circuit* circuit;
  const wiring::Sizing* sizing;
  const ride::Ride* ride;  ///< of the same build
  std::string name = {};   ///< of the build; empty: the sheet's own
  std::string date = {};   ///< as it shall stand in the title block
  figure::System units = figure::System::metric;
  double charge = 0.5;  ///< state of charge at which the taps are measured, 0 to 1
};

struct Print {
  std::string key, title;
  std::vector<draw::Drawing> pages;
  std::string csv;  ///< the same content as a table
};

/// The traction loop with its ratings on one line.
Print one_line(const Subject& subject);
/// Every wire and device of the net list, over several pages, and what is lacking.
Print schematic(const Subject& subject);
/// Every interlock opened in turn, and what that does: by what the net list still reaches.
Print truth_table(const Subject& subject);
/// The loom as a tree of places, each branch with its wires and its thickness.
Print loom(const Subject& subject);
/// Every sense tap with the volts to expect.
Print tap_map(const Subject& subject);
/// Every wire to cut, thickest first.
Print cut_list(const Subject& subject);
/// Labels of wires and devices, and warnings, at true size.
Print labels(const Subject& subject);

/// Every number that is typed in, in the order in which they must act, with room for what was
/// there.
Print settings_sheet(const Subject& subject);
/// The steps of the pack, of first power and of the first rides, with room for what is read.
Print pack_steps(const Subject& subject);
Print power_steps(const Subject& subject);
Print ride_steps(const Subject& subject);

struct Entry {
  std::string_view key, label;
  Print (*make)(const Subject&);
};
const std::vector<Entry>& print_list();
const Entry* find_print(std::string_view key);

/// One page as a file of its own. Valid: page < pages.size().
std::string svg_of(const Print& print, std::size_t page);
/// All pages.
std::string pdf_of(const Print& print, const std::string& date);

/// Twelve digits that differ where the net list or a size does.
std::string digest_of(const wiring::Circuit& circuit, const wiring::Sizing& sizing);

}  // namespace ww::prints
