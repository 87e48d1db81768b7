// SPDX-License-Identifier: MIT
#include "serve/guard.h"

#include <sys/random.h>

#include <algorithm>
#include <array>
#include <stdexcept>

#include "base/text.h"

namespace ww::serve {

namespace {

constexpr std::size_t target_bytes_max = 2000;

int hex_digit(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  return -1;
}

/// Percent escapes resolved; nothing where one is broken or gives what is never wanted.
std::optional<std::string> decoded(std::string_view text, bool in_query) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    char c = text[i];
    if (c == '%') {
      if (i + 2 >= text.size()) return std::nullopt;
      const int high = hex_digit(text[i + 1]), low = hex_digit(text[i + 2]);
      if (high < 0 || low < 0) return std::nullopt;
      c = static_cast<char>(high * 16 + low);
      i += 2;
      if (!in_query && (c == '/' || c == '%')) return std::nullopt;
    } else if (c == '+' && in_query) {
      c = ' ';
    }
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x20 || byte == 0x7F || (!in_query && c == '\\')) return std::nullopt;
    out += c;
  }
  if (!valid_utf8(out)) return std::nullopt;
  return out;
}

bool fill_query(std::string_view text, Target& out) {
  for (const auto piece : split(text, '&')) {
    if (piece.empty()) continue;
    const auto equals = piece.find('=');
    auto key = decoded(piece.substr(0, equals), true);
    auto value = decoded(equals == std::string_view::npos ? "" : piece.substr(equals + 1), true);
    if (!key || !value) return false;
    if (out.asked(*key)) return false;  // said twice: neither is taken
    out.query.emplace_back(std::move(*key), std::move(*value));
  }
  return true;
}

Denied no(int status, const char* code, const char* what) {
  return {status, code, what};
}

bool holds(const std::vector<std::string>& list, const std::string& item) {
  return std::find(list.begin(), list.end(), item) != list.end();
}

/// "application/json; charset=utf-8" -> "application/json".
std::string media_of(const std::string& type) {
  return lower(trim(std::string_view(type).substr(0, type.find(';'))));
}

std::optional<Denied> wrong_body(const Head& head, Wants wants) {
  const auto type = only_field(head, "content-type");
  const std::string media = type ? media_of(*type) : std::string();
  const bool good = wants == Wants::picture
                        ? media == "image/jpeg" || media == "image/png" || media == "image/webp"
                        : media == "application/json";
  if (!good) {
    return no(415, "wrong-media",
              wants == Wants::picture ? "a picture is sent as image/jpeg, image/png or image/webp"
                                      : "what changes something is sent as application/json");
  }
  if (has_field(head, "content-encoding"))
    return no(415, "packed-body", "a packed body is not unpacked here");
  return std::nullopt;
}

void fill_random(unsigned char* to, std::size_t size) {
  std::size_t done = 0;
  while (done < size) {
    const auto got = getrandom(to + done, size - done, 0);
    if (got < 0) throw std::runtime_error("the system gives no random numbers");
    done += static_cast<std::size_t>(got);
  }
}

}  // namespace

std::optional<std::string> Target::asked(std::string_view key) const {
  for (const auto& [name, value] : query) {
    if (name == key) return value;
  }
  return std::nullopt;
}

std::optional<Target> target_of(std::string_view target) {
  if (target.empty() || target.size() > target_bytes_max || target[0] != '/') return std::nullopt;
  const auto question = target.find('?');
  const auto path = target.substr(0, question);
  if (path.find('#') != std::string_view::npos) return std::nullopt;
  Target out;
  for (const auto raw : split(path.substr(1), '/')) {
    auto step = decoded(raw, false);
    if (!step || *step == "." || *step == "..") return std::nullopt;
    if (step->empty() && path.size() > 1) return std::nullopt;
    out.path += "/" + *step;
    if (!step->empty()) out.steps.push_back(std::move(*step));
  }
  if (question != std::string_view::npos && !fill_query(target.substr(question + 1), out))
    return std::nullopt;
  return out;
}

