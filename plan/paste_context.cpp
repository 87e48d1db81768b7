// SPDX-License-Identifier: MIT
#include "plan/paste_context.h"

#include <algorithm>

#include "base/text.h"

namespace ww::plan::paste {

namespace {

using S = Sense;
using figure::Kind;

constexpr Senses nouns = S::power | S::voltage | S::current | S::speed | S::torque | S::efficiency |
                         S::mass | S::length | S::width | S::height | S::thickness | S::diameter |
                         S::size | S::capacity | S::energy | S::resistance | S::inductance |
                         S::capacitance | S::frequency | S::temperature | S::time | S::cycles |
                         S::speed_constant | S::torque_constant | S::price | S::freight;
/// What a number hands on to the next one of its kind in the line.
constexpr Senses handed_on = nouns | S::at_battery | S::at_phase | S::line_line | S::charging |
                             S::discharging | S::input | S::output | S::coil | S::contacts |
                             S::balance | S::operating | S::complement | S::no_load;
constexpr Senses how_much =
    S::rated | S::continuous | S::peak | S::max | S::min | S::brief | S::absolute;

/// What a noun is measured in; empty where it may be anything.
bool suits(Senses means, const Quantity& q) {
  const Senses said = means & nouns;
  if (said.empty()) return true;
  if (!q.currency.empty()) return said.has(S::price) || said.has(S::freight);
  if (q.measure == nullptr) return true;
  const Kind kind = q.measure->kind;
  const auto is = [&](Kind k, Senses s) { return kind == k && said.holds_any(s); };
  return is(Kind::power, S::power) || is(Kind::voltage, S::voltage) ||
         is(Kind::current, S::current) || is(Kind::rotation, S::speed) ||
         is(Kind::torque, S::torque) || is(Kind::mass, S::mass) ||
         is(Kind::length,
            S::length | S::width | S::height | S::thickness | S::diameter | S::size) ||
         is(Kind::charge, S::capacity) || is(Kind::energy, S::energy | S::capacity) ||
         is(Kind::resistance, S::resistance) || is(Kind::inductance, S::inductance) ||
         is(Kind::capacitance, S::capacitance) || is(Kind::frequency, S::frequency) ||
         is(Kind::temperature, S::temperature) || is(Kind::time, S::time) ||
         is(Kind::ratio,
            S::efficiency | S::cycles | S::speed_constant | S::current | S::capacity) ||
         is(Kind::motor_constant, S::speed_constant) ||
         is(Kind::torque_constant, S::torque_constant);
}

/// A stretch of text between two marks.
struct Piece {
  std::size_t begin, end;
};

/// The text between two numbers, cut at its marks.
struct Slot {
  std::size_t begin = 0, end = 0;
  bool cut = false;         ///< a mark stands in it
  bool slash_only = false;  ///< nothing but "/", "or", or a gap between columns
  bool empty = true;
  bool condition = false;
  bool sentence = false;  ///< a sentence ends in it
  Piece right{0, 0};      ///< belongs to the number before
  Piece left{0, 0};       ///< belongs to the number after
  Piece label{0, 0};      ///< before a colon
  bool has_label = false;
};

class Placer {
 public:
  Placer(const Plain& plain, const Scan& scan, const std::vector<Hit>& hits)
      : low_(plain.low), scan_(scan), hits_(hits) {
    out_.of.resize(scan.quantities.size());
  }

  Contexts run() {
    cut_lines();
    for (std::size_t i = 0; i < out_.lines.size(); ++i) {
      place_scope(i);
      place_line(static_cast<int>(i));
    }
    return std::move(out_);
  }

 private:
  const Quantity& q(int i) const { return scan_.quantities[static_cast<std::size_t>(i)]; }
  Context& c(int i) { return out_.of[static_cast<std::size_t>(i)]; }

  void cut_lines() {
    std::size_t begin = 0;
    std::size_t next = 0;
    while (begin <= low_.size()) {
      std::size_t end = low_.find('\n', begin);
      if (end == std::string::npos) end = low_.size();
      Line line{begin, end};
      while (next < scan_.quantities.size() && scan_.quantities[next].begin < end) {
        line.quantities.push_back(static_cast<int>(next));
        ++next;
      }
      out_.lines.push_back(std::move(line));
      begin = end + 1;
    }
  }

