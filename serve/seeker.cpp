// SPDX-License-Identifier: MIT
#include "serve/seeker.h"

#include <sys/resource.h>

#include <algorithm>
#include <exception>

namespace ww::serve {

namespace {

/// Records of some 70 bytes each: what a laptop's memory bears beside the page.
constexpr std::size_t most_records = 2000000;
constexpr std::size_t points_shown = 500;
constexpr std::size_t builds_kept = 4;
constexpr double tell_every_s = 0.25, answer_every_s = 1.5;

void step_back() {
  // Of this thread alone, and those it starts; where it is forbidden it runs as before.
  (void)setpriority(PRIO_PROCESS, 0, 5);
}

}  // namespace

void run_in_the_back(int count, const std::function<void(int)>& task) {
  const int cores = static_cast<int>(std::thread::hardware_concurrency());
  const int workers = std::clamp(cores - 1, 1, std::min(8, std::max(count, 1)));
  std::atomic<int> next{0};
  const auto work = [&] {
    for (int i = next++; i < count; i = next++) task(i);
  };
  std::vector<std::jthread> others;
  for (int i = 1; i < workers; ++i) {
    others.emplace_back([&] {
      step_back();
      work();
    });
  }
  work();
}

// ---- one search

Seek::Seek(std::int64_t number, SeekJob job, const Waiting& waiting)
    : number_(number),
      job_(std::move(job)),
      waiting_(&waiting),
      so_far_(job_.wishes, points_shown) {}

double Seek::elapsed() const {
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - began_).count();
}

bool Seek::go_on() {
  // No longer than an edit takes at the very most: one that hangs must not hold the search for
  // ever.
  for (int i = 0; i < 300 && waiting_->any() && !stopped_; ++i)
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  if (stopped_) return false;
  if (elapsed() <= double(job_.seconds)) return true;
  const std::lock_guard lock(mutex_);
  standing_.end = End::time;
  stopped_ = true;
  return false;
}

Seek::Standing Seek::standing() const {
  const std::lock_guard lock(mutex_);
  Standing out = standing_;
  if (out.phase == Phase::riding || out.phase == Phase::weighing) out.seconds = elapsed();
  return out;
}

Seek::Partial Seek::partial() const {
  const std::lock_guard lock(mutex_);
  if (standing_.phase == Phase::done) return {};
  return {so_far_.list(5), so_far_.points()};
}

const search::Choosing* Seek::chosen() const {
  const std::lock_guard lock(mutex_);
  return chosen_.get();
}

search::Narrowed Seek::narrowed(const search::Wishes& wishes) {
  const search::Choosing& c = *chosen();
  const std::lock_guard lock(narrow_mutex_);
  if (narrower_ == nullptr) narrower_ = std::make_unique<search::Narrower>(c);
  return narrower_->narrow(wishes);
}

void Seek::drop() {
  dropped_ = true;
  stopped_ = true;
}

bool Seek::heard(const search::Progress& progress, const std::function<void(const Seek&)>& told) {
  bool tell = false;
  {
    const std::lock_guard lock(mutex_);
    const double now = elapsed();
    if (tasks_done_ == progress.tasks || progress.tasks_done < tasks_done_) {
      // Another hunt has begun: what the last one found was nothing.
      ++standing_.pass;
      so_far_.clear();
    }
    tasks_done_ = progress.tasks_done;
    standing_.phase = progress.tasks_done == progress.tasks ? Phase::weighing : Phase::riding;
    standing_.share =
        double(progress.tasks_done) / double(std::max<std::size_t>(progress.tasks, 1));
    standing_.seconds = now;
    api::SearchCounts& counts = standing_.counts;
    counts.considered = progress.considered;
    counts.fit = progress.fitting;
    counts.ridden = double(progress.ridden);
    counts.within = double(progress.records);
    const std::size_t seen = so_far_.seen();
    so_far_.add(*progress.fresh);
    const bool first = seen == 0 && so_far_.seen() > 0;
    if (first || (so_far_.seen() > seen && now - answered_at_ > answer_every_s)) {
      ++standing_.answers;
      answered_at_ = now;
      tell = true;
    }
    tell = tell || now - told_at_ > tell_every_s || standing_.phase == Phase::weighing;
    if (tell) told_at_ = now;
  }
  if (tell) told(*this);
  return !stopped_;
}

