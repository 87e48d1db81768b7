// SPDX-License-Identifier: MIT
// Runs every row of tests/values/*.tsv. Columns, tab-separated:
//   id  function  given (key=value ...)  expect  tol  kind  source
// tol: "5e-6" absolute, "0.1%" relative, "list" shown but not gating (say why in the source).
// kind: published | computed | practice | from-memory (reported, never gating). "expect" may be
// `nan`. With --trust as second argument it writes the tables of docs/trust.md on standard output.
#include <algorithm>
#include <cctype>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <limits>
#include <sstream>
#include <vector>

#include "base/text.h"
#include "tests/values/registry.h"

namespace {

using namespace ww;
using namespace ww::values;

constexpr double infinite = std::numeric_limits<double>::infinity();

struct Row {
  std::string place, id, function, given, expect, tolerance, kind, source;
};

struct Tally {
  int published = 0, computed = 0, practice = 0, from_memory = 0, listed = 0, failed = 0;
  double worst = 0;  // largest error of a gating row, as a share of the expected value
  std::string worst_id;
  std::set<std::string> sources;
};

std::vector<Row> read_rows(const std::filesystem::path& folder, int& faults) {
  std::vector<std::filesystem::path> files;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    if (entry.path().extension() == ".tsv") files.push_back(entry.path());
  }
  std::sort(files.begin(), files.end());
  std::vector<Row> rows;
  std::set<std::string> ids;
  for (const auto& file : files) {
    std::ifstream in(file);
    std::string line;
    int number = 0;
    while (std::getline(in, line)) {
      ++number;
      if (trim(line).empty() || line[0] == '#' || line.rfind("id\t", 0) == 0) continue;
      const std::string place = file.filename().string() + ":" + std::to_string(number);
      std::vector<std::string> cells;
      for (const auto cell : split(line, '\t')) cells.emplace_back(trim(cell));
      if (cells.size() != 7 || cells[6].empty() || cells[5].empty()) {
        std::cout << place << ": needs 7 columns with kind and source, has " << cells.size()
                  << "\n";
        ++faults;
        continue;
      }
      if (!ids.insert(cells[0]).second) {
        std::cout << place << ": id " << cells[0] << " stands twice\n";
        ++faults;
      }
      rows.push_back({place, cells[0], cells[1], cells[2], cells[3], cells[4], cells[5], cells[6]});
    }
  }
  return rows;
}

double tolerance_of(const Row& row, double expect) {
  if (row.tolerance == "list") return infinite;
  if (row.tolerance.back() == '%') return std::fabs(expect) * std::stod(row.tolerance) / 100;
  return std::stod(row.tolerance);
}

double run(const Row& row, std::string& header) {
  const auto at = registry().find(row.function);
  if (at == registry().end())
    throw std::runtime_error("no function " + row.function + " is registered");
  header = at->second.header;
  Given given;
  std::istringstream words(row.given);
  std::string word;
  while (words >> word) {
    const auto equals = word.find('=');
    if (equals == std::string::npos) throw std::runtime_error("'" + word + "' is not key=value");
    given.put(word.substr(0, equals), word.substr(equals + 1));
  }
  const double value = at->second.call(given);
  if (const auto key = given.never_asked(); !key.empty()) {
    throw std::runtime_error("the function never reads '" + key + "'");
  }
  return value;
}

/// The end of the sentence that starts at `from`: a full stop before a capital, or the text's end.
std::size_t sentence_end(const std::string& text, std::size_t from) {
  for (auto at = text.find(". ", from); at != std::string::npos; at = text.find(". ", at + 1)) {
    if (at + 2 < text.size() && std::isupper(static_cast<unsigned char>(text[at + 2])) != 0)
      return at + 1;
  }
  return text.size();
}

/// The sentences of a header's comments that start with a word ("Valid:", "Ignores"): what trust.md
/// says of the model's reach.
std::string sentences_with(const std::filesystem::path& header, const std::string& word) {
  std::ifstream in(header);
  std::string line, comment;
  std::vector<std::string> found;
  const auto take = [&] {
    for (auto at = comment.find(word); at != std::string::npos; at = comment.find(word, at + 1)) {
      const auto from = at + word.size();
      const std::string text(trim(comment.substr(from, sentence_end(comment, from) - from)));
      if (std::find(found.begin(), found.end(), text) == found.end()) found.push_back(text);
    }
    comment.clear();
  };
  while (std::getline(in, line)) {
    if (line.rfind("///", 0) == 0) {
      comment += " " + std::string(trim(line.substr(3)));
    } else {
      take();
    }
  }
  take();
  return join(found, " / ");
}

