// SPDX-License-Identifier: MIT
// What is sold, and what words alone say of it.
#include <algorithm>
#include <map>
#include <set>

#include "base/text.h"
#include "plan/paste_reader.h"

namespace ww::plan::paste {

namespace {

using S = Sense;

bool letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

const build::Slot* slot_of(std::string_view shelf) {
  for (const build::Slot& slot : build::schema().slots()) {
    if (slot.is_part && slot.shelf == shelf) return &slot;
  }
  return nullptr;
}

struct Naming {
  const PartWord* part;
  Hit hit;
  int line;
};

/// The words that name a part, but for those behind "for" or "with".
std::vector<Naming> namings(const Draft& d) {
  std::vector<Naming> out;
  for (std::size_t i = 0; i < d.context.lines.size(); ++i) {
    const Line& line = d.context.lines[i];
    bool complement = false;
    std::size_t last = line.begin;
    for (const Hit& hit : hits_in(d.hits, line.begin, line.end)) {
      const std::string_view between = std::string_view(d.plain.low).substr(last, hit.begin - last);
      if (between.find_first_of(",;|()!.") != std::string_view::npos) complement = false;
      last = hit.end;
      if (hit.means.has(S::complement)) complement = true;
      if (complement) continue;
      for (const PartWord& part : part_words()) {
        if (hit.means.has(part.sense) && hit.means.without(part_senses()).empty())
          out.push_back({&part, hit, static_cast<int>(i)});
      }
    }
  }
  return out;
}

void put_kind(Draft& d, const PartWord& part, Sureness sure) {
  d.slot = slot_of(part.shelf);
  d.out.shelf = part.shelf;
  d.out.kind = part.kind;
  d.out.kind_sure = sure;
}

/// "motor", "pack": the hint's part, null where it names none.
const PartWord* hinted(std::string_view kind) {
  const std::string plain = lower(kind);
  for (const PartWord& part : part_words()) {
    if (plain == part.kind || (plain == "pack" && part.kind == "pack")) return &part;
  }
  for (const PartWord& part : part_words()) {
    if (plain == part.shelf) return &part;
  }
  return nullptr;
}

/// Other shelves have no word table of their own, but may be hinted at.
bool hint_other_shelf(Draft& d) {
  const build::Slot* slot = slot_of(lower(d.hint.kind));
  if (slot == nullptr) return false;
  d.slot = slot;
  d.out.shelf = slot->shelf;
  d.out.kind = slot->shelf;
  d.out.kind_sure = Sureness::sure;
  return true;
}

/// Cell, module or pack: by the words, then by the voltage. A hint of "cell" is the shelf's name
/// and leaves it open.
void name_battery(Draft& d, const std::vector<Naming>& all, const PartWord* hint) {
  if (d.out.shelf != "cell" || (hint != nullptr && hint->kind != "cell")) return;
  bool cell = false, module = false, pack = false;
  for (const Naming& naming : all) {
    if (naming.line != d.title_line) continue;
    cell = cell || naming.part->sense == S::cell;
    module = module || naming.part->sense == S::module;
    pack = pack || naming.part->sense == S::battery;
  }
  double volts = 0;
  for (const Quantity& q : d.scanned.quantities) {
    if (q.measure != nullptr && q.measure->kind == figure::Kind::voltage && !q.range)
      volts = std::max(volts, number_of(q.low.value));
  }
  if (module) {
    d.out.kind = "module";
  } else if (volts > 0 && volts < 5.5) {
    d.out.kind = "cell";
  } else if (pack || volts > 20) {
    d.out.kind = "pack";
  } else if (cell) {
    d.out.kind = "cell";
  }
}

}  // namespace

void decide_kind(Draft& d) {
  const auto all = namings(d);
  std::map<std::string_view, int> counts;
  for (const Naming& n : all) ++counts[n.part->shelf];
  d.title_line = all.empty() ? -1 : all.front().line;
  const PartWord* hint = d.hint.kind.empty() ? nullptr : hinted(d.hint.kind);
  const PartWord* best = nullptr;
  bool kit = false;
  std::set<std::string_view> in_title;
  // What is sold stands in the first clause that names a part; "BMS 60 A inside" comes later.
  std::size_t clause_end = 0;
  if (!all.empty()) {
    const std::size_t line_end = d.context.lines[static_cast<std::size_t>(d.title_line)].end;
    clause_end = std::min(line_end, d.plain.low.find_first_of(",;|(!", all.front().hit.end));
    const std::size_t stop = d.plain.low.find(". ", all.front().hit.end);
    clause_end = std::min(clause_end, stop);
    const std::size_t begin = d.plain.low.rfind(". ", all.front().hit.begin);
    d.title_begin = begin == std::string::npos ? 0 : begin;
    d.title_end = std::min(line_end, stop);
  }
  for (const Naming& n : all) {
    if (n.line != d.title_line || n.hit.begin >= clause_end) continue;
    in_title.insert(n.part->shelf);
    if (best == nullptr || n.part->rank > best->rank) best = n.part;
  }
  if (d.title_line >= 0) {
    const Line& line = d.context.lines[static_cast<std::size_t>(d.title_line)];
    for (const Hit& hit : hits_in(d.hits, line.begin, line.end)) kit = kit || hit.means.has(S::kit);
    const std::string_view text =
        std::string_view(d.plain.low).substr(line.begin, line.end - line.begin);
    kit = (kit || text.find(" + ") != std::string_view::npos) && in_title.size() > 1;
  }
  // Shelves by how often they are named.
  std::vector<std::pair<int, std::string_view>> order;
  order.reserve(counts.size());
  for (const auto& [shelf, n] : counts) order.emplace_back(-n, shelf);
  std::sort(order.begin(), order.end());
  d.out.kinds_possible.reserve(order.size());
  for (const auto& [n, shelf] : order) d.out.kinds_possible.emplace_back(shelf);

  if (hint != nullptr) {
    put_kind(d, *hint, Sureness::sure);
    name_battery(d, all, hint);
    return;
  }
  if (!d.hint.kind.empty() && hint_other_shelf(d)) return;
  if (best == nullptr) {
    // A size code or a chemistry beside a capacity is a cell.
    const bool charge = std::any_of(
        d.scanned.quantities.begin(), d.scanned.quantities.end(), [](const Quantity& q) {
          return q.measure != nullptr && q.measure->kind == figure::Kind::charge;
        });
    bool said = false;
    for (const Saying& saying : sayings()) {
      if (saying.shelf != "cell" || (saying.key != "format" && saying.key != "chemistry")) continue;
      for (const auto word : split(saying.words, '|'))
        said = said || d.plain.low.find(word) != std::string::npos;
    }
    if (!said || !charge) {
      // Shaft, torque or pole pairs beside a power are a motor's.
      bool power = false;
      Senses spoken;
      for (const Hit& hit : d.hits) spoken = spoken | hit.means;
      for (const Quantity& q : d.scanned.quantities)
        power = power || (q.measure != nullptr && q.measure->kind == figure::Kind::power);
      if (power && spoken.holds_any(S::shaft | S::pole_pairs | S::speed_constant | S::torque) &&
          spoken.holds_any(S::rated | S::continuous | S::peak | S::max)) {
        put_kind(d, part_words()[0], Sureness::likely);
        d.title_line = 0;
        d.out.kinds_possible = {"motor"};
      }
      return;
    }
    if (charge && said) {
      put_kind(d, part_words()[3], Sureness::likely);
      d.title_line = 0;
      name_battery(d, all, nullptr);
      d.out.kinds_possible = {"cell"};
    }
    return;
  }
  if (kit) return;
  int rivals = 0;
  for (const auto& [shelf, n] : counts) rivals = std::max(rivals, shelf == best->shelf ? 0 : n);
  const bool sure = in_title.size() == 1 && counts[best->shelf] >= rivals;
  put_kind(d, *best, sure ? Sureness::sure : Sureness::likely);
  for (const Naming& n : all) {
    if (n.part->shelf == best->shelf && d.out.kind_from.size() < 3)
      d.out.kind_from.push_back(d.quote(n.hit.begin, n.hit.end));
  }
  std::stable_partition(d.out.kinds_possible.begin(), d.out.kinds_possible.end(),
                        [&](const std::string& shelf) { return shelf == best->shelf; });
  name_battery(d, all, nullptr);
}

// --- What words alone say ---

namespace {

struct Said {
  const Saying* saying;
  std::size_t begin, end;
  bool negated;
};

bool negated_before(std::string_view low, std::size_t at) {
  constexpr std::string_view negations[] = {
      "no ",    "not ",  "without ", "w/o ",   "ohne ", "non-",  "non ",  "nicht ",     "kein ",
      "keine ", "sans ", "sin ",     "senza ", "bez ",  "niet ", "geen ", "without a ", "nie"};
  const std::string_view head = low.substr(0, at);
  for (const auto n : negations) {
    const bool ends = head.size() >= n.size() && head.substr(head.size() - n.size()) == n;
    if (ends && (head.size() == n.size() || !letter(head[head.size() - n.size() - 1]))) return true;
  }
  return false;
}

/// "regen: no", "economizer - none".
bool negated_behind(std::string_view low, std::size_t end) {
  std::size_t i = end;
  while (i < low.size() && letter(low[i])) ++i;  // the rest of the word
  std::size_t skipped = 0;
  while (i < low.size() &&
         (low[i] == ' ' || low[i] == ':' || low[i] == '=' || low[i] == '\t' || low[i] == '|')) {
    ++i;
    ++skipped;
  }
  if (skipped == 0) return false;
  for (const std::string_view no : {"no", "nein", "non", "none", "nie", "nee", "not", "nicht"}) {
    if (low.substr(i, no.size()) == no &&
        (i + no.size() >= low.size() || !letter(low[i + no.size()])))
      return true;
  }
  return false;
}

bool word_stands(std::string_view low, std::size_t at, std::string_view word) {
  if (at > 0 && letter(low[at - 1]) && letter(word.front())) return false;
  const std::size_t end = at + word.size();
  const bool stem = word.size() > 5;
  return stem || end >= low.size() || !letter(low[end]) || !letter(word.back()) || low[end] == 's';
}

bool masked_at(const Draft& d, std::size_t at) {
  return std::any_of(d.scanned.masked.begin(), d.scanned.masked.end(),
                     [&](const Masked& m) { return at >= m.begin && at < m.end; });
}

const Line& line_at(const Draft& d, std::size_t at) {
  const auto& lines = d.context.lines;
  auto after = std::upper_bound(lines.begin(), lines.end(), at,
                                [](std::size_t a, const Line& l) { return a < l.begin; });
  return after == lines.begin() ? lines.front() : *std::prev(after);
}

Senses own_parts(std::string_view shelf) {
  Senses own;
  for (const PartWord& part : part_words()) {
    if (part.shelf == shelf) own.add(part.sense);
  }
  return own;
}

std::vector<Said> said_in(const Draft& d) {
  std::vector<Said> out;
  const std::string_view low = d.plain.low;
  const Senses own = own_parts(d.out.shelf);
  for (const Saying& saying : sayings()) {
    if (saying.shelf != d.out.shelf) continue;
    for (const auto word : split(saying.words, '|')) {
      std::size_t at = low.find(word);
      for (int n = 0; at != std::string_view::npos && n < 50; at = low.find(word, at + 1), ++n) {
        if (!word_stands(low, at, word) || masked_at(d, at)) continue;
        const Line& line = line_at(d, at);
        if (!line.scope.empty() && !line.scope.holds_any(own)) continue;
        const std::size_t from = at - std::min<std::size_t>(at - line.begin, 20);
        const std::string_view text =
            low.substr(from, std::min(line.end, at + word.size() + 20) - from);
        if (text.find("optional") != std::string_view::npos ||
            text.find("wahlweise") != std::string_view::npos) {
          continue;
        }
        out.push_back({&saying, at, at + word.size(),
                       negated_before(low, at) || negated_behind(low, at + word.size())});
      }
    }
  }
  return out;
}

void put_saying(Draft& d, std::string_view key, std::string text, const Said& said, Sureness sure) {
  Found found;
  found.key = key;
  found.text = std::move(text);
  found.sure = sure;
  found.why = "the words say so";
  found.from.push_back(d.quote(said.begin, said.end));
  d.found.push_back(std::move(found));
}

}  // namespace

void read_sayings(Draft& d) {
  const auto all = said_in(d);
  if (d.out.kind == "module") {
    Found found;
    found.key = "format";
    found.text = "module";
    found.why = "it is sold as a module";
    found.from = d.out.kind_from;
    d.found.push_back(std::move(found));
  }
  std::set<std::string_view> keys;
  for (const Said& s : all) keys.insert(s.saying->key);
  for (const std::string_view key : keys) {
    const build::Id id = d.id(key);
    if (id < 0) continue;
    const build::FieldInfo& info = *build::schema()[id].info;
    std::vector<const Said*> good;
    std::set<std::string_view> options;
    const Said* bad = nullptr;
    for (const Said& s : all) {
      if (s.saying->key != key) continue;
      if (s.negated) {
        bad = &s;
      } else {
        good.push_back(&s);
        options.insert(s.saying->option);
      }
    }
    const bool answer = info.options.size() == 3 && info.options[1] == "no";
    if (answer) {
      if (bad != nullptr && good.empty()) put_saying(d, key, "no", *bad, Sureness::likely);
      if (bad == nullptr && !good.empty())
        put_saying(d, key, "yes", *good[0], good[0]->saying->sure);
      continue;
    }
    if (good.empty()) continue;
    if (info.type == build::FieldType::set) {
      std::vector<std::string> list;
      for (const std::string_view option : info.options) {
        if (options.count(option) > 0) list.emplace_back(option);
      }
      put_saying(d, key, join(list, ", "), *good[0], Sureness::likely);
      continue;
    }
    // A sin/cos encoder is no second sensor; a hub motor is brushless, too.
    if (options.count("sin_cos") > 0) options = {"sin_cos"};
    if (options.size() > 1 && options.count("pm_radial") > 0) options.erase("pm_radial");
    if (options.size() == 1) {
      for (const Said* s : good) {
        if (*options.begin() == s->saying->option) {
          put_saying(d, key, std::string(s->saying->option), *s, s->saying->sure);
          break;
        }
      }
      continue;
    }
    Asked asked;
    asked.text = "The text names more than one: which is it for '" + std::string(info.label) + "'?";
    for (const std::string_view option : options)
      asked.options.push_back({std::string(key), std::string(option), std::string(option)});
    asked.from.push_back(d.quote(good[0]->begin, good[0]->end));
    d.asked.push_back(std::move(asked));
  }
}

}  // namespace ww::plan::paste
