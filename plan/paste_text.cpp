// SPDX-License-Identifier: MIT
#include "plan/paste_text.h"

#include <algorithm>
#include <array>

#include "base/text.h"

namespace ww::plan::paste {

namespace {

constexpr std::size_t quantities_max = 400;

bool digit(char c) {
  return c >= '0' && c <= '9';
}
bool letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}
bool starts(std::string_view text, std::size_t at, std::string_view with) {
  return at <= text.size() && text.size() - at >= with.size() &&
         text.compare(at, with.size(), with) == 0;
}
char at_or(std::string_view text, std::size_t at) {
  return at < text.size() ? text[at] : '\0';
}

// --- Plain text ---

struct Decoded {
  char32_t point;
  std::size_t length;
};

/// A byte that is no UTF-8 is taken for Latin-1, which old shops still send.
Decoded decode(std::string_view bytes, std::size_t at) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(bytes[at + i]); };
  const unsigned first = byte(0);
  if (first < 0x80U) return {first, 1};
  const std::size_t length = first >= 0xF0U ? 4 : first >= 0xE0U ? 3 : 2;
  if (first >= 0xC2U && first < 0xF5U && at + length <= bytes.size() &&
      valid_utf8(bytes.substr(at, length))) {
    char32_t point = first & (0x7FU >> length);
    for (std::size_t i = 1; i < length; ++i) point = (point << 6U) | (byte(i) & 0x3FU);
    return {point, length};
  }
  return {first, 1};
}

struct Fold {
  char32_t point;
  std::string_view plain;
};

constexpr Fold folds[] = {
    {0x00A3, "GBP"},   {0x00A5, "CNY"},   {0x00B0, "deg"},   {0x00B1, "+-"},    {0x00B2, "2"},
    {0x00B3, "3"},     {0x00B4, "'"},     {0x00B5, "u"},     {0x00B7, "*"},     {0x00BA, "deg"},
    {0x00D7, "x"},     {0x00D8, " dia "}, {0x00F8, " dia "}, {0x00DF, "ss"},    {0x0110, "D"},
    {0x0111, "d"},     {0x0131, "i"},     {0x0141, "L"},     {0x0142, "l"},     {0x0152, "OE"},
    {0x0153, "oe"},    {0x00C6, "AE"},    {0x00E6, "ae"},    {0x03A6, " dia "}, {0x03A9, "ohm"},
    {0x03C6, " dia "}, {0x03D5, " dia "}, {0x03BC, "u"},     {0x03C9, "ohm"},   {0x2010, "-"},
    {0x2011, "-"},     {0x2012, "-"},     {0x2013, "-"},     {0x2014, "-"},     {0x2015, "-"},
    {0x2212, "-"},     {0x2018, "'"},     {0x2019, "'"},     {0x2032, "'"},     {0x201C, "\""},
    {0x201D, "\""},    {0x201E, "\""},    {0x2033, "\""},    {0x2026, "..."},   {0x2022, ";"},
    {0x2044, "/"},     {0x20AC, "EUR"},   {0x2103, "degC"},  {0x2109, "degF"},  {0x2126, "ohm"},
    {0x2248, "~"},     {0x2264, "<="},    {0x2265, ">="},    {0x2266, "<="},    {0x2267, ">="},
    {0x2300, " dia "}, {0x22C5, "*"},     {0x2715, "x"},     {0x2716, "x"},     {0x301C, "~"},
    {0x3000, " "},     {0x3001, ","},     {0x3002, ";"},     {0x3010, "("},     {0x3011, ")"},
    {0x338F, "kg"},    {0x339C, "mm"},    {0x33A1, "m2"},    {0xFFE1, "GBP"},   {0xFFE5, "CNY"},
};

/// Latin letters with accents, from 0xC0 on: the letter without.
constexpr std::string_view latin1 =
    "AAAAAAACEEEEIIIIDNOOOOOxOUUUUYTsaaaaaaaceeeeiiiidnooooo/ouuuuyty";
/// From 0x100 to 0x17F.
constexpr std::string_view latin_extended =
    "AaAaAaCcCcCcCcDdDdEeEeEeEeEeGgGgGgGgHhHhIiIiIiIiIiJjJjKkkLlLlLlLlLlNnNnNnnNnOoOoOoOoRrRrRrSsSs"
    "SsSsTtTtTtUuUuUuUuUuUuWwYyYZzZzZzs";
static_assert(latin1.size() == 64 && latin_extended.size() == 128);

struct Entity {
  std::string_view name;
  char32_t point;
};
constexpr Entity entities[] = {
    {"nbsp", ' '},     {"amp", '&'},     {"lt", '<'},      {"gt", '>'},     {"quot", '"'},
    {"deg", 0xB0},     {"euro", 0x20AC}, {"pound", 0xA3},  {"times", 'x'},  {"Omega", 0x2126},
    {"omega", 0x2126}, {"plusmn", 0xB1}, {"colon", ':'},   {"micro", 0xB5}, {"ge", 0x2265},
    {"le", 0x2264},    {"ndash", '-'},   {"mdash", '-'},   {"comma", ','},  {"period", '.'},
    {"Oslash", 0xD8},  {"oslash", 0xD8}, {"auml", 'a'},    {"ouml", 'o'},   {"uuml", 'u'},
    {"Auml", 'A'},     {"Ouml", 'O'},    {"Uuml", 'U'},    {"szlig", 0xDF}, {"eacute", 'e'},
    {"egrave", 'e'},   {"agrave", 'a'},  {"frac12", 0xBD}, {"sup2", 0xB2},  {"middot", 0xB7},
    {"apos", '\''},    {"sol", '/'},     {"percnt", '%'},  {"lpar", '('},   {"rpar", ')'},
};

