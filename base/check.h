// SPDX-License-Identifier: MIT
// A mistake of ours stops the program in builds with assertions on; it prints expression and place.
#pragma once

namespace ww {

/// Reports a broken assertion on standard error and aborts. Never returns.
[[noreturn]] void assertion_failed(const char* expression, const char* file, int line);

}  // namespace ww

#ifdef WW_ASSERTIONS
#define WW_ASSERT(expression) \
  ((expression) ? void(0) : ::ww::assertion_failed(#expression, __FILE__, __LINE__))
#else
#define WW_ASSERT(expression) void(0)
#endif
