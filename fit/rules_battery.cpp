// SPDX-License-Identifier: MIT
// Pack, cells and charger against each other and against the controller. The cell monitor and the
// buying of cells stand in rules_battery_2.cpp.
#include <algorithm>
#include <cmath>

#include "fit/rule_terms.h"
#include "fit/rules_battery.h"
#include "model/busbar.h"
#include "model/cell.h"
#include "model/chemistry.h"

namespace ww::fit {

namespace {

using figure::Kind;
using model::Chemistry;

/// Heat capacity of a finished pack per kilogram of its cells; most cells have 800 to 1100 J/(kg
/// K), from memory.
constexpr double cell_heat_capacity_J_per_kgK = 1000;

model::CellLimits limits_of(double chemistry) {
  return model::cell_limits(static_cast<Chemistry>(static_cast<unsigned char>(chemistry)));
}

/// In: width, thickness; `metal` is where its choice stands. What nobody said is copper.
model::Busbar<double> bar_of(const In& in, int metal) {
  const double width_m = in[0], thickness_m = in[1];
  const bool aluminium = in.is(metal, build::BusbarMetal::aluminium);
  return {
      .metal = aluminium ? model::conductor_aluminium<double>() : model::annealed_copper<double>(),
      .width_m = width_m,
      .thickness_m = thickness_m,
      .emissivity = 0.4};
}

/// One yes among two is enough; two times no is no.
double either(const In& in) {
  if (in.yes(0) || in.yes(1)) return 1;
  return in.has(0) && in.has(1) ? 0 : nan;
}

double smaller_known(const In& in) {
  return in.has(0) && in.has(1) ? std::min(in[0], in[1]) : in.or_else(0, in[1]);
}

/// Voltage while the motor brakes into a full pack: it rises by current x resistance, but not
/// beyond where braking fades.
double braked_voltage(double start, double rise, double fade) {
  return std::isnan(fade) ? start + rise : std::min(start + rise, std::max(start, fade));
}

std::vector<Rule> pack_and_controller_rules() {
  return {
      {.id = "pack-voltage-at-controller",
       .codes = "E01",
       .title = "full pack against the controller's highest operating voltage",
       .between = {"pack", "cell", "controller"},
       .needs = {"fact.pack_voltage_full", "controller.voltage_max"},
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(0.95 * in[1]); },
       .kind = Kind::voltage,
       .fits = "The full pack has {have}; the controller works up to {limit}: {spare} to spare.",
       .tight = "The full pack has {have}; the controller works up to {limit}. Usual practice "
                "stays below {practice}, because braking lifts the voltage.",
       .clash =
           "The full pack has {have}; the controller works only up to {limit}: {spare} too much.",
       .ignoring = {"The power stage dies at the first full charge or the first braking.", 300,
                    1500, 5},
       .levers = {"pack.series", "controller"},
       .blocks = Blocks::buying},
      {.id = "pack-sag-cold",
       .codes = "E03",
       .title = "voltage under load, nearly empty and cold, against the cut",
       .between = {"pack", "cell", "controller"},
       .needs = {"ride.voltage_cold_low"},
       .options = {"limits.soft_cut", "controller.voltage_min"},
       .applies = [](const In& in) { return in.has(1) || in.has(2); },
       .judge =
           [](const In& in) {
             return at_least(in[0], in.or_else(1, in[2])).kept_to(in.or_else(1, in[2]) + 2);
           },
       .kind = Kind::voltage,
       .fits = "At a tenth of the charge on the coldest day full current pulls the pack down to "
               "{have}; the cut is at {limit}.",
       .tight = "At a tenth of the charge on the coldest day full current pulls the pack down to "
                "{have}: less than 2 V above the cut at {limit}.",
       .clash = "At a tenth of the charge on the coldest day full current would pull the pack down "
                "to {have}, below the cut at {limit}: the bike loses power when you overtake.",
       .can_hurt = true,
       .ignoring = {"Power fades or stops on a cold day with little charge left, in traffic.", 0,
                    200, 1},
       .levers = {"limits.battery_current", "pack.parallel"},
       .blocks = Blocks::nothing},
      {.id = "cut-not-too-high",
       .codes = "E03",
       .title = "voltage where the controller stops against what the pack has left there",
       .between = {"pack", "cell"},
       .needs = {"fact.controller_cut", "fact.pack_voltage_nominal", "fact.pack_voltage_empty"},
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(0.5 * (in[1] + in[2])); },
       .kind = Kind::voltage,
       .fits = "The controller stops at {have}; the pack has {1} nominal and {2} empty.",
       .tight = "The controller stops at {have}; the pack has {1} nominal and {2} empty: over "
                "{practice} a good part of the charge stays unused.",
       .clash = "The controller stops at {have}, above the pack's nominal {limit}: it hardly "
                "starts before it stops.",
       .ignoring = {"Half the range that was paid for.", 0, 200, 1},
       .levers = {"limits.soft_cut", "limits.hard_cut"},
       .blocks = Blocks::nothing},
      {.id = "regen-voltage-at-controller",
       .codes = "E02",
       .title = "voltage while the motor brakes, pack full, against the controller's highest "
                "operating voltage",
       .between = {"pack", "cell", "controller"},
       .needs = {"fact.regen_voltage", "controller.voltage_max"},
       .options = {"fact.regen_on"},
       .applies = [](const In& in) { return in[2] > 0; },
       .judge = [](const In& in) { return at_most(in[0], in[1]); },
       .kind = Kind::voltage,
       .fits = "Braking by motor right after a full charge lifts the voltage at the controller to "
               "{have}; it works up to {limit}.",
       .tight = "Braking by motor right after a full charge lifts the voltage at the controller to "
                "{have}; it works up to {limit}, and the spread of the figures reaches beyond.",
       .clash =
           "Braking by motor right after a full charge would lift the voltage at the controller to "
           "{have}; it works only up to {limit}. Braking drops out, or the power stage dies.",
       .can_hurt = true,
       .ignoring = {"Braking cuts in and out on the first hill down; a controller without its own "
                    "guard is destroyed.",
                    300, 1500, 5},
       .levers = {"limits.regen_voltage_max", "limits.regen_current", "limits.charge_voltage",
                  "controller"},
       .blocks = Blocks::riding,
       .source = "Ohm's law; common practice, no source",
       .on_assumptions = true},
      {.id = "regen-voltage-at-cells",
       .codes = "E02",
       .title = "cell voltage while the motor brakes, pack full, against what the cells and their "
                "monitor allow",
       .between = {"pack", "cell"},
       .needs = {"fact.regen_cell_voltage", "fact.cell_voltage_full"},
       .options = {"limits.bms_cell_max", "fact.regen_on"},
       .applies = [](const In& in) { return in[3] > 0; },
       .judge =
           [](const In& in) {
             return at_most(in[0], in.or_else(2, 1.02 * in[1])).kept_to(battery_hair * in[1]);
           },
       .kind = Kind::voltage,
       .fits =
           "Braking by motor right after a full charge brings a cell to {have}; it may have {1}.",
       .tight = "Braking by motor right after a full charge brings a cell to {have}, above its "
                "full voltage of {1}: let the braking fade earlier, or charge a little less.",
       .clash =
           "Braking by motor right after a full charge would bring a cell to {have}; beyond "
           "{limit} the cells suffer or their monitor opens, and then the braking is gone at once.",
       .can_hurt = true,
       .ignoring = {"The monitor opens while you brake: no engine braking, and a voltage spike at "
                    "the controller. Cells age.",
                    100, 1500, 4},
       .levers = {"limits.regen_voltage_max", "limits.charge_voltage", "limits.regen_current"},
       .blocks = Blocks::riding,
       .source = "Ohm's law; common practice, no source"},
      {.id = "cell-voltage-and-chemistry",
       .codes = "E04",
       .title = "full voltage of one cell against what its chemistry is charged to",
       .between = {"cell"},
       .needs = {"fact.cell_voltage_full", "cell.chemistry"},
       .judge =
           [](const In& in) {
             return at_most(std::fabs(in[0] / limits_of(in[1]).full_V - 1), 0.06).kept_to(0.04);
           },
       .kind = Kind::share,
       .fits = "One cell is full at {0}, as {1} cells are.",
       .tight = "One cell is full at {0}: unusual for {1} (off by {have}). Trust only "
                "the maker's data sheet for it, and set everything by that.",
       .clash = "One cell is said to be full at {0}; that is not {1} (off by {have}). "
                "Either the chemistry, the voltage or the number of cells inside the unit is "
                "wrong: compare those, never a '72 V' label.",
       .can_hurt = true,
       .ignoring = {"Charger, monitor and display are bought for the wrong voltage; a charger too "
                    "high sets cells on fire.",
                    200, 2000, 8},
       .levers = {"cell"},
       .blocks = Blocks::buying,
       .source = "class voltages from memory of data sheets; the cell's own sheet wins"},
      {.id = "display-supply-full",
       .codes = "E04",
       .title = "full pack against the highest supply of a display fed from the pack",
       .between = {"pack", "cell", "display"},
       .needs = {"fact.pack_voltage_full", "display.supply_max"},
       .applies = [](const In& in) { return !(in[1] < 20); },
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(0.95 * in[1]); },
       .kind = Kind::voltage,
       .fits = "The full pack has {have}; the display takes up to {limit}.",
       .tight = "The full pack has {have}; the display takes up to {limit}: less than a twentieth "
                "is left for braking and spikes.",
       .clash = "The full pack has {have}; the display takes only {limit}. Feed it from the 12 V "
                "side if it can, or choose another.",
       .can_hurt = true,
       .ignoring = {"A dead display, perhaps a burnt lead in the handlebar.", 30, 200, 2},
       .levers = {"display"},
       .blocks = Blocks::energising},
      {.id = "display-supply-empty",
       .codes = "E04",
       .title = "empty pack against the lowest supply of a display fed from the pack",
       .between = {"pack", "cell", "display"},
       .needs = {"fact.pack_voltage_empty", "display.supply_min", "display.supply_max"},
       .applies = [](const In& in) { return !(in[2] < 20); },
       .judge = [](const In& in) { return at_least(in[0], in[1]).kept_to(1.05 * in[1]); },
       .kind = Kind::voltage,
       .fits = "The empty pack has {have}; the display works down to {limit}.",
       .tight = "The empty pack has {have}; the display works down to {limit}: it may go dark "
                "under load.",
       .clash = "The empty pack has {have}; the display stops at {limit}, just when you need it.",
       .ignoring = {"The display goes dark when the pack is low and forgets its count.", 30, 200,
                    2},
       .levers = {"display"},
       .blocks = Blocks::nothing},
      {.id = "over-60-volts",
       .codes = "E10",
       .title = "full pack against the 60 V below which lighter rules hold",
       .between = {"pack", "cell"},
       .needs = {"fact.pack_voltage_full"},
       .judge = [](const In& in) { return should(in[0] <= 60 * battery_hair); },
       .kind = Kind::voltage,
       .fits = "The full pack has {0}, not over 60 V: the lighter rules hold. It can still burn, "
               "weld a spanner and hurt wet skin.",
       .tight = "The full pack has {0}, over 60 V: it can kill. Touch protection that needs a tool "
                "to open, orange cables, warning labels, an isolation check and bonding are asked "
                "for; ask your authority for its text. Work on one polarity at a time, cover the "
                "other, never alone.",
       .can_hurt = true,
       .ignoring = {"A touch that kills; a bike that no inspector passes.", 100, 600, 4},
       .blocks = Blocks::nothing,
       .source = "ISO 6469-3 voltage class A, 60 V DC; from memory",
       .never = "clash",
       .never_why = "a pack over 60 V is allowed; it only asks for more care"},
  };
}

