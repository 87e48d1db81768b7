// SPDX-License-Identifier: MIT
// Building the pack: from cells as they came to a closed box with its main fuse out. Windows are
// common practice, no source, unless said.
#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "steps/draft.h"

namespace ww::steps {

namespace {

using figure::Kind;
using When = Branch::When;

std::string number(int n) {
  return std::to_string(n);
}

/// What is known of the groups' voltages, each at rest.
class Groups {
 public:
  explicit Groups(const Draft& draft) : draft_(&draft) {
    const auto& sorted = draft.sorted();
    if (!sorted.possible) return;
    for (const auto& group : sorted.groups) {
      double sum = 0;
      for (const int i : group.units)
        sum += draft.build().units[static_cast<std::size_t>(i)].voltage.value;
      volts_.push_back(sum / static_cast<double>(group.units.size()));
    }
  }
  /// Of the groups first..last in series.
  Expect across(int first, int last) const {
    const int n = last - first + 1;
    const auto& sheet = draft_->numbers();
    if (volts_.empty()) {
      Expect e = Draft::between(n * sheet("cell.voltage_min"), n * sheet("cell.voltage_max"),
                                "empty to full: the cells are not measured one by one");
      e.sum = number(n) + " x " + shown(sheet("cell.voltage_min"), Kind::voltage) + " to " +
              number(n) + " x " + shown(sheet("cell.voltage_max"), Kind::voltage);
      for (const char* path : {"cell.voltage_min", "cell.voltage_max"}) {
        if (!sheet.known(path)) e.missing.push_back(build::id_of(path));
      }
      return e;
    }
    double sum = 0;
    for (int g = first; g <= last; ++g) sum += volts_[static_cast<std::size_t>(g - 1)];
    const double slack = error_of(Meter::volts, sum) + n * 5e-3;
    Expect e = Draft::between(sum - slack, sum + slack,
                              "the meter, and 5 mV a group: common practice, no source");
    e.value = sum;
    e.sum = n == 1 ? "group " + number(first) + " as measured: " + shown(sum, Kind::voltage)
                   : "groups " + number(first) + " to " + number(last) +
                         " as measured, added: " + shown(sum, Kind::voltage);
    return e;
  }
  double full_V(int first, int last) const {
    return (last - first + 1) * draft_->numbers()("cell.voltage_max");
  }

