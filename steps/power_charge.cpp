// SPDX-License-Identifier: MIT
// The first charge. Windows are common practice, no source, unless said.
#include <algorithm>

#include "steps/power.h"

namespace ww::steps {

namespace {

using figure::Kind;
using When = Branch::When;

// ---- first charge
// ------------------------------------------------------------------------------

}  // namespace

void charging_steps(Draft& d) {
  const auto& sheet = d.numbers();
  if (!sheet.has("charger")) {
    for (const char* id : {"charger-volts", "charge-rise", "charge-spread", "balance-time"})
      d.drop(id, {"key-off-drain"});
    d.drop("plug-interlock", {"phase-limit"});
    return;
  }
  const bool set = sheet.known("limits.charge_voltage");
  const char* path = set ? "limits.charge_voltage" : "charger.voltage";
  const double cv = sheet(path);
  Expect e = d.around([path](const Numbers& n) { return n(path); },
                      std::string(set ? "as it is set: " : "as its sheet says: ") + volts(cv),
                      Meter::volts);
  if (e.missing.empty()) {
    e.low = 0.995 * cv;
    e.high = std::min(1.005 * cv, d.full_V() > 0 ? d.full_V() : 1.005 * cv);
    e.bounds = "0.5 %, and never above " + volts(d.full_V()) + " for the full cells";
  }
  d.add({.id = "charger-volts",
         .title = "The charger's end voltage, before it meets the pack",
         .doing = "Charger on the mains, its output open, covered, and metered.",
         .meter = Meter::volts,
         .caution = "Mains: outlet, earth and residual-current device are a competent person's, by "
                    "the local code. Output plug shrouded: it is the pack's full voltage.",
         .kind = Kind::voltage,
         .expect = e,
         .needs = {"key-off-drain"},
         .tree = {{When::high, "its setting, its label, the cells' chemistry",
                   "a charger for another pack: it is never connected"},
                  {When::low, "some wake only on a battery",
                   "ask its maker before you believe the reading"}},
         .live = "Mains at the charger's inlet; its output up to " + volts(cv) + "."});
  d.add({.id = "charge-rise",
         .title = "First charge, watched: warmth",
         .doing =
             "Outdoors, at a tenth of capacity per hour to begin with, full current after half "
             "an hour; hottest probe less what it was at the start.",
         .meter = Meter::thermometer,
         .caution = "You stay with it to the end, and with the nine after it. Hiss, sweet smell, a "
                    "swelling: plug out at the wall, away, fire service. Water cools; it flares "
                    "again hours later.",
         .kind = Kind::temperature_rise,
         .expect = Draft::at_most(5, "5 K: " + std::string(practice)),
         .needs = {"charger-volts"},
         .tree = {{When::high, "which probe",
                   "near a joint: the joint. In the cells' middle: a bad cell"}},
         .live = "The pack, charge leads and charger; mains at its inlet."});
  d.add({.id = "charge-spread",
         .title = "First charge, watched: the cells at the end",
         .doing = "Largest less smallest cell on the monitor as the current has faded.",
         .meter = Meter::display,
         .caution = "One cell that runs ahead of all others is stopped by hand if the monitor does "
                    "not: that is the one that burns.",
         .kind = Kind::voltage,
         .expect = Draft::at_most(0.050, "50 mV: " + std::string(practice)),
         .needs = {"charge-rise"},
         .tree = {{When::high, "the same cell each time",
                   "it holds less: it stays the first to be full. Charge the others level first"},
                  {When::high, "another one each time", "balancing has not been long enough"}},
         .live = "The pack, charge leads and charger; mains at its inlet."});
  Expect hours = d.around(
      [](const Numbers& n) { return n("pack.capacity_imbalance") / n("bms.balance_current"); },
      shown(sheet("pack.capacity_imbalance"), Kind::charge) + " / " +
          shown(sheet("bms.balance_current"), Kind::current),
      Meter::stopwatch);
  hours.low = 0;
  if (hours.missing.empty()) hours.high = std::max(hours.high, 3600.0);
  hours.bounds = "what the monitor's balance current needs";
  d.add_if(sheet.has("bms") && sheet.known("bms.balance_current") &&
               sheet.known("pack.capacity_imbalance"),
           {.id = "balance-time",
            .title = "How long the monitor takes to level the cells",
            .doing = "From the end of charge until the spread is under 20 mV.",
            .meter = Meter::stopwatch,
            .caution = "The board warms while it balances: nothing that burns on or under it.",
            .kind = Kind::time,
            .expect = hours,
            .needs = {"charge-spread"},
            .tree = {{When::high, "the current through one balance resistor",
                      "a weak monitor, or one cell that drains itself"}},
            .live = "The pack and its sense leads."});
  d.add(
      {.id = "plug-interlock",
       .title = "No drive with the charge plug in",
       .doing = "Wheel up, plug in, key on, throttle: no torque, contactor as drawn for charging.",
       .meter = Meter::hand,
       .caution = "Drive off with the plug in and the mains cable tears: this is tried with the "
                  "wheel off the ground, mains off at the wall.",
       .tick = true,
       .needs = {"phase-limit"},
       .tree = {{When::any, "the inlet switch, its place in the loop",
                 "it is bypassed, or the controller has its own enable"}},
       .live = all_on(d)});
}

}  // namespace ww::steps
