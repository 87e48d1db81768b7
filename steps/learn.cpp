// SPDX-License-Identifier: MIT
#include "steps/learn.h"

#include <algorithm>
#include <cmath>

#include "model/isolation.h"
#include "steps/power.h"

namespace ww::steps {

namespace {

using figure::Kind;

/// A figure as it follows from a reading `r` of a step.
struct Way {
  const char* step;
  const char* path;
  double (*value)(double r, const Numbers& n, const Protocol& p);
  std::string (*sum)(double r, const Numbers& n, const Protocol& p);
};

double read(const Protocol& p, std::string_view id) {
  const Step* step = p.step(id);
  return step == nullptr || step->verdict != Verdict::within ? std::nan("")
                                                             : step->reading()->value;
}

double itself(double r, const Numbers&, const Protocol&) {
  return r;
}
std::string as_read(double, const Numbers&, const Protocol&) {
  return "as read";
}

bool resistance_of_phase(const Numbers& n) {
  return n.is("motor.resistance_between", build::ResistanceBetween::phase) &&
         !n.is("motor.type", build::MotorType::brushed_pm) &&
         !n.is("motor.type", build::MotorType::brushed_series);
}

double isolation_ohm(double r, const Numbers& n, const Protocol& p) {
  const double r0 = isolation_resistor_ohm(n("pack.series") * n("cell.voltage_max"));
  return model::isolation_resistance_ohm<double>({.voltage_bus_V = read(p, "pack-voltage"),
                                                  .voltage_negative_V = read(p, "leak-minus"),
                                                  .voltage_positive_V = read(p, "leak-plus"),
                                                  .voltage_inserted_V = r,
                                                  .resistance_inserted_ohm = r0});
}

const Way ways[] = {
    {"phase-uv", "motor.resistance",
     [](double r, const Numbers& n, const Protocol&) { return resistance_of_phase(n) ? r / 2 : r; },
     [](double, const Numbers& n, const Protocol&) {
       return std::string(resistance_of_phase(n) ? "half of what two leads read" : "as read");
     }},
    {"armature", "motor.resistance", itself, as_read},
    {"drill-test", "motor.speed_constant", itself, as_read},
    {"coil-hold", "contactor.hold_current", itself, as_read},
    {"throttle-rest", "throttle.voltage_rest", itself, as_read},
    {"throttle-full", "throttle.voltage_full", itself, as_read},
    {"isolation", "wiring.isolation_resistance", isolation_ohm,
     [](double r, const Numbers& n, const Protocol& p) {
       return shown(isolation_resistor_ohm(n("pack.series") * n("cell.voltage_max")),
                    Kind::resistance) +
              " x " + volts(read(p, "pack-voltage")) + " x (1/" + volts(r) + " - 1/" +
              volts(std::max(read(p, "leak-plus"), read(p, "leak-minus"))) + ")";
     }},
    {"precharge-time", "controller.capacitance",
     [](double r, const Numbers& n, const Protocol&) {
       return r / (3 * n("precharge.resistance"));
     },
     [](double r, const Numbers& n, const Protocol&) {
       return shown(r, Kind::time) + " / (3 x " +
              shown(n("precharge.resistance"), Kind::resistance) + ")";
     }},
    {"bus-decay", "wiring.bleed_time", itself, as_read},
    {"converter-idle", "dcdc.voltage_out", itself, as_read},
    {"key-off-drain", "wiring.key_off_current", itself, as_read},
    {"free-speed", "motor.speed_constant",
     [](double r, const Numbers& n, const Protocol& p) {
       return r / (n("controller.modulation") * read(p, "pack-voltage"));
     },
     [](double r, const Numbers& n, const Protocol& p) {
       return shown(r, Kind::rotation) + " / (" + volts(read(p, "pack-voltage")) + " x " +
              shown(n("controller.modulation"), Kind::share) + " usable)";
     }},
    {"free-amps", "motor.no_load_current", itself, as_read},
    {"free-amps", "motor.no_load_voltage",
     [](double, const Numbers&, const Protocol& p) { return read(p, "pack-voltage"); },
     [](double, const Numbers&, const Protocol&) { return std::string("the pack's volts then"); }},
    {"loop-resistance", "cell.resistance",
     [](double r, const Numbers& n, const Protocol&) {
       return ((r - n("pack.loop_resistance")) / n("pack.series") - n("pack.link_resistance")) *
              n("pack.parallel");
     },
     [](double r, const Numbers& n, const Protocol&) {
       return "((" + shown(r, Kind::resistance) + " - " +
              shown(n("pack.loop_resistance"), Kind::resistance) + ") / " +
              whole(n("pack.series")) + " - " + shown(n("pack.link_resistance"), Kind::resistance) +
              ") x " + whole(n("pack.parallel"));
     }},
    {"wet-isolation", "wiring.isolation_resistance", itself, as_read}};

/// To three digits: a spread is known no better.
double rounded(double value) {
  if (!(value > 0)) return value;
  const double unit = std::pow(10, std::floor(std::log10(value)) - 2);
  return std::round(value / unit) * unit;
}

build::Figure measured(double value, double half_width, std::string note, std::string date) {
  build::Figure out;
  out.value = value;
  out.half_width = half_width;
  out.evidence = figure::Evidence::measured;
  out.note = std::move(note);
  out.date = std::move(date);
  return out;
}

/// Puts the figure in the place of an earlier one of the same path.
void take(Lesson& lesson, Learnt one) {
  const auto same = std::find_if(lesson.learnt.begin(), lesson.learnt.end(),
                                 [&](const Learnt& l) { return l.path == one.path; });
  if (same != lesson.learnt.end()) lesson.learnt.erase(same);
  lesson.learnt.push_back(std::move(one));
}

void learn_from(Lesson& lesson, const Way& way, const Step& step, const Numbers& numbers,
                const Protocol& protocol) {
  const Reading& reading = *step.reading();
  const auto& info = *build::schema()[build::id_of(way.path)].info;
  if (step.verdict != Verdict::within) {
    lesson.left.push_back({way.path, step.id,
                           "its reading is " + std::string(word(step.verdict)) +
                               ": find out why first, then read it again"});
    return;
  }
  const auto sum =
      numbers.sum([&](const Numbers& n) { return way.value(reading.value, n, protocol); });
  if (!std::isfinite(sum.value) || sum.value < info.low || sum.value > info.high) {
    lesson.left.push_back({way.path, step.id, "the sum gives nothing that this figure can be"});
    return;
  }
  double half_width = std::nan("");  // the usual one of what is measured
  if (reading.half_width > 0 || sum.half_width > 0) {
    const double above = way.value(reading.value + reading.half_width, numbers, protocol);
    const double usual = figure::default_spread(info.kind, figure::Evidence::measured).relative *
                         std::abs(sum.value);
    const double own = reading.half_width > 0 ? std::abs(above - sum.value) : usual;
    half_width = rounded(std::hypot(own, sum.half_width));
  }
  const std::string note = step.id + (reading.instrument.empty() ? "" : ", " + reading.instrument);
  take(lesson, {way.path, measured(sum.value, half_width, note, reading.date), step.id,
                way.sum(reading.value, numbers, protocol), numbers(way.path)});
}

/// What the cells measured one by one say of the cell as the models see it.
void learn_from_units(Lesson& lesson, const build::Build& build, const Protocol& protocol,
                      const Numbers& numbers) {
  const Sorted& s = protocol.sorted;
  if (!s.possible || !build.cell.has_value()) return;
  const double conductance = [&] {
    double sum = 0;
    for (const auto& g : s.groups) sum += 1 / g.conductance_S;
    return 1 / sum;
  }();
  const double ohm = s.parallel / (conductance * s.series);
  take(lesson,
       {"cell.capacity",
        measured(s.weakest_C / s.parallel, std::nan(""), "weakest group / cells in it", {}),
        "cell_measured",
        shown(s.weakest_C, Kind::charge) + " of the weakest group / " + std::to_string(s.parallel),
        numbers("cell.capacity")});
  take(lesson,
       {"cell.resistance", measured(ohm, std::nan(""), "mean over the groups", {}), "cell_measured",
        "all groups in series, each cell alike", numbers("cell.resistance")});
}

bool moved(const ride::Band& a, const ride::Band& b) {
  if (!std::isfinite(a.p50) || !std::isfinite(b.p50))
    return std::isfinite(a.p50) != std::isfinite(b.p50);
  const double scale = std::max(std::abs(a.p50), std::abs(b.p50));
  const double width_a = a.p90 - a.p10, width_b = b.p90 - b.p10;
  // Half a per cent is below what any answer is trusted to.
  return std::abs(a.p50 - b.p50) > 0.005 * scale || std::abs(width_a - width_b) > 0.01 * scale;
}

}  // namespace

Lesson lesson_of(const build::Build& build, const Protocol& protocol) {
  Lesson out;
  const Numbers numbers(build);
  learn_from_units(out, build, protocol, numbers);
  for (const Way& way : ways) {
    const Step* step = protocol.step(way.step);
    if (step != nullptr && step->reading() != nullptr)
      learn_from(out, way, *step, numbers, protocol);
  }
  return out;
}

build::Build taught(const build::Build& build, const std::vector<Learnt>& learnt) {
  build::Build out = build;
  for (const Learnt& one : learnt) {
    const build::Id id = build::id_of(one.path);
    build::set_number(out, id, one.figure.value);
    build::Figure& figure = *build::figure_at(out, id);
    figure = one.figure;
    const auto kind = build::schema()[id].info->kind;
    // Canonical: the DC equivalent for motor constants, the peak of the sine for amps.
    if (kind == Kind::motor_constant) figure.convention = figure::Convention::dc;
    if (kind == Kind::phase_current || kind == Kind::torque_constant)
      figure.convention = figure::Convention::peak;
  }
  return out;
}

std::vector<Move> moves(const build::Build& build, const std::vector<Learnt>& learnt,
                        const std::function<ride::Ride(const build::Build&)>& ride_of) {
  const ride::Ride before = ride_of(build), after = ride_of(taught(build, learnt));
  std::vector<ride::Ride> alone;
  alone.reserve(learnt.size());
  for (const Learnt& one : learnt) alone.push_back(ride_of(taught(build, {one})));
  std::vector<Move> out;
  if (!before.possible && !after.possible) return out;
  constexpr double none = std::numeric_limits<double>::quiet_NaN();
  for (const auto& info : ride::answer_table()) {
    Move move{info.answer, {none, none, none}, {none, none, none}, -1, none};
    if (before.possible) move.before = before.band(info.answer);
    if (after.possible) move.after = after.band(info.answer);
    if (!moved(move.before, move.after)) continue;
    const double shift = move.after.p50 - move.before.p50;
    double most = 0;
    for (std::size_t i = 0; i < alone.size(); ++i) {
      if (!alone[i].possible) continue;
      const auto& band = alone[i].band(info.answer);
      // Where the middle stays, what narrows the band most is the cause.
      const double narrowed = (move.before.p90 - move.before.p10) - (band.p90 - band.p10);
      const double by = std::abs(band.p50 - move.before.p50) + std::abs(narrowed);
      if (by <= most) continue;
      most = by;
      move.cause = static_cast<int>(i);
      move.cause_share = shift == 0 ? none : (band.p50 - move.before.p50) / shift;
    }
    out.push_back(move);
  }
  return out;
}

}  // namespace ww::steps
