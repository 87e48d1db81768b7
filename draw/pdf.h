// SPDX-License-Identifier: MIT
// Drawings as one PDF file, a page each, black and grey on white. Invariants:
// 1. True scale: a drawing in mm of the paper lies on a page of that size; others at 96 px to the
// inch.
// 2. The same drawings give the same bytes on every run of one machine; the date is the caller's.
// 3. The letters are those of one face, embedded, so that every printer sets them alike.
// 4. Any text and any number may come: what is not finite, or beyond 1e6, is left out, and
//    so are letters below a thousandth or above ten thousand units.
#pragma once

#include <span>
#include <string>

#include "draw/drawing.h"

namespace ww::draw {

struct PdfOptions {
  std::string title = {};
  std::string date = {};     ///< ISO 8601 day or time; anything else counts as the year 2000
  bool of_the_paper = true;  ///< mm are those of the paper; else of the thing, and a pen is a pixel
};

/// The bytes; empty where there is no drawing, or the library refuses (no memory).
std::string pdf_of(std::span<const Drawing> pages, const PdfOptions& options = {});

}  // namespace ww::draw
