// SPDX-License-Identifier: MIT
// The charger against the pack, the pack's heat and cold, and how the pack is built: pressure,
// links, terminals, bars. The facts these rules read stand in rules_battery.cpp.
#include <array>
#include <cmath>

#include "fit/rules_battery.h"
#include "model/bolt.h"
#include "model/chemistry.h"

namespace ww::fit {

namespace {

using build::Answer;
using build::CellFormat;
using build::Stud;
using build::TerminalMetal;
using figure::Kind;
using model::Chemistry;

constexpr double freezing_K = 273.15;

bool flat_cells(const In& in, int format) {
  return in.is(format, CellFormat::prismatic) || in.is(format, CellFormat::pouch);
}

/// Largest torque of a bolt of strength 8.8 as delivered: VDI 2230, mean diameter under the
/// head 1.3 d.
double torque_8_8_Nm(double stud) {
  constexpr std::array<double, 6> size_mm{4, 5, 6, 8, 10, 12},
      pitch_mm{0.7, 0.8, 1, 1.25, 1.5, 1.75};
  const auto i = static_cast<std::size_t>(stud) - static_cast<std::size_t>(Stud::m4);
  if (i >= size_mm.size()) return std::numeric_limits<double>::quiet_NaN();
  const double d = 1e-3 * size_mm[i];
  const model::BoltThread<double> thread{.diameter_m = d, .pitch_m = 1e-3 * pitch_mm[i]};
  const double preload = model::assembly_preload_N(thread, 640e6, 0.12);
  return model::tightening_torque_Nm(thread, {.thread = 0.12, .head = 0.12}, 1.3 * d, preload);
}

}  // namespace

std::vector<Rule> pack_charger_rules() {
  return {
      {.id = "missing-charger",
       .codes = "",
       .title = "a charger on the parts list",
       .between = {"pack"},
       .needs = {"fact.has_charger"},
       .judge = [](const In& in) { return must(in[0] > 0); },
       .fits = "A charger is on the list.",
       .clash = "No charger is on the list. It has to match this pack's cells in series and "
                "chemistry to half a percent: choose it with the pack, not from a drawer.",
       .ignoring = {"A finished bike that cannot be charged, or an unfit charger tried in haste.",
                    100, 800, 4},
       .levers = {"+charger"},
       .blocks = Blocks::riding,
       .never = "tight,unmeasured",
       .never_why = "a part is on the list or it is not"},
      {.id = "charger-voltage-high",
       .codes = "E24",
       .title = "charger's end voltage against the full pack",
       .between = {"pack", "cell", "charger"},
       .needs = {"fact.charge_voltage", "fact.pack_voltage_full"},
       .judge =
           [](const In& in) { return at_most(in[0], 1.005 * in[1]).kept_to(battery_hair * in[1]); },
       .kind = Kind::voltage,
       .fits = "The charger ends at {have}; the pack is full at {1}.",
       .tight =
           "The charger ends at {have}, a little over the full pack's {1}: set it to {1} or below.",
       .clash = "The charger ends at {have}, but the pack is full at {1}. Overcharged cells burn: "
                "do not connect it, and take a meter reading of its output with no load before any "
                "charger meets the pack.",
       .can_hurt = true,
       .ignoring = {"Cells overcharged: fire, at night, in the house.", 500, 50000, 20},
       .levers = {"limits.charge_voltage", "charger"},
       .blocks = Blocks::energising},
      {.id = "charger-voltage-low",
       .codes = "E24",
       .title = "charger's end voltage high enough to fill the pack",
       .between = {"pack", "cell", "charger"},
       .needs = {"fact.charge_voltage", "fact.pack_voltage_full"},
       .applies = [](const In& in) { return !(in[0] > 1.005 * in[1]); },
       .judge = [](const In& in) { return at_least(in[0], 0.90 * in[1]).kept_to(0.94 * in[1]); },
       .kind = Kind::voltage,
       .fits = "The charger ends at {have}; the pack is full at {1}. A little below full is kind "
               "to the cells.",
       .tight = "The charger ends at {have}, well below the full pack's {1}: much of the capacity "
                "stays unused and the monitor may never even the cells out.",
       .clash = "The charger ends at {have}; the pack is full at {1}: it never gets near. It is "
                "made for fewer cells or another chemistry.",
       .ignoring = {"Half the range that was paid for; cells never evened out.", 100, 600, 4},
       .levers = {"limits.charge_voltage", "charger"},
       .blocks = Blocks::buying},
      {.id = "charger-voltage-fixed",
       .codes = "E24",
       .title = "charge voltage wanted against a charger that cannot be set",
       .between = {"charger"},
       .needs = {"fact.charge_voltage_wanted", "charger.voltage"},
       .options = {"charger.adjustable"},
       .applies = [](const In& in) { return in.is(2, Answer::no) && in.has(0); },
       .judge =
           [](const In& in) {
             return must(std::fabs(in[1] - in[0]) <= 0.005 * in[0] * battery_hair);
           },
       .fits = "The charger ends at {1}, as wanted ({0}).",
       .clash = "You want to charge to {0}, but this charger ends at {1} and cannot be set. "
                "Overcharged cells burn: what counts is what its output reads with no load.",
       .can_hurt = true,
       .ignoring = {"It charges to its own voltage, whatever the sheet says.", 100, 800, 4},
       .levers = {"charger"},
       .blocks = Blocks::energising,
       .never = "tight",
       .never_why = "it gives the wanted voltage within half a percent or it does not"},
      {.id = "charger-voltage-tolerance",
       .codes = "E24",
       .title = "how exactly the charger holds its end voltage",
       .between = {"pack", "cell", "charger"},
       .needs = {"charger.voltage_tolerance", "fact.pack_voltage_full"},
       .judge =
           [](const In& in) {
             return at_most(in[0], 0.01 * in[1]).kept_to(0.005 * battery_hair * in[1]);
           },
       .kind = Kind::voltage,
       .fits = "The charger holds its end voltage within {have}.",
       .tight = "The charger holds its end voltage within {have} only; half a percent of the pack "
                "is {practice}. Set it lower by that much.",
       .clash = "The charger holds its end voltage within {have} only: a percent of the pack is "
                "{limit}, and cells are overcharged by such errors.",
       .can_hurt = true,
       .ignoring = {"Some charges end above full: ageing, at worst fire.", 100, 800, 4},
       .levers = {"charger"},
       .blocks = Blocks::buying},
      {.id = "charger-current-at-cells",
       .codes = "E25",
       .title = "charge current of one unit against its rating",
       .between = {"pack", "cell", "charger"},
       .needs = {"fact.unit_current_charge", "cell.charge_continuous"},
       .judge = [](const In& in) { return at_most(in[0], in[1]); },
       .kind = Kind::current,
       .fits = "The charger puts {have} into one unit; it takes {limit} continuously.",
       .tight = "The charger puts {have} into one unit; it takes {limit} continuously, and the "
                "spread of the figures reaches beyond.",
       .clash = "The charger puts {have} into one unit; it takes only {limit} continuously. Metal "
                "plates out inside the cell.",
       .can_hurt = true,
       .ignoring = {"Plated, hot cells: capacity gone for good, an inner short later.", 400, 2500,
                    8},
       .levers = {"charger", "pack.parallel"},
       .blocks = Blocks::buying},
      {.id = "charge-in-cold",
       .codes = "E25,T09",
       .title = "where it is charged against the coldest charge",
       .between = {"pack", "cell"},
       .needs = {"surroundings.storage_temperature", "cell.charge_temperature_min"},
       .options = {"pack.heater_power"},
       .judge =
           [](const In& in) {
             return in[2] > 0 ? judged(Verdict::fits) : at_least(in[0], in[1]).kept_to(in[1] + 10);
           },
       .kind = Kind::temperature,
       .fits = "Where the bike stands it has {0} in the mean; the cells may be charged from {1} "
               "on, or a heater warms them first.",
       .tight = "Where the bike stands it has {have} in the mean; a frosty week gets near {limit}, "
                "the coldest the cells may be charged. Let them warm up for hours first.",
       .clash = "Where the bike stands it has {have}; below {limit} the cells must not be charged. "
                "Bring it where it is warm, or fit a heater.",
       .can_hurt = true,
       .ignoring = {"Charging below freezing plates the cells: capacity gone for good, an inner "
                    "short later.",
                    400, 2500, 8},
       .levers = {"pack.heater_power", "surroundings.storage_temperature"},
       .blocks = Blocks::riding,
       .on_assumptions = true},
      {.id = "charge-in-heat",
       .codes = "T09",
       .title = "hottest day against the warmest charge",
       .between = {"pack", "cell"},
       .needs = {"surroundings.hottest", "cell.charge_temperature_max"},
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(in[1] - 10); },
       .kind = Kind::temperature,
       .fits = "Your hottest day has {have}; the cells may be charged up to {limit}.",
       .tight = "Your hottest day has {have}; the cells may be charged up to {limit}, and they "
                "come back from a ride warmer than the air: wait an hour before plugging in.",
       .clash = "Your hottest day has {have}; the cells may be charged only up to {limit}. Charge "
                "at night.",
       .ignoring = {"Hot charging ages the cells within a few summers.", 0, 1500, 0},
       .blocks = Blocks::nothing,
       .on_assumptions = true},
      {.id = "pack-heater-and-charger",
       .codes = "E108",
       .title = "pack heater against the charger's output",
       .between = {"pack", "charger"},
       .needs = {"pack.heater_power", "fact.charger_power"},
       .applies = [](const In& in) { return in[0] > 0; },
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(0.5 * in[1]); },
       .kind = Kind::power,
       .fits = "The heater takes {have} of the charger's {limit}. Give it a fuse of its own and a "
               "cut-out on the cells.",
       .tight = "The heater takes {have}, more than half of the charger's {limit}: the pack fills "
                "slowly, and the charger may never see its end current.",
       .clash = "The heater takes {have}, more than the charger's {limit}: plugged in, the pack is "
                "drained.",
       .can_hurt = true,
       .ignoring = {"A charge that never ends; a heater that cooks the cells.", 50, 600, 2},
       .levers = {"pack.heater_power", "charger"},
       .blocks = Blocks::nothing},
  };
}

