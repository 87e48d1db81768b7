// SPDX-License-Identifier: MIT
#include "plan/paste.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "base/text.h"
#include "plan/paste_reader.h"

namespace ww::plan {

std::string_view word(Sureness sureness) {
  switch (sureness) {
    case Sureness::sure:
      return "sure";
    case Sureness::likely:
      return "likely";
    case Sureness::ask:
      break;
  }
  return "ask";
}

namespace paste {

using S = Sense;
using figure::Kind;

double number_of(std::string_view text) {
  double value = 0, scale = 1;
  bool point = false, negative = false;
  for (const char ch : text) {
    if (ch == '-') negative = true;
    if (ch == '.') point = true;
    if (ch < '0' || ch > '9') continue;
    value = value * 10 + (ch - '0');
    if (point) scale *= 10;
  }
  return (negative ? -1 : 1) * value / scale;
}

bool accepted(build::Id id, std::string_view text) {
  build::Build scratch;
  return id >= 0 && build::set_from_text(scratch, id, text).has_value();
}

double value_of(build::Id id, std::string_view text) {
  build::Build scratch;
  if (id < 0 || !build::set_from_text(scratch, id, text).has_value())
    return std::numeric_limits<double>::quiet_NaN();
  return build::number_at(scratch, id);
}

std::vector<Quote> Draft::quotes(int i) const {
  std::vector<Quote> all{quote(q(i).begin, q(i).end)};
  for (const Hit& hit : c(i).named_by) {
    if (all.size() < 5 && !hit.means.empty()) all.push_back(quote(hit.begin, hit.end));
  }
  return all;
}

build::Id Draft::id(std::string_view key) const {
  return slot == nullptr ? -1
                         : build::schema().find(std::string(slot->key) + "." + std::string(key));
}

std::string_view Draft::label(std::string_view key) const {
  const build::Id field = id(key);
  return field < 0 ? std::string_view{} : build::schema()[field].info->label;
}

Found* Draft::first(std::string_view key) {
  for (Found& f : found) {
    if (f.key == key) return &f;
  }
  return nullptr;
}

double Draft::value(std::string_view key) {
  const Found* f = first(key);
  return f == nullptr ? std::numeric_limits<double>::quiet_NaN() : value_of(id(key), f->text);
}

void Draft::flag(std::string code, std::string text, std::vector<std::string> keys) {
  for (const PasteFlag& f : out.flags) {
    if (f.code == code) return;
  }
  out.flags.push_back({std::move(code), std::move(text), std::move(keys)});
}

void Draft::unused(int i, std::string why) {
  out.unused.push_back({quote(q(i).begin, q(i).end), std::move(why)});
}

void Draft::ask(int i, std::string text, std::vector<PasteOption> options) {
  asked.push_back({std::move(options), std::move(text), quotes(i), i});
}

void Draft::doubt(std::string_view key, const std::string& text) {
  std::vector<Found> kept;
  for (Found& f : found) {
    if (f.key != key) {
      kept.push_back(std::move(f));
      continue;
    }
    asked.push_back({{{f.key, f.text, std::string(label(key))}}, text, f.from, f.quantity});
  }
  found = std::move(kept);
}

namespace {

/// The decimal mark that the rest of the text uses.
enum class Mark : std::uint8_t { unknown, point, comma };

class Reader {
 public:
  explicit Reader(Draft& d) : d_(d) {}

  void run() {
    mark_ = decimal_mark();
    read_title();
    const int count = static_cast<int>(d_.scanned.quantities.size());
    for (int i = 0; i < count; ++i) {
      if (d_.slot == nullptr) {
        read_unknown_part(i);
      } else {
        read(i);
      }
    }
    if (d_.slot == nullptr) return;
    place_rates();
    place_bare_mass();
  }

 private:
  const Quantity& q(int i) const { return d_.q(i); }
  const Context& c(int i) const { return d_.c(i); }
  bool shelf(std::string_view name) const { return d_.out.shelf == name; }
  bool has_field(std::string_view key) const { return d_.id(key) >= 0; }
  bool in_title(int i) const {
    return c(i).line == d_.title_line && !c(i).labelled && q(i).begin >= d_.title_begin &&
           (d_.title_end == 0 || q(i).begin < d_.title_end);
  }
  std::string raw(int i) const { return d_.quote(q(i).begin, q(i).end).words; }

  // --- whole text ---

  Mark decimal_mark() const {
    int points = 0, commas = 0;
    const std::string& t = d_.plain.low;
    const auto digit = [&](std::size_t i) { return i < t.size() && t[i] >= '0' && t[i] <= '9'; };
    for (const Quantity& quantity : d_.scanned.quantities) {
      for (std::size_t i = quantity.begin + 1; i < quantity.end; ++i) {
        if ((t[i] != '.' && t[i] != ',') || !digit(i - 1) || !digit(i + 1)) continue;
        std::size_t digits = 0;
        while (digit(i + 1 + digits)) ++digits;
        if (digits == 3) continue;
        ++(t[i] == '.' ? points : commas);
      }
    }
    if (points > 0 && commas == 0) return Mark::point;
    if (commas > 0 && points == 0) return Mark::comma;
    return Mark::unknown;
  }

  void read_title() {
    for (const Line& line : d_.context.lines) {
      const std::string_view text =
          trim(std::string_view(d_.plain.text).substr(line.begin, line.end - line.begin));
      if (text.size() < 4) continue;
      const bool letters = std::any_of(text.begin(), text.end(), [](char ch) {
        return (ch >= 'a' && ch <= 'z') || (ch >= 'A' && ch <= 'Z') ||
               static_cast<unsigned char>(ch) >= 0x80;
      });
      const bool about_listing = text.rfind("Posted", 0) == 0 || text.rfind("Item spec", 0) == 0;
      if (!letters || about_listing || text.rfind("http", 0) == 0) continue;
      std::string name(text.substr(0, 120));
      while (!name.empty() && !valid_utf8(name)) name.pop_back();
      d_.out.name = std::move(name);
      break;
    }
    d_.out.model_code = model_code();
  }

