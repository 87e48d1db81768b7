// SPDX-License-Identifier: MIT
// The figures held against each other, and the usual mix-ups in a sentence each. Cell voltages,
// the windows round them and what sellers leave out are common practice, no source.
#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>

#include "base/text.h"
#include "plan/paste_reader.h"

namespace ww::plan::paste {

namespace {

using S = Sense;
using figure::Kind;

bool near(double a, double b, double share) {
  return std::fabs(a - b) <= share * std::fabs(b);
}

bool has_option(const Asked& asked, std::string_view key) {
  return std::any_of(asked.options.begin(), asked.options.end(),
                     [&](const PasteOption& o) { return o.key == key; });
}

/// Removes the questions for which `settled` holds; their numbers come out as unused.
template <class Settled>
void settle_questions(Draft& d, const std::string& why, const Settled& settled) {
  std::vector<Asked> kept;
  for (Asked& asked : d.asked) {
    if (asked.quantity >= 0 && settled(asked)) {
      d.unused(asked.quantity, why);
    } else {
      kept.push_back(std::move(asked));
    }
  }
  d.asked = std::move(kept);
}

/// Takes an option of a question as the answer.
void answer(Draft& d, int quantity, const std::string& key, Sureness sure, std::string why) {
  for (std::size_t i = 0; i < d.asked.size(); ++i) {
    if (d.asked[i].quantity != quantity || !has_option(d.asked[i], key)) continue;
    for (const PasteOption& option : d.asked[i].options) {
      if (option.key != key) continue;
      d.found.push_back({key, option.text, sure, std::move(why), d.asked[i].from, quantity, false});
      break;
    }
    d.asked.erase(d.asked.begin() + static_cast<std::ptrdiff_t>(i));
    return;
  }
}

double si(const Draft& d, int i) {
  const Quantity& q = d.q(i);
  if (q.measure == nullptr || q.measure->unit.empty()) return std::nan("");
  const auto reading =
      figure::read(q.low.value + " " + std::string(q.measure->unit), q.measure->kind);
  return reading ? reading->value : std::nan("");
}

/// The numbers of a kind, with their index.
std::vector<int> of_kind(const Draft& d, Kind kind) {
  std::vector<int> out;
  for (int i = 0; i < static_cast<int>(d.scanned.quantities.size()); ++i) {
    if (d.q(i).measure != nullptr && d.q(i).measure->kind == kind &&
        d.q(i).measure->counted == Counted::no && d.q(i).sides.empty()) {
      out.push_back(i);
    }
  }
  return out;
}

/// A question one of whose answers is filled in already by another number is no question.
void drop_repeated(Draft& d) {
  settle_questions(d, "the same number stands elsewhere with its word", [&](const Asked& asked) {
    return std::any_of(asked.options.begin(), asked.options.end(), [&](const PasteOption& option) {
      const double v = d.value(option.key);
      return !std::isnan(v) && near(value_of(d.id(option.key), option.text), v, 1e-3);
    });
  });
}

// --- motor ---

void check_motor_power(Draft& d) {
  const double continuous = d.value("power_continuous");
  if (!std::isnan(continuous) && d.first("power_peak") == nullptr) {
    for (const Asked& asked : d.asked) {
      if (!has_option(asked, "power_peak") || asked.quantity < 0) continue;
      const double v = si(d, asked.quantity);
      const bool title = d.c(asked.quantity).line == d.title_line && !d.c(asked.quantity).variant;
      if (!title || !(v >= 1.3 * continuous)) continue;
      d.flag("title-power-is-peak",
             "The title's " + d.quote(d.q(asked.quantity).begin, d.q(asked.quantity).end).words +
                 " is larger than the rated power and is taken for the peak; a seller's title "
                 "names the largest number.",
             {"power_peak"});
      answer(d, asked.quantity, "power_peak", Sureness::likely,
             "larger than the rated power, so the peak");
      break;
    }
  }
  const double peak = d.value("power_peak");
  if (!std::isnan(peak) && !std::isnan(continuous) && peak < continuous) {
    d.flag("peak-below-continuous",
           "The peak power is smaller than the continuous one; one of them is something else.",
           {"power_continuous", "power_peak"});
    d.doubt("power_peak", "The peak power is below the continuous one: which number is what?");
    d.doubt("power_continuous", "The continuous power is above the peak: which number is what?");
  }
  if (!std::isnan(peak) && !std::isnan(continuous) && peak > 6 * continuous) {
    d.flag(
        "peak-far-above-continuous",
        "The peak power is more than six times the continuous one; that holds for seconds at best.",
        {"power_peak"});
  }
  if (!std::isnan(peak) && d.first("peak_time") == nullptr) {
    d.flag("peak-without-seconds",
           "A peak power without its seconds says little: ask whether 10 s, 30 s or 5 min.",
           {"power_peak", "peak_time"});
  }
  if (!std::isnan(peak)) {
    d.flag("peak-is-the-winding's",
           "The peak is what the winding stands; the battery's and the controller's current may "
           "allow less.",
           {"power_peak"});
  }
}

/// Speed and torque constant against each other: their product by convention.
void check_constants(Draft& d) {
  Found* kv = d.first("speed_constant");
  Found* kt = d.first("torque_constant");
  const auto said = [&](const Found* f) {
    const auto figure = figure::parse(
        f->text, f->key == "speed_constant" ? Kind::motor_constant : Kind::torque_constant);
    return figure ? figure->convention : figure::Convention::unsaid;
  };
  if (kv != nullptr && kt != nullptr) {
    // In SI the product is 1 for one convention of both; sqrt(3)/2 with phase peak amps, sqrt(3/2)
    // with phase rms amps.
    const double product = d.value("speed_constant") * d.value("torque_constant");
    const bool open =
        said(kv) == figure::Convention::unsaid && said(kt) == figure::Convention::unsaid;
    if (near(product, 1, 0.03) && open) {
      kv->text += " dc";
      kt->text += " dc";
      kv->sure = kt->sure = Sureness::likely;
      d.flag("constants-agree",
             "Speed and torque constant multiply to 9.55, so both are by the battery's volt and "
             "amp (six-step).",
             {"speed_constant", "torque_constant"});
    } else if (near(product, std::numbers::sqrt3 / 2, 0.03) && open) {
      kv->text += " dc";
      kt->text += " peak";
      kv->sure = kt->sure = Sureness::likely;
      d.flag("constants-agree",
             "Speed and torque constant fit together if the amp is the peak in a motor cable.",
             {"speed_constant", "torque_constant"});
    } else {
      d.flag("constants-disagree",
             "Speed constant times torque constant is " +
                 fixed(product * 30 / std::numbers::pi, 2) +
                 " (rpm/V x Nm/A); with one volt and one amp for both it would be 9.55. Their "
                 "conventions differ, or one is wrong.",
             {"speed_constant", "torque_constant"});
    }
    return;
  }
  if (kv != nullptr && said(kv) == figure::Convention::unsaid) {
    d.flag("speed-constant-volt-unsaid",
           "The text does not say whether the volt of the speed constant is the battery's or rms "
           "between two motor cables; that is a factor of 1.41.",
           {"speed_constant"});
  }
  if (kt != nullptr && said(kt) == figure::Convention::unsaid) {
    d.flag(
        "torque-constant-amp-unsaid",
        "The text does not say which amp the torque constant means: peak, rms, or the battery's.",
        {"torque_constant"});
  }
}

void check_no_load_speed(Draft& d) {
  const double volts = d.value("no_load_voltage");
  if (std::isnan(volts)) return;
  for (const int i : of_kind(d, Kind::rotation)) {
    if (!d.c(i).all().has(S::no_load)) continue;
    const double kv = si(d, i) / volts * 30 / std::numbers::pi;
    if (d.first("speed_constant") != nullptr) {
      if (!near(kv * std::numbers::pi / 30, d.value("speed_constant"), 0.15)) {
        d.flag("no-load-speed-disagrees",
               "No-load speed over rated voltage is " + fixed(kv, 1) +
                   " rpm/V, which is not the speed constant given.",
               {"speed_constant"});
      }
      continue;
    }
    const std::string text = fixed(kv, 1) + " rpm/V dc";
    if (accepted(d.id("speed_constant"), text)) {
      d.asked.push_back(
          {{{"speed_constant", text, std::string(d.label("speed_constant"))}},
           "Was the no-load speed measured at the rated voltage? Then the speed constant is " +
               text + ".",
           d.quotes(i),
           -1});
    }
  }
}

void check_motor_current(Draft& d) {
  for (const std::string_view key : {"current_peak", "current_continuous"}) {
    const Found* f = d.first(key);
    if (f == nullptr) continue;
    const auto figure = figure::parse(f->text, Kind::phase_current);
    if (figure && figure->convention == figure::Convention::unsaid) {
      d.flag("phase-current-amplitude-unsaid",
             "The text does not say whether phase amps are peak or rms; that is a factor of 1.41 "
             "in torque.",
             {"current_peak", "current_continuous"});
    }
  }
  const double volts = d.value("no_load_voltage");
  const double power = d.value("power_continuous");
  for (Asked& asked : d.asked) {
    if (!has_option(asked, "current_peak") || asked.quantity < 0) continue;
    const double amps = si(d, asked.quantity);
    for (const double p : {power, d.value("power_peak")}) {
      if (std::isnan(p) || std::isnan(volts)) continue;
      const double share = p / (volts * amps);
      if (share > 0.75 && share < 1.02)
        asked.text +=
            " Times the rated voltage it gives the power, so it is probably the battery's current.";
    }
    d.flag("current-side-unsaid",
           "A motor's current may be the battery's or a motor cable's; at low speed the second is "
           "two or three times the first.",
           {"current_peak", "current_continuous"});
  }
}

void check_motor(Draft& d) {
  check_motor_power(d);
  check_constants(d);
  check_no_load_speed(d);
  check_motor_current(d);
  Found* resistance = d.first("resistance");
  if (resistance != nullptr) {
    Senses said;
    if (resistance->quantity >= 0) said = d.c(resistance->quantity).all();
    const bool lines = said.has(S::line_line), phase = said.holds_any(S::at_phase | S::per_phase);
    if (lines || phase) {
      d.found.push_back({"resistance_between", lines ? "line_line" : "phase", Sureness::sure,
                         "the words beside the resistance", d.quotes(resistance->quantity),
                         resistance->quantity, false});
    } else {
      d.asked.push_back(
          {{{"resistance_between", "line_line", "between two motor cables"},
            {"resistance_between", "phase", "of one phase"}},
           "Is the resistance between two motor cables, or of one phase (half as much)?",
           resistance->from,
           -1});
      d.flag("resistance-between-unsaid",
             "The text does not say whether the resistance is between two motor cables or of one "
             "phase: a factor of two.",
             {"resistance", "resistance_between"});
    }
  }
  if (d.first("mass") != nullptr &&
      d.c(d.first("mass")->quantity).own.without(S::mass | S::net).empty()) {
    d.flag("mass-as-listed", "The mass may leave out cables, mounting plate and sprocket.",
           {"mass"});
  }
  if (d.first("length") != nullptr || d.first("diameter") != nullptr) {
    d.flag("outside-measures",
           "Listed sizes leave out cable outlet, terminal box and ribs; measure the part or ask "
           "for a drawing before a frame is cut.",
           {"length", "diameter"});
  }
}

// --- controller ---

std::vector<double> voltages_of(const Draft& d) {
  std::vector<double> out;
  for (const int i : of_kind(d, Kind::voltage)) {
    out.push_back(number_of(d.q(i).low.value));
    if (d.q(i).range) out.push_back(number_of(d.q(i).high.value));
  }
  return out;
}

void check_controller(Draft& d) {
  const auto powers = of_kind(d, Kind::power);
  const auto volts = voltages_of(d);
  std::vector<std::pair<int, std::string>> answers;
  for (const Asked& asked : d.asked) {
    if (asked.quantity < 0 || !has_option(asked, "current_battery") ||
        !has_option(asked, "current_phase"))
      continue;
    const double amps = si(d, asked.quantity);
    const Senses said = d.c(asked.quantity).all();
    for (const int p : powers) {
      for (const double v : volts) {
        if (!near(amps * v, si(d, p), 0.06)) continue;
        const bool steady = said.holds_any(S::rated | S::continuous) &&
                            !said.holds_any(S::max | S::peak | S::brief);
        const bool brief = said.holds_any(S::max | S::peak | S::brief) && !said.has(S::continuous);
        if (steady != brief)
          answers.emplace_back(asked.quantity,
                               steady ? "current_battery_continuous" : "current_battery");
      }
    }
  }
  for (const auto& [quantity, key] : answers) {
    answer(d, quantity, key, Sureness::likely,
           "times the voltage it gives the stated power, so it flows in the battery cable");
    d.flag("current-by-power",
           "A current that gives the stated power at the stated voltage is read as the battery's.",
           {key});
  }
  const bool open = std::any_of(d.asked.begin(), d.asked.end(),
                                [](const Asked& a) { return has_option(a, "current_battery"); });
  if (open)
    d.flag("current-side-unsaid",
           "A controller's amps may be in the battery cable or in a motor cable, peak or rms; at "
           "low speed the second is two or three times the first.",
           {"current_battery", "current_phase"});
  if (d.first("voltage_max") == nullptr)
    d.flag("voltage-class",
           "A controller's class (72 V) is not the highest voltage it stands; a full pack has some "
           "15 % more than its class.",
           {"voltage_max"});
  else if (d.first("voltage_absolute") == nullptr)
    d.flag("voltage-operating-or-absolute",
           "Ask whether the highest voltage is for running or the one that destroys it.",
           {"voltage_max", "voltage_absolute"});
  const double battery = d.value("current_battery"), phase = d.value("current_phase");
  if (!std::isnan(battery) && !std::isnan(phase) && phase < battery)
    d.flag("phase-below-battery",
           "The phase current is below the battery current; usually it is two or three times as "
           "large. They may be mixed up.",
           {"current_battery", "current_phase"});
  const Found* f = d.first("current_phase");
  if (f != nullptr) {
    const auto figure = figure::parse(f->text, Kind::phase_current);
    if (figure && figure->convention == figure::Convention::unsaid)
      d.flag("phase-current-amplitude-unsaid",
             "The text does not say whether phase amps are peak or rms; that is a factor of 1.41 "
             "in torque.",
             {"current_phase"});
  }
  if (d.first("current_battery") != nullptr && d.first("burst_time") == nullptr)
    d.flag("burst-without-seconds", "The largest current holds for seconds; ask for how many.",
           {"current_battery", "burst_time"});
}

// --- battery ---

struct CellWindow {
  std::string_view chemistry;
  double nominal_low, nominal_high, full_low, full_high;
};
/// Volts a cell. Common practice, no source.
constexpr CellWindow windows[] = {{"lfp", 3.18, 3.34, 3.5, 3.67},  {"nmc", 3.55, 3.8, 4.08, 4.36},
                                  {"nca", 3.55, 3.8, 4.08, 4.36},  {"lto", 2.2, 2.5, 2.65, 2.9},
                                  {"sodium", 2.9, 3.2, 3.75, 4.1}, {"lead", 2.0, 2.1, 2.3, 2.5}};

enum class CellVolts : std::uint8_t { nominal, full, neither, either };

CellVolts judge(double volts, double series, std::string_view chemistry) {
  const double v = volts / series;
  bool nominal = false, full = false;
  for (const CellWindow& w : windows) {
    if (!chemistry.empty() && chemistry != w.chemistry) continue;
    if (chemistry.empty() && w.chemistry != "lfp" && w.chemistry != "nmc") continue;
    nominal = nominal || (v >= w.nominal_low && v <= w.nominal_high);
    full = full || (v >= w.full_low && v <= w.full_high);
  }
  // 3.6 V without a chemistry is the nominal of one kind and near the full of another.
  if (nominal && full) return CellVolts::either;
  if (nominal) return CellVolts::nominal;
  return full ? CellVolts::full : CellVolts::neither;
}

bool usual_class(double volts) {
  constexpr double classes[] = {12, 24, 36, 48, 52, 60, 64, 72, 80, 96, 108, 120, 144};
  return std::any_of(std::begin(classes), std::end(classes),
                     [&](double c) { return near(volts, c, 1e-3); });
}

/// Whether a voltage is a whole number of full cells and no usual class.
bool full_multiple(double volts) {
  if (usual_class(volts)) return false;
  constexpr double cells[] = {4.2, 3.65};
  return std::any_of(std::begin(cells), std::end(cells), [&](double full) {
    const double n = std::round(volts / full);
    return n >= 3 && near(volts, n * full, 0.003);
  });
}

std::string chemistry_of(Draft& d) {
  const Found* f = d.first("chemistry");
  return f == nullptr ? std::string() : f->text;
}

/// Volts against cells in series: a bare voltage may be the full one, and a class is neither.
void check_pack_voltage(Draft& d) {
  const std::string chemistry = chemistry_of(d);
  const double series = d.first("series_inside") != nullptr ? d.value("series_inside")
                        : d.out.kind == "cell"              ? 1
                                                            : std::nan("");
  std::vector<Found> moved;
  std::vector<std::pair<Found, std::string>> doubted;
  auto keep = d.found.begin();
  for (auto it = d.found.begin(); it != d.found.end(); ++it) {
    bool stays = true;
    if (it->key == "voltage_nominal") {
      const double volts = value_of(d.id(it->key), it->text);
      const bool bare = it->quantity >= 0 && !d.c(it->quantity).all().holds_any(S::rated);
      if (std::isnan(series)) {
        if (bare && full_multiple(volts)) {
          stays = false;
          doubted.emplace_back(
              *it, "'" + it->text + "' is a whole number of full cells: is it the full voltage?");
        }
      } else {
        const CellVolts is = judge(volts, series, chemistry);
        if (is == CellVolts::full && bare) {
          stays = false;
          moved.push_back(*it);
        } else if (is == CellVolts::neither || is == CellVolts::full ||
                   (is == CellVolts::either && bare)) {
          stays = is == CellVolts::either && volts / series < 3.63;
          if (!stays)
            doubted.emplace_back(*it, "'" + it->text + "' over " + shortest(series) + " cells is " +
                                          fixed(volts / series, 2) +
                                          " V a cell, which is no nominal voltage: what is it?");
        }
      }
    }
    if (stays) {
      if (keep != it) *keep = std::move(*it);
      ++keep;
    }
  }
  d.found.erase(keep, d.found.end());
  for (Found& f : moved) {
    f.key = "voltage_max";
    f.sure = Sureness::likely;
    f.why = "over the cells in series it is the voltage of full cells";
    d.flag("named-by-full-voltage",
           "The battery is named by its full voltage, not by the nominal one.",
           {"voltage_max", "voltage_nominal"});
    d.found.push_back(std::move(f));
  }
  for (const auto& [f, text] : doubted) {
    d.flag("voltage-and-cells", "Voltage and cells in series do not go together; go by the cells.",
           {"voltage_nominal", "series_inside"});
    std::vector<PasteOption> options{
        {"voltage_nominal", f.text, std::string(d.label("voltage_nominal"))}};
    if (accepted(d.id("voltage_max"), f.text))
      options.push_back({"voltage_max", f.text, std::string(d.label("voltage_max"))});
    d.asked.push_back({std::move(options), text, f.from, f.quantity});
  }
  const double full = d.value("voltage_max");
  if (!std::isnan(full) && !std::isnan(series)) {
    const CellVolts is = judge(full, series, chemistry);
    if (is == CellVolts::nominal || is == CellVolts::neither) {
      d.flag("voltage-and-cells",
             "Voltage and cells in series do not go together; go by the cells.",
             {"voltage_max", "series_inside"});
      d.doubt("voltage_max", "'" + d.first("voltage_max")->text + "' over " + shortest(series) +
                                 " cells is " + fixed(full / series, 2) +
                                 " V a cell, which is no full cell: what is it?");
    }
  }
  const double empty = d.value("voltage_min"), nominal = d.value("voltage_nominal");
  if ((!std::isnan(empty) && !std::isnan(full) && empty >= full) ||
      (!std::isnan(empty) && !std::isnan(nominal) && empty >= nominal)) {
    d.doubt("voltage_min", "The empty voltage is not below the others: what is it?");
  }
}

void check_energy(Draft& d) {
  const double volts = d.value("voltage_nominal"), charge = d.value("capacity");
  for (const int i : of_kind(d, Kind::energy)) {
    const double energy = si(d, i);
    const bool usable = d.c(i).all().has(S::usable);
    if (usable) {
      d.flag("usable-energy",
             "A usable energy is what is left after the seller's own reserve; the capacity counts.",
             {"capacity"});
      continue;
    }
    if (std::isnan(volts)) continue;
    if (std::isnan(charge)) {
      const std::string text = fixed(energy / volts / 3600, 1) + " Ah";
      if (accepted(d.id("capacity"), text))
        d.asked.push_back(
            {{{"capacity", text, std::string(d.label("capacity"))}},
             "The energy over the nominal voltage is " + text + ": is the energy the nominal one?",
             d.quotes(i),
             -1});
      continue;
    }
    const double share = energy / (volts * charge);
    if (share > 0.7 && share < 0.94)
      d.flag(
          "usable-energy",
          "The energy is less than nominal voltage times capacity; it is probably the usable part.",
          {"capacity"});
    else if (share < 0.7 || share > 1.06)
      d.flag("energy-disagrees",
             "Energy, voltage and capacity do not go together: " +
                 d.quote(d.q(i).begin, d.q(i).end).words + " is not their product.",
             {"capacity", "voltage_nominal"});
  }
}

void check_cell(Draft& d) {
  check_pack_voltage(d);
  check_energy(d);
  if (d.first("capacity") != nullptr && d.capacity_rate < 0)
    d.flag("capacity-rate-unsaid",
           "The text does not say at which current the capacity holds; at yours it is less.",
           {"capacity"});
  if (d.first("resistance") != nullptr &&
      d.c(d.first("resistance")->quantity).all().has(S::dc) == false)
    d.flag("resistance-at-1khz",
           "A listed resistance is usually measured at 1 kHz and reads too low; the ride sees 1.3 "
           "to 2 times as much.",
           {"resistance"});
  if (d.first("current_pulse") != nullptr && d.first("pulse_time") == nullptr)
    d.flag("pulse-without-seconds", "A pulse current without its seconds says little.",
           {"current_pulse", "pulse_time"});
  if (d.first("cycle_life") != nullptr)
    d.flag("cycles-at-what",
           "Cycle life holds at the seller's current and temperature, down to 80 % or 70 % of the "
           "capacity; ask which.",
           {"cycle_life"});
  if (d.out.kind == "pack" && d.first("current_continuous") != nullptr)
    d.flag("current-of-bms", "A pack's current is often the limit of its BMS, not of its cells.",
           {"current_continuous"});
}

// --- charger, BMS and the rest ---

/// Whether a charger may end there. A usual class such as 72 V counts only where the text calls it
/// the output: 20 cells of 3.6 V are a rare wish, 72 V on a label is not.
bool end_voltage(const Draft& d, double volts, bool labelled) {
  if (!d.series || (!labelled && usual_class(volts))) return full_multiple(volts);
  constexpr double full[] = {4.2, 4.1, 4.15, 3.65, 3.6, 3.55, 2.8, 2.45};
  return std::any_of(std::begin(full), std::end(full),
                     [&](double f) { return near(volts, *d.series * f, 0.004); });
}

void check_charger(Draft& d) {
  std::vector<int> ends;
  for (const Asked& asked : d.asked) {
    if (asked.quantity >= 0 && has_option(asked, "voltage") &&
        !d.c(asked.quantity).all().has(S::complement) &&
        end_voltage(d, si(d, asked.quantity), false)) {
      ends.push_back(asked.quantity);
    }
  }
  for (const int i : ends)
    answer(d, i, "voltage", Sureness::likely, "a whole number of full cells, so the end voltage");
  const double volts = d.value("voltage");
  if (!std::isnan(volts) && !end_voltage(d, volts, true)) {
    d.flag("charger-class",
           "An output of " + fixed(volts, 1) +
               " V is no whole number of full cells; it is probably the class. Meter the charger "
               "before it meets the pack.",
           {"voltage"});
    d.doubt("voltage", "'" + d.first("voltage")->text +
                           "' is no whole number of full cells: what does it end at?");
  } else if (!std::isnan(volts)) {
    settle_questions(d, "the class of the pack; the end voltage is known", [&](const Asked& asked) {
      return has_option(asked, "voltage") && asked.options.size() == 1 &&
             si(d, asked.quantity) < volts;
    });
    d.flag("meter-the-charger",
           "Meter the charger's output with no load before it meets the pack; a wrong end voltage "
           "sets cells on fire.",
           {"voltage"});
  } else {
    d.flag("charger-class",
           "A charger's class is not its end voltage: 72 V may be 82, 84, 87.6 or 88.2 V.",
           {"voltage"});
  }
}

void check_rest(Draft& d) {
  const std::string& shelf = d.out.shelf;
  if (shelf == "bms" && d.first("current_continuous") != nullptr)
    d.flag("bms-current-cooled",
           "A BMS's continuous current is given with a fan or on a cold plate; in a box it carries "
           "less.",
           {"current_continuous"});
  if (shelf == "contactor" && d.first("current_carry") != nullptr)
    d.flag("carry-not-break",
           "A contactor's current is what it carries; what it breaks at your voltage is another "
           "figure.",
           {"current_carry", "current_break"});
  if (shelf == "fuse" && d.first("voltage_dc") == nullptr)
    d.flag("fuse-ac", "A fuse's voltage may be an AC rating; its DC rating is often about half.",
           {"voltage_dc"});
  if (d.first("efficiency") != nullptr)
    d.flag("efficiency-one-point",
           "An efficiency in a listing is the best point, not what a ride sees.", {"efficiency"});
  if (d.first("ingress") != nullptr)
    d.flag("ip-with-connector", "An IP code may hold only with the mating connector fitted.",
           {"ingress"});
  // 13.8 V beside a range in a title, 12 V beside it.
  if (shelf == "dcdc") {
    settle_questions(d, "the class of its input; the range is known", [&](const Asked& asked) {
      return has_option(asked, "voltage_in_max") && d.first("voltage_in_max") != nullptr;
    });
  }
}

}  // namespace

void check_figures(Draft& d) {
  drop_repeated(d);
  if (d.out.shelf == "motor") check_motor(d);
  if (d.out.shelf == "controller") check_controller(d);
  if (d.out.shelf == "cell") check_cell(d);
  if (d.out.shelf == "charger") check_charger(d);
  check_rest(d);
  drop_repeated(d);
}

}  // namespace ww::plan::paste
