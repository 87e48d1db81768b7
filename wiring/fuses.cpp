// SPDX-License-Identifier: MIT
#include "wiring/fuses.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "figure/units.h"
#include "model/fuse.h"
#include "model/short_circuit.h"
#include "model/wire_tables.h"
#include "wiring/currents.h"

namespace ww::wiring {

namespace {

using figure::Kind;
constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

/// Slowest operation of blade fuses at 2, 3.5 and 6 times the rating: ISO 8820-3, from memory;
/// beyond, the same I2t.
FusePoints blade_curve(double rating_A) {
  return {{{2 * rating_A, 5},
           {3.5 * rating_A, 0.5},
           {6 * rating_A, 0.1},
           {10 * rating_A, 0.1 * 36 / 100}}};
}

/// What a curve's last point lets through; a short melts it there or beyond.
double melting_A2s(const FusePoints& curve) {
  return curve.back().current_A * curve.back().current_A * curve.back().time_s;
}

bool feeds_from_pack(const Wire& wire) {
  return wire.carries == Carries::sense ||
         (wire.group != Group::supply && wire.group != Group::interlock &&
          wire.group != Group::signal);
}

/// The rating a branch takes for its load.
double branch_needs_A(Carries carries, const Duty& load) {
  switch (carries) {
    case Carries::converter_in:
      return model::fuse_rating_needed_A(load.peak_A, 0.0);
    case Carries::converter_out:
    case Carries::loop:
    case Carries::buffer:
      return std::max(model::fuse_rating_needed_A(load.rms_A, 0.0), load.peak_A);
    case Carries::precharge:
      return std::isnan(load.peak_A)
                 ? unknown
                 : std::max(0.5 * load.peak_A,
                            1.0);  // a pulse of a second; half lets a stuck one blow
    default:
      return std::max(model::fuse_rating_needed_A(load.rms_A, 0.0), 2.0);
  }
}

FusePick main_pick(Readings& sheet, std::string_view id, Duties& duties) {
  const double rating = sheet.need("fuse.current");
  const FusePoints curve = fuse_points(rating, {.at_2x_s = sheet.ask("fuse.melt_time_2x"),
                                                .at_3x_s = sheet.ask("fuse.melt_time_3x"),
                                                .at_5x_s = sheet.ask("fuse.melt_time_5x"),
                                                .at_10x_s = sheet.ask("fuse.melt_time_10x")});
  return {std::string(id),
          true,
          true,
          rating,
          sheet.need("fuse.clearing_i2t"),
          curve,
          duties.of(Carries::traction)};
}

FusePick branch_pick(const Circuit& circuit, Readings& sheet, Duties& duties, const Wire& first) {
  FusePick pick{first.fuse, false, feeds_from_pack(first),  unknown,
                unknown,    {},    duties.of(first.carries)};
  Carries carries = first.carries;
  for (const Wire& wire : circuit.wires) {
    if (wire.fuse != first.fuse || wire.carries == Carries::signal) continue;
    const Duty duty = duties.of(wire.carries);
    if (duty.peak_A > pick.load.peak_A) carries = wire.carries;
    pick.load.rms_A = std::max(pick.load.rms_A, duty.rms_A);
    pick.load.peak_A = std::max(pick.load.peak_A, duty.peak_A);
  }
  pick.rating_A = branch_rating_A(branch_needs_A(carries, pick.load));
  if (first.fuse == "sense_fuses") pick.rating_A = 1;
  if (const double stated = sheet.ask("controller.logic_fuse");
      first.fuse == "logic_fuse" && stated > 0)
    pick.rating_A = stated;
  pick.curve =
      pick.on_pack ? fuse_points(pick.rating_A, slowest_usual) : blade_curve(pick.rating_A);
  // Arcing lets about as much through again: common practice, no source.
  pick.clearing_A2s = 2 * melting_A2s(pick.curve);
  return pick;
}

/// The pack as a source of fault current, empty on the coldest day.
PackSource weakest_pack(Readings& sheet) {
  return {.voltage_unit_V = sheet.need("cell.voltage_min"),
          .series = sheet.need("pack.series"),
          .parallel = sheet.need("pack.parallel"),
          .resistance_unit_ohm = sheet.need("cell.resistance"),
          .link_ohm = sheet.ask("pack.link_resistance"),
          .outside_ohm = sheet.ask("pack.loop_resistance"),
          .cell_K = sheet.ask("surroundings.coldest"),
          .activation_kJpmol = sheet.ask("assumed.cell_activation")};
}

/// The weakest short behind a fuse: through all its wires.
double weakest_A(Readings& sheet, const FusePick& pick, double wires_ohm) {
  if (pick.on_pack) {
    PackSource pack = weakest_pack(sheet);
    if (!pick.main) pack.outside_ohm += wires_ohm;
    return loop_short_A(pack);
  }
  const double volts = supply_V(sheet);
  if (!sheet.has("buffer")) return sheet.ask("dcdc.current_out");
  const double through = volts / wires_ohm, most = sheet.ask("buffer.current_max");
  return std::isnan(most) ? through : std::min(through, most);
}

std::string amps(double value) {
  return figure::print(value, Kind::current);
}

void judge(SizedFuse& f, const FusePick& pick, double full_V) {
  const auto against = [&](std::string text) { f.against.push_back(std::move(text)); };
  if (f.rms_A > f.rms_limit_A)
    against("carries " + amps(f.rms_A) + " for long, " + amps(f.rms_limit_A) +
            " are left of its rating in the warm");
  if (f.peak_A > 0.9 * f.melts_A)
    against("a peak of " + amps(f.peak_A) + " melts it within " +
            figure::print(f.peak_time_s, Kind::time));
  if (f.clears_s > 5)
    against("the weakest short, " + amps(f.weakest_A) + ", is not cleared within 5 s");
  if (!pick.main && pick.rating_A > f.carries_A * (1 + 1e-9))
    against("rated " + amps(pick.rating_A) + ", but the thinnest wire behind it carries " +
            amps(f.carries_A));
  if (pick.on_pack && full_V > 58 && f.kind.rfind("blade", 0) == 0)
    against("a blade fuse does not break " + figure::print(full_V, Kind::voltage));
}

SizedFuse look_at(const Circuit& circuit, Readings& sheet, const FusePick& pick,
                  const std::vector<SizedWire>& wires) {
  SizedFuse f{};
  f.id = pick.id;
  f.label = circuit.device(pick.id) == nullptr ? pick.id : circuit.device(pick.id)->label;
  f.main = pick.main;
  f.rating_A = pick.rating_A;
  const double full_V = sheet.need("pack.series") * sheet.need("cell.voltage_max");
  f.voltage_V = pick.on_pack ? full_V : 16;
  f.interrupt_A =
      pick.on_pack ? 1.5 * strongest_short_A({.voltage_unit_V = sheet.need("cell.voltage_max"),
                                              .series = 1,
                                              .parallel = sheet.need("pack.parallel"),
                                              .resistance_unit_ohm = sheet.need("cell.resistance"),
                                              .link_ohm = 0,
                                              .outside_ohm = 0})
                   : sheet.ask("buffer.current_max");
  f.kind = pick.main ? "as on the sheet" : pick.on_pack ? "DC, small" : "blade, 32 V";
  f.rms_A = pick.load.rms_A;
  f.rms_limit_A = model::fuse_derated_A<double>(
      {.current_A = pick.rating_A, .temperature_rated_K = 298.15, .temperature_limit_K = 423.15},
      sheet.ask("surroundings.hottest") + under_cover_K);
  f.peak_A = pick.load.peak_A;
  f.peak_time_s = pick.main ? sheet.or_else("controller.burst_time", 30) : 0.5;
  f.melts_A = model::fuse_melting_current_A<double>(pick.curve, f.peak_time_s);
  double ohm = 0;
  f.carries_A = std::numeric_limits<double>::infinity();
  for (const SizedWire& wire : wires) {
    const Wire& drawn = circuit.wires[static_cast<std::size_t>(wire.wire)];
    if (drawn.fuse != pick.id) continue;
    ohm += wire.resistance_ohm;
    f.carries_A = std::min(f.carries_A, wire.carries_A);
  }
  f.weakest_A = weakest_A(sheet, pick, ohm);
  f.clears_s = model::fuse_melting_time_s<double>(pick.curve, f.weakest_A);
  judge(f, pick, full_V);
  return f;
}

}  // namespace

std::vector<FusePick> pick_fuses(const Circuit& circuit, Readings& sheet, Duties& duties) {
  std::vector<FusePick> out;
  for (const Wire& wire : circuit.wires) {
    const bool known = std::any_of(out.begin(), out.end(),
                                   [&](const FusePick& pick) { return pick.id == wire.fuse; });
    if (wire.fuse.empty() || known) continue;
    out.push_back(wire.fuse == "fuse" || wire.fuse == "second_fuse"
                      ? main_pick(sheet, wire.fuse, duties)
                      : branch_pick(circuit, sheet, duties, wire));
  }
  return out;
}

std::vector<SizedFuse> look_at_fuses(const Circuit& circuit, Readings& sheet,
                                     const std::vector<FusePick>& picks,
                                     const std::vector<SizedWire>& wires) {
  std::vector<SizedFuse> out;
  out.reserve(picks.size());
  for (const FusePick& pick : picks) out.push_back(look_at(circuit, sheet, pick, wires));
  return out;
}

}  // namespace ww::wiring
