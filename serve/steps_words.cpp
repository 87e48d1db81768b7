// SPDX-License-Identifier: MIT
#include "serve/steps_words.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>

#include "base/text.h"
#include "build/sheet.h"

namespace ww::serve {

namespace {

std::string upper_first(std::string text) {
  if (!text.empty())
    text.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(text.front())));
  return text;
}

}  // namespace

std::vector<api::Piece> pieces_of(const Told& told) {
  constexpr std::string_view warns = "CAUTION: ";
  std::vector<api::Piece> out;
  for (const Passage& p : told.passages()) {
    api::Piece piece{.sort = "line", .mark = {}, .text = p.text, .right = {}, .rows = {}};
    switch (p.sort) {
      case Passage::Sort::gap:
        continue;
      case Passage::Sort::heading:
        piece.sort = p.indent == 0 ? "heading" : "small heading";
        break;
      case Passage::Sort::table:
        piece.sort = "table";
        for (const bool right : p.table.right()) piece.right += right ? 'r' : 'l';
        piece.rows = p.table.rows();
        break;
      case Passage::Sort::line:
        piece.mark = std::string(trim(p.first));
        if (piece.text.rfind(warns, 0) == 0) {
          piece.sort = "caution";
          piece.text = upper_first(piece.text.substr(warns.size()));
        } else if (piece.text.rfind("CAUTION ", 0) == 0) {
          piece.sort = "caution";
          piece.text = upper_first(piece.text.substr(8));
        }
        break;
    }
    out.push_back(std::move(piece));
  }
  return out;
}

namespace {

/// Closer than elsewhere: cells of one lot differ in the fourth digit.
std::string charge_text(double charge_C) {
  const double ah = charge_C / 3600;
  return fixed(ah, ah < 10 ? 3 : ah < 100 ? 2 : 1) + " Ah";
}

}  // namespace

Told sorting_told(const build::Build& build, const steps::Protocol& p) {
  const auto& s = p.sorted;
  if (s.complete == 0) return {};
  const auto name = [&](int i) { return build.units[static_cast<std::size_t>(i)].name; };
  Told out = told_heading("Cells in their groups");
  if (!s.possible) out += told_line(s.lacks + ".", 2);
  Columns table({true, false, true, true});
  table.row({"group", "cells", "charge", "ohms"});
  Told many;
  int number = 0;
  for (const auto& group : s.groups) {
    if (!s.possible) break;
    std::vector<std::string> names;
    for (const int i : group.units) names.push_back(name(i));
    const std::string charge = charge_text(group.charge_C),
                      ohms = figure::print(1 / group.conductance_S, figure::Kind::resistance);
    table.row({std::to_string(++number), join(names, " "), charge, ohms});
    many += told_line(
        "Group " + std::to_string(number) + ", " + charge + ", " + ohms + ": " + join(names, " "),
        4, "  ");
  }
  if (s.possible) {
    out += s.parallel > 4 ? many : told_table(table);  // many names want whole lines
    std::string text = "The weakest group holds " + charge_text(s.weakest_C) + ", the strongest " +
                       charge_text(s.strongest_C) + "; no other sorting gives the weakest more";
    if (s.bound_share > 0)
      text += " by over " + figure::print(std::max(s.bound_share, 1e-4), figure::Kind::share);
    out += told_line(text +
                         ". Sought: the weakest group as strong as can be, then the strongest as "
                         "weak, then resistances alike.",
                     2);
  }
  std::vector<std::string> spares;
  for (const int i : s.spares) spares.push_back(name(i));
  if (!spares.empty()) out += told_line("Spare: " + join(spares, ", ") + ".", 2);
  for (const auto& away : s.turned_away)
    out += told_line("Turned away: " + name(away.unit) + ", " + away.why + ".", 4, "  ");
  return out;
}