  Senses senses(Piece p) const {
    Senses s;
    for (const Hit& hit : hits_in(hits_, p.begin, p.end)) s = s | hit.means;
    return s;
  }

  bool letter_at(std::size_t i) const {
    return i < low_.size() && low_[i] >= 'a' && low_[i] <= 'z';
  }

  bool mark_at(std::size_t i) const {
    const char ch = low_[i];
    if (ch == ',' || ch == ';' || ch == '|' || ch == '\t' || ch == '(' || ch == ')' || ch == '[' ||
        ch == ']' || ch == '@' || ch == '!') {
      return true;
    }
    // "charge/discharge" is one word, "5 kW / 13 kW" two numbers.
    if (ch == '/') return !(letter_at(i - 1) && letter_at(i + 1));
    const bool blanks = i > 0 && low_[i - 1] == ' ' && i + 1 < low_.size() && low_[i + 1] == ' ';
    if ((ch == '-' || ch == '+' || ch == '*') && blanks) return true;
    if (ch != '.' || i + 1 >= low_.size() || low_[i + 1] != ' ') return false;
    // "max. 200 A" is no end of a sentence.
    std::size_t w = i;
    while (w > 0 && low_[w - 1] >= 'a' && low_[w - 1] <= 'z') --w;
    return i - w > 5;
  }

  /// A full stop right behind a number.
  bool sentence_end(std::size_t begin, std::size_t i, std::size_t end) const {
    return i == begin && low_[i] == '.' && i + 1 < end && low_[i + 1] == ' ';
  }

  bool inside_word_hit(std::size_t i) const {
    const auto in = hits_in(hits_, i > 24 ? i - 24 : 0, i + 1);
    return std::any_of(in.begin(), in.end(),
                       [&](const Hit& h) { return h.begin < i && i + 1 < h.end; });
  }

  std::vector<std::size_t> marks(std::size_t begin, std::size_t end) const {
    std::vector<std::size_t> out;
    for (std::size_t i = begin; i < end; ++i) {
      if ((mark_at(i) && !inside_word_hit(i)) || sentence_end(begin, i, end)) out.push_back(i);
    }
    return out;
  }

  bool blank(std::size_t begin, std::size_t end) const {
    for (std::size_t i = begin; i < end; ++i) {
      if (low_[i] != ' ' && low_[i] != '\t') return false;
    }
    return true;
  }

  /// Where a label before the colon at `colon` begins: behind the last mark outside brackets.
  std::size_t label_begin(std::size_t begin, std::size_t colon) const {
    int depth = 0;
    for (std::size_t i = colon; i-- > begin;) {
      const char ch = low_[i];
      if (ch == ')') ++depth;
      if (ch == '(') --depth;
      if (depth < 0) return i + 1;
      if (depth == 0 && (ch == ',' || ch == ';' || ch == '|' || ch == '\t')) return i + 1;
    }
    // A closing bracket of the number before.
    int open = 0;
    for (std::size_t i = begin; i < colon; ++i) {
      if (low_[i] == '(') ++open;
      if (low_[i] == ')' && --open < 0) return i + 1;
    }
    return begin;
  }

