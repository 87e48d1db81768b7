// SPDX-License-Identifier: MIT
#include "prints/taps.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "model/ocv.h"
#include "model/ocv_tables.h"
#include "prints/paper.h"
#include "wiring/readings.h"

namespace ww::prints {

using draw::Anchor;

namespace {

int cells_of(const Subject& subject) {
  const wiring::Readings sheet(*subject.build);
  const double cells =
      sheet.ask("pack.series") * std::max(1.0, sheet.or_else("cell.series_inside", 1));
  return cells >= 1 && cells <= 400 ? static_cast<int>(cells) : 0;
}

struct CellVolts {
  double empty, low, likely, high, full;
};

CellVolts cell_volts(const Subject& subject) {
  const wiring::Readings sheet(*subject.build);
  const double inside = std::max(1.0, sheet.or_else("cell.series_inside", 1));
  const double full = sheet.ask("cell.voltage_max") / inside;
  const double empty = sheet.ask("cell.voltage_min") / inside;
  const auto chemistry =
      subject.build->cell ? subject.build->cell->chemistry : model::Chemistry::unknown;
  const auto curve =
      model::scaled<double>(model::ocv_ramps(chemistry), {.empty_V = empty, .full_V = full});
  const double charge = std::clamp(subject.charge, 0.0, 1.0);
  const double hysteresis = chemistry == model::Chemistry::lfp ? 0.03 : 0.015;
  CellVolts v{empty, model::ocv_V(curve, std::max(0.0, charge - 0.1)) - hysteresis,
              model::ocv_V(curve, charge),
              model::ocv_V(curve, std::min(1.0, charge + 0.1)) + hysteresis, full};
  if (std::isnan(v.likely)) {
    v.low = empty;
    v.high = full;
  }
  // Beyond its ends nothing is expected.
  if (v.low < empty) v.low = empty;
  if (v.high > full) v.high = full;
  return v;
}

}  // namespace

std::vector<Tap> taps_of(const Subject& subject) {
  const CellVolts v = cell_volts(subject);
  std::vector<Tap> out;
  const int cells = cells_of(subject);
  for (int n = 0; cells > 0 && n <= cells; ++n) {
    out.push_back({n, n * v.empty, n * v.low, n * v.likely, n * v.high, n * v.full,
                   n > 0 && !(n * v.full <= 60)});
  }
  return out;
}

int split_tap(const Subject& subject) {
  const bool split = wiring::terminal_of(*subject.circuit, "pack.mid1") >= 0;
  return split ? cells_of(subject) / 2 : 0;
}

namespace {

std::string volts(double value) {
  return std::isnan(value) ? "?" : fixed(value, 2);
}

std::string joint_words(const Tap& tap, int cells, int split) {
  if (tap.number == 0) return "pack minus";
  if (tap.number == cells) return "pack plus";
  const std::string between =
      "between cells " + std::to_string(tap.number) + " and " + std::to_string(tap.number + 1);
  return tap.number == split ? between + ", at the split" : between;
}

constexpr double cell_width = 27, cell_height = 14, row_pitch = 40, above_row = 11;

/// How the string is broken into rows, and how much larger it is drawn where there is room.
struct Grid {
  double zoom = 1;
  int columns = 13, rows = 5;
};

Grid grid_for(int cells, const draw::Box& room) {
  Grid grid;
  for (const double zoom : {1.7, 1.5, 1.35, 1.2, 1.1, 1.0}) {
    grid = {zoom, static_cast<int>((room.right - room.left - 22 * zoom) / (cell_width * zoom)),
            static_cast<int>((room.bottom - room.top) / (row_pitch * zoom))};
    if (grid.columns * grid.rows >= cells) break;
  }
  return grid;
}

/// One cell with its number, plus to the right.
void draw_cell(Leaf& leaf, double x, double y, int number) {
  leaf.parts.push_back(
      rectangle({x + 5, y - 0.5 * cell_height, x + cell_width - 5, y + 0.5 * cell_height}));
  leaf.parts.push_back(line(x, y, x + 5, y));
  leaf.parts.push_back(line(x + cell_width - 5, y, x + cell_width, y));
  leaf.parts.push_back(
      text(x + 0.5 * cell_width, y + 1.3, std::to_string(number), small_mm, Anchor::middle));
  leaf.parts.push_back(text(x + 7.8, y + 1.3, "-", small_mm, Anchor::middle));
  leaf.parts.push_back(text(x + cell_width - 7.8, y + 1.3, "+", small_mm, Anchor::middle));
}

/// A tap: a dot with a lead down to its number and volts.
void draw_tap(Leaf& leaf, double x, double y, const Tap& tap, int split) {
  leaf.parts.push_back({.shape = draw::Circle{{x, y}, 0.9},
                        .style = {.line = draw::Ink::ink, .width = thin, .fill = draw::Ink::ink}});
  leaf.parts.push_back(line(x, y, x, y + 8.4, thin));
  leaf.parts.push_back({.shape = draw::Circle{{x, y + 11.4}, 3}, .style = {.width = thin}});
  leaf.parts.push_back(strong(x, y + 12.7, std::to_string(tap.number), small_mm, Anchor::middle));
  leaf.parts.push_back(
      text(x, y + 18.4, volts(tap.likely_V) + (tap.over_60 ? " !" : ""), small_mm, Anchor::middle));
  if (tap.number > 0 && !std::isnan(tap.low_V))
    leaf.parts.push_back(text(x, y + 23, fixed(tap.low_V, 1) + " - " + fixed(tap.high_V, 1),
                              small_mm, Anchor::middle));
  if (split > 0 && tap.number == split)
    leaf.parts.push_back(text(x, y - 8.4, "split here", small_mm, Anchor::middle));
}

std::string map_caution(const Subject& subject) {
  std::string out =
      "Every lead is live at its cell, whatever is switched off. Fuse at the cell first. Measure "
      "all "
      "taps in order from pack minus, sign included, before the plug meets the monitor: one "
      "swapped "
      "lead destroys it.";
  if (dangerous(subject))
    out += " Taps marked ! lie over 60 V from pack minus in a full pack: they can kill.";
  return out;
}

Leaf map_leaf(const Subject& subject, int split) {
  Leaf leaf{Format::a3, "where each tap sits", "not to scale", map_caution(subject), {}};
  const draw::Box area = area_of(Format::a3);
  leaf.parts.push_back(
      strong(area.left, area.top + 4.6,
             "Under each tap: the volts from pack minus at " + fixed(100 * subject.charge, 0) +
                 " % charge, at rest: likely, and least to most. Next page: empty and full.",
             name_mm));
  if (split > 0)
    leaf.parts.push_back(
        text(area.left, area.top + 10.2,
             "The sheet does not say where the pack is split: the middle is drawn. With the "
             "service disconnect open each half is measured from its own minus.",
             small_mm));
  return leaf;
}

std::vector<Leaf> map_leaves(const Subject& subject, const std::vector<Tap>& taps) {
  std::vector<Leaf> out;
  const int split = split_tap(subject);
  const int cells = static_cast<int>(taps.size()) - 1;
  const draw::Box area = area_of(Format::a3);
  const draw::Box room{area.left, area.top + 13, area.right, area.bottom};
  const Grid grid = grid_for(cells, room);
  for (int n = 0; n < cells; ++n) {
    const int row = n / grid.columns % grid.rows, column = n % grid.columns;
    if (n % (grid.columns * grid.rows) == 0) out.push_back(map_leaf(subject, split));
    // Drawn at its own size from the corner of the room, then enlarged.
    Leaf cell;
    const double x = 10 + column * cell_width, y = above_row + row * row_pitch;
    draw_cell(cell, x, y, n + 1);
    if (column == 0) draw_tap(cell, x, y, taps[static_cast<std::size_t>(n)], split);
    // The last tap of a row is drawn again as the first of the next, where the string goes on.
    if (column < grid.columns - 1 || n + 1 == cells)
      draw_tap(cell, x + cell_width, y, taps[static_cast<std::size_t>(n) + 1], split);
    else
      cell.parts.push_back(text(x + cell_width + 1, y + 1.3, "next row", small_mm));
    for (draw::Element& part : cell.parts) {
      enlarge(part, grid.zoom, {room.left, room.top});
      out.back().parts.push_back(std::move(part));
    }
  }
  return out;
}

}  // namespace

Print tap_map(const Subject& subject) {
  const auto taps = taps_of(subject);
  const int cells = static_cast<int>(taps.size()) - 1, split = split_tap(subject);
  const std::string at = "at " + fixed(100 * subject.charge, 0) + " %: ";
  Table table{.columns = {{"tap", 16, true},
                          {"joint", 88},
                          {"lead", 40},
                          {"empty, V", 26, true},
                          {at + "least, V", 30, true},
                          {at + "likely, V", 30, true},
                          {at + "most, V", 30, true},
                          {"full, V", 26, true},
                          {"over 60 V", 34},
                          {"measured, V", 44}},
              .rows = {}};
  const wiring::Wire* lead = subject.circuit->wire("S10");
  const std::string colour = lead == nullptr ? "" : lead->colour;
  for (const Tap& tap : taps) {
    table.rows.push_back({std::to_string(tap.number), joint_words(tap, cells, split),
                          colour + ", no. " + std::to_string(tap.number), volts(tap.empty_V),
                          volts(tap.low_V), volts(tap.likely_V), volts(tap.high_V),
                          volts(tap.full_V), tap.over_60 ? "yes, when full" : "no", ""});
  }
  TableAsk ask{.subtitle = "volts to expect",
               .caution = map_caution(subject),
               .notes = {"From pack minus, at rest for an hour, 25 degC. Likely: the curve of this "
                         "chemistry between the cell's own end voltages; least and most: a tenth "
                         "of the charge less and more, and what the last charge or discharge "
                         "leaves. Each tap must lie one cell above the one before it."}};
  if (taps.empty())
    ask.notes = {
        "The sheet does not say how many cells are in series (pack.series), or which cell: "
        "there is no tap to show yet."};
  auto leaves = map_leaves(subject, taps);
  const auto more = tabled(table, ask);
  leaves.insert(leaves.end(), more.begin(), more.end());
  return {"tap-map", "Pack tap map", framed(subject, "Pack tap map", leaves), csv_of(table)};
}

}  // namespace ww::prints
