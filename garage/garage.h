// SPDX-License-Identifier: MIT
// The garage: one file that holds the builds with every revision, the builder's own parts, answered
// findings, photos, journal and settings. The form is written down in docs/formats.md.
// Invariants:
// 1. A call that gives a value has been committed to the disk; one that gives an Error has written
// nothing.
// 2. Revisions are only ever added. A build's newest revision is what it is now.
// 3. An edit carries the revision it was made on. If the build has moved on nothing is written.
// 4. A damaged file is never written to: it is set aside under a new name and what can be read of
// it is copied.
// 5. All calls may come from any thread; calls that write go one after the other.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "garage/changes.h"

namespace ww::garage {

// Ids are unlike types, so that none can stand for another. `number(id)` is what JSON carries;
// `BuildId{7}` comes back.
enum class BuildId : std::int64_t {};
enum class RevisionId : std::int64_t {};
enum class PartId : std::int64_t {};
enum class PhotoId : std::int64_t {};
enum class EntryId : std::int64_t {};

template <class Id>
constexpr std::int64_t number(Id id) {
  return static_cast<std::int64_t>(id);
}

/// Gives the time as ISO 8601 text ("2026-04-30T18:05:00Z"). Called under the garage's lock.
using Clock = std::function<std::string()>;

/// What to do with a file that was never a garage: plain text, say, at the path that was given.
enum class Stranger : std::uint8_t {
  set_aside,  ///< rename it and begin a new garage: right for the program's own place
  refuse      ///< error "not-a-garage", the file as it was: right for a path that a person typed
};

struct Options {
  int busy_ms = 3000;                       ///< how long to wait for another program's lock
  Stranger stranger = Stranger::set_aside;  ///< a database of another program is always refused
  std::string vfs = {};                     ///< SQLite's file layer by name; tests put faults in
};

/// How the garage was found when it was opened.
struct Opening {
  enum class How : std::uint8_t { as_left, made_new, brought_up_to_date, salvaged };
  How how = How::as_left;
  std::string set_aside = {};             ///< where the damaged file is now; empty: none
  std::string copy_before = {};           ///< the copy in the older form, where one was updated
  int revisions_kept = 0;                 ///< of a damaged file
  int revisions_lost = 0;                 ///< known to have been there, and not readable
  std::vector<std::string> notices = {};  ///< the same in sentences for the builder
};

// ---- builds and revisions

struct NewBuild {
  std::string name;                  ///< 1 to 200 bytes after trimming
  std::string text;                  ///< canonical sheet text (build/sheet.h)
  std::string original = {};         ///< a hand-written file's bytes as they were; may be empty
  std::string what = {};             ///< in the history; empty: 'made' or 'import'
  std::string note = {};             ///< a line beside the name
  std::optional<BuildId> from = {};  ///< the build this is a variant of
};

struct BuildRow {
  BuildId id;
  std::string name, note;
  std::string created, changed;  ///< ISO 8601; changed: the newest revision's time
  bool archived;
  std::optional<BuildId> from;
  RevisionId head;
};

/// A build as it is now.
struct Head {
  BuildId build;
  RevisionId revision;  ///< the `base` of the next edit, undo or redo
  std::string text;     ///< canonical sheet
  std::string at;       ///< when it was saved
  bool can_undo, can_redo;
  std::string undo_what, redo_what;  ///< the words of the edit that would go or come back
};

/// A change to a build, made while looking at `base`.
struct Edit {
  RevisionId base;
  std::string text;  ///< canonical sheet after the change
  std::string what;  ///< "typed donor.wheelbase", "took a way out: ..."
};

/// Why an edit was not written: the build had moved on from its base.
struct Stale {
  RevisionId base;
  std::string base_text;
  Changes theirs;                 ///< from the base to what is there now
  Changes mine;                   ///< from the base to what was to be written; empty for undo, redo
  std::vector<std::string> both;  ///< paths of `mine` that `theirs` touches, too
  bool apart;  ///< an edit with nothing in `both`: it may be applied again, on `now`
};

struct Outcome {
  Head now;                         ///< what is in the garage after the call, written or not
  std::optional<Stale> stale = {};  ///< set: nothing was written
};

enum class Did : std::uint8_t { made, imported, copied, edited, undone, redone, recovered };
std::string_view word(Did did);

/// One line of a build's history.
struct Event {
  RevisionId id;
  std::optional<RevisionId> parent;  ///< what was there before; none for the first
  std::optional<RevisionId> shows;   ///< of undo and redo: the revision shown again
  Did did;
  std::string at, what;
  Changes changes;  ///< against the parent
};

struct Revision {
  BuildId build;
  Event event;
  std::string text;      ///< canonical sheet
  std::string original;  ///< the imported file where this is still unchanged; else empty
};

struct Page {
  std::optional<RevisionId> before = {};  ///< only older ones; none: from the newest
  int count = 50;
};

// ---- what else is kept

struct OwnPart {
  PartId id;
  std::string shelf, slug;  ///< "motor", and the id its text gives it
  std::string text;         ///< one `[[motor]]` table, as in a parts file
  std::string came_from;    ///< a link, a listing's text, may be empty
  std::string created, changed;
  std::int64_t revision;  ///< the `base` of the next change
};

/// A part as changed by somebody else in the meantime comes back as it is now.
struct PartOutcome {
  OwnPart now;
  bool stale = false;  ///< nothing was written
};

/// A number that an answer was given for: a field path or an answer's key, in SI. NaN: not known.
struct SaidFor {
  std::string name;
  double value;
};

struct NewAnswer {
  std::string rule;
  std::string why;
  std::vector<SaidFor> numbers = {};
};

struct Answered {
  std::string rule, why, at;
  std::vector<SaidFor> numbers;
};

/// Whether the numbers are still those the answer was given for: the same names, and each within a
/// millionth (not known like not known).
bool still_holds(const Answered& answer, const std::vector<SaidFor>& now);

inline constexpr std::size_t photo_bytes_max = 12U << 20U;

struct NewPhoto {
  std::string bytes;  ///< JPEG, PNG or WebP, told by its first bytes
  std::string caption = {};
  std::string field = {};  ///< a path ("motor.shaft_diameter") or a table ("motor"); may be empty
};

struct PhotoRow {
  PhotoId id;
  BuildId build;
  std::string field, media, caption, at;  ///< media: "image/jpeg", "image/png", "image/webp"
  std::int64_t size;                      ///< bytes
};

struct Photo {
  PhotoRow row;
  std::string bytes;
};

struct NewEntry {
  std::string text;
  std::string day = {};                          ///< "2026-04-30"; empty: today by the clock
  std::optional<std::int64_t> money_cents = {};  ///< in the currency of the build's sheet
  std::optional<double> hours = {};              ///< 0 to 10000
};

struct Entry {
  EntryId id;
  BuildId build;
  std::string day, written, text;
  std::optional<std::int64_t> money_cents;
  std::optional<double> hours;
  std::int64_t revision;  ///< the `base` of the next change
};

struct EntryOutcome {
  Entry now;
  bool stale = false;  ///< nothing was written
};

// Error codes of all calls: "disk-full", "read-only", "locked", "disk-error", "damaged",
// "not-a-garage", "newer-form", "no-folder", "cannot-open"; and what the single calls say.
class Garage {
 public:
  /// Opens the file or begins a new one; looks it over and puts it in order first
  /// (docs/formats.md).
  static Result<Garage> open(const std::string& path, Clock clock, const Options& options = {});
  Garage(Garage&&) noexcept;
  Garage& operator=(Garage&&) noexcept;
  ~Garage();

