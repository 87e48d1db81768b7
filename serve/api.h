// SPDX-License-Identifier: MIT
// What the page and the program say to each other (docs/api.md). Each struct says once what it is
// made of: `describe` shows its members to a visitor; reading JSON, writing JSON and the page's
// TypeScript types all come from it. Invariants:
// 1. What is read is complete and within its limits, or every problem is listed with its path.
// 2. An unknown, doubled or missing key is a problem; nothing is guessed.
// 3. web/src/api.ts is what `typescript()` prints (a test holds it).
#pragma once

#include <cstdint>
#include <limits>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace ww::serve::api {

using Words = std::vector<std::string_view>;
using Integer = std::int64_t;

/// Limits of what is read; what is written is ours.
inline constexpr std::size_t path_max = 80, line_max = 500, text_max = 20000,
                             sheet_max = (1U << 20U), list_max = 500;
inline constexpr Integer id_max = (Integer{1} << 53U) - 1;  ///< whole in a double
inline constexpr int depth_max = 12;

extern const Words says_words;              // clash, unmeasured, tight, fits
extern const Words met_words;               // met, short, unknown, none
extern const Words must_words, want_words;  // what a search can hold a bike to; what it can weigh
extern const Words step_words;              // how a step of the work stands
extern const Words phase_words;             // none, waiting, riding, weighing, done

// ---- what is wrong

struct Problem {
  std::string code, what;
  std::optional<std::string> field, found, expected, way_out, file;
  std::optional<Integer> line, column;

  static constexpr std::string_view name = "Problem";
  template <class V>
  void describe(V& v) {
    v.text("code", code, line_max);
    v.text("what", what, text_max);
    v.maybe_text("field", field, line_max);
    v.maybe_text("found", found, text_max);
    v.maybe_text("expected", expected, text_max);
    v.maybe_text("way_out", way_out, text_max);
    v.maybe_text("file", file, line_max);
    v.maybe_integer("line", line, 0, id_max);
    v.maybe_integer("column", column, 0, id_max);
  }
};

struct Refused {
  std::vector<Problem> problems;

  static constexpr std::string_view name = "Refused";
  template <class V>
  void describe(V& v) {
    v.list("problems", problems, list_max);
  }
};

// ---- the field table

struct Word {
  std::string word, label;

  static constexpr std::string_view name = "Word";
  template <class V>
  void describe(V& v) {
    v.text("word", word, line_max);
    v.text("label", label, line_max);
  }
};

struct Field {
  std::string path, key, label, type, kind;
  std::optional<std::string> low, high;
  std::vector<Word> options;
  std::string how;
  std::optional<std::string> prior, prior_source;

  static constexpr std::string_view name = "Field";
  template <class V>
  void describe(V& v) {
    v.text("path", path, path_max);
    v.text("key", key, path_max);
    v.text("label", label, line_max);
    v.choice("type", type, {"figure", "count", "choice", "set", "text"});
    v.text("kind", kind, line_max);
    v.maybe_text("low", low, line_max);
    v.maybe_text("high", high, line_max);
    v.list("options", options, list_max);
    v.text("how", how, text_max);
    v.maybe_text("prior", prior, line_max);
    v.maybe_text("prior_source", prior_source, text_max);
  }
};

struct Slot {
  std::string key, label;
  bool optional = false, is_part = false;
  std::string shelf;
  std::vector<Field> fields;

  static constexpr std::string_view name = "Slot";
  template <class V>
  void describe(V& v) {
    v.text("key", key, path_max);
    v.text("label", label, line_max);
    v.flag("optional", optional);
    v.flag("is_part", is_part);
    v.text("shelf", shelf, path_max);
    v.list("fields", fields, list_max);
  }
};

struct UnitKind {
  std::string kind;
  std::vector<std::string> spellings;
  std::string shown;

  static constexpr std::string_view name = "UnitKind";
  template <class V>
  void describe(V& v) {
    v.text("kind", kind, line_max);
    v.texts("spellings", spellings, list_max);
    v.text("shown", shown, line_max);
  }
};

struct Stage {
  std::string key, title, question;
  std::vector<std::string> slots;

  static constexpr std::string_view name = "Stage";
  template <class V>
  void describe(V& v) {
    v.choice("key", key,
             {"donor", "wishes", "choose", "parts", "fit", "road", "list", "wiring", "steps"});
    v.text("title", title, line_max);
    v.text("question", question, line_max);
    v.texts("slots", slots, list_max);
  }
};

struct Schema {
  std::vector<Slot> slots;
  std::vector<UnitKind> units;
  std::vector<Word> evidence;
  std::vector<Stage> stages;
  std::vector<std::string> systems;

  static constexpr std::string_view name = "Schema";
  template <class V>
  void describe(V& v) {
    v.list("slots", slots, list_max);
    v.list("units", units, list_max);
    v.list("evidence", evidence, list_max);
    v.list("stages", stages, list_max);
    v.texts("systems", systems, list_max);
  }
};

// ---- changes

struct EditChange {
  std::string path, text;
  std::optional<std::string> evidence, note;

  static constexpr std::string_view name = "EditChange";
  template <class V>
  void describe(V& v) {
    v.text("path", path, path_max);
    v.text("text", text, text_max);
    v.maybe_text("evidence", evidence, 20);
    v.maybe_text("note", note, line_max);
  }
};

struct Edit {
  Integer base = 0;
  std::vector<EditChange> changes;
  std::string what;

  static constexpr std::string_view name = "Edit";
  template <class V>
  void describe(V& v) {
    v.integer("base", base, 1, id_max);
    v.list("changes", changes, list_max);
    v.text("what", what, line_max);
  }
};

struct Change {
  std::string path, label, from, to;

  static constexpr std::string_view name = "Change";
  template <class V>
  void describe(V& v) {
    v.text("path", path, line_max);
    v.text("label", label, line_max);
    v.text("from", from, text_max);
    v.text("to", to, text_max);
  }
};

// ---- a build

struct Value {
  std::string text, shown;
  std::optional<double> si;
  std::string evidence, note, date, from;
  std::optional<std::string> source;

  static constexpr std::string_view name = "Value";
  template <class V>
  void describe(V& v) {
    v.text("text", text, text_max);
    v.text("shown", shown, text_max);
    v.maybe_number("si", si);
    v.text("evidence", evidence, line_max);
    v.text("note", note, text_max);
    v.text("date", date, line_max);
    v.choice("from", from, {"sheet", "part", "assumed", "sketched"});
    v.maybe_text("source", source, text_max);
  }
};

