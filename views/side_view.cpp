// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>

#include "build/fields.h"
#include "views/outline.h"
#include "views/shapes.h"
#include "views/views.h"

namespace ww::views {

namespace {

using draw::Circle;
using draw::Dash;
using draw::Element;
using draw::Ink;
using draw::Line;
using draw::Point;
using draw::Polyline;

class SideView {
 public:
  SideView(const build::Build& build, const ViewOptions& options)
      : build_(build),
        options_(options),
        pose_(pose_of(build, options.own)),
        man_(mannequin_of(build, pose_)),
        paper_(build, options, extent()) {}

  draw::Drawing draw() {
    paper_.part("rider", Rests::assumed, "rider, as tall as most, for orientation only",
                rider_side(man_, paper_));
    paper_.part("donor", Rests::assumed, "frame as is typical of the class; not to build by",
                frame_side(pose_, paper_));
    paper_.part("donor", Rests::assumed, "seat and tank cover, typical of the class",
                body_side(pose_, paper_));
    ground();
    wheel(pose_.rear, "tyre_rear", "rear wheel");
    wheel(pose_.front, "tyre_front", "front wheel");
    paper_.part("donor", Rests::assumed, "fork and bars, typical of the class",
                fork_side(pose_, paper_));
    bay();
    for (const Block& b : pose_.boxes) box(b);
    swingarm();
    motor();
    if (pose_.drive.kind == build::FinalDrive::chain || pose_.drive.kind == build::FinalDrive::belt)
      drive();
    peg();
    measures();
    return paper_.done("Side view, left",
                       "The bike from its left side, front at left, to scale. Dashed lines are "
                       "assumed; a scale bar of 500 mm stands below.");
  }

 private:
  Paper::Extent extent() const {
    const double head = man_.head.z + 150;
    const double rear = pose_.rear.centre.x - pose_.rear.radius.mm;
    const double front = pose_.front.centre.x + pose_.front.radius.mm;
    double high = std::max(head, pose_.stature.grip_z + 60);
    for (const Block& b : pose_.boxes) high = std::max(high, b.centre.z + 0.5 * b.height + 20);
    return {.rear_x = rear,
            .front_x = front,
            .above = std::min(high, 3000.0),
            .below = -pose_.ground_z + (options_.width_px < 700 ? 190.0 : 90.0)};
  }
  Point at(double x, double z) const { return paper_.at().side({x, 0, z}); }

  void ground() {
    const double z = pose_.ground_z;
    const Point left{paper_.left(), at(0, z).y}, right{paper_.right(), at(0, z).y};
    paper_.add({.shape = Line{left, right},
                .style = {.line = Ink::ink, .width = 1.2},
                .tag = {.name = "ground"}});
    paper_.add({.shape = draw::Hatch{{left,
                                      right,
                                      {right.x, right.y + 7 * paper_.pen()},
                                      {left.x, left.y + 7 * paper_.pen()}},
                                     9 * paper_.pen()},
                .style = {.line = Ink::faint, .width = 0.8}});
  }

  void wheel(const WheelPose& w, std::string_view slot, const char* name) {
    const Point c = paper_.at().side(w.centre);
    std::vector<Element> parts;
    draw::Style tyre = style_of(w.radius.rests);
    Element outer = shown(Circle{c, w.radius.mm}, tyre, build_, w.radius, options_.units);
    outer.tag.name = std::string(slot) == "tyre_rear" ? "wheel-rear" : "wheel-front";
    parts.push_back(std::move(outer));
    parts.push_back(
        {.shape = Circle{c, w.rim_radius},
         .style = {.line = tyre.line, .width = 0.9, .dash = tyre.dash, .fill = Ink::paper}});
    parts.push_back({.shape = Circle{c, w.rim_radius - 18}, .style = {.line = Ink::faint}});
    for (int i = 0; i < 5; ++i) {
      const double t = (i + 0.25) * 1.256637;
      for (const double side : {-0.07, 0.07}) {
        parts.push_back(
            {.shape = Line{{c.x + 45 * std::cos(t + 3 * side), c.y + 45 * std::sin(t + 3 * side)},
                           {c.x + (w.rim_radius - 18) * std::cos(t + side),
                            c.y + (w.rim_radius - 18) * std::sin(t + side)}},
             .style = {.line = Ink::faint, .width = 0.9}});
      }
    }
    parts.push_back({.shape = Circle{c, 12}, .style = {.line = Ink::soft}});
    paper_.part(slot, w.radius.rests,
                std::string(name) + ", " + told(build_, w.radius, options_.units),
                std::move(parts));
    const bool rear = slot == "tyre_rear";
    const double turn = rear ? -0.75 : -2.2;
    const double mid = 0.5 * (w.radius.mm + w.rim_radius);
    paper_.callout({.slot = slot,
                    .name = name,
                    .facts = tyre_facts(rear ? build_.tyre_rear : build_.tyre_front, w),
                    .at = {c.x + mid * std::cos(turn), c.y + mid * std::sin(turn)},
                    .to_the_right = rear});
    paper_.flags_at(slot, {c.x + (rear ? 0.55 : -0.7) * w.radius.mm, c.y - 0.72 * w.radius.mm});
  }