  /// Behind "model", else the first code of the title.
  std::string model_code() const {
    const std::string& t = d_.plain.text;
    for (const Hit& hit : d_.hits) {
      if (!hit.means.has(S::model)) continue;
      std::size_t at = hit.end;
      while (at < t.size() && (t[at] == ' ' || t[at] == ':' || t[at] == '\n' || t[at] == '\t' ||
                               t[at] == '|' || t[at] == '.' || t[at] == '#')) {
        ++at;
      }
      std::string code = code_at(at);
      if (code_like(code)) return code;
    }
    if (d_.title_line < 0) return {};
    const Line& line = d_.context.lines[static_cast<std::size_t>(d_.title_line)];
    for (std::size_t i = line.begin; i < line.end; ++i) {
      if (i > line.begin && t[i - 1] != ' ' && t[i - 1] != '"' && t[i - 1] != '(') continue;
      const bool number = std::any_of(
          d_.scanned.quantities.begin(), d_.scanned.quantities.end(),
          [&](const Quantity& quantity) { return i >= quantity.begin && i < quantity.end; });
      std::string code = code_at(i);
      if (!number && code_like(code)) return code;
    }
    return {};
  }

  std::string code_at(std::size_t at) const {
    const std::string& t = d_.plain.text;
    std::size_t end = at;
    const auto part = [](char ch) {
      return (ch >= 'a' && ch <= 'z') || (ch >= 'A' && ch <= 'Z') || (ch >= '0' && ch <= '9') ||
             ch == '-' || ch == '_';
    };
    while (end < t.size() && end < at + 40 && part(t[end])) ++end;
    while (end > at && (t[end - 1] == '-' || t[end - 1] == '_')) --end;
    return t.substr(at, end - at);
  }

  /// Capitals and digits: "BC72-300".
  static bool code_like(const std::string& code) {
    bool capital = false, digit = false, small = false;
    for (const char ch : code) {
      capital = capital || (ch >= 'A' && ch <= 'Z');
      digit = digit || (ch >= '0' && ch <= '9');
      small = small || (ch >= 'a' && ch <= 'z');
    }
    return capital && digit && !small && code.size() >= 3 && code.front() >= 'A';
  }

  void read_unknown_part(int i) {
    if (!q(i).currency.empty()) return;
    d_.ask(
        i,
        "What is sold is not clear, so '" + raw(i) + "' has no field yet: choose the kind of part.",
        {});
  }

  // --- texts ---

  std::string text(const std::string& value, std::string_view unit, figure::Convention said) const {
    std::string out = value;
    if (!unit.empty()) out += " " + std::string(unit);
    if (said != figure::Convention::unsaid) out += " " + std::string(figure::word(said));
    return out;
  }

  figure::Convention convention(int i, const build::FieldInfo& info) const {
    const Senses said = c(i).own | q(i).suffix;
    const bool current = info.kind == Kind::phase_current;
    const bool constant = info.kind == Kind::motor_constant || info.kind == Kind::torque_constant;
    if (!current && !constant) return figure::Convention::unsaid;
    if (said.has(S::rms)) return figure::Convention::rms;
    // A crest beside "max" is an amplitude; alone it may mean a short time.
    const bool crest = q(i).suffix.has(S::amplitude) || said.holds_any(S::max | S::brief);
    if (said.has(S::amplitude) && crest) return figure::Convention::peak;
    if (constant && said.has(S::dc)) return figure::Convention::dc;
    if (constant && said.has(S::peak)) return figure::Convention::peak;
    return figure::Convention::unsaid;
  }

  /// The texts of an amount that the field takes: none, one, or two where a mark is doubtful.
  std::vector<std::string> texts(int i, std::string_view key, const Amount& amount,
                                 std::string_view unit) const {
    const build::Id id = d_.id(key);
    std::vector<std::string> out;
    if (id < 0) return out;
    const build::FieldInfo& info = *build::schema()[id].info;
    const auto said = convention(i, info);
    const std::string tail = q(i).tolerance.empty() || q(i).range ? "" : " +- " + q(i).tolerance;
    for (const std::string& value : {amount.value, amount.other}) {
      if (value.empty()) continue;
      std::string one = whole_unit(value, unit, info);
      if (one.empty()) one = text(value, unit, said) + tail;
      if (accepted(id, one)) {
        out.push_back(one);
      } else if (!tail.empty() && accepted(id, text(value, unit, said))) {
        out.push_back(text(value, unit, said));
      }
    }
    if (out.size() == 2 && mark_ != Mark::unknown) {
      const bool comma = raw(i).find(',') != std::string::npos;
      const bool decimal = (comma && mark_ == Mark::comma) || (!comma && mark_ == Mark::point);
      out.erase(decimal ? out.begin() : out.begin() + 1);
    }
    return out;
  }

  /// A count has no unit.
  static std::string whole_unit(const std::string& value, std::string_view unit,
                                const build::FieldInfo& info) {
    if (info.type != build::FieldType::count) return {};
    (void)unit;
    return value;
  }

  std::string middle(int i, std::string_view unit, figure::Convention said) const {
    const double a = number_of(q(i).low.value), b = number_of(q(i).high.value);
    std::string out = text(shortest((a + b) / 2), unit, figure::Convention::unsaid) + " +- " +
                      text(shortest((b - a) / 2), unit, figure::Convention::unsaid);
    if (said != figure::Convention::unsaid) {
      out = text(shortest((a + b) / 2), unit, said) + " +- " +
            text(shortest((b - a) / 2), unit, figure::Convention::unsaid);
    }
    return out;
  }

  // --- putting ---

  void put(int i, std::string_view key, std::string value, Sureness sure, std::string_view why) {
    Found found;
    found.key = key;
    found.text = std::move(value);
    found.sure = sure;
    found.why = why;
    found.from = d_.quotes(i);
    found.quantity = i;
    found.title = in_title(i);
    if (c(i).variant) {
      ask_variant(i, found);
      return;
    }
    if (q(i).about || q(i).at_most || q(i).at_least || found.title)
      found.sure = std::min(found.sure, Sureness::likely);
    if (q(i).about) found.why += "; the text says about";
    if (q(i).at_most) found.why += "; the text says at most";
    if (q(i).at_least) found.why += "; the text says at least";
    d_.found.push_back(std::move(found));
  }

