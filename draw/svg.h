// SPDX-License-Identifier: MIT
// A drawing as SVG text: real letters, classes, the same bytes every run. Invariants:
// 1. A file that stands alone carries its own style sheet, for light and for dark.
// 2. Every colour is a CSS custom property with a value to fall back on; a page that sets
//    `--ww-ink` and its sisters restyles every drawing in it.
// 3. No ids and no references: any number of drawings may stand in one page.
#pragma once

#include <string>

#include "draw/drawing.h"

namespace ww::draw {

/// A file of its own, a piece of a page that carries `svg_css()` once itself, or a file to be
/// printed: its unit is the millimetre of the paper, black and grey on white in any light.
enum class Standing : std::uint8_t { alone, in_page, printed };

/// How dark a role is in print, 0 black to 1 white: the tones are told apart by their dashes.
double grey_of(Ink ink);

struct SvgOptions {
  Standing standing = Standing::alone;
  std::string_view role = "img";
};

/// The bytes. Root: class "ww-drawing", role, aria-label, viewBox in the drawing's unit, <title>,
/// <desc>. Elements: classes of their style, the tag's class, data-KEY attributes, <title>.
/// Numbers to a hundredth of a unit of the sheet, without a locale.
std::string svg_of(const Drawing& drawing, const SvgOptions& options = {});

/// The style sheet of all drawings, for a page that has them inside.
std::string_view svg_css();

/// Text as it may stand between tags and inside attributes; characters that XML forbids are left
/// out.
std::string escaped(std::string_view text);

}  // namespace ww::draw