  Slot slot(std::size_t begin, std::size_t end, bool first) const {
    Slot s;
    s.begin = begin;
    s.end = end;
    s.empty = blank(begin, end);
    const std::string_view text = trim(std::string_view(low_).substr(begin, end - begin));
    s.slash_only = text == "/" || text == "or" || text == "oder" || text == "ou" || text == "o" ||
                   text == "|" || text == "&" || text == "and" || (!first && text.empty());
    s.condition = text == "@" || text == "at" || text == "bei" || text == "bij" || text == "przy" ||
                  (!text.empty() && text.back() == '@') ||
                  (text.size() > 3 && text.substr(text.size() - 3) == " at");
    std::size_t colon = std::string::npos;
    for (std::size_t i = begin; i < end; ++i) {
      const bool bound = low_[i] == '=' && i > 0 && (low_[i - 1] == '<' || low_[i - 1] == '>');
      if ((low_[i] == ':' || low_[i] == '=') && !bound) colon = i;
    }
    std::size_t rest = begin;
    if (colon != std::string::npos) {
      s.has_label = true;
      s.label = {label_begin(begin, colon), colon};
      s.right = {begin, s.label.begin};
      s.left = {colon + 1, end};
      s.cut = true;
      rest = colon + 1;
      const auto right_marks = marks(begin, s.label.begin);
      if (!right_marks.empty()) s.right = first_piece(begin, s.label.begin, right_marks);
    }
    for (const std::size_t mark : marks(begin, end))
      s.sentence = s.sentence || low_[mark] == '.' || low_[mark] == '!' || low_[mark] == ';';
    const auto found = marks(rest, end);
    if (!found.empty()) {
      s.cut = true;
      s.left = last_piece(rest, end, found);
      // What stands right behind the number before is that number's.
      if (!first && !s.has_label && s.left.begin == begin) s.left = {end, end};
      if (!s.has_label) s.right = first_piece(begin, end, found);
    } else if (!s.has_label) {
      s.right = {begin, end};
      s.left = {begin, end};
    }
    // The tab after a label of its own stands for a colon.
    if (!s.has_label && first && found.size() == 1 &&
        (low_[found[0]] == '\t' || low_[found[0]] == '|')) {
      s.has_label = true;
      s.label = {begin, found[0]};
      s.left = {found[0] + 1, end};
    }
    return s;
  }

  /// What stands right behind a number, a bracket included.
  Piece first_piece(std::size_t begin, std::size_t end,
                    const std::vector<std::size_t>& found) const {
    if (low_[found[0]] == '(' && blank(begin, found[0])) {
      const std::size_t close = low_.find(')', found[0]);
      return {found[0] + 1, close == std::string::npos ? end : std::min(end, close)};
    }
    return {begin, found[0]};
  }
  Piece last_piece(std::size_t begin, std::size_t end,
                   const std::vector<std::size_t>& found) const {
    std::size_t stop = end;
    for (std::size_t i = found.size(); i-- > 0;) {
      if (!blank(found[i] + 1, stop)) return {found[i] + 1, stop};
      // "(...) 8 kW": what stands in the bracket goes with what stands before it.
      stop = found[i];
      if (low_[found[i]] == ')') {
        const std::size_t open = low_.rfind('(', found[i]);
        if (open != std::string::npos && open >= begin)
          return {begin_of_piece(begin, open, found), stop};
      }
      if (low_[found[i]] == '(' || low_[found[i]] == '/') return {stop, stop};
    }
    return {begin, stop};
  }
  static std::size_t begin_of_piece(std::size_t begin, std::size_t open,
                                    const std::vector<std::size_t>& found) {
    std::size_t at = begin;
    for (const std::size_t mark : found) {
      if (mark < open) at = mark + 1;
    }
    return at;
  }

  /// "Mass without bracket": what follows "without" is not what is measured; "for the battery" is.
  void give_label(int i, Piece p) {
    bool said = false;
    for (const Hit& hit : hits_in(hits_, p.begin, p.end)) {
      if (said && hit.means.has(S::complement)) return;
      said = said || !hit.means.empty();
      give(i, hit);
    }
  }

  /// Words behind a number: "for" and "with" begin something else.
  void give_right(int i, Piece p) {
    for (const Hit& hit : hits_in(hits_, p.begin, p.end)) {
      if (hit.means.has(S::complement) && !hit.means.has(S::per)) return;
      give(i, hit);
    }
  }

  void give(int i, Piece p) {
    for (const Hit& hit : hits_in(hits_, p.begin, p.end)) give(i, hit);
  }
  void give(int i, const Hit& hit) {
    c(i).own = c(i).own | hit.means;
    c(i).named_by.push_back(hit);
  }

