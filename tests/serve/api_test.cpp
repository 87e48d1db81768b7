// SPDX-License-Identifier: MIT
// What is written is read back the same; what is wrong is refused with its path; the page's types
// are those that are committed.
#include "serve/api.h"

#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

namespace ww::serve::api {
namespace {

std::string codes_of(const std::vector<Problem>& problems) {
  std::string out;
  for (const auto& problem : problems)
    out += (out.empty() ? "" : ", ") + problem.code + " " + problem.field.value_or("");
  return out;
}

/// Fills every member with something of its own, so that a member that is left out shows.
class Filler {
 public:
  void text(const char* key, std::string& v, std::size_t) {
    v = std::string(key) + " \"\\\n\t</script> \xC3\xA9 " + std::to_string(++count_);
  }
  void maybe_text(const char* key, std::optional<std::string>& v, std::size_t longest) {
    text(key, v.emplace(), longest);
    if (v->size() > longest) v = "m" + std::to_string(count_);
  }
  void choice(const char*, std::string& v, const Words& words) { v = words.back(); }
  void flag(const char*, bool& v) { v = true; }
  void truth(const char*) {}
  void integer(const char*, Integer& v, Integer low, Integer) { v = low + ++count_; }
  void maybe_integer(const char* key, std::optional<Integer>& v, Integer low, Integer high) {
    integer(key, v.emplace(), low, high);
  }
  void integer_or_null(const char* key, std::optional<Integer>& v, Integer low, Integer high) {
    integer(key, v.emplace(), low, high);
  }
  void number(const char*, double& v) { v = 0.1 * ++count_; }
  void maybe_number(const char* key, std::optional<double>& v) { number(key, v.emplace()); }
  void number_or_null(const char* key, double& v) { number(key, v); }
  void texts(const char* key, std::vector<std::string>& v, std::size_t) {
    v.resize(2);
    text(key, v[0], 0);
    text(key, v[1], 0);
  }
  void numbers(const char* key, std::vector<double>& v, std::size_t) {
    v.resize(2);
    for (double& item : v) number(key, item);
  }
  void text_rows(const char* key, std::vector<std::vector<std::string>>& v, std::size_t most) {
    v.resize(2);
    texts(key, v[0], most);
    texts(key, v[1], most);
  }
  template <class T>
  void list(const char*, std::vector<T>& v, std::size_t) {
    v.resize(2);
    for (T& item : v) item.describe(*this);
  }
  template <class T>
  void maybe_list(const char* key, std::optional<std::vector<T>>& v, std::size_t most) {
    list(key, v.emplace(), most);
  }
  template <class T>
  void object(const char*, T& v) {
    v.describe(*this);
  }
  template <class T>
  void or_null(const char*, std::optional<T>& v) {
    v.emplace().describe(*this);
  }
  template <class T>
  void map(const char*, std::map<std::string, T>& v, const char*) {
    v["donor.mass \"quoted\""].describe(*this);
    v["b"].describe(*this);
  }

