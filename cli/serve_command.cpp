// SPDX-License-Identifier: MIT
#include "cli/serve_command.h"

#include <fcntl.h>
#include <signal.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <iostream>
#include <thread>

#include "serve/http.h"

extern "C" {
extern const ww::EmbeddedFile ww_page_begin[];  // NOLINT: made by cmake's ww_embed
extern const ww::EmbeddedFile ww_page_end[];    // NOLINT
}

namespace ww::cli {

namespace {

const char* environment(const char* name) {
  const char* value = std::getenv(name);  // NOLINT(concurrency-mt-unsafe): nothing sets it
  return value == nullptr || *value == '\0' ? nullptr : value;
}

std::string time_now() {
  const std::time_t now = std::time(nullptr);
  std::tm utc{};
  gmtime_r(&now, &utc);
  char text[32];
  std::strftime(text, sizeof text, "%Y-%m-%dT%H:%M:%SZ", &utc);
  return text;
}

double seconds_now() {
  return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

/// Where the garage lies if nobody says else; its folder is made.
std::string usual_garage() {
  std::filesystem::path folder;
  if (const char* data = environment("XDG_DATA_HOME")) {
    folder = data;
  } else if (const char* home = environment("HOME")) {
    folder = std::filesystem::path(home) / ".local" / "share";
  } else {
    folder = ".";
  }
  folder /= "wattwright";
  std::error_code ignored;  // an unusable folder is told when the garage is opened
  std::filesystem::create_directories(folder, ignored);
  return (folder / "garage.db").string();
}

/// The page's files, by their names from its root.
std::vector<EmbeddedFile> page_files() {
  std::vector<EmbeddedFile> out;
  for (const EmbeddedFile* file = ww_page_begin; file != ww_page_end; ++file) {
    const std::string_view name(file->name);
    const auto slash = name.rfind("web/dist/", 0) == 0 ? 9 : name.rfind('/') + 1;
    out.push_back({file->name + slash, file->begin, file->end});
  }
  return out;
}

// ---- signals: the first asks the server to stop, the second ends the program

const serve::Http* running = nullptr;  // NOLINT: a handler has no other way to know it
volatile sig_atomic_t stops = 0;       // NOLINT

void on_stop(int signal) {
  if (stops != 0) _exit(128 + signal);
  stops = 1;
  if (running != nullptr) running->stop();
}

void watch_signals(const serve::Http& http) {
  running = &http;
  struct sigaction action {};
  action.sa_handler = on_stop;
  sigaction(SIGINT, &action, nullptr);
  sigaction(SIGTERM, &action, nullptr);
}

/// Opens the address in the person's browser; silent where there is none.
void open_browser(const std::string& address) {
  const bool screen =
      environment("DISPLAY") != nullptr || environment("WAYLAND_DISPLAY") != nullptr;
  if (!screen || geteuid() == 0 || environment("CI") != nullptr) return;
  std::string program = "xdg-open", argument = address;
  char* arguments[] = {program.data(), argument.data(), nullptr};
  pid_t child = 0;
  posix_spawn_file_actions_t quiet;
  posix_spawn_file_actions_init(&quiet);
  posix_spawn_file_actions_addopen(&quiet, STDOUT_FILENO, "/dev/null", O_WRONLY, 0);
  posix_spawn_file_actions_addopen(&quiet, STDERR_FILENO, "/dev/null", O_WRONLY, 0);
  if (posix_spawnp(&child, program.c_str(), &quiet, nullptr, arguments, environ) == 0)
    std::thread([child] { waitpid(child, nullptr, 0); }).detach();
  posix_spawn_file_actions_destroy(&quiet);
}

// ---- what is printed

void print_opening(const garage::Garage& garage) {
  for (const auto& notice : garage.opening().notices) std::cerr << notice << "\n";
}

void print_pairing(serve::Site& site, const std::string& address) {
  const auto open = site.pairing().open();
  const std::string url = address + "/?pair=" + open.code;
  std::cout << "For a phone in this network, within two minutes: " << address << "\n"
            << "  code " << open.code << ", or point its camera here:\n\n"
            << serve::qr_terminal(url)
            << "\nWhat goes through the network between phone and this machine is not encrypted:\n"
               "anyone in the same network who listens can read it and use the phone's key. Use\n"
               "--lan at home, never in a foreign network.\n";
}

int fail_with(const Error& error, Exit exit) {
  std::cerr << describe(error) << "\n";
  return static_cast<int>(exit);
}

Result<garage::Garage> open_garage(const ServeOptions& options) {
  const std::string path = options.garage.empty() ? usual_garage() : options.garage;
  return garage::Garage::open(path, time_now,
                              {.stranger = options.garage.empty() ? garage::Stranger::set_aside
                                                                  : garage::Stranger::refuse});
}

Result<std::unique_ptr<serve::Http>> listen(serve::Site& site, const ServeOptions& options,
                                            const std::function<void()>& stopping) {
  auto http = serve::Http::listen(
      site, {.port = options.port, .all_addresses = options.lan, .stopping = stopping});
  if (http || options.port_given) return http;
  return serve::Http::listen(site, {.port = 0, .all_addresses = options.lan, .stopping = stopping});
}

}  // namespace

Exit serve_page(const ServeOptions& options) {
  auto garage = open_garage(options);
  if (!garage) return static_cast<Exit>(fail_with(garage.error(), Exit::no_file));
  print_opening(*garage);
  const auto addresses = options.lan ? serve::lan_addresses() : std::vector<std::string>{};
  serve::Events events;
  serve::Workbench bench(
      *garage, load_shipped(),
      {.units = options.units,
       .now = time_now,
       .tell = [&](const std::string& event, const std::string& json) { events.tell(event, json); },
       .version = WW_VERSION,
       .lan = addresses.empty() ? std::string() : addresses[0]});
  // The port is known only once it is bound, the address for phones before the first request.
  serve::Site site(bench, events,
                   {.page = page_files(), .lan = options.lan, .seconds = seconds_now});
  auto http = listen(site, options, [&] { bench.stop(); });
  if (!http) return static_cast<Exit>(fail_with(http.error(), Exit::misuse));
  const std::string port = ":" + std::to_string((*http)->port());
  std::vector<std::string> hosts{"127.0.0.1" + port};
  for (const auto& address : addresses) hosts.push_back(address + port);
  site.open(hosts, (*http)->port(), addresses.empty() ? "" : "http://" + addresses[0] + port);
  watch_signals(**http);
  const std::string address = "http://127.0.0.1" + port + "/?key=" + site.key();
  std::cout << "Wattwright is at " << address << "\n"
            << "The garage is " << garage->path() << ". Ctrl-C ends it.\n";
  if (options.lan && addresses.empty())
    std::cout << "No network was found; only this machine is answered.\n";
  if (!addresses.empty()) print_pairing(site, "http://" + addresses[0] + port);
  std::cout.flush();
  if (options.browser) open_browser(address);
  (*http)->run();
  running = nullptr;
  std::cout << "Ended.\n";
  return Exit::good;
}

}  // namespace ww::cli
