// SPDX-License-Identifier: MIT
// Small libraries, of which every combination can be made and ridden on its own.
#pragma once

#include <set>

#include "search/best.h"
#include "tests/support/world.h"

namespace ww::search {

inline const std::vector<build::Goods>& goods() {
  static const std::vector<build::Goods> list = [] {
    Errors errors;
    const std::string text = support::file_text(WW_SOURCE_DIR "/data/parts/tool.toml");
    auto read = build::read_goods({"tool.toml", text}, errors);
    EXPECT_TRUE(errors.empty());
    return read;
  }();
  return list;
}

/// The bike, rider, wishes and surroundings of a demo; every part open.
inline build::Build donor_of(const std::string& name) {
  const build::Build demo = support::demo(name);
  build::Build b;
  b.project = demo.project;
  b.donor = demo.donor;
  b.rider = demo.rider;
  b.wishes = demo.wishes;
  b.surroundings = demo.surroundings;
  b.tyre_front = demo.tyre_front;
  b.tyre_rear = demo.tyre_rear;
  return b;
}

inline Ask everything_open() {
  Ask ask;
  ask.open = (1U << axis_count) - 1;
  return ask;
}

/// Leaves only these parts of a shelf.
inline void only(Ask& ask, const std::string& shelf, const std::set<std::string>& ids) {
  for (const auto& part : support::library().shelf(shelf)) {
    if (ids.count(part.id) == 0) ask.without.push_back(shelf + "/" + part.id);
  }
}

struct Small {
  std::string donor;
  Ask ask;
};

inline std::vector<std::string> ids_of(const std::string& shelf) {
  std::vector<std::string> out;
  for (const auto& part : support::library().shelf(shelf)) out.push_back(part.id);
  return out;
}

/// Every so-many-th part of each shelf, from a start: three libraries that share little.
inline Small small(int which) {
  const char* donors[] = {"commuter", "trail", "road"};
  Small s{donors[which % 3], everything_open()};
  const auto some = [&](const std::string& shelf, std::size_t every, std::size_t start) {
    std::set<std::string> ids;
    const auto all = ids_of(shelf);
    for (std::size_t i = start; i < all.size(); i += every) ids.insert(all[i]);
    only(s.ask, shelf, ids);
  };
  const auto k = static_cast<std::size_t>(which);
  some("motor", 8, 1 + k);
  some("controller", 7, k);
  some("cell", 11, 2 + k);
  some("chain", 7, k);
  s.ask.series = {which == 1 ? 12 : 16, which == 1 ? 16 : 24};
  s.ask.parallel = {1, 3};
  s.ask.front_teeth = {14, 15};
  s.ask.rear_teeth = {42, 46};
  return s;
}

}  // namespace ww::search
