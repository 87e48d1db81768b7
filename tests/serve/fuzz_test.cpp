// SPDX-License-Identifier: MIT
// Ten thousand requests that nobody meant: valid ones bent at random, and bytes. Whatever comes,
// something is answered, and the garage has moved only where the answer says so.
#include <gtest/gtest.h>

#include <random>

#include "support.h"

namespace ww::serve::test {
namespace {

using Random = std::mt19937;

std::string bent(std::string text, Random& random) {
  const auto changes = 1 + random() % 4;
  for (auto k = changes; k > 0; --k) {
    const auto at = text.empty() ? 0 : random() % text.size();
    switch (text.empty() ? 0 : random() % 6) {
      case 0:
        text.insert(at, 1 + random() % 3, static_cast<char>(random() & 0xFFU));
        break;
      case 1:
        text[at] = static_cast<char>(random() & 0xFFU);
        break;
      case 2:
        text.erase(at, 1 + random() % 8);
        break;
      case 3:
        text.insert(at, text.substr(random() % text.size(), random() % 30));
        break;
      case 4: {
        static const char* const pieces[] = {
            "\"",   "{",  "}",     "[",    "]",       ",",    "..", "%00", "%2e%2e%2f",
            "null", "-1", "1e999", "own:", "\\u0000", "true", "/",  "?a=", "99999999999999999999"};
        text.insert(at, pieces[random() % (sizeof pieces / sizeof pieces[0])]);
        break;
      }
      default:
        for (char& c : text) {
          if (c >= '0' && c <= '9' && random() % 3 == 0) c = static_cast<char>('0' + random() % 10);
        }
    }
  }
  return text;
}

/// Requests that pass, on the newest revision of build 1.
std::vector<Request> valid_requests(Place& place, std::int64_t base) {
  const auto get = [&](const std::string& target) { return place.request("GET", target); };
  const auto post = [&](const std::string& target, const Json& body) {
    return place.request("POST", "/api/" + target, body.dump());
  };
  return {get("/"),
          get("/?key=00"),
          get("/?pair=123456"),
          get("/index.html"),
          get("/api/garage"),
          get("/api/builds/1"),
          get("/api/builds/1/history?before=5"),
          get("/api/builds/1/sheet"),
          get("/api/builds/1/list"),
          get("/api/builds/1/journal"),
          get("/api/builds/1/photos"),
          get("/api/photos/1"),
          get("/api/shelves/fuse"),
          get("/api/own-parts"),
          get("/api/hold/motor/harrowmere-hornbeam/controller/harrowmere-beck-48"),
          get("/api/pairing"),
          place.request("DELETE", "/api/own-parts/1"),
          post("units", {{"units", "metric"}}),
          post("builds", {{"name", "x"}, {"where", "dreaming"}}),
          post("import", {{"name", "x"}, {"text", "wattwright = 1\n[motor]\nmass = \"17 kg\"\n"}}),
          post("builds/1/edit",
               edit(base, {change("motor.mass", "17 kg"), change("controller.mass", "3 kg")})),
          post("builds/1/preview", edit(base, {change("motor.mass", "17 kg")})),
          post("builds/1/undo", {{"base", base}}),
          post("builds/1/redo", {{"base", base}}),
          post("builds/1/rename", {{"name", "y"}}),
          post("builds/1/duplicate", {{"name", "z"}}),
          post("builds/1/archive", {{"archived", false}}),
          post("builds/1/known", {{"rule", "hill-pull"}, {"why", "w"}}),
          post("builds/1/journal", {{"text", "t"}, {"hours", 1}, {"money", "3"}}),
          post("paste", {{"text", "motor 10 kW 72 V"}, {"kind", "motor"}}),
          post("own-parts", {{"shelf", "motor"},
                             {"text", "[[motor]]\nid = \"m\"\nmass = \"14 kg\"\n"},
                             {"from", ""}})};
}

/// Every build's newest revision.
std::map<std::int64_t, std::int64_t> revisions(const Place& place) {
  std::map<std::int64_t, std::int64_t> out;
  const auto builds = place.garage->builds();
  EXPECT_TRUE(builds);
  for (const auto& row : *builds) out[garage::number(row.id)] = garage::number(row.head);
  return out;
}

TEST(Fuzz, TenThousandRequestsMoveTheGarageOnlyWhereTheyWereAnswered) {
  Place place;
  place.demo("two-parts");
  Random random(8674);
  std::map<int, int> statuses;
  auto before = revisions(place);
  for (int i = 0; i < 10000; ++i) {
    const auto valid = valid_requests(place, before[1]);
    Request request = valid[random() % valid.size()];
    switch (random() % 5) {
      case 0:
        request.head.target = bent(request.head.target, random);
        break;
      case 1:
        request.body = bent(request.body, random);
        break;
      case 2: {
        auto& field = request.head.fields[random() % request.head.fields.size()];
        (random() % 4 == 0 ? field.first : field.second) =
            bent(random() % 4 == 0 ? field.first : field.second, random);
        if (random() % 4 == 0) request.head.fields.push_back(field);
        break;
      }
      case 3:
        request.head.method = bent(request.head.method, random);
        request.body = valid[random() % valid.size()].body;
        break;
      default:
        request.head.target = bent(request.head.target, random);
        request.body = bent(request.body, random);
        if (random() % 3 == 0) {
          request.body.clear();
          for (auto k = random() % 200; k > 0; --k)
            request.body += static_cast<char>(random() & 0xFFU);
        }
    }
    const Response response = place.site->answer(request);
    ++statuses[response.status];
    ASSERT_TRUE(response.status >= 200 && response.status < 500)
        << response.status << " " << request.head.method << " " << request.head.target << "\n"
        << request.body << "\n"
        << response.body;
    const bool json = response.media == "application/json";
    ASSERT_TRUE(!json || Json::accept(response.body)) << response.body.substr(0, 500);
    if (response.status >= 400) {
      const Json said = Json::parse(response.body);
      ASSERT_TRUE(said.contains("problems") || said.contains("stale")) << response.body;
    }
    const auto after = revisions(place);
    if (response.status != 200) {
      ASSERT_EQ(after, before) << response.status << " " << request.head.target << "\n"
                               << request.body;
    }
    before = after;
  }
  // The requests were neither all refused nor all passed.
  EXPECT_GT(statuses[200], 400);
  EXPECT_GT(statuses[400], 1000);
  EXPECT_GT(statuses[404], 100);
}

/// One of the ways in which a request is not to be answered; everything else of it may be right.
void spoil(Request& request, unsigned way) {
  const auto set = [&](std::string_view name, const std::string& value) {
    for (auto& field : request.head.fields) {
      if (field.first == name) field.second = value;
    }
  };
  switch (way % 6) {
    case 0:
      set("host", "elsewhere.example:1");
      break;
    case 1:
      set("origin", "http://elsewhere.example");
      break;
    case 2:
      set("cookie", "");
      break;
    case 3:
      request.head.target = "/.." + request.head.target;
      break;
    case 4:
      request.body.resize(request.body.size() / 2);  // JSON that breaks off
      request.head.method = "POST";
      break;
    default:
      set("content-type", "text/plain");
      request.head.method = "POST";
      break;
  }
}

/// Bends what does not make a spoilt request right again.
void bend(Request& request, unsigned way, Random& random) {
  if (way % 6 != 4) request.body = bent(request.body, random);
  if (way % 6 == 3) {
    request.head.target = "/.." + bent(request.head.target.substr(3), random);
    if (request.head.target.rfind("/../", 0) != 0) request.head.target.insert(0, "/../");
  } else {
    request.head.target = bent(request.head.target, random);
  }
}

TEST(Fuzz, WhatIsRefusedLeavesEveryByteOfTheGarage) {
  Place place;
  place.demo("two-parts");
  place.post("builds/1/edit", edit(1, {change("motor.mass", "17 kg")}));
  const auto valid = valid_requests(place, 2);
  const std::string before = place.kept_bytes();
  ASSERT_GT(before.size(), 10000U);
  Random random(20260512);
  std::map<int, int> statuses;
  for (int i = 0; i < 10000; ++i) {
    Request request = valid[random() % valid.size()];
    const auto way = static_cast<unsigned>(random() % 6);
    spoil(request, way);
    if (i % 3 != 0) bend(request, way, random);
    const Response response = place.site->answer(request);
    ++statuses[response.status];
    // A stranger to whom the bare page is served has seen no build.
    if (response.status < 400) {
      ASSERT_FALSE(response.status == 200 && response.media == "application/json")
          << request.head.target << "\n"
          << request.body;
      continue;
    }
    ASSERT_LT(response.status, 500) << response.body;
    const Json said = Json::parse(response.body, nullptr, false);
    ASSERT_TRUE(said.is_object() && !said["problems"].empty()) << response.body;
    ASSERT_FALSE(said["problems"][0]["what"].get<std::string>().empty());
  }
  EXPECT_EQ(place.kept_bytes(), before) << "a refused request has written something";
  for (const int status : {400, 401, 403, 404, 415, 421}) EXPECT_GT(statuses[status], 20) << status;
}

}  // namespace
}  // namespace ww::serve::test
