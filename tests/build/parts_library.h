// SPDX-License-Identifier: MIT
// The shipped parts library as the tests see it: every file of data/parts, read once.
#pragma once

#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "build/library.h"

namespace ww::build::parts {

struct Shipped {
  Library library;
  Errors errors;
};

inline std::string bytes_of(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  std::ostringstream bytes;
  bytes << file.rdbuf();
  return bytes.str();
}

/// All shelves; tools and small parts are no shelf.
inline const Shipped& shipped() {
  static const Shipped all = [] {
    Shipped made;
    const std::filesystem::path folder = std::filesystem::path(WW_SOURCE_DIR) / "data" / "parts";
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
      const auto& path = entry.path();
      if (path.extension() != ".toml" || path.filename() == "tool.toml") continue;
      const std::string name = path.filename().string();
      const std::string bytes = bytes_of(path);
      for (Error& error : made.library.add({name, bytes})) made.errors.push_back(std::move(error));
    }
    return made;
  }();
  return all;
}

/// Runs `check` on every part of a shelf, with its id in any failure.
template <class T, class Check>
void each(std::string_view shelf, Check check) {
  const auto& parts = shipped().library.shelf(shelf);
  EXPECT_FALSE(parts.empty()) << shelf;
  for (const LibraryPart& part : parts) {
    SCOPED_TRACE(part.id);
    check(*static_cast<const T*>(part.part.get()));
  }
}

template <class T, class Is>
bool has(std::string_view shelf, Is is) {
  for (const LibraryPart& part : shipped().library.shelf(shelf)) {
    if (is(*static_cast<const T*>(part.part.get()))) return true;
  }
  return false;
}

struct Band {
  double low, high;
};

inline void expect_in(double value, Band band, const std::string& what) {
  EXPECT_GE(value, band.low) << what;
  EXPECT_LE(value, band.high) << what;
}

inline bool in_set(OptionSet set, unsigned option) {
  return (set >> option & 1U) != 0;
}

template <class Enum>
bool in_set(OptionSet set, Enum option) {
  return in_set(set, static_cast<unsigned>(option));
}

/// Options of Controller::drives, in the order of its field.
enum class Drives : unsigned { unknown, pm, induction, brushed };

inline Drives drive_for(MotorType type) {
  switch (type) {
    case MotorType::pm_hub:
    case MotorType::pm_radial:
    case MotorType::pm_axial:
      return Drives::pm;
    case MotorType::induction:
      return Drives::induction;
    case MotorType::brushed_pm:
    case MotorType::brushed_series:
      return Drives::brushed;
    case MotorType::unknown:
      break;
  }
  return Drives::unknown;
}

}  // namespace ww::build::parts
