// SPDX-License-Identifier: MIT
#include "prints/paper.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/text.h"
#include "draw/layout.h"
#include "wiring/readings.h"

namespace ww::prints {

using draw::Anchor;
using draw::Box;
using draw::Element;
using draw::Ink;

namespace {

struct Size {
  double width, height;
};
Size size_of(Format format) {
  return format == Format::a4 ? Size{210, 297} : Size{420, 297};
}

/// Inside the frame: 20 mm to file it by at the left, 10 mm elsewhere.
Box frame_of(Format format) {
  const Size s = size_of(format);
  return {20, 10, s.width - 10, s.height - 10};
}

constexpr double title_height = 24, title_width = 180, row_height = 12;

/// A field of the title block: its name small, what stands in it below.
void field(std::vector<Element>& parts, const Box& box, const std::string& name,
           const std::string& words) {
  parts.push_back(rectangle(box, thin));
  Element heading = text(box.left + 1.2, box.top + 4.2, name, small_mm);
  heading.style.line = Ink::soft;
  parts.push_back(heading);
  parts.push_back(text(box.left + 1.2, box.top + 9.8,
                       fitted(words, small_mm, box.right - box.left - 2.4), small_mm));
}

struct Heading {
  std::string title, name, digest, date;
};

void title_block(std::vector<Element>& parts, const Leaf& leaf, const Heading& heading,
                 const std::string& page) {
  const Box frame = frame_of(leaf.format);
  const double left = frame.right - title_width, top = frame.bottom - title_height;
  parts.push_back(rectangle({left, top, frame.right, frame.bottom}, thick));
  const std::string whole = heading.title + (leaf.subtitle.empty() ? "" : ": " + leaf.subtitle);
  parts.push_back(
      strong(left + 2, top + 7.6, fitted(whole, head_mm, 0.9 * (title_width - 44)), head_mm));
  field(parts, {frame.right - 40, top, frame.right, top + row_height}, "made by", "Wattwright");
  struct Field {
    const char* name;
    std::string words;
    double width;
  };
  const std::array<Field, 5> fields{
      {{"build", heading.name, 62},
       {"net list", heading.digest, 36},
       {"date", heading.date, 26},
       {"scale", leaf.scale, 30},
       {leaf.format == Format::a4 ? "A4, page" : "A3, page", page, 26}}};
  double x = left;
  for (const Field& f : fields) {
    field(parts, {x, top + row_height, x + f.width, frame.bottom}, f.name, f.words);
    x += f.width;
  }
}

/// The caution stands beside the title block, above it where the page is narrow.
void caution(std::vector<Element>& parts, const Leaf& leaf) {
  if (leaf.caution.empty()) return;
  const Box frame = frame_of(leaf.format);
  const bool narrow = leaf.format == Format::a4;
  const double top = frame.bottom - title_height - (narrow ? title_height : 0);
  const Box box{frame.left, top, narrow ? frame.right : frame.right - title_width,
                top + title_height};
  parts.push_back(rectangle(box, thick));
  // A triangle with a flash: what the warning sign for electricity shows (ISO 7010).
  const double x = box.left + 3, y = box.top + 19;
  parts.push_back({.shape = draw::Polyline{{{x, y}, {x + 17, y}, {x + 8.5, y - 14.7}}, true},
                   .style = {.width = thick}});
  parts.push_back(
      {.shape =
           draw::Polyline{
               {{x + 9.6, y - 10}, {x + 6.6, y - 5.4}, {x + 9.8, y - 5.9}, {x + 7.6, y - 1.6}}},
       .style = {.width = plain}});
  double at = box.top + 5;
  for (const std::string& words : lines_in(leaf.caution, small_mm, box.right - box.left - 26)) {
    parts.push_back(text(box.left + 23, at, words, small_mm));
    at += 4.6;
  }
}

}  // namespace

Box area_of(Format format) {
  const Box frame = frame_of(format);
  return {frame.left + 3, frame.top + 3, frame.right - 3,
          frame.bottom - (format == Format::a4 ? 2 : 1) * title_height - 3};
}

std::vector<draw::Drawing> framed(const Subject& subject, const std::string& title,
                                  const std::vector<Leaf>& leaves) {
  std::string name = subject.name;
  if (name.empty()) name = subject.build->project.name;
  const Heading heading{title, name.empty() ? "without a name" : name,
                        digest_of(*subject.circuit, *subject.sizing), subject.date};
  std::vector<draw::Drawing> out;
  for (std::size_t i = 0; i < leaves.size(); ++i) {
    const Leaf& leaf = leaves[i];
    const Size size = size_of(leaf.format);
    draw::Drawing page{.title = title + (leaf.subtitle.empty() ? "" : ": " + leaf.subtitle),
                       .description = leaf.caution,
                       .unit = draw::Unit::mm,
                       .width = size.width,
                       .height = size.height,
                       .pen = pen_mm,
                       .parts = {}};
    page.parts.push_back(rectangle(frame_of(leaf.format), thick));
    title_block(page.parts, leaf, heading,
                std::to_string(i + 1) + " of " + std::to_string(leaves.size()));
    caution(page.parts, leaf);
    page.parts.insert(page.parts.end(), leaf.parts.begin(), leaf.parts.end());
    out.push_back(std::move(page));
  }
  return out;
}

Element text(double x, double y, std::string words, double size, Anchor anchor) {
  return {.shape =
              draw::Text{.at = {x, y}, .text = std::move(words), .size = size, .anchor = anchor}};
}

Element strong(double x, double y, std::string words, double size, Anchor anchor) {
  Element out = text(x, y, std::move(words), size, anchor);
  std::get<draw::Text>(out.shape).strong = true;
  return out;
}

Element line(double x1, double y1, double x2, double y2, double width) {
  return {.shape = draw::Line{{x1, y1}, {x2, y2}}, .style = {.width = width}};
}

Element rectangle(const Box& box, double width, Ink fill) {
  return {.shape = draw::Polyline{{{box.left, box.top},
                                   {box.right, box.top},
                                   {box.right, box.bottom},
                                   {box.left, box.bottom}},
                                  true},
          .style = {.width = width, .fill = fill}};
}

namespace {

void enlarge(draw::Point& p, double zoom, const draw::Point& to) {
  p = {to.x + zoom * p.x, to.y + zoom * p.y};
}

}  // namespace

void enlarge(Element& element, double zoom, const draw::Point& to) {
  if (auto* line = std::get_if<draw::Line>(&element.shape)) {
    enlarge(line->from, zoom, to);
    enlarge(line->to, zoom, to);
  } else if (auto* chain = std::get_if<draw::Polyline>(&element.shape)) {
    for (draw::Point& p : chain->points) enlarge(p, zoom, to);
  } else if (auto* circle = std::get_if<draw::Circle>(&element.shape)) {
    enlarge(circle->centre, zoom, to);
    circle->radius *= zoom;
  } else if (auto* arc = std::get_if<draw::Arc>(&element.shape)) {
    enlarge(arc->centre, zoom, to);
    arc->radius *= zoom;
  } else if (auto* words = std::get_if<draw::Text>(&element.shape)) {
    enlarge(words->at, zoom, to);
    words->size *= zoom;
  } else if (auto* group = std::get_if<draw::Group>(&element.shape)) {
    for (Element& part : group->parts) enlarge(part, zoom, to);
  }
}

namespace {

/// Where the character after the one at `at` begins.
std::size_t next_letter(const std::string& words, std::size_t at) {
  ++at;
  while (at < words.size() && (static_cast<unsigned char>(words[at]) & 0xC0U) == 0x80U) ++at;
  return at;
}

/// The longest beginning that is no wider; at least one letter.
std::size_t beginning(const std::string& words, double size, double width) {
  std::size_t end = next_letter(words, 0);
  while (end < words.size()) {
    const std::size_t longer = next_letter(words, end);
    if (draw::text_width(words.substr(0, longer), size) > width) break;
    end = longer;
  }
  return std::min(end, words.size());
}

}  // namespace

std::string fitted(const std::string& words, double size, double width) {
  if (words.empty() || draw::text_width(words, size) <= width) return words;
  return words.substr(0, beginning(words, size, width - draw::text_width("...", size))) + "...";
}

std::vector<std::string> lines_in(const std::string& words, double size, double width) {
  std::vector<std::string> out;
  for (std::string one : draw::wrapped(words, size, width)) {
    while (draw::text_width(one, size) > width && one.size() > 1) {
      const std::size_t cut = beginning(one, size, width);
      if (cut >= one.size()) break;
      out.push_back(one.substr(0, cut));
      one = one.substr(cut);
    }
    out.push_back(one);
  }
  if (out.empty()) out.emplace_back();
  return out;
}

namespace {

constexpr double cell_pad = 1.2, text_step = 4.6;

/// One row of a table, wrapped.
struct Row {
  std::vector<std::vector<std::string>> cells;
  double height = 0;
  std::size_t given = 0;  ///< cells that the row has
};

Row row_of(const Table& table, const std::vector<std::string>& cells, bool bold) {
  Row row;
  std::size_t most = 1;
  for (std::size_t c = 0; c < table.columns.size(); ++c) {
    // The last cell of a short row runs on over the columns that it leaves empty.
    double room = table.columns[c].width;
    if (c + 1 == cells.size()) {
      for (std::size_t k = c + 1; k < table.columns.size(); ++k) room += table.columns[k].width;
    }
    const double width = (room - 2 * cell_pad) / (bold ? 1.1 : 1);
    row.cells.push_back(lines_in(c < cells.size() ? cells[c] : "", small_mm, width));
    most = std::max(most, row.cells.back().size());
  }
  row.given = std::min(cells.size(), table.columns.size());
  row.height = static_cast<double>(most) * text_step + 1.6;
  return row;
}

void put_row(Leaf& leaf, const Table& table, const Row& row, double y, bool bold) {
  double x = area_of(leaf.format).left;
  for (std::size_t c = 0; c < table.columns.size(); ++c) {
    const Column& column = table.columns[c];
    double to = x + column.width;
    if (c + 1 == row.given) {
      for (std::size_t k = c + 1; k < table.columns.size(); ++k) to += table.columns[k].width;
    }
    if (c < row.given) leaf.parts.push_back(rectangle({x, y, to, y + row.height}, thin));
    double at = y + 4.4;
    for (const std::string& words : row.cells[c]) {
      const bool right = column.right && !bold;
      const double from = right ? x + column.width - cell_pad : x + cell_pad;
      const Anchor anchor = right ? Anchor::end : Anchor::start;
      if (!words.empty())
        leaf.parts.push_back(bold ? strong(from, at, words, small_mm, anchor)
                                  : text(from, at, words, small_mm, anchor));
      at += text_step;
    }
    x += column.width;
  }
}

}  // namespace

std::vector<Leaf> tabled(const Table& table, const TableAsk& ask) {
  const Box area = area_of(ask.format);
  std::vector<std::string> heads;
  for (const Column& column : table.columns) heads.push_back(column.head);
  const Row head = row_of(table, heads, true);
  std::vector<Leaf> out;
  double y = 0;
  const auto begin = [&] {
    out.push_back({ask.format, ask.subtitle, ask.scale, ask.caution, {}});
    y = area.top;
    if (out.size() == 1) {
      for (const std::string& note : ask.notes) {
        for (const std::string& words : lines_in(note, small_mm, area.right - area.left)) {
          out.back().parts.push_back(text(area.left, y + 3.6, words, small_mm));
          y += text_step;
        }
        y += 1.6;
      }
    }
    put_row(out.back(), table, head, y, true);
    y += head.height;
  };
  begin();
  for (std::size_t r = 0; r < table.rows.size(); ++r) {
    const bool bold = r < table.marks.size() && table.marks[r] == "strong";
    const Row row = row_of(table, table.rows[r], bold);
    // A heading does not stand alone at the foot of a page.
    const double with = bold && r + 1 < table.rows.size() ? row.height + head.height : row.height;
    if (y + with > area.bottom) begin();
    put_row(out.back(), table, row, y, bold);
    y += row.height;
  }
  return out;
}

std::string csv_line(const std::vector<std::string>& cells) {
  std::string out;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (i > 0) out += ',';
    const std::string& cell = cells[i];
    if (cell.find_first_of(",\"\n\r") == std::string::npos) {
      out += cell;
      continue;
    }
    out += '"';
    for (const char c : cell) {
      out += c;
      if (c == '"') out += c;
    }
    out += '"';
  }
  return out + "\n";
}

