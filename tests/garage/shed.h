// SPDX-License-Identifier: MIT
// What the garage's tests start from: a folder that goes away, a clock that ticks, small sheets.
#pragma once

#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "base/text.h"
#include "garage/garage.h"

namespace ww::garage::shed {

namespace fs = std::filesystem;

class Folder {
 public:
  Folder() : Folder(fs::temp_directory_path()) {}
  explicit Folder(const fs::path& in) {
    std::string name = (in / "ww-garage-XXXXXX").string();
    EXPECT_NE(mkdtemp(name.data()), nullptr);
    path_ = name;
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() {
    std::error_code none;
    fs::remove_all(path_, none);
  }
  std::string file(const std::string& name = "garage.db") const { return (path_ / name).string(); }
  std::vector<std::string> names() const {
    std::vector<std::string> all;
    for (const auto& entry : fs::directory_iterator(path_))
      all.push_back(entry.path().filename().string());
    std::sort(all.begin(), all.end());
    return all;
  }

 private:
  fs::path path_;
};

/// A folder in memory where there is one: for thousands of commits. (A killed process loses no more
/// there than on a disk.)
inline fs::path in_memory() {
  std::error_code none;
  const auto shared = fs::space("/dev/shm", none);
  const bool room = !none && shared.available > (64U << 20U);
  return room ? fs::path("/dev/shm") : fs::temp_directory_path();
}

/// A second a call, from noon.
inline Clock ticking() {
  return [seconds = 0]() mutable {
    const auto two = [](int n) { return (n < 10 ? "0" : "") + std::to_string(n); };
    const int s = seconds++ % 40000;
    return "2026-04-30T" + two(12 + s / 3600) + ":" + two(s / 60 % 60) + ":" + two(s % 60) + "Z";
  };
}

inline Garage opened(const std::string& path, const Options& options = {}) {
  auto garage = Garage::open(path, ticking(), options);
  if (!garage) throw std::runtime_error(describe(garage.error()));
  return std::move(*garage);
}

/// The value, or a failure with the error's words.
template <class T>
T got(Result<T> result) {
  if (!result) throw std::runtime_error(result.error().code + ": " + describe(result.error()));
  return std::move(*result);
}

template <class T>
std::string code_of(const Result<T>& result) {
  return result ? "no error" : result.error().code;
}

/// A sheet in its canonical form.
inline std::string sheet(int wheelbase_mm, int rider_kg = 0) {
  std::string text = "wattwright = 1\n\n[donor]\nevidence = \"measured\"\nwheelbase = \"" +
                     std::to_string(wheelbase_mm) + " mm\"\n";
  if (rider_kg > 0) text += "\n[rider]\nmass = \"" + std::to_string(rider_kg) + " kg\"\n";
  return text;
}

inline std::string bytes_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

inline void put_bytes(const std::string& path, const std::string& bytes) {
  std::ofstream(path, std::ios::binary)
      .write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
}

/// The first bytes of a PNG, and some more.
inline std::string picture(std::size_t size = 64) {
  std::string bytes = "\x89PNG\r\n\x1A\n";
  for (std::size_t i = bytes.size(); i < size; ++i) bytes += static_cast<char>(i * 7 + i / 251);
  return bytes;
}

}  // namespace ww::garage::shed
