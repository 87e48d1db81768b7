// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>

#include "build/fields.h"
#include "views/outline.h"
#include "views/shapes.h"
#include "views/views.h"

namespace ww::views {

namespace {

using draw::Dash;
using draw::Element;
using draw::Ink;
using draw::Line;
using draw::Point;

class TopView {
 public:
  TopView(const build::Build& build, const ViewOptions& options)
      : build_(build),
        options_(options),
        pose_(pose_of(build, options.own)),
        man_(mannequin_of(build, pose_)),
        paper_(build, options, extent()) {}

  draw::Drawing draw() {
    const Measure heels = heel_width();
    paper_.part("donor", Rests::assumed,
                "bars, fork, tank cover, seat and boots as is typical of the class",
                outline_top(pose_, man_, heels.mm, paper_));
    centre_line();
    wheel(pose_.rear, "tyre_rear", "rear wheel");
    wheel(pose_.front, "tyre_front", "front wheel");
    swingarm();
    bay();
    for (const Block& b : pose_.boxes) box(b);
    motor();
    if (pose_.drive.kind == build::FinalDrive::chain || pose_.drive.kind == build::FinalDrive::belt)
      drive();
    sides();
    return paper_.done("View from above",
                       "The bike from above, front at left, its left side below, to scale. Dashed "
                       "lines are assumed; a scale bar of 500 mm stands below.");
  }

 private:
  /// Names stand clear above and below the bike: the narrower the sheet, the more of it they take.
  Paper::Extent extent() const {
    Paper::Extent out{.rear_x = pose_.rear.centre.x - pose_.rear.radius.mm,
                      .front_x = pose_.front.centre.x + pose_.front.radius.mm,
                      .above = 400,
                      .below = 430};
    if (options_.width_px < 700) return out;
    const double pen = Paper::pen_of(options_, out.front_x - out.rear_x);
    const auto beside = [](const Measure& room) { return std::clamp(room.mm, 100.0, 400.0); };
    out.above = std::max(420.0, beside(pose_.side_right) + 124 * pen);
    out.names_below = beside(pose_.side_left) + 14 * pen;
    out.below = std::max(450.0, out.names_below + 92 * pen);
    return out;
  }
  Point at(double x, double y) const { return paper_.at().top({x, y, 0}); }
  Measure heel_width() const {
    const auto* figure = build::figure_at(build_, build::id_of("rider.lean_side_width"));
    const bool known =
        figure != nullptr && figure->known() && figure->value > 0.05 && figure->value < 1.5;
    return {known ? figure->value * 1000 : 380, known ? Rests::given : Rests::assumed,
            "rider.lean_side_width"};
  }

  void centre_line() {
    paper_.add(
        {.shape = Line{{paper_.left(), at(0, 0).y}, {paper_.right(), at(0, 0).y}},
         .style = {.line = Ink::soft, .width = 0.6, .dash = Dash::dash_dot},
         .tag = {.name = "centre-plane", .keys = {}, .title = "centre plane of the wheels"}});
  }

  void wheel(const WheelPose& w, std::string_view slot, const char* name) {
    const Rests rests = weaker(w.radius.rests, w.width.rests);
    const double half = 0.5 * w.width.mm;
    std::vector<Element> parts;
    parts.push_back(shown(rounded(at(w.centre.x + w.radius.mm, -half),
                                  at(w.centre.x - w.radius.mm, half), 0.9 * half),
                          style_of(rests), build_, w.width, options_.units));
    parts.push_back({.shape = Line{at(w.centre.x, -half - 60), at(w.centre.x, half + 60)},
                     .style = {.line = Ink::soft, .width = 0.8, .dash = Dash::dash_dot}});
    paper_.part(slot, rests, std::string(name) + ", " + told(build_, w.width, options_.units),
                std::move(parts));
    const bool rear = slot == "tyre_rear";
    paper_.callout({.slot = slot,
                    .name = name,
                    .facts = length_text(w.width.mm, options_.units) + " wide" +
                             (w.width.rests == Rests::given ? "" : ", assumed"),
                    .at = at(w.centre.x + (rear ? 0.7 : -0.7) * w.radius.mm, 0.5 * half),
                    .to_the_right = rear,
                    .below = true});
    paper_.flags_at(slot, at(w.centre.x + (rear ? -0.8 : 0.5) * w.radius.mm, -half));
  }

