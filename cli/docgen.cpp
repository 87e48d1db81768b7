// SPDX-License-Identifier: MIT
// Writes docs/rules.md from the rules themselves and the coverage tables; with `--choices` the
// table of docs/formats.md from the field table. Not part of the program.
#include <algorithm>
#include <fstream>
#include <iostream>
#include <map>

#include "base/text.h"
#include "fit/engine.h"

namespace {

using namespace ww;
using namespace ww::fit;

std::string list_of(const std::vector<std::string_view>& items) {
  std::vector<std::string> words;
  for (const auto item : items) words.push_back("`" + std::string(item) + "`");
  return join(words, ", ");
}

std::string rule_text(const Rule& rule) {
  std::string out = "### " + std::string(rule.id) + "\n\n" + std::string(rule.title) + ".\n\n";
  if (!rule.between.empty()) out += "- between: " + list_of(rule.between) + "\n";
  out += "- needs: " + list_of(rule.needs) + "\n";
  if (!rule.options.empty()) out += "- reads too, where known: " + list_of(rule.options) + "\n";
  out += "- blocks: " + std::string(word(rule.blocks)) + (rule.can_hurt ? "; can hurt" : "") + "\n";
  if (!rule.levers.empty()) out += "- a way out may change: " + list_of(rule.levers) + "\n";
  for (const auto& [name, text] : {std::pair{"fits", rule.fits}, std::pair{"tight", rule.tight},
                                   std::pair{"clash", rule.clash}}) {
    if (!text.empty()) out += "- " + std::string(name) + ": " + std::string(text) + "\n";
  }
  out += "- if ignored: " + std::string(rule.ignoring.text);
  if (const std::string cost = fit::typically(rule.ignoring); !cost.empty()) out += " " + cost;
  out += "\n";
  if (!rule.never.empty())
    out += "- never says " + std::string(rule.never) + ": " + std::string(rule.never_why) + "\n";
  return out + "- source: " + std::string(rule.source) + "\n\n";
}

std::string family_of(std::size_t index) {
  const std::pair<const char*, std::size_t> families[] = {
      {"Battery", battery_rules().size()},
      {"Safety chain and 12 V", safety_chain_rules().size()},
      {"Motor, controller, controls", drive_rules().size()},
      {"Driveline", driveline_rules().size()},
      {"Frame", frame_rules().size()},
      {"The whole bike", whole_bike_rules().size()}};
  std::size_t end = 0;
  for (const auto& [name, size] : families) {
    end += size;
    if (index < end) return name;
  }
  return {};
}

/// code -> where it went, from the rules and from the tables of what no build figure decides.
std::map<std::string, std::string> coverage(const std::string& root) {
  std::map<std::string, std::string> where;
  for (const Rule& rule : rule_book().rules()) {
    for (const auto code : split(rule.codes, ',')) {
      if (trim(code).empty()) continue;
      std::string& text = where[std::string(trim(code))];
      text += (text.empty() ? "" : ", ") + std::string(rule.id);
    }
  }
  for (const char* family :
       {"battery", "safety_chain", "drive", "driveline", "frame", "whole_bike"}) {
    std::ifstream in(root + "/tests/fit/coverage_" + family + ".tsv");
    std::string line;
    while (std::getline(in, line)) {
      const auto cells = split(line, '\t');
      if (line.empty() || line[0] == '#' || cells.size() < 3) continue;
      const std::string code(trim(cells[0]));
      if (where.count(code) == 0)
        where[code] = std::string(trim(cells[1])) + ": " + std::string(trim(cells[2]));
    }
  }
  return where;
}

/// E2 before E10.
bool before(const std::string& a, const std::string& b) {
  if (a[0] != b[0]) return a[0] < b[0];
  return std::atoi(a.c_str() + 1) < std::atoi(b.c_str() + 1);
}

/// Every choice and set of a sheet with its words, but plain yes and no.
int print_choices() {
  std::cout << "| field | word (as reports say it) |\n| --- | --- |\n";
  for (const auto& entry : build::schema().entries()) {
    const auto& options = entry.info->options;
    if (options.empty() || options == std::vector<std::string_view>{"unknown", "no", "yes"} ||
        entry.info->key == "state")
      continue;
    std::vector<std::string> words;
    for (std::size_t i = 1; i < options.size(); ++i) {
      const auto label = entry.info->option_labels[i];
      words.push_back("`" + std::string(options[i]) + "`" +
                      (label == options[i] ? "" : " (" + std::string(label) + ")"));
    }
    std::cout << "| `" << entry.path << "` | " << join(words, ", ") << " |\n";
  }
  return 0;
}

}  // namespace

int main(int argc, char** argv) {
  const std::string root = argc > 1 ? argv[1] : ".";
  if (root == "--choices") return print_choices();
  const auto& rules = rule_book().rules();
  std::cout
      << "# The fit rules\n\nMade from the rules themselves by `tools/make_docs.sh`; do not edit. "
      << rules.size()
      << " rules. A rule compares two sides, or judges a choice, and says fits, tight, clash or "
         "unmeasured. In the sentences {0}, {1} ... are the needs in their order, {have} and\n"
         "{limit} the two sides, {practice} what usual practice keeps to, {spare} the "
         "difference.\n\n";
  std::string family;
  for (std::size_t i = 0; i < rules.size(); ++i) {
    if (const auto now = family_of(i); now != family) {
      family = now;
      std::cout << "## " << family << "\n\n";
    }
    std::cout << rule_text(rules[i]);
  }
  const auto where = coverage(root);
  std::vector<std::string> codes;
  std::size_t by_rule = 0;
  for (const auto& [code, text] : where) {
    codes.push_back(code);
    by_rule += text.find(':') == std::string::npos ? 1 : 0;
  }
  std::sort(codes.begin(), codes.end(), before);
  std::cout << "## Where each line of the trade catalogue went\n\n"
            << by_rule
            << " lines are decided by a rule here; the others belong to the power-up protocol, the "
               "measuring list, the wiring or the papers.\n\n"
            << "| line | where |\n| --- | --- |\n";
  for (const auto& code : codes) std::cout << "| " << code << " | " << where.at(code) << " |\n";
  return 0;
}
