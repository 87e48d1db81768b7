// SPDX-License-Identifier: MIT
#include "draw/svg.h"

#include <array>
#include <charconv>
#include <cmath>
#include <initializer_list>
#include <numbers>

#include "base/text.h"

namespace ww::draw {

namespace {

constexpr std::array<std::string_view, 14> ink_words{
    "none",  "paper",  "ink",    "soft",   "faint",  "wash",   "accent",
    "alarm", "tone-1", "tone-2", "tone-3", "tone-4", "tone-5", "tone-6"};

std::string_view word(Ink ink) {
  return ink_words[static_cast<std::size_t>(ink)];
}

/// Two decimals, trailing zeros gone, no "-0".
std::string number(double value) {
  std::array<char, 64> text{};
  const auto done =
      std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed, 2);
  if (done.ec != std::errc()) return "0";
  std::string out(text.data(), done.ptr);
  while (out.back() == '0') out.pop_back();
  if (out.back() == '.') out.pop_back();
  return out == "-0" ? "0" : out;
}

constexpr double largest = 1e9;

bool drawable(std::initializer_list<double> values) {
  for (const double value : values) {
    if (!(std::abs(value) < largest)) return false;
  }
  return true;
}
bool drawable(const Point& p) {
  return drawable({p.x, p.y});
}
bool drawable(const std::vector<Point>& points) {
  for (const Point& p : points) {
    if (!drawable(p)) return false;
  }
  return !points.empty();
}

/// An identifier of a class or a data attribute: small letters, digits, hyphens.
std::string name_of(std::string_view text) {
  std::string out;
  for (const char c : text) {
    const bool good = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-';
    out += good ? c : '-';
  }
  return out;
}

class Writer {
 public:
  explicit Writer(const Drawing& drawing) : pen_(drawing.pen) {}

  void elements(const std::vector<Element>& parts) {
    for (const Element& element : parts) this->element(element);
  }
  std::string take() { return std::move(out_); }

 private:
  void element(const Element& e) {
    std::visit([&](const auto& shape) { write(shape, e); }, e.shape);
  }

  void write(const Line& l, const Element& e) {
    if (!drawable(l.from) || !drawable(l.to)) return;
    open("line", e, stroke_of(e.style));
    attribute("x1", l.from.x);
    attribute("y1", l.from.y);
    attribute("x2", l.to.x);
    attribute("y2", l.to.y);
    close("line", e);
  }
  void write(const Polyline& l, const Element& e) {
    if (!drawable(l.points)) return;
    const char* name = l.closed ? "polygon" : "polyline";
    open(name, e, stroke_of(e.style));
    out_ += " points=\"";
    for (std::size_t i = 0; i < l.points.size(); ++i) {
      if (i > 0) out_ += ' ';
      out_ += number(l.points[i].x) + "," + number(l.points[i].y);
    }
    out_ += '"';
    close(name, e);
  }
  void write(const Circle& c, const Element& e) {
    if (!drawable(c.centre) || !drawable({c.radius}) || c.radius < 0) return;
    open("circle", e, stroke_of(e.style));
    attribute("cx", c.centre.x);
    attribute("cy", c.centre.y);
    attribute("r", c.radius);
    close("circle", e);
  }
  void write(const Arc& a, const Element& e) {
    if (!drawable(a.centre) || !drawable({a.radius, a.from_rad, a.to_rad}) || a.radius < 0) return;
    const bool large = std::abs(a.to_rad - a.from_rad) > std::numbers::pi;
    open("path", e, stroke_of(e.style));
    out_ += " d=\"M" + on_circle(a, a.from_rad) + "A" + number(a.radius) + " " + number(a.radius) +
            " 0 " + (large ? "1 " : "0 ") + (a.to_rad > a.from_rad ? "1 " : "0 ") +
            on_circle(a, a.to_rad) + "\"";
    close("path", e);
  }
  void write(const Path& p, const Element& e) {
    std::string d;
    for (const Step& step : p.steps) {
      if (step.kind == Step::Kind::close) {
        d += "Z";
        continue;
      }
      if (!drawable(step.to) || !drawable(step.handle_1) || !drawable(step.handle_2)) return;
      if (step.kind == Step::Kind::curve)
        d += "C" + pair(step.handle_1) + " " + pair(step.handle_2) + " " + pair(step.to);
      else
        d += (step.kind == Step::Kind::move ? "M" : "L") + pair(step.to);
    }
    if (d.empty()) return;
    open("path", e, stroke_of(e.style));
    out_ += " d=\"" + d + "\"";
    close("path", e);
  }
  void write(const Text& t, const Element& e) {
    if (!drawable(t.at) || !drawable({t.size, t.turn_deg}) || t.text.empty()) return;
    const Ink letters = e.style.fill == Ink::none ? e.style.line : e.style.fill;
    std::string classes = "f-" + std::string(word(letters));
    if (t.strong) classes += " strong";
    if (t.halo) classes += " halo";
    open("text", e, {classes, t.halo ? " stroke-width=\"" + number(0.3 * t.size) + "\"" : ""});
    attribute("x", t.at.x);
    attribute("y", t.at.y);
    attribute("font-size", t.size);
    if (t.anchor == Anchor::middle) out_ += " text-anchor=\"middle\"";
    if (t.anchor == Anchor::end) out_ += " text-anchor=\"end\"";
    if (t.turn_deg != 0) {
      out_ += " transform=\"rotate(" + number(t.turn_deg) + " " + number(t.at.x) + " " +
              number(t.at.y) + ")\"";
    }
    out_ += ">" + title(e) + escaped(t.text) + "</text>\n";
  }
  void write(const Dimension& d, const Element& e) {
    if (drawable(d.from) && drawable(d.to) && drawable({d.offset, d.size}))
      group(parts_of(d, pen_), e, "dimension");
  }
  void write(const Hatch& h, const Element& e) {
    std::vector<Element> lines;
    for (const Line& line : lines_of(h))
      lines.push_back({.shape = line, .style = {.line = e.style.line, .width = e.style.width}});
    group(lines, e, "hatch");
  }
  void write(const Group& g, const Element& e) { group(g.parts, e, {}); }

