// SPDX-License-Identifier: MIT
#include "serve/evaluate.h"

#include <cmath>

#include "plan/dream.h"

namespace ww::serve {

using fit::Blocks;
using ride::Answer;

ride::Ride ride_of(const build::Build& build, const Shipped& shipped, const Evaluation& how) {
  return ride::ride(build, shipped.cycles,
                    {.draws = how.draws,
                     .seed = 1,
                     .pushes = how.pushes && how.draws > 0,
                     .wanted = ride::every_answer,
                     .widest_kernel = 8},
                    how.runner);
}

Checked check_build(const build::Build& build, const Shipped& shipped, const Evaluation& how) {
  auto sketch = plan::sketch(build, shipped.library);
  Checked checked{.ridden = std::move(sketch.build),
                  .sketched = std::move(sketch.put_in),
                  .ride = {},
                  .findings = {}};
  checked.ride = ride_of(checked.ridden, shipped, how);
  // The rules speak of what the builder wrote, never of a part that was only sketched.
  const ride::Ride none = checked.sketched.empty() ? ride::Ride{} : ride_of(build, shipped, how);
  checked.findings = fit::check(
      build, checked.sketched.empty() ? checked.ride : none, shipped.library, shipped.cycles,
      {.runner = how.runner, .ways_out = how.ways_out, .units = how.units, .overrides = nullptr});
  return checked;
}

bool blocks_next_step(const build::Build& build, Blocks blocks) {
  return fit::stands_before(build.project.next_step, blocks);
}

const std::vector<Wanted>& headline() {
  static const std::vector<Wanted> list{{Answer::mass, "wishes.mass_max"},
                                        {Answer::speed_top, "wishes.top_speed"},
                                        {Answer::speed_hold_hour, "wishes.hold_speed"},
                                        {Answer::time_0_50, nullptr},
                                        {Answer::time_0_100, "wishes.time_0_100"},
                                        {Answer::grade_max, "wishes.hill_grade"},
                                        {Answer::range_mixed_reserve, "wishes.ride_distance"},
                                        {Answer::range_cold_reserve, "wishes.ride_distance"},
                                        {Answer::range_hold_reserve, nullptr},
                                        {Answer::range_udds, nullptr},
                                        {Answer::range_wmtc, nullptr},
                                        {Answer::consumption_mixed, nullptr},
                                        {Answer::power_shaft_peak, nullptr},
                                        {Answer::energy_pack, nullptr}};
  return list;
}

Spoken spoken(const ride::Ride& ride, Answer answer, figure::System units) {
  const auto& info = ride::info_of(answer);
  const auto band = ride.band(answer);
  const auto text = [&](double v) {
    if (std::isnan(v)) return std::string("-");
    if (std::isinf(v)) return std::string(info.kind == figure::Kind::time ? "never" : "cannot");
    if (info.kind == figure::Kind::length && ride::cannot_ride(v))
      return std::string(cannot_keep_up);
    return figure::print(v, info.kind, units);
  };
  const double low = info.more_is_better ? band.p10 : band.p90,
               high = info.more_is_better ? band.p90 : band.p10;
  return {text(low), text(band.p50), text(high)};
}

std::string_view si_unit(figure::Kind kind) {
  for (const auto& unit : figure::unit_table()) {
    if (unit.kind == kind && unit.factor == 1 && unit.offset == 0) return unit.spelling;
  }
  return "1";
}

std::string_view caution_of(const build::Build& build) {
  switch (build.project.next_step) {
    case build::Step::energising:
      return "CAUTION before energising: a pack over 60 V can kill, and no switch turns a cell "
             "off. "
             "Work with a second person, insulated tools, no rings or "
             "watch, the service link out until the last step; where mains or certification begin, "
             "leave it to licensed people and local codes.";
    case build::Step::riding:
      return "CAUTION before riding: first rides on private ground with the current limit low, "
             "riding gear, a spotter who can cut the power, and a way to "
             "stop without electronics. Road use is for the authority to allow.";
    default:
      return "CAUTION: cells are live from the day they arrive and cannot be switched off. Read "
             "their data sheet before opening the box.";
  }
}

std::string_view source_word(const build::Build& sheet, const ride::Push& push) {
  if (push.source == ride::Source::assumed) return "assumed";
  return build::known_at(sheet, push.id) ? "given" : "sketched in";
}

}  // namespace ww::serve
