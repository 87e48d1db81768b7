// SPDX-License-Identifier: MIT
// The part of the circuit that is live with the pack: traction loop, motor, pre-charge, charging,
// cell monitor.
#include "wiring/draft.h"

#include <cmath>

namespace ww::wiring {

namespace {

using build::BmsType;
using build::Stud;

constexpr std::string_view minus_colour = "orange, - black";

bool board_in_path(Draft& draft) {
  return draft.sheet().is("bms.type", BmsType::fet_board);
}

bool disconnect_in_middle(Draft& draft) {
  return draft.sheet().yes("pack.mid_disconnect");
}

/// Whether a current meter's shunt lies in the minus lead.
bool has_shunt(Draft& draft) {
  return draft.sheet().ask("display.shunt_current") > 0;
}

void traction_devices(Draft& draft) {
  draft.part("pack", "pack", Place::pack_box, "stores the energy; can never be switched off");
  draft.stud("pack.+", draft.choice<Stud>("cell.terminal"));
  draft.stud("pack.-", draft.choice<Stud>("cell.terminal"));
  draft.part("fuse", "main fuse", Place::power_board,
             "the only thing that ends a short of the battery cables");
  draft.part("disconnect", "service disconnect",
             disconnect_in_middle(draft) ? Place::pack_box : Place::power_board,
             disconnect_in_middle(draft)
                 ? "splits the pack, so that no hand works on its full voltage"
                 : "makes everything behind it dead for work, by hand");
  draft.part("contactor", "main contactor", Place::power_board,
             "switches the drive off, also when its electronics fail with torque on");
  for (const char* slot : {"fuse", "disconnect", "contactor"}) {
    const Stud stud = draft.choice<Stud>(std::string(slot) + ".stud");
    draft.stud(std::string(slot) + ".in", stud);
    draft.stud(std::string(slot) + ".out", stud);
  }
  draft.part("controller", "controller", Place::controller,
             "turns the pack's current into the motor's three");
  if (has_shunt(draft))
    draft.device("shunt", "current shunt", Place::power_board, Presence::on_list,
                 "the display counts the charge that flows through it");
  draft.part("bms", "cell monitor", Place::pack_box,
             "watches every cell; nothing else sees one that is too full or too empty");
}

/// Wires of a chain of devices, each from the one before; a device that is not there is skipped.
struct Link {
  std::string_view label, device, in, out, fuse, why;
};

void chain_of(Draft& draft, std::string_view from, const std::vector<Link>& links,
              std::string_view colour) {
  std::string last(from);
  for (const Link& link : links) {
    if (!draft.has(link.device)) continue;
    const std::string device(link.device);
    draft.wire({.label = link.label,
                .from = last,
                .to = device + "." + std::string(link.in),
                .carries = Carries::traction,
                .fuse = link.fuse,
                .before = link.fuse.empty() ? link.device : std::string_view{},
                .why = link.why,
                .colour = colour});
    last = device + "." + std::string(link.out);
  }
}

}  // namespace

/// Where every lead that must be counted and switched with the drive meets minus.
std::string_view minus_node(Draft& draft) {
  if (draft.has("shunt")) return "shunt.in";
  return board_in_path(draft) ? "bms.P-" : "pack.-";
}

void draw_traction(Draft& draft) {
  traction_devices(draft);
  const bool middle = disconnect_in_middle(draft);
  std::vector<Link> plus{{"T1", "fuse", "in", "out", "",
                          "the one battery cable without a fuse before it: keep it short"}};
  if (!middle)
    plus.push_back({"T2", "disconnect", "in", "out", "fuse", "battery current, by hand to break"});
  plus.push_back({"T3", "contactor", "in", "out", "fuse", "battery current to the contactor"});
  plus.push_back({"T4", "controller", "B+", "B+", "fuse", "battery current to the controller"});
  const bool dangerous = draft.dangerous();
  chain_of(draft, "pack.+", plus, dangerous ? "orange, + red" : "red");
  std::vector<Link> minus{{"T5", "shunt", "in", "out", "fuse", "battery current back"}};
  if (!draft.has("shunt")) minus.clear();
  if (board_in_path(draft))
    minus.push_back({draft.has("shunt") ? "T6" : "T5", "bms", "P-", "B-", "fuse",
                     "battery current back, through the monitor's switches"});
  minus.push_back({minus.empty() ? "T5" : "T7", "pack", "-", "-", "fuse", "battery current back"});
  chain_of(draft, "controller.B-", minus, dangerous ? minus_colour : "black");
  if (!middle) return;
  for (const char* end : {"pack.mid1", "pack.mid2"})
    draft.stud(end, draft.choice<Stud>("cell.terminal"));
  draft.wire(
      {.label = "T8",
       .from = "pack.mid1",
       .to = "disconnect.in",
       .carries = Carries::traction,
       .fuse = "fuse",
       .why = "joins the pack's halves; the last joint to be closed, the first to be opened"});
  if (draft.sheet().yes("wiring.second_fuse")) {
    draft.fuse("second_fuse", "second fuse", Place::pack_box,
               "a short inside or between the boxes does not pass the main fuse");
    for (const char* end : {"second_fuse.in", "second_fuse.out"})
      draft.stud(end, draft.choice<Stud>("fuse.stud"));
    draft.wire({.label = "T9",
                .from = "disconnect.out",
                .to = "second_fuse.in",
                .carries = Carries::traction,
                .fuse = "second_fuse",
                .why = "joins the pack's halves"});
  }
  draft.wire({.label = "T10",
              .from = draft.has("second_fuse") ? "second_fuse.out" : "disconnect.out",
              .to = "pack.mid2",
              .carries = Carries::traction,
              .fuse = draft.has("second_fuse") ? "second_fuse" : "fuse",
              .why = "joins the pack's halves"});
}

void draw_motor(Draft& draft) {
  draft.part("motor", "motor", Place::motor, "drives the wheel");
  const auto type = draft.choice<build::MotorType>("motor.type");
  const bool brushed =
      type == build::MotorType::brushed_pm || type == build::MotorType::brushed_series;
  const std::vector<std::string> marks =
      brushed ? std::vector<std::string>{"M+", "M-"} : std::vector<std::string>{"U", "V", "W"};
  int number = 0;
  for (const auto& mark : marks) {
    draft.wire({.label = "P" + std::to_string(++number),
                .from = "controller." + mark,
                .to = "motor." + mark,
                .carries = Carries::phase,
                .why =
                    "motor current, often two to three times the battery's; the controller's own "
                    "limit is all that guards it",
                .colour = draft.dangerous() ? "orange, " + mark : "black, " + mark,
                .route = "all motor leads tied together, away from signal wires"});
  }
}

void draw_precharge(Draft& draft) {
  draft.part("precharge", "pre-charge resistor", Place::power_board,
             "fills the controller's capacitors before the contactor closes");
  draft.fuse("precharge_fuse", "pre-charge fuse", Place::power_board,
             "a chafed pre-charge wire must not carry what the main fuse lets through",
             "wiring.branch_fuses");
  draft.device(
      "precharge_relay", "pre-charge relay", Place::power_board,
      draft.sheet().ask("precharge.relay_voltage") > 0 ? Presence::on_list : Presence::assumed,
      "switches the resistor; must break the full pack's voltage");
  // Fuse and resistor sit on the contactor's studs: a thin wire at either would be guarded by the
  // main fuse alone.
  draft.bar("contactor.in", "precharge_fuse.in");
  draft.bar("precharge.out", "contactor.out");
  draft.wire({.label = "R1",
              .from = "precharge_fuse.out",
              .to = "precharge_relay.in",
              .carries = Carries::precharge,
              .fuse = "precharge_fuse",
              .why = "pre-charge current, from its fuse to its relay"});
  draft.wire({.label = "R2",
              .from = "precharge_relay.out",
              .to = "precharge.in",
              .carries = Carries::precharge,
              .fuse = "precharge_fuse",
              .why = "pre-charge current, past the open contactor"});
}

void draw_charging(Draft& draft) {
  draft.part("charger", "charger", Place::charger, "fills the pack from the mains");
  draft.device("inlet", "charging inlet", Place::outside, Presence::assumed,
               "where the mains come in; dead and shrouded when unplugged");
  draft.fuse("charge_fuse", "charge fuse", Place::power_board,
             "the pack, not the charger, feeds a short of the charge leads", "wiring.branch_fuses");
  draft.wire({.label = "M1",
              .from = "inlet.L N",
              .to = "charger.L N",
              .carries = Carries::mains,
              .why = "mains; its own rules hold: a competent person makes it, by local code",
              .cores = 2});
  draft.bar("contactor.in", "charge_fuse.in");
  draft.wire({.label = "C1",
              .from = "charge_fuse.out",
              .to = "charger.+",
              .carries = Carries::charge,
              .fuse = "charge_fuse",
              .why = "charge current"});
  const bool separate =
      board_in_path(draft) && draft.sheet().is("bms.port", build::BmsPort::separate);
  draft.wire({.label = "C2",
              .from = "charger.-",
              .to = separate ? std::string_view("bms.C-") : minus_node(draft),
              .carries = Carries::charge,
              .fuse = "charge_fuse",
              .why = separate ? "charge current back, through the monitor's charge port"
                              : "charge current back, counted and switched with the drive's",
              .colour = draft.dangerous() ? minus_colour : "black"});
  draft.wire({.label = "E1",
              .from = "charger.PE",
              .to = "inlet.PE",
              .carries = Carries::bond,
              .why = "earths the charger's case while plugged in"});
  draft.device("frame", "frame", Place::frame, Presence::on_list,
               "reference of the 12 V side; the pack floats");
  draft.wire(
      {.label = "E2",
       .from = "charger.PE",
       .to = "frame.earth",
       .carries = Carries::bond,
       .why = "a fault in the charger must trip the house's protection, not wait for a hand"});
}

void draw_monitor(Draft& draft) {
  const double cells =
      draft.sheet().ask("pack.series") * draft.sheet().or_else("cell.series_inside", 1);
  draft.wire({.label = "S10",
              .from = "pack.taps",
              .to = "bms.taps",
              .carries = Carries::sense,
              .fuse = "sense_fuses",
              .why = "one lead at each joint of the series string, numbered from most negative",
              .colour = "white",
              .cores = std::isnan(cells) ? 1 : static_cast<int>(cells) + 1});
  const double probes = draft.sheet().or_else("pack.probes", 2);
  draft.device("probes", "pack probes", Place::pack_box, Presence::assumed,
               "no charging below freezing, no riding above the cells' limit");
  draft.wire({.label = "S11",
              .from = "probes.pair",
              .to = "bms.probes",
              .carries = Carries::signal,
              .why = "cell temperature",
              .cores = 2 * static_cast<int>(probes)});
  draft.fuse(
      "sense_fuses", "sense lead fuses", Place::pack_box,
      "one a lead, at the cell: it is a tap of the pack, and without a fuse or resistor there "
      "it carries all that the cell can give",
      "wiring.sense_fuses");
}

}  // namespace ww::wiring
