// SPDX-License-Identifier: MIT
#include "serve/wiring_report.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "base/text.h"

namespace ww::serve {

namespace {

using figure::Kind;
using wiring::SizedBy;
using wiring::SizedFuse;
using wiring::SizedWire;
using wiring::Wire;

/// How a number is shown; "?" where it is not known, "never" where it never happens.
class Shown {
 public:
  explicit Shown(figure::System units) : units_(units) {}
  std::string operator()(double value, Kind kind) const {
    if (std::isnan(value)) return "?";
    return std::isinf(value) ? "never" : figure::print(value, kind, units_);
  }

 private:
  figure::System units_;
};

std::string section_text(double section_m2) {
  if (std::isnan(section_m2)) return "?";
  std::string text = fixed(1e6 * section_m2, 2);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text + " mm2";
}

std::string size_text(const SizedWire& w) {
  const std::string laid = section_text(w.section_m2);
  const bool thin = w.laid && w.needed_m2 > w.section_m2 * (1 + 1e-9);
  return thin ? laid + " !" : laid;
}

/// In whole centimetres: a string measures no better.
std::string length_text(const Wire& wire, const WiringWords& options) {
  const std::string text = options.units == figure::System::imperial
                               ? figure::print(wire.length_m, Kind::length, options.units)
                               : fixed(wire.length_m, 2) + " m";
  return text + (wire.length_assumed ? "*" : "");
}

std::string fuse_text(const SizedWire& w, const Wire& wire, const wiring::Circuit& circuit) {
  if (wire.fuse.empty()) return wire.carries == wiring::Carries::phase ? "-" : "none";
  const auto* device = circuit.device(wire.fuse);
  const bool lacks = device != nullptr && device->presence == wiring::Presence::lacking;
  return (lacks ? "lacks " : "") +
         (std::isnan(w.fuse_A) ? std::string("?") : figure::print(w.fuse_A, Kind::current));
}

bool sized_by_current(const Wire& wire) {
  return wire.carries != wiring::Carries::signal && wire.carries != wiring::Carries::bond &&
         wire.carries != wiring::Carries::sense && wire.carries != wiring::Carries::mains;
}

Told cautions_text(const Wired& w, wiring::Group group) {
  std::vector<std::pair<std::string, std::vector<std::string>>> said;
  for (const SizedWire& sized : w.sizing.wires) {
    const Wire& wire = w.circuit.wires[static_cast<std::size_t>(sized.wire)];
    if (wire.group != group || sized.caution.empty()) continue;
    const auto at = std::find_if(said.begin(), said.end(),
                                 [&](const auto& one) { return one.first == sized.caution; });
    if (at == said.end()) {
      said.push_back({sized.caution, {wire.label}});
    } else {
      at->second.push_back(wire.label);
    }
  }
  Told out;
  for (const auto& [text, labels] : said)
    out += told_line("CAUTION at " + join(labels, ", ") + ": " + text, 4, "  ");
  return out;
}

Told group_text(const Wired& w, wiring::Group group, const WiringWords& options) {
  Columns table({false, false, false, true, true, true, false});
  table.row({"", "from", "to", "length", "size", "fuse", "colour"});
  Told whys;
  bool any = false;
  for (const SizedWire& sized : w.sizing.wires) {
    const Wire& wire = w.circuit.wires[static_cast<std::size_t>(sized.wire)];
    if (wire.group != group) continue;
    any = true;
    const std::string label =
        wire.label + (wire.cores > 1 ? " x" + std::to_string(wire.cores) : "");
    table.row({label, w.circuit.end_text(wire.from), w.circuit.end_text(wire.to),
               length_text(wire, options), size_text(sized), fuse_text(sized, wire, w.circuit),
               wire.colour});
    if (options.all)
      whys += told_line(wire.label + ": " + wire.why + "." +
                            (wire.route.empty() ? "" : " Route: " + wire.route + "."),
                        6, "    ");
  }
  if (!any) return {};
  std::string name(word(group));
  name.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(name.front())));
  return told_heading(name) + told_table(table) + whys + cautions_text(w, group);
}

