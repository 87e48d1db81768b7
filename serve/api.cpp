// SPDX-License-Identifier: MIT
#include "serve/api.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "base/text.h"
#include "search/wishes.h"

namespace ww::serve::api {

const Words says_words{"clash", "unmeasured", "tight", "fits"};
const Words met_words{"met", "short", "unknown", "none"};

namespace {
Words quantity_words(std::size_t count) {
  Words out;
  for (const auto& info : search::quantities()) {
    if (out.size() < count) out.push_back(info.word);
  }
  return out;
}
}  // namespace

const Words must_words = quantity_words(search::quantity_count);
const Words want_words = quantity_words(search::traded_count);
const Words step_words{"open",     "waiting", "stopped",    "within",
                       "doubtful", "outside", "unreadable", "unjudged"};
const Words phase_words{"none", "waiting", "riding", "weighing", "done"};

namespace {

// ---- reading

using Json = nlohmann::json;

std::vector<std::string_view> views(const std::vector<std::string>& words) {
  return {words.begin(), words.end()};
}

std::string words_text(const Words& words) {
  std::vector<std::string> all(words.begin(), words.end());
  return "one of: " + join(all, ", ");
}

/// Shows an object's members to its `describe` and fills them; what is wrong goes to one list.
class Reader {
 public:
  Reader(const Json& json, std::string path, std::vector<Problem>& problems)
      : json_(&json), path_(std::move(path)), problems_(&problems) {}

  template <class T>
  static void object_at(const Json& json, const std::string& path, T& out,
                        std::vector<Problem>& problems) {
    Reader reader(json, path, problems);
    if (!json.is_object()) {
      reader.wrong(path, "wrong-type", "must be an object", "{ ... }");
      return;
    }
    out.describe(reader);
    reader.finish();
  }

  void text(const char* key, std::string& out, std::size_t longest) {
    if (const Json* at = need(key)) read_text(*at, child(key), out, longest);
  }
  void maybe_text(const char* key, std::optional<std::string>& out, std::size_t longest) {
    if (const Json* at = look(key)) read_text(*at, child(key), out.emplace(), longest);
  }
  void choice(const char* key, std::string& out, const Words& words) {
    const Json* at = need(key);
    if (at == nullptr || !read_text(*at, child(key), out, line_max)) return;
    if (std::find(words.begin(), words.end(), out) == words.end())
      wrong(child(key), "unknown-option", "is none of the words for this", words_text(words));
  }
  void flag(const char* key, bool& out) {
    const Json* at = need(key);
    if (at == nullptr) return;
    if (at->is_boolean()) {
      out = at->get<bool>();
    } else {
      wrong(child(key), "wrong-type", "must be true or false", "true");
    }
  }
  void truth(const char* key) {
    bool value = false;
    flag(key, value);
    if (!value) wrong(child(key), "wrong-type", "must be true", "true");
  }
  void integer(const char* key, Integer& out, Integer low, Integer high) {
    if (const Json* at = need(key)) read_integer(*at, child(key), out, low, high);
  }
  void maybe_integer(const char* key, std::optional<Integer>& out, Integer low, Integer high) {
    if (const Json* at = look(key)) read_integer(*at, child(key), out.emplace(), low, high);
  }
  void integer_or_null(const char* key, std::optional<Integer>& out, Integer low, Integer high) {
    const Json* at = need(key);
    if (at != nullptr && !at->is_null()) read_integer(*at, child(key), out.emplace(), low, high);
  }
  void number(const char* key, double& out) {
    if (const Json* at = need(key)) read_number(*at, child(key), out);
  }
  void maybe_number(const char* key, std::optional<double>& out) {
    if (const Json* at = look(key)) read_number(*at, child(key), out.emplace());
  }
  void number_or_null(const char* key, double& out) {
    out = std::numeric_limits<double>::quiet_NaN();
    const Json* at = need(key);
    if (at != nullptr && !at->is_null()) read_number(*at, child(key), out);
  }
  void texts(const char* key, std::vector<std::string>& out, std::size_t most) {
    each(key, most, [&](const Json& item, const std::string& path) {
      read_text(item, path, out.emplace_back(), text_max);
    });
  }
  void numbers(const char* key, std::vector<double>& out, std::size_t most) {
    each(key, most, [&](const Json& item, const std::string& path) {
      double& value = out.emplace_back(std::numeric_limits<double>::quiet_NaN());
      if (!item.is_null()) read_number(item, path, value);
    });
  }
  void text_rows(const char* key, std::vector<std::vector<std::string>>& out, std::size_t most) {
    each(key, most, [&](const Json& row, const std::string& path) {
      auto& cells = out.emplace_back();
      if (!row.is_array() || row.size() > list_max) {
        wrong(path, "wrong-type", "must be a list of texts", "[ ... ]");
        return;
      }
      for (const Json& cell : row) read_text(cell, path, cells.emplace_back(), text_max);
    });
  }
  template <class T>
  void list(const char* key, std::vector<T>& out, std::size_t most) {
    each(key, most, [&](const Json& item, const std::string& path) {
      object_at(item, path, out.emplace_back(), *problems_);
    });
  }
  template <class T>
  void maybe_list(const char* key, std::optional<std::vector<T>>& out, std::size_t most) {
    if (json_->contains(key)) list(key, out.emplace(), most);
    seen_.emplace_back(key);
  }
  template <class T>
  void object(const char* key, T& out) {
    if (const Json* at = need(key)) object_at(*at, child(key), out, *problems_);
  }
  template <class T>
  void or_null(const char* key, std::optional<T>& out) {
    const Json* at = need(key);
    if (at != nullptr && !at->is_null()) object_at(*at, child(key), out.emplace(), *problems_);
  }
  template <class T>
  void map(const char* key, std::map<std::string, T>& out, const char*) {
    const Json* at = need(key);
    if (at == nullptr) return;
    if (!at->is_object()) {
      wrong(child(key), "wrong-type", "must be an object", "{ ... }");
      return;
    }
    for (const auto& [name, item] : at->items())
      object_at(item, child(key) + "." + name, out[name], *problems_);
  }