  void group(const std::vector<Element>& parts, const Element& e, const std::string& name) {
    const std::size_t before = out_.size();
    open("g", e, {name, ""});
    out_ += ">" + title(e) + "\n";
    const std::size_t inside = out_.size();
    elements(parts);
    if (out_.size() == inside)
      out_.resize(before);  // nothing in it could be drawn
    else
      out_ += "</g>\n";
  }

  struct Look {
    std::string classes, attributes;
  };
  Look stroke_of(const Style& style) const {
    Look look;
    if (style.line != Ink::none) {
      look.classes = "l-" + std::string(word(style.line));
      look.attributes = " stroke-width=\"" + number(style.width * pen_) + "\"" + dashes(style);
    }
    if (style.fill != Ink::none) {
      if (!look.classes.empty()) look.classes += ' ';
      look.classes += "f-" + std::string(word(style.fill));
      if (style.fill_opacity < 1)
        look.attributes += " fill-opacity=\"" + number(style.fill_opacity) + "\"";
    }
    return look;
  }
  std::string dashes(const Style& style) const {
    switch (style.dash) {
      case Dash::solid:
        return {};
      case Dash::dashed:
        return run({6, 4});
      case Dash::dotted:
        return run({1.5, 3});
      case Dash::dash_dot:
        return run({12, 3, 2, 3});
      case Dash::long_dash:
        return run({14, 5});
    }
    return {};
  }
  std::string run(std::initializer_list<double> lengths) const {
    std::string out = " stroke-dasharray=\"";
    const char* between = "";
    for (const double length : lengths) {
      out += between + number(length * pen_);
      between = " ";
    }
    return out + "\"";
  }

  void open(std::string_view name, const Element& e, const Look& look) {
    out_ += '<';
    out_ += name;
    std::string classes = name_of(e.tag.name);
    if (!classes.empty() && !look.classes.empty()) classes += ' ';
    classes += look.classes;
    if (!classes.empty()) out_ += " class=\"" + classes + "\"";
    for (const Key& key : e.tag.keys)
      out_ += " data-" + name_of(key.name) + "=\"" + escaped(key.value) + "\"";
    out_ += look.attributes;
  }
  void close(std::string_view name, const Element& e) {
    const std::string inside = title(e);
    out_ += inside.empty() ? "/>\n" : ">" + inside + "</" + std::string(name) + ">\n";
  }
  static std::string title(const Element& e) {
    return e.tag.title.empty() ? std::string() : "<title>" + escaped(e.tag.title) + "</title>";
  }
  void attribute(std::string_view name, double value) {
    out_ += ' ';
    out_ += name;
    out_ += "=\"" + number(value) + "\"";
  }
  static std::string pair(const Point& p) { return number(p.x) + " " + number(p.y); }
  static std::string on_circle(const Arc& a, double angle) {
    return pair({a.centre.x + a.radius * std::cos(angle), a.centre.y + a.radius * std::sin(angle)});
  }

