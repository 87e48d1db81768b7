// SPDX-License-Identifier: MIT
#include "plan/parts_list.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/text.h"

namespace ww::plan {

namespace {

using build::schema;
using build::Slot;
using figure::Evidence;
using figure::Figure;

Cents cents(double money) {
  return std::llround(money * 100);
}

// ---- what a build of this kind needs
// ------------------------------------------------------------------------------

/// A slot that a build needs, with the figures its purchase waits for.
struct Wanted {
  std::string_view slot, group;
  bool (*needed)(const Build&);  ///< null: always
  std::vector<std::string_view> waits_for;
  std::string_view because;
};

bool by_chain(const Build& b) {
  return b.gearing.drive == build::FinalDrive::chain ||
         (b.gearing.drive == build::FinalDrive::unknown && !b.belt);
}
bool by_belt(const Build& b) {
  return b.gearing.drive == build::FinalDrive::belt || b.belt.has_value();
}

/// Which purchase waits for which measurement: common practice, no source.
const std::vector<Wanted>& wanted_slots() {
  static const std::vector<Wanted> list{
      {"motor",
       "drive",
       nullptr,
       {"donor.bay_length", "donor.bay_width", "donor.bay_height", "donor.side_left",
        "donor.side_right", "donor.chainline"},
       "the motor must fit the bay with its cables, and its sprocket must reach the chainline"},
      {"controller",
       "drive",
       nullptr,
       {"motor.type", "pack.series", "cell.voltage_max"},
       "its voltage and currents follow from motor and pack"},
      {"cell",
       "battery",
       nullptr,
       {"donor.bay_length", "donor.bay_width", "donor.bay_height", "layout.mocked_up",
        "pack.series"},
       "cells cannot be sent back: they must tile the bay in a mock-up, with lid, clamps and "
       "cables"},
      {"bms",
       "battery",
       nullptr,
       {"pack.series", "cell.chemistry", "controller.current_battery"},
       "it must count exactly these cells and stand this current"},
      {"charger",
       "charging",
       nullptr,
       {"pack.series", "cell.voltage_max", "surroundings.outlet_breaker"},
       "its end voltage is frozen by the cells in the hand, its current by the outlet"},
      {"dcdc",
       "12 V",
       nullptr,
       {"pack.series", "donor.load_headlight", "donor.load_rear_lamps", "donor.load_indicators",
        "donor.load_horn"},
       "its power follows from the loads, its window from the pack"},
      {"buffer", "12 V", nullptr, {}, ""},
      {"contactor",
       "safety chain",
       nullptr,
       {"pack.series", "cell.resistance", "controller.current_battery"},
       "what it must break follows from the pack's short-circuit current"},
      {"precharge",
       "safety chain",
       nullptr,
       {"controller.capacitance", "pack.series"},
       "resistor and time follow from the controller's capacitance"},
      {"fuse",
       "safety chain",
       nullptr,
       {"cell.resistance", "pack.series", "controller.current_battery", "cable_main.section"},
       "its breaking capacity follows from the pack's resistance, its rating from the cable"},
      {"disconnect", "safety chain", nullptr, {"pack.series", "controller.current_battery"}, ""},
      {"cable_main",
       "safety chain",
       nullptr,
       {"wiring.loop_length", "controller.current_battery"},
       "the real path is measured with a string, plus a tenth"},
      {"cable_phase",
       "safety chain",
       nullptr,
       {"wiring.phase_length", "controller.current_phase"},
       "the real path is measured with a string, plus a tenth"},
      {"lug",
       "safety chain",
       nullptr,
       {"contactor.stud", "fuse.stud", "cable_main.section"},
       "lugs are bought after the studs of the real parts are measured"},
      {"chain",
       "driveline",
       &by_chain,
       {"gearing.front_teeth", "gearing.rear_teeth", "gearing.centre_distance"},
       "its length is known when both sprockets are in place"},
      {"sprocket_front",
       "driveline",
       &by_chain,
       {"motor.shaft_measured", "motor.shaft_diameter", "donor.chainline"},
       "it is bored to the shaft in the hand, not to the data sheet"},
      {"sprocket_rear",
       "driveline",
       &by_chain,
       {"donor.hub_bolt_circle", "donor.hub_bore", "donor.swingarm_to_sprocket",
        "gearing.rear_teeth"},
       "it must fit the hub and clear the swingarm"},
      {"belt", "driveline", &by_belt, {"gearing.centre_distance"}, ""},
      {"throttle",
       "controls",
       nullptr,
       {"donor.bar_diameter", "donor.bar_free_length", "controller.throttles"},
       "it must fit the bar and the controller's input"},
      {"display", "controls", nullptr, {"pack.series"}, ""},
  };
  return list;
}

const Figure* purchase_figure(const Build& build, std::string_view slot, std::string_view key) {
  const Id id = schema().find(std::string(slot) + "." + std::string(key));
  return id < 0 ? nullptr : build::figure_at(build, id);
}

double quantity_of(const Build& build, std::string_view slot, std::string& unit) {
  if (slot == "cell" && build.pack) {
    unit = "pieces";
    const double spares = std::max(build.pack->spares, 0);
    return std::max(build.pack->series, 0) * double(std::max(build.pack->parallel, 1)) + spares;
  }
  if (slot == "cable_main") {
    unit = "m";
    if (build.cable_main && build.cable_main->length.known()) return build.cable_main->length.value;
    return build.wiring.loop_length.known() ? build.wiring.loop_length.value * 1.1 : 4;
  }
  if (slot == "cable_phase") {
    unit = "m";
    if (build.cable_phase && build.cable_phase->length.known())
      return build.cable_phase->length.value;
    return build.wiring.phase_length.known() ? build.wiring.phase_length.value * 3 * 1.1 : 3;
  }
  if (slot == "lug") {
    unit = "pieces";
    return 24;  // twenty to thirty on a bike, one in five spare: common practice, no source
  }
  if (slot == "fuse") {
    unit = "pieces";
    return 2;  // one spare
  }
  return 1;
}

/// The middle price of a shelf, and half its p10-p90 span.
std::pair<double, double> shelf_price(const build::Library& library, std::string_view shelf) {
  std::vector<double> prices;
  for (const auto& part : library.shelf(shelf)) {
    for (const auto& info : part.slot->table->fields) {
      if (info.key != "price") continue;
      const auto* figure = static_cast<const Figure*>(info.reach(part.part.get()));
      if (figure->known()) prices.push_back(figure->value);
    }
  }
  if (prices.empty()) return {0, 0};
  std::sort(prices.begin(), prices.end());
  const auto at = [&](double share) {
    return prices[static_cast<std::size_t>(share * static_cast<double>(prices.size() - 1))];
  };
  return {at(0.5), 0.5 * (at(0.9) - at(0.1))};
}

double half_width_of(const Figure& price) {
  if (!std::isnan(price.half_width)) return price.half_width;
  return price.value * figure::default_spread(figure::Kind::money, price.evidence).relative;
}

bool waits(const Build& build, Id id) {
  if (!build::known_at(build, id)) return true;
  const auto& entry = schema()[id];
  if (entry.info->type == build::FieldType::choice)
    return build::number_at(build, id) == double(build::Answer::no) &&
           entry.info->options.size() == 3;
  // A bay or a hub taken from hearsay is not measured.
  const Figure* figure = build::figure_at(build, id);
  return figure != nullptr && entry.slot->key == "donor" && figure->evidence < Evidence::data_sheet;
}

/// Whether a figure of a part is the library's own: a sheet may override it on a library part.
bool from_library(const build::Library& library, const Slot& slot, std::string_view key,
                  const Build& build) {
  const auto* listed =
      library.find(slot.shelf, build::show(build, build::id_of(std::string(slot.key) + ".part")));
  const Figure* own = purchase_figure(build, slot.key, key);
  if (listed == nullptr || own == nullptr) return false;
  for (const auto& info : listed->slot->table->fields) {
    if (info.key == key)
      return static_cast<const Figure*>(info.reach(listed->part.get()))->value == own->value;
  }
  return false;
}

/// The price of what a slot holds, freight included; what may still be owed is noted on the line.
void take_price(Line& line, const Build& build, const build::Library& library, const Slot& slot) {
  const Figure* price = purchase_figure(build, slot.key, "price");
  const Figure* freight = purchase_figure(build, slot.key, "freight");
  if (price == nullptr || !price->known()) return;
  const bool landed = freight != nullptr && freight->known();
  line.freight = landed ? cents(freight->value * line.quantity) : 0;
  line.price = cents(price->value * line.quantity) + line.freight;
  line.half_width = cents(half_width_of(*price) * line.quantity);
  line.from = from_library(library, slot, "price", build) ? PriceFrom::library : PriceFrom::sheet;
  line.evidence = price->evidence;
  // A freight that the sheet itself states is the whole of it.
  const bool all_told = landed && !from_library(library, slot, "freight", build);
  line.dutiable = all_told ? 0 : line.price - line.freight;
}

void take_shelf_price(Line& line, const build::Library& library, const Slot& slot) {
  const auto [middle, half] = shelf_price(library, slot.shelf);
  if (middle <= 0) return;
  line.price = cents(middle * line.quantity);
  line.half_width = cents(half * line.quantity);
  line.from = PriceFrom::shelf;
  line.dutiable = line.price;
}

/// The share of a listed price, less the freight that is counted already.
void owe_duty(Line& line, double share) {
  if (line.dutiable > 0)
    line.duty = std::max<Cents>(0, std::llround(share * double(line.dutiable)) - line.freight);
}

Line slot_line(const Build& build, const build::Library& library, const Wanted& wanted) {
  const Slot& slot = *schema().slot(wanted.slot);
  Line line{.group = std::string(wanted.group), .what = std::string(slot.label), .chosen = {}};
  const bool there = build::slot_present(build, slot);
  line.missing = !there;
  line.quantity = quantity_of(build, wanted.slot, line.unit);
  if (there) {
    const std::string name = build::show(build, build::id_of(std::string(slot.key) + ".name"));
    const std::string part = build::show(build, build::id_of(std::string(slot.key) + ".part"));
    line.chosen = part != "not known" ? part : (name != "not known" ? name : "as on the sheet");
    const double state = build::number_at(build, build::id_of(std::string(slot.key) + ".state"));
    line.state = static_cast<build::State>(std::isnan(state) ? 0 : int(state));
    take_price(line, build, library, slot);
    const Figure* lead = purchase_figure(build, slot.key, "lead_time");
    if (lead != nullptr && lead->known()) line.lead_weeks = lead->value / (7 * 86400.0);
  }
  if (line.from == PriceFrom::none) take_shelf_price(line, library, slot);
  if (paid(line)) {
    line.dutiable = 0;
    return line;
  }
  for (const auto path : wanted.waits_for) {
    const Id id = build::id_of(path);
    if (waits(build, id)) line.waits_for.push_back(id);
  }
  if (!line.waits_for.empty()) line.because = std::string(wanted.because);
  return line;
}

Line money_line(const Build& build, std::string_view group, std::string_view what,
                std::string_view path) {
  const Id id = build::id_of(path);
  Line line{.group = std::string(group), .what = std::string(what), .chosen = {}};
  const Figure* figure = build::figure_at(build, id);
  if (figure != nullptr && figure->known()) {
    line.price = cents(figure->value);
    line.half_width = cents(half_width_of(*figure));
    line.from = PriceFrom::sheet;
    line.evidence = figure->evidence;
  } else if (const auto prior = build::prior_of(build, id); prior.known()) {
    line.price = cents(prior.value);
    line.half_width = cents(prior.half_width);
    line.from = PriceFrom::practice;
  }
  return line;
}

// ---- small parts and tools
// ----------------------------------------------------------------------------------------

bool over_60_volts(const Build& b) {
  return !b.pack || !b.cell || !(b.pack->series * b.cell->voltage_max.value <= 60);
}

bool condition_holds(const Build& b, const std::string& when) {
  if (when == "always") return true;
  if (when == "over 60 V") return over_60_volts(b);
  if (when == "used cells") return b.cell && b.cell->salvage == build::Answer::yes;
  if (when == "cylindrical cells")
    return b.cell && b.cell->format == build::CellFormat::cylindrical;
  if (when == "prismatic cells") return b.cell && b.cell->format == build::CellFormat::prismatic;
  if (when == "aluminium terminals")
    return b.cell && b.cell->terminal_metal == build::TerminalMetal::aluminium;
  if (when == "heavy cable") return true;
  if (when == "position sensor") return b.motor && b.motor->sensor != build::Sensor::none;
  if (when == "coolant") return b.motor && b.motor->cooling == build::Cooling::liquid;
  if (when == "chain") return by_chain(b);
  if (when == "belt") return by_belt(b);
  if (when == "buffer" || when == "bms") return true;
  return when == "own plates" || when == "own sprocket";
}

bool owned(const Build& build, const build::Goods& goods) {
  return std::any_of(build.owns.begin(), build.owns.end(), [&](const std::string& own) {
    const std::string a = lower(own), b = lower(goods.name), id = lower(goods.id);
    return !a.empty() && (b.find(a) != std::string::npos || a == id);
  });
}

Line goods_line(const build::Goods& goods) {
  Line line{.group = goods.tool ? "tools" : goods.group, .what = goods.name, .chosen = goods.task};
  line.price = cents(goods.price_usual);
  line.half_width = cents(0.5 * (goods.price_usual - goods.price_low));
  line.from = PriceFrom::practice;
  line.missing = goods.needed == "must";
  return line;
}

/// Prices that err together: all of one origin come from one market and one judgement, so their
/// half-widths add as they are. A written quote errs alone. Origins add as squares.
class TotalSpread {
 public:
  void add(const Line& line) {
    const auto half = double(line.half_width);
    if (line.from == PriceFrom::sheet && line.evidence >= Evidence::seller) {
      squares_ += half * half;
    } else {
      together_[static_cast<std::size_t>(line.from)] += half;
    }
  }
  void add_alone(double half) { squares_ += half * half; }
  Cents half_width() const {
    double squares = squares_;
    for (const double half : together_) squares += half * half;
    return std::llround(std::sqrt(squares));
  }

