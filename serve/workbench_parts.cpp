// SPDX-License-Identifier: MIT
// The workbench's parts: shelves, two parts held together, the builder's own.
#include <algorithm>

#include "base/text.h"
#include "build/sheet.h"
#include "serve/shelves.h"
#include "serve/workbench_impl.h"

namespace ww::serve {

using garage::number;

namespace {

Error no_shelf(const std::string& shelf) {
  std::vector<std::string_view> shelves;
  for (const auto& slot : build::schema().slots()) {
    if (slot.is_part) shelves.push_back(slot.shelf);
  }
  Error error{
      .code = "no-part", .what = "there is no such shelf", .found = shelf.substr(0, api::path_max)};
  error.way_out = did_you_mean(error.found, shelves);
  return error;
}

api::OwnPart own_of(const garage::OwnPart& part) {
  api::OwnPart out{.id = number(part.id),
                   .base = part.revision,
                   .shelf = part.shelf,
                   .text = part.text,
                   .from = part.came_from,
                   .slug = part.slug};
  return out;
}

/// The builds whose present sheet has this part in it, by name.
Result<std::vector<std::string>> users_of(garage::Garage& garage, const World& world,
                                          const garage::OwnPart& part) {
  auto builds = garage.builds();
  if (!builds) return fail(builds.error());
  std::vector<std::string> out;
  for (const auto& row : *builds) {
    const auto head = garage.head(row.id);
    if (!head) continue;
    const auto sheet = build::read_sheet({"the sheet", head->text}, world.shipped.library);
    for (const auto& slot : build::schema().slots()) {
      if (!slot.is_part || slot.shelf != part.shelf) continue;
      if (build::show(sheet.build, build::id_of(std::string(slot.key) + ".part")) == part.slug)
        out.push_back(row.name);
    }
  }
  return out;
}

}  // namespace

Reply<std::vector<api::ShelfPart>> Workbench::shelf(const std::string& shelf, const Place& place) {
  ShelfQuestion question{.shelf = shelf,
                         .slot = slot_for(shelf),
                         .looked = nullptr,
                         .own = {},
                         .units = impl_->units()};
  if (question.slot == nullptr) return refused(no_shelf(shelf));
  if (!place.slot.empty()) {
    question.slot = build::schema().slot(place.slot);
    if (question.slot == nullptr || question.slot->shelf != shelf)
      return refused(Error{.code = "bad-slot",
                           .what = "this shelf does not serve that place",
                           .field = "slot",
                           .found = place.slot.substr(0, api::path_max)});
  }
  const auto own = impl_->garage->own_parts();
  if (!own) return refused(own.error());
  for (const auto& part : *own) {
    if (part.shelf == shelf) question.own.push_back({number(part.id), part.slug});
  }
  LookedPtr looked;
  if (place.build) {
    const auto now = impl_->current(*place.build);
    if (!now) return refused(now.error());
    looked = impl_->lookout.first(now->job);
    question.looked = looked.get();
  }
  return shelf_parts(question, *impl_->world(), impl_->setup.runner);
}

Reply<std::vector<api::Finding>> Workbench::hold(const Held& a, const Held& b) {
  const auto the_world = impl_->world();
  const auto* part_a = the_world->shipped.library.find(a.shelf, a.id);
  const auto* part_b = the_world->shipped.library.find(b.shelf, b.id);
  for (const auto& [part, asked] : {std::pair{part_a, &a}, std::pair{part_b, &b}}) {
    if (part != nullptr) continue;
    Error error = the_world->shipped.library.unknown_part(
        asked->shelf, asked->id.substr(0, api::path_max), asked->shelf.substr(0, api::path_max));
    error.code = "no-part";
    return refused(error);
  }
  Looked nothing;
  nothing.units = impl_->units();
  return findings_of(between_two(*part_a, *part_b, *the_world, nothing.units), nothing, {});
}

Reply<std::vector<api::OwnPart>> Workbench::own_parts() const {
  const auto parts = impl_->garage->own_parts();
  if (!parts) return refused(parts.error());
  std::vector<api::OwnPart> out;
  for (const auto& part : *parts) out.push_back(own_of(part));
  return out;
}

Reply<api::OwnPart> Workbench::keep_own_part(const api::OwnPart& part) {
  if (!part.id) {
    const auto made = impl_->garage->add_own_part(part.text, part.from);
    if (!made) return refused(made.error());
    impl_->renew_world();
    return own_of(*made);
  }
  const garage::PartId id{*part.id};
  const auto old = impl_->garage->own_part(id);
  if (!old) return refused(old.error());
  const auto outcome =
      impl_->garage->change_own_part(id, part.base.value_or(old->revision), part.text);
  if (!outcome) return refused(outcome.error());
  if (outcome->stale)
    return refused(Errors{{.code = "stale",
                           .what = "this part was changed elsewhere in the meantime",
                           .way_out = "Look at it again, then change it"}},
                   409);
  impl_->renew_world();
  return own_of(outcome->now);
}

Reply<api::OwnPart> Workbench::remove_own_part(api::Integer id, std::optional<api::Integer> base) {
  const auto old = impl_->garage->own_part(garage::PartId{id});
  if (!old) return refused(old.error());
  const auto users = users_of(*impl_->garage, *impl_->world(), *old);
  if (!users) return refused(users.error());
  if (!users->empty())
    return refused(Error{.code = "in-use",
                         .what = "this part is in a build: " + join(*users, ", "),
                         .way_out = "Put another part there first"});
  const auto outcome =
      impl_->garage->remove_own_part(garage::PartId{id}, base.value_or(old->revision));
  if (!outcome) return refused(outcome.error());
  if (outcome->stale)
    return refused(Errors{{.code = "stale",
                           .what = "this part was changed elsewhere in the meantime",
                           .way_out = "Look at it again, then remove it"}},
                   409);
  impl_->renew_world();
  return own_of(outcome->now);
}

}  // namespace ww::serve
