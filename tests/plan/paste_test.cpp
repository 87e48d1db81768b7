// SPDX-License-Identifier: MIT
// A pasted listing: what is read of the invented listings of tests/listings, and what must hold for
// any text at all.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <map>
#include <random>
#include <set>
#include <sstream>

#include "base/text.h"
#include "build/library.h"
#include "plan/paste.h"
#include "plan/paste_fields.h"
#include "plan/paste_text.h"
#include "plan/paste_words.h"

namespace {

using namespace ww;
using plan::Pasted;
using plan::PastedFigure;
using plan::Sureness;

std::string slurp(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

struct Expectation {
  std::map<std::string, std::vector<std::string>> must, may;
  std::set<std::string> ask;
  std::map<std::string, std::string> meta;
};

struct Listing {
  std::string name, text;
  Expectation expect;
};

Expectation read_expectation(const std::string& bytes) {
  Expectation out;
  for (const auto raw : split(bytes, '\n')) {
    const std::string line(trim(raw));
    if (line.empty() || line[0] == '#') continue;
    const auto cells = split(line, '\t');
    const std::string head(trim(cells[0]));
    const std::string value(cells.size() > 1 ? trim(cells[1]) : std::string_view{});
    if (head[0] == '@') {
      out.meta[head] = value;
    } else if (head.rfind("ask ", 0) == 0) {
      out.ask.insert(head.substr(4));
    } else if (head.rfind("may ", 0) == 0) {
      out.may[head.substr(4)].push_back(value);
    } else {
      out.must[head].push_back(value);
    }
  }
  return out;
}

std::vector<Listing> listings(const std::string& folder) {
  std::vector<Listing> out;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    if (entry.path().extension() != ".txt") continue;
    std::string text = slurp(entry.path());
    text.erase(0, text.find('\n') + 1);  // the line that says it is invented
    auto tsv = entry.path();
    tsv.replace_extension(".tsv");
    out.push_back({entry.path().stem().string(), std::move(text), read_expectation(slurp(tsv))});
  }
  std::sort(out.begin(), out.end(),
            [](const Listing& a, const Listing& b) { return a.name < b.name; });
  return out;
}

/// Whether two texts mean the same to a field: value within 0.1 %, the same convention.
bool same(build::Id id, const std::string& a, const std::string& b) {
  build::Build x, y;
  if (!build::set_from_text(x, id, a) || !build::set_from_text(y, id, b)) return false;
  const build::FieldInfo& info = *build::schema()[id].info;
  if (info.type == build::FieldType::text) return trim(a) == trim(b);
  const double p = build::number_at(x, id), q = build::number_at(y, id);
  if (std::fabs(p - q) > 1e-3 * std::max(std::fabs(p), std::fabs(q))) return false;
  const auto* f = build::figure_at(x, id);
  const auto* g = build::figure_at(y, id);
  return f == nullptr || f->convention == g->convention;
}

bool same_any(build::Id id, const std::string& text, const std::vector<std::string>& good) {
  return std::any_of(good.begin(), good.end(),
                     [&](const std::string& g) { return same(id, text, g); });
}

struct Score {
  int right = 0, asked = 0, missed = 0, wrong = 0, open_kept = 0, open = 0;
  int kinds = 0, kinds_right = 0, corrections_most = 0, over_five = 0, listings = 0;
  std::vector<std::string> notes;
};

bool asked_for(const Pasted& pasted, const std::string& key) {
  for (const auto& question : pasted.questions) {
    for (const auto& option : question.options) {
      if (option.key == key) return true;
    }
  }
  return std::any_of(pasted.conflicts.begin(), pasted.conflicts.end(),
                     [&](const auto& c) { return c.key == key; });
}

void note(Score& score, const Listing& listing, const std::string& text) {
  score.notes.push_back(listing.name + ": " + text);
}

void score_kind(Score& score, const Listing& listing, const Pasted& pasted) {
  const auto at = listing.expect.meta.find("@kind");
  if (at == listing.expect.meta.end()) return;
  ++score.kinds;
  if (at->second == pasted.kind) {
    ++score.kinds_right;
  } else {
    note(score, listing, "kind '" + pasted.kind + "', expected '" + at->second + "'");
  }
}

void score_meta(Score& score, const Listing& listing, const Pasted& pasted) {
  const auto check = [&](const char* key, const std::string& got) {
    const auto at = listing.expect.meta.find(key);
    if (at != listing.expect.meta.end() && at->second != got) {
      ++score.wrong;
      note(score, listing, std::string(key) + " '" + got + "', expected '" + at->second + "'");
    }
  };
  check("@link", pasted.link);
  check("@date", pasted.date);
  check("@model", pasted.model_code);
}

void score_one(Score& score, const Listing& listing) {
  plan::PasteHint hint;
  if (const auto at = listing.expect.meta.find("@hint"); at != listing.expect.meta.end())
    hint.kind = at->second;
  const Pasted pasted = plan::read_paste(listing.text, hint);
  ++score.listings;
  score_kind(score, listing, pasted);
  score_meta(score, listing, pasted);
  const auto& e = listing.expect;
  int corrections = 0;
  std::set<std::string> filled;
  for (const PastedFigure& f : pasted.figures) {
    filled.insert(f.key);
    const build::Id id = f.field >= 0 ? f.field : build::schema().find("motor." + f.key);
    const auto must = e.must.find(f.key);
    const auto may = e.may.find(f.key);
    const bool good = (must != e.must.end() && same_any(id, f.text, must->second)) ||
                      (may != e.may.end() && same_any(id, f.text, may->second));
    if (good) {
      if (must != e.must.end()) ++score.right;
      continue;
    }
    ++score.wrong;
    ++corrections;
    note(score, listing,
         "WRONG " + f.key + " = " + f.text + " (" + std::string(word(f.sure)) + ")");
  }
  for (const auto& [key, values] : e.must) {
    if (filled.count(key) > 0) continue;
    ++corrections;
    if (asked_for(pasted, key)) {
      ++score.asked;
      note(score, listing, "asked  " + key + ", could be " + values[0]);
    } else {
      ++score.missed;
      note(score, listing, "missed " + key + " = " + values[0]);
    }
  }
  for (const auto& key : e.ask) {
    ++score.open;
    // A wrong value was counted above; a `may` is as good as open.
    if (filled.count(key) == 0 || e.may.count(key) > 0) ++score.open_kept;
  }
  score.corrections_most = std::max(score.corrections_most, corrections);
  if (corrections > 5) ++score.over_five;
}

Score score_folder(const std::string& folder) {
  Score score;
  for (const Listing& listing : listings(folder)) score_one(score, listing);
  return score;
}

void print(const char* title, const Score& s) {
  const int all = s.right + s.asked + s.missed;
  const auto share = [&](int n) { return 100.0 * n / std::max(1, all); };
  std::printf("%s: %d listings, %d figures that a careful reader takes\n", title, s.listings, all);
  std::printf("  read right %d (%.1f %%), asked %d (%.1f %%), missed %d (%.1f %%)\n", s.right,
              share(s.right), s.asked, share(s.asked), s.missed, share(s.missed));
  std::printf(
      "  read wrong in silence %d; left open as it should be %d of %d; kind right %d of %d\n",
      s.wrong, s.open_kept, s.open, s.kinds_right, s.kinds);
  std::printf("  most corrections in one listing %d; more than five in %d\n", s.corrections_most,
              s.over_five);
  for (const auto& n : s.notes) std::printf("    %s\n", n.c_str());
}

const char* const folder = WW_SOURCE_DIR "/tests/listings";

TEST(Paste, InventedListingsNothingWrongInSilence) {
  const Score score = score_folder(folder);
  print("tests/listings", score);
  EXPECT_GE(score.listings, 60);
  EXPECT_EQ(score.wrong, 0);
  EXPECT_EQ(score.open_kept, score.open);
  EXPECT_EQ(score.kinds_right, score.kinds);
  EXPECT_EQ(score.over_five, 0);
}

TEST(Paste, HeldBackListingsNothingWrongInSilence) {
  const Score score = score_folder(std::string(folder) + "/check");
  print("tests/listings/check", score);
  EXPECT_GE(score.listings, 20);
  EXPECT_EQ(score.wrong, 0);
}

TEST(Paste, LastListingsNothingWrongInSilence) {
  const Score score = score_folder(std::string(folder) + "/last");
  print("tests/listings/last", score);
  EXPECT_GE(score.listings, 12);
  EXPECT_EQ(score.wrong, 0);
}

TEST(Paste, FreshListingsNothingWrongInSilence) {
  const Score score = score_folder(std::string(folder) + "/fresh");
  print("tests/listings/fresh", score);
  EXPECT_GE(score.listings, 15);
  EXPECT_EQ(score.wrong, 0);
}

// --- the tables ---

TEST(PasteTables, EveryWordStandsOnceAndIsSpelledAsTheTextIsRead) {
  std::set<std::string_view> seen;
  for (const auto& w : plan::paste::words()) {
    EXPECT_TRUE(seen.insert(w.spelling).second) << w.spelling;
    EXPECT_EQ(plan::paste::plain_text(w.spelling).low, w.spelling);
  }
  EXPECT_GT(seen.size(), 1000);
}

const build::Slot* slot_of(std::string_view shelf) {
  for (const build::Slot& slot : build::schema().slots()) {
    if (slot.is_part && slot.shelf == shelf) return &slot;
  }
  return nullptr;
}

build::Id field(std::string_view shelf, std::string_view key) {
  const build::Slot* slot = slot_of(shelf);
  return slot == nullptr ? -1
                         : build::schema().find(std::string(slot->key) + "." + std::string(key));
}

TEST(PasteTables, EveryMeaningNamesAField) {
  for (const auto& row : plan::paste::meanings()) {
    std::string keys(row.keys);
    std::replace(keys.begin(), keys.end(), '.', ',');
    for (const auto key : split(keys, ',')) {
      if (key.empty()) continue;
      EXPECT_GE(field(row.shelf.empty() ? "controller" : row.shelf, key), 0)
          << row.shelf << " " << key;
    }
    EXPECT_FALSE(row.why.empty());
  }
  for (const auto& saying : plan::paste::sayings()) {
    const build::Id id = field(saying.shelf, saying.key);
    ASSERT_GE(id, 0) << saying.shelf << " " << saying.key;
    build::Build scratch;
    EXPECT_TRUE(build::set_from_text(scratch, id, saying.option).has_value()) << saying.option;
  }
  for (const auto& wording : plan::paste::seller_wordings()) {
    EXPECT_GE(build::schema().find(wording.path), 0) << wording.path;
    EXPECT_NE(wording.text.find_first_of("?."), std::string_view::npos);
  }
}

// --- what must hold for any text ---

/// The quote's words are the bytes between its ends, with '?' for what is no UTF-8.
void expect_quote(const std::string& text, const plan::Quote& quote) {
  ASSERT_LE(quote.begin, quote.end);
  ASSERT_LE(quote.end, std::min(text.size(), plan::paste_bytes_max));
  ASSERT_TRUE(valid_utf8(quote.words));
  const std::string bytes = text.substr(quote.begin, quote.end - quote.begin);
  if (valid_utf8(bytes)) {
    ASSERT_EQ(quote.words, bytes);
  }
  ASSERT_EQ(quote.words.size(), bytes.size());
}

void expect_sound(const std::string& text, const Pasted& pasted) {
  for (const PastedFigure& f : pasted.figures) {
    for (const auto& quote : f.from) expect_quote(text, quote);
    if (pasted.shelf.empty()) continue;
    build::Build scratch;
    ASSERT_GE(f.field, 0);
    ASSERT_TRUE(build::set_from_text(scratch, f.field, f.text).has_value())
        << f.key << " " << f.text;
    ASSERT_NE(f.sure, Sureness::ask);
    ASSERT_FALSE(f.why.empty());
  }
  std::set<std::string> keys;
  for (const PastedFigure& f : pasted.figures) ASSERT_TRUE(keys.insert(f.key).second) << f.key;
  for (const auto& conflict : pasted.conflicts) {
    ASSERT_EQ(keys.count(conflict.key), 0U);
    ASSERT_GE(conflict.values.size(), 2U);
  }
  for (const auto& question : pasted.questions) {
    for (const auto& quote : question.from) expect_quote(text, quote);
    for (const auto& option : question.options) {
      build::Build scratch;
      ASSERT_TRUE(
          build::set_from_text(scratch, field(pasted.shelf, option.key), option.text).has_value())
          << option.key << " " << option.text;
    }
  }
  for (const auto& unused : pasted.unused) expect_quote(text, unused.from);
  ASSERT_TRUE(valid_utf8(pasted.name) && pasted.name.size() <= 120);
  ASSERT_TRUE(pasted.link.empty() || pasted.link.rfind("http", 0) == 0);
  ASSERT_LE(plan::seller_questions(pasted).size(), 8U);
  ASSERT_TRUE(valid_utf8(plan::seller_message(pasted)));
  const std::string part = plan::part_toml(pasted, plan::part_id(pasted));
  ASSERT_EQ(part.empty(), pasted.shelf.empty());
  if (part.empty()) return;
  build::Library library;
  const Errors errors = library.add({"own.toml", part});
  ASSERT_TRUE(errors.empty()) << describe(errors[0]) << "\n" << part;
  const auto* own = library.find(pasted.shelf, plan::part_id(pasted));
  ASSERT_NE(own, nullptr);
  build::Build build;
  build::put_part(build, *own->slot, *own);
  for (const PastedFigure& f : pasted.figures) {
    build::Build direct;
    ASSERT_TRUE(build::set_from_text(direct, f.field, f.text).has_value());
    const double a = build::number_at(direct, f.field), b = build::number_at(build, f.field);
    ASSERT_TRUE(a == b || (std::isnan(a) && std::isnan(b))) << f.key;
    const auto* figure = build::figure_at(build, f.field);
    if (figure != nullptr) {
      ASSERT_EQ(figure->evidence, figure::Evidence::seller);
    }
  }
}

std::vector<Listing> all_listings() {
  std::vector<Listing> out;
  for (const char* sub : {"", "/check", "/fresh", "/last"}) {
    for (auto& listing : listings(std::string(folder) + sub)) out.push_back(std::move(listing));
  }
  return out;
}

TEST(PasteProperties, EveryListingIsSoundWithAnyHint) {
  for (const Listing& listing : all_listings()) {
    for (const char* hint :
         {"", "motor", "controller", "cell", "charger", "sprocket", "tyre", "nonsense"}) {
      SCOPED_TRACE(listing.name + " as " + hint);
      expect_sound(listing.text,
                   plan::read_paste(listing.text, {.kind = hint, .today = "2026-05-01"}));
      if (HasFatalFailure()) return;
    }
  }
}

/// Every number of a listing comes out somewhere.
TEST(PasteProperties, NoNumberIsDroppedInSilence) {
  for (const Listing& listing : all_listings()) {
    const Pasted pasted = plan::read_paste(listing.text);
    std::set<std::size_t> seen;
    const auto note_all = [&](const std::vector<plan::Quote>& quotes) {
      for (const auto& quote : quotes) seen.insert(quote.begin);
    };
    for (const auto& f : pasted.figures) note_all(f.from);
    for (const auto& question : pasted.questions) note_all(question.from);
    for (const auto& conflict : pasted.conflicts) {
      for (const auto& value : conflict.values) note_all(value.from);
    }
    for (const auto& unused : pasted.unused) seen.insert(unused.from.begin);
    const auto plain = plan::paste::plain_text(listing.text);
    for (const auto& q : plan::paste::scan(plain).quantities) {
      const auto quote = plan::paste::quote_of(plain, listing.text, q.begin, q.end);
      EXPECT_EQ(seen.count(quote.begin), 1U) << listing.name << ": " << quote.words;
    }
  }
}

TEST(PasteProperties, AnyBytesAreSound) {
  std::mt19937 random(20260501);
  const auto all = all_listings();
  const auto below = [&](std::size_t n) { return static_cast<std::size_t>(random()) % n; };
  for (int round = 0; round < 600; ++round) {
    std::string text = all[below(all.size())].text;
    if (round % 3 == 0) text += all[below(all.size())].text;
    for (std::size_t k = below(12); k > 0 && !text.empty(); --k) {
      const std::size_t at = below(text.size());
      switch (below(4)) {
        case 0:
          text[at] = static_cast<char>(below(256));
          break;
        case 1:
          text.erase(at, below(20));
          break;
        case 2:
          text.insert(at, text.substr(below(text.size()), below(30)));
          break;
        default:
          text[at] = "0123456789.,/-x~\n ("[below(19)];
          break;
      }
    }
    SCOPED_TRACE("round " + std::to_string(round));
    expect_sound(text, plan::read_paste(text, {.kind = round % 2 == 0 ? "" : "motor"}));
    if (HasFatalFailure()) return;
  }
}

TEST(PasteProperties, TooLongIsCutAndSaid) {
  const std::string text(plan::paste_bytes_max + 10, '7');
  EXPECT_TRUE(plan::read_paste(text).cut);
  std::string many = "motor\n";
  while (many.size() < 20000) many += "12 kW\n";
  const Pasted pasted = plan::read_paste(many);
  EXPECT_FALSE(pasted.cut);
  EXPECT_GT(pasted.left_out, 1000);
}

TEST(PasteProperties, SameTextTwiceIsTheSame) {
  for (const Listing& listing : all_listings()) {
    const Pasted a = plan::read_paste(listing.text), b = plan::read_paste(listing.text);
    EXPECT_EQ(plan::part_toml(a, "x"), plan::part_toml(b, "x"));
    EXPECT_EQ(plan::seller_message(a), plan::seller_message(b));
  }
}

// --- number forms ---

const PastedFigure* figure_of(const Pasted& pasted, std::string_view key) {
  for (const auto& f : pasted.figures) {
    if (f.key == key) return &f;
  }
  return nullptr;
}

double value(const Pasted& pasted, std::string_view key) {
  const PastedFigure* f = figure_of(pasted, key);
  if (f == nullptr) return std::nan("");
  build::Build scratch;
  if (!build::set_from_text(scratch, f->field, f->text)) return std::nan("");
  return build::number_at(scratch, f->field);
}

struct Form {
  const char* text;
  const char* key;
  double SI;
};

TEST(PasteNumbers, FormsOfSeveralLanguages) {
  constexpr Form forms[] = {
      {"Weight: 12.5kg", "mass", 12.5},
      {"Gewicht: 12,5 kg", "mass", 12.5},
      {"Gewicht 12½ kg", "mass", 12.5},
      {"Weight: 12 ½ kg", "mass", 12.5},
      {"重量:１２．５公斤", "mass", 12.5},
      {"Weight: ~12.5 kg", "mass", 12.5},
      {"Gewicht: ca. 12,5 kg", "mass", 12.5},
      {"Weight (kg): 12.5", "mass", 12.5},
      {"Weight (kg)\n12.5", "mass", 12.5},
      {"Net weight | 12.5 kg", "mass", 12.5},
      {"Weight: 12-13 kg", "mass", 12.5},
      {"Weight: 12.5 ± 0.2 kg", "mass", 12.5},
      {"Weight: 12500 g", "mass", 12.5},
      {"Weight: 12.500 kg", "mass", 12.5},
      {"Masse: 12,500 kg", "mass", 12.5},
      {"Rated power: 3'000 W", "power_continuous", 3000},
      {"Rated power: 3’000 W", "power_continuous", 3000},
      {"Puissance nominale : 3 000 W", "power_continuous", 3000},
      {"Puissance nominale : 3\u202f000 W", "power_continuous", 3000},
      {"Nennleistung 3.000 W", "power_continuous", 3000},
      {"Rated power 3,000W", "power_continuous", 3000},
      {"Rated power: 3kw", "power_continuous", 3000},
      {"Potencia nominal: 3,0 kW", "power_continuous", 3000},
      {"rated3000w", "power_continuous", 3000},
      {"Max speed: 1.234,5 rpm", "speed_max", 1234.5 * 3.14159265358979 / 30},
      {"Max speed: 1,234.5 rpm", "speed_max", 1234.5 * 3.14159265358979 / 30},
      {"Vitesse maxi : 1 234 tr/min", "speed_max", 1234 * 3.14159265358979 / 30},
      {"Max RPM 6000", "speed_max", 6000 * 3.14159265358979 / 30},
      {"Efficiency: ≥ 92%", "efficiency", 0.92},
      {"Efficiency 0.92", "efficiency", 0.92},
      {"Shaft dia 7/8\"", "shaft_diameter", 0.022225},
      {"Diameter 8 1/8 inch", "diameter", 0.206375},
      {"Outer diameter: Ø206 mm", "diameter", 0.206},
      {"Peak torque: 45 N·m", "torque_peak", 45},
      {"Resistance phase to phase 12mΩ", "resistance", 0.012},
      {"Max voltage 72Vdc", "voltage_max", 72},
      {"&nbsp;Max.&nbsp;Power:&nbsp;8&#107;W", "power_peak", 8000},
  };
  for (const Form& form : forms) {
    const Pasted pasted = plan::read_paste(form.text, {.kind = "motor"});
    EXPECT_NEAR(value(pasted, form.key), form.SI, 1e-6 * form.SI) << form.text;
  }
}

TEST(PasteNumbers, DoubtfulMarksAreAskedFor) {
  // Between 1.4 and 1400 mm the field's limits decide; between 2.150 and 2150 they cannot.
  const Pasted pasted =
      plan::read_paste("Cell capacity: 2.150 mAh\nLithium cell 3.6V", {.kind = "cell"});
  EXPECT_NEAR(value(pasted, "capacity"), 2.15 * 3600, 1);
  const Pasted open =
      plan::read_paste("Trips above 1.500 A over current protection", {.kind = "bms"});
  EXPECT_EQ(figure_of(open, "current_trip"), nullptr);
  ASSERT_FALSE(open.questions.empty());
  EXPECT_EQ(open.questions[0].options.size(), 2U);
}

TEST(PasteNumbers, PricesNeverHaveThreeDecimals) {
  for (const char* text : {"Motor\n1.050 EUR", "Motor\n1,050 EUR", "Motor\n€ 1.050,-",
                           "Motor\n1'050 Euro", "Motor\n1 050 EUR", "Motor\nEUR 1050.00"}) {
    const Pasted pasted = plan::read_paste(text);
    EXPECT_NEAR(value(pasted, "price"), 1050, 1e-9) << text;
    EXPECT_EQ(pasted.currency, "EUR") << text;
  }
}

// --- mix-ups ---

struct MixUp {
  const char* code;
  const char* kind;
  const char* text;     ///< must be flagged
  const char* without;  ///< must not
};

TEST(PasteFlags, TheUsualMixUps) {
  constexpr MixUp mix_ups[] = {
      {"peak-without-seconds", "motor", "peak power 8kW", "peak power 8kW for 30 s"},
      {"title-power-is-peak", "", "Motor 72V 8000W\nRated power: 3000W",
       "Motor 72V\nRated power: 3000W"},
      {"peak-below-continuous", "motor", "rated power 8kW, peak power 3kW",
       "rated power 3kW, peak power 8kW"},
      {"kv-not-kilovolt", "motor", "70kv", "70 rpm/V"},
      {"speed-constant-volt-unsaid", "motor", "Kv: 60", "Kv: 60 rpm/V (rms)"},
      {"torque-constant-amp-unsaid", "motor", "Kt: 0.15 Nm/A", "Kt: 0.15 Nm/A rms"},
      {"constants-agree", "motor", "Kv 60 rpm/V\nKt 0.159 Nm/A", "Kv 60 rpm/V\nKt 0.3 Nm/A"},
      {"constants-disagree", "motor", "Kv 60 rpm/V\nKt 0.3 Nm/A", "Kv 60 rpm/V\nKt 0.159 Nm/A"},
      {"phase-current-amplitude-unsaid", "motor", "max phase current 300A",
       "max phase current 300A rms"},
      {"current-side-unsaid", "motor", "max current 200A", "max phase current 200A rms"},
      {"resistance-between-unsaid", "motor", "resistance 12 mohm",
       "resistance 12 mohm phase to phase"},
      {"mass-as-listed", "motor", "weight 12 kg", "rated power 3 kW"},
      {"poles-or-pairs", "motor", "10 poles", "5 pole pairs"},
      {"voltage-class", "controller", "Voltage 72V", "Operating voltage 48-96V"},
      {"voltage-operating-or-absolute", "controller", "max voltage 96V",
       "max voltage 90V\nabsolute max 100V"},
      {"current-side-unsaid", "controller", "72V 300A", "max battery current 300A"},
      {"current-by-power", "controller", "nominal 72V\nmax 300A\npower 21.6kW",
       "nominal 72V\nmax 300A\npower 5kW"},
      {"phase-below-battery", "controller", "max battery current 300A\nmax phase current 200A",
       "max battery current 200A\nmax phase current 500A"},
      {"burst-without-seconds", "controller", "max battery current 300A",
       "max battery current 300A for 10 s"},
      {"capacity-rate-unsaid", "cell", "capacity 100Ah", "capacity 100Ah (0.5C)"},
      {"usable-energy", "cell", "20S NMC\nnominal voltage 73V\ncapacity 90Ah\nenergy 5.6kWh",
       "20S NMC\nnominal voltage 73V\ncapacity 90Ah\nenergy 6.57kWh"},
      {"energy-disagrees", "cell", "nominal voltage 73V\ncapacity 90Ah\nenergy 9.9kWh",
       "nominal voltage 73V\ncapacity 90Ah\nenergy 6.57kWh"},
      {"named-by-full-voltage", "", "84V battery 20S NMC 30Ah", "72V battery 20S NMC 30Ah"},
      {"voltage-and-cells", "", "72V battery 24S LiFePO4 100Ah", "76.8V battery 24S LiFePO4 100Ah"},
      {"charger-class", "", "72V 10A charger", "84V 10A charger"},
      {"charger-class", "", "charger, output voltage 72V", "charger, output voltage 87.6V"},
      {"bms-current-cooled", "", "BMS 20S 200A", "BMS 20S"},
      {"carry-not-break", "", "contactor 200A", "contactor"},
      {"fuse-ac", "", "fuse 300A 500V", "fuse 300A 150V DC"},
      {"title-differs", "", "72V battery 20S NMC\nNominal voltage: 73V",
       "73V battery 20S NMC\nNominal voltage: 73V"},
      {"thousands-mark", "motor", "rated power 3.000 W", "rated power 3000 W"},
      {"range-middle", "motor", "peak power 8-10 kW", "peak power 9 kW"},
  };
  for (const MixUp& m : mix_ups) {
    const auto flagged = [&](const char* text) {
      const Pasted pasted = plan::read_paste(text, {.kind = m.kind});
      return std::any_of(pasted.flags.begin(), pasted.flags.end(),
                         [&](const auto& f) { return f.code == m.code; });
    };
    EXPECT_TRUE(flagged(m.text)) << m.code << ": " << m.text;
    EXPECT_FALSE(flagged(m.without)) << m.code << ": " << m.without;
  }
}

TEST(PasteFlags, ConventionsFollowFromTheProductOfTheConstants) {
  // 60/(2 pi) = 9.549 for one convention of both; times sqrt(3)/2 with phase peak amps.
  const Pasted same_both = plan::read_paste("Kv 60 rpm/V\nKt 0.1592 Nm/A", {.kind = "motor"});
  EXPECT_EQ(figure_of(same_both, "torque_constant")->text, "0.1592 Nm/A dc");
  const Pasted peak = plan::read_paste("Kv 60 rpm/V\nKt 0.1378 Nm/A", {.kind = "motor"});
  EXPECT_EQ(figure_of(peak, "torque_constant")->text, "0.1378 Nm/A peak");
  EXPECT_EQ(figure_of(peak, "speed_constant")->text, "60 rpm/V dc");
  const Pasted neither = plan::read_paste("Kv 60 rpm/V\nKt 0.2 Nm/A", {.kind = "motor"});
  EXPECT_EQ(figure_of(neither, "torque_constant")->text, "0.2 Nm/A");
}

TEST(Paste, AForeignPartsNumbersAreNotThePartsOwn) {
  const Pasted pasted = plan::read_paste(
      "Kit\nController:\nvoltage 48-96 V\nmax phase current 500 A\nweight 2 kg\n\nMotor: rated "
      "power 5 kW, weight 12 kg",
      {.kind = "motor"});
  EXPECT_NEAR(value(pasted, "mass"), 12, 1e-9);
  EXPECT_EQ(figure_of(pasted, "current_peak"), nullptr);
  EXPECT_EQ(figure_of(pasted, "voltage_max"), nullptr);
}

TEST(Paste, LinksAreHttpOnlyAndTheirDigitsAreNoFigures) {
  const Pasted pasted = plan::read_paste(
      "Motor rated power 3kW javascript:alert(1) ftp://x.example/9kg "
      "https://a.example/72v-8000w/12kg. Bye");
  EXPECT_EQ(pasted.link, "https://a.example/72v-8000w/12kg");
  EXPECT_EQ(figure_of(pasted, "mass"), nullptr);
  EXPECT_TRUE(plan::read_paste("motor javascript:alert(1)").link.empty());
}

// --- corrections, message ---

TEST(PasteApply, ACorrectionReplacesSettlesAndIsChecked) {
  const Pasted pasted = plan::read_paste(
      "Motor M\nrated power 5 kW\nmax current 200 A\nweight 12 kg\nspeed 5000 rpm");
  ASSERT_EQ(figure_of(pasted, "current_peak"), nullptr);
  const std::size_t open = pasted.questions.size();
  const auto corrected =
      plan::apply(pasted, {{"current_peak", "200 A rms"},
                           {"mass", ""},
                           {"power_continuous", "5.5 kW", figure::Evidence::data_sheet},
                           {"sensor", "nonsense"},
                           {"speed_maxx", "5000 rpm"}});
  EXPECT_EQ(figure_of(corrected.pasted, "current_peak")->text, "200 A rms");
  EXPECT_EQ(figure_of(corrected.pasted, "current_peak")->sure, Sureness::sure);
  EXPECT_EQ(figure_of(corrected.pasted, "mass"), nullptr);
  EXPECT_EQ(figure_of(corrected.pasted, "power_continuous")->evidence,
            figure::Evidence::data_sheet);
  EXPECT_EQ(corrected.pasted.questions.size(), open - 1);
  ASSERT_EQ(corrected.errors.size(), 2U);
  EXPECT_EQ(corrected.errors[0].code, "unknown-option");
  EXPECT_EQ(corrected.errors[1].code, "unknown-field");
  EXPECT_NE(corrected.errors[1].way_out.find("speed_max"), std::string::npos);
}

TEST(PasteApply, TakingAConflictsValueSettlesIt) {
  const Pasted pasted = plan::read_paste("Motor M\nRated power: 3000 W\nRated power: 2000 W");
  ASSERT_EQ(pasted.conflicts.size(), 1U);
  EXPECT_EQ(pasted.conflicts[0].values.size(), 2U);
  EXPECT_EQ(figure_of(pasted, "power_continuous"), nullptr);
  const auto corrected =
      plan::apply(pasted, {{"power_continuous", pasted.conflicts[0].values[1].text}});
  EXPECT_TRUE(corrected.pasted.conflicts.empty());
  EXPECT_NEAR(value(corrected.pasted, "power_continuous"), 2000, 1e-9);
}

TEST(PasteMessage, AsksForWhatIsOpenAndNotForWhatIsKnown) {
  const Pasted pasted = plan::read_paste("72V 300A motor controller\nMax voltage: 96 V");
  const auto questions = plan::seller_questions(pasted);
  ASSERT_EQ(questions.size(), 8U);
  std::set<std::string> keys;
  for (const auto& question : questions) {
    keys.insert(question.key);
    EXPECT_EQ(figure_of(pasted, question.key), nullptr) << question.key;
  }
  EXPECT_EQ(keys.count("current_battery"), 1U);
  EXPECT_EQ(keys.count("current_phase"), 1U);
  // The doubtful number is quoted, so that the seller sees what is meant.
  const std::string message = plan::seller_message(pasted);
  EXPECT_NE(message.find("'300A'"), std::string::npos);
  EXPECT_NE(message.find("battery cable"), std::string::npos);
  const auto answered = plan::apply(pasted, {{"current_battery", "300 A"}}).pasted;
  for (const auto& question : plan::seller_questions(answered))
    EXPECT_NE(question.key, "current_battery");
  EXPECT_TRUE(plan::seller_message(plan::read_paste("nice thing")).empty());
}

TEST(PastePart, LinkDateAndEvidenceReachThePart) {
  const Pasted pasted = plan::read_paste(
      "Motor \"Tail\" \\ quoted\nrated power 3 kW\nhttps://a.example/x", {.today = "2026-05-01"});
  const std::string part = plan::part_toml(pasted, "mine");
  build::Library library;
  ASSERT_TRUE(library.add({"own.toml", part}).empty()) << part;
  const auto* own = library.find("motor", "mine");
  ASSERT_NE(own, nullptr);
  const auto& motor = *static_cast<const build::Motor*>(own->part.get());
  EXPECT_EQ(motor.link, "https://a.example/x");
  EXPECT_EQ(motor.name, "Motor \"Tail\" \\ quoted");
  EXPECT_EQ(motor.power_continuous.date, "2026-05-01");
  EXPECT_EQ(motor.power_continuous.evidence, figure::Evidence::seller);
  EXPECT_NE(motor.power_continuous.note.find("3 kW"), std::string::npos);
}

}  // namespace
