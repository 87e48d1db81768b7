// SPDX-License-Identifier: MIT
// What is taken to the bench on paper: the settings in the order in which they must act, and the
// steps with what must be read and room for what was.
#include <cmath>

#include "base/text.h"
#include "prints/paper.h"
#include "steps/protocol.h"
#include "wiring/settings.h"

namespace ww::prints {

namespace {

/// As it is typed: of one cell where the monitor asks for that.
std::string typed_words(double value, const wiring::Rung& rung, figure::Kind kind,
                        const Subject& subject) {
  if (std::isnan(value)) return {};
  const bool a_cell = rung.of_a_cell();
  return shown(value, kind, subject.units) + (a_cell ? " a cell" : "");
}

void add_ladder(Table& table, const wiring::Ladder& ladder, const Subject& subject) {
  table.marks.resize(table.rows.size());
  table.rows.push_back({std::string(ladder.title), "", "", "", "", "", "", ""});
  table.marks.emplace_back("strong");
  int number = 0;
  for (const wiring::Rung& rung : ladder.rungs) {
    const bool typed = !rung.typed_into.empty();
    const std::string acts =
        std::isnan(rung.value) ? "?" : shown(rung.value, ladder.kind, subject.units);
    table.rows.push_back(
        {std::to_string(++number) + "  " + rung.label,
         typed ? std::string(rung.typed_into) : "a limit, not typed",
         typed ? typed_words(rung.typed_value, rung, ladder.kind, subject) : "",
         typed ? typed_words(rung.typed_suggested, rung, ladder.kind, subject) : "", acts,
         typed ? "________" : "", std::string(word(rung.standing)), rung.why});
  }
}

Print steps_print(const Subject& subject, steps::Stage stage, const char* key) {
  Table table{.columns = {{"", 9},
                          {"step", 58},
                          {"what to do", 118},
                          {"caution", 96},
                          {"must read", 60},
                          {"read; with what; when", 43}},
              .rows = {}};
  std::string csv = csv_line({"id", "step", "do", "tool", "caution", "must_read", "sum", "band",
                              "verdict", "read", "instrument", "date", "note"});
  const auto protocol = steps::protocol(*subject.build, *subject.ride);
  for (const auto& step : protocol.steps) {
    if (step.stage != stage) continue;
    const std::string band = steps::band_text(step, subject.units);
    const steps::Reading none{};
    const steps::Reading& read = step.reading() == nullptr ? none : *step.reading();
    const bool passed = step.verdict == steps::Verdict::within;
    std::string was = read.text;
    if (!was.empty()) was += "; " + read.instrument + "; " + read.date;
    if (!was.empty() && !passed) was += "; NOT PASSED";
    table.rows.push_back({passed ? "[x]" : "[  ]", step.title + " (" + step.id + ")",
                          step.doing + (step.live.empty() ? "" : " " + step.live), step.caution,
                          band + (step.tool.empty() || step.tick ? "" : "; with " + step.tool),
                          was});
    csv += csv_line({step.id, step.title, step.doing, step.tool, step.caution, band,
                     step.expect.sum, step.expect.bounds, std::string(word(step.verdict)),
                     read.text, read.instrument, read.date, read.note});
  }
  const std::string title(title_of(stage));
  const auto leaves = tabled(
      table,
      {.subtitle = "step by step",
       .caution = std::string("Two people; one only watches and holds the disconnect. A reading "
                              "outside its band stops what depends on it. ") +
                  (dangerous(subject) ? "Over 60 V, or not known: it can kill. " : "") +
                  "Mains, road and certificates: competent persons, local code.",
       .notes = {"From top to bottom. Nothing is powered that was not measured unpowered. Write "
                 "down what was read, with which meter, on which day, and enter it: only then does "
                 "the next evening know."}});
  return {key, title, framed(subject, title, leaves), csv};
}

}  // namespace

Print settings_sheet(const Subject& subject) {
  Table table{.columns = {{"", 74},
                          {"typed into", 38},
                          {"set", 32, true},
                          {"suggested", 32, true},
                          {"acts at", 30, true},
                          {"before", 28},
                          {"", 22},
                          {"why", 128}},
              .rows = {}};
  for (const auto& ladder : wiring::ladders(*subject.build)) add_ladder(table, ladder, subject);
  table.rows.push_back({"besides", "", "", "", "", "", "", ""});
  table.marks.resize(table.rows.size() - 1);
  table.marks.emplace_back("strong");
  for (const auto& single : wiring::singles()) {
    const build::Id id = build::id_of(single.path);
    table.rows.push_back(
        {std::string(build::schema()[id].info->label), std::string(single.typed_into),
         build::known_at(*subject.build, id) ? build::show(*subject.build, id, subject.units) : "",
         "", "", "________", "", std::string(single.why)});
  }
  const auto leaves = tabled(
      table,
      {.subtitle = "in their order",
       .caution = "Change one number at a time, wheel off the ground, the old value written down "
                  "first. What is suggested is worked out from the sheet, by common practice; the "
                  "part's own manual goes first.",
       .notes = {"What fades must act before what cuts, and what cuts before what burns. 'Before': "
                 "what stood there; the file saved before the first change."}});
  return {"settings", "Settings sheet", framed(subject, "Settings sheet", leaves), csv_of(table)};
}

Print pack_steps(const Subject& subject) {
  return steps_print(subject, steps::Stage::pack, "pack-steps");
}
Print power_steps(const Subject& subject) {
  return steps_print(subject, steps::Stage::power, "power-up");
}
Print ride_steps(const Subject& subject) {
  return steps_print(subject, steps::Stage::ride, "first-rides");
}

}  // namespace ww::prints
