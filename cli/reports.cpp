// SPDX-License-Identifier: MIT
#include "cli/reports.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "plan/dream.h"
#include "ride/detail.h"

namespace ww::cli {

namespace {

using build::Build;
using build::schema;
using fit::Blocks;
using fit::Finding;
using fit::Verdict;
using ride::Answer;

std::string_view mark(Verdict verdict) {
  switch (verdict) {
    case Verdict::fits:
      return "  fits       ";
    case Verdict::tight:
      return "~ TIGHT      ";
    case Verdict::clash:
      return "! CLASH      ";
    case Verdict::unmeasured:
      return "? UNMEASURED ";
  }
  return {};
}

std::string heading(const std::string& text) {
  return "\n" + text + "\n" + std::string(static_cast<std::size_t>(columns_of(text)), '-') + "\n";
}

std::string unmeasured_text(const Finding& finding) {
  std::vector<std::string> parts;
  for (const build::Id id : finding.missing) {
    const auto& entry = schema()[id];
    parts.push_back(std::string(entry.info->label) + " (" + entry.path + ")" +
                    (entry.info->measure.empty() ? "" : ": " + std::string(entry.info->measure)));
  }
  if (parts.empty()) {
    for (const auto& info : ride::answer_table()) {
      const auto& keys = finding.missing_answers;
      if (std::find(keys.begin(), keys.end(), info.key) != keys.end())
        parts.push_back("a ride of this build, for: " + std::string(info.label));
    }
  }
  return "Not known: " + join(parts, "; ") + ".";
}

std::string finding_text(const Finding& finding) {
  std::string out =
      wrapped(finding.verdict == Verdict::unmeasured ? unmeasured_text(finding) : finding.because,
              13, mark(finding.verdict));
  const std::string margin(13, ' ');
  out += margin + "(" + std::string(finding.rule->id) +
         (finding.rule->blocks == Blocks::nothing
              ? ""
              : "; blocks " + std::string(word(finding.rule->blocks))) +
         (finding.rule->can_hurt ? "; can hurt" : "") + ")\n";
  if (!finding.weak.empty() && finding.verdict != Verdict::unmeasured) {
    std::vector<std::string> names;
    for (const build::Id id : finding.weak) names.push_back(schema()[id].path);
    out += wrapped("Rests on less than a data sheet: " + join(names, ", ") + ".", 13);
  }
  if (finding.verdict == Verdict::clash || finding.verdict == Verdict::tight) {
    const auto& ignoring = finding.rule->ignoring;
    out +=
        wrapped("If ignored: " + std::string(ignoring.text) + " " + fit::typically(ignoring), 13);
    for (const auto& way : finding.ways_out) {
      std::string line = "Way out: " + way.text + " -> " + std::string(word(way.becomes));
      if (!way.also.empty()) line += " (also: " + join(way.also, ", ") + ")";
      out += wrapped(line + ".", 22, margin);
    }
  }
  return out;
}

std::string wish_text(const Build& build, const ride::Ride& ride, const serve::Wanted& wanted,
                      figure::System units) {
  if (wanted.path == nullptr) return {};
  const build::Id id = build::id_of(wanted.path);
  const double wish = build::number_at(build, id);
  if (std::isnan(wish)) return {};
  const auto& info = ride::info_of(wanted.answer);
  const auto band = ride.band(wanted.answer);
  const double surely = info.more_is_better ? band.p10 : band.p90;
  const bool met = info.more_is_better ? surely >= wish : surely <= wish;
  const bool likely = info.more_is_better ? band.p50 >= wish : band.p50 <= wish;
  return "wish " + figure::print(wish, info.kind, units) + ": " +
         (met ? "met" : (likely ? "likely met" : "not met"));
}

std::string answers_text(const Build& build, const ride::Ride& ride, figure::System units) {
  Columns table({false, true, true, true, false});
  table.row({"", "count on", "likely", "good day", ""});
  for (const serve::Wanted& wanted : serve::headline()) {
    const auto s = spoken(ride, wanted.answer, units);
    table.row({std::string(ride::info_of(wanted.answer).label), s.count_on, s.likely, s.good_day,
               wish_text(build, ride, wanted, units)});
  }
  return table.text(2);
}

std::string not_possible_text(const ride::Ride& ride) {
  if (!ride.parts_missing.empty()) {
    return wrapped("No ride can be worked out yet: it needs " + join(ride.parts_missing, ", ") +
                       ". The parts that are there are held against each other below.",
                   2);
  }
  std::vector<std::string> names;
  for (const build::Id id : ride.missing)
    names.push_back(std::string(schema()[id].info->label) + " (" + schema()[id].path + ")");
  return wrapped(
      "No ride can be worked out yet. Not known and never assumed: " + join(names, "; ") + ".", 2);
}

std::string count_text(const std::vector<Finding>& findings) {
  int counts[4] = {};
  for (const auto& finding : findings) ++counts[static_cast<int>(finding.verdict)];
  return std::to_string(findings.size()) + " checks apply: " + std::to_string(counts[2]) +
         " clash, " + std::to_string(counts[3]) + " unmeasured, " + std::to_string(counts[1]) +
         " tight, " + std::to_string(counts[0]) + " fit.";
}

std::string findings_text(const Build& build, const Checked& checked, const Options& options) {
  std::string out;
  int quiet = 0;
  for (const auto& finding : checked.findings) {
    const bool next = finding.verdict != Verdict::unmeasured ||
                      serve::blocks_next_step(build, finding.rule->blocks);
    const bool show = options.all || finding.verdict == Verdict::clash ||
                      (finding.verdict != Verdict::fits && next);
    if (show) {
      out += "\n" + finding_text(finding);
    } else if (finding.verdict == Verdict::unmeasured) {
      ++quiet;
    }
  }
  if (quiet > 0)
    out +=
        "\n" +
        wrapped(
            std::to_string(quiet) +
                " more checks wait for figures that do not block the next step; --all lists them.",
            2);
  return out;
}

/// What a half-empty sheet is told first.
std::string sketch_text(const Build& build, const Checked& checked, const Options& options) {
  std::string out =
      wrapped(plan::blunt_sentence(build, checked.ridden, checked.ride, options.units), 2);
  const auto calendar = plan::calendar(build);
  out += wrapped("Money is in `wattwright parts`; a first build takes " +
                     fixed(calendar.hours_low, 0) + " to " + fixed(calendar.hours_high, 0) +
                     " hours, usually " + fixed(calendar.hours_usual, 0) + ", which is " +
                     fixed(calendar.months_low, 0) + " to " + fixed(calendar.months_high, 0) +
                     " months (common practice, no source).",
                 2);
  out += "\n" + wrapped(
                    "Sketched in, because the sheet names none (invented parts: read them as a "
                    "specification to shop for):",
                    2);
  for (const auto& line : checked.sketched) out += "  - " + line + "\n";
  return out + "\n";
}

std::string caution_text(const Build& build) {
  return wrapped(serve::caution_of(build), 2);
}

// ---- the road in detail
// --------------------------------------------------------------------------------------------

using figure::Kind;
using figure::System;

std::string minutes(double seconds) {
  if (std::isinf(seconds)) return "settles";
  return seconds >= 36000 ? "hours" : figure::print(seconds, Kind::time);
}

std::string thrust_text(const ride::Detail& d, System units) {
  Columns t({true, true, true, false, true, true, true, true});
  t.row({"speed", "thrust", "road", "held down by", "motor", "phase, peak", "battery", "pack"});
  for (std::size_t i = 0; i < d.thrust.size(); i += 2) {
    const auto& p = d.thrust[i];
    t.row({figure::print(p.speed_mps, Kind::speed, units),
           figure::print(p.thrust_N, Kind::force, units),
           figure::print(p.road_N, Kind::force, units), std::string(word(p.limit)),
           fixed(p.motor_rpm, 0) + " rpm", fixed(p.phase_current_peak_A, 0) + " A",
           fixed(p.battery_current_A, 0) + " A", fixed(p.pack_voltage_V, 1) + " V"});
  }
  return heading("Thrust against speed, four fifths charged") + t.text(2);
}

std::string hills_text(const ride::Detail& d, System units) {
  Columns t({true, true, true, true, true, true});
  t.row({"grade", "speed", "winding", "controller", "cells", "charge lasts"});
  for (const auto& row : d.hills) {
    const auto cell = [&](double s) { return row.climbs ? minutes(s) : std::string("-"); };
    t.row({fixed(100 * row.grade, 0) + " %", figure::print(row.speed_mps, Kind::speed, units),
           row.climbs ? minutes(row.winding_s) : "cannot climb", cell(row.controller_s),
           cell(row.cells_s), cell(row.energy_s)});
  }
  return heading("Hills: how long, starting cool, until each is too hot, or empty") + t.text(2) +
         wrapped("'settles': it grows no hotter than it may. 'hours': ten or more.", 2);
}

std::string steady_text(const ride::Detail& d, System units) {
  Columns t({true, true, true, true, true, true});
  t.row(
      {"speed", "consumption", "to empty", "reserve kept", "coldest day", "winding after an hour"});
  for (const auto& r : d.steady) {
    const auto far = [&](double m) {
      return ride::cannot_ride(m) ? "cannot" : figure::print(m, Kind::length, units);
    };
    t.row({figure::print(r.speed_mps, Kind::speed, units),
           figure::print(r.consumption_Jpm, Kind::consumption, units), far(r.to_end_m),
           far(r.reserve_kept_m), far(r.cold_reserve_kept_m),
           figure::print(r.winding_K, Kind::temperature, units)});
  }
  return heading("Steady riding, flat, no wind") + t.text(2);
}

std::string throttle_text(const ride::Detail& d, System units) {
  Columns t({true, true, true, true});
  std::vector<std::string> head{"grip"};
  for (const double speed : d.throttle_speeds_mps)
    head.push_back("at " + figure::print(speed, Kind::speed, units));
  t.row(head);
  for (std::size_t i = 0; i < d.throttle.size(); i += 2) {
    std::vector<std::string> row{fixed(100 * d.throttle[i].grip, 0) + " %"};
    for (const double thrust : d.throttle[i].thrust_N)
      row.push_back(figure::print(thrust, Kind::force, units));
    t.row(row);
  }
  return heading("Throttle feel: thrust against grip") + t.text(2) +
         wrapped("From nothing to full in " + figure::print(d.ramp_s, Kind::time) +
                     ", by the controller's ramp.",
                 2);
}

std::string charging_text(const ride::Detail& d, System units) {
  Columns t({false, true, true, true, true, false});
  t.row({"outlet", "draws", "10 to 90 %", "empty to full", "a plugged hour gives", "limited by"});
  for (const auto& r : d.charging) {
    t.row({fixed(r.outlet_V, 0) + " V, " + fixed(r.outlet_A, 0) + " A",
           figure::print(r.power_W, Kind::power, units),
           figure::print(r.ten_to_ninety_s, Kind::time), figure::print(r.full_s, Kind::time),
           figure::print(r.distance_per_hour_m, Kind::length, units), std::string(r.limited_by)});
  }
  return heading("Charging") + t.text(2) +
         wrapped(
             "CAUTION: hours at full current are for circuits an electrician has looked at; never "
             "charge a new pack unattended, nor below the cells' coldest charge.",
             2);
}

std::string ageing_text(const ride::Detail& d) {
  if (d.ageing.empty() || std::isnan(d.ageing[0].capacity_left))
    return heading("Ageing") + wrapped("For this chemistry: no published model here.", 2);
  Columns t({true, true, true, true});
  t.row({"years", "count on", "likely", "good case"});
  const auto share = [](double x) { return fixed(100 * x, 0) + " %"; };
  for (const auto& r : d.ageing)
    t.row({fixed(r.years, 0), share(r.capacity_left_low), share(r.capacity_left),
           share(r.capacity_left_high)});
  return heading("Ageing: capacity left") + t.text(2) +
         wrapped("After " + std::string(d.ageing_source) +
                     "; a fit of one cell type, so the loss may be half or half as much again.",
                 2);
}

std::string detail_text(const ride::Detail& d, System units) {
  return thrust_text(d, units) + hills_text(d, units) + steady_text(d, units) +
         throttle_text(d, units) + charging_text(d, units) + ageing_text(d);
}

}  // namespace

Checked check_build(const Build& build, const Shipped& shipped, const Options& options,
                    bool ways_out) {
  return serve::check_build(build, shipped, evaluation(options, ways_out));
}

Exit exit_of(const Build& build, const Checked& checked) {
  bool unmeasured = false;
  for (const auto& finding : checked.findings) {
    if (finding.verdict == Verdict::clash) return Exit::clash;
    unmeasured = unmeasured || (finding.verdict == Verdict::unmeasured &&
                                serve::blocks_next_step(build, finding.rule->blocks));
  }
  return unmeasured ? Exit::unmeasured : Exit::good;
}

std::string assumptions_text(const Build& sheet, const ride::Ride& ride, const Options& options,
                             std::size_t most) {
  std::string out;
  std::size_t shown = 0;
  const auto& pushes = ride.pushes[static_cast<std::size_t>(Answer::range_mixed_reserve)];
  const auto& info = ride::info_of(Answer::range_mixed_reserve);
  for (const auto& push : pushes) {
    if (shown >= most || push.share < 0.005) break;
    const auto& entry = schema()[push.id];
    std::string text =
        std::string(entry.info->label) + " (" + entry.path + ", " +
        std::string(serve::source_word(sheet, push)) + "): moves the distance from " +
        figure::print(std::min(push.at_p10, push.at_p90), info.kind, options.units) + " to " +
        figure::print(std::max(push.at_p10, push.at_p90), info.kind, options.units) + ".";
    if (!entry.info->measure.empty())
      text += " To pin it down: " + std::string(entry.info->measure) + ".";
    out += wrapped(text, 5, "  " + std::to_string(++shown) + ". ");
  }
  return out;
}

std::string check_report(const Opened& opened, const Checked& checked, const Options& options) {
  const Build& build = opened.build;
  std::string out = (build.project.name.empty() ? opened.name : build.project.name) + "\n";
  out += wrapped(count_text(checked.findings), 0);
  out += heading("What it will do");
  if (checked.ride.possible && !checked.sketched.empty())
    out += sketch_text(build, checked, options);
  if (checked.ride.possible) {
    out += answers_text(build, checked.ride, options.units);
    out += wrapped("Rests on " + std::to_string(checked.ride.assumed.size()) +
                       " assumed figures among " + std::to_string(checked.ride.read.size()) +
                       ". What moves the distance most:",
                   2);
    out += assumptions_text(build, checked.ride, options, 3);
  } else {
    out += not_possible_text(checked.ride);
  }
  out += heading("What fits and what does not");
  if (checked.ride.possible && checked.sketched.empty())
    out += wrapped(
        "A check takes your figures as they stand; 'likely' above is the middle of all their "
        "spreads. So the two may differ by a few per cent.",
        2);
  out += findings_text(build, checked, options);
  out += heading("Before you go on");
  out += caution_text(build);
  out += wrapped(
      "Checked: what the figures above can decide. Not checked: welds, crimps, torque, how "
      "anything was put together, and what the law asks where you "
      "ride. Nothing here replaces the part's own data sheet or a competent person's look.",
      2);
  return out;
}

std::string ride_report(const Opened& opened, const Build& ridden, const ride::Ride& ride,
                        const Options& options) {
  std::string out = (opened.build.project.name.empty() ? opened.name : opened.build.project.name) +
                    ": on the road\n\n";
  if (!ride.possible) return out + not_possible_text(ride);
  Columns table({false, true, true, true, false});
  table.row({"", "count on", "likely", "good day", "moved most by"});
  for (const auto& info : ride::answer_table()) {
    const auto s = spoken(ride, info.answer, options.units);
    const auto& pushes = ride.pushes[static_cast<std::size_t>(info.answer)];
    table.row({std::string(info.label), s.count_on, s.likely, s.good_day,
               pushes.empty() || pushes[0].share == 0 ? "" : schema()[pushes[0].id].path});
  }
  return out + table.text(2) + detail_text(ride::detail(ridden, ride), options.units);
}

}  // namespace ww::cli