Told live_told(const steps::Protocol& p) {
  Told out;
  int laid = 0;
  for (const auto& w : p.wires) laid += w.laid ? 1 : 0;
  out += told_line(
      "Wires ticked: " + std::to_string(laid) + " of " + std::to_string(p.wires.size()) + ".", 2);
  for (int r = 0; r <= static_cast<int>(steps::Reach::never); ++r) {
    std::vector<std::string> labels;
    for (const auto& w : p.wires) {
      if (w.laid && static_cast<int>(w.reach) == r)
        labels.push_back(p.circuit.wires[static_cast<std::size_t>(w.wire)].label);
    }
    if (!labels.empty())
      out += told_line("Laid, and " + std::string(word(static_cast<steps::Reach>(r))) + ": " +
                           join(labels, ", ") + ".",
                       4, "  ");
  }
  std::vector<std::string> open;
  for (const auto& w : p.wires) {
    if (!w.laid) open.push_back(p.circuit.wires[static_cast<std::size_t>(w.wire)].label);
  }
  if (laid > 0 && !open.empty()) out += told_line("Still open: " + join(open, ", ") + ".", 4, "  ");
  if (laid == 0) out += told_line("None is ticked yet.", 2);
  // The pack as far as its joints are made.
  const steps::Step* last = nullptr;
  for (const steps::Step& step : p.steps) {
    if (step.id.rfind("joint-", 0) == 0 && step.id != "joints-pulse" &&
        step.verdict == steps::Verdict::within)
      last = &step;
  }
  const steps::Step* closed = p.step("pack-closed");
  if (closed != nullptr && closed->verdict == steps::Verdict::within) {
    out += told_line("The pack is closed: " + figure::print(p.full_V, figure::Kind::voltage) +
                         " when full, main fuse out.",
                     2);
  } else if (last != nullptr) {
    out += told_line("The pack, as joined so far. " + last->caution, 4, "  ");
  }
  return out + told_line(
                   "This follows from the circuit and your ticks; the meter decides, every time "
                   "before a hand goes in.",
                   4, "  ");
}

Told learn_told(const steps::Lesson& lesson, const std::vector<steps::Move>& moves,
                figure::System units) {
  Told out;
  if (lesson.learnt.empty())
    out += told_line("Nothing yet: no reading that is a figure of the sheet has passed.", 2);
  Columns figures({false, true, true, false, false});
  figures.row({"figure", "on the sheet", "measured", "from", "sum"});
  for (const auto& l : lesson.learnt) {
    const auto kind = build::schema()[build::id_of(l.path)].info->kind;
    figures.row({l.path, std::isnan(l.was) ? "not known" : figure::print(l.was, kind, units),
                 figure::print(l.figure.value, kind, units), l.from, l.sum});
  }
  if (!lesson.learnt.empty()) out += told_table(figures);
  for (const auto& left : lesson.left)
    out +=
        told_line(left.path + " is not taken from " + left.from + ": " + left.why + ".", 4, "  ! ");
  if (lesson.learnt.empty()) return out;
  out += told_small_heading("What that moves on the road, and what did most of it:");
  Columns table({false, true, true, true, true, false});
  table.row({"", "likely before", "now", "width before", "now", "mostly because of"});
  for (const auto& m : moves) {
    const auto& info = ride::info_of(m.answer);
    const auto show = [&](double v) {
      return std::isfinite(v) ? figure::print(v, info.kind, units) : std::string("not known");
    };
    // A width is a difference: a temperature's is in kelvin.
    const auto kind =
        info.kind == figure::Kind::temperature ? figure::Kind::temperature_rise : info.kind;
    const auto width = [&](const ride::Band& b) {
      return std::isfinite(b.p90 - b.p10) ? figure::print(b.p90 - b.p10, kind, units)
                                          : std::string("-");
    };
    table.row(
        {std::string(info.label), show(m.before.p50), show(m.after.p50), width(m.before),
         width(m.after),
         m.cause < 0 ? "several together" : lesson.learnt[static_cast<std::size_t>(m.cause)].path});
  }
  out += moves.empty() ? told_line("Nothing by more than half a per cent.", 2) : told_table(table);
  return out + told_line("Width: from what one in ten is below to what one in ten is above.", 2);
}

