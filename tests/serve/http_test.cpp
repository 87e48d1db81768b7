// SPDX-License-Identifier: MIT
// Real sockets on the loopback address: what a page sends, what a stranger sends, what breaks off
// in the middle.
#include "serve/http.h"

#include <arpa/inet.h>
#include <gtest/gtest.h>
#include <netinet/in.h>
#include <poll.h>
#include <sys/socket.h>

#include <chrono>
#include <random>
#include <thread>

#include "support.h"

namespace ww::serve::test {
namespace {

using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point start) {
  return std::chrono::duration<double>(Clock::now() - start).count();
}

/// One end of a connection to the server.
class Client {
 public:
  explicit Client(int port) : socket_(socket(AF_INET, SOCK_STREAM, 0)) {
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_port = htons(static_cast<std::uint16_t>(port));
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    connected = connect(socket_, reinterpret_cast<const sockaddr*>(&address), sizeof address) == 0;
  }
  ~Client() { close(socket_); }
  Client(const Client&) = delete;
  Client& operator=(const Client&) = delete;

  bool send(std::string_view bytes) const {
    while (!bytes.empty()) {
      const auto sent = ::send(socket_, bytes.data(), bytes.size(), MSG_NOSIGNAL);
      if (sent <= 0) return false;
      bytes.remove_prefix(static_cast<std::size_t>(sent));
    }
    return true;
  }
  void ends_sending() const { shutdown(socket_, SHUT_WR); }
  /// Everything until the other side ends, or `until` stands in it, or the time is over.
  std::string receive(double seconds = 10, const std::string& until = {}) {
    const auto start = Clock::now();
    std::string out;
    for (;;) {
      if (!until.empty() && out.find(until) != std::string::npos) return out;
      const double left = seconds - seconds_since(start);
      pollfd asked{socket_, POLLIN, 0};
      if (left <= 0 || poll(&asked, 1, static_cast<int>(left * 1000) + 1) <= 0) return out;
      char bytes[65536];
      const auto got = recv(socket_, bytes, sizeof bytes, 0);
      if (got <= 0) {
        ended = true;
        return out;
      }
      out.append(bytes, static_cast<std::size_t>(got));
    }
  }
  /// One whole answer of a connection that stays open.
  std::string answer() {
    std::string out = receive(10, "\r\n\r\n");
    const auto head = out.find("\r\n\r\n");
    const auto at = out.find("Content-Length: ");
    if (head == std::string::npos || at == std::string::npos) return out;
    const auto length = std::stoul(out.substr(at + 16));
    while (out.size() < head + 4 + length) {
      const std::string more = receive(10, std::string());
      if (more.empty()) break;
      out += more;
    }
    return out;
  }

  bool connected = false, ended = false;

 private:
  int socket_;
};

int status_of(const std::string& answer) {
  return answer.rfind("HTTP/1.1 ", 0) == 0 ? std::stoi(answer.substr(9, 3)) : 0;
}

class Served {
 public:
  explicit Served(HttpLimits limits = {}) {
    auto listening =
        Http::listen(*place.site, {.limits = limits, .stopping = [this] { place.bench->stop(); }});
    if (!listening) throw std::runtime_error(listening.error().what);
    http = std::move(*listening);
    place.host = "127.0.0.1:" + std::to_string(http->port());
    place.site->open({place.host}, http->port());
    place.let_in();
    thread = std::thread([this] { http->run(); });
  }
  ~Served() { stop(); }
  void stop() {
    http->stop();
    if (thread.joinable()) thread.join();
  }
  /// A request as the page sends it.
  std::string request(const std::string& method, const std::string& target,
                      const std::string& body = {}, const std::string& more = {}) const {
    return method + " " + target + " HTTP/1.1\r\nHost: " + place.host + "\r\nOrigin: http://" +
           place.host + "\r\nCookie: " + place.cookie + "\r\nContent-Type: application/json\r\n" +
           more + (body.empty() ? "" : "Content-Length: " + std::to_string(body.size()) + "\r\n") +
           "\r\n" + body;
  }
  /// Sends it on a connection of its own that ends after one answer.
  std::string once(const std::string& method, const std::string& target,
                   const std::string& body = {}) const {
    Client client(http->port());
    client.send(request(method, target, body, "Connection: close\r\n"));
    return client.receive();
  }
  std::string raw(const std::string& bytes, double seconds = 10) const {
    Client client(http->port());
    client.send(bytes);
    return client.receive(seconds);
  }

