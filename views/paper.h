// SPDX-License-Identifier: MIT
// The sheet that both views are drawn on: lettering, callouts, flags, scale bar, legend. Private to
// views/.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "draw/layout.h"
#include "views/views.h"

namespace ww::views {

/// From the bike to the sheet. Front is at the left in both views: the only place that mirrors.
struct Projection {
  double left_x;  ///< the bike's x at the sheet's left edge
  double origin_y;
  draw::Point side(const Spot& s) const { return {left_x - s.x, origin_y - s.z}; }
  draw::Point top(const Spot& s) const { return {left_x - s.x, origin_y + s.y}; }
};

/// A part's name with a line to it.
struct Callout {
  std::string_view slot;
  std::string name, facts;
  draw::Point at;
  bool to_the_right;   ///< its column on a wide sheet
  bool below = false;  ///< under the bike instead of above it; needs `names_below`
};

class Paper {
 public:
  /// `x` from the rearmost to the foremost point of the bike; `above`, `below` the origin, all mm.
  struct Extent {
    double rear_x, front_x, above, below;
    double names_below = 0;  ///< where the names under the bike begin, from the origin
  };
  Paper(const build::Build& build, const ViewOptions& options, const Extent& extent);
  /// How many mm of the bike one pixel of the sheet is.
  static double pen_of(const ViewOptions& options, double length_mm);

  const Projection& at() const { return projection_; }
  double pen() const { return pen_; }
  bool narrow() const { return options_.width_px < 700; }
  double letters() const { return 12 * pen_; }
  double small() const { return 11 * pen_; }
  double left() const { return margin_; }
  double right() const { return width_ - margin_; }
  double bottom() const { return body_bottom_; }

  void add(draw::Element element) { parts_.push_back(std::move(element)); }
  /// One part of the bike.
  void part(std::string_view slot, Rests rests, std::string title,
            std::vector<draw::Element> shapes);
  void callout(Callout callout) { callouts_.push_back(std::move(callout)); }
  /// Where the flags of a part are planted.
  void flags_at(std::string_view slot, const draw::Point& at);
  /// No label may cover this.
  void keep_free(const draw::Box& box) { labels_.keep_free(box); }

  /// The finished drawing.
  draw::Drawing done(const std::string& title, std::string description);

 private:
  void write_callouts();
  void write_column(std::vector<Callout> column, bool right, double top);
  /// Where one callout of a column stands.
  struct Shelf {
    bool right;
    double x, edge, y;
  };
  /// Gives how far down it reaches.
  double write_callout(const Callout& callout, const Shelf& shelf);
  void write_balloons();
  void write_flags();
  /// The rules of one verdict on a part.
  struct Count {
    int count = 0;
    std::string rules, says;
  };
  Count counted(std::string_view slot, fit::Verdict verdict) const;
  void plant(std::string_view slot, fit::Verdict verdict, const Count& count,
             const draw::Point& at);
  void scale_bar();
  void legend();

  const build::Build& build_;
  const ViewOptions& options_;
  double pen_, margin_, width_, body_bottom_, names_below_, y_;
  Projection projection_{};
  draw::Labels labels_;
  std::vector<draw::Element> parts_;
  std::vector<Callout> callouts_;
  std::vector<std::pair<std::string, draw::Point>> poles_;
};

/// How a line of this standing looks; power parts take the accent.
draw::Style style_of(Rests rests, bool power = false);
/// "can diameter, largest: 206 mm" or "can diameter, largest: assumed 200 mm; measure: ...".
std::string told(const build::Build& build, const Measure& measure, figure::System units);
/// A shape that shows one figure.
draw::Element shown(draw::Shape shape, const draw::Style& style, const build::Build& build,
                    const Measure& measure, figure::System units);
std::string length_text(double mm, figure::System units);
/// "404 x 239 x 274 mm", with the sign of multiplication.
std::string sizes_text(const std::vector<double>& mm, figure::System units);
/// Whether the builder's own sheet has this part; true where no sheet of his own was handed over.
bool own_part(const ViewOptions& options, std::string_view slot);
/// The part's name, its label or id, for a callout.
std::string part_name(const build::Build& build, std::string_view slot);

}  // namespace ww::views