struct BigFigure {
  std::string key, label, count_on, likely, good_day, wish, met, by, also;

  static constexpr std::string_view name = "BigFigure";
  template <class V>
  void describe(V& v) {
    v.text("key", key, line_max);
    v.text("label", label, line_max);
    v.text("count_on", count_on, line_max);
    v.text("likely", likely, line_max);
    v.text("good_day", good_day, line_max);
    v.text("wish", wish, line_max);
    v.choice("met", met, met_words);
    v.text("by", by, line_max);
    v.text("also", also, text_max);
  }
};

struct Assumption {
  std::string path, label, text, from, low, high, how;

  static constexpr std::string_view name = "Assumption";
  template <class V>
  void describe(V& v) {
    v.text("path", path, path_max);
    v.text("label", label, line_max);
    v.text("text", text, line_max);
    v.text("from", from, line_max);
    v.text("low", low, line_max);
    v.text("high", high, line_max);
    v.text("how", how, text_max);
  }
};

struct Job {
  std::string title, how, path;
  Integer minutes = 0;
  std::string because;

  static constexpr std::string_view name = "Job";
  template <class V>
  void describe(V& v) {
    v.text("title", title, text_max);
    v.text("how", how, text_max);
    v.text("path", path, path_max);
    v.integer("minutes", minutes, 0, 100000);
    v.text("because", because, text_max);
  }
};

struct MovedBy {
  std::string path, label;
  double share = 0;
  std::string low, high, from;

  static constexpr std::string_view name = "MovedBy";
  template <class V>
  void describe(V& v) {
    v.text("path", path, path_max);
    v.text("label", label, line_max);
    v.number("share", share);
    v.text("low", low, line_max);
    v.text("high", high, line_max);
    v.text("from", from, line_max);
  }
};

struct Answer {
  std::string key, label, count_on, likely, good_day;
  double p10 = std::numeric_limits<double>::quiet_NaN(), p50 = p10, p90 = p10;
  std::string unit;
  bool more_is_better = true, main = false;
  std::string wish, met, by;
  std::vector<MovedBy> moved_by;

  static constexpr std::string_view name = "Answer";
  template <class V>
  void describe(V& v) {
    v.text("key", key, line_max);
    v.text("label", label, line_max);
    v.text("count_on", count_on, line_max);
    v.text("likely", likely, line_max);
    v.text("good_day", good_day, line_max);
    v.number_or_null("p10", p10);
    v.number_or_null("p50", p50);
    v.number_or_null("p90", p90);
    v.text("unit", unit, line_max);
    v.flag("more_is_better", more_is_better);
    v.flag("main", main);
    v.text("wish", wish, line_max);
    v.choice("met", met, met_words);
    v.text("by", by, line_max);
    v.list("moved_by", moved_by, list_max);
  }
};

struct Asked {
  std::string path, label, how;

  static constexpr std::string_view name = "Asked";
  template <class V>
  void describe(V& v) {
    v.text("path", path, path_max);
    v.text("label", label, line_max);
    v.text("how", how, text_max);
  }
};

struct WayOut {
  std::string text;
  std::vector<EditChange> changes;
  std::string becomes;
  std::vector<std::string> also;

  static constexpr std::string_view name = "WayOut";
  template <class V>
  void describe(V& v) {
    v.text("text", text, text_max);
    v.list("changes", changes, list_max);
    v.text("becomes", becomes, line_max);
    v.texts("also", also, list_max);
  }
};

struct Ignoring {
  std::string text, cost;
  double weeks = 0;

  static constexpr std::string_view name = "Ignoring";
  template <class V>
  void describe(V& v) {
    v.text("text", text, text_max);
    v.text("cost", cost, line_max);
    v.number("weeks", weeks);
  }
};

struct Known {
  std::string why, when;
  bool still = false;

  static constexpr std::string_view name = "Known";
  template <class V>
  void describe(V& v) {
    v.text("why", why, text_max);
    v.text("when", when, line_max);
    v.flag("still", still);
  }
};

struct Finding {
  std::string rule, title, says;
  std::vector<std::string> between;
  std::string because, have, limit, half_width, blocks;
  std::vector<Asked> missing, weak;
  Ignoring ignoring;
  std::vector<WayOut> ways_out;
  std::string source;
  std::optional<Known> known;

  static constexpr std::string_view name = "Finding";
  template <class V>
  void describe(V& v) {
    v.text("rule", rule, line_max);
    v.text("title", title, text_max);
    v.choice("says", says, says_words);
    v.texts("between", between, list_max);
    v.text("because", because, text_max);
    v.text("have", have, line_max);
    v.text("limit", limit, line_max);
    v.text("half_width", half_width, line_max);
    v.text("blocks", blocks, line_max);
    v.list("missing", missing, list_max);
    v.list("weak", weak, list_max);
    v.object("ignoring", ignoring);
    v.list("ways_out", ways_out, list_max);
    v.text("source", source, text_max);
    v.or_null("known", known);
  }
};

/// A figure of the drive line as a reader of words sees it.
struct DriveFigure {
  std::string key, label, text;

  static constexpr std::string_view name = "DriveFigure";
  template <class V>
  void describe(V& v) {
    v.text("key", key, line_max);
    v.text("label", label, line_max);
    v.text("text", text, line_max);
  }
};

struct Counts {
  Integer clash = 0, unmeasured = 0, tight = 0, fits = 0;

  static constexpr std::string_view name = "Counts";
  template <class V>
  void describe(V& v) {
    v.integer("clash", clash, 0, id_max);
    v.integer("unmeasured", unmeasured, 0, id_max);
    v.integer("tight", tight, 0, id_max);
    v.integer("fits", fits, 0, id_max);
  }
};

struct StageState {
  std::string key;
  std::vector<std::string> open;

  static constexpr std::string_view name = "StageState";
  template <class V>
  void describe(V& v) {
    v.text("key", key, line_max);
    v.texts("open", open, list_max);
  }
};

struct State {
  Integer build = 0;
  std::string title;  ///< `name` on the wire
  Integer revision = 0;
  bool can_undo = false, can_redo = false;
  std::string undo_what, redo_what, saved_at, units, ready;
  std::map<std::string, Value> values;
  std::vector<std::string> slots_present;
  std::vector<BigFigure> four;
  std::string blunt;
  std::vector<std::string> sketched;
  std::vector<Assumption> assumptions;
  std::optional<Job> next;
  std::vector<Answer> answers;
  bool possible = false;
  std::vector<std::string> parts_missing, missing, notices;
  std::vector<Finding> findings;
  Counts counts;
  std::vector<StageState> stages;
  std::vector<DriveFigure> gearing;
  std::string caution;