  /// Two ways of "how much" in a label, parted by a slash: "power (rated/peak)".
  std::vector<Hit> alternatives(Piece label) const {
    std::vector<Hit> found;
    const auto in = hits_in(hits_, label.begin, label.end);
    for (std::size_t i = 0; i < in.size(); ++i) {
      if (!in[i].means.holds_any(how_much)) continue;
      if (!found.empty()) {
        const auto between =
            trim(std::string_view(low_).substr(found.back().end, in[i].begin - found.back().end));
        if (between != "/" && between != "and" && between != "&" && between != "-" &&
            between != "und" && between != ". /" && between != "./") {
          return {};
        }
      }
      found.push_back(in[i]);
    }
    return found.size() >= 2 ? found : std::vector<Hit>{};
  }

  void place_line(int index) {
    const Line& line = out_.lines[static_cast<std::size_t>(index)];
    const auto& ids = line.quantities;
    if (ids.empty()) return;
    std::vector<Slot> slots;
    std::size_t begin = line.begin;
    for (const int id : ids) {
      slots.push_back(slot(begin, q(id).begin, begin == line.begin));
      begin = q(id).end;
      c(id).line = index;
    }
    slots.push_back(slot(begin, line.end, false));
    place_cut(ids, slots);
    place_shared(ids, slots);
    place_alternatives(ids, slots);
    for (const int id : ids) c(id).scope = line.scope;
    place_line_before(index, ids, slots);
    hand_on(ids, slots);
  }

  void place_cut(const std::vector<int>& ids, const std::vector<Slot>& slots) {
    for (std::size_t i = 0; i < ids.size(); ++i) {
      const Slot &before = slots[i], &after = slots[i + 1];
      const int id = ids[i];
      c(id).condition = before.condition;
      if (before.has_label) {
        if (alternatives(before.label).empty()) give_label(id, before.label);
        c(id).labelled = true;
      }
      if (i == 0 || before.cut) give(id, before.left);
      if (after.cut || i + 1 == ids.size()) give_right(id, after.right);
      // "Peak power (60 s): 21 kW": the bracket stands inside the label.
      if (i > 0 && closes_label(before) && slots[i - 1].end > 0 &&
          low_[slots[i - 1].end - 1] == '(') {
        const Piece label{slots[i - 1].begin, slots[i - 1].end};
        give_label(id, label);
        give_label(ids[i - 1], label);
        c(id).labelled = true;
      }
      c(id).variant = (i > 0 && before.slash_only && alike(q(id), q(ids[i - 1]))) ||
                      (i + 1 < ids.size() && after.slash_only && alike(q(id), q(ids[i + 1])));
    }
  }

  bool closes_label(const Slot& s) const {
    const std::string_view text = trim(std::string_view(low_).substr(s.begin, s.end - s.begin));
    return text.size() >= 2 && text[0] == ')' && trim(text.substr(1)).substr(0, 1) == ":";
  }

  static bool alike(const Quantity& a, const Quantity& b) {
    if (!a.currency.empty() || !b.currency.empty())
      return !a.currency.empty() && !b.currency.empty();
    const Senses current = S::ac | S::dc;
    const bool ac_and_dc = a.suffix.holds_any(current) && b.suffix.holds_any(current) &&
                           !(a.suffix & current).holds_all(b.suffix & current);
    return a.measure != nullptr && b.measure != nullptr && a.measure->kind == b.measure->kind &&
           a.measure->counted == b.measure->counted && !ac_and_dc;
  }

  bool holds_quality(Piece p) const { return senses(p).holds_any(how_much); }

  /// Words between two numbers without a mark: the line's own habit decides.
  void place_shared(const std::vector<int>& ids, const std::vector<Slot>& slots) {
    std::size_t i = 0;
    while (i < ids.size()) {
      std::size_t last = i;
      while (last + 1 < ids.size() && !slots[last + 1].cut) ++last;
      if (last > i) {
        place_run(ids, slots, i, last);
        share_parts(ids, slots, i, last);
      }
      i = last + 1;
    }
  }

