// SPDX-License-Identifier: MIT
#include "prints/symbols.h"

#include <numbers>

#include "prints/paper.h"

namespace ww::prints {

using draw::Anchor;
using draw::Box;
using draw::Element;
using draw::Point;

bool is_block(Symbol symbol) {
  return symbol == Symbol::block || symbol == Symbol::battery || symbol == Symbol::converter ||
         symbol == Symbol::socket || symbol == Symbol::rectifier || symbol == Symbol::inverter;
}

bool is_rail(Symbol symbol) {
  return symbol == Symbol::rail || symbol == Symbol::earth;
}

double middle_of(Symbol symbol) {
  const bool sign = is_block(symbol) && symbol != Symbol::block && symbol != Symbol::socket;
  return sign ? 14 : 6;
}

Reach reach_of(Symbol symbol) {
  switch (symbol) {
    case Symbol::fuse:
    case Symbol::resistor:
    case Symbol::heater:
      return {8, 3, 3};
    case Symbol::shunt:
      return {8, 3, 3};
    case Symbol::contact:
      return {7, 5, 1.5};
    case Symbol::contactor:
    case Symbol::disconnector:
      return {7, 5, 2.2};
    case Symbol::push:
      return {7, 8, 1.5};
    case Symbol::coil:
      return {4, 6, 6};
    case Symbol::lamp:
      return {5, 5, 5};
    case Symbol::horn:
      return {5.5, 6, 6};
    case Symbol::probe:
      return {8, 5, 5};
    case Symbol::flasher:
      return {8, 5, 5};
    case Symbol::earth:
      return {5, 5, 13};
    case Symbol::rail:
      return {1, 5, 5};
    case Symbol::node:
      return {1.2, 1.2, 1.2};
    case Symbol::motor:
      return {11, 5, 5};
    case Symbol::reference:
      return {15, 4, 4};
    default:
      return {13, 6, 6};
  }
}

namespace {

class Pencil {
 public:
  Pencil(std::vector<Element>& out, draw::Dash dash) : out_(out), dash_(dash) {}
  void line(double x1, double y1, double x2, double y2, double width = plain) {
    add(draw::Line{{x1, y1}, {x2, y2}}, width);
  }
  void box(double x1, double y1, double x2, double y2) {
    add(draw::Polyline{{{x1, y1}, {x2, y1}, {x2, y2}, {x1, y2}}, true}, plain);
  }
  void circle(double x, double y, double radius) { add(draw::Circle{{x, y}, radius}, plain); }
  void dot(double x, double y, double radius) {
    out_.push_back(
        {.shape = draw::Circle{{x, y}, radius}, .style = {.width = thin, .fill = draw::Ink::ink}});
  }
  void arc(double x, double y, double radius, double from, double to) {
    add(draw::Arc{{x, y}, radius, from, to}, plain);
  }
  void chain(std::vector<Point> points, bool closed = false) {
    add(draw::Polyline{std::move(points), closed}, plain);
  }
  void words(double x, double y, const char* text) {
    out_.push_back(prints::text(x, y, text, small_mm, Anchor::middle));
  }

