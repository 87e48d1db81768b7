// SPDX-License-Identifier: MIT
#include "serve/shipped.h"

#include <algorithm>
#include <atomic>
#include <stdexcept>
#include <thread>

#include "base/text.h"

extern "C" {
extern const ww::EmbeddedFile ww_data_begin[];  // NOLINT: made by cmake's ww_embed
extern const ww::EmbeddedFile ww_data_end[];    // NOLINT
}

namespace ww::serve {

const std::vector<EmbeddedFile>& embedded_files() {
  static const std::vector<EmbeddedFile> files(ww_data_begin, ww_data_end);
  return files;
}

std::optional<std::string_view> embedded(std::string_view path) {
  for (const EmbeddedFile& file : embedded_files()) {
    if (path == file.name) return file.bytes();
  }
  return std::nullopt;
}

namespace {

constexpr std::string_view goods_file = "data/parts/tool.toml";

void stop_on(const Errors& errors) {
  if (!errors.empty()) throw std::logic_error(describe(errors[0]));
}

void load(ride::Cycle& cycle, const char* path) {
  auto read = ride::read_cycle(path, embedded(path).value_or(""));
  if (!read) stop_on({read.error()});
  cycle = std::move(*read);
}

}  // namespace

build::Library shipped_library(const ride::Runner& runner) {
  std::vector<build::NamedBytes> files;
  for (const EmbeddedFile& file : embedded_files()) {
    const std::string_view name(file.name);
    if (name.rfind("data/parts/", 0) == 0 && name != goods_file)
      files.push_back({name, file.bytes()});
  }
  std::vector<build::Library> read(files.size());
  std::vector<Errors> errors(files.size());
  runner(static_cast<int>(files.size()), [&](int k) {
    const auto i = static_cast<std::size_t>(k);
    errors[i] = read[i].add(files[i]);
  });
  build::Library library;
  for (std::size_t i = 0; i < files.size(); ++i) {
    stop_on(errors[i]);
    library.add(std::move(read[i]));
  }
  return library;
}

ride::Cycles shipped_cycles() {
  ride::Cycles c;
  load(c.udds, "data/cycles/udds.csv");
  load(c.hwfet, "data/cycles/hwfet.csv");
  load(c.us06, "data/cycles/us06.csv");
  load(c.udc, "data/cycles/ece15_udc.csv");
  load(c.eudc, "data/cycles/eudc.csv");
  load(c.wmtc_1, "data/cycles/wmtc_part1.csv");
  load(c.wmtc_1_reduced, "data/cycles/wmtc_part1_reduced.csv");
  load(c.wmtc_2, "data/cycles/wmtc_part2.csv");
  load(c.wmtc_2_reduced, "data/cycles/wmtc_part2_reduced.csv");
  load(c.wmtc_3, "data/cycles/wmtc_part3.csv");
  return c;
}

std::vector<build::Goods> shipped_goods() {
  Errors errors;
  auto goods = build::read_goods({goods_file, embedded(goods_file).value_or("")}, errors);
  stop_on(errors);
  return goods;
}

Shipped load_shipped() {
  return {.library = shipped_library(run_on_cores), .cycles = shipped_cycles()};
}

void run_on_cores(int count, const std::function<void(int)>& task) {
  const int workers = std::clamp(static_cast<int>(std::thread::hardware_concurrency()), 1,
                                 std::min(8, std::max(count, 1)));
  std::atomic<int> next{0};
  const auto work = [&] {
    for (int i = next++; i < count; i = next++) task(i);
  };
  std::vector<std::jthread> others;
  for (int i = 1; i < workers; ++i) others.emplace_back(work);
  work();
}

std::vector<std::string> demo_names() {
  std::vector<std::string> names;
  for (const EmbeddedFile& file : embedded_files()) {
    std::string_view name(file.name);
    if (name.rfind("data/demo/", 0) != 0) continue;
    name.remove_prefix(10);
    names.emplace_back(name.substr(0, name.rfind('.')));
  }
  return names;
}

}  // namespace ww::serve