 private:
  void finish() {
    for (const auto& [key, value] : json_->items()) {
      if (std::find(seen_.begin(), seen_.end(), key) != seen_.end()) continue;
      Problem& problem = wrong(child(key.substr(0, path_max)), "unknown-key", "is not known here",
                               seen_.empty() ? "" : "one of: " + join(seen_, ", "));
      const std::string near = did_you_mean(key.substr(0, path_max), views(seen_));
      if (!near.empty()) problem.way_out = near;
    }
  }

  std::string child(const std::string& key) const {
    return path_.empty() ? key : path_ + "." + key;
  }

  const Json* look(const char* key) {
    seen_.emplace_back(key);
    const auto at = json_->find(key);
    return at == json_->end() ? nullptr : &*at;
  }
  const Json* need(const char* key) {
    const Json* at = look(key);
    if (at == nullptr) wrong(child(key), "missing-key", "is missing", "");
    return at;
  }

  Problem& wrong(const std::string& path, const char* code, const std::string& what,
                 const std::string& expected) {
    Problem problem{.code = code,
                    .what = (path.empty() ? std::string("the whole") : path) + " " + what,
                    .field = path,
                    .found = {},
                    .expected = {},
                    .way_out = {},
                    .file = {},
                    .line = {},
                    .column = {}};
    if (!expected.empty()) problem.expected = expected;
    problems_->push_back(std::move(problem));
    return problems_->back();
  }

  bool read_text(const Json& at, const std::string& path, std::string& out, std::size_t longest) {
    if (!at.is_string()) {
      wrong(path, "wrong-type", "must be a text", "\"...\"");
      return false;
    }
    const auto& text = at.get_ref<const std::string&>();
    if (text.size() > longest) {
      wrong(path, "too-long", "is too long", "at most " + std::to_string(longest) + " bytes");
      return false;
    }
    const bool control = std::any_of(text.begin(), text.end(), [](char c) {
      const auto byte = static_cast<unsigned char>(c);
      return (byte < 0x20 && c != '\n' && c != '\t' && c != '\r') || byte == 0x7F;
    });
    if (control) {
      wrong(path, "bad-text", "has a control character in it", "plain text");
      return false;
    }
    out = text;
    return true;
  }