namespace {

/// What is told to be noted under a table of the sheet has its own entries on the page.
std::string without_tables(std::string text) {
  for (std::size_t at; (at = text.find(" under [[")) != std::string::npos;) {
    const std::size_t end = text.find("]]", at);
    if (end == std::string::npos) break;
    if (at > 0 && text[at - 1] == ',') --at;
    text.erase(at, end + 2 - at);
  }
  return text;
}

api::Step step_shown(const steps::Step& step, const std::vector<const steps::Step*>& next,
                     figure::System units) {
  const bool differs =
      step.alone == steps::Verdict::outside || step.alone == steps::Verdict::doubtful;
  api::Step out{.id = step.id,
                .title = step.title,
                .doing = without_tables(step.doing),
                .tool = step.tool,
                .caution = step.caution,
                .band = step.tick ? "" : steps::band_text(step, units),
                .sum = step.expect.sum,
                .bounds = step.expect.bounds,
                .live = step.live,
                .verdict = std::string(word(step.verdict)),
                .standing = steps::standing_text(step),
                .learns = step.learns,
                .tick = step.tick,
                .from_sheet = step.from_sheet,
                .next = std::find(next.begin(), next.end(), &step) != next.end(),
                .readings = {},
                .held_by = step.held_by,
                .missing = asked_of(step.expect.missing),
                .tree = {}};
  for (const auto& reading : step.readings) out.readings.push_back(steps::reading_text(reading));
  if (differs) {
    for (const auto* branch : steps::branches_after(step))
      out.tree.push_back({branch->look, branch->means});
  }
  return out;
}

Error bad_field(std::string field, Error error) {
  error.field = std::move(field);
  return error;
}

}  // namespace

api::Steps steps_of(const Looked& looked, const steps::Protocol& protocol) {
  const auto next = steps::next_steps(protocol);
  api::Steps out;
  for (const auto& step : protocol.steps) {
    const std::string key(word(step.stage));
    if (out.stages.empty() || out.stages.back().key != key)
      out.stages.push_back({key, std::string(title_of(step.stage)), {}});
    out.stages.back().steps.push_back(step_shown(step, next, looked.units));
  }
  for (const auto& state : protocol.wires) {
    const auto& wire = protocol.circuit.wires[static_cast<std::size_t>(state.wire)];
    out.wires.push_back({wire.label, protocol.circuit.end_text(wire.from),
                         protocol.circuit.end_text(wire.to), std::string(word(state.reach)),
                         state.laid});
  }
  out.cells = pieces_of(sorting_told(looked.own, protocol));
  out.live = pieces_of(live_told(protocol));
  out.cells_text = cells_text(looked.own, looked.units);
  for (const auto& stranger : protocol.strangers)
    out.strangers.push_back(stranger.id + (stranger.nearest.empty()
                                               ? std::string()
                                               : ", nearest there is: " + stranger.nearest));
  return out;
}

Result<build::Build> with_reading(const Looked& looked, const api::StepDone& done,
                                  const std::string& today) {
  build::Build tried = looked.checked.ridden;
  const build::LogEntry entry{.step = std::string(trim(done.step)),
                              .reading = std::string(trim(done.reading)),
                              .instrument = std::string(trim(done.instrument)),
                              .date = today,
                              .photo = {},
                              .note = std::string(trim(done.note))};
  tried.log.push_back(entry);
  const auto protocol = steps::protocol(tried, looked.checked.ride);
  const steps::Step* step = protocol.step(entry.step);
  if (step == nullptr) {
    Error error{.code = "no-step",
                .what = "this build has no such step",
                .field = "step",
                .found = entry.step};
    const auto near = steps::nearest_step(protocol, entry.step);
    if (!near.empty()) error.way_out = "Did you mean '" + near + "'?";
    return fail(error);
  }
  if (step->from_sheet)
    return fail({.code = "from-sheet",
                 .what = "this is worked out from the sheet: nothing is logged for it",
                 .field = "step",
                 .found = entry.step});
  // What is no reading is not kept: it says nothing of the bike.
  if (step->reading() != nullptr && !step->reading()->refused.empty())
    return fail({.code = "no-reading",
                 .what = step->reading()->refused,
                 .field = "reading",
                 .found = entry.reading,
                 .expected = step->tick ? "yes or no" : "a number with its unit"});
  build::Build out = looked.own;
  out.log.push_back(entry);
  return out;
}