std::vector<Rule> pack_heat_rules() {
  return {
      {.id = "pack-heat-hot-day",
       .codes = "T03",
       .title = "pack at the end of the longest ride on the hottest day",
       .between = {"pack", "cell"},
       .needs = {"fact.pack_heat_rise", "surroundings.hottest", "cell.discharge_temperature_max"},
       .judge = [](const In& in) { return at_most(in[1] + in[0], in[2]).kept_to(freezing_K + 45); },
       .kind = Kind::temperature,
       .fits = "After your longest ride on the hottest day the cells have {have} at most; "
               "{practice} is kind to them.",
       .tight = "After your longest ride on the hottest day the cells may have {have}: over "
                "{practice} they age fast ({limit} is their end).",
       .clash = "After your longest ride on the hottest day the cells would have {have}; they may "
                "have {limit}.",
       .can_hurt = true,
       .ignoring = {"Power fades or the monitor trips on the way home in summer; cells age within "
                    "a few years.",
                    200, 2500, 8},
       .levers = {"pack.parallel", "cell", "wishes.hold_speed"},
       .blocks = Blocks::nothing,
       .source = "heat into the cells' own mass, nothing carried away; common practice, no source",
       .on_assumptions = true},
      {.id = "pack-heat-per-ride",
       .codes = "T03",
       .title = "how much the longest ride warms the pack",
       .between = {"pack", "cell"},
       .needs = {"fact.pack_heat_rise"},
       .judge = [](const In& in) { return should(in[0] <= 15); },
       .fits = "The longest ride warms the cells by {0} at most.",
       .tight = "The longest ride warms the cells by up to {0}; usual practice stays below 15 K. "
                "Leave air round them or lead the heat into the box.",
       .ignoring = {"Hot middles, uneven ageing.", 0, 1000, 2},
       .levers = {"pack.parallel", "cell"},
       .source = "heat into the cells' own mass, nothing carried away; common practice, no source",
       .never = "clash",
       .never_why = "warming alone breaks no limit; the temperature has a rule of its own"},
      {.id = "ride-in-cold",
       .codes = "T09",
       .title = "coldest day against the coldest discharge",
       .between = {"pack", "cell"},
       .needs = {"surroundings.coldest", "cell.discharge_temperature_min"},
       .judge = [](const In& in) { return at_least(in[0], in[1]).kept_to(in[1] + 10); },
       .kind = Kind::temperature,
       .fits = "Your coldest day has {have}; the cells give current down to {limit}.",
       .tight = "Your coldest day has {have}; the cells give current down to {limit}, but little "
                "of it. Start from a warm garage.",
       .clash = "Your coldest day has {have}; below {limit} the cells must not be discharged.",
       .ignoring = {"The bike will not move on a frosty morning, or the cells suffer.", 0, 1500, 0},
       .blocks = Blocks::nothing,
       .on_assumptions = true},
      {.id = "cold-current-limit",
       .codes = "T12",
       .title = "battery current while the pack is cold",
       .between = {"pack", "cell"},
       .needs = {"limits.cold_limit"},
       .options = {"limits.cold_battery_current", "fact.battery_current_peak",
                   "surroundings.coldest", "cell.chemistry"},
       .applies =
           [](const In& in) { return !(in[3] >= freezing_K + 5) && !in.is(4, Chemistry::lto); },
       .judge =
           [](const In& in) {
             if (!in.yes(0)) return judged(Verdict::tight);
             if (in[1] >= in[2]) return judged(Verdict::clash);
             return should(!(in[1] > 0.5 * in[2]));
           },
       .kind = Kind::current,
       .fits = "In the cold the battery current is reduced ({1} of {2}).",
       .tight = "In the cold, half of the {2} is usual until the pack is warm: cold cells sag and "
                "trip. Reduced to: {1}.",
       .clash = "The limit for the cold, {1}, is no lower than the usual {2}: it reduces nothing.",
       .can_hurt = true,
       .ignoring = {"Power drops out on a cold morning, in traffic.", 0, 200, 1},
       .levers = {"limits.cold_limit=yes", "limits.cold_battery_current"},
       .blocks = Blocks::nothing},
      {.id = "parked-in-sun",
       .codes = "T11",
       .title = "pack in a box parked in the sun",
       .between = {"pack", "cell"},
       .needs = {"surroundings.parked_in_sun", "surroundings.hottest",
                 "cell.discharge_temperature_max"},
       .judge =
           [](const In& in) {
             return in.yes(0) ? at_most(in[1] + 25, in[2]).kept_to(freezing_K + 50)
                              : judged(Verdict::fits);
           },
       .kind = Kind::temperature,
       .fits = "Parked in the sun: {0}; hottest day {1}. The sun adds nothing, or too little to "
               "age the cells fast.",
       .tight = "A dark box in the sun gets some 25 K warmer than the air: {have} on your hottest "
                "day. Park in the shade, paint it light.",
       .clash = "A dark box in the sun gets some 25 K warmer than the air: {have} on your hottest "
                "day; the cells may have {limit}.",
       .ignoring = {"Cells age in a few summers.", 0, 1500, 0},
       .levers = {"surroundings.parked_in_sun=no"},
       .blocks = Blocks::nothing,
       .on_assumptions = true},
  };
}