  std::string tyre_facts(const std::optional<build::Tyre>& tyre, const WheelPose& w) const {
    const std::string size = tyre ? tyre->size : std::string();
    const std::string across = length_text(2 * w.radius.mm, options_.units) + " across";
    if (w.radius.rests != Rests::given) return "assumed, " + across;
    return size.empty() ? across : size + ", " + across;
  }

  void bay() {
    const Rests rests = weaker(pose_.bay_length.rests, pose_.bay_height.rests);
    const double x0 = pose_.bay.x, x1 = x0 + pose_.bay_length.mm;
    const double z0 = pose_.bay.z, z1 = z0 + pose_.bay_height.mm;
    const draw::Style line{.line = Ink::soft,
                           .width = 0.9,
                           .dash = rests == Rests::given ? Dash::dash_dot : Dash::dashed};
    std::vector<Element> parts;
    parts.push_back(
        shown(Line{at(x0, z0), at(x1, z0)}, line, build_, pose_.bay_length, options_.units));
    parts.push_back(
        shown(Line{at(x0, z1), at(x1, z1)}, line, build_, pose_.bay_length, options_.units));
    parts.push_back(
        shown(Line{at(x0, z0), at(x0, z1)}, line, build_, pose_.bay_height, options_.units));
    parts.push_back(
        shown(Line{at(x1, z0), at(x1, z1)}, line, build_, pose_.bay_height, options_.units));
    paper_.part("donor", rests, "clear room of the frame bay", std::move(parts));
    paper_.callout({.slot = "donor",
                    .name = "frame bay",
                    .facts = std::string(rests == Rests::given ? "" : "assumed, ") +
                             length_text(pose_.bay_length.mm, options_.units) + " long, " +
                             length_text(pose_.bay_height.mm, options_.units) + " high",
                    .at = at(x1, z0 + 0.12 * pose_.bay_height.mm),
                    .to_the_right = false});
    paper_.flags_at("donor", at(x1 - 20, z1));
  }

  void swingarm() {
    const Point pivot = at(0, 0), axle = paper_.at().side(pose_.rear.centre);
    const double dx = axle.x - pivot.x, dy = axle.y - pivot.y;
    const double length = std::max(std::hypot(dx, dy), 1.0);
    const Point n{-dy / length, dx / length};
    const double a = 32, b = 20;
    std::vector<Element> parts;
    draw::Style style = style_of(pose_.swingarm.rests);
    parts.push_back(
        shown(Polyline{{{pivot.x + n.x * a, pivot.y + n.y * a},
                        {axle.x + n.x * b + dx / length * 30, axle.y + n.y * b + dy / length * 30},
                        {axle.x - n.x * b + dx / length * 30, axle.y - n.y * b + dy / length * 30},
                        {pivot.x - n.x * a, pivot.y - n.y * a}},
                       true},
              style, build_, pose_.swingarm, options_.units));
    parts.push_back({.shape = Circle{pivot, 14},
                     .style = {.line = Ink::ink, .width = 1.2, .fill = Ink::paper}});
    parts.push_back(
        {.shape = Circle{axle, 14}, .style = {.line = Ink::ink, .width = 1.2, .fill = Ink::paper}});
    paper_.part("donor", pose_.swingarm.rests, told(build_, pose_.swingarm, options_.units),
                std::move(parts));
    paper_.callout({.slot = "donor",
                    .name = "swingarm",
                    .facts = std::string(pose_.swingarm.rests == Rests::given ? "" : "assumed, ") +
                             length_text(pose_.swingarm.mm, options_.units) + " from pivot to axle",
                    .at = {pivot.x + 0.4 * dx, pivot.y + 0.4 * dy},
                    .to_the_right = true});
  }