class PlainBuilder {
 public:
  explicit PlainBuilder(std::string_view bytes) : bytes_(bytes) {}

  Plain build() {
    out_.text.reserve(bytes_.size());
    std::size_t at = 0;
    while (at < bytes_.size()) {
      const std::size_t markup = take_markup(at);
      if (markup > 0) {
        at += markup;
        continue;
      }
      const Decoded d = decode(bytes_, at);
      put_point(d.point, at, at + d.length);
      at += d.length;
    }
    out_.low = lower(out_.text);
    return std::move(out_);
  }

 private:
  void put(std::string_view plain, std::size_t begin, std::size_t end) {
    out_.text += plain;
    out_.from.insert(out_.from.end(), plain.size(), static_cast<std::uint32_t>(begin));
    out_.to.insert(out_.to.end(), plain.size(), static_cast<std::uint32_t>(end));
  }

  char last() const { return out_.text.empty() ? '\n' : out_.text.back(); }

  void pop() {
    out_.text.pop_back();
    out_.from.pop_back();
    out_.to.pop_back();
  }

  /// "9 1/2" as one sign: 9.5, and 0.5 where no digit stands before it.
  void put_fraction(std::string_view decimals, std::size_t begin, std::size_t end) {
    if (last() == ' ' && out_.text.size() > 1 && digit(out_.text[out_.text.size() - 2])) pop();
    if (!digit(last())) put("0", begin, end);
    put(decimals, begin, end);
  }

  void put_point(char32_t p, std::size_t begin, std::size_t end) {
    if (p >= 0xFF01 && p <= 0xFF5E) p = p - 0xFF01 + 0x21;
    if (p == '\r') p = at_or(bytes_, end) == '\n' ? U' ' : U'\n';
    if (p == 0x00BC) return put_fraction(".25", begin, end);
    if (p == 0x00BD) return put_fraction(".5", begin, end);
    if (p == 0x00BE) return put_fraction(".75", begin, end);
    if (p == '\n' || p == '\t' || (p >= 0x20 && p < 0x7F)) {
      const char c = static_cast<char>(p);
      return put(std::string_view(&c, 1), begin, end);
    }
    if (p >= 0x200B && p <= 0x200F) return;
    if (p == 0xFEFF || p == 0xFE0F || p == 0x00AD) return;
    for (const Fold& fold : folds) {
      if (fold.point == p) return put(fold.plain, begin, end);
    }
    if (p < 0xA1 || (p >= 0x2000 && p <= 0x206F)) return put(" ", begin, end);
    if (p >= 0xC0 && p < 0x100) return put(latin1.substr(p - 0xC0, 1), begin, end);
    if (p >= 0x100 && p < 0x180) return put(latin_extended.substr(p - 0x100, 1), begin, end);
    if (p >= 0x3400 && p < 0xA000) return put_utf8(p, begin, end);
    // Pictures and letters of scripts that no word of ours is written in.
    put(" ", begin, end);
  }

  void put_utf8(char32_t p, std::size_t begin, std::size_t end) {
    const std::array<char, 3> raw{static_cast<char>(0xE0U | (p >> 12U)),
                                  static_cast<char>(0x80U | ((p >> 6U) & 0x3FU)),
                                  static_cast<char>(0x80U | (p & 0x3FU))};
    put(std::string_view(raw.data(), raw.size()), begin, end);
  }

  /// A tag or an entity at `at`: puts what it stands for, gives its length.
  std::size_t take_markup(std::size_t at) {
    if (bytes_[at] == '<') return take_tag(at);
    if (bytes_[at] == '&') return take_entity(at);
    return 0;
  }

  std::size_t take_tag(std::size_t at) {
    const char next = at_or(bytes_, at + 1);
    if (!letter(next) && next != '/' && next != '!') return 0;
    const std::size_t close = bytes_.substr(at, 400).find('>');
    if (close == std::string_view::npos) return 0;
    const std::string name = lower(bytes_.substr(at + (next == '/' ? 2 : 1), 3));
    if (name.empty() || (!letter(name.front()) && name.front() != '-')) return 0;
    const bool line = name.rfind("br", 0) == 0 || name.front() == 'p' || name == "div" ||
                      name.rfind("tr", 0) == 0 || name.rfind("li", 0) == 0 || name[0] == 'h';
    const bool cell = name.rfind("td", 0) == 0 || name.rfind("th", 0) == 0;
    put(line ? "\n" : cell ? "\t" : " ", at, at + close + 1);
    return close + 1;
  }

