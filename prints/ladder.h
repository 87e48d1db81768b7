// SPDX-License-Identifier: MIT
// Lays a part of the net list out on one page: devices in columns and rows, wires at right angles.
// Invariants:
// 1. A column is a strip for upright lines and a cell for symbols, names and wire labels; a row is
// a
//    band that belongs to it alone. So an upright line meets no letters and no symbol, and a level
//    one only those of its own row.
// 2. A wire is drawn on the page on which both its ends stand; an end that stands on another page
// is
//    there as a reference that names the page.
// 3. A terminal has one place in all pages together; a device may have several pieces, the first of
//    which carries its symbol's name alone, the others the page of the first.
// Private to prints/.
#pragma once

#include <map>
#include <set>
#include <string>
#include <vector>

#include "prints/paper.h"
#include "prints/symbols.h"

namespace ww::prints {

enum class Side : std::uint8_t { left, right };

/// Where a line may join a piece.
struct Pin {
  std::string mark;  ///< the terminal's; empty: an inner end, joined by `inner`
  Side side;
  int row;
  std::string wire = {};  ///< only this wire, or a bar to "=device.mark"
  std::string end = {};   ///< a terminal of another device that this pin stands for
};

struct Piece {
  std::string device;
  Symbol symbol;
  int column;
  std::vector<Pin> pins;
  std::string name = {};  ///< instead of the device's label
  bool reference = false;
  int row = 0;  ///< of a piece without pins
};

/// Which page a terminal stands on, and which lines go on from it elsewhere.
struct Crossing {
  int page;
  std::string wire;
};

class Ladder {
 public:
  Ladder(const Subject& subject, std::string title, int page)
      : subject_(subject), title_(std::move(title)), page_(page) {}

  /// A piece of a device that the circuit has; pins of terminals it has not are dropped. Gives its
  /// number, -1 where nothing is left of it.
  int piece(Piece piece);
  /// An end that stands elsewhere, with the wires to it that this page shows, a row each.
  struct Ask {
    std::string end;  ///< "contactor.in"
    Side side;
    int column;
    std::vector<std::pair<std::string, int>> wires;  ///< label or "=device.mark", and row
  };
  void reference(const Ask& ask);
  /// A line inside a device, between the unnamed pins of two of its pieces.
  void inner(int from_piece, int to_piece);
  bool has(const std::string& device) const { return subject_.circuit->device(device) != nullptr; }
  bool has_end(const std::string& end) const {
    return wiring::terminal_of(*subject_.circuit, end) >= 0;
  }
  bool empty() const { return pieces_.empty(); }
  int page() const { return page_; }

  /// Finds the lines whose ends both stand here. `drawn_wires`, `drawn_bars`: marked.
  void join(std::vector<std::uint8_t>& drawn_wires, std::vector<std::uint8_t>& drawn_bars);
  /// Terminals that stand here, not as references.
  std::vector<int> terminals() const;
  /// Devices with a piece here.
  std::vector<std::string> devices() const;
  /// What the references of this page refer to: terminal and line.
  std::vector<std::pair<int, std::string>> references() const;

  /// The finished page. `home`: the page of each device's first piece; `crossings`: by terminal.
  struct Elsewhere {
    std::map<std::string, int> home;
    std::map<std::string, std::set<int>> pages;  ///< all of a device's
    std::map<int, int> page_of_terminal;
    std::map<int, std::vector<Crossing>> crossings;
  };
  Leaf leaf(const Elsewhere& elsewhere);

 private:
  struct Placed {
    Piece piece;
    int first_row, last_row;
    std::vector<std::string> name, facts;
    draw::Box box{};  ///< of the symbol
    double name_x = 0;
  };
  struct PinAt {
    int piece, pin;
  };
  struct Edge {
    PinAt a, b;  ///< a: its right side, or the farther one of two right sides
    int wire;    ///< -1: metal or an inner line
    bool bar;
    bool turn;     ///< both on right sides
    bool hub_b;    ///< upright line before b, not behind a
    double x = 0;  ///< of the upright line
  };
  const Pin& pin(const PinAt& at) const {
    return pieces_[static_cast<std::size_t>(at.piece)].piece.pins[static_cast<std::size_t>(at.pin)];
  }
  const Placed& of(const PinAt& at) const { return pieces_[static_cast<std::size_t>(at.piece)]; }
  int terminal(const Placed& placed, const Pin& pin) const;
  std::vector<PinAt> pins_of(int terminal, const std::string& label) const;
  bool connect(int from, int to, const std::string& label_from, const std::string& label_to,
               int wire);
  void add_edge(PinAt a, PinAt b, int wire, bool bar);
  bool same(const PinAt& one, const PinAt& other) const;
  int uses(const PinAt& at) const;
  void choose_hubs();
  void name_pieces(const Elsewhere& elsewhere, double limit);
  void size_columns();
  void place_tracks();
  void place_rows();
  double needed_width() const;
  double needed_height() const;
  std::vector<double> cell_widths() const;
  void fit(const Elsewhere& elsewhere);
  void spread();
  void put_pieces(Leaf& leaf) const;
  void put_edges(Leaf& leaf) const;
  void put_dots(Leaf& leaf) const;
  struct WireWords {
    std::string above, below;
  };
  WireWords words_of(int wire) const;
  double label_width(const Edge& edge) const;
  int label_column(const Edge& edge) const;
  double pin_x(const PinAt& at) const;
  double row_y(int row) const { return rows_[static_cast<std::size_t>(row)]; }
  double symbol_half(const Placed& placed) const;

  const Subject& subject_;
  std::string title_;
  int page_;
  std::vector<Placed> pieces_;
  std::vector<Edge> edges_;
  int columns_ = 0, row_count_ = 0;
  double zoom_ = 1;  ///< everything is laid out in mm and drawn larger by this, but for the pens
  std::vector<double> strip_left_, cell_left_, cell_right_, label_zone_;
  std::vector<std::vector<std::vector<std::size_t>>> tracks_;  ///< by strip: tracks of edges
  std::vector<double> rows_, up_, down_;
};

}  // namespace ww::prints
