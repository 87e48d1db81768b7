// SPDX-License-Identifier: MIT
// What may happen in a healthy program comes back as a value: Result<T> holds a T or one Error.
#pragma once

#include <string>
#include <tl/expected.hpp>
#include <utility>
#include <vector>

namespace ww {

/// One thing that is wrong, told to the builder: where it is, what was found, what was expected,
/// what to do.
struct Error {
  std::string code;           ///< readable slug, stable: "unknown-key", "bad-unit"
  std::string what;           ///< one sentence in plain words
  std::string file = {};      ///< as the builder named it; empty where there is no file
  int line = 0;               ///< 1-based; 0 where there is none
  int column = 0;             ///< 1-based; 0 where there is none
  std::string field = {};     ///< field path, `motor.mass`
  std::string found = {};     ///< as it stood in the input
  std::string expected = {};  ///< what would have been right
  std::string way_out = {};   ///< what to do about it
};

/// "bike.toml:12:8: motor.mass: not a mass: found '17 kgs'; expected e.g. '17 kg'; ..."
std::string describe(const Error& error);

using Errors = std::vector<Error>;

/// tl::expected, but a dropped result is a compiler warning.
template <class T, class E = Error>
class [[nodiscard]] Result : public tl::expected<T, E> {
 public:
  using tl::expected<T, E>::expected;
};

/// Wraps an error for return from a function that gives a Result.
inline tl::unexpected<Error> fail(Error error) {
  return tl::unexpected<Error>(std::move(error));
}

}  // namespace ww
