// SPDX-License-Identifier: MIT
// Prints what the page takes over from the program: `typegen >web/src/api.ts`, its types;
// `typegen css >web/src/css/ink.css`, the style sheet of every drawing that stands in it.
#include <iostream>
#include <string_view>

#include "draw/svg.h"
#include "serve/api.h"

int main(int count, char** words) {
  if (count > 1 && std::string_view(words[1]) == "css") {
    std::cout << "/* SPDX-License-Identifier: MIT */\n"
                 "/* Written by `typegen css` from draw/svg.cpp; do not edit. */\n"
              << ww::draw::svg_css();
  } else {
    std::cout << ww::serve::api::typescript();
  }
  return 0;
}
