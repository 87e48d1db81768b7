// SPDX-License-Identifier: MIT
// The one field table. Each field of a Build is declared once (build/fields_*.cpp): key, label,
// kind of unit, limits, prior, options, how to measure it, and the member it lives in. Parser,
// writer, errors, forms, docs and sampling walk this table; none of them names a member.
// Invariants:
// 1. A field's key is the member's name; its path is `slot.key` (`motor.mass`), the same in files,
// JSON and C++.
// 2. Ids are the order of declaration and are stable within one program, never stored.
// 3. An absent part still lists its fields; reaching them gives null.
#pragma once

#include <limits>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "build/nouns.h"

namespace ww::build {

enum class FieldType : std::uint8_t { figure, count, choice, set, text };

/// What is assumed for a figure nobody has given: a class default with a wide spread and where it
/// is from.
struct Prior {
  double value = std::numeric_limits<double>::quiet_NaN();       ///< SI
  double half_width = std::numeric_limits<double>::quiet_NaN();  ///< SI, p10-p90
  std::string_view source = {};
  bool known() const { return value == value; }
};

struct FieldInfo {
  std::string_view key, label;
  FieldType type = FieldType::figure;
  figure::Kind kind = figure::Kind::ratio;
  figure::Trait trait = figure::Trait::plain;
  double low = 0, high = 0;  ///< SI limits of a figure, or of a count
  Prior prior = {};
  std::string_view measure = {};                     ///< how a builder gets the figure
  std::vector<std::string_view> options = {};        ///< of a choice or a set; [0] is "unknown"
  std::vector<std::string_view> option_labels = {};  ///< the same as people say them: "M8"
  bool decided = false;  ///< a wish, setting or choice of the builder's, nothing to measure
  void* (*reach)(void*) = nullptr;  ///< from the struct to the member
};

/// The fields of one struct.
struct Table {
  std::vector<FieldInfo> fields;
};

/// One top-level table of a sheet.
struct Slot {
  std::string_view key, label;
  bool is_part;   ///< has an id in the parts library
  bool optional;  ///< may be absent
  const Table* table;
  void* (*reach)(Build&);  ///< null where absent
  void* (*make)(Build&);   ///< creates it where absent
  void (*remove)(Build&);
  std::string_view
      shelf;  ///< which file of the parts library holds it; empty for what is not a part
  std::shared_ptr<void> (*fresh)();  ///< a new one with nothing known
  void (*copy)(void* to, const void* from);
};

struct Entry {
  std::string path;
  const Slot* slot;
  const FieldInfo* info;
};

using Id = int;

class Schema {
 public:
  Schema();
  const std::vector<Slot>& slots() const { return slots_; }
  const std::vector<Entry>& entries() const { return entries_; }
  const Entry& operator[](Id id) const { return entries_[static_cast<std::size_t>(id)]; }
  int size() const { return static_cast<int>(entries_.size()); }
  /// -1 where there is none.
  Id find(std::string_view path) const;
  const Slot* slot(std::string_view key) const;
  /// The ids of a slot's fields, in order.
  std::vector<Id> fields_of(const Slot& slot) const;

 private:
  std::vector<Slot> slots_;
  std::vector<Entry> entries_;
  std::vector<std::pair<std::string_view, Id>> by_path_;  // sorted
};

/// The table, made once.
const Schema& schema();

/// The id of a path that must exist; a misspelt one is a mistake of ours and stops the program.
Id id_of(std::string_view path);

/// The member behind a field, null where its slot is absent or the type differs.
const Figure* figure_at(const Build& build, Id id);
Figure* figure_at(Build& build, Id id);

/// Any field as one number: figure in SI, count, option index of a choice, mask of a set. NaN where
/// not known. (A text has no number: NaN.)
double number_at(const Build& build, Id id);
bool known_at(const Build& build, Id id);
bool slot_present(const Build& build, const Slot& slot);
/// Makes a slot what it is in another build.
void copy_slot(Build& to, const Build& from, const Slot& slot);

/// Sets a field from what a person typed ("52", "17 kg +- 0.2 kg", "hall", "hall, sin_cos", "yes");
/// creates the slot. Evidence is kept unless the text carries none before. Errors: as figure::read,
/// "unknown-option", "out-of-range".
Result<int> set_from_text(Build& build, Id id, std::string_view text);

/// Sets a field to a plain number (SI, count, option index, mask), as rules' ways out do.
void set_number(Build& build, Id id, double value);

/// An option of a choice or set with its label: "sin_cos (sine-cosine encoder)", or the word alone
/// where the label says no more.
std::string option_with_label(const FieldInfo& info, std::size_t option);
/// All words a choice or set takes, with their labels.
std::string options_text(const FieldInfo& info);

/// The field as a person reads it: "17 kg", "52", "sine-cosine encoder"; "not known" where it is
/// not.
std::string show(const Build& build, Id id, figure::System system = figure::System::metric);
/// The same with the words of a sheet instead of labels: "sin_cos". For machines.
std::string show_in_words(const Build& build, Id id);
/// A number of that field, shown the same way.
std::string show_number(double value, Id id, figure::System system = figure::System::metric);

/// The prior of a field for this build: the class default of the bike where the table has one, else
/// the field's own.
Prior prior_of(const Build& build, Id id);
/// Whether what stands in a slot decides priors of other slots.
bool decides_priors(const Slot& slot);

// The tables, one function a struct; declared here so that the schema can list them.
const Table& project_fields();
const Table& donor_fields();
const Table& rider_fields();
const Table& wishes_fields();
const Table& surroundings_fields();
const Table& motor_fields();
const Table& controller_fields();
const Table& cell_fields();
const Table& pack_fields();
const Table& bms_fields();
const Table& charger_fields();
const Table& dcdc_fields();
const Table& buffer_fields();
const Table& contactor_fields();
const Table& precharge_fields();
const Table& fuse_fields();
const Table& disconnect_fields();
const Table& cable_fields();
const Table& lug_fields();
const Table& gearing_fields();
const Table& chain_fields();
const Table& sprocket_fields();
const Table& belt_fields();
const Table& tyre_fields();
const Table& throttle_fields();
const Table& display_fields();
const Table& limits_fields();
const Table& layout_fields();
const Table& wiring_fields();
const Table& money_fields();
const Table& assumed_fields();
const Table& loom_fields();
/// Of one `[[wire]]`; no slot of the schema, since there may be any number.
const Table& own_wire_fields();
/// Of one `[[done]]` and one `[[cell_measured]]`, likewise.
const Table& log_entry_fields();
const Table& measured_unit_fields();

}  // namespace ww::build
