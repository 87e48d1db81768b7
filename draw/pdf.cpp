// SPDX-License-Identifier: MIT
#include "draw/pdf.h"

#include <cairo-pdf.h>
#include <cairo.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <numbers>

#include "base/text.h"
#include "draw/svg.h"

namespace ww::draw {

namespace {

constexpr double points_per_mm = 72 / 25.4, points_per_px = 0.75, largest = 1e6;
/// A page may be 5 m: what PDF readers take without a user unit (ISO 32000-1, 14400 units).
constexpr double longest_pt = 14400;

bool good(double v) {
  return std::abs(v) < largest;
}
bool good(const Point& p) {
  return good(p.x) && good(p.y);
}

/// Printable UTF-8: the library stops for good at a byte that is none.
std::string clean(std::string_view text) {
  const bool utf8 = valid_utf8(text);
  std::string out;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x20 || byte == 0x7F)
      out += ' ';
    else
      out += byte >= 0x80 && !utf8 ? '?' : c;
  }
  return out;
}

class Page {
 public:
  Page(cairo_t* to, const Drawing& drawing) : to_(to), pen_(drawing.pen > 0 ? drawing.pen : 1) {}

  void elements(const std::vector<Element>& parts) {
    for (const Element& e : parts) std::visit([&](const auto& shape) { put(shape, e); }, e.shape);
  }

 private:
  void put(const Line& l, const Element& e) {
    if (!good(l.from) || !good(l.to)) return;
    cairo_move_to(to_, l.from.x, l.from.y);
    cairo_line_to(to_, l.to.x, l.to.y);
    paint(e.style);
  }
  void put(const Polyline& l, const Element& e) {
    for (const Point& p : l.points) {
      if (!good(p)) return cairo_new_path(to_);
      cairo_line_to(to_, p.x, p.y);
    }
    if (l.closed) cairo_close_path(to_);
    paint(e.style);
  }
  void put(const Circle& c, const Element& e) {
    if (!good(c.centre) || !good(c.radius) || c.radius < 0) return;
    cairo_new_sub_path(to_);
    cairo_arc(to_, c.centre.x, c.centre.y, c.radius, 0, 2 * std::numbers::pi);
    cairo_close_path(to_);
    paint(e.style);
  }
  void put(const Arc& a, const Element& e) {
    if (!good(a.centre) || !good(a.radius) || !good(a.from_rad) || !good(a.to_rad) || a.radius < 0)
      return;
    cairo_new_sub_path(to_);
    const auto arc = a.to_rad > a.from_rad ? cairo_arc : cairo_arc_negative;
    arc(to_, a.centre.x, a.centre.y, a.radius, a.from_rad, a.to_rad);
    paint(e.style);
  }
  void put(const Path& p, const Element& e) {
    for (const Step& s : p.steps) {
      if (!good(s.to) || !good(s.handle_1) || !good(s.handle_2)) return cairo_new_path(to_);
      switch (s.kind) {
        case Step::Kind::move:
          cairo_move_to(to_, s.to.x, s.to.y);
          break;
        case Step::Kind::line:
          cairo_line_to(to_, s.to.x, s.to.y);
          break;
        case Step::Kind::curve:
          cairo_curve_to(to_, s.handle_1.x, s.handle_1.y, s.handle_2.x, s.handle_2.y, s.to.x,
                         s.to.y);
          break;
        case Step::Kind::close:
          cairo_close_path(to_);
          break;
      }
    }
    paint(e.style);
  }
  void put(const Text& t, const Element& e) {
    if (!good(t.at) || !good(t.size) || !good(t.turn_deg) || t.text.empty()) return;
    // Beyond these the library's letters have no size, and it writes nothing more.
    if (!(t.size > 1e-3) || !(t.size < 1e4)) return;
    const std::string text = clean(t.text);
    cairo_save(to_);
    cairo_select_font_face(to_, "DejaVu Sans", CAIRO_FONT_SLANT_NORMAL,
                           t.strong ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
    cairo_set_font_size(to_, t.size);
    cairo_translate(to_, t.at.x, t.at.y);
    cairo_rotate(to_, t.turn_deg * std::numbers::pi / 180);
    cairo_text_extents_t extents;
    cairo_text_extents(to_, text.c_str(), &extents);
    const double share = t.anchor == Anchor::start ? 0 : t.anchor == Anchor::middle ? 0.5 : 1;
    const double x = -share * extents.x_advance;
    if (t.halo) {
      cairo_move_to(to_, x, 0);
      cairo_text_path(to_, text.c_str());
      grey(Ink::paper);
      cairo_set_line_width(to_, 0.3 * t.size);
      cairo_stroke(to_);
    }
    cairo_move_to(to_, x, 0);
    grey(e.style.fill == Ink::none ? e.style.line : e.style.fill);
    cairo_show_text(to_, text.c_str());
    cairo_new_path(to_);
    cairo_restore(to_);
  }
  void put(const Dimension& d, const Element& /*e*/) {
    if (good(d.from) && good(d.to) && good(d.offset) && good(d.size)) elements(parts_of(d, pen_));
  }
  void put(const Hatch& h, const Element& e) {
    for (const Line& line : lines_of(h))
      put(line, {.shape = line, .style = {.line = e.style.line, .width = e.style.width}});
  }
  void put(const Group& g, const Element& /*e*/) { elements(g.parts); }

  void grey(Ink ink, double opacity = 1) {
    const double level = grey_of(ink);
    cairo_set_source_rgba(to_, level, level, level, opacity);
  }
  void paint(const Style& style) {
    if (style.fill != Ink::none) {
      grey(style.fill, style.fill_opacity);
      cairo_fill_preserve(to_);
    }
    if (style.line != Ink::none && good(style.width)) {
      grey(style.line);
      cairo_set_line_width(to_, style.width * pen_);
      dash(style.dash);
      cairo_stroke_preserve(to_);
    }
    cairo_new_path(to_);
  }
  void dash(Dash kind) {
    std::vector<double> run;
    switch (kind) {
      case Dash::solid:
        break;
      case Dash::dashed:
        run = {6, 4};
        break;
      case Dash::dotted:
        run = {1.5, 3};
        break;
      case Dash::dash_dot:
        run = {12, 3, 2, 3};
        break;
      case Dash::long_dash:
        run = {14, 5};
        break;
    }
    for (double& length : run) length *= pen_;
    cairo_set_dash(to_, run.data(), static_cast<int>(run.size()), 0);
  }

  cairo_t* to_;
  double pen_;
};

cairo_status_t collect(void* into, const unsigned char* bytes, unsigned int count) {
  auto& out = *static_cast<std::string*>(into);
  for (unsigned int i = 0; i < count; ++i) out += static_cast<char>(bytes[i]);
  return CAIRO_STATUS_SUCCESS;
}

bool is_day(const std::string& date) {
  if (date.size() < 10) return false;
  for (std::size_t i = 0; i < 10; ++i) {
    const bool dash = i == 4 || i == 7;
    if (dash ? date[i] != '-' : date[i] < '0' || date[i] > '9') return false;
  }
  return true;
}

/// Points per unit, less where the page would be larger than readers take.
double scale_of(const Drawing& drawing, bool of_the_paper) {
  const double per_px = points_per_px / (drawing.pen > 0 ? drawing.pen : 1);
  const double usual = drawing.unit == Unit::mm && of_the_paper ? points_per_mm : per_px;
  const double longest = std::max(drawing.width, drawing.height);
  return longest * usual > longest_pt ? longest_pt / longest : usual;
}

}  // namespace