  std::size_t take_entity(std::size_t at) {
    const std::size_t close = bytes_.substr(at, 12).find(';');
    if (close == std::string_view::npos || close < 3) return 0;
    const std::string_view name = bytes_.substr(at + 1, close - 1);
    if (name.front() == '#') {
      char32_t point = 0;
      for (const char c : name.substr(1)) {
        if (!digit(c)) return 0;
        point = point * 10 + static_cast<char32_t>(c - '0');
      }
      if (point == 0 || point > 0x10FFFF) return 0;
      put_point(point, at, at + close + 1);
      return close + 1;
    }
    for (const Entity& entity : entities) {
      if (entity.name != name) continue;
      put_point(entity.point, at, at + close + 1);
      return close + 1;
    }
    return 0;
  }

  std::string_view bytes_;
  Plain out_;
};

// --- Numbers ---

std::string strip_zeros(std::string text) {
  const std::size_t first = text.find_first_not_of('0');
  if (first == std::string::npos) return "0";
  if (text[first] == '.') return "0" + text.substr(first);
  return text.substr(first);
}

class Scanner {
 public:
  explicit Scanner(const Plain& plain) : text_(plain.text), low_(plain.low) {}

  Scan run() {
    mask_links();
    mask_dates();
    std::sort(scan_.masked.begin(), scan_.masked.end(),
              [](const Masked& a, const Masked& b) { return a.begin < b.begin; });
    std::vector<Masked> merged;
    for (const Masked& m : scan_.masked) {
      if (merged.empty() || m.begin > merged.back().end) {
        merged.push_back(m);
      } else {
        merged.back().end = std::max(merged.back().end, m.end);
      }
    }
    scan_.masked = std::move(merged);
    std::size_t at = 0;
    while (at < low_.size()) at = step(at);
    share_units();
    take_label_units();
    return std::move(scan_);
  }

 private:
  char at(std::size_t i) const { return at_or(low_, i); }
  std::size_t skip_blanks(std::size_t i, std::size_t most = 3) const {
    for (std::size_t n = 0; n < most && at(i) == ' '; ++n) ++i;
    return i;
  }

  // --- what is no number ---

  /// Anything with a scheme, and www; only http and https are kept as links.
  void mask_links() {
    for (std::size_t i = 0; i + 4 < low_.size(); ++i) {
      const bool scheme = starts(low_, i, "://");
      if (!scheme && !(starts(low_, i, "www.") && (i == 0 || !letter(at(i - 1))))) continue;
      std::size_t begin = i;
      while (begin > 0 && letter(low_[begin - 1]) && i - begin < 12) --begin;
      std::size_t end = i;
      while (end < low_.size() && at(end) > ' ' && at(end) != '"' && at(end) != '<' &&
             at(end) != '>' && static_cast<unsigned char>(at(end)) < 0x80) {
        ++end;
      }
      constexpr std::string_view closing = ".,;:)!?]'";
      while (end > i && closing.find(at(end - 1)) != std::string_view::npos) --end;
      const std::string_view name(low_.data() + begin, i - begin);
      if (scheme && (name == "http" || name == "https") && end > i + 3)
        scan_.links.push_back(text_.substr(begin, end - begin));
      scan_.masked.push_back({begin, std::max(end, i + 3)});
      i = std::max(end, i + 3);
    }
  }

  bool masked(std::size_t i, std::size_t& end) const {
    const auto after =
        std::upper_bound(scan_.masked.begin(), scan_.masked.end(), i,
                         [](std::size_t place, const Masked& m) { return place < m.begin; });
    if (after == scan_.masked.begin() || i >= std::prev(after)->end) return false;
    end = std::prev(after)->end;
    return true;
  }

  int number_at(std::size_t i, std::size_t count) const {
    int n = 0;
    for (std::size_t k = 0; k < count; ++k) {
      if (!digit(at(i + k))) return -1;
      n = n * 10 + (at(i + k) - '0');
    }
    return digit(at(i + count)) ? -1 : n;
  }

  void note_date(std::size_t begin, std::size_t end, std::array<int, 3> ymd) {
    const auto [y, m, d] = ymd;
    if (y < 1990 || y > 2100 || m < 1 || m > 12 || d < 1 || d > 31) return;
    std::string day = std::to_string(y) + (m < 10 ? "-0" : "-") + std::to_string(m) +
                      (d < 10 ? "-0" : "-") + std::to_string(d);
    if (scan_.date.empty()) scan_.date = std::move(day);
    scan_.masked.push_back({begin, end});
  }

  void mask_dates() {
    for (std::size_t i = 0; i + 7 < low_.size(); ++i) {
      if (!digit(at(i)) || (i > 0 && (digit(at(i - 1)) || at(i - 1) == '.'))) continue;
      const int year = number_at(i, 4);
      const char mark = at(i + 4);
      if (year >= 0 && (mark == '-' || mark == '/' || mark == '.')) {
        const std::size_t m = number_at(i + 5, 2) >= 0 ? 2 : 1;
        if (number_at(i + 5, m) < 0 || at(i + 5 + m) != mark) continue;
        const std::size_t d = number_at(i + 6 + m, 2) >= 0 ? 2 : 1;
        if (number_at(i + 6 + m, d) < 0) continue;
        note_date(i, i + 6 + m + d, {year, number_at(i + 5, m), number_at(i + 6 + m, d)});
        continue;
      }
      // Day before month, where the mark or the size of the number says so.
      const std::size_t d = number_at(i, 2) >= 0 ? 2 : 1;
      if (number_at(i, d) < 0) continue;
      const char first = at(i + d);
      const std::size_t m = number_at(i + d + 1, 2) >= 0 ? 2 : 1;
      if ((first != '.' && first != '/') || number_at(i + d + 1, m) < 0 ||
          at(i + d + 1 + m) != first)
        continue;
      const int y = number_at(i + d + 2 + m, 4);
      const int day = number_at(i, d), month = number_at(i + d + 1, m);
      if (y < 0) continue;
      if (first == '.' || day > 12) {
        note_date(i, i + d + 6 + m, {y, month, day});
      } else {
        scan_.masked.push_back({i, i + d + 6 + m});  // day or month first: nobody knows
      }
    }
  }

