// SPDX-License-Identifier: MIT
// What only the circuit as a whole tells: volts left at the coil, what hangs on the bus at the
// start, where pack voltage runs, whether a branch fuse can blow at all.
#include <algorithm>
#include <cmath>

#include "fit/rules_safety_chain.h"
#include "wiring/conductor.h"
#include "wiring/duty.h"

namespace ww::fit::safety_chain {

using build::DcdcPlace;
using build::KeyPath;
using figure::Kind;

namespace {

double lower_of(double a, double b) {
  if (std::isnan(a)) return b;
  return std::isnan(b) ? a : std::min(a, b);
}

}  // namespace

std::vector<Fact> circuit_facts() {
  return {
      {.id = "coil_voltage_worst",
       .label = "volts left at the contactor's coil with everything on",
       .kind = Kind::voltage,
       .needs = {},
       .options = {"dcdc.voltage_out", "buffer.voltage", "loom.drop_share_max", "dcdc.current_out",
                   "contactor.pull_in_current", "donor.load_headlight", "donor.load_rear_lamps",
                   "donor.load_indicators", "donor.load_horn", "donor.load_other",
                   "fact.has_buffer"},
       .compute =
           [](const In& in) {
             double load_W = 0;
             for (int i = 5; i < 10; ++i) load_W += in.or_else(i, 0);
             const double supply_V = lower_of(in[0], in[1]);
             const double load_A = load_W / supply_V + in.or_else(4, 0);
             return (1 - 2 * in[2]) *
                    wiring::supply_under_load_V(supply_V, load_A, in[3], in[10] > 0.5);
           },
       .formula =
           "the lower of converter and buffer (a converter alone, asked for more than it gives, "
           "falls in proportion), less what the wires may lose twice: from the source to the "
           "fuse box, and along the interlock loop"},
      {.id = "branch_fuse_largest",
       .label = "largest fuse of a lamp, the horn or others",
       .kind = Kind::current,
       .needs = {"donor.load_headlight", "donor.load_rear_lamps", "donor.load_indicators",
                 "donor.load_horn", "donor.load_other", "dcdc.voltage_out"},
       .compute =
           [](const In& in) {
             const double most_W = std::max({in[0], in[1], in[2], in[3], in[4]});
             return wiring::branch_rating_A(std::max(1.25 * most_W / in[5], 2.0));
           },
       .formula = "the largest load / voltage x 1.25, the next rating that is sold"},
  };
}

std::vector<Rule> circuit_rules() {
  return {
      {.id = "coil-volts-at-worst-load",
       .codes = "E38",
       .title = "volts at the contactor's coil with everything on against its pull-in",
       .between = {"contactor", "dcdc"},
       .needs = {"fact.coil_voltage_worst", "contactor.pull_in_voltage"},
       .options = {"contactor.coil_voltage"},
       .applies = [](const In& in) { return !(in[2] >= 30); },
       .judge = [](const In& in) { return at_least(in[0], in[1]).kept_to(in[1] + 1); },
       .kind = Kind::voltage,
       .fits = "With everything on, {have} are left at the coil; it pulls in at {limit}.",
       .tight = "With everything on, {have} are left at the coil; it pulls in at {limit}. A warm "
                "coil wants more: {practice} is usual.",
       .clash = "With everything on, only {have} are left at the coil; it pulls in at {limit}: it "
                "chatters, and a contact that chatters under load welds.",
       .can_hurt = true,
       .ignoring = {"The contactor drops out, or chatters until it welds.", 60, 250, 2},
       .levers = {"contactor", "loom.drop_share_max"},
       .blocks = Blocks::energising,
       .source = "3 % lost in critical circuits: ABYC E-11; the volt kept is common practice, no "
                 "source"},
      {.id = "converter-at-start",
       .codes = "E73",
       .title = "the converter on the bus while it charges up",
       .between = {"dcdc", "contactor"},
       .needs = {"wiring.dcdc_place", "dcdc.enable_input"},
       .judge =
           [](const In& in) {
             if (!in.is(0, DcdcPlace::behind_contactor)) return judged(Verdict::fits);
             return judged(in.yes(1) ? Verdict::tight : Verdict::clash);
           },
       .fits = "The converter is fed before the contactor: it does not draw on the bus that the "
               "pre-charge fills.",
       .tight = "The converter is fed behind the contactor. Its enable wire must wait until the "
                "contactor has closed.",
       .clash = "The converter is fed behind the contactor and cannot be told to wait: it draws on "
                "the bus while a resistor fills it. The bus never fills, or a timer closes the "
                "contactor into the rush.",
       .ignoring = {"A bike that does not start, or a welded contactor.", 20, 250, 1},
       .levers = {"wiring.dcdc_place=before_contactor_switched", "dcdc"},
       .blocks = Blocks::energising},
      {.id = "pack-volts-at-the-bars",
       .codes = "E87, E99",
       .title = "pack voltage at the lock",
       .between = {"controller", "pack"},
       .needs = {"loom.key_path", "fact.pack_voltage_full"},
       .judge =
           [](const In& in) {
             if (in.is(0, KeyPath::relay)) return judged(Verdict::fits);
             return judged(in[1] > dangerous_V ? Verdict::clash : Verdict::tight);
           },
       .fits = "The key switches a relay of 12 V: no pack voltage runs to the bars.",
       .tight = "The pack's {1} run to the lock at the bars. Below 60 V that is not forbidden; a "
                "chafed lead at the steering head burns all the same.",
       .clash = "The pack's {1} run to the lock at the bars: over 60 V through the steering head, "
                "where leads chafe, and at the rider's hands.",
       .can_hurt = true,
       .ignoring = {"A shock or a fire at the bars.", 15, 3000, 1},
       .levers = {"loom.key_path=relay"},
       .blocks = Blocks::energising,
       .source = "60 V: UN R100 and R136"},
      {.id = "branch-fuse-without-buffer",
       .codes = "E56",
       .title = "what the converter alone can give against a branch fuse",
       .between = {"dcdc", "donor"},
       .needs = {"dcdc.current_out", "fact.branch_fuse_largest", "fact.has_buffer"},
       .applies = [](const In& in) { return in[2] < 0.5; },
       .judge = [](const In& in) { return at_least(in[0], 2 * in[1]); },
       .kind = Kind::current,
       .fits =
           "A short behind the largest branch fuse, {1}, draws {have} from the converter: enough "
           "to blow it in seconds.",
       .tight = "A short behind the largest branch fuse, {1}, draws {have} from the converter; "
                "{limit} blow it in seconds: within what the figures are good for.",
       .clash = "A short behind the largest branch fuse, {1}, draws no more than the converter's "
                "{have}, and {limit} are wanted to blow it: the converter gives up instead, and "
                "with it every lamp and the contactor.",
       .can_hurt = true,
       .ignoring = {"One chafed lamp wire, and the bike is dark and dead at speed.", 25, 90, 1},
       .levers = {"+buffer", "dcdc"},
       .blocks = Blocks::riding,
       .source = "ISO 8820-3, twice the rating within 5 s, from memory"},
  };
}

}  // namespace ww::fit::safety_chain