  Rests shown_rests(std::string_view slot, Rests rests) const {
    return own_part(options_, slot) ? rests : weaker(rests, Rests::assumed);
  }
  std::string facts_of(std::string_view slot, Rests rests, const std::string& size) const {
    const auto* found = build::schema().slot(slot);
    const bool present = build::slot_present(build_, *found);
    if (!present) return "not chosen; drawn " + size + " as most are";
    if (!own_part(options_, slot)) return "sketched in, not chosen: " + size;
    const std::string name = part_name(build_, slot);
    return (name.empty() ? "" : name + ", ") + (rests == Rests::given ? size : size + " assumed");
  }

  void box(const Block& b) {
    const Rests size = shown_rests(b.slot, b.size);
    const Rests rests = weaker(size, b.place);
    const Point p = at(b.centre.x + 0.5 * b.length, b.centre.z + 0.5 * b.height);
    const Point q = at(b.centre.x - 0.5 * b.length, b.centre.z - 0.5 * b.height);
    std::vector<Element> parts;
    const std::string slot(b.slot);
    const draw::Style style = style_of(rests, true);
    parts.push_back(
        {.shape = rounded(p, q, 10),
         .style = style,
         .tag = {
             .name = {}, .keys = {{"field", slot + ".length " + slot + ".height"}}, .title = {}}});
    if (slot == "pack" && size != Rests::missing) cells(parts, p, q);
    const std::string measures = sizes_text({b.length, b.width, b.height}, options_.units);
    std::string title = std::string(b.label) + ": " + facts_of(b.slot, b.size, measures);
    if (b.place != Rests::given)
      title += slot == "pack" ? ". Its place is assumed: measure pack.x and pack.z on the mock-up"
                              : ". Its place is assumed: under the seat";
    paper_.part(b.slot, rests, title, std::move(parts));
    paper_.callout({.slot = b.slot,
                    .name = std::string(b.label),
                    .facts = facts_of(b.slot, b.size, measures) +
                             (b.place == Rests::given ? "" : "; place assumed"),
                    .at = slot == "pack" ? Point{p.x + 0.25 * (q.x - p.x), p.y + 0.25 * (q.y - p.y)}
                                         : Point{q.x - 0.2 * (q.x - p.x), 0.5 * (p.y + q.y)},
                    .to_the_right = slot != "pack"});
    paper_.flags_at(b.slot, {0.5 * (p.x + q.x), p.y});
  }

  /// Standing cells inside the box, as many as fit along it: only where the cell's size is known.
  void cells(std::vector<Element>& parts, const Point& p, const Point& q) const {
    if (!build_.cell) return;
    double thin =
        1000 * std::min({build_.cell->length.or_else(1e9), build_.cell->width.or_else(1e9),
                         build_.cell->height.or_else(1e9)});
    if (!(thin > 5) || thin > 0.5 * (q.x - p.x)) return;
    thin = std::max(thin, 6 * paper_.pen());
    const int count = static_cast<int>((q.x - p.x - 20) / thin);
    for (int i = 1; i < count; ++i) {
      const double x = p.x + (q.x - p.x) * i / count;
      parts.push_back({.shape = Line{{x, p.y + 8}, {x, q.y - 8}},
                       .style = {.line = Ink::accent, .width = 0.5}});
    }
  }

