// SPDX-License-Identifier: MIT
#include "search/claims.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/quasi.h"
#include "base/text.h"
#include "build/classes.h"
#include "ride/params.h"

namespace ww::search {

namespace {

using figure::Kind;

constexpr std::array<Kind, 5> claimed_kinds{Kind::power, Kind::speed, Kind::energy, Kind::length,
                                            Kind::mass};

bool number_start(std::string_view text, std::size_t i) {
  const auto digit = [](char c) { return c >= '0' && c <= '9'; };
  if (!digit(text[i])) return false;
  return i == 0 || !(digit(text[i - 1]) || text[i - 1] == '.' || text[i - 1] == ',');
}

/// The number at `start` with the word behind it: "150 km", "8kW", "100 km/h".
std::string_view figure_at(std::string_view text, std::size_t start) {
  std::size_t i = start;
  const auto in = [&](std::string_view set) {
    return i < text.size() && set.find(text[i]) != std::string_view::npos;
  };
  while (in("0123456789.,")) ++i;
  while (in(" ")) ++i;
  while (i < text.size() &&
         (std::isalpha(static_cast<unsigned char>(text[i])) != 0 || text[i] == '/'))
    ++i;
  std::string_view found = text.substr(start, i - start);
  while (!found.empty() && (found.back() == '/' || found.back() == ' ')) found.remove_suffix(1);
  return found;
}

void keep_larger(double& kept, double value) {
  if (std::isnan(kept) || value > kept) kept = value;
}

bool take(Claim& claim, std::string_view words) {
  // A bare number is read in the kind's own unit: only what names a unit counts here.
  if (std::none_of(words.begin(), words.end(),
                   [](char c) { return std::isalpha(static_cast<unsigned char>(c)) != 0; }))
    return false;
  for (const Kind kind : claimed_kinds) {
    const auto reading = figure::read(words, kind);
    if (!reading || !(reading->value > 0)) continue;
    switch (kind) {
      case Kind::power:
        keep_larger(claim.power_W, reading->value);
        break;
      case Kind::speed:
        keep_larger(claim.speed_mps, reading->value);
        break;
      case Kind::energy:
        keep_larger(claim.energy_J, reading->value);
        break;
      case Kind::mass:
        keep_larger(claim.mass_kg, reading->value);
        break;
      default:
        // A distance ridden, not the length of a bolt.
        if (reading->value < 1000) return false;
        keep_larger(claim.distance_m, reading->value);
        break;
    }
    return true;
  }
  return false;
}

/// What a claim is held against: one draw of what is not known.
struct Drawn {
  model::RoadLoad<double> road;
  double pack_to_wheel, usable, driveline;
  double force_N(double speed_mps) const {
    return model::road_force_N<double>(road, {speed_mps, 0, 0});
  }
};

constexpr int draws = 512;

/// A normal draw between its p10 and p90.
double between(double p10, double p90, double u) {
  const figure::Spread spread{0.5 * (p10 + p90), 0.5 * (p90 - p10), 0.5 * p10, 1, false};
  return figure::quantile(spread, u);
}

/// The build with what a road load needs, completed by its class.
build::Build completed(const build::Build& build) {
  build::Build b = build;
  if (!b.donor) b.donor.emplace();
  if (!b.rider) b.rider.emplace();
  if (!b.tyre_rear) b.tyre_rear.emplace();
  if (b.tyre_rear->size.empty())
    b.tyre_rear->size = std::string(build::class_figures(b.donor->bike_class).tyre_rear);
  return b;
}

std::vector<Drawn> drawn_bikes(const build::Build& build, const Claim& claim) {
  const build::Build b = completed(build);
  const auto soft = ride::soft_figures(b);
  auto values = ride::nominal_values(b, soft);
  // The drive's mass, unless the sheet has its parts: some 85 kg, by common practice, no source.
  const double drive_kg = b.motor && b.cell && b.pack ? 0 : 85;
  const auto used = [&](const ride::SoftFigure& figure) {
    const std::string_view slot = build::schema()[figure.id].slot->key;
    return slot == "donor" || slot == "rider" || slot == "surroundings" || slot == "assumed";
  };
  std::vector<ride::SoftFigure> varying;
  for (const auto& figure : soft) {
    if (used(figure) && figure.spread.half_width > 0) varying.push_back(figure);
  }
  const auto dimensions = varying.size() + 3;
  const auto points = sobol_points(static_cast<int>(dimensions), draws, 1);
  std::vector<Drawn> out;
  out.reserve(draws);
  for (std::size_t d = 0; d < draws; ++d) {
    const double* u = points.data() + d * dimensions;
    for (std::size_t k = 0; k < varying.size(); ++k)
      values.at[static_cast<std::size_t>(varying[k].id)] = ride::drawn_value(varying[k], u[k], 0);
    const double* rest = u + varying.size();
    Drawn bike{.road = ride::road_load(b, values.view()),
               .pack_to_wheel = between(0.72, 0.86, rest[0]),
               .usable = between(0.80, 0.95, rest[1]),
               .driveline = between(0.92, 0.97, rest[2])};
    bike.road.mass_kg += drive_kg;
    if (!std::isnan(claim.mass_kg)) {
      const auto rider = build::id_of("rider.mass");
      bike.road.mass_kg = claim.mass_kg + values.at[static_cast<std::size_t>(rider)];
    }
    out.push_back(bike);
  }
  return out;
}

/// p10 and p90 of what every draw comes to, and the share that is at most a bound.
struct Over {
  double p10, p50, p90, share_within;
};

template <class Number>
Over over(const std::vector<Drawn>& bikes, double bound, const Number& number) {
  std::vector<double> sorted;
  sorted.reserve(bikes.size());
  for (const Drawn& bike : bikes) sorted.push_back(number(bike));
  std::sort(sorted.begin(), sorted.end());
  const auto at = [&](double share) {
    return sorted[static_cast<std::size_t>(share * double(sorted.size() - 1))];
  };
  const auto within = std::upper_bound(sorted.begin(), sorted.end(), bound) - sorted.begin();
  return {at(0.1), at(0.5), at(0.9), double(within) / double(sorted.size())};
}

/// The speed at which a rising need meets what there is; 0 where even walking is too much.
template <class Need>
double speed_where(const Need& need, double have) {
  double low = 0.5, high = 90;
  if (need(low) > have) return 0;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (need(middle) > have ? high : low) = middle;
  }
  return low;
}

std::string span_text(const Over& over, Kind kind, figure::System units) {
  return figure::print(over.p50, kind, units) + " (" + figure::print(over.p10, kind, units) +
         " to " + figure::print(over.p90, kind, units) + ")";
}

ClaimTerm speed_on_power(const Claim& c, const std::vector<Drawn>& bikes, figure::System units) {
  const auto power_at = [](const Drawn& bike, double speed) {
    return bike.force_N(speed) * speed / bike.driveline;
  };
  const Over need =
      over(bikes, c.power_W, [&](const Drawn& bike) { return power_at(bike, c.speed_mps); });
  const Over gives = over(bikes, 0, [&](const Drawn& bike) {
    return speed_where([&](double v) { return power_at(bike, v); }, c.power_W);
  });
  return {.says = figure::print(c.speed_mps, Kind::speed, units) + " with " +
                  figure::print(c.power_W, Kind::power, units),
          .would_need = "on the flat without wind that takes " +
                        span_text(need, Kind::power, units) +
                        " at the motor's shaft, for as long as it is to last",
          .share_of_bikes = need.share_within,
          .then_rather = figure::print(c.power_W, Kind::power, units) + " at the shaft give " +
                         span_text(gives, Kind::speed, units) +
                         "; if it is a peak, the half of it is what lasts"};
}

ClaimTerm distance_on_energy(const Claim& c, const std::vector<Drawn>& bikes,
                             figure::System units) {
  const double said_Jpm = c.energy_J / c.distance_m;
  // Nobody rides slower than a town lets him: 45 km/h, steady.
  const double speed = 12.5;
  const auto need_at = [](const Drawn& bike, double v) {
    return bike.force_N(v) / bike.pack_to_wheel / bike.usable;
  };
  const Over need = over(bikes, said_Jpm, [&](const Drawn& bike) { return need_at(bike, speed); });
  const Over slow = over(bikes, 0, [&](const Drawn& bike) {
    return speed_where([&](double v) { return need_at(bike, v); }, said_Jpm);
  });
  const Over goes =
      over(bikes, 0, [&](const Drawn& bike) { return c.energy_J / need_at(bike, speed); });
  return {
      .says = figure::print(c.distance_m, Kind::length, units) + " on " +
              figure::print(c.energy_J, Kind::energy, units),
      .would_need = "that is " + figure::print(said_Jpm, Kind::consumption, units) +
                    " of the label's energy; a steady " + figure::print(speed, Kind::speed, units) +
                    " takes " + span_text(need, Kind::consumption, units) +
                    ", so it is true only at a steady " + span_text(slow, Kind::speed, units) +
                    ", no wind, no stops",
      .share_of_bikes = need.share_within,
      .then_rather = "at that steady speed the pack goes " + span_text(goes, Kind::length, units)};
}

ClaimTerm distance_at_speed(const Claim& c, const std::vector<Drawn>& bikes, figure::System units) {
  const double said_Jpm = c.energy_J / c.distance_m;
  const auto need_at = [&](const Drawn& bike) {
    return bike.force_N(c.speed_mps) / bike.pack_to_wheel / bike.usable;
  };
  const Over need = over(bikes, said_Jpm, need_at);
  const Over goes = over(bikes, 0, [&](const Drawn& bike) { return c.energy_J / need_at(bike); });
  return {.says = "both at once: " + figure::print(c.distance_m, Kind::length, units) + " at " +
                  figure::print(c.speed_mps, Kind::speed, units),
          .would_need = figure::print(c.speed_mps, Kind::speed, units) + " takes " +
                        span_text(need, Kind::consumption, units) +
                        " of the label's energy; said are " +
                        figure::print(said_Jpm, Kind::consumption, units),
          .share_of_bikes = need.share_within,
          .then_rather = "at that speed the pack goes " + span_text(goes, Kind::length, units)};
}

}  // namespace

