// SPDX-License-Identifier: MIT
// The library that finds a font keeps what it has read until the process ends, a thousand bytes
// whatever is drawn; the leak finder is told so. Included once in a test that writes PDF.
#pragma once

// NOLINTNEXTLINE(bugprone-reserved-identifier,readability-identifier-naming)
extern "C" const char* __lsan_default_suppressions() {
  return "leak:libfontconfig";
}
