// SPDX-License-Identifier: MIT
#include "wiring/duty.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "model/converter.h"
#include "wiring/currents.h"

namespace ww::wiring {

namespace {

constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

double smaller(double a, double b) {
  if (std::isnan(a)) return b;
  return std::isnan(b) ? a : std::min(a, b);
}

/// A signal, or a relay's coil: common practice, no source.
constexpr double signal_A = 0.05, relay_A = 0.2, display_A = 0.3;

bool coil_on_12V(const Readings& sheet) {
  return sheet.ask("contactor.coil_voltage") < 30;
}

}  // namespace

double supply_V(const Readings& sheet) {
  return smaller(sheet.ask("dcdc.voltage_out"), sheet.ask("buffer.voltage"));
}

double supply_under_load_V(double supply_V, double load_A, double converter_A, bool buffer) {
  return !buffer && load_A > converter_A ? supply_V * converter_A / load_A : supply_V;
}

std::vector<Load12V> loads_12V(Readings& sheet) {
  const double horn = sheet.has("buffer") ? 0 : 1;
  std::vector<Load12V> out{{"head lamp", "donor.load_headlight", unknown, 1, false},
                           {"rear and stop lamps", "donor.load_rear_lamps", unknown, 1, false},
                           {"indicators", "donor.load_indicators", unknown, 0.5, false},
                           {"horn", "donor.load_horn", unknown, horn, false},
                           {"display and others", "donor.load_other", unknown, 1, false}};
  for (Load12V& load : out) {
    load.power_W = sheet.need(load.path);
    load.assumed = sheet.assumed(load.path);
  }
  return out;
}

double riding_12V_W(Readings& sheet) {
  std::vector<model::AuxiliaryLoad<double>> loads;
  for (const Load12V& load : loads_12V(sheet)) loads.push_back({load.power_W, load.share});
  double sum = model::auxiliary_power_W<double>(loads);
  if (coil_on_12V(sheet)) {
    const double coil = sheet.ask("contactor.coil_voltage") * sheet.ask("contactor.hold_current");
    if (!std::isnan(coil)) sum += coil;
  }
  return sum;
}

double worst_12V_A(Readings& sheet) {
  double sum_W = 0;
  for (const Load12V& load : loads_12V(sheet)) sum_W += load.power_W;
  const double pull_in = coil_on_12V(sheet) ? sheet.or_else("contactor.pull_in_current", 0) : 0;
  return sum_W / supply_V(sheet) + pull_in;
}

double Duties::answer(ride::Answer answer) const {
  return ride_->possible ? ride_->nominal[answer] : unknown;
}

Duty Duties::traction() {
  Readings& s = *sheet_;
  const double nominal_V = s.need("pack.series") * s.need("cell.voltage_nominal");
  const double peak = smaller(s.ask("controller.current_battery"), s.ask("limits.battery_current"));
  const double lasting = lasting_battery_A(answer(ride::Answer::current_rms),
                                           answer(ride::Answer::power_hold), nominal_V);
  if (!std::isnan(lasting))
    return {lasting, peak, "rms of the worst ten minutes of your ride; peak: what is set"};
  return {smaller(s.need("controller.current_battery_continuous"), peak), peak,
          "no ride can be worked out: the controller's continuous current stands in"};
}

Duty Duties::phase() {
  Readings& s = *sheet_;
  const double peak =
      smaller(s.ask("controller.current_phase"), s.ask("limits.phase_current")) / std::sqrt(2.0);
  const double rms = answer(ride::Answer::current_phase_rms);
  if (!std::isnan(rms)) return {rms, peak, "rms at the speed to hold; peak: what is set, as rms"};
  return {s.need("controller.current_phase_continuous") / std::sqrt(2.0), peak,
          "no ride can be worked out: the controller's continuous current stands in"};
}

Duty Duties::loop() {
  Readings& s = *sheet_;
  const double hold = s.need("contactor.hold_current");
  const double pull_in = s.need("contactor.pull_in_current");
  return {hold + 3 * relay_A, pull_in + 3 * relay_A,
          "the coil's hold current, its pull-in for a tenth of a second, and three relays"};
}

Duty Duties::lamp(std::string_view path, std::string_view what) {
  const double current = sheet_->need(path) / supply_V(*sheet_);
  return {current, current, std::string(what) + " / 12 V side's voltage"};
}

Duty Duties::pack_side(Carries carries) {
  Readings& s = *sheet_;
  const double series = s.need("pack.series");
  const double full_V = series * s.need("cell.voltage_max");
  const double nominal_V = series * s.need("cell.voltage_nominal");
  const double empty_V = series * s.need("cell.voltage_min");
  const double efficiency = s.or_else("dcdc.efficiency", 0.88);
  if (carries == Carries::precharge) {
    const double first = full_V / s.need("precharge.resistance");
    return {0, first, "full voltage / resistor at the first moment, nothing a second later"};
  }
  if (carries == Carries::converter_in) {
    const double rms = model::converter_current_in_A(riding_12V_W(s), nominal_V, efficiency);
    const double most_W = s.need("dcdc.current_out") * s.need("dcdc.voltage_out");
    return {rms, std::max(model::converter_current_in_A(most_W, empty_V, efficiency), rms),
            "12 V load at night / (nominal voltage x efficiency); peak: the converter's rating on "
            "an empty pack"};
  }
  if (carries == Carries::heater) {
    const double current = s.need("pack.heater_power") / nominal_V;
    return {current, current * full_V / nominal_V, "heater power / pack voltage"};
  }
  const double idle = s.or_else("controller.idle_power", 5) / empty_V;
  return {idle, std::max(idle, 0.5),
          "the controller's idle power / empty voltage; half an ampere "
          "while it wakes: common practice, no source"};
}

Duty Duties::of(Carries carries) {
  Readings& s = *sheet_;
  switch (carries) {
    case Carries::traction:
      return traction();
    case Carries::phase:
      return phase();
    case Carries::charge: {
      const double current = s.need("charger.current");
      return {current, current, "the charger's output current, for hours"};
    }
    case Carries::mains: {
      const double stated = s.ask("charger.current_in");
      const double current = std::isnan(stated) ? s.need("charger.power_in") /
                                                      s.or_else("surroundings.outlet_voltage", 230)
                                                : stated;
      return {current, current, "the charger's input current, for hours"};
    }
    case Carries::precharge:
    case Carries::converter_in:
    case Carries::logic:
    case Carries::heater:
      return pack_side(carries);
    case Carries::converter_out: {
      const double rms = riding_12V_W(s) / supply_V(s);
      return {rms, std::max(rms, s.or_else("dcdc.current_out", rms)),
              "12 V load at night; peak: the converter's rating"};
    }
    case Carries::buffer: {
      const double rms = riding_12V_W(s) / supply_V(s);
      return {rms, worst_12V_A(s),
              "12 V load at night with the converter dead; peak: everything on, contactor pulling "
              "in"};
    }
    case Carries::loop:
      return loop();
    case Carries::head_lamp:
      return lamp("donor.load_headlight", "head lamp's power");
    case Carries::rear_lamp:
    case Carries::stop_lamp:
      return lamp("donor.load_rear_lamps", "rear and stop lamps' power");
    case Carries::indicators:
      return lamp("donor.load_indicators", "indicators' power");
    case Carries::horn:
      return lamp("donor.load_horn", "horn's power");
    case Carries::other_load:
      return lamp("donor.load_other", "other loads' power");
    case Carries::sense: {
      const double balance = s.or_else("bms.balance_current", 0.1);
      return {balance, balance, "the monitor's balance current"};
    }
    case Carries::display:
      return {display_A, display_A, "common practice, no source"};
    default:
      return {signal_A, relay_A, "milliamps of a signal, or a relay's coil"};
  }
}

}  // namespace ww::wiring
