// SPDX-License-Identifier: MIT
#include "plan/listing.h"

#include <cmath>
#include <numbers>

#include "base/text.h"

namespace ww::plan {

namespace {

using figure::Convention;
using figure::Figure;
using figure::Kind;

std::optional<double> said(const Figure& figure) {
  return figure.known() ? std::optional<double>(figure.value) : std::nullopt;
}

bool magnets(build::MotorType type) {
  return type == build::MotorType::pm_hub || type == build::MotorType::pm_radial ||
         type == build::MotorType::pm_axial;
}

void fill(Figure& figure, double value, double share, std::string note) {
  if (figure.known()) return;
  figure.value = value;
  figure.half_width = value * share;
  figure.evidence = figure::Evidence::guess;
  figure.note = std::move(note);
}

std::vector<std::string> assumption_words(const model::Assumptions& assumptions) {
  std::vector<std::string> out;
  for (int i = 0; i < static_cast<int>(model::Assumption::count); ++i) {
    const auto a = static_cast<model::Assumption>(i);
    if (assumptions.has(a)) out.emplace_back(model::assumption_text(a));
  }
  return out;
}

}  // namespace

model::MotorListing listing_of(const build::Motor& motor) {
  model::MotorListing l;
  l.speed_constant_radpsV = said(motor.speed_constant);
  if (motor.speed_constant.convention != Convention::unsaid) {
    l.speed_constant_convention = motor.speed_constant.convention == Convention::rms
                                      ? model::VoltageConvention::line_line_rms
                                      : model::VoltageConvention::line_line_peak;
  }
  l.torque_constant_NmA = said(motor.torque_constant);
  switch (motor.torque_constant.convention) {
    case Convention::dc:
      l.torque_constant_convention = model::CurrentConvention::dc_six_step;
      break;
    case Convention::peak:
      l.torque_constant_convention = model::CurrentConvention::phase_peak;
      break;
    case Convention::rms:
      l.torque_constant_convention = model::CurrentConvention::phase_rms;
      break;
    case Convention::unsaid:
      break;
  }
  l.voltage_rated_V = said(motor.no_load_voltage);
  l.speed_rated_radps = said(motor.rated_speed);
  l.resistance_ohm = said(motor.resistance);
  if (motor.resistance_between != build::ResistanceBetween::unknown) {
    l.resistance_convention = motor.resistance_between == build::ResistanceBetween::phase
                                  ? model::WindingConvention::phase_star
                                  : model::WindingConvention::line_line;
  }
  l.inductance_H = said(motor.inductance);
  l.inductance_convention = model::WindingConvention::line_line;
  if (motor.no_load_current.known() && motor.no_load_voltage.known()) {
    l.no_load = model::NoLoad<double>{.voltage_V = motor.no_load_voltage.value,
                                      .current_A = motor.no_load_current.value};
  }
  l.power_continuous_W = said(motor.power_continuous);
  if (motor.power_peak.known()) {
    l.peak = model::PeakRating{.power_W = motor.power_peak.value, .time_s = said(motor.peak_time)};
  }
  l.mass_kg = said(motor.mass);
  if (motor.pole_pairs > 0) l.pole_pairs = motor.pole_pairs;
  if (motor.saliency.known() && motor.saliency.value < 1.02) l.magnets = model::Magnets::surface;
  return l;
}

bool thin_listing(const build::Motor& motor) {
  const bool constant = motor.speed_constant.known() || motor.torque_constant.known() ||
                        (motor.rated_speed.known() && motor.no_load_voltage.known());
  const bool lacks = !motor.resistance.known() || motor.pole_pairs == build::unknown_count ||
                     !motor.inductance.known() ||
                     !(motor.speed_constant.known() || motor.torque_constant.known()) ||
                     motor.resistance_between == build::ResistanceBetween::unknown;
  return magnets(motor.type) && constant && lacks &&
         (motor.resistance.known() || motor.power_continuous.known());
}

build::Motor read_listing(const build::Motor& motor, std::vector<std::string>& assumed) {
  build::Motor out = motor;
  const auto found = model::identify(listing_of(motor));
  if (found.count == 0) return out;
  const model::MotorReading& best = found.readings[0];
  const auto& m = best.motor;
  const std::string note = "read from a thin listing";
  if (!motor.torque_constant.known()) {
    fill(out.speed_constant, 1 / (std::numbers::sqrt3 * m.pole_pairs * m.flux_peak_Wb),
         best.spread.flux, note);
  }
  if (!motor.speed_constant.known() && out.speed_constant.known()) {
    out.speed_constant.convention = Convention::dc;
  }
  if (!motor.resistance.known()) {
    fill(out.resistance, 2 * m.resistance_phase_ohm, best.spread.resistance, note);
    out.resistance_between = build::ResistanceBetween::line_line;
  } else if (motor.resistance_between == build::ResistanceBetween::unknown) {
    out.resistance_between = best.resistance_convention == model::WindingConvention::phase_star
                                 ? build::ResistanceBetween::phase
                                 : build::ResistanceBetween::line_line;
  }
  fill(out.inductance, m.inductance_d_H + m.inductance_q_H, best.spread.inductance, note);
  if (out.pole_pairs == build::unknown_count)
    out.pole_pairs = static_cast<int>(std::lround(m.pole_pairs));
  if (!motor.mass.known() && motor.power_continuous.known()) {
    fill(out.mass, motor.power_continuous.value / 600, 0.3, note);
  }
  for (auto& text : assumption_words(best.assumptions)) assumed.push_back("motor: " + text);
  return out;
}

std::string listing_text(const build::Motor& motor, figure::System units) {
  const auto found = model::identify(listing_of(motor));
  std::string out;
  for (std::size_t i = 0; i < found.count; ++i) {
    const auto& r = found.readings[i];
    const auto& m = r.motor;
    out += "  Reading " + std::to_string(i + 1) + ", " + fixed(100 * r.weight, 0) + " % likely:\n";
    const auto line = [&](const char* what, double value, double share, Kind kind) {
      out += "    " + std::string(what) + " " + figure::print(value, value * share, kind, units) +
             "\n";
    };
    line("no-load speed per battery volt",
         1 / (std::numbers::sqrt3 * m.pole_pairs * m.flux_peak_Wb), r.spread.flux,
         Kind::motor_constant);
    line("resistance between two leads", 2 * m.resistance_phase_ohm, r.spread.resistance,
         Kind::resistance);
    line("inductance between two leads", m.inductance_d_H + m.inductance_q_H, r.spread.inductance,
         Kind::inductance);
    line("drag torque that does not grow with speed", m.drag_constant_Nm, r.spread.drag,
         Kind::torque);
    for (const auto& text : assumption_words(r.assumptions)) out += "    - " + text + "\n";
  }
  return out.empty() ? "  The listing says too little: a motor constant, or a rated speed with its "
                       "voltage, is needed.\n"
                     : out;
}

}  // namespace ww::plan
