// SPDX-License-Identifier: MIT
// The standards tables of the driveline and the tyres: every row says where it comes from, and what
// stands twice is the same both times.
#include <gtest/gtest.h>

#include <toml++/toml.h>
#include <cmath>
#include <set>
#include <string>

#include "model/bolt.h"
#include "model/chain.h"
#include "model/tyre.h"

namespace ww::model {
namespace {

toml::table standards(const std::string& name) {
  return toml::parse_file(std::string(WW_SOURCE_DIR) + "/data/standards/" + name + ".toml");
}
double number(const toml::table& row, const char* key) {
  return row[key].value<double>().value_or(NAN);
}
std::string text(const toml::table& row, const char* key) {
  return row[key].value<std::string>().value_or("");
}

TEST(Standards, EveryRowNamesSourceAndKind) {
  const std::set<std::string> kinds{"published", "from memory", "practice"};
  for (const char* name : {"chain", "key", "bolt", "tyre"}) {
    int rows = 0;
    const auto file = standards(name);
    for (const auto& [key, rows_of_key] : file) {
      ASSERT_TRUE(rows_of_key.is_array()) << name;
      for (const auto& element : *rows_of_key.as_array()) {
        const toml::table& row = *element.as_table();
        EXPECT_FALSE(text(row, "source").empty()) << name << ": " << key.str();
        EXPECT_EQ(kinds.count(text(row, "kind")), 1U) << name << ": " << key.str();
        ++rows;
      }
    }
    EXPECT_GT(rows, 10) << name;
  }
}

TEST(Standards, TyreTablesAreTheModels) {
  const auto tyre = standards("tyre");
  int indices = 0;
  for (const auto& element : *tyre["load_index"].as_array()) {
    const auto& row = *element.as_table();
    EXPECT_EQ(load_index_kg(static_cast<int>(number(row, "index"))), number(row, "load_kg"));
    ++indices;
  }
  EXPECT_EQ(indices, 71);
  int symbols = 0;
  for (const auto& element : *tyre["speed_symbol"].as_array()) {
    const auto& row = *element.as_table();
    EXPECT_NEAR(speed_symbol_mps(text(row, "symbol").at(0)) * 3.6, number(row, "speed_kmh"), 1e-9);
    ++symbols;
  }
  EXPECT_EQ(symbols, 20);
  for (const char none : {'I', 'O', 'X', 'j', ' '}) EXPECT_TRUE(std::isnan(speed_symbol_mps(none)));
}

// Eighty steps to the tenfold load, rounded to handy figures: a slip of the pen would stand out.
TEST(Standards, LoadIndicesGrowEvenly) {
  for (int index = 20; index <= 90; ++index) {
    const double series = 250 * std::pow(10, (index - 60) / 80.0);
    EXPECT_NEAR(load_index_kg(index), series, 0.02 * series) << index;
    if (index > 20) {
      const double step = load_index_kg(index) / load_index_kg(index - 1);
      EXPECT_NEAR(step, std::pow(10, 1 / 80.0), 0.013) << index;
    }
  }
}

// Numbering: the first digit is the pitch in eighths of an inch, the last two the inner width in
// eightieths (28 and 32 are the exceptions with thicker rollers).
TEST(Standards, MotorcycleChainNumbersSayPitchAndWidth) {
  int chains = 0;
  const auto chain = standards("chain");
  for (const auto& element : *chain["chain"].as_array()) {
    const auto& row = *element.as_table();
    EXPECT_GT(number(row, "roller_diameter_mm"), 0.5 * number(row, "pitch_mm"));
    EXPECT_LT(number(row, "roller_diameter_mm"), 0.75 * number(row, "pitch_mm"));
    if (text(row, "series") != "motorcycle") continue;
    const std::string name = text(row, "designation");
    EXPECT_NEAR(number(row, "pitch_mm"), (name[0] - '0') * 25.4 / 8, 1e-9) << name;
    const double width = std::stod(name.substr(1)) / 80 * 25.4;
    if (name != "428" && name != "532") {
      EXPECT_NEAR(number(row, "inner_width_mm"), width, 0.16) << name;
    }
    ++chains;
  }
  EXPECT_EQ(chains, 8);
}

TEST(Standards, BoltAreasAreTheFormulas) {
  const auto bolt = standards("bolt");
  for (const auto& element : *bolt["thread"].as_array()) {
    const auto& row = *element.as_table();
    const BoltThread<double> thread{.diameter_m = number(row, "diameter_mm") * 1e-3,
                                    .pitch_m = number(row, "pitch_mm") * 1e-3};
    EXPECT_NEAR(stress_area_m2(thread) * 1e6, number(row, "stress_area_mm2"), 0.06);
  }
}

TEST(Standards, KeyDepthsAddUpToTheKeyAndItsPlay) {
  const auto key = standards("key");
  double before = 12;
  for (const auto& element : *key["metric_key"].as_array()) {
    const auto& row = *element.as_table();
    const double play =
        number(row, "depth_shaft_mm") + number(row, "depth_hub_mm") - number(row, "height_mm");
    EXPECT_GE(play, 0.2);
    EXPECT_LE(play, 0.35);
    EXPECT_EQ(number(row, "shaft_over_mm"), before);
    before = number(row, "shaft_to_mm");
  }
  for (const auto& element : *key["inch_key"].as_array()) {
    const auto& row = *element.as_table();
    EXPECT_NEAR(number(row, "depth_mm"), number(row, "height_mm") / 2, 1e-4);
  }
}

}  // namespace
}  // namespace ww::model
