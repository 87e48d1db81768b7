// SPDX-License-Identifier: MIT
#include "wiring/sizing.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "model/ampacity.h"
#include "model/short_circuit.h"
#include "model/wire.h"
#include "model/wire_tables.h"
#include "wiring/cautions.h"
#include "wiring/conductor.h"
#include "wiring/currents.h"
#include "wiring/fuses.h"

namespace ww::wiring {

namespace {

constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
constexpr double square_mm = 1e-6;

/// Sizes that are sold: below 1.5 mm2 those of vehicle wire, from there on IEC 60228 class 5.
std::vector<double> usual_sections() {
  std::vector<double> out{0.5 * square_mm, 0.75 * square_mm, 1.0 * square_mm};
  for (const auto& size : model::class5_sizes()) out.push_back(size.section_m2);
  return out;
}

bool heavy(Carries carries) {
  return carries == Carries::traction || carries == Carries::phase;
}

bool powers(Carries carries) {
  return carries != Carries::signal && carries != Carries::sense && carries != Carries::bond &&
         carries != Carries::mains;
}

bool on_pack(Group group) {
  return group == Group::traction || group == Group::motor || group == Group::precharge ||
         group == Group::charging || group == Group::converter;
}

/// What is known of the whole circuit, read once.
struct Scene {
  const Circuit* circuit;
  Readings sheet;
  Duties duties;
  double full_V, nominal_V, supply_V, hottest_K;
  bool dangerous;
  std::vector<FusePick> fuses;

