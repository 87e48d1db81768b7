// SPDX-License-Identifier: MIT
#include "serve/site.h"

#include <algorithm>
#include <charconv>
#include <exception>

#include "base/text.h"

namespace ww::serve {

using api::Integer;

Response problem_response(int status, const std::string& code, const std::string& what) {
  api::Problem problem;
  problem.code = code;
  problem.what = what;
  return {.status = status, .body = api::write(api::Refused{{problem}})};
}

// ---- from what the workbench says to an answer

namespace {

Response refusal_response(const Refusal& refusal) {
  if (refusal.stale) return {.status = 409, .body = api::write(*refusal.stale)};
  return {.status = refusal.status, .body = api::write(api::Refused{refusal.problems})};
}

template <class T>
Response json(const Reply<T>& reply) {
  if (!reply) return refusal_response(reply.error());
  return {.body = api::write(*reply)};
}
template <class T>
Response json(const Reply<std::vector<T>>& reply) {
  if (!reply) return refusal_response(reply.error());
  return {.body = api::write_list(*reply)};
}

Response file_response(Reply<File> reply) {
  if (!reply) return refusal_response(reply.error());
  Response out{.media = reply->media, .body = std::move(reply->bytes)};
  if (!reply->name.empty())
    out.headers.emplace_back("Content-Disposition", "attachment; filename=\"" + reply->name + "\"");
  return out;
}

std::optional<Integer> number_of(std::string_view text) {
  Integer value = 0;
  const auto end = text.data() + text.size();
  const auto read = std::from_chars(text.data(), end, value);
  if (text.empty() || read.ec != std::errc() || read.ptr != end || value < 1 || value > api::id_max)
    return std::nullopt;
  return value;
}

Response not_here() {
  return problem_response(404, "not-here", "there is nothing at this address");
}

/// A width in pixels that a drawing is lettered for.
double width_of(const Target& target, double usual) {
  const auto asked = number_of(target.asked("width").value_or(""));
  return asked ? std::clamp(static_cast<double>(*asked), 240.0, 4000.0) : usual;
}

}  // namespace

struct Site::Call {
  Site& site;
  Workbench& bench;
  const Request& request;
  const Target& target;
  std::vector<std::string> marked;