  void place_run(const std::vector<int>& ids, const std::vector<Slot>& slots, std::size_t first,
                 std::size_t last) {
    const bool head = holds_quality(slots[first].left) ||
                      (slots[first].has_label && holds_quality(slots[first].label));
    const bool tail = holds_quality(slots[last + 1].right);
    for (std::size_t i = first; i < last; ++i) {
      const int a = ids[i], b = ids[i + 1];
      const Piece between{slots[i + 1].begin, slots[i + 1].end};
      const auto found = hits_in(hits_, between.begin, between.end);
      if (found.empty()) continue;
      Senses all;
      for (const Hit& hit : found) all = all | hit.means;
      const bool to_a = suits(all, q(a)), to_b = suits(all, q(b));
      if (!all.holds_any(how_much)) {
        const bool forward = to_b && !(all & nouns).empty();
        bool other = false;
        for (const Hit& hit : found) {
          other = other || hit.means.has(S::complement);
          give(other || forward || !to_a || to_b ? b : a, hit);
        }
        continue;
      }
      if (to_a != to_b && !(all & nouns).empty()) {
        for (const Hit& hit : found) give(to_a ? a : b, hit);
        continue;
      }
      const bool a_wants = wants_quality(q(a)), b_wants = wants_quality(q(b));
      if (head != tail) {
        for (const Hit& hit : found) give(head ? b : a, hit);
      } else if (!head && a_wants != b_wants) {
        for (const Hit& hit : found) give(a_wants ? a : b, hit);
      } else if (!head && first == i && last > i + 1 && !wants_quality(q(ids[first]))) {
        for (const Hit& hit : found) give(b, hit);
      } else if (!head && !wants_quality(q(ids[first])) && i > first) {
        for (const Hit& hit : found) give(b, hit);
      } else {
        c(a).unclear = true;
        c(b).unclear = true;
      }
    }
  }

  /// "84 V 10 A charger": both are the charger's.
  void share_parts(const std::vector<int>& ids, const std::vector<Slot>& slots, std::size_t first,
                   std::size_t last) {
    const Senses shared = part_senses() | S::complement;
    for (std::size_t i = last; i-- > first;) {
      if (slots[i + 1].empty) c(ids[i]).own = c(ids[i]).own | (c(ids[i + 1]).own & part_senses());
    }
    for (std::size_t i = first; i < last; ++i) {
      if (slots[i + 1].empty) c(ids[i + 1]).own = c(ids[i + 1]).own | (c(ids[i]).own & shared);
    }
  }

  /// Power, current, torque and speed mean little without "rated" or "peak".
  static bool wants_quality(const Quantity& quantity) {
    if (quantity.measure == nullptr) return false;
    const Kind kind = quantity.measure->kind;
    return kind == Kind::power || kind == Kind::current || kind == Kind::torque ||
           kind == Kind::rotation;
  }

  /// "Power (rated/peak): 5 kW / 13 kW": the first belongs to the first.
  void place_alternatives(const std::vector<int>& ids, const std::vector<Slot>& slots) {
    for (std::size_t i = 0; i < ids.size(); ++i) {
      if (!slots[i].has_label) continue;
      const auto choices = alternatives(slots[i].label);
      if (choices.empty()) continue;
      std::size_t n = 1;
      while (i + n < ids.size() && slots[i + n].slash_only && alike(q(ids[i]), q(ids[i + n]))) ++n;
      const auto rest = hits_in(hits_, slots[i].label.begin, slots[i].label.end);
      for (std::size_t k = 0; k < n; ++k) {
        Context& context = c(ids[i + k]);
        context.labelled = true;
        for (const Hit& hit : rest) {
          if (!hit.means.holds_any(how_much)) give(ids[i + k], hit);
          // "rated power/peak power": the noun of a choice belongs to all.
          context.own = context.own | (hit.means & nouns);
        }
        // "150/450 A rms": the last one's kind of amps holds for all.
        context.own =
            context.own | (c(ids[i + n - 1]).own & (S::rms | S::amplitude | S::dc | S::ac));
        if (n == choices.size()) {
          give(ids[i + k], choices[k]);
          context.variant = false;
        } else {
          context.unclear = true;
        }
      }
    }
  }