Told gaps_text(const Wired& w, const WiringWords& options) {
  Told out;
  int open = 0;
  for (const auto& gap : w.circuit.gaps) {
    if (gap.kind == wiring::Gap::Kind::unanswered && !options.all) {
      ++open;
      continue;
    }
    const bool asked = gap.kind == wiring::Gap::Kind::unanswered;
    out += told_line(gap.what + " " + gap.because + " " + gap.way_out +
                         (gap.rule.empty() ? "" : " (" + gap.rule + ")"),
                     4, asked ? "  ? " : "  ! ");
  }
  if (open > 0)
    out += told_line("Drawn as usual because nobody has answered: " + std::to_string(open) +
                         "; --all lists them.",
                     2);
  return out.empty() ? out : told_heading("Lacking, or joined wrongly") + out;
}

Told sizing_text(const Wired& w, const Shown& shown) {
  Columns table({false, true, true, true, true, true, true, false});
  table.row({"", "rms", "peak", "warm", "limit", "carries", "loses", "needs, decided by"});
  for (const SizedWire& sized : w.sizing.wires) {
    const Wire& wire = w.circuit.wires[static_cast<std::size_t>(sized.wire)];
    if (!sized_by_current(wire)) continue;
    std::string decided;
    for (const SizedBy& way : sized.ways) {
      if (way.known && way.needed_m2 == sized.needed_m2) decided = std::string(word(way.way));
    }
    table.row({wire.label, shown(sized.duty.rms_A, Kind::current),
               shown(sized.duty.peak_A, Kind::current),
               shown(sized.temperature_K, Kind::temperature),
               shown(sized.temperature_max_K, Kind::temperature),
               shown(sized.carries_A, Kind::current), shown(sized.drop_V, Kind::voltage),
               std::isnan(sized.needed_m2) ? "?" : section_text(sized.needed_m2) + ", " + decided});
  }
  return told_heading("What each wire carries") + told_table(table) +
         told_line(
             "Warm: steady, in still air 10 K over the hottest day, sleeve and bundle counted. "
             "Needs: the smallest usual size that is cool enough, stands its fuse's rating and "
             "a short until the fuse has cleared, and loses little enough. '!' beside a size: "
             "what is laid is thinner. '*': a usual length, not yet measured.",
             2);
}

Told lugs_text(const Wired& w, const Shown& shown) {
  Columns table({false, false, true, false, true, false});
  table.row({"wire, end", "at", "barrel", "stud", "hole", "torque"});
  bool any = false;
  for (const SizedWire& sized : w.sizing.wires) {
    const Wire& wire = w.circuit.wires[static_cast<std::size_t>(sized.wire)];
    for (const auto& [end, terminal] :
         {std::pair{&sized.from_end, wire.from}, std::pair{&sized.to_end, wire.to}}) {
      if (std::isnan(end->barrel_m2)) continue;
      any = true;
      const bool welded = end->stud == build::Stud::weld;
      table.row({wire.label, w.circuit.end_text(terminal), section_text(end->barrel_m2),
                 end->stud == build::Stud::unknown ? "measure it first"
                                                   : std::string(wiring::word(end->stud)),
                 welded ? "" : shown(end->hole_m, Kind::length),
                 std::isnan(end->torque_low_Nm)
                     ? "the maker's sheet"
                     : figure::print(end->torque_low_Nm, Kind::torque) + " to " +
                           figure::print(end->torque_high_Nm, Kind::torque)});
    }
  }
  if (!any) return {};
  return told_heading("Lugs") + told_table(table) +
         told_line(
             "Torques are from memory; the part's own sheet goes first. A lug lies flat, "
             "nothing between it and its face. Sleeve and label go on before the second lug. "
             "Pull every crimp by hand, 40 kg for 35 mm2; mark every bolt once it is tight.",
             2);
}

