// SPDX-License-Identifier: MIT
#include "serve/http.h"

#include <utility>  // before Boost.Asio's headers, which want it
//
#include <arpa/inet.h>
#include <ifaddrs.h>
#include <net/if.h>
#include <netinet/in.h>
#include <netinet/tcp.h>
#include <poll.h>
#include <sys/eventfd.h>
#include <sys/socket.h>
#include <unistd.h>

#include <boost/beast/http/parser.hpp>
#include <boost/beast/http/status.hpp>
#include <boost/beast/http/string_body.hpp>
#include <cerrno>
#include <chrono>
#include <cstring>

#include "base/text.h"

namespace ww::serve {

namespace {

namespace http = boost::beast::http;
using Clock = std::chrono::steady_clock;

Clock::time_point in(double seconds) {
  return Clock::now() + std::chrono::microseconds(static_cast<std::int64_t>(seconds * 1e6));
}

/// One connection: its socket with deadlines, and the bell that ends it.
class Line {
 public:
  Line(int socket, int stop_bell) : socket_(socket), stop_bell_(stop_bell) {}
  ~Line() { close(socket_); }
  Line(const Line&) = delete;
  Line& operator=(const Line&) = delete;

  /// Waits until the socket (or `other`) is ready. False: the time is over, or all is stopping.
  bool wait(short events, Clock::time_point until, int other = -1) const {
    for (;;) {
      const auto now = Clock::now();
      if (now >= until) return false;
      const auto left =
          std::chrono::duration_cast<std::chrono::milliseconds>(until - now).count() + 1;
      pollfd asked[3] = {{socket_, events, 0}, {stop_bell_, POLLIN, 0}, {other, POLLIN, 0}};
      const int ready = poll(asked, other < 0 ? 2 : 3, static_cast<int>(left));
      if (ready < 0 && errno == EINTR) continue;
      if (ready <= 0 || asked[1].revents != 0) return false;
      return true;
    }
  }

  /// Some bytes behind `to`. False: none came in time, or the other side has gone.
  bool receive(std::string& to, Clock::time_point until) const {
    char bytes[16384];
    for (;;) {
      if (!wait(POLLIN, until)) return false;
      const auto got = recv(socket_, bytes, sizeof bytes, MSG_DONTWAIT);
      if (got > 0) {
        to.append(bytes, static_cast<std::size_t>(got));
        return true;
      }
      if (got == 0 || (errno != EAGAIN && errno != EWOULDBLOCK && errno != EINTR)) return false;
    }
  }

  bool send_all(std::string_view bytes, Clock::time_point until) const {
    while (!bytes.empty()) {
      const auto sent = send(socket_, bytes.data(), bytes.size(), MSG_NOSIGNAL | MSG_DONTWAIT);
      if (sent > 0) {
        bytes.remove_prefix(static_cast<std::size_t>(sent));
        continue;
      }
      if (sent < 0 && errno != EAGAIN && errno != EWOULDBLOCK && errno != EINTR) return false;
      if (!wait(POLLOUT, until)) return false;
    }
    return true;
  }

  /// Says that no more comes, and lets the other side finish, so that it reads the answer.
  void part() const {
    shutdown(socket_, SHUT_WR);
    std::string rest;
    const auto until = in(1);
    std::size_t taken = 0;
    while (taken < (4U << 20U) && receive(rest, until)) {
      taken += rest.size();
      rest.clear();
    }
  }

  /// Whether the other side has gone.
  bool gone() const {
    char byte = 0;
    const auto got = recv(socket_, &byte, 1, MSG_PEEK | MSG_DONTWAIT);
    return got == 0 || (got < 0 && errno != EAGAIN && errno != EWOULDBLOCK && errno != EINTR);
  }

 private:
  int socket_, stop_bell_;
};

std::string head_of(const Response& response, Reach reach, bool keep_alive = false) {
  const auto status = static_cast<http::status>(response.status);
  const auto reason = http::obsolete_reason(status);
  std::string out = "HTTP/1.1 " + std::to_string(response.status) + " " +
                    std::string(reason.data(), reason.size()) +
                    "\r\nContent-Type: " + response.media + "\r\n";
  for (const auto& [name, value] : guard_headers(reach)) out += name + ": " + value + "\r\n";
  for (const auto& [name, value] : response.headers) out += name + ": " + value + "\r\n";
  if (!response.events) out += "Content-Length: " + std::to_string(response.body.size()) + "\r\n";
  out += keep_alive ? "Connection: keep-alive\r\n\r\n" : "Connection: close\r\n\r\n";
  return out;
}

/// One connection from its first byte to its last.
class Conversation {
 public:
  Conversation(Site& site, const HttpLimits& limits, const Line& line, Reach reach)
      : site_(&site), limits_(&limits), line_(&line), reach_(reach) {}

  void run() {
    while (one()) {
    }
  }

 private:
  using Parser = http::request_parser<http::string_body>;