Result<build::Build, Errors> with_wire(const Looked& looked, const api::WireLaid& asked,
                                       const std::string& today) {
  const auto circuit = wiring::circuit(looked.checked.ridden);
  const std::string label(trim(asked.label));
  if (circuit.wire(label) == nullptr)
    return tl::unexpected<Errors>(Errors{{.code = "no-wire",
                                          .what = "the circuit has no such wire",
                                          .field = "label",
                                          .found = label}});
  build::Build out = looked.own;
  auto at = std::find_if(out.wires.begin(), out.wires.end(),
                         [&](const build::OwnWire& wire) { return wire.label == label; });
  if (at == out.wires.end()) {
    out.wires.push_back({});
    at = std::prev(out.wires.end());
    at->label = label;
  }
  Errors errors;
  const auto figure_of = [&](const std::string& text, figure::Kind kind, const char* field,
                             build::Figure& into) {
    if (trim(text).empty()) return;
    auto read = figure::parse(text, kind);
    if (!read) {
      errors.push_back(bad_field(field, read.error()));
      return;
    }
    into = *read;
    into.evidence = figure::Evidence::measured;
  };
  const auto words_into = [](const std::string& text, std::string& into) {
    if (!trim(text).empty()) into = std::string(trim(text));
  };
  figure_of(asked.length, figure::Kind::length, "length", at->length);
  figure_of(asked.section, figure::Kind::area, "section", at->section);
  figure_of(asked.torque, figure::Kind::torque, "torque", at->torque);
  words_into(asked.colour, at->colour);
  words_into(asked.lug_from, at->lug_from);
  words_into(asked.lug_to, at->lug_to);
  words_into(asked.note, at->note);
  at->laid = asked.laid ? build::Answer::yes : build::Answer::no;
  at->date = today;
  if (!errors.empty()) return tl::unexpected<Errors>(errors);
  return out;
}

namespace {

/// One line of cells; `where` is what its errors name.
Result<build::MeasuredUnit> unit_of(std::string_view line, const std::string& where) {
  std::vector<std::string> words;
  for (const auto word : split(line, ' ')) {
    if (!trim(word).empty()) words.emplace_back(trim(word));
  }
  build::MeasuredUnit unit;
  unit.name = words.front();
  const auto wrong = [&](const std::string& found) {
    return fail(
        {.code = "no-figure",
         .what = "is no figure of a cell",
         .field = where,
         .found = found,
         .expected = "volts, Ah and mohm, such as: " + unit.name + " 3.292 V 104.8 Ah 0.52 mohm"});
  };
  for (std::size_t i = 1; i < words.size(); i += 2) {
    if (i + 1 == words.size()) return wrong(words[i]);
    const std::string text = words[i] + " " + words[i + 1];
    if (words[i] == "group") {
      const auto number = figure::parse(words[i + 1], figure::Kind::ratio);
      if (!number || !(number->value >= 1 && number->value <= 1000)) return wrong(text);
      unit.group = static_cast<build::Count>(number->value);
      continue;
    }
    const std::array<std::pair<figure::Kind, build::Figure*>, 3> kinds{
        {{figure::Kind::voltage,
          std::isnan(unit.voltage.value) ? &unit.voltage : &unit.voltage_later},
         {figure::Kind::charge, &unit.capacity},
         {figure::Kind::resistance, &unit.resistance}}};
    bool taken = false;
    for (const auto& [kind, into] : kinds) {
      auto read = figure::parse(text, kind);
      if (!read) continue;
      *into = *read;
      into->evidence = figure::Evidence::measured;
      taken = true;
      break;
    }
    if (!taken) return wrong(text);
  }
  return unit;
}

}  // namespace

Result<build::Build, Errors> with_cells(const Looked& looked, const std::string& text) {
  build::Build out = looked.own;
  out.units.clear();
  Errors errors;
  int number = 0;
  for (const auto line : split(text, '\n')) {
    ++number;
    std::string tidy(trim(line));
    std::replace(tidy.begin(), tidy.end(), '\t', ' ');
    if (tidy.empty()) continue;
    auto unit = unit_of(tidy, "line " + std::to_string(number));
    if (unit) {
      out.units.push_back(std::move(*unit));
    } else {
      errors.push_back(unit.error());
    }
  }
  if (!errors.empty()) return tl::unexpected<Errors>(errors);
  return out;
}

std::string cells_text(const build::Build& build, figure::System units) {
  std::string out;
  const auto add = [&](const build::Figure& f, figure::Kind kind) {
    if (std::isnan(f.value)) return;
    out += " " + (f.typed.empty() ? figure::print(f.value, kind, units) : f.typed);
  };
  for (const auto& unit : build.units) {
    out += unit.name;
    add(unit.voltage, figure::Kind::voltage);
    add(unit.voltage_later, figure::Kind::voltage);
    add(unit.capacity, figure::Kind::charge);
    add(unit.resistance, figure::Kind::resistance);
    if (unit.group != build::unknown_count) out += " group " + std::to_string(unit.group);
    out += "\n";
  }
  return out;
}

}  // namespace ww::serve