Told fuses_text(const Wired& w, const Checked& checked, const Shown& shown) {
  Columns table({false, true, false, true, true});
  table.row({"", "rating", "kind", "must break", "at"});
  Columns curve({false, true, true, true, true, true, true});
  curve.row({"", "rms", "left warm", "peak", "melts it", "weakest short", "melts in"});
  Told against;
  for (const SizedFuse& f : w.sizing.fuses) {
    table.row({f.label, shown(f.rating_A, Kind::current), f.kind,
               shown(f.interrupt_A, Kind::current), shown(f.voltage_V, Kind::voltage) + " DC"});
    curve.row({f.label, shown(f.rms_A, Kind::current), shown(f.rms_limit_A, Kind::current),
               shown(f.peak_A, Kind::current), shown(f.melts_A, Kind::current),
               shown(f.weakest_A, Kind::current),
               f.clears_s < 1e-3 ? "under 1 ms" : shown(f.clears_s, Kind::time)});
    for (const auto& text : f.against) against += told_line(f.label + ": " + text + ".", 4, "  ! ");
  }
  Told out = told_heading("Fuses") + told_table(table) + told_gap() + told_table(curve) + against;
  for (const auto& finding : checked.findings) {
    const std::string_view id = finding.rule->id;
    if (id.substr(0, 5) == "fuse-" || id == "weakest-short-clears")
      out += told_line(std::string(word(finding.verdict)) + ": " + finding.because + " (" +
                           std::string(id) + ")",
                       4, "  - ");
  }
  return out + told_line(
                   "CAUTION: a fuse is changed with the service disconnect open and the bus "
                   "measured. One that breaks more than it is made for explodes; an AC rating "
                   "says nothing about DC.",
                   4, "  ");
}

Told supply_text(const Wired& w, const Shown& shown) {
  const auto& s = w.supply;
  Columns table({false, true, true});
  table.row({"load", "power", "counts at night"});
  for (const auto& load : s.loads)
    table.row({std::string(load.label),
               shown(load.power_W, Kind::power) + (load.assumed ? " *" : ""),
               shown(load.share, Kind::share)});
  Told out = told_heading("12 V side") + told_table(table);
  out += told_line("Riding at night, contactor's coil counted: " + shown(s.riding_W, Kind::power) +
                       "; the converter gives " + shown(s.converter_W, Kind::power) + ".",
                   4, "  ");
  out +=
      told_line("Everything on and the contactor pulling in: " + shown(s.worst_A, Kind::current) +
                    "; converter " + shown(s.converter_A, Kind::current) + ", buffer " +
                    shown(s.buffer_A, Kind::current) + ".",
                4, "  ");
  out += told_line("Then " + shown(s.loss_V, Kind::voltage) + " of " +
                       shown(s.supply_V, Kind::voltage) + " are lost on the way and " +
                       shown(s.coil_V, Kind::voltage) + " are left at the coil; it pulls in at " +
                       shown(s.pull_in_V, Kind::voltage) + ".",
                   4, "  ");
  return out +
         told_line("The buffer alone holds lamps and coil for " + shown(s.hold_s, Kind::time) +
                       " (half its charge). CAUTION: when 12 V goes, lamps and drive go at "
                       "speed; ride home is not what the buffer is for.",
                   4, "  ");
}

