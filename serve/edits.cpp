// SPDX-License-Identifier: MIT
#include "serve/edits.h"

#include <algorithm>
#include <charconv>
#include <cmath>

#include "base/text.h"
#include "build/sheet.h"

namespace ww::serve {

namespace {

using build::Build;
using build::Entry;
using build::FieldType;
using build::Id;
using build::schema;
using build::Slot;
using figure::Figure;

bool same_number(double a, double b) {
  return a == b || (std::isnan(a) && std::isnan(b));
}

class Hand {
 public:
  Hand(Build& build, const EditContext& context, Errors& errors)
      : build_(&build), context_(&context), errors_(&errors) {}

  void make(const api::EditChange& change) {
    const std::string path(trim(change.path));
    if (path == "owns") return own_tools(change.text);
    if (const Slot* slot = schema().slot(path)) return whole_slot(*slot, change);
    const Id id = schema().find(path);
    if (id < 0) return unknown_path(path);
    const Entry& entry = schema()[id];
    if (entry.info->key == "part" && entry.slot->is_part) return part(entry, change);
    if (trim(change.text).empty()) return forget(id);
    set(id, change);
  }

 private:
  void wrong(Error error) { errors_->push_back(std::move(error)); }

  void unknown_path(const std::string& path) {
    std::vector<std::string_view> paths;
    for (const Entry& entry : schema().entries()) paths.emplace_back(entry.path);
    for (const Slot& slot : schema().slots()) paths.push_back(slot.key);
    Error error{
        .code = "unknown-key", .what = "there is no such field", .field = path, .found = path};
    error.way_out = did_you_mean(path, paths);
    wrong(std::move(error));
  }

  void own_tools(const std::string& text) {
    build_->owns.clear();
    for (const auto tool : split(text, ',')) {
      if (!trim(tool).empty()) build_->owns.emplace_back(trim(tool));
    }
  }

  /// "motor" with "" takes it away, with "own:7" puts an own part in.
  void whole_slot(const Slot& slot, const api::EditChange& change) {
    const std::string text(trim(change.text));
    if (text.empty()) {
      if (slot.optional) {
        slot.remove(*build_);
      } else {
        wrong({.code = "always-there",
               .what = "this belongs to every build and cannot be taken away",
               .field = std::string(slot.key),
               .way_out = "Its figures can be forgotten one by one"});
      }
      return;
    }
    std::int64_t number = 0;
    const char* end = text.data() + text.size();
    const bool own = text.rfind("own:", 0) == 0 &&
                     std::from_chars(text.data() + 4, end, number).ptr == end && text.size() > 4;
    if (!slot.is_part || !own) {
      wrong({.code = "bad-part",
             .what = slot.is_part ? "put a part in with 'own:' and its number, or take it away "
                                    "with an empty text"
                                  : "this is no part: change its fields",
             .field = std::string(slot.key),
             .found = text,
             .expected = slot.is_part ? "own:7" : ""});
      return;
    }
    const auto place = context_->own_part ? context_->own_part(number) : std::nullopt;
    if (!place || place->shelf != slot.shelf) {
      wrong({.code = "unknown-part",
             .what = place ? "this part belongs elsewhere" : "no such part of yours",
             .field = std::string(slot.key),
             .found = text,
             .expected = place ? "a part of the shelf '" + std::string(slot.shelf) + "'" : ""});
      return;
    }
    put(slot, place->slug, std::string(slot.key));
  }

  void put(const Slot& slot, const std::string& id, const std::string& path) {
    if (const auto* found = context_->library->find(slot.shelf, id)) {
      build::put_part(*build_, slot, *found);
    } else {
      wrong(context_->library->unknown_part(slot.shelf, id, path));
    }
  }

  /// "motor.part": an id puts that part in; "" leaves the figures and forgets which part it was.
  void part(const Entry& entry, const api::EditChange& change) {
    const std::string id(trim(change.text));
    if (!id.empty()) return put(*entry.slot, id, entry.path);
    if (void* object = entry.slot->reach(*build_))
      static_cast<std::string*>(entry.info->reach(object))->clear();
  }

  /// The library part that stands behind a slot; null where its figures stand on their own.
  const build::LibraryPart* twin(const Slot& slot) const {
    if (!slot.is_part) return nullptr;
    const std::string id = build::show(*build_, build::id_of(std::string(slot.key) + ".part"));
    return context_->library->find(slot.shelf, id);
  }

  void forget(Id id) {
    const Entry& entry = schema()[id];
    void* object = entry.slot->reach(*build_);
    if (object == nullptr || !build::known_at(*build_, id)) return;
    if (const auto* part = twin(*entry.slot)) {
      Build with_part = *build_;
      build::put_part(with_part, *entry.slot, *part);
      if (build::known_at(with_part, id)) return back_to_part(id, with_part, *part);
    }
    void* member = entry.info->reach(object);
    switch (entry.info->type) {
      case FieldType::figure:
        *static_cast<Figure*>(member) = {};
        break;
      case FieldType::text:
        static_cast<std::string*>(member)->clear();
        break;
      case FieldType::count:
        *static_cast<build::Count*>(member) = build::unknown_count;
        break;
      case FieldType::choice:
      case FieldType::set:
        build::set_number(*build_, id, 0);
        break;
    }
  }