  // --- one step ---

  std::size_t step(std::size_t i) {
    std::size_t end = 0;
    if (masked(i, end)) return end;
    if (letter(at(i)) && (i == 0 || !letter(at(i - 1)))) return step_word(i);
    if (at(i) == '$') {
      if (const std::size_t e = money_before(i); e > 0) return e;
      return i + 1;
    }
    if (digit(at(i))) return step_number(i);
    if ((at(i) == '.' || at(i) == ',') && digit(at(i + 1)) && i > 0 && !digit(at(i - 1)) &&
        !letter(at(i - 1))) {
      return step_number(i);
    }
    return i + 1;
  }

  /// Letters: a currency before its number, IP65, M8, a model code, or a word.
  std::size_t step_word(std::size_t i) {
    if (const std::size_t e = money_before(i); e > 0) return e;
    if (const std::size_t e = ingress(i); e > 0) return e;
    if (const std::size_t e = stud(i); e > 0) return e;
    std::size_t letters = i;
    while (letter(at(letters))) ++letters;
    if (!digit(at(letters)) && !(at(letters) == '-' && digit(at(letters + 1)))) return letters;
    const std::string_view head(low_.data() + i, letters - i);
    if (at(letters) == '-' && digit(at(letters + 1)) && known(head)) return letters;
    if (digit(at(letters))) {
      if (known(head)) return letters;
      if (head.size() == 1 && std::string_view("lwhbdtx").find(head[0]) != std::string_view::npos &&
          side_follows(letters)) {
        return letters;
      }
    }
    // A code: letters, digits and hyphens that hang together.
    std::size_t end = letters;
    while (letter(at(end)) || digit(at(end)) ||
           ((at(end) == '-' || at(end) == '_' || at(end) == '/') &&
            (letter(at(end + 1)) || digit(at(end + 1))) && at(end) != '/')) {
      ++end;
    }
    return end;
  }

  bool known(std::string_view head) const {
    const std::string copy(head);
    const Word* word = word_at(copy, 0);
    return word != nullptr && word->spelling.size() == head.size();
  }

  /// Whether the number at `i` is a side of a box: "206*W170", "206mm".
  bool side_follows(std::size_t i) const {
    while (digit(at(i)) || at(i) == '.') ++i;
    i = skip_blanks(i);
    if (starts(low_, i, "mm") || starts(low_, i, "cm")) return true;
    return (at(i) == 'x' || at(i) == '*') && !letter(at(i + 2));
  }

  std::size_t ingress(std::size_t i) {
    if (!starts(low_, i, "ip")) return 0;
    std::size_t j = i + 2;
    if (at(j) == ' ' || at(j) == '-') ++j;
    if (!(digit(at(j)) || at(j) == 'x') || !digit(at(j + 1)) || digit(at(j + 2))) return 0;
    Quantity q;
    q.begin = i;
    q.end = j + 2;
    q.special = Special::ingress;
    q.low.value = std::string(1, at(j + 1));
    return add(std::move(q));
  }

  std::size_t stud(std::size_t i) {
    if (at(i) != 'm' || !digit(at(i + 1))) return 0;
    std::size_t j = i + 1;
    while (digit(at(j))) ++j;
    const std::string value(low_.substr(i + 1, j - i - 1));
    constexpr std::array<std::string_view, 9> sizes{"4",  "5",  "6",  "8", "10",
                                                    "12", "14", "16", "3"};
    if (std::find(sizes.begin(), sizes.end(), value) == sizes.end()) return 0;
    if (letter(at(j)) && at(j) != 'x') return 0;
    if (at(j) == '-' && letter(at(j + 1))) return 0;
    Quantity q;
    q.begin = i;
    q.end = j;
    q.special = Special::stud;
    q.low.value = value;
    // "M8x1.25": the thread's pitch belongs to it.
    if (at(j) == 'x' && digit(at(j + 1))) {
      ++j;
      while (digit(at(j)) || (at(j) == '.' && digit(at(j + 1)))) ++j;
      q.end = j;
    }
    return add(std::move(q));
  }

  std::size_t add(Quantity q) {
    const std::size_t end = q.end;
    if (scan_.quantities.size() < quantities_max) {
      scan_.quantities.push_back(std::move(q));
    } else {
      ++scan_.left_out;
    }
    return end;
  }

  // --- amounts ---

  struct Taken {
    Amount amount;
    std::size_t end = 0;
    bool by_blank = false;
  };

