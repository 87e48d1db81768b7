// SPDX-License-Identifier: MIT
// Runs the searches for what to buy behind the calls. Invariants:
// 1. One search a build: a newer one ends the older. One hunt at a time; the newest asked for comes
//    first.
// 2. Its threads run at low priority, and one core is left to the page.
// 3. What a search has found stays as it is, however the build changes, until the next one.
#pragma once

#include <atomic>
#include <chrono>
#include <condition_variable>
#include <functional>
#include <list>
#include <map>
#include <memory>
#include <mutex>
#include <thread>

#include "search/doubts.h"
#include "search/narrowing.h"
#include "serve/api.h"
#include "serve/lookout.h"

namespace ww::serve {

/// What is searched for, with everything it needs.
struct SeekJob {
  std::int64_t build = 0, revision = 0;
  build::Build sheet;
  std::shared_ptr<const World> world;
  search::Ask ask;
  search::Wishes wishes;
  std::int64_t seconds = 60;  ///< the hunt ends then, with what is there
  figure::System units = figure::System::metric;
};

/// Calls that somebody waits for: while there are any, a hunt stands still.
class Waiting {
 public:
  /// For as long as it lives, one more is waited for.
  class One {
   public:
    explicit One(Waiting& of) : of_(&of) { ++of_->count_; }
    ~One() { --of_->count_; }
    One(const One&) = delete;
    One& operator=(const One&) = delete;

   private:
    Waiting* of_;
  };
  bool any() const { return count_ > 0; }

 private:
  std::atomic<int> count_{0};
};

/// One search, while it runs and after. All calls may come from any thread.
class Seek {
 public:
  enum class Phase : std::uint8_t { waiting, riding, weighing, done };
  enum class End : std::uint8_t { by_itself, stopped, time, failed };

  Seek(std::int64_t number, SeekJob job, const Waiting& waiting);

  const SeekJob& job() const { return job_; }
  std::int64_t number() const { return number_; }
  search::Shop shop() const {
    return {job_.world->shipped.library, job_.world->goods, job_.world->shipped.cycles};
  }

  /// How it stands.
  struct Standing {
    Phase phase = Phase::waiting;
    End end = End::by_itself;
    int pass = 1;  ///< 2, 3: with the library beside the own parts, or without the wishes
    double share = 0, seconds = 0;
    api::SearchCounts counts;
    std::int64_t answers = 0;  ///< counts up as there is more to see
  };
  Standing standing() const;
  /// What came in so far, the few best first; empty once it is done.
  struct Partial {
    std::vector<search::Record> list, points;
  };
  Partial partial() const;
  /// Null until it is done.
  const search::Choosing* chosen() const;
  /// What is not known, counted. Valid: it is done; nothing in it where nothing meets every must.
  const search::Doubts& doubts() const { return doubts_; }
  /// Moved wishes out of what was ridden. Valid: it is done and found something that fits.
  search::Narrowed narrowed(const search::Wishes& wishes);

  /// Asks it to end; what is there stays.
  void stop() { stopped_ = true; }
  bool asked_to_stop() const { return stopped_; }
  /// Nobody will look at it again: it ends with nothing.
  void drop();

  /// The search itself, on the calling thread and the runner's; `told` is called now and then.
  void run(const ride::Runner& runner, const std::function<void(const Seek&)>& told);

  /// Something worked out of the result once and kept: by record.
  std::vector<std::string> settle(search::Index index);

 private:
  bool heard(const search::Progress& progress, const std::function<void(const Seek&)>& told);
  bool go_on();
  double elapsed() const;
  void finish(std::optional<search::Choosing> chosen, search::Doubts doubts);

  const std::int64_t number_;
  const SeekJob job_;
  const Waiting* waiting_;
  std::atomic<bool> stopped_{false}, dropped_{false};
  mutable std::mutex mutex_;
  Standing standing_;
  search::SoFar so_far_;
  std::size_t tasks_done_ = 0;
  double told_at_ = 0, answered_at_ = 0;
  std::chrono::steady_clock::time_point began_ = std::chrono::steady_clock::now();
  std::unique_ptr<const search::Choosing> chosen_;
  search::Doubts doubts_;  ///< does not change once it is done
  std::mutex narrow_mutex_;
  std::unique_ptr<search::Narrower> narrower_;
  std::mutex settle_mutex_;
  std::map<search::Index, std::vector<std::string>> settled_;
};

class Seeker {
 public:
  /// `told`: as a search goes on, from any thread.
  explicit Seeker(std::function<void(const Seek&)> told);
  ~Seeker() { stop(); }
  Seeker(const Seeker&) = delete;
  Seeker& operator=(const Seeker&) = delete;

  std::shared_ptr<Seek> start(SeekJob job);
  Waiting& waiting() { return waiting_; }
  /// The build's last search; null where there was none.
  std::shared_ptr<Seek> find(std::int64_t build) const;
  void stop();

 private:
  void work();

  std::function<void(const Seek&)> told_;
  Waiting waiting_;
  mutable std::mutex mutex_;
  std::condition_variable changed_;
  std::list<std::shared_ptr<Seek>> kept_;  ///< newest first
  std::vector<std::shared_ptr<Seek>> asked_;
  std::int64_t next_ = 1;
  bool stopping_ = false;
  std::jthread thread_;  ///< starts with the first search
};

/// As many at a time as there are cores but one, at low priority where the system allows it.
void run_in_the_back(int count, const std::function<void(int)>& task);

}  // namespace ww::serve
