// SPDX-License-Identifier: MIT
// The tables of model/wire_tables.cpp and of data/standards/*.toml hold the same figures.
#define TOML_HEADER_ONLY 1
#include <gtest/gtest.h>
#include <toml++/toml.h>

#include <cmath>
#include <set>
#include <string>

#include "model/wire.h"
#include "model/wire_tables.h"

namespace ww::model {
namespace {

toml::table standard(const char* name) {
  return toml::parse_file(std::string(WW_SOURCE_DIR "/data/standards/") + name);
}

double number(const toml::table& row, const char* key) {
  return row[key].value<double>().value_or(NAN);
}

void expect_same(double a, double b, const std::string& what) {
  if (std::isnan(a) || std::isnan(b)) {
    EXPECT_EQ(std::isnan(a), std::isnan(b)) << what;
  } else {
    EXPECT_NEAR(a, b, 1e-12 * std::fabs(b)) << what;
  }
}

TEST(ElecTables, EveryRowNamesItsSourceAndKind) {
  const std::set<std::string> kinds{"published", "computed", "practice", "from-memory"};
  for (const char* name : {"wire.toml", "fuse.toml"}) {
    int rows = 0;
    for (const auto& [key, list] : standard(name)) {
      for (const auto& node : *list.as_array()) {
        const toml::table& row = *node.as_table();
        EXPECT_FALSE(row["source"].value<std::string>().value_or("").empty()) << key.str();
        EXPECT_EQ(kinds.count(row["kind"].value<std::string>().value_or("")), 1U) << key.str();
        ++rows;
      }
    }
    EXPECT_GT(rows, 50) << name;
  }
}

TEST(ElecTables, Class5SizesAreThoseOfTheData) {
  const toml::table file = standard("wire.toml");
  const toml::array& rows = *file["class5"].as_array();
  ASSERT_EQ(rows.size(), class5_sizes().size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const toml::table& row = *rows[i].as_table();
    const Class5Size& size = class5_sizes()[i];
    const std::string what = "size " + std::to_string(i);
    expect_same(size.section_m2 * 1e6, number(row, "section_mm2"), what);
    expect_same(size.resistance_plain_ohmpm * 1e3, number(row, "resistance_plain_ohmpkm"), what);
    expect_same(size.resistance_tinned_ohmpm * 1e3, number(row, "resistance_tinned_ohmpkm"), what);
  }
}

double published_A(const toml::table& file, const char* list, int gauge, const char* key,
                   double at) {
  for (const auto& node : *file[list].as_array()) {
    const toml::table& row = *node.as_table();
    if (number(row, "gauge") == gauge && number(row, key) == at) return number(row, "current_A");
  }
  return NAN;
}

TEST(ElecTables, GaugeCurrentsAreThoseOfTheData) {
  const toml::table file = standard("wire.toml");
  for (const GaugeCurrents& g : gauge_currents()) {
    const std::string what = "gauge " + std::to_string(g.gauge);
    expect_same(g.current_60C_A, published_A(file, "free_air", g.gauge, "limit_C", 60), what);
    expect_same(g.current_75C_A, published_A(file, "free_air", g.gauge, "limit_C", 75), what);
    expect_same(g.current_90C_A, published_A(file, "free_air", g.gauge, "limit_C", 90), what);
    expect_same(g.current_boat_A, published_A(file, "boat", g.gauge, "ambient_C", 30), what);
    expect_same(g.current_boat_engine_A, published_A(file, "boat", g.gauge, "ambient_C", 50), what);
  }
}

TEST(ElecTables, FuseRatingsAreThoseOfTheData) {
  const toml::table file = standard("fuse.toml");
  const toml::array& rows = *file["rating"].as_array();
  ASSERT_EQ(rows.size(), fuse_ratings_A().size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    EXPECT_EQ(fuse_ratings_A()[i], number(*rows[i].as_table(), "current_A"));
  }
}

TEST(ElecTables, GaugeDataFollowTheFormulas) {
  const toml::table file = standard("wire.toml");
  for (const auto& node : *file["awg"].as_array()) {
    const toml::table& row = *node.as_table();
    const double d_m = awg_diameter_m(number(row, "gauge"));
    EXPECT_NEAR(d_m / 0.0254, number(row, "diameter_in"), 5e-5);
    EXPECT_NEAR(d_m * 1e3, number(row, "diameter_mm"), 5e-4);
    EXPECT_NEAR(circle_area_m2(d_m) / circular_mil_m2, number(row, "area_cmil"), 0.5);
    EXPECT_NEAR(circle_area_m2(d_m) * 1e6, number(row, "area_mm2"), 5e-4);
  }
  for (const auto& node : *file["sae"].as_array()) {
    const toml::table& row = *node.as_table();
    EXPECT_NEAR(number(row, "area_cmil") * circular_mil_m2 * 1e6, number(row, "area_mm2"), 5e-4);
  }
}

TEST(ElecTables, LookUpsRoundUp) {
  EXPECT_EQ(class5_at_least(25e-6)->section_m2, 25e-6);
  EXPECT_EQ(class5_at_least(25.0000000001e-6)->section_m2, 25e-6);
  EXPECT_EQ(class5_at_least(25.1e-6)->section_m2, 35e-6);
  EXPECT_EQ(class5_at_least(0.1e-6)->section_m2, 1.5e-6);
  EXPECT_EQ(class5_at_least(121e-6), nullptr);
  EXPECT_EQ(fuse_rating_at_least_A(1), 15);
  EXPECT_EQ(fuse_rating_at_least_A(100), 100);
  EXPECT_EQ(fuse_rating_at_least_A(100.1), 110);
  EXPECT_EQ(fuse_rating_at_least_A(700), 700);
  EXPECT_TRUE(std::isnan(fuse_rating_at_least_A(700.1)));
}

TEST(ElecTables, MoreMetalNeverCarriesLess) {
  const auto sizes = class5_sizes();
  for (std::size_t i = 1; i < sizes.size(); ++i) {
    EXPECT_GT(sizes[i].section_m2, sizes[i - 1].section_m2);
    EXPECT_LT(sizes[i].resistance_plain_ohmpm, sizes[i - 1].resistance_plain_ohmpm);
    EXPECT_FALSE(sizes[i].resistance_tinned_ohmpm <= sizes[i].resistance_plain_ohmpm);
  }
  const auto gauges = gauge_currents();
  for (std::size_t i = 1; i < gauges.size(); ++i) {
    EXPECT_LT(gauges[i].gauge, gauges[i - 1].gauge);
    EXPECT_GT(gauges[i].current_90C_A, gauges[i - 1].current_90C_A);
    EXPECT_GT(gauges[i].current_boat_A, gauges[i].current_boat_engine_A);
    EXPECT_FALSE(gauges[i].current_60C_A >= gauges[i].current_75C_A);
  }
  for (std::size_t i = 1; i < fuse_ratings_A().size(); ++i) {
    EXPECT_GT(fuse_ratings_A()[i], fuse_ratings_A()[i - 1]);
  }
}

}  // namespace
}  // namespace ww::model