  static constexpr std::string_view name = "State";
  template <class V>
  void describe(V& v) {
    v.integer("build", build, 1, id_max);
    v.text("name", title, line_max);
    v.integer("revision", revision, 1, id_max);
    v.flag("can_undo", can_undo);
    v.flag("can_redo", can_redo);
    v.text("undo_what", undo_what, line_max);
    v.text("redo_what", redo_what, line_max);
    v.text("saved_at", saved_at, line_max);
    v.choice("units", units, {"metric", "imperial"});
    v.choice("ready", ready, {"first", "full"});
    v.map("values", values, "path");
    v.texts("slots_present", slots_present, list_max);
    v.list("four", four, list_max);
    v.text("blunt", blunt, text_max);
    v.texts("sketched", sketched, list_max);
    v.list("assumptions", assumptions, list_max);
    v.or_null("next", next);
    v.list("answers", answers, list_max);
    v.flag("possible", possible);
    v.texts("parts_missing", parts_missing, list_max);
    v.texts("missing", missing, list_max);
    v.texts("notices", notices, list_max);
    v.list("findings", findings, 5000);
    v.object("counts", counts);
    v.list("stages", stages, list_max);
    v.list("gearing", gearing, list_max);
    v.text("caution", caution, text_max);
  }
};

struct Stale {
  std::vector<Change> changed;
  std::vector<EditChange> yours;
  bool same_fields = false;
  State now;

  static constexpr std::string_view name = "Stale";
  template <class V>
  void describe(V& v) {
    v.truth("stale");
    v.list("changed", changed, list_max);
    v.list("yours", yours, list_max);
    v.flag("same_fields", same_fields);
    v.object("now", now);
  }
};

// ---- the garage

struct GarageBuild {
  Integer id = 0;
  std::string title, changed;
  bool archived = false;
  std::optional<Integer> from;

  static constexpr std::string_view name = "GarageBuild";
  template <class V>
  void describe(V& v) {
    v.integer("id", id, 1, id_max);
    v.text("name", title, line_max);
    v.text("changed", changed, line_max);
    v.flag("archived", archived);
    v.integer_or_null("from", from, 1, id_max);
  }
};

struct Demo {
  std::string demo, title;

  static constexpr std::string_view name = "Demo";
  template <class V>
  void describe(V& v) {
    v.text("name", demo, line_max);
    v.text("title", title, line_max);
  }
};

struct Garage {
  std::vector<GarageBuild> builds;
  std::vector<std::string> notices;
  std::vector<Demo> demos;
  std::vector<Word> classes;
  std::string units, lan, version;

  static constexpr std::string_view name = "Garage";
  template <class V>
  void describe(V& v) {
    v.list("builds", builds, 100000);
    v.texts("notices", notices, list_max);
    v.list("demos", demos, list_max);
    v.list("classes", classes, list_max);
    v.text("units", units, line_max);
    v.text("lan", lan, line_max);
    v.text("version", version, line_max);
  }
};

struct NewBuild {
  std::string title, where;
  std::optional<std::string> demo;
  std::optional<std::vector<EditChange>> entries;

  static constexpr std::string_view name = "NewBuild";
  template <class V>
  void describe(V& v) {
    v.text("name", title, 200);
    v.choice("where", where, {"dreaming", "parts_in_mind", "bike_in_bits", "riding"});
    v.maybe_text("demo", demo, 40);
    v.maybe_list("entries", entries, list_max);
  }
};

struct Base {
  Integer base = 0;

  static constexpr std::string_view name = "Base";
  template <class V>
  void describe(V& v) {
    v.integer("base", base, 1, id_max);
  }
};

struct Name {
  std::string title;

  static constexpr std::string_view name = "Name";
  template <class V>
  void describe(V& v) {
    v.text("name", title, 200);
  }
};

struct Archived {
  bool archived = false;

  static constexpr std::string_view name = "Archived";
  template <class V>
  void describe(V& v) {
    v.flag("archived", archived);
  }
};

struct Import {
  std::string title, text;

  static constexpr std::string_view name = "Import";
  template <class V>
  void describe(V& v) {
    v.text("name", title, 200);
    v.text("text", text, sheet_max);
  }
};

struct KnownSaid {
  std::string rule, why;

  static constexpr std::string_view name = "KnownSaid";
  template <class V>
  void describe(V& v) {
    v.text("rule", rule, 100);
    v.text("why", why, line_max);
  }
};

struct Units {
  std::string units;

  static constexpr std::string_view name = "Units";
  template <class V>
  void describe(V& v) {
    v.choice("units", units, {"metric", "imperial"});
  }
};

struct FindingChange {
  std::string rule, title, from, to;

  static constexpr std::string_view name = "FindingChange";
  template <class V>
  void describe(V& v) {
    v.text("rule", rule, line_max);
    v.text("title", title, text_max);
    v.text("from", from, line_max);
    v.text("to", to, line_max);
  }
};

struct Preview {
  std::vector<BigFigure> four;
  std::vector<Answer> answers;
  std::vector<FindingChange> findings_changed;
  std::vector<DriveFigure> gearing;
  Counts counts;

  static constexpr std::string_view name = "Preview";
  template <class V>
  void describe(V& v) {
    v.list("four", four, list_max);
    v.list("answers", answers, list_max);
    v.list("findings_changed", findings_changed, 5000);
    v.list("gearing", gearing, list_max);
    v.object("counts", counts);
  }
};

struct Revision {
  Integer id = 0;
  std::string when, did, what;
  std::vector<Change> changes;

  static constexpr std::string_view name = "Revision";
  template <class V>
  void describe(V& v) {
    v.integer("id", id, 1, id_max);
    v.text("when", when, line_max);
    v.text("did", did, line_max);
    v.text("what", what, line_max);
    v.list("changes", changes, 5000);
  }
};

struct Differ {
  std::string path, label, a, b;

  static constexpr std::string_view name = "Differ";
  template <class V>
  void describe(V& v) {
    v.text("path", path, path_max);
    v.text("label", label, line_max);
    v.text("a", a, text_max);
    v.text("b", b, text_max);
  }
};

struct Compare {
  State a, b;
  std::vector<Differ> differ;

