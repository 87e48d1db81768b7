// SPDX-License-Identifier: MIT
// The workbench's search for what to buy, and the two questions beside it: a claim, a donor.
#include <chrono>

#include "base/text.h"
#include "build/sheet.h"
#include "search/claims.h"
#include "serve/choose_words.h"
#include "serve/workbench_impl.h"

namespace ww::serve {

using garage::number;

namespace {

/// Within what a page waits for an answer.
constexpr double why_seconds = 8;

Error no_search() {
  return {
      .code = "no-search", .what = "this search is not here any more", .way_out = "Search again"};
}

}  // namespace

Reply<std::shared_ptr<Seek>> Workbench::Impl::done_search(api::Integer build, api::Integer search) {
  const auto seek = seeker.find(build);
  if (!seek || seek->number() != search) {
    Refusal refusal{.status = 404, .problems = {problem_of(no_search())}, .stale = {}};
    return tl::unexpected<Refusal>(std::move(refusal));
  }
  if (seek->chosen() == nullptr)
    return refused(Error{.code = "still-searching",
                         .what = "the search is not done yet",
                         .way_out = "Wait for it, or end it"});
  return seek;
}

bool Workbench::Impl::moved_on(const Seek& seek) const {
  const auto head = garage->head(build_id(seek.job().build));
  return !head || number(head->revision) != seek.job().revision ||
         world()->generation != seek.job().world->generation;
}

Reply<api::SearchOffer> Workbench::search_offer(api::Integer build) {
  const auto now = impl_->current(build);
  if (!now) return refused(now.error());
  const auto sheet =
      build::read_sheet({"the sheet", now->job.text}, now->job.world->shipped.library);
  return offer_of(sheet.build, *now->job.world, impl_->shipped.library, impl_->units());
}

Reply<api::SearchState> Workbench::search(api::Integer build, const api::SearchAsk& ask) {
  const auto now = impl_->current(build);
  if (!now) return refused(now.error());
  if (number(now->head.revision) != ask.base)
    return refused(Error{.code = "stale",
                         .what = "the build was changed elsewhere in the meantime",
                         .field = "base",
                         .way_out = "Look at it again, then search"});
  const auto& world = now->job.world;
  auto sheet = build::read_sheet({"the sheet", now->job.text}, world->shipped.library);
  auto sought = understood(ask, sheet.build, *world, impl_->shipped.library);
  if (!sought.errors.empty()) return refused(sought.errors);
  const auto seek = impl_->seeker.start({.build = build,
                                         .revision = ask.base,
                                         .sheet = std::move(sheet.build),
                                         .world = world,
                                         .ask = std::move(sought.ask),
                                         .wishes = sought.wishes,
                                         .seconds = ask.seconds,
                                         .units = impl_->units()});
  return search_state(*seek, false);
}

Reply<api::SearchState> Workbench::search_now(api::Integer build) {
  if (const auto there = impl_->garage->build(build_id(build)); !there)
    return refused(there.error());
  const auto seek = impl_->seeker.find(build);
  if (seek) return search_state(*seek, impl_->moved_on(*seek));
  api::SearchState none;
  none.build = build;
  none.phase = "none";
  return none;
}

Reply<api::SearchState> Workbench::search_end(api::Integer build) {
  if (const auto seek = impl_->seeker.find(build)) seek->stop();
  return search_now(build);
}

Reply<api::SearchFound> Workbench::search_moved(api::Integer build, const api::SearchMoved& moved) {
  const auto seek = impl_->done_search(build, moved.search);
  if (!seek) return tl::unexpected<Refusal>(seek.error());
  Errors errors;
  const auto wishes =
      wishes_from(moved.musts, moved.wants, (*seek)->job().sheet.project.currency, errors);
  if (!errors.empty()) return refused(errors);
  return found_of(**seek, wishes);
}

Reply<api::State> Workbench::search_take(api::Integer build, const api::SearchTake& take) {
  const auto seek = impl_->done_search(build, take.search);
  if (!seek) return tl::unexpected<Refusal>(seek.error());
  const auto& chosen = *(*seek)->chosen();
  if (take.pick >= static_cast<api::Integer>(chosen.hunted.records.size()))
    return refused(Error{.code = "no-pick",
                         .what = "the search found no such bike",
                         .field = "pick",
                         .found = std::to_string(take.pick)});
  if (impl_->moved_on(**seek))
    return refused(Error{.code = "stale",
                         .what = "the build has changed since this search",
                         .way_out = "Search again, then take it"});
  const auto found = chosen.build_of(static_cast<search::Index>(take.pick));
  const std::string text = build::write_sheet(found, (*seek)->job().world->shipped.library);
  std::string title(trim(take.title));
  if (title.empty()) title = "from a search";
  const auto head = impl_->garage->duplicate(build_id(build), title);
  if (!head) return refused(head.error());
  const auto outcome =
      impl_->garage->revise(head->build, {head->revision, text, "taken over from a search"});
  if (!outcome) return refused(outcome.error());
  return impl_->written(outcome->now);
}

Reply<api::WhyNot> Workbench::search_why(api::Integer build, const api::SearchWhy& why) {
  const auto seek = impl_->done_search(build, why.search);
  if (!seek) return tl::unexpected<Refusal>(seek.error());
  const auto& job = (*seek)->job();
  const auto began = std::chrono::steady_clock::now();
  // Who asks about another part no longer waits for this one.
  const unsigned mine = ++impl_->why_asked;
  std::atomic<bool> ended{false};
  search::HuntOptions options;
  options.runner = impl_->setup.runner;
  options.go_on = [&] {
    const std::chrono::duration<double> taken = std::chrono::steady_clock::now() - began;
    if (taken.count() >= why_seconds || impl_->stopping || impl_->why_asked != mine) ended = true;
    return !ended;
  };
  const auto answer =
      search::why_not(job.sheet, (*seek)->shop(), job.ask, *(*seek)->chosen(),
                      static_cast<search::Axis>(search::axis_of(why.shelf)), why.part, options);
  if (!answer.known) {
    Error error = job.world->shipped.library.unknown_part(why.shelf, why.part, why.shelf);
    error.code = "no-part";
    error.field = "part";
    return refused(error);
  }
  api::WhyNot out = why_of(answer, *(*seek)->chosen(), **seek);
  out.ended_early = ended;
  return out;
}

Reply<std::vector<api::ClaimTerm>> Workbench::claim(api::Integer build, const api::ClaimAsk& ask) {
  const auto claim = search::read_claim(ask.text);
  if (!claim) {
    Error error = claim.error();
    error.field = "text";
    return refused(error);
  }
  const auto now = impl_->current(build);
  if (!now) return refused(now.error());
  const auto sheet =
      build::read_sheet({"the sheet", now->job.text}, now->job.world->shipped.library);
  std::vector<api::ClaimTerm> out;
  for (const auto& term : search::take_apart(*claim, sheet.build, impl_->units()))
    out.push_back({.says = term.says,
                   .plausible = std::string(search::plausibility(term.share_of_bikes)),
                   .would_need = term.would_need,
                   .then_rather = term.then_rather,
                   .share = term.share_of_bikes});
  return out;
}

Reply<std::vector<api::DonorRow>> Workbench::donors(api::Integer build) {
  const auto now = impl_->current(build);
  if (!now) return refused(now.error());
  const auto& world = *now->job.world;
  const auto sheet = build::read_sheet({"the sheet", now->job.text}, world.shipped.library);
  return donor_rows(
      search::donors(sheet.build, {world.shipped.library, world.goods, world.shipped.cycles}),
      impl_->units());
}

}  // namespace ww::serve
