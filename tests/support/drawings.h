// SPDX-License-Identifier: MIT
// What every drawing must be: finite, well-formed, its letters clear of each other.
#pragma once

#include <gtest/gtest.h>

#include <cctype>

#include "draw/svg.h"
#include "tests/support/xml.h"

namespace ww::support {

/// All texts that stand on the sheet.
inline std::vector<draw::Text> texts_of(const draw::Drawing& drawing) {
  std::vector<draw::Text> texts;
  draw::walk(drawing.parts, [&](const draw::Element& e) {
    if (const auto* text = std::get_if<draw::Text>(&e.shape)) texts.push_back(*text);
    if (const auto* dimension = std::get_if<draw::Dimension>(&e.shape)) {
      for (const auto& part : draw::parts_of(*dimension, drawing.pen)) {
        if (const auto* text = std::get_if<draw::Text>(&part.shape)) texts.push_back(*text);
      }
    }
  });
  return texts;
}

/// The first two texts whose boxes, a pixel smaller all round, cover each other; empty where none.
inline std::string overlap_in(const draw::Drawing& drawing) {
  const auto texts = texts_of(drawing);
  const auto smaller = [&](const draw::Text& t) {
    const draw::Box b = draw::box_of(t);
    const double px = drawing.pen;
    return draw::Box{b.left + px, b.top + px, b.right - px, b.bottom - px};
  };
  for (std::size_t i = 0; i < texts.size(); ++i) {
    for (std::size_t k = i + 1; k < texts.size(); ++k) {
      if (texts[i].text.empty() || texts[k].text.empty()) continue;
      if (draw::overlap(smaller(texts[i]), smaller(texts[k])))
        return "'" + texts[i].text + "' and '" + texts[k].text + "'";
    }
  }
  return {};
}

/// The first text that runs off the sheet.
inline std::string off_the_sheet(const draw::Drawing& drawing) {
  for (const draw::Text& t : texts_of(drawing)) {
    const draw::Box b = draw::box_of(t);
    const double slack = drawing.pen;
    if (b.left < -slack || b.top < -slack || b.right > drawing.width + slack ||
        b.bottom > drawing.height + slack)
      return t.text;
  }
  return {};
}

/// Whether "nan" or "inf" stands alone in a text.
inline bool not_a_number(const std::string& text) {
  const auto letter = [&](std::size_t i) {
    return i < text.size() && std::isalpha(static_cast<unsigned char>(text[i])) != 0;
  };
  for (const char* word : {"nan", "inf"}) {
    for (auto at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) {
      if (!letter(at - 1) && !letter(at + 3)) return true;
    }
  }
  return false;
}

/// Fails where the drawing is not well-formed, not finite, or differs from one run to the next.
inline Xml check_svg(const draw::Drawing& drawing, const std::string& of) {
  const std::string svg = draw::svg_of(drawing);
  EXPECT_EQ(svg, draw::svg_of(drawing)) << of;
  Xml xml = XmlReader::read(svg);
  EXPECT_EQ(xml.wrong, "") << of;
  for (const auto& e : xml.elements) {
    for (const auto& [key, value] : e.attributes) {
      // Words stand in data, classes and names; all else is numbers.
      const bool words = key.rfind("data-", 0) == 0 || key == "aria-label" || key == "class";
      EXPECT_TRUE(words || !not_a_number(value))
          << of << ": " << e.name << " " << key << "=" << value;
      EXPECT_NE(key, "id") << of;
    }
    EXPECT_FALSE(e.name == "text" && not_a_number(e.text)) << of << ": " << e.text;
  }
  EXPECT_GT(drawing.width, 0) << of;
  EXPECT_GT(drawing.height, 0) << of;
  EXPECT_LT(drawing.height, 1e5) << of;
  return xml;
}

}  // namespace ww::support