  double pen_;
  std::string out_;
};

/// A colour role with what it is on a light and on a dark sheet.
struct Role {
  std::string_view name, light, dark;
};
constexpr std::array<Role, 13> roles{{{"paper", "#f8f6f1", "#16191c"},
                                      {"ink", "#20262d", "#ece8df"},
                                      {"soft", "#5a616a", "#a9aeb3"},
                                      {"faint", "#d8d3c7", "#363c42"},
                                      {"wash", "#ece8dd", "#252a2f"},
                                      {"accent", "#9a4a14", "#e8a066"},
                                      {"alarm", "#a3123c", "#ff8494"},
                                      {"tone-1", "#2b5c8c", "#8db8e6"},
                                      {"tone-2", "#7b3f8c", "#d0a2dc"},
                                      {"tone-3", "#1c736c", "#6fcac0"},
                                      {"tone-4", "#806000", "#dcb850"},
                                      {"tone-5", "#4f6b24", "#abcb72"},
                                      {"tone-6", "#96403a", "#ea9a8c"}}};

std::string made_css() {
  std::string light, dark, uses;
  for (const Role& role : roles) {
    const std::string name(role.name), value(role.light);
    const std::string use = "var(--d-" + name + ")";
    light += "--d-" + name + ":var(--ww-" + name + "," + value + ");";
    dark += "--d-" + name + ":var(--ww-" + name + "," + std::string(role.dark) + ");";
    // The plain colour first, for readers that know no custom properties.
    uses += ".ww-drawing .l-" + name + "{stroke:" + value + ";stroke:" + use + "}\n";
    uses += ".ww-drawing .f-" + name + "{fill:" + value + ";fill:" + use + "}\n";
  }
  const std::string paper(roles[0].light);
  return ":where(.ww-drawing){" + light +
         "}\n"
         "@media (prefers-color-scheme:dark){:where(.ww-drawing){" +
         dark +
         "}}\n"
         ".ww-drawing{fill:none;stroke:none;stroke-linecap:butt;stroke-linejoin:round;"
         "font-family:system-ui,\"Segoe UI\",Roboto,\"Helvetica Neue\",Arial,\"DejaVu "
         "Sans\",sans-serif;font-variant-numeric:tabular-nums}\n" +
         uses +
         ".ww-drawing .strong{font-weight:600}\n.ww-drawing .halo{paint-order:stroke;stroke:" +
         paper + ";stroke:var(--d-paper);stroke-linejoin:round}\n";
}

/// The style sheet of a printed file: the greys of print, and no dark sheet.
std::string printed_css() {
  std::string out =
      ".ww-drawing{fill:none;stroke:none;stroke-linecap:butt;stroke-linejoin:round;"
      "font-family:\"DejaVu Sans\",Verdana,Arial,sans-serif}\n";
  for (std::size_t i = 1; i < ink_words.size(); ++i) {
    const std::string name(ink_words[i]);
    const auto level =
        std::to_string(static_cast<int>(std::lround(255 * grey_of(static_cast<Ink>(i)))));
    const std::string grey = "rgb(" + level + "," + level + "," + level + ")";
    out += ".ww-drawing .l-" + name + "{stroke:" + grey + "}\n.ww-drawing .f-" + name +
           "{fill:" + grey + "}\n";
  }
  return out +
         ".ww-drawing .strong{font-weight:bold}\n.ww-drawing .halo{paint-order:stroke;"
         "stroke:rgb(255,255,255);stroke-linejoin:round}\n";
}

}  // namespace

double grey_of(Ink ink) {
  switch (ink) {
    case Ink::none:
    case Ink::paper:
      return 1;
    case Ink::faint:
      return 0.6;
    case Ink::wash:
      return 0.92;
    case Ink::soft:
      return 0.25;
    default:
      return 0;
  }
}

std::string escaped(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  const bool utf8 = valid_utf8(text);
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    const auto byte = static_cast<unsigned char>(c);
    // U+FFFE and U+FFFF are characters that XML forbids.
    const std::string_view here = text.substr(i, 3);
    if (here == "\xEF\xBF\xBE" || here == "\xEF\xBF\xBF") {
      i += 2;
    } else if (byte >= 0x80 && !utf8) {
      out += '?';
    } else if (byte < 0x20 || byte == 0x7F) {
      out += ' ';
    } else if (c == '&') {
      out += "&amp;";
    } else if (c == '<') {
      out += "&lt;";
    } else if (c == '>') {
      out += "&gt;";
    } else if (c == '"') {
      out += "&quot;";
    } else {
      out += c;
    }
  }
  return out;
}

std::string_view svg_css() {
  static const std::string css = made_css();
  return css;
}

std::string svg_of(const Drawing& drawing, const SvgOptions& options) {
  Writer writer(drawing);
  const bool alone = options.standing != Standing::in_page;
  const bool printed = options.standing == Standing::printed;
  const double px = drawing.pen > 0 ? drawing.pen : 1;
  std::string out;
  if (alone) out += "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n";
  out += "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"ww-drawing\" role=\"" +
         escaped(options.role) + "\" aria-label=\"" + escaped(drawing.title) + "\" viewBox=\"0 0 " +
         number(drawing.width) + " " + number(drawing.height) + "\" width=\"" +
         (printed ? number(drawing.width) + "mm" : number(drawing.width / px)) + "\" height=\"" +
         (printed ? number(drawing.height) + "mm" : number(drawing.height / px)) +
         "\" data-unit=\"" + (drawing.unit == Unit::mm ? "mm" : "px") + "\">\n";
  out += "<title>" + escaped(drawing.title) + "</title>\n";
  if (!drawing.description.empty()) out += "<desc>" + escaped(drawing.description) + "</desc>\n";
  if (alone) {
    out += "<style>\n" + (printed ? printed_css() : std::string(svg_css())) + "</style>\n";
    out += "<rect class=\"sheet f-paper\" width=\"100%\" height=\"100%\"/>\n";
  }
  writer.elements(drawing.parts);
  out += writer.take();
  out += "</svg>\n";
  return out;
}

}  // namespace ww::draw