  /// Digits in groups with their marks.
  Taken amount(std::size_t i, bool money) const {
    Taken out;
    if (Taken fraction = inch_fraction(i); fraction.end > 0) return fraction;
    std::vector<std::pair<char, std::string>> groups;
    std::string first;
    std::size_t j = i;
    while (digit(at(j))) first += at(j++);
    groups.emplace_back(' ', first);
    while (groups.size() < 6) {
      const char mark = at(j);
      const bool marks = mark == '.' || mark == ',' || mark == '\'';
      if (!(marks && digit(at(j + 1))) && !(mark == ' ' && blank_groups(i, j))) break;
      if (mark == '\'' && !three_digits(j + 1)) break;
      if (mark == ' ') out.by_blank = true;
      std::string digits;
      ++j;
      while (digit(at(j))) digits += at(j++);
      groups.emplace_back(mark, digits);
    }
    out.end = j;
    out.amount = weigh(groups, money);
    return out;
  }

  bool three_digits(std::size_t i) const {
    return digit(at(i)) && digit(at(i + 1)) && digit(at(i + 2)) && !digit(at(i + 3));
  }

  /// "1 400": a blank parts thousands only before units that come in thousands.
  bool blank_groups(std::size_t begin, std::size_t blank) const {
    if (blank - begin > 7 || !three_digits(blank + 1) || at(begin) == '0') return false;
    std::size_t lead = blank;
    while (lead > begin && digit(at(lead - 1))) --lead;
    if (blank - lead > 3 || blank == lead) return false;
    std::size_t after = blank + 4;
    if ((at(after) == ',' || at(after) == '.') && digit(at(after + 1)) && digit(at(after + 2)) &&
        !digit(at(after + 3))) {
      after += 3;
    }
    if (letter(at(after)) || at(after) == ' ') {
      const std::size_t u = skip_blanks(after);
      if (currency_at(low_, u) != nullptr) return true;
      const Measure* m = measure_at(text_, low_, u, u == after);
      return m != nullptr && (m->kind == figure::Kind::power || m->kind == figure::Kind::rotation ||
                              m->counted == Counted::cycles);
    }
    return false;
  }

  /// Which marks part thousands and which decimals; both readings where nobody can say.
  static Amount weigh(const std::vector<std::pair<char, std::string>>& groups, bool money) {
    std::string all;
    for (const auto& [mark, digits] : groups) all += digits;
    if (groups.size() == 1) return {strip_zeros(all)};
    const char last = groups.back().first;
    const std::size_t decimals = groups.back().second.size();
    bool alike = true, threes = true;
    for (std::size_t i = 1; i < groups.size(); ++i) {
      alike = alike && groups[i].first == last;
      if (i + 1 < groups.size() || alike) threes = threes && groups[i].second.size() == 3;
    }
    const std::string whole = all.substr(0, all.size() - decimals);
    const std::string pointed =
        strip_zeros((whole.empty() ? "0" : whole) + "." + groups.back().second);
    const std::size_t lead = groups.front().second.size();
    if (last == ' ' || last == '\'') return {strip_zeros(all)};
    if (groups.size() > 2) {
      if (alike) return {threes ? strip_zeros(all) : pointed};
      return {pointed};
    }
    if (decimals != 3 || lead > 3 || lead == 0 || groups.front().second == "0") return {pointed};
    if (money) return {strip_zeros(all)};
    if (groups.front().second.front() == '0') return {pointed};
    return {strip_zeros(all), pointed};
  }

  /// "7/8 in", "8 1/8"", "13-1/2 inch".
  Taken inch_fraction(std::size_t i) const {
    std::size_t j = i;
    std::string whole, top, bottom;
    while (digit(at(j))) top += at(j++);
    if ((at(j) == ' ' || at(j) == '-') && digit(at(j + 1)) && top.size() <= 2) {
      std::size_t k = j + 1;
      std::string next;
      while (digit(at(k))) next += at(k++);
      if (at(k) == '/' && next.size() <= 2) {
        whole = top;
        top = next;
        j = k;
      }
    }
    if (at(j) != '/' || !digit(at(j + 1))) return {};
    ++j;
    while (digit(at(j))) bottom += at(j++);
    constexpr std::array<std::string_view, 6> parts{"2", "4", "8", "16", "32", "64"};
    if (std::find(parts.begin(), parts.end(), bottom) == parts.end() || top.size() > 2) return {};
    const std::size_t u = skip_blanks(j);
    const bool inches = at(u) == '"' || starts(low_, u, "in") || starts(low_, u, "zoll");
    if (!inches) return {};
    return {{(whole.empty() ? "" : whole + " ") + top + "/" + bottom}, j};
  }

  // --- quantities ---

  /// "US$ 389", "EUR 49,-".
  std::size_t money_before(std::size_t i) {
    const CurrencyWord* c = currency_at(low_, i);
    if (c == nullptr) return 0;
    std::size_t j = skip_blanks(i + c->spelling.size());
    if (at(j) == ':') j = skip_blanks(j + 1);
    // "Price USD$ 20": a dollar sign behind the code.
    if (at(j) == '$' && c->spelling != "$") j = skip_blanks(j + 1);
    if (!digit(at(j))) return 0;
    Taken taken = amount(j, true);
    Quantity q;
    q.begin = i;
    q.low = std::move(taken.amount);
    q.currency = c->code;
    q.end = price_tail(taken.end);
    const std::size_t k = skip_blanks(q.end);
    if (const CurrencyWord* again = currency_at(low_, k)) {
      q.end = k + again->spelling.size();
      if (q.currency == "$" || again->code == "USD") q.currency = again->code;
    }
    return add(std::move(q));
  }