std::vector<Rule> cell_current_rules() {
  return {
      {.id = "cell-current-continuous",
       .codes = "E05",
       .title = "lasting current of one unit against its continuous rating",
       .between = {"pack", "cell"},
       .needs = {"fact.unit_current_lasting", "cell.current_continuous"},
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(0.8 * in[1]); },
       .kind = Kind::current,
       .fits = "Riding draws {have} from one unit for long; it is rated {limit} continuously.",
       .tight = "Riding draws {have} from one unit for long, more than {practice}, four fifths of "
                "its continuous {limit}: it runs warm and ages.",
       .clash = "Riding would draw {have} from one unit for long; it is rated {limit} "
                "continuously. It overheats.",
       .can_hurt = true,
       .ignoring = {"Hot cells, early ageing, at worst a venting cell.", 400, 2500, 8},
       .levers = {"pack.parallel", "cell"},
       .blocks = Blocks::buying},
      {.id = "cell-current-peak",
       .codes = "E06",
       .title = "largest current of one unit against its pulse rating",
       .between = {"pack", "cell"},
       .needs = {"fact.unit_current_peak", "cell.current_pulse"},
       .judge = [](const In& in) { return at_most(in[0], in[1]); },
       .kind = Kind::current,
       .fits = "Full throttle draws {have} from one unit; its pulse rating is {limit}.",
       .tight = "Full throttle draws {have} from one unit; its pulse rating is {limit}, and the "
                "spread of the figures reaches beyond.",
       .clash = "Full throttle would draw {have} from one unit; its pulse rating is {limit}.",
       .can_hurt = true,
       .ignoring = {"Deep sag, trips, hot cells, at worst a venting cell.", 400, 2500, 8},
       .levers = {"limits.battery_current", "pack.parallel", "cell"},
       .blocks = Blocks::buying},
      {.id = "cell-pulse-time",
       .codes = "E06",
       .title = "how long the cells bear the full current",
       .between = {"pack", "cell"},
       .needs = {"fact.unit_current_peak", "cell.current_continuous", "cell.pulse_time"},
       .applies = [](const In& in) { return !(in[0] <= in[1]); },
       .judge = [](const In& in) { return at_least(in[2], 5).kept_to(10); },
       .kind = Kind::time,
       .fits = "The pulse rating holds for {have}: long enough for a pull up to road speed.",
       .tight = "The pulse rating holds for {have} only; a pull up to road speed takes ten seconds "
                "and more.",
       .clash = "The pulse rating holds for {have} only: that is a blip, not a pull. Count on the "
                "continuous {1} a unit, or ask for the 10 s figure.",
       .ignoring = {"Cells are overrun at every overtaking.", 200, 2000, 8},
       .levers = {"limits.battery_current", "pack.parallel", "cell"},
       .blocks = Blocks::nothing},
      {.id = "regen-current-at-cells",
       .codes = "E07",
       .title = "braking current into one unit against its pulse charge rating",
       .between = {"pack", "cell"},
       .needs = {"fact.unit_current_regen", "cell.charge_pulse"},
       .options = {"fact.regen_on"},
       .applies = [](const In& in) { return in[2] > 0; },
       .judge = [](const In& in) { return at_most(in[0], in[1]); },
       .kind = Kind::current,
       .fits = "Braking puts {have} into one unit; it takes {limit} for a short time.",
       .tight = "Braking puts {have} into one unit; it takes {limit} for a short time, and the "
                "spread of the figures reaches beyond.",
       .clash = "Braking would put {have} into one unit; it takes only {limit}. Metal plates out "
                "inside the cell: a loss for good, and a fire risk later.",
       .can_hurt = true,
       .ignoring = {"Plated cells: capacity gone, an inner short later.", 400, 2500, 8},
       .levers = {"limits.regen_current", "pack.parallel", "limits.regen=no"},
       .blocks = Blocks::riding},
      {.id = "regen-in-cold",
       .codes = "E07,T09",
       .title = "braking by motor on the coldest day against the coldest charge",
       .between = {"pack", "cell"},
       .needs = {"surroundings.coldest", "cell.charge_temperature_min"},
       .options = {"limits.cold_limit", "fact.regen_on"},
       .applies = [](const In& in) { return in[3] > 0; },
       .judge =
           [](const In& in) {
             return in.yes(2) ? judged(Verdict::fits) : at_least(in[0], in[1]).kept_to(in[1] + 5);
           },
       .kind = Kind::temperature,
       .fits = "Your coldest day has {0}; the cells take charge from {1} on, or the current is "
               "reduced in the cold. See that the reduction takes the braking to nothing too.",
       .tight = "Your coldest day has {have}, less than 5 K above {limit}, the coldest the cells "
                "may be charged: keep the braking gentle until they are warm.",
       .clash = "Your coldest day has {have}; below {limit} the cells must not be charged, and "
                "braking by motor charges them. Switch it off in the cold.",
       .can_hurt = true,
       .ignoring = {"Braking on frosty mornings plates the cells: capacity gone for good, an inner "
                    "short later.",
                    400, 2500, 8},
       .levers = {"limits.cold_limit=yes", "limits.regen=no"},
       .blocks = Blocks::riding,
       .on_assumptions = true},
      {.id = "strings-joining-current",
       .codes = "E08",
       .title = "current that jumps between strings when they are joined, against half their "
                "hourly rate",
       .between = {"pack", "cell"},
       .needs = {"fact.string_joining_current", "fact.string_half_rate"},
       .options = {"pack.strings"},
       .applies = [](const In& in) { return in[2] > 1; },
       .judge = [](const In& in) { return at_most(in[0], in[1]); },
       .kind = Kind::current,
       .fits = "Joining the strings lets {have} jump across; up to {limit} is usual practice. "
               "Glasses and gloves on all the same.",
       .tight = "Joining the strings lets {have} jump across; up to {limit} is usual practice, and "
                "the spread of the figures reaches beyond. Even them out first.",
       .clash = "Joining the strings would let {have} jump across; up to {limit} is usual "
                "practice. Bring them together first with a charger or through a lamp, and measure "
                "again, sign included.",
       .can_hurt = true,
       .ignoring =
           {"Hundreds of amps at the moment the plug touches: an arc in the hand, molten contacts.",
            50, 1500, 3},
       .levers = {"pack.string_voltage_difference"},
       .blocks = Blocks::energising,
       .source = "Kirchhoff's laws; half the hourly rate: common practice, no source"},
      {.id = "strings-resistance",
       .codes = "E08",
       .title = "difference of resistance between strings",
       .between = {"pack"},
       .needs = {"pack.string_resistance_difference"},
       .options = {"pack.strings"},
       .applies = [](const In& in) { return in[1] > 1; },
       .judge = [](const In& in) { return at_most(in[0], 0.15).kept_to(0.10); },
       .kind = Kind::share,
       .fits = "The strings differ by {have} in resistance: they will share the current.",
       .tight = "The strings differ by {have} in resistance; the better one works "
                "harder and ages first.",
       .clash = "The strings differ by {have} in resistance: more than {limit}, and the "
                "better one carries too much. Sort the units anew.",
       .ignoring = {"One string is overrun and drags the other down.", 200, 1500, 6},
       .blocks = Blocks::energising},
      {.id = "strings-fused",
       .codes = "E08",
       .title = "a fuse in each string",
       .between = {"pack"},
       .needs = {"pack.string_fuses"},
       .options = {"pack.strings"},
       .applies = [](const In& in) { return in[1] > 1; },
       .judge = [](const In& in) { return must(in.yes(0)); },
       .fits = "Each of the {1} strings has its own fuse.",
       .clash = "The {1} strings have no fuses of their own: when a cell in one fails, all the "
                "others feed the fault and nothing opens.",
       .can_hurt = true,
       .ignoring = {"A failing cell is fed by the whole rest of the pack: fire.", 200, 5000, 10},
       .levers = {"pack.string_fuses=yes"},
       .blocks = Blocks::energising,
       .never = "tight",
       .never_why = "a string has a fuse or it has none"},
      {.id = "plugs-exclusive",
       .codes = "E09",
       .title = "pack plugs that cannot be mated the wrong way",
       .between = {"pack"},
       .needs = {"pack.plugs_keyed"},
       .options = {"pack.strings", "pack.boxes", "pack.mid_disconnect"},
       .applies = [](const In& in) { return in[1] > 1 || in[2] > 1 || in.yes(3); },
       .judge = [](const In& in) { return must(in.yes(0)); },
       .fits = "The pack's plugs cannot be mated in the wrong order.",
       .clash = "The pack's plugs can be mated in the wrong order: one wrong pair is a dead short "
                "through whatever hangs on it. Key them, or put both halves in one shell.",
       .can_hurt = true,
       .ignoring = {"A dead short in the hand; monitor or charger boards lost.", 100, 1500, 4},
       .levers = {"pack.plugs_keyed=yes"},
       .blocks = Blocks::energising,
       .never = "tight",
       .never_why = "the plugs exclude the mistake or they do not"},
  };
}

}  // namespace

