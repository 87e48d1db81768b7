// SPDX-License-Identifier: MIT
#include "serve/lookout.h"

#include <algorithm>
#include <exception>

#include "build/sheet.h"

namespace ww::serve {

namespace {

constexpr std::size_t kept_at_most = 24;

}  // namespace

Lookout::Lookout(ride::Runner runner, bool background, std::function<void(const LookKey&)> done)
    : runner_(std::move(runner)), background_(background), done_(std::move(done)) {
  if (background_) thread_ = std::jthread([this] { work(); });
}

void Lookout::stop() {
  {
    const std::lock_guard lock(mutex_);
    stopping_ = true;
    asked_.clear();
    if (cancel_) *cancel_ = true;
  }
  changed_.notify_all();
  if (thread_.joinable()) thread_.join();
}

LookedPtr Lookout::kept(const LookKey& key, Depth depth) {
  for (auto at = kept_.begin(); at != kept_.end(); ++at) {
    if (!(at->key == key)) continue;
    kept_.splice(kept_.begin(), kept_, at);
    return depth == Depth::full ? kept_.front().full : kept_.front().first;
  }
  return nullptr;
}

void Lookout::keep(const LookKey& key, LookedPtr looked) {
  const auto at =
      std::find_if(kept_.begin(), kept_.end(), [&](const Kept& kept) { return kept.key == key; });
  if (at == kept_.end()) {
    kept_.push_front({key, nullptr, nullptr});
  } else {
    kept_.splice(kept_.begin(), kept_, at);
  }
  (looked->depth == Depth::full ? kept_.front().full : kept_.front().first) = std::move(looked);
  if (kept_.size() > kept_at_most) kept_.pop_back();
}

LookedPtr Lookout::look(const LookJob& job, Depth depth, const std::atomic<bool>* cancel) const {
  auto sheet = build::read_sheet({"the sheet", job.text}, job.world->shipped.library);
  LookOptions options{.depth = depth, .units = job.key.units, .runner = runner_};
  if (cancel != nullptr) {
    // What is dropped need not be finished; its numbers are never seen.
    options.runner = [this, cancel](int count, const std::function<void(int)>& task) {
      runner_(count, [&](int i) {
        if (!*cancel) task(i);
      });
    };
  }
  return std::make_shared<const Looked>(looked_at(std::move(sheet.build), std::move(sheet.errors),
                                                  job.world->shipped, job.world->goods, options));
}

LookedPtr Lookout::first(const LookJob& job, bool exactly) {
  {
    const std::lock_guard lock(mutex_);
    if (!exactly) {
      if (auto full = kept(job.key, Depth::full)) return full;
    }
    if (auto looked = kept(job.key, Depth::first)) return looked;
  }
  auto looked = look(job, Depth::first, nullptr);
  const std::lock_guard lock(mutex_);
  keep(job.key, looked);
  return looked;
}

LookedPtr Lookout::full(const LookJob& job) {
  std::unique_lock lock(mutex_);
  if (auto looked = kept(job.key, Depth::full)) return looked;
  if (stopping_) return nullptr;
  if (!background_) {
    lock.unlock();
    auto looked = look(job, Depth::full, nullptr);
    lock.lock();
    keep(job.key, looked);
    return looked;
  }
  lock.unlock();
  ask(job);
  lock.lock();
  LookedPtr looked;
  changed_.wait(lock, [&] {
    looked = kept(job.key, Depth::full);
    if (looked || stopping_) return true;
    const bool coming = (running_ && *running_ == job.key && !*cancel_) ||
                        std::any_of(asked_.begin(), asked_.end(),
                                    [&](const LookJob& other) { return other.key == job.key; });
    return !coming;
  });
  return looked;
}

void Lookout::ask(const LookJob& job) {
  if (!background_) return;
  {
    const std::lock_guard lock(mutex_);
    if (stopping_ || kept(job.key, Depth::full)) return;
    if (running_ && *running_ == job.key && !*cancel_) return;
    // The newest comes first; an older one of the same build is of no use any more.
    asked_.erase(
        std::remove_if(asked_.begin(), asked_.end(),
                       [&](const LookJob& other) { return other.key.build == job.key.build; }),
        asked_.end());
    if (running_ && running_->build == job.key.build) *cancel_ = true;
    asked_.push_back(job);
  }
  changed_.notify_all();
}

void Lookout::overtaken(std::int64_t build) {
  {
    const std::lock_guard lock(mutex_);
    asked_.erase(std::remove_if(asked_.begin(), asked_.end(),
                                [&](const LookJob& other) { return other.key.build == build; }),
                 asked_.end());
    if (running_ && running_->build == build) *cancel_ = true;
  }
  changed_.notify_all();
}

void Lookout::work() {
  std::unique_lock lock(mutex_);
  for (;;) {
    changed_.wait(lock, [&] { return stopping_ || !asked_.empty(); });
    if (stopping_) return;
    const LookJob job = std::move(asked_.back());
    asked_.pop_back();
    running_ = job.key;
    cancel_ = std::make_shared<std::atomic<bool>>(false);
    const auto cancel = cancel_;
    lock.unlock();
    LookedPtr looked;
    try {
      looked = look(job, Depth::full, cancel.get());
    } catch (const std::exception&) {
      looked = nullptr;  // what waits goes on with the first look
    }
    lock.lock();
    running_.reset();
    const bool good = looked != nullptr && !*cancel;
    if (good) keep(job.key, std::move(looked));
    lock.unlock();
    changed_.notify_all();
    if (good && done_) done_(job.key);
    lock.lock();
  }
}

}  // namespace ww::serve
