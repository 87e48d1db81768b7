// SPDX-License-Identifier: MIT
// What tests of the upper floors start from: the shipped data read from the repository, and builds.
#pragma once

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <string>

#include "build/sheet.h"
#include "ride/course.h"

namespace ww::support {

inline std::string file_text(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

inline const build::Library& library() {
  static const build::Library all = [] {
    build::Library made;
    std::vector<std::string> paths;
    for (const auto& entry : std::filesystem::directory_iterator(WW_SOURCE_DIR "/data/parts")) {
      if (entry.path().filename() != "tool.toml") paths.push_back(entry.path().string());
    }
    std::sort(paths.begin(), paths.end());
    for (const auto& path : paths) {
      const std::string text = file_text(path);
      const auto errors = made.add({path, text});
      EXPECT_TRUE(errors.empty()) << describe(errors[0]);
    }
    return made;
  }();
  return all;
}

inline ride::Cycle cycle(const std::string& name) {
  auto read = ride::read_cycle(name, file_text(WW_SOURCE_DIR "/data/cycles/" + name + ".csv"));
  EXPECT_TRUE(read.has_value()) << name;
  return *read;
}

inline const ride::Cycles& cycles() {
  static const ride::Cycles all{cycle("udds"),
                                cycle("hwfet"),
                                cycle("us06"),
                                cycle("ece15_udc"),
                                cycle("eudc"),
                                cycle("wmtc_part1"),
                                cycle("wmtc_part1_reduced"),
                                cycle("wmtc_part2"),
                                cycle("wmtc_part2_reduced"),
                                cycle("wmtc_part3")};
  return all;
}

inline build::Build demo(const std::string& name) {
  const auto sheet =
      build::read_sheet({name, file_text(WW_SOURCE_DIR "/data/demo/" + name + ".toml")}, library());
  EXPECT_TRUE(sheet.errors.empty()) << name << ": " << describe(sheet.errors[0]);
  return sheet.build;
}

inline const build::LibraryPart& pick(std::string_view shelf, std::mt19937& random) {
  const auto& parts = library().shelf(shelf);
  return parts[random() % parts.size()];
}

/// A build thrown together from the library: it need not fit, but it has every figure a ride needs.
inline build::Build random_build(std::mt19937& random) {
  static const build::Build reference = demo("reference");
  build::Build b = reference;
  for (const char* slot : {"motor", "controller", "cell"})
    build::put_part(b, *build::schema().slot(slot), pick(slot, random));
  std::uniform_real_distribution<double> share(0, 1);
  const double volts = 50 + 50 * share(random);
  b.pack->series = std::max(1, static_cast<int>(volts / b.cell->voltage_nominal.value));
  b.pack->parallel =
      1 + static_cast<int>(share(random) * 6e3 * 3600 / (volts * b.cell->capacity.value));
  b.gearing.drive =
      b.motor->shaft == build::ShaftForm::wheel ? build::FinalDrive::hub : build::FinalDrive::chain;
  b.gearing.rear_teeth = 35 + static_cast<int>(share(random) * 30);
  b.limits = {};
  b.limits.regen = share(random) < 0.5 ? build::Answer::yes : build::Answer::no;
  build::set_number(b, build::id_of("limits.regen_current"), 20 + 80 * share(random));
  build::set_number(b, build::id_of("limits.soft_cut"),
                    0.7 * b.pack->series * b.cell->voltage_nominal.value);
  build::set_number(b, build::id_of("donor.drag_area"), 0.3 + 0.5 * share(random));
  build::set_number(b, build::id_of("rider.mass"), 60 + 60 * share(random));
  return b;
}

}  // namespace ww::support
