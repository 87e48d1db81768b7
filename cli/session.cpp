// SPDX-License-Identifier: MIT
#include "cli/session.h"

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <iterator>

#include "base/text.h"

namespace ww::cli {

namespace {

bool read_file(const std::string& path, std::string& out) {
  std::ifstream in(path, std::ios::binary);
  if (!in) return false;
  // One byte more than a sheet may have: the reader then says it is too large.
  std::string text(build::sheet_bytes_max + 1, '\0');
  in.read(text.data(), static_cast<std::streamsize>(text.size()));
  text.resize(static_cast<std::size_t>(in.gcount()));
  out = std::move(text);
  return !in.bad();
}

void apply_set(build::Build& build, const std::string& set, const build::Library& library,
               Errors& errors) {
  const auto equals = set.find('=');
  if (equals == std::string::npos) {
    errors.push_back({.code = "bad-set",
                      .what = "--set wants path=value",
                      .found = set,
                      .expected = "e.g. --set gearing.rear_teeth=52"});
    return;
  }
  const std::string path(trim(set.substr(0, equals)));
  const std::string text(trim(set.substr(equals + 1)));
  const build::Id id = build::schema().find(path);
  if (id < 0) {
    std::vector<std::string_view> paths;
    for (const auto& entry : build::schema().entries()) paths.emplace_back(entry.path);
    Error error{
        .code = "unknown-key", .what = "there is no such field", .field = path, .found = path};
    error.way_out = did_you_mean(path, paths);
    errors.push_back(std::move(error));
    return;
  }
  const auto& entry = build::schema()[id];
  if (entry.info->key == "part" && entry.slot->is_part) {
    if (const auto* part = library.find(entry.slot->shelf, text)) {
      build::put_part(build, *entry.slot, *part);
      return;
    }
    errors.push_back(library.unknown_part(entry.slot->shelf, text, path));
    return;
  }
  if (auto done = build::set_from_text(build, id, text); !done) errors.push_back(done.error());
}

}  // namespace

Opened open_sheet(const std::string& name, Shipped& shipped, const Options& options) {
  Opened opened{.name = name, .build = {}, .errors = {}, .found = true};
  for (const auto& path : options.part_files) {
    std::string text;
    if (!read_file(path, text)) {
      opened.errors.push_back(
          {.code = "no-file", .what = "the parts file cannot be read", .file = path});
      continue;
    }
    for (auto& error : shipped.library.add({path, text})) opened.errors.push_back(std::move(error));
  }
  std::string text;
  if (!read_file(name, text)) {
    const auto demo = embedded("data/demo/" + name + ".toml");
    if (!demo) {
      opened.found = false;
      opened.errors.push_back({.code = "no-file",
                               .what = "the sheet cannot be read",
                               .file = name,
                               .way_out = "Demo sheets are: " + join(demo_names(), ", ")});
      return opened;
    }
    text = std::string(*demo);
    opened.name = "demo " + name;
  }
  auto sheet = build::read_sheet({opened.name, text}, shipped.library);
  opened.build = std::move(sheet.build);
  for (auto& error : sheet.errors) opened.errors.push_back(std::move(error));
  for (const auto& set : options.sets) apply_set(opened.build, set, shipped.library, opened.errors);
  return opened;
}

figure::System units_of_locale() {
  for (const char* name : {"LC_ALL", "LC_MEASUREMENT", "LANG"}) {
    const char* value =
        std::getenv(name);  // NOLINT(concurrency-mt-unsafe): before any thread starts
    if (value == nullptr || *value == '\0') continue;
    const std::string_view locale(value);
    const bool imperial = locale.find("_US") != std::string_view::npos ||
                          locale.find("_LR") != std::string_view::npos ||
                          locale.find("_GB") != std::string_view::npos;
    return imperial ? figure::System::imperial : figure::System::metric;
  }
  return figure::System::metric;
}

serve::Evaluation evaluation(const Options& options, bool ways_out) {
  return {.units = options.units, .draws = options.draws, .ways_out = ways_out};
}

ride::Ride ride_of(const build::Build& build, const Shipped& shipped, const Options& options) {
  return serve::ride_of(build, shipped, evaluation(options));
}

}  // namespace ww::cli