  /// One request and its answer; false: the connection ends.
  bool one() {
    if (waiting_.empty() && !line_->receive(waiting_, in(limits_->idle_s))) return false;
    Parser parser;
    parser.header_limit(static_cast<std::uint32_t>(limits_->head_bytes_max));
    parser.body_limit(std::uint64_t{photo_body_max} + 1);
    parser.eager(false);
    if (const int status = read(parser, in(limits_->head_s), false); status != 0)
      return refuse(status);
    Request request;
    request.head = head(parser);
    const auto before = site_->before_body(request.head);
    if (before.refused) return last(*before.refused);
    const auto length = parser.content_length();
    if (length && *length > before.body_max) return refuse(413);
    if (length && *length > 0) {
      if (has_field(request.head, "expect") &&
          !line_->send_all("HTTP/1.1 100 Continue\r\n\r\n", in(limits_->answer_s)))
        return false;
      parser.eager(true);
      if (const int status = read(parser, in(limits_->body_s), true); status != 0)
        return refuse(status);
    }
    request.body = std::move(parser.get().body());
    Response response = site_->answer(request);
    if (response.events) return stream(response);
    const bool keep = parser.get().keep_alive();
    const std::string head = head_of(response, reach_, keep);
    const bool bare = request.head.method == "HEAD";
    if (!line_->send_all(bare ? head : head + response.body, in(limits_->answer_s))) return false;
    if (!keep) line_->part();
    return keep;
  }

  /// Feeds the parser until head (or all) is there. A status to refuse with; 0: good; -1: gone.
  int read(Parser& parser, Clock::time_point until, bool whole) {
    for (;;) {
      if (whole ? parser.is_done() : parser.is_header_done()) return 0;
      boost::system::error_code wrong;
      if (!waiting_.empty()) {
        const auto used = parser.put(boost::asio::buffer(waiting_), wrong);
        waiting_.erase(0, used);
        if (wrong == http::error::header_limit) return 431;
        if (wrong == http::error::body_limit) return 413;
        if (wrong && wrong != http::error::need_more) return 400;
        if (!wrong && used > 0) continue;
      }
      if (!whole && waiting_.size() > static_cast<std::size_t>(limits_->head_bytes_max)) return 431;
      if (!line_->receive(waiting_, until)) return Clock::now() >= until ? 408 : -1;
    }
  }

  Head head(const Parser& parser) const {
    const auto& message = parser.get();
    Head out;
    out.method = std::string(message.method_string().data(), message.method_string().size());
    out.target = std::string(message.target().data(), message.target().size());
    for (const auto& field : message) {
      out.fields.emplace_back(
          lower(std::string_view(field.name_string().data(), field.name_string().size())),
          std::string(field.value().data(), field.value().size()));
    }
    out.from_loopback = reach_ == Reach::loopback;
    return out;
  }

  bool last(const Response& response) {
    if (line_->send_all(head_of(response, reach_) + response.body, in(limits_->answer_s)))
      line_->part();
    return false;
  }

  bool refuse(int status) {
    switch (status) {
      case 400:
        return last(problem_response(400, "bad-request", "this is no request"));
      case 408:
        return last(problem_response(408, "too-slow", "the request did not come in time"));
      case 413:
        return last(problem_response(413, "too-large", "the body is too large"));
      case 431:
        return last(problem_response(431, "head-too-large", "the head is too large"));
      default:
        return false;
    }
  }

  /// Sends events until the page or the program ends.
  bool stream(Response& response) {
    const auto listener = site_->listen();
    if (!listener)
      return last(problem_response(503, "too-many-pages", "too many pages listen already"));
    response.headers.emplace_back("X-Accel-Buffering", "no");
    if (!line_->send_all(head_of(response, reach_) + "retry: 2000\n\n", in(limits_->answer_s)))
      return false;
    auto beat = in(limits_->heartbeat_s);
    for (;;) {
      const bool ready = line_->wait(POLLIN, beat, listener->bell());
      if (!ready && Clock::now() < beat) return false;  // all is stopping
      if (ready && line_->gone()) return false;
      std::string text = listener->take();
      if (!ready) text += ":\n\n";
      if (Clock::now() >= beat) beat = in(limits_->heartbeat_s);
      if (text.empty()) {
        // Bytes that nobody asked for: a page that talks into its event stream is let go.
        return false;
      }
      if (!line_->send_all(text, in(limits_->answer_s))) return false;
      beat = in(limits_->heartbeat_s);
    }
  }