  static constexpr std::string_view name = "Compare";
  template <class V>
  void describe(V& v) {
    v.object("a", a);
    v.object("b", b);
    v.list("differ", differ, 5000);
  }
};

struct PlotName {
  std::string key, title;

  static constexpr std::string_view name = "PlotName";
  template <class V>
  void describe(V& v) {
    v.text("key", key, line_max);
    v.text("title", title, line_max);
  }
};

struct PrintName {
  std::string key, title;
  Integer pages;

  static constexpr std::string_view name = "PrintName";
  template <class V>
  void describe(V& v) {
    v.text("key", key, line_max);
    v.text("title", title, line_max);
    v.integer("pages", pages, 1, 1000);
  }
};

struct PlotTable {
  std::vector<std::string> columns;
  std::vector<std::vector<std::string>> rows;

  static constexpr std::string_view name = "PlotTable";
  template <class V>
  void describe(V& v) {
    v.texts("columns", columns, list_max);
    v.text_rows("rows", rows, 5000);
  }
};

struct Plot {
  std::string key, title, says, missing, svg;
  PlotTable table;

  static constexpr std::string_view name = "Plot";
  template <class V>
  void describe(V& v) {
    v.text("key", key, line_max);
    v.text("title", title, line_max);
    v.text("says", says, text_max);
    v.text("missing", missing, text_max);
    v.text("svg", svg, sheet_max);
    v.object("table", table);
  }
};

struct Line {
  std::string group, what, chosen, quantity, price, half_width, price_from, evidence, lead, state;
  bool missing = false;
  std::vector<Asked> waits_for;
  std::vector<std::string> clashes;
  std::string because;

  static constexpr std::string_view name = "Line";
  template <class V>
  void describe(V& v) {
    v.text("group", group, line_max);
    v.text("what", what, line_max);
    v.text("chosen", chosen, text_max);
    v.text("quantity", quantity, line_max);
    v.text("price", price, line_max);
    v.text("half_width", half_width, line_max);
    v.text("price_from", price_from, line_max);
    v.text("evidence", evidence, line_max);
    v.text("lead", lead, line_max);
    v.text("state", state, line_max);
    v.flag("missing", missing);
    v.list("waits_for", waits_for, list_max);
    v.texts("clashes", clashes, list_max);
    v.text("because", because, text_max);
  }
};

struct PartsList {
  std::vector<Line> lines, small_parts, tools;
  std::string total, low, high, contingency, priced, currency;

  static constexpr std::string_view name = "PartsList";
  template <class V>
  void describe(V& v) {
    v.list("lines", lines, list_max);
    v.list("small_parts", small_parts, list_max);
    v.list("tools", tools, list_max);
    v.text("total", total, line_max);
    v.text("low", low, line_max);
    v.text("high", high, line_max);
    v.text("contingency", contingency, line_max);
    v.text("priced", priced, line_max);
    v.text("currency", currency, line_max);
  }
};

struct Measure {
  std::string path, label, how;
  bool assumed = false;
  std::vector<std::string> decides, unlocks;
  std::string blocks, moves;
  bool is_question = false;

  static constexpr std::string_view name = "Measure";
  template <class V>
  void describe(V& v) {
    v.text("path", path, path_max);
    v.text("label", label, line_max);
    v.text("how", how, text_max);
    v.flag("assumed", assumed);
    v.texts("decides", decides, list_max);
    v.texts("unlocks", unlocks, list_max);
    v.text("blocks", blocks, line_max);
    v.text("moves", moves, line_max);
    v.flag("is_question", is_question);
  }
};

struct Explained {
  std::string text;

  static constexpr std::string_view name = "Explained";
  template <class V>
  void describe(V& v) {
    v.text("text", text, sheet_max);
  }
};

// ---- parts

struct ShelfPart {
  std::string id, part_name;
  bool own = false;
  Integer own_id = 0;
  std::vector<std::string> facts;
  std::string says, why, price;

  static constexpr std::string_view name = "ShelfPart";
  template <class V>
  void describe(V& v) {
    v.text("id", id, line_max);
    v.text("name", part_name, line_max);
    v.flag("own", own);
    v.integer("own_id", own_id, 0, id_max);
    v.texts("facts", facts, list_max);
    v.choice("says", says, {"clash", "unmeasured", "tight", "fits", "none"});
    v.text("why", why, text_max);
    v.text("price", price, line_max);
  }
};

struct Correction {
  std::string key, text;
  std::optional<std::string> evidence;

  static constexpr std::string_view name = "Correction";
  template <class V>
  void describe(V& v) {
    v.text("key", key, path_max);
    v.text("text", text, text_max);
    v.maybe_text("evidence", evidence, 20);
  }
};

struct PasteAsk {
  std::string text;
  std::optional<std::string> kind;
  std::optional<std::vector<Correction>> corrections;

  static constexpr std::string_view name = "PasteAsk";
  template <class V>
  void describe(V& v) {
    v.text("text", text, 64 * 1024);
    v.maybe_text("kind", kind, 40);
    v.maybe_list("corrections", corrections, list_max);
  }
};

struct PasteFigure {
  std::string path, key, label, text, words;
  Integer begin = 0, end = 0;
  std::string sure, evidence, why;

  static constexpr std::string_view name = "PasteFigure";
  template <class V>
  void describe(V& v) {
    v.text("path", path, path_max);
    v.text("key", key, path_max);
    v.text("label", label, line_max);
    v.text("text", text, text_max);
    v.text("words", words, text_max);
    v.integer("begin", begin, 0, id_max);
    v.integer("end", end, 0, id_max);
    v.choice("sure", sure, {"sure", "likely", "ask"});
    v.text("evidence", evidence, line_max);
    v.text("why", why, text_max);
  }
};

struct PasteOption {
  std::string key, label, text, meaning;

  static constexpr std::string_view name = "PasteOption";
  template <class V>
  void describe(V& v) {
    v.text("key", key, path_max);
    v.text("label", label, line_max);
    v.text("text", text, text_max);
    v.text("meaning", meaning, text_max);
  }
};

struct PasteQuestion {
  std::string text;
  Integer begin = 0, end = 0;
  std::vector<PasteOption> options;

  static constexpr std::string_view name = "PasteQuestion";
  template <class V>
  void describe(V& v) {
    v.text("text", text, text_max);
    v.integer("begin", begin, 0, id_max);
    v.integer("end", end, 0, id_max);
    v.list("options", options, list_max);
  }
};

