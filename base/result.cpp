// SPDX-License-Identifier: MIT
#include "base/result.h"

namespace ww {

std::string describe(const Error& error) {
  std::string text;
  if (!error.file.empty()) {
    text += error.file;
    if (error.line > 0) text += ":" + std::to_string(error.line);
    if (error.line > 0 && error.column > 0) text += ":" + std::to_string(error.column);
    text += ": ";
  }
  if (!error.field.empty()) text += error.field + ": ";
  text += error.what;
  if (!error.found.empty()) text += "; found '" + error.found + "'";
  if (!error.expected.empty()) text += "; expected " + error.expected;
  if (!error.way_out.empty()) text += ". " + error.way_out;
  return text;
}

}  // namespace ww
