// SPDX-License-Identifier: MIT
// What a circuit lacks, what nobody has answered, and what is a mistake by the way it is joined.
// Whether a number is large enough is not asked here: that is the checks' to say (fit/).
#include "base/text.h"
#include "figure/units.h"
#include "wiring/draft.h"

#include <cmath>

namespace ww::wiring {

namespace {

using figure::Kind;

struct MissingPart {
  std::string_view slot, because, way_out, rule;
};

constexpr MissingPart parts[] = {
    {"fuse", "Nothing ends a short of the battery cables but the cables themselves.",
     "Choose a main fuse for DC at the full pack's voltage.", "missing-fuse"},
    {"disconnect", "The pack cannot be made dead for work.", "Choose a service disconnect.",
     "missing-disconnect"},
    {"contactor", "A controller that fails with torque on cannot be switched off.",
     "Choose a contactor that breaks DC at the full pack's voltage.", "missing-contactor"},
    {"precharge", "The contactor closes onto empty capacitors: hundreds of amps weld it.",
     "Choose a resistor, and a relay that breaks the full pack's voltage.", "missing-precharge"},
    {"bms", "No cell is watched.", "Choose a cell monitor for the series count.",
     "missing-cell-monitor"},
    {"charger", "The pack is never filled.", "Choose a charger by its end voltage.",
     "missing-charger"},
    {"dcdc", "Lamps, horn and coil hang on the buffer alone.", "Choose a 12 V converter.",
     "missing-converter"},
    {"buffer", "A converter that fails takes lamps and contactor with it, at speed.",
     "Add a small 12 V battery.", "missing-buffer"},
    {"throttle", "Nothing asks for torque.", "Choose a throttle of the controller's kind.", ""}};

/// A question of the sheet that decides whether something is in the circuit.
struct Question {
  std::string_view path, what;  ///< of what is drawn while nobody has answered
  std::string_view because;     ///< what its lack leads to
  std::string_view rule;
};

constexpr Question questions[] = {
    {"wiring.kill_opens_coil", "kill switch in the interlock loop",
     "A controller that fails with torque on is not stopped by the rider's thumb.", "kill-switch"},
    {"wiring.kill_disables_controller",
     "second pole of the kill switch, at the controller's enable",
     "One stuck contact is enough, and the kill switch does nothing.", "kill-switch"},
    {"wiring.stand_switch", "side-stand switch", "The bike rides off with the stand out.",
     "stand-and-tilt"},
    {"wiring.tilt_switch", "tilt switch",
     "The wheel goes on turning when the bike lies on its side.", "stand-and-tilt"},
    {"wiring.inlet_interlock", "inlet switch", "The bike rides off with the plug in.",
     "drive-off-lock"},
    {"wiring.lid_switch", "lid switch", "An opened box is live behind the contactor.",
     "lid-switch"},
    {"wiring.dcdc_fuse", "the converter's own DC fuse at the tap",
     "The converter's thin leads carry what the main fuse lets through: they burn before it melts.",
     "converter-fuse"},
    {"wiring.branch_fuses", "a fuse at every other tap of the pack",
     "Charge, key and display leads are thin, and the main fuse does not guard them.",
     "branch-fuses"},
    {"wiring.sense_fuses", "a fuse or resistor at the cell in every sense lead",
     "A pinched sense lead shorts cells through a wire as thick as a hair.", "sense-lead-fuses"},
    {"wiring.brake_switches", "both brake switches at the controller",
     "Torque goes on while the rider brakes.", ""},
    {"wiring.common_reference_checked",
     "12 V side and the controller's signal side isolated, or joined at one point on purpose",
     "K9, K16 and the signal leads tie the 12 V minus to the controller; where its signal side "
     "hangs on the pack's minus, the frame does too, and the isolation is gone.",
     "signal-grounds"},
    {"wiring.regen_stop_lamp", "stop lamp lit by motor braking",
     "Who follows sees no lamp while the bike slows.", "regen-stop-lamp"}};

void ask_questions(Draft& draft) {
  for (const Question& q : questions) {
    const std::string what(q.what);
    if (draft.sheet().no(q.path)) {
      draft.gap({Gap::Kind::mistake, "Answered with no: " + what + ".", std::string(q.because),
                 "Fit it and set " + std::string(q.path) + " to yes.", std::string(q.rule)});
    } else if (!draft.sheet().yes(q.path)) {
      draft.gap({Gap::Kind::unanswered, "Drawn as usual, not answered: " + what + ".",
                 std::string(q.because), "Answer " + std::string(q.path) + ".",
                 std::string(q.rule)});
    }
  }
}

/// What hangs on the bus while it charges up holds it below the pack.
void look_at_converter(Draft& draft) {
  auto& sheet = draft.sheet();
  if (!sheet.has("dcdc")) return;
  if (sheet.is("wiring.dcdc_place", build::DcdcPlace::behind_contactor) &&
      !sheet.yes("dcdc.enable_input")) {
    const double lost_V = sheet.ask("precharge.resistance") * sheet.ask("dcdc.idle_current");
    const double load_V = sheet.ask("precharge.resistance") * 0.5;
    std::string because =
        "It draws from the bus while the pre-charge resistor fills it, and cannot be told to wait.";
    if (!std::isnan(lost_V))
      because += " Idle it takes " + figure::print(lost_V, Kind::voltage) +
                 " of the bus; with lamps on, at half an ampere, " +
                 figure::print(load_V, Kind::voltage) +
                 ": then the contactor never closes, or a "
                 "timer closes it into the rush.";
    draft.gap({Gap::Kind::mistake, "The 12 V converter (D2) hangs behind the contactor.", because,
               "Feed it before the contactor through its own switch and fuse: "
               "wiring.dcdc_place=before_contactor_switched.",
               "converter-at-start"});
  }
  if (sheet.is("wiring.dcdc_place", build::DcdcPlace::before_contactor)) {
    draft.gap({Gap::Kind::mistake, "Nothing switches the 12 V converter (D2) off.",
               "It empties the pack in storage.",
               "Put a switch before it: wiring.dcdc_place=before_contactor_switched.",
               "converter-place"});
  }
  if (sheet.no("dcdc.isolated")) {
    draft.gap({Gap::Kind::mistake,
               "The converter is not isolated: D3 and L2 are one wire, and E3 makes the frame the "
               "pack's minus.",
               draft.dangerous()
                   ? "One chafed plus lead then makes the whole bike live over 60 V, and touching "
                     "any plus lead closes the circuit through the rider."
                   : "One chafed plus lead shorts the pack through the frame.",
               "Choose an isolated converter.", "converter-isolated"});
  }
}

void look_at_key(Draft& draft) {
  auto& sheet = draft.sheet();
  if (!draft.has("controller")) return;
  if (sheet.is("loom.key_path", build::KeyPath::pack_voltage)) {
    draft.gap({Gap::Kind::mistake,
               "Pack voltage runs to the lock at the bars (D4, D5)" +
                   std::string(draft.dangerous() ? ", over 60 V." : "."),
               "A lock made for 12 V arcs inside and sticks on; a chafed lead at the steering head "
               "is at the rider's hands.",
               "Let the key switch a relay of 12 V beside the pack: loom.key_path=relay.",
               "pack-volts-at-the-bars"});
  } else if (!sheet.is("loom.key_path", build::KeyPath::relay)) {
    draft.gap({Gap::Kind::unanswered, "Drawn as usual, not answered: a key relay beside the pack.",
               "A lock made for 12 V does not break pack voltage.", "Answer loom.key_path.",
               "pack-volts-at-the-bars"});
  }
  if (sheet.ask("controller.logic_fuse") == 0) {
    draft.gap({Gap::Kind::mistake, "The controller's key supply (D4) has no fuse.",
               "A chafed key wire carries whatever the pack gives.",
               "Fit a DC fuse of 1 to 5 A at the tap.", "logic-supply-fuse"});
  }
}

void look_at_pack(Draft& draft) {
  auto& sheet = draft.sheet();
  if (sheet.ask("pack.boxes") > 1 && !sheet.yes("wiring.second_fuse")) {
    const bool known = sheet.no("wiring.second_fuse");
    draft.gap({known ? Gap::Kind::mistake : Gap::Kind::unanswered,
               "A pack in two boxes without a second fuse between them (T8 to T10).",
               "A short between the boxes does not pass the main fuse.",
               "Fit one and set wiring.second_fuse to yes.", "second-fuse"});
  }
  if (sheet.has("bms") && !(sheet.ask("bms.output_current") > 0) &&
      !sheet.is("bms.type", build::BmsType::fet_board)) {
    draft.gap({Gap::Kind::mistake, "The cell monitor has no part in the interlock loop.",
               "It sees a cell leave its limits and cannot switch anything off.",
               "Choose one whose output opens the contactor, or a board in the minus lead.",
               "monitor-output-suits"});
  }
}

void look_at_supply(Draft& draft) {
  auto& sheet = draft.sheet();
  if (sheet.ask("contactor.coil_voltage") > 30) {
    draft.gap(
        {Gap::Kind::mistake, "The contactor's coil is made for pack voltage, the loop for 12 V.",
         "It never pulls in; with pack voltage in the loop every switch at the bars carries it.",
         "Choose a coil of 12 V.", "coil-on-pack"});
  }
  if (sheet.is("donor.flasher", build::Flasher::thermal) &&
      sheet.is("donor.lamps", build::LampKind::led)) {
    draft.gap({Gap::Kind::mistake, "A thermal flasher (L30) with LED indicators.",
               "It flashes too fast or not at all: it needs the load of filament bulbs.",
               "Fit an electronic flasher.", ""});
  }
  if (sheet.is("wiring.coil_clamp", build::CoilClamp::diode) ||
      sheet.is("wiring.coil_clamp", build::CoilClamp::none)) {
    const bool none = sheet.is("wiring.coil_clamp", build::CoilClamp::none);
    draft.gap({Gap::Kind::mistake,
               none ? "No clamp across the contactor's coil (K9)."
                    : "A plain diode across the contactor's coil (K9).",
               none ? "Each opening throws hundreds of volts at what drives the coil."
                    : "The coil lets go slowly: the contacts draw an arc and wear or weld.",
               "A diode and a Zener diode in series, unless the contactor has its own inside.",
               "coil-clamp"});
  }
}

}  // namespace

void find_gaps(Draft& draft) {
  for (const MissingPart& part : parts) {
    if (draft.sheet().has(part.slot)) continue;
    draft.gap({Gap::Kind::lacking,
               "Not on the list: " + std::string(build::schema().slot(part.slot)->label) + ".",
               std::string(part.because), std::string(part.way_out), std::string(part.rule)});
  }
  ask_questions(draft);
  look_at_converter(draft);
  look_at_key(draft);
  look_at_pack(draft);
  look_at_supply(draft);
}

}  // namespace ww::wiring