std::vector<Fact> battery_facts() {
  return {
      {.id = "cell_voltage_full",
       .label = "full voltage of one cell",
       .kind = Kind::voltage,
       .needs = {"cell.voltage_max"},
       .options = {"cell.series_inside"},
       .compute = [](const In& in) { return in[0] / in.or_else(1, 1); },
       .formula = "full voltage of a unit / cells in series inside it"},
      {.id = "cell_voltage_empty",
       .label = "empty voltage of one cell",
       .kind = Kind::voltage,
       .needs = {"cell.voltage_min"},
       .options = {"cell.series_inside"},
       .compute = [](const In& in) { return in[0] / in.or_else(1, 1); },
       .formula = "empty voltage of a unit / cells in series inside it"},
      {.id = "cells_resistance",
       .label = "resistance of the cells alone",
       .kind = Kind::resistance,
       .needs = {"pack.series", "pack.parallel", "cell.resistance"},
       .compute = [](const In& in) { return in[0] * in[2] / in[1]; },
       .formula = "series x unit resistance / parallel"},
      {.id = "unit_current_lasting",
       .label = "lasting current of one unit",
       .kind = Kind::current,
       .needs = {"fact.battery_current_lasting", "pack.parallel"},
       .compute = [](const In& in) { return in[0] / in[1]; },
       .formula = "lasting battery current / parallel"},
      {.id = "unit_current_peak",
       .label = "largest current of one unit",
       .kind = Kind::current,
       .needs = {"fact.battery_current_peak", "pack.parallel"},
       .compute = [](const In& in) { return in[0] / in[1]; },
       .formula = "largest battery current / parallel"},
      {.id = "unit_current_regen",
       .label = "braking current into one unit",
       .kind = Kind::current,
       .needs = {"limits.regen_current", "pack.parallel"},
       .compute = [](const In& in) { return in[0] / in[1]; },
       .formula = "battery current while braking / parallel"},
      {.id = "unit_current_charge",
       .label = "charge current of one unit",
       .kind = Kind::current,
       .needs = {"charger.current", "pack.parallel"},
       .compute = [](const In& in) { return in[0] / in[1]; },
       .formula = "charger's output current / parallel"},
      {.id = "regen_on",
       .label = "braking by motor is, or may be, switched on",
       .kind = Kind::ratio,
       .needs = {},
       .options = {"limits.regen", "limits.regen_current", "controller.regen"},
       .compute =
           [](const In& in) {
             if (in.has(0)) return in.yes(0) ? 1.0 : 0.0;
             return in[1] > 0 || (in.yes(2) && !in.has(1)) ? 1.0 : 0.0;
           },
       .formula = "as set; where nothing is set, whether the controller can"},
      {.id = "charge_voltage_wanted",
       .label = "voltage the builder wants to charge to, not a meter's reading",
       .kind = Kind::voltage,
       .needs = {},
       .options = {"limits.charge_voltage"},
       .from_build =
           [](const Build& b) {
             const auto& set = b.limits.charge_voltage;
             return set.evidence == figure::Evidence::measured ? nan : set.value;
           },
       .formula = "the setting on the sheet; one that was measured is what the charger does"},
      {.id = "charge_voltage",
       .label = "end of charge",
       .kind = Kind::voltage,
       .needs = {},
       .options = {"limits.charge_voltage", "charger.voltage"},
       .compute = [](const In& in) { return in.or_else(0, in[1]); },
       .formula = "as set; else the charger's end voltage"},
      {.id = "charger_power",
       .label = "charger's output at the end of charge",
       .kind = Kind::power,
       .needs = {"charger.current", "fact.charge_voltage"},
       .compute = [](const In& in) { return in[0] * in[1]; },
       .formula = "output current x end voltage"},
      {.id = "regen_voltage",
       .label = "voltage at the controller while braking, pack full",
       .kind = Kind::voltage,
       .needs = {"limits.regen_current", "fact.loop_resistance", "fact.pack_voltage_full"},
       .options = {"fact.charge_voltage", "limits.regen_voltage_max"},
       .compute =
           [](const In& in) { return braked_voltage(in.or_else(3, in[2]), in[0] * in[1], in[4]); },
       .formula = "end of charge + braking current x resistance of the whole loop; not beyond "
                  "where braking fades"},
      {.id = "regen_cell_voltage",
       .label = "voltage of one cell while braking, pack full",
       .kind = Kind::voltage,
       .needs = {"limits.regen_current", "fact.cells_resistance", "fact.pack_voltage_full",
                 "fact.cells_in_series"},
       .options = {"fact.charge_voltage", "limits.regen_voltage_max"},
       .compute =
           [](const In& in) {
             return braked_voltage(in.or_else(4, in[2]), in[0] * in[1], in[5]) / in[3];
           },
       .formula = "(end of charge + braking current x resistance of the cells; not beyond where "
                  "braking fades) / cells in series"},
      {.id = "string_resistance",
       .label = "resistance of one string's cells",
       .kind = Kind::resistance,
       .needs = {"fact.cells_resistance", "pack.strings"},
       .compute = [](const In& in) { return in[0] * in[1]; },
       .formula = "resistance of the cells x strings"},
      {.id = "string_joining_current",
       .label = "current that jumps between two strings when joined",
       .kind = Kind::current,
       .needs = {"pack.string_voltage_difference", "fact.string_resistance"},
       .compute =
           [](const In& in) {
             return model::shared_current<double>(
                        {.first = {.emf_V = in[0], .resistance_ohm = in[1]},
                         .second = {.emf_V = 0, .resistance_ohm = in[1]}},
                        0)
                 .first_A;
           },
       .formula =
           "voltage difference / (2 x resistance of a string); links left out, so it reads high"},
      {.id = "string_half_rate",
       .label = "current that would fill one string in two hours",
       .kind = Kind::current,
       .needs = {"fact.pack_capacity", "pack.strings"},
       .compute = [](const In& in) { return in[0] / in[1] / (2 * hour); },
       .formula = "capacity of a string / 2 h"},
      {.id = "pack_heat_rise",
       .label = "warming of the cells on the longest ride, nothing carried away",
       .kind = Kind::temperature_rise,
       .needs = {"fact.battery_current_lasting", "fact.cells_resistance", "fact.cells_mass",
                 "wishes.ride_distance", "wishes.hold_speed"},
       .compute =
           [](const In& in) {
             return in[0] * in[0] * in[1] * (in[3] / in[4]) /
                    (in[2] * cell_heat_capacity_J_per_kgK);
           },
       .formula = "lasting current squared x resistance of the cells x (distance / speed) / (mass "
                  "of the cells x 1000 J/(kg K))"},
      {.id = "cells_mass",
       .label = "mass of the cells",
       .kind = Kind::mass,
       .needs = {"pack.series", "pack.parallel", "cell.mass"},
       .compute = [](const In& in) { return in[0] * in[1] * in[2]; },
       .formula = "series x parallel x mass of a unit"},
      {.id = "cell_growth",
       .label = "growth of one flat cell over its life",
       .kind = Kind::length,
       .needs = {"cell.growth", "cell.width"},
       .compute = [](const In& in) { return in[0] * in[1]; },
       .formula = "growth x thickness"},
      {.id = "busbar_area",
       .label = "section of a bar",
       .kind = Kind::area,
       .needs = {"pack.busbar_width", "pack.busbar_thickness"},
       .compute = [](const In& in) { return in[0] * in[1]; },
       .formula = "width x thickness"},
      {.id = "busbar_area_as_copper",
       .label = "section of copper that carries as much as a bar",
       .kind = Kind::area,
       .needs = {"fact.busbar_area", "pack.busbar_metal"},
       .compute =
           [](const In& in) {
             return in[0] / (in.is(1, build::BusbarMetal::aluminium) ? 1.62 : 1.0);
           },
       .formula = "section of the bar; of aluminium over 1.62"},
      {.id = "busbar_temperature",
       .label = "bars in still air on the hottest day",
       .kind = Kind::temperature,
       .needs = {"pack.busbar_width", "pack.busbar_thickness", "fact.battery_current_lasting",
                 "surroundings.hottest"},
       .options = {"pack.busbar_metal"},
       .compute =
           [](const In& in) {
             return model::busbar_temperature_K<double>(
                 bar_of(in, 4), {.temperature_K = in[3], .speed_mps = 0}, in[2]);
           },
       .formula = "where heat made in the bar equals heat given to still air and walls"},
      {.id = "controller_cut",
       .label = "voltage where the controller stops",
       .kind = Kind::voltage,
       .needs = {},
       .options = {"limits.hard_cut", "limits.soft_cut"},
       .compute = [](const In& in) { return in.or_else(0, in[1]); },
       .formula = "where it stops; else where it starts to reduce"},
      {.id = "bms_trip",
       .label = "current at which the cell monitor opens",
       .kind = Kind::current,
       .needs = {},
       .options = {"limits.bms_trip", "bms.current_trip"},
       .compute = smaller_known,
       .formula = "the smaller of what is set and what the part trips at"},
      {.id = "regen_spike_guard",
       .label = "something lowers the voltage if the cell monitor opens while braking",
       .kind = Kind::ratio,
       .needs = {},
       .options = {"bms.warns_controller", "controller.regen_fold_back"},
       .compute = either,
       .formula = "the monitor warns the controller, or the controller reduces braking by itself"},
      {.id = "monitor_reference_right",
       .label = "the cell monitor's output meets the other side on purpose",
       .kind = Kind::ratio,
       .needs = {},
       .options = {"bms.output_isolated", "wiring.common_reference_checked"},
       .compute = either,
       .formula = "output isolated, or the common point checked"},
      {.id = "charge_stop",
       .label =
           "what stops the charger when one cell is full (0 nothing, 1 an alarm, 2 the monitor)",
       .kind = Kind::ratio,
       .needs = {},
       .options = {"bms.type", "charger.enable_input"},
       .compute =
           [](const In& in) {
             if (in.is(0, build::BmsType::fet_board)) return 2.0;
             if (!in.has(0) || !in.has(1)) return nan;
             if (!in.yes(1)) return 0.0;
             return in.is(0, build::BmsType::monitor) ? 2.0 : 1.0;
           },
       .formula = "a power board opens the path itself; a monitor or an alarm needs a charger that "
                  "can be stopped by a wire"},
      {.id = "probes_read",
       .label = "temperature probes that are fitted and read",
       .kind = Kind::ratio,
       .needs = {},
       .options = {"pack.probes", "bms.probes"},
       .compute = smaller_known,
       .formula = "the smaller of what is fitted and what the monitor reads"},
      {.id = "drain_at_rest",
       .label = "current drawn from the pack at rest",
       .kind = Kind::current,
       .needs = {},
       .options = {"wiring.key_off_current", "bms.drain"},
       .compute = [](const In& in) { return in.or_else(0, in[1]); },
       .formula = "as measured with the key off; else what the cell monitor alone draws"},
      {.id = "drain_share",
       .label = "share of the capacity drained over the longest rest",
       .kind = Kind::share,
       .needs = {"fact.drain_at_rest", "surroundings.storage_time", "fact.pack_capacity"},
       .compute = [](const In& in) { return in[0] * in[1] / in[2]; },
       .formula = "current at rest x time unused / capacity"},
      {.id = "balance_time",
       .label = "time the cell monitor takes to even the groups out",
       .kind = Kind::time,
       .needs = {"pack.capacity_imbalance", "bms.balance_current"},
       .compute = [](const In& in) { return in[0] / in[1]; },
       .formula = "difference of charge / balance current"},
      {.id = "board_heat",
       .label = "heat in the cell monitor's switches",
       .kind = Kind::power,
       .needs = {"fact.battery_current_lasting", "bms.resistance"},
       .compute = [](const In& in) { return in[0] * in[0] * in[1]; },
       .formula = "lasting current squared x resistance of the switches"},
      {.id = "units_in_pack",
       .label = "units in the pack",
       .kind = Kind::ratio,
       .needs = {"pack.series", "pack.parallel"},
       .compute = [](const In& in) { return in[0] * in[1]; },
       .formula = "series x parallel"},
  };
}

std::vector<Rule> battery_rules() {
  std::vector<Rule> all;
  for (auto* part :
       {&pack_and_controller_rules, &cell_current_rules, &pack_charger_rules, &pack_heat_rules,
        &pack_build_rules, &cell_monitor_rules, &cell_purchase_rules}) {
    for (Rule& rule : part()) all.push_back(std::move(rule));
  }
  return all;
}

}  // namespace ww::fit