  void read_integer(const Json& at, const std::string& path, Integer& out, Integer low,
                    Integer high) {
    const bool whole =
        at.is_number_integer() &&
        !(at.is_number_unsigned() && at.get<std::uint64_t>() > static_cast<std::uint64_t>(id_max));
    const std::string range = std::to_string(low) + " to " + std::to_string(high);
    if (!whole) {
      wrong(path, "wrong-type", "must be a whole number", range);
      return;
    }
    out = at.get<Integer>();
    if (out < low || out > high) wrong(path, "out-of-range", "is out of its range", range);
  }

  void read_number(const Json& at, const std::string& path, double& out) {
    if (!at.is_number()) {
      wrong(path, "wrong-type", "must be a number", "e.g. 1.5");
      return;
    }
    out = at.get<double>();
    if (!std::isfinite(out)) wrong(path, "out-of-range", "is not finite", "e.g. 1.5");
  }

  template <class Take>
  void each(const char* key, std::size_t most, const Take& take) {
    const Json* at = need(key);
    if (at == nullptr) return;
    const std::string path = child(key);
    if (!at->is_array()) {
      wrong(path, "wrong-type", "must be a list", "[ ... ]");
      return;
    }
    if (at->size() > most) {
      wrong(path, "too-long", "has too many items", "at most " + std::to_string(most));
      return;
    }
    std::size_t index = 0;
    for (const Json& item : *at) take(item, path + "[" + std::to_string(index++) + "]");
  }

  const Json* json_;
  std::string path_;
  std::vector<Problem>* problems_;
  std::vector<std::string> seen_;
};

Problem whole(const char* code, const char* what) {
  return {.code = code,
          .what = what,
          .field = {},
          .found = {},
          .expected = {},
          .way_out = {},
          .file = {},
          .line = {},
          .column = {}};
}

/// How many levels of brackets the text opens at most, outside of texts.
int depth_of(std::string_view json) {
  int depth = 0, deepest = 0;
  bool in_text = false;
  for (std::size_t i = 0; i < json.size(); ++i) {
    const char c = json[i];
    if (in_text) {
      if (c == '\\') ++i;
      if (c == '"') in_text = false;
    } else if (c == '"') {
      in_text = true;
    } else if (c == '{' || c == '[') {
      deepest = std::max(deepest, ++depth);
    } else if (c == '}' || c == ']') {
      --depth;
    }
  }
  return deepest;
}

/// The parsed text; discarded where it is none or a key stands twice in one object.
Json parsed(std::string_view json, bool& doubled) {
  std::vector<std::set<std::string>> keys;
  const auto watch = [&](int, Json::parse_event_t event, Json& value) {
    if (event == Json::parse_event_t::object_start) keys.emplace_back();
    if (event == Json::parse_event_t::object_end && !keys.empty()) keys.pop_back();
    if (event == Json::parse_event_t::key && !keys.empty() &&
        !keys.back().insert(value.get<std::string>()).second)
      doubled = true;
    return true;
  };
  return Json::parse(json.begin(), json.end(), watch, false);
}

// ---- writing

void write_text(std::string& out, std::string_view text) {
  static constexpr std::string_view hex = "0123456789abcdef";
  out += '"';
  const bool good = valid_utf8(text);
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\') {
      out += '\\';
      out += c;
    } else if (c == '\n') {
      out += "\\n";
    } else if (byte < 0x20 || byte == 0x7F || c == '<') {
      out += "\\u00";
      out += hex[byte >> 4U];
      out += hex[byte & 15U];
    } else {
      out += good || byte < 0x80 ? c : '?';
    }
  }
  out += '"';
}

void write_number(std::string& out, double value) {
  if (!std::isfinite(value)) {
    out += "null";
    return;
  }
  std::array<char, 32> digits{};
  const auto end = std::to_chars(digits.data(), digits.data() + digits.size(), value).ptr;
  out.append(digits.data(), end);
}