struct Paste {
  std::string kind, kind_sure, kind_words, title, link, price, freight, date;
  std::vector<std::string> kinds_possible;
  std::vector<PasteFigure> figures;
  std::vector<std::string> flags;
  std::vector<PasteQuestion> questions;
  std::string message, part_text;

  static constexpr std::string_view name = "Paste";
  template <class V>
  void describe(V& v) {
    v.text("kind", kind, line_max);
    v.text("kind_sure", kind_sure, line_max);
    v.text("kind_words", kind_words, text_max);
    v.text("title", title, line_max);
    v.text("link", link, text_max);
    v.text("price", price, line_max);
    v.text("freight", freight, line_max);
    v.text("date", date, line_max);
    v.texts("kinds_possible", kinds_possible, list_max);
    v.list("figures", figures, list_max);
    v.texts("flags", flags, list_max);
    v.list("questions", questions, list_max);
    v.text("message", message, text_max);
    v.text("part_text", part_text, sheet_max);
  }
};

struct OwnPart {
  std::optional<Integer> id, base;
  std::string shelf, text, from;
  std::optional<std::string> slug;

  static constexpr std::string_view name = "OwnPart";
  template <class V>
  void describe(V& v) {
    v.maybe_integer("id", id, 1, id_max);
    v.maybe_integer("base", base, 1, id_max);
    v.text("shelf", shelf, 40);
    v.text("text", text, text_max);
    v.text("from", from, 64 * 1024);
    v.maybe_text("slug", slug, line_max);
  }
};

// ---- what is written down beside a build

struct Entry {
  Integer id = 0;
  std::string when, text;
  double hours = std::numeric_limits<double>::quiet_NaN();
  std::string money;

  static constexpr std::string_view name = "Entry";
  template <class V>
  void describe(V& v) {
    v.integer("id", id, 1, id_max);
    v.text("when", when, line_max);
    v.text("text", text, text_max);
    v.number_or_null("hours", hours);
    v.text("money", money, line_max);
  }
};

struct NewEntry {
  std::string text;
  double hours = std::numeric_limits<double>::quiet_NaN();
  std::string money;
  std::optional<std::string> day;

  static constexpr std::string_view name = "NewEntry";
  template <class V>
  void describe(V& v) {
    v.text("text", text, text_max);
    v.number_or_null("hours", hours);
    v.text("money", money, 40);
    v.maybe_text("day", day, 10);
  }
};

struct Photo {
  Integer id = 0;
  std::string field, caption, when, media;

  static constexpr std::string_view name = "Photo";
  template <class V>
  void describe(V& v) {
    v.integer("id", id, 1, id_max);
    v.text("field", field, line_max);
    v.text("caption", caption, text_max);
    v.text("when", when, line_max);
    v.text("media", media, line_max);
  }
};

// ---- what to buy: a search over the open parts

/// One place in the bike that a search may fill.
struct OpenPlace {
  std::string key, label, now, state;
  bool open = false;  ///< the sheet leaves it open
  Integer options = 0, own = 0;

  static constexpr std::string_view name = "OpenPlace";
  template <class V>
  void describe(V& v) {
    v.text("key", key, path_max);
    v.text("label", label, line_max);
    v.text("now", now, text_max);
    v.choice("state", state, {"none", "thought_of", "ordered", "here"});
    v.flag("open", open);
    v.integer("options", options, 0, id_max);
    v.integer("own", own, 0, id_max);
  }
};

/// What a bike is judged by. All numbers of a search are in its `unit`.
struct Yardstick {
  std::string key, label, brief, unit;
  double step = 1;
  bool more_is_better = true, traded = false;
  std::string wish;
  double weight = 0;

  static constexpr std::string_view name = "Yardstick";
  template <class V>
  void describe(V& v) {
    v.text("key", key, path_max);
    v.text("label", label, line_max);
    v.text("brief", brief, line_max);
    v.text("unit", unit, line_max);
    v.number("step", step);
    v.flag("more_is_better", more_is_better);
    v.flag("traded", traded);
    v.text("wish", wish, line_max);
    v.number("weight", weight);
  }
};

struct SearchOffer {
  std::vector<OpenPlace> places;
  std::vector<Yardstick> yardsticks;
  std::string caution;

  static constexpr std::string_view name = "SearchOffer";
  template <class V>
  void describe(V& v) {
    v.list("places", places, list_max);
    v.list("yardsticks", yardsticks, list_max);
    v.text("caution", caution, text_max);
  }
};

struct SearchMust {
  std::string quantity, text;

  static constexpr std::string_view name = "SearchMust";
  template <class V>
  void describe(V& v) {
    v.choice("quantity", quantity, must_words);
    v.text("text", text, 60);
  }
};

struct SearchWant {
  std::string quantity;
  double weight = 0;

  static constexpr std::string_view name = "SearchWant";
  template <class V>
  void describe(V& v) {
    v.choice("quantity", quantity, want_words);
    v.number("weight", weight);
  }
};

struct SearchAsk {
  Integer base = 0;
  std::vector<std::string> open, without;
  std::vector<SearchMust> musts;
  std::vector<SearchWant> wants;
  bool own_first = true;
  Integer seconds = 60;

  static constexpr std::string_view name = "SearchAsk";
  template <class V>
  void describe(V& v) {
    v.integer("base", base, 1, id_max);
    v.texts("open", open, 20);
    v.texts("without", without, list_max);
    v.list("musts", musts, 20);
    v.list("wants", wants, 20);
    v.flag("own_first", own_first);
    v.integer("seconds", seconds, 1, 3600);
  }
};

/// Moved wishes, for what was ridden already.
struct SearchMoved {
  Integer search = 0;
  std::vector<SearchMust> musts;
  std::vector<SearchWant> wants;

  static constexpr std::string_view name = "SearchMoved";
  template <class V>
  void describe(V& v) {
    v.integer("search", search, 1, id_max);
    v.list("musts", musts, 20);
    v.list("wants", wants, 20);
  }
};

struct SearchTake {
  Integer search = 0, pick = 0;
  std::string title;

  static constexpr std::string_view name = "SearchTake";
  template <class V>
  void describe(V& v) {
    v.integer("search", search, 1, id_max);
    v.integer("pick", pick, 0, id_max);
    v.text("name", title, 200);
  }
};

struct SearchWhy {
  Integer search = 0;
  std::string shelf, part;