  /// "95,-" and "420.-".
  std::size_t price_tail(std::size_t end) const {
    const bool tail = (at(end) == ',' || at(end) == '.') && at(end + 1) == '-';
    if (!tail) return end;
    end += 2;
    while (at(end) == '-') ++end;
    return end;
  }

  std::size_t step_number(std::size_t i) {
    Quantity q;
    q.begin = i;
    Taken taken = amount(i, false);
    q.low = std::move(taken.amount);
    q.grouped_by_blank = taken.by_blank;
    std::size_t end = taken.end;
    q.end = end;
    q.about = about_before(i);
    bound_before(i, q);
    minus_before(q);
    if (const std::size_t e = money_after(i, end); e > 0) return e;
    if (sides(q, end)) return add(std::move(q));
    end = tolerance(q, end);
    end = unit(q, end);
    end = tolerance(q, end);
    q.end = end;
    if (range(q, end)) end = tolerance(q, q.end);
    q.end = std::max(q.end, end);
    if (q.measure == nullptr && letter(at(taken.end)) && q.end == taken.end) return code(q);
    return add(std::move(q));
  }

  /// Digits with letters on that are no unit: a code; but a known word may touch its number.
  std::size_t code(Quantity q) {
    std::size_t letters = q.end;
    while (letter(at(letters))) ++letters;
    const std::string_view tail(low_.data() + q.end, letters - q.end);
    if (known(tail)) return add(std::move(q));
    if (tail == "xm" && digit(at(letters))) {  // "4xM8"
      add(std::move(q));
      const std::size_t end = stud(letters - 1);
      return end > 0 ? end : letters;
    }
    q.special = Special::code;
    while (letter(at(q.end)) || digit(at(q.end)) || (at(q.end) == '-' && digit(at(q.end + 1))))
      ++q.end;
    return add(std::move(q));
  }

  bool word_before(std::size_t i, std::string_view word) const {
    return i >= word.size() && low_.compare(i - word.size(), word.size(), word) == 0 &&
           (i == word.size() || !letter(low_[i - word.size() - 1]));
  }

  std::size_t blanks_back(std::size_t i) const {
    while (i > 0 && low_[i - 1] == ' ') --i;
    return i;
  }

  bool about_before(std::size_t i) const {
    const std::size_t j = blanks_back(i);
    if (j > 0 && low_[j - 1] == '~') return true;
    constexpr std::array<std::string_view, 13> abouts{
        "ca",     "ca.",  "approx",   "approx.", "about", "env.", "circa",
        "around", "etwa", "ungefahr", "aprox",   "ok.",   "cca"};
    const bool said = std::any_of(abouts.begin(), abouts.end(),
                                  [&](std::string_view w) { return word_before(j, w); });
    return said || (j >= 3 && low_.compare(j - 3, 3, "约") == 0);
  }

  void bound_before(std::size_t i, Quantity& q) const {
    const std::size_t j = blanks_back(i);
    if (j == 0) return;
    const char last = low_[j - 1], before = j > 1 ? low_[j - 2] : ' ';
    const char sign = last == '=' ? before : last;
    q.at_most = sign == '<';
    q.at_least = sign == '>';
  }

  /// A minus counts where no digit or letter stands before it.
  void minus_before(Quantity& q) const {
    if (q.begin == 0 || low_[q.begin - 1] != '-') return;
    const char before = q.begin > 1 ? low_[q.begin - 2] : ' ';
    if (before != ' ' && before != ':' && before != '(' && before != '=' && before != '\n' &&
        before != '\t' && before != '~') {
      return;
    }
    // "- 20 kg" at the head of a line is a bullet, "-20" is not.
    q.low.value = "-" + q.low.value;
    if (!q.low.other.empty()) q.low.other = "-" + q.low.other;
    --q.begin;
  }

  std::size_t money_after(std::size_t i, std::size_t end) {
    const std::size_t tail = price_tail(end);
    const std::size_t j = skip_blanks(tail);
    const CurrencyWord* c = currency_at(low_, j);
    if (c == nullptr || c->spelling == "l") return 0;
    const std::size_t stop = j + c->spelling.size();
    // "EUR 20 $": the next price's sign is not this one's.
    if (c->spelling == "$" && digit(at(skip_blanks(stop)))) return 0;
    Taken taken = amount(i, true);
    Quantity q;
    q.begin = i;
    q.low = std::move(taken.amount);
    q.currency = c->code;
    q.end = stop;
    q.about = about_before(i);
    return add(std::move(q));
  }

  static Senses suffix_of(std::string_view spelling) {
    Senses s;
    if (spelling.find("rms") != std::string_view::npos || spelling == "aeff") s.add(Sense::rms);
    if (spelling == "apk") s.add(Sense::amplitude);
    if (spelling == "vdc" || spelling == "v dc" || spelling == "adc" || spelling == "vcc")
      s.add(Sense::dc);
    if (spelling == "vac" || spelling == "v ac" || spelling == "v~") s.add(Sense::ac);
    return s;
  }