 private:
  const Draft* draft_;
  std::vector<double> volts_;
};

std::string part_text(int first, int last) {
  return first == last ? "group " + number(first)
                       : "groups " + number(first) + " to " + number(last);
}

/// What one part of the pack is to a hand.
std::string part_danger(double volts) {
  if (std::isnan(volts)) return "its voltage is not known: treat it as over 60 V";
  if (volts > touch_limit_V) return "over 60 V: it can kill, one hand, gloves and visor on";
  if (volts > 30) return "wet skin feels it, and a spanner across it burns";
  return "no shock, but a spanner across it welds itself on";
}

void before_the_cells(Draft& d) {
  d.add({.id = "bench",
         .title = "The bench and the second person",
         .doing = "Clear a dry bench that does not conduct, mat on it. Rings, watch and chain off. "
                  "Insulated tools, a cover for every terminal that is not worked on. A second "
                  "person who knows where the extinguisher and the water are, and a way to carry a "
                  "hot cell outdoors.",
         .meter = Meter::eye,
         .caution = "A cell cannot be switched off. A click, a hiss or a sweet smell means leave "
                    "and call the fire service; its smoke is poison.",
         .tick = true});
}

void incoming(Draft& d) {
  const Sorted& s = d.sorted();
  const int wanted = s.series * s.parallel;
  Expect e = Draft::at_least(wanted, "one for each place in the pack");
  e.value = wanted;
  e.sum = number(s.series) + " in series x " + number(s.parallel) + " in parallel";
  for (const char* path : {"pack.series", "pack.parallel"}) {
    if (!d.numbers().known(path)) e.missing.push_back(build::id_of(path));
  }
  d.add_from_sheet(
      {.id = "cells-measured",
       .title = "Every cell or module measured as it came",
       .doing = "Number each one. Rest it a day, then note voltage, capacity and resistance under "
                "[[cell_measured]], and the voltage once more two weeks later. Count here: those "
                "with all three, and good.",
       .meter = Meter::volts,
       .caution = "Measure capacity with the cell in sight, at 0.2 to 0.3 C, never below its empty "
                  "voltage: a cell that was run flat may short inside when it is charged again.",
       .expect = e,
       .needs = {"bench"},
       .tree = {{When::low, "which cells are turned away, and why (listed below)",
                 "spares take their places; a lot with a tenth or more bad is sent back"}}},
      wanted == 0 || s.complete == 0 ? std::nan("")
                                     : s.complete - static_cast<int>(s.turned_away.size()),
      number(s.complete - static_cast<int>(s.turned_away.size())) + " measured and good");
  Expect spread =
      Draft::at_most(0.03, "3 % from the poorest to the richest group: common practice, no source");
  spread.sum = s.possible
                   ? "(" + shown(s.strongest_C, Kind::charge) + " - " +
                         shown(s.weakest_C, Kind::charge) + ") / " + shown(s.mean_C, Kind::charge)
                   : "";
  const double share = (s.strongest_C - s.weakest_C) / s.mean_C;
  d.add_from_sheet(
      {.id = "groups-match",
       .title = "The groups hold alike",
       .doing = "Nothing to measure: worked out from the list above. The poorest group ends every "
                "ride, the richest one is never full.",
       .meter = Meter::eye,
       .caution = "A poor cell in a rich group hides until it is hot: no cell that was turned away "
                  "goes in to make up the number.",
       .kind = Kind::share,
       .expect = spread,
       .needs = {"cells-measured"},
       .tree = {{When::high, "the poorest group's cells", "exchange its worst for a spare"},
                {When::high, "temperature and current of the capacity test",
                 "cells tested on a cold day read low: test them again alike"}}},
      s.possible ? share : std::nan(""), s.possible ? shown(share, Kind::share) : "");
  d.add({.id = "laid-out",
         .title = "Laid out in their groups, plus and minus turned as drawn",
         .doing = "Lay every cell where the list says, every second group turned round where the "
                  "links want it so. Photograph it from above. Read the row aloud to the second "
                  "person: group, names, which end is plus.",
         .meter = Meter::eye,
         .caution = "One module turned round is a short the moment the row is closed: covers stay "
                    "on both terminals while it is moved.",
         .tick = true,
         .needs = {"groups-match"}});
}

void stacked(Draft& d) {
  const auto& sheet = d.numbers();
  const double force = sheet("cell.compression") * sheet("cell.length") * sheet("cell.height");
  d.add_if(sheet.or_else("cell.compression", 0) > 0,
           {.id = "compressed",
            .title = "The stack held under its pressure",
            .doing = "Tighten the end plates evenly, in turns, to " +
                     shown(sheet("cell.compression"), Kind::pressure) + ": about " +
                     shown(force, Kind::force) +
                     " over the large face. Insulation between neighbours, edges covered.",
            .meter = Meter::hand,
            .caution = "A threaded rod near a terminal is a busbar: sleeve it before it goes in, "
                       "not after.",
            .tick = true,
            .needs = {"laid-out"}});
  d.add({.id = "cells-apart",
         .title = "Every cell's case apart from the box and from its neighbour",
         .doing = "Meter in ohms between each case and the box, and between neighbours; note the "
                  "lowest. Metal cases of many cells carry their plus.",
         .meter = Meter::ohms,
         .caution = "Before the first joint this fault is one cell's voltage; after the last it is "
                    "the whole pack through the box. Find it now.",
         .kind = Kind::resistance,
         .expect = Draft::at_least(1e6, "1 Mohm: common practice, no source"),
         .needs = {"compressed"},
         .tree = {{When::low, "the pair that reads low, edges first",
                   "torn sleeve, swarf, a screw that is too long"},
                  {When::low, "wet or glue-covered faces", "clean, dry, measure again"}}});
}

void parallels(Draft& d) {
  const Sorted& s = d.sorted();
  if (s.parallel <= 1) return;
  const auto& sheet = d.numbers();
  for (int g = 1; g <= s.series; ++g) {
    Expect e = d.around(
        [](const Numbers& n) { return n("cell.resistance") * n("cell.capacity") / 3600; },
        "2 x " + shown(sheet("cell.resistance"), Kind::resistance) + " x half of " +
            shown(sheet("cell.capacity") / 3600, Kind::current) + ", so that 0.5 C jumps at most",
        Meter::volts);
    e.low = 0;
    e.high = e.value;
    e.bounds = "0.5 C between two cells: common practice, no source";
    d.add({.id = "parallel-" + number(g),
           .title = "Group " + number(g) + ": " + number(s.parallel) + " cells side by side",
           .doing = "First measure the largest voltage between its cells: that is the reading. "
                    "Then join plus to plus and minus to minus.",
           .meter = Meter::volts,
           .caution = "Group " + number(g) +
                      ": cells of unlike charge pour into each other the moment they are joined; "
                      "the wire is the fuse.",
           .kind = Kind::voltage,
           .expect = e,
           .needs = {g == 1 ? "cells-apart" : "parallel-" + number(g - 1)},
           .tree = {{When::high, "which cell stands off",
                     "charge or drain it alone to the others' voltage, rest, measure again"}}});
  }
}

std::string make_joint(const Numbers& sheet) {
  if (sheet.is("cell.terminal", build::Stud::weld)) return "Weld the link, pull at it.";
  return "Clean both faces, compound if the metals differ, link on, " +
         (sheet.known("cell.terminal_torque") ? shown(sheet("cell.terminal_torque"), Kind::torque)
                                              : std::string("the maker's torque")) +
         " on the wrench, paint mark across.";
}

/// Which joints are left out until everything else is done.
std::string left_out(const JointOrder& order) {
  std::vector<std::string> late;
  for (const Joint& j : order.joints) {
    if (j.late) late.push_back(number(j.lower) + "-" + number(j.lower + 1));
  }
  if (order.by_disconnect > 0)
    late.push_back(number(order.by_disconnect) + "-" + number(order.by_disconnect + 1) +
                   " (the service disconnect makes it, much later)");
  return late.empty() ? "nothing" : join(late, ", ");
}

/// The joints inside the blocks, or those between them. Gives the last step.
std::string joints(Draft& d, const Groups& groups, bool late, std::string before) {
  const JointOrder& order = d.order();
  for (const Joint& j : order.joints) {
    if (j.late != late) continue;
    const double full = groups.full_V(j.first, j.last);
    const std::string part = part_text(j.first, j.last);
    d.add({.id = "joint-" + number(j.lower),
           .title = (late ? "Late link: group " : "Joint: group ") + number(j.lower) + " to " +
                    number(j.lower + 1),
           .doing = make_joint(d.numbers()) + " Then measure across " + part +
                    ", + first on the higher one." +
                    (late ? " All sense leads are on; the monitor's plug is still open." : ""),
           .meter = Meter::volts,
           .caution = "From now on " + part + " are one live part, " + shown(full, Kind::voltage) +
                      " when full: " + part_danger(full) + ".",
           .kind = Kind::voltage,
           .expect = groups.across(j.first, j.last),
           .needs = {before},
           .tree =
               {{When::low, "the sign, and the same voltage without the last group",
                 "a group turned round takes twice its voltage away: open the joint, do not go on"},
                {When::low, "each group of the part alone",
                 "a cell that sank since it came drains itself: take it out"},
                {When::high, "between which groups the meter really stands",
                 "you are across a joint that should be open"}},
           .live = (late ? "Parts over 60 V stand on the bench from here on."
                         : "The largest part on the bench has at most " +
                               shown(order.part_V_before_late, Kind::voltage) +
                               ". Left out until last: " + left_out(order) + ".") +
                   " Each group alone is live at its own terminals, always."});
    before = "joint-" + number(j.lower);
  }
  return before;
}

void pulse(Draft& d, const std::string& before) {
  Expect e = d.around([](const Numbers& n) { return n("pack.link_resistance"); },
                      "one link as the sheet has it: " +
                          shown(d.numbers()("pack.link_resistance"), Kind::resistance),
                      Meter::milliohms);
  e.low = 0;
  d.add_if(
      !d.order().joints.empty(),
      {.id = "joints-pulse",
       .title = "Every joint's resistance under a pulse",
       .doing = "Draw 20 to 50 A for two seconds from each part, meter across one joint after the "
                "other, stud to stud: millivolts over amps are milliohms. Note the worst joint and "
                "which it is.",
       .meter = Meter::milliohms,
       .caution = "The load is made and broken at its own switch, never at a stud; a joint "
                  "that warms in two seconds is not finished.",
       .kind = Kind::resistance,
       .expect = e,
       .needs = {before},
       .tree = {{When::high, "face, torque, washer under the link",
                 "dirt or a washer between lug and face: undo, clean, redo"},
                {When::high, "the same joint cold again", "a cracked weld opens as it warms"}}});
}

/// The tap on top of cell `k`, measured from the most negative stud of its block.
Expect tap_band(const Draft& d, const Groups& groups, int k, int inside, int first) {
  const int group = (k - 1) / inside + 1;
  Expect e = groups.across(first, group);
  if (k % inside == 0 && !std::isnan(e.value)) return e;
  // Inside a module, or with nothing measured: one cell above the tap before.
  const int cells = k - (first - 1) * inside;
  const double least = d.numbers()("cell.voltage_min") / inside;
  const double most = d.numbers()("cell.voltage_max") / inside;
  const double before = cells == 1 ? 0 : d.passed("tap-" + number(k - 1));
  const bool known = !std::isnan(before);
  Expect band = known ? Draft::between(before + least, before + most,
                                       "one cell above the tap before, empty to full")
                      : Draft::between(cells * least, cells * most,
                                       "empty to full; closer once the tap before is read");
  band.sum = known ? shown(before, Kind::voltage) + " + one cell" : number(cells) + " cells";
  for (const char* path : {"cell.voltage_min", "cell.voltage_max"}) {
    if (!d.numbers().known(path)) band.missing.push_back(build::id_of(path));
  }
  return band;
}

void taps(Draft& d, const Groups& groups) {
  const JointOrder& order = d.order();
  const int inside = static_cast<int>(d.numbers().or_else("cell.series_inside", 1));
  const int cells = d.sorted().series * inside;
  d.add({.id = "tap-0",
         .title = "Sense lead 0: the pack's most negative",
         .doing = "Fuse or resistor at the cell first, then the lead, the plug still open. Measure "
                  "from the most negative stud to pin 0 of the plug.",
         .meter = Meter::volts,
         .caution = "The plug's pins stand bare side by side with the pack on them: tape over all "
                    "but the one that is measured.",
         .kind = Kind::voltage,
         .expect = Draft::between(-0.005, 0.005, "the same point: common practice, no source"),
         .needs = {"joints-pulse"},
         .tree = {
             {When::any, "which stud the lead sits on", "the row is off by one from its start"}}});
  std::size_t block = 0;
  int first = 1;
  for (int k = 1; k <= cells; ++k) {
    const int group = (k - 1) / inside + 1;
    while (block < order.block_ends.size() && group > order.block_ends[block])
      first = order.block_ends[block++] + 1;
    const std::string from =
        first == 1 ? "the most negative stud" : "the minus stud of group " + number(first);
    d.add(
        {.id = "tap-" + number(k),
         .title = "Sense lead " + number(k) + ": top of cell " + number(k),
         .doing = "The lead on, then measure from " + from + " to pin " + number(k) +
                  " of the open plug.",
         .meter = Meter::volts,
         .caution = "Pin " + number(k) + " stands up to " +
                    shown(groups.full_V(first, group), Kind::voltage) + " above " + from +
                    ": probe with one hand, the other pins covered.",
         .kind = Kind::voltage,
         .expect = tap_band(d, groups, k, inside, first),
         .needs = {"tap-" + number(k - 1)},
         .tree = {{When::low, "the difference to the tap before: nothing, or negative",
                   "nothing: a tap was skipped or a fuse is open. Negative: a module turned round. "
                   "The plug stays open"},
                  {When::high, "the difference to the tap before: two cells",
                   "leads swapped or one left out: count both ends again"}}});
  }
}

void monitor_plug(Draft& d, const std::string& before) {
  const bool split = d.order().by_disconnect > 0;
  d.add_if(
      d.numbers().has("bms"),
      {.id = "monitor-plug",
       .title = "The cell monitor's plug, last of all",
       .doing = std::string(split ? "Service disconnect closed for it, main fuse out. " : "") +
                "The monitor's thick minus first, then the sense plug, then what switches it on.",
       .meter = Meter::hand,
       .caution =
           std::string("A row that is off by one puts two cells on one input: the board is "
                       "gone before you smell it. If one reading above was odd, stop here.") +
           (split ? " Ever after: with the disconnect open, the sense leads are the only "
                    "bridge between the halves, and any load burns them: plug out, or main "
                    "fuse out, before it is opened."
                  : ""),
       .tick = true,
       .needs = {before}});
}

void closed(Draft& d) {
  const JointOrder& order = d.order();
  const int series = d.sorted().series;
  const auto& sheet = d.numbers();
  const double cells = series * sheet.or_else("cell.series_inside", 1);
  d.add_if(
      sheet.has("bms"),
      {.id = "monitor-cells",
       .title = "What the monitor shows against the meter, cell by cell",
       .doing = "Meter on each pair of taps, monitor's display beside it. Note the largest "
                "difference.",
       .meter = Meter::volts,
       .caution = "The monitor is not a meter until it has been held against one: what it "
                  "shows wrongly it will charge wrongly.",
       .kind = Kind::voltage,
       .expect = Draft::at_most(0.010, "10 mV: common practice, no source"),
       .needs = {"monitor-plug"},
       .tree = {{When::high, "one cell off: its crimp and its fuse", "a bad crimp drops volts"},
                {When::high, "only the first cell off: where the monitor takes its power",
                 "it feeds itself through a sense lead: give it its own"}}});
  d.add_if(sheet.has("bms"),
           {.id = "cells-level",
            .title = "The cells stand level",
            .doing = "Largest less smallest cell on the monitor, after an hour at rest. " +
                     number(static_cast<int>(cells)) + " cells.",
            .meter = Meter::volts,
            .caution = "Balancing is slow: a cell that stands off by more is charged alone and "
                       "watched, not left to the monitor overnight.",
            .kind = Kind::voltage,
            .expect = Draft::at_most(0.020, "20 mV at storage charge: common practice, no source"),
            .needs = {"monitor-cells"},
            .tree = {{When::high, "the odd cell's voltage tomorrow",
                      "sinking on: it drains itself, take it out. Steady: charge it alone"}}});
  const double half = order.by_disconnect > 0
                          ? (series - order.by_disconnect) * sheet("cell.voltage_max")
                          : d.full_V();
  d.add(
      {.id = "pack-to-box",
       .title = "The pack apart from its box",
       .doing = "Meter in volts DC, from plus to the box's bare metal, then from minus. Hold it "
                "until it has fallen; note the larger one that stays. Then from each joint that "
                "you can reach.",
       .meter = Meter::volts,
       .caution = "If a voltage stays, the box is part of the circuit: two hands, one on the box "
                  "and one on a pole, close it. Parts of up to " +
                  shown(half, Kind::voltage) + " are live here.",
       .kind = Kind::voltage,
       .expect = Draft::at_most(2, "2 V on a 10 Mohm meter: common practice, no source"),
       .needs = {"cells-level", "joints-pulse"},
       .tree = {{When::high, "which share of the pack it is",
                 "the share says which cell touches: a quarter of the volts, a quarter up the row"},
                {When::high, "a wet box, a probe lead, a sense lead under a lid screw",
                 "part them one by one until it falls"}}});
  const bool middle = order.by_disconnect > 0;
  d.add({.id = "pack-closed",
         .title = "Covers on, main fuse out, lid on",
         .doing = std::string("Swarf vacuumed, every bolt marked, covers over all terminals, main "
                              "fuse out and in your pocket") +
                  (middle ? ", service disconnect out" : "") +
                  ". Photograph the inside, then the lid. Label: voltage full, the date, do not "
                  "open.",
         .meter = Meter::eye,
         .caution = "From now on a closed box hides " + shown(d.full_V(), Kind::voltage) +
                    (middle ? " in two halves." : " at its plus lead, with no fuse before it.") +
                    " Who carries it: " +
                    shown(sheet.or_else("layout.pack_lift_mass", sheet.or_else("pack.mass", NAN)),
                          Kind::mass) +
                    "; over 25 kg two people.",
         .tick = true,
         .needs = {"pack-to-box"}});
}

}  // namespace

void pack_steps(Draft& d) {
  d.stage(Stage::pack);
  before_the_cells(d);
  incoming(d);
  stacked(d);
  const Sorted& s = d.sorted();
  const Groups groups(d);
  parallels(d);
  const std::string apart =
      s.parallel > 1 && s.series > 0 ? "parallel-" + number(s.series) : "cells-apart";
  const std::string joined = joints(d, groups, false, apart);
  pulse(d, joined);
  taps(d, groups);
  const int inside = static_cast<int>(d.numbers().or_else("cell.series_inside", 1));
  monitor_plug(d, joints(d, groups, true, "tap-" + number(s.series * inside)));
  closed(d);
}

}  // namespace ww::steps