class Writer {
 public:
  explicit Writer(std::string& out) : out_(&out) {}

  template <class T>
  static void object_to(std::string& out, T& value) {
    out += '{';
    Writer writer(out);
    value.describe(writer);
    out += '}';
  }

  void text(const char* key, const std::string& value, std::size_t) {
    head(key);
    write_text(*out_, value);
  }
  void maybe_text(const char* key, const std::optional<std::string>& value, std::size_t longest) {
    if (value) text(key, *value, longest);
  }
  void choice(const char* key, const std::string& value, const Words&) { text(key, value, 0); }
  void flag(const char* key, bool value) {
    head(key);
    *out_ += value ? "true" : "false";
  }
  void truth(const char* key) { flag(key, true); }
  void integer(const char* key, Integer value, Integer, Integer) {
    head(key);
    *out_ += std::to_string(value);
  }
  void maybe_integer(const char* key, const std::optional<Integer>& value, Integer low,
                     Integer high) {
    if (value) integer(key, *value, low, high);
  }
  void integer_or_null(const char* key, const std::optional<Integer>& value, Integer, Integer) {
    head(key);
    *out_ += value ? std::to_string(*value) : "null";
  }
  void number(const char* key, double value) {
    head(key);
    write_number(*out_, value);
  }
  void maybe_number(const char* key, const std::optional<double>& value) {
    if (value && std::isfinite(*value)) number(key, *value);
  }
  void number_or_null(const char* key, double value) { number(key, value); }
  void texts(const char* key, const std::vector<std::string>& values, std::size_t) {
    head(key);
    all(values, [&](const std::string& value) { write_text(*out_, value); });
  }
  void numbers(const char* key, const std::vector<double>& values, std::size_t) {
    head(key);
    all(values, [&](double value) { write_number(*out_, value); });
  }
  void text_rows(const char* key, const std::vector<std::vector<std::string>>& rows, std::size_t) {
    head(key);
    all(rows, [&](const std::vector<std::string>& row) {
      all(row, [&](const std::string& value) { write_text(*out_, value); });
    });
  }
  template <class T>
  void list(const char* key, std::vector<T>& values, std::size_t) {
    head(key);
    all(values, [&](T& value) { object_to(*out_, value); });
  }
  template <class T>
  void maybe_list(const char* key, std::optional<std::vector<T>>& values, std::size_t most) {
    if (values) list(key, *values, most);
  }
  template <class T>
  void object(const char* key, T& value) {
    head(key);
    object_to(*out_, value);
  }
  template <class T>
  void or_null(const char* key, std::optional<T>& value) {
    head(key);
    if (value) {
      object_to(*out_, *value);
    } else {
      *out_ += "null";
    }
  }
  template <class T>
  void map(const char* key, std::map<std::string, T>& values, const char*) {
    head(key);
    *out_ += '{';
    bool first = true;
    for (auto& [name, value] : values) {
      if (!first) *out_ += ',';
      first = false;
      write_text(*out_, name);
      *out_ += ':';
      object_to(*out_, value);
    }
    *out_ += '}';
  }

 private:
  void head(const char* key) {
    if (!first_) *out_ += ',';
    first_ = false;
    write_text(*out_, key);
    *out_ += ':';
  }
  template <class List, class Each>
  void all(List& values, const Each& each) {
    *out_ += '[';
    bool first = true;
    for (auto& value : values) {
      if (!first) *out_ += ',';
      first = false;
      each(value);
    }
    *out_ += ']';
  }

  std::string* out_;
  bool first_ = true;
};

// ---- the page's types

