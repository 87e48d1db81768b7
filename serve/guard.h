// SPDX-License-Identifier: MIT
// Who may ask what. Pure: a request's head in, an answer or a pass out. Everything under /api/
// wants the cookie that the printed address gave; whatever comes from another host, another page or
// in another form is refused before anything is read.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace ww::serve {

/// One request as it came, the body apart.
struct Head {
  std::string method;                                       ///< "GET"
  std::string target;                                       ///< "/api/builds/3?ready=full", as sent
  std::vector<std::pair<std::string, std::string>> fields;  ///< names in lower case
  bool from_loopback = true;
};

/// A target taken apart. Empty path: it is not to be answered.
struct Target {
  std::string path;                                        ///< decoded: "/api/builds/3"
  std::vector<std::string> steps;                          ///< {"api", "builds", "3"}
  std::vector<std::pair<std::string, std::string>> query;  ///< decoded
  std::optional<std::string> asked(std::string_view key) const;
};
/// Valid: any bytes. Nothing comes back of what leads upwards ("..", "."), holds a zero, a control
/// character, a backslash, an encoded slash or a broken escape, is no UTF-8, or is longer than
/// 2,000 bytes.
std::optional<Target> target_of(std::string_view target);

/// What a refused request is told.
struct Denied {
  int status;
  std::string code, what;
};

struct Door {
  std::vector<std::string> hosts;   ///< "127.0.0.1:8080" and, in the house's network, more
  std::vector<std::string> tokens;  ///< cookies that were given out
  std::string cookie;               ///< the cookie's name
};

enum class Wants : std::uint8_t { nothing, json, picture };

/// Host, Origin, method, content type and cookie of a request. Nothing: it may pass.
/// `wants`: what its body must be. `open`: paths that need no cookie (the page's own files).
std::optional<Denied> denied(const Head& head, const Door& door, Wants wants, bool open);

/// The field's value where it stands exactly once.
std::optional<std::string> only_field(const Head& head, std::string_view name);
bool has_field(const Head& head, std::string_view name);

/// The cookie of that name; nothing where it is not sent or stands twice.
std::optional<std::string> cookie_of(const Head& head, std::string_view name);

/// Takes as long for any two texts of the same length, wherever they differ.
bool same_secret(std::string_view a, std::string_view b);

/// 128 random bits from the system as 32 hexadecimal digits.
std::string secret();
/// Six decimal digits, each as likely.
std::string digits_6();

/// Who is answered: this machine, or a device of the house's network.
enum class Reach { loopback, network };

/// Headers that go with every answer. Without encryption a browser takes no opener policy from the
/// network and would complain of it.
const std::vector<std::pair<std::string, std::string>>& guard_headers(Reach reach);

}  // namespace ww::serve
