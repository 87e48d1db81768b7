// SPDX-License-Identifier: MIT
// From a request to an answer: guard, routes, the page's own files, pairing. Knows no socket, so
// that tests can ask it anything at speed. Invariants:
// 1. Nothing under /api/ is answered without a key that was given out.
// 2. A request that is refused has changed nothing.
// 3. Whatever bytes come, an answer goes out; what throws below becomes a 500 here.
#pragma once

#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "base/embedded.h"
#include "serve/events.h"
#include "serve/guard.h"
#include "serve/pairing.h"
#include "serve/workbench.h"

namespace ww::serve {

struct Request {
  Head head;
  std::string body;
};

struct Response {
  int status = 200;
  std::string media = "application/json";
  std::string body = {};
  std::vector<std::pair<std::string, std::string>> headers = {};
  bool events = false;  ///< an event stream follows instead of the body
};

inline constexpr std::size_t json_body_max = 1U << 20U, photo_body_max = 12U << 20U;

class Site {
 public:
  struct Setup {
    std::vector<EmbeddedFile> page;  ///< the page's files, by their names from its root
    bool lan = false;
    std::function<double()> seconds;  ///< a clock that only runs forward
  };
  Site(Workbench& bench, Events& events, Setup setup);

  /// Once, before the first request: the hosts that are answered ("127.0.0.1:8080", ...), and the
  /// port that makes the cookie's name its own.
  /// `address`: what a phone opens, "http://192.168.1.20:8080"; empty where there is no network.
  void open(std::vector<std::string> hosts, int port, std::string address = {});
  /// The key in the printed address.
  const std::string& key() const { return key_; }
  Pairing& pairing() { return pairing_; }

  /// What can be said once the head is there: how long the body may be, or why not to read it.
  struct Before {
    std::optional<Response> refused;
    std::size_t body_max = 0;
  };
  Before before_body(const Head& head) const;
  Response answer(const Request& request);
  std::shared_ptr<Events::Listener> listen() { return events_->listen(); }

 private:
  struct Call;
  struct Route;
  static const std::vector<Route>& routes();
  struct Found {
    const Route* route = nullptr;
    std::vector<std::string> marked;  ///< the steps where the route has a '*'
    bool other_method = false;
  };
  static Found find(const std::string& method, const std::vector<std::string>& steps);

  Response answered(const Request& request);
  Response file(const Head& head, const Target& target);
  Response let_in(const std::string& what);
  Response pair(const std::string& code);
  Response pairing_shown(bool fresh);
  std::string new_token();
  Door door() const;
  bool known(const Head& head) const;

  Workbench* bench_;
  Events* events_;
  Setup setup_;
  std::string key_;
  Pairing pairing_;
  mutable std::mutex mutex_;
  Door door_;
  std::string address_;
  int devices_ = 0;
};

/// A refusal as JSON.
Response problem_response(int status, const std::string& code, const std::string& what);

}  // namespace ww::serve