 private:
  void add(draw::Shape shape, double width) {
    out_.push_back({.shape = std::move(shape), .style = {.width = width, .dash = dash_}});
  }
  std::vector<Element>& out_;
  draw::Dash dash_;
};

/// The open blade that all contacts share: fixed ends at both sides, hinged at the left.
void blade(Pencil& pencil, double x, double y) {
  pencil.line(x - 7, y, x - 4, y);
  pencil.line(x + 4, y, x + 7, y);
  pencil.line(x - 4, y, x + 3.4, y - 4.4);
}

/// Two bars: direct current; a wave: alternating.
void current_sign(Pencil& pencil, double x, double y, bool direct) {
  if (direct) {
    pencil.line(x - 1.6, y - 0.6, x + 1.6, y - 0.6);
    pencil.line(x - 1.6, y + 0.6, x + 1.6, y + 0.6);
    return;
  }
  pencil.arc(x - 0.9, y, 0.9, std::numbers::pi, 2 * std::numbers::pi);
  pencil.arc(x + 0.9, y, 0.9, std::numbers::pi, 0);
}

/// A square cut in two, with what goes in and what comes out.
void converter_sign(Pencil& pencil, const Box& box, bool direct_in, bool direct_out) {
  const double x = 0.5 * (box.left + box.right), y = 0.5 * (box.top + box.bottom);
  pencil.box(x - 4.5, y - 4.5, x + 4.5, y + 4.5);
  pencil.line(x - 4.5, y + 4.5, x + 4.5, y - 4.5);
  current_sign(pencil, x - 2, y - 2.2, direct_in);
  current_sign(pencil, x + 2, y + 2.2, direct_out);
}

void cells(Pencil& pencil, const Box& box) {
  if (box.bottom - box.top < 18) return;
  const double x = 0.5 * (box.left + box.right), middle = 0.5 * (box.top + box.bottom);
  // Plus at the top, as the terminals of the box are.
  for (const double y : {middle - 5.4, middle + 1.8}) {
    pencil.line(x - 4, y, x + 4, y);
    pencil.line(x - 2, y + 2.4, x + 2, y + 2.4, thick);
  }
  pencil.line(x, middle - 8, x, middle - 5.4);
  pencil.line(x, middle - 3, x, middle + 1.8, thin);
  pencil.line(x, middle + 4.2, x, middle + 6.8);
}

}  // namespace

std::vector<Element> symbol_lines(Symbol symbol, const Box& box, wiring::Presence presence) {
  std::vector<Element> out;
  const draw::Dash dash = presence == wiring::Presence::on_list   ? draw::Dash::solid
                          : presence == wiring::Presence::assumed ? draw::Dash::dashed
                                                                  : draw::Dash::dotted;
  Pencil pencil(out, dash);
  const double x = 0.5 * (box.left + box.right), y = 0.5 * (box.top + box.bottom);
  switch (symbol) {
    case Symbol::battery:
      pencil.box(box.left, box.top, box.right, box.bottom);
      cells(pencil, box);
      break;
    case Symbol::converter:
    case Symbol::rectifier:
    case Symbol::inverter:
      pencil.box(box.left, box.top, box.right, box.bottom);
      converter_sign(pencil, box, symbol != Symbol::rectifier, symbol != Symbol::inverter);
      break;
    case Symbol::motor: {
      pencil.circle(x, y, 9);
      pencil.words(x, y + 1.3, "M");
      break;
    }
    case Symbol::fuse:
      pencil.box(x - 8, y - 3, x + 8, y + 3);
      pencil.line(x - 8, y, x + 8, y);
      break;
    case Symbol::resistor:
      pencil.box(x - 8, y - 3, x + 8, y + 3);
      break;
    case Symbol::shunt:
      pencil.box(x - 8, y - 3, x + 8, y + 3);
      pencil.line(x - 5, y, x - 5, y - 3);
      pencil.line(x + 5, y, x + 5, y - 3);
      pencil.line(x - 8, y, x + 8, y);
      break;
    case Symbol::heater:
      pencil.box(x - 8, y - 3, x + 8, y + 3);
      for (const double at : {-4.8, -1.6, 1.6, 4.8}) pencil.line(x + at, y - 3, x + at, y + 3);
      break;
    case Symbol::contact:
      blade(pencil, x, box.top + 5);
      break;
    case Symbol::push:
      blade(pencil, x, box.top + 8);
      pencil.line(x - 0.4, box.top + 5.8, x - 0.4, box.top);
      pencil.line(x - 3.4, box.top, x + 2.6, box.top);
      break;
    case Symbol::contactor:
      blade(pencil, x, box.top + 5);
      pencil.arc(x + 4, box.top + 5, 1.6, 0.5 * std::numbers::pi, 1.5 * std::numbers::pi);
      break;
    case Symbol::disconnector:
      blade(pencil, x, box.top + 5);
      pencil.line(x + 4, box.top + 2.8, x + 4, box.top + 7.2);
      break;
    case Symbol::coil:
      pencil.box(x - 4, y - 6, x + 4, y + 6);
      break;
    case Symbol::lamp: {
      pencil.circle(x, y, 5);
      const double d = 5 * std::numbers::sqrt2 / 2;
      pencil.line(x - d, y - d, x + d, y + d);
      pencil.line(x - d, y + d, x + d, y - d);
      break;
    }
    case Symbol::horn:
      pencil.box(x - 5.5, y - 2.2, x - 1.5, y + 2.2);
      pencil.chain({{x - 1.5, y - 2.2}, {x + 3, y - 6}, {x + 3, y + 6}, {x - 1.5, y + 2.2}}, true);
      pencil.line(x + 3, y, x + 5.5, y);
      break;
    case Symbol::probe:
      pencil.box(x - 8, y - 3, x + 8, y + 3);
      pencil.chain({{x - 9, y + 5}, {x - 6, y + 5}, {x + 6, y - 5}});
      break;
    case Symbol::flasher:
      pencil.box(x - 8, y - 5, x + 8, y + 5);
      pencil.chain({{x - 5, y + 2},
                    {x - 2.5, y + 2},
                    {x - 2.5, y - 2},
                    {x, y - 2},
                    {x, y + 2},
                    {x + 2.5, y + 2},
                    {x + 2.5, y - 2},
                    {x + 5, y - 2}});
      break;
    case Symbol::earth:
      pencil.line(x, box.top, x, box.bottom - 5, 4);
      break;
    case Symbol::rail:
      pencil.line(x, box.top, x, box.bottom, 4);
      break;
    case Symbol::node:
      out.push_back({.shape = draw::Circle{{x, y}, 1.2},
                     .style = {.width = plain, .fill = draw::Ink::paper}});
      break;
    case Symbol::reference:
      pencil.box(box.left, box.top, box.right, box.bottom);
      break;
    case Symbol::socket:
    case Symbol::block:
      pencil.box(box.left, box.top, box.right, box.bottom);
      break;
  }
  return out;
}

std::vector<Element> earth_sign(const Box& box) {
  std::vector<Element> out;
  Pencil pencil(out, draw::Dash::solid);
  const double x = 0.5 * (box.left + box.right);
  pencil.line(x, box.bottom - 4.9, x, box.bottom - 4);
  pencil.line(x - 5, box.bottom - 4, x + 5, box.bottom - 4);
  pencil.line(x - 3.2, box.bottom - 2, x + 3.2, box.bottom - 2);
  pencil.line(x - 1.4, box.bottom, x + 1.4, box.bottom);
  return out;
}

}  // namespace ww::prints