 private:
  int count_ = 0;
};

template <class T>
void round_trip(const char* name) {
  T full{};
  Filler filler;
  full.describe(filler);
  const std::string json = write(full);
  T back{};
  const auto problems = read(json, back);
  // Lengths are limits of what is read; a filler's key may be longer than a short field allows.
  for (const auto& problem : problems) EXPECT_EQ(problem.code, "too-long") << name << problem.what;
  if (problems.empty()) {
    EXPECT_EQ(write(back), json) << name;
  }
  EXPECT_EQ(json.find("</script"), std::string::npos) << name;
  T empty{};
  T again{};
  // An empty struct lacks its choices at most.
  for (const auto& problem : read(write(empty), again)) {
    EXPECT_TRUE(problem.code == "unknown-option" || problem.code == "out-of-range") << name;
  }
}

TEST(Wire, EveryStructComesBackAsItWasWritten) {
#define WW_TRIP(T) round_trip<T>(#T);
  WW_API_STRUCTS(WW_TRIP)
#undef WW_TRIP
}

TEST(Wire, TheCommittedTypesAreWhatIsPrinted) {
  std::ifstream in(WW_SOURCE_DIR "/web/src/api.ts", std::ios::binary);
  std::ostringstream committed;
  committed << in.rdbuf();
  EXPECT_TRUE(committed.str() == typescript())
      << "write it again: out/dev/serve/typegen >web/src/api.ts";
}

TEST(Wire, AnEditIsRead) {
  Edit edit;
  const auto problems = read(
      R"({"base":7,"what":"typed","changes":[{"path":"motor.mass","text":"17 kg","evidence":"measured"}]})",
      edit);
  EXPECT_EQ(codes_of(problems), "");
  EXPECT_EQ(edit.base, 7);
  ASSERT_EQ(edit.changes.size(), 1U);
  EXPECT_EQ(edit.changes[0].path, "motor.mass");
  EXPECT_EQ(edit.changes[0].evidence, "measured");
  EXPECT_FALSE(edit.changes[0].note.has_value());
}

struct Wrong {
  const char* json;
  const char* says;
};

TEST(Wire, WhatIsWrongIsSaidWithItsPath) {
  const std::string long_path(path_max + 1, 'x');
  const std::string many = [] {
    std::string list;
    for (std::size_t i = 0; i <= list_max; ++i)
      list += std::string(i == 0 ? "" : ",") + R"({"path":"a","text":"b"})";
    return R"({"base":1,"what":"","changes":[)" + list + "]}";
  }();
  const std::string deep =
      R"({"base":1,"what":"","changes":)" + std::string(40, '[') + std::string(40, ']') + "}";
  const std::string huge =
      R"({"base":1,"changes":[],"what":")" + std::string(line_max + 1, 'x') + R"("})";
  const std::string path =
      R"({"base":1,"what":"","changes":[{"path":")" + long_path + R"(","text":""}]})";
  const std::vector<Wrong> table{
      {"", "bad-json "},
      {"{", "bad-json "},
      {"nonsense", "bad-json "},
      {"{} {}", "bad-json "},
      {"[]", "wrong-type "},
      {"null", "wrong-type "},
      {"3", "wrong-type "},
      {"\xFF", "bad-text "},
      {"{\"base\":1,\"what\":\"\xC3\",\"changes\":[]}", "bad-text "},
      {R"({"base":1,"base":2,"what":"","changes":[]})", "double-key "},
      {R"({"base":1,"what":"","changes":[{"path":"a","path":"b","text":""}]})", "double-key "},
      {"{}", "missing-key base, missing-key changes, missing-key what"},
      {R"({"base":"1","what":"","changes":[]})", "wrong-type base"},
      {R"({"base":1.5,"what":"","changes":[]})", "wrong-type base"},
      {R"({"base":true,"what":"","changes":[]})", "wrong-type base"},
      {R"({"base":null,"what":"","changes":[]})", "wrong-type base"},
      {R"({"base":0,"what":"","changes":[]})", "out-of-range base"},
      {R"({"base":-3,"what":"","changes":[]})", "out-of-range base"},
      {R"({"base":9007199254740992,"what":"","changes":[]})", "wrong-type base"},
      {R"({"base":18446744073709551615,"what":"","changes":[]})", "wrong-type base"},
      {R"({"base":1e400,"what":"","changes":[]})", "bad-json "},
      {R"({"base":1,"what":3,"changes":[]})", "wrong-type what"},
      {R"({"base":1,"what":"","changes":{}})", "wrong-type changes"},
      {R"({"base":1,"what":"","changes":[3]})", "wrong-type changes[0]"},
      {R"({"base":1,"what":"","changes":[{"path":"a"}]})", "missing-key changes[0].text"},
      {R"({"base":1,"what":"","changes":[{"path":"a","text":"b","note":3}]})",
       "wrong-type changes[0].note"},
      {R"({"base":1,"what":"","changes":[{"path":"a","text":"b","notes":""}]})",
       "unknown-key changes[0].notes"},
      {R"({"base":1,"what":"","changes":[],"Base":2})", "unknown-key Base"},
      {R"({"base":1,"what":"a\u0000b","changes":[]})", "bad-text what"},
      {R"({"base":1,"what":"a\u001bb","changes":[]})", "bad-text what"},
      {deep.c_str(), "too-deep "},
      {huge.c_str(), "too-long what"},
      {many.c_str(), "too-long changes"},
      {path.c_str(), "too-long changes[0].path"},
  };
  for (const Wrong& wrong : table) {
    Edit edit;
    edit.base = 99;
    EXPECT_EQ(codes_of(read(wrong.json, edit)), wrong.says)
        << std::string(wrong.json).substr(0, 100);
    EXPECT_EQ(edit.base, 99) << "what is refused leaves nothing behind";
  }
}

TEST(Wire, EveryProblemComesAtOnceAndTheNearestKeyIsNamed) {
  Edit edit;
  const auto problems =
      read(R"({"bsae":1,"what":5,"changes":[{"path":1,"text":"b"},{"path":"a","txt":""}]})", edit);
  EXPECT_EQ(codes_of(problems),
            "missing-key base, wrong-type changes[0].path, missing-key changes[1].text, "
            "unknown-key changes[1].txt, wrong-type what, unknown-key bsae");
  EXPECT_EQ(problems.back().way_out, "Did you mean 'base'?");
}

TEST(Wire, AWordOutsideItsListIsRefused) {
  NewBuild made;
  const auto problems = read(R"({"name":"a","where":"asleep"})", made);
  EXPECT_EQ(codes_of(problems), "unknown-option where");
  EXPECT_EQ(problems[0].expected, "one of: dreaming, parts_in_mind, bike_in_bits, riding");
}

TEST(Wire, NumbersThatAreNotFiniteAreNull) {
  Answer answer;
  answer.met = "none";
  const std::string json = write(answer);
  EXPECT_NE(json.find("\"p10\":null"), std::string::npos);
  Answer back;
  EXPECT_EQ(codes_of(read(json, back)), "");
  EXPECT_TRUE(back.p10 != back.p10);
}

TEST(Wire, MoreThanTheLimitIsNotEvenParsed) {
  Import sheet;
  const auto problems = read(std::string(2 * sheet_max + 1, ' '), sheet);
  EXPECT_EQ(codes_of(problems), "too-large ");
}

}  // namespace
}  // namespace ww::serve::api