  static constexpr std::string_view name = "SearchWhy";
  template <class V>
  void describe(V& v) {
    v.integer("search", search, 1, id_max);
    v.choice("shelf", shelf, {"motor", "controller", "cell", "chain"});
    v.text("part", part, path_max);
  }
};

struct SearchCounts {
  double combinations = 0, considered = 0, fit = 0, ridden = 0, through = 0, within = 0, worth = 0;

  static constexpr std::string_view name = "SearchCounts";
  template <class V>
  void describe(V& v) {
    v.number("combinations", combinations);
    v.number("considered", considered);
    v.number("fit", fit);
    v.number("ridden", ridden);
    v.number("through", through);
    v.number("within", within);
    v.number("worth", worth);
  }
};

struct SearchSpan {
  std::string quantity;
  double low = 0, high = 0;

  static constexpr std::string_view name = "SearchSpan";
  template <class V>
  void describe(V& v) {
    v.text("quantity", quantity, path_max);
    v.number("low", low);
    v.number("high", high);
  }
};

/// A bike as a point: a number for each yardstick, in their order; null where it is never reached.
struct SearchPoint {
  Integer pick = -1;  ///< -1 while the search runs
  std::vector<double> at;

  static constexpr std::string_view name = "SearchPoint";
  template <class V>
  void describe(V& v) {
    v.integer("pick", pick, -1, id_max);
    v.numbers("at", at, 20);
  }
};

struct PickNumber {
  std::string quantity, label, text;
  double value = std::numeric_limits<double>::quiet_NaN();
  std::string met;

  static constexpr std::string_view name = "PickNumber";
  template <class V>
  void describe(V& v) {
    v.text("quantity", quantity, path_max);
    v.text("label", label, line_max);
    v.text("text", text, line_max);
    v.number_or_null("value", value);
    v.choice("met", met, met_words);
  }
};

/// `from`: the builder's own part; a sketch of the library, to shop for by its figures; as the
/// sheet has it.
struct PickPart {
  std::string place, label, from, text, figures, check;
  std::string id;

  static constexpr std::string_view name = "PickPart";
  template <class V>
  void describe(V& v) {
    v.text("place", place, path_max);
    v.text("label", label, line_max);
    v.choice("from", from, {"own", "sketch", "sheet"});
    v.text("text", text, text_max);
    v.text("figures", figures, text_max);
    v.text("check", check, text_max);
    v.text("id", id, line_max);
  }
};

struct Pick {
  Integer pick = -1;  ///< -1 while the search runs
  std::string title;
  std::vector<PickPart> parts;
  std::vector<PickNumber> numbers;
  std::vector<std::string> why, gives_up, settle, cautions;
  std::string holds;  ///< how far it rests on what is not known; empty where that was not asked

  static constexpr std::string_view name = "Pick";
  template <class V>
  void describe(V& v) {
    v.integer("pick", pick, -1, id_max);
    v.text("title", title, line_max);
    v.list("parts", parts, list_max);
    v.list("numbers", numbers, list_max);
    v.texts("why", why, list_max);
    v.texts("gives_up", gives_up, list_max);
    v.texts("settle", settle, list_max);
    v.texts("cautions", cautions, list_max);
    v.text("holds", holds, text_max);
  }
};

struct GiveStep {
  std::string quantity, label, wished, instead, by;

  static constexpr std::string_view name = "GiveStep";
  template <class V>
  void describe(V& v) {
    v.text("quantity", quantity, path_max);
    v.text("label", label, line_max);
    v.text("wished", wished, line_max);
    v.text("instead", instead, line_max);
    v.text("by", by, line_max);
  }
};

/// Wishes that give way together, and the bike that then is possible.
struct GiveWay {
  std::vector<GiveStep> steps;
  std::vector<PickNumber> numbers;
  Integer pick = 0;

  static constexpr std::string_view name = "GiveWay";
  template <class V>
  void describe(V& v) {
    v.list("steps", steps, list_max);
    v.list("numbers", numbers, list_max);
    v.integer("pick", pick, -1, id_max);
  }
};

struct OpenOption {
  std::string option, differs;

  static constexpr std::string_view name = "OpenOption";
  template <class V>
  void describe(V& v) {
    v.text("option", option, text_max);
    v.text("differs", differs, text_max);
  }
};

struct OpenDecision {
  std::string place, label, says, text;
  Integer fit = 0;
  std::vector<OpenOption> options;

  static constexpr std::string_view name = "OpenDecision";
  template <class V>
  void describe(V& v) {
    v.text("place", place, path_max);
    v.text("label", label, line_max);
    v.choice("says", says, {"guess", "think"});
    v.text("text", text, text_max);
    v.integer("fit", fit, 0, id_max);
    v.list("options", options, list_max);
  }
};

/// A figure worth measuring before anything is bought.
struct WorthKnowing {
  std::string path, what, worth, between, how;

  static constexpr std::string_view name = "WorthKnowing";
  template <class V>
  void describe(V& v) {
    v.text("path", path, path_max);
    v.text("what", what, line_max);
    v.text("worth", worth, line_max);
    v.text("between", between, text_max);
    v.text("how", how, text_max);
  }
};

struct Fell {
  double count = 0;
  std::string what, of;

  static constexpr std::string_view name = "Fell";
  template <class V>
  void describe(V& v) {
    v.number("count", count);
    v.text("what", what, text_max);
    v.choice("of", of, {"rule", "wish", "last"});
  }
};

/// What the records say under some wishes. `lack`: why better ones may be missing; empty: none is.
struct SearchFound {
  std::vector<SearchMust> musts;  ///< as they were understood
  std::vector<double> bounds;     ///< of each must, in its yardstick's unit
  std::string lack;
  double within = 0, worth = 0;
  std::vector<Pick> list;
  std::vector<GiveWay> gives_way;
  std::vector<OpenDecision> decisions;
  std::vector<WorthKnowing> measuring;
  std::string measuring_all;  ///< what knowing everything would be worth; empty: not asked

  static constexpr std::string_view name = "SearchFound";
  template <class V>
  void describe(V& v) {
    v.list("musts", musts, 20);
    v.numbers("bounds", bounds, 20);
    v.text("lack", lack, text_max);
    v.number("within", within);
    v.number("worth", worth);
    v.list("list", list, list_max);
    v.list("gives_way", gives_way, list_max);
    v.list("decisions", decisions, list_max);
    v.list("measuring", measuring, list_max);
    v.text("measuring_all", measuring_all, text_max);
  }
};

