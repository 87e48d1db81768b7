// SPDX-License-Identifier: MIT
#include "serve/events.h"

#include <sys/eventfd.h>
#include <unistd.h>

#include <algorithm>
#include <cstdint>

namespace ww::serve {

Events::Listener::Listener() : bell_(eventfd(0, EFD_CLOEXEC | EFD_NONBLOCK)) {}

Events::Listener::~Listener() {
  if (bell_ >= 0) close(bell_);
}

void Events::Listener::add(const std::string& text) {
  {
    const std::lock_guard lock(mutex_);
    waiting_.push_back(text);
    if (waiting_.size() > waiting_max) waiting_.pop_front();
  }
  const std::uint64_t one = 1;
  (void)!write(bell_, &one, sizeof one);
}

std::string Events::Listener::take() {
  std::uint64_t rung = 0;
  (void)!read(bell_, &rung, sizeof rung);
  std::string out;
  const std::lock_guard lock(mutex_);
  for (const auto& text : waiting_) out += text;
  waiting_.clear();
  return out;
}

std::shared_ptr<Events::Listener> Events::listen() {
  const std::lock_guard lock(mutex_);
  listeners_.erase(std::remove_if(listeners_.begin(), listeners_.end(),
                                  [](const auto& listener) { return listener.expired(); }),
                   listeners_.end());
  if (listeners_.size() >= listeners_max) return nullptr;
  auto listener = std::make_shared<Listener>();
  if (listener->bell() < 0) return nullptr;
  listeners_.push_back(listener);
  return listener;
}

void Events::tell(const std::string& event, const std::string& json) {
  const std::string text = "event: " + event + "\ndata: " + json + "\n\n";
  const std::lock_guard lock(mutex_);
  for (const auto& weak : listeners_) {
    if (const auto listener = weak.lock()) listener->add(text);
  }
}

std::size_t Events::listeners() const {
  const std::lock_guard lock(mutex_);
  return static_cast<std::size_t>(
      std::count_if(listeners_.begin(), listeners_.end(),
                    [](const auto& listener) { return !listener.expired(); }));
}

}  // namespace ww::serve
