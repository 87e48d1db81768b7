// SPDX-License-Identifier: MIT
// What the workbench's functions share. Private to serve/workbench*.cpp.
#pragma once

#include <atomic>
#include <mutex>
#include <utility>

#include "serve/edits.h"
#include "serve/lookout.h"
#include "serve/seeker.h"
#include "serve/workbench.h"

namespace ww::serve {

/// Why the garage, the sheet or a figure refused, with the status that says so.
inline int status_of(const Error& error) {
  static const std::vector<std::pair<std::string_view, int>> table{
      {"no-build", 404},  {"no-part", 404},    {"no-photo", 404},  {"no-revision", 404},
      {"no-entry", 404},  {"no-answer", 404},  {"too-large", 413}, {"not-a-picture", 415},
      {"disk-full", 507}, {"read-only", 503},  {"locked", 503},    {"disk-error", 503},
      {"damaged", 503},   {"cannot-open", 503}};
  for (const auto& [code, status] : table) {
    if (error.code == code) return status;
  }
  return 400;
}
inline tl::unexpected<Refusal> refused(const Error& error) {
  return tl::unexpected<Refusal>(
      Refusal{.status = status_of(error), .problems = {problem_of(error)}, .stale = {}});
}
inline tl::unexpected<Refusal> refused(const Errors& errors, int status = 400) {
  return tl::unexpected<Refusal>(
      Refusal{.status = status, .problems = problems_of(errors), .stale = {}});
}

struct Workbench::Impl {
  Impl(garage::Garage& the_garage, Shipped shipped, Setup the_setup);

  /// A build as it is now, with what is needed to look at it.
  struct Current {
    garage::Head head;
    std::string name;
    LookJob job;
  };
  Result<Current> current(api::Integer build) const;
  LookJob job_of(const garage::Head& head) const;
  std::shared_ptr<const World> world() const;
  /// Lays the builder's own parts over the library anew.
  Errors renew_world();
  figure::System units() const {
    return imperial ? figure::System::imperial : figure::System::metric;
  }

  std::vector<KnownAnswer> known(const Current& now, const Looked& looked) const;
  api::State put(const Current& now, const Looked& looked) const;
  /// The state of what is there now: at once, with the full one asked for.
  Reply<api::State> state(api::Integer build);
  /// The full look, or the first where the full one is not to be had.
  Reply<LookedPtr> full_look(const Current& now);
  Reply<LookedPtr> full_look(api::Integer build);
  /// After a revision was written: tells the pages and gives the state.
  Reply<api::State> written(const garage::Head& head);
  /// The build as it was at a revision of it.
  Reply<LookedPtr> look_at(const garage::Head& head, api::Integer base);
  /// A changed build as the next revision.
  Reply<api::State> keep(const garage::Head& head, api::Integer base, const build::Build& build,
                         const std::string& what);
  Refusal stale_of(const garage::Outcome& outcome, std::vector<api::EditChange> yours);
  EditContext edit_context(const World& world) const;
  std::optional<OwnPlace> own_place(std::int64_t id) const;
  std::string today() const { return setup.now().substr(0, 10); }
  void tell(const LookKey& key, const char* ready) const;
  void tell(const Seek& seek) const;
  Reply<std::shared_ptr<Seek>> done_search(api::Integer build, api::Integer search);
  /// The build, or the parts it may have, are others than when the search began.
  bool moved_on(const Seek& seek) const;
  /// A build's text at a revision of it.
  Result<std::string> text_at(const garage::Head& head, api::Integer base) const;

  garage::Garage* garage;
  Setup setup;
  Shipped shipped;
  std::atomic<bool> imperial;
  mutable std::mutex world_mutex;
  std::shared_ptr<const World> world_now;
  std::atomic<bool> stopping{false};
  std::atomic<unsigned> why_asked{0};  ///< how many parts have been asked about
  Lookout lookout;
  Seeker seeker;
};

inline garage::BuildId build_id(api::Integer id) {
  return garage::BuildId{id};
}

}  // namespace ww::serve