  void ask_variant(int i, const Found& found) {
    d_.ask(i, "The text lists more than one to choose from: is '" + raw(i) + "' yours?",
           {{found.key, found.text, std::string(d_.label(found.key))}});
  }

  /// One amount into a field, or a question where its mark is doubtful or it is out of limits.
  void put_amount(int i, std::string_view key, const Amount& amount, std::string_view unit,
                  Sureness sure, std::string_view why) {
    const auto can = texts(i, key, amount, unit);
    if (can.size() == 1) {
      const bool doubtful = !amount.other.empty();
      if (doubtful) {
        d_.flag("thousands-mark",
                "The mark in '" + raw(i) +
                    "' could part thousands or decimals; it is read the way that makes sense for "
                    "the part.",
                {std::string(key)});
      }
      put(i, key, can[0], doubtful ? std::min(sure, Sureness::likely) : sure, why);
      return;
    }
    std::vector<PasteOption> options;
    options.reserve(can.size());
    for (const std::string& one : can)
      options.push_back({std::string(key), one, std::string(d_.label(key))});
    d_.ask(i,
           can.empty()
               ? "'" + raw(i) + "' is outside what '" + std::string(d_.label(key)) +
                     "' can be: what is meant?"
               : "The mark in '" + raw(i) + "' may part thousands or decimals: which is it?",
           std::move(options));
  }

  // --- one number ---

  bool foreign(int i) const {
    Senses own;
    for (const PartWord& part : part_words()) {
      if (part.shelf == d_.out.shelf) own.add(part.sense);
    }
    if (!c(i).scope.empty() && !c(i).scope.holds_any(own)) return true;
    Senses parts = c(i).own & part_senses();
    // A contactor output and an aux line are the part's own; so is what a phrase names as a place.
    if (shelf("controller")) parts = parts.without(S::contactor | S::throttle | S::display);
    parts = parts.without(own | neutral_parts(d_.out.shelf));
    return !parts.empty() && !(c(i).own.holds_any(own) && in_title(i));
  }

  void read(int i) {
    const Quantity& quantity = q(i);
    if (!quantity.currency.empty()) return read_money(i);
    if (foreign(i)) return d_.unused(i, "it speaks of another part");
    if (quantity.special == Special::ingress) return read_ingress(i);
    if (quantity.special == Special::stud) return read_stud(i);
    if (quantity.special == Special::code) return d_.unused(i, "it looks like a code");
    if (!quantity.sides.empty()) return read_sides(i);
    if (quantity.measure == nullptr) return read_bare(i);
    if (c(i).own.has(S::warranty)) return d_.unused(i, "warranty");
    if (c(i).condition && !condition_wanted(i))
      return d_.unused(i, "the condition at which the number before it holds");
    switch (quantity.measure->counted) {
      case Counted::no:
        return read_measured(i, quantity.measure->kind);
      case Counted::series_or_seconds:
        return series_meant(i) ? read_series(i) : read_measured(i, Kind::time);
      case Counted::series:
        return read_series(i);
      case Counted::parallel:
        return read_parallel(i);
      case Counted::c_rate_or_celsius:
        return read_rate_or_celsius(i);
      case Counted::kv:
        return read_kv(i);
      case Counted::poles:
        return read_poles(i);
      case Counted::gauge:
        return d_.ask(i, "A wire gauge is no section: which mm2 is meant?", {});
      case Counted::pieces:
        return d_.unused(i, "a number of pieces");
      case Counted::bolts:
        return read_bolts(i);
      case Counted::cycles:
        if (shelf("cell") && !c(i).own.has(S::negation)) return read_measured(i, Kind::ratio);
        return d_.unused(i, "no field asks for it");
      case Counted::other:
        if (quantity.measure->kind == Kind::speed)
          return d_.unused(i, "a speed of a vehicle, not of the part");
        return d_.unused(i, "no field is measured in this unit");
      case Counted::teeth:
      case Counted::links:
      case Counted::pole_pairs:
        return read_measured(i, Kind::ratio);
    }
  }

  bool condition_wanted(int i) const {
    // "13.8 V at 30 A" is what a supply gives.
    const bool supply = shelf("dcdc") || shelf("charger");
    if (supply && q(i).measure->kind == Kind::current && i > 0 && q(i - 1).measure != nullptr &&
        q(i - 1).measure->kind == Kind::voltage) {
      return true;
    }
    const Found* last = d_.found.empty() ? nullptr : &d_.found.back();
    return last != nullptr && last->quantity == i - 1 && last->key == "no_load_current" &&
           q(i).measure->kind == Kind::voltage;
  }

  void read_money(int i) {
    const Context& context = c(i);
    const std::string& t = d_.plain.low;
    const std::size_t end = q(i).end;
    if (d_.slot == nullptr) return;
    const Quantity& quantity = q(i);
    const std::string value = quantity.currency == "$"
                                  ? "$" + quantity.low.value
                                  : quantity.low.value + " " + quantity.currency;
    if (end + 1 < t.size() && t[end] == '/' &&
        (t.compare(end, 2, "/m") == 0 || t.compare(end, 2, "/l") == 0)) {
      return d_.ask(i, "'" + raw(i) + "' is a price per length: what does the whole cost?", {});
    }
    const bool freight =
        context.all().has(S::freight) && !context.own.has(S::price) && !context.own.has(S::free);
    const auto prices = std::count_if(d_.scanned.quantities.begin(), d_.scanned.quantities.end(),
                                      [](const Quantity& x) { return !x.currency.empty(); });
    if (freight && prices == 1) {
      return d_.ask(i, "Is '" + raw(i) + "' the price of the part or of sending it?",
                    {{"price", value, "price"}, {"freight", value, "freight"}});
    }
    if (context.own.has(S::gross) && freight) return d_.unused(i, "packing");
    if (context.own.holds_any(S::warranty | S::returns))
      return d_.unused(i, "not the part's price");
    if (quantity.range || context.variant) {
      return d_.ask(i, "More than one price stands here: which one is yours?",
                    {{freight ? "freight" : "price", value, freight ? "freight" : "price"}});
    }
    Found found;
    found.key = freight ? "freight" : "price";
    found.text = value;
    found.sure = context.all().holds_any(S::price | S::freight) ? Sureness::sure : Sureness::likely;
    found.why = freight ? "what is asked for sending it" : "what is asked for it";
    found.from = d_.quotes(i);
    found.quantity = i;
    if (!accepted(d_.id(found.key), found.text)) return d_.unused(i, "no price that can be");
    if (d_.out.currency.empty()) d_.out.currency = quantity.currency;
    d_.found.push_back(std::move(found));
  }