Told start_text(const Wired& w, const Shown& shown) {
  const auto& s = w.start;
  Told out = told_heading("Pre-charge");
  const auto line = [&](const std::string& text) { out += told_line(text, 4, "  "); };
  line(shown(s.resistance_ohm, Kind::resistance) + " into " +
       shown(s.capacitance_F, Kind::capacitance) + " at " + shown(s.voltage_V, Kind::voltage) +
       ": time constant " + shown(s.constant_s, Kind::time) + "; 95 % after " +
       (std::isnan(s.time_95_s) ? "(never, or not known)" : shown(s.time_95_s, Kind::time)) +
       "; a timer of at least " + shown(s.timer_least_s, Kind::time) + ", on the sheet " +
       shown(s.timer_s, Kind::time) + ".");
  line("When it closes the bus holds " + shown(s.bus_V, Kind::voltage) + ": a rush of " +
       shown(s.closing_A, Kind::current) + "; with no pre-charge it would be " +
       shown(s.closing_empty_A, Kind::current) + ".");
  line("The resistor takes " + shown(s.first_A, Kind::current) + " and " +
       shown(s.first_W, Kind::power) + " at first, " + shown(s.energy_J, Kind::energy) +
       " in all, whatever it is.");
  line("A relay that sticks: " + s.if_relay_sticks);
  line("A load on the bus: " + s.if_load_hangs);
  line("No pre-charge current: " + s.if_open);
  line("CAUTION: " + s.caution);
  const auto& c = w.contactor;
  out += told_heading("Contactor");
  Columns table({false, true, true});
  table.row({"", "rated", "here"});
  table.row({"carries", shown(c.carry_A, Kind::current), shown(c.rms_A, Kind::current)});
  table.row({"makes", shown(c.make_A, Kind::current), shown(c.closing_A, Kind::current)});
  table.row({"breaks", shown(c.break_A, Kind::current),
             shown(c.fault_A, Kind::current) + " in the strongest short"});
  table.row({"stands closed", shown(c.withstand_A2s, Kind::current_squared_time),
             shown(c.through_A2s, Kind::current_squared_time) + " past the fuse"});
  table.row({"coil pulls in at", shown(c.pull_in_V, Kind::voltage),
             shown(c.coil_V, Kind::voltage) + " at worst load"});
  return out + told_table(table) +
         told_line(
             "A short beyond what it breaks is the fuse's to clear, not its. CAUTION: opened "
             "under load it draws an arc; a polarised one fitted backwards, or opened while the "
             "motor brakes, burns through.",
             4, "  ");
}

Told faults_text(const Wired& w, const Shown& shown) {
  Columns table({false, false, true, true, true, false});
  table.row({"short", "pack", "current", "fuse melts in", "cable stands", ""});
  for (const auto& f : w.faults) {
    const std::string verdict = !f.fuse_in_way          ? "NOTHING CLEARS IT"
                                : std::isnan(f.melts_s) ? "?"
                                : f.cleared             ? ""
                                                        : "NOT IN TIME";
    table.row({f.where, f.state, shown(f.current_A, Kind::current),
               f.fuse_in_way ? shown(f.melts_s, Kind::time) : "-", shown(f.cable_s, Kind::time),
               verdict});
  }
  return told_heading("Shorts") + told_table(table) +
         told_line(
             "CAUTION: these are the currents behind every joint of the loop. An arc of them "
             "burns hands and eyes in the time a fuse takes. Before the main fuse nothing ends "
             "it: cover one pole, insulated tools, no ring, a second person.",
             4, "  ");
}

Told failures_text(const Wired& w, const Shown& shown) {
  Told out = told_heading("When something fails");
  for (const auto& f : w.failures) {
    out += told_gap() + told_line(std::string(f.title) + " (" + std::string(f.id) + ")", 4, "  ");
    out += told_line("CAUTION: " + f.caution, 6, "    ");
    out += told_line(f.happens + " Noticed: " + f.noticed, 6, "    ");
    for (const auto& sum : f.sums)
      out += told_line(std::string(sum.label) + ": " + shown(sum.value, sum.kind) + " = " + sum.sum,
                       8, "      ");
    for (const auto& guard : f.guards) {
      const bool there = guard.standing == wiring::Guard::Standing::there;
      const bool lacking = guard.standing == wiring::Guard::Standing::lacking;
      out += told_line(guard.what + (there ? "" : ": " + std::string(word(guard.standing))) + " (" +
                           std::string(guard.rule.empty() ? guard.path : guard.rule) + ")",
                       8,
                       there     ? "    + "
                       : lacking ? "    ! "
                                 : "    ? ");
    }
  }
  return out + told_line(
                   "'+' stands against it, '!' does not, '?' is not answered on the sheet. One "
                   "failure at a time; what is not listed was not looked at.",
                   2);
}

