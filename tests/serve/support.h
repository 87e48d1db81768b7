// SPDX-License-Identifier: MIT
// A garage of its own, a workbench over it and a site over that, for one test.
#pragma once

#include <unistd.h>

#include <atomic>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <memory>
#include <nlohmann/json.hpp>
#include <string>

#include "serve/site.h"

namespace ww::serve::test {

using Json = nlohmann::json;

inline const Shipped& shipped_once() {
  static const Shipped shipped = load_shipped();
  return shipped;
}

class Place {
 public:
  struct Options {
    bool background = false;
    ride::Runner runner = ride::run_in_turn;
    bool lan = false;
  };
  Place() : Place(Options{}) {}
  explicit Place(Options options) {
    static std::atomic<int> number{0};
    folder_ = std::filesystem::temp_directory_path() /
              ("ww-serve-" + std::to_string(getpid()) + "-" + std::to_string(number++));
    std::filesystem::create_directories(folder_);
    auto opened = garage::Garage::open((folder_ / "garage.db").string(), [this] { return now(); });
    if (!opened) throw std::runtime_error(opened.error().what);
    garage = std::make_unique<garage::Garage>(std::move(*opened));
    bench = std::make_unique<Workbench>(
        *garage, shipped_once(),
        Workbench::Setup{.units = figure::System::metric,
                         .now = [this] { return now(); },
                         .runner = options.runner,
                         .tell = [this](const std::string& event,
                                        const std::string& json) { events.tell(event, json); },
                         .background = options.background});
    static const char page[] = "<!doctype html><title>Wattwright</title>";
    site =
        std::make_unique<Site>(*bench, events,
                               Site::Setup{.page = {{"index.html", page, page + sizeof page - 1}},
                                           .lan = options.lan,
                                           .seconds = [this] { return seconds.load(); }});
    site->open({host}, 1, "http://" + host);
  }
  ~Place() {
    site.reset();
    bench.reset();
    garage.reset();
    std::error_code ignored;
    std::filesystem::remove_all(folder_, ignored);
  }
  Place(const Place&) = delete;
  Place& operator=(const Place&) = delete;

  /// A request as the page sends it, with a key that was given out.
  Request request(const std::string& method, const std::string& target,
                  const std::string& body = {}) {
    if (cookie.empty()) let_in();
    return {{method,
             target,
             {{"host", host},
              {"origin", "http://" + host},
              {"content-type", "application/json"},
              {"cookie", cookie}}},
            body};
  }
  Response ask(const std::string& method, const std::string& target, const std::string& body = {}) {
    return site->answer(request(method, target, body));
  }
  Json get(const std::string& target) { return parsed(ask("GET", "/api/" + target)); }
  Json post(const std::string& target, const Json& body) {
    return parsed(ask("POST", "/api/" + target, body.dump()));
  }
  /// A new build from a demo; its number.
  std::int64_t demo(const std::string& name) {
    return post("builds", {{"name", name}, {"where", "riding"}, {"demo", name}})["build"];
  }

  void let_in() {
    const Response in = site->answer({{"GET", "/?key=" + site->key(), {{"host", host}}}, {}});
    for (const auto& [name, value] : in.headers) {
      if (name == "Set-Cookie") cookie = value.substr(0, value.find(';'));
    }
  }

  /// Every byte that is kept: the garage's file, then its log.
  std::string kept_bytes() const {
    std::string out;
    for (const char* name : {"garage.db", "garage.db-wal"}) {
      std::ifstream in(folder_ / name, std::ios::binary);
      out.append(std::istreambuf_iterator<char>(in), {});
      out += '|';
    }
    return out;
  }

  static Json parsed(const Response& response) {
    Json out = Json::parse(response.body, nullptr, false);
    if (out.is_object()) out["status"] = response.status;
    return out;
  }
  static std::string now() { return "2026-05-01T10:00:00Z"; }

  std::string host = "127.0.0.1:1";
  std::string cookie;
  std::atomic<double> seconds{0};
  Events events;
  std::unique_ptr<garage::Garage> garage;
  std::unique_ptr<Workbench> bench;
  std::unique_ptr<Site> site;

 private:
  std::filesystem::path folder_;
};

inline Json change(const std::string& path, const std::string& text) {
  return {{"path", path}, {"text", text}};
}
inline Json edit(std::int64_t base, const std::vector<Json>& changes) {
  return {{"base", base}, {"what", ""}, {"changes", changes}};
}

}  // namespace ww::serve::test