  bool only_parts(std::size_t begin, std::size_t end) const {
    const auto found = hits_in(hits_, begin, end);
    return !found.empty() && std::all_of(found.begin(), found.end(), [](const Hit& hit) {
      return !hit.means.empty() && hit.means.without(part_senses()).empty();
    });
  }

  /// "Controller: 72 V, 300 A": the line speaks of that part; "Controller:" alone the lines below.
  void place_scope(std::size_t index) {
    Line& line = out_.lines[index];
    const std::string_view text =
        trim(std::string_view(low_).substr(line.begin, line.end - line.begin));
    if (text.empty()) heading_ = {};
    line.scope = heading_;
    const std::size_t colon = low_.find(':', line.begin);
    const bool colon_here = colon != std::string::npos && colon < line.end;
    if (index > 0 && line.quantities.empty() && text.size() <= 40 &&
        only_parts(line.begin, line.end) &&
        (text.back() == ':' || hits_in(hits_, line.begin, line.end).front().end -
                                       hits_in(hits_, line.begin, line.end).front().begin + 2 >=
                                   text.size())) {
      heading_ = senses({line.begin, line.end});
      line.scope = heading_;
      return;
    }
    if (colon_here && only_parts(line.begin, colon)) line.scope = senses({line.begin, colon});
  }

  /// A line that is nothing but a number takes the words of the line before, if that is nothing but
  /// words.
  void place_line_before(int index, const std::vector<int>& ids, const std::vector<Slot>& slots) {
    if (!slots[0].empty || !c(ids[0]).own.without(S::dc | S::ac).empty()) return;
    if (index == 0) return;
    const Line& before = out_.lines[static_cast<std::size_t>(index) - 1];
    if (!before.quantities.empty() || before.end - before.begin > 60) return;
    const auto found = hits_in(hits_, before.begin, before.end);
    if (found.empty()) return;
    for (const Hit& hit : found) give(ids[0], hit);
    c(ids[0]).labelled = true;
  }

  void hand_on(const std::vector<int>& ids, const std::vector<Slot>& slots) {
    for (std::size_t i = 1; i < ids.size(); ++i) {
      Context &here = c(ids[i]), &before = c(ids[i - 1]);
      const Senses sides = S::input | S::output;
      const Senses other =
          sides | S::charging | S::discharging | S::coil | S::contacts | S::no_load;
      const bool of_side = !here.own.holds_any(other) && !slots[i].has_label && !slots[i].sentence;
      if (of_side) here.inherited = before.all() & sides;
      if (!alike(q(ids[i]), q(ids[i - 1]))) {
        // The number two before, where a time in brackets stands between.
        const Measure* between = q(ids[i - 1]).measure;
        if (i >= 2 && between != nullptr && between->kind == Kind::time &&
            alike(q(ids[i]), q(ids[i - 2])) && (here.own & nouns).empty() && !slots[i].has_label) {
          here.inherited = here.inherited | (c(ids[i - 2]).all() & handed_on);
        }
        continue;
      }
      if (slots[i].has_label) continue;
      const Senses idle = how_much | S::rms | S::amplitude | S::dc | S::ac | S::voltage |
                          S::current | S::power | S::complement | part_senses();
      if (here.own.without(idle).empty()) {
        here.inherited = here.inherited | (before.all() & handed_on);
      }
    }
  }

  const std::string& low_;
  const Scan& scan_;
  const std::vector<Hit>& hits_;
  Contexts out_;
  Senses heading_ = {};
};

}  // namespace

std::vector<Hit> hits_in(const std::vector<Hit>& hits, std::size_t begin, std::size_t end) {
  std::vector<Hit> out;
  auto at = std::lower_bound(hits.begin(), hits.end(), begin,
                             [](const Hit& hit, std::size_t b) { return hit.begin < b; });
  for (; at != hits.end() && at->begin < end; ++at) {
    if (at->end <= end) out.push_back(*at);
  }
  return out;
}

Senses part_senses() {
  Senses all;
  for (const PartWord& part : part_words()) all.add(part.sense);
  return all;
}

Contexts contexts(const Plain& plain, const Scan& scan, const std::vector<Hit>& hits) {
  return Placer(plain, scan, hits).run();
}

}  // namespace ww::plan::paste
