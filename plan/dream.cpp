// SPDX-License-Identifier: MIT
#include "plan/dream.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "build/classes.h"
#include "plan/listing.h"
#include "ride/curves.h"
#include "ride/params.h"

namespace ww::plan {

namespace {

using build::LibraryPart;
using figure::Kind;

template <class Part>
const Part& as(const LibraryPart& part) {
  return *static_cast<const Part*>(part.part.get());
}

void put(Sketch& sketch, std::string_view slot, const LibraryPart& part, const std::string& words) {
  build::put_part(sketch.build, *build::schema().slot(slot), part);
  sketch.put_in.push_back(std::string(build::schema().slot(slot)->label) + ": " + part.id + words);
}

/// The demand that the wishes make, from the class of bike.
struct Demand {
  double speed_mps, force_N, power_W, energy_J;
};

Demand demand_of(const Build& build) {
  const auto bike_class = build.donor ? build.donor->bike_class : build::BikeClass::unknown;
  const auto& c = build::class_figures(bike_class);
  const double rider = build.rider ? build.rider->mass.or_else(88) : 88;
  const double speed = build.wishes.hold_speed.or_else(70 / 3.6);
  const double mass = c.mass_rolling_kg + rider + 85;
  const double force = mass * 9.80665 * 0.015 + 0.5 * 1.2 * c.drag_area_m2 * speed * speed;
  const double distance = build.wishes.ride_distance.or_else(50e3);
  const double share = build.wishes.fast_share.or_else(0.5);
  // Town riding takes about what a steady 65 km/h does; 0.8 from pack to wheel.
  const double town = mass * 9.80665 * 0.015 + 0.5 * 1.2 * c.drag_area_m2 * square(65 / 3.6);
  const double wheel = distance * (share * force + (1 - share) * town);
  return {speed, force, force * speed / 0.96, wheel / 0.8 / 0.85 * 1.25};
}

template <class Part, class Good, class Cost>
const LibraryPart* cheapest(const std::vector<LibraryPart>& shelf, const Good& good,
                            const Cost& cost) {
  const LibraryPart* best = nullptr;
  for (const auto& part : shelf) {
    if (!good(as<Part>(part))) continue;
    if (best == nullptr || cost(as<Part>(part)) < cost(as<Part>(*best))) best = &part;
  }
  return best;
}

void choose_motor(Sketch& s, const build::Library& library, const Demand& demand) {
  if (s.build.motor) return;
  const auto good = [&](const build::Motor& m) {
    return (m.type == build::MotorType::pm_radial || m.type == build::MotorType::pm_axial) &&
           m.shaft == build::ShaftForm::keyed &&
           m.power_continuous.evidence >= figure::Evidence::data_sheet &&
           m.power_continuous.value >= demand.power_W * 1.15 && !(m.reduction.value > 1);
  };
  const auto price = [](const build::Motor& m) { return m.price.value; };
  const auto* part = cheapest<build::Motor>(library.shelf("motor"), good, price);
  if (part == nullptr) {
    part = cheapest<build::Motor>(
        library.shelf("motor"),
        [](const build::Motor& m) { return m.type == build::MotorType::pm_radial; },
        [](const build::Motor& m) { return -m.power_continuous.value; });
  }
  if (part != nullptr)
    put(s, "motor", *part,
        ", " + figure::print(as<build::Motor>(*part).power_continuous.value, Kind::power) +
            " continuous");
}

void choose_controller(Sketch& s, const build::Library& library, const Demand& demand) {
  if (s.build.controller || !s.build.motor) return;
  const build::Motor& motor = *s.build.motor;
  const unsigned drives = motor.type == build::MotorType::induction
                              ? 2
                              : (motor.type >= build::MotorType::brushed_pm ? 3 : 1);
  const auto good = [&](const build::Controller& c) {
    const bool speaks = (c.drives >> drives & 1U) != 0 &&
                        (c.sensors >> static_cast<unsigned>(motor.sensor) & 1U) != 0;
    const double voltage = 0.85 * std::min(c.voltage_max.value * 0.95, motor.voltage_max.value);
    return speaks && c.voltage_max.value <= 1.4 * motor.voltage_max.value &&
           c.current_battery.value * voltage >= 1.5 * demand.power_W;
  };
  const auto* part = cheapest<build::Controller>(
      library.shelf("controller"), good, [](const build::Controller& c) { return c.price.value; });
  if (part != nullptr)
    put(s, "controller", *part,
        ", up to " + figure::print(as<build::Controller>(*part).voltage_max.value, Kind::voltage));
}

/// How many of a unit in series and parallel the demand wants; parallel 0 where it cannot be.
struct Arrangement {
  int series = 0, parallel = 0;
  double cost = 0, mass = 0;
};

Arrangement arrange(const build::Cell& cell, double voltage_limit, double current,
                    double energy_J) {
  Arrangement a;
  a.series = static_cast<int>(voltage_limit / cell.voltage_max.value);
  if (a.series < 1) return a;
  const double unit = cell.voltage_nominal.value * cell.capacity.value * a.series;
  a.parallel = std::max(static_cast<int>(std::ceil(energy_J / unit)),
                        static_cast<int>(std::ceil(current / cell.current_pulse.value)));
  a.parallel = std::max(a.parallel, 1);
  a.cost = a.series * a.parallel * cell.price.value;
  a.mass = a.series * a.parallel * cell.mass.value;
  return a;
}

void choose_pack(Sketch& s, const build::Library& library, const Demand& demand) {
  if (s.build.cell && s.build.pack) return;
  if (!s.build.motor || !s.build.controller) return;
  const double limit =
      std::min(0.95 * s.build.controller->voltage_max.value, s.build.motor->voltage_max.value);
  const double current =
      std::min(s.build.controller->current_battery.value, 2.2 * demand.power_W / (0.85 * limit));
  const auto arranged = [&](const LibraryPart& part) {
    return arrange(as<build::Cell>(part), limit, current, demand.energy_J);
  };
  const auto suits = [&](const LibraryPart& part) {
    const auto& cell = as<build::Cell>(part);
    return cell.salvage != build::Answer::yes &&
           cell.capacity.evidence >= figure::Evidence::data_sheet &&
           cell.format != build::CellFormat::cylindrical && arranged(part).parallel > 0;
  };
  double least = std::numeric_limits<double>::infinity();
  for (const auto& part : library.shelf("cell")) {
    if (suits(part)) least = std::min(least, arranged(part).cost);
  }
  const LibraryPart* best = nullptr;
  for (const auto& part : library.shelf("cell")) {
    if (!suits(part) || arranged(part).cost > 1.5 * least) continue;
    if (best == nullptr || arranged(part).mass < arranged(*best).mass) best = &part;
  }
  if (best == nullptr) return;
  const Arrangement a = arranged(*best);
  if (!s.build.cell) put(s, "cell", *best, "");
  s.build.pack.emplace(s.build.pack.value_or(build::Pack{}));
  s.build.pack->series = a.series;
  s.build.pack->parallel = a.parallel;
  s.put_in.push_back("pack: " + std::to_string(a.series) + " in series, " +
                     std::to_string(a.parallel) + " in parallel");
}

void choose_gearing(Sketch& s, const Demand& demand) {
  Build& b = s.build;
  const auto bike_class = b.donor ? b.donor->bike_class : build::BikeClass::unknown;
  const auto& c = build::class_figures(bike_class);
  if (!b.tyre_rear) {
    b.tyre_rear.emplace();
    b.tyre_rear->size = std::string(c.tyre_rear);
    s.put_in.push_back("rear tyre: " + b.tyre_rear->size + ", usual for the class");
  }
  if (b.gearing.drive == build::FinalDrive::unknown && b.motor) {
    b.gearing.drive = b.motor->shaft == build::ShaftForm::wheel ? build::FinalDrive::hub
                                                                : build::FinalDrive::chain;
  }
  if (b.gearing.drive != build::FinalDrive::chain || b.gearing.rear_teeth != build::unknown_count ||
      !b.motor || !b.pack || !b.cell)
    return;
  const double volts = 0.95 * b.pack->series * b.cell->voltage_nominal.value;
  const double motor =
      std::min(0.85 * b.motor->speed_constant.value * volts, 0.9 * b.motor->speed_max.value);
  const double wheel = 1.18 * demand.speed_mps / 0.305;
  const double ratio = motor / wheel;
  if (b.gearing.front_teeth == build::unknown_count) b.gearing.front_teeth = c.front_teeth;
  b.gearing.rear_teeth =
      std::clamp(static_cast<int>(std::lround(b.gearing.front_teeth * ratio)), 30, 70);
  s.put_in.push_back("gearing: " + std::to_string(b.gearing.front_teeth) + " to " +
                     std::to_string(b.gearing.rear_teeth) + " teeth");
}

}  // namespace

Sketch sketch(const Build& build, const build::Library& library) {
  Sketch s{.build = build, .put_in = {}};
  if (build.motor && thin_listing(*build.motor))
    s.build.motor = read_listing(*build.motor, s.put_in);
  if (!build.wishes.hold_speed.known() && !build.wishes.ride_distance.known()) return s;
  if (build.motor && build.controller && build.cell && build.pack) return s;
  if (!s.build.donor) s.build.donor.emplace();
  const Demand demand = demand_of(s.build);
  choose_motor(s, library, demand);
  choose_controller(s, library, demand);
  choose_pack(s, library, demand);
  choose_gearing(s, demand);
  return s;
}

std::string blunt_sentence(const Build& own, const Build& completed, const ride::Ride& ride,
                           figure::System units) {
  if (!ride.possible || !completed.wishes.ride_distance.known()) return {};
  using ride::Answer;
  const double energy = ride.nominal[Answer::energy_pack];
  const auto values = ride::nominal_values(completed, ride::soft_figures(completed));
  const double pack_mass = ride::pack_mass_kg(completed, values.view());
  std::string text = figure::print(completed.wishes.ride_distance.value, Kind::length, units);
  if (completed.wishes.hold_speed.known()) {
    const double share = completed.wishes.fast_share.or_else(0.5);
    text += ", " + fixed(100 * share, 0) + " % of it at " +
            figure::print(completed.wishes.hold_speed.value, Kind::speed, units);
  }
  const bool has_pack = own.cell && own.pack && own.pack->series > 0;
  text += (has_pack ? ": the pack is " : ": sketched with a pack of ") +
          figure::print(energy, Kind::energy, units) + ", " +
          figure::print(pack_mass, Kind::mass, units);
  const auto counted_on = [&](Answer answer) {
    const double distance = ride.band(answer).p10;
    return ride::cannot_ride(distance) ? std::string("nothing, for it may not keep up")
                                       : figure::print(distance, Kind::length, units);
  };
  text += ". Count on " + counted_on(Answer::range_mixed_reserve) + ", and on the coldest day on " +
          counted_on(Answer::range_cold_reserve) + ".";
  const double slow_mps = units == figure::System::imperial ? 30 * 0.44704 : 50 / 3.6;
  const auto slowly = ride::distance_curve(completed, ride, {slow_mps}, 1);
  if (!slowly.empty() && slowly[0].nominal_m > 1000)
    text += " At a steady " + figure::print(slow_mps, Kind::speed, units) +
            " the same pack goes about " + figure::print(slowly[0].nominal_m, Kind::length, units) +
            ".";
  return text;
}

Calendar calendar(const Build& build) {
  // Hours: quick, usual and long first builds. The wait for cells, machining and inspection sets a
  // floor of half a year.
  const double per_week = build.wishes.time.known() ? build.wishes.time.value / 3600 : 12;
  const auto months = [&](double hours, double least) {
    return std::max(hours / std::max(per_week, 1.0) / 4.35, least);
  };
  return {190, 500, 1260, months(190, 5), months(500, 6.5), months(1260, 9)};
}

}  // namespace ww::plan
