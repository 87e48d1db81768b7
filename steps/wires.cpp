// SPDX-License-Identifier: MIT
// As built: every wire ticked once both its ends are made. What was really taken stands in
// [[wire]].
#include <algorithm>
#include <cmath>

#include "steps/draft.h"
#include "steps/live.h"
#include "wiring/cautions.h"

namespace ww::steps {

namespace {

using figure::Kind;

const build::OwnWire* own(const build::Build& build, const std::string& label) {
  const auto at = std::find_if(build.wires.begin(), build.wires.end(),
                               [&](const build::OwnWire& w) { return w.label == label; });
  return at == build.wires.end() ? nullptr : &*at;
}

std::string size_text(double section_m2) {
  return std::isnan(section_m2) ? "size not known" : figure::print(section_m2, Kind::area);
}

std::string make_text(const wiring::SizedWire& sized, const wiring::Wire& wire) {
  std::string out = size_text(sized.section_m2) + ", " + wire.colour + ", about " +
                    shown(wire.length_m, Kind::length) + ". ";
  if (!std::isnan(sized.from_end.barrel_m2) || !std::isnan(sized.to_end.barrel_m2))
    out += "Sleeve and label on before the second lug; crimp, pull by hand, bolt down, mark. ";
  return out + "Then note colour, length and lugs as they really are, under [[wire]].";
}

}  // namespace

void wire_steps(Draft& d) {
  d.stage(Stage::wires);
  for (const auto& sized : d.sizing().wires) {
    const auto& wire = d.circuit().wires[static_cast<std::size_t>(sized.wire)];
    std::string caution = wiring::caution_for(wire, d.dangerous());
    if (caution.empty())
      caution = "A chafed wire shows itself at the worst moment: edges, bars at both locks.";
    Declared step{.id = "wire-" + wire.label,
                  .title = wire.label + ": " + d.circuit().end_text(wire.from) + " to " +
                           d.circuit().end_text(wire.to),
                  .doing = make_text(sized, wire),
                  .meter = Meter::hand,
                  .caution = wire.label + ": " + caution,
                  .tick = true,
                  .tree = {{Branch::When::any, "its section against what is needed",
                            "thinner than needed it is the fuse: lay it anew"}}};
    const auto* laid = own(d.build(), wire.label);
    if (laid == nullptr || laid->laid == build::Answer::unknown) {
      d.add(std::move(step));
      continue;
    }
    const bool thin = laid->section.known() && sized.needed_m2 > laid->section.value * (1 + 1e-9);
    const bool in = laid->laid == build::Answer::yes;
    d.add_from_sheet(std::move(step), in && !thin ? 1 : 0,
                     !in    ? "no"
                     : thin ? "laid in " + size_text(laid->section.value) + "; " +
                                  size_text(sized.needed_m2) + " are needed"
                            : "yes");
  }
}

}  // namespace ww::steps