std::vector<Rule> pack_build_rules() {
  return {
      {.id = "cells-pressed",
       .codes = "K45",
       .title = "flat cells held by plates",
       .between = {"pack", "cell"},
       .needs = {"cell.compression", "pack.compressed"},
       .options = {"cell.format"},
       .applies = [](const In& in) { return !in.has(2) || flat_cells(in, 2); },
       .judge =
           [](const In& in) {
             if (in.yes(1)) return judged(Verdict::fits);
             return judged(in[0] > 0 ? Verdict::clash : Verdict::tight);
           },
       .fits = "The cells are held between plates; the data sheet asks for {0}.",
       .tight = "The data sheet asks for no pressure, but flat cells bow outwards with age: stiff "
                "end plates and rods are cheap.",
       .clash = "The data sheet asks for {0} on the cells' faces, and nothing holds them. They "
                "swell, lose contact inside and age early.",
       .ignoring = {"Swollen cells, torn terminals, half the life.", 200, 2000, 6},
       .levers = {"pack.compressed=yes"},
       .blocks = Blocks::energising},
      {.id = "links-give",
       .codes = "K45",
       .title = "what the links bear as flat cells grow",
       .between = {"pack", "cell"},
       .needs = {"pack.flexible_links", "fact.cell_growth"},
       .options = {"cell.format"},
       .applies = [](const In& in) { return !in.has(2) || flat_cells(in, 2); },
       .judge =
           [](const In& in) {
             return in.yes(0) ? judged(Verdict::fits) : at_most(in[1], 0.5e-3).kept_to(0.2e-3);
           },
       .kind = Kind::length,
       .fits = "Links that give: {0}; a cell grows by {1} over its life, which they bear.",
       .tight = "A cell grows by {have} over its life and the links are rigid: the terminals are "
                "pulled. Leave slack or use braid.",
       .clash = "A cell grows by {have} over its life and the links are rigid: that tears "
                "terminals. Bars with a bow of 3 mm, or braid.",
       .can_hurt = true,
       .ignoring = {"A torn terminal, a hot joint, a leaking cell.", 100, 1500, 4},
       .levers = {"pack.flexible_links=yes"},
       .blocks = Blocks::nothing,
       .on_assumptions = true},
      {.id = "cells-supported",
       .codes = "K46",
       .title = "cells carried by their cases, not by their terminals",
       .between = {"pack", "cell"},
       .needs = {"pack.cells_supported"},
       .judge = [](const In& in) { return must(in.yes(0)); },
       .fits = "No cell hangs on its terminals.",
       .clash = "Cells hang on their terminals: the road breaks the terminals or the welds. Pad "
                "every face, leave no hard point.",
       .can_hurt = true,
       .ignoring = {"A cracked terminal on the road: a stop, or an arc inside the box.", 200, 2500,
                    6},
       .levers = {"pack.cells_supported=yes"},
       .blocks = Blocks::riding,
       .never = "tight",
       .never_why = "a cell is carried or it hangs"},
      {.id = "terminal-metals",
       .codes = "E66",
       .title = "cell terminals against the metal bolted to them",
       .between = {"pack", "cell"},
       .needs = {"cell.terminal_metal", "pack.joint_compound"},
       .options = {"cell.terminal", "lug.metal"},
       .applies = [](const In& in) { return !in.is(2, Stud::weld); },
       .judge =
           [](const In& in) {
             const bool cell = in.is(0, TerminalMetal::aluminium),
                        link = in.is(3, TerminalMetal::aluminium);
             if (in.yes(1) || (!cell && !link)) return judged(Verdict::fits);
             return judged(cell != link ? Verdict::clash : Verdict::tight);
           },
       .fits =
           "Terminals of {0}, joint compound: {1}. Brush, bolt to the data sheet's torque, mark.",
       .tight = "Aluminium on aluminium without joint compound: its skin grows back within "
                "minutes. Brush it under compound.",
       .clash = "Aluminium meets copper without joint compound: the joint's resistance climbs "
                "within weeks. Brush it under compound, or use tinned or two-metal parts.",
       .can_hurt = true,
       .ignoring = {"Joints run hot within two months; a burnt terminal.", 30, 800, 2},
       .levers = {"pack.joint_compound=yes"},
       .blocks = Blocks::energising},
      {.id = "terminal-torque",
       .codes = "E66",
       .title = "torque on the cell's terminal against its bolt",
       .between = {"cell"},
       .needs = {"cell.terminal", "cell.terminal_torque"},
       .applies = [](const In& in) { return !in.is(0, Stud::weld); },
       .judge =
           [](const In& in) {
             return at_most(in[1], torque_8_8_Nm(in[0])).kept_to(0.8 * torque_8_8_Nm(in[0]));
           },
       .kind = Kind::torque,
       .fits = "The terminal wants {have}; a common steel bolt of that size bears {limit}.",
       .tight = "The terminal is said to want {have}, nearly all that a common steel bolt of that "
                "size bears ({limit}): read the data sheet again, with its unit.",
       .clash = "The terminal is said to want {have}; a common steel bolt of that size bears "
                "{limit}. The figure is in another unit, or of another bolt.",
       .ignoring = {"A stripped thread in a live terminal: the cell is scrap.", 30, 400, 4},
       .blocks = Blocks::energising,
       .source = "VDI 2230, class 8.8, friction 0.12"},
      {.id = "busbar-section",
       .codes = "E67",
       .title = "lasting current against the section of the bars between groups",
       .between = {"pack", "cell"},
       .needs = {"fact.battery_current_lasting", "fact.busbar_area_as_copper", "pack.busbar_metal"},
       .options = {"cell.terminal"},
       .applies = [](const In& in) { return !in.is(3, Stud::weld); },
       .judge = [](const In& in) { return at_most(in[0], 6e6 * in[1]).kept_to(5e6 * in[1]); },
       .kind = Kind::current,
       .fits = "The bars of {2} carry {have} for long; they bear {practice}.",
       .tight = "The bars of {2} carry {have} for long; {practice} is usual, {limit} the most: use "
                "the next thickness.",
       .clash = "The bars of {2} carry {have} for long; they bear {limit}. They heat the cells.",
       .can_hurt = true,
       .ignoring = {"Hot bars, cooked cells at the joints.", 50, 1500, 4},
       .levers = {"pack.busbar_thickness", "pack.busbar_width"},
       .blocks = Blocks::energising,
       .source =
           "5 to 6 A for each square millimetre of copper, 1.62 times the section of aluminium: "
           "common practice, no source"},
      {.id = "busbar-warmth",
       .codes = "E67",
       .title = "how warm the bars between groups get on the hottest day",
       .between = {"pack", "cell"},
       .needs = {"fact.busbar_temperature", "cell.discharge_temperature_max"},
       .options = {"cell.terminal"},
       .applies = [](const In& in) { return !in.is(2, Stud::weld); },
       .judge = [](const In& in) { return at_most(in[0], freezing_K + 90).kept_to(in[1]); },
       .kind = Kind::temperature,
       .fits = "In still air on the hottest day the bars settle at {have}; the cells may have "
               "{practice}.",
       .tight = "In still air on the hottest day the bars settle at {have}, warmer than the cells "
                "may be ({practice}): short bars give that heat to the cells.",
       .clash = "In still air on the hottest day the bars settle at {have}; usual sleeves and "
                "covers bear {limit}, the cells {1}.",
       .can_hurt = true,
       .ignoring = {"The bars heat the cells instead of cooling them; soft covers touch.", 50, 1500,
                    4},
       .levers = {"pack.busbar_thickness", "pack.busbar_width"},
       .blocks = Blocks::nothing,
       .source = "heat balance with Churchill and Chu 1975 in still air, tarnished copper; 90 C: "
                 "common practice, no source",
       .on_assumptions = true},
      {.id = "welded-strip",
       .codes = "E67",
       .title = "lasting current of one cell against its welded strip",
       .between = {"pack", "cell"},
       .needs = {"fact.unit_current_lasting", "fact.busbar_area"},
       .options = {"cell.terminal"},
       .applies = [](const In& in) { return in.is(2, Stud::weld); },
       .judge = [](const In& in) { return at_most(in[0], 10.5e6 * in[1]).kept_to(7e6 * in[1]); },
       .kind = Kind::current,
       .fits = "One strip carries {have} for long; even of plated steel it bears {practice}.",
       .tight = "One strip carries {have} for long: pure nickel bears {limit}, plated steel only "
                "{practice}. File a scrap of it and leave it in salt water overnight: steel rusts.",
       .clash = "One strip carries {have} for long; even pure nickel bears only {limit}. Double it "
                "or lay copper over it.",
       .can_hurt = true,
       .ignoring = {"Strips glow, cells are cooked at their ends.", 50, 1500, 4},
       .levers = {"pack.busbar_thickness", "pack.busbar_width", "pack.parallel"},
       .blocks = Blocks::energising},
  };
}

}  // namespace ww::fit
