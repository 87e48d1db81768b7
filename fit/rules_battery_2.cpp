// SPDX-License-Identifier: MIT
// The cell monitor against pack, controller and charger; the display that tells the charge; and the
// buying of cells. The facts these rules read stand in rules_battery.cpp.
#include <algorithm>

#include "fit/rule_terms.h"
#include "fit/rules_battery.h"
#include "model/chemistry.h"

namespace ww::fit {

namespace {

using build::BmsPort;
using build::BmsType;
using build::State;
using figure::Kind;
using model::Chemistry;

/// The lowest a cell of this chemistry may ever have, or what its own sheet allows below that.
double lowest_cell_V(double chemistry, double sheet_V) {
  const auto limits =
      model::cell_limits(static_cast<Chemistry>(static_cast<unsigned char>(chemistry)));
  return std::min(limits.absolute_min_V, sheet_V);
}

bool not_bought(const In& in, int state) {
  return !in.is(state, State::ordered) && !in.is(state, State::here);
}

std::vector<Rule> monitor_and_cells_rules() {
  return {
      {.id = "missing-cell-monitor",
       .codes = "",
       .title = "a cell monitor that acts, on the parts list",
       .between = {"pack"},
       .needs = {"fact.has_bms"},
       .options = {"cell.chemistry", "bms.type"},
       .applies = [](const In& in) { return !in.is(1, Chemistry::lead); },
       .judge = [](const In& in) { return must(in[0] > 0 && !in.is(2, BmsType::alarm_only)); },
       .fits = "A cell monitor is on the list.",
       .clash = "No cell monitor is on the list that opens anything (an alarm alone does not): the "
                "pack's voltage hides the one cell that is overcharged or emptied, and that cell "
                "burns or dies.",
       .can_hurt = true,
       .ignoring = {"One cell overcharged: fire. One emptied: a dead group.", 80, 5000, 4},
       .levers = {"+bms"},
       .blocks = Blocks::energising,
       .never = "tight,unmeasured",
       .never_why = "a part is on the list or it is not"},
      {.id = "monitor-series-count",
       .codes = "E11",
       .title = "cells in series against what the cell monitor counts",
       .between = {"pack", "bms"},
       .needs = {"fact.cells_in_series", "bms.series_min", "bms.series_max"},
       .judge = [](const In& in) { return must(in[0] >= in[1] && in[0] <= in[2]); },
       .fits = "{0} cells in series; the monitor takes {1} to {2}. Set it to exactly {0}: there is "
               "one sense wire more than cells.",
       .clash = "{0} cells in series, but the monitor takes {1} to {2}. A wrong count leaves cells "
                "unwatched or kills the board when it is plugged in.",
       .can_hurt = true,
       .ignoring = {"A dead board, or cells that nobody watches.", 80, 500, 4},
       .levers = {"bms", "pack.series"},
       .blocks = Blocks::buying,
       .never = "tight",
       .never_why = "the count is inside its range or outside"},
      {.id = "monitor-chemistry",
       .codes = "E12",
       .title = "cell chemistry against the cell monitor's",
       .between = {"cell", "bms"},
       .needs = {"bms.chemistries", "cell.chemistry"},
       .options = {"bms.adjustable"},
       .judge =
           [](const In& in) {
             if (in.holds(0, static_cast<int>(in[1]))) return judged(Verdict::fits);
             return judged(in.yes(2) ? Verdict::tight : Verdict::clash);
           },
       .fits = "The monitor is made for {1}.",
       .tight = "The monitor is made for {0}, not {1}; its limits can be set. Set each of them, "
                "and check with a meter that it opens where you set it.",
       .clash = "The monitor is made for {0}; the cells are {1}. It opens at the wrong voltages: "
                "cells overcharged, or never full.",
       .can_hurt = true,
       .ignoring = {"Overcharged cells burn; or half the capacity is never used.", 80, 5000, 4},
       .levers = {"bms", "bms.adjustable=yes"},
       .blocks = Blocks::buying},
      {.id = "monitor-over-limit",
       .codes = "E12",
       .title = "voltage above which the monitor opens against the full cell",
       .between = {"cell", "bms"},
       .needs = {"limits.bms_cell_max", "fact.cell_voltage_full"},
       .judge =
           [](const In& in) {
             return at_most(in[0], battery_hair * (in[1] + 0.05)).kept_to(battery_hair * in[1]);
           },
       .kind = Kind::voltage,
       .fits = "The monitor opens when a cell has more than {have}; it is full at {1}.",
       .tight = "The monitor opens when a cell has more than {have}, a little above its full {1}. "
                "Charge to less, so that it never gets there.",
       .clash = "The monitor opens only above {have}, but a cell is full at {1}: it guards "
                "nothing. Overcharged cells burn.",
       .can_hurt = true,
       .ignoring = {"A drifting cell is overcharged at every charge: fire.", 0, 50000, 1},
       .levers = {"limits.bms_cell_max"},
       .blocks = Blocks::energising},
      {.id = "monitor-under-limit",
       .codes = "E12",
       .title = "voltage below which the monitor opens against the empty cell",
       .between = {"cell", "bms"},
       .needs = {"limits.bms_cell_min", "fact.cell_voltage_empty", "cell.chemistry"},
       .judge =
           [](const In& in) {
             return at_least(battery_hair * in[0], lowest_cell_V(in[2], in[1])).kept_to(in[1]);
           },
       .kind = Kind::voltage,
       .fits = "The monitor opens when a cell has less than {0}; it is empty at {1}.",
       .tight = "The monitor opens when a cell has less than {0}, below its empty {1}: let the "
                "controller stop earlier.",
       .clash = "The monitor opens only below {0}; {2} cells must never have less than {limit}. A "
                "cell emptied so far may short inside when it is charged again.",
       .can_hurt = true,
       .ignoring = {"A group emptied too far is lost, and dangerous to charge.", 50, 1500, 4},
       .levers = {"limits.bms_cell_min"},
       .blocks = Blocks::energising,
       .source = "class limits from memory of data sheets; the cell's own sheet wins"},
      {.id = "monitor-above-charger",
       .codes = "E12,E16",
       .title = "end of charge against the voltage where the monitor opens",
       .between = {"pack", "charger", "bms"},
       .needs = {"fact.charge_voltage", "limits.bms_cell_max", "fact.cells_in_series"},
       .judge =
           [](const In& in) {
             return at_most(in[0], in[2] * in[1]).kept_to(in[2] * (in[1] - 0.02) * battery_hair);
           },
       .kind = Kind::voltage,
       .fits = "The charger ends at {have}; all cells together may have {limit} before the monitor "
               "opens.",
       .tight = "The charger ends at {have}, less than 20 mV a cell below the {limit} at which the "
                "monitor opens: one cell ahead ends every charge early.",
       .clash = "The charger ends at {have}, but the monitor opens at {limit}: the charge always "
                "ends by an emergency stop, and the cells are never evened out.",
       .ignoring = {"Never full, never evened out; groups drift apart.", 0, 500, 2},
       .levers = {"limits.charge_voltage", "limits.bms_cell_max"},
       .blocks = Blocks::nothing},
      {.id = "monitor-switch-voltage",
       .codes = "E19",
       .title = "full pack against what the monitor's switches stand",
       .between = {"pack", "cell", "bms"},
       .needs = {"fact.pack_voltage_full", "bms.voltage_max"},
       .judge = [](const In& in) { return at_least(in[1], in[0]).kept_to(1.25 * in[0]); },
       .kind = Kind::voltage,
       .fits = "The monitor stands {have}; the full pack has {limit}.",
       .tight = "The monitor stands {have}; a quarter over the full pack's {limit} is usual, "
                "because every opening under current makes a spike.",
       .clash = "The monitor stands only {have}; the full pack has {limit}.",
       .can_hurt = true,
       .ignoring = {"Its switches break down and stay closed: no protection, and nobody notices.",
                    80, 500, 4},
       .levers = {"bms"},
       .blocks = Blocks::buying},
      {.id = "balance-time",
       .codes = "E20",
       .title = "time to even the groups out",
       .between = {"pack", "bms"},
       .needs = {"pack.capacity_imbalance", "bms.balance_current", "fact.balance_time"},
       .judge = [](const In& in) { return at_most(in[2], 168 * hour).kept_to(24 * hour); },
       .kind = Kind::time,
       .fits = "A difference of {0} is evened out at {1} in {have}.",
       .tight = "A difference of {0} at {1} takes {have} on the charger: more than a night. Even "
                "the groups out by hand before you build the pack.",
       .clash = "A difference of {0} at {1} takes more than a week on the charger: it never "
                "catches up. Even the groups out by hand, or take a monitor that balances harder.",
       .ignoring = {"The weakest group ends every ride: capacity that was paid for stays unused.",
                    50, 800, 3},
       .levers = {"bms", "pack.capacity_imbalance"},
       .blocks = Blocks::nothing,
       .source = "charge over current; common practice, no source"},
      {.id = "storage-drain",
       .codes = "E21",
       .title = "what is drained over the longest rest",
       .between = {"pack"},
       .needs = {"fact.drain_share"},
       .options = {"fact.drain_at_rest", "surroundings.storage_time"},
       .judge = [](const In& in) { return at_most(in[0], 0.5).kept_to(0.1); },
       .kind = Kind::share,
       .fits = "At rest {1} is drawn; over {2} that is {have} of the capacity.",
       .tight = "At rest {1} is drawn; over {2} that is {have} of the capacity. Pull "
                "the service link for the winter, look in every month.",
       .clash = "At rest {1} is drawn; over {2} that is {have} of the capacity: a pack "
                "stored half full, as it should be, is dead in spring.",
       .ignoring = {"A dead pack in spring.", 500, 4000, 10},
       .levers = {"bms", "wiring.key_off_current", "surroundings.storage_time"},
       .blocks = Blocks::nothing,
       .on_assumptions = true},
      {.id = "probes-placed",
       .codes = "E22,T10",
       .title = "temperature probes in the pack",
       .between = {"pack", "bms"},
       .needs = {"fact.probes_read", "pack.boxes"},
       .judge = [](const In& in) { return at_least(in[0], in[1]).kept_to(in[1] + 1); },
       .kind = Kind::ratio,
       .fits =
           "{have} probes for {1} boxes: one in each, one more at the hottest cell or terminal.",
       .tight = "{have} probes for {1} boxes: one in each, but none to spare for the hottest cell "
                "or terminal.",
       .clash = "{have} probes for {1} boxes: a box without one can burn unseen.",
       .can_hurt = true,
       .ignoring = {"Heat in one place is seen only when it smells.", 20, 2500, 2},
       .levers = {"pack.probes", "bms"},
       .blocks = Blocks::energising},
      {.id = "taps-checked",
       .codes = "E18",
       .title = "sense taps measured in order before the plug goes in",
       .between = {"pack", "bms"},
       .needs = {"wiring.taps_checked"},
       .judge = [](const In& in) { return must(in.yes(0)); },
       .fits = "Every sense tap was measured in order: each step up by one cell, sign included.",
       .clash = "The sense taps were not measured. Do it before the plug goes in: meter from the "
                "most negative, each tap up by one cell, sign included. One swapped wire kills the "
                "board. The taps are live: cover what you do not measure.",
       .can_hurt = true,
       .ignoring = {"A destroyed board at the moment it is plugged in, perhaps with fire.", 80, 500,
                    4},
       .levers = {"wiring.taps_checked=yes"},
       .blocks = Blocks::energising,
       .never = "tight",
       .never_why = "all taps were measured or not all"},
  };
}

std::vector<Rule> monitor_and_current_rules() {
  return {
      {.id = "monitor-current-continuous",
       .codes = "E13",
       .title = "lasting current against the power board's rating",
       .between = {"pack", "bms"},
       .needs = {"fact.battery_current_lasting", "bms.current_continuous"},
       .options = {"bms.type"},
       .applies = [](const In& in) { return !in.has(2) || in.is(2, BmsType::fet_board); },
       .judge = [](const In& in) { return at_least(in[1], in[0]).kept_to(1.2 * in[0]); },
       .kind = Kind::current,
       .fits = "Riding draws {limit} for long; the board is rated {have}.",
       .tight = "Riding draws {limit} for long; the board is rated {have}, less than {practice}, "
                "and its rating assumes a cold plate you may not have.",
       .clash = "Riding draws {limit} for long; the board is rated only {have}. It gets hot until "
                "it trips or unsolders itself.",
       .can_hurt = true,
       .ignoring = {"It cuts out on a long hill, or burns.", 110, 700, 4},
       .levers = {"bms", "limits.battery_current"},
       .blocks = Blocks::buying},
      {.id = "monitor-full-throttle",
       .codes = "E14",
       .title = "full battery current against the power board's rating",
       .between = {"pack", "bms"},
       .needs = {"fact.battery_current_peak", "bms.current_continuous"},
       .options = {"bms.type"},
       .applies = [](const In& in) { return !in.has(2) || in.is(2, BmsType::fet_board); },
       .judge =
           [](const In& in) { return at_most(in[0], 1.25 * in[1]).kept_to(battery_hair * in[1]); },
       .kind = Kind::current,
       .fits = "Full throttle draws {have}; the board carries {1} continuously.",
       .tight =
           "Full throttle draws {have}, more than the board's continuous {1}: short pulls only.",
       .clash = "Full throttle draws {have}; the board carries {1} continuously. Set the "
                "controller lower, take a larger board, or a monitor that commands a contactor.",
       .can_hurt = true,
       .ignoring = {"The bike dies on full throttle, or the board burns on a long pull.", 110, 700,
                    4},
       .levers = {"limits.battery_current", "bms"},
       .blocks = Blocks::buying},
      {.id = "monitor-trip-current",
       .codes = "E14,E16",
       .title = "full battery current against the current where the monitor opens",
       .between = {"pack", "bms"},
       .needs = {"fact.battery_current_peak", "fact.bms_trip"},
       .options = {"bms.type"},
       .applies = [](const In& in) { return !in.is(2, BmsType::alarm_only); },
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(0.95 * in[1]); },
       .kind = Kind::current,
       .fits = "The drive takes {have} at most; the monitor opens above {limit}.",
       .tight = "The drive takes {have} at most; the monitor opens above {limit}. Keep the "
                "controller a twentieth below, so that it gives way first.",
       .clash = "The drive takes up to {have}, but the monitor opens above {limit}: the bike goes "
                "dead at full throttle.",
       .can_hurt = true,
       .ignoring = {"The bike goes dead while you overtake.", 0, 500, 2},
       .levers = {"limits.battery_current", "limits.bms_trip", "bms"},
       .blocks = Blocks::riding},
      {.id = "monitor-port-for-braking",
       .codes = "E15",
       .title = "which path of the power board carries the braking current",
       .between = {"pack", "bms"},
       .needs = {"bms.port"},
       .options = {"bms.type", "fact.regen_on"},
       .applies =
           [](const In& in) { return in[2] > 0 && (!in.has(1) || in.is(1, BmsType::fet_board)); },
       .judge = [](const In& in) { return must(in.is(0, BmsPort::common)); },
       .fits = "Charge and discharge share one port: braking current passes the charge switches.",
       .clash = "The board has a separate charge port: braking current flows backwards through the "
                "discharge port, where nothing stops it when a cell is full. Take a board with a "
                "common port, or switch braking by motor off.",
       .can_hurt = true,
       .ignoring = {"Braking overcharges a full pack past the monitor.", 80, 1500, 4},
       .levers = {"bms", "limits.regen=no"},
       .blocks = Blocks::riding,
       .never = "tight",
       .never_why = "one port or two"},
      {.id = "monitor-braking-current",
       .codes = "E15",
       .title = "braking current against the power board's charge path",
       .between = {"pack", "bms"},
       .needs = {"limits.regen_current", "bms.current_charge"},
       .options = {"bms.type", "fact.regen_on"},
       .applies =
           [](const In& in) { return in[3] > 0 && (!in.has(2) || in.is(2, BmsType::fet_board)); },
       .judge = [](const In& in) { return at_most(in[0], in[1]); },
       .kind = Kind::current,
       .fits = "Braking sends back {have}; the board's charge path carries {limit}.",
       .tight = "Braking sends back {have}; the board's charge path carries {limit}, and the "
                "spread of the figures reaches beyond.",
       .clash = "Braking sends back {have}; the board's charge path carries only {limit}.",
       .can_hurt = true,
       .ignoring = {"Burnt charge switches: no charge, or no protection.", 80, 500, 4},
       .levers = {"limits.regen_current", "bms", "limits.regen=no"},
       .blocks = Blocks::riding},
      {.id = "charger-current-at-monitor",
       .codes = "E25",
       .title = "charger's current against the power board's charge path",
       .between = {"charger", "bms"},
       .needs = {"charger.current", "bms.current_charge"},
       .options = {"bms.type"},
       .applies = [](const In& in) { return !in.has(2) || in.is(2, BmsType::fet_board); },
       .judge = [](const In& in) { return at_most(in[0], in[1]); },
       .kind = Kind::current,
       .fits = "The charger gives {have}; the board's charge path carries {limit}.",
       .tight = "The charger gives {have}; the board's charge path carries {limit}, and the spread "
                "of the figures reaches beyond.",
       .clash = "The charger gives {have}; the board's charge path carries only {limit}.",
       .can_hurt = true,
       .ignoring = {"The board trips at every charge or burns.", 80, 500, 4},
       .levers = {"charger", "bms"},
       .blocks = Blocks::buying},
      {.id = "fade-before-cut-low",
       .codes = "E16",
       .title = "controller's stop against the monitor's, pack empty",
       .between = {"pack", "bms"},
       .needs = {"fact.controller_cut", "limits.bms_cell_min", "fact.cells_in_series"},
       .options = {"bms.type"},
       .applies = [](const In& in) { return !in.is(3, BmsType::alarm_only); },
       .judge =
           [](const In& in) {
             return at_least(battery_hair * in[0], in[1] * in[2]).kept_to(1.03 * in[1] * in[2]);
           },
       .kind = Kind::voltage,
       .fits = "The controller stops at {0}; the monitor opens at {limit} in all: the ride fades "
               "before it ends.",
       .tight = "The controller stops at {0}; the monitor opens at {limit} in all. With one weaker "
                "cell the monitor comes first: keep 3 to 5 % between them.",
       .clash = "The monitor opens at {limit} in all, before the controller gives way at {0}: the "
                "bike stops dead on the road.",
       .can_hurt = true,
       .ignoring = {"A dead stop in traffic instead of fading power.", 0, 300, 1},
       .levers = {"limits.hard_cut", "limits.bms_cell_min"},
       .blocks = Blocks::riding},
      {.id = "fade-before-cut-high",
       .codes = "E16",
       .title = "where braking fades against where the monitor opens, pack full",
       .between = {"pack", "bms"},
       .needs = {"limits.regen_voltage_max", "limits.bms_cell_max", "fact.cells_in_series"},
       .options = {"bms.type", "fact.regen_on"},
       .applies = [](const In& in) { return in[4] > 0 && !in.is(3, BmsType::alarm_only); },
       .judge =
           [](const In& in) {
             return at_most(in[0], battery_hair * in[1] * in[2]).kept_to(0.97 * in[1] * in[2]);
           },
       .kind = Kind::voltage,
       .fits = "Braking by motor fades above {have}; the monitor opens at {limit} in all.",
       .tight = "Braking by motor fades above {have}; the monitor opens at {limit} in all. With "
                "one fuller cell the monitor comes first: keep 3 to 5 % between them.",
       .clash = "The monitor opens at {limit} in all, before the braking fades at {have}: it is "
                "gone at once, with a voltage spike at the controller.",
       .can_hurt = true,
       .ignoring = {"Braking is gone in an instant; the controller may die of the spike.", 0, 1500,
                    3},
       .levers = {"limits.regen_voltage_max", "limits.bms_cell_max"},
       .blocks = Blocks::riding},
      {.id = "monitor-opens-while-braking",
       .codes = "E17",
       .title = "what happens if the monitor opens while the motor brakes",
       .between = {"pack", "bms", "controller"},
       .needs = {"fact.regen_spike_guard"},
       .options = {"bms.type", "fact.regen_on"},
       .applies = [](const In& in) { return in[2] > 0 && !in.is(1, BmsType::alarm_only); },
       .judge = [](const In& in) { return must(in[0] > 0); },
       .fits = "The monitor warns the controller before it opens, or the controller reduces its "
               "braking by itself when the voltage climbs.",
       .clash = "If the monitor opens while the motor brakes, nothing tells the controller: the "
                "braking current has nowhere to go and the voltage climbs until something breaks. "
                "Let the monitor's output cut the braking first, or switch braking by motor off.",
       .can_hurt = true,
       .ignoring = {"A dead controller on the first long descent.", 300, 1500, 5},
       .levers = {"limits.regen=no", "bms", "controller"},
       .blocks = Blocks::riding,
       .never = "tight",
       .never_why = "there is a guard or there is none"},
      {.id = "monitor-board-heat",
       .codes = "T06",
       .title = "heat in the power board",
       .between = {"pack", "bms"},
       .needs = {"fact.board_heat"},
       .options = {"bms.type"},
       .applies = [](const In& in) { return !in.has(1) || in.is(1, BmsType::fet_board); },
       .judge = [](const In& in) { return at_most(in[0], 60).kept_to(15); },
       .kind = Kind::power,
       .fits = "Riding heats the board's switches with {have}: it can shed that.",
       .tight = "Riding heats the board's switches with {have}: bolt its plate to the metal of the "
                "box, with paste.",
       .clash = "Riding heats the board's switches with {have}: no box sheds that. Take a board of "
                "lower resistance, or a monitor that commands a contactor.",
       .can_hurt = true,
       .ignoring = {"It cuts out on long hills in summer.", 0, 500, 3},
       .levers = {"bms"},
       .blocks = Blocks::nothing,
       .on_assumptions = true},
      {.id = "monitor-output-suits",
       .codes = "E23",
       .title = "monitor's output against what it switches",
       .between = {"bms"},
       .needs = {"bms.output"},
       .options = {"bms.type"},
       .applies = [](const In& in) { return in.is(1, BmsType::monitor); },
       .judge = [](const In& in) { return must(in.yes(0)); },
       .fits = "The monitor's output suits what it switches: level, current and polarity.",
       .clash = "The monitor's output does not suit what it switches: it can neither open the "
                "contactor nor stop the charger. Compare both pin tables: open drain or 12 V, "
                "milliamps, polarity; or put a relay between.",
       .can_hurt = true,
       .ignoring = {"The monitor sees the fault and can do nothing.", 20, 5000, 3},
       .levers = {"bms", "bms.output=yes"},
       .blocks = Blocks::energising,
       .never = "tight",
       .never_why = "it can switch it or it cannot"},
      {.id = "monitor-reference",
       .codes = "E23",
       .title = "monitor's output and the ground of what it switches",
       .between = {"pack", "bms"},
       .needs = {"fact.monitor_reference_right"},
       .options = {"bms.type"},
       .applies = [](const In& in) { return in.is(1, BmsType::monitor); },
       .judge = [](const In& in) { return must(in[0] > 0); },
       .fits = "The monitor's output is isolated, or shares one ground on purpose.",
       .clash = "The monitor's output hangs on the pack's minus while what it switches hangs on "
                "the frame: pack current finds its way through a signal wire. Isolate it with a "
                "relay or an optocoupler.",
       .can_hurt = true,
       .ignoring = {"A burnt signal wire across the pack; a live frame.", 50, 1500, 3},
       .levers = {"bms", "wiring.common_reference_checked=yes"},
       .blocks = Blocks::energising,
       .never = "tight",
       .never_why = "it is apart or it is not"},
      {.id = "charge-stop",
       .codes = "E23,T09",
       .title = "what stops the charger when one cell is full or too cold",
       .between = {"bms", "charger"},
       .needs = {"fact.charge_stop"},
       .judge =
           [](const In& in) {
             return judged(in[0] > 1 ? Verdict::fits
                                     : (in[0] > 0 ? Verdict::tight : Verdict::clash));
           },
       .fits = "The monitor itself stops the charge when one cell is full or too cold. Try it "
               "once, attended.",
       .tight = "Only an alarm's contact stops the charger: see that it does so for each cell, and "
                "never charge unattended.",
       .clash = "Nothing stops the charger when one cell is full or too cold: it sees only the "
                "sum. Take a charger with an enable wire, or a board that opens the charge path.",
       .can_hurt = true,
       .ignoring = {"One cell overcharged behind a correct total: fire.", 50, 50000, 4},
       .levers = {"charger", "bms"},
       .blocks = Blocks::energising},
  };
}

}  // namespace