  void motor() {
    const MotorPose& m = pose_.motor;
    const Rests size = shown_rests("motor", m.diameter.rests);
    const Rests rests = size == Rests::missing ? size : weaker(size, m.place);
    const Point c = paper_.at().side(m.shaft);
    const double r = 0.5 * m.diameter.mm;
    std::vector<Element> parts;
    Element can = shown(Circle{c, r}, style_of(rests, true), build_, m.diameter, options_.units);
    can.tag.name = "motor-can";
    parts.push_back(std::move(can));
    if (!m.in_wheel) {
      // Face screws, for the eye only.
      parts.push_back({.shape = Circle{c, 0.8 * r}, .style = {.line = Ink::accent, .width = 0.5}});
      for (int i = 0; i < 6; ++i) {
        const double t = i * 1.0472 + 0.5236;
        parts.push_back(
            {.shape = Circle{{c.x + 0.8 * r * std::cos(t), c.y + 0.8 * r * std::sin(t)}, 5},
             .style = {.line = Ink::accent, .width = 0.7, .fill = Ink::paper}});
      }
    }
    parts.push_back(
        {.shape = Circle{c, 13}, .style = {.line = Ink::ink, .width = 1.2, .fill = Ink::paper}});
    const std::string measures = length_text(m.diameter.mm, options_.units) + " across, " +
                                 length_text(m.length.mm, options_.units) + " long";
    std::string title = std::string("motor: ") + facts_of("motor", m.diameter.rests, measures);
    if (m.place != Rests::given && !m.in_wheel)
      title += ". Its place is assumed: measure layout.motor_x and layout.motor_z on the mock-up";
    paper_.part("motor", rests, title, std::move(parts));
    paper_.callout({.slot = "motor",
                    .name = m.in_wheel ? "hub motor" : "motor",
                    .facts = facts_of("motor", m.diameter.rests, measures) +
                             (m.place == Rests::given ? "" : "; place assumed"),
                    .at = {c.x - 0.7 * r, c.y - 0.35 * r},
                    .to_the_right = m.in_wheel});
    paper_.flags_at("motor", {c.x, c.y - r});
  }

  void sprocket(std::string_view slot, const char* name, const Spot& spot, int teeth,
                double diameter, Rests rests) {
    const Point c = paper_.at().side(spot);
    const draw::Style style = style_of(rests);
    std::vector<Element> parts;
    if (pose_.drive.kind == build::FinalDrive::belt) {
      parts.push_back({.shape = Circle{c, 0.5 * diameter},
                       .style = {.line = style.line, .width = style.width, .dash = style.dash}});
    } else {
      parts.push_back({.shape = Polyline{tooth_outline(c, pose_.drive.pitch, teeth), true},
                       .style = {.line = style.line, .width = 0.9, .dash = style.dash}});
    }
    parts.push_back(
        {.shape = Circle{c, 0.5 * diameter},
         .style = {.line = Ink::soft, .width = 0.6, .dash = Dash::dash_dot},
         .tag = {.name = slot == "sprocket_front" ? "pitch-circle-front" : "pitch-circle-rear",
                 .keys = {{"field", slot == "sprocket_front" ? "gearing.front_teeth"
                                                             : "gearing.rear_teeth"}},
                 .title = {}}});
    paper_.part(slot, rests,
                std::string(name) + ": " + std::to_string(teeth) + " teeth" +
                    (rests == Rests::given ? "" : ", assumed"),
                std::move(parts));
    paper_.flags_at(slot, {c.x + 0.4 * diameter, c.y - 0.3 * diameter});
  }

