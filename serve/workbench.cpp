// SPDX-License-Identifier: MIT
#include "serve/workbench.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "base/text.h"
#include "build/sheet.h"
#include "serve/choose_words.h"
#include "serve/explain.h"
#include "serve/workbench_impl.h"

namespace ww::serve {

using build::Id;
using build::schema;
using garage::number;

// ---- what is shared

Workbench::Impl::Impl(garage::Garage& the_garage, Shipped the_shipped, Setup the_setup)
    : garage(&the_garage),
      setup(std::move(the_setup)),
      shipped(std::move(the_shipped)),
      imperial(setup.units == figure::System::imperial),
      lookout(setup.runner, setup.background, [this](const LookKey& key) { tell(key, "full"); }),
      seeker([this](const Seek& seek) { tell(seek); }) {
  const auto chosen = garage->setting("units");
  if (chosen && *chosen) imperial = **chosen == "imperial";
  renew_world();
}

std::shared_ptr<const World> Workbench::Impl::world() const {
  const std::lock_guard lock(world_mutex);
  return world_now;
}

Errors Workbench::Impl::renew_world() {
  Errors errors;
  auto next = std::make_shared<World>();
  next->shipped = shipped;
  next->goods = shipped_goods();
  if (const auto parts = garage->own_parts()) {
    for (const auto& part : *parts) {
      for (auto& error : next->shipped.library.add({part.slug, part.text}))
        errors.push_back(std::move(error));
    }
  }
  const std::lock_guard lock(world_mutex);
  next->generation = world_now ? world_now->generation + 1 : 1;
  world_now = std::move(next);
  return errors;
}

std::optional<OwnPlace> Workbench::Impl::own_place(std::int64_t id) const {
  const auto part = garage->own_part(garage::PartId{id});
  if (!part) return std::nullopt;
  return OwnPlace{part->shelf, part->slug};
}

EditContext Workbench::Impl::edit_context(const World& world) const {
  return {.library = &world.shipped.library,
          .own_part = [this](std::int64_t id) { return own_place(id); },
          .today = today()};
}

LookJob Workbench::Impl::job_of(const garage::Head& head) const {
  auto the_world = world();
  return {.key = {number(head.build), number(head.revision), the_world->generation, units()},
          .text = head.text,
          .world = the_world};
}

Result<Workbench::Impl::Current> Workbench::Impl::current(api::Integer build) const {
  auto row = garage->build(build_id(build));
  if (!row) return fail(row.error());
  auto head = garage->head(build_id(build));
  if (!head) return fail(head.error());
  LookJob job = job_of(*head);
  return Current{.head = std::move(*head), .name = row->name, .job = std::move(job)};
}

namespace {

/// The numbers that a rule reads in this build, by name.
std::vector<garage::SaidFor> numbers_of(const Looked& looked, const fit::Rule& rule) {
  const auto index = static_cast<std::size_t>(&rule - fit::rule_book().rules().data());
  std::vector<garage::SaidFor> out;
  for (const Id id : fit::rule_book().leaves(index))
    out.push_back({schema()[id].path, build::number_at(looked.own, id)});
  // The rules never speak of what was only sketched.
  const bool rides = looked.checked.ride.possible && looked.checked.sketched.empty();
  for (const int answer : fit::rule_book().answers(index)) {
    const auto& info = ride::answer_table()[static_cast<std::size_t>(answer)];
    out.push_back({"ride." + std::string(info.key),
                   rides ? looked.checked.ride.nominal[info.answer] : std::nan("")});
  }
  return out;
}

}  // namespace

std::vector<KnownAnswer> Workbench::Impl::known(const Current& now, const Looked& looked) const {
  std::vector<KnownAnswer> out;
  const auto answers = garage->answers(now.head.build);
  if (!answers) return out;
  for (const auto& answer : *answers) {
    const auto* rule = fit::rule_book().find(answer.rule);
    const bool still = rule != nullptr && garage::still_holds(answer, numbers_of(looked, *rule));
    out.push_back({answer.rule, {.why = answer.why, .when = answer.at, .still = still}});
  }
  return out;
}

api::State Workbench::Impl::put(const Current& now, const Looked& looked) const {
  return state_of(looked, {.build = number(now.head.build),
                           .revision = number(now.head.revision),
                           .name = now.name,
                           .saved_at = now.head.at,
                           .undo_what = now.head.undo_what,
                           .redo_what = now.head.redo_what,
                           .can_undo = now.head.can_undo,
                           .can_redo = now.head.can_redo,
                           .known = known(now, looked)});
}

Reply<api::State> Workbench::Impl::state(api::Integer build) {
  const auto now = current(build);
  if (!now) return refused(now.error());
  const auto looked = lookout.first(now->job);
  if (looked->depth == Depth::first) lookout.ask(now->job);
  return put(*now, *looked);
}

Reply<LookedPtr> Workbench::Impl::full_look(const Current& now) {
  auto looked = lookout.full(now.job);
  return looked ? looked : lookout.first(now.job);
}

Reply<LookedPtr> Workbench::Impl::full_look(api::Integer build) {
  const auto now = current(build);
  if (!now) return refused(now.error());
  return full_look(*now);
}

void Workbench::Impl::tell(const LookKey& key, const char* ready) const {
  if (!setup.tell) return;
  setup.tell("state", api::write(api::StateEvent{
                          .build = key.build, .revision = key.revision, .ready = ready}));
}

void Workbench::Impl::tell(const Seek& seek) const {
  if (setup.tell) setup.tell("search", api::write(search_event(seek)));
}

Reply<api::State> Workbench::Impl::written(const garage::Head& head) {
  lookout.overtaken(number(head.build));
  auto now = state(number(head.build));
  tell(job_of(head).key, "first");
  return now;
}

Result<std::string> Workbench::Impl::text_at(const garage::Head& head, api::Integer base) const {
  if (number(head.revision) == base) return head.text;
  auto revision = garage->revision(garage::RevisionId{base});
  if (!revision) return fail(revision.error());
  if (revision->build != head.build)
    return fail({.code = "no-revision", .what = "this build has no such revision"});
  return std::move(revision->text);
}

namespace {

std::vector<api::Change> changes_of(const garage::Changes& changes) {
  std::vector<api::Change> out;
  for (const auto& change : changes)
    out.push_back({change.path, label_of(change.path), change.from, change.to});
  return out;
}

}  // namespace

Refusal Workbench::Impl::stale_of(const garage::Outcome& outcome,
                                  std::vector<api::EditChange> yours) {
  api::Stale stale;
  stale.changed = changes_of(outcome.stale->theirs);
  stale.yours = std::move(yours);
  stale.same_fields = !outcome.stale->apart;
  if (auto now = state(number(outcome.now.build))) stale.now = std::move(*now);
  return {.status = 409, .problems = {}, .stale = std::make_shared<const api::Stale>(stale)};
}

// ---- the workbench

Workbench::Workbench(garage::Garage& garage, Shipped shipped, Setup setup)
    : impl_(std::make_unique<Impl>(garage, std::move(shipped), std::move(setup))) {}
Workbench::~Workbench() {
  stop();
}
void Workbench::stop() {
  impl_->stopping = true;
  impl_->seeker.stop();
  impl_->lookout.stop();
}

api::Schema Workbench::schema() const {
  return schema_of(impl_->units());
}

Reply<api::Garage> Workbench::garage() const {
  const auto builds = impl_->garage->builds();
  if (!builds) return refused(builds.error());
  api::Garage out;
  for (const auto& row : *builds) {
    api::GarageBuild shown{.id = number(row.id),
                           .title = row.name,
                           .changed = row.changed,
                           .archived = row.archived,
                           .from = {}};
    if (row.from) shown.from = number(*row.from);
    out.builds.push_back(std::move(shown));
  }
  out.notices = impl_->garage->opening().notices;
  const auto the_world = impl_->world();
  for (const auto& name : demo_names()) {
    const auto sheet = build::read_sheet({name, *embedded("data/demo/" + name + ".toml")},
                                         the_world->shipped.library);
    out.demos.push_back({name, sheet.build.project.name.empty() ? name : sheet.build.project.name});
  }
  const auto& classes = *build::schema()[build::id_of("donor.bike_class")].info;
  for (std::size_t i = 1; i < classes.options.size(); ++i)
    out.classes.push_back({std::string(classes.options[i]), std::string(classes.option_labels[i])});
  out.units = impl_->imperial ? "imperial" : "metric";
  out.lan = impl_->setup.lan;
  out.version = impl_->setup.version;
  return out;
}

Reply<api::Units> Workbench::choose_units(const api::Units& units) {
  if (const auto done = impl_->garage->set_setting("units", units.units); !done)
    return refused(done.error());
  impl_->imperial = units.units == "imperial";
  return units;
}

// ---- making

namespace {

const char* step_of(const std::string& where) {
  if (where == "dreaming") return "dreaming";
  if (where == "parts_in_mind") return "buying";
  return where == "riding" ? "riding" : "energising";
}

}  // namespace

Reply<api::State> Workbench::create(const api::NewBuild& made) {
  const auto the_world = impl_->world();
  build::Build build;
  if (made.demo) {
    const auto text = embedded("data/demo/" + *made.demo + ".toml");
    if (!text) {
      return refused(Error{.code = "no-demo",
                           .what = "there is no such demo",
                           .field = "demo",
                           .found = *made.demo,
                           .expected = "one of: " + join(demo_names(), ", ")});
    }
    build = build::read_sheet({*made.demo, *text}, the_world->shipped.library).build;
  } else {
    build.project.name = made.title;
    (void)build::set_from_text(build, build::id_of("project.next_step"), step_of(made.where));
  }
  auto result = edited(build, made.entries.value_or(std::vector<api::EditChange>{}),
                       impl_->edit_context(*the_world));
  if (!result.errors.empty()) return refused(result.errors);
  const auto head =
      impl_->garage->create({.name = made.title,
                             .text = result.text,
                             .what = made.demo ? "from the demo " + *made.demo : "first entries"});
  if (!head) return refused(head.error());
  return impl_->written(*head);
}

Reply<api::State> Workbench::import_sheet(const api::Import& sheet) {
  const auto the_world = impl_->world();
  const std::string file = sheet.title.empty() ? "the sheet" : sheet.title;
  auto read = build::read_sheet({file, sheet.text}, the_world->shipped.library);
  if (!read.errors.empty()) return refused(read.errors);
  std::string title(trim(sheet.title));
  if (title.empty()) title = read.build.project.name;
  const auto head =
      impl_->garage->create({.name = title,
                             .text = build::write_sheet(read.build, the_world->shipped.library),
                             .original = sheet.text,
                             .what = "import"});
  if (!head) return refused(head.error());
  return impl_->written(*head);
}

Reply<api::State> Workbench::state(api::Integer build, bool full) {
  if (!full) {
    const Waiting::One waiting(impl_->seeker.waiting());
    return impl_->state(build);
  }
  // A newer revision may overtake the one that is waited for: then that one is waited for.
  for (int tries = 0; tries < 20; ++tries) {
    const auto now = impl_->current(build);
    if (!now) return refused(now.error());
    if (const auto looked = impl_->lookout.full(now->job)) return impl_->put(*now, *looked);
  }
  return impl_->state(build);
}

// ---- changing

Reply<api::State> Workbench::edit(api::Integer build, const api::Edit& edit) {
  const Waiting::One waiting(impl_->seeker.waiting());
  const auto head = impl_->garage->head(build_id(build));
  if (!head) return refused(head.error());
  const auto text = impl_->text_at(*head, edit.base);
  if (!text) return refused(text.error());
  if (edit.changes.empty())
    return refused(Error{.code = "no-changes", .what = "nothing is to be changed"});
  const auto the_world = impl_->world();
  const auto sheet = build::read_sheet({"the sheet", *text}, the_world->shipped.library);
  auto result = edited(sheet.build, edit.changes, impl_->edit_context(*the_world));
  if (!result.errors.empty()) return refused(result.errors);
  std::string what(trim(edit.what));
  if (what.empty()) {
    what = label_of(edit.changes[0].path) + ": " + edit.changes[0].text.substr(0, 80);
    if (edit.changes.size() > 1)
      what += " and " + std::to_string(edit.changes.size() - 1) + " more";
  }
  const auto outcome =
      impl_->garage->revise(build_id(build), {garage::RevisionId{edit.base}, result.text, what});
  if (!outcome) return refused(outcome.error());
  if (outcome->stale) return tl::unexpected<Refusal>(impl_->stale_of(*outcome, edit.changes));
  return impl_->written(outcome->now);
}

Reply<api::Preview> Workbench::preview(api::Integer build, const api::Edit& edit) {
  const Waiting::One waiting(impl_->seeker.waiting());
  const auto head = impl_->garage->head(build_id(build));
  if (!head) return refused(head.error());
  const auto text = impl_->text_at(*head, edit.base);
  if (!text) return refused(text.error());
  LookJob job = impl_->job_of(*head);
  job.key.revision = edit.base;
  job.text = *text;
  const auto before = impl_->lookout.first(job, true);
  auto result = edited(before->own, edit.changes, impl_->edit_context(*job.world));
  if (!result.errors.empty()) return refused(result.errors);
  const auto after =
      looked_at(std::move(result.build), {}, job.world->shipped, job.world->goods,
                {.depth = Depth::first, .units = job.key.units, .runner = impl_->setup.runner});
  api::Preview out;
  out.four = four_of(after);
  out.answers = answers_of(after);
  out.gearing = gearing_of(after);
  out.counts = counts_of(after.checked.findings);
  const auto verdict = [](const Looked& looked, const fit::Rule& rule) {
    for (const auto& finding : looked.checked.findings) {
      if (finding.rule == &rule) return std::string(word(finding.verdict));
    }
    return std::string("none");
  };
  for (const auto& rule : fit::rule_book().rules()) {
    const std::string from = verdict(*before, rule), to = verdict(after, rule);
    if (from != to)
      out.findings_changed.push_back({std::string(rule.id), std::string(rule.title), from, to});
  }
  return out;
}

Reply<api::State> Workbench::undo(api::Integer build, const api::Base& base) {
  const Waiting::One waiting(impl_->seeker.waiting());
  const auto outcome = impl_->garage->undo(build_id(build), garage::RevisionId{base.base});
  if (!outcome) return refused(outcome.error());
  if (outcome->stale) return tl::unexpected<Refusal>(impl_->stale_of(*outcome, {}));
  return impl_->written(outcome->now);
}

Reply<api::State> Workbench::redo(api::Integer build, const api::Base& base) {
  const Waiting::One waiting(impl_->seeker.waiting());
  const auto outcome = impl_->garage->redo(build_id(build), garage::RevisionId{base.base});
  if (!outcome) return refused(outcome.error());
  if (outcome->stale) return tl::unexpected<Refusal>(impl_->stale_of(*outcome, {}));
  return impl_->written(outcome->now);
}

Reply<std::vector<api::Revision>> Workbench::history(api::Integer build,
                                                     std::optional<api::Integer> before) const {
  garage::Page page;
  if (before) page.before = garage::RevisionId{*before};
  const auto events = impl_->garage->history(build_id(build), page);
  if (!events) return refused(events.error());
  std::vector<api::Revision> out;
  for (const auto& event : *events) {
    out.push_back({.id = number(event.id),
                   .when = event.at,
                   .did = std::string(word(event.did)),
                   .what = event.what,
                   .changes = changes_of(event.changes)});
  }
  return out;
}

Reply<api::State> Workbench::rename(api::Integer build, const api::Name& name) {
  const auto row = impl_->garage->rename(build_id(build), name.title);
  if (!row) return refused(row.error());
  return impl_->state(build);
}

Reply<api::State> Workbench::duplicate(api::Integer build, const api::Name& name) {
  const auto head = impl_->garage->duplicate(build_id(build), name.title);
  if (!head) return refused(head.error());
  return impl_->written(*head);
}

Reply<api::State> Workbench::archive(api::Integer build, const api::Archived& archived) {
  const auto row = impl_->garage->archive(build_id(build), archived.archived);
  if (!row) return refused(row.error());
  return impl_->state(build);
}

Reply<api::Compare> Workbench::compare(api::Integer a, api::Integer b) {
  const auto now_a = impl_->current(a), now_b = impl_->current(b);
  if (!now_a) return refused(now_a.error());
  if (!now_b) return refused(now_b.error());
  const auto look_a = impl_->lookout.first(now_a->job), look_b = impl_->lookout.first(now_b->job);
  api::Compare out{
      .a = impl_->put(*now_a, *look_a), .b = impl_->put(*now_b, *look_b), .differ = {}};
  for (Id id = 0; id < build::schema().size(); ++id) {
    const std::string in_a = build::show(look_a->own, id, look_a->units),
                      in_b = build::show(look_b->own, id, look_b->units);
    if (in_a == in_b) continue;
    const auto& entry = build::schema()[id];
    out.differ.push_back({entry.path, std::string(entry.info->label), in_a, in_b});
  }
  return out;
}

Reply<File> Workbench::backup() const {
  // Beside the garage, where there is room for it and nobody else looks; gone when it is read.
  static std::atomic<unsigned> number{0};
  const std::string path = impl_->garage->path() + ".handed-out-" + std::to_string(number++ % 1000);
  const auto gone = [&] {
    std::error_code ignored;
    std::filesystem::remove(path, ignored);
  };
  gone();
  const auto done = impl_->garage->backup(path);
  std::string bytes;
  if (done) {
    std::ifstream in(path, std::ios::binary);
    bytes.assign(std::istreambuf_iterator<char>(in), {});
  }
  gone();
  if (!done) return refused(done.error());
  return File{.media = "application/vnd.sqlite3",
              .bytes = std::move(bytes),
              .name = "garage-" + impl_->today() + ".db"};
}

Reply<File> Workbench::sheet(api::Integer build) const {
  const auto row = impl_->garage->build(build_id(build));
  if (!row) return refused(row.error());
  auto text = impl_->garage->sheet_file(row->head);
  if (!text) return refused(text.error());
  return File{.media = "text/plain; charset=utf-8",
              .bytes = std::move(*text),
              .name = "build-" + std::to_string(build) + ".toml"};
}

Reply<api::State> Workbench::known(api::Integer build, const api::KnownSaid& said) {
  const auto* rule = fit::rule_book().find(said.rule);
  if (rule == nullptr) {
    return refused(Error{
        .code = "no-rule", .what = "there is no such check", .field = "rule", .found = said.rule});
  }
  const auto now = impl_->current(build);
  if (!now) return refused(now.error());
  if (trim(said.why).empty()) {
    const auto done = impl_->garage->withdraw_answer(build_id(build), said.rule);
    if (!done) return refused(done.error());
  } else {
    const auto looked = impl_->lookout.first(now->job);
    const auto done = impl_->garage->answer_finding(
        build_id(build),
        {.rule = said.rule, .why = said.why, .numbers = numbers_of(*looked, *rule)});
    if (!done) return refused(done.error());
  }
  return impl_->state(build);
}

// ---- what is made of it

Reply<api::PartsList> Workbench::parts_list(api::Integer build) {
  const auto now = impl_->current(build);
  if (!now) return refused(now.error());
  return parts_list_of(*impl_->lookout.first(now->job));
}

Reply<std::vector<api::Measure>> Workbench::measure(api::Integer build) {
  const auto looked = impl_->full_look(build);
  if (!looked) return tl::unexpected<Refusal>(looked.error());
  return measures_of(**looked);
}

Reply<api::Explained> Workbench::explain(api::Integer build, const std::string& topic) {
  const auto looked = impl_->full_look(build);
  if (!looked) return tl::unexpected<Refusal>(looked.error());
  std::string near;
  api::Explained out{
      serve::explain((*looked)->own, (*looked)->checked, topic, (*looked)->units, near)};
  if (!out.text.empty()) return out;
  Error error{.code = "no-topic",
              .what = "nothing here is called that",
              .found = topic.substr(0, api::path_max)};
  if (!near.empty()) error.way_out = "Did you mean '" + near + "'?";
  return tl::unexpected<Refusal>(
      Refusal{.status = 404, .problems = {problem_of(error)}, .stale = {}});
}

// ---- beside it

namespace {

std::string money_of(const std::optional<std::int64_t>& cents) {
  return cents ? plan::money_text(*cents) : std::string();
}

api::Photo photo_of(const garage::PhotoRow& row) {
  return {.id = number(row.id),
          .field = row.field,
          .caption = row.caption,
          .when = row.at,
          .media = row.media};
}

}  // namespace

Reply<std::vector<api::Entry>> Workbench::journal(api::Integer build) const {
  const auto entries = impl_->garage->journal(build_id(build));
  if (!entries) return refused(entries.error());
  std::vector<api::Entry> out;
  for (const auto& entry : *entries) {
    out.push_back({.id = number(entry.id),
                   .when = entry.day,
                   .text = entry.text,
                   .hours = entry.hours.value_or(std::nan("")),
                   .money = money_of(entry.money_cents)});
  }
  return out;
}

Reply<std::vector<api::Entry>> Workbench::write_journal(api::Integer build,
                                                        const api::NewEntry& entry) {
  garage::NewEntry made{.text = entry.text, .day = entry.day.value_or("")};
  if (std::isfinite(entry.hours)) made.hours = entry.hours;
  if (!trim(entry.money).empty()) {
    const auto money = figure::read(entry.money, figure::Kind::money);
    if (!money || std::fabs(money->value) > 1e9) {
      Error error =
          money ? Error{.code = "out-of-range", .what = "that is too much money"} : money.error();
      error.field = "money";
      return refused(error);
    }
    made.money_cents = std::llround(money->value * 100);
  }
  const auto done = impl_->garage->add_entry(build_id(build), made);
  if (!done) return refused(done.error());
  return journal(build);
}

Reply<std::vector<api::Photo>> Workbench::photos(api::Integer build) const {
  const auto rows = impl_->garage->photos(build_id(build));
  if (!rows) return refused(rows.error());
  std::vector<api::Photo> out;
  for (const auto& row : *rows) out.push_back(photo_of(row));
  return out;
}

Reply<api::Photo> Workbench::add_photo(api::Integer build, const Picture& picture) {
  const auto row = impl_->garage->add_photo(
      build_id(build),
      {.bytes = picture.bytes, .caption = picture.caption, .field = picture.field});
  if (!row) return refused(row.error());
  return photo_of(*row);
}

Reply<File> Workbench::photo(api::Integer id) const {
  auto photo = impl_->garage->photo(garage::PhotoId{id});
  if (!photo) return refused(photo.error());
  return File{.media = photo->row.media, .bytes = std::move(photo->bytes), .name = {}};
}

}  // namespace ww::serve