  std::size_t unit(Quantity& q, std::size_t end) {
    if (q.measure != nullptr) return end;
    std::size_t j = skip_blanks(end);
    const bool touches = j == end;
    if (at(j) == '-' && touches && letter(at(j + 1))) ++j;  // "72-volt"
    const Measure* m = measure_at(text_, low_, j, touches);
    if (m == nullptr) return end;
    if (m->spelling == "/min" && !touches) return end;
    // "48 a 100 V": a word of three languages, not amperes.
    if (m->spelling == "a" && !touches && text_[j] == 'a' && digit(at(skip_blanks(j + 1))))
      return end;
    q.measure = m;
    q.touches = touches;
    q.suffix = suffix_of(m->spelling);
    return j + m->spelling.size();
  }

  std::size_t tolerance(Quantity& q, std::size_t end) const {
    if (!q.tolerance.empty()) return end;
    std::size_t j = skip_blanks(end);
    const std::size_t sign = starts(low_, j, "+/-") ? 3 : starts(low_, j, "+-") ? 2 : 0;
    if (sign == 0) return end;
    j = skip_blanks(j + sign);
    if (!digit(at(j))) return end;
    const Taken taken = amount(j, false);
    q.tolerance = taken.amount.other.empty() ? taken.amount.value : taken.amount.other;
    std::size_t k = skip_blanks(taken.end);
    if (at(k) == '%') {
      q.tolerance += " %";
      return k + 1;
    }
    if (q.measure != nullptr) {
      const Measure* m = measure_at(text_, low_, k, k == taken.end);
      if (m != nullptr && m->kind == q.measure->kind) {
        q.tolerance += " " + std::string(m->unit);
        return k + m->spelling.size();
      }
    }
    return taken.end;
  }

  std::size_t connector(std::size_t i) const {
    const std::size_t j = skip_blanks(i);
    for (const std::string_view c : {"...", "..", "-", "~", "至", "到"}) {
      if (starts(low_, j, c)) return skip_blanks(j + c.size());
    }
    if (j == i) return 0;
    for (const std::string_view c : {"to ", "bis ", "a ", "tot ", "do ", "ate ", "til "}) {
      if (starts(low_, j, c)) return skip_blanks(j + c.size());
    }
    return 0;
  }

  static double number(const std::string& text) {
    double value = 0, scale = 0;
    bool negative = false;
    for (const char c : text) {
      if (c == '-') negative = true;
      if (c == '.') scale = 1;
      if (!digit(c)) continue;
      value = value * 10 + (c - '0');
      if (scale > 0) scale *= 10;
    }
    value = scale > 0 ? value / scale : value;
    return negative ? -value : value;
  }

  bool range(Quantity& q, std::size_t end) {
    std::size_t j = connector(end);
    if (j == 0) return false;
    const bool negative = at(j) == '-' && digit(at(j + 1));
    if (negative) ++j;
    if (at(j) == '+' && digit(at(j + 1))) ++j;
    if (!digit(at(j))) return false;
    const Taken taken = amount(j, false);
    Quantity second;
    second.low = taken.amount;
    if (negative) second.low.value = "-" + second.low.value;
    const std::size_t stop = unit(second, taken.end);
    if (second.measure == nullptr && q.measure == nullptr) return false;
    if (second.measure != nullptr && q.measure != nullptr &&
        (second.measure->kind != q.measure->kind ||
         second.measure->counted != q.measure->counted)) {
      return false;
    }
    // "60 V - 84": the second number of a range without a unit must end there.
    if (second.measure == nullptr && (letter(at(stop)) || at(skip_blanks(stop)) == 'x'))
      return false;
    const bool same_unit = second.measure == nullptr || q.measure == nullptr ||
                           second.measure->unit == q.measure->unit;
    if (!same_unit || number(q.low.value) >= number(second.low.value)) return false;
    // "a" is an ampere as often as a word.
    if (q.measure == nullptr) {
      q.measure = second.measure;
      q.touches = second.touches;
    }
    q.suffix = q.suffix | second.suffix;
    q.high = second.low;
    q.range = true;
    q.end = stop;
    return true;
  }

  /// "230 x 150 x 60 mm", "L206*W170*H100", "520mm(L)*260mm(W)*240mm(H)".
  bool sides(Quantity& q, std::size_t end) {
    std::vector<Side> found{{q.low, letter_before(q.begin)}};
    const Measure* measure = nullptr;
    std::size_t j = end, stop = end;
    while (found.size() <= 3) {
      std::size_t k = skip_blanks(j);
      if (const Measure* m = measure_at(text_, low_, k, k == j);
          m != nullptr && m->kind == figure::Kind::length) {
        measure = m;
        k += m->spelling.size();
        stop = k;
        j = k;
      }
      k = skip_blanks(j);
      if (at(k) == '(' && at(k + 2) == ')' && side_letter(at(k + 1)) != ' ') {
        found.back().letter = side_letter(at(k + 1));
        k += 3;
        stop = k;
        j = k;
        if (const Measure* m = measure_at(text_, low_, skip_blanks(k), true);
            measure == nullptr && m != nullptr && m->kind == figure::Kind::length) {
          measure = m;
          j = skip_blanks(k) + m->spelling.size();
          stop = j;
        }
      }
      k = skip_blanks(j);
      if (at(k) != 'x' && at(k) != '*') break;
      k = skip_blanks(k + 1);
      char name = ' ';
      if (side_letter(at(k)) != ' ' && digit(at(skip_blanks(k + 1)))) {
        name = side_letter(at(k));
        k = skip_blanks(k + 1);
      }
      if (!digit(at(k))) break;
      const Taken taken = amount(k, false);
      found.push_back({taken.amount, name});
      j = taken.end;
      stop = j;
    }
    if (found.size() < 2 || found.size() > 3) return false;
    if (measure == nullptr && found.size() == 2) return false;
    q.sides = std::move(found);
    q.measure = measure;
    q.end = stop;
    return true;
  }

