// SPDX-License-Identifier: MIT
// Pages of ISO A sizes with frame and title block (after ISO 5457 and ISO 7200), and what is put on
// them: letters, boxes, tables. Private to prints/.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "draw/drawing.h"
#include "prints/prints.h"

namespace ww::prints {

inline constexpr double pen_mm = 0.25;
/// Letters: the capitals of 3.5 mm letters are 2.5 mm high, the least of ISO 3098 on a wall.
inline constexpr double small_mm = 3.5, name_mm = 4.2, head_mm = 5, big_mm = 7;
/// Line widths in pens: ISO 128 thin and thick, 0.25 and 0.7 mm, and between.
inline constexpr double thin = 1, plain = 1.6, thick = 2.8;

enum class Format : std::uint8_t { a4, a3 };  ///< A4 upright, A3 lying

/// A page before it is framed.
struct Leaf {
  Format format = Format::a3;
  std::string subtitle;
  std::string scale = "not to scale";
  std::string caution;
  std::vector<draw::Element> parts;
};

/// What may be drawn on: inside the frame, above the title block.
draw::Box area_of(Format format);

/// The pages with their frames; fills in "page 2 of 5".
std::vector<draw::Drawing> framed(const Subject& subject, const std::string& title,
                                  const std::vector<Leaf>& leaves);

// ---- shapes

draw::Element text(double x, double y, std::string words, double size,
                   draw::Anchor anchor = draw::Anchor::start);
draw::Element strong(double x, double y, std::string words, double size,
                     draw::Anchor anchor = draw::Anchor::start);
draw::Element line(double x1, double y1, double x2, double y2, double width = plain);
draw::Element rectangle(const draw::Box& box, double width = plain,
                        draw::Ink fill = draw::Ink::none);
/// Drawn larger from another origin; widths of lines stay. Lines, chains, circles, arcs, text,
/// groups.
void enlarge(draw::Element& element, double zoom, const draw::Point& origin);
/// Cut off with "..." where it is wider.
std::string fitted(const std::string& words, double size, double width);
/// Lines no wider than that; a word that is wider is broken.
std::vector<std::string> lines_in(const std::string& words, double size, double width);

// ---- tables

struct Column {
  std::string head;
  double width;  ///< mm
  bool right = false;
};
struct Table {
  std::vector<Column> columns;
  std::vector<std::vector<std::string>> rows;
  std::vector<std::string> marks = {};  ///< per row: "strong" sets it so; may be shorter
};

/// Fills leaves with a table, breaking it over pages; heads stand on each. Starts `from` mm below
/// the top of a first leaf that is there already, else on a new one. Gives where the last ended.
struct TableAsk {
  Format format = Format::a3;
  std::string subtitle = {};
  std::string caution = {};
  std::string scale = "not to scale";
  std::vector<std::string> notes = {};  ///< paragraphs above the table on the first page
};
std::vector<Leaf> tabled(const Table& table, const TableAsk& ask);

/// The cells with quotes where commas or line ends need them.
std::string csv_of(const Table& table);
std::string csv_line(const std::vector<std::string>& cells);

// ---- words

/// "2.5" for 2.5e-6 m2, "?" where it is not known.
std::string section_words(double section_m2);
/// Letters of a colour after IEC 60757: "OG", "OG/BK"; the words themselves where they are none.
std::string colour_letters(const std::string& colour);
/// A number with a unit, "?" where it is not known.
std::string shown(double value, figure::Kind kind, figure::System units = figure::System::metric);
/// Of the full pack, and of nothing known, that it may be above 60 V.
bool dangerous(const Subject& subject);

}  // namespace ww::prints