  void swingarm() {
    const Measure& width = pose_.swingarm_width;
    const Rests rests = weaker(pose_.swingarm.rests, width.rests);
    const draw::Style style = style_of(rests);
    std::vector<Element> parts;
    const double outside = 0.5 * width.mm, tube = 34;
    const double axle = pose_.rear.centre.x;
    for (const double side : {1.0, -1.0}) {
      parts.push_back(shown(
          draw::Polyline{{at(25, side * outside), at(axle - 30, side * outside),
                          at(axle - 30, side * (outside - tube)), at(25, side * (outside - tube))},
                         true},
          style, build_, width, options_.units));
    }
    parts.push_back({.shape = rounded(at(32, -outside), at(-32, outside), 12), .style = style});
    paper_.part("donor", rests, told(build_, width, options_.units), std::move(parts));
  }

  void bay() {
    const Rests rests = weaker(pose_.bay_length.rests, pose_.bay_width.rests);
    const double x0 = pose_.bay.x, x1 = x0 + pose_.bay_length.mm, half = 0.5 * pose_.bay_width.mm;
    const draw::Style line{.line = Ink::soft,
                           .width = 0.9,
                           .dash = rests == Rests::given ? Dash::dash_dot : Dash::dashed};
    std::vector<Element> parts;
    for (const double y : {half, -half})
      parts.push_back(
          shown(Line{at(x0, y), at(x1, y)}, line, build_, pose_.bay_length, options_.units));
    for (const double x : {x0, x1})
      parts.push_back(
          shown(Line{at(x, half), at(x, -half)}, line, build_, pose_.bay_width, options_.units));
    paper_.part("donor", rests,
                "clear room of the frame bay, " + told(build_, pose_.bay_width, options_.units),
                std::move(parts));
    paper_.callout({.slot = "donor",
                    .name = "frame bay",
                    .facts = std::string(rests == Rests::given ? "" : "assumed, ") +
                             length_text(pose_.bay_width.mm, options_.units) + " wide",
                    .at = at(x1, -0.8 * half),
                    .to_the_right = false});
    paper_.flags_at("donor", at(x1 - 15, -half));
  }

  std::string facts_of(std::string_view slot, const std::string& size, bool known) const {
    if (!build::slot_present(build_, *build::schema().slot(slot)))
      return "not chosen; drawn " + size;
    if (!own_part(options_, slot)) return "sketched in, not chosen: " + size;
    return known ? size : size + " assumed";
  }
  Rests shown_rests(std::string_view slot, Rests rests) const {
    return own_part(options_, slot) ? rests : weaker(rests, Rests::assumed);
  }

  void box(const Block& b) {
    const Rests rests = weaker(shown_rests(b.slot, b.size), b.place);
    const Point p = at(b.centre.x + 0.5 * b.length, b.centre.y - 0.5 * b.width);
    const Point q = at(b.centre.x - 0.5 * b.length, b.centre.y + 0.5 * b.width);
    const std::string slot(b.slot);
    const std::string size = length_text(b.width, options_.units) + " wide";
    draw::Style style = style_of(rests, true);
    style.fill_opacity *= 0.7;
    paper_.part(
        b.slot, rests, std::string(b.label) + ": " + facts_of(b.slot, size, b.size == Rests::given),
        {{.shape = rounded(p, q, 10),
          .style = style,
          .tag = {
              .name = {}, .keys = {{"field", slot + ".length " + slot + ".width"}}, .title = {}}}});
    paper_.callout({.slot = b.slot,
                    .name = std::string(b.label),
                    .facts = facts_of(b.slot, size, b.size == Rests::given),
                    .at = slot == "pack" ? Point{p.x + 0.15 * (q.x - p.x), p.y + 0.12 * (q.y - p.y)}
                                         : Point{q.x - 0.2 * (q.x - p.x), p.y + 0.2 * (q.y - p.y)},
                    .to_the_right = slot != "pack"});
    paper_.flags_at(b.slot, {p.x + (slot == "pack" ? 0.6 : 0.5) * (q.x - p.x), p.y});
  }