 private:
  double squares_ = 0;
  std::array<double, 5> together_{};  // by PriceFrom
};

/// A share of a sum of money, from the sheet or assumed.
struct Share {
  double value, half_width;
};
Share share_of(const Build& build, std::string_view path) {
  const Id id = build::id_of(path);
  const Figure* figure = build::figure_at(build, id);
  const auto prior = build::prior_of(build, id);
  if (figure == nullptr || !figure->known()) return {prior.value, prior.half_width};
  const bool stated = !std::isnan(figure->half_width);
  return {figure->value,
          stated ? figure->half_width
                 : figure->value *
                       figure::default_spread(figure::Kind::share, figure->evidence).relative};
}

void add_up(PartsList& list, const Share& duty, const Share& contingency) {
  TotalSpread spread;
  Cents dutiable = 0, to_buy = 0;
  const auto sum = [&](const std::vector<Line>& lines, Cents& into) {
    for (const Line& line : lines) {
      into += line.price;
      spread.add(line);
      if (paid(line)) list.spent += line.price;
      list.duty += line.duty;
      if (line.duty > 0) dutiable += line.dutiable;
      if (line.part && !paid(line)) to_buy += line.price;
      if (line.from == PriceFrom::none) continue;
      ++list.priced;
      list.quotes += line.from == PriceFrom::sheet && line.evidence >= Evidence::seller ? 1 : 0;
    }
  };
  sum(list.lines, list.parts);
  sum(list.small_parts, list.small);
  list.duty_share = duty.value;
  list.contingency_share = contingency.value;
  list.contingency = std::llround(contingency.value * double(to_buy));
  sum(list.tools, list.tooling);
  spread.add_alone(duty.half_width * double(dutiable));
  spread.add_alone(contingency.half_width * double(to_buy));
  list.total = list.parts + list.small + list.tooling + list.duty + list.contingency;
  list.total_low = list.total - spread.half_width();
  list.total_high = list.total + spread.half_width();
}

}  // namespace

std::string_view word(PriceFrom from) {
  switch (from) {
    case PriceFrom::sheet:
      return "your sheet";
    case PriceFrom::library:
      return "library";
    case PriceFrom::shelf:
      return "middle of the shelf";
    case PriceFrom::practice:
      return "common practice";
    case PriceFrom::none:
      break;
  }
  return "no price";
}

PartsList parts_list(const Build& build, const build::Library& library,
                     const std::vector<build::Goods>& goods) {
  PartsList list;
  Line donor = money_line(build, "donor", "donor bike", "donor.price");
  if (const auto* sold = purchase_figure(build, "donor", "parts_sold");
      sold != nullptr && sold->known()) {
    donor.price -= cents(sold->value);
    donor.what += " less parts sold";
  }
  donor.part = false;
  list.lines.push_back(donor);
  list.lines.push_back(money_line(build, "donor", "wear parts of the donor", "money.wear_parts"));
  for (const Wanted& wanted : wanted_slots()) {
    if (wanted.needed != nullptr && !wanted.needed(build)) continue;
    list.lines.push_back(slot_line(build, library, wanted));
  }
  for (const build::Extra& extra : build.extras) {
    Line line{.group = extra.group.empty() ? "other" : extra.group,
              .what = extra.name,
              .chosen = "as on the sheet"};
    line.quantity = extra.quantity;
    line.state = extra.state;
    if (extra.price.known()) {
      line.price = cents(extra.price.value * extra.quantity);
      line.half_width = cents(half_width_of(extra.price) * extra.quantity);
      line.from = PriceFrom::sheet;
      line.evidence = extra.price.evidence;
    }
    if (extra.lead_time.known()) line.lead_weeks = extra.lead_time.value / (7 * 86400.0);
    list.lines.push_back(line);
  }
  list.lines.push_back(
      money_line(build, "shop work", "machining, laser, welding", "money.machining"));
  list.lines.push_back(money_line(build, "finish", "paint, seat, covers", "money.paint"));
  list.lines.push_back(
      money_line(build, "papers", "papers, inspection, weighbridge, insurance", "money.papers"));
  for (const build::Goods& item : goods) {
    if (item.needed == "if" || item.needed == "nice" || !condition_holds(build, item.when) ||
        owned(build, item))
      continue;
    (item.tool ? list.tools : list.small_parts).push_back(goods_line(item));
  }
  if (build.wishes.budget.known()) list.budget = cents(build.wishes.budget.value);
  const Share duty = share_of(build, "money.duty_share");
  for (Line& line : list.lines) owe_duty(line, duty.value);
  add_up(list, duty, share_of(build, "money.contingency"));
  for (const Line& line : list.lines) {
    if (line.lead_weeks > list.longest_lead_weeks && line.state != build::State::here) {
      list.longest_lead_weeks = line.lead_weeks;
      list.longest_lead = line.what;
    }
  }
  return list;
}

bool paid(const Line& line) {
  return line.state == build::State::here || line.state == build::State::ordered;
}

double pieces_of(const Build& build, std::string_view slot) {
  std::string unit;
  return quantity_of(build, slot, unit);
}

std::string_view budget_word(const PartsList& list) {
  if (list.budget < 0) return {};
  if (list.total_high <= list.budget) return "met";
  return list.total <= list.budget ? "likely met" : "not met";
}

void note_clashes(PartsList& list, const std::vector<fit::Finding>& findings) {
  for (Line& line : list.lines) {
    for (const fit::Finding& finding : findings) {
      if (finding.verdict != fit::Verdict::clash) continue;
      const auto& between = finding.rule->between;
      const bool has_a_hand = std::any_of(
          between.begin(), between.end(),
          [&](std::string_view slot) { return schema().slot(slot)->label == line.what; });
      if (has_a_hand) line.clashes.emplace_back(finding.rule->id);
    }
  }
}

void note_sketched(PartsList& list, const PartsList& own) {
  for (Line& line : list.lines) {
    for (const Line& meant : own.lines) {
      if (meant.what != line.what || !meant.missing || line.missing) continue;
      line.missing = true;
      line.chosen = "sketched in: " + line.chosen;
    }
  }
}

std::string money_text(Cents amount) {
  const bool negative = amount < 0;
  const auto whole = static_cast<unsigned long long>(std::llabs(amount));
  std::string units = std::to_string(whole / 100);
  for (std::size_t i = units.size(); i > 3; i -= 3) units.insert(i - 3, " ");
  const auto rest = std::to_string(whole % 100);
  return (negative ? "-" : "") + units +
         (whole % 100 == 0 ? "" : "." + std::string(2 - rest.size(), '0') + rest);
}

std::string round_money_text(Cents amount) {
  const Cents half = amount < 0 ? -50 : 50;
  return money_text((amount + half) / 100 * 100);
}

}  // namespace ww::plan
