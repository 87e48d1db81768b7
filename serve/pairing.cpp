// SPDX-License-Identifier: MIT
#include "serve/pairing.h"

#include <qrencode.h>

#include <memory>

#include "serve/guard.h"

namespace ww::serve {

Pairing::Pairing(std::function<double()> seconds, std::function<std::string()> digits)
    : seconds_(std::move(seconds)), digits_(std::move(digits)) {}

std::optional<Pairing::Open> Pairing::good_now() const {
  const double left = until_ - seconds_();
  if (code_.empty() || left <= 0 || wrong_ >= wrong_tries_max) return std::nullopt;
  return Open{code_, left};
}

Pairing::Open Pairing::open() {
  const std::lock_guard lock(mutex_);
  code_ = digits_();
  until_ = seconds_() + seconds_good;
  wrong_ = 0;
  return {code_, seconds_good};
}

std::optional<Pairing::Open> Pairing::now() const {
  const std::lock_guard lock(mutex_);
  return good_now();
}

void Pairing::close() {
  const std::lock_guard lock(mutex_);
  code_.clear();
}

Pairing::Tried Pairing::attempt(const std::string& code) {
  const std::lock_guard lock(mutex_);
  if (!good_now()) return Tried::closed;
  if (same_secret(code, code_)) {
    code_.clear();
    return Tried::good;
  }
  return ++wrong_ >= wrong_tries_max ? Tried::closed : Tried::wrong;
}

namespace {

struct Squares {
  int side = 0;
  std::vector<bool> dark;
  bool at(int x, int y) const {
    return x >= 0 && y >= 0 && x < side && y < side &&
           dark[static_cast<std::size_t>(y) * static_cast<std::size_t>(side) +
                static_cast<std::size_t>(x)];
  }
};

Squares squares_of(const std::string& text) {
  const std::unique_ptr<QRcode, decltype(&QRcode_free)> code(
      QRcode_encodeString8bit(text.c_str(), 0, QR_ECLEVEL_M), &QRcode_free);
  Squares out;
  if (!code) return out;
  out.side = code->width;
  for (int i = 0; i < code->width * code->width; ++i) out.dark.push_back((code->data[i] & 1U) != 0);
  return out;
}

constexpr int rim = 4;

}  // namespace

std::string qr_svg(const std::string& text) {
  const Squares squares = squares_of(text);
  if (squares.side == 0) return {};
  const std::string size = std::to_string(squares.side + 2 * rim);
  std::string out = "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" viewBox=\"0 0 " + size +
                    " " + size +
                    "\" shape-rendering=\"crispEdges\"><title>Address for the phone"
                    "</title><rect width=\"" +
                    size + "\" height=\"" + size + "\" fill=\"#fff\"/><path fill=\"#000\" d=\"";
  for (int y = 0; y < squares.side; ++y) {
    for (int x = 0; x < squares.side; ++x) {
      if (!squares.at(x, y)) continue;
      int run = 1;
      while (squares.at(x + run, y)) ++run;
      out += "M" + std::to_string(x + rim) + " " + std::to_string(y + rim) + "h" +
             std::to_string(run) + "v1h-" + std::to_string(run) + "z";
      x += run - 1;
    }
  }
  return out + "\"/></svg>";
}

std::string qr_terminal(const std::string& text) {
  const Squares squares = squares_of(text);
  std::string out;
  for (int y = -2; y < squares.side + 2; y += 2) {
    for (int x = -2; x < squares.side + 2; ++x) {
      const bool upper = squares.at(x, y), below = squares.at(x, y + 1);
      // Light squares are drawn, so that it reads on a dark terminal.
      out += upper ? (below ? " " : "\u2584") : (below ? "\u2580" : "\u2588");
    }
    out += "\n";
  }
  return out;
}

}  // namespace ww::serve