  /// The can with its terminals, and the room their cables need to bend.
  void motor() {
    const MotorPose& m = pose_.motor;
    const Rests size = shown_rests("motor", weaker(m.length.rests, m.diameter.rests));
    const Rests rests = size == Rests::missing ? size : weaker(size, m.place);
    const double r = 0.5 * m.diameter.mm;
    const double near = m.face_y, far = m.face_y - m.length.mm;
    std::vector<Element> parts;
    Element can = shown(rounded(at(m.shaft.x + r, far), at(m.shaft.x - r, near), 8),
                        style_of(rests, true), build_, m.length, options_.units);
    can.tag.name = "motor-can";
    parts.push_back(std::move(can));
    if (!m.in_wheel) {
      // The shaft to the sprocket.
      parts.push_back({.shape = rounded(at(m.shaft.x + 13, near),
                                        at(m.shaft.x - 13, pose_.drive.chainline.mm + 12), 2),
                       .style = {.line = Ink::ink, .width = 1, .fill = Ink::paper}});
      terminals(parts, far);
    }
    const std::string measures = length_text(m.diameter.mm, options_.units) + " across, " +
                                 length_text(m.length.mm, options_.units) + " long, " +
                                 length_text(m.with_terminals.mm, options_.units) +
                                 " with terminals";
    paper_.part("motor", rests, "motor: " + facts_of("motor", measures, size == Rests::given),
                std::move(parts));
    paper_.callout({.slot = "motor",
                    .name = m.in_wheel ? "hub motor" : "motor",
                    .facts = facts_of("motor", measures, size == Rests::given),
                    .at = at(m.shaft.x - 0.6 * r, far + 0.12 * m.length.mm),
                    .to_the_right = true});
    paper_.flags_at("motor", at(m.shaft.x - 0.5 * r, far));
  }

  void terminals(std::vector<Element>& parts, double far) {
    const MotorPose& m = pose_.motor;
    const double tip = m.face_y - m.with_terminals.mm;
    draw::Style style = style_of(weaker(m.with_terminals.rests, m.place), true);
    if (m.with_terminals.rests == Rests::missing) style = style_of(Rests::missing);
    const double r = 0.5 * m.diameter.mm;
    if (far - tip > 2)
      parts.push_back(
          shown(rounded(at(m.shaft.x + 0.55 * r, tip), at(m.shaft.x - 0.55 * r, far), 4), style,
                build_, m.with_terminals, options_.units));
    // Three cables turn away to the front within the room they were given.
    draw::Style cable{.line = Ink::accent,
                      .width = 2.2,
                      .dash = m.bend.rests == Rests::given ? Dash::solid : Dash::dashed};
    if (m.bend.rests == Rests::missing)
      cable = {.line = Ink::soft, .width = 1, .dash = Dash::dashed};
    using Kind = draw::Step::Kind;
    for (int i = -1; i <= 1; ++i) {
      const double x = m.shaft.x + 0.32 * r * i;
      const double deep = std::max(m.bend.mm - 8.0 * (i + 1), 8.0);
      parts.push_back(shown(draw::Path{{{Kind::move, at(x, tip)},
                                        {Kind::curve, at(x + deep + 30, tip - deep),
                                         at(x, tip - 0.9 * deep), at(x + 0.3 * deep, tip - deep)},
                                        {Kind::line, at(m.shaft.x + r + 60, tip - deep)}}},
                            cable, build_, m.bend, options_.units));
    }
    // What lies beyond the bend is where a cover or a knee may stand.
    const double reach = tip - m.bend.mm;
    parts.push_back({.shape = Line{at(m.shaft.x - r, reach - 6), at(m.shaft.x + r + 60, reach - 6)},
                     .style = {.line = Ink::soft, .width = 0.7, .dash = Dash::dotted},
                     .tag = {.name = "reach",
                             .keys = {{"field", "motor.terminal_bend"}},
                             .title = "outermost of motor, terminals and bent cables: " +
                                      length_text(std::abs(reach), options_.units) +
                                      " right of the centre plane"}});
  }

