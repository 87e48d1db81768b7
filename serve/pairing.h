// SPDX-License-Identifier: MIT
// How a phone in the house's network gets its own key: a code of six digits, shown on the laptop
// and as a picture to point the phone at. Invariants:
// 1. A code is good for two minutes and for one device.
// 2. Five wrong tries close pairing until the laptop opens it again.
#pragma once

#include <functional>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

namespace ww::serve {

class Pairing {
 public:
  static constexpr double seconds_good = 120;
  static constexpr int wrong_tries_max = 5;

  /// `seconds`: a clock that only runs forward. `digits`: six new digits.
  Pairing(std::function<double()> seconds, std::function<std::string()> digits);

  struct Open {
    std::string code;
    double seconds_left;
  };
  /// A new code in place of an old one.
  Open open();
  /// The code while it is good.
  std::optional<Open> now() const;
  void close();

  enum class Tried : std::uint8_t { good, wrong, closed };
  /// A good code is used up.
  Tried attempt(const std::string& code);

 private:
  std::optional<Open> good_now() const;
  std::function<double()> seconds_;
  std::function<std::string()> digits_;
  mutable std::mutex mutex_;
  std::string code_;
  double until_ = 0;
  int wrong_ = 0;
};

/// The text as a picture to point a phone at: black squares on white, four squares of rim.
/// Empty where it is too long.
std::string qr_svg(const std::string& text);
/// The same for a terminal, two rows a line.
std::string qr_terminal(const std::string& text);

}  // namespace ww::serve