struct SearchState {
  Integer build = 0, search = 0, revision = 0;
  bool stale = false;
  std::string phase, pass, ended;
  double share = 0, seconds = 0;
  Integer limit = 0, answers = 0;
  std::vector<std::string> open, without;
  std::vector<SearchWant> wants;
  bool own_first = true;
  SearchCounts counts;
  std::vector<SearchSpan> spans;
  std::vector<SearchPoint> points;
  SearchFound found;
  std::vector<Fell> fell;
  std::string caution;

  static constexpr std::string_view name = "SearchState";
  template <class V>
  void describe(V& v) {
    v.integer("build", build, 1, id_max);
    v.integer("search", search, 0, id_max);
    v.integer("revision", revision, 0, id_max);
    v.flag("stale", stale);
    v.choice("phase", phase, phase_words);
    v.text("pass", pass, line_max);
    v.choice("ended", ended, {"", "stopped", "time", "full", "failed"});
    v.number("share", share);
    v.number("seconds", seconds);
    v.integer("limit", limit, 0, 3600);
    v.integer("answers", answers, 0, id_max);
    v.texts("open", open, 20);
    v.texts("without", without, list_max);
    v.list("wants", wants, 20);
    v.flag("own_first", own_first);
    v.object("counts", counts);
    v.list("spans", spans, 20);
    v.list("points", points, 5000);
    v.object("found", found);
    v.list("fell", fell, list_max);
    v.text("caution", caution, text_max);
  }
};

struct SearchEvent {
  Integer build = 0, search = 0, answers = 0;
  std::string phase;
  double share = 0, seconds = 0;
  SearchCounts counts;

  static constexpr std::string_view name = "SearchEvent";
  template <class V>
  void describe(V& v) {
    v.integer("build", build, 1, id_max);
    v.integer("search", search, 1, id_max);
    v.integer("answers", answers, 0, id_max);
    v.choice("phase", phase, phase_words);
    v.number("share", share);
    v.number("seconds", seconds);
    v.object("counts", counts);
  }
};

struct WhyNot {
  std::string says;
  std::vector<Fell> fell;
  std::vector<GiveWay> gives_way;
  std::vector<PickNumber> numbers;
  bool ended_early = false;

  static constexpr std::string_view name = "WhyNot";
  template <class V>
  void describe(V& v) {
    v.text("says", says, text_max);
    v.list("fell", fell, list_max);
    v.list("gives_way", gives_way, list_max);
    v.list("numbers", numbers, list_max);
    v.flag("ended_early", ended_early);
  }
};

struct ClaimAsk {
  std::string text;

  static constexpr std::string_view name = "ClaimAsk";
  template <class V>
  void describe(V& v) {
    v.text("text", text, line_max);
  }
};

struct ClaimTerm {
  std::string says, plausible, would_need, then_rather;
  double share = 0;

  static constexpr std::string_view name = "ClaimTerm";
  template <class V>
  void describe(V& v) {
    v.text("says", says, text_max);
    v.text("plausible", plausible, line_max);
    v.text("would_need", would_need, text_max);
    v.text("then_rather", then_rather, text_max);
    v.number("share", share);
  }
};

struct DonorRow {
  std::string words, pack, room_needed, room, laden, plate, says;
  bool own = false, carries = false;

  static constexpr std::string_view name = "DonorRow";
  template <class V>
  void describe(V& v) {
    v.text("words", words, line_max);
    v.text("pack", pack, line_max);
    v.text("room_needed", room_needed, line_max);
    v.text("room", room, line_max);
    v.text("laden", laden, line_max);
    v.text("plate", plate, line_max);
    v.text("says", says, line_max);
    v.flag("own", own);
    v.flag("carries", carries);
  }
};

// ---- events and pairing

// ---- wiring and the work step by step

/// A piece of a report. `right`: a letter a column, r where its cells are numbers.
struct Piece {
  std::string sort, mark, text, right;
  std::vector<std::vector<std::string>> rows;  ///< the heads first

  static constexpr std::string_view name = "Piece";
  template <class V>
  void describe(V& v) {
    v.choice("sort", sort, {"heading", "small heading", "table", "line", "caution"});
    v.text("mark", mark, 8);
    v.text("text", text, text_max);
    v.text("right", right, line_max);
    v.text_rows("rows", rows, 5000);
  }
};

struct Wiring {
  std::vector<Piece> circuit, settings;

  static constexpr std::string_view name = "Wiring";
  template <class V>
  void describe(V& v) {
    v.list("circuit", circuit, 5000);
    v.list("settings", settings, 5000);
  }
};

/// What to look at when a reading differs, and what it would mean.
struct StepBranch {
  std::string look, means;

  static constexpr std::string_view name = "StepBranch";
  template <class V>
  void describe(V& v) {
    v.text("look", look, text_max);
    v.text("means", means, text_max);
  }
};

struct Step {
  std::string id, title, doing, tool, caution, band, sum, bounds, live, verdict, standing, learns;
  bool tick = false, from_sheet = false, next = false;
  std::vector<std::string> readings, held_by;
  std::vector<Asked> missing;
  std::vector<StepBranch> tree;

  static constexpr std::string_view name = "Step";
  template <class V>
  void describe(V& v) {
    v.text("id", id, path_max);
    v.text("title", title, line_max);
    v.text("doing", doing, text_max);
    v.text("tool", tool, text_max);
    v.text("caution", caution, text_max);
    v.text("band", band, line_max);
    v.text("sum", sum, text_max);
    v.text("bounds", bounds, text_max);
    v.text("live", live, text_max);
    v.choice("verdict", verdict, step_words);
    v.text("standing", standing, text_max);
    v.text("learns", learns, path_max);
    v.flag("tick", tick);
    v.flag("from_sheet", from_sheet);
    v.flag("next", next);
    v.texts("readings", readings, list_max);
    v.texts("held_by", held_by, list_max);
    v.list("missing", missing, list_max);
    v.list("tree", tree, list_max);
  }
};

struct StepStage {
  std::string key, title;
  std::vector<Step> steps;

  static constexpr std::string_view name = "StepStage";
  template <class V>
  void describe(V& v) {
    v.text("key", key, path_max);
    v.text("title", title, line_max);
    v.list("steps", steps, 5000);
  }
};

/// A wire as built, and what makes it live.
struct WireAsBuilt {
  std::string label, from, to, reach;
  bool laid = false;

  static constexpr std::string_view name = "WireAsBuilt";
  template <class V>
  void describe(V& v) {
    v.text("label", label, path_max);
    v.text("from", from, line_max);
    v.text("to", to, line_max);
    v.text("reach", reach, line_max);
    v.flag("laid", laid);
  }
};