  void read_ingress(int i) {
    if (!has_field("ingress")) return d_.unused(i, "no field asks for its protection");
    put(i, "ingress", q(i).low.value, Sureness::sure, "second digit of its IP code");
  }

  void read_stud(int i) {
    const std::string size = "m" + q(i).low.value;
    if (shelf("motor") || shelf("sprocket")) {
      const bool counted = i > 0 && q(i - 1).special == Special::none &&
                           q(i - 1).measure == nullptr &&
                           d_.plain.low.substr(q(i - 1).end, q(i).begin - q(i - 1).end) == "x";
      const bool shaft = c(i).own.has(S::shaft);
      if (shaft) return d_.unused(i, "a thread of the shaft");
      put_amount(i, "bolt", q(i).low, "mm",
                 counted || c(i).own.has(S::bolts) ? Sureness::sure : Sureness::likely,
                 "a metric bolt");
      return;
    }
    const std::string_view key = shelf("cell") ? "terminal" : "stud";
    if (!has_field(key)) return d_.unused(i, "no field asks for this thread");
    if (!accepted(d_.id(key), size)) return d_.unused(i, "no size that the field knows");
    put(i, key, size, Sureness::likely, "a metric thread");
  }

  // --- sides ---

  void read_sides(int i) {
    const Quantity& quantity = q(i);
    const Context& context = c(i);
    const std::string_view unit = quantity.measure == nullptr ? "mm" : quantity.measure->unit;
    if (context.own.has(S::gross)) return d_.unused(i, "size with packing");
    const auto& sides = quantity.sides;
    if (quantity.measure == nullptr) {
      if (sides.size() < 3) return d_.ask(i, "Two numbers without a unit: what are they?", {});
      d_.flag("assumed-mm", "The size '" + raw(i) + "' has no unit; it is read as millimetres.",
              {"length", "width", "height"});
    }
    const Sureness sure = quantity.measure == nullptr ? Sureness::likely : Sureness::sure;
    if (shelf("motor")) return read_motor_sides(i, unit);
    if (context.own.has(S::bolt_circle) || sides.size() < 3 || !has_field("height"))
      return d_.ask(i, "What do the numbers of '" + raw(i) + "' measure?", {});
    if (odd_order(i)) return d_.ask(i, "In which order stand the sides of '" + raw(i) + "'?", {});
    constexpr std::array<std::string_view, 3> keys{"length", "width", "height"};
    for (std::size_t k = 0; k < 3; ++k) {
      std::string_view key = keys[k];
      if (sides[k].letter == 'l') key = "length";
      if (sides[k].letter == 'w') key = "width";
      if (sides[k].letter == 'h' || sides[k].letter == 't') key = "height";
      put_amount(i, key, sides[k].amount, unit, sure, "its sides in the order of the text");
    }
  }

  /// "(H x W x L)": not the order of the fields.
  bool odd_order(int i) const {
    const Line& line = d_.context.lines[static_cast<std::size_t>(c(i).line)];
    std::string t;
    for (std::size_t k = line.begin; k < line.end; ++k) {
      if (d_.plain.low[k] != ' ') t += d_.plain.low[k];
    }
    for (const std::string_view good : {"lxwxh", "lxbxh", "l*w*h", "l*b*h", "lxlxh"}) {
      if (t.find(good) != std::string::npos) return false;
    }
    return std::any_of(std::begin(odd_orders), std::end(odd_orders),
                       [&](std::string_view order) { return t.find(order) != std::string::npos; });
  }
  static constexpr std::string_view odd_orders[] = {"hxw", "hxl", "wxl", "wxh", "bxh",
                                                    "hxb", "bxl", "h*w", "w*l", "txw",
                                                    "t*w", "wxd", "hxd", "txl"};

  void read_motor_sides(int i, std::string_view unit) {
    const auto& sides = q(i).sides;
    const Senses own = c(i).own;
    if (own.has(S::bolt_circle) || sides.size() != 2)
      return d_.ask(i, "What do the numbers of '" + raw(i) + "' measure?", {});
    if (own.has(S::key)) {
      return d_.ask(i, "Key: which number is its width, which its length?", {});
    }
    if (own.has(S::shaft) && !own.has(S::with_shaft) && !own.has(S::without_shaft)) {
      put_amount(i, "shaft_diameter", sides[0].amount, unit, Sureness::likely,
                 "shaft: diameter by length");
      put_amount(i, "shaft_length", sides[1].amount, unit, Sureness::likely,
                 "shaft: diameter by length");
      return;
    }
    if (own.has(S::diameter) || sides[0].letter == 'd') {
      put_amount(i, "diameter", sides[0].amount, unit, Sureness::likely, "diameter by length");
      const auto can = texts(i, "length", sides[1].amount, unit);
      if (!can.empty())
        d_.ask(i, "Is the length in '" + raw(i) + "' without shaft and terminals?",
               {{"length", can[0], std::string(d_.label("length"))},
                {"length_with_terminals", can[0], std::string(d_.label("length_with_terminals"))}});
      return;
    }
    d_.ask(i, "What do the numbers of '" + raw(i) + "' measure?", {});
  }

  // --- counted ---

  bool near_peak(int i) const {
    if (c(i).own.holds_any(S::peak | S::brief)) return true;
    if (i == 0 || c(i - 1).line != c(i).line) return false;
    return c(i - 1).own.holds_any(S::peak | S::brief | S::max);
  }