  void drive() {
    const DrivePose& d = pose_.drive;
    const Rests rests = weaker(weaker(d.front_rests, d.rear_rests), pose_.motor.place);
    const bool belt = d.kind == build::FinalDrive::belt;
    const Point front = paper_.at().side(d.front), rear = paper_.at().side(d.rear);
    const double half = belt ? 4 : 0.42 * d.pitch;
    std::vector<Element> parts;
    const draw::Style line{
        .line = Ink::ink, .width = 1.1, .dash = rests == Rests::given ? Dash::solid : Dash::dashed};
    for (const double off : {half, -half}) {
      const double fr = std::max(0.5 * d.front_diameter + off, 2.0),
                   rr = std::max(0.5 * d.rear_diameter + off, 2.0);
      const Loop loop = loop_round({front, rear, fr, rr});
      if (!loop.possible) continue;
      parts.push_back({.shape = Line{loop.top_front, loop.top_rear}, .style = line});
      parts.push_back({.shape = Line{loop.bottom_front, loop.bottom_rear}, .style = line});
      parts.push_back(
          {.shape = draw::Arc{front, fr, loop.front_from, loop.front_to}, .style = line});
      parts.push_back({.shape = draw::Arc{rear, rr, loop.rear_from, loop.rear_to}, .style = line});
    }
    sprocket("sprocket_rear", "rear sprocket", d.rear, d.rear_teeth, d.rear_diameter, d.rear_rests);
    sprocket("sprocket_front", "front sprocket", d.front, d.front_teeth, d.front_diameter,
             d.front_rests);
    paper_.part(belt ? "belt" : "chain", rests, belt ? "belt" : "chain", std::move(parts));
    const Loop middle = loop_round({front, rear, 0.5 * d.front_diameter, 0.5 * d.rear_diameter});
    if (!middle.possible) return;
    const std::string teeth =
        std::to_string(d.front_teeth) + " to " + std::to_string(d.rear_teeth) + " teeth";
    paper_.callout(
        {.slot = belt ? "belt" : "chain",
         .name = belt ? "belt drive" : "chain drive",
         .facts = teeth + (weaker(d.front_rests, d.rear_rests) == Rests::given ? "" : ", assumed"),
         .at = {0.35 * middle.top_front.x + 0.65 * middle.top_rear.x,
                0.35 * middle.top_front.y + 0.65 * middle.top_rear.y},
         .to_the_right = true});
    paper_.flags_at(belt ? "belt" : "chain", {0.5 * (middle.top_front.x + middle.top_rear.x),
                                              0.5 * (middle.top_front.y + middle.top_rear.y)});
    paper_.flags_at("gearing",
                    {middle.bottom_front.x + 0.3 * (middle.bottom_rear.x - middle.bottom_front.x),
                     middle.bottom_front.y + 0.3 * (middle.bottom_rear.y - middle.bottom_front.y)});
  }

  void peg() {
    const Point c = at(pose_.stature.peg_x, pose_.stature.peg_z);
    paper_.part(
        "donor", Rests::assumed, "foot peg, typical of the class",
        {{.shape = Circle{c, 16}, .style = {.line = Ink::soft, .width = 1, .fill = Ink::paper}}});
  }

  void measures() {
    const double z = pose_.ground_z;
    const Point rear = at(pose_.rear.centre.x, z), front = at(pose_.front.centre.x, z);
    const double down = 34 * paper_.pen();
    const std::string assumed = pose_.wheelbase.rests == Rests::given ? "" : " (assumed)";
    paper_.add(shown(
        draw::Dimension{{front.x, front.y},
                        {rear.x, rear.y},
                        -down,
                        "wheelbase " + length_text(pose_.wheelbase.mm, options_.units) + assumed,
                        paper_.small()},
        {}, build_, pose_.wheelbase, options_.units));
  }

  const build::Build& build_;
  const ViewOptions& options_;
  Pose pose_;
  Mannequin man_;
  Paper paper_;
};

}  // namespace

std::vector<Flag> flags_of(const std::vector<fit::Finding>& findings) {
  std::vector<Flag> flags;
  for (const fit::Finding& f : findings) {
    const bool blocks = f.rule->blocks != fit::Blocks::nothing;
    if (f.verdict != fit::Verdict::clash && !(f.verdict == fit::Verdict::unmeasured && blocks))
      continue;
    std::vector<std::string> slots(f.rule->between.begin(), f.rule->between.end());
    if (slots.empty()) {
      for (const std::string_view need : f.rule->needs) {
        const auto id = build::schema().find(need);
        if (id < 0) continue;
        const std::string slot(build::schema()[id].slot->key);
        if (std::find(slots.begin(), slots.end(), slot) == slots.end()) slots.push_back(slot);
      }
    }
    for (const std::string& slot : slots)
      flags.push_back({slot, std::string(f.rule->id), f.verdict,
                       f.because.empty() ? std::string(f.rule->title) : f.because});
  }
  return flags;
}

draw::Drawing side_view(const build::Build& build, const ViewOptions& options) {
  return SideView(build, options).draw();
}

}  // namespace ww::views
