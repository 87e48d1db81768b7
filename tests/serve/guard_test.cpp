// SPDX-License-Identifier: MIT
#include "serve/guard.h"

#include <gtest/gtest.h>

#include <set>

#include "serve/events.h"
#include "serve/pairing.h"

namespace ww::serve {
namespace {

const Door door_{{"127.0.0.1:8674", "192.168.1.20:8674"}, {"0123456789abcdef"}, "wattwright8674"};

/// A request of the program's own page; each case changes something.
Head own(const std::string& method) {
  return {method,
          "/api/garage",
          {{"host", "127.0.0.1:8674"},
           {"origin", "http://127.0.0.1:8674"},
           {"content-type", "application/json"},
           {"cookie", "wattwright8674=0123456789abcdef"}}};
}
Head with(Head head, const std::string& name, const std::string& value) {
  for (auto& [key, old] : head.fields) {
    if (key != name) continue;
    old = value;
    return head;
  }
  head.fields.emplace_back(name, value);
  return head;
}
Head twice(Head head, const std::string& name, const std::string& value) {
  head.fields.emplace_back(name, value);
  return head;
}
Head without(Head head, const std::string& name) {
  for (auto at = head.fields.begin(); at != head.fields.end();) {
    at = at->first == name ? head.fields.erase(at) : at + 1;
  }
  return head;
}

struct Case {
  const char* name;
  Head head;
  int status;  ///< 0: passes
  Wants wants = Wants::nothing;
  bool open = false;
};

TEST(Guard, WhoMayAskWhat) {
  const Head get = own("GET"), post = own("POST");
  const std::vector<Case> table{
      {"own page, GET", get, 0},
      {"own page, GET without Origin", without(get, "origin"), 0},
      {"own page, POST", post, 0, Wants::json},
      {"own page, DELETE", own("DELETE"), 0, Wants::json},
      {"HEAD", own("HEAD"), 0},
      {"by the network's address",
       with(with(get, "host", "192.168.1.20:8674"), "origin", "http://192.168.1.20:8674"), 0},
      {"foreign Host", with(get, "host", "evil.example:8674"), 421},
      {"name instead of number", with(get, "host", "localhost:8674"), 421},
      {"other port", with(get, "host", "127.0.0.1:80"), 421},
      {"Host without port", with(get, "host", "127.0.0.1"), 421},
      {"Host with a dot", with(get, "host", "127.0.0.1.:8674"), 421},
      {"Host in capitals", with(get, "host", "127.0.0.1:8674 "), 421},
      {"no Host", without(get, "host"), 421},
      {"two Hosts", twice(get, "host", "evil.example"), 421},
      {"two Hosts, both right", twice(get, "host", "127.0.0.1:8674"), 421},
      {"foreign Host on an open path", with(get, "host", "evil.example"), 421, Wants::nothing,
       true},
      {"foreign Origin, GET", with(get, "origin", "http://evil.example"), 403},
      {"foreign Origin, POST", with(post, "origin", "http://evil.example"), 403, Wants::json},
      {"no Origin, POST", without(post, "origin"), 403, Wants::json},
      {"no Origin, DELETE", without(own("DELETE"), "origin"), 403, Wants::json},
      {"Origin null", with(post, "origin", "null"), 403, Wants::json},
      {"two Origins", twice(post, "origin", "http://127.0.0.1:8674"), 403, Wants::json},
      {"Origin over TLS", with(post, "origin", "https://127.0.0.1:8674"), 403, Wants::json},
      {"Origin of the other own address", with(post, "origin", "http://192.168.1.20:8674"), 403,
       Wants::json},
      {"Origin with more behind", with(post, "origin", "http://127.0.0.1:8674.evil"), 403,
       Wants::json},
      {"cross-site fetch", with(get, "sec-fetch-site", "cross-site"), 403},
      {"same-origin fetch", with(get, "sec-fetch-site", "same-origin"), 0},
      {"no cookie", without(get, "cookie"), 401},
      {"no cookie on an open path", without(get, "cookie"), 0, Wants::nothing, true},
      {"wrong key", with(get, "cookie", "wattwright8674=0123456789abcdee"), 401},
      {"shorter key", with(get, "cookie", "wattwright8674=0123456789abcde"), 401},
      {"empty key", with(get, "cookie", "wattwright8674="), 401},
      {"other program's cookie", with(get, "cookie", "wattwright8675=0123456789abcdef"), 401},
      {"two cookies of the name",
       with(get, "cookie", "wattwright8674=x; wattwright8674=0123456789abcdef"), 401},
      {"among other cookies", with(get, "cookie", "a=b; wattwright8674=0123456789abcdef; c"), 0},
      {"no cookie, POST", without(post, "cookie"), 401, Wants::json},
      {"PUT", own("PUT"), 405},
      {"OPTIONS", own("OPTIONS"), 405},
      {"TRACE", own("TRACE"), 405},
      {"CONNECT", own("CONNECT"), 405},
      {"empty method", own(""), 405},
      {"form", with(post, "content-type", "application/x-www-form-urlencoded"), 415, Wants::json},
      {"text", with(post, "content-type", "text/plain"), 415, Wants::json},
      {"text that says json", with(post, "content-type", "text/plain; application/json"), 415,
       Wants::json},
      {"no type", without(post, "content-type"), 415, Wants::json},
      {"two types", twice(post, "content-type", "application/json"), 415, Wants::json},
      {"json with a character set", with(post, "content-type", "Application/JSON; charset=utf-8"),
       0, Wants::json},
      {"json as a picture", post, 415, Wants::picture},
      {"a picture", with(post, "content-type", "image/jpeg"), 0, Wants::picture},
      {"a drawing with scripts", with(post, "content-type", "image/svg+xml"), 415, Wants::picture},
      {"packed", with(post, "content-encoding", "gzip"), 415, Wants::json},
  };
  for (const Case& one : table) {
    const auto no = denied(one.head, door_, one.wants, one.open);
    EXPECT_EQ(no ? no->status : 0, one.status) << one.name;
  }
}

TEST(Guard, WithoutAnyKeyGivenOutNothingPasses) {
  Door none = door_;
  none.tokens.clear();
  EXPECT_TRUE(denied(own("GET"), none, Wants::nothing, false));
  none.tokens = {""};
  EXPECT_TRUE(denied(without(own("GET"), "cookie"), none, Wants::nothing, false));
}

TEST(Guard, Addresses) {
  const auto steps = [](std::string_view target) {
    const auto read = target_of(target);
    if (!read) return std::string("refused");
    std::string out;
    for (const auto& step : read->steps) out += "[" + step + "]";
    for (const auto& [key, value] : read->query) out += "{" + key + "=" + value + "}";
    return out;
  };
  EXPECT_EQ(steps("/"), "");
  EXPECT_EQ(steps("/app.js"), "[app.js]");
  EXPECT_EQ(steps("/api/builds/3?ready=full&a=b%20c+d&e"),
            "[api][builds][3]{ready=full}{a=b c d}{e=}");
  EXPECT_EQ(steps("/api/explain/motor.mass"), "[api][explain][motor.mass]");
  EXPECT_EQ(steps("/caf%C3%A9"), "[caf\xC3\xA9]");
  for (const char* bad : {"",
                          "api",
                          "*",
                          "http://evil/",
                          "/..",
                          "/../etc/passwd",
                          "/a/../b",
                          "/a/./b",
                          "/%2e%2e/x",
                          "/%2E%2E%2Fetc",
                          "/a%2fb",
                          "/a%5Cb",
                          "/a\\b",
                          "/a%00b",
                          "/a%0Ab",
                          "/a%",
                          "/a%4",
                          "/a%zz",
                          "//",
                          "//evil.example",
                          "/api//builds",
                          "/api/",
                          "/a%252e",
                          "/a#b",
                          "/a%FFb",
                          "/a?b=%zz",
                          "/a?b=1&b=2",
                          "/a?b=%00",
                          "/a\tb"}) {
    EXPECT_EQ(steps(bad), "refused") << bad;
  }
  EXPECT_EQ(steps("/" + std::string(2000, 'a')), "refused");
}

TEST(Guard, SecretsAreComparedWhole) {
  EXPECT_TRUE(same_secret("abc", "abc"));
  EXPECT_TRUE(same_secret("", ""));
  EXPECT_FALSE(same_secret("abc", "abd"));
  EXPECT_FALSE(same_secret("xbc", "abc"));
  EXPECT_FALSE(same_secret("ab", "abc"));
}

TEST(Guard, SecretsAreLongAndNeverTheSame) {
  std::set<std::string> seen;
  for (int i = 0; i < 1000; ++i) {
    const std::string one = secret();
    EXPECT_EQ(one.size(), 32U);
    EXPECT_EQ(one.find_first_not_of("0123456789abcdef"), std::string::npos);
    EXPECT_TRUE(seen.insert(one).second);
    EXPECT_EQ(digits_6().size(), 6U);
  }
}

TEST(Guard, HeadersForbidWhatThePageNeverDoes) {
  std::string policy;
  for (const auto& [name, value] : guard_headers(Reach::network)) {
    if (name == "Content-Security-Policy") policy = value;
    EXPECT_NE(name, "Cross-Origin-Opener-Policy");
  }
  const auto& here = guard_headers(Reach::loopback);
  EXPECT_EQ(here.size(), guard_headers(Reach::network).size() + 1);
  EXPECT_EQ(here.back().first, "Cross-Origin-Opener-Policy");
  for (const char* part : {"default-src 'none'", "script-src 'self'", "style-src 'self'",
                           "img-src 'self' data: blob:", "connect-src 'self'", "form-action 'none'",
                           "frame-ancestors 'none'", "base-uri 'none'"}) {
    EXPECT_NE(policy.find(part), std::string::npos) << part;
  }
  EXPECT_EQ(policy.find("unsafe"), std::string::npos);
}

// ---- pairing

struct Clocked {
  double now = 1000;
  int made = 0;
  Pairing pairing{[this] { return now; }, [this] { return std::to_string(100000 + made++); }};
};

TEST(Pairing, ACodeIsGoodOnceAndForTwoMinutes) {
  Clocked c;
  EXPECT_EQ(c.pairing.attempt("100000"), Pairing::Tried::closed) << "nothing was opened";
  EXPECT_EQ(c.pairing.open().code, "100000");
  c.now += 119;
  EXPECT_EQ(c.pairing.attempt("100000"), Pairing::Tried::good);
  EXPECT_EQ(c.pairing.attempt("100000"), Pairing::Tried::closed) << "used up";
  EXPECT_EQ(c.pairing.open().code, "100001");
  c.now += 121;
  EXPECT_FALSE(c.pairing.now());
  EXPECT_EQ(c.pairing.attempt("100001"), Pairing::Tried::closed) << "too late";
}

TEST(Pairing, FiveWrongTriesCloseItUntilItIsOpenedAgain) {
  Clocked c;
  c.pairing.open();
  for (int i = 0; i < 4; ++i) EXPECT_EQ(c.pairing.attempt("999999"), Pairing::Tried::wrong);
  EXPECT_EQ(c.pairing.attempt("999999"), Pairing::Tried::closed);
  EXPECT_EQ(c.pairing.attempt("100000"), Pairing::Tried::closed) << "the right one comes too late";
  EXPECT_EQ(c.pairing.open().code, "100001");
  EXPECT_EQ(c.pairing.attempt("100000"), Pairing::Tried::wrong) << "the old code";
  EXPECT_EQ(c.pairing.attempt("100001"), Pairing::Tried::good);
}

TEST(Pairing, ThePictureIsSquaresOnly) {
  const std::string svg = qr_svg("http://192.168.1.20:8674/?pair=123456");
  EXPECT_EQ(svg.rfind("<svg ", 0), 0U);
  EXPECT_EQ(svg.find("script"), std::string::npos);
  EXPECT_NE(svg.find("M4 4h7v1h-7z"), std::string::npos) << "a finder mark in its corner";
  EXPECT_EQ(qr_svg(std::string(5000, 'x')), "") << "too long for any picture";
}

// ---- events

TEST(EventsTest, ThoseWhoListenHearInOrderAndNoMoreThanAllowed) {
  Events events;
  std::vector<std::shared_ptr<Events::Listener>> listeners;
  for (std::size_t i = 0; i < Events::listeners_max; ++i) listeners.push_back(events.listen());
  EXPECT_NE(listeners.back(), nullptr);
  EXPECT_EQ(events.listen(), nullptr);
  events.tell("state", "{\"a\":1}");
  events.tell("notice", "{}");
  EXPECT_EQ(listeners[3]->take(), "event: state\ndata: {\"a\":1}\n\nevent: notice\ndata: {}\n\n");
  EXPECT_EQ(listeners[3]->take(), "");
  listeners.pop_back();
  EXPECT_NE(events.listen(), nullptr) << "a place is free again";
  for (int i = 0; i < 1000; ++i) events.tell("n", std::to_string(i));
  const std::string kept = listeners[0]->take();
  EXPECT_EQ(kept.find("data: 700\n"), std::string::npos) << "the oldest are dropped";
  EXPECT_NE(kept.find("data: 999\n"), std::string::npos);
}

}  // namespace
}  // namespace ww::serve