  Scene(const build::Build& build, const Circuit& c, const ride::Ride& ride)
      : circuit(&c), sheet(build), duties(sheet, ride) {
    const double series = sheet.need("pack.series");
    full_V = series * sheet.need("cell.voltage_max");
    nominal_V = series * sheet.need("cell.voltage_nominal");
    supply_V = wiring::supply_V(sheet);
    hottest_K = sheet.need("surroundings.hottest");
    dangerous = !(full_V <= 60);
    fuses = pick_fuses(c, sheet, duties);
  }
  const FusePick* fuse(std::string_view id) const {
    const auto at =
        std::find_if(fuses.begin(), fuses.end(), [&](const FusePick& f) { return f.id == id; });
    return at == fuses.end() ? nullptr : &*at;
  }
  /// Length of all wires behind one fuse, which share its voltage drop.
  double branch_m(const Wire& wire) const {
    double sum = 0;
    for (const Wire& other : circuit->wires) {
      const bool same = heavy(wire.carries) ? other.carries == wire.carries
                                            : other.fuse == wire.fuse && powers(other.carries);
      if (same && other.group == wire.group) sum += other.length_m;
    }
    return sum;
  }
};

/// Whether it shares the long bundle of the 12 V loom; the others lie with two or three.
bool in_loom(const Wire& wire) {
  return !on_pack(wire.group) && wire.carries != Carries::converter_out &&
         wire.carries != Carries::buffer;
}

/// Where a wire lies and what it is made of, for a section.
CableFigures figures_of(const Scene& scene, const Wire& wire, double section_m2) {
  const Readings& s = scene.sheet;
  if (!heavy(wire.carries)) {
    const double loaded = s.or_else("loom.loaded_wires", 7);
    return {.section_m2 = section_m2,
            .resistance_ohmpm = unknown,
            .outer_diameter_m = unknown,
            .bundled = in_loom(wire) ? model::bundle_factor(loaded) : model::bundle_factor(3.0),
            .hottest_K = scene.hottest_K,
            .insulation_m = 0.4e-3};
  }
  const std::string slot = wire.carries == Carries::traction ? "cable_main" : "cable_phase";
  const bool as_listed = section_m2 == s.ask(slot + ".section");
  const auto sleeve = s.ask("loom.sleeve");
  const bool sleeve_said = sleeve > 0;
  const double together = wire.carries == Carries::phase ? 3 : 2;
  const bool bundled_said = s.has(slot) && !s.assumed(slot + ".bundled");
  CableFigures out{.section_m2 = section_m2,
                   .resistance_ohmpm = as_listed ? s.ask(slot + ".resistance") : unknown,
                   .outer_diameter_m = as_listed ? s.ask(slot + ".outer_diameter") : unknown,
                   .bundled = sleeve_said && !bundled_said ? model::bundle_factor(together)
                                                           : s.or_else(slot + ".bundled", 0.7),
                   .hottest_K = scene.hottest_K};
  // Trapped air counted in; thicknesses: common practice, no source.
  if (s.is("loom.sleeve", build::Sleeve::braid)) {
    out.sleeve_m = 0.8e-3;
    out.sleeve_WpmK = 0.08;
  }
  if (s.is("loom.sleeve", build::Sleeve::conduit)) {
    out.sleeve_m = 2.5e-3;
    out.sleeve_WpmK = 0.06;
  }
  return out;
}

double limit_K(const Scene& scene, const Wire& wire) {
  const double loom_K = scene.sheet.ask("loom.insulation_temperature");
  if (wire.carries == Carries::traction)
    return scene.sheet.or_else("cable_main.temperature_max", loom_K);
  if (wire.carries == Carries::phase)
    return scene.sheet.or_else("cable_phase.temperature_max", loom_K);
  return loom_K;
}

/// What a wire of a section does: every number the four ways compare.
struct Tried {
  double temperature_K, pulled_K, carries_A, withstand_A2s, drop_V, resistance_ohm;
};

Tried try_section(const Scene& scene, const Wire& wire, const Duty& duty, double section_m2) {
  const CableFigures c = figures_of(scene, wire, section_m2);
  const double ohm = cable_ohmpm(section_m2, c.resistance_ohmpm) * wire.length_m;
  const double steady_K = std::isnan(duty.rms_A) ? unknown : cable_temperature_K(c, duty.rms_A);
  // Nothing given away meanwhile: hotter than it gets.
  const double pull_s = scene.sheet.or_else("controller.burst_time", 30);
  const double pulled_K = model::adiabatic_temperature_K<double>(
      model::adiabatic_copper<double>(), {section_m2, duty.peak_A * duty.peak_A * pull_s},
      steady_K);
  return {.temperature_K = steady_K,
          .pulled_K = pulled_K,
          .carries_A = cable_current_A(c, limit_K(scene, wire)),
          .withstand_A2s = cable_withstand_A2s(section_m2, limit_K(scene, wire)),
          .drop_V = ohm * duty.peak_A,
          .resistance_ohm = ohm};
}

/// Bonds carry nothing until something fails: 4 mm2, common practice, no source.
double least_section_m2(const Readings& sheet, Carries carries) {
  if (carries == Carries::bond) return 4 * square_mm;
  return powers(carries) ? sheet.or_else("loom.section_min", 0.75e-6) : 0.5 * square_mm;
}

/// The ways of one wire with their limits; `have` is filled in for a section.
std::vector<SizedBy> ways_of(const Scene& scene, const Wire& wire, const Tried& tried,
                             double section_m2) {
  const Readings& s = scene.sheet;
  std::vector<SizedBy> ways;
  const auto at_most = [&](SizedBy::Way way, double have, double limit) {
    const bool known = !std::isnan(have) && !std::isnan(limit);
    ways.push_back({way, unknown, have, limit, !known || have <= limit, known});
  };
  at_most(SizedBy::Way::temperature, tried.temperature_K, limit_K(scene, wire));
  if (heavy(wire.carries)) at_most(SizedBy::Way::pull, tried.pulled_K, limit_K(scene, wire));
  // A main fuse may be a quarter above: overload in between is the controller's to limit.
  const double allowed = heavy(wire.carries) ? 1.25 * tried.carries_A : tried.carries_A;
  if (const FusePick* fuse = scene.fuse(wire.fuse.empty() ? wire.before : wire.fuse);
      fuse != nullptr)
    at_most(SizedBy::Way::fuse, fuse->rating_A, allowed);
  if (const FusePick* fuse = scene.fuse(wire.fuse); fuse != nullptr)
    at_most(SizedBy::Way::short_circuit, fuse->clearing_A2s, tried.withstand_A2s);
  const bool supply = !on_pack(wire.group);
  if (wire.carries != Carries::phase && powers(wire.carries) &&
      wire.carries != Carries::precharge) {
    const double whole =
        supply ? s.or_else("loom.drop_share_max", 0.03) * scene.supply_V : 0.02 * scene.nominal_V;
    at_most(SizedBy::Way::drop, tried.drop_V, whole * wire.length_m / scene.branch_m(wire));
  }
  if (!heavy(wire.carries)) {
    const double least = least_section_m2(s, wire.carries);
    ways.push_back({SizedBy::Way::strength, unknown, section_m2, least,
                    section_m2 >= least * (1 - 1e-9), true});
  }
  return ways;
}

/// The smallest usual section that is good in each way, and in all.
double find_needed(const Scene& scene, const Wire& wire, const Duty& duty,
                   std::vector<SizedBy>& ways) {
  double needed = 0;
  for (SizedBy& way : ways) {
    if (!way.known) continue;
    for (const double section : usual_sections()) {
      const Tried tried = try_section(scene, wire, duty, section);
      const auto all = ways_of(scene, wire, tried, section);
      const auto same = std::find_if(all.begin(), all.end(),
                                     [&](const SizedBy& other) { return other.way == way.way; });
      if (!same->good) continue;
      way.needed_m2 = section;
      break;
    }
    needed =
        std::isnan(way.needed_m2) || std::isnan(needed) ? unknown : std::max(needed, way.needed_m2);
  }
  return needed > 0 ? needed : unknown;
}

/// Copper lug on a steel or brass stud: from memory, the maker's sheet goes first.
struct StudTorque {
  build::Stud stud;
  double low_Nm, high_Nm;
};
constexpr std::array<StudTorque, 6> torques{{{build::Stud::m4, 1.2, 1.8},
                                             {build::Stud::m5, 2.5, 3.5},
                                             {build::Stud::m6, 4, 6},
                                             {build::Stud::m8, 9, 12},
                                             {build::Stud::m10, 17, 22},
                                             {build::Stud::m12, 30, 38}}};

LugEnd lug_end(const Scene& scene, int terminal, double section_m2) {
  const Terminal& t = scene.circuit->terminals[static_cast<std::size_t>(terminal)];
  LugEnd end{section_m2, t.stud, stud_m(t.stud) + 0.4e-3, unknown, unknown, {}};
  if (!(section_m2 >= 6 * square_mm)) return {unknown, t.stud, unknown, unknown, unknown, {}};
  const double stated = scene.sheet.ask("cell.terminal_torque");
  if (scene.circuit->device_of(terminal).id == "pack" && !std::isnan(stated)) {
    end.torque_low_Nm = 0.95 * stated;
    end.torque_high_Nm = 1.05 * stated;
    end.torque_from = "cell.terminal_torque";
    return end;
  }
  for (const StudTorque& torque : torques) {
    if (torque.stud != t.stud) continue;
    end.torque_low_Nm = torque.low_Nm;
    end.torque_high_Nm = torque.high_Nm;
    end.torque_from = "from memory; the maker's sheet goes first";
  }
  return end;
}

SizedWire size_wire(Scene& scene, int index) {
  const Wire& wire = scene.circuit->wires[static_cast<std::size_t>(index)];
  SizedWire out{};
  out.wire = index;
  out.duty = scene.duties.of(wire.carries);
  out.temperature_max_K = limit_K(scene, wire);
  const FusePick* fuse = scene.fuse(wire.fuse);
  out.fuse_A = fuse == nullptr ? unknown : fuse->rating_A;
  out.clearing_A2s = fuse == nullptr ? unknown : fuse->clearing_A2s;
  out.laid = !std::isnan(wire.section_m2);
  const double first = out.laid ? wire.section_m2 : usual_sections().front();
  auto ways = ways_of(scene, wire, try_section(scene, wire, out.duty, first), first);
  out.needed_m2 =
      wire.carries == Carries::mains ? unknown : find_needed(scene, wire, out.duty, ways);
  out.section_m2 = out.laid ? wire.section_m2 : out.needed_m2;
  const Tried tried = try_section(scene, wire, out.duty, out.section_m2);
  out.ways = ways_of(scene, wire, tried, out.section_m2);
  for (std::size_t i = 0; i < ways.size(); ++i) out.ways[i].needed_m2 = ways[i].needed_m2;
  out.temperature_K = tried.temperature_K;
  out.carries_A = tried.carries_A;
  out.withstand_A2s = tried.withstand_A2s;
  out.drop_V = tried.drop_V;
  out.resistance_ohm = tried.resistance_ohm;
  out.from_end = lug_end(scene, wire.from, out.section_m2);
  out.to_end = lug_end(scene, wire.to, out.section_m2);
  out.caution = caution_for(wire, scene.dangerous);
  return out;
}

}  // namespace

std::string_view word(SizedBy::Way way) {
  constexpr std::array<std::string_view, 6> words{"temperature",   "long pull", "fuse",
                                                  "short circuit", "drop",      "strength"};
  return words[static_cast<std::size_t>(way)];
}

const SizedWire* Sizing::wire(int index) const {
  const auto at =
      std::find_if(wires.begin(), wires.end(), [&](const SizedWire& w) { return w.wire == index; });
  return at == wires.end() ? nullptr : &*at;
}

const SizedFuse* Sizing::fuse(std::string_view id) const {
  const auto at =
      std::find_if(fuses.begin(), fuses.end(), [&](const SizedFuse& f) { return f.id == id; });
  return at == fuses.end() ? nullptr : &*at;
}

Sizing size(const build::Build& build, const Circuit& circuit, const ride::Ride& ride) {
  Scene scene(build, circuit, ride);
  Sizing out;
  for (int i = 0; i < static_cast<int>(circuit.wires.size()); ++i)
    out.wires.push_back(size_wire(scene, i));
  out.fuses = look_at_fuses(circuit, scene.sheet, scene.fuses, out.wires);
  out.missing = scene.sheet.missing();
  return out;
}

}  // namespace ww::wiring