  /// What was written over a part's figure goes; the part's own comes back and cannot go.
  void back_to_part(Id id, Build& with_part, const build::LibraryPart& part) {
    const Entry& entry = schema()[id];
    void* mine = entry.info->reach(entry.slot->reach(*build_));
    void* theirs = entry.info->reach(entry.slot->reach(with_part));
    const bool same = build::show(*build_, id) == build::show(with_part, id) &&
                      same_number(build::number_at(*build_, id), build::number_at(with_part, id));
    if (same) {
      wrong({.code = "belongs-to-part",
             .what = "this figure comes with the part and cannot be forgotten alone",
             .field = entry.path,
             .found = part.id,
             .way_out = "Write another figure over it, or take the part away"});
      return;
    }
    switch (entry.info->type) {
      case FieldType::figure:
        *static_cast<Figure*>(mine) = *static_cast<Figure*>(theirs);
        break;
      case FieldType::text:
        *static_cast<std::string*>(mine) = *static_cast<std::string*>(theirs);
        break;
      default:
        build::set_number(*build_, id, build::number_at(with_part, id));
        break;
    }
  }

  void set(Id id, const api::EditChange& change) {
    const Entry& entry = schema()[id];
    const Figure* old = build::figure_at(*build_, id);
    const Figure before = old == nullptr ? Figure{} : *old;
    std::optional<figure::Evidence> stated;
    if (change.evidence && !change.evidence->empty()) {
      auto read = figure::read_evidence(*change.evidence);
      if (!read) {
        Error error = read.error();
        error.field = entry.path;
        return wrong(std::move(error));
      }
      stated = *read;
    }
    if (auto done = build::set_from_text(*build_, id, change.text); !done)
      return wrong(done.error());
    Figure* now = build::figure_at(*build_, id);
    if (now == nullptr) return;
    const bool same = before.known() && now->value == before.value &&
                      same_number(now->half_width, before.half_width) &&
                      now->convention == before.convention;
    if (stated) {
      now->evidence = *stated;
      now->date = *stated == figure::Evidence::guess ? "" : context_->today;
      if (!same) now->note.clear();
    } else if (!same) {
      now->evidence = figure::Evidence::guess;
      now->date.clear();
      now->note.clear();
    }
    if (change.note) now->note = std::string(trim(*change.note));
    take_currency(entry, *now);
  }

  /// The first price that names a currency names the sheet's.
  void take_currency(const Entry& entry, const Figure& price) {
    if (entry.info->kind != figure::Kind::money || !build_->project.currency.empty()) return;
    const auto reading = figure::read(price.typed, figure::Kind::money);
    if (reading && !reading->unit.empty()) build_->project.currency = reading->unit;
  }

  Build* build_;
  const EditContext* context_;
  Errors* errors_;
};

}  // namespace

Edited edited(const build::Build& build, const std::vector<api::EditChange>& changes,
              const EditContext& context) {
  Edited out{.build = build, .text = {}, .errors = {}};
  Hand hand(out.build, context, out.errors);
  for (const api::EditChange& change : changes) hand.make(change);
  if (!out.errors.empty()) return out;
  // What is kept is the sheet; the build that goes on is what the sheet says.
  out.text = build::write_sheet(out.build, *context.library);
  auto sheet = build::read_sheet({"sheet", out.text}, *context.library);
  for (Error& error : sheet.errors) {
    // A part that has left the library was told when the build was opened.
    if (error.code == "unknown-part") continue;
    error.file.clear();
    error.line = error.column = 0;
    out.errors.push_back(std::move(error));
  }
  out.build = std::move(sheet.build);
  return out;
}

std::string label_of(std::string_view path) {
  if (const Slot* slot = schema().slot(path)) return std::string(slot->label);
  const Id id = schema().find(path);
  return id < 0 ? std::string(path) : std::string(schema()[id].info->label);
}

api::Problem problem_of(const Error& error) {
  api::Problem out{.code = error.code,
                   .what = error.what,
                   .field = {},
                   .found = {},
                   .expected = {},
                   .way_out = {},
                   .file = {},
                   .line = {},
                   .column = {}};
  const auto keep = [](std::optional<std::string>& to, const std::string& from) {
    if (!from.empty()) to = from;
  };
  keep(out.field, error.field);
  keep(out.found, error.found);
  keep(out.expected, error.expected);
  keep(out.way_out, error.way_out);
  keep(out.file, error.file);
  if (error.line > 0) out.line = error.line;
  if (error.column > 0) out.column = error.column;
  return out;
}

std::vector<api::Problem> problems_of(const Errors& errors) {
  std::vector<api::Problem> out;
  out.reserve(errors.size());
  for (const Error& error : errors) out.push_back(problem_of(error));
  return out;
}

}  // namespace ww::serve