class Types {
 public:
  void text(const char* key, std::string&, std::size_t) { line(key, "string"); }
  void maybe_text(const char* key, std::optional<std::string>&, std::size_t) {
    line(key, "string", true);
  }
  void choice(const char* key, std::string&, const Words& words) {
    std::vector<std::string> quoted;
    for (const auto word : words) quoted.push_back("\"" + std::string(word) + "\"");
    line(key, join(quoted, " | "));
  }
  void flag(const char* key, bool&) { line(key, "boolean"); }
  void truth(const char* key) { line(key, "true"); }
  void integer(const char* key, Integer&, Integer, Integer) { line(key, "number"); }
  void maybe_integer(const char* key, std::optional<Integer>&, Integer, Integer) {
    line(key, "number", true);
  }
  void integer_or_null(const char* key, std::optional<Integer>&, Integer, Integer) {
    line(key, "number | null");
  }
  void number(const char* key, double&) { line(key, "number"); }
  void maybe_number(const char* key, std::optional<double>&) { line(key, "number", true); }
  void number_or_null(const char* key, double&) { line(key, "number | null"); }
  void texts(const char* key, std::vector<std::string>&, std::size_t) { line(key, "string[]"); }
  void numbers(const char* key, std::vector<double>&, std::size_t) {
    line(key, "(number | null)[]");
  }
  void text_rows(const char* key, std::vector<std::vector<std::string>>&, std::size_t) {
    line(key, "string[][]");
  }
  template <class T>
  void list(const char* key, std::vector<T>&, std::size_t) {
    line(key, std::string(T::name) + "[]");
  }
  template <class T>
  void maybe_list(const char* key, std::optional<std::vector<T>>&, std::size_t) {
    line(key, std::string(T::name) + "[]", true);
  }
  template <class T>
  void object(const char* key, T&) {
    line(key, std::string(T::name));
  }
  template <class T>
  void or_null(const char* key, std::optional<T>&) {
    line(key, std::string(T::name) + " | null");
  }
  template <class T>
  void map(const char* key, std::map<std::string, T>&, const char* of) {
    line(key, "{ [" + std::string(of) + ": string]: " + std::string(T::name) + " }");
  }

  std::string out;

 private:
  void line(const char* key, const std::string& type, bool optional = false) {
    out += "  " + std::string(key) + (optional ? "?: " : ": ") + type + "\n";
  }
};

template <class T>
std::string type_of() {
  T value{};
  Types types;
  value.describe(types);
  return "\nexport type " + std::string(T::name) + " = {\n" + types.out + "}\n";
}

}  // namespace

template <class T>
std::vector<Problem> read(std::string_view json, T& out) {
  if (json.size() > 2 * sheet_max) return {whole("too-large", "more text than is read at once")};
  if (!valid_utf8(json)) return {whole("bad-text", "this is no UTF-8 text")};
  if (depth_of(json) > depth_max) return {whole("too-deep", "brackets are nested too deep")};
  bool doubled = false;
  const Json parsed_json = parsed(json, doubled);
  if (parsed_json.is_discarded()) return {whole("bad-json", "this is no JSON text")};
  if (doubled) return {whole("double-key", "a key stands twice in one object")};
  std::vector<Problem> problems;
  T fresh{};
  Reader::object_at(parsed_json, "", fresh, problems);
  if (problems.empty()) out = std::move(fresh);
  return problems;
}

template <class T>
std::string write(const T& value) {
  T copy = value;  // describe shows members that a reader may fill
  std::string out;
  Writer::object_to(out, copy);
  return out;
}

template <class T>
std::string write_list(const std::vector<T>& values) {
  std::string out = "[";
  for (const T& value : values) {
    if (out.size() > 1) out += ",";
    T copy = value;
    Writer::object_to(out, copy);
  }
  return out + "]";
}

std::string typescript() {
  std::string out =
      "// SPDX-License-Identifier: MIT\n"
      "// What the page and the program say to each other: docs/api.md. Written by `typegen` from\n"
      "// serve/api.h; do not edit.\n";
#define WW_TYPE(T) out += type_of<T>();
  WW_API_STRUCTS(WW_TYPE)
#undef WW_TYPE
  return out;
}

// A type's name cannot stand in parentheses here.
// NOLINTBEGIN(bugprone-macro-parentheses)
#define WW_INSTANCES(T)                                     \
  template std::vector<Problem> read(std::string_view, T&); \
  template std::string write(const T&);                     \
  template std::string write_list(const std::vector<T>&);
// NOLINTEND(bugprone-macro-parentheses)
WW_API_STRUCTS(WW_INSTANCES)
#undef WW_INSTANCES

}  // namespace ww::serve::api