  static char side_letter(char c) {
    switch (c) {
      case 'l':
      case 'w':
      case 'h':
      case 'd':
      case 't':
        return c;
      case 'b':
        return 'w';
      default:
        return ' ';
    }
  }

  char letter_before(std::size_t begin) const {
    begin = blanks_back(begin);
    if (begin == 0) return ' ';
    const char c = side_letter(low_[begin - 1]);
    return c != ' ' && (begin == 1 || !letter(low_[begin - 2])) ? c : ' ';
  }

  /// "14/42 Nm": the first takes the unit of the second.
  void share_units() {
    auto& all = scan_.quantities;
    for (std::size_t i = all.size(); i-- > 1;) {
      Quantity &a = all[i - 1], &b = all[i];
      if (a.measure != nullptr || b.measure == nullptr || !a.currency.empty() ||
          a.special != Special::none || !a.sides.empty()) {
        continue;
      }
      const std::string_view between(low_.data() + a.end, b.begin - a.end);
      if (trim(between) != "/") continue;
      a.measure = b.measure;
      a.suffix = b.suffix;
    }
  }

  /// "Weight (kg): 12", "Max RPM: 6000": the label holds the unit.
  void take_label_units() {
    std::size_t before = 0;
    for (Quantity& q : scan_.quantities) {
      const std::size_t from = before;
      before = q.end;
      if (q.measure != nullptr || !q.currency.empty() || q.special != Special::none || q.range)
        continue;
      std::size_t i = q.begin;
      std::size_t lines = 0;
      while (i > from && q.begin - i < 60 && lines < 2) {
        --i;
        if (low_[i] == '\n') ++lines;
        if (lines == 1 && low_[i] == '\n' &&
            !trim(std::string_view(low_).substr(i, q.begin - i)).empty())
          break;
        if (const std::size_t length = label_unit(i, q.begin); length > 0) {
          q.measure = measure_at(text_, low_, length, true);
          break;
        }
      }
      if (q.measure == nullptr && word_before(label_end(from, q.begin), "rpm"))
        q.measure = measure_at(text_, low_, label_end(from, q.begin) - 3, true);
      if (q.measure != nullptr) q.suffix = suffix_of(q.measure->spelling);
    }
  }

  /// The end of the words before a number, without blanks and colons.
  std::size_t label_end(std::size_t from, std::size_t begin) const {
    while (begin > from &&
           std::string_view(" :=\t|").find(low_[begin - 1]) != std::string_view::npos)
      --begin;
    return begin;
  }

  /// Where the unit in the bracket at `i` begins; 0 where there is none.
  std::size_t label_unit(std::size_t i, std::size_t stop) const {
    if (at(i) != '(' && at(i) != '[') return 0;
    const std::size_t close = low_.find(at(i) == '(' ? ')' : ']', i);
    if (close == std::string::npos || close >= stop || close == i + 1) return 0;
    const Measure* m = measure_at(text_, low_, i + 1, true);
    return m != nullptr && i + 1 + m->spelling.size() == close ? i + 1 : 0;
  }

  const std::string& text_;
  const std::string& low_;
  Scan scan_;
};

}  // namespace

Plain plain_text(std::string_view bytes) {
  return PlainBuilder(bytes).build();
}

Quote quote_of(const Plain& plain, std::string_view bytes, std::size_t begin, std::size_t end) {
  Quote quote;
  if (begin >= end || end > plain.from.size()) return quote;
  quote.begin = plain.from[begin];
  quote.end = plain.to[end - 1];
  const std::string_view raw = bytes.substr(quote.begin, quote.end - quote.begin);
  std::size_t at = 0;
  while (at < raw.size()) {
    const Decoded d = decode(raw, at);
    const bool good = d.length > 1 || d.point < 0x80;
    if (good) {
      quote.words += raw.substr(at, d.length);
    } else {
      quote.words += '?';
    }
    at += d.length;
  }
  return quote;
}

Scan scan(const Plain& plain) {
  return Scanner(plain).run();
}

std::vector<Hit> find_words(const Plain& plain, const Scan& scan) {
  std::vector<Hit> out;
  std::vector<Masked> skip = scan.masked;
  for (const Quantity& q : scan.quantities) skip.push_back({q.begin, q.end});
  std::sort(skip.begin(), skip.end(),
            [](const Masked& a, const Masked& b) { return a.begin < b.begin; });
  std::size_t next = 0, at = 0;
  while (at < plain.low.size()) {
    while (next < skip.size() && skip[next].end <= at) ++next;
    if (next < skip.size() && at >= skip[next].begin) {
      at = skip[next].end;
      continue;
    }
    const Word* word = word_at(plain.low, at);
    if (word != nullptr) {
      out.push_back({at, at + word->spelling.size(), word->means});
      at += word->spelling.size();
    } else {
      ++at;
    }
  }
  return out;
}

}  // namespace ww::plan::paste
