// SPDX-License-Identifier: MIT
#include "cli/choose_report.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "base/text.h"
#include "cli/json.h"
#include "plan/dream.h"
#include "plan/parts_list.h"
#include "serve/choose_words.h"

namespace ww::cli {

namespace {

using Json = nlohmann::ordered_json;
using search::Axis;
using search::Choosing;
using search::Quantity;
using search::Record;

Error unknown_choice(std::string_view what, const std::string& found,
                     const std::vector<std::string_view>& known) {
  std::vector<std::string> names(known.begin(), known.end());
  return {.code = "unknown-choice",
          .what = std::string(what),
          .found = found,
          .expected = join(names, ", "),
          .way_out = did_you_mean(found, known)};
}

const std::vector<std::string_view>& axis_words() {
  static const std::vector<std::string_view> words = [] {
    std::vector<std::string_view> out;
    for (std::size_t a = 0; a < search::axis_count; ++a)
      out.push_back(search::word(static_cast<Axis>(a)));
    return out;
  }();
  return words;
}

const std::vector<std::string_view>& quantity_words() {
  static const std::vector<std::string_view> words = [] {
    std::vector<std::string_view> out;
    for (const auto& info : search::quantities()) out.push_back(info.word);
    return out;
  }();
  return words;
}

Result<int> read_wants(const std::vector<std::string>& wants, search::Wishes& wishes) {
  for (const std::string& want : wants) {
    const auto equals = want.find('=');
    const std::string name = want.substr(0, equals);
    const int q = search::quantity_of(name);
    if (q < 0 || q >= static_cast<int>(search::traded_count)) {
      std::vector<std::string_view> traded(quantity_words().begin(),
                                           quantity_words().begin() + search::traded_count);
      return fail(unknown_choice("nothing that can be weighed", name, traded));
    }
    const std::string text = equals == std::string::npos ? "" : want.substr(equals + 1);
    double weight = 0;
    const auto end = text.data() + text.size();
    const auto read = std::from_chars(text.data(), end, weight);
    if (read.ec != std::errc() || read.ptr != end || !(weight >= 0 && weight <= 1000))
      return fail({.code = "bad-weight",
                   .what = "not a weight",
                   .field = name,
                   .found = text,
                   .expected = "a number from 0 to 1000, e.g. " + name + "=2"});
    wishes.weights[static_cast<std::size_t>(q)] = weight;
  }
  return 0;
}

std::string shown(Quantity quantity, double value, const Opened& opened, const Options& options) {
  if (quantity == Quantity::money) {
    const std::string& unit = opened.build.project.currency;
    return plan::money_text(std::llround(value) * 100) + (unit.empty() ? "" : " " + unit);
  }
  if (quantity == Quantity::weeks)
    return fixed(value, 0) + (std::lround(value) == 1 ? " week" : " weeks");
  if (!std::isfinite(value)) return "never";
  if (search::info_of(quantity).kind == figure::Kind::time) return fixed(value, 1) + " s";
  return figure::print(value, search::info_of(quantity).kind, options.units);
}

std::string count_text(double count) {
  if (count < 10000) return fixed(count, 0);
  if (count < 1e6) return fixed(count / 1e3, 0) + " thousand";
  if (count < 1e9) return fixed(count / 1e6, count < 1e7 ? 1 : 0) + " million";
  return fixed(count / 1e9, count < 1e10 ? 1 : 0) + " thousand million";
}

const search::Option& option_of(const Choosing& c, const Record& r, Axis axis) {
  return c.ground->space().of(axis)[r.at[search::index_of(axis)]];
}

std::string option_text(const Choosing& c, Axis axis, std::size_t option) {
  const auto& o = c.ground->space().of(axis)[option];
  if (o.part != nullptr) return o.part->id;
  return o.number > 0 ? std::to_string(o.number) : "as on the sheet";
}

/// "20 in series, 2 in parallel".
std::string pack_text(const build::Build& b) {
  return b.pack ? std::to_string(b.pack->series) + " in series, " +
                      std::to_string(b.pack->parallel) + " in parallel"
                : std::string();
}

std::string gearing_text(const build::Build& b) {
  if (b.gearing.drive == build::FinalDrive::hub) return "in the wheel";
  return std::to_string(b.gearing.front_teeth) + " to " + std::to_string(b.gearing.rear_teeth) +
         " teeth" + (b.chain ? ", chain " + b.chain->designation : "");
}

std::string part_name(const build::Purchase& part) {
  return part.name.empty() ? part.part : part.name;
}

/// The list that counts what is not known, where there is one.
std::vector<search::Index> shown_list(const Choosing& c, const search::Doubts& doubts) {
  if (doubts.list.empty()) return c.list;
  std::vector<search::Index> out;
  for (const auto& holding : doubts.list) out.push_back(holding.record);
  return out;
}

std::string numbers_text(const Choosing& c, const Record& r, const Opened& opened,
                         const Options& options) {
  std::vector<std::string> cells;
  for (const auto& info : search::quantities()) {
    if (search::index_of(info.quantity) >= search::traded_count) continue;
    cells.push_back(
        std::string(info.label) + " " +
        shown(info.quantity, double(r.numbers[search::index_of(info.quantity)]), opened, options));
  }
  (void)c;
  return join(cells, "; ");
}

/// What is invented is a specification: the builder shops for the figures, not for the name.
std::string to_shop_for(const Choosing& c, const Record& r, const Options& options) {
  std::string out;
  for (const Axis axis : {Axis::motor, Axis::controller, Axis::cell}) {
    const auto& option = option_of(c, r, axis);
    if (option.part == nullptr || option.own) continue;
    out += wrapped(search::specification(*option.part, options.units), 8,
                   "      " + std::string(search::word(axis)) + ": ");
  }
  return out;
}

std::string listed(const Choosing& c, const search::Doubts& doubts, const search::Shop& shop,
                   const Opened& opened, const Options& options) {
  std::string out;
  const auto list = shown_list(c, doubts);
  for (std::size_t place = 0; place < list.size(); ++place) {
    const search::Index index = list[place];
    const Record& r = c.record(index);
    const build::Build b = c.build_of(index);
    out += std::string("\n  ") + static_cast<char>('A' + place) + "  " + part_name(*b.motor) + "\n";
    out += wrapped(part_name(*b.controller) + "; " + part_name(*b.cell) + ", " + pack_text(b) +
                       "; " + gearing_text(b) + ".",
                   5);
    out += wrapped(numbers_text(c, r, opened, options) + ".", 5);
    std::vector<std::string> left;
    for (const std::string& rule : search::left_to_settle(b, shop))
      left.emplace_back(fit::rule_book().find(rule)->title);
    if (!left.empty()) out += wrapped("Still to settle: " + join(left, "; ") + ".", 5);
    if (place < doubts.list.size()) out += wrapped(serve::holding_text(doubts.list[place]), 5);
    const std::string spec = to_shop_for(c, r, options);
    if (!spec.empty()) out += "     To shop for, since the library's parts are invented:\n" + spec;
  }
  return out;
}

/// "it costs at most 12 EUR": what choosing badly comes to, in the words of each quantity.
std::string difference_text(const Record& best, const Record& other, const Opened& opened,
                            const Options& options) {
  std::vector<std::string> words;
  for (const auto& info : search::quantities()) {
    const std::size_t q = search::index_of(info.quantity);
    if (q >= search::traded_count) continue;
    const double by = double(other.numbers[q]) - double(best.numbers[q]);
    if (!std::isfinite(by) || std::fabs(by) < info.step) continue;
    words.push_back(std::string(by < 0 ? "-" : "+") +
                    shown(info.quantity, std::fabs(by), opened, options) +
                    (info.quantity == Quantity::money ? "" : " " + std::string(info.label)));
  }
  return words.empty() ? "no difference a rider notices" : join(words, ", ");
}

std::string decisions_text(const Choosing& c, const search::Doubts& doubts, const Opened& opened,
                           const Options& options) {
  std::string out;
  for (const auto& decision : doubts.decisions) {
    const auto& best = decision.options.front();
    const auto& second = decision.options[1];
    const auto& worst = decision.options.back();
    // A guess where even the worst that fits is within a fiftieth of the money.
    const double small = search::guess_share * double(c.record(best.record).numbers[0]);
    const auto option = [&](const search::OptionChance& chance) {
      return option_text(c, decision.axis, chance.option);
    };
    const auto difference = [&](const search::OptionChance& chance) {
      return difference_text(c.record(best.record), c.record(chance.record), opened, options);
    };
    std::string text =
        std::string(search::word(decision.axis)) + ": " + (worst.loss < small ? "guess" : "think") +
        ". " + option(best) + " is best here, the right one in " +
        fixed(100 * best.share_right, 0) + " of 100 draws; with " + option(second) + " (right in " +
        fixed(100 * second.share_right, 0) + ") the best bike has " + difference(second);
    if (decision.options.size() > 2)
      text += "; at worst, " + option(worst) + ", " + difference(worst);
    out += wrapped(text + ". " + std::to_string(decision.options.size()) + " are worth a thought.",
                   4, "  - ");
  }
  return out;
}

/// In what the bikes differ that a figure decides between: "20 or 22 in series".
std::string between_text(const Choosing& c, const std::vector<search::Index>& bikes) {
  std::vector<std::string> words;
  for (std::size_t a = 0; a < search::axis_count; ++a) {
    const auto axis = static_cast<Axis>(a);
    std::vector<std::string> options;
    for (const search::Index index : bikes) {
      std::string text = option_text(c, axis, c.record(index).at[a]);
      if (std::find(options.begin(), options.end(), text) == options.end())
        options.push_back(std::move(text));
    }
    if (options.size() > 1)
      words.push_back(std::string(search::word(axis)) + " " + join(options, " or "));
  }
  return join(words, "; ");
}

std::string measuring_text(const Choosing& c, const search::Doubts& doubts, const Opened& opened,
                           const Options& options) {
  const auto money = [&](double value) { return shown(Quantity::money, value, opened, options); };
  std::string out;
  for (std::size_t i = 0; i < doubts.measuring.size() && i < 5; ++i) {
    const search::Measuring& m = doubts.measuring[i];
    const auto& field = build::schema()[m.id];
    out += wrapped(std::string(field.info->label) +
                       (m.part.empty() ? std::string() : " of " + m.part) + " (" + field.path +
                       "): worth some " + money(m.value) + " to know first; it decides between " +
                       between_text(c, m.between) + ". " + std::string(field.info->measure) + ".",
                   4, "  - ");
  }
  if (out.empty())
    out = wrapped("No single figure: none of the " + std::to_string(doubts.unknowns) +
                      " with a spread changes what to choose by more than luck would show.",
                  2);
  return out + wrapped("Knowing all of them would be worth " + money(doubts.value_of_knowing_all) +
                           ": no measuring is worth more. From " + std::to_string(doubts.bikes) +
                           " bikes on the same " + std::to_string(doubts.draws) +
                           " draws; a rule that breaks costs what putting it right typically "
                           "does (common practice, no source). Prices stay as listed.",
                       2);
}

std::string must_text(const search::Must& must, const Opened& opened, const Options& options) {
  const auto& info = search::info_of(must.quantity);
  return std::string(info.label) + (info.more_is_better ? " at least " : " at most ") +
         shown(must.quantity, must.bound, opened, options);
}

std::string relaxation_text(const std::vector<search::Relaxation>& relaxations, const Choosing& c,
                            const Opened& opened, const Options& options, std::size_t most) {
  std::string out;
  for (std::size_t i = 0; i < relaxations.size() && i < most; ++i) {
    std::vector<std::string> words;
    for (const auto& step : relaxations[i].steps) {
      const auto& must = c.wishes.musts[step.must];
      words.push_back(std::string(search::info_of(must.quantity).label) + " " +
                      shown(must.quantity, step.value, opened, options) + " instead of " +
                      shown(must.quantity, must.bound, opened, options));
    }
    out += wrapped(join(words, ", and ") + ".", 4, "  - ");
  }
  return out;
}

std::string fell_text(const Choosing& c, const Opened& opened, const Options& options) {
  std::vector<std::pair<double, std::string>> reasons;
  const auto& tally = c.hunted.tally;
  for (std::size_t rule = 0; rule < tally.by_rule.size(); ++rule) {
    if (tally.by_rule[rule] > 0)
      reasons.emplace_back(tally.by_rule[rule], std::string(fit::rule_book().rules()[rule].title));
  }
  for (std::size_t m = 0; m < tally.by_must.size(); ++m) {
    if (tally.by_must[m] > 0)
      reasons.emplace_back(tally.by_must[m],
                           "your wish: " + must_text(c.wishes.musts[m], opened, options));
  }
  std::stable_sort(reasons.begin(), reasons.end(),
                   [](const auto& a, const auto& b) { return a.first > b.first; });
  Columns columns({true, false});
  for (std::size_t i = 0; i < reasons.size() && i < 12; ++i)
    columns.row({count_text(reasons[i].first), reasons[i].second});
  return columns.text(2);
}

/// SI; weeks as seconds like any other time.
Json numbers_json(const search::Numbers& numbers) {
  Json out = Json::array();
  for (const auto& info : search::quantities()) {
    auto value = double(numbers[search::index_of(info.quantity)]);
    if (info.quantity == Quantity::weeks) value *= 7 * 86400.0;
    Json number = nullptr;
    if (std::isfinite(value)) number = value;
    out.push_back({{"quantity", std::string(info.word)},
                   {"value", number},
                   {"unit", std::string(serve::si_unit(info.kind))}});
  }
  return out;
}

Json options_json(const Choosing& c, const Record& r) {
  Json out = Json::array();
  const bool geared = c.ground->layout().geared(r.at[0]);
  for (std::size_t a = 0; a < search::axis_count; ++a) {
    const auto axis = static_cast<Axis>(a);
    const auto& option = option_of(c, r, axis);
    const bool gearing =
        axis == Axis::front_teeth || axis == Axis::rear_teeth || axis == Axis::chain;
    if ((gearing && !geared) || (option.part == nullptr && option.number <= 0)) continue;
    out.push_back(
        {{"open", std::string(search::word(axis))}, {"option", option_text(c, axis, r.at[a])}});
  }
  return out;
}

Json fell_json(const Choosing& c) {
  const auto& tally = c.hunted.tally;
  Json out = Json::array();
  for (std::size_t rule = 0; rule < tally.by_rule.size(); ++rule) {
    if (tally.by_rule[rule] > 0)
      out.push_back({{"by", "rule"},
                     {"name", std::string(fit::rule_book().rules()[rule].id)},
                     {"combinations", tally.by_rule[rule]}});
  }
  for (std::size_t m = 0; m < tally.by_must.size(); ++m) {
    if (tally.by_must[m] > 0)
      out.push_back({{"by", "wish"},
                     {"name", std::string(search::info_of(c.wishes.musts[m].quantity).word)},
                     {"combinations", tally.by_must[m]}});
  }
  return out;
}

std::string locks_text(const Choosing& c) {
  if (c.locks.empty()) return "More than three things are in the way at once; see below.\n";
  std::string out = "It would, were only this otherwise:\n";
  for (std::size_t i = 0; i < c.locks.size() && i < 5; ++i) {
    out += wrapped(serve::in_the_way(c.locks[i], "; and ") + " (then " +
                       count_text(c.locks[i].fitting) + " fit).",
                   4, "  - ");
  }
  return out;
}

}  // namespace

Result<Understood> understand(const build::Build& build, const ChooseAsk& ask,
                              const build::Library& library, const build::Library& shipped) {
  Understood out;
  out.ask.open = ask.open.empty() ? search::open_by_sheet(build) : 0;
  for (const std::string& name : ask.open) {
    if (name == "all") {
      out.ask.open |= (1U << search::axis_count) - 1;
      continue;
    }
    const int axis = search::axis_of(name);
    if (axis < 0) {
      auto words = axis_words();
      words.emplace_back("all");
      return fail(unknown_choice("nothing that can be left open", name, words));
    }
    out.ask.add(static_cast<Axis>(axis));
  }
  for (const std::string& name : ask.keep) {
    const int axis = search::axis_of(name);
    if (axis < 0) return fail(unknown_choice("nothing that can be kept", name, axis_words()));
    out.ask.open &= ~(1U << axis);
  }
  out.ask.without = ask.without;
  for (const auto& shelf : {"motor", "controller", "cell", "chain"}) {
    for (const auto& part : library.shelf(shelf)) {
      if (shipped.find(shelf, part.id) == nullptr)
        out.ask.own.push_back(std::string(shelf) + "/" + part.id);
    }
  }
  out.wishes = search::wishes_of(build);
  if (!ask.musts.empty()) {
    std::set<Quantity> wanted;
    for (const std::string& name : ask.musts) {
      const int q = search::quantity_of(name);
      if (q < 0) return fail(unknown_choice("no wish of this name", name, quantity_words()));
      wanted.insert(static_cast<Quantity>(q));
    }
    auto& musts = out.wishes.musts;
    musts.erase(
        std::remove_if(musts.begin(), musts.end(),
                       [&](const search::Must& m) { return wanted.count(m.quantity) == 0; }),
        musts.end());
  }
  if (const auto read = read_wants(ask.wants, out.wishes); !read) return fail(read.error());
  return out;
}

std::string choose_report(const Opened& opened, const Choosing& c, const search::Doubts& doubts,
                          const search::Shop& shop, const Options& options) {
  const auto& tally = c.hunted.tally;
  std::vector<std::string> open;
  for (std::size_t a = 0; a < search::axis_count; ++a) {
    const auto axis = static_cast<Axis>(a);
    if (c.ground->space().has(axis))
      open.push_back(std::string(search::word(axis)) + " (" +
                     std::to_string(c.ground->space().of(axis).size()) + ")");
  }
  std::string out = (opened.build.project.name.empty() ? opened.name : opened.build.project.name) +
                    ": what to buy\n\n";
  out += wrapped("Open: " + (open.empty() ? std::string("nothing") : join(open, ", ")) + ".", 2);
  std::vector<std::string> musts;
  for (const auto& must : c.wishes.musts) musts.push_back(must_text(must, opened, options));
  if (!musts.empty()) out += wrapped("It must: " + join(musts, "; ") + ".", 2);
  out += wrapped(count_text(tally.combinations) + " combinations considered; " +
                     count_text(tally.fitting) + " clash with nothing that needs no ride; " +
                     count_text(tally.ridden) + " different bikes ridden, " +
                     count_text(tally.through) + " of them through a whole drive cycle; " +
                     (c.nearest ? std::string() : count_text(c.hunted.tally.left)) +
                     (c.nearest ? std::string("more fits than can be kept, so only what could "
                                              "come nearest to the wishes was ridden on.")
                      : c.loose ? std::string(" are left, wishes aside.")
                                : " meet every wish; " + count_text(double(c.front.size())) +
                                      " are worth choosing between."),
                 2);
  const auto months = plan::calendar(opened.build);
  out += wrapped("A first build takes some " + fixed(months.months_low, 0) + " to " +
                     fixed(months.months_high, 0) +
                     " months (common practice, no source); what the choice moves of it is the "
                     "longest wait for a part.",
                 2);
  if (tally.stopped) out += wrapped("Stopped early: there may be better ones.", 2);
  if (tally.cut_short)
    out += wrapped("More than can be kept: the rest was left. Settle a part, or a wish.", 2);
  if (c.widened) out += wrapped("Nothing of your own parts does it alone: the library came in.", 2);
  if (!c.nearest && tally.fitting <= 0 && !tally.stopped) {
    out += "\nNothing fits, whatever is chosen. " + locks_text(c);
  } else if (c.loose) {
    out += "\nNothing meets every wish. The least that would have to give way:\n" +
           (c.relaxations.empty() ? std::string("  nothing that fits can be ridden at all\n")
                                  : relaxation_text(c.relaxations, c, opened, options, 5));
    if (c.nearest)
      out += wrapped(
          "There may be ways in which more wishes give way, each by less; they were not looked "
          "for.",
          2);
  }
  if (!c.list.empty())
    out += std::string(c.loose ? "\nThe bikes that these are, in the same order:\n"
                               : "\nWorth a look, best first:\n") +
           listed(c, doubts, shop, opened, options);
  if (!doubts.decisions.empty())
    out += "\nWhat to decide first, and what guessing costs:\n" +
           decisions_text(c, doubts, opened, options);
  if (doubts.bikes > 1)
    out += "\nWhat to measure before deciding:\n" + measuring_text(c, doubts, opened, options);
  out += "\nWhy the others fell out, by the first thing that was in the way:\n" +
         fell_text(c, opened, options);
  if (!c.fell_last.empty()) {
    std::vector<std::string> words;
    for (const auto& [rule, count] : c.fell_last)
      words.push_back(std::string(fit::rule_book().find(rule)->title) + " (" +
                      std::to_string(count) + ")");
    out += wrapped("Left out after a full ride: " + join(words, "; ") + ".", 2);
  }
  out += "\n" + wrapped(
                    "Checked: every rule that the figures above can decide. Not checked: what "
                    "is not measured yet, your frame's real room, a seller's word. Before any "
                    "cells are bought, measure the bay and mock the pack up; over 60 V have "
                    "the circuit looked at by somebody who is licensed for it.",
                    0);
  return out;
}

std::string choose_json(const Opened& opened, const Choosing& c, const search::Doubts& doubts,
                        const search::Shop& shop) {
  const auto& tally = c.hunted.tally;
  Json out{{"wattwright", json_version},     {"report", "choose"},
           {"sheet", opened.name},           {"combinations", tally.combinations},
           {"fitting", tally.fitting},       {"ridden", tally.ridden},
           {"through_cycle", tally.through}, {"kept", c.hunted.records.size()},
           {"every_wish_met", !c.loose},     {"stopped", tally.stopped},
           {"cut_short", tally.cut_short},   {"worth_choosing_between", c.front.size()},
           {"list", Json::array()},          {"decisions", Json::array()},
           {"measuring", Json::array()},     {"knowing_all", doubts.value_of_knowing_all},
           {"draws", doubts.draws},          {"relaxations", Json::array()},
           {"in_the_way", Json::array()},    {"fell", fell_json(c)}};
  for (const auto& lock : c.locks) {
    Json rules = Json::array();
    for (const std::size_t rule : lock.rules) rules.push_back(fit::rule_book().rules()[rule].id);
    out["in_the_way"].push_back({{"rules", rules}, {"fitting", lock.fitting}});
  }
  const auto list = shown_list(c, doubts);
  for (std::size_t place = 0; place < list.size(); ++place) {
    const search::Index index = list[place];
    Json holds = nullptr;
    if (place < doubts.list.size()) holds = doubts.list[place].share_holds;
    out["list"].push_back({{"parts", options_json(c, c.record(index))},
                           {"numbers", numbers_json(c.record(index).numbers)},
                           {"holds", holds},
                           {"still_to_settle", search::left_to_settle(c.build_of(index), shop)}});
  }
  for (const auto& m : doubts.measuring) {
    Json between = Json::array();
    for (const search::Index index : m.between) between.push_back(options_json(c, c.record(index)));
    out["measuring"].push_back({{"field", build::schema()[m.id].path},
                                {"part", m.part},
                                {"worth", m.value},
                                {"between", between}});
  }
  for (const auto& decision : doubts.decisions) {
    Json options = Json::array();
    for (const auto& option : decision.options)
      options.push_back({{"option", option_text(c, decision.axis, option.option)},
                         {"loss", option.loss},
                         {"right", option.share_right},
                         {"numbers", numbers_json(c.record(option.record).numbers)}});
    out["decisions"].push_back({{"open", std::string(search::word(decision.axis))},
                                {"worst_loss", decision.options.back().loss},
                                {"options", options}});
  }
  for (const auto& relaxation : c.relaxations) {
    Json steps = Json::array();
    for (const auto& step : relaxation.steps) {
      const auto& must = c.wishes.musts[step.must];
      steps.push_back({{"wish", std::string(search::info_of(must.quantity).word)},
                       {"wished", must.bound},
                       {"instead", step.value}});
    }
    out["relaxations"].push_back({{"steps", steps},
                                  {"parts", options_json(c, c.record(relaxation.record))},
                                  {"numbers", numbers_json(c.record(relaxation.record).numbers)}});
  }
  return out.dump(2) + "\n";
}

std::string why_report(const Choosing& c, const search::WhyNot& why, const std::string& part,
                       const Options& options) {
  Opened plain{.name = {}, .build = c.ground->space().base, .errors = {}};
  std::string out = "Why not " + part + "?\n\n";
  if (why.best) {
    out += wrapped("It can be: " + count_text(double(why.meeting)) +
                       " combinations with it meet every wish. The best of them: " +
                       numbers_text(c, *why.best, plain, options) + ".",
                   2);
    if (!c.hunted.records.empty())
      out += wrapped("Against the best of all: " +
                         difference_text(c.record(search::best_of(c.hunted.records, c.worth)),
                                         *why.best, plain, options) +
                         ".",
                     2);
    return out;
  }
  if (!why.relaxations.empty()) {
    out += wrapped("It fits (" + count_text(why.fitting) +
                       " combinations), but none meets every wish. The least that would have to "
                       "give way:",
                   2);
    return out + relaxation_text(why.relaxations, c, plain, options, 4);
  }
  out += wrapped(why.fitting > 0 ? "What fits with it clashes once it is ridden. What combinations "
                                   "fell to, most first:"
                                 : "Every combination with it clashes. What they fell to, most "
                                   "first:",
                 2);
  Columns columns({true, false});
  for (std::size_t i = 0; i < why.rules.size() && i < 6; ++i)
    columns.row({count_text(why.rules[i].second),
                 std::string(fit::rule_book().find(why.rules[i].first)->title)});
  out += columns.text(2);
  out += wrapped("Change what these compare, or leave a part open that they stand between.", 2);
  return out;
}

std::string claim_report(const std::string& text, const std::vector<search::ClaimTerm>& terms,
                         bool on_a_sheet) {
  std::string out = wrapped("\"" + text + "\"", 0);
  for (const auto& term : terms) {
    out +=
        "\n" + wrapped(term.says + ": " + std::string(search::plausibility(term.share_of_bikes)) +
                           ". True of " + fixed(100 * term.share_of_bikes, 0) +
                           " in 100 bikes that yours may be.",
                       2);
    out += wrapped("For it: " + term.would_need + ".", 4);
    out += wrapped("Rather: " + term.then_rather + ".", 4);
  }
  out += "\n" + wrapped(on_a_sheet ? "Held against the bike on the sheet; what it lacks is its "
                                     "class's."
                                   : "Held against a bike of no particular class: with --sheet "
                                     "against yours.",
                        0);
  return out;
}

std::string donors_report(const Opened& opened, const std::vector<search::DonorFit>& donors,
                          const Options& options) {
  const auto print = [&](double value, figure::Kind kind) {
    return figure::print(value, kind, options.units);
  };
  std::string out = (opened.build.project.name.empty() ? opened.name : opened.build.project.name) +
                    ": which donor carries the pack\n\n";
  Columns columns({false, true, true, true, true, true, false});
  columns.row({"", "pack", "room needed", "room", "laden", "plate", ""});
  for (const auto& d : donors) {
    std::string verdict = "carries it";
    if (!d.reaches) {
      verdict = "no pack does the ride";
    } else if (!d.carries()) {
      verdict = std::string(d.room() ? "" : "too little room") +
                (d.room() || d.plate() ? "" : ", ") + (d.plate() ? "" : "too heavy");
    }
    columns.row({d.own ? "your own, as measured" : std::string(d.words),
                 d.reaches ? print(d.energy_J, figure::Kind::energy) : "",
                 d.reaches ? print(d.bay_needed_m3, figure::Kind::volume) : "",
                 print(d.bay_m3, figure::Kind::volume),
                 d.reaches ? print(d.mass_laden_kg, figure::Kind::mass) : "",
                 print(d.gross_kg, figure::Kind::mass), verdict});
  }
  out += columns.text(2);
  for (const auto& d : donors) {
    if (!d.own || !d.reaches) continue;
    out += "\n" + wrapped(
                      "Your own: walk away where bay and tunnel, length x width x height, come "
                      "to less than " +
                          print(d.bay_needed_m3, figure::Kind::volume) +
                          ", or the plate allows less than " +
                          print(d.mass_laden_kg, figure::Kind::mass) + " laden.",
                      2);
  }
  out += "\n" + wrapped(
                    "Parts are sketched from the library, cells fill six tenths of the room "
                    "beside the motor, and room and plate of a class are typical, common "
                    "practice, no source. In a stranger's yard take five with a tape: length, "
                    "width and height of the bay, the wheelbase, and read the plate; put them "
                    "into a sheet and ask again. Frame, papers and rust are not in it.",
                    0);
  return out;
}

}  // namespace ww::cli
