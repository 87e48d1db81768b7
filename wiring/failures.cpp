// SPDX-License-Identifier: MIT
#include "wiring/failures.h"

#include <array>
#include <cmath>
#include <limits>

#include "model/isolation.h"
#include "wiring/sums.h"

namespace ww::wiring {

namespace {

using figure::Kind;
using Standing = Guard::Standing;

std::string shown(double value, Kind kind) {
  return std::isnan(value) ? "?" : figure::print(value, kind);
}

/// A guard by a yes-or-no answer.
Guard answered(const Readings& s, const char* what, const char* path, const char* rule) {
  return {s.yes(path)  ? Standing::there
          : s.no(path) ? Standing::lacking
                       : Standing::unanswered,
          what, path, rule};
}

/// A guard by a part on the list.
Guard part(const Readings& s, const char* what, const char* slot, const char* path,
           const char* rule) {
  return {s.has(slot) ? Standing::there : Standing::lacking, what, path, rule};
}

/// A guard by two numbers, the first of which has to reach the second.
Guard reaches(double have, double wanted, std::string what, const char* path, const char* rule) {
  const bool known = !std::isnan(have) && !std::isnan(wanted);
  return {!known           ? Standing::unanswered
          : have >= wanted ? Standing::there
                           : Standing::lacking,
          std::move(what), path, rule};
}

Failure contactor_stuck(Readings& s, const StartSums& start) {
  const double make = s.ask("contactor.current_make");
  return {.id = "contactor-stuck",
          .title = "The main contactor stays closed",
          .happens =
              "Key off changes nothing: the bus keeps the pack's full voltage, and a "
              "controller that has failed with torque on keeps it. The main fuse does not "
              "open, since nothing flows that it would mind. Only the service disconnect is "
              "left, by hand.",
          .noticed = "No click at key off; the bus does not fall.",
          .sums = {{"bus, key off", Kind::voltage, start.voltage_V,
                    "the full pack: " + shown(start.voltage_V, Kind::voltage)},
                   {"rush at each closing", Kind::current, start.closing_A,
                    "what the pre-charge leaves / the loop's resistance"},
                   {"makes without welding", Kind::current, make, "contactor.current_make"}},
          .guards = {reaches(make, start.closing_A, "the rush is within what it makes",
                             "contactor.current_make", "closing-current"),
                     answered(s, "the bus is filled before it closes",
                              "wiring.precharge_before_close", "start-order"),
                     answered(s, "a welded contact is noticed at the next key-on",
                              "wiring.weld_detection", "weld-noticed"),
                     answered(s, "the kill switch also takes the controller's enable away",
                              "wiring.kill_disables_controller", "kill-switch"),
                     answered(s, "the disconnect breaks the drive's current",
                              "disconnect.load_break", "disconnect-under-load"),
                     answered(s, "the rider reaches the disconnect", "disconnect.by_hand_in_reach",
                              "disconnect-in-reach")},
          .caution =
              "Before work: disconnect open, and the bus below 10 V on a meter. A key that "
              "is off proves nothing."};
}

Failure precharge_open(Readings& s, const StartSums& start) {
  const double make = s.ask("contactor.current_make");
  return {.id = "precharge-open",
          .title = "The pre-charge does not fill the bus",
          .happens =
              "Resistor, its fuse or its relay is open. A timer does not know: it closes the "
              "contactor onto empty capacitors. Once may pit the contacts, a few times weld "
              "them; then it is the failure above.",
          .noticed = "A bang instead of a click.",
          .sums = {{"rush onto an empty bus", Kind::current, start.closing_empty_A,
                    shown(start.voltage_V, Kind::voltage) + " / the loop's resistance"},
                   {"makes without welding", Kind::current, make, "contactor.current_make"}},
          .guards = {reaches(make, start.closing_empty_A, "even that is within what it makes",
                             "contactor.current_make", "closing-current"),
                     answered(s, "what closes it waits until the bus is full",
                              "wiring.precharge_before_close", "start-order"),
                     {std::isnan(start.stuck_J) ? Standing::unanswered : Standing::there,
                      "a start that takes too long is given up", "precharge.time_out",
                      "precharge-time-out"},
                     answered(s, "a welded contact is noticed at the next key-on",
                              "wiring.weld_detection", "weld-noticed")},
          .caution =
              "Never bridge the pre-charge to get home, and keep the face away from a "
              "contactor that has banged: it may not open again."};
}

Failure supply_lost(Readings& s, const Circuit& circuit, const Sizing& sizing) {
  const SupplySums supply = supply_sums(s, circuit, sizing);
  const double peak = s.ask("limits.battery_current");
  const double breaks = s.ask("contactor.current_break");
  return {.id = "supply-lost",
          .title = "12 V goes while riding",
          .happens =
              "Converter dead, its fuse blown or a plug out: lamps, horn and the contactor's "
              "coil live on the buffer, as long as there is one. Then the contactor lets go "
              "under whatever current flows, drive and motor braking end, and it is dark.",
          .noticed = "Lamps dim, the display resets; at once where there is no buffer.",
          .sums = {{"lamps and coil live on for", Kind::time, s.has("buffer") ? supply.hold_s : 0,
                    "half the buffer's charge / what is on at night"},
                   {"battery current at that moment, at most", Kind::current, peak,
                    "limits.battery_current"},
                   {"the contactor breaks", Kind::current, breaks, "contactor.current_break"}},
          .guards = {part(s, "a buffer holds lamps and coil", "buffer", "buffer.capacity",
                          "missing-buffer"),
                     reaches(supply.hold_s, 600, "it holds for ten minutes", "buffer.capacity",
                             "lamps-on-buffer"),
                     answered(s, "the horn hangs on the buffer", "wiring.horn_on_buffer",
                              "horn-with-contactor-open"),
                     answered(s,
                              "the converter has its own fuse, so that its fault takes nothing "
                              "else along",
                              "wiring.dcdc_fuse", "converter-fuse"),
                     reaches(breaks, peak, "the contactor breaks the drive's current",
                             "contactor.current_break", "contactor-break-current"),
                     answered(s, "torque goes to zero before it opens",
                              "wiring.torque_zero_before_open", "off-order")},
          .caution =
              "When lamps dim, roll to the side at once: the buffer is for that, not for the "
              "way home."};
}

Failure monitor_opens(Readings& s, double full_V) {
  const bool on = !s.no("limits.regen");
  const double amps = on ? s.ask("limits.regen_current") : 0;
  const double absolute_V =
      s.or_else("controller.voltage_absolute", s.ask("controller.voltage_max"));
  const double farad = s.ask("controller.capacitance");
  const double time_s = amps > 0    ? farad * (absolute_V - full_V) / amps
                        : amps == 0 ? std::numeric_limits<double>::infinity()
                                    : std::numeric_limits<double>::quiet_NaN();
  const double emf_V = s.ask("motor.speed_max") / s.ask("motor.speed_constant");
  return {
      .id = "monitor-opens-while-braking",
      .title = "The cell monitor opens while the motor brakes",
      .happens = on ? "The pack is gone, the motor still feeds: the controller's capacitors "
                      "alone take the current and the bus shoots up until something gives way. "
                      "Then the rear wheel is free again, in mid-bend."
                    : "Motor braking is off: nothing feeds the bus but a motor spun faster than "
                      "its volts allow.",
      .noticed = "On a full pack, on a cold morning, at the first long hill.",
      .sums = {{"from full pack to the controller's end", Kind::time, time_s,
                shown(farad, Kind::capacitance) + " x (" + shown(absolute_V, Kind::voltage) +
                    " - " + shown(full_V, Kind::voltage) + ") / " + shown(amps, Kind::current)},
               {"motor's own volts at its highest speed", Kind::voltage, emf_V,
                shown(s.ask("motor.speed_max"), Kind::rotation) + " / " +
                    shown(s.ask("motor.speed_constant"), Kind::motor_constant)},
               {"voltage that destroys the controller", Kind::voltage, absolute_V,
                "controller.voltage_absolute, else its highest"}},
      .guards = {answered(s, "the monitor tells the controller before it opens",
                          "bms.warns_controller", "monitor-opens-while-braking"),
                 answered(s, "the controller gives braking up by itself at high voltage",
                          "controller.regen_fold_back", "monitor-opens-while-braking"),
                 reaches(full_V, s.ask("limits.regen_voltage_max"),
                         "braking fades before the pack is full", "limits.regen_voltage_max",
                         "fade-before-cut-high"),
                 answered(s, "weak braking in the cold", "limits.cold_limit", "regen-in-cold"),
                 reaches(absolute_V, emf_V, "the motor alone does not reach the controller's end",
                         "controller.voltage_absolute", "")},
      .caution = "The kill switch opens the same path: close the grip first, then the switch."};
}

Failure touched(Readings& s, double full_V) {
  const double ohm = s.ask("wiring.isolation_resistance");
  const auto touch = [&](double leak_ohm, double other_ohm) {
    return model::isolation_touch_A<double>({full_V, leak_ohm, other_ohm}, body_ohm);
  };
  return {
      .id = "isolation-and-touch",
      .title = "One pole touches the frame, and then a hand the other",
      .happens =
          "The first fault does nothing: nothing trips, the bike rides on, and the frame "
          "is a pole of the pack. The second one is a hand: current flows through it "
          "until it lets go, if it can.",
      .noticed = "Not at all, unless it is measured or watched.",
      .sums = {{"through a hand now, isolation as measured", Kind::current, touch(ohm, ohm),
                shown(full_V, Kind::voltage) + " / (" + shown(ohm, Kind::resistance) + " + 2 x " +
                    shown(body_ohm, Kind::resistance) + ")"},
               {"through a hand with one pole on the frame", Kind::current, full_V / body_ohm,
                shown(full_V, Kind::voltage) + " / " + shown(body_ohm, Kind::resistance)},
               {"isolation asked for", Kind::resistance, 500 * full_V,
                "500 ohm x " + shown(full_V, Kind::voltage) + " (UN R136)"}},
      .guards =
          {reaches(ohm, 500 * full_V, "isolation measured and above what is asked",
                   "wiring.isolation_resistance", "isolation-to-frame"),
           reaches(0.1, s.ask("wiring.bond_resistance"), "every case is bonded to the frame",
                   "wiring.bond_resistance", "enclosure-bond"),
           answered(s, "the converter parts pack and 12 V", "dcdc.isolated", "converter-isolated"),
           answered(s, "the charger parts pack and mains", "charger.isolated", "charger-isolated"),
           answered(s, "an opened lid takes the contactor out", "wiring.lid_switch", "lid-switch"),
           answered(s, "the pack can be split for work", "pack.mid_disconnect", ""),
           answered(s, "labels at every cover", "wiring.labels", "")},
      .caution = full_V <= 60
                     ? "Below 60 V it seldom kills; wet, through a cut, or off a ladder it may. "
                       "Measure isolation each spring, and after every fall."
                     : "Over 60 V it can kill. Measure isolation each spring and after every "
                       "fall; one hand, dry gloves, nobody else at the bike."};
}

}  // namespace

std::string_view word(Guard::Standing standing) {
  constexpr std::array<std::string_view, 3> words{"there", "lacking", "not answered"};
  return words[static_cast<std::size_t>(standing)];
}

std::vector<Failure> failures(Readings& s, const Circuit& circuit, const Sizing& sizing) {
  const StartSums start = start_sums(s);
  return {contactor_stuck(s, start), precharge_open(s, start), supply_lost(s, circuit, sizing),
          monitor_opens(s, start.voltage_V), touched(s, start.voltage_V)};
}

}  // namespace ww::wiring