std::optional<std::string> only_field(const Head& head, std::string_view name) {
  std::optional<std::string> out;
  for (const auto& [key, value] : head.fields) {
    if (key != name) continue;
    if (out) return std::nullopt;
    out = value;
  }
  return out;
}

bool has_field(const Head& head, std::string_view name) {
  return std::any_of(head.fields.begin(), head.fields.end(),
                     [&](const auto& field) { return field.first == name; });
}

std::optional<std::string> cookie_of(const Head& head, std::string_view name) {
  std::optional<std::string> out;
  for (const auto& [key, value] : head.fields) {
    if (key != "cookie") continue;
    for (const auto pair : split(value, ';')) {
      const auto equals = pair.find('=');
      if (equals == std::string_view::npos || trim(pair.substr(0, equals)) != name) continue;
      if (out) return std::nullopt;
      out = std::string(trim(pair.substr(equals + 1)));
    }
  }
  return out;
}

bool same_secret(std::string_view a, std::string_view b) {
  if (a.size() != b.size()) return false;
  volatile unsigned char different = 0;
  for (std::size_t i = 0; i < a.size(); ++i)
    different = static_cast<unsigned char>(
        different | (static_cast<unsigned char>(a[i]) ^ static_cast<unsigned char>(b[i])));
  return different == 0;
}

std::optional<Denied> denied(const Head& head, const Door& door, Wants wants, bool open) {
  const auto host = only_field(head, "host");
  if (!host || !holds(door.hosts, *host))
    return no(421, "wrong-host", "open the address that the program printed");
  const bool changes = head.method == "POST" || head.method == "DELETE";
  if (!changes && head.method != "GET" && head.method != "HEAD")
    return no(405, "wrong-method", "only GET, POST and DELETE are answered");
  if (has_field(head, "origin") || changes) {
    const auto origin = only_field(head, "origin");
    if (!origin || *origin != "http://" + *host)
      return no(403, "wrong-origin", "only the program's own page may ask this");
  }
  if (const auto site = only_field(head, "sec-fetch-site"); site && *site == "cross-site" && !open)
    return no(403, "wrong-origin", "only the program's own page may ask this");
  if (!open) {
    const auto cookie = cookie_of(head, door.cookie);
    bool known = false;
    for (const auto& token : door.tokens) {
      const bool same = cookie && same_secret(*cookie, token);
      known = known || same;
    }
    if (!known)
      return no(401, "no-key", "open the address with its key, as the program printed it");
  }
  if (wants != Wants::nothing) return wrong_body(head, wants);
  return std::nullopt;
}

std::string secret() {
  static constexpr std::string_view hex = "0123456789abcdef";
  std::array<unsigned char, 16> bytes{};
  fill_random(bytes.data(), bytes.size());
  std::string out;
  for (const unsigned char byte : bytes) {
    out += hex[byte >> 4U];
    out += hex[byte & 15U];
  }
  return out;
}

std::string digits_6() {
  for (;;) {
    std::array<unsigned char, 4> bytes{};
    fill_random(bytes.data(), bytes.size());
    std::uint32_t number = 0;
    for (const unsigned char byte : bytes) number = number << 8U | byte;
    // The last, incomplete million would make small numbers likelier.
    if (number >= 4294U * 1000000U) continue;
    std::string text = std::to_string(number % 1000000U);
    return std::string(6 - text.size(), '0') + text;
  }
}

const std::vector<std::pair<std::string, std::string>>& guard_headers(Reach reach) {
  static const std::vector<std::pair<std::string, std::string>> network{
      {"Content-Security-Policy",
       "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; "
       "connect-src 'self'; form-action 'none'; frame-ancestors 'none'; base-uri 'none'"},
      {"X-Content-Type-Options", "nosniff"},
      {"Referrer-Policy", "no-referrer"},
      {"Cross-Origin-Resource-Policy", "same-origin"},
      {"Cache-Control", "no-store"}};
  static const auto loopback = [] {
    auto all = network;
    all.emplace_back("Cross-Origin-Opener-Policy", "same-origin");
    return all;
  }();
  return reach == Reach::loopback ? loopback : network;
}

}  // namespace ww::serve