void Seek::finish(std::optional<search::Choosing> chosen, search::Doubts doubts) {
  const std::lock_guard lock(mutex_);
  doubts_ = std::move(doubts);
  standing_.phase = Phase::done;
  standing_.seconds = elapsed();
  ++standing_.answers;
  so_far_.clear();
  if (!chosen) {
    standing_.end = stopped_ ? End::stopped : End::failed;
    return;
  }
  const auto& tally = chosen->hunted.tally;
  if (tally.stopped && standing_.end == End::by_itself) standing_.end = End::stopped;
  if (!tally.stopped) {
    standing_.end = End::by_itself;
    standing_.share = 1;
    standing_.counts.considered = tally.combinations;
  }
  api::SearchCounts& counts = standing_.counts;
  counts.combinations = tally.combinations;
  counts.fit = tally.fitting;
  counts.ridden = tally.ridden;
  counts.through = tally.through;
  counts.within = chosen->loose ? 0 : double(chosen->hunted.records.size());
  counts.worth = double(chosen->front.size());
  chosen_ = std::make_unique<const search::Choosing>(std::move(*chosen));
}

void Seek::run(const ride::Runner& runner, const std::function<void(const Seek&)>& told) {
  {
    const std::lock_guard lock(mutex_);
    began_ = std::chrono::steady_clock::now();
    standing_.phase = Phase::riding;
  }
  told(*this);
  std::optional<search::Choosing> chosen;
  search::Doubts doubts;
  if (!stopped_) {
    search::HuntOptions options;
    options.most = most_records;
    options.runner = [&](int count, const std::function<void(int)>& task) {
      runner(count, [&](int i) {
        // What is dropped is never looked at: its last checks need not be made.
        if (!dropped_) task(i);
      });
    };
    options.watch = [&](const search::Progress& progress) { return heard(progress, told); };
    options.go_on = [&] { return go_on(); };
    try {
      chosen = search::choose(job_.sheet, shop(), job_.ask, job_.wishes, options);
      search::DoubtOptions doubting;
      doubting.runner = runner;
      if (!dropped_) doubts = search::doubts(*chosen, doubting);
    } catch (const std::exception&) {
      chosen.reset();  // told as failed; the page offers to search again
    }
  }
  finish(dropped_ ? std::nullopt : std::move(chosen), std::move(doubts));
  told(*this);
}

std::vector<std::string> Seek::settle(search::Index index) {
  const std::lock_guard lock(settle_mutex_);
  const auto at = settled_.find(index);
  if (at != settled_.end()) return at->second;
  const search::Choosing& c = *chosen();
  std::vector<std::string> out;
  for (const std::string& rule : search::left_to_settle(c.build_of(index), shop()))
    out.emplace_back(fit::rule_book().find(rule)->title);
  return settled_[index] = out;
}

// ---- all of them

Seeker::Seeker(std::function<void(const Seek&)> told)
    : told_(std::move(told)),
      // No number comes again when the program is started anew: a page may still hold an old one.
      next_(std::chrono::duration_cast<std::chrono::milliseconds>(
                std::chrono::system_clock::now().time_since_epoch())
                .count()) {}

std::shared_ptr<Seek> Seeker::start(SeekJob job) {
  std::shared_ptr<Seek> made;
  {
    const std::lock_guard lock(mutex_);
    const std::int64_t build = job.build;
    const auto of_build = [&](const std::shared_ptr<Seek>& other) {
      return other->job().build == build;
    };
    for (const auto& other : kept_) {
      if (of_build(other)) other->drop();
    }
    kept_.remove_if(of_build);
    asked_.erase(std::remove_if(asked_.begin(), asked_.end(), of_build), asked_.end());
    made = std::make_shared<Seek>(next_++, std::move(job), waiting_);
    kept_.push_front(made);
    if (kept_.size() > builds_kept) {
      kept_.back()->drop();
      kept_.pop_back();
    }
    if (stopping_) {
      made->drop();
      return made;
    }
    asked_.push_back(made);
    if (!thread_.joinable()) thread_ = std::jthread([this] { work(); });
  }
  changed_.notify_all();
  return made;
}

std::shared_ptr<Seek> Seeker::find(std::int64_t build) const {
  const std::lock_guard lock(mutex_);
  for (const auto& seek : kept_) {
    if (seek->job().build == build) return seek;
  }
  return nullptr;
}

void Seeker::stop() {
  {
    const std::lock_guard lock(mutex_);
    stopping_ = true;
    asked_.clear();
    for (const auto& seek : kept_) seek->drop();
  }
  changed_.notify_all();
  if (thread_.joinable()) thread_.join();
}

void Seeker::work() {
  step_back();
  std::unique_lock lock(mutex_);
  for (;;) {
    changed_.wait(lock, [&] { return stopping_ || !asked_.empty(); });
    if (stopping_) return;
    const std::shared_ptr<Seek> seek = std::move(asked_.back());
    asked_.pop_back();
    lock.unlock();
    seek->run(run_in_the_back, told_);
    lock.lock();
  }
}

}  // namespace ww::serve