  bool series_meant(int i) const {
    const Quantity& quantity = q(i);
    if (!quantity.touches || quantity.range != false)
      return quantity.touches && quantity.range && !shelf("motor");
    const double n = number_of(quantity.low.value);
    if (n != std::floor(n) || n < 1 || n > 60) return false;
    const bool then_parallel = i + 1 < static_cast<int>(d_.scanned.quantities.size()) &&
                               q(i + 1).begin == quantity.end && q(i + 1).measure != nullptr &&
                               q(i + 1).measure->counted == Counted::parallel;
    const bool after_parallel = i > 0 && q(i - 1).end == quantity.begin &&
                                q(i - 1).measure != nullptr &&
                                q(i - 1).measure->counted == Counted::parallel;
    if (then_parallel || after_parallel) return true;
    if (shelf("motor")) return false;
    const bool capital = d_.plain.text[quantity.end - 1] == 'S';
    return capital ? !(near_peak(i) && c(i).own.holds_any(S::peak | S::brief)) : !near_peak(i);
  }

  void read_series(int i) {
    const Quantity& quantity = q(i);
    if (shelf("bms")) {
      put_amount(i, "series_min", quantity.low, "", Sureness::sure, "cells in series");
      put_amount(i, "series_max", quantity.range ? quantity.high : quantity.low, "", Sureness::sure,
                 "cells in series");
      return;
    }
    if (!quantity.range) d_.series = number_of(quantity.low.value);
    if (shelf("cell") && !quantity.range && !c(i).own.has(S::complement))
      return put_amount(i, "series_inside", quantity.low, "", Sureness::sure, "cells in series");
    d_.unused(i, "cells in series of the pack it is for; used to check the voltage");
  }

  void read_parallel(int i) {
    if (shelf("cell") && q(i).touches && !q(i).range && !c(i).own.has(S::complement))
      return put_amount(i, "parallel_inside", q(i).low, "", Sureness::sure, "cells in parallel");
    d_.unused(i, "no field asks for it");
  }

  void read_rate_or_celsius(int i) {
    const Senses all = c(i).all();
    if (all.has(S::temperature) || !shelf("cell") || all.has(S::winding)) {
      if (all.has(S::temperature) || all.has(S::winding))
        return read_measured(i, Kind::temperature, "degC");
      return d_.unused(i, "not clear: degrees or a charge rate");
    }
    rates_.push_back(i);
  }

  void read_kv(int i) {
    const Senses all = c(i).all();
    if (all.holds_any(S::withstand | S::voltage | S::ac))
      return d_.unused(i, "kilovolt: a test voltage");
    if (!shelf("motor")) return d_.unused(i, "kilovolt");
    d_.flag("kv-not-kilovolt",
            "'" + raw(i) + "' is read as rpm per volt; with a motor nobody means kilovolt.",
            {"speed_constant"});
    put_amount(i, "speed_constant", q(i).low, "rpm/V", Sureness::likely,
               "kv of a motor is rpm per volt");
  }

  void read_poles(int i) {
    if (!shelf("motor")) return d_.unused(i, "no field asks for poles");
    const double n = number_of(q(i).low.value);
    if (n != 2 * std::floor(n / 2) || n < 4 || q(i).range)
      return d_.ask(i, "Are these poles or pole pairs?", {});
    d_.flag(
        "poles-or-pairs",
        "'" + raw(i) +
            "' is taken for single poles, two to a pair; some sellers count pairs and write poles.",
        {"pole_pairs"});
    const std::string half = shortest(n / 2);
    const std::string whole = shortest(n);
    d_.ask(i, "Is '" + raw(i) + "' the number of magnet poles, or of pairs?",
           {{"pole_pairs", half, "that many poles"}, {"pole_pairs", whole, "that many pairs"}});
  }

  void read_bolts(int i) {
    if (has_field("bolts"))
      return put_amount(i, "bolts", q(i).low, "", Sureness::sure, "mounting bolts");
    d_.unused(i, "no field asks for it");
  }

  // --- bare numbers ---

  void read_bare(int i) {
    const Quantity& quantity = q(i);
    const Senses all = c(i).own;
    const std::string& value = quantity.low.value;
    if (quantity.range) return d_.unused(i, "no unit");
    if (const bool counts_studs =
            i + 1 < static_cast<int>(d_.scanned.quantities.size()) &&
            q(i + 1).special == Special::stud &&
            d_.plain.low.substr(quantity.end, q(i + 1).begin - quantity.end) == "x";
        counts_studs && has_field("bolts")) {
      return put_amount(i, "bolts", quantity.low, "", Sureness::sure, "mounting bolts");
    }
    if ((shelf("chain") || shelf("sprocket")) && chain_size(value)) return read_chain_size(i);
    // NOLINTNEXTLINE(clang-analyzer-optin.performance.Padding)
    struct Bare {
      Sense sense;
      std::string_view key, unit;
      Sureness sure;
    };
    constexpr Bare bares[] = {{S::pole_pairs, "pole_pairs", "", Sureness::sure},
                              {S::speed_constant, "speed_constant", "rpm/V", Sureness::likely},
                              {S::torque_constant, "torque_constant", "Nm/A", Sureness::likely},
                              {S::teeth, "teeth", "", Sureness::likely},
                              {S::links, "links", "", Sureness::likely},
                              {S::cycles, "cycle_life", "", Sureness::likely}};
    for (const Bare& bare : bares) {
      if (all.has(bare.sense) && has_field(bare.key))
        return put_amount(i, bare.key, quantity.low, bare.unit, bare.sure, "named by its word");
    }
    if (all.has(S::poles) && shelf("motor")) return read_poles(i);
    if (all.has(S::efficiency) && has_field("efficiency") && number_of(value) < 1)
      return put_amount(i, "efficiency", quantity.low, "", Sureness::likely, "a share");
    const bool means_something =
        all.holds_any(qualities | S::power | S::voltage | S::current | S::speed | S::torque |
                      S::mass | S::length | S::width | S::height | S::diameter | S::capacity |
                      S::resistance | S::teeth | S::temperature | S::inductance | S::shaft);
    if (means_something && !all.holds_any(S::model | S::brand | S::quantity))
      return d_.ask(i, "'" + raw(i) + "' has no unit: what is meant?", {});
    d_.unused(i, "no unit, and no word that says what it is");
  }

