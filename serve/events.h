// SPDX-License-Identifier: MIT
// Events on their way to the pages that listen. Invariants:
// 1. A listener that does not read loses its oldest events, never the program's time.
// 2. At most `listeners_max` listen; the next one is refused.
#pragma once

#include <deque>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

namespace ww::serve {

class Events {
 public:
  static constexpr std::size_t listeners_max = 32, waiting_max = 256;

  /// One page that listens; ends when it is let go.
  class Listener {
   public:
    Listener();
    ~Listener();
    Listener(const Listener&) = delete;
    Listener& operator=(const Listener&) = delete;
    /// Becomes readable when there is something to take.
    int bell() const { return bell_; }
    /// Everything that waits, as event stream text; empties the bell.
    std::string take();

   private:
    friend class Events;
    void add(const std::string& text);
    int bell_;
    std::mutex mutex_;
    std::deque<std::string> waiting_;
  };

  /// Null where too many listen already.
  std::shared_ptr<Listener> listen();
  void tell(const std::string& event, const std::string& json);
  std::size_t listeners() const;

 private:
  mutable std::mutex mutex_;
  mutable std::vector<std::weak_ptr<Listener>> listeners_;
};

}  // namespace ww::serve