std::string csv_of(const Table& table) {
  std::vector<std::string> heads;
  for (const Column& column : table.columns) heads.push_back(column.head);
  std::string out = csv_line(heads);
  for (const auto& row : table.rows) out += csv_line(row);
  return out;
}

std::string section_words(double section_m2) {
  if (std::isnan(section_m2)) return "?";
  std::string out = fixed(1e6 * section_m2, 2);
  while (out.back() == '0') out.pop_back();
  if (out.back() == '.') out.pop_back();
  return out;
}

std::string colour_letters(const std::string& colour) {
  constexpr std::array<std::array<std::string_view, 2>, 13> letters{{{"green-yellow", "GNYE"},
                                                                     {"black", "BK"},
                                                                     {"brown", "BN"},
                                                                     {"red", "RD"},
                                                                     {"orange", "OG"},
                                                                     {"yellow", "YE"},
                                                                     {"green", "GN"},
                                                                     {"blue", "BU"},
                                                                     {"violet", "VT"},
                                                                     {"grey", "GY"},
                                                                     {"gray", "GY"},
                                                                     {"white", "WH"},
                                                                     {"pink", "PK"}}};
  std::string out;
  std::string rest = lower(colour);
  for (const char sign : {',', '+', '/'}) std::replace(rest.begin(), rest.end(), sign, ' ');
  for (const std::string_view word : split(rest, ' ')) {
    const auto at = std::find_if(letters.begin(), letters.end(),
                                 [&](const auto& one) { return one[0] == word; });
    if (at == letters.end()) continue;
    out += (out.empty() ? "" : "/") + std::string((*at)[1]);
  }
  return out.empty() ? (colour.find("cord") != std::string::npos ? "cord" : colour) : out;
}

std::string shown(double value, figure::Kind kind, figure::System units) {
  return std::isfinite(value) ? figure::print(value, kind, units) : "?";
}

bool dangerous(const Subject& subject) {
  const wiring::Readings sheet(*subject.build);
  return !(sheet.ask("pack.series") * sheet.ask("cell.voltage_max") <= 60);
}

}  // namespace ww::prints
