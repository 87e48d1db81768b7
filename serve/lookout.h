// SPDX-License-Identifier: MIT
// Looks at builds and keeps what was seen. The full look is worked out behind the calls by one
// thread; the newest request comes first, and one that is overtaken is dropped.
#pragma once

#include <atomic>
#include <condition_variable>
#include <cstdint>
#include <functional>
#include <list>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "serve/state.h"

namespace ww::serve {

/// Library parts with the builder's own laid over them, and what counts up when that changes.
struct World {
  Shipped shipped;
  std::vector<build::Goods> goods;
  std::uint64_t generation = 0;
};

/// What a look is of.
struct LookKey {
  std::int64_t build, revision;
  std::uint64_t generation;
  figure::System units;
  bool operator==(const LookKey& o) const {
    return build == o.build && revision == o.revision && generation == o.generation &&
           units == o.units;
  }
};

/// A build to be looked at, with everything the look needs.
struct LookJob {
  LookKey key;
  std::string text;  ///< canonical sheet
  std::shared_ptr<const World> world;
};

using LookedPtr = std::shared_ptr<const Looked>;

class Lookout {
 public:
  /// `done` is called when a full look is there, from the thread behind.
  Lookout(ride::Runner runner, bool background, std::function<void(const LookKey&)> done);
  ~Lookout() { stop(); }
  Lookout(const Lookout&) = delete;
  Lookout& operator=(const Lookout&) = delete;

  /// At once. The full look where it is there already, unless exactly the first is asked for.
  LookedPtr first(const LookJob& job, bool exactly = false);
  /// Waits for the full look; null where it was overtaken by a newer revision or all is stopping.
  LookedPtr full(const LookJob& job);
  /// Asks for the full look, to be there later.
  void ask(const LookJob& job);
  /// Drops what is asked for or being worked out for this build: a newer revision is coming.
  void overtaken(std::int64_t build);
  void stop();

 private:
  struct Kept {
    LookKey key;
    LookedPtr first, full;
  };
  LookedPtr kept(const LookKey& key, Depth depth);
  void keep(const LookKey& key, LookedPtr looked);
  LookedPtr look(const LookJob& job, Depth depth, const std::atomic<bool>* cancel) const;
  void work();

  ride::Runner runner_;
  bool background_;
  std::function<void(const LookKey&)> done_;
  std::mutex mutex_;
  std::condition_variable changed_;
  std::list<Kept> kept_;  ///< last used first
  std::vector<LookJob> asked_;
  std::optional<LookKey> running_;
  std::shared_ptr<std::atomic<bool>> cancel_;
  bool stopping_ = false;
  std::jthread thread_;
};

}  // namespace ww::serve
