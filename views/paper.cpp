// SPDX-License-Identifier: MIT
#include "views/paper.h"

#include <algorithm>
#include <cmath>

#include "build/fields.h"

namespace ww::views {

using draw::Anchor;
using draw::Dash;
using draw::Element;
using draw::Ink;
using draw::Point;
using draw::Polyline;
using draw::Text;

draw::Style style_of(Rests rests, bool power) {
  const Ink line = power ? Ink::accent : Ink::ink;
  switch (rests) {
    case Rests::given:
      return {.line = line,
              .width = 1.4,
              .fill = power ? Ink::accent : Ink::wash,
              .fill_opacity = power ? 0.16 : 0.9};
    case Rests::assumed:
      return {.line = line,
              .width = 1.1,
              .dash = Dash::dashed,
              .fill = power ? Ink::accent : Ink::wash,
              .fill_opacity = power ? 0.07 : 0.5};
    case Rests::missing:
      break;
  }
  return {.line = Ink::soft, .width = 0.8, .dash = Dash::dashed};
}

std::string length_text(double mm, figure::System units) {
  // Nobody measures a bike to tenths of a millimetre: a worked-out length is told in whole ones.
  if (units == figure::System::metric && std::fabs(mm) >= 100) mm = std::round(mm);
  return figure::print(mm / 1000, figure::Kind::length, units);
}

std::string sizes_text(const std::vector<double>& mm, figure::System units) {
  std::string out, unit;
  for (std::size_t i = 0; i < mm.size(); ++i) {
    const std::string text = length_text(mm[i], units);
    const std::size_t space = text.find(' ');
    const std::string here = space == std::string::npos ? std::string() : text.substr(space);
    // A unit stands once where the next number has the same.
    if (i > 0) out += (here == unit ? "" : unit) + " \xC3\x97 ";
    out += text.substr(0, space);
    unit = here;
  }
  return out + unit;
}

std::string told(const build::Build&, const Measure& m, figure::System units) {
  if (m.field.empty()) return {};
  const auto& info = *build::schema()[build::id_of(m.field)].info;
  const bool text = info.type == build::FieldType::text;
  std::string out(info.label);
  if (m.rests == Rests::given) return text ? out : out + ": " + length_text(m.mm, units);
  out += m.rests == Rests::assumed ? ": assumed" : ": not known";
  if (!text) out += ", drawn as " + length_text(m.mm, units);
  if (!info.measure.empty()) out += ". How to get it: " + std::string(info.measure);
  return out;
}

Element shown(draw::Shape shape, const draw::Style& style, const build::Build& build,
              const Measure& m, figure::System units) {
  Element e{.shape = std::move(shape), .style = style, .tag = {}};
  if (m.field.empty()) return e;
  e.tag.keys = {{"field", std::string(m.field)}, {"rests", std::string(word(m.rests))}};
  e.tag.title = told(build, m, units);
  return e;
}

bool own_part(const ViewOptions& options, std::string_view slot) {
  if (options.own == nullptr) return true;
  const auto* found = build::schema().slot(slot);
  return found != nullptr && build::slot_present(*options.own, *found);
}

std::string part_name(const build::Build& build, std::string_view slot) {
  const auto text = [&](const char* key) -> std::string {
    const auto id = build::schema().find(std::string(slot) + "." + key);
    return id < 0 || !build::known_at(build, id) ? std::string() : build::show(build, id);
  };
  std::string name = text("name");
  if (name.empty()) name = text("part");
  return name;
}

namespace {

double pixels(const ViewOptions& options) {
  return std::isfinite(options.width_px) ? std::clamp(options.width_px, 280.0, 4000.0) : 1200.0;
}
double margin_pixels(double px) {
  return px < 700 ? 10 : 46;
}

}  // namespace

double Paper::pen_of(const ViewOptions& options, double length_mm) {
  const double px = pixels(options);
  return length_mm / (px - 2 * margin_pixels(px));
}

Paper::Paper(const build::Build& build, const ViewOptions& options, const Extent& extent)
    : build_(build), options_(options), labels_({}) {
  const double px = pixels(options);
  pen_ = pen_of(options, extent.front_x - extent.rear_x);
  margin_ = margin_pixels(px) * pen_;
  width_ = px * pen_;
  const double top = (px < 700 ? 36 : 52) * pen_;
  projection_ = {extent.front_x + margin_, top + extent.above};
  body_bottom_ = top + extent.above + extent.below;
  names_below_ = top + extent.above + extent.names_below;
  y_ = body_bottom_;
  labels_ = draw::Labels({4 * pen_, 4 * pen_, width_ - 4 * pen_, body_bottom_ + 60 * pen_});
}

void Paper::part(std::string_view slot, Rests rests, std::string title,
                 std::vector<Element> shapes) {
  parts_.push_back(
      {.shape = draw::Group{std::move(shapes)},
       .style = {},
       .tag = {.name = "part",
               .keys = {{"part", std::string(slot)}, {"rests", std::string(word(rests))}},
               .title = std::move(title)}});
}

void Paper::flags_at(std::string_view slot, const Point& at) {
  poles_.emplace_back(std::string(slot), at);
}

void Paper::write_callouts() {
  if (narrow()) return write_balloons();
  for (const bool below : {false, true}) {
    std::vector<Callout> left, right;
    for (const Callout& c : callouts_) {
      if (c.below == below) (c.to_the_right ? right : left).push_back(c);
    }
    const double top = below ? names_below_ : 64 * pen_;
    write_column(std::move(left), false, top);
    write_column(std::move(right), true, top);
  }
}

/// Names one under the other, with a shelf and a line to the part. All shelves end at one edge, so
/// that no line runs through a name; the part seen highest from there stands first, so that lines
/// do not cross.
void Paper::write_column(std::vector<Callout> column, bool right, double top) {
  const double x = right ? width_ - margin_ : margin_;
  const double widest_facts = 250 * pen_;
  double wide = 0;
  for (const Callout& c : column) {
    wide = std::max(wide, draw::text_width(c.name, letters()) * 1.11);
    for (const std::string& line : draw::wrapped(c.facts, small(), widest_facts))
      wide = std::max(wide, draw::text_width(line, small()));
  }
  const double edge = right ? x - wide - 8 * pen_ : x + wide + 8 * pen_;
  const double middle = top + 86 * pen_;
  const auto angle = [&](const Callout& c) {
    return std::atan2(c.at.y - middle, right ? edge - c.at.x : c.at.x - edge);
  };
  std::stable_sort(column.begin(), column.end(),
                   [&](const Callout& a, const Callout& b) { return angle(a) < angle(b); });
  double y = top;
  for (std::size_t i = 0; i < column.size(); ++i) {
    const Callout& c = column[i];
    if (c.below) {
      y = write_callout(c, {right, x, edge, y}) + 14 * pen_;
      continue;
    }
    // Nothing stands below the last name: its shelf may end above its part.
    double own = draw::text_width(c.name, letters()) * 1.11;
    for (const std::string& line : draw::wrapped(c.facts, small(), widest_facts))
      own = std::max(own, draw::text_width(line, small()));
    own += 8 * pen_;
    const double end = i + 1 < column.size() ? edge
                       : right               ? std::clamp(c.at.x, edge, std::max(edge, x - own))
                                             : std::clamp(c.at.x, std::min(edge, x + own), edge);
    const double down = write_callout(c, {right, x, end, y});
    y = down + 14 * pen_;
  }
}

double Paper::write_callout(const Callout& c, const Shelf& shelf) {
  const Anchor anchor = shelf.right ? Anchor::end : Anchor::start;
  const double line_y = shelf.y + letters() + 4 * pen_;
  const draw::Style thin{.line = Ink::soft, .width = 0.7};
  std::vector<Element> parts{
      {.shape = Polyline{{{shelf.x, line_y}, {shelf.edge, line_y}, c.at}}, .style = thin},
      {.shape = draw::Circle{c.at, 2.2 * pen_}, .style = {.line = Ink::none, .fill = Ink::soft}},
      {.shape = Text{.at = {shelf.x, shelf.y + letters()},
                     .text = c.name,
                     .size = letters(),
                     .anchor = anchor,
                     .strong = true},
       .style = {.line = Ink::ink},
       .tag = {.name = "label"}}};
  double down = line_y;
  for (const std::string& line : draw::wrapped(c.facts, small(), 250 * pen_)) {
    down += 1.25 * small();
    parts.push_back(
        {.shape = Text{.at = {shelf.x, down}, .text = line, .size = small(), .anchor = anchor},
         .style = {.line = Ink::soft},
         .tag = {.name = "label"}});
  }
  add({.shape = draw::Group{std::move(parts)},
       .style = {},
       .tag = {.name = "callout", .keys = {{"for", std::string(c.slot)}}, .title = {}}});
  return down;
}

/// On a phone: numbers in rings, the names in a list below.
void Paper::write_balloons() {
  const double r = 9 * pen_;
  int number = 0;
  std::vector<Element> list;
  std::vector<std::string_view> told;
  y_ += 8 * pen_;
  for (const Callout& c : callouts_) {
    const std::string digit = std::to_string(++number);
    std::vector<Text> offers;
    for (const double far : {0.0, 18.0, 28.0, 40.0, 56.0, 76.0}) {
      for (int k = 0; k < (far == 0 ? 1 : 12); ++k) {
        const double angle = -1.57 + k * 0.5236 * (k % 2 == 0 ? 1 : -1);
        offers.push_back({.at = {c.at.x + far * pen_ * std::cos(angle),
                                 c.at.y + far * pen_ * std::sin(angle) + 0.36 * small()},
                          .text = "00",
                          .size = 1.15 * small(),
                          .anchor = Anchor::middle});
      }
    }
    if (auto place = labels_.place(offers, 1e12)) {
      const Point centre{place->at.x, place->at.y - 0.36 * small()};
      std::vector<Element> parts;
      if (std::hypot(centre.x - c.at.x, centre.y - c.at.y) > r)
        parts.push_back(
            {.shape = draw::Line{centre, c.at}, .style = {.line = Ink::soft, .width = 0.8}});
      parts.push_back({.shape = draw::Circle{centre, r},
                       .style = {.line = Ink::ink, .width = 1, .fill = Ink::paper}});
      parts.push_back({.shape = Text{.at = place->at,
                                     .text = digit,
                                     .size = small(),
                                     .anchor = Anchor::middle,
                                     .strong = true},
                       .style = {.line = Ink::ink},
                       .tag = {.name = "label"}});
      add({.shape = draw::Group{std::move(parts)},
           .style = {},
           .tag = {.name = "callout", .keys = {{"for", std::string(c.slot)}}, .title = c.name}});
    }
    y_ += 1.5 * letters();
    list.push_back({.shape = Text{.at = {margin_ + 1.6 * letters(), y_},
                                  .text = digit,
                                  .size = letters(),
                                  .anchor = Anchor::end,
                                  .strong = true},
                    .style = {.line = Ink::ink}});
    const double x = margin_ + 2.2 * letters();
    list.push_back({.shape = Text{.at = {x, y_}, .text = c.name, .size = letters()},
                    .style = {.line = Ink::ink}});
    const int clashes = counted(c.slot, fit::Verdict::clash).count;
    const int open = counted(c.slot, fit::Verdict::unmeasured).count;
    std::string facts = c.facts;
    // Of several callouts of one part the first carries the count.
    if (std::find(told.begin(), told.end(), c.slot) == told.end()) {
      if (clashes > 0)
        facts += "; " + std::to_string(clashes) + (clashes == 1 ? " clash" : " clashes");
      if (open > 0) facts += "; " + std::to_string(open) + " unmeasured";
      told.push_back(c.slot);
    }
    for (const std::string& line : draw::wrapped(facts, small(), width_ - margin_ - x)) {
      y_ += 1.3 * small();
      list.push_back({.shape = Text{.at = {x, y_}, .text = line, .size = small()},
                      .style = {.line = Ink::soft}});
    }
  }
  add({.shape = draw::Group{std::move(list)}, .style = {}, .tag = {.name = "list"}});
  y_ += 6 * pen_;
}

Paper::Count Paper::counted(std::string_view slot, fit::Verdict verdict) const {
  Count out;
  for (const Flag& flag : options_.flags) {
    if (flag.part != slot || flag.verdict != verdict) continue;
    out.rules += (out.rules.empty() ? "" : " ") + flag.rule;
    out.says += (out.says.empty() ? "" : " ") + flag.says;
    ++out.count;
  }
  return out;
}

void Paper::write_flags() {
  for (const auto& [slot, at] : poles_) {
    const Count clash = counted(slot, fit::Verdict::clash);
    const Count open = counted(slot, fit::Verdict::unmeasured);
    if (clash.count > 0) plant(slot, fit::Verdict::clash, clash, at);
    // On a phone there is room for one: the numbers stand in the list.
    if (open.count > 0 && (clash.count == 0 || !narrow()))
      plant(slot, fit::Verdict::unmeasured, open, {at.x + (clash.count > 0 ? 34 * pen_ : 0), at.y});
  }
}

/// A pole with a pennant: filled with '!' for a clash, open with '?' for what is not measured.
void Paper::plant(std::string_view slot, fit::Verdict verdict, const Count& count,
                  const Point& at) {
  const bool clash = verdict == fit::Verdict::clash;
  const std::string text =
      std::string(clash ? "!" : "?") +
      (count.count > 1 && !narrow() ? " " + std::to_string(count.count) : std::string());
  const double size = narrow() ? 0.75 : 1;
  const double h = 26 * size * pen_, tall = 15 * size * pen_;
  const double w = draw::text_width(text, size * small()) * 1.11 + 9 * size * pen_;
  Point foot = at;
  for (int k = 0; k < 40; ++k) {
    const int steps = (k + 1) / 2 * (k % 2 == 0 ? -6 : 6);  // 0, 6, -6, 12, ...
    const double shift = steps * pen_;
    const Point tried{at.x + shift, at.y};
    const draw::Box box{tried.x - pen_, tried.y - h - pen_, tried.x + w + pen_, tried.y};
    if (!labels_.is_free(box)) continue;
    foot = tried;
    labels_.keep_free(box);
    break;
  }
  const Ink ink = clash ? Ink::alarm : Ink::ink;
  std::vector<Element> parts{
      {.shape = draw::Line{foot, {foot.x, foot.y - h}}, .style = {.line = ink, .width = 1.6}},
      {.shape = Polyline{{{foot.x, foot.y - h},
                          {foot.x + w, foot.y - h},
                          {foot.x + w - 4 * size * pen_, foot.y - h + 0.5 * tall},
                          {foot.x + w, foot.y - h + tall},
                          {foot.x, foot.y - h + tall}},
                         true},
       .style = {.line = ink, .width = 1.2, .fill = clash ? ink : Ink::paper}},
      {.shape = Text{.at = {foot.x + 3 * size * pen_, foot.y - h + 0.8 * tall},
                     .text = text,
                     .size = size * small(),
                     .strong = true},
       .style = {.line = clash ? Ink::paper : Ink::ink},
       .tag = {.name = "flag-text"}}};
  add({.shape = draw::Group{std::move(parts)},
       .style = {},
       .tag = {.name = "flag",
               .keys = {{"for", std::string(slot)},
                        {"rule", count.rules},
                        {"says", std::string(fit::word(verdict))}},
               .title = count.says}});
}

void Paper::scale_bar() {
  // Five decimetres, in turn filled and open.
  y_ += 20 * pen_;
  const double x = margin_, high = 5 * pen_;
  std::vector<Element> parts;
  for (int i = 0; i < 5; ++i) {
    const double from = x + 100.0 * i, to = from + 100;
    parts.push_back(
        {.shape = Polyline{{{from, y_}, {to, y_}, {to, y_ + high}, {from, y_ + high}}, true},
         .style = {.line = Ink::ink, .width = 0.8, .fill = i % 2 == 0 ? Ink::ink : Ink::paper}});
  }
  const bool metric = options_.units == figure::System::metric;
  parts.push_back({.shape = Text{.at = {x + 500 + 8 * pen_, y_ + high + 1 * pen_},
                                 .text = metric ? "500 mm" : "500 mm = 19.7 in",
                                 .size = small()},
                   .style = {.line = Ink::ink},
                   .tag = {.name = "label"}});
  add({.shape = draw::Group{std::move(parts)},
       .style = {},
       .tag = {.name = "scale-bar", .keys = {{"length-mm", "500"}}, .title = {}}});
  y_ += high;
}

void Paper::legend() {
  struct Entry {
    const char* text;
    draw::Style style;
  };
  const Entry entries[] = {
      {"measured, listed or chosen", {.line = Ink::ink, .width = 1.4}},
      {"assumed: not measured yet", {.line = Ink::ink, .width = 1.1, .dash = Dash::dashed}},
      {"part not chosen", {.line = Ink::soft, .width = 0.8, .dash = Dash::dashed}},
      {"typical of the class, to find one's way", {.line = Ink::faint, .width = 4}}};
  double x = margin_;
  y_ += 20 * pen_;
  std::vector<Element> parts;
  for (const Entry& e : entries) {
    const double wide = 34 * pen_ + draw::text_width(e.text, small());
    if (x > margin_ && x + wide > width_ - margin_) {
      x = margin_;
      y_ += 17 * pen_;
    }
    parts.push_back({.shape = draw::Line{{x, y_ - 4 * pen_}, {x + 26 * pen_, y_ - 4 * pen_}},
                     .style = e.style});
    parts.push_back({.shape = Text{.at = {x + 32 * pen_, y_}, .text = e.text, .size = small()},
                     .style = {.line = Ink::soft},
                     .tag = {.name = "label"}});
    x += wide + 18 * pen_;
  }
  add({.shape = draw::Group{std::move(parts)}, .style = {}, .tag = {.name = "legend"}});
  y_ += 14 * pen_;
}

draw::Drawing Paper::done(const std::string& title, std::string description) {
  write_flags();
  write_callouts();
  scale_bar();
  legend();
  const std::string& project = build_.project.name;
  // The heading stands on the sheet's left, the border round everything.
  std::vector<Element> head;
  head.push_back(
      {.shape = Text{.at = {margin_, (narrow() ? 22 : 32) * pen_},
                     .text = narrow() || project.empty() ? title : title + ": " + project,
                     .size = 15 * pen_,
                     .strong = true},
       .style = {.line = Ink::ink},
       .tag = {.name = "label"}});
  parts_.insert(parts_.begin(), head.begin(), head.end());
  return {.title = project.empty() ? title : title + ": " + project,
          .description = std::move(description),
          .unit = draw::Unit::mm,
          .width = width_,
          .height = y_,
          .pen = pen_,
          .parts = std::move(parts_)};
}

}  // namespace ww::views