std::string pdf_of(std::span<const Drawing> pages, const PdfOptions& options) {
  std::string out;
  if (pages.empty()) return out;
  const std::unique_ptr<cairo_surface_t, decltype(&cairo_surface_destroy)> surface(
      cairo_pdf_surface_create_for_stream(&collect, &out, 1, 1), &cairo_surface_destroy);
  const std::string day = is_day(options.date) ? options.date.substr(0, 10) : "2000-01-01";
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE,
                                 (day + "T00:00:00Z").c_str());
  const std::string title = clean(options.title.empty() ? pages.front().title : options.title);
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, title.c_str());
  const std::unique_ptr<cairo_t, decltype(&cairo_destroy)> to(cairo_create(surface.get()),
                                                              &cairo_destroy);
  for (const Drawing& drawing : pages) {
    const double scale = scale_of(drawing, options.of_the_paper);
    cairo_pdf_surface_set_size(surface.get(), drawing.width * scale, drawing.height * scale);
    cairo_save(to.get());
    cairo_scale(to.get(), scale, scale);
    cairo_set_line_join(to.get(), CAIRO_LINE_JOIN_ROUND);
    Page(to.get(), drawing).elements(drawing.parts);
    cairo_restore(to.get());
    cairo_show_page(to.get());
  }
  const bool whole = cairo_status(to.get()) == CAIRO_STATUS_SUCCESS;
  cairo_surface_finish(surface.get());
  return whole && cairo_surface_status(surface.get()) == CAIRO_STATUS_SUCCESS ? out : std::string();
}

}  // namespace ww::draw