  const Opening& opening() const;
  const std::string& path() const;

  /// All builds, archived ones too, newest change first.
  Result<std::vector<BuildRow>> builds() const;
  Result<BuildRow> build(BuildId build) const;  ///< "no-build" where there is none, as below
  /// Errors: "no-name", "name-too-long", "not-a-sheet" (the text cannot be read at all).
  Result<Head> create(const NewBuild& made);
  Result<Head> head(BuildId build) const;
  /// The same text as now writes nothing and is no error. Errors: "no-revision" (the base is none
  /// of this build), "not-a-sheet".
  Result<Outcome> revise(BuildId build, const Edit& edit);
  /// Errors: "nothing-to-undo", "nothing-to-redo".
  Result<Outcome> undo(BuildId build, RevisionId base);
  Result<Outcome> redo(BuildId build, RevisionId base);
  /// Newest first.
  Result<std::vector<Event>> history(BuildId build, const Page& page = {}) const;
  Result<Revision> revision(RevisionId revision) const;
  /// The sheet to hand out: the imported file's own bytes if nothing was changed since, else the
  /// canonical text.
  Result<std::string> sheet_file(RevisionId revision) const;
  /// A variant: the present text and the answered findings; photos and journal stay where they are.
  Result<Head> duplicate(BuildId build, const std::string& name);
  Result<BuildRow> rename(BuildId build, const std::string& name);
  Result<BuildRow> annotate(BuildId build, const std::string& note);
  Result<BuildRow> archive(BuildId build, bool archived);

  /// In order of shelf and slug.
  Result<std::vector<OwnPart>> own_parts() const;
  Result<OwnPart> own_part(PartId part) const;  ///< "no-part"
  /// Errors: those of the parts file; "not-one-part"; "double-id" (the shelf has such a part).
  Result<OwnPart> add_own_part(const std::string& text, const std::string& came_from);
  /// Shelf and slug stay ("other-part" where the text says another).
  Result<PartOutcome> change_own_part(PartId part, std::int64_t base, const std::string& text);
  Result<PartOutcome> remove_own_part(PartId part, std::int64_t base);

  /// Replaces an earlier answer to the same rule. Errors: "no-why", "bad-name".
  Result<Answered> answer_finding(BuildId build, const NewAnswer& answer);
  /// "no-answer" where none stands.
  Result<void> withdraw_answer(BuildId build, const std::string& rule);
  Result<std::vector<Answered>> answers(BuildId build) const;

  /// Errors: "not-a-picture", "too-large", "unknown-key" (no such field).
  Result<PhotoRow> add_photo(BuildId build, const NewPhoto& photo);
  Result<std::vector<PhotoRow>> photos(BuildId build) const;
  Result<Photo> photo(PhotoId photo) const;  ///< "no-photo"
  Result<PhotoRow> caption_photo(PhotoId photo, const std::string& caption);
  Result<void> remove_photo(PhotoId photo);

  /// Errors: "no-text", "bad-date", "out-of-range".
  Result<Entry> add_entry(BuildId build, const NewEntry& entry);
  /// Newest day first.
  Result<std::vector<Entry>> journal(BuildId build) const;
  Result<EntryOutcome> change_entry(EntryId entry, std::int64_t base, const NewEntry& changed);
  Result<EntryOutcome> remove_entry(EntryId entry, std::int64_t base);

  Result<std::optional<std::string>> setting(const std::string& key) const;
  Result<void> set_setting(const std::string& key, const std::string& value);

  /// A whole copy in one file, taken while the garage is in use. An earlier backup at that path is
  /// replaced when the new one is complete. Errors: "backup-in-use" (it is open somewhere),
  /// "not-a-garage" (something else is there), "same-file".
  Result<void> backup(const std::string& path) const;

 private:
  struct Impl;
  explicit Garage(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

}  // namespace ww::garage