  static bool chain_size(const std::string& value) {
    constexpr std::array<std::string_view, 9> sizes{"415", "420", "428", "520", "525",
                                                    "530", "532", "630", "219"};
    return std::find(sizes.begin(), sizes.end(), value) != sizes.end();
  }

  void read_chain_size(int i) {
    const std::string& value = q(i).low.value;
    if (shelf("chain")) return put(i, "designation", value, Sureness::sure, "a chain size");
    // Sizes that begin with 4 have a pitch of 1/2 in, with 5 of 5/8 in: from memory.
    if (value[0] != '4' && value[0] != '5') return d_.unused(i, "a chain size");
    put(i, "pitch", value[0] == '4' ? "12.7 mm" : "15.875 mm", Sureness::likely,
        "the pitch of chain size " + value);
  }

  // --- measured ---

  const Meaning* meaning(Kind kind, Counted counted, Senses all, bool range, bool& tie) const {
    const Meaning* best = nullptr;
    int best_weight = -1;
    tie = false;
    for (const Meaning& row : meanings()) {
      if (!row.shelf.empty() && row.shelf != d_.out.shelf) continue;
      if (row.kind != kind || row.counted != counted) continue;
      const bool pair = row.keys.find("..") != std::string_view::npos;
      const bool whole = kind == Kind::voltage || kind == Kind::temperature;
      if (pair && !range) continue;
      if (!pair && range && whole && row.sure != Sureness::ask && !row.keys.empty()) continue;
      if (!all.holds_all(row.need) || all.holds_any(row.forbid)) continue;
      if (!row.any.empty() && !all.holds_any(row.any)) continue;
      int weight = 2 * row.need.size() + (row.any.empty() ? 0 : 1);
      weight = 2 * weight + (row.shelf.empty() ? 0 : 1);
      if (pair) weight += 2;
      if (row.sure == Sureness::ask && row.need.empty() && row.any.empty()) weight = 0;
      if (weight > best_weight) {
        best = &row;
        best_weight = weight;
        tie = false;
      } else if (weight == best_weight && best != nullptr && row.keys != best->keys) {
        tie = true;
      }
    }
    return best;
  }

  void read_measured(int i, Kind kind, std::string_view unit = {}) {
    const Quantity& quantity = q(i);
    if (unit.empty()) unit = quantity.measure->unit;
    if (kind == Kind::time && special_time(i, unit)) return;
    if (kind == Kind::mass && c(i).own.without(S::per | S::quantity).empty() && shelf_mass_bare(i))
      return;
    Senses all = c(i).all() | quantity.suffix;
    if (kind == Kind::voltage && special_voltage(i)) return;
    const Counted counted = quantity.measure->counted == Counted::series_or_seconds ||
                                    quantity.measure->counted == Counted::c_rate_or_celsius
                                ? Counted::no
                                : quantity.measure->counted;
    bool tie = false;
    const Meaning* row = meaning(kind, counted, all, quantity.range, tie);
    if (row == nullptr) return no_meaning(i, kind);
    if (tie || row->sure == Sureness::ask) return ask_row(i, *row, unit, tie);
    if (row->keys.empty()) return d_.unused(i, std::string(row->why));
    // A voltage in the middle of a story may be anybody's.
    const bool said = all.holds_any(S::voltage | S::rated | S::max) || in_title(i) || c(i).labelled;
    if (shelf("motor") && kind == Kind::voltage && !said && !quantity.range)
      return d_.ask(i, "The text does not say which voltage '" + raw(i) + "' is.", {});
    if (const auto dots = row->keys.find(".."); dots != std::string_view::npos)
      return put_range(i, *row, dots, unit);
    if (shelf("sprocket") && row->keys == "bore" && rear_sprocket())
      return put_amount(i, "centre_bore", quantity.low, unit, Sureness::likely,
                        "bore of a rear sprocket");
    put_row(i, *row, unit);
  }

  /// A rear sprocket is bolted on; a front one sits on a shaft.
  bool rear_sprocket() const {
    const std::string& t = d_.plain.low;
    for (const std::string_view rear :
         {"rear", "hinten", "hinter", "arriere", "trasero", "posteriore", "achter", "tylna"}) {
      if (t.find(rear) != std::string::npos) return true;
    }
    return std::any_of(d_.hits.begin(), d_.hits.end(),
                       [](const Hit& hit) { return hit.means.has(S::bolt_circle); });
  }

  void no_meaning(int i, Kind kind) {
    const bool wanted = std::any_of(meanings().begin(), meanings().end(), [&](const Meaning& row) {
      return row.shelf == d_.out.shelf && row.kind == kind;
    });
    if (wanted || kind == Kind::mass)
      return d_.ask(i, "The text does not say what '" + raw(i) + "' measures.", {});
    d_.unused(i, "no field of this part asks for it");
  }

  void ask_row(int i, const Meaning& row, std::string_view unit, bool tie) {
    std::vector<PasteOption> options;
    if (!tie) {
      for (const auto key : split(row.keys, ',')) {
        for (const std::string& one : texts(i, key, quantity_amount(i), unit))
          options.push_back({std::string(key), one, std::string(d_.label(key))});
      }
    }
    std::string why =
        tie ? "the words round it point to more than one field" : std::string(row.why);
    d_.ask(i, "'" + raw(i) + "': " + why + ".", std::move(options));
  }

  const Amount& quantity_amount(int i) const { return q(i).range ? q(i).high : q(i).low; }

  void put_range(int i, const Meaning& row, std::size_t dots, std::string_view unit) {
    const std::string_view low = row.keys.substr(0, dots), high = row.keys.substr(dots + 2);
    if (low.empty() && high.empty()) return d_.unused(i, std::string(row.why));
    if (!low.empty()) put_amount(i, low, q(i).low, unit, row.sure, row.why);
    if (!high.empty()) put_amount(i, high, q(i).high, unit, row.sure, row.why);
  }