void print_trust(const std::string& root,
                 const std::map<std::string, std::map<std::string, Tally>>& tallies) {
  Tally sum;
  for (const auto& [header, functions] : tallies) {
    for (const auto& [name, t] : functions) {
      sum.published += t.published;
      sum.computed += t.computed;
      sum.practice += t.practice;
      sum.from_memory += t.from_memory;
      sum.listed += t.listed;
    }
  }
  std::printf(
      "Rows: %d published, %d computed by another route, %d common practice, %d from memory (never "
      "gating),"
      " %d listed without gating.\n",
      sum.published, sum.computed, sum.practice, sum.from_memory, sum.listed);
  for (const auto& [header, functions] : tallies) {
    std::printf("\n### %s\n\n", header.c_str());
    const auto valid = sentences_with(root + "/" + header, "Valid:");
    const auto ignores = sentences_with(root + "/" + header, "Ignores");
    if (!valid.empty()) std::printf("Valid: %s\n\n", valid.c_str());
    if (!ignores.empty()) std::printf("Ignores %s\n\n", ignores.c_str());
    std::printf(
        "| function | published | computed | practice | from memory | largest error (gating) | "
        "against |\n");
    std::printf("| --- | --- | --- | --- | --- | --- | --- |\n");
    for (const auto& [name, t] : functions) {
      std::vector<std::string> sources(t.sources.begin(), t.sources.end());
      if (sources.size() > 4) {
        const auto more = sources.size() - 4;
        sources.resize(4);
        sources.push_back("and " + std::to_string(more) + " more");
      }
      std::printf("| %s | %d | %d | %d | %d | %.2g %% | %s |\n", name.c_str(), t.published,
                  t.computed, t.practice, t.from_memory, t.worst * 100,
                  join(sources, "; ").c_str());
    }
  }
}

}  // namespace

int main(int argc, char** argv) {
  const std::string root = argc > 1 ? argv[1] : ".";
  const bool trust = argc > 2 && std::string(argv[2]) == "--trust";
  int faults = 0;
  int passed = 0;
  std::map<std::string, std::map<std::string, Tally>> tallies;
  for (const auto& row : read_rows(root + "/tests/values", faults)) {
    std::string header = "?";
    double value = std::nan("");
    try {
      value = run(row, header);
      Tally& t = tallies[header][row.function];
      const double expect = row.expect == "nan" ? std::nan("") : std::stod(row.expect);
      const double error =
          std::isnan(expect) ? (std::isnan(value) ? 0.0 : infinite) : std::fabs(value - expect);
      const bool gating = row.kind != "from-memory" && row.tolerance != "list";
      int* count = row.kind == "published"     ? &t.published
                   : row.kind == "computed"    ? &t.computed
                   : row.kind == "practice"    ? &t.practice
                   : row.kind == "from-memory" ? &t.from_memory
                                               : nullptr;
      if (count == nullptr) throw std::runtime_error("unknown kind " + row.kind);
      if (row.tolerance == "list") count = &t.listed;
      ++*count;
      t.sources.insert(row.source.substr(0, row.source.find(';')));
      const bool good = error <= tolerance_of(row, expect);
      if (gating && expect != 0 && !std::isnan(expect) && error / std::fabs(expect) > t.worst) {
        t.worst = error / std::fabs(expect);
        t.worst_id = row.id;
      }
      if (good || !gating) {
        ++passed;
        if (!good && !trust) {
          std::cout << row.place << ": " << row.id << " (not gating): " << value
                    << ", the row says " << row.expect << "\n";
        }
      } else {
        ++faults;
        std::cout.precision(10);
        std::cout << row.place << ": " << row.id << ": " << row.function << "(" << row.given
                  << ") = " << value << ", expected " << row.expect << " within " << row.tolerance
                  << "\n";
      }
    } catch (const std::exception& problem) {
      ++faults;
      std::cout << row.place << ": " << row.id << ": " << problem.what() << "\n";
    }
  }
  if (trust) print_trust(root, tallies);
  if (!trust) std::printf("%d passed, %d failed\n", passed, faults);
  return faults == 0 ? 0 : 1;
}
