// SPDX-License-Identifier: MIT
#include <string>

#include "cli/steps_report.h"

namespace ww::cli {

namespace {

using steps::Step;
using steps::Verdict;

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

// Large type and wide rules: it is read at arm's length, with a wrench in the hand. On a phone the
// columns stand below each other.
constexpr std::string_view style = R"(
body{font:16pt/1.35 sans-serif;color:#000;background:#fff;margin:1em auto;max-width:52em;padding:0 .6em}
h1{font-size:1.5em}h2{font-size:1.25em;border-bottom:3px solid #000;margin-top:1.6em}
section{border-top:2px solid #000;padding:.5em 0;break-inside:avoid}
h3{font-size:1.05em;margin:.1em 0}.box{display:inline-block;width:1.1em;height:1.1em;border:3px solid #000;margin-right:.4em;text-align:center;line-height:1.05em;vertical-align:-.15em}
.id{font-size:.7em;font-weight:normal}.caution{border-left:.5em solid #000;padding-left:.5em;margin:.3em 0;font-weight:bold}
p{margin:.3em 0}.expect{font-weight:bold}.small{font-size:.75em}
.room{display:flex;flex-wrap:wrap;gap:.6em;margin-top:.5em}.room span{flex:1 1 9em;border-bottom:2px solid #000;height:1.6em;font-size:.7em}
td,th{border:1px solid #000;padding:.1em .6em;text-align:left}table{border-collapse:collapse}
@media print{body{max-width:none;margin:0}@page{margin:14mm}})";

std::string section(const Step& step, const Options& options) {
  const bool passed = step.verdict == Verdict::within;
  std::string out = "<section id=\"" + escaped(step.id) + "\"><h3><span class=\"box\">" +
                    (passed                       ? "&#10003;"
                     : steps::stops(step.verdict) ? "!"
                                                  : "&nbsp;") +
                    "</span>" + escaped(step.title) + " <span class=\"id\">" + escaped(step.id) +
                    "</span></h3>\n<p class=\"caution\">CAUTION: " + escaped(step.caution) +
                    "</p>\n<p>" + escaped(step.doing) + "</p>\n";
  if (!step.live.empty()) out += "<p>" + escaped(step.live) + "</p>\n";
  if (!step.tick)
    out += "<p class=\"expect\">Expect " + escaped(steps::band_text(step, options.units)) +
           "</p>\n<p class=\"small\">" + escaped(step.expect.sum) +
           (step.expect.sum.empty() ? "" : ". ") + "Band: " + escaped(step.expect.bounds) +
           ". With: " + escaped(step.tool) + ".</p>\n";
  for (const auto& reading : step.readings) {
    out += "<p>Read: " + escaped(reading.text);
    for (const auto& text : {reading.date, reading.instrument})
      out += text.empty() ? std::string() : ", " + escaped(text);
    out += "</p>\n";
  }
  const std::string standing = steps::standing_text(step);
  if (step.verdict != Verdict::waiting && !standing.empty())
    out += "<p class=\"expect\">" + escaped(standing) + "</p>\n";
  if (!passed)
    out +=
        "<div class=\"room\"><span>read</span><span>with</span><span>date</span><span>name</span>"
        "</div>\n";
  for (const auto& branch : step.tree)
    out += "<p class=\"small\">" +
           std::string(branch.when == steps::Branch::When::low    ? "If low: "
                       : branch.when == steps::Branch::When::high ? "If high: "
                                                                  : "If it differs: ") +
           escaped(branch.look) + " &rarr; " + escaped(branch.means) + ".</p>\n";
  return out + "</section>\n";
}

/// Which cell goes where, to be laid out by.
std::string groups_table(const Opened& opened, const steps::Sorted& sorted) {
  if (!sorted.possible) return {};
  std::string out = "<table><tr><th>group</th><th>cells</th></tr>\n";
  int number = 0;
  for (const auto& group : sorted.groups) {
    out += "<tr><td>" + std::to_string(++number) + "</td><td>";
    for (const int i : group.units)
      out += escaped(opened.build.units[static_cast<std::size_t>(i)].name) + " ";
    out += "</td></tr>\n";
  }
  return out + "</table>\n";
}

}  // namespace

std::string steps_page(const Opened& opened, const steps::Protocol& protocol, const StepsAsk& ask,
                       const Options& options) {
  const std::string name =
      opened.build.project.name.empty() ? opened.name : opened.build.project.name;
  std::string out =
      "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" "
      "content=\"width=device-width,initial-scale=1\"><title>" +
      escaped(name) + "</title><style>" + std::string(style) + "</style></head><body>\n<h1>" +
      escaped(name) +
      "</h1>\n<p class=\"caution\">Two people; one only watches and holds the disconnect. A "
      "reading "
      "outside its band stops what depends on it. Mains, the road and certificates belong to "
      "competent persons and the local code.</p>\n";
  int stage = -1;
  for (const Step& step : protocol.steps) {
    if (!ask.stage.empty() && word(step.stage) != ask.stage) continue;
    if (!ask.one.empty() && step.id != ask.one) continue;
    if (ask.next && (step.verdict == Verdict::waiting || step.verdict == Verdict::stopped ||
                     step.verdict == Verdict::within))
      continue;
    if (static_cast<int>(step.stage) != stage) {
      stage = static_cast<int>(step.stage);
      out += "<h2>" + std::string(title_of(step.stage)) + "</h2>\n";
      if (step.stage == steps::Stage::pack) out += groups_table(opened, protocol.sorted);
    }
    out += section(step, options);
  }
  return out + "</body></html>\n";
}

}  // namespace ww::cli