  std::optional<Integer> id(std::size_t which = 0) const { return number_of(marked[which]); }
  /// The body as a T, then `go` with it.
  template <class T, class Go>
  Response with(const Go& go) const {
    T value{};
    const auto problems = api::read(request.body, value);
    if (!problems.empty()) return {.status = 400, .body = api::write(api::Refused{problems})};
    return go(value);
  }
  /// The build that the address names and the body.
  template <class T, class Go>
  Response build_with(const Go& go) const {
    const auto build = id();
    if (!build) return not_here();
    return with<T>([&](const T& value) { return json(go(*build, value)); });
  }
  template <class Go>
  Response build(const Go& go) const {
    const auto number = id();
    return number ? go(*number) : not_here();
  }
};

struct Site::Route {
  std::string_view method, pattern;  ///< steps; '*' stands for one
  Wants wants;
  Response (*go)(const Call&);
};

namespace {

/// Both drawings: the same question with another eye.
Response view_of(Workbench& bench, Integer build, Workbench::View view, const Target& target) {
  return file_response(bench.view(build, view, width_of(target, 1200)));
}

/// "thrust", "thrust.svg", "thrust.csv".
Response plot_of(Workbench& bench, Integer build, const std::string& name, const Target& target) {
  const auto dot = name.rfind('.');
  const std::string key = name.substr(0, dot);
  const std::string ending = dot == std::string::npos ? "" : name.substr(dot);
  if (ending == ".csv" || ending == ".svg")
    return file_response(bench.plot_file(build, key, ending == ".csv"));
  if (!ending.empty()) return not_here();
  std::optional<Integer> ghost;
  if (const auto asked = target.asked("ghost")) {
    ghost = number_of(*asked);
    if (!ghost) return not_here();
  }
  return json(bench.plot(build, key, ghost, width_of(target, 760)));
}

/// "schematic" for the page, "schematic.svg", "schematic.pdf", "schematic.csv" as files.
Response print_of(Workbench& bench, Integer build, const std::string& name, const Target& target) {
  using As = Workbench::PrintAs;
  const auto dot = name.rfind('.');
  const std::string ending = dot == std::string::npos ? "" : name.substr(dot);
  Workbench::PrintAsk ask{.key = name.substr(0, dot), .as = As::in_page};
  if (ending == ".svg") {
    ask.as = As::svg;
  } else if (ending == ".pdf") {
    ask.as = As::pdf;
  } else if (ending == ".csv") {
    ask.as = As::csv;
  } else if (!ending.empty()) {
    return not_here();
  }
  if (const auto page = target.asked("page")) {
    const auto number = number_of(*page);
    if (!number) return not_here();
    ask.page = *number;
  }
  if (const auto charge = target.asked("charge")) {
    const auto percent = number_of(*charge);
    if (!percent || *percent > 100) return not_here();
    ask.charge_percent = *percent;
  }
  return file_response(bench.print(build, ask));
}

}  // namespace

const std::vector<Site::Route>& Site::routes() {
  constexpr auto nothing = Wants::nothing, body = Wants::json;
  static const std::vector<Route> table{
      {"GET", "schema", nothing,
       [](const Call& c) { return Response{.body = api::write(c.bench.schema())}; }},
      {"GET", "garage", nothing, [](const Call& c) { return json(c.bench.garage()); }},
      {"GET", "garage/backup", nothing,
       [](const Call& c) { return file_response(c.bench.backup()); }},
      {"GET", "events", nothing,
       [](const Call&) {
         Response out{.media = "text/event-stream"};
         out.events = true;
         return out;
       }},
      {"POST", "units", body,
       [](const Call& c) {
         return c.with<api::Units>([&](const auto& v) { return json(c.bench.choose_units(v)); });
       }},
      {"POST", "builds", body,
       [](const Call& c) {
         return c.with<api::NewBuild>([&](const auto& v) { return json(c.bench.create(v)); });
       }},
      {"POST", "import", body,
       [](const Call& c) {
         return c.with<api::Import>([&](const auto& v) { return json(c.bench.import_sheet(v)); });
       }},
      {"GET", "builds/*", nothing,
       [](const Call& c) {
         return c.build([&](Integer b) {
           return json(c.bench.state(b, c.target.asked("ready").value_or("") == "full"));
         });
       }},
      {"POST", "builds/*/edit", body,
       [](const Call& c) {
         return c.build_with<api::Edit>(
             [&](Integer b, const auto& v) { return c.bench.edit(b, v); });
       }},
      {"POST", "builds/*/preview", body,
       [](const Call& c) {
         return c.build_with<api::Edit>(
             [&](Integer b, const auto& v) { return c.bench.preview(b, v); });
       }},
      {"POST", "builds/*/undo", body,
       [](const Call& c) {
         return c.build_with<api::Base>(
             [&](Integer b, const auto& v) { return c.bench.undo(b, v); });
       }},
      {"POST", "builds/*/redo", body,
       [](const Call& c) {
         return c.build_with<api::Base>(
             [&](Integer b, const auto& v) { return c.bench.redo(b, v); });
       }},
      {"GET", "builds/*/history", nothing,
       [](const Call& c) {
         return c.build([&](Integer b) {
           const auto before = c.target.asked("before");
           if (before && !number_of(*before)) return not_here();
           return json(c.bench.history(b, before ? number_of(*before) : std::optional<Integer>()));
         });
       }},
      {"POST", "builds/*/rename", body,
       [](const Call& c) {
         return c.build_with<api::Name>(
             [&](Integer b, const auto& v) { return c.bench.rename(b, v); });
       }},
      {"POST", "builds/*/duplicate", body,
       [](const Call& c) {
         return c.build_with<api::Name>(
             [&](Integer b, const auto& v) { return c.bench.duplicate(b, v); });
       }},
      {"POST", "builds/*/archive", body,
       [](const Call& c) {
         return c.build_with<api::Archived>(
             [&](Integer b, const auto& v) { return c.bench.archive(b, v); });
       }},
      {"GET", "builds/*/compare/*", nothing,
       [](const Call& c) {
         const auto a = c.id(0), b = c.id(1);
         return a && b ? json(c.bench.compare(*a, *b)) : not_here();
       }},
      {"GET", "builds/*/sheet", nothing,
       [](const Call& c) {
         return c.build([&](Integer b) { return file_response(c.bench.sheet(b)); });
       }},
      {"GET", "builds/*/side.svg", nothing,
       [](const Call& c) {
         return c.build(
             [&](Integer b) { return view_of(c.bench, b, Workbench::View::side, c.target); });
       }},
      {"GET", "builds/*/top.svg", nothing,
       [](const Call& c) {
         return c.build(
             [&](Integer b) { return view_of(c.bench, b, Workbench::View::top, c.target); });
       }},
      {"GET", "builds/*/plots", nothing,
       [](const Call& c) { return c.build([&](Integer b) { return json(c.bench.plots(b)); }); }},
      {"GET", "builds/*/plots/*", nothing,
       [](const Call& c) {
         return c.build([&](Integer b) { return plot_of(c.bench, b, c.marked[1], c.target); });
       }},
      {"GET", "builds/*/prints", nothing,
       [](const Call& c) { return c.build([&](Integer b) { return json(c.bench.prints(b)); }); }},
      {"GET", "builds/*/prints/*", nothing,
       [](const Call& c) {
         return c.build([&](Integer b) { return print_of(c.bench, b, c.marked[1], c.target); });
       }},
      {"GET", "builds/*/wiring", nothing,
       [](const Call& c) { return c.build([&](Integer b) { return json(c.bench.wiring(b)); }); }},
      {"GET", "builds/*/steps", nothing,
       [](const Call& c) { return c.build([&](Integer b) { return json(c.bench.steps(b)); }); }},
      {"POST", "builds/*/steps/done", body,
       [](const Call& c) {
         return c.build_with<api::StepDone>(
             [&](Integer b, const auto& v) { return c.bench.step_done(b, v); });
       }},
      {"POST", "builds/*/steps/laid", body,
       [](const Call& c) {
         return c.build_with<api::WireLaid>(
             [&](Integer b, const auto& v) { return c.bench.wire_laid(b, v); });
       }},
      {"POST", "builds/*/steps/cells", body,
       [](const Call& c) {
         return c.build_with<api::CellsCame>(
             [&](Integer b, const auto& v) { return c.bench.cells_came(b, v); });
       }},
      {"GET", "builds/*/lesson", nothing,
       [](const Call& c) { return c.build([&](Integer b) { return json(c.bench.lesson(b)); }); }},
      {"POST", "builds/*/lesson", body,
       [](const Call& c) {
         return c.build_with<api::Base>(
             [&](Integer b, const auto& v) { return c.bench.learn(b, v); });
       }},
      {"GET", "builds/*/list", nothing,
       [](const Call& c) {
         return c.build([&](Integer b) { return json(c.bench.parts_list(b)); });
       }},
      {"GET", "builds/*/measure", nothing,
       [](const Call& c) { return c.build([&](Integer b) { return json(c.bench.measure(b)); }); }},
      {"GET", "builds/*/explain/*", nothing,
       [](const Call& c) {
         return c.build([&](Integer b) { return json(c.bench.explain(b, c.marked[1])); });
       }},
      {"POST", "builds/*/known", body,
       [](const Call& c) {
         return c.build_with<api::KnownSaid>(
             [&](Integer b, const auto& v) { return c.bench.known(b, v); });
       }},
      {"GET", "builds/*/journal", nothing,
       [](const Call& c) { return c.build([&](Integer b) { return json(c.bench.journal(b)); }); }},
      {"POST", "builds/*/journal", body,
       [](const Call& c) {
         return c.build_with<api::NewEntry>(
             [&](Integer b, const auto& v) { return c.bench.write_journal(b, v); });
       }},
      {"GET", "builds/*/photos", nothing,
       [](const Call& c) { return c.build([&](Integer b) { return json(c.bench.photos(b)); }); }},
      {"POST", "builds/*/photos", Wants::picture,
       [](const Call& c) {
         return c.build([&](Integer b) {
           return json(c.bench.add_photo(b, {.bytes = c.request.body,
                                             .caption = c.target.asked("caption").value_or(""),
                                             .field = c.target.asked("field").value_or("")}));
         });
       }},
      {"GET", "photos/*", nothing,
       [](const Call& c) {
         return c.build([&](Integer photo) { return file_response(c.bench.photo(photo)); });
       }},
      {"GET", "shelves/*", nothing,
       [](const Call& c) {
         Workbench::Place place{.build = {}, .slot = c.target.asked("slot").value_or("")};
         if (const auto build = c.target.asked("build")) {
           place.build = number_of(*build);
           if (!place.build) return not_here();
         }
         return json(c.bench.shelf(c.marked[0], place));
       }},
      {"GET", "hold/*/*/*/*", nothing,
       [](const Call& c) {
         return json(c.bench.hold({c.marked[0], c.marked[1]}, {c.marked[2], c.marked[3]}));
       }},
      {"POST", "paste", body,
       [](const Call& c) {
         return c.with<api::PasteAsk>([&](const auto& v) { return json(c.bench.paste(v)); });
       }},
      {"GET", "own-parts", nothing, [](const Call& c) { return json(c.bench.own_parts()); }},
      {"POST", "own-parts", body,
       [](const Call& c) {
         return c.with<api::OwnPart>([&](const auto& v) { return json(c.bench.keep_own_part(v)); });
       }},
      {"DELETE", "own-parts/*", body,
       [](const Call& c) {
         return c.build([&](Integer part) {
           return json(
               c.bench.remove_own_part(part, number_of(c.target.asked("base").value_or(""))));
         });
       }},
      {"GET", "builds/*/search", nothing,
       [](const Call& c) {
         return c.build([&](Integer b) { return json(c.bench.search_now(b)); });
       }},
      {"POST", "builds/*/search", body,
       [](const Call& c) {
         return c.build_with<api::SearchAsk>(
             [&](Integer b, const auto& v) { return c.bench.search(b, v); });
       }},
      {"DELETE", "builds/*/search", body,
       [](const Call& c) {
         return c.build([&](Integer b) { return json(c.bench.search_end(b)); });
       }},
      {"GET", "builds/*/search/offer", nothing,
       [](const Call& c) {
         return c.build([&](Integer b) { return json(c.bench.search_offer(b)); });
       }},
      {"POST", "builds/*/search/moved", body,
       [](const Call& c) {
         return c.build_with<api::SearchMoved>(
             [&](Integer b, const auto& v) { return c.bench.search_moved(b, v); });
       }},
      {"POST", "builds/*/search/take", body,
       [](const Call& c) {
         return c.build_with<api::SearchTake>(
             [&](Integer b, const auto& v) { return c.bench.search_take(b, v); });
       }},
      {"POST", "builds/*/search/why", body,
       [](const Call& c) {
         return c.build_with<api::SearchWhy>(
             [&](Integer b, const auto& v) { return c.bench.search_why(b, v); });
       }},
      {"POST", "builds/*/claim", body,
       [](const Call& c) {
         return c.build_with<api::ClaimAsk>(
             [&](Integer b, const auto& v) { return c.bench.claim(b, v); });
       }},
      {"GET", "builds/*/donors", nothing,
       [](const Call& c) { return c.build([&](Integer b) { return json(c.bench.donors(b)); }); }},
      {"GET", "pairing", nothing, [](const Call& c) { return c.site.pairing_shown(false); }},
      {"POST", "pairing", body, [](const Call& c) { return c.site.pairing_shown(true); }},
      {"DELETE", "pairing", body,
       [](const Call& c) {
         c.site.pairing().close();
         return c.site.pairing_shown(false);
       }},
  };
  return table;
}

Site::Found Site::find(const std::string& method, const std::vector<std::string>& steps) {
  Found out;
  for (const Route& route : routes()) {
    const auto pattern = split(route.pattern, '/');
    if (pattern.size() + 1 != steps.size()) continue;
    std::vector<std::string> marked;
    bool fits = true;
    for (std::size_t i = 0; i < pattern.size(); ++i) {
      if (pattern[i] == "*") {
        marked.push_back(steps[i + 1]);
      } else {
        fits = fits && pattern[i] == steps[i + 1];
      }
    }
    if (!fits) continue;
    if (route.method == method || (method == "HEAD" && route.method == "GET"))
      return {&route, std::move(marked), false};
    out.other_method = true;
  }
  return out;
}

// ---- the site

Site::Site(Workbench& bench, Events& events, Setup setup)
    : bench_(&bench),
      events_(&events),
      setup_(std::move(setup)),
      key_(secret()),
      pairing_(setup_.seconds, digits_6) {}

void Site::open(std::vector<std::string> hosts, int port, std::string address) {
  const std::lock_guard lock(mutex_);
  address_ = std::move(address);
  door_.hosts = std::move(hosts);
  door_.cookie = "wattwright" + std::to_string(port);
}

Door Site::door() const {
  const std::lock_guard lock(mutex_);
  return door_;
}

std::string Site::new_token() {
  std::string token = secret();
  const std::lock_guard lock(mutex_);
  door_.tokens.push_back(token);
  // Someone who reloads the printed address over and over gets a new key each time.
  if (door_.tokens.size() > 64) door_.tokens.erase(door_.tokens.begin());
  return token;
}

bool Site::known(const Head& head) const {
  const Door now = door();
  const auto cookie = cookie_of(head, now.cookie);
  return cookie && std::any_of(now.tokens.begin(), now.tokens.end(),
                               [&](const auto& token) { return same_secret(*cookie, token); });
}

Site::Before Site::before_body(const Head& head) const {
  Before out;
  const auto refuse = [&](int status, const char* code, const char* what) {
    out.refused = problem_response(status, code, what);
    return out;
  };
  const auto target = target_of(head.target);
  if (!target) return refuse(400, "bad-address", "this is no address of the page");
  const bool api = !target->steps.empty() && target->steps[0] == "api";
  const Found found = api ? find(head.method, target->steps) : Found{};
  const Wants wants = found.route == nullptr ? Wants::nothing : found.route->wants;
  if (const auto no = denied(head, door(), wants, !api))
    return refuse(no->status, no->code.c_str(), no->what.c_str());
  if (has_field(head, "transfer-encoding"))
    return refuse(411, "no-length", "send the body with its length");
  if (api && found.route == nullptr) {
    return found.other_method ? refuse(405, "wrong-method", "this is not asked that way")
                              : refuse(404, "not-here", "there is nothing at this address");
  }
  if (!api && head.method != "GET" && head.method != "HEAD")
    return refuse(405, "wrong-method", "this is not asked that way");
  out.body_max =
      wants == Wants::picture ? photo_body_max : (wants == Wants::json ? json_body_max : 0);
  return out;
}

Response Site::answer(const Request& request) {
  try {
    return answered(request);
  } catch (const std::exception&) {
    return problem_response(500, "our-mistake",
                            "a mistake of ours; load the page again and look before you go on");
  }
}

Response Site::answered(const Request& request) {
  const Before before = before_body(request.head);
  if (before.refused) return *before.refused;
  if (request.body.size() > before.body_max)
    return problem_response(413, "too-large", "the body is too large");
  const auto target = target_of(request.head.target);
  if (target->steps.empty() || target->steps[0] != "api") return file(request.head, *target);
  Found found = find(request.head.method, target->steps);
  if (target->steps[1] == "pairing" && !request.head.from_loopback)
    return problem_response(403, "not-from-here", "pairing is opened on the machine itself");
  return found.route->go({*this, *bench_, request, *target, std::move(found.marked)});
}

// ---- the page's files, and getting in

namespace {

std::string_view media_of(std::string_view name) {
  static const std::vector<std::pair<std::string_view, std::string_view>> table{
      {".html", "text/html; charset=utf-8"},
      {".js", "text/javascript; charset=utf-8"},
      {".css", "text/css; charset=utf-8"},
      {".svg", "image/svg+xml"},
      {".png", "image/png"},
      {".webp", "image/webp"},
      {".jpg", "image/jpeg"},
      {".woff2", "font/woff2"},
      {".json", "application/json"},
      {".webmanifest", "application/manifest+json"}};
  for (const auto& [ending, media] : table) {
    if (name.size() > ending.size() && name.substr(name.size() - ending.size()) == ending)
      return media;
  }
  return "application/octet-stream";
}

Response to_page(const std::string& where) {
  return {.status = 303, .media = "text/plain", .headers = {{"Location", where}}};
}

}  // namespace

Response Site::let_in(const std::string& where) {
  Response out = to_page(where);
  out.headers.emplace_back(
      "Set-Cookie", door().cookie + "=" + new_token() + "; HttpOnly; SameSite=Strict; Path=/");
  return out;
}

Response Site::pair(const std::string& code) {
  switch (setup_.lan ? pairing_.attempt(code) : Pairing::Tried::closed) {
    case Pairing::Tried::good: {
      {
        const std::lock_guard lock(mutex_);
        ++devices_;
      }
      Response out = let_in("/");
      events_->tell("pairing", pairing_shown(false).body);
      return out;
    }
    case Pairing::Tried::wrong:
      return to_page("/pair?wrong=1");
    case Pairing::Tried::closed:
      break;
  }
  return to_page("/pair?closed=1");
}

Response Site::pairing_shown(bool fresh) {
  if (!setup_.lan) {
    return problem_response(404, "no-lan",
                            "only this machine is answered; start the program with --lan");
  }
  const auto open = fresh ? std::optional(pairing_.open()) : pairing_.now();
  api::Pairing out;
  {
    const std::lock_guard lock(mutex_);
    out.address = address_;
    out.devices = devices_;
  }
  if (open) {
    out.open = true;
    out.code = open->code;
    out.seconds = static_cast<Integer>(open->seconds_left);
    out.svg = qr_svg(out.address + "/?pair=" + open->code);
  }
  return {.body = api::write(out)};
}

Response Site::file(const Head& head, const Target& target) {
  std::string name = target.path.substr(1);
  if (name.empty()) {
    if (const auto key = target.asked("key"))
      return head.from_loopback && same_secret(*key, key_)
                 ? let_in("/")
                 : problem_response(401, "no-key", "this key is not the one that was printed");
    if (const auto code = target.asked("pair")) return pair(*code);
    if (!head.from_loopback && !known(head)) return to_page("/pair");
    name = "index.html";
  }
  if (name == "pair") name = "pair.html";
  for (const EmbeddedFile& file : setup_.page) {
    if (name == file.name)
      return {.media = std::string(media_of(name)), .body = std::string(file.bytes())};
  }
  return not_here();
}

}  // namespace ww::serve