Result<Claim> read_claim(std::string_view text) {
  Claim claim;
  int found = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (number_start(text, i) && take(claim, figure_at(text, i))) ++found;
  }
  const bool pair = (!std::isnan(claim.power_W) && !std::isnan(claim.speed_mps)) ||
                    (!std::isnan(claim.energy_J) && !std::isnan(claim.distance_m));
  if (pair) return claim;
  return fail({.code = "no-claim",
               .what = found == 0 ? "no figure with a unit was found"
                                  : "one figure alone claims nothing that can be tested",
               .found = std::string(text),
               .expected =
                   "a power and a speed, or a distance and an energy, e.g. '8 kW, 100 km/h, "
                   "150 km on 3 kWh'"});
}

std::string_view plausibility(double share_of_bikes) {
  if (share_of_bikes > 0.5) return "believable";
  return share_of_bikes > 0.1 ? "a stretch" : "not to be believed";
}

std::vector<ClaimTerm> take_apart(const Claim& claim, const build::Build& build,
                                  figure::System units) {
  const auto bikes = drawn_bikes(build, claim);
  const bool power = !std::isnan(claim.power_W), speed = !std::isnan(claim.speed_mps),
             far = !std::isnan(claim.distance_m) && !std::isnan(claim.energy_J);
  std::vector<ClaimTerm> out;
  if (power && speed) out.push_back(speed_on_power(claim, bikes, units));
  if (far) out.push_back(distance_on_energy(claim, bikes, units));
  if (far && speed) out.push_back(distance_at_speed(claim, bikes, units));
  return out;
}

}  // namespace ww::search