std::vector<Rule> cell_monitor_rules() {
  std::vector<Rule> all = monitor_and_cells_rules();
  for (Rule& rule : monitor_and_current_rules()) all.push_back(std::move(rule));
  return all;
}

std::vector<Rule> cell_purchase_rules() {
  return {
      {.id = "missing-display",
       .codes = "E107",
       .title = "something on the list that tells the charge",
       .between = {"pack"},
       .needs = {"fact.has_display"},
       .options = {"cell.chemistry"},
       .judge =
           [](const In& in) {
             return in[0] > 0 ? judged(Verdict::fits)
                              : judged(in.is(1, Chemistry::lfp) ? Verdict::clash : Verdict::tight);
           },
       .fits = "A display is on the list.",
       .tight = "No display is on the list: only a meter at rest will tell you how far you get.",
       .clash = "No display is on the list, and {1} cells show nearly the same voltage from nine "
                "tenths down to a tenth: only a counter of amp-hours tells you how far you get.",
       .ignoring = {"Stranded.", 30, 150, 1},
       .levers = {"+display"},
       .blocks = Blocks::nothing,
       .never = "unmeasured",
       .never_why = "a part is on the list or it is not"},
      {.id = "charge-counter",
       .codes = "E107",
       .title = "how the charge is told, against the chemistry",
       .between = {"cell", "display"},
       .needs = {"display.counts_charge", "cell.chemistry"},
       .judge =
           [](const In& in) {
             return in.yes(0) ? judged(Verdict::fits)
                              : judged(in.is(1, Chemistry::lfp) ? Verdict::clash : Verdict::tight);
           },
       .fits = "The display counts amp-hours. Set it to full at every full charge.",
       .tight = "The display tells the charge by voltage: with {1} that holds at rest only, not "
                "while you ride.",
       .clash = "The display tells the charge by voltage, but {1} cells show nearly the same "
                "voltage from nine tenths down to a tenth. Take one that counts amp-hours.",
       .ignoring = {"Stranded at '40 %'.", 30, 150, 1},
       .levers = {"display"},
       .blocks = Blocks::nothing},
      {.id = "cells-tested",
       .codes = "",
       .title = "cells tested on arrival",
       .between = {"pack", "cell"},
       .needs = {"cell.tested"},
       .options = {"cell.salvage", "cell.state"},
       .applies =
           [](const In& in) { return !in.is(2, State::thinking) && !in.is(2, State::ordered); },
       .judge =
           [](const In& in) {
             return in.yes(0) ? judged(Verdict::fits)
                              : judged(in.yes(1) ? Verdict::clash : Verdict::tight);
           },
       .fits = "The cells were tested on arrival.",
       .tight = "The cells were not tested. Measure voltage and resistance of each, sign included, "
                "the capacity of one in ten, and let them rest for two weeks: reject what drops 10 "
                "mV more than the rest.",
       .clash = "Used cells, not tested. Measure voltage, resistance and capacity of every one, "
                "look for swelling, water and smell, and let them rest for two weeks: one bad unit "
                "spoils its group and may burn.",
       .can_hurt = true,
       .ignoring = {"One weak cell ends every ride, or fails hot inside a finished pack.", 50, 1500,
                    4},
       .levers = {"cell.tested=yes"},
       .blocks = Blocks::energising},
      {.id = "used-cells-health",
       .codes = "",
       .title = "capacity left in used cells",
       .between = {"pack", "cell"},
       .needs = {"cell.health"},
       .options = {"cell.salvage"},
       .applies = [](const In& in) { return in.yes(1); },
       .judge = [](const In& in) { return at_least(in[0], 0.7).kept_to(0.8); },
       .kind = Kind::share,
       .fits = "The used cells have {have} of their new capacity.",
       .tight = "The used cells have {have} of their new capacity: under {practice} "
                "they fade fast, and their resistance has grown.",
       .clash = "The used cells have {have} of their new capacity: under {limit} they "
                "are at their end for a vehicle.",
       .ignoring = {"A pack that is worn out within a year or two.", 400, 2000, 8},
       .levers = {"cell"},
       .blocks = Blocks::buying},
      {.id = "transport-papers",
       .codes = "L14",
       .title = "transport test summary of the cells",
       .between = {"cell"},
       .needs = {"cell.transport_papers"},
       .options = {"cell.salvage"},
       .judge =
           [](const In& in) {
             return in.yes(0) ? judged(Verdict::fits)
                              : judged(in.yes(1) ? Verdict::tight : Verdict::clash);
           },
       .fits = "The seller gives the transport test summary.",
       .tight = "Used cells without the transport test summary: no carrier may take them. Fetch "
                "them yourself, and leave damaged ones where they are.",
       .clash = "The seller gives no transport test summary: as dangerous goods the parcel is held "
                "or seized, and nobody knows whether these cells ever passed a test.",
       .ignoring = {"Cells held at the border, money gone.", 100, 2000, 8},
       .levers = {"cell", "cell.transport_papers=yes"},
       .blocks = Blocks::buying,
       .source = "UN Manual of Tests and Criteria 38.3, test summary; from memory"},
      {.id = "spare-cells",
       .codes = "O04",
       .title = "spare units from the same lot",
       .between = {"pack", "cell"},
       .needs = {"fact.units_in_pack", "pack.spares"},
       .options = {"cell.salvage"},
       .judge = [](const In& in) { return should(in[1] >= (in.yes(2) ? 0.10 : 0.02) * in[0]); },
       .fits = "{1} spare for {0} units.",
       .tight = "{1} spare for {0} units. Usual are one in fifty of new cells, one in ten of used "
                "modules; a cell of another lot never matches.",
       .ignoring = {"One failed cell stops the bike until a matching one is found.", 20, 400, 8},
       .levers = {"pack.spares"},
       .blocks = Blocks::nothing,
       .never = "clash",
       .never_why = "a pack without spares works until a cell fails"},
      {.id = "cells-after-mock-up",
       .codes = "O01",
       .title = "cells ordered only after the mock-up",
       .between = {"cell"},
       .needs = {"layout.mocked_up"},
       .options = {"cell.state"},
       .applies = [](const In& in) { return not_bought(in, 1); },
       .judge = [](const In& in) { return must(in.yes(0)); },
       .fits = "Mocked up at real size: the cells may be ordered as far as the room goes.",
       .clash = "Not mocked up yet: cells cannot be sent back, and the shape that fits on paper "
                "often does not with lugs, lid and cable bends.",
       .ignoring = {"A pack that does not go into the frame: the cells are bought twice.", 300,
                    2500, 12},
       .levers = {"layout.mocked_up=yes"},
       .blocks = Blocks::buying,
       .never = "tight",
       .never_why = "it was mocked up or it was not"},
      {.id = "charger-after-cells",
       .codes = "O01",
       .title = "charger ordered only when the cells are certain",
       .between = {"cell", "charger"},
       .needs = {"cell.state"},
       .options = {"charger.state"},
       .applies = [](const In& in) { return not_bought(in, 1); },
       .judge =
           [](const In& in) {
             return judged(in.is(0, State::here)
                               ? Verdict::fits
                               : (in.is(0, State::ordered) ? Verdict::tight : Verdict::clash));
           },
       .fits = "The cells are here: their data sheet gives the charger's end voltage.",
       .tight = "The cells are ordered, not here: order the charger by their own data sheet, and "
                "only if the seller names the end voltage in writing.",
       .clash = "The cells are not even ordered: the charger's end voltage hangs on their number "
                "and chemistry. Wait.",
       .ignoring = {"A charger for another pack.", 100, 700, 3},
       .levers = {"cell.state=here"},
       .blocks = Blocks::buying},
  };
}

}  // namespace ww::fit