  void drive() {
    const DrivePose& d = pose_.drive;
    const bool belt = d.kind == build::FinalDrive::belt;
    const double y = d.chainline.mm, thick = belt ? 20 : 7;
    const Rests teeth = weaker(d.front_rests, d.rear_rests);
    const auto edge_on = [&](std::string_view slot, const Spot& spot, double diameter,
                             Rests rests) {
      paper_.part(slot, weaker(rests, d.chainline.rests),
                  slot == "sprocket_front" ? "front sprocket, edge-on" : "rear sprocket, edge-on",
                  {{.shape = rectangle(at(spot.x + 0.5 * diameter, y - 0.5 * thick),
                                       at(spot.x - 0.5 * diameter, y + 0.5 * thick)),
                    .style = style_of(weaker(rests, d.chainline.rests))}});
      paper_.flags_at(slot, at(spot.x - 0.3 * diameter, y - 10));
    };
    const double wide = belt ? 24 : 1.0 * d.pitch;
    const draw::Style line{
        .line = Ink::ink,
        .width = 1,
        .dash = weaker(teeth, d.chainline.rests) == Rests::given ? Dash::solid : Dash::dashed};
    std::vector<Element> parts;
    const double from = d.front.x + 0.5 * d.front_diameter + 6,
                 to = d.rear.x - 0.5 * d.rear_diameter - 6;
    parts.push_back(shown(rectangle(at(from, y - 0.5 * wide), at(to, y + 0.5 * wide)), line, build_,
                          d.chainline, options_.units));
    paper_.part(
        belt ? "belt" : "chain", weaker(teeth, d.chainline.rests),
        std::string(belt ? "belt, " : "chain, ") + told(build_, d.chainline, options_.units),
        std::move(parts));
    edge_on("sprocket_rear", d.rear, d.rear_diameter, d.rear_rests);
    edge_on("sprocket_front", d.front, d.front_diameter, d.front_rests);
    paper_.callout({.slot = belt ? "belt" : "chain",
                    .name = belt ? "belt" : "chain",
                    .facts = length_text(y, options_.units) + " left of the centre plane" +
                             (d.chainline.rests == Rests::given ? "" : ", assumed"),
                    .at = at(0.5 * (d.front.x + d.rear.x), y),
                    .to_the_right = true,
                    .below = true});
    paper_.flags_at(belt ? "belt" : "chain", at(0.4 * d.rear.x + 0.6 * d.front.x, y - 10));
    const double x = d.rear.x - 0.5 * d.rear_diameter - 40;
    paper_.add(shown(draw::Dimension{at(x, 0), at(x, y), 0, "", paper_.small()}, {}, build_,
                     d.chainline, options_.units));
    if (paper_.narrow()) return;
    const Point beside = at(x, 0.5 * y);
    paper_.add(
        {.shape = draw::Text{.at = {beside.x + 6 * paper_.pen(), beside.y + 0.36 * paper_.small()},
                             .text = length_text(y, options_.units),
                             .size = paper_.small(),
                             .halo = true},
         .style = {.line = Ink::ink},
         .tag = {.name = "label"}});
  }

  /// How far the bike may reach to each side.
  void sides() {
    for (const auto& [measure, side, words] :
         {std::tuple{pose_.side_left, 1.0, "room to the left"},
          std::tuple{pose_.side_right, -1.0, "room to the right"}}) {
      const double y = side * measure.mm;
      const double x0 = pose_.bay.x - 40, x1 = pose_.bay.x + pose_.bay_length.mm + 40;
      Element line = shown(Line{at(x0, y), at(x1, y)},
                           {.line = Ink::ink,
                            .width = 1,
                            .dash = measure.rests == Rests::given ? Dash::long_dash : Dash::dashed},
                           build_, measure, options_.units);
      paper_.add(std::move(line));
      if (paper_.narrow()) continue;
      const Point end = at(x1, y);
      paper_.add(
          {.shape = draw::Text{.at = {end.x - 6 * paper_.pen(), end.y + 0.36 * paper_.small()},
                               .text = std::string(words) + " " +
                                       length_text(measure.mm, options_.units) +
                                       (measure.rests == Rests::given ? "" : ", assumed"),
                               .size = paper_.small(),
                               .anchor = draw::Anchor::end,
                               .halo = true},
           .style = {.line = Ink::soft},
           .tag = {.name = "label"}});
    }
  }

  const build::Build& build_;
  const ViewOptions& options_;
  Pose pose_;
  Mannequin man_;
  Paper paper_;
};

}  // namespace

draw::Drawing top_view(const build::Build& build, const ViewOptions& options) {
  return TopView(build, options).draw();
}

}  // namespace ww::views
