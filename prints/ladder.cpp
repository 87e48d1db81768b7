// SPDX-License-Identifier: MIT
#include "prints/ladder.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "base/check.h"
#include "base/text.h"
#include "prints/figures.h"

namespace ww::prints {

using draw::Anchor;
using draw::Box;
using draw::Element;

namespace {

constexpr double track_step = 3, strip_rim = 2.4, line_step = 4.4;
/// What a wire's words take above and below it.
constexpr double words_up = 4.8, words_down = 5.6;
/// Widths at which names are broken, and how much larger a page may be drawn: the first that fits.
constexpr std::array<double, 5> name_limits{46, 37, 31, 26, 22};
constexpr std::array<double, 9> zooms{1.7, 1.5, 1.4, 1.3, 1.2, 1.15, 1.1, 1.05, 1};
/// Of the page's area, for the line of explanations.
constexpr double legend_mm = 8;

std::string join_words(const std::set<std::string>& words) {
  return join(std::vector<std::string>(words.begin(), words.end()), " ");
}

std::size_t at(int index) {
  return static_cast<std::size_t>(index);
}

}  // namespace

// ---- what stands on the page

int Ladder::piece(Piece piece) {
  const auto* device = subject_.circuit->device(piece.device);
  if (device == nullptr) return -1;
  const auto absent = [&](const Pin& p) {
    return !p.mark.empty() && !has_end(piece.device + "." + p.mark);
  };
  const bool bare = piece.pins.empty();
  piece.pins.erase(std::remove_if(piece.pins.begin(), piece.pins.end(), absent), piece.pins.end());
  if (piece.pins.empty() && !bare) return -1;
  Placed placed{std::move(piece), 1 << 20, 0, {}, {}};
  for (const Pin& p : placed.piece.pins) {
    placed.first_row = std::min(placed.first_row, p.row);
    placed.last_row = std::max(placed.last_row, p.row);
  }
  if (bare) placed.first_row = placed.last_row = placed.piece.row;
  pieces_.push_back(std::move(placed));
  return static_cast<int>(pieces_.size()) - 1;
}

void Ladder::reference(const Ask& ask) {
  if (!has_end(ask.end) || ask.wires.empty()) return;
  const auto dot = ask.end.find('.');
  Piece piece{.device = ask.end.substr(0, dot),
              .symbol = ask.wires.size() > 1 ? Symbol::rail : Symbol::reference,
              .column = ask.column,
              .pins = {},
              .reference = true};
  for (const auto& [wire, row] : ask.wires)
    piece.pins.push_back({ask.end.substr(dot + 1), ask.side, row, wire});
  this->piece(std::move(piece));
}

void Ladder::inner(int from_piece, int to_piece) {
  if (from_piece < 0 || to_piece < 0) return;
  PinAt a{from_piece, -1}, b{to_piece, -1};
  const auto find = [&](PinAt& end, Side side) {
    const auto& pins = of(end).piece.pins;
    for (std::size_t i = 0; i < pins.size(); ++i) {
      if (pins[i].side == side && (end.pin < 0 || pins[i].mark.empty()))
        end.pin = static_cast<int>(i);
    }
  };
  find(a, Side::right);
  find(b, Side::left);
  if (a.pin >= 0 && b.pin >= 0) add_edge(a, b, -1, false);
}

int Ladder::terminal(const Placed& placed, const Pin& pin) const {
  if (!pin.end.empty()) return wiring::terminal_of(*subject_.circuit, pin.end);
  return pin.mark.empty()
             ? -1
             : wiring::terminal_of(*subject_.circuit, placed.piece.device + "." + pin.mark);
}

std::vector<Ladder::PinAt> Ladder::pins_of(int terminal, const std::string& label) const {
  std::vector<PinAt> out;
  for (std::size_t p = 0; p < pieces_.size(); ++p) {
    for (std::size_t i = 0; i < pieces_[p].piece.pins.size(); ++i) {
      const Pin& pin = pieces_[p].piece.pins[i];
      if (this->terminal(pieces_[p], pin) != terminal) continue;
      const bool open = pin.wire.empty() && !pieces_[p].piece.reference;
      if (open || pin.wire == label) out.push_back({static_cast<int>(p), static_cast<int>(i)});
    }
  }
  return out;
}

int Ladder::uses(const PinAt& end) const {
  return static_cast<int>(std::count_if(edges_.begin(), edges_.end(), [&](const Edge& e) {
    return same(e.a, end) || same(e.b, end);
  }));
}

/// All pins on one side of a terminal drawn as a dot are one place.
bool Ladder::same(const PinAt& one, const PinAt& other) const {
  if (one.piece != other.piece) return false;
  return one.pin == other.pin ||
         (of(one).piece.symbol == Symbol::node && pin(one).side == pin(other).side);
}

void Ladder::add_edge(PinAt a, PinAt b, int wire, bool bar) {
  if (pin(a).side == Side::left) std::swap(a, b);
  const bool turn = pin(b).side == Side::right;
  if (turn && of(a).piece.column < of(b).piece.column) std::swap(a, b);
  edges_.push_back({a, b, wire, bar, turn, false});
}

bool Ladder::connect(int from, int to, const std::string& label_from, const std::string& label_to,
                     int wire) {
  auto a = pins_of(from, label_from), b = pins_of(to, label_to);
  if (a.empty() || b.empty()) return false;
  // Of several pins of one terminal: those on the side of the other end; of these a free one in the
  // row of the other end, then any free one.
  const auto pick = [&](const std::vector<PinAt>& given, const PinAt& other) {
    std::vector<PinAt> all;
    for (const PinAt& p : given) {
      const bool behind = of(other).piece.column > of(p).piece.column;
      if ((pin(p).side == Side::right) == behind) all.push_back(p);
    }
    if (all.empty()) all = given;
    const auto free_in_row = std::find_if(all.begin(), all.end(), [&](const PinAt& p) {
      return uses(p) == 0 && pin(p).row == pin(other).row;
    });
    if (free_in_row != all.end()) return *free_in_row;
    const auto free =
        std::find_if(all.begin(), all.end(), [&](const PinAt& p) { return uses(p) == 0; });
    return free != all.end() ? *free : all.front();
  };
  // A pin kept for this very line goes before all.
  const auto kept = [&](std::vector<PinAt>& all, const std::string& label) {
    const auto own =
        std::find_if(all.begin(), all.end(), [&](const PinAt& p) { return pin(p).wire == label; });
    if (own != all.end()) all = {*own};
  };
  kept(a, label_from);
  kept(b, label_to);
  const PinAt first = a.size() == 1 ? a.front() : pick(a, b.front());
  const PinAt second = pick(b, first);
  // Two left sides cannot be joined here; nor a piece that stands behind the other.
  const PinAt& right = pin(first).side == Side::right ? first : second;
  const PinAt& left = pin(first).side == Side::right ? second : first;
  if (pin(right).side == Side::left) return false;
  if (pin(left).side == Side::left && of(left).piece.column <= of(right).piece.column) return false;
  add_edge(first, second, wire, wire < 0);
  return true;
}

void Ladder::join(std::vector<std::uint8_t>& drawn_wires, std::vector<std::uint8_t>& drawn_bars) {
  const auto& c = *subject_.circuit;
  for (std::size_t w = 0; w < c.wires.size(); ++w) {
    const auto& wire = c.wires[w];
    if (drawn_wires[w] == 0 &&
        connect(wire.from, wire.to, wire.label, wire.label, static_cast<int>(w)))
      drawn_wires[w] = 1;
  }
  const auto name = [&](int t) { return "=" + c.device_of(t).id + "." + c.terminals[at(t)].mark; };
  for (std::size_t b = 0; b < c.bars.size(); ++b) {
    const auto& bar = c.bars[b];
    if (drawn_bars[b] == 0 && connect(bar.from, bar.to, name(bar.to), name(bar.from), -1))
      drawn_bars[b] = 1;
  }
}

std::vector<int> Ladder::terminals() const {
  std::set<int> out;
  for (const Placed& placed : pieces_) {
    for (const Pin& p : placed.piece.pins) {
      const int end = terminal(placed, p);
      if (!placed.piece.reference && end >= 0) out.insert(end);
    }
  }
  return {out.begin(), out.end()};
}

std::vector<std::string> Ladder::devices() const {
  std::vector<std::string> out;
  for (const Placed& placed : pieces_) {
    if (!placed.piece.reference) out.push_back(placed.piece.device);
  }
  return out;
}

std::vector<std::pair<int, std::string>> Ladder::references() const {
  std::vector<std::pair<int, std::string>> out;
  for (const Placed& placed : pieces_) {
    for (const Pin& p : placed.piece.pins) {
      if (placed.piece.reference) out.emplace_back(terminal(placed, p), p.wire);
    }
  }
  return out;
}

// ---- words

Ladder::WireWords Ladder::words_of(int wire) const {
  const auto& w = subject_.circuit->wires[at(wire)];
  const auto& size = sized(subject_, at(wire));
  const std::string cores = w.cores > 1 ? " x " + std::to_string(w.cores) : "";
  return {w.label + cores,
          fitted(section_words(size.section_m2) + " " + colour_letters(w.colour), small_mm, 27)};
}

double Ladder::label_width(const Edge& edge) const {
  if (edge.wire < 0) return 0;
  const WireWords words = words_of(edge.wire);
  return 3 + std::max(1.1 * draw::text_width(words.above, small_mm),
                      draw::text_width(words.below, small_mm));
}

int Ladder::label_column(const Edge& edge) const {
  if (edge.turn) return of(edge.a).piece.column;
  const int column = of(edge.b).piece.column;
  return edge.hub_b && of(edge.a).piece.column + 1 < column ? of(edge.a).piece.column + 1 : column;
}

void Ladder::name_pieces(const Elsewhere& elsewhere, double limit) {
  std::set<std::string> seen;
  for (Placed& placed : pieces_) {
    const Piece& piece = placed.piece;
    const auto& device = *subject_.circuit->device(piece.device);
    placed.facts.clear();
    std::string name = piece.name.empty() ? device.label : piece.name;
    if (piece.reference) {
      const int end = terminal(placed, piece.pins.front());
      name = subject_.circuit->end_text(end);
      placed.name = lines_in(name, small_mm, std::min(limit, 32.0));
      const auto page = elsewhere.page_of_terminal.find(end);
      placed.name.push_back(page == elsewhere.page_of_terminal.end()
                                ? "?"
                                : "on page " + std::to_string(page->second));
      continue;
    }
    placed.name = lines_in(name, small_mm, limit);
    const auto home = elsewhere.home.find(piece.device);
    if (home != elsewhere.home.end() && home->second != page_)
      placed.facts.push_back("see page " + std::to_string(home->second));
    if (home != elsewhere.home.end() && home->second == page_ && seen.count(piece.device) == 0) {
      std::set<std::string> others;
      for (const int page : elsewhere.pages.at(piece.device)) {
        if (page != page_) others.insert(std::to_string(page));
      }
      if (!others.empty()) placed.facts.push_back("also page " + join_words(others));
    }
    if (seen.insert(piece.device).second) {
      if (const auto* fuse = subject_.sizing->fuse(piece.device);
          fuse != nullptr && std::isfinite(fuse->rating_A))
        placed.facts.push_back(shown(fuse->rating_A, figure::Kind::current));
      if (device.presence == wiring::Presence::lacking) placed.facts.emplace_back("LACKING");
    }
    std::set<int> pages;
    for (const Pin& p : piece.pins) {
      const auto lines = elsewhere.crossings.find(terminal(placed, p));
      if (lines == elsewhere.crossings.end()) continue;
      for (const Crossing& crossing : lines->second) pages.insert(crossing.page);
    }
    for (const int page : pages) {
      std::string words = "page " + std::to_string(page);
      std::set<std::string> wires;
      for (const Pin& p : piece.pins) {
        const auto lines = elsewhere.crossings.find(terminal(placed, p));
        if (lines == elsewhere.crossings.end()) continue;
        for (const Crossing& crossing : lines->second) {
          if (crossing.page == page && crossing.wire.front() != '=') wires.insert(crossing.wire);
        }
      }
      if (!wires.empty()) words += ": " + join_words(wires);
      for (const auto& one : lines_in(words, small_mm, limit)) placed.facts.push_back(one);
    }
  }
}

// ---- places

double Ladder::symbol_half(const Placed& placed) const {
  const Symbol symbol = placed.piece.symbol;
  if (symbol == Symbol::reference) {
    double widest = 0;
    for (const auto& words : placed.name)
      widest = std::max(widest, draw::text_width(words, small_mm));
    return 0.5 * widest + 1.8;
  }
  if (!is_block(symbol)) return reach_of(symbol).side;
  double left = 0, right = 0;
  for (const Pin& p : placed.piece.pins) {
    double& side = p.side == Side::left ? left : right;
    side = std::max(side, draw::text_width(p.mark, small_mm));
  }
  const double middle = middle_of(symbol);
  // The sign in the middle keeps clear of the names at both sides.
  if (middle > 6) return std::max(left, right) + 0.5 * middle + 1;
  return std::max(10.0, 0.5 * (left + right + middle));
}

void Ladder::choose_hubs() {
  for (Edge& e : edges_) e.hub_b = !e.turn && uses(e.b) > 1 && uses(e.a) == 1;
}

void Ladder::size_columns() {
  columns_ = 0;
  row_count_ = 0;
  for (const Placed& placed : pieces_) {
    columns_ = std::max(columns_, placed.piece.column + 1);
    row_count_ = std::max(row_count_, placed.last_row + 1);
  }
  label_zone_.assign(at(columns_), 0);
  for (const Edge& e : edges_)
    label_zone_[at(label_column(e))] = std::max(label_zone_[at(label_column(e))], label_width(e));
}

/// Upright lines of one strip, those of one hub together, so that a line that comes in at a row
/// ends before another begins in it.
void Ladder::place_tracks() {
  tracks_.assign(at(columns_) + 1, {});
  struct Group {
    PinAt hub;
    bool turn;
    std::vector<std::size_t> edges;
    std::set<int> left_rows, right_rows;
    bool upright = false;
  };
  std::vector<std::vector<Group>> strips(at(columns_) + 1);
  for (std::size_t i = 0; i < edges_.size(); ++i) {
    const Edge& e = edges_[i];
    const PinAt hub = e.hub_b ? e.b : e.a;
    const int strip = e.hub_b ? of(e.b).piece.column : of(e.a).piece.column + 1;
    auto& groups = strips[at(strip)];
    auto group = std::find_if(groups.begin(), groups.end(), [&](const Group& g) {
      return !e.turn && !g.turn && same(g.hub, hub);
    });
    if (group == groups.end()) group = groups.insert(groups.end(), Group{hub, e.turn, {}, {}, {}});
    group->edges.push_back(i);
    group->left_rows.insert(pin(e.a).row);
    (e.turn ? group->left_rows : group->right_rows).insert(pin(e.b).row);
    if (pin(e.a).row != pin(e.b).row) group->upright = true;
  }
  for (std::size_t s = 0; s < strips.size(); ++s) {
    std::vector<Group> open;
    for (Group& g : strips[s]) {
      if (g.upright) open.push_back(std::move(g));
    }
    while (!open.empty()) {
      const auto first = [&](const Group& g) {
        return std::none_of(open.begin(), open.end(), [&](const Group& other) {
          return &other != &g && std::any_of(g.right_rows.begin(), g.right_rows.end(),
                                             [&](int r) { return other.left_rows.count(r) > 0; });
        });
      };
      auto next = std::find_if(open.begin(), open.end(), first);
      if (next == open.end()) next = open.begin();
      tracks_[s].push_back(next->edges);
      open.erase(next);
    }
  }
}

void Ladder::place_rows() {
  up_.assign(at(row_count_), words_up);
  down_.assign(at(row_count_), words_down);
  for (const Placed& placed : pieces_) {
    const Symbol symbol = placed.piece.symbol;
    const Reach reach = reach_of(symbol);
    double& up = up_[at(placed.first_row)];
    double& down = down_[at(placed.last_row)];
    if (symbol == Symbol::reference) {
      const double half = 0.5 * line_step * static_cast<double>(placed.name.size()) + 1.4;
      up = std::max(up, half + 0.8);
      down = std::max(down, half + 0.8);
      continue;
    }
    const auto lines = [](const std::vector<std::string>& words) {
      return line_step * static_cast<double>(words.size());
    };
    up = std::max(up, std::max(reach.up, words_up) + 1.6 + lines(placed.name));
    down = std::max(down, std::max(reach.down, words_down) + 1.2 + lines(placed.facts));
  }
}

/// Cells as wide as their words and symbols need.
std::vector<double> Ladder::cell_widths() const {
  std::vector<double> width(at(columns_), 0);
  for (const Placed& placed : pieces_) {
    const auto c = at(placed.piece.column);
    double named = 0;
    for (const auto* words : {&placed.name, &placed.facts}) {
      for (const auto& one : *words) named = std::max(named, draw::text_width(one, small_mm));
    }
    if (placed.piece.symbol == Symbol::reference) named = 0;
    width[c] = std::max({width[c], named + 1.5, label_zone_[c] + 2 * symbol_half(placed) + 2});
  }
  for (std::size_t c = 0; c < width.size(); ++c) width[c] = std::max(width[c], label_zone_[c] + 2);
  return width;
}

double Ladder::needed_width() const {
  double used = 0;
  for (const double w : cell_widths()) used += w;
  for (const auto& strip : tracks_)
    used += strip_rim + track_step * static_cast<double>(strip.size());
  return used;
}

double Ladder::needed_height() const {
  double height = 0;
  for (int r = 0; r < row_count_; ++r) height += up_[at(r)] + down_[at(r)];
  return height;
}

/// As large as the page allows, names broken as little as it allows.
void Ladder::fit(const Elsewhere& elsewhere) {
  const Box area = area_of(Format::a3);
  choose_hubs();
  size_columns();
  place_tracks();
  for (const double zoom : zooms) {
    for (const double limit : name_limits) {
      zoom_ = zoom;
      name_pieces(elsewhere, limit);
      place_rows();
      if (needed_width() * zoom <= area.right - area.left &&
          needed_height() * zoom <= area.bottom - area.top - legend_mm)
        return;
    }
  }
}

void Ladder::spread() {
  const Box area = area_of(Format::a3);
  const std::vector<double> width = cell_widths();
  const double spare = std::max(0.0, (area.right - area.left) / zoom_ - needed_width());
  const double more = std::min(14.0, spare / static_cast<double>(columns_));
  double x = 0;
  cell_left_.clear();
  cell_right_.clear();
  strip_left_.clear();
  for (std::size_t c = 0; c <= width.size(); ++c) {
    strip_left_.push_back(x);
    for (std::size_t k = 0; k < tracks_[c].size(); ++k) {
      for (const std::size_t e : tracks_[c][k])
        edges_[e].x = x + 0.5 * strip_rim + track_step * (static_cast<double>(k) + 0.5);
    }
    x += strip_rim + track_step * static_cast<double>(tracks_[c].size());
    if (c == width.size()) break;
    cell_left_.push_back(x);
    x += width[c] + more;
    cell_right_.push_back(x);
  }
  const double room = (area.bottom - area.top - legend_mm) / zoom_ - needed_height();
  const double gap = std::clamp(room / std::max(1, row_count_), 0.0, 22.0);
  rows_.clear();
  double y = 0;
  for (int r = 0; r < row_count_; ++r) {
    rows_.push_back(y + up_[at(r)] + 0.5 * gap);
    y += up_[at(r)] + down_[at(r)] + gap;
  }
  for (Placed& placed : pieces_) {
    const auto c = at(placed.piece.column);
    const Reach reach = reach_of(placed.piece.symbol);
    const double half = symbol_half(placed);
    const double left = cell_left_[c] + label_zone_[c];
    const double middle = 0.5 * (left + cell_right_[c]);
    double above = reach.up, below = reach.down;
    if (placed.piece.symbol == Symbol::reference)
      above = below = 0.5 * line_step * static_cast<double>(placed.name.size()) + 1.4;
    placed.box = {middle - half, row_y(placed.first_row) - above, middle + half,
                  row_y(placed.last_row) + below};
    double named = 0;
    for (const auto* words : {&placed.name, &placed.facts}) {
      for (const auto& one : *words) named = std::max(named, draw::text_width(one, small_mm));
    }
    placed.name_x =
        std::clamp(middle, cell_left_[c] + 0.5 * named + 0.5,
                   std::max(cell_left_[c] + 0.5 * named + 0.5, cell_right_[c] - 0.5 * named - 0.5));
  }
}

double Ladder::pin_x(const PinAt& end) const {
  const Box& box = of(end).box;
  if (is_rail(of(end).piece.symbol)) return 0.5 * (box.left + box.right);
  return pin(end).side == Side::left ? box.left : box.right;
}

// ---- onto the page

namespace {

/// The leads of a motor run level to its circle, or to above and below it.
void motor_leads(std::vector<Element>& out, const Box& box, const std::vector<double>& levels,
                 wiring::Presence presence) {
  const double x = 0.5 * (box.left + box.right), y = 0.5 * (box.top + box.bottom);
  for (const double level : levels) {
    const double off = level - y;
    std::vector<draw::Point> way{{box.left, level}};
    if (std::abs(off) < 8.9) {
      way.push_back({x - std::sqrt(81 - off * off), level});
    } else {
      way.push_back({x, level});
      way.push_back({x, y + (off < 0 ? -9 : 9)});
    }
    out.push_back({.shape = draw::Polyline{way},
                   .style = {.width = thick,
                             .dash = presence == wiring::Presence::on_list ? draw::Dash::solid
                                                                           : draw::Dash::dashed}});
  }
}

}  // namespace

void Ladder::put_pieces(Leaf& leaf) const {
  std::set<std::string> seen;
  for (const Placed& placed : pieces_) {
    const Piece& piece = placed.piece;
    const auto& device = *subject_.circuit->device(piece.device);
    draw::Group group;
    Box box = placed.box;
    group.parts = symbol_lines(piece.symbol, box,
                               piece.reference ? wiring::Presence::on_list : device.presence);
    if (piece.symbol == Symbol::motor) {
      std::vector<double> levels;
      for (const Pin& p : piece.pins) levels.push_back(row_y(p.row));
      motor_leads(group.parts, box, levels, device.presence);
    }
    if (is_block(piece.symbol)) {
      for (const Pin& p : piece.pins) {
        const bool left = p.side == Side::left;
        group.parts.push_back(text(left ? box.left + 1.2 : box.right - 1.2, row_y(p.row) + 1.3,
                                   p.mark, small_mm, left ? Anchor::start : Anchor::end));
      }
    }
    if (piece.symbol == Symbol::reference) {
      double y = box.top + 4.6;
      for (const auto& words : placed.name) {
        group.parts.push_back(
            text(0.5 * (box.left + box.right), y, words, small_mm, Anchor::middle));
        y += line_step;
      }
    } else {
      double y = std::min(box.top, row_y(placed.first_row) - words_up) - 1.8 -
                 line_step * static_cast<double>(placed.name.size() - 1);
      for (const auto& words : placed.name) {
        group.parts.push_back(text(placed.name_x, y, words, small_mm, Anchor::middle));
        y += line_step;
      }
      y = std::max(box.bottom, row_y(placed.last_row) + words_down) + 3.6;
      for (const auto& words : placed.facts) {
        group.parts.push_back(words == "LACKING"
                                  ? strong(placed.name_x, y, words, small_mm, Anchor::middle)
                                  : text(placed.name_x, y, words, small_mm, Anchor::middle));
        y += line_step;
      }
    }
    Element element{.shape = std::move(group)};
    element.tag.name = piece.reference ? "reference" : "symbol";
    element.tag.keys = {{"device", piece.device},
                        {"first", seen.insert(piece.device).second ? "yes" : "no"},
                        {"presence", std::string(word(device.presence))}};
    std::vector<std::string> ends;
    for (const Pin& p : piece.pins) {
      const std::string end = p.end.empty() ? piece.device + "." + p.mark : p.end;
      if (terminal(placed, p) >= 0 && std::find(ends.begin(), ends.end(), end) == ends.end())
        ends.push_back(end);
    }
    element.tag.keys.push_back({"ends", ww::join(ends, "|")});
    element.tag.title = device.label + ": " + device.why;
    leaf.parts.push_back(std::move(element));
    if (piece.symbol == Symbol::earth)
      leaf.parts.push_back(
          {.shape = draw::Group{earth_sign(box)},
           .style = {},
           .tag = {.name = "symbol", .keys = {{"device", piece.device}}, .title = {}}});
  }
}

void Ladder::put_edges(Leaf& leaf) const {
  for (const Edge& e : edges_) {
    const double ya = row_y(pin(e.a).row), yb = row_y(pin(e.b).row);
    const double xa = pin_x(e.a), xb = pin_x(e.b);
    std::vector<draw::Point> way{{xa, ya}};
    if (e.turn || ya != yb) {
      way.push_back({e.x, ya});
      way.push_back({e.x, yb});
    }
    way.push_back({xb, yb});
    draw::Group group;
    const bool of_contactor =
        of(e.b).piece.symbol == Symbol::contactor || of(e.a).piece.symbol == Symbol::contactor;
    const bool main = e.wire >= 0 ? sized(subject_, at(e.wire)).section_m2 >= 10e-6 : of_contactor;
    group.parts.push_back(
        {.shape = draw::Polyline{way}, .style = {.width = e.bar || main ? thick : plain}});
    if (e.wire >= 0) {
      const WireWords words = words_of(e.wire);
      const double x = cell_left_[at(label_column(e))] + 1.2;
      const double y = e.hub_b ? ya : yb;
      group.parts.push_back(strong(x, y - 1.5, words.above, small_mm));
      group.parts.push_back(text(x, y + 4.4, words.below, small_mm));
    }
    Element element{.shape = std::move(group)};
    if (e.wire >= 0) {
      const auto& wire = subject_.circuit->wires[at(e.wire)];
      element.tag = {
          .name = "wire", .keys = {{"wire", wire.label}}, .title = wire.label + ": " + wire.why};
    } else {
      element.tag = {.name = e.bar ? "bar" : "inner", .keys = {}, .title = {}};
      for (const PinAt& end : {e.a, e.b}) {
        const Pin& p = pin(end);
        if (e.bar) element.tag.keys.push_back({"end", of(end).piece.device + "." + p.mark});
      }
      // A page may not say one attribute twice.
      if (e.bar) element.tag.keys.back().name = "other";
    }
    leaf.parts.push_back(std::move(element));
  }
}

void Ladder::put_dots(Leaf& leaf) const {
  for (const auto& strip : tracks_) {
    for (const auto& group : strip) {
      std::map<int, int> ways;  // row -> level lines that meet the upright one there
      std::set<int> rows;
      bool hub_counted = false;
      for (const std::size_t i : group) {
        const Edge& e = edges_[i];
        const int hub = pin(e.hub_b ? e.b : e.a).row, other = pin(e.hub_b ? e.a : e.b).row;
        if (!hub_counted) ++ways[hub];
        hub_counted = true;
        ++ways[other];
        rows.insert(hub);
        rows.insert(other);
      }
      for (const int row : rows) {
        const int count =
            ways[row] + (row > *rows.begin() ? 1 : 0) + (row < *rows.rbegin() ? 1 : 0);
        if (count < 3) continue;
        leaf.parts.push_back({.shape = draw::Circle{{edges_[group.front()].x, row_y(row)}, 0.9},
                              .style = {.width = thin, .fill = draw::Ink::ink},
                              .tag = {.name = "joint", .keys = {}, .title = {}}});
      }
    }
  }
}

Leaf Ladder::leaf(const Elsewhere& elsewhere) {
  Leaf out{Format::a3, title_, "not to scale", {}, {}};
  fit(elsewhere);
  spread();
  const Box area = area_of(Format::a3);
  put_pieces(out);
  put_edges(out);
  put_dots(out);
  for (Element& element : out.parts) enlarge(element, zoom_, {area.left, area.top + legend_mm});
  out.parts.push_back(
      text(area.left, area.top + 3.6,
           "Dashed: assumed, not answered or not on the sheet yet. Dotted: lacking. By a wire: its "
           "label; mm2 and colour (IEC 60757). Thick without a label: metal, no wire. Contacts are "
           "drawn open.",
           small_mm));
  return out;
}

}  // namespace ww::prints
