// SPDX-License-Identifier: MIT
// Sockets: takes requests from the loopback address (or the house's network), hands them to the
// site, sends its answers. The only file that knows HTTP's bytes. Invariants:
// 1. One thread a connection, no more connections than allowed; the next one is told 503.
// 2. Head, body, answer and an idle connection each have a deadline for the whole of it.
// 3. A body is read only after its head has passed the guard; no chunks, no ranges, nothing is
// packed or unpacked.
// 4. stop() ends everything within a second, event streams too.
#pragma once

#include <atomic>
#include <functional>
#include <list>
#include <memory>
#include <string>
#include <thread>
#include <vector>

#include "base/result.h"
#include "serve/site.h"

namespace ww::serve {

struct HttpLimits {
  std::size_t connections_max = 96;
  int head_bytes_max = 16 * 1024;
  // Seconds for the whole of it.
  double head_s = 10, body_s = 60, answer_s = 30, idle_s = 60, heartbeat_s = 15;
};

class Http {
 public:
  struct Setup {
    int port = 0;                ///< 0: any that is free
    bool all_addresses = false;  ///< else 127.0.0.1 only
    HttpLimits limits = {};
    std::function<void()> stopping = {};  ///< called once when it ends, before threads are awaited
  };
  /// Binds. Errors: "port-taken", "no-socket".
  static Result<std::unique_ptr<Http>> listen(Site& site, Setup setup);
  ~Http();
  Http(const Http&) = delete;
  Http& operator=(const Http&) = delete;

  int port() const { return port_; }
  /// Takes connections until stop().
  void run();
  /// From any thread, or from a signal handler.
  void stop() const;

 private:
  Http(Site& site, Setup setup, int listener, int stop_bell);
  struct Served {
    std::thread thread;
    std::atomic<bool> done{false};
  };
  void take();
  void reap(bool all);

  Site* site_;
  Setup setup_;
  int listener_, stop_bell_, port_ = 0;
  std::list<Served> served_;
};

/// This machine's IPv4 addresses in its networks, without the loopback one.
std::vector<std::string> lan_addresses();

}  // namespace ww::serve