Told checks_text(const Checked& checked) {
  Told out;
  for (const auto& finding : checked.findings) {
    if (!judges_wiring(*finding.rule) || finding.verdict != fit::Verdict::clash) continue;
    out += told_line(finding.because + " (" + std::string(finding.rule->id) + ")", 4, "  ! ");
  }
  return out.empty() ? out : told_heading("What the checks say of it: clashes") + out;
}

}  // namespace

bool judges_wiring(const fit::Rule& rule) {
  for (const auto code : split(rule.codes, ',')) {
    const auto text = trim(code);
    if (text.size() < 2 || text.front() != 'E') continue;
    int number = 0;
    for (const char c : text.substr(1)) number = 10 * number + (c - '0');
    if ((number >= 8 && number <= 23) || (number >= 28 && number <= 75) || number == 87 ||
        number == 90 || (number >= 93 && number <= 110))
      return true;
  }
  return false;
}

Wired wired(const Checked& checked) {
  const build::Build& build = checked.ridden;
  Wired w{};
  w.circuit = wiring::circuit(build);
  w.sizing = wiring::size(build, w.circuit, checked.ride);
  wiring::Readings sheet(build);
  w.start = wiring::start_sums(sheet);
  w.supply = wiring::supply_sums(sheet, w.circuit, w.sizing);
  w.contactor = wiring::contactor_sums(sheet, w.circuit, w.sizing);
  w.faults = wiring::faults(sheet, w.circuit, w.sizing);
  w.failures = wiring::failures(sheet, w.circuit, w.sizing);
  w.missing = w.sizing.missing;
  for (const build::Id id : sheet.missing()) {
    if (std::find(w.missing.begin(), w.missing.end(), id) == w.missing.end())
      w.missing.push_back(id);
  }
  w.full_V = sheet.ask("pack.series") * sheet.ask("cell.voltage_max");
  return w;
}

Told wiring_report(const Checked& checked, const Wired& w, const WiringWords& options) {
  const Shown shown(options.units);
  Told out;
  const bool dangerous = !(w.full_V <= 60);
  out +=
      told_line("CAUTION: the full pack has " + shown(w.full_V, Kind::voltage) + ". " +
                    (dangerous ? "Over 60 V it can kill, and a DC arc does not go out by itself. "
                               : "Below 60 V wet skin still matters, and a DC arc burns. ") +
                    "It can never be switched off. Local codes and competent persons decide where "
                    "mains, the road or a certificate begin. What follows was worked out from the "
                    "sheet; nobody has looked at the wiring.",
                2);
  for (const auto& text : checked.sketched) out += told_line("Sketched in: " + text, 4, "  ");
  out += gaps_text(w, options);
  for (int group = 0; group <= static_cast<int>(wiring::Group::bond); ++group)
    out += group_text(w, static_cast<wiring::Group>(group), options);
  out += sizing_text(w, shown) + lugs_text(w, shown) + fuses_text(w, checked, shown) +
         supply_text(w, shown) + start_text(w, shown) + faults_text(w, shown) +
         failures_text(w, shown) + checks_text(checked);
  if (!w.missing.empty()) {
    std::vector<std::string> names;
    for (const build::Id id : w.missing) names.push_back(build::schema()[id].path);
    out += told_gap() + told_line("'?' waits for: " + join(names, ", ") + ".", 2);
  }
  return out;
}

}  // namespace ww::serve