  void put_row(int i, const Meaning& row, std::string_view unit) {
    const Sureness sure = c(i).inherited.empty() ? row.sure : std::min(row.sure, Sureness::likely);
    if (!q(i).range) return put_amount(i, row.keys, q(i).low, unit, sure, row.why);
    const build::Id id = d_.id(row.keys);
    if (id < 0) return;
    const std::string value = middle(i, unit, convention(i, *build::schema()[id].info));
    if (!accepted(id, value))
      return d_.ask(
          i, "'" + raw(i) + "' is outside what '" + std::string(d_.label(row.keys)) + "' can be.",
          {});
    d_.flag("range-middle",
            "A range such as '" + raw(i) + "' is entered as its middle with half its width.",
            {std::string(row.keys)});
    put(i, row.keys, value, std::min(sure, Sureness::likely), row.why);
  }

  /// Times: of a peak, of delivery, of warranty.
  bool special_time(int i, std::string_view unit) {
    const Senses own = c(i).all();
    if (own.holds_any(S::warranty | S::delivery | S::returns)) {
      if (own.has(S::warranty)) {
        d_.unused(i, "warranty");
        return true;
      }
      return false;
    }
    std::string_view key;
    if (shelf("motor")) key = "peak_time";
    if (shelf("controller")) key = "burst_time";
    if (shelf("cell")) key = "pulse_time";
    const bool long_unit =
        unit == "day" || unit == "week" || unit == "month" || unit == "year" || unit == "h";
    if (key.empty() || long_unit) {
      if (shelf("bms") && own.has(S::trip)) return false;
      d_.unused(i, long_unit ? "no word says what this time is of" : "no field asks for it");
      return true;
    }
    const Found* peak = nullptr;
    for (const Found& f : d_.found) {
      if (f.quantity >= 0 && f.quantity < i && c(f.quantity).line == c(i).line) peak = &f;
    }
    const bool is_peak = peak != nullptr && peak->quantity == i - 1 &&
                         (peak->key == "power_peak" || peak->key == "current_peak" ||
                          peak->key == "torque_peak" || peak->key == "current_pulse" ||
                          peak->key == "current_battery" || peak->key == "current_phase");
    const bool said = own.holds_any(S::peak | S::brief) && !own.holds_any(S::continuous | S::rated);
    if (!is_peak && !said) {
      d_.unused(i, "no word says what this time is of");
      return true;
    }
    if (q(i).range) {
      d_.ask(i, "Which of '" + raw(i) + "' holds?", {});
      return true;
    }
    put_amount(i, key, q(i).low, unit, Sureness::likely, "how long the short time may last");
    return true;
  }

  bool special_voltage(int i) {
    if (c(i).condition && shelf("motor")) {
      put_amount(i, "no_load_voltage", q(i).low, q(i).measure->unit, Sureness::sure,
                 "the voltage of the no-load current");
      return true;
    }
    if (shelf("dcdc") && !q(i).range && !c(i).all().has(S::input)) {
      const double volts = number_of(q(i).low.value);
      if (volts >= 11 && volts <= 15) {
        put_amount(i, "voltage_out", q(i).low, "V",
                   c(i).all().has(S::output) ? Sureness::sure : Sureness::likely,
                   "the only voltage in the range of a 12 V supply");
        return true;
      }
    }
    return false;
  }

  // --- later passes ---

  /// "2C": times the capacity.
  void place_rates() {
    for (const int i : rates_) {
      const Senses all = c(i).all();
      const bool of_capacity = i > 0 && c(i - 1).line == c(i).line && q(i - 1).measure != nullptr &&
                               q(i - 1).measure->kind == Kind::charge &&
                               !c(i).own.holds_any(S::charging | S::discharging | S::current |
                                                   S::max | S::continuous | S::brief | S::peak);
      if (of_capacity || all.has(S::capacity) || all.has(S::cycles) || c(i).condition) {
        if (of_capacity || all.has(S::capacity)) d_.capacity_rate = i;
        d_.unused(i, "the rate at which the number before it holds");
        continue;
      }
      bool tie = false;
      const Meaning* row = meaning(Kind::current, Counted::no, all, false, tie);
      const double capacity = d_.value("capacity") / 3600;
      if (row == nullptr || row->keys.empty() || tie || std::isnan(capacity) || q(i).range) {
        d_.ask(i, "'" + raw(i) + "' is a multiple of the capacity: of which current?", {});
        continue;
      }
      const std::string amps = shortest(number_of(q(i).low.value) * capacity) + " A";
      if (row->sure == Sureness::ask) {
        std::vector<PasteOption> options;
        for (const auto key : split(row->keys, ',')) {
          if (accepted(d_.id(key), amps))
            options.push_back({std::string(key), amps, std::string(d_.label(key))});
        }
        d_.ask(i, "'" + raw(i) + "': " + std::string(row->why) + ".", std::move(options));
        continue;
      }
      if (!accepted(d_.id(row->keys), amps)) {
        d_.ask(i, "'" + raw(i) + "' times the capacity is outside the field.", {});
        continue;
      }
      put(i, row->keys, amps, Sureness::likely,
          std::string(row->why) + ", as a multiple of the capacity");
      // A pulse's seconds stand behind its rate.
      const int next = i + 1;
      if (row->keys == "current_pulse" && next < static_cast<int>(d_.scanned.quantities.size()) &&
          c(next).line == c(i).line && q(next).measure != nullptr &&
          q(next).measure->kind == Kind::time && d_.first("pulse_time") == nullptr) {
        take_back_unused(next);
        put_amount(next, "pulse_time", q(next).low, q(next).measure->unit, Sureness::likely,
                   "how long the pulse may last");
      }
    }
  }

  void take_back_unused(int i) {
    const Quote quote = d_.quote(q(i).begin, q(i).end);
    auto& list = d_.out.unused;
    list.erase(std::remove_if(list.begin(), list.end(),
                              [&](const PasteUnused& u) { return u.from.begin == quote.begin; }),
               list.end());
  }