  Place place;
  std::unique_ptr<Http> http;
  std::thread thread;
};

TEST(Sockets, ThePageIsServedWithItsHeaders) {
  const Served served;
  const std::string answer = served.once("GET", "/");
  EXPECT_EQ(status_of(answer), 200);
  for (const char* header :
       {"Content-Type: text/html", "X-Content-Type-Options: nosniff",
        "Referrer-Policy: no-referrer", "Content-Security-Policy: default-src 'none'",
        "Cross-Origin-Opener-Policy: same-origin", "Cross-Origin-Resource-Policy: same-origin",
        "Connection: close"}) {
    EXPECT_NE(answer.find(header), std::string::npos) << header;
  }
  EXPECT_EQ(answer.find("Access-Control"), std::string::npos);
  EXPECT_EQ(answer.find("Content-Encoding"), std::string::npos);
  const std::string head = served.once("HEAD", "/");
  EXPECT_EQ(status_of(head), 200);
  EXPECT_EQ(head.find("<title>"), std::string::npos);
}

TEST(Sockets, AConnectionServesManyRequestsAndTakesThemInARow) {
  const Served served;
  Client client(served.http->port());
  for (int i = 0; i < 5; ++i) {
    client.send(served.request("GET", "/api/garage"));
    EXPECT_EQ(status_of(client.answer()), 200);
  }
  client.send(served.request("GET", "/api/garage") + served.request("GET", "/api/nothing"));
  const std::string both = client.receive(3, "not-here");
  EXPECT_NE(both.find("\"builds\""), std::string::npos);
  EXPECT_NE(both.find("404"), std::string::npos);
  EXPECT_FALSE(client.ended);
}

TEST(Sockets, StrangersAreRefused) {
  const Served served;
  const std::string& host = served.place.host;
  struct Case {
    const char* name;
    std::string bytes;
    int status;
  };
  const std::string cookie = "Cookie: " + served.place.cookie + "\r\n";
  const std::string post = "POST /api/builds HTTP/1.1\r\nHost: " + host + "\r\n" + cookie;
  const std::string json = "Content-Type: application/json\r\nContent-Length: 2\r\n\r\n{}";
  const std::string own_origin = "Origin: http://" + host + "\r\n";
  const std::vector<Case> table{
      {"foreign Host", "GET /api/garage HTTP/1.1\r\nHost: evil.example\r\n" + cookie + "\r\n", 421},
      {"foreign Host for the page", "GET / HTTP/1.1\r\nHost: evil.example\r\n\r\n", 421},
      {"no Host", "GET /api/garage HTTP/1.1\r\n" + cookie + "\r\n", 421},
      {"doubled Host",
       "GET /api/garage HTTP/1.1\r\nHost: " + host + "\r\nHost: " + host + "\r\n" + cookie + "\r\n",
       421},
      {"foreign Origin", post + "Origin: http://evil.example\r\n" + json, 403},
      {"no Origin", post + json, 403},
      {"no key", "GET /api/garage HTTP/1.1\r\nHost: " + host + "\r\n\r\n", 401},
      {"as a form", post + own_origin + "Content-Type: text/plain\r\nContent-Length: 2\r\n\r\n{}",
       415},
      {"malformed JSON",
       post + own_origin + "Content-Type: application/json\r\nContent-Length: 3\r\n\r\n{]}", 400},
      {"no body at all", post + own_origin + "Content-Type: application/json\r\n\r\n", 400},
      {"chunked",
       post + own_origin +
           "Content-Type: application/json\r\nTransfer-Encoding: "
           "chunked\r\n\r\n2\r\n{}\r\n0\r\n\r\n",
       411},
      {"chunked over the limit",
       post + own_origin +
           "Content-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\nfffffff\r\n" +
           std::string(100000, 'x'),
       411},
      {"chunked and with a length",
       post + own_origin +
           "Content-Type: application/json\r\nTransfer-Encoding: chunked\r\nContent-Length: "
           "2\r\n\r\n{}",
       400},
      {"two lengths",
       post + own_origin +
           "Content-Type: application/json\r\nContent-Length: 2\r\nContent-Length: 3\r\n\r\n{}",
       400},
      {"length below zero",
       post + own_origin + "Content-Type: application/json\r\nContent-Length: -1\r\n\r\n", 400},
      {"oversized body",
       post + own_origin + "Content-Type: application/json\r\nContent-Length: 1048577\r\n\r\n" +
           std::string(1000, 'x'),
       413},
      {"very oversized body",
       post + own_origin + "Content-Type: application/json\r\nContent-Length: 99999999999\r\n\r\n",
       413},
      {"a body where none belongs",
       "GET /api/garage HTTP/1.1\r\nHost: " + host + "\r\n" + cookie +
           "Content-Length: 5\r\n\r\nhello",
       413},
      {"oversized head",
       "GET / HTTP/1.1\r\nHost: " + host + "\r\nX: " + std::string(20000, 'x') + "\r\n\r\n", 431},
      {"many heads",
       [&] {
         std::string bytes = "GET / HTTP/1.1\r\nHost: " + host + "\r\n";
         for (int i = 0; i < 4000; ++i) bytes += "X-" + std::to_string(i) + ": y\r\n";
         return bytes + "\r\n";
       }(),
       431},
      {"upwards", "GET /../etc/passwd HTTP/1.1\r\nHost: " + host + "\r\n\r\n", 400},
      {"upwards, escaped", "GET /%2e%2e/%2e%2e/etc/passwd HTTP/1.1\r\nHost: " + host + "\r\n\r\n",
       400},
      {"whole address", "GET http://evil.example/ HTTP/1.1\r\nHost: " + host + "\r\n\r\n", 400},
      {"tunnel", "CONNECT evil.example:80 HTTP/1.1\r\nHost: " + host + "\r\n\r\n", 400},
      {"OPTIONS", "OPTIONS /api/garage HTTP/1.1\r\nHost: " + host + "\r\n" + cookie + "\r\n", 405},
      {"TLS", std::string("\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03", 11) + "\r\n\r\n", 400},
      {"old HTTP", "GET /\r\n\r\n", 400},
      {"line feed in a head", "GET / HTTP/1.1\r\nHost: " + host + "\r\nA\n: b\r\n\r\n", 400},
      {"folded head", "GET / HTTP/1.1\r\nHost: evil\r\n " + host + "\r\n\r\n", 421},
  };
  for (const Case& one : table) {
    const std::string answer = served.raw(one.bytes, 5);
    EXPECT_EQ(status_of(answer), one.status) << one.name << "\n" << answer.substr(0, 400);
  }
  EXPECT_EQ(status_of(served.once("GET", "/api/garage")), 200) << "and the page still answers";
  EXPECT_TRUE(served.place.garage->builds()->empty());
}

TEST(Sockets, AsOldClientsAsk) {
  const Served served;
  Client client(served.http->port());
  client.send("GET / HTTP/1.0\r\nHost: " + served.place.host + "\r\n\r\n");
  EXPECT_EQ(status_of(client.receive()), 200);
  EXPECT_TRUE(client.ended) << "without keep-alive the connection ends";
}

TEST(Sockets, RangesAndPackingAreNotOffered) {
  const Served served;
  Client client(served.http->port());
  client.send("GET / HTTP/1.1\r\nHost: " + served.place.host +
              "\r\nRange: bytes=0-1,1-2,2-3\r\nAccept-Encoding: br, gzip\r\nConnection: "
              "close\r\n\r\n");
  const std::string answer = client.receive();
  EXPECT_EQ(status_of(answer), 200);
  EXPECT_NE(answer.find("Wattwright"), std::string::npos);
  EXPECT_EQ(answer.find("Content-Range"), std::string::npos);
}

TEST(Sockets, AClientThatWaitsForLeaveGetsIt) {
  const Served served;
  Client client(served.http->port());
  const std::string body = R"({"units":"metric"})";
  client.send(served.request(
      "POST", "/api/units", {},
      "Expect: 100-continue\r\nContent-Length: " + std::to_string(body.size()) + "\r\n"));
  EXPECT_NE(client.receive(5, "\r\n\r\n").find("100 Continue"), std::string::npos);
  client.send(body);
  EXPECT_EQ(status_of(client.answer()), 200);
}

TEST(Sockets, SlowSendersAreLetGo) {
  HttpLimits limits;
  limits.head_s = 0.6;
  limits.body_s = 0.6;
  limits.idle_s = 0.6;
  const Served served(limits);
  // A byte now and then keeps no connection open.
  const auto trickle = [&](const std::string& start, const std::string& rest) {
    Client client(served.http->port());
    client.send(start);
    const auto began = Clock::now();
    std::string answer;
    for (const char c : rest) {
      if (!client.send(std::string_view(&c, 1))) break;
      answer += client.receive(0.05);
      if (client.ended || !answer.empty()) break;
    }
    answer += client.receive(5);
    EXPECT_TRUE(client.ended);
    EXPECT_GE(seconds_since(began), 0.4);
    EXPECT_LT(seconds_since(began), 4.0);
    return status_of(answer);
  };
  EXPECT_EQ(trickle("GET / HTTP/1.1\r\n", std::string(200, 'X')), 408);
  EXPECT_EQ(trickle(served.request("POST", "/api/units", {}, "Content-Length: 200\r\n"),
                    std::string(200, ' ')),
            408);
  // One that says nothing at all is let go without a word.
  Client silent(served.http->port());
  EXPECT_EQ(silent.receive(5), "");
  EXPECT_TRUE(silent.ended);
}

TEST(Sockets, TwentyListenAndThePageStillAnswers) {
  HttpLimits limits;
  limits.heartbeat_s = 0.5;
  Served served(limits);
  std::vector<std::unique_ptr<Client>> pages;
  for (int i = 0; i < 20; ++i) {
    pages.push_back(std::make_unique<Client>(served.http->port()));
    pages.back()->send(served.request("GET", "/api/events"));
    EXPECT_NE(pages.back()->receive(10, "retry").find("text/event-stream"), std::string::npos);
  }
  EXPECT_EQ(served.place.events.listeners(), 20U);
  EXPECT_EQ(status_of(served.once("GET", "/api/garage")), 200);
  served.place.demo("two-parts");
  for (auto& page : pages)
    EXPECT_NE(page->receive(10, "\"ready\":\"first\"").find("event: state"), std::string::npos);
  EXPECT_NE(pages[0]->receive(5, ":\n\n").find(":\n\n"), std::string::npos) << "a heartbeat";
  // Pages that are closed are noticed.
  pages.resize(5);
  for (int i = 0; i < 100 && served.place.events.listeners() > 5; ++i)
    std::this_thread::sleep_for(std::chrono::milliseconds(50));
  EXPECT_EQ(served.place.events.listeners(), 5U);
  // And the end comes at once, whoever listens.
  const auto began = Clock::now();
  served.stop();
  EXPECT_LT(seconds_since(began), 1.0);
  EXPECT_EQ(pages[0]->receive(5).find("event"), std::string::npos);
  EXPECT_TRUE(pages[0]->ended);
}

TEST(Sockets, MoreThanAllowedAreToldSo) {
  Served served;
  std::vector<std::unique_ptr<Client>> pages;
  for (std::size_t i = 0; i < Events::listeners_max; ++i) {
    pages.push_back(std::make_unique<Client>(served.http->port()));
    pages.back()->send(served.request("GET", "/api/events"));
    pages.back()->receive(10, "retry");
  }
  EXPECT_EQ(status_of(served.once("GET", "/api/events")), 503);
  EXPECT_EQ(status_of(served.once("GET", "/api/garage")), 200);
  HttpLimits few;
  few.connections_max = 3;
  const Served small(few);
  std::vector<std::unique_ptr<Client>> idle;
  for (int i = 0; i < 3; ++i) {
    idle.push_back(std::make_unique<Client>(small.http->port()));
    idle.back()->send(small.request("GET", "/api/garage"));
    EXPECT_EQ(status_of(idle.back()->answer()), 200);
  }
  EXPECT_EQ(status_of(small.once("GET", "/api/garage")), 503);
  idle.pop_back();
  int status = 503;
  for (int i = 0; i < 50 && status == 503; ++i) {
    std::this_thread::sleep_for(std::chrono::milliseconds(50));
    status = status_of(small.once("GET", "/api/garage"));
  }
  EXPECT_EQ(status, 200) << "a place is free again";
}

TEST(Sockets, TwoWhoEditAtOnceOneIsWrittenAndTheOtherIsToldBoth) {
  const Served served;
  Place& place = const_cast<Served&>(served).place;
  place.demo("two-parts");
  std::int64_t revision = 1;
  for (int round = 0; round < 10; ++round) {
    std::string answers[2];
    std::thread clients[2];
    for (int k = 0; k < 2; ++k) {
      clients[k] = std::thread([&, k] {
        const std::string mass = std::to_string(10 + 2 * round + k) + " kg";
        answers[k] = served.once("POST", "/api/builds/1/edit",
                                 edit(revision, {change("motor.mass", mass)}).dump());
      });
    }
    for (auto& client : clients) client.join();
    const int winner = status_of(answers[0]) == 200 ? 0 : 1;
    ASSERT_EQ(status_of(answers[winner]), 200) << answers[winner].substr(0, 300);
    ASSERT_EQ(status_of(answers[1 - winner]), 409) << answers[1 - winner].substr(0, 300);
    const auto body = [](const std::string& answer) {
      return Json::parse(answer.substr(answer.find("\r\n\r\n") + 4));
    };
    const Json stale = body(answers[1 - winner]), state = body(answers[winner]);
    EXPECT_EQ(stale["now"]["values"]["motor.mass"], state["values"]["motor.mass"]);
    EXPECT_EQ(stale["yours"][0]["path"], "motor.mass");
    EXPECT_TRUE(stale["same_fields"]);
    revision = state["revision"];
    EXPECT_EQ(place.get("builds/1")["revision"], revision);
  }
}

TEST(Sockets, NoPortIsSharedAndAFreedOneIsTakenAtOnce) {
  auto first = std::make_unique<Served>();
  const int port = first->http->port();
  Place other;
  const auto second = Http::listen(*other.site, {.port = port});
  ASSERT_FALSE(second);
  EXPECT_EQ(second.error().code, "port-taken");
  EXPECT_EQ(status_of(first->once("GET", "/")), 200);
  first.reset();
  EXPECT_TRUE(Http::listen(*other.site, {.port = port}));
}

TEST(Sockets, OnlyTheLoopbackAddressIsBound) {
  const Served served;
  for (const auto& address : lan_addresses()) {
    const int other = socket(AF_INET, SOCK_STREAM, 0);
    sockaddr_in to{};
    to.sin_family = AF_INET;
    to.sin_port = htons(static_cast<std::uint16_t>(served.http->port()));
    inet_pton(AF_INET, address.c_str(), &to.sin_addr);
    EXPECT_NE(connect(other, reinterpret_cast<const sockaddr*>(&to), sizeof to), 0) << address;
    close(other);
  }
}

TEST(Sockets, ItEndsWhileTheFullStateIsWaitedFor) {
  Served served;
  served.place.demo("beginner");
  Client waits(served.http->port());
  waits.send(served.request("GET", "/api/builds/1?ready=full"));
  std::this_thread::sleep_for(std::chrono::milliseconds(20));
  const auto began = Clock::now();
  served.stop();
  // One build is being looked at in this thread's place; that is finished first.
  EXPECT_LT(seconds_since(began), 20.0);
}

TEST(Sockets, SixHundredBentRequestsAndNoByteOfTheGarageMoves) {
  HttpLimits limits;
  limits.head_s = 0.3;
  limits.body_s = 0.3;
  Served served(limits);
  served.place.demo("two-parts");
  std::mt19937 random(20260501);
  // Whole or bent, none of these may change anything: the figure is none, the base is old.
  const std::vector<std::string> seeds{
      served.request("GET", "/api/garage"),
      served.request("GET", "/api/builds/1"),
      served.request("GET", "/api/builds/1/plots/thrust.svg"),
      served.request("DELETE", "/api/own-parts/7"),
      served.request("POST", "/api/builds/1/edit", edit(1, {change("motor.mass", "x")}).dump()),
      served.request("POST", "/api/builds/1/undo", R"({"base":0})"),
      served.request("POST", "/api/import", R"({"name":"x","text":"no sheet"})"),
      "GET / HTTP/1.1\r\n\r\n"};
  const std::string before = served.place.kept_bytes();
  std::map<int, int> statuses;
  for (int i = 0; i < 600; ++i) {
    std::string bytes = seeds[random() % seeds.size()];
    if (i % 5 == 0) bytes.clear();
    const auto changes = 1 + random() % 12;
    for (auto k = changes; k > 0; --k) {
      const auto at = bytes.empty() ? 0 : random() % bytes.size();
      const auto what = random() % 3;
      if (what == 0 || bytes.empty()) {
        bytes.insert(at, 1 + random() % 40, static_cast<char>(random() & 0xFFU));
      } else if (what == 1) {
        bytes[at] = static_cast<char>(random() & 0xFFU);
      } else {
        bytes.erase(at, 1 + random() % 20);
      }
    }
    Client client(served.http->port());
    ASSERT_TRUE(client.connected) << i;
    client.send(bytes);
    client.ends_sending();
    ++statuses[status_of(client.receive(5))];
    ASSERT_TRUE(client.ended) << "it is let go: " << i;
  }
  EXPECT_EQ(status_of(served.once("GET", "/api/garage")), 200);
  EXPECT_EQ(served.place.kept_bytes(), before);
  EXPECT_GT(statuses[400], 100);
  for (const auto& [status, count] : statuses) {
    EXPECT_LT(status, 500) << count;
  }
}

}  // namespace
}  // namespace ww::serve::test
