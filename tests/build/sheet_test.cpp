// SPDX-License-Identifier: MIT
// The sheet's form as docs/formats.md has it: errors all at once and in their place, nothing
// silent, and text that comes back byte for byte.
#include "build/sheet.h"

#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <set>

#include "base/text.h"
#include "build/designation.h"

namespace ww::build {
namespace {

std::string file_text(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

const Library& library() {
  static const Library all = [] {
    Library made;
    for (const auto& entry : std::filesystem::directory_iterator(WW_SOURCE_DIR "/data/parts")) {
      if (entry.path().filename() == "tool.toml") continue;
      const std::string text = file_text(entry.path().string());
      EXPECT_TRUE(made.add({entry.path().string(), text}).empty());
    }
    return made;
  }();
  return all;
}

Sheet read(const std::string& text) {
  return read_sheet({"bike.toml", text}, library());
}

std::vector<std::string> demo_texts() {
  std::vector<std::string> texts;
  for (const auto& entry : std::filesystem::directory_iterator(WW_SOURCE_DIR "/data/demo"))
    texts.push_back(file_text(entry.path().string()));
  return texts;
}

// Every option has a label that a person reads, and a sheet takes its word.
TEST(FieldTable, OptionsHaveLabels) {
  int with_label = 0;
  for (const Entry& entry : schema().entries()) {
    const auto& info = *entry.info;
    ASSERT_EQ(info.options.size(), info.option_labels.size()) << entry.path;
    std::set<std::string_view> labels;
    for (std::size_t i = 1; i < info.options.size(); ++i) {
      const auto label = info.option_labels[i];
      EXPECT_EQ(label.find('_'), std::string_view::npos) << entry.path << ": " << label;
      EXPECT_FALSE(label.empty()) << entry.path;
      EXPECT_TRUE(labels.insert(label).second) << entry.path << ": " << label << " twice";
      with_label += label != info.options[i] ? 1 : 0;
    }
  }
  EXPECT_GT(with_label, 60);
}

TEST(FieldTable, PeopleReadLabelsAndSheetsKeepWords) {
  Build b;
  const Id stud = id_of("contactor.stud"), sensors = id_of("controller.sensors");
  ASSERT_TRUE(set_from_text(b, stud, "m8"));
  ASSERT_TRUE(set_from_text(b, sensors, "hall, sin_cos"));
  EXPECT_EQ(show(b, stud), "M8");
  EXPECT_EQ(show_in_words(b, stud), "m8");
  EXPECT_EQ(show(b, sensors), "three Hall sensors, sine-cosine encoder");
  EXPECT_EQ(show_in_words(b, sensors), "hall, sin_cos");
  EXPECT_NE(write_sheet(b, library()).find("stud = \"m8\""), std::string::npos);
  const auto wrong = set_from_text(b, stud, "m7");
  ASSERT_FALSE(wrong);
  EXPECT_NE(wrong.error().expected.find("weld (welded joint), m4 (M4)"), std::string::npos)
      << wrong.error().expected;
}

TEST(Sheet, ReadsFiguresCountsChoicesSetsAndTexts) {
  const Sheet sheet = read(R"(wattwright = 1
[motor]
mass = { value = "17 kg +- 0.2 kg", evidence = "measured", note = "scale", date = 2026-03-01 }
speed_constant = "60 rpm/V dc"
pole_pairs = 5
type = "pm radial"
[controller]
sensors = ["hall", "sin_cos"]
field_weakening = true
[tyre_rear]
size = "150/70-17"
)");
  ASSERT_TRUE(sheet.errors.empty()) << describe(sheet.errors[0]);
  const Motor& motor = *sheet.build.motor;
  EXPECT_DOUBLE_EQ(motor.mass.value, 17);
  EXPECT_DOUBLE_EQ(motor.mass.half_width, 0.2);
  EXPECT_EQ(motor.mass.evidence, figure::Evidence::measured);
  EXPECT_EQ(motor.mass.note, "scale");
  EXPECT_EQ(motor.mass.date, "2026-03-01");
  EXPECT_EQ(motor.speed_constant.convention, figure::Convention::dc);
  EXPECT_EQ(motor.speed_constant.evidence, figure::Evidence::guess);
  EXPECT_EQ(motor.pole_pairs, 5);
  EXPECT_EQ(motor.type, MotorType::pm_radial);
  EXPECT_EQ(sheet.build.controller->sensors, (1U << 2U) | (1U << 3U));
  EXPECT_EQ(sheet.build.controller->field_weakening, Answer::yes);
  EXPECT_EQ(sheet.build.tyre_rear->size, "150/70-17");
  EXPECT_FALSE(sheet.build.cell.has_value());
}

TEST(Sheet, ListsEveryErrorWithItsPlaceAndTheNearestKey) {
  const Sheet sheet = read(R"(wattwright = 1
[motor]
mas = "17 kg"
diameter = "206 V"
pole_pairs = "five"
type = "pm_radal"
[contoller]
mass = "3 kg"
[gearing]
front_teeth = 3
)");
  ASSERT_EQ(sheet.errors.size(), 6U);
  EXPECT_EQ(sheet.errors[0].code, "unknown-key");
  EXPECT_EQ(sheet.errors[0].line, 3);
  EXPECT_NE(sheet.errors[0].way_out.find("'mass'"), std::string::npos);
  EXPECT_EQ(sheet.errors[1].code, "wrong-kind");
  EXPECT_EQ(sheet.errors[1].field, "motor.diameter");
  EXPECT_EQ(sheet.errors[2].code, "bad-count");
  EXPECT_EQ(sheet.errors[3].code, "unknown-option");
  EXPECT_NE(sheet.errors[3].way_out.find("pm_radial"), std::string::npos);
  EXPECT_EQ(sheet.errors[4].found, "contoller");
  EXPECT_NE(sheet.errors[4].way_out.find("controller"), std::string::npos);
  EXPECT_EQ(sheet.errors[5].code, "out-of-range");
  for (const auto& error : sheet.errors) {
    EXPECT_EQ(error.file, "bike.toml");
    EXPECT_GT(error.line, 0);
    EXPECT_GT(error.column, 0);
  }
}

TEST(Sheet, RefusesWhatIsNoSheet) {
  EXPECT_EQ(read("").errors.at(0).code, "no-version");
  EXPECT_EQ(read("wattwright = 2\n").errors.at(0).code, "bad-version");
  EXPECT_EQ(read("wattwright = 55555555555555555555555e000000000001\n").errors.at(0).code,
            "bad-version");
  EXPECT_EQ(read("wattwright = 1\n[motor\n").errors.at(0).code, "not-toml");
  EXPECT_EQ(read("wattwright = 1\nmotor = 3\n").errors.at(0).code, "wrong-type");
  EXPECT_EQ(read("wattwright = 1\n[motor]\npart = \"no-such-thing\"\n").errors.at(0).code,
            "unknown-part");
  // Found by the fuzzer, 2026-11-25: a number as a part's name was taken unseen.
  EXPECT_EQ(read("wattwright = 1\n[lug]\npart = 1\n").errors.at(0).code, "unknown-part");
  EXPECT_EQ(read("wattwright = 1\n[motor]\nmass = { evidence = \"measured\" }\n").errors.at(0).code,
            "missing-value");
  EXPECT_EQ(read("wattwright = 1\n[motor]\nmass = { value = \"1 kg\", evidence = \"sworn\" }\n")
                .errors.size(),
            1U);
  EXPECT_EQ(read("wattwright = 1\n[motor]\nmass = { value = \"1 kg\", date = \"tomorrow\" }\n")
                .errors.at(0)
                .code,
            "bad-date");
  EXPECT_EQ(read("wattwright = 1\n[motor]\nmass = [1, 2]\n").errors.at(0).code, "wrong-type");
}

TEST(Sheet, MixedCurrenciesAreAnError) {
  const Sheet sheet = read(
      "wattwright = 1\n[project]\ncurrency = \"EUR\"\n[motor]\nprice = \"900 "
      "USD\"\n[controller]\nprice = \"500 EUR\"\n");
  ASSERT_EQ(sheet.errors.size(), 1U);
  EXPECT_EQ(sheet.errors[0].code, "mixed-currencies");
  EXPECT_EQ(sheet.errors[0].field, "motor.price");
}

TEST(Sheet, ABareDollarIsUsd) {
  const auto priced = [](const std::string& currency, const std::string& price) {
    return read("wattwright = 1\n[project]\ncurrency = \"" + currency + "\"\n[motor]\nprice = \"" +
                price + "\"\n")
        .errors.size();
  };
  EXPECT_EQ(priced("USD", "$900"), 0U);
  EXPECT_EQ(priced("USD", "900 $"), 0U);
  EXPECT_EQ(priced("$", "$900"), 0U) << "sheets that took over the sign from a price";
  EXPECT_EQ(priced("$", "900 USD"), 0U);
  EXPECT_EQ(priced("CAD", "$900"), 1U);
  EXPECT_EQ(priced("EUR", "$900"), 1U);
}

TEST(Sheet, TheSheetWinsOverTheLibrary) {
  const std::string id = library().shelf("motor").at(0).id;
  const Sheet sheet = read("wattwright = 1\n[motor]\npart = \"" + id + "\"\nmass = \"99 kg\"\n");
  ASSERT_TRUE(sheet.errors.empty());
  EXPECT_DOUBLE_EQ(sheet.build.motor->mass.value, 99);
  EXPECT_EQ(sheet.build.motor->part, id);
  EXPECT_TRUE(sheet.build.motor->diameter.known());
}

TEST(Sheet, ReadWriteReadIsExactOnEveryDemo) {
  for (const auto& text : demo_texts()) {
    const Sheet first = read(text);
    ASSERT_TRUE(first.errors.empty()) << describe(first.errors[0]);
    const std::string written = write_sheet(first.build, library());
    const Sheet second = read(written);
    ASSERT_TRUE(second.errors.empty()) << describe(second.errors[0]) << "\n" << written;
    EXPECT_EQ(write_sheet(second.build, library()), written);
    for (Id id = 0; id < schema().size(); ++id) {
      EXPECT_EQ(show(first.build, id), show(second.build, id)) << schema()[id].path;
      const double a = number_at(first.build, id), b = number_at(second.build, id);
      EXPECT_TRUE(a == b || (std::isnan(a) && std::isnan(b))) << schema()[id].path;
      const Figure *fa = figure_at(first.build, id), *fb = figure_at(second.build, id);
      if (fa == nullptr || fb == nullptr || !fa->known()) continue;
      EXPECT_EQ(fa->typed, fb->typed);
      EXPECT_EQ(fa->evidence, fb->evidence) << schema()[id].path;
      EXPECT_EQ(fa->note, fb->note);
      EXPECT_EQ(fa->date, fb->date);
    }
  }
}

/// A build with every field set to something: numbers inside the limits, awkward texts.
Build everything(std::mt19937& random) {
  Build build;
  std::uniform_real_distribution<double> share(0.001, 0.999);
  for (Id id = 0; id < schema().size(); ++id) {
    const auto& info = *schema()[id].info;
    if (info.key == "part") continue;
    switch (info.type) {
      case FieldType::text:
        EXPECT_TRUE(set_from_text(build, id, "\"quoted\" \\ \n tab\t \x7f Ø").has_value());
        break;
      case FieldType::choice:
        set_number(build, id, 1 + std::floor(share(random) * double(info.options.size() - 1)));
        break;
      case FieldType::set:
        set_number(build, id, 2);
        break;
      case FieldType::count:
        set_number(build, id, std::floor(info.low + share(random) * (info.high - info.low)));
        break;
      case FieldType::figure: {
        set_number(build, id, info.low + share(random) * (info.high - info.low));
        Figure& figure = *figure_at(build, id);
        if (share(random) < 0.5) figure.half_width = std::fabs(figure.value) * 0.01;
        figure.evidence = static_cast<figure::Evidence>(static_cast<int>(share(random) * 5));
        if (share(random) < 0.3) figure.note = "why \"so\"";
        break;
      }
    }
  }
  build.owns = {"a \"tool\"", "b"};
  build.extras = {{.name = "x",
                   .group = "y",
                   .price = {},
                   .lead_time = {},
                   .quantity = 3,
                   .state = State::ordered}};
  return build;
}

TEST(Sheet, EveryFieldSurvivesWritingAndReading) {
  std::mt19937 random(7);
  for (int round = 0; round < 20; ++round) {
    const Build build = everything(random);
    const std::string text = write_sheet(build, library());
    const Sheet back = read(text);
    ASSERT_TRUE(back.errors.empty()) << describe(back.errors[0]);
    EXPECT_EQ(write_sheet(back.build, library()), text);
    for (Id id = 0; id < schema().size(); ++id) {
      const double a = number_at(build, id), b = number_at(back.build, id);
      EXPECT_TRUE(a == b || (std::isnan(a) && std::isnan(b)))
          << schema()[id].path << " " << a << " " << b;
    }
  }
}

TEST(Sheet, AnUnknownStateOfAnotherPurchaseNamesTheWordsItTakes) {
  const auto sheet = read("wattwright = 1\n[[extra]]\nname = \"fork springs\"\nstate = \"herg\"\n");
  ASSERT_EQ(sheet.errors.size(), 1U);
  EXPECT_EQ(sheet.errors[0].code, "unknown-option");
  EXPECT_NE(sheet.errors[0].expected.find("thinking, ordered, here"), std::string::npos)
      << sheet.errors[0].expected;
}

TEST(Sheet, MutatedSheetsGiveAnErrorOrAnAnswerNeverACrash) {
  std::mt19937 random(11);
  const auto texts = demo_texts();
  int with_errors = 0;
  for (int i = 0; i < 500; ++i) {
    std::string text = texts[static_cast<std::size_t>(i) % texts.size()];
    std::uniform_int_distribution<std::size_t> place(0, text.size() - 1);
    for (int k = 0; k < 1 + i % 5; ++k) {
      const std::size_t at = place(random);
      switch (i % 4) {
        case 0:
          text[at] = static_cast<char>(random() % 256);
          break;
        case 1:
          text.erase(at, 1 + random() % 9);
          break;
        case 2:
          text.insert(at, text.substr(place(random) / 2, 1 + random() % 30));
          break;
        default:
          text.insert(at, "-9e99");
          break;
      }
      place =
          std::uniform_int_distribution<std::size_t>(0, std::max<std::size_t>(text.size(), 1) - 1);
    }
    const Sheet sheet = read(text);
    with_errors += sheet.errors.empty() ? 0 : 1;
    for (const auto& error : sheet.errors) {
      EXPECT_FALSE(error.code.empty());
      EXPECT_FALSE(error.what.empty());
    }
    for (Id id = 0; id < schema().size(); ++id) {
      const Figure* figure = figure_at(sheet.build, id);
      if (figure != nullptr && figure->known()) {
        EXPECT_TRUE(std::isfinite(figure->value));
      }
    }
    const Sheet again = read(write_sheet(sheet.build, library()));
    EXPECT_TRUE(again.errors.empty() || !sheet.errors.empty()) << describe(again.errors[0]);
  }
  EXPECT_GT(with_errors, 250);
}

TEST(Fields, KeysAreUniqueLimitsOrderedAndPriorsInside) {
  for (Id id = 0; id < schema().size(); ++id) {
    const auto& entry = schema()[id];
    EXPECT_EQ(schema().find(entry.path), id) << entry.path << " stands twice";
    EXPECT_FALSE(entry.info->label.empty()) << entry.path;
    if (entry.info->type == FieldType::figure || entry.info->type == FieldType::count) {
      EXPECT_LT(entry.info->low, entry.info->high) << entry.path;
    }
    const Prior& prior = entry.info->prior;
    if (!prior.known()) continue;
    EXPECT_GE(prior.value, entry.info->low) << entry.path;
    EXPECT_LE(prior.value, entry.info->high) << entry.path;
    EXPECT_FALSE(prior.source.empty()) << entry.path;
  }
  EXPECT_EQ(schema().find("motor.nothing"), -1);
}

TEST(Fields, SetFromTextLeavesTheBuildAloneOnAnError) {
  Build build;
  EXPECT_FALSE(set_from_text(build, id_of("motor.mass"), "heavy").has_value());
  EXPECT_FALSE(build.motor.has_value());
  EXPECT_TRUE(set_from_text(build, id_of("motor.mass"), "17 kg").has_value());
  EXPECT_FALSE(set_from_text(build, id_of("motor.mass"), "-1 kg").has_value());
  EXPECT_DOUBLE_EQ(build.motor->mass.value, 17);
}

TEST(Designation, ReadsTyreMarkings) {
  const auto metric = read_tyre_marking("150/70 ZR17 69H");
  EXPECT_DOUBLE_EQ(metric.width_m, 0.150);
  EXPECT_DOUBLE_EQ(metric.aspect, 0.70);
  EXPECT_DOUBLE_EQ(metric.rim_m, 17 * 0.0254);
  const auto inch = read_tyre_marking("3.50-18");
  EXPECT_DOUBLE_EQ(inch.width_m, 3.5 * 0.0254);
  EXPECT_DOUBLE_EQ(inch.aspect, 1.0);
  EXPECT_DOUBLE_EQ(read_tyre_marking("4.10-18").aspect, 0.9);
  EXPECT_DOUBLE_EQ(read_tyre_marking("4.25/85-18").width_m, 4.25 * 0.0254);
  EXPECT_EQ(read_tyre_marking("round and black").width_m, 0);
  EXPECT_EQ(read_tyre_marking("").width_m, 0);
  EXPECT_EQ(read_tyre_marking("9999999999999999999999/1-1").width_m, 0);
}

// ---- what was done, measured and laid
// ---------------------------------------------------------------

constexpr const char* logged = R"(wattwright = 1

[pack]
series = 2
parallel = 1

[[wire]]
label = "T4"
colour = "orange"
length = "0.62 m"
laid = "yes"
lug_from = "50-8, tinned"
lug_to = "50-10"
torque = "9 N m"
date = "2026-11-07"
photo = "img_0412.jpg"

[[cell_measured]]
evidence = "measured"
name = "C01"
voltage = "3.298 V"
voltage_later = "3.297 V"
capacity = "105.2 Ah +- 0.5 Ah"
resistance = "0.51 mohm"
group = 2
date = "2026-10-03"

[[cell_measured]]
name = "C02"

[[done]]
step = "pack-voltage"
reading = "78.9 V +- 0.1 V"
instrument = "multimeter, \"the yellow one\""
date = "2026-11-14"
note = "sign +; \u00e9tat neuf"

[[done]]
step = "bench"
reading = "yes"
)";

TEST(Log, ComesBackAsItWasWritten) {
  const Sheet first = read(logged);
  ASSERT_TRUE(first.errors.empty()) << describe(first.errors[0]);
  const Build& b = first.build;
  ASSERT_EQ(b.wires.size(), 1U);
  EXPECT_EQ(b.wires[0].laid, Answer::yes);
  EXPECT_DOUBLE_EQ(b.wires[0].torque.value, 9);
  ASSERT_EQ(b.units.size(), 2U);
  EXPECT_EQ(b.units[0].group, 2);
  EXPECT_EQ(b.units[0].capacity.evidence, figure::Evidence::measured);
  EXPECT_DOUBLE_EQ(b.units[0].capacity.half_width, 0.5 * 3600);
  EXPECT_EQ(b.units[1].group, unknown_count);
  ASSERT_EQ(b.log.size(), 2U);
  EXPECT_EQ(b.log[0].instrument, "multimeter, \"the yellow one\"");
  EXPECT_EQ(b.log[0].note, "sign +; \u00e9tat neuf");
  const std::string text = write_sheet(b, library());
  const Sheet again = read(text);
  ASSERT_TRUE(again.errors.empty()) << describe(again.errors[0]);
  EXPECT_EQ(write_sheet(again.build, library()), text);
  EXPECT_EQ(again.build.log[0].reading, "78.9 V +- 0.1 V");
}

TEST(Log, WhatIsWrongIsNamedInItsPlace) {
  const auto error = [](const std::string& tail) {
    const Sheet sheet = read("wattwright = 1\n" + tail);
    return sheet.errors.empty() ? Error{} : sheet.errors[0];
  };
  const Error unknown = error("[[done]]\nstep = \"bench\"\nreadin = \"yes\"\n");
  EXPECT_EQ(unknown.code, "unknown-key");
  EXPECT_EQ(unknown.line, 4);
  EXPECT_NE(unknown.way_out.find("'reading'"), std::string::npos);
  EXPECT_EQ(error("[[done]]\nreading = \"yes\"\n").code, "missing-value");
  EXPECT_EQ(error("[done]\nstep = \"bench\"\n").code, "wrong-type");
  EXPECT_EQ(error("[[cell_measured]]\nvoltage = \"3.3 V\"\n").code, "missing-value");
  EXPECT_EQ(error("[[cell_measured]]\nname = \"a\"\n[[cell_measured]]\nname = \"a\"\n").code,
            "twice");
  const Error unit = error("[[cell_measured]]\nname = \"a\"\nvoltage = \"3.3 kg\"\n");
  EXPECT_EQ(unit.code, "wrong-kind");
  EXPECT_EQ(unit.line, 4);
  EXPECT_EQ(error("[[cell_measured]]\nname = \"a\"\ngroup = 0\n").code, "out-of-range");
  EXPECT_EQ(error("[[wire]]\nlabel = \"T3\"\nlaid = \"perhaps\"\n").code, "unknown-option");
  const Error table = error("[[don]]\nstep = \"bench\"\n");
  EXPECT_NE(table.way_out.find("[done]"), std::string::npos) << table.way_out;
}

}  // namespace
}  // namespace ww::build