struct Steps {
  std::vector<StepStage> stages;
  std::vector<WireAsBuilt> wires;
  std::vector<Piece> cells;  ///< sorted into groups
  std::vector<Piece> live;   ///< what is laid, and what makes it live
  std::string cells_text;    ///< as they came, a line each
  std::vector<std::string> strangers;

  static constexpr std::string_view name = "Steps";
  template <class V>
  void describe(V& v) {
    v.list("stages", stages, list_max);
    v.list("wires", wires, 5000);
    v.list("cells", cells, 5000);
    v.list("live", live, 5000);
    v.text("cells_text", cells_text, sheet_max);
    v.texts("strangers", strangers, list_max);
  }
};

/// A step that was done: what was read, with its unit; or yes, or no.
struct StepDone {
  Integer base = 0;
  std::string step, reading, instrument, note;

  static constexpr std::string_view name = "StepDone";
  template <class V>
  void describe(V& v) {
    v.integer("base", base, 1, id_max);
    v.text("step", step, path_max);
    v.text("reading", reading, line_max);
    v.text("instrument", instrument, line_max);
    v.text("note", note, line_max);
  }
};

/// A wire that is in, with what was really taken; what is empty is as drawn.
struct WireLaid {
  Integer base = 0;
  std::string label, colour, length, section, torque, lug_from, lug_to, note;
  bool laid = true;

  static constexpr std::string_view name = "WireLaid";
  template <class V>
  void describe(V& v) {
    v.integer("base", base, 1, id_max);
    v.text("label", label, path_max);
    v.flag("laid", laid);
    v.text("colour", colour, line_max);
    v.text("length", length, line_max);
    v.text("section", section, line_max);
    v.text("torque", torque, line_max);
    v.text("lug_from", lug_from, line_max);
    v.text("lug_to", lug_to, line_max);
    v.text("note", note, line_max);
  }
};

/// Cells or modules as they came, a line each: name, volts, capacity, resistance, and if built in
/// already, "group 3".
struct CellsCame {
  Integer base = 0;
  std::string text;

  static constexpr std::string_view name = "CellsCame";
  template <class V>
  void describe(V& v) {
    v.integer("base", base, 1, id_max);
    v.text("text", text, sheet_max);
  }
};

/// What passed and becomes a measured figure, and what that moves.
struct Lesson {
  Integer count = 0;
  std::vector<Piece> pieces;

  static constexpr std::string_view name = "Lesson";
  template <class V>
  void describe(V& v) {
    v.integer("count", count, 0, 1000);
    v.list("pieces", pieces, list_max);
  }
};

struct StateEvent {
  Integer build = 0, revision = 0;
  std::string ready;

  static constexpr std::string_view name = "StateEvent";
  template <class V>
  void describe(V& v) {
    v.integer("build", build, 1, id_max);
    v.integer("revision", revision, 1, id_max);
    v.choice("ready", ready, {"first", "full"});
  }
};

struct Notice {
  std::string text;

  static constexpr std::string_view name = "Notice";
  template <class V>
  void describe(V& v) {
    v.text("text", text, text_max);
  }
};

struct Pairing {
  bool open = false;
  std::string code, address, svg;
  Integer seconds = 0;
  Integer devices = 0;

  static constexpr std::string_view name = "Pairing";
  template <class V>
  void describe(V& v) {
    v.flag("open", open);
    v.text("code", code, line_max);
    v.text("address", address, line_max);
    v.text("svg", svg, sheet_max);
    v.integer("seconds", seconds, 0, id_max);
    v.integer("devices", devices, 0, id_max);
  }
};

/// Every struct that crosses the wire, in the order the page's types are printed.
// Version 14 of the formatter does not come to rest on this list.
// clang-format off
#define WW_API_STRUCTS(X)                                                                         \
  X(Problem) X(Refused) X(Word) X(Field) X(Slot) X(UnitKind) X(Stage) X(Schema) X(EditChange)     \
  X(Edit) X(Change) X(Value) X(BigFigure) X(Assumption) X(Job) X(MovedBy) X(Answer) X(Asked)      \
  X(WayOut) X(Ignoring) X(Known) X(Finding) X(DriveFigure) X(Counts) X(StageState) X(State)       \
  X(Stale) X(GarageBuild) X(Demo) X(Garage) X(NewBuild) X(Base) X(Name) X(Archived) X(Import)     \
  X(KnownSaid) X(Units) X(FindingChange) X(Preview) X(Revision) X(Differ) X(Compare)              \
  X(PlotName) X(PrintName) X(PlotTable) X(Plot) X(Line) X(PartsList) X(Measure) X(Explained)      \
  X(ShelfPart)                                                                                    \
  X(Correction) X(PasteAsk) X(PasteFigure) X(PasteOption) X(PasteQuestion) X(Paste) X(OwnPart)    \
  X(Entry) X(NewEntry) X(Photo) X(OpenPlace) X(Yardstick) X(SearchOffer) X(SearchMust)            \
  X(SearchWant) X(SearchAsk) X(SearchMoved) X(SearchTake) X(SearchWhy) X(SearchCounts)            \
  X(SearchSpan) X(SearchPoint) X(PickNumber) X(PickPart) X(Pick) X(GiveStep) X(GiveWay)           \
  X(OpenOption) X(OpenDecision) X(WorthKnowing) X(Fell) X(SearchFound) X(SearchState)             \
  X(SearchEvent) X(WhyNot) X(ClaimAsk) X(ClaimTerm) X(DonorRow) X(Piece)        \
  X(Wiring) X(StepBranch) X(Step) X(StepStage) X(WireAsBuilt) X(Steps) X(StepDone)  \
  X(WireLaid) X(CellsCame) X(Lesson) X(StateEvent) X(Notice) X(Pairing)
// clang-format on

/// Reads one JSON object. Empty: all is well and `out` is complete. Else what is wrong, all of it.
/// Valid: any bytes; more than `depth_max` levels, more bytes than `sheet_max` times two, or no
/// UTF-8 is refused before anything is read.
template <class T>
std::vector<Problem> read(std::string_view json, T& out);

/// The JSON text; numbers that are not finite are null.
template <class T>
std::string write(const T& value);
/// A JSON list of them.
template <class T>
std::string write_list(const std::vector<T>& values);

/// The page's types.
std::string typescript();

}  // namespace ww::serve::api
