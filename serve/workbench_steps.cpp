// SPDX-License-Identifier: MIT
// The workbench's work step by step: the protocol, what was read, what was laid, what it teaches.
#include "build/sheet.h"
#include "serve/steps_words.h"
#include "serve/workbench_impl.h"

namespace ww::serve {

namespace {

steps::Protocol protocol_of(const Looked& looked) {
  return steps::protocol(looked.checked.ridden, looked.checked.ride);
}

}  // namespace

Reply<LookedPtr> Workbench::Impl::look_at(const garage::Head& head, api::Integer base) {
  const auto text = text_at(head, base);
  if (!text) return refused(text.error());
  LookJob job = job_of(head);
  job.key.revision = base;
  job.text = *text;
  return lookout.first(job, true);
}

Reply<api::State> Workbench::Impl::keep(const garage::Head& head, api::Integer base,
                                        const build::Build& build, const std::string& what) {
  // What the sheet would not read again does not get in.
  const auto the_world = world();
  const std::string text = build::write_sheet(build, the_world->shipped.library);
  const auto read = build::read_sheet({"the sheet", text}, the_world->shipped.library);
  if (!read.errors.empty()) return refused(read.errors);
  const auto outcome = garage->revise(head.build, {garage::RevisionId{base}, text, what});
  if (!outcome) return refused(outcome.error());
  if (outcome->stale) return tl::unexpected<Refusal>(stale_of(*outcome, {}));
  return written(outcome->now);
}

Reply<api::Steps> Workbench::steps(api::Integer build) {
  const auto now = impl_->current(build);
  if (!now) return refused(now.error());
  const auto looked = impl_->lookout.first(now->job);
  return steps_of(*looked, protocol_of(*looked));
}

Reply<api::State> Workbench::step_done(api::Integer build, const api::StepDone& done) {
  const Waiting::One waiting(impl_->seeker.waiting());
  const auto head = impl_->garage->head(build_id(build));
  if (!head) return refused(head.error());
  const auto looked = impl_->look_at(*head, done.base);
  if (!looked) return tl::unexpected<Refusal>(looked.error());
  const auto made = with_reading(**looked, done, impl_->today());
  if (!made) return refused(made.error());
  return impl_->keep(*head, done.base, *made, done.step + ": " + done.reading);
}

Reply<api::State> Workbench::wire_laid(api::Integer build, const api::WireLaid& wire) {
  const Waiting::One waiting(impl_->seeker.waiting());
  const auto head = impl_->garage->head(build_id(build));
  if (!head) return refused(head.error());
  const auto looked = impl_->look_at(*head, wire.base);
  if (!looked) return tl::unexpected<Refusal>(looked.error());
  const auto made = with_wire(**looked, wire, impl_->today());
  if (!made) return refused(made.error());
  return impl_->keep(*head, wire.base, *made,
                     "wire " + wire.label + (wire.laid ? " is in" : " is out again"));
}

Reply<api::State> Workbench::cells_came(api::Integer build, const api::CellsCame& cells) {
  const Waiting::One waiting(impl_->seeker.waiting());
  const auto head = impl_->garage->head(build_id(build));
  if (!head) return refused(head.error());
  const auto looked = impl_->look_at(*head, cells.base);
  if (!looked) return tl::unexpected<Refusal>(looked.error());
  const auto made = with_cells(**looked, cells.text);
  if (!made) return refused(made.error());
  return impl_->keep(*head, cells.base, *made,
                     std::to_string(made->units.size()) + " cells or modules as they came");
}

Reply<api::Lesson> Workbench::lesson(api::Integer build) {
  const auto looked = impl_->full_look(build);
  if (!looked) return tl::unexpected<Refusal>(looked.error());
  const auto& checked = (*looked)->checked;
  const auto learnt = steps::lesson_of(checked.ridden, protocol_of(**looked));
  const auto the_world = impl_->world();
  const auto moved = steps::moves(checked.ridden, learnt.learnt, [&](const build::Build& one) {
    return ride_of(one, the_world->shipped, {.runner = impl_->setup.runner});
  });
  return api::Lesson{.count = static_cast<api::Integer>(learnt.learnt.size()),
                     .pieces = pieces_of(learn_told(learnt, moved, (*looked)->units))};
}

Reply<api::State> Workbench::learn(api::Integer build, const api::Base& base) {
  const Waiting::One waiting(impl_->seeker.waiting());
  const auto head = impl_->garage->head(build_id(build));
  if (!head) return refused(head.error());
  const auto looked = impl_->look_at(*head, base.base);
  if (!looked) return tl::unexpected<Refusal>(looked.error());
  const auto learnt = steps::lesson_of((*looked)->checked.ridden, protocol_of(**looked)).learnt;
  if (learnt.empty())
    return refused(Error{.code = "no-changes", .what = "no reading has passed that is a figure"});
  return impl_->keep(*head, base.base, steps::taught((*looked)->own, learnt),
                     std::to_string(learnt.size()) + " readings as measured figures");
}

}  // namespace ww::serve