  Site* site_;
  const HttpLimits* limits_;
  const Line* line_;
  Reach reach_;
  std::string waiting_;  ///< bytes that came and were not used yet
};

Error system_error(const char* code, const char* what) {
  return {.code = code, .what = std::string(what) + ": " + std::strerror(errno)};  // NOLINT
}

}  // namespace

Result<std::unique_ptr<Http>> Http::listen(Site& site, Setup setup) {
  const int listener = socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0);
  if (listener < 0) return fail(system_error("no-socket", "no socket is to be had"));
  const int yes = 1;
  setsockopt(listener, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
  sockaddr_in address{};
  address.sin_family = AF_INET;
  address.sin_port = htons(static_cast<std::uint16_t>(setup.port));
  address.sin_addr.s_addr = htonl(setup.all_addresses ? INADDR_ANY : INADDR_LOOPBACK);
  const auto* plain = reinterpret_cast<const sockaddr*>(&address);
  if (bind(listener, plain, sizeof address) != 0 || ::listen(listener, 64) != 0) {
    Error error = system_error("port-taken", "this port cannot be used");
    error.found = std::to_string(setup.port);
    error.way_out = "Another --port, or --port 0 for any that is free";
    close(listener);
    return fail(std::move(error));
  }
  const int bell = eventfd(0, EFD_CLOEXEC | EFD_NONBLOCK);
  if (bell < 0) {
    close(listener);
    return fail(system_error("no-socket", "no event descriptor is to be had"));
  }
  return std::unique_ptr<Http>(new Http(site, std::move(setup), listener, bell));
}

Http::Http(Site& site, Setup setup, int listener, int stop_bell)
    : site_(&site), setup_(std::move(setup)), listener_(listener), stop_bell_(stop_bell) {
  sockaddr_in address{};
  socklen_t size = sizeof address;
  getsockname(listener_, reinterpret_cast<sockaddr*>(&address), &size);
  port_ = ntohs(address.sin_port);
}

Http::~Http() {
  stop();
  reap(true);
  if (listener_ >= 0) close(listener_);
  close(stop_bell_);
}

void Http::stop() const {
  const std::uint64_t one = 1;
  (void)!write(stop_bell_, &one, sizeof one);
}

void Http::reap(bool all) {
  for (auto at = served_.begin(); at != served_.end();) {
    if (all || at->done) {
      at->thread.join();
      at = served_.erase(at);
    } else {
      ++at;
    }
  }
}

void Http::take() {
  sockaddr_in peer{};
  socklen_t size = sizeof peer;
  const int socket = accept4(listener_, reinterpret_cast<sockaddr*>(&peer), &size, SOCK_CLOEXEC);
  if (socket < 0) {
    // Out of descriptors: the waiting connection stays; do not spin on it.
    if (errno == EMFILE || errno == ENFILE) usleep(50000);
    return;
  }
  const int yes = 1;
  setsockopt(socket, IPPROTO_TCP, TCP_NODELAY, &yes, sizeof yes);
  reap(false);
  if (served_.size() >= setup_.limits.connections_max) {
    const Line line(socket, stop_bell_);
    const Response busy = problem_response(503, "too-busy", "too many connections at once");
    (void)line.send_all(head_of(busy, Reach::loopback) + busy.body, in(0.2));
    return;
  }
  const Reach reach =
      (ntohl(peer.sin_addr.s_addr) >> 24U) == 127 ? Reach::loopback : Reach::network;
  Served& served = served_.emplace_back();
  try {
    served.thread = std::thread([this, &served, socket, reach] {
      {
        const Line line(socket, stop_bell_);
        try {
          Conversation(*site_, setup_.limits, line, reach).run();
        } catch (const std::exception&) {
          // Out of memory, say: this connection ends, the others go on.
        }
      }
      served.done = true;
    });
  } catch (const std::system_error&) {
    served_.pop_back();
    close(socket);
  }
}

void Http::run() {
  for (;;) {
    pollfd asked[2] = {{listener_, POLLIN, 0}, {stop_bell_, POLLIN, 0}};
    const int ready = poll(asked, 2, 1000);
    if (ready < 0 && errno != EINTR) break;
    if (ready > 0 && asked[1].revents != 0) break;
    if (ready > 0 && asked[0].revents != 0) take();
    if (ready == 0) reap(false);
  }
  close(listener_);
  listener_ = -1;
  if (setup_.stopping) setup_.stopping();
  reap(true);
}

std::vector<std::string> lan_addresses() {
  std::vector<std::string> out;
  ifaddrs* list = nullptr;
  if (getifaddrs(&list) != 0) return out;
  for (const ifaddrs* at = list; at != nullptr; at = at->ifa_next) {
    if (at->ifa_addr == nullptr || at->ifa_addr->sa_family != AF_INET) continue;
    if ((at->ifa_flags & IFF_UP) == 0 || (at->ifa_flags & IFF_LOOPBACK) != 0) continue;
    sockaddr_in address{};
    std::memcpy(&address, at->ifa_addr, sizeof address);
    char text[INET_ADDRSTRLEN] = {};
    if (inet_ntop(AF_INET, &address.sin_addr, text, sizeof text) != nullptr) out.emplace_back(text);
  }
  freeifaddrs(list);
  return out;
}

}  // namespace ww::serve