  /// A mass without a word is the part's where it is the only one.
  bool shelf_mass_bare(int i) {
    if (!has_field("mass") || shelf("chain") || shelf("cable")) {
      d_.unused(i, "no field asks for it");
      return true;
    }
    bare_masses_.push_back(i);
    return true;
  }

  void place_bare_mass() {
    for (const int i : bare_masses_) {
      if (bare_masses_.size() == 1 && d_.first("mass") == nullptr) {
        put_amount(i, "mass", q(i).low, q(i).measure->unit, Sureness::likely,
                   "the only mass in the text");
      } else {
        d_.ask(i, "Is '" + raw(i) + "' the mass of the part?",
               {{"mass", q(i).low.value + " " + std::string(q(i).measure->unit), "mass"}});
      }
    }
  }

  Draft& d_;
  Mark mark_ = Mark::unknown;
  std::vector<int> rates_;
  std::vector<int> bare_masses_;
};

// --- Assembling ---

bool same_value(const Draft& d, const Found& a, const Found& b) {
  if (a.text == b.text) return true;
  const double x = value_of(d.id(a.key), a.text), y = value_of(d.id(b.key), b.text);
  return std::fabs(x - y) <= 1e-3 * std::max(std::fabs(x), std::fabs(y));
}

PastedFigure figure_of(const Draft& d, const Found& f) {
  PastedFigure out;
  out.key = f.key;
  out.field = d.id(f.key);
  out.text = f.text;
  out.sure = f.sure;
  out.from = f.from;
  out.why = f.why;
  return out;
}

/// Figures of one key: alike ones become one; a labelled one stands before one of the title.
void settle(Draft& d, const std::string& key) {
  std::vector<Found> distinct;
  for (const Found& f : d.found) {
    if (f.key != key) continue;
    Found* like = nullptr;
    for (Found& g : distinct) {
      if (same_value(d, f, g)) like = &g;
    }
    if (like == nullptr) {
      distinct.push_back(f);
      continue;
    }
    // The one that says more: a convention, a better label.
    if (f.text.size() > like->text.size()) like->text = f.text;
    like->sure = std::max(like->sure, f.sure);
    like->title = like->title && f.title;
    for (const Quote& quote : f.from) {
      if (like->from.size() < 6) like->from.push_back(quote);
    }
  }
  if (distinct.size() > 1) {
    std::vector<Found> labelled;
    for (const Found& f : distinct) {
      if (!f.title) labelled.push_back(f);
    }
    if (labelled.size() == 1) {
      d.flag("title-differs",
             "The title says '" + distinct[distinct[0].title ? 0 : 1].text + "' for '" +
                 std::string(d.label(key)) + "', the text '" + labelled[0].text +
                 "'; the text is taken.",
             {key});
      labelled[0].sure = std::min(labelled[0].sure, Sureness::likely);
      for (const Found& f : distinct) {
        if (f.title && !f.from.empty())
          d.out.unused.push_back({f.from[0], "the text below it says else"});
      }
      distinct = std::move(labelled);
    }
  }
  if (distinct.size() == 1) {
    d.out.figures.push_back(figure_of(d, distinct[0]));
    return;
  }
  PasteConflict conflict{key, d.id(key), {}};
  for (const Found& f : distinct) conflict.values.push_back(figure_of(d, f));
  d.out.conflicts.push_back(std::move(conflict));
}

void assemble(Draft& d) {
  std::set<std::string> done;
  if (d.slot != nullptr) {
    for (const build::FieldInfo& info : d.slot->table->fields) {
      const std::string key(info.key);
      if (d.first(key) != nullptr && done.insert(key).second) settle(d, key);
    }
  }
  for (Asked& asked : d.asked) {
    auto& options = asked.options;
    options.erase(
        std::remove_if(options.begin(), options.end(),
                       [&](const PasteOption& o) { return !accepted(d.id(o.key), o.text); }),
        options.end());
  }
  for (Asked& asked : d.asked)
    d.out.questions.push_back(
        {std::move(asked.from), std::move(asked.text), std::move(asked.options)});
}

/// Prices are read without knowing the part, too.
void read_price_alone(Draft& d) {
  int price = -1, prices = 0;
  for (int i = 0; i < static_cast<int>(d.scanned.quantities.size()); ++i) {
    if (d.q(i).currency.empty()) continue;
    price = i;
    ++prices;
  }
  if (prices == 0) return;
  d.out.currency = d.q(price).currency;
  const std::string text = d.q(price).currency == "$"
                               ? "$" + d.q(price).low.value
                               : d.q(price).low.value + " " + d.q(price).currency;
  if (prices > 1) {
    d.ask(price, "More than one price stands here.", {});
    return;
  }
  const build::Id any = build::schema().find("motor.price");
  if (!accepted(any, text)) return;
  PastedFigure figure;
  figure.key = "price";
  figure.text = text;
  figure.from = d.quotes(price);
  figure.why = "what is asked for it";
  d.out.figures.push_back(std::move(figure));
}

}  // namespace

}  // namespace paste

Pasted read_paste(std::string_view bytes, const PasteHint& hint) {
  paste::Draft d;
  d.out.cut = bytes.size() > paste_bytes_max;
  d.bytes = bytes.substr(0, paste_bytes_max);
  d.hint = hint;
  d.plain = paste::plain_text(d.bytes);
  d.scanned = paste::scan(d.plain);
  d.hits = paste::find_words(d.plain, d.scanned);
  d.context = paste::contexts(d.plain, d.scanned, d.hits);
  d.out.left_out = d.scanned.left_out;
  if (!d.scanned.links.empty()) d.out.link = d.scanned.links.front();
  d.out.date = d.scanned.date.empty() ? hint.today : d.scanned.date;
  paste::decide_kind(d);
  paste::Reader(d).run();
  if (d.slot == nullptr) {
    paste::read_price_alone(d);
  } else {
    paste::read_sayings(d);
    paste::check_figures(d);
  }
  paste::assemble(d);
  return std::move(d.out);
}

}  // namespace ww::plan
